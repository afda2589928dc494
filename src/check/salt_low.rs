//! `salt-low`: less salt than is usual.

use super::context::Context;
use super::salt;
use super::slips;
use crate::diag::{Finding, Group, Level, Rule};

/// `salt-low`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "salt-low",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_low.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let tasteless = salt::is_tasteless(context);
    let is_told = slips::looks_swapped(context) && !tasteless;
    if is_told || context.style_goes_without("salt") {
        return;
    }
    let (Some(mix), Some(salt)) = (context.main_mix(), context.salt_share()) else { return };
    let Some(physics) = context.physics("salt") else { return };
    if salt.is_zero() {
        return;
    }
    let habit = context.habit("salt");
    let unusual =
        habit.as_ref().and_then(|range| range.low.as_ref()).is_some_and(|low| salt < *low);
    if tasteless || unusual {
        let usual = habit.or_else(|| context.limit("habit", "salt")).unwrap_or(physics);
        let level = if tasteless { Level::Error } else { Level::Warning };
        let said = salt::unusual(context, &RULE, &salt, &usual, mix.span).level(level);
        let is_swapped = slips::looks_swapped(context);
        findings.push(if is_swapped {
            said.note("there is more yeast than salt: were the two amounts swapped?")
        } else {
            said
        });
    }
}
