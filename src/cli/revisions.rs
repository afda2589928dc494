//! States that the command line names: the files as they are, what is staged, a revision.

use super::asked::home;
use super::exit::Exit;
use super::tell::{tell_on_error, usage};
use crate::desk::{
    self, BlockForm, BookForm, Disk, FileSystem, Kept, Loaded, Weaving, load_beside, no_repository,
    repository_unreadable,
};
use crate::diag::Finding;
use crate::history::git::{Commit, Repository, Trouble, View};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The last commit of the branch that is worked on.
pub const HEAD: &str = "HEAD";

/// Where files are taken from.
#[derive(Clone, Debug)]
pub enum From {
    /// As they are on the disk.
    Disk,
    /// As the next commit will have them.
    Staged,
    /// As a commit has them, and what it was called on the command line.
    Commit(Commit, String),
}

/// The repository that the current folder is in.
///
/// # Errors
/// Where there is none, or it can't be read.
pub fn repository() -> Result<Repository, Trouble> {
    let home = home();
    // Links are followed, as git does.
    Repository::above(&home)
}

/// The files as they are; of a bare repository, which has none beside it, the last commit.
///
/// # Errors
/// Where that commit can't be read.
pub fn here(repository: &Repository) -> Result<From, Trouble> {
    match repository.is_bare {
        true => Ok(From::Commit(repository.commit_of(HEAD)?, HEAD.to_owned())),
        false => Ok(From::Disk),
    }
}

/// Tells why git's files do not tell what was asked for.
pub fn told(trouble: &Trouble) -> Exit {
    let findings = |finding: Finding| {
        tell_on_error(&[finding], &desk::sources(""));
        Exit::Findings
    };
    match trouble {
        Trouble::NoRepository => findings(no_repository::finding(&home().display().to_string())),
        Trouble::Unreadable(why) => findings(repository_unreadable::finding(why)),
        Trouble::NotMerged(path) => usage(&format!(
            "`{path}` is not merged yet, so none of it is staged: settle its conflicts, then `git add` it"
        )),
        Trouble::UnknownRevision { asked, near: Some(near) } => {
            usage(&format!("there is no revision `{asked}`; did you mean `{near}`?"))
        }
        Trouble::UnknownRevision { asked, near: None } if asked == HEAD => {
            let names = repository().map(|it| it.names()).unwrap_or_default();
            match names.first() {
                None => usage("this git repository has no commit yet"),
                Some(_) => usage(&format!(
                    "the branch that is checked out has no commit yet; name another revision: {}",
                    some_of(&names)
                )),
            }
        }
        Trouble::UnknownRevision { asked, near: None } => {
            usage(&format!("there is no revision `{asked}`{}", in_a_part()))
        }
        Trouble::Ambiguous { asked, candidates } => {
            usage(&format!("`{asked}` may be {}; which one?", candidates.join(" or ")))
        }
    }
}

/// The first few of some names.
fn some_of(names: &[String]) -> String {
    const FEW: usize = 5;
    let told: Vec<String> = names.iter().take(FEW).map(|name| format!("`{name}`")).collect();
    let more = if names.len() > FEW { " …" } else { "" };
    format!("{}{more}", told.join(", "))
}

/// What is added where a revision may be missing because the clone has only a part of all.
pub fn in_a_part() -> &'static str {
    match repository().is_ok_and(|repository| repository.is_shallow()) {
        true => {
            "; this is a shallow clone: `git fetch --unshallow` brings the rest, and in CI a \
             checkout of the whole history"
        }
        false => "",
    }
}

impl From {
    /// What it is called in a sentence.
    pub fn called(&self) -> &str {
        match self {
            Self::Disk => "the files as they are",
            Self::Staged => "what is staged",
            Self::Commit(_, name) => name,
        }
    }

    /// The manuscripts below a path as they are there, by their paths from it.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn manuscripts(
        &self,
        repository: Option<&Repository>,
        path: &Path,
    ) -> Result<BTreeMap<String, String>, Trouble> {
        self.with_files(repository, |files| manuscripts_in(files, path))
    }

    /// Manuscripts that were read below a path, with the figures that they ask for in their
    /// places; blocks of formulas as they are written.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn woven(
        &self,
        repository: Option<&Repository>,
        loaded: &Loaded,
        path: &Path,
    ) -> Result<BTreeMap<String, String>, Trouble> {
        let keeps = Weaving {
            blocks: BlockForm::Source,
            language: None,
            units: None,
            form: BookForm::Markdown,
            is_compared: true,
            past: None,
        };
        self.with_files(repository, |files| {
            let mut texts = BTreeMap::new();
            for bakehouse in desk::bakehouses(loaded) {
                let woven = desk::weave(loaded, &bakehouse, files, &keeps, &mut Vec::new());
                texts.extend(woven.into_iter().map(|it| (below(path, &it.file.path), it.text)));
            }
            texts
        })
    }

    /// Does something with the files that are there.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn with_files<T>(
        &self,
        repository: Option<&Repository>,
        then: impl FnOnce(&dyn FileSystem) -> T,
    ) -> Result<T, Trouble> {
        Ok(match (self, repository) {
            (Self::Disk, _) | (_, None) => then(&Disk),
            (Self::Staged, Some(repository)) => then(&View::of_staged(repository)?),
            (Self::Commit(commit, _), Some(repository)) => {
                then(&View::of_tree(repository, commit.tree))
            }
        })
    }

    /// Reads a path as it is there; nothing where it is not.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn load(
        &self,
        repository: Option<&Repository>,
        path: &Path,
    ) -> Result<Option<Loaded>, Trouble> {
        self.load_beside(repository, path, None)
    }

    /// The same for the first or the second of two states that are compared.
    ///
    /// # Errors
    /// Where the repository can't be read.
    pub fn load_beside(
        &self,
        repository: Option<&Repository>,
        path: &Path,
        kept: Option<&mut Kept>,
    ) -> Result<Option<Loaded>, Trouble> {
        self.with_files(repository, |files| {
            let paths = [path.to_path_buf()];
            let is_there = files.is_folder(path).is_ok();
            is_there.then(|| load_beside(files, &home(), &paths, kept))
        })
    }
}

/// A file's path from a folder; its name where it is that path itself.
fn below(path: &Path, file: &Path) -> String {
    let below = file.strip_prefix(path).unwrap_or(file);
    let name = if below.as_os_str().is_empty() { file.file_name() } else { None };
    name.map_or_else(|| below.to_string_lossy(), |name| name.to_string_lossy()).into_owned()
}

/// The texts of manuscripts below a path; what is hidden is passed over.
fn manuscripts_in(files: &dyn FileSystem, path: &Path) -> BTreeMap<String, String> {
    const DEEPEST: usize = 20;
    let mut found = BTreeMap::new();
    let mut open = vec![(path.to_path_buf(), !matches!(files.is_folder(path), Ok(true)), 0)];
    while let Some((at, is_file, depth)) = open.pop() {
        if is_file && desk::is_manuscript(&at) {
            let bytes = files.bytes(&at, desk::MAX_BYTES).unwrap_or_default();
            found.extend(String::from_utf8(bytes).ok().map(|text| (below(path, &at), text)));
        } else if !is_file && depth < DEEPEST {
            let entries = files.list(&at).unwrap_or_default().into_iter();
            let is_hidden = |path: &Path| {
                path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'))
            };
            let entries = entries.filter(|(path, _)| !is_hidden(path));
            open.extend(entries.map(|(path, is_folder)| (path, !is_folder, depth + 1)));
        }
    }
    found
}

/// The folder that is meant where none is named: the bakehouse of the current folder, or of a
/// bare repository all of it.
pub fn usual_folder(repository: Option<&Repository>) -> PathBuf {
    match repository.filter(|repository| repository.is_bare) {
        Some(repository) => repository.top.clone(),
        None => desk::root_above(&Disk, &home()).unwrap_or_else(home),
    }
}
