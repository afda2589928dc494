//! What a print says of allergens.

use crate::formula::{Allergen, Allergens, Declared};
use crate::print::context::PrintContext;

/// What a print says of allergens.
pub(super) struct AllergenParts {
    /// What it contains, in the words of the print.
    pub(super) contains: Vec<String>,
    /// The same by their keys, in the same order.
    pub(super) contains_keys: Vec<String>,
    /// What it may contain.
    pub(super) may_contain: Vec<String>,
    /// The same by their keys, in the same order.
    pub(super) may_contain_keys: Vec<String>,
    /// Ingredients of which nothing says what they contain.
    pub(super) unknown: Vec<String>,
}

impl PrintContext<'_, '_> {
    /// What the formula contains and may contain, in the print's language.
    pub(super) fn allergens(&self) -> AllergenParts {
        let all = self.worked.ingredients();
        let union = |of: fn(&Declared) -> Allergens| {
            all.iter().fold(Allergens::NONE, |sum, ingredient| sum.with(of(&ingredient.declared)))
        };
        let named = union(|declared| declared.named);
        let may = union(|declared| declared.may.with(declared.open)).without(named.widened());
        let said = |allergens: Allergens| {
            let keys = allergens.to_print().map(Allergen::key);
            let name = |key| self.words.name("allergen", key).unwrap_or_else(|| key.to_owned());
            let mut names: Vec<(String, String)> =
                keys.map(|key| (name(key), key.to_owned())).collect();
            names.sort();
            names.dedup_by(|one, two| one.0 == two.0);
            names.into_iter().unzip::<_, _, Vec<String>, Vec<String>>()
        };
        let unknown = all.iter().filter(|ingredient| !ingredient.declared.is_complete);
        let unknown = unknown.map(|it| self.called(&it.name.key, &it.name.shown));
        let nameless = self.worked.nameless().into_iter().map(String::from);
        let unknown = unknown.chain(nameless).collect();
        let (contains, contains_keys) = said(named);
        let (may_contain, may_contain_keys) = said(may);
        AllergenParts { contains, contains_keys, may_contain, may_contain_keys, unknown }
    }
}
