//! When two spellings are one name, and how a title becomes one.

use crate::source::is_blank;
use ecow::EcoString;
use icu_casemap::CaseMapper;
use unicode_normalization::char::is_combining_mark;
use unicode_normalization::{UnicodeNormalization, is_nfc};

/// The form in which names are compared: NFC, full case folding, runs of blanks as
/// one, the typographic apostrophe as the plain one. A hyphen is not a blank.
pub fn key_of(shown: &str) -> EcoString {
    if is_key(shown) {
        return shown.into();
    }
    if shown.chars().all(is_simple) {
        return simple_key(shown);
    }
    let joined = collapse(shown).replace('’', "'");
    let folded = fold(&joined);
    if is_nfc(&folded) { folded.into() } else { folded.nfc().collect() }
}

/// Whether a name is its own key, as nearly all are: small letters with single blanks and
/// hyphens between them.
fn is_key(shown: &str) -> bool {
    let mut before = b' ';
    let is_plain = shown.bytes().all(|byte| {
        let last = std::mem::replace(&mut before, byte);
        byte.is_ascii_lowercase() || byte == b'-' || byte == b' ' && last != b' '
    });
    is_plain && before != b' '
}

/// Letters that have one form only and one other case at most, as nearly all have in western
/// Europe; `ß` folds to two.
fn is_simple(letter: char) -> bool {
    letter.is_ascii() || matches!(letter, 'à'..='ÿ' | 'À'..='Þ' | '’')
}

/// The same of a name of such letters.
fn simple_key(shown: &str) -> EcoString {
    const SHORT: usize = 64;
    if shown.len() > SHORT || !shown.is_ascii() {
        return simple_key_of_any(shown).into();
    }
    let mut key = [0; SHORT];
    let (mut length, mut gap) = (0, false);
    for byte in shown.bytes() {
        if char::from(byte).is_whitespace() {
            gap = length > 0;
            continue;
        }
        if std::mem::take(&mut gap) {
            key[length] = b' ';
            length += 1;
        }
        key[length] = byte.to_ascii_lowercase();
        length += 1;
    }
    std::str::from_utf8(&key[..length]).unwrap_or_default().into()
}

fn simple_key_of_any(shown: &str) -> String {
    let mut key = String::with_capacity(shown.len());
    let mut gap = false;
    for letter in shown.chars() {
        if letter.is_ascii() && letter.is_whitespace() {
            gap = !key.is_empty();
            continue;
        }
        if std::mem::take(&mut gap) {
            key.push(' ');
        }
        match letter {
            '’' => key.push('\''),
            _ if letter.is_ascii() => key.push(letter.to_ascii_lowercase()),
            _ => key.extend(letter.to_lowercase()),
        }
    }
    key
}

/// Full case folding.
pub fn fold(text: &str) -> String {
    if text.is_ascii() {
        return text.to_ascii_lowercase();
    }
    let composed: String = text.nfc().collect();
    CaseMapper::new().fold_string(&composed).into_owned()
}

/// The same words with single blanks between them.
pub fn collapse(text: &str) -> String {
    let mut joined = String::with_capacity(text.len());
    for word in text.split(is_blank).filter(|word| !word.is_empty()) {
        if !joined.is_empty() {
            joined.push(' ');
        }
        joined.push_str(word);
    }
    joined
}

/// The letters and digits of a title in lower case, joined by `-`.
pub fn identifier_of(title: &str) -> String {
    let words = title.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let joined = words.collect::<Vec<_>>().join("-").to_lowercase();
    let digits = joined.len() - joined.trim_start_matches(|c: char| !c.is_alphabetic()).len();
    joined.get(digits..).unwrap_or("").to_owned()
}

/// Whether a letter may stand in the name of a formula, a booklet or a day.
pub fn is_of_identifier(letter: char) -> bool {
    letter.is_alphanumeric() || is_combining_mark(letter) || matches!(letter, '-' | '\'' | '’')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_form_blanks_and_apostrophes_do_not_matter() {
        assert_eq!(key_of("Crème  Fraîche"), key_of("cre\u{300}me frai\u{302}che"));
        assert_eq!(key_of("Straße"), key_of("STRASSE"));
        assert_eq!(key_of("baker’s\u{a0}flour"), key_of("Baker's Flour"));
        assert_ne!(key_of("all-purpose"), key_of("all purpose"));
        assert_eq!(key_of(" Bread\t\u{b}FLOUR  T65 "), "bread flour t65");
        assert_eq!(key_of(" \n"), "");
        assert_eq!(key_of("rye  flour"), "rye flour");
        assert_eq!(key_of(" rye"), "rye");
        assert_eq!(key_of("rye "), "rye");
        assert_eq!(key_of(""), "");
    }

    /// What is read quickly is what Unicode's tables say.
    #[test]
    fn simple_letters_are_folded_as_all_others() {
        let simple: Vec<char> = ('\0'..='ÿ').chain(['’']).filter(|it| is_simple(*it)).collect();
        assert_eq!(simple.len(), 128 + 31 + 32 + 1);
        for letter in simple {
            let shown = format!("a{letter}b");
            let joined = collapse(&shown).replace('’', "'");
            let folded: String = fold(&joined).nfc().collect();
            assert_eq!(simple_key(&shown), folded, "{letter:?}");
        }
    }

    #[test]
    fn a_title_becomes_an_identifier() {
        assert_eq!(identifier_of("Quay Loaf"), "quay-loaf");
        assert_eq!(identifier_of("2nd Crème_Loaf!"), "nd-crème-loaf");
        assert_eq!(identifier_of("123"), "");
    }
}
