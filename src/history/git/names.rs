//! What objects are called, and what they are.

use std::sync::Arc;

/// The largest object that is read, in bytes; a file of formulas has 8 MB at most.
pub const MOST_BYTES: u64 = 64_000_000;

/// The name of an object: 20 bytes of SHA-1, or 32 of SHA-256.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id {
    bytes: [u8; 32],
    length: u8,
}

impl Id {
    /// From its bytes; none where they are neither 20 nor 32.
    pub fn of(bytes: &[u8]) -> Option<Self> {
        let mut all = [0; 32];
        all.get_mut(..bytes.len())?.copy_from_slice(bytes);
        let length = u8::try_from(bytes.len()).ok()?;
        matches!(length, 20 | 32).then_some(Self { bytes: all, length })
    }

    /// From all its hexadecimal digits.
    pub fn read(hex: &str) -> Option<Self> {
        let digits = hex.as_bytes().chunks(2);
        let byte = |pair: &[u8]| u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok();
        let plain = hex.bytes().all(|byte| byte.is_ascii_hexdigit());
        let bytes: Option<Vec<u8>> = digits.map(byte).collect();
        Self::of(&bytes.filter(|_| plain && hex.len().is_multiple_of(2))?)
    }

    /// Its bytes.
    pub fn as_bytes(&self) -> &[u8] {
        self.bytes.get(..usize::from(self.length)).unwrap_or_default()
    }

    /// All its hexadecimal digits.
    pub fn hex(&self) -> String {
        self.as_bytes().iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

impl std::fmt::Debug for Id {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.hex())
    }
}

/// What an object is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A state of all files.
    Commit,
    /// A folder.
    Tree,
    /// A file.
    Blob,
    /// A name with a message.
    Tag,
}

impl Kind {
    /// By the word that git writes.
    pub fn read(word: &str) -> Option<Self> {
        match word {
            "commit" => Some(Self::Commit),
            "tree" => Some(Self::Tree),
            "blob" => Some(Self::Blob),
            "tag" => Some(Self::Tag),
            _ => None,
        }
    }
}

/// An object.
#[derive(Clone, Debug)]
pub struct Object {
    /// What it is.
    pub kind: Kind,
    /// What it holds.
    pub bytes: Arc<[u8]>,
}
