//! `absence-in-text` of names: what a mixture or a stage is called is held to what is in it.
//!
//! A name is no sentence: `nut-free paste` says of the paste what `vegan glaze` says of the
//! glaze, whatever the word for the thing is. So each beginning and each end of a name is read
//! by itself, and what it claims is held to the thing that bears the name.

use super::absence_in_text::{RULE, SAY_WHAT_IS_IN_IT, has_alcohol, has_class, has_food};
use super::context::{Context, PlainText, SaidAt};
use super::denials::{Denied, claims_in, may_claim};
use super::speech::tokens;
use crate::diag::Finding;
use crate::formula::{Absence, Allergen, Ingredient, Judged, LineRef, WorkedLine};
use crate::source::Span;
use std::ops::Range;

/// A thing with a name of its own.
struct NamedThing<'a> {
    name: &'a str,
    span: Span,
    holds: Vec<&'a Ingredient>,
    /// Names in it that stand for nothing known.
    nameless: &'a [ecow::EcoString],
}

/// Adds what names deny falsely of what they name.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for named in all(context) {
        // A name that is held to the whole formula is told already.
        let is_told = |it: &Finding| it.rule.name == RULE.name && it.span() == named.span;
        if findings.iter().any(is_told) {
            continue;
        }
        let mut told: Vec<String> = Vec::new();
        for words in readings(named.name) {
            let said = PlainText::plain((&named.name[words], named.span), SaidAt::Title);
            let tokens = tokens(&said.words);
            for claim in claims_in(context, &said, &tokens) {
                let words = said.words.get(claim.words.clone()).unwrap_or_default();
                // `unsweetened chocolate glaze` is made of such chocolate.
                if matches!(claim.denied, Denied::Class(_)) && !words.contains(['-', ' ']) {
                    continue;
                }
                let Some((message, help)) = judge(context, &named, words, &claim.denied) else {
                    continue;
                };
                // Longer pieces of a name say the same once more.
                let of = about(&message);
                if !told.contains(&of) {
                    told.push(of);
                    findings.push(Finding::new(&RULE, named.span, message).help(help));
                }
            }
        }
    }
}

/// What a message is about, without the words that were read.
fn about(message: &str) -> String {
    message.rsplit("`, ").next().unwrap_or(message).to_owned()
}

/// The mixtures and formulas that a formula takes, its stages, and the machines and tins of
/// its steps, of whose names the whole bread is held to what they say.
fn all<'a>(context: &'a Context) -> Vec<NamedThing<'a>> {
    let formula = &context.worked.formula;
    let house = context.house;
    let side_mixes = context.worked.side_mixes.iter().enumerate().map(|(index, side_mix)| {
        let mixture = context.worked.mixture(index);
        let span = mixture.map_or(formula.name.span, |mixture| mixture.name.span);
        let holds = side_mix.holds.ingredients.iter().map(|id| house.ingredient(*id)).collect();
        NamedThing { name: &side_mix.shown, span, holds, nameless: &side_mix.holds.nameless }
    });
    let numbers = context.first();
    let stages = formula.stages.iter().zip(&numbers.stages).map(|(stage, worked)| NamedThing {
        name: &stage.name.shown,
        span: stage.name.span,
        holds: holding(context, &worked.lines),
        nameless: &[],
    });
    // `in vegan tin` is printed with the bread that comes out of it.
    let is_made = |words: &str| context.worked.side_mixes.iter().any(|it| *it.shown == *words);
    let machines = context.places_said().filter(|(words, _)| !is_made(words));
    let machines = machines.map(|(name, span)| NamedThing {
        name,
        span,
        holds: context.worked.ingredients(),
        nameless: &[],
    });
    side_mixes
        .chain(stages)
        .chain(machines)
        .filter(|named| may_claim(named.name, &tokens(named.name)))
        .collect()
}

fn holding<'a>(context: &'a Context, lines: &[WorkedLine]) -> Vec<&'a Ingredient> {
    let of = |line: &WorkedLine| match line.goes {
        LineRef::Ingredient(id) => Some(context.house.ingredient(id)),
        _ => None,
    };
    lines.iter().filter_map(of).collect()
}

/// The pieces of a name that are read: all of it, its beginnings, and its ends that no word of
/// denial stands before.
fn readings(name: &str) -> Vec<Range<usize>> {
    const NOT: [&str; 14] = [
        "not", "never", "no", "non", "nicht", "nie", "pas", "jamais", "nunca", "mai", "hardly",
        "neither", "un", "kein",
    ];
    let words = tokens(name);
    let beginnings = words.iter().rev().map(|word| 0..word.end);
    let ends = words.windows(2).filter_map(|two| match two {
        [before, word] if !NOT.contains(&before.key.as_ref()) => Some(word.start..name.len()),
        _ => None,
    });
    beginnings.chain(ends).collect()
}

/// What is wrong with a claim, and what to do.
fn judge(
    context: &Context,
    named: &NamedThing,
    words: &str,
    denied: &Denied,
) -> Option<(String, &'static str)> {
    let name = named.name;
    let judged = |held: &Ingredient| match denied {
        Denied::Absence(one) => held.declared.judge(*one),
        Denied::AllAllergens => all_allergens(held),
        Denied::Food(food) => has_food(context, food, held),
        Denied::Class(class) => has_class(*class, held),
        Denied::Alcohol => has_alcohol(held),
        _ => Judged::Without,
    };
    let is_there = |it: &&&Ingredient| matches!(judged(it), Judged::Holds(_));
    if let Some(held) = named.holds.iter().find(is_there) {
        let shown = &held.name.shown;
        let holds = match (denied, judged(held)) {
            (Denied::Absence(Absence::Allergen(_)) | Denied::AllAllergens, Judged::Holds(what)) => {
                format!("`{shown}` in it contains {what}")
            }
            (Denied::Absence(_), Judged::Holds(what)) => {
                format!("`{shown}` in it is from an animal ({what})")
            }
            _ => format!("`{shown}` is in it"),
        };
        let message = format!("`{name}` is called `{words}`, and {holds}");
        return Some((message, "give it another name, or make it without"));
    }
    // Of a staple nobody asks what is in it.
    let is_asked = matches!(denied, Denied::Absence(_) | Denied::AllAllergens | Denied::Food(_));
    let open = named.holds.iter().find(|held| judged(held) == Judged::NotKnown);
    let open = open.map(|held| &held.name.shown).or(named.nameless.first());
    let open = open.filter(|_| is_asked)?;
    let message = format!("`{name}` is called `{words}`, but nothing says what is in `{open}`");
    Some((message, SAY_WHAT_IS_IN_IT))
}

fn all_allergens(held: &Ingredient) -> Judged {
    let each = Allergen::all().filter(|one| !one.is_group());
    let judged = each.map(|one| held.declared.judge(Absence::Allergen(one)));
    let rank = |judged: &Judged| match judged {
        Judged::Without => 0,
        Judged::NotKnown => 1,
        Judged::Holds(_) => 2,
    };
    judged.max_by_key(rank).unwrap_or(Judged::Without)
}
