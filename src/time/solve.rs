//! When each thing of a baking day is done: the cheapest times that keep every promise.
//!
//! Enters: a [`Puzzle`] of points in time, the gaps between them, the stretches in which
//! somebody has to be there, the hours in which somebody is, and what is fixed. Leaves: a
//! [`Solution`], or a [`Conflict`] that names a smallest set of parts that cannot hold together
//! and the single changes that would help. Deliberately absent: clocks, calendars, names,
//! floats, and any bread; a point is a number here.
//!
//! Three facts carry the whole room.
//!
//! - Of two plans, the later of both times of each point is again a plan, and so is the earlier:
//!   a bound on a difference keeps under both, and so does lying in one opening, because
//!   openings follow each other. So the latest plan and the earliest plan exist, and sinking
//!   from above, or rising from below, finds them or shows that there is none (`bounds`).
//!   Whether a puzzle has a plan needs no search.
//! - With the openings left aside, the cheapest times are the dual of a cheapest flow, which
//!   is solved in whole numbers; a bound more costs a few short paths (`flow`).
//! - Openings are chosen by branch and bound over such flows, best first (`search`), for each
//!   cluster of points that hang together apart from what is fixed.
//!
//! Where slices are indexed: every index is a point, gap or presence of the puzzle at hand, and
//! [`solve`] checks the points of a puzzle at its door.

mod argument;
mod bounds;
mod conflict;
mod flow;
mod grid;
mod relief;
mod search;
#[cfg(test)]
mod tests;

pub use argument::{Argument, Move};
pub use grid::Grid;

/// A stretch between two points: `to - from` lies in `least..=most`; `wish` is the length it
/// would best have. All in milliseconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    pub from: usize,
    pub to: usize,
    pub least: i64,
    pub most: Option<i64>,
    pub wish: Option<i64>,
    /// What each millisecond costs by which the length misses the wish; [`DEAREST`] at most.
    pub price: u64,
}

/// Somebody is there from one point to another (possibly the same point): all of it lies in one
/// opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Presence {
    pub from: usize,
    pub to: usize,
}

/// Points in time and what ties them. Times are milliseconds since any epoch; times and lengths
/// beyond [`FURTHEST`] count as that.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Puzzle {
    /// How many points there are; each is named by its number, from 0.
    pub points: usize,
    pub gaps: Vec<Gap>,
    pub presences: Vec<Presence>,
    /// Sorted, disjoint, closed stretches in which somebody is there: begin and end.
    pub openings: Vec<(i64, i64)>,
    /// Points whose time is given.
    pub fixed: Vec<(usize, i64)>,
    /// Of plans that cost the same, the one in which this point is latest.
    pub start: Option<usize>,
    /// What parts belong to, where several have one name: a conflict is the smallest in names.
    pub names: Option<Names>,
    /// Where times may lie; none where any millisecond will do.
    pub grid: Option<Grid>,
}

/// For each gap and each presence the name it belongs to. What has none always holds, as do
/// gaps beyond the list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names {
    pub gaps: Vec<Option<usize>>,
    pub presences: Vec<Option<usize>>,
}

/// The cheapest times, and what they cost: the milliseconds by which gaps miss their wishes,
/// each at its price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    pub times: Vec<i64>,
    /// The largest number where the sum is beyond it, which takes wishes of centuries.
    pub cost: i64,
    /// Whether no other times cost less; false only where the search was given up.
    pub proven: bool,
}

/// A part of a puzzle, by its place in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    Gap(usize),
    Presence(usize),
}

/// Why there is no plan: the smallest set of gaps and presences that cannot hold together (with
/// what is fixed), and single changes each of which alone makes a plan possible.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// In the order of the puzzle, gaps first. Without members where what is fixed contradicts
    /// itself. It is never reducible, and neither are the names it belongs to.
    pub parts: Vec<Part>,
    /// Whether no other set has fewer names; false where the puzzle is so tangled that the
    /// search for one was given up.
    pub is_smallest: bool,
    /// Why the parts cannot hold together, counted back from the latest times that are fixed,
    /// and forward from the earliest.
    pub arguments: Vec<Argument>,
    /// The smallest change first.
    pub reliefs: Vec<Relief>,
}

/// A single change after which the whole puzzle has a plan. A millisecond less does not do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relief {
    Longer {
        gap: usize,
        most: i64,
    },
    Shorter {
        gap: usize,
        least: i64,
    },
    /// For all that somebody has to be there for: an opening, by its number, that begins
    /// earlier or ends later, by as little as possible.
    Hours {
        opening: usize,
        hours: (i64, i64),
    },
}

/// The furthest time from the epoch and the longest length, in milliseconds: some 2,200 years.
/// Sums along any path through a puzzle of up to [`MOST_POINTS`] then fit 64 bits.
pub const FURTHEST: i64 = 1 << 46;

/// The most points of a puzzle.
pub const MOST_POINTS: usize = 8_000;

/// The highest price of a millisecond: sums over any puzzle then fit 64 bits.
pub const DEAREST: u64 = 1 << 47;

/// The times with the least sum of prices times `|(to - from) - wish|`, exactly; of these those with the
/// latest `start`; of these those with the largest sum of all times. A point that nothing holds
/// from above is not in that sum and stands as early as the others allow; what nothing holds at
/// all stands at the last fixed time, else at the end of the last opening, else at 0.
///
/// # Errors
/// A [`Conflict`] where no times meet all gaps, presences and fixed points.
///
/// # Panics
/// Where a part names a point that the puzzle does not have, or there are more than
/// [`MOST_POINTS`]: both are slips of the caller that no answer could express.
pub fn solve(puzzle: &Puzzle) -> Result<Solution, Conflict> {
    assert!(puzzle.is_sound(), "a puzzle names a point it does not have, or has too many");
    let puzzle = puzzle.within_reach();
    plan(&puzzle).ok_or_else(|| conflict::explain(&puzzle))
}

/// As [`solve`], without the reasons where there is no plan.
///
/// # Panics
/// As [`solve`].
pub fn attempt(puzzle: &Puzzle) -> Option<Solution> {
    assert!(puzzle.is_sound(), "a puzzle names a point it does not have, or has too many");
    plan(&puzzle.within_reach())
}

/// Whether any times meet all gaps, presences and fixed points: by propagation alone.
pub fn is_possible(puzzle: &Puzzle) -> bool {
    let puzzle = puzzle.within_reach();
    let whole = Cluster::whole(&puzzle);
    let field = bounds::Field::new(&puzzle, &whole);
    field.latest(&field.all_choices()).is_some()
}

/// The best plan, without the reasons why there is none.
fn plan(puzzle: &Puzzle) -> Option<Solution> {
    let mut times = vec![puzzle.last_moment(); puzzle.points];
    for &(point, time) in &puzzle.fixed {
        times[point] = time;
    }
    let agree = puzzle.fixed.iter().all(|&(point, time)| times[point] == time);
    let mut proven = true;
    for cluster in agree.then(|| clusters(puzzle))? {
        let (found, is_best) = search::cheapest(puzzle, &cluster)?;
        proven &= is_best;
        cluster.points.iter().for_each(|&point| times[point] = found[point]);
    }
    let cost = puzzle.cost(&times);
    puzzle.is_met(&times).then_some(Solution { times, cost, proven })
}

impl Gap {
    /// What it costs that the times miss the wish.
    fn cost(&self, times: &[i64]) -> i128 {
        let misses = self.wish.map_or(0, |wish| (times[self.to] - times[self.from] - wish).abs());
        i128::from(misses) * i128::from(self.price)
    }

    fn is_met(&self, times: &[i64]) -> bool {
        let length = times[self.to] - times[self.from];
        self.least <= length && self.most.is_none_or(|most| length <= most)
    }
}

impl Presence {
    fn is_met(&self, openings: &[(i64, i64)], times: &[i64]) -> bool {
        let (from, to) = (times[self.from], times[self.to]);
        let within = |&(begin, end): &(i64, i64)| begin <= from.min(to) && from.max(to) <= end;
        openings.iter().any(within)
    }
}

impl Puzzle {
    /// What times cost.
    pub fn cost(&self, times: &[i64]) -> i64 {
        let cost: i128 = self.gaps.iter().map(|gap| gap.cost(times)).sum();
        i64::try_from(cost).unwrap_or(i64::MAX)
    }

    fn is_sound(&self) -> bool {
        let ends = self.gaps.iter().flat_map(|gap| [gap.from, gap.to]);
        let stays = self.presences.iter().flat_map(|presence| [presence.from, presence.to]);
        let fixed = self.fixed.iter().map(|&(point, _)| point);
        let mut named = ends.chain(stays).chain(fixed).chain(self.start);
        let has_places = self.grid.as_ref().is_none_or(|grid| grid.is_for(self.points));
        self.points <= MOST_POINTS && has_places && named.all(|point| point < self.points)
    }

    /// The same puzzle with every number brought within [`FURTHEST`], so that no sum overflows.
    fn within_reach(&self) -> Self {
        let near = |number: i64| number.clamp(-FURTHEST, FURTHEST);
        let gap = |gap: &Gap| Gap {
            least: near(gap.least),
            most: gap.most.map(near),
            wish: gap.wish.map(near),
            price: gap.price.min(DEAREST),
            ..*gap
        };
        Self {
            gaps: self.gaps.iter().map(gap).collect(),
            openings: self.openings.iter().map(|&(begin, end)| (near(begin), near(end))).collect(),
            fixed: self.fixed.iter().map(|&(point, time)| (point, near(time))).collect(),
            ..self.clone()
        }
    }

    /// Where a point stands that nothing holds.
    fn last_moment(&self) -> i64 {
        let fixed = self.fixed.iter().map(|&(_, time)| time).max();
        fixed.or(self.openings.last().map(|&(_, end)| end)).unwrap_or(0)
    }

    fn is_fixed(&self, point: usize) -> bool {
        self.fixed.iter().any(|&(other, _)| other == point)
    }

    /// Every answer is checked against the puzzle itself before it leaves.
    fn is_met(&self, times: &[i64]) -> bool {
        self.gaps.iter().all(|gap| gap.is_met(times))
            && self.presences.iter().all(|presence| presence.is_met(&self.openings, times))
    }
}

/// Parts that hang together. What is fixed ties nothing, so clusters are solved one by one: cost
/// and sum of times add up over them, and the start is in one of them.
#[derive(Clone, Debug, Default)]
struct Cluster {
    /// The points that are not fixed.
    points: Vec<usize>,
    gaps: Vec<usize>,
    presences: Vec<usize>,
}

impl Cluster {
    /// All parts of a puzzle, whether they hang together or not.
    fn whole(puzzle: &Puzzle) -> Self {
        Self {
            points: Vec::new(),
            gaps: (0..puzzle.gaps.len()).collect(),
            presences: (0..puzzle.presences.len()).collect(),
        }
    }
}

/// The clusters of a puzzle, without points that nothing is tied to. Where both ends of a part are
/// fixed, it is in a cluster only with such parts.
fn clusters(puzzle: &Puzzle) -> Vec<Cluster> {
    let heads = heads(puzzle);
    let mut clusters = vec![Cluster::default(); puzzle.points];
    let home = |from: usize, to: usize| if puzzle.is_fixed(from) { heads[to] } else { heads[from] };
    for (index, gap) in puzzle.gaps.iter().enumerate() {
        clusters[home(gap.from, gap.to)].gaps.push(index);
    }
    for (index, presence) in puzzle.presences.iter().enumerate() {
        clusters[home(presence.from, presence.to)].presences.push(index);
    }
    for point in (0..puzzle.points).filter(|&point| !puzzle.is_fixed(point)) {
        clusters[heads[point]].points.push(point);
    }
    clusters.retain(|cluster| !cluster.gaps.is_empty() || !cluster.presences.is_empty());
    clusters
}

/// For each point the lowest one that it hangs together with. A fixed point stands alone.
fn heads(puzzle: &Puzzle) -> Vec<usize> {
    let gaps = puzzle.gaps.iter().map(|gap| (gap.from, gap.to));
    let ties = gaps.chain(puzzle.presences.iter().map(|presence| (presence.from, presence.to)));
    let loose = |point: usize| !puzzle.is_fixed(point);
    let ties: Vec<_> = ties.filter(|&(from, to)| loose(from) && loose(to)).collect();
    let mut heads: Vec<usize> = (0..puzzle.points).collect();
    let mut changed = true;
    while std::mem::take(&mut changed) {
        for &(from, to) in &ties {
            let low = heads[from].min(heads[to]);
            changed |= heads[from] != low || heads[to] != low;
            (heads[from], heads[to]) = (low, low);
        }
    }
    heads
}
