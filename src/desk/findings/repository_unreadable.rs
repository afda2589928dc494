//! `repository-unreadable`: git's own files are there and can't be read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// The rule.
pub const RULE: Rule = Rule {
    name: "repository-unreadable",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("repository_unreadable.md"),
};

/// Why, in words: `object 1f… is missing`.
pub fn finding(why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("the git repository can't be read: {why}"))
        .help("`git fsck` finds what is broken; two files or folders can be compared without it")
}

/// The same for prints, which are made without it.
pub fn of_prints(why: &str) -> Finding {
    let help = "run `git fsck` to find what is broken; until then the prints say `draft`";
    finding(why).help(help).level(Level::Warning)
}
