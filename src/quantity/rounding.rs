//! Controlled rounding: weights on the steps of a scale, so that what they come to is
//! what was asked for.
//!
//! Each weight becomes a multiple of its step and moves by less than one. Which way each
//! goes is decided by, in this order: the whole as near as can be to its target, equal
//! weights shown equal, all weights together as few steps as can be from what they are
//! exactly, sums of them near what they are. What weighs less than a hundred steps goes to its nearest step and stays there; what a sum lacks is made up by the
//! large weights.

use super::display::to_step;
use super::{Exact, int};
use std::collections::HashMap;

/// A weight that somebody weighs, in grams.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// What it would weigh without a scale, in grams.
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
    /// Numbers of weights, in order, and how often each counts; the other way where it is
    /// taken off.
    pub terms: Vec<(usize, i64)>,
}

impl Sum {
    /// The sum of one weight, by its number, taken once.
    pub fn one(weight: usize) -> Self {
        Self { terms: vec![(weight, 1)] }
    }

    /// Adds another sum so many times.
    pub fn add(&mut self, other: &Self, times: i64) {
        for (weight, count) in &other.terms {
            let more = count.saturating_mul(times);
            match self.terms.binary_search_by_key(weight, |(known, _)| *known) {
                Ok(at) => {
                    self.terms[at].1 = self.terms[at].1.saturating_add(more);
                    if self.terms[at].1 == 0 {
                        self.terms.remove(at);
                    }
                }
                Err(at) if more != 0 => self.terms.insert(at, (*weight, more)),
                Err(_) => {}
            }
        }
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

/// What it costs where what is left of a weight is a whole step or more from what it is exactly.
const BEYOND: i128 = 1 << 78;

/// A weight of fewer steps than these goes to its nearest step and is not moved for the
/// sake of a sum: a step is more than a hundredth of it, and of yeast or salt that shows in
/// the dough. Flour and water make up for it.
const FEW_STEPS: i64 = 100;

/// Steps are counted in these parts.
const PARTS: i64 = 1_000_000_000;

/// Groups of weights that are looked at in one search for the whole: those that move
/// least. More make no difference that could be seen.
const MAX_GROUPS: usize = 64;

/// How many different sums such a search keeps apart.
const MAX_SUMS: i128 = 1 << 16;

/// Ways to turn a group that are tried.
const MAX_TURNS: usize = 256;

/// Groups up to which pairs of them are exchanged for the sake of rows.
const MAX_PAIRED: usize = 160;

/// Sums of weights that should be near what they are exactly.
#[derive(Clone, Copy, Debug, Default)]
pub struct Near<'s> {
    /// What somebody weighs as the rest of something: as near as what is rounded itself.
    pub rests: &'s [Sum],
    /// What is only shown: of ways that are as good otherwise, the one that is nearest there.
    pub rows: &'s [Sum],
}

/// Rounds weights so that `whole` comes nearest to `target`, and sums of them near what they are.
pub fn controlled(weighed: &[Weighed], whole: &Sum, target: &Exact, near: Near) -> Vec<Exact> {
    let alone = || weighed.iter().map(Weighed::alone).collect();
    let Some(mut table) = RoundingTable::of(weighed, whole, near) else { return alone() };
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
    /// How far it is from the step below and above, in [`PARTS`] of a step.
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

/// A way to turn some weights of a group.
#[derive(Clone, Default)]
struct Turn {
    gain: i128,
    cost: i128,
    places: Vec<usize>,
}

/// A row: how far it is off, in millionths of a unit.
struct RoundingRow {
    off: i128,
    /// The step of what is weighed as a rest, in the same; none of what is only shown.
    step: Option<i128>,
    /// What a unit is of what is only shown, in [`PARTS`] of it.
    per_unit: i128,
}

struct RoundingTable {
    /// The largest weight of which every step is a multiple.
    unit: Exact,
    loose: Vec<Loose>,
    /// Weights that are equal and move together.
    groups: Vec<Vec<usize>>,
    rows: Vec<RoundingRow>,
    /// What the whole comes to as things stand, in units.
    whole: i128,
}

const MILLION: i64 = 1_000_000;

fn to_i128(value: Exact) -> Option<i128> {
    value.to_whole().filter(|value| value.unsigned_abs() < 1 << 100)
}

/// `value / unit` in whole numbers, rounded down.
fn units(value: &Exact, unit: &Exact) -> Option<i128> {
    to_i128(value.over(unit)?.floor())
}

impl RoundingTable {
    /// None where there is nothing to decide, or numbers are beyond all scales.
    fn of(weighed: &[Weighed], whole: &Sum, near: Near) -> Option<Self> {
        let steps = weighed.iter().map(|weight| &weight.step).filter(|step| !step.is_zero());
        let unit = steps.fold(None::<Exact>, |unit, step| {
            Some(unit.map_or_else(|| step.clone(), |unit| unit.common(step)))
        })?;
        let mut loose = Vec::new();
        let mut place = vec![None; weighed.len()];
        for (weight, own) in weighed.iter().enumerate().filter(|(_, own)| !own.step.is_zero()) {
            let steps = own.exact.over(&own.step)?;
            let part = &steps - steps.floor();
            if part.is_zero() || steps < int(FEW_STEPS) {
                continue;
            }
            let step = units(&own.step, &unit)?;
            let parts = |part: &Exact| to_i128((part * int(PARTS)).floor());
            let (down, up) = (parts(&part)?, parts(&(Exact::ONE - &part))?);
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
        table.whole = to_i128(now.over(&table.unit)?.nearest())?;
        table.add_rows(weighed, near.rests, true, &place)?;
        table.add_rows(weighed, near.rows, false, &place)?;
        table.group(weighed);
        Some(table)
    }

    fn add_rows(
        &mut self,
        weighed: &[Weighed],
        rows: &[Sum],
        is_weighed: bool,
        place: &[Option<usize>],
    ) -> Option<()> {
        let values = self.values(weighed);
        let exact: Vec<Exact> = weighed.iter().map(|weight| weight.exact.clone()).collect();
        for row in rows {
            let is = row.of(&exact);
            if is.is_zero() {
                continue;
            }
            let off = (row.of(&values) - &is).over(&self.unit)? * int(MILLION);
            let per_unit = (&self.unit * int(PARTS)).over(&is)?.floor();
            let step = row.finest(weighed).over(&self.unit)? * int(MILLION);
            let number = self.rows.len();
            self.rows.push(RoundingRow {
                off: to_i128(off.nearest())?,
                step: Some(to_i128(step.nearest())?).filter(|step| is_weighed && *step > 0),
                per_unit: to_i128(per_unit)?.abs(),
            });
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
            let below = own.exact.down_to(&own.step);
            values[loose.weight] = if loose.is_up { below + &own.step } else { below };
        }
        values
    }

    /// What the whole lacks, in millionths of a unit.
    fn missing(&self, target: &Exact) -> Option<i128> {
        let target = to_i128((target.over(&self.unit)? * int(MILLION)).nearest())?;
        Some(target - self.whole * i128::from(MILLION))
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
        for turn in self.search(&groups, missing) {
            for place in turn.places {
                self.turn(place);
            }
        }
    }

    /// Which groups to turn, and how many of each: over all sums that can be reached, the
    /// one nearest to `missing`, and of the ways to it the cheapest.
    fn search(&self, groups: &[usize], missing: i128) -> Vec<Turn> {
        let mut choices: Vec<Vec<Turn>> = groups.iter().map(|group| self.turns(*group)).collect();
        let common = choices.iter().flatten().fold(0i128, |common, turn| gcd(common, turn.gain));
        if common == 0 {
            return Vec::new();
        }
        let reach = |pick: fn(i128) -> i128| -> i128 {
            let ends =
                choices.iter().map(|turns| turns.iter().map(|turn| pick(turn.gain / common)).max());
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
                for (count, turn) in turns.iter().enumerate() {
                    let Some(place) = moved(sum, turn.gain / common, width) else { continue };
                    if next[place].is_none_or(|known| cost + turn.cost < known) {
                        next[place] = Some(cost + turn.cost);
                        how[place] = u16::try_from(count).unwrap_or(0);
                    }
                }
            }
            best = next;
            taken.push(how);
        }
        let off = |sum: usize| {
            let gain = (i128::try_from(sum).unwrap_or(0) - least) * common;
            (gain * i128::from(MILLION) - missing).abs()
        };
        let reached =
            best.iter().enumerate().filter_map(|(sum, cost)| Some((off(sum), (*cost)?, sum)));
        let Some((_, _, mut sum)) = reached.min() else { return Vec::new() };
        let mut found = Vec::new();
        for (number, how) in taken.iter().enumerate().rev() {
            let taken = usize::from(how[sum]);
            if taken < choices[number].len() {
                let turn = choices[number].swap_remove(taken);
                sum = moved(sum, -turn.gain / common, width).unwrap_or(sum);
                found.push(turn);
            }
        }
        found
    }

    /// The ways to turn none, some or all of a group; those that count alike are turned in
    /// their order.
    fn turns(&self, group: usize) -> Vec<Turn> {
        let members = &self.groups[group];
        let mut alike: Vec<(i128, Vec<usize>)> = Vec::new();
        for &place in members {
            let gain = self.loose[place].turn_gains();
            match alike.iter_mut().find(|(known, _)| *known == gain) {
                Some((_, places)) => places.push(place),
                None => alike.push((gain, vec![place])),
            }
        }
        let mut turns = vec![Turn::default()];
        for (gain, places) in alike {
            let so_far = std::mem::take(&mut turns);
            for turn in &so_far {
                for count in 0..=places.len().min(MAX_TURNS / so_far.len().max(1)) {
                    let mut turn = turn.clone();
                    for &place in &places[..count] {
                        turn.gain += gain;
                        turn.cost += self.loose[place].turn_costs();
                        turn.places.push(place);
                    }
                    turns.push(turn);
                }
            }
        }
        for turn in &mut turns {
            if !turn.places.is_empty() && turn.places.len() < members.len() {
                turn.cost += UNEQUAL;
            }
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

    /// What all that is weighed costs; of equal ones, what all that is shown beside it does.
    fn cost(&self) -> (i128, i128) {
        let moves: i128 =
            self.loose.iter().map(|one| if one.is_up { one.up } else { one.down }).sum();
        let rests: i128 = self.rows.iter().filter_map(RoundingRow::steps).sum();
        let shown = self.rows.iter().filter(|row| row.step.is_none());
        (moves + rests, shown.map(RoundingRow::share).sum())
    }

    /// Turns groups, alone or two at a time, while that brings sums nearer and leaves the
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
        let mut best: Option<((i128, i128), usize, Option<usize>)> = None;
        let mut consider = |cost: (i128, i128), one: usize, two: Option<usize>| {
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

impl RoundingRow {
    /// How many steps a rest is off, in [`PARTS`].
    fn steps(&self) -> Option<i128> {
        let step = self.step?;
        let beyond = if self.off.abs() >= step { BEYOND } else { 0 };
        Some(self.off.abs() * i128::from(PARTS) / step + beyond)
    }

    /// How far it is off of what it is.
    fn share(&self) -> i128 {
        self.off.abs() * self.per_unit / i128::from(MILLION)
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
    let Some(per_size) = (sum - all).over(&sizes).filter(|_| !step.is_zero()) else {
        return exact.to_vec();
    };
    let aims: Vec<Exact> = exact.iter().map(|value| value + &per_size * size(value)).collect();
    let below = |value: &Exact| value.down_to(step);
    let above = |value: &Exact| value.up_to(step);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::ratio;

    fn weighed(weights: &[(i64, i64)], step: &Exact) -> Vec<Weighed> {
        let exact = weights.iter().map(|(above, below)| ratio(*above, *below));
        exact.map(|exact| Weighed { exact, step: step.clone() }).collect()
    }

    fn whole(count: usize) -> Sum {
        Sum { terms: (0..count).map(|weight| (weight, 1)).collect() }
    }

    fn sum(values: &[Exact]) -> Exact {
        values.iter().fold(Exact::ZERO, |sum, value| sum + value)
    }

    #[test]
    fn thirds_add_up_though_one_differs() {
        let thirds = weighed(&[(1000, 3); 3], &int(1));
        let shown = controlled(&thirds, &whole(3), &int(1000), Near::default());
        assert_eq!(sum(&shown), int(1000));
        // Of these a step is so much that each stays nearest to itself.
        let thirds = weighed(&[(100, 3); 3], &int(1));
        let shown = controlled(&thirds, &whole(3), &int(100), Near::default());
        assert_eq!(shown, [int(33), int(33), int(33)]);
    }

    /// Of two ways to the whole the one that moves a pinch is not taken, nor is it where it
    /// is the only one.
    #[test]
    fn a_pinch_goes_to_its_nearest_step() {
        // 0.285 g of yeast in 700.1 g, on a scale of 0.1 g for small weights only.
        let mut own = weighed(&[(4002, 10), (2993, 10), (285, 1000)], &int(1));
        own[2].step = ratio(1, 10);
        let shown = controlled(&own, &whole(3), &ratio(6998, 10), Near::default());
        assert_eq!(shown[2], ratio(3, 10));
        for tenths in 1..200 {
            own[2].exact = ratio(tenths, 100);
            let shown = controlled(&own, &whole(3), &ratio(6998, 10), Near::default());
            assert_eq!(shown[2], own[2].alone(), "{tenths}");
        }
    }

    #[test]
    fn equal_weights_stay_equal_where_the_whole_allows_it() {
        // 387.5 and 387.5 and 225: 388 + 388 + 224 is not to be had, for 225 is exact.
        let halves = weighed(&[(775, 2), (775, 2), (1351, 6)], &int(1));
        let shown = controlled(&halves, &whole(3), &int(1001), Near::default());
        assert_eq!(shown[0], shown[1]);
        assert_eq!(sum(&shown), int(1001));
    }

    /// What can be had at all, by trying every way to round: how far the whole is off, how
    /// many equal weights part, and what the moves cost.
    fn best(weighed: &[Weighed], times: &[i64], target: &Exact) -> (Exact, usize, Exact) {
        let mut best: Option<(Exact, usize, Exact)> = None;
        for ways in 0..1u32 << weighed.len() {
            let values: Vec<Exact> = weighed
                .iter()
                .enumerate()
                .map(|(place, own)| match ways >> place & 1 {
                    1 => own.exact.up_to(&own.step),
                    _ => own.exact.down_to(&own.step),
                })
                .collect();
            let judged = judge(weighed, times, target, &values);
            if best.as_ref().is_none_or(|best| judged < *best) {
                best = Some(judged);
            }
        }
        best.unwrap_or_default()
    }

    fn judge(
        weighed: &[Weighed],
        times: &[i64],
        target: &Exact,
        values: &[Exact],
    ) -> (Exact, usize, Exact) {
        let whole = values.iter().zip(times);
        let whole = whole.fold(Exact::ZERO, |sum, (value, times)| sum + value * int(*times));
        let size = |value: Exact| value.clone().max(-value);
        let mut parted: Vec<&Exact> = Vec::new();
        for (place, own) in weighed.iter().enumerate() {
            let same = |other: &usize| weighed[*other].exact == own.exact;
            let first = (0..place).find(same);
            if first.is_some_and(|first| values[first] != values[place])
                && !parted.contains(&&own.exact)
            {
                parted.push(&own.exact);
            }
        }
        let moves = weighed.iter().zip(values);
        let moves =
            moves.map(|(own, value)| size(value - &own.exact).over(&own.step).unwrap_or_default());
        let moves = moves.fold(Exact::ZERO, |sum, share| sum + share);
        (size(whole - target), parted.len(), moves)
    }

    /// Random weights on three steps, some equal, some counted several times: nothing that
    /// rounds down or up does better.
    #[test]
    fn nothing_does_better_by_brute_force() {
        let mut seed = 11u64;
        let mut below = |most: u64| {
            seed = seed * 48_271 % 2_147_483_647;
            i64::try_from(seed % most).unwrap_or(0)
        };
        for _ in 0..600 {
            let count = 2 + below(8);
            let mut own: Vec<Weighed> = Vec::new();
            for _ in 0..count {
                let again = own.get(usize::try_from(below(12)).unwrap_or(0)).cloned();
                let step =
                    [int(5), int(1), ratio(1, 10)][usize::try_from(below(3)).unwrap_or(0)].clone();
                let exact = ratio(1 + below(90_000), 1 + below(40)) + int(500);
                own.push(again.unwrap_or(Weighed { exact, step }));
            }
            let times: Vec<i64> = own.iter().map(|_| if below(4) == 0 { 3 } else { 1 }).collect();
            let terms = times.iter().copied().enumerate().collect();
            let exact = own.iter().zip(&times);
            let exact = exact.fold(Exact::ZERO, |sum, (own, times)| sum + &own.exact * int(*times));
            let target = to_step(&exact, &ratio(1, 10));
            let values = controlled(&own, &Sum { terms }, &target, Near::default());
            let (off, parted, moves) = judge(&own, &times, &target, &values);
            let (best_off, best_parted, best_moves) = best(&own, &times, &target);
            assert_eq!(off, best_off, "{own:?} {times:?}");
            assert_eq!(parted, best_parted, "{own:?} {times:?}");
            // Moves are compared in billionths.
            assert!(moves - best_moves < ratio(1, 10_000_000), "{own:?} {times:?}");
        }
    }

    #[test]
    fn shares_come_to_their_sum_and_stay_near() {
        let exact = [ratio(200, 11), ratio(200, 11)];
        let shown = shared_out(&exact, &exact, &ratio(363, 10), &ratio(1, 10));
        assert_eq!(sum(&shown), ratio(363, 10));
        for (shown, exact) in shown.iter().zip(&exact) {
            let off = shown - exact;
            assert!(off.clone().max(-off) < ratio(1, 10));
        }
    }
}
