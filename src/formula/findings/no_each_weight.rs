//! `no-each-weight`: a count of something that is not counted.

use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::trimmed;
use crate::syntax::tree::{Quantity, Target};

pub const RULE: Rule = Rule {
    name: "no-each-weight",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_each_weight.md"),
};

pub fn finding(target: &Target, quantity: &Quantity) -> Finding {
    let name = &target.name.shown;
    let number = trimmed(&quantity.number, 3);
    Finding::new(
        &RULE,
        quantity.span,
        format!("`{name} {number}` has no unit, and one `{name}` has no known weight"),
    )
    .help(format!(
        "write `{name} {number}%` or `{name} {number} g`; to count them, say `each 50 g` where \
             `{name}` is declared"
    ))
}
