//! `assize show`: one formula worked out.

use super::args::{Show, ShowFormat};
use super::asked::{find, makes};
use super::exit::Exit;
use super::stamps::Stamps;
use super::streams;
use super::tell::tell_on_error;
use crate::desk::{self, Bakehouse, Disk, Loaded};
use crate::diag::Finding;
use crate::history::stamp::PrintRequest;
use crate::print::document::TracePart;
use crate::print::pages::Print;
use crate::print::{Document, Wording, csv, document, html, json, text};
use crate::syntax::tree::Formula;

/// `assize show`.
pub fn run(args: &Show) -> Exit {
    let makes = match makes(args.makes.as_deref()) {
        Ok(makes) => makes,
        Err(exit) => return exit,
    };
    find(&args.formula, args.makes.as_deref(), |loaded, bakehouse, file, formula| {
        let (worked, findings) = desk::worked(bakehouse, formula, makes.as_ref());
        let told: Vec<Finding> = file.findings.iter().chain(&findings).cloned().collect();
        tell_on_error(&told, &loaded.sources);
        if !desk::is_sound(file, formula, &findings) {
            return Exit::Findings;
        }
        // What is read in a terminal or by a program speaks as formulas do.
        let plain = || document(&bakehouse.house, &worked, &Wording::plain(), false);
        // What is for people speaks as the house does.
        let own = || {
            let mut slips = Vec::new();
            let (assets, words) = desk::assets(&Disk, bakehouse, None, &mut slips);
            tell_on_error(&slips, &loaded.sources);
            (
                document(&bakehouse.house, &worked, &words, bakehouse.house.settings.volumes),
                assets.logo,
            )
        };
        let written = match args.format {
            ShowFormat::Text => text(&plain()),
            ShowFormat::Csv => csv(&plain()),
            ShowFormat::Json => {
                let (mut document, _) = own();
                document.trace = trace(args, loaded, bakehouse, formula, Print::Sheet, &document);
                json(&document) + "\n"
            }
            ShowFormat::Html => {
                let (mut document, logo) = own();
                document.trace = trace(args, loaded, bakehouse, formula, Print::Table, &document);
                html::page(&document, Print::Table, logo.as_deref())
            }
        };
        streams::output(written)
    })
}

/// What the foot of a print of it tells.
fn trace<'l>(
    args: &Show,
    loaded: &'l Loaded,
    bakehouse: &Bakehouse<'l>,
    formula: &'l Formula,
    print: Print,
    document: &Document,
) -> Option<TracePart> {
    let stamps = Stamps::new(loaded, std::slice::from_ref(bakehouse));
    let head = stamps.head();
    let stamper = stamps.stamper(0, bakehouse, head.as_ref());
    let makes = match &args.makes {
        Some(_) => stamper.makes(formula, document),
        None => String::new(),
    };
    let volumes = bakehouse.house.settings.volumes;
    // A sheet says everything in both languages of the house.
    let second = bakehouse.house.settings.second_language.as_ref();
    let language = match second.filter(|_| print == Print::Sheet) {
        Some(second) => format!("{} and {}", document.language, second.value),
        None => document.language.clone(),
    };
    let (language, makes) = (language.as_str(), makes.as_str());
    let wanted =
        PrintRequest { print: print.word(), language, volumes, makes, ..PrintRequest::default() };
    Some(stamper.stamp(formula, &stamper.settings(wanted)))
}
