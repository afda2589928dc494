//! `salt-low`: less salt than is usual.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::display::percent;

pub const RULE: Rule = Rule {
    name: "salt-low",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_low.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if super::salt_yeast_swapped::looks_swapped(context) {
        return;
    }
    let (Some(range), Some(mix)) = (context.habit("salt"), context.main_mix()) else { return };
    let Some(salt) = context.salt_share() else { return };
    if !salt.is_zero() && range.low.as_ref().is_some_and(|low| salt < *low) {
        let mut said = Finding::new(
            &RULE,
            context.class_span(Class::Salt).unwrap_or(mix.span),
            format!("salt is {} %, and usual is {}", percent(&salt, 2), super::show_range(&range)),
        )
        .note(context.salt_working())
        .help("2 % is usual; a slip of the decimal point is the commonest reason");
        if let Some((span, middle)) = context.salt_in_the_middle(&range) {
            said = said.help(format!("`{middle}` is the middle of what is usual; a slip of the decimal point is the commonest reason")).repair(span, middle, false);
        }
        findings.push(said);
    }
}
