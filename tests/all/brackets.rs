//! Figures in texts: what they ask of the own formula and of another one, for which yield,
//! and how days and pieces are told.

use crate::support::{Memory, dough_files, findings, names};
use assize::testing::desk::{self, load};
use assize::testing::formula::{Figure, work};
use assize::testing::print::{Document, Wording, document};
use assize::testing::syntax::tree::Date;
use std::fs;
use std::path::{Path, PathBuf};

const OTHER: &str = "
formula quay-loaf \"Quay Loaf\" {
  makes 2 loaves at 900 g
  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1%; cream of tartar 1% }
  preferment poolish { ferments 30% of flour; bread flour 100%; water 100%; fresh yeast 0.2%; ripens 12h }
  method { mix 8min with everything else; bulk 2h; bake 40min at 230C }
}
";

fn probe(note: &str) -> String {
    format!(
        "{OTHER}
formula pier-loaf \"Pier Loaf\" {{
  makes 1 loaf at 1 kg
  total {{ bread flour 100%; water 60%; salt 2%; fresh yeast 1% }}
  note \"{note}\"
}}
"
    )
}

/// The documents of a bakehouse in these words, by the formulas' names.
fn documents(files: &[(&str, &str)], tag: &str) -> Vec<Document> {
    let memory = Memory::with(files);
    let all: Vec<PathBuf> = files.iter().map(|(path, _)| PathBuf::from(path)).collect();
    let loaded = load(&memory, Path::new("/x"), &all);
    let bakehouses = desk::bakehouses(&loaded);
    let (words, _) = Wording::new(tag, None);
    let mut all = Vec::new();
    for bakehouse in &bakehouses {
        for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = work(&bakehouse.house, formula, &mut Vec::new());
            all.push(document(&bakehouse.house, &worked, &words, false));
        }
    }
    all
}

/// What the note of `pier-loaf` prints.
fn printed(note: &str, tag: &str) -> String {
    let text = probe(note);
    let all = documents(&[("/x/a.dough", &text)], tag);
    all.iter().find(|it| it.name == "pier-loaf").expect("it is there").notes[0].clone()
}

#[test]
fn a_bracket_tells_what_it_asks_of_its_own_formula_and_of_another() {
    // 1800 g of dough at 174 % with yeast 1 % and tartar 1 %: 1034.48 g of flour, of which
    // 30 % is 310.34 g.
    let cases = [
        ("[water %]", "60 %"),
        ("[water of flour]", "60 %"),
        ("[salt of dough]", "1.2 %"),
        ("[pieces of quay-loaf]", "2"),
        ("[loaves of quay-loaf]", "2 loaves"),
        ("[loaf of quay-loaf for 1 loaf]", "1 loaf"),
        ("[loaves]", "1 loaf"),
        ("[water % of quay-loaf]", "70 %"),
        ("[water in poolish of quay-loaf]", "310 g"),
        ("[water % in poolish of quay-loaf]", "100 %"),
        ("[water in poolish of quay-loaf for 4 loaves]", "621 g"),
        ("[poolish of flour of quay-loaf]", "60.1 %"),
        ("[flour of quay-loaf from 5 kg flour]", "5 kg"),
        ("[pieces of quay-loaf for 6 loaves]", "6"),
        ("[hydration of quay-loaf]", "70 %"),
        ("[cream of tartar % of quay-loaf]", "1 %"),
        ("[50 g of water of quay-loaf]", "50 g of water"),
        ("[2026-12-05]", "Saturday 5 December 2026"),
        ("[saturday 10:00]", "Saturday 10:00"),
        ("[fri]", "Friday"),
    ];
    for (bracket, told) in cases {
        assert_eq!(printed(bracket, "en"), told, "{bracket}");
        let text = probe(bracket);
        let errors: Vec<String> = findings(&text)
            .iter()
            .filter(|it| it.rule.name == "unknown-figure" || it.rule.name == "not-a-figure")
            .map(|it| it.message.clone())
            .collect();
        assert!(errors.is_empty(), "{bracket}: {errors:?}");
    }
    assert_eq!(printed("[2026-12-05]", "de"), "Samstag, 5. Dezember 2026");
    assert_eq!(printed("[2026-12-05]", "fr"), "samedi 5 décembre 2026");
}

#[test]
fn a_bracket_without_an_answer_is_an_error() {
    let wrong = [
        "[water of quay-lof]",
        "[levain of quay-loaf]",
        "[water in levain of quay-loaf]",
        "[water of quay-loaf for everyone]",
        "[water of nowhere for 5 loaves]",
        "[rolls of quay-loaf]",
        "[50 g of honey of quay-loaf]",
    ];
    for bracket in wrong {
        assert!(names(&probe(bracket)).contains(&"unknown-figure"), "{bracket}");
    }
    assert!(names(&probe("[water of quay-loaf for 3 rolls]")).contains(&"yield-not-in-formula"));
    for bracket in ["[2026-02-30]", "[2026-13-01]", "[saturday 25:00]"] {
        let told = names(&probe(bracket));
        assert!(told.iter().any(|it| ["not-a-figure", "unknown-figure"].contains(it)), "{bracket}");
    }
    let broken = probe("[water of quay-loaf]").replace("bread flour 100%; water 70%", "water 70%");
    assert!(findings(&broken).iter().any(|it| it.message.contains("can't be worked out")));
}

/// Every line of every mix of every example, asked for from another formula, is told as its
/// own print tells it.
#[test]
fn every_line_of_every_example_is_told_alike_from_elsewhere() {
    let read = |path: &PathBuf| fs::read_to_string(path).expect("a file");
    let files: Vec<(String, String)> = dough_files("examples/gullhaven")
        .iter()
        .map(|path| (format!("/x/{}", path.file_name().expect("it").display()), read(path)))
        .collect();
    let mut all: Vec<(&str, &str)> =
        files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let own = documents(&all, "en");
    let mut wanted = Vec::new();
    for formula in &own {
        for mix in &formula.mixes {
            for line in &mix.lines {
                let same = mix.lines.iter().filter(|other| other.key == line.key).count();
                let weight = line.weight.as_ref();
                let is_plain = same == 1 && line.role.is_none() && mix.feeds.is_none();
                if let Some(weight) = weight.filter(|_| is_plain)
                    && Figure::read(&line.key).is_none()
                {
                    let asked = format!("{} in {} of {}", line.key, mix.name, formula.name);
                    wanted.push((asked, weight.said()));
                }
            }
        }
    }
    assert!(wanted.len() > 60, "{}", wanted.len());
    let notes: String = wanted.iter().map(|(asked, _)| format!("  note \"[{asked}]\"\n")).collect();
    let probe = format!(
        "formula probe \"Probe\" {{\n  makes 1 loaf at 1 kg\n  total {{ bread flour 100%; water 60%; \
         salt 2% }}\n{notes}}}\n"
    );
    all.push(("/x/probe.dough", &probe));
    let told = documents(&all, "en");
    let told = told.iter().find(|it| it.name == "probe").expect("it is there");
    let bare = |words: &str| words.replace(".000 kg", " kg").replace('\u{a0}', " ");
    for ((asked, weight), note) in wanted.iter().zip(&told.notes) {
        let number = |words: &str| bare(words).trim_end_matches(" g").to_owned();
        let alike = number(note) == number(weight) || same_amount(note, weight);
        assert!(alike, "{asked}: {note} and {weight}");
    }
}

/// `9.25 kg` and `9.250 kg` are one amount.
fn same_amount(one: &str, two: &str) -> bool {
    let parts = |words: &str| {
        let (number, unit) = words.rsplit_once(' ')?;
        let number = number.trim_start_matches("≈ ").parse::<f64>().ok()?;
        Some(if unit == "kg" { number * 1000.0 } else { number })
    };
    match (parts(one), parts(two)) {
        (Some(one), Some(two)) => (one - two).abs() < 1e-6,
        _ => false,
    }
}

/// Days of the week by counting on from a known Monday, for 400 years.
#[test]
fn every_date_has_the_weekday_that_counting_gives() {
    let mut weekday = 0;
    let mut count = 0;
    for year in 1900..2300_u16 {
        for month in 1..=12 {
            for day in 1..=31 {
                let Some(date) = Date::read(&format!("{year:04}-{month:02}-{day:02}")) else {
                    continue;
                };
                // 1 January 1900 was a Monday.
                assert_eq!(date.weekday(), weekday, "{date:?}");
                weekday = (weekday + 1) % 7;
                count += 1;
            }
        }
    }
    // 400 Gregorian years are 146,097 days, wherever they begin.
    assert_eq!(count, 146_097);
}
