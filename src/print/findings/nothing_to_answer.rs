//! `nothing-to-answer`: `answers` without a worksheet above.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `nothing-to-answer`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "nothing-to-answer",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("nothing_to_answer.md"),
};

/// Answers to nothing.
pub fn finding(span: Span) -> Finding {
    Finding::new(&RULE, span, "no worksheet stands above these answers, so nothing is printed")
        .help("put `answers` below the worksheets that they are for")
}
