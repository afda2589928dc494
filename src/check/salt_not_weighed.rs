//! `salt-not-weighed`: salt to taste, which has no weight to be judged by.

use super::context::Context;
use super::limits;
use super::salt::unweighed;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::display::percent;
use crate::syntax::tree::Amount;

/// `salt-not-weighed`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "salt-not-weighed",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_not_weighed.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if context.flour().is_zero() || !context.class(Class::Salt).is_zero() {
        return;
    }
    let Some(line) = unweighed(context) else { return };
    let usual = limits::number("habit", "usual salt").unwrap_or_default();
    let written = format!("{} {}", line.target.name.shown, words_of(&line.amount));
    findings.push(
        Finding::new(
            &RULE,
            line.span,
            format!("`{written}` has no weight, so the salt can't be checked"),
        )
        .help(format!("weigh it: {} % of the flour is usual", percent(&usual, 1))),
    );
}

fn words_of(amount: &Amount) -> &'static str {
    match amount {
        Amount::ToTaste => "to taste",
        Amount::AsNeeded => "as needed",
        _ => "a pinch",
    }
}
