//! `no-repository`: a revision is asked for where there is no git repository.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// The rule.
pub const RULE: Rule = Rule {
    name: "no-repository",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("no_repository.md"),
};

/// Told of the folder from which one was looked for.
pub fn finding(folder: &str) -> Finding {
    let message = format!("there is no git repository in {folder} or above it");
    Finding::new(&RULE, Span::NOWHERE, message)
        .help("go to a folder that is in one, or name two files or folders")
}
