//! `no-liquid`: a dough without anything wet.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::quantity::ratio;

pub const RULE: Rule = Rule {
    name: "no-liquid",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_liquid.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    let water = context.share(&Figure::EffectiveHydration);
    if !context.flour().is_zero() && water.is_some_and(|water| water < ratio(1, 100)) {
        findings.push(
            Finding::new(&RULE, mix.span, "this dough has no water, milk or other liquid")
                .help("add the liquid; about 65 % of the flour is usual in a plain dough"),
        );
    }
}
