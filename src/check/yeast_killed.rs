//! `yeast-killed`: a dough so hot that what raises it dies.

use super::context::Context;
use crate::diag::amounts::celsius;
use crate::diag::{Finding, Group, Level, Rule};

pub const RULE: Rule = Rule {
    name: "yeast-killed",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("yeast_killed.md"),
};

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let Some(most) =
        context.limit("physics of temperatures", "worked").and_then(|worked| worked.high)
    else {
        return;
    };
    for step in context.living_steps() {
        for to in step.phases.iter().filter_map(|phase| phase.to.as_ref()) {
            let Some(quantity) = to.high.as_ref().or(to.low.as_ref()) else { continue };
            if context.base(quantity) > most {
                findings.push(
                    Finding::new(
                        &RULE,
                        quantity.span,
                        format!(
                            "at {} the yeast or the culture dies",
                            celsius(&context.base(quantity), 0)
                        ),
                    )
                    .note(format!(
                        "above {} no yeast lives long; common practice, no source",
                        celsius(&most, 0)
                    ))
                    .help("is °F meant, or the oven?"),
                );
            }
        }
    }
}
