//! How plans are asked for and told: times as people say them, hours by weekday, nights in
//! which clocks change, calendars that move, several formulas at once, and why there is none.

use crate::support::{assize, err, folder, out, top};
use assize::testing::time::clock::{MINUTE, Zone};
use assize::testing::time::{Anchor, Doing, Hands, PlanRequest};
use proptest::prelude::*;
use std::path::Path;
use std::process::Output;

const MOLE: &str = r#"
formula mole-loaf "Mole Loaf" {
  makes  2 loaves at 930 g
  total {
    bread flour         100%
    water                75%
    salt                  2%
  }
  preferment levain {
    ferments      20% of flour
    bread flour  100%
    water        100%
    white culture 20%
    ripens  8h..10h at 24C; keeps 2h
  }
  method {
    mix       7min with levain, everything else {
      note     "Hold a little water back."
    }
    bulk      3h..4h at 25C fold 3 times every 40min
    divide    10min
    shape     10min
    proof     8h..14h at 5C
    score     5min
    bake      25min at 245C steamed then 20min at 220C
    cool      2h
  }
}
"#;

/// Runs `assize plan` in a folder that holds a text.
fn plan(text: &str, args: &[&str]) -> Output {
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    assize(folder.path(), &[&["plan"], args].concat())
}

/// What a plan says, which there is.
fn told(text: &str, args: &[&str]) -> String {
    let output = plan(text, args);
    assert_eq!((output.status.code(), err(&output)), (Some(0), String::new()), "{args:?}");
    out(&output)
}

fn json(text: &str, args: &[&str]) -> serde_json::Value {
    serde_json::from_str(&told(text, &[args, &["--format", "json"]].concat())).expect("JSON")
}

/// What is said where there is no plan, on one line.
fn refused(text: &str, args: &[&str]) -> String {
    let output = plan(text, args);
    assert_eq!(output.status.code(), Some(1), "{args:?} {}", out(&output));
    err(&output).split_whitespace().collect::<Vec<_>>().join(" ")
}

const PARIS: [&str; 2] = ["--zone", "Europe/Paris"];

#[test]
fn times_are_said_as_people_say_them() {
    let ready = |text: &str| {
        let told = told(MOLE, &[&["mole-loaf", "--ready", text], &PARIS[..]].concat());
        told.lines().nth(2).expect("when it is ready").to_owned()
    };
    assert_eq!(ready("2026-12-05 11am"), "ready Saturday 5 December 2026, 11:00 (Europe/Paris)");
    assert_eq!(ready("Sunday 11:00"), "ready Sunday, 11:00 (any week)");
    assert_eq!(ready("sun 11am"), "ready Sunday, 11:00 (any week)");
    assert_eq!(ready("11am"), "ready that day, 11:00 (any day)");
    assert_eq!(ready("by 11am"), "ready that day, 11:00 (any day)");
    // No date stands anywhere in a plan of any week, and no zone.
    let week = json(MOLE, &["mole-loaf", "--ready", "sunday 11:00"]);
    assert!(week["zone"].is_null() && week["dating"] == "any-week");
    assert!(week["begins"]["iso"].is_null() && week["begins"]["date"] == "Saturday");
    let day = told(MOLE, &["mole-loaf", "--ready", "11:00"]);
    assert!(day.contains("\nThe day before\n") && day.contains("\nThat day\n"), "{day}");
    let start = told(MOLE, &["mole-loaf", "--start", "11:00"]);
    assert!(start.contains("\nDay 1\n") && start.contains("\nDay 2\n"), "{start}");
}

#[test]
fn what_is_no_time_is_refused_with_what_to_write() {
    for (args, says) in [
        (&["--ready", "tomorrow 07:00"][..], "is not a date and a time"),
        (&["--ready", "7"], "sunday 11am"),
        (&["--start", "by 07:00"], "`by` is for when bread is ready"),
        (&["--ready", "2026-12-05 07:00", "--start", "sat 07:00"], "a date for both"),
        (&["--ready", "07:00", "--awake", "mon..fri 06:00..22:00"], "differ by weekday"),
        (&["--ready", "07:00", "--awake", "06:00..22:00, sat 07:00..9:00"], "is not hours"),
        (&["--ready", "07:00", "--grid", "7min"], "does not divide an hour evenly"),
        (&["--ready", "07:00", "--grid", "90s"], "does not divide an hour evenly"),
        (&["--ready", "07:00", "--format", "ics"], "a calendar needs a date"),
        (&["--ready", "2026-12-05 07:00", "--event", "market"], "is for `--format ics`"),
        (&["--ready", "2026-12-05 07:00 B"], "comes once"),
    ] {
        let output = plan(MOLE, &[&["mole-loaf"], args].concat());
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(err(&output).contains(says) && out(&output).is_empty(), "{}", err(&output));
    }
}

/// The only clock that is read is that of `--start now`, on the command line.
#[test]
fn a_clock_is_read_for_now_alone() {
    let mut readers = Vec::new();
    let mut folders = vec![top().join("src")];
    while let Some(folder) = folders.pop() {
        for entry in folder.read_dir().expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if let Ok(text) = std::fs::read_to_string(&path) {
                let count = text.matches("now()").count() + text.matches("SystemTime").count();
                let path = path.strip_prefix(top()).expect("inside").to_owned();
                readers.extend((count > 0).then_some((path, count)));
            }
        }
    }
    readers.sort();
    // How long something takes to be set is shown as progress, and stands in nothing.
    let progress = (Path::new("src/cli/progress.rs").to_owned(), 1);
    assert_eq!(readers, [progress, (Path::new("src/cli/when.rs").to_owned(), 1)]);
}

#[test]
fn now_is_the_next_five_minutes_and_nothing_begins_before_it() {
    let minute = 60_000;
    let clock = || jiff::Timestamp::now().as_millisecond();
    let before = clock();
    let begun = json(MOLE, &["mole-loaf", "--start", "now", "--zone", "Europe/Paris"]);
    let begins: jiff::Timestamp =
        begun["begins"]["iso"].as_str().expect("a date").parse().expect("a time");
    let begins = begins.as_millisecond();
    assert!(begins % (5 * minute) == 0 && begins >= before && begins <= clock() + 5 * minute);
    // What began before now is told only then.
    told(MOLE, &["mole-loaf", "--ready", "2020-12-05 07:00", "--zone", "Europe/Paris"]);
    told(MOLE, &["mole-loaf", "--start", "2020-12-05 07:00", "--zone", "Europe/Paris"]);
    let past = ["mole-loaf", "--ready", "2020-12-05 07:00", "--start", "now"];
    let past = plan_output(&past);
    assert_eq!(past.status.code(), Some(2));
    assert!(err(&past).contains("is not after now"), "{}", err(&past));
    // It takes 20 h at least: in the next hour there is none, and later there is.
    let soon = jiff::Timestamp::now().as_millisecond() + 60 * minute;
    let soon = jiff::Timestamp::from_millisecond(soon).expect("a time");
    let soon = soon.in_tz("Europe/Paris").expect("a zone").strftime("%Y-%m-%d %H:%M").to_string();
    let args = ["mole-loaf", "--ready", &soon, "--start", "now"];
    let why = refused(MOLE, &[&args[..], &PARIS[..]].concat());
    assert!(why.contains("begun no earlier than now") && why.contains("the bread at"), "{why}");
    assert!(why.contains("from the beginning to ready takes at least"), "{why}");
    // A time without a date is the next one, and has a date.
    let args = ["mole-loaf", "--ready", "sunday 11:00", "--start", "now", "--format", "json"];
    let next = plan_output(&args);
    let says = out(&next) + &err(&next);
    assert!(says.contains("\"dating\": \"dates\"") || says.contains("the bread at"), "{says}");
}

fn plan_output(args: &[&str]) -> Output {
    plan(MOLE, &[args, &PARIS[..]].concat())
}

#[test]
fn hours_may_differ_by_weekday() {
    let hours = "mon..fri 06:00..22:00, sat, sun 08:00..23:00";
    for (day, opens) in [("friday", "06:00"), ("saturday", "08:00"), ("sunday", "08:00")] {
        // The bake is watched: 45 min, then 2 h of cooling.
        let at = |time: &str| format!("{day} {time}");
        let first = if opens == "06:00" { "08:55" } else { "10:55" };
        let ready = at(first);
        let plan = json(MOLE, &["mole-loaf", "--ready", &ready, "--awake", hours]);
        let mut score = plan["tasks"].as_array().expect("tasks").iter();
        let score = score.rfind(|task| task["title"] == "Score").expect("scored");
        assert!(score["begins"]["time"].as_str().expect("a time") >= opens, "{score}");
        let early = at(if opens == "06:00" { "08:45" } else { "10:45" });
        let why = refused(MOLE, &["mole-loaf", "--ready", &early, "--awake", hours]);
        assert!(why.contains(&format!("hours begin {} {opens}", &capital(day)[..3])), "{why}");
    }
    // In a bakehouse as on the command line.
    let house = format!("bakehouse \"Gullhaven\" {{ hours {hours} }}\n{MOLE}");
    let ready = ["mole-loaf", "--ready", "saturday 12:00"];
    let by_option = told(MOLE, &[&ready[..], &["--awake", hours]].concat());
    assert_eq!(told(&house, &ready), by_option);
    let folder = folder();
    let file = folder.path().join("a.dough");
    std::fs::write(&file, house.replace("..fri", " .. fri")).expect("written");
    assert_eq!(assize(folder.path(), &["fmt", "a.dough"]).status.code(), Some(0));
    let laid_out = std::fs::read_to_string(&file).expect("readable");
    assert!(laid_out.contains(&format!("hours {hours} }}")), "{laid_out}");
}

fn capital(word: &str) -> String {
    word[..1].to_uppercase() + &word[1..]
}

/// Bread in the night of 25 October 2026, in Paris: the dough is folded at both 02:40.
#[test]
fn both_of_an_hour_that_comes_twice_are_told_apart() {
    let text = MOLE.replace("every 40min", "every 60min");
    let text = text.replace("proof     8h..14h", "proof 8h").replace("bulk      3h..4h", "bulk 4h");
    // 4 h of bulk from 01:40 on, 20 min of work, 8 h of proof, 50 min of bake, 2 h of cooling,
    // and one hour more that the clocks go back: 15:50.
    let plan = json(&text, &[&["mole-loaf", "--ready", "2026-10-25 15:50"], &PARIS[..]].concat());
    let tasks = plan["tasks"].as_array().expect("tasks");
    let folds = tasks.iter().flat_map(|task| task["folds"].as_array().expect("a list"));
    let folds: Vec<&str> = folds.filter_map(|time| time.as_str()).collect();
    assert_eq!(folds, ["02:40 A", "02:40 B", "03:40"]);
    let notes = plan["notes"].as_array().expect("notes");
    assert!(notes[0].as_str().expect("words").contains("from 03:00 back to 02:00"), "{notes:?}");
    // What is printed can be typed again.
    for ready in ["2026-10-25 02:40 A", "2026-10-25 02:40 B"] {
        let plan = json(&text, &[&["mole-loaf", "--ready", ready], &PARIS[..]].concat());
        assert_eq!(plan["ends"]["time"], ready[11..]);
    }
    // Other nights have nothing to tell.
    let other = json(MOLE, &[&["mole-loaf", "--ready", "2026-12-05 10:00"], &PARIS[..]].concat());
    assert_eq!(other["notes"].as_array().map(Vec::len), Some(0));
    let spring = json(MOLE, &[&["mole-loaf", "--ready", "2026-03-29 10:00"], &PARIS[..]].concat());
    let note = spring["notes"][0].as_str().expect("a note");
    assert!(note.contains("from 02:00 on to 03:00"), "{note}");
}

/// Shading is "no one there" where hours say so, and night where nobody said any.
#[test]
fn night_is_called_night_where_no_hours_were_given() {
    let text = |args: &[&str]| {
        let args =
            [&["mole-loaf", "--ready", "2026-12-05 10:00", "--format", "pdf"], args].concat();
        let pdf = plan(MOLE, &args).stdout;
        let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let (free, given) = (text(&[]), text(&["--awake", "06:30..22:30"]));
    assert!(free.contains("night") && !free.contains("no one there"), "{free}");
    assert!(given.contains("no one there") && !given.contains("night"), "{given}");
}

/// The events of a calendar by a parser of other hands: what identifies each, its sequence,
/// its beginning, and whether it is cancelled.
fn events(text: &str) -> Vec<(String, u32, String, bool)> {
    use calcard::icalendar::{ICalendarComponentType as Kind, ICalendarProperty as Property};
    use calcard::{Entry, Parser};
    let Entry::ICalendar(calendar) = Parser::new(text).entry() else { panic!("no calendar") };
    let events = calendar.components.iter().filter(|it| it.component_type == Kind::VEvent);
    let event = events.map(|event| {
        let value = |property: Property| {
            let entry = event.entries.iter().find(|entry| entry.name == property);
            entry.map(|entry| format!("{:?}", entry.values)).unwrap_or_default()
        };
        let number: String =
            value(Property::Sequence).chars().filter(char::is_ascii_digit).collect();
        (
            value(Property::Uid),
            number.parse().expect("a sequence"),
            value(Property::Dtstart),
            value(Property::Status).to_lowercase().contains("cancelled"),
        )
    });
    event.collect()
}

/// A later plan moves what stands in the calendar: the same events, each one step further;
/// what is not done any more is cancelled, and what is new is new.
#[test]
fn a_calendar_moves_with_its_plan() {
    let folder = folder();
    let write = |name: &str, text: &str| {
        std::fs::write(folder.path().join(name), text).expect("written");
    };
    let ics = |more: &[&str]| {
        let args = [&["plan", "mole-loaf", "--format", "ics"], &PARIS[..], more].concat();
        let output = assize(folder.path(), &args);
        assert_eq!((output.status.code(), err(&output)), (Some(0), String::new()), "{more:?}");
        out(&output)
    };
    write("a.dough", MOLE);
    let first = ics(&["--ready", "2026-12-05 10:00"]);
    let names = |text: &str| events(text).into_iter().map(|event| event.0).collect::<Vec<_>>();
    let mut unique = names(&first);
    unique.sort();
    unique.dedup();
    assert_eq!(unique.len(), events(&first).len());
    assert!(unique.iter().all(|name| name.contains("2026-12-05")), "{unique:?}");
    assert!(events(&first).iter().all(|event| event.1 == 0 && !event.3));
    // The same bread on the same day at other times and in another room has the same names.
    assert_eq!(names(&ics(&["--ready", "2026-12-05 12:30"])), names(&first));
    assert_ne!(names(&ics(&["--ready", "2026-12-06 10:00"])), names(&first));
    // One name for two days, where it is given.
    let named = |ready: &str| names(&ics(&["--ready", ready, "--event", "Saint Nicholas"]));
    assert_eq!(named("2026-12-05 10:00"), named("2026-12-06 10:00"));
    assert!(named("2026-12-05 10:00")[0].contains("Saint-Nicholas"));
    write("old.ics", &first);
    let second = ics(&["--ready", "2026-12-06 10:00", "--replaces", "old.ics"]);
    assert_eq!(names(&second), names(&first));
    assert!(events(&second).iter().all(|event| event.1 == 1));
    assert!(events(&first).iter().zip(events(&second)).all(|(old, new)| old.2 != new.2));
    // A calendar program folds, adds and sorts as it likes.
    let kept = second.replace("\r\n", "\n").replace("SEQUENCE:1", "SEQUENCE;X-WHO=me:41");
    write("old.ics", &kept);
    let third = ics(&["--ready", "2026-12-06 10:00", "--replaces", "old.ics"]);
    assert!(events(&third).iter().all(|event| event.1 == 42));
    // Another method: a rest comes in, the score goes.
    write("a.dough", &MOLE.replace("score     5min", "rest 5min"));
    write("old.ics", &third);
    let fourth = ics(&["--ready", "2026-12-06 10:00", "--replaces", "old.ics"]);
    let is_of = |event: &(String, u32, String, bool), word: &str| event.0.contains(word);
    for event in events(&fourth) {
        match (is_of(&event, "dough/score"), is_of(&event, "dough/rest")) {
            (true, _) => assert!(event.3 && event.1 == 43, "{event:?}"),
            (_, true) => assert!(!event.3 && event.1 == 0, "{event:?}"),
            _ => assert!(!event.3 && event.1 == 43, "{event:?}"),
        }
    }
    assert!(events(&fourth).iter().any(|event| event.3));
    // What was cancelled stays so, and does not count on.
    write("old.ics", &fourth);
    let fifth = ics(&["--ready", "2026-12-06 10:00", "--replaces", "old.ics"]);
    let cancelled = |text: &str| {
        events(text).into_iter().filter(|event| event.3).map(|event| event.1).collect::<Vec<_>>()
    };
    assert_eq!(cancelled(&fifth), cancelled(&fourth));
    // A step put in before others changes the name of none.
    write("a.dough", &MOLE.replace("    bulk ", "    rest 10min\n    bulk "));
    let more = names(&ics(&["--ready", "2026-12-05 10:00"]));
    assert!(names(&first).iter().all(|name| more.contains(name)) && more.len() > unique.len());
}

#[test]
fn events_tell_what_is_noted_and_what_can_hurt() {
    let args = [&["mole-loaf", "--ready", "2026-12-05 10:00", "--format", "ics"], &PARIS[..]];
    let text = told(MOLE, &args.concat()).replace("\r\n ", "");
    let events: Vec<&str> = text.split("BEGIN:VEVENT").collect();
    let of = |word: &str| *events.iter().find(|event| event.contains(word)).expect("it is there");
    assert!(of("UID:mole-loaf/dough/mix//").contains("Hold a little water back."));
    let oven = of("UID:mole-loaf/dough/bake//");
    assert!(oven.contains("DESCRIPTION:") && oven.to_lowercase().contains("steam"), "{oven}");
    // The last heat ends with an alarm of its own; the first one goes on.
    let last = of("UID:mole-loaf/dough/bake-phase-2//");
    assert!(last.contains("TRIGGER;RELATED=END:") && last.contains("out of the oven"), "{last}");
    assert!(!oven.contains("RELATED=END"), "{oven}");
    // Raw flour belongs to no step: the first event tells it.
    assert!(events[1].to_lowercase().contains("raw"), "{}", events[1]);
}

fn two(one: &str, two: &str, house: &str) -> String {
    let bread = |name: &str, more: &str| {
        format!(
            "formula {name} \"{}\" {{
  makes 10 loaves at 900 g
  total {{ bread flour 100%; water 70%; salt 2%; fresh yeast 1% }}
  method {{ {more} }}
}}
",
            capital(name)
        )
    };
    format!("{house}\n{}{}", bread("pier", one), bread("quay", two))
}

#[test]
fn several_formulas_are_one_list_and_machines_wanted_twice_are_told() {
    let method = |mix: &str, bulk: &str, bake: &str, cool: &str| {
        format!("mix {mix} with everything else; bulk {bulk}; bake {bake} at 240C; cool {cool}")
    };
    let house = "bakehouse \"Gullhaven\" { mixer spiral { holds 3 kg..28 kg }; mixer bench { holds 300 g..3 kg }
      oven deck { holds 24 loaves }; oven hearth { holds 12 loaves } }";
    let notes = |text: &str| -> Vec<String> {
        let args = ["pier", "quay", "--ready", "2026-12-05 10:00", "--zone", "Europe/Paris"];
        let plan = json(text, &args);
        let notes = plan["notes"].as_array().expect("notes").iter();
        notes.map(|note| note.as_str().expect("words").to_owned()).collect()
    };
    let pier = method("10min", "2h", "40min", "1h");
    // Both at once in everything.
    let same = notes(&two(&pier, &pier, house));
    assert_eq!(
        same,
        [
            "Pier and Quay need the mixer spiral at the same time: Saturday 5 December, 06:10–06:20.",
            "Pier and Quay are in the oven deck at the same time: Saturday 5 December, 08:20–09:00.",
            "One pair of hands is needed in several places at once: Saturday 5 December, 06:10–06:20 (Pier: Mix; Quay: Mix).",
        ]
    );
    // One minute of overlap is one too many; none is none.
    let touching = |cool: &str| notes(&two(&pier, &method("10min", "3h", "40min", cool), house));
    assert!(
        touching("101min")[..]
            == [
                "Pier and Quay are in the oven deck at the same time: Saturday 5 December, 08:20–08:20."
            ]
            || touching("101min").is_empty()
    );
    assert!(touching("100min").is_empty(), "{:?}", touching("100min"));
    assert_eq!(touching("99min").len(), 1);
    // By hand, in the other oven, or one formula alone: no machine is wanted twice.
    let hearth = method("10min by hand", "2h", "40min in hearth", "1h");
    let by_hand = notes(&two(&pier, &hearth, house));
    assert!(by_hand.len() == 1 && by_hand[0].contains("hands"), "{by_hand:?}");
    let alone = json(&two(&pier, &pier, house), &["pier", "--ready", "2026-12-05 10:00"]);
    assert_eq!(alone["notes"].as_array().map(Vec::len), Some(0));
    // Without machines that are declared there is one oven, and hands to mix.
    let home = notes(&two(&pier, &pier, ""));
    assert_eq!(home.len(), 2);
    assert!(home[0].contains("in the oven at the same time"), "{home:?}");
    // One list, in the order of the clock.
    let args = ["pier", "quay", "--ready", "2026-12-05 10:00", "--zone", "Europe/Paris"];
    let text = two(&pier, &hearth.replace("bulk 2h", "bulk 150min"), house);
    let plan = json(&text, &args);
    let tasks = plan["tasks"].as_array().expect("tasks");
    let times: Vec<&str> =
        tasks.iter().map(|task| task["begins"]["utc"].as_str().expect("a time")).collect();
    assert!(times.is_sorted() && times.len() == 8, "{times:?}");
    let told = told(&text, &args);
    let lines: Vec<&str> = told.lines().filter(|line| line.starts_with("  ")).collect();
    assert_eq!(lines.len(), 8);
    assert!(lines[0].contains("Quay · Mix") && lines[1].contains("Quay · Bulk"), "{told}");
    assert!(lines[2].contains("Pier · Mix"), "{told}");
}

/// The file that the issue of this test names: of two stages only the slow one can be first,
/// and what is in its way is the night.
#[test]
fn a_start_is_explained_by_what_can_be_first() {
    let text = r#"formula two-sours "Two Sours" {
  makes 2 loaves at 900 g
  total { bread flour 100%; water 70%; salt 2% }
  preferment quick sour { ferments 10% of flour; bread flour 100%; water 100%; white culture 50%; ripens 4h at 26C }
  preferment slow sour  { ferments 10% of flour; bread flour 100%; water 100%; white culture 10%; ripens 10h at 24C }
  method {
    mix   10min with quick sour, slow sour, everything else
    bulk  3h at 25C
    bake  40min at 240C
    cool  1h
  }
}
"#;
    for start in ["15:00", "2026-12-05 15:00"] {
        let why = refused(text, &["two-sours", "--start", start, "--awake", "06:00..22:00"]);
        assert!(
            why.contains("from slow sour to mix takes at least 10 h; hours end 22:00"),
            "{why}"
        );
        assert!(!why.contains("quick sour ripens"), "{why}");
        assert!(why.contains("a beginning at"), "{why}");
    }
}

const PIER: &str = r#"formula pier-loaf "Pier Loaf" {
  makes  2 loaves at 865 g
  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }
  method {
    mix    10min with everything else
    bulk   2h..3h
    shape  17min
    proof  1h..90min
    bake   40min at 240C
    cool   40min
  }
}
"#;

#[test]
fn why_there_is_no_plan_is_arithmetic() {
    let ready =
        |time: &str, awake: &str| refused(PIER, &["pier-loaf", "--ready", time, "--awake", awake]);
    // 2 h + 17 min + 1 h + 40 min + 40 min.
    let why = ready("sat 07:00", "03:30..20:00");
    let sum = "from bulk to ready takes at least 4 h 37 min; hours begin 03:30 (Sat 07:00 − 4 h 37 min = Sat 02:23)";
    assert!(why.contains(sum), "{why}");
    assert!(why.contains("the fewest that do not go together"), "{why}");
    // Hours that do for several steps at once: mix and the beginning of bulk.
    assert!(why.contains("hands from Sat 02:10 instead of from 03:30"), "{why}");
    assert!(!why.contains("no time of day fits"), "{why}");
    // Nobody is ever there long enough for mixing and shaping: no time fits.
    let never = ready("07:00", "06:00..06:30");
    assert!(never.contains("no time of day fits") && !never.contains("the bread at"), "{never}");
    let week = ready("sat 07:00", "mon, thu 06:00..06:30");
    assert!(week.contains("no time of the week fits"), "{week}");
}

/// What is offered is a little more or less of what waits by itself, and nothing that the
/// style of the formula does not allow.
#[test]
fn ways_out_are_none_that_a_baker_would_laugh_at() {
    let ways = |text: &str| {
        let why = refused(text, &["pier-loaf", "--ready", "sat 08:00", "--awake", "03:30..20:00"]);
        let help = why.split("help:").nth(1).expect("help").to_owned();
        help.split("note:").next().expect("help").to_owned()
    };
    // 08:00 less 4 h 47 min is 03:13: a quarter of an hour is missing.
    let plain = ways(PIER);
    assert!(plain.contains("bulk for 1 h 43 min instead of at least 2 h"), "{plain}");
    assert!(plain.contains("hands from Sat 03:10 instead of from 03:30"), "{plain}");
    for silly in ["bake for", "shape for", "mix for"] {
        assert!(!plain.contains(silly), "{plain}");
    }
    // The range that is asked least of its room comes first.
    let place = |word: &str| plain.find(word).unwrap_or(usize::MAX);
    assert!(place("bulk for") < place("proof for"), "{plain}");
    let styled = format!(
        "style pier bread {{ elapsed 4h47..9h; source \"invented for this test\" }}\n{}",
        PIER.replace("  makes", "  style  pier bread\n  makes")
    );
    let styled = ways(&styled);
    assert!(!styled.contains("bulk for") && styled.contains("hands from"), "{styled}");
}

/// What a stretch of hours means, minute by minute.
fn is_open(
    hours: &[assize::testing::syntax::tree::Open],
    moment: &assize::testing::time::clock::Moment,
) -> bool {
    let now = u32::from(moment.hour()) * 60 + u32::from(moment.minute());
    let today = moment.weekday();
    let yesterday = (today + 6) % 7;
    hours.iter().any(|open| match open.from < open.to {
        true => open.days.has(today) && open.from <= now && now < open.to,
        false => {
            open.days.has(today) && open.from <= now || open.days.has(yesterday) && now < open.to
        }
    })
}

fn weekday_hours() -> impl Strategy<Value = String> {
    let time = |quarter: u32| format!("{:02}:{:02}", quarter / 4, quarter % 4 * 15);
    let stretch = (0..96u32, 1..95u32)
        .prop_map(move |(from, long)| format!("{}..{}", time(from), time((from + long) % 96)));
    let days = prop::sample::select(vec![
        "mon",
        "tuesday",
        "wed",
        "thu..sat",
        "sun",
        "sat, sun",
        "fri..mon",
        "mon..sun",
        "Monday..friday",
        "tue, thu, sat",
    ]);
    prop::collection::vec((days, prop::collection::vec(stretch, 1..3)), 1..4).prop_map(|all| {
        let each = all.into_iter().map(|(days, times)| format!("{days} {}", times.join(", ")));
        each.collect::<Vec<_>>().join(", ")
    })
}

const ZONES: [(&str, &str); 8] = [
    ("Europe/Paris", "2026-10-25"),
    ("Europe/Paris", "2026-03-29"),
    ("America/New_York", "2026-11-01"),
    ("America/St_Johns", "2026-03-08"),
    ("Australia/Lord_Howe", "2026-04-05"),
    ("Africa/Casablanca", "2026-02-15"),
    ("Asia/Kathmandu", "2026-12-05"),
    ("UTC", "2026-12-05"),
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..Default::default() })]

    /// Somebody is there exactly when the words say so: every minute of nine days, through
    /// nights in which clocks change. Only the ends of hours within an hour that is skipped or
    /// comes twice are left out: what they mean is a matter of taste.
    #[test]
    fn weekday_hours_mean_what_they_say(text in weekday_hours(), place in 0..ZONES.len()) {
        let (zone, night) = ZONES[place];
        let zone = Zone::named(zone).expect("built in");
        let hours = assize::testing::syntax::read_hours(&text).expect("readable");
        let noon = zone.read(&format!("{night} 12:00")).expect("a time");
        let (begin, end) = (noon - 4 * 24 * 60 * MINUTE, noon + 5 * 24 * 60 * MINUTE);
        let openings = zone.openings(&hours, begin, end);
        prop_assert!(openings.windows(2).all(|pair| pair[0].1 < pair[1].0), "{openings:?}");
        for minute in (0..9 * 24 * 60).step_by(5) {
            let at = begin + minute * MINUTE;
            let near = zone.changes(at - 130 * MINUTE, at + 130 * MINUTE);
            if near.is_empty() {
                let there = openings.iter().any(|it| it.0 <= at && at < it.1);
                let moment = zone.at(at);
                prop_assert_eq!(there, is_open(&hours, &moment), "{} {}", text, moment.rfc3339());
            }
        }
    }

    /// Through nights in which clocks change, in several zones, lengths are what they are, hands
    /// are there when they are wanted, and times are on the grid of the clock on the wall.
    #[test]
    fn plans_pass_through_nights_in_which_clocks_change(
        place in 0..ZONES.len(),
        hour in 4..24u32,
        grid in prop::sample::select(vec![5i64, 10, 15, 30]),
        hours in prop::sample::select(vec!["00:00..24:00", "05:00..23:00", "18:00..14:00", "mon..sun 04:00..21:00"]),
    ) {
        let (name, night) = ZONES[place];
        let zone = Zone::named(name).expect("built in");
        let ready = zone.read(&format!("{night} {hour:02}:00")).expect("a time");
        let hours = assize::testing::syntax::read_hours(hours).expect("readable");
                // Every length that has no range is a multiple of every grid.
        let text = ["mix       7min", "score     5min", "bake      25min", "divide    10min", "shape     10min"];
        let text = text.iter().fold(MOLE.to_owned(), |text, step| {
            let verb = step.split(' ').next().expect("a verb");
            text.replace(step, &format!("{verb} 30min"))
        });
        let text = text.replace("then 20min", "then 30min").replace("every 40min", "every 60min");
        let loaded = crate::support::loaded(&text);
        let bakehouses = assize::testing::desk::bakehouses(&loaded);
        let formula = &bakehouses[0].files[0].tree.formulas[0];
        let worked = assize::testing::formula::work(&bakehouses[0].house, formula, &mut Vec::new());
        let graph = assize::testing::time::graph(&bakehouses[0].house, &worked).expect("a method");
        let wanted = PlanRequest {
            anchor: Anchor::Ready(ready),
            not_before: None, pins: &[],
            hours: Some(&hours),
            zone: &zone,
            grid: Some(grid * MINUTE),
        };
        if let Ok(plan) = assize::testing::time::plan(&graph, &wanted) {
            prop_assert_eq!(plan.end, ready);
            let times = &plan.times;
            let day = 24 * 60 * MINUTE;
            let openings = zone.openings(&hours, plan.begin - day, plan.end + day);
            for stretch in &graph.stretches {
                let (from, to) = (times[stretch.from], times[stretch.to]);
                let took = assize::testing::quantity::ratio(to - from, MINUTE);
                prop_assert!(took >= stretch.low && stretch.high.as_ref().is_none_or(|it| took <= *it));
                let there = openings.iter().any(|it| it.0 <= from && to <= it.1);
                prop_assert!(there || stretch.hands == Hands::Off, "{:?}", stretch.doing);
                let is_shown = matches!(stretch.doing, Doing::Step { .. } | Doing::Ripen { .. });
                let wall = (from + zone.offset(ready)) % (grid * MINUTE);
                prop_assert!(wall == 0 || !is_shown, "{:?}", zone.at(from).rfc3339());
            }
        }
    }
}

/// Without a date, days are told from that of the limit, wherever the plan ends: what is said of
/// the time at which the bread is ready, and how long before the limit that is, is one sum.
#[test]
fn a_limit_without_a_date_keeps_its_day() {
    let offset = |date: &str| match date.to_lowercase().as_str() {
        "that day" => 0,
        "the day before" => -1,
        "the day after" => 1,
        other => {
            let days = other.strip_suffix(" days before").map(|days| format!("-{days}"));
            let days = days.or(other.strip_suffix(" days after").map(str::to_owned));
            days.and_then(|days| days.parse::<i64>().ok()).unwrap_or_else(|| panic!("{other}"))
        }
    };
    let clock = |time: &str| {
        let (hours, minutes) = time.split_once(':').expect("a time");
        hours.parse::<i64>().expect("hours") * 60 + minutes.parse::<i64>().expect("minutes")
    };
    // The bread is ready an hour after the last hands, before midnight.
    let text = MOLE.replace("cool      2h", "cool 1h");
    let (mut early, mut days_before) = (0, 0);
    let limits = ["00:10", "02:00", "05:00", "07:00", "09:30", "12:00", "18:00", "23:50"];
    for awake in ["06:00..22:00", "07:00..22:30", "05:00..21:00"] {
        for limit in limits {
            let by = format!("by {limit}");
            let output = plan(&text, &["mole-loaf", "--ready", &by, "--awake", awake]);
            let text = out(&output);
            assert!(!text.contains("-1") && !err(&output).contains("-1 "), "{text}");
            if output.status.code() != Some(0) {
                continue;
            }
            let ready = text.lines().find_map(|line| line.strip_prefix("ready ")).expect("a head");
            let (date, time) =
                ready.split_once(" (").expect("of any day").0.split_once(", ").expect("a time");
            let ready = offset(date) * 1440 + clock(time);
            assert!(ready <= clock(limit), "{awake}, {limit}: {text}");
            days_before += usize::from(offset(date) < 0);
            // The last day of the list is that of the bread, or an earlier one.
            let days: Vec<i64> = text
                .lines()
                .filter(|line| {
                    line.ends_with("day") || line.ends_with("before") || line.ends_with("after")
                })
                .map(offset)
                .collect();
            assert!(
                !days.is_empty() && days.is_sorted() && days.iter().all(|day| *day <= offset(date)),
                "{text}"
            );
            let told = text.split_whitespace().collect::<Vec<_>>().join(" ");
            let Some((_, told)) = told.split_once("This is ") else { continue };
            let (gap, rest) = told.split_once(" before ").expect("a sum");
            let gap: i64 = gap.split(" min").next().map_or(0, |gap| {
                let (hours, minutes) = gap.split_once(" h").unwrap_or(("0", gap));
                hours.trim().parse::<i64>().expect("hours") * 60
                    + minutes.trim().parse::<i64>().unwrap_or(0)
            });
            let (date, rest) = rest.split_once(", ").expect("a time");
            assert_eq!((date, &rest[..5]), ("that day", limit), "{text}");
            // Long times are told in whole hours.
            assert!(
                (clock(limit) - ready - gap).abs() <= if gap < 600 { 0 } else { 30 },
                "{gap}: {text}"
            );
            early += 1;
        }
    }
    assert!(early > 5 && days_before > 3, "{early} {days_before}");
}

/// Everything that is said of a step stands in an event: of each thing that is begun its time,
/// warmth, words, notes and cautions together in one, and no note of a method in none.
#[test]
fn a_calendar_says_all_that_a_plan_says() {
    use calcard::icalendar::{ICalendarComponentType as Kind, ICalendarProperty as Property};
    use calcard::{Entry, Parser};
    let made = folder();
    let text = MOLE
        .replace("    divide    10min\n", "    divide 10min note \"Bench note.\"\n")
        .replace("every 40min", "every 40min { note \"Bulk note.\"; caution \"Bulk caution.\" }")
        .replace("14h at 5C", "14h at 5C note \"Proof note.\" caution \"Proof caution.\"")
        .replace("cool      2h", "cool 2h note \"Cool note.\" caution \"Cool caution.\"")
        .replace("keeps 2h", "keeps 2h; note \"Levain note.\"; caution \"Levain caution.\"")
        .replace("20min at 220C", "20min at 220C note \"Bake note.\" caution \"Bake caution.\"");
    std::fs::write(made.path().join("a.dough"), text).expect("written");
    let examples = top().join("examples/gullhaven");
    let mut houses: Vec<(std::path::PathBuf, String)> =
        vec![(made.path().to_owned(), "mole-loaf".into())];
    for file in crate::support::dough_files("examples/gullhaven") {
        let text = std::fs::read_to_string(&file).expect("read");
        let names = text.lines().filter_map(|line| line.strip_prefix("formula "));
        let names = names.filter_map(|line| line.split([' ', '{']).next()).map(str::to_owned);
        houses.extend(names.map(|name| (examples.clone(), name)));
    }
    let (mut planned, mut waits, mut noted) = (0, 0, 0);
    for ((house, name), room) in houses.iter().flat_map(|one| [(one, None), (one, Some("26C"))]) {
        let run = |format: &str| {
            let mut args =
                vec!["plan", name, "--ready", "2026-12-05 17:00", "--zone", "Europe/Paris"];
            args.extend(["--awake", "00:00..24:00", "--format", format]);
            args.extend(room.iter().flat_map(|room| ["--room", *room]));
            assize(house, &args)
        };
        let json = run("json");
        if json.status.code() != Some(0) {
            continue;
        }
        planned += 1;
        let ics = out(&run("ics"));
        let Entry::ICalendar(calendar) = Parser::new(&ics).entry() else { panic!("no calendar") };
        let events = calendar.components.iter().filter(|it| it.component_type == Kind::VEvent);
        let told: Vec<String> = events
            .map(|event| {
                let entry = event.entries.iter().find(|entry| entry.name == Property::Description);
                match entry.and_then(|entry| entry.values.first()) {
                    Some(calcard::icalendar::ICalendarValue::Text(told)) => told.clone(),
                    other => panic!("words for each event: {other:?}"),
                }
            })
            .collect();
        let json: serde_json::Value = serde_json::from_str(&out(&json)).expect("JSON");
        for task in json["formulas"][0]["tasks"].as_array().expect("tasks") {
            let of = |field: &str| task[field].as_str().map(str::to_owned);
            let list = |field: &str| {
                let all = task[field].as_array().expect("a list").iter();
                all.map(|text| text.as_str().expect("words").to_owned()).collect::<Vec<_>>()
            };
            let is_wait = task["kind"] == "waiting" || task["kind"] == "cold";
            let mut words: Vec<String> = of("text").into_iter().chain(of("at")).collect();
            words.extend(of("time").filter(|_| is_wait));
            words.extend(list("notes").into_iter().chain(list("cautions")));
            let is_all = |told: &&String| words.iter().all(|words| told.contains(words.trim()));
            assert!(told.iter().any(|told| is_all(&told)), "{name}: {words:?} in {told:#?}");
            waits += usize::from(is_wait && task["needed"] == false);
        }
        let shown = out(&assize(house, &["show", name, "--format", "json"]));
        let document: serde_json::Value = serde_json::from_str(&shown).expect("JSON");
        for step in document["method"].as_array().expect("steps") {
            let lists =
                ["notes", "cautions"].map(|field| step[field].as_array().expect("a list").clone());
            for words in lists.concat() {
                let words = words.as_str().expect("words");
                // A plan has notes as they are written, paper ends them like sentences.
                let words = words.trim_end_matches('.').to_lowercase();
                let is_told = told.iter().any(|told| told.to_lowercase().contains(&words));
                assert!(is_told, "{name}: {words} in {told:#?}");
                noted += 1;
            }
        }
    }
    assert!(planned > 20 && waits > 20 && noted > 30, "{planned} {waits} {noted}");
}

/// Each bad date says what is wrong with it.
#[test]
fn a_bad_date_says_what_is_wrong_with_it() {
    for (ready, says) in [
        ("tomorrow 10am", "`tomorrow` means changes from day to day"),
        ("next saturday 7:00", "`next` means changes from day to day"),
        ("saturday midnight", "write 00:00"),
        ("2026-02-30 07:00", "2026-02 has 28 days, and no day 30"),
        ("2028-02-30 07:00", "2028-02 has 29 days"),
        ("2026-13-01 07:00", "a year has no month 13"),
        ("2026-00-01 07:00", "a year has no month 0"),
        ("2026-06-31 07:00", "has 30 days, and no day 31"),
        ("12/5/2026 10:00", "2026-05-12 or 2026-12-05"),
        ("24.12.2026 10:00", "a date begins with its year: 2026-12-24"),
        ("2026/12/05 10:00", "write the date as 2026-12-05"),
        ("2026-12-5 10:00", "write the date as 2026-12-05"),
        ("2026-12-05", "the time is missing"),
        ("saturday", "the time is missing"),
        ("2026-12-05 25:00", "a day has no 25:00"),
        ("2026-12-05 07:75", "an hour has no minute 75"),
        ("2026-12-05 13:00pm", "without `am` or `pm`"),
        ("whenever", "sunday 11am"),
    ] {
        let output = plan(MOLE, &["mole-loaf", "--ready", ready]);
        assert_eq!(output.status.code(), Some(2), "{ready}: {}", out(&output));
        let told = err(&output).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(says) && told.contains(ready), "{ready}: {told}");
    }
}

/// What `--ready` takes as a time of day, `--awake` takes too.
#[test]
fn waking_hours_are_said_like_the_time_that_bread_is_ready() {
    let told = |awake: &str| {
        let done = plan(MOLE, &["mole-loaf", "--ready", "saturday noon", "--awake", awake]);
        (done.status.code(), out(&done))
    };
    let (code, plain) = told("06:00..22:30");
    assert_eq!(code, Some(0), "{plain}");
    for awake in ["6am..10:30pm", "6 am..10:30 pm", "06:00..10:30pm", "6AM..10:30PM"] {
        assert_eq!(told(awake), (code, plain.clone()), "{awake}");
    }
    for awake in ["mon..fri 6am..10pm, sat, sun 8am..11pm", "noon..11:59pm, 12:30am..11am"] {
        assert_ne!(told(awake).0, Some(2), "{awake}");
    }
    for awake in ["6..22", "6am", "13am..2pm", "morning..evening"] {
        assert_eq!(told(awake).0, Some(2), "{awake}");
    }
}
