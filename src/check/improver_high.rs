//! `improver-high`: more improver than is usual.

use super::context::Context;
use super::usual::class_above;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;

/// `improver-high`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "improver-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("improver_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    class_above(context, &RULE, Class::Improver, findings);
}
