//! `claim-refuted`: a claim that the numbers contradict.

use super::Context;
use super::claims::Verdict;
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::ClaimValue;

pub const RULE: Rule = Rule {
    name: "claim-refuted",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("claim_refuted.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in context.verdicts() {
        let Verdict::Refuted { is, claimed, working, instead } = verdict else {
            continue;
        };
        let name = context.claim_name(claim);
        let message = match &claim.value {
            ClaimValue::FreeFrom(_) => format!("this is claimed to be {claimed}, but {is}"),
            ClaimValue::Amount { .. } => {
                format!("`{name}` is claimed to be {claimed}, but is {is}")
            }
        };
        let mut said = Finding::new(&RULE, claim.span, message);
        if let Some(working) = working {
            said = said.note(working);
        }
        said = match (instead, &claim.value) {
            (Some(instead), ClaimValue::Amount { range, .. }) => said
                .help(format!("correct the formula, or claim `{instead}`"))
                .repair(range.span, instead, false),
            _ => said.help("correct the formula or the claim"),
        };
        findings.push(said);
    }
}
