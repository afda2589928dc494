//! `history-cut-short`: a shallow clone, of which only the newest commits are there, or a partial one.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// The rule.
pub const RULE: Rule = Rule {
    name: "history-cut-short",
    level: Level::Warning,
    group: Group::Files,
    page: include_str!("history_cut_short.md"),
};

/// Told beside what is known.
pub fn finding() -> Finding {
    let message = "the history ends early: this is a shallow clone";
    Finding::new(&RULE, Span::NOWHERE, message.to_owned())
        .help("`git fetch --unshallow` brings the rest")
}

/// The same of a partial clone, of which some files of older commits are not there.
pub fn partial() -> Finding {
    let message = "the history ends early: this is a partial clone, and files of it are missing";
    Finding::new(&RULE, Span::NOWHERE, message.to_owned())
        .help("`git fetch --refetch --no-filter` brings them")
}
