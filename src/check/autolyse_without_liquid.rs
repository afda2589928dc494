//! `autolyse-without-liquid`: flour that is to soak in nothing.

use super::context::Context;
use super::limits::number;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Added, LineRef, Within};
use crate::quantity::Exact;
use crate::syntax::tree::Verb;

/// `autolyse-without-liquid`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "autolyse-without-liquid",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("autolyse_without_liquid.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    if !method.steps.iter().any(|step| step.verb == Verb::Autolyse) {
        return;
    }
    let Some(least) = context.number("habit of autolyse", "water") else { return };
    let additions = context.worked.additions(method, Within::FinalDough);
    let (mut water, mut flour) = (Exact::ZERO, Exact::ZERO);
    for (step, added) in method.steps.iter().zip(&additions.steps) {
        for added in added.iter().filter(|added| !added.beside) {
            water += wets(context, added);
            if is_flour(context, added) {
                flour += &added.line.mass * &added.share;
            }
        }
        if step.verb != Verb::Autolyse || flour.is_zero() || water >= &flour * &least {
            continue;
        }
        let message = match water.is_zero() {
            true => "this autolyse has flour but no liquid".to_owned(),
            false => format!(
                "this autolyse has {} of water on {} of flour",
                grams(&water),
                grams(&flour)
            ),
        };
        findings.push(
            Finding::new(&RULE, step.span, message)
                .help("add the water: `autolyse 30min with flours, 90% of water`"),
        );
    }
}

fn is_flour(context: &Context, added: &Added) -> bool {
    matches!(added.line.goes, LineRef::Ingredient(id) if context.worked.is_flour(id))
}

/// The water that a line brings; what is mixed beforehand counts for a part of it.
fn wets(context: &Context, added: &Added) -> Exact {
    let mass = &added.line.mass * &added.share;
    match added.line.goes {
        LineRef::Ingredient(id) => {
            let water = context.house.ingredient(id).water_share().unwrap_or_default();
            if is_flour(context, added) { Exact::ZERO } else { mass * water }
        }
        LineRef::Nothing => Exact::ZERO,
        _ => mass * number("habit of autolyse", "water of mixes").unwrap_or_default(),
    }
}
