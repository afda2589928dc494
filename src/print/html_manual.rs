//! A reference as one page for a browser: headings, tables and a list of contents, no
//! script, for light and dark screens and for paper.

use super::html::shell;
use super::manual::{Chapter, ManualTable, Page};
use maud::{Markup, html};

const CSS: &str = include_str!("../../templates/reference.css");

/// The whole reference.
pub fn page(title: &str, intro: &str, chapters: &[Chapter]) -> String {
    let body = html! {
        header { h1 { (title) } }
        main.reference {
            (paragraphs(intro))
            nav aria-labelledby="contents" {
                h2 id="contents" { "Contents" }
                @for chapter in chapters { (contents(chapter)) }
            }
            @for chapter in chapters { (one(chapter)) }
        }
    };
    shell(title, CSS, &body)
}

fn id(chapter: &Chapter) -> String {
    format!("all-{}", chapter.title.to_lowercase().replace(' ', "-"))
}

fn contents(chapter: &Chapter) -> Markup {
    html! {
        h3 { a href=(format!("#{}", id(chapter))) { (chapter.title) } }
        ul {
            @for page in &chapter.pages {
                li { a href=(format!("#{}", page.anchor)) { (page.name) } }
            }
        }
    }
}

fn one(chapter: &Chapter) -> Markup {
    html! {
        section aria-labelledby=(id(chapter)) {
            h2 id=(id(chapter)) { (chapter.title) }
            (paragraphs(&chapter.intro))
            @for page in &chapter.pages { (entry(page)) }
        }
    }
}

fn entry(page: &Page) -> Markup {
    html! {
        article aria-labelledby=(page.anchor) {
            h3 id=(page.anchor) { (page.name) }
            @if !page.line.is_empty() { p { (inline(&page.line)) } }
            @if !page.facts.is_empty() {
                table.facts {
                    tbody {
                        @for fact in &page.facts {
                            tr { th scope="row" { (fact.label) } td { (inline(&fact.words)) } }
                        }
                    }
                }
            }
            (paragraphs(&page.prose))
            @if let Some(table) = &page.table { (rows(table)) }
            @if let Some(example) = &page.example {
                pre tabindex="0" { code { (example.trim_end()) } }
            }
        }
    }
}

fn rows(table: &ManualTable) -> Markup {
    html! {
        table.rows {
            thead { tr { @for head in &table.heads { th scope="col" { (head) } } } }
            tbody {
                @for row in &table.rows {
                    tr {
                        @for (index, cell) in row.iter().enumerate() {
                            @if index == 0 { th scope="row" { (inline(cell)) } }
                            @else { td { (inline(cell)) } }
                        }
                    }
                }
            }
        }
    }
}

fn paragraphs(text: &str) -> Markup {
    html! {
        @for paragraph in text.split("\n\n").filter(|paragraph| !paragraph.trim().is_empty()) {
            p { (inline(paragraph)) }
        }
    }
}

/// Words with what stands between backticks as code.
fn inline(text: &str) -> Markup {
    html! {
        @for (index, part) in text.split('`').enumerate() {
            @if index % 2 == 1 { code { (part) } } @else { (part) }
        }
    }
}
