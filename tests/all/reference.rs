//! The reference: every word of the reader's tables has a page, no page is without a word,
//! every example does what its page says, and every name can be asked for.

use crate::support::{Memory, assize, err, findings, from_disk, out, top};
use assize::testing::desk::reference::{KINDS, LookupAnswer, NameKind, Reference, ReferenceEntry};
use assize::testing::desk::{self, load};
use assize::testing::formula::class::Class;
use assize::testing::formula::{Figure, built_in};
use assize::testing::quantity::Unit;
use assize::testing::syntax::tree::{Verb, Weekdays};
use assize::testing::syntax::{verbs_read, words};
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

static REFERENCE: LazyLock<Reference> = LazyLock::new(|| Reference::built_in(desk::rules()));

fn of_kind(kind: NameKind) -> Vec<&'static ReferenceEntry> {
    REFERENCE.of_kind(kind).collect()
}

/// The tables of what may stand in a place, with the words that are steps of their own.
fn tables() -> Vec<(&'static str, Vec<&'static str>)> {
    vec![
        ("file", words::OF_A_FILE.to_vec()),
        ("formula", words::OF_A_FORMULA.to_vec()),
        ("stage", words::OF_A_STAGE.to_vec()),
        ("total", words::OF_LINES.to_vec()),
        ("dough", words::OF_LINES.to_vec()),
        ("mixture", words::OF_A_MIXTURE.to_vec()),
        ("culture", words::OF_A_CULTURE.to_vec()),
        ("piece", words::OF_A_PIECE.to_vec()),
        ("style", words::OF_A_STYLE.to_vec()),
        ("ingredient", words::OF_AN_INGREDIENT.to_vec()),
        ("bakehouse", words::OF_A_BAKEHOUSE.to_vec()),
        ("mixer", words::OF_A_MIXER.to_vec()),
        ("oven", words::OF_AN_OVEN.to_vec()),
        ("tin", words::OF_A_TIN.to_vec()),
        ("proofer", words::OF_A_PLACE.to_vec()),
        ("refrigerator", words::OF_A_PLACE.to_vec()),
        ("board", words::OF_A_BOARD.to_vec()),
        ("day", words::OF_A_DAY.to_vec()),
        ("step", words::OF_A_STEP.to_vec()),
        ("wait", words::OF_A_WAIT.to_vec()),
        ("booklet", words::OF_A_BOOKLET.to_vec()),
        // What is asked for `starter` wants to know of cultures.
        (
            "worksheet",
            words::OF_A_WORKSHEET.iter().copied().filter(|word| *word != "starter").collect(),
        ),
        // The one claim that is no figure.
        ("expect", vec!["free from"]),
    ]
}

#[test]
fn every_word_of_a_place_has_a_page_and_no_page_is_without_a_word() {
    let mut wrong = Vec::new();
    let placed: Vec<&ReferenceEntry> = REFERENCE
        .entries()
        .iter()
        .filter(|entry| {
            matches!(entry.kind, NameKind::Block | NameKind::Statement | NameKind::Clause)
        })
        .collect();
    for (place, table) in tables() {
        for word in &table {
            let here = placed.iter().filter(|entry| entry.places.iter().any(|it| it == place));
            let own = here.clone().filter(|entry| entry.key == *word).count();
            let read = here.filter(|entry| entry.reads.iter().any(|read| read == word)).count();
            if own > 1 || own == 0 && read != 1 {
                wrong.push(format!("`{word}` in {place}: {own} pages of its own, {read} others"));
            }
        }
    }
    for entry in &placed {
        for place in &entry.places {
            let tables = tables();
            let known = tables.iter().find(|(known, _)| known == place);
            if !known.is_some_and(|(_, words)| words.contains(&entry.key.as_str())) {
                wrong.push(format!("`{}` does not stand in {place}", entry.page.name));
            }
        }
        if entry.places.is_empty() {
            wrong.push(format!("`{}` stands nowhere", entry.page.name));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Names of a kind against a table, both ways.
fn same(kind: NameKind, table: &[&str]) {
    let pages: BTreeSet<&str> =
        of_kind(kind).iter().map(|entry| entry.page.name.as_str()).collect();
    let table: BTreeSet<&str> = table.iter().copied().collect();
    assert_eq!(pages, table, "{kind:?}");
}

#[test]
fn verbs_units_figures_classes_and_amounts_are_those_of_the_tables() {
    same(NameKind::Verb, &Verb::ALL.map(|(word, _)| word));
    same(NameKind::Class, &Class::ALL.iter().map(|(word, _)| *word).collect::<Vec<_>>());
    same(NameKind::Figure, &words::FIGURES.iter().map(|(word, _)| *word).collect::<Vec<_>>());
    let units: Vec<&str> = Unit::spellings().map(|(_, unit)| unit.spelling()).collect();
    same(NameKind::Unit, &units);
    let bases: Vec<String> = words::BASES.iter().map(|base| format!("of {base}")).collect();
    let mut amounts = words::SOFT_AMOUNTS.to_vec();
    amounts.extend(words::BEHIND_AN_AMOUNT.iter().filter(|word| **word != "from"));
    amounts.extend(bases.iter().map(String::as_str));
    same(NameKind::Amount, &amounts);
    for (spelling, unit) in Unit::spellings() {
        let page =
            of_kind(NameKind::Unit).into_iter().find(|entry| entry.page.name == unit.spelling());
        let page = page.expect("a page");
        assert!(
            page.page.name == spelling || page.reads.iter().any(|it| it == spelling),
            "{spelling}"
        );
    }
}

/// Words that make up a clause, a claim or a setting belong to its page.
#[test]
fn parts_of_clauses_belong_to_their_page() {
    let weekdays = Weekdays::NAMES;
    let parts: [(&str, NameKind, &[&str]); 8] = [
        ("fold", NameKind::Clause, words::OF_A_FOLD),
        ("until", NameKind::Clause, words::OF_UNTIL),
        ("with", NameKind::Clause, words::OF_WITH),
        ("makes", NameKind::Statement, words::OF_A_YIELD),
        ("animal", NameKind::Statement, words::OF_ANIMALS),
        ("kept back", NameKind::Amount, &["from"]),
        ("hours", NameKind::Statement, &weekdays),
        ("free from", NameKind::Statement, &["vegan", "vegetarian"]),
    ];
    for (name, kind, table) in parts {
        let page = of_kind(kind).into_iter().find(|entry| entry.key == name).expect("a page");
        assert_eq!(page.reads, table, "{name}");
    }
    let lost = words::OTHER_VERBS.iter().filter(|(other, ours)| {
        let LookupAnswer::Pages(pages, _) = REFERENCE.find(other) else { return true };
        // `scale` has a page of its own, the scale of a house.
        !pages.iter().any(|entry| entry.kind == NameKind::Verb && entry.key == *ours)
            && !pages.iter().any(|entry| entry.key == *other)
    });
    assert_eq!(lost.collect::<Vec<_>>(), [] as [&(&str, &str); 0]);
    let of_another_language = verbs_read().filter(|(said, ours)| {
        let LookupAnswer::Pages(pages, _) = REFERENCE.find(said) else { return true };
        !pages.iter().any(|entry| entry.kind == NameKind::Verb && entry.key == *ours)
    });
    let lost: Vec<_> = of_another_language.collect();
    // `unite`, a French word for one of ours, may be a page of another kind.
    assert_eq!(lost, [], "{}", verbs_read().count());
    assert!(verbs_read().count() > 250);
}

#[test]
fn pages_are_whole_and_lead_only_to_what_there_is() {
    let known: BTreeSet<&str> =
        REFERENCE.entries().iter().map(|entry| entry.key.as_str()).collect();
    let mut anchors = BTreeSet::new();
    let mut wrong = Vec::new();
    for entry in REFERENCE.entries() {
        let page = &entry.page;
        let mut say = |what: String| wrong.push(format!("{} {}: {what}", page.kind, page.name));
        if !anchors.insert(page.anchor.clone()) {
            say(format!("a second {}", page.anchor));
        }
        if page.line.is_empty() || page.line.len() > 110 && entry.kind <= NameKind::Class {
            say(format!("its line: {}", page.line));
        }
        if entry.kind == NameKind::Finding {
            continue;
        }
        if page.example.is_none() {
            say("no example".into());
        }
        if !page.facts.iter().any(|fact| fact.label == "By default") {
            say("no default".into());
        }
        let facts = |label: &str| page.facts.iter().filter(|fact| fact.label == label).count();
        if entry.kind <= NameKind::Clause && facts("Written") != 1 {
            say("not said how it is written".into());
        }
        for fact in page.facts.iter().filter(|fact| fact.label == "See also") {
            for name in fact.words.split('`').skip(1).step_by(2) {
                if !known.contains(name) {
                    say(format!("see `{name}`, which is none"));
                }
            }
        }
        for fact in &page.facts {
            if fact.words.trim().is_empty() {
                say(format!("an empty {}", fact.label));
            }
            // Findings that are named are findings.
            for name in fact.words.split('`').skip(1).step_by(2).filter(|it| it.contains('-')) {
                let is_word = name.contains(' ') || known.contains(name) || name.starts_with("--");
                if !is_word && !["make-up", "half-letter", "fl-oz"].contains(&name) {
                    say(format!("`{name}` is nothing"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_line_of_the_hand_written_pages_is_read() {
    let labels =
        ["Write", "In", "Default", "Counts", "Parts", "Also read", "Elsewhere", "Beware", "See"];
    for file in top().join("src/desk/reference").read_dir().expect("there") {
        let path = file.expect("an entry").path();
        if path.extension().is_none_or(|extension| extension != "md") {
            continue;
        }
        let text = fs::read_to_string(&path).expect("readable");
        for line in text.lines().filter(|line| line.starts_with("- ")) {
            let label = line.trim_start_matches("- ").split(':').next().unwrap_or_default();
            assert!(labels.contains(&label), "{}: {line}", path.display());
        }
    }
    let text =
        fs::read_to_string(top().join("src/desk/reference/ingredients.md")).expect("readable");
    for name in text.lines().filter_map(|line| line.strip_prefix("## ")) {
        assert!(built_in().ingredient_named(name).is_some(), "{name} is no ingredient");
        let LookupAnswer::Pages(pages, _) = REFERENCE.find(&format!("ingredient {name}")) else {
            panic!()
        };
        let page = pages[0].markdown();
        assert!(pages[0].is_guarded || page.contains("Called elsewhere"), "{name}");
    }
}

/// What can hurt says so on its page.
#[test]
fn what_can_hurt_has_a_caution() {
    for asked in [
        "verb mix",
        "verb scald",
        "verb laminate",
        "verb wash",
        "verb boil",
        "verb steam",
        "verb fry",
        "verb score",
        "verb bake",
        "verb slice",
        "clause steamed",
        "block oven",
        "block mixer",
        "block soaker",
        "class flour",
        "class egg",
        "class nut",
        "statement contains",
        "statement greased with",
        "statement free from",
        "ingredient lye",
        "ingredient bread flour",
        "ingredient egg yolk",
        "ingredient honey",
        "block ingredient",
    ] {
        let LookupAnswer::Pages(pages, _) = REFERENCE.find(asked) else { panic!("{asked}") };
        assert!(pages[0].page.facts.iter().any(|fact| fact.label == "Beware"), "{asked}");
    }
}

/// An example in its frame.
fn framed(frame: &str, example: &str) -> String {
    let path = top().join(format!("tests/reference/{frame}.dough"));
    let text = fs::read_to_string(&path).unwrap_or_else(|_| panic!("no frame {}", path.display()));
    let named = example.split(" with ").nth(1).unwrap_or_default();
    text.replace("NAME", named.trim()).replace('…', example.trim_end())
}

/// Every example does what its page says: good ones raise nothing.
#[test]
fn every_example_holds() {
    let mut wrong = Vec::new();
    let mut ran = 0;
    for entry in REFERENCE.entries() {
        let Some(example) = &entry.page.example else { continue };
        let (frame, raises) = match entry.frame.split_once(" raises ") {
            Some((frame, name)) => (frame, vec![name]),
            None => (entry.frame.as_str(), Vec::new()),
        };
        let told = findings(&framed(frame, example));
        let told = told.iter().filter(|finding| finding.allowed.is_none());
        let mut raised: Vec<&str> = told.map(|finding| finding.rule.name).collect();
        raised.dedup();
        // A bread of another style is outside it; that it is read as a style is what counts.
        if entry.kind == NameKind::Style {
            raised.retain(|name| *name != "outside-style");
        }
        ran += 1;
        if raised != raises {
            wrong.push(format!("{} {}: raises {raised:?}", entry.page.kind, entry.page.name));
        }
    }
    assert!(wrong.is_empty(), "{} of {ran}:\n{}", wrong.len(), wrong.join("\n"));
}

/// The examples that the house's own tins, mixers and ovens have.
#[test]
fn pages_of_a_house_show_its_own_things() {
    let loaded = from_disk(&top().join("examples/gullhaven"));
    let bakehouses = desk::bakehouses(&loaded);
    let trees: Vec<_> = bakehouses[0].files.iter().map(|file| &file.tree).collect();
    let reference = Reference::of(&bakehouses[0].house, &trees, &loaded.sources, desk::rules());
    let house = fs::read(top().join("examples/gullhaven/bakehouse.dough")).expect("readable");
    let mut seen = 0;
    for entry in [NameKind::Tin, NameKind::Mixer, NameKind::Oven]
        .into_iter()
        .flat_map(|kind| reference.of_kind(kind))
    {
        let text = framed(&entry.frame, entry.page.example.as_ref().expect("an example"));
        let file = |name: &str, text: Vec<u8>| (PathBuf::from(format!("/x/{name}")), text);
        let file_system =
            Memory([file("bakehouse.dough", house.clone()), file("a.dough", text.into())].into());
        let loaded = load(&file_system, Path::new("/x"), &[PathBuf::from("/x/a.dough")]);
        let raised: Vec<&str> = desk::check(&loaded).iter().map(|it| it.rule.name).collect();
        assert!(
            raised.iter().all(|name| name.starts_with("batch-")),
            "{}: {raised:?}",
            entry.page.name
        );
        seen += 1;
    }
    assert_eq!(seen, 5);
    let own = |name: &str| match reference.find(name) {
        LookupAnswer::Pages(pages, _) => pages[0].markdown(),
        _ => panic!("{name}"),
    };
    let wholemeal = own("mill lane wholemeal");
    for part in ["whole wheat flour", "wheat", "23.50 EUR per 25 kg", "12.8", "bakehouse.dough:"] {
        assert!(wholemeal.contains(part), "{part}: {wholemeal}");
    }
    assert!(own("hearth sourdough").contains("70%"), "the house's own, not the store's");
    assert!(matches!(
        reference.find("gullhaven-sour"),
        LookupAnswer::Shown { what: "formula", .. }
    ));
}

#[test]
fn every_name_can_be_explained_and_is_in_the_list_of_its_kind() {
    let mut wrong = Vec::new();
    for entry in REFERENCE.entries() {
        let name = &entry.page.name;
        let kind = entry.page.kind;
        let asked = format!("{kind} {name}");
        let found = match REFERENCE.find(&asked) {
            LookupAnswer::Pages(pages, None) => {
                pages.iter().any(|it| it.page.anchor == entry.page.anchor)
            }
            _ => false,
        };
        if !found {
            wrong.push(asked);
        }
        let alone = match REFERENCE.find(name) {
            LookupAnswer::Pages(pages, None) => {
                pages.iter().any(|it| it.page.anchor == entry.page.anchor)
            }
            LookupAnswer::List(_, also) => {
                also.iter().any(|it| it.page.anchor == entry.page.anchor)
            }
            _ => false,
        };
        if !alone {
            wrong.push(name.clone());
        }
        for other in entry.reads.iter().chain(&entry.elsewhere) {
            if matches!(REFERENCE.find(other), LookupAnswer::Unknown { .. }) {
                wrong.push(format!("{other}, of {name}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    for kind in KINDS {
        let list = out(&assize(&top(), &["explain", kind.words().1]));
        for entry in REFERENCE.of_kind(kind) {
            let name = &entry.page.name;
            let is_listed =
                list.lines().any(|line| line == name || line.starts_with(&format!("{name} ")));
            assert!(is_listed, "{name} in {}", kind.words().1);
            let words = list.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(entry.reads.iter().all(|read| words.contains(read.as_str())), "{name}");
        }
    }
}

/// Every slip of one letter in a name: one left out, two changed round, one doubled.
fn slips(name: &str) -> Vec<String> {
    let letters: Vec<char> = name.chars().collect();
    let mut slips: Vec<String> = Vec::new();
    for at in 0..letters.len() {
        let mut one = letters.clone();
        one.remove(at);
        slips.push(one.iter().collect());
        let mut two = letters.clone();
        two.insert(at, letters[at]);
        slips.push(two.iter().collect());
        if at + 1 < letters.len() {
            let mut round = letters.clone();
            round.swap(at, at + 1);
            slips.push(round.into_iter().collect());
        }
    }
    let count = |text: &str| text.split_whitespace().count();
    slips.retain(|slip| count(slip) == count(name) && slip.as_str() != name);
    slips
}

#[test]
fn a_slip_of_one_letter_leads_to_the_name_and_never_to_what_can_hurt() {
    let kinds = [
        NameKind::Verb,
        NameKind::Figure,
        NameKind::Statement,
        NameKind::Block,
        NameKind::Clause,
        NameKind::Culture,
    ];
    let all = REFERENCE.entries().par_iter().filter(|entry| entry.kind != NameKind::Finding);
    let wrong: Vec<String> = all
        .flat_map_iter(|entry| {
            // Of the many names of things, some slips each.
            let step = if kinds.contains(&entry.kind) || entry.key.len() < 6 { 1 } else { 7 };
            slips(&entry.key).into_iter().step_by(step).map(move |slip| (entry, slip))
        })
        .filter_map(|(entry, slip)| {
            let name = entry.key.as_str();
            let is_lye = |entry: &ReferenceEntry| entry.key == "lye";
            match REFERENCE.find(&slip) {
                LookupAnswer::Unknown { near, .. } => {
                    let is_offered = near.iter().any(|it| it.entry.key == entry.key);
                    let must = name.chars().count() > 4 && kinds.contains(&entry.kind);
                    if near.iter().any(|it| is_lye(it.entry)) {
                        return Some(format!("{slip}: lye"));
                    }
                    (must && !is_offered).then(|| format!("{slip}: not {name}"))
                }
                LookupAnswer::Pages(pages, _) if pages.iter().any(|it| is_lye(it)) => {
                    Some(format!("{slip} is lye"))
                }
                _ => None,
            }
        })
        .collect();
    for slip in ["rye", "lie", "rie", "dye", "lyee", "ley"] {
        if let LookupAnswer::Unknown { near, .. } = REFERENCE.find(slip) {
            assert!(near.iter().all(|it| it.entry.key != "lye"), "{slip}");
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_opposite_is_never_offered() {
    for (asked, never) in [
        ("dry yeast", "fresh yeast"),
        ("salted buttr", "unsalted butter"),
        ("light rye flor", "white spelt flour"),
        ("unsweetened milk", "condensed milk"),
    ] {
        if let LookupAnswer::Unknown { near, .. } = REFERENCE.find(asked) {
            assert!(near.iter().all(|it| it.entry.key != never), "{asked}");
        }
    }
}

#[test]
fn common_words_lead_to_ours() {
    for (word, kind, name) in [
        ("knead", NameKind::Verb, "mix"),
        ("rise", NameKind::Verb, "bulk"),
        ("hydrate", NameKind::Verb, "autolyse"),
        ("hydrate", NameKind::Figure, "hydration"),
        ("starter", NameKind::Block, "culture"),
        ("poolish", NameKind::Block, "preferment"),
        ("levain", NameKind::Block, "preferment"),
        ("recipe", NameKind::Block, "formula"),
        ("ingredients", NameKind::Ingredient, ""),
        ("instructions", NameKind::Block, "method"),
        ("refrigerate", NameKind::Verb, "chill"),
        ("overnight", NameKind::Verb, "retard"),
        ("wholemeal", NameKind::Ingredient, "whole wheat flour"),
        ("grams", NameKind::Unit, "g"),
        ("tablespoon", NameKind::Unit, "tbsp"),
        ("allergens", NameKind::Statement, "contains"),
        ("DDT", NameKind::Figure, "water temperature"),
        ("Grams", NameKind::Unit, "g"),
    ] {
        match REFERENCE.find(word) {
            LookupAnswer::Pages(pages, Some(_)) => {
                assert!(pages.iter().any(|it| it.kind == kind && it.key == name), "{word}");
            }
            LookupAnswer::List(found, _) => assert_eq!(found, kind, "{word}"),
            LookupAnswer::Pages(pages, None) => panic!("{word} is {}", pages[0].page.name),
            _ => panic!("{word} leads nowhere"),
        }
    }
}

/// What bakers and cooks say in five languages leads somewhere; nothing is taken for ours.
#[test]
fn everyday_words_lead_to_a_page() {
    const WORDS: &str = "
        knead, starter, levain, sourdough, poolish, biga, sponge, pâte fermentée, tangzhong,
        proofing, proving, prove, ferment, fermentation, oven spring, gluten, windowpane, scoring,
        slash, banneton, couche, dutch oven, baking stone, egg wash, hydration level,
        baker's percentage, bakers percentage, recipe, batch size, scaling, loaf, overnight,
        cold proof, retarding, batter, lamination, rising time, cooling, serving, allergens,
        shopping list, timer, folding, dusting, preferment, mash, stand mixer, spiral mixer,
        dough hook, temperature, time, weight, comment, title, import, include, overproofed,
        underproofed, discard, simmer, thaw, bread, strong flour, plain flour, wholemeal, malt,
        pétrir, pétrissage, façonner, enfourner, levain chef, hydratation, pâte, farine, eau, sel,
        levure, repos, kneten, Sauerteig, Anstellgut, Vorteig, Brühstück, Quellstück, Kochstück,
        backen, formen, Teigausbeute, Mehl, Wasser, Salz, Hefe, einschießen, amasar, reposo,
        hornear, masa madre, harina, agua, levadura, hidratación, porcentaje panadero, impastare,
        impasto, infornare, lievito madre, farina, acqua, sale, lievito, idratazione";
    let mut lost = Vec::new();
    for word in WORDS.split(',').map(str::trim) {
        if matches!(REFERENCE.find(word), LookupAnswer::Unknown { .. }) {
            lost.push(word);
        }
    }
    assert!(lost.is_empty(), "{lost:?}");
}

#[test]
fn a_name_with_several_meanings_shows_each_under_its_kind() {
    let salt = out(&assize(&top(), &["explain", "salt"]));
    for heading in
        ["# salt (statement)", "# salt (figure)", "# salt (class)", "# salt (ingredient)"]
    {
        assert!(salt.lines().any(|line| line == heading), "{heading}");
    }
    let figure = out(&assize(&top(), &["explain", "figure", "salt"]));
    assert_eq!(figure.lines().filter(|line| line.starts_with("# ")).count(), 1);
}

#[test]
fn explain_fits_a_terminal_and_says_what_can_be_asked() {
    let empty = tempfile::tempdir().expect("a folder");
    let bare = assize(empty.path(), &["explain"]);
    assert_eq!((bare.status.code(), err(&bare)), (Some(0), String::new()));
    for kind in KINDS.iter().filter(|kind| REFERENCE.of_kind(**kind).count() > 0) {
        assert!(out(&bare).contains(kind.words().1), "{kind:?}");
    }
    let unknown = assize(empty.path(), &["explain", "hidration"]);
    assert_eq!((unknown.status.code(), out(&unknown)), (Some(2), String::new()));
    assert_eq!(
        err(&unknown),
        "assize: nothing is called `hidration`; did you mean `hydration` (figure)?\n"
    );
    let mut asked: Vec<Vec<String>> =
        KINDS.iter().map(|kind| vec![kind.words().1.to_owned()]).collect();
    asked.push(Vec::new());
    for name in ["bulk", "salt", "bread flour", "rye", "cup", "flour-not-100", "knead"] {
        asked.push(vec![name.to_owned()]);
    }
    for words in asked {
        let mut args = vec!["explain"];
        args.extend(words.iter().map(String::as_str));
        let told = assize(empty.path(), &args);
        assert_eq!(told.status.code(), Some(0), "{args:?}");
        for line in out(&told).lines().filter(|line| !line.starts_with("    ")) {
            assert!(line.chars().count() <= 80, "{args:?}: {line}");
        }
    }
}

#[test]
fn pages_for_programs_hold_the_same() {
    let told = out(&assize(&top(), &["explain", "bulk", "--format", "json"]));
    let pages: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    let page = &pages[0];
    assert_eq!((page["kind"].as_str(), page["name"].as_str()), (Some("verb"), Some("bulk")));
    assert!(page["example"].as_str().expect("an example").starts_with("bulk"));
    assert!(page["facts"][0]["label"].is_string());
    let all = out(&assize(&top(), &["explain", "--format", "json"]));
    let all: serde_json::Value = serde_json::from_str(&all).expect("JSON");
    assert!(all.as_array().expect("a list").len() >= REFERENCE.entries().len());
}

/// The reference as documents, for reading and searching.
#[test]
fn the_written_reference_is_current() {
    let note = "<!-- Made from the tables of the reader, the stores and src/desk/reference; rewrite with ASSIZE_REWRITE=1 cargo test --release -->\n\n";
    for (name, text) in [
        ("REFERENCE.md", format!("{note}{}", REFERENCE.markdown())),
        ("REFERENCE.html", REFERENCE.html()),
    ] {
        let path = top().join("examples/reference").join(name);
        if std::env::var_os("ASSIZE_REWRITE").is_some() {
            fs::create_dir_all(path.parent().expect("a parent")).expect("made");
            fs::write(&path, &text).expect("written");
        }
        let written = fs::read_to_string(&path).unwrap_or_default();
        assert!(written == text, "{name} is stale; run the tests once with ASSIZE_REWRITE=1");
    }
}

/// A page for a browser that anybody can read: one title, headings in order, every link to a
/// place on it, table cells with heads, and no script.
#[test]
fn the_reference_for_a_browser_is_sound() {
    let page = REFERENCE.html();
    for never in ["<script", "http://", "https://", "style=\""] {
        assert!(!page.contains(never), "{never}");
    }
    assert_eq!(page.matches("<h1").count(), 1);
    assert!(page.contains("<html lang=\"en\">") && page.contains("prefers-color-scheme: dark"));
    let ids: BTreeSet<&str> =
        page.split(" id=\"").skip(1).filter_map(|it| it.split('"').next()).collect();
    assert_eq!(ids.len(), page.matches(" id=\"").count(), "no id twice");
    for link in page.split("href=\"#").skip(1).filter_map(|it| it.split('"').next()) {
        assert!(ids.contains(link), "{link}");
    }
    let rows = page.matches("<tr>").count();
    let heads = page.matches("<th scope=\"row\"").count() + page.matches("<thead>").count();
    assert_eq!(rows, heads, "each row has a head");
    let figures: Vec<&str> = Figure::names().collect();
    assert!(figures.iter().all(|name| page.contains(&format!(">{name}<"))));
}
