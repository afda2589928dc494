//! `percent-or-grams`: a percentage that looks like a weight, or the other way round.

use super::context::Context;
use super::slips;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::trimmed;

/// `percent-or-grams`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "percent-or-grams",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("percent_or_grams.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(mix) = context.main_mix() else { return };
    for line in &mix.lines {
        if let Some(quantity) = slips::huge(line) {
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
    if slips::is_tiny(context) {
        let whole = context.first().whole.mass();
        findings.push(
            Finding::new(&RULE, mix.span, format!("the whole dough weighs {}", grams(&whole)))
                .help("were percentages meant, or kilograms?"),
        );
    }
}
