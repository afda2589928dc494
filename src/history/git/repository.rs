//! A repository: where its files lie, what its branches and tags point at, and its objects.

use super::{Trouble, ordinary};
use gix::bstr::{BStr, ByteSlice};
use gix::diff::tree::{Recorder, State, recorder};
use gix::discover::upwards;
use gix::index::entry::{Flags, Mode, Stage};
use gix::objs::tree::EntryMode;
use gix::objs::{Kind, TreeRefIter};
use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The name of an object: 20 bytes of SHA-1, or 32 of SHA-256.
pub type Id = gix::ObjectId;

/// The largest object that is read, in bytes; a file of formulas has 8 MB at most.
const MAX_BYTES: usize = 64_000_000;

/// Bytes of objects that are kept at hand: a state of a large house, and what it is packed
/// as changes of.
const KEPT_BYTES: usize = 64_000_000;

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

impl EntryKind {
    fn of(mode: EntryMode) -> Self {
        match (mode.is_tree(), mode.is_link(), mode.is_commit()) {
            (true, ..) => Self::Folder,
            (_, true, _) => Self::Link,
            (.., true) => Self::Submodule,
            _ => Self::File,
        }
    }

    fn staged(mode: Mode) -> Self {
        match mode {
            Mode::DIR => Self::Folder,
            Mode::SYMLINK => Self::Link,
            Mode::COMMIT => Self::Submodule,
            _ => Self::File,
        }
    }
}

/// A file of some state: its path from the top or its name in its folder, its object and what
/// it is.
pub type GitEntry = (String, Id, EntryKind);

/// A path that is not the same in two trees, with what it is in the second; nothing where it
/// is gone.
pub type Changed = (String, Option<(Id, EntryKind)>);

/// A repository.
pub struct Repository {
    /// One reader for all threads, so that what it unpacked serves them all.
    reader: Mutex<gix::Repository>,
    /// The folder that is worked in; that of the repository itself where it is bare.
    pub top: PathBuf,
    /// Whether nothing is worked in.
    pub is_bare: bool,
    /// Repositories that stand inside of this one, by their paths from the top; none where only
    /// the name of their commit is known here.
    inner: Mutex<BTreeMap<String, Option<gix::Repository>>>,
}

impl std::fmt::Debug for Repository {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "the repository of {}", self.top.display())
    }
}

impl Repository {
    /// The repository that a folder is in.
    ///
    /// # Errors
    /// Where there is none, or it can't be read.
    pub fn above(folder: &Path) -> Result<Self, Trouble> {
        ordinary::above(folder)?;
        let options = options();
        let trust = gix::sec::trust::Mapping { full: options.clone(), reduced: options };
        let search = upwards::Options { cross_fs: true, ..upwards::Options::default() };
        let opened = gix::ThreadSafeRepository::discover_opts(folder, search, trust);
        let reader = opened.map_err(|error| not_opened(&error))?.to_thread_local();
        has_known_branches(&reader)?;
        let top = reader.workdir().unwrap_or_else(|| reader.git_dir());
        // By the name by which the folder was asked for, however links lead to it.
        let same = |at: &&Path| at.canonicalize().ok() == top.canonicalize().ok();
        let top = folder.ancestors().find(same).unwrap_or(top).to_path_buf();
        let is_bare = reader.workdir().is_none();
        Ok(Self { top, is_bare, reader: Mutex::new(reader), inner: Mutex::default() })
    }

    /// The one reader, for as long as its answer is needed.
    pub(super) fn reader(&self) -> MutexGuard<'_, gix::Repository> {
        self.reader.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A path from the top of the repository; none for one outside of it.
    pub fn inside(&self, path: &Path) -> Option<String> {
        let below = path.strip_prefix(&self.top).ok()?;
        let mut parts: Vec<String> = Vec::new();
        for part in below.components() {
            match part {
                Component::Normal(name) => parts.push(name.to_string_lossy().into_owned()),
                Component::ParentDir => drop(parts.pop()?),
                _ => {}
            }
        }
        Some(parts.join("/"))
    }

    /// Whether files may be missing here that others have: a partial clone.
    pub fn is_partial(&self) -> bool {
        let reader = self.reader();
        let config = reader.config_snapshot();
        let of_remotes = reader.remote_names().into_iter().any(|name| {
            let key = format!("remote.{name}.promisor");
            config.boolean(key.as_str()) == Some(true)
        });
        of_remotes || config.string("extensions.partialClone").is_some()
    }

    /// The file of its settings.
    pub fn config_file(&self) -> PathBuf {
        self.reader().common_dir().join("config")
    }

    /// The tree of a commit of the repository that stands at a path from the top; none where
    /// that repository is not here.
    ///
    /// # Errors
    /// Where it has no such commit, or it can't be read.
    pub fn inner_tree(&self, path: &str, commit: Id) -> Result<Option<Id>, Trouble> {
        let mut inner = self.inner.lock().unwrap_or_else(PoisonError::into_inner);
        if !inner.contains_key(path) {
            let kept = self.reader().common_dir().join("modules").join(path);
            let found = [self.top.join(path), kept].into_iter().filter(|at| at.is_dir());
            let mut opened = None;
            for at in found {
                ordinary::at(&at)?;
                opened = opened.or_else(|| gix::open_opts(at, options()).ok());
            }
            inner.insert(path.to_owned(), opened);
        }
        let Some(Some(reader)) = inner.get(path) else { return Ok(None) };
        let found = reader.find_commit(commit).map_err(|_| {
            Trouble::unreadable(format!(
                "the submodule `{path}` has no commit {commit} here; `git submodule update` \
                 brings it"
            ))
        })?;
        found.tree_id().map(|id| Some(id.detach())).map_err(|error| Trouble::of(&error))
    }

    /// Asks this repository for something, and those that stand inside of it where it has not.
    fn anywhere<T>(
        &self,
        ask: impl Fn(&gix::Repository) -> Result<T, gix::Error>,
    ) -> Result<T, Trouble> {
        let trouble = match ask(&self.reader()) {
            Ok(found) => return Ok(found),
            Err(error) => Trouble::of(&error),
        };
        let inner = self.inner.lock().unwrap_or_else(PoisonError::into_inner);
        inner.values().flatten().find_map(|reader| ask(reader).ok()).ok_or(trouble)
    }

    fn object(&self, id: Id, kind: Kind) -> Result<Vec<u8>, Trouble> {
        let (is, data) = self.anywhere(|reader| {
            let mut object = reader.find_object(id)?;
            Ok((object.kind, std::mem::take(&mut object.data)))
        })?;
        if is != kind {
            return Err(Trouble::unreadable(format!("object {id} is of another kind")));
        }
        Ok(data)
    }

    /// The bytes of a file of some revision.
    ///
    /// # Errors
    /// Where they can't be read.
    pub fn blob(&self, id: Id) -> Result<Vec<u8>, Trouble> {
        self.object(id, Kind::Blob)
    }

    /// How many bytes a file of some revision has, without reading all of it.
    ///
    /// # Errors
    /// Where that can't be read.
    pub fn size(&self, id: Id) -> Result<u64, Trouble> {
        self.anywhere(|reader| Ok(reader.find_header(id)?.size()))
    }

    /// The entries of a tree, by their names.
    ///
    /// # Errors
    /// Where it can't be read.
    pub fn tree(&self, id: Id) -> Result<Vec<GitEntry>, Trouble> {
        let bytes = self.object(id, Kind::Tree)?;
        let entries = TreeRefIter::from_bytes(&bytes, id.kind()).map(|entry| {
            let entry = entry.map_err(|_| Trouble::unreadable(format!("tree {id} is broken")))?;
            Ok((text(entry.filename), entry.oid.to_owned(), EntryKind::of(entry.mode)))
        });
        entries.collect()
    }

    /// What is not the same in two trees, folders left out.
    ///
    /// # Errors
    /// Where one can't be read.
    pub fn changes(&self, old: Id, new: Id) -> Result<Vec<Changed>, Trouble> {
        let (before, after) = (self.object(old, Kind::Tree)?, self.object(new, Kind::Tree)?);
        let (before, after) = (
            TreeRefIter::from_bytes(&before, old.kind()),
            TreeRefIter::from_bytes(&after, new.kind()),
        );
        let mut recorder = Recorder::default();
        gix::diff::tree(before, after, State::default(), &self.reader().objects, &mut recorder)
            .map_err(|error| Trouble::unreadable(error.to_string()))?;
        Ok(recorder.records.into_iter().flat_map(changed).collect())
    }

    /// The staged files, by their paths from the top.
    ///
    /// # Errors
    /// Where the index is of a kind that is not read.
    pub fn staged(&self) -> Result<Vec<GitEntry>, Trouble> {
        let index = self.reader().index_or_empty().map_err(|error| Trouble::of(&error))?;
        let mut all = Vec::new();
        for entry in index.entries() {
            // Nobody has staged yet what a merge could not settle.
            if entry.stage() != Stage::Unconflicted {
                return Err(Trouble::NotMerged(text(entry.path(&index))));
            }
            // What was only announced is not staged.
            if entry.flags.contains(Flags::INTENT_TO_ADD) {
                continue;
            }
            let path = text(entry.path(&index)).trim_end_matches('/').to_owned();
            match EntryKind::staged(entry.mode) {
                // Of a folder that is not checked out only its tree is known.
                EntryKind::Folder => self.below(&path, entry.id, &mut all)?,
                is => all.push((path, entry.id, is)),
            }
        }
        Ok(all)
    }

    /// All files of a tree, their paths after that of the tree.
    fn below(&self, folder: &str, tree: Id, all: &mut Vec<GitEntry>) -> Result<(), Trouble> {
        for (name, id, is) in self.tree(tree)? {
            let path = format!("{folder}/{name}");
            match is {
                EntryKind::Folder => self.below(&path, id, all)?,
                is => all.push((path, id, is)),
            }
        }
        Ok(())
    }

    /// All branches and tags by their short names.
    pub fn names(&self) -> Vec<String> {
        let reader = self.reader();
        let Ok(platform) = reader.references() else { return Vec::new() };
        let all = platform.all().into_iter().flatten().flatten();
        let mut names: Vec<String> = all.map(|it| text(it.name().shorten())).collect();
        names.sort();
        names.dedup();
        names
    }
}

/// How a repository is opened: neither the environment nor anybody's settings change what is
/// read.
fn options() -> gix::open::Options {
    gix::open::Options::isolated().config_overrides([
        format!("gitoxide.objects.allocLimit={MAX_BYTES}"),
        format!("gitoxide.objects.cacheLimit={KEPT_BYTES}"),
        format!("core.deltaBaseCacheLimit={KEPT_BYTES}"),
    ])
}

/// Bytes of git's as a text, whatever they are.
pub(super) fn text(bytes: &BStr) -> String {
    bytes.to_str_lossy().into_owned()
}

fn changed(change: recorder::Change) -> Option<Changed> {
    use recorder::Change::{Addition, Deletion, Modification};
    let (path, now) = match change {
        Addition { entry_mode, oid, path, .. } | Modification { entry_mode, oid, path, .. } => {
            (path, Some((oid, EntryKind::of(entry_mode))))
        }
        Deletion { entry_mode, path, .. } if !entry_mode.is_tree() => (path, None),
        Deletion { .. } => return None,
    };
    let is_folder = now.is_some_and(|(_, is)| is == EntryKind::Folder);
    (!is_folder).then(|| (text(path.as_bstr()), now))
}

fn not_opened(error: &gix::Error) -> Trouble {
    use upwards::Error::{NoGitRepository, NoGitRepositoryWithinCeiling, NoGitRepositoryWithinFs};
    match error.downcast_any_ref::<upwards::Error>() {
        Some(
            NoGitRepository { .. }
            | NoGitRepositoryWithinCeiling { .. }
            | NoGitRepositoryWithinFs { .. },
        ) => Trouble::NoRepository,
        _ => Trouble::of(error),
    }
}

/// gix reads branches and tags that are files; of any other kind it would see none.
fn has_known_branches(reader: &gix::Repository) -> Result<(), Trouble> {
    let storage = reader.config_snapshot().string("extensions.refStorage");
    let is_known = storage.is_none_or(|it| it.eq_ignore_ascii_case(b"files"));
    if is_known && !reader.common_dir().join("reftable").is_dir() {
        return Ok(());
    }
    Err(Trouble::unreadable(
        "it keeps its branches in the `reftable` format, which is not read yet; `git refs \
         migrate --ref-format=files` changes that",
    ))
}
