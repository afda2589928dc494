//! Clock times that can be read off a clock: on five minutes, where the ranges allow it.
//!
//! Enters: a puzzle and its best times. Leaves: times on a grid, each length at most about one
//! step of the grid further from its middle. What is tied together by lengths without a range
//! moves as one; of such a group as many times as possible fall on the grid.

use super::clock::{Instant, MINUTE};
use super::graph::{Doing, Graph, Hands, Stretch};
use super::planned::{Anchor, PlanRequest};
use super::solve::{Gap, Grid, Puzzle, Solution, attempt};

/// Puzzles that are tried where not everything can be on the grid together.
const MAX_TRIES: usize = 60;

/// The best times on the grid; those that are given where none are near enough.
pub fn on_grid(graph: &Graph, puzzle: &Puzzle, best: Solution, asked: &PlanRequest) -> Solution {
    let Some(step) = asked.grid.filter(|&step| step > 0) else { return best };
    let Some(full) = full_step(asked, step) else { return best };
    let groups = groups(puzzle, &best.times);
    let shown = shown(graph, puzzle.points);
    let wanted: Vec<Vec<i64>> =
        groups.iter().map(|group| places(group, &best.times, &shown, step, full)).collect();
    let most = best.cost.saturating_add(allowance(puzzle, step));
    let near = |grid: Grid| {
        let found = attempt(&puzzle.on_grid(grid))?;
        let cost = puzzle.cost(&found.times);
        (cost <= most).then_some(Solution { cost, proven: found.proven && best.proven, ..found })
    };
    let own = |group: &TiedPoints| best.times[group.first].rem_euclid(step);
    let grid = |chosen: &[i64]| grid(&groups, chosen, puzzle.points, step);
    let first: Vec<i64> = groups
        .iter()
        .zip(&wanted)
        .map(|(it, places)| *places.first().unwrap_or(&own(it)))
        .collect();
    if let Some(found) = near(grid(&first)) {
        return found;
    }
    // Where they are now is a grid too; from there one group after the other is moved.
    let mut chosen: Vec<i64> = groups.iter().map(own).collect();
    let mut settled = best.clone();
    let mut tries = if best.proven { 0 } else { MAX_TRIES };
    for (group, places) in wanted.iter().enumerate() {
        let own = chosen[group];
        for &place in places.iter().take_while(|&&place| place != own) {
            tries += 1;
            if tries > MAX_TRIES {
                return settled;
            }
            chosen[group] = place;
            if let Some(found) = near(grid(&chosen)) {
                settled = found;
                break;
            }
            chosen[group] = own;
        }
    }
    settled
}

/// How much more a plan may cost for being on the grid: one step for each range. What is less
/// is no distance from a middle that anybody would notice.
fn allowance(puzzle: &Puzzle, step: i64) -> i64 {
    let each = puzzle.gaps.iter().filter(|gap| gap.wish.is_some());
    let each = each.map(|gap| i128::from(gap.price) * i128::from(step));
    i64::try_from(each.sum::<i128>()).unwrap_or(i64::MAX)
}

/// The place of full steps: by the clock on the wall, which is some hours beside UTC.
fn full_step(asked: &PlanRequest, step: i64) -> Option<i64> {
    let (Anchor::Ready(about) | Anchor::ReadyBy(about) | Anchor::Start(about)) = asked.anchor;
    let offset = asked.zone.offset(about);
    (step <= 60 * MINUTE).then(|| (-offset).rem_euclid(step))
}

/// Points that are tied together, each with how much later it is than the first.
struct TiedPoints {
    first: usize,
    points: Vec<(usize, i64)>,
    /// Whether its times are given.
    is_fixed: bool,
}

fn groups(puzzle: &Puzzle, times: &[Instant]) -> Vec<TiedPoints> {
    let is_rigid = |gap: &&Gap| gap.most == Some(gap.least);
    let mut heads: Vec<usize> = (0..puzzle.points).collect();
    let fixed: Vec<usize> = puzzle.fixed.iter().map(|&(point, _)| point).collect();
    let together = fixed.windows(2).map(|pair| (pair[0], pair[1]));
    let rigid = puzzle.gaps.iter().filter(is_rigid).map(|gap| (gap.from, gap.to));
    for (one, two) in rigid.chain(together) {
        let (one, two) = (heads[one], heads[two]);
        let low = one.min(two);
        heads.iter_mut().filter(|head| **head == one || **head == two).for_each(|it| *it = low);
    }
    let mut groups: Vec<TiedPoints> = Vec::new();
    for point in 0..times.len().min(puzzle.points) {
        let group = groups.iter_mut().find(|group| heads[group.first] == heads[point]);
        match group {
            Some(group) => group.points.push((point, times[point] - times[group.first])),
            None => {
                groups.push(TiedPoints { first: point, points: vec![(point, 0)], is_fixed: false })
            }
        }
    }
    for group in &mut groups {
        group.is_fixed = group.points.iter().any(|(point, _)| fixed.contains(point));
    }
    groups
}

/// How much it matters that a point is on the grid: what stands first on a line twice as much
/// as a fold in it.
fn shown(graph: &Graph, points: usize) -> Vec<u32> {
    let mut shown = vec![0; points];
    let mut show = |point: usize, weight: u32| {
        if let Some(known) = shown.get_mut(point) {
            *known = weight.max(*known);
        }
    };
    let is_task = |stretch: &&Stretch| match stretch.doing {
        Doing::Order | Doing::Fold { .. } | Doing::Folding { .. } | Doing::Keep { .. } => false,
        _ => stretch.hands != Hands::Off || stretch.high.as_ref().is_none_or(|it| !it.is_zero()),
    };
    for stretch in graph.stretches.iter().filter(is_task) {
        show(stretch.from, 2);
    }
    let folds = graph.stretches.iter().filter(|it| matches!(it.doing, Doing::Fold { .. }));
    folds.for_each(|fold| show(fold.to, 1));
    shown
}

/// The places of a group's first point that bring something onto the grid, the best first; of
/// equal ones the nearest to where it is.
fn places(group: &TiedPoints, times: &[Instant], shown: &[u32], step: i64, full: i64) -> Vec<i64> {
    let first = times[group.first];
    // What happens at once is one time on the clock.
    let mut moments: Vec<(i64, u32)> = Vec::new();
    for &(point, later) in group.points.iter().filter(|&&(point, _)| shown[point] > 0) {
        match moments.iter_mut().find(|(at, _)| *at == later) {
            Some((_, weight)) => *weight = shown[point].max(*weight),
            None => moments.push((later, shown[point])),
        }
    }
    if group.is_fixed {
        return vec![first.rem_euclid(step)];
    }
    if moments.is_empty() {
        return vec![full];
    }
    let place = |at: i64| (full - at).rem_euclid(step);
    let mut found: Vec<(u32, i64, i64)> = Vec::new();
    for &(at, _) in &moments {
        let place = place(at);
        let on = moments.iter().filter(|(at, _)| (place + at - full).rem_euclid(step) == 0);
        let weight = on.map(|(_, weight)| weight).sum();
        let away = (place - first).rem_euclid(step);
        found.push((weight, away.min(step - away), place));
    }
    found.sort_by_key(|&(weight, away, place)| (std::cmp::Reverse(weight), away, place));
    found.dedup();
    found.into_iter().map(|(_, _, place)| place).collect()
}

/// The grid on which the first point of each group has its place.
fn grid(groups: &[TiedPoints], chosen: &[i64], points: usize, step: i64) -> Grid {
    let mut places = vec![0; points];
    for (group, place) in groups.iter().zip(chosen) {
        for &(point, later) in &group.points {
            places[point] = (place + later).rem_euclid(step);
        }
    }
    Grid { step, places }
}
