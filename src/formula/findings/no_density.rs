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
    .help(match is_salt(&target.name.key) {
        true => "a teaspoon of salt is 2.5 g to 6 g, by its grain: write a weight, or name it: \
                 `fine sea salt`, `flake salt`, `flaky kosher salt` or `dense kosher salt`"
            .to_owned(),
        false if target.name.key.ends_with("culture") => {
            "write a weight: what a spoon of starter weighs depends on its bubbles".to_owned()
        }
        false => format!(
            "write a weight, or weigh a cup of it once and declare your own: `ingredient my {name} \
             like {name} {{ volume 1 cup weighs 120 g }}`"
        ),
    })
}

/// Whether a name is one of salt, which is weighed by its grain.
fn is_salt(name: &str) -> bool {
    name.ends_with("salz") || name.split(' ').any(|it| ["salt", "sel", "sal", "sale"].contains(&it))
}
