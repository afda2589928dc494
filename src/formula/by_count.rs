//! Work by the piece: how many times as long as it says a step takes for all that is made.

use super::piece_kinds::is_kind;
use super::worked::Worked;
use crate::quantity::Exact;
use crate::syntax::tree::{Per, Phase};

/// Words for pieces of any kind.
const ANY: &str = "pieces";

impl Worked<'_> {
    /// How many pieces are made of those that a step counts: of the kind that it names, or
    /// of all for which it is. None where there are none of them.
    pub fn counted(&self, phase: &Phase, per: &Per) -> Option<Exact> {
        let is_for = |key: &str| phase.kind.as_ref().is_none_or(|kind| is_kind(&kind.key, key));
        let is_meant = |key: &str| is_kind(&per.kind.key, ANY) || is_kind(&per.kind.key, key);
        let pieces = self.kinds(self.first()).iter().map(|piece| &piece.made);
        let counted = pieces.filter(|made| is_for(&made.key) && is_meant(&made.key));
        let count = counted.fold(Exact::ZERO, |sum, made| sum + &made.count);
        // The usual pieces of another yield are those of the formula as it is written.
        let scaled = self.first().pieces.is_empty();
        let count = if scaled { count * &self.scaled } else { count };
        (count > Exact::ZERO).then_some(count)
    }

    /// By how much the time of a phase is to be taken: one where it is not by the piece, or
    /// nothing is there to count.
    pub fn times_as_long(&self, phase: &Phase) -> Exact {
        let Some(per) = &phase.per else { return Exact::ONE };
        let counted = self.counted(phase, per);
        counted.map_or(Exact::ONE, |count| count.each_of(&Exact::from(per.count)))
    }
}
