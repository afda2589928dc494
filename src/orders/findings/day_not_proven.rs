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
        late if least == 0 => format!(
            "the loads of the day are {} late, added up, and nothing proves that any of it is needed",
            minutes(late)
        ),
        late => format!(
            "the loads of the day are {} late, added up; at least {} of it can't be avoided",
            minutes(late),
            minutes(least)
        ),
    };
    Finding::new(&RULE, span, message)
}
