//! Something mixed elsewhere that a formula takes: a side mix, or another formula.

use super::composition::Composition;
use super::ingredient_set::IngredientSet;
use crate::quantity::Exact;
use ecow::EcoString;

/// Something mixed elsewhere, with its make-up.
#[derive(Clone, Debug)]
pub struct SideMix {
    /// Its name, as it is looked up.
    pub key: EcoString,
    /// Its name, as it was written.
    pub shown: EcoString,
    /// Grams in a gram of it.
    pub per_gram: Composition,
    /// Of a mixture, what each of its lines is of a gram of it.
    pub shares: Vec<Exact>,
    /// Grams of it where it is written in weights, such as a bath; else nothing.
    pub own_mass: Exact,
    /// Grams of flour in a gram of it that were fermented beforehand.
    pub fermented: Exact,
    /// All that is in it, what has no mass and what is on its pieces included.
    pub holds: IngredientSet,
    /// A formula rather than a mixture.
    pub is_formula: bool,
}
