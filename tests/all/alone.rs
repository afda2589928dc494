//! Names of ingredients that are everyday words elsewhere: none is believed that denies what
//! is called so, and in a text about anything else they raise nothing.

use crate::support::{findings, letters};

const NAMES: [(&str, &str); 18] = [
    ("worcester", "fish"),
    ("wooster", "fish"),
    ("bonito", "fish"),
    ("eel", "fish"),
    ("eels", "fish"),
    ("graham", "gluten"),
    ("grahams", "gluten"),
    ("digestive", "gluten"),
    ("digestives", "gluten"),
    ("marmite", "gluten"),
    ("ranch", "milk"),
    ("ranch", "eggs"),
    ("caesar", "fish"),
    ("caesar", "eggs"),
    ("malai", "milk"),
    ("white choc", "milk"),
    ("milk choc", "milk"),
    ("balsamico", "sulphites"),
];

#[test]
fn an_ingredient_that_is_called_by_an_everyday_word_is_not_believed_to_be_nothing() {
    let mut wrong = Vec::new();
    for (name, claim) in NAMES {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{}}\ningredient {name} is an other {{ contains \
             nothing; animal nothing }}\nformula pier-loaf \"Pier Loaf\" {{ makes 1 loaf at 800 g; \
             total {{ rice flour 100%; {name} 5%; water 65%; salt 2%; fresh yeast 1% }} expect {{ free \
             from {claim} }} }}\n"
        );
        let told = findings(&text);
        let is_told = |it: &&str| {
            ["allergen-in-name", "contains-doubtful", "claim-not-proved", "claim-refuted"]
                .contains(it)
        };
        if !told.iter().map(|it| it.rule.name).any(|it| is_told(&it)) {
            wrong.push(format!("{name}: {claim}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}

/// Names of places and everyday words in texts of a bread that is claimed to be without all of
/// it.
#[test]
fn the_same_words_in_a_text_about_something_else_raise_nothing() {
    let said = [
        "A loaf from the ranch by the harbour.",
        "Un pan bonito, y bueno.",
        "Graham bakes it on Fridays.",
        "Light and digestive.",
        "Cuire dans une marmite en fonte.",
    ];
    let mut text = String::from("bakehouse \"Gullhaven Bakehouse\" {}\n");
    for (at, said) in said.iter().enumerate() {
        text.push_str(&format!(
            "formula f-{} \"Pier Loaf\" {{ makes 1 loaf at 800 g; note \"{said}\"; total {{ rice flour \
             100%; water 65%; salt 2%; fresh yeast 1% }} expect {{ free from gluten, milk, eggs, fish; \
             vegan }} }}\n",
            letters(at)
        ));
    }
    let told = findings(&text);
    let told = told.iter().filter(|it| it.rule.name == "claim-not-proved");
    let told: Vec<&String> = told.map(|it| &it.message).collect();
    assert!(told.is_empty(), "{told:#?}");
}
