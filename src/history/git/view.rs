//! The files of a revision, or the staged ones, as a file system.

use super::Trouble;
use super::repository::{EntryKind, Id, Repository};
use crate::desk::FileSystem;
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// The most links that lead from one to another.
const MAX_LINKS: usize = 5;

/// An entry of a folder.
type Node = (Id, EntryKind);

/// The files of one state of a repository, at the paths at which they are worked on.
pub struct View<'r> {
    repository: &'r Repository,
    /// The tree of a revision; none for what is staged.
    tree: Option<Id>,
    /// Of what is staged, the entries of each folder.
    staged: BTreeMap<String, BTreeMap<String, Node>>,
    /// Folders that were read.
    folders: Mutex<FxHashMap<Id, Arc<BTreeMap<String, Node>>>>,
}

fn told(trouble: &Trouble) -> io::Error {
    let in_git = crate::desk::unreadable::IN_GIT;
    io::Error::other(match trouble {
        Trouble::Unreadable(why) => format!("{in_git}{why}"),
        Trouble::NotMerged(path) => format!("`{path}` is not merged yet"),
        _ => "its repository can't be read".to_owned(),
    })
}

impl<'r> View<'r> {
    /// The files of a tree.
    pub fn of_tree(repository: &'r Repository, tree: Id) -> Self {
        Self { repository, tree: Some(tree), staged: BTreeMap::new(), folders: Mutex::default() }
    }

    /// The staged files.
    ///
    /// # Errors
    /// Where the index can't be read.
    pub fn of_staged(repository: &'r Repository) -> Result<Self, Trouble> {
        let mut staged: BTreeMap<String, BTreeMap<String, Node>> = BTreeMap::new();
        staged.entry(String::new()).or_default();
        for (path, id, is) in repository.staged()? {
            let mut below: &str = &path;
            let mut node = (id, is);
            loop {
                let (folder, name) = below.rsplit_once('/').unwrap_or(("", below));
                let entries = staged.entry(folder.to_owned()).or_default();
                let known = entries.insert(name.to_owned(), node).is_some();
                if folder.is_empty() || known {
                    break;
                }
                below = folder;
                // What a folder is called does not matter: its entries are at hand.
                node = (id, EntryKind::Folder);
            }
        }
        Ok(Self { repository, tree: None, staged, folders: Mutex::default() })
    }

    fn entries(&self, tree: Id) -> io::Result<Arc<BTreeMap<String, Node>>> {
        let kept = self.folders.lock().unwrap_or_else(PoisonError::into_inner).get(&tree).cloned();
        if let Some(entries) = kept {
            return Ok(entries);
        }
        let entries = self.repository.tree(tree).map_err(|it| told(&it))?;
        let entries = entries.into_iter().map(|(name, id, is)| (name, (id, is)));
        let entries = Arc::new(entries.collect());
        let mut folders = self.folders.lock().unwrap_or_else(PoisonError::into_inner);
        folders.insert(tree, Arc::clone(&entries));
        Ok(entries)
    }

    /// The entries of the folder at a path from the top.
    fn folder(&self, path: &str) -> io::Result<Arc<BTreeMap<String, Node>>> {
        let missing = || io::Error::from(io::ErrorKind::NotFound);
        let staged = |at: &str| self.staged.get(at).map(|it| Arc::new(it.clone()));
        if let Some(entries) = staged(path) {
            return Ok(entries);
        }
        let mut entries = match self.tree {
            Some(tree) => self.entries(tree)?,
            None => staged("").ok_or_else(missing)?,
        };
        let mut at = String::new();
        for part in path.split('/').filter(|part| !part.is_empty()) {
            at = if at.is_empty() { part.to_owned() } else { format!("{at}/{part}") };
            let (id, is) = *entries.get(part).ok_or_else(missing)?;
            entries = match is {
                EntryKind::Folder => match staged(&at) {
                    Some(entries) => entries,
                    None => self.entries(id)?,
                },
                EntryKind::Submodule => self.inner(&at, id)?,
                _ => return Err(io::ErrorKind::NotADirectory.into()),
            };
        }
        Ok(entries)
    }

    /// The entries of a commit of another repository, which stands at a path from the top; none
    /// where it is not here, as then nothing of it can be worked on.
    fn inner(&self, path: &str, commit: Id) -> io::Result<Arc<BTreeMap<String, Node>>> {
        match self.repository.inner_tree(path, commit).map_err(|it| told(&it))? {
            Some(tree) => self.entries(tree),
            None => Ok(Arc::default()),
        }
    }

    fn node(&self, path: &Path) -> io::Result<Node> {
        let missing = || io::Error::from(io::ErrorKind::NotFound);
        let inside = self.repository.inside(path).ok_or_else(missing)?;
        let (folder, name) = inside.rsplit_once('/').unwrap_or(("", &inside));
        self.folder(folder)?.get(name).copied().ok_or_else(missing)
    }

    /// The object that stands at a path; none where there is nothing.
    pub fn id_of(&self, path: &Path) -> Option<Id> {
        self.node(path).ok().map(|(id, _)| id)
    }

    /// The files below a folder that are wanted by their names, by their paths from the top;
    /// what is hidden is passed over, and links and submodules are what they lead to. Tells
    /// whether there are any.
    ///
    /// # Errors
    /// Where a folder can't be read.
    pub fn files_below(
        &self,
        folder: &Path,
        is_wanted: &dyn Fn(&str) -> bool,
        found: &mut BTreeMap<String, Id>,
    ) -> Result<bool, Trouble> {
        let Some(inside) = self.repository.inside(folder) else { return Ok(false) };
        match self.folder(&inside) {
            Ok(entries) => self.gather(&inside, &entries, is_wanted, found),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(false),
            Err(error) if error.kind() == io::ErrorKind::NotADirectory => Ok(false),
            Err(error) => Err(Trouble::unreadable(error.to_string())),
        }
    }

    fn gather(
        &self,
        folder: &str,
        entries: &BTreeMap<String, Node>,
        is_wanted: &dyn Fn(&str) -> bool,
        found: &mut BTreeMap<String, Id>,
    ) -> Result<bool, Trouble> {
        let mut has_links = false;
        for (name, (id, is)) in entries.iter().filter(|(name, _)| !name.starts_with('.')) {
            let path = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
            match is {
                EntryKind::Folder => {
                    let read = self.entries(*id);
                    let inner = read.map_err(|error| Trouble::unreadable(error.to_string()))?;
                    has_links |= self.gather(&path, &inner, is_wanted, found)?;
                }
                EntryKind::Submodule => {
                    has_links = true;
                    let read = self.inner(&path, *id);
                    let inner = read.map_err(|error| Trouble::unreadable(error.to_string()))?;
                    self.gather(&path, &inner, is_wanted, found)?;
                }
                EntryKind::File if is_wanted(name) => drop(found.insert(path, *id)),
                EntryKind::Link if is_wanted(name) => {
                    has_links = true;
                    if let Ok(id) = self.blob(&self.repository.top.join(&path)) {
                        found.insert(path, id);
                    }
                }
                _ => {}
            }
        }
        Ok(has_links)
    }

    fn blob(&self, path: &Path) -> io::Result<Id> {
        let mut path = path.to_path_buf();
        for _ in 0..MAX_LINKS {
            match self.node(&path)? {
                (id, EntryKind::File) => return Ok(id),
                (id, EntryKind::Link) => {
                    let target = self.object(id)?;
                    let target = PathBuf::from(String::from_utf8_lossy(&target).into_owned());
                    path = path.parent().unwrap_or(&path).join(target);
                }
                _ => return Err(io::ErrorKind::IsADirectory.into()),
            }
        }
        Err(io::Error::other("it is a link that leads in a circle"))
    }

    fn object(&self, id: Id) -> io::Result<Vec<u8>> {
        self.repository.blob(id).map_err(|it| told(&it))
    }
}

impl FileSystem for View<'_> {
    fn is_folder(&self, path: &Path) -> io::Result<bool> {
        match self.repository.inside(path) {
            Some(inside) if inside.is_empty() => Ok(true),
            Some(_) => Ok(matches!(self.node(path)?.1, EntryKind::Folder | EntryKind::Submodule)),
            None => Err(io::ErrorKind::NotFound.into()),
        }
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<(PathBuf, bool)>> {
        let inside = self.repository.inside(folder).ok_or(io::ErrorKind::NotFound)?;
        let entries = self.folder(&inside)?;
        let is_folder = |is: &EntryKind| matches!(is, EntryKind::Folder | EntryKind::Submodule);
        Ok(entries.iter().map(|(name, (_, is))| (folder.join(name), is_folder(is))).collect())
    }

    fn size(&self, path: &Path) -> io::Result<u64> {
        self.repository.size(self.blob(path)?).map_err(|it| told(&it))
    }

    fn bytes(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        let mut bytes = self.object(self.blob(path)?)?;
        bytes.truncate(usize::try_from(most).unwrap_or(usize::MAX).saturating_add(1));
        Ok(bytes)
    }

    fn is_below(&self, folder: &Path, path: &Path) -> io::Result<bool> {
        Ok(path.starts_with(folder))
    }
}
