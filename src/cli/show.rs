//! `assize show`: one formula worked out.

use super::args::{Show, ShowFormat};
use super::asked::{find, makes};
use super::exit::Exit;
use super::streams;
use super::tell::tell_on_error;
use crate::desk::{self, Disk};
use crate::diag::Finding;
use crate::print::pages::Print;
use crate::print::{Wording, csv, document, html, json, text};

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
            let (assets, words) = desk::assets(&Disk, bakehouse, &mut slips);
            tell_on_error(&slips, &loaded.sources);
            (
                document(&bakehouse.house, &worked, &words, bakehouse.house.settings.volumes),
                assets.logo,
            )
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
        streams::output(written)
    })
}
