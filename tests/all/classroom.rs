//! What a class gets on paper, read back from the finished PDFs.

use crate::boxes::{Page, Run, pages};
use crate::support::{assize, declared, err, folder, top};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// The example bakehouse in a folder of its own, with one more file.
fn house(more: &str) -> tempfile::TempDir {
    let folder = folder();
    for file in fs::read_dir(top().join("examples/gullhaven")).expect("listed") {
        let file = file.expect("an entry").path();
        fs::copy(&file, folder.path().join(file.file_name().expect("a name"))).expect("copied");
    }
    fs::write(folder.path().join("zz-more.dough"), more).expect("written");
    folder
}

fn print(house: &Path, args: &[&str]) {
    let done = assize(house, &[&["print"], args].concat());
    assert_eq!(done.status.code(), Some(0), "{args:?}: {}", err(&done));
}

/// Words without the signs around them.
fn words_of(pages: &[Page]) -> BTreeSet<String> {
    let signs = |letter: char| !letter.is_alphanumeric();
    let runs = pages.iter().flat_map(|page| &page.runs);
    let words =
        runs.flat_map(|run| run.text.split(|it: char| it.is_whitespace() || it == '\u{a0}'));
    words
        .map(|word| word.trim_matches(signs).to_lowercase())
        .filter(|word| !word.is_empty())
        .collect()
}

/// Large print: nothing is smaller than 18 pt, no word and no number of the ordinary print is
/// lost, nothing leaves the page or stands over another, the same run gives the same bytes.
#[test]
fn large_print_is_large_and_whole() {
    let more = r#"
booklet wall "Wall" {
  card    capstan-bagels, ferryman-rye, harbour-rolls, lamplighter-buns
  sheet   gullhaven-sour, regatta-brioche
  table   tideline-loaf, slipway-loaf
}
"#;
    let house = house(more);
    let booklets = ["school-week-1", "school-week-2", "wall"];
    let printed = |large: &[&str]| {
        let to = folder();
        let name = to.path().to_string_lossy().into_owned();
        print(house.path(), &[&["--to", &name], large, &booklets].concat());
        to
    };
    let (plain, large, again) = (printed(&[]), printed(&["--large"]), printed(&["--large"]));
    let mut files = 0;
    for file in fs::read_dir(large.path()).expect("listed") {
        let file = file.expect("an entry");
        let name = file.file_name();
        let bytes = fs::read(file.path()).expect("bytes");
        assert!(bytes == fs::read(again.path().join(&name)).expect("bytes"), "{name:?} differs");
        let (own, other) = (pages(&file.path()), pages(&plain.path().join(&name)));
        for run in own.iter().flat_map(|page| &page.runs) {
            assert!(run.size > 17.95, "{name:?}: `{}` has {} pt", run.text, run.size);
        }
        for (at, page) in own.iter().enumerate() {
            let slips = crate::boxes::slips(page);
            assert!(slips.is_empty(), "{name:?}, page {}: {slips:?}", at + 1);
        }
        // Boxes to write in, the picture of the day with its hours and legend, heads and feet.
        let (has, had) = (words_of(&own), words_of(&other));
        let lost: Vec<&String> = had.difference(&has).filter(|word| !is_furniture(word)).collect();
        assert!(lost.is_empty(), "{name:?} lost {lost:?}");
        files += 1;
    }
    assert!(files >= 6, "{files}");
}

/// Words of the frame of a page, which large print has no room for: boxes to write in, the
/// picture of the day with its hours and its legend, what goes on from the page before.
fn is_furniture(word: &str) -> bool {
    const WORDS: [&str; 22] = [
        "initials",
        "measured",
        "done",
        "cold",
        "itself",
        "work",
        "hands",
        "waits",
        "oven",
        "continued",
        "draft",
        "gullhaven",
        "bakehouse",
        "batch",
        "once",
        "run",
        "for",
        "the",
        "per",
        "gemessen",
        "step",
        "time",
    ];
    let is_hour = word.strip_suffix('h').is_some_and(|it| it.parse::<u32>().is_ok());
    let is_number = word.parse::<u32>().is_ok();
    let is_code = word.len() == 8 && word.chars().all(|it| it.is_ascii_alphanumeric());
    WORDS.contains(&word) || is_hour || is_number && word.len() < 3 || is_code
}

/// A row of a table on paper: what stands at its beginning, and its numbers from left to
/// right, each with its unit.
type Rows = BTreeMap<String, Vec<String>>;

/// The rows of the tables on some pages, from the head of each to its total. A table that is
/// too wide goes on below: then a row has the numbers of both.
fn rows_on(lines: &[Vec<&Run>]) -> Rows {
    let dense = |text: &str| -> String { text.split_whitespace().collect() };
    let has_digit = |run: &&&Run| run.text.contains(|letter: char| letter.is_ascii_digit());
    let mut rows = Rows::new();
    let mut is_open = false;
    for line in lines {
        let first = line.iter().find(|run| !has_digit(run)).map(|run| dense(&run.text));
        let mut numbers: Vec<String> = Vec::new();
        for run in line {
            match (numbers.last_mut(), dense(&run.text)) {
                (_, number) if has_digit(&run) => numbers.push(number),
                (Some(number), unit) if unit == "g" || unit == "kg" => number.push_str(&unit),
                _ => {}
            }
        }
        match first.as_deref() {
            Some("ingredient") => is_open = true,
            Some(name) if is_open && !numbers.is_empty() => {
                rows.entry(name.to_owned()).or_default().extend(numbers);
                is_open = name != "total";
            }
            _ => {}
        }
    }
    rows
}

/// Runs of a page line by line from the top, each line from the left; a unit belongs to its
/// number.
fn lines_of(page: &Page) -> Vec<Vec<&Run>> {
    let mut runs: Vec<&Run> = page.runs.iter().collect();
    runs.sort_by(|one, other| other.base.total_cmp(&one.base));
    let mut lines: Vec<Vec<&Run>> = Vec::new();
    for run in runs {
        match lines.last_mut().filter(|line| (line[0].base - run.base).abs() < 1.0) {
            Some(line) => line.push(run),
            None => lines.push(vec![run]),
        }
    }
    for line in &mut lines {
        line.sort_by(|one, other| one.from.total_cmp(&other.from));
    }
    lines
}

/// Read back from the finished pages: what the key has more than the learner's page are the
/// blanks, and the key is the table that `print` gives, number by number.
#[test]
fn a_key_on_paper_is_the_table_on_paper() {
    let names: Vec<String> = crate::support::dough_files("examples/gullhaven")
        .iter()
        .flat_map(|file| declared(&fs::read_to_string(file).expect("a file"), "formula"))
        .collect();
    let booklet = |name: &String| {
        format!("booklet key-{name} \"K\" {{ worksheet {name}\n answers\n table {name} }}\n")
    };
    let house = house(&names.iter().map(booklet).collect::<String>());
    let to = folder();
    let place = to.path().to_string_lossy().into_owned();
    let all: Vec<String> = names.iter().map(|name| format!("key-{name}")).collect();
    let mut args = vec!["--to", &place];
    args.extend(all.iter().map(String::as_str));
    print(house.path(), &args);
    let (mut filled, mut compared) = (0, 0);
    for name in &names {
        let pages = pages(&to.path().join(format!("key-{name}.pdf")));
        let lines: Vec<Vec<&Run>> = pages.iter().flat_map(lines_of).collect();
        let begins = |words: &str| {
            let at = lines.iter().position(|line| line[0].text.starts_with(words));
            at.unwrap_or_else(|| panic!("{name}: no `{words}`"))
        };
        let (key, end) = (begins("Key:"), begins("How each blank follows"));
        let (learner, key) = (rows_on(&lines[..key]), rows_on(&lines[key..end]));
        let table = rows_on(&lines[end..]);
        assert!(!key.is_empty(), "{name}");
        for (row, told) in &key {
            let asked = learner.get(row).cloned().unwrap_or_default();
            assert!(is_part(&asked, told), "{name}, {row}: {asked:?} is no part of {told:?}");
            filled += told.len() - asked.len();
            let printed = table.get(row).unwrap_or_else(|| panic!("{name}: no {row} in {table:?}"));
            // The table has sums of percentages, too, and what goes on and into the pieces.
            let is_it = match row.as_str() {
                "total" => is_part(told, printed),
                _ => printed.starts_with(told),
            };
            assert!(is_it, "{name}, {row}: {told:?} is not {printed:?}");
            compared += told.len();
        }
    }
    assert!(filled > 100 && compared > 400, "{filled} blanks of {compared} numbers");
}

/// Whether some numbers stand among others, in the same order.
fn is_part(some: &[String], all: &[String]) -> bool {
    let mut all = all.iter();
    some.iter().all(|one| all.any(|it| it == one))
}
