//! A mix with nothing in it.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

/// `empty-mix`, an error about sums.
pub const RULE: Rule = Rule {
    name: "empty-mix",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("empty_mix.md"),
};

/// A mix with nothing in it.
pub fn empty(name: &Name) -> Finding {
    Finding::new(&RULE, name.span, format!("there is nothing in `{}`", name.shown))
        .help("write what it is made of, a line each, as in `{ bread flour 100%; water 100% }`")
}
