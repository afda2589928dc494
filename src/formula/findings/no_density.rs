//! `no-density`: a volume of something whose weight per volume is not known.

use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::trimmed;
use crate::syntax::tree::{Quantity, Target};

/// `no-density`, an error about sums.
pub const RULE: Rule = Rule {
    name: "no-density",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_density.md"),
};

/// The finding for a line in a volume.
pub fn finding(target: &Target, quantity: &Quantity) -> Finding {
    let name = &target.name.shown;
    Finding::new(
        &RULE,
        quantity.span,
        format!(
            "the weight of {} {} of `{name}` is not known",
            trimmed(&quantity.number, 3),
            quantity.unit.spelling()
        ),
    )
    .help(format!(
        "weigh a cup of it once and say so where it is declared: `volume 1 cup weighs 120 g`; or \
         write `{name}` as a weight"
    ))
}
