//! `allergen-in-name`: an ingredient is called by an allergen that it does not contain.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::allergens::Allergen;
use crate::syntax::tree::Name;

pub const RULE: Rule = Rule {
    name: "allergen-in-name",
    level: Level::Warning,
    group: Group::Claims,
    page: include_str!("allergen_in_name.md"),
};

pub fn finding(name: &Name, allergen: Allergen) -> Finding {
    let key = allergen.key();
    Finding::new(
        &RULE,
        name.span,
        format!(
            "`{}` is the name of an allergen, but it does not say that it contains it",
            name.shown
        ),
    )
    .note(format!("until it is corrected, it counts as containing {key}"))
    .help(format!("say `contains {key}`, or give it the name of what it really is"))
}
