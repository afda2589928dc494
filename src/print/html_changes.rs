//! A page of changes: a list of what changed, and tables of old and new weights.

use maud::{DOCTYPE, PreEscaped, html};
use serde::Serialize;

/// The page, for a browser and for paper.
#[derive(Debug, Serialize)]
pub struct Page {
    /// Its title.
    pub title: String,
    /// What stands above the first column of its tables.
    pub first: &'static str,
    /// What is said where nothing changed.
    pub nothing: Option<String>,
    /// The list of changes.
    pub items: Vec<ChangedItem>,
    /// Old and new weights.
    pub tables: Vec<SheetTable>,
}

/// A thing that changed.
#[derive(Debug, Serialize)]
pub struct ChangedItem {
    /// What it is called.
    pub name: String,
    /// In one line.
    pub head: String,
    /// The rest, a line each.
    pub details: Vec<String>,
}

/// The lines of a sheet that changed: name, old and new.
#[derive(Debug, Serialize)]
pub struct SheetTable {
    /// Its title.
    pub title: String,
    /// Name, old and new.
    pub rows: Vec<(String, Option<String>, Option<String>)>,
}

/// The look of the page; what is new is heavy, what is old is struck through.
const STYLE: &str = "\
body{font:1rem/1.45 'Libertinus Serif',Georgia,serif;max-width:48rem;margin:2rem auto;padding:0 1rem}
h2{font-size:1.15rem;margin:1.6rem 0 .3rem}
table{border-collapse:collapse}
td,th{padding:.15rem 1.2rem .15rem 0;text-align:left;vertical-align:baseline;font-weight:400}
td.weight,th.weight{text-align:right;font-variant-numeric:tabular-nums}
ins{text-decoration:none;font-weight:700}
del{color:#555}
@media(prefers-color-scheme:dark){body{background:#181818;color:#eee}del{color:#aaa}}
@media print{section{break-inside:avoid}}
";

impl Page {
    /// The same as data, for paper.
    pub fn json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The whole page, which needs no other file.
    pub fn html(&self) -> String {
        let markup = html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    title { (self.title) }
                    style { (PreEscaped(STYLE)) }
                }
                body {
                    main {
                        h1 { (self.title) }
                        @if let Some(nothing) = &self.nothing { p { (nothing) } }
                        @if !self.items.is_empty() {
                            ul { @for item in &self.items { (item.html()) } }
                        }
                        @for table in &self.tables { (table.html(self.first)) }
                    }
                }
            }
        };
        markup.into_string()
    }
}

impl ChangedItem {
    fn html(&self) -> maud::Markup {
        html! {
            li {
                strong { (self.name) } ": " (self.head)
                @if !self.details.is_empty() {
                    ul { @for line in &self.details { li { (line) } } }
                }
            }
        }
    }
}

impl SheetTable {
    fn html(&self, first: &str) -> maud::Markup {
        html! {
            section {
                h2 { (self.title) }
                table {
                    thead {
                        tr {
                            th scope="col" { (first) }
                            th.weight scope="col" { "was" }
                            th.weight scope="col" { "is" }
                        }
                    }
                    tbody {
                        @for (name, old, new) in &self.rows {
                            tr {
                                th scope="row" { (name) }
                                td.weight { @if let Some(old) = old { del { (old) } } }
                                td.weight { @if let Some(new) = new { ins { (new) } } }
                            }
                        }
                    }
                }
            }
        }
    }
}
