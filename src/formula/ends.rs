//! What a line and a mix come to at the two ends of ranged amounts.
//!
//! A range somewhere moves more than its own line: what others leave, what per cent are
//! of. So every choice of ends is worked out, and this looks for the least and the most.
//! Grams are compared with the mix's own flour kept as it is weighed, for nobody throws
//! flour away because the dough took more water; shares are those of each choice.

use super::composition::Substance;
use super::line_ref::LineRef;
use super::worked::{Numbers, SizedBy, Within, Worked, WorkedLine};
use crate::quantity::Exact;

/// The least and the most.
pub type Ends = (Exact, Exact);

/// The least and the most of some values; none where there is one value only.
pub fn ends(values: impl IntoIterator<Item = Exact>) -> Option<Ends> {
    let mut values = values.into_iter();
    let first = values.next()?;
    let (least, most) = values.fold((first.clone(), first), |(least, most), value| {
        (least.min(value.clone()), most.max(value))
    });
    (least != most).then_some((least, most))
}

impl Worked<'_> {
    /// Grams of a line of a mix, where they may differ.
    pub fn line_ends(&self, line: &WorkedLine, within: Within) -> Option<Ends> {
        self.grams_ends(within, |numbers| self.mass_at(numbers, line, within))
    }

    /// The share of a line in what per cent of its mix are of, where it may differ.
    pub fn line_shares(&self, line: &WorkedLine, within: Within) -> Option<Ends> {
        self.shares_ends(within, |numbers| self.mass_at(numbers, line, within))
    }

    /// Grams of something in a mix, where they may differ: its flour stays what it is.
    pub fn grams_ends(&self, within: Within, of: impl Fn(&Numbers) -> Exact) -> Option<Ends> {
        if self.choices.len() < 2 {
            return None;
        }
        ends(self.choices.iter().map(|numbers| of(numbers) * self.kept(numbers, within)))
    }

    /// The share of something in what per cent of a mix are of, where it may differ.
    pub fn shares_ends(&self, within: Within, of: impl Fn(&Numbers) -> Exact) -> Option<Ends> {
        if self.choices.len() < 2 {
            return None;
        }
        let share = |numbers: &Numbers| of(numbers).over(&self.shown_basis(numbers, within));
        ends(self.choices.iter().filter_map(share))
    }

    /// All that a mix holds.
    pub fn mass_of(&self, numbers: &Numbers, within: Within) -> Exact {
        match within {
            Within::Stage(stage) => numbers.stages[stage].made.clone(),
            _ => numbers.whole.mass(),
        }
    }

    /// What the percentages of a column are of.
    pub fn shown_basis(&self, numbers: &Numbers, within: Within) -> Exact {
        match within {
            Within::Stage(stage) => self.percent_basis(numbers, stage),
            Within::FinalDough if self.formula.dough.is_some() => self.added_flour(numbers),
            _ => self.listed_flour(numbers),
        }
    }

    fn mass_at(&self, numbers: &Numbers, line: &WorkedLine, within: Within) -> Exact {
        let same = |other: &&WorkedLine| {
            other.goes == line.goes && other.key == line.key && other.role == line.role
        };
        let among = |lines: &[WorkedLine]| lines.iter().find(same).map(|line| line.mass.clone());
        let found = match within {
            Within::Stage(stage) => among(&numbers.stages[stage].lines),
            Within::FinalDough => among(&numbers.dough_lines),
            _ if line.line.is_some() => among(&numbers.total_lines),
            _ => {
                let whole = match line.goes {
                    LineRef::Ingredient(id) => numbers.whole.get(Substance::Ingredient(id)),
                    LineRef::Culture(id) => {
                        let kept = numbers.whole.get(Substance::Kept(id));
                        kept.or_else(|| numbers.whole.get(Substance::Whole(id)))
                    }
                    LineRef::OldDough => numbers.whole.get(Substance::OldDough),
                    _ => None,
                };
                whole.cloned()
            }
        };
        found.unwrap_or_default()
    }

    /// What brings the flour of a mix to what it is at the first choice of ends.
    fn kept(&self, numbers: &Numbers, within: Within) -> Exact {
        let first = self.first();
        let of_flour = |line: &WorkedLine| {
            let is_flour = matches!(line.goes, LineRef::Ingredient(id) if self.is_flour(id));
            is_flour && !line.more.is_zero()
        };
        let (kept, now) = match within {
            Within::Stage(stage) if first.stages[stage].lines.iter().any(of_flour) => {
                return Exact::ONE;
            }
            Within::Stage(stage) => (&first.stages[stage].basis, &numbers.stages[stage].basis),
            _ if matches!(first.anchor, SizedBy::Weights | SizedBy::Default) => return Exact::ONE,
            _ => (&first.basis, &numbers.basis),
        };
        kept.over(now).filter(|share| !share.is_zero()).unwrap_or(Exact::ONE)
    }
}
