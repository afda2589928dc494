//! `unknown-day`: a day that another one is made from, and that is not there.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::House;
use crate::syntax::tree::Name;

/// `unknown-day`, an error about names.
pub const RULE: Rule = Rule {
    name: "unknown-day",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_day.md"),
};

/// The finding for a name, with the one that was perhaps meant.
pub fn finding(house: &House, name: &Name) -> Finding {
    let said = Finding::new(&RULE, name.span, format!("there is no day called `{}`", name.shown));
    match house.near_day(&name.key) {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help("write the name that follows `day`, such as `saturday`"),
    }
}

/// Days that are made from each other in a circle.
pub fn circle(name: &Name) -> Finding {
    let message = format!("the day `{}` is made from this one again", name.shown);
    Finding::new(&RULE, name.span, message)
        .help("write the orders in one of them, and make the others from that one")
}
