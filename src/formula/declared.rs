//! What an ingredient is declared to contain: allergens, and what animals gave.
//!
//! Whatever is not said is not known, and never nothing. What an ingredient says is held
//! against what else its declaration tells (`house/vouch.rs`): that may add to what it
//! holds, or leave something open until it is answered by name.

use super::allergens::{Absence, Allergen, Allergens};
use super::findings::unknown_allergen;
use super::kinds::{ANIMALS, KINDS, bit};
use super::naming::Told;
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
    /// What it is shown to be free from, with a proof for each.
    pub free: Allergens,
    /// What is usually in what is called so, or of its class, and is not answered by name.
    pub open: Allergens,
    /// A bit for each of [`ANIMALS`]; none where nothing is said.
    animals: Option<u8>,
    /// What animals gave by its name, whatever is said.
    called: u8,
    /// What animals did not give, with a proof.
    free_animals: u8,
    /// What animals usually give for it, and is not answered.
    open_animals: u8,
    /// All that it contains in the narrow sense and in every wider one.
    holds: Allergens,
    /// All that it may contain: the kinds of what was named as a group too.
    perhaps: Allergens,
}

/// What is known of an ingredient and something it might contain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judged {
    /// It is said, or proved, that it does not contain it.
    Without,
    /// It contains it, as the name of an allergen or of what an animal gave.
    Holds(&'static str),
    /// Nobody says so: a claim of absence fails.
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
    /// It is usually in what is called so.
    Usual,
}

/// What is missing from what an ingredient says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lack {
    /// Those that are in it and not among what it says it contains.
    pub allergens: Allergens,
    /// What animals gave for it, as bits of [`super::kinds::ANIMALS`].
    pub animals: u8,
}

impl Lack {
    /// Whether nothing is missing.
    pub fn is_empty(self) -> bool {
        self.allergens.is_empty() && self.animals == 0
    }
}

impl Declared {
    /// Adds what an ingredient says to what it has from the one it is like. Nothing that one
    /// contains is lost, unless it is shown to be free from it; `contains nothing but …`
    /// drops what that one only may contain. What is denied without a proof comes back.
    pub fn say(&mut self, said: &tree::Ingredient, findings: &mut Vec<Finding>) -> Lack {
        let inherited = *self;
        self.say_free(said, findings);
        if let Some(contains) = &said.contains {
            if said.contains_only {
                self.may = Allergens::NONE;
            }
            let (named, all_known) = read(contains, findings);
            self.named = self.named.with(named);
            self.free = self.free.without(named.widened());
            self.is_complete = all_known;
        }
        if let Some(may_contain) = &said.may_contain {
            let (may, all_known) = read(may_contain, findings);
            self.may = self.may.with(may);
            self.free = self.free.without(may.widened());
            self.is_complete &= all_known;
        }
        match said.animal.as_deref() {
            Some([]) => {
                let given = self.animals.unwrap_or(0) | self.called;
                self.animals = Some(0);
                self.called = given & !self.free_animals;
            }
            Some(animals) => {
                let given = animals.iter().fold(0, |all, name| all | bit(&name.key));
                self.animals = Some(self.animals.unwrap_or(0) | given);
                self.free_animals &= !given;
                // Milk and eggs that an animal gave are the allergens, on paper too.
                for (word, allergens) in [("milk", KINDS.milk), ("egg", KINDS.eggs)] {
                    if given & bit(word) != 0 {
                        self.named = self.named.with(allergens.without(self.free));
                    }
                }
            }
            None => {}
        }
        self.draw_conclusions();
        self.denied_of(&inherited, said)
    }

    /// What the ingredient that it is like contains, and it says that it does not.
    fn denied_of(&self, inherited: &Self, said: &tree::Ingredient) -> Lack {
        let own = said.contains.as_deref().unwrap_or_default();
        let own = own.iter().filter_map(|name| Allergen::read(&name.key));
        let own = own.fold(Allergens::NONE, |all, one| all.with(one.wider()));
        let begins_anew = said.contains.as_ref().is_some_and(Vec::is_empty) || said.contains_only;
        let allergens = match begins_anew {
            true => inherited.named.without(self.free).without(own),
            false => Allergens::NONE,
        };
        let is_none = said.animal.as_ref().is_some_and(Vec::is_empty);
        let given = inherited.animals.unwrap_or(0) | inherited.called;
        let animals = if is_none { given & !self.free_animals } else { 0 };
        Lack { allergens, animals }
    }

    /// `free from milk "…"` takes away what is inherited, and answers what is asked.
    fn say_free(&mut self, said: &tree::Ingredient, findings: &mut Vec<Finding>) {
        let mut free = Allergens::NONE;
        let mut animals = 0;
        for name in said.free_from.iter().flat_map(|free| &free.names) {
            match (Allergen::claimed(&name.key), bit(&name.key)) {
                (Some(allergen), _) => free = free.with(allergen.narrower()),
                (None, 0) => findings.push(unknown_allergen::finding(name)),
                (None, animal) => animals |= animal,
            }
        }
        for (word, allergens) in [("milk", KINDS.milk), ("egg", KINDS.eggs)] {
            if free.meets(allergens) {
                animals |= bit(word);
            }
        }
        self.named = self.named.without(free);
        self.may = self.may.without(free);
        self.open = self.open.without(free);
        self.free = self.free.with(free);
        self.animals = self.animals.map(|given| given & !animals);
        self.called &= !animals;
        self.open_animals &= !animals;
        self.free_animals |= animals;
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

    /// What a food holds that a text names, and what it usually holds.
    pub fn of_told(told: &Told) -> Self {
        let mut declared = Self::of_name(std::slice::from_ref(told));
        declared.leave_open(Lack { allergens: told.usual, animals: told.usual_animals });
        declared
    }

    /// Whether nothing is known to be in it, and something usually is.
    pub fn is_open(&self) -> bool {
        let is_sure = !self.says_nothing() || self.given() != 0;
        !is_sure && (self.open != Allergens::NONE || self.open_animals != 0)
    }

    /// Whether another may hold all that is usually in this.
    pub fn may_be(&self, other: &Self) -> bool {
        let may = |one| other.judge(Absence::Allergen(one)) != Judged::Without;
        self.open.iter().all(may) && self.open_animals & !other.given() & !other.open_animals == 0
    }

    /// Whether it is from what an animal gave, as another is.
    pub fn is_like(&self, other: &Self) -> bool {
        self.given() & !other.given() == 0
    }

    /// What animals gave, as it is said and by its name.
    pub fn given(&self) -> u8 {
        self.animals.unwrap_or(0) | self.called
    }

    /// Whether it says what animals gave, or that they gave nothing.
    pub fn says_animals(&self) -> bool {
        self.animals.is_some()
    }

    /// Whether no allergen at all is said to be in it.
    pub fn says_nothing(&self) -> bool {
        self.named == Allergens::NONE
    }

    /// What a name tells that is not said; an ingredient of which nothing is said lacks it
    /// all.
    pub fn lacks(&self, told: &Told) -> Option<Lack> {
        let missing = only(told.allergens, |one| !self.contains(one));
        // `noix` may be walnuts or any nuts.
        let is_wide = told.wide != told.allergens && told.wide.iter().all(|one| self.contains(one));
        let allergens = if is_wide { Allergens::NONE } else { missing };
        let animals = told.animals & !self.given();
        let lack = Lack { allergens, animals };
        (!lack.is_empty()).then_some(lack)
    }

    /// Of what is usual, what is answered by no name: neither contained nor perhaps, nor
    /// shown to be absent.
    pub fn unanswered(&self, usual: Lack) -> Lack {
        let is_open = |one: Allergen| {
            !(self.holds.holds(one) || self.perhaps.holds(one) || self.free.holds(one))
        };
        let animals = match self.animals {
            Some(said) => usual.animals & !said & !self.called & !self.free_animals,
            None => 0,
        };
        Lack { allergens: only(usual.allergens, is_open), animals: animals & !self.open_animals }
    }

    /// Of what another contains, what it neither contains nor is shown to be free from.
    pub fn unshown(&self, other: &Self) -> Lack {
        let is_open = |one| !self.contains(one) && !self.free.holds(one);
        let animals = match self.animals {
            Some(said) => other.given() & !said & !self.called & !self.free_animals,
            None => 0,
        };
        Lack { allergens: only(other.named, is_open), animals }
    }

    /// It contains this, whatever it says.
    pub fn count(&mut self, lack: Lack) {
        self.named = self.named.with(lack.allergens);
        self.free = self.free.without(lack.allergens.widened());
        self.called |= lack.animals;
        self.draw_conclusions();
    }

    /// It is not known whether it contains this, until it says so by name.
    pub fn leave_open(&mut self, lack: Lack) {
        self.open = self.open.with(lack.allergens);
        self.open_animals |= lack.animals;
        self.draw_conclusions();
    }

    /// It may contain what another may, until it is shown that it does not.
    pub fn may_as(&mut self, other: &Self) {
        let new = only(other.may, |one| !self.contains(one) && !self.free.holds(one));
        self.may = self.may.with(new);
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
        // What was open is answered by what contains it.
        self.open = only(self.open, |one| !self.holds.holds(one));
        let may = self.may.with(self.open);
        self.perhaps = named.narrowed().with(may.widened()).with(may.narrowed());
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
        let Absence::Allergen(allergen) = absence else {
            return if self.open_animals != 0 { Doubt::Usual } else { Doubt::Silent };
        };
        let meets = |some: Allergens| some.widened().with(some.narrowed()).holds(allergen);
        let mut named = self.named.iter();
        let group = named.find(|one| one.narrower().holds(allergen));
        match group {
            _ if !self.is_complete => Doubt::Silent,
            _ if meets(self.open) => Doubt::Usual,
            _ if meets(self.may) => Doubt::Warned,
            Some(group) => Doubt::Group(group.key()),
            None => Doubt::Silent,
        }
    }

    fn judge_allergen(&self, allergen: Allergen) -> Judged {
        if self.holds.holds(allergen) {
            let mut named = self.named.iter();
            let narrow = named.find(|one| one.wider().holds(allergen)).unwrap_or(allergen);
            return Judged::Holds(narrow.key());
        }
        let is_known = self.is_complete && !self.perhaps.holds(allergen);
        match is_known || self.free.holds(allergen) {
            true => Judged::Without,
            false => Judged::NotKnown,
        }
    }

    /// What contains milk, eggs or fish is from an animal, whether that is said or not.
    fn judge_animals(&self, unwanted: u8) -> Judged {
        let implied = [("milk", KINDS.milk), ("egg", KINDS.eggs), ("meat", KINDS.seafood)];
        let meets =
            |some: Allergens, stated: u8| {
                implied.iter().fold(stated, |all, (word, allergens)| {
                    if some.meets(*allergens) { all | bit(word) } else { all }
                })
            };
        let gives = meets(self.holds, self.given());
        let perhaps = meets(self.open.widened(), self.open_animals) & unwanted != 0;
        let found = ANIMALS.iter().find(|word| gives & unwanted & bit(word) != 0);
        match (found, self.animals) {
            (Some(word), _) => Judged::Holds(word),
            (None, Some(_)) if !perhaps => Judged::Without,
            (None, _) => Judged::NotKnown,
        }
    }
}

/// Those allergens of a list of which something is so.
fn only(allergens: Allergens, is_so: impl Fn(Allergen) -> bool) -> Allergens {
    let kept = allergens.iter().filter(|one| is_so(*one));
    kept.fold(Allergens::NONE, |all, one| all.with(Allergens::of(one)))
}

/// The allergens of some names, and whether all are known.
fn read(names: &[tree::Name], findings: &mut Vec<Finding>) -> (Allergens, bool) {
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
}
