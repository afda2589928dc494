//! Clock times: instants, zones, and the hours in which there are hands.
//!
//! An instant is in milliseconds since 1970 (UTC), so that a night in which clocks change
//! is as long as it is. Nothing here asks what time it is now.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{AmbiguousOffset, TimeZone};
use jiff::{Span, Timestamp, ZonedDateTime};

/// Milliseconds since 1970, UTC.
pub type Instant = i64;

pub const MINUTE: i64 = 60_000;
const DAY: i64 = 24 * 60 * MINUTE;

/// A time zone by its name in the world's zone database, as built into the program.
#[derive(Clone, Debug)]
pub struct Zone(TimeZone);

/// Why a clock time can't be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClockError {
    /// It isn't written as a date and a time.
    Unreadable,
    /// The clocks skip it, that night.
    Skipped,
    /// So far away that nothing is known of the clocks there.
    TooFar,
}

/// Years that plans are made for.
const YEARS: std::ops::RangeInclusive<i16> = 1900..=9000;

impl Zone {
    /// `Europe/Paris`; none where nobody knows the name.
    pub fn named(name: &str) -> Option<Self> {
        TimeZone::get(name).ok().map(Self)
    }

    /// The zone that whoever asks has found on this machine.
    pub fn from_library(zone: TimeZone) -> Self {
        Self(zone)
    }

    pub fn name(&self) -> String {
        // A machine may have rules of its own, without a name.
        self.0.iana_name().unwrap_or("local time").to_owned()
    }

    /// Reads `2026-12-05 07:00`; of an hour that a night has twice, the first.
    ///
    /// # Errors
    /// Where it is no date and time, or one that the clocks skip.
    pub fn read(&self, text: &str) -> Result<Instant, ClockError> {
        let text = text.trim().replacen(' ', "T", 1);
        // A date, a time and nothing else: an offset would contradict the zone.
        let (date, time) = text.split_once('T').ok_or(ClockError::Unreadable)?;
        let is_plain = |text: &str, mark| {
            !text.is_empty() && text.chars().all(|it| it.is_ascii_digit() || it == mark)
        };
        if !is_plain(date, '-') || !is_plain(time, ':') {
            return Err(ClockError::Unreadable);
        }
        let time = if time.find(':') == Some(1) { format!("0{time}") } else { time.to_owned() };
        let read = format!("{date}T{time}").parse::<DateTime>().ok();
        let civil = read.ok_or(ClockError::Unreadable)?;
        if !YEARS.contains(&civil.year()) {
            return Err(ClockError::TooFar);
        }
        if matches!(self.0.to_ambiguous_timestamp(civil).offset(), AmbiguousOffset::Gap { .. }) {
            return Err(ClockError::Skipped);
        }
        self.instant(civil).ok_or(ClockError::Unreadable)
    }

    fn instant(&self, civil: DateTime) -> Option<Instant> {
        Some(self.0.to_timestamp(civil).ok()?.as_millisecond())
    }

    /// What clocks show at an instant.
    pub fn at(&self, instant: Instant) -> Moment {
        let stamp = Timestamp::from_millisecond(instant).unwrap_or(Timestamp::UNIX_EPOCH);
        Moment(stamp.to_zoned_datetime(self.0.clone()))
    }

    /// The hours with hands, `(from, to)` in minutes since midnight, on every day that
    /// touches `begin..=end`; those that meet are one.
    pub fn openings(
        &self,
        hours: &[(u32, u32)],
        begin: Instant,
        end: Instant,
    ) -> Vec<(Instant, Instant)> {
        let mut openings = Vec::new();
        // Hours that pass midnight begin on the day before.
        let mut day = self.at(begin - DAY).date();
        let last = self.at(end + DAY).date();
        while day <= last {
            openings.extend(hours.iter().filter_map(|&(from, to)| {
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

    pub fn year(&self) -> i16 {
        self.0.year()
    }

    /// From 1 to 12.
    pub fn month(&self) -> u8 {
        self.0.month().unsigned_abs()
    }

    pub fn day(&self) -> u8 {
        self.0.day().unsigned_abs()
    }

    pub fn hour(&self) -> u8 {
        self.0.hour().unsigned_abs()
    }

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

    /// `07:00`.
    pub fn time(&self) -> String {
        format!("{:02}:{:02}", self.hour(), self.minute())
    }
}

#[cfg(test)]
mod tests {
    use super::{ClockError, MINUTE, Zone};

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
        let at = |text| zone.read(text).expect("readable");
        let (begin, end) = (at("2026-12-04 12:00"), at("2026-12-05 12:00"));
        let openings = zone.openings(&[(390, 1320)], begin, end);
        assert!(openings.contains(&(at("2026-12-04 06:30"), at("2026-12-04 22:00"))));
        assert!(openings.contains(&(at("2026-12-05 06:30"), at("2026-12-05 22:00"))));
        // From ten in the evening to two, and from two to six, is one stretch.
        let night = zone.openings(&[(1320, 120), (120, 360)], begin, end);
        assert!(night.contains(&(at("2026-12-04 22:00"), at("2026-12-05 06:00"))));
        // All day, every day, is one opening.
        assert_eq!(zone.openings(&[(0, 1440)], begin, end).len(), 1);
    }

    #[test]
    fn a_day_later_is_the_same_time_of_day() {
        let zone = paris();
        let at = |text| zone.read(text).expect("readable");
        assert_eq!(zone.days_later(at("2026-03-28 12:00"), 1), at("2026-03-29 12:00"));
        assert_eq!(zone.midnights(at("2026-12-04 12:00"), at("2026-12-06 01:00")).len(), 2);
    }
}
