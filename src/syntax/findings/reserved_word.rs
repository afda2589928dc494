//! Names that need quotes, and names that can't be given.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `reserved-word`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "reserved-word",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("reserved_word.md"),
};

/// `word`, at `span`, stands in a name: `whole` with the bytes `written`.
pub fn finding(span: Span, word: &str, whole: Span, written: &str) -> Finding {
    let name = one_line(written);
    Finding::new(&RULE, span, format!("{} can't be part of a name without quotes", quoted(word)))
        .help(format!("it begins a clause; write the name as `\"{name}\"`"))
        .repair(whole, format!("\"{name}\""), true)
}

/// `00 flour 500 g`.
pub fn digit_first(span: Span, written: &str) -> Finding {
    let name = one_line(written);
    Finding::new(&RULE, span, format!("the name {} begins with a digit", quoted(written)))
        .help(format!("write it in quotes, `\"{name}\"`, so that it is not read as an amount"))
        .repair(span, format!("\"{name}\""), false)
}

/// `20 g without rye flour`: `word` begins a statement or is an amount, and the name at
/// `span` begins with it.
pub fn statement_first(span: Span, written: &str, word: &str) -> Finding {
    let name = one_line(written);
    let begins = format!("no name begins with {} here", quoted(word));
    Finding::new(&RULE, span, begins).help(format!(
        "take the amount before it away, or, if it is a name, write it in quotes: `\"{name}\"`"
    ))
}

/// `type 55 flour 80%`.
pub fn number_inside(span: Span, written: &str) -> Finding {
    let name = one_line(written);
    Finding::new(&RULE, span, format!("the name {} has a number in it", quoted(written)))
        .help(format!(
            "write it in quotes, `\"{name}\"`, so that the number is not read as an \
            amount"
        ))
        .repair(span, format!("\"{name}\""), false)
}

/// A name that the language itself uses.
pub fn taken(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} has a meaning of its own", quoted(name)))
        .help("choose another name, such as one with another word added")
}

fn one_line(written: &str) -> String {
    let words: Vec<&str> = written.split_whitespace().collect();
    words.join(" ").replace('\\', "\\\\").replace('"', "\\\"")
}
