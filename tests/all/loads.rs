//! Loads of an oven follow one another in a plan, hands and mixers are where an autolyse is
//! stirred, and what a plan can't keep it says.

use crate::support::{assize, err, folder, out};
use serde_json::Value;

/// The plan of a formula, and what it is told beside it.
fn planned(text: &str, args: &[&str]) -> Value {
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let args = [&["plan", "a.dough", "--format", "json", "--zone", "Europe/Paris"], args].concat();
    let output = assize(folder.path(), &args);
    assert!(output.status.success(), "{}\n{text}", err(&output));
    serde_json::from_str(&out(&output)).expect("JSON")
}

fn minutes(moment: &Value) -> i64 {
    let stamp = moment["iso"].as_str().expect("a time");
    stamp.parse::<jiff::Timestamp>().expect("a time").as_second() / 60
}

/// Beginnings and ends of all tasks whose title begins so.
fn tasks(plan: &Value, title: &str) -> Vec<(i64, i64)> {
    let tasks = plan["tasks"].as_array().expect("tasks").iter();
    let own = tasks.filter(|task| task["title"].as_str().is_some_and(|it| it.starts_with(title)));
    own.map(|task| (minutes(&task["begins"]), minutes(&task["ends"]))).collect()
}

fn notes(plan: &Value) -> String {
    let of_formulas = plan["formulas"].as_array().expect("formulas").iter();
    let all = of_formulas.flat_map(|formula| formula["notes"].as_array().expect("notes"));
    all.map(|note| note.as_str().unwrap_or_default()).collect::<Vec<_>>().join("\n")
}

fn house(loaves: u32, holds: u32, proof: &str, bake: &str) -> String {
    format!(
        "oven deck {{ holds {holds} loaves }}
formula weir-loaf \"Weir Loaf\" {{
  makes {loaves} loaves at 900 g
  total {{ bread flour 100%; water 70%; salt 2%; fresh yeast 1% }}
  method {{
    mix 8min with everything else by hand
    bulk 1h..2h at 26C
    shape 20min
    proof {proof} at 26C
    score 5min
    bake {bake} at 230C
    cool 1h
  }}
}}
"
    )
}

const READY: [&str; 2] = ["--ready", "2026-12-05 16:00"];

/// Loads by number and times: each begins when the one before is out, and the last is out when
/// the bread begins to cool.
#[test]
fn loads_follow_one_another() {
    for (loaves, holds, proof, bake) in [
        (30, 12, "1h..3h", "40min"),
        (30, 12, "1h..1h30", "40min"),
        (24, 12, "1h..2h", "25min..30min"),
        (13, 12, "45min..2h", "20min steamed then 15min"),
        (12, 12, "1h..2h", "40min"),
        (48, 12, "12h..16h", "35min..40min"),
        (300, 3, "1h..2h", "40min"),
    ] {
        let plan = planned(&house(loaves, holds, proof, bake), &READY);
        let bakes = tasks(&plan, "Bake");
        let loads = loaves.div_ceil(holds) as usize;
        let phases = bake.split(" then ").count();
        let wanted = if loads > 24 { 1 } else { loads * phases };
        assert_eq!(bakes.len(), wanted, "{loaves} by {holds}");
        for pair in bakes.windows(2) {
            assert_eq!(pair[0].1, pair[1].0, "{loaves} by {holds}");
        }
        let cool = tasks(&plan, "Cool");
        assert_eq!(bakes.last().map(|last| last.1), cool.first().map(|first| first.0));
        let told = notes(&plan);
        assert_eq!(told.contains("loads of the oven deck"), loads > 1, "{told}");
    }
}

/// What is shaped for the last load waits in the step before; within its range where that is
/// wide enough, and where it is not a note says by how much it is not.
#[test]
fn later_loads_wait_inside_the_range_or_a_note_says_so() {
    // Proof, two more loads of 40 min: 80 min.
    for (proof, most, over) in [
        ("1h..3h", 180, None),
        ("1h..2h20", 140, None),
        ("1h..1h30", 90, Some("50 min more than the 1 h 30 min")),
        ("1h", 60, Some("1 h 20 min more than the 1 h")),
    ] {
        let plan = planned(&house(30, 12, proof, "40min"), &READY);
        let proofs = tasks(&plan, "Proof");
        let bakes = tasks(&plan, "Bake");
        let waited = proofs[0].1 - proofs[0].0 + bakes[2].0 - bakes[0].0;
        let told = notes(&plan);
        match over {
            None => {
                assert!(waited <= most, "{proof}: {waited}");
                assert!(told.contains("1 h 20 min longer than the first, still within"), "{told}");
            }
            Some(over) => {
                assert!(waited > most, "{proof}: {waited}");
                assert!(told.contains(over), "{proof}: {told}");
            }
        }
    }
}

/// Batches of a mixer: the bulk of the first is longer than that of the last, and where it may
/// not be, the plan says so.
#[test]
fn a_bulk_that_batches_make_too_long_is_told() {
    let text = |bulk: &str| {
        format!(
            "mixer spiral {{ holds 1 kg..10 kg; friction 11C }}\n{}",
            house(30, 60, "1h..2h", "40min")
                .replace(" by hand", " in spiral")
                .replace("1h..2h at 26C", bulk)
        )
    };
    // 27 kg are three batches of 8 min, so that the first one is 16 min ahead.
    let told = notes(&planned(&text("1h at 26C"), &READY));
    assert!(told.contains("For the first batch Bulk takes 16 min more than the 1 h"), "{told}");
    let told = notes(&planned(&text("1h..2h at 26C"), &READY));
    assert!(!told.contains("For the first batch"), "{told}");
}

/// Ready by a time may be days before it, where hours leave nothing later; the plan says so.
#[test]
fn bread_that_is_ready_long_before_says_so() {
    let text = house(12, 12, "1h", "40min");
    let by = ["--ready", "by 2026-12-05 16:00"];
    let hours = ["--awake", "mon 06:00..20:00"];
    let told = notes(&planned(&text, &[&by[..], &hours[..]].concat()));
    assert!(told.contains("5 December, 16:00: nothing later fits the hours"), "{told}");
    let told = notes(&planned(&text, &by));
    assert!(!told.contains("nothing later fits"), "{told}");
}

/// What goes in at an autolyse is stirred by somebody, in the mixer that the dough goes into.
#[test]
fn an_autolyse_takes_hands_and_a_mixer() {
    let method = |autolyse: &str| {
        format!(
            "mixer spiral {{ holds 1 kg..60 kg; friction 11C }}\n{}",
            house(12, 12, "1h", "40min").replace(
                "mix 8min with everything else by hand",
                &format!("{autolyse}\n    mix 8min with everything else in spiral")
            )
        )
    };
    let hands = |text: &str| {
        let folder = folder();
        std::fs::write(folder.path().join("a.dough"), text).expect("written");
        let output = assize(folder.path(), &["why", "weir-loaf", "hands-on"]);
        out(&output).lines().next().unwrap_or_default().to_owned()
    };
    let stirred = method("autolyse 30min with flours, water");
    assert!(hands(&stirred).starts_with("hands-on: 38 min"), "{}", hands(&stirred));
    let told = method("autolyse 30min with flours, water hands-on 2min");
    assert!(hands(&told).starts_with("hands-on: 35 min"), "{}", hands(&told));
    let rested = method("mix 0min with flours, water\n    autolyse 30min");
    assert!(hands(&rested).starts_with("hands-on: 33 min"), "{}", hands(&rested));
    // Two doughs that are stirred at once want the mixer at once.
    let two = format!(
        "{stirred}{}",
        stirred
            .lines()
            .skip(2)
            .collect::<Vec<_>>()
            .join("\n")
            .replace("weir-loaf \"Weir", "quay-loaf \"Quay")
    );
    let plan = planned(&two, &READY);
    let notes = plan["notes"].as_array().expect("notes").iter();
    let spirals = notes.filter(|note| note.as_str().is_some_and(|note| note.contains("spiral")));
    assert!(spirals.count() > 0, "{}", plan["notes"]);
}

/// A sheet for a baker on shift has no room for words, but folds and steam it says.
#[test]
fn a_sheet_says_folds_and_steam() {
    let folder = folder();
    let text = house(12, 12, "1h", "20min steamed then 20min vented");
    let text = text.replace("bulk 1h..2h at 26C", "bulk 2h at 26C fold 3 times every 30min");
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let args = ["print", "a.dough", "--only", "sheet", "--format", "html", "--to", "."];
    let output = assize(folder.path(), &args);
    assert!(output.status.success(), "{}", err(&output));
    let files = folder.path().read_dir().expect("a folder").filter_map(Result::ok);
    let page =
        files.map(|file| file.path()).find(|it| it.extension().is_some_and(|it| it == "html"));
    // Numbers stay with their units.
    let page = std::fs::read_to_string(page.expect("a page")).expect("read").replace('\u{a0}', " ");
    for words in ["Fold 3 times, every 30 min", "with steam", "steam let out"] {
        assert!(page.to_lowercase().contains(&words.to_lowercase()), "{words}: {page}");
    }
}
