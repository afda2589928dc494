//! `not-utf-8`: a file that is not text.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `not-utf-8`, an error about files and outputs.
pub const RULE: Rule = Rule {
    name: "not-utf-8",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("not_utf_8.md"),
};

/// `at` is the first byte that is not text.
pub fn finding(name: &str, at: usize, nul: bool) -> Finding {
    let what =
        if nul { "it holds zero bytes, as programs and pictures do" } else { "it is not in UTF-8" };
    Finding::new(
        &RULE,
        Span::NOWHERE,
        format!("{name} is not a text file: {what}, first at byte {}", at + 1),
    )
    .help("save it as UTF-8 text; a `*.dough` file is plain text")
}
