//! Pages: what stands on them is what the document says.

use crate::support::{PLAIN, assize, err, folder, out, top};
use serde_json::Value;
use std::fs;

/// Prints of the whole example bakehouse, made once.
fn prints() -> &'static std::path::Path {
    static PRINTS: std::sync::OnceLock<tempfile::TempDir> = std::sync::OnceLock::new();
    PRINTS
        .get_or_init(|| {
            let folder = folder();
            let to = folder.path().to_string_lossy().into_owned();
            let done = assize(&top().join("examples/gullhaven"), &["print", "--to", &to]);
            assert_eq!(done.status.code(), Some(0), "{}", err(&done));
            folder
        })
        .path()
}

fn names() -> Vec<String> {
    let mut names: Vec<String> = prints()
        .read_dir()
        .expect("listed")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .filter_map(|name| name.strip_suffix("-card.pdf").map(str::to_owned))
        .collect();
    names.sort();
    assert!(names.len() >= 10);
    names
}

fn document(name: &str) -> Value {
    let done = assize(&top().join("examples/gullhaven"), &["show", name, "--format", "json"]);
    serde_json::from_str(&out(&done)).expect("JSON")
}

/// The text of a PDF with thin and no-break spaces as plain ones, all blanks dropped, so
/// that line breaks do not matter.
fn text(file: &str) -> String {
    let pdf = fs::read(prints().join(file)).expect("a print");
    let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

fn dense(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// Every weight that a document's lines show.
fn weights(lines: &Value) -> Vec<String> {
    let lines = lines.as_array().expect("lines").iter();
    lines.filter_map(|line| line["weight"]["shown"].as_str()).map(str::to_owned).collect()
}

#[test]
fn every_weight_of_the_document_stands_on_sheet_and_table() {
    for name in names() {
        let document = document(&name);
        let (sheet, table) =
            (text(&format!("{name}-sheet.pdf")), text(&format!("{name}-table.pdf")));
        assert!(sheet.contains(&dense(document["title"].as_str().expect("a title"))), "{name}");
        for mix in document["mixes"].as_array().expect("mixes") {
            for weight in weights(&mix["lines"]) {
                assert!(table.contains(&weight), "{name}: {weight} is not on the table");
            }
            let batch = &mix["batch_lines"];
            let lines =
                if batch.as_array().is_some_and(Vec::is_empty) { &mix["lines"] } else { batch };
            for weight in weights(lines) {
                assert!(sheet.contains(&weight), "{name}: {weight} is not on the sheet");
            }
        }
    }
}

#[test]
fn every_weight_figure_and_step_stands_on_the_card() {
    for name in names() {
        let document = document(&name);
        let card = text(&format!("{name}-card.pdf"));
        for group in document["groups"].as_array().expect("groups") {
            for weight in weights(&group["lines"]) {
                assert!(card.contains(&weight), "{name}: {weight} is not on the card");
            }
        }
        for figure in document["figures"].as_array().expect("figures") {
            let shown = figure["shown"].as_str().expect("a value");
            assert!(figure["key"] != true || card.contains(&dense(shown)), "{name}: {shown}");
        }
        for caution in document["cautions"].as_array().expect("cautions") {
            let caution = dense(caution.as_str().expect("words"));
            let start: String = caution.chars().take(12).collect();
            assert!(card.contains(&start), "{name}: {caution} is not on the card");
        }
    }
}

#[test]
fn a_card_has_at_most_two_pages_and_a_table_one() {
    for name in names() {
        for (print, most) in [("card", 2), ("table", 1), ("sheet", 2)] {
            let pdf = fs::read(prints().join(format!("{name}-{print}.pdf"))).expect("a print");
            let pages = pdf_extract::Document::load_mem(&pdf).expect("a PDF").get_pages().len();
            assert!((1..=most).contains(&pages), "{name}-{print}: {pages} pages");
        }
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), PLAIN).expect("written");
    for to in ["one", "two"] {
        let done = assize(folder.path(), &["print", "a.dough", "--to", to]);
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    }
    for print in ["card", "sheet", "table"] {
        let read = |to: &str| {
            fs::read(folder.path().join(format!("{to}/pier-loaf-{print}.pdf"))).expect("a print")
        };
        assert!(read("one") == read("two"), "{print}");
    }
}

#[test]
fn pages_come_as_svg_and_png_too() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), PLAIN).expect("written");
    let svg = assize(folder.path(), &["print", "a.dough", "--only", "card", "--format", "svg"]);
    assert_eq!(svg.status.code(), Some(0), "{}", err(&svg));
    let svg = fs::read_to_string(folder.path().join("prints/pier-loaf-card.svg")).expect("a page");
    assert!(svg.starts_with("<svg"));
    let png = assize(
        folder.path(),
        &["print", "a.dough", "--only", "card", "--format", "png", "--dpi", "72"],
    );
    assert_eq!(png.status.code(), Some(0), "{}", err(&png));
    let png = fs::read(folder.path().join("prints/pier-loaf-card.png")).expect("a page");
    // An A5 page of 148 by 210 mm at 72 dots an inch.
    let size = |at: usize| u32::from_be_bytes(png[at..at + 4].try_into().expect("four bytes"));
    assert_eq!((size(16), size(20)), (420, 595));
}

#[test]
fn a_letter_that_no_font_has_is_told() {
    let folder = folder();
    let text = PLAIN.replace("\"Pier Loaf\"", "\"桟橋\"");
    fs::write(folder.path().join("a.dough"), text).expect("written");
    let done = assize(folder.path(), &["print", "a.dough", "--only", "card"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert!(err(&done).contains("glyph-missing"), "{}", err(&done));
}
