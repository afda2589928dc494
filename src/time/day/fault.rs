//! What a puzzle must be to be planned at all.

use super::puzzle::{Lag, Puzzle, Task, TaskPlace};

/// Why a puzzle is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// Its last minute is before its first, or more than [`MAX_MINUTES`] after it.
    Span,
    /// More tasks than [`MAX_TASKS`].
    TooMany,
    /// A task that names what there is not, or whose lengths are no lengths.
    Task(usize),
    /// A lag that names what there is not, or is too long.
    Lag(usize),
    /// A due that names what there is not.
    Due(usize),
    /// A batch that weighs less than nothing, or too much.
    Batch(usize),
    /// A group whose changes are not one row of numbers for each state.
    Group(usize),
}

/// The longest span: three weeks.
pub const MAX_MINUTES: i32 = 21 * 24 * 60;
/// The most tasks of a day.
pub const MAX_TASKS: usize = 20_000;
/// No minute or amount is larger, and no weight, so that nothing overflows.
const MOST: i32 = 100_000_000;
/// The most that a minute late, or a batch, may weigh.
const MAX_WEIGHT: i64 = 1_000_000;

/// What is wrong with a puzzle, if anything.
pub fn fault(puzzle: &Puzzle) -> Option<Fault> {
    let (from, to) = puzzle.span;
    if !is_small(from) || !is_small(to) || to < from || to - from > MAX_MINUTES {
        return Some(Fault::Span);
    }
    if puzzle.tasks.len() > MAX_TASKS {
        return Some(Fault::TooMany);
    }
    let tasks = puzzle.tasks.iter().position(|task| !is_task(puzzle, task)).map(Fault::Task);
    let lags = || puzzle.lags.iter().position(|lag| !is_lag(puzzle, lag)).map(Fault::Lag);
    let dues = || {
        let sound = |due: &super::puzzle::Due| {
            let small = is_small(due.by) && due.after.is_none_or(is_small);
            due.task < puzzle.tasks.len() && small && (0..=MAX_WEIGHT).contains(&due.weight)
        };
        puzzle.dues.iter().position(|due| !sound(due)).map(Fault::Due)
    };
    let groups = || {
        let sound = |group: &super::puzzle::MachineGroup| {
            let mut all = group.changes.iter().flatten();
            all.all(|minutes| (0..=MAX_MINUTES).contains(minutes))
        };
        puzzle.groups.iter().position(|group| !sound(group)).map(Fault::Group)
    };
    let batches = || {
        let mut all = puzzle.batches.iter();
        all.position(|batch| !(0..=MAX_WEIGHT).contains(&batch.weight)).map(Fault::Batch)
    };
    tasks.or_else(lags).or_else(dues).or_else(groups).or_else(batches)
}

fn is_small(number: i32) -> bool {
    (-MOST..=MOST).contains(&number)
}

fn is_task(puzzle: &Puzzle, task: &Task) -> bool {
    let (least, most) = task.length;
    let numbers = [least, most, task.window.0, task.window.1];
    let is_taken = |&(pool, amount): &(usize, i32)| {
        pool < puzzle.pools.len() && amount >= 0 && is_small(amount)
    };
    let machines = task.on.as_ref().map(|on| {
        puzzle.groups.get(on.group).is_some_and(|group| {
            !on.machines.is_empty() && on.machines.iter().all(|&at| at < group.machines.len())
        })
    });
    let machine = |place: TaskPlace| {
        let group = task.on.as_ref().and_then(|on| puzzle.groups.get(on.group));
        group.is_none_or(|group| place.machine < group.machines.len())
    };
    let is_place = |place: TaskPlace| {
        is_small(place.start) && is_small(place.end) && place.start <= place.end && machine(place)
    };
    task.batch < puzzle.batches.len()
        && numbers.into_iter().all(is_small)
        && 0 <= least
        && least <= most
        && task.takes.iter().all(is_taken)
        && machines.unwrap_or(true)
        && [task.fixed, task.before].into_iter().flatten().all(is_place)
}

fn is_lag(puzzle: &Puzzle, lag: &Lag) -> bool {
    let tasks = puzzle.tasks.len();
    lag.from.task() < tasks
        && lag.to.task() < tasks
        && is_small(lag.least)
        && lag.most.is_none_or(is_small)
}
