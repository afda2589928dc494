//! Names as people write them, brought to the keys that the rest looks up.
//!
//! Enters: the trees of one house as they were read. Leaves: the same trees, in which a name
//! that nobody declares and the stores do not have as it is written bears the key of what it
//! means: `Mehl Type 550`, `all purpose flour`, `organic bread flour`. What is shown stays
//! the author's word; words that mean nothing for the sum become the line's note. A name that
//! means something by itself is never touched, so that no formula comes to mean another.

use super::class::Class;
use super::composition::IngredientId;
use super::house::{House, Ingredient as Stored, built_in, key};
use super::mixes::{all_mixes, step_names_of};
use super::spoken::{Meaning, bare, meaning, own_word};
use crate::quantity::Measures;
use crate::quantity::display::trimmed;
use crate::syntax::asides;
use crate::syntax::tree::{
    Base, Claim, FigureAsk, Formula, Ingredient, IngredientKind, Line, Method, Mix, Name,
    NotedText, Stage, Target, Text, TextPart, Tree, With,
};
use crate::syntax::words::is_taken;
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet, FxHasher};
use std::hash::{Hash, Hasher};

/// Whoever measures in American cups speaks of American things.
const US: &str = "en-US";

/// Gives the names in the trees of one house the keys of what they mean.
pub fn understand(trees: &mut [&mut Tree]) {
    let known = HouseNames::of(trees.iter().map(|tree| &**tree));
    for tree in trees {
        known.give(tree);
    }
}

/// What a house calls things, for trees that are read one after the other.
pub struct HouseNames(KnownNames);

impl HouseNames {
    /// The names of the trees of one house.
    pub fn of<'t>(trees: impl Iterator<Item = &'t Tree> + Clone) -> Self {
        Self(KnownNames::of(trees))
    }

    /// The same for houses that call everything the same.
    pub fn fingerprint(&self) -> u64 {
        let KnownNames { own, beside_formulas, bare, called, language } = &self.0;
        let mut all: Vec<String> = own.iter().map(|key| format!("own {key}")).collect();
        all.extend(beside_formulas.iter().map(|key| format!("beside {key}")));
        all.extend(
            bare.iter().map(|(letters, (key, class))| format!("{letters}: {key} {class:?}")),
        );
        all.extend(called.iter().map(|(called, key)| format!("{called} is {key}")));
        all.sort_unstable();
        let mut hasher = FxHasher::default();
        (all, language).hash(&mut hasher);
        hasher.finish()
    }

    /// Gives the names in a tree of that house the keys of what they mean.
    pub fn give(&self, tree: &mut Tree) {
        let known = &self.0;
        tree.cultures.iter_mut().for_each(|culture| known.mix(&mut culture.mix));
        tree.mixtures.iter_mut().for_each(|mixture| known.mix(&mut mixture.mix));
        tree.stages.iter_mut().for_each(|stage| known.stage(stage));
        tree.ingredients.iter_mut().for_each(|ingredient| known.model(ingredient));
        tree.formulas.iter_mut().for_each(|formula| known.formula(formula));
        let machines = tree.bakehouses.iter_mut().flat_map(|house| &mut house.machines);
        for name in machines.chain(&mut tree.machines).flat_map(|machine| &mut machine.greased) {
            known.name(name);
        }
    }
}

/// What a house calls things.
struct KnownNames {
    /// Keys that it gives a meaning to, of whatever kind.
    own: FxHashSet<EcoString>,
    /// The same but for formulas.
    beside_formulas: FxHashSet<EcoString>,
    /// Its own ingredients by bare letters: the key, and the class.
    bare: FxHashMap<String, (EcoString, Option<Class>)>,
    /// Its own names in other languages.
    called: FxHashMap<EcoString, EcoString>,
    language: Option<EcoString>,
}

/// What a name means.
struct Understood {
    key: EcoString,
    /// The name without words that mean nothing.
    shown: EcoString,
    /// Those words.
    aside: Option<EcoString>,
}

impl KnownNames {
    fn of<'t>(trees: impl Iterator<Item = &'t Tree> + Clone) -> Self {
        let houses = || trees.clone().flat_map(|tree| &tree.bakehouses);
        let language = houses().find_map(|house| house.language.as_ref());
        let is_us = houses().next().is_some_and(|house| house.us_measures);
        let language = language.map(|name| name.shown.clone());
        let mut known = Self {
            own: FxHashSet::default(),
            beside_formulas: FxHashSet::default(),
            bare: FxHashMap::default(),
            called: FxHashMap::default(),
            language: language.or_else(|| is_us.then(|| US.into())),
        };
        trees.for_each(|tree| known.learn(tree));
        known
    }

    fn learn(&mut self, tree: &Tree) {
        for ingredient in &tree.ingredients {
            let class = class_of(ingredient);
            for name in std::iter::once(&ingredient.name).chain(&ingredient.also) {
                self.own.insert(name.key.clone());
                self.beside_formulas.insert(name.key.clone());
                self.bare.insert(bare(&name.key), (name.key.clone(), class));
            }
            for (_, called) in &ingredient.called {
                self.called.insert(key(called), ingredient.name.key.clone());
            }
        }
        let formulas = &tree.formulas;
        let stages = tree.stages.iter().chain(formulas.iter().flat_map(|it| &it.stages));
        let mixtures = tree.mixtures.iter().chain(formulas.iter().flat_map(|it| &it.mixtures));
        let names = stages.map(|stage| &stage.name).chain(mixtures.map(|mixture| &mixture.name));
        let cultures = tree.cultures.iter().map(|culture| &culture.name);
        let ferments = formulas.iter().flat_map(|it| &it.stages).chain(&tree.stages);
        let ferments = ferments.filter(|stage| stage.kind.ferments()).map(|stage| &stage.name);
        for name in cultures.clone().chain(ferments) {
            let known = self.bare.entry(bare(&name.key));
            known.or_insert_with(|| (name.key.clone(), Some(Class::Culture)));
        }
        let formulas = formulas.iter().map(|formula| &formula.name);
        let pieces = tree.formulas.iter().filter_map(|formula| formula.makes.as_ref());
        let pieces = pieces.flat_map(|makes| &makes.pieces).map(|piece| &piece.kind);
        let machines = tree.bakehouses.iter().flat_map(|house| &house.machines);
        let machines = machines.chain(&tree.machines).map(|machine| &machine.name);
        let names = names.chain(cultures).chain(pieces).chain(machines);
        self.beside_formulas.extend(names.clone().map(|name| name.key.clone()));
        self.own.extend(names.chain(formulas).map(|name| name.key.clone()));
    }

    /// Whether a name means something as it is written.
    fn is_plain(&self, key: &str) -> bool {
        self.own.contains(key)
            || built_in().ingredient_id(key).is_some()
            || built_in().has_culture(key)
            || is_taken(key)
            || Class::read(key).is_some()
            || matches!(key, "flour" | "old dough" | "room" | "everything" | "all")
    }

    /// What a name that nobody declares is understood as.
    fn understood(&self, name: &Name) -> Option<Understood> {
        const LONGEST: usize = 80;
        if name.key.is_empty() || name.key.len() > LONGEST {
            return None;
        }
        if let Some(key) = self.false_friend(&name.key) {
            return Some(Understood { key, shown: name.shown.clone(), aside: None });
        }
        if self.is_plain(&name.key) {
            return None;
        }
        if let Some((key, _)) = self.by_letters(&name.key) {
            return Some(Understood { key, shown: name.shown.clone(), aside: None });
        }
        self.without_asides(name).or_else(|| self.without_of(name))
    }

    /// A word of the stores that in the house's language is another food.
    fn false_friend(&self, written: &str) -> Option<EcoString> {
        let language = self.language.as_deref().filter(|tag| !tag.starts_with("en"))?;
        let stored = built_in().ingredient_id(written).filter(|_| !self.own.contains(written))?;
        let meant = own_word(written, language).filter(|meant| *meant != stored)?;
        Some(of_store(meant).0)
    }

    /// `500 g de farine T65`: the word for `of` is no part of the name.
    fn without_of(&self, name: &Name) -> Option<Understood> {
        let of = ["l'", "de la ", "de l'", "de ", "d'", "di ", "del ", "du ", "des "];
        let bare = of.iter().find_map(|of| name.shown.strip_prefix(of))?;
        let name = Name { key: key(bare), shown: bare.into(), span: name.span };
        if let Some((key, _)) = self.whole(&name.key) {
            return Some(Understood { key, shown: name.shown, aside: None });
        }
        self.without_asides(&name)
    }

    /// A name by its letters, whole: the house's own first.
    fn by_letters(&self, written: &str) -> Option<(EcoString, Option<Class>)> {
        let called = || self.called.get(written).map(|own| (own.clone(), None));
        let own = self.bare.get(&bare(written)).cloned().or_else(called);
        own.or_else(|| match meaning(written, self.language.as_deref())? {
            Meaning::One(id) => Some(of_store(id)),
            Meaning::Several(_) => None,
        })
    }

    /// A name that means something, with its class.
    fn whole(&self, written: &str) -> Option<(EcoString, Option<Class>)> {
        if let Some(id) = built_in().ingredient_id(written)
            && !self.own.contains(written)
        {
            let (_, class) = of_store(id);
            return Some((written.into(), class));
        }
        if built_in().culture_named(written).is_some() {
            return Some((written.into(), Some(Class::Culture)));
        }
        self.by_letters(written)
    }

    /// A name without the words that mean nothing, of which as few as can be are left out.
    fn without_asides(&self, name: &Name) -> Option<Understood> {
        const MAX: usize = 4;
        let is_aside = |word: &str| asides::length_at(&asides::words_of(word)) == Some(1);
        // `Bio-Weizenmehl` is two words here.
        let parted = name.shown.split(' ').flat_map(|word| match word.split_once('-') {
            Some((first, rest)) if is_aside(first) => vec![first, rest],
            _ => vec![word],
        });
        let words: Vec<&str> = parted.collect();
        let said: Vec<String> = words.iter().map(|word| asides::words_of(word).join(" ")).collect();
        let mut phrases: Vec<(usize, usize)> = Vec::new();
        let mut at = 0;
        while let Some(rest) = said.get(at..).filter(|rest| !rest.is_empty()) {
            let length = asides::length_at(rest);
            phrases.extend(length.map(|length| (at, at + length)));
            at += length.unwrap_or(1);
        }
        phrases.truncate(MAX);
        let mut choices: Vec<u32> = (1..1 << phrases.len()).collect();
        choices.sort_by_key(|choice| choice.count_ones());
        choices.into_iter().find_map(|choice| {
            let chosen = || (0..).zip(&phrases).filter(|(bit, _)| choice >> bit & 1 == 1);
            let is_out = |at: usize| chosen().any(|(_, (from, to))| (*from..*to).contains(&at));
            let left = (0..words.len()).filter(|at| !is_out(*at)).filter_map(|at| words.get(at));
            let shown: Vec<&str> = left.copied().collect();
            let shown = shown.join(" ").trim_end_matches(',').to_owned();
            let (found, class) = self.whole(&key(&shown))?;
            let mut out = chosen().filter_map(|(_, (from, to))| said.get(*from..*to));
            let class = class.map_or("", Class::word);
            out.all(|phrase| asides::says_nothing_of(phrase, class)).then(|| {
                let aside: Vec<String> = chosen()
                    .filter_map(|(_, (from, to))| Some(words.get(*from..*to)?.join(" ")))
                    .map(|words| words.trim_matches(',').to_owned())
                    .collect();
                let aside = Some(aside.join(", ").into());
                Understood { key: found, shown: shown.into(), aside }
            })
        })
    }

    /// Gives a name its key; answers with the words that mean nothing.
    fn name(&self, name: &mut Name) -> Option<EcoString> {
        let understood = self.understood(name)?;
        name.key = understood.key;
        name.shown = understood.shown;
        understood.aside
    }

    /// `Mehl (Type 550)`: a role that belongs to the name.
    fn with_role(&self, target: &mut Target) {
        let Some(role) = &target.role else { return };
        if self.is_plain(&target.name.key) {
            return;
        }
        let written = format!("{} {}", target.name.key, role.key);
        if let Some((key, _)) = self.by_letters(&written) {
            target.name.shown = format!("{} ({})", target.name.shown, role.shown).into();
            target.name.key = key;
            target.role = None;
        }
    }

    fn mix(&self, mix: &mut Mix) {
        for at in 0..mix.lines.len() {
            self.line(&mut mix.lines, at);
        }
        for target in &mut mix.without {
            self.name(&mut target.name);
        }
        for name in &mut mix.counts_as_flour {
            self.name(name);
        }
        for line in &mut mix.lines {
            if let crate::syntax::tree::Amount::Measured { base: Some(base), .. } = &mut line.amount
                && let Base::Of(target) = &mut **base
            {
                self.name(&mut target.name);
            }
        }
    }

    fn line(&self, lines: &mut [Line], at: usize) {
        let Some(line) = lines.get(at) else { return };
        let written = &line.target.name.key;
        let is_read = self.is_plain(written) && self.false_friend(written).is_none();
        if is_read && line.target.role.is_none() {
            return;
        }
        let mut target = line.target.clone();
        self.with_role(&mut target);
        let aside = self.name(&mut target.name);
        let is_there = |target: &Target| {
            let same = |other: &Line| {
                let role = |target: &Target| target.role.as_ref().map(|role| role.key.clone());
                other.target.name.key == target.name.key && role(&other.target) == role(target)
            };
            lines.iter().enumerate().any(|(other, line)| other != at && same(line))
        };
        // Warm water and cold water are two lines; flour twice is told.
        if aside.is_some() && is_there(&target) {
            if target.role.is_some() {
                return;
            }
            let shown = aside.clone().unwrap_or_default();
            target.role = Some(Box::new(Name { key: key(&shown), shown, span: target.name.span }));
            if is_there(&target) {
                return;
            }
        }
        let Some(line) = lines.get_mut(at) else { return };
        let is_role = target.role.is_some() && line.target.role.is_none();
        if let Some(aside) = aside.filter(|_| !is_role) {
            let plain = TextPart::Plain(aside.clone());
            match &mut line.note {
                Some(note) => note.parts.insert(0, TextPart::Plain(format!("{aside}, ").into())),
                None => line.note = Some(Text { parts: vec![plain], span: target.name.span }),
            }
        }
        line.target = target;
    }

    fn stage(&self, stage: &mut Stage) {
        self.mix(&mut stage.mix);
        for least in &mut stage.at_least {
            self.name(&mut least.name);
        }
        let lines: Vec<NamedLine> = named_in(&stage.mix).collect();
        if let Some(method) = &mut stage.method {
            self.method(method, Some(&lines));
        }
        self.texts(&mut stage.texts);
    }

    /// What an ingredient is `like`.
    fn model(&self, ingredient: &mut Ingredient) {
        if let Some(IngredientKind::Like(name)) = &mut ingredient.kind {
            self.name(name);
        }
    }

    /// No formula is made of itself: its name on a line of its own is a food's.
    fn own_name(&self, formula: &mut Formula) {
        let own = &formula.name.key;
        if self.beside_formulas.contains(own) || built_in().ingredient_id(own).is_some() {
            return;
        }
        let Some((food, _)) = self.by_letters(own) else { return };
        let own = own.clone();
        let stages = formula.stages.iter_mut().map(|stage| &mut stage.mix);
        let mixes = stages.chain(formula.mixtures.iter_mut().map(|mixture| &mut mixture.mix));
        let mixes = mixes.chain(formula.pieces.iter_mut().map(|piece| &mut piece.mix));
        let mixes = mixes.chain(&mut formula.total).chain(&mut formula.dough);
        for line in mixes.flat_map(|mix| &mut mix.lines) {
            if line.target.name.key == own {
                line.target.name.key = food.clone();
            }
        }
        let steps = formula.method.iter_mut().flat_map(|method| &mut method.steps);
        for with in steps.flat_map(|step| &mut step.phases).flat_map(|phase| &mut phase.with) {
            if let With::Name(target)
            | With::Share(_, target)
            | With::Weight(_, target)
            | With::Remaining(target) = with
                && target.name.key == own
            {
                target.name.key = food.clone();
            }
        }
    }

    fn formula(&self, formula: &mut Formula) {
        self.own_name(formula);
        formula.stages.iter_mut().for_each(|stage| self.stage(stage));
        formula.mixtures.iter_mut().for_each(|mixture| self.mix(&mut mixture.mix));
        formula.pieces.iter_mut().for_each(|piece| self.mix(&mut piece.mix));
        formula.total.iter_mut().chain(&mut formula.dough).for_each(|mix| self.mix(mix));
        formula.expect.iter_mut().for_each(|claim| self.claim(claim));
        if let Some((_, target)) = formula.makes.as_mut().and_then(|makes| makes.from.as_mut()) {
            self.name(&mut target.name);
        }
        self.texts(&mut formula.texts);
        if let Some(mut method) = formula.method.take() {
            // Steps nearly always name lines by their own names.
            let lines = || all_mixes(formula).flat_map(|mix| &mix.lines);
            let is_there = |name: &Name| lines().any(|line| line.target.name.key == name.key);
            let is_plain = step_names_of(&method).all(is_there);
            let lines: Vec<NamedLine> = match is_plain {
                true => Vec::new(),
                false => all_mixes(formula).flat_map(named_in).collect(),
            };
            self.method(&mut method, (!is_plain).then_some(&lines));
            formula.method = Some(method);
        }
    }

    fn claim(&self, claim: &mut Claim) {
        if matches!(claim.value, crate::syntax::tree::ClaimValue::Amount { .. }) {
            self.name(&mut claim.what.name);
        }
    }

    /// Names in steps, where some is not the name of a line; and those in their texts.
    fn method(&self, method: &mut Method, lines: Option<&Vec<NamedLine>>) {
        for step in &mut method.steps {
            for (phase, lines) in step.phases.iter_mut().flat_map(|phase| Some((phase, lines?))) {
                phase.with.iter_mut().for_each(|with| self.with(with, lines));
                if let Some(place) = &mut phase.place {
                    self.place(place, lines);
                }
            }
            let texts = step.notes.iter_mut().chain(&mut step.cautions).chain(&mut step.text);
            texts.for_each(|text| self.text(text));
        }
    }

    fn with(&self, with: &mut With, lines: &[NamedLine]) {
        let (With::Name(target)
        | With::Share(_, target)
        | With::Weight(_, target)
        | With::Remaining(target)) = with
        else {
            return;
        };
        if lines.iter().any(|line| line.target.name.key == target.name.key) {
            return;
        }
        self.with_role(target);
        let aside = self.name(&mut target.name);
        let same = |line: &&NamedLine| line.target.name.key == target.name.key;
        let said = aside.as_deref().map(key);
        // Of warm water and cold water the one that is said.
        let is_said = |line: &&NamedLine| said.is_some() && line.aside == said;
        if let Some(line) = lines.iter().filter(same).find(is_said) {
            target.role.clone_from(&line.target.role);
        }
        // Another name of what stands on a line means that line.
        if !lines.iter().any(|line| line.target.name.key == target.name.key)
            && let Some(line) = self.same_as(&target.name, lines)
        {
            target.name.key = line.target.name.key.clone();
        }
    }

    /// The one name on lines that means the same ingredient of the stores.
    fn same_as<'l>(&self, name: &Name, lines: &'l [NamedLine]) -> Option<&'l NamedLine> {
        let id = |key: &str| built_in().ingredient_id(key).filter(|_| !self.own.contains(key));
        let wanted = id(&name.key)?;
        lines.iter().find(|line| id(&line.target.name.key) == Some(wanted))
    }

    /// `in boiling water` names a line only where one is meant.
    fn place(&self, place: &mut Name, lines: &[NamedLine]) {
        let Some(understood) = self.understood(place) else { return };
        if lines.iter().any(|line| line.target.name.key == understood.key) {
            place.key = understood.key;
        }
    }

    fn texts(&self, texts: &mut [NotedText]) {
        texts.iter_mut().for_each(|words| self.text(&mut words.text));
    }

    fn text(&self, text: &mut Text) {
        for part in &mut text.parts {
            let TextPart::Figure { ask: Some(ask), .. } = part else { continue };
            let (target, elsewhere) = match &mut **ask {
                FigureAsk::Figure { asked, elsewhere } => (Some(&mut asked.what), elsewhere),
                FigureAsk::Scaled { what, elsewhere, .. } => (what.as_mut(), elsewhere),
                FigureAsk::Date(_) | FigureAsk::Weekday { .. } => continue,
            };
            let elsewhere = elsewhere.as_mut().map(|elsewhere| &mut elsewhere.asked.what);
            for target in target.into_iter().chain(elsewhere) {
                self.name(&mut target.name);
            }
        }
    }
}

/// What a line is called.
struct NamedLine {
    target: Target,
    /// The words that stood before its name, now its note or its role.
    aside: Option<EcoString>,
}

fn named_in(mix: &Mix) -> impl Iterator<Item = NamedLine> {
    mix.lines.iter().map(|line| {
        let first = line.note.as_ref().and_then(|note| note.parts.first());
        let note = first.and_then(|part| match part {
            TextPart::Plain(words) => Some(key(words.trim_end_matches(", "))),
            TextPart::Figure { .. } => None,
        });
        let role = line.target.role.as_ref().map(|role| role.key.clone());
        NamedLine { target: line.target.clone(), aside: note.or(role) }
    })
}

/// The class that a declaration says, itself or by what it is like in the stores.
fn class_of(ingredient: &Ingredient) -> Option<Class> {
    match ingredient.kind.as_ref()? {
        IngredientKind::Class(word) => Class::read(&word.key),
        IngredientKind::Like(name) => {
            built_in().ingredient_named(&name.key).map(|known| known.class)
        }
    }
}

fn of_store(id: IngredientId) -> (EcoString, Option<Class>) {
    let ingredient = built_in().ingredient(id);
    (ingredient.name.key.clone(), Some(ingredient.class))
}

impl House<'_> {
    /// The language that names are understood in, as a tag.
    pub fn language_of_names(&self) -> Option<&str> {
        let language = self.settings.language.as_ref().map(|it| it.value.as_str());
        let us = (self.settings.measures == Measures::Us).then_some(US);
        language.or(us)
    }

    /// The ingredients of the stores that a name may mean, where that is several, and what
    /// tells them apart.
    pub fn meanings(&self, written: &str) -> Vec<String> {
        let Some(Meaning::Several(ids)) = meaning(written, self.language_of_names()) else {
            return Vec::new();
        };
        let all: Vec<&Stored> = ids.iter().map(|id| built_in().ingredient(*id)).collect();
        let each = all.first().and_then(|first| first.each.as_ref());
        let differ = all.iter().any(|one| one.each.as_ref() != each);
        let told = |one: &&Stored| match one.each.as_ref().filter(|_| differ) {
            Some(each) => format!("`{}` ({} g each)", one.name.shown, trimmed(each, 1)),
            None => format!("`{}`", one.name.shown),
        };
        all.iter().map(told).collect()
    }
}
