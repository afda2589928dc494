//! `from-cycle`: formulas or ingredients that are based on each other in a circle.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::tree::Name;

/// `from-cycle`, an error about names.
pub const RULE: Rule = Rule {
    name: "from-cycle",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("from_cycle.md"),
};

/// `names` in the order in which they lean on each other; `last` closes the circle.
pub fn finding<'n>(mut names: Vec<&'n str>, last: &'n Name, span: Span) -> Finding {
    names.push(&last.shown);
    if names.len() <= 2 {
        return Finding::new(&RULE, span, format!("`{}` is based on itself", last.shown))
            .help("remove its `from` or `like`, or name another");
    }
    Finding::new(&RULE, span, format!("`{}` is based on itself, by way of others", last.shown))
        .note(names.join(" → "))
        .help("one of them must not be based on another: remove its `from` or `like`")
}
