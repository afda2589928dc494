//! Another room, refrigerator or share of seed; folds and hands within a plan.

use crate::support::{assize, err, folder, loaded, names, out};
use assize::testing::desk;
use assize::testing::formula::work;
use assize::testing::quantity::{Exact, int, ratio};
use assize::testing::syntax::tree::{Open, Weekdays};
use assize::testing::time::clock::{Instant, MINUTE, Zone};
use assize::testing::time::{
    Anchor, Asked, Because, Doing, Graph, Hands, NoPlan, Plan, PlanRequest, Retiming, Stretch,
    graph, plan, retime,
};
use proptest::prelude::*;

/// The graph of the first formula of a text, timed for what is asked; or why not.
fn timed(text: &str, asked: &Asked) -> Result<(Graph, Retiming), String> {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    let mut graph = graph(&bakehouses[0].house, &worked).expect("a method");
    let retiming = retime(&bakehouses[0].house, &worked, &mut graph, asked);
    Ok((graph, retiming.map_err(|error| format!("{} {}", error.asked, error.why))?))
}

fn room(celsius: Exact) -> Asked {
    Asked { room: Some(celsius), ..Asked::default() }
}

fn cold(celsius: Exact) -> Asked {
    Asked { cold: Some(celsius), ..Asked::default() }
}

fn seed(share: Exact) -> Asked {
    Asked { seed: Some(share), ..Asked::default() }
}

/// A dough of 1.8 kg with this leaven and this method.
fn dough(house: &str, leaven: &str, method: &str) -> String {
    let bakehouse = match house {
        "" => String::new(),
        settings => format!("bakehouse \"Gullhaven Bakehouse\" {{ {settings} }}\n"),
    };
    format!(
        "{bakehouse}formula pier-loaf \"Pier Loaf\" {{
  makes 2 loaves at 900 g
  total {{ bread flour 100%; water 70%; salt 2%{} }}
{}
  method {{
{method}
    bake 40min at 230C
  }}
}}
",
        if leaven == YEAST { "; fresh yeast 1%" } else { "" },
        if leaven == YEAST { "" } else { leaven },
    )
}

const YEAST: &str = "yeast";
const LEVAIN: &str = "  preferment levain {
    ferments 20% of flour
    bread flour 100%
    water 100%
    white culture 20%
    ripens 8h..10h03 at 22C
  }";

/// Methods that begin cool, level, and out of the cold; with times of many lengths.
const METHODS: [&str; 5] = [
    "    mix 8min with everything else to 25C
    bulk 2h..3h07 at 25C fold 3 times every 20min
    proof 1h04..1h30 at 27C",
    "    mix 8min with everything else to 22C
    bulk 9h..9h20 at 20C
    divide 10min
    proof 58min at 28C",
    "    mix 8min with everything else
    bulk 3h..4h at 24C fold twice
    shape 10min
    retard 12h..16h at 5C
    proof 2h..2h13 at 26C",
    "    mix 8min with everything else
    bulk 62min at 18C
    proof 63min..64min at 31C",
    "    mix 8min with everything else to 27C
    bulk 1h at 15C then 2h at 32C
    proof 12h at 4C",
];

/// A law's times over rising temperatures or shares of seed: each never longer than the one
/// before, no jump but that of rounding to five minutes, and no range turned round.
fn is_one_law(place: &str, text: &str, grid: impl Iterator<Item = (Exact, Asked)>) {
    let mut before: Option<Vec<(Exact, Exact)>> = None;
    let mut timed_anew = 0;
    for (at, asked) in grid {
        let (graph, retiming) = timed(text, &asked).unwrap_or_else(|why| panic!("{place}: {why}"));
        timed_anew += retiming.estimates.len();
        let waits = |it: &&Stretch| matches!(it.doing, Doing::Step { .. } | Doing::Ripen { .. });
        let all: Vec<(Exact, Exact)> = graph
            .stretches
            .iter()
            .filter(waits)
            .map(|it| (it.low.clone(), it.high.clone().expect("no open ends here")))
            .collect();
        for (low, high) in &all {
            assert!(low <= high, "{place} at {at}: {low} to {high} min");
        }
        for ((low, high), (low_before, high_before)) in all.iter().zip(before.iter().flatten()) {
            for (now, then) in [(low, low_before), (high, high_before)] {
                assert!(now <= then, "{place} at {at}: {then} min, then {now} min");
                // A tenth of a degree moves a time by a twentieth at most, near 10 °C.
                let most = int(5) + then * ratio(5, 100);
                assert!(then - now <= most, "{place} at {at}: {then} min, then {now} min");
            }
        }
        before = Some(all);
    }
    assert!(timed_anew > 0, "{place}: nothing was timed anew");
}

/// From the coldest room that the models know to the hottest, in tenths of a degree.
#[test]
fn a_warmer_room_is_never_slower_and_no_law_jumps() {
    for (leaven, from, to) in [(YEAST, 40, 380), (LEVAIN, 100, 340)] {
        for method in METHODS {
            let grid = (from..=to).map(|tenths| (ratio(tenths, 10), room(ratio(tenths, 10))));
            is_one_law(&format!("{leaven} {method}"), &dough("", leaven, method), grid);
        }
    }
}

#[test]
fn a_warmer_refrigerator_is_never_slower_and_no_law_jumps() {
    for method in [METHODS[2], METHODS[4]] {
        let grid = (40..=160).map(|tenths| (ratio(tenths, 10), cold(ratio(tenths, 10))));
        is_one_law(method, &dough("", YEAST, method), grid);
    }
}

#[test]
fn more_seed_is_never_slower_and_no_law_jumps() {
    let shares = (10..200).chain((200..=2000).step_by(10));
    let grid = shares.map(|part| (ratio(part, 1000), seed(ratio(part, 1000))));
    is_one_law("seed", &dough("", LEVAIN, METHODS[0]), grid);
}

/// Outside the temperatures that a model is known for it is refused, above and below.
#[test]
fn outside_what_a_model_knows_it_refuses() {
    for (leaven, below, above) in [(YEAST, 39, 381), (LEVAIN, 99, 341)] {
        for tenths in [below, above] {
            let told = timed(&dough("", leaven, METHODS[0]), &room(ratio(tenths, 10)));
            assert!(told.is_err_and(|why| why.starts_with("room ")), "{leaven} {tenths}");
        }
    }
    let told = timed(&dough("", YEAST, METHODS[2]), &cold(int(3)));
    assert!(told.is_err_and(|why| why.starts_with("cold ")));
}

/// `9h..9h20 at 20C` was turned round in a room of 26 °C: its low end grew by one law, its
/// high end by another.
#[test]
fn a_range_is_never_turned_round() {
    let text = "formula slow-loaf \"Slow Loaf\" {
  makes 2 loaves at 900 g
  total { bread flour 100%; water 65%; salt 2%; fresh yeast 0.5% }
  method {
    mix   10min with everything else to 25C
    bulk  9h..9h20 at 20C
    bake  40min at 240C
    cool  1h
  }
}
";
    let grid = (40..=380).map(|tenths| (ratio(tenths, 10), room(ratio(tenths, 10))));
    is_one_law("slow loaf", text, grid);
}

/// Minutes of one wait at one temperature for another, by hand: small steps along both
/// courses, gas by a tenth more for each degree (common practice) and the law of cooling.
fn by_small_steps(minutes: f64, start: f64, (written, now): (f64, f64), halves: f64) -> f64 {
    let step = 0.01;
    let gas = |celsius: f64| 1.1_f64.powf(celsius - 25.0);
    let course = |at: f64, after: f64| at + (start - at) * 0.5_f64.powf(after / halves);
    let mut work = 0.0;
    let mut at = 0.0;
    while at < minutes {
        work += gas(course(written, at + step / 2.0)) * step;
        at += step;
    }
    let mut at = 0.0;
    while work > 0.0 {
        work -= gas(course(now, at + step / 2.0)) * step;
        at += step;
    }
    at
}

/// A dough that is mixed to 22 °C comes to the room as fast as the house's dough cools:
/// half of the way in two hours, for 1.8 kg.
#[test]
fn a_dough_that_starts_at_another_temperature_comes_to_it_first() {
    let house = "cooling 1800 g from 25C to 14.5C in 2h at 4C";
    for (start, written, now, minutes) in
        [(22, 26, 20, 150), (25, 25, 30, 120), (25, 25, 18, 240), (18, 24, 28, 300)]
    {
        let method = format!(
            "    mix 8min with everything else to {start}C\n    bulk {minutes}min at {written}C"
        );
        let (graph, told) = timed(&dough(house, YEAST, &method), &room(int(now))).expect("timed");
        let value = |whole: i64| int(whole).to_f64();
        let wanted =
            by_small_steps(value(minutes), value(start), (value(written), value(now)), 120.0);
        let stretch = &graph.stretches[told.estimates[0].stretch];
        let found = stretch.low.to_f64();
        assert!((found - wanted).abs() <= 2.6, "{start} {written} {now}: {found} for {wanted}");
        let (from, halves) = told.estimates[0].course.clone().expect("it is told");
        assert_eq!((from, halves), (int(start), int(120)));
    }
}

/// What a room changes, of waits with this place, in words of the language.
fn changed_by(asked: &Asked, wait: &str) -> (Vec<i64>, Vec<Because>) {
    let method = format!("    mix 8min with everything else\n    {wait}");
    let text = dough("room 21C", YEAST, &method);
    let (_, told) = timed(&text, asked).expect("timed");
    let now = told.estimates.iter().map(|it| it.now.0.clone().try_into().expect("whole minutes"));
    (now.collect(), told.kept.iter().map(|kept| kept.because).collect())
}

#[test]
fn the_room_changes_what_stands_in_it_and_the_cold_what_stands_in_that() {
    let warm = room(int(28));
    let none = (Vec::new(), Vec::new());
    for own in ["in proofer", "in a warm proofer", "in proving drawer", "in cellar", "in fridge"] {
        assert_eq!(changed_by(&warm, &format!("proof 1h at 29C {own}")), none, "{own}");
    }
    for cold_one in ["in fridge", "in retarder", "in walk-in", ""] {
        let wait = format!("proof 12h at 4C {cold_one}");
        assert_eq!(changed_by(&warm, &wait), none, "{cold_one}");
        let (now, _) = changed_by(&cold(int(7)), &wait);
        assert!(now.len() == 1 && now[0] < 720, "{cold_one} {now:?}");
    }
    // 21 °C is the house's room: 1.1 to the seventh is 1.95.
    for in_room in ["at room", "at room temperature", "at 21C", ""] {
        assert_eq!(changed_by(&warm, &format!("bulk 3h {in_room}")).0, [90], "{in_room}");
    }
    assert_eq!(changed_by(&cold(int(7)), "bulk 3h at room"), none);
}

#[test]
fn a_range_of_temperatures_counts_as_its_middle() {
    let warm = room(int(28));
    let middle = changed_by(&warm, "proof 3h at 25C");
    assert_eq!(changed_by(&warm, "proof 3h at 23C..27C"), middle);
    assert_eq!(changed_by(&warm, "proof 3h at 27C..23C"), middle);
}

#[test]
fn what_is_not_known_keeps_its_time_and_says_so() {
    let no_house = dough("", YEAST, "    mix 8min with everything else\n    bulk 3h at room");
    let (_, told) = timed(&no_house, &room(int(28))).expect("timed");
    assert_eq!(told.kept[0].because, Because::NoTemperature);
    let thawed = "    mix 8min with everything else\n    freeze 2d at -18C\n    proof 8h at 22C";
    let (_, told) = timed(&dough("", YEAST, thawed), &room(int(28))).expect("timed");
    assert_eq!(told.kept[0].because, Because::Frozen);
    let (graph, told) = timed(&dough("", LEVAIN, METHODS[4]), &cold(int(7))).expect("timed");
    assert_eq!(told.kept.len(), 1);
    assert_eq!(told.kept[0].because, Because::Culture);
    assert_eq!(graph.stretches[told.kept[0].stretch].low, int(720));
}

#[test]
fn room_and_seed_together_are_told_one_after_the_other() {
    let asked = Asked { room: Some(int(28)), seed: Some(ratio(1, 10)), cold: None };
    let (graph, told) = timed(&dough("", LEVAIN, METHODS[3]), &asked).expect("timed");
    let of: Vec<_> =
        told.estimates.iter().filter(|it| it.stretch == told.estimates[0].stretch).collect();
    assert_eq!(of.len(), 2);
    assert_eq!(of[0].now, of[1].before);
    let stretch = &graph.stretches[of[0].stretch];
    assert_eq!(of[1].now, (stretch.low.clone(), stretch.high.clone()));
}

/// A folder with two formulas: one with yeast, one with a culture.
fn two(folder: &std::path::Path) {
    let yeast = dough("room 21C; zone Europe/Paris", YEAST, METHODS[0]);
    let culture = dough("", LEVAIN, METHODS[4]).replace("pier-loaf \"Pier", "mole-loaf \"Mole");
    std::fs::write(folder.join("a.dough"), yeast).expect("written");
    std::fs::write(folder.join("b.dough"), culture).expect("written");
}

#[test]
fn one_refusal_keeps_no_other_formula_from_its_plan() {
    let folder = folder();
    two(folder.path());
    let run = |more: &[&str]| {
        let args = ["plan", "pier-loaf", "mole-loaf", "--ready", "2026-12-05 19:00"];
        assize(folder.path(), &[&args[..], more].concat())
    };
    // Yeast is known to 38 °C, cultures to 34 °C.
    let told = run(&["--room", "36C"]);
    assert_eq!(told.status.code(), Some(2));
    assert!(err(&told).contains("`mole-loaf` can't be timed for that room"), "{}", err(&told));
    assert!(out(&told).starts_with("Pier Loaf\n") && !out(&told).contains("Mole Loaf"));
    // The culture keeps its time in the cold, and the plan says so.
    let told = run(&["--cold", "6C"]);
    assert_eq!((told.status.code(), err(&told)), (Some(0), String::new()));
    assert!(out(&told).contains("Proof keeps its written time"), "{}", out(&told));
    // Nor does one that has no plan.
    let told = run(&["--awake", "14:30..23:00"]);
    assert_eq!(told.status.code(), Some(1), "{}", out(&told));
    assert!(out(&told).starts_with("Pier Loaf\n"), "{}", err(&told));
}

/// Everywhere a re-timed step says the temperature that it is timed for, that it is an
/// estimate, and how often it is folded now.
#[test]
fn what_is_timed_anew_says_for_what_in_every_form() {
    let folder = folder();
    let text = dough(
        "zone Europe/Paris",
        YEAST,
        "    mix 8min with everything else
    bulk 3h at 22C covered fold 3 times every 40min
    proof 1h at 22C",
    );
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let run = |room: &str, format: &str| {
        let args = ["plan", "pier-loaf", "--ready", "2026-12-05 19:00", "--format", format];
        let told = assize(folder.path(), &[&args[..], &["--room", room]].concat());
        assert_eq!(told.status.code(), Some(0), "{}", err(&told));
        told
    };
    // 1.1 to the sixth is 1.77: 3 h are 1 h 40, 40 min are 22, told in fives.
    let text = out(&run("28C", "text"));
    let line = text.lines().find(|line| line.contains("Bulk")).expect("a bulk");
    assert!(line.contains("≈ 1 h 40 min at 28 °C, fold at "), "{line}");
    assert!(text.contains("≈ estimate") && !line.contains("22 °C"), "{text}");
    let json: serde_json::Value = serde_json::from_str(&out(&run("28C", "json"))).expect("JSON");
    let tasks = json["formulas"][0]["tasks"].as_array().expect("tasks");
    let bulk = tasks.iter().find(|task| task["title"] == "Bulk").expect("a bulk");
    assert_eq!((&bulk["at"], &bulk["estimated"]), (&"28 °C".into(), &true.into()));
    assert_eq!(bulk["time"], "≈ 1 h 40 min");
    let words = bulk["text"].as_str().expect("words");
    assert!(words.starts_with("28 °C. ") && words.contains("every 20 min"), "{words}");
    assert!(words.ends_with("The time is an estimate."), "{words}");
    let bars = &json["formulas"][0]["lanes"].as_array().expect("lanes")[0]["bars"];
    let bar = bars.as_array().expect("bars").iter().find(|bar| bar["title"] == "Bulk");
    let bar = bar.expect("a bulk");
    assert_eq!((&bar["at"], &bar["time"]), (&"28 °C".into(), &"≈ 1 h 40 min".into()));
    let mix = tasks.iter().find(|task| task["title"] == "Mix").expect("a mix");
    assert_eq!(mix["estimated"], false);
    let calendar = out(&run("28C", "ics")).replace("\r\n ", "");
    assert!(calendar.contains("28 °C") && calendar.contains("estimate"), "{calendar}");
    assert!(!calendar.contains("22 °C") && !calendar.contains("every 40 min"), "{calendar}");
    let pdf = pdf_extract::extract_text_from_mem(&run("28C", "pdf").stdout).expect("text");
    let dense = |text: &str| text.chars().filter(|it| !it.is_whitespace()).collect::<String>();
    for said in ["≈ 1 h 40 min", "28 °C. Covered", "every 20 min", "The time is an estimate"] {
        assert!(dense(&pdf).contains(&dense(said)), "{said} in {pdf}");
    }
    assert!(!dense(&pdf).contains(&dense("every 40 min")), "{pdf}");
    // As written, nothing is marked.
    let plain = out(&run("22C", "text"));
    assert!(!plain.contains('≈') && plain.contains("3 h at 22 °C"), "{plain}");
}

#[test]
fn no_plan_calls_what_a_model_gave_an_estimate() {
    let folder = folder();
    let text = dough("zone Europe/Paris", YEAST, METHODS[3]);
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let args = ["plan", "pier-loaf", "--ready", "2026-12-05 12:00", "--awake", "11:00..13:00"];
    let told = err(&assize(folder.path(), &[&args[..], &["--room", "25C"]].concat()));
    assert!(told.contains("no-plan"), "{told}");
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let wanted = "proof: 40 min, an estimate for 25 °C (1 h 3 min – 1 h 4 min written)";
    assert!(told.contains(wanted), "{told}");
    let plain = err(&assize(folder.path(), &args));
    assert!(plain.contains("no-plan") && !plain.contains("estimate"), "{plain}");
}

/// A plan to the minute; hours are minutes since midnight, none for always.
fn planned(graph: &Graph, anchor: Anchor, hours: &[(u32, u32)]) -> Result<Plan, NoPlan> {
    let open = open(hours);
    let hours = (!hours.is_empty()).then_some(open.as_slice());
    plan(
        graph,
        &PlanRequest { anchor, not_before: None, pins: &[], hours, zone: &paris(), grid: None },
    )
}

fn open(hours: &[(u32, u32)]) -> Vec<Open> {
    hours.iter().map(|&(from, to)| Open { days: Weekdays::ALL, from, to, hands: 1 }).collect()
}

fn paris() -> Zone {
    Zone::named("Europe/Paris").expect("built in")
}

fn at(text: &str) -> Instant {
    paris().read(text).expect("a time")
}

/// A day with folds, feeds and a soaker, in a room perhaps.
#[derive(Clone, Debug)]
struct Day {
    feeds: u32,
    bulk: (u32, u32),
    folds: u32,
    every: Option<u32>,
    room: Option<i64>,
}

impl Day {
    fn text(&self) -> String {
        let every = self.every.map(|every| format!(" every {every}min")).unwrap_or_default();
        let (low, more) = self.bulk;
        let method = format!(
            "    mix 8min with levain, wet seeds, everything else\n    bulk {low}min..{}min at 24C \
             fold {} times{every}\n    shape 10min\n    proof 1h..3h at 24C",
            low + more,
            self.folds
        );
        let stages = format!(
            "{}\n  soaker wet seeds {{\n    takes 5% of flour\n    bread flour 100%\n    \
             water 100%\n    stands 3h..16h at 20C\n  }}",
            LEVAIN.replace("ripens", &format!("feeds {} times\n    ripens", self.feeds))
        );
        dough("", &stages, &method)
    }
}

fn days() -> impl Strategy<Value = Day> {
    let every = prop::option::of(10..70u32);
    let room = prop::option::of(15..33i64);
    (1..4u32, (1..400u32, 0..400u32), 1..6u32, every, room)
        .prop_map(|(feeds, bulk, folds, every, room)| Day { feeds, bulk, folds, every, room })
}

/// Hands have all the time that they take, inside the hours; folds are strictly inside
/// their phase, in another minute than that in which the dough leaves.
fn hands_have_time(graph: &Graph, plan: &Plan, hours: &[(u32, u32)]) {
    let day = 24 * 60 * MINUTE;
    let openings = paris().openings(&open(hours), plan.begin - day, plan.end + day);
    let is_there = |from, to| openings.iter().any(|it| it.0 <= from && to <= it.1);
    for stretch in &graph.stretches {
        let (from, to) = (plan.times[stretch.from], plan.times[stretch.to]);
        let took = ratio(to - from, MINUTE);
        let off = ratio(1, MINUTE);
        assert!(took >= &stretch.low - &off, "{:?} {took}", stretch.doing);
        if let Some(high) = &stretch.high {
            assert!(took <= high + &off, "{:?} {took} of {high}", stretch.doing);
        }
        if stretch.hands != Hands::Off && !hours.is_empty() {
            assert!(is_there(from, to), "{:?}", stretch.doing);
        }
    }
    for folds in &graph.folds {
        let phase = &graph.stretches[folds.phase];
        let (begin, end) = (plan.times[phase.from], plan.times[phase.to]);
        let mut before = begin;
        for &way in &folds.ways {
            let fold = plan.times[graph.stretches[way].to];
            assert!(begin < fold && fold + MINUTE < end, "{begin} {fold} {end}");
            assert!(before < fold, "one after the other");
            before = fold;
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..Default::default() })]

    #[test]
    fn folds_are_inside_and_hands_have_time(day in days(), night in any::<bool>()) {
        let asked = Asked { room: day.room.map(int), ..Asked::default() };
        let (graph, _) = timed(&day.text(), &asked).expect("timed");
        let hours: &[(u32, u32)] = if night { &[(390, 1320)] } else { &[] };
        let ready = Anchor::Ready(at("2026-12-05 18:00"));
        if let Ok(plan) = planned(&graph, ready, hours) {
            hands_have_time(&graph, &plan, hours);
            // Forward from the same beginning it is a plan too, and keeps each range.
            let again = planned(&graph, Anchor::Start(plan.begin), hours);
            hands_have_time(&graph, &again.expect("this one, if no other"), hours);
        }
    }
}

/// `fold once` stands in the middle of the bulk as it is planned, whatever that is, or as
/// near to it as somebody is there; the card has it in the middle too.
#[test]
fn a_fold_without_a_time_parts_what_is_planned() {
    let text = |fold: &str| {
        let method = format!("    mix 10min with everything else\n    bulk 2h..6h at 25C {fold}");
        dough("", YEAST, &method)
    };
    let folds = |text: &str, anchor: Anchor, hours: &[(u32, u32)]| {
        let (graph, _) = timed(text, &Asked::default()).expect("timed");
        let plan = planned(&graph, anchor, hours).expect("a plan");
        let phase = &graph.stretches[graph.folds[0].phase];
        let (begin, end) = (plan.times[phase.from], plan.times[phase.to]);
        let all = graph.folds[0].ways.iter().map(|&way| plan.times[graph.stretches[way].to]);
        (all.map(|at| (at - begin) / MINUTE).collect::<Vec<_>>(), (end - begin) / MINUTE)
    };
    let ready = Anchor::Ready(at("2026-12-05 18:00"));
    assert_eq!(folds(&text("fold once"), ready, &[]), (vec![120], 240));
    assert_eq!(folds(&text("fold 3 times"), ready, &[]), (vec![60, 120, 180], 240));
    // Mixed by 11:10, baked from 16:00 on: the middle of the 290 min is 13:35.
    let start = Anchor::Start(at("2026-12-05 11:00"));
    let till = |minutes: u32| [(0, minutes), (16 * 60, 24 * 60)];
    assert_eq!(folds(&text("fold once"), start, &till(14 * 60)), (vec![145], 290));
    // Who is there until 11:30 folds until then.
    assert_eq!(folds(&text("fold once"), start, &till(11 * 60 + 30)), (vec![18], 290));
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text("fold once")).expect("written");
    let told = assize(folder.path(), &["show", "pier-loaf", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out(&told)).expect("JSON");
    let lane = &json["timeline"]["lanes"][0];
    // 10 min of mixing, a bulk of 4 h.
    assert_eq!(lane["folds"][0], 130, "{lane}");
}

#[test]
fn a_wait_without_a_time_is_told_and_stands_in_the_plan() {
    let text = dough(
        "zone Europe/Paris",
        YEAST,
        "    mix 8min with everything else
    bulk at 24C until volume 2x
    proof 1h at 24C",
    );
    let none: [&str; 0] = [];
    assert_eq!(names(&text), ["time-missing"]);
    assert_eq!(names(&text.replace("bulk at", "bulk 2h at")), none);
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), &text).expect("written");
    let args = ["plan", "pier-loaf", "--ready", "2026-12-05 19:00"];
    let told = out(&assize(folder.path(), &args));
    let line = told.lines().find(|line| line.contains("Bulk")).expect("a line");
    assert!(line.contains("○ Bulk") && line.contains("no time given at 24 °C"), "{told}");
    assert!(told.contains("note: Bulk: no time is given"), "{told}");
}

/// Every verb that waits, in the dough and in a stage; a step of one's own that says so; a
/// part after `then`; a stage's own wait.
#[test]
fn every_wait_without_a_time_is_a_finding() {
    for verb in [
        "autolyse",
        "rest",
        "bulk",
        "proof",
        "retard",
        "chill",
        "freeze",
        "bake",
        "steam",
        "cool",
        "mature",
        "soak",
        "step \"Wait.\" waiting",
    ] {
        let method = format!("    mix 8min with everything else\n    {verb}");
        let told = names(&dough("", YEAST, &method));
        assert!(told.contains(&"time-missing"), "{verb}: {told:?}");
    }
    let then = "    mix 8min with everything else\n    bulk 1h at 24C then at 20C";
    assert!(names(&dough("", YEAST, then)).contains(&"time-missing"));
    for wait in ["ripens at 22C", "ripens at room", "ripens 2h at 24C then at 4C"] {
        let levain = LEVAIN.replace("ripens 8h..10h03 at 22C", wait);
        let told = names(&dough("", &levain, METHODS[0]));
        assert!(told.contains(&"time-missing"), "{wait}: {told:?}");
    }
    for hands in ["divide", "preshape", "shape", "score", "step \"Knead.\"", "fold"] {
        let method = format!("    mix 8min with everything else\n    {hands}");
        let told = names(&dough("", YEAST, &method));
        assert!(!told.contains(&"time-missing"), "{hands}: {told:?}");
    }
}

/// Folds of an estimated time are an estimate too: on five minutes of the clock, as it is,
/// wherever the mix before it ends there; and never further apart in a warmer room.
#[test]
fn folds_of_an_estimated_time_fall_on_five_minutes() {
    let folder = folder();
    let mut count = 0;
    for (every, bulk) in [("45min", "2h..3h"), ("30min", "3h..4h"), ("20min", "90min..2h")] {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ room 22C; zone Europe/Paris }}\nformula pier-loaf \
             \"Pier Loaf\" {{ makes 2 loaves at 900 g; total {{ bread flour 100%; water 65%; salt 2%; \
             fresh yeast 1% }}\n method {{ mix 10min with everything to 25C; bulk {bulk} at 22C fold 2 \
             times every {every}; shape 10min; proof 1h at room; bake 40min at 240C; cool 1h }} }}"
        );
        std::fs::write(folder.path().join("a.dough"), text).expect("written");
        let mut before: Option<i64> = None;
        for room in ["18C", "20C", "24C", "26C", "28C", "30C"] {
            let args = ["plan", "pier-loaf", "--ready", "2026-12-05 18:00", "--room", room];
            let told = assize(folder.path(), &[&args[..], &["--format", "json"]].concat());
            assert_eq!(told.status.code(), Some(0), "{}", err(&told));
            let json: serde_json::Value = serde_json::from_str(&out(&told)).expect("JSON");
            let tasks = json["formulas"][0]["tasks"].as_array().expect("tasks");
            let bulk = tasks.iter().find(|task| task["title"] == "Bulk").expect("a bulk");
            assert_eq!(bulk["estimated"], true, "{room}");
            let minutes = |time: &str| {
                let (hour, minute) = time.split_once(':').expect("a time");
                hour.parse::<i64>().expect("hours") * 60 + minute.parse::<i64>().expect("minutes")
            };
            let begins = minutes(bulk["begins"]["time"].as_str().expect("a time"));
            let folds = bulk["folds"].as_array().expect("folds").iter();
            let folds: Vec<i64> =
                folds.map(|fold| minutes(fold.as_str().expect("a time"))).collect();
            assert_eq!((begins % 5, folds.len()), (0, 2), "{room}: {bulk}");
            assert!(folds.iter().all(|fold| fold % 5 == 0), "{every}, {room}: {folds:?}");
            let apart = folds[1] - folds[0];
            assert!(before.is_none_or(|before| apart <= before), "{every}, {room}: {folds:?}");
            before = Some(apart);
            count += 1;
        }
    }
    assert_eq!(count, 18);
}
