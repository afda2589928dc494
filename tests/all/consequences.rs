//! What a change comes to, told by its weight: claims that broke, what is done, what paper shows.

use crate::diff::{commit, git, repository, write};
use crate::support::{Memory, PLAIN, assize, err, folder, out};
use assize::testing::desk::{self, load};
use assize::testing::history::{ComparedSide, compare};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

fn shown(folder: &Path, args: &[&str]) -> (Option<i32>, String) {
    let done = assize(folder, args);
    (done.status.code(), out(&done) + &err(&done))
}

fn compared(old: &str, new: &str) -> Value {
    let side = |text: &str| {
        let files = Memory::with(&[("/x/a.dough", text)]);
        load(&files, Path::new("/x"), &[PathBuf::from("/x/a.dough")])
    };
    let (old, new) = (side(old), side(new));
    let (before, after) = (desk::bakehouses(&old), desk::bakehouses(&new));
    let base = Path::new("/x");
    let told = compare(
        &ComparedSide { bakehouses: &before, base, only: None, makes: None, brought: &[] },
        &ComparedSide { bakehouses: &after, base, only: None, makes: None, brought: &[] },
    );
    serde_json::to_value(told).expect("JSON")
}

const CLAIMED: &str = "\
bakehouse \"Gullhaven Bakehouse\" { scale 1 g }
ingredient pier crumb is a seed { animal nothing; contains nothing }
preferment quay levain { bread flour 100%; water 100%; white culture 20%; ripens 8h at 22C }
style lean { without milk; salt 1%..3% }
formula quay-loaf \"Quay Loaf\" {
  style lean
  makes 5 loaves at 800 g
  total { bread flour 100%; water 70%; salt 2%; pier crumb 5% }
  preferment quay levain { ferments 20% of flour }
  expect { hydration 70%; salt 2%; water in levain 1..2 kg; vegan; free from nuts; prefermented flour 20% }
}
";

/// The claims that a comparison tells of, each with how it stood and stands.
fn claims(told: &Value) -> Vec<(String, String, String)> {
    let word = |it: &Value| it.as_str().unwrap_or("-").to_owned();
    let all = told["formulas"].as_array().expect("formulas").iter();
    let all = all.flat_map(|it| it["claims"].as_array().expect("claims").clone());
    all.map(|it| (word(&it["claim"]), word(&it["old"]), word(&it["new"]))).collect()
}

/// Whatever breaks a claim, in the formula, in a stage that it shares, in an ingredient or in its
/// style, tells the claim; and what mends it tells it the other way round.
#[test]
fn each_claim_that_a_change_breaks_or_mends_is_told() {
    let base = CLAIMED.replace("; water in levain 1..2 kg", "");
    for (from, to, broken) in [
        ("water 70%;", "water 71%;", &["hydration 70 %"][..]),
        ("salt 2%; pier", "salt 2.6%; pier", &["salt 2 %"]),
        ("ferments 20%", "ferments 25%", &["prefermented flour 20 %"]),
        ("contains nothing", "contains hazelnuts", &["free from nuts"]),
        ("pier crumb 5% }", "pier crumb 5%; butter 3% }", &["vegan", "style lean without milk"]),
        ("pier crumb 5% }", "honey 3% }", &["vegan"]),
        ("without milk;", "without wheat;", &["style lean without wheat"]),
        // Words of the house that no print of the loaf shows.
        ("; contains nothing", "", &["free from nuts"]),
    ] {
        assert!(base.contains(from), "{from}");
        let changed = base.replacen(from, to, 1);
        let told = claims(&compared(&base, &changed));
        for claim in broken {
            let it = told.iter().find(|(it, ..)| it == claim);
            let it = it.unwrap_or_else(|| panic!("{to}: {claim} is not in {told:?}"));
            assert_eq!(it.2, "fails", "{to}: {told:?}");
            assert!(it.1 == "holds" || it.1 == "-", "{to}: {told:?}");
        }
        let back: Vec<_> = claims(&compared(&changed, &base));
        assert_eq!(back.len(), told.len(), "{to}: {told:?} and {back:?}");
        for (claim, was, is) in &told {
            assert!(back.contains(&(claim.clone(), is.clone(), was.clone())), "{to}: {back:?}");
        }
    }
    // What breaks none tells none, and what was broken before is no news.
    for (from, to) in [("5 loaves", "6 loaves"), ("Quay Loaf", "Quay Bread")] {
        assert_eq!(claims(&compared(&base, &base.replacen(from, to, 1))), []);
    }
    let wet = base.replace("water 70%;", "water 71%;");
    assert_eq!(claims(&compared(&wet, &base.replace("water 70%;", "water 72%;"))), []);
    // A new formula with a claim that fails.
    let new = PLAIN.replace("bake loss  12%", "expect { hydration 70% }");
    assert_eq!(
        claims(&compared(&base, &(base.clone() + &new))),
        [("hydration 70 %".to_owned(), "-".to_owned(), "fails".to_owned())]
    );
}

/// A broken claim stands before figures and lines, in every form in which a change is told.
#[test]
fn a_broken_claim_stands_first_in_every_form() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let base = CLAIMED.replace("; water in levain 1..2 kg", "");
    write(at, "a.dough", &(base.clone() + PLAIN));
    commit(at, "First formulas");
    let wet = base.replace("water 70%;", "water 71%;");
    // The other loaf changes by far more, and breaks nothing.
    write(at, "a.dough", &(wet + &PLAIN.replace("74%", "60%")));
    commit(at, "Wetter");
    let said = "claim hydration 70 % no longer holds: it is 71 %";
    let (_, text) = shown(at, &["diff", "HEAD~1..HEAD"]);
    let first = text.lines().next().expect("a line");
    assert!(first.starts_with("quay-loaf") && first.contains(said), "{text}");
    assert!(first.find(said) < first.find("hydration 70 → 71 %"), "{first}");
    let (_, markdown) = shown(at, &["diff", "HEAD~1..HEAD", "--format", "markdown"]);
    assert!(markdown.starts_with(&format!("- **quay-loaf**: {said}")), "{markdown}");
    let (_, sheets) = shown(at, &["diff", "HEAD~1..HEAD", "--sheets"]);
    let line = "  claim: hydration 70 %: ~~holds~~ does not hold: it is 71 %";
    assert_eq!(sheets.lines().nth(1), Some(line), "{sheets}");
    for format in ["markdown", "html"] {
        let (_, sheets) = shown(at, &["diff", "HEAD~1..HEAD", "--sheets", "--format", format]);
        assert!(sheets.contains("does not hold: it is 71 %"), "{sheets}");
    }
    let (_, history) = shown(at, &["history", "quay-loaf"]);
    assert!(history.lines().next().is_some_and(|it| it.contains(said)), "{history}");
    let (_, json) = shown(at, &["history", "quay-loaf", "--format", "json"]);
    let json: Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["rows"][0]["claims"][0]["new"], "fails", "{json:#}");
    // The other way round it holds now.
    let (_, text) = shown(at, &["diff", "HEAD..HEAD~1"]);
    assert!(text.contains("claim hydration 70 % holds now (before: it is 71 %)"), "{text}");
}

/// The first thing that is told of a formula is what moved most of what it is.
#[test]
fn what_moved_most_is_told_first_and_one_weight_once() {
    let formula = |name: &str, water: &str, yeast: &str, bulk: &str| {
        format!(
            "formula {name} {{ makes 10 loaves at 900 g; dough {{ bread flour 100%; water {water}%; \
             salt 2%; fresh yeast {yeast}% }} method {{ mix 8min to 25C; bulk {bulk} at 24C; \
             bake 40min at 240C }} }}\n"
        )
    };
    let house = "bakehouse \"Quay\" { scale 1 g; tap 12C; room 21C; flour 19C }\n";
    for (water, yeast, bulk, first) in [
        ("70.1", "1.3", "2h", "yeast as fresh"),
        ("75", "1.1", "2h", "hydration"),
        ("70.1", "1.1", "6h", "bulk for 2h → 6h"),
    ] {
        let folder = folder();
        let at = folder.path();
        git(at, &["init", "-q"]);
        write(at, "a.dough", &(house.to_owned() + &formula("pier-loaf", "70", "1.1", "2h")));
        commit(at, "First");
        write(at, "a.dough", &(house.to_owned() + &formula("pier-loaf", water, yeast, bulk)));
        let (_, told) = shown(at, &["diff"]);
        let line = told.lines().next().expect("a line");
        assert!(line.starts_with(&format!("pier-loaf  {first}")), "{first}: {told}");
        // The water of the dough is one weight, whatever line tells it.
        let water = told.lines().filter(|it| it.contains("water: ") && it.contains(" kg → "));
        assert!(water.count() <= 1, "{told}");
    }
    // More dough weighs more than a few minutes of hands.
    let two = |water: &str, mix: &str| {
        house.to_owned()
            + &formula("aft-loaf", "70", "1.1", "2h").replace("mix 8min", mix)
            + &formula("zinc-loaf", water, "1.1", "2h")
    };
    let told = compared(&two("70", "mix 8min"), &two("77", "mix 8min; divide 1min"));
    assert_eq!(told["formulas"][0]["name"], "zinc-loaf", "{told:#}");
}

/// A price is a change, and no reason for what a sheet says.
#[test]
fn a_price_is_told_as_written_and_blamed_for_nothing() {
    let house = "bakehouse \"Quay\" { scale 1 g }\n\
         ingredient pier flour like bread flour { price 14 EUR per kg }\n";
    let loaf = PLAIN.replace("bread flour", "pier flour");
    let told = compared(
        &(house.to_owned() + &loaf),
        &(house.replace("14 EUR", "19 EUR") + &loaf.replace("74%", "75%")),
    );
    assert_eq!(told["formulas"][0]["because"], serde_json::json!([]), "{told:#}");
    let price = &told["shared"][0]["says"][0];
    assert_eq!((&price["old"], &price["new"]), (&"14 EUR per kg".into(), &"19 EUR per kg".into()));
    let alone = compared(&(house.to_owned() + &loaf), &(house.replace("14 EUR", "19 EUR") + &loaf));
    assert_eq!(alone["formulas"], serde_json::json!([]), "{alone:#}");
    assert_eq!(alone["shared"][0]["touches"], serde_json::json!(["pier-loaf"]), "{alone:#}");
}

/// Two revisions in one word may stand before or after a name or a path.
#[test]
fn a_range_beside_a_name_is_that_name_at_both_ends() {
    let folder = repository(&[]);
    let at = folder.path();
    for name in ["mole-loaf", "house.dough", "pier-loaf"] {
        let wanted = shown(at, &["diff", &format!("v1:{name}"), &format!("v2:{name}")]);
        assert_eq!(wanted.0, Some(0), "{}", wanted.1);
        for args in [["v1..v2", name], [name, "v1..v2"], ["v1...v2", name], ["v2^!", name]] {
            assert_eq!(shown(at, &["diff", args[0], args[1]]), wanted, "{args:?}");
        }
    }
    let (status, told) = shown(at, &["diff", "v1..v2", "nowhere.dough"]);
    assert_eq!(status, Some(2), "{told}");
}

/// The revision and the code of a print.
fn foot(at: &Path, formula: &str) -> (String, String) {
    let document = out(&assize(at, &["show", formula, "--format", "json"]));
    let document: Value = serde_json::from_str(&document).expect("JSON");
    let word = |field: &str| document["trace"][field].as_str().expect("a text").to_owned();
    (word("revision"), word("code"))
}

/// A commit in a foot has to be there and to have the code.
#[test]
fn a_commit_in_a_foot_is_looked_up() {
    let folder = repository(&[]);
    let at = folder.path();
    let (revision, code) = foot(at, "mole-loaf");
    let first = git(at, &["rev-parse", "--short=7", "v1"]);
    for (foot, status, said) in [
        (format!("{revision} {code}"), 0, ""),
        (format!("{revision} · {code}"), 0, ""),
        (format!("{first} {code}"), 1, "has nothing with the code"),
        (format!("deadbee {code}"), 1, "there is no commit deadbee here"),
        (format!("draft {code}"), 0, ""),
    ] {
        for args in [&["trace", &foot][..], &["check", "--pinned", &foot]] {
            let (got, told) = shown(at, args);
            assert_eq!(got, Some(status), "{args:?}: {told}");
            assert!(told.contains(said), "{args:?}: {told}");
        }
    }
    // The commit in the foot is the one that the paper is of, not the last with its code.
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    write(at, "mole-loaf.dough", &(loaf.clone() + "# a note\n"));
    commit(at, "A note");
    write(at, "mole-loaf.dough", &loaf.replace("water 70%", "water 71%"));
    let (status, told) = shown(at, &["check", "--pinned", &format!("{revision} {code}")]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains(&format!("{revision} of 2026-03-02")), "{told}");
    // Five letters are what is made, and a print is asked about by all eight.
    let (status, told) = shown(at, &["check", "--pinned", &code[..5]]);
    assert_eq!(status, Some(1), "{told}");
    write(at, "mole-loaf.dough", &loaf);
    let (status, told) = shown(at, &["check", "--pinned", &code[..5]]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("three letters"), "{told}");
}

/// A card that shows nothing of a change may stay; the sheet that shows it may not.
#[test]
fn a_print_of_which_only_the_foot_changed_is_current() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    write(
        at,
        "a.dough",
        "bakehouse \"Quay\" { scale 1 g; tap 12C; room 21C; flour 19C }\n\
         formula quay-loaf \"Quay Loaf\" { makes 20 loaves at 900 g; dough { bread flour 100%; \
         water 72%; salt 2%; fresh yeast 1% } method { mix 8min to 25C note \"Slowly.\"; \
         bulk 3h at 24C; bake 40min at 240C } }\n",
    );
    commit(at, "First");
    let code_on = |print: &str| {
        let page = out(&assize(
            at,
            &["print", "quay-loaf", "--only", print, "--format", "html", "--to", "-"],
        ));
        let (_, sheet) = foot(at, "quay-loaf");
        let place = page.find(&sheet[..5]).expect("a code");
        page[place..place + 8].to_owned()
    };
    let codes = ["card", "sheet", "table"].map(|print| (print, code_on(print)));
    let text = fs::read_to_string(at.join("a.dough")).expect("readable");
    for (from, to) in [("water 72%", "water 73%"), ("to 25C", "to 26C"), ("Slowly.", "Fast.")] {
        assert!(text.contains(from), "{from}");
        write(at, "a.dough", &text);
        let html = |print: &str| {
            let args = ["print", "quay-loaf", "--only", print, "--format", "html", "--to", "-"];
            let page = out(&assize(at, &args));
            // The foot stands last.
            page.split("<footer")
                .next()
                .unwrap_or_default()
                .split("<main")
                .nth(1)
                .map(str::to_owned)
        };
        let before = ["card", "sheet", "table"].map(html);
        write(at, "a.dough", &text.replace(from, to));
        let after = ["card", "sheet", "table"].map(html);
        for (at_, (print, code)) in codes.iter().enumerate() {
            let (status, told) = shown(at, &["check", "--pinned", code]);
            let is_same = before[at_] == after[at_];
            assert_eq!(status, Some(i32::from(!is_same)), "{print}, {to}: {told}");
            if !is_same {
                assert!(told.contains(&format!("the {print} {code}")), "{told}");
            }
        }
    }
    write(at, "a.dough", &text);
}

/// The lines of a sheet for another yield are told for that yield.
#[test]
fn a_sheet_of_another_yield_is_told_in_its_own_weights() {
    let folder = repository(&[]);
    let at = folder.path();
    let sheet =
        out(&assize(at, &["show", "mole-loaf", "--makes", "60 loaves", "--format", "json"]));
    write(at, "sheet.json", &sheet);
    let sheet: Value = serde_json::from_str(&sheet).expect("JSON");
    let water = &sheet["mixes"][0]["lines"];
    let old = water.as_array().expect("lines").iter().find(|it| it["key"] == "water");
    let old = old.map(|it| it["weight"]["shown"].as_str().expect("a weight").to_owned());
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    write(at, "mole-loaf.dough", &loaf.replace("water 70%", "water 75%"));
    let (status, told) = shown(at, &["check", "--pinned", "sheet.json"]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains("on the sheet for 60 loaves"), "{told}");
    let now = out(&assize(at, &["show", "mole-loaf", "--makes", "60 loaves", "--format", "json"]));
    let now: Value = serde_json::from_str(&now).expect("JSON");
    let dough = now["mixes"]
        .as_array()
        .expect("mixes")
        .iter()
        .flat_map(|it| it["lines"].as_array().expect("lines").clone());
    let shown_now: Vec<String> = dough
        .filter(|it| it["key"] == "water")
        .filter_map(|it| it["weight"]["shown"].as_str().map(str::to_owned))
        .collect();
    let is_told = shown_now.iter().any(|it| told.contains(&format!("→ {it}")));
    assert!(is_told, "{shown_now:?}, {old:?}: {told}");
    assert!(!told.contains("this print is for"), "{told}");
}

const DAY: &str = "bakehouse \"Quay\" { scale 1 g; mixer drum { holds 1 kg..20 kg; friction 11C } oven deck { holds 12 loaves } }\n\
    formula quay-loaf \"Quay Loaf\" { makes 12 loaves at 900 g; dough { bread flour 100%; water 70%; \
    salt 2%; fresh yeast 1% } method { mix 8min; bulk 2h; bake 40min at 230C; cool 30min } }\n\
    formula mole-loaf \"Mole Loaf\" { makes 4 loaves at 900 g; dough { bread flour 100%; water 60%; \
    salt 2%; fresh yeast 1% } method { mix 8min; bulk 2h; bake 40min at 230C } }\n\
    day saturday \"Market\" { hours 00:00..24:00 with 2; order quay-loaf 12 loaves by 12:00 }\n";

/// Times and batches of a day that moved are told where the day is asked about.
#[test]
fn moved_times_and_batches_of_a_day_are_told() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    write(at, "a.dough", DAY);
    commit(at, "First");
    let _ = assize(at, &["print", "saturday", "--only", "plan"]);
    for (from, to, said) in [
        ("bulk 2h; bake 40min at 230C; cool", "bulk 3h; bake 40min at 230C; cool", "first work: "),
        ("12 loaves by 12:00", "24 loaves by 12:00", "batches: 1 → 2"),
        ("by 12:00", "by 11:00", "orders, Quay Loaf: 12 loaves by 12:00"),
    ] {
        assert!(DAY.contains(from), "{from}");
        write(at, "a.dough", &DAY.replace(from, to));
        let (status, told) = shown(at, &["diff", "HEAD", "saturday"]);
        assert_eq!(status, Some(0), "{told}");
        assert!(told.contains("plan of saturday") && told.contains(said), "{to}: {told}");
        let (_, json) = shown(at, &["diff", "HEAD", "saturday", "--format", "json"]);
        let json: Value = serde_json::from_str(&json).expect("JSON");
        assert!(json["days"][0]["papers"].as_array().is_some_and(|it| !it.is_empty()), "{json:#}");
    }
    // A formula that the day does not bake changes nothing of it.
    write(at, "a.dough", &DAY.replace("water 60%", "water 61%"));
    assert_eq!(
        shown(at, &["diff", "HEAD", "saturday"]),
        (Some(0), "no change in meaning\n".to_owned())
    );
}

/// A file against itself as it was tells what is in it and what that rests on.
#[test]
fn a_file_against_itself_tells_nothing_of_others() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let levain = "preferment quay levain { bread flour 100%; water 100%; white culture 20%; ripens 8h at 22C }\n";
    let other = "preferment dock levain { bread flour 100%; water 100%; white culture 20%; ripens 8h at 22C }\n";
    let loaf = |name: &str, levain: &str, salt: &str| {
        format!(
            "formula {name} {{ makes 5 loaves at 800 g; total {{ bread flour 100%; water 70%; \
             salt {salt}% }} preferment {levain} levain {{ ferments 20% of flour }} method {{ mix 8min; bulk 2h; bake 40min at 230C }} }}\n"
        )
    };
    let day = |count: u32| {
        format!("day saturday {{ hours 00:00..24:00; order mole-loaf {count} loaves by 12:00 }}\n")
    };
    write(at, "house.dough", &format!("bakehouse \"Quay\" {{ scale 1 g }}\n{levain}{other}"));
    write(at, "mole-loaf.dough", &loaf("mole-loaf", "quay", "2"));
    write(at, "pier-loaf.dough", &loaf("pier-loaf", "dock", "2"));
    write(at, "days.dough", &day(5));
    commit(at, "First");
    let stiff = |text: &str| text.replace("water 100%", "water 80%");
    write(
        at,
        "house.dough",
        &format!("bakehouse \"Quay\" {{ scale 1 g }}\n{}{}", stiff(levain), stiff(other)),
    );
    write(at, "mole-loaf.dough", &loaf("mole-loaf", "quay", "2.1"));
    write(at, "pier-loaf.dough", &loaf("pier-loaf", "dock", "2.1"));
    write(at, "days.dough", &day(10));
    for (file, has, lacks) in [
        (
            "mole-loaf.dough",
            &["mole-loaf", "stage quay levain", "in another file"][..],
            &["pier-loaf", "dock", "day saturday  "][..],
        ),
        (
            "pier-loaf.dough",
            &["pier-loaf", "stage dock levain"],
            &["mole-loaf", "quay levain", "saturday"],
        ),
        ("days.dough", &["mole-loaf", "day saturday  "], &["pier-loaf", "dock"]),
        (
            "house.dough",
            &["mole-loaf", "pier-loaf", "quay levain", "dock levain"],
            &["day saturday  "],
        ),
    ] {
        let (status, told) = shown(at, &["diff", &format!("HEAD:{file}"), file]);
        assert_eq!(status, Some(0), "{told}");
        for word in has {
            assert!(told.contains(word), "{file}, {word}: {told}");
        }
        for word in lacks {
            assert!(!told.contains(word), "{file}, {word}: {told}");
        }
    }
}

/// What was taken away and put back has a row for each.
#[test]
fn a_history_tells_when_a_formula_went_and_came_back() {
    let folder = repository(&[]);
    let at = folder.path();
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    fs::remove_file(at.join("mole-loaf.dough")).expect("removed");
    commit(at, "No mole loaf");
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "75%"));
    commit(at, "Another loaf");
    write(at, "mole-loaf.dough", &loaf);
    commit(at, "Mole loaf is back");
    let (status, told) = shown(at, &["history", "mole-loaf"]);
    assert_eq!(status, Some(0), "{told}");
    let rows: Vec<&str> = told.lines().take_while(|line| !line.is_empty()).collect();
    assert_eq!(rows.len(), 4, "{told}");
    assert!(rows[0].ends_with("Mole loaf is back  back"), "{told}");
    assert!(rows[1].ends_with("No mole loaf  gone"), "{told}");
    let (_, json) = shown(at, &["history", "mole-loaf", "--format", "json"]);
    let json: Value = serde_json::from_str(&json).expect("JSON");
    let what: Vec<&Value> =
        json["rows"].as_array().expect("rows").iter().map(|it| &it["what"]).collect();
    assert_eq!(what, ["added", "removed", "changed", "added"], "{json:#}");
    for format in ["csv", "svg"] {
        assert_eq!(shown(at, &["history", "mole-loaf", "--format", format]).0, Some(0));
    }
}

/// A sheet of a day that was warmer then is told as what it was, and is not called current.
#[test]
fn a_sheet_of_a_day_with_another_room_is_traced() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let text = DAY
        .replace("scale 1 g;", "scale 1 g; tap 12C; room 21C; flour 19C;")
        .replace(
            "mix 8min; bulk 2h; bake 40min at 230C; cool",
            "mix 8min to 25C; bulk 2h; bake 40min at 230C; cool",
        )
        .replace("with 2;", "with 2; room 18C;");
    write(at, "a.dough", &text);
    commit(at, "First");
    let (status, told) = shown(at, &["print", "saturday", "--only", "sheet", "--format", "html"]);
    assert_eq!(status, Some(0), "{told}");
    let (_, own) = foot(at, "quay-loaf");
    let page = fs::read_to_string(at.join("prints/saturday-sheets.html")).expect("a page");
    let place = page.find(&own[..5]).expect("a code");
    let code = page[place..place + 8].to_owned();
    assert_ne!(code, own);
    assert_eq!(shown(at, &["check", "--pinned", &code]).0, Some(0));
    write(at, "a.dough", &text.replace("room 18C", "room 25C"));
    commit(at, "Warmer");
    let (status, told) = shown(at, &["trace", &code]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("quay-loaf: sheet in en, metric"), "{told}");
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains("print it anew"), "{told}");
}

/// What checks find wrong since a change, beside claims, is told where the change is.
#[test]
fn errors_that_a_change_brings_are_told() {
    let loaf = |method: &str| {
        format!(
            "formula quay-loaf {{ makes 5 loaves at 800 g; dough {{ bread flour 100%; water 70%; \
             salt 2%; fresh yeast 1%; butter 3% }} method {{ {method}; bulk 2h; bake 40min at 230C }} }}\n"
        )
    };
    let first = "mix 8min with bread flour, water, salt, fresh yeast";
    let whole = loaf(&format!("{first}; mix 2min with butter"));
    let lacks = loaf(&format!("{first}; divide 2min"));
    let told = compared(&whole, &lacks);
    let errors = told["formulas"][0]["errors"].as_array().expect("errors");
    assert_eq!(errors.len(), 1, "{told:#}");
    assert!(errors[0].as_str().is_some_and(|it| it.contains("butter")), "{told:#}");
    let back = compared(&lacks, &whole);
    assert_eq!(back["formulas"][0]["errors_no_longer"], told["formulas"][0]["errors"]);
}

/// A plan with dates of its own can't be made again, so that nobody calls it current.
#[test]
fn a_plan_with_times_of_its_own_is_never_current() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let house = DAY.replace("scale 1 g;", "scale 1 g; hours 03:30..13:00; zone Europe/Paris;");
    write(at, "a.dough", &house);
    commit(at, "First");
    let args = ["plan", "quay-loaf", "--ready", "2026-12-05 10:00", "--format", "json"];
    let plan: Value = serde_json::from_str(&out(&assize(at, &args))).expect("JSON");
    let code = plan["trace"]["code"].as_str().expect("a code").to_owned();
    for hours in ["03:30..13:00", "09:00..22:00"] {
        write(at, "a.dough", &house.replace("hours 03:30..13:00;", &format!("hours {hours};")));
        let (status, told) = shown(at, &["check", "--pinned", &code]);
        assert_eq!(status, Some(1), "{told}");
        assert!(told.contains("nobody can tell") && !told.contains("is current"), "{told}");
    }
}

/// A sheet is current for what it is for; that no batch of a day is of that size is told.
#[test]
fn a_sheet_says_which_days_have_no_batch_of_its_size() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    write(at, "a.dough", DAY);
    commit(at, "First");
    let (_, code) = foot(at, "quay-loaf");
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!((status, told.contains("no batch")), (Some(0), false), "{told}");
    write(at, "a.dough", &DAY.replace("12 loaves by 12:00", "30 loaves by 12:00"));
    commit(at, "More on Saturdays");
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("no batch of saturday has that size"), "{told}");
    // What is on hand is baked by nobody.
    let there =
        DAY.replace("12 loaves by 12:00 }", "30 loaves by 12:00; on hand quay-loaf 18 loaves }");
    write(at, "a.dough", &there);
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!((status, told.contains("no batch")), (Some(0), false), "{told}");
}

/// What is made is as it was, and the house prints it with another code: trace says both.
#[test]
fn a_sheet_of_another_room_is_not_what_the_files_have() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let house = DAY
        .replace("scale 1 g;", "scale 1 g; tap 12C; room 21C; flour 19C;")
        .replace("mix 8min;", "mix 8min to 25C;");
    write(at, "a.dough", &house);
    commit(at, "First");
    let (_, code) = foot(at, "quay-loaf");
    write(at, "a.dough", &house.replace("room 21C", "room 27C"));
    commit(at, "A warmer room");
    let (_, now) = foot(at, "quay-loaf");
    assert_ne!(now, code);
    let (_, told) = shown(at, &["trace", &code]);
    assert!(told.contains("make the same, but print it with another code"), "{told}");
    let (_, told) = shown(at, &["trace", &now]);
    assert!(told.contains("the files as they are have it"), "{told}");
    assert_eq!(shown(at, &["check", "--pinned", &code]).0, Some(1));
}

/// A formula by its name is compared with what it was called at the other end.
#[test]
fn a_name_is_followed_to_what_it_was_called_before() {
    let folder = repository(&[]);
    let at = folder.path();
    let renamed = PLAIN.replace("pier-loaf", "jetty-loaf").replace("74%", "75%");
    write(at, "pier-loaf.dough", &renamed);
    commit(at, "Call it Jetty Loaf");
    let (status, told) = shown(at, &["diff", "v1", "jetty-loaf"]);
    assert_eq!(status, Some(0), "{told}");
    assert!(
        told.contains("was called pier-loaf") && told.contains("hydration 74 → 75 %"),
        "{told}"
    );
    assert!(!told.contains("mole-loaf"), "{told}");
    git(at, &["tag", "mole-loaf"]);
    let (status, told) = shown(at, &["diff", "mole-loaf"]);
    assert_eq!(status, Some(2), "{told}");
    assert!(told.contains("`refs/tags/mole-loaf` is the tag"), "{told}");
    assert!(!told.contains("refs/heads"), "{told}");
}

/// A house of which each part is changed by itself.
const TURNS: &str = "bakehouse \"Quay\" { scale 1 g; room 21C; flour 19C; tap 12C; oven deck { holds 24 loaves } }\n\
    ingredient mill flour like whole wheat flour { protein 12.8%; water 12.5%; carbohydrate 70.6% }\n\
    formula quay-loaf \"Quay Loaf\" { makes 12 loaves at 900 g; dough { mill flour 100%; water 70%; \
    salt 2%; fresh yeast 1% } method { mix 8min to 25C; bulk 2h at 24C; bake 40min at 230C } }\n";

/// Whatever changed between commits, on paper or not: a code leads to exactly those commits whose print
/// had it, and a print is called current only where the one that would be printed now shows the same.
#[test]
fn a_code_leads_to_the_commits_that_printed_it_and_to_no_other() {
    let turns = [
        ("room 21C", "room 30C"),
        ("water 12.5%", "water 13%"),
        ("scale 1 g", "scale 10 g"),
        ("protein 12.8%", "protein 13.1%"),
        ("room 30C", "room 21C"),
        ("scale 10 g;", "scale 10 g; language de;"),
        ("water 13%", "water 12.5%"),
        ("water 70%", "water 71%"),
        ("scale 10 g; language de;", "scale 1 g;"),
        ("protein 13.1%", "protein 12.8%"),
    ];
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let mut text = TURNS.to_owned();
    // By commit: the code in the foot of the sheet, and all above that foot.
    let mut printed: Vec<(String, String, String)> = Vec::new();
    let sheet = || {
        let args = ["print", "quay-loaf", "--only", "sheet", "--format", "html", "--to", "-"];
        let page = out(&assize(at, &args));
        let (body, foot) = page.split_once("<footer").expect("a foot");
        let body = body.split_once("<main").expect("a page").1.to_owned();
        let code = foot.rsplit(['>', ' ']).find_map(|it| it.strip_suffix("</span></footer"));
        let code =
            code.or_else(|| foot.rsplit("· ").next().map(|it| it.split('<').next().unwrap_or("")));
        (code.expect("a code").trim().to_owned(), body)
    };
    for turn in std::iter::once(("", "")).chain(turns) {
        text = text.replacen(turn.0, turn.1, 1);
        write(at, "a.dough", &text);
        commit(at, &format!("To {}", turn.1));
        let (code, body) = sheet();
        assert_eq!(code.len(), 8, "{code}");
        printed.push((git(at, &["rev-parse", "--short=7", "HEAD"]), code, body));
    }
    let (_, _, now) = printed.last().expect("a print").clone();
    for (commit, code, body) in &printed {
        let told = out(&assize(at, &["trace", code, "--format", "json"]));
        let told: Value = serde_json::from_str(&told).expect("JSON");
        let revisions = told["formulas"][0]["revisions"].as_array().expect("revisions").iter();
        let mut found: Vec<&str> = revisions.filter_map(|it| it["revision"].as_str()).collect();
        found.reverse();
        let of_it = printed.iter().filter(|(_, other, _)| other == code);
        let wanted: Vec<&str> = of_it.map(|(commit, ..)| commit.as_str()).collect();
        assert_eq!(found, wanted, "{code} at {commit}: {told:#}");
        // With the whole foot, whatever stands before the commit.
        for foot in
            [code.clone(), format!("{commit} {code}"), format!("Quay Loaf · {commit} {code}")]
        {
            let (status, told) = shown(at, &["check", "--pinned", &foot]);
            assert_eq!(status == Some(0), *body == now, "{foot}: {told}");
            let is_named = |it: &&str| told.contains(&format!("{it} of 2026"));
            assert!(status == Some(0) || wanted.iter().any(is_named), "{foot}: {told}");
        }
        let (_, told) = shown(at, &["trace", code]);
        let is_last = wanted.contains(&printed.last().expect("a print").0.as_str());
        let has_end = told.contains("until") || told.contains(" only");
        assert_eq!(has_end, !is_last, "{told}");
    }
}

/// A sheet of a day's batch is known as such, whatever it is of and in whatever language it was asked
/// for, and only days without such a batch are named as having none.
#[test]
fn a_sheet_of_a_day_s_batch_is_known_in_every_language() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let day = |name: &str, orders: &str| {
        format!("day {name} {{ hours 00:00..24:00 with 2; order quay-loaf {orders} by 12:00 }}\n")
    };
    let house = "bakehouse \"Quay\" { scale 1 g; mixer drum { holds 1 kg..40 kg; friction 11C } oven deck \
        { decks 4; holds 24 loaves, 60 rolls } }\n\
        formula quay-loaf \"Quay Loaf\" { makes 12 loaves at 900 g, 24 rolls at 85 g; dough { bread \
        flour 100%; water 70%; salt 2%; fresh yeast 1% } method { mix 8min; bulk 2h; bake 20min for \
        rolls at 230C; bake 40min for loaves at 230C } }\n";
    let text = format!(
        "{house}{}{}",
        day("friday", "14 loaves by 12:00, 60 rolls"),
        day("saturday", "20 loaves")
    );
    write(at, "a.dough", &text);
    commit(at, "First");
    for (name, other) in [("friday", "saturday"), ("saturday", "friday")] {
        for language in ["en", "es"] {
            let args =
                ["print", name, "--only", "sheet", "--format", "html", "--language", language];
            let done = assize(at, &[&args[..], &["--to", "o"]].concat());
            assert_eq!(done.status.code(), Some(0), "{}", crate::support::err(&done));
            let files = fs::read_dir(at.join("o")).expect("a folder");
            let pages: Vec<String> = files
                .map(|it| fs::read_to_string(it.expect("a file").path()).expect("a page"))
                .collect();
            fs::remove_dir_all(at.join("o")).expect("removed");
            assert!(!pages.is_empty());
            for page in pages {
                let (_, foot) = page.rsplit_once("<footer").expect("a foot");
                let is_code = |it: &&str| {
                    it.len() == 8
                        && it.chars().all(|it| it.is_ascii_uppercase() || it.is_ascii_digit())
                };
                let mut words = foot.split(|it: char| !it.is_ascii_alphanumeric());
                let code = words.find(is_code).expect("a code");
                let (status, told) = shown(at, &["check", "--pinned", code]);
                assert_eq!(status, Some(0), "{name} {language} {code}: {told}");
                assert!(
                    !told.contains(&format!("no batch of {name}")),
                    "{name} {language}: {told}"
                );
                let says = format!("a batch of {name} has that size, none of {other}");
                assert!(told.contains(&says), "{name} {language}: {told}");
                let (_, told) = shown(at, &["trace", code]);
                assert!(told.contains("sheet in"), "{name} {language}: {told}");
                assert!(!told.contains("perhaps plan"), "{name} {language}: {told}");
            }
        }
    }
}

/// A day that orders what it did not order before has no new formulas, and one that orders it no more
/// loses none; nor is anything else told as gone or new that is there on both sides.
#[test]
fn nothing_that_is_there_on_both_sides_is_gone_or_new() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let parts: Vec<&str> = DAY.splitn(2, "day saturday").collect();
    let day = |orders: &str| {
        format!("day saturday \"Market\" {{ hours 00:00..24:00 with 2; {orders} }}\n")
    };
    let both = "order quay-loaf 12 loaves by 12:00; order mole-loaf 4 loaves by 12:00";
    write(at, "house.dough", parts[0].split_once("formula").expect("formulas").0);
    let formulas = format!("formula{}", parts[0].split_once("formula").expect("formulas").1);
    write(at, "loaves.dough", &formulas);
    let (quay, mole) = formulas.split_once("formula mole").expect("two");
    write(at, "quay.md", "");
    write(at, "days.dough", &day("order quay-loaf 12 loaves by 12:00"));
    commit(at, "First");
    write(at, "days.dough", &day(both));
    commit(at, "Second");
    write(at, "days.dough", &day("order mole-loaf 4 loaves by 12:00"));
    for args in [
        &["diff", "HEAD~1:days.dough", "HEAD:days.dough"][..],
        &["diff", "HEAD:days.dough", "HEAD~1:days.dough"],
        &["diff", "days.dough"],
        &["diff", "HEAD~1:days.dough", "days.dough"],
        &["diff", "HEAD~1", "days.dough"],
    ] {
        let (status, told) = shown(at, args);
        assert_eq!(status, Some(0), "{args:?}: {told}");
        let says = told.lines().any(|line| {
            let is_formula = line.starts_with("quay-loaf") || line.starts_with("mole-loaf");
            is_formula && (line.contains("  new") || line.contains("  gone"))
        });
        assert!(!says, "{args:?}: {told}");
        assert!(told.contains("order"), "{args:?}: {told}");
    }
    // What moves to another file is not gone from the one that is asked about.
    fs::remove_file(at.join("loaves.dough")).expect("removed");
    write(at, "quay.dough", quay);
    write(at, "mole.dough", &format!("formula mole{mole}"));
    for args in [&["diff", "quay.dough", "mole-loaf"][..], &["diff", "quay-loaf", "mole.dough"]] {
        let (status, told) = shown(at, args);
        assert_eq!(status, Some(0), "{args:?}: {told}");
        assert!(told.contains("quay-loaf → mole-loaf"), "{args:?}: {told}");
        let is_lost = |line: &str| line.contains("loaf  gone") || line.contains("loaf  new");
        assert!(!told.lines().any(is_lost), "{args:?}: {told}");
    }
    let (status, told) = shown(at, &["diff", "HEAD:loaves.dough", "mole-loaf"]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.starts_with("no change in meaning"), "{told}");
    let (_, told) = shown(at, &["diff", "quay-loaf", "quay.dough"]);
    assert!(told.starts_with("no change in meaning"), "{told}");
    let (status, told) = shown(at, &["diff", "house.dough", "mole-loaf"]);
    assert_eq!(status, Some(2), "{told}");
}

/// What a commit changed is told of that commit and of no other: of settings, of the formula, and of a
/// formula that was taken away.
#[test]
fn a_history_gives_each_commit_its_own() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let text = DAY.replace("bulk 2h;", "bulk 2h at 24C;");
    let turn = |from: &str, to: &str| {
        let text = fs::read_to_string(at.join("a.dough")).expect("readable");
        assert!(text.contains(from), "{from}");
        write(at, "a.dough", &text.replacen(from, to, 1));
        commit(at, &format!("To {to}"));
    };
    write(at, "a.dough", &text);
    commit(at, "One");
    turn("scale 1 g;", "scale 1 g; units metric and US;");
    turn("salt 2%", "salt 1.5%");
    turn("scale 1 g; units metric and US;", "scale 1 g;");
    turn("water 70%", "water 71%");
    let told = out(&assize(at, &["history", "quay-loaf", "--format", "json"]));
    let told: Value = serde_json::from_str(&told).expect("JSON");
    let rows = told["rows"].as_array().expect("rows");
    assert_eq!(rows.len(), 3, "{told:#}");
    for row in rows {
        let subject = row["subject"].as_str().expect("a subject");
        let all = row["sheet"].to_string() + &row["moved"].to_string();
        assert!(
            !all.contains("°F") || subject == "One" || !all.contains("→"),
            "{subject}: {row:#}"
        );
        for line in row["sheet"].as_array().expect("lines") {
            let is_both = |field: &str| line[field].as_str().unwrap_or_default().contains("°F");
            assert_eq!(is_both("old"), is_both("new"), "{subject}: {line:#}");
        }
    }
    // It is taken away, and a branch from before that is merged later.
    git(at, &["branch", "side"]);
    let text = fs::read_to_string(at.join("a.dough")).expect("readable");
    let kept = text.split_once("formula mole-loaf").expect("a formula").0.to_owned();
    write(at, "a.dough", &kept);
    commit(at, "Mole gone");
    let wanted = git(at, &["rev-parse", "--short=7", "HEAD"]);
    git(at, &["checkout", "-q", "side"]);
    write(at, "notes.md", "Other words.\n");
    commit(at, "Beside it");
    git(at, &["checkout", "-q", "-"]);
    git(at, &["merge", "-q", "--no-edit", "side"]);
    write(at, "more.md", "More words.\n");
    commit(at, "After it");
    let (_, told) = shown(at, &["history", "mole-loaf"]);
    assert!(told.contains(&wanted) && told.contains("Mole gone"), "{told}");
}

/// Of a clone in which something is missing that is said, and nothing that is here is denied.
#[test]
fn a_clone_that_lacks_something_says_so() {
    let folder = folder();
    let at = folder.path();
    let from = at.join("from");
    fs::create_dir(&from).expect("made");
    git(&from, &["init", "-q"]);
    git(&from, &["config", "uploadpack.allowFilter", "true"]);
    write(&from, "a.dough", DAY);
    commit(&from, "First");
    let (_, old) = foot(&from, "quay-loaf");
    write(&from, "a.dough", &DAY.replace("water 70%", "water 71%"));
    commit(&from, "Second");
    let (_, new) = foot(&from, "quay-loaf");
    let url = format!("file://{}", from.display());
    for (kind, words, help) in [
        ("--depth=1", "shallow clone", "--unshallow"),
        ("--filter=blob:none", "partial clone", "--refetch"),
    ] {
        let to = at.join(kind.trim_start_matches('-').replace([':', '='], "-"));
        git(at, &["clone", "-q", kind, &url, &to.display().to_string()]);
        for args in [&["check", "--pinned", &new][..], &["trace", &new], &["show", "quay-loaf"]] {
            let (status, told) = shown(&to, args);
            assert_eq!(status, Some(0), "{kind} {args:?}: {told}");
        }
        for args in [
            &["check", "--pinned", &old][..],
            &["check", "--pinned", &old, "--format", "json"],
            &["trace", &old],
            &["diff", "HEAD~1"],
            &["diff", "HEAD~1", "--format", "json"],
        ] {
            let (status, told) = shown(&to, args);
            let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
            assert_ne!(status, Some(0), "{kind} {args:?}: {told}");
            assert!(told.contains(words) && told.contains(help), "{kind} {args:?}: {told}");
            assert!(
                !told.contains("permissions") && !told.contains("git fsck"),
                "{args:?}: {told}"
            );
            assert!(!told.contains("misread"), "{args:?}: {told}");
        }
    }
}

/// Errors of days and booklets are told as those of formulas are, and what a part that can't be read may
/// hold is not gone.
#[test]
fn errors_of_days_and_booklets_are_told() {
    let booklet = "booklet lesson \"Lesson\" { card quay-loaf; card mole-loaf }\n";
    let whole = format!("{DAY}{booklet}");
    for (from, to, told, not) in [
        ("12 loaves by 12:00 }", "12 loaves }", "new error", "gone"),
        ("12 loaves by 12:00 }", "12 crumpets by 12:00 }", "new error", "gone"),
        ("card mole-loaf }", "card molloaf }", "new error", "no change"),
        ("card mole-loaf }", "card }", "new error", "gone"),
    ] {
        assert!(whole.contains(from), "{from}");
        let folder = folder();
        let at = folder.path();
        write(at, "old/a.dough", &whole);
        write(at, "new/a.dough", &whole.replace(from, to));
        let (_, said) = shown(at, &["diff", "old", "new"]);
        assert!(said.contains(told), "{to}: {said}");
        let of_it: Vec<&str> =
            said.lines().filter(|it| it.contains("lesson") || it.contains("saturday")).collect();
        assert!(!of_it.iter().any(|line| line.contains(not)), "{to}: {said}");
        let (_, said) = shown(at, &["diff", "new", "old"]);
        assert!(said.contains("no longer an error"), "{to}: {said}");
        let json = out(&assize(at, &["diff", "old", "new", "--format", "json"]));
        let json: Value = serde_json::from_str(&json).expect("JSON");
        let shared = json["shared"].as_array().expect("shared");
        let has_errors = |it: &Value| it["errors"].as_array().is_some_and(|it| !it.is_empty());
        assert!(shared.iter().any(has_errors), "{to}: {json:#}");
    }
    // A formula that a booklet names goes: the booklet says what it said, and has an error.
    let folder = folder();
    let at = folder.path();
    write(at, "old/a.dough", &whole);
    let (before, rest) = whole.split_once("formula mole-loaf").expect("a formula");
    let (_, after) = rest.split_once("day saturday").expect("a day");
    write(at, "new/a.dough", &format!("{before}day saturday{after}"));
    let (_, said) = shown(at, &["diff", "old", "new"]);
    assert!(said.contains("booklet lesson  new error"), "{said}");
}

/// Of what can be read in part nothing that it rests on is told as a cause, and the formula that is based
/// on it is not the one that can't be read.
#[test]
fn what_can_t_be_read_is_told_where_it_stands() {
    let text = "bakehouse \"Quay\" { scale 1 g }\n\
        ingredient mill flour like bread flour { protein 12% }\n\
        formula pier-loaf \"Pier\" {\n  makes 4 loaves at 900 g\n  total { mill flour 100%; water 70%; salt 2%; \
        fresh yeast 1% }\n}\n\
        formula tide-loaf \"Tide\" from pier-loaf {\n  total { water 72% }\n}\n";
    let folder = folder();
    let at = folder.path();
    write(at, "old/a.dough", text);
    for broken in
        ["total mill flour 100%", "total { mill flour 100%; ;;; water", "total { mill flour 1oo%"]
    {
        write(at, "new/a.dough", &text.replacen("total { mill flour 100%", broken, 1));
        let (_, told) = shown(at, &["diff", "old", "new"]);
        let line = |name: &str| told.lines().find(|it| it.starts_with(name)).unwrap_or_default();
        assert!(!line("pier-loaf").contains("by ingredient"), "{broken}: {told}");
        if line("pier-loaf").contains("part of it can't be read") {
            assert!(!line("tide-loaf").contains("part of it can"), "{broken}: {told}");
        }
    }
}

/// What is staged is compared with one revision, of all or of one thing; exit codes are those of what is
/// shown; a formula that is called anew and not committed yet is found by its former name.
#[test]
fn what_is_asked_of_a_diff_is_what_is_told() {
    let folder = repository(&[]);
    let at = folder.path();
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    write(at, "mole-loaf.dough", &loaf.replace("water 70%", "water 72%"));
    git(at, &["add", "-A"]);
    let (status, told) = shown(at, &["diff", "--staged", "HEAD~1..HEAD"]);
    assert_eq!(status, Some(2), "{told}");
    for args in [
        &["diff", "--staged"][..],
        &["diff", "--staged", "HEAD"],
        &["diff", "--staged", "HEAD", "mole-loaf"],
    ] {
        let (status, told) = shown(at, &[args, &["--exit-code"]].concat());
        assert_eq!(status, Some(1), "{args:?}: {told}");
        assert!(told.contains("mole-loaf"), "{args:?}: {told}");
    }
    let (status, told) = shown(at, &["diff", "--staged", "HEAD", "pier-loaf", "--exit-code"]);
    assert_eq!(status, Some(0), "{told}");
    commit(at, "Water");
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    write(at, "mole-loaf.dough", &loaf.replace("formula mole-loaf", "formula quarry-loaf"));
    let (status, told) = shown(at, &["diff", "mole-loaf"]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("was called mole-loaf"), "{told}");
    write(at, "mole-loaf.dough", &loaf.replace("water 72%", "water 72%; # a note\n"));
    for view in ["--sheets", "--numbers"] {
        let (status, told) = shown(at, &["diff", view, "--exit-code"]);
        let is_nothing =
            told.contains("no line of a sheet changed") || told.contains("no number changed");
        assert_eq!(status == Some(0), is_nothing, "{view}: {told}");
    }
    let (status, told) = shown(at, &["history", "mole-loaf", "--figures", "hydratoin"]);
    assert_eq!(status, Some(2), "{told}");
    assert!(told.contains("did you mean `hydration`"), "{told}");
}
