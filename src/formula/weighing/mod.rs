//! What the scale shows of every weight of a formula, so that rows, columns and heads
//! agree.
//!
//! *Weighed* amounts are multiples of the scale's step: each line of a stage, of a feed
//! and of one batch of the dough, each part that a step takes, what is kept or saved,
//! every part of a stage but the last. *Sums* are not weighed: lines of the total, the sum
//! of a column, several batches, a stage that goes in whole or its last part. They are
//! exactly what the shown amounts add up to.

mod bench;
mod places;
mod rows;
mod settle;
mod shown;
mod total;

pub use places::places;
pub use shown::{Leaving, ShownWeight, Weighing, WeightColumn};
pub use total::{TotalRow, total_rows};

use super::worked::Worked;
use crate::quantity::Exact;
use crate::quantity::display::{Scale, to_step};
use crate::quantity::rounding::{Near, Sum, Weighed, controlled};
use bench::Bench;
use shown::weighed;

/// Rounds a column that stands for itself, so that it adds up to what `target` shows.
pub fn column(scale: &Scale, grams: &[Exact], target: &Exact) -> WeightColumn {
    let weighed: Vec<Weighed> = grams.iter().map(|grams| weighed(scale, grams)).collect();
    let mut whole = Sum::default();
    (0..weighed.len()).for_each(|line| whole.add(&Sum::one(line), 1));
    let values = controlled(&weighed, &whole, target, Near::default());
    let lines = values.into_iter().zip(&weighed);
    WeightColumn::of(
        lines.map(|(grams, own)| ShownWeight { grams, step: own.step.clone() }).collect(),
    )
}

/// Rounds all weights of a formula, made in so many batches, to what a scale shows.
pub fn weigh(worked: &Worked, batches: u32, scale: &Scale, rows: &[TotalRow]) -> Weighing {
    let mut bench = Bench::of(worked, batches.max(1), scale);
    bench.stages();
    bench.dough();
    let whole = bench.whole();
    let step = match whole.finest(&bench.weighed) {
        step if step.is_zero() => scale.finest(),
        step => step,
    };
    let target = to_step(&worked.first().whole.mass(), &step);
    let exact: Vec<Exact> = bench.weighed.iter().map(|own| own.exact.clone()).collect();
    let groups = bench.groups(rows);
    bench.settle_what_was_asked(&whole);
    bench.settle_batches();
    let near = groups.iter().flat_map(|group| &group.rows).map(|(_, own)| own);
    let near: Vec<Sum> = near.cloned().collect();
    let near = Near { rests: &bench.rests, rows: &near };
    let values = controlled(&bench.weighed, &whole, &target, near);
    let total = bench.rows(rows, &groups, &values, &exact);
    bench.shown(&values, total, ShownWeight { grams: target, step })
}
