//! The pieces that are made, and what each carries besides its dough.

use super::numbers::more_than;
use super::yields::{bake_loss, make_up_loss, piece_weight};
use crate::formula::mixing::Mixing;
use crate::formula::worked::{Anchor, MadeKind, Numbers, WorkedLine, WorkedPiece, is_kind};
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Amount, MadePiece, Makes};

pub(super) fn pieces(mixing: &mut Mixing, numbers: &Numbers) -> Vec<WorkedPiece> {
    let formula = mixing.formula;
    let Some(makes) = &formula.makes else { return Vec::new() };
    let written: Vec<Option<Exact>> = makes
        .pieces
        .iter()
        .map(|made| {
            let said = mixing.findings.len();
            let weight = piece_weight(mixing, made);
            if numbers.anchor != Anchor::Weights {
                mixing.findings.truncate(said);
            }
            weight
        })
        .collect();
    // Where weights settle the dough, what is written of a piece is a check; a count
    // without a weight shares out what the others leave.
    let shared = shared_out(mixing, makes, &written, &numbers.whole.mass());
    makes
        .pieces
        .iter()
        .zip(written)
        .map(|(made, written)| {
            let loss = bake_loss(mixing, &made.kind.key);
            let weight = written.clone().unwrap_or_else(|| shared.clone());
            let count = match made.counted {
                true => made.count.number.clone(),
                false => as_many(mixing, made, &weight, &numbers.whole.mass()),
            };
            let made = MadeKind {
                kind: made.kind.shown.clone(),
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

/// How many whole pieces of a weight a dough gives.
fn as_many(mixing: &Mixing, made: &MadePiece, weight: &Exact, whole: &Exact) -> Exact {
    if weight.is_zero() {
        return Exact::ZERO;
    }
    let left = Exact::ONE - make_up_loss(mixing, &made.kind.key);
    Exact::from((whole * left / weight).floor())
}

/// The dough of each piece without a weight of its own, in grams: an equal share of what
/// the pieces with a weight leave, less what each kind loses in making up.
fn shared_out(mixing: &Mixing, makes: &Makes, written: &[Option<Exact>], whole: &Exact) -> Exact {
    let mut left = whole.clone();
    let mut shares = Exact::ZERO;
    for (made, weight) in makes.pieces.iter().zip(written) {
        let needed = &made.count.number / (Exact::ONE - make_up_loss(mixing, &made.kind.key));
        match weight {
            Some(weight) => left -= weight * needed,
            None => shares += needed,
        }
    }
    match shares.is_zero() {
        true => Exact::ZERO,
        false => left.max(Exact::ZERO) / shares,
    }
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
