//! A letter that leaves nothing to see, or turns the direction of what follows.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::{SourceId, Span, is_no_letter, is_unseen, turns};
use rustc_hash::FxHashSet;
use std::borrow::Cow;
use std::cell::LazyCell;

/// `unseen-letter`, a warning about what a file says.
pub const RULE: Rule = Rule {
    name: "unseen-letter",
    level: Level::Warning,
    group: Group::Parse,
    page: include_str!("unseen_letter.md"),
};

/// One finding for each kind of letter in a text that nobody can see, at its first place.
/// What other findings point at has been told.
pub fn findings(source: SourceId, text: &str, told: &[Finding]) -> Vec<Finding> {
    let mut seen: Vec<(char, usize, usize)> = Vec::new();
    for (at, letter) in unseen_letters(text).chain(lone_returns(text)) {
        match seen.iter_mut().find(|(known, ..)| *known == letter) {
            Some((_, _, count)) => *count += 1,
            None => seen.push((letter, at, 1)),
        }
    }
    let is_told = |at: usize| told.iter().any(|finding| finding.span().range().contains(&at));
    let new = seen.into_iter().filter(|(_, at, _)| !is_told(*at));
    new.map(|(letter, at, count)| finding(source, letter, at, count)).collect()
}

/// The carriage returns that no line feed follows: many editors end a line there, and what
/// follows would be read as one with what stands before, in a comment as part of it.
fn lone_returns(text: &str) -> impl Iterator<Item = (usize, char)> {
    let is_lone = move |at: &usize| text.as_bytes().get(at + 1) != Some(&b'\n');
    text.match_indices('\r').map(|(at, _)| at).filter(is_lone).map(|at| (at, '\r'))
}

/// The letters of a text that nobody sees and that its script does not need, with their places.
pub fn unseen_letters(text: &str) -> impl Iterator<Item = (usize, char)> {
    let needs_marks = LazyCell::new(|| rare_letters(text).any(|(_, letter)| wants_marks(letter)));
    rare_letters(text).filter(move |(at, letter)| {
        let begins = *at == 0 && *letter == '\u{feff}';
        let is_mark = matches!(letter, '\u{200c}'..='\u{200f}' | '\u{61c}') && *needs_marks;
        // A sign may say whether it is a picture: `⚠️`.
        let is_of_sign = matches!(letter, '\u{fe0e}' | '\u{fe0f}')
            && text[..*at]
                .chars()
                .next_back()
                .is_some_and(|it| !it.is_alphabetic() && !it.is_whitespace());
        is_unseen(*letter) && !begins && !is_mark && !is_of_sign
    })
}

/// A text without letters that nobody sees and that its script does not need; what ends a line
/// without being seen is a blank.
pub fn seen(text: &str) -> Cow<'_, str> {
    let is_odd = |text: &str| unseen_letters(text).next().is_some();
    if !is_odd(text) && !text.chars().any(is_no_letter) {
        return Cow::Borrowed(text);
    }
    let odd: FxHashSet<usize> = unseen_letters(text).map(|(at, _)| at).collect();
    let letters = text.char_indices().filter_map(|(at, letter)| match letter {
        '\u{85}' | '\u{2028}' | '\u{2029}' => Some(' '),
        letter if odd.contains(&at) || is_no_letter(letter) => None,
        letter => Some(letter),
    });
    Cow::Owned(letters.collect())
}

/// What is wrong with such a letter, and whether it makes a text look different from what it says:
/// `U+202E, a right-to-left override, makes a text look different from what it says`.
pub fn told(letter: char) -> (String, bool) {
    let (code, name) = (format!("U+{:04X}", u32::from(letter)), name_of(letter));
    let deceives = turns(letter);
    let told = match deceives {
        true => format!("{code}, {name}, makes a text look different from what it says"),
        false => format!("{code}, {name}, is a letter that nobody sees"),
    };
    (told, deceives)
}

/// The letters of a text that most files have few of, with their places.
fn rare_letters(text: &str) -> impl Iterator<Item = (usize, char)> {
    // Asked for many bytes at once, since whole files have none.
    const BYTES: usize = 64;
    let parts = text.as_bytes().chunks(BYTES).enumerate();
    let parts = parts.filter(|(_, part)| !part.iter().fold(true, |all, one| all & is_plain(*one)));
    let rare = parts.flat_map(|(part, bytes)| {
        let rare = bytes.iter().enumerate().filter(|(_, byte)| !is_plain(**byte));
        rare.map(move |(at, _)| part * BYTES + at)
    });
    rare.filter_map(|at| Some((at, text.get(at..)?.chars().next()?)))
}

/// Whether a byte is a letter that anybody sees, or parts words and lines.
fn is_plain(byte: u8) -> bool {
    matches!(byte, b' '..=b'~' | b'\n' | b'\r' | b'\t')
}

/// Scripts that are joined or run from right to left need marks that nobody sees, and so do
/// pictures that are joined.
fn wants_marks(letter: char) -> bool {
    matches!(letter, '\u{590}'..='\u{1dff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}')
        && letter.is_alphabetic()
        || matches!(letter, '\u{2600}'..='\u{27bf}' | '\u{1f000}'..='\u{1faff}')
}

fn finding(source: SourceId, letter: char, at: usize, count: usize) -> Finding {
    let end = at + letter.len_utf8();
    let place = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
    let span = Span::new(source, place(at), place(end));
    let (message, deceives) = match may_end_a_line(letter) {
        true => {
            let (code, name) = (format!("U+{:04X}", u32::from(letter)), name_of(letter));
            (format!("{code}, {name}, ends a line in many editors, and none in a formula"), true)
        }
        false => told(letter),
    };
    let finding = Finding::new(&RULE, span, message);
    let finding = if deceives { finding.level(Level::Error) } else { finding };
    let finding = match may_end_a_line(letter) {
        true => finding.help("end the line there with the Enter key, or delete the letter"),
        false => finding.help("delete it; it often comes along with copied text"),
    };
    match count {
        1 if may_end_a_line(letter) => finding.repair(span, "\n", false),
        1 => finding.repair(span, "", false),
        count => finding.note(format!("it is in this file {count} times")),
    }
}

/// Whether some editor begins another line after it: what stands there may then be part of a
/// comment that ends before it for whoever looks.
fn may_end_a_line(letter: char) -> bool {
    matches!(letter, '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}')
}

/// What Unicode calls it, in lower case.
fn name_of(letter: char) -> &'static str {
    match letter {
        '\u{ad}' => "a soft hyphen",
        '\r' => "a carriage return without a line feed",
        '\u{b}' => "a vertical tab",
        '\u{c}' => "a form feed",
        '\u{85}' => "a next line",
        '\u{fe00}'..='\u{fe0f}' => "a variation selector",
        '\u{115f}' | '\u{1160}' | '\u{3164}' | '\u{ffa0}' => "a filler",
        '\u{200b}' => "a space without width",
        '\u{200c}' => "a zero width non-joiner",
        '\u{200d}' => "a zero width joiner",
        '\u{200e}' | '\u{200f}' | '\u{61c}' => "a mark of direction",
        '\u{2028}' | '\u{2029}' => "a line separator",
        '\u{202a}' | '\u{202b}' => "an embedding of another direction",
        '\u{202c}' | '\u{2069}' => "the end of another direction",
        '\u{202d}' => "a left-to-right override",
        '\u{202e}' => "a right-to-left override",
        '\u{2066}'..='\u{2068}' => "an isolate of another direction",
        '\u{2060}' => "a word joiner",
        '\u{feff}' => "a byte order mark",
        '\u{e0000}'..='\u{e007f}' => "a tag",
        _ if letter.is_control() => "a control character",
        _ => "a format character",
    }
}
