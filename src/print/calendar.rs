//! A plan as a calendar (RFC 5545): an event for everything that hands do, with an alarm.
//!
//! No clock is read: the stamp of every event is the time at which the bread is ready,
//! and its identifier is made of the plan.

use super::document::BarKind;
use super::plan::{PlanDocument, PlannedPart, TaskPart};
use chrono::Duration;
use icalendar::{Alarm, Calendar, Component, Event, EventLike};

/// Minutes before an event at which its alarm rings: time to wash one's hands.
const ALARM: i64 = 5;

/// The calendar of a plan.
pub fn calendar(document: &PlanDocument) -> String {
    let mut calendar = Calendar::empty();
    calendar.append_property(("VERSION", "2.0"));
    calendar.append_property(("PRODID", "-//Assize//Assize//EN"));
    calendar.append_property(("CALSCALE", "GREGORIAN"));
    calendar.name(&document.title);
    for formula in &document.formulas {
        let needed = formula.tasks.iter().filter(|task| is_needed(task));
        for (number, task) in needed.enumerate() {
            calendar.push(event(document, formula, task, number));
        }
    }
    calendar.to_string()
}

/// Whether somebody has to come: for what hands do, and for what goes into the oven or
/// the cold.
fn is_needed(task: &TaskPart) -> bool {
    task.kind != BarKind::Waiting || !task.folds.is_empty()
}

fn event(document: &PlanDocument, formula: &PlannedPart, task: &TaskPart, number: usize) -> Event {
    let title = match &task.stage {
        Some(stage) => format!("{}: {stage}, {}", formula.title, task.title),
        None => format!("{}: {}", formula.title, task.title),
    };
    let name = format!("{}-{}-{number}", formula.name, formula.ready.utc);
    let mut event = Event::new();
    event
        .uid(&format!("{name}@assize"))
        .add_property("DTSTAMP", &formula.ready.utc)
        .add_property("DTSTART", &task.begins.utc)
        .add_property("DTEND", &task.ends.utc)
        .summary(&title);
    let mut text = task.text.clone();
    if !task.folds.is_empty() {
        text.push_str(&format!(" {}", task.folds.join(", ")));
    }
    if !text.trim().is_empty() {
        event.description(text.trim());
    }
    if let Some(house) = &document.house.title {
        event.location(house);
    }
    // The library would stamp an alarm with the clock, and name it at random.
    let mut alarm = Alarm::display(&title, -Duration::minutes(ALARM));
    alarm.add_property("DTSTAMP", &formula.ready.utc).uid(&format!("{name}-alarm@assize"));
    event.alarm(alarm);
    event.done()
}
