//! Whether the stages of a formula can all be ripe when they are used, whatever the clock.

use super::clock::{MINUTE, Zone};
use super::graph::{Doing, Graph};
use super::plan::plan;
use super::planned::{Anchor, NoPlan, PlanRequest};

/// What can't hold together in a formula by itself; nothing where all of it can.
///
/// Where every stage is used in one place only, it can always be built early enough; so
/// only formulas that use one twice are looked at.
pub fn clash(graph: &Graph) -> Option<NoPlan> {
    let mut used: Vec<usize> = graph
        .stretches
        .iter()
        .filter_map(|stretch| match stretch.doing {
            Doing::Keep { stage, leg: 0 } => Some(stage),
            _ => None,
        })
        .collect();
    let uses = used.len();
    used.sort_unstable();
    used.dedup();
    if used.len() == uses {
        return None;
    }
    let zone = Zone::named("UTC")?;
    // Any day will do: nothing here depends on the clock.
    let anchor = Anchor::Ready(30_000 * 24 * 60 * MINUTE);
    let asked =
        PlanRequest { anchor, not_before: None, pins: &[], hours: None, zone: &zone, grid: None };
    plan(graph, &asked).err()
}

/// The stages whose ripening or keeping is part of a conflict, each once.
pub fn stages_in(graph: &Graph, conflict: &NoPlan) -> Vec<usize> {
    let mut stages = Vec::new();
    for &stretch in &conflict.lengths {
        if let Doing::Ripen { stage, .. } | Doing::Keep { stage, .. } =
            graph.stretches[stretch].doing
            && !stages.contains(&stage)
        {
            stages.push(stage);
        }
    }
    stages
}
