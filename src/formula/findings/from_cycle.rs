//! `from-cycle`: formulas or ingredients that are based on each other in a circle.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

pub const RULE: Rule = Rule { name: "from-cycle", level: Level::Error, group: Group::Names };

pub fn finding<'n>(mut names: Vec<&'n str>, last: &'n Name) -> Finding {
    names.push(&last.shown);
    Finding::new(&RULE, last.span, "this is based on itself, by way of others")
        .note(names.join(" → "))
        .help("one of them must stand on its own feet: remove its `from` or `like`")
}
