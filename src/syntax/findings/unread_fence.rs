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

/// A formula in a block without a mark, or with that of something else.
pub fn unmarked(span: Span, info: &str) -> Finding {
    let message = match info.trim() {
        "" => "this block has no mark, so the formula in it is not read".to_owned(),
        info => format!("a block marked {} is not read, and a formula is in it", quoted(info)),
    };
    Finding::new(&RULE, span, message)
        .level(Level::Note)
        .help("mark it `dough`, or `dough no-check` if it is only to be shown")
}

/// A formula that is indented by four spaces, which Markdown takes for code without a mark.
pub fn indented(span: Span) -> Finding {
    Finding::new(&RULE, span, "this formula is indented as code, so it is not read")
        .level(Level::Note)
        .help("put it between fences marked `dough`, or `dough no-check` if it is only to be shown")
}

/// A formula in HTML, or in a comment of it.
pub fn in_html(span: Span, is_comment: bool) -> Finding {
    let where_it_is = if is_comment { "in a comment" } else { "in HTML" };
    Finding::new(&RULE, span, format!("this formula is {where_it_is}, so it is not read"))
        .level(if is_comment { Level::Note } else { Level::Warning })
        .help(match is_comment {
            true => "take it out of the comment, or remove it",
            false => "put it between fences marked `dough` instead",
        })
}

/// A fence that Markdown does not see as one.
pub fn no_block(span: Span) -> Finding {
    Finding::new(&RULE, span, "Markdown sees no code block here, so what follows is not read").help(
        "indent the fence as far as the text around it, by fewer than four spaces, and leave \
             an empty line before it",
    )
}
