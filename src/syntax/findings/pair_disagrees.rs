//! Two amounts of one thing, side by side, that are not the same.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::{Exact, ratio};
use crate::source::Span;

/// `pair-disagrees`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "pair-disagrees",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("pair_disagrees.md"),
};

/// `250 g/12 oz`: the second amount is `other` in the unit of the first.
pub fn finding(span: Span, written: &str, second: &str, other: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} are not the same", quoted(written)))
        .note(format!("{second} is about {other}"))
        .help("correct the one that is wrong, or remove it")
}

/// `butter 250 g` beside `2 cups`, which weigh `other`.
pub fn by_density(span: Span, first: &str, second: &str, other: &str) -> Finding {
    let message = format!("{} and {} beside it are not the same", quoted(first), quoted(second));
    Finding::new(&RULE, span, message)
        .note(format!("{second} of it weigh about {other}"))
        .help("correct the one that is wrong, or remove it; the weight is what counts")
}

/// How far a volume may be from the weight beside it: a cup of flour is 115 to 150 g as it
/// is filled (common practice, no source).
pub fn volumes_within() -> Exact {
    ratio(30, 100)
}

/// The same of what fills a cup to the brim, such as butter, oil and milk: cups themselves
/// differ by 6 % from country to country (common practice, no source).
pub fn full_volumes_within() -> Exact {
    ratio(15, 100)
}
