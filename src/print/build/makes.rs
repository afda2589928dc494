//! What the formula makes.

use crate::formula::class::Class;
use crate::formula::{SizedBy, WorkedPiece};
use crate::print::context::PrintContext;
use crate::print::document::{PiecePart, Weight, Yield};
use crate::print::live::{base, target};
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::Quantity;

impl PrintContext<'_, '_> {
    /// What the formula makes, of each kind of piece.
    pub(super) fn makes(&self) -> Yield {
        let numbers = self.numbers();
        let whole = numbers.whole.mass();
        let pieces: Vec<PiecePart> = numbers
            .pieces
            .iter()
            .enumerate()
            .map(|(index, piece)| PiecePart {
                count: self.trimmed(&piece.made.count, 2),
                kind: self.piece_kind(&piece.made.kind),
                weight: self.piece_weight(index, &Exact::ONE),
                baked: piece
                    .made
                    .loss
                    .as_ref()
                    .map(|loss| self.piece_weight(index, &(Exact::ONE - loss))),
                as_eaten: self.as_eaten(index, piece),
                loss: piece.made.loss.as_ref().map(|loss| self.percent(loss, 1)),
                tin: piece.made.tin.as_ref().map(ToString::to_string),
            })
            .collect();
        let flour = self.worked.flour(&numbers.whole);
        let dough = self.head_weight(&whole);
        let said = |weight: &Weight| format!("{} {}", weight.shown, weight.unit);
        let text = match pieces.is_empty() {
            true if numbers.anchor == SizedBy::Default => {
                let flour = said(&self.flour_weight(&flour));
                self.words.fill("makes-flour", &[("weight", &flour)])
            }
            true => self.words.fill("makes-dough", &[("weight", &said(&dough))]),
            false => pieces
                .iter()
                .map(|piece| {
                    let args = [
                        ("count", piece.count.as_str()),
                        ("kind", &piece.kind),
                        ("weight", &said(&piece.weight)),
                    ];
                    self.words.fill("makes-pieces", &args)
                })
                .chain(self.left_of_dough())
                .collect::<Vec<_>>()
                .join(", "),
        };
        let text = self.as_asked(text);
        let serves = self.serves();
        let text = match &serves {
            Some(people) => {
                let serves = self.words.fill("serves", &[("people", people)]);
                format!("{text}, {serves}")
            }
            None => text,
        };
        Yield {
            text,
            pieces,
            serves,
            flour: self.flour_weight(&flour),
            batches: self.batches,
            batch: self.head_weight(&whole.each_of(&Exact::from(self.batches))),
            dough,
            assumed: numbers.anchor == SizedBy::Default,
        }
    }

    /// What is made with what it is made from, where that is what was asked for.
    fn as_asked(&self, made: String) -> String {
        let makes = self.worked.formula.makes.as_ref();
        let Some((amount, of)) = makes.and_then(|makes| makes.from.as_ref()) else { return made };
        let weight = match amount.unit.dimension() {
            Dimension::Mass => {
                let grams = base(self, amount);
                self.plain(&grams, &self.rounded(&grams)).said()
            }
            _ => self.measure(amount.unit, &amount.number, &amount.number),
        };
        let name = target(self, of);
        let of_name = self.words.of(&name);
        let args = [("made", &*made), ("weight", &weight), ("name", &name), ("of-name", &of_name)];
        self.words.fill("makes-from", &args)
    }

    /// How many people it serves, of as much as is made.
    fn serves(&self) -> Option<String> {
        let serves = self.worked.formula.serves.as_ref()?;
        let shown = |end: &Quantity| self.trimmed(&(&end.number * &self.worked.scaled), 0);
        let (low, high) = (serves.low.as_ref().map(shown), serves.high.as_ref().map(shown));
        Some(match (low, high) {
            (Some(low), Some(high)) if low != high => format!("{low}–{high}"),
            (low, high) => high.or(low)?,
        })
    }

    /// A part of a piece's dough: a range where ranged amounts are shared out.
    fn piece_weight(&self, index: usize, part: &Exact) -> Weight {
        let each = self.worked.choices.iter().filter_map(|numbers| numbers.pieces.get(index));
        let weights = each.map(|piece| &piece.made.weight * part);
        let (low, high) = weights.fold((None::<Exact>, None::<Exact>), |(low, high), weight| {
            let lower = low.map_or(weight.clone(), |low| low.min(weight.clone()));
            (Some(lower), Some(high.map_or(weight.clone(), |high| high.max(weight))))
        });
        // A piece weighs what was asked for, also where all of the dough is one piece and
        // its lines come to a little more or less.
        let alone = |grams: Exact| self.plain(&grams, &self.rounded(&grams));
        let shown = alone(low.unwrap_or_default());
        let high = alone(high.unwrap_or_default());
        match shown.shown == high.shown && shown.unit == high.unit {
            true => shown,
            false if shown.unit == high.unit => {
                Weight { shown: format!("{}–{}", shown.shown, high.shown), ..shown }
            }
            false => {
                let shown = format!("{} {}–{}", shown.shown, shown.unit, high.shown);
                Weight { shown, ..high }
            }
        }
    }

    /// All the flour: as it was asked for, else what its lines show.
    pub fn flour_weight(&self, grams: &Exact) -> Weight {
        let flour = self.worked.flour(&self.numbers().whole);
        let scale = self.scale(self.first());
        let is_round = grams.is_multiple_of(&scale.resolution(grams));
        if is_round || *grams != flour {
            return self.head_weight(grams);
        }
        let sum = self.shown(|weighing| Some(&weighing.dough.sum));
        let sums = self.class_sums(&[(Class::Flour, flour)], &sum);
        sums.first().map_or_else(|| self.head_weight(grams), |sum| self.plain(grams, sum))
    }

    /// What is left where a dough is divided into as many pieces as it gives.
    fn left_of_dough(&self) -> Option<String> {
        let makes = self.worked.formula.makes.as_ref()?;
        let left = self.numbers().dough_left()?;
        let is_open = makes.pieces.iter().any(|made| !made.counted) && left > Exact::ZERO;
        let weight = self.plain_weight(&left);
        let said = format!("{} {}", weight.shown, weight.unit);
        is_open.then(|| self.words.fill("makes-left", &[("weight", &said)]))
    }

    /// One piece out of the oven, where it carries something besides its dough.
    fn as_eaten(&self, index: usize, piece: &WorkedPiece) -> Option<Weight> {
        let numbers = self.numbers();
        let carries = self.worked.carried_lines(numbers, piece).any(|line| !line.mass.is_zero());
        let eaten = self.worked.as_eaten(numbers, piece).filter(|_| carries)?;
        Some(self.piece_weight(index, &eaten.over(&piece.made.weight)?))
    }
}
