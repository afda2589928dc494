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

/// A house whose steps say something wherever a step can: what hurts, what is noted, folds,
/// phases, a step in the author's words, a stage with a method, batches.
const SAYS_ALL: &str = r#"
bakehouse "Gullhaven Bakehouse" { language en; scale 5 g above 1 kg, 1 g; mixer m { holds 1 kg..6 kg } }
formula cuttle-knots "Cuttle Knots" {
  makes 120 knots at 80 g
  total { bread flour 100%; water 55%; salt 2%; fresh yeast 2% }
  mixture bath { water 960 g; lye 40 g }
  preferment sponge {
    ferments 20% of flour
    bread flour 100%; water 60%; fresh yeast 1%
    ripens 3h at 22C
    note "The sponge domes & falls."
    caution "The tub of the sponge is heavy."
    method { mix 6min with everything note "Scrape the sponge down." caution "Stop the mixer first." }
  }
  method {
    mix 8min with sponge, everything else to 25C note "Hold [100 g of water] of [dough] back."
    bulk 1h at 25C { fold 2 times every 20min; note "Wet hands."; caution "The boards are slippery." }
    step "Turn out onto oiled boards." note "Oil both sides." caution "Oil on the floor."
    proof 30min at 26C then 1h at 4C note "Cover them." caution "The cold room locks."
    boil 20s in bath caution "Bath is caustic: goggles on in this room." note "Turn the bath off."
    bake 15min at 230C steamed then 5min at 200C vented caution "The tray tips." note "Turn it."
  }
}
"#;

/// The words of a page for a browser as people read them, all blanks dropped.
fn page_words(html: &str) -> String {
    let body = html.split_once("<body>").expect("a body").1;
    let mut words = String::new();
    let mut is_tag = false;
    for letter in body.chars() {
        match letter {
            '<' => is_tag = true,
            '>' if is_tag => is_tag = false,
            letter if !is_tag => words.push(letter),
            _ => {}
        }
    }
    let entities = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&amp;", "&")];
    dense(&entities.iter().fold(words, |words, (entity, letter)| words.replace(entity, letter)))
}

/// All texts of a document but the words of its templates and the names of its parts.
fn all_texts(value: &Value, texts: &mut Vec<String>) {
    match value {
        Value::String(text) => texts.push(text.clone()),
        Value::Array(all) => all.iter().for_each(|value| all_texts(value, texts)),
        Value::Object(fields) => {
            let own = fields.iter().filter(|(name, _)| !["words", "key"].contains(&name.as_str()));
            own.for_each(|(_, value)| all_texts(value, texts));
        }
        _ => {}
    }
}

/// Whoever works from a screen is told what stands on paper: every title, time, temperature,
/// text, note and caution of every step, and every other text of the document that the sheet on
/// paper holds.
#[test]
fn a_sheet_for_a_browser_says_what_the_sheet_on_paper_says() {
    let made = folder();
    fs::write(made.path().join("a.dough"), SAYS_ALL).expect("written");
    let two = folder();
    let in_two = SAYS_ALL.replace("language en", "language en and fr");
    fs::write(two.path().join("a.dough"), in_two).expect("written");
    let houses = [
        made.path().to_owned(),
        two.path().to_owned(),
        top().join("tests/prints"),
        top().join("examples/gullhaven"),
    ];
    let (mut steps, mut cautions, mut beside) = (0, 0, 0);
    for house in &houses {
        let to = folder();
        let at = to.path().to_string_lossy().into_owned();
        for format in ["pdf", "html"] {
            let args = ["print", "--only", "sheet", "--format", format, "--to", &at];
            let done = assize(house, &args);
            assert_eq!(done.status.code(), Some(0), "{house:?}: {}", err(&done));
        }
        for entry in to.path().read_dir().expect("listed") {
            let file = entry.expect("an entry").path();
            let Some(file_name) = file.file_name().and_then(|name| name.to_str()) else { continue };
            let Some(name) = file_name.strip_suffix("-sheet.html") else { continue };
            let page = page_words(&fs::read_to_string(&file).expect("a page")).to_lowercase();
            let pdf = pdf_extract::extract_text(file.with_extension("pdf")).expect("text");
            let pdf = dense(&pdf).to_lowercase();
            let shown = assize(house, &["show", name, "--format", "json"]);
            let document: Value = serde_json::from_str(&out(&shown)).expect("JSON");
            let of_batch = document["batch_method"].as_array().expect("steps");
            let method = if of_batch.is_empty() { "method" } else { "batch_method" };
            for step in document[method].as_array().expect("steps") {
                let mut texts = Vec::new();
                let mut step = step.clone();
                // What must not be missed where words are left out stands in the words.
                let phases = step["phases"].as_array_mut().expect("phases").iter_mut();
                phases.for_each(|phase| phase["how"] = Value::Null);
                all_texts(&step, &mut texts);
                for text in texts {
                    let words = dense(&text).to_lowercase();
                    assert!(page.contains(&words), "{name}: {text} is not on the page");
                }
                steps += 1;
                cautions += step["cautions"].as_array().expect("cautions").len();
            }
            let mut texts = Vec::new();
            all_texts(&document, &mut texts);
            let texts = texts.iter().map(|text| dense(text).to_lowercase());
            for text in texts.filter(|text| text.len() > 8) {
                beside += usize::from(pdf.contains(&text));
                let is_there = page.contains(&text) || !pdf.contains(&text);
                assert!(is_there, "{name}: {text} is on paper and not on the page");
            }
        }
    }
    assert!(steps > 150 && cautions > 10 && beside > 500, "{steps} {cautions} {beside}");
}
