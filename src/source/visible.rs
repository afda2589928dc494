//! Letters that a terminal would obey instead of showing, made visible.

use std::borrow::Cow;
use std::fmt::Write;
use unicode_normalization::UnicodeNormalization;

/// Whether a terminal, or whoever lays out a line, would obey the letter: the controls of
/// Unicode's class Cc, and the marks that turn the direction of what follows (UAX 9,
/// explicit embeddings, overrides and isolates).
fn is_obeyed(letter: char) -> bool {
    turns(letter) || letter.is_control() && !matches!(letter, '\n' | '\t')
}

/// Whether a letter turns the direction of what follows: explicit embeddings, overrides and
/// isolates (UAX 9), which no plain text needs.
pub fn turns(letter: char) -> bool {
    matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Whether a letter parts words: Unicode's white space, and what has no width (U+200B,
/// U+2060, U+FEFF), which nobody sees in a name.
pub fn is_blank(letter: char) -> bool {
    letter.is_whitespace() || matches!(letter, '\u{200b}' | '\u{2060}' | '\u{feff}')
}

/// Whether a letter leaves nothing to see: controls, what has no width, marks of direction,
/// the soft hyphen, fillers and selectors of a variant (what Unicode 16.0 calls
/// `Default_Ignorable_Code_Point`, and the format characters of its class Cf that stand alone).
pub fn is_unseen(letter: char) -> bool {
    let is_unseen = matches!(
        letter,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
            | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
            | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' | '\u{1bca0}'..='\u{1bca3}'
            | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}'
    );
    is_unseen || letter.is_control()
}

/// Whether a letter ends a line for one reader or another.
fn ends_a_line(letter: char) -> bool {
    matches!(letter, '\n' | '\u{2028}' | '\u{2029}')
}

/// A text for a person, in which a letter that a terminal would obey stands as `\u{1b}`.
/// Line ends stay, those of two letters too.
pub fn visible(text: &str) -> Cow<'_, str> {
    match text.chars().any(is_obeyed) {
        true => Cow::Owned(Shown::new(text).text),
        false => Cow::Borrowed(text),
    }
}

/// The same in one line, whatever the text holds.
pub fn one_line(text: &str) -> Cow<'_, str> {
    let is_odd = |letter: char| is_obeyed(letter) || ends_a_line(letter) || letter == '\t';
    if !text.chars().any(is_odd) {
        return Cow::Borrowed(text);
    }
    let mut line = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        match is_odd(letter) {
            true => line.extend(letter.escape_unicode()),
            false => line.push(letter),
        }
    }
    Cow::Owned(line)
}

/// Whether a number is kept for programs and is no letter at all (Unicode's noncharacters).
pub fn is_no_letter(letter: char) -> bool {
    u32::from(letter) & 0xfffe == 0xfffe || matches!(letter, '\u{fdd0}'..='\u{fdef}')
}

/// JSON with every letter that nobody sees, or that a terminal would obey, by its number: programs
/// read the same.
pub fn unseen_by_number(text: String) -> String {
    let is_odd = |letter: char| {
        !matches!(letter, '\n' | '\t') && (is_unseen(letter) || is_no_letter(letter))
    };
    if !text.chars().any(is_odd) {
        return text;
    }
    let mut written = String::with_capacity(text.len() + 16);
    let mut units = [0; 2];
    for letter in text.chars() {
        match is_odd(letter) {
            false => written.push(letter),
            true => letter.encode_utf16(&mut units).iter().for_each(|unit| {
                // Writing to a string can't fail.
                let _ = write!(written, "\\u{unit:04x}");
            }),
        }
    }
    written
}

/// A text of markup without letters that no XML may hold or that a terminal would obey, each of
/// which becomes the sign for what can't be shown.
pub fn markup(text: String) -> String {
    let is_odd = |letter: char| {
        letter.is_control() && !matches!(letter, '\n' | '\r' | '\t')
            || matches!(letter, '\u{fffe}' | '\u{ffff}')
    };
    match text.chars().any(is_odd) {
        true => text.chars().map(|it| if is_odd(it) { '\u{fffd}' } else { it }).collect(),
        false => text,
    }
}

/// A name or a title in one line: line ends and other blanks in it as one space each.
pub fn unbroken(text: &str) -> String {
    let joined = text.split(is_blank).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
    if joined.is_ascii() { joined } else { joined.nfc().collect() }
}

/// A text with its letters made visible, and where each place of it is now.
pub struct Shown {
    /// The text as it can be shown.
    pub text: String,
    /// Bytes of the old text after which places lie further on, and by how much.
    moved: Vec<(usize, usize)>,
}

impl Shown {
    /// Makes every letter of a text visible.
    pub fn new(text: &str) -> Self {
        let mut shown = Self { text: String::with_capacity(text.len() + 16), moved: Vec::new() };
        let mut letters = text.char_indices().peekable();
        while let Some((at, letter)) = letters.next() {
            let ends = letter == '\r' && letters.peek().is_some_and(|(_, next)| *next == '\n');
            if ends || !is_obeyed(letter) {
                shown.text.push(letter);
                continue;
            }
            // Writing to a string can't fail.
            let _ = write!(shown.text, "{}", letter.escape_unicode());
            let behind = at + letter.len_utf8();
            shown.moved.push((behind, shown.text.len() - behind));
        }
        shown
    }

    /// The place of a byte of the old text in the new one.
    pub fn place(&self, byte: usize) -> usize {
        let moved = self.moved.partition_point(|(behind, _)| *behind <= byte);
        byte + moved.checked_sub(1).map_or(0, |last| self.moved[last].1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_would_obey_is_shown() {
        assert_eq!(visible("rye\u{1b}[2J bread"), "rye\\u{1b}[2J bread");
        assert_eq!(visible("\u{202e}rye\u{7}\u{9b}"), "\\u{202e}rye\\u{7}\\u{9b}");
        for plain in ["two\nlines\tof é", "\r\n", "a\r\nb", "שלום", "🥖"] {
            assert_eq!(visible(plain), plain, "{plain:?}");
        }
        assert_eq!(visible("\r"), "\\u{d}");
        assert_eq!(visible("a\rb\r\n"), "a\\u{d}b\r\n");
    }

    #[test]
    fn one_line_is_one_line() {
        let odd = "a\nb\r\nc\u{2028}d\u{85}e\tf\u{1b}";
        let line = one_line(odd);
        assert_eq!(line, "a\\u{a}b\\u{d}\\u{a}c\\u{2028}d\\u{85}e\\u{9}f\\u{1b}");
        assert_eq!(one_line("plain"), "plain");
    }

    #[test]
    fn every_place_is_found_again() {
        let text = "a\u{1b}é\u{202e}b\r\nc\u{7}";
        let shown = Shown::new(text);
        for (at, letter) in text.char_indices().filter(|(_, letter)| !is_obeyed(*letter)) {
            assert!(shown.text[shown.place(at)..].starts_with(letter), "{at}");
        }
        assert_eq!(shown.place(text.len()), shown.text.len());
        assert_eq!(shown.place(0), 0);
    }
}
