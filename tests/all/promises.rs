//! What a plan says is so: how late bread could be is tried by planning it, a stage that several
//! doughs share ripens for each, and loads of one bake take one time.

use crate::support::{assize, err, folder, out};
use serde_json::Value;

fn minutes(stamp: &str) -> i64 {
    stamp.parse::<jiff::Timestamp>().expect("a time").as_second() / 60
}

fn try_plan(text: &str, args: &[&str]) -> Result<String, String> {
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let output = assize(folder.path(), &[&["plan", "a.dough"], args].concat());
    if output.status.success() { Ok(out(&output)) } else { Err(err(&output)) }
}

fn planned(text: &str, args: &[&str]) -> Value {
    let told = try_plan(text, &[&["--format", "json"], args].concat());
    serde_json::from_str(&told.unwrap_or_else(|why| panic!("{why}\n{text}"))).expect("JSON")
}

fn at(task: &Value, key: &str) -> i64 {
    minutes(task[key]["iso"].as_str().expect("a time"))
}

fn tasks<'p>(plan: &'p Value, title: &str) -> Vec<&'p Value> {
    let all = plan["tasks"].as_array().expect("tasks").iter();
    all.filter(|task| task["title"].as_str().is_some_and(|it| it.starts_with(title))).collect()
}

fn house(hours: &str, bulk: &str, proof: &str) -> String {
    format!(
        "bakehouse \"Gullhaven Bakehouse\" {{ zone Europe/Paris; hours {hours} }}
formula weir-loaf \"Weir Loaf\" {{
  makes 12 loaves at 900 g
  total {{ bread flour 100%; water 70%; salt 2%; fresh yeast 1% }}
  method {{
    mix 8min with everything
    bulk {bulk} at 24C
    shape 20min
    proof {proof}
    bake 40min at 230C
    cool 1h
  }}
}}
"
    )
}

/// The last minute that fits does, and none after it does, up to what was wanted.
#[test]
fn the_latest_that_a_plan_tells_is_the_latest_that_can_be_planned() {
    let mut later = 0;
    for (hours, bulk, proof) in [
        ("mon..sat 02:00..13:00", "3h..4h", "10h..14h at 4C"),
        ("mon..sat 02:00..07:00", "1h..3h", "1h..3h at 26C"),
        ("mon..sat 02:00..12:00", "90min..120min", "8h..16h at 4C"),
        ("mon..sat 02:00..09:00", "5h", "12h..36h at 4C"),
    ] {
        let text = house(hours, bulk, proof);
        let plan = planned(&text, &["--ready", "by 2026-12-05 16:00"]);
        let notes = plan["formulas"][0]["notes"].to_string();
        let ready = plan["formulas"][0]["ready"]["iso"].as_str().expect("a time");
        let latest = match notes.split_once("The latest that fits is ") {
            Some((_, rest)) => {
                later += 1;
                let (day, time) = rest.split_once(", ").expect("a day and a time");
                let day = day.split(' ').nth(1).expect("a day").parse::<u8>().expect("a day");
                format!("2026-12-{day:02} {}", &time[..5])
            }
            None => {
                assert!(notes.contains("nothing later fits the hours"), "{notes}\n{text}");
                ready[..16].replace('T', " ")
            }
        };
        let by = |time: &str| try_plan(&text, &["--ready", time]);
        assert!(by(&latest).is_ok(), "{latest}: {:?}\n{text}", by(&latest));
        let from = minutes(&format!("{}:00+01:00", latest.replace(' ', "T")));
        let to = minutes("2026-12-05T16:00:00+01:00");
        for later in [1, 5, 30, 60, 120, 240].into_iter().filter(|more| from + more <= to) {
            let stamp = jiff::Timestamp::from_second((from + later + 60) * 60).expect("a time");
            let time = stamp.to_string()[..16].replace('T', " ");
            assert!(by(&time).is_err(), "{time} after {latest}\n{text}");
        }
    }
    assert!(later > 0, "no plan is earlier than it has to be");
}

const SHARED: &str = "bakehouse \"Gullhaven Bakehouse\" { zone Europe/Paris; hours 02:00..20:00 }
preferment lev { bread flour 100%; water 100%; white culture 20%; ripens 4h..11h at 24C; keeps 1h }
formula early \"Early\" {
  makes 20 loaves at 600 g
  total { bread flour 100%; water 70%; salt 2% }
  preferment lev { ferments 20% of flour }
  method { mix 10min with everything; bulk 5h..5h at 24C; shape 15min; proof 60min at 25C; bake 30min at 230C; cool 1h }
}
formula late \"Late\" {
  makes 20 loaves at 600 g
  total { bread flour 100%; water 70%; salt 2% }
  preferment lev { ferments 20% of flour }
  method { mix 10min with everything; bulk 2h..2h at 24C; shape 15min; proof 60min at 25C; bake 30min at 230C; cool 1h }
}
";

/// Built once, it ripens until each takes it: both are told, and both keep what is written.
#[test]
fn a_shared_stage_ripens_for_each_that_takes_it() {
    let args = ["--ready", "2026-12-04 18:00"];
    let plan = planned(SHARED, &args);
    let builds: Vec<&Value> =
        tasks(&plan, "Mix").into_iter().filter(|task| task["stage"] == "Lev").collect();
    assert_eq!(builds.len(), 1, "{builds:?}");
    let ripens = tasks(&plan, "Ripen");
    let mut ends: Vec<(String, i64)> = Vec::new();
    for task in &ripens {
        let took = at(task, "ends") - at(task, "begins");
        assert!((4 * 60..=11 * 60).contains(&took), "{task}");
        ends.push((task["formula"].as_str().expect("a title").to_owned(), at(task, "ends")));
    }
    for title in ["Early", "Late"] {
        let mixes = tasks(&plan, "Mix").into_iter();
        let mut own = mixes.filter(|task| task["formula"] == title && task["stage"].is_null());
        let mix = at(own.next().expect("a mix"), "begins");
        let ripe = ends.iter().find(|(of, _)| of.contains(title)).expect("a ripening").1;
        assert!(ripe <= mix && mix <= ripe + 60, "{title}: ripe {ripe}, mixed {mix}");
    }
    assert_eq!(ripens.len(), 2, "{ripens:?}");
}

/// An event for the one build, under the names of both.
#[test]
fn a_shared_stage_is_built_once_in_a_calendar() {
    let args = ["--ready", "2026-12-04 18:00", "--format", "ics"];
    let text = try_plan(SHARED, &args).expect("a calendar");
    let text = text.replace("\r\n ", "").replace("\r\n", "\n");
    let events = text.lines().filter(|line| line.starts_with("SUMMARY") && line.contains("Lev"));
    let events: Vec<&str> = events.collect();
    assert_eq!(events.len(), 1, "{events:?}");
    assert!(events[0].contains("Early + Late"), "{events:?}");
}

/// Loads of one bake take one time, a full step of the grid where the range has one.
#[test]
fn loads_of_one_bake_take_one_time_on_the_grid() {
    for (rolls, bake, full) in [
        (120, "15min..20min", true),
        (720, "16min..18min", false),
        (480, "12min..22min", true),
        (180, "18min..20min", true),
    ] {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ zone Europe/Paris; hours 02:00..18:00 }}
oven deck {{ holds 60 rolls }}
formula sand-roll \"Sand Roll\" {{
  makes {rolls} rolls at 60 g
  total {{ bread flour 100%; water 62%; salt 2%; fresh yeast 2% }}
  method {{
    mix 8min with everything
    bulk 40min..60min at 25C
    shape 30min
    proof 45min..300min at 27C
    bake {bake} at 230C
    cool 30min
  }}
}}
"
        );
        for ready in ["2026-12-05 16:00", "by 2026-12-05 15:30"] {
            let plan = planned(&text, &["--ready", ready]);
            let bakes = tasks(&plan, "Bake");
            assert_eq!(bakes.len(), rolls / 60, "{text}");
            let took = |task: &&Value| at(task, "ends") - at(task, "begins");
            let first = took(&bakes[0]);
            assert!(bakes.iter().all(|task| took(task) == first), "{ready}\n{text}");
            let on_grid = bakes.iter().all(|task| at(task, "begins") % 5 == 0);
            assert!(!full || first % 5 == 0 && on_grid, "{ready}: {first} min\n{text}");
        }
    }
}
