//! `salt-high`: more salt than is usual.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::display::percent;

pub const RULE: Rule = Rule { name: "salt-high", level: Level::Warning, group: Group::Salt };

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(range), Some(mix)) = (context.habit("salt"), context.main_mix()) else { return };
    let Some(salt) = context.salt_share() else { return };
    let most = context.limit("physics", "salt").and_then(|limit| limit.high);
    let impossible = most.is_some_and(|most| salt > most);
    if range.high.as_ref().is_some_and(|high| salt > *high) || impossible {
        let level = if impossible { Level::Error } else { Level::Warning };
        findings.push(
            Finding::new(
                &RULE,
                context.class_span(Class::Salt).unwrap_or(mix.span),
                format!("salt is {} %, which is much", percent(&salt, 1)),
            )
            .level(level)
            .note(format!("usual is {} of flour, grain and seed", super::show_range(&range)))
            .help("2 % is usual; a slip of the decimal point is the commonest reason"),
        );
    }
}
