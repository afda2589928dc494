//! `salt-high`: more salt than is usual.

use super::context::Context;
use super::salt;
use crate::diag::{Finding, Group, Level, Rule};

/// `salt-high`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "salt-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(mix), Some(salt)) = (context.main_mix(), context.salt_share()) else { return };
    let Some(limit) = context.physics("salt") else { return };
    let impossible = limit.high.as_ref().is_some_and(|most| salt > *most);
    // What a style may say otherwise is habit, not physics.
    let habit = context.habit("salt");
    let unusual =
        habit.as_ref().and_then(|range| range.high.as_ref()).is_some_and(|high| salt > *high);
    if unusual || impossible {
        let usual = habit.or_else(|| context.limit("habit", "salt")).unwrap_or(limit);
        let level = if impossible { Level::Error } else { Level::Warning };
        findings.push(salt::unusual(context, &RULE, &salt, &usual, mix.span).level(level));
    }
}
