//! The canonical layout: twice is once, meaning and comments are kept.

use crate::support::{Memory, assize, dough_files, err, folder, out};
use assize::testing::desk::{self, load};
use assize::testing::print::Wording;
use assize::testing::source::SourceId;
use assize::testing::syntax::{Untouched, format, is_reworded_alike, outline, words};
use proptest::prelude::*;
use std::fs;
use std::path::{Path, PathBuf};

/// Every `*.dough` file of the checkout.
fn fixtures() -> Vec<PathBuf> {
    let folders = [
        "examples/gullhaven",
        "src/cli/new",
        "src/formula/stores",
        "tests/breads",
        "examples/mistakes",
        "tests/published",
    ];
    folders.iter().flat_map(|folder| dough_files(folder)).collect()
}

fn laid_out(text: &str) -> Result<String, Untouched> {
    let id = SourceId(9);
    format(id, text)
}

/// What the command shows of a text: findings without their places, and figures.
fn meaning(text: &str) -> Vec<String> {
    let path = PathBuf::from("/x/a.dough");
    let file_system = Memory([(path.clone(), text.as_bytes().to_vec())].into());
    let loaded = load(&file_system, Path::new("/x"), &[path]);
    let mut said: Vec<String> = desk::check(&loaded)
        .iter()
        // What was read without a number of its own has one once it is laid out.
        .filter(|finding| finding.rule.name != "read-as")
        .map(|finding| format!("{}: {}", finding.rule.name, finding.message))
        .collect();
    said.sort();
    for bakehouse in desk::bakehouses(&loaded) {
        for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = assize::testing::formula::work(&bakehouse.house, formula, &mut Vec::new());
            let document = assize::testing::print::document(
                &bakehouse.house,
                &worked,
                &Wording::plain(),
                false,
            );
            said.push(assize::testing::print::json(&document));
        }
    }
    said
}

fn comments(text: &str) -> Vec<String> {
    let shape = outline(SourceId(9), text);
    shape.comments.iter().map(|span| text[span.range()].trim_end().to_owned()).collect()
}

#[test]
fn every_fixture_is_laid_out_once_and_means_the_same() {
    let mut done = 0;
    for file in fixtures() {
        let text = fs::read_to_string(&file).expect("readable");
        let once = match laid_out(&text) {
            Ok(once) => once,
            Err(Untouched::Open | Untouched::Unmerged) => continue,
        };
        let twice = laid_out(&once).unwrap_or_else(|why| panic!("{}: {why:?}", file.display()));
        assert!(twice == once, "{}: a second run changes it again", file.display());
        assert_eq!(comments(&once), comments(&text), "{}", file.display());
        assert_eq!(meaning(&once), meaning(&text), "{}", file.display());
        done += 1;
    }
    assert!(done > 130, "{done} files");
}

#[test]
fn our_own_files_are_laid_out() {
    for folder in ["examples/gullhaven", "src/cli/new", "src/formula/stores"] {
        for file in dough_files(folder) {
            let text = fs::read_to_string(&file).expect("readable");
            assert!(laid_out(&text).as_deref() == Ok(&*text), "{}", file.display());
        }
    }
}

const LOOSE: &str = "\
FORMULA pier-loaf   \"Pier Loaf\"{ # a head
  makes 2  loaves at 900g
  bake   loss 13 %


  total{
    bread flour 95% # mostly
    # and a little
    dark rye flour   5 %
    Water 72.5%;salt 2%
    fresh yeast 0.8%
  }
  method {
    mix 8min with everything   else to 25 C
    bulk 1 h – 2h at 24C {
      until \"it has risen\"
      note \"keep
  it warm\"
    }
    bake 35min at 230C then 10min
  }
  claims { hydration 72.5%; salt 2% }
}
";

const NEAT: &str = "\
formula pier-loaf \"Pier Loaf\" {  # a head
  makes      2 loaves at 900 g
  bake loss  13%

  total {
    bread flour     95%  # mostly
    # and a little
    dark rye flour   5%
    Water           72.5%; salt 2%
    fresh yeast      0.8%
  }
  method {
    mix   8min with everything else to 25C
    bulk  1h..2h at 24C {
      until \"it has risen\"
      note \"keep
  it warm\"
    }
    bake  35min at 230C then 10min
  }
  expect { hydration 72.5%; salt 2% }
}
";

#[test]
fn loose_writing_becomes_neat() {
    assert_eq!(laid_out(LOOSE).as_deref(), Ok(NEAT));
}

#[test]
fn what_does_not_close_is_left_alone() {
    assert_eq!(laid_out("formula a {\n"), Err(Untouched::Open));
    assert_eq!(laid_out("formula a { }\n}\n"), Err(Untouched::Open));
    assert_eq!(laid_out("formula a \"A {\n}\n"), Err(Untouched::Open));
}

/// A name written after its amount may begin with any word of the language: put first, where
/// we write names, it must not turn into a statement.
#[test]
fn a_name_after_its_amount_never_becomes_a_statement() {
    let lists: &[&[&str]] = &[
        words::OF_A_FILE,
        words::OF_A_FORMULA,
        words::OF_A_STAGE,
        words::OF_LINES,
        words::OF_A_MIXTURE,
        words::OF_A_CULTURE,
        words::OF_A_PIECE,
        words::OF_A_STYLE,
        words::OF_AN_INGREDIENT,
        words::OF_A_STEP,
        words::SOFT_AMOUNTS,
        words::PINCHES,
        &[""],
    ];
    let blocks = ["total", "dough", "preferment levain", "piece rolls", "mixture glaze"];
    let amounts = ["3", "20 g", "0.816", "5%", "2 tbsp", "100 g of"];
    let (mut seen, mut fallen) = (0, Vec::new());
    for word in lists.iter().copied().flatten() {
        for amount in amounts {
            for block in blocks {
                for rest in ["rye flour", "3 loaves", "7 grain flour", "0.5 g salt", ""] {
                    let text = format!(
                        "formula a {{\n  {block} {{\n    {amount} {word} {rest}\n  }}\n}}\n"
                    );
                    if !is_reworded_alike(SourceId(9), &text) {
                        fallen.push(format!("{block}: {amount} {word} {rest}"));
                    }
                    seen += 1;
                }
            }
        }
    }
    assert!(fallen.is_empty(), "{} of {seen} fell: {fallen:#?}", fallen.len());
    assert!(seen > 5_000, "{seen}");
}

/// What is found in a text, by name, without what a layout is to mend: words that are read as ours.
fn found(text: &str) -> Vec<&'static str> {
    let mut found = crate::support::names(text);
    found.retain(|name| *name != "read-as");
    found.sort_unstable();
    found
}

/// A letter that nobody sees parts a word, and its finding stays; beside a blank it goes, and
/// that is said.
#[test]
fn a_letter_that_nobody_sees_stays_within_a_name() {
    for letter in ['\u{200b}', '\u{2060}', '\u{feff}', '\u{ad}', '\u{200d}'] {
        for line in [format!("ol{letter}ive oil   3 g"), format!("3 g ol{letter}ive oil")] {
            let text =
                format!("formula a \"A\" {{\n dough {{\n{line}\n bread flour 1 kg\n}}\n}}\n");
            let once = laid_out(&text).expect("it closes");
            assert!(once.contains(&format!("ol{letter}ive")), "{letter:?}: {once:?}");
            assert_eq!(found(&once), found(&text), "{letter:?}: {once:?}");
            assert_eq!(laid_out(&once), Ok(once.clone()), "{letter:?}");
        }
    }
    let folder = folder();
    let text = "formula a \"A\" {\n  dough { olive \u{200b}oil 3 g }\n}\n";
    fs::write(folder.path().join("a.dough"), text).expect("written");
    let done = assize(folder.path(), &["fmt", "a.dough"]);
    assert_eq!(out(&done), "a.dough reformatted, with a letter that nobody sees removed\n");
}

/// Two steps in the words of two languages are not made one step written twice.
#[test]
fn words_of_other_languages_bring_no_finding() {
    let steps = [
        "10 min kneten",
        "amasar 10 minutos",
        "impastare per 10 minuti",
        "pétrir 10 min",
        "mix 10min",
        "mix for ten minutes",
    ];
    for (one, two) in steps.iter().flat_map(|one| steps.iter().map(move |two| (one, two))) {
        let text = format!(
            "formula a \"A\" {{\n  dough {{ bread flour 1 kg; water 650 g; salt 20 g; fresh yeast 10 g }}\n  \
             method {{\n    {one}\n    {two}\n    bulk 1h at 24C\n    bake 40min at 230C\n  }}\n}}\n"
        );
        let once = laid_out(&text).expect("it closes");
        assert_eq!(found(&once), found(&text), "{one}, {two}: {once}");
    }
}

#[test]
fn fmt_checks_writes_and_pipes() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), LOOSE).expect("written");
    fs::write(folder.path().join("open.dough"), "formula a {\n").expect("written");
    let checked = assize(folder.path(), &["fmt", "--check", "a.dough"]);
    assert_eq!(
        (checked.status.code(), out(&checked).as_str()),
        (Some(1), "a.dough would be reformatted\n")
    );
    let done = assize(folder.path(), &["fmt", "a.dough"]);
    assert_eq!((done.status.code(), out(&done).as_str()), (Some(0), "a.dough reformatted\n"));
    assert_eq!(fs::read_to_string(folder.path().join("a.dough")).expect("readable"), NEAT);
    let again = assize(folder.path(), &["fmt", "a.dough"]);
    assert_eq!((again.status.code(), out(&again).as_str()), (Some(0), "nothing to reformat\n"));
    let open = assize(folder.path(), &["fmt", "open.dough"]);
    assert_eq!(open.status.code(), Some(1));
    assert!(err(&open).contains("open.dough is left as it is"), "{}", err(&open));
    assert_eq!(
        fs::read_to_string(folder.path().join("open.dough")).expect("readable"),
        "formula a {\n"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(256) })]

    /// Blanks scattered over a formula change nothing that it says.
    #[test]
    fn scattered_blanks_are_gathered(blanks in prop::collection::vec(0..4usize, 80)) {
        let mut text = String::new();
        let mut next = blanks.iter().cycle();
        for line in NEAT.lines() {
            let inner = line.trim_start();
            text.push_str(&" ".repeat(*next.next().expect("endless")));
            text.push_str(&inner.replace("; ", &format!(";{}", " ".repeat(*next.next().expect("endless")))));
            text.push_str(&" ".repeat(*next.next().expect("endless")));
            text.push('\n');
        }
        // The text in quotes keeps its blanks, so only the rest can be compared.
        let once = laid_out(&text).expect("it closes");
        prop_assert_eq!(laid_out(&once), Ok(once.clone()));
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        prop_assert_eq!(flat(&once), flat(NEAT));
    }

    #[test]
    fn no_text_panics_or_loses_more_than_blanks(text in "[a-z0-9 {}\";#\n.,%()é🍞-]{0,160}") {
        if let Ok(once) = laid_out(&text) {
            let dense = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>();
            prop_assert_eq!(dense(&once).to_lowercase(), dense(&text).to_lowercase());
        }
    }
}
