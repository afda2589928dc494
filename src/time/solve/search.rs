//! The cheapest times of one cluster: branch and bound over the openings.
//!
//! Enters: a puzzle and one of its clusters. Leaves: the best times of its points. A branch
//! says for each presence which openings it may choose from, and bounds its points by the latest
//! and the earliest plan under these choices; what the flow then answers is the best that the
//! branch could have. The branch that promises most is looked at first, and the first one whose
//! presences all lie in openings is the answer, so nothing is ever cut off by a comparison.
//! Mostly some tens of branches are made. Their number can grow without measure where long
//! chains that press on each other have both very wide ranges and short openings to choose from;
//! then the search ends with the latest plan of the branch that promises most, and says so.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::bounds::{Choice, Field};
use super::flow::{FIRM, Network};
use super::puzzle::{Cluster, Puzzle, Solution, clusters};

/// The best plan, without the reasons why there is none.
pub fn plan(puzzle: &Puzzle) -> Option<Solution> {
    let mut times = vec![puzzle.last_moment(); puzzle.points];
    for &(point, time) in &puzzle.fixed {
        times[point] = time;
    }
    let agree = puzzle.fixed.iter().all(|&(point, time)| times[point] == time);
    let mut proven = true;
    for cluster in agree.then(|| clusters(puzzle))? {
        let (found, is_best) = cheapest(puzzle, &cluster)?;
        proven &= is_best;
        cluster.points.iter().for_each(|&point| times[point] = found[point]);
    }
    let cost = puzzle.cost(&times);
    puzzle.is_met(&times).then_some(Solution { times, cost, proven })
}

/// What a branch promises, the best one lowest: its cost, the start, the sum of the times that
/// are held from above, and to settle what is left, the order in which branches were made.
type Promise = (i128, Reverse<i64>, Reverse<i128>, usize);

struct Branch {
    choices: Vec<Choice>,
    network: Network,
    /// The latest of the branch's best times.
    times: Vec<Option<i64>>,
}

/// What all branches share.
struct SharedSearch<'a> {
    puzzle: &'a Puzzle,
    cluster: &'a Cluster,
    field: Field,
    mirrored: Field,
    /// Points of presences, each with its arcs from and to the epoch.
    bounded: Vec<(usize, usize, usize)>,
}

/// Branches times points after which the search ends.
const MAX_WORK: usize = 400_000;

/// The times of every point, of which those of the cluster are meant, and whether they are
/// proven to be the best; nothing where there is no plan.
pub fn cheapest(puzzle: &Puzzle, cluster: &Cluster) -> Option<(Vec<i64>, bool)> {
    let field = Field::new(puzzle, cluster);
    let mirrored = field.mirrored();
    let mut task = SharedSearch { puzzle, cluster, field, mirrored, bounded: Vec::new() };
    let root = task.root()?;
    let mut made = 0;
    let mut waiting = BTreeMap::from([(task.promise(&root, made), root)]);
    while let Some((_, branch)) = waiting.pop_first() {
        let Some((stay, opening)) = task.astray(&branch) else {
            return Some((branch.network.places(puzzle.last_moment()), true));
        };
        if made * puzzle.points > MAX_WORK {
            // Under any choices the latest plan is a plan.
            return Some((task.field.latest(&branch.choices)?, false));
        }
        let (low, high) = branch.choices[stay];
        for choice in [(low, opening), (opening + 1, high)] {
            if let Some(narrower) = task.narrowed(&branch, stay, choice) {
                made += 1;
                waiting.insert(task.promise(&narrower, made), narrower);
            }
        }
    }
    None
}

impl SharedSearch<'_> {
    /// The branch in which every choice is open.
    fn root(&mut self) -> Option<Branch> {
        let choices = self.field.all_choices();
        let (earliest, latest) = self.extremes(&choices)?;
        let epoch = self.puzzle.points;
        let mut network = Network::new(latest.clone());
        for limit in &self.field.limits {
            network.tie(limit.from, limit.to, limit.most, FIRM)?;
        }
        for point in self.points_of_presences() {
            let ceiling = network.tie(epoch, point, latest[point], FIRM)?;
            let floor = network.tie(point, epoch, -earliest[point], FIRM)?;
            self.bounded.push((point, ceiling, floor));
        }
        for gap in self.cluster.gaps.iter().map(|&index| self.puzzle.gaps[index]) {
            if let Some(wish) = gap.wish {
                network.tie(gap.from, gap.to, wish, gap.price)?;
                network.tie(gap.to, gap.from, -wish, gap.price)?;
            }
        }
        let times = network.latest();
        Some(Branch { choices, network, times })
    }

    fn points_of_presences(&self) -> Vec<usize> {
        let presences = self.cluster.presences.iter().map(|&index| self.puzzle.presences[index]);
        let mut points: Vec<usize> = presences.flat_map(|stay| [stay.from, stay.to]).collect();
        points.sort_unstable();
        points.dedup();
        points
    }

    /// The earliest and the latest plan under these choices.
    fn extremes(&self, choices: &[Choice]) -> Option<(Vec<i64>, Vec<i64>)> {
        let latest = self.field.latest(choices)?;
        let mut earliest = self.mirrored.latest(&self.field.mirrored_choices(choices))?;
        earliest.iter_mut().for_each(|time| *time = -*time);
        Some((earliest, latest))
    }

    /// The branch with one choice made narrower; nothing where it has no plan.
    fn narrowed(&self, branch: &Branch, stay: usize, choice: Choice) -> Option<Branch> {
        let mut choices = branch.choices.clone();
        choices[stay] = choice;
        let (earliest, latest) = self.extremes(&choices)?;
        let mut network = branch.network.clone();
        for &(point, ceiling, floor) in &self.bounded {
            network.tighten(ceiling, latest[point])?;
            network.tighten(floor, -earliest[point])?;
        }
        let times = network.latest();
        Some(Branch { choices, network, times })
    }

    fn promise(&self, branch: &Branch, made: usize) -> Promise {
        let gaps = self.cluster.gaps.iter().map(|&index| self.puzzle.gaps[index]);
        let cost = gaps.map(|gap| gap.cost(branch.network.some_times())).sum();
        let mine = |point: &usize| self.cluster.points.contains(point);
        let start = self.puzzle.start.filter(mine).and_then(|point| branch.times[point]);
        let placed = self.cluster.points.iter().filter_map(|&point| branch.times[point]);
        (cost, Reverse(start.unwrap_or(0)), Reverse(placed.map(i128::from).sum()), made)
    }

    /// The presence that lies furthest outside the openings, with the last opening that has
    /// begun by then. Since the times keep to the choices, a next opening is among them.
    fn astray(&self, branch: &Branch) -> Option<(usize, usize)> {
        let stays = self.cluster.presences.iter().enumerate();
        let miss = |(stay, &index): (usize, &usize)| {
            let presence = self.puzzle.presences[index];
            let (from, to) = (branch.times[presence.from]?, branch.times[presence.to]?);
            let opening = self.begun(from.min(to))?;
            let (_, end) = self.puzzle.openings[opening];
            let &(next, _) = self.puzzle.openings.get(opening + 1)?;
            let miss = (from.max(to) - end).min(next - from.min(to));
            (miss > 0).then_some((miss, Reverse(stay), opening))
        };
        let furthest = stays.filter_map(miss).max();
        furthest.map(|(_, Reverse(stay), opening)| (stay, opening))
    }

    /// The last opening that has begun at a time.
    fn begun(&self, time: i64) -> Option<usize> {
        self.puzzle.openings.partition_point(|&(begin, _)| begin <= time).checked_sub(1)
    }
}
