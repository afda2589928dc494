//! `no-bake`: a method that never bakes.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Verb;

/// `no-bake`, an error about the method.
pub const RULE: Rule = Rule {
    name: "no-bake",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("no_bake.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    let cooks = |verb| matches!(verb, Verb::Bake | Verb::Fry | Verb::Steam);
    let stores = |verb| matches!(verb, Verb::Chill | Verb::Freeze | Verb::Pack);
    let baked = method.steps.iter().any(|step| cooks(step.verb));
    let stored = method.steps.last().is_some_and(|step| stores(step.verb));
    // What a griddle or an iron does is told in words.
    let last = method.steps.iter().rev().find(|step| !is_after(step.verb));
    let told = last.is_some_and(|step| step.verb == Verb::Step);
    if !baked && !stored && !told && !method.steps.is_empty() {
        findings.push(
            Finding::new(&RULE, method.span, "this method never bakes")
                .help("add the step: `bake 40min at 230C`; a dough for later ends in `chill`, `freeze` or `pack`"),
        );
    }
}

/// What may follow on the bake.
fn is_after(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Cool
            | Verb::Glaze
            | Verb::Dust
            | Verb::Fill
            | Verb::Top
            | Verb::Slice
            | Verb::Pack
            | Verb::Mature
            | Verb::Rest
    )
}
