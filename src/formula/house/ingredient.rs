//! What a bakery weighs out: ingredients and kept starters, with what is known of them.

use crate::formula::class::{Class, Nutrient, NutrientShares};
use crate::formula::composition::Composition;
use crate::formula::declared::Declared;
use crate::formula::ingredient_set::IngredientSet;
use crate::quantity::{Exact, ratio};
use crate::syntax::tree::{self, Name};
use ecow::EcoString;

/// What a bakery weighs out.
#[derive(Clone, Debug)]
pub struct Ingredient {
    /// As it was declared.
    pub name: Name,
    /// How it counts.
    pub class: Class,
    /// What is in it, as far as it is stated.
    pub composition: NutrientShares,
    /// Grams in a millilitre.
    pub grams_per_ml: Option<Exact>,
    /// Grams of one, for counts.
    pub each: Option<Exact>,
    /// Degrees Celsius that it is kept at.
    pub kept: Option<Exact>,
    /// Allergens, and what animals gave.
    pub declared: Declared,
    /// Grams of salt of cooking in a gram; the sodium of raising agents is none.
    pub salt: Exact,
    /// Grams of salt in a gram as a label declares it, from sodium; none where it is not
    /// known.
    pub declared_salt: Option<Exact>,
    /// Names in other languages, by language.
    pub called: Vec<(EcoString, EcoString)>,
    /// What to beware of wherever it is used.
    pub cautions: Vec<tree::Text>,
    /// All else that is said of it, and from where.
    pub remarks: Vec<tree::NotedText>,
    /// The built-in ingredient that can hurt, which it is, is like or is called by.
    pub warned_as: Option<EcoString>,
    /// Of a yeast: grams of fresh yeast that one gram stands for.
    pub fresh_equivalent: Option<Exact>,
    /// Grams that it is bought in, where it or its price says so.
    pub pack: Option<Exact>,
    /// Whether it stands in the stores of the program.
    pub built_in: bool,
}

impl Ingredient {
    /// Lye, slaked lime, what is like them and what is called so.
    pub fn is_caustic(&self) -> bool {
        matches!(self.warned_as.as_deref(), Some("lye" | "slaked lime"))
    }

    /// From sodium where salt itself is not stated.
    pub(super) fn salt_of_composition(&self) -> Exact {
        match (self.class, self.composition.get(Nutrient::Salt)) {
            (Class::Salt, _) => Exact::ONE,
            (_, Some(salt)) => salt.clone(),
            (Class::Leavener, None) => Exact::ZERO,
            (_, None) => self.sodium_as_salt().unwrap_or_default(),
        }
    }

    /// Salt is sodium times 2.5 (EU Regulation 1169/2011, Annex I, point 11).
    pub fn sodium_as_salt(&self) -> Option<Exact> {
        self.composition.get(Nutrient::Sodium).map(|sodium| sodium * ratio(5, 2))
    }

    /// From sodium, else as salt is stated; salt itself and water need no statement.
    pub(super) fn salt_on_a_label(&self) -> Option<Exact> {
        let stated = || self.composition.get(Nutrient::Salt).cloned();
        let by_class = || match self.class {
            Class::Salt => Some(Exact::ONE),
            Class::Water => Some(Exact::ZERO),
            _ => None,
        };
        self.sodium_as_salt().or_else(stated).or_else(by_class)
    }

    /// Grams of fresh yeast that a gram of it stands for.
    pub fn as_fresh_yeast(&self) -> Exact {
        self.fresh_equivalent.clone().unwrap_or(Exact::ONE)
    }

    /// Grams of water in a gram of it; class water counts as all water.
    pub fn water_share(&self) -> Option<Exact> {
        match self.class {
            Class::Water => Some(Exact::ONE),
            _ => self.composition.get(Nutrient::Water).cloned(),
        }
    }
}

/// A kept starter.
#[derive(Clone, Debug)]
pub struct Culture {
    /// As it was declared.
    pub name: Name,
    /// What one gram of it is made of.
    pub per_gram: Composition,
    /// All that its lines name, those without a weight too.
    pub holds: IngredientSet,
    /// Whether a line of it could not be read, or names what nobody knows: that has its
    /// finding, and nothing is judged by what it is made of.
    pub broken: bool,
    /// What to beware of wherever it is used.
    pub cautions: Vec<tree::Text>,
    /// All else that is said of it, and from where.
    pub remarks: Vec<tree::NotedText>,
}
