//! What uses the things that some files declare: a formula with an ingredient of theirs,
//! one based on a formula of theirs, and so on along the chain.

use super::load::LoadedFile;
use crate::formula::{all_mixes, step_names};
use crate::syntax::tree::{Formula, Ingredient, IngredientKind, Mix, Text, TextPart, Tree};
use ecow::EcoString;
use rustc_hash::FxHashSet;

/// Names of everything that counts as declared by the files that were asked for.
#[derive(Default)]
struct Meant {
    names: FxHashSet<EcoString>,
    /// A bakehouse's settings are used by every formula.
    all: bool,
}

/// The formulas of the other files that use what those that were asked for declare.
pub fn users<'l>(files: &[&'l LoadedFile]) -> Vec<&'l Formula> {
    let (own, beside): (Vec<&LoadedFile>, Vec<&LoadedFile>) =
        files.iter().partition(|file| file.is_asked_for());
    if own.is_empty() || beside.is_empty() {
        return Vec::new();
    }
    let mut meant = Meant::default();
    own.iter().for_each(|file| meant.declared(&file.tree));
    let trees: Vec<&'l Tree> = beside.iter().map(|file| &file.tree).collect();
    while !meant.all && trees.iter().any(|tree| meant.grow(tree)) {}
    let formulas = trees.iter().flat_map(|tree| &tree.formulas);
    formulas.filter(|formula| meant.all || meant.is_used_by(formula)).collect()
}

impl Meant {
    fn declared(&mut self, tree: &Tree) {
        self.all |= !tree.bakehouses.is_empty();
        let names = &mut self.names;
        names.extend(tree.ingredients.iter().flat_map(all_names));
        names.extend(tree.formulas.iter().map(|formula| formula.name.key.clone()));
        names.extend(tree.cultures.iter().map(|culture| culture.name.key.clone()));
        names.extend(tree.mixtures.iter().map(|mixture| mixture.name.key.clone()));
        names.extend(tree.stages.iter().map(|stage| stage.name.key.clone()));
        names.extend(tree.styles.iter().map(|style| style.name.key.clone()));
        names.extend(tree.machines.iter().map(|machine| machine.name.key.clone()));
        // Which mixer and oven a dough goes into is chosen among all.
        self.all |= !tree.machines.is_empty();
    }

    /// Adds what is made of something that is meant; says whether there was more.
    fn grow(&mut self, tree: &Tree) -> bool {
        let mut more: Vec<EcoString> = Vec::new();
        for ingredient in &tree.ingredients {
            let model = match &ingredient.kind {
                Some(IngredientKind::Like(model)) => self.names.contains(&model.key),
                _ => false,
            };
            if model {
                more.extend(all_names(ingredient));
            }
        }
        let cultures = tree.cultures.iter().map(|culture| (&culture.name, &culture.mix));
        let mixtures = tree.mixtures.iter().map(|mixture| (&mixture.name, &mixture.mix));
        let stages = tree.stages.iter().map(|stage| (&stage.name, &stage.mix));
        let mixes = cultures.chain(mixtures).chain(stages);
        more.extend(mixes.filter(|(_, mix)| self.is_in(mix)).map(|(name, _)| name.key.clone()));
        let formulas = tree.formulas.iter().filter(|formula| self.is_used_by(formula));
        more.extend(formulas.map(|formula| formula.name.key.clone()));
        let before = self.names.len();
        self.names.extend(more);
        self.names.len() > before
    }

    fn is_in(&self, mix: &Mix) -> bool {
        let lines = mix.lines.iter().map(|line| &line.target.name);
        lines.chain(&mix.counts_as_flour).any(|name| self.names.contains(&name.key))
    }

    /// Whether a text asks for a figure of a formula that is meant.
    fn is_asked_by(&self, text: &Text) -> bool {
        text.parts.iter().any(|part| match part {
            TextPart::Figure { ask: Some(ask), .. } => {
                ask.elsewhere(|key| self.names.contains(key)).is_some()
            }
            _ => false,
        })
    }

    fn is_used_by(&self, formula: &Formula) -> bool {
        let heads = [&formula.from, &formula.style].into_iter().flatten();
        let tins = formula.makes.iter().flat_map(|makes| &makes.pieces);
        // A shared stage is named by the head of the formula's own.
        let stages = formula.stages.iter().map(|stage| &stage.name);
        let named = heads.chain(tins.filter_map(|piece| piece.tin.as_ref())).chain(stages);
        named.into_iter().any(|name| self.names.contains(&name.key))
            || all_mixes(formula).any(|mix| self.is_in(mix))
            || step_names(formula).any(|name| self.names.contains(&name.key))
            || texts_of(formula).any(|text| self.is_asked_by(text))
    }
}

/// The texts of a formula and of its stages, mixtures and steps.
fn texts_of(formula: &Formula) -> impl Iterator<Item = &Text> {
    let own = formula.texts.iter().map(|words| &words.text);
    let stages = formula.stages.iter().flat_map(|stage| &stage.texts);
    let mixtures = formula.mixtures.iter().flat_map(|mixture| &mixture.texts);
    let methods = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let methods = methods.chain(&formula.method).flat_map(|method| &method.steps);
    let steps = methods.flat_map(|step| step.text.iter().chain(&step.notes).chain(&step.cautions));
    own.chain(stages.chain(mixtures).map(|words| &words.text)).chain(steps)
}

fn all_names(ingredient: &Ingredient) -> impl Iterator<Item = EcoString> {
    let names = std::iter::once(&ingredient.name).chain(&ingredient.also);
    names.map(|name| name.key.clone())
}
