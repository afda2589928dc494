//! `ingredient-added-twice`: something that more than one step adds.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Trouble;
use crate::quantity::display::percent;

/// `ingredient-added-twice`, an error about the method.
pub const RULE: Rule = Rule {
    name: "ingredient-added-twice",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("ingredient_added_twice.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (_, trouble) in context.method_troubles() {
        let Trouble::Twice { name, first, again, share, beside } = trouble else { continue };
        let mut said = Finding::new(
            &RULE,
            *again,
            format!("`{name}` is added again, {} % in all", percent(share, 0)),
        )
        .here("again here");
        if first != again {
            said = said.label(*first, "first here");
        }
        findings.push(
            said.help(match beside {
                true => {
                    "take it out of one step, or say which kind of piece each is for: `for rolls`"
                        .into()
                }
                false => format!(
                    "take it out of one step, or split it: `60% of {name}`, then `remaining {name}`"
                ),
            }),
        );
    }
}
