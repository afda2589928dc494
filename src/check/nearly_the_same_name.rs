//! `nearly-the-same-name`: two names so close that one may be a slip.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::House;
use crate::syntax::tree::{Name, Tree};
use ecow::EcoString;

/// `nearly-the-same-name`, a warning about names.
pub const RULE: Rule = Rule {
    name: "nearly-the-same-name",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("nearly_the_same_name.md"),
};

/// Adds what it finds in the files of a house to `findings`.
pub fn check(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let own: Vec<&Name> = trees
        .iter()
        .flat_map(|tree| {
            let ingredients = tree.ingredients.iter().map(|ingredient| &ingredient.name);
            ingredients.chain(tree.cultures.iter().map(|culture| &culture.name))
        })
        .collect();
    for (index, name) in own.iter().enumerate() {
        let earlier = own[..index].iter().map(|name| name.key.as_str());
        let stores = house.names_in_stores().map(EcoString::as_str);
        let mut known = earlier.chain(stores);
        if let Some(other) = known.find(|other| nearly(&name.key, other)) {
            findings.push(
                Finding::new(
                    &RULE,
                    name.span,
                    format!("`{}` is nearly the same name as `{other}`", name.shown),
                )
                .help("use one name if they are one thing, or names that are hard to confuse"),
            );
        }
    }
}

/// One slip apart; names that differ in digits (`T55`, `T65`) are meant to.
fn nearly(one: &str, two: &str) -> bool {
    if one == two || one.len().abs_diff(two.len()) > 1 || one.len() < 5 {
        return false;
    }
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    digits(one) == digits(two) && strsim::damerau_levenshtein(one, two) == 1
}
