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

/// A number of more than 18 digits, those after its point among them.
pub fn finding(span: Span, written: &str) -> Finding {
    let is_small = written.trim_start().starts_with("0.") || written.trim_start().starts_with("0,");
    let what = if is_small { "has too many digits" } else { "is too large a number" };
    Finding::new(&RULE, span, format!("{} {what}", quoted(written)))
        .help("write it with 18 digits or fewer")
}

/// A count of something done or made, beyond any that could be counted out.
pub fn count(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is too large a count", quoted(written)))
        .help("write a smaller number: how often it is done, or how many there are")
}
