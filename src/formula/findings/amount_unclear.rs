//! An amount that means nothing on its line.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Line;

/// `amount-unclear`, an error about sums.
pub const RULE: Rule = Rule {
    name: "amount-unclear",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("amount_unclear.md"),
};

/// `all` or `the rest` where it means nothing.
pub fn meaningless(line: &Line, why: &str) -> Finding {
    Finding::new(
        &RULE,
        line.amount_span,
        format!("the amount of `{}` is not clear: {why}", line.target.name.shown),
    )
    .help("write a weight or a percentage")
}
