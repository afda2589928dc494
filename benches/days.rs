//! The given production days, planned with the work that the command takes: what is left out,
//! how late, when it ends, and how long that took.
//!
//! `cargo bench --bench days` plans them all; `cargo bench --bench days -- small DIR N` writes N
//! small days drawn by a counter, each with what the planner made of it, for
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

use assize::testing::time::day::{Effort, plan};
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
    for number in 0..count {
        let day = day_puzzles::Small::of(number as u64).puzzle();
        let plan = plan(&day, Effort { placings: 20_000 }).expect("a sound day");
        let mut text = day_puzzles::written(&day);
        writeln!(text, "X {} {}", plan.left_out.len(), plan.lateness).expect("written");
        std::fs::write(folder.join(format!("{number}.txt")), text).expect("written");
    }
}
