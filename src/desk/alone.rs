//! A text that lies on no disk, checked as a file of its own.

use super::load::{FileSystem, load};
use super::report::report;
use crate::diag::Finding;
use std::io;
use std::path::{Path, PathBuf};

/// All findings of a text that is called so.
pub fn check_alone(name: &str, text: &str) -> Vec<Finding> {
    let top = Path::new("/");
    let alone = Alone { path: top.join(name), text };
    let loaded = load(&alone, top, std::slice::from_ref(&alone.path));
    report(&loaded, None).findings
}

/// The only file there is.
struct Alone<'a> {
    path: PathBuf,
    text: &'a str,
}

impl FileSystem for Alone<'_> {
    fn is_folder(&self, path: &Path) -> io::Result<bool> {
        Ok(path != self.path)
    }

    fn list(&self, _: &Path) -> io::Result<Vec<(PathBuf, bool)>> {
        Ok(Vec::new())
    }

    fn size(&self, _: &Path) -> io::Result<u64> {
        Ok(self.text.len() as u64)
    }

    fn bytes(&self, _: &Path, _: u64) -> io::Result<Vec<u8>> {
        Ok(self.text.as_bytes().to_vec())
    }

    fn is_below(&self, _: &Path, _: &Path) -> io::Result<bool> {
        Ok(true)
    }
}
