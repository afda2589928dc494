//! Two blocks or lines of one name, where one can hold.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// Two of a kind have one name, which nothing can choose between.
pub const RULE: Rule = Rule {
    name: "declared-twice",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("declared_twice.md"),
};

/// Two lines of one name and role in a block.
pub fn line(span: Span, written: &str, first: Span) -> Finding {
    finding(span, written, first)
        .help("add the two up, or give one a role in brackets, as in `water (second) 12%`")
}

/// Two blocks of which a formula has one.
pub fn block(span: Span, written: &str, first: Span) -> Finding {
    finding(span, written, first).help("put everything into one of them")
}

/// Two stages, mixtures or kinds of piece of one name.
pub fn name(span: Span, written: &str, first: Span) -> Finding {
    finding(span, written, first).help("remove one, or give it another name")
}

fn finding(span: Span, written: &str, first: Span) -> Finding {
    Finding::new(&RULE, span, format!("{} is declared twice", quoted(written)))
        .here("a second time here")
        .label(first, "first declared here")
}
