//! `autolyse-with-salt`: salt in the bowl while flour is to soak.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Added, LineRef, Within};
use crate::syntax::tree::Verb;
use ecow::EcoString;

/// `autolyse-with-salt`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "autolyse-with-salt",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("autolyse_with_salt.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    if !method.steps.iter().any(|step| step.verb == Verb::Autolyse) {
        return;
    }
    let additions = context.worked.additions(method, Within::FinalDough);
    let (mut salts, mut yeasts): (Vec<EcoString>, Vec<EcoString>) = Default::default();
    for (step, added) in method.steps.iter().zip(&additions.steps) {
        // Who names the salt means it there; what takes everything brings it unseen.
        let is_named = |added: &Added| {
            let mut named = step.phases.iter().flat_map(|phase| &phase.with);
            named.any(|with| with.target().is_some_and(|it| it.name.key == added.line.key))
        };
        for added in added.iter().filter(|added| !added.beside && !is_named(added)) {
            let names = match class_of(context, added) {
                Some(Class::Salt) => &mut salts,
                Some(Class::Yeast) => &mut yeasts,
                _ => continue,
            };
            if !names.contains(&added.line.name) {
                names.push(added.line.name.clone());
            }
        }
        if step.verb != Verb::Autolyse || salts.is_empty() {
            continue;
        }
        let inside: Vec<String> =
            salts.iter().chain(&yeasts).map(|name| format!("`{name}`")).collect();
        let inside = match inside.as_slice() {
            [first @ .., last] if !first.is_empty() => {
                format!("{} and {last}", first.join(", "))
            }
            all => all.join(""),
        };
        let is = if salts.len() + yeasts.len() == 1 { "is" } else { "are" };
        findings.push(
            Finding::new(&RULE, step.span, format!("{inside} {is} in this autolyse")).help(
                "let only flour and water rest, and add these afterwards: `mix 4min with flours, \
                 water`, then `autolyse 30min`, then `mix 8min with everything else`",
            ),
        );
        return;
    }
}

fn class_of(context: &Context, added: &Added) -> Option<Class> {
    match added.line.goes {
        LineRef::Ingredient(id) => Some(context.house.ingredient(id).class),
        _ => None,
    }
}
