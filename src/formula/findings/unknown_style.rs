//! `unknown-style`: a style that nobody has declared.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;
use ecow::EcoString;

/// A style that neither the house nor the stores have.
pub const RULE: Rule = Rule {
    name: "unknown-style",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_style.md"),
};

/// `known` are the names of all styles.
pub fn finding(name: &Name, near: Option<EcoString>, known: &[&str]) -> Finding {
    let said = Finding::new(&RULE, name.span, format!("there is no style called `{}`", name.shown));
    match near {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said
            .help(format!("declare it, `style {} {{ … }}`, or name one there is", name.shown))
            .note(format!("the styles are {}", known.join(", "))),
    }
}
