//! The lines of two sheets that do not show the same: all that a sheet prints, weights first.

use super::comparison::SheetChange;
use super::rename::Renamed;
use crate::formula::key;
use crate::print::Document;
use crate::print::document::{LinePart, MixPart, StepPart, Weight};
use std::collections::BTreeMap;

/// One line: its column and name, what it shows, and its grams.
struct SheetRow {
    column: String,
    line: String,
    shown: String,
    grams: Option<String>,
    /// What it shows, with the new names of what was renamed.
    renamed: String,
}

impl SheetRow {
    /// With the new name of something wherever it stands.
    fn rename(&mut self, was: &str, is: &str) {
        for (was, is) in [(was, is), (&was.to_lowercase(), &is.to_lowercase())] {
            for text in [&mut self.column, &mut self.line, &mut self.renamed] {
                *text = replaced(text, was, is);
            }
        }
    }
}

/// A text with whole words in the place of others.
fn replaced(text: &str, was: &str, is: &str) -> String {
    let mut written = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(was).filter(|_| !was.is_empty()) {
        let (before, from) = rest.split_at(at);
        let after = from.get(was.len()..).unwrap_or_default();
        let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
        let before_it = before.chars().next_back().or(written.chars().next_back());
        let is_whole = !is_letter(before_it) && !is_letter(after.chars().next());
        written.push_str(before);
        written.push_str(if is_whole { is } else { was });
        rest = after;
    }
    written + rest
}

/// Whether two documents print the same, wherever they came from.
pub fn is_same(before: &Document, after: &Document) -> bool {
    let all = |document: &Document| {
        let mut all = serde_json::to_value(document).unwrap_or_default();
        all.as_object_mut().map(|fields| fields.remove("trace"));
        all
    };
    all(before) == all(after)
}

/// The lines that changed, in the order of the new sheet, those that are gone last. Of
/// several lines with one name, those that show the same are each other's; stages and
/// mixtures that have another name are what they were.
pub fn changes(before: &Document, after: &Document, renamed: &Renamed) -> Vec<SheetChange> {
    let (mut old, new) = (rows(before), rows(after));
    let mut titles = new_names(&titles_in(before), &titles_in(after), renamed);
    let mut names = new_names(&names_in(before), &names_in(after), renamed);
    names.retain(|(was, is)| !titles.contains(&(was.clone(), is.clone())));
    for row in &mut old.0 {
        titles.iter().chain(&names).for_each(|(was, is)| row.rename(was, is));
    }
    // A stage stands by its name in the line that takes it.
    names.retain(|(was, is)| {
        let is_it = |it: &(String, String)| key(&it.0) == key(was) && key(&it.1) == key(is);
        !titles.iter().any(is_it)
    });
    let titles = titles.drain(..).map(|it| renamed_row("title of a column", it));
    let names = names.into_iter().map(|it| renamed_row("name of a line", it));
    let mut titles: Vec<SheetChange> = titles.chain(names).collect();
    titles.extend(matched(old, new));
    titles
}

/// The rows that show something else, each beside the one that it was, in the order of the new
/// ones; those that are gone last.
pub fn matched(old: Rows, new: Rows) -> Vec<SheetChange> {
    let mut left: Vec<Option<SheetRow>> = old.0.into_iter().map(Some).collect();
    let mut take = |is_it: &dyn Fn(&SheetRow) -> bool| {
        left.iter_mut().find(|it| it.as_ref().is_some_and(is_it)).and_then(Option::take)
    };
    let same_name =
        |one: &SheetRow, two: &SheetRow| (&one.column, &one.line) == (&two.column, &two.line);
    let mut changed: Vec<SheetRow> = new.0;
    changed.retain(|row| take(&|it| same_name(it, row) && it.renamed == row.shown).is_none());
    let changed = changed.into_iter();
    let mut changes: Vec<SheetChange> = changed
        .map(|row| {
            let partner = take(&|it| same_name(it, &row));
            SheetChange {
                column: row.column,
                line: row.line,
                old: partner.as_ref().map(|it| it.shown.clone()),
                new: Some(row.shown),
                old_grams: partner.and_then(|it| it.grams),
                new_grams: row.grams,
            }
        })
        .collect();
    changes.extend(left.into_iter().flatten().map(|row| SheetChange {
        column: row.column,
        line: row.line,
        old: Some(row.shown),
        new: None,
        old_grams: row.grams,
        new_grams: None,
    }));
    changes
}

/// The title of each mix, by its key.
fn titles_in(document: &Document) -> BTreeMap<String, String> {
    let all = document.mixes.iter().chain(&document.mixtures);
    all.map(|mix| (key(&mix.name).to_string(), mix.title.clone())).collect()
}

/// The name of each line, by its key.
fn names_in(document: &Document) -> BTreeMap<String, String> {
    let mixes = document.mixes.iter().chain(&document.mixtures).flat_map(|mix| &mix.lines);
    let lines = mixes.chain(document.beside.iter().flat_map(|beside| &beside.all));
    lines.map(|line| (line.key.clone(), line.name.clone())).collect()
}

/// What is called otherwise than before, old and new.
fn new_names(
    before: &BTreeMap<String, String>,
    after: &BTreeMap<String, String>,
    renamed: &Renamed,
) -> Vec<(String, String)> {
    let pair = |(key, was): (&String, &String)| {
        let (now, _) = renamed.get(key.as_str())?;
        let is = after.get(now.as_str())?;
        (was != is).then(|| (was.clone(), is.clone()))
    };
    before.iter().filter_map(pair).collect()
}

fn renamed_row(line: &str, (was, is): (String, String)) -> SheetChange {
    let (old, new) = (Some(was), Some(is));
    let (column, line) = (String::new(), line.to_owned());
    SheetChange { column, line, old, new, old_grams: None, new_grams: None }
}

/// Rows while they are gathered; what says nothing is left out.
#[derive(Default)]
pub struct Rows(Vec<SheetRow>);

impl Rows {
    /// A row of a column by its name, with its grams.
    pub fn put(&mut self, column: &str, line: &str, shown: String, grams: Option<String>) {
        if !shown.is_empty() {
            let (column, line) = (column.to_owned(), line.to_owned());
            self.0.push(SheetRow { column, line, renamed: shown.clone(), shown, grams });
        }
    }

    /// A row of words.
    pub fn words(&mut self, column: &str, line: &str, shown: &str) {
        self.put(column, line, shown.to_owned(), None);
    }

    /// The same where there are any.
    pub fn some(&mut self, column: &str, line: &str, shown: Option<&String>) {
        shown.into_iter().for_each(|shown| self.words(column, line, shown));
    }

    /// A row for each.
    pub fn each(&mut self, column: &str, line: &str, all: &[String]) {
        all.iter().for_each(|words| self.words(column, line, words));
    }

    /// A row of a weight, where there is one.
    pub fn weight(&mut self, column: &str, line: &str, weight: Option<&Weight>) {
        if let Some(weight) = weight {
            self.put(column, line, weight.said(), Some(weight.grams.clone()));
        }
    }

    /// The rows of a line of a mix.
    pub fn line(&mut self, column: &str, line: &LinePart) {
        let name = match &line.role {
            Some(role) => format!("{} ({role})", line.name),
            None => line.name.clone(),
        };
        let (shown, grams) = match &line.weight {
            Some(weight) => (weight.said(), Some(weight.grams.clone())),
            None => (line.soft.clone().unwrap_or_default(), None),
        };
        let more = [&line.more, &line.part, &line.written].into_iter().flatten();
        let shown = more.fold(shown, |shown, more| format!("{shown}, {more}"));
        self.put(column, &name, shown, grams);
        self.each(column, &name, &line.by_step);
        self.some(column, &format!("{name}, note"), line.note.as_ref());
    }

    fn mix(&mut self, mix: &MixPart) {
        let several = !mix.batch_lines.is_empty();
        let lines = if several { &mix.batch_lines } else { &mix.lines };
        let column = if several { format!("{}, a batch", mix.title) } else { mix.title.clone() };
        lines.iter().for_each(|line| self.line(&column, line));
        let sum = mix.batch_sum.as_ref().filter(|_| several).unwrap_or(&mix.sum);
        self.weight(&column, "in all", Some(sum));
        self.weight(&column, "in the last batch", mix.last_batch.as_ref().filter(|_| several));
        self.weight(&column, "goes on", mix.goes_on.as_ref());
        self.weight(&column, "kept back", mix.kept_back.as_ref());
        self.weight(&column, "saved", mix.saved.as_ref());
        self.weight(&column, "left over", mix.left_over.as_ref());
        self.some(&column, "ripens", mix.wait.as_ref());
        for (feed, lines) in mix.earlier_feeds.iter().enumerate() {
            let column = format!("{}, feed {}", mix.title, feed + 1);
            lines.iter().for_each(|line| self.line(&column, line));
            self.weight(&column, "discarded", mix.discarded.get(feed).and_then(Option::as_ref));
        }
    }

    fn step(&mut self, step: &StepPart) {
        let column = step.stage.as_deref().unwrap_or_default();
        let title = if step.title.is_empty() { "step" } else { &step.title };
        for phase in &step.phases {
            self.some(column, &format!("{title}, time"), phase.time.as_ref());
            self.some(column, &format!("{title}, at"), phase.at.as_ref());
            self.some(column, &format!("{title}, to"), phase.to.as_ref());
            self.words(column, title, &phase.text);
        }
        self.each(column, &format!("{title}, note"), &step.notes);
        self.each(column, &format!("{title}, caution"), &step.cautions);
    }
}

/// Everything that a sheet says.
fn rows(document: &Document) -> Rows {
    let mut rows = Rows::default();
    rows.words("", "title", &document.title);
    rows.words("", "contains", &document.contains.join(", "));
    rows.words("", "may contain", &document.may_contain.join(", "));
    rows.words("", "allergens not known of", &document.contains_unknown.join(", "));
    rows.each("", "headnote", &document.headnotes);
    document.mixes.iter().chain(&document.mixtures).for_each(|mix| rows.mix(mix));
    for beside in &document.beside {
        beside.all.iter().for_each(|line| rows.line(&beside.kind, line));
        let column = match beside.kind.as_str() {
            "" => "on each piece".to_owned(),
            kind => format!("{kind}, on each"),
        };
        beside.each.iter().for_each(|line| rows.line(&column, line));
    }
    if let Some(water) = &document.water {
        rows.words(&water.label, "temperature", &water.temperature);
        // A line of the dough that shows the same weight has told it.
        let shown = water.water.said();
        let is_told = rows.0.iter().any(|it| it.shown == shown && key(&it.line).contains("water"));
        rows.weight(&water.label, "water", Some(&water.water).filter(|_| !is_told));
        rows.weight(&water.label, "ice", water.ice.as_ref());
        rows.words(&water.label, "dough at", &water.target);
        rows.some(&water.label, "what else", water.lever.as_ref());
    }
    let several = !document.batch_method.is_empty();
    let method = if several { &document.batch_method } else { &document.method };
    method.iter().for_each(|step| rows.step(step));
    rows.each("", "caution", &document.cautions);
    rows.each("", "note", &document.notes);
    rows.each("", "equipment", &document.equipment);
    rows.each("", "storage", &document.storage);
    rows.each("", "source", &document.sources);
    rows.words("", "makes", &document.makes.text);
    for piece in &document.makes.pieces {
        rows.weight(&piece.kind, "dough of one", Some(&piece.weight));
        rows.weight(&piece.kind, "one when baked", piece.baked.as_ref());
        rows.weight(&piece.kind, "one with what it carries", piece.as_eaten.as_ref());
        rows.some(&piece.kind, "tin", piece.tin.as_ref());
    }
    rows.words("", "batches", &document.makes.batches.to_string());
    rows
}
