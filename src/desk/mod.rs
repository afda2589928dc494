//! The conductor: which files belong together, in which order the phases run, and all
//! findings of a run.
//!
//! Enters: paths and a shelf of files (the disk, or a map in a test). Leaves: loaded
//! houses, formulas worked out, findings sorted. Absent on purpose: anything about
//! bread, and how results look.

mod findings;
mod kit;
mod load;
mod uses;

pub use findings::{glyph_missing, unwritable, why};
pub use kit::kit;
pub use load::{
    Disk, Loaded, LoadedFile, MOST_BYTES, Shelf, is_manuscript, load, root_above, sources,
};

use crate::diag::{self, Finding, Level, Rule};
use crate::formula::{self, House, Worked, built_in};
use crate::syntax::tree::{Formula, Tree};
use crate::{check, print, syntax, time};
use rayon::prelude::*;
use std::path::{Path, PathBuf};

/// Every rule that can raise a finding.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    let mut all: Vec<&'static Rule> = [
        syntax::RULES,
        formula::RULES,
        time::RULES,
        check::RULES,
        print::findings::RULES,
        findings::ALL,
    ]
    .into_iter()
    .flatten()
    .copied()
    .collect();
    all.sort_by_key(|rule| rule.name);
    all.dedup_by_key(|rule| rule.name);
    all.into_iter()
}

/// The files that share one house: all under a root, or one that stands alone.
pub struct Room<'l> {
    pub house: House<'l>,
    pub files: Vec<&'l LoadedFile>,
    /// The folder of the bakehouse, where there is one.
    pub root: Option<PathBuf>,
    /// Findings of names that the whole house has.
    pub findings: Vec<Finding>,
}

/// Builds the house of each group of files.
pub fn rooms(loaded: &Loaded) -> Vec<Room<'_>> {
    let groups = loaded.groups().into_par_iter();
    groups.map(|(root, files)| room(root, files)).collect()
}

fn room<'l>(root: Option<&Path>, files: Vec<&'l LoadedFile>) -> Room<'l> {
    let trees: Vec<&'l Tree> = files.iter().map(|file| &file.tree).collect();
    let mut findings = Vec::new();
    let house = House::build(Some(built_in()), &trees, &mut findings);
    check::check_house(&house, &trees, &mut findings);
    print::findings::check_look(&house, &mut findings);
    time::findings::check_times(&house, &mut findings);
    Room { house, files, root: root.map(Path::to_path_buf), findings }
}

/// What a run of `check` has to say.
pub struct Report {
    /// Sorted; of the files asked for and of what uses them.
    pub findings: Vec<Finding>,
    /// How many formulas of other files were looked at, as they use what was asked for.
    pub users: usize,
}

/// Everything there is to say of what was loaded.
pub fn check(loaded: &Loaded) -> Vec<Finding> {
    report(loaded, None).findings
}

/// Everything there is to say of what was loaded, and of what lies beside it on a shelf for
/// its prints.
pub fn report(loaded: &Loaded, shelf: Option<&dyn Shelf>) -> Report {
    let rules: Vec<&Rule> = rules().collect();
    let mut all: Vec<Finding> = loaded.findings.clone();
    let mut of_users = Vec::new();
    let mut users = 0;
    for room in rooms(loaded) {
        let own = room.files.iter().filter(|file| file.is_asked_for());
        let own: Vec<&Formula> = own.flat_map(|file| &file.tree.formulas).collect();
        let beside = uses::users(&room.files);
        let checked = |formula: &&Formula| {
            let mut findings = Vec::new();
            check_formula(&room.house, formula, &mut findings);
            // Findings of its own text count for `allow` too.
            check::apply_allowed(formula, &mut findings, &rules);
            findings
        };
        let of_formulas: Vec<Vec<Finding>> = own.par_iter().map(checked).collect();
        let of_beside: Vec<Vec<Finding>> = beside.par_iter().map(checked).collect();
        users += beside.len();
        all.extend(of_formulas.into_iter().flatten());
        of_users.extend(of_beside.into_iter().flatten());
        if let Some(shelf) = shelf {
            kit::check(shelf, &room, &mut all);
        }
        all.extend(room.findings);
    }
    for file in loaded.files() {
        all.extend(file.findings.iter().cloned());
    }
    all.retain(|finding| loaded.is_asked_for(finding.span().source));
    all.extend(of_users);
    diag::sort(&mut all);
    all.dedup_by(|one, two| {
        one.rule == two.rule && one.span() == two.span() && one.message == two.message
    });
    Report { findings: all, users }
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

/// Whether a finding of the file lies in a formula's text: behind its head and before the
/// next one's.
fn is_in(file: &LoadedFile, formula: &Formula, finding: &Finding) -> bool {
    let start = finding.span().start;
    let heads = file.tree.formulas.iter().map(|formula| formula.span.start);
    heads.filter(|&head| head <= start).max() == Some(formula.span.start)
}
