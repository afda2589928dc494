//! A word without the value, the text or the block that belongs to it.

use super::in_quotes;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "missing-value",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("missing_value.md"),
};

pub fn missing_value(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("expected a value after `{word}`"))
        .help("write its value here")
}

/// A word that wants a text in quotes.
pub fn missing_text(span: Span, word: &str, written: &str) -> Finding {
    let finding = Finding::new(&RULE, span, format!("expected a text after `{word}`"));
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

/// `allow salt-low` alone.
pub fn missing_reason(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("no reason is given for allowing `{name}`"))
        .help(format!("write the reason after it: `allow {name} \"a reason\"`"))
}

/// `free from milk` of an ingredient, alone.
pub fn missing_proof(span: Span, names: &str) -> Finding {
    Finding::new(&RULE, span, format!("it is not said what shows that it is free from {names}"))
        .help(format!("write it after it: `free from {names} \"the supplier's sheet of 3 March\"`"))
}

pub fn missing_block(span: Span, word: &str) -> Finding {
    Finding::new(&RULE, span, format!("expected braces after `{word}`"))
        .help(format!("write `{word} {{ … }}`"))
}
