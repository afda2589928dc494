//! What a text of an ingredient says that the ingredient contains: `Contains milk.`

use super::allergens::words_of;
use super::naming::{Told, told_by_name};
use std::ops::Range;

/// After these a food is one that is in it.
const HOLDS: [&str; 28] = [
    "contains",
    "contain",
    "containing",
    "includes",
    "including",
    "made",
    "traces",
    "allergen",
    "allergens",
    "contient",
    "contenir",
    "fait",
    "faite",
    "allergène",
    "allergènes",
    "enthält",
    "enthalten",
    "spuren",
    "allergene",
    "contiene",
    "contener",
    "trazas",
    "hecho",
    "alérgenos",
    "contenere",
    "tracce",
    "fatto",
    "allergeni",
];

/// After these it is not, or is only something to compare with.
const DENIES: [&str; 38] = [
    "no", "not", "without", "free", "never", "neither", "nor", "none", "instead", "unlike", "like",
    "as", "than", "replaces", "replace", "away", "before", "sans", "pas", "ni", "comme", "jamais",
    "ohne", "kein", "keine", "keinen", "nicht", "wie", "statt", "frei", "sin", "como", "nunca",
    "senza", "non", "come", "mai", "goes",
];

/// After these a denial is over.
const BUT: [&str; 9] =
    ["but", "contains", "aber", "enthält", "mais", "contient", "pero", "contiene", "ma"];

/// The foods of which a text says that they are in what it is about. A caution says it of
/// whatever it names, any other text only after a word such as `contains`.
pub fn spoken_of(text: &str, languages: &[&str], is_caution: bool) -> Vec<Told> {
    let mut all = Vec::new();
    for sentence in sentences(text) {
        let Some(words) = text.get(sentence) else { continue };
        let said = words_of(words);
        let before = |told: &Told| {
            let before = said.iter().filter(|(range, _)| range.end <= told.range.start);
            before.map(|(_, word)| word.as_str()).collect::<Vec<_>>()
        };
        let told = told_by_name(words, languages).into_iter();
        all.extend(told.filter(|told| {
            let before = before(told);
            let last = |of: &[&str]| before.iter().rposition(|word| of.contains(word));
            let is_denied = match (last(&DENIES), last(&BUT)) {
                (Some(denied), but) => but.is_none_or(|but| but < denied),
                (None, _) => false,
            };
            !is_denied && (is_caution || last(&HOLDS).is_some())
        }));
    }
    all
}

fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    let mut start = 0;
    for (at, sign) in text.match_indices(['.', '!', '?', ';', '\n']) {
        all.push(start..at);
        start = at + sign.len();
    }
    all.push(start..text.len());
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_in_it_is_told_from_what_is_spoken_of() {
        let told = |text: &str, is_caution| {
            let told = spoken_of(text, &["en", "de"], is_caution);
            told.iter()
                .flat_map(|told| told.allergens.iter().map(|one| one.key()))
                .collect::<Vec<_>>()
        };
        assert_eq!(told("Contains milk.", true), ["milk"]);
        assert_eq!(told("Contains milk.", false), ["milk"]);
        assert_eq!(told("Milk and eggs!", true), ["milk", "eggs"]);
        assert_eq!(told("Made from hazelnuts, by hand.", false), ["hazelnuts"]);
        assert_eq!(told("Enthält Milch.", false), ["milk"]);
        assert_eq!(told("Contains no milk but contains eggs.", true), ["eggs"]);
        for text in [
            "Does not contain milk.",
            "Free from milk, eggs and nuts.",
            "As mild as butter.",
            "Use it instead of butter.",
            "Ohne Milch.",
        ] {
            assert!(told(text, true).is_empty(), "{text}");
        }
        for text in ["Goes well with walnuts.", "The dairy's sheet of March.", "Serve with milk."] {
            assert!(told(text, false).is_empty(), "{text}");
        }
    }
}
