//! Pages through typst: templates, fonts and the formats of a page.
//!
//! The only room that knows typst. A template reads the house's own templates, ours
//! beside them, the logo and one file of data, `document.json`, and nothing else: no
//! clock, no network, no packages.

#![allow(
    clippy::disallowed_types,
    reason = "places, colours and resolutions on paper are no weights"
)]

mod world;

use super::assets::PrintAssets;
use ecow::EcoString;
use std::collections::BTreeSet;
use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::{Bytes, Datetime, Label};
use typst::introspection::{Introspector, MetadataElem};
use typst::utils::PicoStr;
use typst::visualize::{ExchangeFormat, RasterImage, SvgImage};
use typst_kit::fonts::FontStore;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};
use world::{Desk, Files};

/// The kinds of print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Print {
    /// A recipe card for a reader.
    Card,
    /// A sheet for the bench, with weights of one batch.
    Sheet,
    /// The formula's table, in weights and percentages.
    Table,
}

impl Print {
    /// All of them, in the order in which they are written.
    pub const ALL: [Self; 3] = [Self::Card, Self::Sheet, Self::Table];

    /// As `--only` calls it, and its file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Card => "card",
            Self::Sheet => "sheet",
            Self::Table => "table",
        }
    }

    fn template(self) -> &'static str {
        match self {
            Self::Card => "card.typ",
            Self::Sheet => "sheet.typ",
            Self::Table => "table.typ",
        }
    }
}

/// How a page is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Format {
    /// One file for all pages, PDF/UA-1.
    Pdf {
        /// Also as PDF/A-2a, for archives.
        archive: bool,
    },
    /// A file for each page.
    Svg,
    /// Dots per inch.
    Png(f32),
}

/// One print of a book: which, and of which document, as JSON.
pub struct BookPart {
    /// Which print.
    pub print: Print,
    /// A [`crate::print::Document`] as JSON.
    pub json: String,
}

/// Sets the prints of one house.
pub struct Press {
    files: Files,
    own_fonts: Option<FontStore>,
}

impl Press {
    /// A press with the house's own templates, fonts and logo.
    pub fn new(assets: &PrintAssets) -> Self {
        Self { files: Files::new(assets), own_fonts: world::fonts(assets) }
    }

    fn fonts(&self) -> &FontStore {
        self.own_fonts.as_ref().unwrap_or(&world::BUNDLED)
    }

    /// Sets a document; `json` is what [`super::json`] writes. A PDF is one file, the other
    /// formats have a file a page.
    ///
    /// # Errors
    /// What typst has against the template; with the built-in ones, a bug of ours.
    pub fn print(
        &self,
        print: Print,
        json: String,
        format: Format,
    ) -> Result<Vec<Vec<u8>>, String> {
        self.set_with(print.template(), json, format)
    }

    /// Sets a plan; `json` is what [`super::plan_json`] writes.
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn plan(&self, json: String, format: Format) -> Result<Vec<Vec<u8>>, String> {
        self.set_with("plan.typ", json, format)
    }

    /// Sets a page of changes; `json` is what [`super::html_changes::Page::json`] writes.
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn changes(&self, json: String) -> Result<Vec<Vec<u8>>, String> {
        self.set_with("changes.typ", json, Format::Pdf { archive: false })
    }

    /// Sets a day; `json` is what [`super::day_json`] writes.
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn day(&self, json: String, format: Format) -> Result<Vec<Vec<u8>>, String> {
        self.set_with("day.typ", json, format)
    }

    fn set_with(
        &self,
        template: &str,
        json: String,
        format: Format,
    ) -> Result<Vec<Vec<u8>>, String> {
        let accessible = self.missing_letters(&json).is_empty();
        let desk = Desk::of_one(&self.files, self.fonts(), template, json);
        written(&set(&desk)?, format, accessible)
    }

    /// Sets several prints into one PDF, behind a page of contents; `book` is what
    /// [`super::book_json`] writes.
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn book(
        &self,
        book: String,
        parts: Vec<BookPart>,
        archive: bool,
    ) -> Result<Vec<u8>, String> {
        let accessible = parts.iter().all(|part| self.missing_letters(&part.json).is_empty());
        let parts = parts.into_iter().map(|part| (part.print.template(), part.json)).collect();
        let desk = Desk::of_book(&self.files, self.fonts(), book, parts);
        let files = written(&set(&desk)?, Format::Pdf { archive }, accessible)?;
        files.into_iter().next().ok_or_else(|| "nothing was set".to_owned())
    }

    /// Sets a booklet; `booklet` is what [`super::booklet::pages_json`] writes, `parts` the
    /// prints in it, and `pictures` its files by name.
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn booklet(
        &self,
        booklet: String,
        parts: Vec<BookPart>,
        pictures: &[(String, Vec<u8>)],
        format: Format,
    ) -> Result<Vec<Vec<u8>>, String> {
        let texts = parts.iter().map(|part| &part.json).chain([&booklet]);
        let accessible = texts.into_iter().all(|json| self.missing_letters(json).is_empty());
        let parts = parts.into_iter().map(|part| (part.print.template(), part.json)).collect();
        let desk =
            Desk::of_booklet(&self.files, self.fonts(), "booklet.typ", booklet, parts, pictures);
        written(&set(&desk)?, format, accessible)
    }

    /// Sets a woven book; `book` is what [`super::woven::json`] writes, and `pictures` its
    /// files by name. After the pages comes the page on which each formula stands, `3,0,12`;
    /// nothing where it stands on none.
    ///
    /// # Errors
    /// As [`Press::print`].
    pub fn woven(
        &self,
        book: String,
        pictures: &[(String, Vec<u8>)],
    ) -> Result<Vec<Vec<u8>>, String> {
        let accessible = self.missing_letters(&book).is_empty();
        let (files, fonts) = (&self.files, self.fonts());
        let desk = Desk::of_booklet(files, fonts, "woven.typ", book, Vec::new(), pictures);
        let document = set(&desk)?;
        let mut files = written(&document, Format::Pdf { archive: false }, accessible)?;
        files.push(pages_of_formulas(&document).into_bytes());
        Ok(files)
    }

    /// Letters of a text that none of the fonts has.
    pub fn missing_letters(&self, json: &str) -> String {
        let book = self.fonts().book();
        // The letters of a drawn logo are set like others.
        let logo = if json.contains("\"logo.svg\"") { self.files.logo() } else { &[] };
        let logo = std::str::from_utf8(logo).unwrap_or_default();
        let missing: BTreeSet<char> = json
            .chars()
            .chain(logo.chars())
            .filter(|letter| !letter.is_ascii() && !letter.is_control())
            .filter(|letter| {
                let mut infos = (0..).map_while(|index| book.info(index));
                !infos.any(|info| info.coverage.contains(*letter as u32))
            })
            .collect();
        missing.into_iter().collect()
    }
}

/// The pages that a template tells under `formula-pages`; none where it tells nothing.
fn pages_of_formulas(document: &PagedDocument) -> String {
    let Some(label) = Label::new(PicoStr::intern("formula-pages")) else { return String::new() };
    let told = document.introspector().query_label(label).ok().cloned();
    let told = told.and_then(|it| it.into_packed::<MetadataElem>().ok());
    let pages = told.and_then(|it| it.value.clone().cast::<EcoString>().ok());
    pages.map(String::from).unwrap_or_default()
}

fn set(desk: &Desk) -> Result<PagedDocument, String> {
    let Warned { output, .. } = typst::compile::<PagedDocument>(desk);
    let document = output.map_err(|errors| told(desk, &errors))?;
    within_limits(&document)?;
    Ok(document)
}

/// The most pages of one print or book.
const MAX_PAGES: usize = 20_000;

/// The longest side of a page, in points: PDF readers show no more (200 inches; ISO 32000-1,
/// annex C).
const MAX_SIDE: f64 = 14_400.0;

/// Refuses what no printer and no reader could take.
fn within_limits(document: &PagedDocument) -> Result<(), String> {
    let pages = document.pages();
    if pages.len() > MAX_PAGES {
        return Err(format!("it has {} pages, and no more than {MAX_PAGES} are set", pages.len()));
    }
    let side =
        |page: &typst_layout::Page| page.frame.width().to_pt().max(page.frame.height().to_pt());
    let too_large =
        |(_, page): &(usize, &typst_layout::Page)| side(page).is_nan() || side(page) > MAX_SIDE;
    match pages.iter().enumerate().find(too_large) {
        Some((index, page)) => Err(format!(
            "a side of page {} has {:.0} pt, and no page may have more than {MAX_SIDE:.0} pt",
            index + 1,
            side(page)
        )),
        None => Ok(()),
    }
}

/// Pages in a format. A document with letters that no font has is no accessible PDF, and
/// is written as a plain one.
fn written(
    document: &PagedDocument,
    format: Format,
    accessible: bool,
) -> Result<Vec<Vec<u8>>, String> {
    let pages = document.pages().iter();
    match format {
        Format::Pdf { archive } => Ok(vec![pdf(document, accessible, archive)?]),
        Format::Svg => {
            let options = typst_svg::SvgOptions::default();
            let svg = |page| crate::source::markup(typst_svg::svg(page, &options)).into_bytes();
            Ok(pages.map(svg).collect())
        }
        Format::Png(dpi) => {
            let options = typst_render::RenderOptions {
                pixel_per_pt: (f64::from(dpi) / 72.0).into(),
                ..Default::default()
            };
            pages
                .map(|page| {
                    let picture = typst_render::render(page, &options);
                    picture.encode_png().map_err(|error| error.to_string())
                })
                .collect()
        }
    }
}

fn pdf(document: &PagedDocument, accessible: bool, archive: bool) -> Result<Vec<u8>, String> {
    let mut wanted = Vec::new();
    if accessible {
        wanted.push(PdfStandard::Ua_1);
    }
    if archive {
        wanted.push(PdfStandard::A_2a);
    }
    let standards = PdfStandards::new(&wanted).map_err(|error| error.message().to_string())?;
    // Archives want a date. No clock is read, so that it is always the same one.
    let timestamp = Datetime::from_ymd_hms(2000, 1, 1, 0, 0, 0).map(Timestamp::new_utc);
    let timestamp = timestamp.filter(|_| archive);
    let options = PdfOptions { standards, timestamp, ..Default::default() };
    let plain = |error: &SourceDiagnostic| error.message.to_string();
    typst_pdf::pdf(document, &options)
        .map_err(|errors| errors.iter().map(plain).collect::<Vec<_>>().join("; "))
}

/// What typst has against a template, with the line of it.
fn told(desk: &Desk, errors: &[SourceDiagnostic]) -> String {
    let one = |error: &SourceDiagnostic| match desk.place(error.span) {
        Some((file, line)) => format!("{file}, line {line}: {}", error.message),
        None => error.message.to_string(),
    };
    errors.iter().map(one).collect::<Vec<_>>().join("; ")
}

/// Whether a picture of a kind, told by the ending of its name, can be set.
pub fn is_picture(ending: &str, bytes: &[u8]) -> bool {
    let bytes = Bytes::new(bytes.to_vec());
    let format = match ending {
        "svg" => return SvgImage::new(bytes).is_ok(),
        "png" => ExchangeFormat::Png,
        "jpg" | "jpeg" => ExchangeFormat::Jpg,
        "gif" => ExchangeFormat::Gif,
        "webp" => ExchangeFormat::Webp,
        _ => return false,
    };
    RasterImage::plain(bytes, format).is_ok()
}

/// Forgets what older pages needed, so that a long run stays small.
pub fn forget() {
    comemo::evict(2);
}
