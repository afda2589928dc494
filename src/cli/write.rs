//! Writing without ever leaving half a file.

use crate::desk::{unwritable, why};
use crate::diag::Finding;
use std::io::Write;
use std::path::Path;

/// Writes beside and renames, so that a file is whole or untouched.
///
/// # Errors
/// A finding that says what stood in the way.
pub fn whole(path: &Path, bytes: &[u8]) -> Result<(), Box<Finding>> {
    let told = |error: std::io::Error| {
        Box::new(unwritable::finding(&path.display().to_string(), &why(&error)))
    };
    // Behind a link stands the file that is meant.
    let path = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or_else(|| Path::new("."));
    let mut file = tempfile::Builder::new().prefix(".assize-").tempfile_in(folder).map_err(told)?;
    file.write_all(bytes).map_err(told)?;
    file.as_file().sync_data().map_err(told)?;
    set_rights(file.path(), &path);
    file.persist(&path).map_err(|error| told(error.error))?;
    Ok(())
}

/// A file that is written anew keeps who may read it. A temporary file is for its owner
/// only, a new print for whoever may read the folder.
fn set_rights(new: &Path, old: &Path) {
    // Were this refused, the file would still be whole.
    if let Ok(known) = std::fs::metadata(old) {
        let _ = std::fs::set_permissions(new, known.permissions());
        return;
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let _ = std::fs::set_permissions(new, std::fs::Permissions::from_mode(0o644));
    }
}
