//! `loss-doubtful`: an unusual loss in the oven.

use super::context::Context;
use super::limits::{self, show_range};
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::percent;
use crate::quantity::{Exact, Range};
use crate::syntax::tree::Verb;

/// `loss-doubtful`, a warning about sums.
pub const RULE: Rule = Rule {
    name: "loss-doubtful",
    level: Level::Warning,
    group: Group::Sums,
    page: include_str!("loss_doubtful.md"),
};

const NO_BOUND: Range = Range { low: None, high: None };

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let habit = context.habit("loss");
    let range = habit.clone().or_else(|| context.limit("habit", "loss")).unwrap_or(NO_BOUND);
    let formula = &context.worked.formula;
    let pieces = formula.pieces.iter().filter_map(|piece| piece.bake_loss.as_ref());
    let making = formula.pieces.iter().filter_map(|piece| piece.make_up_loss.as_ref());
    let boiled = formula.stages.iter().filter_map(|stage| stage.loses.as_ref());
    for loss in formula.make_up_loss.iter().chain(making).chain(boiled) {
        if context.base(loss) >= Exact::ONE {
            findings.push(
                Finding::new(&RULE, loss.span, "this loses all there is")
                    .level(Level::Error)
                    .help("write the share that is lost, less than 100 %"),
            );
        }
    }
    let most = limits::most("physics", "loss").unwrap_or(Exact::ONE);
    let gained = limits::least("physics of gains", "loss").unwrap_or_default();
    for loss in formula.bake_loss.iter().chain(pieces) {
        let share = context.base(loss);
        // What is fried takes up fat, and what is filled takes up its filling.
        let gains = share < Exact::ZERO && share > gained && may_gain(context);
        let impossible = share >= most || (share < Exact::ZERO && !gains);
        // What a style bounds itself is judged by the rule about styles.
        if impossible || (habit.is_some() && !range.holds(&share) && !gains) {
            let level = if impossible { Level::Error } else { Level::Warning };
            findings.push(
                Finding::new(
                    &RULE,
                    loss.span,
                    format!(
                        "a loss of {} % is unusual: {} is usual",
                        percent(&share, 2),
                        show_range(&range)
                    ),
                )
                .level(level)
                .help("weigh a piece before and after baking: loss = (dough − bread) ÷ dough"),
            );
        }
    }
}

fn may_gain(context: &Context) -> bool {
    let formula = &context.worked.formula;
    let fries = formula.method.iter().flat_map(|method| &method.steps);
    fries.into_iter().any(|step| step.verb == Verb::Fry)
        || formula.pieces.iter().any(|piece| !piece.mix.lines.is_empty())
}
