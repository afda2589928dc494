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

/// A formula whose printed meaning is gone: its name, the print's code, and the last commit that
/// has it.
pub fn finding(formula: &str, code: &str, printed: &str) -> Finding {
    let message = format!(
        "the print {code} of `{formula}` is out of date: the last commit it matches is {printed}"
    );
    Finding::new(&RULE, Span::NOWHERE, message).help("print it anew, and take the old one down")
}
