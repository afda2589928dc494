//! Prints in another language than the house's, and sheets in two.

use crate::support::{assize, dough_files, err, folder, from_disk, out, top};
use assize::testing::desk;
use assize::testing::formula::work;
use assize::testing::print::{Wording, document, in_two};
use serde_json::Value;
use std::fs;

const LANGUAGES: [&str; 5] = ["en", "fr", "de", "es", "it"];

/// Every text of a document with its place.
fn texts(value: &Value, place: &str, all: &mut Vec<(String, String)>) {
    match value {
        Value::String(text) => all.push((place.to_owned(), text.clone())),
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                texts(item, &format!("{place}/{index}"), all);
            }
        }
        Value::Object(fields) => {
            for (key, field) in fields {
                texts(field, &format!("{place}/{key}"), all);
            }
        }
        _ => (),
    }
}

fn texts_of(value: &Value) -> Vec<(String, String)> {
    let mut all = Vec::new();
    texts(value, "", &mut all);
    all
}

/// What is written the same in every language: amounts, exact numbers, keys.
fn is_number(place: &str) -> bool {
    let last = place.rsplit('/').next().unwrap_or_default();
    ["number", "unit", "grams", "exact", "exact_high", "percent", "key", "class"].contains(&last)
        && !place.contains("/pieces/")
        && !place.contains("/figures/")
}

#[test]
fn a_sheet_in_two_languages_says_all_that_either_says() {
    let mut joined = 0;
    for file in ["examples/gullhaven", "tests/prints"].into_iter().flat_map(dough_files) {
        let loaded = from_disk(&file);
        for bakehouse in desk::bakehouses(&loaded) {
            for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
                let worked = work(&bakehouse.house, formula, &mut Vec::new());
                let of = |words: &Wording| document(&bakehouse.house, &worked, words, false);
                for (one, other) in LANGUAGES.iter().zip(LANGUAGES.iter().cycle().skip(1)) {
                    let first = Wording::new(one, None).0;
                    let second = Wording::new(other, None).0.with_numbers_of(&first);
                    let (first, second) = (of(&first), of(&second));
                    let both = in_two(&first, &second).expect("a document");
                    let json = |document| serde_json::to_value(document).expect("json");
                    let both = texts_of(&json(&both));
                    for (place, text) in
                        texts_of(&json(&first)).iter().chain(&texts_of(&json(&second)))
                    {
                        if place == "/language" || place == "/decimal_mark" {
                            continue;
                        }
                        let is_list =
                            ["/contains/", "/may_contain/", "/contains_unknown/", "/cautions/"]
                                .iter()
                                .any(|list| place.contains(list));
                        let said = both.iter().any(|(at, said)| {
                            (at == place
                                || is_list
                                    && at.rsplit_once('/').map(|it| it.0)
                                        == place.rsplit_once('/').map(|it| it.0))
                                && said.contains(text.as_str())
                        });
                        assert!(
                            said,
                            "{}: {one} and {other} lose `{text}` at {place}",
                            formula.name.shown
                        );
                        joined += 1;
                    }
                    for (place, text) in &both {
                        assert!(
                            !(is_number(place) && text.contains(" / ")),
                            "{}: {one} and {other} write one number twice: {place} `{text}`",
                            formula.name.shown
                        );
                    }
                }
            }
        }
    }
    assert!(joined > 10_000, "{joined} texts");
}

const HOUSE: &str = "bakehouse \"Gullhaven Bakehouse\" {\n  language LANGUAGE\n}\n\
    formula quay-loaf \"Quay Loaf\" {\n  makes 2 loaves at 900 g\n  dough {\n    \
    bread flour 100%\n    water 70%\n    salt 2%\n    instant yeast 0.5%\n  }\n  method {\n    \
    mix with everything 8min\n    bulk 2h\n    divide\n    shape\n    proof 1h\n    \
    bake 40min at 230C\n  }\n}\n";

/// What `print` writes as a page for a browser.
fn page(language: &str, args: &[&str]) -> String {
    let house = folder();
    fs::write(house.path().join("house.dough"), HOUSE.replace("LANGUAGE", language))
        .expect("written");
    let all = [&["print", "--format", "html", "--to", "-"], args].concat();
    let done = assize(house.path(), &all);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    out(&done)
}

#[test]
fn language_is_asked_for_and_nothing_else_changes() {
    let asked = page("en", &["--only", "card", "--language", "fr"]);
    let own = page("fr", &["--only", "card"]);
    let body = |page: &str| page.split("<footer").next().unwrap_or_default().to_owned();
    assert_eq!(body(&asked), body(&own));
    assert!(asked.contains("lang=\"fr\""), "{asked}");
    assert!(page("en", &["--only", "card"]).contains("lang=\"en\""));
}

#[test]
fn sheets_speak_two_languages_and_cards_the_first() {
    for (language, args) in [("fr and de", &[][..]), ("en", &["--language", "fr and de"][..])] {
        let sheet = page(language, &[&["--only", "sheet"], args].concat());
        for said in ["Pétrissage / Kneten", "sel / Salz"] {
            assert!(sheet.contains(said), "{said}: {sheet}");
        }
        let card = page(language, &[&["--only", "card"], args].concat());
        assert!(card.contains("Pétrissage") && !card.contains("Kneten"), "{card}");
    }
}

#[test]
fn a_language_without_words_is_refused() {
    let house = folder();
    fs::write(house.path().join("house.dough"), HOUSE.replace("LANGUAGE", "en")).expect("written");
    for (asked, said) in [
        ("tlh", "there are no words for `tlh` here; there are: en, fr, de, es, it"),
        ("fr, de, it", "`--language` takes one language, or two"),
        (" ", "`--language` takes one language, or two"),
    ] {
        let done = assize(house.path(), &["print", "--language", asked]);
        assert_eq!(done.status.code(), Some(2));
        assert!(err(&done).contains(said), "{}", err(&done));
    }
    fs::write(house.path().join("house.dough"), HOUSE.replace("LANGUAGE", "en and tlh"))
        .expect("written");
    let told = err(&assize(house.path(), &["check"])) + &out(&assize(house.path(), &["check"]));
    assert!(told.contains("no-words-for-language"), "{told}");
    assert!(top().join("templates/words").is_dir());
}

/// The messages of a catalogue and of its names, by their keys.
fn messages(language: &str) -> std::collections::BTreeMap<String, String> {
    let of = |file: String| {
        fs::read_to_string(top().join("templates/words").join(file)).expect("a catalogue")
    };
    let text = of(format!("{language}.ftl")) + "\n" + &of(format!("names.{language}.ftl"));
    let line = |line: &str| {
        let (key, words) = line.split_once(" = ")?;
        (!key.starts_with(['#', ' '])).then(|| (key.to_owned(), words.to_owned()))
    };
    text.lines().filter_map(line).collect()
}

/// What a glossary explains is called as the pages call it.
#[test]
fn glossaries_say_the_words_of_the_other_pages() {
    let mut same = 0;
    for language in &LANGUAGES[1..] {
        let all = messages(language);
        for (key, said) in
            all.iter().filter_map(|(key, said)| Some((key.strip_prefix("gloss-")?, said)))
        {
            let (word, _) = said.split_once('|').expect("a word and what it means");
            // What is brushed on has a word before the oven and another after it.
            let wanted = match key {
                "glaze" => {
                    let before = all["step-glaze-before-oven"].as_str();
                    format!("{before}, {}", all["step-glaze"].to_lowercase())
                }
                key => match [format!("step-{key}"), format!("figure-{key}")]
                    .iter()
                    .find_map(|it| all.get(it))
                {
                    Some(word) => word.clone(),
                    None => continue,
                },
            };
            assert_eq!(word.to_lowercase(), wanted.to_lowercase(), "{language}: gloss-{key}");
            same += 1;
        }
    }
    assert!(same > 4 * 45, "{same}");
}

/// What is brushed on before the oven is a wash in the trade of other countries, and what is
/// brushed on after it makes the crust shine.
#[test]
fn a_glaze_is_called_for_the_side_of_the_oven_it_is_on() {
    let brushed = |language: &str, before: bool| {
        let step = "    glaze 5min with whole egg\n";
        let bake = "    bake 40min at 230C\n";
        let order = if before { [step, bake] } else { [bake, step] }.concat();
        let house = folder();
        let text =
            HOUSE.replace("LANGUAGE", language).replace("quay-loaf \"Quay Loaf\"", "quay-loaf");
        let text = text
            .replace(bake, &order)
            .replace("  method {", "  piece {\n    whole egg 5 g\n  }\n  method {");
        fs::write(house.path().join("house.dough"), text).expect("written");
        let done =
            assize(house.path(), &["print", "--only", "card", "--format", "html", "--to", "-"]);
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
        out(&done)
    };
    for (language, before, after) in [
        ("en", "Glaze", "Glaze"),
        ("de", "Bestreichen", "Abglänzen"),
        ("fr", "Dorure", "Lustrage"),
        ("es", "Pintado", "Abrillantado"),
        ("it", "Spennellatura", "Lucidatura"),
    ] {
        let pages = [brushed(language, true), brushed(language, false)];
        assert!(pages[0].contains(before), "{language}: {}", pages[0]);
        assert!(pages[1].contains(after), "{language}: {}", pages[1]);
        if before != after {
            assert!(!pages[0].contains(after) && !pages[1].contains(before), "{language}");
        }
    }
}

/// Signs that French parts from the word before them stay with it.
#[test]
fn french_signs_never_begin_a_line() {
    for (key, words) in messages("fr") {
        if key.starts_with("name-") {
            continue;
        }
        for sign in [" :", " ;", " !", " ?", " »", "« ", " %"] {
            assert!(!words.contains(sign), "{key}: {words}");
        }
        assert!(!words.contains('\''), "{key}: {words}");
    }
}
