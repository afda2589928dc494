//! A house with one of its settings or machines as it was: whatever prints the same with it
//! did not change by it.

use super::comparison::SharedChange;
use crate::desk::Bakehouse;
use crate::syntax::tree::{Machine, MachineKind, Tree};
use std::borrow::Cow;

/// Whether a change is one that holds for all formulas, whether they name it or not.
pub fn is_for_all(kind: &str) -> bool {
    matches!(kind, "bakehouse" | "mixer" | "oven")
}

/// The trees of a bakehouse with one thing as it was; none where it can't be put back.
pub fn trees<'t>(
    change: &SharedChange,
    old: &'t Bakehouse,
    new: &'t Bakehouse,
) -> Option<Vec<Cow<'t, Tree>>> {
    // Only trees that declare something of the kind are written to.
    let holds = |tree: &Tree| !(tree.bakehouses.is_empty() && tree.machines.is_empty());
    let mut trees: Vec<Cow<Tree>> = new.files.iter().map(|it| Cow::Borrowed(&it.tree)).collect();
    let old_trees = || old.files.iter().map(|file| &file.tree);
    match change.kind.as_str() {
        "bakehouse" => {
            let was = old_trees().flat_map(|tree| &tree.bakehouses).next()?;
            let tree = trees.iter_mut().find(|tree| !tree.bakehouses.is_empty())?;
            let is = tree.to_mut().bakehouses.first_mut()?;
            let machines = std::mem::take(&mut is.machines);
            *is = crate::syntax::tree::Bakehouse { machines, ..was.clone() };
        }
        kind => {
            let kind = match kind {
                "mixer" => MachineKind::Mixer,
                _ => MachineKind::Oven,
            };
            let keys = [Some(&change.key), change.key_before.as_ref()];
            let is_it = |it: &Machine| {
                it.kind == kind && keys.iter().flatten().any(|key| **key == *it.name.key)
            };
            let inside = |tree: &'t Tree| tree.bakehouses.iter().flat_map(|it| &it.machines);
            let was = old_trees().flat_map(|tree| inside(tree).chain(&tree.machines));
            let was = was.into_iter().find(|it| is_it(it)).cloned();
            for tree in trees.iter_mut().filter(|tree| holds(tree)) {
                let tree = tree.to_mut();
                tree.machines.retain(|it| !is_it(it));
                tree.bakehouses.iter_mut().for_each(|it| it.machines.retain(|it| !is_it(it)));
            }
            trees.first_mut()?.to_mut().machines.extend(was);
        }
    }
    Some(trees)
}
