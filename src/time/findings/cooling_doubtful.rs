//! `cooling-doubtful`: a measured cooling that no dough can have done.

use crate::diag::amounts::celsius as shown;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Cooled;
use crate::quantity::Exact;

/// A course of cooling that can't be measured.
pub const RULE: Rule = Rule {
    name: "cooling-doubtful",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("cooling_doubtful.md"),
};

/// The finding for what a house says of cooling, where it can't be.
pub fn finding(cooled: &Cooled) -> Option<Finding> {
    let on_the_way = cooled.at < cooled.to && cooled.to < cooled.from;
    let nothing = cooled.minutes.is_zero() || cooled.mass.is_zero();
    let degrees = |celsius: &Exact| shown(celsius, 1);
    let message = match (on_the_way, nothing) {
        (true, false) => return None,
        (true, true) => "a cooling by nothing, or in no time, measures nothing".to_owned(),
        (false, _) => format!(
            "{} does not lie between {} and the surroundings at {}",
            degrees(&cooled.to),
            degrees(&cooled.from),
            degrees(&cooled.at)
        ),
    };
    let finding = Finding::new(&RULE, cooled.span, message);
    Some(finding.help("write what was measured: `cooling 900 g from 25C to 8C in 3h at 4C`"))
}
