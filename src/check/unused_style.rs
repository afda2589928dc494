//! `unused-style`: a style of the house that no formula names.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::House;
use crate::syntax::tree::Tree;

/// `unused-style`, a warning about names.
pub const RULE: Rule = Rule {
    name: "unused-style",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("unused_style.md"),
};

/// Adds what it finds in the files of a house to `findings`.
pub fn check(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    // A file that stands alone may be for others.
    if !house.settings.declared {
        return;
    }
    for style in house.own_styles() {
        let named = trees
            .iter()
            .flat_map(|tree| &tree.formulas)
            .any(|formula| formula.style.as_ref().is_some_and(|named| named.key == style.name.key));
        if !named {
            findings.push(
                Finding::new(
                    &RULE,
                    style.name.span,
                    format!("no formula names the style `{}`", style.name.shown),
                )
                .help(format!("write `style {}` in a formula, or remove it", style.name.shown)),
            );
        }
    }
}
