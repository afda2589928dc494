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
        let usual = USUAL.iter().copied().filter(|_| !context.house.settings.declared);
        findings.push(match nearest(&place.key, mixers.chain(usual)) {
            Some(near) => {
                said.help(format!("did you mean `{near}`?")).repair(place.span, near, false)
            }
            None => said.help(format!(
                "declare it in the `bakehouse`: `mixer NAME {{ holds 3 kg..28 kg; friction 11C }}`; \
                 what goes in is written `with {}`",
                place.shown
            )),
        });
    }
}

/// What people mix in who declare no machines.
const USUAL: &[&str] = &[
    "spiral",
    "spiral mixer",
    "planetary",
    "planetary mixer",
    "mixer",
    "stand mixer",
    "dough mixer",
    "fork mixer",
    "fork",
    "diving arm mixer",
    "diving arm",
    "oblique mixer",
    "horizontal mixer",
    "kneader",
    "food processor",
    "bread machine",
    "bench mixer",
];

/// The places where dough is mixed that nobody knows.
fn places<'a>(context: &'a Context) -> impl Iterator<Item = &'a Name> {
    let mixes = context.steps().filter(|step| step.verb == Verb::Mix);
    let places = mixes.flat_map(|step| &step.phases).filter_map(|phase| phase.place.as_ref());
    let is_usual =
        |place: &Name| !context.house.settings.declared && USUAL.contains(&place.key.as_str());
    places.filter(move |place| !context.is_place(&place.key) && !is_usual(place))
}
