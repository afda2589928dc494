//! `impossible-hydration`: more or less water than any dough can have.

use super::context::Context;
use super::limits;
use super::limits::show_range;
use super::slips;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::display::percent;
use crate::quantity::{Exact, int};

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
        findings.push(
            Finding::new(
                &RULE,
                mix.span,
                format!("{shown} % water on the flour is {how}, not a dough"),
            )
            .note(format!("{} is possible", show_range(&range)))
            .help("look for a slip in the water, or in what is counted as flour"),
        );
    }
}
