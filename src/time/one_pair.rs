//! One pair of hands: what hands do at once in two places is put one after the other.
//!
//! Enters: a puzzle with its best times. Leaves: the best times of those in which no two works of
//! hands lie in each other, where the lengths allow that. A search by branches: of the first two
//! that collide, either comes first. Work is counted rather than timed. What can't be put apart is
//! left, and stays in what [`collisions`] finds.

use super::clock::Instant;
use super::graph::{Graph, Hands};
use super::puzzle::tie;
use super::solve::{Puzzle, Solution, attempt};

/// Two stretches in which hands are at work, and the time that both take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Collision {
    /// The stretch that begins first.
    pub one: usize,
    /// The other one.
    pub two: usize,
    /// When both begin to.
    pub from: Instant,
    /// When both no longer do.
    pub to: Instant,
}

/// Points of all puzzles that are looked at, and puzzles at most.
const MAX_WORK: usize = 20_000;
const MAX_TRIES: usize = 64;

/// Where hands are wanted in two places at once, by the clock.
pub fn collisions(graph: &Graph, times: &[Instant]) -> Vec<Collision> {
    let on = graph.stretches.iter().enumerate().filter(|(_, it)| it.hands == Hands::On);
    let mut works: Vec<(Instant, Instant, usize)> =
        on.map(|(index, it)| (times[it.from], times[it.to], index)).collect();
    works.retain(|(from, to, _)| from < to);
    works.sort_unstable();
    let mut found = Vec::new();
    for (place, &(_, to, one)) in works.iter().enumerate() {
        let later = works.iter().skip(place + 1);
        for &(from, other, two) in later.take_while(|&&(from, ..)| from < to) {
            found.push(Collision { one, two, from, to: to.min(other) });
        }
    }
    found.sort_by_key(|it| (it.from, it.to, it.one, it.two));
    found
}

/// A puzzle with some works put one after the other, and pairs that can't be.
#[derive(Clone)]
struct Branch {
    puzzle: Puzzle,
    best: Solution,
    left: Vec<(usize, usize)>,
}

/// The puzzle with its collisions put one after the other as far as possible, and its best times.
pub fn apart(graph: &Graph, puzzle: &Puzzle, best: Solution) -> (Puzzle, Solution) {
    let count = collisions(graph, &best.times).len();
    let root = Branch { puzzle: puzzle.clone(), best, left: Vec::new() };
    if count == 0 {
        return (root.puzzle, root.best);
    }
    let mut tries = (MAX_WORK / puzzle.points.max(1)).clamp(4, MAX_TRIES);
    let mut fewest = (count, root.clone());
    let mut waiting = vec![root];
    while let Some(branch) = cheapest(&mut waiting) {
        let all = collisions(graph, &branch.best.times);
        let open = all.iter().find(|it| !branch.left.contains(&(it.one, it.two)));
        if all.len() < fewest.0 {
            fewest = (all.len(), branch.clone());
        }
        let Some(&Collision { one, two, .. }) = open else {
            return (branch.puzzle, branch.best);
        };
        let narrower: Vec<Branch> = [(one, two), (two, one)]
            .into_iter()
            .filter_map(|(before, after)| {
                tries = tries.checked_sub(1)?;
                in_order(graph, &branch, before, after)
            })
            .collect();
        match narrower.is_empty() {
            true => {
                waiting.push(Branch { left: [branch.left, vec![(one, two)]].concat(), ..branch })
            }
            false => waiting.extend(narrower),
        }
        if tries == 0 {
            break;
        }
    }
    let (_, Branch { puzzle, best, .. }) = fewest;
    (puzzle, Solution { proven: false, ..best })
}

/// The branch whose times cost least, the earliest of equal ones.
fn cheapest(waiting: &mut Vec<Branch>) -> Option<Branch> {
    let costs = waiting.iter().enumerate().map(|(place, it)| (it.best.cost, it.left.len(), place));
    let (.., place) = costs.min()?;
    Some(waiting.remove(place))
}

/// One work ends before another begins.
fn in_order(graph: &Graph, branch: &Branch, before: usize, after: usize) -> Option<Branch> {
    let (before, after) = (graph.stretches.get(before)?, graph.stretches.get(after)?);
    let mut puzzle = branch.puzzle.clone();
    puzzle.gaps.push(tie(before.to, after.from, None));
    let best = attempt(&puzzle)?;
    Some(Branch { puzzle, best, left: branch.left.clone() })
}
