//! The forms in which findings are told, and the repairs.

use crate::support::{Memory, alone, dough_files, folder, loaded, top};
use assize::testing::desk::{self, load};
use assize::testing::diag::{self, Finding, machine, narrate};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Every case of every rule, with its findings.
fn cases() -> Vec<(PathBuf, desk::Loaded, Vec<Finding>)> {
    let files = dough_files("examples/mistakes").into_iter();
    files
        .map(|file| {
            let loaded = alone(&file);
            let findings = desk::check(&loaded);
            (file, loaded, findings)
        })
        .collect()
}

fn judged_by(schema: &str, documents: impl Iterator<Item = String>) {
    let schema: Value = serde_json::from_str(schema).expect("a schema");
    let schema = jsonschema::validator_for(&schema).expect("a sound schema");
    let mut seen = 0;
    for document in documents {
        let document: Value = serde_json::from_str(&document).expect("JSON");
        let wrong: Vec<String> =
            schema.iter_errors(&document).map(|error| error.to_string()).collect();
        assert!(wrong.is_empty(), "{wrong:?}\n{document:#}");
        seen += 1;
    }
    assert!(seen > 50, "{seen} documents");
}

#[test]
fn the_json_form_fits_its_published_schema() {
    let path = top().join("templates/findings.schema.json");
    let own = machine::schema() + "\n";
    if std::env::var_os("ASSIZE_REWRITE").is_some() {
        fs::write(&path, &own).expect("written");
    }
    let published = fs::read_to_string(&path).unwrap_or_default();
    assert!(published == own, "stale; run the tests once with ASSIZE_REWRITE=1");
    judged_by(
        &own,
        cases().iter().map(|(_, loaded, findings)| {
            let findings: Vec<&Finding> = findings.iter().collect();
            machine::json_form(&findings, &loaded.sources)
        }),
    );
}

/// The schema is OASIS's own for SARIF 2.1.0.
#[test]
fn the_sarif_form_fits_the_standards_schema() {
    let schema =
        fs::read_to_string(top().join("tests/schemas/sarif-2.1.0.json")).expect("readable");
    // The published schema has a stray bracket in one pattern.
    let schema = schema.replace("[a-zA-Z]{2}]?$", "[a-zA-Z]{2}\\\\]?$");
    judged_by(
        &schema,
        cases().iter().map(|(_, loaded, findings)| {
            let findings: Vec<&Finding> = findings.iter().collect();
            machine::sarif(&findings, &loaded.sources, desk::rules())
        }),
    );
}

const SLIP: &str = "\
# é and 🍞 stand before the slip\t
formula pier-loaf \"Pier Loaf\" {\r
  makes  2 loaves at 885 g
  total { \"crème 🍞\" 2,5%; bread flour 100%; water 70%; salt 2%; fresh yeast 1% }
}
ingredient \"crème 🍞\" is a dairy { water 60%; contains milk }
";

#[test]
fn short_narrated_and_annotated_forms_are_exact() {
    let loaded = loaded(SLIP);
    let findings = desk::check(&loaded);
    let findings: Vec<&Finding> = findings.iter().collect();
    assert_eq!(findings.len(), 1);
    assert_eq!(
        machine::short(&findings, &loaded.sources),
        "a.dough:4:21: error[decimal-comma] in pier-loaf: `2,5` has a comma in it\n"
    );
    assert_eq!(
        machine::annotations(&findings, &loaded.sources),
        "::error file=a.dough,line=4,endLine=4,col=21,title=decimal-comma in pier-loaf::`2,5` has a comma in \
        it%0A\
         write `2.5`: decimals take a point, and thousands are written without a mark\n"
    );
    assert_eq!(
        narrate(findings[0], &loaded.sources),
        "Error: `2,5` has a comma in it.\n\
         In a.dough, line 4, column 21: `2,5`.\n\
         What to do: write `2.5`: decimals take a point, and thousands are written without a mark.\n\
         Its name: decimal-comma in pier-loaf.\n"
    );
}

/// How often each rule is raised.
fn counts(findings: &[Finding]) -> BTreeMap<&'static str, usize> {
    let mut counts = BTreeMap::new();
    for finding in findings {
        *counts.entry(finding.rule.name).or_insert(0) += 1;
    }
    counts
}

/// The findings of a text alone.
fn findings_of(text: &str) -> Vec<Finding> {
    let file_system = Memory([(PathBuf::from("/x/a.dough"), text.as_bytes().to_vec())].into());
    desk::check(&load(&file_system, Path::new("/x"), &[PathBuf::from("/x/a.dough")]))
}

/// After the safe repairs their findings are gone and no new one has come.
#[test]
fn safe_repairs_mend_and_raise_nothing_new() {
    let mut repaired = 0;
    for (file, loaded, findings) in cases() {
        let source = &loaded.files()[0];
        let text = &loaded.sources.get(source.source).expect("a source").text;
        let (better, made) = diag::repaired(source.source, text, &findings);
        if made == 0 {
            continue;
        }
        let (before, after) = (counts(&findings), counts(&findings_of(&better)));
        let fewer = before.values().sum::<usize>() - after.values().sum::<usize>();
        assert!(fewer >= made, "{}: {before:?} {after:?}\n{better}", file.display());
        for (rule, count) in after {
            assert!(before.get(rule).copied().unwrap_or(0) >= count, "{}: {rule}", file.display());
        }
        repaired += made;
    }
    assert!(repaired >= 3, "{repaired} repairs were made");
}

/// Each repair that wants a look, taken alone, mends its finding and raises no new one; a
/// misspelt name may have hidden what only a known one lets be seen.
#[test]
fn every_repair_taken_alone_mends_what_it_is_for() {
    let mut rules = BTreeMap::new();
    for (file, loaded, findings) in cases() {
        let source = &loaded.files()[0];
        let text = &loaded.sources.get(source.source).expect("a source").text;
        for finding in &findings {
            let Some(repair) = &finding.repair else { continue };
            let mut better = text.to_string();
            better.replace_range(repair.span.range(), &repair.text);
            let (before, after) = (counts(&findings), counts(&findings_of(&better)));
            let of = |counts: &BTreeMap<&str, usize>, rule| counts.get(rule).copied().unwrap_or(0);
            let rule = finding.rule.name;
            assert!(of(&after, rule) < of(&before, rule), "{}: {rule}\n{better}", file.display());
            let others = after.iter().filter(|_| !rule.starts_with("unknown-"));
            for (other, count) in others {
                let new = *count > of(&before, other);
                // Two claims that disagreed say the same once one is repaired.
                let is_told = rule == "claim-refuted" && *other == "said-twice";
                assert!(!new || is_told, "{}: {rule} brings {other}\n{better}", file.display());
            }
            *rules.entry(rule).or_insert(0) += 1;
        }
    }
    for rule in [
        "flour-not-100",
        "claim-refuted",
        "salt-low",
        "salt-high",
        "missing-salt",
        "yeast-kind-doubtful",
        "part-of-a-piece",
        "tin-fill",
        "yield-disagrees",
    ] {
        assert!(rules.contains_key(rule), "{rule} has a repair");
    }
}

#[test]
fn fix_rewrites_the_file_and_says_how_much() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), SLIP).expect("written");
    let done = crate::support::assize(folder.path(), &["check", "--fix"]);
    assert_eq!(crate::support::out(&done), "1 formula, no findings; 1 fixed\n");
    let text = fs::read_to_string(folder.path().join("a.dough")).expect("readable");
    assert_eq!(text, SLIP.replace("2,5%", "2.5%"));
}
