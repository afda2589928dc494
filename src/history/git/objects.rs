//! Objects: blobs, trees, commits and tags, loose or packed.

use super::Trouble;
use super::names::{Id, Kind, MOST_BYTES, Object};
use super::pack::Pack;
use flate2::read::ZlibDecoder;
use rustc_hash::FxHashMap;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Bytes of objects that are kept at hand.
const KEPT_BYTES: usize = 256_000_000;

/// An entry of a tree.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Its name in its folder.
    pub name: String,
    /// Its object.
    pub id: Id,
    /// What it is.
    pub is: EntryKind,
}

/// What an entry of a tree is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EntryKind {
    /// An ordinary file.
    File,
    /// A folder.
    Folder,
    /// A link to another path.
    Link,
    /// A commit of another repository.
    Submodule,
}

/// A commit.
#[derive(Clone, Debug)]
pub struct Commit {
    /// Its object.
    pub id: Id,
    /// Its files.
    pub tree: Id,
    /// What it was made from.
    pub parents: Vec<Id>,
    /// The author's clock, in seconds since 1970, and how far from UTC it stood, in minutes.
    pub time: i64,
    /// Minutes that the author's clock stood from UTC.
    pub offset: i32,
    /// The committer's, by which commits are sorted.
    pub committed: i64,
    /// The first line of its message.
    pub subject: String,
}

/// All objects of a repository.
#[derive(Debug)]
pub struct Objects {
    /// Of the repository and those that it borrows from.
    folders: Vec<PathBuf>,
    packs: Vec<Pack>,
    length: usize,
    kept: Mutex<(FxHashMap<Id, Object>, usize)>,
}

impl Objects {
    /// The objects below a folder, whose names have so many bytes.
    pub fn open(folder: &Path, length: usize) -> Self {
        let mut folders = Vec::new();
        with_alternates(folder.to_path_buf(), &mut folders);
        let packs = folders.iter().flat_map(|folder| packs_in(&folder.join("pack"), length));
        Self { packs: packs.collect(), folders, length, kept: Mutex::default() }
    }

    /// How many bytes a name has.
    pub fn id_length(&self) -> usize {
        self.length
    }

    /// An object by its name; none where there is no such.
    ///
    /// # Errors
    /// Where it is there and can't be read.
    pub fn find(&self, id: Id) -> Result<Option<Object>, Trouble> {
        if let Some(object) = self.kept.lock().unwrap_or_else(PoisonError::into_inner).0.get(&id) {
            return Ok(Some(object.clone()));
        }
        let mut found = None;
        for pack in &self.packs {
            if let Some(at) = pack.offset_of(id) {
                found = Some(pack.read(at, &|base| self.find(base))?);
                break;
            }
        }
        let found = match found {
            Some(found) => Some(found),
            None => self.loose(id)?,
        };
        if let Some(object) = &found {
            let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
            if kept.1 > KEPT_BYTES {
                *kept = (FxHashMap::default(), 0);
            }
            kept.1 += object.bytes.len();
            kept.0.insert(id, object.clone());
        }
        Ok(found)
    }

    /// An object that another one names.
    ///
    /// # Errors
    /// Where it is missing or can't be read.
    pub fn get(&self, id: Id, kind: Kind) -> Result<Object, Trouble> {
        match self.find(id)? {
            Some(object) if object.kind == kind => Ok(object),
            Some(_) => Err(Trouble::unreadable(format!("object {} is of another kind", id.hex()))),
            None => Err(Trouble::unreadable(format!("object {} is missing", id.hex()))),
        }
    }

    fn loose(&self, id: Id) -> Result<Option<Object>, Trouble> {
        let hex = id.hex();
        let Some((two, rest)) = hex.split_at_checked(2) else { return Ok(None) };
        for folder in &self.folders {
            let path = folder.join(two).join(rest);
            let Ok(file) = fs::File::open(&path) else { continue };
            let broken = || Trouble::unreadable(format!("object {hex} is broken"));
            let mut bytes = Vec::new();
            let mut inflated =
                ZlibDecoder::new(std::io::BufReader::new(file)).take(MOST_BYTES + 64);
            inflated.read_to_end(&mut bytes).map_err(|_| broken())?;
            let end = bytes.iter().position(|byte| *byte == 0).ok_or_else(broken)?;
            let head = std::str::from_utf8(bytes.get(..end).unwrap_or_default());
            let (kind, size) = head.ok().and_then(|it| it.split_once(' ')).ok_or_else(broken)?;
            let kind = Kind::read(kind).ok_or_else(broken)?;
            let body = bytes.get(end + 1..).unwrap_or_default();
            if size.parse() != Ok(body.len()) {
                return Err(broken());
            }
            return Ok(Some(Object { kind, bytes: body.into() }));
        }
        Ok(None)
    }

    /// The names that begin with some hexadecimal digits.
    pub fn beginning_with(&self, digits: &str) -> Vec<Id> {
        let digits = digits.to_ascii_lowercase();
        let mut found: Vec<Id> =
            self.packs.iter().flat_map(|pack| pack.beginning_with(&digits)).collect();
        if let Some((two, rest)) = digits.split_at_checked(2) {
            for folder in &self.folders {
                let entries = folder.join(two).read_dir().into_iter().flatten().flatten();
                let names = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
                let names = names.filter(|name| name.starts_with(rest));
                found.extend(names.filter_map(|name| Id::read(&format!("{two}{name}"))));
            }
        }
        found.sort_unstable();
        found.dedup();
        found
    }

    /// The entries of a tree.
    ///
    /// # Errors
    /// Where it can't be read.
    pub fn tree(&self, id: Id) -> Result<Vec<Entry>, Trouble> {
        let object = self.get(id, Kind::Tree)?;
        let broken = || Trouble::unreadable(format!("tree {} is broken", id.hex()));
        let (mut rest, mut entries) = (&*object.bytes, Vec::new());
        while !rest.is_empty() {
            let end = rest.iter().position(|byte| *byte == 0).ok_or_else(broken)?;
            let head = String::from_utf8_lossy(rest.get(..end).unwrap_or_default()).into_owned();
            let name = rest.get(end + 1..end + 1 + self.length).and_then(Id::of);
            let (mode, path) = head.split_once(' ').ok_or_else(broken)?;
            let is = match mode {
                "40000" | "040000" => EntryKind::Folder,
                "120000" => EntryKind::Link,
                "160000" => EntryKind::Submodule,
                _ => EntryKind::File,
            };
            entries.push(Entry { name: path.to_owned(), id: name.ok_or_else(broken)?, is });
            rest = rest.get(end + 1 + self.length..).unwrap_or_default();
        }
        Ok(entries)
    }

    /// A commit.
    ///
    /// # Errors
    /// Where it can't be read.
    pub fn commit(&self, id: Id) -> Result<Commit, Trouble> {
        let object = self.get(id, Kind::Commit)?;
        let text = String::from_utf8_lossy(&object.bytes);
        let broken = || Trouble::unreadable(format!("commit {} is broken", id.hex()));
        let (head, message) = text.split_once("\n\n").unwrap_or((&text, ""));
        let of = |word: &str| {
            let word = format!("{word} ");
            head.lines().filter_map(move |line| line.strip_prefix(&word).map(str::to_owned))
        };
        let tree = of("tree").next().and_then(|hex| Id::read(&hex)).ok_or_else(broken)?;
        let parents: Vec<Id> = of("parent").filter_map(|hex| Id::read(&hex)).collect();
        let (time, offset) = of("author").next().map(|it| clock(&it)).unwrap_or_default();
        let (committed, _) = of("committer").next().map(|it| clock(&it)).unwrap_or_default();
        let subject = message.trim_start().lines().next().unwrap_or_default().trim().to_owned();
        Ok(Commit { id, tree, parents, time, offset, committed, subject })
    }

    /// What a tag points at, through tags of tags.
    ///
    /// # Errors
    /// Where something of it can't be read.
    pub fn peeled(&self, id: Id) -> Result<(Id, Kind), Trouble> {
        let mut id = id;
        // Tags of tags of tags are as deep as anybody goes.
        for _ in 0..8 {
            let found = self.find(id)?;
            let missing = || Trouble::unreadable(format!("object {} is missing", id.hex()));
            let object = found.ok_or_else(missing)?;
            if object.kind != Kind::Tag {
                return Ok((id, object.kind));
            }
            let text = String::from_utf8_lossy(&object.bytes).into_owned();
            let target = text.lines().find_map(|line| line.strip_prefix("object "));
            id = target.and_then(Id::read).ok_or_else(missing)?;
        }
        Err(Trouble::unreadable("a tag that only points at tags"))
    }
}

/// The seconds and the minutes from UTC of a line of an author or committer.
fn clock(line: &str) -> (i64, i32) {
    let mut words = line.rsplit(' ');
    let (zone, seconds) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
    let digits: i32 = zone.parse().unwrap_or_default();
    (seconds.parse().unwrap_or_default(), digits / 100 * 60 + digits % 100)
}

/// A folder of objects, and those that it borrows from.
fn with_alternates(folder: PathBuf, found: &mut Vec<PathBuf>) {
    const MOST: usize = 16;
    if found.len() >= MOST || found.contains(&folder) {
        return;
    }
    let listed = fs::read_to_string(folder.join("info/alternates")).unwrap_or_default();
    found.push(folder.clone());
    for line in listed.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        with_alternates(folder.join(line), found);
    }
}

fn packs_in(folder: &Path, length: usize) -> Vec<Pack> {
    let entries = folder.read_dir().into_iter().flatten().flatten();
    let paths = entries.map(|entry| entry.path());
    let mut indices: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|it| it == "idx")).collect();
    indices.sort();
    indices.iter().filter_map(|index| Pack::open(index, length)).collect()
}
