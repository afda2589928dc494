//! What changed in meaning: laws of the comparison, and every way to name its two sides in
//! repositories that git itself has made.

use crate::support::{Memory, PLAIN, assize, err, folder, out, top};
use assize::testing::desk::{self, load};
use assize::testing::formula::work;
use assize::testing::history::{ComparedSide, Comparison, compare, schema};
use assize::testing::print::{Wording, document};
use assize::testing::source::SourceId;
use assize::testing::syntax::format;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Runs git with nobody's settings; answers what it says.
pub fn git(folder: &Path, args: &[&str]) -> String {
    let done = Command::new("git")
        .args(["-c", "user.name=Ines Calder", "-c", "user.email=ines@gullhaven.example"])
        .args(["-c", "init.defaultBranch=main", "-c", "protocol.file.allow=always"])
        .args(args)
        .current_dir(folder)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_NOSYSTEM", "1")
        .env("GIT_AUTHOR_DATE", "2026-03-02T05:00:00+01:00")
        .output()
        .expect("git runs");
    assert!(done.status.success(), "git {args:?}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8_lossy(&done.stdout).trim().to_owned()
}

pub fn commit(folder: &Path, subject: &str) {
    git(folder, &["add", "-A"]);
    git(folder, &["commit", "-q", "-m", subject]);
}

pub fn write(folder: &Path, name: &str, text: &str) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().expect("a folder")).expect("made");
    fs::write(path, text).expect("written");
}

/// What a run says, and how it ends.
fn told(folder: &Path, args: &[&str]) -> (Option<i32>, String) {
    let done = assize(folder, &[&["diff"], args].concat());
    (done.status.code(), out(&done) + &err(&done))
}

/// One text against another, both alone, as JSON.
fn compared(old: &str, new: &str) -> Value {
    serde_json::to_value(whole(old, new)).expect("JSON")
}

/// One text against another, both alone.
fn whole(old: &str, new: &str) -> Comparison {
    let side = |text: &str| {
        let files = Memory::with(&[("/x/a.dough", text)]);
        load(&files, Path::new("/x"), &[PathBuf::from("/x/a.dough")])
    };
    let (old, new) = (side(old), side(new));
    let (before, after) = (desk::bakehouses(&old), desk::bakehouses(&new));
    let base = Path::new("/x");
    compare(
        &ComparedSide { bakehouses: &before, base, only: None, makes: None, brought: &[] },
        &ComparedSide { bakehouses: &after, base, only: None, makes: None, brought: &[] },
    )
}

fn is_empty(comparison: &Value) -> bool {
    ["formulas", "shared"].iter().all(|part| comparison[part] == json!([]))
}

/// Nearly everything that can be said, each number once.
pub const RICH: &str = r#"
bakehouse "Gullhaven Bakehouse" {
  room 21C
  flour 19C
  tap 12C
  scale 5 g above 1 kg, 1 g
  mixer drum { holds 3 kg..28 kg; friction 11C }
  oven deck { holds 24 loaves }
  tin long { holds 2.4 l; 3.2 ml per g; greased with butter }
}
ingredient pier flour like bread flour { water 12.5%; price 23.5 EUR per 25 kg }
culture dock culture { pier flour 100%; water 101% }
preferment quay levain { pier flour 100%; water 102%; dock culture 20%; ripens 8h..10h at 22C; keeps 3h }
mixture wash { whole egg 9 parts; whole milk 1.5 parts }
style plain bread { salt 1%..3% }
formula pier-loaf "Pier Loaf" {
  style plain bread
  makes 10 loaves at 810 g in long
  bake loss 13%
  headnote "For a cold morning."
  total { pier flour 95%; dark rye flour 5%; water 73%; salt 2.1%; malt syrup 1.7% "stirred in" }
  preferment sponge { ferments 18% of flour; pier flour 100%; water 103%; dock culture 15%; ripens 7h at 23C }
  piece { wash 11 g }
  method {
    autolyse 40min with flours, 90% of water
    mix 6min..8min with everything else to 25C
    bulk 3h..4h at 25C fold 3 times every 45min until volume 1.6x
    divide 15min
    shape 20min
    proof 2h at 26C
    bake 22min { at 250C; then 18min at 230C }
    cool 1h
  }
}
formula mole-loaf "Mole Loaf" {
  makes 5 loaves at 805 g
  dough { pier flour 2 kg; water 1410 g; salt 42 g; quay levain 500 g }
}
"#;

/// Places of the numbers of a text, names and comments left out.
pub fn numbers(text: &str) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let is_part = |byte: u8| byte.is_ascii_digit() || byte == b'.';
        let start = at;
        if bytes[at].is_ascii_digit() && !bytes[at - 1].is_ascii_alphanumeric() {
            while at < bytes.len() && is_part(bytes[at]) && !text[at..].starts_with("..") {
                at += 1;
            }
            found.push((start, at));
        } else {
            at += 1;
        }
    }
    found
}

#[test]
fn every_number_counts_and_each_comparison_is_the_mirror_of_the_other_way_round() {
    assert!(is_empty(&compared(RICH, RICH)));
    let places = numbers(RICH);
    assert!(places.len() > 65, "{}", places.len());
    for (start, end) in places {
        let number: f64 = RICH[start..end].parse().expect("a number");
        let changed = format!("{}{}{}", &RICH[..start], number + 1.0, &RICH[end..]);
        let there = compared(RICH, &changed);
        let line = RICH[..start].rfind('\n').unwrap_or(0);
        let line = &changed[line..].trim_start().lines().next().unwrap_or_default();
        assert!(!is_empty(&there), "nothing is told of: {line}");
        let back = compared(&changed, RICH);
        assert_eq!(sorted(&mirrored(&there)), sorted(&back), "{line}");
    }
}

/// Old for new and new for old, everywhere.
fn mirrored(value: &Value) -> Value {
    match value {
        Value::Object(fields) => {
            let other = |name: &str| match name {
                "old" => "new".to_owned(),
                "new" => "old".to_owned(),
                "old_exact" => "new_exact".to_owned(),
                "new_exact" => "old_exact".to_owned(),
                "old_grams" => "new_grams".to_owned(),
                "new_grams" => "old_grams".to_owned(),
                "old_exact_high" => "new_exact_high".to_owned(),
                "new_exact_high" => "old_exact_high".to_owned(),
                "errors" => "errors_no_longer".to_owned(),
                "errors_no_longer" => "errors".to_owned(),
                "old_why" => "new_why".to_owned(),
                "new_why" => "old_why".to_owned(),
                "contains" => "contains_no_longer".to_owned(),
                "contains_no_longer" => "contains".to_owned(),
                "may_contain" => "may_contain_no_longer".to_owned(),
                "may_contain_no_longer" => "may_contain".to_owned(),
                "contains_unknown" => "contains_unknown_no_longer".to_owned(),
                "contains_unknown_no_longer" => "contains_unknown".to_owned(),
                name => name.to_owned(),
            };
            let fields = fields.iter().filter(|(name, _)| *name != "makes");
            fields.map(|(name, value)| (other(name), mirrored(value))).collect()
        }
        Value::Array(items) => items.iter().map(mirrored).collect(),
        Value::String(word) if word == "added" => json!("removed"),
        Value::String(word) if word == "removed" => json!("added"),
        value => value.clone(),
    }
}

/// In one order: what only one side has stands last, so that orders differ.
fn sorted(value: &Value) -> Value {
    match value {
        Value::Object(fields) => {
            let fields = fields.iter().filter(|(name, _)| *name != "makes");
            fields.map(|(name, value)| (name.clone(), sorted(value))).collect()
        }
        Value::Array(items) => {
            let mut items: Vec<Value> = items.iter().map(sorted).collect();
            items.sort_by_key(ToString::to_string);
            Value::Array(items)
        }
        value => value.clone(),
    }
}

#[test]
fn layout_comments_order_and_other_units_change_nothing() {
    let formatted = format(SourceId::default(), RICH).expect("it is sound");
    assert_ne!(formatted, RICH);
    let comment = RICH.replace("  total {", "  # the owner's\n  total {");
    let order = RICH.replace(
        "pier flour 95%; dark rye flour 5%; water 73%",
        "water 73%; dark rye flour 5%; pier flour 95%",
    );
    let units = [
        ("2 kg;", "2000 g;"),
        ("3 kg..28 kg", "3000 g..28000 g"),
        ("45min", "0.75h"),
        ("at 25C fold", "at 77F fold"),
        ("water 73%", "water 73.0%"),
        ("cool 1h", "cool 60min"),
        ("810 g", "0.81 kg"),
    ];
    let mut all = vec![formatted, comment, order];
    for (from, to) in units {
        assert!(RICH.contains(from), "{from}");
        all.push(RICH.replace(from, to));
    }
    let (first, rest) = RICH.split_at(RICH.find("formula mole-loaf").expect("it is there"));
    all.push(format!("{rest}\n{first}"));
    for text in all {
        let comparison = compared(RICH, &text);
        assert!(is_empty(&comparison), "{comparison:#}\n{text}");
    }
}

#[test]
fn what_changed_is_told_in_the_trades_terms() {
    let change = |from: &str, to: &str| {
        assert!(RICH.contains(from), "{from}");
        compared(RICH, &RICH.replace(from, to))
    };
    let says = |comparison: &Value, name: &str| {
        let all = comparison["formulas"][0]["says"].as_array().expect("changes").clone();
        let found = all.iter().find(|it| it["name"] == name).cloned();
        let found = found.unwrap_or_else(|| panic!("{name} is not in {all:?}"));
        (found["old"].as_str().map(str::to_owned), found["new"].as_str().map(str::to_owned))
    };
    let pair = |old: &str, new: &str| (Some(old.to_owned()), Some(new.to_owned()));
    let water = change("water 73%", "water 75%");
    assert_eq!(says(&water, "water"), pair("73 %", "75 %"));
    let figures = water["formulas"][0]["figures"].as_array().expect("figures");
    let hydration = figures.iter().find(|it| it["name"] == "hydration").expect("hydration");
    assert_eq!((&hydration["old"], &hydration["new"]), (&json!("73"), &json!("75")));
    let bulk = change("bulk 3h..4h", "bulk 2h30..3h");
    assert_eq!(says(&bulk, "bulk for"), pair("3h..4h", "2h30..3h"));
    let gone = change("; malt syrup 1.7% \"stirred in\"", "");
    assert_eq!(says(&gone, "malt syrup"), (Some("1.7 %".to_owned()), None));
    let come = change("salt 2.1%;", "salt 2.1%; spelt flour 10%;");
    assert_eq!(says(&come, "spelt flour"), (None, Some("10 %".to_owned())));
    let swapped = change("divide 15min\n    shape 20min", "shape 20min\n    divide 15min");
    assert_eq!(swapped["formulas"][0]["says"].as_array().map(Vec::len), Some(1), "{swapped:#}");
    // An allergen comes first.
    let sesame = change("salt 2.1%;", "salt 2.1%; sesame seeds 1%;");
    assert_eq!(sesame["formulas"][0]["contains"], json!(["sesame"]));
    // A culture inside a shared stage reaches the formula and the levain on its sheet.
    let culture = change("water 101%", "water 80%");
    let touched: BTreeSet<&str> = culture["shared"][0]["touches"]
        .as_array()
        .expect("names")
        .iter()
        .filter_map(Value::as_str)
        .collect();
    assert_eq!(touched, BTreeSet::from(["mole-loaf", "pier-loaf"]));
    let price = change("23.5 EUR", "24 EUR");
    assert_eq!(price["shared"][0]["says"][0]["name"], "price");
}

/// What the sheet of each formula prints, by its name.
fn sheets(text: &str) -> BTreeMap<String, Value> {
    let files = Memory::with(&[("/x/a.dough", text)]);
    let loaded = load(&files, Path::new("/x"), &[PathBuf::from("/x/a.dough")]);
    let bakehouses = desk::bakehouses(&loaded);
    let formulas = bakehouses.iter().flat_map(|it| it.files.iter().map(move |file| (it, file)));
    let formulas = formulas.flat_map(|(it, file)| file.tree.formulas.iter().map(move |f| (it, f)));
    formulas
        .map(|(bakehouse, formula)| {
            let worked = work(&bakehouse.house, formula, &mut Vec::new());
            let document = document(&bakehouse.house, &worked, &Wording::plain(), false);
            let whole = serde_json::to_value(document).expect("JSON");
            let parts =
                ["title", "contains", "may_contain", "mixes", "mixtures", "beside", "water"];
            let more = ["method", "batch_method", "cautions", "notes", "yield"];
            let printed = parts.iter().chain(&more).map(|part| whole[*part].clone());
            // Exact amounts are for programs, and the rest of a line for cards.
            (formula.name.key.to_string(), printed_only(&printed.collect()))
        })
        .collect()
}

fn printed_only(value: &Value) -> Value {
    const NOT_PRINTED: [&str; 12] = [
        "grams",
        "grams_high",
        "decimal",
        "percent",
        "percent_exact",
        "percent_low",
        "percent_high",
        "weight_low",
        "weight_high",
        "sum_percent",
        "hydration",
        "flour",
    ];
    match value {
        Value::Object(fields) => {
            let fields = fields.iter().filter(|(name, _)| !NOT_PRINTED.contains(&name.as_str()));
            fields.map(|(name, value)| (name.clone(), printed_only(value))).collect()
        }
        Value::Array(items) => items.iter().map(printed_only).collect(),
        value => value.clone(),
    }
}

#[test]
fn whatever_a_sheet_prints_is_told_as_a_line_of_it() {
    let before = sheets(RICH);
    let mut told = 0;
    for (start, end) in numbers(RICH) {
        let number: f64 = RICH[start..end].parse().expect("a number");
        let changed = format!("{}{}{}", &RICH[..start], number + 1.0, &RICH[end..]);
        let comparison = compared(RICH, &changed);
        let line = RICH[RICH[..start].rfind('\n').unwrap_or(0)..].trim_start().lines().next();
        for (key, sheet) in sheets(&changed) {
            let all = comparison["formulas"].as_array().expect("formulas");
            let formula = all.iter().find(|it| it["name"] == key);
            let lines = formula.map(|it| it["sheet"] != json!([]) || it["has_errors"] == true);
            if sheet != before[&key] {
                assert_eq!(lines, Some(true), "{key}: {line:?}");
                told += 1;
            }
        }
    }
    assert!(told > 50, "{told}");
    let line = |from: &str, to: &str| {
        assert!(RICH.contains(from), "{from}");
        let comparison = compared(RICH, &RICH.replacen(from, to, 1));
        let lines = comparison["formulas"][0]["sheet"].as_array().expect("lines").clone();
        let line = |it: &Value| {
            let [line, old, new] = ["line", "old", "new"].map(|it_| it[it_].as_str().unwrap_or(""));
            format!("{line}: {old} → {new}")
        };
        lines.iter().map(line).collect::<Vec<_>>().join("\n")
    };
    for (from, to, wanted) in [
        (
            "salt 2.1%;",
            "salt 2.1%; sesame seeds 1%;",
            "contains: barley, eggs, milk, rye, wheat → barley, eggs, milk, rye, sesame, wheat",
        ),
        ("at 250C", "at 240C", "Bake, at: 250 °C"),
        ("bake 22min", "bake 24min", "Bake, time: 22 min → 24 min"),
        ("proof 2h", "proof 3h", "Proof, time: 2 h → 3 h"),
        ("ripens 7h at 23C", "ripens 9h at 23C", "ripens: 7 h at 23 °C → 9 h at 23 °C"),
        ("cool 1h", "cool 1h note \"On the rack.\"", "Cool, note:  → On the rack."),
        ("headnote", "caution \"Hot tins.\"\n  headnote", "caution:  → Hot tins."),
        ("headnote", "note \"Best on day two.\"\n  headnote", "note:  → Best on day two."),
        ("\"stirred in\"", "\"stirred in late\"", "note: stirred in → stirred in late"),
    ] {
        let told = line(from, to);
        assert!(told.contains(wanted), "{to}: {told}");
    }
}

#[test]
fn every_statement_counts() {
    let mut tried = 0;
    for (at, line) in RICH.lines().enumerate() {
        let words = line.trim();
        if words.is_empty() || words == "}" || words.ends_with('{') {
            continue;
        }
        let rest = RICH.lines().enumerate().filter(|(place, _)| *place != at);
        let rest: Vec<&str> = rest.map(|(_, line)| line).collect();
        let comparison = compared(RICH, &rest.join("\n"));
        assert!(!is_empty(&comparison), "nothing is told of: {words}");
        tried += 1;
    }
    assert!(tried > 25, "{tried}");
}

/// The names that a change touches, and those whose own entries changed.
fn touched(from: &str, to: &str) -> (Vec<String>, Vec<String>) {
    assert!(RICH.contains(from), "{from}");
    let comparison = compared(RICH, &RICH.replacen(from, to, 1));
    assert_ne!(comparison["shared"], json!([]), "{to} is told");
    let names = |value: &Value| {
        let all = value.as_array().into_iter().flatten();
        all.filter_map(|it| it.as_str().or(it["name"].as_str()).map(str::to_owned)).collect()
    };
    (names(&comparison["shared"][0]["touches"]), names(&comparison["formulas"]))
}

#[test]
fn what_holds_for_all_touches_only_those_on_whose_prints_it_changes_something() {
    let none: Vec<String> = Vec::new();
    let both = vec!["mole-loaf".to_owned(), "pier-loaf".to_owned()];
    let drum = "mixer drum { holds 3 kg..28 kg; friction 11C }";
    let tiny = format!("{drum}\n  mixer tiny {{ holds 100 g..900 g; friction 9C }}");
    assert_eq!(touched(drum, &tiny), (none.clone(), none.clone()), "no dough is so small");
    assert_eq!(touched("holds 24 loaves", "holds 30 loaves"), (none.clone(), none.clone()));
    assert_eq!(touched("friction 11C", "friction 14C").0, ["pier-loaf"], "it alone is mixed");
    // One dough is told to be longer in an oven that holds less; the other is not baked.
    let pier = vec!["pier-loaf".to_owned()];
    assert_eq!(touched("holds 24 loaves", "holds 4 loaves"), (pier.clone(), pier));
    let small = compared(RICH, &RICH.replace("holds 24 loaves", "holds 4 loaves"));
    assert!(figures_in(&small).iter().any(|it| it["name"] == "elapsed"), "{small:#}");
    assert_eq!(touched("price 23.5 EUR", "price 30 EUR"), (both.clone(), none.clone()));
    let touched_by_scale = touched("scale 5 g above 1 kg, 1 g", "scale 50 g");
    assert_eq!(touched_by_scale.0, both);
    // The five letters are of what is baked: a price and a machine are not in them, and what a
    // machine makes of a print is in its last three.
    let code = |text: &str| {
        let files = Memory::with(&[("/x/a.dough", text)]);
        let loaded = load(&files, Path::new("/x"), &[PathBuf::from("/x/a.dough")]);
        desk::bakehouses(&loaded)
            .iter()
            .flat_map(assize::testing::history::codes)
            .collect::<Vec<_>>()
    };
    assert_eq!(code(RICH), code(&RICH.replace("price 23.5 EUR", "price 30 EUR")));
    assert_eq!(code(RICH), code(&RICH.replace("holds 24 loaves", "holds 4 loaves")));
    assert_ne!(code(RICH), code(&RICH.replace("water 73%", "water 75%")));
    // Beside a change of one dough's own, what holds for all touches the other one only.
    let wetter = RICH.replace("water 73%", "water 75%");
    let with_tiny = wetter.replace(drum, &tiny);
    let comparison = compared(RICH, &with_tiny);
    for shared in comparison["shared"].as_array().expect("changes") {
        assert_eq!(shared["touches"], json!([]), "{shared:#}");
    }
    let warmer = wetter.replace("friction 11C", "friction 14C");
    let comparison = compared(RICH, &warmer);
    assert_eq!(comparison["shared"][0]["touches"], json!(["pier-loaf"]), "{comparison:#}");
}

#[test]
fn a_stage_with_another_name_is_what_it_was() {
    let renamed = RICH.replace("quay levain", "jetty levain");
    let comparison = compared(RICH, &renamed);
    let shared = comparison["shared"].as_array().expect("changes");
    assert_eq!(shared.len(), 1, "{comparison:#}");
    let of = |field: &str| shared[0][field].clone();
    assert_eq!((of("name"), of("was")), (json!("jetty levain"), json!("quay levain")));
    assert_eq!(of("touches"), json!(["mole-loaf"]));
    let formula = &comparison["formulas"][0];
    assert_eq!((&formula["says"], &formula["figures"]), (&json!([]), &json!([])), "{formula:#}");
    assert_eq!(formula["sheet"].as_array().map(Vec::len), Some(1), "{formula:#}");
    let text = assize::testing::history::tell::text;
    let told = text(&whole(RICH, &renamed));
    assert!(told.contains("stage jetty levain  was called quay levain; touches"), "{told}");
    // With a change as well, and one of a formula's own.
    let wetter = renamed.replace("water 102%", "water 105%");
    let told = text(&whole(RICH, &wetter));
    assert!(told.contains("was called quay levain; water 102 % → 105 %"), "{told}");
    let own = compared(RICH, &RICH.replace("preferment sponge", "preferment poolish"));
    let says = own["formulas"][0]["says"].as_array().expect("changes");
    assert_eq!(says.len(), 1, "{own:#}");
    assert_eq!((&says[0]["old"], &says[0]["new"]), (&json!("sponge"), &json!("poolish")));
}

/// Each figure that a comparison tells, with its formula.
fn figures_in(comparison: &Value) -> Vec<Value> {
    let formulas = comparison["formulas"].as_array().expect("formulas");
    formulas.iter().flat_map(|it| it["figures"].as_array().cloned().expect("figures")).collect()
}

#[test]
fn a_figure_moves_only_where_its_exact_value_does() {
    let mut told = 0;
    let mut hold = |comparison: &Value, what: &str| {
        for figure in figures_in(comparison) {
            let ends = |when: &str| {
                ["exact", "exact_high"].map(|end| figure[format!("{when}_{end}")].clone())
            };
            assert_ne!(ends("old"), ends("new"), "{what}: {figure}");
            assert_ne!(figure["old"], figure["new"], "{what}: {figure}");
            let grams = |when: &str| {
                let exact = figure[format!("{when}_exact")].as_str()?;
                let (over, under) = exact.split_once('/').unwrap_or((exact, "1"));
                Some(over.parse::<f64>().ok()? / under.parse::<f64>().ok()?)
            };
            let shown = |when: &str| figure[when].as_str()?.parse::<f64>().ok();
            // A printed weight goes the way that the weight itself goes.
            if let ("kg", Some(a), Some(b), Some(c), Some(d)) = (
                figure["unit"].as_str().unwrap_or_default(),
                grams("old"),
                grams("new"),
                shown("old"),
                shown("new"),
            ) {
                assert!((b - a) * (d - c) > 0.0, "{what}: {figure}");
            }
            told += 1;
        }
    };
    for (start, end) in numbers(RICH) {
        let number: f64 = RICH[start..end].parse().expect("a number");
        for by in [1.0, 0.01] {
            let changed = format!("{}{}{}", &RICH[..start], number + by, &RICH[end..]);
            let line = &changed[start.saturating_sub(40)..start + 4];
            hold(&compared(RICH, &changed), line);
        }
    }
    assert!(told > 100, "{told}");
    // Another scale rounds every weight otherwise and moves no figure.
    for scale in ["scale 50 g", "scale 20 g above 100 g, 0.1 g", "scale 2 g"] {
        let comparison = compared(RICH, &RICH.replace("scale 5 g above 1 kg, 1 g", scale));
        assert!(comparison["formulas"].as_array().is_some_and(|it| it.len() == 2), "{scale}");
        assert_eq!(figures_in(&comparison), Vec::<Value>::new(), "{scale}");
    }
}

#[test]
fn a_figure_that_could_not_be_seen_before_is_what_it_was() {
    // Salt as declared is told where it is another than salt as eaten, sugar where there is any.
    let mut seen = 0;
    for salt in ["2.2", "2.3", "2.4", "1.9", "2.0", "2.8"] {
        let comparison = compared(RICH, &RICH.replace("salt 2.1%", &format!("salt {salt}%")));
        for figure in figures_in(&comparison) {
            assert!(figure["old"].is_string() && figure["new"].is_string(), "{salt}: {figure}");
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}

/// What a formula that holds an own ingredient tells of its allergens: its headline, and the
/// lists of the comparison that are not empty.
fn allergens_told(before: &str, after: &str) -> (String, Vec<(String, Value)>) {
    let text = |properties: &str| {
        format!("{RICH}\ningredient jar is a nut {{ {properties} }}\n")
            .replace("salt 2.1%;", "salt 2.1%; jar 3%;")
    };
    let comparison = whole(&text(before), &text(after));
    let told = assize::testing::history::tell::text(&comparison);
    let value = serde_json::to_value(&comparison).expect("JSON");
    let mut formula = value["formulas"].as_array().expect("formulas").iter();
    let formula = formula.rfind(|it| it["name"] == "pier-loaf").cloned();
    let fields = formula.as_ref().and_then(Value::as_object).expect("it changed");
    let of_allergens = |name: &str| name.contains("contain");
    let lists = fields.iter().filter(|(name, list)| of_allergens(name) && **list != json!([]));
    let lists = lists.map(|(name, list)| (name.clone(), list.clone())).collect();
    (told.lines().next().unwrap_or_default().to_owned(), lists)
}

#[test]
fn every_printed_allergen_is_told_first_whether_contained_or_a_trace() {
    let sesame = |list: &str| vec![(list.to_owned(), json!(["sesame"]))];
    let none = "contains hazelnuts; animal nothing";
    for (before, after, headline, lists) in [
        (
            none,
            "contains hazelnuts, sesame; animal nothing",
            "now contains sesame",
            sesame("contains"),
        ),
        (
            "contains hazelnuts, sesame; animal nothing",
            none,
            "no longer contains sesame",
            sesame("contains_no_longer"),
        ),
        (
            none,
            "contains hazelnuts; animal nothing; may contain sesame",
            "may contain now sesame",
            sesame("may_contain"),
        ),
        (
            "contains hazelnuts; animal nothing; may contain sesame",
            none,
            "may no longer contain sesame",
            sesame("may_contain_no_longer"),
        ),
        (
            "contains hazelnuts; animal nothing; may contain sesame",
            "contains hazelnuts, sesame; animal nothing",
            "now contains sesame",
            vec![
                ("contains".to_owned(), json!(["sesame"])),
                ("may_contain_no_longer".to_owned(), json!(["sesame"])),
            ],
        ),
    ] {
        let (head, told) = allergens_told(before, after);
        assert!(head.contains(&format!("  {headline}")), "{head}");
        assert_eq!(told, lists, "{before} → {after}");
    }
    let (head, _) = allergens_told(
        "contains hazelnuts; animal nothing; may contain sesame",
        "contains hazelnuts, sesame; animal nothing",
    );
    assert!(!head.contains("no longer"), "{head}");
}

#[test]
fn what_is_rounded_away_is_no_figure_that_moved() {
    let comparison = compared(RICH, &RICH.replace("malt syrup 1.7%", "malt syrup 1.7001%"));
    let formula = &comparison["formulas"][0];
    assert_eq!((&formula["figures"], &formula["sheet"]), (&json!([]), &json!([])), "{formula:#}");
    assert_eq!(formula["says"].as_array().map(Vec::len), Some(1));
}

/// A bakehouse of two files, committed; the second commit makes the levain stiffer.
pub fn repository(args: &[&str]) -> tempfile::TempDir {
    let folder = folder();
    let at = folder.path();
    git(at, &[&["init", "-q"], args].concat());
    let house = "bakehouse \"Gullhaven Bakehouse\" { scale 1 g }\n\
        preferment quay levain { bread flour 100%; water 100%; white culture 20%; ripens 8h at 22C }\n";
    write(at, "house.dough", house);
    write(
        at,
        "mole-loaf.dough",
        "formula mole-loaf \"Mole Loaf\" {\n  makes 5 loaves at 800 g\n  total { bread flour 100%; \
         water 70%; salt 2% }\n  preferment quay levain { ferments 20% of flour }\n}\n",
    );
    write(at, "pier-loaf.dough", PLAIN);
    commit(at, "First formulas");
    git(at, &["tag", "-a", "v1", "-m", "first"]);
    write(at, "house.dough", &house.replace("water 100%", "water 80%"));
    commit(at, "Make the levain stiffer");
    git(at, &["tag", "v2"]);
    folder
}

/// Of the levain's change, whatever it was asked by.
fn is_the_levain(told: (Option<i32>, String)) {
    assert_eq!(told.0, Some(0), "{}", told.1);
    assert!(told.1.contains("touches mole-loaf"), "{}", told.1);
    assert!(told.1.contains("quay levain: water 100 % → 80 %"), "{}", told.1);
    assert!(!told.1.contains("pier-loaf"), "{}", told.1);
}

const NOTHING: (Option<i32>, &str) = (Some(0), "no change in meaning\n");

fn is_nothing(told: (Option<i32>, String)) {
    assert_eq!((told.0, told.1.as_str()), NOTHING);
}

#[test]
fn every_way_to_name_two_sides() {
    let folder = repository(&[]);
    let at = folder.path();
    for args in [
        &["HEAD~1", "HEAD"][..],
        &["HEAD~1"],
        &["v1", "v2"],
        &["v1..v2"],
        &["v1.."],
        &["v1^{}", "main"],
        &["main~", "@"],
        &["refs/tags/v1"],
        &["v1:house.dough", "v2:house.dough"],
        &["v1", "house.dough"],
        &["v1", "."],
        &["HEAD^!"],
        &["v2^!"],
    ] {
        is_the_levain(told(at, args));
    }
    // A file of a revision is named from here, or from the top as git does.
    let below = at.join("notes");
    fs::create_dir_all(&below).expect("made");
    is_the_levain(told(&below, &["v1:house.dough", "v2:house.dough"]));
    is_the_levain(told(&below, &["v1:../house.dough", "v2:../house.dough"]));
    let short = &git(at, &["rev-parse", "HEAD~1"])[..7];
    is_the_levain(told(at, &[short]));
    for args in [&[][..], &["--staged"], &["HEAD"], &["v2", "main"], &["v2:pier-loaf", "pier-loaf"]]
    {
        is_nothing(told(at, args));
    }
    // The weights on paper are told where no figure of the dough moves.
    let (_, paper) = told(at, &["v1", "v2", "--sheets"]);
    assert!(paper.contains("Mole Loaf for 5 loaves at 800 g"), "{paper}");
    assert!(paper.contains("Quay levain, water: ~~"), "{paper}");
    let (_, html) = told(at, &["v1", "v2", "--sheets", "--format", "html"]);
    assert!(html.contains("<del>") && html.contains("<ins>"), "{html}");
    // A formula at a revision against another one.
    let (code, both) = told(at, &["v1:mole-loaf", "mole-loaf"]);
    assert_eq!(code, Some(0), "{both}");
    assert!(both.starts_with("mole-loaf"), "{both}");
    // Staged, and then changed again.
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "75%"));
    git(at, &["add", "-A"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "76%"));
    let (_, staged) = told(at, &["--staged"]);
    assert!(staged.contains("hydration 74 → 75 %"), "{staged}");
    let (_, files) = told(at, &[]);
    assert!(files.contains("hydration 74 → 76 %"), "{files}");
    for word in ["pier-loaf", "pier-loaf.dough", "./pier-loaf.dough", "."] {
        let (_, files) = told(at, &[word]);
        assert!(files.contains("hydration 74 → 76 %"), "{word}: {files}");
        let (_, staged) = told(at, &[word, "--staged"]);
        assert!(staged.contains("hydration 74 → 75 %"), "{word}: {staged}");
    }
    is_nothing(told(at, &["mole-loaf.dough"]));
    assert_eq!(told(at, &["--exit-code"]).0, Some(1));
    assert_eq!(told(at, &["v2", "main", "--exit-code"]).0, Some(0));
    let (_, written) = told(at, &["v1", "--format", "json"]);
    let written: Value = serde_json::from_str(&written).expect("JSON");
    let published: Value = serde_json::from_str(&schema()).expect("a schema");
    let published = jsonschema::validator_for(&published).expect("sound");
    assert!(published.is_valid(&written), "{written:#}");
}

#[test]
fn each_number_of_a_manuscript_that_changed_is_told_by_chapter() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let prose = "# Bread for a Small Harbour\n\nA book of 12 breads.\n";
    let chapter = format!(
        "## Pier Loaf\n\nStir 100 g of levain into 350 g of water; it takes 4 hours.\n\n\
         ```dough\n{PLAIN}```\n\n## After the bake\n\nIt keeps 3 days.\n"
    );
    write(at, "book/01.md", prose);
    write(at, "book/02.md", &chapter);
    commit(at, "First proof");
    git(at, &["tag", "proof-1"]);
    is_nothing_of_numbers(told(at, &["proof-1", "book", "--numbers", "--exit-code"]));
    write(at, "book/01.md", &prose.replace("12 breads", "14 breads"));
    let changed = chapter.replace("350 g", "365 g").replace("74%", "75%").replace("3 days", "days");
    write(at, "book/02.md", &changed);
    let (code, text) = told(at, &["proof-1", "book", "--numbers", "--exit-code"]);
    assert_eq!(code, Some(1), "{text}");
    let wanted = [
        "Bread for a Small Harbour (01.md)\n  A book of … breads: 12 → 14\n",
        "Pier Loaf (02.md)\n  100 g of levain into … g: 350 → 365\n",
        "  pier-loaf, hydration: 74 % → 75 %\n",
        "  pier-loaf, Dough, water: ",
        "After the bake (02.md)\n  It keeps … days: 3, gone\n",
    ];
    wanted.iter().for_each(|wanted| assert!(text.contains(wanted), "{wanted}\n{text}"));
    assert!(!text.contains("hours"), "{text}");
    let (_, markdown) = told(at, &["proof-1", "book", "--numbers", "--format", "markdown"]);
    let head = "# Numbers that changed from proof-1 to the files as they are\n";
    assert!(markdown.starts_with(head), "{markdown}");
    assert!(markdown.contains("| A book of … breads | ~~12~~ | **14** |"), "{markdown}");
    let (_, html) = told(at, &["proof-1", "book", "--numbers", "--format", "html"]);
    assert!(html.contains("<del>350</del>") && html.contains("<ins>365</ins>"), "{html}");
    for args in [&["--numbers"][..], &["--sheets"], &[]] {
        let args = [&["diff", "proof-1", "book", "--format", "pdf"], args].concat();
        let done = assize(at, &args);
        assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
        assert_eq!(assize(at, &args).stdout, done.stdout, "the same bytes");
        let page = pdf_extract::extract_text_from_mem(&done.stdout).expect("text");
        let page: String = page.split_whitespace().collect::<Vec<_>>().join(" ");
        let wanted = match args.last() {
            Some(&"--numbers") => "A book of … breads 12 14",
            Some(&"--sheets") => "Pier Loaf",
            _ => "hydration 74 → 75 %",
        };
        assert!(page.contains(wanted), "{page}");
    }
    let (_, json) = told(at, &["proof-1", "book", "--numbers", "--format", "json"]);
    let json: Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["chapters"].as_array().map(Vec::len), Some(3), "{json:#}");
}

/// A figure in a sentence is a number of the manuscript, wherever its formula stands.
/// A number whose unit is another now is told with both units, and one that only stands as it was
/// in another unit is a change too.
#[test]
fn a_number_is_told_with_its_unit_where_that_changed() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let prose = "# Notes\n\nIt holds 1 kg of flour, and stands 20 min.\n\nIt bakes at 230 °C.\n";
    write(at, "book/01.md", prose);
    write(at, "house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    commit(at, "First proof");
    git(at, &["tag", "proof-1"]);
    let changed = prose.replace("1 kg", "988.8 g").replace("20 min", "2 h").replace("°C", "°F");
    write(at, "book/01.md", &changed);
    let (_, text) = told(at, &["proof-1", "book", "--numbers"]);
    for wanted in ["It holds … of: 1 kg → 988.8 g\n", ": 20 min → 2 h\n", ": 230 °C → 230 °F\n"]
    {
        assert!(text.contains(wanted), "{wanted}\n{text}");
    }
}

#[test]
fn figures_in_sentences_are_numbers_of_their_chapter() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    write(at, "pier-loaf.dough", PLAIN);
    let one = "## Mixing\n\nStir in [water of pier-loaf] of water.\n\n## Salt\n\n\
        Then [salt % of pier-loaf] of salt.\n";
    let two = format!(
        "## Jetty\n\nIt takes [water] of water.\n\n```dough card\n{}```\n",
        PLAIN.replace("pier-loaf", "jetty-loaf")
    );
    write(at, "house.dough", "bakehouse \"Gullhaven Bakehouse\" { scale 1 g }\n");
    write(at, "book/01.md", &format!("<!-- assize: title \"Bread\" by \"Ines\" -->\n{one}"));
    write(at, "book/02.md", &two);
    commit(at, "First proof");
    git(at, &["tag", "proof-1"]);
    is_nothing_of_numbers(told(at, &["proof-1", ".", "--numbers"]));
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "78%"));
    let (_, text) = told(at, &["proof-1", ".", "--numbers", "--format", "json"]);
    let numbers: Value = serde_json::from_str(&text).expect("JSON");
    let chapters = numbers["chapters"].as_array().expect("chapters");
    let titles: Vec<&Value> = chapters.iter().map(|it| &it["title"]).collect();
    assert_eq!(titles[0], "Mixing", "{text}");
    assert!(!titles.contains(&&json!("Salt")) && !titles.contains(&&json!("Jetty")), "{text}");
    let first = &chapters[0]["numbers"];
    assert_eq!(first.as_array().map(Vec::len), Some(1), "{text}");
    assert_eq!(first[0]["place"], "Stir in … g", "{text}");
    assert_ne!(first[0]["old"], first[0]["new"], "{text}");
    assert!(first[0]["new"].is_string(), "{text}");
    // A claim that is refuted now hides no number.
    let claims = |water: &str| {
        let claimed = PLAIN.trim_end().strip_suffix('}').expect("a block").replace("74%", water);
        claimed + "  expect { hydration 74% }\n}\n"
    };
    write(at, "pier-loaf.dough", &claims("78%"));
    let (_, refuted) = told(at, &["proof-1", ".", "--numbers", "--format", "json"]);
    let numbers: Value = serde_json::from_str(&refuted).expect("JSON");
    assert_eq!(numbers["chapters"][0]["numbers"], *first, "{refuted}");
    // A formula of the chapter itself changes its sentence and what is printed of it.
    write(at, "pier-loaf.dough", PLAIN);
    write(at, "book/02.md", &two.replace("74%", "70%"));
    let (_, text) = told(at, &["proof-1", ".", "--numbers"]);
    assert!(text.starts_with("Jetty (book/02.md)\n  It takes … g: "), "{text}");
    assert!(text.contains("  jetty-loaf, hydration: 74 % → 70 %\n"), "{text}");
    assert_eq!(text.matches("(book/02.md)").count(), 1, "{text}");
}

fn is_nothing_of_numbers(told: (Option<i32>, String)) {
    assert_eq!((told.0, told.1.as_str()), (Some(0), "no number changed\n"));
}

#[test]
fn slips_on_the_command_line_are_named() {
    let folder = repository(&[]);
    let at = folder.path();
    for (args, said) in [
        (&["mian"][..], "there is no revision `mian`; did you mean `main`?"),
        (&["HEAD~9"], "there is no revision `HEAD~9`"),
        (&["v1:nothing.dough"], "there is no nothing.dough in v1"),
        (&["v1:pier-loat"], "there is no formula `pier-loat` in v1; did you mean `pier-loaf`?"),
        (&["./nothing"], "there is no ./nothing"),
        (
            &["pier-loat"],
            "there is no path, formula or revision `pier-loat`; did you mean `pier-loaf`?",
        ),
        (&["quite-other"], "there is no path, formula or revision `quite-other`\n"),
        (&["v1...pier-loaf"], "three dots stand between two revisions: `main...HEAD`"),
        (&["v1:jetty"], "there is no formula `jetty` in v1"),
    ] {
        let (code, told) = told(at, args);
        assert_eq!(code, Some(2), "{args:?}: {told}");
        assert!(told.contains(said), "{args:?}: {told}");
        assert_eq!(told.lines().count(), 1, "{args:?}: {told}");
    }
    git(at, &["branch", "pier-loaf"]);
    let (code, both) = told(at, &["pier-loaf"]);
    assert_eq!(code, Some(2), "{both}");
    assert!(both.contains("is a revision and a formula"), "{both}");
    git(at, &["tag", "twice", "HEAD~1"]);
    git(at, &["branch", "twice", "HEAD"]);
    let (code, both) = told(at, &["twice"]);
    assert_eq!(code, Some(2), "{both}");
    assert!(both.contains("refs/tags/twice or refs/heads/twice"), "{both}");
    let nowhere = folder_outside();
    let (code, none) = told(nowhere.path(), &[]);
    assert_eq!(code, Some(1), "{none}");
    assert!(none.contains("no-repository"), "{none}");
}

fn folder_outside() -> tempfile::TempDir {
    folder()
}

#[test]
fn packed_bare_cloned_linked_and_sha_256_repositories_are_read() {
    let folder = repository(&[]);
    let at = folder.path();
    git(at, &["gc", "-q", "--aggressive"]);
    is_the_levain(told(at, &["v1", "v2"]));
    let others = crate::support::folder();
    let inside = |name: &str| others.path().join(name);
    let from = at.to_string_lossy().into_owned();
    let url = format!("file://{from}");
    git(others.path(), &["clone", "-q", "--bare", &from, "bare"]);
    is_the_levain(told(&inside("bare"), &["v1", "v2"]));
    for args in [&[][..], &["v1"], &["v1:mole-loaf"], &["--staged"]] {
        let (code, bare) = told(&inside("bare"), args);
        assert_eq!(code, Some(2), "{args:?}: {bare}");
        assert!(bare.contains("is bare"), "{args:?}: {bare}");
    }
    git(others.path(), &["clone", "-q", "--shared", &from, "borrows"]);
    is_the_levain(told(&inside("borrows"), &["v1"]));
    git(others.path(), &["clone", "-q", "--depth", "1", &url, "shallow"]);
    let (code, shallow) = told(&inside("shallow"), &["HEAD~1"]);
    assert_eq!(code, Some(2), "{shallow}");
    is_nothing(told(&inside("shallow"), &["HEAD"]));
    let tree = inside("linked").to_string_lossy().into_owned();
    git(at, &["worktree", "add", "-q", &tree, "v1"]);
    is_nothing(told(Path::new(&tree), &[]));
    is_the_levain(told(Path::new(&tree), &["HEAD", "main"]));
    let outer = inside("outer");
    fs::create_dir(&outer).expect("made");
    git(&outer, &["init", "-q"]);
    git(&outer, &["submodule", "--quiet", "add", &from, "bread"]);
    git(&outer, &["commit", "-q", "-m", "Take the formulas in"]);
    let inner = outer.join("bread");
    is_the_levain(told(&inner, &["v1", "v2"]));
    // From outside, a submodule's files are those of the commit that is named for it.
    is_nothing(told(&outer, &[]));
    is_nothing(told(&outer, &["--staged"]));
    git(&inner, &["checkout", "-q", "v1"]);
    let back = |told: (Option<i32>, String)| {
        assert!(told.1.contains("quay levain: water 80 % → 100 %"), "{}", told.1);
        assert!(!told.1.contains("pier-loaf"), "{}", told.1);
    };
    back(told(&outer, &[]));
    is_nothing(told(&outer, &["--staged"]));
    git(&outer, &["add", "bread"]);
    back(told(&outer, &["--staged"]));
    git(&outer, &["commit", "-q", "-m", "Go back to the levain as it was"]);
    is_nothing(told(&outer, &[]));
    back(told(&outer, &["HEAD~1", "HEAD"]));
    back(told(&outer, &["HEAD~1:bread", "HEAD:bread"]));
    back(told(&outer, &["HEAD~1:bread/mole-loaf.dough", "HEAD:bread/mole-loaf.dough"]));
    back(told(&outer, &["HEAD~1:mole-loaf", "mole-loaf"]));
    let history = assize(&outer, &["history", "mole-loaf"]);
    let rows = out(&history);
    assert!(rows.lines().next().is_some_and(|it| it.contains("Go back")), "{rows}");
    assert!(rows.contains("Take the formulas in"), "{rows}");
    // Without its files there is nothing of it to compare.
    let apart = others.path().join("apart");
    git(others.path(), &["clone", "-q", &outer.to_string_lossy(), "apart"]);
    is_nothing(told(&apart, &["HEAD~1", "HEAD"]));
    is_nothing(told(&apart, &[]));
    let longer = repository(&["--object-format=sha256"]);
    is_the_levain(told(longer.path(), &["v1", "v2"]));
    git(longer.path(), &["gc", "-q"]);
    is_the_levain(told(longer.path(), &["v1"]));
    // What is broken is told, and never a half of it compared.
    for pack in fs::read_dir(longer.path().join(".git/objects/pack")).expect("listed") {
        let pack = pack.expect("an entry").path();
        if pack.extension().is_some_and(|it| it == "pack") {
            let bytes = fs::read(&pack).expect("readable");
            writable(&pack);
            fs::write(&pack, &bytes[..40]).expect("written");
        }
    }
    let (code, broken) = told(longer.path(), &["v1"]);
    assert_eq!(code, Some(1), "{broken}");
    assert!(broken.contains("repository-unreadable"), "{broken}");
}

/// Things that have another name and another number are what they were, with what is in them.
#[test]
fn renamed_things_with_other_numbers_are_what_they_were() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let house = "bakehouse \"Gullhaven Bakehouse\" { scale 1 g }\n\
        ingredient quay wholemeal like whole wheat flour { protein 12.5%; price 23 EUR per 25 kg }\n\
        culture quay culture { bread flour 100%; water 100% }\n\
        preferment quay levain { bread flour 60%; quay wholemeal 40%; water 100%; quay culture 20%; \
        ripens 8h..10h at 22C; keeps 3h }\n\
        mixture seed mix { sunflower seeds 3 parts; flax seeds 2 parts }\n\
        formula mole-loaf \"Mole Loaf\" {\n  makes 5 loaves at 800 g\n  total { bread flour 85%; \
        quay wholemeal 15%; water 70%; salt 2%; seed mix 5% }\n  preferment quay levain { ferments 20% of flour }\n}\n\
        day friday \"Friday\" { order mole-loaf 10 loaves by 09:00 }\n";
    write(at, "house.dough", house);
    commit(at, "First");
    let after = house
        .replace("quay", "wharf")
        .replace("water 100% }", "water 80% }")
        .replace("water 100%; wharf", "water 90%; wharf")
        .replace("price 23", "price 25")
        .replace("keeps 3h", "keeps 4h");
    write(at, "house.dough", &after);
    let (_, said) = told(at, &[]);
    for renamed in ["wharf wholemeal", "wharf culture", "wharf levain"] {
        let was = format!("was called {}", renamed.replace("wharf", "quay"));
        let line = said.lines().find(|it| it.contains(renamed) && it.contains(&was));
        assert!(line.is_some(), "{renamed}: {said}");
    }
    assert!(!said.contains(", gone") && !said.contains(", new"), "{said}");
    let (_, sheets) = told(at, &["--sheets"]);
    assert!(sheets.contains("Wharf levain, bread flour: ~~"), "{sheets}");
    assert!(!sheets.contains("gone"), "{sheets}");
    commit(at, "Call everything otherwise");
    // A mixture that changed is the cause of a row, and a day is asked for like a formula.
    write(at, "house.dough", &after.replace("flax seeds 2 parts", "flax seeds 3 parts"));
    for name in ["mole-loaf", "friday"] {
        let (code, said) = told(at, &[name]);
        assert_eq!(code, Some(0), "{name}: {said}");
        // A formula alone is told by its own lines.
        let cause =
            if name == "friday" { "flax seeds 2 parts → 3 parts" } else { "by mixture seed mix" };
        assert!(said.contains(cause), "{name}: {said}");
        let (code, back) = told(at, &[&format!("HEAD~1:{name}"), &format!("HEAD:{name}")]);
        assert_eq!(code, Some(0), "{name}: {back}");
        let cause = if name == "friday" {
            "was called quay levain"
        } else {
            "Quay levain → Wharf levain"
        };
        assert!(back.contains(cause), "{name}: {back}");
    }
    commit(at, "More flax");
    for name in ["mole-loaf", "friday"] {
        let rows = out(&assize(at, &["history", name]));
        let first = rows.lines().next().unwrap_or_default();
        assert!(first.contains("seed mix: flax seeds 2 parts → 3 parts"), "{name}: {rows}");
    }
    let (code, said) = told(at, &["fridey"]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("did you mean `friday`"), "{said}");
}

/// What is said in one line is said once, in words.
#[test]
fn heads_say_each_thing_once() {
    let folder = repository(&[]);
    let at = folder.path();
    let house = |scale: &str, hours: &str| {
        format!("bakehouse \"Gullhaven Bakehouse\" {{\n  scale {scale}\n  hours {hours}\n}}\n")
    };
    let loaf = PLAIN.replace("  method", "  expect { vegan }\n\n  method");
    write(at, "mole-loaf.dough", &loaf.replace("pier-loaf", "mole-loaf"));
    write(
        at,
        "house.dough",
        &house("5 g above 1 kg, 1 g, 0.1 g below 20 g", "02:00..12:00 with 2"),
    );
    commit(at, "A house of its own");
    write(at, "mole-loaf.dough", &PLAIN.replace("pier-loaf", "mole-loaf"));
    write(at, "house.dough", &house("5 g", "mon..fri 01:00..12:00 with 2"));
    let (_, said) = told(at, &[]);
    assert!(said.contains("scale 5 g above 1 kg, 1 g, 0.1 g below 20 g → 5 g"), "{said}");
    assert!(said.contains("hours 02:00..12:00 with 2 → mon tue wed thu fri 01:00"), "{said}");
    assert!(!said.contains("vegan vegan") && !said.contains("bakehouse bakehouse"), "{said}");
}

#[test]
fn every_kind_of_index_is_read() {
    let folder = repository(&[]);
    let at = folder.path();
    git(at, &["update-index", "--split-index"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "75%"));
    git(at, &["add", "pier-loaf.dough"]);
    let split = |told: (Option<i32>, String)| {
        assert!(told.1.starts_with("pier-loaf  hydration 74 → 75 %"), "{}", told.1);
    };
    split(told(at, &["--staged"]));
    git(at, &["update-index", "--no-split-index", "--index-version", "4"]);
    split(told(at, &["--staged"]));
    // What is only announced is not staged.
    write(at, "new.dough", &PLAIN.replace("pier-loaf", "new-loaf"));
    git(at, &["add", "-N", "new.dough"]);
    split(told(at, &["--staged"]));
    // Folders that are not checked out are staged as they were.
    git(at, &["reset", "-q", "--hard"]);
    write(at, "white/jetty.dough", &PLAIN.replace("pier-loaf", "jetty-loaf"));
    write(at, "rye/mole.dough", &PLAIN.replace("pier-loaf", "rye-loaf"));
    commit(at, "Two more");
    git(at, &["sparse-checkout", "set", "--cone", "--sparse-index", "rye"]);
    assert!(!at.join("white").exists());
    is_nothing(told(at, &["--staged"]));
    // Of what both sides of a merge changed nothing is staged.
    git(at, &["sparse-checkout", "disable"]);
    git(at, &["checkout", "-q", "-b", "other"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "70%"));
    commit(at, "Drier");
    git(at, &["checkout", "-q", "main"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "78%"));
    commit(at, "Wetter");
    let merge = ["merge", "-q", "other"];
    assert!(
        !Command::new("git").args(merge).current_dir(at).output().expect("git").status.success()
    );
    let (status, said) = told(at, &["--staged"]);
    assert_eq!(status, Some(2), "{said}");
    assert!(said.contains("`pier-loaf.dough` is not merged yet"), "{said}");
}

#[test]
fn a_repository_of_a_kind_that_is_not_read_is_told() {
    let tables = repository(&["--ref-format=reftable"]);
    let (code, told_of) = told(tables.path(), &["v1", "v2"]);
    assert_eq!(code, Some(1), "{told_of}");
    assert!(told_of.contains("repository-unreadable"), "{told_of}");
    assert!(told_of.contains("git refs migrate --ref-format=files"), "{told_of}");
    let folder = repository(&[]);
    let at = folder.path();
    git(at, &["config", "core.repositoryformatversion", "1"]);
    git(at, &["config", "extensions.objectformat", "md5"]);
    let (code, told_of) = told(at, &["v1", "v2"]);
    assert_eq!(code, Some(1), "{told_of}");
    assert!(told_of.contains("repository-unreadable"), "{told_of}");
}

#[test]
fn a_broken_repository_is_told_and_never_a_panic() {
    let folder = repository(&[]);
    let at = folder.path();
    git(at, &["gc", "-q", "--aggressive"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "75%"));
    git(at, &["add", "-A"]);
    let mut files = Vec::new();
    all_below(&at.join(".git"), &mut files);
    let wanted = ["pack", "idx", "index", "HEAD", "packed-refs", "config", "main"];
    files.retain(|path| {
        let of =
            |part: Option<&std::ffi::OsStr>| part.is_some_and(|it| wanted.iter().any(|w| it == *w));
        (of(path.extension()) || of(path.file_name())) && !path.starts_with(at.join(".git/logs"))
    });
    assert!(files.len() > 5, "{files:?}");
    let mut tried = 0;
    for path in files {
        let whole = fs::read(&path).expect("readable");
        writable(&path);
        for part in 0..16 {
            let place = (whole.len() * part / 16 + part).min(whole.len() - 1);
            let mut broken = whole.clone();
            match part % 4 {
                3 => broken.truncate(place),
                _ => broken[place] ^= [0x01, 0x80, 0xff][part % 3],
            }
            fs::write(&path, broken).expect("written");
            for args in [&["v1", "v2"][..], &["--staged"]] {
                let (code, told) = told(at, args);
                let is_told = matches!(code, Some(0..=2)) && !told.contains("panicked");
                assert!(is_told, "{} at {place}: {code:?} {told}", path.display());
            }
            tried += 1;
        }
        fs::write(&path, whole).expect("written");
    }
    assert!(tried > 90, "{tried}");
}

fn all_below(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("listed") {
        let path = entry.expect("an entry").path();
        match path.is_dir() {
            true => all_below(&path, found),
            false => found.push(path),
        }
    }
    found.sort();
}

fn writable(path: &Path) {
    let mut permissions = fs::metadata(path).expect("there").permissions();
    #[allow(clippy::permissions_set_readonly_false, reason = "a file of this test's own")]
    permissions.set_readonly(false);
    fs::set_permissions(path, permissions).expect("set");
}

#[test]
fn a_renamed_formula_and_a_moved_file_are_recognised() {
    let folder = repository(&[]);
    let at = folder.path();
    fs::remove_file(at.join("pier-loaf.dough")).expect("removed");
    let renamed = PLAIN.replace("pier-loaf \"Pier Loaf\"", "jetty-loaf \"Jetty Loaf\"");
    write(at, "white/jetty.dough", &renamed.replace("74%", "75%"));
    let (_, moved_and_renamed) = told(at, &[]);
    assert!(
        moved_and_renamed.contains("jetty-loaf  was called pier-loaf; hydration 74 → 75 %"),
        "{moved_and_renamed}"
    );
    assert!(
        moved_and_renamed.contains("jetty-loaf moved: pier-loaf.dough → white/jetty.dough"),
        "{moved_and_renamed}"
    );
    commit(at, "Call it Jetty Loaf");
    git(at, &["mv", "white/jetty.dough", "jetty.dough"]);
    let (code, moved) = told(at, &["--exit-code"]);
    assert_eq!(
        (code, moved.as_str()),
        (Some(0), "no change in meaning\n\njetty-loaf moved: white/jetty.dough → jetty.dough\n")
    );
}

/// A brace that is missing in one formula makes no other one differ, adds nothing to the house,
/// and says of nothing that it is gone: it may stand where nothing can be read.
#[test]
fn a_brace_that_is_missing_is_about_its_own_formula_alone() {
    let read = |name: &str| {
        let path = top().join("examples/gullhaven").join(name);
        fs::read_to_string(path).expect("readable")
    };
    let (first, second) = (read("gullhaven-sour.dough"), read("first-sour.dough"));
    let mut tried = 0;
    for (own, text) in [
        ("gullhaven-sour", format!("{first}\n{second}")),
        ("first-sour", format!("{second}\n{first}")),
    ] {
        let end = text.rfind("\nformula ").expect("two formulas");
        let braces = text.match_indices(['{', '}']).map(|(at, _)| at).take_while(|at| *at < end);
        for at in braces.collect::<Vec<_>>() {
            let mut torn = text.clone();
            torn.replace_range(at..=at, " ");
            let told = compared(&text, &torn);
            let context = format!("{own}: {:?}\n{told:#}", &text[..at]);
            let formulas = told["formulas"].as_array().expect("a list");
            // A `}` that is missing may take in what follows.
            if text[at..].starts_with('{') {
                assert!(formulas.iter().all(|it| it["name"] == own), "{context}");
            }
            assert!(told["shared"].as_array().expect("a list").is_empty(), "{context}");
            let says = formulas.iter().filter(|it| it["name"] == own);
            let mut says = says.flat_map(|it| it["says"].as_array().into_iter().flatten());
            assert!(says.all(|it| !it["new"].is_null()), "{context}");
            tried += 1;
        }
    }
    assert!(tried >= 40, "{tried}");
}
