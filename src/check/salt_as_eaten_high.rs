//! `salt-as-eaten-high`: more salt in the baked bread than a known ceiling.

use super::context::Context;
use super::limits::show_range;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::quantity::display::percent;

/// `salt-as-eaten-high`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "salt-as-eaten-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("salt_as_eaten_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    // A country's ceiling holds for bread that names its style.
    let own = context.own_bound("salt as eaten");
    let range = own.clone().or_else(|| context.limit("habit", "salt as eaten"));
    let (Some(range), Some(mix)) = (range, context.main_mix()) else { return };
    // The saltiest kind of piece is what counts.
    let kinds = context.figures(&Figure::SaltAsEaten);
    let Some(salt) = kinds.into_iter().map(|value| value.amount).max() else { return };
    if range.high.as_ref().is_some_and(|high| salt > *high) {
        findings.push(
            Finding::new(&RULE, mix.span, format!("the bread as eaten is {} % salt", percent(&salt, 2)))
                .note(match (own, context.style) {
                    (Some(_), Some(style)) => {
                        format!("the style `{}` allows {}", style.name.shown, show_range(&range))
                    }
                    _ => format!("{} is usual", show_range(&range)),
                })
                .help("lower the salt, or what salty things a piece carries; your local code has the last word"),
        );
    }
}
