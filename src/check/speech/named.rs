//! How sentences name foods: what compares with them, serves them beside the bread, or says
//! that they are in it.

use crate::formula::key;
use crate::source::cells;

use super::phrases::Tags;
use super::{EACH, Language, NAMED, PhraseFound, Sentence, Tag, Token};

impl Language {
    /// Learns how the language of a number names foods.
    pub(super) fn learn_named(&mut self, index: usize) {
        for line in NAMED.lines().filter(|line| !line.starts_with('#')) {
            let mut columns = cells(line, b'|');
            let Some(head) = columns.next() else { continue };
            let phrases = cells(columns.nth(index).unwrap_or_default(), b',');
            for phrase in phrases.filter(|phrase| !phrase.is_empty()) {
                match head.strip_prefix('-') {
                    Some(word) => {
                        let ending = key(phrase).to_string();
                        self.named_endings.push((ending, Tag { kind: "word", word }));
                    }
                    None => self.named.learn(phrase, Tag { kind: "word", word: head }),
                }
            }
        }
    }

    fn named_by_ending(&self, word: &str) -> Option<Tags<'_>> {
        let ending = self.named_endings.iter().find(|(ending, _)| word.ends_with(ending.as_str()));
        ending.map(|(_, tag)| Tags::one(*tag))
    }
}

/// The same sentence with what a language says about foods in it.
pub fn read_named<'s>(sentence: &Sentence<'s>, language: &'static Language) -> Sentence<'s> {
    let tokens = sentence.tokens;
    let mut found = Vec::new();
    for from in 0..tokens.len() {
        let ending = || language.named_by_ending(&tokens[from].key).map(|tags| (1, tags));
        if let Some((count, tags)) = language.named.at(tokens, from).or_else(ending) {
            found.extend(tags.map(|tag| PhraseFound { tag, from, to: from + count }));
        }
    }
    Sentence { text: sentence.text, tokens, language, found }
}

/// The language that knows most words of a sentence, whatever the house speaks; where two
/// know as many, the house's own, and English before others.
pub fn spoken(tokens: &[Token], house: Option<&str>) -> &'static Language {
    let own = house.and_then(|tag| tag.split(['-', '_']).next()).unwrap_or("en");
    let knows = |language: &&'static Language| {
        let known = |&from: &usize| {
            language.at(tokens, from).is_some() || language.named.at(tokens, from).is_some()
        };
        let known = (0..tokens.len()).filter(known).count();
        (known, language.code == own, language.code == "en")
    };
    EACH.iter().map(|language| &**language).max_by_key(knows).unwrap_or(Language::all())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::speech::tokens;

    #[test]
    fn every_line_of_the_table_says_something() {
        for line in NAMED.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let columns: Vec<&str> = line.split('|').map(str::trim).collect();
            assert_eq!(columns.len(), 6, "{line}");
            assert!(columns[1..].iter().any(|column| !column.is_empty()), "{line}");
            for phrase in columns[1..].iter().flat_map(|column| column.split(',')) {
                assert!(phrase.is_empty() || !tokens(phrase).is_empty(), "{line}");
            }
        }
    }

    #[test]
    fn a_sentence_is_read_in_the_language_it_is_in() {
        for (text, house, code) in [
            ("Brush with butter and milk", Some("de"), "en"),
            ("Mit Butter bestreichen", None, "de"),
            ("Fait avec du beurre", Some("en"), "fr"),
            ("Hecho con mantequilla", None, "es"),
            ("Fatto con burro e latte", Some("de-CH"), "it"),
            ("Butter", Some("de"), "de"),
            ("Butter", None, "en"),
        ] {
            assert_eq!(spoken(&tokens(text), house).code, code, "{text}");
        }
    }
}
