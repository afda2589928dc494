//! The mixes of a formula as it is written, and the names in it.

use super::house::plain;
use crate::syntax::tree::{Formula, Method, Mix, Name, With};

/// The lines that say what is in the dough: of `total`, else of `dough`.
pub fn main_mix(formula: &Formula) -> Option<&Mix> {
    formula.total.as_ref().or(formula.dough.as_ref())
}

/// Every mix of a formula, pieces and side mixes included.
pub fn all_mixes(formula: &Formula) -> impl Iterator<Item = &Mix> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    let mixtures = formula.mixtures.iter().map(|mixture| &mixture.mix);
    let pieces = formula.pieces.iter().map(|piece| &piece.mix);
    blocks.chain(stages).chain(mixtures).chain(pieces)
}

/// The same, to be changed.
pub fn mixes_of(formula: &mut Formula) -> impl Iterator<Item = &mut Mix> {
    let blocks = formula.total.iter_mut().chain(&mut formula.dough);
    let stages = formula.stages.iter_mut().map(|stage| &mut stage.mix);
    let mixtures = formula.mixtures.iter_mut().map(|mixture| &mut mixture.mix);
    let pieces = formula.pieces.iter_mut().map(|piece| &mut piece.mix);
    blocks.chain(stages).chain(mixtures).chain(pieces)
}

/// Names that the steps of a formula use in `with` and `in`.
pub fn step_names(formula: &Formula) -> impl Iterator<Item = &Name> {
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    formula.method.iter().chain(stages).flat_map(step_names_of)
}

/// What the steps of a method bring, and where they bring it, by name.
pub fn step_names_of(method: &Method) -> impl Iterator<Item = &Name> {
    let phases = method.steps.iter().flat_map(|step| &step.phases);
    phases.flat_map(|phase| {
        let with = phase.with.iter().filter_map(|with| match with {
            With::Name(target)
            | With::Share(_, target)
            | With::Weight(_, target)
            | With::Remaining(target) => Some(&target.name),
            With::Flours(_) | With::EverythingElse(_) => None,
        });
        with.chain(&phase.place)
    })
}

/// A formula's title, or its name where it has none.
pub fn title(formula: &Formula) -> String {
    formula.title.as_ref().map_or_else(|| formula.name.shown.to_string(), plain)
}
