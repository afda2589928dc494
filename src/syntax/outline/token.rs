//! The tokens of a statement.

use crate::syntax::phrases::Start;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// One word of a name or a statement.
    Word,
    /// Digits, without the unit.
    Number,
    /// Letters or `%` that touch the number before them.
    Unit,
    /// A day: `2026-12-05`.
    Date,
    /// A text in quotes; the span holds the quotes, the end may be missing.
    Text {
        /// Whether its closing quote was found.
        closed: bool,
    },
    /// What parts names in a list.
    Comma,
    /// `..`
    Range,
    /// Any other single character.
    Sign,
    /// A `{` that is nested too deep, with all that it opens.
    TooDeep,
}

/// The smallest piece of a statement that means something.
#[derive(Clone, Copy, Debug)]
pub struct Token {
    /// What it is.
    pub kind: TokenKind,
    /// How it begins, where it is a word.
    pub begins: Start,
    /// Byte of its first character.
    pub start: u32,
    /// Byte after its last character.
    pub end: u32,
}

/// Files above four gigabytes are refused before they get here.
pub fn at(byte: usize) -> u32 {
    u32::try_from(byte).unwrap_or(u32::MAX)
}
