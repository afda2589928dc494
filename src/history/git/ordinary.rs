//! Whether the files of a repository are ordinary ones, before anything reads them: a pipe
//! would never answer and a device never end.

use super::Trouble;
use std::fs::{self, FileType};
use std::path::{Path, PathBuf};

/// The most bytes of a file that git itself keeps to some lines: settings, the name of a
/// branch. From memory: the longest in use have some hundred kilobytes.
const MAX_BYTES: u64 = 16_000_000;

/// How deep folders of names and objects lie. Git refuses paths of names beyond 4,096 bytes.
const MAX_DEPTH: usize = 32;

/// How many repositories may lend each other objects one after the other; git stops at 5.
const MAX_LENDERS: usize = 5;

/// Files that git keeps to some lines.
const SHORT: [&str; 8] = [
    "HEAD",
    "config",
    "config.worktree",
    "commondir",
    "gitdir",
    "shallow",
    "objects/info/alternates",
    "description",
];

/// Folders that are walked through when a revision is looked for.
const WALKED: [&str; 4] = ["refs", "objects", "info", "logs"];

/// Looks at the repository that a folder is in, or at the folders that seem to be one.
///
/// # Errors
/// Where one of its files is no ordinary one, or so long that it is none of git's.
pub(super) fn above(folder: &Path) -> Result<(), Trouble> {
    for folder in folder.ancestors() {
        let inner = folder.join(".git");
        if fs::symlink_metadata(&inner).is_ok() {
            return at(&inner);
        }
        let is_bare = ["HEAD", "objects", "refs"]
            .iter()
            .all(|part| fs::symlink_metadata(folder.join(part)).is_ok());
        if is_bare {
            return of_git(folder);
        }
    }
    Ok(())
}

/// Looks at the repository of a folder, or at that to which its file `.git` leads.
pub(super) fn at(git: &Path) -> Result<(), Trouble> {
    let Ok(is) = fs::metadata(git) else { return Ok(()) };
    match is.is_dir() {
        true => match fs::symlink_metadata(git.join(".git")) {
            Ok(_) => at(&git.join(".git")),
            Err(_) => of_git(git),
        },
        false => match led_to(git, "gitdir:")? {
            Some(folder) => of_git(&folder),
            None => Ok(()),
        },
    }
}

/// Looks at git's own folder and at the one that it shares with others.
fn of_git(folder: &Path) -> Result<(), Trouble> {
    own(folder)?;
    match led_to(&folder.join("commondir"), "")? {
        Some(common) if common != folder => own(&common),
        _ => Ok(()),
    }
}

fn own(folder: &Path) -> Result<(), Trouble> {
    for name in SHORT {
        short(&folder.join(name))?;
    }
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        judge(&entry.path(), entry.file_type().ok())?;
    }
    for name in WALKED {
        walk(&folder.join(name), 0)?;
    }
    shallow(&folder.join("shallow"))?;
    lenders(&folder.join("objects"), MAX_LENDERS)
}

/// Looks at what lends objects to a repository.
fn lenders(objects: &Path, left: usize) -> Result<(), Trouble> {
    let file = objects.join("info/alternates");
    short(&file)?;
    let Ok(text) = fs::read_to_string(&file) else { return Ok(()) };
    for line in text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let lender = objects.join(line);
        walk(&lender, 0)?;
        if left > 0 {
            lenders(&lender, left - 1)?;
        }
    }
    Ok(())
}

/// Whether every line of the list of commits where a clone was cut names one.
fn shallow(file: &Path) -> Result<(), Trouble> {
    let Ok(text) = fs::read(file) else { return Ok(()) };
    let lines = text.split(|byte| *byte == b'\n').filter(|line| !line.is_empty());
    let is_id =
        |line: &[u8]| [40, 64].contains(&line.len()) && line.iter().all(u8::is_ascii_hexdigit);
    match lines.into_iter().all(is_id) {
        true => Ok(()),
        false => Err(Trouble::unreadable(format!(
            "`{}` is damaged: a line of it names no commit",
            file.display()
        ))),
    }
}

/// The folder that a file of one line leads to.
fn led_to(file: &Path, key: &str) -> Result<Option<PathBuf>, Trouble> {
    short(file)?;
    let Ok(text) = fs::read_to_string(file) else { return Ok(None) };
    let Some(to) = text.trim_end().strip_prefix(key) else { return Ok(None) };
    Ok(file.parent().map(|folder| folder.join(to.trim_start())))
}

/// A file that git keeps to some lines, where it is there at all.
fn short(file: &Path) -> Result<(), Trouble> {
    let Ok(is) = fs::metadata(file) else { return Ok(()) };
    judge(file, Some(is.file_type()))?;
    match is.is_file() && is.len() > MAX_BYTES {
        true => Err(Trouble::unreadable(format!(
            "`{}` is larger than {} MB, which no file of its kind is",
            file.display(),
            MAX_BYTES / 1_000_000
        ))),
        false => Ok(()),
    }
}

fn walk(folder: &Path, depth: usize) -> Result<(), Trouble> {
    if depth > MAX_DEPTH {
        return Ok(());
    }
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let is = entry.file_type().ok();
        match is {
            Some(is) if is.is_dir() => walk(&entry.path(), depth + 1)?,
            is => judge(&entry.path(), is)?,
        }
    }
    Ok(())
}

/// Whether something is an ordinary file or a folder, links followed.
fn judge(path: &Path, is: Option<FileType>) -> Result<(), Trouble> {
    let is = match is {
        Some(is) if is.is_symlink() => fs::metadata(path).ok().map(|is| is.file_type()),
        is => is,
    };
    match is {
        Some(is) if !is.is_file() && !is.is_dir() => Err(Trouble::unreadable(format!(
            "`{}` is a pipe or a device, and git keeps only ordinary files",
            path.display()
        ))),
        _ => Ok(()),
    }
}
