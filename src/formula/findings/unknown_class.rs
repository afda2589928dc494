//! `unknown-class`: a class that an ingredient can not have.

use crate::diag::nearest;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::syntax::tree::Name;

/// `unknown-class`, an error about names.
pub const RULE: Rule = Rule {
    name: "unknown-class",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_class.md"),
};

/// The finding for a word that is no class.
pub fn finding(name: &Name) -> Finding {
    let classes = Class::ALL.iter().map(|(word, _)| *word);
    let all: Vec<&str> = classes.clone().collect();
    let said =
        Finding::new(&RULE, name.span, format!("`{}` is not a class of ingredient", name.shown))
            .note(format!("the classes are {}", all.join(", ")));
    let last = name.key.rsplit(' ').next().unwrap_or_default();
    match nearest(&name.key, classes).or_else(|| Class::read(last).map(Class::word)) {
        Some(near) if *near == *last => said
            .help(format!("write the class alone: `is {}`", with_article(near)))
            .repair(name.span, near, false),
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help("write the class that says how it counts; `other` if none fits"),
    }
}

/// An ingredient that does not say how it counts.
///
/// `known` is the ingredient of the stores that it replaces, where there is one.
pub fn missing(name: &Name, known: Option<Class>) -> Finding {
    let shown = &name.shown;
    let told = name.key.rsplit(' ').next().and_then(Class::read);
    let said = Finding::new(&RULE, name.span, format!("nothing says how `{shown}` counts"));
    said.help(match known {
        Some(class) => format!(
            "it replaces the one that is built in: write `ingredient {shown} is {} {{ … }}`, or a \
             name of your own and `like {shown}`",
            with_article(class.word())
        ),
        None if told.is_some() => format!(
            "write its class, most likely `ingredient {shown} is {} {{ … }}`, or what it is like: \
             `like bread flour`",
            with_article(told.map_or("", Class::word))
        ),
        None => format!(
            "write its class, `ingredient {shown} is a CLASS {{ … }}` (flour, egg, dairy, …), or what \
             it is like: `like bread flour`"
        ),
    })
}

fn with_article(class: &str) -> String {
    let vowel = class.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {class}", if vowel { "an" } else { "a" })
}
