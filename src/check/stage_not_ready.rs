//! `stage-not-ready`: a stage is wanted before it can be ripe.

use super::clash::{span_of, told};
use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::time::{self};

/// `stage-not-ready`, an error about the method.
pub const RULE: Rule = Rule {
    name: "stage-not-ready",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("stage_not_ready.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some((graph, conflict)) = context.clash() else { return };
    let stages = time::stages_in(graph, conflict);
    let [first, .., last] = stages.as_slice() else { return };
    let formula = &context.worked.formula;
    // The one that takes the other is the one that has to wait for it.
    let (early, late) = match takes(context, *last, *first) {
        true => (*first, *last),
        false if takes(context, *first, *last) => (*last, *first),
        false => (*first, *last),
    };
    let (early, late) = (&formula.stages[early].name, &formula.stages[late].name);
    let span = span_of(graph, conflict).unwrap_or(late.span);
    findings.push(
        Finding::new(
            &RULE,
            late.span,
            format!("`{}` can't be ripe when `{}` has to be used", late.shown, early.shown),
        )
        .label(span, "no times fit this")
        .note(told(context, graph, conflict))
        .help("let the earlier one keep longer (`keeps …`), or use it in one place only"),
    );
}

/// Whether a stage takes another one.
fn takes(context: &Context, stage: usize, inner: usize) -> bool {
    let lines = &context.worked.first().stages[stage].lines;
    lines.iter().any(|line| line.goes == crate::formula::LineRef::Stage(inner))
}
