//! What people call the stores' ingredients, in all languages and countries at once.
//!
//! Names stand in `stores/called.txt`, in the catalogues of prints and in the stores
//! themselves. They are compared by their bare letters: hyphens, blanks, accents, a plural
//! and the word `type` mean nothing in them. A name that means several things follows the
//! house's language; where that does not decide, it means nothing until it is asked.

use super::called::{CATALOGUES, called_in_catalogues};
use super::composition::IngredientId;
use super::house::{TEXTS, built_in, key};
use crate::diag::{nearest_names, slips_between};
use crate::source::{NameIndex, Packer, Unpacker, cells, is_fresh, stamp_of, unaccented};
use std::borrow::Cow;
use std::sync::LazyLock;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

const TEXT: &str = include_str!("stores/called.txt");

/// What a name may mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// One ingredient of the stores.
    One(IngredientId),
    /// Several, in the order of the stores.
    Several(Vec<IngredientId>),
}

/// A name as some country uses it.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Hit {
    /// A BCP 47 tag: `de`, `en-GB`.
    tag: &'static str,
    id: IngredientId,
}

/// All names and what they mean.
#[derive(Default)]
struct SpokenNames {
    /// By their bare letters.
    bare: NameIndex,
    /// By the number of a name: where what it means ends among all hits.
    ends: Vec<u32>,
    hits: Vec<Hit>,
    /// The bare first words of all names; none for the word `type`.
    first_words: NameIndex,
}

static NAMES: LazyLock<SpokenNames> = LazyLock::new(|| match IS_FRESH {
    true => SpokenNames::unpacked(),
    false => SpokenNames::read(),
});

/// The names as they are packed.
static PACKED: &[u8] = include_bytes!("stores/called.packed");

const STAMP: u64 =
    stamp_of(&[TEXT, TEXTS[0], CATALOGUES[0].1, CATALOGUES[1].1, CATALOGUES[2].1, CATALOGUES[3].1]);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

/// What the packed file has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed_spoken() -> Vec<u8> {
    SpokenNames::read().packed()
}

impl SpokenNames {
    fn read() -> Self {
        let mut all = Self::default();
        let mut hits: Vec<Vec<Hit>> = Vec::new();
        for (tag, name, id) in all_names() {
            let mut words = name.split(|letter: char| !letter.is_alphanumeric());
            all.first_words.put(&bare(words.find(|word| !word.is_empty()).unwrap_or_default()));
            let bare = bare(&name);
            if bare.is_empty() {
                continue;
            }
            let number = all.bare.put(&bare) as usize;
            hits.resize(all.bare.len(), Vec::new());
            let (known, hit) = (&mut hits[number], Hit { tag, id });
            if !known.contains(&hit) {
                known.push(hit);
            }
        }
        for hits in hits {
            all.hits.extend(hits);
            all.ends.push(all.hits.len() as u32);
        }
        all
    }

    /// All that is called so, by its bare letters.
    fn get(&self, bare: &str) -> Option<&[Hit]> {
        self.bare.number(bare).map(|number| self.hits_of(number as usize))
    }

    fn hits_of(&self, number: usize) -> &[Hit] {
        let start = number.checked_sub(1).map_or(0, |before| self.ends[before]);
        &self.hits[start as usize..self.ends[number] as usize]
    }

    fn packed(&self) -> Vec<u8> {
        let mut packer = Packer::new(STAMP);
        self.bare.pack(&mut packer);
        packer.numbers(self.ends.iter().copied());
        self.first_words.pack(&mut packer);
        let mut tags = NameIndex::default();
        let hits: Vec<u32> =
            self.hits.iter().map(|hit| tags.put(hit.tag) << 16 | hit.id.0).collect();
        packer.numbers(hits.into_iter());
        let tags: Vec<&str> = (0..tags.len() as u32).map(|number| tags.name(number)).collect();
        packer.text(&tags.join("\n"));
        packer.packed()
    }

    fn unpacked() -> Self {
        let mut from = Unpacker::new(PACKED);
        let (bare, ends) = (NameIndex::unpack(&mut from), from.numbers().collect());
        let (first_words, hits) = (NameIndex::unpack(&mut from), from.numbers());
        let tags: Vec<&str> = from.text().lines().collect();
        let hit = |packed: u32| {
            let tag = tags.get((packed >> 16) as usize).copied().unwrap_or_default();
            Hit { tag, id: IngredientId(packed & 0xffff) }
        };
        Self { bare, ends, hits: hits.map(hit).collect(), first_words }
    }
}

/// Every name with its tag and what it means.
fn all_names() -> Vec<(&'static str, Cow<'static, str>, IngredientId)> {
    let mut own: Vec<_> = built_in().own_names().collect();
    own.sort_unstable_by_key(|(name, id)| (id.0, *name));
    let own = own.into_iter().map(|(name, id)| ("en", name.to_string().into(), id));
    let printed = called_in_catalogues().into_iter();
    let printed = printed.map(|(tag, name, id)| (tag, name.into(), id));
    let said = entries().filter_map(|(tag, name, own)| {
        let id = built_in().ingredient_id(&key(own))?;
        Some((tag, name.into(), id))
    });
    own.chain(printed).chain(said).collect()
}

/// Whether some name begins with a word, in whatever language.
pub fn begins_a_spoken_name(word: &str) -> bool {
    NAMES.first_words.number(&bare(word)).is_some()
}

/// All that somebody somewhere calls so, with the language: `de`.
pub fn spoken_somewhere(name: &str) -> impl Iterator<Item = (&'static str, IngredientId)> {
    let hits = NAMES.get(&bare(name)).into_iter().flatten();
    hits.map(|hit| (hit.tag.split('-').next().unwrap_or_default(), hit.id))
}

/// Tag, name and the store's own name of every name in the store of names.
fn entries() -> impl Iterator<Item = (&'static str, &'static str, &'static str)> {
    let mut own = "";
    let lines = TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    let lines = lines.filter_map(move |line| match line.strip_prefix("  ") {
        Some(names) => names.split_once(' ').map(|(tag, names)| (tag, names, own)),
        None => {
            own = line.trim_end();
            None
        }
    });
    lines.flat_map(|(tag, names, own)| cells(names, b',').map(move |name| (tag, name, own)))
}

/// What a name means in a house of a language, given as a tag; `None` where nobody says so.
pub fn meaning(name: &str, language: Option<&str>) -> Option<Meaning> {
    let bare = bare(name);
    let hits = NAMES.get(&bare).or_else(|| NAMES.get(&without_umlauts(&bare)?))?;
    let primary = |tag: &str| tag.split(['-', '_']).next().unwrap_or_default().to_lowercase();
    let own = language.map(primary);
    let is_own = |hit: &&Hit| Some(primary(hit.tag)) == own;
    let of_tag = |tag: &str| {
        let tag = tag.replace('_', "-");
        one_of(hits.iter().filter(|hit| hit.tag.eq_ignore_ascii_case(&tag)))
    };
    // Where no house says so, the words of the language are English, of no one country.
    let language = language.unwrap_or("en");
    let decided = of_tag(language).or_else(|| of_tag(&primary(language)));
    if let Some(id) = decided.or_else(|| one_of(hits.iter())) {
        return Some(Meaning::One(id));
    }
    let of_language: Vec<&Hit> = hits.iter().filter(is_own).collect();
    if let Some(id) = one_of(of_language.iter().copied()) {
        return Some(Meaning::One(id));
    }
    let left = if of_language.is_empty() { hits.iter().collect() } else { of_language };
    let mut ids: Vec<IngredientId> = left.iter().map(|hit| hit.id).collect();
    ids.sort_unstable_by_key(|id| id.0);
    ids.dedup();
    Some(Meaning::Several(ids))
}

/// A name whose umlauts are written as two letters, as where a keyboard has none: `nuesse`.
fn without_umlauts(bare: &str) -> Option<String> {
    let plain = bare.replace("ae", "a").replace("oe", "o").replace("ue", "u");
    (plain != bare).then_some(plain)
}

/// The languages and countries in which a name means one thing, as a house may say them.
pub fn deciding(name: &str) -> Vec<&'static str> {
    let mut tags: Vec<&'static str> =
        NAMES.get(&bare(name)).into_iter().flatten().map(|hit| hit.tag).collect();
    tags.sort_unstable();
    tags.dedup();
    tags.retain(|tag| matches!(meaning(name, Some(tag)), Some(Meaning::One(_))));
    // Where a language decides, its countries need not be told.
    let whole = tags.clone();
    let is_of_another =
        |tag: &str| whole.iter().any(|other| *other != tag && tag.split('-').next() == Some(other));
    tags.retain(|tag| !is_of_another(tag));
    tags
}

/// The one thing that a language calls so by itself, whatever the stores' own word means:
/// French `lard` is bacon.
pub fn own_word(name: &str, language: &str) -> Option<IngredientId> {
    let primary = |tag: &str| tag.split(['-', '_']).next().unwrap_or_default().to_lowercase();
    let own = primary(language);
    let hits = NAMES.get(&bare(name))?;
    one_of(hits.iter().filter(|hit| primary(hit.tag) == own))
}

/// A name of another language than English that somebody may have misspelt.
struct Written {
    tag: &'static str,
    shown: Cow<'static, str>,
    /// Its bare words, with single blanks between them.
    words: String,
    id: IngredientId,
}

/// All of them; they are read when a name is met that nothing bears.
static WRITTEN: LazyLock<Vec<Written>> = LazyLock::new(|| {
    let of_another = all_names().into_iter().filter(|(tag, ..)| !tag.starts_with("en"));
    of_another
        .map(|(tag, shown, id)| Written { tag, words: bare_words(&shown), shown, id })
        .collect()
});

/// Every name of another language than English, and what it means.
#[cfg(test)]
pub fn names_abroad() -> impl Iterator<Item = (&'static str, IngredientId)> {
    WRITTEN.iter().map(|name| (&*name.shown, name.id))
}

/// A name in another language that a misspelt one most likely means.
pub struct NearAbroad {
    /// As the stores write it.
    pub shown: &'static str,
    /// What it means.
    pub id: IngredientId,
}

/// The names of a language that a name is most likely a slip of, or those of every language
/// but English where none is given, all that are as near as the nearest, and how many letters
/// are wrong. Accents, the word `type` and the order of words mean nothing.
pub fn near_abroad(
    name: &str,
    language: Option<&str>,
    is_word: impl Fn(&str) -> bool,
) -> (usize, Vec<NearAbroad>) {
    let primary = |tag: &str| tag.split(['-', '_']).next().unwrap_or_default().to_lowercase();
    let own = language.map(primary);
    // What English has as well is English where nobody says else.
    let is_english = |name: &Written| {
        let hits = NAMES.get(&bare(&name.shown)).into_iter().flatten();
        hits.into_iter().any(|hit| hit.tag.starts_with("en"))
    };
    let is_own = |name: &&Written| own.as_ref().is_none_or(|own| primary(name.tag) == *own);
    let wanted = bare_words(name);
    let known = || WRITTEN.iter().filter(is_own);
    let near = nearest_names(&wanted, known().map(|name| name.words.as_str()), is_word);
    let slips = near.first().map_or(0, |near| slips_between(&wanted, near));
    let all: Vec<_> = known().filter(|name| near.contains(&name.words.as_str())).collect();
    if own.is_none() && all.iter().any(|name| is_english(name)) {
        return (slips, Vec::new());
    }
    let all = all.into_iter();
    (slips, all.map(|name| NearAbroad { shown: &name.shown, id: name.id }).collect())
}

/// The words of a name by their bare letters: `farine 65` for `Farine T65`.
fn bare_words(name: &str) -> String {
    let lower = name.to_lowercase();
    let words = lower.split(|letter: char| !letter.is_alphanumeric() && !is_combining_mark(letter));
    let bare = words.map(bare).filter(|word| !word.is_empty());
    bare.collect::<Vec<_>>().join(" ")
}

/// The stores' own names of all that somebody somewhere calls so.
pub fn called_somewhere(name: &str) -> Vec<&'static str> {
    let ids = NAMES.get(&bare(name)).into_iter().flatten().map(|hit| hit.id);
    let mut names: Vec<&str> = ids.map(|id| built_in().ingredient(id).name.key.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// The one ingredient that all of some names mean.
fn one_of<'h>(mut hits: impl Iterator<Item = &'h Hit>) -> Option<IngredientId> {
    let first = hits.next()?.id;
    hits.all(|hit| hit.id == first).then_some(first)
}

/// The letters by which a name is known, however it is spelt: `Mehl Typ 550`, `Mehl 550`
/// and `mehl-type-550` are one, and so are `farine T 65` and `farine type 65`.
pub fn bare(name: &str) -> String {
    if name.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b' ') {
        return bare_of(name);
    }
    if name.is_ascii() {
        return bare_of(&name.to_ascii_lowercase());
    }
    let key = key(name);
    if key.is_ascii() {
        return bare_of(&key);
    }
    let bare = || key.nfd().filter(|letter| !is_combining_mark(*letter)).collect();
    let plain: String = unaccented(&key).unwrap_or_else(bare);
    bare_of(&plain.replace('œ', "oe").replace('æ', "ae"))
}

fn bare_of(plain: &str) -> String {
    let words = plain.split(|letter: char| !letter.is_alphanumeric());
    let mut bare = String::with_capacity(plain.len());
    for word in words.filter(|word| !is_of_types(word)) {
        push_bare(&mut bare, word);
    }
    bare
}

/// The words that stand before the number of a type of flour.
fn is_of_types(word: &str) -> bool {
    ["type", "typ", "types", "typen", "tipo", "tipos", "t"].contains(&word)
}

/// Adds a word without the signs of a plural, or the number of a type alone.
fn push_bare(bare: &mut String, word: &str) {
    let is_number = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let number = word.strip_prefix('t').or_else(|| word.strip_suffix("er")).unwrap_or(word);
    if is_number(number) {
        return bare.push_str(number);
    }
    let is_double = ["sses", "xes", "ches", "shes", "oes"].iter().any(|end| word.ends_with(end));
    let is_no_plural = ["ss", "us", "is"].iter().any(|end| word.ends_with(end));
    match word.strip_suffix('s') {
        Some(one) if word.len() > 3 && !is_no_plural => match one.strip_suffix("ie") {
            Some(stem) => {
                bare.push_str(stem);
                bare.push('y');
            }
            None => bare.push_str(if is_double { one.trim_end_matches('e') } else { one }),
        },
        _ => bare.push_str(word),
    }
}

#[cfg(test)]
mod tests {
    use super::super::allergens::LANGUAGES;
    use super::super::naming::told_by_name;
    use super::*;
    use std::collections::BTreeSet;

    fn shown(id: IngredientId) -> &'static str {
        &built_in().ingredient(id).name.shown
    }

    /// What a name means to a house of a language; several things parted by `+`.
    fn meant(name: &str, language: Option<&str>) -> String {
        match meaning(name, language) {
            None => String::new(),
            Some(Meaning::One(id)) => shown(id).to_owned(),
            Some(Meaning::Several(ids)) => {
                ids.into_iter().map(shown).collect::<Vec<_>>().join(" + ")
            }
        }
    }

    /// Nothing of the packed names is lost when they are unpacked.
    #[test]
    fn what_is_unpacked_packs_to_the_same() {
        assert!(IS_FRESH && packed_spoken() == PACKED, "stale; see tests/all/packed.rs");
        assert!(SpokenNames::unpacked().packed() == PACKED, "other names");
    }

    #[test]
    fn every_name_is_of_something_in_the_stores() {
        let mut all = 0;
        for (tag, name, own) in entries() {
            let known = built_in().ingredient_named(&key(own));
            assert!(known.is_some_and(|it| it.name.shown == own), "`{own}` is no main name");
            assert!(!name.is_empty() && !bare(name).is_empty(), "{tag} of {own}");
            assert!(LANGUAGES.iter().any(|known| tag.starts_with(known)), "{tag} of {own}");
            all += 1;
        }
        assert!(all > 600, "{all}");
    }

    /// A name that holds the word of a food is of that food, so that nothing that somebody
    /// must not eat comes in by a name.
    #[test]
    fn no_name_tells_what_is_not_in_it() {
        let mut wrong = Vec::new();
        for (tag, name, own) in entries() {
            let Some(ingredient) = built_in().ingredient_named(&key(own)) else { continue };
            let language = tag.split('-').next().unwrap_or_default();
            for told in told_by_name(name, &[language]) {
                if let Some(missing) = ingredient.declared.lacks(&told) {
                    wrong.push(format!("{tag} {name} ({own}): {missing:?}"));
                }
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    /// Names of several things are these, and nobody else's name becomes one unseen.
    #[test]
    fn names_of_several_things_in_one_language_are_listed() {
        let mut found = BTreeSet::new();
        for number in 0..NAMES.bare.len() {
            let (letters, hits) = (NAMES.bare.name(number as u32), NAMES.hits_of(number));
            for hit in hits {
                let same = hits.iter().any(|other| other.tag == hit.tag && other.id != hit.id);
                if same {
                    found.insert(format!("{} {letters}", hit.tag));
                }
            }
        }
        let listed: BTreeSet<String> = SEVERAL.iter().map(|it| (*it).to_owned()).collect();
        let new: Vec<_> = found.difference(&listed).collect();
        let gone: Vec<_> = listed.difference(&found).collect();
        assert!(new.is_empty() && gone.is_empty(), "new: {new:?}\ngone: {gone:?}");
    }

    const SEVERAL: &[&str] = &[
        // As it is written it is starch; `corn-flour` is asked.
        "en cornflour",
        // Fresh or dried, whole or ground.
        "fr piment",
        // Fresh, or dried as in most breads.
        "fr raisin",
        // With salt in it, as in America, or without.
        "es harinaleudante",
        "fr farinealevureincorporee",
        "it farinaautolievitante",
        // Flour of any kind; in America a cereal.
        "it farina",
        "it farinadigranotenero",
        "de weizenmehl",
    ];

    #[test]
    fn spelling_means_nothing() {
        for (one, other) in [
            ("all-purpose flour", "All Purpose Flours"),
            ("farine T65", "farine type 65"),
            ("farine T 65", "Farine-T65"),
            ("Mehl Typ 550", "mehl 550"),
            ("550er Mehl", "550 Mehl"),
            ("crème fraîche", "creme fraiche"),
            ("œufs", "oeuf"),
            ("wholewheat flour", "whole wheat flour"),
            ("berries", "berry"),
            ("tomatoes", "tomato"),
        ] {
            assert_eq!(bare(one), bare(other), "{one}");
        }
        for (one, other) in [("oats", "oat bran"), ("rye", "lye"), ("T65", "T55"), ("glass", "gla")]
        {
            assert_ne!(bare(one), bare(other), "{one}");
        }
    }

    #[test]
    fn the_language_of_the_house_decides() {
        assert_eq!(meant("manteca", Some("es")), "unsalted butter + lard");
        assert_eq!(meant("manteca", Some("es-ES")), "lard");
        assert_eq!(meant("manteca", Some("es-AR")), "unsalted butter");
        assert_eq!(meant("manteca", Some("es-MX")), "lard");
        assert_eq!(meant("self raising flour", None), "British self-raising flour");
        assert_eq!(meant("self-raising flour", Some("en-GB")), "British self-raising flour");
        assert_eq!(meant("self-raising flour", Some("en-US")), "self-rising flour");
        assert_eq!(meant("self-rising flour", Some("en-GB")), "self-rising flour");
        assert_eq!(meant("piment", Some("fr")), "chilli flakes + chilli powder + green chilli");
        assert_eq!(meant("piment", Some("de")), "allspice");
        assert_eq!(meant("raisin", Some("fr")), "raisins + grapes");
        assert_eq!(meant("prune", Some("fr")), "plums");
        assert_eq!(meant("manteca", None), "unsalted butter + lard");
        assert_eq!(meant("oatmeal", Some("en-GB")), "oatmeal of oat groats");
        assert_eq!(meant("oatmeal", Some("en_US")), "rolled oats");
        assert_eq!(meant("oatmeal", None), "rolled oats");
        assert_eq!(meant("medium egg", None), "EU medium egg + US medium egg");
        let farina = "bread flour + all-purpose flour + 00 flour + 0 flour + wheat farina";
        assert_eq!(meant("farina", None), farina);
        assert_eq!(meant("farina", Some("en-US")), "wheat farina");
        assert_eq!(meant("curd", Some("en-IN")), "yogurt");
        assert_eq!(meant("curd", Some("en-GB")), "quark");
        assert_eq!(meant("large eggs", Some("en-GB")), "EU large egg");
        assert_eq!(meant("large eggs", Some("en-US")), "US large egg");
        assert_eq!(meant("Mehl Type 550", Some("it")), "wheat flour 550");
        assert_eq!(meant("harina de fuerza", None), "bread flour");
        assert_eq!(meant("unheard-of", None), "");
    }

    /// The stores' own words that are other foods in another language, and which: each was
    /// looked at, so that none becomes another food unseen.
    #[test]
    fn words_that_are_other_foods_elsewhere_are_listed() {
        let mut found = BTreeSet::new();
        for (name, id) in built_in().own_names() {
            for language in LANGUAGES.iter().filter(|language| **language != "en") {
                if let Some(own) = own_word(name, language).filter(|own| *own != id) {
                    found.insert(format!("{language} {name}: {}, not {}", shown(own), shown(id)));
                }
            }
        }
        let listed: BTreeSet<String> = FALSE_FRIENDS.iter().map(|it| (*it).to_owned()).collect();
        let new: Vec<_> = found.difference(&listed).collect();
        let gone: Vec<_> = listed.difference(&found).collect();
        assert!(new.is_empty() && gone.is_empty(), "new: {new:#?}\ngone: {gone:#?}");
    }

    const FALSE_FRIENDS: &[&str] = &[
        "fr citron: fresh lemon, not candied citron",
        "fr farine bise: high-extraction flour, not wheat flour T80",
        "fr fromage blanc: quark, not fromage frais",
        "fr lard: lardons, not lard",
        "fr prunes: plums, not prunes",
    ];

    /// A house that is told to say its language has a name that means one thing then.
    #[test]
    fn languages_that_are_told_decide() {
        let houses = ["es-AR", "es-CL", "es-CO", "es-ES", "es-MX", "es-PE", "es-PY", "es-UY"];
        assert_eq!(deciding("manteca"), houses);
        assert_eq!(deciding("medium egg"), ["en-CA", "en-GB", "en-IE", "en-US"]);
        assert!(deciding("harina leudante").is_empty(), "{:?}", deciding("harina leudante"));
        for number in 0..NAMES.bare.len() as u32 {
            let name = NAMES.bare.name(number);
            for tag in deciding(name) {
                assert!(matches!(meaning(name, Some(tag)), Some(Meaning::One(_))), "{tag} {name}");
            }
        }
    }
}
