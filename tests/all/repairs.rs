//! Every repair that a finding offers mends what the finding is about.

use crate::support::{alone, dough_files, findings};
use assize::testing::desk;
use assize::testing::diag::{Finding, Group, Level};
use proptest::prelude::*;
use std::fs;

/// A text with one repair made.
fn repaired(text: &str, finding: &Finding) -> Option<String> {
    let repair = finding.repair.as_ref()?;
    let range = repair.span.range();
    let (before, after) = (text.get(..range.start)?, text.get(range.end..)?);
    Some(format!("{before}{}{after}", repair.text))
}

/// What is still wrong once a repair is made, in words: the finding itself, or a new one in
/// the place that it has changed.
fn still_wrong(text: &str, before: &[Finding], finding: &Finding) -> Option<String> {
    let mended = repaired(text, finding)?;
    let after = findings(&mended);
    let like = |all: &[Finding]| all.iter().filter(|it| it.rule.name == finding.rule.name).count();
    if like(&after) >= like(before) {
        return Some(format!("`{}` is still there", finding.message));
    }
    // A slip of writing hides what the sums have to say.
    if matches!(finding.rule.group, Group::Parse | Group::Names | Group::Files) {
        return None;
    }
    let repair = finding.repair.as_ref()?;
    let touched = repair.span.start..=repair.span.start + repair.text.len() as u32;
    let is_new = |it: &&Finding| {
        it.level != Level::Note
            && touched.contains(&it.span().start)
            && before.iter().all(|known| known.rule.name != it.rule.name)
    };
    let new = after.iter().find(is_new);
    new.map(|new| format!("`{}` gives `{}`", finding.message, new.message))
}

/// What is wrong with the repairs of a text, and how many there are.
fn judged(text: &str, wrong: &mut Vec<String>) -> usize {
    let before = findings(text);
    let source = |finding: &Finding| finding.repair.as_ref().map(|repair| repair.span.source);
    let own = before
        .iter()
        .find_map(|finding| Some(finding.span().source).filter(|it| !it.is_built_in()));
    let offered =
        before.iter().filter(|finding| source(finding).is_some() && source(finding) == own);
    let offered: Vec<&Finding> = offered.collect();
    let found = offered.iter().filter_map(|finding| {
        let off = still_wrong(text, &before, finding)?;
        let mended = repaired(text, finding).unwrap_or_default();
        Some(format!("{}: {off}\n{mended}", finding.rule.name))
    });
    wrong.extend(found);
    offered.len()
}

fn bad_blocks(page: &str) -> Vec<String> {
    let parts = page.split("```dough bad\n").skip(1);
    parts.filter_map(|part| part.split("```").next().map(str::to_owned)).collect()
}

#[test]
fn every_repair_of_every_example_mends_it() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for file in dough_files("examples/mistakes") {
        if alone(&file).files().len() == 1 {
            seen += judged(&fs::read_to_string(&file).unwrap_or_default(), &mut wrong);
        }
    }
    for rule in desk::rules() {
        for block in bad_blocks(rule.page) {
            seen += judged(&block, &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(seen > 45, "{seen} repairs");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    /// What is offered for too much or too little salt is neither, however small the dough.
    #[test]
    fn the_salt_that_is_offered_is_accepted(
        flour in 20..3000u32, salt in 1..200u32, seeds in 0..40u32, rich in any::<bool>(), weights in any::<bool>()
    ) {
        let share = |tenths: u32| match weights {
            true => format!("{}.{} g", flour * tenths / 10_000, flour * tenths / 1000 % 10),
            false => format!("{}.{}%", tenths / 10, tenths % 10),
        };
        let (flours, butter) = if weights { (format!("{flour} g"), share(if rich { 200 } else { 10 })) } else { ("100%".into(), share(if rich { 200 } else { 10 })) };
        let text = format!(
            "formula some-loaf \"Some Loaf\" {{\n  dough {{ bread flour {flours}; water {}; unsalted butter {butter}; sunflower seeds {}; salt {}; fresh yeast {} }}\n}}\n",
            share(650), share(seeds * 10), share(salt), share(20),
        );
        let before = findings(&text);
        let salty = |name: &str| name == "salt-high" || name == "salt-low";
        for finding in before.iter().filter(|finding| salty(finding.rule.name)) {
            let Some(mended) = repaired(&text, finding) else { continue };
            let after = findings(&mended);
            let left = after.iter().find(|finding| salty(finding.rule.name));
            prop_assert!(left.is_none(), "{}{}", mended, left.map_or("", |left| &left.message));
        }
    }
}
