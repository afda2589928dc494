//! Plans of production days: everything kept, by the planner's checker and by one that counts
//! minute by minute here; the same plan whatever the order of lines.

use crate::day_puzzles::{given, senseless, small};
use assize::testing::time::day::{
    Aim, Batch, Change, Due, Effort, Lag, Place, Plan, Point, Puzzle, Task, Why, Wrong, check,
    explain, plan,
};
use proptest::prelude::*;

fn planned(puzzle: &Puzzle, placings: u64) -> Plan {
    let plan = plan(puzzle, Effort { placings }).expect("a sound puzzle");
    assert_eq!(check(puzzle, &plan.places), []);
    plan
}

/// Most that tasks take at a time, counted at the starts of tasks: elsewhere nothing begins.
fn is_within(puzzle: &Puzzle, places: &[Option<Place>]) -> bool {
    let placed: Vec<_> = puzzle
        .tasks
        .iter()
        .zip(places)
        .filter_map(|(task, place)| Some((task, (*place)?)))
        .collect();
    placed.iter().all(|(_, at)| {
        let minutes = at.start..at.end;
        minutes.into_iter().all(|minute| {
            let now = placed.iter().filter(|(_, on)| on.start <= minute && minute < on.end);
            let mut left: Vec<i32> = puzzle.pools.iter().map(|pool| pool.at(minute)).collect();
            let mut machines = Vec::new();
            for (task, place) in now {
                task.takes.iter().for_each(|&(pool, amount)| left[pool] -= amount);
                machines.extend(task.on.as_ref().map(|on| (on.group, place.machine)));
            }
            let used = machines.len();
            machines.sort_unstable();
            machines.dedup();
            used == machines.len() && left.iter().all(|left| *left >= 0)
        })
    })
}

fn lags_hold(puzzle: &Puzzle, places: &[Option<Place>]) -> bool {
    let at = |point: Point| places[point.task()].map(|place| point.of(place));
    puzzle.lags.iter().all(|lag| match (at(lag.from), at(lag.to)) {
        (Some(from), Some(to)) => {
            lag.least <= to - from && lag.most.is_none_or(|most| to - from <= most)
        }
        _ => true,
    })
}

#[test]
fn twelve_batches_are_planned_in_time() {
    let day = given("bake12_1");
    let plan = planned(&day, 300);
    assert_eq!((plan.left_out.len(), plan.lateness), (0, 0));
    assert!(is_within(&day, &plan.places) && lags_hold(&day, &plan.places));
}

#[test]
fn larger_days_are_planned_with_nothing_violated() {
    for name in ["bake30_1", "bake60_1", "over12"] {
        let day = given(name);
        let plan = planned(&day, 150);
        assert!(is_within(&day, &plan.places) && lags_hold(&day, &plan.places), "{name}");
        assert!(plan.left_out.len() < 20, "{name}: {:?}", plan.left_out);
    }
}

#[test]
fn the_checker_sees_each_thing_that_is_wrong() {
    let day = given("bake12_1");
    let plan = planned(&day, 100);
    for (at, task) in day.tasks.iter().enumerate() {
        let with = |change: &dyn Fn(Place) -> Option<Place>| {
            let mut places = plan.places.clone();
            places[at] = places[at].and_then(change);
            check(&day, &places)
        };
        let later = |by| move |place: Place| Some(Place { end: place.end + by, ..place });
        let longer = task.length.1 + 1;
        assert!(with(&later(longer)).contains(&Wrong::Length(at)));
        assert!(
            with(&|_| None).contains(&Wrong::Half(task.batch))
                || day.tasks.iter().filter(|other| other.batch == task.batch).count() == 1
        );
        if task.on.is_some() {
            assert!(
                with(&|place| Some(Place { machine: 9, ..place })).contains(&Wrong::Machine(at))
            );
        }
        let away = |place: Place| {
            Some(Place { start: place.start + 5000, end: place.end + 5000, ..place })
        };
        assert!(with(&away).contains(&Wrong::Window(at)));
    }
}

#[test]
fn twelve_batches_in_time_are_proven_the_best() {
    let plan = planned(&given("bake12_1"), 300);
    assert!(plan.is_proven, "{:?}", plan.bound);
}

/// As above, with nothing that has to be fresh: the earliest end is 1318.
#[test]
fn twelve_batches_that_may_stand_end_at_their_proven_bound() {
    let mut day = given("bake12_1");
    day.dues.iter_mut().for_each(|due| due.after = None);
    let plan = planned(&day, 4000);
    assert_eq!((plan.lateness, plan.finish, plan.bound.finish), (0, 1318, 1318));
    assert!(plan.is_proven);
}

#[test]
fn a_day_that_cannot_be_names_a_smallest_set_of_batches() {
    for name in ["over12", "over30"] {
        let day = given(name);
        let plan = planned(&day, 200);
        assert!(plan.lateness > 0 && plan.bound.lateness > 0, "{name}: {:?}", plan.bound);
        let causes = explain(&day, &plan, Effort { placings: 60 });
        let cause = &causes[0];
        let Why::Together { pools, .. } = &cause.why else { panic!("{name}: {cause:?}") };
        assert!(pools.iter().any(|&pool| day.pools[pool].is_hands), "{name}: {cause:?}");
        let all_baguettes =
            cause.batches.iter().all(|&batch| day.batches[batch].name.starts_with("bagu"));
        assert!(all_baguettes && (2..7).contains(&cause.batches.len()), "{name}: {cause:?}");
        assert!(!cause.ways.is_empty(), "{name}");
    }
}

/// What a way out promises is what a plan of the changed day has.
#[test]
fn later_times_that_are_offered_can_be_kept() {
    let day = given("over12");
    let plan = planned(&day, 200);
    let causes = explain(&day, &plan, Effort { placings: 60 });
    let ways = causes.iter().flat_map(|cause| &cause.ways);
    let mut tried = 0;
    for way in ways {
        let Change::By(dues) = &way.change else { continue };
        let mut other = day.clone();
        dues.iter().for_each(|&(due, by)| other.dues[due].by = by);
        assert_eq!(check(&other, &plan.places), []);
        let late = |due: &Due| {
            plan.places[due.task].map_or(0, |place| i64::from((place.end - due.by).max(0)))
        };
        assert_eq!(other.dues.iter().map(late).sum::<i64>(), way.lateness);
        tried += 1;
    }
    assert!(tried > 0);
}

#[test]
fn a_day_planned_anew_moves_nothing_that_need_not_move() {
    let mut day = given("bake12_1");
    let plan = planned(&day, 300);
    for (task, place) in day.tasks.iter_mut().zip(&plan.places) {
        task.before = *place;
        task.fixed = place.filter(|place| place.start < 600);
    }
    assert_eq!(planned(&day, 200).places, plan.places);
    // An oven that is out while something was to be baked in it moves only what it has to.
    let (task, place) = (day.tasks.iter().zip(&plan.places))
        .find(|(task, _)| task.fixed.is_none() && task.on.as_ref().is_some_and(|on| on.group == 1))
        .expect("a bake");
    let (place, group) = (place.expect("placed"), task.on.as_ref().map_or(0, |on| on.group));
    day.groups[group].machines[place.machine].closed.push((place.start, place.end));
    let other = planned(&day, 400);
    let moved = plan.places.iter().zip(&other.places).filter(|(one, two)| one != two).count();
    assert!((1..day.tasks.len() / 3).contains(&moved), "{moved} of {}", day.tasks.len());
}

#[test]
fn least_hands_takes_no_more_hands_than_finishing_early() {
    let most = |plan: &Plan| plan.hands.iter().flatten().max().copied();
    let mut day = given("bake12_1");
    let early = planned(&day, 200);
    day.aim = Aim::LeastHands;
    let fewer = planned(&day, 200);
    assert_eq!((fewer.left_out.len(), fewer.lateness), (early.left_out.len(), early.lateness));
    assert!(most(&fewer) <= most(&early));
}

#[test]
fn two_hundred_batches_are_planned_with_nothing_violated() {
    let day = times(&given("bake60_1"), 4);
    assert!(day.batches.iter().filter(|batch| !batch.is_build).count() > 200);
    let plan = planned(&day, 300);
    assert!(plan.left_out.len() < 80, "{}", plan.left_out.len());
}

/// A day so many times, in a house so many times as large.
fn times(day: &Puzzle, many: usize) -> Puzzle {
    let mut all = day.clone();
    for group in &mut all.groups {
        group.machines = vec![group.machines.clone(); many].concat();
    }
    for (_, level) in all.pools.iter_mut().flat_map(|pool| &mut pool.levels) {
        *level *= i32::try_from(many).expect("few");
    }
    for on in all.tasks.iter_mut().filter_map(|task| task.on.as_mut()) {
        let count = day.groups[on.group].machines.len();
        let copies = (0..many).flat_map(|copy| on.machines.iter().map(move |at| at + copy * count));
        on.machines = copies.collect();
    }
    let (tasks, batches) = (day.tasks.len(), day.batches.len());
    let base = all.clone();
    for copy in 1..many {
        let name = |name: &str| format!("{name} {copy}");
        let point = |point: Point| match point {
            Point::Start(task) => Point::Start(task + copy * tasks),
            Point::End(task) => Point::End(task + copy * tasks),
        };
        all.batches
            .extend(base.batches.iter().map(|one| Batch { name: name(&one.name), ..one.clone() }));
        all.tasks.extend(base.tasks.iter().map(|one| Task {
            name: name(&one.name),
            batch: one.batch + copy * batches,
            ..one.clone()
        }));
        all.lags.extend(base.lags.iter().map(|lag| Lag {
            from: point(lag.from),
            to: point(lag.to),
            ..*lag
        }));
        all.dues.extend(
            base.dues.iter().map(|due| Due { task: due.task + copy * tasks, ..due.clone() }),
        );
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_of_a_small_day_keeps_everything(small in small()) {
        let day = small.puzzle();
        let plan = planned(&day, 60);
        prop_assert!(is_within(&day, &plan.places) && lags_hold(&day, &plan.places));
        prop_assert!(plan.bound.left_out <= plan.left_out.len() as i64);
        prop_assert!(plan.bound.lateness <= plan.lateness || !plan.left_out.is_empty());
    }

    /// Whatever is asked, there is an answer, and what is placed is placed soundly.
    #[test]
    fn no_puzzle_is_too_senseless(day in senseless()) {
        let plan = planned(&day, 30);
        explain(&day, &plan, Effort { placings: 5 });
    }

    #[test]
    fn one_more_mixer_never_makes_a_day_worse(small in small()) {
        let day = small.puzzle();
        let one = planned(&day, 60);
        let mut other = day.clone();
        let number = other.groups[0].machines.len();
        let more = other.groups[0].machines[0].clone();
        other.groups[0].machines.push(more);
        for on in other.tasks.iter_mut().filter_map(|task| task.on.as_mut()) {
            if on.group == 0 {
                on.machines.push(number);
            }
        }
        // A plan of the day is one of the larger house: only a proven one can't be bettered.
        prop_assert_eq!(check(&other, &one.places), []);
        let two = planned(&other, 400);
        prop_assert!(two.left_out.len() <= one.left_out.len() || !one.is_proven);
        if one.is_proven && one.left_out.is_empty() {
            prop_assert!(two.lateness <= one.lateness);
        }
    }

    #[test]
    fn the_order_of_lines_means_nothing(small in small(), seed in any::<u64>()) {
        let day = small.puzzle();
        let (other, to) = mixed(&day, seed);
        let (one, two) = (planned(&day, 40), planned(&other, 40));
        let back: Vec<Option<Place>> = to.iter().map(|&at| two.places[at]).collect();
        prop_assert_eq!(one.places, back);
    }
}

/// The same day with its tasks, batches and lags in another order, and where each task went.
fn mixed(day: &Puzzle, seed: u64) -> (Puzzle, Vec<usize>) {
    let order = |count: usize| {
        let mut order: Vec<usize> = (0..count).collect();
        order.sort_by_key(|&at| (at as u64 + 1).wrapping_mul(seed | 1).rotate_left(17));
        order
    };
    let (tasks, batches) = (order(day.tasks.len()), order(day.batches.len()));
    let place = |order: &[usize], was: usize| order.iter().position(|at| *at == was).expect("all");
    let point = |point: Point| match point {
        Point::Start(task) => Point::Start(place(&tasks, task)),
        Point::End(task) => Point::End(place(&tasks, task)),
    };
    let mut other = day.clone();
    other.batches = batches.iter().map(|&at| day.batches[at].clone()).collect();
    other.tasks = tasks.iter().map(|&at| day.tasks[at].clone()).collect();
    other.tasks.iter_mut().for_each(|task| task.batch = place(&batches, task.batch));
    other.lags.iter_mut().for_each(|lag| (lag.from, lag.to) = (point(lag.from), point(lag.to)));
    other.lags.reverse();
    other.dues.iter_mut().for_each(|due| due.task = place(&tasks, due.task));
    other.dues.reverse();
    let to = (0..day.tasks.len()).map(|task| place(&tasks, task)).collect();
    (other, to)
}
