//! What the name of an ingredient tells of what is in it.
//!
//! A name is not believed to be wrong: whoever weighs `noisette paste` weighs hazelnuts,
//! whatever it is declared to contain. Words that mean something else in a phrase tell
//! nothing: `cocoa butter`, `nutmeg`, `nut-free`, `oat milk` (of milk).

use super::allergens::{Absence, Allergen, Allergens, LANGUAGES, STORE, joined, normal, words_of};
use super::kinds::{KINDS, bit};
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::ops::Range;
use std::sync::LazyLock;

const TEXT: &str = include_str!("stores/names.txt");

/// What a word of a name tells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// Where the word stands in the name, in bytes.
    pub range: Range<usize>,
    /// What it may mean, each in its narrow sense; one of them is in what is called so.
    pub allergens: Allergens,
    /// What else it may mean by a wider sense of the same word.
    pub wide: Allergens,
    /// What animals gave, as bits of [`super::kinds::ANIMALS`].
    pub animals: u8,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// The name of an allergen.
    Allergen,
    /// A food, of which a plant before it makes another: `rice milk`.
    Food,
    /// A food whatever stands before it: `almond buttercream`.
    Firm,
    Plant,
    Imitation,
    Nothing,
}

#[derive(Clone, Copy, Debug)]
struct Phrase {
    language: &'static str,
    kind: Kind,
    allergens: Allergens,
    wide: Allergens,
    animals: u8,
}

#[derive(Default)]
struct Phrases {
    by_words: FxHashMap<EcoString, Vec<Phrase>>,
    most_words: usize,
    /// German words that others are put together of, the longest first.
    stems: Vec<(EcoString, Phrase)>,
}

static PHRASES: LazyLock<Phrases> = LazyLock::new(Phrases::read);

impl Phrases {
    fn read() -> Self {
        let mut all = Self::default();
        for allergen in Allergen::all() {
            for (language, name) in allergen.names() {
                all.learn_allergen(language, name);
            }
        }
        for line in TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let mut columns = line.split('|').map(str::trim);
            let what = columns.next().unwrap_or_default();
            for (language, phrases) in LANGUAGES.iter().zip(columns) {
                phrases.split(',').for_each(|phrase| all.learn(what, language, phrase.trim()));
            }
        }
        all.stems.sort_by_key(|(stem, _)| std::cmp::Reverse(stem.len()));
        all
    }

    fn learn_allergen(&mut self, language: &'static str, name: &'static str) {
        let of = |one: Option<Allergen>| one.map_or(Allergens::NONE, Allergens::of);
        let (narrow, wide) = (Allergen::read(name), Allergen::claimed(name));
        let kind = Kind::Allergen;
        let phrase = Phrase { language, kind, allergens: of(narrow), wide: of(wide), animals: 0 };
        self.add(name, phrase);
    }

    fn learn(&mut self, what: &'static str, language: &'static str, written: &'static str) {
        let (name, is_firm) = match written.strip_suffix('!') {
            Some(name) => (name, true),
            None => (written, false),
        };
        let mut phrase = Phrase {
            language,
            kind: if is_firm { Kind::Firm } else { Kind::Food },
            allergens: Allergens::NONE,
            wide: Allergens::NONE,
            animals: 0,
        };
        match what {
            "not" => phrase.kind = Kind::Nothing,
            "plant" => phrase.kind = Kind::Plant,
            "imitation" => phrase.kind = Kind::Imitation,
            _ => {
                for one in what.split('+') {
                    let allergen = Allergen::read(one).map_or(Allergens::NONE, Allergens::of);
                    phrase.allergens = phrase.allergens.with(allergen);
                    // Milk and eggs are allergens, from which the rest follows.
                    phrase.animals |= if allergen.is_empty() { bit(one) } else { 0 };
                }
                phrase.wide = phrase.allergens;
            }
        }
        self.add(name, phrase);
    }

    fn add(&mut self, name: &str, phrase: Phrase) {
        let name = normal(name);
        if name.is_empty() {
            return;
        }
        self.most_words = self.most_words.max(name.split(' ').count());
        if phrase.language == "de" && !name.contains(' ') && name.chars().count() > 3 {
            self.stems.push((name.clone(), phrase));
        }
        self.by_words.entry(name).or_default().push(phrase);
    }

    fn spoken(&self, words: &str, languages: &[&str]) -> Option<Phrase> {
        let mut all = self.by_words.get(words)?.iter();
        let known = |phrase: &&Phrase| languages.contains(&phrase.language);
        // What tells nothing does so whatever else the words could mean.
        let nothing = all.clone().filter(known).find(|phrase| phrase.kind == Kind::Nothing);
        nothing.or_else(|| all.find(known)).copied()
    }
}

/// A phrase of a name: its first word, and the first after the last.
struct Hit {
    from: usize,
    to: usize,
    phrase: Phrase,
}

type Words = [(Range<usize>, EcoString)];

/// All that a name tells, read in some languages.
pub fn told_by_name(name: &str, languages: &[&str]) -> Vec<Told> {
    let words = words_of(name);
    let hits = hits(&words, languages);
    let diets = diets(&words, languages);
    let telling = hits.iter().enumerate().filter(|(index, hit)| {
        let tells = matches!(hit.phrase.kind, Kind::Allergen | Kind::Food | Kind::Firm);
        tells && !is_denied(&words, hit) && !is_of_plants(&words, &hits, *index)
    });
    telling.filter_map(|(_, hit)| told(&words, hit, diets)).collect()
}

/// What is left of a phrase in a name that says `vegan` or `vegetarian`.
fn told(words: &Words, hit: &Hit, (vegan, vegetarian): (bool, bool)) -> Option<Told> {
    let Phrase { mut allergens, wide, mut animals, .. } = hit.phrase;
    if vegan {
        allergens = allergens.without(KINDS.of_animals);
        animals = 0;
    } else if vegetarian {
        animals &= !bit("meat");
    }
    let range = words.get(hit.from)?.0.start..words.get(hit.to - 1)?.0.end;
    let tells = !allergens.is_empty() || animals != 0;
    tells.then_some(Told { range, allergens, wide, animals })
}

fn hits(words: &Words, languages: &[&str]) -> Vec<Hit> {
    let mut all = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let most = PHRASES.most_words.min(words.len() - at);
        let hit = (1..=most).rev().find_map(|count| {
            let phrase = PHRASES.spoken(&joined(&words[at..at + count]), languages)?;
            Some(Hit { from: at, to: at + count, phrase })
        });
        match hit {
            Some(hit) => {
                at = hit.to;
                all.push(hit);
            }
            None => {
                if languages.contains(&"de") {
                    all.extend(parts_of(&words[at].1, at));
                }
                at += 1;
            }
        }
    }
    all
}

/// What a German word is put together of: `Haselnussmehl`, `Sauerrahmbutter`. What is told
/// of milk is none after a plant: `Kakaobutter`.
fn parts_of(word: &str, at: usize) -> Vec<Hit> {
    const FREE: [&str; 6] = ["frei", "freie", "freies", "freier", "freien", "freiem"];
    let mut found: Vec<(Range<usize>, Phrase)> = Vec::new();
    if word.chars().count() < 6 || FREE.iter().any(|ending| word.ends_with(ending)) {
        return Vec::new();
    }
    for (stem, phrase) in &PHRASES.stems {
        for (start, _) in word.match_indices(stem.as_str()) {
            let range = start..start + stem.len();
            // Short ones stand within words that have nothing to do with them.
            let is_at_end = start == 0 || range.end == word.len();
            let is_eggs = stem == "eier" && start > 0;
            let long = stem.chars().count() > 4;
            let is_new =
                found.iter().all(|(known, _)| known.end <= range.start || known.start >= range.end);
            if (long || is_at_end) && !is_eggs && is_new {
                found.push((range, *phrase));
            }
        }
    }
    found.sort_by_key(|(range, _)| range.start);
    let is_left = |(index, (range, phrase)): (usize, &(Range<usize>, Phrase))| {
        let before = index.checked_sub(1).and_then(|index| found.get(index));
        let before =
            before.filter(|(before, _)| word.get(before.end..range.start).is_some_and(is_joint));
        !before.is_some_and(|(_, before)| makes_another(before, phrase))
    };
    let left = found.iter().enumerate().filter(|it| is_left(*it));
    left.map(|(_, (_, phrase))| Hit { from: at, to: at + 1, phrase: *phrase }).collect()
}

/// What stands between the parts of a German word.
fn is_joint(between: &str) -> bool {
    ["", "n", "en", "s", "e"].contains(&between)
}

/// Whether one food before another makes it a food of plants.
fn makes_another(before: &Phrase, food: &Phrase) -> bool {
    let is_plant = before.kind == Kind::Plant
        || before.kind == Kind::Allergen && before.allergens.meets(KINDS.of_plants);
    let is_milk = food.allergens == KINDS.milk;
    let is_gluten = food.kind == Kind::Food && food.allergens.meets(KINDS.of_gluten);
    food.kind != Kind::Firm
        && match before.kind {
            Kind::Imitation => food.kind == Kind::Food || food.allergens.meets(KINDS.of_animals),
            _ => is_plant && (is_milk || is_gluten),
        }
}

/// `nut-free`, `without milk`; but not `flour from hazelnuts`.
fn is_denied(words: &Words, hit: &Hit) -> bool {
    const WITHOUT: [&str; 8] = ["no", "without", "sans", "ohne", "sin", "senza", "non", "keine"];
    let word = |at: usize| words.get(at).map(|(_, word)| word.as_str());
    let before = |count: usize| hit.from.checked_sub(count).and_then(word);
    let is_free_of = matches!(before(1), Some("of" | "from")) && before(2) == Some("free");
    let is_free = word(hit.to) == Some("free");
    // Hens that range freely lay eggs.
    let is_of_hens = matches!(word(hit.to + 1), Some("range" | "run" | "roaming"));
    is_free && !is_of_hens
        || is_free_of
        || before(1).is_some_and(|before| WITHOUT.contains(&before))
}

/// `almond milk`, `lait d'amande`, `crème végétale`, `cream of rice`.
fn is_of_plants(words: &Words, hits: &[Hit], index: usize) -> bool {
    const OF: [&str; 9] = ["of", "de", "d", "di", "du", "al", "à", "a", "la"];
    let hit = &hits[index];
    let before = index.checked_sub(1).and_then(|index| hits.get(index));
    let before = before.filter(|before| before.to == hit.from);
    let after = hits.get(index + 1).filter(|after| {
        let between = words.get(hit.to..after.from).unwrap_or_default();
        let is_of = between.iter().all(|(_, word)| OF.contains(&word.as_str()));
        is_of && (!between.is_empty() || after.phrase.kind == Kind::Imitation)
    });
    before.into_iter().chain(after).any(|other| makes_another(&other.phrase, &hit.phrase))
}

/// Whether the words say `vegan`, and whether `vegetarian`.
fn diets(words: &Words, languages: &[&str]) -> (bool, bool) {
    let said = |absence: Absence| {
        (0..words.len()).any(|at| {
            let two = words.get(at..at + 2).map(joined);
            let one = words.get(at..at + 1).map(joined);
            let says = |phrase: &EcoString| {
                STORE
                    .spoken(phrase, languages)
                    .is_some_and(|(entry, _)| STORE.absence(entry) == absence)
            };
            one.iter().chain(&two).any(says)
        })
    };
    (said(Absence::Vegan), said(Absence::Vegetarian))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a name tells, by the names of the store.
    fn told(name: &str) -> Vec<&'static str> {
        let mut all: Vec<&str> = Vec::new();
        for told in told_by_name(name, &LANGUAGES) {
            all.extend(told.allergens.iter().map(Allergen::key));
            let animals = super::super::kinds::ANIMALS.iter();
            all.extend(animals.filter(|word| told.animals & bit(word) != 0).copied());
        }
        all
    }

    #[test]
    fn every_line_of_the_store_is_read() {
        for line in TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let columns: Vec<&str> = line.split('|').map(str::trim).collect();
            assert_eq!(columns.len(), 6, "{line}");
            assert!(columns.iter().all(|column| !column.is_empty()), "{line}");
            let is_kind = ["not", "plant", "imitation"].contains(&columns[0]);
            let known = |one: &str| Allergen::read(one).is_some() || bit(one) != 0;
            assert!(is_kind || columns[0].split('+').all(known), "{line}");
        }
    }

    #[test]
    fn words_within_names_tell() {
        for (name, wanted) in [
            ("noisette paste", "hazelnuts"),
            ("toasted filberts", "hazelnuts"),
            ("cream cheese", "milk"),
            ("spelt flakes", "spelt"),
            ("Haselnussmus", "hazelnuts"),
            ("Bio-Weizenvollkornmehl", "wheat"),
            ("Sauerrahmbutter", "milk"),
            ("Vollmilchpulver", "milk"),
            ("Eiernudeln", "eggs"),
            ("Erdnusscreme", "peanuts"),
            ("hazelnut buttercream", "milk"),
            ("brown butter", "milk"),
            ("beurre noisette", "milk"),
            ("pâte de noisettes", "hazelnuts"),
            ("mantequilla de vaca", "milk"),
            ("farina di farro", "wheat"),
            ("oat milk", "oats"),
            ("lait d'amande", "almonds"),
            ("peanut butter", "peanuts"),
            ("gluten-free oats", "oats"),
            ("lactose-free milk", "milk"),
            ("marzipan", "almonds"),
            ("malt vinegar", "gluten"),
            ("smoked bacon", "meat"),
            ("leaf gelatine", "meat"),
            ("Gelatineblätter", "meat"),
            ("manteca de cerdo ibérico", "meat"),
            ("saindoux fondu", "meat"),
            ("strutto", "meat"),
            ("heather honey", "honey"),
            ("Lindenhonig", "honey"),
            ("vegan hazelnut butter", "hazelnuts"),
            ("flour from hazelnuts", "hazelnuts"),
            ("eggs, free-range", "eggs"),
            ("crumble free from milk, with walnuts", "walnuts"),
        ] {
            assert!(told(name).contains(&wanted), "{name}: {:?}", told(name));
        }
    }

    #[test]
    fn phrases_that_mean_something_else_tell_nothing() {
        for name in [
            "cocoa butter",
            "nutmeg",
            "coconut-free syrup",
            "nut-free sprinkles",
            "butter beans",
            "buckwheat flour",
            "cream of tartar",
            "rice milk",
            "hemp milk",
            "shea butter",
            "vegan cream cheese",
            "vegetable suet",
            "vegetarian gelatine",
            "dairy-free butter",
            "crème végétale",
            "nata vegetal",
            "panna vegetale",
            "Pflanzensahne",
            "Kakaobutter",
            "Muskatnuss",
            "Buchweizenmehl",
            "Milchsäure",
            "Fruchtfleisch",
            "Honigmelone",
            "Butternusskürbis",
            "butternut squash",
            "tiger nut flour",
            "beurre de cacao",
            "manteca de cacao",
            "burro di cacao",
            "noix de muscade",
            "nuez moscada",
            "noce moscata",
            "trigo sarraceno",
            "grano saraceno",
            "farine de blé noir",
            "carne de membrillo",
            "azúcar en grano",
            "Erdmandelmehl",
            "glutenfreies Mehl",
            "sirop sans lait",
            "Maisgrieß",
            "corn semolina",
            "rice noodles",
            "ginger beer",
            "oyster mushrooms",
            "crab apples",
            "milk thistle",
            "butterfly pea flowers",
            "apple butter",
            "Reismilch",
            "egg replacer",
            "beef tomatoes",
            "lamb's lettuce",
        ] {
            assert!(told(name).is_empty(), "{name}: {:?}", told(name));
        }
    }
}
