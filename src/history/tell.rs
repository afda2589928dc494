//! A comparison for people: as text, as Markdown for a comment on a change, and as a page.

use super::comparison::{
    Change, ChangeKind, ClaimChange, Comparison, DayChange, FigureChange, FormulaChange, Holding,
    SharedChange, SheetChange,
};
use super::differences::{moved_by, weight_of_figure};
use super::facts::{OF_BASE, ORDER, UNREADABLE};
use crate::print::html_changes::{ChangedItem, Page, SheetTable};
use crate::source::visible;

/// What is said where nothing changed in meaning.
pub const NOTHING: &str = "no change in meaning";

/// The most figures, and the most statements, that stand in a formula's one line.
const IN_ONE_LINE: usize = 3;

/// One line for each thing, the weightiest first, then the details of each.
pub fn text(comparison: &Comparison) -> String {
    let mut lines: Vec<String> = Vec::new();
    if comparison.is_empty() {
        lines.push(NOTHING.to_owned());
    }
    let heads = || {
        let formulas = comparison.formulas.iter().map(|it| (it.name.clone(), headline(it)));
        let shared = comparison.shared.iter().map(|it| (shared_name(it), shared_headline(it)));
        let days = comparison.days.iter().map(|it| (day_name(it), day_headline(it)));
        formulas.chain(days).chain(shared)
    };
    let wide = heads().map(|(name, _)| name.chars().count()).max().unwrap_or_default();
    for (name, head) in heads() {
        lines.push(format!("{name:wide$}  {head}"));
    }
    for formula in &comparison.formulas {
        let details = details(formula);
        let sheet: Vec<String> = formula.differs.sheet.iter().map(sheet_line).collect();
        if details.is_empty() && sheet.is_empty() {
            continue;
        }
        lines.push(String::new());
        lines.push(format!("{}, {}", formula.name, formula.file));
        lines.extend(details.into_iter().map(|line| format!("  {line}")));
        if !sheet.is_empty() {
            lines.push(format!("  on the sheet{}:", makes_of(formula)));
            lines.extend(sheet.into_iter().map(|line| format!("    {line}")));
        }
    }
    for day in comparison.days.iter().filter(|it| !it.papers.is_empty()) {
        lines.push(String::new());
        lines.push(day_name(day));
        lines.extend(day.papers.iter().map(|it| format!("  {}", sheet_line(it))));
    }
    for shared in comparison.shared.iter().filter(|it| !it.says.is_empty()) {
        lines.push(String::new());
        lines.push(shared_name(shared));
        lines.extend(shared.says.iter().map(|change| format!("  {}", said(change))));
    }
    if !comparison.moved.is_empty() {
        lines.push(String::new());
        let moved = comparison.moved.iter();
        lines.extend(moved.map(|it| format!("{} moved: {} → {}", it.name, it.from, it.to)));
    }
    visible(&(lines.join("\n") + "\n")).into_owned()
}

/// Only the lines of sheets that changed, what they said struck through.
pub fn sheets(comparison: &Comparison) -> String {
    let mut lines: Vec<String> = Vec::new();
    for formula in comparison.formulas.iter().filter(|it| is_on_a_sheet(it)) {
        lines.push(format!("{}{}", formula.title, makes_of(formula)));
        for (name, old, new) in rows(formula, true) {
            let old = old.map(|old| format!("~~{old}~~ ")).unwrap_or_default();
            let new = new.as_deref().unwrap_or("gone");
            lines.push(format!("  {name}: {old}{new}"));
        }
        lines.push(String::new());
    }
    for day in comparison.days.iter().filter(|it| !it.papers.is_empty()) {
        lines.push(capital(&day_name(day)));
        lines.extend(day.papers.iter().map(|change| {
            let old = change.old.as_ref().map(|old| format!("~~{old}~~ ")).unwrap_or_default();
            let new = change.new.as_deref().unwrap_or("gone");
            format!("  {}: {old}{new}", sheet_name(change))
        }));
        lines.push(String::new());
    }
    if lines.is_empty() {
        lines.push("no line of a sheet changed".to_owned());
    } else {
        lines.pop();
    }
    visible(&(lines.join("\n") + "\n")).into_owned()
}

/// Whether there is anything to hang up: a line of a sheet, or of a day's papers.
pub fn has_sheets(comparison: &Comparison) -> bool {
    comparison.formulas.iter().any(is_on_a_sheet)
        || comparison.days.iter().any(|it| !it.papers.is_empty())
}

/// Whether there is anything to hang up beside a formula's sheet.
fn is_on_a_sheet(formula: &FormulaChange) -> bool {
    let claims = formula.differs.claims.iter().any(|it| it.new.is_some());
    claims && formula.what == ChangeKind::Changed || !formula.differs.sheet.is_empty()
}

/// A line to hang up: its name, what it said and what it says.
type Row = (String, Option<String>, Option<String>);

/// The lines of a formula's sheet that changed; with `claims`, before them the claims that hold
/// no longer, or hold now.
fn rows(formula: &FormulaChange, claims: bool) -> Vec<Row> {
    let claims = formula.differs.claims.iter().filter(|it| claims && it.new.is_some());
    let claims = claims.map(|it| {
        let held = |holds: Option<Holding>, why: &Option<String>| {
            let why = why.as_ref().map(|why| format!(": {why}")).unwrap_or_default();
            holds.map(|holds| match holds {
                Holding::Holds => "holds".to_owned(),
                Holding::NotKnown => format!("can't be checked{why}"),
                Holding::Fails => format!("does not hold{why}"),
            })
        };
        (format!("claim: {}", it.claim), held(it.old, &it.old_why), held(it.new, &it.new_why))
    });
    claims.chain(formula.differs.sheet.iter().map(row_of)).collect()
}

fn makes_of(formula: &FormulaChange) -> String {
    formula.makes.as_ref().map(|makes| format!(" for {makes}")).unwrap_or_default()
}

fn day_name(day: &DayChange) -> String {
    format!("plan of {}", day.name)
}

/// What became of a day's plan, in one line: when it begins and ends, and how many batches.
fn day_headline(day: &DayChange) -> String {
    if day.has_errors {
        return "the day can't be planned on one side, so its times can't be compared".to_owned();
    }
    let whole = day.papers.iter().filter(|it| it.column.is_empty()).take(IN_ONE_LINE);
    let count = match day.papers.len() {
        1 => "1 line of its papers".to_owned(),
        count => format!("{count} lines of its papers"),
    };
    whole.map(|it| shortened(&sheet_line(it))).chain([count]).collect::<Vec<_>>().join("; ")
}

/// What a formula's change comes to, in one line.
fn headline(formula: &FormulaChange) -> String {
    let mut parts: Vec<String> = Vec::new();
    match formula.what {
        ChangeKind::Added => {
            let makes = formula.makes.as_ref().map(|makes| format!(", {makes}"));
            parts.push(format!("new{}", makes.unwrap_or_default()));
        }
        ChangeKind::Removed => parts.push("gone".to_owned()),
        ChangeKind::Changed => {}
    }
    if let Some(was) = &formula.was {
        parts.push(format!("was called {was}"));
    }
    parts.extend(allergens(formula));
    let (broken, kept): (Vec<&ClaimChange>, Vec<&ClaimChange>) =
        formula.differs.claims.iter().partition(|it| it.is_broken());
    parts.extend(broken.into_iter().filter_map(claim));
    parts.extend(formula.differs.errors.iter().map(|it| format!("new error: {it}")));
    if formula.has_errors {
        parts.push("has errors on one side, so that its figures can't be compared".to_owned());
    }
    parts.extend(most(&formula.differs.figures, &formula.says, IN_ONE_LINE));
    parts.extend(kept.into_iter().filter_map(claim));
    let mended = formula.differs.errors_no_longer.iter();
    parts.extend(mended.map(|it| format!("no longer an error: {it}")));
    match formula.differs.sheet.len() {
        0 => {}
        1 => parts.push("1 line of its sheet".to_owned()),
        count => parts.push(format!("{count} lines of its sheet")),
    }
    if !formula.because.is_empty() {
        let because: Vec<&str> = formula.because.iter().map(|it| named_once(it)).collect();
        parts.push(format!("by {}", because.join(", ")));
    }
    if !formula.printed_in.is_empty() {
        parts.push(format!("in {}", formula.printed_in.join(", ")));
    }
    parts.join("; ")
}

/// A text of the author's may be long; the details have all of it.
pub fn shortened(words: &str) -> String {
    const MAX: usize = 80;
    match words.char_indices().nth(MAX) {
        Some((at, _)) => format!("{}…", words.get(..at).unwrap_or_default().trim_end()),
        None => words.to_owned(),
    }
}

fn allergens(formula: &FormulaChange) -> Vec<String> {
    // What it contains now may well hold traces no longer; that is no good news.
    let without = |names: &[String], known: &[String]| -> Vec<String> {
        names.iter().filter(|name| !known.contains(name)).cloned().collect()
    };
    let told = [
        ("now contains", formula.differs.contains.clone()),
        ("may contain now", formula.differs.may_contain.clone()),
        ("allergens not known of", formula.differs.contains_unknown.clone()),
        (
            "no longer contains",
            without(&formula.differs.contains_no_longer, &formula.differs.may_contain),
        ),
        (
            "may no longer contain",
            without(&formula.differs.may_contain_no_longer, &formula.differs.contains),
        ),
        ("allergens known now of", formula.differs.contains_unknown_no_longer.clone()),
    ];
    let told = told.into_iter().filter(|(_, names)| !names.is_empty());
    told.map(|(words, names)| format!("{words} {}", names.join(", "))).collect()
}

/// What became of a claim, in words; nothing where nobody claims it now, which is told as it is
/// said.
pub fn claim(change: &ClaimChange) -> Option<String> {
    let ClaimChange { claim, old, new, old_why, new_why } = change;
    let because =
        |why: &Option<String>| why.as_ref().map(|why| format!(": {why}")).unwrap_or_default();
    let before = |why: &Option<String>| {
        why.as_ref().map(|why| format!(" (before: {why})")).unwrap_or_default()
    };
    let held = *old == Some(Holding::Holds);
    // What nobody claims any more was wrong.
    if new.is_none() && *old == Some(Holding::Fails) {
        return Some(format!("claim {claim} is gone, which did not hold"));
    }
    Some(match new.as_ref()? {
        Holding::Fails if held => format!("claim {claim} no longer holds{}", because(new_why)),
        Holding::Fails => format!("claim {claim} does not hold{}", because(new_why)),
        Holding::NotKnown if held => {
            format!("claim {claim} can no longer be checked{}", because(new_why))
        }
        Holding::NotKnown => format!("claim {claim} can't be checked{}", because(new_why)),
        Holding::Holds => format!("claim {claim} holds now{}", before(old_why)),
    })
}

/// Figures and statements, at most so many of each, what moved most first, be it a figure or a
/// statement; words and claims last.
pub fn most(figures: &[FigureChange], says: &[Change], most: usize) -> Vec<String> {
    let more = says.len().saturating_sub(most);
    let figures = figures.iter().take(most).map(|it| (0, weight_of_figure(it), figure(it)));
    let says = sorted(says).into_iter().take(most);
    let says = says.map(|it| (matters(it).max(1), weight_of(it), shortened(&said(it))));
    let mut all: Vec<(u8, u64, String)> = figures.chain(says).collect();
    // Only what people do nothing by is told after all else.
    all.sort_by_key(|(kind, weight, _)| (*kind >= CLAIMS, std::cmp::Reverse(*weight)));
    let all = all.into_iter().map(|(.., told)| told);
    all.chain((more > 0).then(|| format!("and {more} more"))).collect()
}

fn sorted(says: &[Change]) -> Vec<&Change> {
    let mut says: Vec<&Change> = says.iter().collect();
    says.sort_by_key(|it| (matters(it), std::cmp::Reverse(weight_of(it))));
    says
}

/// What is said differently, the weightiest first, as much as fits into a line.
pub fn weightiest(says: &[Change], most: usize) -> Vec<String> {
    let more = says.len().saturating_sub(most);
    let told = sorted(says).into_iter().take(most).map(|it| shortened(&said(it)));
    told.chain((more > 0).then(|| format!("and {more} more"))).collect()
}

/// How much a statement matters, in millionths: by how much its numbers moved where both have
/// them; an amount that is new or gone moved by all of it.
pub fn weight_of(change: &Change) -> u64 {
    let kind = matters(change);
    match (&change.old, &change.new) {
        (Some(old), Some(new)) if kind < CLAIMS => {
            let pairs = numbers(old).into_iter().zip(numbers(new));
            let far = pairs.map(|(old, new)| moved_by(Some(&old), Some(&new))).max();
            // A few minutes more at the table weigh less than the dough's own hours and heat.
            let is_of_hands = change.part == "method"
                && change.name.ends_with(" for")
                && !RISING.iter().any(|verb| change.name.starts_with(verb));
            far.unwrap_or_default() / if is_of_hands { 10 } else { 1 }
        }
        (Some(_), Some(_)) => 0,
        _ if kind <= 1 => moved_by(None, None),
        _ => 0,
    }
}

/// Steps whose time is the bread's.
const RISING: [&str; 6] = ["autolyse", "bake", "bulk", "proof", "rest", "retard"];

/// The numbers of what is said, each with the same signs around it: minutes of times.
fn numbers(said: &str) -> Vec<String> {
    let is_number = |letter: char| letter.is_ascii_digit() || letter == '.';
    let mut found = Vec::new();
    let mut rest = said;
    while let Some(at) = rest.find(|letter: char| letter.is_ascii_digit()) {
        let from = rest.get(at..).unwrap_or_default();
        let end = from.find(|letter| !is_number(letter)).unwrap_or(from.len());
        let (number, after) = from.split_at(end);
        rest = after;
        let number = number.trim_end_matches('.');
        // `2h30` is one time.
        let hours = after.strip_prefix('h').and_then(|after| {
            let end = after.find(|it: char| !it.is_ascii_digit()).unwrap_or(after.len());
            let (minutes, after) = after.split_at(end);
            let minutes: u64 = if minutes.is_empty() { 0 } else { minutes.parse().ok()? };
            Some((number.parse::<u64>().ok()?.checked_mul(60)?.checked_add(minutes)?, after))
        });
        match hours {
            Some((minutes, after)) => {
                found.push(minutes.to_string());
                rest = after;
            }
            None => found.push(number.to_owned()),
        }
    }
    found
}

/// Where claims stand among statements.
const CLAIMS: u8 = 5;

/// How far behind a statement stands: amounts first, then what is done, then words.
fn matters(change: &Change) -> u8 {
    let name = change.name.as_str();
    let is_words = name.starts_with("note") || name.starts_with("allow ");
    match change.part.as_str() {
        _ if is_words || name.ends_with(" note") || name.ends_with(" caution") => 6,
        "total" | "dough" | "each" => 0,
        "stage" | "mixture" => 1,
        "ingredient" | "culture" => 2,
        "" if matches!(name, "headnote" | "equipment" | "storage" | "source") => 6,
        "" => 2,
        "method" => 3,
        "claims" => CLAIMS,
        _ => 4,
    }
}

/// All else that is to be told of a formula.
fn details(formula: &FormulaChange) -> Vec<String> {
    let figures = formula.differs.figures.iter().skip(IN_ONE_LINE).map(figure);
    formula.says.iter().map(said).chain(figures).collect()
}

/// `hydration 72 → 74 %`.
pub fn figure(change: &FigureChange) -> String {
    let unit = if change.unit.is_empty() { String::new() } else { format!(" {}", change.unit) };
    match (&change.old, &change.new) {
        (Some(old), Some(new)) => format!("{} {old} → {new}{unit}", change.name),
        (None, Some(new)) => format!("{} {new}{unit}, new", change.name),
        (Some(old), None) => format!("{} {old}{unit}, gone", change.name),
        (None, None) => change.name.clone(),
    }
}

/// `levain: water 100 % → 80 %`.
fn said(change: &Change) -> String {
    let part = change.place();
    if change.name == ORDER {
        let is_of_parts = matches!(change.part.as_str(), "" | "booklet");
        let what = if is_of_parts { "parts" } else { "steps" };
        return format!("{part}{what} in another order");
    }
    if change.name == UNREADABLE {
        let could = if change.new.is_some() { "can't" } else { "could not" };
        let told = change.new.as_ref().or(change.old.as_ref());
        let base = told.and_then(|told| told.strip_prefix(OF_BASE));
        let of = base.map_or_else(|| "it".to_owned(), |base| format!("its base {base}"));
        return format!("{part}part of {of} {could} be read");
    }
    let name = &change.name;
    // A claim of absence is all in its name: `vegan`.
    let after = |value: &str| match value.is_empty() || value == name.as_str() {
        true => String::new(),
        false => format!(" {value}"),
    };
    match (&change.old, &change.new) {
        (Some(old), Some(new)) if old == new => {
            format!("{part}{name}{} worded differently", after(old))
        }
        (Some(old), Some(new)) => format!("{part}{name}{} → {new}", after(old)),
        (None, Some(new)) => format!("{part}{name}{}, new", after(new)),
        (Some(old), None) => format!("{part}{name}{}, gone", after(old)),
        (None, None) => format!("{part}{name}"),
    }
}

/// The column and the name of a line.
pub fn sheet_name(change: &SheetChange) -> String {
    match change.column.as_str() {
        "" => change.line.clone(),
        column => format!("{column}, {}", change.line),
    }
}

/// A line of a sheet that changed, as text.
pub fn sheet_line(change: &SheetChange) -> String {
    let name = sheet_name(change);
    match (&change.old, &change.new) {
        (Some(old), Some(new)) => format!("{name}: {old} → {new}"),
        (None, Some(new)) => format!("{name}: {new}, new"),
        (Some(old), None) => format!("{name}: {old}, gone"),
        (None, None) => name,
    }
}

/// A kind and a name, where the only one of its kind needs no name: `bakehouse`.
fn named_once(said: &str) -> &str {
    match said.split_once(' ') {
        Some((kind, name)) if kind == name => kind,
        _ => said,
    }
}

fn shared_name(shared: &SharedChange) -> String {
    match shared.kind.as_str() {
        "bakehouse" => "bakehouse".to_owned(),
        // The only one of its kind needs no name.
        kind if kind == shared.name => kind.to_owned(),
        kind => format!("{kind} {}", shared.name),
    }
}

/// The statement of something shared that moved most, by its place.
fn told_first(shared: &SharedChange) -> Option<usize> {
    let weight = |at: &usize| shared.says.get(*at).map(weight_of);
    (0..shared.says.len()).rev().max_by_key(weight)
}

/// All other statements.
fn told_later(shared: &SharedChange) -> impl Iterator<Item = &Change> {
    let first = told_first(shared);
    let rest = shared.says.iter().enumerate().filter(move |(at, _)| Some(*at) != first);
    rest.map(|(_, change)| change)
}

fn shared_headline(shared: &SharedChange) -> String {
    let what = match shared.what {
        ChangeKind::Added => "new".to_owned(),
        ChangeKind::Removed => "gone".to_owned(),
        ChangeKind::Changed => {
            let more = match shared.says.len() {
                0 | 1 => String::new(),
                count => format!(" and {} more", count - 1),
            };
            let was = shared.was.as_ref().map(|was| format!("was called {was}"));
            let says = told_first(shared).and_then(|at| shared.says.get(at));
            let says = says.map(|it| said(it) + &more);
            was.into_iter().chain(says).collect::<Vec<_>>().join("; ")
        }
    };
    let errors = shared.errors.iter().map(|it| format!("new error: {it}"));
    let mended = shared.errors_no_longer.iter().map(|it| format!("no longer an error: {it}"));
    let what = errors.chain([what]).chain(mended).filter(|it| !it.is_empty());
    let what = what.collect::<Vec<_>>().join("; ");
    let elsewhere = if shared.is_elsewhere { "; in another file" } else { "" };
    match shared.touches.as_slice() {
        // Nothing rests on a handout.
        [] if matches!(shared.kind.as_str(), "booklet" | "day") => what,
        [] => format!("{what}; touches no formula"),
        touches => format!("{what}; touches {}{elsewhere}", touches.join(", ")),
    }
}

/// For a comment on a change: a list, and the sheets' lines as tables.
pub fn markdown(comparison: &Comparison, only_sheets: bool) -> String {
    let mut lines: Vec<String> = Vec::new();
    if !only_sheets {
        if comparison.is_empty() {
            lines.push(format!("{}.", capital(NOTHING)));
        }
        for formula in &comparison.formulas {
            lines.push(format!(
                "- **{}**: {}",
                escaped(&formula.name),
                escaped(&headline(formula))
            ));
            lines.extend(details(formula).iter().map(|it| format!("  - {}", escaped(it))));
        }
        for day in &comparison.days {
            let head = (escaped(&day_name(day)), escaped(&day_headline(day)));
            lines.push(format!("- **{}**: {}", head.0, head.1));
        }
        for shared in &comparison.shared {
            let head = (shared_name(shared), shared_headline(shared));
            lines.push(format!("- **{}**: {}", escaped(&head.0), escaped(&head.1)));
            lines.extend(told_later(shared).map(|it| format!("  - {}", escaped(&said(it)))));
        }
        let moved = comparison.moved.iter();
        lines.extend(moved.map(|it| {
            escaped(&format!("- {} moved: {} → {}", it.name, it.from, it.to))
                .replacen("\\-", "-", 1)
        }));
    }
    let is_told = |it: &&FormulaChange| match only_sheets {
        true => is_on_a_sheet(it),
        false => !it.differs.sheet.is_empty(),
    };
    for formula in comparison.formulas.iter().filter(is_told) {
        let head = format!("{}{}", formula.title, makes_of(formula));
        lines.extend(table(&head, "on the sheet", rows(formula, only_sheets)));
    }
    for day in comparison.days.iter().filter(|it| !it.papers.is_empty()) {
        let name = capital(&day_name(day));
        lines.extend(table(&name, "on its papers", day.papers.iter().map(row_of).collect()));
    }
    if lines.is_empty() {
        lines.push("No line of a sheet changed.".to_owned());
    }
    visible(&(lines.join("\n").trim_start().to_owned() + "\n")).into_owned()
}

/// A table of old and new lines.
fn table(head: &str, first: &str, rows: Vec<Row>) -> Vec<String> {
    let mut lines = vec![
        String::new(),
        format!("**{}**", escaped(head)),
        String::new(),
        format!("| {first} | was | is |"),
        "|---|--:|--:|".to_owned(),
    ];
    lines.extend(rows.into_iter().map(|(name, old, new)| {
        let old = old.map(|old| format!("~~{}~~", escaped(&old))).unwrap_or_default();
        let new = new.map(|new| format!("**{}**", escaped(&new))).unwrap_or_default();
        format!("| {} | {old} | {new} |", escaped(&name))
    }));
    lines
}

fn row_of(change: &SheetChange) -> Row {
    (sheet_name(change), change.old.clone(), change.new.clone())
}

/// With a capital letter.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A text whose signs mean nothing in Markdown.
pub fn escaped(text: &str) -> String {
    let mut written = String::with_capacity(text.len());
    for letter in text.chars() {
        if matches!(letter, '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '~' | '#') {
            written.push('\\');
        }
        written.push(if letter == '\n' { ' ' } else { letter });
    }
    written
}

/// A page for a browser that needs no other file; to be printed and hung up as well.
pub fn page(comparison: &Comparison, only_sheets: bool) -> Page {
    let formulas = comparison.formulas.iter().map(|it| ChangedItem {
        name: it.name.clone(),
        head: headline(it),
        details: details(it),
    });
    let shared = comparison.shared.iter().map(|it| ChangedItem {
        name: shared_name(it),
        head: shared_headline(it),
        details: told_later(it).map(said).collect(),
    });
    let moved = comparison.moved.iter().map(|it| ChangedItem {
        name: it.name.clone(),
        head: format!("moved from {} to {}", it.from, it.to),
        details: Vec::new(),
    });
    let days = comparison.days.iter().map(|it| ChangedItem {
        name: day_name(it),
        head: day_headline(it),
        details: Vec::new(),
    });
    let items = formulas.chain(days).chain(shared).chain(moved).filter(|_| !only_sheets).collect();
    let is_told = |it: &&FormulaChange| match only_sheets {
        true => is_on_a_sheet(it),
        false => !it.differs.sheet.is_empty(),
    };
    let tables = comparison.formulas.iter().filter(is_told).map(|it| SheetTable {
        title: format!("{}{}", it.title, makes_of(it)),
        rows: rows(it, only_sheets),
    });
    let days = comparison.days.iter().filter(|it| !it.papers.is_empty()).map(|it| SheetTable {
        title: capital(&day_name(it)),
        rows: it.papers.iter().map(row_of).collect(),
    });
    let tables = tables.chain(days);
    let nothing = (comparison.is_empty() && !only_sheets).then(|| format!("{}.", capital(NOTHING)));
    let (title, tables) = ("What changed".to_owned(), tables.collect());
    Page { title, first: "on the sheet", nothing, items, tables }
}
