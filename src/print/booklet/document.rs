//! The one document of a booklet: every page and every file of it is written from this.

use crate::print::document::{Document, HousePart, TracePart};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// The version of this document's shape.
pub const VERSION: u32 = 1;

/// A booklet as one copy of it prints.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BookletDocument {
    /// The version of this document's shape.
    pub version: u32,
    /// The house that prints it.
    pub house: HousePart,
    /// The booklet's identifier.
    pub name: String,
    /// What its cover says.
    pub title: String,
    /// Language of the printed words, as a BCP 47 tag.
    pub language: String,
    /// What parts the whole from the rest of a number.
    pub decimal_mark: String,
    /// The words that the template adds of its own.
    pub words: BTreeMap<String, String>,
    /// Whose copy it is, to print below the title; absent where there is one for all.
    pub copy: Option<String>,
    /// For how many it is, to print below the title.
    pub people: Option<String>,
    /// Set for readers who see badly.
    pub large: bool,
    /// What it prints, in order.
    pub parts: Vec<BookletPart>,
    /// Where the booklet came from.
    pub trace: Option<TracePart>,
}

/// One thing in a booklet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum BookletPart {
    /// Words of the author.
    Text {
        /// In order.
        blocks: Vec<TextBlock>,
    },
    /// What can hurt somebody.
    Caution {
        /// A sentence or two.
        text: String,
    },
    /// What follows begins a page.
    Page,
    /// A picture.
    Picture {
        /// Its name among the files beside this document.
        file: String,
        /// What stands below it, and what a screen reader says.
        caption: String,
    },
    /// A card, a sheet or a table of a formula.
    Print {
        /// `card`, `sheet` or `table`.
        print: String,
        /// What the print is written from.
        document: Box<Document>,
    },
    /// A table of one of the kinds below.
    Table(TablePart),
    /// Words with what they mean.
    Glossary {
        /// What stands above.
        title: String,
        /// In alphabetical order.
        entries: Vec<GlossaryEntry>,
    },
    /// Lines below a title.
    Lines {
        /// What stands above.
        title: String,
        /// In order.
        lines: Vec<String>,
    },
}

/// A block of a text.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TextBlock {
    /// `heading`, `subheading`, `paragraph`, `list` or `numbered`.
    pub kind: String,
    /// The words of a heading or a paragraph.
    pub runs: Vec<WordRun>,
    /// The items of a list.
    pub items: Vec<Vec<WordRun>>,
}

/// Words of one look.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WordRun {
    /// The words.
    pub text: String,
    /// Set apart, as `*so*` is.
    pub emphasis: bool,
    /// Set strongly, as `**so**` is.
    pub strong: bool,
}

/// A table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TablePart {
    /// What stands above.
    pub title: String,
    /// Sentences between title and table.
    pub lead: Vec<String>,
    /// What the first column is called.
    pub names: String,
    /// The other columns.
    pub columns: Vec<TableColumn>,
    /// From top to bottom.
    pub rows: Vec<TableRow>,
    /// Sentences below the table.
    pub notes: Vec<String>,
    /// The next part goes on with the same table: its title is not printed again.
    pub goes_on: bool,
    /// It is the key of a worksheet or an exercise: no contents name it.
    pub key: bool,
}

/// A column of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TableColumn {
    /// Its heading; empty where it belongs to the one before it.
    pub title: String,
    /// What it holds: `%`.
    pub under: String,
}

/// A row of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TableRow {
    /// `line`, `sum`, `figure`, or `head` of what follows.
    pub kind: String,
    /// What it is of.
    pub name: String,
    /// One for each column.
    pub cells: Vec<TableCell>,
}

/// A cell of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TableCell {
    /// What to print; empty where there is nothing.
    pub shown: String,
    /// The unit to print after it.
    pub unit: String,
    /// To be filled in by hand: nothing is printed but a rule.
    pub blank: bool,
    /// Letters that the rule has room for, where more than for a weight are wanted.
    pub room: usize,
    /// Set strongly.
    pub strong: bool,
}

/// A word and what it means.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct GlossaryEntry {
    /// The word.
    pub word: String,
    /// What it means.
    pub text: String,
}

impl TableCell {
    /// A number, or words, with a unit.
    pub fn of(shown: impl Into<String>, unit: impl Into<String>) -> Self {
        Self { shown: shown.into(), unit: unit.into(), ..Self::default() }
    }
}
