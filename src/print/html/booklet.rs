//! A booklet as one page for a browser.

use super::card::card;
use super::care::care;
use super::columns::{number, room};
use super::sheet::sheet;
use super::table::table;
use crate::print::booklet::BookletDocument;
use crate::print::booklet::document::{
    BookletPart, GlossaryEntry, TableCell, TablePart, TextBlock, WordRun,
};
use crate::print::document::Document;
use base64::Engine;
use maud::{Markup, html};

/// The inside of the page: what stands between its head and its foot.
pub fn booklet(document: &BookletDocument, pictures: &[(String, Vec<u8>)]) -> Markup {
    html! {
        header {
            h1 { (document.title) }
            @for line in document.people.iter().chain(&document.copy) { p.quiet { (line) } }
        }
        @for part in &document.parts { (part_of(document, part, pictures)) }
    }
}

fn part_of(
    document: &BookletDocument,
    part: &BookletPart,
    pictures: &[(String, Vec<u8>)],
) -> Markup {
    match part {
        BookletPart::Text { blocks } => html! { @for block in blocks { (block_of(block)) } },
        BookletPart::Caution { text } => html! { p.care { strong { (text) } } },
        BookletPart::Page => html! { hr; },
        BookletPart::Picture { file, caption } => html! {
            figure {
                @if let Some((_, bytes)) = pictures.iter().find(|(name, _)| name == file) {
                    img src=(data_of(file, bytes)) alt=(caption);
                }
                figcaption { (caption) }
            }
        },
        BookletPart::Print { print, document } => print_of(print, document),
        BookletPart::Table(part) => table_of(document, part),
        BookletPart::Glossary { title, entries } => glossary(title, entries),
        BookletPart::Lines { title, lines } => html! {
            h2 { (title) }
            ul { @for line in lines { li { (line) } } }
        },
    }
}

fn data_of(file: &str, bytes: &[u8]) -> String {
    let kind = if file.to_lowercase().ends_with(".png") { "image/png" } else { "image/svg+xml" };
    format!("data:{kind};base64,{}", base64::engine::general_purpose::STANDARD.encode(bytes))
}

fn block_of(block: &TextBlock) -> Markup {
    match block.kind.as_str() {
        "heading" => html! { h2 { (runs_of(&block.runs)) } },
        "subheading" => html! { h3 { (runs_of(&block.runs)) } },
        "list" => html! { ul { @for item in &block.items { li { (runs_of(item)) } } } },
        "numbered" => html! { ol { @for item in &block.items { li { (runs_of(item)) } } } },
        _ => html! { p { (runs_of(&block.runs)) } },
    }
}

fn runs_of(runs: &[WordRun]) -> Markup {
    html! {
        @for run in runs {
            @if run.strong { strong { (run.text) } } @else if run.emphasis { em { (run.text) } } @else { (run.text) }
        }
    }
}

fn print_of(print: &str, document: &Document) -> Markup {
    html! {
        section {
            h2 { (document.title) }
            p { (document.makes.text) }
            @match print {
                "sheet" => (sheet(document)),
                "table" => (table(document)),
                _ => (card(document)),
            }
            (care(document))
        }
    }
}

fn table_of(document: &BookletDocument, part: &TablePart) -> Markup {
    let has_under = part.columns.iter().any(|column| !column.under.is_empty());
    let width = part.columns.len() + 1;
    html! {
        @if !part.goes_on { h2 { (part.title) } }
        @for line in &part.lead { p { (line) } }
        div.scroll {
            table {
                // It stands above as a heading: only a screen reader says it of the table too.
                caption.unseen { (part.title) }
                thead {
                    tr {
                        @if part.names.is_empty() { td {} } @else { th scope="col" { (part.names) } }
                        @for (at, column) in part.columns.iter().enumerate() {
                            @let title = title_of(part, at);
                            @if title.is_empty() && column.under.is_empty() { td {} } @else {
                                th.n scope="col" {
                                    (title)
                                    @if has_under { br; span.quiet { (column.under) } }
                                }
                            }
                        }
                    }
                }
                tbody {
                    @for row in &part.rows {
                        @if row.kind == "head" {
                            tr { th scope="colgroup" colspan=(width) { (row.name) } }
                        } @else {
                            tr.sum[row.kind == "sum"] {
                                th scope="row" { (row.name) }
                                @for (at, cell) in row.cells.iter().enumerate() {
                                    td.n { (cell_of(document, part, at, cell)) }
                                }
                            }
                        }
                    }
                }
            }
        }
        @for note in &part.notes { p.quiet { (note) } }
    }
}

/// The heading of a column, which one without its own has from the one before it.
fn title_of(part: &TablePart, at: usize) -> &str {
    let before = part.columns.iter().take(at + 1).rev();
    before.map(|column| column.title.as_str()).find(|title| !title.is_empty()).unwrap_or_default()
}

fn cell_of(document: &BookletDocument, part: &TablePart, at: usize, cell: &TableCell) -> Markup {
    if cell.blank {
        let rule = "_".repeat(cell.room.max(8));
        return html! {
            span.blank role="img" aria-label=(blank_word(document)) { (rule) " " } (cell.unit)
        };
    }
    let column = part.rows.iter().filter_map(|row| row.cells.get(at));
    let shown = column.filter(|it| !it.shown.is_empty());
    let mark = document.decimal_mark.as_str();
    let room = room(shown.map(|it| (it.shown.as_str(), it.unit.as_str())), mark);
    html! { @if !cell.shown.is_empty() { (number(&cell.shown, &cell.unit, &room, mark)) } }
}

fn blank_word(document: &BookletDocument) -> &str {
    document.words.get("blank").map_or("blank", String::as_str)
}

fn glossary(title: &str, entries: &[GlossaryEntry]) -> Markup {
    html! {
        h2 { (title) }
        dl { @for entry in entries { dt { strong { (entry.word) } } dd { (entry.text) } } }
    }
}
