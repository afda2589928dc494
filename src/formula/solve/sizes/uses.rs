//! Who uses a stage, and whether weights settle its size.

use crate::formula::line_ref::LineRef;
use crate::formula::linear::LinearExpr;
use crate::formula::mixes::main_mix;
use crate::formula::mixing::Mixing;
use crate::formula::solve::solving::Solving;
use crate::quantity::Dimension;
use crate::syntax::tree::{Amount, Line};

/// Whether a line takes a stage. Its name tells most that do not, before it is looked up.
fn is_of(mixing: &Mixing, line: &Line, stage: usize) -> bool {
    line.target.name.key == mixing.stage(stage).name.key
        && mixing.goes(&line.target) == LineRef::Stage(stage)
}

/// Whether a stage is exactly as large as the one line that uses it asks for.
pub fn is_made_for_one_line(mixing: &Mixing, stage: usize) -> bool {
    let stages = mixing.formula.stages.iter().map(|stage| &stage.mix);
    let lines = main_mix(mixing.formula).into_iter().chain(stages).flat_map(|mix| &mix.lines);
    let uses = lines.filter(|line| is_of(mixing, line, stage)).count();
    uses == 1 && mixing.stage(stage).sizes.is_empty() && !is_fixed(mixing, stage)
}

/// The masses that other stages' lines ask of a stage.
pub(super) fn inner_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<LinearExpr> {
    let mut uses = Vec::new();
    for (user, forms) in solving.stages.iter().enumerate() {
        for (line, mass) in mixing.stage(user).mix.lines.iter().zip(&forms.masses) {
            let measured = !matches!(line.amount, Amount::All);
            if measured && is_of(mixing, line, stage) {
                uses.push(mass.clone());
            }
        }
    }
    uses
}

/// What each line of the final dough takes of a stage, `all` left out.
pub(super) fn main_uses(mixing: &Mixing, solving: &Solving, stage: usize) -> Vec<LinearExpr> {
    let Some(mix) = main_mix(mixing.formula) else { return Vec::new() };
    let lines = mix.lines.iter().zip(&solving.main.masses);
    lines
        .filter(|(line, _)| !matches!(line.amount, Amount::All) && is_of(mixing, line, stage))
        .map(|(_, mass)| mass.clone())
        .collect()
}

/// The lines that use all of a stage.
pub(super) fn whole_uses<'a>(mixing: &Mixing<'a, '_>, stage: usize) -> Vec<&'a Line> {
    let stages = mixing.formula.stages.iter().map(|stage| &stage.mix);
    let lines = main_mix(mixing.formula).into_iter().chain(stages).flat_map(|mix| &mix.lines);
    let whole =
        lines.filter(|line| matches!(line.amount, Amount::All) && is_of(mixing, line, stage));
    whole.collect()
}

/// Whether another stage takes all of it.
pub(super) fn used_whole_by_stage(mixing: &Mixing, stage: usize) -> bool {
    mixing
        .formula
        .stages
        .iter()
        .flat_map(|stage| &stage.mix.lines)
        .any(|line| matches!(line.amount, Amount::All) && is_of(mixing, line, stage))
}

/// Whether all lines of a stage are weights, so that it has its size.
pub fn is_fixed(mixing: &Mixing, stage: usize) -> bool {
    let lines = &mixing.stage(stage).mix.lines;
    let place = |stage: usize| mixing.order.iter().position(|&built| built == stage);
    // A stage that goes in whole has its size where it says one or is fixed itself; in a
    // circle nothing is.
    let takes_fixed = |line: &Line| match mixing.goes(&line.target) {
        LineRef::Stage(inner) => {
            let sized = !mixing.stage(inner).sizes.is_empty();
            place(inner) < place(stage) && (sized || is_fixed(mixing, inner))
        }
        _ => true,
    };
    let whole = |line: &&Line| matches!(line.amount, Amount::All);
    if !lines.iter().filter(whole).all(takes_fixed) {
        return false;
    }
    let is_weight = |amount: &Amount| match amount {
        Amount::Measured { range, .. } => {
            range.low.as_ref().or(range.high.as_ref()).is_some_and(|quantity| {
                let dimension = quantity.unit.dimension();
                matches!(dimension, Dimension::Mass | Dimension::Volume | Dimension::Count)
            })
        }
        Amount::Rest => false,
        _ => true,
    };
    // Lines in per cent of a flour that is weighed follow from it.
    let flour_weighed = || {
        let flours = lines.iter().filter(|line| match mixing.goes(&line.target) {
            LineRef::Ingredient(id) => mixing.is_flour(id),
            _ => false,
        });
        let mut any = false;
        let all = flours.inspect(|_| any = true).all(|line| is_weight(&line.amount));
        all && any
    };
    !lines.is_empty() && (lines.iter().all(|line| is_weight(&line.amount)) || flour_weighed())
}
