//! A thousand cards: the whole way from files to PDFs, against what the bare typst
//! library needs to set the same documents on the same cores. Aim: at most 1.15 times
//! as long. Both are timed in turns, so that what else the machine does meets both.
//!
//! `cargo bench --bench cards`

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    clippy::expect_used,
    clippy::missing_docs_in_private_items,
    clippy::panic,
    clippy::print_stderr,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a bench may read the clock, tell what it finds, and fail; its names are its own"
)]

mod made;

use assize::testing::desk::{self, Disk, load};
use assize::testing::print::assets::{PrintAssets, TEMPLATES};
use assize::testing::print::pages::{Format, Press, Print, forget};
use assize::testing::print::{Wording, document, json, parallel};
use std::collections::HashMap;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::FontStore;
use typst_layout::PagedDocument;

const CARDS: usize = 1000;
const TURNS: usize = 5;

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("house.dough"), "bakehouse \"Made\" {\n}\n")
        .expect("written");
    for number in 0..CARDS {
        let path = folder.path().join(format!("{number}.dough"));
        std::fs::write(path, made::formula(number)).expect("written");
    }
    let documents = documents(folder.path());
    let bare = Bare::new();
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for _ in 0..TURNS {
        ours.push(timed(|| whole(folder.path())));
        theirs.push(timed(|| bare.all(&documents)));
    }
    let median = |times: &mut Vec<Duration>| {
        times.sort();
        times[times.len() / 2]
    };
    let (ours, theirs) = (median(&mut ours), median(&mut theirs));
    let ratio = ours.as_secs_f64() / theirs.as_secs_f64();
    println!(
        "{CARDS} cards, median of {TURNS}: {ours:.2?}; bare typst {theirs:.2?}; {ratio:.3} times as long"
    );
}

fn timed(work: impl FnOnce() -> usize) -> Duration {
    let begun = Instant::now();
    assert!(work() > CARDS * 5000, "every card is a PDF");
    begun.elapsed()
}

fn documents(folder: &Path) -> Vec<String> {
    let loaded = load(&Disk, folder, &[folder.to_path_buf()]);
    let bakehouses = desk::bakehouses(&loaded);
    let files = bakehouses[0].files.iter().flat_map(|file| &file.tree.formulas);
    files
        .map(|formula| {
            let worked = desk::check_formula(&bakehouses[0].house, formula, &mut Vec::new());
            json(&document(&bakehouses[0].house, &worked, &Wording::new("en", None).0, false))
        })
        .collect()
}

/// From files on the disk to PDFs in memory; all that `assize print` does but writing.
fn whole(folder: &Path) -> usize {
    let press = Press::new(&PrintAssets::default());
    let documents = documents(folder);
    let done = AtomicUsize::new(0);
    let sizes = parallel::each(&documents, |json| {
        let files = press.print(Print::Card, json.clone(), Format::Pdf { archive: false });
        every_eighth(&done);
        files.expect("a card")[0].len()
    });
    sizes.into_iter().sum()
}

fn every_eighth(done: &AtomicUsize) {
    if done.fetch_add(1, Ordering::Relaxed) % 8 == 7 {
        forget();
    }
}

/// Typst with the card's template and nothing else.
struct Bare {
    library: LazyHash<Library>,
    fonts: FontStore,
    main: FileId,
    data: FileId,
    sources: HashMap<FileId, Source>,
}

impl Bare {
    fn new() -> Self {
        let id = |name: &str| {
            let path = VirtualPath::new(format!("bare/{name}")).expect("a path");
            RootedPath::new(VirtualRoot::Project, path).intern()
        };
        let mut fonts = FontStore::new();
        fonts.extend(typst_kit::fonts::embedded());
        let sources =
            TEMPLATES.iter().map(|(name, text)| (id(name), Source::new(id(name), (*text).into())));
        Self {
            library: LazyHash::new(Library::default()),
            fonts,
            main: id("card.typ"),
            data: id("document.json"),
            sources: sources.collect(),
        }
    }

    fn all(&self, documents: &[String]) -> usize {
        let done = AtomicUsize::new(0);
        let sizes = parallel::each(documents, |json| {
            let card = Card { bare: self, data: Bytes::from_string(json.clone()) };
            let set = typst::compile::<PagedDocument>(&card).output.expect("a card");
            let standards = typst_pdf::PdfStandards::new(&[typst_pdf::PdfStandard::Ua_1]);
            let standards = standards.expect("a standard");
            let options = typst_pdf::PdfOptions { standards, ..Default::default() };
            let pdf = typst_pdf::pdf(&set, &options).expect("a PDF");
            every_eighth(&done);
            pdf.len()
        });
        sizes.into_iter().sum()
    }
}

struct Card<'b> {
    bare: &'b Bare,
    data: Bytes,
}

impl World for Card<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.bare.library
    }
    fn book(&self) -> &LazyHash<FontBook> {
        self.bare.fonts.book()
    }
    fn main(&self) -> FileId {
        self.bare.main
    }
    fn source(&self, id: FileId) -> FileResult<Source> {
        self.bare.sources.get(&id).cloned().ok_or(FileError::AccessDenied)
    }
    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == self.bare.data { Ok(self.data.clone()) } else { Err(FileError::AccessDenied) }
    }
    fn font(&self, index: usize) -> Option<Font> {
        self.bare.fonts.font(index)
    }
    fn today(&self, _: Option<typst::foundations::Duration>) -> Option<Datetime> {
        None
    }
}
