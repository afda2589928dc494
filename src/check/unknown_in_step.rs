//! `unknown-in-step`: a step that adds what the mix does not have.

use super::context::Context;
use crate::diag::nearest;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Trouble, is_kind, key, offer};
use crate::source::Span;
use crate::syntax::tree::{Name, Per, Phase, Step, Verb};

/// `unknown-in-step`, an error about the method.
pub const RULE: Rule = Rule {
    name: "unknown-in-step",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("unknown_in_step.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    places_and_kinds(context, findings);
    for (_, trouble) in context.method_troubles() {
        let Trouble::Unknown { name, near } = trouble else { continue };
        let said = Finding::new(
            &RULE,
            name.span,
            format!("this step adds `{}`, which is not in the mix", name.shown),
        )
        .about(&name.key);
        let of_it = |step: &&Step| {
            let is_in = |span: Span| span.start <= name.span.start && name.span.end <= span.end;
            is_in(step.span) || step.phases.iter().any(|phase| is_in(phase.span))
        };
        let dresses = [Verb::Glaze, Verb::Top, Verb::Dust, Verb::Wash, Verb::Fill];
        if context.steps().find(of_it).is_some_and(|step| dresses.contains(&step.verb)) {
            findings.push(said.help(format!(
                "what goes on each piece is said in `piece {{ {0} 5 g }}`, or `{0} as needed` \
                 there; what is mixed for it is a `mixture {0} {{ … }}`",
                name.shown
            )));
            continue;
        }
        if let Some(parted) = without_its_comma(context, name) {
            let help = format!("two names have a comma between them: `{parted}`");
            findings.push(said.help(help).repair(name.span, parted, false));
            continue;
        }
        findings.push(match near.as_slice() {
            [] => said.help(
                "add a line for it, or name what the mix has; a stage may have used all of it",
            ),
            near => offer(said, name.span, near),
        });
    }
}

/// `sunflower seeds sesame seeds`: two names of the mix, one after the other.
fn without_its_comma(context: &Context, name: &Name) -> Option<String> {
    let known: Vec<String> = context.line_names().map(|name| key(&name).to_string()).collect();
    let is_known = |words: &str| words == "flours" || known.iter().any(|known| known == words);
    let mut blanks = name.key.match_indices(' ').map(|(at, _)| name.key.split_at(at));
    let (first, second) =
        blanks.find(|(first, second)| is_known(first) && is_known(second.trim_start()))?;
    Some(format!("{first}, {}", second.trim_start()))
}

/// `in NAME` must be a machine, a tin, a bath or a place such as a proofer; `for KIND` a kind that is made.
fn places_and_kinds(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.steps() {
        for phase in &step.phases {
            if let Some(place) = &phase.place
                && (context.house.settings.declared && step.verb != Verb::Mix
                    || step.verb == Verb::Boil)
                && !context.is_place(&place.key)
            {
                let said = Finding::new(
                    &RULE,
                    place.span,
                    format!("there is no mixer, tin or bath called `{}`", place.shown),
                );
                findings.push(match nearest(&place.key, context.step_places()) {
                    Some(near) => {
                        said.help(format!("did you mean `{near}`?")).repair(place.span, near, false)
                    }
                    None => said.help(
                        "declare it: `mixer NAME { … }`, `tin NAME { … }`, `mixture NAME { … }`",
                    ),
                });
            }
            if let Some(kind) = &phase.kind {
                findings.extend(unmade_kind(context, kind));
            }
            if let Some(per) = &phase.per {
                findings.extend(nothing_to_count(context, phase, per));
            }
        }
    }
    for kind in context.worked.formula.pieces.iter().filter_map(|piece| piece.kind.as_ref()) {
        findings.extend(unmade_kind(context, kind));
    }
}

/// `per 20 loaves` where there are none to count.
fn nothing_to_count(context: &Context, phase: &Phase, per: &Per) -> Option<Finding> {
    if context.worked.counted(phase, per).is_some() {
        return None;
    }
    let unmade = unmade_kind(context, &per.kind);
    unmade.or_else(|| {
        let message = match &phase.kind {
            Some(kind) => format!("this step is for {}, and counts {}", kind.shown, per.kind.shown),
            None => "this step counts pieces, but the formula does not say how many".to_owned(),
        };
        let help = match &phase.kind {
            Some(_) => "name the same kind twice, or only after `per`",
            None => "write what it makes before its blocks, such as `makes 20 loaves at 900 g`",
        };
        Some(Finding::new(&RULE, per.span, message).help(help))
    })
}

fn unmade_kind(context: &Context, kind: &Name) -> Option<Finding> {
    let made = context.worked.kinds(context.first());
    if made.is_empty() || made.iter().any(|piece| is_kind(&piece.made.key, &kind.key)) {
        return None;
    }
    let kinds: Vec<&str> = made.iter().map(|piece| piece.made.kind.as_str()).collect();
    Some(
        Finding::new(&RULE, kind.span, format!("this formula makes no `{}`", kind.shown))
            .about(&kind.key)
            .help(format!("it makes {}", kinds.join(" and "))),
    )
}
