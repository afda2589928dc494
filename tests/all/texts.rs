//! What texts may say of a formula: sentences that contradict nothing raise nothing, and
//! stale ones are told.

use crate::support::{PLAIN, assize, err, findings, folder, letters, names, out, top};
use assize::testing::diag::Level;
use assize::testing::syntax::words;
use serde_json::Value;
use std::fs;

/// The findings that texts raise.
const RULES: [&str; 4] =
    ["ingredient-in-text", "number-in-text", "absence-in-text", "more-than-there-is"];

/// A sentence of a corpus, with the formula it stands in.
#[derive(Clone)]
struct Case {
    language: String,
    formula: String,
    place: String,
    sentence: String,
    /// The finding that it is to raise.
    rule: String,
}

impl Case {
    /// The file with the sentence in its place.
    fn file(&self, place: &str) -> String {
        let name = format!("tests/texts/{}.dough", self.formula);
        let mut text = fs::read_to_string(top().join(name)).expect("readable");
        let said = self.sentence.replace('"', "\\\"");
        let (mark, words) = match place {
            "title" => {
                let title = text.split('"').nth(1).expect("a title").to_owned();
                text = text.replacen(&title, &said, 1);
                ("HERE", String::new())
            }
            "headnote" | "note" | "caution" | "storage" | "equipment" | "source" => {
                ("HERE", format!("{place} \"{said}\""))
            }
            "stage" => ("STAGE", format!("note \"{said}\"")),
            "mix" => ("MIX", format!("note \"{said}\"")),
            "bulk" => ("BULK", format!("note \"{said}\"")),
            "divide" => ("DIVIDE", format!("note \"{said}\"")),
            "proof" => ("PROOF", format!("note \"{said}\"")),
            "bake" => ("BAKE", format!("note \"{said}\"")),
            other => panic!("no place is called {other}"),
        };
        text = text.replace(mark, &words);
        for mark in ["HERE", "STAGE", "MIX", "BULK", "DIVIDE", "PROOF", "BAKE"] {
            text = text.replace(mark, "");
        }
        let language = &self.language;
        format!("bakehouse \"Gullhaven Bakehouse\" {{ language {language} }}\n{text}")
    }

    /// What texts raise there.
    fn told(&self, place: &str) -> Vec<String> {
        let found = findings(&self.file(place));
        let found = found.iter().filter(|finding| RULES.contains(&finding.rule.name));
        found.map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect()
    }
}

/// Every fifth sentence was set aside when the words were chosen.
fn is_set_aside(index: usize) -> bool {
    index % 5 == 4
}

fn lines(file: &str) -> Vec<String> {
    let text = fs::read_to_string(top().join("tests/texts").join(file)).expect("readable");
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(str::to_owned).collect()
}

fn harmless(language: &str) -> Vec<Case> {
    let case = |line: String| {
        let (tag, sentence) = match line.strip_prefix('[').and_then(|rest| rest.split_once("] ")) {
            Some((tag, sentence)) => (tag.to_owned(), sentence.to_owned()),
            None => (String::new(), line),
        };
        let formula = if tag == "buns" { "buns" } else { "loaf" };
        let place = if tag == "buns" { String::new() } else { tag };
        Case {
            language: language.into(),
            formula: formula.into(),
            place,
            sentence,
            rule: String::new(),
        }
    };
    lines(&format!("harmless.{language}.txt")).into_iter().map(case).collect()
}

/// A later set, in the columns of the stale ones.
fn later_harmless(file: &str) -> Vec<Case> {
    let case = |line: String| {
        let mut columns = line.split(" | ");
        let mut next = || columns.next().expect("three columns").to_owned();
        let (language, column, sentence) = (next(), next(), next());
        let (formula, place) = column.split_once(' ').unwrap_or((&column, "note"));
        let (formula, place) = (formula.to_owned(), place.to_owned());
        Case { language, formula, place, sentence, rule: String::new() }
    };
    lines(file).into_iter().map(case).collect()
}

fn stale(file: &str) -> Vec<Case> {
    let case = |line: String| {
        let mut columns = line.split(" | ").map(str::to_owned);
        let mut next = || columns.next().expect("five columns");
        let language = next();
        let (formula, place) = {
            let column = next();
            let (formula, place) = column.split_once(' ').unwrap_or((&column, "note"));
            (formula.to_owned(), place.to_owned())
        };
        let (rule, sentence) = (next(), next());
        Case { language, formula, place, sentence, rule }
    };
    lines(file).into_iter().map(case).collect()
}

#[test]
fn sentences_that_contradict_nothing_raise_nothing() {
    let mut wrong = Vec::new();
    let (mut count, mut aside, mut aside_wrong) = (0, 0, 0);
    for language in ["en", "fr", "de", "es", "it"] {
        for (index, case) in harmless(language).iter().enumerate() {
            count += 1;
            aside += usize::from(is_set_aside(index));
            let places: &[&str] = match case.place.as_str() {
                "" => &["note", "headnote"],
                place => &[place],
            };
            let told: Vec<String> = places.iter().flat_map(|place| case.told(place)).collect();
            if !told.is_empty() {
                aside_wrong += usize::from(is_set_aside(index));
                wrong.push(format!("{language} {}: {told:?}", case.sentence));
            }
        }
    }
    assert!(count >= 200, "{count}");
    println!("{aside_wrong} of {aside} set aside");
    assert!(wrong.is_empty(), "{} of {count}:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn stale_sentences_are_told() {
    let cases = stale("stale.txt");
    assert!(cases.len() >= 100);
    let mut missed = Vec::new();
    let (mut aside, mut aside_missed) = (0, 0);
    for (index, case) in cases.iter().enumerate() {
        aside += usize::from(is_set_aside(index));
        let told = case.told(&case.place);
        if !told.iter().any(|told| told.starts_with(&format!("{}: ", case.rule))) {
            aside_missed += usize::from(is_set_aside(index));
            let aside = if is_set_aside(index) { "(set aside) " } else { "" };
            missed.push(format!("{aside}{} {}: {told:?}", case.language, case.sentence));
        }
    }
    println!("{aside_missed} of {aside} set aside");
    assert!(missed.is_empty(), "{} of {}:\n{}", missed.len(), cases.len(), missed.join("\n"));
}

/// Sentences cut anywhere, as an editor sees them while they are typed, are read too.
#[test]
fn a_sentence_may_end_anywhere() {
    let later = LATER.iter().flat_map(|set| {
        let harmless = later_harmless(&format!("{set}.harmless.txt"));
        stale(&format!("{set}.stale.txt")).into_iter().chain(harmless)
    });
    for case in stale("stale.txt").into_iter().chain(later) {
        let ends = case.sentence.char_indices().map(|(at, _)| at).step_by(3);
        let parts = ends.map(|at| {
            let (head, tail) = case.sentence.split_at(at);
            format!("note \"{head}\"\n note \"{tail}\"\n")
        });
        let parts = parts.collect::<String>();
        let notes = Case { sentence: "PARTS".into(), ..case }.file("note");
        findings(&notes.replace("note \"PARTS\"", &parts));
    }
}

/// What one formula of a house may say another may not: the same sentence in both tells what it
/// tells of each by itself, whichever is read first. A house without an allergen in sight is the
/// third, so that a sentence which says nothing false there is no excuse for the others.
#[test]
fn a_sentence_that_formulas_share_is_judged_for_each() {
    const PLAIN_RYE: &str = "formula quay-rye \"Quay Rye\" {\n  makes 1 loaf at 900 g\n  HERE\n  \
                             total { dark rye flour 100%; water 80%; salt 2% }\n  STAGE\n  \
                             preferment sour { ferments 30% of flour; dark rye flour 100%; water \
                             100%; rye culture 10%; ripens 12h at 24C }\n  method { mix 5min with \
                             everything MIX; bulk 1h at 26C BULK; bake 50min at 230C BAKE }\n}\n";
    let told = |text: &str| -> Vec<(String, String)> {
        let found = findings(text);
        let found = found.iter().filter(|finding| RULES.contains(&finding.rule.name));
        let formula = |it: &assize::testing::diag::Finding| it.formula.clone().unwrap_or_default();
        let mut all: Vec<_> =
            found.map(|it| (formula(it).to_string(), it.message.clone())).collect();
        all.sort();
        all
    };
    let denials = later_harmless("denials.false.txt").into_iter();
    let (mut judged, mut differ) = (0, 0);
    for case in denials.chain(stale("stale.txt")).step_by(3) {
        let place = ["headnote", "storage", "note", "mix"][judged % 4];
        let with = |formula: &str| Case { formula: formula.into(), ..case.clone() }.file(place);
        let head = format!("bakehouse \"Gullhaven Bakehouse\" {{ language {} }}\n", case.language);
        let said = case.sentence.replace('"', "\\\"");
        let words = if place == "mix" { "note" } else { place };
        let mark = if place == "mix" { "MIX" } else { "HERE" };
        let rye = PLAIN_RYE.replace(mark, &format!("{words} \"{said}\""));
        let rye = ["HERE", "STAGE", "MIX", "BULK", "BAKE"]
            .iter()
            .fold(rye, |text, mark| text.replace(mark, ""));
        let formulas: Vec<String> = ["loaf", "buns"]
            .iter()
            .map(|formula| with(formula).strip_prefix(&head).expect("the house").to_owned())
            .chain([rye])
            .collect();
        let alone: Vec<_> = formulas.iter().map(|it| told(&format!("{head}{it}"))).collect();
        differ += usize::from(alone.iter().any(|it| it.len() != alone[0].len()));
        let mut alone: Vec<_> = alone.into_iter().flatten().collect();
        alone.sort();
        for turn in 0..formulas.len() {
            let mut turned = formulas.clone();
            turned.rotate_left(turn);
            let together = told(&format!("{head}{}", turned.concat()));
            assert_eq!(together, alone, "{place}: {}", case.sentence);
        }
        judged += 1;
    }
    assert!(judged > 100 && differ > 30, "{differ} of {judged}");
}

/// Sets that were written before the tables of words were chosen for them.
const LATER: [&str; 5] = ["second", "third", "fourth", "fifth", "sixth"];

#[test]
fn the_later_sets_are_judged() {
    let mut failed = Vec::new();
    for set in LATER {
        let cases = stale(&format!("{set}.stale.txt"));
        let is_told = |case: &&Case| {
            let rule = format!("{}: ", case.rule);
            case.told(&case.place).iter().any(|told| told.starts_with(&rule))
        };
        let missed: Vec<String> = cases
            .iter()
            .filter(|case| !is_told(case))
            .map(|case| {
                format!("{} {}: {:?}", case.language, case.sentence, case.told(&case.place))
            })
            .collect();
        let harmless = later_harmless(&format!("{set}.harmless.txt"));
        let wrong: Vec<String> = harmless
            .iter()
            .filter(|case| !case.told(&case.place).is_empty())
            .map(|case| format!("{}: {:?}", case.sentence, case.told(&case.place)))
            .collect();
        if !(missed.is_empty() && wrong.is_empty()) {
            failed.push(format!(
                "{set}: {} of {} missed:\n{}\n\n{} of {} wrong:\n{}",
                missed.len(),
                cases.len(),
                missed.join("\n"),
                wrong.len(),
                harmless.len(),
                wrong.join("\n")
            ));
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n\n"));
}

/// A dough of flour and water, made in as many batches as a mixer of 3 kg asks for.
const BATCHES: &str = "\
bakehouse \"Gullhaven Bakehouse\" { mixer bench { holds 1 kg..3 kg } }
formula pier-loaf \"Pier Loaf\" {
  makes  2 loaves at 900 g
  total { bread flour 100%; water 75%; salt 2%; fresh yeast 3%; }
  soaker soft grain { weighs 300 g; bread flour 1 part; water 1 part }
  piece { sesame seeds 5 g }
  method {
    mix     5min with flours, 300 g of water, soft grain, salt, fresh yeast \
note \"Hold [100 g of water] of [water] back, of [dough]; [water in soft grain] are in the grain.\"
    divide  5min note \"Into [pieces] of [piece].\"
    mix     2min with remaining water caution \"[100 g of water] are cold.\"
    top     with sesame seeds note \"[10 g of sesame seeds] for all.\"
    bake    35min at 230C
    cool    1h
  }
}
";

/// The document of so many loaves, as JSON.
fn shown(makes: u32) -> Value {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), BATCHES).expect("written");
    let makes = format!("{makes} loaves");
    let done = assize(folder.path(), &["show", "pier-loaf", "--format", "json", "--makes", &makes]);
    serde_json::from_str(&out(&done)).unwrap_or_else(|_| panic!("{}", err(&done)))
}

/// All that the steps of a method say.
fn words_of(method: &Value) -> Vec<String> {
    let steps = method.as_array().expect("steps");
    let texts = |step: &Value| {
        let phases = step["phases"].as_array().expect("phases").clone();
        let notes = step["notes"].as_array().expect("notes").clone();
        let cautions = step["cautions"].as_array().expect("cautions").clone();
        let phases = phases.into_iter().map(|phase| phase["text"].clone());
        phases.chain(notes).chain(cautions).collect::<Vec<_>>()
    };
    steps.iter().flat_map(texts).map(|text| text.as_str().unwrap_or("").to_owned()).collect()
}

/// The grams that a text begins with behind some words.
fn grams_behind(texts: &[String], words: &str) -> f64 {
    let text = texts.iter().find(|text| text.contains(words)).expect(words);
    let rest = &text[text.find(words).expect("there") + words.len()..];
    let mut parts = rest.split_whitespace().filter(|part| *part != "≈");
    let number: f64 = parts.next().expect("a number").replace(',', "").parse().expect(text);
    match parts.next().expect("a unit").trim_end_matches([',', '.', ';']) {
        "kg" => number * 1000.0,
        "g" => number,
        unit => panic!("{unit} in {text}"),
    }
}

/// On a sheet that weighs per batch, the words of the dough's steps do too, and what is
/// there once for all batches stays whole.
#[test]
fn a_live_figure_counts_what_its_sheet_is_for() {
    for loaves in [1_u32, 2, 3, 4, 6, 10, 25, 60] {
        let document = shown(loaves);
        let batches = document["yield"]["batches"].as_u64().expect("a number");
        let whole = words_of(&document["method"]);
        let size = f64::from(loaves) / 2.0;
        let near = |one: f64, other: f64| (one - other).abs() <= 0.006 * other + 0.06;
        for (words, grams) in [("Hold ", 100.0), ("With bread flour, ", 300.0)] {
            let told = grams_behind(&whole, words);
            assert!(near(told, grams * size), "{loaves}: {words}{told}");
        }
        if batches == 1 {
            assert_eq!(document["batch_method"].as_array().map(Vec::len), Some(0));
            continue;
        }
        let one = words_of(&document["batch_method"]);
        assert_eq!(whole.len(), one.len());
        let parts = [("Hold ", true), ("water of ", true), ("back, of ", true), ("; ", false)];
        let of = |texts: &[String], words: &str| grams_behind(texts, words);
        for (words, is_parted) in parts {
            let by = if is_parted { batches as f64 } else { 1.0 };
            assert!(near(of(&one, words) * by, of(&whole, words)), "{loaves} {words}: {one:?}");
        }
        let both = ["With bread flour, ", "Into "];
        assert!(near(of(&one, both[0]) * batches as f64, of(&whole, both[0])), "{one:?}");
        assert!(one.iter().any(|text| text.contains(" of 900 g")), "{one:?}");
        assert_eq!(
            whole.iter().find(|text| text.ends_with("for all.")),
            one.iter().find(|text| text.ends_with("for all."))
        );
        assert!(whole != one, "{one:?}");
    }
}

/// No more can be asked of a thing than there is of it, wherever it stands.
#[test]
fn no_figure_asks_for_more_than_there_is() {
    let bath = "  mixture malt bath { water 3 l; malt syrup 60 g }\n  \
        method { mix 5min with everything else; boil 45s in malt bath; bake 30min at 220C }\n  total {";
    let stage =
        "  scald paste { takes 10% of flour; bread flour 100%; water 500%; loses 20% }\n  total {";
    let cases = [
        ("[740 g of water]", true),
        ("[741 g of water]", false),
        ("[25 kg of water]", false),
        ("[100% of water]", true),
        ("[101% of water]", false),
        ("[1 kg of bread flour]", true),
        ("[1001 g of bread flour]", false),
        ("[740 ml of water]", true),
        ("[1 l of water]", false),
        ("[20 g of salt]", true),
        ("[1 oz of salt]", false),
        ("[1770 g of dough]", true),
        ("[2 kg of dough]", false),
        ("[200 g]", true),
    ];
    let told = |text: &str| findings(text).iter().any(|it| it.rule.name == "more-than-there-is");
    for (figure, is_sound) in cases {
        let text = PLAIN.replace("  total {", &format!("  note \"Of {figure}.\"\n  total {{"));
        assert_eq!(!told(&text), is_sound, "{figure}");
    }
    // What boils away, stands beside the dough or may go in beyond a low end is there too.
    let note = |figure: &str| format!("  note \"Of {figure}.\"\n");
    for (figure, more, is_sound) in [
        ("[3.7 l of water]", bath, true),
        ("[3.8 l of water]", bath, false),
        ("[740 g of water]", stage, true),
        ("[600 g of paste]", stage, true),
        ("[900 g of paste]", stage, false),
    ] {
        let text = PLAIN.replace("  total {", &format!("{}{more}", note(figure)));
        assert_eq!(!told(&text), is_sound, "{figure}: {text}");
    }
}

/// A bakehouse that holds nuts everywhere, with a mark wherever something can be said.
const NUTTY: &str = r#"bakehouse "<house>" {
  room 21C
  <bakehouse>
}
ingredient dune nuts is a nut {
  contains hazelnuts
  fat 62%
  <ingredient>
}
culture house seed {
  bread flour 100%
  water 100%
  <culture>
}
mixture glaze {
  dune nuts 1 part
  sugar 1 part
  <mixture>
}
formula pier-loaf "<title>" {
  makes 2 <kind> at 900 g
  total {
    bread flour 100%
    water 72% <line>
    salt 2%
    dune nuts 5%
  }
  preferment levain {
    ferments 20% of flour
    bread flour 100%
    water 100%
    house seed 20%
    ripens 8h at 24C
    <stage>
  }
  piece { glaze 5 g; filling 5 g }
  mixture filling {
    dune nuts 1 part
    sugar 1 part
    <own mixture>
  }
  method {
    mix 5min with everything else <step>
    bulk 3h at 25C <until>
    step "<free step>" 1min
    bake 35min at 230C
  }
  <formula>
}
"#;

/// Wherever a text can stand, by the reader's own tables, what it denies is checked.
#[test]
fn a_claim_of_absence_is_checked_wherever_it_stands() {
    const CLAIM: &str = "Free from nuts";
    const MARKS: [&str; 13] = [
        "<house>",
        "<bakehouse>",
        "<ingredient>",
        "<culture>",
        "<mixture>",
        "<title>",
        "<kind>",
        "<line>",
        "<stage>",
        "<own mixture>",
        "<step>",
        "<until>",
        "<free step>",
    ];
    let with = |mark: &str, words: &str| {
        let mut text = NUTTY.replace(mark, words);
        for other in MARKS.iter().chain(&["<formula>"]) {
            let usual = match *other {
                "<house>" | "<title>" | "<free step>" => "Pier Loaf",
                "<kind>" => "loaves",
                _ => "",
            };
            text = text.replace(other, usual);
        }
        text
    };
    let usual = names(&with("<formula>", ""));
    assert!(!usual.contains(&"absence-in-text"), "{usual:?}");
    let places: [(&str, &[&str]); 8] = [
        ("<formula>", words::OF_A_FORMULA),
        ("<stage>", words::OF_A_STAGE),
        ("<own mixture>", words::OF_A_MIXTURE),
        ("<mixture>", words::OF_A_MIXTURE),
        ("<culture>", words::OF_A_CULTURE),
        ("<ingredient>", words::OF_AN_INGREDIENT),
        ("<bakehouse>", words::OF_A_BAKEHOUSE),
        ("<step>", words::OF_A_STEP),
    ];
    let (mut silent, mut checked) = (Vec::new(), Vec::new());
    for (mark, table) in places {
        for word in table {
            let found = names(&with(mark, &format!("{word} \"{CLAIM}\"")));
            // What is no text there is told; what is kept and printed nowhere, too.
            let is_told = found.iter().any(|name| !usual.contains(name));
            match found.contains(&"absence-in-text") {
                true => checked.push(format!("{mark} {word}")),
                // Names of which none is printed.
                false if is_told || ["source", "also"].contains(word) => {}
                false => silent.push(format!("{mark} {word}: {found:?}")),
            }
        }
    }
    for (mark, words) in [
        ("<house>", CLAIM.to_owned()),
        ("<title>", CLAIM.to_owned()),
        ("<free step>", CLAIM.to_owned()),
        ("<kind>", "\"nut-free loaves\"".to_owned()),
        ("<line>", format!("\"{CLAIM}\"")),
        ("<until>", format!("until \"{CLAIM}\"")),
    ] {
        let found = names(&with(mark, &words));
        match found.contains(&"absence-in-text") {
            true => checked.push(mark.to_owned()),
            false => silent.push(format!("{mark}: {found:?}")),
        }
    }
    assert!(silent.is_empty(), "{silent:#?}");
    for wanted in [
        "<formula> note",
        "<formula> caution",
        "<formula> headnote",
        "<formula> equipment",
        "<formula> storage",
        "<stage> note",
        "<stage> caution",
        "<own mixture> note",
        "<mixture> note",
        "<culture> caution",
        "<ingredient> caution",
        "<bakehouse> footer",
        "<step> note",
        "<step> caution",
        "<step> until",
    ] {
        assert!(checked.iter().any(|known| known == wanted), "{wanted}: {checked:#?}");
    }
}

/// What the house itself calls its ingredients is read in its texts, and German words that
/// are put together.
#[test]
fn names_of_the_house_are_read_in_texts() {
    let told = |language: &str, note: &str| {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ language {language} }}\n\
             ingredient quay glaze is an other {{ contains milk; called de \"Hafenguss\"; called fr \
             \"nappage du port\" }}\n{}",
            PLAIN.replace("  total {", &format!("  note \"{note}\"\n  total {{"))
        );
        names(&text).contains(&"ingredient-in-text")
    };
    for (language, note) in [
        ("en", "Brush with quay glaze."),
        ("de", "Mit Hafenguss bestreichen."),
        ("fr", "Badigeonnez de nappage du port."),
        ("de", "Haselnussmehl unterheben."),
        ("de", "Mit Buttercreme füllen."),
        ("de", "Die Walnusskerne unterkneten."),
        ("de", "In Sesamsaat wälzen."),
        ("de", "Gänseschmalz einarbeiten."),
    ] {
        assert!(told(language, note), "{language}: {note}");
    }
    for (language, note) in [
        ("en", "Smooth as quay glaze."),
        ("de", "Glatt wie Hafenguss."),
        ("de", "Das Weizenmehl mischen."),
        ("de", "Ein Buttermesser verwenden."),
        ("de", "Mit Butterbrot servieren."),
    ] {
        assert!(!told(language, note), "{language}: {note}");
    }
}

/// Volumes are held against the weight of what they are of.
#[test]
fn volumes_in_texts_are_held_against_weights() {
    let told = |language: &str, sentence: &str| {
        let case = Case {
            language: language.into(),
            formula: "buns".into(),
            place: "mix".into(),
            sentence: sentence.into(),
            rule: String::new(),
        };
        case.told("mix").iter().any(|told| told.starts_with("number-in-text"))
    };
    for (language, sentence) in [
        ("en", "Pour in 500 ml of milk, slowly."),
        ("en", "Pour in half the milk, then 3 cups of milk."),
        ("fr", "Versez 500 ml de lait."),
        ("fr", "Versez 50 cl de lait."),
        ("de", "500 ml Milch zugeben."),
        ("es", "Vierte 500 ml de leche."),
        ("it", "Versa 500 ml di latte."),
    ] {
        assert!(told(language, sentence), "{language}: {sentence}");
    }
    for (language, sentence) in [
        ("en", "Pour in 220 ml of milk, slowly."),
        ("en", "Pour in a cup of milk."),
        ("en", "Pour in 20 ml less milk."),
        ("fr", "Versez 22 cl de lait."),
        ("de", "220 ml Milch zugeben."),
        ("en", "Rinse the jar with 50 ml of milk."),
        ("en", "A tub of 6 litres is enough."),
    ] {
        assert!(!told(language, sentence), "{language}: {sentence}");
    }
}

// ---- Denials -----------------------------------------------------------------------------

/// What is denied: its name in each language, in a German and an English compound, and a
/// line that holds it.
const DENIED: &[([&str; 5], [&str; 2], &str)] = &[
    (["milk", "lait", "Milch", "leche", "latte"], ["milch", "milk"], "whole milk"),
    (["eggs", "œufs", "Eier", "huevos", "uova"], ["ei", "egg"], "whole egg"),
    (
        ["butter", "beurre", "Butter", "mantequilla", "burro"],
        ["butter", "butter"],
        "unsalted butter",
    ),
    (
        ["nuts", "fruits à coque", "Nüsse", "frutos secos", "frutta a guscio"],
        ["nuss", "nut"],
        "hazelnuts",
    ),
    (
        ["hazelnuts", "noisettes", "Haselnüsse", "avellanas", "nocciole"],
        ["haselnuss", "hazelnut"],
        "hazelnuts",
    ),
    (["sesame", "sésame", "Sesam", "sésamo", "sesamo"], ["sesam", "sesame"], "sesame seeds"),
    (["wheat", "blé", "Weizen", "trigo", "frumento"], ["weizen", "wheat"], "bread flour"),
    (["gluten", "gluten", "Gluten", "gluten", "glutine"], ["gluten", "gluten"], "spelt flour"),
    (["soya", "soja", "Soja", "soja", "soia"], ["soja", "soy"], "soy flour"),
    (
        ["dairy", "produits laitiers", "Milchprodukte", "lácteos", "latticini"],
        ["laktose", "dairy"],
        "whole milk",
    ),
    (["honey", "miel", "Honig", "miel", "miele"], ["honig", "honey"], "honey"),
    (["sugar", "sucre", "Zucker", "azúcar", "zucchero"], ["zucker", "sugar"], "sugar"),
    (["lard", "saindoux", "Schmalz", "manteca de cerdo", "strutto"], ["schmalz", "lard"], "lard"),
    (["raisins", "raisins secs", "Rosinen", "pasas", "uvetta"], ["rosinen", "raisin"], "raisins"),
    (
        ["cinnamon", "cannelle", "Zimt", "canela", "cannella"],
        ["zimt", "cinnamon"],
        "ground cinnamon",
    ),
];

const CODES: [&str; 5] = ["en", "fr", "de", "es", "it"];

/// Each way of denying with each thing.
fn denials() -> Vec<(&'static str, String, &'static str)> {
    let mut all = Vec::new();
    for line in lines("denials.txt") {
        let (code, sentence) = line.split_once(" | ").expect("two columns");
        let language = CODES.iter().position(|known| *known == code).expect("a language");
        for (names, [german, english], holder) in DENIED {
            let stem = if code == "de" { german } else { english };
            // English parts of compounds stand for one of them: `egg-free`.
            let is_joined = sentence.contains("{}-free") || sentence.contains("{} free");
            let name = if is_joined { english } else { &names[language] };
            let said = sentence.replace("{stem}", stem).replace("{}", name);
            let mut letters = said.chars();
            let first = letters.next().map(|first| first.to_uppercase().to_string());
            // French `lard` is bacon.
            let holder = if (code, *holder) == ("fr", "lard") { &"saindoux" } else { holder };
            all.push((CODES[language], first.unwrap_or_default() + letters.as_str(), *holder));
        }
    }
    all
}

/// Every way to say that something is not there, over bread that holds it, bread that
/// provably does not, and bread of which nobody knows.
#[test]
fn what_is_denied_is_judged_like_a_claim() {
    let all = denials();
    for code in CODES {
        let ways = lines("denials.txt");
        let ways = ways.iter().filter(|line| line.starts_with(code)).count();
        assert!(ways >= 16, "{code}: {ways}");
    }
    assert!(all.len() > 1500, "{}", all.len());
    let mut wrong = Vec::new();
    for code in CODES {
        let mut text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ language {code} }}\n\
             ingredient quay mix is an other {{ water 10% }}\n"
        );
        let mut wanted = Vec::new();
        for (_, said, holder) in all.iter().filter(|(language, ..)| *language == code) {
            for (kind, line) in [
                ("holds it", format!("{holder} 5%")),
                ("is without", String::new()),
                ("is not known", "quay mix 5%".into()),
            ] {
                let name = format!("f-{}", letters(wanted.len()));
                text.push_str(&format!(
                    "formula {name} \"Pier Loaf\" {{\n  makes 2 loaves at 900 g\n  note \"{said}\"\n  \
                     total {{ rice flour 100%; water 70%; salt 2%; fresh yeast 1%\n {line}\n }}\n}}\n"
                ));
                wanted.push((name, kind, said.clone()));
            }
        }
        let told = findings(&text);
        let told: std::collections::HashSet<&str> = told
            .iter()
            .filter(|it| it.rule.name == "absence-in-text")
            .filter_map(|it| it.formula.as_deref())
            .collect();
        let is_wrong = |(name, kind, _): &&(String, &str, String)| {
            told.contains(name.as_str()) == (*kind == "is without")
        };
        let found = wanted.iter().filter(is_wrong);
        wrong.extend(found.map(|(_, kind, said)| format!("{code} {said} ({kind})")));
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}

/// Sentences that are false of the bread in forms of their own are told, and sentences with
/// words of denial that claim nothing are not.
#[test]
fn denials_are_told_from_words_that_only_look_like_them() {
    let of = |file: &str| later_harmless(file);
    let is_told =
        |case: &Case| case.told(&case.place).iter().any(|told| told.starts_with("absence-in-text"));
    let mut wrong = Vec::new();
    for (file, is_false, least) in FILES_OF_DENIALS {
        let cases = of(file);
        assert!(cases.len() >= *least, "{file}: {}", cases.len());
        let bad: Vec<&Case> = cases.iter().filter(|case| is_told(case) != *is_false).collect();
        println!("{file}: {} of {}", bad.len(), cases.len());
        wrong.extend(bad.iter().map(|case| format!("{file}: {} {}", case.language, case.sentence)));
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}

/// The files, whether what is in them is false, and how much there is at least.
const FILES_OF_DENIALS: &[(&str, bool, usize)] = &[
    ("denials.false.txt", true, 200),
    ("denials.harmless.txt", false, 300),
    ("denials.second.false.txt", true, 50),
    ("denials.second.harmless.txt", false, 50),
    ("denials.third.false.txt", true, 140),
    ("denials.third.harmless.txt", false, 50),
    ("denials.fourth.false.txt", true, 200),
    ("denials.fourth.harmless.txt", false, 90),
    ("denials.fifth.false.txt", true, 50),
    ("denials.fifth.harmless.txt", false, 20),
    ("denials.sixth.false.txt", true, 20),
    ("denials.seventh.false.txt", true, 35),
    ("denials.seventh.harmless.txt", false, 30),
    ("denials.eighth.false.txt", true, 370),
    ("denials.eighth.harmless.txt", false, 85),
    ("denials.ninth.false.txt", true, 100),
    ("denials.ninth.harmless.txt", false, 45),
    ("denials.tenth.false.txt", true, 55),
    ("denials.tenth.harmless.txt", false, 20),
];

/// A paragraph of a manuscript puts nothing into a bread that a note of its formula does not, and
/// what it plainly mixes in or says to be there it does: every sentence of the corpora, once as
/// a note and once as prose.
#[test]
fn a_manuscript_puts_in_what_a_note_does() {
    use crate::support::Memory;
    use assize::testing::desk::{load, report};
    use std::path::{Path, PathBuf};
    let told_of = |all: &[assize::testing::diag::Finding]| {
        let own = all.iter().filter(|finding| finding.rule.name == "ingredient-in-text");
        let mut told: Vec<String> = own.map(|finding| finding.message.clone()).collect();
        told.sort();
        told.dedup();
        told
    };
    let as_prose = |case: &Case| {
        let empty = Case { sentence: "Bake.".to_owned(), ..case.clone() };
        let formula = empty.file("note");
        let (house, formula) = formula.split_once('\n').expect("a house");
        let chapter = format!("# A chapter\n\n```dough\n{formula}```\n\n{}\n", case.sentence);
        let files = [("/x/house.dough", house), ("/x/book.md", chapter.as_str())];
        let paths = [PathBuf::from("/x/book.md")];
        let loaded = load(&Memory::with(&files), Path::new("/x"), &paths);
        told_of(&report(&loaded, None).findings)
    };
    let mut all: Vec<Case> =
        ["en", "fr", "de", "es", "it"].into_iter().flat_map(harmless).collect();
    for file in ["second", "third", "fourth", "fifth"] {
        all.extend(later_harmless(&format!("{file}.harmless.txt")));
        all.extend(stale(&format!("{file}.stale.txt")));
    }
    all.extend(stale("stale.txt"));
    // What Markdown or the language of formulas reads otherwise is no plain sentence.
    all.retain(|case| !case.sentence.contains(['*', '_', '[', '<', '#', '`', '|', '\\', '"']));
    for sentence in [
        "Stir in 200 g of walnuts.",
        "The loaf has walnuts and milk in it.",
        "There are walnuts and milk in it.",
        "Il y a des noix dedans.",
    ] {
        let language = match sentence.split(' ').next() {
            Some("Il") => "fr",
            _ => "en",
        };
        let case = Case {
            language: language.to_owned(),
            formula: "loaf".to_owned(),
            place: String::new(),
            sentence: sentence.to_owned(),
            rule: "ingredient-in-text".to_owned(),
        };
        assert!(!as_prose(&case).is_empty(), "{sentence}");
        all.push(case);
    }
    let (mut raised, mut silent) = (0, 0);
    for case in &all {
        let (note, prose) = (told_of(&findings(&case.file("note"))), as_prose(case));
        let is_told = |told: &String| note.contains(told);
        assert!(prose.iter().all(is_told), "{}: {}", case.language, case.sentence);
        raised += usize::from(!prose.is_empty());
        silent += usize::from(prose.is_empty() && !note.is_empty());
    }
    println!("{} sentences: {raised} told in prose, {silent} in notes alone", all.len());
    assert!(all.len() > 400 && raised > 20, "{} {raised}", all.len());
}

/// Whoever works by the method puts on what a step names, and the lists of allergens are made
/// of the lines: in five languages, whatever the house speaks, none goes unsaid.
#[test]
fn a_step_names_no_allergen_that_no_line_holds() {
    let told = |words: &str, house: &str| -> Vec<String> {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ {house} }}\nformula pier-loaf \"Pier Loaf\" {{\n  \
             makes 1 loaf at 850 g\n  dough {{ bread flour 500 g; water 330 g; salt 10 g; fresh yeast \
             10 g }}\n  method {{ mix 10min; bulk 1h; shape 5min; step \"{words}\"; proof 1h; bake 40min \
             at 220C }}\n}}\n"
        );
        let found = findings(&text);
        let found = found.iter().filter(|it| it.rule.name == "ingredient-in-text");
        found.filter(|it| it.level == Level::Error).map(|it| it.message.clone()).collect()
    };
    let mut wrong = Vec::new();
    let all = lines("steps.txt");
    for line in &all {
        let (wanted, words) = line.split_once(" | ").expect("two columns");
        for house in ["", "language en", "language de", "language fr"] {
            let told = told(words, house);
            let is_it = match wanted {
                "-" => told.is_empty(),
                allergen => told.iter().any(|it| it.contains(allergen)),
            };
            if !is_it {
                wrong.push(format!("{house}: {line}: {told:?}"));
            }
        }
    }
    assert!(all.len() >= 60, "{}", all.len());
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}
