//! `not-an-amount`: a time or a temperature where an amount should stand.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Quantity, Target};

pub const RULE: Rule = Rule {
    name: "not-an-amount",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("not_an_amount.md"),
};

pub fn finding(target: &Target, quantity: &Quantity) -> Finding {
    let (name, unit) = (&target.name.shown, quantity.unit);
    Finding::new(
        &RULE,
        quantity.span,
        format!("the amount of `{name}` is given as {}", unit.dimension().word()),
    )
    .help("write a weight, a percentage, a volume, a count, or `as needed`")
}
