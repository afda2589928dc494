//! `salt-as-eaten-high`: more salt in the baked bread than a known ceiling.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::quantity::display::percent;

pub const RULE: Rule = Rule {
    name: "salt-as-eaten-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_as_eaten_high.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(range), Some(mix)) = (context.habit("salt as eaten"), context.main_mix()) else {
        return;
    };
    let Some(salt) = context.share(&Figure::SaltAsEaten) else { return };
    if range.high.as_ref().is_some_and(|high| salt > *high) {
        findings.push(
            Finding::new(&RULE, mix.span, format!("the bread as eaten holds {} g of salt in 100 g", percent(&salt, 2)))
                .note("a national ceiling is 1.66 g (Spain, RD 308/2019, measured as total sodium); others are lower")
                .help("lower the salt, or what salty things a piece carries; your local code has the last word"),
        );
    }
}
