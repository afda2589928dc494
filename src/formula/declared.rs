//! What an ingredient is declared to contain: allergens, and what animals gave.
//!
//! Whatever is not said is not known, and never nothing.

use super::allergens::{Absence, Allergen, Allergens};
use super::findings::{allergen_in_name, unknown_allergen};
use crate::diag::Finding;
use crate::syntax::tree;
use std::sync::LazyLock;

/// What animals give: the words of `animal`. Meat is all for which one died: fish,
/// gelatine and rennet too.
pub const ANIMALS: [&str; 4] = ["milk", "egg", "honey", "meat"];

/// What an ingredient is declared to contain.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Declared {
    /// As it was named.
    pub named: Allergens,
    /// What it may contain besides.
    pub may: Allergens,
    /// Whether it is said what it contains, and every name of that is known.
    pub is_complete: bool,
    /// A bit for each of [`ANIMALS`]; none where nothing is said.
    animals: Option<u8>,
    /// All that it contains in the narrow sense and in every wider one.
    holds: Allergens,
    /// All that it may contain: the kinds of what was named as a group too.
    perhaps: Allergens,
}

/// What is known of an ingredient and something it might contain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judged {
    Without,
    /// It contains it, as the name of an allergen or of what an animal gave.
    Holds(&'static str),
    NotKnown,
}

impl Declared {
    /// Adds what an ingredient says to what it has from the one it is like: nothing that
    /// one contains is lost, unless it says `contains nothing` or `nothing but …`.
    pub fn say(&mut self, said: &tree::Ingredient, findings: &mut Vec<Finding>) {
        let mut read = |names: &[tree::Name]| {
            let mut all_known = true;
            let named = names.iter().fold(Allergens::NONE, |all, name| {
                let Some(one) = Allergen::read(&name.key) else {
                    findings.push(unknown_allergen::finding(name));
                    all_known = false;
                    return all;
                };
                all.with(Allergens::of(one))
            });
            (named, all_known)
        };
        if let Some(contains) = &said.contains {
            if contains.is_empty() || said.contains_only {
                // What animals gave was said of something else.
                let animals = self.animals.filter(|animals| *animals == 0);
                *self = Self { animals, ..Self::default() };
            }
            let (named, all_known) = read(contains);
            self.named = self.named.with(named);
            self.is_complete = all_known;
        }
        if let Some(may_contain) = &said.may_contain {
            let (may, all_known) = read(may_contain);
            self.may = self.may.with(may);
            self.is_complete &= all_known;
        }
        match said.animal.as_deref() {
            Some([]) => self.animals = Some(0),
            Some(animals) => {
                let given = animals.iter().fold(0, |all, name| all | bit(&name.key));
                self.animals = Some(self.animals.unwrap_or(0) | given);
            }
            None => {}
        }
        self.draw_conclusions();
    }

    /// Whether no allergen at all is said to be in it.
    pub fn says_nothing(&self) -> bool {
        self.named == Allergens::NONE
    }

    /// An ingredient that is called by the name of an allergen contains it, whatever it
    /// says.
    pub fn name(&mut self, name: &tree::Name, languages: &[&str], findings: &mut Vec<Finding>) {
        let Some(one) = Allergen::called(&name.key, languages) else { return };
        if self.contains(one) {
            return;
        }
        if self.is_complete {
            findings.push(allergen_in_name::finding(name, one));
        }
        self.named = self.named.with(Allergens::of(one));
        self.draw_conclusions();
    }

    fn draw_conclusions(&mut self) {
        let implied = self.animals.map_or(Allergens::NONE, |animals| {
            let of = |(word, allergen): (&str, Allergens)| match animals & bit(word) {
                0 => Allergens::NONE,
                _ => allergen,
            };
            of(("milk", KINDS.milk)).with(of(("egg", KINDS.eggs)))
        });
        let named = self.named.with(implied);
        self.holds = named.widened();
        self.perhaps = named.narrowed().with(self.may.widened()).with(self.may.narrowed());
    }

    /// Whether it contains an allergen, for sure.
    pub fn contains(&self, allergen: Allergen) -> bool {
        self.holds.holds(allergen)
    }

    /// What is known of it and something that a claim denies.
    pub fn judge(&self, absence: Absence) -> Judged {
        match absence {
            Absence::Allergen(allergen) => self.judge_allergen(allergen),
            Absence::Vegan => self.judge_animals(0b1111),
            Absence::Vegetarian => self.judge_animals(bit("meat")),
        }
    }

    fn judge_allergen(&self, allergen: Allergen) -> Judged {
        if self.holds.holds(allergen) {
            let mut named = self.named.iter();
            let narrow = named.find(|one| one.wider().holds(allergen)).unwrap_or(allergen);
            return Judged::Holds(narrow.key());
        }
        match self.is_complete && !self.perhaps.holds(allergen) {
            true => Judged::Without,
            false => Judged::NotKnown,
        }
    }

    /// What contains milk, eggs or fish is from an animal, whether that is said or not.
    fn judge_animals(&self, unwanted: u8) -> Judged {
        let stated = self.animals.unwrap_or(0);
        let implied = [("milk", KINDS.milk), ("egg", KINDS.eggs), ("meat", KINDS.seafood)];
        let gives = implied.iter().fold(stated, |all, (word, allergens)| {
            if self.holds.meets(*allergens) { all | bit(word) } else { all }
        });
        let found = ANIMALS.iter().find(|word| gives & unwanted & bit(word) != 0);
        match (found, self.animals) {
            (Some(word), _) => Judged::Holds(word),
            (None, Some(_)) => Judged::Without,
            (None, None) => Judged::NotKnown,
        }
    }
}

/// The allergens that come from animals.
struct Kinds {
    milk: Allergens,
    eggs: Allergens,
    seafood: Allergens,
}

static KINDS: LazyLock<Kinds> = LazyLock::new(|| {
    let of = |name| Allergen::read(name).map_or(Allergens::NONE, Allergens::of);
    Kinds { milk: of("milk"), eggs: of("eggs"), seafood: of("seafood") }
});

fn bit(word: &str) -> u8 {
    ANIMALS.iter().position(|known| *known == word).map_or(0, |index| 1 << index)
}
