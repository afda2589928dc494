//! What every part of a plan is written from, and how its days and hours are told.

use super::live::with_year;
use super::plan_document::{MomentPart, TaskPart};
use super::wording::Wording;
use crate::time::Doing;
use crate::time::clock::{Dating, Instant, MINUTE, Zone};

/// Something that is begun, and when.
pub struct PlanTask {
    /// When it is begun.
    pub begins: Instant,
    /// What it is in its graph.
    pub doing: Doing,
    /// How it is told.
    pub part: TaskPart,
}

/// What every part of a plan is written from.
pub struct PlanDay<'a> {
    /// The words of the print's language.
    pub words: &'a Wording,
    /// The zone of its clock.
    pub zone: &'a Zone,
    /// When the first thing is done, in all formulas.
    pub begin: Instant,
    /// When the last bread is ready.
    pub end: Instant,
    /// Whether days without dates are counted from the first.
    pub from_begin: bool,
    /// Whether anybody said when somebody is there.
    pub hours: bool,
    /// The time by which it has to be ready, where it may be earlier.
    pub ready_by: Option<Instant>,
}

impl PlanDay<'_> {
    /// Whole minutes from the beginning.
    pub fn since(&self, instant: Instant) -> i64 {
        (instant - self.begin + MINUTE / 2).div_euclid(MINUTE)
    }

    /// As [`Self::moment`], with the year: no clock is read, so a head says which it is.
    pub fn moment_of_year(&self, instant: Instant) -> MomentPart {
        let moment = self.moment(instant);
        let year = self.zone.at(instant).year();
        let is_told = moment.date.ends_with(&year.to_string());
        match self.zone.dating == Dating::Dates && !is_told {
            true => MomentPart { date: format!("{} {year}", moment.date), ..moment },
            false => moment,
        }
    }

    /// As clocks show it, to the nearest minute.
    pub fn moment(&self, instant: Instant) -> MomentPart {
        let instant = (instant + MINUTE / 2).div_euclid(MINUTE) * MINUTE;
        let moment = self.zone.at(instant);
        let is_dated = self.zone.dating == Dating::Dates;
        MomentPart {
            iso: is_dated.then(|| moment.rfc3339()),
            utc: is_dated.then(|| moment.utc()),
            date: self.date(instant),
            time: moment.time(),
        }
    }

    /// `Saturday 5 December`; `Saturday`; `the day before`.
    pub fn date(&self, instant: Instant) -> String {
        let moment = self.zone.at(instant);
        let weekday = self.words.say(&format!("weekday-{}", moment.weekday() + 1));
        match self.zone.dating {
            Dating::Dates => {}
            Dating::AnyWeek => return weekday,
            Dating::AnyDay => return self.day_by_number(instant),
        }
        let month = self.words.say(&format!("month-{}", moment.month()));
        let day = moment.day().to_string();
        let args = [("weekday", weekday.as_str()), ("day", &day), ("month", &month)];
        let date = self.words.fill("date", &args);
        // The year is told where it is not that of the end.
        match moment.year() == self.zone.at(self.end).year() {
            true => date,
            false => with_year(self.words, &date, i64::from(moment.year())),
        }
    }

    /// `day 2` of a plan from its beginning; `the day before` the bread is, or has to be, ready.
    fn day_by_number(&self, instant: Instant) -> String {
        let number =
            |id: &str, name: &str, days: i64| self.words.fill(id, &[(name, &days.to_string())]);
        if self.from_begin {
            return number("day-number", "number", self.zone.days_between(self.begin, instant) + 1);
        }
        // A limit has a day of its own, and the bread may be ready on the one before.
        match self.zone.days_between(instant, self.ready_by.unwrap_or(self.end)) {
            -1 => self.words.say("day-after"),
            0 => self.words.say("day-itself"),
            1 => self.words.say("day-before"),
            days if days < 0 => number("days-after", "days", -days),
            days => number("days-before", "days", days),
        }
    }
}
