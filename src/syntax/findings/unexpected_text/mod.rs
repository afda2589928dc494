//! What does not belong where it stands: the rule of most slips of the pen.
//!
//! The wordings are parted by what was being read.

mod amounts;
mod blocks;
mod house;
mod lines;
mod steps;

pub use amounts::*;
pub use blocks::*;
pub use house::*;
pub use lines::*;
pub use steps::*;

use super::{quoted, with_article};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "unexpected-text",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unexpected_text.md"),
};

/// What is left when the statement should have ended; `help` says what may stand in it.
pub fn left_over(span: Span, written: &str, help: &str) -> Finding {
    let finding = Finding::new(&RULE, span, format!("{} does not belong here", quoted(written)));
    match help {
        "" => finding.help("take it away, or begin a new line with it"),
        help => finding.help(help),
    }
}

/// A first word that means nothing in a `holder`.
pub fn unknown_word(span: Span, word: &str, holder: &str, near: Option<&str>) -> Finding {
    let holder = with_article(holder);
    let finding = Finding::new(&RULE, span, format!("{holder} has no {}", quoted(word)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding.help("take it away, or put `#` before it to keep it as a comment"),
    }
}

/// A name that is missing; `what` is what it would name, or the word it stands behind.
pub fn missing_name(span: Span, what: &str) -> Finding {
    let message = match what.starts_with('`') {
        true => format!("no name stands behind {what}"),
        false => format!("the name of the {what} is missing"),
    };
    Finding::new(&RULE, span, message).help("write the name here")
}

/// `allow salt-low` alone.
pub fn missing_reason(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("why `{name}` is allowed is not said"))
        .help(format!("write the reason behind it: `allow {name} \"a reason\"`"))
}

/// A word that wants a text in quotes.
pub fn missing_text(span: Span, word: &str, written: &str) -> Finding {
    let finding = Finding::new(&RULE, span, format!("no text stands behind `{word}`"));
    let words = written.trim();
    if !words.starts_with(char::is_alphabetic) || words.contains(['"', '\n', '\\']) {
        return finding.help(format!("write it in quotes, as in `{word} \"…\"`"));
    }
    // Where a number stands among the words, it may be a clause of its own.
    let is_safe = !words.contains(|c: char| c.is_ascii_digit());
    finding.help(format!("put it in quotes: `{word} {}`", in_quotes(words))).repair(
        span,
        in_quotes(words),
        is_safe,
    )
}

/// A text between quotes of print.
pub fn curly_quotes(span: Span, inside: &str) -> Finding {
    let finding =
        Finding::new(&RULE, span, "a text stands between straight quotes, not curly ones");
    match inside.contains(['"', '\\']) {
        true => finding.help("write `\"` before and behind it"),
        false => finding.help("write `\"` before and behind it, and `\\\"` for one inside").repair(
            span,
            in_quotes(inside),
            true,
        ),
    }
}

fn in_quotes(words: &str) -> String {
    format!("\"{words}\"")
}

/// Adds the word that was most likely meant.
fn meant(finding: Finding, span: Span, near: &str) -> Finding {
    finding.help(format!("did you mean `{near}`?")).repair(span, near, false)
}
