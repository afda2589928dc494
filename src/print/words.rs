//! Times and capitals, as every part of a print writes them.

use super::context::PrintContext;
pub use crate::quantity::display::minutes;
use crate::quantity::display::{minutes_range, to_step};
use crate::quantity::{Exact, int};
use crate::time::Length;

/// A length of time as a reader wants it: `24–36 h`, `at least 3 h`.
pub fn length_words(paper: &PrintContext, length: &Length) -> String {
    match &length.high {
        Some(high) => span_of_time(&length.low, high),
        None => paper.words.fill("at-least", &[("amount", &minutes(&length.low))]),
    }
}

/// A range of times as a reader wants them: `24–36 h`. Beyond an hour single minutes say
/// nothing, beyond ten hours minutes do; what is rounded is marked so.
pub fn span_of_time(low: &Exact, high: &Exact) -> String {
    let step = match () {
        () if *high > int(600) => int(60),
        () if *high > int(60) => int(5),
        () => return minutes_range(low, high),
    };
    let rounded = |end: &Exact| to_step(end, &step);
    let (first, last) = (rounded(low), rounded(high));
    let told = minutes_range(&first, &last);
    if first == *low && last == *high { told } else { format!("≈ {told}") }
}

/// The first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
