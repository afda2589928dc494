//! Booklets: from what a teacher puts together to the one document it prints from.
//!
//! `document` is what leaves; `maker` knows the house and the yields; each other file makes
//! one kind of part: `marks` texts, `grid` and `worksheet` tables with blanks and their
//! keys, `compare`, `reckoner`, `general`, `shopping` and `timetable` tables.

mod compare;
pub mod document;
mod exercise;
mod general;
mod grid;
mod judge;
mod maker;
mod marks;
mod objections;
mod rank;
mod reckoner;
mod shopping;
mod slips;
mod task;
mod timetable;
mod whole;
mod worksheet;

pub use document::{BookletDocument, BookletPart, TablePart};
pub use judge::check_booklet;
pub use maker::{Copy, Maker, Occurring, Terms, picture_name};

use super::document::Document;
use super::pages::{BookPart, Print};
use crate::diag::machine::pretty;

/// The most mixes of a table that stands upright: with the whole formula, three columns.
const MAX_UPRIGHT: usize = 2;

/// The document of a print inside a booklet: a small table stands upright there, as the pages
/// about it do.
fn json_of(print: Print, document: &Document) -> String {
    let is_small = matches!(document.house.paper.as_deref(), Some("a5" | "half-letter"));
    if print != Print::Table || document.mixes.len() > MAX_UPRIGHT || is_small {
        return super::json(document);
    }
    let mut json = serde_json::to_value(document).unwrap_or_default();
    json["upright"] = true.into();
    pretty(&json)
}

/// A booklet's document as JSON, as its template reads it.
pub fn booklet_json(document: &BookletDocument) -> String {
    pretty(document)
}

/// The published JSON Schema of a booklet's document.
#[cfg_attr(closed, allow(dead_code, reason = "tests hold it to the published one"))]
pub fn booklet_schema() -> String {
    pretty(&schemars::schema_for!(BookletDocument))
}

/// What the template of booklets reads: the document, in which a print is the folder that it
/// stands in; and the prints themselves. In large print they are set by the booklet's own
/// template.
pub fn pages_json(document: &BookletDocument, known: &[String]) -> (String, Vec<BookPart>) {
    let mut json = serde_json::to_value(document).unwrap_or_default();
    let mut parts = Vec::new();
    let all = json.get_mut("parts").and_then(|parts| parts.as_array_mut());
    for (own, part) in document.parts.iter().zip(all.into_iter().flatten()) {
        match own {
            BookletPart::Print { .. } if document.large => part["kind"] = "large".into(),
            BookletPart::Print { print, document } => {
                let kind = Print::ALL.into_iter().find(|kind| kind.word() == print);
                let folder = parts.len().to_string();
                *part = serde_json::json!({
                    "kind": "print", "folder": folder, "template": format!("{print}.typ"),
                });
                let print = kind.unwrap_or(Print::Card);
                parts.push(BookPart { print, json: json_of(print, document) });
            }
            BookletPart::Picture { file, .. } if !known.contains(file) => {
                part["missing"] = true.into();
            }
            _ => {}
        }
    }
    (pretty(&json), parts)
}
