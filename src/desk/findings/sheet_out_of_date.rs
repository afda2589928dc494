//! `sheet-out-of-date`: a sheet whose formula has changed since it was printed.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// The rule.
pub const RULE: Rule = Rule {
    name: "sheet-out-of-date",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("sheet_out_of_date.md"),
};

/// A formula whose printed meaning is gone: its name, the print's code, what kind of print it is,
/// and the commit that it is of.
pub fn finding(formula: &str, code: &str, kind: &str, printed: &str) -> Finding {
    let message = format!(
        "the {kind} {code} of `{formula}` is out of date: what it shows has changed since {printed}"
    );
    Finding::new(&RULE, Span::NOWHERE, message).help("print it again, and take the old one down")
}
