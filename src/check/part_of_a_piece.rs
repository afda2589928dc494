//! `part-of-a-piece`: a part of something that comes whole, such as 2.7 eggs.

use super::context::Context;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::LineRef;
use crate::quantity::display::{last_digit, to_step, trimmed};
use crate::quantity::{Unit, int};
use crate::syntax::tree::Amount;

/// `part-of-a-piece`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "part-of-a-piece",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("part_of_a_piece.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let Some(mix) = context.main_mix() else { return };
    let numbers = context.first();
    let lines = if formula.total.is_some() { &numbers.total_lines } else { &numbers.dough_lines };
    for worked in lines {
        let Some(line) = worked.line.and_then(|line| mix.lines.get(line)) else { continue };
        let LineRef::Ingredient(id) = worked.goes else { continue };
        let counted = matches!(&line.amount, Amount::Measured { range, .. }
            if range.low.as_ref().is_some_and(|low| low.unit == Unit::Count));
        let Some(each) = context.house.ingredient(id).each.as_ref().filter(|_| counted) else {
            continue;
        };
        let Some(count) = worked.mass.over(each) else { continue };
        // What is shown as a whole number is one for whoever breaks the eggs.
        if to_step(&count, &last_digit(1)) != to_step(&count, &int(1)) {
            let name = &line.target.name.shown;
            let mut said = Finding::new(
                &RULE,
                line.span,
                format!("this is {} `{name}`, which comes whole", trimmed(&count, 2)),
            )
            .help(format!("weigh it: {} of `{name}`", grams(&worked.mass)));
            if let Amount::Measured { range, .. } = &line.amount {
                said = said.repair(range.span, format!("{} g", trimmed(&worked.mass, 1)), false);
            }
            findings.push(said);
        }
    }
}
