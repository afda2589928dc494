//! `assize print`: cards, sheets and tables as files.

use super::args::{Print, PrintFormat, PrintKind};
use super::show::{formulas, worked};
use super::{Exit, is_path, loaded, makes, tell_on_error, usage, write};
use crate::desk::{self, LoadedFile, Room, glyph_missing, unwritable};
use crate::diag::{self, Finding, nearest};
use crate::print::{document, json, pdf};
use crate::source::SourceId;
use crate::syntax::tree::{Formula, Makes};
use rayon::prelude::*;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Formulas after which older pages are forgotten.
const FORGET_AFTER: usize = 64;

pub fn run(args: &Print) -> Exit {
    let makes = match makes(args.makes.as_deref()) {
        Ok(makes) => makes,
        Err(exit) => return exit,
    };
    let (paths, names): (Vec<&String>, Vec<&String>) =
        args.what.iter().partition(|word| is_path(word));
    let paths: Vec<PathBuf> = paths.into_iter().map(PathBuf::from).collect();
    let mut loaded = match loaded(&paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    loaded.sources.replace(SourceId::ASKED, args.makes.as_deref().unwrap_or_default());
    let rooms = desk::rooms(&loaded);
    let mut wanted: Vec<(&Room, &LoadedFile, &Formula)> = formulas(&loaded, &rooms).collect();
    if !names.is_empty() {
        let keys: Vec<_> = names.iter().map(|name| crate::formula::key(name)).collect();
        for (name, key) in names.iter().zip(&keys) {
            if !wanted.iter().any(|(_, _, formula)| formula.name.key == *key) {
                let known = wanted.iter().map(|(_, _, formula)| formula.name.key.as_str());
                return usage(&match nearest(key, known) {
                    Some(near) => format!("there is no formula `{name}`; did you mean `{near}`?"),
                    None => format!("there is no formula `{name}`"),
                });
            }
        }
        wanted.retain(|(_, _, formula)| keys.contains(&formula.name.key));
    }
    if wanted.is_empty() && loaded.findings.is_empty() {
        return usage(super::check::NO_FORMULA);
    }
    wanted.sort_by(|one, two| one.2.name.key.cmp(&two.2.name.key));
    if let Some(pair) = wanted.windows(2).find(|pair| pair[0].2.name.key == pair[1].2.name.key) {
        return usage(&format!(
            "two formulas are called `{}`; print their files one at a time",
            pair[0].2.name.shown
        ));
    }
    if let Err(error) = std::fs::create_dir_all(&args.to) {
        let finding =
            unwritable::finding(&args.to.display().to_string(), &crate::desk::why(&error));
        tell_on_error(&[finding], &loaded.sources);
        return Exit::Findings;
    }
    let done = AtomicUsize::new(0);
    let outcomes: Vec<Outcome> = wanted
        .par_iter()
        .map(|(room, file, formula)| {
            let outcome = print_one(args, room, file, formula, makes.as_ref());
            if done.fetch_add(1, Ordering::Relaxed) % FORGET_AFTER == FORGET_AFTER - 1 {
                pdf::forget();
            }
            outcome
        })
        .collect();
    let mut findings: Vec<Finding> = loaded.findings.clone();
    findings.extend(loaded.asked_for().flat_map(|file| file.findings.clone()));
    findings.extend(outcomes.iter().flat_map(|outcome| outcome.findings.clone()));
    diag::sort(&mut findings);
    findings.dedup_by(|one, two| {
        one.rule == two.rule && one.span() == two.span() && one.message == two.message
    });
    tell_on_error(&findings, &loaded.sources);
    let written: usize = outcomes.iter().map(|outcome| outcome.written).sum();
    let skipped = outcomes.iter().filter(|outcome| outcome.skipped).count();
    let plural = if written == 1 { "" } else { "s" };
    println!("{written} file{plural} in {}", args.to.display());
    if skipped > 0 {
        println!("{skipped} left out because of errors");
    }
    let failed = skipped > 0
        || findings
            .iter()
            .any(|finding| finding.level == diag::Level::Error && finding.allowed.is_none());
    if failed { Exit::Findings } else { Exit::Clean }
}

/// What came of one formula.
#[derive(Default)]
struct Outcome {
    findings: Vec<Finding>,
    written: usize,
    skipped: bool,
}

fn print_one<'l>(
    args: &Print,
    room: &Room<'l>,
    file: &LoadedFile,
    formula: &'l Formula,
    makes: Option<&Makes>,
) -> Outcome {
    let (worked, findings) = worked(room, formula, makes);
    let mut outcome = Outcome { findings, ..Outcome::default() };
    if !desk::is_sound(file, formula, &outcome.findings) {
        outcome.skipped = true;
        return outcome;
    }
    let document = document(&room.house, &worked);
    let json = json(&document);
    let missing = pdf::missing_letters(&json);
    if !missing.is_empty() {
        outcome.findings.push(glyph_missing::finding(&document.title, &missing));
    }
    for kind in kinds(&args.only) {
        match pages(args, kind, &json, &document.name) {
            Ok(written) => outcome.written += written,
            Err(finding) => {
                outcome.findings.push(*finding);
                outcome.skipped = true;
            }
        }
    }
    outcome
}

fn kinds(only: &[PrintKind]) -> Vec<pdf::Print> {
    let kind = |kind: &PrintKind| match kind {
        PrintKind::Card => pdf::Print::Card,
        PrintKind::Sheet => pdf::Print::Sheet,
        PrintKind::Table => pdf::Print::Table,
    };
    if only.is_empty() { pdf::Print::ALL.to_vec() } else { only.iter().map(kind).collect() }
}

fn pages(args: &Print, kind: pdf::Print, json: &str, name: &str) -> Result<usize, Box<Finding>> {
    let (format, ending) = match args.format {
        PrintFormat::Pdf => (pdf::Format::Pdf, "pdf"),
        PrintFormat::Svg => (pdf::Format::Svg, "svg"),
        PrintFormat::Png => (pdf::Format::Png(f32::from(args.dpi)), "png"),
    };
    let stem = format!("{}-{}", file_name(name), kind.word());
    let pages = pdf::print(kind, json.to_owned(), format).map_err(|why| {
        let page = format!("{stem}.{ending}");
        Box::new(unwritable::finding(&page, &format!("the page can\'t be set: {why}")))
    })?;
    for (index, bytes) in pages.files.iter().enumerate() {
        let file = match pages.files.len() {
            1 => format!("{stem}.{ending}"),
            _ => format!("{stem}-{}.{ending}", index + 1),
        };
        write::whole(&Path::new(&args.to).join(file), bytes)?;
    }
    Ok(pages.files.len())
}

/// A formula's name as the name of a file, whatever it holds.
fn file_name(name: &str) -> String {
    let safe = |letter: char| if letter.is_alphanumeric() || letter == '-' { letter } else { '-' };
    name.chars().map(safe).collect()
}
