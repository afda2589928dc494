//! What an ingredient says that it contains, held against the rest of its declaration: its
//! names, what it is like, the built-in ingredient whose name it takes, its class, its texts.
//!
//! What a name tells for sure counts, whatever is said; so does what the ingredient is like,
//! until it is shown to be absent. All else leaves the ingredient unknown until it is
//! answered by name.

use super::ingredient::Ingredient;
use super::registry::House;
use super::texts::{key, plain};
use crate::diag::Finding;
use crate::formula::alike::{mixed_letters, mixed_word};
use crate::formula::allergens::{Allergen, Allergens, LANGUAGES};
use crate::formula::class::Class;
use crate::formula::declared::{Declared, Lack};
use crate::formula::findings::contains_doubtful::{self, Ground};
use crate::formula::findings::{allergen_in_name, mixed_alphabets};
use crate::formula::kinds::{KINDS, bit, word_of};
use crate::formula::naming::{
    Told, denied_by_name, names_a_plant, says_it_lacks, slips_in_name, told_by_name,
};
use crate::formula::spoken::{Meaning, meaning};
use crate::formula::spoken_of::{Spoken, spoken_of};
use crate::syntax::tree::{self, IngredientKind, Name, WordsKind};
use ecow::EcoString;

/// A name of an ingredient, and the language that it is of, where that is said.
struct Called<'a> {
    name: Name,
    language: Option<&'a str>,
}

impl House<'_> {
    /// Adds to an ingredient what it can't deny, and leaves open what it does not answer.
    pub(super) fn vouch(
        &self,
        ingredient: &mut Ingredient,
        declared: &tree::Ingredient,
        denied: Lack,
        findings: &mut Vec<Finding>,
    ) {
        let names = names_of(declared);
        let own = self.own_languages();
        mixed(&names, findings);
        for called in &names {
            let languages = called.languages(&own, &ingredient.declared);
            for told in told_by_name(&called.name.shown, &languages) {
                hold_to_name(&mut ingredient.declared, &called.name, &told, findings);
            }
        }
        self.hold_to_built_in(ingredient, declared, findings);
        if let Some(IngredientKind::Like(model)) = &declared.kind {
            findings.extend(contains_doubtful::findings(declared, &Ground::Like(model), denied));
        }
        let mut ask = Asking { ingredient, declared, findings };
        names.iter().for_each(|called| ask.by_name(called, &own));
        ask.by_class(&names);
        ask.by_texts(&own);
        ask.both();
        // What a name denies is printed on every list.
        for Called { name, .. } in &names {
            let holds = |one: &Allergen| ingredient.declared.named.holds(*one);
            let held = denied_by_name(&name.shown).iter().find(holds);
            findings.extend(held.map(|one| allergen_in_name::denied(name, one)));
        }
    }

    /// What is called by a built-in ingredient that can hurt is warned of as that one.
    pub(super) fn warn_as(&self, ingredient: &mut Ingredient, declared: &tree::Ingredient) {
        const MAX: usize = 4;
        let Some(behind) = self.behind.filter(|_| ingredient.warned_as.is_none()) else { return };
        let names = names_of(declared);
        let hurts = |words: &str| {
            let called =
                || LANGUAGES.iter().find_map(|language| behind.ingredient_called(language, words));
            let id = behind.ingredient_id(words).or_else(called)?;
            behind.ingredient(id).warned_as.clone()
        };
        let by_store = names.iter().find_map(|called| {
            let words: Vec<&str> = called.name.key.split(' ').collect();
            let most = MAX.min(words.len());
            (1..=most)
                .rev()
                .find_map(|count| words.windows(count).find_map(|it| hurts(&it.join(" "))))
        });
        let by_trade = || names.iter().find_map(|called| hurts_by_trade(&called.name.key));
        ingredient.warned_as = by_store.or_else(|| by_trade().map(EcoString::from));
    }

    /// English, and the language of the house.
    fn own_languages(&self) -> [&str; 2] {
        let language = self.settings.language.as_ref().map_or("en", |it| it.value.as_str());
        ["en", language.split(['-', '_']).next().unwrap_or_default()]
    }

    /// Whoever reads `bread flour` expects wheat: a declaration that takes the name of a
    /// built-in food, in any language, has its allergens too. What is mixed of many things,
    /// such as chocolate, is as its packet says, once that speaks of them.
    fn hold_to_built_in(
        &self,
        ingredient: &mut Ingredient,
        declared: &tree::Ingredient,
        findings: &mut Vec<Finding>,
    ) {
        let Some(behind) = self.behind else { return };
        for name in std::iter::once(&declared.name).chain(&declared.also) {
            let called = || {
                LANGUAGES.iter().find_map(|language| behind.ingredient_called(language, &name.key))
            };
            let meant = || match meaning(&name.key, self.language_of_names())? {
                Meaning::One(id) => Some(id),
                Meaning::Several(_) => None,
            };
            let id = behind.ingredient_id(&name.key).or_else(called).or_else(meant);
            let Some(id) = id else { continue };
            let built_in = behind.ingredient(id);
            match built_in.class.is_of_one_thing() {
                true => replace(&mut ingredient.declared, name, &built_in.declared, findings),
                false => {
                    let lack = ingredient.declared.unshown(&built_in.declared);
                    let mut ask = Asking { ingredient, declared, findings };
                    ask.about(&Ground::BuiltIn, lack);
                }
            }
            // Whoever lists what is in it has read a packet; who only denies has not.
            if declared.contains.as_ref().is_some_and(Vec::is_empty)
                && !built_in.declared.may.is_empty()
            {
                let usual = Lack { allergens: built_in.declared.may, animals: 0 };
                Asking { ingredient, declared, findings }.about(&Ground::BuiltInMay, usual);
            }
            ingredient.declared.may_as(&built_in.declared);
        }
    }
}

impl<'a> Called<'a> {
    /// A word of another language may mean something else here, as orzo does; where nothing
    /// at all is said to be in it, that is no help.
    fn languages<'b>(&'b self, own: &[&'b str], declared: &Declared) -> Vec<&'b str> {
        match self.language {
            Some(language) => vec![language],
            None if declared.says_nothing() => LANGUAGES.to_vec(),
            None => own.to_vec(),
        }
    }
}

fn names_of(declared: &tree::Ingredient) -> Vec<Called<'_>> {
    let own = std::iter::once(&declared.name).chain(&declared.also);
    let own = own.map(|name| Called { name: name.clone(), language: None });
    let called = declared.called.iter().map(|(language, shown)| Called {
        name: Name { key: key(shown), shown: shown.clone(), span: declared.name.span },
        language: Some(language.as_str()),
    });
    own.chain(called).collect()
}

fn mixed(names: &[Called], findings: &mut Vec<Finding>) {
    for called in names {
        if let Some(word) = mixed_word(&called.name.shown) {
            findings.push(mixed_alphabets::finding(&called.name, word, &mixed_letters(word)));
        }
    }
}

/// An ingredient contains what its name tells, whatever it says.
fn hold_to_name(declared: &mut Declared, name: &Name, told: &Told, findings: &mut Vec<Finding>) {
    let Some(lack) = declared.lacks(told) else { return };
    let word = name.shown.get(told.range.clone()).unwrap_or_default();
    if !lack.allergens.is_empty() && declared.is_complete {
        findings.push(allergen_in_name::finding(name, word, lack.allergens));
    }
    if let Some(given) = word_of(lack.animals).filter(|_| declared.says_animals()) {
        findings.push(allergen_in_name::of_animal(name, word, given));
    }
    declared.count(lack);
}

/// One that takes the name of a built-in food made of one thing is of that thing.
fn replace(declared: &mut Declared, name: &Name, built_in: &Declared, findings: &mut Vec<Finding>) {
    let of_all = Told {
        range: 0..0,
        allergens: built_in.named,
        wide: built_in.named,
        animals: built_in.given(),
        usual: Allergens::NONE,
        usual_animals: 0,
        is_firm: false,
        is_added: false,
    };
    let Some(lack) = declared.lacks(&of_all) else { return };
    if !lack.allergens.is_empty() && declared.is_complete {
        findings.push(allergen_in_name::replaced(name, lack.allergens));
    }
    if let Some(given) = word_of(lack.animals).filter(|_| declared.says_animals()) {
        findings.push(allergen_in_name::of_animal(name, &name.shown, given));
    }
    declared.count(lack);
}

/// What a declaration has to answer.
struct Asking<'a, 't> {
    ingredient: &'a mut Ingredient,
    declared: &'t tree::Ingredient,
    findings: &'a mut Vec<Finding>,
}

impl Asking<'_, '_> {
    /// Leaves open what is not answered, and says so where the declaration would pass for
    /// complete.
    fn about(&mut self, ground: &Ground, usual: Lack) {
        let mut lack = self.ingredient.declared.unanswered(usual);
        if !self.ingredient.declared.is_complete {
            lack.allergens = Allergens::NONE;
        }
        if lack.is_empty() {
            return;
        }
        self.findings.extend(contains_doubtful::findings(self.declared, ground, lack));
        self.ingredient.declared.leave_open(lack);
    }

    fn by_name(&mut self, called: &Called, own: &[&str]) {
        let name = &called.name.shown;
        let in_own: Vec<&str> = match called.language {
            Some(language) => vec![language],
            None => own.to_vec(),
        };
        let mut told = told_by_name(name, &in_own);
        let denies_all = self.declared.contains.as_ref().is_some_and(Vec::is_empty);
        let is_silent = denies_all || self.ingredient.declared.says_nothing();
        if is_silent && called.language.is_none() {
            // Short words of other languages are too often words of this one, unless they
            // are the whole name: `Wein`.
            let is_clear = |told: &Told| told.range.len() > 4 || told.range == (0..name.len());
            told.extend(told_by_name(name, &LANGUAGES).into_iter().filter(is_clear));
        }
        for told in told {
            let word = name.get(told.range.clone()).unwrap_or_default();
            let usual = Lack { allergens: self.usual_of(&told), animals: told.usual_animals };
            self.about(&Ground::Usual(word), usual);
        }
        for slip in slips_in_name(name, &in_own) {
            let word = name.get(slip.told.range.clone()).unwrap_or_default();
            let told = &slip.told;
            let allergens = told.allergens.with(self.usual_of(told));
            let usual = Lack { allergens, animals: told.animals | told.usual_animals };
            self.about(&Ground::Slip(word, &slip.meant), usual);
        }
    }

    /// What is like a flour is of the same cereal.
    fn usual_of(&self, told: &Told) -> Allergens {
        let is_like = matches!(self.declared.kind, Some(IngredientKind::Like(_)));
        match is_like && !told.is_firm {
            true => told.usual.without(KINDS.of_gluten),
            false => told.usual,
        }
    }

    /// What is of a class is of what the class is of; what is like another is of that.
    fn by_class(&mut self, names: &[Called]) {
        if !matches!(self.declared.kind, Some(IngredientKind::Class(_))) {
            return;
        }
        let names_a_plant = || names.iter().any(|called| names_a_plant(&called.name.shown));
        let is_of_plants = || self.ingredient.declared.named.widened().meets(KINDS.of_plants);
        let class = self.ingredient.class;
        let (allergens, animals) = match class {
            Class::Egg => (KINDS.eggs, bit("egg")),
            Class::Dairy => (KINDS.milk, bit("milk")),
            Class::Nut => (KINDS.nuts, 0),
            Class::Malt => (KINDS.gluten, 0),
            Class::Flour | Class::Grain if !is_of_plants() && !names_a_plant() => (KINDS.gluten, 0),
            _ => return,
        };
        let denies = names.iter().any(|called| says_it_lacks(&called.name.shown, allergens));
        if !denies {
            self.about(&Ground::Class(class.word()), Lack { allergens, animals });
        }
    }

    /// `caution "Contains milk."`
    fn by_texts(&mut self, own: &[&str]) {
        for words in &self.declared.texts {
            let (kind, spoken) = match words.kind {
                WordsKind::Caution => ("caution", Spoken::Caution),
                WordsKind::Note => ("note", Spoken::Note),
                WordsKind::Storage => ("storage", Spoken::Aside),
                WordsKind::Source => ("source", Spoken::Aside),
                WordsKind::Headnote | WordsKind::Equipment => continue,
            };
            let text: EcoString = plain(&words.text).into();
            for told in spoken_of(&text, own, spoken) {
                let lack = Lack { allergens: told.allergens, animals: told.animals };
                self.about(&Ground::Text(kind), lack);
            }
        }
    }

    /// What it says that it contains, and that it is free from.
    fn both(&mut self) {
        let contains = self.declared.contains.iter().flatten();
        let contains: Vec<Allergens> =
            contains.filter_map(|name| Allergen::read(&name.key)).map(|one| one.wider()).collect();
        for name in self.declared.free_from.iter().flat_map(|free| &free.names) {
            let Some(free) = Allergen::claimed(&name.key) else { continue };
            if contains.iter().any(|wider| wider.holds(free)) {
                self.findings.push(contains_doubtful::both(&self.declared.name, name));
            }
        }
    }
}

/// What can hurt, by the words that it is sold under in five languages: `caustic pearls`,
/// `Natronlauge`. Common usage of the trade, no source.
fn hurts_by_trade(name: &str) -> Option<&'static str> {
    const LYE: &[&str] = &[
        "lye",
        "caustic",
        "caustics",
        "sodium hydroxide",
        "potassium hydroxide",
        "sodium hydrate",
        "naoh",
        "koh",
        "e524",
        "e 524",
        "e525",
        "e 525",
        "lauge",
        "laugenperlen",
        "laugenpulver",
        "natronlauge",
        "kalilauge",
        "brezellauge",
        "bäckerlauge",
        "ätznatron",
        "natriumhydroxid",
        "kaliumhydroxid",
        "caustique",
        "hydroxyde de sodium",
        "lessive de soude",
        "cáustica",
        "hidróxido de sodio",
        "caustica",
        "idrossido di sodio",
        "lisciva",
    ];
    const LIME: &[&str] = &[
        "slaked lime",
        "calcium hydroxide",
        "calciumhydroxid",
        "hydroxyde de calcium",
        "hidróxido de calcio",
        "idrossido di calcio",
        "e526",
        "e 526",
    ];
    let words: Vec<&str> = name.split([' ', '-']).filter(|word| !word.is_empty()).collect();
    let has = |known: &&str| {
        let count = known.split(' ').count();
        words.windows(count).any(|some| some.join(" ") == **known)
    };
    // German puts words together.
    let is_joined = |stem: &str| words.iter().any(|word| word.ends_with(stem));
    if LYE.iter().any(&has) || is_joined("natronlauge") || is_joined("ätznatron") {
        return Some("lye");
    }
    LIME.iter().any(has).then_some("slaked lime")
}
