//! `limit-not-said`: what a house does not say of itself, and a day then takes as without limit.

use super::super::means::{Means, held};
use super::super::resolve::kinds as made;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{House, is_kind, work};
use crate::syntax::tree::{Day, Ordered};

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
    unsaid.extend(kinds(house));
    if house.settings.hours.is_empty() && day.hours.is_empty() {
        unsaid.push("when there are hands: `hours 03:30..13:00 with 2`".into());
    }
    let (first, others) = unsaid.split_first()?;
    let message = "what the bakehouse does not say counts as unlimited for a day";
    let said = Finding::new(&RULE, day.name.span, message).note(format!("not said: {first}"));
    let said = others.iter().fold(said, |said, other| said.note(format!("not said: {other}")));
    Some(said.help("add it to the bakehouse; hands that nobody counts are one pair, at any time"))
}

/// Kinds of pieces that are ordered, and of which nobody says how many go on a deck or a board that
/// they stand on.
fn kinds(house: &House) -> Vec<String> {
    let mut unsaid: Vec<String> = Vec::new();
    let means = Means::new(house, None);
    let days = house.day_names().into_iter().filter_map(|name| house.day(name));
    for order in days.flat_map(|day| &day.orders) {
        let formula = house.formula(&order.product.key).filter(|formula| !formula.broken);
        let Some(formula) = formula else { continue };
        for wish in &order.wishes {
            let Ordered::Pieces(_, kind) = &wish.amount else { continue };
            // What the formula does not make is told by itself.
            if !made(house, formula).iter().any(|made| is_kind(made, &kind.key)) {
                continue;
            }
            let ovens = house.ovens();
            let no_deck = ovens
                .iter()
                .all(|oven| !oven.holds.is_empty() && held(&oven.holds, &kind.key).is_none());
            let mut tell = |what: String| {
                if !unsaid.contains(&what) {
                    unsaid.push(what);
                }
            };
            if no_deck && !ovens.is_empty() {
                tell(format!("how many {} a deck holds", kind.shown));
            }
            let boards = house.boards();
            let no_board = boards.iter().all(|board| held(&board.holds, &kind.key).is_none());
            if no_board && !boards.is_empty() {
                let worked = work(house, formula, &mut Vec::new());
                let racks = means.racks_of(&worked).into_iter();
                let is_counted = |rack: usize| house.racks()[rack].boards.is_some();
                if racks.filter(|rack| is_counted(*rack)).count() > 0 {
                    tell(format!("how many {} stand on a board", kind.shown));
                }
            }
        }
    }
    unsaid
}
