//! `malt-high`: more malt than is usual.

use super::context::Context;
use super::usual::class_above;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;

/// `malt-high`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "malt-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("malt_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    class_above(context, &RULE, Class::Malt, findings);
}
