//! Whether a booklet may be printed.

use super::bakehouses::Bakehouse;
use super::booklets::check;
use super::load::LoadedFile;
use super::lookup::worked;
use super::report::is_sound;
use crate::diag::{Finding, Level};
use crate::formula::tell_of_house;
use crate::source::Span;
use crate::syntax::booklet::Booklet;
use crate::syntax::tree::Formula;

/// Whether a booklet may be printed: neither it nor a formula that it prints has an error.
/// What stands against it is told.
pub fn may_print(
    bakehouse: &Bakehouse,
    file: &LoadedFile,
    booklet: &Booklet,
    findings: &mut Vec<Finding>,
) -> bool {
    let is_error = |it: &&Finding| it.level == Level::Error && it.allowed.is_none();
    let mut told = Vec::new();
    check(bakehouse, booklet, &mut told);
    let mut is_fit = !booklet.broken && !told.iter().any(|it| is_error(&it));
    is_fit &= !file.findings.iter().filter(is_error).any(|it| is_in(file, booklet, it));
    findings.extend(told);
    for name in booklet.formulas() {
        let Some((file, formula)) = formula_named(bakehouse, &name.key) else { continue };
        let (_, told) = worked(bakehouse, formula, None);
        is_fit &= is_sound(file, formula, &told);
        findings.extend(told);
    }
    is_fit
}

/// The errors of the booklet or the day whose name stands at a place, in words.
pub fn errors_of_handout(bakehouse: &Bakehouse, name: Span) -> Vec<String> {
    let Some(file) = bakehouse.files.iter().find(|file| file.source == name.source) else {
        return Vec::new();
    };
    let booklet = file.tree.booklets.iter().find(|it| it.name.span == name);
    let day = file.tree.days.iter().find(|it| it.name.span == name);
    let (is_broken, mut found) = match (booklet, day) {
        (Some(booklet), _) => {
            let mut found = Vec::new();
            check(bakehouse, booklet, &mut found);
            tell_of_house(&bakehouse.house, &mut found);
            (booklet.broken, found)
        }
        (None, Some(day)) => (day.broken, bakehouse.of_days.clone()),
        (None, None) => return Vec::new(),
    };
    if is_broken {
        found.extend(file.findings.iter().cloned());
    }
    let head = |at: u32| {
        let tree = &file.tree;
        let formulas = tree.formulas.iter().map(|it| it.span.start);
        let booklets = tree.booklets.iter().map(|it| it.span.start);
        let days = tree.days.iter().map(|it| it.span.start);
        formulas.chain(booklets).chain(days).filter(|head| *head <= at).max()
    };
    let is_error = |it: &Finding| it.level == Level::Error && it.allowed.is_none();
    let is_its_own =
        |it: &Finding| it.span().source == name.source && head(it.span().start) == head(name.start);
    let own = found.into_iter().filter(|it| is_error(it) && is_its_own(it));
    let mut told: Vec<String> = own.map(|it| it.message).collect();
    told.dedup();
    told
}

/// Whether a finding of the file lies in a booklet's text.
fn is_in(file: &LoadedFile, booklet: &Booklet, finding: &Finding) -> bool {
    let start = finding.span().start;
    let formulas = file.tree.formulas.iter().map(|it| it.span.start);
    let heads = formulas.chain(file.tree.booklets.iter().map(|it| it.span.start));
    heads.filter(|&head| head <= start).max() == Some(booklet.span.start)
}

fn formula_named<'l>(
    bakehouse: &Bakehouse<'l>,
    name: &str,
) -> Option<(&'l LoadedFile, &'l Formula)> {
    bakehouse.files.iter().find_map(|file| {
        let formula = file.tree.formulas.iter().find(|it| it.name.key == name)?;
        Some((*file, formula))
    })
}
