//! Two states of a bakehouse compared by what they mean.
//!
//! Enters: two sides, each loaded from wherever it stands. Leaves: a [`Comparison`], plain
//! data. A comparison the other way round is its mirror.

use super::catalogue::{Catalogue, Meaning, Shared, shared_of};
use super::comparison::{
    Change, Comparison, FigureChange, FormulaChange, Moved, SharedChange, SheetChange, VERSION,
    What,
};
use super::declared::{Declared, Kind, kind_named};
use super::facts::{BESIDE, Block, Fact, Facts};
use super::rename::{self, Renamed};
use super::sheet;
use crate::desk::Bakehouse;
use crate::formula::work;
use crate::print::{Document, Wording, document};
use crate::quantity::display::read_exact;
use crate::quantity::{Exact, int};
use crate::source::Span;
use crate::syntax::tree::Formula;
use ecow::EcoString;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// One state: its bakehouses, and the folder that its paths are told from.
pub struct Side<'b, 'l> {
    /// As the desk loaded them.
    pub bakehouses: &'b [Bakehouse<'l>],
    /// The folder above its files.
    pub base: &'b Path,
    /// The formulas that are compared, by key; all where there are none.
    pub only: Option<&'b str>,
}

impl Side<'_, '_> {
    /// Whether the file that a place lies in was asked for.
    fn asks_for(&self, place: Span) -> bool {
        let files = self.bakehouses.iter().flat_map(|bakehouse| &bakehouse.files);
        files.into_iter().any(|file| file.source == place.source && file.is_asked_for())
    }
}

/// A formula of a side.
struct Item<'b, 'l> {
    bakehouse: &'b Bakehouse<'l>,
    catalogue: &'b Catalogue<'l>,
    formula: &'l Formula,
    /// The folder of its bakehouse, and its file, below the side's.
    root: String,
    path: String,
}

/// A formula before and after; one of them at least.
type Pair<'p, 'b, 'l> = (Option<&'p Item<'b, 'l>>, Option<&'p Item<'b, 'l>>);

/// What changed from one side to the other.
pub fn compare(old: &Side, new: &Side) -> Comparison {
    let (old_shared, new_shared) = (shared_in(old), shared_in(new));
    let (old_names, new_names) = (catalogues(old, &old_shared), catalogues(new, &new_shared));
    let (old_items, new_items) = (items(old, &old_names), items(new, &new_names));
    let pairs = match (old.only, new.only) {
        (Some(_), Some(_)) => vec![(old_items.first(), new_items.first())],
        _ => paired(&old_items, &new_items),
    };
    let mut shared = shared_changes(&old_names, &new_names);
    let among = Among::of(&shared);
    let outcomes: Vec<Outcome> =
        pairs.par_iter().filter_map(|pair| outcome(*pair, &among)).collect();
    let mut is_asked: Vec<bool> = Vec::new();
    for change in &mut shared {
        let touched = outcomes.iter().filter(|outcome| {
            let mut because = outcome.because.iter();
            because.any(|(kind, key)| kind.word() == change.kind && *key == change.key)
        });
        change.touches = touched.map(|outcome| outcome.name.clone()).collect();
        change.touches.sort();
        let asked = change.spans.iter().any(|span| old.asks_for(*span) || new.asks_for(*span));
        is_asked.push(asked || !change.touches.is_empty());
    }
    let mut is_asked = is_asked.into_iter();
    shared.retain(|_| is_asked.next().unwrap_or(true));
    let mut formulas: Vec<FormulaChange> =
        outcomes.into_iter().filter_map(|outcome| outcome.change).collect();
    formulas.sort_by(|one, two| {
        (two.weight, &one.name, &one.was).cmp(&(one.weight, &two.name, &two.was))
    });
    if old.only.is_some() {
        shared.clear();
        formulas.iter_mut().for_each(beside_each_other);
    }
    shared.sort_by_key(|change| std::cmp::Reverse(change.touches.len()));
    let moved = pairs.iter().filter_map(|pair| match pair {
        (Some(old), Some(new)) if old.path != new.path => Some(Moved {
            name: new.formula.name.shown.to_string(),
            from: old.path.clone(),
            to: new.path.clone(),
        }),
        _ => None,
    });
    let moved = if old.only.is_some() { Vec::new() } else { moved.collect() };
    Comparison { version: VERSION, formulas, shared, moved }
}

/// Two formulas that were asked for by name: neither was called like the other before.
fn beside_each_other(formula: &mut FormulaChange) {
    if let Some(was) = formula.was.take() {
        formula.name = format!("{was} → {}", formula.name);
    }
}

/// The declarations of each file of each bakehouse.
fn shared_in(side: &Side) -> Vec<Vec<Shared>> {
    let of =
        |bakehouse: &Bakehouse| bakehouse.files.iter().map(|file| shared_of(&file.tree)).collect();
    side.bakehouses.iter().map(of).collect()
}

fn catalogues<'s>(side: &Side<'_, 's>, shared: &'s [Vec<Shared>]) -> Vec<Catalogue<'s>> {
    let of = |(bakehouse, shared): (&Bakehouse<'s>, &'s Vec<Shared>)| {
        Catalogue::of(bakehouse.files.iter().map(|file| &file.tree).zip(shared))
    };
    side.bakehouses.iter().zip(shared).map(of).collect()
}

/// A path below another, with `/` between its parts on every machine.
fn below(base: &Path, path: &Path) -> String {
    let below = path.strip_prefix(base).unwrap_or(path);
    // A file that was asked for by itself is told by its name.
    let file = || Path::new(path.file_name().unwrap_or_default());
    let path = if below.as_os_str().is_empty() { file() } else { below };
    let parts: Vec<_> = path.iter().map(|part| part.to_string_lossy()).collect();
    parts.join("/")
}

fn items<'b, 'l>(side: &Side<'b, 'l>, catalogues: &'b [Catalogue<'l>]) -> Vec<Item<'b, 'l>> {
    let mut all = Vec::new();
    for (bakehouse, catalogue) in side.bakehouses.iter().zip(catalogues) {
        // Where something shared was asked for, so are those that use it.
        let shares = bakehouse.files.iter().any(|file| {
            let tree = &file.tree;
            file.is_asked_for()
                && !(tree.bakehouses.is_empty()
                    && tree.stages.is_empty()
                    && tree.mixtures.is_empty()
                    && tree.cultures.is_empty()
                    && tree.ingredients.is_empty()
                    && tree.styles.is_empty()
                    && tree.machines.is_empty())
        });
        let root = bakehouse.root.as_ref().map(|root| below(side.base, root)).unwrap_or_default();
        for file in bakehouse.files.iter().copied() {
            if !(shares || file.is_asked_for()) {
                continue;
            }
            for formula in &file.tree.formulas {
                if side.only.is_some_and(|only| only != formula.name.key) {
                    continue;
                }
                let (root, path) = (root.clone(), below(side.base, &file.path));
                all.push(Item { bakehouse, catalogue, formula, root, path });
            }
        }
    }
    all.sort_by(|one, two| {
        (&one.root, &one.formula.name.key, &one.path).cmp(&(
            &two.root,
            &two.formula.name.key,
            &two.path,
        ))
    });
    all
}

/// Each formula with what it was: by bakehouse and name, then by name, then by what it says.
fn paired<'p, 'b, 'l>(old: &'p [Item<'b, 'l>], new: &'p [Item<'b, 'l>]) -> Vec<Pair<'p, 'b, 'l>> {
    let mut pairs = Vec::new();
    let (mut gone, mut come): (Vec<&Item>, Vec<&Item>) =
        (old.iter().collect(), new.iter().collect());
    for by_root in [true, false] {
        let key = |item: &Item| {
            let root = if by_root { item.root.clone() } else { String::new() };
            (root, item.formula.name.key.clone())
        };
        let mut left: BTreeMap<_, Vec<&Item>> = BTreeMap::new();
        come.iter().rev().for_each(|item| left.entry(key(item)).or_default().push(item));
        gone.retain(|item| match left.get_mut(&key(item)).and_then(Vec::pop) {
            Some(partner) => {
                pairs.push((Some(*item), Some(partner)));
                false
            }
            None => true,
        });
        come = left.into_values().flatten().collect();
    }
    come.sort_by(|one, two| {
        (&one.formula.name.key, &one.path).cmp(&(&two.formula.name.key, &two.path))
    });
    renamed(&mut gone, &mut come, &mut pairs);
    pairs.extend(gone.into_iter().map(|item| (Some(item), None)));
    pairs.extend(come.into_iter().map(|item| (None, Some(item))));
    pairs
}

/// Formulas that say nearly the same under another name.
fn renamed<'p, 'b, 'l>(
    gone: &mut Vec<&'p Item<'b, 'l>>,
    come: &mut Vec<&'p Item<'b, 'l>>,
    pairs: &mut Vec<Pair<'p, 'b, 'l>>,
) {
    let said = |item: &&Item| -> BTreeSet<(Block, String, String)> {
        let own = item.catalogue.meaning(item.formula).own;
        let facts = own.facts.all.into_iter();
        let facts = facts.filter(|fact| !matches!(fact.name.as_str(), "name" | "title"));
        facts.map(|fact| (fact.block, fact.name.to_string(), fact.value.canon)).collect()
    };
    let (before, after): (Vec<_>, Vec<_>) =
        (gone.iter().map(said).collect(), come.iter().map(said).collect());
    let (mut taken_old, mut taken_new) = (BTreeSet::new(), BTreeSet::new());
    for (at, to) in rename::alike(&before, &after) {
        taken_old.insert(at);
        taken_new.insert(to);
        pairs.push((gone.get(at).copied(), come.get(to).copied()));
    }
    let mut at = 0;
    gone.retain(|_| {
        at += 1;
        !taken_old.contains(&(at - 1))
    });
    let mut at = 0;
    come.retain(|_| {
        at += 1;
        !taken_new.contains(&(at - 1))
    });
}

/// The document of a formula as it is written; none where it has errors.
fn sheet_of(item: &Item) -> Option<Document> {
    // A claim that is refuted now is no reason not to tell what moved.
    let worked = work(&item.bakehouse.house, item.formula, &mut Vec::new());
    let is_sound = worked.sound && !item.formula.broken;
    is_sound.then(|| document(&item.bakehouse.house, &worked, &Wording::plain(), false))
}

/// What became of a formula.
struct Outcome {
    /// Nothing where all that its prints show is as it was.
    change: Option<FormulaChange>,
    name: String,
    /// The shared things that it was changed or touched by.
    because: Vec<(Kind, String)>,
}

/// The changes of shared things among which formulas changed.
struct Among {
    /// Those of which no print shows anything: prices, and what an oven holds.
    beside: BTreeSet<(&'static str, String)>,
    /// Stages and mixtures with another name: the old key, and the new one.
    renamed: Renamed,
}

impl Among {
    fn of(shared: &[SharedChange]) -> Self {
        let is_beside = |it: &&SharedChange| it.says.iter().any(|says| says.part == BESIDE);
        let beside = shared.iter().filter(is_beside);
        let beside = beside.filter_map(|it| Some((kind_named(&it.kind)?.word(), it.key.clone())));
        let renamed = shared.iter().filter(|it| matches!(it.kind.as_str(), "stage" | "mixture"));
        let renamed = renamed.filter_map(|it| {
            let new = (EcoString::from(&it.key), EcoString::from(&it.name));
            Some((EcoString::from(it.key_before.as_ref()?), new))
        });
        Self { beside: beside.collect(), renamed: renamed.collect() }
    }

    /// The shared things of a formula that changed beside what prints show.
    fn beside(&self, meaning: &Meaning) -> Vec<(Kind, String)> {
        if self.beside.is_empty() {
            return Vec::new();
        }
        let all = meaning.shared.iter().map(|it| (it.kind, it.key.to_string()));
        all.filter(|(kind, key)| self.beside.contains(&(kind.word(), key.clone()))).collect()
    }
}

/// What changed of a formula, and through which shared things.
fn outcome(pair: Pair, among: &Among) -> Option<Outcome> {
    let (old, new) = (pair.0.map(meaning), pair.1.map(meaning));
    let name = pair.1.or(pair.0)?.formula.name.shown.to_string();
    let unchanged = |because: Vec<(Kind, String)>| {
        (!because.is_empty()).then(|| Outcome { change: None, name: name.clone(), because })
    };
    if let (Some(old), Some(new)) = (&old, &new)
        && old.digest == new.digest
    {
        return unchanged(among.beside(new));
    }
    let (before, after) = (pair.0.and_then(sheet_of), pair.1.and_then(sheet_of));
    // What holds for all is no change of those on whose prints it changes nothing.
    if let (Some(old), Some(new)) = (&old, &new)
        && let (Some(before), Some(after)) = (&before, &after)
        && old.named == new.named
        && sheet::is_same(before, after)
    {
        return unchanged(among.beside(new));
    }
    let because = because(old.as_ref(), new.as_ref(), &among.renamed);
    let what = match (&old, &new) {
        (None, _) => What::Added,
        (_, None) => What::Removed,
        _ => What::Changed,
    };
    let mut renamed = among.renamed.clone();
    let says = match (&old, &new) {
        (Some(old), Some(new)) => own_changes(&old.own.facts, &new.own.facts, &mut renamed),
        _ => Vec::new(),
    };
    let mut change = FormulaChange {
        name: name.clone(),
        was: None,
        title: title(pair.1.or(pair.0)?),
        file: pair.1.or(pair.0)?.path.clone(),
        what,
        makes: after.as_ref().or(before.as_ref()).map(|it| it.makes.text.clone()),
        has_errors: pair.0.is_some() && before.is_none() || pair.1.is_some() && after.is_none(),
        figures: Vec::new(),
        contains: Vec::new(),
        contains_no_longer: Vec::new(),
        says: Vec::new(),
        because: because.iter().map(|(kind, key)| format!("{} {key}", kind.word())).collect(),
        sheet: Vec::new(),
        weight: 0,
    };
    if let (Some(old), Some(new)) = pair {
        if old.formula.name.key != new.formula.name.key {
            change.was = Some(old.formula.name.shown.to_string());
        }
        change.says = says;
    }
    if let (Some(before), Some(after)) = (&before, &after) {
        change.figures = figures(before, after, &renamed);
        change.sheet = sheet::changes(before, after, &renamed);
        change.contains = beyond(&after.contains, &before.contains);
        change.contains_no_longer = beyond(&before.contains, &after.contains);
    }
    change.weight = weight(&change);
    Some(Outcome { change: Some(change), name, because })
}

/// What a formula says differently; own stages and mixtures with another name are added to
/// those of the house that have one.
fn own_changes(old: &Facts, new: &Facts, renamed: &mut Renamed) -> Vec<Change> {
    let mut says: Vec<Change> = Vec::new();
    for kind in ["stage", "mixture"] {
        for (was, is) in rename::of_blocks(kind, &rename::applied(&old.all, renamed), &new.all) {
            says.push(Change {
                part: kind.to_owned(),
                of: is.to_string(),
                name: "name".to_owned(),
                old: Some(was.to_string()),
                new: Some(is.to_string()),
            });
            renamed.insert(was, (is.clone(), is));
        }
    }
    says.extend(changes(&rename::applied(&old.all, renamed), &new.all));
    says
}

fn meaning<'b>(item: &Item<'b, '_>) -> Meaning<'b> {
    item.catalogue.meaning(item.formula)
}

fn title(item: &Item) -> String {
    crate::formula::title(item.formula)
}

fn beyond(all: &[String], known: &[String]) -> Vec<String> {
    all.iter().filter(|name| !known.contains(name)).cloned().collect()
}

/// Shared things, and formulas inside, that are not the same for both.
fn because(old: Option<&Meaning>, new: Option<&Meaning>, renamed: &Renamed) -> Vec<(Kind, String)> {
    let (Some(old), Some(new)) = (old, new) else { return Vec::new() };
    fn all<'m>(meaning: &'m Meaning) -> BTreeMap<(Kind, String), &'m Declared> {
        let shared = meaning.shared.iter().copied().chain(&meaning.inner);
        shared.map(|it| ((it.kind, it.key.to_string()), it)).collect()
    }
    let (before, after) = (all(old), all(new));
    let is_new_name = |(_, key): &(Kind, String)| {
        renamed.get(key.as_str()).is_some_and(|(now, _)| after.keys().any(|it| it.1 == *now))
    };
    let keys: BTreeSet<&(Kind, String)> =
        before.keys().filter(|key| !is_new_name(key)).chain(after.keys()).collect();
    let differs = |key: &&&(Kind, String)| match (before.get(**key), after.get(**key)) {
        (Some(one), Some(two)) => !changes(&one.facts.all, &two.facts.all).is_empty(),
        _ => true,
    };
    keys.iter().filter(differs).map(|key| (*key).clone()).collect()
}

/// What two lists of facts say differently.
pub fn changes(old: &[Fact], new: &[Fact]) -> Vec<Change> {
    type Values<'f> = (Vec<&'f super::said::Said>, Vec<&'f super::said::Said>);
    let mut by_name: BTreeMap<(&Block, &str), Values> = BTreeMap::new();
    for fact in old {
        by_name.entry((&fact.block, &fact.name)).or_default().0.push(&fact.value);
    }
    for fact in new {
        by_name.entry((&fact.block, &fact.name)).or_default().1.push(&fact.value);
    }
    let mut all = Vec::new();
    for ((block, name), (mut before, mut after)) in by_name {
        before.retain(|value| match after.iter().position(|it| it.canon == value.canon) {
            Some(at) => {
                after.remove(at);
                false
            }
            None => true,
        });
        before.sort_by(|one, two| one.canon.cmp(&two.canon));
        after.sort_by(|one, two| one.canon.cmp(&two.canon));
        for at in 0..before.len().max(after.len()) {
            let shown = |values: &[&super::said::Said]| values.get(at).map(|it| it.shown.clone());
            all.push(Change {
                part: block.kind.to_owned(),
                of: block.name.to_string(),
                name: name.to_owned(),
                old: shown(&before),
                new: shown(&after),
            });
        }
    }
    // That an order changes where steps come and go says nothing more.
    let steps: BTreeSet<(String, String)> = all
        .iter()
        .filter(|it| it.part == "method" && it.name != ORDER)
        .map(|it| (it.part.clone(), it.of.clone()))
        .collect();
    all.retain(|it| it.name != ORDER || !steps.contains(&(it.part.clone(), it.of.clone())));
    all
}

/// The fact of the order in which steps stand.
const ORDER: &str = "order";

/// A figure's name, by the new name of the stage that it is of.
fn figure_now(name: &str, renamed: &Renamed) -> String {
    let of = renamed.iter().find_map(|(was, (now, _))| {
        let rest = name.strip_prefix(was.as_str())?;
        rest.starts_with(' ').then(|| format!("{now}{rest}"))
    });
    of.unwrap_or_else(|| name.to_owned())
}

/// The figures that two documents do not have alike.
pub fn figures(before: &Document, after: &Document, renamed: &Renamed) -> Vec<FigureChange> {
    let mut names: Vec<String> = after.figures.iter().map(|it| it.name.clone()).collect();
    for figure in &before.figures {
        let name = figure_now(&figure.name, renamed);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let none = Renamed::default();
    let find = |document: &'_ Document, name: &str, renamed: &Renamed| {
        let mut figures = document.figures.iter();
        let found = figures.find(|figure| figure_now(&figure.name, renamed) == name);
        found.map(|it| (it.exact.clone(), it.exact_high.clone(), it.shown.clone(), it.unit.clone()))
    };
    names
        .into_iter()
        .filter_map(|name| {
            let (old, new) = (find(before, &name, renamed), find(after, &name, &none));
            // What moved by less than is shown stays as it is on every print.
            if old.as_ref().map(|it| (&it.2, &it.3)) == new.as_ref().map(|it| (&it.2, &it.3)) {
                return None;
            }
            let (old_exact, new_exact) =
                (old.as_ref().map(|it| it.0.clone()), new.as_ref().map(|it| it.0.clone()));
            let unit = match (&old, &new) {
                // `990 g → 1.1 kg`: each has its own.
                (Some(old), Some(new)) if old.3 != new.3 => String::new(),
                (old, new) => {
                    old.as_ref().or(new.as_ref()).map(|it| it.3.clone()).unwrap_or_default()
                }
            };
            let shown = |it: (_, _, String, String)| match unit.is_empty() {
                true => format!("{} {}", it.2, it.3).trim_end().to_owned(),
                false => it.2,
            };
            Some(FigureChange {
                name,
                old: old.map(shown),
                new: new.map(shown),
                unit: unit.clone(),
                old_exact,
                new_exact,
            })
        })
        .collect()
}

/// How far a number moved, in millionths of the larger one.
fn moved_by(old: Option<&String>, new: Option<&String>) -> u64 {
    const ALL: u64 = 1_000_000;
    let read = |text: Option<&String>| text.and_then(|text| read_exact(text));
    let (Some(old), Some(new)) = (read(old), read(new)) else { return ALL };
    let larger = old.abs().max(new.abs());
    let share = (&old - &new).abs().over(&larger).unwrap_or(Exact::ZERO);
    let millionths = (share * int(1_000_000)).ceil().to_whole().unwrap_or_default();
    u64::try_from(millionths).unwrap_or(ALL).min(ALL)
}

/// How much a change matters: what makes people ill first, then the largest move of a
/// weight or figure, then how much else there is.
fn weight(change: &FormulaChange) -> u64 {
    const ALLERGENS: u64 = 4_000_000_000;
    const ERRORS: u64 = 2_000_000_000;
    let allergens = !(change.contains.is_empty() && change.contains_no_longer.is_empty());
    let figures = change.figures.iter();
    let figures = figures.map(|it| moved_by(it.old_exact.as_ref(), it.new_exact.as_ref()));
    // Words of a sheet have no weight that could move.
    let weighs = |it: &&SheetChange| it.old_grams.is_some() || it.new_grams.is_some();
    let lines = change.sheet.iter().filter(weighs);
    let lines = lines.map(|it| moved_by(it.old_grams.as_ref(), it.new_grams.as_ref()));
    let far = match change.what {
        What::Changed => figures.chain(lines).max().unwrap_or_default(),
        What::Added | What::Removed => 1_000_000,
    };
    let rest = change.says.len().min(900) as u64;
    u64::from(allergens) * ALLERGENS + u64::from(change.has_errors) * ERRORS + far * 1000 + rest
}

fn facts<'d>(declared: Option<&&'d Declared>) -> &'d [Fact] {
    declared.map(|it| it.facts.all.as_slice()).unwrap_or_default()
}

/// What changed of things that formulas share.
fn shared_changes(old: &[Catalogue], new: &[Catalogue]) -> Vec<SharedChange> {
    fn all<'c>(catalogues: &'c [Catalogue]) -> BTreeMap<(Kind, String, usize), &'c Declared> {
        let mut seen: BTreeMap<(Kind, String), usize> = BTreeMap::new();
        let mut found = BTreeMap::new();
        for declared in catalogues.iter().flat_map(Catalogue::shared) {
            let count = seen.entry((declared.kind, declared.key.to_string())).or_default();
            found.insert((declared.kind, declared.key.to_string(), *count), declared);
            *count += 1;
        }
        found
    }
    let (mut before, after) = (all(old), all(new));
    let mut was: BTreeMap<(Kind, String, usize), &Declared> = BTreeMap::new();
    for (old, new) in rename::of_shared(&before, &after) {
        if let Some(declared) = before.remove(&old) {
            before.insert(new.clone(), declared);
            was.insert(new, declared);
        }
    }
    let keys: BTreeSet<&(Kind, String, usize)> = before.keys().chain(after.keys()).collect();
    keys.into_iter()
        .filter_map(|key| {
            let was = was.get(key);
            let (old, new) = (before.get(key), after.get(key));
            let what = match (old, new) {
                (None, _) => What::Added,
                (_, None) => What::Removed,
                _ => What::Changed,
            };
            let says = match what {
                What::Changed => changes(facts(old), facts(new)),
                _ => Vec::new(),
            };
            if what == What::Changed && says.is_empty() && was.is_none() {
                return None;
            }
            Some(SharedChange {
                kind: key.0.word().to_owned(),
                key: key.1.clone(),
                was: was.map(|it| it.shown.to_string()),
                key_before: was.map(|it| it.key.to_string()),
                name: new.or(old)?.shown.to_string(),
                what,
                says,
                touches: Vec::new(),
                spans: old.into_iter().chain(new).map(|it| it.span).collect(),
            })
        })
        .collect()
}
