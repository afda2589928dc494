//! What is in a mix or a formula, however little of it: what allergens depend on.

use super::content::IngredientId;
use ecow::EcoString;

/// What is in a mix or a formula, each once.
#[derive(Clone, Debug, Default)]
pub struct Held {
    pub ingredients: Vec<IngredientId>,
    /// Names that stand for nothing known, as they were written.
    pub nameless: Vec<EcoString>,
}

impl Held {
    pub fn add(&mut self, id: IngredientId) {
        if !self.ingredients.contains(&id) {
            self.ingredients.push(id);
        }
    }

    pub fn add_nameless(&mut self, name: &EcoString) {
        if !self.nameless.contains(name) {
            self.nameless.push(name.clone());
        }
    }

    pub fn add_all(&mut self, other: &Self) {
        other.ingredients.iter().for_each(|id| self.add(*id));
        other.nameless.iter().for_each(|name| self.add_nameless(name));
    }
}
