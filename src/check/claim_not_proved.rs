//! `claim-not-proved`: nobody has said whether something is in the formula that it is
//! claimed to be without.

use super::Context;
use super::claims::{Verdict, absence_in_words, is_diet};
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::ClaimValue;

pub const RULE: Rule = Rule {
    name: "claim-not-proved",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("claim_not_proved.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in context.verdicts() {
        let (Verdict::NotProved(names), ClaimValue::FreeFrom(name)) = (verdict, &claim.value)
        else {
            continue;
        };
        let names = format!("`{}`", names.join("`, `"));
        let (asks, says) = match is_diet(claim, name) {
            true => ("is from an animal", "`animal nothing`, or `animal` and what it is from"),
            false => ("contains it", "`contains nothing`, or `contains` and what it contains"),
        };
        let claimed = absence_in_words(claim, name);
        findings.push(
            Finding::new(
                &RULE,
                claim.span,
                format!("this is claimed to be {claimed}, but whether {names} {asks} is not known"),
            )
            .help(format!("read the packet or the supplier's sheet, and say {says}")),
        );
    }
}
