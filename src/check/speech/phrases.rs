//! Phrases and what they say, to be found where they begin in a run of words.
//!
//! Tables hold thousands of phrases, of which a text asks for a few. So a table is built in
//! one pass with nothing allocated for a phrase that is written as it is compared: words are
//! told apart by hashes, and letters are looked at only where those agree.

use super::tokens::{NO_LETTERS, Token, TokenKind, hash_of_bytes, joined, tokens, with_byte};
use crate::source::{Packer, Unpacker};
use std::borrow::Cow;

/// What an entry of a table says of a phrase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tag {
    /// `n`, `unit`, `verb`, … of a table, or `food`.
    pub kind: &'static str,
    /// What follows the kind in the table.
    pub word: &'static str,
}

/// A table of phrases.
#[derive(Default)]
pub(super) struct Phrases {
    /// The words of all entries in the form they are compared in, one entry after the other.
    letters: Cow<'static, [u8]>,
    /// What entries say, each once.
    tags: Vec<Tag>,
    entries: Vec<PhraseEntry>,
    /// By the hash of all words: one more than the place of the entry that was put there
    /// last. As many as a power of two.
    heads: Vec<u32>,
    /// By the hash of a first word: how many words the longest phrase has that begins with
    /// a word of such a hash; none begins with others.
    longest: Vec<u8>,
}

#[derive(Clone, Copy)]
struct PhraseEntry {
    /// Where its words begin among all letters, with blanks between them.
    start: u32,
    /// How many letters they have; none where it only says more of others.
    length: u8,
    /// The place of what it says.
    tag: u16,
    hash: u32,
    /// The hash of its first word.
    first: u32,
    /// How many words it has.
    count: u8,
    /// One more than the place of another entry that falls to the same head.
    next: u32,
    /// One more than the place of the next tag of the same words.
    more: u32,
}

/// All that is said of one phrase, in the order of the tables.
#[derive(Clone)]
pub(super) struct Tags<'p> {
    first: Option<Tag>,
    table: Option<&'p Phrases>,
    next: u32,
}

impl Tags<'_> {
    /// A single one, which stands in no table.
    pub(super) fn one(tag: Tag) -> Self {
        Self { first: Some(tag), table: None, next: 0 }
    }
}

impl Iterator for Tags<'_> {
    type Item = Tag;

    fn next(&mut self) -> Option<Tag> {
        self.first.take().or_else(|| {
            let table = self.table?;
            let entry = entry(&table.entries, self.next)?;
            self.next = entry.more;
            table.tags.get(usize::from(entry.tag)).copied()
        })
    }
}

/// The entry of a number that counts from one.
fn entry(entries: &[PhraseEntry], number: u32) -> Option<&PhraseEntry> {
    entries.get(usize::try_from(number.checked_sub(1)?).ok()?)
}

/// The hashes of words with single blanks between them.
fn hashes_of(words: &str) -> impl Iterator<Item = u32> {
    words.as_bytes().split(|byte| *byte == b' ').map(hash_of_bytes)
}

/// The hash of some words and one more after them; of none it is zero.
fn with_word(hash: u32, word: u32) -> u32 {
    let hash = (hash.rotate_left(5) ^ word).wrapping_mul(0x9e37_79b1);
    hash ^ hash >> 15
}

/// The words of a phrase as hashes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Hashes {
    /// Of the first word.
    pub first: u32,
    /// Of all words.
    pub all: u32,
    /// How many words there are.
    pub count: u8,
}

impl Hashes {
    const NONE: Self = Self { first: 0, all: 0, count: 0 };

    fn and(self, word: u32) -> Self {
        let first = if self.count == 0 { word } else { self.first };
        Self { first, all: with_word(self.all, word), count: self.count.saturating_add(1) }
    }

    /// Of words with single blanks between them.
    fn of(words: &str) -> Self {
        hashes_of(words).fold(Self::NONE, Self::and)
    }

    /// Of a phrase that is written as it is compared, as nearly all are: small letters that
    /// have one form only, with single blanks between the words. None of others.
    pub(super) fn of_plain(phrase: &str) -> Option<Self> {
        let mut bytes = phrase.bytes();
        let (mut all, mut word) = (Self::NONE, NO_LETTERS);
        let mut before = b' ';
        while let Some(byte) = bytes.next() {
            match byte {
                b'a'..=b'z' => word = with_byte(word, byte),
                b' ' if before != b' ' => {
                    all = all.and(word);
                    word = NO_LETTERS;
                }
                0xc3 => {
                    let letter = bytes.next().filter(|it| *it >= 0xa0 && *it != 0xb7)?;
                    word = with_byte(with_byte(word, byte), letter);
                }
                _ => return None,
            }
            before = byte;
        }
        (before != b' ').then(|| all.and(word))
    }
}

/// Whether a phrase is written as it is compared.
pub(super) fn is_plain(phrase: &str) -> bool {
    Hashes::of_plain(phrase).is_some()
}

impl Phrases {
    /// Makes room for about as many phrases as a table has.
    pub(super) fn reserve(&mut self, table: &str) {
        let count = self.entries.len() + table.bytes().filter(|byte| *byte == b',').count();
        self.entries.reserve(count - self.entries.len());
        if count > self.heads.len() {
            self.link(count.next_power_of_two());
        }
    }

    /// Puts all entries into so many heads.
    fn link(&mut self, count: usize) {
        self.heads = vec![0; count];
        // Room enough that hardly another word falls to the place of one of ours.
        let mut longest = vec![0; count * 4];
        for at in 0..self.entries.len() {
            let PhraseEntry { length, hash, first, count: words_of_it, .. } = &self.entries[at];
            if *length == 0 {
                continue;
            }
            let place = &mut longest[*first as usize & (count * 4 - 1)];
            *place = (*words_of_it).max(*place);
            let head = &mut self.heads[*hash as usize & (count - 1)];
            self.entries[at].next = std::mem::replace(head, at as u32 + 1);
        }
        self.longest = longest;
    }

    /// Learns what a phrase of a table says.
    pub(super) fn learn(&mut self, phrase: &'static str, tag: Tag) {
        let phrase = phrase.trim_matches(' ');
        match Hashes::of_plain(phrase) {
            Some(hashes) => self.learn_hashed(phrase, hashes, tag),
            None => self.learn_words(&joined(&tokens(phrase)), tag),
        }
    }

    /// Learns what words in the form they are compared in say, blanks between them.
    pub(super) fn learn_words(&mut self, words: &str, tag: Tag) {
        if !words.is_empty() {
            self.learn_hashed(words, Hashes::of(words), tag);
        }
    }

    fn learn_hashed(&mut self, words: &str, hashes: Hashes, tag: Tag) {
        if self.entries.len() >= self.heads.len() {
            self.link((self.heads.len() * 4).max(1024));
        }
        let Hashes { first, all: hash, count } = hashes;
        let number = self.entries.len() as u32 + 1;
        let words = words.as_bytes();
        let (start, tag) = (self.letters.len() as u32, self.place_of(tag));
        let entry = PhraseEntry { start, length: 0, tag, hash, first, count, next: 0, more: 0 };
        if let Some(known) = self.number_of(hash, |known| known == words) {
            if let Some(last) = self.last_of(known, tag) {
                self.entries[last].more = number;
                self.entries.push(entry);
            }
            return;
        }
        let mask = self.heads.len() - 1;
        let place = first as usize & (self.longest.len() - 1);
        let longest = &mut self.longest[place];
        *longest = count.max(*longest);
        let next = std::mem::replace(&mut self.heads[hash as usize & mask], number);
        // A test holds the tables to phrases that are shorter.
        let length = u8::try_from(words.len()).unwrap_or(u8::MAX);
        self.letters.to_mut().extend(&words[..usize::from(length)]);
        self.entries.push(PhraseEntry { length, next, ..entry });
    }

    /// The place of a tag among those that are known, or after them.
    fn place_of(&mut self, tag: Tag) -> u16 {
        // Phrases with the same tag stand together.
        let place = self.tags.iter().rposition(|known| *known == tag);
        let place = place.unwrap_or_else(|| {
            self.tags.push(tag);
            self.tags.len() - 1
        });
        place as u16
    }

    /// The place of the last of the tags of an entry; none where one of them is this one.
    fn last_of(&self, number: u32, tag: u16) -> Option<usize> {
        let mut number = number;
        loop {
            let known = entry(&self.entries, number)?;
            match known.more {
                _ if known.tag == tag => return None,
                0 => return usize::try_from(number - 1).ok(),
                more => number = more,
            }
        }
    }

    /// The words of an entry.
    fn words_of(&self, entry: &PhraseEntry) -> &[u8] {
        let start = entry.start as usize;
        self.letters.get(start..start + usize::from(entry.length)).unwrap_or_default()
    }

    /// The number of the entry of some words.
    fn number_of(&self, hash: u32, is_it: impl Fn(&[u8]) -> bool) -> Option<u32> {
        let mask = self.heads.len().checked_sub(1)?;
        let mut number = *self.heads.get(hash as usize & mask)?;
        while let Some(known) = entry(&self.entries, number) {
            if known.hash == hash && known.length > 0 && is_it(self.words_of(known)) {
                return Some(number);
            }
            number = known.next;
        }
        None
    }

    /// What is said of words with single blanks between them.
    pub(super) fn of(&self, words: &str) -> Option<Tags<'_>> {
        let hash = hashes_of(words).fold(0, with_word);
        let next = self.number_of(hash, |known| known == words.as_bytes())?;
        Some(Tags { first: None, table: Some(self), next })
    }

    /// What the longest phrase that begins at a word says, and how many words it has.
    pub(super) fn at(&self, tokens: &[Token], from: usize) -> Option<(usize, Tags<'_>)> {
        let first = tokens.get(from)?;
        let mask = self.longest.len().checked_sub(1)?;
        let longest = *self.longest.get(first.hash as usize & mask)?;
        let mut hash = 0;
        let mut found = None;
        for (index, token) in tokens[from..].iter().take(usize::from(longest)).enumerate() {
            if !matches!(token.kind, TokenKind::Word | TokenKind::Number) {
                break;
            }
            hash = with_word(hash, token.hash);
            let words = &tokens[from..=from + index];
            if let Some(next) = self.number_of(hash, |known| are(words, known)) {
                found = Some((index + 1, next));
            }
        }
        let (count, next) = found?;
        Some((count, Tags { first: None, table: Some(self), next }))
    }

    /// Packs the table; see [`Packer`].
    pub(super) fn pack(&self, packer: &mut Packer) {
        packer.numbers([self.heads.len() as u32].into_iter());
        packer.letters(&self.letters);
        pack_tags(self.tags.iter(), packer);
        packer.numbers(self.entries.iter().map(|entry| entry.hash));
        packer.numbers(self.entries.iter().map(|entry| entry.first));
        packer.numbers(self.entries.iter().map(|entry| {
            u32::from(entry.tag) << 16 | u32::from(entry.count) << 8 | u32::from(entry.length)
        }));
        let more = (0..).zip(&self.entries).filter(|(_, entry)| entry.more > 0);
        let more: Vec<u32> = more.flat_map(|(place, entry)| [place, entry.more]).collect();
        packer.numbers(more.into_iter());
    }

    /// The table that was packed.
    pub(super) fn unpack(unpacker: &mut Unpacker) -> Self {
        let heads = unpacker.numbers().next().unwrap_or_default() as usize;
        let (letters, tags) = (unpacker.letters(), unpack_tags(unpacker));
        let (hashes, firsts) = (unpacker.numbers(), unpacker.numbers());
        let mut start = 0;
        let entries = hashes.zip(firsts).zip(unpacker.numbers()).map(|((hash, first), rest)| {
            let [length, count, low, high] = rest.to_le_bytes();
            let tag = u16::from_le_bytes([low, high]);
            let entry = PhraseEntry { start, length, tag, hash, first, count, next: 0, more: 0 };
            start += u32::from(length);
            entry
        });
        let entries = entries.collect();
        let mut all = Self { letters: letters.into(), tags, entries, ..Self::default() };
        let more: Vec<u32> = unpacker.numbers().collect();
        for pair in more.as_chunks::<2>().0 {
            if let Some(entry) = all.entries.get_mut(pair[0] as usize) {
                entry.more = pair[1];
            }
        }
        if heads > 0 {
            all.link(heads);
        }
        all
    }
}

/// Packs tags, a line for each.
pub(super) fn pack_tags<'t>(tags: impl Iterator<Item = &'t Tag>, packer: &mut Packer) {
    let lines: Vec<String> = tags.map(|tag| format!("{} {}", tag.kind, tag.word)).collect();
    packer.text(&lines.join("\n"));
}

/// The tags that were packed.
pub(super) fn unpack_tags(unpacker: &mut Unpacker) -> Vec<Tag> {
    let lines = unpacker.text().lines();
    lines.filter_map(|line| line.split_once(' ')).map(|(kind, word)| Tag { kind, word }).collect()
}

/// Whether words are these, with blanks between them.
fn are(words: &[Token], phrase: &[u8]) -> bool {
    let mut rest = phrase;
    for (index, word) in words.iter().enumerate() {
        let left = if index == 0 { Some(rest) } else { rest.strip_prefix(b" ") };
        match left.and_then(|left| left.strip_prefix(word.key.as_bytes())) {
            Some(left) => rest = left,
            None => return false,
        }
    }
    rest.is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn tag(word: &'static str) -> Tag {
        Tag { kind: "word", word }
    }

    fn said(phrases: &Phrases, text: &str) -> Option<(usize, Vec<&'static str>)> {
        let (count, tags) = phrases.at(&tokens(text), 0)?;
        Some((count, tags.map(|tag| tag.word).collect()))
    }

    #[test]
    fn the_longest_phrase_says_all_that_it_was_given() {
        let mut phrases = Phrases::default();
        phrases.learn(" not any ", tag("absent"));
        phrases.learn("not", tag("not"));
        phrases.learn("Not  ANY", tag("reply"));
        phrases.learn("not any", tag("absent"));
        phrases.learn("l'œuf", tag("egg"));
        phrases.learn("", tag("nothing"));
        assert_eq!(said(&phrases, "not any more"), Some((2, vec!["absent", "reply"])));
        assert_eq!(said(&phrases, "not, any more"), Some((1, vec!["not"])));
        assert_eq!(said(&phrases, "L’œuf"), Some((2, vec!["egg"])));
        assert_eq!(said(&phrases, "any"), None);
        assert_eq!(said(&Phrases::default(), "any"), None);
        assert!(phrases.of("not any").is_some() && phrases.of("any not").is_none());
    }

    /// A table that has grown many times has lost nothing.
    #[test]
    fn all_phrases_are_found_again() {
        let letters = || ('a'..='z').flat_map(|one| ('a'..='z').map(move |two| (one, two)));
        let mut phrases = Phrases::default();
        for (one, two) in letters() {
            let phrase: &'static str = format!("{one} {two}é").leak();
            phrases.learn(phrase, tag("two"));
            phrases.learn(phrase, tag("again"));
        }
        for (one, two) in letters() {
            let found = said(&phrases, &format!("{one} {two}É {one}"));
            assert_eq!(found, Some((2, vec!["two", "again"])), "{one} {two}");
            assert_eq!(said(&phrases, &format!("{one} {two}")), None);
        }
    }

    /// What is taken for plain is what reading it word by word would give.
    #[test]
    fn plain_phrases_are_their_own_words() {
        for letter in ('\0'..='\u{17f}').chain(['’', '…', '\u{301}', 'ﬁ']) {
            for phrase in [format!("a{letter}b c"), format!("{letter}a"), format!("a {letter}")] {
                if is_plain(&phrase) {
                    assert_eq!(joined(&tokens(&phrase)), phrase);
                    let hashes = Hashes::of_plain(&phrase);
                    assert_eq!(hashes, Some(Hashes::of(&phrase)));
                    assert_eq!(hashes.map(|it| usize::from(it.count)), Some(tokens(&phrase).len()));
                }
            }
        }
        assert!(is_plain("crème brûlée") && !is_plain("a  b") && !is_plain("straße"));
        assert!(["", " a", "a ", "a-b", "A", "l'a", "5"].iter().all(|it| !is_plain(it)));
    }
}
