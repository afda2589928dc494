//! Why a line weighs what it weighs.

use super::Origin;
use crate::formula::figure::ValueKind;
use crate::formula::ground::Ground;
use crate::formula::line_ref::LineRef;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::formula::worked::{Within, WorkedLine};
use crate::quantity::{Dimension, Unit};
use crate::syntax::tree::{Amount, Base, Line, Mix, Quantity, Size};

impl Origin<'_, '_> {
    /// Why a line weighs what it weighs.
    pub(in crate::formula) fn line(
        &self,
        line: &WorkedLine,
        mix: Option<&Mix>,
        within: Within,
    ) -> Reason {
        let declared = line.line.and_then(|index| mix?.lines.get(index));
        let mut what = Subject::from(&line.name);
        if let Some(role) = &line.role {
            what = Subject::InRole(Box::new(what), role.clone());
        }
        let Some(declared) = declared else {
            let why = match within {
                Within::Pieces => Ground::OnOnePiece,
                _ => Ground::MadeForTheDough,
            };
            return Reason::given(what, line.mass.clone(), ValueKind::Mass, why);
        };
        // In the final dough of a total, what the stages took is gone.
        let is_final = within == Within::FinalDough && self.worked.formula.total.is_some();
        let total = self.numbers.total_lines.iter().find(|total| total.line == line.line);
        if let (true, Some(total)) = (is_final, total) {
            let whole = self.line(total, mix, Within::All);
            let taken = &whole.amount - &line.mass;
            let why = Ground::TakenByStages;
            let taken = Reason::given(Topic::TakenByStages, taken, ValueKind::Mass, why);
            let reason = Reason::less(what, ValueKind::Mass, whole, taken);
            return reason.at(declared.span);
        }
        let reason = Reason::new(what, line.mass.clone(), ValueKind::Mass, How::Written);
        self.amount(reason.at(declared.amount_span), line, declared, within)
    }

    fn amount(&self, reason: Reason, line: &WorkedLine, declared: &Line, within: Within) -> Reason {
        let words = How::Because;
        match &declared.amount {
            Amount::Measured { range, base } => {
                let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else {
                    return reason;
                };
                match quantity.unit.dimension() {
                    Dimension::Share => self.percentage(reason, quantity, base.as_deref(), within),
                    Dimension::Part => {
                        let Some(one) = reason.amount.over(&quantity.number) else {
                            return reason;
                        };
                        let number = quantity.number.clone();
                        let parts =
                            Reason::new(Topic::Parts, number, ValueKind::Number, How::Written);
                        let why = Ground::ForTheSizeOfTheMix;
                        let one = Reason::given(Topic::OnePart, one, ValueKind::Mass, why);
                        Reason { how: How::Product, ..reason }
                            .of(vec![parts.at(quantity.span), one])
                    }
                    _ => self.weighed(reason, line, quantity),
                }
            }
            Amount::Rest => Reason { how: words(Ground::MissingToAHundred), ..reason },
            Amount::All => Reason { how: words(Ground::AllThatIsMade), ..reason },
            _ => Reason { how: words(Ground::TooLittleToCount), ..reason },
        }
    }

    fn percentage(
        &self,
        reason: Reason,
        quantity: &Quantity,
        base: Option<&Base>,
        within: Within,
    ) -> Reason {
        let share = self.base(quantity);
        let Some(whole) = reason.amount.over(&share) else { return reason };
        let of_total = match within {
            Within::Stage(stage) => {
                let sizes = &self.worked.formula.stages[stage].sizes;
                sizes.iter().any(|size| matches!(size.size, Size::OfTotal))
            }
            _ => false,
        };
        let of = match base {
            Some(Base::Dough) => Topic::WholeDough,
            Some(Base::BaseDough) => Topic::RestOfMix,
            Some(Base::Of(_)) => Topic::WhatItNames,
            Some(Base::Flour) => Topic::AllFlour,
            None if of_total && self.worked.formula.total.is_some() => Topic::FlourOfTotal,
            None if of_total => Topic::AllFlour,
            Some(Base::AddedFlour) | None => match within {
                Within::Stage(_) => Topic::FlourNewInStage,
                _ => Topic::Flour,
            },
        };
        let own = self.basis(within);
        let is_own = matches!(base, None | Some(Base::AddedFlour)) && !of_total;
        let base = match is_own && own.amount == whole {
            true => Reason { what: of.into(), ..own },
            false if is_own => {
                // Where a total is rounded, a stage gets what there is.
                let how = How::Because(Ground::LeftByTheTotal);
                return Reason { how, ..reason };
            }
            false => Reason::given(of, whole, ValueKind::Mass, Ground::BaseOfPerCent),
        };
        let written = Reason::new(Topic::Written, share, ValueKind::Share, How::Written);
        Reason { how: How::Product, ..reason }.of(vec![written.at(quantity.span), base])
    }

    /// A weight, a spoon or a count, and how much larger it is made than written.
    fn weighed(&self, reason: Reason, line: &WorkedLine, quantity: &Quantity) -> Reason {
        let ingredient = match line.goes {
            LineRef::Ingredient(id) => Some(self.house.ingredient(id)),
            _ => None,
        };
        let number = self.base(quantity);
        let each = match quantity.unit.dimension() {
            Dimension::Volume => ingredient.and_then(|own| own.grams_per_ml.clone()),
            Dimension::Count => ingredient.and_then(|own| own.each.clone()),
            _ => None,
        };
        let mut parts = match (&each, ingredient) {
            (Some(each), Some(ingredient)) => {
                let (what, of) = match quantity.unit {
                    Unit::Count => (Topic::Pieces, Topic::GramsOfOne),
                    _ => (Topic::Millilitres, Topic::GramsOfMillilitre),
                };
                let written = Reason::new(what, number.clone(), ValueKind::Number, How::Written);
                let each = Reason::new(of, each.clone(), ValueKind::Number, How::Written);
                vec![written.at(quantity.span), each.at(ingredient.name.span)]
            }
            _ => {
                let written =
                    Reason::new(Topic::Written, number.clone(), ValueKind::Mass, How::Written);
                vec![written.at(quantity.span)]
            }
        };
        let plain = each.map_or(number.clone(), |each| number * each);
        if plain == reason.amount {
            return match parts.len() {
                1 => reason,
                _ => Reason { how: How::Product, ..reason }.of(parts),
            };
        }
        let Some(times) = reason.amount.over(&plain) else { return reason };
        parts.push(Reason::given(
            Topic::HowMuchLarger,
            times,
            ValueKind::Number,
            Ground::MadeLarger,
        ));
        Reason { how: How::Product, ..reason }.of(parts)
    }
}
