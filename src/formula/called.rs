//! What the stores' ingredients are called in other languages.
//!
//! The names stand in the catalogues that prints are written with, a line each:
//! `name-rye-flakes = flocons de seigle`.

use super::composition::IngredientId;
use super::house::{House, TEXTS, built_in, key};
use crate::source::{NameIndex, Packer, Unpacker, is_fresh, stamp_of};
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::sync::LazyLock;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// The catalogues with their languages.
pub(super) const CATALOGUES: [(&str, &str); 4] = [
    ("fr", include_str!("../../templates/words/names.fr.ftl")),
    ("de", include_str!("../../templates/words/names.de.ftl")),
    ("es", include_str!("../../templates/words/names.es.ftl")),
    ("it", include_str!("../../templates/words/names.it.ftl")),
];

/// What the catalogues call things.
#[derive(Default)]
struct CatalogueNames {
    /// By language, in the order of [`CATALOGUES`].
    languages: [Called; CATALOGUES.len()],
    /// The stores' own names that are called something.
    own: NameIndex,
    /// The first words of all names of all catalogues.
    first_words: NameIndex,
}

/// What one catalogue calls things.
#[derive(Default)]
struct Called {
    names: NameIndex,
    /// By the number of a name: the number of the stores' own.
    own: Vec<u32>,
}

static NAMES: LazyLock<CatalogueNames> = LazyLock::new(|| match IS_FRESH {
    true => CatalogueNames::unpacked(),
    false => CatalogueNames::read(),
});

/// The names as they are packed.
static PACKED: &[u8] = include_bytes!("stores/catalogues.packed");

const STAMP: u64 =
    stamp_of(&[CATALOGUES[0].1, CATALOGUES[1].1, CATALOGUES[2].1, CATALOGUES[3].1, TEXTS[0]]);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

/// What the packed file has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed_called() -> Vec<u8> {
    CatalogueNames::read().packed()
}

impl CatalogueNames {
    fn read() -> Self {
        let slug = |name: &str| name.replace([' ', '\'', '/'], "-");
        let own: FxHashMap<String, &EcoString> =
            built_in().names_in_stores().map(|name| (slug(name), name)).collect();
        let mut all = Self::default();
        for (called, (_, catalogue)) in all.languages.iter_mut().zip(CATALOGUES) {
            for line in catalogue.lines() {
                let line = line.strip_prefix("name-").and_then(|line| line.split_once('='));
                let Some((name, words)) = line else { continue };
                let Some(name) = own.get(name.trim()) else { continue };
                let (number, own) = (called.names.put(&key(words.trim())), all.own.put(name));
                called.own.resize(called.names.len(), own);
                // Of two things with one name the later one counts.
                called.own[number as usize] = own;
            }
            for number in 0..called.names.len() as u32 {
                let first = called.names.name(number).split([' ', '-', '\'']).next();
                all.first_words.put(first.unwrap_or_default());
            }
        }
        all
    }

    fn packed(&self) -> Vec<u8> {
        let mut packer = Packer::new(STAMP);
        for called in &self.languages {
            called.names.pack(&mut packer);
            packer.numbers(called.own.iter().copied());
        }
        self.own.pack(&mut packer);
        self.first_words.pack(&mut packer);
        packer.packed()
    }

    fn unpacked() -> Self {
        let mut from = Unpacker::new(PACKED);
        let languages = std::array::from_fn(|_| {
            let names = NameIndex::unpack(&mut from);
            Called { names, own: from.numbers().collect() }
        });
        let (own, first_words) = (NameIndex::unpack(&mut from), NameIndex::unpack(&mut from));
        Self { languages, own, first_words }
    }

    /// What a language calls things: a name, and the stores' own.
    #[cfg(test)]
    fn of(&self, language: usize) -> impl Iterator<Item = (&str, &str)> {
        let called = &self.languages[language];
        let own = called.own.iter().map(|own| self.own.name(*own));
        (0..).map(|number| called.names.name(number)).zip(own)
    }
}

/// Language, name and ingredient of every name in the catalogues; some have messages for
/// another name of an ingredient too.
pub(super) fn called_in_catalogues() -> Vec<(&'static str, &'static str, IngredientId)> {
    let slug = |name: &str| -> String {
        if name.is_ascii() {
            return name.replace(|letter: char| !letter.is_ascii_alphanumeric(), "-");
        }
        let plain = name.nfd().filter(|letter| !is_combining_mark(*letter));
        plain.map(|letter| if letter.is_alphanumeric() { letter } else { '-' }).collect()
    };
    let own: FxHashMap<String, IngredientId> =
        built_in().own_names().map(|(name, id)| (slug(name), id)).collect();
    let read = |language: &'static str, line: &'static str| {
        let (name, called) = line.strip_prefix("name-")?.split_once('=')?;
        Some((language, called.trim(), *own.get(name.trim())?))
    };
    let all = CATALOGUES.iter().flat_map(|(language, catalogue)| {
        catalogue.lines().filter_map(|line| read(language, line))
    });
    all.collect()
}

/// Whether the name of some ingredient of the stores begins with a word, in a language that
/// is not English.
pub fn begins_a_called_name(word: &str) -> bool {
    NAMES.first_words.number(word).is_some()
}

impl House<'_> {
    /// The ingredient that a language calls so, the house's own first; `called` is a name's
    /// key.
    pub fn ingredient_called(&self, language: &str, called: &str) -> Option<IngredientId> {
        if let Some(own) = self.own_called(language, called) {
            return Some(own);
        }
        let language = CATALOGUES.iter().position(|(known, _)| *known == language)?;
        let known = NAMES.languages.get(language)?;
        let own = known.own.get(known.names.number(called)? as usize)?;
        self.ingredient_id(NAMES.own.name(*own))
    }
}

#[cfg(test)]
mod tests {
    use super::super::declared::Lack;
    use super::super::naming::{slips_in_name, told_by_name};
    use super::*;

    /// Nothing of the packed names is lost when they are unpacked.
    #[test]
    fn what_is_unpacked_packs_to_the_same() {
        assert!(IS_FRESH && packed_called() == PACKED, "stale; see tests/all/packed.rs");
        assert!(CatalogueNames::unpacked().packed() == PACKED, "other names");
    }

    #[test]
    fn each_language_knows_nearly_all_ingredients_by_name() {
        let all = built_in().ingredients().count();
        for (called, (language, _)) in NAMES.languages.iter().zip(CATALOGUES) {
            let names = called.names.len();
            assert!(names * 10 > all * 9, "{language}: {names} of {all}");
        }
        let rye = built_in().ingredient_called("fr", "flocons de seigle");
        assert_eq!(rye.map(|id| built_in().ingredient(id).name.key.as_str()), Some("rye flakes"));
    }

    /// What the catalogues call an ingredient of the stores, with their languages.
    fn names_of_all(own: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
        CATALOGUES.iter().enumerate().flat_map(move |(index, (language, _))| {
            let names = NAMES.of(index).filter(move |(_, known)| *known == own);
            names.map(move |(called, _)| (*language, called))
        })
    }

    /// No word of the stores' own names is taken for another one misspelt.
    #[test]
    fn no_name_of_the_stores_reads_like_a_slip() {
        let mut wrong = Vec::new();
        for ingredient in built_in().ingredients() {
            let own = [("en", ingredient.name.shown.as_str())];
            let called: Vec<_> = names_of_all(&ingredient.name.key).collect();
            for (language, name) in own.into_iter().chain(called) {
                for slip in slips_in_name(name, &["en", language]) {
                    wrong.push(format!("{language} {name}: {}", slip.meant));
                }
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    /// The stores' own names tell nothing that the stores do not say, in any language.
    #[test]
    fn no_name_of_the_stores_tells_what_is_not_in_it() {
        let mut wrong = Vec::new();
        for ingredient in built_in().ingredients() {
            let own = std::iter::once(("en", ingredient.name.shown.as_str()));
            let called = names_of_all(&ingredient.name.key);
            for (language, name) in own.chain(called) {
                for told in told_by_name(name, &[language]) {
                    let missing = ingredient.declared.lacks(&told);
                    if missing.is_some() {
                        wrong.push(format!("{language} {name}: {missing:?}"));
                    }
                    let usual = Lack { allergens: told.usual, animals: 0 };
                    let open = ingredient.declared.unanswered(usual);
                    if !open.is_empty() {
                        wrong.push(format!("{language} {name}: usually {open:?}"));
                    }
                }
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
}
