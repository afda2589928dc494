//! What a text of an ingredient says that the ingredient contains: `Contains milk.`

use super::allergens::{LANGUAGES, words_of};
use super::naming::{Told, told_by_name};
use ecow::EcoString;
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

/// The same in a note, where nothing says that it is about something else.
const OF: [&str; 40] = [
    "from",
    "of",
    "with",
    "pressed",
    "churned",
    "ground",
    "milled",
    "roasted",
    "toasted",
    "mixed",
    "blended",
    "bound",
    "preserved",
    "based",
    "base",
    "inside",
    "plus",
    "aus",
    "mit",
    "auf",
    "gebunden",
    "gemahlen",
    "gemahlene",
    "geröstete",
    "basis",
    "du",
    "de",
    "des",
    "avec",
    "lié",
    "liée",
    "base",
    "moulu",
    "moulues",
    "con",
    "molidas",
    "di",
    "legato",
    "macinate",
    "tostate",
];

/// `from` and `with` in words that are no English ones.
const ABROAD: [&str; 9] = ["de", "du", "des", "avec", "aus", "mit", "auf", "con", "di"];

/// What stands before these is what something is made on.
const BASE: [&str; 4] = ["base", "based", "basis", "inside"];

/// Beside these a note tells what to do with it, or what it goes with.
const USES: [&str; 44] = [
    "serve",
    "serves",
    "served",
    "use",
    "used",
    "using",
    "store",
    "stored",
    "keep",
    "keeps",
    "kept",
    "well",
    "beside",
    "alongside",
    "apart",
    "next",
    "near",
    "fits",
    "suits",
    "matches",
    "brush",
    "colour",
    "color",
    "coloured",
    "colored",
    "taste",
    "tastes",
    "smell",
    "smells",
    "look",
    "looks",
    "passt",
    "servieren",
    "verwenden",
    "lagern",
    "farbe",
    "servir",
    "utiliser",
    "couleur",
    "usar",
    "color",
    "servire",
    "usare",
    "colore",
];

/// How a text of an ingredient speaks of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spoken {
    /// A caution says of whatever it names that it is in it.
    Caution,
    /// A note says it after `contains`, `from`, `with` and the like, or by naming nothing else.
    Note,
    /// Any other text says it only after a word such as `contains`.
    Aside,
}

/// Words of a note that says no more than what something is: `ground almonds`.
const NAMES_ONLY: usize = 4;

/// The foods of which a text says that they are in what it is about.
pub fn spoken_of(text: &str, languages: &[&str], spoken: Spoken) -> Vec<Told> {
    let mut all = Vec::new();
    for sentence in sentences(text) {
        let Some(words) = text.get(sentence) else { continue };
        let said = words_of(words);
        let before = |told: &Told| {
            let before = said.iter().filter(|(range, _)| range.end <= told.range.start);
            before.map(|(_, word)| word.as_str()).collect::<Vec<_>>()
        };
        let is_note =
            spoken == Spoken::Note && !said.iter().any(|(_, word)| USES.contains(&word.as_str()));
        let told = match spoken {
            Spoken::Aside => told_by_name(words, languages),
            // Short words of another language are too often words of this one, but after one
            // that says what is in it.
            _ => in_any_language(words, languages, &said),
        };
        all.extend(told.into_iter().filter(|told| {
            let before = before(told);
            let last = |of: &[&str]| before.iter().rposition(|word| of.contains(word));
            let is_denied = match (last(&DENIES), last(&BUT)) {
                (Some(denied), but) => but.is_none_or(|but| but < denied),
                (None, _) => false,
            };
            let is_name = || said.len() <= NAMES_ONLY && before.len() < 2;
            // `on a whey base`.
            let mut after = said.iter().filter(|(range, _)| range.start >= told.range.end);
            let is_base = after.next().is_some_and(|(_, word)| BASE.contains(&word.as_str()));
            let is_of =
                || is_base || last(&OF).is_some_and(|at| before.len() - at <= 3) || is_name();
            !is_denied
                && (spoken == Spoken::Caution || last(&HOLDS).is_some() || is_note && is_of())
        }));
    }
    all
}

/// What words tell, in some languages, and in all others where they can be nothing else.
fn in_any_language(
    words: &str,
    languages: &[&str],
    said: &[(Range<usize>, EcoString)],
) -> Vec<Told> {
    let mut told = told_by_name(words, languages);
    let is_after_holds = |told: &Told| {
        let before = said.iter().filter(|(range, _)| range.end <= told.range.start);
        let last: Vec<&str> = before.map(|(_, word)| word.as_str()).collect();
        last.iter().rev().take(2).any(|word| HOLDS.contains(word))
            || last.last().is_some_and(|word| ABROAD.contains(word))
    };
    let is_clear = |told: &Told| told.range.len() > 4 || is_after_holds(told);
    let others = told_by_name(words, &LANGUAGES).into_iter().filter(is_clear);
    let others = others.filter(|it| !told.iter().any(|own| own.range == it.range));
    let others: Vec<Told> = others.collect();
    told.extend(others);
    told
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
            let spoken = if is_caution { Spoken::Caution } else { Spoken::Aside };
            let told = spoken_of(text, &["en", "de"], spoken);
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

    /// A note that says what something is of tells it, in whatever language it is written; one
    /// that says what to do with it does not.
    #[test]
    fn a_note_says_what_something_is_of() {
        let told = |text: &str| {
            let mut told: Vec<&str> = spoken_of(text, &["en"], Spoken::Note)
                .iter()
                .flat_map(|told| told.allergens.iter().map(|one| one.key()))
                .collect();
            told.sort_unstable();
            told.dedup();
            told
        };
        for (text, wanted) in [
            ("enthält Ei", "eggs"),
            ("pressed from hazelnuts", "hazelnuts"),
            ("churned from cow's milk", "milk"),
            ("milk powder, 12 %", "milk"),
            ("from roasted almonds", "almonds"),
            ("ground almonds", "almonds"),
            ("with egg", "eggs"),
            ("on a whey base", "milk"),
            ("bound with egg white", "eggs"),
            ("contient du lait", "milk"),
            ("con leche", "milk"),
            ("barley malt inside", "barley"),
            ("made with butter", "milk"),
            ("traces of walnuts", "walnuts"),
            ("aus gerösteten Haselnüssen", "hazelnuts"),
            ("à base de lait", "milk"),
        ] {
            assert!(told(text).contains(&wanted), "{text}: {:?}", told(text));
        }
        for text in [
            "Goes well with walnuts.",
            "Serve with milk.",
            "Store apart from nuts.",
            "Use it instead of butter.",
            "As mild as butter.",
            "The colour of hazelnuts.",
            "Passt zu Nüssen.",
            "without milk",
        ] {
            assert!(told(text).is_empty(), "{text}: {:?}", told(text));
        }
    }
}
