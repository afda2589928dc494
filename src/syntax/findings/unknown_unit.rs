//! Letters behind a number that are no unit.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Unit;
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "unknown-unit",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unknown_unit.md"),
};

/// `units` says which ones stand here.
pub fn finding(span: Span, written: &str, units: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a unit", quoted(written))).help(units)
}

/// A spelling that can only mean one unit.
pub fn with_likely(span: Span, written: &str, likely: Unit) -> Finding {
    let unit = likely.spelling();
    Finding::new(&RULE, span, format!("{} is not a unit", quoted(written)))
        .help(format!("write `{unit}`"))
        .repair(span, unit, true)
}
