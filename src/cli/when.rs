//! The times that `assize plan` is asked for.

use super::args::Plan as Args;
use super::exit::Exit;
use super::tell::usage;
use crate::quantity::{Exact, Measures};
use crate::syntax::read_time;
use crate::time::clock::{ClockError, Dating, DayOf, Instant, MINUTE, When, YEARS, Zone};
use crate::time::{Anchor, whole_minutes};

/// The times of a command line.
pub struct Anchored {
    /// The zone in which clock times are told.
    pub zone: Zone,
    /// What the plan is held at.
    pub anchor: Anchor,
    /// Nothing is begun before then.
    pub not_before: Option<Instant>,
    /// How it was asked, for messages.
    pub told: String,
}

/// When the bread is wanted, or begun, or both. `now` is the only word that a clock is read
/// for, anywhere.
pub fn anchored(args: &Args, zone: Zone, grid: i64) -> Result<Anchored, Exit> {
    let now = match args.start.as_deref().map(str::trim) {
        Some("now") => Some(now(&zone, grid)),
        _ => None,
    };
    let ready = args.ready.as_ref().map(|text| when("ready", text)).transpose()?;
    let start = match (&args.start, now) {
        (Some(text), None) => Some(when("start", text)?),
        _ => None,
    };
    if start.is_some_and(|start| start.by) {
        return Err(usage("`by` is for when bread is ready: say `--ready \"by 07:00\"`"));
    }
    let dating = |when: &When| match when.day {
        DayOf::Date(_) => Dating::Dates,
        DayOf::Weekday(_) => Dating::AnyWeek,
        DayOf::Any => Dating::AnyDay,
    };
    let datings: Vec<Dating> = ready.iter().chain(&start).map(dating).collect();
    let is_dated = datings.contains(&Dating::Dates) || now.is_some();
    if is_dated && now.is_none() && datings.iter().any(|it| *it != Dating::Dates) {
        return Err(usage("give a date for both, the beginning and when the bread is ready"));
    }
    let zone = match (is_dated, datings.contains(&Dating::AnyWeek)) {
        (true, _) => zone,
        (false, true) => Zone::undated(Dating::AnyWeek),
        (false, false) => Zone::undated(Dating::AnyDay),
    };
    let read = |option: &str, text: &str, when: &When, after: Option<Instant>| {
        zone.instant_of(when, after).map_err(|error| unreadable(option, text, &error))
    };
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let (ready_text, start_text) = (text(&args.ready), text(&args.start));
    let ready_at = ready.map(|it| read("ready", &ready_text, &it, now)).transpose()?;
    let start_at = start.map(|it| read("start", &start_text, &it, None)).transpose()?.or(now);
    let (anchor, told) = match (ready, ready_at, start_at) {
        (Some(when), Some(ready), _) => {
            let written = ready_text.trim();
            match when.by {
                true => (Anchor::ReadyBy(ready), format!("ready {written}")),
                false => (Anchor::Ready(ready), format!("ready at {written}")),
            }
        }
        (_, _, Some(start)) => (Anchor::Start(start), format!("begun at {}", start_text.trim())),
        _ => return Err(usage("say when: `--ready \"2026-12-05 07:00\"`")),
    };
    let told = match (ready_at, now) {
        (Some(_), Some(_)) => format!("{told} and begun no earlier than now"),
        (Some(_), None) if start.is_some() => {
            format!("{told} and begun no earlier than {}", start_text.trim())
        }
        (None, Some(_)) => "begun now".to_owned(),
        _ => told,
    };
    let not_before = start_at.map(|at| match (start, ready_at) {
        (Some(when), Some(ready)) => last_before(&zone, &when, at, ready),
        _ => at,
    });
    let not_before = not_before.filter(|_| ready_at.is_some() || now.is_some());
    if let (Some(ready), Some(first)) = (ready_at, not_before)
        && ready <= first
    {
        let first = if now.is_some() { "now" } else { start_text.trim() };
        return Err(usage(&format!("`--ready {ready_text}` is not after {first}")));
    }
    Ok(Anchored { zone, anchor, not_before, told })
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

/// The next full step of the grid, by this machine's clock.
fn now(zone: &Zone, grid: i64) -> Instant {
    let now = jiff::Timestamp::now().as_millisecond();
    let place = (now + zone.offset(now)).rem_euclid(grid);
    if place == 0 { now } else { now - place + grid }
}

fn when(option: &str, text: &str) -> Result<When, Exit> {
    When::read(text).ok_or_else(|| unreadable(option, text, &ClockError::Unreadable))
}

fn unreadable(option: &str, text: &str, error: &ClockError) -> Exit {
    usage(&match error {
        ClockError::Unreadable => format!(
            "`--{option} {text}` is not a date and a time: write \"2026-12-05 07:00\", or of any \
             week \"sunday 11am\""
        ),
        ClockError::TooFar => format!(
            "`--{option} {text}`: plans are made for the years {} to {}",
            YEARS.start(),
            YEARS.end()
        ),
        ClockError::NoSuchDay => {
            format!("`--{option} {text}`: the clocks there skip that whole day; say another")
        }
        ClockError::NotTwice => {
            format!("`--{option} {text}`: that hour comes once; leave the letter out")
        }
        ClockError::Skipped => {
            format!("in the night of {text} the clocks skip that hour; say another")
        }
    })
}

/// Milliseconds of a grid that parts an hour.
pub fn grid(text: &str) -> Result<i64, Exit> {
    let written = read_time(text).map(|it| it.unit.to_base(&it.number, Measures::default()));
    let parts_an_hour = |minutes: &i64| *minutes > 0 && 60 % minutes == 0;
    let minutes = written.as_ref().map(whole_minutes).filter(parts_an_hour);
    match (minutes, written) {
        (Some(minutes), Some(written)) if Exact::from(minutes) == written => Ok(minutes * MINUTE),
        _ => {
            let help = "write 5min, 15min or 1min";
            Err(usage(&format!("`--grid {text}` does not divide an hour evenly: {help}")))
        }
    }
}
