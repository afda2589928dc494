//! How heavy pieces are, and what they lose.

use super::Origin;
use crate::formula::figure::ValueKind;
use crate::formula::ground::{Assumption, Ground};
use crate::formula::piece_kinds::is_kind;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::formula::worked::{WorkedPiece, before_loss};
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::Piece;

impl Origin<'_, '_> {
    /// How many pieces of a kind are made.
    pub(in crate::formula) fn count(&self, piece: &WorkedPiece) -> Reason {
        let made = &piece.made;
        let count = Reason::new(&made.kind, made.count.clone(), ValueKind::Number, How::Written);
        match &self.worked.formula.makes {
            Some(makes) => count.at(makes.span),
            None => count,
        }
    }

    /// The dough for all pieces of a kind, with what is lost in making them up.
    pub(in crate::formula) fn dough_of_kind(&self, index: usize, piece: &WorkedPiece) -> Reason {
        let kind = &piece.made.kind;
        let made = vec![self.count(piece), self.piece(index, piece)];
        let made = Reason::product_of(Subject::DoughFor(kind.clone()), ValueKind::Mass, made);
        let loss = &piece.made.make_up_loss;
        if loss.is_zero() {
            return made;
        }
        let made = Reason { what: Subject::DoughMadeUp(kind.clone()), ..made };
        let amount = before_loss(&made.amount, loss);
        let left = self.left_after(Topic::MakeUpLoss, loss, self.loss_place(piece, false));
        let what = Subject::DoughFor(kind.clone());
        Reason::new(what, amount, ValueKind::Mass, How::Ratio).of(vec![made, left])
    }

    /// What a loss leaves of one.
    pub(in crate::formula) fn left_after(
        &self,
        name: Topic,
        loss: &Exact,
        place: Option<Span>,
    ) -> Reason {
        let lost = Reason::new(name, loss.clone(), ValueKind::Share, How::Written);
        let lost = Reason { place, ..lost };
        let whole = Reason::new(Topic::TheWhole, Exact::ONE, ValueKind::Share, How::Written);
        Reason::less(Subject::LeftAfter(name), ValueKind::Share, whole, lost)
    }

    /// Where the loss of a kind of piece is written, in the oven or in making up.
    pub(in crate::formula) fn loss_place(&self, piece: &WorkedPiece, bake: bool) -> Option<Span> {
        let formula = &self.worked.formula;
        let of = |own: &Piece| {
            let loss = if bake { &own.bake_loss } else { &own.make_up_loss };
            loss.as_ref().map(|loss| loss.span)
        };
        let mut own = formula.pieces.iter().filter(|own| {
            own.kind.as_ref().is_some_and(|kind| is_kind(&kind.key, &piece.made.key))
        });
        let mut all = formula.pieces.iter().filter(|own| own.kind.is_none());
        let whole = if bake { &formula.bake_loss } else { &formula.make_up_loss };
        let whole = whole.as_ref().map(|loss| loss.span);
        own.find_map(of).or_else(|| all.find_map(of)).or(whole)
    }

    /// The dough of one piece.
    pub(in crate::formula) fn piece(&self, index: usize, piece: &WorkedPiece) -> Reason {
        let made = &piece.made;
        let amount = made.weight.clone();
        let what = Topic::DoughOfOne;
        let makes = self.worked.formula.makes.as_ref();
        let declared = makes.and_then(|makes| makes.pieces.get(index));
        let Some(declared) = declared else {
            return Reason::new(what, amount, ValueKind::Mass, How::Written);
        };
        let ratio = |above: Reason, below: Reason| {
            let amount = above.amount.over(&below.amount)?;
            let reason = Reason::new(what, amount, ValueKind::Mass, How::Ratio);
            Some(reason.of(vec![above, below]).at(declared.span))
        };
        let told = || Reason::new(what, made.weight.clone(), ValueKind::Mass, How::Written);
        let tin = declared.tin.as_ref().and_then(|tin| self.house.tin(&tin.key));
        match (&declared.weight, &made.loss, tin) {
            (Some(weight), Some(loss), _) if declared.baked => {
                let baked = self.base(weight);
                let baked = Reason::new(Topic::BakedWeight, baked, ValueKind::Mass, How::Written);
                let left = self.left_after(Topic::BakeLoss, loss, self.loss_place(piece, true));
                let Some(plain) = ratio(baked.at(weight.span), left) else { return told() };
                let more = &amount - &plain.amount;
                if more.is_zero() {
                    return plain;
                }
                let plain = Reason { what: Topic::BakedWeightBeforeOven.into(), ..plain };
                let why = Ground::RoundedUpForTheScale;
                let more = Reason::given(Topic::RoundedUp, more, ValueKind::Mass, why);
                Reason::sum_of(what, vec![plain, more]).at(declared.span)
            }
            (Some(weight), ..) => {
                Reason::new(what, amount, ValueKind::Mass, How::Written).at(weight.span)
            }
            (None, _, Some(known)) => {
                let holds = Subject::MillilitresOf(known.name.shown.clone());
                let holds =
                    Reason::new(holds, known.millilitres.clone(), ValueKind::Number, How::Written);
                let how = match known.ml_per_gram {
                    Some(_) => How::Written,
                    None => How::Default(Assumption::TinVolumePerGram),
                };
                let ml = known.ml_for_a_gram();
                let ml = Reason::new(Topic::MillilitresForGram, ml, ValueKind::Number, how);
                ratio(holds.at(known.name.span), ml.at(known.name.span)).unwrap_or_else(told)
            }
            _ => {
                let why = Ground::SharedOut;
                Reason::given(what, amount, ValueKind::Mass, why).at(declared.span)
            }
        }
    }
}
