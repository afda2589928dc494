//! Whether a formula is without something: proved, refuted, or not known.
//!
//! It fails closed: what nobody has said of an ingredient is not known, and a claim over
//! it is not proved.

use super::allergens::Absence;
use super::composition::IngredientId;
use super::declared::Judged;
use super::holdings;
use super::worked::Worked;
use ecow::EcoString;

/// What became of a claim that a formula is without something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Proof {
    /// All that is in the formula is known to be without it.
    Proved,
    /// What brings it.
    Refuted(Vec<Bringer>),
    /// The names of that of which it is not known.
    NotKnown(Vec<EcoString>),
}

/// An ingredient that brings something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bringer {
    /// Its number.
    pub id: IngredientId,
    /// Its name as it is shown.
    pub ingredient: EcoString,
    /// The allergen, or what an animal gave: `hazelnuts` where nuts were asked for.
    pub holds: &'static str,
}

/// Judges a claim of absence over everything in a formula: dough, stages, cultures, side
/// mixes and pieces, baths, what is dusted on or tins are greased with, however little,
/// and all of that in the formulas it carries.
pub fn absence(worked: &Worked, absence: Absence) -> Proof {
    let held = holdings::of_formula(worked);
    let mut bringers = Vec::new();
    let mut not_known = held.nameless;
    not_known.extend(held.silent);
    for id in held.ingredients {
        let ingredient = worked.house.ingredient(id);
        let name = || ingredient.name.shown.clone();
        match ingredient.declared.judge(absence) {
            Judged::Without => {}
            Judged::Holds(holds) => bringers.push(Bringer { id, ingredient: name(), holds }),
            Judged::NotKnown => not_known.push(name()),
        }
    }
    match (bringers.is_empty(), not_known.is_empty()) {
        (false, _) => Proof::Refuted(bringers),
        (true, false) => Proof::NotKnown(not_known),
        (true, true) => Proof::Proved,
    }
}
