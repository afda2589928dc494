//! `unused-stage`: a stage that nothing uses.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};

/// `unused-stage`, a warning about names.
pub const RULE: Rule = Rule {
    name: "unused-stage",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("unused_stage.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let formula = &context.worked.formula;
    // A line that could not be read may be the one that uses it.
    if context.main_mix().is_none() || formula.broken {
        return;
    }
    for (index, stage) in formula.stages.iter().enumerate() {
        let mixes = formula.stages.iter().map(|stage| &stage.mix).chain(&formula.dough);
        let named =
            mixes.flat_map(|mix| &mix.lines).any(|line| line.target.name.key == stage.name.key);
        if !named && context.first().stages[index].into_dough.is_zero() && formula.total.is_none() {
            let name = &stage.name.shown;
            findings.push(
                Finding::new(
                    &RULE,
                    stage.name.span,
                    format!("`{name}` is made, but nothing uses it"),
                )
                .about(&stage.name.key)
                .help(format!("add a line to the dough: `{name} all`, or `{name} 20%`")),
            );
        }
    }
}
