//! `percent-or-grams`: a percentage that looks like a weight, or the other way round.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Anchor;
use crate::quantity::display::{grams, trimmed};
use crate::quantity::{Unit, int};
use crate::syntax::tree::{Amount, Line, Quantity};

pub const RULE: Rule = Rule {
    name: "percent-or-grams",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("percent_or_grams.md"),
};

/// Whether a line of the dough has so high a percentage that a weight may be meant.
pub fn is_doubtful(context: &Context) -> bool {
    context.main_mix().is_some_and(|mix| mix.lines.iter().any(|line| huge(line).is_some()))
}

/// A percentage of the flour that hardly anything can have.
fn huge(line: &Line) -> Option<&Quantity> {
    let Amount::Measured { range, base: None } = &line.amount else { return None };
    let quantity = range.low.as_ref()?;
    (quantity.unit == Unit::Percent && quantity.number >= int(300)).then_some(quantity)
}

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    for line in &mix.lines {
        if let Some(quantity) = huge(line) {
            let name = &line.target.name.shown;
            findings.push(
                Finding::new(
                    &RULE,
                    quantity.span,
                    format!("`{name}` is {} % of the flour", trimmed(&quantity.number, 2)),
                )
                .level(Level::Error)
                .help(format!("was a weight meant: `{name} {} g`?", trimmed(&quantity.number, 4)))
                .repair(
                    quantity.span,
                    format!("{} g", trimmed(&quantity.number, 4)),
                    false,
                ),
            );
        }
    }
    if is_tiny(context) {
        let whole = context.first().whole.mass();
        findings.push(
            Finding::new(&RULE, mix.span, format!("the whole dough weighs {}", grams(&whole)))
                .help("were percentages meant, or kilograms?"),
        );
    }
}

/// Whether the weights that are written come to a dough of a few grams.
pub fn is_tiny(context: &Context) -> bool {
    let whole = context.first().whole.mass();
    context.first().anchor == Anchor::Weights && whole < int(20) && !whole.is_zero()
}
