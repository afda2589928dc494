//! The pieces that are made, and what each carries besides its dough.

use super::yields::{bake_loss, piece_weight};
use crate::formula::mixing::Mixing;
use crate::formula::worked::{Anchor, MadeKind, Numbers, WorkedLine, WorkedPiece, is_kind};
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::Amount;

pub(super) fn pieces(mixing: &mut Mixing, numbers: &Numbers) -> Vec<WorkedPiece> {
    let formula = mixing.formula;
    let Some(makes) = &formula.makes else { return Vec::new() };
    let whole = numbers.whole.mass();
    let count: Exact = makes.pieces.iter().fold(Exact::ZERO, |sum, made| sum + &made.count.number);
    makes
        .pieces
        .iter()
        .map(|made| {
            let said = mixing.findings.len();
            let written = piece_weight(mixing, made);
            if numbers.anchor != Anchor::Weights {
                mixing.findings.truncate(said);
            }
            // Where weights settle the dough, what is written of a piece is a check;
            // a count without a weight shares the dough out.
            let make_up = formula.make_up_loss.as_ref().map(|loss| mixing.worth(loss));
            let shared = if count.is_zero() {
                Exact::ZERO
            } else {
                &whole * (Exact::ONE - make_up.unwrap_or_default()) / &count
            };
            let loss = bake_loss(mixing, &made.kind.key);
            let weight = written.clone().unwrap_or(shared);
            let made = MadeKind {
                kind: made.kind.shown.clone(),
                key: made.kind.key.clone(),
                count: made.count.number.clone(),
                weight,
                written: written.is_some(),
                tin: made.tin.as_ref().map(|tin| tin.shown.clone()),
                loss,
            };
            let lines = piece_lines(mixing, &made.key, &made.weight);
            WorkedPiece { made, lines }
        })
        .collect()
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
            mass,
            line: Some(index),
        });
    }
    lines
}
