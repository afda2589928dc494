//! `salt-high`: more salt than is usual.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::display::percent;

pub const RULE: Rule = Rule {
    name: "salt-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_high.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(mix), Some(salt)) = (context.main_mix(), context.salt_share()) else { return };
    let Some(limit) = context.limit("physics", "salt") else { return };
    let impossible = limit.high.as_ref().is_some_and(|most| salt > *most);
    // What a style may say otherwise is habit, not physics.
    let habit = context.habit("salt");
    let unusual =
        habit.as_ref().and_then(|range| range.high.as_ref()).is_some_and(|high| salt > *high);
    let range = habit.unwrap_or(limit);
    if unusual || impossible {
        let level = if impossible { Level::Error } else { Level::Warning };
        let mut said = Finding::new(
            &RULE,
            context.class_span(Class::Salt).unwrap_or(mix.span),
            format!("salt is {} %, and usual is {}", percent(&salt, 2), super::show_range(&range)),
        )
        .level(level)
        .note(context.salt_working())
        .help("2 % is usual; a slip of the decimal point is the commonest reason");
        if let Some((span, middle)) = context.salt_in_the_middle(&range) {
            said = said.help(format!("`{middle}` is the middle of what is usual; a slip of the decimal point is the commonest reason")).repair(span, middle, false);
        }
        findings.push(said);
    }
}
