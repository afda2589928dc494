//! `day-not-proven`: a day that may not be the best there is.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `day-not-proven`, a note about the day.
pub const RULE: Rule = Rule {
    name: "day-not-proven",
    level: Level::Note,
    group: Group::Method,
    page: include_str!("day_not_proven.md"),
};

/// The latest order is so late, and whether some lateness can't be avoided; or all is in time.
pub fn finding(span: Span, worst: i64, is_needed: bool) -> Finding {
    let late = crate::quantity::display::minutes(&worst.into());
    let message = match (worst, is_needed) {
        (0, _) => "another plan may finish earlier: this is the best that was found".to_owned(),
        (_, false) => format!(
            "the latest order is {late} late, but it is not proven that anything has to be late"
        ),
        (_, true) => format!(
            "the latest order is {late} late; something has to be late, but perhaps less than that"
        ),
    };
    Finding::new(&RULE, span, message)
}
