//! The store of limits, read: every bound of a rule comes from there.

use crate::diag::amounts::{celsius, celsius_range};
use crate::formula::class::{Class, Nutrient};
use crate::formula::{Ingredient, limit};
use crate::quantity::display::percent;
use crate::quantity::{Exact, Range};

/// A bound of a group in the store, in base units.
pub fn bound(group: &str, name: &str) -> Option<Range> {
    limit(group, name).cloned()
}

/// One number of the store, in base units.
pub fn number(group: &str, name: &str) -> Option<Exact> {
    limit(group, name).and_then(|range| range.low.as_ref().or(range.high.as_ref()).cloned())
}

/// The most that a bound of the store allows.
pub fn most(group: &str, name: &str) -> Option<Exact> {
    limit(group, name)?.high.clone()
}

/// The least that a bound of the store allows.
pub fn least(group: &str, name: &str) -> Option<Exact> {
    limit(group, name)?.low.clone()
}

/// A range of shares for a sentence: `1.5–2.5 %`.
pub fn show_range(range: &Range) -> String {
    match (&range.low, &range.high) {
        (Some(low), Some(high)) => format!("{}–{} %", percent(low, 2), percent(high, 2)),
        (Some(low), None) => format!("{} % or more", percent(low, 2)),
        (None, Some(high)) => format!("up to {} %", percent(high, 2)),
        (None, None) => "anything".into(),
    }
}

/// A range of temperatures for a sentence: `93–98 °C`.
pub fn show_celsius(range: &Range) -> String {
    match (&range.low, &range.high) {
        (Some(low), Some(high)) => celsius_range(low, high, 0),
        (Some(low), None) => format!("{} or more", celsius(low, 0)),
        (None, Some(high)) => format!("up to {}", celsius(high, 0)),
        (None, None) => "any".into(),
    }
}

/// Whether it is self-raising flour, told by the sodium of its powder: plain flour has next to
/// none.
pub fn holds_powder(ingredient: &Ingredient) -> bool {
    let plain = bound("habit of flours", "sodium");
    let sodium = ingredient.composition.get(Nutrient::Sodium);
    ingredient.class == Class::Flour
        && sodium.zip(plain).is_some_and(|(sodium, plain)| !plain.holds(sodium))
}
