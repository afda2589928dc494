//! `yeast-high`: more yeast than is usual.

use super::context::Context;
use super::limits::show_range;
use super::slips;
use super::usual::{likely, offer};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::Range;
use crate::quantity::display::percent;

/// `yeast-high`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "yeast-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("yeast_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if slips::looks_swapped(context) {
        return;
    }
    let habit = context.habit("yeast as fresh");
    let (Some(physics), Some(mix)) =
        (context.limit("physics", "yeast as fresh"), context.main_mix())
    else {
        return;
    };
    let Some(yeast) = context.share(&Figure::YeastAsFresh) else { return };
    let is_error = !physics.holds(&yeast);
    // What a style may say otherwise is habit, not physics.
    let is_unusual = habit.as_ref().is_some_and(|range| !range.holds(&yeast));
    let range = habit.or_else(|| context.limit("habit", "yeast as fresh")).unwrap_or(physics);
    if (is_error || is_unusual) && !slips::looks_fresh(context) {
        let said = Finding::new(
            &RULE,
            context.class_span(Class::Yeast).unwrap_or(mix.span),
            format!(
                "the yeast is worth {} % of fresh yeast; {} is usual",
                percent(&yeast, 2),
                show_range(&range)
            ),
        )
        .note("one part of instant yeast is worth about three of fresh (Hamelman, Bread, 2004)")
        .help("use less; with more time a dough needs less yeast")
        .level(if is_error { Level::Error } else { Level::Warning });
        findings.push(meant(context, said, &range));
    }
}

/// Offers the amount that was most likely meant.
fn meant(context: &Context, said: Finding, usual: &Range) -> Finding {
    let Some(line) = context.class_line(Class::Yeast) else { return said };
    let name = &line.target.name;
    let Some(ingredient) = context.house.ingredient_named(&name.key) else { return said };
    let share = context.of_flour(&context.class(Class::Yeast));
    let fresh = ingredient.as_fresh_yeast();
    let least = context.limit("habit of rising", "usual yeast").and_then(|range| range.low);
    let usual = Range {
        low: least.and_then(|low| low.over(&fresh)),
        high: usual.high.as_ref().and_then(|high| high.over(&fresh)),
    };
    offer(said, &name.shown, likely(context, line, ingredient, &share, &usual))
}
