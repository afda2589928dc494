//! `columns-alike`: two columns of a comparison that are the same.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `columns-alike`, a note about booklets.
pub const RULE: Rule = Rule {
    name: "columns-alike",
    level: Level::Note,
    group: Group::Text,
    page: include_str!("columns_alike.md"),
};

/// An amount that stands twice.
pub fn finding(span: Span) -> Finding {
    Finding::new(&RULE, span, "another column is for the same amount")
        .help("leave one of them out, or compare another amount")
}
