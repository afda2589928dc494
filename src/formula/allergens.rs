//! The store of allergens: what `contains` and `free from` may name, in five languages.
//!
//! A name means one entry of the store, or two of which one gathers the other. Sets of
//! entries are bits, so that asking about an ingredient costs nothing.

use crate::diag::nearest;
use crate::source::{Packer, Unpacker, cells, is_fresh, is_unseen, stamp_of, unaccented};
use crate::syntax::key_of;
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::borrow::Cow;
use std::ops::Range;
use std::sync::LazyLock;
use unicode_normalization::UnicodeNormalization;

pub(super) const TEXT: &str = include_str!("stores/allergens.txt");

/// The languages that the store has names in.
pub const LANGUAGES: [&str; 5] = ["en", "fr", "de", "es", "it"];

/// An entry of the store: an allergen, or a group of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Allergen(u8);

/// A set of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Allergens(u64);

/// What something can be claimed to be without.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Absence {
    /// `free from milk`.
    Allergen(Allergen),
    /// Without anything that is from an animal.
    Vegan,
    /// Without anything for which an animal died.
    Vegetarian,
}

/// A name of the store in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mention {
    /// Where it stands in the text, in bytes.
    pub range: Range<usize>,
    /// What is denied.
    pub absence: Absence,
    /// The language whose name it is: `en`.
    pub language: &'static str,
}

impl Allergen {
    /// What `contains NAME` means by a name, in whatever language; the narrow meaning of
    /// two, such as walnuts for `noix`.
    pub fn read(name: &str) -> Option<Self> {
        let entry = STORE.named(name)?.first().copied()?;
        (!STORE.entry(entry).is_diet).then_some(Self(entry))
    }

    /// What a claim means by a name: the wide meaning of two, such as all nuts for `noix`.
    pub fn claimed(name: &str) -> Option<Self> {
        let entry = STORE.named(name)?.last().copied()?;
        (!STORE.entry(entry).is_diet).then_some(Self(entry))
    }

    /// Every entry of the store.
    pub fn all() -> impl Iterator<Item = Self> {
        let count = STORE.entries.iter().filter(|entry| !entry.is_diet).count();
        (0..count as u8).map(Self)
    }

    /// The name that the store calls it by: `brazil nuts`.
    pub fn key(self) -> &'static str {
        STORE.entry(self.0).key
    }

    /// Its names with their languages.
    pub fn names(self) -> impl Iterator<Item = (&'static str, &'static str)> {
        STORE.entry(self.0).names.iter().copied()
    }

    /// Itself and all that gathers it.
    pub fn wider(self) -> Allergens {
        Allergens(STORE.entry(self.0).up)
    }

    /// Itself and all that it gathers.
    pub fn narrower(self) -> Allergens {
        Allergens(STORE.entry(self.0).down)
    }

    /// Whether it only gathers others, as no packet names it.
    pub fn is_group(self) -> bool {
        STORE.entry(self.0).is_group
    }

    /// The name that was most likely meant: an English one, else one of another language
    /// that begins alike.
    pub fn near(name: &str) -> Option<&'static str> {
        let wanted = normal(name);
        let names = || Self::all().flat_map(Self::names);
        let known: Vec<_> = names().map(|(tag, name)| (normal(name), tag, name)).collect();
        let of = |is_wanted: &dyn Fn(&str, &str) -> bool| {
            let known = known.iter().filter(|(normal, tag, _)| is_wanted(normal, tag));
            let near = nearest(&wanted, known.clone().map(|(normal, ..)| normal.as_str()))?;
            known.clone().find(|(normal, ..)| normal == near).map(|(.., name)| *name)
        };
        let first = wanted.chars().next();
        of(&|_, tag| tag == "en").or_else(|| of(&|name, _| name.chars().next() == first))
    }
}

impl Allergens {
    /// No allergen at all.
    pub const NONE: Self = Self(0);

    /// One allergen by itself.
    pub fn of(one: Allergen) -> Self {
        Self(1 << one.0)
    }

    /// Those of both.
    pub fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// These, but none of the others.
    pub fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// Whether an allergen is among them.
    pub fn holds(self, one: Allergen) -> bool {
        self.0 >> one.0 & 1 == 1
    }

    /// Whether one of the others is among them.
    pub fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Whether there is none.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// As two numbers, to be packed.
    pub(super) fn halves(self) -> [u32; 2] {
        [self.0 as u32, (self.0 >> 32) as u32]
    }

    /// What two numbers were.
    pub(super) fn of_halves([low, high]: [u32; 2]) -> Self {
        Self(u64::from(high) << 32 | u64::from(low))
    }

    /// In the order of the store.
    pub fn iter(self) -> impl Iterator<Item = Allergen> {
        Allergen::all().filter(move |one| self.holds(*one))
    }

    /// What each of them is, in the narrow sense and in every wider one.
    pub fn widened(self) -> Self {
        self.iter().fold(self, |all, one| all.with(one.wider()))
    }

    /// What each of them may be.
    pub fn narrowed(self) -> Self {
        self.iter().fold(self, |all, one| all.with(one.narrower()))
    }

    /// What a print names: all that was named, and what gathers it in law (spelt is wheat).
    pub fn to_print(self) -> impl Iterator<Item = Allergen> {
        self.widened().iter().filter(move |one| self.holds(*one) || !one.is_group())
    }
}

impl Absence {
    /// What a claim means by a word: an allergen's name in any of five languages, `vegan`,
    /// `vegetarian`.
    pub fn read(name: &str) -> Option<Self> {
        STORE.named(name)?.last().map(|entry| STORE.absence(*entry))
    }
}

/// Every name of the store that a text holds in some languages, longest names first where
/// one stands in another, with the meaning that a claim has; `une noix de beurre` names no
/// nut.
#[cfg(test)]
fn mentions(text: &str, languages: &[&str]) -> Vec<Mention> {
    mentions_in(&words_of(text), languages)
}

/// The same for each language of which the bit is set, in the order of [`LANGUAGES`].
pub fn mentions_by_language(text: &str, languages: u8) -> Vec<Vec<Mention>> {
    let words = words_of(text);
    let read = |(index, language): (usize, &&str)| match languages >> index & 1 {
        1 => mentions_in(&words, &[language]),
        _ => Vec::new(),
    };
    LANGUAGES.iter().enumerate().map(read).collect()
}

fn mentions_in(words: &[(Range<usize>, EcoString)], languages: &[&str]) -> Vec<Mention> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let longest = STORE.longest.get(&words[at].1).copied().unwrap_or(0);
        let most = longest.min(words.len() - at);
        let hit = (1..=most).rev().find_map(|count| {
            let phrase = joined(&words[at..at + count]);
            let (entry, language) = STORE.spoken(&phrase, languages)?;
            Some((count, entry, language))
        });
        let Some((count, entry, language)) = hit else {
            at += 1;
            continue;
        };
        if !STORE.is_in_other_phrase(entry, words, at, count) {
            let range = words[at].0.start..words[at + count - 1].0.end;
            found.push(Mention { range, absence: STORE.absence(entry), language });
        }
        at += count;
    }
    found
}

/// An entry as it is used.
#[derive(Default)]
struct AllergenEntry {
    key: &'static str,
    is_group: bool,
    is_diet: bool,
    up: u64,
    down: u64,
    names: Vec<(&'static str, &'static str)>,
    /// The same in their normal form.
    normal: Vec<(&'static str, EcoString)>,
    /// Phrases in which a name of it means something else.
    other: Vec<EcoString>,
}

/// All entries, to be found by name.
#[derive(Default)]
pub(super) struct Store {
    entries: Vec<AllergenEntry>,
    /// By name in its normal form, the narrowest entry first.
    by_name: FxHashMap<EcoString, Vec<u8>>,
    /// How many words the longest name has that begins with a word.
    longest: FxHashMap<EcoString, usize>,
}

/// The store, read when it is first asked.
pub(super) static STORE: LazyLock<Store> = LazyLock::new(|| match IS_FRESH {
    true => {
        let mut packed = Unpacker::new(PACKED).text().lines();
        Store::read(TEXT, &mut |_| packed.next().unwrap_or_default().into())
    }
    false => Store::read(TEXT, &mut normal),
});

/// The normal forms of names as they are packed, in the order in which reading asks for them.
static PACKED: &[u8] = include_bytes!("stores/allergens.packed");

const STAMP: u64 = stamp_of(&[TEXT]);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

/// What the packed file has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed_allergens() -> Vec<u8> {
    let mut forms = Vec::new();
    Store::read(TEXT, &mut |name| {
        let form = normal(name);
        forms.push(form.clone());
        form
    });
    let mut packer = Packer::new(STAMP);
    packer.text(&forms.join("\n"));
    packer.packed()
}

/// By name without accents, for those who have none on their keyboard.
static PLAIN: LazyLock<FxHashMap<EcoString, Vec<u8>>> = LazyLock::new(|| {
    let mut plain: FxHashMap<EcoString, Vec<u8>> = FxHashMap::default();
    for (name, entries) in &STORE.by_name {
        let known = plain.entry(without_accents(name)).or_default();
        known.extend(entries);
        // Later entries are the narrower ones.
        known.sort_unstable_by(|one, two| two.cmp(one));
        known.dedup();
    }
    plain
});

impl Store {
    /// A test holds the text to what is read of it here.
    fn read(text: &'static str, normal: &mut dyn FnMut(&str) -> EcoString) -> Self {
        let mut store = Self::default();
        for line in text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            match line.strip_prefix("  ") {
                None => store
                    .entries
                    .push(AllergenEntry { key: line.trim(), ..AllergenEntry::default() }),
                Some(fact) => store.fact(fact.trim(), normal),
            }
        }
        store.gather();
        for index in 0..store.entries.len() {
            store.name(index, normal);
        }
        store
    }

    fn fact(&mut self, fact: &'static str, normal: &mut dyn FnMut(&str) -> EcoString) {
        let (word, rest) = fact.split_once(' ').unwrap_or((fact, ""));
        let list = || cells(rest, b',').filter(|name| !name.is_empty());
        let wider = list().filter_map(|name| self.entries.iter().position(|it| it.key == name));
        let wider = wider.fold(0, |all, index| all | 1 << index);
        let Some(entry) = self.entries.last_mut() else { return };
        match word {
            "of" => entry.up |= wider,
            "group" => entry.is_group = true,
            "diet" => entry.is_diet = true,
            "not" => entry.other.extend(list().map(normal)),
            language => {
                let known = LANGUAGES.iter().find(|known| **known == language);
                entry.names.extend(known.into_iter().flat_map(|it| list().map(|name| (*it, name))));
            }
        }
    }

    /// Entries stand after those that gather them, so one pass each way is enough.
    fn gather(&mut self) {
        for index in 0..self.entries.len() {
            let bits = self.entries[index].up;
            let wider = (0..index).filter(|&wide| bits >> wide & 1 == 1);
            let up = wider.fold(bits | 1 << index, |up, wide| up | self.entries[wide].up);
            self.entries[index].up = up;
            for wide in 0..=index {
                if up >> wide & 1 == 1 {
                    self.entries[wide].down |= 1 << index;
                }
            }
        }
    }

    fn name(&mut self, index: usize, normal: &mut dyn FnMut(&str) -> EcoString) {
        let Some(entry) = self.entries.get_mut(index) else { return };
        entry.normal = entry.names.iter().map(|(tag, name)| (*tag, normal(name))).collect();
        let key = std::iter::once(normal(entry.key));
        for name in key.chain(entry.normal.iter().map(|(_, name)| name.clone())) {
            let mut words = name.split(' ');
            if let Some(first) = words.next() {
                let longest = self.longest.entry(first.into()).or_default();
                *longest = (1 + words.count()).max(*longest);
            }
            let entries = self.by_name.entry(name).or_default();
            if !entries.contains(&(index as u8)) {
                // Later entries are the narrower ones.
                entries.insert(0, index as u8);
            }
        }
    }

    fn entry(&self, index: u8) -> &AllergenEntry {
        &self.entries[usize::from(index)]
    }

    fn named(&self, name: &str) -> Option<&Vec<u8>> {
        let name = normal(name);
        self.by_name.get(&name).or_else(|| PLAIN.get(&without_accents(&name)))
    }

    /// What a claim means that names an entry.
    pub(super) fn absence(&self, entry: u8) -> Absence {
        match self.entry(entry).key {
            "vegan" => Absence::Vegan,
            "vegetarian" => Absence::Vegetarian,
            _ => Absence::Allergen(Allergen(entry)),
        }
    }

    /// The widest entry that some languages call so.
    pub(super) fn spoken(&self, phrase: &str, languages: &[&str]) -> Option<(u8, &'static str)> {
        self.by_name.get(phrase)?.iter().rev().find_map(|&entry| {
            let mut names = self.entry(entry).normal.iter();
            let named =
                names.find(|(language, name)| name == phrase && languages.contains(language))?;
            Some((entry, named.0))
        })
    }

    /// Whether the words from `at` are part of a phrase that means something else.
    fn is_in_other_phrase(
        &self,
        entry: u8,
        words: &[(Range<usize>, EcoString)],
        at: usize,
        count: usize,
    ) -> bool {
        self.entry(entry).other.iter().any(|other| {
            let length = other.split(' ').count();
            let first = (at + count).saturating_sub(length);
            (first..=at).any(|from| {
                words.get(from..from + length).is_some_and(|phrase| joined(phrase) == *other)
            })
        })
    }
}

/// A name as it is compared: case folded, a hyphen and an apostrophe being blanks.
pub(super) fn normal(name: &str) -> EcoString {
    match name.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b' ') {
        true => key_of(name),
        false => key_of(&name.replace(['-', '\'', '’', '‑'], " ")),
    }
}

fn without_accents(name: &str) -> EcoString {
    let bare = || name.nfd().filter(|it| !('\u{300}'..='\u{36f}').contains(it)).collect();
    let bare: String = unaccented(name).unwrap_or_else(bare);
    if bare.contains('œ') { bare.replace('œ', "oe").into() } else { bare.into() }
}

/// The words of a text in their normal form, with their places.
pub(super) fn words_of(text: &str) -> Vec<(Range<usize>, EcoString)> {
    let mut words = Vec::new();
    let mut start = None;
    for (index, letter) in text.char_indices().chain([(text.len(), ' ')]) {
        // An accent may stand after its letter, and between letters what nobody sees.
        let is_accent = ('\u{300}'..='\u{36f}').contains(&letter);
        let is_hidden = start.is_some() && is_unseen(letter) && !letter.is_whitespace();
        let is_part = letter.is_ascii_alphanumeric()
            || !letter.is_ascii() && letter.is_alphanumeric()
            || is_accent
            || is_hidden;
        match (is_part, start) {
            (true, None) => start = Some(index),
            (false, Some(from)) => {
                words.push((from..index, key_of(&seen(&text[from..index]))));
                start = None;
            }
            _ => {}
        }
    }
    words
}

/// A word without what nobody sees in it.
fn seen(word: &str) -> Cow<'_, str> {
    match word.contains(is_unseen) {
        true => word.chars().filter(|letter| !is_unseen(*letter)).collect::<String>().into(),
        false => word.into(),
    }
}

/// Words with blanks between them.
pub(super) fn joined(words: &[(Range<usize>, EcoString)]) -> EcoString {
    match words {
        [(_, word)] => word.clone(),
        _ => {
            let mut joined = EcoString::new();
            for (_, word) in words {
                if !joined.is_empty() {
                    joined.push(' ');
                }
                joined.push_str(word);
            }
            joined
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The name that the store calls it by.
    fn key_of(absence: Absence) -> &'static str {
        match absence {
            Absence::Allergen(allergen) => allergen.key(),
            Absence::Vegan => "vegan",
            Absence::Vegetarian => "vegetarian",
        }
    }

    #[test]
    fn every_line_of_the_store_is_read() {
        let lines = TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
        let entries = lines.clone().filter(|line| !line.starts_with(' ')).count();
        assert_eq!(entries, STORE.entries.len());
        assert!(entries <= 64, "{entries} entries are more than bits");
        for line in lines.filter_map(|line| line.strip_prefix("  ")) {
            let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
            let known = ["of", "group", "diet", "not"].contains(&word) || LANGUAGES.contains(&word);
            assert!(known, "`{word}` is no fact of an allergen");
            if word == "of" {
                for name in rest.split(',').map(str::trim) {
                    assert!(STORE.entries.iter().any(|it| it.key == name), "of `{name}`");
                }
            }
        }
        for entry in &STORE.entries {
            for language in LANGUAGES {
                let names = entry.names.iter().filter(|(known, _)| *known == language);
                assert!(names.count() > 0, "{} has no name in {language}", entry.key);
            }
        }
    }

    /// A name in two entries would be a guess, were not one of them the wider.
    #[test]
    fn a_name_means_one_thing_or_a_narrow_and_a_wide_one() {
        for map in [&STORE.by_name, &*PLAIN] {
            for (name, entries) in map {
                for pair in entries.windows(2) {
                    let wider = STORE.entry(pair[0]).up >> pair[1] & 1 == 1;
                    assert!(wider, "{name}: {}", STORE.entry(pair[0]).key);
                }
            }
        }
    }

    #[test]
    fn names_are_read_in_any_language_case_and_spelling() {
        let key = |name: &str| Allergen::read(name).map(Allergen::key);
        for (name, wanted) in [
            ("Haselnüsse", "hazelnuts"),
            ("NOISETTES", "hazelnuts"),
            ("oeufs", "eggs"),
            ("œufs", "eggs"),
            ("ble", "wheat"),
            ("céréales contenant du gluten", "gluten"),
            ("Cereals containing gluten", "gluten"),
            ("sulfites", "sulphites"),
            ("frutos de cascara", "tree nuts"),
            ("noix", "walnuts"),
            ("nuts", "nuts"),
            ("celeri rave", "celery"),
            ("Nuß", "nuts"),
        ] {
            assert_eq!(key(name), Some(wanted), "{name}");
        }
        assert_eq!(key("hazlenuts"), None);
        assert_eq!(key("vegan"), None);
        assert_eq!(Allergen::near("hazlenuts"), Some("hazelnuts"));
        let claimed = |name: &str| Absence::read(name).map(key_of);
        assert_eq!(claimed("noix"), Some("nuts"));
        assert_eq!(claimed("nuts"), Some("nuts"));
        assert_eq!(claimed("tree nuts"), Some("tree nuts"));
        assert_eq!(claimed("végétalienne"), Some("vegan"));
    }

    #[test]
    fn kinds_and_groups_lead_to_each_other() {
        let of = |name: &str| Allergen::read(name).expect("an allergen");
        let triticale = of("triticale").wider();
        for wider in ["wheat", "rye", "gluten"] {
            assert!(triticale.holds(of(wider)), "{wider}");
        }
        assert!(!of("wheat").narrower().holds(of("rye")));
        assert!(of("gluten").narrower().holds(of("einkorn")));
        let printed = |name: &str| {
            let printed = Allergens::of(of(name)).to_print();
            printed.map(Allergen::key).collect::<Vec<_>>()
        };
        assert_eq!(printed("spelt"), ["wheat", "spelt"]);
        assert_eq!(printed("almonds"), ["almonds"]);
        assert_eq!(printed("nuts"), ["nuts"]);
        assert_eq!(printed("crab"), ["crustaceans", "crab"]);
    }

    #[test]
    fn names_are_found_in_texts_and_phrases_are_left_alone() {
        fn found(text: &str) -> Vec<(&str, &'static str)> {
            let found = mentions(text, &LANGUAGES).into_iter();
            found.map(|mention| (&text[mention.range], key_of(mention.absence))).collect()
        }
        assert_eq!(
            found("Free from nuts, no Brazil nuts"),
            [("nuts", "nuts"), ("Brazil nuts", "brazil nuts")]
        );
        assert_eq!(found("sans blanc d’œuf"), [("blanc d’œuf", "eggs")]);
        assert_eq!(found("une noix de beurre"), []);
        assert_eq!(found("coconut milk"), [("coconut", "coconut")]);
        assert_eq!(found("egg-free, eierfrei"), [("egg", "eggs")]);
        assert!(mentions("un huevo", &["en", "fr"]).is_empty());
    }
}
