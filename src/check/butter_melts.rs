//! `butter-melts`: laminated dough stands where its butter melts.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::all_mixes;
use crate::quantity::display::trimmed;
use crate::quantity::int;
use crate::syntax::tree::Verb;

pub const RULE: Rule = Rule {
    name: "butter-melts",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("butter_melts.md"),
};

/// Butter between the layers begins to run at 28 to 32 °C: common practice, no source.
const MELTS: i64 = 28;

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(method) = &context.worked.formula.method else { return };
    // Lard and pastry margarine stand more warmth.
    let mixes = all_mixes(&context.worked.formula);
    if !mixes.flat_map(|mix| &mix.lines).any(|line| line.target.name.key.contains("butter")) {
        return;
    }
    let laminated = method.steps.iter().skip_while(|step| step.verb != Verb::Laminate);
    let raw = laminated.take_while(|step| !matches!(step.verb, Verb::Bake | Verb::Fry));
    for phase in raw.flat_map(|step| &step.phases) {
        let Some(at) = &phase.at else { continue };
        let Some(warmest) = at.high.as_ref().or(at.low.as_ref()) else { continue };
        let celsius = context.base(warmest);
        if celsius > int(MELTS) {
            findings.push(
                Finding::new(
                    &RULE,
                    warmest.span,
                    format!("at {} °C the butter between the layers melts", trimmed(&celsius, 1)),
                )
                .note("butter begins to run at 28–32 °C; common practice, no source")
                .help("let it stand at 24–27 °C, and longer"),
            );
        }
    }
}
