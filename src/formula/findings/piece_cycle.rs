//! `piece-cycle`: formulas that are made of each other in a circle.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

/// `piece-cycle`, an error about names.
pub const RULE: Rule = Rule {
    name: "piece-cycle",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("piece_cycle.md"),
};

/// The finding for formulas that carry each other: their names, and that of the last line.
pub fn finding<'n>(mut names: Vec<&'n str>, last: &'n Name) -> Finding {
    names.push(&last.shown);
    if names.len() <= 2 {
        return Finding::new(&RULE, last.span, format!("`{}` is made of itself", last.shown))
            .help("take this line out, or name another formula");
    }
    Finding::new(&RULE, last.span, "this formula is made of itself, by way of others")
        .note(names.join(" → "))
        .help("take one of them out of the other's lines or pieces")
}
