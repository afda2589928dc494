//! `batch-over-mixer`: more dough than the mixer holds.

use super::context::Context;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;

/// `batch-over-mixer`, a note about prints.
pub const RULE: Rule = Rule {
    name: "batch-over-mixer",
    level: Level::Note,
    group: Group::Prints,
    page: include_str!("batch_over_mixer.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some((mixer, span)) = context.named_mixer() else { return };
    let mass = context.first().whole.mass();
    let Some(high) = mixer.holds.as_ref().and_then(|holds| holds.high.clone()) else { return };
    if let Some(batches) = mass.over(&high).filter(|batches| *batches > Exact::ONE) {
        let batches = batches.ceil();
        findings.push(
            Finding::new(
                &RULE,
                span,
                format!(
                    "{} of dough is more than the {} that `{}` holds",
                    grams(&mass),
                    grams(&high),
                    mixer.name.shown
                ),
            )
            .help(format!(
                "the sheet divides it into {batches} batches; name a larger mixer if there is one"
            )),
        );
    }
}
