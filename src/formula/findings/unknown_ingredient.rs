//! `unknown-ingredient`: a name on a line that nobody knows.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;
use ecow::EcoString;

pub const RULE: Rule = Rule {
    name: "unknown-ingredient",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_ingredient.md"),
};

pub fn finding(name: &Name, near: Option<EcoString>) -> Finding {
    let said = Finding::new(&RULE, name.span, format!("nothing here is called `{}`", name.shown));
    match near {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help(
            "correct the name, or declare it: `ingredient NAME is a CLASS { … }`; what is mixed \
             beforehand is a stage: `preferment NAME { … }`",
        ),
    }
}
