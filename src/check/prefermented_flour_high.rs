//! `prefermented-flour-high`: more flour fermented before the dough than there is.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::quantity::display::percent;

/// `prefermented-flour-high`, an error about sums.
pub const RULE: Rule = Rule {
    name: "prefermented-flour-high",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("prefermented_flour_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(limit), Some(mix)) =
        (context.limit("physics", "prefermented flour"), context.main_mix())
    else {
        return;
    };
    let Some(share) = context.share(&Figure::PrefermentedFlour) else { return };
    if limit.high.is_some_and(|high| share > high) {
        findings.push(
            Finding::new(
                &RULE,
                mix.span,
                format!(
                    "{} % of the flour is fermented before the dough: more than there is",
                    percent(&share, 2)
                ),
            )
            .help("make the stages smaller"),
        );
    }
}
