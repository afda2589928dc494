//! `placeholder-empty`: a comment of a manuscript stands for something that the book has not
//! got.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `placeholder-empty`, a warning about a manuscript.
pub const RULE: Rule = Rule {
    name: "placeholder-empty",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("placeholder_empty.md"),
};

/// A statement as it is written, and what the book lacks for it.
pub fn finding(span: Span, written: &str, lacks: &str) -> Finding {
    Finding::new(&RULE, span, format!("nothing stands for `{written}`: {lacks}"))
        .help("take it out, or add what it is to show")
}
