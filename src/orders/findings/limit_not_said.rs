//! `limit-not-said`: what a house does not say of itself, and a day then takes as without limit.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::House;
use crate::syntax::tree::Day;

/// `limit-not-said`, a note about days.
pub const RULE: Rule = Rule {
    name: "limit-not-said",
    level: Level::Note,
    group: Group::Prints,
    page: include_str!("limit_not_said.md"),
};

/// All of it in one note; none where everything is said.
pub fn finding(house: &House, day: &Day) -> Option<Finding> {
    let mut unsaid: Vec<String> = Vec::new();
    if house.mixers().is_empty() {
        unsaid.push("mixers: `mixer spiral { holds 3 kg..28 kg }`".into());
    }
    let mixers = house.mixers().iter().filter(|mixer| mixer.holds.is_none());
    unsaid.extend(mixers.map(|it| format!("what the mixer `{}` holds", it.name.shown)));
    if house.ovens().is_empty() {
        unsaid.push("ovens: `oven deck { decks 3; holds 8 loaves }`".into());
    }
    let ovens = house.ovens().iter().filter(|oven| oven.holds.is_empty());
    unsaid.extend(ovens.map(|it| format!("what a deck of the oven `{}` holds", it.name.shown)));
    let racks = house.racks().iter().filter(|rack| rack.boards.is_none());
    unsaid.extend(racks.map(|it| format!("how many boards `{}` holds", it.name.shown)));
    let counts_boards = house.racks().iter().any(|rack| rack.boards.is_some());
    if counts_boards && house.boards().is_empty() {
        unsaid.push("what stands on a board: `board { holds 6 loaves, 24 rolls }`".into());
    }
    if house.settings.hours.is_empty() && day.hours.is_empty() {
        unsaid.push("when there are hands: `hours 03:30..13:00 with 2`".into());
    }
    let (first, others) = unsaid.split_first()?;
    let message = "what the bakehouse does not say counts as unlimited for a day";
    let said = Finding::new(&RULE, day.name.span, message).note(format!("not said: {first}"));
    let said = others.iter().fold(said, |said, other| said.note(format!("not said: {other}")));
    Some(said.help("add it to the bakehouse; hands that nobody counts are one pair, at any time"))
}
