//! Who uses a thing, and what a formula rests on: each the mirror of the other.

use crate::support::{assize, err, folder, out, over, top};
use assize::testing::desk::{self, Disk, load};
use assize::testing::formula::{Allergen, work};
use assize::testing::quantity::{Exact, display::read_exact};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

fn uses(folder: &Path, args: &[&str]) -> Value {
    let args = [&["uses"], args, &["--format", "json"]].concat();
    let done = assize(folder, &args);
    assert_eq!((done.status.code(), err(&done)), (Some(0), String::new()), "{args:?}");
    let told: Value = serde_json::from_str(&out(&done)).expect("JSON");
    let schema: Value =
        serde_json::from_str(&assize::testing::history::uses::schema()).expect("a schema");
    let schema = jsonschema::validator_for(&schema).expect("a sound schema");
    assert!(schema.is_valid(&told), "{told:#}");
    told
}

/// Names of a tree with their kinds and grams.
fn names(parts: &Value, found: &mut BTreeMap<(String, String), Option<String>>) {
    for part in parts.as_array().expect("parts") {
        let word = |field: &str| part[field].as_str().map(str::to_owned);
        let key = (word("kind").expect("a kind"), word("name").expect("a name"));
        let grams = found.entry(key).or_default();
        *grams = grams.take().or_else(|| word("grams"));
        names(&part["parts"], found);
    }
}

/// A day that begins with another one bakes what that one bakes, but for what it takes out.
#[test]
fn a_day_rests_on_what_the_day_that_it_begins_with_bakes() {
    let folder = folder();
    crate::diff::write(
        folder.path(),
        "house.dough",
        "bakehouse \"Quay\" { scale 1 g }\n\
         formula tide-loaf { makes 4 loaves at 800 g; dough { bread flour 100%; water 70%; salt 2%; \
         sesame seeds 5%; fresh yeast 1% } method { mix 8min; bulk 2h; bake 40min at 230C } }\n\
         formula quay-loaf { makes 4 loaves at 800 g; dough { bread flour 100%; water 70%; salt 2%; \
         fresh yeast 1% } method { mix 8min; bulk 2h; bake 40min at 230C } }\n\
         day saturday { order tide-loaf 4 loaves by 08:00; order quay-loaf 4 loaves by 08:00 }\n\
         day 2026-12-05 from saturday { order quay-loaf 8 loaves by 08:00 }\n\
         day 2026-12-12 from saturday { without tide-loaf }\n",
    );
    for (day, has) in [("saturday", true), ("2026-12-05", true), ("2026-12-12", false)] {
        let told = uses(folder.path(), &["--of", day]);
        let mut found = BTreeMap::new();
        names(&told["uses"][0]["parts"], &mut found);
        let key = |kind: &str, name: &str| (kind.to_owned(), name.to_owned());
        assert!(found.contains_key(&key("formula", "quay-loaf")), "{day}: {told:#}");
        assert_eq!(found.contains_key(&key("formula", "tide-loaf")), has, "{day}: {told:#}");
        assert_eq!(found.contains_key(&key("ingredient", "sesame seeds")), has, "{day}: {told:#}");
        assert_eq!(told["formulas"], if has { 2 } else { 1 }, "{day}: {told:#}");
    }
}

#[test]
fn what_a_formula_rests_on_is_used_by_it_and_nothing_else_is() {
    let house = top().join("examples/gullhaven");
    let loaded = load(&Disk, &house, std::slice::from_ref(&house));
    let bakehouses = desk::bakehouses(&loaded);
    let formulas = || loaded.files().iter().flat_map(|file| &file.tree.formulas);
    // By formula: kind, name and grams of all it rests on.
    let mut rests = BTreeMap::new();
    for formula in formulas() {
        let told = uses(&house, &["--of", &formula.name.key]);
        let mut found = BTreeMap::new();
        names(&told["uses"][0]["parts"], &mut found);
        rests.insert(formula.name.key.to_string(), found);
    }
    let all: BTreeSet<&(String, String)> = rests.values().flat_map(BTreeMap::keys).collect();
    assert!(all.len() > 40, "{}", all.len());
    for asked in all {
        let told = uses(&house, &[&asked.1]);
        let mut users = BTreeMap::new();
        // A style may be called like an allergen.
        let roots = told["uses"].as_array().expect("roots").iter();
        for root in roots.filter(|it| it["kind"] != "allergen") {
            names(&root["parts"], &mut users);
        }
        let is_formula = |(kind, _): &&(String, String)| kind == "formula";
        let users: BTreeMap<&str, Option<&str>> = users
            .iter()
            .filter(|(key, _)| is_formula(key))
            .map(|((_, name), grams)| (name.as_str(), grams.as_deref()))
            .collect();
        let resting: BTreeSet<&str> = rests
            .iter()
            .filter(|(_, found)| found.keys().any(|(_, name)| *name == asked.1))
            .map(|(formula, _)| formula.as_str())
            .collect();
        assert_eq!(users.keys().copied().collect::<BTreeSet<_>>(), resting, "{asked:?}");
        for (formula, grams) in users {
            if let Some(Some(own)) = rests[formula].get(asked) {
                assert_eq!(grams, Some(own.as_str()), "{asked:?} in {formula}");
            }
        }
    }
    // What a formula holds, found by other code: everything that allergens are looked up of.
    let mut held = 0;
    for formula in formulas() {
        let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
        for ingredient in worked.ingredients() {
            let name = ("ingredient".to_owned(), ingredient.name.shown.to_string());
            assert!(rests[formula.name.key.as_str()].contains_key(&name), "{name:?}");
            held += 1;
        }
    }
    assert!(held > 80, "{held}");
}

const HOUSE: &str = "\
bakehouse \"Gullhaven Bakehouse\" { scale 1 g; mixer drum { holds 1 kg..9 kg }; oven deck { holds 40 loaves }; proofer { holds 9 boards } }
tin long { holds 2.4 l; greased with butter }
ingredient pier flour like bread flour
culture dock culture { pier flour 100%; water 100% }
preferment quay levain { pier flour 100%; water 100%; dock culture 20%; ripens 8h at 22C; keeps 3h }
mixture wash { whole egg 9 parts; whole milk 1 part }
style plain bread { salt 1%..3% }
formula pier-loaf \"Pier Loaf\" {
  style plain bread
  makes 10 loaves at 800 g in long
  dough { pier flour 100%; water 70%; salt 2.5%; quay levain 25% }
  piece { wash 10 g }
  method { mix 8min; proof 2h at 28C; bake 30min at 230C }
}
formula mole-loaf \"Mole Loaf\" from pier-loaf { makes 5 loaves at 800 g }
formula tray \"Tray\" {
  makes 2 trays
  piece { pier-loaf 400 g; water 10 g }
}
";

#[test]
fn amounts_are_those_of_what_each_formula_makes_and_go_through_everything() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), HOUSE).expect("written");
    let grams = |name: &str, formula: &str| {
        let told = uses(folder.path(), &[name]);
        let mut found = BTreeMap::new();
        names(&told["uses"][0]["parts"], &mut found);
        let key = ("formula".to_owned(), formula.to_owned());
        found.get(&key).map(|grams| grams.as_deref().and_then(read_exact))
    };
    let int = |value: i64| Exact::from(value);
    // 10 loaves are 8 kg of dough, of whose 197.5 parts 25 are levain.
    let levain = over(int(8000), int(79)) * int(10);
    assert_eq!(grams("quay levain", "pier-loaf"), Some(Some(levain.clone())));
    assert_eq!(grams("quay levain", "mole-loaf"), Some(Some(over(&levain, int(2)))));
    // Of 220 parts of levain 20 are culture.
    assert_eq!(grams("dock culture", "pier-loaf"), Some(Some(over(levain, int(11)))));
    assert_eq!(grams("wash", "pier-loaf"), Some(Some(int(100))));
    assert_eq!(grams("whole egg", "pier-loaf"), Some(Some(int(90))));
    assert_eq!(grams("pier-loaf", "tray"), Some(Some(int(800))));
    // What has no weight is used all the same.
    for (name, formula) in [
        ("plain bread", "pier-loaf"),
        ("long", "pier-loaf"),
        ("butter", "pier-loaf"),
        ("bread flour", "pier-loaf"),
        ("drum", "pier-loaf"),
        ("deck", "pier-loaf"),
        ("proofer", "pier-loaf"),
        ("pier-loaf", "mole-loaf"),
        ("dock culture", "tray"),
    ] {
        assert!(grams(name, formula).is_some(), "{name} in {formula}");
    }
    assert_eq!(grams("dark rye flour", "pier-loaf"), None);
}

/// What comes in several ways is told as all of it; a formula rests on what its base has but for
/// what it leaves out, with amounts; and a day or a booklet rests on what it prints.
#[test]
fn amounts_are_of_the_whole_and_bases_and_days_are_told() {
    let folder = folder();
    let more = "formula dark-loaf \"Dark Loaf\" from pier-loaf { dough { without salt; dark rye flour 10% } }\n\
                day saturday \"Market\" { order dark-loaf 10 loaves by 09:00 }\n";
    fs::write(folder.path().join("a.dough"), format!("{HOUSE}{more}")).expect("written");
    let text = |args: &[&str]| {
        let done = assize(folder.path(), &[&["uses"], args].concat());
        assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
        out(&done)
    };
    let water = text(&["water"]);
    assert!(water.contains("pier-loaf: 3.342 kg in all for 10 loaves"), "{water}");
    let butter = text(&["butter"]);
    assert!(!butter.contains("in all"), "{butter}");
    let dark = text(&["--of", "dark-loaf"]);
    let own: Vec<&str> = dark.lines().filter(|it| it.starts_with(['├', '└'])).collect();
    for (name, has_amount) in
        [("dark rye flour", true), ("pier flour", true), ("water", true), ("quay levain", true)]
    {
        let line = own.iter().find(|line| line.contains(name));
        let line = line.unwrap_or_else(|| panic!("{name} in {dark}"));
        assert_eq!(line.contains(": "), has_amount, "{line}");
    }
    assert!(!own.iter().any(|line| line.contains("ingredient salt")), "{dark}");
    assert!(own.iter().any(|line| line.contains("proofer")), "{dark}");
    let day = text(&["--of", "saturday"]);
    assert!(day.starts_with("day saturday"), "{day}");
    assert!(day.contains("└─ dark-loaf") && day.contains("stage quay levain"), "{day}");
}

#[test]
fn the_text_is_exact_and_an_unknown_name_is_a_slip() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), HOUSE).expect("written");
    let done = assize(folder.path(), &["uses", "dock", "culture"]);
    assert_eq!(
        out(&done),
        "culture dock culture  [a.dough:4]\n\
         └─ stage quay levain  [a.dough:5]\n\
         \u{a0}\u{a0} └─ pier-loaf: 92 g for 10 loaves at 800 g  [a.dough:8]\n\
         \u{a0}\u{a0}    ├─ mole-loaf: 46 g for 5 loaves at 800 g  [a.dough:15]\n\
         \u{a0}\u{a0}    └─ tray  [a.dough:16]\n\
         3 formulas\n"
            .replace('\u{a0}', " ")
    );
    let done = assize(folder.path(), &["uses", "dock", "cultura"]);
    assert_eq!(done.status.code(), Some(2));
    assert_eq!(
        (out(&done), err(&done)),
        (
            String::new(),
            "assize: nothing here is called `dock cultura`; did you mean `dock culture`?\n"
                .to_owned()
        )
    );
    let done = assize(folder.path(), &["uses"]);
    assert_eq!(done.status.code(), Some(2), "a name is asked for");
}

/// Whoever asks for an allergen is told of every formula that can't be claimed to be free from it,
/// and of no other.
#[test]
fn an_allergen_leads_to_every_formula_that_is_not_free_from_it() {
    let top = top().join("examples/gullhaven");
    let own = "ingredient barrow crumble is a grain { water 10% }\n\
        formula barrow-loaf \"Barrow Loaf\" { makes 2 loaves at 800 g; total { bread flour 100%; water \
        65%; salt 2%; fresh yeast 1%; barrow crumble 5% } }\n\
        formula ferry-ring \"Ferry Ring\" { makes 2 rings at 80 g; dough { bread flour 100%; water 60%; \
        salt 2%; fresh yeast 2% } method { mix 8min; divide; shape; proof 45min; fry 4min at 175C } }\n";
    let house = folder();
    for file in fs::read_dir(&top).expect("listed").map(|file| file.expect("an entry").path()) {
        let name = file.file_name().expect("a name").to_owned();
        if name.to_string_lossy().ends_with(".dough") {
            fs::copy(&file, house.path().join(name)).expect("copied");
        }
    }
    crate::diff::write(house.path(), "barrow.dough", own);
    let allergens: Vec<&str> = Allergen::all().map(Allergen::key).collect();
    let told: Vec<BTreeMap<(String, String), Option<String>>> = allergens
        .iter()
        .map(|allergen| {
            let told = uses(house.path(), &[allergen]);
            let roots = told["uses"].as_array().expect("trees");
            let root = roots.iter().find(|it| it["kind"] == "allergen").expect("one of its own");
            let mut found = BTreeMap::new();
            names(&root["parts"], &mut found);
            found
        })
        .collect();
    let claims: Vec<String> = allergens.iter().map(|it| format!("free from {it}")).collect();
    let claims = claims.join("\n");
    let mut tried = 0;
    for file in fs::read_dir(house.path()).expect("listed").map(|it| it.expect("an entry").path()) {
        let text = fs::read_to_string(&file).expect("readable");
        let heads: Vec<(usize, &str)> = text
            .match_indices("formula ")
            .filter(|(at, _)| *at == 0 || text[..*at].ends_with('\n'))
            .filter_map(|(at, _)| Some((at, text[at..].split_whitespace().nth(1)?)))
            .collect();
        for (at, name) in &heads {
            let end = heads.iter().map(|(at, _)| *at).find(|it| it > at).unwrap_or(text.len());
            let own = text[*at..end].find("expect {").map(|it| at + it + "expect {".len());
            let open = at + text[*at..].find('{').expect("a block") + 1;
            let claimed = match own {
                Some(own) => format!("{}\n{claims}\n{}", &text[..own], &text[own..]),
                None => format!("{}\n  expect {{ {claims} }}\n{}", &text[..open], &text[open..]),
            };
            fs::write(&file, claimed).expect("written");
            let done = assize(house.path(), &["check", "--format", "json"]);
            let report: Value = serde_json::from_str(&out(&done)).expect("JSON");
            let found = report["findings"].as_array().expect("a list");
            let of_claims = |it: &&Value| {
                it["formula"] == *name
                    && (it["name"] == "claim-refuted" || it["name"] == "claim-not-proved")
            };
            let messages: Vec<String> =
                found.iter().filter(of_claims).map(|it| it["message"].to_string()).collect();
            for (allergen, told) in allergens.iter().zip(&told) {
                let refused =
                    messages.iter().any(|it| it.contains(&format!("free from {allergen},")));
                let is_told = told.contains_key(&("formula".to_owned(), (*name).to_owned()));
                assert_eq!(refused, is_told, "{name}, {allergen}: {messages:?}\n{told:?}");
                tried += 1;
            }
        }
        fs::write(&file, text).expect("written");
    }
    assert!(tried > 600, "{tried}");
}

/// However far formulas are from what they are made of, and in however many ways they lead there, all
/// are told, counted, and named at a place where all that belongs to them stands.
#[test]
fn nothing_is_left_out_of_a_deep_or_a_wide_tree() {
    let plain =
        "makes 8 loaves at 400 g; dough { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }";
    let chain = |count: usize| {
        let rest = (1..count).map(|at| {
            format!(
                "formula q{at} \"Q{at}\" from q{} {{ dough {{ water {}% }} }}\n",
                at - 1,
                60 + at % 17
            )
        });
        format!("formula q0 \"Q0\" {{ {plain} }}\n{}", rest.collect::<String>())
    };
    // Each mixture is made of the two before it: the ways from the first to the last double.
    let lattice = |count: usize| {
        let rest = (2..count)
            .map(|at| format!("mixture m{at} {{ m{} 1 part; m{} 1 part }}\n", at - 1, at - 2));
        let last = count - 1;
        format!(
            "mixture m0 {{ sesame seeds 1 part; poppy seeds 1 part }}\nmixture m1 {{ m0 1 part; \
             poppy seeds 1 part }}\n{}formula top-loaf \"Top\" {{ makes 8 loaves at 400 g; dough {{ \
             bread flour 100%; water 70%; salt 2%; fresh yeast 1%; m{last} 5% }} }}\n",
            rest.collect::<String>()
        )
    };
    fn whole(parts: &Value, grown: &mut BTreeSet<String>, cut: &mut BTreeSet<String>) {
        for part in parts.as_array().expect("parts") {
            let name = part["name"].as_str().expect("a name").to_owned();
            match part["continued"].as_str() {
                Some("elsewhere") => cut.insert(name),
                None | Some("from elsewhere") => grown.insert(name),
                other => panic!("{other:?}"),
            };
            whole(&part["parts"], grown, cut);
        }
    }
    for (text, asked, formulas, of) in [
        (chain(100), "q0", 99, "q31"),
        (chain(100), "bread flour", 100, "q31"),
        (chain(100), "wheat", 100, "q31"),
        (chain(20), "q0", 19, "q19"),
        (lattice(16), "sesame seeds", 1, "top-loaf"),
        (lattice(16), "m0", 1, "top-loaf"),
    ] {
        let folder = folder();
        fs::write(folder.path().join("a.dough"), format!("bakehouse \"Quay\" {{}}\n{text}"))
            .expect("written");
        for args in [&[asked][..], &["--of", of]] {
            let told = uses(folder.path(), args);
            let is_of = args.len() == 2;
            let wanted = if is_of { 1 } else { formulas };
            assert_eq!(told["formulas"], wanted, "{args:?}");
            let (mut grown, mut cut) = (BTreeSet::new(), BTreeSet::new());
            for root in told["uses"].as_array().expect("roots") {
                whole(&root["parts"], &mut grown, &mut cut);
            }
            let lost: Vec<&String> = cut.difference(&grown).collect();
            assert!(lost.is_empty(), "{args:?}: {lost:?}");
            let named =
                grown.iter().filter(|name| name.starts_with('q') || name.starts_with("top"));
            assert!(is_of || named.count() == formulas, "{args:?}: {grown:?}");
            let lines = out(&assize(folder.path(), &[&["uses"], args].concat())).lines().count();
            assert!(lines < 20_000, "{args:?}: {lines}");
            assert!(!is_of || lines > 20, "{args:?}: {lines}");
        }
    }
}
