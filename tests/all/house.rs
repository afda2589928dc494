//! The house's own: templates, fonts, logo, colour, words, units, languages.

use crate::support::{PLAIN, assize, err, folder, out, top};
use assize::testing::print::wording::CATALOGUES;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

const LOGO: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 8 8\"><circle cx=\"4\" cy=\"4\" r=\"4\"/></svg>";

/// A bakehouse with these settings and one plain formula.
fn bakehouse(settings: &str) -> tempfile::TempDir {
    let folder = folder();
    let house = format!("bakehouse \"Gullhaven Bakehouse\" {{\n{settings}\n}}\n");
    fs::write(folder.path().join("house.dough"), house).expect("written");
    fs::write(folder.path().join("pier.dough"), PLAIN).expect("written");
    folder
}

fn write(folder: &Path, path: &str, bytes: impl AsRef<[u8]>) {
    let path = folder.join(path);
    fs::create_dir_all(path.parent().expect("a folder")).expect("made");
    fs::write(path, bytes).expect("written");
}

fn document(folder: &Path) -> Value {
    let done = assize(folder, &["show", "pier-loaf", "--format", "json"]);
    serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)))
}

fn card(folder: &Path) -> String {
    let done = assize(folder, &["print", "pier-loaf", "--only", "card"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let pdf = fs::read(folder.join("prints/pier-loaf-card.pdf")).expect("a print");
    let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// The messages of a catalogue: name, and the variables that it fills in.
fn messages(text: &str) -> BTreeMap<String, Vec<String>> {
    let mut messages: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut name = String::new();
    for line in text.lines() {
        if line.starts_with(|letter: char| letter.is_ascii_lowercase()) {
            name = line.split(" =").next().unwrap_or_default().to_owned();
            assert!(messages.insert(name.clone(), Vec::new()).is_none(), "{name} stands twice");
        }
        let variables = line.split("{ $").skip(1);
        let variables = variables.filter_map(|rest| rest.split([' ', '}']).next());
        if let Some(known) = messages.get_mut(&name) {
            // A name with its `de` or `d'` is that name.
            known.extend(variables.map(|name| name.trim_start_matches("of-").to_owned()));
            known.sort();
            known.dedup();
        }
    }
    messages
}

#[test]
fn every_language_has_every_message_with_the_same_variables() {
    let (_, english, english_names) = CATALOGUES[0];
    let wanted = messages(english);
    for (language, words, names) in CATALOGUES {
        let found = messages(words);
        for (name, variables) in &wanted {
            assert_eq!(found.get(name), Some(variables), "{language}: {name}");
        }
        // English needs no words for kinds of piece and for places.
        let own = |name: &&String| name.starts_with("piece-") || name.starts_with("place-");
        for name in found.keys().filter(|name| !own(name)) {
            assert!(wanted.contains_key(name), "{language}: {name} is no message of ours");
        }
        let found = messages(names);
        for name in messages(english_names).keys() {
            assert!(found.contains_key(name), "{language}: {name}");
        }
        for text in [words, names] {
            let (_, slips) = assize::testing::print::Wording::new(language, Some(text));
            assert!(slips.is_empty(), "{language}: {slips:?}");
        }
    }
}

#[test]
fn every_built_in_ingredient_has_a_name_in_every_language() {
    let house = assize::testing::formula::built_in();
    for (language, ..) in CATALOGUES.iter().filter(|(language, ..)| *language != "en") {
        let (words, _) = assize::testing::print::Wording::new(language, None);
        let nameless: Vec<&str> = house
            .ingredients()
            .map(|ingredient| ingredient.name.shown.as_str())
            .filter(|name| words.name("name", name).is_none())
            .collect();
        assert!(nameless.is_empty(), "{language}: {nameless:?}");
    }
}

#[test]
fn a_card_speaks_the_language_of_the_house() {
    for (language, words) in [
        ("fr", ["Taux", "farinedeblé", "20,0g"]),
        ("de", ["Salz", "backstarkesWeizenmehl", "20,0g"]),
        ("es", ["Hidratación", "harinadefuerza", "20,0g"]),
        ("it", ["Idratazione", "farinadiforza", "20,0g"]),
    ] {
        let folder = bakehouse(&format!("  language {language}"));
        let card = card(folder.path());
        for word in words {
            assert!(card.contains(word), "{language}: {word}: {card}");
        }
        assert!(!card.contains("wheat"), "{language}: {card}");
        let document = document(folder.path());
        assert_eq!(document["decimal_mark"], ",", "{language}");
    }
}

#[test]
fn an_ingredient_is_called_as_its_declaration_says() {
    let folder = bakehouse("  language fr");
    let own = "ingredient bread flour like whole wheat flour { called fr \"farine du moulin\" }\n";
    write(folder.path(), "own.dough", own);
    assert!(card(folder.path()).contains("farinedumoulin"));
}

#[test]
fn a_house_brings_words_of_its_own() {
    let folder = bakehouse("  language nl");
    let done = assize(folder.path(), &["print", "--only", "card"]);
    assert!(err(&done).contains("no-words-for-language"), "{}", err(&done));
    write(folder.path(), "templates/words.ftl", "figure-salt = Zout\n= 1\n");
    let done = assize(folder.path(), &["print", "--only", "card"]);
    assert!(!err(&done).contains("no-words-for-language"), "{}", err(&done));
    assert!(err(&done).contains("words-unread") && err(&done).contains("line 2"), "{}", err(&done));
    assert!(card(folder.path()).contains("Zout"));
}

/// Any message said twice is told with both lines; said once, or in a comment, it is not.
#[test]
fn a_message_of_the_house_is_said_once() {
    let folder = bakehouse("  language nl");
    for (words, told) in [
        (
            "figure-salt = Zout\nprint-method = Werkwijze\nfigure-salt = Zout\n",
            Some("line 3, was said on line 1"),
        ),
        (
            "print-method = A\n  B\n\nprint-method = { $weight }\n",
            Some("line 4, was said on line 1"),
        ),
        ("name-salt = Zout\nname-salt = Keukenzout\n", Some("line 2, was said on line 1")),
        ("figure-salt = Zout\n# figure-salt = Zout\nprint-method = Werkwijze\n", None),
    ] {
        write(folder.path(), "templates/words.ftl", words);
        let done = assize(folder.path(), &["check"]);
        let all = out(&done) + &err(&done);
        match told {
            Some(told) => assert!(
                all.split_whitespace().collect::<Vec<_>>().join(" ").contains(told),
                "{words}{all}"
            ),
            None => assert!(!all.contains("words-unread"), "{words}{all}"),
        }
    }
}

#[test]
fn a_template_of_the_house_replaces_ours_and_reads_its_own_folder() {
    let folder = bakehouse("");
    let template = "#import \"parts/head.typ\": head\n#let doc = json(\"document.json\")\n\
                    #set document(title: doc.title)\n#head(doc.title)\n#doc.yield.text\n";
    write(folder.path(), "templates/card.typ", template);
    write(folder.path(), "templates/parts/head.typ", "#let head(it) = heading[Our own #it]\n");
    let card = card(folder.path());
    assert!(card.contains("OurownPierLoaf"), "{card}");
    assert!(card.contains("2loavesat885g"), "{card}");
}

#[test]
fn a_template_sees_nothing_outside() {
    for (template, why) in [
        ("#import \"@preview/cards:1.0.0\": *\n", "no packages"),
        ("#read(\"../house.dough\")\n", "template-slip"),
        ("#read(\"/etc/hostname\")\n", "not found"),
        ("\n\n#nothing-of-this-name\n", "card.typ, line 3"),
    ] {
        let folder = bakehouse("");
        write(folder.path(), "templates/card.typ", template);
        let done = assize(folder.path(), &["print", "--only", "card"]);
        assert_eq!(done.status.code(), Some(1), "{template}");
        let told = err(&done).replace("\n  │ ", " ");
        assert!(told.contains("template-slip") && told.contains(why), "{template}: {told}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_does_not_lead_out_of_the_bakehouse() {
    let elsewhere = folder();
    fs::write(elsewhere.path().join("secret.txt"), "secret").expect("written");
    let folder = bakehouse("");
    write(folder.path(), "templates/card.typ", "#read(\"secret.txt\")\n");
    let link = folder.path().join("templates/secret.txt");
    std::os::unix::fs::symlink(elsewhere.path().join("secret.txt"), link).expect("linked");
    let done = assize(folder.path(), &["print", "--only", "card"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("outside the bakehouse"), "{}", err(&done));
}

#[test]
fn a_template_that_is_no_text_is_told() {
    for file in ["card.typ", "words.ftl"] {
        let folder = bakehouse("");
        write(folder.path(), &format!("templates/{file}"), b"#let x = \xff");
        let done = assize(folder.path(), &["print", "--only", "card"]);
        assert_eq!(done.status.code(), Some(1), "{file}");
        assert!(err(&done).contains("not-utf-8"), "{file}: {}", err(&done));
    }
}

#[test]
fn our_templates_can_be_written_out_and_print_the_same() {
    let folder = bakehouse("");
    let ours = {
        card(folder.path());
        fs::read(folder.path().join("prints/pier-loaf-card.pdf")).expect("a print")
    };
    let done = assize(folder.path(), &["print", "--export-templates", "templates"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    card(folder.path());
    let theirs = fs::read(folder.path().join("prints/pier-loaf-card.pdf")).expect("a print");
    assert!(ours == theirs);
    let again = assize(folder.path(), &["print", "--export-templates", "templates"]);
    assert_eq!(again.status.code(), Some(2), "nothing is written over");
}

#[test]
fn a_logo_and_a_colour_stand_on_every_form_of_a_card() {
    let folder = bakehouse("  logo \"sign.svg\"\n  colour \"#2f4858\"");
    let missing = assize(folder.path(), &["print", "--only", "card"]);
    assert!(err(&missing).contains("`sign.svg` can't be read"), "{}", err(&missing));
    assert_eq!(missing.status.code(), Some(0));
    write(folder.path(), "sign.svg", LOGO);
    let done = assize(folder.path(), &["print", "--only", "card"]);
    assert_eq!(err(&done), "");
    let pdf = fs::read(folder.path().join("prints/pier-loaf-card.pdf")).expect("a print");
    let text = String::from_utf8_lossy(&pdf);
    assert!(text.contains("/Figure") && text.contains("/Alt"), "the logo is a picture with words");
    assize(folder.path(), &["print", "--only", "card", "--format", "html"]);
    let page = fs::read_to_string(folder.path().join("prints/pier-loaf-card.html")).expect("one");
    assert!(page.contains("alt=\"Logo of Gullhaven Bakehouse\""), "{page}");
    assert!(page.contains("--accent: #2f4858") && page.contains("data:image/svg+xml;base64,"));
}

#[test]
fn pounds_and_ounces_come_in_fractions_and_add_up() {
    let folder = bakehouse("  units metric and US");
    // Large enough for no line to weigh less than four ounces.
    let large = PLAIN.replace("2 loaves at", "24 loaves at");
    write(folder.path(), "pier.dough", large);
    let document = document(folder.path());
    let dough = &document["mixes"][0];
    let eighths = |shown: &str| {
        let (pounds, ounces) = shown.split_once(" lb ").unwrap_or(("0", shown));
        let sign = ounces.chars().last().expect("a digit");
        let parts = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
        let part = parts.iter().position(|part| part.starts_with(sign)).unwrap_or(0);
        let whole = ounces.trim_end_matches(|letter: char| !letter.is_ascii_digit());
        let whole: f64 = if whole.is_empty() { 0.0 } else { whole.parse().expect("ounces") };
        pounds.parse::<f64>().expect("pounds") * 16.0 + whole + part as f64 / 8.0
    };
    let lines = dough["lines"].as_array().expect("lines");
    let beside = |line: &Value| line["beside"]["shown"].as_str().expect("ounces").to_owned();
    // 1 oz is 28.349523125 g (international avoirdupois pound of 1959).
    let flour = &lines[0]["weight"];
    assert_eq!((flour["shown"].as_str(), beside(flour).as_str()), (Some("12.000"), "26 lb 7¼"));
    let sum: f64 = lines.iter().map(|line| eighths(&beside(&line["weight"]))).sum();
    assert!((sum - eighths(&beside(&dough["sum"]))).abs() < 0.005, "{sum}");
}

#[test]
fn volumes_stand_beside_weights_where_they_are_asked_for() {
    let folder = bakehouse("  measures US");
    assert!(!card(folder.path()).contains('≈'));
    let folder = bakehouse("  measures US\n  volumes beside weights");
    let card = card(folder.path());
    assert!(card.contains("≈") && card.contains("cups"), "{card}");
    assert!(card.contains("approximate"), "{card}");
}

#[test]
fn a_font_of_the_house_stands_in_for_letters_that_ours_lack() {
    let folder = bakehouse("");
    write(folder.path(), "pier.dough", PLAIN.replace("Pier Loaf", "Pier Loaf ⛵"));
    let done = assize(folder.path(), &["print", "--only", "card"]);
    assert!(err(&done).contains("glyph-missing"), "{}", err(&done));
}

#[test]
fn several_prints_stand_in_one_file_behind_their_contents() {
    let folder = folder();
    let to = folder.path().to_string_lossy().into_owned();
    let gullhaven = top().join("examples/gullhaven");
    let done = assize(&gullhaven, &["print", "--one", "--only", "card", "--to", &to]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let pdf = fs::read(folder.path().join("book.pdf")).expect("a book");
    let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
    let text: String = text.chars().filter(|letter| !letter.is_whitespace()).collect();
    assert!(text.contains("Contents") && text.contains("GullhavenSour"));
    let options = page_validation::ValidationOptions::default()
        .profile(page_validation::ValidationProfile::PdfUa1);
    let report = page_validation::validate_pdf_bytes(&pdf, &options).expect("a PDF");
    assert!(report.is_compliant, "{report}");
    let book = pdf_extract::Document::load_mem(&pdf).expect("a PDF");
    let info = book.trailer.get(b"Info").and_then(|it| it.as_reference()).expect("information");
    let title = book.get_dictionary(info).and_then(|it| it.get(b"Title")).expect("a title");
    let title = pdf_extract::Object::as_str(title).expect("text");
    assert!(String::from_utf8_lossy(title).replace('\0', "").contains("Gullhaven Bakehouse"));
}

#[test]
fn a_single_print_goes_to_standard_output() {
    let folder = bakehouse("");
    let done = assize(folder.path(), &["print", "pier-loaf", "--only", "card", "--to", "-"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert!(done.stdout.starts_with(b"%PDF-"));
    let several = assize(folder.path(), &["print", "pier-loaf", "--to", "-"]);
    assert_eq!(several.status.code(), Some(2));
    assert!(!folder.path().join("-").exists());
}

/// Prints stand on threads of their own: on the pool that sets pages, one began on top of
/// another until the stack was full.
#[test]
fn many_cards_at_once_do_not_overflow() {
    let folder = folder();
    for number in 0..300 {
        let text = PLAIN.replace("pier-loaf", &format!("pier-loaf-{number}"));
        fs::write(folder.path().join(format!("{number}.dough")), text).expect("written");
    }
    let done = assize(folder.path(), &["print", "--only", "card"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert_eq!(out(&done), "300 files in prints\n");
}

/// Every colour that words have in our templates and pages can be read on every ground
/// that they stand on: W3C, WCAG 2.2, success criterion 1.4.3.
#[test]
fn our_own_colours_can_be_read() {
    use assize::testing::print::look::{Colour, LEAST_CONTRAST};
    let colour = |text: &str| Colour::read(text).expect("a colour");
    let read = |file: &str| fs::read_to_string(top().join("templates").join(file)).expect("text");
    let mut checked = 0;
    for file in ["card.typ", "sheet.typ", "table.typ", "book.typ"] {
        let text = read(file);
        for line in text.lines().filter(|line| line.contains("\"#") && line.starts_with("#let")) {
            // Hair lines and tints carry no words.
            if ["hair", "tint", "fine"].iter().any(|name| line.starts_with(&format!("#let {name}")))
            {
                continue;
            }
            let at = line.find("\"#").expect("a colour") + 1;
            let contrast = colour(&line[at..at + 7]).contrast_on_paper();
            assert!(contrast >= LEAST_CONTRAST, "{file}: {line}: {contrast}");
            checked += 1;
        }
    }
    assert!(checked >= 4, "{checked} colours");
    let css = read("page.css");
    let themes: Vec<&str> = css.lines().filter(|line| line.contains("--ground:")).collect();
    assert_eq!(themes.len(), 3, "light, dark and paper");
    for theme in themes {
        let of = |name: &str| {
            let at = theme.find(&format!("--{name}: ")).expect("a colour") + name.len() + 4;
            colour(&theme[at..at + 7])
        };
        for words in ["ink", "quiet"] {
            for ground in ["ground", "tint"] {
                let contrast = of(words).contrast(of(ground));
                assert!(contrast >= LEAST_CONTRAST, "{words} on {ground}: {contrast} in {theme}");
            }
        }
    }
}

/// A house with one loaf and files beside it.
fn house_with(files: &[(&str, &[u8])]) -> tempfile::TempDir {
    let folder = folder();
    let text = "bakehouse \"Gullhaven Bakehouse\" { logo \"sign.svg\" }\n\nformula tide-loaf \
                \"Tide Loaf\" {\n  makes 2 loaves at 800 g\n  total { bread flour 100%; water \
                70%; salt 2%; fresh yeast 1% }\n}\n";
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    for (name, bytes) in files {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        std::fs::write(path, bytes).expect("written");
    }
    folder
}

const SIGN: (&str, &[u8]) =
    ("sign.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"/>");

/// Whatever a template of a house does, its print is refused with the reason, and the
/// prints of our own templates beside it come out.
#[test]
fn a_template_that_goes_wild_takes_nothing_down() {
    let endless = "#for i in range(1000000) { for j in range(1000000) {} }";
    let filling = "#let all = range(100000000000)";
    let deep = "#let f(n) = [#box(f(n + 1))]\n#f(0)";
    let wide = "#set page(width: 10000000000pt)\nWide";
    let wasm = "#plugin(bytes((0, 97, 115, 109, 1, 0, 0, 0)))";
    let through_std = "#std.plugin(bytes((0, 97, 115, 109, 1, 0, 0, 0)))";
    for (template, why) in [
        (endless, "it was stopped after 2 s"),
        (filling, ""),
        (deep, "maximum"),
        (wide, "page 1 has 10000000000 pt"),
        (wasm, "expected function"),
        (through_std, "expected function"),
    ] {
        let folder = house_with(&[SIGN, ("templates/card.typ", template.as_bytes())]);
        let args = ["print", "--to", "out", "--template-seconds", "2"];
        let done = assize(folder.path(), &args);
        assert_eq!(done.status.code(), Some(1), "{template}");
        assert!(err(&done).contains("tide-loaf-card.pdf can't be set: "), "{}", err(&done));
        assert!(err(&done).contains(why), "{template}: {}", err(&done));
        let there = |name: &str| folder.path().join("out").join(name).exists();
        assert!(!there("tide-loaf-card.pdf") && there("tide-loaf-sheet.pdf"), "{template}");
    }
}

/// A child that was stopped is started again, and every other print of the run comes out;
/// a template of a house prints what it would print alone.
#[test]
fn a_template_of_a_house_is_set_like_ours() {
    let folder = house_with(&[SIGN]);
    let plain = assize(folder.path(), &["print", "--only", "card", "--to", "plain"]);
    assert_eq!(plain.status.code(), Some(0), "{}", err(&plain));
    let ours = assize(folder.path(), &["print", "--export-templates", "templates"]);
    assert_eq!(ours.status.code(), Some(0), "{}", err(&ours));
    let own = assize(folder.path(), &["print", "--to", "own", "--only", "card"]);
    assert_eq!(own.status.code(), Some(0), "{}", err(&own));
    let card = |to: &str| std::fs::read(folder.path().join(to).join("tide-loaf-card.pdf"));
    assert_eq!(card("plain").expect("printed"), card("own").expect("printed"));
    let book = assize(folder.path(), &["print", "--one", "--to", "own"]);
    assert_eq!(book.status.code(), Some(0), "{}", err(&book));
}

/// Pictures, fonts and words that would fill the memory, or the stack, are refused with a
/// finding, in `check` too, and the prints go on.
#[test]
fn what_a_house_brings_has_limits() {
    let mut wide = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    wide.extend([0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 6, 0, 0, 0]);
    let deep = format!("<svg>{}</svg>", "<g>".repeat(50_000));
    let words = format!("print-method = {}\n", "{".repeat(20_000));
    let font = b"ttcf\0\x02\0\0\xff\xff\xff\xff".to_vec();
    for (file, bytes, said) in [
        ("sign.svg", deep.as_bytes(), "is drawn with more than can be printed"),
        ("templates/words.ftl", words.as_bytes(), "its braces are nested"),
        ("fonts/odd.ttc", &font, "fonts/odd.ttc is not a font, or is damaged"),
    ] {
        let sign = if file == "sign.svg" { (file, bytes) } else { SIGN };
        let folder = house_with(&[sign, (file, bytes)]);
        let print = assize(folder.path(), &["print", "--to", "out"]);
        assert_eq!(print.status.code(), Some(0), "{file}: {}", err(&print));
        assert!(err(&print).contains(said), "{file}: {}", err(&print));
        if !file.starts_with("fonts") {
            let check = assize(folder.path(), &["check"]);
            assert!(out(&check).contains(said), "{file}: {}", out(&check));
        }
    }
    let folder = house_with(&[SIGN, ("sign.png", &wide)]);
    let path = folder.path().join("a.dough");
    let text = std::fs::read_to_string(&path).expect("read").replace("sign.svg", "sign.png");
    std::fs::write(&path, text).expect("written");
    for command in [&["check"][..], &["print", "--to", "out"]] {
        let done = assize(folder.path(), command);
        let told = out(&done) + &err(&done);
        assert_eq!(done.status.code(), Some(0), "{told}");
        assert!(told.contains("`sign.png` has 60000 × 60000 pixels"), "{told}");
    }
}

/// A hidden folder is no part of the bakehouse above it, and finds its own.
#[test]
fn a_hidden_folder_belongs_to_no_bakehouse_above_it() {
    let above = folder();
    let house = "bakehouse \"Gullhaven Bakehouse\" {\n  hours 06:00..20:00\n}\n";
    std::fs::write(above.path().join("stray.dough"), house).expect("written");
    std::fs::write(above.path().join("quay-loaf.dough"), PLAIN).expect("written");
    for (name, known) in [("inside", true), (".hidden", false)] {
        let inside = above.path().join(name);
        std::fs::create_dir(&inside).expect("a folder");
        let text = PLAIN.replace("pier-loaf", "own-loaf");
        std::fs::write(inside.join("own-loaf.dough"), text).expect("written");
        let shown = assize(&inside, &["show", "pier-loaf"]);
        assert_eq!(shown.status.success(), known, "{name}");
        assert!(assize(&inside, &["show", "own-loaf"]).status.success(), "{name}");
    }
}

/// What it contains is known by a key that no language changes, beside each name.
#[test]
fn allergens_have_a_key_beside_each_name() {
    let keys = |language: &str| {
        let folder = bakehouse(&format!("  language {language}"));
        let own = "ingredient quay mix is a nut { contains hazelnuts, milk, eggs; may contain sesame, soybeans }\n";
        write(folder.path(), "own.dough", own);
        let text = PLAIN;
        write(folder.path(), "pier.dough", text.replace("    salt ", "    quay mix 5%\n    salt "));
        let document = document(folder.path());
        let list = |name: &str| -> Vec<String> {
            let all = document[name].as_array().expect(name).iter();
            all.map(|it| it.as_str().expect("a text").to_owned()).collect()
        };
        for (names, keys) in [("contains", "contains_keys"), ("may_contain", "may_contain_keys")] {
            assert_eq!(list(names).len(), list(keys).len(), "{language}: {document}");
            assert!(!list(keys).is_empty(), "{language}: {document}");
        }
        let mut all = [list("contains_keys"), list("may_contain_keys")].concat();
        all.sort();
        all
    };
    let english = keys("en");
    assert!(english.contains(&"hazelnuts".to_owned()), "{english:?}");
    for language in ["fr", "de", "es", "it"] {
        assert_eq!(keys(language), english, "{language}");
    }
}

/// Every option of every command, with what it says nothing to: refused, and nothing is
/// written. Those that always say something are listed.
#[test]
fn no_option_is_taken_in_silence() {
    let refused: &[(&str, &[&str])] = &[
        ("--dpi", &["print", "pier-loaf", "--dpi", "300"]),
        ("--dpi", &["print", "pier-loaf", "--dpi", "300", "--format", "pdf"]),
        ("--dpi", &["print", "pier-loaf", "--dpi", "300", "--format", "svg"]),
        ("--copy", &["print", "pier-loaf", "--copy", "teacher"]),
        ("--copy", &["print", "--copy", "learner"]),
        ("--large", &["print", "pier-loaf", "--large"]),
        ("--large", &["print", "--large", "--only", "card"]),
        ("--label", &["print", "pier-loaf", "--label", "70x37"]),
        ("--label", &["print", "--label", "70x37", "--only", "card"]),
        ("--placings", &["print", "pier-loaf", "--placings", "10"]),
        ("--volumes", &["print", "pier-loaf", "--volumes", "--only", "table"]),
        ("--volumes", &["print", "pier-loaf", "--volumes", "--only", "sheet,table"]),
        ("--orders", &["print", "pier-loaf", "--orders", "house.dough"]),
        ("--state", &["print", "pier-loaf", "--state", "a.json"]),
        ("--now", &["print", "pier-loaf", "--now", "04:10"]),
        ("--done", &["print", "pier-loaf", "--done", "pier-loaf 1 bulk"]),
        ("--one", &["print", "pier-loaf", "--one", "--format", "html"]),
        ("--archive", &["print", "pier-loaf", "--archive", "--format", "png"]),
        ("--template-seconds", &["print", "--template-seconds", "9", "--format", "html"]),
        ("--export-templates", &["print", "--export-templates", "t", "pier-loaf"]),
        ("--export-templates", &["print", "--export-templates", "t", "--makes", "2 loaves"]),
        ("--export-templates", &["print", "--export-templates", "t", "--only", "card"]),
        ("--export-templates", &["print", "--export-templates", "t", "--volumes"]),
        ("--export-templates", &["print", "--export-templates", "t", "--format", "html"]),
        ("--export-templates", &["print", "--export-templates", "t", "--system-fonts"]),
        ("--export-templates", &["print", "--export-templates", "t", "--template-seconds", "9"]),
        ("name a folder", &["print", "--export-templates", "-"]),
        ("--pinned", &["check", "--pinned", "ABCD2345", "--fix"]),
        ("--pinned", &["check", "--pinned", "ABCD2345", "--all"]),
        ("--pinned", &["check", "--pinned", "ABCD2345", "--deny-warnings"]),
        ("--dry-run", &["read", "pier-loaf.dough", "--dry-run", "--to", "t"]),
        ("no words for `zz`", &["weave", "--language", "zz"]),
        ("--language", &["weave", "--language", ""]),
        ("one language", &["weave", "--language", "fr and de"]),
        ("--template-seconds", &["weave", "--template-seconds", "9"]),
        ("--template-seconds", &["weave", "--template-seconds", "9", "--format", "html"]),
        ("--measured", &["why", "pier-loaf", "hydration", "--measured", "26C"]),
        ("--measured", &["why", "pier-loaf", "water", "--measured", "26C"]),
        ("--measured", &["why", "pier-loaf", "elapsed time", "--measured", "26C"]),
        ("--template-seconds", &["plan", "pier-loaf", "--start", "7am", "--template-seconds", "9"]),
        ("--event", &["plan", "pier-loaf", "--start", "7am", "--event", "fair"]),
        ("--replaces", &["plan", "pier-loaf", "--start", "7am", "--replaces", "a.ics"]),
        ("--of", &["day", "market", "--of", "hands 1", "--format", "json"]),
        ("--of", &["day", "market", "--of", "hands 1", "--format", "svg"]),
        ("--staged", &["diff", "HEAD..HEAD", "--staged"]),
        ("--sheets", &["diff", "--sheets", "--format", "json"]),
        ("--numbers", &["diff", "--sheets", "--numbers"]),
        ("--of", &["uses", "salt", "--of", "pier-loaf"]),
        ("--print", &["git-setup", "--print", "--yes"]),
        ("HTML", &["explain", "hydration", "--format", "html"]),
        ("HTML", &["explain", "ingredients", "--format", "html"]),
    ];
    let house = "  language en\n  units metric";
    let day = "day market { order pier-loaf 6 loaves by 11:00 }\n";
    for (option, command) in refused {
        let folder = bakehouse(house);
        fs::write(folder.path().join("days.dough"), day).expect("written");
        if **option == *"--staged" {
            crate::diff::git(folder.path(), &["init", "-q"]);
            crate::diff::commit(folder.path(), "The pier loaf");
        }
        let done = assize(folder.path(), command);
        assert_eq!(done.status.code(), Some(2), "{command:?}: {}{}", out(&done), err(&done));
        assert!(err(&done).contains(option), "{command:?}: {}", err(&done));
        for written in ["prints", "t", "woven"] {
            assert!(!folder.path().join(written).exists(), "{command:?} wrote {written}");
        }
    }
    let folder = bakehouse(house);
    for command in [
        &["print", "pier-loaf", "--only", "card", "--dpi", "40", "--format", "png"][..],
        &["print", "pier-loaf", "--only", "card", "--volumes", "--format", "html"],
        &["print", "--export-templates", "t"],
        &["explain", "hydration", "--format", "json"],
    ] {
        let done = assize(folder.path(), command);
        assert_eq!(done.status.code(), Some(0), "{command:?}: {}", err(&done));
    }
    // What always says something.
    let always: &[(&str, &[&str])] = &[
        ("new", &[]),
        ("check", &["--deny-warnings", "--all", "--format", "--fix"]),
        ("read", &["--to", "--culture", "--percent", "--language"]),
        ("weave", &["--to", "--format", "--blocks", "--units"]),
        ("show", &["--makes", "--format"]),
        ("why", &["--makes", "--format"]),
        ("print", &["--only", "--to", "--format", "--makes", "--language", "--system-fonts"]),
        (
            "plan",
            &[
                "--ready", "--start", "--awake", "--grid", "--zone", "--room", "--seed", "--cold",
                "--makes", "--format",
            ],
        ),
        (
            "day",
            &[
                "--room",
                "--zone",
                "--orders",
                "--state",
                "--now",
                "--done",
                "--placings",
                "--format",
            ],
        ),
        ("diff", &["--exit-code", "--format"]),
        ("history", &["--since", "--figures", "--format"]),
        ("trace", &["--format"]),
        ("git-setup", &[]),
        ("git-text", &[]),
        ("git-merge", &["--style", "--ours-name", "--theirs-name"]),
        ("uses", &["--format"]),
        ("explain", &["--format"]),
        ("fmt", &["--check"]),
    ];
    for (command, options) in always {
        let help = assize(folder.path(), &[*command, "--help"]);
        let words = out(&help) + &err(&help);
        let known = words.lines().filter_map(|line| {
            let word = line.split_whitespace().find(|word| word.starts_with("--"))?;
            line.trim_start().starts_with('-').then(|| word.trim_end_matches(',').to_owned())
        });
        for option in known.filter(|option| option != "--help") {
            let is_judged = refused.iter().any(|(_, judged)| {
                judged.first() == Some(command) && judged.contains(&option.as_str())
            });
            let is_judged = is_judged || options.contains(&option.as_str());
            assert!(is_judged, "{option} of {command} is judged nowhere");
        }
    }
    let help = out(&assize(folder.path(), &["--help"]));
    let commands = help.lines().filter_map(|line| line.strip_prefix("  "));
    let commands = commands.filter(|line| line.starts_with(|first: char| first.is_lowercase()));
    for command in commands.filter_map(|line| line.split_whitespace().next()) {
        let is_judged = command == "help" || always.iter().any(|(known, _)| *known == command);
        assert!(is_judged, "{command} is judged nowhere");
    }
}

/// What is wrong with the house's own words is told by `check` as by prints, and no brace, and no letter
/// that makes words look different, comes to paper.
#[test]
fn words_that_can_t_be_put_together_are_told_and_not_printed() {
    let folder = bakehouse("");
    let cases: [(&[u8], &str, bool); 13] = [
        (b"print-ingredients = { $x }\n", "prints fill in no `$x` there", true),
        (b"print-ingredients = { $weight }\n", "prints fill in no `$weight` there", true),
        (b"print-ingredients = { print-ingredients }\n", "it is made of itself", true),
        (b"print-ingredients = { NOPE(1) }\n", "there is no function `NOPE`", true),
        (b"print-ingredients = { -none }\n", "there is no term `-none`", true),
        (b"-loop = { -loop }\nprint-ingredients = { -loop }\n", "it is made of itself", true),
        (b"print-ingredients = { print-storage }\n", "there is no message `print-storage`", true),
        (
            b"fold = { $times ->\n    [1] Fold { $lost }.\n   *[other] Fold.\n }\n",
            "no `$lost`",
            true,
        ),
        (b"print-ingredients = {\"\\u202E\"}evil\n", "U+202E, a right-to-left override", true),
        ("print-ingredients = \u{202e}evil\n".as_bytes(), "U+202E, a right-to-left override", true),
        (
            "print-ingredients = Ingred\u{200b}ients\n".as_bytes(),
            "U+200B, a space without width",
            false,
        ),
        (b"print-ingredients = \xff\n", "it is not in UTF-8", false),
        (b"-way = Way of work\nprint-ingredients = { -way }\n", "", false),
    ];
    for (words, told, is_ours) in cases {
        write(folder.path(), "templates/words.ftl", words);
        let shown = String::from_utf8_lossy(words);
        let args = ["print", "pier-loaf", "--only", "card", "--format", "html", "--to", "-"];
        let printed = assize(folder.path(), &args);
        let checked = assize(folder.path(), &["check"]);
        for done in [&printed, &checked] {
            let all = (out(done) + &err(done)).replace('│', " ");
            let all = all.split_whitespace().collect::<Vec<_>>().join(" ");
            // Where a line of a finding ends is up to its width.
            let all = all.replace("- ", "-");
            assert!(told.is_empty() || all.contains(told), "{shown}{told}: {all}");
            assert!(!told.is_empty() || !all.contains("words-unread"), "{shown}: {all}");
        }
        let page = out(&printed);
        let page = page.split("<body>").nth(1).unwrap_or_default();
        assert!(!page.contains(['\u{202e}', '{']) || !is_ours, "{shown}: {page}");
        assert!(
            !is_ours || shown.starts_with("fold") || page.contains("Ingredients"),
            "{shown}: {page}"
        );
    }
}
