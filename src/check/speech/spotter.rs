//! What tells quickly that nothing is denied: where no phrase of denials begins, in whatever
//! language.

use super::tokens::{Token, hash_of, hash_of_bytes, tokens};
use super::{DENIAL_ROWS, DENIALS, contractions, phrases_in, unaccented};
use crate::source::{Packer, Unpacker, stamp_of};

/// Phrases of rows of denials in every language, to tell quickly where none begins.
pub struct Spotter {
    /// The hashes of the words of all phrases, one phrase after the other.
    words: Vec<u32>,
    phrases: Vec<SpottedPhrase>,
    /// By the hash of a first word: one more than the place of the phrase that was put there
    /// last. As many as a power of two.
    heads: Vec<u32>,
}

/// A phrase, and what it is.
struct SpottedPhrase {
    /// Of its words among all words.
    start: u32,
    end: u32,
    /// The number of its group.
    group: u8,
    /// The bits of its languages.
    languages: u8,
    /// One more than the place of another phrase that falls to the same head.
    next: u32,
}

/// For each of a few groups of rows, the [`LANGUAGES`](super::LANGUAGES) in which a phrase of
/// them was found, a bit for each.
pub type Spotted = [u8; 6];

/// A few groups of rows of denials.
pub type Groups<'g> = [&'g [&'g str]; 6];

impl Spotter {
    /// Of all phrases of some groups of rows.
    pub fn of(groups: &Groups) -> Self {
        let mut all = Self::empty();
        for (head, columns) in DENIAL_ROWS.iter() {
            let Some(group) = groups.iter().position(|rows| rows.contains(head)) else { continue };
            for (index, column) in columns.iter().enumerate() {
                for phrase in phrases_in(column) {
                    all.learn(phrase, group, index);
                }
            }
        }
        all
    }

    fn empty() -> Self {
        const HEADS: usize = 1 << 13;
        Self { words: Vec::new(), phrases: Vec::new(), heads: vec![0; HEADS] }
    }

    /// Learns a phrase and what it becomes before an article.
    fn learn(&mut self, phrase: &str, group: usize, language: usize) {
        let (group, languages) = (group as u8, 1 << language);
        let start = self.words.len();
        push_hashes(phrase, &mut self.words);
        self.put(start, self.words.len(), group, languages);
        for plain in unaccented(phrase) {
            let start = self.words.len();
            push_hashes(&plain, &mut self.words);
            self.put(start, self.words.len(), group, languages);
        }
        for (head, form) in contractions(phrase, language) {
            let start = self.words.len();
            push_hashes(head, &mut self.words);
            self.words.push(hash_of(form));
            self.put(start, self.words.len(), group, languages);
        }
    }

    /// Puts words where they are looked for.
    fn put(&mut self, start: usize, end: usize, group: u8, languages: u8) {
        let Some(first) = self.words.get(start) else { return };
        let head = *first as usize % self.heads.len();
        let number = self.phrases.len() as u32 + 1;
        let next = std::mem::replace(&mut self.heads[head], number);
        let (start, end) = (start as u32, end as u32);
        self.phrases.push(SpottedPhrase { start, end, group, languages, next });
    }

    /// The phrases that begin at a word.
    pub fn at(&self, tokens: &[Token], at: usize) -> Spotted {
        let mut all = Spotted::default();
        let Some(first) = tokens.get(at) else { return all };
        let mut number = self.heads[first.hash as usize % self.heads.len()] as usize;
        while let Some(phrase) = number.checked_sub(1).and_then(|at| self.phrases.get(at)) {
            let words = &self.words[phrase.start as usize..phrase.end as usize];
            let here = tokens.get(at..at + words.len()).unwrap_or_default();
            let is_here = here.len() == words.len()
                && here.iter().zip(words).all(|(token, hash)| token.hash == *hash);
            if is_here {
                all[usize::from(phrase.group)] |= phrase.languages;
            }
            number = phrase.next as usize;
        }
        all
    }

    /// The stamp of what a spotter of some groups is made of.
    pub const fn stamp_of(groups: &Groups) -> u64 {
        let mut stamp = stamp_of(&[DENIALS]);
        let mut at = 0;
        while at < groups.len() {
            stamp = stamp.rotate_left(7) ^ stamp_of(groups[at]);
            at += 1;
        }
        stamp
    }

    /// The spotter as a packed file.
    pub fn packed(&self, stamp: u64) -> Vec<u8> {
        let mut packer = Packer::new(stamp);
        packer.numbers(self.words.iter().copied());
        packer.numbers(self.phrases.iter().map(|it| it.end));
        let rest = self.phrases.iter();
        packer.numbers(rest.map(|it| u32::from(it.group) << 8 | u32::from(it.languages)));
        packer.packed()
    }

    /// The spotter of a packed file.
    pub fn unpacked(packed: &'static [u8]) -> Self {
        let mut unpacker = Unpacker::new(packed);
        let mut all = Self { words: unpacker.numbers().collect(), ..Self::empty() };
        let ends = unpacker.numbers();
        all.phrases.reserve(ends.len());
        let mut start = 0;
        for (end, rest) in ends.zip(unpacker.numbers()) {
            let [languages, group, ..] = rest.to_le_bytes();
            all.put(start, end as usize, group, languages);
            start = end as usize;
        }
        all
    }
}

/// Adds the hashes of the words of a phrase.
fn push_hashes(phrase: &str, all: &mut Vec<u32>) {
    match phrase.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b' ') {
        true => {
            let words = phrase.as_bytes().split(|byte| *byte == b' ');
            all.extend(words.filter(|word| !word.is_empty()).map(hash_of_bytes));
        }
        false => all.extend(tokens(phrase).iter().map(|token| token.hash)),
    }
}
