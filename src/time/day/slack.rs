//! How late each task may begin: with what follows of its own batch moved along, and all else where
//! the plan has it.
//!
//! Points of a batch that are a fixed time apart move as one. From the last of them to the first,
//! each is moved later minute by minute until something would not hold.

use super::puzzle::{Minute, Place, Point, Puzzle};

/// The last start of each task in a plan without a break from the one it has; none where it has no
/// place, or is fixed.
pub fn latest(puzzle: &Puzzle, places: &[Option<Place>]) -> Vec<Option<Minute>> {
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

/// Points that are a fixed time apart, together.
fn rows(puzzle: &Puzzle) -> Vec<Vec<Point>> {
    let number = |point: Point| match point {
        Point::Start(task) => 2 * task,
        Point::End(task) => 2 * task + 1,
    };
    let mut of: Vec<usize> = (0..2 * puzzle.tasks.len()).collect();
    let mut join = |one: Point, two: Point| {
        let (one, two) = (of[number(one)], of[number(two)]);
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
    points.for_each(|point| rows[of[number(point)]].push(point));
    rows.retain(|row| !row.is_empty());
    rows
}

/// A plan in which one batch is moved later.
struct Moved<'p> {
    puzzle: &'p Puzzle,
    places: Vec<Option<Place>>,
    /// As the plan has it.
    first: &'p [Option<Place>],
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
        let step = self.puzzle.grid.max(1);
        let is_fixed = |point: &Point| self.puzzle.tasks[point.task()].fixed.is_some();
        if row.iter().any(|point| is_fixed(point) || self.places[point.task()].is_none()) {
            return;
        }
        let mut tasks: Vec<usize> = row.iter().map(|point| point.task()).collect();
        tasks.dedup();
        loop {
            let before: Vec<(usize, Option<Place>)> =
                tasks.iter().map(|&task| (task, self.places[task])).collect();
            for point in row {
                let Some(place) = &mut self.places[point.task()] else { continue };
                match point {
                    Point::Start(_) => place.start += step,
                    Point::End(_) => place.end += step,
                }
            }
            if !tasks.iter().all(|&task| self.holds(task)) {
                for (task, place) in before {
                    self.places[task] = place;
                }
                return;
            }
        }
    }

    /// Whether everything about a task holds as it is now.
    fn holds(&self, task: usize) -> bool {
        let Some(place) = self.places[task] else { return true };
        let of = &self.puzzle.tasks[task];
        let length = place.end - place.start;
        let last = of.window.1.min(self.puzzle.span.1);
        (of.length.0..=of.length.1).contains(&length)
            && place.end <= last
            && self.is_in_time(task, place)
            && self.lags_hold(task)
            && self.is_machine_free(task, place)
            && of.takes.iter().all(|&(pool, _)| self.is_pool_enough(pool, place))
    }

    /// No later than it is wanted, or than the plan has it.
    fn is_in_time(&self, task: usize, place: Place) -> bool {
        let planned = self.first[task].map_or(place.end, |planned| planned.end);
        let mut dues = self.puzzle.dues.iter().filter(|due| due.task == task);
        dues.all(|due| place.end <= due.by.max(planned))
    }

    fn lags_hold(&self, task: usize) -> bool {
        let at = |point: Point| self.places[point.task()].map(|place| point.of(place));
        let own =
            self.puzzle.lags.iter().filter(|lag| lag.from.task() == task || lag.to.task() == task);
        own.filter_map(|lag| Some((lag, at(lag.to)? - at(lag.from)?)))
            .all(|(lag, apart)| apart >= lag.least && lag.most.is_none_or(|most| apart <= most))
    }

    fn is_machine_free(&self, task: usize, place: Place) -> bool {
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
    fn is_pool_enough(&self, pool: usize, place: Place) -> bool {
        let levels = &self.puzzle.pools[pool];
        let takers = self.puzzle.tasks.iter().zip(&self.places).filter_map(|(task, at)| {
            let amount: i32 =
                task.takes.iter().filter(|(of, _)| *of == pool).map(|(_, amount)| *amount).sum();
            at.filter(|at| amount > 0 && at.start < place.end && place.start < at.end)
                .map(|at| (at, amount))
        });
        let takers: Vec<(Place, i32)> = takers.collect();
        // What is taken changes only where something begins, and what there is at its levels.
        let begins = takers.iter().map(|(at, _)| at.start).chain(levels.levels.iter().map(|it| it.0));
        let inside = begins.filter(|at| (place.start..place.end).contains(at));
        inside.chain([place.start]).all(|minute| {
            let here = takers.iter().filter(|(at, _)| at.start <= minute && minute < at.end);
            here.map(|(_, amount)| *amount).sum::<i32>() <= levels.at(minute)
        })
    }
}
