//! How an amount is written in a derivation: its unit and how many digits.
//!
//! Enters: an amount in the base unit of its kind. Leaves: its text, and what the text says.

use super::figure::ValueKind;
use crate::quantity::display::{
    figures_of_grams, figures_of_ounces, figures_of_share, last_digit, minutes, to_step, trimmed,
};
use crate::quantity::{Exact, System, Worth, int, ratio};

/// A unit, and so many digits after the point of a number in it.
pub struct AmountForm {
    /// `g`, `%`, `min`; empty for a bare number.
    pub unit: &'static str,
    /// How much of the base unit it is.
    pub worth: Worth,
    digits: u8,
    /// Minutes as clocks tell them: `1 h 30 min`.
    clock: bool,
}

impl AmountForm {
    /// As an amount of this size and kind is usually written in a system of units; degrees are
    /// counted in those of the system.
    pub fn of(amount: &Exact, kind: ValueKind, units: System) -> Self {
        let (unit, worth, digits) = match kind {
            ValueKind::Mass if units == System::Us => figures_of_ounces(amount),
            ValueKind::Mass => figures_of_grams(amount),
            ValueKind::Share => ("%", Worth::of::<1, 100>(), figures_of_share(amount, 2)),
            ValueKind::Number => ("", Worth::ONE, 2),
            ValueKind::Time => ("min", Worth::ONE, 2),
            ValueKind::Temperature if units == System::Us => ("°F", Worth::ONE, 1),
            ValueKind::Temperature => ("°C", Worth::ONE, 1),
            ValueKind::Energy => ("kJ", Worth::ONE, 1),
        };
        Self { unit, worth, digits, clock: kind == ValueKind::Time }
    }

    /// With so many digits more.
    pub fn finer(self, digits: u8) -> Self {
        Self { clock: self.clock && digits == 0, digits: self.digits + digits, ..self }
    }

    /// An amount as text.
    pub fn text(&self, amount: &Exact) -> String {
        if self.clock {
            return minutes(amount);
        }
        format!("{} {}", trimmed(&self.worth.count_in(amount), self.digits), self.unit)
            .trim_end()
            .to_owned()
    }

    /// What the text of an amount says.
    pub fn value(&self, amount: &Exact) -> Exact {
        let step = match self.clock {
            // Seconds are told below ten minutes.
            true if *amount < int(10) => ratio(1, 60),
            true => Exact::ONE,
            false => last_digit(self.digits) * self.worth.amount(),
        };
        to_step(amount, &step)
    }
}
