//! Every name of `dishes.txt`: beside a claim, in a sentence and alone; as an ingredient of
//! one's own that denies what it is called. Words by kind that stand in no list.

use crate::support::{assert_none, findings, letters, loaded, top};
use assize::testing::desk;
use assize::testing::diag::Level;
use assize::testing::formula::{Absence, Allergen, Judged, built_in, key};
use std::collections::BTreeSet;

/// A name of the store with the allergens that it may bring.
struct Dish {
    name: String,
    brings: Vec<Allergen>,
    /// Those that are only usually in it.
    usual: Vec<Allergen>,
}

/// All lines of the store, with their columns.
fn lines() -> Vec<Vec<String>> {
    let text = std::fs::read_to_string(top().join("src/formula/stores/dishes.txt"));
    let text = text.expect("the store");
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(|line| line.split('|').map(|column| column.trim().to_owned()).collect()).collect()
}

/// All names, each once, that tell an allergen.
fn dishes() -> Vec<Dish> {
    let mut known = BTreeSet::new();
    let mut all = Vec::new();
    for columns in lines() {
        let whats = || columns[0].trim_end_matches('!').split('+');
        let read = |one: &str| Allergen::read(one.trim_end_matches('?'));
        let brings: Vec<Allergen> = whats().filter_map(read).collect();
        let usual = whats().filter(|one| one.ends_with('?')).filter_map(read);
        let usual: Vec<Allergen> = usual.collect();
        let names = columns[2..].iter().flat_map(|column| column.split(',')).map(str::trim);
        for written in names {
            let name = written.trim_matches(['!', '?', '=']);
            if name != "-" && !brings.is_empty() && known.insert(key(name)) {
                let usual = if written.ends_with('?') { brings.clone() } else { usual.clone() };
                all.push(Dish { name: name.to_owned(), brings: brings.clone(), usual });
            }
        }
    }
    all
}

#[test]
fn every_line_says_what_it_brings_and_why() {
    for columns in lines() {
        assert_eq!(columns.len(), 8, "{columns:?}");
        assert!(columns.iter().all(|column| !column.is_empty()), "{columns:?}");
        assert!(columns[1].split(' ').count() >= 3, "{columns:?}");
        let is_known = |one: &str| {
            let one = one.trim_end_matches('?');
            Allergen::read(one).is_some() || ["meat", "honey"].contains(&one)
        };
        assert!(columns[0].trim_end_matches('!').split('+').all(is_known), "{columns:?}");
    }
    assert!(dishes().len() > 2_300, "{}", dishes().len());
}

/// Ways in which a text names a dish.
const WAYS: [&str; 3] = ["{}.", "A little {} goes on top.", "Fold in {}, then rest."];

/// Formulas of rice with a text each, and what of them is refused.
fn silent(cases: &[(String, String)]) -> Vec<String> {
    silent_in("en", cases)
}

/// The same in a house of a language.
fn silent_in(language: &str, cases: &[(String, String)]) -> Vec<String> {
    let mut text = format!("bakehouse \"Gullhaven Bakehouse\" {{ language \"{language}\" }}\n");
    let name = |at: usize| format!("f-{}", letters(at));
    for (at, (claim, said)) in cases.iter().enumerate() {
        text.push_str(&format!(
            "formula {} \"Pier Loaf\" {{\n  makes 2 loaves at 900 g\n  note \"{said}\"\n  total {{ rice \
             flour 100%; water 70%; salt 2%; fresh yeast 1% }}\n  expect {{ free from {claim} }}\n}}\n",
            name(at)
        ));
    }
    let told = findings(&text);
    let told: BTreeSet<&str> = told
        .iter()
        .filter(|it| ["claim-not-proved", "absence-in-text"].contains(&it.rule.name))
        .filter_map(|it| it.formula.as_deref())
        .collect();
    let silent = cases.iter().enumerate().filter(|(at, _)| !told.contains(name(*at).as_str()));
    silent.map(|(_, (claim, said))| format!("{claim}: {said}")).collect()
}

#[test]
fn no_dish_passes_beside_a_claim_that_it_breaks() {
    // What is usually of some cereal is bread, of which texts of a bread are full.
    let is_cereal = |one: &&Allergen| one.wider().iter().any(|one| one.key() == "gluten");
    let of_cereals = |dish: &Dish| dish.usual.iter().any(|one| is_cereal(&one));
    // A colour, and what a crust is in French.
    let is_everyday = |dish: &Dish| ["sepia", "croquant"].contains(&dish.name.as_str());
    let dishes = dishes();
    let told = dishes.iter().filter(|dish| !of_cereals(dish) && !is_everyday(dish));
    let mut cases = Vec::new();
    for (at, dish) in told.enumerate() {
        for one in &dish.brings {
            let said = WAYS[at % WAYS.len()].replace("{}", &dish.name).replace('"', "");
            cases.push((one.key().to_owned(), said));
        }
    }
    let silent = silent(&cases);
    assert_none(&silent, cases.len());
}

/// Endings and beginnings of German words by what they bring.
const COMPOUNDS: [(&str, &[&str], &str); 6] = [
    (
        "milk",
        &["Alp", "Berg", "Hart", "Weich", "Reib", "Ziegen", "Schafs", "Streich", "Misch"],
        "käse",
    ),
    ("milk", &["Ziegen", "Schafs", "Butter", "Sauer", "Stuten", "Dick", "Weide", "Heu"], "milch"),
    ("milk", &["Süß", "Sauer", "Gebirgs", "Schlag", "Weide"], "rahm"),
    ("nuts", &["Hasel", "Wal", "Baum", "Para", "Pekan", "Zirbel"], "nuss"),
    ("gluten", &["Dinkel", "Weizen", "Roggen", "Gersten", "Emmer", "Grünkern"], "mehl"),
    ("fish", &["Räucher", "Stock", "Thun", "Stein", "Back"], "fisch"),
];

#[test]
fn german_words_are_taken_apart_in_sentences_of_any_language() {
    let mut cases = Vec::new();
    for (claim, starts, end) in COMPOUNDS {
        for start in starts {
            for way in ["{}.", "Some {} over it.", "Finish with {} and herbs."] {
                let word = format!("{start}{end}");
                cases.push((claim.to_owned(), way.replace("{}", &word)));
            }
        }
    }
    let silent = silent(&cases);
    assert_none(&silent, cases.len());
}

#[test]
fn no_ingredient_is_believed_that_denies_what_its_name_brings() {
    let dishes = dishes();
    let mut text = String::from("bakehouse \"Gullhaven Bakehouse\" { language en }\n");
    for dish in &dishes {
        text.push_str(&format!(
            "ingredient \"{}\" is other {{ contains nothing; animal nothing }}\n",
            dish.name
        ));
    }
    let loaded = loaded(&text);
    let bakehouses = desk::bakehouses(&loaded);
    let bakehouse = &bakehouses[0];
    let places: BTreeSet<usize> = bakehouse
        .findings
        .iter()
        .filter(|finding| finding.level == Level::Error)
        .filter_map(|finding| text.get(..finding.span().start as usize))
        .map(|before| before.matches('\n').count())
        .collect();
    let mut wrong = Vec::new();
    for (at, dish) in dishes.iter().enumerate() {
        let ingredient = bakehouse.house.ingredient_named(&key(&dish.name));
        let ingredient = ingredient.unwrap_or_else(|| panic!("{}", dish.name));
        let believed = dish
            .brings
            .iter()
            .any(|one| ingredient.declared.judge(Absence::Allergen(*one)) == Judged::Without);
        if believed || !places.contains(&(at + 1)) {
            wrong.push(format!("{}: believed {believed}", dish.name));
        }
    }
    assert_none(&wrong, dishes.len());
}

/// All names of what is built in, with their languages: its own, those beside it, and those
/// of other countries.
fn names_of_stores() -> Vec<(String, String, Vec<Allergen>)> {
    let read = |store: &str| {
        let path = top().join("src/formula/stores").join(store);
        std::fs::read_to_string(path).expect("the store")
    };
    let holds = |name: &str| -> Vec<Allergen> {
        let known = built_in().ingredient_named(&key(name)).unwrap_or_else(|| panic!("{name}"));
        known.declared.named.iter().chain(known.declared.may.iter()).collect()
    };
    let mut known = BTreeSet::new();
    let mut all = Vec::new();
    let mut add = |language: &str, name: &str, of: &str| {
        let name = name.trim().trim_matches('"');
        if known.insert(key(name)) && !holds(of).is_empty() {
            all.push((language.to_owned(), name.to_owned(), holds(of)));
        }
    };
    let mut last = String::new();
    for line in read("ingredients.dough").lines() {
        if let Some((name, _)) =
            line.strip_prefix("ingredient ").and_then(|it| it.split_once(" is "))
        {
            last = name.trim_matches('"').to_owned();
            add("en", &last, &last);
        } else if let Some(also) = line.trim_start().strip_prefix("also ") {
            also.split("\",").for_each(|name| add("en", name, &last));
        }
    }
    for line in read("called.txt").lines().filter(|line| !line.starts_with('#')) {
        match line.strip_prefix("  ") {
            None => last = line.to_owned(),
            Some(names) => {
                let (tag, names) = names.trim().split_once(' ').unwrap_or_default();
                names.split(',').for_each(|name| add(tag, name, &last));
            }
        }
    }
    all
}

/// A text that names what is built in, by any of its names, leaves no claim standing that it
/// is without what that contains or may contain: in a house of its language, and of English.
#[test]
fn no_built_in_food_passes_beside_a_claim_that_it_breaks() {
    /// What means something else in English, or any flour.
    const EVERYDAY: [&str; 4] = ["son", "til", "impulsor", "farina"];
    let names = names_of_stores();
    assert!(names.len() > 1_000, "{}", names.len());
    let (mut all, mut wrong) = (0, Vec::new());
    for language in ["en", "en-US", "en-GB", "en-IN", "fr", "de", "es", "it"] {
        let is_of = |tag: &str| language == "en" || tag.split('-').next() == Some(language);
        let of = names.iter().filter(|(tag, ..)| tag == language || is_of(tag));
        let mut cases = Vec::new();
        for (at, (_, name, holds)) in of.enumerate() {
            if language.starts_with("en") && EVERYDAY.contains(&name.as_str()) {
                continue;
            }
            for one in holds {
                let said = WAYS[at % WAYS.len()].replace("{}", name);
                cases.push((one.key().to_owned(), said));
            }
        }
        all += cases.len();
        let silent = silent_in(language, &cases);
        wrong.extend(silent.into_iter().map(|case| format!("{language}: {case}")));
    }
    assert_none(&wrong, all);
}

/// What a food is called denies nothing: `non-fat milk` in a bread of milk.
#[test]
fn no_name_of_a_food_is_read_as_a_denial() {
    let names = names_of_stores();
    let mut wrong = Vec::new();
    for language in ["en", "fr", "de", "es", "it"] {
        let mut text = format!("bakehouse \"Gullhaven Bakehouse\" {{ language {language} }}\n");
        let mut said = Vec::new();
        for (tag, name, _) in &names {
            // By itself it may be a title: vegan butter rolls.
            let is_diet = ["vegan", "plant-based"].iter().any(|word| name.starts_with(word));
            if tag.split('-').next() == Some(language) && !is_diet {
                text.push_str(&format!(
                    "formula f-{} \"Pier Loaf\" {{ makes 2 loaves at 900 g; note \"{name}.\"; total \
                     {{ bread flour 100%; whole milk 70%; butter 5%; whole egg 5%; salt 2%; fresh \
                     yeast 1% }} }}\n",
                    letters(said.len())
                ));
                said.push(name);
            }
        }
        let told = findings(&text);
        let told = told.iter().filter(|it| it.rule.name == "absence-in-text");
        wrong.extend(told.map(|it| format!("{language}: {}", it.message)));
    }
    assert_none(&wrong, names.len());
}
