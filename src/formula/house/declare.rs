//! Collecting what the trees of one root declare into a house.

use super::drawers::Drawers;
use super::first_words::first_words;
use super::ingredient::{Culture, Ingredient};
use super::machines::{Board, Mixer, Oven, Rack, Tin};
use super::registry::House;
use super::settings::settings_of;
use super::texts::{remarks_of, words_of};
use crate::diag::Finding;
use crate::formula::composition::{CultureId, IngredientId};
use crate::formula::findings as say;
use crate::formula::meant::NamePlace;
use crate::source::Span;
use crate::syntax::tree::{self, MachineKind, Name, Tree};
use std::sync::OnceLock;

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
        house.learn_called();
        house.note_first_words();
        for tree in trees {
            house.declare_rest(tree, findings);
        }
        for name in house.tins.iter().flat_map(|tin| &tin.greased) {
            let is_known = house.ingredient_id(&name.key).is_some()
                || house.mixture(&name.key).is_some()
                || house.culture_named(&name.key).is_some();
            if !is_known {
                findings.push(house.unknown(name, &NamePlace::default()));
            }
        }
        house
    }

    /// The house of the stores, of which nothing is read yet.
    pub(super) fn of_drawers(drawers: &'static Drawers) -> Self {
        let mut house = Self { drawers: Some(drawers), ..Self::default() };
        for (id, drawer) in (0..).map(IngredientId).zip(&drawers.ingredients) {
            house.ingredients.push(OnceLock::new());
            house.ingredient_names.extend(drawer.names.iter().map(|name| (name.clone(), id)));
        }
        for (id, drawer) in (0..).map(CultureId).zip(&drawers.cultures) {
            house.cultures.push(OnceLock::new());
            house.culture_names.extend(drawer.names.iter().map(|name| (name.clone(), id)));
        }
        house.first_words = drawers.first_words.clone();
        house
    }

    fn note_first_words(&mut self) {
        let names = self.ingredient_names.keys().chain(self.called_names.keys());
        self.first_words = first_words(names);
    }

    /// The ingredient of a place, built now where it was not yet.
    pub(super) fn own_ingredient(&self, index: usize) -> &Ingredient {
        self.ingredients[index].get_or_init(|| {
            let drawer = self.drawers.and_then(|drawers| drawers.ingredients.get(index));
            let declared = drawer.and_then(|drawer| drawer.read().ingredients.pop());
            match declared {
                Some(declared) => self.ingredient_of_store(&declared),
                None => unreachable!("a test reads all of the stores"),
            }
        })
    }

    /// A culture by its place among the house's own, built when it is first asked for.
    pub(super) fn own_culture(&self, index: usize) -> &Culture {
        self.cultures[index].get_or_init(|| {
            let drawer = self.drawers.and_then(|drawers| drawers.cultures.get(index));
            match drawer.and_then(|drawer| drawer.read().cultures.pop()) {
                Some(declared) => self.culture_declared(&declared, &mut Vec::new()),
                None => unreachable!("a test reads all of the stores"),
            }
        })
    }

    fn culture_declared(&self, declared: &tree::Culture, findings: &mut Vec<Finding>) -> Culture {
        let cautions = words_of(&declared.texts, tree::WordsKind::Caution).cloned().collect();
        Culture {
            name: declared.name.clone(),
            per_gram: self.culture_content(&declared.name, &declared.mix, findings),
            holds: self.culture_holds(&declared.mix),
            broken: declared.mix.broken || self.names_the_unknown(&declared.mix),
            cautions,
            remarks: remarks_of(&declared.texts, false).cloned().collect(),
        }
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
        // A refrigerator that says how cold it is needs no second setting for it.
        let mut cold = self.racks.iter().filter(|rack| rack.is_cold).map(|rack| rack.at.clone());
        if let (None, Some(at), None) = (&self.settings.cold, cold.next(), cold.next()) {
            self.settings.cold = at;
        }
    }

    fn declare_machine(&mut self, machine: &tree::Machine) {
        let measures = self.settings.measures;
        match machine.kind {
            MachineKind::Oven => self.ovens.push(Oven::declared(machine, measures)),
            MachineKind::Mixer => self.mixers.push(Mixer::declared(machine, measures)),
            MachineKind::Tin => self.tins.extend(Tin::declared(machine, measures)),
            MachineKind::Board => self.boards.push(Board::declared(machine, measures)),
            MachineKind::Proofer | MachineKind::Refrigerator => {
                self.racks.push(Rack::declared(machine, measures));
            }
        }
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
            let built = self.culture_declared(culture, findings);
            self.culture_names.insert(culture.name.key.clone(), id);
            self.cultures.push(OnceLock::from(built));
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
        // What is printed by its name has a name of its own.
        for formula in &tree.formulas {
            let booklet = self.booklets.get(&formula.name.key).map(|it| it.name.span);
            let first = self.formulas.insert(formula.name.key.clone(), formula);
            twice(&formula.name, first.map(|first| first.name.span).or(booklet));
        }
        for booklet in &tree.booklets {
            let formula = self.formulas.get(&booklet.name.key).map(|it| it.name.span);
            let first = self.booklets.insert(booklet.name.key.clone(), booklet);
            twice(&booklet.name, first.map(|first| first.name.span).or(formula));
        }
        for day in &tree.days {
            let first = self.days.insert(day.name.key.clone(), day);
            let first = first.map(|first| first.name.span);
            let formula = self.formulas.get(&day.name.key).map(|formula| formula.name.span);
            twice(&day.name, first.or(formula));
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
}
