//! `yield-disagrees`: a block in weights that does not make what it says.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Anchor;
use crate::quantity::display::grams;
use crate::quantity::{Exact, ratio};

pub const RULE: Rule = Rule {
    name: "yield-disagrees",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("yield_disagrees.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (numbers, Some(makes)) = (context.first(), &context.worked.formula.makes) else { return };
    if numbers.anchor != Anchor::Weights {
        return;
    }
    let written: Option<Exact> = match &makes.dough {
        Some(dough) => Some(context.base(dough)),
        None => numbers.pieces.iter().try_fold(Exact::ZERO, |sum, piece| {
            piece.made.written.then(|| sum + &piece.made.weight * &piece.made.count)
        }),
    };
    let Some(written) = written.filter(|written| !written.is_zero()) else { return };
    let loss = context.worked.formula.make_up_loss.as_ref().map(|loss| context.base(loss));
    let whole = numbers.whole.mass();
    let has = &whole * (Exact::ONE - loss.unwrap_or_default());
    let off = &has - &written;
    if off.clone().max(-off.clone()) > &written * ratio(3, 100) {
        let working = match off < Exact::ZERO {
            true => format!("{} − {} = {} short", grams(&written), grams(&has), grams(&-off)),
            false => format!("{} − {} = {} too much", grams(&has), grams(&written), grams(&off)),
        };
        findings.push(
            Finding::new(
                &RULE,
                makes.span,
                format!("this makes {} of dough, not {}", grams(&has), grams(&written)),
            )
            .note(working)
            .help("correct the weights or what it makes; `--makes` scales the whole on demand"),
        );
    }
}
