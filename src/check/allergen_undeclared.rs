//! `allergen-undeclared`: ingredients that do not say what they contain.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::House;
use crate::syntax::tree::{IngredientKind, Name, Tree};

/// `allergen-undeclared`, a warning about claims.
pub const RULE: Rule = Rule {
    name: "allergen-undeclared",
    level: Level::Warning,
    group: Group::Claims,
    page: include_str!("allergen_undeclared.md"),
};

/// One finding for all of them. What is like another is told of by that one.
pub fn check(_: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let own = trees.iter().flat_map(|tree| &tree.ingredients);
    let silent =
        own.filter(|it| it.contains.is_none() && !matches!(it.kind, Some(IngredientKind::Like(_))));
    let names: Vec<&Name> = silent.map(|ingredient| &ingredient.name).collect();
    let Some(first) = names.first() else { return };
    let mut list = names.iter().map(|name| format!("`{}`", name.shown)).collect::<Vec<_>>();
    list.dedup();
    let message = match list.as_slice() {
        [one] => format!("{one} does not say which allergens it contains"),
        all => format!("these do not say which allergens they contain: {}", all.join(", ")),
    };
    findings.push(
        Finding::new(&RULE, first.span, message)
            .note("what is not stated is not known: no `free from` claim can be proved with it")
            .help("say `contains wheat`, or whatever it is, and `contains nothing` where the maker confirms it"),
    );
}
