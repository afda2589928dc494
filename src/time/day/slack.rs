//! What can be moved in a plan with all else where it is: how late each task may begin, with what
//! follows of its own batch moved along; and starts moved to the grid.
//!
//! Points of a batch that are a fixed time apart move as one. For the latest times, from the last
//! of them to the first, each is moved later until something would not hold.

use super::puzzle::{Minute, Point, Puzzle, TaskPlace};

/// The last start of each task in a plan without a break from the one it has; none where it has no
/// place, or is fixed.
pub fn latest(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Option<Minute>> {
    let mut latest = vec![None; puzzle.tasks.len()];
    let rows = rows(puzzle);
    for batch in 0..puzzle.batches.len() {
        let mut moved = Moved { puzzle, places: places.to_vec(), first: places };
        let mut own: Vec<&Vec<Point>> =
            rows.iter().filter(|row| row.iter().any(|it| moved.is_open(*it, batch))).collect();
        own.sort_by_key(|row| std::cmp::Reverse(moved.begins(row)));
        for row in own {
            moved.shift(row);
        }
        for (task, place) in moved.places.iter().enumerate() {
            if moved.is_open(Point::Start(task), batch) {
                latest[task] = place.map(|place| place.start);
            }
        }
    }
    latest
}

/// A plan's places with as many starts on the grid as get there by a step less than the grid's, all
/// else staying: later rather than earlier, the last first.
pub fn snapped(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> Vec<Option<TaskPlace>> {
    const ROUNDS: usize = 3;
    let rows = rows(puzzle);
    let mut moved = Moved { puzzle, places: places.to_vec(), first: places };
    for _ in 0..ROUNDS {
        let mut order: Vec<&Vec<Point>> = rows.iter().collect();
        order.sort_by_key(|row| std::cmp::Reverse(moved.begins(row)));
        for row in order {
            let starts = row.iter().filter_map(|point| match point {
                Point::Start(task) if puzzle.tasks[*task].on_grid => moved.places[*task],
                _ => None,
            });
            let off = starts.map(|place| place.start.rem_euclid(puzzle.grid.max(1))).max();
            let Some(off) = off.filter(|off| *off > 0) else { continue };
            let _ = moved.move_by(row, puzzle.grid - off) || moved.move_by(row, -off);
        }
    }
    moved.places
}

/// Points that are a fixed time apart, together.
fn rows(puzzle: &Puzzle) -> Vec<Vec<Point>> {
    let mut of: Vec<usize> = (0..2 * puzzle.tasks.len()).collect();
    let mut join = |one: Point, two: Point| {
        let (one, two) = (of[one.number()], of[two.number()]);
        of.iter_mut().filter(|row| **row == two).for_each(|row| *row = one);
    };
    for (task, it) in puzzle.tasks.iter().enumerate() {
        if it.length.0 == it.length.1 {
            join(Point::Start(task), Point::End(task));
        }
    }
    for lag in puzzle.lags.iter().filter(|lag| lag.most == Some(lag.least)) {
        join(lag.from, lag.to);
    }
    let points = (0..puzzle.tasks.len()).flat_map(|task| [Point::Start(task), Point::End(task)]);
    let mut rows: Vec<Vec<Point>> = vec![Vec::new(); of.len()];
    points.for_each(|point| rows[of[point.number()]].push(point));
    rows.retain(|row| !row.is_empty());
    rows
}

/// A plan in which one batch is moved later.
struct Moved<'p> {
    puzzle: &'p Puzzle,
    places: Vec<Option<TaskPlace>>,
    /// As the plan has it.
    first: &'p [Option<TaskPlace>],
}

impl Moved<'_> {
    /// Whether a point is of a batch and can be moved.
    fn is_open(&self, point: Point, batch: usize) -> bool {
        let task = &self.puzzle.tasks[point.task()];
        task.batch == batch && task.fixed.is_none() && self.places[point.task()].is_some()
    }

    fn begins(&self, row: &[Point]) -> Minute {
        let of = |point: &Point| Some(point.of(self.places[point.task()]?));
        row.iter().filter_map(of).max().unwrap_or(0)
    }

    /// Moves a row as far as it goes.
    fn shift(&mut self, row: &[Point]) {
        while self.move_by(row, self.puzzle.grid.max(1)) {}
    }

    /// Moves a row by some minutes, if all of it can be there.
    fn move_by(&mut self, row: &[Point], minutes: Minute) -> bool {
        let is_fixed = |point: &Point| self.puzzle.tasks[point.task()].fixed.is_some();
        if row.iter().any(|point| is_fixed(point) || self.places[point.task()].is_none()) {
            return false;
        }
        let mut tasks: Vec<usize> = row.iter().map(|point| point.task()).collect();
        tasks.dedup();
        let before: Vec<(usize, Option<TaskPlace>)> =
            tasks.iter().map(|&task| (task, self.places[task])).collect();
        for point in row {
            let Some(place) = &mut self.places[point.task()] else { continue };
            match point {
                Point::Start(_) => place.start += minutes,
                Point::End(_) => place.end += minutes,
            }
        }
        let holds = tasks.iter().all(|&task| self.holds(task));
        if !holds {
            for (task, place) in before {
                self.places[task] = place;
            }
        }
        holds
    }

    /// Whether everything about a task holds as it is now.
    fn holds(&self, task: usize) -> bool {
        let Some(place) = self.places[task] else { return true };
        let of = &self.puzzle.tasks[task];
        let length = place.end - place.start;
        let first = of.window.0.max(self.puzzle.span.0);
        let last = of.window.1.min(self.puzzle.span.1);
        (of.length.0..=of.length.1).contains(&length)
            && (first..=last).contains(&place.start)
            && place.end <= last
            && self.is_in_time(task, place)
            && self.lags_hold(task)
            && self.is_machine_free(task, place)
            && of.takes.iter().all(|&(pool, _)| self.is_pool_enough(pool, place))
    }

    /// No later than it is wanted, or than the plan has it; and not too early to be fresh.
    fn is_in_time(&self, task: usize, place: TaskPlace) -> bool {
        let planned = self.first[task].map_or(place.end, |planned| planned.end);
        let mut dues = self.puzzle.dues.iter().filter(|due| due.task == task);
        dues.all(|due| {
            place.end <= due.by.max(planned) && due.after.is_none_or(|after| after <= place.end)
        })
    }

    fn lags_hold(&self, task: usize) -> bool {
        let at = |point: Point| self.places[point.task()].map(|place| point.of(place));
        let own =
            self.puzzle.lags.iter().filter(|lag| lag.from.task() == task || lag.to.task() == task);
        own.filter_map(|lag| Some((lag, at(lag.to)? - at(lag.from)?)))
            .all(|(lag, apart)| apart >= lag.least && lag.most.is_none_or(|most| apart <= most))
    }

    fn is_machine_free(&self, task: usize, place: TaskPlace) -> bool {
        let Some(on) = &self.puzzle.tasks[task].on else { return true };
        let group = &self.puzzle.groups[on.group];
        let machine = group.machines.get(place.machine);
        let closed = machine.into_iter().flat_map(|machine| &machine.closed);
        let is_open = closed.clone().all(|(from, to)| place.end <= *from || *to <= place.start);
        let others = self.puzzle.tasks.iter().zip(&self.places).enumerate();
        let mut others = others.filter_map(|(other, (it, at))| {
            let its = it.on.as_ref().filter(|its| other != task && its.group == on.group)?;
            at.filter(|at| at.machine == place.machine).map(|at| (its, at))
        });
        is_open
            && others.all(|(its, at)| {
                at.end + group.change(its.leaves, on.enters) <= place.start
                    || place.end + group.change(on.leaves, its.enters) <= at.start
            })
    }

    /// Whether there is enough of a pool in each minute of a place.
    fn is_pool_enough(&self, pool: usize, place: TaskPlace) -> bool {
        let levels = &self.puzzle.pools[pool];
        let takers = self.puzzle.tasks.iter().zip(&self.places).filter_map(|(task, at)| {
            let amount: i32 =
                task.takes.iter().filter(|(of, _)| *of == pool).map(|(_, amount)| *amount).sum();
            at.filter(|at| amount > 0 && at.start < place.end && place.start < at.end)
                .map(|at| (at, amount))
        });
        let takers: Vec<(TaskPlace, i32)> = takers.collect();
        // What is taken changes only where something begins, and what there is at its levels.
        let begins =
            takers.iter().map(|(at, _)| at.start).chain(levels.levels.iter().map(|it| it.0));
        let inside = begins.filter(|at| (place.start..place.end).contains(at));
        inside.chain([place.start]).all(|minute| {
            let here = takers.iter().filter(|(at, _)| at.start <= minute && minute < at.end);
            here.map(|(_, amount)| *amount).sum::<i32>() <= levels.at(minute)
        })
    }
}
