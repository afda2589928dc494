//! A comparison for people: as text, as Markdown for a comment on a change, and as a page.

use super::comparison::{
    Change, Comparison, FigureChange, FormulaChange, SharedChange, SheetChange, What,
};
use super::facts::ORDER;
use crate::print::html_changes::{Item, Page, Table};
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
        formulas.chain(comparison.shared.iter().map(|it| (shared_name(it), shared_headline(it))))
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
    for formula in comparison.formulas.iter().filter(|it| !it.differs.sheet.is_empty()) {
        lines.push(format!("{}{}", formula.title, makes_of(formula)));
        for change in &formula.differs.sheet {
            let old = change.old.as_ref().map(|old| format!("~~{old}~~ ")).unwrap_or_default();
            let new = change.new.as_deref().unwrap_or("gone");
            lines.push(format!("  {}: {old}{new}", sheet_name(change)));
        }
        lines.push(String::new());
    }
    if lines.is_empty() {
        lines.push("no line of a sheet changed".to_owned());
    } else {
        lines.pop();
    }
    visible(&(lines.join("\n") + "\n")).into_owned()
}

fn makes_of(formula: &FormulaChange) -> String {
    formula.makes.as_ref().map(|makes| format!(" for {makes}")).unwrap_or_default()
}

/// What a formula's change comes to, in one line.
fn headline(formula: &FormulaChange) -> String {
    let mut parts: Vec<String> = Vec::new();
    match formula.what {
        What::Added => {
            let makes = formula.makes.as_ref().map(|makes| format!(", {makes}"));
            parts.push(format!("new{}", makes.unwrap_or_default()));
        }
        What::Removed => parts.push("gone".to_owned()),
        What::Changed => {}
    }
    if let Some(was) = &formula.was {
        parts.push(format!("was called {was}"));
    }
    parts.extend(allergens(formula));
    if formula.has_errors {
        parts.push("has errors on one side, so that its figures can't be compared".to_owned());
    }
    parts.extend(formula.differs.figures.iter().take(IN_ONE_LINE).map(figure));
    parts.extend(weightiest(&formula.says, IN_ONE_LINE));
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

/// What is said differently, the weightiest first, as much as fits into a line.
pub fn weightiest(says: &[Change], most: usize) -> Vec<String> {
    let mut says: Vec<&Change> = says.iter().collect();
    says.sort_by_key(|it| matters(it));
    let more = says.len().saturating_sub(most);
    let told = says.iter().take(most).map(|it| shortened(&said(it)));
    told.chain((more > 0).then(|| format!("and {more} more"))).collect()
}

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
        "claims" => 5,
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

fn shared_headline(shared: &SharedChange) -> String {
    let what = match shared.what {
        What::Added => "new".to_owned(),
        What::Removed => "gone".to_owned(),
        What::Changed => {
            let more = match shared.says.len() {
                0 | 1 => String::new(),
                count => format!(" and {} more", count - 1),
            };
            let was = shared.was.as_ref().map(|was| format!("was called {was}"));
            let says = shared.says.first().map(|it| said(it) + &more);
            was.into_iter().chain(says).collect::<Vec<_>>().join("; ")
        }
    };
    match shared.touches.as_slice() {
        // Nothing rests on a handout.
        [] if matches!(shared.kind.as_str(), "booklet" | "day") => what,
        [] => format!("{what}; touches no formula"),
        touches => format!("{what}; touches {}", touches.join(", ")),
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
        for shared in &comparison.shared {
            let head = (shared_name(shared), shared_headline(shared));
            lines.push(format!("- **{}**: {}", escaped(&head.0), escaped(&head.1)));
            let rest = shared.says.iter().skip(1);
            lines.extend(rest.map(|it| format!("  - {}", escaped(&said(it)))));
        }
        let moved = comparison.moved.iter();
        lines.extend(moved.map(|it| {
            escaped(&format!("- {} moved: {} → {}", it.name, it.from, it.to))
                .replacen("\\-", "-", 1)
        }));
    }
    for formula in comparison.formulas.iter().filter(|it| !it.differs.sheet.is_empty()) {
        let head = format!("{}{}", formula.title, makes_of(formula));
        lines.extend([
            String::new(),
            format!("**{}**", escaped(&head)),
            String::new(),
            "| on the sheet | was | is |".to_owned(),
            "|---|--:|--:|".to_owned(),
        ]);
        lines.extend(formula.differs.sheet.iter().map(|change| {
            let old = change.old.as_ref().map(|old| format!("~~{}~~", escaped(old)));
            let new = change.new.as_ref().map(|new| format!("**{}**", escaped(new)));
            format!(
                "| {} | {} | {} |",
                escaped(&sheet_name(change)),
                old.unwrap_or_default(),
                new.unwrap_or_default()
            )
        }));
    }
    if lines.is_empty() {
        lines.push("No line of a sheet changed.".to_owned());
    }
    visible(&(lines.join("\n").trim_start().to_owned() + "\n")).into_owned()
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
    let formulas = comparison.formulas.iter().map(|it| Item {
        name: it.name.clone(),
        head: headline(it),
        details: details(it),
    });
    let shared = comparison.shared.iter().map(|it| Item {
        name: shared_name(it),
        head: shared_headline(it),
        details: it.says.iter().skip(1).map(said).collect(),
    });
    let moved = comparison.moved.iter().map(|it| Item {
        name: it.name.clone(),
        head: format!("moved from {} to {}", it.from, it.to),
        details: Vec::new(),
    });
    let items = formulas.chain(shared).chain(moved).filter(|_| !only_sheets).collect();
    let row = |change: &SheetChange| (sheet_name(change), change.old.clone(), change.new.clone());
    let tables =
        comparison.formulas.iter().filter(|it| !it.differs.sheet.is_empty()).map(|it| Table {
            title: format!("{}{}", it.title, makes_of(it)),
            rows: it.differs.sheet.iter().map(row).collect(),
        });
    let nothing = (comparison.is_empty() && !only_sheets).then(|| format!("{}.", capital(NOTHING)));
    let (title, tables) = ("What changed".to_owned(), tables.collect());
    Page { title, first: "on the sheet", nothing, items, tables }
}
