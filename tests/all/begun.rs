//! A day that has begun is planned anew: what was mixed, divided or baked stays what it was, to the
//! byte, whatever orders and formulas say by then; the rest adds up.

use crate::days::{assert_nothing_twice, grams, list, same, sum, whole};
use crate::support::{assize, err, folder, out};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// A house in which days meet all that can be begun: stages that are shared, a formula of two kinds
/// of pieces, doughs that wait overnight, and one without any stage.
const HOUSE: &str = r#"
bakehouse "Gullhaven Bakehouse" {
  hours  15:00..22:00 with 2, 01:00..13:00 with 2
  room   21C
  mixer spiral  { holds 2 kg..14 kg }
  mixer bench   { holds 300 g..3 kg }
  oven deck     { decks 2; holds 12 loaves, 40 rolls; at 240C; changes 10min per 20C }
  proofer       { holds 24 boards; at 27C }
  refrigerator  { holds 30 boards; at 4C }
  board         { holds 6 loaves, 24 rolls, 10 kg dough }
}
preferment quay levain {
  bread flour    100%
  water          100%
  white culture   20% kept back
  ripens  8h..10h at 22C; keeps 4h
}
formula mole-loaf "Mole Loaf" {
  makes  12 loaves at 900 g
  total { bread flour 100%; water 72%; salt 2% }
  preferment quay levain { ferments 18% of flour }
  method {
    mix    8min with everything else
    bulk   3h..4h at 25C
    divide 15min
    shape  20min
    proof  2h..14h at 4C
    bake   35min at 240C
  }
}
formula quay-mixed "Quay Mixed" {
  makes  8 loaves at 800 g, 40 rolls at 80 g
  total { bread flour 100%; water 65%; salt 2%; fresh yeast 1% }
  preferment quay levain { ferments 10% of flour }
  method {
    mix    6min with everything else
    bulk   1h..2h at 24C
    divide 10min
    shape  20min
    proof  45min..3h at 27C
    bake   16min for rolls at 230C
    bake   30min for loaves at 230C
  }
}
formula tide-rolls "Tide Rolls" {
  makes  48 rolls at 80 g
  total { bread flour 100%; water 65%; salt 2%; fresh yeast 2% }
  method {
    mix    6min with everything else
    bulk   1h..2h at 24C
    shape  20min
    proof  45min..2h at 27C
    bake   16min at 230C
  }
}
"#;

/// What somebody may change of a formula between two plans.
const EDITS: [(&str, &str); 6] = [
    ("48 rolls at 80 g", "48 rolls at 95 g"),
    ("water 72%", "water 66%"),
    ("bulk   1h..2h at 24C\n    shape  20min", "bulk   90min..2h at 24C\n    shape  20min"),
    ("divide 10min\n", "divide 10min\n    preshape 10min\n"),
    ("bake   35min at 240C", "bake   45min at 235C"),
    ("water          100%", "water          80%"),
];

struct Draw(u64);

impl Draw {
    fn below(&mut self, below: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % below
    }

    /// A day's lines: which products, and how many of them.
    fn orders(&mut self) -> Vec<(String, u64, String)> {
        let mut lines = Vec::new();
        for (product, kind, most) in [
            ("mole-loaf", "loaves", 24),
            ("quay-mixed", "loaves", 14),
            ("quay-mixed for \"Quay Inn\"", "rolls", 90),
            ("tide-rolls", "rolls", 160),
        ] {
            if self.below(4) > 0 {
                let by = format!("{:02}:30", 6 + self.below(5));
                lines.push((format!("{product} # {kind}"), 1 + self.below(most), by));
            }
        }
        if lines.is_empty() {
            lines.push(("tide-rolls # rolls".to_owned(), 30, "08:00".to_owned()));
        }
        lines
    }
}

fn written(orders: &[(String, u64, String)]) -> String {
    let lines = orders.iter().map(|(what, count, by)| {
        format!("  order {} by {by}\n", what.replace('#', &count.to_string()))
    });
    format!("day saturday {{\n{}}}\n", lines.collect::<String>())
}

fn planned(folder: &Path, more: &[&str]) -> (Value, String) {
    let args = ["day", "saturday", "--format", "json", "--placings", "16"];
    let done = assize(folder, &[args.as_slice(), more].concat());
    let told = err(&done);
    (serde_json::from_str(&out(&done)).unwrap_or_else(|why| panic!("{why}: {told}")), told)
}

fn text<'v>(value: &'v Value, name: &str) -> &'v str {
    value[name].as_str().unwrap_or_default()
}

fn of_id<'v>(all: &'v [Value], id: &str) -> Vec<&'v Value> {
    all.iter().filter(|it| text(it, "id") == id).collect()
}

/// The works of a plan of which something was begun before a minute, by their identifiers.
fn begun(before: &Value, now: i64) -> BTreeSet<String> {
    let is_begun = |work: &&Value| {
        let tasks = list(work, "tasks").iter();
        work["on_hand"] == false
            && tasks.filter(|task| !task["from"].is_null()).any(|task| whole(&task["from"]) < now)
    };
    list(before, "works").iter().filter(is_begun).map(|work| text(work, "id").to_owned()).collect()
}

/// What was begun is as it was; all else comes later; and what is made is what is ordered, left
/// over or missing.
fn assert_kept(before: &Value, after: &Value, now: i64, about: &str) {
    let fields = |value: &Value, names: &[&str]| -> Vec<Value> {
        names.iter().map(|name| value[*name].clone()).collect()
    };
    // Tasks.
    let ids: Vec<&str> = list(after, "tasks").iter().map(|task| text(task, "id")).collect();
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), ids.len(), "{about}: {ids:?}");
    let of_task = [
        "id",
        "title",
        "from",
        "to",
        "begins",
        "ends",
        "machine",
        "place",
        "boards",
        "hands",
        "heat",
        "heat_at_end",
        "moment",
        "load",
    ];
    for task in list(before, "tasks") {
        let own = of_id(list(after, "tasks"), text(task, "id"));
        if whole(&task["from"]) < now {
            assert_eq!(own.len(), 1, "{about}: {task}");
            assert_eq!(fields(own[0], &of_task), fields(task, &of_task), "{about}");
        }
    }
    let known = list(before, "tasks");
    for task in list(after, "tasks").iter().filter(|task| whole(&task["from"]) < now) {
        assert_eq!(of_id(known, text(task, "id")).len(), 1, "{about}: begun before now: {task}");
    }
    // Batches and builds.
    let begun = begun(before, now);
    let (works, kept) = (list(before, "works"), list(after, "works"));
    let of_work = [
        "formula",
        "kinds",
        "pieces",
        "number",
        "loads",
        "stage",
        "made",
        "kept_back",
        "saved",
        "lines",
    ];
    for id in &begun {
        let (one, two) = (of_id(works, id), of_id(kept, id));
        assert_eq!((one.len(), two.len()), (1, 1), "{about}: {id}");
        assert_eq!(fields(one[0], &of_work), fields(two[0], &of_work), "{about}");
        for take in list(one[0], "takes").iter().filter(|take| begun.contains(text(take, "by"))) {
            assert!(list(two[0], "takes").contains(take), "{about}: {id}: {take}");
        }
    }
    let of_batch = [
        "product",
        "number",
        "pieces",
        "makes",
        "dough",
        "lines",
        "water",
        "contains",
        "may_contain",
    ];
    let id = |batch: &Value| format!("{} {}", text(batch, "product"), batch["number"]);
    for batch in list(before, "batches").iter().filter(|batch| begun.contains(&id(batch))) {
        let same: Vec<&Value> =
            list(after, "batches").iter().filter(|other| id(other) == id(batch)).collect();
        assert_eq!(same.len(), 1, "{about}: {batch}");
        assert_eq!(fields(same[0], &of_batch), fields(batch, &of_batch), "{about}");
    }
    // Sums.
    let mut taken = vec![0; list(after, "batches").len()];
    for order in list(after, "orders") {
        let from: i64 = list(order, "from").iter().map(|share| whole(&share["pieces"])).sum();
        let all = from + whole(&order["on_hand"]) + whole(&order["missing"]);
        assert_eq!(all, whole(&order["count"]), "{about}: {order}");
        for share in list(order, "from") {
            taken[usize::try_from(whole(&share["batch"])).expect("small")] +=
                whole(&share["pieces"]);
        }
    }
    let left_over = list(after, "left_over");
    for (batch, taken) in list(after, "batches").iter().zip(taken) {
        let pieces = whole(&batch["pieces"]);
        match begun.contains(&id(batch)) {
            true if taken == pieces => {}
            true => {
                let over = pieces - taken;
                let is_told = left_over.iter().filter_map(Value::as_str).any(|it| told(it) == over);
                assert!(is_told, "{about}: {over} of {} in {left_over:?}", id(batch));
            }
            false if batch["mixed"].is_null() => {}
            false => assert_eq!(taken, pieces, "{about}: {batch}"),
        }
    }
    for build in list(after, "builds") {
        let takes = list(build, "takes").iter().map(|take| grams(&take["weight"]));
        let rest = ["kept_back", "saved", "left"].map(|name| &build[name]);
        let all = sum(takes.chain(rest.into_iter().filter(|it| !it.is_null()).map(grams)));
        assert!(same(all, grams(&build["made"])), "{about}: {all:?} of {build}");
    }
    assert_nothing_twice(after);
}

/// The pieces that a line of what is left over tells, of all kinds.
fn told(line: &str) -> i64 {
    let words: Vec<&str> = line.split([' ', ',', '\u{a0}']).filter(|it| !it.is_empty()).collect();
    let pieces = words.windows(2).filter(|pair| ["loaves", "rolls"].contains(&pair[1]));
    pieces.filter_map(|pair| pair[0].parse::<i64>().ok()).sum()
}

/// Whatever the day, the moment, the orders and the formulas: twice one after the other, the second
/// time from the plan that the first one made.
#[test]
fn what_is_begun_stays_to_the_byte_whatever_is_ordered_or_edited() {
    let mut draw = Draw(29);
    let (mut held, mut over, mut edited) = (0, 0, 0);
    for round in 0..10 {
        let folder = folder();
        let mut house = HOUSE.to_owned();
        let mut orders = draw.orders();
        let write = |house: &str, orders: &[(String, u64, String)]| {
            fs::write(folder.path().join("house.dough"), format!("{house}{}", written(orders)))
                .expect("written");
        };
        write(&house, &orders);
        let (mut before, _) = planned(folder.path(), &[]);
        let mut now = 0;
        for turn in 0..2 {
            fs::write(folder.path().join("state.json"), before.to_string()).expect("written");
            // A moment of the day itself at which something begins, or a little after.
            let times: Vec<i64> =
                list(&before, "tasks").iter().map(|task| whole(&task["from"])).collect();
            let drawn = times[usize::try_from(draw.below(times.len() as u64)).expect("small")];
            now = (drawn + i64::try_from(draw.below(20)).expect("small")).max(now).clamp(0, 1400);
            match draw.below(4) {
                0 => orders = draw.orders(),
                1 => orders.iter_mut().for_each(|order| order.1 = 1 + order.1 / 2),
                2 => orders.iter_mut().for_each(|order| order.1 = order.1 * 3 / 2),
                _ => {}
            }
            if draw.below(2) == 0 {
                let (from, to) = EDITS[usize::try_from(draw.below(6)).expect("small")];
                edited += usize::from(house.contains(from));
                house = house.replace(from, to);
            }
            write(&house, &orders);
            let clock = format!("{:02}:{:02}", now / 60, now % 60);
            let (after, told) = planned(folder.path(), &["--state", "state.json", "--now", &clock]);
            let about = format!("round {round}, turn {turn}, {clock}, {told}");
            assert_kept(&before, &after, now, &about);
            held += begun(&before, now).len();
            over += list(&after, "left_over").len();
            before = after;
        }
    }
    assert!(held > 20 && over > 2 && edited > 3, "{held} held, {over} left over, {edited} edited");
}

/// A formula of several kinds of pieces, and stages of one name in several formulas, are told apart
/// wherever a batch or a build is named.
#[test]
fn each_batch_and_build_has_a_name_of_its_own() {
    let folder = folder();
    let own_stage = HOUSE.replace(
        "formula tide-rolls \"Tide Rolls\" {",
        "formula gull-rolls \"Gull Rolls\" {\n  makes 40 rolls at 80 g\n  \
         total { bread flour 100%; water 65%; salt 2% }\n  \
         preferment quay levain { bread flour 100%; water 60%; white culture 30%; ferments 9% of \
         flour; ripens 6h..8h at 22C; keeps 3h }\n  \
         method { mix 6min with everything else; bulk 2h..3h at 24C; shape 20min; \
         proof 1h..2h at 27C; bake 16min at 230C }\n}\nformula tide-rolls \"Tide Rolls\" {",
    );
    let day = "day 2026-12-05 {\n  order quay-mixed 12 loaves by 09:00, 80 rolls by 09:00\n  \
               order gull-rolls 40 rolls by 09:30\n}\n";
    fs::write(folder.path().join("house.dough"), format!("{own_stage}{day}")).expect("written");
    let day = ["day", "2026-12-05", "--placings", "16", "--zone", "Europe/Paris"];
    let of = |more: &[&str]| out(&assize(folder.path(), &[day.as_slice(), more].concat()));
    let plan: Value = serde_json::from_str(&of(&["--format", "json"])).expect("a plan");
    let all_differ = |all: Vec<String>, what: &str| {
        let different: BTreeSet<&String> = all.iter().collect();
        assert!(!all.is_empty() && different.len() == all.len(), "{what}: {all:?}");
    };
    for (list_of, name, number) in [("batches", "product", "number"), ("builds", "name", "number")]
    {
        let named = list(&plan, list_of).iter().map(|it| format!("{} {}", it[name], it[number]));
        all_differ(named.collect(), list_of);
    }
    for list_of in ["tasks", "works"] {
        let ids = list(&plan, list_of).iter().map(|it| text(it, "id").to_owned());
        all_differ(ids.collect(), list_of);
    }
    let takers = list(&plan, "builds").iter().flat_map(|build| list(build, "takes"));
    let takers = takers.map(|take| text(take, "who").to_owned());
    all_differ(takers.collect(), "takes");
    let calendar = of(&["--format", "ics"]);
    let uids = calendar.lines().filter(|line| line.starts_with("UID:")).map(ToOwned::to_owned);
    all_differ(uids.collect(), "calendar");
    let shown = of(&[]);
    for batch in ["Quay Mixed 1 of 2", "Quay Mixed 2 of 2"] {
        assert!(shown.contains(batch), "{shown}");
    }
    // Each is spoken of by its own number, in steps that take nobody too.
    for number in ["1", "2"] {
        let done = of(&["--format", "json", "--done", &format!("quay-mixed {number} bulk")]);
        let after: Value = serde_json::from_str(&done).expect("a plan");
        let own = format!("quay-mixed {number} mix");
        let at = |plan: &Value| {
            of_id(list(plan, "tasks"), &own)
                .first()
                .map(|it| (it["from"].clone(), it["to"].clone()))
        };
        assert!(at(&plan).is_some() && at(&plan) == at(&after), "{own}");
    }
    let wrong = assize(folder.path(), &[day.as_slice(), &["--done", "quay-mixed 2 fry"]].concat());
    assert_eq!(wrong.status.code(), Some(2));
    assert!(err(&wrong).contains("mix, bulk, divide, shape, proof, bake"), "{}", err(&wrong));
}

/// A row of an order file leaves what is ordered of another kind, and says what it replaced.
#[test]
fn a_row_replaces_its_own_kind_of_pieces_and_says_so() {
    let folder = folder();
    let day = "day saturday { order quay-mixed 8 loaves by 09:00, 40 rolls by 09:00 }\n";
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{day}")).expect("written");
    let rows = "product,amount,by\nquay-mixed,6 loaves,10:00\n";
    fs::write(folder.path().join("orders.csv"), rows).expect("written");
    let (plan, told) = planned(folder.path(), &["--orders", "orders.csv"]);
    let amounts: Vec<&str> = list(&plan, "orders").iter().map(|it| text(it, "amount")).collect();
    assert_eq!(amounts, ["40 rolls", "6 loaves"]);
    assert!(told.contains("in place of `quay-mixed` 8 loaves by 09:00"), "{told}");
}

/// Several days are one document of JSON, and a plan of another version is refused.
#[test]
fn several_days_are_one_array_and_another_version_is_refused() {
    let folder = folder();
    let days = "day friday { order tide-rolls 20 rolls by 09:00 }\n\
                day saturday { order tide-rolls 30 rolls by 09:00 }\n";
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{days}")).expect("written");
    let done = assize(
        folder.path(),
        &["day", "friday", "saturday", "--format", "json", "--placings", "4"],
    );
    let both: Value = serde_json::from_str(&out(&done)).expect("one document");
    let names: Vec<&str> =
        both.as_array().expect("an array").iter().map(|day| text(day, "name")).collect();
    assert_eq!(names, ["friday", "saturday"]);
    let (mut plan, _) = planned(folder.path(), &[]);
    plan["version"] = 1.into();
    fs::write(folder.path().join("old.json"), plan.to_string()).expect("written");
    let old = assize(folder.path(), &["day", "saturday", "--state", "old.json", "--now", "03:00"]);
    assert_eq!(old.status.code(), Some(2));
    assert!(err(&old).contains("another version"), "{}", err(&old));
}

/// A state says where it does not fit: what was begun by another formula, what nobody orders any
/// more, and what can't be held because something is not there.
#[test]
fn a_state_that_does_not_fit_says_so() {
    let folder = folder();
    let day = "day saturday {\n  order tide-rolls 48 rolls by 09:00\n}\n";
    let write = |house: &str, day: &str| {
        fs::write(folder.path().join("house.dough"), format!("{house}{day}")).expect("written");
    };
    write(HOUSE, day);
    let (plan, told) = planned(folder.path(), &[]);
    fs::write(folder.path().join("state.json"), plan.to_string()).expect("written");
    let begins = list(&plan, "tasks").iter().map(|task| whole(&task["from"])).min();
    let now = begins.expect("a task") + 1;
    let clock = format!("{:02}:{:02}", now / 60, now % 60);
    let told_of = |house: &str, day: &str| {
        write(house, day);
        let args = ["day", "saturday", "--state", "state.json", "--now", &clock, "--placings", "4"];
        let done = assize(folder.path(), &args);
        (done.status.code(), err(&done), out(&done))
    };
    assert!(now > 0, "{told}");
    let (code, told, shown) = told_of(HOUSE, day);
    assert_eq!(code, Some(0), "{told}");
    assert!(told.contains("1 of 1 batch of the plan so far begun"), "{told}");
    assert!(!shown.contains("left over"), "{shown}");
    let (_, told, _) = told_of(&HOUSE.replace("48 rolls at 80 g", "48 rolls at 95 g"), day);
    assert!(told.contains("was begun by another formula"), "{told}");
    assert!(told.contains("have changed since the plan so far"), "{told}");
    let (_, told, shown) = told_of(HOUSE, &day.replace("48 rolls", "30 rolls"));
    assert!(told.contains("18 rolls of it have been begun, and nobody has ordered them"), "{told}");
    assert!(shown.contains("left over: Tide Rolls: 18 rolls"), "{shown}");
    // Nobody orders it at all: it is baked, and left over.
    let other = "day saturday { order mole-loaf 2 loaves by 12:30 }\n";
    let (_, told, shown) = told_of(HOUSE, other);
    assert!(told.contains("48 rolls of it have been begun"), "{told}");
    assert!(shown.contains("Tide Rolls"), "{shown}");
    // Without its mixer, its kind or its formula it can't be held, and the answer is no plan.
    let no_kind = HOUSE.replace("48 rolls at 80 g", "12 loaves at 320 g");
    let no_formula =
        HOUSE.replace("formula tide-rolls \"Tide Rolls\"", "formula ebb-rolls \"Ebb\"");
    let no_mixer = HOUSE.replace("mixer spiral ", "mixer planetary ");
    for (house, lacks) in [(&no_kind, "rolls"), (&no_formula, "tide-rolls"), (&no_mixer, "spiral")]
    {
        let (code, told, shown) = told_of(house, other);
        assert!(code != Some(0) && shown.is_empty(), "{lacks}: {shown}");
        assert!(told.contains(lacks), "{lacks}: {told}");
    }
}

/// A later time that is told as a way out is one: whatever part of the order is late.
#[test]
fn a_later_time_that_would_help_does_when_it_is_ordered() {
    let mut tried = 0;
    for (count, by) in [(400, "04:00"), (200, "05:30"), (560, "07:00")] {
        let folder = folder();
        let write = |by: &str| {
            let day = format!("day saturday {{ order tide-rolls {count} rolls by {by} }}\n");
            fs::write(folder.path().join("house.dough"), format!("{HOUSE}{day}")).expect("written");
        };
        write(by);
        let args = ["day", "saturday", "--placings", "60"];
        let told = err(&assize(folder.path(), &args));
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        let Some((_, later)) = told.split_once("with `tide-rolls` by ") else { continue };
        let later = &later[..5];
        assert!(
            told.contains(&format!("nothing would be late with `tide-rolls` by {later}")),
            "{told}"
        );
        write(later);
        let done = assize(folder.path(), &args);
        assert_eq!(done.status.code(), Some(0), "{count} by {later}: {}", err(&done));
        tried += 1;
    }
    assert!(tried > 0);
}

/// What somebody says is done is over: what follows it may begin now, and nothing of what is done
/// stands in the future.
#[test]
fn what_is_done_early_lets_the_rest_begin() {
    let folder = folder();
    let text = r#"
bakehouse "Gullhaven Bakehouse" { hours 01:00..12:00 with 3; mixer spiral { holds 1 kg..10 kg } }
formula rolls "Rolls" {
  makes 100 rolls at 70 g
  total { bread flour 100%; water 62%; salt 2%; fresh yeast 2% }
  method { mix 8min with everything else; bulk 1h..2h at 25C; divide 10min; shape 15min
    proof 1h..90min at 25C; bake 16min at 230C }
}
day saturday { order rolls 100 rolls by 09:00 }
"#;
    fs::write(folder.path().join("house.dough"), text).expect("written");
    let (before, told) = planned(folder.path(), &[]);
    fs::write(folder.path().join("s.json"), before.to_string()).expect("written");
    let begins = |day: &Value, step: &str| {
        let id = format!("rolls 1 {step}");
        let own = list(day, "tasks").iter().find(|task| text_of(task).starts_with(&id));
        whole(&own.unwrap_or_else(|| panic!("{id}: {told}"))["from"])
    };
    let mix = begins(&before, "mix");
    let now = mix + 30;
    let time = format!("{:02}:{:02}", now / 60, now % 60);
    let given =
        |done: &str| planned(folder.path(), &["--state", "s.json", "--now", &time, "--done", done]);
    let (after, told) = given("rolls 1 bulk");
    assert_eq!(begins(&after, "divide"), now, "{told}");
    assert!(begins(&after, "bake") < begins(&before, "bake"), "{told}");
    let (after, told) = given("rolls 1 proof");
    assert!((now..now + 10).contains(&begins(&after, "bake")), "{told}");
    assert!(
        list(&after, "tasks")
            .iter()
            .all(|task| { !text_of(task).contains(" shape") || whole(&task["to"]) <= now })
    );
}

/// Whatever a batch of several loads is through, its loads go on one after the other, each in the
/// order of its steps, as hands allow; and nothing is left out for that.
#[test]
fn what_is_through_a_step_goes_on_load_after_load() {
    for hands in [1, 2, 3] {
        let folder = folder();
        let text = format!(
            r#"
bakehouse "Gullhaven Bakehouse" {{ hours 00:00..13:00 with {hands}; mixer spiral {{ holds 1 kg..20 kg }}
  oven deck {{ decks 3; holds 40 rolls }} }}
formula rolls "Rolls" {{
  makes 100 rolls at 70 g
  total {{ bread flour 100%; water 62%; salt 2%; fresh yeast 2% }}
  method {{ mix 8min with everything else; bulk 1h..2h at 25C; divide 10min; shape 15min
    proof 1h..90min at 25C; score 2min; bake 16min at 230C }}
}}
day saturday {{ order rolls 100 rolls by 06:00 }}
"#
        );
        fs::write(folder.path().join("house.dough"), text).expect("written");
        let (before, told) = planned(folder.path(), &[]);
        fs::write(folder.path().join("s.json"), before.to_string()).expect("written");
        let own = |day: &Value, step: &str| {
            let id = format!("rolls 1 {step}");
            let tasks = list(day, "tasks").iter().filter(|task| text_of(task).starts_with(&id));
            let mut own: Vec<(i64, i64)> =
                tasks.map(|task| (whole(&task["from"]), whole(&task["to"]))).collect();
            own.sort_unstable();
            own
        };
        let shape = own(&before, "shape").first().copied().unwrap_or_else(|| panic!("{told}"));
        for (done, later) in
            [("bulk", -30), ("shape", 0), ("proof", 30), ("proof", 60), ("score", 70)]
        {
            let now = shape.1 + later;
            let time = format!("{:02}:{:02}", now / 60, now % 60);
            let done = format!("rolls 1 {done}");
            let args = ["--state", "s.json", "--now", &time, "--done", &done];
            let (after, told) = planned(folder.path(), &args);
            assert_eq!(after["orders"][0]["missing"], 0, "{hands} {done} {time}: {told}");
            let loads = |step: &str| {
                let tasks = list(&after, "tasks").iter();
                let own =
                    tasks.filter(|task| text_of(task).starts_with(&format!("rolls 1 {step}")));
                let own = own.filter(|task| !task["load"].is_null() && task["moment"] == false);
                own.map(|task| (whole(&task["load"]), whole(&task["from"]), whole(&task["to"])))
                    .collect::<Vec<_>>()
            };
            for (load, _, scored) in loads("score") {
                let bakes = loads("bake").into_iter().filter(|(own, ..)| *own == load);
                let bakes = bakes.map(|(_, from, _)| from).min();
                assert!(bakes.is_none_or(|from| from >= scored), "{hands} {done} {time}: {load}");
            }
        }
    }
}

/// Who says that a batch is through a step sooner than its steps can be done is asked whether that is
/// the batch.
#[test]
fn what_can_hardly_be_done_by_now_is_asked_about() {
    let folder = folder();
    let text = format!("{HOUSE}day saturday {{ order tide-rolls 48 rolls by 09:00 }}\n");
    fs::write(folder.path().join("house.dough"), text).expect("written");
    let (before, _) = planned(folder.path(), &[]);
    fs::write(folder.path().join("s.json"), before.to_string()).expect("written");
    let mix = list(&before, "tasks").iter().map(|task| whole(&task["from"])).min().expect("a mix");
    for (step, later, is_asked) in
        [("mix", 10, false), ("bulk", 20, true), ("bulk", 75, false), ("bake", 30, true)]
    {
        let now = mix + later;
        let time = format!("{:02}:{:02}", now / 60, now % 60);
        let done = format!("tide-rolls 1 {step}");
        let (_, told) =
            planned(folder.path(), &["--state", "s.json", "--now", &time, "--done", &done]);
        assert_eq!(told.contains("is it another batch?"), is_asked, "{step} {later}: {told}");
    }
}

fn text_of(task: &Value) -> &str {
    task["id"].as_str().unwrap_or_default()
}

/// The last step is asked about as the others are, also where nothing of it takes hands: its batch
/// can't be through it before it has taken its time.
#[test]
fn a_last_step_can_t_be_over_before_it_can_be() {
    for last in ["cool 1h", "rest 20min; cool 40min", "cool 30min to 1h"] {
        let folder = folder();
        let text = format!(
            "bakehouse \"Quay\" {{ hours 01:00..13:00 with 3; mixer spiral {{ holds 3 kg..28 kg }}; \
             oven deck {{ decks 3; holds 8 loaves; at 230C }} }}\n\
             formula tide-loaf \"Tide Loaf\" {{ makes 8 loaves at 432.5 g; dough {{ bread flour 100%; \
             water 70%; salt 2%; fresh yeast 1% }} method {{ mix 10min to 25C; bulk 1h at 25C; \
             shape 10min; proof 1h at 25C; bake 30min at 230C; {last} }} }}\n\
             day saturday {{ order tide-loaf 8 loaves by 10:00 }}\n"
        );
        fs::write(folder.path().join("house.dough"), text).expect("written");
        let (before, _) = planned(folder.path(), &[]);
        fs::write(folder.path().join("s.json"), before.to_string()).expect("written");
        let begins = list(&before, "tasks").iter().map(|task| whole(&task["from"]));
        let mix = begins.min().expect("a mix");
        // 170 minutes to the end of the bake; hands may be a quarter of an hour quicker.
        for (later, is_asked) in [(-30, true), (20, true), (150, true), (300, false)] {
            let now = mix + later;
            let time = format!("{:02}:{:02}", now / 60, now % 60);
            let done = ["--done", "tide-loaf 1 bulk", "--done", "tide-loaf 1 cool"];
            let state = ["--state", "s.json", "--now", &time];
            let (_, told) = planned(folder.path(), &[&state[..], &done].concat());
            let asks = told.contains("through `cool`") && told.contains("is it another batch?");
            assert_eq!(asks, is_asked, "{last} {later}: {told}");
        }
    }
}
