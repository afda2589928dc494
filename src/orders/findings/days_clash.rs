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
    Finding::new(&RULE, span, message)
        .note(format!("`{other}` was planned first, and this day around it, which makes it worse"))
        .help("ask for one of the days later, bake less, or move work of the other to free hours")
}
