//! `unknown-formula`: a formula that the bakehouse does not have.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;
use ecow::EcoString;

/// `unknown-formula`, an error about names.
pub const RULE: Rule = Rule {
    name: "unknown-formula",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_formula.md"),
};

/// The finding for a name, with the one that was perhaps meant.
pub fn finding(name: &Name, near: Option<EcoString>) -> Finding {
    let said =
        Finding::new(&RULE, name.span, format!("there is no formula called `{}`", name.shown));
    match near {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help("write the name that follows `formula`"),
    }
}
