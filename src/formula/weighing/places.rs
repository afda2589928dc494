//! Where prints show which weight.

use super::shown::{ShownWeight, Weighing};
use super::total::TotalRow;
use crate::formula::worked::{Within, Worked, WorkedLine};
use crate::quantity::Exact;

/// A place where prints show a weight.
#[derive(Clone, Copy, Debug)]
pub enum ShownAt {
    /// A line of the final dough for one batch, by its place in the dough.
    Batch(usize),
    /// The sum of one batch of the final dough.
    BatchSum,
    /// A line of a stage, by the places of both.
    Stage(usize, usize),
    /// The sum of a stage, by its place.
    StageSum(usize),
    /// A line of the final dough, by its place.
    Dough(usize),
    /// The sum of the final dough.
    DoughSum,
    /// A line of the whole formula, by its place.
    Total(usize),
    /// What a step takes of a line of one batch, by the places of both.
    Part(usize, usize),
}

impl ShownAt {
    /// What is shown there.
    pub fn shown(self, of: &Weighing) -> Option<&ShownWeight> {
        match self {
            Self::Batch(line) => of.batch.lines.get(line),
            Self::BatchSum => Some(&of.batch.sum),
            Self::Stage(stage, line) => of.stages.get(stage)?.lines.get(line),
            Self::StageSum(stage) => Some(&of.stages.get(stage)?.sum),
            Self::Dough(line) => of.dough.lines.get(line),
            Self::DoughSum => Some(&of.dough.sum),
            Self::Total(row) => of.total.lines.get(row),
            Self::Part(line, number) => of.parts.get(line)?.get(number).map(|(_, part)| part),
        }
    }
}

/// The exact weights of lines and sums with where prints show them; what is weighed goes
/// first, so that of two that are equal it is the one to quote.
pub fn places(worked: &Worked, batches: u32, rows: &[TotalRow]) -> Vec<(Exact, ShownAt)> {
    let numbers = worked.first();
    let batches = Exact::from(batches.max(1));
    let mut places = Vec::new();
    for (place, line) in numbers.dough_lines.iter().enumerate() {
        places.push((line.mass.each_of(&batches), ShownAt::Batch(place)));
    }
    for (stage, own) in numbers.stages.iter().enumerate() {
        for (place, line) in own.lines.iter().enumerate() {
            places.push((line.mass.clone(), ShownAt::Stage(stage, place)));
        }
        places.push((own.made.clone(), ShownAt::StageSum(stage)));
    }
    for (place, (line, shares)) in numbers.dough_lines.iter().zip(shares(worked)).enumerate() {
        let batch = line.mass.each_of(&batches);
        for (number, (_, share)) in shares.iter().flatten().enumerate() {
            places.push((&batch * share, ShownAt::Part(place, number)));
        }
    }
    for (place, line) in numbers.dough_lines.iter().enumerate() {
        places.push((line.mass.clone(), ShownAt::Dough(place)));
    }
    for (place, row) in rows.iter().enumerate() {
        places.push((row.line.mass.clone(), ShownAt::Total(place)));
    }
    places.push((numbers.whole.mass(), ShownAt::DoughSum));
    places.push((numbers.whole.mass().each_of(&batches), ShownAt::BatchSum));
    places
}

/// For each line of the dough, the steps that take a part of it, and the share of each;
/// none where one step takes all.
pub(super) fn shares(worked: &Worked) -> Vec<Option<Vec<(usize, Exact)>>> {
    let lines = &worked.first().dough_lines;
    let mut shares: Vec<Vec<(usize, Exact)>> = vec![Vec::new(); lines.len()];
    if let Some(method) = &worked.formula.method {
        let additions = worked.additions(method, Within::FinalDough);
        for (step, added) in additions.steps.iter().enumerate() {
            for added in added.iter().filter(|added| !added.beside && added.part) {
                let is_it =
                    |line: &WorkedLine| line.key == added.line.key && line.role == added.line.role;
                if let Some(place) = lines.iter().position(is_it) {
                    shares[place].push((step, added.share.clone()));
                }
            }
        }
    }
    let whole = |shares: &Vec<(usize, Exact)>| {
        let sum = shares.iter().fold(Exact::ZERO, |sum, (_, share)| sum + share);
        shares.len() > 1 && sum.is_one()
    };
    shares.into_iter().map(|shares| whole(&shares).then_some(shares)).collect()
}
