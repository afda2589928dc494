//! Plans of production days: everything kept, by the planner's checker and by one that counts
//! minute by minute here; the same plan whatever the order of lines.

use crate::day_puzzles::{Small, given, senseless, small, written};
use assize::testing::time::day::{
    Aim, Batch, Change, DayPlan, Due, Effort, Lag, Machine, MachineGroup, Minute, On, Point, Pool,
    Puzzle, Task, TaskPlace, Why, Wrong, check, explain, latest, plan,
};
use proptest::prelude::*;

fn planned(puzzle: &Puzzle, placings: u64) -> DayPlan {
    let plan = plan(puzzle, Effort { placings }).expect("a sound puzzle");
    assert_eq!(check(puzzle, &plan.places), []);
    plan
}

/// Most that tasks take at a time, counted at the starts of tasks: elsewhere nothing begins.
fn is_within(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> bool {
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

fn lags_hold(puzzle: &Puzzle, places: &[Option<TaskPlace>]) -> bool {
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
        let with = |change: &dyn Fn(TaskPlace) -> Option<TaskPlace>| {
            let mut places = plan.places.clone();
            places[at] = places[at].and_then(change);
            check(&day, &places)
        };
        let later = |by| move |place: TaskPlace| Some(TaskPlace { end: place.end + by, ..place });
        let longer = task.length.1 + 1;
        assert!(with(&later(longer)).contains(&Wrong::Length(at)));
        assert!(
            with(&|_| None).contains(&Wrong::Half(task.batch))
                || day.tasks.iter().filter(|other| other.batch == task.batch).count() == 1
        );
        if task.on.is_some() {
            assert!(
                with(&|place| Some(TaskPlace { machine: 9, ..place }))
                    .contains(&Wrong::Machine(at))
            );
        }
        let away = |place: TaskPlace| {
            Some(TaskPlace { start: place.start + 5000, end: place.end + 5000, ..place })
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
    let most = |plan: &DayPlan| plan.hands.iter().flatten().max().copied();
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
        let back: Vec<Option<TaskPlace>> = to.iter().map(|&at| two.places[at]).collect();
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

/// A day so small that every plan of it can be looked at: batches of a mix and a bake.
struct Tiny {
    /// Minutes of mixing, of waiting at least and at most, of baking; when it is due.
    batches: Vec<(Minute, Minute, Minute, Minute, Minute)>,
    hands: i32,
    mixers: usize,
    decks: usize,
    /// When nobody is there.
    closed: (Minute, Minute),
}

/// Minutes of a tiny day.
const TINY: Minute = 26;

impl Tiny {
    /// The day of a number.
    fn of(number: u64) -> Self {
        let mut seed = number.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
        let mut draw = |from: Minute, to: Minute| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            from + Minute::try_from((seed >> 33) % u64::try_from(to - from).expect("some"))
                .expect("small")
        };
        let many = 2 + draw(0, 2);
        let batches = (0..many).map(|_| {
            let least = draw(1, 6);
            (draw(1, 5), least, least + draw(0, 3), draw(2, 8), draw(6, TINY))
        });
        let batches = batches.collect();
        let few = |number: Minute| usize::try_from(number).expect("few");
        let from = draw(0, TINY);
        Self {
            batches,
            hands: draw(1, 3),
            mixers: few(draw(1, 3)),
            decks: few(draw(1, 3)),
            closed: (from, from + draw(1, 8)),
        }
    }

    fn puzzle(&self) -> Puzzle {
        let mut levels = vec![(0, self.hands), (self.closed.0, 0), (self.closed.1, self.hands)];
        levels.sort_by_key(|(at, _)| *at);
        let group = |name: &str, machines: usize| MachineGroup {
            name: name.to_owned(),
            machines: (0..machines)
                .map(|at| Machine { name: format!("{name} {at}"), ..Machine::default() })
                .collect(),
            changes: Vec::new(),
            is_oven: name == "deck",
        };
        let mut puzzle = Puzzle {
            span: (0, TINY),
            pools: vec![Pool { name: "hands".to_owned(), levels, is_hands: true }],
            groups: vec![group("mixer", self.mixers), group("deck", self.decks)],
            ..Puzzle::default()
        };
        for (batch, &(mix, least, most, bake, by)) in self.batches.iter().enumerate() {
            puzzle.batches.push(Batch {
                name: format!("bread {batch}"),
                is_build: false,
                weight: 1,
            });
            let on = |group: usize, machines: usize| {
                Some(On { group, machines: (0..machines).collect(), enters: 0, leaves: 0 })
            };
            let task = |name: &str, length: Minute, takes: Vec<(usize, i32)>, on| Task {
                name: format!("{name} {batch}"),
                batch,
                length: (length, length),
                window: (0, TINY),
                takes,
                on,
                ..Task::default()
            };
            let at = puzzle.tasks.len();
            puzzle.tasks.push(task("mix", mix, vec![(0, 1)], on(0, self.mixers)));
            puzzle.tasks.push(task("bake", bake, Vec::new(), on(1, self.decks)));
            let (from, to) = (Point::End(at), Point::Start(at + 1));
            puzzle.lags.push(Lag { from, to, least, most: Some(most) });
            puzzle.dues.push(Due { order: batch, task: at + 1, by, after: None, weight: 1 });
        }
        puzzle
    }

    /// What no plan is better than, found by looking at all of them: batches left out, minutes
    /// late. Alike machines need no choice: there are enough, or not.
    fn best(&self) -> (i64, i64) {
        let hands = |minute: Minute| match (self.closed.0..self.closed.1).contains(&minute) {
            true => 0,
            false => self.hands,
        };
        let machines = |many: usize| i32::try_from(many).expect("few");
        let free = (0..TINY).map(|at| [hands(at), machines(self.mixers), machines(self.decks)]);
        let mut best = (i64::MAX, i64::MAX);
        self.look(0, &mut free.collect::<Vec<_>>(), (0, 0), &mut best);
        best
    }

    fn look(&self, at: usize, free: &mut Vec<[i32; 3]>, now: (i64, i64), best: &mut (i64, i64)) {
        if now >= *best {
            return;
        }
        let Some(&(mix, least, most, bake, by)) = self.batches.get(at) else {
            *best = now;
            return;
        };
        let takes =
            |free: &mut [[i32; 3]], from: Minute, long: Minute, what: &[usize], sign: i32| {
                let minutes = usize::try_from(from).expect("in the day")
                    ..usize::try_from(from + long).expect("in the day");
                for minute in &mut free[minutes] {
                    what.iter().for_each(|&it| minute[it] -= sign);
                }
            };
        let is_free = |free: &[[i32; 3]], from: Minute, long: Minute, what: &[usize]| {
            (from..from + long).all(|minute| {
                let minute = free[usize::try_from(minute).expect("in the day")];
                what.iter().all(|&it| minute[it] > 0)
            })
        };
        for start in 0..=TINY - mix - least - bake {
            if !is_free(free, start, mix, &[0, 1]) {
                continue;
            }
            takes(free, start, mix, &[0, 1], 1);
            for wait in least..=most {
                let from = start + mix + wait;
                if from + bake > TINY || !is_free(free, from, bake, &[2]) {
                    continue;
                }
                takes(free, from, bake, &[2], 1);
                let late = i64::from((from + bake - by).max(0));
                self.look(at + 1, free, (now.0, now.1 + late), best);
                takes(free, from, bake, &[2], -1);
            }
            takes(free, start, mix, &[0, 1], -1);
        }
        self.look(at + 1, free, (now.0 + 1, now.1), best);
    }
}

/// The judge looks at every plan there is.
#[test]
fn a_hundred_small_days_are_as_good_as_the_best_there_is() {
    let mut troubled = 0;
    for number in 0..100 {
        let tiny = Tiny::of(number);
        let plan = planned(&tiny.puzzle(), 400);
        let found = (i64::try_from(plan.left_out.len()).expect("few"), plan.lateness);
        assert_eq!(found, tiny.best(), "day {number}");
        assert!(plan.bound.left_out <= found.0 && (found.0 > 0 || plan.bound.lateness <= found.1));
        troubled += usize::from(found != (0, 0));
    }
    assert!((10..95).contains(&troubled), "{troubled} of them leave something out or are late");
}

/// What OR-Tools CP-SAT proved of small days (`tests/days/judge.py`): the day, how many batches can't
/// but be left out, how many minutes the rest is late at least.
fn verdicts() -> Vec<(u64, usize, i64)> {
    let text = std::fs::read_to_string(crate::support::top().join("tests/days/verdicts.tsv"));
    let text = text.expect("verdicts");
    let rows = text.lines().filter(|line| !line.starts_with('#'));
    rows.map(|line| {
        let numbers: Vec<i64> =
            line.split('\t').map(|word| word.parse().expect("a number")).collect();
        let [day, out, late] = numbers.as_slice() else { panic!("{line}") };
        let small = |number: i64| usize::try_from(number).expect("small");
        (u64::try_from(*day).expect("a day"), small(*out), *late)
    })
    .collect()
}

/// Another solver judges a hundred days taken at random: whether all of them can be, and how late
/// the rest is at best. No bound of ours is above that, and what is called proven is that.
#[test]
fn a_hundred_small_days_are_as_another_solver_proved_them() {
    if let Some(folder) = std::env::var_os("ASSIZE_SMALL_DAYS") {
        std::fs::create_dir_all(&folder).expect("a folder");
        for number in 0..100 {
            let file = std::path::Path::new(&folder).join(format!("{number}.txt"));
            std::fs::write(file, written(&Small::of(number).puzzle())).expect("written");
        }
        return;
    }
    let verdicts = verdicts();
    let (mut late, mut short, mut missed) = (0, 0, Vec::new());
    for &(number, out, minutes) in &verdicts {
        let told = format!("day {number}: {out} left out and {minutes} min late are proven");
        let day = Small::of(number).puzzle();
        let mut found = (usize::MAX, i64::MAX);
        // Most take little work; some are tight.
        for placings in [400, 4_000, 40_000] {
            let plan = planned(&day, placings);
            found = (plan.left_out.len(), plan.lateness);
            assert!(found >= (out, minutes), "{told}, and {found:?} is better than can be");
            assert!(
                !plan.is_proven || found == (out, minutes),
                "{told}, and {found:?} is called so"
            );
            assert!(plan.bound.left_out <= i64::try_from(out).expect("few"), "{told}");
            assert!(out > 0 || plan.bound.lateness <= minutes, "{told}: {:?}", plan.bound);
            if found == (out, minutes) {
                break;
            }
        }
        if found != (out, minutes) {
            missed.push((number, found));
        }
        late += usize::from(minutes > 0);
        short += usize::from(out > 0);
    }
    // The search is none that proves, and misses nothing of these.
    assert!(missed.is_empty(), "{missed:?}");
    assert_eq!(verdicts.len(), 100);
    assert!(late > 20 && short > 0, "{late} of them late, {short} leave something out");
}

impl Tiny {
    /// The same day with a change that was offered as a way out.
    fn with(&self, change: &Change) -> Self {
        let mut other = Self { batches: self.batches.clone(), ..*self };
        match change {
            Change::By(dues) => dues.iter().for_each(|&(due, by)| other.batches[due].4 = by),
            Change::Earlier(_, from) => other.closed.1 = *from,
            Change::Without(batch) => drop(other.batches.remove(*batch)),
            Change::OneMore(_) => other.hands += 1,
            Change::OneMoreMachine(0) => other.mixers += 1,
            Change::OneMoreMachine(_) => other.decks += 1,
        }
        other
    }
}

/// Each way out that is offered for a hundred small days is as good as it is said to be: the judge
/// finds a plan of the changed day that is no worse, and it is better than the day without it.
#[test]
fn every_way_out_of_a_small_day_is_true() {
    let mut kinds = std::collections::BTreeMap::new();
    for number in 0..100 {
        let tiny = Tiny::of(number);
        let puzzle = tiny.puzzle();
        let plan = planned(&puzzle, 400);
        let now = (i64::try_from(plan.left_out.len()).expect("few"), plan.lateness);
        for way in explain(&puzzle, &plan, Effort { placings: 60 }).iter().flat_map(|it| &it.ways) {
            let told = (way.left_out, way.lateness);
            assert!(told < now, "day {number}: {way:?} helps nothing");
            let best = tiny.with(&way.change).best();
            assert!(best <= told, "day {number}: {way:?}, and the best there is is {best:?}");
            let kind = format!("{:?}", way.change).split('(').next().unwrap_or_default().to_owned();
            *kinds.entry(kind).or_insert(0) += 1;
        }
    }
    assert!(kinds.len() >= 4 && kinds.values().sum::<i32>() > 40, "{kinds:?}");
}

/// Jobs through five machines in a row that may not wait: E. Taillard, "Benchmarks for basic
/// scheduling problems", EJOR 64 (1993), 278, whose generator is published with its seeds. Each is
/// one batch of five tasks that follow each other at once.
fn no_wait(seed: i64) -> Puzzle {
    const JOBS: usize = 20;
    const SPAN: (Minute, Minute) = (0, 3000);
    let mut seed = seed;
    let mut draw = || {
        seed = 16_807 * (seed % 127_773) - 2_836 * (seed / 127_773);
        seed += if seed < 0 { 2_147_483_647 } else { 0 };
        Minute::try_from(1 + seed * 99 / 2_147_483_647).expect("at most 99")
    };
    // By machines, each with all jobs.
    let lengths: Vec<Vec<Minute>> = (0..5).map(|_| (0..JOBS).map(|_| draw()).collect()).collect();
    let group = |number: usize| MachineGroup {
        name: format!("machine {number}"),
        machines: vec![Machine { name: format!("machine {number}"), ..Machine::default() }],
        ..MachineGroup::default()
    };
    let mut puzzle =
        Puzzle { span: SPAN, groups: (0..5).map(group).collect(), ..Puzzle::default() };
    for job in 0..JOBS {
        let name = format!("job {job}");
        puzzle.batches.push(Batch { name: name.clone(), is_build: false, weight: 1 });
        for (machine, lengths) in lengths.iter().enumerate() {
            let at = puzzle.tasks.len();
            puzzle.tasks.push(Task {
                name: format!("{name} {machine}"),
                batch: job,
                length: (lengths[job], lengths[job]),
                window: SPAN,
                on: Some(On { group: machine, machines: vec![0], enters: 0, leaves: 0 }),
                ..Task::default()
            });
            if machine > 0 {
                let (from, to) = (Point::End(at - 1), Point::Start(at));
                puzzle.lags.push(Lag { from, to, least: 0, most: Some(0) });
            }
        }
        let last = puzzle.tasks.len() - 1;
        puzzle.dues.push(Due { order: job, task: last, by: SPAN.1, after: None, weight: 1 });
    }
    puzzle
}

/// The first ten instances of twenty jobs, and the earliest end of each without waiting, found by
/// dynamic programming over all sets of jobs: as the published ones.
const NO_WAIT: [(i64, Minute); 10] = [
    (873_654_221, 1486),
    (379_008_056, 1528),
    (1_866_992_158, 1460),
    (216_771_124, 1588),
    (495_070_989, 1449),
    (402_959_317, 1481),
    (1_369_363_414, 1483),
    (2_021_925_980, 1482),
    (573_109_518, 1469),
    (88_325_120, 1377),
];

/// No plan ends before the best one, and no bound is above it. How near little work comes to it is
/// not held: where no batch may wait, moving one of them helps little.
#[test]
fn no_plan_of_jobs_without_waiting_beats_their_published_best() {
    for (seed, best) in NO_WAIT {
        let puzzle = no_wait(seed);
        let plan = planned(&puzzle, 30);
        assert_eq!((plan.left_out.len(), plan.lateness), (0, 0), "{seed}");
        let (bound, finish) = (plan.bound.finish, plan.finish);
        assert!(0 < bound && bound <= best && best <= finish, "{seed}: {bound} {best} {finish}");
    }
}

/// What can begin at a plain clock time does, and nothing is late for that.
#[test]
fn starts_on_the_grid_make_nothing_late() {
    let mut plain = 0;
    for number in 0..40 {
        let tiny = Tiny::of(number);
        let exact = planned(&tiny.puzzle(), 400);
        let mut puzzle = Puzzle { grid: 5, ..tiny.puzzle() };
        puzzle.tasks.iter_mut().filter(|task| task.name.starts_with("mix")).for_each(|task| {
            task.on_grid = true;
        });
        let plan = planned(&puzzle, 400);
        let trouble = |plan: &DayPlan| (plan.left_out.len(), plan.lateness);
        assert_eq!(trouble(&plan), trouble(&exact), "day {number}");
        let mixes = puzzle.tasks.iter().zip(&plan.places).filter(|(task, _)| task.on_grid);
        let mixes = mixes.filter_map(|(_, place)| *place);
        plain += mixes.filter(|it| it.start % 5 == 0).count();
    }
    assert!(plain > 50, "{plain}");
}

/// Begun as late as it is told, with what follows of its batch as late as that is told, a day
/// keeps everything.
#[test]
fn latest_times_can_be_kept() {
    let day = given("bake12_1");
    let plan = planned(&day, 300);
    let late = latest(&day, &plan.places);
    let mut later = 0;
    for (task, (place, latest)) in plan.places.iter().zip(&late).enumerate() {
        let (Some(place), Some(latest)) = (place, latest) else { continue };
        assert!(*latest >= place.start, "{}", day.tasks[task].name);
        later += usize::from(*latest > place.start);
    }
    assert!(later > 3, "{later}");
    // The last task of a batch moves alone: that is a plan of its own.
    for due in &day.dues {
        let (Some(place), Some(latest)) = (plan.places[due.task], late[due.task]) else { continue };
        let by = latest - place.start;
        let fixed = day.tasks[due.task].length.0 == day.tasks[due.task].length.1;
        let tied = day.lags.iter().any(|lag| {
            lag.most == Some(lag.least) && [lag.from.task(), lag.to.task()].contains(&due.task)
        });
        if by == 0 || tied || !fixed {
            continue;
        }
        let mut places = plan.places.clone();
        places[due.task] =
            Some(TaskPlace { start: place.start + by, end: place.end + by, ..place });
        assert_eq!(check(&day, &places), [], "{}", day.tasks[due.task].name);
    }
}

/// The given days with the work that a day deserves: with nothing that is due, how early they end;
/// as they are, how late all is. `tests/days/README.md` tells the best that is known. It plans for
/// half a minute, so only optimised builds have it.
#[test]
#[cfg(not(debug_assertions))]
fn given_days_come_near_the_best_that_is_known() {
    for (name, ends) in [("bake12_1", 1318), ("bake30_1", 1405), ("bake60_1", 1679)] {
        let mut day = given(name);
        let last = day.span.1;
        day.dues.iter_mut().for_each(|due| (due.after, due.by) = (None, last));
        let plan = plan(&day, Effort::of(&day)).expect("a sound day");
        assert_eq!((plan.left_out.len(), plan.lateness), (0, 0), "{name}");
        assert!(plan.finish <= ends, "{name}: {}", plan.finish);
    }
    let day = given("bake60_3");
    let plan = plan(&day, Effort::of(&day)).expect("a sound day");
    assert!(plan.left_out.is_empty() && plan.lateness <= 58, "{}", plan.lateness);
}

/// One more machine never makes a day worse that is proven.
#[test]
fn one_more_machine_makes_no_proven_day_worse() {
    for number in 0..40 {
        let mut tiny = Tiny::of(number);
        let plan = planned(&tiny.puzzle(), 300);
        tiny.mixers += 1;
        let more = planned(&tiny.puzzle(), 300);
        let worth = |plan: &DayPlan| (plan.left_out.len(), plan.lateness);
        assert!(!plan.is_proven || worth(&more) <= worth(&plan), "day {number}");
    }
}
