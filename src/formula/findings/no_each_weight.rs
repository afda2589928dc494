//! `no-each-weight`: a count of something that is not counted.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::quantity::Unit;
use crate::quantity::display::trimmed;
use crate::syntax::missing_unit;
use crate::syntax::tree::{Amount, Line, Mix, Quantity, Target};

/// `no-each-weight`, an error about sums.
pub const RULE: Rule = Rule {
    name: "no-each-weight",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("no_each_weight.md"),
};

/// A number alone: of water and flour the unit is missing, of an onion its weight. What
/// most lines of the `main` mix are counted in is the likely unit.
pub fn finding(
    main: Option<&Mix>,
    target: &Target,
    class: Option<Class>,
    quantity: &Quantity,
) -> Finding {
    if class.is_some_and(comes_in_pieces) {
        return uncounted(target, quantity);
    }
    let lines = main.map_or(&[][..], |mix| &mix.lines);
    let is_share = |line: &&Line| {
        matches!(&line.amount, Amount::Measured { range, .. }
            if range.low.as_ref().is_some_and(|low| low.unit == Unit::Percent))
    };
    let shares = lines.iter().filter(is_share).count();
    let likely = if shares * 2 >= lines.len() { Unit::Percent } else { Unit::Gram };
    missing_unit(quantity.span, &target.name.shown, &quantity.number, likely)
}

/// Whether things of a class come in pieces that one might count.
fn comes_in_pieces(class: Class) -> bool {
    matches!(
        class,
        Class::Egg
            | Class::Nut
            | Class::Fruit
            | Class::Vegetable
            | Class::Spice
            | Class::Seed
            | Class::Improver
            | Class::Other
    )
}

/// A count of something whose weight nobody knows.
pub fn uncounted(target: &Target, quantity: &Quantity) -> Finding {
    let name = &target.name.shown;
    let number = trimmed(&quantity.number, 3);
    Finding::new(
        &RULE,
        quantity.span,
        format!("`{name} {number}` has no unit, and one `{name}` has no known weight"),
    )
    .help(format!(
        "if these are pieces, weigh them and write the grams in place of the number, or say what \
         one weighs where `{name}` is declared, such as `each 120 g`; if it is a share of the \
         flour, write `{name} {number}%`"
    ))
}
