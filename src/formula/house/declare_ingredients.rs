//! Building ingredients from their statements, each after the one it is `like`.

use super::ingredient::Ingredient;
use super::registry::House;
use super::texts::{key, remarks_of, words_of};
use crate::diag::Finding;
use crate::formula::class::{Class, Nutrient, NutrientShares};
use crate::formula::composition::IngredientId;
use crate::formula::declared::Declared;
use crate::formula::findings as say;
use crate::formula::limits::MAX_GENERATIONS;
use crate::formula::meant::NamePlace;
use crate::quantity::{Dimension, Exact};
use crate::syntax::tree::{self, IngredientKind, Name, Quantity, Tree};
use std::sync::OnceLock;

/// Ingredients that are being built, each after the one it is `like`.
#[derive(Default)]
struct Models<'t> {
    /// As they are declared.
    all: Vec<&'t tree::Ingredient>,
    /// Those that are done.
    built: Vec<Option<Ingredient>>,
    /// Those that wait for the one they are like, the first to begin first.
    trail: Vec<usize>,
    /// Names after `like` that nothing bears. What was meant is looked for among all
    /// ingredients, so once all of them are built.
    unknown: Vec<&'t Name>,
}

impl<'t> House<'t> {
    /// Gives every ingredient its number and its names, then builds each.
    pub(super) fn declare_ingredients(&mut self, trees: &[&'t Tree], findings: &mut Vec<Finding>) {
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
        let mut models = Models { built: vec![None; all.len()], all, ..Models::default() };
        for index in 0..models.all.len() {
            self.build_ingredient(index, &mut models, findings);
        }
        self.ingredients = models.built.into_iter().flatten().map(OnceLock::from).collect();
        findings
            .extend(models.unknown.iter().map(|name| self.unknown(name, &NamePlace::default())));
    }

    /// An ingredient of the stores, which hold no mistake; that is tested.
    pub(super) fn ingredient_of_store(&self, declared: &tree::Ingredient) -> Ingredient {
        let model = match &declared.kind {
            Some(IngredientKind::Like(name)) => self.ingredient_named(&name.key).cloned(),
            _ => None,
        };
        self.ingredient_like(declared, model, &mut Vec::new())
    }

    /// An ingredient as it is declared, with what it has from the one it is like.
    fn ingredient_like(
        &self,
        declared: &tree::Ingredient,
        model: Option<Ingredient>,
        findings: &mut Vec<Finding>,
    ) -> Ingredient {
        let mut ingredient = Ingredient {
            name: declared.name.clone(),
            built_in: declared.span.source.is_built_in(),
            called: Vec::new(),
            ..model.unwrap_or_else(|| nothing_known(&declared.name))
        };
        match &declared.kind {
            Some(IngredientKind::Class(word)) => match Class::read(&word.key) {
                Some(class) => ingredient.class = class,
                None => findings.push(say::unknown_class::finding(word)),
            },
            Some(IngredientKind::Like(_)) => {}
            None => {
                let known = self.behind.and_then(|it| it.ingredient_named(&declared.name.key));
                let class = known.map(|known| known.class);
                findings.push(say::unknown_class::missing(&declared.name, class));
            }
        }
        self.fill_in(&mut ingredient, declared, findings);
        ingredient.salt = ingredient.salt_of_composition();
        ingredient.declared_salt = ingredient.salt_on_a_label();
        ingredient
    }

    /// Makes the house's own ingredients known by what other languages call them.
    pub(super) fn learn_called(&mut self) {
        let before = self.behind.map_or(0, House::ingredient_count);
        for (index, ingredient) in self.ingredients.iter().enumerate() {
            for (language, shown) in ingredient.get().into_iter().flat_map(|it| &it.called) {
                let known = self.called_names.entry(key(shown)).or_default();
                known.push((language.clone(), IngredientId(before + index as u32)));
            }
        }
    }

    /// Builds an ingredient and, first, what it is `like`.
    fn build_ingredient(&self, index: usize, models: &mut Models<'t>, findings: &mut Vec<Finding>) {
        if models.built[index].is_some() {
            return;
        }
        let declared = models.all[index];
        let mut model = None;
        if let Some(IngredientKind::Like(name)) = &declared.kind {
            models.trail.push(index);
            model = self.model_for(name, models, findings);
            models.trail.pop();
        }
        let ingredient = self.ingredient_like(declared, model, findings);
        models.built[index] = Some(ingredient);
    }

    fn model_for(
        &self,
        name: &'t Name,
        models: &mut Models<'t>,
        findings: &mut Vec<Finding>,
    ) -> Option<Ingredient> {
        let first_id = self.behind.map_or(0, House::ingredient_count);
        // `bread flour like bread flour` means the built-in one.
        let own = self
            .ingredient_names
            .get(&name.key)
            .map(|id| (id.0 - first_id) as usize)
            .filter(|index| models.trail.last() != Some(index) || self.behind.is_none());
        if models.trail.len() > MAX_GENERATIONS {
            findings.push(say::too_many::generations(name, MAX_GENERATIONS));
            return None;
        }
        if let Some(index) = own {
            if models.trail.contains(&index) {
                let names = models.trail.iter();
                let names = names.map(|&step| models.all[step].name.shown.as_str()).collect();
                findings.push(say::from_cycle::finding(names, name, name.span));
                return None;
            }
            self.build_ingredient(index, models, findings);
            return models.built[index].clone();
        }
        let behind = self.behind.and_then(|behind| behind.ingredient_named(&name.key));
        if behind.is_none() {
            models.unknown.push(name);
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
                    ingredient.composition.set(nutrient, value.one_in::<100>());
                }
                _ => findings.push(say::unknown_property::finding(&property.name)),
            }
        }
        let dense = |(volume, mass): &(_, _)| base(mass).over(&base(volume));
        ingredient.grams_per_ml =
            declared.volume.as_ref().and_then(dense).or(ingredient.grams_per_ml.take());
        if let Some(each) = &declared.each {
            ingredient.each = Some(base(each));
        }
        if let Some(kept) = &declared.kept {
            ingredient.kept = Some(base(kept));
        }
        // `per kg` is a price by weight; `per 25 kg` is a sack.
        let sack = declared
            .price
            .as_ref()
            .map(|price| &price.per)
            .filter(|per| per.unit.dimension() == Dimension::Mass && per.number > Exact::ONE);
        let pack = declared.pack.as_ref().filter(|pack| pack.number > Exact::ZERO);
        ingredient.pack = pack.or(sack).map(base);
        let denied = ingredient.declared.say(declared, findings);
        // A test holds the stores to the same.
        if !ingredient.built_in {
            self.vouch(ingredient, declared, denied, findings);
        }
        ingredient.called.extend(declared.called.iter().cloned());
        let cautions = words_of(&declared.texts, tree::WordsKind::Caution);
        ingredient.cautions.extend(cautions.cloned());
        let remarks = remarks_of(&declared.texts, ingredient.built_in);
        ingredient.remarks.extend(remarks.cloned());
        match ingredient.built_in {
            true if !ingredient.cautions.is_empty() => {
                ingredient.warned_as = Some(ingredient.name.key.clone());
            }
            true => {}
            false => self.warn_as(ingredient, declared),
        }
    }
}

fn nothing_known(name: &Name) -> Ingredient {
    Ingredient {
        name: name.clone(),
        class: Class::Other,
        composition: NutrientShares::default(),
        grams_per_ml: None,
        each: None,
        kept: None,
        declared: Declared::default(),
        salt: Exact::ZERO,
        declared_salt: None,
        called: Vec::new(),
        cautions: Vec::new(),
        remarks: Vec::new(),
        warned_as: None,
        fresh_equivalent: None,
        pack: None,
        built_in: false,
    }
}
