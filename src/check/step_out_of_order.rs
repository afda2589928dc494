//! `step-out-of-order`: what is done to raw dough stands after the bread is baked.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::is_kind;
use crate::syntax::tree::{Name, Step, Verb};

/// `step-out-of-order`, an error about the method.
pub const RULE: Rule = Rule {
    name: "step-out-of-order",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("step_out_of_order.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    check_ends(&method.steps, findings);
    let steps = || method.steps.iter().enumerate();
    let cooked: Vec<(usize, &Step)> = steps().filter(|(_, step)| cooks(step.verb)).collect();
    for (index, step) in steps().filter(|(_, step)| is_for_raw_dough(step.verb)) {
        let mut same = cooked.iter().filter(|(_, other)| is_for_the_same(other, step));
        let Some((first, baked)) = same.next() else { continue };
        let baked_later = *first > index || same.any(|(later, _)| *later > index);
        if baked_later {
            continue;
        }
        findings.push(
            Finding::new(
                &RULE,
                step.verb_span,
                format!(
                    "`{}` comes after `{}`, when the dough is bread",
                    step.verb.word(),
                    baked.verb.word()
                ),
            )
            .label(baked.verb_span, "it is baked here")
            .help("steps happen in the order they are written: move this one up"),
        );
    }
}

/// What a dough can't be before it is mixed, or bread before it is baked: the only mix is
/// the last thing that is done, or what is for bread comes first.
fn check_ends(steps: &[Step], findings: &mut Vec<Finding>) {
    let first = |wanted: fn(Verb) -> bool| steps.iter().position(|step| wanted(step.verb));
    let Some(baked) = first(cooks) else { return };
    let mixed = first(|verb| verb == Verb::Mix).filter(|mixed| *mixed > baked);
    if let Some(mixed) = mixed {
        let message = "the dough is mixed after it was baked".to_owned();
        findings.push(out_of_order(&steps[mixed], &steps[baked], message));
    }
    let cools_later = steps.iter().skip(baked).any(|step| step.verb == Verb::Cool);
    let early = steps.iter().take(baked).enumerate().filter(|(index, step)| {
        is_for_bread(step.verb)
            || step.verb == Verb::Cool && !cools_later && !is_hot(&steps[..*index])
    });
    for (_, step) in early {
        let message = format!("`{}` comes before the bread is baked", step.verb.word());
        findings.push(out_of_order(step, &steps[baked], message));
    }
}

fn out_of_order(step: &Step, baked: &Step, message: String) -> Finding {
    Finding::new(&RULE, step.verb_span, message)
        .label(baked.verb_span, "it is baked here")
        .help("steps happen in the order they are written: move this one to where it belongs")
}

/// Whether something was heated that has to cool before it goes on.
fn is_hot(before: &[Step]) -> bool {
    let heats = |verb| matches!(verb, Verb::Boil | Verb::Scald | Verb::Steam | Verb::Step);
    before.iter().any(|step| heats(step.verb))
}

/// What is done to baked bread only.
fn is_for_bread(verb: Verb) -> bool {
    matches!(verb, Verb::Slice | Verb::Pack | Verb::Mature)
}

fn cooks(verb: Verb) -> bool {
    matches!(verb, Verb::Bake | Verb::Fry)
}

/// Baked trays are divided and shaped things are mixed into fillings; these are not.
fn is_for_raw_dough(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Autolyse
            | Verb::Fold
            | Verb::Bulk
            | Verb::Preshape
            | Verb::Shape
            | Verb::Proof
            | Verb::Retard
            | Verb::Laminate
            | Verb::Score
            | Verb::Boil
    )
}

/// Whether two steps are for the same kind of piece; one without a kind is for all.
fn is_for_the_same(one: &Step, other: &Step) -> bool {
    let (one, other) = (kind(one), kind(other));
    match (one, other) {
        (Some(one), Some(other)) => is_kind(&one.key, &other.key),
        _ => true,
    }
}

fn kind(step: &Step) -> Option<&Name> {
    step.phases.iter().find_map(|phase| phase.kind.as_ref())
}
