//! `claim-refuted`: a claim that the numbers contradict.

use super::Context;
use super::claims::{Verdict, absence_in_words, absences_of_style, is_diet};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Bringer, Proof};
use crate::source::Span;
use crate::syntax::tree::ClaimValue;

pub const RULE: Rule = Rule {
    name: "claim-refuted",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("claim_refuted.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in context.verdicts() {
        match (verdict, &claim.value) {
            (Verdict::Contained(bringers), ClaimValue::FreeFrom(name)) => {
                let claimed = absence_in_words(claim, name);
                let claimed = format!("this is claimed to be {claimed}");
                findings.extend(contained(claim.span, &claimed, is_diet(claim, name), bringers));
            }
            (
                Verdict::Refuted { is, claimed, working, instead },
                ClaimValue::Amount { range, .. },
            ) => {
                let name = context.claim_name(claim);
                let message = format!("`{name}` is claimed to be {claimed}, but is {is}");
                let mut said = Finding::new(&RULE, claim.span, message);
                if let Some(working) = working {
                    said = said.note(working);
                }
                if context.is_beside(claim) {
                    let what = &claim.what.name;
                    let place = format!("{} in pieces", what.shown);
                    said = said
                        .help(format!("it goes onto the pieces: claim it there, `{place} …`"))
                        .repair(what.span, place, false);
                    findings.push(said);
                    continue;
                }
                findings.push(match instead {
                    Some(instead) => said
                        .help(format!("correct the formula, or claim `{instead}`"))
                        .repair(range.span, instead, false),
                    None => said.help("correct the formula or the claim"),
                });
            }
            _ => {}
        }
    }
    for (style, without, proof) in absences_of_style(context) {
        let Proof::Refuted(bringers) = proof else { continue };
        let claimed = format!("the style `{}` is without {}", style.shown, without.shown);
        findings.extend(contained(style.span, &claimed, false, &bringers));
    }
}

/// The first that brings it in the message, all others in a note.
fn contained(span: Span, claimed: &str, is_diet: bool, bringers: &[Bringer]) -> Option<Finding> {
    let (first, others) = bringers.split_first()?;
    let brings = |bringer: &Bringer| {
        let verb = if is_diet { "is made with" } else { "contains" };
        let of = if bringer.holds == "meat" { "meat or fish" } else { bringer.holds };
        format!("`{}` {verb} {of}", bringer.ingredient)
    };
    let mut said = Finding::new(&RULE, span, format!("{claimed}, but {}", brings(first)));
    if !others.is_empty() {
        said = said.note(others.iter().map(brings).collect::<Vec<_>>().join(", "));
    }
    let stated = if is_diet { "animal" } else { "contains" };
    Some(said.help(format!(
        "take the claim away, or replace `{}`; if its `{stated}` is stated wrongly, correct that",
        first.ingredient
    )))
}
