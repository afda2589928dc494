//! What is read and kept, and of which nothing comes yet.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `not-worked-out-yet`, a note about files and outputs.
pub const RULE: Rule = Rule {
    name: "not-worked-out-yet",
    level: Level::Note,
    group: Group::Files,
    page: include_str!("not_worked_out_yet.md"),
};

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
