//! The given production days, planned with the work that the command takes: what is left out,
//! how late, when it ends, and how long that took.
//!
//! `cargo bench --bench days` plans them all; `cargo bench --bench days -- small DIR N` writes N
//! small days taken at random, each with what the planner made of it, for
//! `tests/days/judge.py` to judge.

#![allow(
    clippy::disallowed_methods,
    clippy::expect_used,
    clippy::missing_docs_in_private_items,
    clippy::panic,
    clippy::print_stdout,
    dead_code,
    reason = "a bench may read the clock, tell what it finds, and fail; tests use the rest"
)]

#[path = "../tests/all/day_puzzles.rs"]
mod day_puzzles;

mod support {
    pub fn top() -> std::path::PathBuf {
        std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR"))
    }
}

use assize::testing::time::day::{Effort, Point, Puzzle, plan};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::fmt::Write;
use std::path::Path;
use std::time::Instant;

fn main() {
    let args: Vec<String> = std::env::args().filter(|word| word != "--bench").collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    if let [_, "small", folder, count] = words.as_slice() {
        return small(Path::new(folder), count.parse().expect("a number of days"));
    }
    for name in ["bake12_1", "bake30_1", "bake60_1", "bake60_3", "over12", "over30"] {
        let day = day_puzzles::given(name);
        let begun = Instant::now();
        let plan = plan(&day, Effort::of(&day)).expect("a sound day");
        println!(
            "{name}: {} left out, {} min late (no plan below {}), ends at {} (none before {}), \
             {} placings, {:.1} s",
            plan.left_out.len(),
            plan.lateness,
            plan.bound.lateness,
            plan.finish,
            plan.bound.finish,
            plan.placed,
            begun.elapsed().as_secs_f32(),
        );
    }
}

/// Writes small days and what the planner made of them.
fn small(folder: &Path, count: usize) {
    std::fs::create_dir_all(folder).expect("a folder");
    let mut runner = TestRunner::deterministic();
    for number in 0..count {
        let day = day_puzzles::small().new_tree(&mut runner).expect("a day").current().puzzle();
        let plan = plan(&day, Effort { placings: 20_000 }).expect("a sound day");
        let mut text = written(&day);
        writeln!(text, "X {} {}", plan.left_out.len(), plan.lateness).expect("written");
        std::fs::write(folder.join(format!("{number}.txt")), text).expect("written");
    }
}

/// A day in the form of `tests/days`, counted from its first minute.
fn written(day: &Puzzle) -> String {
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
