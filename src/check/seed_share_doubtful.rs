//! `seed-share-doubtful`: an unusual share of culture in a stage.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::percent;

pub const RULE: Rule = Rule {
    name: "seed-share-doubtful",
    level: Level::Warning,
    group: Group::Salt,
    page: include_str!("seed_share_doubtful.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(range) = context.limit("habit of stages", "inoculation") else { return };
    for (index, stage) in context.worked.formula.stages.iter().enumerate() {
        let worked = &context.first().stages[index];
        let seed = context.worked.seed_mass(worked);
        if seed.is_zero() || worked.basis.is_zero() {
            continue;
        }
        let share = seed / &worked.basis;
        if !range.holds(&share) {
            findings.push(
                Finding::new(
                    &RULE,
                    stage.name.span,
                    format!("`{}` is begun with {} % of culture on its flour", stage.name.shown, percent(&share, 2)),
                )
                .note(format!("usual is {}", super::show_range(&range)))
                .help("check the culture's amount; it is a percentage of the flour that is new in the stage"),
            );
        }
    }
}
