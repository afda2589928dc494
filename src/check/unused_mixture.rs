//! `unused-mixture`: a side mix that nothing uses.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{House, names_of_grease, names_used};
use crate::syntax::tree::{Mixture, Name, Tree};

/// `unused-mixture`, a warning about names.
pub const RULE: Rule = Rule {
    name: "unused-mixture",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("unused_mixture.md"),
};

/// Of the mixtures that stand in a formula itself; what it inherits was told of where it
/// stands.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    let Some(own) = context.house.formula(&formula.name.key) else { return };
    // A line that could not be read may be the one that uses it.
    if own.mixtures.is_empty() || formula.broken {
        return;
    }
    let used = names_used(context.house, formula);
    let unused = own.mixtures.iter().filter(|it| !used.contains(&it.name.key.as_str()));
    findings.extend(unused.map(|mixture| told(mixture, "nothing in this formula uses it")));
}

/// Of the mixtures that stand beside the formulas of a house.
pub fn check_house(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let formulas = || trees.iter().flat_map(|tree| &tree.formulas);
    let mixtures = || trees.iter().flat_map(|tree| &tree.mixtures);
    // A file of mixtures alone is for others to use.
    if mixtures().next().is_none() || formulas().next().is_none() {
        return;
    }
    let mut used: Vec<&str> = formulas().flat_map(|it| names_used(house, it)).collect();
    used.extend(names_of_grease(house));
    used.sort_unstable();
    used.dedup();
    let unused = mixtures().filter(|mixture| used.binary_search(&&*mixture.name.key).is_err());
    findings.extend(unused.map(|mixture| told(mixture, "no formula uses it")));
}

fn told(mixture: &Mixture, why: &str) -> Finding {
    let Name { shown, span, .. } = &mixture.name;
    Finding::new(&RULE, *span, format!("`{shown}` is a mixture, but {why}"))
        .about(&mixture.name.key)
        .help(format!(
            "use it, as in `piece {{ {shown} 5 g }}` or `boil 45s in {shown}`, or remove it"
        ))
}
