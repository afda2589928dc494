//! The latest and the earliest plan of some parts of a puzzle, whatever they cost.
//!
//! Enters: limits on differences, and stretches that lie in one opening of a range of openings.
//! Leaves: for each point the latest time that any plan has for it, which all together are a
//! plan; or nothing where there is none. The earliest plan is the latest one of the mirrored
//! field. Deliberately absent: wishes.

use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::VecDeque;

use super::puzzle::{Cluster, Grid, Puzzle};

/// `time[to] <= time[from] + most`. The point after the last one is the epoch, at 0.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    /// The point that it begins at.
    pub from: usize,
    /// The point that it ends at.
    pub to: usize,
    /// The latest that `to` may come after `from`; negative where it has to come before.
    pub most: i64,
    /// The place among the parts of the field; nothing for what is fixed.
    pub part: Option<usize>,
}

/// A stretch that lies in one opening.
#[derive(Clone, Copy, Debug)]
pub struct Stay {
    /// The point that it begins at.
    pub from: usize,
    /// The point that it ends at.
    pub to: usize,
    /// Which presence of the puzzle it is.
    pub part: usize,
}

/// The first and the last opening that a stretch may lie in.
pub type Choice = (usize, usize);

/// A puzzle as propagation sees it.
#[derive(Clone, Debug)]
pub struct Field {
    /// How many there are.
    pub points: usize,
    /// In the order of the points they come from.
    pub limits: Vec<Limit>,
    /// Where the limits from each point begin, and after the last where they end.
    begins: Vec<usize>,
    /// Stretches that have to lie within one opening.
    pub stays: Vec<Stay>,
    /// From and to, in order, none touching the next.
    pub openings: Vec<(i64, i64)>,
    /// Where times may lie; every limit then leads from one such time to another.
    grid: Option<Grid>,
    /// Limits and stretches that [`Self::latest`] has looked at: its work, counted so that what
    /// is bounded by it is the same everywhere.
    pub work: Cell<usize>,
}

/// Where sinking begins: later than any time that limits could lead to.
const FAR: i64 = 1 << 60;

impl Field {
    /// The parts are the cluster's gaps, then its presences.
    pub fn new(puzzle: &Puzzle, cluster: &Cluster) -> Self {
        let mut limits = fixed_limits(puzzle);
        for (part, &index) in cluster.gaps.iter().enumerate() {
            let gap = puzzle.gaps[index];
            let part = Some(part);
            limits.push(Limit { from: gap.to, to: gap.from, most: -gap.least, part });
            limits.extend(gap.most.map(|most| Limit { from: gap.from, to: gap.to, most, part }));
        }
        let stay = |(place, &index): (usize, &usize)| {
            let presence = puzzle.presences[index];
            Stay { from: presence.from, to: presence.to, part: cluster.gaps.len() + place }
        };
        let stays = cluster.presences.iter().enumerate().map(stay).collect();
        let field = Self::ordered(puzzle.points, limits, stays, puzzle.openings.clone());
        Self { grid: puzzle.grid.clone(), ..field }
    }

    fn ordered(
        points: usize,
        mut limits: Vec<Limit>,
        stays: Vec<Stay>,
        openings: Vec<(i64, i64)>,
    ) -> Self {
        limits.sort_by_key(|limit| limit.from);
        let mut begins = vec![0; points + 2];
        limits.iter().for_each(|limit| begins[limit.from + 1] += 1);
        for point in 0..=points {
            begins[point + 1] += begins[point];
        }
        let (grid, work) = (None, Cell::new(0));
        Self { points, limits, begins, stays, openings, grid, work }
    }

    /// The same field with only those parts that are enforced.
    pub fn only(&self, enforced: &[bool]) -> Self {
        let limit = |limit: &&Limit| limit.part.is_none_or(|part| enforced[part]);
        let limits = self.limits.iter().filter(limit).copied().collect();
        let stays = self.stays.iter().filter(|stay| enforced[stay.part]).copied().collect();
        let field = Self::ordered(self.points, limits, stays, self.openings.clone());
        Self { grid: self.grid.clone(), ..field }
    }

    /// The field with time running backwards.
    pub fn mirrored(&self) -> Self {
        let turn = |limit: &Limit| Limit { from: limit.to, to: limit.from, ..*limit };
        let limits = self.limits.iter().map(turn).collect();
        let openings = self.openings.iter().rev().map(|&(begin, end)| (-end, -begin)).collect();
        let field = Self::ordered(self.points, limits, self.stays.clone(), openings);
        Self { grid: self.grid.as_ref().map(Grid::mirrored), ..field }
    }

    /// Every opening for every stretch. Where there are no openings no choice is kept.
    pub fn all_choices(&self) -> Vec<Choice> {
        vec![(0, self.openings.len().saturating_sub(1)); self.stays.len()]
    }

    /// The choices as the mirrored field counts them.
    pub fn mirrored_choices(&self, choices: &[Choice]) -> Vec<Choice> {
        let last = self.openings.len().saturating_sub(1);
        choices.iter().map(|&(low, high)| (last - high, last - low)).collect()
    }

    /// The latest plan; nothing where there is none. A point that nothing holds from above has a
    /// time beyond all others.
    pub fn latest(&self, choices: &[Choice]) -> Option<Vec<i64>> {
        let mut times = vec![FAR; self.points];
        times.push(0);
        // What the epoch pushes comes first: most of the rest then has nothing left to push.
        self.sink(vec![self.points], &mut times)?;
        let mut moved = (0..self.points).collect();
        loop {
            self.sink(moved, &mut times)?;
            moved = self.fit(choices, &mut times)?;
            if moved.is_empty() {
                return Some(times);
            }
        }
    }

    /// Lowers times until every limit is met that comes from the points that moved or from what
    /// they push. The epoch cannot sink. A point whose turn comes more often than there are
    /// points is in a ring that would sink for ever. The latest come first: mostly they push
    /// what is before them, so that one pass is enough for a long chain.
    fn sink(&self, mut moved: Vec<usize>, times: &mut [i64]) -> Option<()> {
        moved.sort_by_key(|&point| Reverse(times[point]));
        let mut turns = vec![0; times.len()];
        let mut waits = vec![false; times.len()];
        moved.iter().for_each(|&point| waits[point] = true);
        let mut waiting = VecDeque::from(moved);
        while let Some(point) = waiting.pop_front() {
            waits[point] = false;
            turns[point] += 1;
            if turns[point] > times.len() || times[self.points] < 0 {
                return None;
            }
            let limits = &self.limits[self.begins[point]..self.begins[point + 1]];
            self.work.set(self.work.get() + limits.len() + 1);
            for limit in limits {
                let ceiling = times[point] + limit.most;
                if times[limit.to] > ceiling {
                    times[limit.to] = ceiling;
                    if !std::mem::replace(&mut waits[limit.to], true) {
                        waiting.push_back(limit.to);
                    }
                }
            }
        }
        (times[self.points] == 0).then_some(())
    }

    /// Lowers each stretch into the last opening that has begun by then; what moved.
    fn fit(&self, choices: &[Choice], times: &mut [i64]) -> Option<Vec<usize>> {
        let mut moved = Vec::new();
        self.work.set(self.work.get() + self.stays.len());
        for (stay, &(low, high)) in self.stays.iter().zip(choices) {
            let first = times[stay.from].min(times[stay.to]);
            let begun = self.openings.partition_point(|&(begin, _)| begin <= first);
            let opening = begun.checked_sub(1)?.min(high);
            let &(_, end) = self.openings.get(opening).filter(|_| opening >= low)?;
            for point in [stay.from, stay.to] {
                let end = self.grid.as_ref().map_or(end, |grid| grid.before(point, end));
                if times[point] > end {
                    times[point] = end;
                    moved.push(point);
                }
            }
        }
        Some(moved)
    }
}

/// A fixed point is held from both sides by the epoch.
fn fixed_limits(puzzle: &Puzzle) -> Vec<Limit> {
    let epoch = puzzle.points;
    let pair = |&(point, time): &(usize, i64)| {
        let later = Limit { from: epoch, to: point, most: time, part: None };
        let earlier = Limit { from: point, to: epoch, most: -time, part: None };
        [later, earlier]
    };
    puzzle.fixed.iter().flat_map(pair).collect()
}
