//! The letters in the drawings that manuscripts show.

use super::assets;
use super::bakehouses::Bakehouse;
use super::load::{FileSystem, MAX_BYTES};
use super::own_words::letters_of;
use crate::source::SourceId;
use std::path::Path;

/// The letters in a drawing that a manuscript of a bakehouse shows.
pub(super) fn letters_in(
    bakehouse: &Bakehouse,
    file_system: &dyn FileSystem,
    source: SourceId,
    name: &str,
) -> Option<String> {
    let file = bakehouse.files.iter().find(|file| file.source == source)?;
    let folder = file.path.parent().unwrap_or(Path::new(""));
    let root = bakehouse.root.as_deref().unwrap_or(folder);
    let bytes = assets::read(file_system, root, &folder.join(name), MAX_BYTES).ok()?;
    std::str::from_utf8(&bytes).ok().map(letters_of)
}
