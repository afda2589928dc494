//! What an author wrote of an exercise, for each seat: the first one has it as it is written,
//! every other one a number beside it, as round as that.

use super::super::maker::{Made, Maker};
use crate::print::document::Document;
use crate::quantity::display::read_exact;
use crate::quantity::{Exact, int, ratio};
use crate::syntax::booklet::ExerciseKind;
use crate::syntax::tree::{Factor, Makes, Quantity};

/// How many numbers are tried until one of a turn does.
const MAX_TRIED: usize = 600;

/// Minutes between the times at which bread is to be ready.
const HALF_HOUR: u32 = 30;

/// Half hours of a day.
const HALF_HOURS: usize = 48;

impl Maker<'_> {
    /// An exercise for its turn, which counts seats, and after them the next of the same kind.
    pub fn in_turn(&self, what: &ExerciseKind, made: &Made, turn: usize) -> ExerciseKind {
        if turn == 0 {
            return what.clone();
        }
        match what {
            ExerciseKind::Scale(Some(makes)) => {
                ExerciseKind::Scale(Some(other_yield(makes, made.document(self), turn)))
            }
            ExerciseKind::Substitute(Some((from, to, part))) => {
                let total = &made.document(self).total;
                let own = total.iter().find(|line| line.key == from.key.as_str());
                let own = own.and_then(|line| read_exact(line.percent_exact.as_deref()?));
                let fits = |number: &Exact| {
                    let part = Quantity { number: number.clone(), ..part.clone() };
                    own.as_ref().is_none_or(|own| self.house.base(&part) <= *own)
                };
                let part = beside(part, false, turn, fits);
                ExerciseKind::Substitute(Some((from.clone(), to.clone(), part)))
            }
            ExerciseKind::Starter(stage, Some(wanted)) => {
                ExerciseKind::Starter(stage.clone(), Some(beside(wanted, false, turn, |_| true)))
            }
            ExerciseKind::WhenToBegin(Some(ready)) => {
                let later = u32::try_from(turn % HALF_HOURS).unwrap_or(0) * HALF_HOUR;
                ExerciseKind::WhenToBegin(Some((ready + later) % 1440))
            }
            _ => what.clone(),
        }
    }
}

/// Another yield of the same form; none that the formula makes by itself.
fn other_yield(makes: &Makes, own: &Document, turn: usize) -> Makes {
    let mut makes = makes.clone();
    let kept = own.makes.pieces.first().and_then(|it| read_exact(&it.count));
    let is_new = |number: &Exact| kept.as_ref() != Some(number);
    if let Some(piece) = makes.pieces.first_mut() {
        if piece.counted {
            piece.count = beside(&piece.count, true, turn, is_new);
        }
    } else if let Some(dough) = makes.dough.as_mut() {
        *dough = beside(dough, false, turn, |_| true);
    } else if let Some((amount, _)) = makes.from.as_mut() {
        *amount = beside(amount, false, turn, |_| true);
    } else if let Some(Factor::Times(factor) | Factor::People(factor)) = makes.factor.as_mut() {
        *factor = near(factor, true, turn, |number| *number != Exact::ONE);
    }
    makes
}

fn beside(own: &Quantity, is_count: bool, turn: usize, fits: impl Fn(&Exact) -> bool) -> Quantity {
    Quantity { number: near(&own.number, is_count, turn, fits), ..own.clone() }
}

/// The number itself, then those about it in steps of about a quarter of it: one more, one less,
/// two more. Above nothing, and only such as fit; where too few do, from the first one again.
fn near(own: &Exact, is_count: bool, turn: usize, fits: impl Fn(&Exact) -> bool) -> Exact {
    let step = step_of(own, is_count);
    let others = (1..MAX_TRIED).map(|at| {
        let far = int(i64::try_from(at.div_ceil(2)).unwrap_or(1)) * &step;
        if at % 2 == 1 { own + far } else { own - far }
    });
    let all: Vec<Exact> = std::iter::once(own.clone())
        .chain(others.filter(|it| *it > Exact::ZERO && fits(it)))
        .take(turn + 1)
        .collect();
    all.get(turn % all.len().max(1)).cloned().unwrap_or_else(|| own.clone())
}

/// The largest of 1, 2 and 5 times a power of ten that is no more than a quarter of a number;
/// of a count at least one.
fn step_of(own: &Exact, is_count: bool) -> Exact {
    let powers = [10_000, 1000, 100, 10, 1].map(int).into_iter();
    let parts = [10, 100, 1000].map(|it| ratio(1, it));
    let steps = powers.chain(parts).flat_map(|ten| [5, 2, 1].map(|it| int(it) * &ten));
    let quarter = own.one_in::<4>();
    let step = steps.into_iter().find(|step| *step <= quarter).unwrap_or(Exact::ONE);
    if is_count { step.max(Exact::ONE) } else { step }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_beside_a_number_are_as_round_as_it() {
        let first = |own: Exact, is_count| -> Vec<String> {
            (0..5).map(|turn| near(&own, is_count, turn, |_| true).to_string()).collect()
        };
        assert_eq!(first(int(300), false), ["300", "350", "250", "400", "200"]);
        assert_eq!(first(int(5), true), ["5", "6", "4", "7", "3"]);
        assert_eq!(first(int(2), true), ["2", "3", "1", "4", "5"]);
        assert_eq!(first(int(20), false), ["20", "25", "15", "30", "10"]);
        let few = |turn| near(&int(20), false, turn, |it| *it <= int(25)).to_string();
        assert_eq!([few(0), few(1), few(2), few(3), few(4)], ["20", "25", "15", "10", "5"]);
        assert_eq!(few(5), "20");
        // All of 200 seats differ where there is room.
        let all: std::collections::BTreeSet<String> =
            (0..200).map(|turn| near(&int(8), true, turn, |_| true).to_string()).collect();
        assert_eq!(all.len(), 200);
    }
}
