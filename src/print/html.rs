//! A print as a page for a browser: one file, real tables, no script, light and dark.
//!
//! A card also carries the recipe for machines, as schema.org's `Recipe` in JSON-LD.

mod booklet;
mod card;
mod care;
mod columns;
mod day;
mod lists;
mod recipe;
mod sheet;
mod table;
mod tame;
mod words;
mod woven;

use super::booklet::BookletDocument;
use super::day_document::DayDocument;
use super::document::{Document, HousePart, TracePart};
use super::look::{Colour, readable};
use super::pages::Print;
use super::tied::tied_markup;
use base64::Engine;
use card::card;
use care::care;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use recipe::recipe;
pub use recipe::step_text;
use sheet::sheet;
use table::table;
use words::filled;
pub use woven::WovenPage;

const CSS: &str = include_str!("../../templates/page.css");

/// What a book has beyond a print: chapters, a measure for reading, pictures, footnotes.
const WOVEN_CSS: &str = include_str!("../../templates/woven.css");

/// The colour of prints whose house has none.
const USUAL_COLOUR: &str = "#7f4424";
/// What large type is in a booklet that asks for it.
const LARGE: &str = "html { font-size: 18pt } .quiet { font-size: 1rem }";
/// The chart of a day is black on white, and no narrower than can be read.
const CHART: &str = ".chart img { background: #fff; min-width: 46rem; width: 100%; margin: .4rem 0; }\n\
                     thead td { border-top: 0; }\n\
                     section.care { margin: .4rem 0; break-inside: avoid; }";
/// The grounds of `page.css` in the dark.
const DARK_GROUNDS: [Colour; 2] = [Colour([0x16, 0x13, 0x0f]), Colour([0x24, 0x1f, 0x19])];

/// The page of a print; `logo` are the bytes of the picture that the document names.
pub fn page(document: &Document, print: Print, logo: Option<&[u8]>) -> String {
    let body = match print {
        Print::Card => card(document),
        Print::Sheet => sheet(document),
        Print::Table => table(document),
    };
    let kind = print.word();
    let picture = document.house.logo.as_ref().zip(logo).map(|(name, bytes)| as_url(name, bytes));
    let script = html! {
        @if print == Print::Card {
            script type="application/ld+json" {
                (PreEscaped(recipe(document, picture.as_deref())))
            }
        }
    };
    let body = html! {
        main class=(kind) {
            (head(document, picture.as_deref()))
            (body)
            (care(document))
        }
        (foot(document))
    };
    Frame {
        language: &document.language,
        title: &document.title,
        colour: document.house.colour.as_deref(),
        css: "",
        more: script,
    }
    .around(&body)
}

/// What stands around the body of every page.
struct Frame<'f> {
    language: &'f str,
    title: &'f str,
    colour: Option<&'f str>,
    /// What is added to the style of all pages.
    css: &'f str,
    /// What else stands in its head.
    more: Markup,
}

impl Frame<'_> {
    fn around(&self, body: &Markup) -> String {
        let markup = html! {
            (DOCTYPE)
            html lang=(self.language) {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    title { (self.title) }
                    style {
                        (PreEscaped(colours(self.colour))) (PreEscaped(CSS)) (PreEscaped(self.css))
                    }
                    (self.more)
                }
                body { (body) }
            }
        };
        crate::source::markup(tied_markup(&(markup.into_string() + "\n")))
    }
}

/// The page of a booklet; `pictures` are its files by name.
pub fn booklet_page(document: &BookletDocument, pictures: &[(String, Vec<u8>)]) -> String {
    let body = html! {
        main.table { (booklet::booklet(document, pictures)) }
        (foot_of(&document.house, &document.name, document.trace.as_ref()))
    };
    let large = if document.large { LARGE } else { "" };
    Frame {
        language: &document.language,
        title: &document.title,
        colour: document.house.colour.as_deref(),
        css: large,
        more: html! {},
    }
    .around(&body)
}

/// The page of a production day; `charts` are the pages of its chart as SVG.
pub fn day_page(document: &DayDocument, charts: &[Vec<u8>]) -> String {
    let body = html! {
        main.table { (lists::lists(document, charts)) }
        (foot_of(&document.house, &document.name, document.trace.as_ref()))
    };
    Frame {
        language: &document.language,
        title: &document.title,
        colour: document.house.colour.as_deref(),
        css: CHART,
        more: html! {},
    }
    .around(&body)
}

/// What stands below what is no print of one formula.
fn foot_of(house: &HousePart, name: &str, trace: Option<&TracePart>) -> Markup {
    html! {
        footer.quiet {
            @if let Some(house) = &house.title { span { (house) } }
            span { (name) }
            @if let Some(trace) = trace { span { (trace.revision) " · " (trace.code) } }
            @if let Some(footer) = &house.footer { span { (footer) } }
        }
    }
}

/// The page of a woven manuscript.
pub fn woven_page(page: &WovenPage) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang=(page.language) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (page.title) }
                style {
                    (PreEscaped(colours(page.colour))) (PreEscaped(CSS)) (PreEscaped(WOVEN_CSS))
                }
            }
            body { main.book { (woven::book(page)) } }
        }
    };
    crate::source::markup(tied_markup(&(markup.into_string() + "\n")))
}

/// A page that is no print, in English and in our own colour; `css` is its own.
pub fn shell(title: &str, css: &str, body: &Markup) -> String {
    Frame { language: "en", title, colour: None, css, more: html! {} }.around(body)
}

/// The accent by day and by night, each readable on its grounds.
fn colours(colour: Option<&str>) -> String {
    let colour = colour.unwrap_or(USUAL_COLOUR);
    let light = readable(colour).unwrap_or_else(|| USUAL_COLOUR.to_owned());
    let dark = Colour::read(&light)
        .map(|colour| colour.towards(Colour([255, 255, 255]), &DARK_GROUNDS).written())
        .unwrap_or_else(|| light.clone());
    format!(":root {{ --accent: {light}; --accent-light: {light}; --accent-dark: {dark}; }}\n")
}

/// A picture as an address that holds all of it, so that a page needs no other file.
fn as_url(name: &str, bytes: &[u8]) -> String {
    let kind = if name.ends_with(".svg") { "svg+xml" } else { "png" };
    let bytes = base64::engine::general_purpose::STANDARD.encode(bytes);
    format!("data:image/{kind};base64,{bytes}")
}

fn head(document: &Document, picture: Option<&str>) -> Markup {
    let house = document.house.title.as_deref().unwrap_or_default();
    html! {
        header {
            div {
                @if let Some(picture) = picture {
                    img src=(picture) alt=(filled(document, "logo", &[("house", house)]));
                }
                h1 { (document.title) }
            }
            div.makes {
                @for piece in &document.makes.pieces {
                    p.makes {
                        strong { (piece.count) } " " (piece.kind) " "
                        span.quiet {
                            @let of_dough = if piece.count == "1" { "of-dough" } else { "of-dough-each" };
                            (filled(document, of_dough, &[("weight", &piece.weight.said())]))
                            @if let Some(tin) = &piece.tin {
                                ", " (filled(document, "in-tin", &[("tin", tin)]))
                            }
                            @if let Some(baked) = &piece.baked {
                                @let word = if piece.as_eaten.is_some() { "baked-alone" } else { "baked" };
                                ", " (filled(document, word, &[("weight", &baked.said())]))
                            }
                            @if let Some(eaten) = &piece.as_eaten {
                                ", " (filled(document, "as-eaten", &[("weight", &eaten.said())]))
                            }
                        }
                    }
                }
                @if document.makes.pieces.is_empty() {
                    p.makes { (document.makes.text) }
                } @else if let Some(people) = &document.makes.serves {
                    p.makes { (filled(document, "serves", &[("people", people)])) }
                }
            }
        }
    }
}

/// A code for a telephone, with the four light modules around it that readers need.
fn square(rows: &[String], code: &str) -> Markup {
    const QUIET: usize = 4;
    let wide = rows.len() + 2 * QUIET;
    let dark = |(y, row): (usize, &String)| -> String {
        let dark = row.bytes().enumerate().filter(|(_, it)| *it == b'1');
        dark.map(|(x, _)| format!("M{} {}h1v1h-1z", x + QUIET, y + QUIET)).collect()
    };
    let path: String = rows.iter().enumerate().map(dark).collect();
    html! {
        svg.qr viewBox=(format!("0 0 {wide} {wide}")) role="img" aria-label=(code)
            shape-rendering="crispEdges" {
            rect width=(wide) height=(wide) fill="#fff" {}
            path d=(path) fill="#000" {}
        }
    }
}

fn foot(document: &Document) -> Markup {
    html! {
        footer.quiet {
            @if let Some(house) = &document.house.title { span { (house) } }
            span { (document.name) }
            @if let Some(trace) = &document.trace {
                span { (trace.revision) " · " (trace.code) }
                @if let Some(rows) = &trace.qr { (square(rows, &trace.code)) }
            }
            @if let Some(footer) = &document.house.footer { span { (footer) } }
        }
    }
}
