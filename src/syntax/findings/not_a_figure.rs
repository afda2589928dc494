//! Square brackets in a text that hold no figure.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `not-a-figure`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "not-a-figure",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("not_a_figure.md"),
};

/// A `[` in a text without its `]`.
pub fn open_bracket(span: Span) -> Finding {
    Finding::new(&RULE, span, "this `[` has no `]`")
        .help("write `[[` for a bracket that is not a figure")
        .repair(span, "[[", false)
}

/// Square brackets around something that is no figure.
pub fn no_figure(span: Span, words: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a figure", quoted(&format!("[{words}]")))).help(
        "in a text, `[water in levain]` or `[50 g of water]` is a figure; \
             write `[[` for a bracket that is none",
    )
}
