//! From a puzzle to the day that is shown.

use super::bound::{Bound, bound, raise};
use super::check::check;
use super::fault::{Fault, fault};
use super::layout::Layout;
use super::puzzle::{Aim, Minute, Puzzle, TaskPlace};
use super::score::{Score, finish, left_out, score};
use super::search::search;
use super::slack::snapped;
use super::sorted::Sorted;
use super::state::State;

/// How much work a plan may take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Placings of a batch that are tried at most.
    pub placings: u64,
}

impl Effort {
    /// What a day deserves: more for more batches, fewer where each has many tasks. 60 batches of
    /// eight tasks take some seconds, 200 of twenty half a minute.
    pub fn of(puzzle: &Puzzle) -> Self {
        /// Placings for each batch, and in all; tasks that are placed in all.
        const EACH: u64 = 10_000;
        const MOST: u64 = 700_000;
        const MOST_TASKS: u64 = 5_400_000;
        let count = |many: usize| u64::try_from(many).unwrap_or(MOST).max(1);
        let (batches, tasks) = (count(puzzle.batches.len()), count(puzzle.tasks.len()));
        Self { placings: (batches * EACH).min(MOST).min(MOST_TASKS * batches / tasks) }
    }
}

/// A day as it can be worked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayPlan {
    /// Where each task is; nowhere, where its batch is left out.
    pub places: Vec<Option<TaskPlace>>,
    /// The batches that are left out.
    pub left_out: Vec<usize>,
    /// What is late, of the dues, and by how many minutes.
    pub late: Vec<(usize, Minute)>,
    /// Minutes late, weighed.
    pub lateness: i64,
    /// When the last task ends.
    pub finish: Minute,
    /// What no plan is better than.
    pub bound: Bound,
    /// Whether no plan leaves out less, is less late, or does more of what the house prefers.
    pub is_proven: bool,
    /// For each task that takes hands, which pair, from 0.
    pub hands: Vec<Option<usize>>,
    /// Placings that were tried.
    pub placed: u64,
}

/// The best plan that so much work finds: checked, and the same each time. How good it is, is not
/// asked; [`prove`] does that: it takes longer than the plan itself where there are many tasks, and
/// of plans that are only compared nobody wants to know.
///
/// # Errors
/// Where the puzzle names what it doesn't have.
pub fn unproven(puzzle: &Puzzle, effort: Effort) -> Result<DayPlan, Fault> {
    match fault(puzzle) {
        Some(fault) => Err(fault),
        None => Ok(on_grid(puzzle, effort)),
    }
}

/// Raises what no plan is better than as far as it can be proven, and says whether this one is the
/// best.
pub fn prove(puzzle: &Puzzle, plan: &mut DayPlan) {
    let worth = score(puzzle, &plan.places);
    plan.bound = raise(&Sorted::new(puzzle).puzzle, plan.bound, &worth, plan.finish);
    plan.is_proven = worth.left_out <= plan.bound.left_out
        && worth.late <= plan.bound.lateness
        && is_best(puzzle, &worth, plan.bound);
}

/// The best plan that is found with its starts on the grid. Plain clock times may make nothing
/// late: where that plan leaves out something or is late, another is made to the minute, and its
/// starts are moved to the grid as far as that changes nothing else.
fn on_grid(puzzle: &Puzzle, effort: Effort) -> DayPlan {
    let plan = found(puzzle, effort);
    if puzzle.grid < 2 || (plan.left_out.is_empty() && plan.lateness == 0) {
        return plan;
    }
    let exact = found(&Puzzle { grid: 0, ..puzzle.clone() }, effort);
    let places = snapped(puzzle, &exact.places);
    let (bound, placed) = (exact.bound, plan.placed + exact.placed);
    let exact = match check(puzzle, &places).is_empty() {
        true => read_off(puzzle, places, bound, placed),
        false => exact,
    };
    let worth = |plan: &DayPlan| {
        let worth = score(puzzle, &plan.places);
        (worth.left_out, worth.late)
    };
    match worth(&exact) < worth(&plan) {
        true => exact,
        false => DayPlan { bound, placed, ..plan },
    }
}

/// The best plan that is found for a sound puzzle, without proofs.
///
/// Where as few hands as can be are wanted, it is tried with one pair, with two and so on, until
/// nothing more is late or left out than with all.
pub fn found(puzzle: &Puzzle, effort: Effort) -> DayPlan {
    let all = found_with(puzzle, effort);
    let worth = |plan: &DayPlan| {
        let worth = score(puzzle, &plan.places);
        (worth.left_out, worth.late, worth.moved)
    };
    // What the house prefers makes nothing late: another aim may have found a better day.
    let is_bad = !all.left_out.is_empty() || all.lateness > 0;
    let all = match puzzle.aim {
        Aim::LeastHands | Aim::FewestOvenChanges if is_bad => {
            let early = Puzzle { aim: Aim::FinishEarly, ..puzzle.clone() };
            let early = found_with(&early, effort);
            if worth(&early) < worth(&all) { DayPlan { bound: all.bound, ..early } } else { all }
        }
        _ => all,
    };
    if puzzle.aim != Aim::LeastHands {
        return all;
    }
    let most = score(puzzle, &all.places).aim.0;
    for pairs in 1..i32::try_from(most).unwrap_or(1) {
        let fewer = found_with(&with_pairs(puzzle, pairs), effort);
        if worth(&fewer) <= worth(&all) {
            return DayPlan { bound: all.bound, ..fewer };
        }
    }
    all
}

/// The puzzle with so many pairs of hands at most.
fn with_pairs(puzzle: &Puzzle, pairs: i32) -> Puzzle {
    let mut fewer = puzzle.clone();
    let hands = fewer.pools.iter_mut().filter(|pool| pool.is_hands);
    for (_, many) in hands.flat_map(|pool| &mut pool.levels) {
        *many = (*many).min(pairs);
    }
    fewer
}

/// The best plan that is found.
fn found_with(puzzle: &Puzzle, effort: Effort) -> DayPlan {
    let sorted = Sorted::new(puzzle);
    let layout = Layout::new(&sorted.puzzle);
    let bound = bound(&layout);
    let found = search(&layout, effort.placings, bound);
    let mut state = State::new(&layout);
    state.restore(&found.saved);
    let mut places = sorted.places_back(&state.places());
    // A plan that is wrong is none: rather nothing is placed than something wrongly.
    if !check(puzzle, &places).is_empty() {
        places = puzzle.tasks.iter().map(|task| task.fixed).collect();
    }
    read_off(puzzle, places, bound, found.tried)
}

/// What is to be said of a plan.
fn read_off(puzzle: &Puzzle, places: Vec<Option<TaskPlace>>, bound: Bound, placed: u64) -> DayPlan {
    DayPlan {
        left_out: left_out(puzzle, &places),
        late: late(puzzle, &places),
        lateness: score(puzzle, &places).late,
        finish: finish(&places),
        bound,
        is_proven: false,
        hands: hands(puzzle, &places),
        placed,
        places,
    }
}

/// Whether nothing does more of what the house prefers.
fn is_best(puzzle: &Puzzle, worth: &Score, bound: Bound) -> bool {
    let finish = i64::from(puzzle.end_counted(bound.finish));
    match puzzle.aim {
        // Where there is nothing to do, nothing can be done better.
        _ if puzzle.tasks.is_empty() => true,
        Aim::FinishEarly => worth.aim.0 <= finish,
        Aim::FewestOvenChanges => worth.aim.0 == 0 && worth.aim.1 <= finish,
        Aim::LeastHands => {
            let takes = |task: &super::puzzle::Task| -> i64 {
                let many = task.takes.iter().filter(|(pool, _)| puzzle.pools[*pool].is_hands);
                many.map(|(_, many)| i64::from(*many)).sum()
            };
            let most = puzzle.tasks.iter().map(takes).max().unwrap_or(0);
            let minutes = puzzle.tasks.iter().map(|task| takes(task) * i64::from(task.length.0));
            worth.left_out == 0 && worth.aim <= (most, (minutes.sum::<i64>() + 59) / 60)
        }
    }
}

/// What is late, and by how much.
fn late(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<(usize, Minute)> {
    let late = puzzle.dues.iter().enumerate().filter_map(|(at, due)| {
        let end = places[due.task]?.end;
        (end > due.by).then_some((at, end - due.by))
    });
    late.collect()
}

/// Which pair does what: the pair with the lowest number that is free.
pub fn hands(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Option<usize>> {
    let mut pairs = vec![None; places.len()];
    for pool in (0..puzzle.pools.len()).filter(|&pool| puzzle.pools[pool].is_hands) {
        let takes = |task: usize| {
            puzzle.tasks[task].takes.iter().any(|(of, many)| *of == pool && *many > 0)
        };
        // Of what begins and ends together the names decide: they stay the same in a later plan.
        let mut order: Vec<(Minute, Minute, &str, usize)> = (places.iter().enumerate())
            .filter(|(task, _)| takes(*task))
            .filter_map(|(task, place)| {
                let name = puzzle.tasks[task].name.as_str();
                Some(((*place)?.start, (*place)?.end, name, task))
            })
            .collect();
        order.sort_unstable();
        let mut busy: Vec<Minute> = Vec::new();
        for (start, end, _, task) in order {
            let amounts = puzzle.tasks[task].takes.iter().filter(|(of, _)| *of == pool);
            for _ in 0..amounts.map(|(_, amount)| *amount).sum::<i32>() {
                let free = busy.iter().position(|until| *until <= start);
                let pair = free.unwrap_or_else(|| {
                    busy.push(end);
                    busy.len() - 1
                });
                busy[pair] = end;
                pairs[task] = Some(pairs[task].map_or(pair, |first: usize| first.min(pair)));
            }
        }
    }
    pairs
}
