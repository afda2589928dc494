//! The small world that a template lives in: a few files in memory, and fonts.
//!
//! Numbers of files are kept by typst for the life of the process, so every print shares
//! one set; in a book, each part has a folder and a set of its own.

use super::super::assets::{PrintAssets, TEMPLATES};
use rustc_hash::FxHashMap;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult, PackageError};
use typst::foundations::{Binding, Bytes, Datetime, Dict, Duration, IntoValue, Value};
use typst::syntax::{DiagSpan, DiagSpanKind, FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook, FontInfo};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::FontStore;

/// The data of a print, as its template reads it.
const DOCUMENT: &str = "document.json";
/// The data of a book.
const BOOK: &str = "book.json";

static LIBRARY: LazyLock<LazyHash<Library>> =
    LazyLock::new(|| LazyHash::new(without_plugins(Library::default())));

/// The standard library without programs that a template might bring.
fn without_plugins(mut library: Library) -> Library {
    let refused = || Binding::detached(Value::None);
    library.global.scope_mut().bind("plugin".into(), refused());
    library.std = Binding::detached(library.global.clone());
    library
}

/// In a book, templates leave title and author to the book.
static LIBRARY_OF_BOOKS: LazyLock<LazyHash<Library>> = LazyLock::new(|| {
    let mut inputs = Dict::new();
    inputs.insert("book".into(), true.into_value());
    LazyHash::new(without_plugins(Library::builder().with_inputs(inputs).build()))
});

/// The bundled fonts.
pub static BUNDLED: LazyLock<FontStore> = LazyLock::new(|| {
    let mut fonts = FontStore::new();
    fonts.extend(typst_kit::fonts::embedded());
    fonts
});

/// The bundled fonts and those of a house, and of this machine where it may; nothing
/// where the bundled ones are all.
pub fn fonts(assets: &PrintAssets) -> Option<FontStore> {
    if assets.fonts.is_empty() && !assets.system_fonts {
        return None;
    }
    let mut fonts = FontStore::new();
    for bytes in &assets.fonts {
        let faces = Font::iter(Bytes::new(bytes.clone()));
        fonts.extend(faces.map(|font| {
            let info: FontInfo = font.info().clone();
            (font, info)
        }));
    }
    fonts.extend(typst_kit::fonts::embedded());
    if assets.system_fonts {
        fonts.extend(typst_kit::fonts::system());
    }
    Some(fonts)
}

fn number(path: &str) -> Option<FileId> {
    let path = VirtualPath::new(path).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}

/// Our templates, read once.
static OURS: LazyLock<FxHashMap<&'static str, Source>> = LazyLock::new(|| {
    let sources = TEMPLATES
        .iter()
        .filter_map(|(name, text)| Some((*name, Source::new(number(name)?, (*text).to_owned()))));
    sources.collect()
});

/// The files of a house that its templates may read, by path.
pub struct Files {
    sources: FxHashMap<String, Source>,
    bytes: FxHashMap<String, Bytes>,
}

impl Files {
    /// The templates and fonts of a house.
    pub fn new(assets: &PrintAssets) -> Self {
        let mut files = Self { sources: FxHashMap::default(), bytes: FxHashMap::default() };
        for (path, bytes) in &assets.templates {
            if let (true, Ok(text)) = (path.ends_with(".typ"), std::str::from_utf8(bytes))
                && let Some(id) = number(path)
            {
                files.sources.insert(path.clone(), Source::new(id, text.to_owned()));
            }
            files.bytes.insert(path.clone(), Bytes::new(bytes.clone()));
        }
        if let Some(logo) = &assets.logo {
            for name in ["logo.svg", "logo.png"] {
                files.bytes.insert(name.to_owned(), Bytes::new(logo.clone()));
            }
        }
        files
    }

    /// The bytes of the house's logo, of whichever kind; none where it has none.
    pub fn logo(&self) -> &[u8] {
        self.bytes.get("logo.svg").map(Bytes::as_slice).unwrap_or_default()
    }

    /// A source by its path: the house's own, else ours.
    fn source(&self, path: &str) -> Option<&Source> {
        self.sources.get(path).or_else(|| OURS.get(path))
    }
}

/// What lies before typst when it sets a print or a book.
pub struct Desk<'k> {
    files: &'k Files,
    fonts: &'k FontStore,
    main: FileId,
    /// The data of the main file, or of a book.
    data: Bytes,
    /// In a book, the data of each part.
    parts: Vec<Bytes>,
    /// In a book, the sources of the parts' folders, and the file that joins them.
    copies: FxHashMap<FileId, Source>,
    /// Whether it is a booklet that is set.
    is_booklet: bool,
    /// Pictures of a booklet, by the names that it has for them.
    pictures: FxHashMap<String, Bytes>,
}

impl<'k> Desk<'k> {
    /// A world in which a template finds one document, as JSON.
    pub fn of_one(files: &'k Files, fonts: &'k FontStore, template: &str, json: String) -> Self {
        // All built-in templates have sources.
        let main = files.source(template).map_or_else(|| OURS["card.typ"].id(), Source::id);
        let data = Bytes::from_string(json);
        let (parts, copies, pictures) = (Vec::new(), FxHashMap::default(), FxHashMap::default());
        Self { files, fonts, main, data, parts, copies, is_booklet: false, pictures }
    }

    /// A world in which a template finds several.
    pub fn of_book(
        files: &'k Files,
        fonts: &'k FontStore,
        book: String,
        parts: Vec<(&'static str, String)>,
    ) -> Self {
        let main = files.source("book.typ").map_or_else(|| OURS["book.typ"].id(), Source::id);
        let mut copies = FxHashMap::default();
        let names = || files.sources.keys().map(String::as_str).chain(OURS.keys().copied());
        for (index, _) in parts.iter().enumerate() {
            for name in names() {
                let copy = number(&format!("{index}/{name}"));
                if let (Some(id), Some(source)) = (copy, files.source(name)) {
                    copies.insert(id, Source::new(id, source.text().to_owned()));
                }
            }
        }
        let parts = parts.into_iter().map(|(_, json)| Bytes::from_string(json)).collect();
        let (data, pictures) = (Bytes::from_string(book), FxHashMap::default());
        Self { files, fonts, main, data, parts, copies, is_booklet: false, pictures }
    }

    /// A world in which the template of booklets, or of woven books, finds its document, and
    /// in folders of their own the prints that stand in it.
    pub fn of_booklet(
        files: &'k Files,
        fonts: &'k FontStore,
        template: &str,
        booklet: String,
        parts: Vec<(&'static str, String)>,
        pictures: &[(String, Vec<u8>)],
    ) -> Self {
        let main = files.source(template).map_or_else(|| OURS["booklet.typ"].id(), Source::id);
        let mut desk = Self::of_book(files, fonts, booklet, parts);
        desk.main = main;
        desk.is_booklet = true;
        let bytes = |(name, it): &(String, Vec<u8>)| (name.clone(), Bytes::new(it.clone()));
        desk.pictures = pictures.iter().map(bytes).collect();
        desk
    }

    /// The file and the line of a place in a template.
    pub fn place(&self, span: DiagSpan) -> Option<(String, usize)> {
        let (id, start) = match span.get() {
            DiagSpanKind::Detached => return None,
            DiagSpanKind::Number { id, num, .. } => {
                (id, self.source(id).ok()?.range(num, None)?.start)
            }
            DiagSpanKind::Range { id, range } => (id, range.start),
        };
        let line = self.source(id).ok()?.lines().byte_to_line(start)?;
        Some((id.get().vpath().get_without_slash().to_owned(), line + 1))
    }

    fn is_book(&self) -> bool {
        !self.parts.is_empty() || self.is_booklet
    }
}

impl World for Desk<'_> {
    fn library(&self) -> &LazyHash<Library> {
        if self.is_book() { &LIBRARY_OF_BOOKS } else { &LIBRARY }
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.fonts.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let path = own_path(id)?;
        let source = self.copies.get(&id).or_else(|| self.files.source(path));
        source.cloned().ok_or_else(|| not_there(path))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = own_path(id)?;
        // A booklet is read as any document is, by what the templates share.
        if path == if self.is_book() && !self.is_booklet { BOOK } else { DOCUMENT } {
            return Ok(self.data.clone());
        }
        // In a book, `3/document.json` is the data of the fourth part.
        let (part, name) = match path.split_once('/') {
            Some((part, name)) if self.is_book() => (part.parse::<usize>().ok(), name),
            _ => (None, path),
        };
        if name == DOCUMENT
            && let Some(data) = part.and_then(|part| self.parts.get(part))
        {
            return Ok(data.clone());
        }
        if let Some(picture) = self.pictures.get(path) {
            return Ok(picture.clone());
        }
        let bytes = self.files.bytes.get(if part.is_some() { name } else { path });
        bytes.cloned().map_or_else(|| self.source(id).map(Bytes::from_string), Ok)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.font(index)
    }

    /// No clock is read: the same input gives the same bytes.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// The path of a file that is not a package's.
fn own_path(id: FileId) -> FileResult<&'static str> {
    match id.get().root() {
        VirtualRoot::Package(_) => {
            let why = "templates read their own folder and no packages";
            Err(FileError::Package(PackageError::Other(Some(why.into()))))
        }
        VirtualRoot::Project => Ok(id.get().vpath().get_without_slash()),
    }
}

fn not_there(path: &str) -> FileError {
    FileError::NotFound(path.into())
}
