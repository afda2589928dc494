//! The registry of names: what each stands for, in a house and in the stores after it.

use super::drawers::Drawers;
use super::ingredient::{Culture, Ingredient};
use super::machines::{Board, Mixer, Oven, Rack, Tin};
use super::settings::{Setting, Settings};
use super::silent::Silent;
use crate::diag::nearest;
use crate::formula::composition::{CultureId, IngredientId};
use crate::quantity::display::Scale;
use crate::quantity::{Exact, Units};
use crate::syntax::booklet::Booklet;
use crate::syntax::tree::{self, Quantity};
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::sync::OnceLock;

/// All names that files under one root share.
#[derive(Clone, Debug, Default)]
pub struct House<'t> {
    /// The house whose names stand where this one has none: the stores'.
    pub(super) behind: Option<&'t House<'t>>,
    /// Of the stores' house: what it has not read yet.
    pub(super) drawers: Option<&'static Drawers>,
    /// In the order of their numbers.
    pub(super) ingredients: Vec<OnceLock<Ingredient>>,
    /// By every name they have.
    pub(super) ingredient_names: FxHashMap<EcoString, IngredientId>,
    /// What its own ingredients are called in languages.
    pub(super) called_names: FxHashMap<EcoString, Vec<(EcoString, IngredientId)>>,
    /// The first words of all names of ingredients, to pass over other words quickly, each
    /// with how many words a name has at most that begins with it.
    pub(super) first_words: FxHashMap<EcoString, u8>,
    /// In the order of their numbers.
    pub(super) cultures: Vec<OnceLock<Culture>>,
    /// By key.
    pub(super) culture_names: FxHashMap<EcoString, CultureId>,
    /// By key.
    pub(super) styles: FxHashMap<EcoString, &'t tree::Style>,
    /// Stages that formulas share, by key.
    pub(super) stages: FxHashMap<EcoString, &'t tree::Stage>,
    /// Side mixes that formulas share, by key.
    pub(super) mixtures: FxHashMap<EcoString, &'t tree::Mixture>,
    /// By key.
    pub(super) formulas: FxHashMap<EcoString, &'t tree::Formula>,
    /// Handouts, by key.
    pub(super) booklets: FxHashMap<EcoString, &'t Booklet>,
    /// In the order of their statements, as are mixers and ovens.
    pub(super) tins: Vec<Tin>,
    /// In the order of their statements.
    pub(super) mixers: Vec<Mixer>,
    /// In the order of their statements.
    pub(super) ovens: Vec<Oven>,
    /// Proofers and refrigerators, in the order of their statements.
    pub(super) racks: Vec<Rack>,
    /// In the order of their statements.
    pub(super) boards: Vec<Board>,
    /// Production days by key.
    pub(super) days: FxHashMap<EcoString, &'t tree::Day>,
    /// What the bakehouse says of itself.
    pub settings: Settings,
    /// Texts in which a rule found nothing to judge.
    pub silent: Silent,
}

impl<'t> House<'t> {
    /// The same house without its settings and without its machines but for tins: what it makes
    /// of its formulas is what they say themselves.
    pub fn bare(&self) -> Self {
        let settings = Settings::default();
        let (mixers, ovens, racks, boards) = Default::default();
        Self { settings, mixers, ovens, racks, boards, ..self.clone() }
    }

    /// The same house as a day says that it is: its room, its flour and its water.
    pub fn on_day(&self, day: &tree::Day) -> Self {
        let mut house = self.clone();
        for (word, quantity) in &day.temperatures {
            let celsius = Some(self.base(quantity));
            match word.as_str() {
                "room" => house.settings.room = celsius,
                "flour" => house.settings.flour = celsius,
                _ => house.settings.tap = celsius,
            }
        }
        house
    }

    /// How many ingredients there are, with those of the stores.
    pub fn ingredient_count(&self) -> u32 {
        self.behind.map_or(0, House::ingredient_count) + self.ingredients.len() as u32
    }

    /// How many cultures there are, with those of the stores.
    pub(super) fn culture_count(&self) -> u32 {
        self.behind.map_or(0, House::culture_count) + self.cultures.len() as u32
    }

    /// The ingredient that has a name.
    pub fn ingredient_id(&self, key: &str) -> Option<IngredientId> {
        self.ingredient_names
            .get(key)
            .copied()
            .or_else(|| self.behind.and_then(|behind| behind.ingredient_id(key)))
    }

    /// Every name of its own ingredients.
    pub fn own_names(&self) -> impl Iterator<Item = (&EcoString, IngredientId)> {
        self.ingredient_names.iter().map(|(name, id)| (name, *id))
    }

    /// The ingredient of its own that a language calls so.
    pub(in crate::formula) fn own_called(
        &self,
        language: &str,
        called: &str,
    ) -> Option<IngredientId> {
        let known = self.called_names.get(called)?;
        known.iter().find(|(known, _)| known == language).map(|(_, id)| *id)
    }

    /// How many words at most a name has that begins with a word; none where none does.
    pub fn longest_name(&self, word: &str) -> usize {
        let own = self.first_words.get(word).map_or(0, |most| usize::from(*most));
        own.max(self.behind.map_or(0, |behind| behind.longest_name(word)))
    }

    /// The ingredient of a number that this house gave.
    ///
    /// # Panics
    /// Never for a number of this house; another house's number is a bug of ours.
    pub fn ingredient(&self, id: IngredientId) -> &Ingredient {
        let before = self.behind.map_or(0, House::ingredient_count);
        match (id.0.checked_sub(before), self.behind) {
            (Some(index), _) => self.own_ingredient(index as usize),
            (None, Some(behind)) => behind.ingredient(id),
            (None, None) => unreachable!("an ingredient number is at least zero"),
        }
    }

    /// The same with all that is known of it.
    pub fn ingredient_named(&self, key: &str) -> Option<&Ingredient> {
        self.ingredient_id(key).map(|id| self.ingredient(id))
    }

    /// All ingredients, the stores' first.
    pub fn ingredients(&self) -> impl Iterator<Item = &Ingredient> {
        (0..self.ingredient_count()).map(|id| self.ingredient(IngredientId(id)))
    }

    /// The names of the stores' ingredients, none of which is read for it.
    pub fn names_in_stores(&self) -> impl Iterator<Item = &EcoString> {
        let drawers = self.behind.map_or(self.drawers, |behind| behind.drawers);
        let all = drawers.into_iter().flat_map(|drawers| &drawers.ingredients);
        all.filter_map(|drawer| drawer.names.first())
    }

    /// Whether a culture has a name, which is not read for it.
    pub fn has_culture(&self, key: &str) -> bool {
        self.culture_names.contains_key(key) || self.behind.is_some_and(|it| it.has_culture(key))
    }

    /// The culture that has a name.
    pub fn culture_named(&self, key: &str) -> Option<(CultureId, &Culture)> {
        match self.culture_names.get(key) {
            Some(id) => Some((*id, self.culture(*id))),
            None => self.behind.and_then(|behind| behind.culture_named(key)),
        }
    }

    /// The culture of a number that this house gave; see [`Self::ingredient`].
    pub fn culture(&self, id: CultureId) -> &Culture {
        let before = self.behind.map_or(0, House::culture_count);
        match (id.0.checked_sub(before), self.behind) {
            (Some(index), _) => self.own_culture(index as usize),
            (None, Some(behind)) => behind.culture(id),
            (None, None) => unreachable!("a culture number is at least zero"),
        }
    }

    /// The style that has a name.
    pub fn style(&self, key: &str) -> Option<&'t tree::Style> {
        let drawn = || self.drawers.and_then(|drawers| drawers.styles.get(key)?.style());
        let own = self.styles.get(key).copied().or_else(drawn);
        own.or_else(|| self.behind.and_then(|behind| behind.style(key)))
    }

    /// Styles that this house declares itself.
    pub fn own_styles(&self) -> impl Iterator<Item = &'t tree::Style> {
        let drawers = self.drawers.into_iter().flat_map(|drawers| drawers.styles.values());
        self.styles.values().copied().chain(drawers.filter_map(|drawer| drawer.style()))
    }

    /// The names of the shared stages of this house, in order.
    pub fn own_stages(&self) -> Vec<&'t str> {
        let mut names: Vec<&str> = self.stages.values().map(|it| it.name.shown.as_str()).collect();
        names.sort_unstable();
        names
    }

    /// The shared stage that has a name.
    pub fn stage(&self, key: &str) -> Option<&'t tree::Stage> {
        self.stages.get(key).copied()
    }

    /// The shared side mix that has a name.
    pub fn mixture(&self, key: &str) -> Option<&'t tree::Mixture> {
        self.mixtures.get(key).copied()
    }

    /// The formula that has a name.
    pub fn formula(&self, key: &str) -> Option<&'t tree::Formula> {
        self.formulas.get(key).copied()
    }

    /// All formulas of the house, in no order.
    pub fn formulas(&self) -> impl Iterator<Item = &'t tree::Formula> + '_ {
        self.formulas.values().copied()
    }

    /// All tins of the house.
    pub fn tins(&self) -> &[Tin] {
        &self.tins
    }

    /// The tin that has a name.
    pub fn tin(&self, key: &str) -> Option<&Tin> {
        self.tins.iter().find(|tin| tin.name.key == key)
    }

    /// Names of mixers, ovens and tins.
    pub fn machine_names(&self) -> impl Iterator<Item = &str> {
        let mixers = self.mixers.iter().map(|mixer| &mixer.name);
        let tins = self.tins.iter().map(|tin| &tin.name);
        let ovens = self.ovens.iter().map(|oven| &oven.name);
        mixers.chain(tins).chain(ovens).map(|name| name.key.as_str())
    }

    /// Proofers and refrigerators of the house.
    pub fn racks(&self) -> &[Rack] {
        &self.racks
    }

    /// Boards of the house.
    pub fn boards(&self) -> &[Board] {
        &self.boards
    }

    /// The production day that has a name.
    pub fn day(&self, key: &str) -> Option<&'t tree::Day> {
        self.days.get(key).copied()
    }

    /// The names of all days, in order.
    pub fn day_names(&self) -> Vec<&str> {
        let mut names: Vec<&str> = self.days.keys().map(EcoString::as_str).collect();
        names.sort_unstable();
        names
    }

    /// The day that a key most likely means.
    pub fn near_day(&self, key: &str) -> Option<EcoString> {
        nearest(key, self.day_names()).map(EcoString::from)
    }

    /// All ovens of the house.
    pub fn ovens(&self) -> &[Oven] {
        &self.ovens
    }

    /// All mixers of the house.
    pub fn mixers(&self) -> &[Mixer] {
        &self.mixers
    }

    /// The keys of all ovens.
    pub fn oven_keys(&self) -> impl Iterator<Item = &str> {
        self.ovens.iter().map(|oven| oven.name.key.as_str())
    }

    /// Its own names of what may stand on a line.
    pub(super) fn own_line_names(&self) -> impl Iterator<Item = &str> {
        let own = self.ingredient_names.keys().chain(self.culture_names.keys());
        let shared = self.stages.keys().chain(self.mixtures.keys());
        own.chain(shared).map(EcoString::as_str)
    }

    /// All names of what may stand on a line.
    pub(super) fn line_names(&self) -> Box<dyn Iterator<Item = &str> + '_> {
        match self.behind {
            Some(behind) => Box::new(self.own_line_names().chain(behind.line_names())),
            None => Box::new(self.own_line_names()),
        }
    }

    /// Cultures that a bakehouse declares, in the order of their statements.
    pub(super) fn own_cultures(&self) -> impl Iterator<Item = &Culture> {
        let count = if self.drawers.is_some() { 0 } else { self.cultures.len() };
        (0..count).map(|index| self.own_culture(index))
    }

    /// The same house with a language, units and paper of its own, as a booklet may have.
    pub fn told_in(&self, language: Option<Setting>, units: Option<Units>) -> Self {
        let mut house = self.clone();
        house.settings.language = language.or(house.settings.language);
        if let Some(units) = units {
            if units.first != house.settings.units.first {
                let other = house.settings.other_scale.take();
                let other = other.unwrap_or_else(|| Scale::usual(units.first));
                house.settings.other_scale =
                    Some(std::mem::replace(&mut house.settings.scale, other));
            }
            house.settings.units = units;
        }
        house
    }

    /// A quantity in the base unit of its dimension, by the house's measures.
    pub fn base(&self, quantity: &Quantity) -> Exact {
        quantity.unit.to_base(&quantity.number, self.settings.measures)
    }

    /// The middle of a range in the base unit; of an open one the end it has.
    pub fn middle(&self, extent: &tree::Extent) -> Option<Exact> {
        match (&extent.low, &extent.high) {
            (Some(low), Some(high)) => Some((self.base(low) + self.base(high)).one_in::<2>()),
            (one, other) => one.as_ref().or(other.as_ref()).map(|end| self.base(end)),
        }
    }

    /// The style that a key most likely means.
    pub fn near_style(&self, key: &str) -> Option<EcoString> {
        nearest(key, self.style_names()).map(EcoString::from)
    }

    /// The names of all styles, in order; bounds that are no style are none.
    pub fn style_names(&self) -> Vec<&str> {
        let behind = self.behind.into_iter().flat_map(House::style_keys);
        let mut names: Vec<&str> = self.style_keys().chain(behind).collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    fn style_keys(&self) -> impl Iterator<Item = &str> {
        let drawers = self.drawers.into_iter().flat_map(|drawers| &drawers.styles);
        let named = drawers.filter(|(_, drawer)| !drawer.is_bounds()).map(|(name, _)| name);
        self.styles.keys().chain(named).map(EcoString::as_str)
    }

    /// The formula that a key most likely means.
    pub fn near_formula(&self, key: &str) -> Option<EcoString> {
        nearest(key, self.formulas.keys().map(EcoString::as_str)).map(EcoString::from)
    }

    /// The tin that a key most likely means.
    pub fn near_tin(&self, key: &str) -> Option<EcoString> {
        nearest(key, self.tins.iter().map(|tin| tin.name.key.as_str())).map(EcoString::from)
    }
}
