//! `stage-not-ready`: a stage is wanted before it can be ripe.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::time::{self, Doing, Graph, NoPlan};

pub const RULE: Rule = Rule {
    name: "stage-not-ready",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("stage_not_ready.md"),
};

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
    lines.iter().any(|line| line.goes == crate::formula::Goes::Stage(inner))
}

/// Where the first ripening of the conflict is written.
pub fn span_of(graph: &Graph, conflict: &NoPlan) -> Option<crate::source::Span> {
    let stretches = conflict.lengths.iter().map(|&stretch| &graph.stretches[stretch]);
    let mut ripening = stretches.filter(|stretch| matches!(stretch.doing, Doing::Ripen { .. }));
    ripening.next().map(|stretch| stretch.span)
}

/// The times that do not go together: `levain ripens: 8–10 h, levain keeps: 0 min`.
pub fn told(context: &Context, graph: &Graph, conflict: &NoPlan) -> String {
    let mut all: Vec<String> = Vec::new();
    for &stretch in &conflict.lengths {
        let stretch = &graph.stretches[stretch];
        let takes_no_time = stretch.high.as_ref().is_some_and(crate::quantity::Exact::is_zero);
        if stretch.doing == Doing::Order || takes_no_time {
            continue;
        }
        let told = time::findings::no_plan::length(stretch);
        let told = format!("{}: {told}", time::said(context.worked, &stretch.doing));
        if !all.contains(&told) {
            all.push(told);
        }
    }
    all.join(", ")
}
