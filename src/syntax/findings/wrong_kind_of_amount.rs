//! An amount of another kind than the place takes.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Dimension;
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;

/// `wrong-kind-of-amount`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "wrong-kind-of-amount",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("wrong_kind_of_amount.md"),
};

/// An amount of another kind than the place takes.
pub fn wrong_kind(
    span: Span,
    written: &str,
    dimension: Dimension,
    wanted: ExpectedAmount,
) -> Finding {
    let message = format!("{} is {}, not {}", quoted(written), dimension.word(), wanted.word());
    Finding::new(&RULE, span, message).help(wanted.units())
}

/// `07:30` where an amount stands.
pub fn time_of_day(span: Span, written: &str) -> Finding {
    let meant = match written.split_once(':') {
        Some((hours, minutes)) if hours.bytes().all(|digit| digit == b'0') => {
            format!("`{minutes}min`")
        }
        Some((hours, minutes)) if minutes.len() == 2 => {
            format!("`{}h{minutes}`", hours.trim_start_matches('0'))
        }
        _ => "`7h30` or `30min`".to_owned(),
    };
    Finding::new(&RULE, span, format!("{} is a time of day, not an amount", quoted(written)))
        .help(format!("a length of time is written {meant}"))
}

/// `at 24C to 26C`: a range, or what the dough is brought to.
pub fn surroundings_to(span: Span, written: &str, low: &str, high: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} can be read in two ways", quoted(written))).help(format!(
        "for a range write `{low}..{high}`; for a dough that is brought to {high}, \
         `to {high} at {low}`"
    ))
}

/// A range where one value stands.
pub fn one_value(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("expected one value, found the range {}", quoted(written)))
        .help("write one value")
}

/// A fraction where things are counted.
pub fn not_whole(span: Span, written: &str, what: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a whole number", quoted(written)))
        .help(format!("{what} takes a whole number"))
}

/// `hydration 74% ± 2h`.
pub fn other_tolerance(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is in another unit than the claim", quoted(written)))
        .help("write the tolerance in the unit of the claim")
}

/// `3h to 4h`: a range written with a word; `gap` lies between its ends.
pub fn range_with_word(span: Span, gap: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is a time, not a temperature", quoted(written)))
        .help(format!(
            "`to` is the temperature of the dough; a range is written with `..{written}`"
        ))
        .repair(gap, "..", false)
}

/// `of` behind something that is no percentage.
pub fn of_behind_weight(span: Span, written: &str) -> Finding {
    Finding::new(
        &RULE,
        span,
        format!("{} comes after an amount that is not a percentage", quoted(written)),
    )
    .help("only a percentage is of something: remove it, or write the amount with `%`")
}
