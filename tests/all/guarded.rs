//! A house's own words can't take back what a print warns of: allergens and cautions.

use crate::support::{assize, err, folder, out};
use assize::testing::formula::Allergen;
use assize::testing::print::Wording;
use assize::testing::print::wording::{CATALOGUES, guarded};
use std::fs;
use std::path::Path;

/// Whether ours is printed in the place of a message of a house that speaks a language.
fn is_refused(language: &str, id: &str, said: &str) -> bool {
    let own = format!("{id} = {said}\n");
    let (words, slips) = Wording::new(language, Some(&own));
    assert!(slips.is_empty(), "{own}{slips:?}");
    let refused = words.refused().contains_key(id);
    let ours = Wording::new(language, None).0;
    if refused {
        assert_eq!(words.put_together(id), ours.put_together(id), "{id}");
    }
    refused
}

/// The text of a message as a catalogue has it on one line.
fn ours(language: &str, id: &str) -> Option<String> {
    let of = |text: &str| {
        let line = text.lines().find_map(|line| line.strip_prefix(&format!("{id} = ")));
        line.filter(|said| !said.ends_with("->")).map(str::to_owned)
    };
    let catalogue = CATALOGUES.iter().find(|(tag, ..)| *tag == language);
    catalogue.and_then(|(_, words, names)| of(words).or_else(|| of(names)))
}

/// Ours, in each language, in a house of each language.
#[test]
fn what_we_say_ourselves_is_no_denial() {
    let mut count = 0;
    for (language, words, names) in CATALOGUES {
        for line in words.lines().chain(names.lines()) {
            let Some((id, said)) = line.split_once(" = ") else { continue };
            if said.ends_with("->") || id.starts_with([' ', '#']) {
                continue;
            }
            for house in ["en", "de"] {
                assert!(!is_refused(house, id, said), "{language} in {house}: {line}");
                count += 1;
            }
        }
    }
    assert!(count > 1000, "{count}");
}

/// Every guarded message, each contrary.
#[test]
fn a_message_that_warns_can_not_be_turned_round() {
    let contraries = [
        "Free from",
        "No traces of",
        "Nut-free and safe for all.",
        "Never contains",
        "Without",
        "Does not contain",
        "Contains no",
        "Not",
        "0 %",
        "{\"\"}",
        "{ \" \" }",
        "…",
        "Frei von",
        "Enthält keine",
        "Ohne",
        "Sans",
        "Ne contient pas",
        "Exempt de",
        "Sin",
        "No contiene",
        "Libre de",
        "Senza",
        "Non contiene",
        "Privo di",
        "Harmless.",
        "No need to worry.",
        "Alles unbedenklich.",
        "Sans danger.",
        "Sin peligro.",
        "Senza pericolo.",
        "Enjoy!",
    ];
    let mut passed = Vec::new();
    for id in guarded() {
        for said in contraries {
            for language in ["en", "de", "fr"] {
                if !is_refused(language, id, said) {
                    passed.push(format!("{language}: {id} = {said}"));
                }
            }
        }
    }
    assert!(passed.is_empty(), "{passed:#?}");
}

#[test]
fn a_caution_is_not_taken_back_in_its_own_words() {
    for (id, said) in [
        ("caution-oven", "The oven does not burn: no gloves."),
        ("caution-oven", "Oven, pots and steam are harmless, even if they burn."),
        ("caution-oven", "Mind the dog."),
        ("caution-boiling", "Boiling liquid never scalds."),
        ("caution-fat", "Hot fat catches fire: put it out with water."),
        ("caution-blade", "A blade cuts nobody."),
        ("caution-mixer", "The mixer is safe for hands."),
        ("caution-raw", "Raw flour, raw egg and raw dough are for tasting."),
        ("caution-raw", "Rohes Mehl und rohe Eier sind unbedenklich, nicht wahr?"),
        ("hurts-lye", "Lye cleans skin and eyes."),
        ("hurts-lye", "Burns skin."),
        ("hurts-alum", "Taste it."),
        ("hurts-slaked-lime", "Burns nobody's eyes."),
        ("hurts-ammonium-bicarbonate", "Breathe in deeply."),
        ("caution-raw-words", "bread, flour"),
        ("caution-oven-words", "b*"),
        ("words-for", "{ $kind }"),
        ("words-for", "{ $words }"),
        ("list-end", "{ $most }"),
        ("until-core", "Until done."),
        ("print-contains", "Contains hardly any"),
        ("print-contains", "May contain"),
        ("print-contains", "{ $kind ->\n    [a] Free from\n   *[b] Contains\n }"),
        ("print-may-contain", "May not contain"),
        ("print-take-care", "Take no care."),
        ("print-allergens-unknown", "Known to be free from allergens:"),
    ] {
        assert!(is_refused("en", id, said), "{id} = {said}");
    }
}

/// Other words for the same are a house's own affair.
#[test]
fn other_words_for_the_same_are_printed() {
    for (id, said) in [
        ("print-contains", "Allergens:"),
        ("print-contains", "Allergy advice: contains"),
        ("print-contains", "This bread contains the following allergens:"),
        ("print-contains", "Allergene:"),
        ("print-contains", "Allergènes :"),
        ("print-may-contain", "Traces possible:"),
        ("print-may-contain", "May also contain traces of"),
        ("print-may-contain", "Kann Spuren enthalten von"),
        ("print-take-care", "Safety first:"),
        ("print-take-care", "Warning!"),
        ("print-allergens-unknown", "Nobody has checked these for allergens:"),
        ("caution-oven", "Hot oven! Wear gloves."),
        ("caution-oven", "Never reach into the oven without dry gloves."),
        ("caution-boiling", "Boiling water: scalds at once."),
        ("caution-fat", "Fat on fire: lid on, heat off, no water."),
        ("caution-blade", "Sharp blade: mind your fingers."),
        ("caution-mixer", "No hands in the mixer while it runs."),
        ("caution-raw", "Do not eat raw dough."),
        ("caution-raw", "Raw flour can carry bacteria."),
        ("caution-oven-words", "oven, gloves"),
        ("words-for", "{ $kind } – { $words }"),
        ("until-core", "To { $temperature } inside."),
        ("allergen-hazelnuts", "HAZELNUTS"),
        ("allergen-hazelnuts", "filberts"),
        ("allergen-hazelnuts", "hazelnuts (nuts)"),
        ("allergen-wheat", "wheat (gluten)"),
        ("allergen-eggs", "egg"),
    ] {
        assert!(!is_refused("en", id, said), "{id} = {said}");
    }
}

/// Each allergen under each other's name, under none, and denied.
#[test]
fn an_allergen_has_one_of_its_own_names() {
    let all: Vec<Allergen> = Allergen::all().collect();
    let mut passed = Vec::new();
    let mut count = 0;
    for one in &all {
        let id = format!("allergen-{}", one.key().replace(' ', "-"));
        if ours("en", &id).is_none() {
            continue;
        }
        let mut wrong = vec!["love".to_owned(), "sunshine".to_owned(), format!("no {}", one.key())];
        wrong.push(format!("{}-free", one.key()));
        wrong.push(format!("ohne {}", one.key()));
        let others = all.iter().filter(|it| !it.wider().holds(*one) && !it.narrower().holds(*one));
        wrong.extend(others.map(|other| other.key().to_owned()));
        for said in wrong {
            count += 1;
            if !is_refused("en", &id, &said) {
                passed.push(format!("{id} = {said}"));
            }
        }
        for (_, name) in one.names() {
            assert!(!is_refused("en", &id, name), "{id} = {name}");
        }
    }
    assert!(count > 1000 && passed.is_empty(), "{count}: {passed:#?}");
}

/// Names in a language that we do not read have ours beside them.
#[test]
fn words_that_nobody_here_reads_have_ours_beside_them() {
    let own = "print-contains = Bevat:\nallergen-hazelnuts = hazelnoten\nallergen-eggs = liefde\n";
    let words = Wording::new("nl", Some(own)).0;
    assert_eq!(words.say("print-contains"), "Contains / Bevat:");
    assert_eq!(words.say("allergen-hazelnuts"), "hazelnoten (hazelnuts)");
    assert_eq!(words.say("allergen-eggs"), "liefde (eggs)");
    assert!(is_refused("nl", "allergen-eggs", "hazelnuts"));
    assert!(is_refused("nl", "print-contains", "{\"\"}"));
}

const NUTTY: &str = "formula nutty \"Nutty\" {\n  makes 1 loaf at 930 g\n  dough { bread flour 500 g; \
                     water 300 g; hazelnuts 60 g; whole egg 50 g; salt 10 g; fresh yeast 10 g }\n  method { mix 10min; bulk 1h \
                     at 24C; shape 5min; proof 1h; bake 40min at 220C; cool 1h }\n}\n";

fn card(folder: &Path) -> (Option<i32>, String, String) {
    let done = assize(folder, &["print", "nutty", "--only", "card"]);
    let pdf = fs::read(folder.join("prints/nutty-card.pdf")).expect("a print");
    let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text = text.replace(" ,", ",").replace(" .", ".");
    (done.status.code(), text, out(&done) + &err(&done))
}

/// The whole way: what `check` says, and what stands on paper.
#[test]
fn a_card_keeps_its_warning_whatever_the_house_words() {
    for (words, rule) in [
        ("print-contains = Free from\n", "absence-in-text"),
        ("print-contains = No traces of\n", "absence-in-text"),
        ("print-contains = {\"\"}\n", "words-refused"),
        ("print-take-care = Nut-free and safe for all.\n", "absence-in-text"),
        ("allergen-hazelnuts = sunshine\nallergen-eggs = love\n", "words-refused"),
        ("print-method = Egg-free method\n", "absence-in-text"),
    ] {
        let folder = folder();
        fs::write(folder.path().join("house.dough"), "bakehouse \"Gullhaven Bakehouse\" {}\n")
            .expect("written");
        fs::write(folder.path().join("nutty.dough"), NUTTY).expect("written");
        fs::create_dir(folder.path().join("templates")).expect("made");
        fs::write(folder.path().join("templates/words.ftl"), words).expect("written");
        let checked = assize(folder.path(), &["check"]);
        let told = out(&checked) + &err(&checked);
        assert!(told.contains(rule) && told.contains("error"), "{words}{told}");
        assert_eq!(checked.status.code(), Some(1), "{words}");
        let (code, text, told) = card(folder.path());
        assert_eq!(code, Some(1), "{words}{told}");
        assert!(text.contains("Contains eggs, hazelnuts, wheat."), "{words}{text}");
        assert!(text.contains("Take care."), "{words}{text}");
        assert!(!text.contains("free") && !text.contains(" love"), "{words}{text}");
    }
}
