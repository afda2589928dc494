//! Writing without ever leaving half a file.

use super::args::Print;
use super::exit::Exit;
use super::streams;
use crate::desk::unreadable::NOT_ORDINARY;
use crate::desk::{unwritable, why};
use crate::diag::Finding;
use std::collections::BTreeSet;
use std::fs::Metadata;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// How the names of files begin that are not whole yet; the number of the process follows.
const UNFINISHED: &str = ".assize-";

/// Writes beside and renames, so that a file is whole or untouched.
///
/// # Errors
/// A finding that says what stood in the way. A file that has other names as well, that
/// belongs to somebody else or that is protected is left alone: to put another in its place
/// would part it from its other names, or give it to another owner.
pub fn whole(path: &Path, bytes: &[u8]) -> Result<(), Box<Finding>> {
    let told = |why: &str| Box::new(unwritable::finding(&path.display().to_string(), why));
    let failed = |error: std::io::Error| told(&why(&error));
    // Behind a link stands the file that is meant.
    let path = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let known = std::fs::metadata(&path).ok();
    if let Some(why) = known.as_ref().and_then(left_alone) {
        return Err(told(why));
    }
    if is_too_large(bytes.len()) {
        return Err(told("it would be larger than files may be here (`ulimit -f`)"));
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or_else(|| Path::new("."));
    sweep(folder);
    let prefix = format!("{UNFINISHED}{}-", std::process::id());
    let mut builder = tempfile::Builder::new();
    builder.prefix(&prefix);
    let mut file = open_to_all(&mut builder).tempfile_in(folder).map_err(failed)?;
    file.write_all(bytes).map_err(failed)?;
    file.as_file().sync_data().map_err(failed)?;
    if let Some(known) = known {
        // Were this refused, the file would still be whole.
        let _ = std::fs::set_permissions(file.path(), known.permissions());
    }
    file.persist(&path).map_err(|error| failed(error.error))?;
    Ok(())
}

/// Writes what was made from something else, such as a print. Where a link stands in its
/// place, the file that it leads to is none of ours.
///
/// # Errors
/// As for [`whole`], and where a link stands there.
pub fn made(path: &Path, bytes: &[u8]) -> Result<(), Box<Finding>> {
    if path.symlink_metadata().is_ok_and(|known| known.is_symlink()) {
        let why = "it is a link, and the file that it leads to would be overwritten: remove the \
                   link first";
        return Err(Box::new(unwritable::finding(&path.display().to_string(), why)));
    }
    whole(path, bytes)
}

/// Whether a file may not become as large as that; a run that tried would be ended in the
/// midst of it.
#[cfg(unix)]
fn is_too_large(bytes: usize) -> bool {
    let most = rustix::process::getrlimit(rustix::process::Resource::Fsize).current;
    most.is_some_and(|most| bytes as u64 > most)
}

#[cfg(not(unix))]
fn is_too_large(_: usize) -> bool {
    false
}

/// A temporary file is for its owner only; a new print is for whoever the system's mask
/// lets read it.
#[cfg(unix)]
fn open_to_all<'b, 'p, 's>(
    builder: &'b mut tempfile::Builder<'p, 's>,
) -> &'b mut tempfile::Builder<'p, 's> {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(std::fs::Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn open_to_all<'b, 'p, 's>(
    builder: &'b mut tempfile::Builder<'p, 's>,
) -> &'b mut tempfile::Builder<'p, 's> {
    builder
}

/// Why a file that is there is left alone; nothing where it may be put anew.
#[cfg(unix)]
fn left_alone(known: &Metadata) -> Option<&'static str> {
    use std::os::unix::fs::MetadataExt;
    if !known.is_file() {
        return Some(NOT_ORDINARY);
    }
    if known.nlink() > 1 {
        return Some("it has other names (hard links), which would keep the old text");
    }
    if known.uid() != rustix::process::geteuid().as_raw() {
        return Some("it belongs to another user");
    }
    (known.mode() & 0o200 == 0).then_some("it is protected against writing")
}

#[cfg(not(unix))]
fn left_alone(known: &Metadata) -> Option<&'static str> {
    if !known.is_file() {
        return Some(NOT_ORDINARY);
    }
    known.permissions().readonly().then_some("it is protected against writing")
}

/// Takes away what runs that were killed have left in a folder, once a run.
fn sweep(folder: &Path) {
    static SWEPT: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());
    let mut swept = SWEPT.lock().unwrap_or_else(PoisonError::into_inner);
    if !swept.insert(folder.to_path_buf()) {
        return;
    }
    for entry in folder.read_dir().into_iter().flatten().flatten() {
        let name = entry.file_name();
        let process = name.to_str().and_then(|name| name.strip_prefix(UNFINISHED));
        let process = process.and_then(|rest| rest.split_once('-')?.0.parse().ok());
        if process.is_some_and(is_gone) {
            // Somebody else may have swept it.
            let _ = std::fs::remove_file(entry.path());
        }
    }
}

/// Whether a process has ended.
#[cfg(unix)]
fn is_gone(process: i32) -> bool {
    let process = rustix::process::Pid::from_raw(process);
    let asked = process.map(rustix::process::test_kill_process);
    matches!(asked, Some(Err(rustix::io::Errno::SRCH)))
}

/// Where nobody can be asked, nothing is taken away.
#[cfg(not(unix))]
fn is_gone(_: i32) -> bool {
    false
}

/// Writes the files of one print, or its one file to standard output.
pub fn put(
    args: &Print,
    stem: &str,
    ending: &str,
    files: &[Vec<u8>],
) -> Result<usize, Box<Finding>> {
    if args.is_to_output() {
        return match files {
            [one] => match streams::output(one) {
                Exit::Clean => Ok(1),
                _ => Ok(0),
            },
            several => Err(Box::new(unwritable::finding(
                "standard output",
                &format!("it takes one file, and this print has {}", several.len()),
            ))),
        };
    }
    static WRITTEN: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());
    for (index, bytes) in files.iter().enumerate() {
        let file = match files.len() {
            1 => format!("{stem}.{ending}"),
            _ => format!("{stem}-{}.{ending}", index + 1),
        };
        let path = args.to.join(&file);
        // On some systems `A.pdf` and `a.pdf` are one file.
        let is_new = {
            let mut written = WRITTEN.lock().unwrap_or_else(PoisonError::into_inner);
            written.insert(args.to.join(file.to_lowercase()))
        };
        if !is_new {
            return Err(Box::new(unwritable::taken(&path.display().to_string())));
        }
        made(&path, bytes)?;
    }
    Ok(files.len())
}
