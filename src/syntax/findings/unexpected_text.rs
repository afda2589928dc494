//! What is left over where a statement should have ended.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unexpected-text`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "unexpected-text",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unexpected_text.md"),
};

/// What is left when the statement should have ended; `help` says what may stand in it.
pub fn left_over(span: Span, written: &str, help: &str) -> Finding {
    let finding = Finding::new(&RULE, span, format!("{} does not belong here", quoted(written)));
    if let Some(comment) = comment_of(written) {
        return finding
            .help("a comment begins with `#` and runs to the end of its line")
            .repair(span, comment, true);
    }
    match help {
        "" => finding.help("remove it, or begin a new line with it"),
        help => finding.help(help),
    }
}

/// What is written between the marks of a comment elsewhere, as a comment of ours; nothing
/// where no such mark begins it, or another line follows it.
fn comment_of(written: &str) -> Option<String> {
    let text = match written.trim().strip_prefix("/*") {
        Some(text) => text.strip_suffix("*/")?,
        None => ["//", "--", "<!--"].iter().find_map(|mark| written.trim().strip_prefix(mark))?,
    };
    let text = text.strip_suffix("-->").unwrap_or(text).trim();
    let is_comment = !text.contains('\n') && text.contains(char::is_alphabetic);
    is_comment.then(|| format!("# {text}"))
}

/// A word that says nothing more; `rest` is what follows it.
pub fn needless(span: Span, gap: Span, rest: &str) -> Finding {
    Finding::new(&RULE, span, "this word is not needed here")
        .help(format!("remove it: {} is enough", quoted(rest)))
        .repair(gap, "", true)
}

/// `plus extra for dusting` behind an amount.
pub fn extra(span: Span, written: &str) -> Finding {
    let why = written.find("for ").and_then(|at| written.get(at..)).unwrap_or("for dusting");
    Finding::new(&RULE, span, format!("{} does not belong here", quoted(written))).help(format!(
        "put it on a line of its own: its name, then `as needed \"{why}\"`; it is not weighed"
    ))
}

/// A text right in a step, which may be what to see or a remark.
pub fn in_a_step(span: Span, written: &str) -> Finding {
    let text = written.trim_matches('"').trim();
    let seen = text.strip_prefix("until ").unwrap_or(text);
    Finding::new(&RULE, span, format!("{} does not belong here", quoted(written)))
        .help(format!("what to see is `until \"{seen}\"`; anything else is `note \"{text}\"`"))
}

/// `1 egg yolk for glazing`: what it is for, behind an amount.
pub fn purpose(span: Span, written: &str, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} says that this is not for the dough", quoted(written)))
        .help(format!(
            "what goes on the outside stands in `piece {{ … }}`, for each piece; or write \
             `{name} as needed \"{written}\"`, which is not weighed"
        ))
}
