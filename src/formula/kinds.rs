//! What allergens have in common, and what animals give.

use super::allergens::{Allergen, Allergens};
use std::sync::LazyLock;

/// What animals give: the words of `animal`. Meat is all for which one died: fish,
/// gelatine and rennet too.
pub const ANIMALS: [&str; 4] = ["milk", "egg", "honey", "meat"];

/// Allergens that what they come from has in common.
pub struct Kinds {
    /// The entry of milk.
    pub milk: Allergens,
    /// The entry of eggs.
    pub eggs: Allergens,
    /// The entry of soybeans.
    pub soybeans: Allergens,
    /// The group of nuts.
    pub nuts: Allergens,
    /// The group of cereals with gluten.
    pub gluten: Allergens,
    /// The group of what lives in water.
    pub seafood: Allergens,
    /// With all their kinds.
    pub of_animals: Allergens,
    /// Every cereal with gluten, and their group.
    pub of_gluten: Allergens,
    /// Of which foods like milk are made.
    pub of_plants: Allergens,
}

/// Read from the store of allergens.
pub static KINDS: LazyLock<Kinds> = LazyLock::new(|| {
    let of = |name: &str| Allergen::read(name).map_or(Allergens::NONE, Allergens::of);
    let all = |names: &[&str]| {
        names.iter().fold(Allergens::NONE, |all, name| all.with(of(name))).narrowed()
    };
    Kinds {
        milk: of("milk"),
        eggs: of("eggs"),
        soybeans: of("soybeans"),
        nuts: of("nuts"),
        gluten: of("gluten"),
        seafood: of("seafood"),
        of_animals: all(&["milk", "eggs", "seafood"]),
        of_gluten: all(&["gluten"]),
        of_plants: all(&["gluten", "nuts", "soybeans", "sesame", "lupin"]),
    }
});

/// The bit of a word of [`ANIMALS`].
pub fn bit(word: &str) -> u8 {
    ANIMALS.iter().position(|known| *known == word).map_or(0, |index| 1 << index)
}

/// The first word of [`ANIMALS`] among some bits.
pub fn word_of(animals: u8) -> Option<&'static str> {
    ANIMALS.into_iter().find(|word| animals & bit(word) != 0)
}
