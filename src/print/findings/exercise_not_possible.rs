//! `exercise-not-possible`: an exercise that can't be made of its formula.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `exercise-not-possible`, an error about booklets.
pub const RULE: Rule = Rule {
    name: "exercise-not-possible",
    level: Level::Error,
    group: Group::Sums,
    page: include_str!("exercise_not_possible.md"),
};

/// What keeps an exercise from being made.
pub fn finding(span: Span, exercise: &str, why: &str) -> Finding {
    let said = format!("there is no exercise `{exercise}` in this formula: {why}");
    Finding::new(&RULE, span, said).help("take another formula, or another exercise")
}
