//! The commands: what is asked for, run, told and answered with an exit code.
//!
//! Enters: the command line and the disk. Leaves: text on standard output, findings on
//! standard error, files. Absent on purpose: everything that a library user needs too.

pub mod args;
mod check;
mod explain;
mod fmt;
mod new;
mod plan;
pub mod press;
mod print;
mod progress;
mod show;
mod why;
mod write;

use crate::desk::{Disk, Loaded, load};
use crate::diag::{Finding, Level, render};
use crate::source::{SourceId, Sources};
use crate::syntax::tree::Makes;
use args::{Args, Command};
use clap::Parser;
use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// How a run ended; README.md lists the codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    Clean = 0,
    Findings = 1,
    Usage = 2,
}

/// Runs the command that the process was started with.
pub fn run() -> ExitCode {
    let bug = std::panic::catch_unwind(|| {
        let args = Args::parse();
        match args.command {
            Command::New(new) => new::run(&new),
            Command::Check(check) => check::run(&check),
            Command::Show(show) => show::run(&show),
            Command::Why(why) => why::run(&why),
            Command::Print(print) => print::run(&print),
            Command::Plan(plan) => plan::run(&plan),
            Command::Fmt(fmt) => fmt::run(&fmt),
            Command::Explain(explain) => explain::run(&explain),
            Command::SetApart(apart) => press::serve(apart.seconds),
        }
    });
    match bug {
        Ok(exit) => ExitCode::from(exit as u8),
        Err(_) => {
            eprintln!("assize: this is a bug of ours, not yours; please report what you ran");
            ExitCode::from(3)
        }
    }
}

/// A slip on the command line.
fn usage(message: &str) -> Exit {
    eprintln!("assize: {message}");
    Exit::Usage
}

/// The current folder.
fn home() -> PathBuf {
    std::env::current_dir().unwrap_or_else(|_| PathBuf::from("."))
}

/// Reads what the paths name; without one, the bakehouse of the current folder.
///
/// # Errors
/// The first path that is not there.
fn loaded(paths: &[PathBuf]) -> Result<Loaded, Exit> {
    let home = home();
    let mut wanted = Vec::new();
    for path in paths {
        if path.as_os_str() == "-" {
            wanted.push(path.clone());
            continue;
        }
        let path = std::path::absolute(path).unwrap_or_else(|_| path.clone());
        if let Err(error) = path.metadata()
            && error.kind() == std::io::ErrorKind::NotFound
        {
            let shown = path.strip_prefix(&home).unwrap_or(&path);
            return Err(usage(&format!("there is no {}", shown.display())));
        }
        wanted.push(path);
    }
    if wanted.is_empty() {
        wanted.push(crate::desk::root_above(&Disk, &home).unwrap_or_else(|| home.clone()));
    }
    Ok(load(&Disk, &home, &wanted))
}

/// Whether to use colour on a stream.
fn colour(is_terminal: bool) -> bool {
    is_terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
}

/// Draws findings on a stream.
fn tell(findings: &[&Finding], sources: &Sources, out: &mut dyn Write, colour: bool) {
    for finding in findings {
        // A reader that went away is no reason to fail.
        let _ = writeln!(out, "{}", render(finding, sources, colour).trim_end());
        let _ = writeln!(out);
    }
}

/// `2 errors, 1 warning`.
fn counted(findings: &[&Finding]) -> String {
    let count = |level| {
        let count =
            findings.iter().filter(|finding| finding.level == level && finding.allowed.is_none());
        count.count()
    };
    let plural = |count: usize, word: &str| match count {
        1 => format!("1 {word}"),
        count => format!("{count} {word}s"),
    };
    let mut parts = Vec::new();
    for (level, word) in
        [(Level::Error, "error"), (Level::Warning, "warning"), (Level::Note, "note")]
    {
        if count(level) > 0 {
            parts.push(plural(count(level), word));
        }
    }
    parts.join(", ")
}

/// Tells findings of error level and warnings on standard error.
fn tell_on_error(findings: &[Finding], sources: &Sources) {
    let serious: Vec<&Finding> = findings
        .iter()
        .filter(|finding| finding.level != Level::Note && finding.allowed.is_none())
        .collect();
    let mut err = std::io::stderr().lock();
    let colour = colour(std::io::stderr().is_terminal());
    tell(&serious, sources, &mut err, colour);
}

/// Reads `--makes`; findings are told at once.
///
/// # Errors
/// A usage slip where it can't be read.
fn makes(text: Option<&str>) -> Result<Option<Makes>, Exit> {
    let Some(text) = text else { return Ok(None) };
    let (makes, findings) = crate::syntax::read_makes(SourceId::ASKED, text);
    match makes.filter(|_| findings.is_empty()) {
        Some(makes) => Ok(Some(makes)),
        None => {
            tell_on_error(&findings, &crate::desk::sources(text));
            Err(usage(&format!(
                "`--makes {text}` is not a yield: write \"60 loaves\", \"20 kg dough\" or \"from 400 g levain\""
            )))
        }
    }
}

/// Whether a word on the command line is meant as a path.
fn is_path(word: &str) -> bool {
    let ends = [".dough", ".md", ".markdown"].iter().any(|end| word.ends_with(end));
    word == "-" || Path::new(word).exists() || word.contains('/') || ends
}
