//! A formula inside a manuscript: its table, its figures, and a figure of it in a sentence,
//! as Markdown; and what stands in a woven book beside its words.

mod paper;
mod plain_html;

pub use paper::{WovenBook, json};

use super::booklet::TablePart;
use super::booklet::document::{TableCell, TableColumn};
use super::context::PrintContext;
use super::document::{Document, LineKind, LinePart, MixPart};
use super::html::step_text;
use super::live;
use super::wording::Wording;
use crate::formula::{House, Worked, key, without_accents};
use crate::quantity::Exact;
use crate::quantity::display::read_exact;
use crate::syntax::tree::FigureAsk;
use std::collections::BTreeMap;

/// What stands in a book in place of a comment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Placed {
    /// The title of the book, and who wrote it.
    Title(String, Option<String>),
    /// The formulas in their order.
    Contents,
    /// Headwords, each with the numbers of its formulas.
    Index(Vec<(String, Vec<usize>)>),
    /// Claims with their proofs, each with the number of its formula.
    Claims(Vec<(usize, String)>),
    /// What follows begins a page.
    Page,
}

/// Begins the marks below: no author writes it, for no font has it.
const SIGN: char = '\u{f5a17}';

/// A place inside a sentence. A comment would begin a block of its own where it begins a line.
pub fn mark_in_words(what: &str, number: usize) -> String {
    format!("{SIGN}{what} {number}{SIGN}")
}

/// Words, and the marks between them.
fn parted(words: &str) -> impl Iterator<Item = Result<&str, (&str, usize)>> {
    words.split(SIGN).enumerate().map(|(at, part)| {
        let mark = part.split_once(' ').filter(|_| at % 2 == 1);
        match mark.and_then(|(what, number)| Some((what, number.parse().ok()?))) {
            Some(mark) => Err(mark),
            None => Ok(part),
        }
    })
}

/// A place in a woven text for something that Markdown has no words for.
pub fn mark(what: &str, number: usize) -> String {
    format!("<!-- {SIGN}{what} {number} -->")
}

/// What stands in such a place.
pub fn marked(html: &str) -> Option<(&str, usize)> {
    let inside = html.trim().strip_prefix("<!-- ")?.strip_prefix(SIGN)?.strip_suffix(" -->")?;
    let (what, number) = inside.split_once(' ')?;
    Some((what, number.parse().ok()?))
}

/// The anchor that most tools give a heading.
pub fn anchor(heading: &str) -> String {
    let lower = heading.trim().to_lowercase();
    let kept = lower.chars().filter(|it| it.is_alphanumeric() || matches!(it, ' ' | '-' | '_'));
    kept.map(|it| if it == ' ' { '-' } else { it }).collect()
}

/// An anchor that was not given before.
pub fn anchor_once(given: &mut BTreeMap<String, usize>, words: &str) -> String {
    let anchor = anchor(words);
    let count = given.entry(anchor.clone()).or_default();
    *count += 1;
    match *count {
        1 => anchor,
        count => format!("{anchor}-{}", count - 1),
    }
}

/// Formulas by what is in them; `documents` are theirs, by their numbers.
pub fn by_ingredient<'d>(
    documents: impl Iterator<Item = (usize, &'d Document)>,
) -> Vec<(String, Vec<usize>)> {
    let is_bought =
        |line: &&LinePart| matches!(line.kind, LineKind::Ingredient | LineKind::Culture);
    by_letters(documents, |document| {
        let mixes = document.mixes.iter().chain(&document.mixtures);
        let beside = document.beside.iter().flat_map(|it| &it.each);
        let lines = mixes.flat_map(|mix| &mix.lines).chain(beside).filter(is_bought);
        lines.map(|line| line.name.clone()).collect()
    })
}

/// Formulas by their styles.
pub fn by_style<'d>(
    documents: impl Iterator<Item = (usize, &'d Document)>,
) -> Vec<(String, Vec<usize>)> {
    by_letters(documents, |document| document.style.clone().into_iter().collect())
}

/// Formulas by how long they take, the quickest first.
pub fn by_time<'d>(
    documents: impl Iterator<Item = (usize, &'d Document)>,
) -> Vec<(String, Vec<usize>)> {
    let mut all: BTreeMap<(Exact, Exact), (String, Vec<usize>)> = BTreeMap::new();
    for (number, document) in documents {
        let Some(elapsed) = document.figures.iter().find(|it| it.name == "elapsed") else {
            continue;
        };
        let Some(low) = read_exact(&elapsed.exact) else { continue };
        let high = elapsed.exact_high.as_deref().and_then(read_exact).unwrap_or(low.clone());
        let told = || (format!("{} {}", elapsed.shown, elapsed.unit).trim().to_owned(), Vec::new());
        all.entry((low, high)).or_insert_with(told).1.push(number);
    }
    // Times that read alike are one headword.
    let mut index: Vec<(String, Vec<usize>)> = Vec::new();
    for (word, of) in all.into_values() {
        match index.last_mut().filter(|(last, _)| *last == word) {
            Some((_, all)) => all.extend(of),
            None => index.push((word, of)),
        }
    }
    index
}

/// Headwords in the order of letters, whose accents don't count; each formula once.
fn by_letters<'d>(
    documents: impl Iterator<Item = (usize, &'d Document)>,
    headwords: impl Fn(&Document) -> Vec<String>,
) -> Vec<(String, Vec<usize>)> {
    let mut index: BTreeMap<(String, String), (String, Vec<usize>)> = BTreeMap::new();
    for (number, document) in documents {
        for word in headwords(document) {
            let key = key(&word);
            let [plain, _] = without_accents(&key);
            let place = (plain.to_string(), key.to_string());
            let (_, of) = index.entry(place).or_insert((word, Vec::new()));
            if of.last() != Some(&number) {
                of.push(number);
            }
        }
    }
    index.into_values().collect()
}

/// The yield, and a table for each mix, the final dough last.
pub fn table(document: &Document) -> String {
    let mut written = format!("{}\n", cell(&document.makes.text));
    for mix in &document.mixes {
        written.push('\n');
        written.push_str(&mix_table(mix));
    }
    written
}

/// A table of a booklet with what stands above and below it.
pub fn rows(table: &TablePart) -> String {
    let mut written = String::new();
    if !table.goes_on && !table.title.is_empty() {
        written.push_str(&format!("**{}**\n\n", cell(&table.title)));
    }
    table.lead.iter().for_each(|lead| written.push_str(&format!("{}\n\n", cell(lead))));
    let head = |it: &TableColumn| match (it.title.is_empty(), it.under.is_empty()) {
        (_, true) => cell(&it.title),
        (true, false) => cell(&it.under),
        (false, false) => cell(&format!("{} ({})", it.title, it.under)),
    };
    let heads: Vec<String> = table.columns.iter().map(head).collect();
    written.push_str(&format!("| {} | {} |\n", cell(&table.names), heads.join(" | ")));
    written.push_str(&format!("|---|{}\n", "---:|".repeat(heads.len())));
    for row in &table.rows {
        let is_head = row.kind == "head";
        let name = match is_head && !row.name.is_empty() {
            true => format!("**{}**", cell(&row.name)),
            false => cell(&row.name),
        };
        let shown = |it: &TableCell| cell(format!("{} {}", it.shown, it.unit).trim());
        let mut cells: Vec<String> = row.cells.iter().map(shown).collect();
        cells.resize(heads.len(), String::new());
        written.push_str(&format!("| {name} | {} |\n", cells.join(" | ")));
    }
    table.notes.iter().for_each(|note| written.push_str(&format!("\n{}\n", cell(note))));
    written
}

fn mix_table(mix: &MixPart) -> String {
    let mut table = format!("| {} | | % |\n|---|---:|---:|\n", cell(&mix.title));
    for line in &mix.lines {
        let percent = line.percent.as_deref().unwrap_or("");
        table.push_str(&format!("| {} | {} | {} |\n", name(line), weight(line), cell(percent)));
    }
    let sum = mix.sum_percent.as_deref().unwrap_or("");
    table.push_str(&format!("| | {} | {} |\n", cell(&mix.sum.said()), cell(sum)));
    table
}

fn name(line: &LinePart) -> String {
    match &line.role {
        Some(role) => cell(&format!("{} ({role})", line.name)),
        None => cell(&line.name),
    }
}

fn weight(line: &LinePart) -> String {
    let soft = || line.soft.clone().unwrap_or_default();
    cell(&line.weight.as_ref().map_or_else(soft, |weight| weight.said()))
}

/// A table for each mix, and the method below them.
pub fn card(document: &Document) -> String {
    let mut written = String::new();
    document.headnotes.iter().for_each(|note| written.push_str(&format!("*{}*\n\n", cell(note))));
    written.push_str(&table(document));
    if !document.method.is_empty() {
        written.push('\n');
    }
    for (at, step) in (1..).zip(&document.method) {
        let title = match step.title.is_empty() {
            true => String::new(),
            false => format!("**{}.** ", cell(step.title.trim_end_matches('.'))),
        };
        written.push_str(&format!("{at}. {title}{}\n", cell(&step_text(step))));
    }
    let said = document.notes.iter().chain(&document.storage).chain(&document.cautions);
    said.for_each(|words| written.push_str(&format!("\n{}\n", cell(words))));
    written
}

/// A list of the figures of the whole formula.
pub fn figures(document: &Document) -> String {
    let line = |label: &str, shown: &str, unit: &str| {
        format!("- {}: {}\n", cell(label), cell(format!("{shown} {unit}").trim_end()))
    };
    document.figures.iter().map(|it| line(&it.label, &it.shown, &it.unit)).collect()
}

/// What a figure comes to, in the words of a language; none where the formula has none.
pub fn figure(house: &House, worked: &Worked, words: &Wording, ask: &FigureAsk) -> Option<String> {
    let paper = PrintContext::new(house, worked, words, worked.batches(), false);
    live::figure(&paper, ask)
}

/// Words of a cell: nothing in them ends it, or is a mark.
pub fn cell(words: &str) -> String {
    let mut written = String::with_capacity(words.len());
    for letter in words.chars() {
        if matches!(letter, '|' | '*' | '_' | '`' | '<' | '[' | ']' | '\\' | '#') {
            written.push('\\');
        }
        written.push(if letter == '\n' { ' ' } else { letter });
    }
    written
}
