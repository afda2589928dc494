//! Words beside names and amounts that mean nothing for the sum: `unbleached`, `, melted`.
//!
//! The list is closed. A word that is not on it may tell one food from another, so that a
//! name with it is another name.

use super::name::key_of;
use crate::source::cells;
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

const TEXT: &str = include_str!("asides.txt");

/// What is known of such words.
#[derive(Debug)]
pub struct Aside {
    /// The words of the classes of which they say nothing; empty for all.
    classes: Vec<&'static str>,
    /// Degrees Celsius.
    warmth: Option<u32>,
    /// Whether they only stand between others.
    is_joint: bool,
}

#[derive(Default)]
struct Asides {
    kinds: Vec<Aside>,
    /// The places of kinds by phrase.
    by_phrase: FxHashMap<String, Vec<usize>>,
    most_words: usize,
}

static ASIDES: LazyLock<Asides> = LazyLock::new(Asides::read);

impl Asides {
    fn read() -> Self {
        let mut all = Self::default();
        for line in TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let mut columns = cells(line, b'|');
            all.kinds.push(Aside::of(columns.next().unwrap_or_default()));
            let kind = all.kinds.len() - 1;
            for phrase in columns.flat_map(|column| cells(column, b',')) {
                let phrase = key_of(phrase).replace("'", " ").to_string();
                all.most_words = all.most_words.max(phrase.split(' ').count());
                all.by_phrase.entry(phrase).or_default().push(kind);
            }
        }
        all
    }

    fn said(&self, phrase: &str) -> impl Iterator<Item = &Aside> {
        let kinds = self.by_phrase.get(phrase).into_iter().flatten();
        kinds.filter_map(|kind| self.kinds.get(*kind))
    }
}

impl Aside {
    fn of(column: &'static str) -> Self {
        let words = || column.split(' ');
        let warmth = words().find_map(|word| word.parse().ok());
        let classes = words().filter(|word| word.parse::<u32>().is_err());
        Self {
            classes: classes.filter(|word| !matches!(*word, "*" | "joint")).collect(),
            warmth,
            is_joint: column == "joint",
        }
    }

    fn is_of(&self, class: &str) -> bool {
        !self.is_joint && (self.classes.is_empty() || self.classes.contains(&class))
    }
}

/// The words of a name one by one, as phrases are compared.
pub fn words_of(name: &str) -> Vec<String> {
    let key = key_of(name);
    key.split([' ', '-', '\'', ',', '(', ')']).filter(|it| !it.is_empty()).map(Into::into).collect()
}

/// How many words at the front are an aside, the longest first.
pub fn length_at(words: &[String]) -> Option<usize> {
    let most = ASIDES.most_words.min(words.len());
    (1..=most).rev().find(|count| {
        let phrase = words.get(..*count).map(|words| words.join(" ")).unwrap_or_default();
        ASIDES.said(&phrase).any(|aside| !aside.is_joint)
    })
}

/// Whether a phrase says nothing of a food of a class, given by its word.
pub fn says_nothing_of(phrase: &[String], class: &str) -> bool {
    ASIDES.said(&phrase.join(" ")).any(|aside| aside.is_of(class))
}

/// Whether nothing but asides is said.
pub fn are_asides(words: &[String]) -> bool {
    let mut rest = words;
    let mut said = false;
    while let Some(first) = rest.first() {
        let joint = || ASIDES.said(first).any(|aside| aside.is_joint).then_some(1);
        let length = length_at(rest);
        said |= length.is_some();
        let Some(length) = length.or_else(joint) else { return false };
        rest = rest.get(length..).unwrap_or_default();
    }
    said
}

/// How warm a note says that something is, in degrees Celsius: `boiling`. What is said to
/// have cooled is not.
pub fn warmth(note: &str) -> Option<u32> {
    let words = words_of(note);
    if let Some(said) = words.iter().find_map(|word| degrees(word)) {
        return Some(said);
    }
    let mut at = 0;
    let mut found = None;
    while let Some(rest) = words.get(at..).filter(|rest| !rest.is_empty()) {
        if rest.first().is_some_and(|word| word.contains("cool")) {
            return None;
        }
        let length = length_at(rest).unwrap_or(1);
        let phrase = rest.get(..length).map(|words| words.join(" ")).unwrap_or_default();
        found = found.or_else(|| ASIDES.said(&phrase).find_map(|aside| aside.warmth));
        at += length;
    }
    found
}

/// The degrees Celsius of `30c`, `105f`.
fn degrees(word: &str) -> Option<u32> {
    let number = |letter: char| word.strip_suffix(letter)?.trim_end_matches('°').parse().ok();
    let fahrenheit = || number('f').filter(|it: &u32| *it > 32).map(|it| (it - 32) * 5 / 9);
    number('c').or_else(fahrenheit)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<String> {
        words_of(text)
    }

    #[test]
    fn every_line_of_the_list_is_read() {
        for line in TEXT.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let columns: Vec<&str> = line.split('|').map(str::trim).collect();
            assert_eq!(columns.len(), 6, "{line}");
            let phrases = columns.iter().skip(1).flat_map(|column| column.split(','));
            assert!(phrases.clone().all(|phrase| !phrase.trim().is_empty()), "{line}");
        }
    }

    #[test]
    fn a_word_that_tells_foods_apart_is_none() {
        for word in [
            "dried",
            "dry",
            "powdered",
            "salted",
            "unsalted",
            "sweetened",
            "condensed",
            "roasted",
            "smoked",
            "malted",
            "ground",
            "vegan",
            "gluten-free",
            "almond",
            "self-raising",
            "instant",
            "fresh",
            "light",
            "dark",
            "brown",
            "white",
            "whole",
            "skimmed",
            "sour",
            "rapid",
            "active dry",
            "strong",
            "plain",
            "fine",
            "coarse",
            "sprouted",
            "fermented",
            "plant-based",
            "lactose-free",
            "imitation",
            "cooked",
            "candied",
            "evaporated",
            "clarified",
            "cultured",
            "hydrogenated",
            "pickled",
            "salées",
            "séché",
            "getrocknet",
            "gesalzen",
            "seco",
            "secco",
            "salato",
            "vegano",
            "végétal",
            "entrahmt",
        ] {
            assert!(!are_asides(&words(word)), "{word}");
        }
    }

    #[test]
    fn asides_are_said_in_five_languages() {
        for text in [
            "melted",
            "melted and cooled",
            "at room temperature",
            "lightly beaten",
            "finely chopped",
            "fondu",
            "à température ambiante",
            "zimmerwarm",
            "grob gehackt",
            "a temperatura ambiente",
            "derretida y enfriada",
            "leggermente sbattute",
        ] {
            assert!(are_asides(&words(text)), "{text}");
        }
        assert!(!are_asides(&words("and")));
        assert!(!are_asides(&words("melted or vegan")));
    }

    #[test]
    fn a_note_tells_how_warm_it_is() {
        assert_eq!(warmth("boiling"), Some(100));
        assert_eq!(warmth("lauwarmes"), Some(35));
        assert_eq!(warmth("boiled and cooled"), None);
        assert_eq!(warmth("organic"), None);
        assert_eq!(warmth("at 30C"), Some(30));
        assert_eq!(warmth("at 140F"), Some(60));
    }
}
