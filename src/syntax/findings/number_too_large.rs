//! A number of more digits than are read.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `number-too-large`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "number-too-large",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("number_too_large.md"),
};

/// A number of more than 18 digits.
pub fn finding(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is too large a number", quoted(written)))
        .help("write it with 18 digits or fewer")
}
