//! The pieces that are made, and what each carries besides its dough.

use super::lines::more_than;
use super::yields::{bake_loss, make_up_loss, piece_weight};
use crate::formula::mixing::Mixing;
use crate::formula::piece_kinds::{in_number, is_kind};
use crate::formula::worked::{MadeKind, Numbers, SizedBy, WorkedLine, WorkedPiece, before_loss};
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Amount, MadePiece, Makes};

/// Each kind of piece that the formula makes, in the order of its statement.
pub(super) fn pieces(mixing: &mut Mixing, numbers: &Numbers) -> Vec<WorkedPiece> {
    let formula = mixing.formula;
    let Some(makes) = &formula.makes else { return Vec::new() };
    let written: Vec<Option<Exact>> = makes
        .pieces
        .iter()
        .map(|made| {
            let said = mixing.findings.len();
            let weight = piece_weight(mixing, made);
            if numbers.anchor != SizedBy::Weights {
                mixing.findings.truncate(said);
            }
            weight
        })
        .collect();
    // Where weights settle the dough, what is written of a piece is a check; a count
    // without a weight shares out what the others leave.
    let left = left_by_others(mixing, makes, &written, &numbers.into_pieces());
    let house = mixing.house;
    let language = house.settings.language.as_ref();
    let language = language.map_or("en", |language| language.value.as_str());
    let shared = shared_out(mixing, makes, &written, left.clone());
    makes
        .pieces
        .iter()
        .zip(written)
        .map(|(made, written)| {
            let loss = bake_loss(mixing, &made.kind.key);
            let weight = written.clone().unwrap_or_else(|| shared.clone());
            let count = match made.counted {
                true => made.count.number.clone(),
                false => as_many(mixing, made, &weight, &left),
            };
            let made = MadeKind {
                kind: in_number(&made.kind.shown, &count, language),
                key: made.kind.key.clone(),
                count,
                weight,
                written: written.is_some(),
                tin: made.tin.as_ref().map(|tin| tin.shown.clone()),
                make_up_loss: make_up_loss(mixing, &made.kind.key),
                loss,
            };
            let lines = piece_lines(mixing, &made.key, &made.weight);
            WorkedPiece { made, lines }
        })
        .collect()
}

/// The dough that one piece of a kind needs, for each gram that it weighs.
fn need(mixing: &Mixing, made: &MadePiece) -> Exact {
    before_loss(&Exact::ONE, &make_up_loss(mixing, &made.kind.key))
}

/// The dough that is left by the pieces of which count and weight are written.
fn left_by_others(
    mixing: &Mixing,
    makes: &Makes,
    written: &[Option<Exact>],
    whole: &Exact,
) -> Exact {
    makes.pieces.iter().zip(written).fold(whole.clone(), |left, (made, weight)| match weight {
        Some(weight) => left - weight * &made.count.number * need(mixing, made),
        None => left,
    })
}

/// The dough of each piece without a weight of its own, in grams: an equal share of what
/// the pieces with a weight leave, less what each kind loses in making up.
fn shared_out(mixing: &Mixing, makes: &Makes, written: &[Option<Exact>], left: Exact) -> Exact {
    let shares = makes.pieces.iter().zip(written).filter(|(_, weight)| weight.is_none());
    let shares =
        shares.fold(Exact::ZERO, |sum, (made, _)| sum + &made.count.number * need(mixing, made));
    left.max(Exact::ZERO).over(&shares).unwrap_or_default()
}

/// How many whole pieces of a weight the dough gives that others leave.
fn as_many(mixing: &Mixing, made: &MadePiece, weight: &Exact, left: &Exact) -> Exact {
    let one = weight * need(mixing, made);
    left.over(&one).unwrap_or_default().floor().max(Exact::ZERO)
}

/// What one piece of a kind carries besides its dough, in grams.
pub(super) fn piece_lines(mixing: &mut Mixing, kind: &str, dough: &Exact) -> Vec<WorkedLine> {
    let formula = mixing.formula;
    let blocks = formula
        .pieces
        .iter()
        .filter(|piece| piece.kind.as_ref().is_none_or(|own| is_kind(&own.key, kind)));
    let mut lines = Vec::new();
    for (index, line) in blocks.flat_map(|piece| &piece.mix.lines).enumerate() {
        let mass = match &line.amount {
            Amount::Measured { range, .. } => match range.low.as_ref().or(range.high.as_ref()) {
                Some(quantity) if quantity.unit.dimension() == Dimension::Share => {
                    mixing.worth(quantity) * dough
                }
                Some(quantity) => mixing.weigh(quantity, line),
                None => Exact::ZERO,
            },
            _ => Exact::ZERO,
        };
        lines.push(WorkedLine {
            goes: mixing.goes(&line.target),
            name: line.target.name.shown.clone(),
            key: line.target.name.key.clone(),
            role: line.target.role.as_ref().map(|role| role.shown.clone()),
            more: more_than(mixing, &line.amount, &mass),
            mass,
            line: Some(index),
        });
    }
    lines
}
