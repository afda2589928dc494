//! One pack with its index: many objects in one file, most as changes of others.

use super::Trouble;
use super::names::{Id, Kind, MOST_BYTES, Object};
use flate2::bufread::ZlibDecoder;
use rustc_hash::FxHashMap;
use std::fs::{self, File};
use std::io::{BufRead, BufReader, Read, Seek, SeekFrom};
use std::path::Path;
use std::sync::{Mutex, PoisonError};

/// The longest row of changes that is followed; git makes rows of 50.
const DEEPEST: usize = 10_000;

/// Bytes of bases of changes that are kept at hand.
const KEPT_BYTES: usize = 96_000_000;

/// A pack.
pub struct Pack {
    index: Vec<u8>,
    length: usize,
    /// Whether the index is of the first version.
    first: bool,
    file: Mutex<BufReader<File>>,
    kept: Mutex<(FxHashMap<u64, Object>, usize)>,
}

impl std::fmt::Debug for Pack {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "a pack of {} objects", self.count())
    }
}

/// An object as it stands in the pack.
enum Packed {
    Whole(Object),
    /// Changes of the object at an offset, or of a name.
    OfOffset(u64, Vec<u8>),
    OfName(Id, Vec<u8>),
}

/// How an object is found in another pack or loose.
pub type Elsewhere<'e> = &'e dyn Fn(Id) -> Result<Option<Object>, Trouble>;

impl Pack {
    /// A pack by its index; none where either can't be read.
    pub fn open(index: &Path, length: usize) -> Option<Self> {
        let file = Mutex::new(BufReader::new(File::open(index.with_extension("pack")).ok()?));
        let index = fs::read(index).ok()?;
        let first = !index.starts_with(b"\xfftOc");
        let pack = Self { index, length, first, file, kept: Mutex::default() };
        let (fan, each) = if first { (0, 4 + length) } else { (8, length + 8) };
        let whole = fan + 1024 + pack.count().checked_mul(each)? <= pack.index.len();
        whole.then_some(pack)
    }

    fn number(&self, at: usize) -> Option<u32> {
        let bytes = self.index.get(at..at.checked_add(4)?)?;
        Some(u32::from_be_bytes(bytes.try_into().ok()?))
    }

    fn fan(&self, byte: usize) -> usize {
        let start = if self.first { 0 } else { 8 };
        self.number(start + byte * 4).unwrap_or_default() as usize
    }

    fn count(&self) -> usize {
        self.fan(255)
    }

    fn name(&self, at: usize) -> &[u8] {
        let start = match self.first {
            true => 1024 + at * (4 + self.length) + 4,
            false => 8 + 1024 + at * self.length,
        };
        self.index.get(start..start + self.length).unwrap_or_default()
    }

    /// Places of names whose first byte is given.
    fn with_first_byte(&self, byte: u8) -> std::ops::Range<usize> {
        let byte = usize::from(byte);
        let from = if byte == 0 { 0 } else { self.fan(byte - 1) };
        from..self.fan(byte).min(self.count())
    }

    /// Where an object stands.
    pub fn offset_of(&self, id: Id) -> Option<u64> {
        let wanted = id.as_bytes();
        let std::ops::Range { start: mut low, end: mut high } =
            self.with_first_byte(*wanted.first()?);
        while low < high {
            let middle = low + (high - low) / 2;
            match self.name(middle).cmp(wanted) {
                std::cmp::Ordering::Less => low = middle + 1,
                std::cmp::Ordering::Greater => high = middle,
                std::cmp::Ordering::Equal => return self.offset(middle),
            }
        }
        None
    }

    fn offset(&self, at: usize) -> Option<u64> {
        if self.first {
            return self.number(1024 + at * (4 + self.length)).map(u64::from);
        }
        let offsets = 8 + 1024 + self.count() * (self.length + 4);
        let short = self.number(offsets + at * 4)?;
        if short >> 31 == 0 {
            return Some(u64::from(short));
        }
        let long = offsets + self.count() * 4 + (short & 0x7fff_ffff) as usize * 8;
        let (above, below) = (self.number(long)?, self.number(long + 4)?);
        Some(u64::from(above) << 32 | u64::from(below))
    }

    /// Names that begin with some small hexadecimal digits, two at least.
    pub fn beginning_with(&self, digits: &str) -> Vec<Id> {
        let first = digits.get(..2).and_then(|two| u8::from_str_radix(two, 16).ok());
        let places = first.map(|byte| self.with_first_byte(byte)).unwrap_or_default();
        let ids = places.filter_map(|at| Id::of(self.name(at)));
        ids.filter(|id| id.hex().starts_with(digits)).collect()
    }

    /// The object at an offset.
    ///
    /// # Errors
    /// Where the pack is broken there.
    pub fn read(&self, offset: u64, elsewhere: Elsewhere) -> Result<Object, Trouble> {
        let mut changes: Vec<(u64, Vec<u8>)> = Vec::new();
        let mut at = offset;
        let mut object = loop {
            let kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
            if let Some(object) = kept.0.get(&at).cloned() {
                break object;
            }
            drop(kept);
            match self.packed(at).ok_or_else(|| broken(at))? {
                Packed::Whole(object) => break object,
                Packed::OfOffset(base, change) => {
                    changes.push((at, change));
                    at = base;
                }
                Packed::OfName(base, change) => {
                    changes.push((at, change));
                    match self.offset_of(base) {
                        Some(base) => at = base,
                        None => break elsewhere(base)?.ok_or_else(|| broken(at))?,
                    }
                }
            }
            if changes.len() > DEEPEST {
                return Err(broken(offset));
            }
        };
        while let Some((at, change)) = changes.pop() {
            self.keep(at, &object);
            let bytes = changed(&object.bytes, &change).ok_or_else(|| broken(at))?;
            object = Object { kind: object.kind, bytes: bytes.into() };
        }
        self.keep(offset, &object);
        Ok(object)
    }

    fn keep(&self, at: u64, object: &Object) {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.1 > KEPT_BYTES {
            *kept = (FxHashMap::default(), 0);
        }
        if kept.0.insert(at, object.clone()).is_none() {
            kept.1 += object.bytes.len();
        }
    }

    fn packed(&self, offset: u64) -> Option<Packed> {
        let mut file = self.file.lock().unwrap_or_else(PoisonError::into_inner);
        file.seek(SeekFrom::Start(offset)).ok()?;
        let first = byte(&mut *file)?;
        let (mut size, mut more, mut shift) = (u64::from(first & 15), first & 128 != 0, 4);
        while more && shift < 60 {
            let next = byte(&mut *file)?;
            size |= u64::from(next & 127) << shift;
            (more, shift) = (next & 128 != 0, shift + 7);
        }
        let kind = match first >> 4 & 7 {
            1 => Kind::Commit,
            2 => Kind::Tree,
            3 => Kind::Blob,
            4 => Kind::Tag,
            6 => {
                let mut next = byte(&mut *file)?;
                let mut back = u64::from(next & 127);
                while next & 128 != 0 {
                    next = byte(&mut *file)?;
                    back = (back.checked_add(1)?.checked_mul(128)?) | u64::from(next & 127);
                }
                let base = offset.checked_sub(back).filter(|base| *base < offset)?;
                return Some(Packed::OfOffset(base, inflated(&mut *file, size)?));
            }
            7 => {
                let mut name = vec![0; self.length];
                file.read_exact(&mut name).ok()?;
                return Some(Packed::OfName(Id::of(&name)?, inflated(&mut *file, size)?));
            }
            _ => return None,
        };
        let bytes = inflated(&mut *file, size)?.into();
        Some(Packed::Whole(Object { kind, bytes }))
    }
}

fn broken(at: u64) -> Trouble {
    Trouble::unreadable(format!("a pack is broken at byte {at}"))
}

fn byte(from: &mut impl Read) -> Option<u8> {
    let mut one = [0];
    from.read_exact(&mut one).ok()?;
    Some(one[0])
}

fn inflated(from: &mut impl BufRead, size: u64) -> Option<Vec<u8>> {
    if size > MOST_BYTES {
        return None;
    }
    let mut bytes = Vec::new();
    ZlibDecoder::new(from).take(size + 1).read_to_end(&mut bytes).ok()?;
    (bytes.len() as u64 == size).then_some(bytes)
}

/// What a change makes of a base; none where it does not fit.
fn changed(base: &[u8], change: &[u8]) -> Option<Vec<u8>> {
    let mut rest = change;
    let (before, wanted) = (number(&mut rest)?, number(&mut rest)?);
    if before != base.len() as u64 || wanted > MOST_BYTES {
        return None;
    }
    let mut made: Vec<u8> = Vec::new();
    while let Some((op, after)) = rest.split_first() {
        rest = after;
        if op & 128 == 0 {
            let (new, after) = rest.split_at_checked(usize::from(*op)).filter(|_| *op > 0)?;
            made.extend_from_slice(new);
            rest = after;
            continue;
        }
        let mut part = |bits: std::ops::Range<u8>| -> Option<usize> {
            let mut value = 0;
            for (place, bit) in bits.enumerate() {
                if op >> bit & 1 == 1 {
                    let (first, after) = rest.split_first()?;
                    rest = after;
                    value |= usize::from(*first) << (place * 8);
                }
            }
            Some(value)
        };
        let (from, size) = (part(0..4)?, part(4..7)?);
        let size = if size == 0 { 0x10000 } else { size };
        made.extend_from_slice(base.get(from..from.checked_add(size)?)?);
        if made.len() as u64 > wanted {
            return None;
        }
    }
    (made.len() as u64 == wanted).then_some(made)
}

/// A number in groups of seven bits, the lowest first.
fn number(rest: &mut &[u8]) -> Option<u64> {
    let (mut value, mut shift) = (0, 0);
    loop {
        let (first, after) = rest.split_first()?;
        *rest = after;
        value |= u64::from(first & 127) << shift;
        shift += 7;
        if first & 128 == 0 || shift > 56 {
            return Some(value);
        }
    }
}
