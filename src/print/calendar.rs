//! A plan as a calendar (RFC 5545): an event for everything that hands do, with an alarm.
//!
//! No clock is read: the stamp of every event is the time at which the bread is ready. What an
//! event is called in a calendar is made of the formula, of what is done, and of a name for the
//! baking, so that a later plan moves it instead of adding another.

use super::day_document::DayDocument;
use super::day_text::is_of;
use super::document::BarKind;
use super::plan_document::{MomentPart, PlanDocument, PlannedPart, TaskPart};
use crate::syntax::seen;
use chrono::Duration;
use icalendar::{Alarm, Calendar, Component, Event, EventLike, Related, Trigger};

/// Minutes before an event at which its alarm rings: time to wash one's hands.
const ALARM: i64 = 5;

/// The calendar of a plan. `event` is the name of the baking, else the date when the bread is
/// ready; `before` is a calendar of the same baking, whose events are moved, or cancelled where
/// nothing of the kind is done any more.
pub fn calendar(document: &PlanDocument, event: Option<&str>, before: Option<&str>) -> String {
    let mut calendar = Calendar::empty();
    calendar.append_property(("VERSION", "2.0"));
    calendar.append_property(("PRODID", "-//Assize//Assize//EN"));
    calendar.append_property(("CALSCALE", "GREGORIAN"));
    // The library escapes the one and not the other.
    calendar.append_property(("NAME", escaped(&document.title).as_str()));
    calendar.append_property(("X-WR-CALNAME", tame(&document.title).as_str()));
    let mut old = before.map(events).unwrap_or_default();
    for formula in &document.formulas {
        for entry in entries(document, formula) {
            let own = format!("{}/{}//", formula.name, entry.id);
            let name = event.map_or_else(|| date_of(formula), tidy);
            let uid = format!("{own}{name}@assize");
            // Of the same name if possible; else the same thing under the name it had.
            let same = old.iter().position(|old| old.uid == uid);
            let known = same.or_else(|| old.iter().position(|old| old.uid.starts_with(&own)));
            let known = known.map(|place| old.remove(place));
            let uid = known.as_ref().map_or(uid, |known| known.uid.clone());
            let sequence = known.map(|known| known.sequence.saturating_add(1));
            calendar.push(written(document, formula, &entry, &uid, sequence));
        }
    }
    let stamp = document.ends.utc.as_deref().unwrap_or_default();
    old.iter().for_each(|old| {
        calendar.push(cancelled(old, stamp));
    });
    folded(&calendar.to_string())
}

/// The calendar of a day: an event for each task of hands, or with `of` for all that one machine,
/// place or pair of hands does.
pub fn day_calendar(document: &DayDocument, of: Option<&str>) -> String {
    let mut calendar = Calendar::empty();
    calendar.append_property(("VERSION", "2.0"));
    calendar.append_property(("PRODID", "-//Assize//Assize//EN"));
    calendar.append_property(("CALSCALE", "GREGORIAN"));
    let title = of.map_or_else(|| document.title.clone(), |of| format!("{}, {of}", document.title));
    calendar.append_property(("NAME", escaped(&title).as_str()));
    calendar.append_property(("X-WR-CALNAME", tame(&title).as_str()));
    let last = document.tasks.iter().max_by_key(|task| task.to);
    let stamp = last.and_then(|task| task.ends.utc.clone()).unwrap_or_default();
    let own = document.tasks.iter().filter(|task| is_of(document, task, of));
    for task in own.filter(|task| of.is_some() || task.hands.is_some()) {
        let utc = |moment: &MomentPart| moment.utc.clone().unwrap_or_default();
        let stands = task.machine.as_ref().or(task.place.as_ref());
        let stands = stands.map(|name| format!(", {name}")).unwrap_or_default();
        let hands = task.hands.filter(|_| of.is_none());
        let hands = hands.map(|hands| format!(", hands {hands}")).unwrap_or_default();
        let uid = format!("{}/{}@assize", tidy(&document.name), tidy(&task.id));
        let summary = tame(&format!("{}: {}{stands}{hands}", task.whose, task.title));
        let mut event = Event::new();
        event
            .uid(&uid)
            .add_property("DTSTAMP", &stamp)
            .add_property("DTSTART", utc(&task.begins))
            .add_property("DTEND", utc(&task.ends))
            .summary(&summary);
        if task.hands.is_some() {
            let mut alarm = Alarm::display(&summary, Trigger::from(-Duration::minutes(ALARM)));
            alarm.add_property("DTSTAMP", &stamp).uid(&format!("alarm:{uid}"));
            event.alarm(alarm);
        }
        if let Some(house) = &document.house.title {
            event.location(&tame(house));
        }
        calendar.push(event.done());
    }
    folded(&calendar.to_string())
}

/// Something that stands in the calendar.
struct CalendarEntry<'a> {
    id: String,
    title: String,
    task: &'a TaskPart,
    from: &'a MomentPart,
    to: &'a MomentPart,
    is_fold: bool,
    /// What waits by itself after it, and stands nowhere else.
    waits: Vec<&'a TaskPart>,
}

fn entries<'a>(document: &PlanDocument, formula: &'a PlannedPart) -> Vec<CalendarEntry<'a>> {
    let mut entries: Vec<CalendarEntry> = Vec::new();
    let mut waits: Vec<&TaskPart> = Vec::new();
    for task in &formula.events {
        let title = format!("{}: {}", task.formula, called(task));
        // What waits needs somebody only when it begins.
        let busy = matches!(task.kind, BarKind::Hands | BarKind::Oven);
        if task.needed {
            let (from, to) = (&task.begins, if busy { &task.ends } else { &task.begins });
            let (id, title) = (task.id.clone(), title.clone());
            entries.push(CalendarEntry {
                id,
                title,
                task,
                from,
                to,
                is_fold: false,
                waits: Vec::new(),
            });
        } else {
            waits.push(task);
        }
        for (number, fold) in task.fold_moments.iter().enumerate() {
            let word = document.words.get("fold").map_or("fold", String::as_str);
            let (id, title) =
                (format!("{}-fold-{}", task.id, number + 1), format!("{title}, {word}"));
            let (from, to) = (fold, fold);
            entries.push(CalendarEntry {
                id,
                title,
                task,
                from,
                to,
                is_fold: true,
                waits: Vec::new(),
            });
        }
    }
    for wait in waits {
        match begun_at(&entries, wait).and_then(|at| entries.get_mut(at)) {
            Some(entry) => entry.waits.push(wait),
            None => entries.push(CalendarEntry {
                id: wait.id.clone(),
                title: format!("{}: {}", wait.formula, called(wait)),
                task: wait,
                from: &wait.begins,
                to: &wait.begins,
                is_fold: false,
                waits: Vec::new(),
            }),
        }
    }
    entries
}

/// The event at whose end a wait begins: the last one before it of the same dough or stage,
/// else of all; where there is none, the first.
fn begun_at(entries: &[CalendarEntry], wait: &TaskPart) -> Option<usize> {
    let last = |is_one: &dyn Fn(&CalendarEntry) -> bool| {
        let before = entries.iter().enumerate().filter(|(_, entry)| {
            !entry.is_fold && entry.task.begins.utc <= wait.begins.utc && is_one(entry)
        });
        before.max_by_key(|(_, entry)| &entry.task.begins.utc).map(|(at, _)| at)
    };
    // A stage that another formula builds waits before anything of this one is begun.
    let first = || {
        let own = entries.iter().enumerate().filter(|(_, entry)| !entry.is_fold);
        own.min_by_key(|(_, entry)| &entry.task.begins.utc).map(|(at, _)| at)
    };
    last(&|entry| entry.task.stage == wait.stage).or_else(|| last(&|_| true)).or_else(first)
}

/// `Proof`, `Levain, Ripen`.
fn called(task: &TaskPart) -> String {
    match &task.stage {
        Some(stage) => format!("{stage}, {}", task.title),
        None => task.title.clone(),
    }
}

/// The date when a formula is ready.
fn date_of(formula: &PlannedPart) -> String {
    let iso = formula.ready.iso.as_deref().unwrap_or_default();
    iso.split('T').next().unwrap_or_default().to_owned()
}

/// A name without what has a meaning in an event's identifier.
fn tidy(name: &str) -> String {
    let fits = |letter: char| letter.is_alphanumeric() || "-_.".contains(letter);
    name.trim().chars().map(|letter| if fits(letter) { letter } else { '-' }).collect()
}

fn written(
    document: &PlanDocument,
    formula: &PlannedPart,
    entry: &CalendarEntry,
    uid: &str,
    sequence: Option<u32>,
) -> Event {
    let utc = |moment: &MomentPart| moment.utc.clone().unwrap_or_default();
    let stamp = utc(&formula.ready);
    let mut event = Event::new();
    event
        .uid(uid)
        .add_property("DTSTAMP", &stamp)
        .add_property("DTSTART", utc(entry.from))
        .add_property("SEQUENCE", sequence.unwrap_or(0).to_string())
        .summary(&tame(&entry.title));
    // An end has to be later than the beginning (RFC 5545, 3.8.2.2).
    if entry.to.utc != entry.from.utc {
        event.add_property("DTEND", utc(entry.to));
    }
    let told = description(formula, entry);
    if !told.is_empty() {
        event.description(&tame(&told));
    }
    if let Some(house) = &document.house.title {
        event.location(&tame(house));
    }
    let mut ring = |title: &str, trigger: Trigger, which: &str| {
        // The library would stamp an alarm with the clock, and name it at random.
        let mut alarm = Alarm::display(&tame(title), trigger);
        alarm.add_property("DTSTAMP", &stamp).uid(&format!("{which}:{uid}"));
        event.alarm(alarm);
    };
    ring(&entry.title, (-Duration::minutes(ALARM)).into(), "alarm");
    if entry.task.comes_out && !entry.is_fold {
        let out = document.words.get("out").map_or("out of the oven", String::as_str);
        let at_the_end = Trigger::Duration(Duration::zero(), Some(Related::End));
        ring(&format!("{}: {out}", formula.title), at_the_end, "out");
    }
    event.done()
}

/// What to do, what the author notes, what can hurt somebody, the same of what waits after it,
/// and where it came from.
fn description(formula: &PlannedPart, entry: &CalendarEntry) -> String {
    let mut lines: Vec<String> = facts(entry.task).into_iter().chain(said(entry.task)).collect();
    for wait in &entry.waits {
        let facts = facts(wait).map(|facts| format!(": {facts}")).unwrap_or_default();
        lines.push(format!("{}{facts}", called(wait)));
        lines.extend(said(wait));
    }
    lines.extend(formula.trace.as_ref().map(|it| format!("{} {}", it.revision, it.code)));
    lines.join("\n")
}

/// How long something waits and how warm, where its words do not say it.
fn facts(task: &TaskPart) -> Option<String> {
    let waits = matches!(task.kind, BarKind::Waiting | BarKind::Cold);
    let time = task.time.as_ref().filter(|_| waits);
    let at = task.at.as_ref().filter(|at| !task.text.contains(at.as_str()));
    let facts: Vec<&str> = [time, at].into_iter().flatten().map(String::as_str).collect();
    (!facts.is_empty()).then(|| facts.join(", "))
}

/// The words of something: what to do, notes, cautions.
fn said(task: &TaskPart) -> impl Iterator<Item = String> {
    let all = std::iter::once(&task.text).chain(&task.notes).chain(&task.cautions);
    all.map(|words| words.trim().to_owned()).filter(|words| !words.is_empty())
}

/// An event of a calendar that was made before.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Old {
    uid: String,
    sequence: u32,
    start: String,
    summary: String,
    is_cancelled: bool,
}

/// What is not done any more is cancelled: a calendar that left it out would keep it.
fn cancelled(old: &Old, stamp: &str) -> Event {
    let sequence = old.sequence.saturating_add(u32::from(!old.is_cancelled));
    let mut event = Event::new();
    event
        .uid(&old.uid)
        .add_property("DTSTAMP", stamp)
        .add_property("DTSTART", &old.start)
        .add_property("SEQUENCE", sequence.to_string())
        .add_property("STATUS", "CANCELLED")
        .summary(&old.summary);
    event.done()
}

/// The events of a calendar that are ours, whoever has kept it since.
fn events(text: &str) -> Vec<Old> {
    let mut events = Vec::new();
    let mut blocks: Vec<String> = Vec::new();
    let mut old = Old::default();
    for line in unfolded(text) {
        let Some((name, value)) = line.split_once(':') else { continue };
        let name = name.split(';').next().unwrap_or_default().to_uppercase();
        let block = value.trim().to_uppercase();
        let in_event = blocks.last().is_some_and(|block| block == "VEVENT");
        match name.as_str() {
            "BEGIN" => {
                if block == "VEVENT" {
                    old = Old::default();
                }
                blocks.push(block);
            }
            "END" => {
                blocks.pop();
                if block == "VEVENT" && old.uid.ends_with("@assize") && !old.start.is_empty() {
                    events.push(std::mem::take(&mut old));
                }
            }
            "UID" if in_event => old.uid = plain(value),
            "SEQUENCE" if in_event => old.sequence = value.trim().parse().unwrap_or(0),
            "DTSTART" if in_event => old.start = value.trim().to_owned(),
            "SUMMARY" if in_event => old.summary = plain(value),
            "STATUS" if in_event => old.is_cancelled = block == "CANCELLED",
            _ => {}
        }
    }
    events
}

/// Lines are folded where they are long: what begins with a blank goes on (RFC 5545, 3.1).
fn unfolded(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for line in text.lines() {
        match (line.strip_prefix([' ', '\t']), lines.last_mut()) {
            (Some(more), Some(last)) => last.push_str(more),
            _ => lines.push(line.to_owned()),
        }
    }
    lines
}

/// A calendar with no line longer than 75 bytes (RFC 5545, 3.1): the library leaves some last
/// parts of lines with one more.
fn folded(text: &str) -> String {
    const MOST: usize = 75;
    let mut folded = String::with_capacity(text.len());
    for line in unfolded(text) {
        let (mut rest, mut most) = (line.as_str(), MOST);
        while rest.len() > most {
            let end = (1..=most).rev().find(|&at| rest.is_char_boundary(at));
            let Some((part, after)) = end.and_then(|end| rest.split_at_checked(end)) else { break };
            folded.push_str(part);
            folded.push_str("\r\n ");
            // A line that goes on begins with a blank.
            (rest, most) = (after, MOST - 1);
        }
        folded.push_str(rest);
        folded.push_str("\r\n");
    }
    folded
}

/// A text with what means something in a calendar escaped (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    for letter in tame(text).chars() {
        match letter {
            '\n' => escaped.push_str("\\n"),
            '\\' | ';' | ',' => escaped.extend(['\\', letter]),
            letter => escaped.push(letter),
        }
    }
    escaped
}

/// A text without the control letters that a calendar may not hold (RFC 5545, 3.1), and without
/// others that nobody sees.
fn tame(text: &str) -> String {
    let is_kept = |letter: char| letter == '\n' || !letter.is_control();
    let kept: String =
        text.chars().map(|letter| if is_kept(letter) { letter } else { ' ' }).collect();
    seen(&kept).into_owned()
}

/// A text without its escapes (RFC 5545, 3.3.11).
fn plain(value: &str) -> String {
    let mut plain = String::new();
    let mut letters = value.trim_end_matches('\r').chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => {
                plain.extend(letters.next().map(|it| if "nN".contains(it) { '\n' } else { it }))
            }
            letter => plain.push(letter),
        }
    }
    plain
}
