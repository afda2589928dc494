//! What the name on a line means, and the one lookup of it.

use super::composition::{CultureId, IngredientId};
use super::house::House;
use super::side_mix::SideMix;
use crate::syntax::tree::Stage;

/// What a line puts in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineRef {
    /// An ingredient of the house or of its stores.
    Ingredient(IngredientId),
    /// A culture that comes from outside the formula.
    Culture(CultureId),
    /// A stage of this formula, by its place in it.
    Stage(usize),
    /// A side mix or another formula, by its place among the side mixes.
    SideMix(usize),
    /// Dough kept from the batch before.
    OldDough,
    /// A name that nobody knows.
    Nothing,
}

/// All that names on the lines of a formula may mean.
pub struct LineNames<'n, 't> {
    /// Its ingredients and cultures.
    pub house: &'n House<'t>,
    /// The stages of the formula.
    pub stages: &'n [Stage],
    /// Its side mixes, and the formulas it takes.
    pub side_mixes: &'n [SideMix],
}

impl LineNames<'_, '_> {
    /// What a name's key means, the nearest meaning first.
    pub fn find(&self, key: &str) -> LineRef {
        if let Some(stage) = self.stages.iter().position(|stage| stage.name.key == key) {
            return LineRef::Stage(stage);
        }
        match key {
            "old dough" => LineRef::OldDough,
            _ => self.find_beside(key),
        }
    }

    /// What it means beside the dough, where no stage is at hand.
    pub fn find_beside(&self, key: &str) -> LineRef {
        if let Some(side_mix) = self.side_mixes.iter().position(|side_mix| side_mix.key == key) {
            return LineRef::SideMix(side_mix);
        }
        let culture = self.house.culture_named(key).map(|(id, _)| LineRef::Culture(id));
        let ingredient = || self.house.ingredient_id(key).map(LineRef::Ingredient);
        culture.or_else(ingredient).unwrap_or(LineRef::Nothing)
    }
}
