//! A spoon or a cup that is heaped, rounded or scant, which is no measure.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `measure-unclear`, a warning about what a file says.
pub const RULE: Rule = Rule {
    name: "measure-unclear",
    level: Level::Warning,
    group: Group::Parse,
    page: include_str!("measure_unclear.md"),
};

/// `2 heaped tsp`; `level` is what it is counted as.
pub fn finding(span: Span, written: &str, how: &str, level: &str) -> Finding {
    Finding::new(&RULE, span, format!("nobody can say how much {} is", quoted(written)))
        .note(match ["scant", "knapp", "petite"].iter().any(|little| how.contains(little)) {
            true => format!("it is counted as full: `{level}`; a scant one holds a little less"),
            false => format!(
                "it is counted as level: `{level}`; a heaped spoon holds up to twice as much"
            ),
        })
        .help(format!("write a weight, or level measures without `{how}`"))
}
