//! `print-unknown`: a print of which nobody can tell whether it is current.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// The rule.
pub const RULE: Rule = Rule {
    name: "print-unknown",
    level: Level::Error,
    group: Group::Files,
    page: include_str!("print_unknown.md"),
};

/// A print of which it can't be told whether it is current; why, in words.
pub fn finding(why: String) -> Finding {
    Finding::new(&RULE, Span::NOWHERE, why).help("print it again, and take the old one down")
}
