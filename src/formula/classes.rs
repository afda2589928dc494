//! The class that an ingredient counts as: its own, or flour where a formula says so.

use super::class::Class;
use super::composition::IngredientId;
use super::house::House;

/// Whether an ingredient is flour, `also` being those that a formula counts as flour.
pub fn is_flour(house: &House, also: &[IngredientId], id: IngredientId) -> bool {
    house.ingredient(id).class == Class::Flour || also.contains(&id)
}

/// The class that an ingredient counts as, `also` being those that count as flour.
pub fn class_of(house: &House, also: &[IngredientId], id: IngredientId) -> Class {
    match is_flour(house, also, id) {
        true => Class::Flour,
        false => house.ingredient(id).class,
    }
}
