//! `impossible-hydration`: more or less water than any dough can have.

use super::context::Context;
use super::limits;
use super::limits::show_range;
use super::slips;
use super::usual::{offer, water_meant};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::display::{percent, trimmed};
use crate::quantity::{Exact, Range, Unit, int};
use crate::syntax::tree::Amount;

/// `impossible-hydration`, an error about sums.
pub const RULE: Rule = Rule {
    name: "impossible-hydration",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("impossible_hydration.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    let Some(range) = context.limit("physics", "effective hydration") else { return };
    let flour = context.flour();
    if slips::is_weight_in_percent(context) {
        return;
    }
    // What seeds and grains soak up never reaches the dough.
    let all = context.share(&Figure::EffectiveHydration).unwrap_or_default();
    let Some(soaked) = context.soaked_water().over(flour) else { return };
    let share = &all - soaked;
    // Grain and seed in the dough itself drink as flour does.
    let drinks = flour + context.class(Class::Grain) + context.class(Class::Seed);
    let is_soup =
        share > Exact::ONE && (&all * flour).over(&drinks).is_some_and(|wet| !range.holds(&wet));
    let any = limits::bound("physics", "any water");
    let is_dry = share < Exact::ONE && any.is_some_and(|any| any.holds(&share));
    let of_style = context.own_bound("effective hydration");
    let is_styled = of_style.is_some_and(|own| own.holds(&all));
    if !range.holds(&share) && (is_soup || is_dry) && !is_styled {
        let shown = percent(&share, if share > int(2) { 0 } else { 2 });
        let how = if share > int(1) { "a soup" } else { "dry crumbs" };
        let in_per_cent = grams_for_per_cent(context, &range);
        let meant = water_meant(context).filter(|_| in_per_cent.is_none());
        let span = meant.as_ref().map_or(mix.span, |(span, ..)| *span);
        let message = format!("{shown} % water on the flour is {how}, not a dough");
        let said = Finding::new(&RULE, span, message)
            .note(format!("{} is possible", show_range(&range)))
            .help(match in_per_cent {
                Some((line, share)) => format!("is {share} meant in {line}?"),
                None => "look for a slip in the water, or in what is counted as flour".to_owned(),
            });
        findings.push(match meant {
            Some((_, name, meant)) => offer(said, &name, Some(meant)),
            None => said,
        });
    }
}

/// The one line of water, where its grams would be a usual share of the flour: `water 65 g`.
fn grams_for_per_cent(context: &Context, usual: &Range) -> Option<(String, String)> {
    let mut lines = context.main_mix()?.lines.iter().filter(|line| line.target.name.key == "water");
    let line = lines.next()?;
    let Amount::Measured { range, base: None } = &line.amount else { return None };
    let grams = range.low.as_ref().filter(|low| !range.ranged && low.unit == Unit::Gram)?;
    let share = grams.number.one_in::<100>();
    let number = trimmed(&grams.number, 2);
    (lines.next().is_none() && usual.holds(&share))
        .then(|| (format!("`{} {number} g`", line.target.name.shown), format!("`{number}%`")))
}
