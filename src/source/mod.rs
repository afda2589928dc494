//! Source texts and places in them.
//!
//! Enters: the bytes of files, read by somebody else. Leaves: numbered texts, spans
//! in bytes, lines and columns. Absent on purpose: disks and clocks, and any idea of
//! what the text means.

mod cells;
mod letters;
mod names;
mod packed;
mod visible;

pub use cells::cells;
pub use letters::unaccented;
pub use names::NameIndex;
pub use packed::{Packer, Unpacker, is_fresh, stamp_of};
pub use visible::{
    Shown, is_blank, is_no_letter, is_unseen, markup, one_line, turns, unbroken, unseen_by_number,
    visible,
};

use std::hash::{Hash, Hasher};
use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// The number of a source text within one run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SourceId(pub u32);

impl SourceId {
    /// The built-in stores, which come before every file of a user.
    pub const INGREDIENTS: Self = Self(0);
    /// The store of cultures.
    pub const CULTURES: Self = Self(1);
    /// The store of styles.
    pub const STYLES: Self = Self(2);
    /// The store of bounds.
    pub const LIMITS: Self = Self(3);
    /// What the command line asks a formula to make; the files of a user come after it.
    pub const ASKED: Self = Self(4);

    /// Whether the text is one of the built-in stores.
    pub fn is_built_in(self) -> bool {
        self.0 < Self::ASKED.0
    }
}

/// Bytes `start..end` of one source.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    /// The text it lies in.
    pub source: SourceId,
    /// The first byte.
    pub start: u32,
    /// The byte after the last.
    pub end: u32,
}

/// A place is one number of 128 bits, so that a hasher can leave places out.
impl Hash for Span {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let place = u64::from(self.start) << 32 | u64::from(self.end);
        state.write_u128(u128::from(self.source.0) << 64 | u128::from(place));
    }
}

impl Span {
    /// No place in any text, for findings about files and folders.
    pub const NOWHERE: Self = Self { source: SourceId(u32::MAX), start: 0, end: 0 };

    /// Bytes `start..end`; one that would end before it starts is empty.
    pub fn new(source: SourceId, start: u32, end: u32) -> Self {
        Self { source, start, end: end.max(start) }
    }

    /// From the start of this span to the end of `other`, which lies in the same source.
    pub fn to(self, other: Self) -> Self {
        Self { end: other.end.max(self.end), ..self }
    }

    /// The empty span right behind this one.
    pub fn after(self) -> Self {
        Self { start: self.end, ..self }
    }

    /// The bytes as a range of indices.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// One source text and the name to show for it.
#[derive(Clone, Debug)]
pub struct Source {
    /// The path or the store, as it is shown to people.
    pub name: Arc<str>,
    /// All of it, in UTF-8.
    pub text: Arc<str>,
    /// Where each line starts, found when it is asked for the first time.
    lines: OnceLock<Vec<usize>>,
}

impl Source {
    /// A text with the name that findings call it by: a path as it was given, or a store's name.
    pub fn new(name: &str, text: Arc<str>) -> Self {
        Self { name: name.into(), text, lines: OnceLock::new() }
    }

    fn lines(&self) -> &[usize] {
        self.lines.get_or_init(|| {
            let ends = self.text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
            [0].into_iter().chain(ends.map(|(at, _)| at + 1)).collect()
        })
    }

    /// The line that a byte is in, counted from nought.
    pub fn line_of(&self, byte: usize) -> usize {
        self.lines().partition_point(|start| *start <= byte).saturating_sub(1)
    }

    /// The first byte of a line, counted from nought; after the last line, the end of the text.
    pub fn line_start(&self, line: usize) -> usize {
        self.lines().get(line).copied().unwrap_or(self.text.len())
    }

    /// The text under a span; empty where the span is none of this source's.
    pub fn under(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }

    /// Line and column of a byte, both counted from one, the column in characters.
    pub fn line_column(&self, byte: u32) -> (usize, usize) {
        let byte = (byte as usize).min(self.text.len());
        let line = self.line_of(byte);
        let before = self.text.get(self.line_start(line)..byte).unwrap_or("");
        (line + 1, before.chars().count() + 1)
    }
}

/// All source texts of one run, by number.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    all: Vec<Source>,
}

impl Sources {
    /// Adds a text and gives its number.
    pub fn add(&mut self, name: &str, text: Arc<str>) -> SourceId {
        let id = SourceId(u32::try_from(self.all.len()).unwrap_or(u32::MAX));
        self.all.push(Source::new(name, text));
        id
    }

    /// Puts another text in the place of one.
    pub fn replace(&mut self, id: SourceId, text: &str) {
        if let Some(source) = self.all.get_mut(id.0 as usize) {
            *source = Source::new(&source.name.clone(), text.into());
        }
    }

    /// The text of that number; nothing where there is none.
    pub fn get(&self, id: SourceId) -> Option<&Source> {
        self.all.get(id.0 as usize)
    }

    /// `file:line` of a span, for a sentence.
    pub fn place(&self, span: Span) -> String {
        match self.get(span.source) {
            Some(source) => format!("{}:{}", source.name, source.line_column(span.start).0),
            None => String::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_not_bytes() {
        let source = Source::new("a", "é🍞\tx\ny".into());
        let byte = source.text.find('x').expect("an x") as u32;
        assert_eq!(source.line_column(byte), (1, 4));
        assert_eq!(source.line_column(byte + 2), (2, 1));
    }
}
