//! The tokens of a statement.

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// One word of a name or a statement.
    Word,
    /// Digits, without the unit.
    Number,
    /// Letters or `%` that touch the number before them.
    Unit,
    Date,
    /// A text in quotes; the span holds the quotes, the end may be missing.
    Text {
        closed: bool,
    },
    Comma,
    /// `..`
    Range,
    /// Any other single character.
    Sign,
    TooDeep,
}

#[derive(Clone, Copy, Debug)]
pub struct Token {
    pub kind: TokenKind,
    pub start: u32,
    pub end: u32,
}

/// Files above four gigabytes are refused before they get here.
pub fn at(byte: usize) -> u32 {
    u32::try_from(byte).unwrap_or(u32::MAX)
}
