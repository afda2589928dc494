//! `ingredient-added-twice`: something that more than one step adds.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Trouble;
use crate::quantity::display::percent;
use crate::source::Span;

/// `ingredient-added-twice`, an error about the method.
pub const RULE: Rule = Rule {
    name: "ingredient-added-twice",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("ingredient_added_twice.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let mut told: Vec<Span> = Vec::new();
    for (_, trouble) in context.method_troubles() {
        let Trouble::Twice { name, first, again, share, beside } = trouble else { continue };
        let same: Vec<&str> = added_again(context, *again).collect();
        if same.len() > 1 {
            if !told.contains(again) {
                told.push(*again);
                findings.push(several(&same, *first, *again));
            }
            continue;
        }
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

/// What a step adds although other steps have added all of it.
fn added_again<'c>(context: &'c Context, step: Span) -> impl Iterator<Item = &'c str> {
    context.method_troubles().filter_map(move |(_, trouble)| match trouble {
        Trouble::Twice { name, again, .. } if *again == step => Some(name.as_str()),
        _ => None,
    })
}

/// Several things that one step adds again.
fn several(names: &[&str], first: Span, again: Span) -> Finding {
    let mut quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    let last = quoted.pop().unwrap_or_default();
    let message = format!("{} and {last} are added again", quoted.join(", "));
    let said = Finding::new(&RULE, again, message).here("again here");
    let said = if first == again { said } else { said.label(first, "first here") };
    said.help(
        "take them out of one of the steps, or split them: `60% of water`, then `remaining water`",
    )
}
