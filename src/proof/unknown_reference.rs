//! `unknown-reference`: a bracket that leads to a formula which is not there, or to what only
//! pages have.

use crate::diag::{Finding, Group, Level, Rule, nearest};
use crate::source::Span;

/// `unknown-reference`, a warning about a manuscript.
pub const RULE: Rule = Rule {
    name: "unknown-reference",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("unknown_reference.md"),
};

/// The name of the formula that a bracket leads to: `title of`, `chapter of`, `page of`.
pub fn leads_to(inside: &str) -> Option<(&str, &str)> {
    let (word, name) = inside.split_once(" of ")?;
    let word = word.trim();
    matches!(word, "title" | "chapter" | "page").then_some((word, name.trim()))
}

/// A name that no formula has.
pub fn no_formula<'n>(span: Span, name: &str, names: impl Iterator<Item = &'n str>) -> Finding {
    let finding =
        Finding::new(&RULE, span, format!("this leads nowhere: no formula is called `{name}`"));
    match nearest(name, names) {
        Some(near) => finding.help(format!("write `{near}`")),
        None => finding.help("name a formula of this bakehouse as it is named after `formula`"),
    }
}

/// What a formula has not got, such as a page where nothing is set in pages.
pub fn not_there(span: Span, inside: &str, why: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{inside}` can't be filled in: {why}"))
        .help("it stays as it is written")
}
