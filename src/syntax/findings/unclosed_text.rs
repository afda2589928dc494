//! A text without its closing quote.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `unclosed-text`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "unclosed-text",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unclosed_text.md"),
};

/// `suspect` is a text before it that runs over several lines.
pub fn finding(span: Span, written: &str, suspect: Option<Span>) -> Finding {
    let first_line = written.lines().next().map_or(0, str::len);
    let end = span.start + u32::try_from(first_line).unwrap_or(0);
    let place = Span { end: end.min(span.end), ..span };
    let finding = Finding::new(&RULE, place, format!("the text {} has no end", quoted(written)))
        .help("write `\"` where the text ends; a quote inside of it is written `\\\"`");
    match suspect {
        Some(suspect) => finding.label(suspect, "or this text should have ended on its first line"),
        None => finding,
    }
}
