//! Formulas that were asked for: all of them, by a word, and worked out.

use super::bakehouses::Bakehouse;
use super::load::LoadedFile;
use super::report::check_formula;
use super::rules::rules;
use crate::check;
use crate::diag::{Finding, Group, Rule};
use crate::formula::{Worked, key, work_as};
use crate::syntax::tree::{Formula, Makes};

/// A formula with its bakehouse and its file.
pub type FormulaPlace<'r, 'l> = (&'r Bakehouse<'l>, &'l LoadedFile, &'l Formula);

/// The formulas that a word means: those of its name, or all where it names a file.
pub fn meant<'r, 'l>(
    bakehouses: &'r [Bakehouse<'l>],
    word: &str,
    is_path: bool,
) -> Vec<FormulaPlace<'r, 'l>> {
    let wanted = key(word);
    formulas(bakehouses).filter(|(_, _, formula)| is_path || formula.name.key == wanted).collect()
}

/// Every formula that was asked for, with its bakehouse and file.
pub fn formulas<'r, 'l>(
    bakehouses: &'r [Bakehouse<'l>],
) -> impl Iterator<Item = FormulaPlace<'r, 'l>> {
    bakehouses.iter().flat_map(|bakehouse| {
        let files = bakehouse.files.iter().copied().filter(|file| file.is_asked_for());
        files.flat_map(move |file| {
            file.tree.formulas.iter().map(move |formula| (bakehouse, file, formula))
        })
    })
}

/// A formula worked out as asked for, and its findings.
pub fn worked<'l>(
    bakehouse: &'l Bakehouse<'l>,
    formula: &'l Formula,
    makes: Option<&Makes>,
) -> (Worked<'l>, Vec<Finding>) {
    let rules: Vec<&Rule> = rules().collect();
    let mut findings: Vec<Finding> = bakehouse.findings.clone();
    let first = findings.len();
    let worked = check_formula(&bakehouse.house, formula, &mut findings);
    check::apply_allowed(formula, &mut findings, &rules);
    if !bakehouse.is_known {
        findings.truncate(first);
        return (worked, findings);
    }
    let Some(makes) = makes else { return (worked, findings) };
    findings.truncate(first);
    let worked = work_as(&bakehouse.house, formula, makes, &mut findings);
    check::check(&bakehouse.house, formula, &worked, &mut findings);
    // Claims are about the formula as written; another yield refutes none of them.
    findings.retain(|finding| finding.rule.group != Group::Claims);
    check::apply_allowed(formula, &mut findings, &rules);
    findings.retain(|finding| finding.rule.name != "allow-silences-nothing");
    (worked, findings)
}
