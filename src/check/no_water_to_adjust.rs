//! `no-water-to-adjust`: a dough temperature is aimed at, and nothing liquid can be made
//! warmer or colder for it.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::NoWarmth;

/// `no-water-to-adjust`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "no-water-to-adjust",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("no_water_to_adjust.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Err(NoWarmth::NoWater(span)) = context.warmth() else { return };
    // Only a house that says how warm it is wants water temperatures.
    if context.house.settings.room.is_none() {
        return;
    }
    findings.push(
        Finding::new(
            &RULE,
            span,
            "no liquid is in this dough by then to bring it to a temperature",
        )
        .note("a water temperature is worked out for water, or for milk, eggs and the like")
        .help("leave out the `to`, and say in a note what else is chilled or warmed"),
    );
}
