//! `replaces-built-in`: a declaration of a name that the stores have too.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

/// `replaces-built-in`, a note about names.
pub const RULE: Rule = Rule {
    name: "replaces-built-in",
    level: Level::Note,
    group: Group::Names,
    page: include_str!("replaces_built_in.md"),
};

/// The finding for a name of the house, and what kind of thing bears it.
pub fn finding(kind: &str, name: &Name) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("`{}` replaces the built-in {kind} of that name", name.shown),
    )
}
