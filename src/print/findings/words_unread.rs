//! `words-unread`: a message of the house that can't be read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "words-unread",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("words_unread.md"),
};

/// `file` is shown to the user; `slip` begins with the line.
pub fn finding(file: &str, slip: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("a message in {file} can't be read: {slip}"))
        .help("a message is a line such as `print-method = Werkwijze`; our word stands in for it")
}
