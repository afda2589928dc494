//! Amounts, times and verbs as people write them: what `fmt` makes of each, and that it
//! means the same before and after. The table is `tests/words/quantities.txt`.

use crate::support::{Memory, dough_files, top};
use assize::testing::desk::{self, load};
use assize::testing::diag::{Level, repaired};
use assize::testing::print::{Wording, document, json};
use assize::testing::quantity::display::trimmed;
use assize::testing::source::SourceId;
use assize::testing::syntax::tree::{Amount, Extent, Step, Tree};
use assize::testing::syntax::{format, read};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

const FILE: SourceId = SourceId(9);

/// A line of the table.
struct Row {
    kind: String,
    written: String,
    canonical: String,
    meaning: String,
}

fn table() -> Vec<Row> {
    let text = fs::read_to_string("tests/words/quantities.txt").expect("readable");
    let (mut rows, mut kind) = (Vec::new(), String::new());
    for line in text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        if let Some(head) = line.strip_prefix('[') {
            kind = head.trim_end_matches(']').to_owned();
            continue;
        }
        let parts: Vec<&str> = line.split(" => ").collect();
        let [written, canonical, meaning] = parts.as_slice() else { panic!("{line}") };
        rows.push(Row {
            kind: kind.clone(),
            written: (*written).to_owned(),
            canonical: (*canonical).to_owned(),
            meaning: (*meaning).to_owned(),
        });
    }
    rows
}

/// A file in which only what is written here is of interest, on a line of its own.
fn frame(kind: &str, written: &str) -> String {
    let dough = "  dough {\n    bread flour 500 g\n  }\n";
    match kind {
        "line" => {
            format!(
                "formula quay-loaf {{\n  dough {{\n    bread flour 500 g\n{written}\n  }}\n}}\n"
            )
        }
        "makes" => {
            let total = "  total {\n    bread flour 100%\n    water 70%\n  }\n";
            format!("formula quay-loaf {{\nmakes {written}\n{total}}}\n")
        }
        "time" => format!("formula quay-loaf {{\n{dough}  method {{\nbulk {written}\n  }}\n}}\n"),
        "oven" => {
            format!("formula quay-loaf {{\n{dough}  method {{\nbake 20min {written}\n  }}\n}}\n")
        }
        _ => format!("formula quay-loaf {{\n{dough}  method {{\n{written}\n  }}\n}}\n"),
    }
}

fn laid_out(text: &str) -> String {
    format(FILE, text).unwrap_or_else(|why| panic!("{why:?}: {text}"))
}

/// What `fmt` made of the line of a frame, its blanks one each.
fn line_of(kind: &str, text: &str) -> String {
    let before = match kind {
        "line" => "bread flour 500 g",
        "makes" => "formula quay-loaf {",
        _ => "method {",
    };
    let one = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
    let lines: Vec<String> = text.lines().map(one).collect();
    let at = lines.iter().position(|line| line == before).expect("the line before");
    let line = lines.get(at + 1).expect("a line").as_str();
    let prefix = match kind {
        "makes" => "makes ",
        "time" => "bulk ",
        "oven" => "bake 20min ",
        _ => "",
    };
    line.strip_prefix(prefix).unwrap_or(line).to_owned()
}

fn step(tree: &Tree) -> &Step {
    let method = tree.formulas[0].method.as_ref().expect("a method");
    method.steps.first().expect("a step")
}

/// The ends of an extent in base units.
fn ends(extent: &Extent) -> String {
    let base = |end: &Option<_>| {
        end.as_ref().map(|end: &assize::testing::syntax::tree::Quantity| {
            trimmed(&end.unit.to_base(&end.number, Default::default()), 4)
        })
    };
    match (base(&extent.low), base(&extent.high)) {
        (Some(low), Some(high)) if low == high => low,
        (low, high) => format!("{}..{}", low.unwrap_or_default(), high.unwrap_or_default()),
    }
}

/// The document of the only formula of a text, as JSON.
fn shown(text: &str) -> serde_json::Value {
    let path = PathBuf::from("/x/a.dough");
    let file_system = Memory([(path.clone(), text.as_bytes().to_vec())].into());
    let loaded = load(&file_system, Path::new("/x"), &[path]);
    let houses = desk::bakehouses(&loaded);
    let house = houses.first().expect("a house");
    let formula = &house.files[0].tree.formulas[0];
    let worked = assize::testing::formula::work(&house.house, formula, &mut Vec::new());
    let made = document(&house.house, &worked, &Wording::plain(), false);
    serde_json::from_str(&json(&made)).expect("JSON")
}

/// Grams with four digits behind the point, from the exact fraction of the document.
fn grams(value: &serde_json::Value) -> Option<String> {
    let exact = value.as_str()?;
    let number = assize::testing::quantity::display::read_exact(exact).expect("a number");
    Some(trimmed(&number, 4))
}

fn meaning(kind: &str, text: &str) -> String {
    let (tree, findings) = read(FILE, text);
    let errors: Vec<&str> = findings
        .iter()
        .filter(|finding| finding.level == Level::Error)
        .map(|finding| finding.message.as_str())
        .collect();
    if !errors.is_empty() {
        return errors.join("; ");
    }
    match kind {
        "line" => {
            let document = shown(text);
            let mixes = document["mixes"].as_array().expect("mixes");
            let lines = mixes.last().expect("a mix")["lines"].as_array().expect("lines");
            let line = lines.last().expect("a line");
            let low = grams(&line["weight"]["grams"]);
            match (low, grams(&line["grams_high"])) {
                (None, _) => "none".to_owned(),
                (Some(low), Some(high)) if low != high => format!("{low}..{high}"),
                (Some(low), _) => low,
            }
        }
        "makes" => grams(&shown(text)["yield"]["dough"]["grams"]).expect("a weight"),
        "time" => ends(step(&tree).phases[0].duration.as_ref().expect("a time")),
        "oven" => ends(step(&tree).phases[0].at.as_ref().expect("a temperature")),
        _ => step(&tree).verb.word().to_owned(),
    }
}

#[test]
fn what_people_write_is_read_and_written_in_our_words() {
    let (mut wrong, rows) = (Vec::new(), table());
    for Row { kind, written, canonical, meaning: meant } in &rows {
        let text = frame(kind, written);
        let once = laid_out(&text);
        let (found, means) = (line_of(kind, &once), meaning(kind, &text));
        if found != *canonical || means != *meant {
            wrong.push(format!("{written} => {found} => {means}, not {canonical} => {meant}"));
        }
        if laid_out(&once) != once {
            wrong.push(format!("{written}: a second run changes it again"));
        }
        if meaning(kind, &once) != means {
            wrong.push(format!("{written}: `fmt` changes what it means"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(rows.len() >= 150, "{} rows", rows.len());
}

/// Every amount, time and temperature of a file that can be read: where it is and how much.
fn amounts(tree: &Tree) -> Vec<String> {
    let mut all = Vec::new();
    for formula in &tree.formulas {
        let own = &formula.name.key;
        let stages = formula.stages.iter().map(|stage| (stage.name.key.as_str(), &stage.mix));
        let blocks = [("total", &formula.total), ("dough", &formula.dough)];
        let blocks = blocks.into_iter().filter_map(|(name, mix)| Some((name, mix.as_ref()?)));
        for (mix, lines) in blocks.chain(stages) {
            for line in &lines.lines {
                if let Amount::Measured { range, .. } = &line.amount {
                    all.push(format!("{own} {mix} {}", ends(range)));
                }
            }
        }
        let methods = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
        for step in methods.chain(&formula.method).flat_map(|method| &method.steps) {
            for phase in &step.phases {
                let said = [&phase.duration, &phase.at, &phase.to];
                all.extend(said.into_iter().flatten().map(|it| format!("{own} {}", ends(it))));
            }
        }
    }
    all.sort();
    all
}

/// A safe repair chooses between no two meanings: what could be read means the same after it.
#[test]
fn safe_repairs_change_no_mass_time_or_temperature() {
    let folders = ["examples/mistakes", "examples/gullhaven", "tests/fallen", "tests/breads"];
    let (mut made, mut wrong) = (0, Vec::new());
    for file in folders.iter().flat_map(|folder| dough_files(folder)) {
        let Ok(text) = fs::read_to_string(&file) else { continue };
        let (tree, findings) = read(FILE, &text);
        let (better, repairs) = repaired(FILE, &text, &findings);
        let (before, mut after) = (amounts(&tree), amounts(&read(FILE, &better).0));
        made += repairs;
        for amount in before {
            match after.iter().position(|other| *other == amount) {
                Some(at) => drop(after.remove(at)),
                None => wrong.push(format!("{}: {amount} is gone", file.display())),
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(made >= 5, "{made} repairs");
}

/// A way to write a part of a file wrongly that a safe repair mends: the file of its finding,
/// what the finding says, and the slip.
type Slip = (&'static str, &'static str, fn(&str) -> Vec<String>);

/// A text with each place of a phrase written otherwise, one place each.
fn each_place(text: &str, phrase: &str, other: &str) -> Vec<String> {
    let places = text.match_indices(phrase).map(|(at, _)| at);
    places.map(|at| format!("{}{other}{}", &text[..at], &text[at + phrase.len()..])).collect()
}

/// Each slip that is mended without asking, by its finding. No file of findings has a safe
/// repair that no slip of it is here for.
const SLIPS: &[Slip] = &[
    ("decimal_comma", "", |text| {
        let digits = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
        let is_point = |at: usize| {
            let more = text[at + 1..].chars().take_while(char::is_ascii_digit).count();
            digits(text[..at].chars().last()) && (1..3).contains(&more)
        };
        let points = text.match_indices('.').map(|(at, _)| at).filter(|at| is_point(*at));
        points.map(|at| format!("{},{}", &text[..at], &text[at + 1..])).collect()
    }),
    ("misplaced_punctuation", "clauses of a step", |text| {
        [("min with ", "min, with "), ("min at ", "min, at "), ("h at ", "h, at ")]
            .iter()
            .flat_map(|(ours, slip)| each_place(text, ours, slip))
            .collect()
    }),
    ("misplaced_punctuation", "separated by", |text| {
        let mut all = each_place(text, "%\n    water ", "%, water ");
        all.extend(each_place(text, "%\n    salt ", "%, salt "));
        all.extend(each_place(text, "; water", ", water"));
        all
    }),
    ("misplaced_punctuation", "ends with a comma", |text| each_place(text, "%\n", "%,\n")),
    ("misplaced_punctuation", "nothing comes after this comma", |text| {
        each_place(text, "everything else\n", "everything else,\n")
    }),
    ("misplaced_punctuation", "between a word and its value", |text| {
        [("total {", "total: {"), ("dough {", "dough: {"), ("    bulk ", "    bulk: ")]
            .iter()
            .chain(&[("  language ", "  language: "), ("  hydration ", "  hydration: ")])
            .chain(&[("  contains ", "  contains: "), ("  room ", "  room = ")])
            .flat_map(|(ours, slip)| each_place(text, ours, slip))
            .collect()
    }),
    ("misplaced_punctuation", "straight quotes", |text| {
        let texts: Vec<&str> = text.split('"').skip(1).step_by(2).collect();
        let plain = texts.into_iter().filter(|it| !it.contains(['\n', '\\', '[']));
        plain.flat_map(|it| each_place(text, &format!("\"{it}\""), &format!("“{it}”"))).collect()
    }),
    ("misplaced_brace", "on a line by itself", |text| {
        let mut all = each_place(text, "total {", "total\n  {");
        all.extend(each_place(text, "method {", "method\n  {"));
        all
    }),
    ("misplaced_statement", "never", |text| {
        let mut all = each_place(text, "    ripens", "    stands");
        all.extend(each_place(text, "    stands", "    ripens"));
        all
    }),
    ("missing_value", "expected a text", |text| {
        let words = ["note", "equipment", "storage", "caution", "source"];
        let begins = words.iter().flat_map(|word| text.match_indices(*word));
        let notes = begins.filter_map(|(at, _)| Some(at + text.get(at..)?.find('"')? + 1));
        let unquoted = notes.filter_map(|at| {
            let (inside, rest) = text.get(at..)?.split_once('"')?;
            let before = text.get(..at)?.strip_suffix('"')?;
            let is_plain = rest.starts_with('\n') && !inside.contains(['\n', '[', '\\']);
            is_plain.then(|| format!("{before}{inside}{rest}"))
        });
        unquoted.collect()
    }),
    ("missing_unit", "what it counts", |text| {
        let mut all = each_place(text, " times every", " every");
        all.extend(each_place(text, "feeds 3 times", "feeds 3"));
        all
    }),
    ("incomplete_statement", "lacks an `of`", |text| each_place(text, "% of water", "% water")),
    ("range_reversed", "", |text| {
        let mut all = each_place(text, "3h..4h", "4h..3h");
        all.extend(each_place(text, "1h..2h", "2h..1h"));
        all
    }),
    ("malformed_number", "powers of ten", |text| each_place(text, " 900 g", " 9e2 g")),
    ("unexpected_text", "does not belong here", |text| {
        let mut all = each_place(text, "  # ", "  // ");
        all.extend(each_place(text, "  # ", "  -- "));
        all
    }),
    ("unexpected_text", "not needed here", |text| {
        let places = text.match_indices("\n  room ").map(|(at, found)| at + found.len());
        places.map(|at| format!("{}temperature {}", &text[..at], &text[at..])).collect()
    }),
    ("unknown_value", "letters of a language", |text| {
        let mut all = each_place(text, "language  en", "language  English");
        all.extend(each_place(text, "language  en", "language  German"));
        all
    }),
    ("reserved_word", "can't be part of a name", |text| {
        each_place(text, "    bread flour ", "    bread in flour ")
    }),
];

/// The name of the finding in a file of findings.
fn rule_of(file: &str) -> String {
    file.replace('_', "-")
}

/// The findings that have a repair which is safe, each once for each such repair, by the
/// files that they stand in.
fn safe_repairs() -> Vec<String> {
    let rooms = ["syntax", "formula", "time", "proof", "bring", "orders", "print", "check", "desk"];
    let folders =
        rooms.iter().flat_map(|room| [format!("src/{room}"), format!("src/{room}/findings")]);
    let files = folders.filter_map(|folder| fs::read_dir(folder).ok()).flatten().flatten();
    let files =
        files.map(|file| file.path()).filter(|path| path.extension().is_some_and(|it| it == "rs"));
    let mut all = Vec::new();
    for path in files {
        let text = fs::read_to_string(&path).expect("readable");
        for (at, _) in text.match_indices(".repair(") {
            let mut depth = 0;
            let end = text[at + 7..].find(|sign| {
                depth += i32::from(sign == '(') - i32::from(sign == ')');
                depth == 0
            });
            let arguments = &text[at..at + 7 + end.expect("a call that ends")];
            let last = arguments.trim_end().trim_end_matches(',').rsplit(',').next();
            if last.is_some_and(|last| last.trim() != "false") {
                all.push(path.file_stem().expect("a name").to_string_lossy().into_owned());
            }
        }
    }
    all.sort();
    all
}

/// Each safe repair of the code has a slip here that it mends.
#[test]
fn every_safe_repair_has_its_slip() {
    let count = |all: &[String], file: &str| all.iter().filter(|it| *it == file).count();
    let known: Vec<String> = SLIPS.iter().map(|(file, ..)| (*file).to_owned()).collect();
    let repairs = safe_repairs();
    assert!(repairs.len() >= 15, "{repairs:?}");
    for file in &repairs {
        assert!(count(&known, file) >= count(&repairs, file), "{file}: a repair without a slip");
    }
    assert!(known.iter().all(|file| repairs.contains(file)), "{known:?} {repairs:?}");
}

/// The list of safe repairs in DEVELOPERS.md: the finding and what it says of each, with a
/// reason.
#[test]
fn no_repair_is_safe_that_the_list_leaves_out() {
    let text = fs::read_to_string(top().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    let section = text.split("\n## Safe repairs\n").nth(1).expect("a section of safe repairs");
    let section = section.split("\n## ").next().unwrap_or_default();
    let rows = section.lines().filter(|line| line.starts_with("| `"));
    let listed: Vec<(String, String)> = rows
        .map(|row| {
            let cells: Vec<&str> = row.trim_matches('|').split(" | ").map(str::trim).collect();
            let [finding, says, _, why] = cells.as_slice() else { panic!("four cells: {row}") };
            assert!(why.len() > 20, "a reason: {row}");
            (finding.trim_matches('`').to_owned(), (*says).to_owned())
        })
        .collect();
    let is_listed = |(file, says, _): &&Slip| {
        listed.iter().any(|(finding, told)| *finding == rule_of(file) && told.contains(says))
    };
    let missing: Vec<_> = SLIPS.iter().filter(|slip| !is_listed(slip)).map(|it| it.0).collect();
    assert!(missing.is_empty(), "{missing:?}");
    let is_known = |(finding, told): &&(String, String)| {
        SLIPS.iter().any(|(file, says, _)| *finding == rule_of(file) && told.contains(says))
    };
    let unknown: Vec<_> = listed.iter().filter(|row| !is_known(row)).collect();
    assert!(unknown.is_empty(), "{unknown:?}");
    assert_eq!(listed.len(), SLIPS.len());
}

/// Each slip of each kind, made in the formulas of the examples and mended, leaves every mass,
/// time and temperature as it was before the slip.
#[test]
fn every_safe_repair_gives_back_what_was_meant() {
    let (mut mended, mut wrong) = (BTreeMap::<_, usize>::new(), Vec::new());
    for file in ["examples/gullhaven", "tests/breads"].iter().flat_map(|it| dough_files(it)) {
        let Ok(text) = fs::read_to_string(&file) else { continue };
        let meant = amounts(&read(FILE, &text).0);
        for (rule, says, slips) in SLIPS {
            for slip in slips(&text) {
                let findings = read(FILE, &slip).1;
                let is_told = findings.iter().any(|it| {
                    it.rule.name == rule_of(rule)
                        && it.message.contains(says)
                        && it.repair.as_ref().is_some_and(|it| it.safe)
                });
                let (better, made) = repaired(FILE, &slip, &findings);
                if !is_told || made == 0 {
                    continue;
                }
                *mended.entry((rule, says)).or_default() += 1;
                if amounts(&read(FILE, &better).0) != meant {
                    wrong.push(format!("{} [{rule}]:\n{better}", file.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let unmade = SLIPS.iter().filter(|(rule, says, _)| !mended.contains_key(&(rule, says)));
    let unmade: Vec<_> = unmade.map(|(rule, says, _)| (rule, says)).collect();
    assert!(unmade.is_empty(), "never made: {unmade:?}");
}

/// What asks is never answered by a repair.
#[test]
fn what_only_the_author_knows_is_left_to_the_author() {
    for (kind, written) in [
        ("oven", "at 450 degrees"),
        ("oven", "at 450°"),
        ("oven", "at 450"),
        ("line", "honey 2 T"),
        ("line", "honey 1 pint"),
        ("line", "honey 1 sachet"),
        ("line", "levain 1:2:2"),
    ] {
        let text = frame(kind, written);
        let findings = read(FILE, &text).1;
        assert_eq!(findings.len(), 1, "{written}");
        assert_eq!(repaired(FILE, &text, &findings), (text, 0), "{written}");
    }
}
