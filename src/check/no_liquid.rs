//! `no-liquid`: a dough without anything wet.

use super::context::Context;
use super::limits;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::quantity::display::percent;

/// `no-liquid`, an error about sums.
pub const RULE: Rule = Rule {
    name: "no-liquid",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_liquid.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    let usual = limits::number("habit", "usual water").unwrap_or_default();
    let water = context.share(&Figure::EffectiveHydration);
    let any = limits::bound("physics", "any water");
    if !context.flour().is_zero() && water.zip(any).is_some_and(|(water, any)| !any.holds(&water)) {
        findings.push(
            Finding::new(&RULE, mix.span, "this dough has no water, milk or other liquid").help(
                format!(
                    "add the liquid; about {} % of the flour is usual in a plain dough",
                    percent(&usual, 0)
                ),
            ),
        );
    }
}
