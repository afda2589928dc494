//! `words-unread`: a message of the house that can't be read.

use crate::diag::{Finding, Group, Level, Rule};
use crate::print::wording::{OwnMessage, Unknown};
use crate::source::Span;
use crate::syntax::unseen_letter_told;

/// Words of a house's own that no print asks for, or that can't be read.
pub const RULE: Rule = Rule {
    name: "words-unread",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("words_unread.md"),
};

/// `file` is shown to the user; `slip` begins with the line.
pub fn finding(file: &str, slip: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("a message in {file} can't be read: {slip}"))
        .help("a message is a line such as `print-method = Werkwijze`; our word stands in for it")
}

/// A message that can be read, but that no print asks for.
pub fn unknown(file: &str, slip: &Unknown) -> Finding {
    let Unknown { line, message, near } = slip;
    let message = format!("no print asks for the message `{message}` in {file}, line {line}");
    let said = Finding::new(&RULE, Span::NOWHERE, message);
    match near {
        Some(near) => said.help(format!("did you mean `{near}`?")),
        None => said.help(
            "`assize print --export-templates DIR` writes all our messages out, to copy from",
        ),
    }
}

/// A message that the file says again further down: the last one counts.
pub fn again(file: &str, message: &OwnMessage, first: usize) -> Finding {
    let OwnMessage { line, id, .. } = message;
    let said =
        format!("the message `{id}` in {file}, line {line}, was said on line {first} before");
    Finding::new(&RULE, Span::NOWHERE, said)
        .help(format!("remove one of the two; prints use the one on line {line}"))
}

/// A message with a letter that nobody sees.
pub fn unseen(file: &str, message: &OwnMessage, letter: char) -> Finding {
    let OwnMessage { line, id, .. } = message;
    let (told, _) = unseen_letter_told(letter);
    Finding::new(&RULE, Span::NOWHERE, format!("{told}: in `{id}` ({file}, line {line})"))
        .help("delete it; it often comes along with copied text")
}
