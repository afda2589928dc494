//! What a course of temperature does: the integral of a rate along it, and the time in which
//! an integral is reached.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::cooling::Cooling;

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
