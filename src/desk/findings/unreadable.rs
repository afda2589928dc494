//! `unreadable`: a file or folder that can not be read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unreadable`, an error about files and outputs.
pub const RULE: Rule = Rule {
    name: "unreadable",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("unreadable.md"),
};

/// Why a pipe, a socket or a device is not read.
pub const NOT_ORDINARY: &str = "it is not an ordinary file";

/// How the reason begins where git's own files are why a file of a revision can't be read.
pub const IN_GIT: &str = "in git, ";

/// A file or folder that is there and can't be read.
pub fn finding(name: &str, why: &str) -> Finding {
    let help = match why {
        NOT_ORDINARY => "pipes and devices are not read; what comes through a pipe is read as `-`",
        why if why.starts_with(IN_GIT) => "`git fsck` finds what is broken",
        _ => "check its permissions, or leave it out",
    };
    Finding::new(&RULE, Span::NOWHERE, format!("{name} can't be read: {why}")).help(help)
}

/// A file that a setting names, told where it is named.
pub fn named(span: Span, file: &str, why: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{file}` can't be read: {why}"))
        .level(Level::Warning)
        .help("the prints do without it; put the file there, or correct its name")
}
