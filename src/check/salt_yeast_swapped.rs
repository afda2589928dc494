//! `salt-yeast-swapped`: the amounts of salt and yeast look exchanged.

use super::context::Context;
use super::{salt, slips};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::display::percent;

/// `salt-yeast-swapped`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "salt-yeast-swapped",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_yeast_swapped.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    // Salt that nobody tastes is an error of its own.
    let is_it = slips::looks_swapped(context) && !salt::is_tasteless(context);
    let Some(mix) = context.main_mix().filter(|_| is_it) else { return };
    let salt = context.of_flour(&context.class(Class::Salt));
    let yeast = context.of_flour(&context.class(Class::Yeast));
    findings.push(
        Finding::new(
            &RULE,
            context.class_span(Class::Salt).unwrap_or(mix.span),
            format!(
                "there is more yeast ({} %) than salt ({} %)",
                percent(&yeast, 2),
                percent(&salt, 2)
            ),
        )
        .help(
            "were the two amounts swapped? 2 % salt is usual, and about 1 % dry or 2 % fresh \
            yeast",
        ),
    );
}
