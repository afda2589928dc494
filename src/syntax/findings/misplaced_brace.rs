//! A brace too many, or on another line than its word.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "misplaced-brace",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("misplaced_brace.md"),
};

pub fn stray_brace(span: Span) -> Finding {
    Finding::new(&RULE, span, "this `}` closes nothing")
        .help("take it away, or look for a `{` that is missing before it")
}

/// `{` on the line behind its head; `gap` is what lies between.
pub fn brace_on_own_line(gap: Span) -> Finding {
    let brace = Span { start: gap.end, end: gap.end + 1, ..gap };
    Finding::new(&RULE, brace, "this `{` stands on a line of its own")
        .help("put it on the line of the word it belongs to")
        .repair(gap, " ", true)
}

/// Braces on a statement that takes none.
pub fn block_here(span: Span) -> Finding {
    Finding::new(&RULE, span, "nothing in braces belongs here")
        .help("take the braces away, or name before them what they hold")
}
