//! The lines of two sheets that do not show the same.

use super::comparison::SheetChange;
use crate::print::Document;
use crate::print::document::{LinePart, Weight};

/// One line: its column and name, what it shows, and its grams.
struct Row {
    column: String,
    line: String,
    shown: String,
    grams: Option<String>,
}

/// The lines that changed, in the order of the new sheet, those that are gone last.
pub fn changes(before: &Document, after: &Document) -> Vec<SheetChange> {
    let (old, new) = (rows(before), rows(after));
    let mut left: Vec<Option<Row>> = old.into_iter().map(Some).collect();
    let mut changes = Vec::new();
    for row in new {
        let same = |it: &&mut Option<Row>| {
            it.as_ref().is_some_and(|it| (&it.column, &it.line) == (&row.column, &row.line))
        };
        let partner = left.iter_mut().find(same).and_then(Option::take);
        if partner.as_ref().is_some_and(|it| it.shown == row.shown) {
            continue;
        }
        changes.push(SheetChange {
            column: row.column,
            line: row.line,
            old: partner.as_ref().map(|it| it.shown.clone()),
            new: Some(row.shown),
            old_grams: partner.and_then(|it| it.grams),
            new_grams: row.grams,
        });
    }
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

/// Everything that is weighed or measured on a sheet.
fn rows(document: &Document) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut put = |column: &str, line: &str, shown: String, grams: Option<String>| {
        rows.push(Row { column: column.to_owned(), line: line.to_owned(), shown, grams });
    };
    for mix in document.mixes.iter().chain(&document.mixtures) {
        let several = !mix.batch_lines.is_empty();
        let lines = if several { &mix.batch_lines } else { &mix.lines };
        let column = if several { format!("{}, a batch", mix.title) } else { mix.title.clone() };
        for line in lines {
            let (shown, grams) = weighed(line);
            put(&column, &name(line), shown, grams);
        }
        let sum = mix.batch_sum.as_ref().filter(|_| several).unwrap_or(&mix.sum);
        put(&column, "in all", sum.said(), Some(sum.grams.clone()));
        let parts: [(&str, &Option<Weight>); 3] =
            [("goes on", &mix.goes_on), ("kept back", &mix.kept_back), ("saved", &mix.saved)];
        for (name, weight) in parts {
            if let Some(weight) = weight {
                put(&column, name, weight.said(), Some(weight.grams.clone()));
            }
        }
        for (feed, lines) in mix.earlier_feeds.iter().enumerate() {
            for line in lines {
                let (shown, grams) = weighed(line);
                put(&format!("{}, feed {}", mix.title, feed + 1), &name(line), shown, grams);
            }
        }
    }
    for beside in &document.beside {
        for line in &beside.all {
            let (shown, grams) = weighed(line);
            put(beside.kind.as_str(), &name(line), shown, grams);
        }
    }
    if let Some(water) = &document.water {
        put(&water.label, "temperature", water.temperature.clone(), None);
        put(&water.label, "water", water.water.said(), Some(water.water.grams.clone()));
        if let Some(ice) = &water.ice {
            put(&water.label, "ice", ice.said(), Some(ice.grams.clone()));
        }
    }
    let batches = document.makes.batches.to_string();
    put("", "makes", document.makes.text.clone(), None);
    put("", "batches", batches, None);
    rows
}

fn name(line: &LinePart) -> String {
    match &line.role {
        Some(role) => format!("{} ({role})", line.name),
        None => line.name.clone(),
    }
}

fn weighed(line: &LinePart) -> (String, Option<String>) {
    match &line.weight {
        Some(weight) => {
            let more = line.more.as_ref().map(|more| format!(", {more}")).unwrap_or_default();
            (weight.said() + &more, Some(weight.grams.clone()))
        }
        None => (line.soft.clone().unwrap_or_default(), None),
    }
}
