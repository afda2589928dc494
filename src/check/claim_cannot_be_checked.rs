//! `claim-cannot-be-checked`: a claim about something that is not known.

use super::claims::{OWN_BASE, verdicts};
use super::context::Context;
use super::verdict::Verdict;
use crate::diag::{Finding, Level};
use crate::formula::Figure;

pub use super::claims::CANNOT_BE_CHECKED as RULE;

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in verdicts(context) {
        let Verdict::Open(why) = verdict else { continue };
        let said = format!("`{}` can't be checked: {why}", context.claim_name(claim));
        let said = Finding::new(&RULE, claim.span, said);
        // What a label declares is not left open.
        let is_on_a_label = Figure::read(&claim.what.name.key) == Some(Figure::SaltAsDeclared);
        // Nor is a claim that asks for another figure than it seems to.
        let is_serious = is_on_a_label || why.ends_with(OWN_BASE);
        findings.push(if is_serious { said.level(Level::Error) } else { said });
    }
}
