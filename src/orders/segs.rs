//! Stretches of a graph on their way into a shape, and the steps they are of.

use crate::formula::Worked;
use crate::syntax::tree::Step;
use crate::time::day::Minute;
use crate::time::{Doing, Hands};

/// A stretch as a shape has it.
#[derive(Clone, Debug)]
pub struct Seg {
    /// The point it begins at.
    pub from: usize,
    /// The point it ends at.
    pub to: usize,
    /// The least that it takes, in minutes.
    pub least: i64,
    /// None where it is open-ended.
    pub most: Option<i64>,
    /// What fills it.
    pub doing: Doing,
    /// Who has to be there.
    pub hands: Hands,
    /// Which load of the oven it is of, where there are several.
    pub load: Option<usize>,
}

/// The step that something is of.
pub fn step_of<'w>(worked: &'w Worked, doing: &Doing) -> Option<&'w Step> {
    let (stage, step) = match *doing {
        Doing::Step { stage, step, .. }
        | Doing::Moment { stage, step }
        | Doing::Fold { stage, step, .. }
        | Doing::Folding { stage, step, .. } => (stage, step),
        _ => return None,
    };
    let method = match stage {
        None => worked.formula.method.as_ref(),
        Some(stage) => worked.formula.stages.get(stage)?.method.as_ref(),
    };
    method?.steps.get(step)
}

/// Minutes of a day, and of weeks around it.
pub fn i32(minutes: i64) -> Minute {
    Minute::try_from(minutes).unwrap_or(Minute::MAX / 4)
}
