//! Bakehouses: the files that share names and settings, with their house.

use super::guard::guarded_at;
use super::load::{Loaded, LoadedFile};
use crate::diag::Finding;
use crate::formula::{self, House, built_in};
use crate::source::Span;
use crate::syntax::tree::Tree;
use crate::{check, orders, print, time};
use rayon::prelude::*;
use std::path::{Path, PathBuf};

/// The files that share one house: all under a root, or one that stands alone.
pub struct Bakehouse<'l> {
    /// Its settings and its own ingredients, stages and styles.
    pub house: House<'l>,
    /// In the order in which they are told.
    pub files: Vec<&'l LoadedFile>,
    /// The folder of the bakehouse, where there is one.
    pub root: Option<PathBuf>,
    /// Findings of names that the whole house has.
    pub findings: Vec<Finding>,
    /// Findings of its days, which no formula is the worse for.
    pub of_days: Vec<Finding>,
    /// Whether all that it declares is known; where our own code failed at it, its formulas
    /// can't be judged.
    pub is_known: bool,
}

/// Builds the house of each group of files.
pub fn bakehouses(loaded: &Loaded) -> Vec<Bakehouse<'_>> {
    let groups = loaded.groups().into_par_iter();
    groups.map(|(root, files)| bakehouse(root, files)).collect()
}

/// What is looked at once for all that share a house.
type HouseRule<'r> = &'r dyn Fn(&mut Vec<Finding>);

fn bakehouse<'l>(root: Option<&Path>, files: Vec<&'l LoadedFile>) -> Bakehouse<'l> {
    let trees: Vec<&'l Tree> = files.iter().map(|file| &file.tree).collect();
    let head = trees.iter().flat_map(|tree| &tree.bakehouses).next();
    let head = head.map_or(Span::NOWHERE, |bakehouse| bakehouse.span);
    let built = guarded_at(head, "bakehouse", || {
        let mut findings = Vec::new();
        (House::build(Some(built_in()), &trees, &mut findings), findings)
    });
    let is_known = built.is_ok();
    let (house, mut findings) = built
        .unwrap_or_else(|bug| (House::build(Some(built_in()), &[], &mut Vec::new()), vec![*bug]));
    // A rule that fails takes none of the others with it.
    let rules: [HouseRule; 3] = [
        &|findings| check::check_house(&house, &trees, findings),
        &|findings| print::findings::check_look(&house, findings),
        &|findings| time::findings::check_times(&house, findings),
    ];
    let told_by = |rule: HouseRule| {
        let told = guarded_at(head, "bakehouse", || {
            let mut findings = Vec::new();
            rule(&mut findings);
            findings
        });
        told.unwrap_or_else(|bug| vec![*bug])
    };
    let mut of_days = Vec::new();
    if is_known {
        findings.extend(rules.into_iter().flat_map(told_by));
        of_days = told_by(&|findings| orders::check_days(&house, &trees, findings));
    }
    formula::tell_of_house(&house, &mut findings);
    formula::tell_of_house(&house, &mut of_days);
    Bakehouse { house, files, root: root.map(Path::to_path_buf), findings, of_days, is_known }
}
