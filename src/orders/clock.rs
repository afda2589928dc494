//! The minutes of a day as clocks show them, in nights too when clocks change.

use crate::source::Span;
use crate::syntax::tree::{DayTime, Open, Weekdays};
use crate::time::clock::{Dating, Instant, MINUTE, When, Zone};
use crate::time::day::Minute;

/// Days before and after a day that a time is told in.
const MAX_DAYS: i64 = 14;

/// A day's midnight and zone.
#[derive(Clone, Debug)]
pub struct Clock {
    /// The zone of its clock.
    pub zone: Zone,
    /// The midnight that it begins with.
    pub midnight: Instant,
}

impl Clock {
    /// Of a date, a weekday or any other day by its name; none where clocks know no such day.
    pub fn of(name: &str, zone: Zone) -> Option<Self> {
        let midnight = |zone: &Zone, name: &str| {
            let when = When::read(&format!("{name} 00:00"))?;
            zone.instant_of(&when, None).ok()
        };
        if When::read(&format!("{name} 12:00")).is_none() {
            let zone = Zone::undated(Dating::AnyDay);
            let when = When::read("00:00")?;
            let midnight = zone.instant_of(&when, None).ok()?;
            return Some(Self { zone, midnight });
        }
        let zone = match name.starts_with(|letter: char| letter.is_ascii_digit()) {
            true => zone,
            false => Zone::undated(Dating::AnyWeek),
        };
        let midnight = midnight(&zone, name)?;
        Some(Self { zone, midnight })
    }

    /// What the day after is called: its date, or its weekday; none where it is any day.
    pub fn next(&self) -> Option<String> {
        self.name(1)
    }

    /// What the day so many days later is called, as [`Clock::next`].
    pub fn name(&self, days: i64) -> Option<String> {
        let day = self.zone.at(self.zone.days_later(self.midnight, days));
        match self.zone.dating {
            Dating::AnyDay => None,
            Dating::Dates => day.rfc3339().get(..10).map(ToOwned::to_owned),
            Dating::AnyWeek => {
                Weekdays::WHOLE.get(usize::from(day.weekday())).map(|it| (*it).to_owned())
            }
        }
    }

    /// Monday is 0; none where it is any day.
    pub fn weekday(&self) -> Option<u8> {
        (self.zone.dating != Dating::AnyDay).then(|| self.zone.at(self.midnight).weekday())
    }

    /// The minute of a time of the day or of the one before.
    pub fn minute(&self, time: DayTime) -> Minute {
        let day =
            if time.day_before { self.zone.days_later(self.midnight, -1) } else { self.midnight };
        let at = self.zone.on_day(day, time.minutes).unwrap_or(day);
        let at = self.minute_of(at);
        // A time that clocks leave out is over when they go on.
        if !self.has(time) {
            /// Minutes by which clocks are changed at the most.
            const CHANGED: Minute = 180;
            let shown = |minute: Minute| {
                let time = self.zone.at(self.instant(minute)).time();
                let number = |from: usize| time.get(from..from + 2)?.parse::<i32>().ok();
                number(0).zip(number(3)).map_or(0, |(hours, minutes)| 60 * hours + minutes)
            };
            let begins = |minute: &Minute| shown(*minute) - shown(minute - 1) > 1;
            return (at - CHANGED..=at).rev().find(begins).unwrap_or(at);
        }
        at
    }

    /// Whether clocks show a time of the day or of the one before: in a night in which they are put
    /// forward some times are left out.
    pub fn has(&self, time: DayTime) -> bool {
        const DAY: u32 = 24 * 60;
        let day =
            if time.day_before { self.zone.days_later(self.midnight, -1) } else { self.midnight };
        let Some(at) = self.zone.on_day(day, time.minutes) else { return true };
        let shown = self.zone.at(at).time();
        let written = format!("{:02}:{:02}", time.minutes % DAY / 60, time.minutes % 60);
        self.zone.dating != Dating::Dates || shown.starts_with(&written)
    }

    /// A minute as an order would write it; none where it is neither on the day nor on the one before.
    pub fn day_time(&self, minute: Minute, span: Span) -> Option<DayTime> {
        /// Minutes of a day by the clock.
        const DAY: i64 = 24 * 60;
        /// Minutes that clocks are put forward or back at the most.
        const CHANGED: i64 = 180;
        let near = i64::from(minute);
        let times =
            (0..=2 * CHANGED).map(|by| near + if by % 2 == 0 { by / 2 } else { -(by + 1) / 2 });
        let times = times.filter(|time| (-DAY..=DAY).contains(time)).filter_map(|time| {
            let day_before = time < 0;
            let minutes = u32::try_from(if day_before { time + DAY } else { time }).ok()?;
            Some(DayTime { minutes, day_before, span })
        });
        times.into_iter().find(|time| self.minute(*time) == minute)
    }

    /// An instant as a minute of the day.
    pub fn minute_of(&self, at: Instant) -> Minute {
        super::segs::i32((at - self.midnight).div_euclid(MINUTE))
    }

    /// A minute of the day as an instant.
    pub fn instant(&self, minute: Minute) -> Instant {
        self.midnight + i64::from(minute) * MINUTE
    }

    /// A minute in words: `07:00`, `24:00` where the day ends, `22:00 the day before`.
    pub fn said(&self, minute: Minute) -> String {
        let begins = |days: i64| self.minute_of(self.zone.days_later(self.midnight, days));
        if self.is_end(minute) {
            return "24:00".to_owned();
        }
        let days = (-MAX_DAYS..=MAX_DAYS).rev().find(|days| begins(*days) <= minute);
        let time = self.zone.at(self.instant(minute)).time();
        match days.unwrap_or(-MAX_DAYS) {
            0 => time,
            -1 => format!("{time} the day before"),
            1 => format!("{time} the day after"),
            days if days < 0 => format!("{time} {} days before", -days),
            days => format!("{time} {days} days after"),
        }
    }

    /// Whether a minute is the midnight that the day ends with.
    pub fn is_end(&self, minute: Minute) -> bool {
        minute == self.minute_of(self.zone.days_later(self.midnight, 1))
    }

    /// How many pairs of hands there are, from which minute on: on each date those of its own
    /// `hours`; none where nobody says when there are hands, which is one pair at any time.
    pub fn hands<'o>(
        &self,
        hours: impl Fn(i64) -> Option<&'o [Open]>,
        (from, to): (Minute, Minute),
    ) -> Vec<(Minute, i32)> {
        let begins = |days: i64| self.zone.days_later(self.midnight, days);
        let mut days: Vec<i64> = (-MAX_DAYS..=MAX_DAYS).collect();
        // Hours that pass midnight begin on the day before.
        days.retain(|day| {
            self.minute_of(begins(day + 2)) > from && self.minute_of(begins(*day)) < to
        });
        let mut changes: Vec<(Minute, i32)> = Vec::new();
        for day in days {
            let Some(hours) = hours(day) else { return vec![(from, 1)] };
            let date = begins(day);
            let weekday = self.zone.at(date).weekday();
            for open in hours.iter().filter(|open| open.days.has(weekday)) {
                let hands = i32::try_from(open.hands).unwrap_or(i32::MAX / 1000);
                let open = Open { days: Weekdays::NONE.with(weekday), ..*open };
                for (begin, end) in self.zone.openings(&[open], date, date) {
                    changes.push((self.minute_of(begin), hands));
                    changes.push((self.minute_of(end), -hands));
                }
            }
        }
        changes.sort_unstable();
        let mut levels: Vec<(Minute, i32)> = Vec::new();
        let mut there = 0;
        for (at, change) in changes {
            there += change;
            match levels.last_mut() {
                Some((last, level)) if *last == at => *level = there,
                _ => levels.push((at, there)),
            }
        }
        levels.dedup_by(|later, before| later.1 == before.1);
        levels
    }
}
