//! `file-too-large`: a file larger than is read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `file-too-large`, an error about files and outputs.
pub const RULE: Rule = Rule {
    name: "file-too-large",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("file_too_large.md"),
};

/// The finding for a file of so many bytes, of which so many are read at most.
pub fn finding(name: &str, bytes: u64, most: u64) -> Finding {
    Finding::new(
        &RULE,
        Span::NOWHERE,
        format!("{name} has {bytes} bytes; files of more than {most} are not read"),
    )
    .help("split it into files of a formula each")
}
