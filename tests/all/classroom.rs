//! What a class gets on paper, read back from the finished PDFs.

use crate::boxes::{Page, pages};
use crate::support::{assize, err, folder, top};
use std::collections::BTreeSet;
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
