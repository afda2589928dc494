//! A booklet as a whole: the document of a copy, part by part.

use super::document::{BookletDocument, BookletPart, GlossaryEntry, VERSION};
use super::exercise::Task;
use super::maker::{Copy, Maker, picture_name};
use super::reckoner;
use super::worksheet::Sheet;
use crate::print::document::HousePart;
use crate::print::look;
use crate::syntax::booklet::{FormulaYield, PartKind, PrintKind};
use crate::syntax::tree::{Name, Text};

/// A worksheet without its key yet: its table, and its exercises by their numbers, for each
/// seat.
type Unanswered = (Option<Sheet>, Vec<(u32, Vec<Task>)>);

impl Maker<'_> {
    /// The document of one copy.
    pub fn document(&self, copy: Copy, seat: u32, large: bool) -> BookletDocument {
        let booklet = self.booklet;
        let mut house = HousePart::of(&self.house.settings);
        if let Some((paper, _)) = &booklet.paper {
            house.paper = look::paper(paper);
        }
        let people = booklet.people.map(|(people, _)| {
            self.words.fill("booklet-people", &[("people", &people.to_string())])
        });
        BookletDocument {
            version: VERSION,
            house,
            name: booklet.name.shown.to_string(),
            title: self.title(),
            language: self.words.tag.clone(),
            decimal_mark: self.words.decimal_mark(),
            words: self.words.of_templates(),
            copy: match copy {
                Copy::All | Copy::Learner if self.seats() > 1 => {
                    Some(self.words.fill("booklet-seat", &[("seat", &seat.to_string())]))
                }
                Copy::All => None,
                Copy::Learner => Some(self.words.say("booklet-learner")),
                Copy::Teacher => Some(self.words.say("booklet-teacher")),
            },
            people,
            large: large || booklet.large.is_some(),
            parts: self.parts(copy, seat, large || booklet.large.is_some()),
            trace: None,
        }
    }

    fn title(&self) -> String {
        match &self.booklet.title {
            Some(title) => self.text(title),
            None => self.booklet.name.shown.to_string(),
        }
    }

    fn parts(&self, copy: Copy, seat: u32, large: bool) -> Vec<BookletPart> {
        let mut parts = Vec::new();
        let mut unanswered: Vec<Unanswered> = Vec::new();
        for (at, part) in self.booklet.parts.iter().enumerate() {
            // A key may stand in another copy than its worksheet.
            if let PartKind::Worksheet(sheet) = &part.what {
                let has_table = !sheet.hide.is_empty() || sheet.exercises.is_empty();
                let table = if has_table { self.sheet(sheet, part.span) } else { None };
                if copy.holds(part) {
                    parts.extend(table.as_ref().map(|it| BookletPart::Table(it.with_blanks(self))));
                    let own = self.tasks(sheet, seat);
                    parts.extend(own.iter().map(|task| BookletPart::Table(task.with_blanks())));
                }
                // The teacher has the keys of all seats.
                let seats = match copy {
                    Copy::Teacher => 1..=self.seats(),
                    Copy::All | Copy::Learner => seat..=seat,
                };
                let tasks = seats.map(|seat| (seat, self.tasks(sheet, seat)));
                unanswered.push((table, tasks.collect()));
                continue;
            }
            if !copy.holds(part) {
                if matches!(part.what, PartKind::Answers) {
                    unanswered.clear();
                }
                continue;
            }
            match &part.what {
                PartKind::Text(text) => parts.push(self.text_part(text)),
                PartKind::Caution(text) => {
                    parts.push(BookletPart::Caution { text: self.text(text) });
                }
                PartKind::Page => parts.push(BookletPart::Page),
                PartKind::Picture { file, caption, .. } => {
                    let caption = caption.as_ref().map(|caption| self.text(caption));
                    let caption = caption.unwrap_or_default();
                    parts.push(BookletPart::Picture { file: picture_name(at, file), caption });
                }
                PartKind::Print(kind, formulas) => {
                    parts.extend(formulas.iter().filter_map(|of| self.print(*kind, of)));
                }
                PartKind::Worksheet(_) => {}
                PartKind::Answers => {
                    for (table, tasks) in unanswered.drain(..) {
                        parts.extend(table.into_iter().flat_map(|sheet| sheet.key(self)));
                        for (seat, tasks) in tasks {
                            parts.extend(self.keys_of(seat, &tasks));
                        }
                    }
                }
                PartKind::Compare(compare) => {
                    parts.extend(self.compare(compare).map(BookletPart::Table));
                }
                PartKind::Reckoner(table) => {
                    let most = if large { reckoner::MAX_LARGE } else { reckoner::MAX };
                    let tables = self.reckoner(table, most);
                    parts.extend(tables.into_iter().map(BookletPart::Table));
                }
                PartKind::Shopping(of) => parts.extend(self.shopping(of)),
                PartKind::Glossary(lines) => parts.push(self.glossary(lines, &parts)),
            }
        }
        parts
    }

    /// How many seats have numbers of their own.
    pub fn seats(&self) -> u32 {
        self.booklet.variants.map_or(1, |(seats, _)| seats)
    }

    /// The keys of exercises of one seat, each with how its answer follows.
    fn keys_of(&self, seat: u32, tasks: &[Task]) -> Vec<BookletPart> {
        let mut parts = Vec::new();
        for task in tasks {
            let mut key = task.key(self);
            if self.seats() > 1 {
                let seat = self.words.fill("booklet-seat", &[("seat", &seat.to_string())]);
                key.title = format!("{} · {seat}", key.title);
            }
            parts.push(BookletPart::Table(key));
            let title = self.words.say("booklet-workings");
            parts.push(BookletPart::Lines { title, lines: task.workings.clone() });
        }
        parts
    }

    fn print(&self, kind: PrintKind, of: &FormulaYield) -> Option<BookletPart> {
        let (_, document) = self.made(of)?;
        let print = match kind {
            PrintKind::Card => "card",
            PrintKind::Sheet => "sheet",
            PrintKind::Table => "table",
        };
        Some(BookletPart::Print { print: print.into(), document: Box::new(document) })
    }

    /// Words of the trade that the booklet prints, and the author's own.
    fn glossary(&self, own: &[(Name, Text)], parts: &[BookletPart]) -> BookletPart {
        let mut entries: Vec<GlossaryEntry> = own
            .iter()
            .map(|(name, text)| GlossaryEntry {
                word: name.shown.to_string(),
                text: self.text(text),
            })
            .collect();
        let printed = printed_words(parts).to_lowercase();
        for (word, text) in self.terms {
            let is_own = own.iter().any(|(name, _)| *name.key == *word.to_lowercase());
            if !is_own && holds_word(&printed, &word.to_lowercase()) {
                entries.push(GlossaryEntry { word: word.clone(), text: text.clone() });
            }
        }
        entries.sort_by_key(|entry| entry.word.to_lowercase());
        BookletPart::Glossary { title: self.words.say("booklet-glossary"), entries }
    }
}

/// All that parts of a booklet say of methods and figures.
fn printed_words(parts: &[BookletPart]) -> String {
    let mut words = String::new();
    let mut add = |text: &str| {
        words.push_str(text);
        words.push('\n');
    };
    for part in parts {
        match part {
            BookletPart::Print { document, .. } => {
                document.figures.iter().for_each(|figure| add(&figure.name));
                document.method.iter().for_each(|step| add(&step.title));
                document.mixes.iter().for_each(|mix| add(&mix.kind));
            }
            BookletPart::Text { blocks } => {
                let runs =
                    blocks.iter().flat_map(|it| it.runs.iter().chain(it.items.iter().flatten()));
                runs.for_each(|run| add(&run.text));
            }
            BookletPart::Table(table) => table.rows.iter().for_each(|row| add(&row.name)),
            _ => {}
        }
    }
    words
}

/// Whether a text has these words, each whole.
fn holds_word(text: &str, word: &str) -> bool {
    let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    text.match_indices(word).any(|(at, _)| {
        let before = text.get(..at).and_then(|before| before.chars().next_back());
        let behind = text.get(at + word.len()..).and_then(|behind| behind.chars().next());
        !is_letter(before) && !is_letter(behind)
    })
}
