//! `butter-melts`: laminated dough stands where its butter melts.

use super::context::Context;
use super::limits::{self, show_celsius};
use crate::diag::amounts::celsius;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{LineRef, Within};
use crate::syntax::tree::{Method, Verb};

/// `butter-melts`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "butter-melts",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("butter_melts.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    if !method.steps.iter().any(|step| step.verb == Verb::Laminate) {
        return;
    }
    // Lard and pastry margarine stand more warmth.
    if !laminates_butter(context, method) {
        return;
    }
    let bound = |name| limits::bound("habit of temperatures", name);
    let (Some(most), Some(runs), Some(better)) = (
        bound("butter").and_then(|bound| bound.high),
        bound("butter runs"),
        bound("proof of layered dough"),
    ) else {
        return;
    };
    let laminated = method.steps.iter().skip_while(|step| step.verb != Verb::Laminate);
    let raw = laminated
        .take_while(|step| !matches!(step.verb, Verb::Bake | Verb::Fry | Verb::Steam | Verb::Boil));
    for phase in raw.flat_map(|step| &step.phases) {
        let Some(at) = &phase.at else { continue };
        let Some(warmest) = at.high.as_ref().or(at.low.as_ref()) else { continue };
        let warm = context.base(warmest);
        if warm > most {
            findings.push(
                Finding::new(
                    &RULE,
                    warmest.span,
                    format!("at {} the butter between the layers melts", celsius(&warm, 1)),
                )
                .note(format!(
                    "butter begins to run at {}; common practice, no source",
                    show_celsius(&runs)
                ))
                .help(format!("let it stand at {}, for longer", show_celsius(&better))),
            );
        }
    }
}

/// Whether butter goes in between the layers.
fn laminates_butter(context: &Context, method: &Method) -> bool {
    let additions = context.worked.additions(method, Within::FinalDough);
    let steps = method.steps.iter().zip(&additions.steps);
    let laminating = steps.filter(|(step, _)| step.verb == Verb::Laminate);
    laminating.flat_map(|(_, added)| added).any(|added| match added.line.goes {
        LineRef::Ingredient(id) => {
            let ingredient = context.house.ingredient(id);
            ingredient.class == Class::Fat && ingredient.name.key.contains("butter")
        }
        _ => false,
    })
}
