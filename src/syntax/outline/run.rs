//! Words, numbers with their units, and signs in a run of plain characters.
//!
//! A character at a time and never back: what a run is made of shows at its first
//! character.

use super::token::{TokenKind, at};
use pest::unicode::{ALPHABETIC, MARK};

/// Calls `add` with every token of a run and its first and last place in it.
pub fn split(run: &str, mut add: impl FnMut(TokenKind, u32, u32)) {
    let mut start = 0;
    // Whether the last token was a number, so that a word is its unit.
    let mut counted = false;
    while let Some(&byte) = run.as_bytes().get(start) {
        if byte == b' ' {
            start += 1;
            continue;
        }
        let rest = run.get(start..).unwrap_or_default();
        let was_counted = std::mem::take(&mut counted);
        let mut token = |kind, from, to| {
            counted = kind == TokenKind::Number;
            add(kind, at(start + from), at(start + to));
        };
        start += match byte {
            b'a'..=b'z' | b'A'..=b'Z' => {
                plain(pair_word(rest, was_counted), TokenKind::Word, token)
            }
            b'0'..=b'9' => number(rest, token),
            b',' => plain(1, TokenKind::Comma, token),
            b'.' if rest.starts_with("..") => plain(2, TokenKind::Range, token),
            // `.5 kg`
            b'.' if begins_decimal(run, start) => number(rest, token),
            ..0x80 => plain(1, TokenKind::Sign, token),
            _ => {
                let first = rest.chars().next().unwrap_or_default();
                match first {
                    _ if is_letter(first) => plain(word(rest), TokenKind::Word, token),
                    _ if is_vulgar(first) => number(rest, token),
                    _ => plain(first.len_utf8(), TokenKind::Sign, &mut token),
                }
            }
        };
    }
}

/// Whether a point stands here by itself, with a digit right behind it.
fn begins_decimal(run: &str, at: usize) -> bool {
    let bytes = run.as_bytes();
    let is_apart =
        at.checked_sub(1).and_then(|before| bytes.get(before)).is_none_or(|it| *it == b' ');
    is_apart && bytes.get(at + 1).is_some_and(u8::is_ascii_digit)
}

/// Adds one token of so many bytes.
fn plain(length: usize, kind: TokenKind, mut add: impl FnMut(TokenKind, usize, usize)) -> usize {
    add(kind, 0, length);
    length
}

fn is_letter(c: char) -> bool {
    if c.is_ascii() { c.is_ascii_alphabetic() } else { ALPHABETIC(c) || MARK(c) }
}

fn is_vulgar(c: char) -> bool {
    matches!(c, '¼'..='¾' | '⅓'..='⅞')
}

/// The bytes of the characters at the front that are of a kind.
fn front(text: &str, ascii: impl Fn(u8) -> bool, other: impl Fn(char) -> bool) -> usize {
    let bytes = text.as_bytes();
    let mut end = 0;
    loop {
        match bytes.get(end) {
            Some(&byte) if byte.is_ascii() => match ascii(byte) {
                true => end += 1,
                false => return end,
            },
            None => return end,
            Some(_) => match text.get(end..).and_then(|rest| rest.chars().next()) {
                Some(c) if other(c) => end += c.len_utf8(),
                _ => return end,
            },
        }
    }
}

/// The bytes of the word at the front. Where a name of several words ends is for the
/// reader to say.
fn word(text: &str) -> usize {
    let ascii = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'\'' | b'/');
    front(text, ascii, |c| c == '’' || is_letter(c))
}

/// The bytes of the word at the front, but of `250 g/9 oz` or `200C fan/gas mark 6` only
/// those before the stroke, which stands between two amounts.
fn pair_word(text: &str, is_unit: bool) -> usize {
    let whole = word(text);
    let Some(stroke) = text.get(..whole).and_then(|word| word.find('/')) else { return whole };
    let digit = text.as_bytes().get(stroke + 1).is_some_and(u8::is_ascii_digit);
    let is_fan = text.get(..stroke).is_some_and(|word| word.eq_ignore_ascii_case("fan"));
    if is_fan || (is_unit && digit) { stroke } else { whole }
}

/// Adds a number and the unit that touches it: `330g`, `80%`, `25°C`, `1/3`, `07:30`; or a
/// date.
fn number(text: &str, mut add: impl FnMut(TokenKind, usize, usize)) -> usize {
    let digits = digits(text);
    let rest = text.get(digits..).unwrap_or_default();
    let unit = unit(rest);
    if unit > 0 {
        add(TokenKind::Number, 0, digits);
        add(TokenKind::Unit, digits, digits + unit);
        return digits + unit;
    }
    if !is_end_of_date(rest.as_bytes()) {
        add(TokenKind::Number, 0, digits);
        return digits;
    }
    let end = digits + END_OF_DATE;
    if digits == 4 && text.bytes().take(4).all(|byte| byte.is_ascii_digit()) {
        add(TokenKind::Date, 0, end);
        return end;
    }
    // What does not begin with a year is numbers with dashes between.
    add(TokenKind::Number, 0, digits);
    for dash in [digits, digits + 3] {
        add(TokenKind::Sign, dash, dash + 1);
        add(TokenKind::Number, dash + 1, dash + 3);
    }
    end
}

/// The bytes of the digits at the front, with what stands between two of them.
fn digits(text: &str) -> usize {
    let is_digit = |place: usize| text.as_bytes().get(place).is_some_and(u8::is_ascii_digit);
    let mut end = 0;
    loop {
        end += front(text.get(end..).unwrap_or_default(), |byte| byte.is_ascii_digit(), is_vulgar);
        let between = match text.get(end..).and_then(|rest| rest.chars().next()) {
            Some(c @ ('.' | '/' | '⁄' | ':' | ',')) => c.len_utf8(),
            _ => return end,
        };
        if !is_digit(end + between) {
            return end;
        }
        end += between;
    }
}

/// The bytes of the unit at the front; none where there is no unit.
fn unit(text: &str) -> usize {
    if text.starts_with('%') {
        return 1;
    }
    if text.starts_with("fl-oz") {
        return "fl-oz".len();
    }
    if let Some(behind) = text.strip_prefix('°') {
        let letter = behind.strip_prefix(' ').unwrap_or(behind);
        // `°C`, but nothing of `° loaves`.
        let mut letters = letter.chars();
        let (first, second) = (letters.next(), letters.next());
        return match first {
            Some(c) if is_letter(c) && !second.is_some_and(is_letter) => {
                text.len() - letter.len() + c.len_utf8()
            }
            _ => 0,
        };
    }
    front(text, |byte| byte.is_ascii_alphabetic(), is_letter)
}

/// The bytes of `-12-05`.
const END_OF_DATE: usize = 6;

fn is_end_of_date(bytes: &[u8]) -> bool {
    let [dash, ten, one, other_dash, other_ten, other_one, ..] = bytes else { return false };
    [dash, other_dash].iter().all(|byte| **byte == b'-')
        && [ten, one, other_ten, other_one].iter().all(|byte| byte.is_ascii_digit())
}
