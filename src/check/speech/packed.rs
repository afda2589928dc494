//! The tables of words as they are packed (see [`crate::source::Packer`]): each language,
//! its words of denial, and all languages at once.

use super::phrases::{Phrases, Tag, pack_tags, unpack_tags};
use super::{DENIALS, LANGUAGES, Language, TABLES, foods, named};
use crate::source::{Packer, Unpacker, is_fresh, stamp_of};

static PACKED: &[u8] = include_bytes!("words.packed");

const STAMP: u64 = stamp_of(&[
    DENIALS,
    foods::FOODS,
    named::NAMED,
    TABLES[0],
    TABLES[1],
    TABLES[2],
    TABLES[3],
    TABLES[4],
]);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

/// A table of words in the packed file.
#[derive(Clone, Copy)]
pub(super) enum Table {
    /// Of the language of a number.
    Language(usize),
    /// Of the words of denial of the language of a number.
    Denying(usize),
    /// Of all languages at once.
    All,
}

/// Every table, in the order of the file.
fn tables() -> impl Iterator<Item = Table> {
    let languages = (0..LANGUAGES.len()).map(Table::Language);
    languages.chain((0..LANGUAGES.len()).map(Table::Denying)).chain([Table::All])
}

impl Table {
    /// What it holds.
    pub(super) fn language(self) -> Language {
        match IS_FRESH {
            true => self.unpacked(),
            false => self.read(),
        }
    }

    /// As people's tables have it.
    fn read(self) -> Language {
        match self {
            Self::Language(index) => Language::read(index),
            Self::Denying(index) => Language::denying(index),
            Self::All => Language::read_all(),
        }
    }

    fn unpacked(self) -> Language {
        let (place, code) = match self {
            Self::Language(index) => (index, LANGUAGES[index]),
            Self::Denying(index) => (LANGUAGES.len() + index, LANGUAGES[index]),
            Self::All => (2 * LANGUAGES.len(), ""),
        };
        let mut part = Unpacker::new(PACKED).part(place);
        Language {
            code,
            phrases: Phrases::unpack(&mut part),
            endings: unpack_endings(&mut part),
            named: Phrases::unpack(&mut part),
            named_endings: unpack_endings(&mut part),
        }
    }
}

fn pack(language: &Language, packer: &mut Packer) {
    language.phrases.pack(packer);
    pack_endings(&language.endings, packer);
    language.named.pack(packer);
    pack_endings(&language.named_endings, packer);
}

fn pack_endings(endings: &[(String, Tag)], packer: &mut Packer) {
    let words: Vec<&str> = endings.iter().map(|(ending, _)| ending.as_str()).collect();
    packer.text(&words.join("\n"));
    pack_tags(endings.iter().map(|(_, tag)| tag), packer);
}

fn unpack_endings(unpacker: &mut Unpacker) -> Vec<(String, Tag)> {
    let words = unpacker.text().lines().map(str::to_owned);
    words.zip(unpack_tags(unpacker)).collect()
}

/// What the packed file has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed() -> Vec<u8> {
    packed_by(Table::read)
}

fn packed_by(language: impl Fn(Table) -> Language) -> Vec<u8> {
    let mut packer = Packer::new(STAMP);
    for table in tables() {
        packer.part(|part| pack(&language(table), part));
    }
    packer.packed()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nothing of the file is lost when it is unpacked.
    #[test]
    fn what_is_unpacked_packs_to_the_same() {
        assert!(IS_FRESH, "stale; see tests/all/packed.rs");
        assert!(packed_by(Table::unpacked) == PACKED, "other tables");
        assert!(packed() == PACKED, "stale; see tests/all/packed.rs");
    }
}
