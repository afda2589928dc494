//! `assize check`: every finding in every file.

use super::args::{Check, CheckFormat};
use super::asked::{self, NO_FORMULA, loaded};
use super::exit::{Exit, exit_of};
use super::tell::{counted, drawn, tell_on_error};
use super::{pinned, streams, write};
use crate::check;
use crate::desk::{self, Disk, Loaded};
use crate::diag::{self, Finding, Level, machine};
use crate::proof::NumberRead;
use crate::source::one_line;
use crate::syntax::tree::MachineKind;
use std::path::Path;

/// Runs of `--fix`: a repair may open the way to another, but not for ever.
const MAX_ROUNDS: usize = 4;

/// `assize check`.
pub fn run(args: &Check) -> Exit {
    if !args.pinned.is_empty() {
        return pinned::run(&args.pinned, args.format);
    }
    let mut loaded = match loaded(&args.paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let desk::Report { mut findings, mut users, mut numbers } = desk::report(&loaded, Some(&Disk));
    let (mut repaired, mut unwritten) = (0, Vec::new());
    if args.fix {
        for _ in 0..MAX_ROUNDS {
            let made;
            (made, unwritten) = fix(&loaded, &findings);
            repaired += made;
            if made == 0 {
                break;
            }
            loaded = match asked::loaded(&args.paths) {
                Ok(loaded) => loaded,
                Err(exit) => return exit,
            };
            desk::Report { findings, users, numbers } = desk::report(&loaded, Some(&Disk));
        }
    }
    tell_on_error(&unwritten, &loaded.sources);
    if args.deny_warnings {
        let warnings = findings.iter_mut().filter(|finding| finding.level == Level::Warning);
        warnings.for_each(|finding| finding.level = Level::Error);
    }
    let told: Vec<&Finding> =
        findings.iter().filter(|finding| args.all || is_told(finding)).collect();
    let mut shown = report(args.format, &told, (&loaded, users), repaired);
    if args.all && is_for_people(args.format) {
        shown.push_str(&coverage(&numbers, &loaded));
        shown.push_str(&proofs(&loaded));
    }
    let written = streams::output(shown);
    written.max(exit_of(&findings)).max(exit_of(&unwritten))
}

/// Whether it is told without `--all`. What may hurt if it is wrong is told though it is
/// allowed, with the reason.
fn is_told(finding: &Finding) -> bool {
    finding.allowed.is_none() || check::is_of_texts(finding.rule)
}

/// Makes the safe repairs of every file that was asked for; tells how many, and which files
/// can't be written.
fn fix(loaded: &Loaded, findings: &[Finding]) -> (usize, Vec<Finding>) {
    let (mut all, mut unwritten) = (0, Vec::new());
    for file in loaded.asked_for().filter(|file| file.path != Path::new("-")) {
        let Some(source) = loaded.sources.get(file.source) else { continue };
        let (text, made) = diag::repaired(file.source, &source.text, findings);
        if made == 0 {
            continue;
        }
        match write::whole(&file.path, text.as_bytes()) {
            Ok(()) => all += made,
            Err(finding) => unwritten.push(*finding),
        }
    }
    (all, unwritten)
}

fn report(
    format: CheckFormat,
    told: &[&Finding],
    checked: (&Loaded, usize),
    repaired: usize,
) -> String {
    let sources = &checked.0.sources;
    match format {
        CheckFormat::Json => machine::json_form(told, sources),
        CheckFormat::Sarif => machine::sarif(told, sources, desk::rules()),
        CheckFormat::Annotations => machine::annotations(told, sources),
        CheckFormat::Short => machine::short(told, sources) + &summary(told, checked, repaired),
        CheckFormat::Narrated => {
            let each = told.iter().map(|finding| diag::narrate(finding, sources) + "\n");
            each.collect::<String>() + &summary(told, checked, repaired)
        }
        CheckFormat::Human => {
            let colour = streams::colour(&std::io::stdout());
            drawn(told.iter().copied(), sources, colour) + &summary(told, checked, repaired)
        }
    }
}

/// Which formulas could not be read to the end, so that their sums are not looked at yet.
fn unchecked(loaded: &Loaded) -> String {
    let formulas = loaded.asked_for().flat_map(|file| &file.tree.formulas);
    let broken: Vec<&str> = formulas
        .filter(|formula| formula.broken)
        .map(|formula| formula.name.shown.as_str())
        .collect();
    match broken.as_slice() {
        [] => String::new(),
        [one] => format!("; the sums of `{one}` wait until it can be read"),
        several => format!("; the sums of {} formulas wait until they can be read", several.len()),
    }
}

/// What was looked at beside formulas: `; 2 ingredients, 1 tin`.
fn facts(loaded: &Loaded) -> String {
    let trees = || loaded.asked_for().map(|file| &file.tree);
    let inside = trees().flat_map(|tree| &tree.bakehouses).flat_map(|house| &house.machines);
    let machines: Vec<MachineKind> =
        trees().flat_map(|tree| &tree.machines).chain(inside).map(|machine| machine.kind).collect();
    let of_kind = |kind| machines.iter().filter(|known| **known == kind).count();
    let counts = [
        (trees().map(|tree| tree.bakehouses.len()).sum(), "bakehouse"),
        (trees().map(|tree| tree.ingredients.len()).sum(), "ingredient"),
        (trees().map(|tree| tree.cultures.len()).sum(), "culture"),
        (trees().map(|tree| tree.mixtures.len()).sum(), "mixture"),
        (trees().map(|tree| tree.stages.len()).sum(), "shared stage"),
        (trees().map(|tree| tree.styles.len()).sum(), "style"),
        (of_kind(MachineKind::Mixer), "mixer"),
        (of_kind(MachineKind::Oven), "oven"),
        (of_kind(MachineKind::Tin), "tin"),
        (of_kind(MachineKind::Proofer), "proofer"),
        (of_kind(MachineKind::Refrigerator), "refrigerator"),
        (of_kind(MachineKind::Board), "board"),
        (trees().map(|tree| tree.days.len()).sum(), "day"),
    ];
    let told = counts.into_iter().filter(|(count, _): &(usize, &str)| *count > 0);
    let told: Vec<String> = told
        .map(|(count, word)| format!("{count} {word}{}", if count == 1 { "" } else { "s" }))
        .collect();
    if told.is_empty() { String::new() } else { format!("; {}", told.join(", ")) }
}

fn is_for_people(format: CheckFormat) -> bool {
    matches!(format, CheckFormat::Human | CheckFormat::Short | CheckFormat::Narrated)
}

/// What ingredients are taken to be free from though their model or name brings it, with what
/// is said to show it: nobody else would read that.
fn proofs(loaded: &Loaded) -> String {
    let mut shown = String::new();
    for ingredient in loaded.files().iter().flat_map(|file| &file.tree.ingredients) {
        for free in &ingredient.free_from {
            let names: Vec<&str> = free.names.iter().map(|name| name.shown.as_str()).collect();
            let Some(first) = free.names.first() else { continue };
            let Some(source) = loaded.sources.get(first.span.source) else { continue };
            let (line, column) = source.line_column(first.span.start);
            let (name, proof) = (&ingredient.name.shown, one_line(&free.proof));
            shown.push_str(&format!(
                "{}:{line}:{column}  `{name}` counts as free from {}: {proof}\n",
                source.name,
                names.join(", ")
            ));
        }
    }
    shown
}

/// Every number in the words of manuscripts with what it was held against, and how many there
/// are; nothing where there is none.
fn coverage(numbers: &[NumberRead], loaded: &Loaded) -> String {
    let mut shown = String::new();
    let mut tied = 0;
    for number in numbers {
        let formula = number.formula.as_deref();
        tied += usize::from(formula.is_some());
        if let Some(source) = loaded.sources.get(number.span.source) {
            let (line, column) = source.line_column(number.span.start);
            let written = one_line(&number.written);
            let formula = formula.unwrap_or("-");
            shown.push_str(&format!("{}:{line}:{column}  {written}  {formula}\n", source.name));
        }
    }
    let (all, not) = (numbers.len(), numbers.len() - tied);
    if all > 0 {
        shown.push_str(&format!("{all} numbers read, {tied} tied to a formula, {not} not\n"));
    }
    shown
}

/// The one line at the end.
fn summary(told: &[&Finding], (loaded, users): (&Loaded, usize), repaired: usize) -> String {
    let formulas: usize = loaded.asked_for().map(|file| file.tree.formulas.len()).sum();
    let plural = if formulas == 1 { "" } else { "s" };
    let using = match users {
        0 => String::new(),
        1 => " and 1 that uses what is in it".to_owned(),
        users => format!(" and {users} that use what is in it"),
    };
    let counted = match counted(told) {
        counted if counted.is_empty() => ", no findings".to_owned(),
        counted => format!(": {counted}"),
    };
    let facts = facts(loaded);
    let booklets: usize = loaded.asked_for().map(|file| file.tree.booklets.len()).sum();
    if formulas + users == 0 && booklets > 0 && facts.is_empty() && repaired == 0 {
        let plural = if booklets == 1 { "" } else { "s" };
        return format!("{booklets} booklet{plural}{counted}{}\n", unchecked(loaded));
    }
    if formulas + users == 0 && told.is_empty() && facts.is_empty() {
        return format!("{NO_FORMULA}\n");
    }
    let facts = if formulas + users == 0 { facts } else { String::new() };
    let repaired = match repaired {
        0 => String::new(),
        repaired => format!("; {repaired} fixed"),
    };
    format!("{formulas} formula{plural}{facts}{using}{counted}{repaired}{}\n", unchecked(loaded))
}
