//! A plan: every point of a formula's graph at an instant, so that it ends when the bread
//! must be ready, or begins when it is said to.

use super::clock::{Instant, MINUTE, Zone};
use super::graph::{Doing, Graph, Hands, Stretch};
use super::solve::{Conflict, Gap, Part, Presence, Puzzle, Relief, Solution, solve};
use crate::quantity::Exact;
use crate::quantity::display::nearest;

/// What a plan hangs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The bread is ready then.
    Ready(Instant),
    /// The first thing is done then.
    Start(Instant),
}

/// When somebody is there: minutes since midnight, every day. None: always.
pub type Hours<'h> = Option<&'h [(u32, u32)]>;

/// A graph with a time for every point.
#[derive(Clone, Debug)]
pub struct Plan {
    /// By point.
    pub times: Vec<Instant>,
    pub begin: Instant,
    pub end: Instant,
    /// How far lengths are from the middles of their ranges, in all, in milliseconds.
    pub cost: i64,
    /// Whether no other plan is nearer; false only where the search was given up.
    pub proven: bool,
}

/// Why there is no plan, in terms of the graph.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NoPlan {
    /// Stretches whose lengths are part of the conflict.
    pub lengths: Vec<usize>,
    /// Points at which somebody would have to be there.
    pub presences: Vec<(usize, usize)>,
    pub changes: Vec<Change>,
}

/// One change that alone would make a plan possible.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A stretch as long as this, in milliseconds, which is more than it may be.
    Longer { stretch: usize, most: i64 },
    /// A stretch as short as this, which is less than it has to be.
    Shorter { stretch: usize, least: i64 },
    /// Hands from one instant to another.
    Hours { from: Instant, to: Instant },
    /// The bread at another time, the nearest before or after.
    Ready { at: Instant },
    /// A beginning at another time, the nearest before or after.
    Start { at: Instant },
}

/// Plans a formula.
///
/// Hard: every length in its range, every stage used while it is ripe, nobody at work or
/// at the oven outside the hours. Of all such plans the one whose lengths are nearest to
/// the middles of their ranges; of those, the one that begins latest.
///
/// # Errors
/// The smallest set of lengths and hours that can't hold together, and what would help.
pub fn plan(graph: &Graph, anchor: Anchor, hours: Hours, zone: &Zone) -> Result<Plan, NoPlan> {
    match anchor {
        Anchor::Ready(ready) => {
            let puzzle = puzzle(graph, &[(graph.end, ready)], anchor, hours, zone);
            solved(graph, &puzzle).map_err(|mut conflict| {
                let other = |earlier| nearest_time(&puzzle, graph.end, ready, earlier);
                let times = [other(true), other(false)].into_iter().flatten();
                let times = times.map(|at| Change::Ready { at });
                conflict.changes.splice(0..0, times);
                conflict
            })
        }
        Anchor::Start(start) => from_start(graph, start, hours, zone),
    }
}

/// The nearest time before, or after, at which a point could be instead of when it is
/// wanted; a day away at most.
fn nearest_time(puzzle: &Puzzle, point: usize, wanted: Instant, earlier: bool) -> Option<Instant> {
    const DAY: i64 = 24 * 60 * MINUTE;
    let mut puzzle = puzzle.clone();
    // How long things take does not matter here, only how far the point is away.
    puzzle.gaps.iter_mut().for_each(|gap| gap.wish = None);
    puzzle.fixed.clear();
    let asked = puzzle.points;
    puzzle.points += 1;
    puzzle.fixed.push((asked, wanted));
    let (from, to) = if earlier { (point, asked) } else { (asked, point) };
    puzzle.gaps.push(Gap { from, to, least: 0, most: Some(DAY), wish: Some(0) });
    solve(&puzzle).ok()?.times.get(point).copied()
}

/// What begins at the start is one of the things before which nothing stands: the one
/// that makes the best plan.
fn from_start(graph: &Graph, start: Instant, hours: Hours, zone: &Zone) -> Result<Plan, NoPlan> {
    let anchor = Anchor::Start(start);
    let mut best: Option<Plan> = None;
    let mut trouble = None;
    for &source in &graph.sources {
        let fixed = [(source, start), (graph.points, start)];
        match solved(graph, &puzzle(graph, &fixed, anchor, hours, zone)) {
            Ok(plan) => {
                let is_better = |best: &Plan| (plan.cost, plan.end) < (best.cost, best.end);
                if best.as_ref().is_none_or(is_better) {
                    best = Some(plan);
                }
            }
            Err(conflict) => {
                trouble.get_or_insert(conflict);
            }
        }
    }
    best.ok_or_else(|| {
        let mut trouble = trouble.unwrap_or_default();
        trouble.changes.splice(0..0, other_starts(graph, start, hours, zone));
        trouble
    })
}

/// The nearest times before and after at which it could begin: any of the things before
/// which nothing stands, so long as none begins earlier.
fn other_starts(graph: &Graph, start: Instant, hours: Hours, zone: &Zone) -> Vec<Change> {
    let puzzle = puzzle(graph, &[], Anchor::Start(start), hours, zone);
    let nearest = |earlier: bool| {
        let each = graph.sources.iter().filter_map(|&source| {
            let mut puzzle = puzzle.clone();
            let first = Gap { from: source, to: graph.points, least: 0, most: Some(0), wish: None };
            puzzle.gaps.push(first);
            nearest_time(&puzzle, source, start, earlier)
        });
        each.min_by_key(|at| (at - start).abs())
    };
    [true, false].into_iter().filter_map(nearest).map(|at| Change::Start { at }).collect()
}

/// Stretches that are tied to the hours: from point to point, or a point by itself.
fn presences(graph: &Graph) -> Vec<Presence> {
    let there = |stretch: &&Stretch| stretch.hands != Hands::Off;
    let stretches = graph.stretches.iter().filter(there);
    let stretches = stretches.map(|stretch| Presence { from: stretch.from, to: stretch.to });
    let moments = graph.moments.iter().map(|&at| Presence { from: at, to: at });
    stretches.chain(moments).collect()
}

fn puzzle(
    graph: &Graph,
    fixed: &[(usize, Instant)],
    anchor: Anchor,
    hours: Hours,
    zone: &Zone,
) -> Puzzle {
    // One point more: the beginning, before which nothing is.
    let start = graph.points;
    let mut gaps: Vec<Gap> = graph.stretches.iter().map(gap).collect();
    let before =
        |&source: &usize| Gap { from: start, to: source, least: 0, most: None, wish: None };
    gaps.extend(graph.sources.iter().map(before));
    let reach = reach(graph);
    let (begin, end) = match anchor {
        Anchor::Ready(ready) => (ready - reach, ready + reach),
        Anchor::Start(start) => (start - reach, start + reach),
    };
    Puzzle {
        points: graph.points + 1,
        gaps,
        presences: hours.map_or_else(Vec::new, |_| presences(graph)),
        openings: hours.map_or_else(Vec::new, |hours| zone.openings(hours, begin, end)),
        fixed: fixed.to_vec(),
        start: Some(start),
    }
}

fn gap(stretch: &Stretch) -> Gap {
    let least = milliseconds(&stretch.low);
    let most = stretch.high.as_ref().map(milliseconds);
    let wish = stretch.best().as_ref().map(milliseconds);
    // A plan in whole minutes, where its ranges are.
    let in_minutes = least % MINUTE == 0 && most.is_none_or(|most| most % MINUTE == 0);
    let wish = wish.map(|wish| if in_minutes { wish - wish % MINUTE } else { wish });
    Gap { from: stretch.from, to: stretch.to, least, most, wish }
}

/// How far from its end a plan may reach: everything one after the other at its longest,
/// and a week for what is open-ended.
fn reach(graph: &Graph) -> i64 {
    const WEEK: i64 = 7 * 24 * 60 * MINUTE;
    let longest = |stretch: &Stretch| match &stretch.high {
        Some(high) => milliseconds(high),
        None => milliseconds(&stretch.low) + WEEK,
    };
    let sum = graph.stretches.iter().map(longest).fold(0i64, i64::saturating_add);
    sum.min(52 * WEEK) + WEEK
}

/// Minutes as milliseconds; a year at most.
pub fn milliseconds(minutes: &Exact) -> i64 {
    const YEAR: i64 = 366 * 24 * 60 * MINUTE;
    nearest(&(minutes * Exact::from(MINUTE))).try_into().unwrap_or(YEAR).min(YEAR)
}

/// Minutes as a whole number of them, rounded half away from zero.
pub fn whole_minutes(minutes: &Exact) -> i64 {
    nearest(minutes).try_into().unwrap_or(i64::MAX)
}

fn solved(graph: &Graph, puzzle: &Puzzle) -> Result<Plan, NoPlan> {
    match solve(puzzle) {
        Ok(Solution { mut times, cost, proven }) => {
            times.truncate(graph.points);
            let begin = graph.sources.iter().map(|&source| times[source]).min();
            let end = times[graph.end];
            Ok(Plan { begin: begin.unwrap_or(end), end, times, cost, proven })
        }
        Err(conflict) => Err(told(graph, puzzle, conflict)),
    }
}

/// Whether a length may be offered as a way out: of what waits by itself, and no less than
/// half or more than double of what is written. Nobody is told to bake for no time.
fn can_be(stretch: &Stretch, length: i64) -> bool {
    if stretch.hands != Hands::Off {
        return false;
    }
    let (least, most) = (milliseconds(&stretch.low), stretch.high.as_ref().map(milliseconds));
    match stretch.doing {
        Doing::Step { .. } | Doing::Ripen { .. } => {
            length * 2 >= least && most.is_none_or(|most| length <= most.saturating_mul(2))
        }
        // A stage keeps some hours longer than is said.
        Doing::Keep { .. } => most.is_none_or(|most| length <= most + 3 * 60 * MINUTE),
        _ => false,
    }
}

/// A conflict in terms of the graph.
fn told(graph: &Graph, puzzle: &Puzzle, conflict: Conflict) -> NoPlan {
    let mut no_plan = NoPlan::default();
    for part in conflict.parts {
        match part {
            Part::Gap(gap) if gap < graph.stretches.len() => no_plan.lengths.push(gap),
            Part::Gap(_) => {}
            Part::Presence(presence) => {
                let presence = &puzzle.presences[presence];
                no_plan.presences.push((presence.from, presence.to));
            }
        }
    }
    no_plan.changes = conflict
        .reliefs
        .into_iter()
        .filter_map(|relief| match relief {
            Relief::Longer { gap: stretch, most } if stretch < graph.stretches.len() => {
                Some(Change::Longer { stretch, most })
            }
            Relief::Shorter { gap: stretch, least } if stretch < graph.stretches.len() => {
                Some(Change::Shorter { stretch, least })
            }
            Relief::Hours { opening: (from, to), .. } => Some(Change::Hours { from, to }),
            _ => None,
        })
        .filter(|change| match change {
            Change::Longer { stretch, most } => can_be(&graph.stretches[*stretch], *most),
            Change::Shorter { stretch, least } => can_be(&graph.stretches[*stretch], *least),
            Change::Hours { .. } | Change::Ready { .. } | Change::Start { .. } => true,
        })
        .collect();
    no_plan
}

/// Times without a clock: every length as it would best be, counted back from the end in
/// minutes; what ends at 0.
pub fn usual(graph: &Graph) -> Vec<Exact> {
    let length = |stretch: &Stretch| stretch.best().unwrap_or_else(|| stretch.low.clone());
    let mut times: Vec<Option<Exact>> = vec![None; graph.points];
    times[graph.end] = Some(Exact::ZERO);
    let counts = |stretch: &&Stretch| {
        !matches!(stretch.doing, Doing::Order | Doing::Fold { .. } | Doing::Moment { .. })
    };
    for _ in 0..graph.points {
        let mut changed = false;
        for stretch in graph.stretches.iter().filter(counts).rev() {
            let Some(to) = &times[stretch.to] else { continue };
            let from = to - length(stretch);
            if times[stretch.from].as_ref().is_none_or(|known| from < *known) {
                times[stretch.from] = Some(from);
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    // Folds and moments are counted forward from the phase they stand in.
    for _ in 0..graph.points {
        for stretch in &graph.stretches {
            if let (Some(from), None) = (&times[stretch.from], &times[stretch.to]) {
                times[stretch.to] = Some(from + length(stretch));
            }
        }
    }
    times.into_iter().map(Option::unwrap_or_default).collect()
}
