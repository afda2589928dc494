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
