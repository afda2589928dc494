//! Rules over a whole bakehouse: `allergen-undeclared`, `nearly-the-same-name`,
//! `unused-style`.

use super::{composition_impossible, no_effect, price_doubtful, unused_mixture};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{House, built_in};
use crate::quantity::Range;
use crate::syntax::tree::{Kind, Name, Quantity, Tree};

/// Ingredients that do not say what they contain.
pub const ALLERGEN_UNDECLARED: Rule = Rule {
    name: "allergen-undeclared",
    level: Level::Warning,
    group: Group::Claims,
    page: include_str!("allergen_undeclared.md"),
};

/// Two names so close that one may be a slip.
pub const NEARLY_THE_SAME_NAME: Rule = Rule {
    name: "nearly-the-same-name",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("nearly_the_same_name.md"),
};

/// A house style that no formula names.
pub const UNUSED_STYLE: Rule = Rule {
    name: "unused-style",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("unused_style.md"),
};

/// Checks what a house declares; `whole` says whether these are all of its files.
pub fn check_house(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    similar_names(house, trees, findings);
    undeclared(trees, findings);
    unused_mixture::check_house(house, trees, findings);
    for ingredient in trees.iter().flat_map(|tree| &tree.ingredients) {
        composition_impossible::check(house, ingredient, findings);
    }
    price_doubtful::check(house, trees, findings);
    no_effect::check_house(house, trees, findings);
    if house.settings.declared {
        unused_styles(house, trees, findings);
    }
}

/// A bound of the stores, in base units.
pub fn bound(style: &str, figure: &str) -> Option<Range> {
    let style = built_in().style(style)?;
    let bound = style.bounds.iter().find(|bound| bound.what.name.key == figure)?;
    let base = |end: &Option<Quantity>| end.as_ref().map(|end| built_in().base(end));
    Some(Range { low: base(&bound.range.low), high: base(&bound.range.high) })
}

fn similar_names(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let own: Vec<&Name> = trees
        .iter()
        .flat_map(|tree| {
            let ingredients = tree.ingredients.iter().map(|ingredient| &ingredient.name);
            ingredients.chain(tree.cultures.iter().map(|culture| &culture.name))
        })
        .collect();
    for (index, name) in own.iter().enumerate() {
        let earlier = own[..index].iter().map(|name| name.key.as_str());
        let stores = house.ingredients().filter(|ingredient| ingredient.built_in);
        let mut known = earlier.chain(stores.map(|ingredient| ingredient.name.key.as_str()));
        if let Some(other) = known.find(|other| nearly(&name.key, other)) {
            findings.push(
                Finding::new(
                    &NEARLY_THE_SAME_NAME,
                    name.span,
                    format!("`{}` is nearly the same name as `{other}`", name.shown),
                )
                .help("use one name if they are one thing, or names that no tired eye mixes up"),
            );
        }
    }
}

/// One finding for all of them. What is like another is told of by that one.
fn undeclared(trees: &[&Tree], findings: &mut Vec<Finding>) {
    let own = trees.iter().flat_map(|tree| &tree.ingredients);
    let silent = own.filter(|it| it.contains.is_none() && !matches!(it.kind, Some(Kind::Like(_))));
    let names: Vec<&Name> = silent.map(|ingredient| &ingredient.name).collect();
    let Some(first) = names.first() else { return };
    let mut list = names.iter().map(|name| format!("`{}`", name.shown)).collect::<Vec<_>>();
    list.dedup();
    let message = match list.as_slice() {
        [one] => format!("{one} does not say which allergens it contains"),
        all => format!("these do not say which allergens they contain: {}", all.join(", ")),
    };
    findings.push(
        Finding::new(&ALLERGEN_UNDECLARED, first.span, message)
            .note("what is not said is not known: no claim to be free from something holds over it")
            .help("say `contains wheat`, or whatever it is, and `contains nothing` where the maker confirms it"),
    );
}

/// One slip apart; names that differ in digits (`T55`, `T65`) are meant to.
fn nearly(one: &str, two: &str) -> bool {
    if one == two || one.len().abs_diff(two.len()) > 1 || one.len() < 5 {
        return false;
    }
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    digits(one) == digits(two) && strsim::damerau_levenshtein(one, two) == 1
}

fn unused_styles(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    for style in house.own_styles() {
        let named = trees
            .iter()
            .flat_map(|tree| &tree.formulas)
            .any(|formula| formula.style.as_ref().is_some_and(|named| named.key == style.name.key));
        if !named {
            findings.push(
                Finding::new(
                    &UNUSED_STYLE,
                    style.name.span,
                    format!("no formula names the style `{}`", style.name.shown),
                )
                .help(format!("write `style {}` in a formula, or remove it", style.name.shown)),
            );
        }
    }
}
