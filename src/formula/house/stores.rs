//! The stores that come with the program, written in the language, and the house of them.

use super::registry::House;
use super::texts::{plain, words_of};
use crate::source::{SourceId, Span};
use crate::syntax::read;
use crate::syntax::tree::{self, Name, Tree, Words};
use ecow::EcoString;
use std::sync::OnceLock;

/// A store that comes with the program.
pub struct Store {
    /// Its number among all texts.
    pub id: SourceId,
    /// The name of its file.
    pub name: &'static str,
    /// All of it.
    pub text: &'static str,
}

/// The built-in stores, written in the language.
pub const STORES: [Store; 4] = [
    Store {
        id: SourceId::INGREDIENTS,
        name: "stores/ingredients.dough",
        text: include_str!("../stores/ingredients.dough"),
    },
    Store {
        id: SourceId::CULTURES,
        name: "stores/cultures.dough",
        text: include_str!("../stores/cultures.dough"),
    },
    Store {
        id: SourceId::STYLES,
        name: "stores/styles.dough",
        text: include_str!("../stores/styles.dough"),
    },
    Store {
        id: SourceId::LIMITS,
        name: "stores/limits.dough",
        text: include_str!("../stores/limits.dough"),
    },
];

/// What the stores say, read once.
pub fn stored() -> &'static [Tree] {
    static TREES: OnceLock<Vec<Tree>> = OnceLock::new();
    TREES.get_or_init(|| STORES.iter().map(|store| read(store.id, store.text).0).collect())
}

/// The house that holds only the built-in stores.
pub fn built_in() -> &'static House<'static> {
    static HOUSE: OnceLock<House<'static>> = OnceLock::new();
    HOUSE.get_or_init(|| {
        let trees: Vec<&Tree> = stored().iter().collect();
        House::build(None, &trees, &mut Vec::new())
    })
}

/// An entry of a built-in store.
pub struct Entry {
    /// `ingredients` or `cultures`.
    pub store: &'static str,
    /// As it is shown.
    pub name: EcoString,
    /// Where its numbers are from, where it says so.
    pub source: Option<String>,
}

/// The entry of a built-in store whose name stands at a place.
pub fn entry_at(place: Span) -> Option<Entry> {
    let entry = |store, name: &Name, texts: &[Words]| Entry {
        store,
        name: name.shown.clone(),
        source: words_of(texts, tree::WordsKind::Source).next().map(plain),
    };
    let own = |name: &Name| name.span == place;
    stored().iter().filter(|_| place.source.is_built_in()).find_map(|tree| {
        let ingredient = tree.ingredients.iter().find(|it| own(&it.name));
        let ingredient = ingredient.map(|it| entry("ingredients", &it.name, &it.texts));
        let culture = || tree.cultures.iter().find(|it| own(&it.name));
        ingredient.or_else(|| culture().map(|it| entry("cultures", &it.name, &it.texts)))
    })
}
