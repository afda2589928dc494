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
mod streams;
mod why;
mod write;

use crate::desk::{self, Crash, Disk, Loaded, bug_of_ours, load};
use crate::diag::{Finding, Level, render};
use crate::source::{SourceId, Sources, one_line, visible};
use crate::syntax::tree::Makes;
use args::{Args, Command};
use clap::Parser;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// How a run ended; README.md lists the codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    Clean = 0,
    Findings = 1,
    Usage = 2,
    Bug = 3,
}

/// Runs the command that the process was started with.
pub fn run() -> ExitCode {
    desk::keep_places();
    let exit = desk::run(asked).unwrap_or_else(|crash| {
        streams::error_text(crash_report(&crash, std::env::args_os()));
        Exit::Bug
    });
    ExitCode::from(exit.max(streams::outcome()) as u8)
}

/// Does what the command line asks for.
fn asked() -> Exit {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(other) => return told_by_clap(&other),
    };
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

/// The exit code that findings ask for.
fn exit_of(findings: &[Finding]) -> Exit {
    let exit = |finding: &Finding| match (finding.rule.name, finding.level) {
        (name, _) if name == bug_of_ours::RULE.name => Exit::Bug,
        (_, Level::Error) if finding.allowed.is_none() => Exit::Findings,
        _ => Exit::Clean,
    };
    findings.iter().map(exit).max().unwrap_or(Exit::Clean)
}

/// A slip on the command line.
fn usage(message: &str) -> Exit {
    streams::error_text(format!("assize: {}\n", visible(message)));
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

/// Draws findings for a person, with an empty line after each.
fn drawn<'f>(
    findings: impl IntoIterator<Item = &'f Finding>,
    sources: &Sources,
    colour: bool,
) -> String {
    let each = findings.into_iter();
    each.map(|finding| render(finding, sources, colour).trim_end().to_owned() + "\n\n").collect()
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
    let is_serious = |finding: &&Finding| finding.level != Level::Note && finding.allowed.is_none();
    let serious = findings.iter().filter(is_serious);
    let told = drawn(serious, sources, streams::colour(&std::io::stderr()));
    if !told.is_empty() {
        streams::error_text(told);
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Span;

    fn crash() -> Crash {
        let place = "src/formula/linear.rs:12".to_owned();
        Crash { place, what: "attempt to divide by zero".to_owned(), backtrace: None }
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

    #[test]
    fn a_bug_of_ours_outweighs_all_other_findings() {
        let bug = bug_of_ours::finding(Span::NOWHERE, "pier-loaf", &crash());
        let slip = desk::unwritable::finding("a.pdf", "the disk is full");
        assert_eq!(exit_of(&[]), Exit::Clean);
        assert_eq!(exit_of(&[slip.clone().level(Level::Warning)]), Exit::Clean);
        assert_eq!(exit_of(std::slice::from_ref(&slip)), Exit::Findings);
        assert_eq!(exit_of(&[slip.clone(), bug, slip]), Exit::Bug);
    }
}
