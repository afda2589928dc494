//! Sound formulas of many kinds, on which nothing is to be said: where one of them raises
//! a warning, the rule is wrong.

use crate::support::{from_disk, top};
use assize::testing::desk;
use assize::testing::diag::Level;

/// As many as have to be there, so that none gets lost.
const AT_LEAST: usize = 339;

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

/// A pinch of yeast that a kitchen's scale shows to some hundredths is weighed well enough; a
/// larger difference, and one of salt, is told.
#[test]
fn a_scale_that_shows_yeast_to_some_hundredths_is_fine_enough() {
    use crate::support::names;
    let told = |scale: &str, yeast: &str, salt: &str| {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ {scale} }}\nformula long-rest \"Long Rest\" {{\n  makes 1 \
             loaf\n  dough {{ bread flour 416 g; water 312 g; salt {salt}; instant yeast {yeast} }}\n}}\n"
        );
        names(&text).contains(&"below-scale-resolution")
    };
    for (scale, yeast, salt, wanted) in [
        ("scale 1 g", "1.04 g", "8 g", false),
        ("scale 1 g", "0.96 g", "8 g", false),
        ("scale 1 g", "2.08 g", "8 g", false),
        ("scale 1 g", "1.4 g", "8 g", true),
        ("scale 1 g", "0.4 g", "8 g", true),
        ("scale 1 g", "1.04 g", "6.3 g", true),
        ("scale 0.1 g", "1.03 g", "8 g", false),
        ("scale 0.1 g", "0.14 g", "8 g", true),
        ("", "1.04 g", "8 g", false),
    ] {
        assert_eq!(told(scale, yeast, salt), wanted, "{scale}: {yeast}, {salt}");
    }
}
