//! `yield-unclear`: a text of a booklet that does not say for how much it asks.

use crate::check::UNKNOWN_FIGURE;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `yield-unclear`, an error about booklets.
pub const RULE: Rule = Rule {
    name: "yield-unclear",
    level: Level::Error,
    group: Group::Text,
    page: include_str!("yield_unclear.md"),
};

/// A formula that the booklet prints for several yields.
pub fn several(span: Span, words: &str, formula: &str) -> Finding {
    let said = format!("`[{words}]` does not say for which yield of `{formula}` it is");
    Finding::new(&RULE, span, said)
        .note("the booklet prints that formula for yields that differ")
        .help(format!("say it in the bracket: `[{words} for 5 loaves]`"))
}

/// `for everyone` in a booklet that does not say how many people there are.
pub fn everyone(span: Span) -> Finding {
    Finding::new(&RULE, span, "nothing says how many people `for everyone` is for")
        .help("add a line to the booklet: `for 12 people`")
}

/// A bracket that names no formula: one like the name after its last `of`, and one of the
/// booklet's.
pub fn of_no_formula(span: Span, words: &str, near: Option<&str>, own: &str) -> Finding {
    let said = format!("`[{words}]` does not say which formula it is about");
    let finding = Finding::new(&UNKNOWN_FIGURE, span, said);
    match near.zip(words.rsplit_once(" of ")) {
        Some((near, (before, _))) => finding.help(format!("did you mean `[{before} of {near}]`?")),
        None => {
            finding.help(format!("a booklet has no figures of its own: write `[{words} of {own}]`"))
        }
    }
}

/// A bracket about something that the formula does not have.
pub fn no_figure(span: Span, words: &str, formula: &str) -> Finding {
    Finding::new(&UNKNOWN_FIGURE, span, format!("`{formula}` has no figure for `[{words}]`"))
        .help("ask for a figure, an ingredient or a stage of it, `in` a mix if need be")
}
