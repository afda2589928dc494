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
use crate::quantity::display::{Scale, is_beyond_eighths, to_step};
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

/// Rounds all weights of a formula, made in so many batches, to what a scale shows. Of a scale
/// in ounces of which nobody said what it shows: to eighths of an ounce where those show all of
/// them, else to decimals, so that no column has both.
pub fn weigh(worked: &Worked, batches: u32, scale: &Scale, rows: &[TotalRow]) -> Weighing {
    let first = weigh_on(worked, batches, scale, rows);
    match scale.is_usual_ounces() && !are_eighths(worked, &first, scale) {
        true => weigh_on(worked, batches, &Scale::decimal_ounces(), rows),
        false => first,
    }
}

/// Whether eighths of an ounce show all weights of a formula closely, and their sums.
fn are_eighths(worked: &Worked, weighing: &Weighing, scale: &Scale) -> bool {
    let is_eighths = |shown: &ShownWeight| {
        !is_beyond_eighths(&shown.grams, &shown.step) && !scale.is_too_coarse_for(&shown.grams)
    };
    let feeds = weighing.earlier_feeds.iter().flatten();
    let columns = weighing.stages.iter().chain(feeds);
    let columns = columns.chain([&weighing.batch, &weighing.dough, &weighing.total]);
    let lines = columns.flat_map(|column| &column.lines);
    let parts = weighing.parts.iter().flatten().map(|(_, shown)| shown);
    let out = weighing.leaving.iter();
    let out = out.flat_map(|it| [&it.kept_back, &it.saved, &it.left_over, &it.goes_on]);
    let others = out.chain(weighing.discarded.iter().flatten());
    let pieces = worked.first().pieces.iter();
    let mut carried = pieces.flat_map(|piece| piece.lines.iter().map(|line| &line.mass));
    lines.chain(parts).chain(others).all(is_eighths)
        && !carried.any(|grams| scale.is_too_coarse_for(grams))
}

fn weigh_on(worked: &Worked, batches: u32, scale: &Scale, rows: &[TotalRow]) -> Weighing {
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
