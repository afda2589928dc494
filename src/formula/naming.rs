//! What the name of an ingredient tells of what is in it.
//!
//! A name is not believed to be wrong: whoever weighs `noisette paste` weighs hazelnuts,
//! whatever it is declared to contain. Words that mean something else in a phrase tell
//! nothing: `cocoa butter`, `nutmeg`, `nut-free`, `oat milk` (of milk). Of what is made in
//! many ways a name tells what it usually holds: `pesto`, `granola`.

use super::alike::{is_slip_of, readings, signs_as_letters, without_accents};
use super::allergens::{Absence, Allergen, Allergens, LANGUAGES, STORE, joined, normal, words_of};
use super::kinds::{KINDS, bit};
use crate::source::{NameIndex, Packer, Unpacker, cells, is_fresh, stamp_of};
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet};
use std::borrow::Cow;
use std::ops::Range;
use std::sync::LazyLock;

const TEXT: &str = include_str!("stores/names.txt");

/// Dishes and rare names, with why each brings what it does.
const DISHES: &str = include_str!("stores/dishes.txt");

/// Of a name that is the same in whatever language.
const ANYWHERE: &str = "*";

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
    /// What is usually in what is called so, but need not be.
    pub usual: Allergens,
    /// What animals usually gave for it.
    pub usual_animals: u8,
    /// It is a food of many things, whatever it is of: `rice crackers` are crackers.
    pub is_firm: bool,
    /// It goes into breads and is none: `granola`.
    pub is_added: bool,
}

impl Told {
    /// Whether nothing is sure to be in what is called so.
    pub fn is_usual(&self) -> bool {
        self.allergens.is_empty() && self.animals == 0
    }

    /// Whether it is a baked thing, whatever it is made of: `brioche`, `shortbread`.
    pub fn is_baked(&self) -> bool {
        let all = self.allergens.with(self.usual);
        self.is_firm && !self.is_added && all.meets(KINDS.of_gluten) && !self.usual.is_empty()
    }
}

/// A word of a name that may be another one misspelt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NameSlip {
    /// What was most likely meant.
    pub meant: EcoString,
    /// What the name would tell then.
    pub told: Told,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum PhraseKind {
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

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Phrase {
    language: &'static str,
    kind: PhraseKind,
    allergens: Allergens,
    wide: Allergens,
    animals: u8,
    usual: Allergens,
    usual_animals: u8,
    is_added: bool,
}

impl Phrase {
    fn silent(language: &'static str, kind: PhraseKind) -> Self {
        let none = Allergens::NONE;
        Self {
            language,
            kind,
            allergens: none,
            wide: none,
            animals: 0,
            usual: none,
            usual_animals: 0,
            is_added: false,
        }
    }

    fn tells(&self) -> bool {
        let sure = !self.allergens.is_empty() || self.animals != 0;
        sure || !self.usual.is_empty() || self.usual_animals != 0
    }

    fn is_food(&self) -> bool {
        matches!(self.kind, PhraseKind::Allergen | PhraseKind::Food | PhraseKind::Firm)
    }

    /// Whether it tells only what is usual.
    fn is_usual(&self) -> bool {
        self.allergens.is_empty() && self.animals == 0
    }

    fn is_of(&self, languages: &[&str]) -> bool {
        self.language == ANYWHERE || languages.contains(&self.language)
    }

    /// Where it only may be: what is sure becomes what is usual.
    fn made_usual(mut self) -> Self {
        self.usual = self.usual.with(self.allergens);
        self.usual_animals |= self.animals;
        (self.allergens, self.wide, self.animals) = (Allergens::NONE, Allergens::NONE, 0);
        self
    }

    /// What two lines of the store say of the same words.
    fn with(mut self, other: &Self) -> Self {
        self.allergens = self.allergens.with(other.allergens);
        self.wide = self.wide.with(other.wide);
        self.animals |= other.animals;
        self.usual = self.usual.with(other.usual);
        self.usual_animals |= other.usual_animals;
        self.is_added |= other.is_added;
        self
    }

    fn without(mut self, allergens: Allergens, animals: u8) -> Self {
        self.allergens = self.allergens.without(allergens);
        self.usual = self.usual.without(allergens);
        self.animals &= !animals;
        self.usual_animals &= !animals;
        self
    }
}

#[derive(Default)]
struct Phrases {
    /// In the order of the stores.
    all: Vec<NameEntry>,
    /// What entries say, each once or a few times.
    said: Vec<Phrase>,
    /// As they are compared.
    names: NameIndex,
    /// By the number of a name: the first of it, one of the places in `all`.
    firsts: Vec<u32>,
    /// Names as they are written without accents.
    plain: NameIndex,
    /// By the number of such a name: that of the name with its accents.
    accented: Vec<u32>,
    most_words: usize,
    /// By the hash of a first word: how many words the longest has that begins with a word of
    /// such a hash. As many as a power of two.
    longest: Vec<u8>,
}

/// What the stores say of some words.
struct NameEntry {
    /// The number of its name.
    name: u32,
    /// The place of what it says.
    said: u16,
    /// No part of a German word: `=ei`.
    is_whole: bool,
    /// One more than the place of the next of the same name.
    next: u32,
}

static PHRASES: LazyLock<Phrases> = LazyLock::new(|| match IS_FRESH {
    true => Phrases::unpacked(),
    false => Phrases::read(),
});

/// German words that others are put together of.
struct Stems {
    /// The longest first.
    all: Vec<(&'static str, Phrase)>,
    /// The places in `all` of those that begin with the same four bytes, in their order.
    by_start: FxHashMap<[u8; 4], Vec<usize>>,
}

static STEMS: LazyLock<Stems> = LazyLock::new(|| {
    let is_stem = |(entry, name, phrase): &(&NameEntry, &str, Phrase)| {
        let is_long = name.len() > 3 && name.chars().count() > 3;
        phrase.language == "de" && !entry.is_whole && !name.contains(' ') && is_long
    };
    let stems = PHRASES.entries().filter(is_stem);
    let mut all: Vec<_> = stems.map(|(_, name, phrase)| (name, phrase)).collect();
    all.sort_by_key(|(stem, _)| std::cmp::Reverse(stem.len()));
    let mut by_start: FxHashMap<[u8; 4], Vec<usize>> = FxHashMap::default();
    for (place, (stem, _)) in all.iter().enumerate() {
        if let Some(start) = stem.as_bytes().first_chunk() {
            by_start.entry(*start).or_default().push(place);
        }
    }
    Stems { all, by_start }
});

impl Stems {
    /// Where they stand in a word, the longest stem first, none across another place of its
    /// own.
    fn within(&self, word: &str) -> Vec<(Range<usize>, &'static str, Phrase)> {
        let starts = word.as_bytes().windows(4).enumerate();
        let places = starts.filter_map(|(at, start)| {
            let start: [u8; 4] = start.try_into().ok()?;
            let rest = word.get(at..)?;
            let stems = self.by_start.get(&start)?.iter().copied();
            Some(stems.filter(|it| rest.starts_with(self.all[*it].0)).map(move |it| (it, at)))
        });
        let mut places: Vec<(usize, usize)> = places.flatten().collect();
        places.sort_unstable();
        let mut all = Vec::new();
        let mut last: Option<(usize, usize)> = None;
        for (place, start) in places {
            let (stem, phrase) = self.all[place];
            if last.is_none_or(|(known, end)| known != place || end <= start) {
                all.push((start..start + stem.len(), stem, phrase));
                last = Some((place, start + stem.len()));
            }
        }
        all
    }
}

/// Names of several words as they are written in one.
static IN_ONE: LazyLock<FxHashMap<EcoString, &'static str>> = LazyLock::new(|| {
    let names = PHRASES.entries().map(|(_, name, _)| name).filter(|name| name.contains(' '));
    names.map(|name| (name.replace(" ", "").into(), name)).collect()
});

/// Words of names as somebody may misspell them.
#[derive(Default)]
struct Spelt {
    /// Words that tell something, in which a letter may be wrong.
    telling: FxHashSet<EcoString>,
    /// Words of which none is taken for a slip of another.
    known: FxHashSet<EcoString>,
}

static SPELT: LazyLock<Spelt> = LazyLock::new(|| {
    let mut spelt = Spelt::default();
    for (_, name, phrase) in PHRASES.entries() {
        for word in name.split(' ') {
            spelt.known.insert(word.into());
            // Rare names are near too many common ones.
            let least = if phrase.language == ANYWHERE { 6 } else { 4 };
            if phrase.tells() && word.chars().count() >= least {
                spelt.telling.insert(word.into());
            }
        }
    }
    let known = lines_of(TEXT).filter_map(|line| line.strip_prefix("known ")).flat_map(words_of);
    spelt.known.extend(known.map(|(_, word)| word));
    spelt
});

/// What tells only where it is the whole name of an ingredient.
static ALONE: LazyLock<FxHashMap<EcoString, Phrase>> = LazyLock::new(|| {
    let mut alone = FxHashMap::default();
    for line in lines_of(TEXT).filter_map(|line| line.strip_prefix("alone ")) {
        let mut columns = cells(line, b'|');
        let mut phrase = Phrase::silent(ANYWHERE, PhraseKind::Food);
        columns.next().unwrap_or_default().split('+').for_each(|one| phrase.learn(one));
        let names = columns.flat_map(|column| cells(column, b',')).map(normal);
        alone.extend(names.map(|name| (name, phrase)));
    }
    alone
});

/// The lines of a store that say something.
fn lines_of(text: &'static str) -> impl Iterator<Item = &'static str> {
    text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'))
}

/// How many places there are for first words.
const FIRST_WORDS: usize = 1 << 13;

/// The place of the first word of a name.
fn place_of_first(name: &str) -> usize {
    let word = name.bytes().take_while(|byte| *byte != b' ');
    let hash = word.fold(0_u32, |hash, byte| {
        (hash.rotate_left(5) ^ u32::from(byte)).wrapping_mul(0x9e37_79b1)
    });
    (hash ^ hash >> 15) as usize % FIRST_WORDS
}

/// Whether a name is written as it is compared: small letters, with single blanks between the
/// words.
fn is_normal(written: &str) -> bool {
    let mut before = b' ';
    let is_plain = written.bytes().all(|byte| {
        let last = std::mem::replace(&mut before, byte);
        byte.is_ascii_lowercase() || byte == b' ' && last != b' '
    });
    is_plain && before != b' '
}

impl Phrases {
    fn read() -> Self {
        let mut all = Self { longest: vec![0; FIRST_WORDS], ..Self::default() };
        for allergen in Allergen::all() {
            for (language, name) in allergen.names() {
                all.learn_allergen(language, name);
            }
        }
        let is_of_words = |line: &&str| !["known ", "alone "].iter().any(|it| line.starts_with(it));
        for line in lines_of(TEXT).filter(is_of_words) {
            let mut columns = cells(line, b'|');
            let what = columns.next().unwrap_or_default();
            all.learn_columns(what, LANGUAGES.iter().zip(columns));
        }
        for line in lines_of(DISHES) {
            let mut columns = cells(line, b'|');
            let what = columns.next().unwrap_or_default();
            let languages = std::iter::once(&ANYWHERE).chain(&LANGUAGES);
            // The reason comes first, for those who read the store.
            all.learn_columns(what, languages.zip(columns.skip(1)));
        }
        all
    }

    fn learn_columns<'l>(
        &mut self,
        what: &'static str,
        columns: impl Iterator<Item = (&'l &'static str, &'static str)>,
    ) {
        let phrase = Phrase::of(what);
        for (language, phrases) in columns {
            let phrase = Phrase { language, ..phrase };
            cells(phrases, b',').for_each(|written| self.learn(phrase, written));
        }
    }

    fn learn_allergen(&mut self, language: &'static str, name: &'static str) {
        let of = |one: Option<Allergen>| one.map_or(Allergens::NONE, Allergens::of);
        let allergens = of(Allergen::read(name));
        let wide = of(Allergen::claimed(name));
        self.add(
            name,
            Phrase { allergens, wide, ..Phrase::silent(language, PhraseKind::Allergen) },
        );
    }

    /// Learns a name of a line; `?`, `+` and `!` after it make it usual, added and firm.
    fn learn(&mut self, mut phrase: Phrase, written: &'static str) {
        let (written, is_usual) = match written.strip_suffix('?') {
            Some(name) => (name, true),
            None => (written, false),
        };
        let (written, is_added) = match written.strip_suffix('+') {
            Some(name) => (name, true),
            None => (written, false),
        };
        phrase.is_added = is_added;
        let (name, is_firm) = match written.strip_suffix('!') {
            Some(name) => (name, true),
            None => (written, false),
        };
        if is_firm && phrase.kind == PhraseKind::Food {
            phrase.kind = PhraseKind::Firm;
        }
        self.add(name, if is_usual { phrase.made_usual() } else { phrase });
    }

    fn add(&mut self, written: &'static str, phrase: Phrase) {
        let is_whole = written.starts_with('=');
        let written = written.trim_start_matches('=');
        let name = match is_normal(written) {
            true => Cow::Borrowed(written),
            false => Cow::Owned(normal(written).into()),
        };
        if name.is_empty() || name == "-" {
            return;
        }
        let count = 1 + name.bytes().filter(|byte| *byte == b' ').count();
        let longest = &mut self.longest[place_of_first(&name)];
        *longest = u8::try_from(count).unwrap_or(u8::MAX).max(*longest);
        self.most_words = self.most_words.max(count);
        let place = self.all.len() as u32;
        let number = self.names.put(&name);
        match self.firsts.get(number as usize) {
            Some(first) => self.put_after(*first, place),
            None => self.firsts.push(place),
        }
        // Nearly all names have none.
        let accented = if name.is_ascii() { None } else { Some(without_accents(&name)) };
        for plain in accented.into_iter().flatten() {
            // The first name that is written so counts.
            if plain != *name && self.plain.put(&plain) as usize == self.accented.len() {
                self.accented.push(number);
            }
        }
        // Entries that say the same mostly stand together.
        let said = self.said.iter().rposition(|known| *known == phrase);
        let said = said.unwrap_or_else(|| {
            self.said.push(phrase);
            self.said.len() - 1
        });
        self.all.push(NameEntry { name: number, said: said as u16, is_whole, next: 0 });
    }

    /// All entries in the order of the stores, each with its name and what it says.
    fn entries(&self) -> impl Iterator<Item = (&NameEntry, &str, Phrase)> {
        self.all.iter().map(|entry| (entry, self.names.name(entry.name), *self.said_by(entry)))
    }

    fn said_by(&self, entry: &NameEntry) -> &Phrase {
        &self.said[usize::from(entry.said)]
    }

    /// How many words at most the longest phrase has that begins with a word.
    fn longest_from(&self, word: &str) -> usize {
        let longest = self.longest.get(place_of_first(word)).copied();
        usize::from(longest.unwrap_or_default()).max(1)
    }

    /// Puts a place after the last of the same name.
    fn put_after(&mut self, first: u32, place: u32) {
        let mut at = first;
        while let Some(entry) = self.all.get_mut(at as usize) {
            match entry.next.checked_sub(1) {
                Some(next) => at = next,
                None => return entry.next = place + 1,
            }
        }
    }

    /// All that the stores say of a name, in their order.
    fn of(&self, name: &str) -> Option<impl Iterator<Item = &Phrase> + Clone> {
        let entry = |place: u32| self.all.get(place as usize);
        let first = entry(*self.firsts.get(self.names.number(name)? as usize)?);
        let next = move |last: &&NameEntry| last.next.checked_sub(1).and_then(entry);
        Some(std::iter::successors(first, next).map(|entry| self.said_by(entry)))
    }

    /// What words tell as they are written, as one of many, or as they look.
    fn spoken(&self, words: &str, languages: &[&str]) -> Option<Phrase> {
        self.exactly(words, languages)
            .or_else(|| self.one_of_many(words, languages))
            .or_else(|| self.looking_alike(words, languages))
    }

    fn exactly(&self, words: &str, languages: &[&str]) -> Option<Phrase> {
        let mut known = self.of(words)?.filter(|phrase| phrase.is_of(languages));
        // What tells nothing does so whatever else the words could mean.
        let of = |kind| known.clone().find(|phrase| phrase.kind == kind);
        let nothing =
            of(PhraseKind::Nothing).map(|nothing| of(PhraseKind::Plant).unwrap_or(nothing));
        nothing.copied().or_else(|| {
            let first = *known.next()?;
            let is_same = |it: &&Phrase| {
                it.language == first.language || [it.language, first.language].contains(&ANYWHERE)
            };
            let same = known.filter(|it| is_same(it) && it.tells());
            Some(same.fold(first, |all, other| all.with(other)))
        })
    }

    /// `croissants`, `jellies`, `breadcrumb`.
    fn one_of_many(&self, words: &str, languages: &[&str]) -> Option<Phrase> {
        if words.len() < 4 {
            return None;
        }
        let endings = [("ies", "y"), ("es", ""), ("s", ""), ("x", "")].into_iter();
        let mut stems = endings.filter_map(|(many, one)| {
            let stem = words.strip_suffix(many)?;
            (stem.len() > 2).then_some((stem, one))
        });
        let with = |stem: &str, end: &str| {
            let mut whole = String::with_capacity(stem.len() + end.len());
            whole.push_str(stem);
            whole.push_str(end);
            self.exactly(&whole, languages)
        };
        stems
            .find_map(|(stem, one)| match one {
                "" => self.exactly(stem, languages),
                _ => with(stem, one),
            })
            .or_else(|| with(words, "s"))
    }

    /// What is written in one word, or in pieces of words.
    fn in_one_word(&self, whole: &str, languages: &[&str]) -> Option<Phrase> {
        let known = || {
            let read = readings(whole);
            let mut all = std::iter::once(whole).chain(read.iter().map(EcoString::as_str));
            let known = all.find_map(|word| IN_ONE.get(word));
            known.and_then(|known| self.exactly(known, languages))
        };
        self.spoken(whole, languages).or_else(known)
    }

    fn looking_alike(&self, words: &str, languages: &[&str]) -> Option<Phrase> {
        let as_known = |read: &str| {
            let known = self.accented.get(self.plain.number(read)? as usize)?;
            self.exactly(self.names.name(*known), languages)
        };
        let is_latin = words.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b' ');
        if is_latin {
            return (words.len() > 3).then(|| as_known(words)).flatten();
        }
        // `e1` is more often the number of something.
        let least = if words.bytes().any(|byte| byte.is_ascii_digit()) { 3 } else { 2 };
        let mut read = readings(words).into_iter().filter(|read| read.len() >= least);
        read.find_map(|read| {
            let exact = || self.exactly(&read, languages);
            exact().or_else(|| self.one_of_many(&read, languages)).or_else(|| as_known(&read))
        })
    }
}

/// The stores as they are packed.
static PACKED: &[u8] = include_bytes!("stores/names.packed");

const STAMP: u64 = stamp_of(&[TEXT, DISHES, super::allergens::TEXT]);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

/// What the packed file has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed_names() -> Vec<u8> {
    Phrases::read().packed()
}

impl Phrases {
    fn packed(&self) -> Vec<u8> {
        let mut packer = Packer::new(STAMP);
        self.names.pack(&mut packer);
        packer.numbers(self.firsts.iter().copied());
        self.plain.pack(&mut packer);
        packer.numbers(self.accented.iter().copied());
        packer.numbers(self.all.iter().map(|entry| entry.name));
        let rest = self.all.iter();
        packer.numbers(rest.map(|entry| u32::from(entry.said) << 1 | u32::from(entry.is_whole)));
        packer.numbers(self.all.iter().map(|entry| entry.next));
        let said: Vec<u32> = self.said.iter().flat_map(Phrase::packed).collect();
        packer.numbers(said.into_iter());
        packer.numbers([self.most_words as u32].into_iter());
        packer.letters(&self.longest);
        packer.packed()
    }

    fn unpacked() -> Self {
        let mut from = Unpacker::new(PACKED);
        let (names, firsts) = (NameIndex::unpack(&mut from), from.numbers().collect());
        let (plain, accented) = (NameIndex::unpack(&mut from), from.numbers().collect());
        let entries = from.numbers().zip(from.numbers()).zip(from.numbers());
        let entry = |((name, rest), next): ((u32, u32), u32)| {
            let said = (rest >> 1) as u16;
            NameEntry { name, said, is_whole: rest & 1 == 1, next }
        };
        let all = entries.map(entry).collect();
        let said: Vec<u32> = from.numbers().collect();
        let said = said.as_chunks().0.iter().map(Phrase::unpacked).collect();
        let most_words = from.numbers().next().unwrap_or_default() as usize;
        let longest = from.letters().to_vec();
        Self { all, said, names, firsts, plain, accented, most_words, longest }
    }
}

impl Phrase {
    const KINDS: [PhraseKind; 6] = [
        PhraseKind::Allergen,
        PhraseKind::Food,
        PhraseKind::Firm,
        PhraseKind::Plant,
        PhraseKind::Imitation,
        PhraseKind::Nothing,
    ];

    fn packed(&self) -> [u32; 8] {
        let language = LANGUAGES.iter().position(|tag| *tag == self.language);
        let kind = Self::KINDS.iter().position(|kind| *kind == self.kind);
        let small = [
            language.unwrap_or(LANGUAGES.len()) as u8,
            kind.unwrap_or_default() as u8,
            u8::from(self.is_added),
            0,
        ];
        let animals = [self.animals, self.usual_animals, 0, 0];
        let [allergens, wide, usual] =
            [self.allergens, self.wide, self.usual].map(|it| it.halves());
        [
            u32::from_le_bytes(small),
            u32::from_le_bytes(animals),
            allergens[0],
            allergens[1],
            wide[0],
            wide[1],
            usual[0],
            usual[1],
        ]
    }

    fn unpacked(packed: &[u32; 8]) -> Self {
        let [language, kind, is_added, _] = packed[0].to_le_bytes();
        let [animals, usual_animals, ..] = packed[1].to_le_bytes();
        let kinds = Self::KINDS.get(usize::from(kind)).copied();
        Self {
            language: LANGUAGES.get(usize::from(language)).copied().unwrap_or(ANYWHERE),
            kind: kinds.unwrap_or(PhraseKind::Nothing),
            allergens: Allergens::of_halves([packed[2], packed[3]]),
            wide: Allergens::of_halves([packed[4], packed[5]]),
            animals,
            usual: Allergens::of_halves([packed[6], packed[7]]),
            usual_animals,
            is_added: is_added == 1,
        }
    }
}

impl Phrase {
    /// What a line of a store tells by what it begins with, in whatever language.
    fn of(what: &str) -> Self {
        let kind = match what {
            "not" => PhraseKind::Nothing,
            "plant" => PhraseKind::Plant,
            "imitation" => PhraseKind::Imitation,
            _ if what.ends_with('!') => PhraseKind::Firm,
            _ => PhraseKind::Food,
        };
        let mut phrase = Self::silent(ANYWHERE, kind);
        if phrase.is_food() {
            what.trim_end_matches('!').split('+').for_each(|one| phrase.learn(one));
        }
        phrase
    }

    /// One thing of a line of the store: `milk`, or `milk?` where it is usual.
    fn learn(&mut self, one: &str) {
        let (name, is_usual) = match one.strip_suffix('?') {
            Some(name) => (name, true),
            None => (one, false),
        };
        let allergen = Allergen::read(name).map_or(Allergens::NONE, Allergens::of);
        // Milk and eggs are allergens, from which the rest follows.
        let animal = if allergen.is_empty() { bit(name) } else { 0 };
        match is_usual {
            true => {
                self.usual = self.usual.with(allergen);
                self.usual_animals |= animal;
            }
            false => {
                self.allergens = self.allergens.with(allergen);
                self.wide = self.allergens;
                self.animals |= animal;
            }
        }
    }
}

/// A phrase of a name: its first word, and the first after the last.
struct Hit {
    from: usize,
    to: usize,
    phrase: Phrase,
}

impl Hit {
    /// What is left of it to tell.
    fn told(&self, words: &Words, phrase: &Phrase) -> Option<Told> {
        let range = words.get(self.from)?.0.start..words.get(self.to - 1)?.0.end;
        Some(Told {
            range,
            allergens: phrase.allergens,
            wide: phrase.wide,
            animals: phrase.animals,
            usual: phrase.usual,
            usual_animals: phrase.usual_animals,
            is_firm: phrase.kind == PhraseKind::Firm,
            is_added: phrase.is_added,
        })
    }
}

type Words = [(Range<usize>, EcoString)];

/// All that a name tells, read in some languages.
pub fn told_by_name(name: &str, languages: &[&str]) -> Vec<Told> {
    let words = words_of(&signs_as_letters(name));
    let told = told_by_words(&words, languages);
    if !told.is_empty() {
        return told;
    }
    told_alone(&words).into_iter().collect()
}

/// What all of a name tells that is an everyday word in a text.
fn told_alone(words: &Words) -> Option<Told> {
    let (first, last) = (words.first()?, words.last()?);
    let whole = words.iter().map(|(_, word)| word.as_str()).collect::<Vec<_>>().join(" ");
    let phrase = ALONE.get(whole.as_str())?;
    Some(Told {
        range: first.0.start..last.0.end,
        allergens: phrase.allergens,
        wide: phrase.wide,
        animals: phrase.animals,
        usual: phrase.usual,
        usual_animals: phrase.usual_animals,
        is_firm: false,
        is_added: false,
    })
}

fn told_by_words(words: &Words, languages: &[&str]) -> Vec<Told> {
    let hits = hits(words, languages);
    let said = NameClaims::of(words, &hits, languages);
    let told = hits.iter().enumerate().filter_map(|(index, hit)| {
        if !hit.phrase.is_food() || is_denied(words, hit) {
            return None;
        }
        let phrase = said.left_of(after_plants(words, &hits, index));
        let is_baked = || phrase.allergens.with(phrase.usual).meets(KINDS.of_gluten);
        let is_spice = said.spice && phrase.kind == PhraseKind::Firm && is_baked();
        let is_for_it = is_spice || is_for_baking(words, hit);
        (phrase.tells() && !is_for_it).then(|| hit.told(words, &phrase)).flatten()
    });
    told.collect()
}

/// What the words of a sentence tell of the foods that it names, denied or not, read in all
/// languages; in German words that are put together, too, where `compounds` asks for it.
/// `vegan` speaks of the food after it, and not of the whole sentence. What is only usual
/// in flour and in baked things tells nothing, but for what is added to breads: a text of a
/// bread is full of bread.
pub fn told_in_text(text: &str, compounds: bool) -> Vec<Told> {
    let words = words_of(text);
    let hits = hits_in_text(&words, compounds);
    let told = hits.iter().enumerate().filter_map(|(index, hit)| {
        let phrase = after_plants(&words, &hits, index);
        let is_told = phrase.is_added || !phrase.is_usual() || !phrase.usual.meets(KINDS.of_gluten);
        (phrase.is_food() && phrase.tells() && is_told && !is_for_baking(&words, hit))
            .then(|| hit.told(&words, &phrase))
            .flatten()
    });
    told.collect()
}

/// Sentences have many words; those that no phrase begins with are passed over quickly.
fn hits_in_text(words: &Words, compounds: bool) -> Vec<Hit> {
    let mut all = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let word = &words[at].1;
        let longest = PHRASES.longest_from(word);
        let most = longest.min(words.len() - at);
        let several = || {
            (2..=most).rev().find_map(|count| {
                let phrase = PHRASES.exactly(&joined(&words[at..at + count]), &LANGUAGES)?;
                Some(Hit { from: at, to: at + count, phrase })
            })
        };
        let one = || {
            let phrase = PHRASES.spoken(word, &LANGUAGES)?;
            Some(Hit { from: at, to: at + 1, phrase })
        };
        match several().or_else(one) {
            Some(hit) => {
                at = hit.to;
                all.push(hit);
            }
            None => {
                let is_put_together = compounds || reads_as_german(word);
                all.extend(if is_put_together { parts_of(word, at) } else { Vec::new() });
                at += 1;
            }
        }
    }
    all
}

/// `croissant butter`, `puff pastry margarine`: what it is for, and not what is in it.
fn is_for_baking(words: &Words, hit: &Hit) -> bool {
    const BEFORE: [&str; 6] = ["for", "pour", "à", "para", "per", "für"];
    const FOR: [&str; 14] = [
        "butter",
        "margarine",
        "fat",
        "shortening",
        "flour",
        "improver",
        "improvers",
        "emulsifier",
        "enzyme",
        "enzymes",
        "conditioner",
        "yeast",
        "oil",
        "sugar",
    ];
    let next = words.get(hit.to).map_or("", |(_, word)| word.as_str());
    let all = hit.phrase.allergens.with(hit.phrase.usual);
    let before = hit.from.checked_sub(1).and_then(|at| words.get(at));
    let is_for = before.is_some_and(|(_, word)| BEFORE.contains(&word.as_str()));
    hit.phrase.kind == PhraseKind::Firm
        && all.meets(KINDS.of_gluten)
        && (is_for || FOR.contains(&next))
}

/// Words of a name that may be others with a letter wrong: `hazlenut spread`.
pub fn slips_in_name(name: &str, languages: &[&str]) -> Vec<NameSlip> {
    let words = words_of(&signs_as_letters(name));
    let mut slips = Vec::new();
    for (at, (_, word)) in words.iter().enumerate() {
        if word.chars().count() < 3 || SPELT.known.contains(word) {
            continue;
        }
        for meant in SPELT.telling.iter().filter(|known| is_slip_of(word, known)) {
            let mut mended = words.clone();
            mended[at].1 = meant.clone();
            let own = &words[at].0;
            let told = told_by_words(&mended, languages).into_iter();
            let of_it =
                told.filter(|told| told.range.start <= own.start && own.end <= told.range.end);
            slips.extend(of_it.map(|told| NameSlip { meant: meant.clone(), told }));
        }
    }
    // The set has no order of its own.
    slips.sort_by(|one, two| {
        one.told.range.start.cmp(&two.told.range.start).then_with(|| one.meant.cmp(&two.meant))
    });
    slips
}

/// Whether the stores of names say anything of a word as a whole, in whatever language.
pub fn is_said_of(word: &str) -> bool {
    PHRASES.of(word).is_some()
}

/// Whether a name says of what plant it is, so that a flour called so is of that.
pub fn names_a_plant(name: &str) -> bool {
    let words = words_of(name);
    hits(&words, &LANGUAGES).iter().any(|hit| is_plant(&hit.phrase))
}

/// Whether a name says that some food of these is something else, or without them: `egg
/// replacer`, `vegan cream`, `oat drink`.
pub fn says_it_lacks(name: &str, allergens: Allergens) -> bool {
    let words = words_of(name);
    let hits = hits(&words, &LANGUAGES);
    let said = NameClaims::of(&words, &hits, &LANGUAGES);
    let is_other = hits
        .iter()
        .any(|hit| matches!(hit.phrase.kind, PhraseKind::Nothing | PhraseKind::Imitation));
    let is_vegan = said.vegan && !allergens.meets(KINDS.of_plants);
    is_other && !allergens.meets(KINDS.of_plants)
        || is_vegan
        || allergens.without(said.free).is_empty()
}

/// The allergens that a name says are not in what is called so: `milk-free butter`, `vegan
/// spread`, `eggless wash`, `plant milk`. Of cereals with gluten oats may be in what is free
/// from gluten, and a starch of wheat.
pub fn denied_by_name(name: &str) -> Allergens {
    let words = words_of(name);
    let said = NameClaims::of(&words, &hits(&words, &LANGUAGES), &LANGUAGES);
    let of_animals = if said.vegan { KINDS.of_animals } else { Allergens::NONE };
    // `nut-free` tells nothing of what is in it, and is read here for what it denies.
    let free = words.windows(2).filter(|two| two[1].1 == "free");
    let free = free.filter_map(|two| whole_of(&two[0].1));
    let less = words.iter().filter_map(|(_, word)| whole_of(word.strip_suffix("less")?));
    let no = words.windows(2).filter(|two| ["no", "zero", "non", "kein"].contains(&&*two[0].1));
    let no = no.filter_map(|two| whole_of(&two[1].1));
    let parted = words.windows(2).filter(|two| ["less", "loses", "lose"].contains(&&*two[1].1));
    let parted = parted.filter_map(|two| whole_of(&two[0].1));
    let free = free.chain(less).chain(no).chain(parted);
    let free = free.fold(said.free, |all, one| all.with(one.narrower()));
    let has = |known: &[&str]| words.iter().any(|(_, word)| known.contains(&word.as_str()));
    let of_plants = words.windows(2).any(|two| {
        ["plant", "vegetable"].contains(&&*two[0].1)
            && ["milk", "cream", "butter", "cheese", "yogurt", "yoghurt"].contains(&&*two[1].1)
    });
    let of_milk = if of_plants { KINDS.milk } else { Allergens::NONE };
    let coeliac = has(&["coeliac", "celiac", "coeliacs", "celiacs", "zöliakie", "cœliaques"]);
    let of_gluten = if coeliac { KINDS.of_gluten } else { Allergens::NONE };
    let is_starch = has(&["starch", "stärke", "weizenstärke", "amidon", "almidón", "amido"]);
    let oats = Allergen::read("oats").map_or(Allergens::NONE, Allergens::of);
    let lawful = if is_starch { KINDS.of_gluten } else { oats };
    free.with(of_animals).with(of_milk).with(of_gluten).without(lawful)
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
        // `pea-nut` is no nut of peas.
        let to = hit.as_ref().map_or(at, |hit| hit.to);
        let whole = parted(words, at, languages).filter(|whole| whole.to > to);
        match whole.or(hit) {
            Some(hit) => {
                at = hit.to;
                all.push(hit);
            }
            None => {
                all.extend(put_together(&words[at].1, at, languages));
                at += 1;
            }
        }
    }
    all
}

/// A word in pieces: `but-ter`, `m i l k`, or with what nobody sees between its letters.
fn parted(words: &Words, at: usize, languages: &[&str]) -> Option<Hit> {
    const MAX: usize = 48;
    let most = MAX.min(words.len() - at);
    let mut whole = String::new();
    let mut found = None;
    for (count, (_, word)) in words[at..at + most].iter().enumerate() {
        // Of whole words only a few are joined, of single letters as many as there are.
        if count > 5 && word.chars().count() > 2 {
            break;
        }
        whole.push_str(word);
        // `di cocco` is of coconut, and not `dicocco`; but an `orange curd` stays one.
        let tells = |phrase: Option<Phrase>| phrase.is_some_and(|phrase| !phrase.is_usual());
        let is_of_several = IN_ONE.contains_key(whole.as_str());
        let is_word = count > 0 && word.len() > 3;
        if is_word && !is_of_several && tells(PHRASES.exactly(word, languages)) {
            break;
        }
        if count == 0 || whole.len() < 3 {
            continue;
        }
        let phrase = PHRASES.in_one_word(&whole, languages).filter(Phrase::tells);
        found = phrase.map(|phrase| Hit { from: at, to: at + count + 1, phrase }).or(found);
    }
    found
}

/// What a word is put together of.
fn put_together(word: &str, at: usize, languages: &[&str]) -> Vec<Hit> {
    let german = || if languages.contains(&"de") { parts_of(word, at) } else { Vec::new() };
    let english = || languages.contains(&"en").then(|| english_parts(word)).flatten();
    match english() {
        Some(phrase) => vec![Hit { from: at, to: at + 1, phrase }],
        None => german(),
    }
}

/// What an English word tells that ought to be two: `hazelnutpaste`, `wholemilk`.
fn english_parts(word: &str) -> Option<Phrase> {
    const FORMS: [&str; 56] = [
        "powder", "paste", "flour", "meal", "oil", "wash", "mix", "cream", "cheese", "spread",
        "bread", "cake", "flake", "bran", "germ", "starch", "malt", "sugar", "syrup", "fat",
        "solid", "protein", "crumb", "chip", "chunk", "piece", "filling", "topping", "glaze",
        "butter", "milk", "yolk", "white", "noodle", "sauce", "drink", "dough", "nut", "bean",
        "seed", "dust", "crunch", "brittle", "praline", "extract", "vinegar", "stick", "meat",
        "kernel", "berry", "grain", "whip", "water", "fudge", "toffee", "caramel",
    ];
    const BEFORE: [&str; 26] = [
        "whole", "raw", "fresh", "brown", "dry", "dried", "dark", "white", "black", "red", "sweet",
        "salted", "unsalted", "sour", "soft", "hard", "toasted", "roasted", "ground", "skim",
        "skimmed", "goat", "goats", "sheep", "cow", "ice",
    ];
    let telling = |part: &str| PHRASES.spoken(part, &["en"]).filter(Phrase::tells);
    let one = |part: &str| part.strip_suffix('s').unwrap_or(part).to_owned();
    let ends = word.char_indices().map(|(at, _)| at).filter(|at| (3..=word.len()).contains(at));
    let mut parts = ends.filter_map(|at| word.split_at_checked(at));
    parts.find_map(|(first, last)| {
        if last.len() < 3 {
            return None;
        }
        let is_form = FORMS.contains(&last) || FORMS.contains(&one(last).as_str());
        let is_before = BEFORE.contains(&first);
        let food = if is_form { telling(first) } else { None };
        food.or_else(|| if is_before { telling(last) } else { None })
    })
}

/// What a German word is put together of: `Haselnussmehl`, `Sauerrahmbutter`. What is told
/// of milk is none after a plant: `Kakaobutter`.
fn parts_of(word: &str, at: usize) -> Vec<Hit> {
    let mut found: Vec<(Range<usize>, Phrase)> = Vec::new();
    if word.chars().count() < 6 || free_of(word).is_some() {
        return Vec::new();
    }
    for (range, stem, phrase) in STEMS.within(word) {
        // Short ones stand within words that have nothing to do with them.
        let is_at_end = range.start == 0 || range.end == word.len();
        let is_eggs = stem == "eier" && range.start > 0;
        let long = stem.chars().count() > 4;
        let is_new =
            found.iter().all(|(known, _)| known.end <= range.start || known.start >= range.end);
        // `toasted` is no German word, whatever the language of the house.
        let is_english = word.get(range.end..).is_some_and(|rest| ["ed", "ing"].contains(&rest));
        if (long || is_at_end) && !is_eggs && is_new && !is_english {
            found.push((range, phrase));
        }
    }
    found.sort_by_key(|(range, _)| range.start);
    let parts = found.iter().enumerate().map(|(index, (range, phrase))| {
        let before = index.checked_sub(1).and_then(|index| found.get(index));
        let before =
            before.filter(|(before, _)| word.get(before.end..range.start).is_some_and(is_joint));
        before.map_or(*phrase, |(_, before)| after(before, *phrase))
    });
    // `Kuchenmehl`, `Brotgewürz` are for it.
    const FOR: [&str; 6] = ["mehl", "hefe", "fett", "butter", "margarine", "gewürz"];
    let is_for = FOR.iter().any(|ending| word.ends_with(ending));
    let is_baked = |phrase: &Phrase| {
        phrase.kind == PhraseKind::Firm
            && phrase.allergens.with(phrase.usual).meets(KINDS.of_gluten)
    };
    let is_left =
        |phrase: &Phrase| (phrase.tells() || is_plant(phrase)) && !(is_for && is_baked(phrase));
    parts.filter(is_left).map(|phrase| Hit { from: at, to: at + 1, phrase }).collect()
}

/// What `glutenfreies`, `milkfree` say that they lack.
fn free_of(word: &str) -> Option<&str> {
    const FREE: [&str; 7] = ["freiem", "freies", "freier", "freien", "freie", "free", "frei"];
    FREE.iter().find_map(|ending| word.strip_suffix(ending))
}

/// Whether a word ends as no word but a German one does: `Alpkäse` in an English sentence.
fn reads_as_german(word: &str) -> bool {
    const ENDINGS: [&str; 12] = [
        "käse", "kaese", "milch", "nuss", "nüsse", "nüssen", "mehl", "rahm", "sahne", "quark",
        "eier", "fisch",
    ];
    ENDINGS.iter().any(|ending| word.ends_with(ending) && word.len() > ending.len())
}

/// What stands between the parts of a German word.
fn is_joint(between: &str) -> bool {
    ["", "n", "en", "s", "e"].contains(&between)
}

fn is_plant(phrase: &Phrase) -> bool {
    phrase.kind == PhraseKind::Plant
        || phrase.kind == PhraseKind::Allergen && phrase.allergens.meets(KINDS.of_plants)
}

/// What a food is after another word: a food of plants after a plant (`almond milk`), none
/// of animals after `vegan`.
fn after(before: &Phrase, food: Phrase) -> Phrase {
    if food.kind == PhraseKind::Firm {
        return food;
    }
    if before.kind == PhraseKind::Imitation {
        return food.without(KINDS.of_animals, u8::MAX);
    }
    if !is_plant(before) {
        return food;
    }
    let is_milk = food.allergens == KINDS.milk;
    let food = if is_milk { food.without(KINDS.milk, 0) } else { food };
    let food = if food.usual == KINDS.soybeans { food.without(KINDS.soybeans, 0) } else { food };
    match food.kind {
        PhraseKind::Food => food.without(KINDS.of_gluten, 0),
        _ => food,
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

/// What is left of a phrase beside the others: `almond milk`, `lait d'amande`, `crème
/// végétale`, `cream of rice`.
fn after_plants(words: &Words, hits: &[Hit], index: usize) -> Phrase {
    const OF: [&str; 9] = ["of", "de", "d", "di", "du", "al", "à", "a", "la"];
    let hit = &hits[index];
    let before = index.checked_sub(1).and_then(|index| hits.get(index));
    // `jowar ka atta` is flour of sorghum.
    let is_joint = |between: &Words| match between {
        [] => true,
        [(_, word)] => ["ka", "ki", "ke"].contains(&word.as_str()),
        _ => false,
    };
    let before = before.filter(|before| words.get(before.to..hit.from).is_some_and(is_joint));
    let behind = hits.get(index + 1).filter(|behind| {
        let between = words.get(hit.to..behind.from).unwrap_or_default();
        let is_of = between.iter().all(|(_, word)| OF.contains(&word.as_str()));
        is_of && (!between.is_empty() || behind.phrase.kind == PhraseKind::Imitation)
    });
    let near =
        before.into_iter().chain(behind).fold(hit.phrase, |left, other| after(&other.phrase, left));
    // `brown rice, fine flour`, `harina integral de arroz`: flour is of what is named.
    let is_flour = near.is_usual() && near.usual.meets(KINDS.of_gluten);
    let is_of = |plant: &Hit| {
        let word = plant.from.checked_sub(1).and_then(|at| words.get(at));
        plant.to <= hit.from || word.is_some_and(|(_, word)| OF.contains(&word.as_str()))
    };
    let mut plants =
        hits.iter().filter(|plant| is_flour && is_plant(&plant.phrase) && is_of(plant));
    plants.next().map_or(near, |plant| after(&plant.phrase, near))
}

/// What a name says of the whole.
struct NameClaims {
    vegan: bool,
    vegetarian: bool,
    /// It is a spice for something, and not that.
    spice: bool,
    /// What it says it is free from: `gluten-free crackers`.
    free: Allergens,
}

impl NameClaims {
    fn of(words: &Words, hits: &[Hit], languages: &[&str]) -> Self {
        const SPICES: [&str; 12] = [
            "spice",
            "spices",
            "seasoning",
            "seasonings",
            "épice",
            "épices",
            "gewürz",
            "gewürze",
            "especia",
            "especias",
            "spezia",
            "spezie",
        ];
        let (vegan, vegetarian) = diets(words, languages);
        let spice = words.iter().any(|(_, word)| SPICES.contains(&word.as_str()));
        let denied = hits.iter().filter(|hit| is_denied(words, hit));
        let denied = denied.filter(|hit| hit.phrase.kind == PhraseKind::Allergen);
        let names = denied.map(|hit| joined(&words[hit.from..hit.to]));
        let in_words = words.iter().filter_map(|(_, word)| free_of(word).map(EcoString::from));
        let free = names.chain(in_words).filter_map(|name| whole_of(&name));
        let free = free.fold(Allergens::NONE, |all, one| all.with(one.narrower()));
        Self { vegan, vegetarian, spice, free }
    }

    fn left_of(&self, phrase: Phrase) -> Phrase {
        // `gluten-free oats` are oats.
        let phrase = match phrase.kind {
            PhraseKind::Allergen => phrase,
            _ => phrase.without(self.free, 0),
        };
        match (self.vegan, self.vegetarian) {
            (true, _) => phrase.without(KINDS.of_animals, u8::MAX),
            (false, true) => phrase.without(Allergens::NONE, bit("meat")),
            (false, false) => phrase,
        }
    }
}

/// The allergen of which a name means all: what is free from lactose has milk in it.
fn whole_of(name: &str) -> Option<Allergen> {
    const PARTS: [&str; 18] = [
        "lactose",
        "laktose",
        "lactosa",
        "lattosio",
        "casein",
        "kasein",
        "caséine",
        "caseína",
        "caseina",
        "whey",
        "molke",
        "lactosérum",
        "milchzucker",
        "albumen",
        "eiklar",
        "eigelb",
        "albume",
        "tuorlo",
    ];
    let is_part = PARTS.contains(&name) || name.contains(' ');
    if is_part { None } else { Allergen::claimed(name) }
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

    /// Nothing of the packed stores is lost when they are unpacked.
    #[test]
    fn what_is_unpacked_packs_to_the_same() {
        assert!(IS_FRESH && packed_names() == PACKED, "stale; see tests/all/packed.rs");
        assert!(Phrases::unpacked().packed() == PACKED, "other names");
    }

    #[test]
    fn every_line_of_the_store_is_read() {
        for line in TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let columns: Vec<&str> = line.split('|').map(str::trim).collect();
            assert_eq!(columns.len(), 6, "{line}");
            assert!(columns.iter().all(|column| !column.is_empty()), "{line}");
            let is_kind = ["not", "plant", "imitation", "known"].contains(&columns[0]);
            let known = |one: &str| {
                let one = one.trim_end_matches('?');
                Allergen::read(one).is_some() || bit(one) != 0
            };
            let what = columns[0].strip_prefix("alone ").unwrap_or(columns[0]);
            assert!(is_kind || what.trim_end_matches('!').split('+').all(known), "{line}");
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
            assert!(told_by_name(name, &["en"]).is_empty(), "{name}");
        }
    }
}
