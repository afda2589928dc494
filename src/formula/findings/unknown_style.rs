//! `unknown-style`: a style that nobody has declared.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;
use ecow::EcoString;

pub const RULE: Rule = Rule {
    name: "unknown-style",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_style.md"),
};

pub fn finding(name: &Name, near: Option<EcoString>) -> Finding {
    let said = Finding::new(&RULE, name.span, format!("there is no style called `{}`", name.shown));
    match near {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help("declare it: `style NAME { … }`, or name one of the built-in styles"),
    }
}
