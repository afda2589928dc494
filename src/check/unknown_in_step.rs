//! `unknown-in-step`: a step that adds what the mix does not have.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Trouble;

pub const RULE: Rule = Rule { name: "unknown-in-step", level: Level::Error, group: Group::Method };

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (_, trouble) in context.method_troubles() {
        let Trouble::Unknown { name, near } = trouble else { continue };
        let said = Finding::new(
            &RULE,
            name.span,
            format!("this step adds `{}`, which is not in the mix", name.shown),
        );
        findings.push(match near {
            Some(near) => said.help(format!("did you mean `{near}`?")).repair(
                name.span,
                near.to_string(),
                false,
            ),
            None => said.help(
                "add a line for it, or name what the mix has; a stage may have used all of it",
            ),
        });
    }
}
