//! A day that has begun: what is done stays where it was, and the rest is planned anew.

use super::begun::{EarlierTask, Work, WorkLoad, WorkTake};
use super::builds::{Build, Taker};
use super::kept::described;
use super::making::Making;
use super::segs::i32;
use super::shape::Shape;
use super::work::{Laid, Planned, shape_of};
use crate::formula::House;
use crate::quantity::display::exact;
use crate::time::day::{Lag, Minute, Point, Task, TaskPlace};

/// Every task of a day that is planned, as an earlier plan.
pub fn known(planned: &Planned) -> Vec<EarlierTask> {
    let puzzle = &planned.laid.puzzle;
    let tasks = puzzle.tasks.iter().zip(&planned.plan.places);
    let known = tasks.filter_map(|(task, place)| {
        let place = (*place)?;
        let group = task.on.as_ref().and_then(|on| puzzle.groups.get(on.group));
        let machine = group.and_then(|group| group.machines.get(place.machine));
        Some(EarlierTask {
            id: task.name.clone(),
            from: place.start,
            to: place.end,
            machine: machine.map(|machine| machine.name.clone()),
            done: false,
        })
    });
    known.collect()
}

/// All batches and builds of a plan.
pub fn works(house: &House, planned: &Planned) -> Vec<Work> {
    let laid = &planned.laid;
    let (making, builds) = (&laid.making, laid.builds.as_slice());
    let name = |taker: Taker| laid.named.iter().find(|it| it.0 == taker);
    let all = laid.named.iter().filter_map(|(taker, id, first)| {
        let (taker, first) = (*taker, *first);
        let shape = shape_of(making, builds, taker)?;
        let place = |task: usize| planned.place(first + task);
        let mut work = match laid.changed(taker) {
            Some(work) => work.clone(),
            None => of_taker(house, making, builds, taker, id, shape, &|task| {
                laid.puzzle.tasks.get(first + task).map(|it| it.name.clone()).unwrap_or_default()
            })?,
        };
        for (task, own) in work.tasks.iter_mut().enumerate() {
            (own.from, own.to) = (place(task).map(|it| it.start), place(task).map(|it| it.end));
        }
        if let Taker::Build(build) = taker {
            let takes = builds.get(build)?.takes.iter().filter_map(|take| {
                let by = name(take.taker)?.1.clone();
                Some(WorkTake { by, port: take.port, grams: exact(&take.grams) })
            });
            work.takes = takes.collect();
        }
        Some(work)
    });
    all.collect()
}

fn of_taker(
    house: &House,
    making: &Making,
    builds: &[Build],
    taker: Taker,
    id: &str,
    shape: &Shape,
    ids: &dyn Fn(usize) -> String,
) -> Option<Work> {
    let ids: Vec<String> = (0..shape.tasks.len()).map(ids).collect();
    let (product, size, number, build) = match taker {
        Taker::Batch(place) => {
            let batch = making.batches.get(place)?;
            (batch.product, batch.size, batch.number, None)
        }
        Taker::Build(place) => {
            let build = builds.get(place)?;
            (build.like.0, build.like.1, build.number, Some(build))
        }
    };
    let product = making.products.get(product)?;
    let sized = product.sizes.get(size)?;
    let built = build.map(Build::as_built);
    let of = (&sized.worked, sized.pieces.as_slice(), product.kinds.as_slice());
    let mut work = described(house, of, (id, number), (shape, built.as_ref()), &ids);
    if let Taker::Batch(place) = taker {
        let kind = |kind: usize| product.kind(kind).map(|kind| kind.key.to_string());
        let loads = making.batches.get(place)?.loads.iter();
        work.loads =
            loads.map(|load| WorkLoad { kind: kind(load.kind), pieces: load.pieces }).collect();
    }
    Some(work)
}

/// Holds what is done or under way where it was; all else is not begun before now, and rather
/// stays than moves. How many tasks that are begun the day no longer has, or has on no machine.
pub fn freeze(laid: &mut Laid) -> usize {
    let begun = laid.begun.clone();
    let groups = laid.puzzle.groups.clone();
    let mut lost = 0;
    for task in &mut laid.puzzle.tasks {
        let known = begun.tasks.iter().find(|(known, _)| known.id == task.name);
        let is_begun = known.is_some_and(|(_, begun)| *begun);
        let place = known.map(|(known, _)| {
            let group = task.on.as_ref().and_then(|on| groups.get(on.group));
            let machine = group.and_then(|group| {
                group.machines.iter().position(|it| Some(&it.name) == known.machine.as_ref())
            });
            lost += usize::from(is_begun && group.is_some() && machine.is_none());
            TaskPlace { start: known.from, end: known.to, machine: machine.unwrap_or(0) }
        });
        if task.fixed.is_none() {
            hold(task, place, is_begun, begun.now);
        }
    }
    if let Some(now) = begun.now {
        begun.through.iter().for_each(|(id, _)| let_go_on(laid, id, now));
    }
    let is_there = |known: &EarlierTask| laid.puzzle.tasks.iter().any(|task| task.name == known.id);
    lost + begun.tasks.iter().filter(|(known, begun)| *begun && !is_there(known)).count()
}

/// What follows the steps that a batch or build is through may follow now, however long they were to
/// last; and it has a while for that, where they lasted longer. What follows keeps its own order: a
/// load that waits for hands to score it waits before the oven too.
fn let_go_on(laid: &mut Laid, id: &str, now: Minute) {
    /// Minutes that a dough may still wait which is through a step.
    const A_WHILE: Minute = 60;
    let first = laid.named.iter().find(|(_, name, _)| name == id).map(|it| it.2);
    let work = laid.begun.works.iter().find(|work| work.id == id);
    let (Some(first), Some(work)) = (first, work) else { return };
    let distances = work.distances();
    let last = first + work.tasks.len();
    // It goes on as soon as can be, and not when it was to.
    for task in laid.puzzle.tasks.iter_mut().take(last).skip(first) {
        task.before = None;
    }
    let tasks = laid.puzzle.tasks.as_slice();
    let own = |task: usize| (first..last).contains(&task);
    let mut open: Vec<Point> = Vec::new();
    for lag in &mut laid.puzzle.lags {
        let (from, to) = (lag.from.task(), lag.to.task());
        if !own(from) || !own(to) {
            continue;
        }
        match (tasks[from].fixed, tasks[to].fixed) {
            (Some(place), None) => {
                let waited = now - lag.from.of(place);
                let later = waited + A_WHILE + lag.least.max(0);
                lag.least = lag.least.min(waited);
                lag.most = lag.most.map(|most| most.max(later));
                open.push(lag.to);
            }
            (None, Some(place)) => {
                let waited = lag.to.of(place) - now;
                let later = waited - A_WHILE - lag.most.map_or(0, |most| (-most).max(0));
                lag.least = lag.least.min(later);
                lag.most = lag.most.map(|most| most.max(waited));
                open.push(lag.from);
            }
            _ => {}
        }
    }
    open.sort_unstable();
    open.dedup();
    let load = |point: Point| work.tasks.get(point.task() - first).and_then(|task| task.load);
    let number = |point: Point| shifted(point, first).number();
    for (place, &one) in open.iter().enumerate() {
        for &two in open.iter().skip(place + 1).filter(|two| load(**two) == load(one)) {
            let (one_at, two_at) = (number(one), number(two));
            let (Some(least), most) =
                (distances.least(one_at, two_at), distances.most(one_at, two_at))
            else {
                continue;
            };
            let minutes = |minutes: i64| i32(minutes);
            // Which of them is first stays as it was.
            let (from, to, least, most) = match least >= 0 {
                true => (one, two, least, most),
                false => match most.filter(|most| *most <= 0) {
                    Some(most) => (two, one, -most, Some(-least)),
                    None => continue,
                },
            };
            // What waited for each other may wait no longer than it could, or a while.
            let most = most.map(|most| minutes(most).max(minutes(least)));
            laid.puzzle.lags.push(Lag { from, to, least: minutes(least), most });
        }
    }
}

/// A point of a batch's own tasks, by their places in it.
fn shifted(point: Point, first: usize) -> Point {
    match point {
        Point::Start(task) => Point::Start(task - first),
        Point::End(task) => Point::End(task - first),
    }
}

/// What is wrong with a plan of a day that has begun: each task that is begun is where it was, once,
/// on the machine it was on, and meets nothing there. Counts by names and shares nothing with what
/// made the plan.
pub fn moved(planned: &Planned) -> Vec<String> {
    let puzzle = &planned.laid.puzzle;
    let mut wrong = Vec::new();
    let machine = |task: usize, place: TaskPlace| {
        let on = puzzle.tasks.get(task)?.on.as_ref()?;
        Some(puzzle.groups.get(on.group)?.machines.get(place.machine)?.name.clone())
    };
    for (known, _) in planned.laid.begun.tasks.iter().filter(|(_, begun)| *begun) {
        let own = puzzle.tasks.iter().enumerate().filter(|(_, task)| task.name == known.id);
        let own: Vec<Option<TaskPlace>> = own.map(|(task, _)| planned.place(task)).collect();
        let task = puzzle.tasks.iter().position(|task| task.name == known.id).unwrap_or(0);
        match own.as_slice() {
            [Some(place)]
                if (place.start, place.end) == (known.from, known.to)
                    && machine(task, *place) == known.machine => {}
            _ => wrong.push(known.id.clone()),
        }
    }
    let on_machines: Vec<(String, TaskPlace, &str)> = (0..puzzle.tasks.len())
        .filter_map(|task| {
            let place = planned.place(task)?;
            Some((machine(task, place)?, place, puzzle.tasks[task].name.as_str()))
        })
        .collect();
    for (place, (name, one, task)) in on_machines.iter().enumerate() {
        let meets = |(other, two, _): &&(String, TaskPlace, &str)| {
            other == name && one.start < two.end && two.start < one.end
        };
        wrong.extend(
            on_machines.iter().skip(place + 1).find(meets).map(|(.., it)| format!("{task}, {it}")),
        );
    }
    wrong
}

fn hold(task: &mut Task, place: Option<TaskPlace>, is_done: bool, now: Option<Minute>) {
    task.before = place;
    task.fixed = place.filter(|_| is_done);
    if let (None, Some(now)) = (task.fixed, now) {
        task.window.0 = task.window.0.max(now);
    }
}
