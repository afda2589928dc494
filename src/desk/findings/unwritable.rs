//! `unwritable`: an output that can not be written.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// An output that can't be written.
pub const RULE: Rule = Rule {
    name: "unwritable",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("unwritable.md"),
};

/// A file or folder `name`, and why it can't be written.
pub fn finding(name: &str, why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name} can't be written: {why}")).help(
        "what was there before is untouched; check the folder's permissions and the space on \
        the disk",
    )
}

/// A stream such as standard output, which takes no more.
pub fn stream(name: &str, why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name} can't be written: {why}"))
        .help("what is there is not the whole; run it again where there is space")
}
