//! The house of the built-in stores.

use super::drawers::{STORES, drawers};
use super::registry::House;
use super::texts::{plain, words_of};
use crate::source::Span;
use crate::syntax::read;
use crate::syntax::tree::{self, Name, NotedText, Tree};
use ecow::EcoString;
use std::sync::LazyLock;

/// What the stores say, all of it: for a reference, not for a run that needs little of it.
pub fn stored() -> &'static [Tree] {
    static TREES: LazyLock<Vec<Tree>> =
        LazyLock::new(|| STORES.iter().map(|store| read(store.id, store.text).0).collect());
    &TREES
}

/// The house that holds only the built-in stores. Its names are all known; what they stand
/// for is read when it is first asked for.
pub fn built_in() -> &'static House<'static> {
    static HOUSE: LazyLock<House<'static>> = LazyLock::new(|| House::of_drawers(drawers()));
    &HOUSE
}

/// An entry of a built-in store.
pub struct StoreEntry {
    /// `ingredients` or `cultures`.
    pub store: &'static str,
    /// As it is shown.
    pub name: EcoString,
    /// Where its numbers are from, where it says so.
    pub source: Option<String>,
}

/// The entry of a built-in store whose name stands at a place.
pub fn entry_at(place: Span) -> Option<StoreEntry> {
    let entry = |store, name: &Name, texts: &[NotedText]| StoreEntry {
        store,
        name: name.shown.clone(),
        source: words_of(texts, tree::WordsKind::Source).next().map(plain),
    };
    let own = |name: &Name| name.span == place;
    let mut all = drawers().ingredients.iter().chain(&drawers().cultures);
    let tree = all.find(|drawer| drawer.holds(place))?.read();
    let ingredient = tree.ingredients.iter().find(|it| own(&it.name));
    let ingredient = ingredient.map(|it| entry("ingredients", &it.name, &it.texts));
    let culture = || tree.cultures.iter().find(|it| own(&it.name));
    ingredient.or_else(|| culture().map(|it| entry("cultures", &it.name, &it.texts)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::house::drawers::limit;
    use crate::quantity::Measures;

    /// What is read piece by piece is what the stores say, place by place, and nothing in
    /// them is wrong.
    #[test]
    fn the_drawers_hold_what_the_stores_say() {
        let read = STORES.iter().map(|store| read(store.id, store.text));
        let (trees, findings): (Vec<Tree>, Vec<_>) = read.unzip();
        assert!(findings.iter().all(Vec::is_empty), "{findings:?}");
        let trees: Vec<&Tree> = trees.iter().collect();
        let mut findings = Vec::new();
        let whole = House::build(None, &trees, &mut findings);
        assert!(findings.is_empty(), "{findings:?}");
        let drawn = built_in();
        assert!(drawn.ingredient_names == whole.ingredient_names, "other names");
        assert!(drawn.first_words == whole.first_words, "other first words");
        assert_eq!(drawn.called_names, whole.called_names);
        assert_eq!(drawn.culture_names, whole.culture_names);
        let text = |it: &dyn std::fmt::Debug| format!("{it:?}");
        for (one, other) in drawn.ingredients().zip(whole.ingredients()) {
            assert_eq!(text(one), text(other));
        }
        for name in whole.culture_names.keys() {
            assert_eq!(text(&drawn.culture_named(name)), text(&whole.culture_named(name)));
        }
        let styles: Vec<_> = whole.own_styles().collect();
        assert_eq!(styles.len(), drawn.own_styles().count());
        for style in styles {
            assert_eq!(text(&drawn.style(&style.name.key)), text(&Some(style)));
        }
    }

    /// Nobody's cups and spoons count in a bound of the stores.
    #[test]
    fn the_bounds_of_the_stores_are_the_same_in_all_measures() {
        let mut bounds = 0;
        for bound in built_in().own_styles().flat_map(|style| &style.bounds) {
            for end in bound.range.low.iter().chain(&bound.range.high) {
                let base = |measures| end.unit.to_base(&end.number, measures);
                let (metric, us) = (base(Measures::Metric), base(Measures::Us));
                assert_eq!(metric, us, "{}", bound.what.name.shown);
                bounds += 1;
            }
        }
        assert!(bounds > 100);
        assert!(limit("habit of temperatures", "cold").is_some());
    }
}
