//! Hands are in one place at a time, batches go through the mixer one after the other, and what
//! several doughs have alike is built once: read from the plan as other programs read it.

use crate::support::{assize, err, folder, out};
use proptest::prelude::*;
use serde_json::Value;

/// Minutes that hands take for a fold, as the reference says it.
const FOLD: i64 = 2;

fn planned(text: &str, args: &[&str]) -> Option<Value> {
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let args = [&["plan", "--format", "json", "--zone", "Europe/Paris"], args].concat();
    let output = assize(folder.path(), &args);
    let told = err(&output);
    assert!(output.status.success() || told.contains("no-plan"), "{told}\n{text}");
    output.status.success().then(|| serde_json::from_str(&out(&output)).expect("JSON"))
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// Minutes since 1970, of a moment of the plan.
fn minutes(moment: &Value) -> i64 {
    let stamp: jiff::Timestamp = text(&moment["iso"]).parse::<jiff::Timestamp>().expect("a time");
    stamp.as_second() / 60
}

/// Hands at work: from, to, the formula, what is done, and where the clock shows it begins.
struct Work {
    from: i64,
    to: i64,
    formula: String,
    name: String,
    date: String,
}

/// All that hands do in a plan, of the one list.
fn works(plan: &Value) -> Vec<Work> {
    let mut works = Vec::new();
    for task in plan["tasks"].as_array().expect("tasks") {
        let formula = text(&task["formula"]);
        let stage = task["stage"].as_str().map(|stage| format!("{stage}, ")).unwrap_or_default();
        let work = |moment: &Value, to: i64, name: &str| Work {
            from: minutes(moment),
            to,
            formula: formula.clone(),
            name: format!("{stage}{name}"),
            date: text(&moment["date"]),
        };
        if task["kind"] == "hands" {
            let title = text(&task["title"]);
            let title = title.split(", batch").next().unwrap_or_default().to_owned();
            works.push(work(&task["begins"], minutes(&task["ends"]), &title));
        }
        for fold in task["fold_moments"].as_array().expect("folds") {
            works.push(work(fold, minutes(fold) + FOLD, "Fold"));
        }
    }
    works
}

/// Works that overlap without a note that names both and the time.
fn untold(plan: &Value) -> Vec<String> {
    let works = works(plan);
    let notes: Vec<String> = plan["notes"].as_array().expect("notes").iter().map(text).collect();
    let clock = |of_day: i64| format!("{:02}:{:02}", of_day / 60, of_day % 60);
    // In December Paris is an hour ahead of UTC.
    let of_day = |at: i64| (at + 60).rem_euclid(24 * 60);
    let is_told = |one: &Work, two: &Work, from: i64, to: i64| {
        notes.iter().filter(|note| note.contains("pair of hands")).any(|note| {
            let Some((_, times)) = note.split_once(&format!("{}, ", two.date)) else {
                return false;
            };
            let (Some(begin), Some(end)) = (times.get(0..5), times.get("00:00–".len()..13))
            else {
                return false;
            };
            let ends = clock(of_day(to));
            begin <= clock(of_day(from)).as_str()
                && ends.as_str() <= end
                && [one, two].iter().all(|it| note.contains(&it.name))
        })
    };
    let mut untold = Vec::new();
    for (place, one) in works.iter().enumerate() {
        for two in &works[place + 1..] {
            let (from, to) = (one.from.max(two.from), one.to.min(two.to));
            let later = if two.from >= one.from { (one, two) } else { (two, one) };
            if from < to && !is_told(later.0, later.1, from, to) {
                let what = format!("{} {} / {} {}", one.formula, one.name, two.formula, two.name);
                untold.push(format!("{what} at {}", clock(of_day(from))));
            }
        }
    }
    untold
}

/// One of the doughs of a day.
#[derive(Clone, Debug)]
struct Dough {
    loaves: u32,
    levain: u32,
    keeps: u32,
    feeds: u32,
    soakers: Vec<Option<u32>>,
    folds: u32,
    fold_step: bool,
    hands_on: bool,
    bulk: u32,
    proof: (u32, u32),
}

impl Dough {
    fn text(&self, name: &str) -> String {
        let Self { loaves, levain, keeps, feeds, bulk, proof, .. } = self;
        let mut stages = String::new();
        for (name, stands) in ["mash", "pulp"].iter().zip(&self.soakers) {
            let stands = stands.map(|hours| format!("    stands {hours}h..16h at 20C\n"));
            stages.push_str(&format!(
                "  soaker {name} {{\n    takes 5% of flour\n    bread flour 100%\n    \
                 water 100%\n{}  }}\n",
                stands.unwrap_or_default()
            ));
        }
        let fold = match self.folds {
            0 => String::new(),
            1 => " fold once".to_owned(),
            folds => format!(" fold {folds} times"),
        };
        let hands = if self.hands_on { " hands-on 10min" } else { "" };
        let step = if self.fold_step { "    fold\n    rest 20min\n    fold\n" } else { "" };
        format!(
            "formula {name} \"{}\" {{
  makes {loaves} loaves at 900 g
  total {{
    bread flour  100%
    water         75%
    salt           2%
  }}
  build levain {{
    ferments 15% of flour
    bread flour 100%
    water 100%
    white culture {levain}% kept back
    feeds {feeds} times
    ripens 4h..6h at 24C
    keeps {keeps}h
  }}
{stages}  method {{
    mix 10min with everything else
    bulk {bulk}min..{}min at 24C{fold}{hands}
{step}    divide 10min
    shape 10min
    proof {}min..{}min at 24C
    bake 40min at 240C
  }}
}}
",
            name.to_uppercase(),
            bulk + 60,
            proof.0,
            proof.0 + proof.1,
        )
    }
}

fn doughs() -> impl Strategy<Value = Dough> {
    (
        (1..60u32, 1..3u32, 1..4u32, 1..3u32),
        prop::collection::vec(prop::option::of(1..4u32), 0..3),
        (0..4u32, any::<bool>(), any::<bool>(), 60..200u32),
        (30..90u32, 0..120u32),
    )
        .prop_map(
            |(
                (loaves, levain, keeps, feeds),
                soakers,
                (folds, fold_step, hands_on, bulk),
                proof,
            )| Dough {
                loaves,
                levain: levain * 10,
                keeps,
                feeds,
                soakers,
                folds,
                fold_step,
                hands_on,
                bulk,
                proof,
            },
        )
}

const HOUSE: &str = "bakehouse \"Gullhaven Bakehouse\" {
  zone Europe/Paris
  mixer spiral { holds 3 kg..20 kg }
}
";

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, max_shrink_iters: 40, ..ProptestConfig::default() })]

    /// One dough or several: hands in two places at once are told, by the clock and by name.
    #[test]
    fn hands_are_in_one_place_or_a_note_says_so(
        doughs in prop::collection::vec(doughs(), 1..4),
        awake in prop::sample::select(vec!["05:00..22:00", "00:00..24:00", "04:00..14:00"]),
        grid in prop::sample::select(vec!["5min", "1min"]),
        hour in 9..20u32,
    ) {
        let names = ["pier", "quay", "dune"];
        let each = doughs.iter().zip(names).map(|(dough, name)| dough.text(name));
        let text = format!("{HOUSE}{}", each.collect::<String>());
        let ready = format!("2026-12-05 {hour:02}:00");
        let args = ["--ready", &ready, "--awake", awake, "--grid", grid];
        let args = [&names[..doughs.len()], &args].concat();
        if let Some(plan) = planned(&text, &args) {
            let untold = untold(&plan);
            prop_assert!(untold.is_empty(), "{untold:?}\n{:?}\n{text}", plan["notes"]);
        }
    }
}

fn plain() -> Dough {
    Dough {
        loaves: 10,
        levain: 10,
        keeps: 2,
        feeds: 1,
        soakers: Vec::new(),
        folds: 0,
        fold_step: false,
        hands_on: false,
        bulk: 120,
        proof: (60, 60),
    }
}

fn times(plan: &Value, title: &str) -> Vec<String> {
    let tasks = plan["tasks"].as_array().expect("tasks").iter();
    let own =
        tasks.filter(|task| text(&task["title"]).starts_with(title) && task["kind"] == "hands");
    own.map(|task| format!("{}–{}", text(&task["begins"]["time"]), text(&task["ends"]["time"])))
        .collect()
}

const READY: [&str; 2] = ["--ready", "2026-12-05 19:00"];

/// The check of this file sees what it is for.
#[test]
fn the_check_finds_hands_in_two_places() {
    let moment = |time: &str| serde_json::json!({ "iso": format!("2026-12-05T{time}:00+01:00"), "date": "Saturday 5 December", "time": time });
    let task = |name: &str, from: &str, to: &str| {
        serde_json::json!({ "formula": "Pier", "title": name, "stage": null, "kind": "hands",
            "begins": moment(from), "ends": moment(to), "fold_moments": [] })
    };
    let plan = |notes: &[&str]| {
        serde_json::json!({ "notes": notes,
        "tasks": [task("Mix", "13:00", "13:10"), task("Shape", "13:05", "13:20")] })
    };
    let note = |times: &str, names: &str| {
        format!(
            "One pair of hands is needed in several places at once: Saturday 5 December, {times} ({names})."
        )
    };
    assert_eq!(untold(&plan(&[])).len(), 1);
    assert_eq!(untold(&plan(&[&note("13:05–13:10", "Mix / Shape")])).len(), 0);
    assert_eq!(untold(&plan(&[&note("13:06–13:10", "Mix / Shape")])).len(), 1);
    assert_eq!(untold(&plan(&[&note("13:05–13:10", "Mix / Divide")])).len(), 1);
}

/// What neither ripens nor stands is mixed before the dough it goes into, in minutes of its own.
#[test]
fn a_soaker_without_a_time_is_mixed_before_its_dough() {
    let dough = Dough { soakers: vec![None, Some(2)], ..plain() };
    let plan =
        planned(&format!("{HOUSE}{}", dough.text("pier")), &[&["pier"], &READY[..]].concat());
    let plan = plan.expect("a plan");
    let mixes = times(&plan, "Mix");
    let last = &mixes[mixes.len() - 2..];
    assert_eq!(last[0].split('–').nth(1), last[1].split('–').next(), "{mixes:?}");
    let notes = plan["formulas"][0]["notes"].to_string();
    assert!(notes.contains("Mash: no time is given for it to stand"), "{notes}");
    assert!(notes.contains("3 min of work") && !notes.contains("Pulp"), "{notes}");
}

/// A plan has as many mixes as the sheet has batches, one after the other, and says the sum.
#[test]
fn batches_are_those_of_the_sheet_one_after_the_other() {
    for (loaves, batches) in [(10u32, 1usize), (22, 1), (23, 2), (60, 3), (100, 5)] {
        let dough = Dough { loaves, ..plain() };
        let text = format!("{HOUSE}{}", dough.text("pier"));
        let plan = planned(&text, &[&["pier"], &READY[..]].concat()).expect("a plan");
        let mixes: Vec<String> = times(&plan, "Mix");
        assert_eq!(mixes.len(), batches, "{mixes:?}");
        for pair in mixes.windows(2) {
            assert_eq!(pair[0].split('–').nth(1), pair[1].split('–').next(), "{mixes:?}");
        }
        let folder = folder();
        std::fs::write(folder.path().join("a.dough"), &text).expect("written");
        let shown = out(&assize(folder.path(), &["show", "pier", "--format", "json"]));
        let shown: Value = serde_json::from_str(&shown).expect("JSON");
        assert_eq!(shown["yield"]["batches"].as_u64(), u64::try_from(batches).ok(), "{loaves}");
        let notes = plan["formulas"][0]["notes"].to_string();
        let sum = format!("{batches} × 10 min = ");
        assert_eq!(notes.contains(&sum), batches > 1, "{notes}");
        let batch = format!("{} {}", self::text(&shown["yield"]["batch"]["shown"]), "kg");
        assert!(batches == 1 || notes.contains(&format!("batches of {batch}")), "{batch}: {notes}");
    }
}

/// One culture, one build: made once, with the sum and what each dough takes; else each its own.
#[test]
fn a_levain_of_several_doughs_is_built_once_where_that_goes() {
    let plan = |quay: Dough, more: &[&str]| {
        let text = format!("{HOUSE}{}{}", plain().text("pier"), quay.text("quay"));
        planned(&text, &[&["pier", "quay"], &READY[..], more].concat()).expect("a plan")
    };
    let builds = |plan: &Value| {
        let tasks = plan["tasks"].as_array().expect("tasks").iter();
        tasks.filter(|task| task["stage"] == "Levain" && task["kind"] == "hands").count()
    };
    let shared = plan(Dough { loaves: 20, bulk: 90, ..plain() }, &[]);
    assert_eq!(builds(&shared), 1);
    let note = shared["notes"].to_string();
    assert!(
        note.contains("Levain is the same for several doughs and is built once: PIER"),
        "{note}"
    );
    // As much as both need: the sum of what is shown.
    let kilos: Vec<f64> = note
        .split_whitespace()
        .zip(note.split_whitespace().skip(1))
        .filter(|(_, unit)| unit.starts_with("kg") || unit.starts_with("g"))
        .filter_map(|(number, unit)| {
            let number: f64 = number.parse().ok()?;
            Some(if unit.starts_with('k') { number * 1000.0 } else { number })
        })
        .collect();
    assert!(kilos.len() == 3 && (kilos[0] + kilos[1] - kilos[2]).abs() < 1e-6, "{note}");
    // Another share of seed is another levain.
    let other = plan(Dough { levain: 20, ..plain() }, &[]);
    assert_eq!(builds(&other), 2);
    assert!(!other["notes"].to_string().contains("Levain is the same"), "{}", other["notes"]);
    // The same one, wanted too far apart.
    let far = plan(Dough { bulk: 600, ..plain() }, &[]);
    assert_eq!(builds(&far), 2);
    assert!(far["notes"].to_string().contains("each builds its own"), "{}", far["notes"]);
}

/// No clock is read, so the year stands where the day of the bread does.
#[test]
fn the_head_of_a_plan_says_the_year() {
    let text = format!("{HOUSE}{}", plain().text("pier"));
    for (ready, wanted) in [
        ("2031-06-05 19:00", "Thursday 5 June 2031"),
        ("2027-01-01 05:00", "Friday 1 January 2027"),
    ] {
        let plan = planned(&text, &["pier", "--ready", ready]).expect("a plan");
        assert_eq!(plan["formulas"][0]["ready"]["date"], wanted);
        assert_eq!(plan["ends"]["date"], wanted);
    }
    // In another year than the bread's the beginning says its own.
    let plan = planned(&text, &["pier", "--ready", "2027-01-01 05:00"]).expect("a plan");
    assert!(
        self::text(&plan["begins"]["date"]).ends_with("31 December 2026"),
        "{}",
        plan["begins"]
    );
}
