//! `missing-salt`: a dough with flour and without salt.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;

pub const RULE: Rule = Rule {
    name: "missing-salt",
    level: Level::Error,
    group: Group::Salt,
    page: include_str!("missing_salt.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    if context.flour().is_zero() || context.style_goes_without("salt") {
        return;
    }
    if context.class(Class::Salt).is_zero() {
        findings.push(
            Finding::new(&RULE, mix.span, "this dough has no salt")
                .help("add a line, `salt 2%` as a rule; if it is meant so: `allow missing-salt \"the reason\"`"),
        );
    }
}
