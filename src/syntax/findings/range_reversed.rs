//! `4h..3h`.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `range-reversed`, an error about the method.
pub const RULE: Rule = Rule {
    name: "range-reversed",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("range_reversed.md"),
};

/// A range from more to less, with the one that was meant.
pub fn finding(span: Span, written: &str, repaired: String) -> Finding {
    Finding::new(&RULE, span, format!("the range {} runs from high to low", quoted(written)))
        .help(format!("the smaller end comes first: write `{repaired}`"))
        .repair(span, repaired, true)
}
