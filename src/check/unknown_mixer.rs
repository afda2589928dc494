//! `unknown-mixer`: dough is mixed in something that the house does not have.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule, nearest};
use crate::syntax::tree::{Name, Verb};

/// `unknown-mixer`, an error about the method.
pub const RULE: Rule = Rule {
    name: "unknown-mixer",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("unknown_mixer.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for place in places(context) {
        let said =
            Finding::new(&RULE, place.span, format!("there is no mixer called `{}`", place.shown));
        let mixers = context.house.mixers().iter().map(|mixer| mixer.name.shown.as_str());
        findings.push(match nearest(&place.key, mixers) {
            Some(near) => {
                said.help(format!("did you mean `{near}`?")).repair(place.span, near, false)
            }
            None => said.help(
                "declare it in the `bakehouse`: `mixer NAME { holds 3 kg..28 kg; friction 11C }`",
            ),
        });
    }
}

/// The places where dough is mixed that nobody knows.
fn places<'a>(context: &'a Context) -> impl Iterator<Item = &'a Name> {
    let mixes = context.steps().filter(|step| step.verb == Verb::Mix);
    let places = mixes.flat_map(|step| &step.phases).filter_map(|phase| phase.place.as_ref());
    places.filter(|place| context.house.settings.declared && !context.is_place(&place.key))
}
