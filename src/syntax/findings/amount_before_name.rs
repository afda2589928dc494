//! A line that has its amount before its name.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "amount-before-name",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("amount_before_name.md"),
};

/// `3 egg`; `repair` is the place of both.
pub fn amount_first(span: Span, written: &str, name: &str, repair: Span) -> Finding {
    let turned = format!("{name} {written}");
    Finding::new(&RULE, span, format!("the amount {} comes before its name", quoted(written)))
        .help(format!("write `{turned}`"))
        .repair(repair, turned, true)
}
