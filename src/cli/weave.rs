//! `assize weave`: the words of a book with tables, figures and indexes in their places.

use super::args::{Weave, WovenBlocks, WovenFormat, WovenUnits};
use super::asked::{home, loaded};
use super::exit::{Exit, exit_of};
use super::press::{Press, SECONDS_OF_A_BOOK};
use super::print::languages;
use super::tell::{drawn, usage};
use super::{past, streams, write};
use crate::desk::{self, Bakehouse, BookForm, Disk, FileSystem, Loaded, LoadedFile, MAX_BYTES};
use crate::desk::{BlockForm, PastOf, TypedPage, Weaving, Woven, bakehouses, glyph_missing};
use crate::diag::Finding;
use crate::proof::typed_page;
use crate::quantity::{System, Units};
use rustc_hash::FxHashMap;
use std::fs;
use std::path::{Component, Path, PathBuf};

/// `assize weave`.
pub fn run(args: &Weave) -> Exit {
    let loaded = match loaded(&args.paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let chapters = chapters(&args.paths, &loaded);
    let loaded = match chapters.is_empty() {
        true => loaded,
        false => {
            let own = args.paths.iter().cloned();
            let here = || {
                let home = home();
                desk::root_above(&Disk, &home).unwrap_or(home)
            };
            let own = own.chain(args.paths.is_empty().then(here));
            match self::loaded(&own.chain(chapters).collect::<Vec<_>>()) {
                Ok(loaded) => loaded,
                Err(exit) => return exit,
            }
        }
    };
    let mut findings: Vec<Finding> = loaded.findings.clone();
    let form = match args.format {
        WovenFormat::Markdown => BookForm::Markdown,
        WovenFormat::Html => BookForm::Page,
        WovenFormat::Pdf => BookForm::Paper,
    };
    let usual = if form == BookForm::Markdown { BlockForm::Table } else { BlockForm::Card };
    let blocks = args.blocks.map_or(usual, Into::into);
    let units = args.units.map(Into::into);
    let language = args.language.as_deref();
    let past: &PastOf = &|bakehouse, (booklet, words), revision, of| {
        let volumes = bakehouse.house.settings.volumes;
        past::past(bakehouse, (booklet, words, volumes), revision, of)
    };
    let (is_compared, past) = (false, Some(past));
    let weaving = Weaving { blocks, language, units, form, is_compared, past };
    let bakehouses = bakehouses(&loaded);
    match languages(language, &bakehouses) {
        Ok(tags) if tags.len() < 2 => {}
        Ok(_) => return usage("a book is woven in one language; name one"),
        Err(exit) => return exit,
    }
    if args.template_seconds.is_some() && form != BookForm::Paper {
        return usage("`--template-seconds` is for `--format pdf`");
    }
    let mut written = Written::default();
    let mut texts = Vec::new();
    for bakehouse in &bakehouses {
        match form {
            BookForm::Paper => match on_paper(args, &loaded, bakehouse, &weaving, &mut findings) {
                Ok(more) => written.add(more),
                Err(exit) => return exit,
            },
            _ => texts.extend(desk::weave(&loaded, bakehouse, &Disk, &weaving, &mut findings)),
        }
    }
    match as_texts(args, texts, &weaving, &mut findings) {
        Ok(more) => written.add(more),
        Err(exit) => return exit,
    }
    if written.count == 0 && findings.is_empty() {
        return usage("there is no manuscript here: name files in Markdown");
    }
    let is_shown = args.to == Path::new("-");
    let told = match (is_shown, String::from_utf8(written.said)) {
        (false, Ok(said)) => streams::sentence(&said),
        (_, Ok(said)) => streams::output(said),
        (_, Err(bytes)) => streams::output(bytes.into_bytes()),
    };
    streams::error_text(drawn(&findings, &loaded.sources, streams::colour(&std::io::stderr())));
    told.max(exit_of(&findings))
}

/// Texts without a block beside the manuscripts that were asked for by their folder: forewords,
/// chapters on tools, glossaries. `README` is of the folder and not of the book.
fn chapters(paths: &[PathBuf], loaded: &Loaded) -> Vec<PathBuf> {
    let is_named = !paths.is_empty() && paths.iter().all(|path| path.is_file());
    if is_named {
        return Vec::new();
    }
    let mut folders: Vec<&Path> = Vec::new();
    let own = loaded.asked_for().filter(|file| !file.is_beside());
    for file in own.filter(|file| desk::is_manuscript(&file.path)) {
        let folder = file.path.parent().unwrap_or(Path::new(""));
        let is_asked_for = !paths.iter().any(|path| path.as_path() == file.path);
        if is_asked_for && !folders.contains(&folder) {
            folders.push(folder);
        }
    }
    // Formulas in files of their own, and words about them in others: a folder that is asked for
    // holds a manuscript where none has a block either.
    let home = home();
    let here = desk::root_above(&Disk, &home).unwrap_or(home);
    if folders.is_empty() {
        folders.extend(paths.iter().filter(|path| path.is_dir()).map(PathBuf::as_path));
        folders.extend(paths.is_empty().then_some(here.as_path()));
    }
    let is_known =
        |path: &PathBuf| loaded.files().iter().any(|it| it.path == *path && !it.is_beside());
    let is_of_the_folder = |path: &PathBuf| {
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().to_lowercase();
        ["readme", "license", "licence", "changelog", "contributing"].contains(&stem.as_str())
    };
    let is_text = |path: &PathBuf| {
        let is_small = Disk.size(path).is_ok_and(|size| size <= MAX_BYTES);
        let text = is_small.then(|| Disk.bytes(path, MAX_BYTES).ok()).flatten();
        let text = text.and_then(|bytes| String::from_utf8(bytes).ok());
        text.is_some_and(|text| {
            !text.contains('\0') && !desk::is_woven(&text) && !desk::is_turned_off(&text)
        })
    };
    let entries = folders.iter().flat_map(|folder| Disk.list(folder).unwrap_or_default());
    let texts = entries
        .filter(|(path, is_folder)| !is_folder && desk::is_read(path) && desk::is_manuscript(path));
    let texts = texts.map(|(path, _)| path);
    texts.filter(|path| !is_known(path) && !is_of_the_folder(path) && is_text(path)).collect()
}

/// What came of the manuscripts.
#[derive(Default)]
struct Written {
    /// The names of the files, or what they would hold.
    said: Vec<u8>,
    count: usize,
}

impl Written {
    fn add(&mut self, other: Self) {
        self.said.extend(other.said);
        self.count += other.count;
    }
}

/// Each manuscript as a file of its own, in Markdown or as a page.
fn as_texts(
    args: &Weave,
    all: Vec<Woven>,
    weaving: &Weaving,
    findings: &mut Vec<Finding>,
) -> Result<Written, Exit> {
    let mut written = Written::default();
    let is_shown = args.to == Path::new("-");
    let names = match is_shown {
        true => vec![PathBuf::new(); all.len()],
        false => names(&all, weaving)?,
    };
    for (mut woven, name) in all.into_iter().zip(names) {
        written.count += 1;
        if weaving.form == BookForm::Markdown {
            let end = if woven.text.ends_with('\n') { "" } else { "\n" };
            woven.text.push_str(&format!("{end}\n{}\n", desk::WOVEN_MARK));
        }
        if is_shown {
            written.said.extend(woven.text.as_bytes());
            continue;
        }
        let path = args.to.join(name);
        never_over(&path, woven.file)?;
        match put(&path, woven.text.as_bytes()) {
            Ok(()) => {
                written.said.extend(format!("{}\n", streams::path(&path)).into_bytes());
                if weaving.form == BookForm::Markdown {
                    let folder = path.parent().unwrap_or(Path::new(""));
                    findings.extend(pictures_beside(&woven, folder));
                }
            }
            Err(finding) => findings.push(*finding),
        }
    }
    Ok(written)
}

/// What each woven manuscript is called in the folder it is woven into: by its own name; where two
/// chapters of different folders have one name, all stay in their folders.
fn names(all: &[Woven], weaving: &Weaving) -> Result<Vec<PathBuf>, Exit> {
    let named = |path: &Path| match weaving.form {
        BookForm::Page => path.with_extension("html"),
        _ => path.to_path_buf(),
    };
    // Some disks take `Rye.md` and `rye.md` for one.
    let one_of_two = |names: &[PathBuf]| -> Option<(usize, usize)> {
        let mut seen: FxHashMap<String, usize> = FxHashMap::default();
        names.iter().enumerate().find_map(|(at, name)| {
            let name = name.to_string_lossy().to_lowercase();
            seen.insert(name, at).map(|first| (first, at))
        })
    };
    let own = |woven: &Woven| named(Path::new(woven.file.path.file_name().unwrap_or_default()));
    let flat: Vec<PathBuf> = all.iter().map(own).collect();
    if one_of_two(&flat).is_none() {
        return Ok(flat);
    }
    let mut folder = all.first().and_then(|it| it.file.path.parent()).unwrap_or(Path::new(""));
    while !all.iter().all(|it| it.file.path.starts_with(folder)) {
        folder = folder.parent().unwrap_or(Path::new(""));
    }
    let below = |woven: &Woven| {
        let path = woven.file.path.strip_prefix(folder).unwrap_or(&woven.file.path);
        let parts = path.components().filter(|it| matches!(it, Component::Normal(_)));
        named(&parts.collect::<PathBuf>())
    };
    let deep: Vec<PathBuf> = all.iter().map(below).collect();
    let file = |at: usize| all.get(at).map_or(Path::new(""), |it| it.file.path.as_path());
    match one_of_two(&deep) {
        None => Ok(deep),
        Some((first, at)) => Err(usage(&format!(
            "{} and {} would be written to one file; rename one of them, or weave each into a \
             folder of its own with `--to`",
            streams::path(file(first)),
            streams::path(file(at)),
        ))),
    }
}

/// Typed pages that are not those on which their formulas stand.
fn wrong_pages(typed: &[TypedPage], told: &[u8]) -> Vec<Finding> {
    let told = String::from_utf8_lossy(told);
    let pages: Vec<usize> = told.split(',').map(|it| it.trim().parse().unwrap_or(0)).collect();
    let wrong = |it: &TypedPage| {
        let right = pages.get(it.of).copied().filter(|right| *right > 0 && *right != it.number)?;
        Some(typed_page(it.span, &it.name, it.number, right))
    };
    typed.iter().filter_map(wrong).collect()
}

/// All manuscripts as one book.
fn on_paper(
    args: &Weave,
    loaded: &Loaded,
    bakehouse: &Bakehouse,
    weaving: &Weaving,
    findings: &mut Vec<Finding>,
) -> Result<Written, Exit> {
    let mut written = Written::default();
    let Some(mut book) = desk::weave_on_paper(loaded, bakehouse, &Disk, weaving, findings) else {
        return Ok(written);
    };
    written.count = 1;
    let json = std::mem::take(&mut book.json);
    let press = Press::new(&book.assets, args.template_seconds.unwrap_or(SECONDS_OF_A_BOOK));
    let missing = press.missing_letters(&json);
    if !missing.is_empty() {
        findings.push(glyph_missing::finding(&book.title, &missing));
    }
    let path = args.to.join(format!("{}.pdf", book.stem));
    let pages = match press.woven(json, &book.pictures) {
        Ok(files) => {
            let mut files = files.into_iter();
            let pages = files.next().unwrap_or_default();
            findings.extend(wrong_pages(&book.typed, &files.next().unwrap_or_default()));
            pages
        }
        Err(why) => {
            findings.push(press.slip(&path.display().to_string(), &why));
            return Ok(written);
        }
    };
    if args.to == Path::new("-") {
        written.said = pages;
        return Ok(written);
    }
    match put(&path, &pages) {
        Ok(()) => written.said = format!("{}\n", streams::path(&path)).into_bytes(),
        Err(finding) => findings.push(*finding),
    }
    Ok(written)
}

fn put(path: &Path, bytes: &[u8]) -> Result<(), Box<Finding>> {
    let folder = path.parent().unwrap_or(Path::new(""));
    fs::create_dir_all(folder).map_err(|error| {
        let folder = folder.display().to_string();
        Box::new(desk::unwritable::finding(&folder, &desk::why(&error)))
    })?;
    write::made(path, bytes)
}

/// A manuscript is never written over by what is woven from it.
fn never_over(path: &Path, file: &LoadedFile) -> Result<(), Exit> {
    if path.exists() && path.canonicalize().ok() == file.path.canonicalize().ok() {
        return Err(usage(&format!(
            "{} would be written over; name another folder with `--to`",
            path.display()
        )));
    }
    Ok(())
}

/// Puts the pictures of a manuscript beside the woven one, under the names that it has for them.
fn pictures_beside(woven: &Woven, to: &Path) -> Vec<Finding> {
    let folder = woven.file.path.parent().unwrap_or(Path::new(""));
    let mut findings = Vec::new();
    for (name, bytes) in &woven.pictures {
        let at = to.join(name);
        if at.exists() && at.canonicalize().ok() == folder.join(name).canonicalize().ok() {
            continue;
        }
        let made = at.parent().map_or(Ok(()), fs::create_dir_all).map_err(|error| {
            let name = at.display().to_string();
            Box::new(desk::unwritable::finding(&name, &desk::why(&error)))
        });
        if let Err(finding) = made.and_then(|()| write::made(&at, bytes)) {
            findings.push(*finding);
        }
    }
    findings
}

impl From<WovenBlocks> for BlockForm {
    fn from(blocks: WovenBlocks) -> Self {
        match blocks {
            WovenBlocks::Table => Self::Table,
            WovenBlocks::Card => Self::Card,
            WovenBlocks::Figures => Self::Figures,
            WovenBlocks::Source => Self::Source,
            WovenBlocks::Nothing => Self::Nothing,
        }
    }
}

impl From<WovenUnits> for Units {
    fn from(units: WovenUnits) -> Self {
        match units {
            WovenUnits::Metric => Self { first: System::Metric, both: false },
            WovenUnits::Us => Self { first: System::Us, both: false },
            WovenUnits::MetricAndUs => Self { first: System::Metric, both: true },
            WovenUnits::UsAndMetric => Self { first: System::Us, both: true },
        }
    }
}
