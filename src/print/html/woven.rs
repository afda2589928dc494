//! A woven manuscript as one page for a browser.

use super::card::card;
use super::care::care;
use super::tame::{leads_somewhere, tamed};
use crate::print::document::Document;
use crate::print::markdown::{Block, ColumnSide, TextRun, plain};
use crate::print::woven::{anchor_once, marked};
use base64::Engine;
use maud::{Markup, PreEscaped, html};
use std::collections::BTreeMap;

/// A manuscript that is woven, with what its page takes from elsewhere.
pub struct WovenPage<'p> {
    /// What stands on its title page; the file's name where it has no title.
    pub title: &'p str,
    /// Its language, as a tag.
    pub language: &'p str,
    /// The house's colour.
    pub colour: Option<&'p str>,
    /// The word above the list of chapters.
    pub contents: &'p str,
    /// Its text.
    pub blocks: &'p [Block],
    /// The formula whose card stands at a place, by its number.
    pub card: &'p dyn Fn(usize) -> Option<&'p Document>,
    /// The bytes of a picture beside the manuscript.
    pub picture: &'p dyn Fn(&str) -> Option<&'p [u8]>,
    /// The names of the manuscripts that are woven together.
    pub files: &'p [String],
}

/// The address of a picture that is not in the page; none of one that is no place.
fn led_to(file: &str) -> String {
    if leads_somewhere(file) { file.to_owned() } else { String::new() }
}

/// The inside of the page.
pub fn book(page: &WovenPage) -> Markup {
    let mut writer = WovenWriter { page, anchors: BTreeMap::new(), notes: Vec::new(), at: 0 };
    let chapters = writer.chapters();
    let words = writer.blocks(page.blocks);
    let notes = writer.end_notes();
    html! {
        @if chapters.len() > 1 {
            nav aria-label=(page.contents) {
                p { strong { (page.contents) } }
                ul {
                    @for (level, id, words) in &chapters {
                        li.{ "level-" (level) } { a href={ "#" (id) } { (words) } }
                    }
                }
            }
        }
        (words)
        (notes)
    }
}

struct WovenWriter<'w, 'p> {
    page: &'w WovenPage<'p>,
    /// How often an anchor was given.
    anchors: BTreeMap<String, usize>,
    /// The footnotes in the order of their marks.
    notes: Vec<String>,
    /// How many headings were written.
    at: usize,
}

impl WovenWriter<'_, '_> {
    /// The headings of the first two levels: level, anchor, words.
    fn chapters(&self) -> Vec<(u8, String, String)> {
        let mut anchors = BTreeMap::new();
        let headings = self.page.blocks.iter().filter_map(|block| match block {
            Block::Heading(level, words) => {
                let words = plain(words);
                Some((*level, anchor_once(&mut anchors, &words), words))
            }
            _ => None,
        });
        headings.filter(|(level, ..)| *level <= 2).collect()
    }

    fn blocks(&mut self, blocks: &[Block]) -> Markup {
        let all: Vec<Markup> = blocks.iter().map(|block| self.block(block)).collect();
        html! { @for block in all { (block) } }
    }

    fn block(&mut self, block: &Block) -> Markup {
        match block {
            Block::Heading(level, words) => self.heading(*level, words),
            Block::Words(words) => html! { p { (self.runs(words)) } },
            Block::List(None, items) => html! { ul { (self.items(items)) } },
            Block::List(Some(1), items) => html! { ol { (self.items(items)) } },
            Block::List(Some(first), items) => html! { ol start=(first) { (self.items(items)) } },
            Block::Quote(inner) => html! { blockquote { (self.blocks(inner)) } },
            Block::Code(text) => html! { pre { code { (text) } } },
            Block::Html(text) => match marked(text).map(|(_, number)| (self.page.card)(number)) {
                Some(Some(document)) => card_of(document),
                Some(None) => html! {},
                None => PreEscaped(tamed(text)),
            },
            Block::Table(sides, rows) => self.table(sides, rows),
            Block::Terms(terms) => self.terms(terms),
            // Below all else, in the order of their marks.
            Block::Note(..) => html! {},
            Block::Rule => html! { hr; },
        }
    }

    fn heading(&mut self, level: u8, words: &[TextRun]) -> Markup {
        let id = anchor_once(&mut self.anchors, &plain(words));
        let inner = self.runs(words);
        self.at += 1;
        match level {
            1 => html! { h1 id=(id) { (inner) } },
            2 => html! { h2 id=(id) { (inner) } },
            3 => html! { h3 id=(id) { (inner) } },
            4 => html! { h4 id=(id) { (inner) } },
            5 => html! { h5 id=(id) { (inner) } },
            _ => html! { h6 id=(id) { (inner) } },
        }
    }

    fn items(&mut self, items: &[Vec<Block>]) -> Markup {
        let all: Vec<Markup> = items
            .iter()
            .map(|item| match item.as_slice() {
                [Block::Words(words)] => self.runs(words),
                [Block::Words(words), rest @ ..] => {
                    let words = self.runs(words);
                    html! { p { (words) } (self.blocks(rest)) }
                }
                all => self.blocks(all),
            })
            .collect();
        html! { @for item in all { li { (item) } } }
    }

    fn table(&mut self, sides: &[ColumnSide], rows: &[Vec<Vec<TextRun>>]) -> Markup {
        let side = |at: usize| sides.get(at).copied().unwrap_or(ColumnSide::Start);
        let rows: Vec<Vec<(ColumnSide, bool, Markup)>> = rows
            .iter()
            .map(|row| {
                let cells = row.iter().enumerate();
                let cell = |(at, words): (usize, &Vec<TextRun>)| {
                    (side(at), words.is_empty(), self.runs(words))
                };
                cells.map(cell).collect()
            })
            .collect();
        let Some((heads, below)) = rows.split_first() else { return html! {} };
        let class = |side: &ColumnSide| match side {
            ColumnSide::Start => None,
            ColumnSide::Middle => Some("middle"),
            ColumnSide::End => Some("n"),
        };
        html! {
            div.wide {
                table {
                    thead {
                        tr {
                            @for (side, is_empty, words) in heads {
                                // A head without words heads nothing.
                                @if *is_empty { td {} } @else {
                                    th scope="col" class=[class(side)] { (words) }
                                }
                            }
                        }
                    }
                    tbody {
                        @for row in below {
                            tr {
                                @for (at, (side, is_empty, words)) in row.iter().enumerate() {
                                    @if at == 0 && !is_empty {
                                        th scope="row" class=[class(side)] { (words) }
                                    } @else {
                                        td class=[class(side)] { (words) }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }

    fn terms(&mut self, terms: &[(Vec<TextRun>, Vec<Vec<Block>>)]) -> Markup {
        let mut all = Vec::new();
        for (term, said) in terms {
            let term = self.runs(term);
            let said: Vec<Markup> = said.iter().map(|blocks| self.blocks(blocks)).collect();
            all.push(html! { dt { (term) } @for said in said { dd { (said) } } });
        }
        html! { dl { @for term in all { (term) } } }
    }

    fn runs(&mut self, runs: &[TextRun]) -> Markup {
        let all: Vec<Markup> = runs.iter().map(|run| self.run(run)).collect();
        html! { @for run in all { (run) } }
    }

    fn run(&mut self, run: &TextRun) -> Markup {
        match run {
            TextRun::Text(words) => html! { (words) },
            TextRun::Code(words) => html! { code { (words) } },
            TextRun::Html(words) => PreEscaped(tamed(words)),
            TextRun::Emphasis(inner) => html! { em { (self.runs(inner)) } },
            TextRun::Strong(inner) => html! { strong { (self.runs(inner)) } },
            TextRun::Struck(inner) => html! { s { (self.runs(inner)) } },
            TextRun::Link(to, inner) => {
                let to = Some(self.link(to)).filter(|to| leads_somewhere(to));
                html! { a href=[to] { (self.runs(inner)) } }
            }
            TextRun::Picture(file, shows) => html! { img src=(self.picture(file)) alt=(shows); },
            TextRun::NoteMark(name) => self.note_mark(name),
            TextRun::Break => html! { br; },
        }
    }

    /// A link to another manuscript leads to its page.
    fn link(&self, to: &str) -> String {
        let (file, place) = to.split_once('#').map_or((to, None), |(file, at)| (file, Some(at)));
        let is_woven = self.page.files.iter().any(|name| name == file);
        let Some(stem) = file.rsplit_once('.').map(|(stem, _)| stem).filter(|_| is_woven) else {
            return to.to_owned();
        };
        match place {
            Some(place) => format!("{stem}.html#{place}"),
            None => format!("{stem}.html"),
        }
    }

    /// A picture beside the manuscript goes into the page.
    fn picture(&self, file: &str) -> String {
        let ending = file.rsplit('.').next().unwrap_or_default().to_lowercase();
        let kind = match ending.as_str() {
            "png" => "image/png",
            "jpg" | "jpeg" => "image/jpeg",
            "gif" => "image/gif",
            "webp" => "image/webp",
            "svg" => "image/svg+xml",
            _ => return led_to(file),
        };
        match (self.page.picture)(file) {
            Some(bytes) => data_url(kind, bytes),
            None => led_to(file),
        }
    }

    fn note_mark(&mut self, name: &str) -> Markup {
        let is_first = !self.notes.iter().any(|known| known == name);
        if is_first {
            self.notes.push(name.to_owned());
        }
        let number = self.notes.iter().position(|known| known == name).map_or(0, |at| at + 1);
        let id = is_first.then(|| format!("mark-{number}"));
        html! {
            sup { a id=[id] href={ "#note-" (number) } role="doc-noteref" { (number) } }
        }
    }

    /// The footnotes that have a mark.
    fn end_notes(&mut self) -> Markup {
        let mut all = Vec::new();
        let mut at = 0;
        // A note may hold the mark of another one.
        while let Some(name) = self.notes.get(at).cloned() {
            let said = note_in(self.page.blocks, &name).unwrap_or_default();
            all.push(self.blocks(said));
            at += 1;
        }
        if all.is_empty() {
            return html! {};
        }
        html! {
            section.notes role="doc-endnotes" {
                hr;
                ol {
                    @for (at, said) in (1..).zip(all) {
                        li id={ "note-" (at) } {
                            (said)
                            a href={ "#mark-" (at) } role="doc-backlink" aria-label={ "↩ " (at) } { "↩" }
                        }
                    }
                }
            }
        }
    }
}

fn note_in<'b>(blocks: &'b [Block], name: &str) -> Option<&'b [Block]> {
    blocks.iter().find_map(|block| match block {
        Block::Note(known, said) if known == name => Some(said.as_slice()),
        Block::Quote(inner) => note_in(inner, name),
        Block::List(_, items) => items.iter().find_map(|item| note_in(item, name)),
        _ => None,
    })
}

/// Bytes as an address that holds them.
fn data_url(kind: &str, bytes: &[u8]) -> String {
    format!("data:{kind};base64,{}", base64::engine::general_purpose::STANDARD.encode(bytes))
}

/// A card inside a text, as a part of its own.
fn card_of(document: &Document) -> Markup {
    html! {
        section.recipe lang=(document.language) aria-label=(document.title) {
            p.makes { (document.makes.text) }
            (card(document))
            (care(document))
        }
    }
}
