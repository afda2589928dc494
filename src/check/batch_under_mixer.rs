//! `batch-under-mixer`: less dough than the mixer can work.

use super::context::Context;
use crate::diag::amounts::grams;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::Exact;
use crate::syntax::tree::{Name, Order};

/// `batch-under-mixer`, a warning about prints.
pub const RULE: Rule = Rule {
    name: "batch-under-mixer",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("batch_under_mixer.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some((mixer, span)) = context.named_mixer() else { return };
    let mass = context.first().whole.mass();
    let Some(low) = mixer.holds.as_ref().and_then(|holds| holds.low.clone()) else { return };
    if mass < low && !mass.is_zero() {
        findings.push(
            Finding::new(
                &RULE,
                span,
                format!(
                    "{} of dough is less than `{}` can work: {} at least",
                    grams(&mass),
                    mixer.name.shown,
                    grams(&low)
                ),
            )
            .help("make more, or mix it in a smaller machine or by hand"),
        );
    }
}

/// A day makes batches of so much dough, and each of the mixers that they may go into works no
/// less than so much.
pub fn batch_too_small(
    order: &Order,
    batches: usize,
    dough: &Exact,
    mixer: &Name,
    low: &Exact,
) -> Finding {
    let (product, mixer) = (&order.product.shown, &mixer.shown);
    let of = if batches > 1 { "a batch of" } else { "the batch of" };
    let message = format!(
        "{of} `{product}` is {} of dough, less than `{mixer}` can work: {} at least",
        grams(dough),
        grams(low)
    );
    Finding::new(&RULE, order.product.span, message)
        .help("make more of it and freeze the rest, or mix it in a smaller machine or by hand")
}
