//! Nothing, or less, where there must be something; a part of a piece.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::tree::Quantity;

/// `amount-impossible`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "amount-impossible",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("amount_impossible.md"),
};

/// An amount that is less than nothing.
pub fn below_zero(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is below zero", quoted(written)))
        .help("an amount is zero or more; a range is written with `..`")
}

/// `-300C`.
pub fn too_cold(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is colder than anything can be", quoted(written)))
        .help("nothing is colder than −273.15 °C; write how warm or cold it is")
}

/// `0 g` where nothing can't be meant.
pub fn nothing(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} can't be an amount here", quoted(written)))
        .help("write how much it is, or remove the line")
}

/// `makes 0 loaves`, `makes 0.2 loaves`.
pub fn no_such_count(count: &Quantity, written: &str) -> Finding {
    let (why, help) = match count.number.is_zero() {
        true => ("leaves nothing to make", "write how many are made, 1 or more"),
        false => (
            "can't be made: pieces are whole",
            "write a whole number of them; what each weighs can be as small as you like",
        ),
    };
    Finding::new(&RULE, count.span, format!("{} {why}", quoted(written))).help(help)
}

/// `--makes 0x`.
pub fn times_nothing(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} leaves nothing to make", quoted(written)))
        .help("write how much of it is made, such as `2x`, `0.5x` or `half`")
}

/// `makes 0 kg dough`.
pub fn makes_nothing(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is nothing to make", quoted(written)))
        .help("write a weight above zero")
}
