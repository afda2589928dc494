//! Sound formulas of many kinds, on which nothing is to be said: where one of them raises
//! a warning, the rule is wrong.

use crate::support::{from_disk, top};
use assize::testing::desk;
use assize::testing::diag::Level;

/// As many as have to be there, so that none gets lost.
const AT_LEAST: usize = 330;

#[test]
fn sound_formulas_raise_no_warning() {
    let loaded = from_disk(&top().join("tests/sound"));
    let count: usize = loaded.files().iter().map(|file| file.tree.formulas.len()).sum();
    assert!(count >= AT_LEAST, "only {count} formulas");
    let told: Vec<String> = desk::check(&loaded)
        .iter()
        .filter(|finding| finding.level != Level::Note || finding.allowed.is_some())
        .map(|finding| {
            let name = finding.formula.as_deref().unwrap_or("");
            format!("{name}: {}: {}", finding.rule.name, finding.message)
        })
        .collect();
    assert!(told.is_empty(), "{} of {count}:\n{}", told.len(), told.join("\n"));
}

/// No formula there silences a rule.
#[test]
fn sound_formulas_allow_nothing() {
    let loaded = from_disk(&top().join("tests/sound"));
    let formulas = loaded.files().iter().flat_map(|file| &file.tree.formulas);
    let silent = formulas.filter(|formula| !formula.allow.is_empty());
    let names: Vec<&str> = silent.map(|formula| formula.name.key.as_str()).collect();
    assert!(names.is_empty(), "{names:?}");
}
