//! `loss-doubtful`: an unusual loss in the oven.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::percent;
use crate::quantity::{Exact, ratio};

pub const RULE: Rule = Rule { name: "loss-doubtful", level: Level::Warning, group: Group::Sums };

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(range) = context.habit("loss") else { return };
    let formula = &context.worked.formula;
    let pieces = formula.pieces.iter().filter_map(|piece| piece.bake_loss.as_ref());
    for loss in formula.bake_loss.iter().chain(pieces) {
        let share = context.base(loss);
        let impossible = share >= ratio(60, 100) || share < Exact::ZERO;
        if impossible || !range.holds(&share) {
            let level = if impossible { Level::Error } else { Level::Warning };
            findings.push(
                Finding::new(
                    &RULE,
                    loss.span,
                    format!("a loss of {} % is unusual", percent(&share, 1)),
                )
                .level(level)
                .note(format!("usual is {}", super::show_range(&range)))
                .help("weigh a piece before and after baking: loss = (dough − bread) ÷ dough"),
            );
        }
    }
}
