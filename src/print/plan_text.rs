//! The lines of a plan for a terminal.

use super::document::BarKind;
use super::plan_document::{DatingPart, PlanDocument, TaskPart};
use super::words::capital;
use crate::source::visible;

/// The plan for a terminal: day by day, a line for everything that is begun; of several
/// formulas in one list by the clock.
pub fn plan_text(document: &PlanDocument) -> String {
    let several = document.formulas.len() > 1;
    let days = match (&document.zone, document.dating) {
        (Some(zone), _) => zone.clone(),
        (None, DatingPart::AnyDay) => "any day".to_owned(),
        (None, _) => "any week".to_owned(),
    };
    let mut written = String::new();
    for formula in &document.formulas {
        let ready = &formula.ready;
        written.push_str(&format!("{}\n{}\n", formula.title, formula.makes));
        written.push_str(&format!("ready {}, {} ({days})\n", ready.date, ready.time));
        written.push_str(if several { "\n" } else { "" });
    }
    let written_before = written.trim_end().len();
    written.truncate(written_before);
    written.push('\n');
    written.push_str(&task_lines(&document.tasks, several));
    for formula in &document.formulas {
        let whose = if several { format!("{}: ", formula.title) } else { String::new() };
        for estimate in &formula.estimates {
            written.push_str(&format!("\nestimate: {whose}{estimate}\n"));
        }
        for note in &formula.notes {
            written.push_str(&format!("\nnote: {whose}{note}\n"));
        }
    }
    for note in &document.notes {
        written.push_str(&format!("\nnote: {note}\n"));
    }
    written.push_str("\n● hands at work  ◐ oven, someone near  ○ waits by itself");
    if document.tasks.iter().any(|task| task.estimated) {
        written.push_str("  ≈ estimate");
    }
    written.push('\n');
    visible(&written).into_owned()
}

fn task_lines(tasks: &[TaskPart], several: bool) -> String {
    let mut written = String::new();
    let names: Vec<String> = tasks.iter().map(|task| line_title(task, several)).collect();
    let width = |texts: &mut dyn Iterator<Item = &String>| {
        texts.map(|text| text.chars().count()).max().unwrap_or(0)
    };
    let wide = width(&mut names.iter());
    let clock = width(&mut tasks.iter().map(|task| &task.begins.time));
    let mut date = "";
    for (task, name) in tasks.iter().zip(&names) {
        if task.begins.date != date {
            date = &task.begins.date;
            written.push_str(&format!("\n{}\n", capital(date)));
        }
        let mark = match task.kind {
            BarKind::Hands => "●",
            BarKind::Oven => "◐",
            BarKind::Waiting | BarKind::Cold => "○",
        };
        let gap = |text: &str, wide: usize| " ".repeat(wide.saturating_sub(text.chars().count()));
        let begins = &task.begins.time;
        let time = task.time.as_deref().unwrap_or_default();
        let folds = match task.folds.is_empty() {
            true => String::new(),
            false => format!(", fold at {}", task.folds.join(", ")),
        };
        let at = task.at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default();
        let (after_clock, after_name) = (gap(begins, clock), gap(name, wide));
        let place = task.place.as_ref().map(|place| format!(" {place}")).unwrap_or_default();
        let line =
            format!("  {begins}{after_clock} {mark} {name}{after_name}  {time}{place}{at}{folds}");
        written.push_str(line.trim_end());
        written.push('\n');
    }
    written
}

fn line_title(task: &TaskPart, several: bool) -> String {
    let title = match &task.stage {
        Some(stage) => format!("{stage}: {}", task.title.to_lowercase()),
        None => task.title.clone(),
    };
    if several { format!("{} · {title}", task.formula) } else { title }
}
