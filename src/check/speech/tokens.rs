//! Texts as words, numbers and marks.

use super::numerals;
use crate::formula::{is_slip_of, key};
use crate::source::is_unseen;
use std::borrow::Cow;

/// Signs that cross something out, all read as the first.
const CROSSES: [char; 8] = ['✗', '✘', '❌', '❎', '🚫', '⛔', '✖', '✕'];
const CROSS: &str = "✗";

/// Pictures of foods and of what gives them, as the rows `sign` of the denials have them.
const PICTURES: &str = "🥛🧀🧈🍼🐄🐮🥚🍳🐣🐔🐓🥜🌰🌾🐟🐠🦐🦞🦀🐙🦑🦪🫘🍯🐝🥩🥓🐖🐷🍖🍗🌱";

/// Signs that join two things, read as the first.
const AND: &str = "&";

/// Stands for a live figure, which is a word that says nothing.
pub const GAP: &str = "\u{fffc}";

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// Letters.
    Word,
    /// Digits with what belongs to them.
    Number,
    /// A comma.
    Comma,
    /// What ends a sentence, or parts it.
    Stop,
}

/// A word, a number or a mark of a text.
#[derive(Clone, Debug)]
pub struct Token<'t> {
    /// What it is.
    pub kind: TokenKind,
    /// In the form that names are compared in.
    pub key: Cow<'t, str>,
    /// By what its key is told from others.
    pub(in crate::check) hash: u32,
    /// Byte of its first letter.
    pub start: usize,
    /// Byte after its last letter.
    pub end: usize,
}

/// The words, numbers and marks of a text. Hyphens and apostrophes part words and leave
/// nothing behind, so that `nut-free` reads like `nut free`, and `l'eau` has two words.
pub fn tokens(text: &str) -> Vec<Token<'_>> {
    let mut tokens: Vec<Token> = Vec::with_capacity(text.len() / 8 + 1);
    let mut at = 0;
    while let Some(letter) = text.get(at..).and_then(|rest| rest.chars().next()) {
        // Nearly all of a text is blanks and plain words.
        if letter == ' ' {
            at += 1;
            continue;
        }
        if let Some(length) = letter_by_letter(text, at, letter) {
            let end = at + length;
            let spelled: String = text[at..end].chars().filter(|it| it.is_alphabetic()).collect();
            let key: Cow<str> = key_of(&spelled).into_owned().into();
            tokens.push(Token { kind: TokenKind::Word, hash: hash_of(&key), key, start: at, end });
            at = end;
            continue;
        }
        if let Some(key) = spelled_sign(text, at) {
            let end = at + 3;
            tokens.push(Token {
                kind: TokenKind::Word,
                hash: hash_of(key),
                key: key.into(),
                start: at,
                end,
            });
            at = end;
            continue;
        }
        if let Some((word, length)) = with_digits(text, at, letter) {
            let (end, key) = (at + length, Cow::Borrowed(word));
            tokens.push(Token { kind: TokenKind::Word, hash: hash_of(word), key, start: at, end });
            at = end;
            continue;
        }
        if let Some(word) = plain_word(text, at) {
            at = word.end;
            tokens.push(match misspelt(&word.key) {
                Some(meant) => Token { key: meant.into(), hash: hash_of(meant), ..word },
                None => word,
            });
            continue;
        }
        let (kind, length) = token_at(text, at, letter, &tokens);
        let end = at + length.max(letter.len_utf8());
        if let Some(kind) = kind {
            let key = key_of(&text[at..end]);
            tokens.push(Token { kind, hash: hash_of(&key), key, start: at, end });
        }
        at = end;
    }
    tokens
}

/// The word of ASCII letters alone that begins at a place, where one does that is not written
/// short with a stroke or a point.
fn plain_word(text: &str, at: usize) -> Option<Token<'_>> {
    let bytes = text.as_bytes();
    let first = bytes.get(at).filter(|byte| byte.is_ascii_alphabetic())?;
    match bytes.get(at + 1) {
        Some(b'/') => return None,
        Some(b'.') if *first == b'o' => return None,
        _ => {}
    }
    let (mut end, mut hash, mut is_small) = (at, NO_LETTERS, true);
    while let Some(byte) = bytes.get(end).filter(|byte| byte.is_ascii_alphabetic()) {
        hash = with_byte(hash, byte.to_ascii_lowercase());
        is_small &= byte.is_ascii_lowercase();
        end += 1;
    }
    // Another letter goes on with the word, and so may what nobody sees.
    let goes_on =
        |byte: &u8| !byte.is_ascii() || byte.is_ascii_control() && !byte.is_ascii_whitespace();
    if bytes.get(end).is_some_and(goes_on) {
        return None;
    }
    let written = text.get(at..end)?;
    let key = match is_small {
        true => Cow::Borrowed(written),
        false => Cow::Owned(written.to_ascii_lowercase()),
    };
    Some(Token { kind: TokenKind::Word, hash, key, start: at, end })
}

/// A word that is written with digits for letters, and how long it is: `v3gan`, `gluten-fr33`.
fn with_digits(text: &str, at: usize, letter: char) -> Option<(&'static str, usize)> {
    /// What is written so to be overlooked.
    const MEANT: [&str; 14] = [
        "vegan", "milk", "free", "egg", "eggs", "gluten", "dairy", "nut", "nuts", "wheat",
        "lactose", "peanut", "soy", "frei",
    ];
    if !letter.is_ascii_alphabetic() {
        return None;
    }
    let is_inside = text[..at].chars().next_back().is_some_and(char::is_alphanumeric);
    let rest = &text[at..];
    let length = rest.find(|it: char| !it.is_ascii_alphanumeric()).unwrap_or(rest.len());
    let word = &rest[..length];
    if is_inside || length > 8 || !word.bytes().any(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let letter = |digit: char| match digit {
        '0' => 'o',
        '1' => 'i',
        '3' => 'e',
        '4' => 'a',
        '5' => 's',
        '7' => 't',
        '9' | '6' => 'g',
        other => other.to_ascii_lowercase(),
    };
    let read: String = word.chars().map(letter).collect();
    MEANT.into_iter().find(|meant| *meant == read).map(|meant| (meant, length))
}

/// How long a word is that begins here and is spelled letter by letter, with the same mark
/// between any two: `v.e.g.a.n`, `g-l-u-t-e-n`, `V E G A N`.
fn letter_by_letter(text: &str, at: usize, letter: char) -> Option<usize> {
    /// So many letters are no initials; with blanks between them, so many.
    const LEAST: usize = 3;
    const LEAST_APART: usize = 4;
    if !letter.is_alphabetic() {
        return None;
    }
    let mut rest = text[at + letter.len_utf8()..].chars();
    let mark = rest.next().filter(|mark| ".-*_·•~+ \u{a0}".contains(*mark))?;
    let is_inside = text[..at].chars().next_back().is_some_and(char::is_alphanumeric);
    if is_inside || mark == '+' && letter.is_lowercase() {
        return None;
    }
    let (mut count, mut length) = (1, letter.len_utf8());
    loop {
        let mut next = text[at + length..].chars();
        let (Some(between), Some(one)) = (next.next(), next.next()) else { break };
        let is_whole = !next.next().is_some_and(char::is_alphanumeric);
        if between != mark || !one.is_alphabetic() || !is_whole {
            break;
        }
        count += 1;
        length += between.len_utf8() + one.len_utf8();
    }
    let least = if matches!(mark, ' ' | '\u{a0}') { LEAST_APART } else { LEAST };
    (count >= least).then_some(length)
}

fn key_of(written: &str) -> Cow<'_, str> {
    match written.bytes().all(|byte| byte.is_ascii_lowercase()) {
        true => Cow::Borrowed(written),
        false => Cow::Owned(match written {
            _ if looks_latin(written) => latin(written),
            "-" | "–" | "—" | ".." => "–".into(),
            _ if written.starts_with(CROSSES) => CROSS.into(),
            "&" | "＆" | "+" => AND.into(),
            _ => key(written).as_str().to_owned(),
        }),
    }
}

/// What begins at a place, and how many bytes it has; nothing for blanks and the like.
fn token_at(text: &str, at: usize, letter: char, before: &[Token]) -> (Option<TokenKind>, usize) {
    let rest = &text[at..];
    let length_while =
        |wanted: fn(char) -> bool| rest.find(|letter: char| !wanted(letter)).unwrap_or(rest.len());
    let after_number = before
        .last()
        .is_some_and(|last| last.kind == TokenKind::Number || text[..at].ends_with(' '));
    match letter {
        '0'..='9' | '½' | '¼' | '¾' | '⅓' | '⅔' | '⅛' => {
            (Some(TokenKind::Number), numerals::number_length(rest))
        }
        '%' => (Some(TokenKind::Word), 1),
        '°' | 'º' => {
            let unit = rest[letter.len_utf8()..].trim_start_matches([' ', '\u{a0}', '\u{202f}']);
            let blanks = rest.len() - letter.len_utf8() - unit.len();
            let ends = !unit.chars().nth(1).is_some_and(char::is_alphabetic);
            match unit.starts_with(['C', 'F', 'c', 'f']) && ends {
                true if blanks == 0 => (Some(TokenKind::Word), letter.len_utf8() + 1),
                _ => (Some(TokenKind::Word), letter.len_utf8()),
            }
        }
        _ if shortened(rest) > 0 => (Some(TokenKind::Word), shortened(rest)),
        _ if letter.is_alphabetic() => (Some(TokenKind::Word), length_while(belongs_to_word)),
        '-' | '–' | '—' => {
            let next = rest[letter.len_utf8()..].trim_start();
            let ranges = after_number
                && before.last().is_some_and(|last| ends_amount(last))
                && next.starts_with(|letter: char| letter.is_ascii_digit());
            match (ranges, letter) {
                (true, _) => (Some(TokenKind::Word), letter.len_utf8()),
                // `Salt – 25 g`
                _ if begins_with_digit(next) && before.len() < 6 && is_first_stop(before) => {
                    (None, letter.len_utf8())
                }
                (false, '-') if !text[..at].ends_with(' ') => (None, 1),
                _ => (Some(TokenKind::Stop), letter.len_utf8()),
            }
        }
        '.' if rest.starts_with("..") && !rest.starts_with("...") => (Some(TokenKind::Word), 2),
        // `Hydration: 75 %` and `water (720 g)` say what the number is of.
        ':' | '(' | '=' if begins_with_digit(rest.get(1..).unwrap_or("")) => (None, 1),
        '.' | '!' | '?' | ';' | ':' | '=' | '(' | ')' | '…' | '[' | ']' | '"' | '“' | '”' | '«'
        | '»' | '/' => (Some(TokenKind::Stop), letter.len_utf8()),
        ',' => (Some(TokenKind::Comma), 1),
        // `milk ✗`: menus cross out what is not there.
        _ if CROSSES.contains(&letter) => (Some(TokenKind::Word), letter.len_utf8()),
        // `egg & dairy free`, `egg + dairy free`
        '&' | '＆' => (Some(TokenKind::Word), letter.len_utf8()),
        '+' if joins_words(text, at, before) => (Some(TokenKind::Word), 1),
        // What is pictured is named: `🥛🚫`.
        _ if PICTURES.contains(letter) => (Some(TokenKind::Word), letter.len_utf8()),
        _ if rest.starts_with(GAP) => (Some(TokenKind::Word), GAP.len()),
        _ => (None, letter.len_utf8()),
    }
}

/// How long a word is that is written short with a stroke: `w/o`, Spanish `s/ leche`,
/// German `o. Ei`.
fn shortened(rest: &str) -> usize {
    // German `o. Ei`
    let is_without = rest.strip_prefix("o.").is_some_and(|it| {
        it.is_empty() || it.strip_prefix(' ').is_some_and(|it| it.starts_with(char::is_uppercase))
    });
    if is_without {
        return 2;
    }
    if rest.as_bytes().get(1) != Some(&b'/') {
        return 0;
    }
    let is_end = |at: usize| !rest[at..].starts_with(char::is_alphabetic);
    let is_before_word = |at: usize| {
        let next = rest[at..].trim_start();
        next.is_empty() || next.starts_with(char::is_alphabetic)
    };
    let begins =
        |short: &str| rest.get(..short.len()).is_some_and(|head| head.eq_ignore_ascii_case(short));
    let whole =
        ["w/out", "w/o", "n/a"].into_iter().find(|short| begins(short) && is_end(short.len()));
    let open =
        || ["s/", "o/"].into_iter().find(|short| begins(short) && is_before_word(short.len()));
    whole.or_else(open).map_or(0, str::len)
}

/// A sign of menus whose letters stand apart: `N F`.
fn spelled_sign(text: &str, at: usize) -> Option<&'static str> {
    const SIGNS: [(&str, &str); 6] =
        [("G F", "gf"), ("D F", "df"), ("N F", "nf"), ("E F", "ef"), ("L F", "lf"), ("W F", "wf")];
    let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    let rest = text.get(at..)?;
    let (sign, key) = SIGNS.into_iter().find(|(sign, _)| rest.starts_with(sign))?;
    let is_whole =
        !is_letter(text[..at].chars().next_back()) && !is_letter(rest[sign.len()..].chars().next());
    is_whole.then_some(key)
}

/// Whether a sign stands between two words.
fn joins_words(text: &str, at: usize, before: &[Token]) -> bool {
    let is_after_word = before.last().is_some_and(|last| last.kind == TokenKind::Word);
    let next = text[at + 1..].trim_start_matches([' ', '\u{a0}']);
    is_after_word && next.starts_with(char::is_alphabetic)
}

/// A word that is one of a claim with a letter wrong: `vegn`, `glutin`. It is judged as what
/// was meant, as nobody reads it otherwise.
fn misspelt(word: &str) -> Option<&'static str> {
    const MEANT: [&str; 10] = [
        "vegan",
        "vegetarian",
        "vegetarisch",
        "gluten",
        "glutenfree",
        "glutenfrei",
        "lactose",
        "laktosefrei",
        "lactosefree",
        "glutine",
    ];
    /// Words of their own, and what is known already.
    const OTHERS: [&str; 23] = [
        "vega",
        "vegas",
        "vegans",
        "vegane",
        "vegana",
        "vegano",
        "vegani",
        "veganer",
        "végan",
        "vegetarians",
        "vegetariana",
        "vegetariano",
        "vegetariani",
        "vegetariane",
        "vegetarien",
        "lactase",
        "lactosa",
        "lactoses",
        "glutens",
        "glutenin",
        "gluten",
        "glutine",
        "glutines",
    ];
    let first = word.chars().next().filter(|first| ['v', 'g', 'l'].contains(first))?;
    // A German word has its endings, and so has one of what is meant by itself.
    let is_own = |meant: &str| word == meant || word.starts_with("vegetarisch");
    if OTHERS.contains(&word) || MEANT.into_iter().any(is_own) {
        return None;
    }
    MEANT.into_iter().find(|meant| meant.starts_with(first) && is_slip_of(word, meant))
}

/// Whether no sentence was ended yet, as in a line of a list.
fn is_first_stop(before: &[Token]) -> bool {
    !before.is_empty() && before.iter().all(|token| token.kind == TokenKind::Word)
}

fn begins_with_digit(text: &str) -> bool {
    text.trim_start().starts_with(|letter: char| letter.is_ascii_digit())
}

/// Whether a range may go on behind this: `3–4 h`, `3 h – 4 h`.
fn ends_amount(token: &Token) -> bool {
    token.kind == TokenKind::Number || matches!(token.key.as_ref(), "%" | "g" | "kg" | "h" | "°c")
}

/// What nobody sees between letters parts no word: `ve\u{ad}gan`.
fn belongs_to_word(letter: char) -> bool {
    letter.is_alphabetic() || is_mark_above(letter) || is_unseen_inside(letter)
}

fn is_unseen_inside(letter: char) -> bool {
    is_unseen(letter) && !letter.is_whitespace()
}

/// Whether a word has letters that are not Latin and may look so, or that nobody sees.
fn looks_latin(word: &str) -> bool {
    word.chars().any(|letter| match letter {
        '\u{370}'..='\u{52f}' | '\u{ff21}'..='\u{ff5a}' | '\u{1d400}'..='\u{1d6a3}' => true,
        _ => is_unseen_inside(letter),
    })
}

/// A word as it looks in Latin letters; as it is where it does not.
fn latin(word: &str) -> String {
    let seen: String = word.chars().filter(|letter| !is_unseen_inside(*letter)).collect();
    let key = key(&seen);
    let mut looks = crate::formula::readings(&key).into_iter();
    looks.find(|look| look.is_ascii()).map_or_else(|| key.to_string(), |look| look.to_string())
}

/// Marks that Unicode keeps apart from their letter.
fn is_mark_above(letter: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&letter)
}

/// The keys of words with blanks between them.
pub(super) fn joined(tokens: &[Token]) -> String {
    let mut joined = String::with_capacity(tokens.iter().map(|token| token.key.len() + 1).sum());
    for token in tokens {
        if !joined.is_empty() {
            joined.push(' ');
        }
        joined.push_str(&token.key);
    }
    joined
}

/// By what a word is told from others.
pub(super) fn hash_of(word: &str) -> u32 {
    hash_of_bytes(word.as_bytes())
}

/// The same of its letters as bytes.
pub(super) fn hash_of_bytes(word: &[u8]) -> u32 {
    word.iter().fold(NO_LETTERS, |hash, byte| with_byte(hash, *byte))
}

/// The hash of no letters.
pub(super) const NO_LETTERS: u32 = 0x811c_9dc5;

/// The hash of some letters and one more byte after them (FNV-1a: words are short).
pub(super) const fn with_byte(hash: u32, byte: u8) -> u32 {
    (hash ^ byte as u32).wrapping_mul(0x0100_0193)
}
