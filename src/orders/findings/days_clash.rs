//! `days-clash`: two days want the same machine, boards or hands at a time.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `days-clash`, an error about the day.
pub const RULE: Rule = Rule {
    name: "days-clash",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("days_clash.md"),
};

/// This day and another want so many together of which there are fewer, from a time on.
pub fn finding(span: Span, other: &str, name: &str, wanted: i32, most: i32, time: &str) -> Finding {
    let message = match most {
        1 => format!("this day and `{other}` both want {name} at {time}"),
        most => format!(
            "this day and `{other}` together want {wanted} {name} at {time}, and there are {most}"
        ),
    };
    Finding::new(&RULE, span, message).help(
        "each day is planned as if the house were its own: ask for one of them later, or move work \
            of the other to hours that are free",
    )
}
