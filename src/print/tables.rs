//! The document as a table for a terminal and as CSV.

use super::document::{Document, LineKind, LinePart, MixPart, Weight};
use super::spreadsheet::{Cell, spreadsheet};
use crate::quantity::display::{decimal, percent, read_exact};
use crate::quantity::{int, ratio};
use crate::source::visible;
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
    written.push_str(&beside(document));
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
    let (low, high) = (&document.total_sum_low, &document.total_sum_high);
    let mut sums = vec![
        "sum".to_owned(),
        both_ends(&document.total_sum, low.as_ref(), high.as_ref()),
        document.total_sum_percent.clone().unwrap_or_default(),
    ];
    for mix in &document.mixes {
        let sum = both_ends(&mix.sum, mix.sum_low.as_ref(), mix.sum_high.as_ref());
        sums.extend([sum, mix.sum_percent.clone().unwrap_or_default()]);
    }
    rows.push(sums);
    rows
}

fn cells(lines: &[LinePart], name: &str) -> [String; 2] {
    let Some(line) = lines.iter().find(|line| named(line) == name) else {
        return Default::default();
    };
    let weight = match (&line.weight, &line.soft) {
        (Some(weight), _) => both_ends(weight, line.weight_low.as_ref(), line.weight_high.as_ref()),
        (None, Some(soft)) => soft.clone(),
        (None, None) => String::new(),
    };
    [weight, line.percent.clone().unwrap_or_default()]
}

/// A weight, or both ends of its range: `594–640 g`.
fn both_ends(weight: &Weight, low: Option<&Weight>, high: Option<&Weight>) -> String {
    let (Some(low), Some(high)) = (low, high) else { return weight.said() };
    match low.unit == high.unit && low.beside.is_none() && high.beside.is_none() {
        true if low.shown == high.shown => weight.said(),
        true => format!("{}{}–{} {}", weight.mark(), low.shown, high.shown, high.unit),
        false => format!("{}{} – {}", weight.mark(), low.said(), high.said()),
    }
}

/// What each piece carries besides its dough, and what side mixes are made of.
fn beside(document: &Document) -> String {
    let mut written = String::new();
    for kind in &document.beside {
        let pairs = kind.each.iter().zip(&kind.all);
        let lines: Vec<String> = pairs
            .map(|(each, all)| {
                let [one, _] = cells(std::slice::from_ref(each), &named(each));
                match &all.weight {
                    Some(_) => {
                        let [all, _] = cells(std::slice::from_ref(all), &named(all));
                        format!("{} {one} ({all} in all)", named(each))
                    }
                    None => format!("{} {one}", named(each)),
                }
            })
            .collect();
        let of =
            if kind.kind.is_empty() { "each piece" } else { &format!("each of the {}", kind.kind) };
        written.push_str(&format!("with {of}: {}\n", lines.join(", ")));
    }
    for mix in &document.mixtures {
        let lines = mix.lines.iter().map(|line| {
            let [weight, _] = cells(std::slice::from_ref(line), &named(line));
            let weight = if weight.is_empty() { line.written.clone() } else { Some(weight) };
            format!("{} {}", named(line), weight.unwrap_or_default())
        });
        let lines: Vec<String> = lines.map(|line| line.trim_end().to_owned()).collect();
        written.push_str(&format!("{}, {}: {}\n", mix.name, mix.sum.said(), lines.join(", ")));
    }
    written
}

/// A row for each line of each mix. All numbers are decimals with a point: of `grams` to a
/// millionth where it has no end, of `shown` what the prints show.
pub fn csv(document: &Document) -> String {
    let heads = [
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
        "shown high",
        "percent high",
        "grams low",
        "shown low",
        "percent low",
    ];
    let mixes = document.mixes.iter().map(|mix: &MixPart| (mix.name.clone(), &mix.lines));
    let mixtures = document.mixtures.iter().map(|mix| (mix.name.clone(), &mix.lines));
    let beside = document.beside.iter().flat_map(|kind| match kind.kind.is_empty() {
        true => [("each piece".to_owned(), &kind.each), ("pieces".to_owned(), &kind.all)],
        false => {
            [(format!("each of the {}", kind.kind), &kind.each), (kind.kind.clone(), &kind.all)]
        }
    });
    let total = ("total".to_owned(), &document.total);
    let all = [total].into_iter().chain(mixes).chain(beside).chain(mixtures);
    let rows =
        all.flat_map(|(mix, lines)| lines.iter().map(move |line| record(document, &mix, line)));
    spreadsheet(&heads, rows)
}

/// A line as a row.
fn record(document: &Document, mix: &str, line: &LinePart) -> [Cell; 16] {
    let weight = line.weight.clone().unwrap_or_default();
    // The ends are told where the line is a range; in the unit of what is weighed.
    let grams =
        |end: &Option<Weight>| end.as_ref().map(|end| decimals(&end.grams)).unwrap_or_default();
    let shown = |end: &Option<Weight>| end.as_ref().map(in_unit_of(&weight)).unwrap_or_default();
    let percent = |share: &Option<String>| share.as_deref().map(in_percent).unwrap_or_default();
    let point = |number: &str| number.replace(&document.decimal_mark, ".");
    let own = match &line.percent_low {
        Some(_) => percent(&line.percent_exact),
        None => line.percent.as_deref().map(point).unwrap_or_default(),
    };
    [
        Cell::Text(document.name.clone()),
        Cell::Text(mix.to_owned()),
        Cell::Text(line.name.clone()),
        Cell::Text(line.role.clone().unwrap_or_default()),
        Cell::Number(decimals(&weight.grams)),
        Cell::Number(weight.decimal.clone()),
        Cell::Text(weight.unit.clone()),
        Cell::Number(own),
        Cell::Text(line.soft.clone().unwrap_or_default()),
        Cell::Text(line.key.clone()),
        Cell::Number(grams(&line.weight_high)),
        Cell::Number(shown(&line.weight_high)),
        Cell::Number(percent(&line.percent_high)),
        Cell::Number(grams(&line.weight_low)),
        Cell::Number(shown(&line.weight_low)),
        Cell::Number(percent(&line.percent_low)),
    ]
}

/// The decimal of an end in the unit of its line: `1.0200` kg beside 980 g is `1020.0` g.
fn in_unit_of(weight: &Weight) -> impl Fn(&Weight) -> String {
    move |end| {
        let by = match (weight.unit.as_str(), end.unit.as_str()) {
            ("g", "kg") => int(1000),
            ("kg", "g") => ratio(1, 1000),
            _ => return end.decimal.clone(),
        };
        read_exact(&end.decimal).map_or_else(String::new, |number| decimal(&(number * by), 6))
    }
}

/// A share of one in per cent, as a decimal with a point.
fn in_percent(exact: &str) -> String {
    read_exact(exact).map_or_else(String::new, |share| percent(&share, 1).replace('−', "-"))
}

/// An exact number of the document as a decimal.
fn decimals(exact: &str) -> String {
    read_exact(exact).map_or_else(|| exact.to_owned(), |number| decimal(&number, 6))
}
