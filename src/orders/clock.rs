//! The minutes of a day as clocks show them, in nights too when clocks change.

use crate::syntax::tree::{DayTime, Open};
use crate::time::clock::{Dating, Instant, MINUTE, When, Zone};
use crate::time::day::Minute;

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
        const NAMES: [&str; 7] =
            ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
        let next = self.zone.at(self.zone.days_later(self.midnight, 1));
        match self.zone.dating {
            Dating::AnyDay => None,
            Dating::Dates => next.rfc3339().get(..10).map(ToOwned::to_owned),
            Dating::AnyWeek => NAMES.get(usize::from(next.weekday())).map(|it| (*it).to_owned()),
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
        self.minute_of(at)
    }

    /// An instant as a minute of the day.
    pub fn minute_of(&self, at: Instant) -> Minute {
        super::segs::i32((at - self.midnight).div_euclid(MINUTE))
    }

    /// A minute of the day as an instant.
    pub fn instant(&self, minute: Minute) -> Instant {
        self.midnight + i64::from(minute) * MINUTE
    }

    /// How many pairs of hands there are, from which minute on.
    pub fn hands(
        &self,
        hours: Option<&[Open]>,
        (from, to): (Minute, Minute),
    ) -> Vec<(Minute, i32)> {
        let Some(hours) = hours else { return vec![(from, 1)] };
        let mut changes: Vec<(Minute, i32)> = Vec::new();
        for open in hours {
            let hands = i32::try_from(open.hands).unwrap_or(i32::MAX / 1000);
            let stretches = self.zone.openings(&[*open], self.instant(from), self.instant(to));
            for (begin, end) in stretches {
                changes.push((self.minute_of(begin), hands));
                changes.push((self.minute_of(end), -hands));
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
        levels
    }
}
