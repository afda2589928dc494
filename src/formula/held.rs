//! Every ingredient that is in a formula, however little of it: what allergens hang on.

use super::content::{Content, IngredientId, Substance};
use super::house::{House, Ingredient};
use super::mixing::Blend;
use super::solve::all_mixes;
use super::worked::Worked;
use crate::syntax::tree::Line;

/// Ingredients as they are met, each once.
struct Held<'a, 't> {
    house: &'a House<'t>,
    found: Vec<IngredientId>,
}

impl Held<'_, '_> {
    fn add(&mut self, id: IngredientId) {
        if !self.found.contains(&id) {
            self.found.push(id);
        }
    }

    fn add_content(&mut self, content: &Content) {
        for (substance, _) in content.iter() {
            match substance {
                Substance::Ingredient(id) => self.add(id),
                Substance::Kept(id) | Substance::Whole(id) => {
                    self.add_content(&self.house.culture(id).per_gram);
                }
                Substance::OldDough => {}
            }
        }
    }

    /// What a line names, whatever its amount: a pinch and `as needed` count too.
    fn add_line(&mut self, line: &Line, blends: &[Blend]) {
        let key = &line.target.name.key;
        if let Some(id) = self.house.ingredient_id(key) {
            self.add(id);
        }
        if let Some((_, culture)) = self.house.culture_named(key) {
            self.add_content(&culture.per_gram);
        }
        if let Some(blend) = blends.iter().find(|blend| blend.key == *key) {
            blend.holds.iter().for_each(|id| self.add(*id));
        }
    }
}

/// Every ingredient that the lines of a side mix bring, `blends` being those it may name.
pub fn of_lines(house: &House, lines: &[Line], blends: &[Blend]) -> Vec<IngredientId> {
    let mut held = Held { house, found: Vec::new() };
    lines.iter().for_each(|line| held.add_line(line, blends));
    held.found
}

/// Every ingredient of a formula: dough, stages, pieces, baths and cultures, and all that
/// the formulas and side mixes in it hold.
pub fn of_formula(house: &House, worked: &Worked) -> Vec<IngredientId> {
    let mut held = Held { house, found: Vec::new() };
    held.add_content(&worked.first().whole);
    worked.first().stages.iter().for_each(|stage| held.add_content(&stage.goes_on));
    worked.blends.iter().flat_map(|blend| &blend.holds).for_each(|id| held.add(*id));
    for line in all_mixes(&worked.formula).flat_map(|mix| &mix.lines) {
        held.add_line(line, &worked.blends);
    }
    held.found
}

impl Worked<'_> {
    /// Every ingredient in dough and pieces, soft amounts, baths, cultures and inner
    /// formulas included.
    pub fn ingredients<'h>(&self, house: &'h House<'_>) -> Vec<&'h Ingredient> {
        of_formula(house, self).into_iter().map(|id| house.ingredient(id)).collect()
    }
}
