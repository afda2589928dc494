//! Controlled rounding: weights on the steps of a scale, so that what they come to is
//! what was asked for (figures.md section 6).
//!
//! Each weight becomes a multiple of its step and moves by less than one. Which way each
//! goes is decided by, in this order: the whole as near as can be to its target, equal
//! weights shown equal, the least moves relative to what moves.

use super::display::{nearest, to_step};
use super::{Exact, int};
use dashu_int::{IBig, UBig};
use std::collections::HashMap;

/// A weight that somebody weighs, in grams.
#[derive(Clone, Debug)]
pub struct Weighed {
    pub exact: Exact,
    /// What the scale shows at this weight; zero for what is not to be moved.
    pub step: Exact,
}

impl Weighed {
    /// The weight by itself on the scale.
    fn alone(&self) -> Exact {
        to_step(&self.exact, &self.step)
    }
}

/// A sum of weights, each taken so many times.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sum {
    /// Numbers of weights, and how often each counts; the other way where it is taken off.
    pub terms: Vec<(usize, i64)>,
}

impl Sum {
    pub fn one(weight: usize) -> Self {
        Self { terms: vec![(weight, 1)] }
    }

    /// Adds another sum so many times.
    pub fn add(&mut self, other: &Self, times: i64) {
        for (weight, count) in &other.terms {
            match self.terms.iter_mut().find(|(known, _)| known == weight) {
                Some((_, known)) => *known = known.saturating_add(count.saturating_mul(times)),
                None => self.terms.push((*weight, count.saturating_mul(times))),
            }
        }
        self.terms.retain(|(_, count)| *count != 0);
    }

    /// What it comes to.
    pub fn of(&self, values: &[Exact]) -> Exact {
        self.terms.iter().fold(Exact::ZERO, |sum, (weight, count)| {
            values.get(*weight).map_or(sum.clone(), |value| sum + value * int(*count))
        })
    }

    /// The finest step among its weights; zero where there is none.
    pub fn finest(&self, weighed: &[Weighed]) -> Exact {
        let steps = self.terms.iter().filter_map(|(weight, _)| weighed.get(*weight));
        steps
            .map(|weight| &weight.step)
            .filter(|step| !step.is_zero())
            .min()
            .cloned()
            .unwrap_or_default()
    }
}

/// What it costs to show two equal weights as different ones: more than any move.
const UNEQUAL: i128 = 1 << 80;

/// How much more a row that is off costs than a weight that moves by the same share: a
/// row is what the author wrote and compares.
const ROW: i128 = 8;

/// Relative moves are counted in these parts.
const PARTS: i64 = 1_000_000_000;

/// Groups of weights that are looked at in one search for the whole: those that move
/// least. More make no difference that could be seen.
const MAX_GROUPS: usize = 64;

/// How many different sums such a search keeps apart.
const MAX_SUMS: i128 = 1 << 16;

/// Groups up to which pairs of them are exchanged for the sake of rows.
const MAX_PAIRED: usize = 160;

/// Rounds weights so that `whole` comes nearest to `target`; the `rows` are sums that are
/// shown and should be near what they are exactly.
pub fn controlled(weighed: &[Weighed], whole: &Sum, target: &Exact, rows: &[Sum]) -> Vec<Exact> {
    let alone = || weighed.iter().map(Weighed::alone).collect();
    let Some(mut table) = Table::of(weighed, whole, rows) else { return alone() };
    let Some(missing) = table.missing(target) else { return alone() };
    table.reach(missing);
    table.smooth();
    table.values(weighed)
}

/// A weight that may go down or up.
struct Loose {
    weight: usize,
    /// Its step in the table's units.
    step: i128,
    /// Relative moves, in [`PARTS`].
    down: i128,
    up: i128,
    is_up: bool,
    /// How often it counts in the whole.
    in_whole: i128,
    /// Its rows, and how often it counts in each.
    rows: Vec<(usize, i128)>,
}

impl Loose {
    /// What the whole gains when it is turned round.
    fn turn_gains(&self) -> i128 {
        let gain = self.step * self.in_whole;
        if self.is_up { -gain } else { gain }
    }

    fn turn_costs(&self) -> i128 {
        if self.is_up { self.down - self.up } else { self.up - self.down }
    }
}

/// A row: how far it is off, in millionths of a unit, and what each of those costs.
struct Row {
    off: i128,
    per_unit: i128,
}

struct Table {
    /// The largest weight of which every step is a multiple.
    unit: Exact,
    loose: Vec<Loose>,
    /// Weights that are equal and move together.
    groups: Vec<Vec<usize>>,
    rows: Vec<Row>,
    /// What the whole comes to as things stand, in units.
    whole: i128,
}

const MILLION: i64 = 1_000_000;

fn to_i128(value: IBig) -> Option<i128> {
    i128::try_from(value).ok().filter(|value| value.unsigned_abs() < 1 << 100)
}

/// `value / unit` in whole numbers, rounded down.
fn units(value: &Exact, unit: &Exact) -> Option<i128> {
    to_i128((value / unit).floor())
}

/// The largest number of which both are multiples.
fn common(one: &Exact, two: &Exact) -> Exact {
    use dashu_int::ops::{Gcd, UnsignedAbs};
    let below = one.denominator() * two.denominator();
    let above = |value: &Exact, other: &Exact| -> UBig {
        let product = value.numerator() * IBig::from(other.denominator().clone());
        product.unsigned_abs()
    };
    let (left, right) = (above(one, two), above(two, one));
    Exact::from_parts(IBig::from(left.gcd(right)), below)
}

impl Table {
    /// None where there is nothing to decide, or numbers are beyond all scales.
    fn of(weighed: &[Weighed], whole: &Sum, rows: &[Sum]) -> Option<Self> {
        let steps = weighed.iter().map(|weight| &weight.step).filter(|step| !step.is_zero());
        let unit = steps.fold(None::<Exact>, |unit, step| {
            Some(unit.map_or_else(|| step.clone(), |unit| common(&unit, step)))
        })?;
        let mut loose = Vec::new();
        let mut place = vec![None; weighed.len()];
        for (weight, own) in weighed.iter().enumerate().filter(|(_, own)| !own.step.is_zero()) {
            let steps = &own.exact / &own.step;
            let part = &steps - Exact::from(steps.floor());
            if part.is_zero() {
                continue;
            }
            let step = units(&own.step, &unit)?;
            let relative = |part: &Exact| to_i128((part * int(PARTS) / &steps).floor());
            let (down, up) = (relative(&part)?.abs(), relative(&(Exact::ONE - &part))?.abs());
            place[weight] = Some(loose.len());
            let is_up = part >= super::half();
            let (in_whole, rows) = (0, Vec::new());
            loose.push(Loose { weight, step, down, up, is_up, in_whole, rows });
        }
        if loose.is_empty() {
            return None;
        }
        for (weight, count) in &whole.terms {
            if let Some(Some(loose_at)) = place.get(*weight) {
                loose[*loose_at].in_whole += i128::from(*count);
            }
        }
        let mut table = Self { unit, loose, groups: Vec::new(), rows: Vec::new(), whole: 0 };
        let now = whole.of(&table.values(weighed));
        table.whole = to_i128(nearest(&(now / &table.unit)))?;
        table.add_rows(weighed, rows, &place)?;
        table.group(weighed);
        Some(table)
    }

    fn add_rows(
        &mut self,
        weighed: &[Weighed],
        rows: &[Sum],
        place: &[Option<usize>],
    ) -> Option<()> {
        let values = self.values(weighed);
        let exact: Vec<Exact> = weighed.iter().map(|weight| weight.exact.clone()).collect();
        for row in rows {
            let is = row.of(&exact);
            if is.is_zero() {
                continue;
            }
            let off = (row.of(&values) - &is) / &self.unit * int(MILLION);
            let per_unit = (&self.unit * int(PARTS) / is).floor();
            let number = self.rows.len();
            self.rows
                .push(Row { off: to_i128(nearest(&off))?, per_unit: to_i128(per_unit)?.abs() });
            for (weight, count) in &row.terms {
                if let Some(Some(loose)) = place.get(*weight) {
                    self.loose[*loose].rows.push((number, i128::from(*count)));
                }
            }
        }
        Some(())
    }

    /// Weights that are exactly equal, on the same step, move together.
    fn group(&mut self, weighed: &[Weighed]) {
        let mut known: HashMap<(&Exact, &Exact), usize> = HashMap::new();
        for (place, loose) in self.loose.iter().enumerate() {
            let own = &weighed[loose.weight];
            let group = *known.entry((&own.exact, &own.step)).or_insert_with(|| {
                self.groups.push(Vec::new());
                self.groups.len() - 1
            });
            self.groups[group].push(place);
        }
    }

    /// What each weight shows as things stand.
    fn values(&self, weighed: &[Weighed]) -> Vec<Exact> {
        let mut values: Vec<Exact> = weighed.iter().map(Weighed::alone).collect();
        for loose in &self.loose {
            let own = &weighed[loose.weight];
            let below = Exact::from((&own.exact / &own.step).floor()) * &own.step;
            values[loose.weight] = if loose.is_up { below + &own.step } else { below };
        }
        values
    }

    /// What the whole lacks, in units.
    fn missing(&self, target: &Exact) -> Option<i128> {
        to_i128(nearest(&(target / &self.unit))).map(|target| target - self.whole)
    }

    /// Turns weights round until the whole is as near as can be to what is missing: the
    /// cheapest way, equal weights together where that is possible.
    fn reach(&mut self, missing: i128) {
        if missing == 0 {
            return;
        }
        let mut groups: Vec<usize> = (0..self.groups.len())
            .filter(|group| self.groups[*group].iter().any(|&one| self.loose[one].in_whole != 0))
            .collect();
        let cost = |group: &usize| -> i128 {
            self.groups[*group].iter().map(|&one| self.loose[one].turn_costs()).sum()
        };
        groups.sort_by_key(|group| (cost(group), *group));
        groups.truncate(MAX_GROUPS);
        for (group, count) in self.search(&groups, missing) {
            for place in self.groups[group].clone().into_iter().take(count) {
                self.turn(place);
            }
        }
    }

    /// Which groups to turn, and how many of each: over all sums that can be reached, the
    /// one nearest to `missing`, and of the ways to it the cheapest.
    fn search(&self, groups: &[usize], missing: i128) -> Vec<(usize, usize)> {
        let choices: Vec<Vec<(i128, i128)>> =
            groups.iter().map(|group| self.turns(*group)).collect();
        let common = choices.iter().flatten().fold(0i128, |common, (gain, _)| gcd(common, *gain));
        if common == 0 {
            return Vec::new();
        }
        let reach = |pick: fn(i128) -> i128| -> i128 {
            let ends =
                choices.iter().map(|turns| turns.iter().map(|(gain, _)| pick(gain / common)).max());
            ends.flatten().sum()
        };
        let (most, least) = (reach(|gain| gain.max(0)), reach(|gain| (-gain).max(0)));
        let half = MAX_SUMS / 2;
        let (most, least) = (most.min(half), least.min(half));
        let (Ok(width), Ok(zero)) = (usize::try_from(most + least + 1), usize::try_from(least))
        else {
            return Vec::new();
        };
        let mut best: Vec<Option<i128>> = vec![None; width];
        best[zero] = Some(0);
        let mut taken: Vec<Vec<u16>> = Vec::with_capacity(choices.len());
        for turns in &choices {
            let mut next: Vec<Option<i128>> = vec![None; width];
            let mut how: Vec<u16> = vec![0; width];
            for (sum, cost) in
                best.iter().enumerate().filter_map(|(sum, cost)| Some((sum, (*cost)?)))
            {
                for (count, (gain, more)) in turns.iter().enumerate() {
                    let Some(place) = moved(sum, gain / common, width) else { continue };
                    if next[place].is_none_or(|known| cost + more < known) {
                        next[place] = Some(cost + more);
                        how[place] = u16::try_from(count).unwrap_or(0);
                    }
                }
            }
            best = next;
            taken.push(how);
        }
        let off = |sum: usize| {
            let gain = (i128::try_from(sum).unwrap_or(0) - least) * common;
            (gain - missing).abs()
        };
        let reached =
            best.iter().enumerate().filter_map(|(sum, cost)| Some((off(sum), (*cost)?, sum)));
        let Some((_, _, mut sum)) = reached.min() else { return Vec::new() };
        let mut found = Vec::new();
        for (number, how) in taken.iter().enumerate().rev() {
            let count = usize::from(how[sum]);
            found.push((groups[number], count));
            let gain = choices[number].get(count).map_or(0, |(gain, _)| gain / common);
            sum = moved(sum, -gain, width).unwrap_or(sum);
        }
        found
    }

    /// What turning none, one, … all of a group gains and costs.
    fn turns(&self, group: usize) -> Vec<(i128, i128)> {
        let members = &self.groups[group];
        let mut turns = vec![(0, 0)];
        let (mut gain, mut cost) = (0, 0);
        for (index, &place) in members.iter().enumerate() {
            gain += self.loose[place].turn_gains();
            cost += self.loose[place].turn_costs();
            let apart = if index + 1 < members.len() { UNEQUAL } else { 0 };
            turns.push((gain, cost + apart));
        }
        turns
    }

    fn turn(&mut self, place: usize) {
        let million = i128::from(MILLION);
        let loose = &mut self.loose[place];
        let step = if loose.is_up { -loose.step } else { loose.step };
        self.whole += step * loose.in_whole;
        loose.is_up = !loose.is_up;
        for (row, count) in &loose.rows {
            self.rows[*row].off += step * count * million;
        }
    }

    fn turn_group(&mut self, group: usize) {
        for place in self.groups[group].clone() {
            self.turn(place);
        }
    }

    /// What all that is shown costs.
    fn cost(&self) -> i128 {
        let moves: i128 =
            self.loose.iter().map(|one| if one.is_up { one.up } else { one.down }).sum();
        let rows: i128 = self.rows.iter().map(Row::cost).sum();
        moves + rows
    }

    /// Turns groups, alone or two at a time, while that brings rows nearer and leaves the
    /// whole as it is.
    fn smooth(&mut self) {
        let whole_groups: Vec<usize> = (0..self.groups.len())
            .filter(|group| {
                let ups = self.groups[*group].iter().filter(|&&one| self.loose[one].is_up).count();
                ups == 0 || ups == self.groups[*group].len()
            })
            .collect();
        if self.rows.is_empty() || whole_groups.len() > MAX_PAIRED {
            return;
        }
        for _ in 0..whole_groups.len() {
            let Some((one, two)) = self.better(&whole_groups) else { return };
            self.turn_group(one);
            if let Some(two) = two {
                self.turn_group(two);
            }
        }
    }

    /// The turn, or the two, that help most.
    fn better(&mut self, groups: &[usize]) -> Option<(usize, Option<usize>)> {
        let now = self.cost();
        let mut best: Option<(i128, usize, Option<usize>)> = None;
        let mut consider = |cost: i128, one: usize, two: Option<usize>| {
            if cost < now && best.as_ref().is_none_or(|(known, ..)| cost < *known) {
                best = Some((cost, one, two));
            }
        };
        let gain = |table: &Self, group: usize| -> i128 {
            table.groups[group].iter().map(|&one| table.loose[one].turn_gains()).sum()
        };
        for (index, &one) in groups.iter().enumerate() {
            let gained = gain(self, one);
            if gained == 0 {
                self.turn_group(one);
                consider(self.cost(), one, None);
                self.turn_group(one);
            }
            let others = &groups[index + 1..];
            let matching: Vec<usize> =
                others.iter().copied().filter(|&two| gain(self, two) == -gained).collect();
            if matching.is_empty() {
                continue;
            }
            self.turn_group(one);
            for two in matching {
                self.turn_group(two);
                consider(self.cost(), one, Some(two));
                self.turn_group(two);
            }
            self.turn_group(one);
        }
        best.map(|(_, one, two)| (one, two))
    }
}

impl Row {
    fn cost(&self) -> i128 {
        self.off.abs() * self.per_unit * ROW / i128::from(MILLION)
    }
}

fn moved(sum: usize, gain: i128, width: usize) -> Option<usize> {
    let place = i128::try_from(sum).ok()? + gain;
    usize::try_from(place).ok().filter(|place| *place < width)
}

fn gcd(one: i128, two: i128) -> i128 {
    let (mut one, mut two) = (one.abs(), two.abs());
    while two != 0 {
        (one, two) = (two, one % two);
    }
    one
}

/// Shares a sum out over amounts that are not weighed, such as what a culture brings to
/// each line of a total: at this step, near what each is exactly, so that they come to
/// exactly `sum`. `wanted` is where each would like to be.
pub fn shared_out(exact: &[Exact], wanted: &[Exact], sum: &Exact, step: &Exact) -> Vec<Exact> {
    let size = |value: &Exact| value.clone().max(-value.clone());
    let all = exact.iter().fold(Exact::ZERO, |all, value| all + value);
    let sizes = exact.iter().fold(Exact::ZERO, |all, value| all + size(value));
    if sizes.is_zero() || step.is_zero() {
        return exact.to_vec();
    }
    let off = sum - all;
    let aims: Vec<Exact> = exact.iter().map(|value| value + &off * size(value) / &sizes).collect();
    let below = |value: &Exact| Exact::from((value / step).floor()) * step;
    let above = |value: &Exact| Exact::from((value / step).ceil()) * step;
    let mut shares: Vec<Exact> = aims
        .iter()
        .zip(wanted)
        .map(|(aim, wanted)| to_step(wanted, step).max(below(aim)).min(above(aim)))
        .collect();
    // What is still missing goes, a step at a time, to those that are farthest from what
    // they want; the last of it, finer than a step, to the largest.
    for _ in 0..2 * shares.len() {
        let missing = sum - shares.iter().fold(Exact::ZERO, |all, share| all + share);
        if size(&missing) < *step {
            break;
        }
        let up = missing > Exact::ZERO;
        let by = if up { step.clone() } else { -step.clone() };
        let room = |place: &usize| match up {
            true => &shares[*place] + step <= above(&aims[*place]),
            false => &shares[*place] - step >= below(&aims[*place]),
        };
        let gap = |place: &usize| {
            let gap = &wanted[*place] - &shares[*place];
            if up { gap } else { -gap }
        };
        let places = (0..shares.len()).filter(|place| !aims[*place].is_zero()).filter(room);
        let Some(place) = places.max_by(|one, two| gap(one).cmp(&gap(two)).then(two.cmp(one)))
        else {
            break;
        };
        shares[place] += by;
    }
    let missing = sum - shares.iter().fold(Exact::ZERO, |all, share| all + share);
    let largest = (0..shares.len()).max_by(|one, two| size(&aims[*one]).cmp(&size(&aims[*two])));
    if let Some(largest) = largest {
        shares[largest] += missing;
    }
    shares
}
