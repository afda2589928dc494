//! From lines to masses that wait for a size: the sums of one mix.

use super::class::Class;
use super::classes;
use super::composition::{Composition, IngredientId, Substance};
use super::findings as say;
use super::house::House;
use super::limits::MAX_FEEDS;
use super::line_ref::{LineRef, Names};
use super::linear::{EquationSystem, LinearExpr, Solution, Unknown};
use super::mixes::main_mix;
use super::side_mix::SideMix;
use crate::diag::Finding;
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{
    Amount, Base, Counting, Extent, Formula, Least, Line, Mix, Mixture, Quantity, Size, Stage,
    Target,
};
use ecow::EcoString;
use rustc_hash::FxHashMap;

/// What is in a gram of a stage.
#[derive(Clone, Debug)]
pub struct MakeUp {
    /// Grams in a gram.
    pub content: Composition,
    /// The part of it that cultures brought.
    pub from_cultures: Composition,
}

/// A mix whose masses are forms.
#[derive(Clone, Debug, Default)]
pub struct MixForms {
    /// In the order of the mix's lines.
    pub masses: Vec<LinearExpr>,
    /// All that is put together.
    pub made: LinearExpr,
    /// What goes on into the next mix: without what is kept back or boiled away.
    pub goes_on: Composition<LinearExpr>,
    /// The part of it that cultures bring.
    pub from_cultures: Composition<LinearExpr>,
    /// The flour (or the grain and seed) that per cent in this mix are of.
    pub basis: LinearExpr,
}

impl MixForms {
    /// The mass of all that goes on.
    pub fn goes_on_mass(&self) -> LinearExpr {
        self.goes_on.iter().fold(LinearExpr::default(), |sum, (_, mass)| sum.plus(mass))
    }
}

/// Equations in the making, with the unknowns that stand for the whole formula.
#[derive(Debug, Default)]
pub struct Scope {
    /// The equations so far.
    pub system: EquationSystem,
    flour: Option<Unknown>,
    whole: Option<Unknown>,
    main: Option<Unknown>,
}

impl Scope {
    /// All the flour of the formula.
    pub fn flour(&mut self) -> LinearExpr {
        LinearExpr::unknown(*self.flour.get_or_insert_with(|| self.system.new_unknown()))
    }

    /// The same, where something is a share of it.
    pub fn flour_if_asked(&self) -> Option<LinearExpr> {
        self.flour.map(LinearExpr::unknown)
    }

    /// The whole dough.
    pub fn whole(&mut self) -> LinearExpr {
        LinearExpr::unknown(*self.whole.get_or_insert_with(|| self.system.new_unknown()))
    }

    /// The same, where something is a share of it.
    pub fn whole_if_asked(&self) -> Option<LinearExpr> {
        self.whole.map(LinearExpr::unknown)
    }

    /// The same, where something is a share of it.
    pub fn main_if_asked(&self) -> Option<LinearExpr> {
        self.main.map(LinearExpr::unknown)
    }

    /// The flour that per cent in `total` or `dough` are of.
    pub fn main(&mut self) -> LinearExpr {
        LinearExpr::unknown(*self.main.get_or_insert_with(|| self.system.new_unknown()))
    }
}

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

/// Which mix of the formula a line stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MixPlace {
    Stage(usize),
    Main,
    Aside,
}

impl<'a> Mixing<'a, '_> {
    /// What the name on a line means, the nearest meaning first.
    pub fn goes(&self, target: &Target) -> LineRef {
        let (house, stages) = (self.house, self.formula.stages.as_slice());
        let key = &target.name.key;
        // Asked of each line: the side mixes are looked up and not gone through.
        let side_mix = || self.side_mix_of.get(key).copied().map(LineRef::SideMix);
        match (Names { house, stages, side_mixes: &[] }).find(key) {
            own @ (LineRef::Stage(_) | LineRef::OldDough) => own,
            other => side_mix().unwrap_or(other),
        }
    }

    /// Takes in a side mix.
    pub fn add_side_mix(&mut self, side_mix: SideMix) {
        self.side_mix_of.entry(side_mix.key.clone()).or_insert(self.side_mixes.len());
        self.side_mixes.push(side_mix);
    }

    /// Whether an ingredient is flour in this formula.
    pub fn is_flour(&self, id: IngredientId) -> bool {
        classes::is_flour(self.house, &self.counts_as_flour, id)
    }

    fn class_of(&self, line: &Line) -> Option<Class> {
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

    /// The lines that per cent are of: flour, else grain and seed.
    fn basis_lines(&self, mix: &Mix, place: MixPlace) -> Vec<usize> {
        let of = |wanted: &[Class]| -> Vec<usize> {
            let is_wanted =
                |line: &Line| self.class_of(line).is_some_and(|class| wanted.contains(&class));
            (0..mix.lines.len()).filter(|&index| is_wanted(&mix.lines[index])).collect()
        };
        let flour = of(&[Class::Flour]);
        if flour.is_empty() && place != MixPlace::Main {
            of(&[Class::Grain, Class::Seed])
        } else {
            flour
        }
    }

    /// The quantity of a line for this choice of ends.
    fn chosen<'l>(&self, extent: &'l Extent) -> Option<&'l Quantity> {
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

    /// The masses of a mix's lines as forms.
    pub fn mix(&mut self, scope: &mut Scope, mix: &'a Mix, place: MixPlace) -> MixForms {
        let of_total = matches!(place, MixPlace::Stage(stage) if self.stage(stage).sizes.iter().any(|size| matches!(size.size, Size::OfTotal)));
        let basis_lines = self.basis_lines(mix, place);
        // Where a line is a percentage of others, those that take a stage whole stand for
        // themselves until the stage has its size.
        let is_base = |line: &Line| match &line.amount {
            Amount::Measured { base, .. } => {
                matches!(base.as_deref(), Some(Base::BaseDough | Base::Of(_)))
            }
            _ => false,
        };
        let has_base = mix.lines.iter().any(is_base);
        let mut basis: Option<LinearExpr> = None;
        let mut part: Option<LinearExpr> = None;
        let mut masses = Vec::with_capacity(mix.lines.len());
        let mut waiting = Vec::new();
        let mut settled = true;
        for (index, line) in mix.lines.iter().enumerate() {
            let mut own_share = false;
            let mass = match &line.amount {
                Amount::ToTaste | Amount::AsNeeded | Amount::Pinch => LinearExpr::default(),
                Amount::All if has_base && matches!(self.goes(&line.target), LineRef::Stage(_)) => {
                    LinearExpr::unknown(scope.system.new_unknown())
                }
                Amount::All => LinearExpr::default(),
                Amount::Rest => {
                    basis.get_or_insert_with(|| own_basis(scope, place));
                    LinearExpr::unknown(scope.system.new_unknown())
                }
                Amount::Measured { range, base } => match self.chosen(range) {
                    None => LinearExpr::default(),
                    Some(quantity) => match (quantity.unit.dimension(), base.as_deref()) {
                        // As the lines of the total are: of the flour that it lists.
                        (Dimension::Share, None) if of_total => {
                            let listed = match self.formula.total.is_some() {
                                true => scope.main(),
                                false => scope.flour(),
                            };
                            listed.times(&self.worth(quantity))
                        }
                        (Dimension::Share, None) => {
                            own_share = true;
                            let basis = basis.get_or_insert_with(|| own_basis(scope, place));
                            basis.times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(Base::Flour)) => {
                            scope.flour().times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(Base::AddedFlour)) => {
                            scope.main().times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(Base::Dough)) => {
                            scope.whole().times(&self.worth(quantity))
                        }
                        (Dimension::Share, Some(base)) => {
                            let own = LinearExpr::unknown(scope.system.new_unknown());
                            waiting.push((index, self.worth(quantity), base, own.clone()));
                            own
                        }
                        (Dimension::Part, _) => {
                            let part = part.get_or_insert_with(|| {
                                LinearExpr::unknown(scope.system.new_unknown())
                            });
                            part.times(&quantity.number)
                        }
                        _ => LinearExpr::constant(self.weigh(quantity, line)),
                    },
                },
            };
            settled &= own_share || !basis_lines.contains(&index);
            masses.push(mass);
        }
        if place == MixPlace::Main
            && let Some(asked) = scope.main_if_asked()
        {
            basis.get_or_insert(asked);
        }
        let basis_sum =
            basis_lines.iter().fold(LinearExpr::default(), |sum, &index| sum.plus(&masses[index]));
        if let Some(basis) = &basis {
            if basis_lines.is_empty() {
                self.findings.push(say::percentage_of_nothing::percent_of_nothing(
                    mix,
                    place == MixPlace::Main,
                ));
            } else if !settled {
                scope.system.demand(basis_sum.clone().minus(basis));
            }
        }
        for (index, share, base, own) in waiting {
            let others = self.base_lines(mix, base, index, place);
            let sum =
                others.iter().fold(LinearExpr::default(), |sum, &other| sum.plus(&masses[other]));
            if others.is_empty() {
                self.findings.push(say::percentage_of_nothing::base_missing(&mix.lines[index]));
            }
            scope.system.demand(sum.times(&share).minus(&own));
        }
        let mut forms =
            MixForms { masses, basis: basis.unwrap_or(basis_sum), ..MixForms::default() };
        self.put_together(&mut forms, mix, place);
        forms
    }

    /// The lines that a percentage `of NAME` or `of base dough` is of.
    pub fn base_lines(&self, mix: &Mix, base: &Base, own: usize, place: MixPlace) -> Vec<usize> {
        let others = (0..mix.lines.len()).filter(|&index| index != own);
        match base {
            Base::Of(target) => {
                let wanted = self.goes(target);
                let role = |target: &Target| target.role.as_ref().map(|role| role.key.clone());
                let named: Vec<usize> = others
                    .filter(|&index| {
                        let other = &mix.lines[index].target;
                        // Two names of one ingredient are the same line.
                        other.name.key == target.name.key
                            || (wanted != LineRef::Nothing && self.goes(other) == wanted)
                    })
                    .collect();
                let same_role = named.iter().copied();
                let exact: Vec<usize> = same_role
                    .filter(|&index| role(&mix.lines[index].target) == role(target))
                    .collect();
                if exact.is_empty() { named } else { exact }
            }
            _ => {
                // In a total a line for a stage says how large it is; what is in it stands
                // on the other lines.
                let in_total = place == MixPlace::Main && self.formula.total.is_some();
                let is_stage =
                    |index: usize| matches!(self.goes(&mix.lines[index].target), LineRef::Stage(_));
                others.filter(|&index| !(in_total && is_stage(index))).collect()
            }
        }
    }

    /// Adds up what is made and what goes on.
    fn put_together(&mut self, forms: &mut MixForms, mix: &Mix, place: MixPlace) {
        let one = Exact::ONE;
        let mut made = LinearExpr::default();
        let mut goes_on: Composition<LinearExpr> = Composition::default();
        let mut from_cultures: Composition<LinearExpr> = Composition::default();
        let add = |content: &mut Composition<LinearExpr>, substance, mass: LinearExpr| {
            content.add_with(substance, mass, |old, mass| old.add(&mass, &one));
        };
        for (line, mass) in mix.lines.iter().zip(&forms.masses) {
            made.add(mass, &one);
            match self.goes(&line.target) {
                LineRef::Nothing => {}
                LineRef::Ingredient(id) => {
                    add(&mut goes_on, Substance::Ingredient(id), mass.clone())
                }
                LineRef::OldDough => match &self.old_dough {
                    None => add(&mut goes_on, Substance::OldDough, mass.clone()),
                    Some(per_gram) => {
                        for (substance, share) in per_gram.iter() {
                            add(&mut goes_on, substance, mass.times(share));
                        }
                    }
                },
                LineRef::Culture(id) => match &line.counting {
                    Counting::KeptBack { from } => {
                        if self.kept_from_later(from.as_ref(), place) {
                            add(&mut goes_on, Substance::Kept(id), mass.clone());
                        }
                    }
                    Counting::NotSplit => add(&mut goes_on, Substance::Whole(id), mass.clone()),
                    Counting::Counted => {
                        for (substance, share) in self.house.culture(id).per_gram.iter() {
                            add(&mut goes_on, substance, mass.times(share));
                            add(&mut from_cultures, substance, mass.times(share));
                        }
                    }
                },
                LineRef::SideMix(side_mix) => {
                    for (substance, share) in self.side_mixes[side_mix].per_gram.iter() {
                        add(&mut goes_on, substance, mass.times(share));
                    }
                }
                // What goes in whole is put in once it has its size.
                LineRef::Stage(_) if matches!(line.amount, Amount::All) => {}
                LineRef::Stage(stage) => {
                    let Some(make_up) = self.make_ups.get(stage).and_then(Option::as_ref) else {
                        continue;
                    };
                    for (substance, share) in make_up.content.iter() {
                        add(&mut goes_on, substance, mass.times(share));
                    }
                    for (substance, share) in make_up.from_cultures.iter() {
                        add(&mut from_cultures, substance, mass.times(share));
                    }
                }
            }
        }
        forms.made = made;
        forms.goes_on = goes_on;
        forms.from_cultures = from_cultures;
    }

    fn kept_from_later(&self, from: Option<&crate::syntax::tree::Name>, place: MixPlace) -> bool {
        match (from, place) {
            (Some(from), MixPlace::Stage(stage)) => from.key != self.stage(stage).name.key,
            (Some(_), _) => true,
            (None, _) => false,
        }
    }

    /// Takes out what is kept back from this stage and the water that boils away.
    pub fn take_out(&self, forms: &mut MixForms, stage: usize) {
        let own = &self.stage(stage).name.key;
        let kept_here = self.formula.stages.iter().flat_map(|stage| &stage.mix.lines);
        let kept_here: Vec<LineRef> = kept_here
            .filter(|line| matches!(&line.counting, Counting::KeptBack { from: Some(from) } if from.key == *own))
            .map(|line| self.goes(&line.target))
            .collect();
        forms.goes_on.retain(|substance| match substance {
            Substance::Kept(id) => !kept_here.contains(&LineRef::Culture(id)),
            _ => true,
        });
        if let Some(loses) = &self.stage(stage).loses {
            let lost = forms.made.times(&-self.worth(loses));
            if let Some(water) = self.water_of(&forms.goes_on) {
                forms.goes_on.add_with(water, lost, |old, lost| old.add(&lost, &Exact::ONE));
            }
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

    /// A stage by its place in the formula.
    pub fn stage(&self, stage: usize) -> &'a Stage {
        &self.formula.stages[stage]
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

    /// The make-up of a stage, when it does not depend on how much is made.
    pub fn make_up(&mut self, stage: usize) -> Option<MakeUp> {
        let mix = &self.stage(stage).mix;
        // What another stage brings hangs on its size where all of it goes in, or where
        // its own make-up does.
        let hangs = |line: &Line| match self.goes(&line.target) {
            LineRef::Stage(inner) => {
                matches!(line.amount, Amount::All) || self.make_ups[inner].is_none()
            }
            _ => false,
        };
        if mix.lines.iter().any(hangs) {
            return None;
        }
        let feeds = self.stage(stage).feeds.map_or(1, |(feeds, _)| feeds);
        let seed = self.make_up_after(stage, feeds.saturating_sub(1));
        let mut scope = Scope::default();
        let mut forms = self.mix(&mut scope, mix, MixPlace::Stage(stage));
        self.take_out(&mut forms, stage);
        if let Some(seed) = &seed {
            self.reseed(&mut forms, stage, seed);
        }
        by_gram(&scope, &forms)
    }

    /// The make-up of a stage after so many feeds before its last: what it takes of other
    /// stages is in none of them.
    pub fn make_up_after(&mut self, stage: usize, feeds: u32) -> Option<MakeUp> {
        let mix = &self.stage(stage).mix;
        let place = MixPlace::Stage(stage);
        let mut seed: Option<MakeUp> = None;
        for _ in 0..feeds.min(MAX_FEEDS) {
            let mut scope = Scope::default();
            let mut forms = self.mix(&mut scope, mix, place);
            for (line, mass) in mix.lines.iter().zip(&mut forms.masses) {
                if matches!(self.goes(&line.target), LineRef::Stage(_)) {
                    *mass = LinearExpr::default();
                }
            }
            self.put_together(&mut forms, mix, place);
            self.take_out(&mut forms, stage);
            if let Some(seed) = &seed {
                self.reseed(&mut forms, stage, seed);
            }
            seed = Some(by_gram(&scope, &forms)?);
        }
        seed
    }

    /// Puts the feed before in the place of the culture. A culture that is kept back from
    /// this very stage is a part of it already, whatever the number of feeds.
    pub fn reseed(&self, forms: &mut MixForms, stage: usize, seed: &MakeUp) {
        let one = Exact::ONE;
        let add = |content: &mut Composition<LinearExpr>, substance, mass: LinearExpr| {
            content.add_with(substance, mass, |old, mass| old.add(&mass, &one));
        };
        let lines = &self.stage(stage).mix.lines;
        for (line, mass) in lines.iter().zip(&forms.masses) {
            let LineRef::Culture(id) = self.goes(&line.target) else { continue };
            match &line.counting {
                Counting::KeptBack { from }
                    if !self.kept_from_later(from.as_ref(), MixPlace::Stage(stage)) =>
                {
                    continue;
                }
                Counting::KeptBack { .. } => {
                    add(&mut forms.goes_on, Substance::Kept(id), mass.times(&-one.clone()));
                }
                Counting::NotSplit => {
                    add(&mut forms.goes_on, Substance::Whole(id), mass.times(&-one.clone()));
                }
                Counting::Counted => {
                    for (substance, share) in self.house.culture(id).per_gram.iter() {
                        add(&mut forms.goes_on, substance, mass.times(&-share));
                        add(&mut forms.from_cultures, substance, mass.times(&-share));
                    }
                }
            }
            let own: Vec<LineRef> = lines.iter().map(|line| self.goes(&line.target)).collect();
            for (substance, share) in seed.content.iter() {
                add(&mut forms.goes_on, substance, mass.times(share));
                // What no line of the feed brings came with the culture.
                let from_line = match substance {
                    Substance::Ingredient(id) => own.contains(&LineRef::Ingredient(id)),
                    _ => true,
                };
                if !from_line {
                    add(&mut forms.from_cultures, substance, mass.times(share));
                }
            }
        }
    }

    /// The make-up of a side mix by gram, the share of each line, and its grams where its
    /// lines are weights.
    pub fn mixture(&mut self, mixture: &'a Mixture) -> (Composition, Vec<Exact>, Exact) {
        let said = self.findings.len();
        let mut scope = Scope::default();
        let forms = self.mix(&mut scope, &mixture.mix, MixPlace::Aside);
        let all_weights = forms.made.is_constant();
        let own_mass = if all_weights { forms.made.constant.clone() } else { Exact::ZERO };
        if mixture.mix.lines.is_empty() {
            self.findings.push(say::empty_mix::empty(&mixture.name));
        }
        for line in &mixture.mix.lines {
            if matches!(self.goes(&line.target), LineRef::Stage(_)) {
                let why = "a mixture is made beside the dough and takes nothing from a stage";
                self.findings.push(say::amount_unclear::meaningless(line, why));
            }
        }
        let by_gram = by_gram(&scope, &forms).map(|make_up| make_up.content);
        if by_gram.is_none() && self.findings.len() == said && !forms.goes_on_mass().is_zero() {
            self.findings.push(say::composition_depends_on_size::hangs_on_size(&mixture.name));
        }
        let shares = line_shares(&scope, &forms).unwrap_or_default();
        (by_gram.unwrap_or_default(), shares, own_mass)
    }
}

/// The make-up of a mix by the equations so far; none where it depends on how much is made,
/// as where weights and percentages stand side by side.
pub fn by_gram(scope: &Scope, forms: &MixForms) -> Option<MakeUp> {
    let (solution, mass) = settled(scope, forms)?;
    let share = Exact::ONE.over(&mass)?;
    let one_gram = |forms: &Composition<LinearExpr>| {
        let mut content = Composition::from_forms(forms, &solution.values);
        content.scale(&share);
        content
    };
    Some(MakeUp {
        content: one_gram(&forms.goes_on),
        from_cultures: one_gram(&forms.from_cultures),
    })
}

/// What each line of a mix is of a gram of it, where its make-up can be told.
fn line_shares(scope: &Scope, forms: &MixForms) -> Option<Vec<Exact>> {
    let (solution, mass) = settled(scope, forms)?;
    let settles = forms.masses.iter().all(|line| solution.settles(line));
    let share = Exact::ONE.over(&mass).filter(|_| settles)?;
    Some(forms.masses.iter().map(|line| line.value(&solution.values) * &share).collect())
}

/// A solution in which the make-up of a mix holds, and the mass that it gives the mix.
fn settled(scope: &Scope, forms: &MixForms) -> Option<(Solution, Exact)> {
    let whole = forms.goes_on_mass();
    let all = || forms.goes_on.iter().chain(forms.from_cultures.iter());
    let mut solution = scope.system.solve();
    if !solution.settles(&whole) {
        if all().any(|(_, mass)| !mass.value(&solution.values).is_zero()) {
            return None;
        }
        // Its masses grow together from nothing, so any size tells its make-up.
        solution.demand(&whole.clone().minus(&LinearExpr::constant(Exact::ONE)));
    }
    let mass = whole.value(&solution.values);
    if mass.is_zero() || !all().all(|(_, mass)| solution.settles(mass)) {
        return None;
    }
    Some((solution, mass))
}

fn own_basis(scope: &mut Scope, place: MixPlace) -> LinearExpr {
    match place {
        MixPlace::Main => scope.main(),
        _ => LinearExpr::unknown(scope.system.new_unknown()),
    }
}

impl Composition {
    /// The masses once the unknowns are known.
    pub fn from_forms(forms: &Composition<LinearExpr>, unknowns: &[Exact]) -> Self {
        let mut content = Self::default();
        for (substance, form) in forms.iter() {
            content.add(substance, form.value(unknowns));
        }
        content
    }
}
