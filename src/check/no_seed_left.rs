//! `no-seed-left`: a stage that leaves no seed although some is to be kept.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::syntax::tree::Counting;

pub const RULE: Rule = Rule {
    name: "no-seed-left",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("no_seed_left.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (index, stage) in context.worked.formula.stages.iter().enumerate() {
        for line in &stage.mix.lines {
            let Counting::KeptBack { from: Some(from) } = &line.counting else { continue };
            let later =
                context.worked.formula.stages.iter().position(|other| other.name.key == from.key);
            let Some(later) = later else { continue };
            let flows = context.flows_into(index, later);
            if !flows {
                findings.push(
                    Finding::new(
                        &RULE,
                        line.span,
                        format!(
                            "nothing of `{}` is in `{}`, so no seed can be kept back from it",
                            stage.name.shown, from.shown
                        ),
                    )
                    .help("keep it back from a stage that this one feeds"),
                );
            }
        }
    }
}
