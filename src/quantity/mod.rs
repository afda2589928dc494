//! Exact numbers, units and the one place that rounds.
//!
//! Enters: digits as an author wrote them. Leaves: exact rationals in base units
//! (grams, millilitres, minutes, degrees Celsius, shares of one) and, through
//! [`display`], text for a person. Absent on purpose: floats, clocks, files, and any
//! knowledge of bread.

pub mod display;
mod exact;
mod gas_mark;
pub mod pair;
mod rational;
pub mod rounding;
mod unit;

pub use exact::{NumberTrouble, half, int, ratio, read_number};
pub use gas_mark::gas_mark;
pub use rational::Exact;
pub use unit::{Dimension, Measures, System, Unit, Units, Worth, degrees_fahrenheit};

/// A range of one kind of value; an end that is not written is open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Range {
    /// The lower end, which belongs to the range.
    pub low: Option<Exact>,
    /// The upper end, which belongs to the range.
    pub high: Option<Exact>,
}

impl Range {
    /// Whether `value` lies within the range, its ends included.
    pub fn holds(&self, value: &Exact) -> bool {
        self.low.as_ref().is_none_or(|low| value >= low)
            && self.high.as_ref().is_none_or(|high| value <= high)
    }
}
