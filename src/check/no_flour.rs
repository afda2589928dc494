//! `no-flour`: a dough without flour.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};

pub const RULE: Rule = Rule { name: "no-flour", level: Level::Error, group: Group::Sums };

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    if context.flour().is_zero() && !context.first().whole.mass().is_zero() {
        findings.push(
            Finding::new(&RULE, mix.span, "this dough has no flour")
                .help("flour is what every percentage is of; starches can stand in for it: `counts as flour potato starch`"),
        );
    }
}
