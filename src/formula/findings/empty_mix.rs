//! A mix with nothing in it.

use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Name;

/// `empty-mix`, an error about sums.
pub const RULE: Rule = Rule {
    name: "empty-mix",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("empty_mix.md"),
};

/// A stage without lines, of whose name the house has no shared one; it has these.
pub fn stage(name: &Name, shared: &[&str]) -> Finding {
    let said = format!(
        "no shared stage is called `{}`, and this one does not say what it is made of",
        name.shown
    );
    let named: Vec<String> = shared.iter().take(MAX_NAMED).map(|it| format!("`{it}`")).collect();
    let more = if shared.len() > MAX_NAMED { " and others" } else { "" };
    Finding::new(&RULE, name.span, said).about(&name.key).help(format!(
        "the shared stages here are {}{more}: write one of them, or what this one is made of, a \
         line each",
        named.join(", ")
    ))
}

/// The most shared stages that are named.
const MAX_NAMED: usize = 5;

/// A mix with nothing in it.
pub fn empty(name: &Name) -> Finding {
    Finding::new(&RULE, name.span, format!("there is nothing in `{}`", name.shown))
        .help("write what it is made of, a line each, as in `{ bread flour 100%; water 100% }`")
}
