//! `unknown-stage`: a stage that the formula does not have.

use super::unknown_ingredient::offer;
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;
use ecow::EcoString;

/// `unknown-stage`, an error about names.
pub const RULE: Rule = Rule {
    name: "unknown-stage",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_stage.md"),
};

/// The finding for a name, with those that were perhaps meant.
pub fn finding(name: &Name, near: &[EcoString]) -> Finding {
    let said = Finding::new(
        &RULE,
        name.span,
        format!("this formula has no stage called `{}`", name.shown),
    )
    .about(&name.key);
    match near {
        [] => said.help("add a stage of that name, or correct the name"),
        near => offer(said, name.span, near),
    }
}
