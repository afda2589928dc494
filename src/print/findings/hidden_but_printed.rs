//! `hidden-but-printed`: a worksheet whose answers stand on another page.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `hidden-but-printed`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "hidden-but-printed",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("hidden_but_printed.md"),
};

/// A slip to find, whose right number another part of the learner's copy prints.
pub fn of_slip(span: Span, formula: &str, other: Span) -> Finding {
    let said =
        format!("the learner's copy also prints `{formula}`, with the number that is to be found");
    Finding::new(&RULE, span, said)
        .label(other, "printed here")
        .help("put that page into `teacher { … }`, or use another formula for one of the two")
}

/// What a worksheet hides and an exercise of the learner's copy prints: `blank` is one of it.
pub fn by_exercise(span: Span, blank: &str, exercise: Span) -> Finding {
    let said = format!("an exercise of the learner's copy prints `{blank}`, which is hidden here");
    Finding::new(&RULE, span, said).label(exercise, "printed here").help(
        "hide something else, hide it for another yield, or take another formula for the exercise",
    )
}

/// What a worksheet hides and another part of the learner's copy prints; `in_any_yield` where
/// percentages are hidden, which a print for another yield has too.
pub fn finding(span: Span, formula: &str, other: Span, in_any_yield: bool) -> Finding {
    let said = format!("the learner's copy also prints `{formula}`, with what is hidden here");
    Finding::new(&RULE, span, said).label(other, "printed here").help(match in_any_yield {
        true => "put that page into `teacher { … }`, or use another formula for one of the two",
        false => "put that page into `teacher { … }`, or print it for another yield",
    })
}
