//! `dough-left`: a dough that is divided into as many pieces as it gives leaves some.

use super::context::Context;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::quantity::display::trimmed;

/// `dough-left`, a note about sums.
pub const RULE: Rule = Rule {
    name: "dough-left",
    level: Level::Note,
    group: Group::Sums,
    page: include_str!("dough_left.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(makes) = &context.worked.formula.makes else { return };
    let numbers = context.first();
    let (Some(left), Some(made)) =
        (numbers.dough_left(), makes.pieces.iter().find(|it| !it.counted))
    else {
        return;
    };
    let Some(piece) = numbers.pieces.iter().find(|piece| piece.made.key == made.kind.key) else {
        return;
    };
    let each = grams(&piece.made.weight);
    if piece.made.count.is_zero() {
        let whole = grams(&numbers.whole.mass());
        findings.push(
            Finding::new(
                &RULE,
                made.span,
                format!("{whole} of dough is less than one piece of {each}"),
            )
            .level(Level::Error)
            .help("make more dough, or lighter pieces"),
        );
    } else if left > Exact::ZERO {
        let count = trimmed(&piece.made.count, 0);
        findings.push(
            Finding::new(
                &RULE,
                made.span,
                format!("{count} `{}` at {each} leave {} of dough", made.kind.shown, grams(&left)),
            )
            .help("make a little more or less of each, or keep it as `old dough`"),
        );
    }
}
