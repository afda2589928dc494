//! The document as a table for a terminal and as CSV.

use super::document::{Document, LineKind, LinePart, MixPart};
use crate::quantity::display::{decimal, read_exact};
use crate::source::visible;
use std::borrow::Cow;
use unicode_width::UnicodeWidthStr;

/// A table for a terminal: total, stages and final dough side by side.
pub fn text(document: &Document) -> String {
    let mut written = format!("{}\n{}\n\n", document.title, document.makes.text);
    let rows = rows(document);
    let mut header = vec![String::new(), "total".to_owned(), "%".to_owned()];
    for mix in &document.mixes {
        header.extend([mix.name.clone(), "%".to_owned()]);
    }
    let widths: Vec<usize> = (0..header.len())
        .map(|column| {
            let cells = rows.iter().map(|row| row[column].width());
            cells.chain([header[column].width()]).max().unwrap_or(0)
        })
        .collect();
    let rule = "─".repeat(widths.iter().sum::<usize>() + 2 * (widths.len() - 1));
    written.push_str(&line(&header, &widths));
    written.push_str(&rule);
    written.push('\n');
    for (index, row) in rows.iter().enumerate() {
        if index + 1 == rows.len() {
            written.push_str(&rule);
            written.push('\n');
        }
        written.push_str(&line(row, &widths));
    }
    written.push('\n');
    let names = document.figures.iter().map(|figure| figure.name.width()).max().unwrap_or(0);
    for figure in &document.figures {
        let gap = " ".repeat(names - figure.name.width());
        written.push_str(
            &format!("{}{gap}  {} {}\n", figure.name, figure.shown, figure.unit)
                .replace(" \n", "\n"),
        );
    }
    for piece in &document.makes.pieces {
        let baked = piece.baked.as_ref().map(|baked| match &piece.as_eaten {
            None => format!(", {} baked", baked.said()),
            Some(eaten) => {
                format!(", {} baked (the dough alone), {} as eaten", baked.said(), eaten.said())
            }
        });
        written.push_str(&format!(
            "\n{} {} at {}{}",
            piece.count,
            piece.kind,
            piece.weight.said(),
            baked.unwrap_or_default()
        ));
    }
    if !document.makes.pieces.is_empty() {
        written.push('\n');
    }
    for mix in &document.mixes {
        for (what, weight) in [
            ("goes on", &mix.goes_on),
            ("kept back", &mix.kept_back),
            ("saved", &mix.saved),
            ("left over", &mix.left_over),
        ] {
            if let Some(weight) = weight {
                written.push_str(&format!("{}: {} {what}\n", mix.name, weight.said()));
            }
        }
    }
    written.push_str(&feeds(document));
    visible(&written).into_owned()
}

/// The feeds before the last one of each stage, a line each.
fn feeds(document: &Document) -> String {
    let mut written = String::new();
    for mix in &document.mixes {
        for (index, lines) in mix.earlier_feeds.iter().enumerate() {
            let amounts = lines.iter().filter_map(|line| {
                let weight = line.weight.as_ref()?;
                let name = match (line.kind, index) {
                    (LineKind::Culture, 1..) => format!("of feed {index}"),
                    _ => named(line),
                };
                Some(format!("{name} {}", weight.said()))
            });
            let mut told: Vec<String> = amounts.collect();
            if let Some(Some(discarded)) = mix.discarded.get(index) {
                told.push(format!("{} discarded", discarded.said()));
            }
            let of = mix.earlier_feeds.len() + 1;
            written.push_str(&format!(
                "{}, feed {} of {of}: {}\n",
                mix.name,
                index + 1,
                told.join(", ")
            ));
        }
    }
    written
}

/// One line, the first cell to the left and the others to the right.
fn line(cells: &[String], widths: &[usize]) -> String {
    let mut written = String::new();
    for (index, (cell, width)) in cells.iter().zip(widths).enumerate() {
        let gap = " ".repeat(width - cell.width());
        match index {
            0 => written.push_str(&format!("{cell}{gap}")),
            _ => written.push_str(&format!("  {gap}{cell}")),
        }
    }
    format!("{}\n", written.trim_end())
}

fn named(line: &LinePart) -> String {
    match &line.role {
        Some(role) => format!("{} ({role})", line.name),
        None => line.name.clone(),
    }
}

/// A row for each name, in the order in which names are met; sums last.
fn rows(document: &Document) -> Vec<Vec<String>> {
    let mut names: Vec<String> = Vec::new();
    let lines = document.mixes.iter().flat_map(|mix| &mix.lines);
    for line in document.total.iter().chain(lines) {
        let name = named(line);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let mut rows: Vec<Vec<String>> = names
        .iter()
        .map(|name| {
            let mut row = vec![name.clone()];
            row.extend(cells(&document.total, name));
            for mix in &document.mixes {
                row.extend(cells(&mix.lines, name));
            }
            row
        })
        .collect();
    let mut sums = vec![
        "sum".to_owned(),
        document.total_sum.said(),
        document.total_sum_percent.clone().unwrap_or_default(),
    ];
    for mix in &document.mixes {
        sums.extend([mix.sum.said(), mix.sum_percent.clone().unwrap_or_default()]);
    }
    rows.push(sums);
    rows
}

fn cells(lines: &[LinePart], name: &str) -> [String; 2] {
    let Some(line) = lines.iter().find(|line| named(line) == name) else {
        return Default::default();
    };
    let weight = match (&line.weight, &line.soft) {
        (Some(weight), _) => weight.said(),
        (None, Some(soft)) => soft.clone(),
        (None, None) => String::new(),
    };
    [weight, line.percent.clone().unwrap_or_default()]
}

/// A row for each line of each mix. All numbers are decimals with a point: of `grams` to a
/// millionth where it has no end, of `shown` what the prints show.
pub fn csv(document: &Document) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let header = [
        "formula",
        "mix",
        "name",
        "role",
        "grams",
        "shown",
        "unit",
        "percent",
        "amount",
        "key",
        "grams high",
    ];
    // Writing to memory can't fail.
    let _ = writer.write_record(header);
    let mixes = document.mixes.iter().map(|mix: &MixPart| (mix.name.as_str(), &mix.lines));
    for (mix, lines) in [("total", &document.total)].into_iter().chain(mixes) {
        for line in lines {
            let weight = line.weight.clone().unwrap_or_default();
            let _ = writer.write_record([
                &*inert(&document.name),
                &inert(mix),
                &inert(&line.name),
                &inert(line.role.as_deref().unwrap_or("")),
                &decimals(&weight.grams),
                &weight.decimal,
                &weight.unit,
                line.percent.as_deref().unwrap_or(""),
                &inert(line.soft.as_deref().unwrap_or("")),
                &inert(&line.key),
                &decimals(line.grams_high.as_deref().unwrap_or("")),
            ]);
        }
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

/// A cell of text that no spreadsheet takes for a formula: where it begins as formulas do,
/// or with a control letter, an apostrophe before it says that it is text, which is what
/// spreadsheets expect. Numbers are left as they are.
fn inert(text: &str) -> Cow<'_, str> {
    let begins = |letter: char| matches!(letter, '=' | '+' | '-' | '@') || letter.is_control();
    match text.trim_start_matches(' ').starts_with(begins) {
        true => Cow::Owned(format!("'{text}")),
        false => Cow::Borrowed(text),
    }
}

/// An exact number of the document as a decimal.
fn decimals(exact: &str) -> String {
    read_exact(exact).map_or_else(|| exact.to_owned(), |number| decimal(&number, 6))
}
