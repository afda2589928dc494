//! What a bakehouse's folder brings to its prints: templates, fonts, logo, words.

use super::bakehouses::Bakehouse;
use super::findings as say;
use super::load::{FileSystem, MAX_BYTES};
use super::own_words;
use crate::diag::{Finding, nearest};
use crate::formula::Settings;
use crate::print::assets::{PrintAssets, TEMPLATES as TEMPLATES_OF_OURS, WORDS};
use crate::print::findings::{no_words_for_language, unknown_logo, words_refused, words_unread};
use crate::print::look::Unfit;
use crate::print::pages::is_picture;
use crate::print::wording::language_of;
use crate::print::{Wording, look, wording};
use crate::source::Span;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The largest font that is read, in bytes: one with all Han characters has about 20 MB.
const MAX_BYTES_OF_A_FONT: u64 = 64_000_000;

/// The largest size of all fonts of a house together, in bytes.
const MAX_BYTES_OF_ALL_FONTS: u64 = 256_000_000;

/// The largest catalogue of a house's own words, in bytes: ours have 20 kB.
const MAX_BYTES_OF_WORDS: u64 = 1_000_000;

/// The folders of a bakehouse that prints read.
pub const TEMPLATES: &str = "templates";
/// See [`TEMPLATES`].
pub const FONTS: &str = "fonts";

/// Reads what a house brings, and its words; those of another language where one is asked
/// for.
pub fn assets(
    file_system: &dyn FileSystem,
    bakehouse: &Bakehouse,
    language: Option<&str>,
    findings: &mut Vec<Finding>,
) -> (PrintAssets, Wording) {
    let Some(root) = &bakehouse.root else {
        return (PrintAssets::default(), words(bakehouse, language, None, findings));
    };
    let own = own_files(file_system, root, &bakehouse.house.settings, findings);
    let OwnFiles { templates, fonts, logo } = own;
    let span = bakehouse.house.settings.logo.as_ref().map_or(Span::NOWHERE, |it| it.span);
    // What a picture denies falsely is printed with no bread.
    let logo = logo.filter(|drawing| {
        let denied = own_words::in_drawing(bakehouse, drawing, None, span);
        let is_true = denied.is_empty();
        findings.extend(denied);
        is_true
    });
    let fonts = fonts.into_values().collect();
    let assets = PrintAssets { templates, fonts, logo, system_fonts: false };
    let words = words(bakehouse, language, assets.words(), findings);
    (assets, words)
}

/// The files of a house that its prints are set with.
#[derive(Debug, Default)]
pub struct OwnFiles {
    /// Its templates, its own words among them, by path below their folder, parted by `/`.
    pub templates: BTreeMap<String, Vec<u8>>,
    /// Its fonts, by path below the house.
    pub fonts: BTreeMap<String, Vec<u8>>,
    /// The picture that its settings name.
    pub logo: Option<Vec<u8>>,
}

/// Reads the files of a house that its prints are set with; of what can't be read it is said
/// why.
pub fn own_files(
    file_system: &dyn FileSystem,
    root: &Path,
    settings: &Settings,
    findings: &mut Vec<Finding>,
) -> OwnFiles {
    let templates = templates(file_system, root, findings);
    let fonts = fonts(file_system, root, findings);
    OwnFiles { templates, fonts, logo: logo(file_system, root, settings, findings) }
}

/// The fonts of a house, by path below it.
fn fonts(
    file_system: &dyn FileSystem,
    root: &Path,
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, Vec<u8>> {
    let shown = |path: &Path| path.strip_prefix(root).unwrap_or(path).display().to_string();
    let mut fonts = BTreeMap::new();
    let mut of_fonts = 0;
    for path in files_below(file_system, &root.join(FONTS)) {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if !ending.is_some_and(|ending| ["ttf", "otf", "ttc", "otc"].contains(&&*ending)) {
            continue;
        }
        match read(file_system, root, &path, MAX_BYTES_OF_A_FONT) {
            Ok(bytes) if !look::is_font(&bytes) => {
                findings.push(say::unread_file::not_a_font(&shown(&path)));
            }
            Ok(bytes) => {
                of_fonts += bytes.len() as u64;
                if of_fonts > MAX_BYTES_OF_ALL_FONTS {
                    let most = format!(
                        "the fonts have more than {} MB together",
                        MAX_BYTES_OF_ALL_FONTS / 1_000_000
                    );
                    findings.push(say::unreadable::finding(&shown(&path), &most));
                    break;
                }
                fonts.insert(shown(&path), bytes);
            }
            Err(why) => findings.push(say::unreadable::finding(&shown(&path), &why)),
        }
    }
    fonts
}

/// The files of a house's folder of templates, its own words among them, by path below it,
/// parted by `/`; of what can't be read it is said why.
fn templates(
    file_system: &dyn FileSystem,
    root: &Path,
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, Vec<u8>> {
    let shown = |path: &Path| path.strip_prefix(root).unwrap_or(path).display().to_string();
    let mut templates = BTreeMap::new();
    for path in files_below(file_system, &root.join(TEMPLATES)) {
        let is_words = path == root.join(TEMPLATES).join(WORDS);
        let most = if is_words { MAX_BYTES_OF_WORDS } else { MAX_BYTES };
        match read(file_system, root, &path, most) {
            Ok(bytes) if is_source(&path) && std::str::from_utf8(&bytes).is_err() => {
                let at = std::str::from_utf8(&bytes).map_or_else(|it| it.valid_up_to(), str::len);
                findings.push(say::not_utf_8::finding(&shown(&path), at, false));
            }
            Ok(bytes) => {
                let below = path.strip_prefix(root.join(TEMPLATES)).unwrap_or(&path);
                let parts = below.iter().map(|part| part.to_string_lossy());
                templates.insert(parts.collect::<Vec<_>>().join("/"), bytes);
            }
            Err(why) => findings.push(say::unreadable::finding(&shown(&path), &why)),
        }
    }
    templates
}

/// Says what of a house's words and pictures would fail its prints, without reading the
/// rest.
pub fn check(file_system: &dyn FileSystem, bakehouse: &Bakehouse, findings: &mut Vec<Finding>) {
    let Some(root) = &bakehouse.root else {
        words(bakehouse, None, None, findings);
        return;
    };
    if let Some(drawing) = logo(file_system, root, &bakehouse.house.settings, findings)
        && let Some(logo) = &bakehouse.house.settings.logo
    {
        findings.extend(own_words::in_drawing(bakehouse, &drawing, None, logo.span));
    }
    // As prints read them: what fails there is told here.
    let templates = templates(file_system, root, findings);
    for (name, bytes) in templates.iter().filter(|(name, _)| name.ends_with(".typ")) {
        if let Ok(template) = std::str::from_utf8(bytes) {
            let file = Path::new(TEMPLATES).join(name).display().to_string();
            findings.extend(own_words::in_template(bakehouse, template, &file));
        }
    }
    let own = templates.get(WORDS).and_then(|bytes| std::str::from_utf8(bytes).ok());
    words(bakehouse, None, own, findings);
    unread_files(file_system, root, findings);
}

/// Whether a picture of a house can be printed, by the name it has for the prints.
///
/// # Errors
/// What is wrong with it.
pub fn prints(name: &str, bytes: &[u8]) -> Result<(), Unfit> {
    look::picture(name, bytes)?;
    let ending = name.rsplit('.').next().unwrap_or_default();
    if is_picture(ending, bytes) { Ok(()) } else { Err(Unfit::Damaged) }
}

/// The bytes of a house's logo.
fn logo(
    file_system: &dyn FileSystem,
    root: &Path,
    settings: &Settings,
    findings: &mut Vec<Finding>,
) -> Option<Vec<u8>> {
    let logo = settings.logo.as_ref()?;
    let name = look::logo(&logo.value)?;
    match read(file_system, root, &root.join(&*logo.value), MAX_BYTES) {
        Ok(bytes) => match prints(&name, &bytes) {
            Ok(()) => return Some(bytes),
            Err(unfit) => findings.push(unknown_logo::unfit(logo, &unfit)),
        },
        Err(why) => findings.push(say::unreadable::named(logo.span, &logo.value, &why)),
    }
    None
}

/// How a house's prints speak; what can't be read of its own words, or means nothing, is
/// said.
fn words(
    bakehouse: &Bakehouse,
    asked: Option<&str>,
    own: Option<&str>,
    findings: &mut Vec<Finding>,
) -> Wording {
    let language = bakehouse.house.settings.language.as_ref();
    let tag = language.map_or("en", |language| &language.value);
    // A house's own words are in its own language.
    if let Some(asked) = asked.filter(|asked| language_of(asked) != language_of(tag)) {
        return Wording::new(asked, None).0;
    }
    if let Some(language) = language.filter(|_| own.is_none() && !wording::is_known(tag)) {
        findings.push(no_words_for_language::finding(language));
    }
    let second = bakehouse.house.settings.second_language.as_ref();
    findings.extend(
        second
            .filter(|second| !wording::is_known(&second.value))
            .map(no_words_for_language::finding),
    );
    let (words, slips) = Wording::new(tag, own);
    let file = format!("{TEMPLATES}/{WORDS}");
    findings.extend(slips.iter().map(|slip| words_unread::finding(&file, slip)));
    let Some(own) = own else { return words };
    let names: Vec<&str> =
        bakehouse.house.ingredients().map(|own| own.name.shown.as_str()).collect();
    let unseen = wording::unseen_in_messages(own);
    findings.extend(unseen.iter().map(|(it, letter)| words_unread::unseen(&file, it, *letter)));
    let again = wording::said_again(own);
    findings.extend(again.iter().map(|(own, first)| words_unread::again(&file, own, *first)));
    let (denied, told) = own_words::denied(bakehouse, own, &file);
    findings.extend(told);
    let messages = wording::own_messages(own);
    let refused = words.refused().into_iter().filter(|(id, _)| !denied.iter().any(|it| it == id));
    findings.extend(refused.filter_map(|(id, why)| {
        let message = messages.iter().rfind(|message| message.id == id)?;
        Some(words_refused::finding(&file, message, why, &words.put_together(id)?))
    }));
    let words = words.without(&denied);
    let unknown = wording::unknown_messages(own, &names);
    findings.extend(unknown.iter().map(|slip| words_unread::unknown(&file, slip)));
    words
}

/// Names files of a house that lie where prints look, under names that no print asks for.
fn unread_files(file_system: &dyn FileSystem, root: &Path, findings: &mut Vec<Finding>) {
    let shown = |path: &Path| path.strip_prefix(root).unwrap_or(path).display().to_string();
    let ours: Vec<&str> = TEMPLATES_OF_OURS.iter().map(|(name, _)| *name).chain([WORDS]).collect();
    let there = file_system.list(&root.join(TEMPLATES)).unwrap_or_default();
    let there: Vec<&PathBuf> =
        there.iter().filter(|(_, folder)| !folder).map(|(it, _)| it).collect();
    let lies_there = |name: &str| there.iter().any(|path| path.ends_with(name));
    for path in &there {
        let name = path.file_name().map(|name| name.to_string_lossy().to_lowercase());
        let name = name.unwrap_or_default();
        if name.starts_with('.') || ours.iter().any(|ours| path.ends_with(ours)) {
            continue;
        }
        // Beside the file that it resembles, it may well be a part of it.
        let near = ours.iter().copied().find(|ours| *ours == name);
        let near = near.or_else(|| nearest(&name, ours.iter().copied()));
        let near = near.filter(|near| !lies_there(near));
        if path.extension().is_some_and(|ending| ending == "ftl") {
            findings.push(say::unread_file::template(&shown(path), near.unwrap_or(WORDS)));
        } else if let Some(near) = near {
            findings.push(say::unread_file::template(&shown(path), near));
        }
    }
    for path in files_below(file_system, &root.join(FONTS)) {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if ending.is_some_and(|ending| ["woff", "woff2", "eot", "pfb"].contains(&&*ending)) {
            findings.push(say::unread_file::font(&shown(&path)));
        }
    }
}

/// Whether a file of the templates is read as a text.
fn is_source(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "typ" || ending == "ftl")
}

/// The files below a folder, hidden ones left out; none where there is no folder.
fn files_below(file_system: &dyn FileSystem, folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for (path, is_folder) in file_system.list(folder).unwrap_or_default() {
        let hidden = path.file_name().is_none_or(|name| name.to_string_lossy().starts_with('.'));
        match is_folder {
            _ if hidden => {}
            true => files.extend(files_below(file_system, &path)),
            false => files.push(path),
        }
    }
    files
}

/// The bytes of a file of a bakehouse; what lies elsewhere, behind a link or `..`, is not
/// read.
pub(super) fn read(
    file_system: &dyn FileSystem,
    root: &Path,
    path: &Path,
    most: u64,
) -> Result<Vec<u8>, String> {
    let why = |error| say::why(&error);
    if !file_system.is_below(root, path).map_err(why)? {
        return Err("it lies outside the bakehouse".to_owned());
    }
    let bytes = file_system.bytes(path, most).map_err(why)?;
    if bytes.len() as u64 > most {
        return Err(format!("it has more than {} MB", most / 1_000_000));
    }
    Ok(bytes)
}
