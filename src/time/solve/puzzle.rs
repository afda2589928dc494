//! A puzzle as plain data: points in time, what ties them, and its solution; the clusters of
//! what hangs together in it.

/// A stretch between two points: `to - from` lies in `least..=most`; `wish` is the length it
/// would best have. All in milliseconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The point that it begins at.
    pub from: usize,
    /// The point that it ends at.
    pub to: usize,
    /// The least that it takes.
    pub least: i64,
    /// The most that it takes; none where it is open-ended.
    pub most: Option<i64>,
    /// What it would best take; none where that makes no difference.
    pub wish: Option<i64>,
    /// What each millisecond costs by which the length misses the wish; [`DEAREST`] at most.
    pub price: u64,
}

/// Somebody is there from one point to another (possibly the same point): all of it lies in one
/// opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Presence {
    /// The point that it begins at.
    pub from: usize,
    /// The point that it ends at.
    pub to: usize,
}

/// Points in time and what ties them. Times are milliseconds since any epoch; times and lengths
/// beyond [`FURTHEST`] count as that.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Puzzle {
    /// How many points there are; each is named by its number, from 0.
    pub points: usize,
    /// In the order of the graph's stretches.
    pub gaps: Vec<Gap>,
    /// Stretches in which somebody has to be there.
    pub presences: Vec<Presence>,
    /// Sorted, disjoint, closed stretches in which somebody is there: begin and end.
    pub openings: Vec<(i64, i64)>,
    /// Points whose time is given.
    pub fixed: Vec<(usize, i64)>,
    /// Of plans that cost the same, the one in which this point is latest.
    pub start: Option<usize>,
    /// What parts belong to, where several have one name: a conflict is the smallest in names.
    pub names: Option<GapNames>,
    /// Where times may lie; none where any millisecond will do.
    pub grid: Option<Grid>,
}

/// For each gap and each presence the name it belongs to. What has none always holds, as do
/// gaps beyond the list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct GapNames {
    /// Where each gap of the whole is in the part; none where it was left out.
    pub gaps: Vec<Option<usize>>,
    /// Where each presence of the whole is in the part; none where it was left out.
    pub presences: Vec<Option<usize>>,
}

/// Times of point `p` are `places[p]` more than a multiple of `step`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grid {
    /// Times are multiples of it, counted from `places`.
    pub step: i64,
    /// What each point is off such a multiple.
    pub places: Vec<i64>,
}

impl Grid {
    /// Whether it has a place for each of so many points.
    pub fn is_for(&self, points: usize) -> bool {
        self.step > 0 && self.places.len() == points
    }

    /// The same with time running backwards.
    pub fn mirrored(&self) -> Self {
        Self { step: self.step, places: self.places.iter().map(|place| -place).collect() }
    }

    /// The last time of a point that is not after a given one.
    pub fn before(&self, point: usize, time: i64) -> i64 {
        time - (time - self.places[point]).rem_euclid(self.step)
    }

    /// By how much lengths between two points lie beside full steps.
    pub fn length(&self, gap: &Gap) -> i64 {
        self.places[gap.to] - self.places[gap.from]
    }
}

/// The cheapest times, and what they cost: the milliseconds by which gaps miss their wishes,
/// each at its price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// By point.
    pub times: Vec<i64>,
    /// The largest number where the sum is beyond it, which takes wishes of centuries.
    pub cost: i64,
    /// Whether no other times cost less; false only where the search was given up.
    pub proven: bool,
}

/// A part of a puzzle, by its place in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PuzzlePart {
    Gap(usize),
    Presence(usize),
}

/// The furthest time from the epoch and the longest length, in milliseconds: some 2,200 years.
/// Sums along any path through a puzzle of up to [`MAX_POINTS`] then fit 64 bits.
pub const FURTHEST: i64 = 1 << 46;

/// The most points of a puzzle.
pub const MAX_POINTS: usize = 8_000;

/// The highest price of a millisecond: sums over any puzzle then fit 64 bits.
pub const DEAREST: u64 = 1 << 47;

impl Gap {
    /// What it costs that the times miss the wish.
    pub fn cost(&self, times: &[i64]) -> i128 {
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

    /// Whether all numbers in it name something, and no gap is reversed.
    pub fn is_sound(&self) -> bool {
        let ends = self.gaps.iter().flat_map(|gap| [gap.from, gap.to]);
        let stays = self.presences.iter().flat_map(|presence| [presence.from, presence.to]);
        let fixed = self.fixed.iter().map(|&(point, _)| point);
        let mut named = ends.chain(stays).chain(fixed).chain(self.start);
        let has_places = self.grid.as_ref().is_none_or(|grid| grid.is_for(self.points));
        self.points <= MAX_POINTS && has_places && named.all(|point| point < self.points)
    }

    /// The same puzzle with every number brought within [`FURTHEST`], so that no sum overflows.
    pub fn within_reach(&self) -> Self {
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
    pub fn last_moment(&self) -> i64 {
        let fixed = self.fixed.iter().map(|&(_, time)| time).max();
        fixed.or(self.openings.last().map(|&(_, end)| end)).unwrap_or(0)
    }

    /// Whether a point has one time only.
    pub fn is_fixed(&self, point: usize) -> bool {
        self.fixed.iter().any(|&(other, _)| other == point)
    }

    /// Every answer is checked against the puzzle itself before it leaves.
    pub fn is_met(&self, times: &[i64]) -> bool {
        self.gaps.iter().all(|gap| gap.is_met(times))
            && self.presences.iter().all(|presence| presence.is_met(&self.openings, times))
    }
}

/// Parts that hang together. What is fixed ties nothing, so clusters are solved one by one: cost
/// and sum of times add up over them, and the start is in one of them.
#[derive(Clone, Debug, Default)]
pub struct Cluster {
    /// The points that are not fixed.
    pub points: Vec<usize>,
    /// By their places in the puzzle.
    pub gaps: Vec<usize>,
    /// By their places in the puzzle.
    pub presences: Vec<usize>,
}

impl Cluster {
    /// All parts of a puzzle, whether they hang together or not.
    pub fn whole(puzzle: &Puzzle) -> Self {
        Self {
            points: Vec::new(),
            gaps: (0..puzzle.gaps.len()).collect(),
            presences: (0..puzzle.presences.len()).collect(),
        }
    }
}

/// The clusters of a puzzle, without points that nothing is tied to. Where both ends of a part are
/// fixed, it is in a cluster only with such parts.
pub fn clusters(puzzle: &Puzzle) -> Vec<Cluster> {
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
