//! Codes in the feet of prints, where they lead to, and the history of a formula.

use crate::diff::{RICH, commit, git, numbers, repository, write};
use crate::support::{Memory, PLAIN, assize, err, folder, out};
use assize::testing::desk::{self, Kept, load, load_beside};
use assize::testing::formula::work;
use assize::testing::history::{self, ComparedSide, compare, compare_beside};
use assize::testing::print::{Wording, document, json};
use assize::testing::source::SourceId;
use assize::testing::syntax::format;
use rayon::prelude::*;
use rustc_hash::FxHashSet;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// All that the code of each formula's sheet and card is made of but how they are asked for: the
/// five letters, and what the house makes of the prints.
fn codes_of_formulas(bakehouse: &desk::Bakehouse) -> Vec<(String, String)> {
    let effects: BTreeMap<String, String> = history::effects(bakehouse).into_iter().collect();
    let codes = history::codes(bakehouse).into_iter();
    codes.map(|(key, code)| (key.clone(), format!("{code}{}", effects[&key]))).collect()
}

/// The code of each formula of a text, and all that its prints show.
fn printed(text: &str) -> BTreeMap<String, (String, String)> {
    let files = Memory::with(&[("/x/a.dough", text)]);
    let loaded = load(&files, Path::new("/x"), &[PathBuf::from("/x/a.dough")]);
    let bakehouses = desk::bakehouses(&loaded);
    let mut all = BTreeMap::new();
    for bakehouse in &bakehouses {
        for (key, code) in codes_of_formulas(bakehouse) {
            let formulas = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
            let formula = formulas.into_iter().find(|it| it.name.key == key).expect("it is there");
            let worked = work(&bakehouse.house, formula, &mut Vec::new());
            let shown = json(&document(&bakehouse.house, &worked, &Wording::plain(), true));
            all.insert(key, (code, shown));
        }
    }
    all
}

#[test]
fn whatever_a_print_shows_changes_its_code_and_layout_does_not() {
    let before = printed(RICH);
    assert_eq!(before.len(), 2);
    let formatted = format(SourceId::default(), RICH).expect("it is sound");
    let after = printed(&formatted);
    for (key, (code, _)) in &before {
        assert_eq!(code, &after[key].0, "{key}");
    }
    let mut changed = 0;
    for (start, end) in numbers(RICH) {
        let number: f64 = RICH[start..end].parse().expect("a number");
        let text = format!("{}{}{}", &RICH[..start], number + 1.0, &RICH[end..]);
        for (key, (code, shown)) in printed(&text) {
            let (old_code, old_shown) = &before[&key];
            if shown != *old_shown {
                assert_ne!(
                    code,
                    *old_code,
                    "{key}: {}",
                    &text[start.saturating_sub(60)..start + 4]
                );
                changed += 1;
            }
        }
    }
    assert!(changed > 60, "{changed}");
}

/// The files of the example house, by their names.
fn example_house() -> BTreeMap<String, String> {
    let house = crate::support::top().join("examples/gullhaven");
    let mut files = BTreeMap::new();
    for entry in fs::read_dir(house).expect("listed") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|it| it == "dough") {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            files.insert(name, fs::read_to_string(path).expect("readable"));
        }
    }
    files
}

/// The example house with one of its files as another text.
fn house_with(files: &BTreeMap<String, String>, name: &str, text: &str) -> desk::Loaded {
    let files: Vec<(String, &str)> = files
        .iter()
        .map(|(known, own)| {
            (format!("/x/{known}"), if known == name { text } else { own.as_str() })
        })
        .collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (&**path, *text)).collect();
    load(&Memory::with(&files), Path::new("/x"), &[PathBuf::from("/x")])
}

/// The codes of all that a house prints, and all that the prints of its formulas show.
#[derive(Debug, PartialEq)]
struct Prints {
    codes: BTreeMap<String, String>,
    handouts: BTreeMap<String, String>,
    shown: BTreeMap<String, String>,
}

fn prints_of(bakehouses: &[desk::Bakehouse]) -> Prints {
    let codes = bakehouses.iter().flat_map(codes_of_formulas).collect();
    let handouts = bakehouses.iter().flat_map(history::codes_of_handouts).collect();
    let mut shown = BTreeMap::new();
    for bakehouse in bakehouses {
        for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = work(&bakehouse.house, formula, &mut Vec::new());
            let document = document(&bakehouse.house, &worked, &Wording::plain(), true);
            shown.insert(formula.name.key.to_string(), json(&document));
        }
    }
    Prints { codes, handouts, shown }
}

#[test]
fn in_the_example_house_layout_changes_no_code() {
    let files = example_house();
    let codes = |name: &str, text: &str| {
        let loaded = house_with(&files, name, text);
        let prints = prints_of(&desk::bakehouses(&loaded));
        (prints.codes, prints.handouts)
    };
    let before = codes("", "");
    assert!(before.0.len() > 12 && before.1.len() > 2, "{before:?}");
    let mut laid_out = 0;
    for (name, text) in &files {
        // Wider, and all of it laid out again.
        let wide = text.replace("  ", "   ");
        let formatted = format(SourceId::default(), &wide).expect("it is sound");
        for text in [wide, formatted] {
            assert_eq!(codes(name, &text), before, "{name}");
            laid_out += 1;
        }
    }
    assert!(laid_out > 30, "{laid_out}");
}

/// The place of a number in the example house, and the text with another one there.
struct Edit<'f> {
    name: &'f str,
    line: String,
    text: String,
    is_comment: bool,
}

/// Every number of the example house changed by itself: by one, by a tenth of itself, or to
/// ten times as much, in turn.
fn edits(files: &BTreeMap<String, String>) -> Vec<Edit<'_>> {
    let mut all = Vec::new();
    for (name, text) in files {
        for (start, end) in numbers(text) {
            let written = &text[start..end];
            let Ok(number) = written.parse::<f64>() else { continue };
            let other = match all.len() % 3 {
                0 => format!("{}", number + 1.0),
                1 if number >= 1.0 && !written.starts_with('0') => {
                    format!("{}", (number * 110.0).round() / 100.0)
                }
                _ => format!("{written}0"),
            };
            let begins = text[..start].rfind('\n').map_or(0, |it| it + 1);
            let line = text[begins..].lines().next().unwrap_or_default().trim().to_owned();
            let text = format!("{}{other}{}", &text[..start], &text[end..]);
            let line = format!("{name}: {line}: {written} for {other}");
            let is_comment = text[begins..].trim_start().starts_with('#');
            all.push(Edit { name, line, text, is_comment });
        }
    }
    all
}

/// The files that a change of one of them can matter to: of what formulas share, of booklets
/// and of days all; of a formula those that are based on it.
fn concerned(files: &BTreeMap<String, String>, name: &str) -> BTreeMap<String, String> {
    let formula = name.trim_end_matches(".dough");
    if !files[name].contains(&format!("formula {formula} ")) {
        return files.clone();
    }
    let is_concerned = |known: &str, text: &str| {
        known == name || known == "bakehouse.dough" || text.contains(&format!(" from {formula} "))
    };
    let all = files.iter().filter(|(known, text)| is_concerned(known, text));
    all.map(|(known, text)| (known.clone(), text.clone())).collect()
}

/// What an owner does: one number is changed somewhere, and whatever is another on any print
/// then has another code, and `diff` tells of it. All 933 numbers; in a build that is not
/// optimised every ninth, unless `ASSIZE_ALL_NUMBERS` is set.
#[test]
fn every_number_of_the_example_house_that_a_print_shows_is_in_its_code_and_in_a_diff() {
    let files = example_house();
    let all = edits(&files);
    assert!(all.len() > 900, "{}", all.len());
    let is_quick = cfg!(debug_assertions) && std::env::var_os("ASSIZE_ALL_NUMBERS").is_none();
    let tried: Vec<&Edit> = all.iter().step_by(if is_quick { 9 } else { 1 }).collect();
    let mut told: Vec<usize> = Vec::new();
    let mut slips: Vec<String> = Vec::new();
    for name in files.keys() {
        let files = concerned(&files, name);
        let loaded = house_with(&files, "", "");
        let before = desk::bakehouses(&loaded);
        let was = prints_of(&before);
        let of_file = tried.par_iter().filter(|edit| edit.name == *name);
        let looked: Vec<(usize, Vec<String>)> =
            of_file.map(|edit| changed_by(edit, &files, &before, &was)).collect();
        for (changed, found) in looked {
            told.push(changed);
            slips.extend(found);
        }
    }
    assert_eq!(told.len(), tried.len());
    assert!(slips.is_empty(), "{} slips:\n{}", slips.len(), slips.join("\n"));
    let (prints, edits) = (told.iter().sum::<usize>(), told.iter().filter(|it| **it > 0).count());
    println!("{} of {} numbers changed, {edits} of them {prints} prints", tried.len(), all.len());
    assert!(edits * 2 > tried.len(), "{edits} of {}", tried.len());
}

/// What a formula says of how it is made, so that it is in the five letters, though the prints
/// of the example house happen to round it away: words of its line, and why.
const KEPT_IN_CODES: [(&str, &str); 6] = [
    ("water             12.4%", "of bench flour, which only dusts these breads"),
    ("sodium             1 mg", "of bench flour too"),
    ("water              2%", "of nuts, which is no water of the dough"),
    ("makes      24 loaves at 900 g", "a yield that the formula based on it replaces"),
    ("lookout-sour.dough: bread flour  100%", "a share that comes to the same weights"),
    ("pumpkin seeds     3%", "a tenth more, which the scale does not show"),
];

/// How many prints of formulas show something else after an edit, and what is wrong: each of
/// them has another code and is told of.
fn changed_by(
    edit: &Edit,
    files: &BTreeMap<String, String>,
    before: &[desk::Bakehouse],
    was: &Prints,
) -> (usize, Vec<String>) {
    let line = &edit.line;
    let mut slips = Vec::new();
    let mut hold = |is_so: bool, what: String| {
        if !is_so {
            slips.push(format!("{line}: {what}"));
        }
    };
    let loaded = house_with(files, edit.name, &edit.text);
    let after = desk::bakehouses(&loaded);
    let is = prints_of(&after);
    let (base, brought) = (Path::new("/x"), &[]);
    let comparison = compare(
        &ComparedSide { bakehouses: before, base, only: None, makes: None, brought },
        &ComparedSide { bakehouses: &after, base, only: None, makes: None, brought },
    );
    let mut touched: Vec<&String> = comparison.formulas.iter().map(|it| &it.name).collect();
    touched.extend(comparison.shared.iter().flat_map(|it| &it.touches));
    let is_nothing = comparison.formulas.is_empty() && comparison.shared.is_empty();
    let mut changed = 0;
    for (name, shown) in &is.shown {
        let Some(old) = was.shown.get(name) else { continue };
        let is_same_code = is.codes[name] == was.codes[name];
        if old != shown {
            hold(!is_same_code, format!("the print of {name} has the same code"));
            hold(touched.contains(&name), format!("nothing is told of {name}"));
            changed += 1;
        } else {
            // What changes nothing on paper but is part of how something is made.
            let is_kept = KEPT_IN_CODES.iter().any(|(word, _)| edit.line.contains(word));
            hold(is_same_code || is_kept, format!("another code for {name}, and the same paper"));
        }
        hold(!is_nothing || is_same_code, format!("only the code of {name} is another"));
    }
    hold(!is_nothing || is.handouts == was.handouts, "a handout's code and nothing told".into());
    hold(!is_nothing || is == *was, "nothing is told".into());
    hold(is_nothing || !edit.is_comment, "a comment means nothing".into());
    (changed, slips)
}

/// Files of two states that say the same are read once, and what rests on nothing that changed
/// is passed over: what is told is what it would be if both were read and compared as wholes.
#[test]
fn what_two_states_share_is_read_once_and_the_same_is_told() {
    let files = example_house();
    let path = |name: &str| format!("/x/{name}");
    let whole = |files: &BTreeMap<String, String>| {
        let files: Vec<(String, &str)> =
            files.iter().map(|(name, text)| (path(name), text.as_str())).collect();
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (&**path, *text)).collect();
        Memory::with(&files)
    };
    let of = |name: &str, change: &dyn Fn(&str) -> String| {
        let mut other = files.clone();
        let text = other.get_mut(name).expect("it is there");
        let after = change(text);
        assert_ne!(*text, after, "{name}");
        *text = after;
        other
    };
    let all = edits(&files);
    let mut states: Vec<BTreeMap<String, String>> = all
        .iter()
        .step_by(if cfg!(debug_assertions) { 61 } else { 11 })
        .map(|edit| of(edit.name, &|_| edit.text.clone()))
        .collect();
    let says = |more: &'static str| move |text: &str| format!("{text}\n{more}\n");
    // Names come, go and mean something else in files that say what they said.
    let bakehouse = "bakehouse.dough";
    states
        .push(of(bakehouse, &says("ingredient bread flour like whole wheat flour { water 14% }")));
    states.push(of(bakehouse, &says("ingredient quay salt like salt { also salt }")));
    states.push(of(bakehouse, &says("mixer drum { holds 1 kg..90 kg }")));
    states.push(of(bakehouse, &|it| it.replace("mill lane wholemeal", "quay lane wholemeal")));
    states.push(of(bakehouse, &|it| it.replace("mixture egg wash", "mixture egg glaze")));
    states.push(of(bakehouse, &|it| it.replace("style hearth sourdough", "style quay sourdough")));
    states.push(of("gullhaven-sour.dough", &|it| it.replace("gullhaven-sour", "harbour-sour")));
    let mut gone = files.clone();
    gone.remove("gullhaven-sour.dough");
    states.push(gone);
    let mut told = 0;
    for other in &states {
        for (from, to) in [(&files, other), (other, &files)] {
            let (before, after) = (whole(from), whole(to));
            let (home, asked) = (Path::new("/x"), [PathBuf::from("/x")]);
            let mut kept = Kept::default();
            let old = load_beside(&before, home, &asked, Some(&mut kept));
            let new = load_beside(&after, home, &asked, Some(&mut kept));
            assert!(kept.same().len() + 2 >= from.len(), "{}", kept.same().len());
            let quick = compared(&old, &new, kept.same());
            let (old, new) = (load(&before, home, &asked), load(&after, home, &asked));
            let slow = compared(&old, &new, &Default::default());
            assert_eq!(quick, slow);
            told += usize::from(!slow.contains("\"formulas\": []"));
        }
    }
    assert!(told > states.len(), "{told} of {}", states.len());
}

/// What changed, without places: those count the files.
fn compared(old: &desk::Loaded, new: &desk::Loaded, same: &FxHashSet<SourceId>) -> String {
    let (before, after) = (desk::bakehouses(old), desk::bakehouses(new));
    let side = |bakehouses| ComparedSide {
        bakehouses,
        base: Path::new("/x"),
        only: None,
        makes: None,
        brought: &[],
    };
    history::json(&compare_beside(&side(&before), &side(&after), same))
}

fn shown(folder: &Path, args: &[&str]) -> (Option<i32>, String) {
    let done = assize(folder, args);
    (done.status.code(), out(&done) + &err(&done))
}

/// The revision and the code of a sheet.
fn foot(folder: &Path, formula: &str, more: &[&str]) -> (String, String) {
    let args = [&["show", formula, "--format", "json"], more].concat();
    let document: Value = serde_json::from_str(&out(&assize(folder, &args))).expect("JSON");
    let word = |field: &str| document["trace"][field].as_str().expect("a text").to_owned();
    (word("revision"), word("code"))
}

#[test]
fn a_print_tells_its_revision_or_that_it_is_a_draft() {
    let folder = repository(&[]);
    let at = folder.path();
    let short = git(at, &["rev-parse", "--short=7", "HEAD"]);
    let (revision, code) = foot(at, "mole-loaf", &[]);
    assert_eq!(revision, short);
    let done = assize(at, &["print", "mole-loaf", "--only", "sheet,card"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let page = pdf_extract::extract_text(at.join("prints/mole-loaf-sheet.pdf")).expect("text");
    let page: String = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains(&format!("{short} {code}")), "{page}");
    let card = pdf_extract::extract_text(at.join("prints/mole-loaf-card.pdf")).expect("text");
    assert!(card.contains(&code[..5]) && !card.contains(&code), "{card}");
    // Another file of the house is none of its business; a shared stage is.
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "75%"));
    assert_eq!(foot(at, "mole-loaf", &[]), (short.clone(), code.clone()));
    assert_eq!(foot(at, "pier-loaf", &[]).0, "draft");
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &house.replace('\n', "\r\n"));
    assert_eq!(foot(at, "mole-loaf", &[]), (short, code.clone()), "only ends of lines differ");
    write(at, "house.dough", &(house.clone() + "# a note\n"));
    assert_eq!(foot(at, "mole-loaf", &[]), ("draft".to_owned(), code.clone()));
    write(at, "house.dough", &house.replace("water 80%", "water 90%"));
    let (revision, other) = foot(at, "mole-loaf", &[]);
    assert_eq!(revision, "draft");
    assert_ne!(other[..5], code[..5]);
    // Another yield is the same formula, printed otherwise.
    let (_, more) = foot(at, "mole-loaf", &["--makes", "60 loaves"]);
    assert_eq!((&more[..5], more[5..] == other[5..]), (&other[..5], false));
}

#[test]
fn a_code_leads_back_to_its_formula_its_print_and_its_revisions() {
    let folder = repository(&[]);
    let at = folder.path();
    let (_, code) = foot(at, "mole-loaf", &[]);
    let (status, told) = shown(at, &["trace", &code.to_lowercase()]);
    assert_eq!(status, Some(0), "{told}");
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!(lines[0], "mole-loaf: sheet in en, metric  [mole-loaf.dough]");
    assert_eq!(lines[1], "  the files as they are have it");
    assert!(lines[2].ends_with("Make the levain stiffer"), "{told}");
    assert!(shown(at, &["check", "--pinned", &code]).1.contains("is current: mole-loaf"));
    let sheet = out(&assize(at, &["show", "mole-loaf", "--format", "json"]));
    write(at, "sheet.json", &sheet);
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &house.replace("water 80%", "water 90%"));
    git(at, &["gc", "-q"]);
    let (status, told) = shown(at, &["check", "--pinned", "sheet.json"]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains("sheet-out-of-date"), "{told}");
    assert!(told.contains("water 80 % → 90 %"), "{told}");
    let (status, traced) = shown(at, &["trace", &code, "--format", "json"]);
    assert_eq!(status, Some(0), "{traced}");
    let traced: Value = serde_json::from_str(&traced).expect("JSON");
    let schema: Value = serde_json::from_str(&history::trace::schema()).expect("a schema");
    assert!(jsonschema::validator_for(&schema).expect("sound").is_valid(&traced), "{traced:#}");
    assert_eq!(traced["formulas"][0]["current"], false);
    for (args, status, said) in [
        (&["trace", "1234"][..], 2, "`1234` is not a code: a code has eight letters and digits"),
        (&["trace", "00000000"], 1, "nothing here prints 00000000"),
        (&["check", "--pinned", "00000000"], 1, "nothing here prints 00000000"),
        (&["check", "--pinned", "nowhere"], 2, "neither a file nor a code"),
        (&["check", "--pinned", "house.dough"], 2, "holds no code"),
    ] {
        let (code, told) = shown(at, args);
        assert_eq!(code, Some(status), "{args:?}: {told}");
        assert!(told.contains(said), "{args:?}: {told}");
    }
}

/// All prints on a wall are looked at in one run, each with its own answer, and programs are told
/// of those alone that are not current.
#[test]
fn a_wall_of_prints_is_checked_in_one_run() {
    let folder = repository(&[]);
    let at = folder.path();
    let (_, old) = foot(at, "mole-loaf", &[]);
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &house.replace("water 80%", "water 90%"));
    let (_, new) = foot(at, "mole-loaf", &[]);
    let wall = [old.as_str(), new.as_str(), "00000000"];
    let on_wall = |wall: &[&str], format: &[&str]| {
        let done = assize(at, &[&["check", "--pinned"], wall, format].concat());
        (done.status.code(), out(&done), err(&done))
    };
    let (status, told, also) = on_wall(&wall, &[]);
    assert_eq!(status, Some(1), "{told}{also}");
    assert!(told.contains(&format!("{new} is current: mole-loaf")), "{told}");
    assert!(also.contains("sheet-out-of-date") && also.contains(&old), "{also}");
    assert!(also.contains("nothing here prints 00000000"), "{also}");
    let names = ["sheet-out-of-date", "print-unknown"];
    let (status, told, _) = on_wall(&wall, &["--format", "json"]);
    assert_eq!(status, Some(1), "{told}");
    let report: Value = serde_json::from_str(&told).expect("JSON");
    let found = report["findings"].as_array().expect("a list");
    assert_eq!(found.iter().map(|it| &it["name"]).collect::<Vec<_>>(), names, "{report:#}");
    let notes = found[0]["notes"].as_array().expect("what changed");
    assert!(notes.iter().any(|it| it.to_string().contains("water 80 % → 90 %")), "{report:#}");
    for format in ["short", "narrated", "sarif", "annotations"] {
        let (status, told, also) = on_wall(&wall, &["--format", format]);
        assert_eq!(status, Some(1), "{format}: {told}{also}");
        for said in [&old, &names[0].to_owned(), &names[1].to_owned()] {
            assert!(told.contains(said.as_str()), "{format}: {said}\n{told}");
        }
        assert!(!told.contains(&new), "{format}: {told}");
        let (status, told, also) = on_wall(&[&new], &["--format", format]);
        assert_eq!((status, told.contains(&new)), (Some(0), false), "{format}: {told}{also}");
    }
    // A slip in one code keeps nobody from the others.
    let (status, told, also) = on_wall(&["nowhere", &new], &[]);
    assert_eq!(status, Some(2), "{told}{also}");
    assert!(told.contains("is current") && also.contains("`nowhere`"), "{told}{also}");
}

#[test]
fn a_history_has_a_row_for_each_commit_that_changed_the_meaning() {
    let folder = repository(&[]);
    let at = folder.path();
    // Nothing that counts: a comment.
    write(at, "pier-loaf.dough", &format!("# ours\n{PLAIN}"));
    commit(at, "Say whose it is");
    git(at, &["checkout", "-q", "-b", "wetter"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "76%"));
    commit(at, "Make the pier loaf wetter");
    git(at, &["checkout", "-q", "main"]);
    write(at, "notes.md", "Nothing to bake.\n");
    commit(at, "Take notes");
    git(at, &["merge", "-q", "--no-ff", "-m", "Take the wetter loaf", "wetter"]);
    fs::remove_file(at.join("pier-loaf.dough")).expect("removed");
    let renamed = PLAIN.replace("pier-loaf \"Pier Loaf\"", "jetty-loaf \"Jetty Loaf\"");
    write(
        at,
        "jetty.dough",
        &renamed.replace("74%", "76%").replace("salt           2%", "salt 2.2%"),
    );
    commit(at, "Call it Jetty Loaf");
    let (status, told) = shown(at, &["history", "jetty-loaf", "--format", "json"]);
    assert_eq!(status, Some(0), "{told}");
    let read: Value = serde_json::from_str(&told).expect("JSON");
    let schema: Value = serde_json::from_str(&history::log::schema()).expect("a schema");
    assert!(jsonschema::validator_for(&schema).expect("sound").is_valid(&read), "{read:#}");
    let rows = read["rows"].as_array().expect("rows");
    let row = |row: &Value| {
        let word = |field: &Value| field.as_str().expect("a text").to_owned();
        (word(&row["subject"]), word(&row["name"]), word(&row["figures"]["hydration"]))
    };
    let rows: Vec<_> = rows.iter().map(row).collect();
    let wanted = [
        ("Call it Jetty Loaf", "jetty-loaf", "76 %"),
        ("Make the pier loaf wetter", "pier-loaf", "76 %"),
        ("First formulas", "pier-loaf", "74 %"),
    ];
    let wanted = wanted.map(|(a, b, c)| (a.to_owned(), b.to_owned(), c.to_owned()));
    assert_eq!(rows, wanted);
    let (_, text) = shown(at, &["history", "jetty-loaf"]);
    assert!(text.contains("2026-03-02") && text.contains("hydration 74 → 76 %"), "{text}");
    assert!(text.contains("hydration   ▁██  74 % to 76 %"), "{text}");
    let (_, levain) = shown(at, &["history", "mole-loaf"]);
    assert!(levain.contains("Make the levain stiffer"), "{levain}");
    let (_, since) = shown(at, &["history", "jetty-loaf", "--since", "HEAD~1"]);
    assert_eq!(since.lines().count(), 1, "{since}");
    let (_, csv) = shown(at, &["history", "jetty-loaf", "--format", "csv", "--figures", "salt"]);
    assert!(csv.starts_with("date,revision,subject,name,state,line,salt\n"), "{csv}");
    assert!(
        csv.lines().nth(1).is_some_and(|line| line.ends_with(",jetty-loaf,sound,trunk,0.022")),
        "{csv}"
    );
    // Cells of text are no formulas of a spreadsheet, and numbers no dates.
    write(at, "jetty.dough", &renamed.replace("74%", "72%").replace("2 loaves", "3 loaves"));
    commit(at, "=1+1");
    let (_, csv) = shown(at, &["history", "jetty-loaf", "--format", "csv"]);
    let row = csv.lines().nth(1).expect("a row");
    assert!(row.contains(",'=1+1,jetty-loaf,sound,") && !row.contains('/'), "{row}");
    git(at, &["reset", "-q", "--hard", "HEAD~1"]);
    let (_, svg) = shown(at, &["history", "jetty-loaf", "--format", "svg"]);
    assert!(svg.starts_with("<svg") && svg.matches("<circle").count() == 6, "{svg}");
    assert_eq!(shown(at, &["history", "nothing"]).0, Some(2));
    assert_eq!(shown(at, &["history", "jetty-loaf", "--figures", "wetness"]).0, Some(2));
    let shallow = crate::support::folder();
    let from = format!("file://{}", at.display());
    git(shallow.path(), &["clone", "-q", "--depth", "1", &from, "here"]);
    let (status, cut) = shown(&shallow.path().join("here"), &["history", "jetty-loaf"]);
    assert_eq!(status, Some(0), "{cut}");
    assert!(cut.contains("history-cut-short"), "{cut}");
    let none = folder_without();
    assert_eq!(shown(none.path(), &["history", "pier-loaf"]).0, Some(1));
}

#[test]
fn a_history_tells_what_changed_on_paper_where_no_figure_moved() {
    let folder = repository(&[]);
    let at = folder.path();
    let baked = PLAIN.trim_end().strip_suffix('}').expect("a block");
    let baked = format!("{baked}  method {{\n    mix\n    bake 40min at 240C\n  }}\n}}\n");
    write(at, "pier-loaf.dough", &baked);
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    let house = house + "mixer drum { holds 1 g..28 kg; friction 9C }\n";
    write(at, "house.dough", &house);
    commit(at, "Say how it is baked");
    write(at, "pier-loaf.dough", &baked.replace("240C", "250C"));
    commit(at, "Bake it hotter");
    let hot = baked.replace("240C", "250C");
    write(at, "pier-loaf.dough", &hot.replace("74%", "74%\n    sesame seeds  1%"));
    commit(at, "Add sesame");
    let drum = "mixer tiny { holds 1 g..2 g; friction 9C }\n";
    write(at, "house.dough", &(house + drum));
    commit(at, "Buy a toy mixer");
    let (_, told) = shown(at, &["history", "pier-loaf"]);
    assert!(told.contains("Bake it hotter  bake at 240 °C → 250 °C"), "{told}");
    assert!(told.contains("Add sesame  contains: wheat → sesame, wheat"), "{told}");
    assert!(!told.contains("toy mixer"), "{told}");
}

#[test]
fn a_history_tells_errors_ends_of_ranges_and_other_names() {
    let folder = repository(&[]);
    let at = folder.path();
    let ranges = PLAIN.trim_end().strip_suffix('}').expect("a block");
    let ranges = format!("{ranges}  method {{\n    mix\n    bulk 2h..3h at 24C\n  }}\n}}\n");
    let jar = "ingredient jar like whole milk { price 3 EUR per kg }\n";
    let ranges = format!("{jar}{}", ranges.replace("74%", "74%\n    jar  3%"));
    write(at, "pier-loaf.dough", &ranges);
    commit(at, "Say how it is made");
    write(at, "pier-loaf.dough", &ranges.replace("2h..3h", "2h..4h"));
    commit(at, "Let it stand longer");
    let ranges = ranges.replace("2h..3h", "2h..4h");
    write(at, "pier-loaf.dough", &ranges.replace("salt           2%", "salt           wet"));
    commit(at, "Slip");
    write(at, "pier-loaf.dough", &ranges);
    commit(at, "Mend");
    write(at, "pier-loaf.dough", &ranges.replace("jar", "pitcher"));
    commit(at, "Call the milk otherwise");
    let (_, told) = shown(at, &["history", "pier-loaf"]);
    for wanted in [
        "Let it stand longer  bulk for 2h..3h → 2h..4h, elapsed ",
        // The line stands where nothing can be read: nobody knows that it is gone.
        "Slip  has errors, so that its figures can't be told, part of it can't be read",
        "Mend  had errors before, part of it could not be read",
        "Call the milk otherwise  called jar → pitcher\n",
    ] {
        // A line of a sheet may follow.
        assert!(told.contains(wanted.trim_end()), "{wanted}\n{told}");
    }
    assert!(
        !told.contains("salt 2 %")
            && !told.contains("jar 3 %, gone")
            && !told.contains("pitcher 3 %"),
        "{told}"
    );
    let (_, csv) = shown(at, &["history", "pier-loaf", "--format", "csv", "--figures", "elapsed"]);
    let rows: Vec<Vec<&str>> = csv.lines().map(|line| line.split(',').collect()).collect();
    assert_eq!(rows[0][4..], ["state", "line", "elapsed", "elapsed high"], "{csv}");
    let of = |subject: &str| rows.iter().find(|row| row[2] == subject).expect("a row").clone();
    let (short, long, slip) = (of("Say how it is made"), of("Let it stand longer"), of("Slip"));
    assert_eq!(short[6], long[6], "{csv}");
    assert_ne!(short[7], long[7], "{csv}");
    assert_eq!((slip[4], slip[6]), ("has errors", ""), "{csv}");
}

#[test]
fn a_formula_that_went_is_told_of() {
    let folder = repository(&[]);
    let at = folder.path();
    let renamed = PLAIN.replace("pier-loaf \"Pier Loaf\"", "jetty-loaf \"Jetty Loaf\"");
    write(at, "pier-loaf.dough", &renamed);
    commit(at, "Call it Jetty Loaf");
    fs::remove_file(at.join("mole-loaf.dough")).expect("removed");
    commit(at, "Bake no more mole loaves");
    let revision = |at_: &str| git(at, &["rev-parse", "--short=7", at_]);
    for (name, wanted) in [
        (
            "pier-loaf",
            format!("it became `jetty-loaf` on 2026-03-02 ({}, Call it", revision("HEAD~1")),
        ),
        ("mole-loaf", format!("it was removed on 2026-03-02 ({}, Bake no more", revision("HEAD"))),
        ("jetty-loat", "did you mean `jetty-loaf`?".to_owned()),
    ] {
        let (status, told) = shown(at, &["history", name]);
        assert_eq!(status, Some(2), "{told}");
        assert!(told.contains(&wanted), "{told}");
    }
}

#[test]
fn a_sheet_stays_current_while_nothing_on_it_changes() {
    let folder = repository(&[]);
    let at = folder.path();
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    let flour = "ingredient pier flour like bread flour { price 18 EUR per 25 kg }\n";
    let house = house.replace("bread flour", "pier flour")
        + flour
        + "mixer drum { holds 100 g..28 kg; friction 9C }\n";
    write(at, "house.dough", &house);
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    write(at, "mole-loaf.dough", &loaf.replace("bread flour", "pier flour"));
    commit(at, "Buy a mixer");
    let (_, code) = foot(at, "mole-loaf", &[]);
    for (changed, subject) in [
        (house.clone() + "mixer tiny { holds 1 g..2 g; friction 9C }\n", "Buy a toy mixer"),
        (house.replace("18 EUR", "20 EUR"), "Pay more for flour"),
    ] {
        assert_ne!(changed, house);
        write(at, "house.dough", &changed);
        commit(at, subject);
        let (status, told) = shown(at, &["check", "--pinned", &code]);
        assert_eq!(status, Some(0), "{subject}: {told}");
        assert!(told.contains("is current: mole-loaf"), "{told}");
    }
    write(at, "house.dough", &house.replace("water 80%", "water 90%"));
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains("Quay levain, water:"), "{told}");
}

/// Each setting that changes a print touches every formula and makes a pinned sheet old.
#[test]
fn every_setting_of_a_house_that_changes_a_print_is_told_and_changes_its_code() {
    let folder = repository(&[]);
    let at = folder.path();
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    let (_, code) = foot(at, "mole-loaf", &[]);
    for setting in [
        "language de",
        "language en and de",
        "units US",
        "units metric and US",
        "paper a5",
        "footer \"Quay 4\"",
        "colour \"#2f4858\"",
        "codes qr",
        "scale 20 g",
    ] {
        let scale = if setting.starts_with("scale") { "" } else { "scale 1 g; " };
        let changed = house.replace("{ scale 1 g }", &format!("{{ {scale}{setting} }}"));
        assert_ne!(changed, house);
        write(at, "house.dough", &changed);
        let (_, told) = shown(at, &["diff", "--format", "json"]);
        let told: Value = serde_json::from_str(&told).expect("JSON");
        let touches = &told["shared"][0]["touches"];
        assert_eq!(*touches, serde_json::json!(["mole-loaf", "pier-loaf"]), "{setting}: {told:#}");
        let (_, other) = foot(at, "mole-loaf", &[]);
        assert_ne!(other, code, "{setting}");
        let (status, told) = shown(at, &["check", "--pinned", &code]);
        assert_eq!(status, Some(1), "{setting}: {told}");
        let word = setting.split(' ').next().expect("a word");
        assert!(told.contains("sheet-out-of-date") && told.contains(word), "{setting}: {told}");
        let (status, told) = shown(at, &["check", "--pinned", &other]);
        assert_eq!(status, Some(0), "{setting}: {told}");
    }
    // What somebody asked for is printed again as it was.
    write(at, "house.dough", &house);
    assert_eq!(foot(at, "mole-loaf", &[]).1, code);
    let args = ["print", "mole-loaf", "--only", "sheet", "--language", "fr"];
    let page = out(&assize(at, &[&args[..], &["--format", "html", "--to", "-"]].concat()));
    let place = page.find(&code[..5]).expect("a code");
    let french = page[place..place + 8].to_owned();
    assert_ne!(french, code);
    let (status, told) = shown(at, &["check", "--pinned", &french]);
    assert_eq!(status, Some(0), "{told}");
    assert!(
        told.contains("is current: mole-loaf, printed as perhaps sheet in fr, metric"),
        "{told}"
    );
    let (_, more) = foot(at, "mole-loaf", &["--makes", "60 loaves"]);
    let (status, told) = shown(at, &["check", "--pinned", &more]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("sheet in en, metric, for 60 loaves at 800 g"), "{told}");
}

/// Settings and machines are in a code where the print shows what they make of it, and nowhere
/// else; whatever they change, the five letters of what is baked stay.
#[test]
fn a_setting_is_in_a_code_where_its_print_shows_it() {
    let house = |settings: &str| {
        format!(
            "bakehouse \"Quay\" {{\n  scale 1 g\n  {settings}\n}}\n\
             mixer drum {{ holds 1 kg..28 kg; friction 11C }}\n\
             oven deck {{ holds 24 loaves; at 250C }}\n\
             ingredient pier flour like bread flour {{ protein 12% }}\n\
             culture dock culture {{ pier flour 100%; water 100%; note \"Fed at six.\" }}\n\
             style plain bread {{ salt 1%..3% }}\n"
        )
    };
    let formula = "formula quay-loaf \"Quay Loaf\" {\n  style plain bread\n  makes 20 loaves at 900 g\n  \
        dough { pier flour 100%; water 72%; salt 2%; dock culture 20% }\n  expect { salt 1.9%..2% of flour }\n  \
        method { mix 8min to 25C; bulk 3h at 24C; bake 40min at 240C }\n}\n";
    let plain = house("tap 12C; room 21C; flour 19C") + formula;
    let before = &printed(&plain)["quay-loaf"];
    // Each change, and whether the paper shows it.
    for (from, to, shows) in [
        ("tap 12C", "tap 13C", false),
        ("room 21C", "room 26C", true),
        ("flour 19C", "flour 23C", true),
        ("scale 1 g", "scale 20 g", true),
        ("friction 11C", "friction 14C", true),
        ("kg..28 kg", "kg..20 kg", false),
        ("kg..28 kg", "kg..9 kg", true),
        ("at 250C }", "at 230C }", false),
        ("holds 24 loaves", "holds 30 loaves", false),
        ("holds 24 loaves", "holds 12 loaves", true),
        ("protein 12%", "protein 13%", false),
        ("Fed at six.", "Fed at seven.", false),
        ("salt 1%..3%", "salt 1%..2.5%", false),
        ("salt 1.9%..2%", "salt 1.8%..2%", false),
        // Where volumes stand beside weights.
        ("tap 12C", "tap 12C; measures US", true),
        ("tap 12C", "tap 12C; zone Europe/Paris", false),
        ("tap 12C", "tap 12C; hours 04:00..12:00", false),
        ("water 72%", "water 73%", true),
        ("bulk 3h", "bulk 4h", true),
    ] {
        let text = plain.replace(from, to);
        assert_ne!(text, plain, "{from}");
        let after = &printed(&text)["quay-loaf"];
        let (code, paper) = (after.0 != before.0, after.1 != before.1);
        assert_eq!((code, paper), (shows, shows), "{from}: {to}");
        let is_baked = ["water", "bulk"].iter().any(|word| from.starts_with(word));
        assert_eq!(after.0[..5] != before.0[..5], is_baked, "{from}: {to}");
    }
}

/// The code of a sheet, read from a picture of its page as a telephone would.
#[test]
fn the_square_on_a_sheet_is_read_by_a_common_reader() {
    let folder = repository(&[]);
    let at = folder.path();
    let args = ["print", "mole-loaf", "--only", "sheet,card", "--format", "png", "--dpi", "200"];
    assert_eq!(assize(at, &args).status.code(), Some(0));
    let plain = fs::read(at.join("prints/mole-loaf-sheet.png")).expect("a page");
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &house.replace("{ scale 1 g }", "{ scale 1 g; codes qr }"));
    let (_, code) = foot(at, "mole-loaf", &[]);
    let done = assize(at, &args);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert_ne!(fs::read(at.join("prints/mole-loaf-sheet.png")).expect("a page"), plain);
    let html = ["print", "mole-loaf", "--only", "sheet", "--format", "html", "--to", "-"];
    let html = out(&assize(at, &html));
    assert!(html.contains("<svg class=\"qr\"") && html.contains(&code), "{html}");
    let read = std::process::Command::new("zbarimg")
        .args(["--quiet", "--raw", "prints/mole-loaf-sheet.png"])
        .current_dir(at)
        .output();
    match read {
        Ok(read) => assert_eq!(out(&read).trim(), code, "{}", err(&read)),
        // `.ci/run` installs it, and asks for it.
        Err(missing) => assert!(std::env::var_os("NEEDS_ZBAR").is_none(), "{missing}"),
    }
    let (status, told) = shown(at, &["check"]);
    assert_eq!(status, Some(0), "{told}");
    write(at, "house.dough", &house.replace("{ scale 1 g }", "{ scale 1 g; codes bars }"));
    let (status, told) = shown(at, &["check"]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains("write `codes qr`"), "{told}");
}

#[test]
fn a_plan_and_a_calendar_bear_the_code_of_each_formula() {
    let folder = repository(&[]);
    let at = folder.path();
    let method = "  method {\n    mix 10min\n    bulk 3h at 24C\n    bake 40min at 240C\n  }\n}\n";
    for name in ["mole-loaf.dough", "pier-loaf.dough"] {
        let text = fs::read_to_string(at.join(name)).expect("readable");
        let text = text.trim_end().strip_suffix('}').expect("a block").to_owned();
        write(at, name, &(text + method));
    }
    commit(at, "Say how they are made");
    let short = git(at, &["rev-parse", "--short=7", "HEAD"]);
    let (_, sheet) = foot(at, "mole-loaf", &[]);
    let plan = |names: &[&str], format: &str| {
        let when = ["--ready", "2026-12-05 07:00", "--zone", "Europe/Vienna", "--format", format];
        let done = assize(at, &[&["plan"], names, &when].concat());
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
        done.stdout
    };
    let json: Value = serde_json::from_slice(&plan(&["mole-loaf"], "json")).expect("JSON");
    let code = json["trace"]["code"].as_str().expect("a code").to_owned();
    assert_eq!(
        (&code[..5], &json["trace"]["revision"]),
        (&sheet[..5], &Value::from(short.clone()))
    );
    assert_ne!(code, sheet, "a plan is another print");
    let page = pdf_extract::extract_text_from_mem(&plan(&["mole-loaf"], "pdf")).expect("text");
    let page: String = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains(&format!("{short} {code}")), "{page}");
    let calendar = String::from_utf8(plan(&["mole-loaf"], "ics")).expect("UTF-8");
    assert!(calendar.replace("\r\n ", "").contains(&format!("{short} {code}")), "{calendar}");
    let both: Value =
        serde_json::from_slice(&plan(&["mole-loaf", "pier-loaf"], "json")).expect("JSON");
    assert_eq!(both["trace"], Value::Null);
    let codes: Vec<&Value> =
        both["formulas"].as_array().expect("two").iter().map(|it| &it["trace"]["code"]).collect();
    assert!(codes.contains(&&Value::from(code.clone())) && codes.len() == 2, "{codes:?}");
    let (status, told) = shown(at, &["trace", &code]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("mole-loaf: perhaps a plan with dates or times of its own"), "{told}");
    assert!(told.contains("the files as they are have it") && told.contains(&short), "{told}");
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!(status, Some(1), "{told}");
    assert!(
        told.contains("perhaps a plan with dates") && told.contains("nobody can tell"),
        "{told}"
    );
}

/// A history in which branches, links, folders and houses come and go: what is found by going
/// from commit to commit is what each commit has by itself.
#[test]
fn every_commit_of_a_walk_is_what_it_is_by_itself() {
    let folder = repository(&[]);
    let at = folder.path();
    fs::create_dir_all(at.join("rye")).expect("made");
    git(at, &["mv", "mole-loaf.dough", "rye/mole.dough"]);
    commit(at, "Move it");
    write(
        at,
        "rye/house.dough",
        "bakehouse \"Rye\" { room 24C }\npreferment quay levain \
        { rye flour 100%; water 90%; white culture 20%; ripens 8h at 22C }\n",
    );
    commit(at, "A house of its own");
    git(at, &["checkout", "-q", "-b", "other", "HEAD~1"]);
    write(at, "pier-loaf.dough", &PLAIN.replace("74%", "71%"));
    commit(at, "Drier");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("pier-loaf.dough", at.join("linked.dough")).expect("linked");
        commit(at, "A link");
        fs::remove_file(at.join("linked.dough")).expect("removed");
        commit(at, "No link");
    }
    git(at, &["checkout", "-q", "main"]);
    git(at, &["merge", "-q", "--no-ff", "-m", "Both", "other"]);
    write(
        at,
        "house.dough",
        "preferment quay levain { bread flour 100%; water 80%; \
        white culture 20%; ripens 8h at 22C }\n",
    );
    commit(at, "No house");
    for revision in git(at, &["rev-list", "HEAD"]).lines() {
        git(at, &["checkout", "-q", revision]);
        for formula in ["mole-loaf", "pier-loaf"] {
            let done = assize(at, &["show", formula, "--format", "json"]);
            let Ok(document) = serde_json::from_slice::<Value>(&done.stdout) else { continue };
            let code = document["trace"]["code"].as_str().expect("a code").to_owned();
            git(at, &["checkout", "-q", "main"]);
            let (_, traced) = shown(at, &["trace", &code, "--format", "json"]);
            let traced: Value = serde_json::from_str(&traced).expect("JSON");
            let revisions = traced["formulas"].as_array().into_iter().flatten();
            let mut revisions =
                revisions.flat_map(|it| it["revisions"].as_array().cloned().unwrap_or_default());
            let is_it = |it: &Value| revision.starts_with(it["revision"].as_str().unwrap_or("-"));
            assert!(revisions.any(|it| is_it(&it)), "{formula} at {revision}: {traced:#}");
            git(at, &["checkout", "-q", revision]);
        }
    }
}

/// A house whose mole loaf is printed in a booklet and baked on a day.
fn house_with_handouts() -> tempfile::TempDir {
    let folder = repository(&[]);
    let at = folder.path();
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    let loaf = loaf.trim_end().strip_suffix('}').expect("a block").to_owned();
    let method = "  method {\n    mix 10min\n    bulk 3h at 24C\n    bake 40min at 240C\n  }\n}\n";
    write(at, "mole-loaf.dough", &(loaf + method));
    write(at, "week.dough", WEEK);
    commit(at, "Hold a course, and open on Saturdays");
    folder
}

const WEEK: &str = "booklet week-one \"Week one\" {\n  for 6 people\n  text \"Stir it.\"\n  \
    card mole-loaf\n  sheet mole-loaf for 12 loaves\n}\nday saturday \"Market\" {\n  \
    hours 00:00..24:00\n  order mole-loaf 40 loaves by 20:00, 20 loaves by 22:00\n}\n\
    day sunday \"Church\" {\n  hours 00:00..24:00\n  order mole-loaf 8 loaves by 20:00\n}\n";

/// The codes in the feet of a PDF.
fn codes_in(pdf: &Path) -> Vec<String> {
    let page = pdf_extract::extract_text(pdf).expect("text");
    let words: Vec<&str> = page.split_whitespace().collect();
    let is_revision = |word: &str| word == "draft" || word.len() == 7;
    let is_code = |word: &str| {
        let is_ours = |it: char| it.is_ascii_uppercase() || it.is_ascii_digit();
        word.len() == 8 && word.chars().all(is_ours)
    };
    let pairs = words.windows(2).filter(|pair| is_revision(pair[0]) && is_code(pair[1]));
    let mut codes: Vec<String> = pairs.map(|pair| pair[1].to_owned()).collect();
    codes.dedup();
    codes
}

/// Every print bears a code, and each leads back to what it is a print of.
#[test]
fn a_booklet_a_day_and_all_prints_in_them_are_traced() {
    let folder = house_with_handouts();
    let at = folder.path();
    let print = |args: &[&str]| {
        let done = assize(at, &[&["print"], args].concat());
        assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
    };
    print(&["week-one"]);
    print(&["saturday"]);
    print(&["mole-loaf", "--only", "card,sheet,table,reckoner,shopping,worksheet"]);
    print(&["mole-loaf", "--only", "sheet", "--makes", "40 loaves", "--to", "more"]);
    let mut seen = Vec::new();
    for (file, wanted) in [
        ("prints/saturday.pdf", "saturday: day in en, metric  [week.dough]"),
        ("prints/saturday-sheets.pdf", "mole-loaf: sheet in en, metric, for 60 loaves at 800 g"),
        ("prints/mole-loaf-card.pdf", "mole-loaf: card in en, metric  [mole-loaf.dough]"),
        ("prints/mole-loaf-sheet.pdf", "mole-loaf: sheet in en, metric  [mole-loaf.dough]"),
        ("prints/mole-loaf-table.pdf", "mole-loaf: table in en, metric  [mole-loaf.dough]"),
        ("prints/mole-loaf-reckoner.pdf", "mole-loaf: reckoner in en, metric  ["),
        ("prints/mole-loaf-shopping.pdf", "mole-loaf: shopping in en, metric  ["),
        ("prints/mole-loaf-worksheet.pdf", "mole-loaf: worksheet in en, metric  ["),
        ("more/mole-loaf-sheet.pdf", "mole-loaf: sheet in en, metric, for 40 loaves at 800 g  ["),
    ] {
        let codes = codes_in(&at.join(file));
        assert_eq!(codes.len(), 1, "{file}: {codes:?}");
        let (status, told) = shown(at, &["trace", &codes[0]]);
        assert_eq!(status, Some(0), "{file}: {told}");
        assert!(told.starts_with(wanted), "{file}: {told}");
        seen.extend(codes);
    }
    let inside = codes_in(&at.join("prints/week-one.pdf"));
    let told: Vec<String> = inside.iter().map(|code| shown(at, &["trace", code]).1).collect();
    for wanted in [
        "week-one: booklet in en, metric  [week.dough]",
        "mole-loaf: card in en, metric  [",
        "mole-loaf: sheet in en, metric, for 12 loaves at 800 g  [",
    ] {
        assert!(told.iter().any(|it| it.starts_with(wanted)), "{wanted}: {told:?}");
    }
    seen.extend(inside);
    for code in &seen {
        assert_eq!(shown(at, &["check", "--pinned", code]).0, Some(0), "{code}");
    }
    // What is baked changes all of them, and each tells it.
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &house.replace("water 80%", "water 90%"));
    commit(at, "Make the levain wetter");
    for code in &seen {
        let (status, told) = shown(at, &["check", "--pinned", code]);
        assert_eq!(status, Some(1), "{code}: {told}");
        assert!(told.contains("water 80 % → 90 %"), "{code}: {told}");
        let (status, told) = shown(at, &["trace", code]);
        assert_eq!(status, Some(0), "{told}");
        assert!(told.contains("  since 2026-03-02"), "{told}");
        assert!(!told.contains("the files as they are"), "{told}");
    }
}

#[test]
fn a_booklet_and_a_day_have_a_history_and_are_told_of_in_diffs() {
    let folder = house_with_handouts();
    let at = folder.path();
    let change = |file: &str, from: &str, to: &str, subject: &str| {
        let text = fs::read_to_string(at.join(file)).expect("readable");
        let changed = text.replacen(from, to, 1);
        assert_ne!(changed, text, "{from}");
        write(at, file, &changed);
        let (_, told) = shown(at, &["diff"]);
        commit(at, subject);
        told
    };
    let touches = |told: &str, what: &str| {
        let head = told.lines().find(|line| line.contains(what)).unwrap_or_default().to_owned();
        ["booklet week-one", "day saturday", "day sunday"].map(|it| head.contains(it))
    };
    let all = "in day saturday, day sunday, booklet week-one";
    let told = change("mole-loaf.dough", "salt 2%", "salt 2.2%", "More salt");
    assert!(told.lines().next().is_some_and(|line| line.ends_with(all)), "{told}");
    let told = change("house.dough", "water 80%", "water 85%", "Wetter levain");
    assert_eq!(touches(&told, "touches"), [true; 3], "{told}");
    let told = change("pier-loaf.dough", "74%", "75%", "Another loaf");
    assert!(!told.contains("week-one") && !told.contains("saturday"), "{told}");
    let told = change("week.dough", "by 20:00, 20", "by 19:00, 20", "Sooner");
    assert!(told.starts_with("day saturday  order mole-loaf"), "{told}");
    assert!(told.contains("by 20:00 → 40 loaves by 19:00"), "{told}");
    let told = change("week.dough", "Stir it.", "Stir it well.", "Say how");
    assert!(
        told.starts_with("booklet week-one  text \"Stir it.\" → \"Stir it well.\"\n"),
        "{told}"
    );
    let told = change("week.dough", "8 loaves", "9 loaves", "More on Sundays");
    assert!(told.starts_with("day sunday  order mole-loaf 8 loaves"), "{told}");
    change("house.dough", "scale 1 g", "scale 1 g; hours 01:00..23:00", "Open later");
    change("house.dough", "scale 1 g;", "scale 1 g; footer \"Quay 4\";", "A foot");
    let subjects = |name: &str| {
        let (status, told) = shown(at, &["history", name, "--format", "json"]);
        assert_eq!(status, Some(0), "{told}");
        let told: Value = serde_json::from_str(&told).expect("JSON");
        let rows = told["rows"].as_array().expect("rows").iter();
        let rows = rows.inspect(|row| assert_eq!(row["has_errors"], false, "{row:#}"));
        rows.map(|row| row["subject"].as_str().expect("a text").to_owned()).collect::<Vec<_>>()
    };
    let first = "Hold a course, and open on Saturdays";
    assert_eq!(subjects("week-one"), ["Say how", "Wetter levain", "More salt", first]);
    // What is baked on Sunday takes of Saturday's culture.
    assert_eq!(
        subjects("saturday"),
        ["Open later", "More on Sundays", "Sooner", "Wetter levain", "More salt", first]
    );
    // What is begun on Saturday keeps Saturday's hours.
    assert_eq!(
        subjects("sunday"),
        ["Open later", "More on Sundays", "Sooner", "Wetter levain", "More salt", first]
    );
    let (_, told) = shown(at, &["history", "saturday"]);
    for wanted in [
        "Wetter levain  mole-loaf: quay levain: water 80 % → 85 %",
        "More salt  mole-loaf: total: salt 2 % → 2.2 %",
        "Sooner  order mole-loaf 40 loaves by 20:00 → 40 loaves by 19:00",
        "Open later  bakehouse: hours ",
    ] {
        assert!(told.contains(wanted), "{wanted}\n{told}");
    }
    assert!(!told.contains("errors"), "{told}");
    let (_, told) = shown(at, &["uses", "quay", "levain"]);
    for wanted in ["booklet week-one", "day saturday", "day sunday"] {
        assert!(told.contains(wanted), "{told}");
    }
}

fn folder_without() -> tempfile::TempDir {
    let folder = folder();
    write(folder.path(), "a.dough", PLAIN);
    folder
}

/// The codes in the feet of the mole loaf's prints, by the kind of print.
fn codes_of_prints(at: &Path, more: &[&str]) -> BTreeMap<&'static str, String> {
    let (_, code) = foot(at, "mole-loaf", &[]);
    let of = |print: &'static str| {
        let args = ["print", "mole-loaf", "--only", print, "--format", "html", "--to", "-"];
        let done = assize(at, &[&args[..], more].concat());
        assert_eq!(done.status.code(), Some(0), "{print}: {}", err(&done));
        let page = out(&done);
        let place = page.find(&code[..5]).unwrap_or_else(|| panic!("no code in {page}"));
        (print, page[place..place + 8].to_owned())
    };
    ["sheet", "card", "table"].map(of).into()
}

/// A house's own words and templates are part of how a print is made: what they change has
/// another code, is told by `diff`, and makes what hangs on the wall old.
#[test]
fn what_a_house_brings_to_its_prints_changes_their_codes_and_is_told() {
    let folder = repository(&[]);
    let at = folder.path();
    let before = codes_of_prints(at, &[]);
    let french = codes_of_prints(at, &["--language", "fr"]);
    let with_card = "#import \"common.typ\": *\n#include \"card.typ\"\n";
    for (files, changed) in [
        (&[("words.ftl", "print-in-all = all of it\n")][..], &["sheet", "card", "table"][..]),
        (&[("words.ftl", "print-in-all = everything\n")], &["sheet", "card", "table"]),
        (&[("sheet.typ", "#import \"common.typ\": *\n")], &["sheet"]),
        (&[("card.typ", "#import \"common.typ\": *\n")], &["card"]),
        (&[("sheet.typ", with_card), ("card.typ", "Our card.\n")], &["sheet", "card"]),
        (&[("common.typ", "#let weight(it) = it\n")], &["sheet", "card", "table"]),
        (&[("plan.typ", "#import \"common.typ\": *\n")], &[]),
        (&[("signs/wheat.svg", "<svg/>\n")], &["sheet", "card", "table"]),
        (&[("signs/wheat.png", "\u{0}\u{1}\n")], &["sheet", "card", "table"]),
    ] {
        for (name, text) in files {
            write(at, &format!("templates/{name}"), text);
        }
        let (_, told) = shown(at, &["diff"]);
        let (name, _) = files[0];
        let said = if name == "words.ftl" { "words print-in-all “" } else { name };
        assert!(told.contains(said), "{name}: {told}");
        assert!(told.contains("touches mole-loaf, pier-loaf"), "{name}: {told}");
        let (_, back) = shown(at, &["diff", "HEAD", "HEAD"]);
        assert_eq!(back, "no change in meaning\n");
        let is_draft = foot(at, "mole-loaf", &[]).0 == "draft";
        assert_eq!(is_draft, changed.contains(&"sheet"), "{name}: what it prints is in no commit");
        let after = codes_of_prints(at, &[]);
        for (print, code) in &before {
            let is_other = changed.contains(print);
            assert_eq!(after[print] != *code, is_other, "{name}: {print}");
            assert_eq!(after[print][..5], code[..5], "what is baked is the same");
            let (status, told) = shown(at, &["check", "--pinned", code]);
            assert_eq!(status, Some(i32::from(is_other)), "{name}, {print}: {told}");
            if is_other {
                assert!(told.contains("sheet-out-of-date") && told.contains(said), "{told}");
            }
            let (status, told) = shown(at, &["check", "--pinned", &after[print]]);
            assert_eq!((status, told.contains("is current")), (Some(0), true), "{told}");
            for code in [code, &after[print]] {
                let (_, told) = shown(at, &["trace", code]);
                let wanted = format!("mole-loaf: {print} in en, metric  [");
                assert!(told.starts_with(&wanted), "{name}: {told}");
            }
        }
        // In another language a house's own words stand nowhere.
        let other = codes_of_prints(at, &["--language", "fr"]);
        assert_eq!(other == french, name == "words.ftl" || changed.is_empty(), "{name}");
        fs::remove_dir_all(at.join("templates")).expect("removed");
    }
    // How the words are laid out is no matter.
    write(at, "templates/words.ftl", "print-in-all = all of it\nprint-each = apiece\n");
    let words = codes_of_prints(at, &[]);
    write(
        at,
        "templates/words.ftl",
        "# Ours.\r\n\r\nprint-each  =  apiece\r\nprint-in-all = all of it",
    );
    assert_eq!(codes_of_prints(at, &[]), words);
    // What was committed with them is found when they are gone.
    commit(at, "Speak as we do");
    let (status, told) = shown(at, &["diff", "HEAD~1", "HEAD", "--format", "json"]);
    assert_eq!(status, Some(0), "{told}");
    let told: Value = serde_json::from_str(&told).expect("JSON");
    assert_eq!(told["shared"][0]["kind"], "bakehouse");
    assert_eq!(told["shared"][0]["says"].as_array().map(Vec::len), Some(2), "{told:#}");
    fs::remove_dir_all(at.join("templates")).expect("removed");
    commit(at, "Speak as everybody does");
    for (print, code) in &words {
        let (_, told) = shown(at, &["trace", code]);
        assert!(told.starts_with(&format!("mole-loaf: {print} in en, metric  [")), "{told}");
        let (status, told) = shown(at, &["check", "--pinned", code]);
        assert_eq!(
            (status, told.contains("words print-each “apiece”, gone")),
            (Some(1), true),
            "{told}"
        );
    }
}

/// The code of a booklet's or a day's page.
fn code_of_handout(at: &Path, booklet: &str, more: &[&str]) -> String {
    let args = ["print", booklet, "--format", "html", "--to", "-"];
    let done = assize(at, &[&args[..], more].concat());
    assert_eq!(done.status.code(), Some(0), "{booklet}: {}", err(&done));
    let page = out(&done);
    let words = page.split(|it: char| !it.is_ascii_alphanumeric());
    let is_code = |word: &&str| {
        let is_ours = |it: char| it.is_ascii_uppercase() || it.is_ascii_digit();
        word.len() == 8 && word.chars().all(is_ours)
    };
    let told = |code: &&str| shown(at, &["trace", code]).1.starts_with(&format!("{booklet}:"));
    words.filter(is_code).find(told).unwrap_or_else(|| panic!("no code in {page}")).to_owned()
}

/// A house's logo and fonts are part of how each of its prints is made, and a picture is part of
/// the booklet that shows it: another picture has another code, is told, and makes what hangs on
/// the wall old; what was printed with the old one is found where it was printed.
#[test]
fn pictures_and_fonts_are_in_the_codes_of_what_they_stand_on() {
    let folder = house_with_handouts();
    let at = folder.path();
    let drawn = |colour: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><rect width=\"9\" \
             height=\"9\" fill=\"{colour}\"/></svg>\n"
        )
    };
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &house.replace("scale 1 g }", "scale 1 g; logo \"sign.svg\" }"));
    let week =
        "booklet week-two \"Week two\" {\n  picture \"ripe.svg\" \"Ripe\"\n  card mole-loaf\n}\n";
    write(at, "course/week.dough", week);
    for file in ["sign.svg", "course/ripe.svg"] {
        write(at, file, &drawn("#123456"));
    }
    write(at, "fonts/Quay.otf", "OTTO one");
    commit(at, "Draw a sign and a ripe levain");
    let all = || {
        let mut codes = codes_of_prints(at, &[]);
        codes.insert("week-one", code_of_handout(at, "week-one", &[]));
        codes.insert("week-two", code_of_handout(at, "week-two", &[]));
        codes
    };
    let before = all();
    let everything: Vec<&str> = before.keys().copied().collect();
    for (file, text, changed, said) in [
        ("sign.svg", drawn("#654321"), everything.clone(), "picture sign.svg"),
        ("fonts/Quay.otf", "OTTO two".to_owned(), everything.clone(), "font fonts/Quay.otf"),
        ("fonts/More.otf", "OTTO more".to_owned(), everything.clone(), "font fonts/More.otf"),
        ("course/ripe.svg", drawn("#654321"), vec!["week-two"], "picture ripe.svg"),
    ] {
        let was = fs::read(at.join(file)).ok();
        write(at, file, &text);
        let (_, told) = shown(at, &["diff"]);
        assert!(told.contains(said), "{file}: {told}");
        assert!(told.contains("booklet week-two"), "{file}: {told}");
        assert_eq!(told.contains("mole-loaf"), changed.contains(&"sheet"), "{file}: {told}");
        assert_eq!(shown(at, &["diff", "HEAD", "HEAD"]).1, "no change in meaning\n");
        let is_draft = foot(at, "mole-loaf", &[]).0 == "draft";
        assert_eq!(is_draft, changed.contains(&"sheet"), "{file}: what it prints is in no commit");
        let after = all();
        for (print, code) in &before {
            let is_other = changed.contains(print);
            assert_eq!(after[print] != *code, is_other, "{file}: {print}");
            assert_eq!(after[print][..5], code[..5], "what is baked is the same");
            for code in [code, &after[print]] {
                let (status, told) = shown(at, &["trace", code]);
                let is_found = status == Some(0) && !told.contains("other settings");
                assert!(is_found, "{file}, {print}: {told}");
            }
            let (status, told) = shown(at, &["check", "--pinned", code]);
            assert_eq!(status, Some(i32::from(is_other)), "{file}, {print}: {told}");
            assert_eq!(told.contains(said), is_other, "{file}, {print}: {told}");
        }
        match was {
            Some(bytes) => fs::write(at.join(file), bytes).expect("written"),
            None => fs::remove_file(at.join(file)).expect("removed"),
        }
        assert_eq!(all(), before, "{file}: as it was");
    }
}

/// How a house printed is looked for where the print was made, not only as it prints now.
#[test]
fn a_print_is_told_as_the_house_made_it_then() {
    let folder = repository(&[]);
    let at = folder.path();
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    let mut made = Vec::new();
    for setting in [
        "",
        "; footer \"Quay 4\"",
        "; paper a5",
        "; language de",
        "; units US; volumes beside weights",
    ] {
        write(
            at,
            "house.dough",
            &house.replace("{ scale 1 g }", &format!("{{ scale 1 g{setting} }}")),
        );
        if !setting.is_empty() {
            commit(at, &format!("Say {setting}."));
        }
        made.push((setting, codes_of_prints(at, &[])));
    }
    for (setting, codes) in made {
        let language = if setting.contains("language") { "de" } else { "en" };
        let units = if setting.contains("units") { "US" } else { "metric" };
        let volumes = if setting.contains("volumes") { ", with volumes" } else { "" };
        for (print, code) in codes {
            let wanted = format!("mole-loaf: {print} in {language}, {units}{volumes}  [");
            let (_, told) = shown(at, &["trace", &code]);
            assert!(told.starts_with(&wanted), "{setting}: {told}");
        }
    }
}

/// Each thing that makes a plan another one gives it another code, and nothing else does.
#[test]
fn the_times_of_a_plan_are_in_its_code() {
    let folder = house_with_handouts();
    let at = folder.path();
    let code = |args: &[&str]| {
        let args = [&["plan", "mole-loaf", "--zone", "Europe/Vienna", "--format", "json"], args];
        let done = assize(at, &args.concat());
        assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
        let json: Value = serde_json::from_slice(&done.stdout).expect("JSON");
        json["trace"]["code"].as_str().expect("a code").to_owned()
    };
    let ready = ["--ready", "2026-12-05 07:00"];
    let plain = code(&ready);
    assert_eq!(code(&ready), plain);
    let mut seen = vec![plain.clone()];
    for args in [
        &["--ready", "2026-12-05 08:00"][..],
        &["--ready", "saturday 07:00"],
        &["--start", "2026-12-05 07:00"],
        &["--ready", "2026-12-05 07:00", "--awake", "00:00..23:00"],
        &["--ready", "2026-12-05 07:00", "--grid", "15min"],
        &["--ready", "2026-12-05 07:00", "--room", "26C"],
        &["--ready", "2026-12-05 07:00", "--makes", "8 loaves"],
    ] {
        let other = code(args);
        assert_eq!(other[..5], plain[..5], "{args:?}");
        assert!(!seen.contains(&other), "{args:?}");
        let (status, told) = shown(at, &["trace", &other]);
        assert_eq!(status, Some(0), "{told}");
        // A date and hours of one's own can't be guessed; a time of the clock can.
        let wanted = match args {
            ["--ready", "saturday 07:00"] => "perhaps plan in en, metric, ready sat 07:00",
            _ => "mole-loaf: perhaps a plan with dates or times of its own",
        };
        assert!(told.contains(wanted), "{args:?}: {told}");
        seen.push(other);
    }
    let room = code(&["--ready", "2026-12-05 07:00", "--room", "78.8F"]);
    assert_eq!(room, seen[6], "the same room in other degrees");
}

/// What is asked for of a print that the house makes by itself is found again, with all else
/// that ends in the same three letters; an ending that nothing has is told as such.
#[test]
fn a_code_is_told_as_far_as_its_three_letters_go() {
    let folder = repository(&[]);
    let at = folder.path();
    for (more, wanted) in [
        (&["--language", "it"][..], "sheet in it, metric"),
        (&["--language", "de"], "sheet in de, metric"),
        (&["--makes", "60 loaves"], "sheet in en, metric, for 60 loaves at 800 g"),
        (&["--makes", "17 loaves"], "sheet in en, metric, for 17 loaves at 800 g"),
        // The same print, however it was asked for.
        (&["--makes", "20 kg dough"], "sheet in en, metric, for 25 loaves at 800 g"),
    ] {
        let code = codes_of_prints(at, more)["sheet"].clone();
        let (status, told) = shown(at, &["trace", &code]);
        assert_eq!(status, Some(0), "{more:?}: {told}");
        assert!(told.starts_with("mole-loaf: "), "{more:?}: {told}");
        assert!(told.contains(wanted), "{more:?}: {told}");
    }
    let (revision, code) = foot(at, "mole-loaf", &[]);
    let plain = shown(at, &["trace", &code]).1;
    assert_eq!(shown(at, &["trace", &format!("{revision} · {code}")]).1, plain);
    // A commit that is not there is told of.
    let (status, told) = shown(at, &["trace", &format!("deadbee · {code}")]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains("there is no commit deadbee here"), "{told}");
    let five = shown(at, &["trace", &code[..5]]);
    assert_eq!(five.0, Some(0), "{}", five.1);
    assert!(five.1.starts_with("mole-loaf: the five letters of what is made"), "{}", five.1);
    // Of endings that nobody printed most are told as unknown.
    let letters = "0123456789ACDEFGHJKMNPRTVWXY";
    let mut unknown = 0;
    for at_letter in 0..28 {
        let ending: String = [1, 11, 17]
            .map(|step| letters.as_bytes()[at_letter * step % 28] as char)
            .iter()
            .collect();
        let (_, told) = shown(at, &["trace", &format!("{}{ending}", &code[..5])]);
        unknown += usize::from(told.contains(&format!("no print known here ends in {ending}")));
    }
    assert!(unknown >= 18, "{unknown}");
    // What nothing prints can't be called current.
    let mut unknown = letters
        .chars()
        .map(|it| format!("{}X{it}X", &code[..5]))
        .filter(|code| shown(at, &["trace", code]).1.contains("no print known here ends in"));
    let unknown = unknown.next().expect("one that nothing prints");
    let (status, told) = shown(at, &["check", "--pinned", &unknown]);
    assert_eq!(status, Some(1), "{told}");
    assert!(told.contains("it can't be told whether the paper is current"), "{told}");
    let (status, told) = shown(at, &["trace", "BBBBBBBB"]);
    assert_eq!(status, Some(1));
    assert!(told.contains("nothing here prints 88888888, as `BBBBBBBB` is read"), "{told}");
}

/// A print of another branch is found, and so is one of a house that has moved since.
#[test]
fn codes_lead_to_other_branches_and_to_where_a_house_stood() {
    let folder = repository(&[]);
    let at = folder.path();
    git(at, &["checkout", "-q", "-b", "trial"]);
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    write(at, "mole-loaf.dough", &loaf.replace("salt 2%", "salt 1.8%"));
    commit(at, "Try less salt");
    let (_, code) = foot(at, "mole-loaf", &[]);
    git(at, &["checkout", "-q", "main"]);
    let (status, told) = shown(at, &["trace", &code]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("only on other branches") && told.contains("Try less salt"), "{told}");
    assert_eq!(shown(at, &["check", "--pinned", &code]).0, Some(1));
    let (_, code) = foot(at, "mole-loaf", &[]);
    let before = shown(at, &["history", "mole-loaf"]).1;
    for file in ["house.dough", "mole-loaf.dough", "pier-loaf.dough"] {
        fs::create_dir_all(at.join("sub")).expect("made");
        fs::rename(at.join(file), at.join("sub").join(file)).expect("moved");
    }
    commit(at, "Move the house");
    let below = at.join("sub");
    assert_eq!(shown(&below, &["history", "mole-loaf"]).1, before);
    assert_eq!(shown(at, &["history", "mole-loaf"]).1, before);
    let told = shown(&below, &["trace", &code]).1;
    assert!(told.contains("Make the levain stiffer"), "{told}");
    // A bare repository is judged by its last commit.
    let bare = folder_without();
    git(bare.path(), &["clone", "-q", "--bare", &at.display().to_string(), "here.git"]);
    let bare = bare.path().join("here.git");
    let (status, told) = shown(&bare, &["check", "--pinned", &code]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("is current: mole-loaf"), "{told}");
}

/// A formula that stands beside another one was never called like that one.
#[test]
fn a_history_takes_nothing_from_a_formula_that_lives_on() {
    let folder = repository(&[]);
    let at = folder.path();
    let copy = PLAIN.replace("pier-loaf \"Pier Loaf\"", "new-loaf \"New Loaf\"");
    write(at, "new-loaf.dough", &copy.replace("74%", "60%"));
    commit(at, "Bake another");
    let (_, told) = shown(at, &["history", "new-loaf"]);
    assert_eq!(told.lines().count(), 1, "{told}");
    assert!(told.contains("Bake another") && !told.contains("→"), "{told}");
    write(at, "new-loaf.dough", &copy.replace("74%", "61%"));
    commit(at, "Wetter");
    fs::remove_file(at.join("new-loaf.dough")).expect("removed");
    commit(at, "Bake it no more");
    write(at, "new-loaf.dough", &copy.replace("74%", "61%"));
    commit(at, "Bake it again");
    let (_, told) = shown(at, &["history", "new-loaf"]);
    let subjects = [
        "Bake it again  back",
        "Bake it no more  gone",
        "Wetter  hydration 60 → 61 %",
        "Bake another",
    ];
    for (line, subject) in told.lines().zip(subjects) {
        assert!(line.contains(subject), "{subject}: {told}");
    }
    assert!(!told.contains("Pier"), "{told}");
}

/// Both sides of a merge stand in a history, the merge as such, and the course is that of the
/// branch that was merged into.
#[test]
fn a_merge_is_told_as_one() {
    let folder = repository(&[]);
    let at = folder.path();
    let with = |water: &str, weight: &str| PLAIN.replace("74%", water).replace("at 885 g", weight);
    assert_ne!(with("74%", "at 910 g"), PLAIN);
    git(at, &["checkout", "-q", "-b", "wetter"]);
    write(at, "pier-loaf.dough", &with("76%", "at 885 g"));
    commit(at, "Wetter");
    git(at, &["checkout", "-q", "main"]);
    write(at, "pier-loaf.dough", &with("74%", "at 910 g"));
    commit(at, "Heavier");
    git(at, &["merge", "-q", "--no-commit", "-s", "ours", "wetter"]);
    write(at, "pier-loaf.dough", &with("76%", "at 910 g"));
    commit(at, "Bring both together");
    let (_, told) = shown(at, &["history", "pier-loaf", "--format", "json"]);
    let told: Value = serde_json::from_str(&told).expect("JSON");
    let marks = |subject: &str| {
        let rows = told["rows"].as_array().expect("rows");
        let row = rows.iter().find(|row| row["subject"] == subject).expect("a row");
        (row["is_merge"] == true, row["on_a_branch"] == true)
    };
    assert_eq!(marks("Bring both together"), (true, false));
    assert_eq!(marks("Wetter"), (false, true));
    assert_eq!(marks("Heavier"), (false, false));
    assert!(shown(at, &["history", "pier-loaf"]).1.contains("Bring both together (merge)"));
    // A course is drawn through the rows of the trunk and its merges.
    let (_, csv) = shown(at, &["history", "pier-loaf", "--format", "csv", "--figures", "salt"]);
    for (subject, line) in
        [("Bring both together", "merge"), ("Wetter", "branch"), ("Heavier", "trunk")]
    {
        assert!(csv.contains(&format!(",{subject},pier-loaf,sound,{line},")), "{csv}");
    }
}

/// A number that a text takes from another formula is told where it is printed, and a sheet on
/// which nothing changed stays up.
#[test]
fn numbers_of_others_in_a_text_are_told_and_nothing_else_is() {
    let folder = repository(&[]);
    let at = folder.path();
    let open = PLAIN.trim_end().strip_suffix('}').expect("a block");
    write(
        at,
        "pier-loaf.dough",
        &format!("{open}  headnote \"As much water as [water of mole-loaf].\"\n}}\n"),
    );
    commit(at, "Speak of the other");
    let (_, code) = foot(at, "pier-loaf", &[]);
    let card = ["print", "pier-loaf", "--only", "card", "--format", "html", "--to", "-"];
    let card = out(&assize(at, &card));
    let place = card.find(&code[..5]).expect("a code");
    let card = card[place..place + 8].to_owned();
    let loaf = fs::read_to_string(at.join("mole-loaf.dough")).expect("readable");
    write(
        at,
        "mole-loaf.dough",
        &loaf.replace("20% of flour }\n}", "20% of flour }\n  storage \"In a box.\"\n}"),
    );
    let (_, told) = shown(at, &["diff"]);
    assert!(!told.contains("pier-loaf  by"), "{told}");
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!(status, Some(0), "{told}");
    let house = fs::read_to_string(at.join("house.dough")).expect("readable");
    write(at, "house.dough", &house.replace("water 80%", "water 90%"));
    write(at, "mole-loaf.dough", &loaf.replace("water 70%", "water 75%"));
    let (_, told) = shown(at, &["diff", "--sheets"]);
    assert!(told.contains("headnote: ~~As much water as "), "{told}");
    // A card shows that text, and a sheet does not.
    let (status, told) = shown(at, &["check", "--pinned", &code]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.contains("nothing on it has changed"), "{told}");
    let (status, told) = shown(at, &["check", "--pinned", &card]);
    assert_eq!(status, Some(1), "{told}");
}

/// Copies and seats of a booklet show other numbers, and cards in it are those that it shows.
#[test]
fn each_copy_and_each_seat_of_a_booklet_has_a_code_of_its_own() {
    let folder = house_with_handouts();
    let at = folder.path();
    write(
        at,
        "week.dough",
        "booklet week-two \"Week two\" {\n  units US\n  variants 3\n  card mole-loaf\n  \
         worksheet mole-loaf { scale for 7 loaves }\n  teacher { answers }\n}\n",
    );
    let mut booklet = String::new();
    for (more, large) in [(&[][..], ""), (&["--large"], ", large")] {
        let done = assize(at, &[&["print", "week-two"], more].concat());
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
        let mut seen = BTreeSet::new();
        for (file, wanted) in [
            ("week-two.pdf", "learner's copy"),
            ("week-two-seat-2.pdf", "learner's copy, seat 2"),
            ("week-two-seat-3.pdf", "learner's copy, seat 3"),
            ("week-two-teacher.pdf", "teacher's copy"),
        ] {
            let pdf = at.join("prints").join(file);
            let codes = if large.is_empty() { codes_in(&pdf) } else { codes_of(&pdf, &booklet) };
            let told: Vec<String> = codes.iter().map(|it| shown(at, &["trace", it]).1).collect();
            let perhaps = if large.is_empty() { "" } else { "perhaps " };
            let wanted =
                format!("week-two: {perhaps}booklet in en, US, {wanted}{large}  [week.dough]");
            let own = codes.iter().zip(&told).filter(|(_, told)| told.starts_with(&wanted));
            // It stands in the foot of each page.
            let own: BTreeSet<&String> = own.map(|(code, _)| code).collect();
            assert_eq!(own.len(), 1, "{wanted}: {told:?}");
            seen.extend(own.into_iter().cloned());
            let wanted = "mole-loaf: card in en, US  [mole-loaf.dough]";
            let is_card = told.iter().any(|it| it.starts_with(wanted));
            assert!(is_card || !large.is_empty(), "{file}: {told:?}");
            for code in codes.iter().collect::<BTreeSet<_>>() {
                assert_eq!(shown(at, &["check", "--pinned", code]).0, Some(0), "{file}: {code}");
            }
        }
        assert_eq!(seen.len(), 4, "{seen:?}");
        booklet = seen.first().map(|code| code[..5].to_owned()).expect("a code");
    }
}

/// The codes of one meaning in the feet of a PDF.
fn codes_of(pdf: &Path, meaning: &str) -> Vec<String> {
    let page = pdf_extract::extract_text(pdf).expect("text");
    let words = page.split_whitespace().filter(|it| it.len() == 8 && it.starts_with(meaning));
    words.map(str::to_owned).collect()
}

/// Before the first commit there is no history, and what the files print is found all the same.
#[test]
fn a_repository_without_a_commit_is_told_and_traces_the_files_as_they_are() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    write(at, "pier-loaf.dough", PLAIN);
    let (revision, code) = foot(at, "pier-loaf", &[]);
    assert_eq!(revision, "draft");
    let (status, told) = shown(at, &["trace", &code]);
    assert_eq!(status, Some(0), "{told}");
    assert!(told.starts_with("pier-loaf: sheet in en, metric"), "{told}");
    assert_eq!(shown(at, &["check", "--pinned", &code]).0, Some(0));
    for args in [&["diff"][..], &["history", "pier-loaf"], &["diff", "pier-loaf"]] {
        let (status, told) = shown(at, args);
        assert_eq!(status, Some(2), "{args:?}: {told}");
        assert_eq!(told, "assize: this git repository has no commit yet\n", "{args:?}");
    }
}

/// What the next day bakes is in a day's code as far as cultures are made for it, and no tin is
/// that no bread of the day is baked in.
#[test]
fn the_next_day_counts_by_the_cultures_that_it_takes() {
    let folder = folder();
    let at = folder.path();
    git(at, &["init", "-q"]);
    let house = "bakehouse \"Gullhaven Bakehouse\" { scale 1 g; hours 00:00..24:00 with 3; \
        tin chandler { holds 2.4 l; 3.2 ml per g }; tin lighter { holds 1.6 l; 1.6 ml per g } }\n\
        culture dock culture { bread flour 100%; water 100% }\n\
        preferment dock levain { bread flour 100%; water 100%; dock culture 20%; ripens 8h at 22C; keeps 3h }\n\
        mixture seed mix { sunflower seeds 3 parts; flax seeds 2 parts }\n";
    let loaf = |name: &str, more: &str| {
        format!(
            "formula {name} \"{name}\" {{\n  makes 4 loaves at 800 g{more}\n  total {{ bread flour 100%; \
             water 70%; salt 2%; seed mix 5% }}\n  preferment dock levain {{ ferments 20% of flour }}\n  \
             method {{ mix 8min with everything; bulk 2h at 24C; bake 40min at 235C }}\n}}\n"
        )
    };
    let days = "day friday \"Friday\" { order pier-loaf 4 loaves by 20:00 }\n\
        day saturday \"Saturday\" { order tin-loaf 8 loaves by 20:00 }\n";
    let base =
        format!("{house}{}{}{days}", loaf("pier-loaf", ""), loaf("tin-loaf", " in chandler"));
    let code = |text: &str, day: &str| {
        write(at, "a.dough", text);
        code_of_handout(at, day, &["--only", "packing"])
    };
    let last = |text: &str, was: &str, is: &str| {
        let at = text.rfind(was).expect("it is there");
        format!("{}{is}{}", &text[..at], &text[at + was.len()..])
    };
    write(at, "a.dough", &base);
    commit(at, "First");
    let (friday, saturday) = (code(&base, "friday"), code(&base, "saturday"));
    for (text, of_friday, of_saturday) in [
        (last(&base, "at 235C", "at 230C"), false, true),
        (base.replace("holds 2.4 l", "holds 2.6 l"), false, true),
        (base.replace("holds 1.6 l", "holds 1.7 l"), false, false),
        (last(&base, "water 70%", "water 71%"), true, true),
        (base.replace("dock culture 20%", "dock culture 21%"), true, true),
        (base.replace("tin-loaf 8 loaves", "tin-loaf 9 loaves"), true, true),
        (base.replacen("at 235C", "at 230C", 1), true, false),
    ] {
        let after = (code(&text, "friday"), code(&text, "saturday"));
        assert_eq!(after.0[..5] != friday[..5], of_friday, "{text}");
        assert_eq!(after.1[..5] != saturday[..5], of_saturday, "{text}");
        let (_, told) = shown(at, &["diff"]);
        if !of_friday {
            assert!(!told.contains("day friday"), "{told}");
        }
        let (status, told) = shown(at, &["check", "--pinned", &friday]);
        assert_eq!(status, Some(i32::from(of_friday)), "{text}: {told}");
    }
}

/// A day is planned around those that are printed before it in the same run.
#[test]
fn a_day_printed_after_another_has_a_code_of_its_own() {
    let folder = house_with_handouts();
    let at = folder.path();
    for args in [&["saturday", "sunday", "--to", "both"][..], &["sunday", "--to", "alone"]] {
        let done = assize(at, &[&["print"], args].concat());
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    }
    let code = |file: &str| codes_in(&at.join(file)).first().cloned().expect("a code");
    let (both, alone) = (code("both/sunday.pdf"), code("alone/sunday.pdf"));
    assert_eq!(both[..5], alone[..5]);
    assert_ne!(both, alone);
    assert!(shown(at, &["trace", &both]).1.starts_with("sunday: no print known here ends in "));
    assert!(shown(at, &["trace", &alone]).1.starts_with("sunday: day in en, metric  ["));
}
