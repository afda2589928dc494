//! Results as one neutral, documented sheet, and the ways to write it.
//!
//! Enters: formulas worked out. Leaves: a [`Document`], and from it text, JSON, CSV and
//! pages. Only `pages` knows typst. Absent on purpose: the syntax of a file, where files
//! are written, and any arithmetic of its own beyond rounding on paper.

pub mod assets;
pub mod book;
pub mod booklet;
mod build;
mod calendar;
mod cautions;
mod context;
mod day_build;
pub mod day_document;
mod day_text;
mod degrees;
pub mod document;
mod ends;
pub mod findings;
pub mod guarded;
pub mod html;
pub mod html_changes;
pub mod html_manual;
mod kitchen;
mod live;
pub mod look;
pub mod manual;
pub mod markdown;
mod method;
pub mod pages;
pub mod parallel;
mod plan;
mod plan_day;
mod plan_document;
mod plan_text;
mod plan_together;
mod plan_words;
mod reasons;
mod spreadsheet;
mod tables;
mod tied;
mod timeline;
mod two_languages;
pub mod wording;
mod words;
pub mod woven;

pub use build::{document, every_figure};
pub use calendar::{calendar, day_calendar};
pub use day_build::{day_as_begun, day_document, day_sheets};
pub use day_document::{day_json, day_schema};
pub use day_text::{day_csv, day_text};
pub use document::Document;
pub use plan::plan_document;
pub use plan_document::{PlanDocument, Planned, plan_json, plan_schema};
pub use plan_text::plan_text;
pub use reasons::{Ends, json_tree, tree, tree_as_printed};
pub use spreadsheet::{Cell, spreadsheet};
pub use tables::{csv, text};
pub use two_languages::in_two;
pub use wording::Wording;

use crate::diag::machine::pretty;

/// The document as JSON, as `show` prints it and templates read it.
pub fn json(document: &Document) -> String {
    // A document is strings and lists; there is nothing in it that JSON can't say.
    pretty(document)
}

/// The published JSON Schema of the document.
pub fn schema() -> String {
    let schema = schemars::schema_for!(Document);
    pretty(&schema)
}
