//! `more-than-there-is`: a live figure of a text asks for more of a thing than the formula
//! has.

use super::context::Context;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Numbers, ValueKind, Within};
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{FigureAsk, Quantity, Target, TextPart};

/// `more-than-there-is`, an error about texts.
pub const RULE: Rule = Rule {
    name: "more-than-there-is",
    level: Level::Error,
    group: Group::Text,
    page: include_str!("more_than_there_is.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for part in context.texts().flat_map(|text| &text.parts) {
        let TextPart::Figure { words, ask: Some(ask), span } = part else { continue };
        let FigureAsk::Scaled { amount, what: Some(what), .. } = &**ask else { continue };
        // What another formula has is not known here.
        if ask.elsewhere(|key| context.house.formula(key).is_some()).is_some() {
            continue;
        }
        let name = &what.name.shown;
        if amount.unit.dimension() == Dimension::Share {
            if context.base(amount) > Exact::ONE {
                let message = format!("`[{words}]` is more than all of the `{name}`");
                findings.push(Finding::new(&RULE, *span, message).help("write 100% or less"));
            }
            continue;
        }
        let (Some(asked), Some(most)) = (asked(context, amount, what), most(context, what)) else {
            continue;
        };
        if asked > most {
            let message = format!(
                "this text asks for {} of `{name}`, and the formula has {}",
                grams(&asked),
                grams(&most)
            );
            let finding = Finding::new(&RULE, *span, message);
            findings.push(finding.help("correct the amount; a decimal point or a unit may be off"));
        }
    }
}

/// Grams that are asked for, in the size that the formula is made in.
fn asked(context: &Context, amount: &Quantity, what: &Target) -> Option<Exact> {
    let written = context.base(amount);
    let ingredient = context.house.ingredient_named(&what.name.key);
    let grams = match amount.unit.dimension() {
        Dimension::Mass => written,
        Dimension::Volume => written * ingredient?.grams_per_ml.as_ref()?,
        Dimension::Count => written * ingredient?.each.as_ref()?,
        _ => return None,
    };
    Some(grams * context.worked.scale_at(amount.span))
}

/// The most there is of a thing: in the dough, beside it and in baths.
fn most(context: &Context, what: &Target) -> Option<Exact> {
    let of = |numbers: &Numbers| {
        let dough = mass(context, numbers, what, Within::All);
        let put_in = put_in(context, numbers, what);
        let side_mixes = (0..context.worked.side_mixes.len()).map(Within::SideMix);
        let beside = std::iter::once(Within::Pieces).chain(side_mixes);
        let beside: Vec<Exact> =
            beside.filter_map(|within| mass(context, numbers, what, within)).collect();
        if dough.is_none() && put_in.is_zero() && beside.is_empty() {
            return None;
        }
        let beside = beside.into_iter().fold(Exact::ZERO, |sum, mass| sum + mass);
        Some(dough.unwrap_or_default().max(put_in) + beside)
    };
    context.worked.choices.iter().filter_map(of).max()
}

fn mass(context: &Context, numbers: &Numbers, what: &Target, within: Within) -> Option<Exact> {
    let value = context.worked.ask_within(numbers, what, within)?;
    (value.kind == ValueKind::Mass).then_some(value.amount)
}

/// What all lines together weigh: with the water that boils away, what is saved and what
/// may go in beyond a low end.
fn put_in(context: &Context, numbers: &Numbers, what: &Target) -> Exact {
    let key = &what.name.key;
    let stages = context.worked.formula.stages.iter().zip(&numbers.stages);
    let made = stages.filter(|(stage, _)| stage.name.key == *key).map(|(_, worked)| &worked.made);
    let made = made.fold(Exact::ZERO, |sum, made| sum + made);
    let lines = numbers.stages.iter().flat_map(|stage| &stage.lines).chain(&numbers.dough_lines);
    let lines = lines.filter(|line| line.key == *key);
    lines.fold(Exact::ZERO, |sum, line| sum + &line.mass + &line.more).max(made)
}
