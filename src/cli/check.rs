//! `assize check`: every finding in every file.

use super::args::Check;
use super::{Exit, colour, counted, loaded, tell};
use crate::desk;
use crate::diag::{Finding, Level};
use std::io::{IsTerminal, Write};

pub fn run(args: &Check) -> Exit {
    let loaded = match loaded(&args.paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let mut findings = desk::check(&loaded);
    if args.deny_warnings {
        let warnings = findings.iter_mut().filter(|finding| finding.level == Level::Warning);
        warnings.for_each(|finding| finding.level = Level::Error);
    }
    let told: Vec<&Finding> =
        findings.iter().filter(|finding| args.all || finding.allowed.is_none()).collect();
    let colour = colour(std::io::stdout().is_terminal());
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    tell(&told, &loaded.sources, &mut out, colour);
    let formulas: usize = loaded.asked_for().map(|file| file.tree.formulas.len()).sum();
    let (one, many) = (formulas == 1, counted(&told));
    let formulas = format!("{formulas} formula{}", if one { "" } else { "s" });
    let _ = match many.is_empty() {
        true => writeln!(out, "{formulas}, nothing to mend"),
        false => writeln!(out, "{formulas}: {many}"),
    };
    let failed =
        findings.iter().any(|finding| finding.level == Level::Error && finding.allowed.is_none());
    if failed { Exit::Findings } else { Exit::Clean }
}
