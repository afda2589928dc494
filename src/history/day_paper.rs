//! The lines of two plans of one day that do not show the same: orders, batches, builds, times.

use super::comparison::SheetChange;
use super::sheet::{Rows, matched};
use crate::print::day_document::{DayBuild, DayDocument, DayLine, DayOrder, DayTask};

/// The lines of a day's papers that changed, its whole first.
pub fn changes(before: &DayDocument, after: &DayDocument) -> Vec<SheetChange> {
    matched(rows(before), rows(after))
}

fn rows(document: &DayDocument) -> Rows {
    let mut rows = Rows::default();
    rows.words("", "title", &document.title);
    let first = document.tasks.iter().min_by_key(|it| it.from);
    let last = document.tasks.iter().max_by_key(|it| it.to);
    rows.words("", "first work", &first.map(|it| document.clock(&it.begins)).unwrap_or_default());
    rows.words("", "last work", &last.map(|it| document.clock(&it.ends)).unwrap_or_default());
    rows.words("", "batches", &document.batches.len().to_string());
    document.orders.iter().for_each(|order| one_order(document, order, &mut rows));
    for batch in &document.batches {
        let column = format!("{}, batch {}", batch.title, batch.number);
        rows.words(&column, "makes", &batch.makes);
        rows.weight(&column, "dough", Some(&batch.dough));
        batch.lines.iter().for_each(|line| rows.line(&column, line));
        if let Some(water) = &batch.water {
            rows.words(&column, "temperature of the water", &water.temperature);
        }
        rows.words(&column, "contains", &batch.contains.join(", "));
        rows.words(&column, "may contain", &batch.may_contain.join(", "));
        rows.words(&column, "allergens not known of", &batch.contains_unknown.join(", "));
    }
    document.builds.iter().for_each(|build| one_build(document, build, &mut rows));
    for mixture in &document.mixtures {
        rows.weight(&mixture.name, "made", Some(&mixture.made));
        lines(&mixture.name, &mixture.lines, &mut rows);
    }
    document.tasks.iter().for_each(|task| one_task(document, task, &mut rows));
    for store in &document.requisition {
        let packs = store.packs.as_ref().map(|packs| format!(", {packs}")).unwrap_or_default();
        rows.words("out of stores", &store.name, &(store.weight.said() + &packs));
    }
    rows.each("", "left over", &document.left_over);
    rows.each("", "note", &document.notes);
    rows.each("", "caution", &document.cautions);
    rows
}

fn one_order(document: &DayDocument, order: &DayOrder, rows: &mut Rows) {
    let whom = order.customer.as_ref().map(|whom| format!(" for {whom}")).unwrap_or_default();
    let done = match &order.done {
        Some(done) => format!(", done {}", document.clock(done)),
        None => String::new(),
    };
    let missing = match order.missing {
        0 => String::new(),
        missing => format!(", {missing} left out"),
    };
    let shown = format!("{} by {}{done}{missing}", order.amount, document.clock(&order.by));
    rows.words("orders", &format!("{}{whom}", order.title), &shown);
}

fn one_build(document: &DayDocument, build: &DayBuild, rows: &mut Rows) {
    let column = numbered(&build.name, build.number, build.of);
    let at = |at: &Option<_>| at.as_ref().map(|at| document.clock(at)).unwrap_or_default();
    rows.words(&column, "begins", &at(&build.begins));
    rows.words(&column, "ripe", &at(&build.ripe));
    rows.weight(&column, "made", Some(&build.made));
    lines(&column, &build.lines, rows);
    rows.weight(&column, "kept back", build.kept_back.as_ref());
    rows.weight(&column, "saved", build.saved.as_ref());
    rows.some(&column, "ripens", build.wait.as_ref());
    for take in &build.takes {
        rows.weight(&column, &format!("for {}", take.who), Some(&take.weight));
    }
}

fn one_task(document: &DayDocument, task: &DayTask, rows: &mut Rows) {
    // That there is one batch more changes no other one.
    let whose = task.whose.split(" of ").next().unwrap_or_default();
    let load = task.load.map(|load| format!(", load {load}")).unwrap_or_default();
    let (begins, ends) = (document.clock(&task.begins), document.clock(&task.ends));
    let times = if begins == ends { begins } else { format!("{begins} to {ends}") };
    let more = [&task.machine, &task.place, &task.heat].into_iter().flatten();
    let shown = more.fold(times, |shown, more| format!("{shown}, {more}"));
    rows.words(whose, &format!("{}{load}", task.title), &shown);
}

fn lines(column: &str, lines: &[DayLine], rows: &mut Rows) {
    lines.iter().for_each(|line| rows.weight(column, &line.name, Some(&line.weight)));
}

fn numbered(name: &str, number: u32, of: u32) -> String {
    if of > 1 { format!("{name} {number}") } else { name.to_owned() }
}
