//! `words-refused`: a message of the house that would take back a warning.

use crate::diag::{Finding, Group, Level, Rule};
use crate::print::wording::OwnMessage;
use crate::source::Span;

/// Words of a house's own for allergens and cautions that do not say what ours say.
pub const RULE: Rule = Rule {
    name: "words-refused",
    level: Level::Error,
    group: Group::Prints,
    page: include_str!("words_refused.md"),
};

/// `file` is shown to the user; `why` ends a sentence that begins with the message, `ours` is
/// what is printed.
pub fn finding(file: &str, message: &OwnMessage, why: &str, ours: &str) -> Finding {
    let OwnMessage { line, id, .. } = message;
    Finding::new(&RULE, Span::NOWHERE, format!("`{id}` {why} ({file}, line {line})"))
        .note(format!("prints say `{ours}`"))
        .help("say the same in other words, or remove the line: ours is printed in its place")
}
