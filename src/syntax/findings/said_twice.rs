//! A statement or clause that holds once, said again.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "said-twice",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("said_twice.md"),
};

pub fn finding(span: Span, word: &str, first: Span) -> Finding {
    let what = if word.starts_with("the ") { word.to_owned() } else { quoted(word) };
    Finding::new(&RULE, span, format!("{what} is said twice"))
        .here("again here")
        .label(first, "first said here")
        .help("keep the one that holds, and take the other away")
}
