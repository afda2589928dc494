//! `no-plan`: no clock times meet all that is written and the hours.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Worked, title};
use crate::quantity::Exact;
use crate::quantity::display::{minutes, minutes_range};
use crate::source::Span;
use crate::time::clock::{Instant, MINUTE, Zone};
use crate::time::graph::{Doing, Graph, Stretch};
use crate::time::plan::{Change, Hours, NoPlan};
use crate::time::why::said;

pub const RULE: Rule = Rule {
    name: "no-plan",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("no_plan.md"),
};

/// Parts of a conflict that are told one by one.
const MOST_TOLD: usize = 8;

/// Ways out that are told.
const MOST_WAYS: usize = 6;

pub fn finding(
    worked: &Worked,
    graph: &Graph,
    conflict: &NoPlan,
    wanted: &str,
    hours: Hours,
    zone: &Zone,
) -> Finding {
    let formula = &worked.formula;
    let stretches: Vec<&Stretch> =
        conflict.lengths.iter().map(|&stretch| &graph.stretches[stretch]).collect();
    let span = stretches.first().map_or(formula.name.span, |stretch| stretch.span);
    let mut finding = Finding::new(&RULE, span, format!("`{}` can't be {wanted}", title(formula)));
    let mut told: Vec<Span> = vec![span];
    for stretch in stretches.iter().skip(1).filter(|stretch| stretch.span != Span::default()) {
        if !told.contains(&stretch.span) {
            told.push(stretch.span);
            finding = finding.label(stretch.span, "and this");
        }
    }
    finding = finding.here("this does not go together with the rest");
    let mut lengths: Vec<String> = Vec::new();
    for stretch in stretches.iter().filter(|stretch| stretch.doing != Doing::Order) {
        let told = format!("{}: {}", said(worked, &stretch.doing), length(stretch));
        if !lengths.contains(&told) {
            lengths.push(told);
        }
    }
    let more = lengths.len().saturating_sub(MOST_TOLD);
    for told in lengths.into_iter().take(MOST_TOLD) {
        finding = finding.note(told);
    }
    if more > 0 {
        finding = finding.note(format!("and {more} more steps"));
    }
    let at_work = at_work(worked, graph, conflict);
    if !at_work.is_empty() {
        let hours = hours.map(told_hours).unwrap_or_default();
        finding = finding.note(format!("somebody is there {hours}; they are needed for {at_work}"));
    }
    let ways: Vec<String> = conflict
        .changes
        .iter()
        .take(MOST_WAYS)
        .map(|change| way_out(worked, graph, change, zone))
        .collect();
    match ways.is_empty() {
        true => finding.help("no single change is enough: move the time, or widen several ranges"),
        false => {
            finding.help(format!("one of these would make it possible: {}", ways.join("; or ")))
        }
    }
}

/// `10 h`, `10–16 h`, `at least 3 h`.
pub fn length(stretch: &Stretch) -> String {
    match &stretch.high {
        Some(high) => minutes_range(&stretch.low, high),
        None => format!("at least {}", minutes(&stretch.low)),
    }
}

/// What somebody has to be there for, each once.
fn at_work(worked: &Worked, graph: &Graph, conflict: &NoPlan) -> String {
    let mut names: Vec<String> = Vec::new();
    for &(from, to) in &conflict.presences {
        let own = graph.stretches.iter().find(|stretch| match from == to {
            true => stretch.from == from,
            false => (stretch.from, stretch.to) == (from, to),
        });
        let before = || graph.stretches.iter().find(|stretch| stretch.to == from);
        let Some(stretch) = own.or_else(before) else { continue };
        let name = match from == to {
            true => format!("the beginning of {}", said(worked, &stretch.doing)),
            false => said(worked, &stretch.doing),
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.truncate(MOST_TOLD);
    names.join(", ")
}

/// `from 06:30 to 22:00`.
fn told_hours(hours: &[(u32, u32)]) -> String {
    let clock = |minutes: u32| format!("{:02}:{:02}", minutes / 60, minutes % 60);
    let each = hours.iter().map(|&(from, to)| format!("from {} to {}", clock(from), clock(to)));
    each.collect::<Vec<_>>().join(" and ")
}

/// `a proof of 11 h instead of at most 10 h`.
fn way_out(worked: &Worked, graph: &Graph, change: &Change, zone: &Zone) -> String {
    let time = |whole: i64| minutes(&Exact::from(whole));
    // What is told in whole minutes has to be enough.
    let (up, down) = (
        |it: i64| it.div_euclid(MINUTE) + i64::from(it % MINUTE != 0),
        |it: i64| it.div_euclid(MINUTE),
    );
    match change {
        Change::Longer { stretch, most } => {
            let stretch = &graph.stretches[*stretch];
            let high = stretch.high.as_ref().map(minutes).unwrap_or_default();
            let name = said(worked, &stretch.doing);
            format!("{name} for {} instead of at most {high}", time(up(*most)))
        }
        Change::Shorter { stretch, least } => {
            let stretch = &graph.stretches[*stretch];
            let name = said(worked, &stretch.doing);
            format!(
                "{name} for {} instead of at least {}",
                time(down(*least)),
                minutes(&stretch.low)
            )
        }
        Change::Hours { from, to } => {
            format!("hands from {} to {}", clock(zone, *from), clock(zone, *to))
        }
        Change::Ready { at } => format!("the bread at {}", clock(zone, *at)),
        Change::Start { at } => format!("a beginning at {}", clock(zone, *at)),
    }
}

/// `Fri 22:40`.
fn clock(zone: &Zone, instant: Instant) -> String {
    const DAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    let moment = zone.at(instant);
    let day = DAYS[usize::from(moment.weekday() % 7)];
    format!("{day} {:02} {}", moment.day(), moment.time())
}
