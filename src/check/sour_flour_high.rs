//! `sour-flour-high`: much flour fermented by a culture in a dough with little rye.

use super::context::Context;
use super::limits;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::percent;

/// `sour-flour-high`, a warning about salt.
pub const RULE: Rule = Rule {
    name: "sour-flour-high",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("sour_flour_high.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(mix), false) = (context.main_mix(), context.flour().is_zero()) else { return };
    let number = |name| limits::number("habit of sour flour", name);
    let (Some(most), Some(rye)) = (number("sour flour"), number("rye")) else { return };
    if context.style_bounds("prefermented flour") || context.rye_share() >= rye {
        return;
    }
    let sour = context.of_flour(&context.worked.culture_fermented_flour(context.first()));
    if sour > most {
        findings.push(
            Finding::new(&RULE, mix.span, format!("{} % of the flour is fermented by a culture", percent(&sour, 2)))
                .note(format!("above {} % a wheat dough becomes too acid and tears (Bakers Journal, 30 March 2017)", percent(&most, 0)))
                .help("ferment less flour beforehand, or name a `style` that is made so"),
        );
    }
}
