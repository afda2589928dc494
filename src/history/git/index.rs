//! The index: which files the next commit will have.

use super::Trouble;
use super::names::Id;
use super::objects::EntryKind;
use super::refs::Repository;
use std::fs;

/// A staged file: its path from the top, its object and what it is.
pub type Staged = (String, Id, EntryKind);

impl Repository {
    /// The staged files.
    ///
    /// # Errors
    /// Where the index is of a kind that is not read.
    pub fn staged(&self) -> Result<Vec<Staged>, Trouble> {
        let path = self.index_file();
        if !path.exists() {
            return Ok(Vec::new());
        }
        let bytes = fs::read(&path).map_err(|_| Trouble::unreadable("its index"))?;
        entries(&bytes, self.objects.id_length())
            .ok_or_else(|| Trouble::unreadable("its index is of a kind that is not read"))
    }
}

/// Git writes so many numbers of the file system before the name of an object.
const BEFORE_ID: usize = 40;

fn entries(bytes: &[u8], length: usize) -> Option<Vec<Staged>> {
    let number = |at: usize| {
        let four = bytes.get(at..at + 4)?;
        Some(u32::from_be_bytes(four.try_into().ok()?))
    };
    let version = number(4).filter(|_| bytes.starts_with(b"DIRC"))?;
    if !(2..=4).contains(&version) {
        return None;
    }
    let count = number(8)?;
    let (mut at, mut entries, mut path): (usize, Vec<Staged>, Vec<u8>) =
        (12, Vec::new(), Vec::new());
    for _ in 0..count {
        let start = at;
        let mode = number(at + 24)?;
        let id = Id::of(bytes.get(at + BEFORE_ID..at + BEFORE_ID + length)?)?;
        at += BEFORE_ID + length;
        let flags = u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?);
        at += 2;
        if flags >> 14 & 1 == 1 {
            at += 2;
        }
        if version == 4 {
            let mut byte = *bytes.get(at)?;
            at += 1;
            let mut strip = usize::from(byte & 127);
            while byte & 128 != 0 {
                byte = *bytes.get(at)?;
                at += 1;
                strip = ((strip + 1) << 7) | usize::from(byte & 127);
            }
            path.truncate(path.len().checked_sub(strip)?);
        } else {
            path.clear();
        }
        let end = at + bytes.get(at..)?.iter().position(|byte| *byte == 0)?;
        path.extend_from_slice(bytes.get(at..end)?);
        // Up to the fourth version an entry fills up to eight bytes with noughts.
        at = if version == 4 { end + 1 } else { start + ((end - start) / 8 + 1) * 8 };
        let is = match mode >> 12 {
            0o04 => EntryKind::Folder,
            0o12 => EntryKind::Link,
            0o16 => EntryKind::Submodule,
            _ => EntryKind::File,
        };
        // Of a file in conflict, what stood here before the merge.
        let stage = flags >> 12 & 3;
        if matches!(stage, 0 | 2) {
            let path = String::from_utf8_lossy(&path).trim_end_matches('/').to_owned();
            entries.push((path, id, is));
        }
    }
    // A split index keeps most of its entries in another file.
    let split = bytes.get(at..at + 4) == Some(b"link");
    (!split).then_some(entries)
}
