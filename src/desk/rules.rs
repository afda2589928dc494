//! The rules of all rooms.

use super::findings;
use crate::diag::Rule;
use crate::{bring, check, formula, orders, print, proof, syntax, time};

/// Every rule that can raise a finding.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    let mut all: Vec<&'static Rule> = [
        syntax::RULES,
        formula::RULES,
        time::RULES,
        proof::RULES,
        bring::RULES,
        orders::RULES,
        print::findings::RULES,
        findings::ALL,
    ]
    .into_iter()
    .flatten()
    .copied()
    .chain(check::rules())
    .collect();
    all.sort_by_key(|rule| rule.name);
    all.dedup_by_key(|rule| rule.name);
    all.into_iter()
}
