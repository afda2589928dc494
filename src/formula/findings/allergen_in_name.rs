//! `allergen-in-name`: an ingredient is called by an allergen that it does not contain.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::allergens::{Allergen, Allergens};
use crate::syntax::key_of;
use crate::syntax::tree::Name;

/// `allergen-in-name`, an error about claims.
pub const RULE: Rule = Rule {
    name: "allergen-in-name",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("allergen_in_name.md"),
};

/// `word` stands in the name, and tells what is not declared.
pub fn finding(name: &Name, word: &str, missing: Allergens) -> Finding {
    let what = listed(missing);
    let is_whole = key_of(word) == name.key;
    let message = match is_whole {
        true if Allergen::read(word).is_some() => format!(
            "`{}` is the name of an allergen, but it does not say that it contains it",
            name.shown
        ),
        true => format!("what is called `{}` contains {what}, but it does not say so", name.shown),
        false => format!(
            "`{}` has `{word}` in its name, but does not say that it contains {what}",
            name.shown
        ),
    };
    counts(name, message, &what)
}

/// A declaration of a built-in name that says less than the built-in one.
pub fn replaced(name: &Name, missing: Allergens) -> Finding {
    let what = listed(missing);
    let message = format!(
        "`{}` takes the name of a food that contains {what}, but does not say that it contains it",
        name.shown
    );
    counts(name, message, &what)
}

/// The name says that something is not in it which is.
pub fn denied(name: &Name, holds: Allergen) -> Finding {
    let message =
        format!("`{}` says that there is no {} in it, but it contains it", name.shown, holds.key());
    Finding::new(&RULE, name.span, message)
        .note("its name is printed on every list")
        .help("give it the name of what it really is, or correct what it contains")
}

fn counts(name: &Name, message: String, what: &str) -> Finding {
    Finding::new(&RULE, name.span, message)
        .note(format!("until it is corrected, it counts as containing {what}"))
        .help(format!("say `contains {what}`, or give it the name of what it really is"))
}

/// `given` is a word of what animals give.
pub fn of_animal(name: &Name, word: &str, given: &str) -> Finding {
    let message = format!(
        "`{}` has `{word}` in its name, but does not say that it is from an animal",
        name.shown
    );
    Finding::new(&RULE, name.span, message)
        .note(format!("until it is corrected, it counts as `animal {given}`"))
        .help(format!("say `animal {given}`, or give it the name of what it really is"))
}

fn listed(allergens: Allergens) -> String {
    allergens.iter().map(Allergen::key).collect::<Vec<_>>().join(", ")
}
