//! What the stores' ingredients are called in other languages.
//!
//! The names stand in the catalogues that prints are written with, a line each:
//! `name-rye-flakes = flocons de seigle`.

use super::house::{House, built_in};
use super::{IngredientId, key};
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

const CATALOGUES: [(&str, &str); 4] = [
    ("fr", include_str!("../../templates/words/names.fr.ftl")),
    ("de", include_str!("../../templates/words/names.de.ftl")),
    ("es", include_str!("../../templates/words/names.es.ftl")),
    ("it", include_str!("../../templates/words/names.it.ftl")),
];

type Names = FxHashMap<EcoString, EcoString>;

static NAMES: LazyLock<Vec<(&'static str, Names)>> = LazyLock::new(|| {
    CATALOGUES.iter().map(|(language, catalogue)| (*language, names_of(catalogue))).collect()
});

/// The stores' own names by what they are called in a catalogue.
fn names_of(catalogue: &str) -> Names {
    let slug = |name: &str| name.replace([' ', '\'', '/'], "-");
    let own: FxHashMap<String, &EcoString> =
        built_in().ingredients().map(|known| (slug(&known.name.key), &known.name.key)).collect();
    let lines = catalogue.lines().filter_map(|line| {
        let (name, called) = line.strip_prefix("name-")?.split_once('=')?;
        Some((key(called.trim()), (*own.get(name.trim())?).clone()))
    });
    lines.collect()
}

impl House<'_> {
    /// The ingredient of the stores that a language calls so; `called` is a name's key.
    pub fn ingredient_called(&self, language: &str, called: &str) -> Option<IngredientId> {
        let (_, names) = NAMES.iter().find(|(known, _)| *known == language)?;
        self.ingredient_id(names.get(called)?)
    }
}

#[cfg(test)]
mod tests {
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
}
