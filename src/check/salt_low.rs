//! `salt-low`: less salt than is usual.

use super::context::Context;
use super::salt;
use super::slips;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::sum_of;
use crate::quantity::Exact;

/// `salt-low`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "salt-low",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_low.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if slips::looks_swapped(context) || context.style_goes_without("salt") {
        return;
    }
    let (Some(mix), Some(salt)) = (context.main_mix(), context.salt_share()) else { return };
    let Some(physics) = context.physics("salt") else { return };
    if salt.is_zero() {
        return;
    }
    // Salted butter and cheese salt a dough too.
    let tasteless = physics.low.as_ref().is_some_and(|low| all_salt(context) < *low);
    let habit = context.habit("salt");
    let unusual =
        habit.as_ref().and_then(|range| range.low.as_ref()).is_some_and(|low| salt < *low);
    if tasteless || unusual {
        let usual = habit.or_else(|| context.limit("habit", "salt")).unwrap_or(physics);
        let level = if tasteless { Level::Error } else { Level::Warning };
        findings.push(salt::unusual(context, &RULE, &salt, &usual, mix.span).level(level));
    }
}

/// All salt on the flour, that of salted ingredients too.
fn all_salt(context: &Context) -> Exact {
    let salt = sum_of(&context.first().whole, |id| Some(context.house.ingredient(id).salt.clone()));
    context.of_flour(&salt)
}
