//! What the numbers of a formula look mistaken for. Several rules ask, so that one slip is
//! told once.

use super::context::Context;
use super::limits;
use crate::formula::class::Class;
use crate::formula::{Figure, SizedBy};
use crate::quantity::{Exact, Unit, int};
use crate::syntax::tree::{Amount, Line, Quantity};

/// Whether each of the two would be usual in the place of the other, and neither is now.
pub fn looks_swapped(context: &Context) -> bool {
    if context.flour().is_zero() {
        return false;
    }
    let salt = context.of_flour(&context.class(Class::Salt));
    let yeast = context.of_flour(&context.class(Class::Yeast));
    let bound = |name| limits::bound("habit of swaps", name);
    // Of fresh yeast 2 % is usual too: there the salt has to be odd for its dough.
    let is_fresh = context.is_fresh_yeast();
    let is_odd = !is_fresh || context.habit("salt").is_some_and(|usual| !usual.holds(&salt));
    let name = if is_fresh { "salt beside fresh yeast" } else { "salt" };
    let (Some(little), Some(much)) = (bound(name).and_then(|it| it.high), bound("yeast")) else {
        return false;
    };
    let more = limits::number("habit of swaps", "yeast over salt").unwrap_or(Exact::ONE);
    is_odd && salt > Exact::ZERO && salt < little && much.holds(&yeast) && yeast > salt * more
}

/// Little fresh yeast in little time, of which as much instant yeast would be usual.
pub fn looks_instant(context: &Context) -> bool {
    if context.flour().is_zero() || !context.is_fresh_yeast() || !context.only_yeast() {
        return false;
    }
    let share = context.of_flour(&context.class(Class::Yeast));
    let usual = context.limit("habit of rising", "usual yeast").and_then(|range| range.low);
    let bound = |name| limits::bound("habit of rising", name);
    let times = limits::number("habit of rising", "instant as fresh").unwrap_or(Exact::ONE);
    let would_do = usual.is_some_and(|usual| &share * times >= usual);
    let most = bound("little fresh yeast").and_then(|little| little.high);
    let is_little = share > Exact::ZERO && most.is_some_and(|most| share < most);
    let short = bound("short wait");
    let wait = context.longest_wait();
    is_little && would_do && wait.zip(short).is_some_and(|(wait, short)| short.holds(&wait))
}

/// Dry yeast above the bound that would lie within it as fresh yeast.
pub fn looks_fresh(context: &Context) -> bool {
    let Some(high) = context.habit("yeast as fresh").and_then(|range| range.high) else {
        return false;
    };
    let Some(yeast) = context.class(Class::Yeast).over(context.flour()) else { return false };
    if context.is_fresh_yeast() {
        return false;
    }
    let as_fresh = context.share(&Figure::YeastAsFresh).unwrap_or_default();
    as_fresh > high && yeast <= high
}

/// Whether a line of the dough has so high a percentage that a weight may be meant.
pub fn is_weight_in_percent(context: &Context) -> bool {
    context.main_mix().is_some_and(|mix| mix.lines.iter().any(|line| huge(line).is_some()))
}

/// A percentage of the flour that hardly anything can have.
pub fn huge(line: &Line) -> Option<&Quantity> {
    let Amount::Measured { range, base: None } = &line.amount else { return None };
    let quantity = range.low.as_ref()?;
    let most = limits::most("habit of units", "percentage")?;
    (quantity.unit == Unit::Percent && quantity.number >= most * int(100)).then_some(quantity)
}

/// Whether the weights that are written come to a dough of a few grams.
pub fn is_tiny(context: &Context) -> bool {
    let whole = context.first().whole.mass();
    let usual = limits::bound("habit of units", "dough");
    context.first().anchor == SizedBy::Weights
        && !whole.is_zero()
        && usual.is_some_and(|usual| !usual.holds(&whole))
}
