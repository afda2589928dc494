//! Everything that has a name: the built-in stores and what a bakehouse declares.
//!
//! A house looks a name up in itself first and in the stores behind it second, so a
//! bakehouse's own declaration replaces the built-in one.

use super::allergens::LANGUAGES;
use super::class::{Class, Composition, Nutrient};
use super::content::{Content, CultureId, IngredientId, Substance};
use super::declared::Declared;
use super::findings as say;
use super::held::Held;
use crate::diag::{Finding, nearest};
use crate::quantity::display::{Scale, ScaleStep};
use crate::quantity::{Dimension, Exact, Measures, Range, System, Unit, Units, int, ratio};
use crate::source::{SourceId, Span};
use crate::syntax::tree::{
    self, Amount, Base, Kind, MachineKind, Mix, Name, Quantity, Tree, Words,
};
use crate::syntax::{key_of, read};
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet};
use std::sync::OnceLock;

/// How many formulas or ingredients may be based on each other in a row.
pub const MOST_GENERATIONS: usize = 32;

/// What a bakery weighs out.
#[derive(Clone, Debug)]
pub struct Ingredient {
    pub name: Name,
    pub class: Class,
    pub composition: Composition,
    /// Grams in a millilitre.
    pub grams_per_ml: Option<Exact>,
    /// Grams of one, for counts.
    pub each: Option<Exact>,
    /// Degrees Celsius that it is kept at.
    pub kept: Option<Exact>,
    /// Allergens, and what animals gave.
    pub declared: Declared,
    /// Grams of salt of cooking in a gram; the sodium of raising agents is none.
    pub salt: Exact,
    /// Grams of salt in a gram as a label declares it, from sodium; none where it is not
    /// known.
    pub declared_salt: Option<Exact>,
    /// Names in other languages, by language.
    pub called: Vec<(EcoString, EcoString)>,
    /// What to beware of wherever it is used.
    pub cautions: Vec<tree::Text>,
    /// Of a yeast: grams of fresh yeast that one gram stands for.
    pub fresh_equivalent: Option<Exact>,
    pub built_in: bool,
}

impl Ingredient {
    /// From sodium where salt itself is not stated.
    fn salt_of_composition(&self) -> Exact {
        match (self.class, self.composition.get(Nutrient::Salt)) {
            (Class::Salt, _) => Exact::ONE,
            (_, Some(salt)) => salt.clone(),
            (Class::Leavener, None) => Exact::ZERO,
            (_, None) => self.sodium_as_salt().unwrap_or_default(),
        }
    }

    /// Salt is sodium times 2.5 (EU Regulation 1169/2011, Annex I, point 11).
    fn sodium_as_salt(&self) -> Option<Exact> {
        self.composition.get(Nutrient::Sodium).map(|sodium| sodium * ratio(5, 2))
    }

    fn salt_on_a_label(&self) -> Option<Exact> {
        let stated = || self.composition.get(Nutrient::Salt).cloned();
        let by_class = || match self.class {
            Class::Salt => Some(Exact::ONE),
            Class::Water => Some(Exact::ZERO),
            _ => None,
        };
        self.sodium_as_salt().or_else(stated).or_else(by_class)
    }

    /// Grams of water in a gram of it; class water counts as all water.
    pub fn water_share(&self) -> Option<Exact> {
        match self.class {
            Class::Water => Some(Exact::ONE),
            _ => self.composition.get(Nutrient::Water).cloned(),
        }
    }
}

/// A kept starter.
#[derive(Clone, Debug)]
pub struct Culture {
    pub name: Name,
    /// What one gram of it is made of.
    pub per_gram: Content,
    /// All that its lines name, those without a weight too.
    pub holds: Held,
    /// What to beware of wherever it is used.
    pub cautions: Vec<tree::Text>,
}

/// A tin, a mixer or an oven.
#[derive(Clone, Debug)]
pub struct Mixer {
    pub name: Name,
    /// Grams of dough.
    pub holds: Option<Range>,
    /// What mixing adds, in degrees Celsius of the factor method.
    pub friction: Option<Exact>,
    /// Kilojoules that it puts into a kilogram of dough, for the balance of heat.
    pub work: Option<Exact>,
}

/// An oven, and how many pieces go into it at once.
#[derive(Clone, Debug)]
pub struct Oven {
    pub name: Name,
    /// Pieces of a kind, or of any.
    pub holds: Vec<(Option<Name>, Exact)>,
}

#[derive(Clone, Debug)]
pub struct Tin {
    pub name: Name,
    pub millilitres: Exact,
    /// Millilitres of tin for a gram of dough.
    pub ml_per_gram: Option<Exact>,
    /// What it is greased with: ingredients and side mixes.
    pub greased: Vec<Name>,
}

impl Tin {
    /// Millilitres of tin for a gram of dough.
    pub fn ml_for_a_gram(&self) -> Exact {
        // Common practice, no source; a tin may say its own.
        self.ml_per_gram.clone().unwrap_or_else(|| ratio(16, 5))
    }

    /// Grams of dough that fill it.
    pub fn fits(&self) -> Exact {
        &self.millilitres / self.ml_for_a_gram()
    }
}

/// Settings of a bakehouse.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    pub title: Option<String>,
    /// Where it stands.
    pub title_span: Span,
    pub units: Units,
    /// Volumes stand beside weights on cards.
    pub volumes: bool,
    pub measures: Measures,
    /// The language of the printed words, as a BCP 47 tag.
    pub language: Option<Setting>,
    /// What the scales show in the first of the units.
    pub scale: Scale,
    /// What they show in the other ones, where the house says so.
    pub other_scale: Option<Scale>,
    pub declared: bool,
    pub paper: Option<Setting>,
    pub footer: Option<Setting>,
    /// The file of the house's sign, below its root.
    pub logo: Option<Setting>,
    /// The one colour of the prints, as `#2f4858`.
    pub colour: Option<Setting>,
    /// When there are hands.
    pub hours: Vec<tree::Open>,
    /// The time zone, by its name in the world's zone database.
    pub zone: Option<Setting>,
    /// Degrees Celsius of the room, the flour and the tap's water.
    pub room: Option<Exact>,
    pub flour: Option<Exact>,
    pub tap: Option<Exact>,
    /// How fast dough was seen to cool, for what stands in the cold.
    pub cooling: Option<Cooled>,
    /// What prices are in.
    pub currency: Option<Setting>,
    /// How water temperatures are worked out: `by factor` or `by heat balance`.
    pub water: Option<Setting>,
}

/// A measured course of cooling: grams of dough, degrees Celsius and minutes.
#[derive(Clone, Debug)]
pub struct Cooled {
    pub mass: Exact,
    pub from: Exact,
    pub to: Exact,
    pub minutes: Exact,
    pub at: Exact,
    pub span: Span,
}

/// A setting as it stands, and where.
#[derive(Clone, Debug)]
pub struct Setting {
    pub value: EcoString,
    pub span: Span,
}

/// All names that files under one root share.
#[derive(Debug, Default)]
pub struct House<'t> {
    behind: Option<&'t House<'t>>,
    ingredients: Vec<Ingredient>,
    ingredient_names: FxHashMap<EcoString, IngredientId>,
    /// The first words of all names of ingredients, to pass over other words quickly.
    first_words: FxHashSet<EcoString>,
    cultures: Vec<Culture>,
    culture_names: FxHashMap<EcoString, CultureId>,
    styles: FxHashMap<EcoString, &'t tree::Style>,
    stages: FxHashMap<EcoString, &'t tree::Stage>,
    mixtures: FxHashMap<EcoString, &'t tree::Mixture>,
    formulas: FxHashMap<EcoString, &'t tree::Formula>,
    tins: Vec<Tin>,
    mixers: Vec<Mixer>,
    ovens: Vec<Oven>,
    pub settings: Settings,
}

/// A store that comes with the program.
pub struct Store {
    pub id: SourceId,
    pub name: &'static str,
    pub text: &'static str,
}

/// The built-in stores, written in the language.
pub const STORES: [Store; 4] = [
    Store {
        id: SourceId::INGREDIENTS,
        name: "stores/ingredients.dough",
        text: include_str!("stores/ingredients.dough"),
    },
    Store {
        id: SourceId::CULTURES,
        name: "stores/cultures.dough",
        text: include_str!("stores/cultures.dough"),
    },
    Store {
        id: SourceId::STYLES,
        name: "stores/styles.dough",
        text: include_str!("stores/styles.dough"),
    },
    Store {
        id: SourceId::LIMITS,
        name: "stores/limits.dough",
        text: include_str!("stores/limits.dough"),
    },
];

/// What the stores say, read once.
fn stored() -> &'static [Tree] {
    static TREES: OnceLock<Vec<Tree>> = OnceLock::new();
    TREES.get_or_init(|| STORES.iter().map(|store| read(store.id, store.text).0).collect())
}

/// The house that holds only the built-in stores.
pub fn built_in() -> &'static House<'static> {
    static HOUSE: OnceLock<House<'static>> = OnceLock::new();
    HOUSE.get_or_init(|| {
        let trees: Vec<&Tree> = stored().iter().collect();
        House::build(None, &trees, &mut Vec::new())
    })
}

/// An entry of a built-in store.
pub struct Entry {
    /// `ingredients` or `cultures`.
    pub store: &'static str,
    pub name: EcoString,
    /// Where its numbers are from, where it says so.
    pub source: Option<String>,
}

/// The entry of a built-in store whose name stands at a place.
pub fn entry_at(place: Span) -> Option<Entry> {
    let entry = |store, name: &Name, texts: &[Words]| Entry {
        store,
        name: name.shown.clone(),
        source: words_of(texts, tree::WordsKind::Source).next().map(plain),
    };
    let own = |name: &Name| name.span == place;
    stored().iter().filter(|_| place.source.is_built_in()).find_map(|tree| {
        let ingredient = tree.ingredients.iter().find(|it| own(&it.name));
        let ingredient = ingredient.map(|it| entry("ingredients", &it.name, &it.texts));
        let culture = || tree.cultures.iter().find(|it| own(&it.name));
        ingredient.or_else(|| culture().map(|it| entry("cultures", &it.name, &it.texts)))
    })
}

impl<'t> House<'t> {
    /// Collects what `trees` declare in front of the house `behind`.
    pub fn build(
        behind: Option<&'t House<'t>>,
        trees: &[&'t Tree],
        findings: &mut Vec<Finding>,
    ) -> Self {
        let mut house = Self { behind, ..Self::default() };
        house.settle(trees, findings);
        house.declare_ingredients(trees, findings);
        let first = |name: &EcoString| name.split(' ').next().unwrap_or_default().into();
        house.first_words = house.ingredient_names.keys().map(first).collect();
        for tree in trees {
            house.declare_rest(tree, findings);
        }
        for name in house.tins.iter().flat_map(|tin| &tin.greased) {
            let is_known = house.ingredient_id(&name.key).is_some()
                || house.mixture(&name.key).is_some()
                || house.culture_named(&name.key).is_some();
            if !is_known {
                findings.push(say::unknown_ingredient::finding(name, house.near(&name.key)));
            }
        }
        house
    }

    fn settle(&mut self, trees: &[&'t Tree], findings: &mut Vec<Finding>) {
        let mut first: Option<Span> = None;
        for tree in trees {
            for bakehouse in &tree.bakehouses {
                if let Some(first) = first {
                    findings.push(say::declared_twice::finding("bakehouse", bakehouse.span, first));
                    continue;
                }
                first = Some(bakehouse.span);
                self.settings = settings_of(bakehouse);
            }
        }
        let mut known: Vec<&tree::Machine> = Vec::new();
        for tree in trees {
            let machines = tree.bakehouses.iter().flat_map(|house| &house.machines);
            for machine in machines.chain(&tree.machines) {
                let same = |other: &&&tree::Machine| {
                    other.kind == machine.kind && other.name.key == machine.name.key
                };
                if let Some(first) = known.iter().find(same) {
                    let (name, first) = (&machine.name, first.name.span);
                    findings.push(say::declared_twice::finding(&name.shown, name.span, first));
                    continue;
                }
                known.push(machine);
                self.declare_machine(machine);
            }
        }
    }

    fn declare_machine(&mut self, machine: &tree::Machine) {
        let measures = self.settings.measures;
        let base = |quantity: &Quantity| quantity.unit.to_base(&quantity.number, measures);
        let held = machine.holds.first().map(|(extent, _)| Range {
            low: extent.low.as_ref().map(base),
            high: extent.high.as_ref().map(base),
        });
        match machine.kind {
            MachineKind::Oven => {
                let most = |extent: &tree::Extent| Some(base(extent.high.as_ref()?));
                let holds = machine.holds.iter();
                let holds = holds.filter_map(|(extent, kind)| Some((kind.clone(), most(extent)?)));
                self.ovens.push(Oven { name: machine.name.clone(), holds: holds.collect() });
            }
            MachineKind::Mixer => {
                // A difference of degrees has no zero to start from.
                let friction = machine.friction.as_ref().map(|friction| match friction.unit {
                    Unit::Fahrenheit => &friction.number * ratio(5, 9),
                    _ => friction.number.clone(),
                });
                let work = machine.work.as_ref().map(|(energy, per)| {
                    let kilograms = base(per) / int(1000);
                    let kilojoules = match energy.unit {
                        Unit::Kilocalorie => &energy.number * ratio(4184, 1000),
                        _ => energy.number.clone(),
                    };
                    if kilograms.is_zero() { Exact::ZERO } else { kilojoules / kilograms }
                });
                let name = machine.name.clone();
                self.mixers.push(Mixer { name, holds: held, friction, work });
            }
            MachineKind::Tin => {
                let Some(millilitres) = held.and_then(|held| held.high) else { return };
                let ml_per_gram = machine
                    .volume_per_gram
                    .as_ref()
                    .map(|(volume, mass)| (base(volume), base(mass)))
                    .filter(|(volume, mass)| !mass.is_zero() && !volume.is_zero())
                    .map(|(volume, mass)| volume / mass);
                let (name, greased) = (machine.name.clone(), machine.greased.clone());
                self.tins.push(Tin { name, millilitres, ml_per_gram, greased });
            }
        }
    }

    fn declare_ingredients(&mut self, trees: &[&'t Tree], findings: &mut Vec<Finding>) {
        let all: Vec<&tree::Ingredient> = trees.iter().flat_map(|tree| &tree.ingredients).collect();
        let first_id = self.behind.map_or(0, House::ingredient_count);
        for (index, ingredient) in all.iter().enumerate() {
            let id = IngredientId(first_id + index as u32);
            let behind = self.behind.and_then(|behind| behind.ingredient_id(&ingredient.name.key));
            if behind.is_some() {
                findings.push(say::replaces_built_in::finding("ingredient", &ingredient.name));
            }
            let names = std::iter::once(&ingredient.name).chain(&ingredient.also);
            for name in names {
                match self.ingredient_names.get(&name.key) {
                    Some(other) if *other != id => {
                        let first = all
                            .get((other.0 - first_id) as usize)
                            .map_or(name.span, |first| first.name.span);
                        findings.push(say::declared_twice::finding(&name.shown, name.span, first));
                    }
                    _ => {
                        self.ingredient_names.insert(name.key.clone(), id);
                    }
                }
            }
        }
        let mut built: Vec<Option<Ingredient>> = vec![None; all.len()];
        for index in 0..all.len() {
            self.build_ingredient(&all, index, &mut built, &mut Vec::new(), findings);
        }
        self.ingredients = built.into_iter().flatten().collect();
    }

    /// Builds an ingredient and, first, what it is `like`.
    fn build_ingredient(
        &self,
        all: &[&'t tree::Ingredient],
        index: usize,
        built: &mut Vec<Option<Ingredient>>,
        trail: &mut Vec<usize>,
        findings: &mut Vec<Finding>,
    ) {
        if built[index].is_some() {
            return;
        }
        let declared = all[index];
        let mut ingredient = Ingredient {
            name: declared.name.clone(),
            class: Class::Other,
            composition: Composition::default(),
            grams_per_ml: None,
            each: None,
            kept: None,
            declared: Declared::default(),
            salt: Exact::ZERO,
            declared_salt: None,
            called: Vec::new(),
            cautions: Vec::new(),
            fresh_equivalent: None,
            built_in: declared.span.source.is_built_in(),
        };
        match &declared.kind {
            Some(Kind::Class(word)) => match Class::read(&word.key) {
                Some(class) => ingredient.class = class,
                None => findings.push(say::unknown_class::finding(word)),
            },
            Some(Kind::Like(name)) => {
                trail.push(index);
                let model = self.model_for(all, name, built, trail, findings);
                trail.pop();
                if let Some(model) = model {
                    ingredient = Ingredient {
                        name: declared.name.clone(),
                        built_in: declared.span.source.is_built_in(),
                        called: Vec::new(),
                        ..model
                    };
                }
            }
            None => findings.push(say::unknown_class::missing(&declared.name)),
        }
        self.fill_in(&mut ingredient, declared, findings);
        ingredient.salt = ingredient.salt_of_composition();
        ingredient.declared_salt = ingredient.salt_on_a_label();
        built[index] = Some(ingredient);
    }

    fn model_for(
        &self,
        all: &[&'t tree::Ingredient],
        name: &Name,
        built: &mut Vec<Option<Ingredient>>,
        trail: &mut Vec<usize>,
        findings: &mut Vec<Finding>,
    ) -> Option<Ingredient> {
        let first_id = self.behind.map_or(0, House::ingredient_count);
        // `bread flour like bread flour` means the built-in one.
        let own = self
            .ingredient_names
            .get(&name.key)
            .map(|id| (id.0 - first_id) as usize)
            .filter(|index| trail.last() != Some(index) || self.behind.is_none());
        if trail.len() > MOST_GENERATIONS {
            findings.push(say::too_many::generations(name, MOST_GENERATIONS));
            return None;
        }
        if let Some(index) = own {
            if trail.contains(&index) {
                let names = trail.iter().map(|&step| all[step].name.shown.as_str()).collect();
                findings.push(say::from_cycle::finding(names, name, name.span));
                return None;
            }
            self.build_ingredient(all, index, built, trail, findings);
            return built[index].clone();
        }
        let behind = self.behind.and_then(|behind| behind.ingredient_named(&name.key));
        if behind.is_none() {
            findings.push(say::unknown_ingredient::finding(name, self.near(&name.key)));
        }
        behind.cloned()
    }

    fn fill_in(
        &self,
        ingredient: &mut Ingredient,
        declared: &tree::Ingredient,
        findings: &mut Vec<Finding>,
    ) {
        let base =
            |quantity: &Quantity| quantity.unit.to_base(&quantity.number, self.settings.measures);
        for property in &declared.properties {
            let value = base(&property.value);
            if property.name.key == "fresh equivalent" {
                ingredient.fresh_equivalent = Some(value);
                continue;
            }
            match (Nutrient::read(&property.name.key), property.value.unit.dimension()) {
                (Some(nutrient), Dimension::Share) => ingredient.composition.set(nutrient, value),
                // Weights and energies are per 100 g.
                (Some(nutrient), Dimension::Mass | Dimension::Energy) => {
                    ingredient.composition.set(nutrient, value / int(100));
                }
                _ => findings.push(say::unknown_property::finding(&property.name)),
            }
        }
        if let Some((volume, mass)) = &declared.volume
            && !volume.number.is_zero()
        {
            ingredient.grams_per_ml = Some(base(mass) / base(volume));
        }
        if let Some(each) = &declared.each {
            ingredient.each = Some(base(each));
        }
        if let Some(kept) = &declared.kept {
            ingredient.kept = Some(base(kept));
        }
        ingredient.declared.say(declared, findings);
        // A test holds the stores to the same.
        if !ingredient.built_in {
            let language = self.settings.language.as_ref().map_or("en", |it| it.value.as_str());
            let language = language.split(['-', '_']).next().unwrap_or_default();
            // A word of another language may mean something else here, as orzo does; where
            // nothing at all is said to be in it, that is no help.
            let own = ["en", language];
            let languages = if ingredient.declared.says_nothing() { &LANGUAGES[..] } else { &own };
            for name in std::iter::once(&declared.name).chain(&declared.also) {
                ingredient.declared.name(name, languages, findings);
            }
            for (language, shown) in &declared.called {
                let name =
                    tree::Name { key: key(shown), shown: shown.clone(), span: declared.name.span };
                ingredient.declared.name(&name, &[language.as_str()], findings);
            }
        }
        ingredient.called.extend(declared.called.iter().cloned());
        let cautions = words_of(&declared.texts, tree::WordsKind::Caution);
        ingredient.cautions.extend(cautions.cloned());
    }

    fn declare_rest(&mut self, tree: &'t Tree, findings: &mut Vec<Finding>) {
        for culture in &tree.cultures {
            if self.culture_names.contains_key(&culture.name.key) {
                let first = self.culture_named(&culture.name.key).map(|(_, first)| first.name.span);
                let first = first.unwrap_or(culture.name.span);
                let twice =
                    say::declared_twice::finding(&culture.name.shown, culture.name.span, first);
                findings.push(twice);
                continue;
            }
            if self.behind.is_some_and(|behind| behind.culture_named(&culture.name.key).is_some()) {
                findings.push(say::replaces_built_in::finding("culture", &culture.name));
            }
            let id = CultureId(self.culture_count());
            let per_gram = self.culture_content(&culture.name, &culture.mix, findings);
            self.culture_names.insert(culture.name.key.clone(), id);
            let holds = self.culture_holds(&culture.mix);
            let cautions = words_of(&culture.texts, tree::WordsKind::Caution).cloned().collect();
            let name = culture.name.clone();
            self.cultures.push(Culture { name, per_gram, holds, cautions });
        }
        let behind = self.behind;
        let mut twice = |name: &Name, first: Option<Span>| {
            if let Some(first) = first {
                findings.push(say::declared_twice::finding(&name.shown, name.span, first));
            }
        };
        for stage in &tree.stages {
            let first = self.stages.insert(stage.name.key.clone(), stage);
            twice(&stage.name, first.map(|first| first.name.span));
        }
        for mixture in &tree.mixtures {
            let first = self.mixtures.insert(mixture.name.key.clone(), mixture);
            twice(&mixture.name, first.map(|first| first.name.span));
        }
        for formula in &tree.formulas {
            let first = self.formulas.insert(formula.name.key.clone(), formula);
            twice(&formula.name, first.map(|first| first.name.span));
        }
        for style in &tree.styles {
            let first = self.styles.insert(style.name.key.clone(), style);
            twice(&style.name, first.map(|first| first.name.span));
        }
        for style in &tree.styles {
            if behind.is_some_and(|behind| behind.style(&style.name.key).is_some()) {
                findings.push(say::replaces_built_in::finding("style", &style.name));
            }
        }
    }

    fn culture_holds(&self, mix: &Mix) -> Held {
        let mut holds = Held::default();
        for line in &mix.lines {
            match self.ingredient_id(&line.target.name.key) {
                Some(id) => holds.add(id),
                None => holds.add_nameless(&line.target.name.shown),
            }
        }
        holds
    }

    /// A culture is written in per cent of its flour, in parts or in weights; the
    /// proportions are the same.
    fn culture_content(&self, name: &Name, mix: &Mix, findings: &mut Vec<Finding>) -> Content {
        let mut content = Content::default();
        let mut counted_in: Option<Dimension> = None;
        let is_flour = |line: &&tree::Line| {
            let ingredient = self.ingredient_named(&line.target.name.key);
            ingredient.is_some_and(|ingredient| ingredient.class == Class::Flour)
        };
        let flours: Vec<&tree::Line> = mix.lines.iter().filter(is_flour).collect();
        for line in &mix.lines {
            let Some(id) = self.ingredient_id(&line.target.name.key) else {
                let name = &line.target.name;
                findings.push(say::unknown_ingredient::finding(name, self.near(&name.key)));
                continue;
            };
            let rest = matches!(line.amount, Amount::Rest).then(|| rest_of_flour(&flours));
            let written = match &line.amount {
                Amount::Measured { range, base } if !range.ranged => {
                    range.low.as_ref().map(|quantity| (quantity, base.as_deref()))
                }
                _ => None,
            };
            let Some((quantity, base)) = written else {
                match rest.flatten() {
                    Some(share) => content.add(Substance::Ingredient(id), share),
                    None => findings.push(say::not_an_amount::in_a_culture(line)),
                }
                continue;
            };
            let number = quantity.unit.to_base(&quantity.number, self.settings.measures);
            let density = self.ingredient(id).grams_per_ml.as_ref();
            // Weights stand beside spoons, but not beside per cent or parts.
            let counts_in = match quantity.unit.dimension() {
                Dimension::Volume => Dimension::Mass,
                other => other,
            };
            if *counted_in.get_or_insert(counts_in) != counts_in {
                findings.push(say::size_unknown::hangs_on_size(name));
                return Content::default();
            }
            let mass = match (quantity.unit.dimension(), base) {
                (Dimension::Mass | Dimension::Part, None) => number,
                (Dimension::Share, None | Some(Base::Flour)) => number,
                (Dimension::Volume, None) => match density {
                    Some(density) => number * density,
                    None => {
                        findings.push(say::no_density::finding(&line.target, quantity));
                        continue;
                    }
                },
                (Dimension::Count, _) => {
                    findings.push(say::no_each_weight::uncounted(&line.target, quantity));
                    continue;
                }
                _ => {
                    findings.push(say::not_an_amount::finding(&line.target, quantity));
                    continue;
                }
            };
            content.add(Substance::Ingredient(id), mass);
        }
        if mix.lines.is_empty() {
            findings.push(say::size_unknown::empty(name));
        }
        content.per_gram().unwrap_or_default()
    }

    pub fn ingredient_count(&self) -> u32 {
        self.behind.map_or(0, House::ingredient_count) + self.ingredients.len() as u32
    }

    fn culture_count(&self) -> u32 {
        self.behind.map_or(0, House::culture_count) + self.cultures.len() as u32
    }

    pub fn ingredient_id(&self, key: &str) -> Option<IngredientId> {
        self.ingredient_names
            .get(key)
            .copied()
            .or_else(|| self.behind.and_then(|behind| behind.ingredient_id(key)))
    }

    /// Whether some ingredient's name begins with a word.
    pub fn begins_a_name(&self, word: &str) -> bool {
        self.first_words.contains(word)
            || self.behind.is_some_and(|behind| behind.begins_a_name(word))
    }

    /// The ingredient of a number that this house gave.
    ///
    /// # Panics
    /// Never for a number of this house; another house's number is a bug of ours.
    pub fn ingredient(&self, id: IngredientId) -> &Ingredient {
        let before = self.behind.map_or(0, House::ingredient_count);
        match (id.0.checked_sub(before), self.behind) {
            (Some(index), _) => &self.ingredients[index as usize],
            (None, Some(behind)) => behind.ingredient(id),
            (None, None) => unreachable!("an ingredient number is at least zero"),
        }
    }

    pub fn ingredient_named(&self, key: &str) -> Option<&Ingredient> {
        self.ingredient_id(key).map(|id| self.ingredient(id))
    }

    /// All ingredients, the stores' first.
    pub fn ingredients(&self) -> impl Iterator<Item = &Ingredient> {
        (0..self.ingredient_count()).map(|id| self.ingredient(IngredientId(id)))
    }

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
            (Some(index), _) => &self.cultures[index as usize],
            (None, Some(behind)) => behind.culture(id),
            (None, None) => unreachable!("a culture number is at least zero"),
        }
    }

    pub fn style(&self, key: &str) -> Option<&'t tree::Style> {
        self.styles.get(key).copied().or_else(|| self.behind.and_then(|behind| behind.style(key)))
    }

    /// Styles that this house declares itself.
    pub fn own_styles(&self) -> impl Iterator<Item = &'t tree::Style> {
        self.styles.values().copied()
    }

    pub fn stage(&self, key: &str) -> Option<&'t tree::Stage> {
        self.stages.get(key).copied()
    }

    pub fn mixture(&self, key: &str) -> Option<&'t tree::Mixture> {
        self.mixtures.get(key).copied()
    }

    pub fn formula(&self, key: &str) -> Option<&'t tree::Formula> {
        self.formulas.get(key).copied()
    }

    pub fn tins(&self) -> &[Tin] {
        &self.tins
    }

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

    pub fn ovens(&self) -> &[Oven] {
        &self.ovens
    }

    /// The mixer for a dough where none is named: the smallest that is known to hold it,
    /// else one that does not say what it holds, else the largest, for several batches.
    pub fn mixer_for(&self, dough: &Exact) -> Option<&Mixer> {
        let high = |mixer: &&Mixer| mixer.holds.as_ref().and_then(|holds| holds.high.clone());
        let fits = |mixer: &&Mixer| mixer.holds.as_ref().is_some_and(|holds| holds.holds(dough));
        let all = || self.mixers.iter();
        let fitting = all().filter(fits).min_by_key(|mixer| (high(mixer).is_none(), high(mixer)));
        let unsaid = || all().find(|mixer| mixer.holds.is_none());
        fitting.or_else(unsaid).or_else(|| all().max_by_key(high))
    }

    pub fn mixers(&self) -> &[Mixer] {
        &self.mixers
    }

    pub fn oven_keys(&self) -> impl Iterator<Item = &str> {
        self.ovens.iter().map(|oven| oven.name.key.as_str())
    }

    /// The known name that `key` most likely means: ingredients and what else may
    /// stand on a line.
    pub fn near(&self, key: &str) -> Option<EcoString> {
        // A bare class word: the first of that class in the stores is the usual one.
        if let Some(class) = Class::read(key) {
            let mut all = self.ingredients();
            return all.find(|known| known.class == class).map(|known| known.name.shown.clone());
        }
        nearest(key, self.names()).map(EcoString::from)
    }

    fn names(&self) -> Box<dyn Iterator<Item = &str> + '_> {
        let own = self.ingredient_names.keys().chain(self.culture_names.keys());
        let shared = self.stages.keys().chain(self.mixtures.keys());
        let own = own.chain(shared).map(EcoString::as_str);
        match self.behind {
            Some(behind) => Box::new(own.chain(behind.names())),
            None => Box::new(own),
        }
    }

    /// A quantity in the base unit of its dimension, by the house's measures.
    pub fn base(&self, quantity: &Quantity) -> Exact {
        quantity.unit.to_base(&quantity.number, self.settings.measures)
    }

    /// The middle of a range in the base unit; of an open one the end it has.
    pub fn middle(&self, extent: &tree::Extent) -> Option<Exact> {
        match (&extent.low, &extent.high) {
            (Some(low), Some(high)) => Some((self.base(low) + self.base(high)) / int(2)),
            (one, other) => one.as_ref().or(other.as_ref()).map(|end| self.base(end)),
        }
    }

    pub fn near_style(&self, key: &str) -> Option<EcoString> {
        let behind = self.behind.into_iter().flat_map(|behind| behind.styles.keys());
        nearest(key, self.styles.keys().chain(behind).map(EcoString::as_str)).map(EcoString::from)
    }

    pub fn near_formula(&self, key: &str) -> Option<EcoString> {
        nearest(key, self.formulas.keys().map(EcoString::as_str)).map(EcoString::from)
    }

    pub fn near_tin(&self, key: &str) -> Option<EcoString> {
        nearest(key, self.tins.iter().map(|tin| tin.name.key.as_str())).map(EcoString::from)
    }
}

/// What the flours of a culture lack to 100 %, where exactly one of them is `the rest` and
/// the others are shares.
fn rest_of_flour(flours: &[&tree::Line]) -> Option<Exact> {
    let mut rest = Exact::ONE;
    let mut open = 0;
    for line in flours {
        match &line.amount {
            Amount::Rest => open += 1,
            Amount::Measured { range, base: None } => {
                let share = range.low.as_ref().filter(|it| it.unit == Unit::Percent)?;
                rest -= share.unit.to_base(&share.number, Measures::default());
            }
            _ => return None,
        }
    }
    (open == 1 && rest > Exact::ZERO).then_some(rest)
}

fn settings_of(bakehouse: &tree::Bakehouse) -> Settings {
    let setting = |wanted: &str| {
        let found = bakehouse.settings.iter().find(|(word, ..)| word == wanted);
        found.map(|(_, value, span)| Setting { value: value.clone(), span: *span })
    };
    let measures = if bakehouse.us_measures { Measures::Us } else { Measures::Metric };
    let temperature = |wanted: &str| {
        let found = bakehouse.temperatures.iter().find(|(word, _)| word == wanted);
        found.map(|(_, quantity)| quantity.unit.to_base(&quantity.number, measures))
    };
    Settings {
        title: bakehouse.title.as_ref().map(plain),
        title_span: bakehouse.title.as_ref().map_or(bakehouse.span, |title| title.span),
        units: bakehouse.units,
        volumes: bakehouse.volumes,
        measures,
        language: bakehouse
            .language
            .as_ref()
            .map(|name| Setting { value: name.shown.clone(), span: name.span }),
        scale: scale_of(bakehouse, measures, bakehouse.units.first)
            .unwrap_or_else(|| Scale::usual(bakehouse.units.first)),
        other_scale: scale_of(bakehouse, measures, bakehouse.units.first.other()),
        declared: true,
        paper: setting("paper"),
        footer: setting("footer"),
        logo: setting("logo"),
        colour: setting("colour"),
        hours: bakehouse.hours.clone(),
        zone: bakehouse.zone.clone().map(|(value, span)| Setting { value, span }),
        room: temperature("room"),
        flour: temperature("flour"),
        tap: temperature("tap"),
        cooling: bakehouse.cooling.as_ref().map(|cooling| {
            let base = |quantity: &Quantity| quantity.unit.to_base(&quantity.number, measures);
            Cooled {
                mass: base(&cooling.mass),
                from: base(&cooling.from),
                to: base(&cooling.to),
                minutes: base(&cooling.time),
                at: base(&cooling.at),
                span: cooling.span,
            }
        }),
        currency: bakehouse
            .currency
            .as_ref()
            .map(|name| Setting { value: name.shown.clone(), span: name.span }),
        water: setting("water"),
    }
}

/// The house's scale as it shows the weights of a system.
fn scale_of(bakehouse: &tree::Bakehouse, measures: Measures, system: System) -> Option<Scale> {
    // A scale in grams says nothing of the ounces it shows, nor the other way round.
    let in_ounces = |line: &tree::ScaleLine| matches!(line.step.unit, Unit::Ounce | Unit::Pound);
    let us = system == System::Us;
    if bakehouse.scale.is_empty() || bakehouse.scale.iter().any(|line| in_ounces(line) != us) {
        return None;
    }
    let base = |quantity: &Quantity| quantity.unit.to_base(&quantity.number, measures);
    let steps = bakehouse.scale.iter().map(|line| ScaleStep {
        step: base(&line.step),
        above: line.above.as_ref().map(base),
        below: line.below.as_ref().map(base),
    });
    // A scale that shows every weight exactly is no scale.
    Some(Scale::new(steps.filter(|step| !step.step.is_zero()).collect()))
}

/// The words of a text that holds no figures.
pub fn plain(text: &tree::Text) -> String {
    let mut plain = String::new();
    for part in &text.parts {
        match part {
            tree::TextPart::Plain(words) => plain.push_str(words),
            tree::TextPart::Figure { words, .. } => {
                plain.push('[');
                plain.push_str(words);
                plain.push(']');
            }
        }
    }
    plain
}

/// The key of a name given on the command line.
pub fn key(name: &str) -> EcoString {
    key_of(name)
}

/// The words of one kind, in order.
pub fn words_of(words: &[Words], kind: tree::WordsKind) -> impl Iterator<Item = &tree::Text> {
    words.iter().filter(move |words| words.kind == kind).map(|words| &words.text)
}
