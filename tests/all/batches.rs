//! A dough that is mixed in batches: each stays in its bowl until its last mixing is over, and
//! notes and calendars say of them what the list says.

use crate::support::{assize, err, folder, out};
use proptest::prelude::*;
use serde_json::Value;
use std::collections::BTreeMap;

/// A mixing method, and how many batches of the dough there are.
#[derive(Clone, Debug)]
struct Mixed {
    autolyse: Option<u32>,
    /// Minutes of each mixing, and of a rest after it.
    mixings: Vec<(u32, u32)>,
    batches: u32,
    bulk: (u32, u32),
}

impl Mixed {
    fn text(&self) -> String {
        let mut steps = String::new();
        if let Some(minutes) = self.autolyse {
            steps.push_str(&format!("    autolyse {minutes}min with bread flour, water\n"));
        }
        for (number, (mix, rest)) in self.mixings.iter().enumerate() {
            let with = match number {
                0 => " with everything else",
                1 => " with salt",
                _ => "",
            };
            steps.push_str(&format!("    mix {mix}min in planet{with}\n"));
            if *rest > 0 && number + 1 < self.mixings.len() {
                steps.push_str(&format!("    rest {rest}min\n"));
            }
        }
        // 6 kg and a half of each batch's mixer, in pieces of 500 g.
        let pieces = self.batches * 12;
        let (low, high) = self.bulk;
        format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ zone Europe/Paris; mixer planet {{ holds 1 kg..6 kg }} }}
formula dune-loaf \"Dune Loaf\" {{
  makes {pieces} loaves at 500 g
  total {{ bread flour 100%; water 66%; salt 2%; fresh yeast 1% }}
  method {{
{steps}    bulk {low}min..{high}min at 25C
    divide 20min
    shape 20min
    proof 60min..80min at 26C
    bake 30min at 230C
    cool 1h
  }}
}}
"
        )
    }
}

fn mixed() -> impl Strategy<Value = Mixed> {
    let mixing = (2u32..12, prop_oneof![Just(0u32), 5u32..40]);
    let mixings = prop::collection::vec(mixing, 1..4);
    let autolyse = prop::option::of(20u32..60);
    (autolyse, mixings, 2u32..5, (60u32..120, 0u32..60)).prop_map(
        |(autolyse, mixings, batches, (bulk, more))| Mixed {
            autolyse,
            mixings,
            batches,
            bulk: (bulk, bulk + more),
        },
    )
}

fn run(text: &str, format: &str) -> String {
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let args = ["plan", "a.dough", "--format", format, "--ready", "2026-12-05 22:00"];
    let output = assize(folder.path(), &args);
    assert!(output.status.success(), "{}\n{text}", err(&output));
    out(&output)
}

fn minutes(stamp: &str) -> i64 {
    stamp.parse::<jiff::Timestamp>().expect("a time").as_second() / 60
}

type Spans = BTreeMap<String, Vec<(i64, i64)>>;

/// What is done of each batch, by its number, as it is listed.
fn listed(plan: &Value) -> Spans {
    let mut spans = Spans::new();
    for task in plan["tasks"].as_array().expect("tasks") {
        let title = task["title"].as_str().unwrap_or_default();
        let Some((_, batch)) = title.split_once(", batch ") else { continue };
        let at = |key: &str| minutes(task[key]["iso"].as_str().expect("a time"));
        spans.entry(batch.to_owned()).or_default().push((at("begins"), at("ends")));
    }
    spans
}

/// The same of a calendar: only what hands do.
fn in_calendar(text: &str) -> Spans {
    let unfolded = text.replace("\r\n ", "").replace("\r\n", "\n");
    let mut spans = Spans::new();
    for event in unfolded.split("BEGIN:VEVENT").skip(1) {
        let event = event.split("BEGIN:VALARM").next().unwrap_or_default();
        let line = |name: &str| {
            let lines = event.lines().map(str::trim);
            let mut own = lines.filter_map(|line| line.strip_prefix(name)?.strip_prefix(':'));
            own.next().map(str::to_owned)
        };
        let summary = line("SUMMARY").expect("a title").replace('\\', "");
        let Some((title, batch)) = summary.split_once(", batch ") else { continue };
        if !title.contains("Mix") {
            continue;
        }
        let at = |name: &str| {
            let stamp = line(name).expect("a time");
            // 20261205T2200 as 2026-12-05T22:00.
            let (date, time) = stamp.split_once('T').expect("a date and a time");
            let (year, month, day) = (&date[..4], &date[4..6], &date[6..]);
            minutes(&format!("{year}-{month}-{day}T{}:{}:00Z", &time[..2], &time[2..4]))
        };
        spans.entry(batch.to_owned()).or_default().push((at("DTSTART"), at("DTEND")));
    }
    spans
}

/// `1 h 5 min` as minutes.
fn told(words: &str) -> i64 {
    let mut parts = words.split_whitespace();
    let mut sum = 0;
    while let (Some(number), Some(unit)) = (parts.next(), parts.next()) {
        sum += number.parse::<i64>().expect("a number") * if unit == "h" { 60 } else { 1 };
    }
    sum
}

fn between<'t>(text: &'t str, before: &str, after: &str) -> Option<&'t str> {
    text.split_once(before)?.1.split_once(after).map(|(between, _)| between)
}

/// Each batch from its first work in the bowl to its last lies outside every other's; the notes
/// are what follows from the list.
fn holds(mixed: &Mixed) {
    let text = mixed.text();
    let plan: Value = serde_json::from_str(&run(&text, "json")).expect("JSON");
    let spans = listed(&plan);
    assert!(spans.len() >= 2, "{text}");
    let bowl = |spans: &Vec<(i64, i64)>| {
        let from = spans.iter().map(|span| span.0).min().expect("a span");
        (from, spans.iter().map(|span| span.1).max().expect("a span"))
    };
    let bowls: Vec<(i64, i64)> = spans.values().map(bowl).collect();
    for pair in bowls.windows(2) {
        assert!(pair[0].1 <= pair[1].0, "{bowls:?}\n{text}");
    }
    let notes = plan["formulas"][0]["notes"].to_string();
    let ahead = between(&notes, "the first is ", " further on").expect("a note");
    let (first, last) = (bowls[0].1, bowls[bowls.len() - 1].1);
    assert_eq!(told(ahead), last - first, "{notes}\n{text}");
    let sum = between(&notes, " = ", ". The times").expect("a sum");
    assert_eq!(told(sum), last - bowls[0].0, "{notes}\n{text}");
    // What the first batch takes of its bulk beyond what is written is told, and only then.
    let tasks = plan["tasks"].as_array().expect("tasks");
    let bulk = tasks.iter().find(|task| task["title"] == "Bulk").expect("a bulk");
    let end = minutes(bulk["ends"]["iso"].as_str().expect("a time"));
    let over = end - first - i64::from(mixed.bulk.1);
    let said = between(&notes, "For the first batch Bulk takes ", " more than");
    assert_eq!(said.map_or(0, told), over.max(0), "{notes}\n{text}");
    let mut mixes = in_calendar(&run(&text, "ics"));
    for (batch, own) in &mut mixes {
        own.sort_unstable();
        let (from, to) = bowl(&spans[batch]);
        assert!(own.iter().all(|span| from <= span.0 && span.1 <= to), "{batch}\n{text}");
        assert_eq!(own.len(), mixed.mixings.len(), "{text}");
    }
    assert_eq!(mixes.len(), spans.len(), "{text}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    #[test]
    fn a_batch_stays_in_its_bowl_until_its_last_mixing_is_over(mixed in mixed()) {
        holds(&mixed);
    }
}

/// Two mixings, a rest between them, an autolyse before them.
#[test]
fn batches_of_several_mixings_are_mixed_one_after_the_other() {
    for (autolyse, mixings, batches) in [
        (None, vec![(9, 0), (2, 0)], 2),
        (None, vec![(9, 0), (2, 0)], 4),
        (None, vec![(3, 10), (5, 0)], 2),
        (Some(30), vec![(3, 0), (2, 20), (1, 0)], 3),
    ] {
        holds(&Mixed { autolyse, mixings, batches, bulk: (90, 120) });
    }
}

/// What ferments in bulk is out of its bowl: it waits for both batches, and goes back in batches.
#[test]
fn a_dough_that_ferments_leaves_its_bowl() {
    let mixed =
        Mixed { autolyse: None, mixings: vec![(9, 0), (2, 0)], batches: 2, bulk: (90, 120) };
    let text = mixed
        .text()
        .replace("    bulk 90min", "    bulk 30min at 25C\n    mix 3min in planet\n    bulk 90min");
    let plan: Value = serde_json::from_str(&run(&text, "json")).expect("JSON");
    let tasks = plan["tasks"].as_array().expect("tasks").iter();
    let titles: Vec<&str> = tasks.filter_map(|task| task["title"].as_str()).take(8).collect();
    let (one, two) = (", batch 1 of 2", ", batch 2 of 2");
    let titles: Vec<&str> =
        titles.iter().map(|title| title.trim_start_matches(|it| it != ',')).collect();
    assert_eq!(titles, [one, one, two, two, "", one, two, ""]);
}
