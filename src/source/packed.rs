//! Tables that come with the program, as a run wants them.
//!
//! People edit the tables as texts. What a run asks of them (hashes, places, sums of bits) is
//! worked out once and checked in beside them as a `*.packed` file: numbers and letters one
//! after the other, with a stamp of the texts in front. A stamp that is not that of the texts
//! is seen when the program is compiled, and then the texts are read as if there were no such
//! file: a stale one costs time, and nothing else. A test tells that it is stale.

/// What is packed.
#[derive(Default)]
pub struct Packer {
    bytes: Vec<u8>,
}

/// What is unpacked, from the front; what is missing at the end is empty.
#[derive(Clone, Copy)]
pub struct Unpacker {
    rest: &'static [u8],
}

/// The stamp of texts. FNV-1a of eight bytes at a time.
pub const fn stamp_of(texts: &[&str]) -> u64 {
    let mut stamp: u64 = 0xcbf2_9ce4_8422_2325;
    let mut at = 0;
    while at < texts.len() {
        stamp = stamped(stamp, texts[at].as_bytes());
        at += 1;
    }
    stamp
}

const fn stamped(mut stamp: u64, mut bytes: &[u8]) -> u64 {
    const PRIME: u64 = 0x0100_0000_01b3;
    stamp = (stamp ^ bytes.len() as u64).wrapping_mul(PRIME);
    while let Some((eight, rest)) = bytes.split_first_chunk::<8>() {
        stamp = (stamp ^ u64::from_le_bytes(*eight)).wrapping_mul(PRIME);
        stamp ^= stamp >> 29;
        bytes = rest;
    }
    while let Some((byte, rest)) = bytes.split_first() {
        stamp = (stamp ^ *byte as u64).wrapping_mul(PRIME);
        bytes = rest;
    }
    stamp
}

/// Whether a packed file was made of these texts.
pub const fn is_fresh(packed: &[u8], stamp: u64) -> bool {
    match packed.split_first_chunk::<8>() {
        Some((own, _)) => u64::from_le_bytes(*own) == stamp,
        None => false,
    }
}

impl Packer {
    /// Nothing yet, of texts of a stamp.
    pub fn new(stamp: u64) -> Self {
        Self { bytes: stamp.to_le_bytes().to_vec() }
    }

    /// Packs some numbers.
    pub fn numbers(&mut self, numbers: impl ExactSizeIterator<Item = u32>) {
        self.bytes.extend((numbers.len() as u32).to_le_bytes());
        self.bytes.extend(numbers.flat_map(u32::to_le_bytes));
    }

    /// Packs some letters.
    pub fn text(&mut self, text: &str) {
        self.letters(text.as_bytes());
    }

    /// Packs letters that are compared as bytes.
    pub fn letters(&mut self, letters: &[u8]) {
        self.bytes.extend((letters.len() as u32).to_le_bytes());
        self.bytes.extend(letters);
    }

    /// Packs what another packer packed, to be passed over or unpacked by itself.
    pub fn part(&mut self, pack: impl FnOnce(&mut Self)) {
        let mut part = Self::default();
        pack(&mut part);
        self.letters(&part.bytes);
    }

    /// All that was packed.
    pub fn packed(self) -> Vec<u8> {
        self.bytes
    }
}

impl Unpacker {
    /// From the front of a packed file.
    pub fn new(packed: &'static [u8]) -> Self {
        Self { rest: packed.get(8..).unwrap_or_default() }
    }

    /// The next numbers.
    pub fn numbers(&mut self) -> impl ExactSizeIterator<Item = u32> + use<> {
        let count = self.count();
        let bytes = self.take(count.saturating_mul(4));
        bytes.as_chunks().0.iter().map(|number| u32::from_le_bytes(*number))
    }

    /// The next letters.
    pub fn text(&mut self) -> &'static str {
        std::str::from_utf8(self.letters()).unwrap_or_default()
    }

    /// The next letters as bytes.
    pub fn letters(&mut self) -> &'static [u8] {
        let count = self.count();
        self.take(count)
    }

    /// What was packed as a part, so many parts further on.
    pub fn part(&mut self, further: usize) -> Self {
        for _ in 0..further {
            self.letters();
        }
        Self { rest: self.letters() }
    }

    fn count(&mut self) -> usize {
        let bytes = self.take(4);
        bytes.first_chunk().map_or(0, |count| u32::from_le_bytes(*count) as usize)
    }

    fn take(&mut self, count: usize) -> &'static [u8] {
        let (taken, rest) = self.rest.split_at_checked(count).unwrap_or_default();
        self.rest = rest;
        taken
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_packed_is_unpacked() {
        let mut packer = Packer::new(7);
        packer.numbers([1, u32::MAX, 3].into_iter());
        packer.text("crème");
        packer.numbers(std::iter::empty::<u32>().collect::<Vec<_>>().into_iter());
        packer.text("");
        packer.part(|part| part.text("one"));
        packer.part(|part| part.text("two"));
        packer.letters(b"end");
        let packed: &'static [u8] = packer.packed().leak();
        assert!(is_fresh(packed, 7) && !is_fresh(packed, 8) && !is_fresh(&[], 0));
        let mut unpacker = Unpacker::new(packed);
        assert_eq!(unpacker.numbers().collect::<Vec<_>>(), [1, u32::MAX, 3]);
        assert_eq!(unpacker.text(), "crème");
        assert_eq!(unpacker.numbers().len(), 0);
        assert_eq!(unpacker.text(), "");
        assert_eq!(unpacker.part(1).text(), "two");
        assert_eq!(unpacker.letters(), b"end");
        assert_eq!(unpacker.numbers().len() + unpacker.letters().len(), 0);
    }

    /// Any letter of any text counts, and so does where one text ends.
    #[test]
    fn another_text_has_another_stamp() {
        let text = "ingredient rye flour, 81 % of what is milled";
        let own = stamp_of(&[text, "b"]);
        for at in 0..text.len() {
            let mut other = text.as_bytes().to_vec();
            other[at] ^= 1;
            let other = String::from_utf8(other).expect("ASCII");
            assert_ne!(own, stamp_of(&[&other, "b"]), "{at}");
        }
        assert_ne!(own, stamp_of(&[&format!("{text}b"), ""]));
        assert_ne!(own, stamp_of(&["b", text]));
    }
}
