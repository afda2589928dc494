//! `4h..3h`.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `range-reversed`, an error about the method.
pub const RULE: Rule = Rule {
    name: "range-reversed",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("range_reversed.md"),
};

/// A range from more to less, with the one that was meant.
/// Where one end is more than twice the other, another unit or number may be meant:
/// `20min..2min` for two hours.
pub fn finding(span: Span, written: &str, repaired: String, is_near: bool) -> Finding {
    Finding::new(&RULE, span, format!("the range {} runs from high to low", quoted(written)))
        .help(match is_near {
            true => format!("the smaller end comes first: write `{repaired}`"),
            false => format!("is `{repaired}` meant, or another unit?"),
        })
        .repair(span, repaired, is_near)
}

/// `20 g or 7 g dried yeast`: one of two things.
pub fn choice(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is one thing or another", quoted(written)))
        .help("write the one that goes in, with its amount; the other may stand in a `note \"…\"`")
}

/// `by 06:00 after 07:00`.
pub fn after_by(span: Span, after: &str, by: &str) -> Finding {
    Finding::new(&RULE, span, format!("nothing is done after {after} and by {by}"))
        .help("`by` is the latest time, `after` the earliest: swap them, or change one")
}
