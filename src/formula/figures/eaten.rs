//! Figures of one piece: what it weighs, loses, and holds of salt.

use super::Figures;
use crate::formula::composition::{Composition, Substance};
use crate::formula::figure::ValueKind;
use crate::formula::ground::Ground;
use crate::formula::house::Ingredient;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::formula::term::Term;
use crate::formula::worked::{Within, WorkedPiece};
use crate::quantity::Exact;

impl Figures<'_, '_> {
    /// How many pieces of a kind are made.
    pub(super) fn count<T: Term>(&self, piece: &WorkedPiece) -> T {
        T::known(piece.made.count.clone(), |_| self.origin.count(piece))
    }

    /// The dough of one piece.
    pub(super) fn piece<T: Term>(&self) -> Option<T> {
        let (index, piece) = self.piece?;
        Some(T::known(piece.made.weight.clone(), |_| self.origin.piece(index, piece)))
    }

    /// The dough of one piece out of the oven.
    pub(super) fn baked<T: Term>(&self, what: impl FnOnce() -> Subject) -> Option<T> {
        let (_, piece) = self.piece?;
        let loss = piece.made.loss.as_ref()?;
        let left = T::known(Exact::ONE - loss, |_| {
            self.origin.left_after(Topic::BakeLoss, loss, self.origin.loss_place(piece, true))
        });
        Some(T::product(what, ValueKind::Mass, [self.piece()?, left]))
    }

    /// One piece out of the oven, with what it carries. What is filled and topped is counted
    /// as it goes on: what it loses in the oven is not known.
    pub(in crate::formula) fn as_eaten<T: Term>(
        &self,
        what: impl FnOnce() -> Subject,
    ) -> Option<T> {
        let (_, piece) = self.piece?;
        let baked = self.baked(|| Topic::BakedDoughAlone.into())?;
        let carried = self.worked().carried_lines(self.numbers(), piece);
        let carried = carried.filter(|line| !line.mass.is_zero()).map(|line| {
            T::known(line.mass.clone(), |_| self.origin.line(line, None, Within::Pieces))
        });
        Some(T::sum(what, ValueKind::Mass, std::iter::once(baked).chain(carried)))
    }

    /// What is lost in the oven, or in making up; of all the dough where no piece is named.
    pub(super) fn loss<T: Term>(&self, what: &Subject, bake: bool) -> Option<T> {
        let formula = &self.worked().formula;
        let whole = if bake { &formula.bake_loss } else { &formula.make_up_loss };
        let of_all = whole.as_ref().map(|loss| self.origin.house.base(loss));
        let amount = match self.piece {
            Some((_, piece)) if bake => piece.made.loss.clone()?,
            Some((_, piece)) => {
                let is_said = of_all.is_some()
                    || formula.pieces.iter().any(|piece| piece.make_up_loss.is_some());
                is_said.then(|| piece.made.make_up_loss.clone())?
            }
            None => of_all?,
        };
        Some(T::known(amount, |amount| {
            let of_kind = self.piece.and_then(|(_, piece)| self.origin.loss_place(piece, bake));
            let place = of_kind.or(whole.as_ref().map(|loss| loss.span));
            Reason { place, ..Reason::new(what, amount, ValueKind::Share, How::Written) }
        }))
    }

    /// The salt in what is eaten of one piece, or of all the dough, over its weight; `salt`
    /// is what each ingredient holds of it. None where the loss, or the salt of some
    /// ingredient, is not known.
    pub(super) fn salt_as_eaten<T: Term>(
        &self,
        what: impl FnOnce() -> Subject,
        salt: &dyn Fn(&Ingredient) -> Option<Exact>,
    ) -> Option<T> {
        let whole = &self.numbers().whole;
        let dough: T = self.salt_in(whole, Topic::SaltInDough, Within::All, salt)?;
        let Some((_, piece)) = self.piece else {
            return self.salt_in_all(what, dough);
        };
        let whole = T::known(whole.mass(), |mass| {
            Reason::given(Topic::Dough, mass, ValueKind::Mass, Ground::TheWhole)
        });
        let in_a_gram = T::ratio(|| Topic::SaltInGram.into(), dough, whole)?;
        let own = [self.piece()?, in_a_gram];
        let own = T::product(|| Topic::SaltInDoughOfOne.into(), ValueKind::Mass, own);
        let carried = self.worked().carried_lines(self.numbers(), piece);
        let carried = self.worked().brought_by(carried);
        let beside = self.salt_in(&carried, Topic::SaltInWhatItCarries, Within::Pieces, salt)?;
        let beside = (!carried.mass().is_zero()).then_some(beside);
        let salts =
            T::sum(|| Topic::Salt.into(), ValueKind::Mass, std::iter::once(own).chain(beside));
        T::ratio(what, salts, self.as_eaten(|| Topic::OneAsEaten.into())?)
    }

    /// The same where no piece is named: over all the dough, as it comes out of the oven.
    fn salt_in_all<T: Term>(&self, what: impl FnOnce() -> Subject, salt: T) -> Option<T> {
        let loss = self.worked().formula.bake_loss.as_ref()?;
        let lost = self.origin.house.base(loss);
        let left = T::known(Exact::ONE - &lost, |_| {
            self.origin.left_after(Topic::BakeLoss, &lost, Some(loss.span))
        });
        let dough = T::known(self.numbers().whole.mass(), |_| self.origin.dough(Within::All));
        let baked = T::product(|| Topic::Baked.into(), ValueKind::Mass, [dough, left]);
        T::ratio(what, salt, baked)
    }

    /// The salt in a content, ingredient by ingredient; none where that of one is not known.
    fn salt_in<T: Term>(
        &self,
        content: &Composition,
        what: Topic,
        within: Within,
        salt: &dyn Fn(&Ingredient) -> Option<Exact>,
    ) -> Option<T> {
        let mut parts = Vec::new();
        for (substance, mass) in self.worked().wholly_split(content).iter() {
            if let Substance::Ingredient(id) = substance {
                let share = salt(self.ingredient(id))?;
                parts.extend(self.share_of(id, mass, within, Topic::Salt, share));
            }
        }
        Some(T::sum(|| what.into(), ValueKind::Mass, parts))
    }
}
