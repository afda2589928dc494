//! `yeast-kind-doubtful`: fresh yeast written as instant, or the other way round.

use super::context::Context;
use super::slips;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::display::percent;

/// `yeast-kind-doubtful`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "yeast-kind-doubtful",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("yeast_kind_doubtful.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if slips::looks_swapped(context) {
        return;
    }
    let (Some(mix), false) = (context.main_mix(), context.flour().is_zero()) else { return };
    let span = context.class_span(Class::Yeast).unwrap_or(mix.span);
    let share = context.of_flour(&context.class(Class::Yeast));
    if slips::looks_fresh(context) {
        let said = Finding::new(
            &RULE,
            span,
            format!("{} % of dry yeast is a lot, but usual for fresh yeast", percent(&share, 2)),
        )
        .note("one part of instant yeast is worth about three of fresh (Hamelman, Bread, 2004)")
        .help("is `fresh yeast` meant?");
        findings.push(meant(context, said, "fresh yeast"));
        return;
    }
    if slips::looks_instant(context) {
        let said = Finding::new(
            &RULE,
            span,
            format!(
                "{} % of fresh yeast is little for a dough that never waits longer than 4 h",
                percent(&share, 2)
            ),
        )
        .note("one part of instant yeast is worth about three of fresh (Hamelman, Bread, 2004)")
        .help("is `instant yeast` meant? Otherwise give it more yeast or more time");
        findings.push(meant(context, said, "instant yeast"));
    }
}

/// Offers the other yeast by its name.
fn meant(context: &Context, said: Finding, name: &str) -> Finding {
    match context.class_line(Class::Yeast) {
        Some(line) => said.repair(line.target.name.span, name, false),
        None => said,
    }
}
