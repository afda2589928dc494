//! Asks a constraint solver whether a day can be at all: the only place that knows it.
//!
//! It is asked about less than the whole day: lengths that can be chosen take their least, the
//! machines of a group are counted and not told apart, and changes between states are left out.
//! So *impossible* holds for the day too; *possible* proves nothing. Its work is counted, and it
//! is the same each time.

use super::puzzle::{Minute, Point, Puzzle, Task, TaskPlace};
use pumpkin_conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_constraints::{cumulative, less_than_or_equals};
use pumpkin_core::Solver;
use pumpkin_core::branching::branchers::autonomous_search::AutonomousSearch;
use pumpkin_core::branching::branchers::independent_variable_value_brancher::IndependentVariableValueBrancher;
use pumpkin_core::branching::value_selection::InDomainMin;
use pumpkin_core::branching::variable_selection::Smallest;
use pumpkin_core::results::SatisfactionResult;
use pumpkin_core::termination::TerminationCondition;
use pumpkin_core::variables::{AffineView, DomainId, TransformableVariable};

/// What is asked: whether some batches can be done together.
#[derive(Debug, Clone)]
pub struct Question<'p> {
    /// The day.
    pub puzzle: &'p Puzzle,
    /// Which batches are done; builds are done where these take them.
    pub batches: Vec<bool>,
    /// Which pools count.
    pub pools: Vec<bool>,
    /// Which groups of machines count.
    pub groups: Vec<bool>,
    /// How late each due may be; none where it may be as late as it likes.
    pub late: Vec<Option<Minute>>,
    /// Nothing ends later.
    pub finish: Option<Minute>,
}

/// What was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProofAnswer {
    /// It can't be, whoever plans it.
    Impossible,
    /// Nothing speaks against it.
    Open,
    /// The work did not suffice to tell.
    Unknown,
}

/// Stops after so many looks of the solver.
struct Counted(u64);

impl TerminationCondition for Counted {
    fn should_stop(&mut self) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 == 0
    }
}

impl<'p> Question<'p> {
    /// Whether all batches can be done, as late as they like.
    pub fn all(puzzle: &'p Puzzle) -> Self {
        Self {
            puzzle,
            batches: vec![true; puzzle.batches.len()],
            pools: vec![true; puzzle.pools.len()],
            groups: vec![true; puzzle.groups.len()],
            late: vec![None; puzzle.dues.len()],
            finish: None,
        }
    }

    /// Whether what is asked is impossible, as far as so much work tells.
    pub fn ask(&self, work: u64) -> ProofAnswer {
        let mut model = Model::new(self);
        if model.solver.is_inconsistent() {
            return ProofAnswer::Impossible;
        }
        let selector = Smallest::new(&model.free);
        let first = IndependentVariableValueBrancher::new(selector, InDomainMin);
        let mut brancher = AutonomousSearch::new(first);
        let mut resolver = ResolutionResolver::default();
        match model.solver.satisfy(&mut brancher, &mut Counted(work), &mut resolver) {
            SatisfactionResult::Satisfiable(_) => ProofAnswer::Open,
            SatisfactionResult::Unsatisfiable(..) => ProofAnswer::Impossible,
            SatisfactionResult::Unknown(..) => ProofAnswer::Unknown,
        }
    }

    /// Which tasks are done: those of the batches, and of the builds that they take.
    fn tasks(&self) -> Vec<bool> {
        let mut done: Vec<bool> = (self.batches.iter().zip(&self.puzzle.batches))
            .map(|(asked, batch)| *asked && !batch.is_build)
            .collect();
        let batch = |point: Point| self.puzzle.tasks[point.task()].batch;
        for due in &self.puzzle.dues {
            let of = self.puzzle.tasks[due.task].batch;
            done[of] |= self.batches[of];
        }
        loop {
            let needed = self.puzzle.lags.iter().map(|lag| (batch(lag.from), batch(lag.to)));
            let needed = needed.filter(|&(from, to)| {
                done[to] && !done[from] && self.puzzle.batches[from].is_build
            });
            let needed: Vec<usize> = needed.map(|(from, _)| from).collect();
            if needed.is_empty() {
                break;
            }
            needed.into_iter().for_each(|build| done[build] = true);
        }
        self.puzzle.tasks.iter().map(|task| done[task.batch] || task.fixed.is_some()).collect()
    }

    /// First start and last start of a task, from zero; its last end counts what is due.
    fn window(&self, at: usize, task: &Task) -> (Minute, Minute) {
        let first = self.puzzle.span.0;
        if let Some(place) = task.fixed {
            return (place.start - first, place.start - first);
        }
        let mut from = task.window.0.max(first);
        let mut to = task.window.1.min(self.puzzle.span.1);
        to = self.finish.map_or(to, |finish| to.min(finish));
        for (due, late) in self.puzzle.dues.iter().zip(&self.late).filter(|(due, _)| due.task == at)
        {
            to = late.map_or(to, |late| to.min(due.by + late));
            from = due.after.map_or(from, |after| from.max(after - task.length.1));
        }
        (from - first, to - task.length.0 - first)
    }
}

/// A task's start and end.
type Ends = (AffineView<DomainId>, AffineView<DomainId>);

/// The day as the solver knows it.
struct Model<'q> {
    question: &'q Question<'q>,
    solver: Solver,
    /// Starts and ends of tasks that are done.
    points: Vec<Option<Ends>>,
    /// What is to be chosen.
    free: Vec<DomainId>,
}

impl<'q> Model<'q> {
    fn new(question: &'q Question<'q>) -> Self {
        let done = question.tasks();
        let mut model =
            Self { question, solver: Solver::default(), points: Vec::new(), free: Vec::new() };
        for (at, task) in question.puzzle.tasks.iter().enumerate() {
            let points = done[at].then(|| model.task(at, task));
            if points == Some(None) {
                return model.impossible();
            }
            model.points.push(points.flatten());
        }
        for lag in &question.puzzle.lags {
            let (Some(from), Some(to)) = (model.point(lag.from), model.point(lag.to)) else {
                continue;
            };
            let is_fixed = |point: Point| question.puzzle.tasks[point.task()].fixed.is_some();
            if is_fixed(lag.from) && is_fixed(lag.to) {
                continue;
            }
            model.apart(from, to, lag.least);
            if let Some(most) = lag.most {
                model.apart(to, from, -most);
            }
        }
        model.pools();
        model.machines();
        model
    }

    /// A model of what can't be.
    fn impossible(mut self) -> Self {
        let never = self.solver.new_bounded_integer(0, 0);
        self.apart(never.offset(0), never.offset(0), 1);
        self
    }

    /// A task's two ends; none where its window is too short.
    fn task(&mut self, at: usize, task: &Task) -> Option<Ends> {
        let (from, to) = self.question.window(at, task);
        if from > to {
            return None;
        }
        let start = self.solver.new_bounded_integer(from, to);
        self.free.push(start);
        let fixed = task.fixed.map(|place: TaskPlace| place.end - place.start);
        let (least, most) = fixed.map_or(task.length, |length| (length, length));
        if least == most {
            return Some((start.offset(0), start.offset(least)));
        }
        let end = self.solver.new_bounded_integer(from + least, to + most);
        self.free.push(end);
        let (start, end) = (start.offset(0), end.offset(0));
        self.apart(start, end, least);
        self.apart(end, start, -most);
        let after = self.question.puzzle.dues.iter().filter(|due| due.task == at);
        let after = after.filter_map(|due| due.after).max();
        let zero = self.solver.new_bounded_integer(0, 0).offset(0);
        if let Some(after) = after {
            self.apart(zero, end, after - self.question.puzzle.span.0);
        }
        // The window is of the least length: its end holds for longer ones too.
        self.apart(end, zero, -(to + least));
        Some((start, end))
    }

    fn point(&self, point: Point) -> Option<AffineView<DomainId>> {
        let (start, end) = (*self.points.get(point.task())?)?;
        Some(if matches!(point, Point::Start(_)) { start } else { end })
    }

    /// One point is at least so much later than another.
    fn apart(&mut self, from: AffineView<DomainId>, to: AffineView<DomainId>, least: Minute) {
        if self.solver.is_inconsistent() {
            return;
        }
        let tag = self.solver.new_constraint_tag();
        let terms = [from.scaled(1), to.scaled(-1)];
        self.solver.add_constraint(less_than_or_equals(terms, -least, tag)).post();
    }

    /// No more is taken of a pool than there is: the most there ever is, less what is missing.
    fn pools(&mut self) {
        let puzzle = self.question.puzzle;
        for (at, pool) in puzzle.pools.iter().enumerate().filter(|(at, _)| self.question.pools[*at])
        {
            let most = pool.levels.iter().map(|(_, many)| *many).max().unwrap_or(0);
            let mut uses = self.uses(|task| {
                let own = task.takes.iter().filter(|(pool, _)| *pool == at);
                own.map(|(_, amount)| *amount).sum()
            });
            let mut edges: Vec<(Minute, i32)> = vec![(puzzle.span.0, pool.at(puzzle.span.0))];
            edges.extend(pool.levels.iter().filter(|(from, _)| *from > puzzle.span.0));
            edges.retain(|(from, _)| *from < puzzle.span.1);
            let ends = edges.iter().skip(1).map(|(from, _)| *from).chain([puzzle.span.1]);
            let missing: Vec<_> = (edges.iter().zip(ends))
                .filter(|((from, many), to)| *many < most && from < to)
                .map(|(&(from, many), to)| (from - puzzle.span.0, to - from, most - many))
                .collect();
            for (from, length, many) in missing {
                let start = self.solver.new_bounded_integer(from, from).offset(0);
                uses.push((start, length, many));
            }
            self.within(uses, most);
        }
    }

    /// No more machines are taken than there are of those that do.
    fn machines(&mut self) {
        let puzzle = self.question.puzzle;
        for (at, group) in puzzle.groups.iter().enumerate() {
            if !self.question.groups[at] {
                continue;
            }
            let on = puzzle.tasks.iter().filter_map(|task| task.on.as_ref());
            let mut sets: Vec<&Vec<usize>> =
                on.filter(|on| on.group == at).map(|on| &on.machines).collect();
            let every: Vec<usize> = (0..group.machines.len()).collect();
            sets.push(&every);
            sets.sort();
            sets.dedup();
            for set in sets {
                let uses = self.uses(|task| {
                    let on = task.on.as_ref().filter(|on| on.group == at);
                    let within =
                        |on: &super::puzzle::On| on.machines.iter().all(|one| set.contains(one));
                    i32::from(on.is_some_and(within))
                });
                self.within(uses, i32::try_from(set.len()).unwrap_or(i32::MAX));
            }
        }
    }

    /// Starts, least lengths and amounts of the tasks that are done and take something. What is
    /// fixed may take too much: it is left out where it would.
    fn uses(&self, amount: impl Fn(&Task) -> i32) -> Vec<(AffineView<DomainId>, Minute, i32)> {
        let tasks = self.question.puzzle.tasks.iter().zip(&self.points);
        let uses = tasks.filter_map(|(task, points)| {
            let (start, _) = (*points)?;
            let length = task.fixed.map_or(task.length.0, |place| place.end - place.start);
            Some((start, length, amount(task))).filter(|_| task.fixed.is_none())
        });
        uses.filter(|(_, length, many)| *many > 0 && *length > 0).collect()
    }

    fn within(&mut self, uses: Vec<(AffineView<DomainId>, Minute, i32)>, most: i32) {
        if self.solver.is_inconsistent() || uses.is_empty() {
            return;
        }
        if uses.iter().any(|(_, _, many)| *many > most) {
            let never = self.solver.new_bounded_integer(0, 0).offset(0);
            self.apart(never, never, 1);
            return;
        }
        let starts: Vec<_> = uses.iter().map(|(start, ..)| *start).collect();
        let lengths: Vec<Minute> = uses.iter().map(|(_, length, _)| *length).collect();
        let amounts: Vec<i32> = uses.iter().map(|(.., many)| *many).collect();
        let tag = self.solver.new_constraint_tag();
        self.solver.add_constraint(cumulative(starts, lengths, amounts, most, tag)).post();
    }
}
