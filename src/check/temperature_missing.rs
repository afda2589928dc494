//! `temperature-missing`: a bake of which nobody wrote how hot the oven is.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Step, Verb};

/// `temperature-missing`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "temperature-missing",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("temperature_missing.md"),
};

/// Adds what it finds in a formula to `findings`. A bake that takes the heat of a `preheat` has it
/// already. What says no time either is `time-missing`, which asks for both.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let is_bare = |step: &&Step| {
        let first = step.phases.first();
        step.verb == Verb::Bake
            && first.is_some_and(|phase| {
                phase.duration.is_some() && phase.at.is_none() && !phase.in_room
            })
    };
    findings.extend(context.steps().filter(is_bare).map(|step| {
        let is_later = step.phases.iter().skip(1).any(|phase| phase.at.is_some());
        let message = match is_later {
            true => "this `bake` does not say how hot the oven is when it begins",
            false => "this `bake` does not say how hot the oven is",
        };
        Finding::new(&RULE, step.verb_span, message)
            .note("whoever bakes by the card or the plan has to guess")
            .help("write it, as in `bake 40min at 220C`, or before it `preheat 45min at 250C`")
    }));
}
