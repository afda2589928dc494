//! `bug-of-ours`: our own code failed at a formula or a file.

use crate::desk::crash::Crash;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// A formula at which the program itself fails.
pub const RULE: Rule = Rule {
    name: "bug-of-ours",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("bug_of_ours.md"),
};

/// What stands at `span` and is called `name` could not be worked on to the end.
pub fn finding(span: Span, name: &str, crash: &Crash) -> Finding {
    let at = if crash.place.is_empty() { String::new() } else { format!(" at {}", crash.place) };
    let version = env!("CARGO_PKG_VERSION");
    let mut finding = Finding::new(
        &RULE,
        span,
        format!(
            "`{name}` could not be worked out, which is a bug of ours, not a mistake of \
            yours"
        ),
    )
    .note(format!("assize {version} failed{at}: {}", crash.what))
    .help("please send us this message and the file; all else was checked as usual");
    if let Some(backtrace) = &crash.backtrace {
        finding = finding.note(backtrace.clone());
    }
    finding
}
