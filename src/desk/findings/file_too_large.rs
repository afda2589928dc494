//! `file-too-large`: a file larger than is read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "file-too-large",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("file_too_large.md"),
};

pub fn finding(name: &str, bytes: u64, most: u64) -> Finding {
    Finding::new(
        &RULE,
        Span::NOWHERE,
        format!("{name} has {bytes} bytes; files of more than {most} are not read"),
    )
    .help("split it into files of a formula each")
}
