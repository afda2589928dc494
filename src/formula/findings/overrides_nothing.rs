//! `overrides-nothing`: `without` for something that is not there.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

/// `overrides-nothing`, a warning about names.
pub const RULE: Rule = Rule {
    name: "overrides-nothing",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("overrides_nothing.md"),
};

/// The finding for a line that is left out of what has none of that name.
pub fn finding(name: &Name) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("`without {}` removes nothing: there is no such line or stage", name.shown),
    )
    .help("correct the name or remove the line; a role is part of the name: `water (second)`")
}
