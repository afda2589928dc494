//! A day for a terminal.

use super::day_document::{DayDocument, DayTask};
use super::document::Weight;
use super::spreadsheet::{Cell, spreadsheet};
use super::words::capital;
use crate::orders::{Work, WorkTask};
use crate::quantity::Exact;
use crate::quantity::display;
use crate::source::visible;

/// Orders, builds, then everything by the clock; with `of`, what one machine or pair of hands does.
pub fn day_text(document: &DayDocument, of: Option<&str>) -> String {
    let mut written = format!("{}\n{}\n", document.title, document.date);
    if of.is_none() {
        orders(document, &mut written);
        builds(document, &mut written);
        mixtures(document, &mut written);
    }
    tasks(document, of, &mut written);
    if of.is_none() {
        for left in &document.left_over {
            written.push_str(&format!("\nleft over: {left}\n"));
        }
        for caution in &document.cautions {
            written.push_str(&format!("\ncaution: {caution}\n"));
        }
        for note in &document.notes {
            written.push_str(&format!("\nnote: {note}\n"));
        }
    }
    visible(&written).into_owned()
}

/// Lines of columns, each as wide as its widest.
fn columns(rows: &[Vec<String>], written: &mut String) {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let wide: Vec<usize> = (0..count)
        .map(|column| {
            let cells = rows.iter().filter_map(|row| row.get(column));
            cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
        })
        .collect();
    for row in rows {
        let mut line = String::from(" ");
        for (cell, wide) in row.iter().zip(&wide) {
            line.push_str(&format!(" {cell}{}", " ".repeat(wide - cell.chars().count() + 1)));
        }
        written.push_str(line.trim_end());
        written.push('\n');
    }
}

fn minutes(minutes: i64) -> String {
    display::minutes(&Exact::from(minutes))
}

fn orders(document: &DayDocument, written: &mut String) {
    written.push_str("\nOrders\n");
    let rows = document.orders.iter().map(|order| {
        let whom = order.customer.as_ref().map(|whom| format!(" for {whom}")).unwrap_or_default();
        let state = match (&order.done, order.late, order.missing) {
            (_, late, missing) if missing > 0 => {
                let rest = match late {
                    0 => String::new(),
                    late => format!(", others up to {} late", minutes(late)),
                };
                format!("{missing} left out{rest}")
            }
            (Some(done), 0, _) => format!("done {}", document.clock(done)),
            (Some(done), late, _) => {
                format!("done {}, {} late", document.clock(done), minutes(late))
            }
            (None, ..) => "on hand".to_owned(),
        };
        let there = match order.on_hand {
            0 => String::new(),
            all if all == order.count => String::new(),
            some => format!(", {some} on hand"),
        };
        let thaw =
            order.thaw.as_ref().map(|at| format!(", out of the freezer at {}", document.clock(at)));
        let there = there + &thaw.unwrap_or_default();
        vec![
            format!("by {}", document.clock(&order.by)),
            format!("{}{whom}", order.title),
            order.amount.clone(),
            format!("{state}{there}"),
        ]
    });
    columns(&rows.collect::<Vec<_>>(), written);
}

fn builds(document: &DayDocument, written: &mut String) {
    if document.builds.is_empty() {
        return;
    }
    written.push_str("\nBuilt once for all that takes it\n");
    for build in &document.builds {
        let begins = build
            .begins
            .as_ref()
            .map_or_else(String::new, |at| format!(", {} {}", at.date, at.time));
        let several =
            if build.of > 1 { format!(" {} of {}", build.number, build.of) } else { String::new() };
        let made = format!("{}{} {}", build.made.mark(), build.made.shown, build.made.unit);
        if build.on_hand {
            let ripe = build.ripe.as_ref();
            let ripe = ripe.map(|at| format!(", ripe {} {}", at.date, at.time)).unwrap_or_default();
            written.push_str(&format!("  {} {made} on hand{ripe}\n", capital(&build.name)));
        } else {
            written.push_str(&format!("  {}{several} {made}{begins}\n", capital(&build.name)));
        }
        let lines = build.lines.iter();
        let lines =
            lines.map(|line| format!("{} {} {}", line.name, line.weight.shown, line.weight.unit));
        if !build.on_hand {
            written.push_str(&format!("    of {}\n", lines.collect::<Vec<_>>().join(", ")));
        }
        for take in &build.takes {
            let at = take.at.as_ref().map(|at| format!(" at {}", at.time)).unwrap_or_default();
            let weight = format!("{} {}", take.weight.shown, take.weight.unit);
            written.push_str(&format!("    {weight} for {}{at}\n", take.who));
        }
        for (kept, word) in
            [(&build.kept_back, "kept back"), (&build.saved, "saved"), (&build.left, "left over")]
        {
            if let Some(kept) = kept {
                written.push_str(&format!("    {} {} {word}\n", kept.shown, kept.unit));
            }
        }
    }
}

fn mixtures(document: &DayDocument, written: &mut String) {
    if document.mixtures.is_empty() {
        return;
    }
    written.push_str("\nWeighed once for all that takes it\n");
    let weight = |it: &Weight| format!("{}{} {}", it.mark(), it.shown, it.unit);
    for mixture in &document.mixtures {
        written.push_str(&format!("  {} {}\n", capital(&mixture.name), weight(&mixture.made)));
        let lines: Vec<String> = (mixture.lines.iter())
            .map(|line| format!("{} {}", line.name, weight(&line.weight)))
            .collect();
        written.push_str(&format!("    of {}\n", lines.join(", ")));
        for take in &mixture.takes {
            written.push_str(&format!("    {} for {}\n", weight(&take.weight), take.who));
        }
    }
}

fn tasks(document: &DayDocument, of: Option<&str>, written: &mut String) {
    let mut date = "";
    let shown: Vec<&DayTask> =
        document.tasks.iter().filter(|task| is_of(document, task, of)).collect();
    let mut rows: Vec<Vec<String>> = Vec::new();
    for task in shown {
        if task.begins.date != date {
            columns(&std::mem::take(&mut rows), written);
            date = &task.begins.date;
            written.push_str(&format!("\n{}\n", capital(date)));
        }
        let load = task.load.map(|load| format!(", load {load}")).unwrap_or_default();
        let boards = task.boards.map(|boards| match boards {
            1 => ", 1 board".to_owned(),
            _ => format!(", {boards} boards"),
        });
        let boards = boards.unwrap_or_default();
        let stands = task.machine.as_ref().or(task.place.as_ref());
        let hands = task.hands.map(|hands| format!("hands {hands}")).unwrap_or_default();
        let end = task.heat_at_end.as_ref().filter(|end| task.heat.as_ref() != Some(*end));
        let end = end.map(|end| format!(", then {end}")).unwrap_or_default();
        let heat = task.heat.as_ref().map(|heat| format!(" at {heat}{end}")).unwrap_or_default();
        let where_it_is = [stands.map(|name| format!("{name}{boards}")).unwrap_or_default(), hands];
        let where_it_is: Vec<String> =
            where_it_is.into_iter().filter(|it| !it.is_empty()).collect();
        rows.push(vec![
            format!("{}–{}", task.begins.time, task.ends.time),
            task.whose.clone(),
            format!("{}{load}{heat}{}", task.title, waits(document, task)),
            where_it_is.join(", "),
            task.latest.as_ref().map(|at| format!("latest {}", at.time)).unwrap_or_default(),
        ]);
    }
    columns(&rows, written);
}

/// `; bulk until 03:10`: what a batch waits through after a task and that takes nobody and no place.
fn waits(document: &DayDocument, task: &DayTask) -> String {
    let wait = || {
        let is_it = |work: &&Work| work.tasks.iter().any(|own| own.id == task.id);
        let work = document.works.iter().find(is_it)?;
        let own = work.tasks.iter().find(|own| own.id == task.id)?;
        let is_next = |next: &&WorkTask| {
            next.from.is_some()
                && next.from >= own.to
                && (next.load == own.load || next.load.is_none() || own.load.is_none())
                && next.step > own.step
        };
        let next = work.tasks.iter().filter(is_next).min_by_key(|next| (next.from, next.step))?;
        let steps = work.steps.get(own.step? + 1..next.step?)?;
        let until = &document.tasks.iter().find(|task| task.id == next.id)?.begins.time;
        (!steps.is_empty() && next.from > own.to)
            .then(|| format!("; {} until {until}", steps.join(", ")))
    };
    wait().unwrap_or_default()
}

/// Whether a task is of a machine, a place or a pair of hands.
pub fn is_of(document: &DayDocument, task: &DayTask, of: Option<&str>) -> bool {
    let Some(of) = of else { return true };
    let place = document.tasks.iter().position(|other| std::ptr::eq(other, task));
    document.rows.iter().any(|row| {
        row.name.eq_ignore_ascii_case(of) && place.is_some_and(|place| row.tasks.contains(&place))
    })
}

/// A row for each task; with `of`, those of one machine, place or pair of hands.
pub fn day_csv(document: &DayDocument, of: Option<&str>) -> String {
    let heads = [
        "begins", "ends", "latest", "whose", "title", "load", "machine", "place", "boards", "hands",
    ];
    let number = |number: Option<usize>| number.map(|it| it.to_string()).unwrap_or_default();
    let moment = |at: &super::plan_document::MomentPart| {
        at.iso.clone().unwrap_or_else(|| format!("{} {}", at.date, at.time))
    };
    let tasks = document.tasks.iter().filter(|task| is_of(document, task, of));
    let row = |task: &DayTask| {
        [
            Cell::Text(moment(&task.begins)),
            Cell::Text(moment(&task.ends)),
            Cell::Text(task.latest.as_ref().map(moment).unwrap_or_default()),
            Cell::Text(task.whose.clone()),
            Cell::Text(task.title.clone()),
            Cell::Number(number(task.load)),
            Cell::Text(task.machine.clone().unwrap_or_default()),
            Cell::Text(task.place.clone().unwrap_or_default()),
            Cell::Number(task.boards.map(|boards| boards.to_string()).unwrap_or_default()),
            Cell::Number(number(task.hands)),
        ]
    };
    spreadsheet(&heads, tasks.map(row))
}
