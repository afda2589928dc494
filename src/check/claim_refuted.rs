//! `claim-refuted`: a claim that the numbers contradict.

use super::claims::{absence_asked, absences_of_style, judge, verdicts, way_of};
use super::context::Context;
use super::conventions::{Convention, true_elsewhere};
use super::verdict::Verdict;
use crate::diag::Finding;
use crate::formula::{Bringer, Figure, Proof, Trouble};
use crate::source::Span;
use crate::syntax::tree::{Claim, ClaimValue, Name};

pub use super::claims::REFUTED as RULE;

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in verdicts(context) {
        if is_of_a_step_misread(context, claim) {
            continue;
        }
        match (verdict, &claim.value) {
            (Verdict::Contained(bringers), _) => {
                let Some((_, claimed, is_diet)) = absence_asked(claim) else { continue };
                findings.extend(contained(context, claim.span, &claimed, is_diet, bringers));
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
                if !range.ranged
                    && let Some(line) = context.ranged_line(claim)
                {
                    said = said.label(line.amount_span, "a range, and so the figure is one");
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
                if let Some(elsewhere) = true_elsewhere(context, claim) {
                    findings.push(in_words(said, claim, claimed, &elsewhere));
                    continue;
                }
                if let Some(help) = of_liquids(context, claim, is) {
                    said = said.help(help);
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
        findings.extend(contained(context, style.span, &claimed, false, &bringers));
    }
}

/// A claim of a time, where a step names what nobody knows: a stage may be missing for it.
fn is_of_a_step_misread(context: &Context, claim: &Claim) -> bool {
    let figure = Figure::read(&claim.what.name.key);
    let is_time = matches!(figure, Some(Figure::Elapsed | Figure::HandsOn));
    let is_unknown = |trouble: &Trouble| matches!(trouble, Trouble::Unknown { .. });
    is_time && context.method_troubles().any(|(_, trouble)| is_unknown(trouble))
}

/// The number is true in another convention: that is told first.
fn in_words(said: Finding, claim: &Claim, claimed: &str, elsewhere: &Convention) -> Finding {
    let Convention { figure, claim: meant } = elsewhere;
    let message = format!("{}; {claimed} is `{figure}`", said.message);
    Finding { message, ..said }
        .help(format!("claim it so: `{meant}`, or correct the number"))
        .repair(claim.span, meant.clone(), false)
}

/// What to do where the water of milk, eggs and the like was counted as well.
fn of_liquids(context: &Context, claim: &Claim, hydration: &str) -> Option<String> {
    let is_hydration = Figure::read(&claim.what.name.key) == Some(Figure::Hydration);
    let mut other = is_hydration.then(|| claim.clone())?;
    other.what.name = Name { key: "liquids".into(), shown: "liquids".into(), ..other.what.name };
    match judge(context, &other) {
        Verdict::Holds => {
            Some("the water of milk, eggs and the like counts in `liquids`: claim that".into())
        }
        Verdict::Refuted { is, .. } if is != hydration => Some(format!(
            "correct the formula or the claim; the water of milk, eggs and the like counts in \
             `liquids`, which is {is}"
        )),
        _ => None,
    }
}

/// The first that brings it in the message, all others in a note.
fn contained(
    context: &Context,
    span: Span,
    claimed: &str,
    is_diet: bool,
    bringers: &[Bringer],
) -> Option<Finding> {
    let (first, others) = bringers.split_first()?;
    let brings = |bringer: &Bringer| {
        let verb = if is_diet { "is made with" } else { "contains" };
        let of = if bringer.holds == "meat" { "meat or fish" } else { bringer.holds };
        format!("`{}` {verb} {of}", bringer.ingredient)
    };
    let message = format!("{claimed}, but {}", brings(first));
    let mut said = Finding::new(&RULE, span, message).of_health();
    if !others.is_empty() {
        said = said.note(others.iter().map(brings).collect::<Vec<_>>().join(", "));
    }
    for way in bringers.iter().filter_map(|bringer| way_of(context, bringer)) {
        said = said.note(way);
    }
    let stated = if is_diet { "animal" } else { "contains" };
    Some(said.help(format!(
        "remove the claim, or replace `{}`; if its `{stated}` is stated wrongly, correct that",
        first.ingredient
    )))
}
