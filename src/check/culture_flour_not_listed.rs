//! `culture-flour-not-listed`: flour that only a culture brings.

use super::context::Context;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Substance;
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
        findings.push(
            Finding::new(
                &RULE,
                mix.span,
                format!(
                    "the culture brings {} of `{name}`, which the total does not list",
                    grams(mass)
                ),
            )
            .note(format!("that is {} % of the flour", percent(&share, 2)))
            .help(format!(
                "list `{name} {}%` and take it off another flour, or write `kept back` after \
                the culture",
                percent(&share, 2)
            )),
        );
    }
}
