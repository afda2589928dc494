//! Amounts that are none, or of another kind than the place takes.

use super::RULE;
use crate::diag::Finding;
use crate::quantity::display::decimal;
use crate::quantity::{Dimension, Exact};
use crate::source::Span;
use crate::syntax::findings::quoted;
use crate::syntax::wanted::Wanted;

/// A range where one value stands.
pub fn one_value(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is a range where one value stands", quoted(written)))
        .help("write one value")
}

pub fn below_zero(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is below nothing", quoted(written)))
        .help("an amount is nothing or more; a range is written with `..`")
}

/// `0 g` where nothing can't be meant.
pub fn nothing(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is nothing, and here stands how much", quoted(written)))
        .help("write how much it is, or take the line away")
}

/// No number where an amount stands.
pub fn no_number(span: Span, written: &str) -> Finding {
    let message = match written.trim() {
        "" => "an amount is missing".to_owned(),
        written => format!("{} stands where an amount is due", quoted(written)),
    };
    Finding::new(&RULE, span, message).help("write a number with its unit")
}

/// `07:30` where an amount stands.
pub fn time_of_day(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is a time of day, not an amount", quoted(written)))
        .help("a time that passes is written `7h30` or `30min`")
}

pub fn not_a_number(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a number", quoted(written)))
        .help("numbers are written `12`, `0.25`, `1/3` or `1 1/2`")
}

/// `1e3`.
pub fn power_of_ten(span: Span, written: &str, value: &Exact) -> Finding {
    let plain = decimal(value, 18);
    Finding::new(&RULE, span, format!("{} is written in powers of ten", quoted(written)))
        .help(format!("write `{plain}`"))
        .repair(span, plain, true)
}

/// A fraction where things are counted.
pub fn not_whole(span: Span, written: &str, what: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a whole number", quoted(written)))
        .help(format!("{what} takes a whole number"))
}

/// An amount of another kind than the place takes.
pub fn wrong_kind(span: Span, written: &str, dimension: Dimension, wanted: Wanted) -> Finding {
    let message = format!("{} is {}, not {}", quoted(written), dimension.word(), wanted.word());
    Finding::new(&RULE, span, message).help(wanted.units())
}

/// `hydration 74% ± 2h`.
pub fn other_tolerance(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is in another unit than the claim", quoted(written)))
        .help("a tolerance has the unit of what it is a tolerance of")
}

/// `3h to 4h`: a range written with a word; `gap` lies between its ends.
pub fn range_with_word(span: Span, gap: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is a time, not a temperature", quoted(written)))
        .help(format!(
            "`to` is the temperature of the dough; a range is written with `..{written}`"
        ))
        .repair(gap, "..", false)
}
