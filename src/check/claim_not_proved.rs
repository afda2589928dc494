//! `claim-not-proved`: nobody has said whether something is in the formula that it is
//! claimed to be without.

use super::Context;
use super::claims::{Verdict, absence_in_words, absences_of_style, is_diet};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Proof;
use crate::source::Span;
use crate::syntax::tree::ClaimValue;
use ecow::EcoString;

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
        let claimed = format!("this is claimed to be {}", absence_in_words(claim, name));
        findings.push(open(claim.span, &claimed, is_diet(claim, name), names));
    }
    for (style, without, proof) in absences_of_style(context) {
        let Proof::NotKnown(names) = proof else { continue };
        let claimed = format!("the style `{}` is without {}", style.shown, without.shown);
        findings.push(open(style.span, &claimed, false, &names));
    }
}

fn open(span: Span, claimed: &str, is_diet: bool, names: &[EcoString]) -> Finding {
    let names = format!("`{}`", names.join("`, `"));
    let (asks, says) = match is_diet {
        true => ("is from an animal", "`animal nothing`, or `animal` and what it is from"),
        false => ("contains it", "`contains nothing`, or `contains` and what it contains"),
    };
    let message = format!("{claimed}, but whether {names} {asks} is not known");
    Finding::new(&RULE, span, message)
        .help(format!("read the packet or the supplier's sheet, and say {says}"))
}
