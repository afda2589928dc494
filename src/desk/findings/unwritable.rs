//! `unwritable`: an output that can not be written.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

pub const RULE: Rule = Rule {
    name: "unwritable",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("unwritable.md"),
};

pub fn finding(name: &str, why: &str) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, format!("{name} can't be written: {why}")).help(
        "what stood there before is untouched; check the folder's rights and the room on the disk",
    )
}
