//! What an ingredient is declared to contain: allergens, and what animals gave.
//!
//! Whatever is not said is not known, and never nothing.

use super::allergens::{Absence, Allergen, Allergens};
use super::findings::{allergen_in_name, unknown_allergen};
use super::kinds::{ANIMALS, KINDS, bit, word_of};
use super::naming::{Told, told_by_name};
use crate::diag::Finding;
use crate::syntax::tree;

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
    /// What animals gave by its name, whatever is said.
    called: u8,
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

/// Why something is not known of an ingredient.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// It does not say it.
    Silent,
    /// It says `may contain`.
    Warned,
    /// It says a group: `contains nuts`.
    Group(&'static str),
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
            Some([]) => {
                self.animals = Some(0);
                self.called = 0;
            }
            Some(animals) => {
                let given = animals.iter().fold(0, |all, name| all | bit(&name.key));
                self.animals = Some(self.animals.unwrap_or(0) | given);
            }
            None => {}
        }
        self.draw_conclusions();
    }

    /// What a food holds of which only the name is known.
    pub fn of_name(all: &[Told]) -> Self {
        let named = all.iter().fold(Allergens::NONE, |named, told| named.with(told.allergens));
        let called = all.iter().fold(0, |called, told| called | told.animals);
        let mut declared =
            Self { named, called, is_complete: true, animals: Some(0), ..Self::default() };
        declared.draw_conclusions();
        declared
    }

    /// Whether it is from what an animal gave, as another is.
    pub fn is_like(&self, other: &Self) -> bool {
        let given = |it: &Self| it.animals.unwrap_or(0) | it.called;
        given(self) & !given(other) == 0
    }

    /// Whether no allergen at all is said to be in it.
    pub fn says_nothing(&self) -> bool {
        self.named == Allergens::NONE
    }

    /// An ingredient contains what its name tells, whatever it says.
    pub fn name(&mut self, name: &tree::Name, languages: &[&str], findings: &mut Vec<Finding>) {
        for told in told_by_name(&name.shown, languages) {
            let Some(lack) = self.lacks(&told) else { continue };
            let word = name.shown.get(told.range).unwrap_or_default();
            if !lack.allergens.is_empty() && self.is_complete {
                findings.push(allergen_in_name::finding(name, word, lack.allergens));
            }
            if let Some(given) = word_of(lack.animals).filter(|_| self.animals.is_some()) {
                findings.push(allergen_in_name::of_animal(name, word, given));
            }
            self.count(lack);
        }
    }

    /// One that takes the name of a built-in food made of one thing is of that thing.
    pub fn replace(&mut self, name: &tree::Name, built_in: &Self, findings: &mut Vec<Finding>) {
        let missing = built_in.named.iter().filter(|one| !self.contains(*one));
        let missing = missing.fold(Allergens::NONE, |all, one| all.with(Allergens::of(one)));
        if missing.is_empty() {
            return;
        }
        if self.is_complete {
            findings.push(allergen_in_name::replaced(name, missing));
        }
        self.count(Lack { allergens: missing, animals: 0 });
    }

    /// What a name tells that is not said; an ingredient of which nothing is said lacks it
    /// all.
    pub fn lacks(&self, told: &Told) -> Option<Lack> {
        let missing = told.allergens.iter().filter(|one| !self.contains(*one));
        let missing = missing.fold(Allergens::NONE, |all, one| all.with(Allergens::of(one)));
        // `noix` may be walnuts or any nuts.
        let is_wide = told.wide != told.allergens && told.wide.iter().all(|one| self.contains(one));
        let allergens = if is_wide { Allergens::NONE } else { missing };
        let animals = told.animals & !self.animals.unwrap_or(0) & !self.called;
        let lack = Lack { allergens, animals };
        (!allergens.is_empty() || animals != 0).then_some(lack)
    }

    fn count(&mut self, lack: Lack) {
        self.named = self.named.with(lack.allergens);
        self.called |= lack.animals;
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

    /// Why it is not known whether it holds what a claim denies.
    pub fn doubt(&self, absence: Absence) -> Doubt {
        let Absence::Allergen(allergen) = absence else { return Doubt::Silent };
        let is_warned = self.may.widened().with(self.may.narrowed()).holds(allergen);
        let mut named = self.named.iter();
        let group = named.find(|one| one.narrower().holds(allergen));
        match (self.is_complete, is_warned, group) {
            (false, ..) => Doubt::Silent,
            (true, true, _) => Doubt::Warned,
            (true, false, Some(group)) => Doubt::Group(group.key()),
            (true, false, None) => Doubt::Silent,
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
        let stated = self.animals.unwrap_or(0) | self.called;
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

/// What is missing from what an ingredient says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lack {
    pub allergens: Allergens,
    pub animals: u8,
}
