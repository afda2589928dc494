//! `replaces-built-in`: a declaration of a name that the stores have too.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

pub const RULE: Rule = Rule {
    name: "replaces-built-in",
    level: Level::Note,
    group: Group::Names,
    page: include_str!("replaces_built_in.md"),
};

pub fn finding(kind: &str, name: &Name) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("`{}` replaces the built-in {kind} of that name", name.shown),
    )
}
