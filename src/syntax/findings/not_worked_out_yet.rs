//! Days and booklets: declared, but nothing is computed from them yet.

use super::quoted_head;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "not-worked-out-yet",
    level: Level::Note,
    group: Group::Files,
    page: include_str!("not_worked_out_yet.md"),
};

pub fn finding(span: Span, word: &str, head: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not worked out yet", quoted_head(head)))
        .help(format!("a {word} is kept as it stands, and what is in it is not checked"))
}
