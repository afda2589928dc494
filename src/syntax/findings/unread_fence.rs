//! `unread-fence`: a block of a manuscript that looks like formulas and is not read.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unread-fence`, a warning about files and outputs.
pub const RULE: Rule = Rule {
    name: "unread-fence",
    level: Level::Warning,
    group: Group::Files,
    page: include_str!("unread_fence.md"),
};

/// ```` ```dogh ````.
pub fn near(span: Span, info: &str) -> Finding {
    Finding::new(&RULE, span, format!("a block marked {} is not read", quoted(info)))
        .help("did you mean `dough`?")
        .repair(span, "dough", false)
}

/// ```` ```dough no-chek ````.
pub fn near_no_check(span: Span, info: &str) -> Finding {
    Finding::new(&RULE, span, format!("a block marked {} is checked all the same", quoted(info)))
        .help("did you mean `dough no-check`, which leaves it out?")
        .repair(span, "dough no-check", false)
}

/// A formula in a block without a mark.
pub fn unmarked(span: Span) -> Finding {
    Finding::new(&RULE, span, "this block has no mark, so the formula in it is not read")
        .level(Level::Note)
        .help("mark it `dough`, or `dough no-check` if it is only to be shown")
}

/// A fence that Markdown does not see as one.
pub fn no_block(span: Span) -> Finding {
    Finding::new(&RULE, span, "Markdown sees no code block here, so what follows is not read").help(
        "indent the fence as far as the text around it, by fewer than four spaces, and leave \
             an empty line before it",
    )
}
