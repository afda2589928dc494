//! Every number of a manuscript that changed, by chapter, for whoever reads the proofs: those
//! that somebody typed, and those that the prints of its formulas show.

use super::comparison::{Comparison, FormulaChange};
use super::merge3::common;
use super::tell::{capital, escaped, sheet_name};
use crate::diag::machine::pretty;
use crate::print::html_changes::{Page, SheetTable};
use crate::source::visible;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The version of this document's shape; it grows when a field changes its meaning.
const VERSION: u32 = 1;

/// The numbers that changed between two states of a manuscript.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Numbers {
    /// The version of this document's shape.
    pub version: u32,
    /// What the older state is called: `v1`.
    pub from: String,
    /// The same of the newer one.
    pub to: String,
    /// In the order of the files and of the chapters in them.
    pub chapters: Vec<Chapter>,
}

/// The numbers of a chapter.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Chapter {
    /// Its file, from the folder that was compared.
    pub file: String,
    /// Its heading; empty before the first one.
    pub title: String,
    /// In the order in which they stand, those of formulas last.
    pub numbers: Vec<NumberChange>,
}

/// A number that changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NumberChange {
    /// The words before it, or the formula and what of it.
    pub place: String,
    /// As it was printed; nothing where it is new.
    pub old: Option<String>,
    /// The same now; nothing where it is gone.
    pub new: Option<String>,
}

/// Manuscripts by their paths from the folder that is compared.
pub type Texts = BTreeMap<String, String>;

/// The words of a chapter.
#[derive(Default)]
struct ChapterWords {
    title: String,
    words: Vec<String>,
    /// The names of formulas that stand in it.
    formulas: BTreeSet<String>,
}

/// What stands between paragraphs among the words.
const PARAGRAPH: &str = "¶";

/// The most words that tell where a number stands.
const BEFORE: usize = 5;

/// The numbers that are not the same in two states.
pub fn numbers(
    (from, old): (&str, &Texts),
    (to, new): (&str, &Texts),
    comparison: &Comparison,
) -> Numbers {
    let mut chapters: Vec<Chapter> = Vec::new();
    let mut left: Vec<&FormulaChange> = comparison.formulas.iter().collect();
    let files: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    for file in files {
        let words = |all: &Texts| all.get(file).map(|text| by_chapter(text)).unwrap_or_default();
        for (old, new) in paired(words(old), words(new)) {
            let mut numbers = typed(&old.words, &new.words);
            let is_here = |it: &&FormulaChange| {
                let mut names = std::iter::once(&it.name).chain(&it.was);
                names.any(|name| old.formulas.contains(name) || new.formulas.contains(name))
            };
            numbers.extend(left.iter().filter(|it| is_here(it)).flat_map(|it| printed(it)));
            left.retain(|it| !is_here(it));
            let title = if new.title.is_empty() { old.title } else { new.title };
            chapters.push(Chapter { file: file.clone(), title, numbers });
        }
    }
    // Formulas of other files are printed where the manuscript names them.
    chapters.extend(left.into_iter().map(|formula| Chapter {
        file: formula.file.clone(),
        title: formula.title.clone(),
        numbers: printed(formula),
    }));
    chapters.retain(|chapter| !chapter.numbers.is_empty());
    Numbers { version: VERSION, from: from.to_owned(), to: to.to_owned(), chapters }
}

/// The chapters of a text: what follows each heading of the two upper levels. Words of fenced
/// blocks are none of the reader's; the formulas in them are printed.
fn by_chapter(text: &str) -> Vec<ChapterWords> {
    let mut chapters = vec![ChapterWords::default()];
    let mut fence: Option<&str> = None;
    for line in text.lines() {
        let words = line.trim();
        let mark = ["```", "~~~"].into_iter().find(|mark| words.starts_with(mark));
        if let Some(mark) = mark.filter(|mark| fence.is_none_or(|open| open == *mark)) {
            fence = if fence.is_some() { None } else { Some(mark) };
            continue;
        }
        let heading = words.strip_prefix("## ").or_else(|| words.strip_prefix("# "));
        if let Some(title) = heading.filter(|_| fence.is_none()) {
            chapters
                .push(ChapterWords { title: title.trim().to_owned(), ..ChapterWords::default() });
        }
        let Some(chapter) = chapters.last_mut() else { continue };
        if fence.is_some() {
            chapter.formulas.extend(formula_named(words));
            continue;
        }
        chapter.words.extend(words.split_whitespace().map(str::to_owned));
        if words.is_empty() || heading.is_some() {
            chapter.words.push(PARAGRAPH.to_owned());
        }
    }
    chapters
}

/// The name after the word `formula` that begins a block.
fn formula_named(line: &str) -> Option<String> {
    let rest = line.strip_prefix("formula ")?.trim_start();
    let end = rest.find(|letter: char| letter.is_whitespace() || matches!(letter, '"' | '{'));
    Some(rest.get(..end.unwrap_or(rest.len()))?.to_owned())
}

/// Each chapter with what it was: by its heading, then in the order of those that are left.
fn paired(old: Vec<ChapterWords>, new: Vec<ChapterWords>) -> Vec<(ChapterWords, ChapterWords)> {
    let mut old: Vec<Option<ChapterWords>> = old.into_iter().map(Some).collect();
    let mut taken: Vec<Option<ChapterWords>> = new
        .iter()
        .map(|new| {
            let same = |it: &&mut Option<ChapterWords>| {
                it.as_ref().is_some_and(|it| it.title == new.title)
            };
            old.iter_mut().find(same).and_then(Option::take)
        })
        .collect();
    let mut rest = old.into_iter().flatten();
    for before in taken.iter_mut().filter(|it| it.is_none()) {
        *before = rest.next();
    }
    let gone: Vec<ChapterWords> = rest.collect();
    let pairs = taken.into_iter().zip(new).map(|(old, new)| (old.unwrap_or_default(), new));
    pairs.chain(gone.into_iter().map(|old| (old, ChapterWords::default()))).collect()
}

/// The numbers among words that are not the same, or not of the same unit.
fn typed(old: &[String], new: &[String]) -> Vec<NumberChange> {
    let same = common(old, new).unwrap_or_default();
    let (mut from, mut numbers) = ((0, 0), Vec::new());
    for (at, to) in same.into_iter().chain([(old.len(), new.len())]) {
        let before = numbers_in(old, from.0..at);
        let after = numbers_in(new, from.1..to);
        for place in 0..before.len().max(after.len()) {
            let (was, is) = (before.get(place), after.get(place));
            let is_same = |was: &TypedNumber, is: &TypedNumber| {
                was.number == is.number && was.unit == is.unit
            };
            if was.zip(is).is_some_and(|(was, is)| is_same(was, is)) {
                continue;
            }
            // Where the units are not the same, each number has its own.
            let is_of_two = was.zip(is).is_some_and(|(was, is)| was.unit != is.unit);
            let place = match (is, was) {
                (Some(it), _) => words_before(new, it.at, it.unit.is_some() && is_of_two),
                (None, Some(it)) => words_before(old, it.at, false),
                (None, None) => continue,
            };
            let said = |it: Option<&TypedNumber>| {
                it.map(|it| match it.unit.as_ref().filter(|_| is_of_two) {
                    Some(unit) => format!("{} {unit}", it.number),
                    None => it.number.clone(),
                })
            };
            numbers.push(NumberChange { place, old: said(was), new: said(is) });
        }
        // The same number of another unit.
        if let ([was], [is]) =
            (numbers_in(old, at..at + 1).as_slice(), numbers_in(new, to..to + 1).as_slice())
            && let (Some(one), Some(other)) = (&was.unit, &is.unit)
            && one != other
        {
            numbers.push(NumberChange {
                place: words_before(new, to, true),
                old: Some(format!("{} {one}", was.number)),
                new: Some(format!("{} {other}", is.number)),
            });
        }
        from = (at + 1, to + 1);
    }
    numbers
}

/// A number among words.
struct TypedNumber {
    /// The word that it is.
    at: usize,
    number: String,
    /// The unit in the word after it.
    unit: Option<String>,
}

/// What may stand after a number as its unit.
const UNITS: [&str; 40] = [
    "g", "kg", "mg", "oz", "lb", "lbs", "ml", "cl", "dl", "l", "L", "cup", "cups", "tbsp", "tsp",
    "min", "minute", "minutes", "h", "hour", "hours", "s", "d", "day", "days", "%", "°C", "°F",
    "C", "F", "gram", "grams", "kilo", "kilos", "pound", "pounds", "ounce", "ounces", "Minuten",
    "Stunden",
];

/// The numbers in a stretch of words, with their units.
fn numbers_in(words: &[String], stretch: std::ops::Range<usize>) -> Vec<TypedNumber> {
    let is_number = |word: &str| word.chars().any(|letter| letter.is_numeric());
    let bare = |word: &str| {
        let is_mark =
            |letter: char| matches!(letter, ',' | ';' | ':' | '(' | ')' | '*' | '_' | '|');
        word.trim_matches(is_mark).trim_end_matches('.').to_owned()
    };
    let unit_after = |at: usize| {
        let unit = bare(words.get(at + 1)?);
        UNITS.contains(&unit.as_str()).then_some(unit)
    };
    stretch
        .filter_map(|at| {
            let number = bare(words.get(at)?);
            is_number(&number).then(|| TypedNumber { at, number, unit: unit_after(at) })
        })
        .collect()
}

/// The words of the paragraph before a number, and the one after it, or after its unit.
fn words_before(words: &[String], at: usize, past_unit: bool) -> String {
    let before = words.get(at.saturating_sub(BEFORE)..at).unwrap_or_default();
    let start = before.iter().rposition(|word| word == PARAGRAPH).map_or(0, |place| place + 1);
    let before = before.get(start..).unwrap_or_default().join(" ");
    let before = before.trim_start_matches(['#', '|', '-', '>', ' ']);
    let after = words.get(at + 1 + usize::from(past_unit)).filter(|word| *word != PARAGRAPH);
    let after =
        after.map(|word| word.trim_end_matches(['.', ',', ';', ':', ')'])).unwrap_or_default();
    format!("{before} … {after}").trim().to_owned()
}

/// The numbers that the prints of a formula show otherwise.
fn printed(formula: &FormulaChange) -> Vec<NumberChange> {
    let unit = |shown: &Option<String>, unit: &str| {
        shown.as_ref().map(|shown| format!("{shown} {unit}").trim_end().to_owned())
    };
    let figures = formula.differs.figures.iter().map(|it| NumberChange {
        place: format!("{}, {}", formula.name, it.name),
        old: unit(&it.old, &it.unit),
        new: unit(&it.new, &it.unit),
    });
    let has_number = |text: &Option<String>| {
        text.as_ref().is_some_and(|text| text.chars().any(char::is_numeric))
    };
    let lines =
        formula.differs.sheet.iter().filter(|it| has_number(&it.old) || has_number(&it.new));
    let lines = lines.map(|it| NumberChange {
        place: format!("{}, {}", formula.name, sheet_name(it)),
        old: it.old.clone(),
        new: it.new.clone(),
    });
    figures.chain(lines).collect()
}

impl Numbers {
    fn heading(&self) -> String {
        format!("Numbers that changed from {} to {}", self.from, self.to)
    }
}

/// What is said where no number changed.
const NOTHING: &str = "no number changed";

fn chapter_name(chapter: &Chapter) -> String {
    match chapter.title.as_str() {
        "" => chapter.file.clone(),
        title => format!("{title} ({})", chapter.file),
    }
}

/// A paragraph for each chapter.
pub fn text(numbers: &Numbers) -> String {
    let mut written = Vec::new();
    for chapter in &numbers.chapters {
        let lines = chapter.numbers.iter().map(|it| match (&it.old, &it.new) {
            (Some(old), Some(new)) => format!("  {}: {old} → {new}", it.place),
            (None, Some(new)) => format!("  {}: {new}, new", it.place),
            (Some(old), None) => format!("  {}: {old}, gone", it.place),
            (None, None) => format!("  {}", it.place),
        });
        let lines: Vec<String> = std::iter::once(chapter_name(chapter)).chain(lines).collect();
        written.push(lines.join("\n") + "\n");
    }
    let written = written.join("\n");
    visible(if written.is_empty() { "no number changed\n" } else { &written }).into_owned()
}

/// A table for each chapter.
pub fn markdown(numbers: &Numbers) -> String {
    let mut lines = vec![format!("# {}", escaped(&numbers.heading()))];
    if numbers.chapters.is_empty() {
        lines.extend([String::new(), format!("{}.", capital(NOTHING))]);
    }
    for chapter in &numbers.chapters {
        let head = format!("## {}", escaped(&chapter_name(chapter)));
        let table = ["| where | was | is |", "|---|--:|--:|"].map(str::to_owned);
        lines.extend([String::new(), head, String::new()].into_iter().chain(table));
        lines.extend(chapter.numbers.iter().map(|it| {
            let old = it.old.as_ref().map(|old| format!("~~{}~~", escaped(old)));
            let new = it.new.as_ref().map(|new| format!("**{}**", escaped(new)));
            let (old, new) = (old.unwrap_or_default(), new.unwrap_or_default());
            format!("| {} | {old} | {new} |", escaped(&it.place))
        }));
    }
    visible(&(lines.join("\n") + "\n")).into_owned()
}

/// A page for a browser or for paper.
pub fn page(numbers: &Numbers) -> Page {
    let row = |it: &NumberChange| (it.place.clone(), it.old.clone(), it.new.clone());
    let tables = numbers.chapters.iter().map(|chapter| SheetTable {
        title: chapter_name(chapter),
        rows: chapter.numbers.iter().map(row).collect(),
    });
    let nothing = numbers.chapters.is_empty().then(|| format!("{}.", capital(NOTHING)));
    let (title, tables) = (numbers.heading(), tables.collect());
    Page { title, first: "where", nothing, items: Vec::new(), tables }
}

/// The published JSON Schema of [`Numbers`].
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the published file to it"))]
pub fn schema() -> String {
    pretty(&schemars::schema_for!(Numbers))
}

/// The same for programs.
pub fn json(numbers: &Numbers) -> String {
    pretty(numbers)
}
