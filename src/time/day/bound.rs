//! What no plan of a day can be better than.

use super::house::House;
use super::layout::Layout;
use super::placing::Placer;
use super::puzzle::{Minute, Point};
use super::state::State;

/// What nothing is better than.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Bound {
    /// Of the weight that is left out.
    pub left_out: i64,
    /// Of minutes late, weighed.
    pub lateness: i64,
    /// Of the minute when the last task ends, where nothing more is left out.
    pub finish: Minute,
}

/// The bound of each batch alone in an empty house.
pub fn bound(layout: &Layout) -> Bound {
    let state = State::new(layout);
    let mut placer = Placer::new(layout);
    let mut bound = Bound { finish: layout.puzzle.span.0, ..Bound::default() };
    for &batch in &layout.wanted {
        let Some(first) = first_end(layout, &mut placer, &state.house, batch) else {
            bound.left_out += layout.puzzle.batches[batch].weight.max(1);
            continue;
        };
        bound.finish = bound.finish.max(first);
        let root = layout.trees[batch].as_ref().map(|tree| tree.nodes[0].point);
        let own = layout.dues[batch].iter().map(|&due| &layout.puzzle.dues[due]);
        let own = own.filter(|due| root == Some(Point::End(due.task)));
        bound.lateness +=
            own.map(|due| due.weight * i64::from((first - due.by).max(0))).sum::<i64>();
    }
    bound
}

/// The first minute at which a batch can be done, alone.
fn first_end<'l>(
    layout: &'l Layout<'l>,
    placer: &mut Placer<'l>,
    house: &House<'l>,
    batch: usize,
) -> Option<Minute> {
    let (first, _) = placer.reach(batch, house)?;
    Some(Minute::try_from(first).ok()? + layout.puzzle.span.0)
}
