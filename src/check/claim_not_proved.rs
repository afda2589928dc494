//! `claim-not-proved`: nobody has said whether something is in the formula that it is
//! claimed to be without.

use super::claims::{absence_asked, absences_of_style, verdicts};
use super::context::Context;
use super::verdict::Verdict;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Absence, Doubt, FAT_FOR_FRYING, Proof, key};
use crate::source::Span;
use ecow::EcoString;

/// `claim-not-proved`, an error about claims.
pub const RULE: Rule = Rule {
    name: "claim-not-proved",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("claim_not_proved.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in verdicts(context) {
        let Verdict::NotProved(names) = verdict else { continue };
        let Some((asked, claimed, is_diet)) = absence_asked(claim) else { continue };
        findings.extend(open(context, claim.span, &claimed, (asked, is_diet), names));
    }
    for (style, without, proof) in absences_of_style(context) {
        let Proof::NotKnown(names) = proof else { continue };
        let claimed = format!("the style `{}` is without {}", style.shown, without.shown);
        let Some(asked) = Absence::read(&without.key) else { continue };
        findings.extend(open(context, style.span, &claimed, (asked, false), &names));
    }
}

fn open(
    context: &Context,
    span: Span,
    claimed: &str,
    (asked, is_diet): (Absence, bool),
    names: &[EcoString],
) -> Vec<Finding> {
    let is_fat = |name: &EcoString| {
        *name == FAT_FOR_FRYING && context.house.ingredient_named(&key(name)).is_none()
    };
    let of_fat = names.iter().any(is_fat).then(|| unknown_fat(span, claimed));
    let names = names.iter().filter(|name| !is_fat(name)).cloned();
    let (tins, names): (Vec<EcoString>, Vec<EcoString>) =
        names.partition(|name| context.house.tin(&key(name)).is_some());
    let of_tins = (!tins.is_empty()).then(|| unknown_grease(span, claimed, &tins));
    let of_names = || of_ingredients(context, span, claimed, (asked, is_diet), &names);
    let of_names = (!names.is_empty()).then(of_names);
    of_names.into_iter().chain(of_tins).chain(of_fat).collect()
}

/// Nobody says what something is fried in.
fn unknown_fat(span: Span, claimed: &str) -> Finding {
    let message = format!("{claimed}, but no step says what it is fried in");
    Finding::new(&RULE, span, message)
        .help("say it in the step: `fry 4min at 175C in sunflower oil`")
}

/// Nobody says what a tin is greased with.
fn unknown_grease(span: Span, claimed: &str, tins: &[EcoString]) -> Finding {
    let listed = format!("`{}`", tins.join("`, `"));
    let what = if tins.len() == 1 { "the tin" } else { "the tins" };
    let message = format!("{claimed}, but what {what} {listed} is greased with is not known");
    let message =
        if tins.len() == 1 { message } else { message.replace(" is greased", " are greased") };
    Finding::new(&RULE, span, message)
        .help("say it in the tin: `greased with sunflower oil`, or `greased with nothing`")
}

fn of_ingredients(
    context: &Context,
    span: Span,
    claimed: &str,
    (asked, is_diet): (Absence, bool),
    names: &[EcoString],
) -> Finding {
    let listed = format!("`{}`", names.join("`, `"));
    let doubts = || {
        names.iter().map(|name| {
            let known = context.house.ingredient_named(&key(name));
            known.map_or(Doubt::Silent, |known| known.declared.doubt(asked))
        })
    };
    // What says that it may contain it has been read already.
    if doubts().all(|doubt| doubt == Doubt::Warned) {
        let known = names.iter().filter_map(|name| context.house.ingredient_named(&key(name)));
        let help = match known.into_iter().any(|known| known.built_in) {
            true => {
                "makers differ: read the packet, and declare yours with `like` and what it \
                 contains, or with `free from` and what shows it; or remove the claim"
            }
            false => {
                "remove the claim, or use what comes without the warning; if the packet no \
                longer says so, remove the `may contain`"
            }
        };
        let message = format!("{claimed}, but {listed} may contain it");
        return Finding::new(&RULE, span, message).help(help);
    }
    if doubts().all(|doubt| doubt == Doubt::Usual) {
        let message = format!(
            "{claimed}, but {listed} usually contains it, and does not say that it is without"
        );
        return Finding::new(&RULE, span, message).help(
            "read the packet or the supplier's sheet, and say `contains` and what it contains, \
             or `free from` and what shows it",
        );
    }
    if let Some(Doubt::Group(group)) = doubts().next().filter(|_| names.len() == 1) {
        let message = format!("{claimed}, but which of the {group} {listed} contains is not known");
        return Finding::new(&RULE, span, message)
            .help("read the packet or the supplier's sheet, and say which it contains");
    }
    let (asks, says) = match is_diet {
        true => ("is from an animal", "`animal nothing`, or `animal` and what it is from"),
        false => ("contains it", "`contains nothing`, or `contains` and what it contains"),
    };
    let message = format!("{claimed}, but whether {listed} {asks} is not known");
    Finding::new(&RULE, span, message)
        .help(format!("read the packet or the supplier's sheet, and say {says}"))
}
