//! Clock times: instants, zones, and the hours in which there are hands.
//!
//! An instant is in milliseconds since 1970 (UTC), so that a night in which clocks change
//! is as long as it is. Nothing here asks what time it is now.

use crate::syntax::tree::{Open, Weekdays};
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{AmbiguousOffset, TimeZone};
use jiff::{Span, Timestamp, ZonedDateTime};

/// Milliseconds since 1970, UTC.
pub type Instant = i64;

/// In milliseconds, as instants are.
pub const MINUTE: i64 = 60_000;
const DAY: i64 = 24 * 60 * MINUTE;

/// A time zone by its name in the world's zone database, as built into the program.
#[derive(Clone, Debug)]
pub struct Zone {
    rules: TimeZone,
    /// What is known of the days that it counts.
    pub dating: Dating,
}

/// What is known of the days of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dating {
    /// Days of a calendar.
    Dates,
    /// Weekdays of any week, in which no clocks change.
    AnyWeek,
    /// Any day, and those before and after it.
    AnyDay,
}

/// Why a clock time can't be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClockError {
    /// It isn't written as a date and a time.
    Unreadable,
    /// The clocks skip it, that night.
    Skipped,
    /// The whole day is skipped, where a country crossed the date line.
    NoSuchDay,
    /// It is said to be one of two, and there is one.
    NotTwice,
    /// So far away that nothing is known of the clocks there.
    TooFar,
}

/// Years that plans are made for: times that a plan is reckoned with reach 2,200 years from
/// 1970 in either direction.
pub const YEARS: std::ops::RangeInclusive<i16> = 1900..=4000;

/// A time as somebody writes it: `2026-12-05 07:00`, `sunday 11am`, `by 07:00`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct When {
    /// `by`: then or before.
    pub by: bool,
    /// The day that it is of.
    pub day: DayOf,
    time: Time,
    /// `A` or `B`: the first or the second of an hour that a night has twice.
    second: Option<bool>,
}

/// The day of a time, as far as somebody says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayOf {
    /// A day of the calendar.
    Date(Date),
    /// Monday is 0.
    Weekday(u8),
    /// Any day.
    Any,
}

impl When {
    /// The time of day on a clock of 24 hours: `19:00`.
    pub fn clock(&self) -> String {
        format!("{:02}:{:02}", self.time.hour(), self.time.minute())
    }

    /// Reads a time; nothing where it is none.
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim().to_lowercase();
        let (by, text) = match text.strip_prefix("by ") {
            Some(rest) => (true, rest.trim_start()),
            None => (false, text.as_str()),
        };
        let first = text.split([' ', 't']).next().unwrap_or_default();
        let rest = || text.get(first.len() + 1..).unwrap_or_default();
        let is_date = !first.is_empty() && first.chars().all(|it| it.is_ascii_digit() || it == '-');
        let word = text.split(' ').next().unwrap_or_default();
        let (day, time) = match Weekdays::number(word) {
            Some(day) => (DayOf::Weekday(day), text.get(word.len()..).unwrap_or_default()),
            None if is_date && first.contains('-') => (DayOf::Date(first.parse().ok()?), rest()),
            None => (DayOf::Any, text),
        };
        let (time, second) = time_of_day(time)?;
        Some(Self { by, day, time, second })
    }
}

/// `07:00`, `7:00`, `11am`, `11:30 pm`, `02:40 B`, and which of two it is.
fn time_of_day(text: &str) -> Option<(Time, Option<bool>)> {
    let text: String = text.split_whitespace().collect();
    if text == "noon" {
        return Some((Time::new(12, 0, 0, 0).ok()?, None));
    }
    let halves = [("am", 0), ("pm", 12)].into_iter();
    let mut halves = halves.filter_map(|(mark, more)| Some((text.strip_suffix(mark)?, more)));
    if let Some((time, more)) = halves.next() {
        let (hour, minute) = time.split_once(':').unwrap_or((time, "00"));
        let hour = number(hour).filter(|hour| (1..=12).contains(hour))?;
        let minute = number(minute).filter(|_| minute.len() == 2)?;
        return Some((Time::new(hour % 12 + more, minute, 0, 0).ok()?, None));
    }
    let (time, second) = match (text.strip_suffix('a'), text.strip_suffix('b')) {
        (Some(time), _) => (time, Some(false)),
        (_, Some(time)) => (time, Some(true)),
        _ => (text.as_str(), None),
    };
    let (hour, minute) = time.split_once(':')?;
    let minute = number(minute).filter(|_| minute.len() == 2)?;
    Some((Time::new(number(hour)?, minute, 0, 0).ok()?, second))
}

/// One or two digits.
fn number(text: &str) -> Option<i8> {
    let is_plain = (1..=2).contains(&text.len()) && text.chars().all(|it| it.is_ascii_digit());
    text.parse().ok().filter(|_| is_plain)
}

/// A night in which clocks change: when, and what they show before and after it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClockChange {
    /// When it happens.
    pub at: Instant,
    /// What clocks show before: `03:00`.
    pub from: String,
    /// What they show then: `02:00`.
    pub to: String,
    /// Whether an hour comes twice; else one is skipped.
    pub back: bool,
    /// Whether a whole day is skipped.
    pub skips_day: bool,
}

impl Zone {
    /// `Europe/Paris`; none where nobody knows the name.
    pub fn named(name: &str) -> Option<Self> {
        TimeZone::get(name).ok().map(Self::from_library)
    }

    /// The zone that whoever asks has found on this machine.
    pub fn from_library(rules: TimeZone) -> Self {
        Self { rules, dating: Dating::Dates }
    }

    /// Days without dates.
    pub fn undated(dating: Dating) -> Self {
        Self { rules: TimeZone::UTC, dating }
    }

    /// As the world's zone database has it; `local time` of a machine that has no name for its
    /// own.
    pub fn name(&self) -> String {
        // A machine may have rules of its own, without a name.
        self.rules.iana_name().unwrap_or("local time").to_owned()
    }

    /// Reads `2026-12-05 07:00`; of an hour that a night has twice, the first.
    ///
    /// # Errors
    /// Where it is no date and time, or one that the clocks skip.
    #[cfg_attr(closed, allow(dead_code, reason = "tests write their times so"))]
    pub fn read(&self, text: &str) -> Result<Instant, ClockError> {
        let when = When::read(text).filter(|when| matches!(when.day, DayOf::Date(_)));
        self.instant_of(&when.ok_or(ClockError::Unreadable)?, None)
    }

    /// When a time is: on its date; without one, the first such time after another one, or
    /// where there is none, on a day that stands for any.
    ///
    /// # Errors
    /// Where clocks skip it, or nothing is known of them.
    pub fn instant_of(&self, when: &When, after: Option<Instant>) -> Result<Instant, ClockError> {
        /// A Monday.
        const ANY: Date = jiff::civil::date(2001, 1, 15);
        let first = after.map_or(ANY, |after| self.at(after).date());
        let later = |days: i64| first.checked_add(Span::new().days(days)).ok();
        let candidates: Vec<Date> = match when.day {
            DayOf::Date(date) => vec![date],
            DayOf::Weekday(day) => {
                let is_it =
                    |date: &Date| date.weekday().to_monday_zero_offset().unsigned_abs() == day;
                (0..=7).filter_map(later).filter(is_it).collect()
            }
            DayOf::Any => (0..=1).filter_map(later).collect(),
        };
        let last = candidates.len().saturating_sub(1);
        for (place, date) in candidates.into_iter().enumerate() {
            let instant = self.on_date(date, when)?;
            if place == last || after.is_none_or(|after| instant > after) {
                return Ok(instant);
            }
        }
        Err(ClockError::Unreadable)
    }

    fn on_date(&self, date: Date, when: &When) -> Result<Instant, ClockError> {
        if !YEARS.contains(&date.year()) {
            return Err(ClockError::TooFar);
        }
        let found = self.rules.to_ambiguous_timestamp(date.to_datetime(when.time));
        let is_twice = matches!(found.offset(), AmbiguousOffset::Fold { .. });
        if let AmbiguousOffset::Gap { before, after } = found.offset() {
            let skipped = i64::from(after.seconds() - before.seconds()) * 1000;
            return Err(if skipped < DAY { ClockError::Skipped } else { ClockError::NoSuchDay });
        }
        if when.second.is_some() && !is_twice {
            return Err(ClockError::NotTwice);
        }
        let second = when.second == Some(true);
        let stamp = if second { found.later() } else { found.earlier() };
        stamp.map(|stamp| stamp.as_millisecond()).map_err(|_| ClockError::TooFar)
    }

    fn instant(&self, civil: DateTime) -> Option<Instant> {
        Some(self.rules.to_timestamp(civil).ok()?.as_millisecond())
    }

    /// By how many milliseconds clocks are ahead of UTC.
    pub fn offset(&self, instant: Instant) -> i64 {
        i64::from(self.at(instant).0.offset().seconds()) * 1000
    }

    /// When clocks change in `begin..=end`.
    pub fn changes(&self, begin: Instant, end: Instant) -> Vec<ClockChange> {
        let Ok(stamp) = Timestamp::from_millisecond(begin) else { return Vec::new() };
        let all = self.rules.following(stamp).map(|change| change.timestamp().as_millisecond());
        let shown = |at: Instant, offset: i64| {
            let minutes = (at + offset).rem_euclid(DAY) / MINUTE;
            format!("{:02}:{:02}", minutes / 60, minutes % 60)
        };
        let change = |at: Instant| {
            let (before, after) = (self.offset(at - 1), self.offset(at));
            let (from, to) = (shown(at, before), shown(at, after));
            let (back, skips_day) = (after < before, after - before >= DAY);
            (before != after).then_some(ClockChange { at, from, to, back, skips_day })
        };
        all.take_while(|&at| at <= end).filter_map(change).collect()
    }

    /// What clocks show at an instant.
    pub fn at(&self, instant: Instant) -> Moment {
        let stamp = Timestamp::from_millisecond(instant).unwrap_or(Timestamp::UNIX_EPOCH);
        Moment(stamp.to_zoned_datetime(self.rules.clone()))
    }

    /// The hours with hands on every day that touches `begin..=end`; those that meet are one.
    pub fn openings(
        &self,
        hours: &[Open],
        begin: Instant,
        end: Instant,
    ) -> Vec<(Instant, Instant)> {
        let mut openings = Vec::new();
        // Hours that pass midnight begin on the day before.
        let mut day = self.at(begin - DAY).date();
        let last = self.at(end + DAY).date();
        while day <= last {
            let weekday = day.weekday().to_monday_zero_offset().unsigned_abs();
            let today = hours.iter().filter(|open| open.days.has(weekday));
            openings.extend(today.filter_map(|&Open { from, to, .. }| {
                let until = if to <= from { day.tomorrow().ok()? } else { day };
                Some((self.on(day, from)?, self.on(until, to)?))
            }));
            match day.tomorrow() {
                Ok(next) => day = next,
                Err(_) => break,
            }
        }
        merged(openings)
    }

    /// Midnights in `begin..=end`.
    pub fn midnights(&self, begin: Instant, end: Instant) -> Vec<Instant> {
        let mut midnights = Vec::new();
        let mut day = self.at(begin).date();
        while let Ok(next) = day.tomorrow() {
            day = next;
            match self.on(day, 0) {
                Some(midnight) if midnight <= end => midnights.push(midnight),
                _ => break,
            }
        }
        midnights
    }

    /// Minutes since midnight on a day; 1440 is the midnight after it.
    fn on(&self, day: Date, minutes: u32) -> Option<Instant> {
        let (day, minutes) = match minutes >= 1440 {
            true => (day.tomorrow().ok()?, minutes - 1440),
            false => (day, minutes),
        };
        let hour = i8::try_from(minutes / 60).ok()?;
        let minute = i8::try_from(minutes % 60).ok()?;
        self.instant(day.to_datetime(Time::new(hour, minute, 0, 0).ok()?))
    }

    /// So many minutes after midnight, as clocks show it, on the day of an instant; 1440 is the
    /// midnight after it.
    pub fn on_day(&self, day: Instant, minutes: u32) -> Option<Instant> {
        self.on(self.at(day).date(), minutes)
    }

    /// How many days by the calendar one instant is after another.
    pub fn days_between(&self, from: Instant, to: Instant) -> i64 {
        let days = self.at(to).date().since(self.at(from).date());
        days.map_or(0, |days| i64::from(days.get_days()))
    }

    /// So many days later by the calendar, at the same time of day.
    pub fn days_later(&self, instant: Instant, days: i64) -> Instant {
        let moment = self.at(instant).0;
        let later = Span::new().try_days(days).ok().and_then(|days| moment.checked_add(days).ok());
        later.map_or(instant, |later| later.timestamp().as_millisecond())
    }
}

/// Openings in order; those that overlap or meet are one.
fn merged(mut openings: Vec<(Instant, Instant)>) -> Vec<(Instant, Instant)> {
    openings.sort_unstable();
    let mut all: Vec<(Instant, Instant)> = Vec::new();
    for (begin, end) in openings {
        match all.last_mut() {
            Some((_, last)) if begin <= *last => *last = end.max(*last),
            _ => all.push((begin, end)),
        }
    }
    all
}

/// An instant as clocks show it.
#[derive(Clone, Debug)]
pub struct Moment(ZonedDateTime);

impl Moment {
    fn date(&self) -> Date {
        self.0.date()
    }

    /// Of the calendar that clocks here follow.
    pub fn year(&self) -> i16 {
        self.0.year()
    }

    /// From 1 to 12.
    pub fn month(&self) -> u8 {
        self.0.month().unsigned_abs()
    }

    /// From 1 to 31.
    pub fn day(&self) -> u8 {
        self.0.day().unsigned_abs()
    }

    /// From 0 to 23.
    pub fn hour(&self) -> u8 {
        self.0.hour().unsigned_abs()
    }

    /// From 0 to 59.
    pub fn minute(&self) -> u8 {
        self.0.minute().unsigned_abs()
    }

    /// Monday is 0.
    pub fn weekday(&self) -> u8 {
        self.0.weekday().to_monday_zero_offset().unsigned_abs()
    }

    /// `2026-12-05T07:00:00+01:00`.
    pub fn rfc3339(&self) -> String {
        self.0.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
    }

    /// In UTC, as RFC 5545 writes it: `20261205T060000Z`.
    pub fn utc(&self) -> String {
        let utc = self.0.timestamp().to_zoned_datetime(TimeZone::UTC);
        utc.strftime("%Y%m%dT%H%M%SZ").to_string()
    }

    /// `07:00`; of an hour that the night has twice, `02:40 A` before clocks change, and
    /// `02:40 B` after it: as railways mark them.
    pub fn time(&self) -> String {
        let mark = match self.0.time_zone().to_ambiguous_timestamp(self.0.datetime()).offset() {
            AmbiguousOffset::Fold { before, .. } if before == self.0.offset() => " A",
            AmbiguousOffset::Fold { .. } => " B",
            _ => "",
        };
        format!("{:02}:{:02}{mark}", self.hour(), self.minute())
    }
}

#[cfg(test)]
mod tests {
    use super::{ClockError, Dating, DayOf, MINUTE, When, Zone};
    use crate::syntax::tree::{Open, Weekdays};

    fn paris() -> Zone {
        Zone::named("Europe/Paris").expect("built in")
    }

    #[test]
    fn a_clock_time_is_read_and_written() {
        let ready = paris().read("2026-12-05 07:00").expect("readable");
        assert_eq!(paris().at(ready).rfc3339(), "2026-12-05T07:00:00+01:00");
        assert_eq!(paris().at(ready).weekday(), 5);
        for text in ["2026-12-05", "7 o'clock", "2026-13-05 07:00", "2026-12-05 25:00", ""] {
            assert_eq!(paris().read(text), Err(ClockError::Unreadable), "{text}");
        }
        // On 29 March 2026 clocks in Paris go from 02:00 to 03:00.
        assert_eq!(paris().read("2026-03-29 02:30"), Err(ClockError::Skipped));
    }

    /// Days that are in no calendar of a place, and the days around them; by the library's own
    /// offsets every hour of such a day is skipped.
    #[test]
    fn a_day_that_a_place_skips_is_told_as_a_day() {
        for (name, year, month, day) in [
            ("Pacific/Apia", 2011, 12, 30),
            ("Pacific/Fakaofo", 2011, 12, 30),
            ("Pacific/Kwajalein", 1993, 8, 21),
            ("Pacific/Kiritimati", 1994, 12, 31),
        ] {
            let rules = jiff::tz::TimeZone::get(name).expect("built in");
            let zone = Zone::named(name).expect("built in");
            let skipped = jiff::civil::date(year, month, day);
            for date in [skipped.yesterday(), Ok(skipped), skipped.tomorrow()] {
                let date = date.expect("a date");
                for hour in 0..24 {
                    let civil = date.at(hour, 30, 0, 0);
                    let found = rules.to_ambiguous_timestamp(civil);
                    let read = zone.read(&format!("{date} {hour:02}:30"));
                    match found.is_ambiguous() {
                        true => assert_eq!(read, Err(ClockError::NoSuchDay), "{name} {civil}"),
                        false => {
                            let instant = found.unambiguous().expect("one").as_millisecond();
                            assert_eq!(read, Ok(instant), "{name} {civil}");
                        }
                    }
                    assert_eq!(found.is_ambiguous(), date == skipped, "{name} {civil}");
                }
            }
        }
    }

    /// What is read is what the clock library says, or refused.
    #[test]
    fn years_are_right_or_refused() {
        let rules = jiff::tz::TimeZone::get("Europe/Paris").expect("built in");
        for year in (1..=9999i16).step_by(7).chain([1899, 1900, 4000, 4001, 4199, 5000, 9999]) {
            let civil = jiff::civil::date(year, 12, 31).at(12, 0, 0, 0);
            let read = paris().read(&format!("{year:04}-12-31 12:00"));
            match super::YEARS.contains(&year) {
                true => {
                    let stamp = rules.to_timestamp(civil).expect("a time");
                    assert_eq!(read, Ok(stamp.as_millisecond()), "{year}");
                }
                false => assert_eq!(read, Err(ClockError::TooFar), "{year}"),
            }
        }
    }

    #[test]
    fn nights_in_which_clocks_change_are_as_long_as_they_are() {
        let hours = |from: &str, to: &str| {
            let read = |text| paris().read(text).expect("readable");
            (read(to) - read(from)) / (60 * MINUTE)
        };
        assert_eq!(hours("2026-03-28 22:00", "2026-03-29 07:00"), 8);
        assert_eq!(hours("2026-10-24 22:00", "2026-10-25 07:00"), 10);
    }

    #[test]
    fn hours_stand_on_every_day_and_pass_midnight() {
        let zone = paris();
        let open = |from, to| Open { days: Weekdays::ALL, from, to, hands: 1 };
        let at = |text| zone.read(text).expect("readable");
        let (begin, end) = (at("2026-12-04 12:00"), at("2026-12-05 12:00"));
        let openings = zone.openings(&[open(390, 1320)], begin, end);
        assert!(openings.contains(&(at("2026-12-04 06:30"), at("2026-12-04 22:00"))));
        assert!(openings.contains(&(at("2026-12-05 06:30"), at("2026-12-05 22:00"))));
        // From ten in the evening to two, and from two to six, is one stretch.
        let night = zone.openings(&[open(1320, 120), open(120, 360)], begin, end);
        assert!(night.contains(&(at("2026-12-04 22:00"), at("2026-12-05 06:00"))));
        // All day, every day, is one opening.
        assert_eq!(zone.openings(&[open(0, 1440)], begin, end).len(), 1);
    }

    #[test]
    fn a_day_later_is_the_same_time_of_day() {
        let zone = paris();
        let at = |text| zone.read(text).expect("readable");
        assert_eq!(zone.days_later(at("2026-03-28 12:00"), 1), at("2026-03-29 12:00"));
        assert_eq!(zone.midnights(at("2026-12-04 12:00"), at("2026-12-06 01:00")).len(), 2);
    }

    #[test]
    fn times_are_read_as_people_write_them() {
        let day = |text: &str| When::read(text).map(|when| (when.by, when.day));
        let time =
            |text: &str| When::read(text).map(|when| when.time.strftime("%H:%M").to_string());
        assert_eq!(day("by 07:00"), Some((true, DayOf::Any)));
        assert_eq!(day("Sunday 11:00"), Some((false, DayOf::Weekday(6))));
        assert_eq!(day("BY sat 11am"), Some((true, DayOf::Weekday(5))));
        assert!(matches!(day("2026-12-05T07:00"), Some((false, DayOf::Date(_)))));
        for (text, wanted) in [
            ("7:00", "07:00"),
            ("11am", "11:00"),
            ("11 pm", "23:00"),
            ("11:30 AM", "11:30"),
            ("12am", "00:00"),
            ("12:05pm", "12:05"),
            ("fri 6:30pm", "18:30"),
            ("2026-12-05 11am", "11:00"),
        ] {
            assert_eq!(time(text).as_deref(), Some(wanted), "{text}");
        }
        for text in [
            "",
            "by",
            "7",
            "07",
            "13pm",
            "0am",
            "24:00",
            "07:60",
            "7:0",
            "sunday",
            "someday 07:00",
            "07:00 07:00",
            "2026-12-05",
            "2026-02-30 07:00",
            "-5:00",
            "07:00+01:00",
            "11:00am pm",
        ] {
            assert_eq!(When::read(text), None, "{text}");
        }
    }

    #[test]
    fn a_time_without_a_date_is_the_next_one_or_any() {
        let zone = paris();
        let at = |text: &str| zone.read(text).expect("readable");
        let next = |text: &str, after: &str| {
            let when = When::read(text).expect("readable");
            zone.instant_of(&when, Some(at(after))).expect("there is one")
        };
        // 5 December 2026 is a Saturday.
        assert_eq!(next("07:00", "2026-12-05 06:00"), at("2026-12-05 07:00"));
        assert_eq!(next("07:00", "2026-12-05 07:00"), at("2026-12-06 07:00"));
        assert_eq!(next("sat 07:00", "2026-12-05 06:00"), at("2026-12-05 07:00"));
        assert_eq!(next("sat 07:00", "2026-12-05 08:00"), at("2026-12-12 07:00"));
        assert_eq!(next("mon 11am", "2026-12-05 08:00"), at("2026-12-07 11:00"));
        let any = Zone::undated(Dating::AnyWeek);
        for (day, word) in Weekdays::NAMES.iter().enumerate() {
            let when = When::read(&format!("{word} 07:00")).expect("readable");
            let moment = any.at(any.instant_of(&when, None).expect("any"));
            assert_eq!((usize::from(moment.weekday()), moment.time()), (day, "07:00".to_owned()));
        }
    }

    /// Every hour that comes twice is told apart, reads back as what it was, and the change is
    /// told; every hour that is skipped is refused. By the library's own rules for offsets.
    #[test]
    fn hours_that_come_twice_are_told_apart_in_many_zones() {
        let nights = [
            ("Europe/Paris", "2026-10-25 01:55", 60),
            ("America/New_York", "2026-11-01 00:55", 60),
            ("Australia/Lord_Howe", "2026-04-05 01:25", 30),
            ("Africa/Casablanca", "2026-02-15 01:55", 60),
            ("America/St_Johns", "2026-11-01 00:55", 60),
        ];
        for (name, before, length) in nights {
            let zone = Zone::named(name).expect("built in");
            let begin = zone.read(before).expect("readable");
            let changes = zone.changes(begin, begin + 6 * 60 * MINUTE);
            assert_eq!(changes.len(), 1, "{name} {changes:?}");
            assert!(changes[0].back && changes[0].from != changes[0].to);
            let mut marks = std::collections::BTreeMap::new();
            for minute in 0..6 * 60 {
                let instant = begin + minute * MINUTE;
                let moment = zone.at(instant);
                let shown = moment.time();
                let mark = shown.split(' ').nth(1).unwrap_or("").to_owned();
                *marks.entry(mark).or_insert(0) += 1;
                let date = moment.rfc3339().split('T').next().expect("a date").to_owned();
                assert_eq!(zone.read(&format!("{date} {shown}")), Ok(instant), "{name} {shown}");
            }
            assert_eq!((marks["A"], marks["B"]), (length, length), "{name}");
        }
        let zone = paris();
        assert_eq!(zone.read("2026-12-05 07:00 B"), Err(ClockError::NotTwice));
        let skipped = zone.read("2026-03-28 12:00").expect("readable");
        let changes = zone.changes(skipped, skipped + 24 * 60 * MINUTE);
        assert_eq!((changes[0].from.as_str(), changes[0].to.as_str()), ("02:00", "03:00"));
        assert!(!changes[0].back);
    }

    #[test]
    fn hours_of_weekdays_stand_on_their_days() {
        let zone = paris();
        let at = |text: &str| zone.read(text).expect("readable");
        let hours = crate::syntax::read_hours("mon..fri 06:00..22:00, sat, sun 08:00..23:00");
        let hours = hours.expect("readable");
        // A week from Monday 7 December 2026.
        let (begin, end) = (at("2026-12-07 00:00"), at("2026-12-13 23:59"));
        let openings = zone.openings(&hours, begin, end);
        let inside = openings.iter().filter(|it| it.0 >= begin && it.1 <= end).count();
        assert_eq!(inside, 7);
        for day in 7..=13 {
            let (from, to) = if day < 12 { ("06:00", "22:00") } else { ("08:00", "23:00") };
            let opening =
                (at(&format!("2026-12-{day:02} {from}")), at(&format!("2026-12-{day:02} {to}")));
            assert!(openings.contains(&opening), "{day}");
        }
    }
}
