//! A formula inside a manuscript: its table, its figures, and a figure of it in a sentence,
//! as Markdown.

use super::context::PrintContext;
use super::document::{Document, LinePart, MixPart};
use super::html::step_text;
use super::live;
use super::wording::Wording;
use crate::formula::{House, Worked};
use crate::syntax::tree::FigureAsk;

/// The yield, and a table for each mix, the final dough last.
pub fn table(document: &Document) -> String {
    let mut written = format!("{}\n", cell(&document.makes.text));
    for mix in &document.mixes {
        written.push('\n');
        written.push_str(&mix_table(mix));
    }
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
