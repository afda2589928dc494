//! Names with numbers, to be found by their letters.

use super::packed::{Packer, Unpacker};
use std::borrow::Cow;

/// Names, each once, numbered in the order they came in. It is packed as it is asked, so
/// that one that comes with the program needs no names put in.
#[derive(Clone, Debug, Default)]
pub struct NameIndex {
    /// All names, one after the other.
    letters: Cow<'static, str>,
    /// Where each ends.
    ends: Vec<u32>,
    /// What each is told from others by.
    hashes: Vec<u32>,
    /// By the hash: one more than the number that was put there last. As many as a power of
    /// two.
    heads: Vec<u32>,
    /// By number: one more than another number that falls to the same head.
    next: Vec<u32>,
}

impl NameIndex {
    /// How many names there are.
    pub fn len(&self) -> usize {
        self.ends.len()
    }

    /// The name of a number.
    pub fn name(&self, number: u32) -> &str {
        let number = number as usize;
        let start = number.checked_sub(1).map_or(0, |before| self.ends[before]);
        self.ends.get(number).map_or("", |end| &self.letters[start as usize..*end as usize])
    }

    /// The number of a name.
    pub fn number(&self, name: &str) -> Option<u32> {
        self.number_by(hash_of(name), name)
    }

    fn number_by(&self, hash: u32, name: &str) -> Option<u32> {
        let mask = self.heads.len().checked_sub(1)?;
        let mut number = self.heads[hash as usize & mask].checked_sub(1)?;
        while self.hashes[number as usize] != hash || self.name(number) != name {
            number = self.next[number as usize].checked_sub(1)?;
        }
        Some(number)
    }

    /// The number of a name, which is put in where it is not there yet.
    pub fn put(&mut self, name: &str) -> u32 {
        let hash = hash_of(name);
        self.number_by(hash, name).unwrap_or_else(|| {
            self.letters.to_mut().push_str(name);
            self.ends.push(self.letters.len() as u32);
            self.hashes.push(hash);
            self.link();
            self.hashes.len() as u32 - 1
        })
    }

    /// Puts what is not yet there under its heads; all, where heads are too few.
    fn link(&mut self) {
        if self.heads.len() < self.hashes.len() {
            self.heads = vec![0; self.hashes.len().next_power_of_two().max(64)];
            self.next.clear();
        }
        let mask = self.heads.len() - 1;
        self.next.reserve(self.hashes.len() - self.next.len());
        for number in self.next.len()..self.hashes.len() {
            let head = &mut self.heads[self.hashes[number] as usize & mask];
            self.next.push(std::mem::replace(head, number as u32 + 1));
        }
    }

    /// Packs all names.
    pub fn pack(&self, packer: &mut Packer) {
        packer.text(&self.letters);
        packer.numbers(self.ends.iter().copied());
        packer.numbers(self.hashes.iter().copied());
    }

    /// The names that were packed.
    pub fn unpack(unpacker: &mut Unpacker) -> Self {
        let letters = unpacker.text().into();
        let (ends, hashes) = (unpacker.numbers().collect(), unpacker.numbers().collect());
        let mut all = Self { letters, ends, hashes, ..Self::default() };
        all.link();
        all
    }
}

fn hash_of(name: &str) -> u32 {
    let mixed =
        |hash: u32, byte: u8| (hash.rotate_left(5) ^ u32::from(byte)).wrapping_mul(0x9e37_79b1);
    let hash = name.bytes().fold(0, mixed);
    hash ^ hash >> 15
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_by_their_letters() {
        let mut names = NameIndex::default();
        assert_eq!(names.number("rye"), None);
        let all: Vec<String> = (0..1000).map(|number| format!("né {number}")).collect();
        for (number, name) in (0..).zip(&all) {
            assert_eq!(names.put(name), number);
            assert_eq!(names.put(name), number);
        }
        let mut packer = Packer::default();
        names.pack(&mut packer);
        let mut packed = 0_u64.to_le_bytes().to_vec();
        packed.extend(packer.packed());
        let unpacked = NameIndex::unpack(&mut Unpacker::new(packed.leak()));
        for names in [&names, &unpacked] {
            assert_eq!(names.len(), 1000);
            for (number, name) in (0..).zip(&all) {
                assert_eq!((names.number(name), names.name(number)), (Some(number), name.as_str()));
            }
            assert_eq!((names.number("né 1000"), names.number("")), (None, None));
            assert_eq!(names.name(1000), "");
        }
    }
}
