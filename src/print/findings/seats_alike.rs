//! `seats-alike`: seats that share the numbers of an exercise.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `seats-alike`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "seats-alike",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("seats_alike.md"),
};

/// How many sets of numbers an exercise has, for more seats than that.
pub fn finding(span: Span, exercise: &str, sets: usize, seats: usize) -> Finding {
    let plural = if sets == 1 { "" } else { "s" };
    let said = format!(
        "`{exercise}` has {sets} set{plural} of numbers for {seats} seats, so some seats share theirs"
    );
    Finding::new(&RULE, span, said).help(
        "give fewer seats in `variants`, or use a formula or an exercise with more to draw from",
    )
}
