//! Booklets that were asked for, and what their prints need beside the formulas.

use super::assets;
use super::bakehouses::Bakehouse;
use super::findings as say;
use super::load::{FileSystem, LoadedFile, MAX_BYTES};
use super::own_words;
use crate::diag::Finding;
use crate::formula::{House, Setting};
use crate::print::booklet::{check_booklet, picture_name};
use crate::print::findings::unknown_picture;
use crate::print::look;
use crate::print::wording::Wording;
use crate::syntax::booklet::{Booklet, PartKind};
use std::path::Path;

/// A booklet with its bakehouse and its file.
pub type BookletPlace<'r, 'l> = (&'r Bakehouse<'l>, &'l LoadedFile, &'l Booklet);

/// Every booklet that was asked for.
pub fn booklets<'r, 'l>(
    bakehouses: &'r [Bakehouse<'l>],
) -> impl Iterator<Item = BookletPlace<'r, 'l>> {
    bakehouses.iter().flat_map(|bakehouse| {
        let files = bakehouse.files.iter().copied().filter(|file| file.is_asked_for());
        files.flat_map(move |file| {
            file.tree.booklets.iter().map(move |booklet| (bakehouse, file, booklet))
        })
    })
}

/// The house with the language and units that a booklet says, and the words of that
/// language; `own` are those of the house.
pub fn house_and_words<'l>(
    bakehouse: &Bakehouse<'l>,
    booklet: &Booklet,
    own: Option<&Wording>,
) -> (House<'l>, Wording) {
    let language = booklet
        .language
        .as_ref()
        .map(|name| Setting { value: name.shown.clone(), span: name.span });
    let house = bakehouse.house.told_in(language, booklet.units);
    let tag = house.settings.language.as_ref().map_or("en", |it| it.value.as_str());
    // What a house says in its own language says nothing in another.
    let is_own = booklet.language.is_none();
    let own = own.filter(|own| is_own && own.tag == tag).cloned();
    let words = own.unwrap_or_else(|| Wording::new(tag, None).0);
    (house, words)
}

/// The pictures of a booklet by the names that its document has for them. A file is looked
/// for from the folder of the file that names it, at `path`, inside the bakehouse, whose folder
/// is `root`.
pub fn pictures(
    file_system: &dyn FileSystem,
    (root, path): (Option<&Path>, &Path),
    booklet: &Booklet,
    findings: &mut Vec<Finding>,
) -> Vec<(String, Vec<u8>)> {
    let mut pictures = Vec::new();
    let folder = path.parent().unwrap_or(path);
    let root = root.unwrap_or(folder);
    for (at, part) in booklet.parts.iter().enumerate() {
        let PartKind::Picture { file, file_span, .. } = &part.what else { continue };
        let Some(kind) = look::logo(file) else { continue };
        match assets::read(file_system, root, &folder.join(file.as_str()), MAX_BYTES) {
            Ok(bytes) => match assets::prints(&kind, &bytes) {
                Ok(()) => pictures.push((picture_name(at, file), bytes)),
                Err(unfit) => findings.push(unknown_picture::unfit(*file_span, file, &unfit)),
            },
            Err(why) => findings.push(say::unreadable::named(*file_span, file, &why)),
        }
    }
    pictures
}

/// Adds what the letters in a booklet's drawings deny falsely of its formulas.
pub fn letters_of_pictures(
    file_system: &dyn FileSystem,
    (bakehouse, path): (&Bakehouse, &Path),
    booklet: &Booklet,
    findings: &mut Vec<Finding>,
) {
    let folder = path.parent().unwrap_or(path);
    let root = bakehouse.root.as_deref().unwrap_or(folder);
    let named = booklet.formulas();
    let named: Vec<&str> = named.iter().map(|name| name.key.as_str()).collect();
    for part in &booklet.parts {
        let PartKind::Picture { file, file_span, .. } = &part.what else { continue };
        if !file.to_lowercase().ends_with(".svg") {
            continue;
        }
        if let Ok(drawing) = assets::read(file_system, root, &folder.join(file.as_str()), MAX_BYTES)
        {
            findings.extend(own_words::in_drawing(bakehouse, &drawing, Some(&named), *file_span));
        }
    }
}

/// Adds what is wrong with a booklet to `findings`; its formulas tell of themselves.
pub fn check(bakehouse: &Bakehouse, booklet: &Booklet, findings: &mut Vec<Finding>) {
    let (house, _) = house_and_words(bakehouse, booklet, None);
    let mut told = Vec::new();
    check_booklet(&house, booklet, &mut told);
    // A formula may be in the next file, which nobody looks at.
    let is_alone = bakehouse.root.is_none();
    findings.extend(told.into_iter().map(|finding| {
        match is_alone && finding.rule.name == "unknown-formula" {
            true => finding.note(ALONE),
            false => finding,
        }
    }));
}

/// What holds of a file that stands alone.
const ALONE: &str = "no other file is seen from here: a `bakehouse` block, in a file of this \
                     folder or of one above, lets its files see each other";
