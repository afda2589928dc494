//! A booklet as a whole: the document of a copy, part by part.

use super::document::{BookletDocument, BookletPart, GlossaryEntry, TextBlock, VERSION, WordRun};
use super::maker::{Copy, Maker, picture_name};
use super::reckoner;
use super::task::Task;
use super::worksheet::Sheet;
use crate::print::document::HousePart;
use crate::print::two_languages::in_two;
use crate::print::wording::Wording;
use crate::print::{build, look};
use crate::syntax::booklet::{Booklet, BookletItem, FormulaYield, PartKind, PrintKind};
use crate::syntax::tree::{Name, Text};

/// A worksheet without its key yet: its table, and its exercises by their numbers, for each
/// seat.
type Unanswered = (Option<Sheet>, Vec<(u32, Vec<Task>)>);

impl Maker<'_> {
    /// The document of one copy.
    pub fn document(&self, copy: Copy, seat: u32, large: bool) -> BookletDocument {
        let booklet = self.booklet;
        let mut house = HousePart::of(&self.house.settings);
        house.paper = Some(self.paper());
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

    /// What all of it is set on: as the booklet says, as the house does, or A4.
    fn paper(&self) -> String {
        let own = self.booklet.paper.as_ref().and_then(|(paper, _)| look::paper(paper));
        let house = || HousePart::of(&self.house.settings).paper;
        own.or_else(house).unwrap_or_else(|| "a4".to_owned())
    }

    fn title(&self) -> String {
        match &self.booklet.title {
            Some(title) => self.text(title),
            None => self.booklet.name.shown.to_string(),
        }
    }

    fn parts(&self, copy: Copy, seat: u32, large: bool) -> Vec<BookletPart> {
        let booklet = self.booklet;
        let mut parts = Vec::new();
        let mut unanswered: Vec<Unanswered> = Vec::new();
        // Exercises are numbered through, so that a key tells what it is the key of.
        let many = self.exercises() > 1;
        let mut number = 0;
        for (at, part) in self.booklet.parts.iter().enumerate() {
            // A key may stand in another copy than its worksheet.
            if let PartKind::Worksheet(sheet) = &part.what {
                let has_table = !sheet.hide.is_empty() || sheet.exercises.is_empty();
                let table = if has_table { self.sheet(sheet, part.span) } else { None };
                // The teacher has the keys of all seats.
                let seats = match copy {
                    Copy::Teacher => 1..=self.seats(),
                    Copy::All | Copy::Learner => seat..=seat,
                };
                let mut tasks: Vec<(u32, Vec<Task>)> =
                    seats.map(|seat| (seat, self.tasks(sheet, seat))).collect();
                if many {
                    for task in tasks.iter_mut().flat_map(|(_, tasks)| tasks.iter_mut().enumerate())
                    {
                        let (at, task) = task;
                        task.title = format!("{}. {}", number + at + 1, task.title);
                    }
                    number += tasks.iter().map(|(_, tasks)| tasks.len()).max().unwrap_or(0);
                }
                if copy.holds(part) {
                    // Without a table, its title stands above the exercises.
                    let title = sheet.title.as_ref().filter(|_| !has_table);
                    parts.extend(title.map(|title| heading(self.text(title))));
                    parts.extend(table.as_ref().map(|it| BookletPart::Table(it.with_blanks(self))));
                    let own = tasks.iter().filter(|(of, _)| *of == seat);
                    let own = own.flat_map(|(_, tasks)| tasks);
                    parts.extend(own.map(|task| BookletPart::Table(task.with_blanks())));
                }
                unanswered.push((table, tasks));
                continue;
            }
            if !copy.holds(part) || copy == Copy::Learner && is_key_of_all(booklet, part) {
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
                    if !unanswered.is_empty() {
                        if !parts.is_empty() {
                            parts.push(BookletPart::Page);
                        }
                        parts.push(heading(self.words.say("booklet-answers")));
                    }
                    let mut tasks = Vec::new();
                    for (table, own) in unanswered.drain(..) {
                        parts.extend(table.into_iter().flat_map(|sheet| sheet.key(self)));
                        match self.seats() {
                            1 => parts.extend(self.keys_of(&[own])),
                            _ => tasks.push(own),
                        }
                    }
                    parts.extend(self.keys_of(&tasks));
                }
                PartKind::Plan(asked) => {
                    parts.extend(self.timetable(asked).map(BookletPart::Table));
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
        tell_apart(&mut parts);
        parts
    }

    /// How many exercises the worksheets have together.
    fn exercises(&self) -> u32 {
        let sheets = self.booklet.parts.iter().filter_map(|part| match &part.what {
            PartKind::Worksheet(sheet) => Some(sheet),
            _ => None,
        });
        sheets.flat_map(|sheet| &sheet.exercises).map(|it| it.times).sum()
    }

    /// How many seats have numbers of their own.
    pub fn seats(&self) -> u32 {
        self.booklet.variants.map_or(1, |(seats, _)| seats)
    }

    /// The keys of exercises of all seats, each with how its answer follows; one that several
    /// seats have alike stands once.
    /// The keys of some worksheets, seat by seat, as they are marked.
    fn keys_of(&self, sheets: &[Vec<(u32, Vec<Task>)>]) -> Vec<BookletPart> {
        let mut seats: Vec<u32> = sheets.iter().flatten().map(|(seat, _)| *seat).collect();
        seats.sort_unstable();
        seats.dedup();
        let is_varied = self.seats() > 1;
        let mut parts = Vec::new();
        for seat in &seats {
            let own = sheets.iter().flatten().filter(|(of, _)| of == seat);
            let own: Vec<&Task> = own.flat_map(|(_, tasks)| tasks).collect();
            if own.is_empty() {
                continue;
            }
            let name = self.words.fill("booklet-seat", &[("seat", &seat.to_string())]);
            if is_varied {
                parts.push(heading(name.clone()));
            }
            for task in own {
                let mut key = task.key(self);
                if is_varied {
                    key.title = format!("{} · {name}", key.title);
                }
                parts.push(BookletPart::Table(key));
                let title = self.words.say("booklet-workings");
                parts.push(BookletPart::Lines { title, lines: task.workings.clone() });
            }
        }
        parts
    }

    fn print(&self, kind: PrintKind, of: &FormulaYield) -> Option<BookletPart> {
        let worked = self.worked(of)?;
        let mut document = worked.document(self).clone();
        // Where sheets say everything in two languages, those of a booklet do so.
        let second = self.second_language().filter(|_| kind == PrintKind::Sheet);
        if let Some(second) = second {
            let words = Wording::new(&second, None).0.with_numbers_of(self.words);
            let beside = build::document(self.house, &worked, &words, self.volumes);
            document = in_two(&document, &beside).unwrap_or(document);
        }
        // No page is of another size than the rest.
        document.house.paper = Some(self.paper());
        let print = match kind {
            PrintKind::Card => "card",
            PrintKind::Sheet => "sheet",
            PrintKind::Table => "table",
        };
        Some(BookletPart::Print { print: print.into(), document: Box::new(document) })
    }

    /// The house's second language, where the booklet is in its first one.
    fn second_language(&self) -> Option<String> {
        let settings = &self.house.settings;
        let (first, second) = (settings.language.as_ref()?, settings.second_language.as_ref()?);
        let is_of_house = self.booklet.language.is_none() && self.words.tag == *first.value;
        let is_own = is_of_house && first.value != second.value;
        is_own.then(|| second.value.to_string())
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
        let keys = printed_keys(parts);
        for (key, word, text) in self.terms {
            let said = word.to_lowercase();
            let is_own = own.iter().any(|(name, _)| *name.key == *said);
            let is_new = entries.iter().all(|known| known.word != *word);
            let is_printed = keys.contains(&key.as_str()) || holds_word(&printed, &said);
            if !is_own && is_new && is_printed {
                entries.push(GlossaryEntry { word: word.clone(), text: text.clone() });
            }
        }
        entries.sort_by_key(|entry| entry.word.to_lowercase());
        BookletPart::Glossary { title: self.words.say("booklet-glossary"), entries }
    }
}

/// Tables of one title say from where to where they go: `Temperatures (150–260 °C)`.
fn tell_apart(parts: &mut [BookletPart]) {
    let mut all: Vec<(usize, String, [String; 2])> = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        let BookletPart::Table(table) = part else { continue };
        if table.title.is_empty() {
            continue;
        }
        let columns = table.columns.iter().map(|it| it.title.as_str()).filter(|it| !it.is_empty());
        let columns: Vec<&str> = columns.collect();
        let rows = table.rows.iter().filter(|it| it.kind == "line").map(|it| it.name.as_str());
        let rows: Vec<&str> = rows.collect();
        match all.last_mut() {
            // What goes on ends where its last table does.
            Some((_, title, ends)) if table.goes_on && *title == table.title => {
                for (end, own) in ends.iter_mut().zip([&columns, &rows]) {
                    let first = end.split('\n').next().unwrap_or_default();
                    *end = format!("{first}\n{}", own.last().unwrap_or(&""));
                }
            }
            _ => {
                let ends = [&columns, &rows].map(|own| {
                    format!("{}\n{}", own.first().unwrap_or(&""), own.last().unwrap_or(&""))
                });
                all.push((at, table.title.clone(), ends));
            }
        }
    }
    for (at, title, ends) in &all {
        let others = || all.iter().filter(|(other, same, _)| other != at && same == title);
        // By columns where those differ, else by rows.
        let by = (0..2).find(|by| others().any(|(.., other)| other[*by] != ends[*by]));
        let Some(by) = by else { continue };
        let Some(BookletPart::Table(table)) = parts.get_mut(*at) else { continue };
        let (first, last) = ends[by].split_once('\n').unwrap_or_default();
        table.title = format!("{title} ({})", from_to(first, last));
    }
}

/// `150–260 °C`, `12–72 rolls`, `500 g – 2 kg`.
fn from_to(first: &str, last: &str) -> String {
    match (first.split_once(' '), last.split_once(' ')) {
        _ if first == last => first.to_owned(),
        (Some((low, one)), Some((high, other))) if one == other => format!("{low}–{high} {one}"),
        _ => format!("{first} – {last}"),
    }
}

/// A heading of its own.
fn heading(text: String) -> BookletPart {
    let run = WordRun { text, ..WordRun::default() };
    let block = TextBlock { kind: "heading".into(), runs: vec![run], items: Vec::new() };
    BookletPart::Text { blocks: vec![block] }
}

/// Answers of a booklet that parts nothing by readers: the learner's copy, once it is asked
/// for, has none.
fn is_key_of_all(booklet: &Booklet, part: &BookletItem) -> bool {
    matches!(part.what, PartKind::Answers) && Copy::of(booklet) == [Copy::All]
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
                document.figures.iter().for_each(|figure| add(&figure.label));
                document.method.iter().for_each(|step| add(&step.title));
                document.mixes.iter().for_each(|mix| add(&mix.title));
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

/// Our own names of the figures and kinds of mix that parts of a booklet print.
fn printed_keys(parts: &[BookletPart]) -> Vec<&str> {
    let documents = parts.iter().filter_map(|part| match part {
        BookletPart::Print { document, .. } => Some(document),
        _ => None,
    });
    let keys = documents.flat_map(|it| {
        let figures = it.figures.iter().map(|figure| figure.name.as_str());
        figures.chain(it.mixes.iter().map(|mix| mix.kind.as_str()))
    });
    keys.collect()
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
