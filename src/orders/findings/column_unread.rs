//! `column-unread`: a column of an order file that nothing is known about.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `column-unread`, a warning about reading.
pub const RULE: Rule = Rule {
    name: "column-unread",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("column_unread.md"),
};

/// A column of this heading is left unread.
pub fn finding(span: Span, heading: &str) -> Finding {
    Finding::new(&RULE, span, format!("the column `{heading}` is not read"))
        .help("columns that are read: product, amount, kind, by, after, customer and day")
}
