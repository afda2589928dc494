//! The figures of a formula, each written once: as a number it is what `show`, claims, styles
//! and findings look at, as a [`Reason`] what `why` tells.
//!
//! Enters: a formula worked out, a choice of range ends and a place in it. Leaves: a figure
//! in the base unit of its kind, or nothing where the formula has none.

mod eaten;
mod fermented;
mod named;

pub(super) use fermented::fermented;

use super::class::Class;
use super::composition::{Composition, IngredientId, Substance};
use super::figure::{Figure, ValueKind};
use super::ground::Ground;
use super::house::Ingredient;
use super::line_ref::LineRef;
use super::masses::sum_of;
use super::mixes::main_mix;
use super::origin::Origin;
use super::reason::{How, Reason};
use super::term::Term;
use super::warmth::warmth;
use super::worked::{Numbers, Within, Worked, WorkedLine, WorkedPiece};
use crate::formula::subject::{Subject, Topic};
use crate::quantity::{Exact, int};
use crate::syntax::tree::Mix;
use ecow::EcoString;
use std::borrow::Cow;
use std::cell::OnceCell;

/// What figures of one place in a formula are worked out from.
pub(super) struct Figures<'a, 't> {
    origin: Origin<'a, 't>,
    within: Within,
    /// What is in the place, once a figure asks.
    content: OnceCell<Cow<'a, Composition>>,
    /// The kind of piece that is meant, by its place among those that are made.
    piece: Option<(usize, &'a WorkedPiece)>,
}

/// Instead of what an ingredient holds, how much fresh yeast does its work.
const AS_FRESH: Topic = Topic::YeastAsFresh;

impl<'a, 't> Figures<'a, 't> {
    /// The figures of a place; of pieces, of the first kind.
    pub fn new(worked: &'a Worked<'t>, numbers: &'a Numbers, within: Within) -> Self {
        let piece = worked.kinds(numbers).first().map(|piece| (0, piece));
        let origin = Origin::new(worked, numbers);
        Self { origin, within, content: OnceCell::new(), piece }
    }

    /// The same of another kind of piece.
    pub fn of_piece(self, index: usize, piece: &'a WorkedPiece) -> Self {
        Self { piece: Some((index, piece)), ..self }
    }

    fn worked(&self) -> &'a Worked<'t> {
        self.origin.worked
    }

    fn numbers(&self) -> &'a Numbers {
        self.origin.numbers
    }

    fn ingredient(&self, id: IngredientId) -> &'a Ingredient {
        self.origin.house.ingredient(id)
    }

    /// Everything that is in the place.
    fn content(&self) -> &Composition {
        self.content.get_or_init(|| self.worked().content(self.numbers(), self.within))
    }

    /// A figure; `what` is what its reason calls it.
    pub fn figure<T: Term>(&self, figure: &Figure, what: &Subject) -> Option<T> {
        let name = || what.clone();
        let class = |class| self.class::<T>(class);
        let flour = || class(Class::Flour);
        match figure {
            Figure::Hydration => T::ratio(name, class(Class::Water), flour()),
            Figure::Liquids => {
                let wet = [Class::Water, Class::Liquid, Class::Dairy, Class::Egg];
                let water = self.shares(Topic::WaterOfLiquids, Topic::Water, |own| {
                    wet.contains(&own.class).then(|| own.water_share()).flatten()
                });
                T::ratio(name, water, flour())
            }
            Figure::EffectiveHydration => T::ratio(name, self.all_water(), self.true_flour()),
            Figure::TrueHydration => {
                let water = std::iter::once(class(Class::Water));
                let water = water.chain(self.in_whole_cultures(Class::Water));
                let water = T::sum(|| Topic::AllWater.into(), ValueKind::Mass, water);
                T::ratio(name, water, self.true_flour())
            }
            Figure::TotalPercentage => T::ratio(name, self.dough(), flour()),
            Figure::DoughYield => self.dough_yield(name),
            Figure::Flour => Some(flour().called(name)),
            Figure::Dough => Some(self.dough::<T>().called(name)),
            Figure::Class(own) => Some(class(*own).called(name)),
            Figure::PrefermentedFlour => {
                T::ratio(name, fermented(&self.origin, self.within)?, flour())
            }
            Figure::Inoculation => self.inoculation(name),
            Figure::YeastAsFresh => {
                let yeast = self.shares(Topic::YeastAsFresh, AS_FRESH, |own| {
                    (own.class == Class::Yeast).then(|| own.as_fresh_yeast())
                });
                T::ratio(name, yeast, flour())
            }
            Figure::Leavening => {
                let parts = [class(Class::Yeast), class(Class::Leavener)];
                let parts = T::sum(|| Topic::YeastAndLeaveners.into(), ValueKind::Mass, parts);
                T::ratio(name, parts, flour())
            }
            Figure::Pieces => {
                let made = &self.numbers().pieces;
                let counts = made.iter().map(|piece| self.count(piece));
                (!made.is_empty()).then(|| T::sum(name, ValueKind::Number, counts))
            }
            Figure::Piece => Some(self.piece::<T>()?.called(name)),
            Figure::PieceBaked => self.baked(name),
            Figure::PieceAsEaten => self.as_eaten(name),
            Figure::BakeLoss => self.loss(what, true),
            Figure::MakeUpLoss => self.loss(what, false),
            Figure::SaltAsEaten => self.salt_as_eaten(name, &|own| Some(own.salt.clone())),
            Figure::SaltAsDeclared => self.salt_as_eaten(name, &|own| own.declared_salt.clone()),
            Figure::SaltElsewhere => {
                let salty = self.shares(Topic::SaltElsewhere, Topic::Salt, |own| {
                    (own.class != Class::Salt).then(|| own.salt.clone())
                });
                T::ratio(name, salty, flour())
            }
            Figure::WaterTemperature | Figure::Ice => self.warmth(figure),
            // The room `time` knows them.
            Figure::Elapsed | Figure::HandsOn => None,
        }
    }

    /// All of a class that is in the place; `counts as flour` moves its names to flour.
    fn class<T: Term>(&self, class: Class) -> T {
        let mass = self.worked().class_mass(self.content(), class);
        T::known(mass, |_| self.origin.class(class, self.within))
    }

    /// A class in one mix is what its lines hold; anywhere else, all there is of it.
    pub fn class_lines<T: Term>(&self, class: Class, what: &Subject) -> T {
        let name = || what.clone();
        let Some((lines, mix)) = self.own_lines() else {
            return self.class::<T>(class).called(name);
        };
        let is_it = |line: &&WorkedLine| match line.goes {
            LineRef::Ingredient(id) => self.worked().class_of(id) == class,
            LineRef::Culture(_) => class == Class::Culture,
            _ => false,
        };
        T::sum(name, ValueKind::Mass, lines.iter().filter(is_it).map(|line| self.line(line, mix)))
    }

    /// The lines of a stage or of the final dough, where that is the place.
    fn own_lines(&self) -> Option<(&'a [WorkedLine], Option<&'a Mix>)> {
        let (numbers, formula) = (self.numbers(), &self.worked().formula);
        match self.within {
            Within::Stage(stage) => {
                let mix = &formula.stages[stage].mix;
                Some((numbers.stages[stage].lines.as_slice(), Some(mix)))
            }
            Within::FinalDough => Some((numbers.dough_lines.as_slice(), main_mix(formula))),
            Within::All | Within::Pieces | Within::SideMix(_) => None,
        }
    }

    fn line<T: Term>(&self, line: &WorkedLine, mix: Option<&Mix>) -> T {
        T::known(line.mass.clone(), |_| self.origin.line(line, mix, self.within))
    }

    /// How heavy the mix is.
    fn dough<T: Term>(&self) -> T {
        let mass = match self.within {
            Within::Stage(stage) => self.numbers().stages[stage].made.clone(),
            _ => self.content().mass(),
        };
        T::known(mass, |_| self.origin.dough(self.within))
    }

    fn dough_yield<T: Term>(&self, name: impl FnOnce() -> Subject) -> Option<T> {
        let flour = || self.class::<T>(Class::Flour);
        let parts = [flour(), self.class(Class::Water)];
        let parts = T::sum(|| Topic::FlourAndWater.into(), ValueKind::Mass, parts);
        let ratio = T::ratio(|| Topic::PartsForOne.into(), parts, flour())?;
        let hundred = T::known(int(100), |hundred| {
            Reason::new(Topic::Hundred, hundred, ValueKind::Number, How::Written)
        });
        Some(T::product(name, ValueKind::Number, [ratio, hundred]))
    }

    /// What a stage is begun with, over its new flour.
    fn inoculation<T: Term>(&self, name: impl FnOnce() -> Subject) -> Option<T> {
        let Within::Stage(stage) = self.within else { return None };
        let numbers = &self.numbers().stages[stage];
        let mix = Some(&self.worked().formula.stages[stage].mix);
        let seeds = numbers.lines.iter().filter(|line| self.worked().is_seed(line));
        let seeds =
            T::sum(|| Topic::Seed.into(), ValueKind::Mass, seeds.map(|line| self.line(line, mix)));
        let basis = T::known(numbers.basis.clone(), |_| self.origin.basis(self.within));
        T::ratio(name, seeds, basis)
    }

    /// How warm the water of the dough has to be, or how much of it is ice.
    fn warmth<T: Term>(&self, figure: &Figure) -> Option<T> {
        if !matches!(self.within, Within::All | Within::FinalDough) {
            return None;
        }
        let warmth = warmth(self.worked()).ok()?;
        let reason = match figure {
            Figure::Ice => warmth.ice?,
            _ => warmth.water,
        };
        Some(T::known(reason.amount.clone(), |_| reason))
    }

    /// What shares of the ingredients in the place come to.
    fn shares<T: Term>(
        &self,
        what: Topic,
        word: Topic,
        share: impl Fn(&Ingredient) -> Option<Exact>,
    ) -> T {
        let parts = self.content().iter().filter_map(|(substance, mass)| {
            let Substance::Ingredient(id) = substance else { return None };
            self.share_of(id, mass, self.within, word, share(self.ingredient(id))?)
        });
        T::sum(|| what.into(), ValueKind::Mass, parts)
    }

    /// A share of so many grams of an ingredient; none where it is nothing.
    fn share_of<T: Term>(
        &self,
        id: IngredientId,
        mass: &Exact,
        within: Within,
        word: Topic,
        share: Exact,
    ) -> Option<T> {
        if share.is_zero() {
            return None;
        }
        let own = T::known(mass.clone(), |mass| self.origin.ingredient(id, mass, within));
        if share.is_one() {
            return Some(own);
        }
        let known = &self.ingredient(id).name;
        let part = T::known(share, |share| {
            let what = match word {
                AS_FRESH => Subject::FreshYeastFor(known.shown.clone()),
                word => Subject::from(word).inside(&known.shown),
            };
            Reason::new(what, share, ValueKind::Share, How::Written).at(known.span)
        });
        let what = || match word {
            AS_FRESH => Subject::AsFreshYeast(known.shown.clone()),
            word => Subject::from(word).of(&known.shown),
        };
        Some(T::product(what, ValueKind::Mass, [own, part]))
    }

    /// All water in anything but flour; that of cultures too, which a table may not split.
    fn all_water<T: Term>(&self) -> T {
        let water = |id| match self.worked().is_flour(id) {
            true => None,
            false => self.ingredient(id).water_share(),
        };
        let parts = self.content().iter().filter_map(|(substance, mass)| match substance {
            Substance::Ingredient(id) => {
                self.share_of(id, mass, self.within, Topic::Water, water(id)?)
            }
            _ => None,
        });
        let in_cultures = self.of_whole_cultures(Topic::Water.into(), water, |name| {
            Subject::from(Topic::Water).of(name)
        });
        let what = || Topic::WaterOfAllButFlour.into();
        T::sum(what, ValueKind::Mass, parts.chain(in_cultures))
    }

    /// All flour, that of cultures too which a table does not split.
    fn true_flour<T: Term>(&self) -> T {
        let mut whole = self.in_whole_cultures::<T>(Class::Flour).peekable();
        let flour = self.class(Class::Flour);
        if whole.peek().is_none() {
            return flour;
        }
        T::sum(|| Topic::AllFlour.into(), ValueKind::Mass, std::iter::once(flour).chain(whole))
    }

    /// What cultures that a table does not split hold of a class.
    fn in_whole_cultures<T: Term>(&self, class: Class) -> impl Iterator<Item = T> {
        let is_it = move |id| (self.worked().class_of(id) == class).then_some(Exact::ONE);
        self.of_whole_cultures(Subject::named(class.word()), is_it, |name| {
            Subject::By(name.clone())
        })
    }

    /// What cultures that a table does not split hold of something: `share` of each of
    /// their ingredients.
    fn of_whole_cultures<T: Term>(
        &self,
        word: Subject,
        share: impl Fn(IngredientId) -> Option<Exact>,
        what: impl Fn(&EcoString) -> Subject,
    ) -> impl Iterator<Item = T> {
        self.content().iter().filter_map(move |(substance, mass)| {
            let (Substance::Whole(id) | Substance::Kept(id)) = substance else { return None };
            let culture = self.origin.house.culture(id);
            let name = &culture.name.shown;
            let own = T::known(mass.clone(), |mass| {
                Reason::given(name, mass, ValueKind::Mass, Ground::NotSplit)
            });
            let held = sum_of(&culture.per_gram, &share);
            let held = T::known(held, |held| {
                Reason::new(word.clone().inside(name), held, ValueKind::Share, How::Written)
                    .at(culture.name.span)
            });
            Some(T::product(|| what(name), ValueKind::Mass, [own, held]))
        })
    }
}
