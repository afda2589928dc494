//! `eaten-raw`: flour or egg that goes on after the bake.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Ingredient, Substance};
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

/// The raw flour or egg that something brings, as it is or inside a mixture.
fn raw_of<'c>(context: &'c Context, with: &With) -> Option<(&'c str, &'c Ingredient)> {
    let name = &with.target()?.name;
    // What a formula makes is meant before what the stores know by the same name.
    let mut side_mixes = context.worked.side_mixes.iter();
    let Some(mixture) = side_mixes.find(|it| it.key == name.key) else {
        let named = context.house.ingredient_named(&name.key)?;
        return is_raw(named).then_some((named.name.shown.as_str(), named));
    };
    if mixture.is_formula || is_heated(&mixture.key) {
        return None;
    }
    let mut inside = mixture.per_gram.iter().filter_map(|(substance, _)| match substance {
        Substance::Ingredient(id) => Some(context.house.ingredient(id)),
        _ => None,
    });
    inside.find(|it| is_raw(it)).map(|it| (mixture.shown.as_str(), it))
}

fn is_raw(ingredient: &Ingredient) -> bool {
    matches!(ingredient.class, Class::Flour | Class::Egg) && !is_heated(&ingredient.name.key)
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

/// What goes on, and the raw thing that it is or holds.
fn finding(step: &Step, (name, raw): (&str, &Ingredient)) -> Finding {
    let verb = step.verb.word();
    let (why, help) = match raw.class {
        Class::Egg => (
            "raw egg may carry salmonella, and only heat all through makes it safe",
            "put it on before the bake, or use pasteurised egg and call it so; a mixture that is \
             cooked before it goes on is called `cooked …`",
        ),
        _ => (
            "flour is a raw food and may carry bacteria: US FDA, Flour Is a Raw Food, from memory",
            "put it on before the bake, or use flour that was toasted and call it so; a mixture \
             that is cooked before it goes on is called `cooked …`",
        ),
    };
    let message = match raw.name.shown == name {
        true => format!("`{name}` goes on after the bake, with `{verb}`, and is eaten raw"),
        false => format!(
            "`{}` in `{name}` goes on after the bake, with `{verb}`, and is eaten raw",
            raw.name.shown
        ),
    };
    Finding::new(&RULE, step.verb_span, message).note(why).help(help)
}
