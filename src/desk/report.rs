//! All findings of a run.

use super::bakehouses::{Bakehouse, bakehouses};
use super::booklets;
use super::guard::guarded_at;
use super::load::{FileSystem, Loaded, LoadedFile, is_manuscript, is_table};
use super::placeholders;
use super::rules::rules;
use super::{assets, drawings, one_slip, uses};
use crate::diag::{self, Finding, Level, Rule};
use crate::formula::{self, House, Worked};
use crate::proof::{Manuscript, NumberRead};
use crate::source::{SourceId, Span};
use crate::syntax::booklet::Booklet;
use crate::syntax::tree::Formula;
use crate::{check, proof};
use rayon::prelude::*;
use rustc_hash::FxHashSet;

/// What a run of `check` has to say.
pub struct Report {
    /// Sorted; of the files asked for and of what uses them.
    pub findings: Vec<Finding>,
    /// How many formulas of other files were looked at, as they use what was asked for.
    pub users: usize,
    /// The numbers in the words of manuscripts, in their order.
    pub numbers: Vec<NumberRead>,
}

/// Everything there is to say of what was loaded, and of what lies beside it in a file system for
/// its prints.
pub fn report(loaded: &Loaded, file_system: Option<&dyn FileSystem>) -> Report {
    report_by(loaded, file_system, &|house, formula, findings| {
        check_formula(house, formula, findings);
    })
}

/// How a formula is worked out and checked.
type Check<'c> = &'c (dyn Fn(&House, &Formula, &mut Vec<Finding>) + Sync);

fn report_by(loaded: &Loaded, file_system: Option<&dyn FileSystem>, check: Check) -> Report {
    let rules: Vec<&Rule> = rules().collect();
    let mut all: Vec<Finding> = loaded.findings.clone();
    let mut of_users = Vec::new();
    let (mut users, mut numbers) = (0, Vec::new());
    for bakehouse in bakehouses(loaded) {
        let judged = bakehouse.files.iter().filter(|_| bakehouse.is_known);
        let own = judged.filter(|file| file.is_asked_for());
        let own: Vec<&Formula> = own.flat_map(|file| &file.tree.formulas).collect();
        let beside = if bakehouse.is_known { uses::users(&bakehouse.files) } else { Vec::new() };
        let checked = |formula: &&Formula| {
            let checked = guarded_at(formula.name.span, &formula.name.shown, || {
                let mut findings = Vec::new();
                check(&bakehouse.house, formula, &mut findings);
                // Findings of its own text count for `allow` too.
                check::apply_allowed(formula, &mut findings, &rules);
                findings
            });
            checked.unwrap_or_else(|bug| vec![*bug])
        };
        let of_formulas: Vec<Vec<Finding>> = own.par_iter().map(checked).collect();
        let of_beside: Vec<Vec<Finding>> = beside.par_iter().map(checked).collect();
        users += beside.len();
        all.extend(of_formulas.into_iter().flatten());
        of_users.extend(of_beside.into_iter().flatten());
        if bakehouse.is_known {
            let (read, told) = proof_read(loaded, &bakehouse, &rules, file_system, true);
            numbers.extend(read);
            all.extend(told);
            // What other manuscripts say of these formulas; all else is their own affair.
            let looked_at: FxHashSet<&str> =
                own.iter().chain(&beside).map(|formula| formula.name.key.as_str()).collect();
            if !looked_at.is_empty() {
                let (_, told) = proof_read(loaded, &bakehouse, &rules, file_system, false);
                let is_of_these = |finding: &Finding| {
                    finding.formula.as_deref().is_some_and(|name| looked_at.contains(name))
                };
                of_users.extend(told.into_iter().filter(is_of_these));
            }
        }
        for (file, booklet) in own_booklets(&bakehouse) {
            let told = guarded_at(booklet.name.span, &booklet.name.shown, || {
                let mut findings = Vec::new();
                booklets::check(&bakehouse, booklet, &mut findings);
                if let Some(file_system) = file_system {
                    let place = (bakehouse.root.as_deref(), file.path.as_path());
                    booklets::pictures(file_system, place, booklet, &mut findings);
                    let place = (&bakehouse, file.path.as_path());
                    booklets::letters_of_pictures(file_system, place, booklet, &mut findings);
                }
                findings
            });
            all.extend(told.unwrap_or_else(|bug| vec![*bug]));
        }
        of_users.extend(denied_beside(&bakehouse, &own));
        if let Some(file_system) = file_system {
            assets::check(file_system, &bakehouse, &mut all);
        }
        all.extend(bakehouse.findings);
        all.extend(bakehouse.of_days);
    }
    for file in loaded.files() {
        all.extend(file.findings.iter().cloned());
    }
    all.retain(|finding| loaded.is_asked_for(finding.span().source));
    all.extend(of_users);
    diag::once(&mut all);
    numbers.sort_by_key(|number| number.span);
    let heads =
        loaded.files().iter().flat_map(|file| &file.tree.formulas).map(|formula| &formula.name);
    one_slip::hold_back(&mut all, &loaded.sources, &heads.collect::<Vec<_>>());
    Report { findings: all, users, numbers }
}

/// Reads the words of the manuscripts that were asked for, or of the others.
fn proof_read(
    loaded: &Loaded,
    bakehouse: &Bakehouse,
    rules: &[&'static Rule],
    file_system: Option<&dyn FileSystem>,
    asked_for: bool,
) -> (Vec<NumberRead>, Vec<Finding>) {
    let is_read = |file: &&&LoadedFile| is_manuscript(&file.path) || is_table(&file.path);
    let manuscripts = bakehouse.files.iter().filter(is_read);
    let manuscripts: Vec<_> = manuscripts.filter(|file| file.is_asked_for() == asked_for).collect();
    let formulas: Vec<&Formula> =
        bakehouse.files.iter().flat_map(|file| &file.tree.formulas).collect();
    let read = |file: &&&LoadedFile| {
        let text = &loaded.sources.get(file.source)?.text;
        let place = Span { source: file.source, start: 0, end: 0 };
        let name = file.path.file_name().unwrap_or_default().to_string_lossy();
        let read = guarded_at(place, &name, || {
            let mut findings = Vec::new();
            if is_table(&file.path) {
                return (Vec::new(), proof::read_table(file.source, text));
            }
            let house = &bakehouse.house;
            let letters = |source: SourceId, name: &str| {
                drawings::letters_in(bakehouse, file_system?, source, name)
            };
            let (source, formulas, letters) = (file.source, formulas.as_slice(), &letters);
            let manuscript = Manuscript { source, text, house, formulas, rules, letters };
            let heard = proof::read(&manuscript, &mut findings);
            if file.is_beside() {
                let is_of_absence = |rule: &Rule| rule.name == check::ABSENCE_IN_TEXT.name;
                findings.retain(|it| is_of_absence(it.rule) || check::is_of_harm(it.rule));
                return (Vec::new(), findings);
            }
            if !heard.placeholders.is_empty() {
                placeholders::check(bakehouse, &manuscript, &heard.placeholders, &mut findings);
            }
            (heard.numbers, findings)
        });
        Some(read.unwrap_or_else(|bug| (Vec::new(), vec![*bug])))
    };
    let all: Vec<_> = manuscripts.par_iter().filter_map(read).collect();
    let (numbers, findings): (Vec<_>, Vec<_>) = all.into_iter().unzip();
    (numbers.into_iter().flatten().collect(), findings.into_iter().flatten().collect())
}

/// What booklets and days of other files say falsely is not in these formulas.
fn denied_beside(bakehouse: &Bakehouse, formulas: &[&Formula]) -> Vec<Finding> {
    let names: FxHashSet<&str> = formulas.iter().map(|it| it.name.key.as_str()).collect();
    let is_of_absence = |it: &Finding| it.rule.name == check::ABSENCE_IN_TEXT.name;
    let mut all = Vec::new();
    let others = bakehouse.files.iter().filter(|file| !file.is_asked_for());
    for file in others.filter(|_| bakehouse.is_known && !names.is_empty()) {
        let of_these = |booklet: &&Booklet| {
            booklet.formulas().iter().any(|name| names.contains(name.key.as_str()))
        };
        for booklet in file.tree.booklets.iter().filter(of_these) {
            let told = guarded_at(booklet.name.span, &booklet.name.shown, || {
                let mut findings = Vec::new();
                booklets::check(bakehouse, booklet, &mut findings);
                findings
            });
            all.extend(told.unwrap_or_default().into_iter().filter(is_of_absence));
        }
        let mut orders = file.tree.days.iter().flat_map(|day| &day.orders);
        if orders.any(|order| names.contains(order.product.key.as_str())) {
            let own = bakehouse.of_days.iter().filter(|it| it.span().source == file.source);
            all.extend(own.filter(|it| is_of_absence(it)).cloned());
        }
    }
    all
}

/// The booklets of the files that were asked for, where names can be judged.
fn own_booklets<'l>(
    bakehouse: &Bakehouse<'l>,
) -> impl Iterator<Item = (&'l LoadedFile, &'l Booklet)> {
    let judged = bakehouse.files.iter().copied().filter(|_| bakehouse.is_known);
    let own = judged.filter(|file| file.is_asked_for());
    own.flat_map(|file| file.tree.booklets.iter().map(move |booklet| (file, booklet)))
}

/// Works a formula out and checks it.
pub fn check_formula<'l>(
    house: &'l House<'l>,
    formula: &'l Formula,
    findings: &mut Vec<Finding>,
) -> Worked<'l> {
    let worked = formula::work(house, formula, findings);
    check::check(house, formula, &worked, findings);
    worked
}

/// Whether a formula may be printed: nothing in its own text is an error, nor anything in
/// `findings`, which are its own and the house's.
pub fn is_sound(file: &LoadedFile, formula: &Formula, findings: &[Finding]) -> bool {
    let is_error = |finding: &&Finding| finding.level == Level::Error && finding.allowed.is_none();
    !formula.broken
        && !findings.iter().any(|finding| is_error(&finding))
        && !file.findings.iter().filter(is_error).any(|finding| is_in(file, formula, finding))
}

/// Whether a finding of the file lies in a formula's text: after its head and before the
/// next one's, or that of a booklet or a day.
fn is_in(file: &LoadedFile, formula: &Formula, finding: &Finding) -> bool {
    let start = finding.span().start;
    let heads = file.tree.formulas.iter().map(|formula| formula.span.start);
    let heads = heads.chain(file.tree.booklets.iter().map(|booklet| booklet.span.start));
    let heads = heads.chain(file.tree.days.iter().map(|day| day.span.start));
    heads.filter(|&head| head <= start).max() == Some(formula.span.start)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::findings::bug_of_ours;
    use crate::desk::load::load;
    use std::io;
    use std::path::{Path, PathBuf};

    /// A file by itself.
    struct One(&'static str);

    impl FileSystem for One {
        fn is_folder(&self, path: &Path) -> io::Result<bool> {
            if path == Path::new("/a.dough") { Ok(false) } else { Ok(true) }
        }
        fn list(&self, _: &Path) -> io::Result<Vec<(PathBuf, bool)>> {
            Ok(vec![(PathBuf::from("/a.dough"), false)])
        }
        fn size(&self, _: &Path) -> io::Result<u64> {
            Ok(self.0.len() as u64)
        }
        fn bytes(&self, _: &Path, _: u64) -> io::Result<Vec<u8>> {
            Ok(self.0.as_bytes().to_vec())
        }
        fn is_below(&self, _: &Path, _: &Path) -> io::Result<bool> {
            Ok(true)
        }
    }

    /// Three formulas, of which the first and the last have a slip each.
    const THREE: &str = "\
formula pier-loaf \"Pier Loaf\" {
  makes 1 loaf at 900 g
  total { bread flour 100%; water 70%; salt 2%; }
  expect { hydration 71% }
}
formula quay-loaf \"Quay Loaf\" {
  makes 1 loaf at 900 g
  total { bread flour 100%; water 70%; salt 2%; }
  expect { hydration 72% }
}
formula mole-loaf \"Mole Loaf\" {
  makes 1 loaf at 900 g
  total { bread flour 100%; water 70%; salt 2%; }
  expect { hydration 73% }
}
";

    #[test]
    fn a_formula_that_fails_inside_silences_no_other() {
        let loaded = load(&One(THREE), Path::new("/"), &[PathBuf::from("/a.dough")]);
        let usual = report(&loaded, None).findings;
        for failing in ["pier-loaf", "quay-loaf", "mole-loaf"] {
            let told = report_by(&loaded, None, &|house, formula, findings| {
                if formula.name.key == failing {
                    std::panic::panic_any("the flour ran out");
                }
                check_formula(house, formula, findings);
            })
            .findings;
            let formula = loaded.files()[0].tree.formulas.iter().find(|it| it.name.key == failing);
            let formula = formula.expect("it was read");
            let (bugs, others): (Vec<Finding>, Vec<Finding>) =
                told.into_iter().partition(|finding| finding.rule == &bug_of_ours::RULE);
            let [bug] = bugs.as_slice() else { unreachable!("one bug, not {bugs:?}") };
            assert_eq!(bug.span(), formula.name.span);
            assert!(bug.message.contains(failing) && bug.level == Level::Error, "{bug:?}");
            assert!(bug.notes[0].contains("the flour ran out"), "{bug:?}");
            let rest = usual.iter().filter(|it| it.formula.as_deref() != Some(failing));
            let said = |it: &Finding| (it.rule.name, it.message.clone());
            assert_eq!(
                others.iter().map(said).collect::<Vec<_>>(),
                rest.map(said).collect::<Vec<_>>()
            );
            assert!(others.len() >= 2, "{others:?}");
        }
    }
}
