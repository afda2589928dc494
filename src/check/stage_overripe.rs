//! `stage-overripe`: a stage is used when it is past its time.

use super::clash::{span_of, told};
use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::time;

/// `stage-overripe`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "stage-overripe",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("stage_overripe.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some((graph, conflict)) = context.clash() else { return };
    let [stage] = time::stages_in(graph, conflict)[..] else { return };
    let name = &context.worked.formula.stages[stage].name;
    findings.push(
        Finding::new(
            &RULE,
            span_of(graph, conflict).unwrap_or(name.span),
            format!("`{}` is overripe when the last of it is used", name.shown),
        )
        .note(told(context, graph, conflict))
        .help("say how long it keeps (`keeps 3h`), or let all of it go in at about one time"),
    );
}
