//! Pages through typst: templates, fonts and the formats of a page.
//!
//! The only file that knows typst. A template reads one file, `document.json`, and
//! nothing else: no clock, no network, no packages. Every world shares one set of file
//! numbers, because typst keeps them for the life of the process.

use std::collections::BTreeSet;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic, Warned};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::FontStore;
use typst_layout::PagedDocument;

/// The kinds of print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Print {
    Card,
    Sheet,
    Table,
}

impl Print {
    pub const ALL: [Self; 3] = [Self::Card, Self::Sheet, Self::Table];

    pub fn word(self) -> &'static str {
        match self {
            Self::Card => "card",
            Self::Sheet => "sheet",
            Self::Table => "table",
        }
    }
}

/// How a page is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Format {
    Pdf,
    Svg,
    /// Dots per inch.
    Png(f32),
}

/// Pages as files: one for a PDF, one a page for the others.
pub struct Pages {
    pub files: Vec<Vec<u8>>,
}

/// The files a template may read, by name.
struct Shelf {
    main: FileId,
    common: FileId,
    document: FileId,
}

const COMMON: &str = include_str!("../../templates/common.typ");

fn number(name: &str) -> FileId {
    // The names are our own and plain.
    let path = VirtualPath::new(name).unwrap_or_else(|_| unreachable!("`{name}` is a plain path"));
    FileId::new(RootedPath::new(VirtualRoot::Project, path))
}

fn template(print: Print) -> &'static Source {
    static CARD: LazyLock<Source> = LazyLock::new(|| {
        Source::new(number("card.typ"), include_str!("../../templates/card.typ").into())
    });
    static SHEET: LazyLock<Source> = LazyLock::new(|| {
        Source::new(number("sheet.typ"), include_str!("../../templates/sheet.typ").into())
    });
    static TABLE: LazyLock<Source> = LazyLock::new(|| {
        Source::new(number("table.typ"), include_str!("../../templates/table.typ").into())
    });
    match print {
        Print::Card => &CARD,
        Print::Sheet => &SHEET,
        Print::Table => &TABLE,
    }
}

static COMMON_SOURCE: LazyLock<Source> =
    LazyLock::new(|| Source::new(number("common.typ"), COMMON.into()));
static DOCUMENT: LazyLock<FileId> = LazyLock::new(|| number("document.json"));
static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));
static FONTS: LazyLock<FontStore> = LazyLock::new(|| {
    let mut fonts = FontStore::new();
    fonts.extend(typst_kit::fonts::embedded());
    fonts
});

struct Table {
    shelf: Shelf,
    template: &'static Source,
    data: Bytes,
}

impl World for Table {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        FONTS.book()
    }

    fn main(&self) -> FileId {
        self.shelf.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.shelf.main {
            Ok(self.template.clone())
        } else if id == self.shelf.common {
            Ok(COMMON_SOURCE.clone())
        } else {
            Err(not_there(id))
        }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == self.shelf.document {
            return Ok(self.data.clone());
        }
        self.source(id).map(Bytes::from_string)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.font(index)
    }

    /// No clock is read: the same input gives the same bytes.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn not_there(id: FileId) -> FileError {
    FileError::NotFound(id.vpath().get_without_slash().into())
}

/// Sets a document; `json` is what [`super::json`] writes. A document with letters that
/// no font has is no accessible PDF, and is written as a plain one.
///
/// # Errors
/// What typst has against the template; with the built-in ones, a bug of ours.
pub fn print(print: Print, json: String, format: Format) -> Result<Pages, String> {
    let template = template(print);
    let table = Table {
        shelf: Shelf { main: template.id(), common: COMMON_SOURCE.id(), document: *DOCUMENT },
        template,
        data: Bytes::from_string(json.clone()),
    };
    let Warned { output, .. } = typst::compile::<PagedDocument>(&table);
    let document = output.map_err(|errors| told(&errors))?;
    let files = match format {
        Format::Pdf => vec![pdf(&document, missing_letters(&json).is_empty())?],
        Format::Svg => {
            let options = typst_svg::SvgOptions::default();
            let pages = document.pages().iter();
            pages.map(|page| typst_svg::svg(page, &options).into_bytes()).collect()
        }
        Format::Png(dpi) => document
            .pages()
            .iter()
            .map(|page| {
                let options = typst_render::RenderOptions {
                    pixel_per_pt: (f64::from(dpi) / 72.0).into(),
                    ..Default::default()
                };
                typst_render::render(page, &options).encode_png().map_err(|error| error.to_string())
            })
            .collect::<Result<_, _>>()?,
    };
    Ok(Pages { files })
}

fn pdf(document: &PagedDocument, accessible: bool) -> Result<Vec<u8>, String> {
    let standard: &[typst_pdf::PdfStandard] =
        if accessible { &[typst_pdf::PdfStandard::Ua_1] } else { &[] };
    let standards =
        typst_pdf::PdfStandards::new(standard).map_err(|error| error.message().to_string())?;
    let options = typst_pdf::PdfOptions { standards, ..Default::default() };
    typst_pdf::pdf(document, &options).map_err(|errors| told(&errors))
}

fn told(errors: &[SourceDiagnostic]) -> String {
    let messages: Vec<&str> = errors.iter().map(|error| error.message.as_str()).collect();
    messages.join("; ")
}

/// Forgets what older pages needed, so that a long run stays small.
pub fn forget() {
    comemo::evict(10);
}

/// Letters of a text that no bundled font has.
pub fn missing_letters(json: &str) -> String {
    let missing: BTreeSet<char> = json
        .chars()
        .filter(|letter| !letter.is_ascii() && !letter.is_control())
        .filter(|letter| {
            let covers = |family: &str| {
                FONTS.book().select_family(family).any(|index| {
                    FONTS
                        .book()
                        .info(index)
                        .is_some_and(|info| info.coverage.contains(*letter as u32))
                })
            };
            !covers("libertinus serif")
                && !covers("dejavu sans mono")
                && !covers("new computer modern")
        })
        .collect();
    missing.into_iter().collect()
}
