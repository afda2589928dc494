//! Whether a plan keeps everything that its puzzle asks for.
//!
//! Shares nothing with what makes plans but the puzzle's own types: it counts minute by minute,
//! and is in no hurry.

use super::puzzle::{Due, Minute, Point, Puzzle, Task, TaskPlace};

/// What a plan does not keep.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wrong {
    /// There is not one place for each task.
    Count,
    /// Longer or shorter than the task may be.
    Length(usize),
    /// Begun before the task may be, or ended after.
    Window(usize),
    /// What is done or under way is somewhere else.
    Moved(usize),
    /// On a machine that doesn't do for the task.
    Machine(usize),
    /// On a machine that is closed.
    Closed(usize),
    /// Two tasks on one machine at a time, or without the time to change between them.
    Together(usize, usize),
    /// Too near or too far apart: the place of the lag.
    Lag(usize),
    /// More of a pool is taken than there is, at this minute.
    Over(usize, Minute),
    /// Done before it may be: the place of the due.
    Early(usize),
    /// A batch of which only a part is done.
    Half(usize),
    /// A batch without a build that it takes: the batch, the build.
    NoBuild(usize, usize),
    /// A build that nothing takes.
    Idle(usize),
}

/// All that is wrong with a plan; nothing, where it can be worked.
pub fn check(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Wrong> {
    if places.len() != puzzle.tasks.len() {
        return vec![Wrong::Count];
    }
    let mut wrong = Vec::new();
    for (at, (task, place)) in puzzle.tasks.iter().zip(places).enumerate() {
        wrong.extend(place.and_then(|place| own(puzzle, at, task, place)));
        if place.is_none() && task.fixed.is_some() {
            wrong.push(Wrong::Moved(at));
        }
    }
    wrong.extend(lags(puzzle, places));
    wrong.extend(pools(puzzle, places));
    wrong.extend(machines(puzzle, places));
    wrong.extend(batches(puzzle, places));
    let is_early = |due: &Due| {
        let free = |task: &Task| task.fixed.is_none();
        let end = places.get(due.task).copied().flatten().map(|place| place.end);
        puzzle.tasks.get(due.task).is_some_and(free)
            && end.zip(due.after).is_some_and(|(end, after)| end < after)
    };
    let early = puzzle.dues.iter().enumerate().filter(|(_, due)| is_early(due));
    wrong.extend(early.map(|(at, _)| Wrong::Early(at)));
    wrong
}

/// What is wrong with a task by itself.
fn own(puzzle: &Puzzle, at: usize, task: &Task, place: TaskPlace) -> Option<Wrong> {
    if let Some(fixed) = task.fixed {
        return (fixed != place).then_some(Wrong::Moved(at));
    }
    let length = place.end - place.start;
    if length < task.length.0 || length > task.length.1 {
        return Some(Wrong::Length(at));
    }
    let (from, to) = (task.window.0.max(puzzle.span.0), task.window.1.min(puzzle.span.1));
    if place.start < from || place.end > to {
        return Some(Wrong::Window(at));
    }
    let on = task.on.as_ref()?;
    let machine = puzzle.groups.get(on.group).and_then(|group| group.machines.get(place.machine));
    let Some(machine) = machine.filter(|_| on.machines.contains(&place.machine)) else {
        return Some(Wrong::Machine(at));
    };
    let meets = |&(from, to): &(Minute, Minute)| place.start < to && from < place.end;
    machine.closed.iter().any(meets).then_some(Wrong::Closed(at))
}

/// Lags that don't hold. Two ends of what is fixed are as they are.
fn lags(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Wrong> {
    let of = |point: Point| places.get(point.task()).copied().flatten().map(|p| point.of(p));
    let is_fixed = |point: Point| puzzle.tasks[point.task()].fixed.is_some();
    let mut wrong = Vec::new();
    for (at, lag) in puzzle.lags.iter().enumerate() {
        let Some((from, to)) = of(lag.from).zip(of(lag.to)) else { continue };
        let apart = to - from;
        let holds = apart >= lag.least && lag.most.is_none_or(|most| apart <= most);
        let is_done = is_fixed(lag.from) && is_fixed(lag.to);
        if !holds && !is_done {
            wrong.push(Wrong::Lag(at));
        }
    }
    wrong
}

/// Minutes in which more is taken than there is, each pool's first. What is fixed alone may.
fn pools(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    for (at, pool) in puzzle.pools.iter().enumerate() {
        let takers: Vec<(TaskPlace, i32, bool)> = (puzzle.tasks.iter().zip(places))
            .filter_map(|(task, place)| {
                let takes = task.takes.iter().filter(|(pool, _)| *pool == at);
                let amount: i32 = takes.map(|(_, amount)| *amount).sum();
                Some(((*place)?, amount, task.fixed.is_some())).filter(|(_, many, _)| *many > 0)
            })
            .collect();
        let over = |minute: &Minute| {
            let here = |place: &TaskPlace| place.start <= *minute && *minute < place.end;
            let now = takers.iter().filter(|(place, ..)| here(place));
            let (taken, free) =
                now.fold((0, false), |(sum, free), (_, many, fixed)| (sum + many, free | !fixed));
            free && taken > pool.at(*minute)
        };
        wrong.extend((puzzle.span.0..puzzle.span.1).find(over).map(|min| Wrong::Over(at, min)));
    }
    wrong
}

/// Tasks that meet on a machine, or are too near for what has to change between them.
fn machines(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let placed = || puzzle.tasks.iter().zip(places).enumerate();
    for (one, (task, place)) in placed() {
        let Some((on, place)) = task.on.as_ref().zip(*place) else { continue };
        let group = &puzzle.groups[on.group];
        let begins = group.machines.get(place.machine).and_then(|machine| machine.begins);
        if let Some((minute, state)) = begins {
            let before = place.end + group.change(on.leaves, state) <= minute;
            let after = minute + group.change(state, on.enters) <= place.start;
            let changes =
                group.change(on.leaves, state) != 0 || group.change(state, on.enters) != 0;
            if changes && !before && !after && task.fixed.is_none() {
                wrong.push(Wrong::Together(one, one));
            }
        }
        for (two, (other, beside)) in placed().skip(one + 1) {
            let Some((other_on, beside)) = other.on.as_ref().zip(*beside) else { continue };
            let both_fixed = task.fixed.is_some() && other.fixed.is_some();
            if other_on.group != on.group || beside.machine != place.machine || both_fixed {
                continue;
            }
            let first = place.end + group.change(on.leaves, other_on.enters) <= beside.start;
            let second = beside.end + group.change(other_on.leaves, on.enters) <= place.start;
            if !first && !second {
                wrong.push(Wrong::Together(one, two));
            }
        }
    }
    wrong
}

/// Batches in part, batches without their builds, builds for nothing.
fn batches(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let of = |batch: usize| {
        let own = puzzle.tasks.iter().zip(places).filter(move |(task, _)| task.batch == batch);
        own.map(|(task, place)| (task.fixed.is_some(), place.is_some()))
    };
    let is_done = |batch: usize| of(batch).all(|(_, placed)| placed);
    for (at, batch) in puzzle.batches.iter().enumerate() {
        if !is_done(at) && of(at).any(|(fixed, placed)| placed && !fixed) {
            wrong.push(Wrong::Half(at));
        }
        let takers = takers(puzzle, at);
        if batch.is_build && !is_done(at) {
            // What was done without it was done.
            let is_over = |batch: usize| of(batch).all(|(fixed, _)| fixed);
            let without = takers.iter().filter(|one| is_done(**one) && !is_over(**one));
            wrong.extend(without.map(|taker| Wrong::NoBuild(*taker, at)));
        }
        let was_begun = of(at).any(|(fixed, _)| fixed);
        let is_due = puzzle.dues.iter().any(|due| puzzle.tasks[due.task].batch == at);
        let is_idle = of(at).next().is_some()
            && !was_begun
            && !is_due
            && !takers.iter().any(|one| is_done(*one));
        if batch.is_build && is_done(at) && is_idle {
            wrong.push(Wrong::Idle(at));
        }
    }
    wrong
}

/// Whom a build is for.
fn takers(puzzle: &Puzzle, build: usize) -> Vec<usize> {
    let batch = |point: Point| puzzle.tasks[point.task()].batch;
    let own = puzzle.lags.iter().filter(|lag| batch(lag.from) == build && batch(lag.to) != build);
    let mut takers: Vec<usize> = own.map(|lag| batch(lag.to)).collect();
    takers.sort_unstable();
    takers.dedup();
    takers
}
