//! `not-an-amount`: a time or a temperature where an amount should stand.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Amount, Line, Quantity, Target};

/// `not-an-amount`, an error about names.
pub const RULE: Rule = Rule {
    name: "not-an-amount",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("not_an_amount.md"),
};

/// The finding for a line in a unit that weighs nothing.
pub fn finding(target: &Target, quantity: &Quantity) -> Finding {
    let (name, unit) = (&target.name.shown, quantity.unit);
    Finding::new(
        &RULE,
        quantity.span,
        format!("the amount of `{name}` is given as {}", unit.dimension().word()),
    )
    .help("write a weight, a percentage, a volume, a count, or `as needed`")
}

/// A line of a culture from which nobody can say what the culture is made of.
pub fn in_a_culture(line: &Line) -> Finding {
    let name = &line.target.name.shown;
    let message = match &line.amount {
        Amount::Measured { .. } => {
            format!("a culture is made of one amount of `{name}`, not a range")
        }
        Amount::Rest => {
            format!("nothing says what `the rest` of `{name}` would be in this culture")
        }
        _ => format!("a culture needs to know how much `{name}` is in it"),
    };
    Finding::new(&RULE, line.amount_span, message)
        .note(
            "what a culture brings counts in the sums and allergens of every formula that uses it",
        )
        .help("write one percentage, weight or number of parts, as the culture is kept")
}
