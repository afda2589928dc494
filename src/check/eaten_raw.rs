//! `eaten-raw`: flour or egg that goes on after the bake.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Ingredient;
use crate::formula::class::Class;
use crate::syntax::tree::{Step, Verb, With};

/// `eaten-raw`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "eaten-raw",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("eaten_raw.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    let cooks = |verb| matches!(verb, Verb::Bake | Verb::Fry | Verb::Steam | Verb::Boil);
    let Some(last) = method.steps.iter().rposition(|step| cooks(step.verb)) else { return };
    for step in method.steps.iter().skip(last + 1) {
        let with = step.phases.iter().flat_map(|phase| &phase.with);
        for raw in with.filter_map(|with| raw_of(context, with)) {
            findings.push(finding(step, raw));
        }
    }
}

/// The raw flour or egg that something brings.
fn raw_of<'c>(context: &'c Context, with: &With) -> Option<&'c Ingredient> {
    let target = match with {
        With::Name(it) | With::Share(_, it) | With::Weight(_, it) | With::Remaining(it) => it,
        With::Flours(_) | With::EverythingElse(_) => return None,
    };
    let named = context.house.ingredient_named(&target.name.key)?;
    let is_raw = matches!(named.class, Class::Flour | Class::Egg);
    (is_raw && !is_heated(&named.name.key)).then_some(named)
}

/// Whether a name says that it was heated before.
fn is_heated(name: &str) -> bool {
    const HEATED: [&str; 8] = [
        "toasted",
        "roasted",
        "heat-treated",
        "heat treated",
        "pasteurised",
        "pasteurized",
        "cooked",
        "boiled",
    ];
    HEATED.iter().any(|word| name.contains(word))
}

fn finding(step: &Step, raw: &Ingredient) -> Finding {
    let (name, verb) = (&raw.name.shown, step.verb.word());
    let (why, help) = match raw.class {
        Class::Egg => (
            "raw egg may carry salmonella, and only heat all through makes it safe",
            "put it on before the bake, or use pasteurised egg and call it so",
        ),
        _ => (
            "flour is a raw food and may carry bacteria: US FDA, Flour Is a Raw Food, from memory",
            "put it on before the bake, or use flour that was toasted and call it so",
        ),
    };
    let message = format!("`{name}` goes on after the bake, with `{verb}`, and is eaten raw");
    Finding::new(&RULE, step.verb_span, message).note(why).help(help)
}
