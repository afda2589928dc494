//! What a house's own words for its prints say is not in the bread: they are printed with
//! whatever it makes.

use super::bakehouses::Bakehouse;
use crate::check::{check_printed, may_deny};
use crate::diag::Finding;
use crate::formula::{Allergen, work};
use crate::print::wording::{OwnMessage, Wording, own_messages};
use crate::source::Span;

/// What each message denies falsely, of the first formula that refutes it, and the names of
/// those messages; `file` is shown to the user.
pub fn denied(bakehouse: &Bakehouse, own: &str, file: &str) -> (Vec<String>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut ids = Vec::new();
    // Terms and letters written by their number are put in, as on paper.
    let (paper, _) = Wording::new("en", Some(own));
    for message in own_messages(own) {
        let together = paper.put_together(message.id).unwrap_or_default();
        let all = [in_full(&message, &together), in_full(&message, &message.words)];
        let denying = all.iter().filter(|words| may_deny(words));
        let told = denying.map(|words| first_denied(bakehouse, words));
        let mut told = told.into_iter().find(|told| !told.is_empty()).unwrap_or_default();
        // Of what leads to every list, one entry is enough.
        let most = if leads_to_allergens(&message) { 1 } else { told.len() };
        told.truncate(most);
        if !told.is_empty() {
            ids.push(message.id.to_owned());
        }
        for finding in &mut told {
            let place = format!(" ({file}, line {})", message.line);
            finding.message = format!("{}{place}", finding.message);
        }
        findings.append(&mut told);
    }
    (ids, findings)
}

/// The words of a message as they are printed: with allergens after what leads to them.
fn in_full(message: &OwnMessage, words: &str) -> String {
    if !leads_to_allergens(message) {
        return words.to_owned();
    }
    let names: Vec<&str> = Allergen::all().map(Allergen::key).collect();
    format!("{words} {}", names.join(", "))
}

fn leads_to_allergens(message: &OwnMessage) -> bool {
    message.id.ends_with("contains") || message.id.ends_with("contain")
}

fn first_denied(bakehouse: &Bakehouse, words: &str) -> Vec<Finding> {
    let formulas = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
    for formula in formulas.filter(|formula| !formula.broken) {
        let worked = work(&bakehouse.house, formula, &mut Vec::new());
        if !worked.sound {
            continue;
        }
        let mut findings = Vec::new();
        check_printed(&bakehouse.house, &worked, (words, Span::NOWHERE), &mut findings);
        if !findings.is_empty() {
            return findings;
        }
    }
    Vec::new()
}
