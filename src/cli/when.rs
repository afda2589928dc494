//! The times that `assize plan` is asked for.

use super::args::Plan as Args;
use super::exit::Exit;
use super::tell::usage;
use crate::quantity::{Exact, Measures};
use crate::syntax::read_time;
use crate::syntax::tree::Weekdays;
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

/// The time zone of this machine.
///
/// # Errors
/// Where `TZ` names one that there is not: to take another for it would put everything at the
/// wrong hour.
pub fn of_the_system() -> Result<Zone, Exit> {
    let asked = std::env::var_os("TZ").filter(|asked| !asked.is_empty());
    let is_readable = asked.as_ref().is_none_or(|asked| {
        let name = asked.to_string_lossy();
        let name = name.strip_prefix(':').unwrap_or(&name);
        let is_named = jiff::tz::db().get(name).is_ok();
        // A pipe would never answer, and a device never end.
        is_named || std::path::Path::new(name).metadata().map_or(true, |known| known.is_file())
    });
    let known = is_readable.then(jiff::tz::TimeZone::try_system).and_then(Result::ok);
    let known = known.filter(|zone| !zone.is_unknown());
    match (known, asked) {
        (Some(zone), _) => Ok(Zone::from_library(zone)),
        (None, None) => Ok(Zone::from_library(jiff::tz::TimeZone::system())),
        (None, Some(asked)) => Err(usage(&format!(
            "`TZ` in the environment names the time zone `{}`, which does not exist: give another with \
             `--zone`, such as Europe/Paris",
            asked.to_string_lossy()
        ))),
    }
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
        ClockError::Unreadable => match wrong_with(text) {
            Some(why) => format!("`--{option} {text}` is not a date and a time: {why}"),
            None => format!(
                "`--{option} {text}` is not a date and a time: write \"2026-12-05 07:00\", or of \
                 any week \"sunday 11am\""
            ),
        },
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

/// What is wrong with a time that can't be read, and what to write; none where nothing is known
/// of it.
fn wrong_with(text: &str) -> Option<String> {
    const RELATIVE: [&str; 6] = ["tomorrow", "today", "tonight", "yesterday", "next", "this"];
    let text = text.trim().to_lowercase();
    let text = text.strip_prefix("by ").unwrap_or(&text);
    let words: Vec<&str> = text.split_whitespace().collect();
    if let Some(word) = words.iter().find(|word| RELATIVE.contains(word)) {
        let help = "write the date, as in \"2026-12-05 07:00\", or a weekday";
        return Some(format!("what `{word}` means changes from day to day: {help}"));
    }
    if words.contains(&"midnight") {
        return Some(
            "midnight ends one day and begins another: write 00:00 with the one it begins".into(),
        );
    }
    let first = words.first()?.split('t').next()?;
    let parts: Vec<&str> = first.split(['-', '/', '.']).collect();
    let numbers: Option<Vec<i32>> = parts.iter().map(|part| part.parse().ok()).collect();
    if let Some([one, two, three]) = numbers.as_deref() {
        if *one < 1000 && *three >= 1000 {
            let ways = [(two, one), (one, two)];
            let ways = ways.into_iter().filter(|(month, day)| days_of(*three, **month) >= **day);
            let mut ways: Vec<String> =
                ways.map(|(month, day)| format!("{three}-{month:02}-{day:02}")).collect();
            ways.dedup();
            return Some(match ways.is_empty() {
                true => "a date begins with its year, as in 2026-12-05".into(),
                false => format!("a date begins with its year: {}", ways.join(" or ")),
            });
        }
        if *one > 9999 {
            return Some(format!("a year has four digits, and `{one}` has more"));
        }
        let days = days_of(*one, *two);
        if days == 0 {
            return Some(format!("a year has no month {two}"));
        }
        if *three < 1 || *three > days {
            return Some(format!("{one}-{two:02} has {days} days, and no day {three}"));
        }
        if !first.contains('-') || parts[0].len() != 4 || parts[1].len() != 2 || parts[2].len() != 2
        {
            return Some(format!("write the date as {one}-{two:02}-{three:02}"));
        }
        if words.len() == 1 && !text.contains('t') {
            return Some(format!("the time is missing: write \"{first} 07:00\""));
        }
    }
    if words.len() == 1 && text.chars().all(char::is_alphabetic) && Weekdays::number(text).is_some()
    {
        return Some(format!("the time is missing: write \"{text} 11am\""));
    }
    let clock = words.last()?.trim_end_matches(char::is_alphabetic);
    let (hour, minute) = clock.split_once(':')?;
    let (hour, minute): (u32, u32) = (hour.parse().ok()?, minute.parse().ok()?);
    let is_half = words.last().is_some_and(|word| word.ends_with('m'))
        || words.iter().any(|word| matches!(*word, "am" | "pm"));
    match (hour, minute) {
        (_, 60..) => Some(format!("an hour has no minute {minute}")),
        (24.., _) => Some(format!("a day has no {hour}:{minute:02}; its last minute is 23:59")),
        (13.., _) | (0, _) if is_half => {
            Some(format!("write {hour}:{minute:02} without `am` or `pm`"))
        }
        _ => None,
    }
}

/// Days of a month; none where there is no such month.
fn days_of(year: i32, month: i32) -> i32 {
    let first = i16::try_from(year).ok().zip(i8::try_from(month).ok());
    let first = first.and_then(|(year, month)| jiff::civil::Date::new(year, month, 1).ok());
    first.map_or(0, |date| date.days_in_month().into())
}

/// Hours as `--ready` takes them, `7am..10:30pm` or `noon`, written as a house writes them.
pub fn in_24_hours(text: &str) -> String {
    let mut written = String::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let end = rest.find(|letter: char| !letter.is_alphanumeric() && letter != ':');
        let end = end.unwrap_or(rest.len());
        if end == 0 {
            written.push(first);
            rest = &rest[first.len_utf8()..];
            continue;
        }
        let (word, after) = rest.split_at(end);
        // `7 am` as well.
        let gap = after.len() - after.trim_start().len();
        let half = after.trim_start().get(..2).filter(|half| {
            let goes_on = after.trim_start()[2..].starts_with(char::is_alphanumeric);
            is_half(half) && gap > 0 && !goes_on
        });
        let spoken = half.map_or(word.to_owned(), |half| format!("{word}{half}"));
        match clock_of(&spoken) {
            Some(clock) => {
                written.push_str(&clock);
                rest = &after[half.map_or(0, |half| gap + half.len())..];
            }
            None => {
                written.push_str(word);
                rest = after;
            }
        }
    }
    written
}

fn is_half(word: &str) -> bool {
    word.eq_ignore_ascii_case("am") || word.eq_ignore_ascii_case("pm")
}

/// `19:00` of `7pm`, `12:00` of `noon`; none of what is no such time.
fn clock_of(word: &str) -> Option<String> {
    let word = word.to_lowercase();
    let is_time = word == "noon" || word.ends_with("am") || word.ends_with("pm");
    let when = When::read(&word).filter(|when| is_time && when.day == DayOf::Any)?;
    Some(when.clock())
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
