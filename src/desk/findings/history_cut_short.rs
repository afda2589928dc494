//! `history-cut-short`: a shallow clone, of which only the newest commits are there.

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
