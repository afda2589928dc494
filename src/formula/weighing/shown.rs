//! Weights as the scale shows them, as plain data.

use crate::quantity::Exact;
use crate::quantity::display::{Scale, to_step};
use crate::quantity::rounding::Weighed;

/// A weight as it is shown, in grams.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShownWeight {
    /// What it shows.
    pub grams: Exact,
    /// The finest step of a scale in it; zero where nothing is weighed.
    pub step: Exact,
}

impl ShownWeight {
    /// A weight by itself, on the scale.
    pub fn alone(scale: &Scale, grams: &Exact) -> Self {
        if grams.is_zero() {
            return Self::default();
        }
        let step = scale.resolution(grams);
        Self { grams: to_step(grams, &step), step }
    }

    /// The sum of what some weights show.
    pub fn sum<'s>(shown: impl IntoIterator<Item = &'s Self>) -> Self {
        shown.into_iter().fold(Self::default(), |sum, shown| Self {
            grams: sum.grams + &shown.grams,
            step: finer(sum.step, &shown.step),
        })
    }

    /// What is left of it.
    pub fn less(&self, part: &Self) -> Self {
        Self { grams: &self.grams - &part.grams, step: finer(self.step.clone(), &part.step) }
    }

    /// Several of it.
    pub fn times(&self, count: &Exact) -> Self {
        Self { grams: &self.grams * count, step: self.step.clone() }
    }
}

pub(super) fn finer(one: Exact, two: &Exact) -> Exact {
    if one.is_zero() || (!two.is_zero() && *two < one) { two.clone() } else { one }
}

/// A column: its lines, as they stand in the mix, and what they add up to.
#[derive(Clone, Debug, Default)]
pub struct WeightColumn {
    /// Each line.
    pub lines: Vec<ShownWeight>,
    /// What the lines show together.
    pub sum: ShownWeight,
}

impl WeightColumn {
    pub(super) fn of(lines: Vec<ShownWeight>) -> Self {
        let sum = ShownWeight::sum(&lines);
        Self { lines, sum }
    }
}

/// What leaves a stage.
#[derive(Clone, Debug, Default)]
pub struct Leaving {
    /// Ripe stage that becomes the next culture.
    pub kept_back: ShownWeight,
    /// What is saved for the next time.
    pub saved: ShownWeight,
    /// What nothing uses.
    pub left_over: ShownWeight,
    /// What goes into the next mixes.
    pub goes_on: ShownWeight,
}

/// All that a print shows of a formula's weights, on one scale.
#[derive(Clone, Debug, Default)]
pub struct Weighing {
    /// The scale that shows it.
    pub scale: Scale,
    /// By stage; of one that is fed several times, its last feed.
    pub stages: Vec<WeightColumn>,
    /// By stage, the feeds before the last, the first one first.
    pub earlier_feeds: Vec<Vec<WeightColumn>>,
    /// By stage and feed before the last, what the next feed does not take.
    pub discarded: Vec<Vec<ShownWeight>>,
    /// What leaves each stage.
    pub leaving: Vec<Leaving>,
    /// One batch of the final dough.
    pub batch: WeightColumn,
    /// All batches.
    pub dough: WeightColumn,
    /// What each step takes of each line of a batch, where several do: step and part.
    pub parts: Vec<Vec<(usize, ShownWeight)>>,
    /// The lines of the whole formula, as [`total_rows`] lists them.
    pub total: WeightColumn,
    /// The dough that was asked for, to the finest step that is used.
    pub asked: ShownWeight,
    /// Whether what everything adds up to is the dough's exact weight, as far as the
    /// scale can tell.
    pub is_exact: bool,
    /// The same of one batch.
    pub batch_is_exact: bool,
}

pub(super) fn weighed(scale: &Scale, grams: &Exact) -> Weighed {
    let step = if grams.is_zero() { Exact::ZERO } else { scale.resolution(grams) };
    Weighed { exact: grams.clone(), step }
}
