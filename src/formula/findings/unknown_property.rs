//! `unknown-property`: a property that an ingredient does not have.

use crate::diag::nearest;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Nutrient;
use crate::syntax::tree::Name;

/// `unknown-property`, an error about names.
pub const RULE: Rule = Rule {
    name: "unknown-property",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_property.md"),
};

/// The finding for a word that is no property.
pub fn finding(name: &Name) -> Finding {
    let words = Nutrient::ALL.iter().map(|(word, _)| *word);
    let said = Finding::new(
        &RULE,
        name.span,
        format!("`{}` is not something that is stated of an ingredient", name.shown),
    );
    match nearest(&name.key, words) {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help(
            "composition is per 100 g: water, protein, fat, carbohydrate, sugars, fibre in %, \
             sodium in mg, energy in kcal",
        ),
    }
}
