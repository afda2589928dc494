//! All tests that go through the public face, one binary.

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    clippy::expect_used,
    clippy::missing_docs_in_private_items,
    clippy::panic,
    clippy::print_stderr,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a test may read, count as it likes, and fail"
)]

mod absence;
mod alone;
mod asked;
mod at_home;
mod auditor;
mod bad_input;
mod batches;
mod begun;
mod believed;
mod booklets;
mod boxes;
mod brackets;
mod brought;
mod by_count;
mod called;
mod claimed;
mod claims;
mod classroom;
mod command;
mod consequences;
mod day_plans;
mod day_puzzles;
mod days;
mod dependencies;
mod derivations;
mod diff;
mod dishes;
mod documents;
mod drivers;
mod ends;
#[cfg(target_os = "linux")]
mod faults;
mod findings;
mod forms;
mod fuzz;
mod growth;
mod guarded;
mod hands;
mod heat;
mod house;
mod hurtful;
mod languages;
mod layout;
mod loads;
mod manuscripts;
mod mutations;
mod named;
mod named_files;
mod notation;
mod numbers;
mod outsiders;
mod packed;
mod pages;
mod paper;
mod plans;
mod planted;
mod prints;
mod promises;
mod proof;
mod properties;
mod proposals;
mod prose;
mod quantities;
mod quoted;
mod reference;
mod repairs;
mod retimed;
mod rooms;
mod silence;
mod sound;
mod sources;
mod spoiled;
mod streams;
mod sums;
mod support;
mod sweep;
mod tables;
mod tame;
mod tenfold;
mod texts;
mod time;
mod traced;
mod uses;
mod water;
mod words;
mod workbooks;
mod woven;
mod woven_book;
mod yields;
