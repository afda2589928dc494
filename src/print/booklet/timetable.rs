//! The plan of a formula as a table by the clock, as `assize plan` makes it.

use super::document::{TableCell, TableColumn, TablePart, TableRow};
use super::maker::Maker;
use crate::formula::{Worked, tell_of_house};
use crate::print::findings as say;
use crate::print::plan_document::{PlanDocument, Planned, TaskPart};
use crate::print::{plan_document, words::capital};
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::booklet::PlanAsked;
use crate::time::clock::{ClockError, Dating, DayOf, Instant, MINUTE, When, Zone};
use crate::time::findings::no_plan;
use crate::time::{Anchor, Asked, PlanRequest, graph, is_in_reach, plan, retime};
use ecow::EcoString;

/// Clock times fall on so many milliseconds where the ranges allow it, as for `assize plan`.
const GRID: i64 = 5 * MINUTE;

/// What the times of a plan come to.
struct Times {
    zone: Zone,
    anchor: Anchor,
    not_before: Option<Instant>,
    told: String,
}

impl Maker<'_> {
    /// The timeline of a formula; what stands against it is told.
    pub fn timetable(&self, asked: &PlanAsked) -> Option<TablePart> {
        let worked = self.worked(&asked.of)?;
        let span = asked.span;
        let refused = |why: &str| {
            self.say(say::table_not_possible::no_timeline(span, &asked.of.formula.shown, why));
        };
        let times = self.times_of(asked)?;
        let Some(mut graph) = graph(self.house, &worked) else {
            refused("it has no method that could be planned");
            return None;
        };
        let base = |it: &Option<crate::syntax::tree::Quantity>| {
            it.as_ref().map(|quantity| self.house.base(quantity))
        };
        let share = base(&asked.seed).filter(|share| *share > Exact::ZERO);
        let other = Asked { room: base(&asked.room), cold: base(&asked.cold), seed: share };
        let retiming = match retime(self.house, &worked, &mut graph, &other) {
            Ok(retiming) => retiming,
            Err(it) => {
                refused(&format!("it can't be timed for that {}: {}", it.asked, it.why));
                return None;
            }
        };
        if !is_in_reach(&graph) {
            refused("it takes too many days");
            return None;
        }
        let own = &self.house.settings.hours;
        let hours = if asked.awake.is_empty() { own } else { &asked.awake };
        let by_weekday = hours.iter().any(|open| !open.days.all());
        if times.zone.dating == Dating::AnyDay && by_weekday {
            refused("the hours differ by weekday, so say which: `ready saturday 10:00`");
            return None;
        }
        let wanted = PlanRequest {
            anchor: times.anchor,
            not_before: times.not_before,
            pins: &[],
            hours: (!hours.is_empty()).then_some(hours.as_slice()),
            zone: &times.zone,
            grid: Some(GRID),
        };
        let plan = match plan(&graph, &wanted) {
            Ok(plan) => plan,
            Err(conflict) => {
                let case = no_plan::Case {
                    house: self.house,
                    worked: &worked,
                    graph: &graph,
                    asked: &wanted,
                };
                let mut refusal =
                    no_plan::finding(case, &conflict, &times.told).label(span, "planned here");
                // It is the booklet that asks for it.
                refusal.labels.rotate_right(1);
                tell_of_house(self.house, std::slice::from_mut(&mut refusal));
                self.say(refusal);
                return None;
            }
        };
        let planned = Planned { worked: &worked, graph: &graph, plan: &plan, retiming: &retiming };
        let document = plan_document(self.house, &[planned], self.words, &wanted);
        Some(self.by_the_clock(&worked, &document))
    }

    /// When the bread is wanted, or begun, or both.
    fn times_of(&self, asked: &PlanAsked) -> Option<Times> {
        let read = |it: &'_ Option<(EcoString, Span)>| -> Option<Option<(When, Span)>> {
            let Some((written, span)) = it else { return Some(None) };
            let when = When::read(written);
            if when.is_none() {
                self.no_such_time(*span, written, &ClockError::Unreadable);
            }
            when.map(|when| Some((when, *span)))
        };
        let (ready, start) = (read(&asked.ready)?, read(&asked.start)?);
        let days: Vec<DayOf> = [ready, start].iter().flatten().map(|(when, _)| when.day).collect();
        let zone = self.zone_of(&days);
        let moment = |it: Option<(When, Span)>, written: &Option<(EcoString, Span)>| {
            let Some(((when, span), (written, _))) = it.zip(written.clone()) else {
                return Some(None);
            };
            match zone.instant_of(&when, None) {
                Ok(at) => Some(Some((when, at, written))),
                Err(why) => {
                    self.no_such_time(span, &written, &why);
                    None
                }
            }
        };
        let (ready, start) = (moment(ready, &asked.ready)?, moment(start, &asked.start)?);
        let (anchor, told) = match (&ready, &start) {
            (Some((when, at, written)), _) if when.by => {
                (Anchor::ReadyBy(*at), format!("ready {written}"))
            }
            (Some((_, at, written)), _) => (Anchor::Ready(*at), format!("ready at {written}")),
            (None, Some((_, at, written))) => (Anchor::Start(*at), format!("begun at {written}")),
            (None, None) => return None,
        };
        let both = ready.as_ref().zip(start.as_ref());
        let not_before =
            both.map(|((_, ready, _), (when, at, _))| last_before(&zone, when, *at, *ready));
        Some(Times { zone, anchor, not_before, told })
    }

    /// The zone that the days of a plan count in: dates in the house's.
    fn zone_of(&self, days: &[DayOf]) -> Zone {
        let own = self.house.settings.zone.as_ref().and_then(|zone| Zone::named(&zone.value));
        match days {
            days if days.iter().any(|day| matches!(day, DayOf::Date(_))) => {
                own.unwrap_or_else(|| Zone::from_library(jiff::tz::TimeZone::UTC))
            }
            days if days.iter().any(|day| matches!(day, DayOf::Weekday(_))) => {
                Zone::undated(Dating::AnyWeek)
            }
            _ => Zone::undated(Dating::AnyDay),
        }
    }

    fn no_such_time(&self, span: Span, written: &str, why: &ClockError) {
        let why = match why {
            ClockError::Unreadable => "it is not read as a time of day",
            ClockError::TooFar => "it is too far away",
            ClockError::NoSuchDay => "the clocks there skip that whole day",
            ClockError::NotTwice => "that hour comes once",
            ClockError::Skipped => "in that night the clocks skip that hour",
        };
        self.say(say::table_not_possible::no_such_time(span, written, why));
    }

    /// The rows of a plan, day by day.
    fn by_the_clock(&self, worked: &Worked, document: &PlanDocument) -> TablePart {
        let words = self.words;
        let mut rows = Vec::new();
        let mut date = "";
        for task in &document.tasks {
            if task.begins.date != date {
                date = &task.begins.date;
                let (kind, name) = ("head".into(), capital(date));
                rows.push(TableRow { kind, name, cells: Vec::new() });
            }
            rows.push(self.row_of_task(task));
        }
        let part = document.formulas.first();
        let ready = part.map(|part| {
            let args = [
                ("date", part.ready.date.as_str()),
                ("time", &*self.clock_as_read(&part.ready.time)),
            ];
            format!("{}, {}", part.makes, words.fill("print-ready", &args))
        });
        let needs_hands = words.say("booklet-times-need-hands");
        let of_part = part.iter().flat_map(|it| it.estimates.iter().chain(&it.notes));
        let notes = of_part.chain(&document.notes).cloned();
        let column = |id: &str| TableColumn { title: words.say(id), under: String::new() };
        TablePart {
            title: words
                .fill("booklet-plan", &[("formula", &crate::formula::title(&worked.formula))]),
            lead: ready.into_iter().collect(),
            names: words.say("print-step"),
            columns: vec![column("exercise-begins"), column("exercise-takes")],
            rows,
            notes: std::iter::once(needs_hands).chain(notes).collect(),
            ..TablePart::default()
        }
    }

    /// A time of day that a plan shows, as the booklet's readers write it.
    fn clock_as_read(&self, time: &str) -> String {
        let read = time.split_once(':').and_then(|(hours, minutes)| {
            Some(hours.parse::<i64>().ok()? * 60 + minutes.parse::<i64>().ok()?)
        });
        read.map_or_else(|| time.to_owned(), |minutes| self.clock_of_day(minutes))
    }

    fn row_of_task(&self, task: &TaskPart) -> TableRow {
        let title = match &task.stage {
            Some(stage) => format!("{stage} · {}", task.title),
            None => task.title.clone(),
        };
        let folds = (!task.folds.is_empty())
            .then(|| task.folds.iter().map(|it| self.clock_as_read(it)).collect::<Vec<_>>())
            .map(|times| self.words.fill("print-folded", &[("times", &times.join(", "))]));
        let at = task.at.iter().cloned();
        let name = std::iter::once(title).chain(at).chain(folds).collect::<Vec<_>>().join(", ");
        let mark = if task.estimated { "≈ " } else { "" };
        let time = task.time.as_ref().map(|time| format!("{mark}{time}")).unwrap_or_default();
        let begins = TableCell {
            strong: task.needed,
            ..TableCell::of(self.clock_as_read(&task.begins.time), "")
        };
        TableRow { kind: "line".into(), name, cells: vec![begins, TableCell::of(time, "")] }
    }
}

/// A beginning without a date is the last such time before the bread is ready.
fn last_before(zone: &Zone, when: &When, mut at: Instant, ready: Instant) -> Instant {
    let days = match when.day {
        DayOf::Date(_) => return at,
        DayOf::Weekday(_) => 7,
        DayOf::Any => 1,
    };
    while at >= ready {
        at = zone.days_later(at, -days);
    }
    while zone.days_later(at, days) < ready {
        at = zone.days_later(at, days);
    }
    at
}
