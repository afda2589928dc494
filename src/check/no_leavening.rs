//! `no-leavening`: a dough that nothing raises.

use super::context::Context;
use super::limits;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{LineRef, WorkedLine};

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
    // Old dough is of the same make as the dough: it raises nothing that has nothing.
    let raises = lines.any(|line| raises(context, line));
    if raises {
        nothing_ferments(context, findings);
    } else {
        findings.push(
            Finding::new(&RULE, mix.span, "nothing in this formula raises the dough").help(
                "add yeast, a culture or a leavener; if it is meant to be flat, say so: \
                    `allow no-leavening \"the reason\"`",
            ),
        );
    }
}

fn raises(context: &Context, line: &WorkedLine) -> bool {
    match line.goes {
        LineRef::Culture(_) => true,
        LineRef::SideMix(side_mix) => {
            context.worked.side_mixes.get(side_mix).is_some_and(|mix| mix.is_formula)
        }
        LineRef::Ingredient(id) => {
            let ingredient = context.house.ingredient(id);
            matches!(ingredient.class, Class::Yeast | Class::Leavener | Class::Culture)
                || limits::holds_powder(ingredient)
        }
        _ => false,
    }
}

/// A preferment or a build in which nothing is that makes it ferment: no yeast, no culture,
/// no other stage and no old dough.
fn nothing_ferments(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    for (stage, numbers) in formula.stages.iter().zip(&context.first().stages) {
        let feeds = |line: &WorkedLine| {
            raises(context, line)
                || matches!(line.goes, LineRef::Stage(_) | LineRef::OldDough | LineRef::SideMix(_))
        };
        let is_alive = numbers.lines.iter().any(feeds) || stage.feeds.is_some();
        let holds_flour = !context.worked.flour(&numbers.goes_on).is_zero();
        if stage.kind.ferments() && holds_flour && !is_alive {
            let message = format!("nothing in `{}` makes it ferment", stage.name.shown);
            findings.push(Finding::new(&RULE, stage.name.span, message).help(
                "add yeast, a culture or a ripe stage to it; what only soaks is a `soaker`; if it \
                 is left to what lives in the flour, say so: `allow no-leavening \"the reason\"`",
            ));
        }
    }
}
