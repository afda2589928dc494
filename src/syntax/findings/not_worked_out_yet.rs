//! What is read and kept, and of which nothing comes yet.

use super::quoted_head;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `not-worked-out-yet`, a note about files and outputs.
pub const RULE: Rule = Rule {
    name: "not-worked-out-yet",
    level: Level::Note,
    group: Group::Files,
    page: include_str!("not_worked_out_yet.md"),
};

/// A statement that is read in a place where nothing uses it.
pub fn finding(span: Span, word: &str, head: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not worked out yet", quoted_head(head)))
        .help(format!("a {word} is kept as written, and what is in it is not checked"))
}

/// Prices: checked, but no cost comes of them yet.
pub fn prices(span: Span) -> Finding {
    Finding::new(&RULE, span, "prices are not worked out into costs yet")
        .help("they are kept as written; only their currency and their size are checked")
}

/// Notes, storage and sources of ingredients, cultures and styles.
pub fn remarks(span: Span) -> Finding {
    let message = "remarks on ingredients, cultures and styles are not printed yet";
    Finding::new(&RULE, span, message).help(
        "they are kept as written; a `caution` is printed on the card of everything that \
            contains it",
    )
}
