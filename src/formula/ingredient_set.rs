//! What is in a mix or a formula, however little of it: what allergens depend on.

use super::composition::IngredientId;
use ecow::EcoString;

/// What is in a mix or a formula, each once.
#[derive(Clone, Debug, Default)]
pub struct IngredientSet {
    /// Those whose names are known.
    pub ingredients: Vec<IngredientId>,
    /// Names that stand for nothing known, as they were written.
    pub nameless: Vec<EcoString>,
    /// Tins that it is baked in of which nobody says what they are greased with, and the fat
    /// that something is fried in where nobody names it.
    pub silent: Vec<EcoString>,
}

impl IngredientSet {
    /// Adds an ingredient, once.
    pub fn add(&mut self, id: IngredientId) {
        if !self.ingredients.contains(&id) {
            self.ingredients.push(id);
        }
    }

    /// Adds a name that stands for nothing known, once.
    pub fn add_nameless(&mut self, name: &EcoString) {
        if !self.nameless.contains(name) {
            self.nameless.push(name.clone());
        }
    }

    /// Adds all that is in another.
    pub fn add_all(&mut self, other: &Self) {
        other.ingredients.iter().for_each(|id| self.add(*id));
        other.nameless.iter().for_each(|name| self.add_nameless(name));
        for tin in &other.silent {
            if !self.silent.contains(tin) {
                self.silent.push(tin.clone());
            }
        }
    }
}
