//! `unreadable`: a file or folder that can not be read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "unreadable",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("unreadable.md"),
};

pub fn finding(name: &str, why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name} can't be read: {why}"))
        .help("check its rights, or leave it out")
}

/// A file that a setting names, told where it is named.
pub fn named(span: Span, file: &str, why: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{file}` can't be read: {why}"))
        .level(Level::Warning)
        .help("the prints do without it; put the file there, or mend its name")
}
