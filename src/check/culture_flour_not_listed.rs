//! `culture-flour-not-listed`: flour that only a culture brings.

use super::context::Context;
use super::limits;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Allergens, Substance};
use crate::quantity::display::percent;

/// `culture-flour-not-listed`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "culture-flour-not-listed",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("culture_flour_not_listed.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = &context.worked.formula.total else { return };
    // Of a dough without flour that is said, and a share of it can't be.
    if context.flour().is_zero() {
        return;
    }
    for (substance, mass) in context.first().unlisted.iter() {
        let Substance::Ingredient(id) = substance else { continue };
        let name = &context.house.ingredient(id).name.shown;
        let share = context.of_flour(mass);
        // Nobody buys a flour for what a spoon of starter brings.
        let is_little =
            limits::most("habit of cultures", "little").is_some_and(|most| share <= most);
        // A cereal that stands on no line at all is always told.
        let listed = context.first().whole.iter().filter_map(|(substance, _)| match substance {
            Substance::Ingredient(other) if context.ingredient_line(other).is_some() => {
                Some(context.house.ingredient(other).declared.named)
            }
            _ => None,
        });
        let listed = listed.fold(Allergens::NONE, Allergens::with);
        let is_new = !context.house.ingredient(id).declared.named.without(listed).is_empty();
        let level = if is_little && !is_new { Level::Note } else { Level::Warning };
        findings.push(
            Finding::new(
                &RULE,
                mix.span,
                format!(
                    "the culture brings {} of `{name}`, which the total does not list",
                    grams(mass)
                ),
            )
            .level(level)
            .note(format!("that is {} % of the flour", percent(&share, 2)))
            .help(format!(
                "list `{name} {}%` and take it off another flour, or write `kept back` after \
                the culture",
                percent(&share, 2)
            )),
        );
    }
}
