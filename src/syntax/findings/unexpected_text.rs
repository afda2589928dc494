//! What is left over where a statement should have ended.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "unexpected-text",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unexpected_text.md"),
};

/// What is left when the statement should have ended; `help` says what may stand in it.
pub fn left_over(span: Span, written: &str, help: &str) -> Finding {
    let finding = Finding::new(&RULE, span, format!("{} does not belong here", quoted(written)));
    match help {
        "" => finding.help("remove it, or begin a new line with it"),
        help => finding.help(help),
    }
}
