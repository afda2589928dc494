//! `tin-fill`: a piece too large or too small for its tin.

use super::context::Context;
use super::limits;
use crate::diag::amounts::{grams, millilitres};
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Tin;
use crate::quantity::display::{in_ounces, ounce, trimmed};
use crate::quantity::{Exact, System};

/// `tin-fill`, a warning about prints.
pub const RULE: Rule = Rule {
    name: "tin-fill",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("tin_fill.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(makes) = &context.worked.formula.makes else { return };
    let Some(within) = limits::most("habit of sums", "tin") else { return };
    for (made, worked) in makes.pieces.iter().zip(&context.first().pieces) {
        let (Some(tin), true) = (&made.tin, made.weight.is_some()) else { continue };
        let Some(tin) = context.house.tin(&tin.key) else { continue };
        let weight = &worked.made.weight;
        let fits = tin.fits();
        let off = weight - &fits;
        if off.clone().max(-off) > &fits * &within {
            let how = if *weight > fits { "too much" } else { "too little" };
            let mut said = Finding::new(
                &RULE,
                made.span,
                format!(
                    "{} is {how} for the tin `{}`, which takes {}",
                    grams(weight),
                    tin.name.shown,
                    grams(&fits)
                ),
            )
            .note(working(context, tin, &fits))
            .help(format!(
                "write `{} {} in {}` and the weight follows from the tin",
                trimmed(&made.count.number, 2),
                made.kind.shown,
                tin.name.shown
            ));
            if let Some(written) = made.weight.as_ref().filter(|_| !made.baked) {
                let fits = match context.house.settings.units.first {
                    System::Metric => format!("{} g", trimmed(&fits, 0)),
                    System::Us => format!("{} oz", trimmed(&in_ounces(&fits), 1)),
                };
                said = said.repair(written.span, fits, false);
            }
            findings.push(said);
        }
    }
}

/// How much dough a tin takes, in the units of the house.
fn working(context: &Context, tin: &Tin, fits: &Exact) -> String {
    let (volume, each) = (millilitres(&tin.millilitres), tin.ml_for_a_gram());
    match context.house.settings.units.first {
        System::Metric => {
            format!(
                "{volume} of tin / {} ml for a gram of dough = {}",
                trimmed(&each, 2),
                grams(fits)
            )
        }
        System::Us => {
            let each = millilitres(&(each * ounce()));
            format!("{volume} of tin / {each} for an ounce of dough = {}", grams(fits))
        }
    }
}
