//! Nothing, or less, where there must be something; a part of a piece.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "amount-impossible",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("amount_impossible.md"),
};

pub fn below_zero(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is below nothing", quoted(written)))
        .help("an amount is nothing or more; a range is written with `..`")
}

/// `0 g` where nothing can't be meant.
pub fn nothing(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is nothing, and here stands how much", quoted(written)))
        .help("write how much it is, or take the line away")
}

/// `makes 0.2 loaves`.
pub fn no_such_count(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} of a piece can't be made", quoted(written)))
        .help("pieces are whole, and one at least; what each weighs can be as small as you like")
}

/// `makes 0 kg dough`.
pub fn makes_nothing(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is nothing to make", quoted(written)))
        .help("write a weight above nothing")
}
