//! Finding files, reading them and telling which belong together.

#![allow(
    clippy::disallowed_methods,
    reason = "the disk is behind the trait that this file declares"
)]

use super::findings as say;
use super::guard::guarded_at;
use crate::check::{may_deny, may_hurt};
use crate::diag::{self, Finding, Level};
use crate::formula::{STORES, understand};
use crate::source::{SourceId, Sources, Span};
use crate::syntax::{manuscript, read, tree::Tree};
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The largest file that is read, in bytes.
pub const MAX_BYTES: u64 = 8_000_000;

/// The largest number of files that are read in one run.
const MAX_FILES: usize = 50_000;

/// The largest number of entries of folders that are looked at in one run.
const MAX_ENTRIES: usize = 2_000_000;

/// The largest size of all files of a run together, in bytes.
const MAX_BYTES_OF_ALL: u64 = 400_000_000;

/// Where files come from.
pub trait FileSystem: Sync {
    /// Whether the path is a folder; an error where there is nothing.
    ///
    /// # Errors
    /// What the file system says of a path that is not there or not to be seen.
    fn is_folder(&self, path: &Path) -> io::Result<bool>;
    /// The entries of a folder: path and whether it is a folder, sorted.
    ///
    /// # Errors
    /// What the file system says of a folder that can't be listed.
    fn list(&self, folder: &Path) -> io::Result<Vec<(PathBuf, bool)>>;
    /// The size of a file in bytes.
    ///
    /// # Errors
    /// What the file system says of a file that can't be seen, or that is not an ordinary one.
    fn size(&self, path: &Path) -> io::Result<u64>;
    /// The bytes of a file, one more than `most` of them at most.
    ///
    /// # Errors
    /// What the file system says of a file that can't be read, or that is not an ordinary one:
    /// a pipe may never answer, and a device never end.
    fn bytes(&self, path: &Path, most: u64) -> io::Result<Vec<u8>>;
    /// Whether a path lies below a folder, links followed.
    ///
    /// # Errors
    /// What the file system says of a path that is not there.
    fn is_below(&self, folder: &Path, path: &Path) -> io::Result<bool>;
}

/// The path that means standard input.
const STANDARD_INPUT: &str = "-";

/// The files of this machine.
pub struct Disk;

impl FileSystem for Disk {
    fn is_folder(&self, path: &Path) -> io::Result<bool> {
        if path == Path::new(STANDARD_INPUT) {
            return Ok(false);
        }
        Ok(path.metadata()?.is_dir())
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<(PathBuf, bool)>> {
        let mut entries = Vec::new();
        for entry in folder.read_dir()? {
            let entry = entry?;
            // A link to a folder is not followed: it may lead in a circle.
            entries.push((entry.file_name(), entry.file_type()?.is_dir()));
        }
        // Names of one folder sort as their paths do, in far fewer steps.
        entries.sort_unstable();
        Ok(entries.into_iter().map(|(name, is_dir)| (folder.join(name), is_dir)).collect())
    }

    fn size(&self, path: &Path) -> io::Result<u64> {
        if path == Path::new(STANDARD_INPUT) {
            return Ok(0);
        }
        Ok(ordinary(path.metadata()?)?.len())
    }

    fn bytes(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        if path == Path::new(STANDARD_INPUT) {
            io::stdin().take(most + 1).read_to_end(&mut bytes)?;
            return Ok(bytes);
        }
        // Opening a pipe would wait for a writer, so it is asked for its kind before.
        let size = ordinary(path.metadata()?)?.len();
        let file = std::fs::File::open(path)?;
        // It may have been exchanged between the two.
        ordinary(file.metadata()?)?;
        bytes.reserve_exact(usize::try_from(size.min(most)).unwrap_or_default());
        file.take(most + 1).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn is_below(&self, folder: &Path, path: &Path) -> io::Result<bool> {
        Ok(path.canonicalize()?.starts_with(folder.canonicalize()?))
    }
}

/// What the disk says of an ordinary file.
///
/// # Errors
/// That it is none: a folder, a pipe, a socket or a device.
fn ordinary(known: std::fs::Metadata) -> io::Result<std::fs::Metadata> {
    match known {
        known if known.is_file() => Ok(known),
        known if known.is_dir() => Err(io::ErrorKind::IsADirectory.into()),
        _ => Err(io::Error::other(say::unreadable::NOT_ORDINARY)),
    }
}

/// A file, read.
#[derive(Debug)]
pub struct LoadedFile {
    /// Where it lies; `-` for standard input.
    pub path: PathBuf,
    /// The number of its text among the sources of the run.
    pub source: SourceId,
    /// What it says.
    pub tree: Tree,
    /// What reading it raised.
    pub findings: Vec<Finding>,
    /// The folder of the bakehouse it belongs to.
    root: Option<PathBuf>,
    /// Whether it was asked for, rather than read for what it declares.
    asked_for: bool,
    /// A text beside the formulas, of which only what it denies of them is read.
    is_beside: bool,
}

impl LoadedFile {
    /// A text beside the formulas that has nothing for us in it: only what it denies of their
    /// bread is read, since a book is read as one.
    pub fn is_beside(&self) -> bool {
        self.is_beside
    }

    /// Whether it was asked for, rather than read for what it declares.
    pub fn is_asked_for(&self) -> bool {
        self.asked_for
    }
}

/// All files of a run.
#[derive(Debug, Default)]
pub struct Loaded {
    /// The texts of all files and stores.
    pub sources: Sources,
    files: Vec<LoadedFile>,
    /// Sources that were read for what they declare only.
    beside: BTreeSet<SourceId>,
    /// Findings of files that could not be read.
    pub findings: Vec<Finding>,
    /// How many of them are errors about words beside the formulas: without those, all formulas are
    /// here.
    beside_unread: usize,
}

impl Loaded {
    /// Every file that was read, in the order of their paths.
    pub fn files(&self) -> &[LoadedFile] {
        &self.files
    }

    /// Whether everything that was named could be read.
    pub fn is_whole(&self) -> bool {
        let errors = self.findings.iter().filter(|finding| finding.level == Level::Error);
        errors.count() == self.beside_unread
    }

    /// The files that were asked for.
    pub fn asked_for(&self) -> impl Iterator<Item = &LoadedFile> {
        self.files.iter().filter(|file| file.asked_for)
    }

    /// Whether findings of this text are to be told.
    pub fn is_asked_for(&self, source: SourceId) -> bool {
        // What has no place, such as a file that can't be read, is always told.
        !self.beside.contains(&source)
    }

    /// Files that share a root together, with the root; each of the others alone.
    pub fn groups(&self) -> Vec<(Option<&Path>, Vec<&LoadedFile>)> {
        let mut rooted: BTreeMap<&Path, Vec<&LoadedFile>> = BTreeMap::new();
        let mut alone = Vec::new();
        for file in &self.files {
            match &file.root {
                Some(root) => rooted.entry(root).or_default().push(file),
                None => alone.push((None, vec![file])),
            }
        }
        rooted.into_iter().map(|(root, files)| (Some(root), files)).chain(alone).collect()
    }
}

/// The texts that every run has: the stores, and what is asked of a formula.
pub fn sources(asked: &str) -> Sources {
    let mut sources = Sources::default();
    for store in &STORES {
        sources.add(store.name, store.text.into());
    }
    sources.add("--makes", asked.into());
    sources
}

/// What a run read of one state of its files, so that another one is read in less time: a file
/// that says the same is taken as it is.
#[derive(Debug, Default)]
pub struct Kept {
    sources: Option<Sources>,
    files: FxHashMap<PathBuf, KeptFile>,
    /// The sources of files that say the same in both states.
    same: FxHashSet<SourceId>,
}

/// A file as it was read, before its names were understood.
#[derive(Debug)]
struct KeptFile {
    source: SourceId,
    text: Arc<str>,
    tree: Tree,
    findings: Vec<Finding>,
}

impl Kept {
    /// The sources of files that say the same in both states that were read.
    pub fn same(&self) -> &FxHashSet<SourceId> {
        &self.same
    }
}

/// Reads what the absolute paths name, and the rest of the bakehouses they belong to.
///
/// Paths below `home` are shown without it.
pub fn load(file_system: &dyn FileSystem, home: &Path, paths: &[PathBuf]) -> Loaded {
    load_beside(file_system, home, paths, None)
}

/// The same for the first or the second of two states, where the second takes what was kept of
/// the first.
pub fn load_beside(
    file_system: &dyn FileSystem,
    home: &Path,
    paths: &[PathBuf],
    mut kept: Option<&mut Kept>,
) -> Loaded {
    let before = kept.as_mut().and_then(|kept| kept.sources.take());
    let is_first = before.is_none();
    let shown = |path: &Path| match path.strip_prefix(home).unwrap_or(path) {
        here if here.as_os_str().is_empty() => ".".to_owned(),
        path => path.display().to_string(),
    };
    let sources = before.unwrap_or_else(|| sources(""));
    let mut loaded = Loaded { sources, ..Loaded::default() };
    let Some(asked_for) = gathered(file_system, &shown, paths.iter(), &mut loaded.findings) else {
        return loaded;
    };
    let mut roots: BTreeSet<PathBuf> =
        paths.iter().filter_map(|path| root_above(file_system, path)).collect();
    let Some(mut all) = gathered(file_system, &shown, roots.iter(), &mut loaded.findings) else {
        return loaded;
    };
    // Whoever names a whole bakehouse has named all that it holds.
    if all != asked_for {
        all.extend(asked_for.iter().cloned());
    }
    let only_asked = all.len() == asked_for.len();
    let bytes = all.iter().map(|path| file_system.size(path).unwrap_or_default().min(MAX_BYTES));
    let bytes: u64 = bytes.sum();
    if bytes > MAX_BYTES_OF_ALL {
        let first = paths.first().map(|path| shown(path)).unwrap_or_default();
        loaded.findings.push(say::house_too_large::bytes(&first, bytes, MAX_BYTES_OF_ALL));
        return loaded;
    }
    let texts: Vec<(PathBuf, Text)> = all
        .into_par_iter()
        .map(|path| {
            let text = text_of(file_system, &path, &shown(&path));
            (path, text)
        })
        .collect();
    let mut numbered = Vec::new();
    let mut unread = Vec::new();
    let named: FxHashSet<&Path> = paths.iter().map(PathBuf::as_path).collect();
    for (path, text) in texts {
        let is_named = named.contains(path.as_path());
        // What was woven is no manuscript again, and collected pages may be none at all.
        let is_none = |text: &std::sync::Arc<str>| is_woven(text) || is_turned_off(text);
        if !is_named && is_manuscript(&path) && text.as_ref().is_ok_and(is_none) {
            continue;
        }
        match text {
            // Of the texts that lie in a folder, only those with formulas or words for us
            // belong to it, and what denies something of its bread.
            Ok(text)
                if is_named
                    || !is_manuscript(&path)
                    || is_for_us(&text)
                    || may_deny(&text)
                    || may_hurt(&text) =>
            {
                let is_beside = !is_named && is_manuscript(&path) && !is_for_us(&text);
                let known = kept.as_mut().and_then(|kept| kept.files.remove(&path));
                let known = known.filter(|known| known.text == text);
                let id = match &known {
                    Some(known) => known.source,
                    None => loaded.sources.add(&shown(&path), text.clone()),
                };
                numbered.push((path, id, text, known, is_beside));
            }
            Ok(_) => {}
            Err(text) if !is_named && is_manuscript(&path) => unread.push((path, text)),
            Err(text) => loaded.findings.push(text.finding),
        }
    }
    let is_kept = kept.is_some();
    let read: Vec<(LoadedFile, Option<KeptFile>, bool)> = numbered
        .into_par_iter()
        .map(|(path, source, text, known, is_beside)| {
            let is_same = known.is_some();
            let (tree, findings) = match known {
                Some(known) => (known.tree, known.findings),
                None => {
                    let name = path.file_name().unwrap_or_default().to_string_lossy();
                    let read = guarded_at(Span { source, start: 0, end: 0 }, &name, || {
                        read_file(&path, source, &text)
                    });
                    read.unwrap_or_else(|bug| (Tree::default(), vec![*bug]))
                }
            };
            let keeps = (is_first && is_kept).then(|| {
                let (tree, findings) = (tree.clone(), findings.clone());
                KeptFile { source, text, tree, findings }
            });
            let asked_for = only_asked || asked_for.contains(&path);
            let file =
                LoadedFile { path, source, tree, findings, root: None, asked_for, is_beside };
            (file, keeps, is_same)
        })
        .collect();
    for (file, keeps, is_same) in read {
        if let Some(kept) = &mut kept {
            kept.files.extend(keeps.map(|keeps| (file.path.clone(), keeps)));
            kept.same.extend(is_same.then_some(file.source));
        }
        loaded.files.push(file);
    }
    if let Some(kept) = kept.filter(|_| is_first) {
        kept.sources = Some(loaded.sources.clone());
    }
    let beside = loaded.files.iter().filter(|file| !file.asked_for);
    loaded.beside = beside.map(|file| file.source).collect();
    let marked = loaded.files.iter().filter(|file| !file.tree.bakehouses.is_empty());
    roots.extend(marked.filter_map(|file| file.path.parent().map(Path::to_path_buf)));
    let root_of = |path: &Path| {
        let mut above = path.parent().into_iter().flat_map(folders_up);
        above.find(|folder| roots.contains(*folder)).map(Path::to_path_buf)
    };
    for file in &mut loaded.files {
        file.root = root_of(&file.path);
    }
    for (path, text) in unread {
        // Whoever relies on a bakehouse relies on every text in it that may speak of its bread;
        // elsewhere nobody can say what it is, and most texts are none of ours.
        let matters = root_of(&path).is_some() && text.holds != Unread::Nothing;
        let level = if matters { Level::Error } else { Level::Note };
        loaded.beside_unread += usize::from(matters && text.holds == Unread::Words);
        loaded.findings.push(text.finding.level(level));
    }
    // A text of no bakehouse speaks of no bread of ours.
    loaded.files.retain(|file| !file.is_beside || file.root.is_some());
    understand_names(&mut loaded.files);
    loaded
}

/// Names mean what the house of a file gives them, and then what people mean by them.
fn understand_names(files: &mut [LoadedFile]) {
    let mut rooted: BTreeMap<PathBuf, Vec<&mut Tree>> = BTreeMap::new();
    let mut groups: Vec<Vec<&mut Tree>> = Vec::new();
    for file in files {
        match &file.root {
            Some(root) => rooted.entry(root.clone()).or_default().push(&mut file.tree),
            None => groups.push(vec![&mut file.tree]),
        }
    }
    groups.extend(rooted.into_values());
    groups.into_par_iter().for_each(|mut trees| understand(&mut trees));
}

/// What a file says that is no longer on the disk; none for one that is no text of ours, or
/// that lies in a folder without formulas in it.
pub fn read_old(path: &Path, source: SourceId, bytes: &[u8]) -> Option<Tree> {
    let is_ours = is_source(path) || is_manuscript(path);
    let text = std::str::from_utf8(bytes).ok().filter(|text| !text.contains('\0'))?;
    if !is_ours || text.len() as u64 > MAX_BYTES || is_manuscript(path) && !is_for_us(text) {
        return None;
    }
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let read =
        guarded_at(Span { source, start: 0, end: 0 }, &name, || read_file(path, source, text).0);
    Some(read.unwrap_or_default())
}

/// Bytes of a text without the mark that some editors put before it.
pub fn without_mark(bytes: &[u8]) -> &[u8] {
    bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes)
}

/// Whether a run reads a file that lies in a folder.
pub fn is_read(path: &Path) -> bool {
    (is_source(path) || is_manuscript(path)) && !is_hidden(path)
}

/// Reads a file as what it is.
fn read_file(path: &Path, source: SourceId, text: &str) -> (Tree, Vec<Finding>) {
    if is_table(path) {
        return (Tree::default(), Vec::new());
    }
    if !is_manuscript(path) {
        return read(source, text);
    }
    let (tree, mut findings) = read(source, &manuscript::only_formulas(text));
    findings.extend(manuscript::doubtful(source, text));
    for unsettled in manuscript::unsettled(source, text) {
        let is_told =
            |it: &Finding| it.rule.name == unsettled.rule.name && it.span() == unsettled.span();
        if !findings.iter().any(is_told) {
            findings.push(unsettled);
        }
    }
    diag::sort(&mut findings);
    (tree, findings)
}

fn is_source(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "dough")
}

/// Whether a manuscript holds formulas, or a comment that is for us.
fn is_for_us(text: &str) -> bool {
    if is_woven(text) {
        return false;
    }
    holds_formulas(text) || text.contains("<!-- assize:") || text.contains("<!--assize:")
}

/// Whether a text without formulas is turned off before its first word, and nowhere on again:
/// then it is no manuscript, so nothing is woven from it either.
pub fn is_turned_off(text: &str) -> bool {
    let mut rest = text.trim_start();
    while let Some(comment) = rest.strip_prefix("<!--") {
        let Some((inside, behind)) = comment.split_once("-->") else { return false };
        if inside.trim() == "assize: off" {
            return !behind.contains("assize: on") && !holds_formulas(text);
        }
        rest = behind.trim_start();
    }
    false
}

/// The last line of a Markdown file that `weave` wrote.
pub const WOVEN_MARK: &str = "<!-- woven by assize -->";

/// Whether a text is what `weave` made of a manuscript.
pub fn is_woven(text: &str) -> bool {
    text.trim_end().ends_with(WOVEN_MARK)
}

/// Whether a manuscript holds formulas, or blocks that may have been meant as such.
fn holds_formulas(text: &str) -> bool {
    !manuscript::blocks(text).is_empty() || !manuscript::doubtful(SourceId::ASKED, text).is_empty()
}

/// Whether a file is a manuscript with formulas in it.
pub fn is_manuscript(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "md" || extension == "markdown")
}

/// Whether a file is a table, which is read when it is named.
pub fn is_table(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("csv"))
}

/// Whether a file or folder is meant to be out of sight, such as what editors and other
/// systems leave beside a file: `.#loaf.dough`, `._loaf.dough`.
fn is_hidden(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'))
}

/// The files of a run, while folders are walked.
struct Gathering<'a> {
    file_system: &'a dyn FileSystem,
    shown: &'a dyn Fn(&Path) -> String,
    /// In the order of the folders, where a file is named twice twice.
    found: Vec<PathBuf>,
    /// How many more entries of folders are looked at.
    entries_left: usize,
    findings: &'a mut Vec<Finding>,
}

impl Gathering<'_> {
    /// The `*.dough` files and manuscripts of a path; what is hidden is passed over.
    fn gather(&mut self, path: &Path) {
        let listed = match self.file_system.is_folder(path) {
            Ok(false) => {
                self.found.push(path.to_path_buf());
                return;
            }
            Ok(true) => self.file_system.list(path),
            Err(error) => Err(error),
        };
        let entries = match listed {
            Ok(entries) => entries,
            Err(error) => {
                let name = (self.shown)(path);
                self.findings.push(say::unreadable::finding(&name, &say::why(&error)));
                return;
            }
        };
        for (entry, folder) in entries.into_iter().filter(|(entry, _)| !is_hidden(entry)) {
            if self.entries_left == 0 {
                return;
            }
            self.entries_left -= 1;
            if folder {
                self.gather(&entry);
            } else if is_source(&entry) || is_manuscript(&entry) {
                self.found.push(entry);
            }
        }
    }
}

/// The files that some paths name or hold; none and a finding where they are more than are
/// read.
fn gathered<'p>(
    file_system: &dyn FileSystem,
    shown: &dyn Fn(&Path) -> String,
    paths: impl Iterator<Item = &'p PathBuf>,
    findings: &mut Vec<Finding>,
) -> Option<BTreeSet<PathBuf>> {
    let found = Vec::new();
    let mut gathering =
        Gathering { file_system, shown, found, entries_left: MAX_ENTRIES, findings };
    for path in paths {
        gathering.gather(path);
        if gathering.found.len() > MAX_FILES {
            gathering.found.sort_unstable();
            gathering.found.dedup();
        }
        let too_many = gathering.found.len() > MAX_FILES;
        if too_many || gathering.entries_left == 0 {
            let finding = match too_many {
                true => say::house_too_large::files(&shown(path), MAX_FILES),
                false => say::house_too_large::entries(&shown(path), MAX_ENTRIES),
            };
            gathering.findings.push(finding);
            return None;
        }
    }
    // They lie nearly in order, so that sorting them once takes far fewer steps than finding
    // a place for each.
    Some(gathering.found.into_iter().collect())
}

/// The nearest folder at or above a path that holds a `bakehouse` block.
pub fn root_above(file_system: &dyn FileSystem, path: &Path) -> Option<PathBuf> {
    let start = match file_system.is_folder(path) {
        Ok(true) => Some(path),
        _ => path.parent(),
    }?;
    let mut folders = folders_up(start);
    let found = folders.find(|folder| {
        let entries = file_system.list(folder).unwrap_or_default();
        let files = entries.iter().filter(|(entry, folder)| !folder && !is_hidden(entry));
        let mut files = files.map(|(entry, _)| entry);
        files.any(|file| marks_a_bakehouse(file_system, file))
    });
    found.map(Path::to_path_buf)
}

/// A folder and those above it, up to a hidden one: a bakehouse passes over the hidden
/// folders in it, so what lies in them is not its own.
fn folders_up(start: &Path) -> impl Iterator<Item = &Path> {
    let mut below = false;
    start.ancestors().take_while(move |folder| {
        let is_own = !below;
        below |= is_hidden(folder);
        is_own
    })
}

/// Whether a file holds a `bakehouse` block.
fn marks_a_bakehouse(file_system: &dyn FileSystem, file: &Path) -> bool {
    let in_words = is_manuscript(file);
    if !(in_words || is_source(file)) || !file_system.size(file).is_ok_and(|size| size <= MAX_BYTES)
    {
        return false;
    }
    let bytes = file_system.bytes(file, MAX_BYTES).unwrap_or_default();
    let is_marked = holds_bakehouse(&bytes);
    match std::str::from_utf8(&bytes) {
        // In a manuscript only the formulas count.
        Ok(text) if in_words && is_marked => {
            holds_bakehouse(manuscript::only_formulas(text).as_bytes())
        }
        _ => is_marked && !in_words,
    }
}

/// Whether a line begins a `bakehouse` block.
fn holds_bakehouse(text: &[u8]) -> bool {
    text.split(|&byte| byte == b'\n').any(|line| {
        let line = line.trim_ascii_start();
        let head = line.get(..9).unwrap_or_default();
        head.eq_ignore_ascii_case(b"bakehouse")
            && line.get(9).is_none_or(|byte| matches!(byte, b' ' | b'\t' | b'{' | b'\r'))
    })
}

/// A text, or why it can't be had.
type Text = Result<Arc<str>, Box<UnreadText>>;

/// A text that can't be had.
struct UnreadText {
    finding: Finding,
    /// What would be missed, were it a manuscript.
    holds: Unread,
}

/// What a text that can't be read most likely holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unread {
    /// Neither formulas nor a word about their bread: what is no ordinary file is no text.
    Nothing,
    /// Words about bread, or nobody can say.
    Words,
    /// Formulas.
    Formulas,
}

impl Unread {
    /// Of bytes that are not UTF-8: read letter by letter, as old systems and UTF-16 write them, so
    /// far as Latin letters go.
    fn of(bytes: &[u8]) -> Self {
        let text: String =
            bytes.iter().filter(|byte| **byte != 0).map(|&it| char::from(it)).collect();
        match () {
            () if is_for_us(&text) => Self::Formulas,
            () if may_deny(&text) || may_hurt(&text) => Self::Words,
            () => Self::Nothing,
        }
    }
}

fn text_of(file_system: &dyn FileSystem, path: &Path, name: &str) -> Text {
    let unread = |finding: Finding, holds: Unread| Box::new(UnreadText { finding, holds });
    let unreadable = |error: io::Error| {
        let why = say::why(&error);
        let is_no_text =
            why == say::unreadable::NOT_ORDINARY || error.kind() == io::ErrorKind::NotFound;
        let holds = if is_no_text { Unread::Nothing } else { Unread::Words };
        unread(say::unreadable::finding(name, &why), holds)
    };
    let too_large =
        |size: u64| unread(say::file_too_large::finding(name, size, MAX_BYTES), Unread::Words);
    let size = file_system.size(path).map_err(unreadable)?;
    if size > MAX_BYTES {
        return Err(too_large(size));
    }
    let bytes = file_system.bytes(path, MAX_BYTES).map_err(unreadable)?;
    // Standard input tells its size only by being read.
    if bytes.len() as u64 > MAX_BYTES {
        return Err(too_large(bytes.len() as u64));
    }
    if let Some(at) = bytes.iter().position(|&byte| byte == 0) {
        return Err(unread(say::not_utf_8::finding(name, at, true), Unread::of(&bytes)));
    }
    match String::from_utf8(bytes) {
        // Markdown knows no mark before its first line; places stay what they are.
        Ok(text) if is_manuscript(path) => Ok(match text.strip_prefix('\u{feff}') {
            Some(rest) => format!("   {rest}").into(),
            None => text.into(),
        }),
        Ok(text) => Ok(text.into()),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let finding = say::not_utf_8::finding(name, at, false);
            Err(unread(finding, Unread::of(error.as_bytes())))
        }
    }
}
