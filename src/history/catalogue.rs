//! All declarations of a bakehouse, and what each formula rests on.

use super::declared::{Declared, DeclaredKind, of_tree};
use super::facts::{CLAIMS, Fact, LOOK, is_of_days, put_part};
use crate::formula::{Shelf, inherited};
use crate::orders::{MAX_BEFORE, day_later};
use crate::source::Span;
use crate::syntax::tree::{Formula, Method, Name, Stage, Step, Tree, Verb, WordsKind};
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// A fingerprint of a meaning.
pub type Digest = [u8; 32];

/// What stands for all days among the keys of what a meaning rests on: a day may begin with
/// another one, and makes cultures for the next.
pub const DAYS: &str = "\u{0}days";

/// The fingerprints of one declaration by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Digests {
    /// Of all that it says, as far as prints show it or rest on it.
    pub all: Digest,
    /// Of what stands on a card, a sheet or a table, or gives the numbers there.
    pub paper: Digest,
}

/// What a formula says by itself, kept from one look at it to the next.
#[derive(Clone, Debug)]
pub struct Own {
    digests: Digests,
    /// The keys of what it uses.
    uses: Vec<EcoString>,
}

impl Own {
    /// That of a formula as it is written, which is based on no other one.
    pub fn of(formula: &Formula) -> Self {
        let declared = Declared::formula(formula);
        Self { digests: digests_of(&declared), uses: declared.facts.uses }
    }
}

/// The declarations of one tree but its formulas, each with its fingerprints once they were
/// asked for.
pub type Shared = Vec<(Declared, OnceLock<Digests>)>;

/// What a tree declares but its formulas.
pub fn shared_of(tree: &Tree) -> Shared {
    of_tree(tree).into_iter().map(|declared| (declared, OnceLock::new())).collect()
}

/// What formulas are looked up in by their keys.
pub trait Formulas {
    /// The formula with a key.
    fn formula(&self, key: &str) -> Option<&Formula>;
    /// What it says by itself, kept from one look at it to the next.
    fn own(&self, key: &str) -> Option<&OnceLock<Own>>;
}

/// The trees of one bakehouse, by the names in them.
pub struct Catalogue<'t> {
    /// All but formulas.
    shared: Vec<&'t (Declared, OnceLock<Digests>)>,
    by_key: FxHashMap<EcoString, Vec<usize>>,
    formulas: FxHashMap<EcoString, &'t Formula>,
    stages: FxHashMap<EcoString, &'t Stage>,
    /// Booklets and days: formulas are printed in them, and nothing rests on them.
    handouts: FxHashMap<EcoString, &'t Declared>,
    has_ovens: bool,
    /// Looks formulas up in place of `formulas`.
    elsewhere: Option<&'t (dyn Formulas + Sync)>,
}

impl<'t> Shelf<'t> for Catalogue<'t> {
    fn shared_formula(&self, key: &str) -> Option<&'t Formula> {
        match self.elsewhere {
            Some(elsewhere) => elsewhere.formula(key),
            None => self.formulas.get(key).copied(),
        }
    }

    fn shared_stage(&self, key: &str) -> Option<&'t Stage> {
        self.stages.get(key).copied()
    }

    fn near(&self, _: &str) -> Option<EcoString> {
        None
    }
}

/// What a formula means: all that it says, and all that it rests on.
pub struct Meaning<'t> {
    /// The formula with all that it inherits.
    pub own: Declared,
    /// What is shared, in the order of kind and name.
    pub shared: Vec<&'t Declared>,
    /// Other formulas that are in it.
    pub inner: Vec<Declared>,
    /// The keys of all that was looked up.
    pub keys: FxHashSet<EcoString>,
    /// Where all that stands, the formulas that it is based on included.
    pub places: Vec<Span>,
    /// The fingerprint of all that, as far as prints show it.
    pub digest: Digest,
    /// The same without what holds for everybody, whether it is used or not: the settings of
    /// the house, and mixers that the formula does not name.
    pub named: Digest,
    /// The fingerprint from which the five letters of a code come: what stands on cards, sheets
    /// and tables, and what gives the numbers there. Machines and settings of the house are not
    /// in it: what these make of a print is in its other letters.
    pub baked: Digest,
    /// Of a day, the formulas among `inner` that are no bread of it: for those that the next day
    /// bakes it makes cultures, so that only what sizes these counts.
    pub later: FxHashSet<EcoString>,
}

/// All that a formula rests on.
struct Reached<'t> {
    /// What is shared, with its fingerprints and whether it holds for everybody.
    found: Vec<(&'t Declared, Digests, bool)>,
    inner: Vec<Declared>,
    keys: FxHashSet<EcoString>,
    places: Vec<Span>,
}

impl<'t> Catalogue<'t> {
    /// The trees of one bakehouse, each with its declarations.
    pub fn of(trees: impl IntoIterator<Item = (&'t Tree, &'t Shared)>) -> Self {
        let mut shared: Vec<&(Declared, OnceLock<Digests>)> = Vec::new();
        let mut by_key = FxHashMap::default();
        let mut handouts = FxHashMap::default();
        let (mut formulas, mut stages) = (FxHashMap::default(), FxHashMap::default());
        for (tree, declarations) in trees {
            // No formula rests on a booklet or a day, whatever they are called.
            for (declared, _) in declarations.iter().filter(|it| it.0.kind.is_handout()) {
                handouts.entry(declared.key.clone()).or_insert(declared);
            }
            for known in declarations.iter().filter(|it| !it.0.kind.is_handout()) {
                for key in std::iter::once(&known.0.key).chain(&known.0.also) {
                    by_key.entry(key.clone()).or_insert_with(Vec::new).push(shared.len());
                }
                shared.push(known);
            }
            // Of two with one name the first one counts.
            for formula in &tree.formulas {
                formulas.entry(formula.name.key.clone()).or_insert(formula);
            }
            for stage in &tree.stages {
                stages.entry(stage.name.key.clone()).or_insert(stage);
            }
        }
        let has_ovens = shared.iter().any(|(it, _)| it.kind == DeclaredKind::Oven);
        Self { shared, by_key, formulas, stages, handouts, has_ovens, elsewhere: None }
    }

    /// The same, where formulas are known already by their keys: only trees that declare
    /// something else have to be among those of the catalogue.
    pub fn with_formulas(self, of: &'t (dyn Formulas + Sync)) -> Self {
        Self { elsewhere: Some(of), ..self }
    }

    /// Everything that is declared but formulas.
    pub fn shared(&self) -> impl Iterator<Item = &'t Declared> {
        self.shared.iter().map(|(declared, _)| declared).chain(self.handouts())
    }

    /// All booklets and days.
    pub fn handouts(&self) -> impl Iterator<Item = &'t Declared> {
        self.handouts.values().copied()
    }

    /// What a booklet or a day means: all that it says, and the formulas that it prints. A
    /// day also means the days that it begins with and makes cultures for, those before it
    /// that say hours of their own, and all machines.
    pub fn meaning_of_handout(&self, key: &str) -> Option<Meaning<'t>> {
        let own: &'t Declared = self.handouts.get(key)?;
        let mut parts: Vec<&'t Declared> = vec![own];
        let mut formulas: FxHashMap<&EcoString, &'t Formula> = FxHashMap::default();
        self.gather(&mut parts, 0, &mut formulas);
        // What the next day bakes matters by the cultures that are made for it.
        let own_parts = parts.len();
        let mut of_later: FxHashMap<&EcoString, &'t Formula> = FxHashMap::default();
        let after = (own.kind == DeclaredKind::Day).then(|| self.day_later(key, 1)).flatten();
        parts.extend(after.filter(|day| !parts.iter().any(|it| it.key == day.key)));
        self.gather(&mut parts, own_parts, &mut of_later);
        of_later.retain(|key, _| !formulas.contains_key(key));
        let later_parts = own_parts..parts.len();
        // What is begun on the days before is done in their hours.
        for days in (1..=MAX_BEFORE).filter(|_| own.kind == DeclaredKind::Day) {
            let says_hours = |day: &&Declared| day.facts.all.iter().any(|it| it.name == "hours");
            let before = self.day_later(key, -days).filter(says_hours);
            parts.extend(before.filter(|day| !parts.iter().any(|it| it.key == day.key)));
        }
        let mut keys: FxHashSet<EcoString> = FxHashSet::default();
        if own.kind == DeclaredKind::Day {
            let all = self.shared.iter().map(|(declared, _)| declared);
            let mut all: Vec<&Declared> = all
                .filter(|it| it.kind == DeclaredKind::House || is_of_every_day(it.kind))
                .collect();
            all.sort_by(|one, two| (one.kind, &one.key).cmp(&(two.kind, &two.key)));
            parts.extend(all);
            keys.insert(DAYS.into());
        }
        keys.extend(parts.iter().map(|it| it.key.clone()));
        let mut meanings: Vec<Meaning<'t>> =
            formulas.into_values().map(|formula| self.meaning(formula)).collect();
        meanings.sort_by(|one, two| one.own.key.cmp(&two.own.key));
        let mut hasher = blake3::Hasher::new();
        let mut places = Vec::new();
        for (at, part) in parts.iter().enumerate() {
            hasher.update(&match later_parts.contains(&at) {
                true => digest_where(part, is_ordered),
                false => digest_for_days(part),
            });
            places.push(part.span);
        }
        let (mut shared, mut inner) = (parts.split_off(1), Vec::new());
        for meaning in meanings {
            hasher.update(&meaning.digest);
            places.extend(meaning.places);
            keys.extend(meaning.keys);
            shared.extend(meaning.shared);
            inner.push(meaning.own);
            inner.extend(meaning.inner);
        }
        let mut later: FxHashSet<EcoString> = FxHashSet::default();
        let mut meanings: Vec<Meaning<'t>> =
            of_later.into_values().map(|formula| self.meaning(formula)).collect();
        meanings.sort_by(|one, two| one.own.key.cmp(&two.own.key));
        for mut meaning in meanings {
            keys.extend(meaning.keys);
            if !meaning.shared.iter().any(|it| it.kind == DeclaredKind::Culture) {
                continue;
            }
            places.extend(meaning.places);
            let by_tin = is_sized_by_a_tin(&meaning.own);
            meaning.shared.retain(|it| sizes(it.kind) || by_tin && it.kind == DeclaredKind::Tin);
            for part in &meaning.shared {
                hasher.update(&digest_where(part, |it| it.is_printed() && is_of_size(it)));
            }
            for mut part in std::iter::once(meaning.own).chain(meaning.inner) {
                part.facts.all.retain(|fact| fact.is_printed() && is_of_size(fact));
                hasher.update(&digest_of(&part));
                later.insert(part.key.clone());
                inner.push(part);
            }
            shared.extend(meaning.shared);
        }
        let digest = *hasher.finalize().as_bytes();
        let mut seen = FxHashSet::default();
        shared.retain(|it| seen.insert((it.kind, it.key.clone())));
        inner.retain(|it: &Declared| seen.insert((it.kind, it.key.clone())));
        let (named, baked) = (digest, digest);
        Some(Meaning { own: own.clone(), shared, inner, keys, places, digest, named, baked, later })
    }

    /// The days that some begin with, from a place on, and the formulas in them.
    fn gather(
        &self,
        parts: &mut Vec<&'t Declared>,
        from: usize,
        formulas: &mut FxHashMap<&'t EcoString, &'t Formula>,
    ) {
        let mut at = from;
        while let Some(part) = parts.get(at).copied() {
            at += 1;
            for used in &part.facts.uses {
                match (self.handouts.get(used), self.shared_formula(used)) {
                    (_, Some(formula)) => drop(formulas.insert(&formula.name.key, formula)),
                    (Some(day), _) if !parts.iter().any(|it| it.key == day.key) => parts.push(day),
                    _ => {}
                }
            }
        }
    }

    /// The day so many days after another: the next one, whose builds it also makes cultures for,
    /// or one before, on which it is begun.
    fn day_later(&self, key: &str, days: i64) -> Option<&'t Declared> {
        let all = self.handouts.iter().filter(|(_, it)| it.kind == DeclaredKind::Day);
        let mut names: Vec<&str> = all.map(|(key, _)| key.as_str()).collect();
        names.sort_unstable();
        self.handouts.get(day_later(&names, key, days)?).copied()
    }

    /// What a formula means.
    pub fn meaning(&self, formula: &'t Formula) -> Meaning<'t> {
        let whole = inherited(self, formula);
        let own = Declared::formula(&whole);
        // As it is written, since stages that formulas share are fingerprinted where they stand;
        // with all that it inherits where it is based on another one.
        let is_whole = formula.from.is_some() || matches!(whole, Cow::Borrowed(_));
        let as_written = if is_whole { None } else { self.own_of(formula) };
        let (digests, mut uses) = match as_written {
            Some(known) => (known.digests, known.uses.clone()),
            None => (digests_of(&own), Vec::new()),
        };
        uses.extend(own.facts.uses.iter().cloned());
        let reached = self.reach(formula, whole.method.as_ref(), uses);
        let Marked { digest, named, baked } = self.marked(&digests, &reached);
        let Reached { found, inner, keys, mut places } = reached;
        let shared: Vec<&Declared> = found.into_iter().map(|(declared, ..)| declared).collect();
        places.extend(shared.iter().copied().chain(&inner).map(|declared| declared.span));
        let later = FxHashSet::default();
        Meaning { own, shared, inner, keys, places, digest, named, baked, later }
    }

    /// The fingerprints of what a formula means, and the keys of all that was looked up: those
    /// of [`Catalogue::meaning`], without putting together what nobody reads.
    pub fn mark(&self, formula: &'t Formula) -> (Marked, FxHashSet<EcoString>) {
        let Some(own) = self.own_of(formula) else {
            let Meaning { digest, named, baked, keys, .. } = self.meaning(formula);
            return (Marked { digest, named, baked }, keys);
        };
        let reached = self.reach(formula, formula.method.as_ref(), own.uses.clone());
        (self.marked(&own.digests, &reached), reached.keys)
    }

    /// The keys of all that a formula rests on: those of [`Catalogue::meaning`].
    pub fn keys(&self, formula: &'t Formula) -> FxHashSet<EcoString> {
        match formula.from {
            Some(_) => self.meaning(formula).keys,
            None => {
                let uses = Declared::formula(formula).facts.uses;
                self.reach(formula, formula.method.as_ref(), uses).keys
            }
        }
    }

    /// What a formula says by itself, where it is based on no other one.
    fn own_of(&self, formula: &Formula) -> Option<Cow<'t, Own>> {
        if formula.from.is_some() {
            return None;
        }
        let key = &formula.name.key;
        let known = self.elsewhere.and_then(|elsewhere| {
            let is_it = elsewhere.formula(key).is_some_and(|it| std::ptr::eq(it, formula));
            elsewhere.own(key).filter(|_| is_it)
        });
        Some(match known {
            Some(known) => Cow::Borrowed(known.get_or_init(|| Own::of(formula))),
            None => Cow::Owned(Own::of(formula)),
        })
    }

    /// All that a formula rests on that uses some names, with the method that it has.
    fn reach(
        &self,
        formula: &'t Formula,
        method: Option<&Method>,
        uses: Vec<EcoString>,
    ) -> Reached<'t> {
        let mut open = uses;
        // Settings are everybody's, and of several mixers or ovens one is chosen where none is
        // named.
        let names_mixer = self.names_a_mixer(method);
        let chooses_oven = self.leaves_an_oven_open(method);
        let for_all = |(declared, _): &(Declared, _)| match declared.kind {
            DeclaredKind::House => true,
            DeclaredKind::Mixer => !names_mixer,
            DeclaredKind::Oven => chooses_oven,
            _ => false,
        };
        let all = self.shared.iter().enumerate();
        let mut reached: Vec<usize> =
            all.filter(|(_, known)| for_all(known)).map(|(at, _)| at).collect();
        let everybodys = reached.len();
        let mut inner: Vec<Declared> = Vec::new();
        let mut keys: FxHashSet<EcoString> = FxHashSet::default();
        keys.reserve(open.len() + 1);
        keys.insert(formula.name.key.clone());
        let (mut above, mut places) = (FxHashSet::default(), Vec::new());
        self.ancestors(formula, &mut above, &mut places);
        while let Some(key) = open.pop() {
            if !keys.insert(key.clone()) {
                continue;
            }
            for &at in self.by_key.get(&key).into_iter().flatten() {
                if let Some((declared, _)) = self.shared.get(at).filter(|_| !reached.contains(&at))
                {
                    reached.push(at);
                    open.extend(declared.facts.uses.iter().cloned());
                }
            }
            if let Some(other) = self.shared_formula(&key) {
                let other = Declared::formula(&inherited(self, other));
                open.extend(other.facts.uses.iter().cloned());
                inner.push(other);
            }
        }
        let found = reached.into_iter().enumerate();
        let found = found.filter_map(|(at, place)| Some((at, *self.shared.get(place)?)));
        let mut found: Vec<(&Declared, Digests, bool)> = found
            .map(|(at, (declared, digests))| {
                let digests = *digests.get_or_init(|| digests_of(declared));
                (declared, digests, at < everybodys)
            })
            .collect();
        found.sort_by(|one, two| (one.0.kind, &one.0.key).cmp(&(two.0.kind, &two.0.key)));
        inner.sort_by(|one, two| one.key.cmp(&two.key));
        keys.extend(above);
        Reached { found, inner, keys, places }
    }

    /// The fingerprints of a formula that says something and rests on all that.
    fn marked(&self, own: &Digests, reached: &Reached) -> Marked {
        let inner: Vec<Digests> = reached.inner.iter().map(digests_of).collect();
        let of = |of: &dyn Fn(&Digests) -> Digest, counts: &dyn Fn(&Declared, bool) -> bool| {
            let mut hasher = blake3::Hasher::new();
            hasher.update(&of(own));
            let shared = reached.found.iter().filter(|(it, _, is_all)| counts(it, *is_all));
            for (_, digests, _) in shared {
                hasher.update(&of(digests));
            }
            for digests in &inner {
                hasher.update(&of(digests));
            }
            hasher
        };
        let mut digest = of(&|it| it.all, &|_, _| true);
        // Ovens of a bakery are not those of a kitchen, whatever they hold.
        if self.has_ovens {
            digest.update(b"ovens");
        }
        let named = of(&|it| it.all, &|_, is_all| !is_all);
        let baked = of(&|it| it.paper, &|it, _| is_of_paper(it.kind));
        let [digest, named, baked] = [digest, named, baked].map(|it| *it.finalize().as_bytes());
        Marked { digest, named, baked }
    }

    /// Whether a step of the dough's own names a mixer.
    fn names_a_mixer(&self, method: Option<&Method>) -> bool {
        let steps = method.iter().flat_map(|method| &method.steps);
        let places = steps.flat_map(|step| &step.phases).filter_map(|phase| phase.place.as_ref());
        let mut known = places.flat_map(|place| self.by_key.get(&place.key).into_iter().flatten());
        known.any(|at| self.shared.get(*at).is_some_and(|(it, _)| it.kind == DeclaredKind::Mixer))
    }

    /// Whether a step of a formula bakes in whichever oven takes it.
    fn leaves_an_oven_open(&self, method: Option<&Method>) -> bool {
        let is_oven = |place: &Name| {
            let mut known = self.by_key.get(&place.key).into_iter().flatten();
            known
                .any(|at| self.shared.get(*at).is_some_and(|(it, _)| it.kind == DeclaredKind::Oven))
        };
        let names_one = |step: &Step| {
            let mut places = step.phases.iter().filter_map(|phase| phase.place.as_ref());
            places.any(is_oven)
        };
        let mut steps = method.iter().flat_map(|method| &method.steps);
        steps.any(|step| matches!(step.verb, Verb::Bake | Verb::Steam) && !names_one(step))
    }

    /// What the house says of how prints look, by its words.
    pub fn look(&self) -> BTreeMap<&'t str, Vec<&'t str>> {
        let houses =
            self.shared.iter().filter(|(declared, _)| declared.kind == DeclaredKind::House);
        let facts = houses.flat_map(|(declared, _)| &declared.facts.all);
        let mut look: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for fact in facts.filter(|fact| fact.block.kind == LOOK) {
            look.entry(&fact.name).or_default().push(&fact.value.canon);
        }
        look
    }

    /// The formulas that one is based on.
    fn ancestors(
        &self,
        formula: &Formula,
        seen: &mut FxHashSet<EcoString>,
        places: &mut Vec<Span>,
    ) {
        places.push(formula.name.span);
        if let Some(from) = &formula.from
            && seen.insert(from.key.clone())
            && let Some(parent) = self.shared_formula(&from.key)
        {
            self.ancestors(parent, seen, places);
        }
    }
}

/// The fingerprints of what a formula means: those of [`Meaning`].
#[derive(Clone, Copy, Debug)]
pub struct Marked {
    /// Of all that it rests on.
    pub digest: Digest,
    /// The same without what holds for everybody.
    pub named: Digest,
    /// What a code's five letters come from.
    pub baked: Digest,
}

/// Whether what a thing of a kind says is part of what is baked, so that it counts in the five
/// letters of a code. Bounds of a style are shown nowhere, and what machines and settings make
/// of a print is in its other letters.
fn is_of_paper(kind: DeclaredKind) -> bool {
    match kind {
        DeclaredKind::Ingredient
        | DeclaredKind::Culture
        | DeclaredKind::Stage
        | DeclaredKind::Mixture
        | DeclaredKind::Tin
        | DeclaredKind::Formula => true,
        DeclaredKind::House
        | DeclaredKind::Style
        | DeclaredKind::Mixer
        | DeclaredKind::Oven
        | DeclaredKind::Proofer
        | DeclaredKind::Refrigerator
        | DeclaredKind::Board
        | DeclaredKind::Day
        | DeclaredKind::Booklet => false,
    }
}

/// Whether a fact of a thing of a kind stands on cards, sheets and tables, or gives a number
/// there.
fn is_on_paper(kind: DeclaredKind, fact: &Fact) -> bool {
    let name = fact.name.as_str();
    fact.is_printed()
        && fact.block.kind != CLAIMS
        && !fact.name.starts_with("allow ")
        && match kind {
            // What a culture says in words is for whoever keeps it.
            DeclaredKind::Culture => WordsKind::named(name).is_none(),
            DeclaredKind::Ingredient => !NOWHERE.contains(&name),
            _ => true,
        }
}

/// What an ingredient is made of that no print of a formula shows or reckons with: of all that,
/// only water and salt are.
const NOWHERE: [&str; 16] = [
    "protein",
    "fat",
    "saturates",
    "monounsaturates",
    "polyunsaturates",
    "carbohydrate",
    "sugars",
    "starch",
    "fibre",
    "ash",
    "alcohol",
    "calcium",
    "iron",
    "potassium",
    "cholesterol",
    "energy",
];

/// Whether a day rests on all of a kind: tins belong to the formulas that name them.
fn is_of_every_day(kind: DeclaredKind) -> bool {
    kind.is_machine() && kind != DeclaredKind::Tin
}

/// What the amounts of a formula follow from.
fn sizes(kind: DeclaredKind) -> bool {
    matches!(kind, DeclaredKind::Culture | DeclaredKind::Stage | DeclaredKind::Ingredient)
}

/// Whether a formula leaves the weight of a piece to its tin.
fn is_sized_by_a_tin(formula: &Declared) -> bool {
    let makes = formula.facts.all.iter().filter(|fact| fact.name == "makes");
    let mut pieces = makes.flat_map(|fact| fact.value.canon.split('\u{1e}'));
    pieces.any(|piece| {
        let words: Vec<&str> = piece.split('\u{1f}').collect();
        words.contains(&"in") && !words.contains(&"at")
    })
}

/// Whether a fact of a formula, or of what it rests on, may change how much of a culture it takes.
fn is_of_size(fact: &Fact) -> bool {
    let name = fact.name.as_str();
    let is_words = WordsKind::named(name).is_some()
        || matches!(name, "title" | "style" | "also" | "kept at")
        || matches!(name, "contains" | "may contain" | "free from" | "animal")
        || ["note", "allow ", "called "].iter().any(|word| name.starts_with(word));
    !is_words && !matches!(fact.block.kind, "method" | "claims")
}

/// Whether a fact of a day says how much of something there is to be.
fn is_ordered(fact: &Fact) -> bool {
    ["order", "without", "on hand", "from"].iter().any(|word| fact.name.starts_with(word))
}

/// The fingerprint of what one declaration says by itself, in whatever order it was written,
/// as far as prints show it.
pub fn digest_of(declared: &Declared) -> Digest {
    digest_where(declared, Fact::is_printed)
}

/// The same with what days rest on.
pub fn digest_for_days(declared: &Declared) -> Digest {
    // No paper of a day shows the limits of a style, and none what checks are told to allow.
    digest_where(declared, |fact| {
        declared.kind != DeclaredKind::Style
            && !fact.name.starts_with("allow ")
            && (fact.is_printed() || is_of_days(fact))
    })
}

/// Both fingerprints of what one declaration says by itself.
pub fn digests_of(declared: &Declared) -> Digests {
    let is_paper = |fact: &Fact| is_on_paper(declared.kind, fact);
    let paper = digest_where(declared, is_paper);
    if declared.facts.all.iter().all(|fact| is_paper(fact) || !fact.is_printed()) {
        return Digests { all: paper, paper };
    }
    Digests { all: digest_of(declared), paper }
}

fn digest_where(declared: &Declared, counts: impl Fn(&Fact) -> bool) -> Digest {
    let mut facts: Vec<&Fact> = declared.facts.all.iter().filter(|fact| counts(fact)).collect();
    facts.sort_by_key(|fact| fact.parts());
    let mut all = head_of(declared, 64 * facts.len());
    facts.into_iter().for_each(|fact| fact.write_to(&mut all));
    *blake3::hash(&all).as_bytes()
}

/// What a fingerprint begins with, and room for so many bytes more.
fn head_of(declared: &Declared, more: usize) -> Vec<u8> {
    let mut all = Vec::with_capacity(64 + more);
    put_part(declared.kind.word(), &mut all);
    put_part(&declared.key, &mut all);
    all
}
