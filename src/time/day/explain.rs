//! Why a day is late or leaves something out, and what would help.
//!
//! A batch that can't be in time alone in an empty house has itself to blame. Else a smallest
//! set of batches is looked for that can't all be in time together, with the pools and machines
//! that matter: with any one of them gone, nothing is proven any more. Each way out is tried
//! before it is told.

use super::bound::{alone, looks};
use super::layout::Layout;
use super::plan::{self, DayPlan, Effort};
use super::proof::{ProofAnswer, Question};
use super::puzzle::{Machine, Minute, Puzzle};
use super::sorted::Sorted;

/// Why something is late or left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cause {
    /// The batches that can't all be done in time.
    pub batches: Vec<usize>,
    /// What is to blame.
    pub why: Why,
    /// What would help, what helps most first.
    pub ways: Vec<WayOut>,
    /// Whether more changes were to be tried when the work ended.
    pub is_cut: bool,
}

/// What is to blame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// The batch can't be done at all, even alone in an empty house.
    Never,
    /// Even alone in an empty house it is not done before this minute; where it would be in time if
    /// it might be done sooner than its dues allow, the minute at which it would be.
    Alone(Minute, Option<Minute>),
    /// All of them can't be in time together with what there is of these; any fewer can, as far
    /// as is known.
    Together {
        /// Pools that matter.
        pools: Vec<usize>,
        /// Groups of machines that matter.
        groups: Vec<usize>,
    },
    /// No plan was found that is in time; there may be one.
    Unknown,
}

/// A way out, and what the day is then.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WayOut {
    /// What is changed.
    pub change: Change,
    /// The weight that is left out then.
    pub left_out: i64,
    /// Minutes late then, weighed.
    pub lateness: i64,
}

/// A change of the day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// These dues at these minutes.
    By(Vec<(usize, Minute)>),
    /// There is of this pool from this minute on what there was only later.
    Earlier(usize, Minute),
    /// Without this batch.
    Without(usize),
    /// One more of a pool, whenever there is any.
    OneMore(usize),
    /// One more machine in a group.
    OneMoreMachine(usize),
}

impl Change {
    /// Whether both change the same kind of thing.
    fn is_like(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Earlier(one, _), Self::Earlier(two, _))
            | (Self::OneMore(one), Self::OneMore(two))
            | (Self::OneMoreMachine(one), Self::OneMoreMachine(two)) => one == two,
            (Self::By(_), Self::By(_)) | (Self::Without(_), Self::Without(_)) => true,
            _ => false,
        }
    }
}

/// How many causes are looked for.
const CAUSES: usize = 3;

/// Why a plan is late or leaves something out; nothing where it doesn't.
pub fn explain(puzzle: &Puzzle, found: &DayPlan, effort: Effort) -> Vec<Cause> {
    if found.late.is_empty() && found.left_out.is_empty() {
        return Vec::new();
    }
    let sorted = Sorted::new(puzzle);
    let mut causes: Vec<Cause> = Vec::new();
    let mut batches = blameless(&sorted.puzzle, &mut causes);
    let is_bad = bad(&sorted, found);
    while causes.len() < CAUSES {
        let Some(cause) = together(&sorted.puzzle, &batches, &is_bad) else { break };
        cause.batches.iter().for_each(|&batch| batches[batch] = false);
        causes.push(cause);
    }
    // What no cause names, and no proof reaches.
    let named = |batch: usize| causes.iter().any(|cause| cause.batches.contains(&batch));
    let rest: Vec<usize> =
        (0..is_bad.len()).filter(|&batch| is_bad[batch] && !named(batch)).collect();
    if causes.is_empty() && !rest.is_empty() {
        let (why, ways) = (Why::Unknown, Vec::new());
        causes.push(Cause { batches: rest, why, ways, is_cut: false });
    }
    let mut causes: Vec<Cause> = causes.into_iter().map(|cause| back(&sorted, cause)).collect();
    let mut trials = Trials::new(puzzle, effort);
    for cause in &mut causes {
        (cause.ways, cause.is_cut) = ways(found, cause, &mut trials);
    }
    causes
}

/// Days with a change, each planned once, as long as there is work for them.
struct Trials<'p> {
    puzzle: &'p Puzzle,
    effort: Effort,
    /// Placings that all of them may still try.
    left: u64,
    /// What is left out and how late it is with a change.
    known: Vec<(Change, (i64, i64))>,
}

impl<'p> Trials<'p> {
    fn new(puzzle: &'p Puzzle, effort: Effort) -> Self {
        /// Placings for all changes of a day, and how often what one may try.
        const PLACINGS: u64 = 40_000;
        const CHANGES: u64 = 20;
        let left = PLACINGS.max(effort.placings.saturating_mul(CHANGES));
        Self { puzzle, effort, left, known: Vec::new() }
    }

    /// What is left out and how late the day is with a change; none where no work is left.
    fn with(&mut self, change: &Change, other: &Puzzle) -> Option<(i64, i64)> {
        if let Some((_, worth)) = self.known.iter().find(|(known, _)| known == change) {
            return Some(*worth);
        }
        if self.left == 0 {
            return None;
        }
        let plan = plan::found(other, self.effort);
        self.left = self.left.saturating_sub(plan.placed);
        let left_out = plan.left_out.iter().map(|&batch| self.puzzle.batches[batch].weight.max(1));
        let worth = (left_out.sum(), plan.lateness);
        self.known.push((change.clone(), worth));
        Some(worth)
    }
}

/// Which batches are late or left out, in the sorted order.
fn bad(sorted: &Sorted, found: &DayPlan) -> Vec<bool> {
    let late = |batch: usize| {
        found.late.iter().any(|&(due, _)| {
            let of = (0..sorted.puzzle.dues.len()).find(|&at| sorted.due_back(at) == due);
            of.is_some_and(|at| sorted.puzzle.tasks[sorted.puzzle.dues[at].task].batch == batch)
        })
    };
    let out = |batch: usize| found.left_out.contains(&sorted.batch_back(batch));
    (0..sorted.puzzle.batches.len()).map(|batch| late(batch) || out(batch)).collect()
}

/// The batches that can be in time alone; the others are told.
fn blameless(puzzle: &Puzzle, causes: &mut Vec<Cause>) -> Vec<bool> {
    /// Minutes of a day: what may be done sooner may be done on the day before.
    const DAY: Minute = 24 * 60;
    let product = |batch: usize| puzzle.batches[batch].name.rsplit_once(' ').map(|it| it.0);
    let layout = Layout::new(puzzle);
    let mut batches = vec![true; puzzle.batches.len()];
    let mut free = puzzle.clone();
    free.dues.iter_mut().for_each(|due| due.after = due.after.map(|after| after - DAY));
    let at_any_time = alone(&Layout::new(&free));
    for (batch, first) in alone(&layout) {
        let root = layout.trees[batch].as_ref().map(|tree| tree.nodes[0].point.task());
        let dues = layout.dues[batch].iter().map(|&due| &puzzle.dues[due]);
        let by = dues.filter(|due| root == Some(due.task)).map(|due| due.by).min();
        let why = match first {
            None => Some(Why::Never),
            Some(first) => by.filter(|by| first > *by).map(|by| {
                let sooner = at_any_time.iter().find(|(other, _)| *other == batch);
                let sooner = sooner.and_then(|(_, first)| *first).filter(|first| *first <= by);
                Why::Alone(first, sooner)
            }),
        };
        if let Some(why) = why {
            batches[batch] = false;
            // Batches of one product that are alike in this are told together.
            let is_like =
                |it: &&mut Cause| it.why == why && product(it.batches[0]) == product(batch);
            if let Some(same) = causes.iter_mut().find(is_like) {
                same.batches.push(batch);
                continue;
            }
            causes.push(Cause { batches: vec![batch], why, ways: Vec::new(), is_cut: false });
        }
    }
    batches
}

/// A smallest set of batches that can't be in time together, if one is proven.
fn together(puzzle: &Puzzle, batches: &[bool], is_bad: &[bool]) -> Option<Cause> {
    let work = looks(puzzle) / 4;
    let wanted = |batch: usize| puzzle.dues.iter().any(|due| puzzle.tasks[due.task].batch == batch);
    let late = vec![Some(0); puzzle.dues.len()];
    let mut question = Question { late, batches: batches.to_vec(), ..Question::all(puzzle) };
    if work == 0 || question.ask(work) != ProofAnswer::Impossible {
        return None;
    }
    // Boards rather than hands and ovens are left out of the blame, and what is in time in the
    // plan rather than what is late.
    let pools = |is_hands: bool| {
        (0..puzzle.pools.len()).filter(move |&pool| puzzle.pools[pool].is_hands == is_hands)
    };
    let groups = |is_oven: bool| {
        (0..puzzle.groups.len()).filter(move |&group| puzzle.groups[group].is_oven == is_oven)
    };
    let mut order: Vec<usize> = (0..batches.len()).filter(|&batch| batches[batch]).collect();
    order.retain(|&batch| !puzzle.batches[batch].is_build || wanted(batch));
    order.sort_by_key(|&batch| is_bad[batch]);
    for pool in pools(false) {
        shrink(&mut question, &[pool], work, |question| &mut question.pools);
    }
    for group in groups(false) {
        shrink(&mut question, &[group], work, |question| &mut question.groups);
    }
    shrink(&mut question, &order, work, |question| &mut question.batches);
    for pool in pools(false).chain(pools(true)) {
        shrink(&mut question, &[pool], work, |question| &mut question.pools);
    }
    for group in groups(false).chain(groups(true)) {
        shrink(&mut question, &[group], work, |question| &mut question.groups);
    }
    let left = |kept: &[bool]| (0..kept.len()).filter(|&at| kept[at]).collect::<Vec<_>>();
    let mut members = left(&question.batches);
    members.retain(|&batch| !puzzle.batches[batch].is_build || wanted(batch));
    Some(Cause {
        batches: members,
        why: Why::Together { pools: left(&question.pools), groups: left(&question.groups) },
        ways: Vec::new(),
        is_cut: false,
    })
}

/// Leaves out what can be left out with the rest still impossible, many at a time, then fewer.
fn shrink(
    question: &mut Question,
    order: &[usize],
    work: u64,
    part: impl for<'q> Fn(&'q mut Question) -> &'q mut Vec<bool>,
) {
    let mut size = order.len().div_ceil(2).max(1);
    loop {
        for some in order.chunks(size) {
            let before = part(question).clone();
            some.iter().for_each(|&at| part(question)[at] = false);
            if *part(question) != before && question.ask(work) != ProofAnswer::Impossible {
                *part(question) = before;
            }
        }
        if size == 1 {
            break;
        }
        size = size.div_ceil(2);
    }
}

/// A cause in the numbers of the puzzle as it was.
fn back(sorted: &Sorted, cause: Cause) -> Cause {
    let mut batches: Vec<usize> =
        cause.batches.iter().map(|&batch| sorted.batch_back(batch)).collect();
    batches.sort_unstable();
    let why = match cause.why {
        Why::Together { pools, groups } => Why::Together {
            pools: pools.into_iter().map(|pool| sorted.pool_back(pool)).collect(),
            groups: groups.into_iter().map(|group| sorted.group_back(group)).collect(),
        },
        why => why,
    };
    Cause { batches, why, ..cause }
}

/// The changes that help, each tried; and whether more were to be tried.
fn ways(found: &DayPlan, cause: &Cause, trials: &mut Trials) -> (Vec<WayOut>, bool) {
    let puzzle = trials.puzzle;
    let mut ways: Vec<WayOut> = by(puzzle, found, cause).into_iter().collect();
    let mut is_cut = false;
    for change in changes(puzzle, found, cause) {
        let Some(other) = changed(puzzle, &change) else { continue };
        let Some((left_out, lateness)) = trials.with(&change, &other) else {
            is_cut = true;
            continue;
        };
        let weight = |&batch: &usize| puzzle.batches[batch].weight.max(1);
        // Without what finds no place, that finds none: more than that has to be gained.
        let own = match &change {
            Change::Without(batch) if found.left_out.contains(batch) => weight(batch),
            _ => 0,
        };
        let now = (found.left_out.iter().map(weight).sum::<i64>() - own, found.lateness);
        let is_better = match now.0 {
            0 => (left_out, lateness) < now,
            _ => left_out < now.0,
        };
        if is_better {
            ways.push(WayOut { change, left_out, lateness });
        }
    }
    // What helps most of each kind; alike, what changes least: it was tried first.
    ways.sort_by_key(|way| (way.left_out, way.lateness));
    let mut best: Vec<WayOut> = Vec::new();
    for way in ways {
        if !best.iter().any(|other| other.change.is_like(&way.change)) {
            best.push(way);
        }
    }
    (best, is_cut)
}

/// The later times at which the plan has what is late of the orders of these batches, whatever
/// other batches of those orders are late too: the plan itself shows that they can be kept. None
/// where something finds no place: a later time does not change that.
fn by(puzzle: &Puzzle, found: &DayPlan, cause: &Cause) -> Option<WayOut> {
    let is_of = |due: usize| cause.batches.contains(&puzzle.tasks[puzzle.dues[due].task].batch);
    let orders: Vec<usize> = (found.late.iter())
        .filter(|(due, _)| is_of(*due))
        .map(|(due, _)| puzzle.dues[*due].order)
        .collect();
    let late: Vec<(usize, Minute)> = (found.late.iter())
        .filter(|(due, _)| orders.contains(&puzzle.dues[*due].order))
        .copied()
        .collect();
    let gain: i64 =
        late.iter().map(|&(due, minutes)| puzzle.dues[due].weight * i64::from(minutes)).sum();
    let dues: Vec<(usize, Minute)> =
        late.iter().map(|&(due, minutes)| (due, puzzle.dues[due].by + minutes)).collect();
    let way = WayOut { change: Change::By(dues), left_out: 0, lateness: found.lateness - gain };
    (!late.is_empty() && found.left_out.is_empty()).then_some(way)
}

/// Changes that may help.
fn changes(puzzle: &Puzzle, found: &DayPlan, cause: &Cause) -> Vec<Change> {
    /// How much earlier a shift begins, in minutes; how many batches are tried.
    const EARLIER: [Minute; 3] = [30, 60, 120];
    const BATCHES: usize = 3;
    let of = |at: &usize| puzzle.tasks[puzzle.dues[*at].task].batch;
    let (pools, groups): (Vec<usize>, Vec<usize>) = match &cause.why {
        Why::Together { pools, groups } => (pools.clone(), groups.clone()),
        Why::Never | Why::Alone(..) => ((0..puzzle.pools.len()).collect(), Vec::new()),
        Why::Unknown => ((0..puzzle.pools.len()).collect(), (0..puzzle.groups.len()).collect()),
    };
    let mut changes = Vec::new();
    let dues = (0..puzzle.dues.len()).filter(|at| cause.batches.contains(&of(at)));
    let first_due = dues.map(|at| puzzle.dues[at].by).min().unwrap_or(puzzle.span.1);
    for &pool in &pools {
        changes.push(Change::OneMore(pool));
        // The last time before the first due that there is more than before.
        let levels = &puzzle.pools[pool].levels;
        let mut opens =
            levels.windows(2).rev().filter(|pair| pair[0].1 < pair[1].1 && pair[1].0 < first_due);
        if let Some(pair) = opens.next().filter(|_| puzzle.pools[pool].is_hands) {
            let least = pair[0].0;
            let earlier = EARLIER.iter().map(|by| pair[1].0 - by).filter(|from| *from >= least);
            changes.extend(earlier.map(|from| Change::Earlier(pool, from)));
        }
    }
    changes.extend(groups.iter().map(|&group| Change::OneMoreMachine(group)));
    if cause.batches.len() > 1 {
        let is_late = |batch: &usize| {
            found.left_out.contains(batch) || found.late.iter().any(|(due, _)| of(due) == *batch)
        };
        let mut some = cause.batches.clone();
        some.sort_by_key(|batch| (!is_late(batch), puzzle.batches[*batch].weight));
        changes.extend(some.into_iter().take(BATCHES).map(Change::Without));
    }
    changes
}

/// The day with a change; none where that changes nothing.
pub fn changed(puzzle: &Puzzle, change: &Change) -> Option<Puzzle> {
    let mut other = puzzle.clone();
    match *change {
        Change::By(ref dues) => dues.iter().for_each(|&(due, by)| other.dues[due].by = by),
        Change::Earlier(pool, from) => {
            let levels = &mut other.pools[pool].levels;
            let at = levels
                .windows(2)
                .position(|pair| pair[0].0 <= from && from < pair[1].0 && pair[0].1 < pair[1].1)?;
            levels[at + 1].0 = from;
        }
        Change::Without(batch) => without(&mut other, batch),
        Change::OneMore(pool) => {
            let levels = &mut other.pools[pool].levels;
            levels.iter_mut().filter(|(_, many)| *many > 0).for_each(|(_, many)| *many += 1);
        }
        Change::OneMoreMachine(group) => {
            let machines = &mut other.groups[group].machines;
            let number = machines.len();
            machines.push(Machine { name: format!("{number} more"), ..Machine::default() });
            let on = other.tasks.iter_mut().filter_map(|task| task.on.as_mut());
            on.filter(|on| on.group == group).for_each(|on| on.machines.push(number));
        }
    }
    Some(other)
}

/// Takes all that a batch asks for out of a puzzle; its tasks stay, so that numbers hold, as those
/// of a build that nothing takes.
fn without(puzzle: &mut Puzzle, batch: usize) {
    let own: Vec<bool> = puzzle.tasks.iter().map(|task| task.batch == batch).collect();
    puzzle.dues.retain(|due| !own[due.task]);
    puzzle.lags.retain(|lag| own[lag.from.task()] == own[lag.to.task()]);
    puzzle.batches[batch].is_build = true;
}
