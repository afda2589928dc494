//! `contains-doubtful`: what an ingredient says that it contains does not agree with the
//! rest of its declaration.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::allergens::Allergen;
use crate::formula::declared::Lack;
use crate::formula::kinds::{ANIMALS, bit};
use crate::syntax::tree::{self, Name};

/// `contains-doubtful`, an error about claims.
pub const RULE: Rule = Rule {
    name: "contains-doubtful",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("contains_doubtful.md"),
};

/// What else tells that an ingredient contains something.
pub enum Ground<'a> {
    /// The ingredient that it is like.
    Like(&'a Name),
    /// The built-in ingredient whose name it takes, which contains it.
    BuiltIn,
    /// The same, which may contain it.
    BuiltInMay,
    /// Its class.
    Class(&'a str),
    /// A word of its name, which usually means that.
    Usual(&'a str),
    /// A word of its name, which may be another misspelt.
    Slip(&'a str, &'a str),
    /// A text of its own: `caution`.
    Text(&'a str),
}

/// The same of allergens and of what animals gave, each where there is some.
pub fn findings(declared: &tree::Ingredient, ground: &Ground, lack: Lack) -> Vec<Finding> {
    let name = &declared.name;
    let mut found = Vec::new();
    if !lack.allergens.is_empty() {
        let names: Vec<&str> = lack.allergens.iter().map(Allergen::key).collect();
        let (what, list) = (in_words(&names), names.join(", "));
        let is_bare = declared.contains.as_ref().is_some_and(Vec::is_empty);
        let said = match is_bare {
            true => format!("`{}` says that it contains nothing", name.shown),
            false => format!("`{}` does not speak of {what}", name.shown),
        };
        let message = format!("{said}, but {}", because(name, ground, &what));
        let told = told(name, ground, message, &what, is_bare);
        found.push(told.help(format!(
            "say `contains {list}`; or, where it holds none, what shows it: `free from {list} \
             \"the supplier's sheet of 3 March\"`{}",
            or_rename(ground)
        )));
    }
    if let Some(what) = animals(lack.animals) {
        let message = format!(
            "`{}` does not say that it is from an animal, but {}",
            name.shown,
            because(name, ground, &what)
        );
        let is_bare = declared.animal.as_ref().is_some_and(Vec::is_empty);
        let told = told(name, ground, message, &what, is_bare);
        found.push(told.help(format!(
            "say `animal {what}`; or, where no animal gave any, what shows it: `free from \
             {what} \"the supplier's sheet of 3 March\"`"
        )));
    }
    found
}

fn told(name: &Name, ground: &Ground, message: String, what: &str, is_bare: bool) -> Finding {
    let is_counted = matches!(ground, Ground::Like(_));
    let note = match is_counted {
        true => format!("until it is corrected, it counts as containing {what}"),
        false => format!("until it is answered, it is not known whether it contains {what}"),
    };
    // Whoever lists what is in it has read a packet.
    let is_mild =
        !is_bare && matches!(ground, Ground::Usual(_) | Ground::Slip(..) | Ground::Class(_));
    let level = if is_mild { Level::Warning } else { Level::Error };
    Finding::new(&RULE, name.span, message).level(level).note(note)
}

fn because(name: &Name, ground: &Ground, what: &str) -> String {
    match ground {
        Ground::Like(model) => format!("it is like `{}`, which contains {what}", model.shown),
        Ground::BuiltIn => format!("the built-in `{}` has {what} in it", name.shown),
        Ground::BuiltInMay => format!("the built-in `{}` may contain {what}", name.shown),
        Ground::Class("egg") => "it is declared as egg".to_owned(),
        Ground::Class(class @ ("flour" | "grain" | "malt")) => {
            format!("it is a {class}, and does not say of which cereal")
        }
        Ground::Class(class) => format!("it is declared as {class}"),
        Ground::Usual(word) => format!("`{word}` usually has {what} in it"),
        Ground::Slip(word, meant) => {
            format!("`{word}` reads like `{meant}`, which has {what} in it")
        }
        Ground::Text(kind) => format!("its own `{kind}` speaks of {what}"),
    }
}

fn or_rename(ground: &Ground) -> &'static str {
    match ground {
        Ground::Slip(..) => "; or write the name so that nobody misreads it",
        Ground::Class(_) => "; or give it the class of what it is",
        _ => "",
    }
}

/// Says that it contains what it says that it is free from.
pub fn both(name: &Name, listed: &Name) -> Finding {
    let message = format!(
        "`{}` says that it contains {} and that it is free from it",
        name.shown, listed.shown
    );
    Finding::new(&RULE, listed.span, message)
        .note(format!("until it is corrected, it counts as containing {}", listed.shown))
        .help("keep the one that the packet says")
}

/// `milk, eggs and nuts`.
fn in_words(names: &[&str]) -> String {
    match names {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => names.join(""),
    }
}

fn animals(given: u8) -> Option<String> {
    let all = ANIMALS.iter().filter(|word| given & bit(word) != 0).copied();
    let all: Vec<&str> = all.collect();
    (!all.is_empty()).then(|| all.join(", "))
}
