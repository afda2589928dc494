//! `yeast-high`: more yeast than is usual.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::formula::class::Class;
use crate::quantity::display::percent;

pub const RULE: Rule = Rule {
    name: "yeast-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("yeast_high.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    if super::salt_yeast_swapped::looks_swapped(context) {
        return;
    }
    let (Some(range), Some(mix)) = (context.habit("yeast as fresh"), context.main_mix()) else {
        return;
    };
    let Some(yeast) = context.share(&Figure::YeastAsFresh) else { return };
    let too_much = range.high.as_ref().is_some_and(|high| yeast > *high);
    if too_much && !super::yeast_kind_doubtful::looks_fresh(context) {
        findings.push(
            Finding::new(
                &RULE,
                context.class_span(Class::Yeast).unwrap_or(mix.span),
                format!(
                    "the yeast stands for {} % of fresh yeast, and usual is {}",
                    percent(&yeast, 2),
                    super::show_range(&range)
                ),
            )
            .note(
                "one part of instant yeast stands for about three of fresh (Hamelman, Bread, 2004)",
            )
            .help("use less; with more time a dough needs less yeast"),
        );
    }
}
