//! Which oven pieces go into, and in how many loads.

use super::house::Oven;
use super::piece_kinds::is_kind;
use super::worked::{Worked, WorkedPiece};
use crate::quantity::Exact;
use crate::syntax::tree::Step;

impl Oven {
    /// How many pieces like this one it holds on all its decks; none where it does not say.
    pub fn held(&self, piece: &WorkedPiece) -> Option<Exact> {
        let of_kind = |key: &str| is_kind(&piece.made.key, key);
        let own =
            self.holds.iter().find(|(kind, _)| kind.as_ref().is_some_and(|it| of_kind(&it.key)));
        let any = || self.holds.iter().find(|(kind, _)| kind.is_none());
        let on_one = own.or_else(any).map(|(_, most)| most).filter(|most| !most.is_zero());
        on_one.map(|most| most * Exact::from(self.decks))
    }

    /// Loads of some pieces, a load shared by several kinds; none where it does not say, or
    /// there are no pieces.
    pub fn loads<'p>(&self, pieces: impl IntoIterator<Item = &'p WorkedPiece>) -> Option<Exact> {
        let mut sum = None;
        for piece in pieces {
            let loads = piece.made.count.over(&self.held(piece)?)?;
            sum = Some(sum.map_or(loads.clone(), |sum: Exact| sum + loads));
        }
        sum
    }
}

impl Worked<'_> {
    /// The oven of a bake and the whole loads that it takes of its pieces: the one that it
    /// names, else the one with the fewest loads. None where no oven says what it holds.
    pub fn loads_of(&self, step: &Step) -> Option<(&Oven, u32)> {
        let kind = step.phases.iter().find_map(|phase| phase.kind.as_ref());
        let is_for =
            |piece: &&WorkedPiece| kind.is_none_or(|kind| is_kind(&kind.key, &piece.made.key));
        let ovens = self.house.ovens().iter();
        let is_named = |oven: &&Oven| {
            let mut places = step.phases.iter().filter_map(|phase| phase.place.as_ref());
            places.any(|place| place.key == oven.name.key)
        };
        let named = ovens.clone().find(is_named);
        let all = ovens.filter(|oven| named.is_none_or(|named| std::ptr::eq(*oven, named)));
        let loads = |oven: &Oven| {
            let loads = oven.loads(self.first().pieces.iter().filter(is_for))?;
            u32::try_from(loads.ceil()).ok()
        };
        all.filter_map(|oven| Some((oven, loads(oven)?))).min_by_key(|(_, loads)| *loads)
    }
}
