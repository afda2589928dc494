//! What the stores' ingredients are called in other languages.
//!
//! The names stand in the catalogues that prints are written with, a line each:
//! `name-rye-flakes = flocons de seigle`.

use super::composition::IngredientId;
use super::house::{House, built_in, key};
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet};
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

type Names = FxHashMap<EcoString, EcoString>;

static NAMES: LazyLock<Vec<(&'static str, Names)>> = LazyLock::new(|| {
    let slug = |name: &str| name.replace([' ', '\'', '/'], "-");
    let own = built_in().names_in_stores().map(|name| (slug(name), name)).collect();
    CATALOGUES.iter().map(|(language, catalogue)| (*language, names_of(catalogue, &own))).collect()
});

/// The stores' own names by what they are called in a catalogue.
fn names_of(catalogue: &str, own: &FxHashMap<String, &EcoString>) -> Names {
    let lines = catalogue.lines().filter_map(|line| {
        let (name, called) = line.strip_prefix("name-")?.split_once('=')?;
        Some((key(called.trim()), (*own.get(name.trim())?).clone()))
    });
    let mut names = Names::default();
    names.reserve(own.len());
    names.extend(lines);
    names
}

/// The first words of all names of a catalogue.
static FIRST_WORDS: LazyLock<FxHashSet<&'static str>> = LazyLock::new(|| {
    let names = NAMES.iter().flat_map(|(_, names)| names.keys());
    names.filter_map(|name| name.split([' ', '-', '\'']).next()).collect()
});

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
    FIRST_WORDS.contains(word)
}

impl House<'_> {
    /// The ingredient that a language calls so, the house's own first; `called` is a name's
    /// key.
    pub fn ingredient_called(&self, language: &str, called: &str) -> Option<IngredientId> {
        if let Some(own) = self.own_called(language, called) {
            return Some(own);
        }
        let (_, names) = NAMES.iter().find(|(known, _)| *known == language)?;
        self.ingredient_id(names.get(called)?)
    }
}

#[cfg(test)]
mod tests {
    use super::super::declared::Lack;
    use super::super::naming::{slips_in_name, told_by_name};
    use super::*;

    #[test]
    fn each_language_knows_nearly_all_ingredients_by_name() {
        let all = built_in().ingredients().count();
        for (language, names) in NAMES.iter() {
            assert!(names.len() * 10 > all * 9, "{language}: {} of {all}", names.len());
        }
        let rye = built_in().ingredient_called("fr", "flocons de seigle");
        assert_eq!(rye.map(|id| built_in().ingredient(id).name.key.as_str()), Some("rye flakes"));
    }

    /// What the catalogues call an ingredient of the stores, with their languages.
    fn names_of_all(own: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
        NAMES.iter().flat_map(move |(language, names)| {
            let names = names.iter().filter(move |(_, known)| known.as_str() == own);
            names.map(move |(called, _)| (*language, called.as_str()))
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
