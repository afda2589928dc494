//! A woven book on paper: its text as data for the template `woven.typ`.
//!
//! What leads somewhere leads there by a name: a heading is `h3`, a formula's place `f3`, a
//! footnote `n3`. The template asks on which page each of them stands.

use super::{Placed, anchor_once, marked, parted};
use crate::formula::key;
use crate::print::document::{Document, HousePart};
use crate::print::markdown::{Block, ColumnSide, TextRun, plain};
use crate::print::tied::tied;
use crate::print::wording::Wording;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// A book, woven, with what its pages take from elsewhere.
pub struct WovenBook<'b> {
    /// The house that prints it.
    pub house: HousePart,
    /// Its words.
    pub words: &'b Wording,
    /// What stands on its title page where no manuscript says it.
    pub title: &'b str,
    /// The manuscripts: the name of each, and its text.
    pub files: &'b [(String, Vec<Block>)],
    /// What stands in the places that are marked so.
    pub placed: &'b [Placed],
    /// Title and document of each formula; no document where there is an error in it.
    pub formulas: &'b [(String, Option<&'b Document>)],
    /// Pictures that can be set: file and name in the manuscript, and the name among the files
    /// beside the document.
    pub pictures: &'b BTreeMap<(usize, String), String>,
}

/// The data of a book as its template reads it.
pub fn json(book: &WovenBook) -> String {
    let plan = BookPlan::of(book);
    let mut writer = BookWriter {
        book,
        plan: &plan,
        file: 0,
        notes: Vec::new(),
        open_notes: Vec::new(),
        heading: 0,
        level: 0,
        lead: None,
        places: vec![None; book.formulas.len()],
        chapters: Vec::new(),
        shown: vec![false; book.formulas.len()],
    };
    let mut blocks: Vec<Value> = Vec::new();
    for (at, (_, text)) in book.files.iter().enumerate() {
        writer.file = at;
        blocks.extend(text.iter().filter_map(|block| writer.block(block, true)));
    }
    let is_placed = |wanted: fn(&Placed) -> bool| book.placed.iter().any(wanted);
    let has_index = is_placed(|it| matches!(it, Placed::Index(_)));
    let index = writer.index_of_all().filter(|_| !has_index);
    if let Some(entries) = &index {
        let words = book.words.say("print-index");
        let id = format!("h{}", writer.heading);
        writer.chapters.push(json!({ "id": id, "level": 1, "words": words }));
        blocks.push(json!({ "k": "h", "id": id, "level": 1, "words": [words] }));
        blocks.push(entries.clone());
    }
    let shown = writer.shown.iter().zip(book.formulas);
    let documents: BTreeMap<String, &Document> = shown
        .enumerate()
        .filter_map(|(at, (shown, (_, document)))| {
            Some((at.to_string(), (*document)?)).filter(|_| *shown)
        })
        .collect();
    let formulas: Vec<Value> = book
        .formulas
        .iter()
        .zip(&writer.places)
        .map(|((title, _), place)| json!({ "title": title, "place": place }))
        .collect();
    let has_contents = is_placed(|it| matches!(it, Placed::Contents));
    let contents = (!has_contents && writer.chapters.len() > 1).then_some(&writer.chapters);
    json!({
        "house": book.house,
        "title": plan.title,
        "author": plan.author,
        "language": book.words.tag,
        "decimal_mark": book.words.decimal_mark(),
        "words": book.words.of_templates(),
        "contents": contents,
        "blocks": blocks,
        "formulas": formulas,
        "documents": documents,
    })
    .to_string()
}

/// What has to be known of a whole book before its first page.
struct BookPlan {
    title: String,
    author: Option<String>,
    /// The heading that is the title, and so stands on the title page alone.
    title_heading: Option<usize>,
    /// The level of chapters among the headings.
    top: u8,
    /// By file: the headings by the anchors that most tools give them.
    anchors: Vec<BTreeMap<String, usize>>,
    /// By file: what its footnotes say.
    notes: Vec<BTreeMap<String, Vec<Block>>>,
    /// The first heading of each file.
    firsts: Vec<Option<usize>>,
}

impl BookPlan {
    fn of(book: &WovenBook) -> Self {
        let mut headings: Vec<(u8, String)> = Vec::new();
        let (mut by_anchor, mut notes, mut firsts) = (Vec::new(), Vec::new(), Vec::new());
        for (_, blocks) in book.files {
            let (mut own, mut first) = (BTreeMap::new(), None);
            let mut given = BTreeMap::new();
            let mut said = BTreeMap::new();
            for block in blocks {
                if let Block::Heading(level, runs) = block {
                    let words = plain(runs);
                    let anchor = anchor_once(&mut given, &words);
                    if has_words(runs) {
                        own.insert(anchor, headings.len());
                        first.get_or_insert(headings.len());
                    }
                    headings.push((*level, words));
                }
            }
            notes_in(blocks, &mut said);
            by_anchor.push(own);
            notes.push(said);
            firsts.push(first);
        }
        let told = book.placed.iter().find_map(|placed| match placed {
            Placed::Title(title, by) if !title.trim().is_empty() => {
                Some((title.clone(), by.clone()))
            }
            _ => None,
        });
        let mut of_top = headings.iter().enumerate().filter(|(_, (level, _))| *level == 1);
        let only = of_top.next().filter(|_| of_top.next().is_none());
        let is_title =
            |words: &str| told.as_ref().is_none_or(|(title, _)| key(title) == key(words));
        let only = only.filter(|(_, (_, words))| is_title(words) && !words.trim().is_empty());
        let title_heading = only.map(|(at, _)| at);
        let (title, author) = told.unwrap_or_else(|| {
            let own = title_heading.and_then(|at| headings.get(at)).map(|(_, words)| words.clone());
            (own.unwrap_or_else(|| book.title.to_owned()), None)
        });
        let others = headings
            .iter()
            .enumerate()
            .filter(|(at, (_, words))| Some(*at) != title_heading && !words.trim().is_empty());
        let top = others.map(|(_, (level, _))| *level).min().unwrap_or(1);
        Self { title, author, title_heading, top, anchors: by_anchor, notes, firsts }
    }
}

/// Whether runs have words beside those of pictures.
fn has_words(runs: &[TextRun]) -> bool {
    runs.iter().any(|run| match run {
        TextRun::Text(words) | TextRun::Code(words) => !words.trim().is_empty(),
        TextRun::Emphasis(inner)
        | TextRun::Strong(inner)
        | TextRun::Struck(inner)
        | TextRun::Link(_, inner) => has_words(inner),
        TextRun::Picture(..) | TextRun::Html(_) | TextRun::NoteMark(_) | TextRun::Break => false,
    })
}

/// What the footnotes of a text say, by their names; the first of two counts.
fn notes_in(blocks: &[Block], all: &mut BTreeMap<String, Vec<Block>>) {
    for block in blocks {
        match block {
            Block::Note(name, said) => {
                all.entry(name.clone()).or_insert_with(|| said.clone());
            }
            Block::Quote(inner) => notes_in(inner, all),
            Block::List(_, items) => items.iter().for_each(|item| notes_in(item, all)),
            _ => {}
        }
    }
}

struct BookWriter<'w, 'b> {
    book: &'w WovenBook<'b>,
    plan: &'w BookPlan,
    /// The number of the manuscript.
    file: usize,
    /// The footnotes that have had a mark: file and name.
    notes: Vec<(usize, String)>,
    /// Those that are being written.
    open_notes: Vec<String>,
    /// How many headings there were.
    heading: usize,
    /// The level of the last one.
    level: u8,
    /// The last heading, and its words, as long as no formula stands below it.
    lead: Option<(String, String)>,
    /// Where each formula stands.
    places: Vec<Option<String>>,
    /// The headings of the first two levels.
    chapters: Vec<Value>,
    /// Formulas of which a card is printed.
    shown: Vec<bool>,
}

impl BookWriter<'_, '_> {
    fn blocks(&mut self, blocks: &[Block]) -> Vec<Value> {
        blocks.iter().filter_map(|block| self.block(block, false)).collect()
    }

    /// A block; `is_free` where it stands in no other one.
    fn block(&mut self, block: &Block, is_free: bool) -> Option<Value> {
        Some(match block {
            Block::Heading(level, words) if is_free => return self.heading(*level, words),
            // Inside a quotation or an item a heading leads no chapter.
            Block::Heading(_, words) => {
                json!({ "k": "p", "words": [{ "k": "b", "of": self.runs(words) }] })
            }
            Block::Words(words) => json!({ "k": "p", "words": self.runs(words) }),
            Block::List(None, items) => json!({ "k": "ul", "items": self.items(items) }),
            Block::List(Some(first), items) => {
                json!({ "k": "ol", "start": first, "items": self.items(items) })
            }
            Block::Quote(inner) => json!({ "k": "quote", "blocks": self.blocks(inner) }),
            Block::Code(text) => json!({ "k": "code", "text": text.trim_end_matches('\n') }),
            Block::Html(text) => match marked(text) {
                // Only between blocks a page can end.
                Some(("placed", number))
                    if !is_free && self.book.placed.get(number) == Some(&Placed::Page) =>
                {
                    return None;
                }
                Some((what, number)) => return self.placed(what, number),
                None => return self.html(text),
            },
            Block::Table(sides, rows) => self.table(sides, rows),
            Block::Terms(terms) => {
                let terms: Vec<Value> = terms
                    .iter()
                    .map(|(term, said)| {
                        let term = self.runs(term);
                        let said: Vec<Value> = said.iter().flat_map(|it| self.blocks(it)).collect();
                        json!({ "term": term, "said": said })
                    })
                    .collect();
                json!({ "k": "terms", "terms": terms })
            }
            // They stand at the foot of the page that has their mark.
            Block::Note(..) => return None,
            Block::Rule => json!({ "k": "rule" }),
        })
    }

    fn heading(&mut self, level: u8, words: &[TextRun]) -> Option<Value> {
        let number = self.heading;
        self.heading += 1;
        if self.plan.title_heading == Some(number) {
            return None;
        }
        // One without words leads nowhere.
        if !has_words(words) {
            let words = self.runs(words);
            return (!words.is_empty()).then(|| json!({ "k": "p", "words": words }));
        }
        // No level is left out, as a screen reader wants it.
        let level = level.saturating_sub(self.plan.top).saturating_add(1).clamp(1, self.level + 1);
        self.level = level;
        let (id, told) = (format!("h{number}"), plain(words));
        if level <= 2 {
            self.chapters.push(json!({ "id": id, "level": level, "words": told }));
        }
        self.lead = Some((id.clone(), told));
        Some(json!({ "k": "h", "id": id, "level": level, "words": self.runs(words) }))
    }

    /// What stands in a place of ours.
    fn placed(&mut self, what: &str, number: usize) -> Option<Value> {
        match what {
            "at" => self.formula(number),
            "card" => {
                let (title, document) = self.book.formulas.get(number)?;
                (*document)?;
                *self.shown.get_mut(number)? = true;
                let place = self.places.get(number).cloned().flatten();
                // A card has its title where the heading above is another one.
                let is_headed = self.lead.as_ref().is_some_and(|(id, words)| {
                    Some(id) == place.as_ref() && key(words) == key(title)
                });
                let level = (self.level + 1).min(6);
                Some(json!({ "k": "card", "of": number, "level": level, "titled": !is_headed }))
            }
            _ => match self.book.placed.get(number)? {
                Placed::Title(..) => None,
                Placed::Page => Some(json!({ "k": "pagebreak" })),
                Placed::Contents => Some(json!({ "k": "formulas" })),
                Placed::Index(entries) => Some(index(entries)),
                Placed::Claims(claims) => {
                    let one = |(of, words): &(usize, String)| json!({ "of": of, "words": words });
                    let all: Vec<Value> = claims.iter().map(one).collect();
                    Some(json!({ "k": "claims", "claims": all }))
                }
            },
        }
    }

    /// A formula's place: the heading above it where that leads to nothing else, or its own.
    fn formula(&mut self, number: usize) -> Option<Value> {
        let place = self.places.get(number)?;
        if place.is_some() {
            return None;
        }
        let is_taken = |id: &str| self.places.iter().flatten().any(|place| place == id);
        let heading = self.lead.as_ref().map(|(id, _)| id.clone()).filter(|id| !is_taken(id));
        let own = format!("f{number}");
        let (place, block) = match heading {
            Some(heading) => (heading, None),
            None => (own.clone(), Some(json!({ "k": "at", "id": own }))),
        };
        *self.places.get_mut(number)? = Some(place);
        block
    }

    /// An index by ingredient, for a book that has none; nothing where it has no formulas.
    fn index_of_all(&self) -> Option<Value> {
        let documents = self.book.formulas.iter().enumerate();
        let placed = documents.filter(|(at, _)| self.places.get(*at).is_some_and(Option::is_some));
        let documents = placed.filter_map(|(at, (_, document))| Some((at, (*document)?)));
        let entries = super::by_ingredient(documents);
        (!entries.is_empty()).then(|| index(&entries))
    }

    fn items(&mut self, items: &[Vec<Block>]) -> Vec<Vec<Value>> {
        items.iter().map(|item| self.blocks(item)).collect()
    }

    fn table(&mut self, sides: &[ColumnSide], rows: &[Vec<Vec<TextRun>>]) -> Value {
        let sides: Vec<&str> = sides
            .iter()
            .map(|side| match side {
                ColumnSide::Start => "start",
                ColumnSide::Middle => "center",
                ColumnSide::End => "end",
            })
            .collect();
        let rows: Vec<Vec<Vec<Value>>> =
            rows.iter().map(|row| row.iter().map(|cell| self.runs(cell)).collect()).collect();
        json!({ "k": "table", "sides": sides, "rows": rows })
    }

    /// The words of HTML that the author wrote, and its pictures.
    fn html(&mut self, text: &str) -> Option<Value> {
        let runs = self.runs(&super::plain_html::runs(text));
        (!runs.is_empty()).then(|| json!({ "k": "p", "words": runs }))
    }

    fn runs(&mut self, runs: &[TextRun]) -> Vec<Value> {
        let mut all: Vec<Value> = Vec::new();
        let values = runs.iter().flat_map(|run| match run {
            TextRun::Text(words) => self.words(words),
            run => self.run(run).into_iter().collect(),
        });
        for value in values.collect::<Vec<Value>>() {
            match (all.last_mut(), value) {
                (Some(Value::String(before)), Value::String(words)) => before.push_str(&words),
                (_, value) => all.push(value),
            }
        }
        for value in &mut all {
            if let Value::String(words) = value {
                *words = tied(words);
            }
        }
        all
    }

    /// Words, with the pages that stand in them.
    fn words(&self, words: &str) -> Vec<Value> {
        let one = |part| match part {
            Ok(words) => Value::String(str::replace(words, '\n', " ")),
            Err((_, number)) => json!({ "k": "page", "of": number }),
        };
        parted(words).map(one).collect()
    }

    fn run(&mut self, run: &TextRun) -> Option<Value> {
        Some(match run {
            TextRun::Text(words) => Value::String(words.clone()),
            TextRun::Code(words) => json!({ "k": "code", "text": words }),
            TextRun::Html(text) if text.to_lowercase().starts_with("<br") => json!({ "k": "br" }),
            TextRun::Html(_) => return None,
            TextRun::Emphasis(inner) => json!({ "k": "em", "of": self.runs(inner) }),
            TextRun::Strong(inner) => json!({ "k": "b", "of": self.runs(inner) }),
            TextRun::Struck(inner) => json!({ "k": "s", "of": self.runs(inner) }),
            TextRun::Link(to, inner) => {
                let inner = self.runs(inner);
                match self.link(to) {
                    Some(("to", place)) => json!({ "k": "to", "to": place, "of": inner }),
                    Some((_, address)) => json!({ "k": "a", "to": address, "of": inner }),
                    None => json!({ "k": "of", "of": inner }),
                }
            }
            TextRun::Picture(file, shows) => {
                match self.book.pictures.get(&(self.file, file.clone())) {
                    Some(name) => json!({ "k": "pic", "file": name, "shows": shows }),
                    None => json!({ "k": "em", "of": [shows] }),
                }
            }
            TextRun::NoteMark(name) => return self.note(name),
            TextRun::Break => json!({ "k": "br" }),
        })
    }

    /// Where a link leads: to a heading of the book, or to an address.
    fn link(&self, to: &str) -> Option<(&'static str, String)> {
        let (file, place) = to.split_once('#').map_or((to, None), |(file, at)| (file, Some(at)));
        let own = match file {
            "" => Some(self.file),
            _ => self.book.files.iter().position(|(name, _)| name == file),
        };
        let heading = own.and_then(|file| match place {
            Some(place) => self.plan.anchors.get(file)?.get(place).copied(),
            None => self.plan.firsts.get(file).copied().flatten(),
        });
        if let Some(heading) = heading {
            return Some(match self.plan.title_heading == Some(heading) {
                true => ("to", "title".to_owned()),
                false => ("to", format!("h{heading}")),
            });
        }
        let is_address = ["http://", "https://", "mailto:"].iter().any(|it| to.starts_with(it));
        is_address.then(|| ("a", to.to_owned()))
    }

    /// A footnote stands where its first mark does; further marks lead to it. One inside of
    /// itself has none.
    fn note(&mut self, name: &str) -> Option<Value> {
        let key = (self.file, name.to_owned());
        let known = self.notes.iter().position(|it| *it == key);
        if self.open_notes.iter().any(|open| open == name) {
            return None;
        }
        let Some(said) = self.plan.notes.get(self.file).and_then(|all| all.get(name)) else {
            return Some(Value::String(format!("[^{name}]")));
        };
        if let Some(at) = known {
            return Some(json!({ "k": "note", "id": format!("n{at}") }));
        }
        let id = format!("n{}", self.notes.len());
        self.notes.push(key);
        self.open_notes.push(name.to_owned());
        let said = self.blocks(said);
        self.open_notes.pop();
        Some(json!({ "k": "note", "id": id, "said": said }))
    }
}

fn index(entries: &[(String, Vec<usize>)]) -> Value {
    let one = |(word, of): &(String, Vec<usize>)| json!({ "word": word, "of": of });
    let all: Vec<Value> = entries.iter().map(one).collect();
    json!({ "k": "index", "entries": all })
}
