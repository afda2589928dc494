//! What a line names, and what its amount is worth.

use super::forms::{MakeUp, MixPlace};
use crate::diag::Finding;
use crate::formula::class::Class;
use crate::formula::classes;
use crate::formula::composition::{Composition, IngredientId, Substance};
use crate::formula::findings as say;
use crate::formula::house::House;
use crate::formula::line_ref::{LineNames, LineRef};
use crate::formula::linear::LinearExpr;
use crate::formula::mixes::main_mix;
use crate::formula::side_mix::SideMix;
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{Counting, Extent, Formula, Least, Line, Quantity, Stage, Target};
use ecow::EcoString;
use rustc_hash::FxHashMap;

/// What is needed to read the lines of one formula's mixes.
pub struct Mixing<'a, 't> {
    /// Its ingredients and cultures.
    pub house: &'a House<'t>,
    /// With all that it inherits.
    pub formula: &'a Formula,
    /// What it takes that is mixed elsewhere.
    pub side_mixes: Vec<SideMix>,
    /// Their places by name: a formula may take many.
    pub side_mix_of: FxHashMap<EcoString, usize>,
    /// Names that count as flour besides the class.
    pub counts_as_flour: Vec<IngredientId>,
    /// The composition of old dough once it is known, by gram.
    pub old_dough: Option<Composition>,
    /// Whether each ranged line takes its high end, in the order they are met.
    pub high: Vec<bool>,
    /// Lines by place that were written as ranges.
    pub ranged: Vec<crate::source::Span>,
    /// Of each stage whose make-up does not depend on its size.
    pub make_ups: Vec<Option<MakeUp>>,
    /// The order in which the stages can be built.
    pub order: Vec<usize>,
    /// What there is to say so far.
    pub findings: Vec<Finding>,
}

impl<'a> Mixing<'a, '_> {
    /// What the name on a line means, the nearest meaning first.
    pub fn goes(&self, target: &Target) -> LineRef {
        let (house, stages) = (self.house, self.formula.stages.as_slice());
        let key = &target.name.key;
        // Asked of each line: the side mixes are looked up and not gone through.
        let side_mix = || self.side_mix_of.get(key).copied().map(LineRef::SideMix);
        match (LineNames { house, stages, side_mixes: &[] }).find(key) {
            own @ (LineRef::Stage(_) | LineRef::OldDough) => own,
            other => side_mix().unwrap_or(other),
        }
    }

    /// Takes in a side mix.
    pub fn add_side_mix(&mut self, side_mix: SideMix) {
        self.side_mix_of.entry(side_mix.key.clone()).or_insert(self.side_mixes.len());
        self.side_mixes.push(side_mix);
    }

    /// A stage by its place in the formula.
    pub fn stage(&self, stage: usize) -> &'a Stage {
        &self.formula.stages[stage]
    }

    /// Whether an ingredient is flour in this formula.
    pub fn is_flour(&self, id: IngredientId) -> bool {
        classes::is_flour(self.house, &self.counts_as_flour, id)
    }

    /// The class of a line's ingredient in this formula.
    pub(super) fn class_of(&self, line: &Line) -> Option<Class> {
        match self.goes(&line.target) {
            LineRef::Ingredient(id) => {
                Some(classes::class_of(self.house, &self.counts_as_flour, id))
            }
            _ => None,
        }
    }

    /// The flour in grams of a content.
    pub fn flour_of(&self, content: &Composition) -> Exact {
        content.iter().fold(Exact::ZERO, |sum, (substance, mass)| match substance {
            Substance::Ingredient(id) if self.is_flour(id) => sum + mass,
            _ => sum,
        })
    }

    /// The sum of the flour in a content.
    pub fn flour_in(&self, content: &Composition<LinearExpr>) -> LinearExpr {
        content.iter().fold(LinearExpr::default(), |sum, (substance, mass)| match substance {
            Substance::Ingredient(id) if self.is_flour(id) => sum.plus(mass),
            _ => sum,
        })
    }

    /// The quantity of a line for this choice of ends.
    pub(super) fn chosen<'l>(&self, extent: &'l Extent) -> Option<&'l Quantity> {
        let high = extent.ranged
            && self
                .ranged
                .iter()
                .position(|span| *span == extent.span)
                .and_then(|index| self.high.get(index))
                .copied()
                .unwrap_or(false);
        let (first, second) =
            if high { (&extent.high, &extent.low) } else { (&extent.low, &extent.high) };
        first.as_ref().or(second.as_ref())
    }

    /// The share of one that an extent writes, for this choice of ends.
    pub fn share_of(&self, extent: &Extent) -> Option<Exact> {
        let quantity = self.chosen(extent)?;
        (quantity.unit.dimension() == Dimension::Share).then(|| self.worth(quantity))
    }

    /// A quantity in the base unit of its dimension.
    pub fn worth(&self, quantity: &Quantity) -> Exact {
        quantity.unit.to_base(&quantity.number, self.house.settings.measures)
    }

    /// The grams of a weight, a volume or a count of what the line names.
    pub fn weigh(&mut self, quantity: &Quantity, line: &Line) -> Exact {
        self.weigh_named(quantity, &line.target)
    }

    /// The grams of a weight, a volume or a count of what a name means.
    pub fn weigh_named(&mut self, quantity: &Quantity, target: &Target) -> Exact {
        let number = self.worth(quantity);
        let goes = self.goes(target);
        let ingredient = match goes {
            LineRef::Ingredient(id) => Some(self.house.ingredient(id)),
            _ => None,
        };
        let (worth, trouble) = match quantity.unit.dimension() {
            Dimension::Mass => return number,
            Dimension::Volume => (
                ingredient.and_then(|found| found.grams_per_ml.as_ref()),
                say::no_density::finding(target, quantity),
            ),
            Dimension::Count => (
                ingredient.and_then(|found| found.each.as_ref()),
                say::no_each_weight::finding(
                    main_mix(self.formula),
                    target,
                    ingredient.map(|own| own.class),
                    quantity,
                ),
            ),
            _ => (None, say::not_an_amount::finding(target, quantity)),
        };
        match worth {
            Some(worth) => number * worth,
            None => {
                if goes != LineRef::Nothing {
                    self.findings.push(trouble);
                }
                Exact::ZERO
            }
        }
    }

    /// Whether a least amount is one of what stands on a line.
    pub fn is_least_of(&self, least: &Least, line: &Line) -> bool {
        let named = self.goes(&Target { name: least.name.clone(), role: None });
        line.target.name.key == least.name.key
            || (named != LineRef::Nothing && named == self.goes(&line.target))
    }

    /// The grams of a least amount; none where a volume or a count of it has no weight.
    pub fn least_grams(&self, least: &Least) -> Option<Exact> {
        let number = self.worth(&least.amount);
        let ingredient = self.house.ingredient_named(&least.name.key);
        match least.amount.unit.dimension() {
            Dimension::Mass => Some(number),
            Dimension::Volume => Some(number * ingredient?.grams_per_ml.as_ref()?),
            Dimension::Count => Some(number * ingredient?.each.as_ref()?),
            _ => None,
        }
    }

    /// Whether a culture that is kept back comes from another stage than its own.
    pub(super) fn kept_from_later(
        &self,
        from: Option<&crate::syntax::tree::Name>,
        place: MixPlace,
    ) -> bool {
        match (from, place) {
            (Some(from), MixPlace::Stage(stage)) => from.key != self.stage(stage).name.key,
            (Some(_), _) => true,
            (None, _) => false,
        }
    }

    /// Whether a line is a culture that is kept back from its own stage: it has the make-up
    /// of the stage, so that it is in every feed alike.
    pub fn is_seed_of_its_own(&self, stage: usize, line: &Line) -> bool {
        match &line.counting {
            Counting::KeptBack { from } => {
                !self.kept_from_later(from.as_ref(), MixPlace::Stage(stage))
            }
            _ => false,
        }
    }

    /// What a gram of a line's own brings into its mix at once: nothing of a stage or of
    /// what is kept back.
    pub fn content_of(&self, line: &Line) -> Option<Composition> {
        let mut content = Composition::default();
        match (self.goes(&line.target), &line.counting) {
            (LineRef::Ingredient(id), _) => content.add(Substance::Ingredient(id), Exact::ONE),
            (LineRef::Culture(id), Counting::Counted) => {
                content.add_all(&self.house.culture(id).per_gram, &Exact::ONE);
            }
            (LineRef::Culture(id), Counting::NotSplit) => {
                content.add(Substance::Whole(id), Exact::ONE);
            }
            (LineRef::SideMix(side_mix), _) => {
                content.add_all(&self.side_mixes[side_mix].per_gram, &Exact::ONE);
            }
            _ => return None,
        }
        Some(content)
    }

    /// The plain water of a mix, of which some can boil away.
    pub fn water_of(&self, content: &Composition<LinearExpr>) -> Option<Substance> {
        content.iter().find_map(|(substance, _)| match substance {
            Substance::Ingredient(id) if self.house.ingredient(id).class == Class::Water => {
                Some(substance)
            }
            _ => None,
        })
    }
}
