//! Foods that texts name beside a claim that the bread is without them: an error, unless
//! the mention puts nothing in.

use crate::support::{findings, top};
use std::fs;

/// The findings that texts raise, and claims.
const RULES: [&str; 5] = [
    "claim-not-proved",
    "claim-refuted",
    "absence-in-text",
    "ingredient-in-text",
    "number-in-text",
];

/// A sentence in a formula that holds nothing of what it claims to be without.
struct Case {
    language: String,
    claim: String,
    place: String,
    sentence: String,
}

impl Case {
    fn read(line: &str) -> Self {
        let mut columns = line.splitn(4, '|').map(|column| column.trim().to_owned());
        let mut next = || columns.next().expect("four columns");
        Self { language: next(), claim: next(), place: next(), sentence: next() }
    }

    fn file(&self) -> String {
        let said = &self.sentence;
        let (title, text) = match self.place.as_str() {
            "title" => (said.as_str(), String::new()),
            place => ("Pier Loaf", format!("{place} \"{said}\"")),
        };
        let of_wheat = !self.claim.contains("gluten") && !self.claim.contains("wheat");
        let flour = if of_wheat { "bread flour" } else { "rice flour" };
        format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ language {} }}\n\
             formula pier-loaf \"{title}\" {{\n  makes 2 loaves at 885 g\n  total {{\n    \
             {flour} 100%\n    water 74%\n    salt 2%\n    fresh yeast 1%\n    sunflower oil 2%\n  \
             }}\n  {text}\n  expect {{ {} }}\n}}\n",
            self.language, self.claim
        )
    }

    /// What texts and claims raise there.
    fn told(&self) -> Vec<String> {
        let found = findings(&self.file());
        let found = found.iter().filter(|finding| RULES.contains(&finding.rule.name));
        found.map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect()
    }

    fn is_refused(&self) -> bool {
        self.told().iter().any(|told| told.starts_with("claim-not-proved"))
    }
}

fn cases(file: &str) -> Vec<Case> {
    let text = fs::read_to_string(top().join("tests/texts").join(file)).expect("readable");
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(Case::read).collect()
}

fn show(case: &Case) -> String {
    format!("{} {} {}: {:?}", case.language, case.claim, case.sentence, case.told())
}

#[test]
fn what_a_text_names_refutes_a_claim() {
    let cases = cases("named.harmful.txt");
    assert!(cases.len() >= 100);
    let silent = cases.iter().filter(|case| !case.is_refused());
    let silent: Vec<String> = silent.map(show).collect();
    assert!(silent.is_empty(), "{} of {}:\n{}", silent.len(), cases.len(), silent.join("\n"));
}

#[test]
fn what_a_text_only_mentions_refutes_nothing() {
    let cases = cases("named.harmless.txt");
    assert!(cases.len() >= 60);
    let wrong: Vec<String> =
        cases.iter().filter(|case| !case.told().is_empty()).map(show).collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}
