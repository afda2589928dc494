//! An auditor: totals, hydration, salt and percentages of every example, worked out anew from
//! the printed rows with a parser and sums of their own, in plain floating point.

use crate::support::{assert_none, assize, out, top};
use std::fs;

/// A row of the table that has a weight.
struct Row {
    mix: String,
    name: String,
    key: String,
    grams: f64,
    percent: Option<f64>,
}

/// The rows of a formula, read without any code of ours.
fn rows(csv: &str) -> Vec<Row> {
    let read = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        Some(Row {
            mix: (*cells.get(1)?).to_owned(),
            name: (*cells.get(2)?).to_owned(),
            key: (*cells.get(9)?).to_owned(),
            grams: cells.get(4)?.parse().ok()?,
            percent: cells.get(7).and_then(|cell| cell.parse().ok()),
        })
    };
    csv.lines().skip(1).filter_map(read).collect()
}

/// A figure of the text with its unit: `hydration  74.3 %`.
fn figure(text: &str, name: &str) -> Option<(f64, String)> {
    // Figures stand below the table, whose last line is the sum.
    let mut lines = text.lines().skip_while(|line| !line.starts_with("sum"));
    let line =
        lines.find(|line| line.strip_prefix(name).is_some_and(|rest| rest.starts_with("  ")))?;
    let mut words = line[name.len()..].split_whitespace();
    let number = words.next()?.parse().ok()?;
    Some((number, words.next()?.to_owned()))
}

fn sum<'r>(rows: impl Iterator<Item = &'r Row>) -> f64 {
    rows.map(|row| row.grams).sum()
}

/// What is wrong in a formula, and how many numbers were looked at.
fn audit(name: &str, csv: &str, text: &str, wrong: &mut Vec<String>) -> usize {
    let rows = rows(csv);
    let whole = if rows.iter().any(|row| row.mix == "total") { "total" } else { "final dough" };
    let total = || rows.iter().filter(|row| row.mix == whole);
    let ends = ["flour", "semolina", "wholemeal"];
    let is_flour = |row: &&Row| ends.iter().any(|end| row.key.ends_with(end));
    let flour = sum(total().filter(is_flour));
    if flour == 0.0 {
        return 0;
    }
    let mut count = 0;
    let mut hold = |what: String, own: f64, theirs: f64, within: f64| {
        count += 1;
        if (own - theirs).abs() > within {
            wrong.push(format!("{name}: {what}: {own} is printed {theirs}"));
        }
    };
    for (what, key) in [("hydration", "water"), ("salt", "salt")] {
        let share = 100.0 * sum(total().filter(|row| row.key == key)) / flour;
        if let Some((printed, unit)) = figure(text, what) {
            assert_eq!(unit, "%", "{name} {what}");
            hold(what.to_owned(), share, printed, 0.051);
        }
    }
    for (what, own) in [("flour", flour), ("dough", sum(total()))] {
        let Some((printed, unit)) = figure(text, what) else { continue };
        let grams = if unit == "kg" { 1000.0 * printed } else { printed };
        hold(what.to_owned(), own, grams, f64::max(5.0, own / 1000.0));
    }
    for row in total() {
        if let Some(percent) = row.percent {
            hold(format!("{} %", row.name), 100.0 * row.grams / flour, percent, 0.051);
        }
    }
    // All that goes into the mixer is the dough.
    if let Some((printed, unit)) = figure(text, "dough") {
        let mixed = sum(rows.iter().filter(|row| row.mix == "final dough"));
        let grams = if unit == "kg" { 1000.0 * printed } else { printed };
        hold("final dough".to_owned(), mixed, grams, f64::max(5.0, mixed / 1000.0));
    }
    count
}

#[test]
fn every_example_adds_up_by_other_hands() {
    let folder = top().join("examples/gullhaven");
    let files = folder.read_dir().expect("the folder").map(|entry| entry.expect("an entry").path());
    let mut names = Vec::new();
    for file in files.filter(|file| file.extension().is_some_and(|it| it == "dough")) {
        let text = fs::read_to_string(&file).expect("readable");
        let heads = text.lines().filter_map(|line| line.strip_prefix("formula "));
        names.extend(heads.filter_map(|head| head.split_whitespace().next().map(str::to_owned)));
    }
    let (mut wrong, mut count, mut audited) = (Vec::new(), 0, 0);
    for name in &names {
        let csv = out(&assize(&folder, &["show", "--format", "csv", name]));
        let text = out(&assize(&folder, &["show", name]));
        let looked_at = audit(name, &csv, &text, &mut wrong);
        audited += usize::from(looked_at > 0);
        count += looked_at;
    }
    assert!(audited >= 14 && count > 140, "{audited} of {}: {count}", names.len());
    assert_none(&wrong, count);
}
