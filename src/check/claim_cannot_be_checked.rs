//! `claim-cannot-be-checked`: a claim about something that is not known.

use super::Context;
use super::claims::Verdict;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;

pub const RULE: Rule = Rule {
    name: "claim-cannot-be-checked",
    level: Level::Note,
    group: Group::Claims,
    page: include_str!("claim_cannot_be_checked.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in context.verdicts() {
        let Verdict::Open(why) = verdict else { continue };
        let said = format!("`{}` can't be checked: {why}", context.claim_name(claim));
        let said = Finding::new(&RULE, claim.span, said);
        // What a label declares is not left open.
        let is_on_a_label = Figure::read(&claim.what.name.key) == Some(Figure::SaltAsDeclared);
        findings.push(if is_on_a_label { said.level(Level::Error) } else { said });
    }
}
