//! `unknown-allergen`: a `contains` or a `free from` that names no allergen.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::allergens::Allergen;
use crate::syntax::tree::Name;

/// A name of which nothing says what allergen it is.
pub const RULE: Rule = Rule {
    name: "unknown-allergen",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_allergen.md"),
};

/// Of an ingredient: what it contains is then not known.
pub fn finding(name: &Name) -> Finding {
    told(name).note("until it is corrected, it is not known what this ingredient contains")
}

/// Of a claim, of which nothing is then proved.
pub fn claimed(name: &Name, is_ingredient: bool) -> Finding {
    let said = told(name);
    match is_ingredient && said.repair.is_none() {
        true => said.help(format!(
            "`free from` is for allergens; `{0} 0%` claims that the dough holds no {0}, and \
             `{0} in pieces 0 g` that nothing beside it does",
            name.shown
        )),
        false => said.note("nothing is proved by this claim"),
    }
}

fn told(name: &Name) -> Finding {
    let message = match name.shown.trim().is_empty() {
        true => "no allergen is named here".to_owned(),
        false => format!("`{}` is not a known allergen", name.shown),
    };
    let said = Finding::new(&RULE, name.span, message);
    match Allergen::near(&name.key) {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help(
            "name an allergen: wheat, rye, barley, oats, milk, eggs, soybeans, peanuts, a nut \
             by its kind, sesame, celery, mustard, lupin, sulphites, fish, crustaceans, molluscs",
        ),
    }
}
