//! The sentences about the rooms of `src/` that DEVELOPERS.md keeps true.

use crate::sources::Sources;
use std::sync::LazyLock;

static SOURCES: LazyLock<Sources> = LazyLock::new(Sources::read);

/// In reading order: each uses only those before it.
const ROOMS: [&str; 14] = [
    "quantity", "source", "diag", "syntax", "formula", "time", "check", "orders", "bring", "proof",
    "print", "desk", "history", "cli",
];

#[test]
fn each_room_uses_only_the_rooms_above_it() {
    let mut wrong = Vec::new();
    for (floor, room) in ROOMS.iter().enumerate() {
        for file in SOURCES.files(room) {
            for path in SOURCES.named_by(file) {
                if path[0] == "crate" && ROOMS[floor + 1..].contains(&path[1].as_str()) {
                    wrong.push(format!("{file} uses {}", path.join("::")));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_files_of_a_room_depend_on_each_other_in_a_circle() {
    let mut wrong = Vec::new();
    for circle in ROOMS.iter().flat_map(|room| SOURCES.circles(room)) {
        for file in &circle {
            for (other, name) in SOURCES.dependencies(file) {
                if circle.contains(other) {
                    wrong.push(format!("{file} depends on {other} by {name}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn rules_of_check_do_not_lean_on_rules() {
    let has_page = |file: &str| crate::support::top().join(file.replace(".rs", ".md")).exists();
    let is_rule = |file: &str| file.starts_with("src/check/") && has_page(file);
    let files: Vec<&str> = SOURCES.files("check").into_iter().collect();
    assert!(files.iter().filter(|file| is_rule(file)).count() > 60);
    for file in files {
        // What is named beside a claim is told by the rule that the claim belongs to.
        let is_list = [
            "src/check/table.rs",
            "src/check/mod.rs",
            "src/check/texts.rs",
            "src/check/prose.rs",
            "src/check/beside_claims.rs",
            // A name and a sentence are told by the rule that they break.
            "src/check/absence_in_names.rs",
            "src/check/hurtful_words.rs",
        ]
        .contains(&file);
        let lean: Vec<&str> =
            SOURCES.dependencies(file).into_keys().filter(|other| is_rule(other)).collect();
        assert!(is_list || lean.is_empty(), "{file} leans on {lean:?}");
    }
}

/// Rooms and parts of them whose bounds stand in `limits.dough`.
const BOUNDED: [&str; 3] = ["check", "time", "formula/warmth"];

/// Models and searches, whose numbers are no bounds on bread: each says in its own text what they
/// are and where they come from.
const MODELS: &[(&str, &str)] = &[
    ("speech/cardinals", "what number words are worth"),
    ("speech/written", "the same numbers, written out"),
    ("time/clock", "the calendar and the clock, and the years that plans are made for"),
    ("time/cooling", "constants of heat, with their sources"),
    ("time/day/", "how far a search goes; what a day may hold at most"),
    ("time/dose", "how fine an integral is"),
    ("time/growth", "published temperatures of growth, with their sources"),
    ("time/planned", "what a plan is counted in, and the days that it has at most"),
    ("time/puzzle", "minutes and weeks"),
    ("time/solve/", "how far a search goes"),
];

/// Numbers of these rooms that are no bound, and why. All others stand in `limits.dough`.
const NO_BOUNDS: &[(&str, &[&str], &str)] = &[
    ("time/clash", &["30_000", "24", "60"], "any day"),
    ("time/course", &["0", "60", "1000", "2", "3"], "minutes of an hour; a surface and its volume"),
    ("time/draft", &["4000", "20", "24"], "points, folds and batches that are laid out"),
    ("time/estimates", &["60", "1_000_000"], "minutes of an hour; rounding"),
    ("time/expected", &["60", "1e5"], "minutes of an hour"),
    ("time/findings/no_plan", &["8", "6", "4", "7", "60"], "how many are told; minutes of an hour"),
    ("time/on_grid", &["60"], "how far a search goes; minutes of an hour"),
    ("time/one_pair", &["20_000", "64", "4"], "how far a search goes"),
    ("time/plan", &["7", "52", "6", "8", "4"], "days and weeks; how many are tried"),
    ("time/trouble", &["16", "5", "1440"], "a part of a range; minutes of a day, in fives"),
    ("absence_in_names", &["14"], "a table's size"),
    ("absence_in_text", &["22"], "a table's size"),
    (
        "below_scale_resolution",
        &["3", "4", "5", "10", "11", "12"],
        "digits shown; stocks one to ten, and parts of their names",
    ),
    ("context", &["10_000"], "how finely ends of ranges are compared"),
    ("lye_out_of_place", &["40", "10"], "grams for a bath, as an example"),
    ("beside_claims", &["4", "5", "8"], "tables' sizes"),
    ("blame", &["24", "3", "5", "4", "100", "50", "10"], "lines and amounts tried; digits shown"),
    ("claims", &["10", "9", "5", "32", "4", "6"], "powers of ten, Fahrenheit, digits shown"),
    ("claims_disagree", &["3"], "digits shown"),
    ("composition_impossible", &["6"], "a table's size"),
    ("ingredient_never_added", &["4"], "names in a sentence"),
    ("denials/another", &["4", "6", "7"], "words that are read together; a table's size"),
    ("denials/everybody", &["3"], "words that are read together"),
    ("denials/hardly_any", &["8", "10", "28", "3"], "tables' sizes; words that are read together"),
    ("denials/parts", &["7"], "words that are read together"),
    ("denials/mod", &["3", "4", "18", "45"], "words that are read together; tables' sizes"),
    ("denials/joined", &["4", "9", "11", "15", "18"], "tables' sizes"),
    ("denials/ways", &["4", "5", "6", "7", "12"], "words that are read together"),
    ("denials/aside", &["3", "5", "7"], "words that are read together"),
    ("denials/diets", &["3", "4", "6", "8"], "words that are read together"),
    ("denials/all_there_is", &["3", "4", "8"], "words that are read together; a table's size"),
    ("denials/reading", &["5"], "a table's size"),
    ("conventions", &["4"], "a table's size; digits shown"),
    ("stands_too_warm", &["6"], "a table's size"),
    ("fact_doubtful", &["7", "24", "60", "4"], "days of a week, hours, minutes; digits shown"),
    ("flour_not_100", &["4"], "digits shown"),
    ("hardly_rises", &["3", "60", "5"], "digits shown; minutes of an hour; shown in fives"),
    ("harmless", &["3", "4", "5", "7", "12", "33"], "words that are read together; a table's size"),
    ("hurtful_words", &["4"], "words that are read together"),
    ("ingredient_in_text", &["3", "4", "5"], "words that are read together"),
    ("nearly_the_same_name", &["5", "50", "200"], "letters of a name, names of one rest"),
    (
        "number_in_text",
        &["3", "4", "5", "6", "12", "10"],
        "words that are read together; how many are told",
    ),
    ("percent_or_grams", &["4"], "digits shown"),
    ("price_doubtful", &["3"], "digits shown"),
    ("ripening_doubtful", &["30", "60"], "minutes are shown in half hours; of an hour"),
    (
        "speech/amounts",
        &["10", "3", "5", "60", "4", "9", "50", "12", "16"],
        "how exactly people tell times and ovens; ounces of a pound",
    ),
    ("speech/foods", &["5", "40", "4", "7", "3", "12"], "words of a name; tables' sizes; letters"),
    (
        "speech/mod",
        &["5", "3", "4", "6", "8", "12", "13", "400"],
        "languages, words that are read together, at once and of a sentence, room of a table",
    ),
    ("speech/numerals", &["3", "4", "8", "12"], "digits in a group, vulgar fractions, places"),
    (
        "speech/phrases",
        &["4", "5", "8", "15", "16", "1024"],
        "bits of hashes and of what is packed, room of a table",
    ),
    ("speech/spotter", &["6", "7", "8", "13"], "groups of rows, bits of what is packed"),
    ("speech/tokens", &["8", "3", "4", "5", "6", "10", "12", "14", "22", "23"], "a table's size"),
    ("usual", &["10", "4"], "a slip of the decimal point; digits shown"),
];

#[test]
fn no_bound_stands_in_the_code() {
    let plain = ["0", "1", "2", "100", "1000"];
    let mut wrong = Vec::new();
    let mut needed = vec![false; NO_BOUNDS.len()];
    let files = BOUNDED.iter().flat_map(|room| SOURCES.files(room));
    let is_model = |file: &str| MODELS.iter().any(|(model, _)| file.starts_with(model));
    for file in files {
        let short = file.trim_start_matches("src/").trim_end_matches(".rs");
        let short = short.trim_start_matches("check/");
        if is_model(short) {
            continue;
        }
        for number in SOURCES.numbers(file).into_iter().filter(|it| !plain.contains(it)) {
            let is_it = |(of, numbers, _): &(&str, &[&str], &str)| {
                *of == short && numbers.contains(&number)
            };
            match NO_BOUNDS.iter().position(is_it) {
                Some(at) => needed[at] = true,
                None => wrong.push(format!("{short} has {number}")),
            }
        }
    }
    assert!(wrong.is_empty(), "bounds belong in limits.dough:\n{}", wrong.join("\n"));
    assert!(needed.iter().all(|needed| *needed), "an exception that nothing needs");
}

/// A number that the code asks the stores for is there: a name that is not would be nothing.
#[test]
fn every_number_that_is_asked_of_the_stores_is_there() {
    let mut asked = 0;
    let mut files: Vec<std::path::PathBuf> = vec!["src".into()];
    while let Some(path) = files.pop() {
        if path.is_dir() {
            let entries = std::fs::read_dir(&path).expect("readable");
            files.extend(entries.map(|entry| entry.expect("an entry").path()));
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap_or_default();
        for word in ["known(\"", "limit(\""] {
            for found in text.split(word).skip(1) {
                let mut parts = found.split('"');
                let (Some(group), Some(", "), Some(name)) =
                    (parts.next(), parts.next(), parts.next())
                else {
                    continue;
                };
                asked += 1;
                let range = assize::testing::formula::limit(group, name);
                assert!(range.is_some(), "{}: {group}, {name}", path.display());
            }
        }
    }
    assert!(asked > 20, "{asked}");
    for name in ["levain seed", "levain water", "poolish yeast", "poolish water", "yeast", "room"] {
        assert!(assize::testing::formula::limit("usual ripening", name).is_some(), "{name}");
    }
    for name in ["levain", "poolish", "known"] {
        assert!(assize::testing::formula::limit("usual ripening", name).is_some(), "{name}");
    }
    for name in ["more hours", "hours together", "more keeping", "endless"] {
        assert!(assize::testing::formula::limit("usual ways out", name).is_some(), "{name}");
    }
}

#[test]
fn each_library_has_one_room() {
    for (library, home) in [
        ("pest", "src/syntax/outline"),
        ("miette", "src/diag/"),
        ("typst", "src/print/pages"),
        ("fluent_bundle", "src/print/wording.rs"),
        ("maud", "src/print/html"),
        ("indicatif", "src/cli/progress.rs"),
        ("icalendar", "src/print/calendar.rs"),
    ] {
        let knows = |file: &&str| SOURCES.has_name(file, library);
        for file in ROOMS.iter().flat_map(|room| SOURCES.files(room)).filter(knows) {
            assert!(file.starts_with(home), "{file} knows {library}");
        }
    }
}

#[test]
fn no_room_up_to_check_does_io_reads_a_clock_or_counts_in_floats() {
    let forbidden = ["fs", "io", "env", "time", "process"];
    // Models of how dough ferments and cools, and the door to them.
    let counts_in_floats = [
        "src/quantity/rational.rs",
        "src/time/growth.rs",
        "src/time/laws.rs",
        "src/time/dose.rs",
        "src/time/cooling.rs",
        "src/time/expected.rs",
        "src/time/course.rs",
        "src/time/estimates.rs",
        "src/time/pace.rs",
        "src/time/findings/errors.rs",
    ];
    for file in ROOMS[..7].iter().flat_map(|room| SOURCES.files(room)) {
        for path in SOURCES.named_by(file) {
            let does_io =
                path[0] == "std" && path.get(1).is_some_and(|m| forbidden.contains(&m.as_str()));
            assert!(!does_io, "{file} uses {}", path.join("::"));
        }
        if counts_in_floats.contains(&file) {
            continue;
        }
        for float in ["f32", "f64"] {
            assert!(!SOURCES.has_name(file, float), "{file} uses {float}");
        }
        assert!(SOURCES.floats(file).is_empty(), "{file} writes {:?}", SOURCES.floats(file));
    }
}

#[test]
fn what_is_written_from_the_document_never_sees_the_tree() {
    for name in ["pages", "html", "book", "tables", "reasons", "document", "plan_text"] {
        let all = SOURCES.files("print").into_iter();
        let starts = [format!("src/print/{name}.rs"), format!("src/print/{name}/")];
        let own: Vec<&str> =
            all.filter(|file| starts.iter().any(|start| file.starts_with(start))).collect();
        assert!(!own.is_empty(), "{name} is not there");
        for file in own {
            for path in SOURCES.named_by(file) {
                let sees = path[0] == "crate" && path[1] == "syntax";
                assert!(!sees, "{file} uses {}", path.join("::"));
            }
        }
    }
}

#[test]
fn paths_are_read_as_a_compiler_reads_them() {
    let sources = Sources::of(&[
        ("crate::a", "pub mod one; mod two; pub use one::One; pub use two::{Two, helper as help};"),
        (
            "crate::a::one",
            "// crate::b::Comment\nuse super::Two; pub struct One; const T: &str = \"crate::c\";",
        ),
        (
            "crate::a::two",
            "use crate::{a, b::{self, deep::Deep}}; use std::{fs, io::Read as _};
            pub struct Two(f64); pub fn helper() { b::work(a::One) }
            #[cfg(test)] mod tests { use crate::c::Never; }
            #[cfg(test)] mod more;
            fn after() { let x = pair.0.1 + 0.5; write!(out, \"\", std::env::var()) }",
        ),
        ("crate::a::two::more", "use crate::c::Never;"),
        ("crate::b", "pub mod deep; pub fn work() {}"),
        ("crate::b::deep", "pub struct Deep;"),
    ]);
    let takes = |file: &str| sources.dependencies(file).into_keys().collect::<Vec<_>>().join(" ");
    assert_eq!(takes("src/a"), "");
    assert_eq!(takes("src/a/one"), "src/a/two");
    assert_eq!(takes("src/a/two"), "src/a/one src/b src/b/deep");
    assert_eq!(sources.circles("a"), [["src/a/one", "src/a/two"].into()]);
    assert!(sources.circles("b").is_empty());
    assert_eq!(sources.floats("src/a/two"), ["0.5"]);
    let named =
        sources.named_by("src/a/two").iter().map(|path| path.join("::")).collect::<Vec<_>>();
    for path in ["std::fs", "std::io::Read", "std::env::var", "crate::b::work"] {
        assert!(named.contains(&path.to_owned()), "{path} in {named:?}");
    }
    assert!(!named.iter().any(|path| path.starts_with("crate::c")), "{named:?}");
}
