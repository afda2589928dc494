//! `unknown-class`: a class that an ingredient can not have.

use crate::diag::nearest;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::class::Class;
use crate::syntax::tree::Name;

pub const RULE: Rule = Rule {
    name: "unknown-class",
    level: Level::Error,
    group: Group::Names,
    page: include_str!("unknown_class.md"),
};

pub fn finding(name: &Name) -> Finding {
    let classes = Class::ALL.iter().map(|(word, _)| *word);
    let all: Vec<&str> = classes.clone().collect();
    let said =
        Finding::new(&RULE, name.span, format!("`{}` is not a class of ingredient", name.shown))
            .note(format!("the classes are {}", all.join(", ")));
    match nearest(&name.key, classes) {
        Some(near) => said.help(format!("did you mean `{near}`?")).repair(name.span, near, false),
        None => said.help("write the class that says how it counts; `other` if none fits"),
    }
}

/// An ingredient that does not say how it counts.
pub fn missing(name: &Name) -> Finding {
    Finding::new(&RULE, name.span, format!("how `{}` counts is not said", name.shown)).help(format!(
        "write its class, `ingredient {} is a flour {{ … }}`, or what it is like: `like bread flour`",
        name.shown
    ))
}
