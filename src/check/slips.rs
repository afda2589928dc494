//! What the numbers of a formula look mistaken for. Several rules ask, so that one slip is
//! told once.

use super::context::Context;
use crate::formula::class::Class;
use crate::formula::{Anchor, Figure};
use crate::quantity::{Exact, Unit, int, ratio};
use crate::syntax::tree::{Amount, Line, Quantity};

/// Whether each of the two would be usual in the place of the other, and neither is now.
pub fn looks_swapped(context: &Context) -> bool {
    if context.flour().is_zero() || context.is_fresh_yeast() {
        return false;
    }
    let salt = context.class(Class::Salt) / context.flour();
    let yeast = context.class(Class::Yeast) / context.flour();
    salt > Exact::ZERO
        && salt < ratio(12, 1000)
        && yeast >= ratio(15, 1000)
        && yeast <= ratio(25, 1000)
        && yeast > &salt * int(3) / int(2)
}

/// Little fresh yeast in little time, of which as much instant yeast would be usual.
pub fn looks_instant(context: &Context) -> bool {
    if context.flour().is_zero() || !context.is_fresh_yeast() || !context.only_yeast() {
        return false;
    }
    let share = context.class(Class::Yeast) / context.flour();
    let usual = context.limit("habit of rising", "usual yeast").and_then(|range| range.low);
    let would_do = usual.is_some_and(|usual| &share * Exact::from(INSTANT_AS_FRESH) >= usual);
    let little = share > Exact::ZERO && share < ratio(25, 10_000);
    little && would_do && context.longest_wait().is_some_and(|wait| wait <= int(240))
}

/// One part of instant yeast stands for about three of fresh (Hamelman, *Bread*, 2004).
const INSTANT_AS_FRESH: u8 = 3;

/// Dry yeast above the bound that would lie within it as fresh yeast.
pub fn looks_fresh(context: &Context) -> bool {
    let Some(high) = context.habit("yeast as fresh").and_then(|range| range.high) else {
        return false;
    };
    let flour = context.flour();
    if flour.is_zero() || context.is_fresh_yeast() {
        return false;
    }
    let as_fresh = context.share(&Figure::YeastAsFresh).unwrap_or_default();
    as_fresh > high && context.class(Class::Yeast) / flour <= high
}

/// Whether a line of the dough has so high a percentage that a weight may be meant.
pub fn is_weight_in_percent(context: &Context) -> bool {
    context.main_mix().is_some_and(|mix| mix.lines.iter().any(|line| huge(line).is_some()))
}

/// A percentage of the flour that hardly anything can have.
pub fn huge(line: &Line) -> Option<&Quantity> {
    let Amount::Measured { range, base: None } = &line.amount else { return None };
    let quantity = range.low.as_ref()?;
    (quantity.unit == Unit::Percent && quantity.number >= int(300)).then_some(quantity)
}

/// Whether the weights that are written come to a dough of a few grams.
pub fn is_tiny(context: &Context) -> bool {
    let whole = context.first().whole.mass();
    context.first().anchor == Anchor::Weights && whole < int(20) && !whole.is_zero()
}
