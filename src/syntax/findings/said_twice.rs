//! A statement or clause that holds once, said again.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `said-twice`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "said-twice",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("said_twice.md"),
};

/// A step that stands right after the same one.
pub fn step(span: Span, words: &str, first: Span) -> Finding {
    Finding::new(&RULE, span, format!("the step {} is written twice in a row", quoted(words)))
        .level(Level::Warning)
        .here("again here")
        .label(first, "and here")
        .help("remove one, or write one step of the whole time")
}

/// A statement at its second place.
pub fn finding(span: Span, word: &str, first: Span) -> Finding {
    let what = if word.starts_with("the ") { word.to_owned() } else { quoted(word) };
    Finding::new(&RULE, span, format!("{what} is said twice"))
        .here("again here")
        .label(first, "first said here")
        .help("keep the one that is meant, and remove the other")
}

/// Both `is a` and `like` in the head of an ingredient.
pub fn two_kinds(span: Span) -> Finding {
    Finding::new(&RULE, span, "an ingredient either is of a class or is like another")
        .help("keep one of the two: what it is like gives it its class too")
}

/// A second weight or a second `from` in one yield.
pub fn one_anchor(span: Span) -> Finding {
    Finding::new(&RULE, span, "the yield is sized twice")
        .help("keep one: a weight of dough, or what it is made from")
}

/// A second value where there is only one, or a range.
pub fn holds_one(span: Span, written: &str, machine: &str) -> Finding {
    let example = if machine == "tin" { "holds 2.4 l" } else { "holds 3 kg..28 kg" };
    Finding::new(
        &RULE,
        span,
        format!("{} is more than this line of a {machine} takes", quoted(written)),
    )
    .help(format!("write one value: `{example}`"))
}
