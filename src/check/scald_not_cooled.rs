//! `scald-not-cooled`: a scald that goes into a dough with yeast, and nothing says that it
//! cools before.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::{Stage, StageKind, Verb};

/// `scald-not-cooled`, a warning about the method.
pub const RULE: Rule = Rule {
    name: "scald-not-cooled",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("scald_not_cooled.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    // Without a method nothing says when anything goes in.
    if context.worked.formula.method.is_none() || !context.is_alive(None) {
        return;
    }
    let scalds = context.worked.formula.stages.iter().filter(|stage| is_hot(stage));
    findings.extend(scalds.filter(|stage| !cools(stage)).map(|stage| {
        let name = &stage.name.shown;
        Finding::new(
            &RULE,
            stage.name.span,
            format!("nothing says that `{name}` cools before it meets the yeast"),
        )
        .note("a scald comes off the fire hot enough to kill yeast; common practice, no source")
        .help("say how long it stands, and how warm: `stands 2h at 20C`")
    }));
}

/// Whether it is made with heat.
fn is_hot(stage: &Stage) -> bool {
    let boils = || {
        let steps = stage.method.iter().flat_map(|method| &method.steps);
        steps.into_iter().any(|step| matches!(step.verb, Verb::Boil | Verb::Scald))
    };
    stage.kind == StageKind::Scald || boils()
}

/// Whether it is said to stand or to cool, or how warm it goes in.
fn cools(stage: &Stage) -> bool {
    let steps = stage.method.iter().flat_map(|method| &method.steps);
    let waits = |verb| matches!(verb, Verb::Cool | Verb::Rest | Verb::Chill | Verb::Soak);
    let is_said = |step: &crate::syntax::tree::Step| {
        waits(step.verb) || step.phases.iter().any(|phase| phase.to.is_some())
    };
    !stage.stands.is_empty()
        || !stage.ripens.is_empty()
        || !stage.keeps.is_empty()
        || steps.into_iter().any(is_said)
}
