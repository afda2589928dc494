//! Both ends of ranges on paper.

use super::context::{PrintContext, Rounded};
use super::document::Weight;
use crate::formula::class::Class;
use crate::formula::{Ends, Numbers, Within};
use crate::quantity::Exact;

/// Both ends of a range; one where they read the same.
pub fn both_ends(low: String, high: &str) -> String {
    if low == high { low } else { format!("{low}–{high}") }
}

/// Both ends with as few digits as tell them apart, at least so many; one where three don't.
pub fn told_apart(
    low: &Exact,
    high: &Exact,
    decimals: u8,
    show: impl Fn(&Exact, u8) -> String,
) -> String {
    let mut digits = (decimals..=decimals.max(3)).filter(|_| low != high);
    let finer = digits.find(|&digits| show(low, digits) != show(high, digits));
    let digits = finer.unwrap_or(decimals);
    both_ends(show(low, digits), &show(high, digits))
}

/// What a weight comes to at the ends of ranges; nothing where it is no range.
#[derive(Default)]
pub struct WeightEnds {
    /// At the lower ends of all ranges.
    pub low: Option<Weight>,
    /// At their upper ends.
    pub high: Option<Weight>,
}

impl PrintContext<'_, '_> {
    /// A value at each choice of range ends, where each has one.
    pub fn at_each(&self, of: impl Fn(&Numbers) -> Option<Exact>) -> Option<Vec<Exact>> {
        self.worked.choices.iter().map(of).collect()
    }

    /// Water over flour of all that is in a mix.
    pub fn hydration_within(&self, within: Within) -> Option<String> {
        let shares = self.at_each(|numbers| {
            let content = self.worked.content(numbers, within);
            let flour = self.worked.flour(&content);
            let water = self.worked.class_mass(&content, Class::Water);
            water.over(&flour)
        })?;
        let (low, high) = (shares.iter().min()?, shares.iter().max()?);
        // Of milk or egg alone, it would say that there is nothing wet in it.
        let is_milk = high.is_zero() && self.has_other_liquids(within);
        (!is_milk).then(|| told_apart(low, high, 1, |share, digits| self.percent(share, digits)))
    }

    fn has_other_liquids(&self, within: Within) -> bool {
        let content = self.worked.content(self.numbers(), within);
        [Class::Liquid, Class::Dairy, Class::Egg]
            .into_iter()
            .any(|class| !self.worked.class_mass(&content, class).is_zero())
    }

    /// The sum of a mix in per cent, to print.
    pub fn sum_percent(&self, within: Within) -> Option<String> {
        let basis = self.worked.shown_basis(self.numbers(), within);
        let sum = |numbers: &Numbers| self.worked.mass_of(numbers, within);
        let ends = self.worked.shares_ends(within, sum);
        let share = sum(self.numbers()).over(&basis)?;
        Some(self.percent_or_range(&share, ends.as_ref(), 1))
    }

    /// A share, or both ends of its range.
    pub fn percent_or_range(&self, share: &Exact, ends: Option<&Ends>, decimals: u8) -> String {
        match ends {
            None => self.percent(share, decimals),
            Some((low, high)) => {
                told_apart(low, high, decimals, |share, digits| self.percent(share, digits))
            }
        }
    }

    /// What a sum of which this much is shown comes to at the ends of ranges.
    pub fn sum_ends(&self, within: Within, shown: &Rounded) -> WeightEnds {
        let sum = |numbers: &Numbers| self.worked.mass_of(numbers, within);
        let ends = self.worked.grams_ends(within, sum);
        self.weights_at(&sum(self.numbers()), shown, ends.as_ref())
    }

    /// The weights at both ends, to what the scale shows of them.
    pub fn weights_at(&self, grams: &Exact, shown: &Rounded, ends: Option<&Ends>) -> WeightEnds {
        let Some((low, high)) = ends else { return WeightEnds::default() };
        let at = |end: &Exact| self.weight_as(end, &self.shown_end(end, grams, shown));
        WeightEnds { low: Some(at(low)), high: Some(at(high)) }
    }

    fn shown_end(&self, end: &Exact, grams: &Exact, shown: &Rounded) -> Rounded {
        if end == grams { shown.clone() } else { self.rounded(end) }
    }

    /// How much more, or less, an amount may come to than is weighed: the difference of
    /// what is shown.
    pub fn more(&self, grams: &Exact, shown: &Rounded, ends: Option<&Ends>) -> Option<String> {
        let (low, high) = ends?;
        let (least, most) = (self.shown_end(low, grams, shown), self.shown_end(high, grams, shown));
        let offs =
            [("more", high - grams, most.less(shown)), ("less", grams - low, shown.less(&least))];
        let said = offs
            .into_iter()
            .filter(|(_, exact, shown)| *exact > Exact::ZERO && shown.first.grams > Exact::ZERO)
            .map(|(id, exact, shown)| {
                self.words.fill(id, &[("weight", &self.plain(&exact, &shown).said())])
            });
        Some(said.collect::<Vec<_>>().join(", ")).filter(|said| !said.is_empty())
    }
}
