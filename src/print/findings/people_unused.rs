//! `people-unused`: people for whom a booklet says nothing.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `people-unused`, a note about booklets.
pub const RULE: Rule = Rule {
    name: "people-unused",
    level: Level::Note,
    group: Group::Text,
    page: include_str!("people_unused.md"),
};

/// `for 12 people` where nothing is for all of them.
pub fn finding(span: Span) -> Finding {
    Finding::new(&RULE, span, "nothing in this booklet is for all of these people together")
        .help("add `shopping`, or a sheet `for everyone`; the number is then only on the cover")
}
