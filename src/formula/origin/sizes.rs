//! How large doughs, stages and the flour of a mix are.

use super::Origin;
use super::mixes::IngredientQuery;
use crate::formula::class::Class;
use crate::formula::figure::ValueKind;
use crate::formula::ground::{Assumption, Ground};
use crate::formula::line_ref::LineRef;
use crate::formula::mixes::main_mix;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::formula::worked::{SizedBy, Within, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::{Counting, Mix, Size};

impl Origin<'_, '_> {
    /// The lines of a mix: of a total, those of the total.
    pub(in crate::formula) fn lines(&self, within: Within) -> Vec<(&WorkedLine, Option<&Mix>)> {
        let (numbers, formula) = (self.numbers, &self.worked.formula);
        match within {
            Within::Stage(stage) => {
                let mix = &formula.stages[stage].mix;
                numbers.stages[stage].lines.iter().map(|line| (line, Some(mix))).collect()
            }
            Within::All if formula.total.is_some() => {
                numbers.total_lines.iter().map(|line| (line, formula.total.as_ref())).collect()
            }
            _ => numbers.dough_lines.iter().map(|line| (line, main_mix(formula))).collect(),
        }
    }

    /// How heavy a mix is.
    pub(in crate::formula) fn dough(&self, within: Within) -> Reason {
        let (numbers, formula) = (self.numbers, &self.worked.formula);
        match within {
            Within::Stage(stage) => {
                let what = Subject::from(Topic::Dough).inside(&formula.stages[stage].name.shown);
                return self.made(stage, what);
            }
            Within::All | Within::FinalDough => {}
            Within::Pieces | Within::SideMix(_) => {
                let is_it = |_| true;
                let wanted = IngredientQuery { word: Topic::Dough.into(), is_it: &is_it };
                return Reason::sum_of(
                    self.word_in(Topic::Dough.into(), within),
                    self.parts(&wanted, within),
                );
            }
        }
        let amount = numbers.whole.mass();
        match (numbers.anchor, &formula.makes) {
            (SizedBy::Makes, Some(makes)) => {
                if let Some(dough) = &makes.dough {
                    return Reason::new(Topic::Dough, amount, ValueKind::Mass, How::Written)
                        .at(dough.span);
                }
                // Without a weight for each piece it is made from something that is weighed.
                if makes.from.is_none() || numbers.pieces.iter().all(|piece| piece.made.written) {
                    let pieces = numbers.pieces.iter().enumerate();
                    let parts = pieces.map(|(index, piece)| self.dough_of_kind(index, piece));
                    let mut parts: Vec<Reason> = parts.collect();
                    if !parts.is_empty() {
                        parts.extend(self.going_back());
                        return Reason::sum_of(Topic::Dough, parts).at(makes.span);
                    }
                }
            }
            (SizedBy::Pieces, _) => {
                let is_it = |_| true;
                let wanted = IngredientQuery { word: Topic::Dough.into(), is_it: &is_it };
                return Reason::sum_of(Topic::Dough, self.parts(&wanted, Within::All));
            }
            (SizedBy::Default, _) => {
                let how = How::Default(Assumption::AKilogramOfFlour);
                return Reason::new(Topic::Dough, amount, ValueKind::Mass, how);
            }
            _ => {}
        }
        let is_total = formula.total.is_some();
        let sizes_only = |line: &WorkedLine, mix: Option<&Mix>| {
            let declared = line.line.and_then(|index| mix?.lines.get(index));
            let split = declared.is_none_or(|line| !matches!(line.counting, Counting::NotSplit));
            match line.goes {
                LineRef::Stage(_) | LineRef::OldDough => is_total,
                LineRef::Culture(_) => is_total && split,
                _ => false,
            }
        };
        let mut parts: Vec<Reason> = self
            .lines(Within::All)
            .into_iter()
            .filter(|(line, mix)| !sizes_only(line, *mix) && !line.mass.is_zero())
            .map(|(line, mix)| self.line(line, mix, Within::All))
            .collect();
        let is_it = |_| true;
        parts.extend(self.unlisted(&IngredientQuery { word: Topic::Dough.into(), is_it: &is_it }));
        Reason::sum_of(Topic::Dough, parts)
    }

    /// What of the finished dough is kept for the next one.
    pub(in crate::formula) fn going_back(&self) -> Vec<Reason> {
        let numbers = self.numbers;
        let parts = [
            (Topic::KeptBack, &numbers.kept_back, Ground::TheNextOldDough),
            (Topic::Saved, &numbers.saved, Ground::ForTheNextTime),
        ];
        let some = parts.into_iter().filter(|(_, mass, _)| !mass.is_zero());
        some.map(|(what, mass, why)| Reason::given(what, mass.clone(), ValueKind::Mass, why))
            .collect()
    }

    /// All that is put into a stage.
    pub(in crate::formula) fn made(&self, stage: usize, what: Subject) -> Reason {
        let declared = &self.worked.formula.stages[stage];
        let lines = self.numbers.stages[stage].lines.iter();
        let lines = lines.filter(|line| !line.mass.is_zero());
        let parts = lines.map(|line| self.line(line, Some(&declared.mix), Within::Stage(stage)));
        Reason::sum_of(what, parts.collect()).at(declared.name.span)
    }

    /// How much of a stage goes into the dough; of one that only others use, how much goes
    /// on.
    pub(in crate::formula) fn stage(&self, stage: usize) -> Reason {
        let (numbers, formula) = (self.numbers, &self.worked.formula);
        let (declared, worked) = (&formula.stages[stage], &numbers.stages[stage]);
        let name = &declared.name.shown;
        let made = self.made(stage, name.into());
        let mut parts = made.parts;
        let mut less = |what: Subject, mass: Exact, why: Ground| {
            if !mass.is_zero() {
                parts.push(Reason::given(what, -mass, ValueKind::Mass, why));
            }
        };
        let kept = self.worked.kept_back(numbers, stage);
        let lost = &worked.made - &kept - &worked.saved - worked.goes_on.mass();
        less(Topic::KeptBack.into(), kept, Ground::AsMuchAsTheSeed);
        less(Topic::BoilsAway.into(), lost, Ground::WaterLost);
        less(Topic::Saved.into(), worked.saved.clone(), Ground::ForTheNextTime);
        if !worked.into_dough.is_zero() {
            // Of one that only others use, this is what they use.
            for (user, other) in formula.stages.iter().zip(&numbers.stages) {
                let used = other.lines.iter().filter(|line| line.goes == LineRef::Stage(stage));
                let mass = used.fold(Exact::ZERO, |sum, line| sum + &line.mass);
                less(Subject::GoesInto(user.name.shown.clone()), mass, Ground::ALineThere);
            }
        }
        let left = numbers.left_over.iter().filter(|(own, _)| *own == stage);
        let left = left.fold(Exact::ZERO, |sum, (_, mass)| sum + mass);
        less(Topic::LeftOver.into(), left, Ground::Unused);
        Reason::sum_of(name, parts).at(declared.name.span)
    }

    /// The flour that the percentages in a mix are of, as a table prints them.
    pub(in crate::formula) fn per_cent_of(&self, within: Within) -> Reason {
        match within {
            Within::Stage(_) => self.basis(within),
            Within::FinalDough => {
                let lines = self.lines(Within::FinalDough).into_iter();
                let flours = lines.filter(|(line, _)| {
                    matches!(line.goes, LineRef::Ingredient(id) if self.class_of(id) == Class::Flour)
                });
                let flours = flours.map(|(line, mix)| self.line(line, mix, within));
                Reason::sum_of(Topic::FlourAddedInDough, flours.collect())
            }
            _ => self.class(Class::Flour, Within::All),
        }
    }

    /// The flour that per cent in a mix are of.
    pub(in crate::formula) fn basis(&self, within: Within) -> Reason {
        let amount = match within {
            Within::Stage(stage) => self.numbers.stages[stage].basis.clone(),
            _ => self.numbers.basis.clone(),
        };
        let size = match within {
            Within::Stage(stage) => self.worked.formula.stages[stage].sizes.first(),
            _ => None,
        };
        let place = match within {
            Within::Stage(stage) => {
                let declared = &self.worked.formula.stages[stage];
                Some(size.map_or(declared.name.span, |size| size.span))
            }
            _ => self.worked.formula.makes.as_ref().map(|makes| makes.span),
        };
        let words = How::Because;
        let how = match (within, size.map(|size| &size.size), self.numbers.anchor) {
            (_, Some(Size::OfFlour(_)), _) => words(Ground::ShareOfAllFlour),
            (_, Some(Size::Weighs(_)), _) => words(Ground::WeighsWhatItSays),
            (Within::Stage(_), ..) => words(Ground::ForItsUsers),
            (_, _, SizedBy::Default) => How::Default(Assumption::NoSize),
            (_, _, SizedBy::Makes) => words(Ground::ForWhatIsMade),
            _ => words(Ground::ByWrittenWeights),
        };
        Reason { place, ..Reason::new(Topic::FlourOfMix, amount, ValueKind::Mass, how) }
    }
}
