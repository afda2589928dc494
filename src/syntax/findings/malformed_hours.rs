//! Hours of the day and days of the week that can't be read.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `malformed-hours`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "malformed-hours",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("malformed_hours.md"),
};

/// A number that no clock shows; `meant` is the time that it is elsewhere.
pub fn no_time_of_day(span: Span, written: &str, meant: Option<String>) -> Finding {
    let message = match written.trim() {
        "" => "a time of day is missing".to_owned(),
        written => format!("{} is not a time of day", quoted(written)),
    };
    let finding = Finding::new(&RULE, span, message);
    match meant {
        Some(meant) => {
            let midnight = match meant.as_str() {
                "00:00" => "; the midnight that the day ends with is `24:00`",
                _ => "",
            };
            finding.help(format!("write `{meant}`{midnight}")).repair(span, meant, false)
        }
        None => finding.help("a time of day is written `03:30`, at most `24:00`"),
    }
}

/// A word that is no day of the week.
pub fn no_weekday(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a weekday", quoted(written)))
        .help("weekdays are `monday` to `sunday`, or `mon` to `sun`")
}

/// A date that no calendar has.
pub fn no_date(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} is not a day of the calendar", quoted(written)))
        .help("a date is written year, month, day: `2026-02-28`")
}

/// Hours whose days can't be read.
pub fn some_weekdays(span: Span) -> Finding {
    Finding::new(&RULE, span, "the hours before this weekday don't say which days they are for")
        .help("write `mon..fri 06:00..22:00, sat, sun 08:00..23:00`")
}

/// A statement of hours that lacks one of its ends.
pub fn hours(span: Span) -> Finding {
    Finding::new(&RULE, span, "the end of these hours is missing")
        .help("hours are written `03:30..13:00`; they may pass midnight")
}

/// `22:00..22:00`.
pub fn no_hours(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} ends when it begins", quoted(written)))
        .help("the whole day is `00:00..24:00`; if no one is there at all, leave the hours out")
}
