//! A plan as a calendar (RFC 5545): an event for everything that hands do, with an alarm.
//!
//! No clock is read: the stamp of every event is the time at which the bread is ready,
//! and its identifier is made of the plan.

use super::document::BarKind;
use super::plan::{MomentPart, PlanDocument, PlannedPart};
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
        let mut number = 0;
        let mut push = |title: &str, text: &str, from: &MomentPart, to: &MomentPart| {
            calendar.push(event(document, formula, title, text, (from, to), number));
            number += 1;
        };
        for task in &formula.tasks {
            let title = match &task.stage {
                Some(stage) => format!("{stage}, {}", task.title),
                None => task.title.clone(),
            };
            // What waits needs somebody only when it begins.
            let busy = matches!(task.kind, BarKind::Hands | BarKind::Oven);
            if task.needed {
                let end = if busy { &task.ends } else { &task.begins };
                push(&title, &task.text, &task.begins, end);
            }
            for fold in &task.fold_moments {
                let word = document.words.get("fold").map_or("fold", String::as_str);
                push(&format!("{title}, {word}"), "", fold, fold);
            }
        }
    }
    calendar.to_string()
}

fn event(
    document: &PlanDocument,
    formula: &PlannedPart,
    title: &str,
    text: &str,
    (from, to): (&MomentPart, &MomentPart),
    number: usize,
) -> Event {
    let title = format!("{}: {title}", formula.title);
    let name = format!("{}-{}-{number}", formula.name, formula.ready.utc);
    let mut event = Event::new();
    event
        .uid(&format!("{name}@assize"))
        .add_property("DTSTAMP", &formula.ready.utc)
        .add_property("DTSTART", &from.utc)
        .summary(&title);
    // An end has to be later than the beginning (RFC 5545, 3.8.2.2).
    if to.utc != from.utc {
        event.add_property("DTEND", &to.utc);
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
