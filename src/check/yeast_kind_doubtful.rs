//! `yeast-kind-doubtful`: fresh yeast written as instant, or the other way round.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::display::percent;
use crate::quantity::{Exact, int, ratio};

pub const RULE: Rule = Rule {
    name: "yeast-kind-doubtful",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("yeast_kind_doubtful.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if super::salt_yeast_swapped::looks_swapped(context) {
        return;
    }
    let (Some(mix), false) = (context.main_mix(), context.flour().is_zero()) else { return };
    let span = context.class_span(Class::Yeast).unwrap_or(mix.span);
    let share = context.class(Class::Yeast) / context.flour();
    if looks_fresh(context) {
        let said = Finding::new(
            &RULE,
            span,
            format!("{} % of dry yeast is much, but usual for fresh yeast", percent(&share, 2)),
        )
        .note("one part of instant yeast stands for about three of fresh (Hamelman, Bread, 2004)")
        .help("is `fresh yeast` meant?");
        findings.push(meant(context, said, "fresh yeast"));
        return;
    }
    if looks_instant(context) {
        let said = Finding::new(
            &RULE,
            span,
            format!(
                "{} % of fresh yeast is little for a dough that never waits longer than 4 h",
                percent(&share, 2)
            ),
        )
        .note("one part of instant yeast stands for about three of fresh (Hamelman, Bread, 2004)")
        .help("is `instant yeast` meant? Else give it more yeast or more time");
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

/// Little fresh yeast in little time, of which as much instant yeast would be usual.
pub fn looks_instant(context: &Context) -> bool {
    if context.flour().is_zero() || !context.is_fresh_yeast() || !context.only_yeast() {
        return false;
    }
    let share = context.class(Class::Yeast) / context.flour();
    let usual = context.limit("habit of rising", "usual yeast").and_then(|range| range.low);
    let would_do = usual.is_some_and(|usual| &share * Exact::from(INSTANT_AS_FRESH) >= usual);
    let little = share > Exact::ZERO && share < ratio(25, 10_000);
    little && would_do && context.longest_wait().is_some_and(|wait| wait <= int(240))
}

/// One part of instant yeast stands for about three of fresh (Hamelman, *Bread*, 2004).
const INSTANT_AS_FRESH: u8 = 3;

/// Dry yeast above the bound that would lie within it as fresh yeast.
pub fn looks_fresh(context: &Context) -> bool {
    let Some(high) = context.habit("yeast as fresh").and_then(|range| range.high) else {
        return false;
    };
    let flour = context.flour();
    if flour.is_zero() || context.is_fresh_yeast() {
        return false;
    }
    let as_fresh = context.share(&Figure::YeastAsFresh).unwrap_or_default();
    as_fresh > high && context.class(Class::Yeast) / flour <= high
}
