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

/// So late, where no day is known to be less late than that; or in time, and done at a time.
pub fn finding(span: Span, late: i64, least: i64) -> Finding {
    let minutes = |minutes: i64| crate::quantity::display::minutes(&minutes.into());
    let message = match late {
        0 => "another day may be done earlier: this is the best that was found".to_owned(),
        late => format!(
            "the day is {} late in all, and no day is known to be less than {} late",
            minutes(late),
            minutes(least)
        ),
    };
    Finding::new(&RULE, span, message)
}
