//! What a course of temperature does: the integral of a rate along it, and the time in which
//! an integral is reached.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::cooling::Cooling;
use super::growth::{
    COLDEST_CELSIUS, GrowthError, LONGEST_WAIT_HOURS, Model, hours_above_zero, hours_from_zero,
};

/// What to do with the part of a course that is colder than a model's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BelowRange {
    /// It is an error.
    Refused,
    /// The curve is carried on, down to 0 °C, and the dose says how much of it that was.
    Extended,
}

/// What a course of temperature does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    pub model: Model,
    /// Hours at 25 °C that do as much.
    pub hours_at_25: f64,
    /// Hours spent below the range of the model.
    pub hours_below_range: f64,
    /// The part of `hours_at_25` from below the range, which no source bears out. The truth
    /// lies between none of it and `hours_below_range` at the rate of the range's lower end.
    pub hours_at_25_below_range: f64,
}

impl Dose {
    /// Hours at a constant temperature that do as much.
    ///
    /// # Errors
    /// `OutsideRange`.
    pub fn hours_at(&self, celsius: f64) -> Result<f64, GrowthError> {
        Ok(self.hours_at_25 / self.model.rate(celsius)?)
    }
}

/// What the first `hours` of a dough's course of temperature do: the integral of the rate.
///
/// # Errors
/// `NotHours`; `OutsideRange` where the course is warmer than the model's range, or colder
/// and that is `Refused`; `TooCold` below 0 °C.
pub fn dose_along(
    model: Model,
    cooling: &Cooling,
    hours: f64,
    below: BelowRange,
) -> Result<Dose, GrowthError> {
    let hours = hours_from_zero(hours)?;
    let (start, end) = (cooling.start_celsius(), cooling.celsius_after(hours));
    allowed(model, start, below)?;
    allowed(model, end, below)?;
    let lowest = model.range().lowest;
    // A course runs one way only, so it crosses the end of the range once at most.
    let crossing = cooling.hours_until(lowest).map_or(hours, |crossing| crossing.min(hours));
    let rate = |celsius| model.curve(celsius);
    let hours_at_25 = gathered(&rate, cooling, hours);
    let before = gathered(&rate, cooling, crossing);
    let (hours_below_range, hours_at_25_below_range) = match (start < lowest, end < lowest) {
        (false, false) => (0.0, 0.0),
        (false, true) => (hours - crossing, hours_at_25 - before),
        (true, false) => (crossing, before),
        (true, true) => (hours, hours_at_25),
    };
    Ok(Dose { model, hours_at_25, hours_below_range, hours_at_25_below_range })
}

/// A wait along a course of temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wait {
    pub hours: f64,
    pub dose: Dose,
}

/// How long a dough has to stay on its course until it has done as much as in
/// `hours_at_25` at 25 °C.
///
/// # Errors
/// Those of `dose_along`, and `NeverReached` where two weeks would not do.
pub fn wait_for_dose(
    model: Model,
    cooling: &Cooling,
    hours_at_25: f64,
    below: BelowRange,
) -> Result<Wait, GrowthError> {
    let wanted = hours_above_zero(hours_at_25)?;
    allowed(model, cooling.start_celsius(), below)?;
    match hours_to_gather(&|celsius| model.curve(celsius), cooling, wanted) {
        Some(hours) if hours <= LONGEST_WAIT_HOURS => {
            Ok(Wait { hours, dose: dose_along(model, cooling, hours, below)? })
        }
        // A course that leaves the range is told first: that is why its dose stays small.
        _ => Err(GrowthError::NeverReached {
            hours_at_25: wanted,
            most_at_25: dose_along(model, cooling, LONGEST_WAIT_HOURS, below)?.hours_at_25,
        }),
    }
}

fn allowed(model: Model, celsius: f64, below: BelowRange) -> Result<(), GrowthError> {
    let range = model.range();
    if range.contains(celsius) {
        return Ok(());
    }
    if below == BelowRange::Refused || celsius > range.highest {
        return Err(GrowthError::OutsideRange { model, celsius });
    }
    if celsius < COLDEST_CELSIUS {
        return Err(GrowthError::TooCold { celsius });
    }
    Ok(())
}

/// Panels of the integral in one time constant. The integral is then true to about a
/// millionth, also where a curve has a corner.
const PANELS_IN_A_TIME_CONSTANT: u32 = 128;

/// Panels after which a dough has the temperature of its surroundings to the last bit, so
/// that what follows is a product: those of forty time constants.
const PANELS_OF_CHANGE: u32 = 40 * PANELS_IN_A_TIME_CONSTANT;

/// A rate by the temperature in °C.
type Rate<'r> = &'r dyn Fn(f64) -> f64;

/// The integral of a rate over the first hours of a course: hours at the temperature at
/// which the rate is 1.
///
/// Panels are laid from the start of the course whatever the end, so that this function and
/// `hours_to_gather` are each other's inverse.
pub(super) fn gathered(rate: Rate, cooling: &Cooling, hours: f64) -> f64 {
    let width = panel_width(cooling);
    let mut sum = 0.0;
    for panel in 0..PANELS_OF_CHANGE {
        let from = f64::from(panel) * width;
        if from + width >= hours {
            return sum + gained(rate, cooling, from, hours - from);
        }
        sum += gained(rate, cooling, from, width);
    }
    let settled = f64::from(PANELS_OF_CHANGE) * width;
    sum + (hours - settled) * rate(cooling.surroundings_celsius())
}

/// The time by which so many hours are gathered, if ever.
pub(super) fn hours_to_gather(rate: Rate, cooling: &Cooling, wanted: f64) -> Option<f64> {
    let width = panel_width(cooling);
    let mut missing = wanted;
    for panel in 0..PANELS_OF_CHANGE {
        let from = f64::from(panel) * width;
        let gained = gained(rate, cooling, from, width);
        if gained >= missing {
            return Some(from + hours_in_panel(rate, cooling, from, missing));
        }
        missing -= gained;
    }
    let settled = f64::from(PANELS_OF_CHANGE) * width;
    let last = rate(cooling.surroundings_celsius());
    (last > 0.0).then(|| settled + missing / last)
}

fn panel_width(cooling: &Cooling) -> f64 {
    cooling.time_constant_hours() / f64::from(PANELS_IN_A_TIME_CONSTANT)
}

/// The integral over one panel or a part of it, by Simpson's rule.
fn gained(rate: Rate, cooling: &Cooling, from: f64, width: f64) -> f64 {
    let after = |hours| rate(cooling.celsius_after(hours));
    let middle = after(from + 0.5 * width);
    (after(from) + 4.0 * middle + after(from + width)) * width / 6.0
}

/// The time after `from` by which `missing` is gathered, known to lie within one panel.
fn hours_in_panel(rate: Rate, cooling: &Cooling, from: f64, missing: f64) -> f64 {
    let (mut low, mut high) = (0.0, panel_width(cooling));
    // Sixty halvings leave less of the panel than an `f64` can tell apart.
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if gained(rate, cooling, from, middle) < missing {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}
