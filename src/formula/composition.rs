//! What a mass of dough is made of.

use crate::quantity::Exact;

/// The number of an ingredient within a house and the stores behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct IngredientId(pub u32);

/// The number of a culture within a house and the stores behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CultureId(pub u32);

/// Something with a mass in a mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Substance {
    /// An ingredient of the house or of its stores.
    Ingredient(IngredientId),
    /// Seed that will be taken out again further on.
    Kept(CultureId),
    /// A culture that is not split into its flour and water.
    Whole(CultureId),
    /// Old dough while its composition is being worked out.
    OldDough,
}

/// Masses by substance, in the order in which they were first met.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Composition<M = Exact> {
    parts: Vec<(Substance, M)>,
}

impl<M> Composition<M> {
    /// The mass of a substance; none where it is not in it.
    pub fn get(&self, substance: Substance) -> Option<&M> {
        self.parts.iter().find(|(known, _)| *known == substance).map(|(_, mass)| mass)
    }

    /// All substances with their masses, in the order in which they were met.
    pub fn iter(&self) -> impl Iterator<Item = (Substance, &M)> {
        self.parts.iter().map(|(substance, mass)| (*substance, mass))
    }

    /// Adds to what is there, by `plus` where the substance is there already.
    pub fn add_with(&mut self, substance: Substance, mass: M, plus: impl FnOnce(&mut M, M)) {
        match self.parts.iter_mut().find(|(known, _)| *known == substance) {
            Some((_, old)) => plus(old, mass),
            None => self.parts.push((substance, mass)),
        }
    }

    /// All masses, to change them.
    pub fn masses_mut(&mut self) -> impl Iterator<Item = &mut M> {
        self.parts.iter_mut().map(|(_, mass)| mass)
    }

    /// Leaves only the substances that are to be kept.
    pub fn retain(&mut self, mut keep: impl FnMut(Substance) -> bool) {
        self.parts.retain(|(substance, _)| keep(*substance));
    }
}

impl Composition {
    /// Adds so many grams of a substance.
    pub fn add(&mut self, substance: Substance, mass: Exact) {
        self.add_with(substance, mass, |old, mass| *old += mass);
    }

    /// Adds all of another content, times a factor.
    pub fn add_all(&mut self, other: &Self, factor: &Exact) {
        for (substance, mass) in other.iter() {
            self.add(substance, mass * factor);
        }
    }

    /// Grams of everything in it.
    pub fn mass(&self) -> Exact {
        self.parts.iter().fold(Exact::ZERO, |sum, (_, mass)| sum + mass)
    }

    /// The content of one gram; none where there is nothing.
    pub fn per_gram(&self) -> Option<Self> {
        let one = Exact::ONE.over(&self.mass())?;
        let mut content = self.clone();
        content.scale(&one);
        Some(content)
    }

    /// Multiplies every mass.
    pub fn scale(&mut self, factor: &Exact) {
        for (_, mass) in &mut self.parts {
            *mass *= factor;
        }
    }
}
