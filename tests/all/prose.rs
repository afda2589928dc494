//! What the words of a manuscript deny of the bread they are about, judged as the texts of its
//! formula are.

use crate::support::{Memory, assize, err, folder, out, top};
use assize::testing::desk::{load, report};
use assize::testing::diag::Finding;
use std::fs;
use std::path::{Path, PathBuf};

const RULES: [&str; 2] = ["absence-in-text", "claim-not-proved"];

/// The findings of both rules about a manuscript beside a house, with their lines, counted from
/// one.
fn told(house: &str, text: &str) -> Vec<(usize, Finding)> {
    let files = Memory::with(&[("/x/house.dough", house), ("/x/book.md", text)]);
    let paths = [PathBuf::from("/x/book.md"), PathBuf::from("/x/house.dough")];
    let loaded = load(&files, Path::new("/x"), &paths);
    let findings = report(&loaded, None).findings.into_iter();
    let own = findings.filter(|it| RULES.contains(&it.rule.name) && it.allowed.is_none());
    let line = |finding: Finding| {
        let before = text.get(..finding.span().range().start).expect("a place in the text");
        (before.matches('\n').count() + 1, finding)
    };
    own.map(line).collect()
}

/// The same as one line each.
fn lines(text: &str) -> Vec<String> {
    let told = told("bakehouse \"Gullhaven Bakehouse\" {}\n", text).into_iter();
    told.map(|(line, it)| format!("{line} {}", it.message)).collect()
}

/// A formula of the corpus of texts, without any.
fn formula(name: &str) -> String {
    let path = top().join(format!("tests/texts/{name}.dough"));
    let text = fs::read_to_string(path).expect("readable");
    let marks = ["HERE", "STAGE", "MIX", "BULK", "DIVIDE", "PROOF", "BAKE"];
    marks.iter().fold(text, |text, mark| text.replace(mark, ""))
}

/// The sentences of the corpus of denials: the formula, and what is said of it.
fn corpus(file: &str) -> Vec<(String, String, String)> {
    let text = fs::read_to_string(top().join("tests/texts").join(file)).expect("readable");
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    let case = |line: &str| {
        let mut columns = line.split(" | ");
        let (language, place) = (columns.next()?, columns.next()?);
        let (formula, place) = place.split_once(' ').unwrap_or((place, "note"));
        let said = columns.next()?.to_owned();
        // Words that Markdown reads as marks of its own are another text there.
        let is_plain = !said.contains(['*', '_', '`', '[', ']', '<', '>', '#', '~', '\\', '|'])
            && !said.starts_with(['-', '+', '=', ':'])
            && !said.starts_with(|letter: char| letter.is_ascii_digit());
        let is_prose = place == "note" && is_plain;
        is_prose.then(|| (language.to_owned(), formula.to_owned(), said))
    };
    lines.filter_map(case).collect()
}

/// Every false denial of the corpus is told of a manuscript too, in a paragraph, an item of a
/// list and a quotation, and no harmless one is.
#[test]
fn what_a_manuscript_denies_is_judged_like_the_texts_of_its_formula() {
    let files = ["", "second.", "third.", "fourth.", "fifth."];
    let (mut wrong, mut count) = (Vec::new(), 0);
    for (file, is_false) in files.iter().flat_map(|file| [(file, true), (file, false)]) {
        let kind = if is_false { "false" } else { "harmless" };
        let cases = corpus(&format!("denials.{file}{kind}.txt"));
        assert!(cases.len() >= 20, "{file}{kind}: {}", cases.len());
        count += cases.len();
        for language in ["en", "fr", "de", "es", "it"] {
            let own: Vec<_> = cases.iter().filter(|(of, ..)| of == language).collect();
            let house = format!("bakehouse \"Gullhaven Bakehouse\" {{ language {language} }}\n");
            let house = house + &formula("loaf") + &formula("buns");
            let mut text = String::new();
            let mut places = Vec::new();
            for (at, (_, formula, said)) in own.iter().enumerate() {
                let name = if formula == "buns" { "lamp-buns" } else { "pier-loaf" };
                let lead = ["", "- ", "> "][at % 3];
                text.push_str(&format!("# {at}\n\n<!-- assize: about {name} -->\n\n"));
                places.push((text.matches('\n').count() + 1, said));
                text.push_str(&format!("{lead}{said}\n\n"));
            }
            let told = told(&house, &text);
            for (line, said) in places {
                // Of one bread the sentences of a corpus name what others deny.
                let is_own = |it: &Finding| !it.message.contains("but a text names");
                let is_told = told.iter().any(|(at, it)| *at == line && is_own(it));
                if is_told != is_false {
                    wrong.push(format!("{file}{kind} {language}: {said}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {count}:\n{}", wrong.len(), wrong.join("\n"));
}

const BLOCK: &str = "```dough
formula tilde \"Tilde Loaf\" { makes 1 loaf at 800 g; total { bread flour 100%; butter 5%; water 65%; salt 2%; fresh yeast 1% } }
```
";

/// Wherever words of a book stand that are about a formula.
#[test]
fn words_of_a_section_are_judged_wherever_they_stand() {
    let wrong = "butter` contains milk";
    for said in [
        "This bread contains no milk and is dairy-free.",
        "Safe for a *milk* allergy.",
        "Vegan.",
        "Allergens: wheat.",
        "- Dairy-free",
        "> No milk in it.",
        "## Dairy-free\n\nAnd good.",
        "| Allergens | wheat |\n|---|---|\n| Salt | 2 % |",
        "| Salt | 2 % |\n|---|---|\n| Milk | none |",
        "| Bread | Weight | Milk |\n|---|---|---|\n| Tilde Loaf | 800 g | none |",
        "Good.[^1]\n\n[^1]: Without milk.",
        "[Dairy-free](https://example.org).",
    ] {
        let text = format!("# Tilde Loaf\n\n{BLOCK}\n{said}\n");
        let told = lines(&text);
        let is_animal = |it: &String| it.contains("is from an animal");
        let is_told = told.iter().any(|it| it.contains(wrong) || is_animal(it));
        assert!(is_told, "{said}: {told:?}");
    }
}

/// Which formula words are about, and what is said to a reader of them.
#[test]
fn words_are_judged_for_the_formula_they_are_about() {
    let plain = "```dough
formula mole \"Mole Loaf\" { makes 1 loaf at 800 g; total { bread flour 100%; water 65%; salt 2%; fresh yeast 1% } }
```
";
    let denied = "This bread is dairy-free.";
    for (text, expected) in [
        // Above the sections of formulas it is said of them all.
        (format!("# Breads\n\n{denied}\n\n## Tilde Loaf\n\n{BLOCK}\nSoft.\n"), 1),
        (format!("# Breads\n\n{denied}\n\n## Mole Loaf\n\n{plain}\nSoft.\n"), 0),
        (format!("# Tilde Loaf\n\n{BLOCK}\n## A variation\n\n{denied}\n"), 0),
        (format!("# Tilde Loaf\n\n{BLOCK}\n## Baking\n\n{denied}\n"), 1),
        // The last block before the words.
        (format!("# Two\n\n{BLOCK}\nSoft.\n\n{plain}\n{denied}\n"), 0),
        (format!("# Two\n\n{plain}\nPlain.\n\n{BLOCK}\n{denied}\n"), 1),
        (format!("# Two\n\n{BLOCK}\nSoft.\n\n{plain}\nBoth loaves are dairy-free.\n"), 1),
        (format!("# Two\n\n{denied}\n\n{plain}\n{BLOCK}\n"), 1),
        // A sentence that names another bread is about that.
        (
            format!(
                "# Tilde Loaf\n\n{BLOCK}\nThe Mole Loaf is dairy-free.\n\n# Mole Loaf\n\n{plain}\n"
            ),
            0,
        ),
        (
            format!(
                "# Mole Loaf\n\n{plain}\nSoft. The Tilde Loaf is dairy-free.\n\n# Tilde Loaf\n\n{BLOCK}\n"
            ),
            1,
        ),
        // What comments say.
        (format!("# Mole Loaf\n\n{plain}\n{BLOCK}\n<!-- assize: about mole -->\n\n{denied}\n"), 0),
        (
            format!(
                "# Mole Loaf\n\n{plain}\n# More\n\n{BLOCK}\n# All\n\n<!-- assize: about tilde -->\n\n{denied}\n"
            ),
            1,
        ),
        // Whoever is allergic reads what is turned off as well.
        (format!("# Tilde Loaf\n\n{BLOCK}\n<!-- assize: off -->\n\n{denied}\n"), 1),
        (format!("# Tilde Loaf\n\n{BLOCK}\n<!-- assize: off; on -->\n\n{denied}\n"), 1),
        (
            format!(
                "# Tilde Loaf\n\n{BLOCK}\n<!-- assize: allow absence-in-text \"of the old one\" -->\n{denied}\n"
            ),
            0,
        ),
        (
            format!(
                "# Tilde Loaf\n\n{BLOCK}\n<!-- assize: allow absence-in-text \"of the old one\" -->\nSoft.\n\n{denied}\n"
            ),
            1,
        ),
        // True or none.
        (format!("# Mole Loaf\n\n{plain}\n{denied} Allergens: wheat.\n"), 0),
        (format!("# Tilde Loaf\n\n{BLOCK}\nAllergens: wheat and milk. Not vegan.\n"), 0),
    ] {
        let told = lines(&text);
        assert_eq!(told.len(), expected, "{text}{told:#?}");
    }
    let text = format!("# Tilde Loaf\n\n{BLOCK}\nSoft, *and* dairy-free.\n");
    let (line, finding) = told("bakehouse \"Gullhaven Bakehouse\" {}\n", &text).remove(0);
    assert_eq!((line, &text[finding.span().range()]), (7, "dairy-free"));
    assert_eq!(finding.message, "this text says `dairy-free`, and `unsalted butter` contains milk");
}

/// A food that one side names and the other excludes, whichever is the formula's own.
#[test]
fn foods_are_judged_beside_the_claims_of_the_other_side() {
    let of = |own: &str, prose: &str| {
        format!(
            "# Mole Loaf\n\n```dough\nformula mole \"Mole Loaf\" {{ makes 1 loaf at 800 g; {own} total {{ bread \
             flour 100%; water 65%; salt 2%; fresh yeast 1% }} }}\n```\n\n{prose}\n"
        )
    };
    let claim = "expect { free from milk }";
    for (own, prose, expected) in [
        (claim, "Brush the loaf with melted butter.", true),
        (claim, "Fold in the béchamel.", true),
        ("", "It is dairy-free. Brush it with butter before it goes in.", true),
        ("note \"Brush the loaf with melted butter.\";", "It is dairy-free.", true),
        (claim, "It is good with butter.", false),
        (claim, "It smells of butter.", false),
        (claim, "Keep it away from the butter.", false),
        ("", "Brush the loaf with melted butter.", false),
    ] {
        let text = of(own, prose);
        let told = lines(&text);
        assert_eq!(!told.is_empty(), expected, "{own} {prose}: {told:?}");
    }
}

/// A book is not woven with a false claim beside the table.
#[test]
fn a_false_claim_in_the_words_of_a_book_is_not_woven_beside_its_table() {
    let folder = folder();
    let write = |text: &str| fs::write(folder.path().join("book.md"), text).expect("written");
    write(&format!("# Tilde Loaf\n\n{BLOCK}\nThis bread is dairy-free.\n"));
    let done = assize(folder.path(), &["weave", "book.md", "--to", "-"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("absence-in-text"), "{}", err(&done));
    assert!(out(&done).contains("```dough") && !out(&done).contains("| butter"), "{}", out(&done));
    write(&format!("# Tilde Loaf\n\n{BLOCK}\nThis bread is not dairy-free.\n"));
    let done = assize(folder.path(), &["weave", "book.md", "--to", "-"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert!(out(&done).contains("butter") && !out(&done).contains("```dough"), "{}", out(&done));
}

/// Two breads, one of which holds what a book may promise not to.
fn book(before: &str, intro: &str, after: &str) -> String {
    let plain = BLOCK.replace("tilde", "mole").replace("Tilde", "Mole").replace("butter 5%; ", "");
    let nutty = BLOCK.replace("water", "walnuts 20%; water");
    format!(
        "{before}# Breads\n\n{intro}\n\n## Mole Loaf\n\n{plain}\n## Tilde Loaf\n\n{nutty}\n{after}"
    )
}

/// What is said of all the bread of a book, by language: no nuts, no milk, vegan.
const OF_ALL: [(&str, &[&str]); 5] = [
    (
        "en",
        &[
            "All our breads are nut-free.",
            "Every loaf in this book is dairy-free.",
            "None of our recipes contains nuts.",
            "We bake without nuts or milk.",
            "We use no milk.",
            "Nothing here contains nuts.",
            "None of our breads has nuts in it.",
            "No loaf of ours has nuts in it.",
            "No loaf here contains nuts.",
            "Not one of our loaves contains nuts.",
            "No bread in these pages contains milk.",
            "You will find no nuts in this book.",
            "The recipes are free from milk.",
            "Everything is vegan.",
            "Dairy-free.",
            "Our breads are vegan, every one.",
            "Each of these loaves is without nuts.",
        ],
    ),
    (
        "fr",
        &[
            "Tous nos pains sont sans noix.",
            "Aucune de nos recettes ne contient de lait.",
            "Aucun de nos pains n'a de noix.",
            "Nous n'utilisons pas de lait.",
            "Ce livre est sans noix.",
            "Les pains sont sans lait.",
            "Tout est végan.",
            "Sans lait.",
        ],
    ),
    (
        "de",
        &[
            "Alle unsere Brote sind ohne Nüsse.",
            "Keines unserer Rezepte enthält Milch.",
            "Keines unserer Brote hat Nüsse.",
            "Wir verwenden keine Milch.",
            "Dieses Buch kommt ohne Nüsse aus.",
            "Alles hier ist vegan.",
            "Die Brote sind milchfrei.",
            "Ohne Nüsse.",
        ],
    ),
    (
        "es",
        &[
            "Todos nuestros panes son sin nueces.",
            "Ninguna de nuestras recetas contiene leche.",
            "Ninguno de nuestros panes tiene nueces.",
            "No usamos leche.",
            "Este libro es sin nueces.",
            "Todo es vegano.",
            "Los panes no llevan leche.",
            "Sin leche.",
        ],
    ),
    (
        "it",
        &[
            "Tutti i nostri pani sono senza noci.",
            "Nessuna delle nostre ricette contiene latte.",
            "Nessuno dei nostri pani ha noci.",
            "Non usiamo latte.",
            "Questo libro è senza noci.",
            "Tutto è vegano.",
            "I pani sono senza latte.",
            "Senza latte.",
        ],
    ),
];

/// A sentence with a mark that nobody sees in the middle of its longest word.
fn parted(said: &str, mark: &str) -> String {
    let longest = said.split(' ').max_by_key(|word| word.chars().count()).unwrap_or_default();
    let middle = longest.char_indices().nth(longest.chars().count() / 2).map_or(0, |(at, _)| at);
    let (first, last) = longest.split_at(middle);
    said.replacen(longest, &format!("{first}{mark}{last}"), 1)
}

/// Said in an introduction, in a chapter beside the recipes, before every heading, below all.
#[test]
fn what_is_said_of_all_the_bread_of_a_book_is_held_to_every_bread() {
    let mut wrong = Vec::new();
    for (language, sentences) in OF_ALL {
        let house = format!("bakehouse \"Gullhaven Bakehouse\" {{ language {language} }}\n");
        for said in sentences {
            let places = [
                book("", said, ""),
                book(&format!("{said}\n\n"), "", ""),
                book(&format!("# Before you begin\n\nWash your hands. {said}\n\n"), "", ""),
                book("", "", &format!("# Thanks\n\n- {said}\n")),
                book("", &format!("> {said}"), ""),
                book("", &format!("**{said}**"), ""),
                book("", &format!("<p>{said}</p>"), ""),
                book("", &format!("<p>{}</p>", parted(said, "<wbr>")), ""),
                book("", &format!("<p>{}</p>", parted(said, "<!-- -->")), ""),
                book("", &format!("<p>{}</p>", parted(said, "&shy;")), ""),
                book("", &format!("<p><span>{}</span></p>", parted(said, "</span><span>")), ""),
                book("", &format!("<p>{}</p>", said.replace('-', "&#45;")), ""),
                book("", &format!("~~Never.~~ {said}"), ""),
                book("", &format!("<del>Never.</del> {said}"), ""),
                book("", &format!("<p><s>Never.</s> {said}</p>"), ""),
                book(&format!("---\ntitle: {said}\n---\n"), "", ""),
                book(&format!("<!-- assize: title \"{said}\" by \"Ines Calder\" -->\n\n"), "", ""),
            ];
            for (place, text) in places.iter().enumerate() {
                let told = told(&house, text);
                if told.is_empty() {
                    wrong.push(format!("{language} {place}: {said}"));
                }
            }
            // With nothing of the kind in any bread nothing is said.
            let sound = places[0].replace("walnuts 20%; ", "").replace("butter 5%; ", "");
            let told = self::told(&house, &sound);
            if let Some((_, it)) = told.first() {
                wrong.push(format!("{language} sound: {said}: {}", it.message));
            }
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}

/// A chapter in a file of its own, which holds no formula, is of the same book.
#[test]
fn a_chapter_without_formulas_promises_for_the_chapters_beside_it() {
    let breads = book("", "", "");
    for (intro, is_told) in [
        ("# Welcome\n\nAll our breads are nut-free.\n", true),
        ("# Welcome\n\nDairy-free.\n", true),
        ("# Welcome\n\nThe harbour smells of bread.\n", false),
        ("# Welcome\n\nThe Mole Loaf is dairy-free.\n", false),
    ] {
        let house = "bakehouse \"Gullhaven Bakehouse\" {}\n";
        let files = Memory::with(&[
            ("/x/house.dough", house),
            ("/x/0.md", intro),
            ("/x/1.md", breads.as_str()),
        ]);
        let paths = ["/x/0.md", "/x/1.md", "/x/house.dough"].map(PathBuf::from);
        let loaded = load(&files, Path::new("/x"), &paths);
        let findings = report(&loaded, None).findings;
        let told = findings.iter().any(|it| it.rule.name == "absence-in-text");
        assert_eq!(told, is_told, "{intro}: {findings:?}");
    }
}

/// Headings, labels, tables and code that promise the same.
#[test]
fn promises_of_a_book_are_read_in_every_form() {
    for said in [
        "# Dairy-free breads",
        "The breads are `dairy-free`.",
        "Milk: `none`",
        "All are [dairy-free].",
        "| Nuts | Milk |\n|---|---|\n| no | no |",
        "| Wheat | Nuts | Milk |\n|---|---|---|\n| yes | – | no |",
        "| | Mole Loaf | Tilde Loaf |\n|---|---|---|\n| Nuts | no | no |",
        "| Allergen | Contained | Traces |\n|---|---|---|\n| Milk | no | no |",
        "| Bread | Nuts |\n|---|---|\n| Tilde Loaf | none |",
        "- Milk:\n  - none",
        "Nuts:\n\nnone",
        "Is there any milk in it?\n\nNo.",
        "Milk\n: none",
        "Allergens\n: wheat",
        "### Allergens\n\n- wheat",
        "### Free from\n\n- nuts\n- milk",
        "Our breads are free from:\n\n- nuts\n- milk",
        "### Nuts\n\nNone.",
        "<div>\nDairy-free\n</div>",
    ] {
        let text = match said.strip_prefix("# ") {
            Some(heading) => book("", "", "").replace("# Breads", &format!("# {heading}")),
            None => book("", said, ""),
        };
        let told = lines(&text);
        assert!(!told.is_empty(), "{said}");
    }
}

/// What claims nothing of the bread of a book, though it stands beside all of it.
#[test]
fn what_is_said_between_the_recipes_of_other_things_is_left_alone() {
    let mut wrong = Vec::new();
    for said in [
        "Rice flour is gluten-free.",
        "Some of our breads are dairy-free.",
        "The Mole Loaf is dairy-free.",
        "Coeliacs need bread without gluten.",
        "A levain needs no salt.",
        "Gluten-free baking is another craft.",
        "Add no salt to a levain.",
        "Without steam the crust stays dull.",
        "An enriched dough without butter is lean.",
        "Not all our breads are vegan.",
        "Ask your guests about nuts.",
        "Never knead without a scale.",
        "Most of our loaves contain no milk.",
        "If you eat no milk, leave the butter out.",
        "We do not bake for people who must not eat nuts.",
        "There is no bread without flour.",
        "A kitchen without an oven is a sad place.",
    ] {
        for text in [
            book(&format!("# Before you begin\n\nWash your hands. {said}\n\n"), "", ""),
            book("", "", &format!("# Thanks\n\n- {said}\n")),
        ] {
            for told in lines(&text) {
                wrong.push(format!("{said}: {told}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
}

/// One claim over many breads is told once, with their names.
#[test]
fn a_promise_that_many_breads_break_is_told_once_with_their_names() {
    let one = |at: usize| {
        let block = BLOCK.replace("tilde", &format!("loaf-{at}"));
        format!("## Loaf {at}\n\n{}\n", block.replace("Tilde Loaf", &format!("Loaf {at}")))
    };
    let breads: String = (1..=8).map(one).collect();
    let text = format!("# Breads\n\nAll our breads are dairy-free.\n\n{breads}");
    let told = told("bakehouse \"Gullhaven Bakehouse\" {}\n", &text);
    let [(3, finding)] = told.as_slice() else { panic!("{told:#?}") };
    let named = "so it is in `loaf-1`, `loaf-2`, `loaf-3`, `loaf-4`, `loaf-5` and 3 more";
    assert_eq!(finding.notes, [named]);
    // None of them is woven beside it.
    let folder = folder();
    fs::write(folder.path().join("book.md"), &text).expect("written");
    let done = assize(folder.path(), &["weave", "book.md", "--to", "-"]);
    assert_eq!(done.status.code(), Some(1));
    assert_eq!(out(&done).matches("```dough").count(), 8);
}

/// An empty cell of a table of weights denies nothing; one of a table of breads does.
#[test]
fn a_dash_among_weights_is_an_empty_cell() {
    for (table, is_claim) in [
        (
            "| Ingredient | Levain | Dough |\n|---|---|---|\n| salt | – | 20 g |\n| water | 90 g | – |",
            false,
        ),
        (
            "| Ingredient | Weight | Later |\n|---|---|---|\n| walnuts | 90 g | none |\n| butter | – | 40 g |",
            false,
        ),
        ("| Ingredient | ×1 | ×2 |\n|---|---|---|\n| walnuts | 90 g | – |", false),
        ("| Bread | Nuts | Weight |\n|---|---|---|\n| Tilde Loaf | no | 900 g |", true),
        ("| Each | Nuts | Weight |\n|---|---|---|\n| loaf | no | 900 g |", true),
        ("| Nuts | Milk | Price |\n|---|---|---|\n| no | no | 4.50 |", true),
    ] {
        let told = lines(&book("", table, ""));
        assert_eq!(!told.is_empty(), is_claim, "{table}: {told:?}");
    }
}

/// The letters of a drawing, and the title of a picture, are printed with the chapter.
#[test]
fn letters_in_pictures_are_read() {
    let folder = crate::support::folder();
    let write = |name: &str, text: &str| {
        std::fs::write(folder.path().join(name), text).expect("written");
    };
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    let told = |picture: &str, letters: &str| {
        write("book.md", &book("", "", &format!("{picture}\n")));
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\">";
        write("plan.svg", &format!("{svg}{letters}</svg>"));
        let done = crate::support::assize(folder.path(), &["check", "--format", "short"]);
        crate::support::out(&done).contains("error[absence-in-text]")
    };
    assert!(!told("![A plan](plan.svg)", "<text>The harbour</text>"));
    assert!(told("![A plan](plan.svg)", "<text>All our breads are nut-free.</text>"));
    assert!(told(
        "![A plan](plan.svg)",
        "<text><tspan>Tilde Loaf contains no nuts.</tspan></text>"
    ));
    assert!(told("![A plan](plan.svg)", "<title>Nut-free</title>"));
    assert!(told("<img src=\"plan.svg\" alt=\"x\">", "<text>Nut-free</text>"));
    assert!(told("![A plan](plan.svg \"nut-free\")", "<text>The harbour</text>"));
}
