//! The lines of a mix with their masses.

use super::solving::At;
use crate::formula::mixing::{MixForms, Mixing};
use crate::formula::worked::WorkedLine;
use crate::quantity::Exact;
use crate::syntax::tree::{Amount, Mix};

/// The lines of a mix at the size that `at` gives them.
pub(super) fn own_lines(mixing: &Mixing, mix: &Mix, forms: &MixForms, at: &At) -> Vec<WorkedLine> {
    let lines = mix.lines.iter().enumerate().zip(&forms.masses);
    lines
        .map(|((index, line), mass)| WorkedLine {
            goes: mixing.goes(&line.target),
            name: line.target.name.shown.clone(),
            key: line.target.name.key.clone(),
            role: line.target.role.as_ref().map(|role| role.shown.clone()),
            more: more_than(mixing, &line.amount, &at.value(mass)),
            mass: at.value(mass),
            line: Some(index),
        })
        .collect()
}

/// How much more than its low end, `mass`, an amount may be, in grams.
pub(super) fn more_than(mixing: &Mixing, amount: &Amount, mass: &Exact) -> Exact {
    let Amount::Measured { range, .. } = amount else { return Exact::ZERO };
    let (true, Some(low), Some(high)) = (range.ranged, &range.low, &range.high) else {
        return Exact::ZERO;
    };
    let times = mixing.worth(high).over(&mixing.worth(low)).unwrap_or(Exact::ONE);
    mass * (times - Exact::ONE)
}
