//! The commands: what is asked for, run, told and answered with an exit code.
//!
//! Enters: the command line and the disk. Leaves: text on standard output, findings on
//! standard error, files. Absent on purpose: everything that a library user needs too.

#![allow(
    clippy::disallowed_methods,
    reason = "here the command line, the disk and the clock enter"
)]

pub mod args;
mod asked;
mod check;
mod day;
mod diff;
mod exit;
mod explain;
mod fmt;
mod git;
mod history;
mod new;
mod past;
mod pinned;
mod plan;
pub mod press;
mod print;
mod progress;
mod read;
mod revisions;
mod show;
mod stamps;
mod streams;
mod tell;
mod trace;
mod uses;
mod weave;
mod when;
mod why;
mod write;

pub use exit::Exit;

use crate::desk::{self, Crash};
use crate::source::one_line;
use args::{Args, Command};
use clap::Parser;
use std::ffi::OsString;
use std::process::ExitCode;

/// Runs the command that the process was started with.
pub fn run() -> ExitCode {
    desk::keep_places();
    bound_threads();
    let exit = desk::run(run_asked).unwrap_or_else(|crash| {
        streams::error_text(crash_report(&crash, std::env::args_os()));
        Exit::Bug
    });
    ExitCode::from(as_git_wants(exit.max(streams::outcome()), std::env::args_os()) as u8)
}

/// Threads that the environment may ask for, for each core.
const MAX_THREADS_A_CORE: usize = 8;

/// Holds what the environment asks for in threads to what a machine can bear: where they can't
/// all be started, nothing is.
fn bound_threads() {
    let asked = std::env::var("RAYON_NUM_THREADS").ok().and_then(|it| it.trim().parse().ok());
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let most = cores.saturating_mul(MAX_THREADS_A_CORE);
    if asked.is_some_and(|asked: u128| asked > most as u128) {
        // Were they there already, they would be as many as they are.
        let _ = rayon::ThreadPoolBuilder::new().num_threads(most).build_global();
    }
}

/// To git, a merge driver that ends with less than 129 has left marks of conflicts; ours has
/// left none where it was called wrongly or broke down.
fn as_git_wants(exit: Exit, mut command: impl Iterator<Item = OsString>) -> Exit {
    let is_merge = command.nth(1).is_some_and(|word| word == "git-merge");
    match exit {
        Exit::Usage | Exit::Bug if is_merge => Exit::NotMerged,
        exit => exit,
    }
}

/// Does what the command line asks for.
fn run_asked() -> Exit {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(other) => return told_by_clap(&other),
    };
    match args.command {
        Command::New(new) => new::run(&new),
        Command::Check(check) => check::run(&check),
        Command::Read(read) => read::run(&read),
        Command::Weave(weave) => weave::run(&weave),
        Command::Show(show) => show::run(&show),
        Command::Why(why) => why::run(&why),
        Command::Print(print) => print::run(&print.once()),
        Command::Plan(plan) => plan::run(&plan),
        Command::Day(day) => day::run(&day),
        Command::Fmt(fmt) => fmt::run(&fmt),
        Command::Diff(diff) => diff::run(&diff),
        Command::History(history) => history::run(&history),
        Command::Trace(trace) => trace::run(&trace),
        Command::GitSetup(setup) => git::set_up(&setup),
        Command::GitText(text) => git::text(&text),
        Command::GitMerge(merge) => git::merge(&merge),
        Command::Uses(uses) => uses::run(&uses),
        Command::Explain(explain) => explain::run(&explain),
        Command::SetApart(apart) => press::serve(apart.seconds),
    }
}

/// Help and version on standard output, a slip on standard error.
fn told_by_clap(told: &clap::Error) -> Exit {
    let text = |colour| match colour {
        true => told.render().ansi().to_string(),
        false => told.render().to_string(),
    };
    if told.use_stderr() {
        streams::error_text(text(streams::colour(&std::io::stderr())));
        return Exit::Usage;
    }
    streams::output(text(streams::colour(&std::io::stdout())))
}

/// What is said of a crash that no guard was around.
fn crash_report(crash: &Crash, command: impl Iterator<Item = OsString>) -> String {
    let plain = |word: OsString| one_line(&word.to_string_lossy()).into_owned();
    let command: Vec<String> = command.skip(1).map(plain).collect();
    let place = if crash.place.is_empty() { "unknown" } else { &crash.place };
    let backtrace = crash.backtrace.as_ref().map(|it| format!("{it}\n")).unwrap_or_default();
    format!(
        "assize: this is a bug of ours, not yours: {}\n  \
         version  {}\n  command  assize {}\n  place    {place}\n\
         please send us these lines and the files it was about\n{backtrace}",
        crash.what,
        env!("CARGO_PKG_VERSION"),
        command.join(" "),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn crash() -> Crash {
        let place = "src/formula/linear.rs:12".to_owned();
        Crash { place, what: "attempt to divide by zero".to_owned(), backtrace: None }
    }

    #[test]
    fn a_merge_driver_that_breaks_down_says_so_as_git_wants_it() {
        let command = |words: &[&str]| words.iter().map(OsString::from).collect::<Vec<_>>();
        for (exit, wanted) in [
            (Exit::Clean, Exit::Clean),
            (Exit::Findings, Exit::Findings),
            (Exit::Usage, Exit::NotMerged),
            (Exit::Bug, Exit::NotMerged),
            (Exit::NotMerged, Exit::NotMerged),
        ] {
            let merge = command(&["assize", "git-merge", "a"]).into_iter();
            assert!(as_git_wants(exit, merge) == wanted);
            let check = command(&["assize", "check", "git-merge"]).into_iter();
            assert!(as_git_wants(exit, check) == exit);
        }
    }

    #[test]
    fn a_crash_says_version_command_and_place_and_asks_for_the_file() {
        let command = || ["/bin/assize", "check", "a\nb.dough"].into_iter().map(OsString::from);
        let told = crash_report(&crash(), command());
        let version = env!("CARGO_PKG_VERSION");
        assert_eq!(
            told,
            format!(
                "assize: this is a bug of ours, not yours: attempt to divide by zero\n  version  \
                 {version}\n  command  assize check a\\u{{a}}b.dough\n  place    \
                 src/formula/linear.rs:12\nplease send us these lines and the files it was about\n"
            )
        );
        let with = Crash { backtrace: Some("0: main".to_owned()), ..crash() };
        assert_eq!(crash_report(&with, command()), told + "0: main\n");
    }
}
