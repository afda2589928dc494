//! Words for times of a formula that can't hold together.

use super::context::Context;
use crate::source::Span;
use crate::time::{self, Doing, Graph, NoPlan};

/// Where the first ripening of the conflict is written.
pub fn span_of(graph: &Graph, conflict: &NoPlan) -> Option<Span> {
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
        let told = format!("{}: {told}", time::work_name(context.worked, &stretch.doing));
        if !all.contains(&told) {
            all.push(told);
        }
    }
    all.join(", ")
}
