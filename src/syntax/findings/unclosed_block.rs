//! A `{` without its `}`.

use super::quoted_head;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unclosed-block`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "unclosed-block",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unclosed_block.md"),
};

/// The block goes on to `end`, where a declaration begins or the file ends.
pub fn finding(head: Span, written: &str, end: Span) -> Finding {
    Finding::new(&RULE, head, format!("{} is not closed", quoted_head(written)))
        .here("its `{` has no `}`")
        .label(end, "it goes on to here")
        .help("write `}` where the block ends")
}

/// What stands at `next` does not belong in the block: the `}` is missing before it.
pub fn before(head: Span, written: &str, next: Span) -> Finding {
    Finding::new(&RULE, head, format!("{} is not closed", quoted_head(written)))
        .here("its `{` has no `}`")
        .label(next, "this belongs outside it")
        .help("write `}` before the line that belongs outside")
}

/// The `}` that closes a block stands where one of a block around it would.
pub fn closed_by_another(head: Span, written: &str, brace: Span, around: &str) -> Finding {
    Finding::new(&RULE, head, format!("{} is not closed", quoted_head(written)))
        .here("its `{` has no `}`")
        .label(brace, format!("this looks like the end of {}", quoted_head(around)))
        .help("write `}` where the block ends")
}
