//! What no plan of a day can be better than.

use super::house::House;
use super::layout::{Edge, Layout, Tree};
use super::placing::Placer;
use super::proof::{ProofAnswer, Question};
use super::puzzle::{Minute, Point, Puzzle};
use super::score::Score;
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
    let mut bound = Bound { finish: layout.puzzle.span.0, ..Bound::default() };
    for (batch, first) in alone(layout) {
        let Some(first) = first else {
            bound.left_out += layout.puzzle.batches[batch].weight.max(1);
            continue;
        };
        let after = layout.trees[batch].as_ref().map_or(0, |tree| after_root(layout, tree));
        bound.finish = bound.finish.max(first + after);
        let root = layout.trees[batch].as_ref().map(|tree| tree.nodes[0].point);
        let own = layout.dues[batch].iter().map(|&due| &layout.puzzle.dues[due]);
        let own = own.filter(|due| root == Some(Point::End(due.task)));
        bound.lateness +=
            own.map(|due| due.weight * i64::from((first - due.by).max(0))).sum::<i64>();
    }
    bound
}

/// Minutes from the first point of a tree until the last of its tasks ends, at the least. What is done
/// or under way need not hold to that.
pub fn after_root(layout: &Layout, tree: &Tree) -> Minute {
    if tree.nodes.iter().any(|node| layout.needs[node.point.task()].fixed.is_some()) {
        return 0;
    }
    let minutes = |length: usize| Minute::try_from(length).unwrap_or(Minute::MAX);
    let mut least: Vec<Minute> = Vec::with_capacity(tree.nodes.len());
    for node in &tree.nodes {
        let parent = least.get(node.parent).copied().unwrap_or(0);
        let (low, high) = layout.needs[node.point.task()].length;
        least.push(match (node.edge, node.point) {
            (Edge::Root, _) => 0,
            (Edge::Lag(low, _), _) => parent.saturating_add(low),
            (Edge::Length, Point::End(_)) => parent.saturating_add(minutes(low)),
            (Edge::Length, Point::Start(_)) => parent.saturating_sub(minutes(high)),
        });
    }
    least.into_iter().max().unwrap_or(0)
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

/// The first minute at which each batch that is wanted can be done alone; none where it can't be.
pub fn alone(layout: &Layout) -> Vec<(usize, Option<Minute>)> {
    let state = State::new(layout);
    let mut placer = Placer::new(layout);
    let each = layout.wanted.iter();
    each.map(|&batch| (batch, first_end(layout, &mut placer, &state.house, batch))).collect()
}

/// Looks of the solver that a day is worth: it looks slower at more tasks.
pub fn looks(puzzle: &Puzzle) -> u64 {
    /// For one task, and tasks from which on it isn't asked.
    const FOR_ONE: usize = 1_000_000;
    const TOO_MANY: usize = 1500;
    let tasks = puzzle.tasks.len().max(50);
    if tasks > TOO_MANY { 0 } else { u64::try_from(FOR_ONE / tasks).unwrap_or(0) }
}

/// A bound raised as far as a solver proves it, up to what was found.
pub fn raise(puzzle: &Puzzle, mut bound: Bound, found: &Score, finish: Minute) -> Bound {
    let mut looks = looks(puzzle);
    if looks == 0 || bound.left_out > 0 {
        return bound;
    }
    if found.left_out > 0 {
        if Question::all(puzzle).ask(looks / 2) == ProofAnswer::Impossible {
            let wanted = puzzle.batches.iter().filter(|batch| !batch.is_build);
            bound.left_out = wanted.map(|batch| batch.weight.max(1)).min().unwrap_or(1);
        }
        return bound;
    }
    let least = puzzle.dues.iter().map(|due| due.weight).min().unwrap_or(0).max(0);
    if found.late > bound.lateness && least > 0 {
        let most = i32::try_from(found.late / least).unwrap_or(0);
        let late = climb(0, most, &mut looks, |late| Question {
            late: vec![Some(late); puzzle.dues.len()],
            ..Question::all(puzzle)
        });
        bound.lateness = bound.lateness.max(i64::from(late) * least);
    }
    // What is early enough needs no proof.
    let low = puzzle.end_counted(bound.finish);
    if finish > low {
        bound.finish = climb(low, finish, &mut looks, |finish| Question {
            finish: Some(finish),
            ..Question::all(puzzle)
        });
    }
    bound
}

/// The least number between two that isn't proven impossible.
fn climb<'p>(
    mut low: Minute,
    mut high: Minute,
    looks: &mut u64,
    question: impl Fn(Minute) -> Question<'p>,
) -> Minute {
    while low < high && *looks > 1 {
        let middle = low + (high - low) / 2;
        let share = *looks / 3 + 1;
        match question(middle).ask(share) {
            ProofAnswer::Impossible => low = middle + 1,
            ProofAnswer::Open => high = middle,
            ProofAnswer::Unknown => {
                *looks -= share;
                high = middle;
            }
        }
    }
    low
}
