//! Times without a clock.

use super::graph::{Doing, Graph, Stretch};
use crate::quantity::Exact;

/// Times without a clock: every length as it would best be, counted back from the end in
/// minutes; what ends at 0.
pub fn usual(graph: &Graph) -> Vec<Exact> {
    let length = |stretch: &Stretch| stretch.best().unwrap_or_else(|| stretch.low.clone());
    let mut times: Vec<Option<Exact>> = vec![None; graph.points];
    times[graph.end] = Some(Exact::ZERO);
    let counts = |stretch: &&Stretch| {
        !matches!(
            stretch.doing,
            Doing::Order | Doing::Fold { .. } | Doing::Folding { .. } | Doing::Moment { .. }
        )
    };
    for _ in 0..graph.points {
        let mut changed = false;
        for stretch in graph.stretches.iter().filter(counts).rev() {
            let Some(to) = &times[stretch.to] else { continue };
            let from = to - length(stretch);
            if times[stretch.from].as_ref().is_none_or(|known| from < *known) {
                times[stretch.from] = Some(from);
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    // Folds and moments are counted forward from the phase they stand in.
    for _ in 0..graph.points {
        for stretch in &graph.stretches {
            if let (Some(from), None) = (&times[stretch.from], &times[stretch.to]) {
                times[stretch.to] = Some(from + length(stretch));
            }
        }
    }
    let mut times: Vec<Exact> = times.into_iter().map(Option::unwrap_or_default).collect();
    for folds in graph.folds.iter().filter(|folds| folds.evenly) {
        let Some(phase) = graph.stretches.get(folds.phase) else { continue };
        let after = folds.parting(&(&times[phase.to] - &times[phase.from]));
        for (&way, after) in folds.ways.iter().zip(after) {
            times[graph.stretches[way].to] = &times[phase.from] + after;
        }
    }
    times
}
