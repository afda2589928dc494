//! `culture-doubtful`: a culture that nothing lives in.

use super::limits::{self, show_range};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::formula::{Composition, House, Substance};
use crate::quantity::Exact;
use crate::quantity::display::percent;
use crate::syntax::tree::{self, Tree};

/// `culture-doubtful`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "culture-doubtful",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("culture_doubtful.md"),
};

/// Adds what it finds in the cultures that a house declares to `findings`.
pub fn check(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    for declared in trees.iter().flat_map(|tree| &tree.cultures) {
        if let Some((_, culture)) = house.culture_named(&declared.name.key)
            && !culture.broken
            && declared.mix.lines.iter().all(is_counted)
        {
            findings.extend(check_one(house, declared, &culture.per_gram));
        }
    }
}

/// Whether an amount can be counted; what can't has a finding of its own.
fn is_counted(line: &tree::Line) -> bool {
    match &line.amount {
        tree::Amount::Measured { range, .. } => !range.ranged,
        amount => matches!(amount, tree::Amount::Rest),
    }
}

fn check_one(house: &House, declared: &tree::Culture, content: &Composition) -> Option<Finding> {
    let (mut flour, mut water, mut feeds) = (Exact::ZERO, Exact::ZERO, false);
    for (substance, mass) in content.iter() {
        let Substance::Ingredient(id) = substance else { continue };
        let ingredient = house.ingredient(id);
        match ingredient.class {
            Class::Flour => flour += mass,
            _ => water += mass * ingredient.water_share().unwrap_or_default(),
        }
        feeds |= !matches!(ingredient.class, Class::Water | Class::Salt | Class::Fat);
    }
    if flour.is_zero() && water.is_zero() && !feeds {
        return None;
    }
    let name = &declared.name.shown;
    let error =
        |message: String| Finding::new(&RULE, declared.name.span, message).level(Level::Error);
    if !feeds {
        let message = format!("nothing in the culture `{name}` feeds it");
        return Some(error(message).help("write its flour: `bread flour 100%`"));
    }
    if water.is_zero() {
        let message = format!("the culture `{name}` has no water: nothing ferments in dry flour");
        let help = "write its water: `water 100%`; a dried one is an ingredient, \
                    `ingredient NAME like bread flour`";
        return Some(error(message).help(help));
    }
    // What ferments fruit or sugar has no share of flour.
    let share = water.over(&flour)?;
    let usual = limits::bound("habit of stages", "water")?;
    let possible = limits::bound("physics of cultures", "water")?;
    if usual.holds(&share) {
        return None;
    }
    let message = format!(
        "water is {} % of the flour of the culture `{name}`; {} is usual",
        percent(&share, 2),
        show_range(&usual)
    );
    let said =
        Finding::new(&RULE, declared.name.span, message).help("check its water and its flour");
    Some(if possible.holds(&share) { said } else { said.level(Level::Error) })
}
