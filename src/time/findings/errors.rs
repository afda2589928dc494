//! Why a time can't be worked out, in sentences.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use crate::time::cooling::{CoolingError, Given};
use crate::time::estimates::Why;
use crate::time::growth::{GrowthError, LONGEST_WAIT_HOURS, TemperatureRange};
use core::fmt;

impl fmt::Display for Why {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Growth(error) => error.fmt(formatter),
            Self::Cooling(error) => error.fmt(formatter),
        }
    }
}

impl fmt::Display for GrowthError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutsideRange { model, celsius } => {
                let (name, range) = (model.name(), model.range());
                let celsius = shown_outside(range, *celsius);
                write!(formatter, "{celsius} °C is outside {range}, where {name} is known")
            }
            Self::NotHours { hours } => write!(formatter, "{hours} h is not a time to work with"),
            Self::LagTooLong { hours, lag_hours } => {
                write!(formatter, "a lag of {lag_hours} h leaves no growth in a step of {hours} h")
            }
            Self::NotASeed { fraction } => {
                write!(formatter, "seed of {fraction} of the total is not above 0 and below 1")
            }
            Self::SeedUnusual { percent, low, high } => write!(
                formatter,
                "seed of {percent} % of the new flour is outside {low} to {high} %, in which \
                 stages are begun"
            ),
            Self::NotYeast { yeast_percent } => {
                write!(formatter, "yeast of {yeast_percent} % is not above zero")
            }
            Self::TooSlow { celsius } => write!(
                formatter,
                "at {} °C it would take more than {LONGEST_WAIT_HOURS} h",
                shown(*celsius)
            ),
        }
    }
}

impl fmt::Display for TemperatureRange {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} to {} °C", self.lowest, self.highest)
    }
}

impl core::error::Error for GrowthError {}

impl fmt::Display for CoolingError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotPositive { given, value } => {
                write!(formatter, "{} of {value} is not above zero", of(*given))
            }
            Self::NotATemperature { celsius } => {
                write!(formatter, "{celsius} °C is not a possible temperature")
            }
            Self::NotOnTheWay { celsius, start_celsius, surroundings_celsius } => write!(
                formatter,
                "{celsius} °C is not on the way from {start_celsius} °C \
                 to surroundings of {surroundings_celsius} °C"
            ),
        }
    }
}

impl core::error::Error for CoolingError {}

fn of(given: Given) -> &'static str {
    match given {
        Given::Conductivity => "a conductivity",
        Given::Density => "a density",
        Given::Hours => "a time",
        Given::Mass => "a mass",
        Given::SpecificHeat => "a specific heat",
        Given::SurfaceCoefficient => "a surface coefficient",
        Given::TimeConstant => "a time constant",
    }
}

/// A number that was worked out, to hundredths; the error's fields keep all of it.
fn shown(value: f64) -> f64 {
    let rounded = (100.0 * value).round() / 100.0;
    if rounded.is_finite() { rounded } else { value }
}

/// As `shown`, but never rounded into the range it is outside of.
fn shown_outside(range: TemperatureRange, celsius: f64) -> f64 {
    if range.contains(shown(celsius)) { celsius } else { shown(celsius) }
}
