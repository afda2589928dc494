//! Days as puzzles: those of `tests/days`, read by an adapter, and small ones taken at random.

use assize::testing::time::day::{
    Aim, Batch, Due, Lag, Machine, MachineGroup, Minute, On, Point, Pool, Puzzle, Task, TaskPlace,
};
use proptest::prelude::*;

/// A day of `tests/days`; its README tells the form.
pub fn given(name: &str) -> Puzzle {
    let file = crate::support::top().join("tests/days").join(name).with_extension("txt");
    read(&std::fs::read_to_string(file).expect("a day"))
}

fn read(text: &str) -> Puzzle {
    let mut puzzle = Puzzle::default();
    let mut batches: Vec<usize> = Vec::new();
    for line in text.lines() {
        let (kind, rest) = line.split_once(' ').unwrap_or((line, ""));
        let numbers: Vec<i32> = rest.split(' ').map_while(|word| word.parse().ok()).collect();
        let at = |place: usize| usize::try_from(numbers[place]).expect("a place in a list");
        match kind {
            "H" => puzzle.span = (0, numbers[0]),
            "R" => puzzle.pools.push(pool(at(0), numbers[1])),
            "G" => puzzle.groups.push(group(at(0), numbers[1])),
            "C" => change(&mut puzzle.groups[at(0)], at(1), at(2), numbers[3]),
            "B" => close(&mut puzzle.pools[at(0)], numbers[1], numbers[2]),
            "T" => puzzle.tasks.push(Task {
                name: rest.rsplit(' ').next().unwrap_or("").to_owned(),
                length: (numbers[1], numbers[2]),
                window: (numbers[3], numbers[4]),
                ..Task::default()
            }),
            "N" => batches.push(at(1)),
            "Q" => puzzle.tasks[at(0)].takes.push((at(1), numbers[2])),
            "A" => {
                let machines = (0..32).filter(|bit| numbers[3] >> bit & 1 == 1).collect();
                let on = On { group: at(1), machines, enters: at(2), leaves: at(2) };
                puzzle.tasks[at(0)].on = Some(on);
            }
            "L" => {
                let most = Some(numbers[3]).filter(|most| *most >= 0);
                let (from, to) = (point(at(0)), point(at(1)));
                puzzle.lags.push(Lag { from, to, least: numbers[2], most });
            }
            "D" => {
                let (by, weight) = (numbers[1], i64::from(numbers[2]));
                puzzle.dues.push(Due { order: at(0), task: at(0), by, after: None, weight });
            }
            "F" => {
                let due = puzzle.dues.iter_mut().find(|due| due.task == at(0));
                due.expect("what is fresh is due").after = Some(numbers[1]);
            }
            _ => panic!("{line}"),
        }
    }
    number(&mut puzzle, &batches);
    puzzle
}

/// Batches in the order of their numbers; from 1000 on they are builds.
fn number(puzzle: &mut Puzzle, batches: &[usize]) {
    let mut numbers = batches.to_vec();
    numbers.sort_unstable();
    numbers.dedup();
    for (task, batch) in puzzle.tasks.iter_mut().zip(batches) {
        task.batch = numbers.binary_search(batch).expect("its number");
    }
    for (at, number) in numbers.iter().enumerate() {
        let task = puzzle.tasks.iter().find(|task| task.batch == at).expect("a task of each");
        let name = task.name.split_once('-').map_or("", |(_, name)| name).to_owned();
        puzzle.batches.push(Batch { name, is_build: *number >= 1000, weight: 1 });
    }
}

fn point(number: usize) -> Point {
    if number.is_multiple_of(2) { Point::Start(number / 2) } else { Point::End(number / 2) }
}

fn pool(number: usize, many: i32) -> Pool {
    let name = ["hands", "refrigerator", "proofer"][number].to_owned();
    Pool { name, levels: vec![(0, many)], is_hands: number == 0 }
}

fn close(pool: &mut Pool, from: Minute, to: Minute) {
    let many = pool.levels[0].1;
    pool.levels.extend([(from, 0), (to, many)]);
    pool.levels.sort_unstable();
}

fn group(number: usize, machines: i32) -> MachineGroup {
    let name = ["mixer", "deck"][number].to_owned();
    let machine = |at: i32| Machine { name: format!("{name} {at}"), ..Machine::default() };
    let machines = (1..=machines).map(machine).collect();
    MachineGroup { name, machines, changes: vec![vec![0; 8]; 8], is_oven: number == 1 }
}

fn change(group: &mut MachineGroup, from: usize, to: usize, minutes: Minute) {
    group.changes[from][to] = minutes;
}

/// A small day: a few batches that share mixers, hands, ovens and perhaps a build.
#[derive(Debug, Clone)]
pub struct Small {
    /// For each batch: minutes of mixing, of rest at least, of shaping, of baking; its heat; when
    /// it is due; whether it takes the build.
    pub batches: Vec<(Minute, Minute, Minute, Minute, usize, Minute, bool)>,
    pub hands: i32,
    pub mixers: i32,
    pub decks: i32,
    pub closed: (Minute, Minute),
    /// The first minute in which nothing may be done.
    pub ends: Minute,
    pub aim: Aim,
}

pub fn small() -> impl Strategy<Value = Small> {
    let batch = (4..15, 10..60, 3..20, 15..45, 0..2usize, 20..220, any::<bool>());
    let aim =
        prop_oneof![Just(Aim::FinishEarly), Just(Aim::LeastHands), Just(Aim::FewestOvenChanges)];
    let closed = (-20..120, 10..120);
    (prop::collection::vec(batch, 1..7), 1..3, 1..3, 1..3, closed, aim).prop_map(
        |(batches, hands, mixers, decks, (from, long), aim)| Small {
            batches,
            hands,
            mixers,
            decks,
            closed: (from, from + long),
            ends: 330,
            aim,
        },
    )
}

impl Small {
    /// The small day of a number, drawn by a counter: the same on every machine and for ever, so
    /// that what another solver said of it stays true.
    pub fn of(number: u64) -> Self {
        let mut seed = (number + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
        let mut draw = |from: Minute, to: Minute| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let drawn = (seed >> 33) % u64::try_from(to - from).expect("some");
            from + Minute::try_from(drawn).expect("small")
        };
        let many = draw(1, 7);
        let batch = |_: Minute| {
            let (mixes, rests, shapes, bakes) =
                (draw(4, 15), draw(10, 60), draw(3, 20), draw(15, 45));
            let heat = usize::try_from(draw(0, 2)).expect("small");
            (mixes, rests, shapes, bakes, heat, draw(20, 220), draw(0, 2) == 1)
        };
        let batches = (0..many).map(batch).collect();
        let from = draw(-20, 120);
        Self {
            batches,
            hands: draw(1, 3),
            mixers: draw(1, 3),
            decks: draw(1, 3),
            closed: (from, from + draw(10, 120)),
            // Of every other day the end is near, so that not everything finds a place.
            ends: if number.is_multiple_of(2) { 330 } else { draw(110, 240) },
            aim: Aim::FinishEarly,
        }
    }

    pub fn puzzle(&self) -> Puzzle {
        let mut ovens = group(1, self.decks);
        change(&mut ovens, 0, 1, 12);
        change(&mut ovens, 1, 0, 20);
        let mut puzzle = Puzzle {
            span: (-60, self.ends),
            pools: vec![pool(0, self.hands)],
            groups: vec![group(0, self.mixers), ovens],
            aim: self.aim,
            ..Puzzle::default()
        };
        puzzle.pools[0].levels = vec![(-60, self.hands)];
        close(&mut puzzle.pools[0], self.closed.0, self.closed.1);
        let build = self.batches.iter().any(|batch| batch.6).then(|| {
            puzzle.batches.push(Batch { name: "build".to_owned(), is_build: true, weight: 1 });
            task(&mut puzzle, "build", 0, (5, 5), &[(0, 1)], None)
        });
        for (at, batch) in self.batches.iter().enumerate() {
            self.add(&mut puzzle, at, batch, build.filter(|_| batch.6));
        }
        puzzle
    }

    fn add(
        &self,
        puzzle: &mut Puzzle,
        at: usize,
        &(mixes, rests, shapes, bakes, heat, due, _): &(
            Minute,
            Minute,
            Minute,
            Minute,
            usize,
            Minute,
            bool,
        ),
        build: Option<usize>,
    ) {
        let number = puzzle.batches.len();
        puzzle.batches.push(Batch { name: format!("bread {at}"), is_build: false, weight: 1 });
        let all = |machines: i32| (0..usize::try_from(machines).expect("few")).collect();
        let mixer = On { group: 0, machines: all(self.mixers), enters: 0, leaves: 0 };
        let deck = On { group: 1, machines: all(self.decks), enters: heat, leaves: heat };
        let mix = task(puzzle, "mix", number, (mixes, mixes), &[], Some(mixer));
        let shape = task(puzzle, "shape", number, (shapes, shapes + 5), &[(0, 1)], None);
        let bake = task(puzzle, "bake", number, (bakes, bakes), &[], Some(deck));
        let lag = |from, to, least, most| Lag { from, to, least, most: Some(most) };
        puzzle.lags.push(lag(Point::End(mix), Point::Start(shape), rests, rests + 30));
        puzzle.lags.push(lag(Point::End(shape), Point::Start(bake), 20, 50));
        if let Some(build) = build {
            puzzle.lags.push(lag(Point::End(build), Point::Start(mix), 30, 120));
        }
        puzzle.dues.push(Due { order: at, task: bake, by: due, after: None, weight: 1 });
    }
}

fn task(
    puzzle: &mut Puzzle,
    name: &str,
    batch: usize,
    length: (Minute, Minute),
    takes: &[(usize, i32)],
    on: Option<On>,
) -> usize {
    let name = format!("{name} {}", puzzle.batches[batch].name);
    let window = puzzle.span;
    puzzle.tasks.push(Task {
        name,
        batch,
        length,
        window,
        takes: takes.to_vec(),
        on,
        ..Task::default()
    });
    puzzle.tasks.len() - 1
}

/// Numbers without sense: windows that are none, lags both ways, machines that are closed, tasks
/// that are fixed anywhere.
pub fn senseless() -> impl Strategy<Value = Puzzle> {
    let numbers = prop::collection::vec(-40..90i32, 24);
    (prop::collection::vec(numbers, 1..8), 0..3usize, 1..4usize).prop_map(
        |(rows, pools, groups)| {
            let count = |number: i32, of: usize| number.unsigned_abs() as usize % of.max(1);
            let grid = rows[0][23].abs() % 7;
            let mut puzzle = Puzzle { span: (-30, 170), grid, ..Puzzle::default() };
            for at in 0..pools {
                let levels =
                    vec![(-50, rows[0][at] % 3), (rows[0][at + 3], rows[0][at + 6].abs() % 4)];
                puzzle.pools.push(Pool { name: format!("pool {at}"), levels, is_hands: at == 0 });
            }
            for at in 0..groups {
                let mut one = group(at.min(1), 1 + rows[0][at + 9].abs() % 3);
                change(&mut one, 0, 1, rows[0][at + 12].abs());
                one.machines[0].closed.push((rows[0][15], rows[0][16]));
                one.machines[0].begins = Some((rows[0][17], 1));
                puzzle.groups.push(one);
            }
            for (at, row) in rows.iter().enumerate() {
                let is_build = row[0] > 60;
                let name = format!("batch {at}");
                puzzle.batches.push(Batch { name, is_build, weight: i64::from(row[1].abs()) });
            }
            for (at, row) in rows.iter().enumerate() {
                let least = row[2].abs() % 30;
                let on = On {
                    group: count(row[3], groups),
                    machines: vec![count(
                        row[4],
                        puzzle.groups[count(row[3], groups)].machines.len(),
                    )],
                    enters: count(row[5], 2),
                    leaves: count(row[6], 2),
                };
                let place = TaskPlace {
                    start: row[7],
                    end: row[7] + row[8].abs(),
                    machine: on.machines[0],
                };
                puzzle.tasks.push(Task {
                    name: format!("task {at}"),
                    batch: count(row[9], rows.len()),
                    length: (least, least + row[10].abs()),
                    window: (row[11], row[11] + 2 * row[12]),
                    takes: (0..pools).map(|pool| (pool, row[13 + pool].abs() % 4)).collect(),
                    on: (row[16] > 0).then_some(on),
                    fixed: (row[17] > 70).then_some(place),
                    before: (row[17] < -20).then_some(place),
                    on_grid: row[23] > 0,
                });
                let point = |number: i32| point(count(number, 2 * rows.len()));
                let most = Some(row[20] + row[21]).filter(|_| row[21] > 0);
                let (from, to) = (point(row[18]), point(row[19]));
                puzzle.lags.push(Lag { from, to, least: row[20], most });
                let after = Some(row[22]).filter(|_| row[22] > 60);
                let weight = i64::from(row[23].abs());
                puzzle.dues.push(Due { order: at, task: at, by: row[22], after, weight });
            }
            for task in &mut puzzle.tasks {
                let changed = task.on.as_ref().map_or(0, |on| on.machines[0]);
                task.fixed.iter_mut().chain(&mut task.before).for_each(|at| at.machine = changed);
            }
            puzzle
        },
    )
}

/// A day in the form of `tests/days`, counted from its first minute.
pub fn written(day: &Puzzle) -> String {
    let zero = day.span.0;
    let mut lines = vec![format!("H {}", day.span.1 - zero)];
    for (at, pool) in day.pools.iter().enumerate() {
        let most = pool.levels.iter().map(|(_, many)| *many).max().unwrap_or(0);
        lines.push(format!("R {at} {most}"));
        let closed = pool.levels.windows(2).filter(|pair| pair[0].1 == 0);
        lines
            .extend(closed.map(|pair| format!("B {at} {} {}", pair[0].0 - zero, pair[1].0 - zero)));
    }
    for (at, group) in day.groups.iter().enumerate() {
        lines.push(format!("G {at} {}", group.machines.len()));
        for (from, row) in group.changes.iter().enumerate() {
            let changes = row.iter().enumerate().filter(|(_, minutes)| **minutes > 0);
            lines.extend(changes.map(|(to, minutes)| format!("C {at} {from} {to} {minutes}")));
        }
    }
    for (at, task) in day.tasks.iter().enumerate() {
        let (from, to) = (task.window.0 - zero, task.window.1 - zero);
        let name = task.name.replace(' ', "-");
        lines.push(format!("T {at} {} {} {from} {to} {name}", task.length.0, task.length.1));
        let build = if day.batches[task.batch].is_build { 1000 } else { 0 };
        lines.push(format!("N {at} {}", task.batch + build));
        lines.extend(task.takes.iter().map(|(pool, many)| format!("Q {at} {pool} {many}")));
        if let Some(on) = &task.on {
            let mask: u32 = on.machines.iter().map(|machine| 1 << machine).sum();
            lines.push(format!("A {at} {} {} {mask}", on.group, on.enters));
        }
    }
    let point = |point: Point| match point {
        Point::Start(task) => 2 * task,
        Point::End(task) => 2 * task + 1,
    };
    for lag in &day.lags {
        let most = lag.most.unwrap_or(-1);
        lines.push(format!("L {} {} {} {most}", point(lag.from), point(lag.to), lag.least));
    }
    let dues = day.dues.iter();
    lines.extend(dues.map(|due| format!("D {} {} {}", due.task, due.by - zero, due.weight)));
    lines.join("\n") + "\n"
}
