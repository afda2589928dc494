//! `no-leavening`: a dough that nothing raises.

use super::context::Context;
use super::limits;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::{Class, Nutrient};
use crate::formula::{Ingredient, LineRef};

/// `no-leavening`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "no-leavening",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("no_leavening.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    if context.flour().is_zero() || context.style_goes_without("leavening") {
        return;
    }
    let numbers = context.first();
    let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
    let mut lines = stages.chain(&numbers.dough_lines).chain(&numbers.total_lines);
    let raises = lines.any(|line| match line.goes {
        // Old dough is of the same make as the dough: it raises nothing that has nothing.
        LineRef::Culture(_) => true,
        LineRef::SideMix(side_mix) => context.worked.side_mixes[side_mix].is_formula,
        LineRef::Ingredient(id) => {
            let ingredient = context.house.ingredient(id);
            matches!(ingredient.class, Class::Yeast | Class::Leavener | Class::Culture)
                || (ingredient.class == Class::Flour && holds_powder(ingredient))
        }
        _ => false,
    });
    if !raises {
        findings.push(
            Finding::new(&RULE, mix.span, "nothing in this formula raises the dough").help(
                "add yeast, a culture or a leavener; if it is meant to be flat, say so: \
                    `allow no-leavening \"the reason\"`",
            ),
        );
    }
}

/// Self-raising flour, told by the sodium of its powder: plain flour has next to none.
fn holds_powder(flour: &Ingredient) -> bool {
    let plain = limits::bound("habit of flours", "sodium");
    let sodium = flour.composition.get(Nutrient::Sodium);
    sodium.zip(plain).is_some_and(|(sodium, plain)| !plain.holds(sodium))
}
