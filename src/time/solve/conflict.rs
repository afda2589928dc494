//! Why a puzzle has no plan: a smallest set of parts that cannot hold together.
//!
//! Enters: a puzzle without a plan. Leaves: a [`Conflict`]. A set cannot hold together exactly
//! if it takes something from each repair, where a repair is a set of parts without which the
//! rest holds. So the smallest set that takes something from each repair known so far is either
//! a conflict, and then none is smaller, or holds and can be grown into what one more repair
//! leaves. Parts that have one name are chosen or left together: whoever reads of a conflict reads
//! names. Deliberately absent: what the names are.

use std::collections::BTreeMap;
use std::ops::Range;

use super::argument::{Argument, shortest_argument};
use super::bounds::Field;
use super::puzzle::{Cluster, Puzzle, PuzzlePart, clusters};
use super::relief::{Relief, reliefs};

/// Why there is no plan: the smallest set of gaps and presences that cannot hold together (with
/// what is fixed), and single changes each of which alone makes a plan possible.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// In the order of the puzzle, gaps first. Without members where what is fixed contradicts
    /// itself. It is never reducible, and neither are the names it belongs to.
    pub parts: Vec<PuzzlePart>,
    /// Whether no other set has fewer names; false where the puzzle is so tangled that the
    /// search for one was given up.
    pub is_smallest: bool,
    /// Whether none of them can be left out; false where the search ended even before that.
    pub is_irreducible: bool,
    /// Why the parts cannot hold together, counted back from the latest times that are fixed,
    /// and forward from the earliest.
    pub arguments: Vec<Argument>,
    /// The smallest change first.
    pub reliefs: Vec<Relief>,
}

/// How far the search for a smallest set goes: the repairs that are looked for, the steps in
/// choosing from them, and the limits that are looked at in finding out what holds together. All
/// are counted rather than timed, so that the same puzzle has the same answer everywhere.
const MAX_REPAIRS: usize = u128::BITS as usize;
const MAX_STEPS: usize = 300_000;
const MAX_WORK: usize = 4_000_000;
/// Limits that are looked at while what a conflict does not need is taken out.
const MAX_SHED: usize = 30_000_000;
/// Parts of a conflict for which a way out is looked for; of more nobody reads.
const MAX_ASKED: usize = 32;

/// The conflict of a puzzle that has no plan. Clusters cannot spoil each other's plans, so the
/// smallest conflict lies within one of them.
pub fn explain(puzzle: &Puzzle) -> Conflict {
    let clusters = clusters(puzzle);
    let found = clusters.iter().filter_map(|cluster| smallest(puzzle, cluster));
    let found = found.min_by(|one, two| (one.names, &one.parts).cmp(&(two.names, &two.parts)));
    let found = found.unwrap_or_default();
    let asked = &found.parts[..found.parts.len().min(MAX_ASKED)];
    Conflict {
        reliefs: reliefs(puzzle, asked),
        is_smallest: !found.given_up && !found.cut_short,
        is_irreducible: !found.cut_short,
        arguments: found.arguments,
        parts: found.parts,
    }
}

#[derive(Default)]
struct FoundConflict {
    /// How many names the parts have.
    names: usize,
    parts: Vec<PuzzlePart>,
    given_up: bool,
    cut_short: bool,
    arguments: Vec<Argument>,
}

/// The smallest conflict within a cluster.
fn smallest(puzzle: &Puzzle, cluster: &Cluster) -> Option<FoundConflict> {
    let gaps = cluster.gaps.iter().map(|&index| PuzzlePart::Gap(index));
    let parts = gaps.chain(cluster.presences.iter().map(|&index| PuzzlePart::Presence(index)));
    let parts: Vec<PuzzlePart> = parts.collect();
    let field = Field::new(puzzle, cluster);
    let (names, always) = puzzle.named(&parts);
    let all: Vec<usize> = (0..names.len()).collect();
    let mut trial = Trial::new(field.clone(), parts.len(), names, always.clone());
    if trial.holds(&all) {
        return None;
    }
    let (chosen, given_up) = trial.smallest(&all);
    let cut_short = trial.cut_short;
    let mut kept = always;
    chosen.iter().for_each(|&name| kept.extend(&trial.names[name]));
    kept.sort_unstable();
    // Of each name only what is needed.
    let single = (0..parts.len()).map(|part| vec![part]).collect();
    let mut trial = Trial::new(field, parts.len(), single, Vec::new());
    trial.work = if cut_short { MAX_SHED } else { 0 };
    let doubtful = kept.clone();
    trial.shed(&mut kept, &doubtful);
    Some(FoundConflict {
        names: chosen.len(),
        arguments: trial.arguments(&kept),
        parts: kept.into_iter().map(|part| parts[part]).collect(),
        given_up,
        cut_short: cut_short || trial.cut_short,
    })
}

impl Puzzle {
    /// The places of parts by name, in the order in which names come up, and of those that
    /// always hold.
    fn named(&self, parts: &[PuzzlePart]) -> (Vec<Vec<usize>>, Vec<usize>) {
        let (mut names, mut always) = (Vec::new(), Vec::new());
        let mut known: BTreeMap<usize, usize> = BTreeMap::new();
        for (place, &part) in parts.iter().enumerate() {
            let name = match (&self.names, part) {
                (None, _) => Some(place),
                (Some(names), PuzzlePart::Gap(gap)) => names.gaps.get(gap).copied().flatten(),
                (Some(names), PuzzlePart::Presence(it)) => {
                    names.presences.get(it).copied().flatten()
                }
            };
            let Some(name) = name else {
                always.push(place);
                continue;
            };
            let group = *known.entry(name).or_insert_with(|| {
                names.push(Vec::new());
                names.len() - 1
            });
            names[group].push(place);
        }
        (names, always)
    }
}

/// Finds out which names of a cluster hold together.
struct Trial {
    field: Field,
    parts: usize,
    /// The parts of each name.
    names: Vec<Vec<usize>>,
    always: Vec<usize>,
    /// Limits that were looked at.
    work: usize,
    /// Whether the work ended while something may still have been taken out.
    cut_short: bool,
}

impl Trial {
    fn new(field: Field, parts: usize, names: Vec<Vec<usize>>, always: Vec<usize>) -> Self {
        Self { field, parts, names, always, work: 0, cut_short: false }
    }

    /// The field with nothing else than some names.
    fn only(&self, names: &[usize]) -> Field {
        let mut enforced = vec![false; self.parts];
        let chosen = names.iter().flat_map(|&name| &self.names[name]);
        chosen.chain(&self.always).for_each(|&part| enforced[part] = true);
        self.field.only(&enforced)
    }

    fn holds(&mut self, names: &[usize]) -> bool {
        let field = self.only(names);
        let holds = field.latest(&field.all_choices()).is_some();
        self.work += self.field.limits.len() + field.work.get();
        holds
    }

    /// Why names cannot hold together, back from the latest times and forward from the earliest.
    fn arguments(&self, names: &[usize]) -> Vec<Argument> {
        let field = self.only(names);
        let steps = 2 * (names.len() + 2);
        let back = shortest_argument(&field, steps);
        let forward = shortest_argument(&field.mirrored(), steps).map(Argument::mirrored);
        back.into_iter().chain(forward).collect()
    }

    /// The names of the parts that an argument uses.
    fn names_in(&self, argument: &Argument) -> Vec<usize> {
        let parts = argument.parts();
        let is_used = |&name: &usize| self.names[name].iter().any(|part| parts.contains(part));
        (0..self.names.len()).filter(is_used).collect()
    }

    /// A smallest conflict, in rising order; an irreducible one where the search is given up,
    /// and whether it was.
    fn smallest(&mut self, all: &[usize]) -> (Vec<usize>, bool) {
        let small = self.irreducible(all);
        let mut repairs: Vec<Vec<usize>> = Vec::new();
        for &part in small.iter().take(MAX_REPAIRS) {
            if self.work >= MAX_WORK {
                return (small, true);
            }
            repairs.push(self.repair(all, without(&small, &[part])));
        }
        let (mut at_least, mut steps) = (0, MAX_STEPS);
        while repairs.len() < MAX_REPAIRS && self.work < MAX_WORK {
            let Some(chosen) = fewest(&repairs, at_least..small.len(), &mut steps) else {
                return (small, steps == 0);
            };
            if !self.holds(&chosen) {
                return (chosen, false);
            }
            at_least = chosen.len();
            repairs.push(self.repair(all, chosen));
        }
        (small, true)
    }

    /// The smallest of the conflicts that are left when parts are shed from all of them in
    /// either order, and from what short arguments for either direction of time use.
    fn irreducible(&mut self, all: &[usize]) -> Vec<usize> {
        let backwards: Vec<usize> = all.iter().rev().copied().collect();
        let arguments = [&self.field, &self.field.mirrored()];
        let arguments = arguments.map(|field| shortest_argument(field, self.parts));
        let arguments = arguments.iter().flatten().map(|argument| self.names_in(argument));
        // Those of arguments are the shorter ones, but of equal conflicts the others' count.
        let mut starts: Vec<(usize, Vec<usize>)> = arguments.map(|names| (2, names)).collect();
        starts.extend([(0, all.to_vec()), (1, backwards)]);
        let mut found: Vec<(bool, usize, usize, Vec<usize>)> = Vec::new();
        for (rank, mut kept) in starts {
            if !found.is_empty() && self.work >= MAX_WORK {
                break;
            }
            let start = kept.clone();
            self.cut_short = false;
            self.shed(&mut kept, &start);
            found.push((self.cut_short, kept.len(), rank, kept));
        }
        let best = found.into_iter().min_by_key(|(cut, count, rank, _)| (*cut, *count, *rank));
        let (cut_short, .., mut small) = best.unwrap_or((true, 0, 0, all.to_vec()));
        self.cut_short = cut_short;
        small.sort_unstable();
        small
    }

    /// Takes out what the conflict does not need, as many at a time as possible. What is needed
    /// once is needed by all that is smaller, so one pass is enough.
    fn shed(&mut self, kept: &mut Vec<usize>, doubtful: &[usize]) {
        if self.work >= MAX_SHED {
            self.cut_short = true;
            return;
        }
        let rest = without(kept, doubtful);
        if !self.holds(&rest) {
            *kept = rest;
        } else if doubtful.len() > 1 {
            let (left, right) = doubtful.split_at(doubtful.len() / 2);
            self.shed(kept, left);
            self.shed(kept, right);
        }
    }

    /// What is left out when as much as possible is added to what holds.
    fn repair(&mut self, all: &[usize], mut kept: Vec<usize>) -> Vec<usize> {
        let more = without(all, &kept);
        self.grow(&mut kept, &more);
        without(all, &kept)
    }

    /// Adds what can be added, as many at a time as possible.
    fn grow(&mut self, kept: &mut Vec<usize>, more: &[usize]) {
        // What is left out stays a way out, only no longer the narrowest.
        if self.work >= MAX_SHED {
            return;
        }
        let together = [kept.as_slice(), more].concat();
        if self.holds(&together) {
            *kept = together;
        } else if more.len() > 1 {
            let (left, right) = more.split_at(more.len() / 2);
            self.grow(kept, left);
            self.grow(kept, right);
        }
    }
}

/// Limits that the search for a smallest conflict looks at.
#[cfg(test)]
pub fn work(puzzle: &Puzzle) -> usize {
    let field = Field::new(puzzle, &Cluster::whole(puzzle));
    let parts = puzzle.gaps.len() + puzzle.presences.len();
    let names = (0..parts).map(|part| vec![part]).collect();
    let mut trial = Trial::new(field, parts, names, Vec::new());
    let all: Vec<usize> = (0..parts).collect();
    assert!(!trial.holds(&all), "it has a plan");
    trial.smallest(&all);
    trial.work
}

fn without(parts: &[usize], taken: &[usize]) -> Vec<usize> {
    parts.iter().filter(|part| !taken.contains(part)).copied().collect()
}

/// The fewest parts that take something from each repair, in rising order; nothing where their
/// number is not in the range, or the steps run out. That fewer than the range begins with do
/// not suffice is known, so as many are good enough.
fn fewest(repairs: &[Vec<usize>], sizes: Range<usize>, steps: &mut usize) -> Option<Vec<usize>> {
    let mut repairs = repairs.to_vec();
    repairs.sort_by_key(Vec::len);
    let parts = repairs.iter().flatten().max().map_or(0, |part| part + 1);
    let mut taken_by = vec![0; parts];
    for (place, repair) in repairs.iter().enumerate() {
        repair.iter().for_each(|&part| taken_by[part] |= 1 << place);
    }
    let touching = |repair: &Vec<usize>| repair.iter().fold(0, |all, &part| all | taken_by[part]);
    let touching: Vec<u128> = repairs.iter().map(touching).collect();
    let missed = touching.iter().fold(0, |all, touching| all | touching);
    let mut choosing = Choosing { repairs, taken_by, touching, sizes, best: None, steps };
    choosing.go_on(missed, &mut Vec::new(), &mut vec![false; parts]);
    let mut best = choosing.best.filter(|_| *choosing.steps > 0)?;
    best.sort_unstable();
    Some(best)
}

/// Sets of repairs are bits, the shortest repair lowest.
struct Choosing<'a> {
    repairs: Vec<Vec<usize>>,
    /// For each part the repairs that it takes from.
    taken_by: Vec<u128>,
    /// For each repair those that share a part with it.
    touching: Vec<u128>,
    /// The sizes of a choice that would still be of use.
    sizes: Range<usize>,
    best: Option<Vec<usize>>,
    steps: &'a mut usize,
}

impl Choosing<'_> {
    /// Parts whose choice has been followed to its end are barred while others are followed.
    fn go_on(&mut self, missed: u128, chosen: &mut Vec<usize>, barred: &mut [bool]) {
        *self.steps = self.steps.saturating_sub(1);
        let idle = *self.steps == 0 || self.sizes.is_empty();
        if idle || chosen.len() + self.apart(missed) >= self.sizes.end {
            return;
        }
        let Some(repair) = self.repairs.get(missed.trailing_zeros() as usize) else {
            self.sizes.end = chosen.len();
            self.best = Some(chosen.clone());
            return;
        };
        let candidates = self.candidates(repair, missed, barred);
        for &part in &candidates {
            chosen.push(part);
            self.go_on(missed & !self.taken_by[part], chosen, barred);
            chosen.pop();
            barred[part] = true;
        }
        candidates.iter().for_each(|&part| barred[part] = false);
    }

    /// The parts of a repair without those that take from nothing that another one does not take
    /// from as well.
    fn candidates(&self, repair: &[usize], missed: u128, barred: &[bool]) -> Vec<usize> {
        let mut candidates: Vec<usize> = Vec::new();
        for &part in repair.iter().filter(|&&part| !barred[part]) {
            let takes = self.taken_by[part] & missed;
            if candidates.iter().all(|&other| takes & !self.taken_by[other] != 0) {
                candidates.retain(|&other| self.taken_by[other] & missed & !takes != 0);
                candidates.push(part);
            }
        }
        candidates
    }

    /// How many of these repairs share nothing, taken as they come: each needs a part of its own.
    fn apart(&self, mut missed: u128) -> usize {
        let mut count = 0;
        while let Some(touching) = self.touching.get(missed.trailing_zeros() as usize) {
            missed &= !touching;
            count += 1;
        }
        count
    }
}
