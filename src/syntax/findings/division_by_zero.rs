//! `1/0 kg`.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `division-by-zero`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "division-by-zero",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("division_by_zero.md"),
};

/// A fraction over nothing.
pub fn finding(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} divides by zero", quoted(written)))
        .help("the number after the stroke is the number of equal parts: 1 or more")
}
