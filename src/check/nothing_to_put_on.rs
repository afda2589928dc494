//! `nothing-to-put-on`: a step that fills, tops, glazes, dusts or washes with nothing.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Step, Verb};

/// `nothing-to-put-on`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "nothing-to-put-on",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("nothing_to_put_on.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for step in context.steps().filter(|step| puts_on(step.verb) && brings_nothing(step)) {
        let verb = step.verb.word();
        let beside = context.worked.formula.pieces.iter().flat_map(|piece| &piece.mix.lines);
        let example = beside.map(|line| line.target.name.shown.as_str()).next();
        let said = Finding::new(
            &RULE,
            step.verb_span,
            format!("this step says to {verb}, but not with what"),
        );
        findings.push(match example {
            Some(name) => said.help(format!("write `{verb} with {name}`")),
            None => said.help(format!(
                "write `{verb} with …`, and what a piece takes of it in `piece {{ … }}`: it counts \
                 for allergens and weight"
            )),
        });
    }
}

/// Verbs that put something on a piece or into it.
fn puts_on(verb: Verb) -> bool {
    matches!(verb, Verb::Fill | Verb::Top | Verb::Glaze | Verb::Dust | Verb::Wash)
}

fn brings_nothing(step: &Step) -> bool {
    step.phases.iter().all(|phase| phase.with.is_empty() && phase.place.is_none())
}
