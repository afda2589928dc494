//! `assize show`: one formula worked out.

use super::args::{Show, ShowFormat};
use super::{Exit, is_path, loaded, makes, tell_on_error, usage};
use crate::desk::{self, Disk, Loaded, LoadedFile, Room};
use crate::diag::{Finding, nearest};
use crate::formula::{Worked, work_as};
use crate::print::pages::Print;
use crate::print::{Wording, csv, document, html, json, text};
use crate::source::SourceId;
use crate::syntax::tree::{Formula, Makes};
use std::path::PathBuf;

pub fn run(args: &Show) -> Exit {
    let makes = match makes(args.makes.as_deref()) {
        Ok(makes) => makes,
        Err(exit) => return exit,
    };
    find(&args.formula, args.makes.as_deref(), |loaded, room, file, formula| {
        let (worked, findings) = worked(room, formula, makes.as_ref());
        let told: Vec<Finding> = file.findings.iter().chain(&findings).cloned().collect();
        tell_on_error(&told, &loaded.sources);
        if !desk::is_sound(file, formula, &findings) {
            return Exit::Findings;
        }
        // What is read in a terminal or by a program speaks as formulas do.
        let plain = || document(&room.house, &worked, &Wording::plain(), false);
        // What is for people speaks as the house does.
        let own = || {
            let mut slips = Vec::new();
            let (kit, words) = desk::kit(&Disk, room, &mut slips);
            tell_on_error(&slips, &loaded.sources);
            (document(&room.house, &worked, &words, room.house.settings.volumes), kit.logo)
        };
        let written = match args.format {
            ShowFormat::Text => text(&plain()),
            ShowFormat::Csv => csv(&plain()),
            ShowFormat::Json => json(&own().0) + "\n",
            ShowFormat::Html => {
                let (document, logo) = own();
                html::page(&document, Print::Table, logo.as_deref())
            }
        };
        super::streams::output(written)
    })
}

/// Finds the one formula that a word on the command line means, by its name or by a file
/// that holds one, and hands it on; `asked` is what it is asked to make.
pub fn find(
    word: &str,
    asked: Option<&str>,
    then: impl for<'l> FnOnce(&Loaded, &Room<'l>, &'l LoadedFile, &'l Formula) -> Exit,
) -> Exit {
    let paths = if is_path(word) { vec![PathBuf::from(word)] } else { vec![] };
    let mut loaded = match loaded(&paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    loaded.sources.replace(SourceId::ASKED, asked.unwrap_or_default());
    let rooms = desk::rooms(&loaded);
    let wanted = crate::formula::key(word);
    let all: Vec<(&Room, &LoadedFile, &Formula)> = formulas(&loaded, &rooms)
        .filter(|(_, _, formula)| !paths.is_empty() || formula.name.key == wanted)
        .collect();
    match all.as_slice() {
        [(room, file, formula)] => then(&loaded, room, file, formula),
        [] => not_found(word, &loaded, &rooms),
        several => {
            let names: Vec<&str> =
                several.iter().map(|(_, _, formula)| formula.name.shown.as_str()).collect();
            usage(&format!("which formula: {}?", names.join(", ")))
        }
    }
}

fn not_found(word: &str, loaded: &Loaded, rooms: &[Room]) -> Exit {
    if !loaded.is_whole() {
        tell_on_error(&loaded.findings, &loaded.sources);
        return Exit::Findings;
    }
    let names: Vec<&str> =
        formulas(loaded, rooms).map(|(_, _, formula)| formula.name.key.as_str()).collect();
    if crate::formula::Figure::read(&crate::formula::key(word)).is_some() {
        return usage(&format!("`{word}` is a figure; the formula comes first"));
    }
    let near = nearest(word, names.iter().copied());
    match near {
        Some(near) => usage(&format!("there is no formula `{}`; did you mean `{near}`?", word)),
        None if names.is_empty() && is_path(word) => {
            usage(&format!("there is no formula in {word}"))
        }
        None if names.is_empty() => usage(&format!("there is no formula called `{word}` here")),
        None => usage(&format!("there is no formula `{}`; there are: {}", word, names.join(", "))),
    }
}

/// Every formula that was asked for, with its room and file.
pub fn formulas<'r, 'l>(
    loaded: &Loaded,
    rooms: &'r [Room<'l>],
) -> impl Iterator<Item = (&'r Room<'l>, &'l LoadedFile, &'l Formula)> {
    let _ = loaded;
    rooms.iter().flat_map(|room| {
        let files = room.files.iter().copied().filter(|file| file.is_asked_for());
        files.flat_map(move |file| {
            file.tree.formulas.iter().map(move |formula| (room, file, formula))
        })
    })
}

/// A formula worked out as asked for, and its findings.
pub fn worked<'l>(
    room: &'l Room<'l>,
    formula: &'l Formula,
    makes: Option<&Makes>,
) -> (Worked<'l>, Vec<Finding>) {
    let rules: Vec<&crate::diag::Rule> = desk::rules().collect();
    let mut findings: Vec<Finding> = room.findings.clone();
    let first = findings.len();
    let worked = desk::check_formula(&room.house, formula, &mut findings);
    crate::check::apply_allowed(formula, &mut findings, &rules);
    let Some(makes) = makes else { return (worked, findings) };
    findings.truncate(first);
    let worked = work_as(&room.house, formula, makes, &mut findings);
    crate::check::check(&room.house, formula, &worked, &mut findings);
    // Claims are about the formula as written; another yield refutes none of them.
    findings.retain(|finding| finding.rule.group != crate::diag::Group::Claims);
    crate::check::apply_allowed(formula, &mut findings, &rules);
    findings.retain(|finding| finding.rule.name != "allow-silences-nothing");
    (worked, findings)
}
