//! What a plan is worth: levels, each of which counts only where those before it are alike.

use super::puzzle::{Aim, Minute, Puzzle, TaskPlace};
use std::collections::BTreeMap;

/// Less is better, level by level.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Score {
    /// The weight of what is left out.
    pub left_out: i64,
    /// Minutes late, weighed.
    pub late: i64,
    /// What moved against an earlier plan: tasks, then minutes.
    pub moved: (i64, i64),
    /// What the house prefers.
    pub aim: (i64, i64),
    /// How long things stand before they are due, weighed: squared, so that what is wanted first
    /// is done first.
    pub stands: i64,
    /// How long things take or wait: the sum of all lengths.
    pub spread: i64,
}

/// What a plan is worth.
pub fn score(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Score {
    let out = left_out(puzzle, places);
    let ends = puzzle.dues.iter().filter_map(|due| Some((due, places[due.task]?.end)));
    let (mut late, mut stands) = (0, 0);
    for (due, end) in ends {
        late += due.weight * i64::from((end - due.by).max(0));
        stands += due.weight * stands_for(due.by - end);
    }
    let end = || i64::from(puzzle.end_counted(finish(places)));
    let aim = match puzzle.aim {
        Aim::FinishEarly => (end(), 0),
        Aim::LeastHands => hands(puzzle, places),
        Aim::FewestOvenChanges => (oven_changes(puzzle, places), end()),
    };
    Score {
        left_out: out.iter().map(|&batch| puzzle.batches[batch].weight.max(1)).sum(),
        late,
        moved: moved(puzzle, places),
        aim,
        stands,
        spread: spread(puzzle, places),
    }
}

/// What it weighs that something stands for so many minutes before it is due: much longer for one
/// thing is worse than a little longer for several.
pub fn stands_for(minutes: Minute) -> i64 {
    i64::from(minutes.max(0)).pow(2)
}

/// The batches that are left out: of what is wanted for itself.
pub fn left_out(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<usize> {
    let mut is_done = vec![true; puzzle.batches.len()];
    let mut is_wanted: Vec<bool> = puzzle.batches.iter().map(|batch| !batch.is_build).collect();
    for (task, place) in puzzle.tasks.iter().zip(places) {
        is_done[task.batch] &= place.is_some();
        is_wanted[task.batch] |= task.fixed.is_some();
    }
    for due in &puzzle.dues {
        is_wanted[puzzle.tasks[due.task].batch] = true;
    }
    (0..puzzle.batches.len()).filter(|&batch| is_wanted[batch] && !is_done[batch]).collect()
}

/// When the last task ends.
pub fn finish(places: &[Option<TaskPlace>]) -> Minute {
    places.iter().flatten().map(|place| place.end).max().unwrap_or(0)
}

/// Tasks that are not where they were before, and by how many minutes.
fn moved(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> (i64, i64) {
    let both = puzzle.tasks.iter().zip(places);
    let both = both.filter_map(|(task, place)| task.before.zip(*place));
    both.filter(|(before, place)| before != place).fold((0, 0), |(tasks, minutes), (old, new)| {
        let by = (old.start - new.start).abs() + (old.end - new.end).abs();
        (tasks + 1, minutes + i64::from(by))
    })
}

/// The most hands at a time, and the hours of each pair: in each hour as many as are needed at a
/// time in it.
fn hands(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> (i64, i64) {
    let mut most: BTreeMap<(usize, Minute), i32> = BTreeMap::new();
    let mut steps: BTreeMap<(usize, Minute), i32> = BTreeMap::new();
    for (task, place) in puzzle.tasks.iter().zip(places) {
        let Some(place) = place else { continue };
        for &(pool, amount) in task.takes.iter().filter(|(pool, _)| puzzle.pools[*pool].is_hands) {
            *steps.entry((pool, place.start)).or_default() += amount;
            *steps.entry((pool, place.end)).or_default() -= amount;
        }
    }
    let (mut now, mut last) = (0, None);
    for (&(pool, minute), step) in &steps {
        if let Some((_, from)) = last.filter(|(of, _)| *of == pool && now > 0) {
            for hour in (from as Minute).div_euclid(60)..=(minute - 1).div_euclid(60) {
                let entry = most.entry((pool, hour)).or_default();
                *entry = (*entry).max(now);
            }
        }
        now += step;
        last = Some((pool, minute));
    }
    let peak = most.values().copied().max().unwrap_or(0);
    (i64::from(peak), most.values().map(|many| i64::from(*many)).sum())
}

/// How often ovens are left at one heat and entered at another.
fn oven_changes(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> i64 {
    let mut uses = Vec::new();
    for (task, place) in puzzle.tasks.iter().zip(places) {
        let Some((on, place)) = task.on.as_ref().zip(*place) else { continue };
        if puzzle.groups[on.group].is_oven {
            uses.push((on.group, place.machine, place.start, place.end, on.enters, on.leaves));
        }
    }
    for (group, of) in puzzle.groups.iter().enumerate().filter(|(_, group)| group.is_oven) {
        for (machine, one) in of.machines.iter().enumerate() {
            let begins = one.begins.map(|(at, state)| (group, machine, at, at, state, state));
            uses.extend(begins);
        }
    }
    uses.sort_unstable();
    let changes = uses.windows(2).filter(|pair| {
        let same = (pair[0].0, pair[0].1) == (pair[1].0, pair[1].1);
        same && puzzle.groups[pair[0].0].change(pair[0].5, pair[1].4) > 0
    });
    changes.count() as i64
}

/// The sum of all lengths that could be shorter, and of all waits.
fn spread(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> i64 {
    let lengths = puzzle.tasks.iter().zip(places).filter_map(|(task, place)| {
        let place = (*place)?;
        Some(i64::from(place.end - place.start - task.length.0))
    });
    let waits = puzzle.lags.iter().filter_map(|lag| {
        let from = lag.from.of(places[lag.from.task()]?);
        let to = lag.to.of(places[lag.to.task()]?);
        Some(i64::from(to - from - lag.least))
    });
    lengths.sum::<i64>() + waits.sum::<i64>()
}
