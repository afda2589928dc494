//! A production day: every order is made, gram for gram and piece for piece, in a day that no
//! machine, board or pair of hands is wanted twice in.

use crate::support::{assize, err, folder, out, top};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// A house with everything that a day counts.
const HOUSE: &str = r#"
bakehouse "Gullhaven Bakehouse" {
  hours  16:00..22:00 with 2, 02:00..13:00 with 2
  room   21C
  mixer spiral  { holds 3 kg..28 kg; machines 2 }
  mixer bench   { holds 300 g..3 kg }
  oven deck     { decks 3; holds 12 loaves, 40 rolls; at 250C; changes 15min per 20C }
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
    bulk   3h..4h at 25C fold 2 times every 40min
    divide 15min
    shape  20min
    proof  2h..14h at 4C
    score  5min
    bake   35min at 240C
    cool   1h
  }
}

formula quay-rolls "Quay Rolls" {
  makes  48 rolls at 80 g
  total { bread flour 100%; water 65%; salt 2%; fresh yeast 1% }
  preferment quay levain { ferments 10% of flour }
  method {
    mix    6min with everything else
    bulk   1h..2h at 24C
    divide 10min
    shape  20min
    proof  45min..3h at 27C
    bake   16min at 230C
    cool   20min
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

const MARKET: &str = r#"
day saturday "Market" {
  order  mole-loaf  60 loaves by 08:00
  order  quay-rolls  200 rolls by 07:30, 60 rolls by 11:00
  order  quay-rolls for "Harbour Hotel"  40 rolls by 07:00
  on hand  mole-loaf  7 loaves
}
"#;

fn planned(text: &str, day: &str) -> (Value, String) {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), text).expect("written");
    planned_in(folder.path(), day)
}

/// As well as little work finds it.
fn quickly(text: &str, day: &str) -> (Value, String) {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), text).expect("written");
    planned_with(folder.path(), day, "60")
}

fn planned_in(folder: &Path, day: &str) -> (Value, String) {
    planned_with(folder, day, "300")
}

fn planned_with(folder: &Path, day: &str, placings: &str) -> (Value, String) {
    let done = assize(folder, &["day", day, "--format", "json", "--placings", placings]);
    let told = err(&done);
    (serde_json::from_str(&out(&done)).unwrap_or_else(|why| panic!("{why}: {told}")), told)
}

/// The days of a plan: one by itself, several as an array.
fn days_of(text: &str) -> Vec<Value> {
    match serde_json::from_str(text).expect("JSON") {
        Value::Array(days) => days,
        day => vec![day],
    }
}

pub fn list<'v>(value: &'v Value, name: &str) -> &'v [Value] {
    value[name].as_array().map_or(&[][..], Vec::as_slice)
}

pub fn whole(value: &Value) -> i64 {
    value.as_i64().unwrap_or_else(|| panic!("{value} is no whole number"))
}

/// Grams as a fraction of whole numbers.
pub fn grams(weight: &Value) -> (i128, i128) {
    let text = weight["grams"].as_str().expect("grams");
    let (above, below) = text.split_once('/').unwrap_or((text, "1"));
    let decimals = above.split_once('.').map_or(0, |(_, digits)| digits.len());
    let scale = 10i128.pow(u32::try_from(decimals).expect("few"));
    let above: i128 = above.replace('.', "").parse().expect("a number");
    let below: i128 = below.parse().expect("a number");
    (above, below * scale)
}

pub fn sum(all: impl Iterator<Item = (i128, i128)>) -> (i128, i128) {
    fn gcd(one: i128, two: i128) -> i128 {
        if two == 0 { one.abs() } else { gcd(two, one % two) }
    }
    all.fold((0, 1), |(above, below), (one, two)| {
        let (above, below) = (above * two + one * below, below * two);
        let common = gcd(above, below).max(1);
        (above / common, below / common)
    })
}

pub fn same(one: (i128, i128), two: (i128, i128)) -> bool {
    one.0 * two.1 == two.0 * one.1
}

/// What has to hold of every day, whatever is ordered.
fn assert_sound(day: &Value) {
    let (orders, batches) = (list(day, "orders"), list(day, "batches"));
    let mut taken: BTreeMap<i64, i64> = BTreeMap::new();
    for order in orders {
        let from: i64 = list(order, "from").iter().map(|share| whole(&share["pieces"])).sum();
        let made = from + whole(&order["on_hand"]) + whole(&order["missing"]);
        assert_eq!(made, whole(&order["count"]), "{order}");
        for share in list(order, "from") {
            *taken.entry(whole(&share["batch"])).or_default() += whole(&share["pieces"]);
        }
    }
    for (place, batch) in (0..).zip(batches) {
        let loads: i64 = list(batch, "loads").iter().map(|load| whole(&load["pieces"])).sum();
        assert_eq!(loads, whole(&batch["pieces"]), "{batch}");
        if !batch["mixed"].is_null() {
            assert_eq!(taken.get(&place).copied(), Some(loads), "{batch}");
        }
    }
    for build in list(day, "builds") {
        let takes = list(build, "takes").iter().map(|take| grams(&take["weight"]));
        let kept = ["kept_back", "saved", "left"].map(|name| &build[name]);
        let kept = kept.into_iter().filter(|it| !it.is_null()).map(grams);
        let all = sum(takes.chain(kept));
        assert!(same(all, grams(&build["made"])), "{all:?} of {build}");
        let lines = sum(list(build, "lines").iter().map(|line| grams(&line["weight"])));
        let is_built = build["on_hand"] == false;
        assert!(!is_built || same(lines, grams(&build["made"])), "{build}");
    }
    assert_nothing_twice(day);
}

/// Machines, decks and pairs of hands do one thing at a time, and no place holds more than it
/// can, at any minute.
pub fn assert_nothing_twice(day: &Value) {
    let tasks = list(day, "tasks");
    let span = |task: &Value| (whole(&task["from"]), whole(&task["to"]));
    for row in list(day, "rows").iter().filter(|row| row["kind"] != "place") {
        let own =
            list(row, "tasks").iter().map(|it| &tasks[usize::try_from(whole(it)).expect("small")]);
        let mut own: Vec<(i64, i64)> = own.map(span).collect();
        own.sort_unstable();
        for pair in own.windows(2) {
            assert!(pair[0].1 <= pair[1].0, "{} at {pair:?}", row["name"]);
        }
    }
    let levels = list(day, "hands");
    for task in tasks.iter().filter(|task| !task["hands"].is_null()) {
        for minute in [whole(&task["from"]), whole(&task["to"]) - 1] {
            let there = levels.iter().rfind(|level| whole(&level["at"]) <= minute);
            let there = there.map_or(0, |level| whole(&level["hands"]));
            assert!(there > 0, "nobody is there at {minute}: {task}");
        }
    }
}

#[test]
fn orders_are_batches_and_what_is_on_hand_and_nothing_is_wanted_twice() {
    let (day, told) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    assert_sound(&day);
    assert_eq!(list(&day, "orders").len(), 4, "{told}");
    assert!(list(&day, "orders").iter().all(|it| it["late"] == 0 && it["missing"] == 0), "{told}");
    let loaves = list(&day, "batches").iter().filter(|it| it["product"] == "mole-loaf");
    let mut pieces: Vec<i64> = loaves.map(|it| whole(&it["pieces"])).collect();
    pieces.sort_unstable();
    assert_eq!(pieces, [26, 27]);
    // Batches share their levain.
    assert!(list(&day, "builds").len() < list(&day, "batches").len(), "{}", day["builds"]);
}

/// Boards in a proofer or a refrigerator, minute by minute.
#[test]
fn no_place_holds_more_boards_than_it_can() {
    let (day, _) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    for (place, most) in [("proofer", 24), ("refrigerator", 30)] {
        let inside: Vec<&Value> =
            list(&day, "tasks").iter().filter(|task| task["place"] == place).collect();
        assert!(!inside.is_empty(), "{place}");
        for at in inside.iter().map(|task| whole(&task["from"])) {
            let there =
                inside.iter().filter(|task| whole(&task["from"]) <= at && at < whole(&task["to"]));
            let boards: i64 = there.map(|task| whole(&task["boards"])).sum();
            assert!(boards <= most, "{boards} boards in the {place} at {at}");
        }
    }
}

#[test]
fn the_order_of_lines_means_nothing() {
    let (day, _) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    let mut lines: Vec<&str> = MARKET.trim().lines().collect();
    let last = lines.len() - 1;
    lines[1..last].reverse();
    let (other, _) = planned(&format!("{HOUSE}\n{}\n", lines.join("\n")), "saturday");
    assert_eq!(day["tasks"], other["tasks"]);
    assert_eq!(day["requisition"], other["requisition"]);
}

/// What a batch weighs out is what the formula's own sheet says for as many pieces.
#[test]
fn batches_say_what_their_sheets_say() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let (day, _) = planned_in(folder.path(), "saturday");
    for batch in list(&day, "batches") {
        let kind = if batch["product"] == "mole-loaf" { "loaves" } else { "rolls" };
        let makes = format!("{} {kind}", batch["pieces"]);
        let product = batch["product"].as_str().expect("a name");
        let shown =
            assize(folder.path(), &["show", product, "--makes", &makes, "--format", "json"]);
        let shown: Value = serde_json::from_str(&out(&shown)).expect("a document");
        let dough = list(&shown, "mixes").last().expect("a dough");
        assert_eq!(batch["lines"], dough["lines"], "{makes}");
        assert_eq!(batch["makes"], shown["yield"]["text"]);
        assert_eq!(batch["water"], shown["water"]);
    }
}

/// The page of a sheet without its head and its foot, which name the batch and the print.
fn body_of(page: &str) -> String {
    let after = page.split_once("</header>").map_or(page, |(_, after)| after);
    after.split_once("<footer").map_or(after, |(body, _)| body).to_owned()
}

/// The sheet of each batch is the formula's own sheet for what the batch makes, to the last letter,
/// but that a build which several batches share says so.
#[test]
fn sheets_of_batches_are_those_of_their_formulas() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let print = |args: &[&str]| {
        let done = assize(folder.path(), &[&["print", "--format", "html"], args].concat());
        assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
    };
    print(&["saturday", "--only", "sheet", "--placings", "20", "--to", "day"]);
    let day = planned_with(folder.path(), "saturday", "20").0;
    let mut batches: Vec<&Value> = list(&day, "batches").iter().collect();
    batches.sort_by_key(|batch| whole(&batch["mixed_at"]));
    let mut alike: BTreeMap<String, usize> = BTreeMap::new();
    let mut parts = 0;
    for place in 1..=batches.len() {
        let page =
            fs::read_to_string(folder.path().join(format!("day/saturday-sheets-{place}.html")));
        let body = body_of(&page.expect("a sheet"));
        let shared = "this batch’s share of one build";
        parts += usize::from(body.contains(shared));
        *alike.entry(body.replace(shared, "once for the run")).or_default() += 1;
    }
    let mut wanted: BTreeMap<String, usize> = BTreeMap::new();
    for batch in &batches {
        let product = batch["product"].as_str().expect("a name");
        let kind = if product == "mole-loaf" { "loaves" } else { "rolls" };
        let makes = format!("{} {kind}", batch["pieces"]);
        print(&[product, "--only", "sheet", "--makes", &makes, "--to", "own"]);
        let page = folder.path().join(format!("own/{product}-sheet.html"));
        *wanted.entry(body_of(&fs::read_to_string(page).expect("a sheet"))).or_default() += 1;
    }
    assert_eq!(alike, wanted);
    assert!(parts > 1, "some share a build");
}

/// All that goes out of stores is what batches and builds are put together from.
#[test]
fn the_requisition_is_the_sum_of_all_lines() {
    let (day, _) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    let flour = list(&day, "requisition").iter().find(|it| it["key"] == "bread flour");
    let of_batches = list(&day, "batches").iter().flat_map(|it| list(it, "lines"));
    let of_batches =
        of_batches.filter(|line| line["key"] == "bread flour").map(|it| grams(&it["weight"]));
    let of_builds = list(&day, "builds").iter().flat_map(|it| list(it, "lines"));
    let of_builds =
        of_builds.filter(|line| line["name"] == "bread flour").map(|it| grams(&it["weight"]));
    let all = sum(of_batches.chain(of_builds));
    assert!(same(all, grams(&flour.expect("flour")["weight"])), "{all:?}");
}

#[test]
fn a_day_from_another_replaces_adds_and_leaves_out() {
    let more = r#"
day 2026-12-05 "Saint Nicholas" from saturday {
  order    quay-rolls  90 rolls by 07:30
  without  quay-rolls for "Harbour Hotel"
}
"#;
    let (day, _) = planned(&format!("{HOUSE}{MARKET}{more}"), "2026-12-05");
    let told: Vec<(String, i64, i64)> = list(&day, "orders")
        .iter()
        .map(|it| {
            let name = it["product"].as_str().unwrap_or_default().to_owned();
            (name, whole(&it["count"]), whole(&it["on_hand"]))
        })
        .collect();
    // What is on hand is not inherited.
    assert_eq!(told, [("quay-rolls".to_owned(), 90, 0), ("mole-loaf".to_owned(), 60, 0)]);
    assert_eq!(
        day["orders"][0]["by"]["iso"],
        "2026-12-05T07:30:00+01:00"
            .to_owned()
            .replace("+01:00", &day["orders"][0]["by"]["iso"].as_str().expect("a date")[19..])
    );
    // A date without a day of its own is the day named after its weekday.
    let (other, _) = planned(&format!("{HOUSE}{MARKET}"), "2026-12-12");
    assert_eq!(list(&other, "orders").len(), 4);
}

#[test]
fn what_can_not_be_in_time_is_late_and_what_finds_no_place_is_left_out() {
    let early = HOUSE.replace("16:00..22:00 with 2, 02:00..13:00 with 2", "06:00..13:00");
    let order = "day saturday { order tide-rolls 40 rolls by 06:30 }";
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{early}\n{order}\n")).expect("written");
    let done = assize(folder.path(), &["day", "saturday", "--placings", "300"]);
    assert_eq!(done.status.code(), Some(1), "{}", err(&done));
    assert!(err(&done).contains("order-late"), "{}", err(&done));
    let closed = HOUSE.replace("16:00..22:00 with 2, 02:00..13:00 with 2", "06:00..06:20");
    fs::write(folder.path().join("house.dough"), format!("{closed}\n{order}\n")).expect("written");
    let done = assize(folder.path(), &["day", "saturday", "--placings", "300"]);
    assert_eq!(done.status.code(), Some(1), "{}", err(&done));
    assert!(err(&done).contains("order-left-out"), "{}", err(&done));
    assert!(err(&done).contains("40 of 40"), "{}", err(&done));
}

#[test]
fn fresh_bread_is_not_done_before_its_time() {
    let order = "day saturday { order quay-rolls 40 rolls by 09:00 after 08:00 }";
    let (day, told) = planned(&format!("{HOUSE}\n{order}\n"), "saturday");
    assert_sound(&day);
    let load = &day["batches"][0]["loads"][0];
    let done = load["done_at_latest"]["time"].as_str().expect("a time");
    assert!(("08:00"..="09:00").contains(&done), "{done}: {told}");
}

#[test]
fn more_culture_than_is_on_hand_is_told() {
    let order = "day saturday { order mole-loaf 60 loaves by 08:00; on hand white culture 100 g }";
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}\n{order}\n")).expect("written");
    let done = assize(folder.path(), &["day", "saturday", "--placings", "300"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("stage-short"), "{}", err(&done));
    assert!(err(&done).contains("100 g is on hand"), "{}", err(&done));
}

#[test]
fn a_word_that_is_no_day_is_a_slip_with_near_names() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    for (asked, answer) in [("saturdy", "did you mean `saturday`"), ("2026-13-40", "no day")] {
        let done = assize(folder.path(), &["day", asked]);
        assert_eq!(done.status.code(), Some(2), "{asked}");
        assert!(err(&done).contains(answer), "{}", err(&done));
    }
    let done = assize(folder.path(), &["day", "saturday", "--of", "gantry", "--placings", "300"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(err(&done).contains("spiral 1"), "{}", err(&done));
}

/// Each load is baked as long as its formula says, however many loads there are.
#[test]
fn loads_bake_one_by_one_as_long_as_written() {
    let (day, told) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    let tasks = list(&day, "tasks");
    let decks = list(&day, "rows")
        .iter()
        .filter(|row| row["name"].as_str().is_some_and(|name| name.starts_with("deck")));
    let on_decks = decks.flat_map(|row| list(row, "tasks"));
    let mut lengths: Vec<i64> = on_decks
        .map(|it| &tasks[usize::try_from(whole(it)).expect("small")])
        .map(|task| whole(&task["to"]) - whole(&task["from"]))
        .collect();
    lengths.sort_unstable();
    // 300 rolls in eight loads of at most 40, 27 and 26 loaves in three of at most 12 each.
    assert_eq!(lengths, [[16; 8].as_slice(), &[35; 6]].concat(), "{told}");
}

/// A stage that is on hand is taken while it is ripe, and built only as far as it does not reach.
#[test]
fn a_stage_on_hand_is_taken_before_more_of_it_is_built() {
    let day = |on_hand: &str| {
        format!("{HOUSE}\nday saturday {{ order mole-loaf 60 loaves by 08:00; {on_hand} }}\n")
    };
    let wanted = |day: &Value| {
        let takes = list(day, "builds").iter().flat_map(|build| list(build, "takes"));
        sum(takes.map(|take| grams(&take["weight"])))
    };
    let built = |day: &Value| {
        let builds = list(day, "builds").iter().filter(|build| build["on_hand"] == false);
        sum(builds.flat_map(|build| list(build, "takes")).map(|take| grams(&take["weight"])))
    };
    let (without, _) = quickly(&day(""), "saturday");
    for ripe in ["", " ripe at 17:00 the day before"] {
        let line = format!("on hand quay levain 2 kg{ripe}");
        let (with, told) = quickly(&day(&line), "saturday");
        assert_sound(&with);
        assert!(same(wanted(&with), wanted(&without)), "{told}");
        let all = sum([built(&with), (2000, 1)].into_iter());
        assert!(same(all, built(&without)), "{told}");
        let there = list(&with, "builds").iter().find(|build| build["on_hand"] == true);
        let there = there.expect("what is on hand");
        if ripe.is_empty() {
            continue;
        }
        for take in list(there, "takes") {
            let at = take["at"]["time"].as_str().expect("a time");
            assert!(("17:00"..="21:00").contains(&at), "it keeps 4 h from 17:00: {at}");
        }
    }
    let (more, _) = quickly(&day("on hand quay levain 200 kg"), "saturday");
    assert_sound(&more);
    assert!(list(&more, "builds").iter().all(|build| build["on_hand"] == true), "{more}");
}

/// The next day's need of a culture is kept back, where that day has a block.
#[test]
fn what_the_next_day_takes_of_a_culture_is_kept_back() {
    let today = "day saturday { order mole-loaf 60 loaves by 08:00 }";
    let kept = |day: &Value| {
        let kept = list(day, "builds").iter().map(|build| &build["kept_back"]);
        sum(kept.filter(|it| !it.is_null()).map(grams))
    };
    let next = |count: u32| {
        let next = format!("day sunday {{ order mole-loaf {count} loaves by 08:00 }}");
        let text = format!("{HOUSE}\n{today}\n{next}\n");
        let (today, _) = quickly(&text, "saturday");
        assert_sound(&today);
        let (tomorrow, _) = quickly(&text, "sunday");
        let lines = list(&tomorrow, "builds").iter().flat_map(|build| list(build, "lines"));
        let culture = lines.filter(|line| line["name"] == "white culture");
        (kept(&today), sum(culture.map(|line| grams(&line["weight"]))))
    };
    // Sunday's own build keeps back for no day with a block, and takes as much as it keeps.
    for count in [10, 40] {
        let (kept, taken) = next(count);
        assert!(same(kept, taken), "{count}: {kept:?} {taken:?}");
    }
}

/// What a day leaves out of another one and that is not there is told, and what is there is not.
#[test]
fn what_is_left_out_of_nothing_is_told() {
    let from = "day saturday { order quay-rolls for \"Harbour Hotel\" 40 rolls by 08:00; order mole-loaf 12 loaves by 09:00 }";
    let cases = [
        ("from saturday", "without quay-rolls for \"Harbor Hotel\"", true),
        ("from saturday", "without quay-rolls for \"Harbour Hotel\"", false),
        ("from saturday", "without quay-rolls", false),
        ("from saturday", "without tide-rolls", true),
        ("from saturday", "without mole-loaf for \"Harbour Hotel\"", true),
        ("", "without mole-loaf", true),
    ];
    for (made_from, without, is_told) in cases {
        let folder = folder();
        let own = "order tide-rolls 24 rolls by 10:00";
        let day = format!("day sunday {made_from} {{\n  {own}\n  {without}\n}}\n");
        fs::write(folder.path().join("house.dough"), format!("{HOUSE}\n{from}\n{day}"))
            .expect("written");
        let done = assize(folder.path(), &["check"]);
        let told = out(&done) + &err(&done);
        assert_eq!(told.contains("removes nothing"), is_told, "{made_from} {without}: {told}");
    }
}

/// What is weighed of a build is what goes into those who take it, on paper too; and what stores hand
/// out is what lists and sheets weigh of it, added up.
#[test]
fn columns_of_a_day_add_up_as_they_are_shown() {
    let shown = |weight: &Value| {
        let number: f64 = weight["decimal"].as_str().expect("a number").parse().expect("one");
        let unit = weight["unit"].as_str().expect("a unit");
        (number * if unit == "kg" { 10_000.0 } else { 10.0 }).round() as i64
    };
    for count in [7, 11, 23, 31, 47] {
        let orders = format!(
            "day saturday {{\n  order mole-loaf {count} loaves by 08:00\n  order quay-rolls {} rolls by 11:00\n}}",
            3 * count
        );
        let text = format!("{HOUSE}\n{orders}\n");
        let text = text
            .replace("room   21C", "room   21C\n  scale  5 g above 1 kg, 1 g, 0.1 g below 20 g");
        let (day, told) = quickly(&text, "saturday");
        for build in list(&day, "builds") {
            let lines: i64 = list(build, "lines").iter().map(|line| shown(&line["weight"])).sum();
            let takes: i64 = list(build, "takes").iter().map(|take| shown(&take["weight"])).sum();
            let rest = ["kept_back", "saved", "left"].map(|part| &build[part]);
            let rest: i64 = rest.iter().filter(|it| !it.is_null()).map(|it| shown(it)).sum();
            assert_eq!(lines, shown(&build["made"]), "{count}: {build}: {told}");
            assert!(
                takes + rest == lines || build["made"]["about"] == true,
                "{count}: {takes} + {rest} of {lines}: {build}"
            );
            assert!((takes + rest - lines).abs() <= 50, "{count}: {build}");
        }
        for store in list(&day, "requisition").iter().filter(|it| it["weight"]["grams"] != "0") {
            let own = |of: &Value| {
                let lines = list(of, "lines").iter().filter(|line| line["name"] == store["name"]);
                lines.map(|line| shown(&line["weight"])).sum::<i64>()
            };
            let all = list(&day, "batches").iter().chain(list(&day, "builds"));
            assert_eq!(all.map(own).sum::<i64>(), shown(&store["weight"]), "{count}: {store}");
        }
    }
}

/// What comes out of stores without a weight is on the requisition too: bench flour, what tins are
/// greased with.
#[test]
fn what_is_as_needed_is_on_the_requisition() {
    let text = HOUSE.replace(
        "  mixer spiral",
        "  tin quay { holds 2.4 l; 3 ml per g; greased with butter }\n  mixer spiral",
    );
    let text = text.replace("makes  12 loaves at 900 g", "makes  12 loaves in quay");
    let text = text.replace(
        "  preferment quay levain { ferments 18% of flour }",
        "  preferment quay levain { ferments 18% of flour }\n  piece { rice flour  as needed }",
    );
    let text =
        text.replace("    score  5min\n", "    top    5min with rice flour\n    score  5min\n");
    let orders =
        "day saturday { order mole-loaf 12 loaves by 09:00; order quay-rolls 40 rolls by 11:00 }";
    let (day, told) = quickly(&format!("{text}\n{orders}\n"), "saturday");
    for name in ["rice flour", "butter"] {
        let store = list(&day, "requisition").iter().find(|it| it["name"] == name);
        let store = store.unwrap_or_else(|| panic!("{name}: {told}"));
        assert_eq!(store["weight"]["shown"], "as needed", "{store}");
    }
}

/// A stage is built once for all that can take it while it keeps, also where some of them have to take
/// it a little sooner for that.
#[test]
fn a_stage_is_built_once_where_that_can_be() {
    let order =
        "day saturday { order mole-loaf 11 loaves by 07:00; order quay-rolls 40 rolls by 09:30 }";
    let open = HOUSE.replace("16:00..22:00 with 2, 02:00..13:00 with 2", "00:00..24:00 with 2");
    let (day, told) = quickly(&format!("{open}\n{order}\n"), "saturday");
    assert_sound(&day);
    assert_eq!(list(&day, "builds").len(), 1, "{told} {}", day["builds"]);
    assert!(list(&day, "orders").iter().all(|it| it["late"] == 0 && it["missing"] == 0), "{told}");
}

/// What a batch that finds no place would have taken is told as left over.
#[test]
fn what_nobody_takes_of_a_build_is_left_over() {
    let early = HOUSE.replace(
        "16:00..22:00 with 2, 02:00..13:00 with 2",
        "14:00..22:00 with 1, 02:00..05:00 with 1",
    );
    // So many that some can't be made.
    let of_size = |size: u32| {
        let order = format!(
            "day saturday {{ order mole-loaf {} loaves by 04:30; order quay-rolls {} rolls by 05:00 }}",
            70 * size,
            280 * size
        );
        let folder = folder();
        fs::write(folder.path().join("house.dough"), format!("{early}\n{order}\n"))
            .expect("written");
        let (day, told) = planned_with(folder.path(), "saturday", "20");
        let missing = list(&day, "orders").iter().map(|it| whole(&it["missing"])).sum::<i64>();
        (day, told, missing)
    };
    let mut planned = [1, 4, 12].into_iter().map(of_size);
    let (day, told, _) =
        planned.find(|(.., missing)| *missing > 0).expect("a day that is too full");
    assert!(!list(&day, "builds").is_empty(), "{told}");
    for build in list(&day, "builds") {
        assert!(list(build, "takes").iter().all(|take| !take["at"].is_null()), "{build}");
        let parts = list(build, "takes").iter().map(|take| grams(&take["weight"]));
        let rest = ["kept_back", "saved", "left"].map(|part| &build[part]);
        let rest = rest.into_iter().filter(|it| !it.is_null()).map(grams);
        assert!(same(sum(parts.chain(rest)), grams(&build["made"])), "{build}");
    }
}

/// A time that clocks leave out counts as the moment at which they go on, and is told.
#[test]
fn a_time_that_no_clock_shows_is_told() {
    let folder = folder();
    let house = HOUSE.replace("  room   21C", "  room   21C\n  zone   Europe/Paris");
    for (by, counts) in
        [("02:30", Some("03:00")), ("02:00", Some("03:00")), ("03:00", None), ("01:59", None)]
    {
        let order = format!("day 2027-03-28 {{ order tide-rolls 24 rolls by {by} }}");
        fs::write(folder.path().join("house.dough"), format!("{house}\n{order}\n"))
            .expect("written");
        let told = err(&assize(folder.path(), &["day", "2027-03-28", "--placings", "10"]));
        let wanted = counts.map(|counts| format!("no clock shows {by}: it counts as {counts}"));
        assert_eq!(told.contains("no clock shows"), wanted.is_some(), "{by}: {told}");
        assert!(wanted.is_none_or(|wanted| told.contains(&wanted)), "{by}: {told}");
    }
}

/// Frozen pieces come out before they are sent.
#[test]
fn frozen_pieces_say_when_they_come_out() {
    let text =
        "day saturday { order mole-loaf 9 loaves by 08:00; on hand mole-loaf 9 loaves frozen 2h }";
    let (day, _) = quickly(&format!("{HOUSE}\n{text}\n"), "saturday");
    assert_eq!(day["orders"][0]["thaw"]["time"], "06:00");
}

/// What is on hand and ordered by nobody is told.
#[test]
fn more_on_hand_than_is_ordered_is_told() {
    let folder = folder();
    let text = "day saturday { order mole-loaf 6 loaves by 08:00; on hand mole-loaf 9 loaves; on hand quay-rolls 5 rolls }";
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}\n{text}\n")).expect("written");
    let done = assize(folder.path(), &["day", "saturday", "--placings", "50"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert!(err(&done).contains("3 of the 9 loaves of `mole-loaf` on hand are left over"));
    assert!(err(&done).contains("`quay-rolls` is on hand, and this day has no order for it"));
}

/// Minutes from midnight of the time of something.
fn clock(value: &Value) -> i64 {
    let time = value["time"].as_str().unwrap_or_else(|| panic!("{value} has no time"));
    let (hours, minutes) = time.split_once(':').expect("a clock time");
    60 * hours.parse::<i64>().expect("hours") + minutes.parse::<i64>().expect("minutes")
}

/// Where there is time enough for all, nothing is done hours before it is wanted, whatever the
/// house prefers; and nothing is late for that.
#[test]
fn bread_is_made_as_near_to_its_order_as_the_day_allows() {
    let orders = [
        "order quay-rolls 40 rolls by 11:00",
        "order tide-rolls 40 rolls by 12:30",
        "order mole-loaf 12 loaves by 12:00",
        "order tide-rolls 280 rolls by 06:30; order quay-rolls 40 rolls by 12:00",
        "order mole-loaf 12 loaves by 08:00; order quay-rolls 40 rolls by 12:00",
        "order mole-loaf 12 loaves by 12:00 order quay-rolls 40 rolls by 07:00",
    ];
    for aim in ["", "aim finish early", "aim fewest oven changes"] {
        for order in orders {
            let order = order.replace(" order", "\n  order");
            let text = format!("{HOUSE}\nday saturday {{\n  {aim}\n  {order}\n}}\n");
            let (day, told) = planned(&text, "saturday");
            for wish in list(&day, "orders") {
                let stands = clock(&wish["by"]) - clock(&wish["done"]);
                assert!((0..=120).contains(&stands), "{aim} {order}: {stands} min: {told}");
            }
        }
    }
}

/// Starts that can be chosen are where clocks show plain times.
#[test]
fn what_can_be_chosen_begins_on_five_minutes() {
    let (day, told) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    let bakes = list(&day, "tasks").iter().filter(|task| !task["heat"].is_null());
    for bake in bakes {
        assert_eq!(whole(&bake["from"]) % 5, 0, "{bake}: {told}");
    }
    let work = list(&day, "tasks").iter().filter(|task| task["moment"] == false);
    let (plain, all): (Vec<_>, Vec<_>) = work.partition(|task| whole(&task["from"]) % 5 == 0);
    assert!(plain.len() > 2 * all.len(), "{} of {}", plain.len(), plain.len() + all.len());
}

/// Begun as late as a task may be, with what follows of its batch as late as that may be, the rest
/// of the day stands.
#[test]
fn no_latest_time_is_before_the_planned_one_and_some_are_after() {
    let (day, told) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    let tasks = list(&day, "tasks").iter().filter(|task| !task["latest"].is_null());
    let mut later = 0;
    for task in tasks {
        let moment = |name: &str| task[name]["iso"].as_str().or(task[name]["time"].as_str());
        assert_ne!(moment("latest"), moment("begins"), "{task}");
        later += 1;
    }
    assert!(later > 3, "{told}");
}

/// Orders from a table, in any order of columns and in five languages, are those of a day.
#[test]
fn orders_from_a_table_are_the_orders_of_the_day() {
    let tables = [
        "product,amount,by,customer,day\nmole-loaf,24 loaves,08:00,,saturday\nquay-rolls,40 rolls,07:00,Harbour Hotel,saturday\nquay-rolls,90 rolls,07:00,,sunday\n",
        "Kunde;bis;Menge;Art;Produkt\n;08:00;24;loaves;mole-loaf\nHarbour Hotel;07:00;40;rolls;quay-rolls\n",
        "client;produit;quantité;avant\n;mole-loaf;24;08:00\n\"Harbour Hotel\";quay-rolls;40;07:00\n",
        "entro;quantità;prodotto;cliente\n08:00;24 loaves;Mole Loaf;\n07:00;40;quay rolls;Harbour Hotel\n",
        "producto\tcantidad\tantes\tcliente\nmole-loaf\t24\t08:00\t\nquay-rolls\t40\t07:00\tHarbour Hotel\n",
    ];
    let folder = folder();
    let block = "day saturday { order mole-loaf 60 loaves by 09:00 }\nday sunday { order quay-rolls 9 rolls by 09:00 }";
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}\n{block}\n")).expect("written");
    for table in tables {
        fs::write(folder.path().join("orders.csv"), table).expect("written");
        let args =
            ["day", "saturday", "--orders", "orders.csv", "--format", "json", "--placings", "40"];
        let done = assize(folder.path(), &args);
        let day: Value =
            serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)));
        let orders: Vec<String> = list(&day, "orders")
            .iter()
            .map(|it| {
                format!(
                    "{} {} {} {}",
                    it["product"], it["amount"], it["customer"], it["by"]["time"]
                )
            })
            .collect();
        let wanted = [
            "\"quay-rolls\" \"40 rolls\" \"Harbour Hotel\" \"07:00\"",
            "\"mole-loaf\" \"24 loaves\" null \"08:00\"",
        ];
        assert_eq!(orders, wanted, "{table}");
        assert!(err(&done).contains("2 rows read"), "{}", err(&done));
    }
}

/// A row that can't be understood is no bread that is forgotten: nothing is planned.
#[test]
fn a_row_that_is_not_understood_stops_the_day() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let slips = [
        ("product,amount,by\nmole-lof,24 loaves,08:00\n", "did you mean `mole-loaf`?"),
        ("product,amount,by\nmole-loaf,24 rolls,08:00\n", ""),
        ("product,amount,by\nmole-loaf,many,08:00\n", "`many` is not an amount"),
        ("product,amount,by\nmole-loaf,24 loaves,late\n", "`late` is not a time of day"),
        ("product,amount,by\nmole-loaf,24 loaves,\n", "nothing under `by`"),
        ("product,amount\nmole-loaf,24 loaves\n", "no column says `by`"),
        ("product,amount,by\nmole-loaf,24 loaves,8\n", "`8` is not a time of day"),
        ("product,amount,by\nmole-loaf,24 loaves,13 pm\n", "`13 pm` is not a time of day"),
        (
            "product,amount,by,day\nmole-loaf,24 loaves,08:00,05.12.2026\n",
            "`05.12.2026` is not a day",
        ),
        ("product,amount,by,day\nmole-loaf,24 loaves,08:00,satruday\n", "`satruday` is not a day"),
        (
            "product,amount,by,day\nmole-loaf,24 loaves,08:00,2026-13-05\n",
            "`2026-13-05` is not a day",
        ),
    ];
    for (table, told) in slips {
        fs::write(folder.path().join("orders.csv"), table).expect("written");
        let done = assize(folder.path(), &["day", "saturday", "--orders", "orders.csv"]);
        assert_eq!(done.status.code(), Some(1), "{table}: {}", err(&done));
        assert!(err(&done).contains("order-unread") && err(&done).contains(told), "{}", err(&done));
        assert!(out(&done).is_empty(), "{table}");
    }
    let table = "product,amount,by,telephone\nmole-loaf,9 loaves,08:00,1\n";
    fs::write(folder.path().join("orders.csv"), table).expect("written");
    let done =
        assize(folder.path(), &["day", "saturday", "--orders", "orders.csv", "--placings", "40"]);
    assert!(err(&done).contains("the column `telephone` is not read"), "{}", err(&done));
}

/// An amount with digits too many is a slip that is told at once, and never nothing.
#[test]
fn an_order_of_more_than_any_oven_bakes_is_told() {
    for count in ["4000000", "4000000000", "999999999999"] {
        let folder = folder();
        let day = format!("day saturday {{ order tide-rolls {count} rolls by 09:00 }}");
        fs::write(folder.path().join("house.dough"), format!("{HOUSE}\n{day}\n")).expect("written");
        let done = assize(folder.path(), &["day", "saturday", "--placings", "4"]);
        assert_eq!(done.status.code(), Some(1), "{count}: {}", err(&done));
        assert!(err(&done).contains("would be") && out(&done).is_empty(), "{}", err(&done));
        let checked = assize(folder.path(), &["check"]);
        assert_eq!(checked.status.code(), Some(1), "{count}: {}", err(&checked));
    }
}

/// Times as programs for tables write them.
#[test]
fn times_of_a_table_are_read_as_programs_write_them() {
    let folder = folder();
    let block = "day saturday { order tide-rolls 60 rolls by 09:00 }";
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}\n{block}\n")).expect("written");
    let times = [
        ("8:30", "08:30"),
        ("08:30:00", "08:30"),
        ("8.30", "08:30"),
        ("8h30", "08:30"),
        ("8 h", "08:00"),
        ("8 Uhr", "08:00"),
        ("8:30 am", "08:30"),
        ("8.30 A.M.", "08:30"),
        ("8 pm", "20:00"),
        ("12 am", "00:00"),
        ("12 pm", "12:00"),
    ];
    let rows: String =
        times.iter().map(|(written, _)| format!("tide-rolls;40;{written}\n")).collect();
    fs::write(folder.path().join("o.csv"), format!("Produkt;Stück;Uhrzeit\n{rows}"))
        .expect("written");
    let args = ["day", "saturday", "--orders", "o.csv", "--format", "json", "--placings", "4"];
    let done = assize(folder.path(), &args);
    let day: Value = serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)));
    let found = list(&day, "orders").iter().map(|it| it["by"]["time"].as_str().expect("a time"));
    let mut found: Vec<&str> = found.collect();
    let mut wanted: Vec<&str> = times.iter().map(|(_, time)| *time).collect();
    found.sort_unstable();
    wanted.sort_unstable();
    assert_eq!(found, wanted);
}

/// Without a plan so far, a day began as its orders are planned: the same orders always give the
/// same plan.
#[test]
fn a_day_that_has_begun_is_held_to_the_plan_that_its_orders_give() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let before = planned_with(folder.path(), "saturday", "24").0;
    fs::write(folder.path().join("plan.json"), before.to_string()).expect("written");
    let asked = ["day", "saturday", "--placings", "24", "--format", "json"];
    for begun in [["--now", "03:00"], ["--done", "mole-loaf 1 bulk"]] {
        let without = assize(folder.path(), &[&asked[..], &begun[..]].concat());
        let with = ["--state", "plan.json"];
        let with = assize(folder.path(), &[&asked[..], &begun[..], &with[..]].concat());
        assert_eq!(out(&without), out(&with), "{begun:?}: {}", err(&without));
        assert_eq!(without.status.code(), Some(0), "{begun:?}: {}", err(&without));
    }
    let wrong = [
        (vec!["day", "sunday", "--state", "plan.json"], "is the plan of `saturday`"),
        (vec!["day", "saturday", "sunday", "--now", "03:00"], "is planned by itself"),
        (vec!["day", "saturday", "--now", "25:00"], "is not a time of day"),
        (vec!["day", "saturday", "--done", "bulk"], "is not a batch and a step"),
    ];
    let text = format!("{HOUSE}{MARKET}\nday sunday {{ order tide-rolls 40 rolls by 09:00 }}\n");
    fs::write(folder.path().join("house.dough"), text).expect("written");
    for (args, told) in wrong {
        let done = assize(folder.path(), &args);
        assert_eq!(done.status.code(), Some(2), "{args:?}: {}", err(&done));
        assert!(err(&done).contains(told), "{args:?}: {}", err(&done));
    }
}

/// Alone in an empty house, a batch takes no more of hands and no longer than its own plan: the
/// search for a whole day does not cost the simplest one anything.
#[test]
fn one_batch_in_an_empty_house_costs_no_more_than_its_plan() {
    let house = HOUSE
        .replace("hours  16:00..22:00 with 2, 02:00..13:00 with 2", "hours  00:00..24:00 with 2");
    let asked =
        [("tide-rolls", "40 rolls"), ("quay-rolls", "36 rolls"), ("mole-loaf", "12 loaves")];
    for (formula, amount) in asked {
        for by in ["08:00", "17:30"] {
            let folder = folder();
            let day = format!("day saturday {{ order {formula} {amount} by {by} }}");
            fs::write(folder.path().join("house.dough"), format!("{house}\n{day}\n"))
                .expect("written");
            let (day, told) = planned_with(folder.path(), "saturday", "200");
            assert_sound(&day);
            assert_eq!(
                (whole(&day["late"]), whole(&day["orders"][0]["missing"])),
                (0, 0),
                "{told}"
            );
            let ready = format!("saturday {by}");
            let args =
                ["plan", formula, ".", "--ready", &ready, "--makes", amount, "--format", "json"];
            let done = assize(folder.path(), &args);
            let plan: Value =
                serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)));
            let elapsed = whole(&day["ends"]) - whole(&day["begins"]);
            let longest = whole(&plan["minutes"]);
            assert!(elapsed <= longest, "{formula} by {by}: {elapsed} min, and its plan {longest}");
        }
    }
}

/// Two days that want one refrigerator say so, and two that don't meet do not.
#[test]
fn two_days_that_want_one_refrigerator_say_so() {
    let small = HOUSE.replace("refrigerator  { holds 30 boards", "refrigerator  { holds 6 boards");
    let long = small.replace("proof  2h..14h at 4C", "proof  26h..44h at 4C");
    let days = "day saturday { order mole-loaf 18 loaves by 08:00 }\nday sunday { order mole-loaf 18 loaves by 08:00 }\nday wednesday { order mole-loaf 18 loaves by 08:00 }";
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{long}\n{days}\n")).expect("written");
    let both = assize(folder.path(), &["day", "saturday", "sunday", "--placings", "60"]);
    assert!(err(&both).contains("days-clash"), "{}", err(&both));
    assert!(err(&both).contains("boards of `refrigerator`"), "{}", err(&both));
    assert_eq!(both.status.code(), Some(1));
    let apart = assize(folder.path(), &["day", "saturday", "wednesday", "--placings", "60"]);
    assert!(!err(&apart).contains("days-clash"), "{}", err(&apart));
}

/// Of days that are planned together, nothing is wanted twice at any minute: machines and hands do
/// one thing, and places hold no more than they can.
#[test]
fn days_that_are_planned_together_leave_each_other_their_room() {
    let narrow = HOUSE.replace("machines 2", "machines 1").replace("with 2", "with 1");
    let days = "day saturday { order mole-loaf 20 loaves by 11:00 }\n\
                day sunday { order mole-loaf 20 loaves by 11:00; order tide-rolls 80 rolls by 12:00 }\n\
                day monday { order quay-rolls 80 rolls by 11:00 }\n";
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{narrow}\n{days}\n")).expect("written");
    let args = ["day", "saturday", "sunday", "monday", "--format", "json", "--placings", "60"];
    let done = assize(folder.path(), &args);
    assert!(!err(&done).contains("days-clash"), "{}", err(&done));
    let text = out(&done);
    let days = days_of(&text);
    assert_eq!(days.len(), 3, "{}", err(&done));
    let mut on: Vec<(String, i64, i64)> = Vec::new();
    let mut boards: Vec<(String, i64, i64, i64)> = Vec::new();
    for (day, at) in days.iter().zip([0, 1440, 2880]) {
        assert_sound(day);
        for task in list(day, "tasks") {
            let (from, to) = (whole(&task["from"]) + at, whole(&task["to"]) + at);
            if let Some(machine) = task["machine"].as_str() {
                on.push((machine.to_owned(), from, to));
            }
            if let Some(hands) = task["hands"].as_i64() {
                on.push((format!("hands {hands}"), from, to));
            }
            if let (Some(place), Some(many)) = (task["place"].as_str(), task["boards"].as_i64()) {
                boards.push((place.to_owned(), from, to, many));
            }
        }
    }
    on.sort();
    for pair in on.windows(2).filter(|pair| pair[0].0 == pair[1].0) {
        assert!(pair[0].2 <= pair[1].1, "{pair:?}");
    }
    for (place, most) in [("proofer", 24), ("refrigerator", 30)] {
        for (_, at, ..) in boards.iter().filter(|it| it.0 == place) {
            let there = boards.iter().filter(|it| it.0 == place && it.1 <= *at && *at < it.2);
            let many: i64 = there.map(|it| it.3).sum();
            assert!(many <= most, "{many} boards in the {place} at {at}");
        }
    }
}

/// Frozen pieces that nobody ordered, and a stage that nothing took and that still keeps, are on
/// hand on the day after; bread that is done is not, and what that day says itself goes before.
#[test]
fn what_a_day_leaves_is_on_hand_on_the_next() {
    let order = "order quay-rolls 40 rolls by 09:00";
    let frozen = "on hand quay-rolls 50 rolls frozen 2h";
    let fresh = "on hand quay-rolls 50 rolls";
    let on_hand = |text: &str, args: &[&str]| {
        let folder = folder();
        fs::write(folder.path().join("house.dough"), format!("{HOUSE}\n{text}")).expect("written");
        let more = ["--format", "json", "--placings", "20"];
        let done = assize(folder.path(), &[&["day"], args, &more].concat());
        let text = out(&done);
        let days = days_of(&text);
        let there = days.iter().map(|day| whole(&list(day, "orders")[0]["on_hand"])).collect();
        (days, there, err(&done))
    };
    let both = |one: &str, two: &str| {
        let days = format!("day saturday {{ {order}; {one} }}\nday sunday {{ {order}; {two} }}\n");
        let (_, there, told): (_, Vec<i64>, _) = on_hand(&days, &["saturday", "sunday"]);
        (there, told)
    };
    assert_eq!(both(frozen, "").0, [40, 10]);
    assert!(both(frozen, "").1.contains("left from the day before"), "{}", both(frozen, "").1);
    assert_eq!(both(fresh, "").0, [40, 0]);
    assert_eq!(both(frozen, "on hand quay-rolls 4 rolls").0, [40, 4]);
    assert_eq!(both("", frozen).0, [0, 40]);
    let stage = "on hand quay levain 9 kg";
    let days = format!("day saturday {{ {order}; {stage} }}\nday sunday {{ {order} }}\n");
    let (days, _, told) = on_hand(&days, &["saturday", "sunday"]);
    let builds: Vec<&Value> = days.iter().flat_map(|day| list(day, "builds")).collect();
    assert_eq!(builds.len(), 2, "{told}");
    assert!(builds.iter().all(|build| build["on_hand"] == true), "{told}");
    assert!(same(grams(&builds[0]["left"]), grams(&builds[1]["made"])), "{builds:?}");
}

/// What is begun on the day before is done in the hours of that day.
#[test]
fn the_evening_before_has_the_hours_of_its_own_day() {
    let house =
        HOUSE.replace("16:00..22:00 with 2, 02:00..13:00 with 2", "16:00..22:00, 02:00..13:00");
    let order = "order mole-loaf 12 loaves by 08:00";
    let begins = |friday: &str, saturday: &str| {
        let text = format!("{house}\n{friday}\nday saturday {{ {saturday}{order} }}\n");
        let (day, told) = quickly(&text, "saturday");
        let hands = list(&day, "tasks").iter().filter(|task| !task["hands"].is_null());
        let before = hands.map(|it| whole(&it["from"])).filter(|at| (-1440..0).contains(at));
        let before: Vec<i64> = before.collect();
        assert!(!before.is_empty(), "{told}");
        before
    };
    let is_between = |all: &[i64], from: i64, to: i64| all.iter().all(|at| (from..to).contains(at));
    // Of the house; of the Friday's own block, whatever the Saturday says for itself.
    let usual = begins("", "");
    let is_usual = |at: &i64| (-1320..-660).contains(at) || (-480..-120).contains(at);
    assert!(usual.iter().all(is_usual), "{usual:?}");
    let friday = "day friday { hours 10:00..15:00; order tide-rolls 40 rolls by 12:00 }";
    assert!(is_between(&begins(friday, ""), -840, -540), "{:?}", begins(friday, ""));
    let own = begins(friday, "hours 00:00..13:00 with 2; ");
    assert!(is_between(&own, -840, -540), "{own:?}");
}

/// The midnight that a day ends with is told apart from the one that it begins with.
#[test]
fn the_two_midnights_of_a_day_are_told_apart() {
    let house = HOUSE
        .replace("hours  16:00..22:00 with 2, 02:00..13:00 with 2", "hours  00:00..24:00 with 2");
    for (by, wanted, date) in [
        ("24:00", "24:00", "Saturday"),
        ("0:00", "00:00", "Saturday"),
        ("00:00", "00:00", "Saturday"),
    ] {
        let text = format!("{house}\nday saturday {{ order tide-rolls 40 rolls by {by} }}\n");
        let (day, told) = quickly(&text, "saturday");
        let order = &day["orders"][0]["by"];
        assert_eq!((&order["time"], &order["date"]), (&wanted.into(), &date.into()), "{told}");
    }
    let text = format!("{house}\nday saturday {{ order tide-rolls 40 rolls by 12am }}\n");
    let folder = folder();
    fs::write(folder.path().join("house.dough"), text).expect("written");
    let done = assize(folder.path(), &["day", "saturday"]);
    let told = err(&done).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("write `00:00`; the midnight that the day ends with is `24:00`"),
        "{told}"
    );
}

/// Times as people say them are told as clocks show them.
#[test]
fn a_time_in_other_words_is_told_as_a_clock_shows_it() {
    let times = [
        ("7am", "07:00"),
        ("7 am", "07:00"),
        ("7.30", "07:30"),
        ("7h30", "07:30"),
        ("7:30pm", "19:30"),
        ("12 pm", "12:00"),
        ("8 Uhr", "08:00"),
    ];
    for (written, meant) in times {
        let folder = folder();
        let text = format!("{HOUSE}\nday saturday {{ order tide-rolls 40 rolls by {written} }}\n");
        fs::write(folder.path().join("house.dough"), text).expect("written");
        let done = assize(folder.path(), &["check", "--format", "json"]);
        assert_eq!(done.status.code(), Some(1), "{written}");
        assert!(out(&done).contains(&format!("write `{meant}`")), "{written}: {}", out(&done));
    }
}

/// A name that is nearly a weekday, or one in another language, is told; what is meant so is not.
#[test]
fn a_day_that_is_nearly_a_weekday_is_told() {
    let names = [
        ("saturdy", Some("saturday")),
        ("Sunnday", Some("sunday")),
        ("samstag", Some("saturday")),
        ("lundi", Some("monday")),
        ("saturday", None),
        ("sat", None),
        ("market-day", None),
        ("saturday-market", None),
        ("2026-12-05", None),
    ];
    for (name, weekday) in names {
        let folder = folder();
        let text = format!("{HOUSE}\nday {name} {{ order tide-rolls 40 rolls by 09:00 }}\n");
        fs::write(folder.path().join("house.dough"), text).expect("written");
        let done = assize(folder.path(), &["check", "--format", "short"]);
        let told = out(&done) + &err(&done);
        assert_eq!(told.contains("nearly-the-same-name"), weekday.is_some(), "{name}: {told}");
        let done = assize(folder.path(), &["check", "--format", "json"]);
        let help = weekday.map(|weekday| format!("write `{weekday}` if it is"));
        assert!(help.is_none_or(|help| out(&done).contains(&help)), "{name}: {}", out(&done));
    }
}

/// A day prints in every format, and each has every list: what the PDF says, the page for a
/// browser says too.
#[test]
fn a_day_prints_in_every_format() {
    let folder = folder();
    let day = MARKET.replace("on hand", "note \"Sweep.\"\n  on hand");
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{day}")).expect("written");
    let print = |format: &str| {
        let args = ["print", "saturday", "--placings", "20", "--format", format, "--to", format];
        let done = assize(folder.path(), &args);
        assert_eq!(done.status.code(), Some(0), "{format}: {}", err(&done));
        let files = fs::read_dir(folder.path().join(format)).expect("listed");
        let names =
            files.map(|it| it.expect("an entry").file_name().to_string_lossy().into_owned());
        let mut names: Vec<String> = names.collect();
        names.sort();
        names
    };
    assert_eq!(print("pdf"), ["saturday-sheets.pdf", "saturday.pdf"]);
    let day = planned_with(folder.path(), "saturday", "20").0;
    let batches = list(&day, "batches").len();
    let html = print("html");
    assert_eq!(html.len(), 1 + batches, "{html:?}");
    let (svg, png) = (print("svg"), print("png"));
    assert!(svg.len() > batches && svg.len() == png.len(), "{svg:?} {png:?}");
    let page = fs::read_to_string(folder.path().join("html/saturday.html")).expect("a page");
    let heads = [
        "Day plan",
        "Mixing list",
        "Levain list",
        "Bench list",
        "Oven list",
        "Requisition",
        "Batch labels",
        "Packing list",
        "Harbour Hotel",
        "Sweep.",
        "data:image/svg+xml",
    ];
    for head in heads {
        assert!(page.contains(head), "{head}");
    }
    for batch in list(&day, "batches") {
        let time = batch["mixed"]["time"].as_str().expect("a time");
        assert!(page.contains(time), "{time}");
    }
    for store in list(&day, "requisition") {
        let (name, shown) = (&store["name"], &store["weight"]["shown"]);
        assert!(page.contains(name.as_str().expect("a name")), "{name}");
        assert!(page.contains(shown.as_str().expect("a weight")), "{shown}");
    }
}

/// What is late says why, and what would help.
#[test]
fn what_is_late_says_why_and_what_would_help() {
    let early = HOUSE.replace("16:00..22:00 with 2, 02:00..13:00 with 2", "06:00..13:00");
    let order = "day saturday { order tide-rolls 40 rolls by 06:30 }";
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{early}\n{order}\n")).expect("written");
    let done = assize(folder.path(), &["day", "saturday", "--placings", "300"]);
    let told = err(&done).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("even alone in an empty bakehouse"), "{told}");
    assert!(told.contains("nothing would be late with"), "{told}");
    // The later time that is offered can be kept.
    let by = told.split("`tide-rolls` by ").nth(1).map(|it| &it[..5]).expect("a time");
    let order = order.replace("06:30", by);
    fs::write(folder.path().join("house.dough"), format!("{early}\n{order}\n")).expect("written");
    let done = assize(folder.path(), &["day", "saturday", "--placings", "300"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
}

/// Batches that no mixer can work are told.
#[test]
fn a_batch_below_the_least_of_every_mixer_is_told() {
    let large = HOUSE.replace("  mixer bench   { holds 300 g..3 kg }\n", "");
    let order = "day saturday { order tide-rolls 12 rolls by 09:00 }";
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{large}\n{order}\n")).expect("written");
    let done = assize(folder.path(), &["day", "saturday", "--placings", "50"]);
    assert!(err(&done).contains("less than `spiral` can work: 3 kg"), "{}", err(&done));
}

/// What batches and builds tell needs no plan: `check` tells it of every day, once where a day
/// takes it over from another one, and a day that is planned is not stopped by what another says.
#[test]
fn what_a_day_says_before_it_is_planned_is_told_by_check_too() {
    let large = HOUSE.replace("  mixer bench   { holds 300 g..3 kg }\n", "");
    let days = [
        ("order tide-rolls 12 rolls by 09:00", "batch-under-mixer", 1),
        ("order tide-rolls 300 rolls by 09:00", "batch-under-mixer", 0),
        ("order mole-loaf 60 loaves by 08:00; on hand mole-loaf 64 loaves", "left-over", 1),
        ("order mole-loaf 60 loaves by 08:00; on hand quay-rolls 4 rolls", "left-over", 1),
        ("order mole-loaf 60 loaves by 08:00; on hand mole-loaf 6 loaves", "left-over", 0),
        ("order mole-loaf 60 loaves by 08:00; on hand white culture 9 g", "stage-short", 1),
        ("order mole-loaf 60 loaves by 08:00; on hand white culture 9 kg", "stage-short", 0),
    ];
    for (lines, name, times) in days {
        let folder = folder();
        let text = format!(
            "{large}\nday saturday {{ {lines} }}\nday 2026-12-05 from saturday {{ note \"Snow.\" }}\n\
             day monday {{ order tide-rolls 90 rolls by 09:00 }}\n"
        );
        fs::write(folder.path().join("house.dough"), text).expect("written");
        let done = assize(folder.path(), &["check", "--format", "short", "--all"]);
        let told = out(&done) + &err(&done);
        let own = told.lines().filter(|line| line.contains(name)).count();
        assert_eq!(own, times, "{lines}: {told}");
        let other = assize(folder.path(), &["day", "monday", "--placings", "20"]);
        assert_eq!(other.status.code(), Some(0), "{lines}: {}", err(&other));
        let shown = assize(folder.path(), &["show", "mole-loaf"]);
        assert_eq!(shown.status.code(), Some(0), "{lines}: {}", err(&shown));
    }
}

#[test]
fn the_days_of_the_example_are_sound() {
    for name in ["saturday", "2026-12-05"] {
        let (day, told) = planned_in(&top().join("examples/gullhaven"), name);
        assert_sound(&day);
        assert!(!list(&day, "orders").is_empty(), "{told}");
    }
}

/// A day that has begun keeps what was done, and moves nothing that need not move.
#[test]
fn what_was_begun_stays_and_nothing_else_moves_without_need() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let before = planned_with(folder.path(), "saturday", "100").0;
    fs::write(folder.path().join("state.json"), before.to_string()).expect("written");
    let replanned = |more: &[&str]| {
        let args = ["day", "saturday", "--state", "state.json", "--format", "json"];
        let args: Vec<&str> = args.iter().chain(more).copied().collect();
        let done = assize(folder.path(), &[args.as_slice(), &["--placings", "24"]].concat());
        let told = err(&done);
        let day: Value = serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{told}"));
        day
    };
    let at = |day: &Value| -> BTreeMap<String, (i64, i64)> {
        let spans = list(day, "tasks").iter().map(|task| {
            let id = task["id"].as_str().expect("an id").to_owned();
            (id, (whole(&task["from"]), whole(&task["to"])))
        });
        spans.collect()
    };
    let now = replanned(&["--now", "03:00"]);
    assert_sound(&now);
    assert_eq!(at(&now), at(&before));
    // With a pair of hands fewer from then on, only what is still to be done moves.
    let fewer = HOUSE.replace("02:00..13:00 with 2", "02:00..03:00 with 2, 03:00..13:00");
    fs::write(folder.path().join("house.dough"), format!("{fewer}{MARKET}")).expect("written");
    let args = ["day", "saturday", "--state", "state.json", "--now", "03:00", "--format", "json"];
    let done = assize(folder.path(), &[args.as_slice(), &["--placings", "24"]].concat());
    let short: Value =
        serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)));
    let (short, before) = (at(&short), at(&before));
    for (id, (from, to)) in &before {
        match short.get(id) {
            Some(now) if *from < 180 => assert_eq!(now, &(*from, *to), "{id}"),
            Some((now, _)) => assert!(*now >= 180, "{id} is begun before now"),
            None => assert!(*from >= 180, "{id} was begun and is gone"),
        }
    }
    // What is told to be through stays where it was.
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let done = replanned(&["--done", "mole-loaf 1 bulk"]);
    let done = at(&done);
    let own = before.iter().filter(|(id, _)| id.starts_with("mole-loaf 1 "));
    let through = own.filter(|(id, _)| id.contains(" mix") || id.contains(" bulk"));
    assert!(through.map(|(id, span)| assert_eq!(done.get(id), Some(span), "{id}")).count() > 0);
    let wrong = assize(
        folder.path(),
        &["day", "saturday", "--state", "state.json", "--done", "mole-loaf 9 bulk"],
    );
    assert_eq!(wrong.status.code(), Some(2), "{}", err(&wrong));
}

/// Whatever is ordered: orders are batches, what is on hand and what is missing; stages are what
/// takes them, with seed and what is saved; nothing is wanted twice.
#[test]
fn whatever_is_ordered_adds_up() {
    let mut seed: u64 = 11;
    let mut draw = |below: u64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) % below
    };
    for _ in 0..4 {
        let mut lines = Vec::new();
        for (product, kind, most) in
            [("mole-loaf", "loaves", 70), ("quay-rolls", "rolls", 260), ("tide-rolls", "rolls", 90)]
        {
            let (one, two) = (1 + draw(most), 1 + draw(most));
            let (early, late) = (5 + draw(4), 9 + draw(3));
            lines.push(format!(
                "order {product} {one} {kind} by {early:02}:30, {two} {kind} by {late:02}:00"
            ));
            if draw(2) == 0 {
                lines.push(format!(
                    "order {product} for \"Quay Café\" {} {kind} by 08:15",
                    1 + draw(20)
                ));
            }
            if draw(2) == 0 {
                lines.push(format!("on hand {product} {} {kind}", 1 + draw(most)));
            }
        }
        if draw(2) == 0 {
            lines.push(format!("on hand quay levain {} g", 1 + draw(4000)));
        }
        let text = format!("{HOUSE}\nday saturday {{\n  {}\n}}\n", lines.join("\n  "));
        let folder = folder();
        fs::write(folder.path().join("house.dough"), &text).expect("written");
        let (day, _) = planned_with(folder.path(), "saturday", "12");
        assert_sound(&day);
        assert!(list(&day, "orders").len() > 3, "{text}");
    }
}

/// Where nothing forces another order, what is wanted first is done first, whatever it is called and
/// however the lines stand; batches of one product and loads of one batch are numbered by the clock.
#[test]
fn what_is_wanted_first_is_done_first() {
    let house = r#"
bakehouse "Gullhaven Bakehouse" {
  hours 02:00..13:00 with 3
  mixer spiral { holds 1 kg..10 kg }
  oven deck { decks 2; holds 12 loaves, 40 rolls; at 230C }
}
"#;
    let formula = |name: &str| {
        format!(
            "formula {name} \"{name}\" {{
  makes 60 rolls at 80 g
  total {{ bread flour 100%; water 62%; salt 2%; fresh yeast 2% }}
  method {{ mix 8min with everything else; bulk 40min..3h at 24C; divide 10min
    shape 15min; proof 40min..90min at 24C; bake 16min at 230C }}
}}
"
        )
    };
    for names in [["ash-rolls", "bay-rolls", "cod-rolls"], ["cod-rolls", "ash-rolls", "bay-rolls"]]
    {
        let [first, second, third] = names;
        let all = names.map(formula).concat();
        let day = format!(
            "{house}{all}day saturday {{ order {third} 60 rolls by 12:00
  order {first} 60 rolls by 06:00; order {second} 120 rolls by 09:00 }}\n"
        );
        let folder = folder();
        fs::write(folder.path().join("house.dough"), day).expect("written");
        // With the work that the command takes by itself.
        let (day, told) = planned_with(folder.path(), "saturday", "3000");
        assert_sound(&day);
        let done = |product: &str| {
            let order = list(&day, "orders").iter().find(|order| order["product"] == product);
            order.and_then(|it| it["done"]["time"].as_str()).expect("done").to_owned()
        };
        assert!(done(first) <= done(second) && done(second) <= done(third), "{names:?} {told}");
        let mut numbers: Vec<(i64, i64)> = list(&day, "batches")
            .iter()
            .filter(|batch| batch["product"] == second)
            .map(|batch| (whole(&batch["number"]), whole(&batch["mixed_at"])))
            .collect();
        numbers.sort_unstable();
        assert!(numbers.is_sorted_by_key(|(_, mixed)| *mixed), "{numbers:?}");
        for batch in list(&day, "batches") {
            let loads = list(batch, "loads").iter().map(|load| load["baked"]["time"].to_string());
            assert!(loads.is_sorted(), "{batch}");
        }
    }
}

/// A mixture is on the mixing list with what it is weighed of and who takes it, mixtures in mixtures
/// too: all parts are what is taken, and what is taken is what stores hand out.
#[test]
fn mixtures_are_weighed_once_for_all_that_take_them() {
    let text = r#"
bakehouse "Gullhaven Bakehouse" { hours 02:00..13:00 with 2; mixer spiral { holds 1 kg..12 kg } }
mixture harbour seeds { sunflower seeds 3 parts; flax seeds 1 part; small seeds 1 part }
mixture small seeds { poppy seeds 2 parts; sesame seeds 1 part }
formula seed-loaf "Seed Loaf" {
  makes 10 loaves at 900 g
  total { bread flour 100%; water 68%; salt 2%; fresh yeast 1%; harbour seeds 12% }
  method { mix 8min with everything else; bulk 1h..3h; shape 10min; proof 1h..2h; bake 35min at 230C }
}
formula seed-rolls "Seed Rolls" {
  makes 40 rolls at 80 g
  total { bread flour 100%; water 62%; salt 2%; fresh yeast 2%; harbour seeds 8%; small seeds 1% }
  method { mix 8min with everything else; bulk 1h..3h; shape 10min; proof 1h..2h; bake 16min at 230C }
}
day saturday { order seed-loaf 20 loaves by 09:00; order seed-rolls 80 rolls by 10:00 }
"#;
    let folder = folder();
    fs::write(folder.path().join("house.dough"), text).expect("written");
    let (day, told) = planned_with(folder.path(), "saturday", "100");
    let mixtures = list(&day, "mixtures");
    let names: Vec<&str> = mixtures.iter().filter_map(|it| it["name"].as_str()).collect();
    assert_eq!(names, ["harbour seeds", "small seeds"], "{told}");
    let takers = |name: &str| -> Vec<&str> {
        let own = mixtures.iter().find(|it| it["name"] == name).expect("it");
        list(own, "takes").iter().filter_map(|take| take["who"].as_str()).collect()
    };
    let batches = list(&day, "batches").len();
    assert_eq!(takers("harbour seeds").len(), batches);
    assert!(takers("small seeds").contains(&"harbour seeds"), "{:?}", takers("small seeds"));
    for mixture in mixtures {
        let lines = sum(list(mixture, "lines").iter().map(|line| grams(&line["weight"])));
        let takes = sum(list(mixture, "takes").iter().map(|take| grams(&take["weight"])));
        assert!(same(lines, takes) && same(lines, grams(&mixture["made"])), "{mixture}");
        for line in list(mixture, "lines").iter().filter(|it| it["name"] != "small seeds") {
            let of_line = |it: &&Value| it["name"] == line["name"];
            let stores = list(&day, "requisition").iter().find(of_line).expect("from stores");
            assert!(same(grams(&stores["weight"]), grams(&line["weight"])), "{line}");
        }
    }
    assert!(!list(&day, "requisition").iter().any(|it| it["name"] == "harbour seeds"));
    let text = out(&assize(folder.path(), &["day", "saturday", "--placings", "100"]));
    assert!(text.contains("Weighed once for all that takes it"), "{text}");
    let args = ["print", "saturday", "--only", "mixing", "--format", "html", "--placings", "100"];
    let done = assize(folder.path(), &args);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let page = fs::read_to_string(folder.path().join("prints/saturday.html")).expect("a page");
    for name in ["harbour seeds", "small seeds", "poppy seeds", "Seed Rolls"] {
        assert!(page.contains(name), "{name}");
    }
}

/// A stage that goes in at two steps goes in at each with the share that the step says; where it
/// does not keep so long, it is built twice, and no build is empty.
#[test]
fn a_stage_that_goes_in_twice_is_taken_in_shares() {
    let text = |keeps: &str, first: &str| {
        format!(
            "
bakehouse \"Gullhaven Bakehouse\" {{ hours 14:00..20:00, 01:00..13:00 with 2 }}
preferment quay levain {{
  bread flour 100%; water 100%; white culture 20%
  ripens 8h at 22C; keeps {keeps}
}}
formula twice-loaf \"Twice Loaf\" {{
  makes 10 loaves at 900 g
  total {{ bread flour 100%; water 70%; salt 2% }}
  preferment quay levain {{ ferments 18% of flour }}
  method {{
    mix 8min with bread flour, water, {first} quay levain
    bulk 2h..3h at 25C
    mix 5min with remaining quay levain, everything else
    bulk 1h; shape 10min; proof 1h..2h; bake 35min at 240C
  }}
}}
day saturday {{ order twice-loaf 10 loaves by 12:00 }}
"
        )
    };
    for (keeps, builds) in [("6h", 1), ("30min", 2)] {
        for (first, share) in [("half of", (1, 2)), ("25% of", (1, 4))] {
            let (day, told) = planned(&text(keeps, first), "saturday");
            assert_sound(&day);
            assert_eq!(day["orders"][0]["missing"], 0, "{keeps}: {told}");
            assert_eq!(list(&day, "builds").len(), builds, "{keeps} {first}: {day}");
            let all = list(&day, "builds").iter().flat_map(|build| list(build, "takes"));
            let takes: Vec<(i128, i128)> = all.map(|take| grams(&take["weight"])).collect();
            assert_eq!(takes.len(), 2, "{keeps} {first}");
            let whole = sum(takes.iter().copied());
            let part = |it: &(i128, i128)| same((it.0 * share.1, it.1 * share.0), whole);
            assert!(takes.iter().any(part), "{keeps} {first}: {takes:?} of {whole:?}");
            for build in list(&day, "builds") {
                assert!(grams(&build["made"]).0 > 0, "{build}");
            }
        }
    }
}

/// The prints of a day are of the plan that is asked for: its orders from a table, its state.
#[test]
fn prints_take_orders_and_a_state_as_the_plan_does() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let orders = "product,amount,by,customer\ntide-rolls,80 rolls,09:00,Late Kiosk\n";
    fs::write(folder.path().join("late.csv"), orders).expect("written");
    let run = |more: &[&str]| {
        let done = assize(folder.path(), &[more, &["--placings", "60"]].concat());
        assert_eq!(done.status.code(), Some(0), "{more:?}: {}", err(&done));
        out(&done)
    };
    let given = ["--orders", "late.csv", "--now", "04:10"];
    let before = run(&["day", "saturday", "--format", "json"]);
    fs::write(folder.path().join("state.json"), before).expect("written");
    let state = [&given[..], &["--state", "state.json"]].concat();
    let now = run(&[&["day", "saturday", "--format", "json"], state.as_slice()].concat());
    let now: Value = serde_json::from_str(&now).expect("JSON");
    run(&[&["print", "saturday", "--format", "html"], state.as_slice()].concat());
    let page = fs::read_to_string(folder.path().join("prints/saturday.html")).expect("a page");
    assert!(page.contains("Late Kiosk"), "{page}");
    for batch in list(&now, "batches") {
        let time = batch["mixed"]["time"].as_str().expect("a time");
        assert!(page.contains(time), "{time}");
    }
    for (args, told) in [
        (&["print", "mole-loaf", "--now", "04:10"][..], "`--now` is of a day"),
        (
            &["print", "2026-12-05", "2026-12-12", "--orders", "late.csv"],
            "`--orders` is of one day",
        ),
    ] {
        let done = assize(folder.path(), args);
        assert_eq!(done.status.code(), Some(2), "{args:?}");
        assert!(err(&done).contains(told), "{args:?}: {}", err(&done));
    }
}

/// All prints of a house are those of its days too, in every format.
#[test]
fn all_prints_have_the_days_in_every_format() {
    let folder = folder();
    let day = "day saturday { order tide-rolls 40 rolls by 09:00 }\n";
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{day}")).expect("written");
    for format in ["html", "svg"] {
        let args = ["print", "--placings", "20", "--format", format, "--to", format];
        let done = assize(folder.path(), &args);
        assert_eq!(done.status.code(), Some(0), "{format}: {}", err(&done));
        let files = fs::read_dir(folder.path().join(format)).expect("listed");
        let of_day = |name: &str| name.starts_with("saturday");
        let names = files.map(|it| it.expect("one").file_name().to_string_lossy().into_owned());
        assert!(names.into_iter().any(|name| of_day(&name)), "{format}");
    }
}

/// A house with one levain that is fed by steps of its own, and a formula of two kinds of pieces.
const KINDS: &str = r#"
bakehouse "Gullhaven Bakehouse" {
  hours 14:00..22:00 with 2, 01:00..13:00 with 3
  mixer spiral { holds 1 kg..30 kg; machines 2 }
  oven deck { decks 3; holds 12 loaves, 40 rolls; at 230C }
}
preferment quay levain {
  bread flour 100%; water 100%; white culture 20%
  ripens 8h..13h at 22C; keeps 4h
  method { feed 5min with everything else }
}
formula two-ways "Two Ways" {
  makes 12 loaves at 900 g, 40 rolls at 80 g
  total { bread flour 100%; water 68%; salt 2% }
  preferment quay levain { ferments 15% of flour }
  method {
    mix 8min with everything else; bulk 2h..3h at 25C fold once; divide 10min
    shape 15min for loaves; shape 20min for rolls; proof 1h..2h
    bake 20min { for loaves at 230C then 20min..25min at 220C }
    bake 16min..20min at 230C for rolls
    cool 20min
  }
}
formula one-way "One Way" {
  makes 12 loaves at 900 g
  total { bread flour 100%; water 70%; salt 2% }
  preferment quay levain { ferments 20% of flour }
  method {
    mix 8min with everything else; bulk 2h..3h; shape 20min; proof 1h..2h; bake 40min at 230C
  }
}
"#;

fn whole_minutes(task: &Value) -> i64 {
    whole(&task["to"]) - whole(&task["from"])
}

/// What a step says of one kind of pieces is said of all its phases: the other kind bakes as long as
/// its own step says.
#[test]
fn each_kind_bakes_as_long_as_its_step_says() {
    for (order, least, most) in [("12 loaves", 40, 45), ("40 rolls", 16, 20)] {
        let day = format!("{KINDS}day saturday {{ order two-ways {order} by 10:00 }}\n");
        let (day, told) = quickly(&day, "saturday");
        let bakes = list(&day, "tasks").iter().filter(|task| !task["heat"].is_null());
        let bakes: Vec<i64> = bakes.map(whole_minutes).collect();
        assert!(!bakes.is_empty() && bakes.iter().all(|it| (least..=most).contains(it)), "{told}");
    }
}

/// A shared stage is one thing whatever builds it, and what is on hand of it is there once.
#[test]
fn a_shared_stage_is_built_and_on_hand_once_for_all_formulas() {
    let orders = "order two-ways 12 loaves by 10:00; order one-way 12 loaves by 10:00";
    let (day, told) = quickly(&format!("{KINDS}day saturday {{ {orders} }}\n"), "saturday");
    assert_sound(&day);
    assert_eq!(list(&day, "builds").len(), 1, "{told}");
    for there in [1, 2, 9] {
        let on_hand = format!("on hand quay levain {there} kg");
        let text = format!("{KINDS}day saturday {{ {orders}; {on_hand} }}\n");
        let (day, told) = quickly(&text, "saturday");
        assert_sound(&day);
        let own = list(&day, "builds").iter().filter(|build| build["on_hand"] == true);
        let own: Vec<&Value> = own.collect();
        assert_eq!(own.len(), 1, "{there}: {told}");
        let takes = sum(list(own[0], "takes").iter().map(|take| grams(&take["weight"])));
        assert!(takes.0 <= there * 1000 * takes.1, "{there}: {takes:?}");
    }
}

/// A warmer room makes what stands in it ripen sooner, as `assize plan` has it.
#[test]
fn a_room_that_is_asked_for_times_what_stands_in_it() {
    let folder = folder();
    let day = "day saturday { order one-way 12 loaves by 10:00 }";
    fs::write(folder.path().join("house.dough"), format!("{KINDS}{day}\n")).expect("written");
    let wait = |room: &[&str]| {
        let args = ["day", "saturday", "--format", "json", "--placings", "60"];
        let done = assize(folder.path(), &[&args, room].concat());
        let day: Value =
            serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)));
        let work = list(&day, "works").iter().find(|work| !work["stage"].is_null());
        whole(&work.expect("a build")["ends"][0]["least"])
    };
    let usual = wait(&[]);
    assert!(wait(&["--room", "27C"]) < usual && wait(&["--room", "18C"]) > usual, "{usual}");
    let done = assize(folder.path(), &["day", "saturday", "--room", "60C"]);
    assert_eq!(done.status.code(), Some(1), "{}", err(&done));
    assert!(err(&done).contains("can't be timed for the room"), "{}", err(&done));
}

/// A fold that nobody gave a time is in the middle of its wait and not at its ends.
#[test]
fn a_fold_without_a_time_is_in_the_middle() {
    let day = format!("{KINDS}day saturday {{ order two-ways 12 loaves by 10:00 }}\n");
    let (day, told) = quickly(&day, "saturday");
    let task = |title: &str| {
        list(&day, "tasks")
            .iter()
            .find(|task| task["title"] == title)
            .unwrap_or_else(|| panic!("{title}"))
    };
    let (mix, fold, divide) =
        (whole(&task("Mix")["to"]), task("Fold"), whole(&task("Divide")["from"]));
    let (before, after) = (whole(&fold["from"]) - mix, divide - whole(&fold["to"]));
    assert!(before >= 40 && after >= 35, "{before} {after} {told}");
}

/// What is made by weights of its own and is no line, such as a bath, comes out of stores too.
#[test]
fn a_bath_is_on_the_requisition() {
    let text = r#"
bakehouse "Gullhaven Bakehouse" { hours 02:00..13:00 with 2 }
formula quay-bagels "Quay Bagels" {
  makes 40 bagels at 100 g
  total { bread flour 100%; water 55%; salt 2%; fresh yeast 1%; malt syrup 2% }
  mixture malt bath { water 12 kg; malt syrup 300 g }
  method {
    mix 8min with everything else; shape 30min; proof 45min..3h
    boil 1min in malt bath; bake 18min at 230C
  }
}
day saturday { order quay-bagels 40 bagels by 09:00 }
"#;
    let (day, told) = quickly(text, "saturday");
    let syrup = list(&day, "requisition").iter().find(|it| it["name"] == "malt syrup");
    let (grams, of) = grams(&syrup.unwrap_or_else(|| panic!("{told}"))["weight"]);
    assert!(grams > 300 * of && grams < 400 * of, "{grams}/{of}");
    let baths = list(&day, "mixtures").iter().filter(|it| it["name"] == "malt bath").count();
    assert_eq!(baths, 1, "{told}");
}

/// Bread is done on the day that it is wanted, however long it may cool.
#[test]
fn bread_is_done_on_its_own_day() {
    let text = KINDS.replace("cool 20min", "cool 3h..8h");
    for by in ["07:00", "11:00"] {
        let day = format!("{text}day saturday {{ order two-ways 12 loaves by {by} }}\n");
        let (day, told) = quickly(&day, "saturday");
        for batch in list(&day, "batches") {
            let date = batch["ready"]["date"].as_str().unwrap_or_default();
            assert_eq!(date, "Saturday", "{by}: {told}");
        }
    }
}

/// Numbers that may be thousands are asked for again; a row of nought cancels; a till's title is a
/// name; what is fresh after it is wanted is a slip.
#[test]
fn rows_are_read_as_tills_write_them_or_asked_for() {
    let folder = folder();
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{MARKET}")).expect("written");
    let run = |table: &str| {
        fs::write(folder.path().join("o.csv"), table).expect("written");
        let args = ["--orders", "o.csv", "--format", "json", "--placings", "20"];
        assize(folder.path(), &[&["day", "saturday"], args.as_slice()].concat())
    };
    for number in ["1.000", "1.000 rolls", "2.500", "12'000 rolls"] {
        let done = run(&format!("product;amount;by\ntide-rolls;{number};09:00\n"));
        assert_eq!(done.status.code(), Some(1), "{number}");
        assert!(err(&done).contains("may be thousands") && out(&done).is_empty(), "{}", err(&done));
    }
    let done = run("product,amount,by,after\ntide-rolls,60 rolls,08:00,09:00\n");
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("fresh after"), "{}", err(&done));
    let table = "product,amount,by,customer\nTide Rolls,60 rolls,09:00,\nquay-rolls,0 rolls,07:00,Harbour Hotel\n";
    let done = run(table);
    let day: Value = serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)));
    let orders = list(&day, "orders");
    assert!(orders.iter().any(|order| order["product"] == "tide-rolls" && order["count"] == 60));
    assert!(orders.iter().all(|order| order["customer"] != "Harbour Hotel"), "{day}");
    assert!(err(&done).contains("in place of `quay-rolls` for Harbour Hotel"), "{}", err(&done));
}

/// Of several days one without orders stops no other.
#[test]
fn a_closed_day_of_several_is_passed_over() {
    let folder = folder();
    let days =
        "day saturday { order tide-rolls 40 rolls by 09:00 }\nday sunday { note \"Closed.\" }\n";
    fs::write(folder.path().join("house.dough"), format!("{HOUSE}{days}")).expect("written");
    let args = ["day", "saturday", "sunday", "--format", "json", "--placings", "20"];
    let done = assize(folder.path(), &args);
    assert_eq!(days_of(&out(&done)).len(), 1, "{}", err(&done));
    assert!(err(&done).contains("sunday: nothing is ordered"), "{}", err(&done));
}

/// Batches stand in the order of the clock, and shares of orders point to them.
#[test]
fn batches_stand_in_the_order_of_the_clock() {
    let (day, told) = planned(&format!("{HOUSE}{MARKET}"), "saturday");
    let batches = list(&day, "batches");
    let mixed = batches.iter().map(|batch| whole(&batch["mixed_at"]));
    assert!(mixed.is_sorted(), "{told}");
    for order in list(&day, "orders") {
        for share in list(order, "from") {
            let batch = &batches[usize::try_from(whole(&share["batch"])).expect("small")];
            assert_eq!(batch["product"], order["product"]);
        }
    }
    for build in list(&day, "builds") {
        let times = list(build, "takes").iter().map(|take| take["at"]["iso"].to_string());
        assert!(times.is_sorted(), "{build}");
    }
}

/// Several kinds of pieces are of one dough where one load of the mixer will do, each baked as its
/// step says; where the mixer holds less, each is mixed by itself.
#[test]
fn several_kinds_of_pieces_are_of_one_dough() {
    let order = "day saturday { order two-ways 10 loaves by 10:00, 30 rolls by 09:00 }";
    let (day, told) = planned(&format!("{KINDS}{order}\n"), "saturday");
    assert_sound(&day);
    let batches = list(&day, "batches");
    assert_eq!(batches.len(), 1, "{told}");
    let loads: Vec<(i64, &str)> = list(&batches[0], "loads")
        .iter()
        .map(|load| (whole(&load["pieces"]), load["kind"].as_str().expect("a kind")))
        .collect();
    assert_eq!(loads, [(10, "loaves"), (30, "rolls")]);
    for order in list(&day, "orders") {
        assert_eq!(order["missing"], 0, "{told}");
        assert!(order["done"]["time"].as_str() <= order["by"]["time"].as_str(), "{order}");
    }
    let bakes = list(&day, "tasks").iter().filter(|task| !task["heat"].is_null());
    let mut bakes: Vec<i64> = bakes.map(whole_minutes).collect();
    bakes.sort_unstable();
    assert!((16..=20).contains(&bakes[0]) && (40..=45).contains(&bakes[1]), "{bakes:?}");
    let makes = batches[0]["makes"].as_str().expect("a line");
    assert!(makes.contains("10 loaves") && makes.contains("30 rolls"), "{makes}");
    let small = KINDS.replace("1 kg..30 kg", "1 kg..10 kg");
    let (day, told) = planned(&format!("{small}{order}\n"), "saturday");
    assert_sound(&day);
    assert_eq!(list(&day, "batches").len(), 2, "{told}");
}

#[test]
fn a_day_beside_a_formula_is_printed_by_itself() {
    let house = top().join("examples/gullhaven");
    for names in [["gullhaven-sour", "saturday"], ["saturday", "gullhaven-sour"]] {
        let done = assize(&house, &[&["print"], &names[..]].concat());
        let said = err(&done);
        assert_eq!(done.status.code(), Some(2), "{said}");
        assert!(said.contains("`saturday` is a day") && said.contains("print saturday"), "{said}");
    }
}

/// A row takes the place of what the day orders of that product for that customer, in whatever
/// unit, and however the customer's letters are put together.
#[test]
fn a_row_takes_the_place_of_an_order_in_any_unit_and_spelling() {
    let cases = [
        ("order mole-loaf 60 loaves by 09:00", "mole-loaf,8 kg,09:00,", 1),
        ("order mole-loaf 8 kg by 09:00", "mole-loaf,60 loaves,09:00,", 1),
        (
            "order mole-loaf for \"Café Möwe\" 60 loaves by 09:00",
            "mole-loaf,9 loaves,09:00,Cafe\u{301} Mo\u{308}we",
            1,
        ),
        (
            "order mole-loaf for \"Cafe\u{301} Mo\u{308}we\" 60 loaves by 09:00",
            "mole-loaf,9 loaves,09:00,Café  Möwe",
            1,
        ),
        ("order mole-loaf for \"Café Möwe\" 60 loaves by 09:00", "mole-loaf,9 loaves,09:00,", 2),
    ];
    for (order, row, count) in cases {
        let folder = folder();
        let at = folder.path();
        let block = format!("{HOUSE}\nday saturday {{ {order} }}\n");
        fs::write(at.join("house.dough"), block).expect("written");
        fs::write(at.join("o.csv"), format!("product,amount,by,customer\n{row}\n"))
            .expect("written");
        let args = ["day", "saturday", "--orders", "o.csv", "--format", "json", "--placings", "4"];
        let done = assize(at, &args);
        let day: Value =
            serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)));
        assert_eq!(list(&day, "orders").len(), count, "{order} | {row}: {}", day["orders"]);
    }
}

/// However a day is named twice, it is planned once.
#[test]
fn a_day_that_is_named_twice_is_planned_once() {
    let folder = folder();
    let text = "bakehouse \"Quay\" { hours 01:00..13:00 with 2 }\n\
                formula tide-loaf \"Tide Loaf\" { makes 8 loaves at 400 g; dough { bread flour 100%; \
                water 70%; salt 2%; fresh yeast 1% } method { mix 10min; bulk 1h; shape 10min; proof 1h; \
                bake 30min at 230C } }\n\
                day saturday { order tide-loaf 8 loaves by 10:00 }\n\
                day market { order tide-loaf 4 loaves by 10:00 }\n";
    fs::write(folder.path().join("house.dough"), text).expect("written");
    for (named, count) in [
        (&["saturday", "saturday"][..], 1),
        (&["saturday", "Saturday", "sat"], 1),
        (&["market", "market"], 1),
        (&["2026-12-05", "2026-12-05"], 1),
        (&["2026-12-05", "2026-12-12", "2026-12-05"], 2),
        (&["saturday", "market", "saturday"], 2),
    ] {
        let done = assize(folder.path(), &[&["day", "--format", "json"], named].concat());
        let plans: Value = serde_json::from_str(&out(&done)).expect("JSON");
        let planned = plans.as_array().map_or(1, Vec::len);
        assert_eq!((done.status.code(), planned), (Some(0), count), "{named:?}: {}", err(&done));
        let args = ["print", "--only", "plan", "--format", "html", "--to", "out"];
        let done = assize(folder.path(), &[&args, named].concat());
        let files = fs::read_dir(folder.path().join("out")).expect("a folder").count();
        assert_eq!((done.status.code(), files), (Some(0), count), "{named:?}: {}", err(&done));
        fs::remove_dir_all(folder.path().join("out")).expect("removed");
    }
}
