//! Everything that is in a formula, however little of it, gathered from its lines, steps and
//! tins: what allergens depend on.

use super::composition::{Composition, IngredientId, Substance};
use super::house::{House, Ingredient, Tin};
use super::ingredient_set::IngredientSet;
use super::mixes::step_names;
use super::side_mix::SideMix;
use super::worked::Worked;
use crate::syntax::tree::{Formula, Line, Mixture, Name, Phase, Step, Verb};
use ecow::EcoString;
use rustc_hash::FxHashSet;

/// Everything that the lines of a side mix of a formula bring, `side_mixes` being those they
/// may name.
pub fn of_lines(
    house: &House,
    lines: &[Line],
    side_mixes: &[SideMix],
    formula: &Formula,
) -> IngredientSet {
    let mut held = IngredientSet::default();
    lines.iter().for_each(|line| held.add_line(house, line, side_mixes, formula));
    held
}

/// Everything in a formula: dough, stages, pieces, baths and cultures, what steps and tins
/// bring, and all that the formulas and side mixes in it hold. A side mix that nothing
/// uses brings nothing.
pub fn of_formula(worked: &Worked) -> IngredientSet {
    let house = worked.house;
    let mut held = IngredientSet::default();
    let formula = &*worked.formula;
    held.add_content(house, &worked.first().whole);
    worked.first().stages.iter().for_each(|stage| held.add_content(house, &stage.goes_on));
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    let pieces = formula.pieces.iter().map(|piece| &piece.mix);
    for line in blocks.chain(stages).chain(pieces).flat_map(|mix| &mix.lines) {
        held.add_line(house, line, &worked.side_mixes, formula);
    }
    // A step may also name a machine.
    for name in step_names(formula).filter(|name| !is_stage(formula, name)) {
        held.add_named(house, &name.key, &worked.side_mixes);
    }
    // Whatever something is boiled or fried in ends on it, machines excepted.
    for name in media(formula) {
        let is_machine = house.machine_names().any(|known| known == name.key);
        if !is_machine && !held.add_named(house, &name.key, &worked.side_mixes) {
            held.add_nameless(&name.shown);
        }
    }
    for name in grease(house, formula) {
        if !held.add_named(house, &name.key, &worked.side_mixes) {
            held.add_nameless(&name.shown);
        }
    }
    if fries_in_what_nobody_named(house, formula) && !held.silent.contains(&FAT_FOR_FRYING) {
        held.silent.push(FAT_FOR_FRYING);
    }
    for tin in tins_of_unknown_grease(house, formula) {
        if !held.silent.contains(&tin) {
            held.silent.push(tin);
        }
    }
    held
}

/// All that the lines, steps and tins of a formula name, and the side mixes among that in
/// turn.
pub fn names_used<'f>(house: &'f House, formula: &'f Formula) -> Vec<&'f str> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    let pieces = formula.pieces.iter().map(|piece| &piece.mix);
    let lines = blocks.chain(stages).chain(pieces).flat_map(|mix| &mix.lines);
    let names = lines.map(|line| &line.target.name).chain(step_names(formula));
    let names = names.chain(grease(house, formula)).map(|name| name.key.as_str());
    with_mixtures(house, &formula.mixtures, names.collect())
}

/// All that any tin of a house is greased with.
pub fn names_of_grease<'h>(house: &'h House) -> Vec<&'h str> {
    let names = house.tins().iter().flat_map(|tin| &tin.greased);
    with_mixtures(house, &[], names.map(|name| name.key.as_str()).collect())
}

/// Names, and what the side mixes among them name in turn.
fn with_mixtures<'f>(house: &'f House, own: &'f [Mixture], mut open: Vec<&'f str>) -> Vec<&'f str> {
    let mut used: Vec<&str> = Vec::new();
    let mut seen: FxHashSet<&str> = FxHashSet::default();
    while let Some(name) = open.pop() {
        if !seen.insert(name) {
            continue;
        }
        used.push(name);
        let own = own.iter().find(|mixture| mixture.name.key == name);
        if let Some(mixture) = own.or_else(|| house.mixture(name)) {
            open.extend(mixture.mix.lines.iter().map(|line| line.target.name.key.as_str()));
        }
    }
    used
}

/// How an ingredient comes into a formula, where it is on no line of the dough itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ComesBy {
    /// What brings it, the outermost first: a stage, a culture, a side mix.
    pub through: Vec<EcoString>,
    /// The tin whose grease it is.
    pub tin: Option<EcoString>,
}

/// The way by which an ingredient comes into a formula; none where it stands on a line of
/// the dough, or of nothing that has a name.
pub fn way_in(worked: &Worked, id: IngredientId) -> Option<ComesBy> {
    let house = worked.house;
    let formula = &*worked.formula;
    let search = Search { house, worked, id };
    let way = |through| Some(ComesBy { through, tin: None }).filter(|way| !way.through.is_empty());
    if let Some(dough) = formula.dough.as_ref().and_then(|mix| search.lines(&mix.lines, 0)) {
        return way(dough);
    }
    for stage in &formula.stages {
        if let Some(mut through) = search.lines(&stage.mix.lines, 0) {
            through.insert(0, stage.name.shown.clone());
            return way(through);
        }
    }
    let blocks = formula.total.iter().chain(formula.pieces.iter().map(|piece| &piece.mix));
    let lines = blocks.flat_map(|mix| &mix.lines).map(|line| &line.target.name);
    let named = lines.chain(step_names(formula)).chain(media(formula));
    if let Some(through) = named.into_iter().find_map(|name| search.name(name, 0)) {
        return way(through);
    }
    grease_of_tins(house, formula).find_map(|(tin, name)| {
        Some(ComesBy { through: search.name(name, 0)?, tin: Some(tin.shown.clone()) })
    })
}

/// A search for what brings an ingredient.
struct Search<'a, 't> {
    house: &'a House<'t>,
    worked: &'a Worked<'t>,
    id: IngredientId,
}

impl Search<'_, '_> {
    fn lines(&self, lines: &[Line], depth: usize) -> Option<Vec<EcoString>> {
        lines.iter().find_map(|line| self.name(&line.target.name, depth))
    }

    /// What is between a name and the ingredient; nothing where the name is its own.
    fn name(&self, name: &Name, depth: usize) -> Option<Vec<EcoString>> {
        if self.house.ingredient_id(&name.key) == Some(self.id) {
            return Some(Vec::new());
        }
        let with = |mut through: Vec<EcoString>| {
            through.insert(0, name.shown.clone());
            through
        };
        let own = self.worked.formula.mixtures.iter().find(|it| it.name.key == name.key);
        let mixture = own.or_else(|| self.house.mixture(&name.key)).filter(|_| depth < 16);
        if let Some(through) = mixture.and_then(|it| self.lines(&it.mix.lines, depth + 1)) {
            return Some(with(through));
        }
        let culture = self.house.culture_named(&name.key).map(|(_, culture)| &culture.holds);
        let side_mix = self.worked.side_mixes.iter().find(|side_mix| side_mix.key == name.key);
        let held = culture.or(side_mix.map(|side_mix| &side_mix.holds))?;
        held.ingredients.contains(&self.id).then(|| with(Vec::new()))
    }
}

impl Worked<'_> {
    /// Names in it that stand for nothing known.
    pub fn nameless(&self) -> Vec<EcoString> {
        of_formula(self).nameless
    }

    /// Every ingredient in dough and pieces, soft amounts, baths, cultures, grease and
    /// inner formulas included.
    pub fn ingredients(&self) -> Vec<&Ingredient> {
        let held = of_formula(self).ingredients;
        held.into_iter().map(|id| self.house.ingredient(id)).collect()
    }
}

/// What is eaten of the fat for frying where nobody names it.
pub const FAT_FOR_FRYING: EcoString = EcoString::inline("fat for frying");

/// Whether something is fried and nobody says in what: it is eaten, and not known.
fn fries_in_what_nobody_named(house: &House, formula: &Formula) -> bool {
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let steps = stages.chain(&formula.method).flat_map(|method| &method.steps);
    let is_machine = |name: &Name| house.machine_names().any(|known| known == name.key);
    let names_fat = |phase: &Phase| {
        !phase.with.is_empty() || phase.place.as_ref().is_some_and(|place| !is_machine(place))
    };
    steps.filter(|step| step.verb == Verb::Fry).any(|step| !step.phases.iter().any(names_fat))
}

/// What a formula is boiled or fried in.
fn media(formula: &Formula) -> impl Iterator<Item = &Name> {
    let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let steps = stages.chain(&formula.method).flat_map(|method| &method.steps);
    let wet = steps.filter(|step| matches!(step.verb, Verb::Boil | Verb::Fry));
    wet.flat_map(|step| &step.phases).filter_map(|phase| phase.place.as_ref())
}

/// What the tins are greased with that a formula is baked in.
pub fn grease<'h>(house: &'h House, formula: &Formula) -> impl Iterator<Item = &'h Name> {
    grease_of_tins(house, formula).map(|(_, name)| name)
}

/// The tins that a formula is baked in of which nobody says what they are greased with.
fn tins_of_unknown_grease(house: &House, formula: &Formula) -> Vec<EcoString> {
    let pans = formula.method.iter().flat_map(|method| &method.steps);
    let is_greased = |step: &Step| {
        step.verb == Verb::Pan && step.phases.iter().any(|phase| !phase.with.is_empty())
    };
    if pans.into_iter().any(is_greased) {
        return Vec::new();
    }
    let silent = house.tins().iter().filter(|tin| !tin.says_its_grease);
    silent.filter(|tin| is_used(tin, formula)).map(|tin| tin.name.shown.clone()).collect()
}

fn is_used(tin: &Tin, formula: &Formula) -> bool {
    let made = formula.makes.iter().flat_map(|makes| &makes.pieces);
    let mut named = made.filter_map(|piece| piece.tin.as_ref()).chain(step_names(formula));
    named.any(|name| name.key == tin.name.key)
}

/// The same with the tins.
fn grease_of_tins<'h>(
    house: &'h House,
    formula: &Formula,
) -> impl Iterator<Item = (&'h Name, &'h Name)> {
    let greased = house.tins().iter().filter(|tin| !tin.greased.is_empty());
    let used = greased.filter(|tin| is_used(tin, formula));
    used.flat_map(|tin| tin.greased.iter().map(|name| (&tin.name, name)))
}

impl IngredientSet {
    fn add_content(&mut self, house: &House, content: &Composition) {
        for (substance, _) in content.iter() {
            match substance {
                Substance::Ingredient(id) => self.add(id),
                Substance::Kept(id) | Substance::Whole(id) => {
                    self.add_all(&house.culture(id).holds);
                }
                Substance::OldDough => {}
            }
        }
    }

    /// All that a name may mean; whether it means anything.
    fn add_named(&mut self, house: &House, key: &str, side_mixes: &[SideMix]) -> bool {
        let mut known = false;
        if let Some(id) = house.ingredient_id(key) {
            self.add(id);
            known = true;
        }
        if let Some((_, culture)) = house.culture_named(key) {
            self.add_all(&culture.holds);
            known = true;
        }
        if let Some(side_mix) = side_mixes.iter().find(|side_mix| side_mix.key == *key) {
            self.add_all(&side_mix.holds);
            known = true;
        }
        known
    }

    /// What a line names, whatever its amount: a pinch and `as needed` count too.
    fn add_line(&mut self, house: &House, line: &Line, side_mixes: &[SideMix], formula: &Formula) {
        let name = &line.target.name;
        // A stage has lines of its own, and old dough is this dough once more.
        if is_stage(formula, name) || name.key == "old dough" {
            return;
        }
        if !self.add_named(house, &name.key, side_mixes) {
            self.add_nameless(&name.shown);
        }
    }
}

fn is_stage(formula: &Formula, name: &Name) -> bool {
    formula.stages.iter().any(|stage| stage.name.key == name.key)
}
