//! `tin-fill`: a piece too large or too small for its tin.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::{grams, trimmed};
use crate::quantity::ratio;

pub const RULE: Rule = Rule {
    name: "tin-fill",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("tin_fill.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(makes) = &context.worked.formula.makes else { return };
    for made in &makes.pieces {
        let (Some(tin), Some(weight)) = (&made.tin, &made.weight) else { continue };
        let Some(tin) = context.house.tin(&tin.key) else { continue };
        // 3.2 ml for a gram of dough: common practice, no source; a tin may say its own.
        let ml = tin.ml_per_gram.clone().unwrap_or_else(|| ratio(16, 5));
        let fits = &tin.millilitres / ml;
        let weight = context.base(weight);
        let off = &weight - &fits;
        if off.clone().max(-off) > &fits * ratio(15, 100) {
            let how = if weight > fits { "too much" } else { "too little" };
            findings.push(
                Finding::new(
                    &RULE,
                    made.span,
                    format!(
                        "{} is {how} for the tin `{}`, which takes {}",
                        grams(&weight),
                        tin.name.shown,
                        grams(&fits)
                    ),
                )
                .help(format!(
                    "write `{} {} in {}` and the weight follows from the tin",
                    trimmed(&made.count.number, 2),
                    made.kind.shown,
                    tin.name.shown
                )),
            );
        }
    }
}
