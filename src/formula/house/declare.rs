//! Collecting what the trees of one root declare into a house.

use super::ingredient::Culture;
use super::machines::{Mixer, Oven, Tin};
use super::registry::House;
use super::settings::settings_of;
use super::texts::words_of;
use crate::diag::Finding;
use crate::formula::composition::CultureId;
use crate::formula::findings as say;
use crate::source::Span;
use crate::syntax::tree::{self, MachineKind, Name, Tree};
use ecow::EcoString;

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
        let first = |name: &EcoString| name.split([' ', '-']).next().unwrap_or_default().into();
        let names = house.ingredient_names.keys().chain(house.called_names.keys());
        house.first_words = names.map(first).collect();
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
        match machine.kind {
            MachineKind::Oven => self.ovens.push(Oven::declared(machine, measures)),
            MachineKind::Mixer => self.mixers.push(Mixer::declared(machine, measures)),
            MachineKind::Tin => self.tins.extend(Tin::declared(machine, measures)),
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
}
