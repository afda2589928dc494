//! Two states of a bakehouse compared by what they mean.
//!
//! Enters: two sides, each loaded from wherever it stands. Leaves: a [`Comparison`], plain
//! data. A comparison the other way round is its mirror.

use super::brought::{Brought, is_brought};
use super::catalogue::{Catalogue, Meaning, Shared, digest_of, shared_of};
use super::comparison::{
    ChangeKind, ClaimChange, Comparison, Difference, FormulaChange, Moved, SharedChange,
    SheetChange, VERSION,
};
use super::declared::{Declared, DeclaredKind, kind_named, of_tree};
use super::differences::{
    Printed, as_far_as_read, changes, is_read_in_part, moved_by, own_changes, weight_of_figure,
};
use super::facts::{BESIDE, Block, Fact, OF_BASE, UNREADABLE};
use super::rename::{self, Renamed};
use super::revert;
use super::tell;
use crate::desk::Bakehouse;
use crate::desk::handouts::errors_of_handout;
use crate::formula::{House, built_in, key};
use crate::source::{SourceId, Span};
use crate::syntax::tree::{Formula, Makes, Tree};
use ecow::EcoString;
use rayon::prelude::*;
use rustc_hash::FxHashSet;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// One state: its bakehouses, and the folder that its paths are told from.
pub struct ComparedSide<'b, 'l> {
    /// As the desk loaded them.
    pub bakehouses: &'b [Bakehouse<'l>],
    /// The folder above its files.
    pub base: &'b Path,
    /// The formulas that are compared, by key; all where there are none.
    pub only: Option<&'b str>,
    /// A yield for which one formula, by its key, is compared in place of its own.
    pub makes: Option<(&'b str, &'b Makes)>,
    /// What each bakehouse brings to its prints, in their order; nothing where there are none.
    pub brought: &'b [Brought],
}

impl ComparedSide<'_, '_> {
    /// Whether the file that a place lies in was asked for.
    fn asks_for(&self, place: Span) -> bool {
        let files = self.bakehouses.iter().flat_map(|bakehouse| &bakehouse.files);
        files.into_iter().any(|file| file.source == place.source && file.is_asked_for())
    }
}

/// A formula of a side.
struct FormulaOfSide<'b, 'l> {
    bakehouse: &'b Bakehouse<'l>,
    catalogue: &'b Catalogue<'l>,
    formula: &'l Formula,
    /// The yield that it is looked at for, where that is not its own.
    makes: Option<&'b Makes>,
    /// The folder of its bakehouse, and its file, below the side's.
    root: String,
    path: String,
}

/// A formula before and after; one of them at least.
type Pair<'p, 'b, 'l> = (Option<&'p FormulaOfSide<'b, 'l>>, Option<&'p FormulaOfSide<'b, 'l>>);

/// What changed from one side to the other; the files with some sources say the same on both.
pub fn compare_beside(
    old: &ComparedSide,
    new: &ComparedSide,
    same: &FxHashSet<SourceId>,
) -> Comparison {
    let (old_shared, new_shared) = (shared_in(old), shared_in(new));
    let (old_names, new_names) = (catalogues(old, &old_shared), catalogues(new, &new_shared));
    // What one side is asked about is looked for on the other as well: what a day did not order
    // before is no new formula, and what moved between files is not gone.
    let (old_asked, new_asked) = (asked_of(old, &old_names), asked_of(new, &new_names));
    let is_one_place = old.base == new.base;
    let all = |asked: &AskedKeys| match is_one_place {
        true => asked.printed.union(&asked.in_files).cloned().collect(),
        false => asked.printed.clone(),
    };
    let also: FxHashSet<EcoString> = all(&old_asked).union(&all(&new_asked)).cloned().collect();
    let (old_items, new_items) = (items(old, &old_names, &also), items(new, &new_names, &also));
    let pairs = match (old.only, new.only) {
        (Some(_), Some(_)) => vec![(old_items.first(), new_items.first())],
        _ => paired(&old_items, &new_items),
    };
    let called_anew = pairs.iter().filter_map(|(before, after)| {
        let (was, is) = (&(*before)?.formula.name, &(*after)?.formula.name);
        let is_asked_for = old.only.is_some() || was.key == is.key;
        (!is_asked_for).then(|| (was.key.clone(), (is.key.clone(), is.shown.clone())))
    });
    let mut shared = shared_changes(&old_names, &new_names, called_anew.collect());
    errors_of_handouts((old, &old_names), (new, &new_names), &mut shared);
    let among = Among::of(&shared);
    let quiet = Quiet::of((old, &old_shared), (new, &new_shared), same);
    let mut outcomes: Vec<Outcome> = pairs
        .par_iter()
        .filter_map(|pair| match quiet.is_as_it_was(pair) {
            true => None,
            false => outcome(*pair, pair.1.map(meaning), &among),
        })
        .collect();
    for change in shared.iter().filter(|it| revert::is_for_all(&it.kind)) {
        attributed(change, old, new, &new_items, &mut outcomes);
    }
    let mut handouts = handouts(&old_names, &new_names);
    for handout in &mut handouts {
        handout.is_asked =
            handout.spans.iter().any(|span| old.asks_for(*span) || new.asks_for(*span));
    }
    let mut is_asked: Vec<bool> = Vec::new();
    for change in &mut shared {
        let touched = outcomes.iter().filter(|outcome| {
            let mut because = outcome.because.iter();
            because.any(|(kind, key)| kind.word() == change.kind && *key == change.key)
        });
        change.touches = touched.map(|outcome| outcome.name.clone()).collect();
        change.touches.sort();
        let asked = change.spans.iter().any(|span| old.asks_for(*span) || new.asks_for(*span));
        // What stands in another file is told for what was asked about alone.
        let told_in = handouts.iter().filter(|it| (asked || it.is_asked) && it.tells(change));
        change.touches.extend(told_in.map(Handout::said).collect::<Vec<_>>());
        change.is_elsewhere = !asked;
        is_asked.push(asked || !change.touches.is_empty());
    }
    let mut is_asked = is_asked.into_iter();
    shared.retain(|_| is_asked.next().unwrap_or(true));
    let mut formulas: Vec<FormulaChange> =
        outcomes.into_iter().filter_map(|outcome| outcome.change).collect();
    for formula in &mut formulas {
        let is_in = |it: &&Handout| {
            let mut names = std::iter::once(&formula.name).chain(&formula.was);
            names.any(|name| it.formulas.contains(&key(name)))
        };
        formula.printed_in = handouts.iter().filter(is_in).map(Handout::said).collect();
    }
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
    Comparison { version: VERSION, formulas, shared, days: Vec::new(), moved }
}

/// What can't have touched a formula whose file says what it said.
struct Quiet<'s> {
    /// Files that say the same on both sides.
    same: &'s FxHashSet<SourceId>,
    /// The names of all that may be something else than before; none where all may be.
    changed: Option<FxHashSet<EcoString>>,
    /// Whether names came or went, so that what says the same may mean something else.
    renames: bool,
}

impl<'s> Quiet<'s> {
    fn of(
        (old, old_shared): (&ComparedSide, &[Vec<Shared>]),
        (new, new_shared): (&ComparedSide, &[Vec<Shared>]),
        same: &'s FxHashSet<SourceId>,
    ) -> Self {
        let everything = Self { same, changed: None, renames: true };
        let roots = |side: &ComparedSide| -> Vec<Option<PathBuf>> {
            side.bakehouses.iter().map(|it| it.root.clone()).collect()
        };
        if same.is_empty() || old.only.is_some() || roots(old) != roots(new) {
            return everything;
        }
        let mut changed: FxHashSet<EcoString> = FxHashSet::default();
        let mut renames = false;
        for (before, after) in old_shared.iter().zip(new_shared) {
            let all = |files: &'_ [Shared]| -> Vec<Declared> {
                let all = files.iter().flatten().map(|(declared, _)| declared);
                all.filter(|it| !it.kind.is_handout()).cloned().collect()
            };
            let (before, after) = (all(before), all(after));
            let differs = |one: &&Declared, others: &[Declared]| {
                let alike = |it: &Declared| {
                    it.kind == one.kind
                        && it.key == one.key
                        && it.also == one.also
                        && it.facts.all == one.facts.all
                };
                !others.iter().any(alike)
            };
            let names = |all: &[Declared]| -> BTreeSet<(DeclaredKind, EcoString, Vec<EcoString>)> {
                all.iter().map(|it| (it.kind, it.key.clone(), it.also.clone())).collect()
            };
            renames |= names(&before) != names(&after);
            let gone = before.iter().filter(|it| differs(it, &after));
            let come = after.iter().filter(|it| differs(it, &before));
            for declared in gone.chain(come) {
                if matches!(
                    declared.kind,
                    DeclaredKind::House | DeclaredKind::Mixer | DeclaredKind::Oven
                ) {
                    return everything;
                }
                changed.insert(declared.key.clone());
                changed.extend(declared.also.iter().cloned());
            }
        }
        let formulas = |side: &ComparedSide| -> BTreeSet<EcoString> {
            let files = side.bakehouses.iter().flat_map(|it| &it.files);
            let files = files.filter(|file| !same.contains(&file.source));
            files.flat_map(|file| &file.tree.formulas).map(|it| it.name.key.clone()).collect()
        };
        let (before, after) = (formulas(old), formulas(new));
        renames |= before != after;
        changed.extend(before.into_iter().chain(after));
        Self { same, changed: Some(changed), renames }
    }

    /// Whether a formula and all that it rests on are as they were.
    fn is_as_it_was(&self, pair: &Pair) -> bool {
        let (Some(changed), Some(old), Some(new)) = (&self.changed, pair.0, pair.1) else {
            return false;
        };
        let source = |item: &FormulaOfSide| item.formula.name.span.source;
        let rests_on_none =
            |item: &FormulaOfSide| item.catalogue.keys(item.formula).is_disjoint(changed);
        source(old) == source(new)
            && self.same.contains(&source(new))
            && old.formula.name.span == new.formula.name.span
            && (changed.is_empty() || rests_on_none(new) && (!self.renames || rests_on_none(old)))
    }
}

/// A booklet or a day, with what of it is another than before.
struct Handout {
    kind: DeclaredKind,
    shown: String,
    /// The keys of the formulas in it, on either side.
    formulas: BTreeSet<EcoString>,
    /// Shared things in it that changed.
    because: Vec<(DeclaredKind, String)>,
    /// Where it stands, on both sides.
    spans: Vec<Span>,
    /// Whether the file that it stands in was asked for.
    is_asked: bool,
}

impl Handout {
    fn said(&self) -> String {
        format!("{} {}", self.kind.word(), self.shown)
    }

    /// Whether a change of something shared is told in it; what things cost is not.
    fn tells(&self, change: &SharedChange) -> bool {
        let is_it =
            |(kind, key): &(DeclaredKind, String)| kind.word() == change.kind && *key == change.key;
        let is_beside = change.says.iter().all(|says| says.part == BESIDE);
        self.because.iter().any(is_it) && (change.says.is_empty() || !is_beside)
    }
}

/// Adds the errors that booklets and days have on one side alone.
fn errors_of_handouts(
    (old, old_names): (&ComparedSide, &[Catalogue]),
    (new, new_names): (&ComparedSide, &[Catalogue]),
    shared: &mut Vec<SharedChange>,
) {
    let (before, after) = (told_of_handouts(old, old_names), told_of_handouts(new, new_names));
    let keys: BTreeSet<&(DeclaredKind, EcoString)> = before.keys().chain(after.keys()).collect();
    for key in keys {
        let said = |all: &ErrorsOfHandouts| all.get(key).map(|it| it.errors.clone());
        let (was, is) = (said(&before).unwrap_or_default(), said(&after).unwrap_or_default());
        let without = |all: &[String], others: &[String]| -> Vec<String> {
            all.iter().filter(|it| !others.contains(it)).cloned().collect()
        };
        let (errors, errors_no_longer) = (without(&is, &was), without(&was, &is));
        if errors.is_empty() && errors_no_longer.is_empty() {
            continue;
        }
        let is_it = |it: &&mut SharedChange| it.kind == key.0.word() && it.key == key.1.as_str();
        if let Some(known) = shared.iter_mut().find(is_it) {
            (known.errors, known.errors_no_longer) = (errors, errors_no_longer);
            continue;
        }
        // It says what it said: a formula that it names is gone, or something of the kind.
        let sides = [before.get(key), after.get(key)];
        let Some(shown) = sides.iter().flatten().map(|it| it.shown.clone()).next_back() else {
            continue;
        };
        shared.push(SharedChange {
            kind: key.0.word().to_owned(),
            key: key.1.to_string(),
            was: None,
            key_before: None,
            name: shown,
            what: ChangeKind::Changed,
            says: Vec::new(),
            errors,
            errors_no_longer,
            touches: Vec::new(),
            is_elsewhere: false,
            spans: sides.into_iter().flatten().map(|it| it.span).collect(),
        });
    }
}

/// What is wrong with a booklet or a day.
struct ErrorsOfHandout {
    shown: String,
    span: Span,
    errors: Vec<String>,
}

type ErrorsOfHandouts = BTreeMap<(DeclaredKind, EcoString), ErrorsOfHandout>;

fn told_of_handouts(side: &ComparedSide, catalogues: &[Catalogue]) -> ErrorsOfHandouts {
    let mut all = ErrorsOfHandouts::new();
    for (bakehouse, catalogue) in side.bakehouses.iter().zip(catalogues) {
        for own in catalogue.handouts() {
            let errors = errors_of_handout(bakehouse, own.span);
            let told = ErrorsOfHandout { shown: own.shown.to_string(), span: own.span, errors };
            all.insert((own.kind, own.key.clone()), told);
        }
    }
    all
}

/// The booklets and days of both sides.
fn handouts(old: &[Catalogue], new: &[Catalogue]) -> Vec<Handout> {
    fn all<'c>(
        catalogues: &'c [Catalogue],
    ) -> BTreeMap<(DeclaredKind, &'c EcoString), Meaning<'c>> {
        let all = catalogues.iter().flat_map(|it| it.handouts().map(move |own| (it, own)));
        all.filter_map(|(catalogue, own)| {
            Some(((own.kind, &own.key), catalogue.meaning_of_handout(&own.key)?))
        })
        .collect()
    }
    let (before, after) = (all(old), all(new));
    let keys: BTreeSet<&(DeclaredKind, &EcoString)> = before.keys().chain(after.keys()).collect();
    let handout = |key: &(DeclaredKind, &EcoString)| {
        let sides = [before.get(key), after.get(key)];
        let because = because(sides[0], sides[1], &Renamed::default());
        // What only the next day bakes is in it where it changes what is made for that day.
        let is_in = |meaning: &Meaning, formula: &EcoString| {
            let changed = (DeclaredKind::Formula, formula.to_string());
            !meaning.later.contains(formula) || because.contains(&changed)
        };
        let inner = || {
            let sides = sides.into_iter().flatten();
            sides.flat_map(|it| it.inner.iter().filter(|part| is_in(it, &part.key)))
        };
        Handout {
            kind: key.0,
            shown: sides
                .into_iter()
                .flatten()
                .map(|it| it.own.shown.to_string())
                .next_back()
                .unwrap_or_default(),
            formulas: inner().map(|formula| formula.key.clone()).collect(),
            because: because.clone(),
            spans: sides.into_iter().flatten().map(|it| it.own.span).collect(),
            is_asked: false,
        }
    };
    keys.into_iter().map(handout).collect()
}

/// Two formulas that were asked for by name: neither was called like the other before.
fn beside_each_other(formula: &mut FormulaChange) {
    if let Some(was) = formula.was.take() {
        formula.name = format!("{was} → {}", formula.name);
    }
}

/// The declarations of each file of each bakehouse.
fn shared_in(side: &ComparedSide) -> Vec<Vec<Shared>> {
    let of = |(place, bakehouse): (usize, &Bakehouse)| {
        let mut shared: Vec<Shared> =
            bakehouse.files.iter().map(|file| shared_of(&file.tree)).collect();
        side.brought.get(place).iter().for_each(|brought| brought.tell(&mut shared));
        shared
    };
    side.bakehouses.iter().enumerate().map(of).collect()
}

fn catalogues<'s>(side: &ComparedSide<'_, 's>, shared: &'s [Vec<Shared>]) -> Vec<Catalogue<'s>> {
    let of = |(bakehouse, shared): (&Bakehouse<'s>, &'s Vec<Shared>)| {
        Catalogue::of(bakehouse.files.iter().map(|file| &file.tree).zip(shared))
    };
    side.bakehouses.iter().zip(shared).map(of).collect()
}

/// The names by which something shared is taken: its own, and others that mean it.
fn names_of(declared: &Declared) -> Vec<EcoString> {
    match declared.kind.is_handout() {
        true => Vec::new(),
        false => std::iter::once(&declared.key).chain(&declared.also).cloned().collect(),
    }
}

/// A path below another, with `/` between its parts on every machine.
fn below(base: &Path, path: &Path) -> String {
    // Beside a file that was asked for by itself stand the others of its folder.
    let beside = base.parent().and_then(|folder| path.strip_prefix(folder).ok());
    let below = path.strip_prefix(base).ok().or(beside).unwrap_or(path);
    // A file that was asked for by itself is told by its name.
    let file = || Path::new(path.file_name().unwrap_or_default());
    let path = if below.as_os_str().is_empty() { file() } else { below };
    let parts: Vec<_> = path.iter().map(|part| part.to_string_lossy()).collect();
    parts.join("/")
}

/// The formulas that a side is asked about, by their keys.
struct AskedKeys {
    /// Those that take something shared that was asked for, or are printed in a booklet or a day.
    printed: FxHashSet<EcoString>,
    /// Those of the files that were asked for.
    in_files: FxHashSet<EcoString>,
}

fn asked_of(side: &ComparedSide, catalogues: &[Catalogue]) -> AskedKeys {
    let mut keys = AskedKeys { printed: FxHashSet::default(), in_files: FxHashSet::default() };
    for (bakehouse, catalogue) in side.bakehouses.iter().zip(catalogues) {
        // Where all is asked for, nothing of it is left to be found.
        if bakehouse.files.iter().all(|it| it.is_asked_for()) {
            continue;
        }
        let trees = || bakehouse.files.iter().filter(|it| it.is_asked_for()).map(|it| &it.tree);
        // Where something shared was asked for, so are those that use it.
        let shares = trees().any(|tree| !tree.bakehouses.is_empty() || !tree.machines.is_empty());
        let shared: FxHashSet<EcoString> = match shares {
            true => FxHashSet::default(),
            false => trees().flat_map(of_tree).flat_map(|it| names_of(&it)).collect(),
        };
        // Of a booklet or a day those that it prints.
        let asked = |span: Span| {
            bakehouse.files.iter().any(|file| file.source == span.source && file.is_asked_for())
        };
        let handouts = catalogue.handouts().filter(|it| asked(it.span));
        let printed = handouts.filter_map(|it| catalogue.meaning_of_handout(&it.key));
        keys.printed.extend(printed.flat_map(|it| {
            let inner = it.inner.iter().map(|part| part.key.clone());
            inner.filter(|key| !it.later.contains(key)).collect::<Vec<_>>()
        }));
        for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
            if shares || !catalogue.keys(formula).is_disjoint(&shared) {
                keys.printed.insert(formula.name.key.clone());
            }
        }
        keys.in_files.extend(trees().flat_map(|it| &it.formulas).map(|it| it.name.key.clone()));
    }
    keys
}

/// The formulas of the files that were asked for, and those of some keys.
fn items<'b, 'l>(
    side: &ComparedSide<'b, 'l>,
    catalogues: &'b [Catalogue<'l>],
    also: &FxHashSet<EcoString>,
) -> Vec<FormulaOfSide<'b, 'l>> {
    let mut all = Vec::new();
    for (bakehouse, catalogue) in side.bakehouses.iter().zip(catalogues) {
        let root = bakehouse.root.as_ref().map(|root| below(side.base, root)).unwrap_or_default();
        for file in bakehouse.files.iter().copied() {
            for formula in &file.tree.formulas {
                if !(file.is_asked_for() || also.contains(&formula.name.key)) {
                    continue;
                }
                if side.only.is_some_and(|only| only != formula.name.key) {
                    continue;
                }
                let (root, path) = (root.clone(), below(side.base, &file.path));
                let makes = side.makes.filter(|(key, _)| *key == formula.name.key);
                let makes = makes.map(|(_, makes)| makes);
                all.push(FormulaOfSide { bakehouse, catalogue, formula, makes, root, path });
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

/// Each formula with what it was: by file and name, by bakehouse and name, then by name, then by
/// what it says.
fn paired<'p, 'b, 'l>(
    old: &'p [FormulaOfSide<'b, 'l>],
    new: &'p [FormulaOfSide<'b, 'l>],
) -> Vec<Pair<'p, 'b, 'l>> {
    let mut pairs = Vec::new();
    let (mut gone, mut come): (Vec<&FormulaOfSide>, Vec<&FormulaOfSide>) =
        (old.iter().collect(), new.iter().collect());
    for (by_path, by_root) in [(true, true), (false, true), (false, false)] {
        let key = |item: &FormulaOfSide| {
            let path = if by_path { item.path.clone() } else { String::new() };
            let root = if by_root { item.root.clone() } else { String::new() };
            (path, root, item.formula.name.key.clone())
        };
        let mut left: BTreeMap<_, Vec<&FormulaOfSide>> = BTreeMap::new();
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
    gone: &mut Vec<&'p FormulaOfSide<'b, 'l>>,
    come: &mut Vec<&'p FormulaOfSide<'b, 'l>>,
    pairs: &mut Vec<Pair<'p, 'b, 'l>>,
) {
    let said = |item: &&FormulaOfSide| -> BTreeSet<(Block, String, String)> {
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

/// Leaves a change that holds for all out of what a formula changed by, where its prints would
/// be what they are without it.
fn attributed(
    change: &SharedChange,
    old: &ComparedSide,
    new: &ComparedSide,
    items: &[FormulaOfSide],
    outcomes: &mut [Outcome],
) {
    let is_it =
        |(kind, key): &(DeclaredKind, String)| kind.word() == change.kind && *key == change.key;
    let is_one_of_several = |it: &Outcome| {
        let others =
            it.because.len() > 1 || it.change.as_ref().is_some_and(|it| !it.says.is_empty());
        it.change.is_some() && others && it.because.iter().any(is_it)
    };
    if !outcomes.iter().any(is_one_of_several) {
        return;
    }
    for bakehouse in new.bakehouses {
        let root = |side: &ComparedSide, it: &Bakehouse| {
            it.root.as_ref().map(|root| below(side.base, root))
        };
        let own = root(new, bakehouse);
        let mut before = old.bakehouses.iter().filter(|it| root(old, it) == own);
        let Some(before) = before.next().or(old.bakehouses.first()) else { continue };
        let Some(trees) = revert::trees(change, before, bakehouse) else { continue };
        let trees: Vec<&Tree> = trees.iter().map(|tree| &**tree).collect();
        let house = House::build(Some(built_in()), &trees, &mut Vec::new());
        outcomes.par_iter_mut().filter(|it| is_one_of_several(it)).for_each(|outcome| {
            let of_it = |it: &&FormulaOfSide| {
                std::ptr::eq(it.bakehouse, bakehouse) && it.formula.name.shown == *outcome.name
            };
            let Some(item) = items.iter().find(of_it) else { return };
            let without = Printed::of(&house, item.formula, item.makes).zip(printed(item));
            let is_same = without.is_some_and(|(one, two)| one.is_same(&two));
            if is_same {
                outcome.because.retain(|it| !is_it(it));
                let said = format!("{} {}", change.kind, change.key);
                outcome.change.iter_mut().for_each(|it| it.because.retain(|it| *it != said));
            }
        });
    }
}

/// What a house says of how its prints look.
type Look<'l> = BTreeMap<&'l str, Vec<&'l str>>;

/// The key of the house itself among what is declared.
const HOUSE: &str = "bakehouse";

fn look_of<'l>(item: &FormulaOfSide<'_, 'l>) -> Look<'l> {
    item.catalogue.look()
}

fn on_paper(item: &FormulaOfSide) -> Option<Printed> {
    Printed::of_paper(&item.bakehouse.house, item.formula, item.makes)
}

fn printed(item: &FormulaOfSide) -> Option<Printed> {
    Printed::of(&item.bakehouse.house, item.formula, item.makes)
}

/// What became of a formula.
struct Outcome {
    /// Nothing where all that its prints show is as it was.
    change: Option<FormulaChange>,
    name: String,
    /// The shared things that it was changed or touched by.
    because: Vec<(DeclaredKind, String)>,
}

/// The changes of shared things among which formulas changed.
struct Among {
    /// Those of which no print shows anything: prices, and what an oven holds.
    beside: BTreeSet<(&'static str, String)>,
    /// Those of them of which nothing else changed.
    only_beside: BTreeSet<(&'static str, String)>,
    /// Things with another name: the old key, and the new one.
    renamed: Renamed,
}

impl Among {
    fn of(shared: &[SharedChange]) -> Self {
        let is_beside = |it: &&SharedChange| it.says.iter().any(|says| says.part == BESIDE);
        let is_alone = |it: &&SharedChange| it.says.iter().all(|says| says.part == BESIDE);
        let named = |it: &SharedChange| Some((kind_named(&it.kind)?.word(), it.key.clone()));
        let beside = shared.iter().filter(is_beside).filter_map(named);
        let only_beside = shared.iter().filter(is_beside).filter(is_alone).filter_map(named);
        let renamed = shared.iter().filter_map(|it| {
            let new = (EcoString::from(&it.key), EcoString::from(&it.name));
            Some((EcoString::from(it.key_before.as_ref()?), new))
        });
        Self {
            beside: beside.collect(),
            only_beside: only_beside.collect(),
            renamed: renamed.collect(),
        }
    }

    /// Whether nothing of a shared thing changed that a print shows.
    fn is_only_beside(&self, (kind, key): &(DeclaredKind, String)) -> bool {
        self.only_beside.contains(&(kind.word(), key.clone()))
    }

    /// The shared things of a formula that changed beside what prints show.
    fn beside(&self, meaning: &Meaning) -> Vec<(DeclaredKind, String)> {
        if self.beside.is_empty() {
            return Vec::new();
        }
        let all = meaning.shared.iter().map(|it| (it.kind, it.key.to_string()));
        all.filter(|(kind, key)| self.beside.contains(&(kind.word(), key.clone()))).collect()
    }
}

/// Whether what two meanings of one text rest on differs by settings and machines alone, which
/// matter where they change a print and nowhere else.
fn differ_for_all_alone(old: &Meaning, new: &Meaning) -> bool {
    let differs = because(Some(old), Some(new), &Renamed::default());
    differs.iter().all(|(kind, _)| revert::is_for_all(kind.word()))
}

/// What changed of a formula that means that now, and through which shared things.
fn outcome(pair: Pair, new: Option<Meaning>, among: &Among) -> Option<Outcome> {
    let old = pair.0.map(meaning);
    let name = pair.1.or(pair.0)?.formula.name.shown.to_string();
    let unchanged = |because: Vec<(DeclaredKind, String)>| {
        (!because.is_empty()).then(|| Outcome { change: None, name: name.clone(), because })
    };
    let (was, is) = (pair.0.map(look_of), pair.1.map(look_of));
    if let (Some(old), Some(new)) = (&old, &new)
        && old.digest == new.digest
        && was == is
    {
        return unchanged(among.beside(new));
    }
    let (mut before, mut after) = (pair.0.and_then(on_paper), pair.1.and_then(on_paper));
    let has_same = |(one, two): (&Printed, &Printed)| one.has_the_figures_of(two);
    if !before.as_ref().zip(after.as_ref()).is_none_or(has_same) {
        (before, after) = (pair.0.and_then(printed), pair.1.and_then(printed));
    }
    // What holds for all is no change of those on whose prints it changes nothing.
    if let (Some(old), Some(new)) = (&old, &new)
        && let (Some(before), Some(after)) = (&before, &after)
        && digest_of(&old.own) == digest_of(&new.own)
    {
        let mut because = among.beside(new);
        let is_same = before.is_same(after);
        let differs = |word: &str| {
            let (was, is) =
                (was.as_ref().map(|it| it.get(word)), is.as_ref().map(|it| it.get(word)));
            was != is
        };
        // Other words stand on every print, and plans keep to other hours.
        let mut words = was.iter().chain(&is).flat_map(|look| look.keys());
        let in_other_words = ["language", "second language", "codes"].into_iter().any(differs)
            || words.any(|word| is_brought(word) && differs(word));
        let is_planned = after.document.timeline.is_some();
        let in_other_hours = is_planned && ["hours", "zone"].into_iter().any(differs);
        if old.digest == new.digest && !is_same || in_other_words || in_other_hours {
            because.push((DeclaredKind::House, HOUSE.to_owned()));
        }
        if !is_same || old.named != new.named {
            // A print may show the same weight with another digit, and what it rests on may be
            // another without a trace on paper.
            because.extend(self::because(Some(old), Some(new), &among.renamed));
        }
        // No line tells the rest of what holds for all, such as other words.
        let is_for_all = old.named == new.named || differ_for_all_alone(old, new);
        let differs = || Difference::between(before, after, &Renamed::default());
        if is_same || is_for_all && differs() == Difference::default() {
            return unchanged(because);
        }
    }
    let because = because(old.as_ref(), new.as_ref(), &among.renamed);
    let what = match (&old, &new) {
        (None, _) => ChangeKind::Added,
        (_, None) => ChangeKind::Removed,
        _ => ChangeKind::Changed,
    };
    let mut renamed = among.renamed.clone();
    let says = match (&old, &new) {
        (Some(old), Some(new)) => own_changes(&old.own.facts, &new.own.facts, &mut renamed),
        _ => Vec::new(),
    };
    let difference = match (&before, &after) {
        (Some(before), Some(after)) => Difference::between(before, after, &renamed),
        (Some(before), None) if what == ChangeKind::Removed => {
            Difference { claims: before.claims_alone(false), ..Difference::default() }
        }
        (None, Some(after)) if what == ChangeKind::Added => {
            Difference { claims: after.claims_alone(true), ..Difference::default() }
        }
        _ => Difference::default(),
    };
    let mut change = FormulaChange {
        name: name.clone(),
        was: None,
        title: title(pair.1.or(pair.0)?),
        file: pair.1.or(pair.0)?.path.clone(),
        what,
        makes: after.as_ref().or(before.as_ref()).map(|it| it.document.makes.text.clone()),
        has_errors: pair.0.is_some() && before.is_none() || pair.1.is_some() && after.is_none(),
        differs: difference,
        says: Vec::new(),
        because: because
            .iter()
            .filter(|it| !among.is_only_beside(it))
            .map(|(kind, key)| format!("{} {key}", kind.word()))
            .collect(),
        printed_in: Vec::new(),
        weight: 0,
    };
    if let (Some(old), Some(new)) = pair {
        if old.formula.name.key != new.formula.name.key {
            change.was = Some(old.formula.name.shown.to_string());
        }
        change.says = says;
        for it in change.says.iter_mut().filter(|it| it.name == UNREADABLE) {
            let of_base = |item: &FormulaOfSide, told: &mut Option<String>| {
                let base = item.formula.from.as_ref().filter(|_| !item.formula.broken);
                if let (Some(base), Some(told)) = (base, told) {
                    *told = format!("{OF_BASE}{}", base.shown);
                }
            };
            of_base(old, &mut it.old);
            of_base(new, &mut it.new);
        }
    }
    change.weight = weight(&change);
    Some(Outcome { change: Some(change), name, because })
}

fn meaning<'b>(item: &FormulaOfSide<'b, '_>) -> Meaning<'b> {
    item.catalogue.meaning(item.formula)
}

fn title(item: &FormulaOfSide) -> String {
    crate::formula::title(item.formula)
}

/// Shared things, and formulas inside, that are not the same for both.
fn because(
    old: Option<&Meaning>,
    new: Option<&Meaning>,
    renamed: &Renamed,
) -> Vec<(DeclaredKind, String)> {
    let (Some(old), Some(new)) = (old, new) else { return Vec::new() };
    fn all<'m>(meaning: &'m Meaning) -> BTreeMap<(DeclaredKind, String), &'m Declared> {
        let shared = meaning.shared.iter().copied().chain(&meaning.inner);
        shared.map(|it| ((it.kind, it.key.to_string()), it)).collect()
    }
    let (before, after) = (all(old), all(new));
    let is_new_name = |(_, key): &(DeclaredKind, String)| {
        renamed.get(key.as_str()).is_some_and(|(now, _)| after.keys().any(|it| it.1 == *now))
    };
    let keys: BTreeSet<&(DeclaredKind, String)> =
        before.keys().filter(|key| !is_new_name(key)).chain(after.keys()).collect();
    // What one side does not name may be named in the part of it that can't be read.
    let in_part = |meaning: &Meaning| is_read_in_part(&meaning.own.facts.all);
    let (old_in_part, new_in_part) = (in_part(old), in_part(new));
    let differs = |key: &&&(DeclaredKind, String)| match (before.get(**key), after.get(**key)) {
        (Some(one), Some(two)) => !changes(&one.facts.all, &two.facts.all).is_empty(),
        (Some(_), None) => !new_in_part,
        _ => !old_in_part,
    };
    keys.iter().filter(differs).map(|key| (*key).clone()).collect()
}

/// How much a change matters: what makes people ill first, then a claim that broke, then the
/// largest move of a weight, a figure or a statement, then how much else there is.
fn weight(change: &FormulaChange) -> u64 {
    const ALLERGENS: u64 = 8_000_000_000;
    const CLAIMS: u64 = 4_000_000_000;
    const ERRORS: u64 = 2_000_000_000;
    const MOST: usize = 900;
    let allergens = [
        &change.differs.contains,
        &change.differs.contains_no_longer,
        &change.differs.may_contain,
        &change.differs.may_contain_no_longer,
        &change.differs.contains_unknown,
        &change.differs.contains_unknown_no_longer,
    ];
    let allergens = allergens.iter().any(|names| !names.is_empty());
    let claims = change.differs.claims.iter().any(ClaimChange::is_broken)
        || !change.differs.errors.is_empty();
    let figures = change.differs.figures.iter().map(weight_of_figure);
    // Words of a sheet have no weight that could move.
    let weighs = |it: &&SheetChange| it.old_grams.is_some() || it.new_grams.is_some();
    let lines = change.differs.sheet.iter().filter(weighs);
    let lines = lines.map(|it| moved_by(it.old_grams.as_ref(), it.new_grams.as_ref()));
    let says = change.says.iter().map(tell::weight_of);
    let far = match change.what {
        ChangeKind::Changed => figures.chain(lines).chain(says).max().unwrap_or_default(),
        ChangeKind::Added | ChangeKind::Removed => 1_000_000,
    };
    let rest = (change.says.len() + change.differs.sheet.len()).min(MOST) as u64;
    u64::from(allergens) * ALLERGENS
        + u64::from(claims) * CLAIMS
        + u64::from(change.has_errors) * ERRORS
        + far * 1000
        + rest
}

fn facts<'d>(declared: Option<&&'d Declared>) -> &'d [Fact] {
    declared.map(|it| it.facts.all.as_slice()).unwrap_or_default()
}

/// What changed of things that formulas share.
/// `renamed` are formulas that have other names, which days order by them.
fn shared_changes(old: &[Catalogue], new: &[Catalogue], mut renamed: Renamed) -> Vec<SharedChange> {
    fn all<'c>(
        catalogues: &'c [Catalogue],
    ) -> BTreeMap<(DeclaredKind, String, usize), &'c Declared> {
        let mut seen: BTreeMap<(DeclaredKind, String), usize> = BTreeMap::new();
        let mut found = BTreeMap::new();
        for declared in catalogues.iter().flat_map(Catalogue::shared) {
            let count = seen.entry((declared.kind, declared.key.to_string())).or_default();
            found.insert((declared.kind, declared.key.to_string(), *count), declared);
            *count += 1;
        }
        found
    }
    let (mut before, after) = (all(old), all(new));
    let mut was: BTreeMap<(DeclaredKind, String, usize), &Declared> = BTreeMap::new();
    for (old, new) in rename::of_shared(&before, &after) {
        if let Some(declared) = before.remove(&old) {
            let now = after.get(&new).map(|it| (it.key.clone(), it.shown.clone()));
            renamed.extend(now.map(|now| (declared.key.clone(), now)));
            before.insert(new.clone(), declared);
            was.insert(new, declared);
        }
    }
    let keys: BTreeSet<&(DeclaredKind, String, usize)> =
        before.keys().chain(after.keys()).collect();
    keys.into_iter()
        .filter_map(|key| {
            let was = was.get(key);
            let (old, new) = (before.get(key), after.get(key));
            let what = match (old, new) {
                (None, _) => ChangeKind::Added,
                (_, None) => ChangeKind::Removed,
                _ => ChangeKind::Changed,
            };
            let says = match what {
                // What it holds may have another name too.
                ChangeKind::Changed => {
                    let before = rename::applied(facts(old), &renamed);
                    let mut says = changes(&before, facts(new));
                    as_far_as_read(&before, facts(new), &mut says);
                    says
                }
                _ => Vec::new(),
            };
            if what == ChangeKind::Changed && says.is_empty() && was.is_none() {
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
                errors: Vec::new(),
                errors_no_longer: Vec::new(),
                touches: Vec::new(),
                is_elsewhere: false,
                spans: old.into_iter().chain(new).map(|it| it.span).collect(),
            })
        })
        .collect()
}
