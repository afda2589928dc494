//! What a house's own words for its prints say is not in the bread: they are printed with
//! whatever it makes.

use super::bakehouses::Bakehouse;
use crate::check::{check_printed, may_deny};
use crate::diag::Finding;
use crate::formula::{Allergen, work};
use crate::print::wording::{OwnMessage, own_messages};

/// What each message denies falsely, of the first formula that refutes it; `file` is shown to
/// the user.
pub fn denied(bakehouse: &Bakehouse, own: &str, file: &str) -> Vec<Finding> {
    let mut findings = Vec::new();
    for message in own_messages(own) {
        let words = in_full(&message);
        if !may_deny(&words) {
            continue;
        }
        let mut told = first_denied(bakehouse, &words);
        // Of what leads to every list, one entry is enough.
        let most = if words == message.words { told.len() } else { 1 };
        told.truncate(most);
        for finding in &mut told {
            let place = format!(" ({file}, line {})", message.line);
            finding.message = format!("{}{place}", finding.message);
        }
        findings.append(&mut told);
    }
    findings
}

/// The words of a message as they are printed: with allergens after what leads to them.
fn in_full(message: &OwnMessage) -> String {
    let leads_to_allergens = message.id.ends_with("contains") || message.id.ends_with("contain");
    if !leads_to_allergens {
        return message.words.clone();
    }
    let names: Vec<&str> = Allergen::all().map(Allergen::key).collect();
    format!("{} {}", message.words, names.join(", "))
}

fn first_denied(bakehouse: &Bakehouse, words: &str) -> Vec<Finding> {
    let formulas = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
    for formula in formulas.filter(|formula| !formula.broken) {
        let worked = work(&bakehouse.house, formula, &mut Vec::new());
        if !worked.sound {
            continue;
        }
        let mut findings = Vec::new();
        check_printed(&bakehouse.house, &worked, words, &mut findings);
        if !findings.is_empty() {
            return findings;
        }
    }
    Vec::new()
}
