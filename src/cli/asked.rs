//! What a command line asks for: files, one formula, a yield.

use super::exit::Exit;
use super::tell::{tell_on_error, usage};
use crate::desk::{self, Bakehouse, Disk, Loaded, LoadedFile, formulas, load, meant};
use crate::diag::nearest;
use crate::formula::{Figure, key};
use crate::source::SourceId;
use crate::syntax::tree::{Formula, Makes};
use std::borrow::Cow;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf, is_separator};

/// Where there is nothing to check or to print.
pub const NO_FORMULA: &str = "there is no formula here; `assize new DIR` makes a first bakehouse";

/// Finds the one formula that a word on the command line means, by its name or by a file
/// that holds one, and hands it on; `asked` is what it is asked to make.
pub fn find(
    word: &OsStr,
    asked: Option<&str>,
    then: impl for<'l> FnOnce(&Loaded, &Bakehouse<'l>, &'l LoadedFile, &'l Formula) -> Exit,
) -> Exit {
    let paths = if is_path(word) { vec![PathBuf::from(word)] } else { vec![] };
    let mut loaded = match loaded(&paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    loaded.sources.replace(SourceId::ASKED, asked.unwrap_or_default());
    let bakehouses = desk::bakehouses(&loaded);
    let name = word.to_string_lossy();
    match meant(&bakehouses, &name, !paths.is_empty()).as_slice() {
        [(bakehouse, file, formula)] => then(&loaded, bakehouse, file, formula),
        [] => not_found(&name, !paths.is_empty(), &loaded, &bakehouses),
        [(_, one, formula), (_, other, second), ..] if formula.name.key == second.name.key => {
            usage(&two_of_a_name(&loaded, &name, one, other))
        }
        several => {
            let names = several.iter().map(|(_, _, formula)| formula.name.shown.as_str());
            usage(&format!("which formula: {}?", some_of(names)))
        }
    }
}

/// What is said where two formulas have a name, which tells neither of them.
pub fn two_of_a_name(loaded: &Loaded, name: &str, one: &LoadedFile, other: &LoadedFile) -> String {
    let shown = |file: &LoadedFile| loaded.sources.get(file.source).map(|it| it.name.to_string());
    let (one, other) = (shown(one).unwrap_or_default(), shown(other).unwrap_or_default());
    match one == other {
        true => format!("two formulas in {one} are called `{name}`: give one another name"),
        false => {
            format!("two formulas are called `{name}`, in {one} and {other}: name its file instead")
        }
    }
}

/// Tells that nothing bears a name, and what is near.
fn not_found(word: &str, by_path: bool, loaded: &Loaded, bakehouses: &[Bakehouse]) -> Exit {
    if !loaded.is_whole() {
        tell_on_error(&loaded.findings, &loaded.sources);
        return Exit::Findings;
    }
    let names: Vec<&str> =
        formulas(bakehouses).map(|(_, _, formula)| formula.name.key.as_str()).collect();
    if Figure::read(&key(word)).is_some() {
        return usage(&format!("`{word}` is a figure; the formula comes first"));
    }
    let near = nearest(word, names.iter().copied());
    match near {
        Some(near) => usage(&format!("there is no formula `{}`; did you mean `{near}`?", word)),
        None if names.is_empty() && by_path => usage(&format!("there is no formula in {word}")),
        None if names.is_empty() => usage(&format!("there is no formula called `{word}` here")),
        None => usage(&format!("there is no formula `{word}`; there are: {}", some_of(names))),
    }
}

/// Names for a sentence, which has room for some only.
fn some_of<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    const MAX: usize = 20;
    let all: Vec<&str> = names.into_iter().collect();
    let shown = all.iter().take(MAX).copied().collect::<Vec<_>>().join(", ");
    match all.len().saturating_sub(MAX) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

/// The current folder.
pub fn home() -> PathBuf {
    std::env::current_dir().unwrap_or_else(|_| PathBuf::from("."))
}

/// Reads what the paths name; without one, the bakehouse of the current folder.
///
/// # Errors
/// The first path that is not there.
pub fn loaded(paths: &[PathBuf]) -> Result<Loaded, Exit> {
    let home = home();
    let mut wanted = Vec::new();
    for path in paths {
        if path.as_os_str() == "-" {
            wanted.push(path.clone());
            continue;
        }
        let path = std::path::absolute(path).unwrap_or_else(|_| path.clone());
        if let Err(error) = path.metadata()
            && error.kind() == std::io::ErrorKind::NotFound
        {
            let shown = path.strip_prefix(&home).unwrap_or(&path);
            return Err(usage(&format!("there is no {}", shown.display())));
        }
        wanted.push(path);
    }
    if wanted.is_empty() {
        wanted.push(desk::root_above(&Disk, &home).unwrap_or_else(|| home.clone()));
    }
    Ok(load(&Disk, &home, &wanted))
}

/// Reads `--makes`; findings are told at once.
///
/// # Errors
/// A usage slip where it can't be read.
pub fn makes(text: Option<&str>) -> Result<Option<Makes>, Exit> {
    let Some(text) = text else { return Ok(None) };
    let (makes, findings) = crate::syntax::read_makes(SourceId::ASKED, text);
    match makes.filter(|_| findings.is_empty()) {
        Some(makes) => Ok(Some(makes)),
        None => {
            tell_on_error(&findings, &desk::sources(text));
            Err(usage(&format!(
                "`--makes {text}` is not a yield: write \"60 loaves\", \"20 kg dough\" or \"from 400 g levain\""
            )))
        }
    }
}

/// Parts what is named on a command line into paths and names of formulas.
pub fn paths_and_names(words: &[OsString]) -> (Vec<PathBuf>, Vec<Cow<'_, str>>) {
    let (paths, names): (Vec<_>, Vec<_>) = words.iter().partition(|word| is_path(word));
    (
        paths.into_iter().map(PathBuf::from).collect(),
        names.into_iter().map(|name| name.to_string_lossy()).collect(),
    )
}

/// Whether a word on the command line is meant as a path. What is no text names no formula.
fn is_path(word: &OsStr) -> bool {
    let Some(text) = word.to_str() else { return true };
    let ends = [".dough", ".md", ".markdown"].iter().any(|end| text.ends_with(end));
    text == "-" || Path::new(word).exists() || text.contains(is_separator) || ends
}
