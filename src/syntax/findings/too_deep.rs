//! Braces within braces, deeper than anything in the language.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `too-deep`, an error about files and outputs.
pub const RULE: Rule = Rule {
    name: "too-deep",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("too_deep.md"),
};

/// A brace deeper than any block.
pub fn finding(span: Span) -> Finding {
    Finding::new(&RULE, span, "braces are nested too deeply").help(
        "the deepest are those of a step, in the method of a stage, in a formula: four levels; \
         look for a `{` too many or a `}` that is missing before it",
    )
}
