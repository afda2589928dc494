//! What a bakehouse's folder brings to its prints: templates, fonts, logo, words.

use super::findings as say;
use super::load::Shelf;
use super::{MOST_BYTES, Room};
use crate::diag::Finding;
use crate::print::findings::{no_words_for_language, unknown_logo, words_unread};
use crate::print::kit::{Kit, WORDS};
use crate::print::{Wording, look, wording};
use std::path::{Path, PathBuf};

/// The largest font that is read, in bytes: one with all Han characters has about 20 MB.
const MOST_BYTES_OF_A_FONT: u64 = 64_000_000;

/// The folders of a bakehouse that prints read.
const TEMPLATES: &str = "templates";
const FONTS: &str = "fonts";

/// Reads what a house brings, and its words.
pub fn kit(shelf: &dyn Shelf, room: &Room, findings: &mut Vec<Finding>) -> (Kit, Wording) {
    let settings = &room.house.settings;
    let tag = settings.language.as_ref().map_or("en", |language| &language.value);
    let mut kit = Kit::default();
    let Some(root) = &room.root else { return (kit, Wording::new(tag, None).0) };
    let shown = |path: &Path| path.strip_prefix(root).unwrap_or(path).display().to_string();
    for path in files_below(shelf, &root.join(TEMPLATES)) {
        match read(shelf, root, &path, MOST_BYTES) {
            Ok(bytes) if is_source(&path) && std::str::from_utf8(&bytes).is_err() => {
                let at = std::str::from_utf8(&bytes).map_or_else(|it| it.valid_up_to(), str::len);
                findings.push(say::not_utf_8::finding(&shown(&path), at, false));
            }
            Ok(bytes) => {
                let below = path.strip_prefix(root.join(TEMPLATES)).unwrap_or(&path);
                let parts = below.iter().map(|part| part.to_string_lossy());
                kit.templates.insert(parts.collect::<Vec<_>>().join("/"), bytes);
            }
            Err(why) => findings.push(say::unreadable::finding(&shown(&path), &why)),
        }
    }
    for path in files_below(shelf, &root.join(FONTS)) {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if !ending.is_some_and(|ending| ["ttf", "otf", "ttc", "otc"].contains(&&*ending)) {
            continue;
        }
        match read(shelf, root, &path, MOST_BYTES_OF_A_FONT) {
            Ok(bytes) => kit.fonts.push(bytes),
            Err(why) => findings.push(say::unreadable::finding(&shown(&path), &why)),
        }
    }
    if let Some(logo) = &settings.logo
        && let Some(name) = look::logo(&logo.value)
    {
        match read(shelf, root, &root.join(&*logo.value), MOST_BYTES) {
            Ok(bytes) if look::is_picture(&name, &bytes) => kit.logo = Some(bytes),
            Ok(_) => findings.push(unknown_logo::not_a_picture(logo)),
            Err(why) => findings.push(say::unreadable::named(logo.span, &logo.value, &why)),
        }
    }
    if let Some(language) = &settings.language
        && kit.words().is_none()
        && !wording::is_known(tag)
    {
        findings.push(no_words_for_language::finding(language));
    }
    let (words, slips) = Wording::new(tag, kit.words());
    let file = format!("{TEMPLATES}/{WORDS}");
    findings.extend(slips.iter().map(|slip| words_unread::finding(&file, slip)));
    (kit, words)
}

/// Whether a file of the templates is read as a text.
fn is_source(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "typ" || ending == "ftl")
}

/// The files below a folder, hidden ones left out; none where there is no folder.
fn files_below(shelf: &dyn Shelf, folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for (path, is_folder) in shelf.list(folder).unwrap_or_default() {
        let hidden = path.file_name().is_none_or(|name| name.to_string_lossy().starts_with('.'));
        match is_folder {
            _ if hidden => {}
            true => files.extend(files_below(shelf, &path)),
            false => files.push(path),
        }
    }
    files
}

/// The bytes of a file of a bakehouse; what lies elsewhere, behind a link or `..`, is not
/// read.
fn read(shelf: &dyn Shelf, root: &Path, path: &Path, most: u64) -> Result<Vec<u8>, String> {
    let why = |error| say::why(&error);
    if !shelf.is_below(root, path).map_err(why)? {
        return Err("it lies outside the bakehouse".to_owned());
    }
    if shelf.size(path).map_err(why)? > most {
        return Err(format!("it has more than {} MB", most / 1_000_000));
    }
    shelf.bytes(path).map_err(why)
}
