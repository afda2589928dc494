//! How an ingredient counts, and what is in it.

use crate::quantity::Exact;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name {
            $(
                #[doc = concat!("`", $word, "`.")]
                $variant
            ),+
        }

        impl $name {
            /// Each with its word in the language.
            pub const ALL: &'static [(&'static str, Self)] = &[$(($word, Self::$variant)),+];

            /// What a word of the language means.
            pub fn read(word: &str) -> Option<Self> {
                Self::ALL.iter().find(|(known, _)| *known == word).map(|(_, value)| *value)
            }

            /// The word of the language.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }
    };
}

words! {
    /// The class of an ingredient; it says how the ingredient counts.
    Class {
        Flour = "flour", Water = "water", Salt = "salt", Yeast = "yeast",
        Leavener = "leavener", Culture = "culture", Sugar = "sugar", Fat = "fat",
        Egg = "egg", Dairy = "dairy", Liquid = "liquid", Grain = "grain", Seed = "seed",
        Nut = "nut", Fruit = "fruit", Vegetable = "vegetable", Malt = "malt",
        Spice = "spice", Improver = "improver", Other = "other",
    }
}

words! {
    /// What an ingredient is made of, per 100 g.
    Nutrient {
        Water = "water", Protein = "protein", Fat = "fat", Saturates = "saturates",
        Monounsaturates = "monounsaturates", Polyunsaturates = "polyunsaturates",
        Carbohydrate = "carbohydrate", Sugars = "sugars", Starch = "starch",
        Fibre = "fibre", Ash = "ash", Alcohol = "alcohol", Salt = "salt",
        Sodium = "sodium", Calcium = "calcium", Iron = "iron", Potassium = "potassium",
        Cholesterol = "cholesterol", Energy = "energy",
    }
}

impl Class {
    /// Whether what has a name of this class is that one thing, rather than mixed of many
    /// as its maker likes.
    pub fn is_of_one_thing(self) -> bool {
        use Class::{Dairy, Egg, Flour, Grain, Malt, Nut, Seed};
        matches!(self, Flour | Grain | Seed | Nut | Dairy | Egg | Malt)
    }
}

/// Shares of one (of the weight), energy in kilocalories per gram.
#[derive(Clone, Debug, Default)]
pub struct NutrientShares(Vec<(Nutrient, Exact)>);

impl NutrientShares {
    /// Grams of a nutrient in a gram, or kilocalories; none where it is not stated.
    pub fn get(&self, nutrient: Nutrient) -> Option<&Exact> {
        self.0.iter().find(|(known, _)| *known == nutrient).map(|(_, share)| share)
    }

    /// States a nutrient, in place of what was stated before.
    pub fn set(&mut self, nutrient: Nutrient, share: Exact) {
        match self.0.iter_mut().find(|(known, _)| *known == nutrient) {
            Some((_, old)) => *old = share,
            None => self.0.push((nutrient, share)),
        }
    }
}
