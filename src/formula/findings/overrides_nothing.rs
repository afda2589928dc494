//! `overrides-nothing`: `without` for something that is not there.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

/// `overrides-nothing`, a warning about names.
pub const RULE: Rule = Rule {
    name: "overrides-nothing",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("overrides_nothing.md"),
};

/// The finding for a line that is left out of what has none of that name.
pub fn finding(name: &Name) -> Finding {
    Finding::new(
        &RULE,
        name.span,
        format!("`without {}` removes nothing: there is no such line or stage", name.shown),
    )
    .help("correct the name or remove the line; a role is part of the name: `water (second)`")
}

/// The finding for an order that a day leaves out of another one, which has no such order; `near`,
/// whom the other day has orders of that product for.
pub fn order(name: &Name, customer: Option<&str>, near: &[&str]) -> Finding {
    let of = customer.map(|customer| format!(" for {customer}")).unwrap_or_default();
    let message = format!(
        "`without {}`{of} removes nothing: the day that this one is made from has no such order",
        name.shown
    );
    let help = match near {
        [] => "correct the name or remove the line".to_owned(),
        near => format!(
            "that day has orders of it for {}: correct the name or remove the line",
            near.join(", ")
        ),
    };
    Finding::new(&RULE, name.span, message).help(help)
}
