//! What the scale shows of every weight of a formula, so that rows, columns and heads
//! agree.
//!
//! *Weighed* amounts are multiples of the scale's step: each line of a stage, of a feed
//! and of one batch of the dough, each part that a step takes, what is kept or saved,
//! every part of a stage but the last. *Sums* are not weighed: lines of the total, the sum
//! of a column, several batches, a stage that goes in whole or its last part. They are
//! exactly what the shown amounts add up to.

use super::class::Class;
use super::composition::Substance;
use super::line_ref::LineRef;
use super::worked::{Within, Worked, WorkedLine};
use crate::quantity::display::{Scale, to_step};
use crate::quantity::rounding::{Sum, Weighed, controlled, shared_out};
use crate::quantity::{Exact, int};
use crate::syntax::tree::Counting;
use rustc_hash::FxHashMap;
use std::cmp::Reverse;

/// A weight as it is shown, in grams.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shown {
    /// What it shows.
    pub grams: Exact,
    /// The finest step of a scale in it; zero where nothing is weighed.
    pub step: Exact,
}

impl Shown {
    /// A weight by itself, on the scale.
    pub fn alone(scale: &Scale, grams: &Exact) -> Self {
        if grams.is_zero() {
            return Self::default();
        }
        let step = scale.resolution(grams);
        Self { grams: to_step(grams, &step), step }
    }

    /// The sum of what some weights show.
    pub fn sum<'s>(shown: impl IntoIterator<Item = &'s Self>) -> Self {
        shown.into_iter().fold(Self::default(), |sum, shown| Self {
            grams: sum.grams + &shown.grams,
            step: finer(sum.step, &shown.step),
        })
    }

    /// What is left of it.
    pub fn less(&self, part: &Self) -> Self {
        Self { grams: &self.grams - &part.grams, step: finer(self.step.clone(), &part.step) }
    }

    /// Several of it.
    pub fn times(&self, count: &Exact) -> Self {
        Self { grams: &self.grams * count, step: self.step.clone() }
    }
}

fn finer(one: Exact, two: &Exact) -> Exact {
    if one.is_zero() || (!two.is_zero() && *two < one) { two.clone() } else { one }
}

/// A part of a line is weighed by the steps of the largest one where it has so many of them
/// at least: a twentieth of it.
const STEPS_OF_A_PART: i64 = 20;

/// A column: its lines, as they stand in the mix, and what they add up to.
#[derive(Clone, Debug, Default)]
pub struct Column {
    /// Each line.
    pub lines: Vec<Shown>,
    /// What the lines show together.
    pub sum: Shown,
}

impl Column {
    fn of(lines: Vec<Shown>) -> Self {
        let sum = Shown::sum(&lines);
        Self { lines, sum }
    }
}

/// What leaves a stage.
#[derive(Clone, Debug, Default)]
pub struct Leaving {
    /// Ripe stage that becomes the next culture.
    pub kept_back: Shown,
    /// What is saved for the next time.
    pub saved: Shown,
    /// What nothing uses.
    pub left_over: Shown,
    /// What goes into the next mixes.
    pub goes_on: Shown,
}

/// All that a print shows of a formula's weights, on one scale.
#[derive(Clone, Debug, Default)]
pub struct Weighing {
    /// By stage; of one that is fed several times, its last feed.
    pub stages: Vec<Column>,
    /// By stage, the feeds before the last, the first one first.
    pub earlier_feeds: Vec<Vec<Column>>,
    /// By stage and feed before the last, what the next feed does not take.
    pub discarded: Vec<Vec<Shown>>,
    /// What leaves each stage.
    pub leaving: Vec<Leaving>,
    /// One batch of the final dough.
    pub batch: Column,
    /// All batches.
    pub dough: Column,
    /// What each step takes of each line of a batch, where several do: step and part.
    pub parts: Vec<Vec<(usize, Shown)>>,
    /// The lines of the whole formula, as [`total_rows`] lists them.
    pub total: Column,
    /// The dough that was asked for, to the finest step that is used.
    pub asked: Shown,
    /// Whether what everything adds up to is the dough's exact weight, as far as the
    /// scale can tell.
    pub is_exact: bool,
}

/// A line of the whole formula.
#[derive(Clone, Debug)]
pub struct TotalRow {
    /// Its exact mass and its name.
    pub line: WorkedLine,
    /// Its place in `total`, where it stands there.
    pub declared: Option<usize>,
}

/// The lines of the whole formula: those of `total` and the flour that only a culture
/// brings, or everything that is in the dough, flours first.
pub fn total_rows(worked: &Worked) -> Vec<TotalRow> {
    let numbers = worked.first();
    let Some(mix) = &worked.formula.total else {
        let lines = lines_of(worked, numbers.whole.iter());
        let mut rows: Vec<TotalRow> = lines.map(|line| TotalRow { line, declared: None }).collect();
        rows.sort_by_key(|row| rank(worked, &row.line));
        return rows;
    };
    // A line of a stage or a culture only says how large something is.
    let stands = |line: &&WorkedLine| {
        let whole = line.line.and_then(|index| mix.lines.get(index));
        !matches!(line.goes, LineRef::Stage(_) | LineRef::OldDough | LineRef::Culture(_))
            || whole.is_some_and(|line| matches!(line.counting, Counting::NotSplit))
    };
    let own = numbers.total_lines.iter().filter(stands);
    let own = own.map(|line| TotalRow { declared: line.line, line: line.clone() });
    // Of what the lines bring too, only the rest is meant here.
    let unlisted =
        lines_of(worked, numbers.unlisted.iter()).map(|line| TotalRow { line, declared: None });
    own.chain(unlisted).collect()
}

/// A place where prints show a weight.
#[derive(Clone, Copy, Debug)]
pub enum ShownAt {
    /// A line of the final dough for one batch, by its place in the dough.
    Batch(usize),
    /// A line of a stage, by the places of both.
    Stage(usize, usize),
    /// The sum of a stage, by its place.
    StageSum(usize),
    /// A line of the final dough, by its place.
    Dough(usize),
    /// The sum of the final dough.
    DoughSum,
    /// A line of the whole formula, by its place.
    Total(usize),
    /// What a step takes of a line of one batch, by the places of both.
    Part(usize, usize),
}

impl ShownAt {
    /// What is shown there.
    pub fn shown(self, of: &Weighing) -> Option<&Shown> {
        match self {
            Self::Batch(line) => of.batch.lines.get(line),
            Self::Stage(stage, line) => of.stages.get(stage)?.lines.get(line),
            Self::StageSum(stage) => Some(&of.stages.get(stage)?.sum),
            Self::Dough(line) => of.dough.lines.get(line),
            Self::DoughSum => Some(&of.dough.sum),
            Self::Total(row) => of.total.lines.get(row),
            Self::Part(line, number) => of.parts.get(line)?.get(number).map(|(_, part)| part),
        }
    }
}

/// The exact weights of lines and sums with where prints show them; what is weighed goes
/// first, so that of two that are equal it is the one to quote.
pub fn places(worked: &Worked, batches: u32, rows: &[TotalRow]) -> Vec<(Exact, ShownAt)> {
    let numbers = worked.first();
    let batches = Exact::from(batches.max(1));
    let mut places = Vec::new();
    for (place, line) in numbers.dough_lines.iter().enumerate() {
        places.push((line.mass.each_of(&batches), ShownAt::Batch(place)));
    }
    for (stage, own) in numbers.stages.iter().enumerate() {
        for (place, line) in own.lines.iter().enumerate() {
            places.push((line.mass.clone(), ShownAt::Stage(stage, place)));
        }
        places.push((own.made.clone(), ShownAt::StageSum(stage)));
    }
    for (place, (line, shares)) in numbers.dough_lines.iter().zip(shares(worked)).enumerate() {
        let batch = line.mass.each_of(&batches);
        for (number, (_, share)) in shares.iter().flatten().enumerate() {
            places.push((&batch * share, ShownAt::Part(place, number)));
        }
    }
    for (place, line) in numbers.dough_lines.iter().enumerate() {
        places.push((line.mass.clone(), ShownAt::Dough(place)));
    }
    for (place, row) in rows.iter().enumerate() {
        places.push((row.line.mass.clone(), ShownAt::Total(place)));
    }
    places.push((numbers.whole.mass(), ShownAt::DoughSum));
    places
}

/// For each line of the dough, the steps that take a part of it, and the share of each;
/// none where one step takes all.
fn shares(worked: &Worked) -> Vec<Option<Vec<(usize, Exact)>>> {
    let lines = &worked.first().dough_lines;
    let mut shares: Vec<Vec<(usize, Exact)>> = vec![Vec::new(); lines.len()];
    if let Some(method) = &worked.formula.method {
        let additions = worked.additions(method, Within::FinalDough);
        for (step, added) in additions.steps.iter().enumerate() {
            for added in added.iter().filter(|added| !added.beside && added.part) {
                let is_it =
                    |line: &WorkedLine| line.key == added.line.key && line.role == added.line.role;
                if let Some(place) = lines.iter().position(is_it) {
                    shares[place].push((step, added.share.clone()));
                }
            }
        }
    }
    let whole = |shares: &Vec<(usize, Exact)>| {
        let sum = shares.iter().fold(Exact::ZERO, |sum, (_, share)| sum + share);
        shares.len() > 1 && sum.is_one()
    };
    shares.into_iter().map(|shares| whole(&shares).then_some(shares)).collect()
}

/// Flours first, then water, salt, what raises, the rest.
fn rank(worked: &Worked, line: &WorkedLine) -> u8 {
    let LineRef::Ingredient(id) = line.goes else { return 9 };
    match worked.house.ingredient(id).class {
        _ if worked.is_flour(id) => 0,
        Class::Water => 1,
        Class::Liquid | Class::Dairy | Class::Egg => 2,
        Class::Salt => 3,
        Class::Yeast | Class::Leavener => 4,
        _ => 5,
    }
}

fn lines_of<'c>(
    worked: &Worked,
    content: impl Iterator<Item = (Substance, &'c Exact)>,
) -> impl Iterator<Item = WorkedLine> {
    let (house, numbers) = (worked.house, worked.first());
    let mut first: FxHashMap<LineRef, &WorkedLine> = FxHashMap::default();
    for line in numbers.stages.iter().flat_map(|stage| &stage.lines).chain(&numbers.dough_lines) {
        first.entry(line.goes).or_insert(line);
    }
    content.map(move |(substance, mass)| {
        let (goes, name) = match substance {
            Substance::Ingredient(id) => (LineRef::Ingredient(id), &house.ingredient(id).name),
            Substance::Kept(id) | Substance::Whole(id) => {
                (LineRef::Culture(id), &house.culture(id).name)
            }
            Substance::OldDough => (LineRef::OldDough, &worked.formula.name),
        };
        // The author's own word for it, where it stands on a line.
        let own = first.get(&goes);
        WorkedLine {
            goes,
            name: own.map_or_else(|| name.shown.clone(), |line| line.name.clone()),
            key: own.map_or_else(|| name.key.clone(), |line| line.key.clone()),
            role: None,
            mass: mass.clone(),
            more: Exact::ZERO,
            line: None,
        }
    })
}

/// Rounds a column that stands for itself, so that it adds up to what `target` shows.
pub fn column(scale: &Scale, grams: &[Exact], target: &Exact) -> Column {
    let weighed: Vec<Weighed> = grams.iter().map(|grams| weighed(scale, grams)).collect();
    let mut whole = Sum::default();
    (0..weighed.len()).for_each(|line| whole.add(&Sum::one(line), 1));
    let values = controlled(&weighed, &whole, target, &[]);
    let lines = values.into_iter().zip(&weighed);
    Column::of(lines.map(|(grams, own)| Shown { grams, step: own.step.clone() }).collect())
}

fn weighed(scale: &Scale, grams: &Exact) -> Weighed {
    let step = if grams.is_zero() { Exact::ZERO } else { scale.resolution(grams) };
    Weighed { exact: grams.clone(), step }
}

/// Rounds all weights of a formula, made in so many batches, to what a scale shows.
pub fn weigh(worked: &Worked, batches: u32, scale: &Scale, rows: &[TotalRow]) -> Weighing {
    let mut bench = Bench::of(worked, batches.max(1), scale);
    bench.stages();
    bench.dough();
    let whole = bench.whole();
    let step = match whole.finest(&bench.weighed) {
        step if step.is_zero() => scale.finest(),
        step => step,
    };
    let target = to_step(&worked.first().whole.mass(), &step);
    let exact: Vec<Exact> = bench.weighed.iter().map(|own| own.exact.clone()).collect();
    let groups = bench.groups(rows);
    bench.settle_what_was_asked(&whole);
    bench.settle_batches();
    let near = groups.iter().flat_map(|group| &group.rows).map(|(_, own)| own);
    let near: Vec<Sum> = near.chain(&bench.rests).cloned().collect();
    let values = controlled(&bench.weighed, &whole, &target, &near);
    let total = bench.rows(rows, &groups, &values, &exact);
    bench.shown(&values, total, Shown { grams: target, step })
}

/// The weights of a formula on their way to the scale.
struct Bench<'a, 't> {
    worked: &'a Worked<'t>,
    batches: u32,
    scale: &'a Scale,
    weighed: Vec<Weighed>,
    /// By stage and line: what it shows.
    stages: Vec<Vec<Sum>>,
    feeds: Vec<Vec<Vec<Sum>>>,
    discarded: Vec<Vec<Sum>>,
    /// What all lines of a stage come to.
    made: Vec<Sum>,
    kept: Vec<Sum>,
    saved: Vec<Sum>,
    lost: Vec<Sum>,
    left: Vec<Sum>,
    goes_on: Vec<Sum>,
    /// What is left of a stage for whoever takes the last of it.
    rest: Vec<Sum>,
    /// How many lines have yet to take of a stage.
    takers: Vec<usize>,
    /// By line of one batch.
    batch: Vec<Sum>,
    /// By line of all batches.
    all: Vec<Sum>,
    parts: Vec<Vec<(usize, Sum)>>,
    /// What a step takes as what the others leave of a line, which should be near what it is exactly.
    rests: Vec<Sum>,
    /// Lines of the dough that are stages, with the stage, where there are several batches.
    shared: Vec<(usize, usize)>,
}

impl<'a, 't> Bench<'a, 't> {
    fn of(worked: &'a Worked<'t>, batches: u32, scale: &'a Scale) -> Self {
        let stages = worked.formula.stages.len();
        let none = || vec![Sum::default(); stages];
        let numbers = worked.first();
        let lines = numbers.stages.iter().flat_map(|stage| &stage.lines);
        let mut takers = vec![0; stages];
        for line in lines.chain(&numbers.dough_lines) {
            if let LineRef::Stage(stage) = line.goes {
                takers[stage] += 1;
            }
        }
        for (stage, _) in &numbers.left_over {
            takers[*stage] += 1;
        }
        Self {
            worked,
            batches,
            scale,
            weighed: Vec::new(),
            stages: vec![Vec::new(); stages],
            feeds: vec![Vec::new(); stages],
            discarded: vec![Vec::new(); stages],
            made: none(),
            kept: none(),
            saved: none(),
            lost: none(),
            left: none(),
            goes_on: none(),
            rest: none(),
            takers,
            batch: Vec::new(),
            all: Vec::new(),
            parts: Vec::new(),
            rests: Vec::new(),
            shared: Vec::new(),
        }
    }

    /// Puts a weight on the scale.
    fn weigh(&mut self, grams: &Exact) -> Sum {
        self.weighed.push(weighed(self.scale, grams));
        Sum::one(self.weighed.len() - 1)
    }

    /// Puts a weight on the scale as one that shows such steps.
    fn weigh_by(&mut self, grams: &Exact, step: &Exact) -> Sum {
        self.weighed.push(Weighed { exact: grams.clone(), step: step.clone() });
        Sum::one(self.weighed.len() - 1)
    }

    /// A weight that nobody weighs, such as water that boils away.
    fn unweighed(&mut self, grams: &Exact) -> Sum {
        self.weighed.push(Weighed { exact: grams.clone(), step: self.scale.finest() });
        Sum::one(self.weighed.len() - 1)
    }

    /// What a line takes of a stage: weighed, or all that is left for the last one.
    fn taken(&mut self, stage: usize, grams: &Exact) -> Sum {
        self.takers[stage] = self.takers[stage].saturating_sub(1);
        let sum = match self.takers[stage] {
            0 => self.rest[stage].clone(),
            _ => self.weigh(grams),
        };
        self.rest[stage].add(&sum, -1);
        self.goes_on[stage].add(&sum, 1);
        sum
    }

    fn stages(&mut self) {
        for &stage in &self.worked.order {
            let seed = self.earlier_feeds(stage);
            let numbers = &self.worked.first().stages[stage];
            let mut lines = Vec::with_capacity(numbers.lines.len());
            for line in &numbers.lines {
                lines.push(match (line.goes, &seed) {
                    (LineRef::Stage(inner), _) => self.taken(inner, &line.mass),
                    (LineRef::Culture(_), Some((mass, seed))) if *mass == line.mass => seed.clone(),
                    _ => self.weigh(&line.mass),
                });
            }
            if let Some((_, made)) = seed {
                self.discard(stage, made, &numbers.lines, &lines);
            }
            for line in &lines {
                self.made[stage].add(line, 1);
            }
            self.stages[stage] = lines;
            self.leaving(stage);
        }
    }

    /// The feeds before the last; what the last of them makes, exactly and as a sum.
    fn earlier_feeds(&mut self, stage: usize) -> Option<(Exact, Sum)> {
        let feeds = self.worked.earlier_feeds(stage);
        let mut before: Option<(Exact, Sum)> = None;
        for feed in feeds {
            let (mut made, mut mass) = (Sum::default(), Exact::ZERO);
            let mut lines = Vec::with_capacity(feed.len());
            for line in &feed {
                let sum = match (line.goes, &before) {
                    (LineRef::Culture(_), Some((mass, seed))) if *mass == line.mass => seed.clone(),
                    _ => self.weigh(&line.mass),
                };
                made.add(&sum, 1);
                mass += &line.mass;
                lines.push(sum);
            }
            if let Some((_, before)) = before.take() {
                self.discard(stage, before, &feed, &lines);
            }
            self.feeds[stage].push(lines);
            before = Some((mass, made));
        }
        before
    }

    /// What of a feed the next one, of these lines, does not take in place of the culture.
    fn discard(&mut self, stage: usize, mut made: Sum, next: &[WorkedLine], shown: &[Sum]) {
        for (line, sum) in next.iter().zip(shown) {
            if matches!(line.goes, LineRef::Culture(_)) {
                made.add(sum, -1);
            }
        }
        self.discarded[stage].push(made);
    }

    /// What is taken out of a stage before anything goes on.
    fn leaving(&mut self, stage: usize) {
        let numbers = self.worked.first();
        let own = &numbers.stages[stage];
        let kept = self.worked.kept_back(numbers, stage);
        if !kept.is_zero() {
            // Kept is as much as was put in, so it shows the same.
            let lines = own.lines.iter().zip(&self.stages[stage]);
            let mut seeds = lines.filter(|(line, _)| matches!(line.goes, LineRef::Culture(_)));
            let same = seeds.find(|(line, _)| line.mass == kept).map(|(_, sum)| sum.clone());
            self.kept[stage] = same.unwrap_or_else(|| self.weigh(&kept));
        }
        if !own.saved.is_zero() {
            self.saved[stage] = self.weigh(&own.saved);
        }
        let lost = &own.made - &kept - &own.saved - own.goes_on.mass();
        if lost > Exact::ZERO {
            self.lost[stage] = self.unweighed(&lost);
        }
        let mut rest = self.made[stage].clone();
        for out in [&self.kept[stage], &self.saved[stage], &self.lost[stage]] {
            rest.add(out, -1);
        }
        self.rest[stage] = rest;
    }

    fn dough(&mut self) {
        let numbers = self.worked.first();
        let one = Exact::ONE.each_of(&Exact::from(self.batches));
        let shares = shares(self.worked);
        for (index, (line, shares)) in numbers.dough_lines.iter().zip(&shares).enumerate() {
            let shares = shares.as_ref();
            let own = &line.mass * &one;
            let all = match line.goes {
                LineRef::Stage(stage) => Some(self.taken(stage, &line.mass)),
                _ => None,
            };
            let (batch, parts) = match (&all, shares) {
                (Some(_), _) if self.batches > 1 => {
                    if let LineRef::Stage(stage) = line.goes {
                        self.shared.push((index, stage));
                    }
                    // Settled once the stage is.
                    let batch = self.weigh(&own);
                    let parts = shares.map(|shares| self.parts_of(&own, shares, Some(&batch)));
                    (batch, parts.unwrap_or_default())
                }
                (Some(all), Some(shares)) => {
                    let parts = self.parts_of(&own, shares, Some(all));
                    (all.clone(), parts)
                }
                (None, Some(shares)) => self.line_in_parts(&own, shares),
                (Some(all), None) => (all.clone(), Vec::new()),
                (None, None) => (self.weigh(&own), Vec::new()),
            };
            self.all.push(match all {
                Some(all) => all,
                None => {
                    let mut sum = Sum::default();
                    sum.add(&batch, i64::from(self.batches));
                    sum
                }
            });
            self.batch.push(batch);
            self.parts.push(parts);
        }
        for (stage, mass) in &numbers.left_over {
            let left = self.taken(*stage, mass);
            self.goes_on[*stage].add(&left, -1);
            self.left[*stage] = left;
        }
    }

    /// A line that several steps take of: the largest part is what the others leave of it, so
    /// that they come to the line, and the line to the whole. Where a part is so small that
    /// the steps of the large one would show in it, each is weighed by itself, and the line
    /// is what they come to.
    fn line_in_parts(
        &mut self,
        grams: &Exact,
        shares: &[(usize, Exact)],
    ) -> (Sum, Vec<(usize, Sum)>) {
        let masses: Vec<Exact> = shares.iter().map(|(_, share)| grams * share).collect();
        let largest = (0..masses.len()).max_by_key(|&place| (&masses[place], Reverse(place)));
        let step = largest.map(|place| self.scale.resolution(&masses[place])).unwrap_or_default();
        let least = &step * int(STEPS_OF_A_PART);
        let fits = |mass: &Exact| {
            let own = self.scale.resolution(mass);
            own == step || (*mass >= least && step.is_multiple_of(&own))
        };
        if !masses.iter().all(fits) {
            let parts = self.parts_of(grams, shares, None);
            let mut sum = Sum::default();
            parts.iter().for_each(|(_, part)| sum.add(part, 1));
            return (sum, parts);
        }
        let whole = self.weigh_by(grams, &step);
        let (mut rest, mut parts) = (whole.clone(), Vec::with_capacity(shares.len()));
        for (place, (mass, (number, _))) in masses.iter().zip(shares).enumerate() {
            if Some(place) == largest {
                parts.push((*number, Sum::default()));
                continue;
            }
            let part = self.weigh_by(mass, &step);
            rest.add(&part, -1);
            parts.push((*number, part));
        }
        self.rests.push(rest.clone());
        if let Some((_, part)) = largest.and_then(|place| parts.get_mut(place)) {
            *part = rest;
        }
        (whole, parts)
    }

    /// Each part is weighed; of a stage, the last one is what is left of it.
    fn parts_of(
        &mut self,
        grams: &Exact,
        shares: &[(usize, Exact)],
        all: Option<&Sum>,
    ) -> Vec<(usize, Sum)> {
        let mut rest = all.cloned();
        let mut parts = Vec::with_capacity(shares.len());
        for (number, (step, share)) in shares.iter().enumerate() {
            let last = number + 1 == shares.len();
            let part = match &mut rest {
                Some(rest) if last => rest.clone(),
                Some(rest) => {
                    let part = self.weigh(&(grams * share));
                    rest.add(&part, -1);
                    part
                }
                None => self.weigh(&(grams * share)),
            };
            parts.push((*step, part));
        }
        parts
    }

    /// What the whole dough comes to.
    fn whole(&self) -> Sum {
        let mut whole = Sum::default();
        self.all.iter().for_each(|line| whole.add(line, 1));
        whole
    }

    /// A stage that the scale can show exactly, such as what is in the jar, is shown so
    /// where it is what was asked for, or where the whole dough can't be.
    fn settle_what_was_asked(&mut self, whole: &Sum) {
        let exact: Vec<Exact> = self.weighed.iter().map(|own| own.exact.clone()).collect();
        let step = whole.finest(&self.weighed);
        let is_whole = step.is_zero() || whole.of(&exact).is_multiple_of(&step);
        let formula = &self.worked.formula;
        let from = formula.makes.as_ref().and_then(|makes| makes.from.as_ref());
        let asked_for: Vec<bool> = formula
            .stages
            .iter()
            .map(|stage| from.is_some_and(|(_, target)| target.name.key == stage.name.key))
            .collect();
        for stage in 0..self.goes_on.len() {
            if is_whole && asked_for.get(stage) != Some(&true) {
                continue;
            }
            let asked = self.goes_on[stage].clone();
            let grams = asked.of(&exact);
            if grams.is_zero() || !grams.is_multiple_of(&self.scale.resolution(&grams)) {
                continue;
            }
            let values = controlled(&self.weighed, &asked, &grams, &[]);
            if asked.of(&values) == grams {
                self.settle(stage, &asked, &values);
            }
        }
    }

    /// A stage that goes into several batches is made so that each batch takes the same,
    /// where the scale allows it. What is settled here is not moved any more.
    fn settle_batches(&mut self) {
        for (line, stage) in self.shared.clone() {
            let exact: Vec<Exact> = self.weighed.iter().map(|own| own.exact.clone()).collect();
            let each = self.all[line].of(&exact).each_of(&Exact::from(self.batches));
            let step = self.scale.resolution(&each);
            let found = self.evenly(line, &each, &step);
            let (values, each) = found.unwrap_or_else(|| {
                let target = self.all[line].of(&exact);
                let values = controlled(&self.weighed, &self.all[line], &target, &[]);
                // The last batch takes what is left.
                let each = self.all[line].of(&values).each_of(&Exact::from(self.batches));
                (values, to_step(&each, &step))
            });
            let all = self.all[line].clone();
            self.settle(stage, &all, &values);
            if let Some((own, _)) = self.batch[line].terms.first() {
                self.weighed[*own] = Weighed { exact: each, step };
            }
        }
    }

    /// Leaves what goes into a stage, and whatever is equal to it, as it is now.
    fn settle(&mut self, stage: usize, all: &Sum, values: &[Exact]) {
        let terms = self.made[stage].terms.iter().chain(&all.terms);
        let touched: Vec<Weighed> =
            terms.filter_map(|(own, _)| self.weighed.get(*own).cloned()).collect();
        let is_touched = |own: &Weighed| {
            touched.iter().any(|one| one.exact == own.exact && one.step == own.step)
        };
        for (own, value) in self.weighed.iter_mut().zip(values) {
            if is_touched(own) {
                own.exact.clone_from(value);
            }
        }
    }

    /// Values at which a stage's part is so many equal parts of whole steps.
    fn evenly(&self, line: usize, each: &Exact, step: &Exact) -> Option<(Vec<Exact>, Exact)> {
        if step.is_zero() {
            return None;
        }
        let near = to_step(each, step);
        let count = Exact::from(self.batches);
        let off = |steps: i64| &near + step * int(steps);
        [0, 1, -1, 2, -2].map(off).into_iter().find_map(|each| {
            let target = &each * &count;
            let values = controlled(&self.weighed, &self.all[line], &target, &[]);
            (self.all[line].of(&values) == target).then_some((values, each))
        })
    }

    /// The rows of the total, those of one ingredient together.
    fn groups(&self, rows: &[TotalRow]) -> Vec<RowGroup> {
        let numbers = self.worked.first();
        let reaches = self.worked.reach_the_dough();
        let mut groups: Vec<RowGroup> = Vec::new();
        let mut group_of: FxHashMap<LineRef, usize> = FxHashMap::default();
        for (place, row) in rows.iter().enumerate() {
            let known = group_of.get(&row.line.goes).copied();
            let group = known.filter(|_| row.line.goes != LineRef::Nothing);
            let group = group.unwrap_or_else(|| {
                groups.push(RowGroup::default());
                group_of.insert(row.line.goes, groups.len() - 1);
                groups.len() - 1
            });
            groups[group].rows.push((place, Sum::default()));
        }
        for (line, own) in numbers.dough_lines.iter().zip(&self.all) {
            let Some(&group) = group_of.get(&line.goes) else { continue };
            let group = &mut groups[group];
            let same_role = |(place, _): &&mut (usize, Sum)| rows[*place].line.role == line.role;
            let only = group.rows.len() == 1;
            match group.rows.iter_mut().find(|row| only || same_role(row)) {
                Some((_, sum)) => sum.add(own, 1),
                None => group.apart.add(own, 1),
            }
        }
        for (stage, lines) in self.stages.iter().enumerate().filter(|(stage, _)| reaches[*stage]) {
            for (line, own) in numbers.stages[stage].lines.iter().zip(lines) {
                if let Some(&group) = group_of.get(&line.goes) {
                    groups[group].apart.add(own, 1);
                }
            }
        }
        // Where there is one row, all of it is that row's.
        for group in &mut groups {
            if let [(_, sum)] = group.rows.as_mut_slice() {
                sum.add(&std::mem::take(&mut group.apart), 1);
            }
        }
        groups
    }

    /// What each row shows: what is weighed of it, and its share of what comes in other
    /// things, such as cultures, or leaves with them.
    fn rows(
        &self,
        rows: &[TotalRow],
        groups: &[RowGroup],
        values: &[Exact],
        exact: &[Exact],
    ) -> Column {
        let masses = || rows.iter().map(|row| &row.line.mass);
        let all = masses().fold(Exact::ZERO, |sum, mass| sum + mass);
        let whole = self.whole();
        if all != whole.of(exact) {
            return Column::of(masses().map(|mass| Shown::alone(self.scale, mass)).collect());
        }
        let fine = self.scale.finest();
        let mut shown = vec![Shown::default(); rows.len()];
        let mut inside = Vec::with_capacity(rows.len());
        let mut left = whole.of(values);
        let mut places = Vec::with_capacity(rows.len());
        for group in groups {
            let is = group
                .rows
                .iter()
                .fold(Exact::ZERO, |sum, (place, _)| sum + &rows[*place].line.mass);
            let own = |of: &[Exact]| {
                let rows = group.rows.iter().fold(Exact::ZERO, |sum, (_, own)| sum + own.of(of));
                rows + group.apart.of(of)
            };
            inside.push((is.clone() - own(exact), to_step(&is, &fine) - own(values)));
            left -= own(values);
            places.push(&group.rows);
        }
        let (is, wanted): (Vec<Exact>, Vec<Exact>) = inside.into_iter().unzip();
        let brought = shared_out(&is, &wanted, &left, &fine);
        for (group, brought) in groups.iter().zip(brought) {
            // What is not weighed for one of several rows is shared out among them.
            let more = &brought + group.apart.of(values);
            let own =
                |of: &[Exact]| group.rows.iter().map(|(_, own)| own.of(of)).collect::<Vec<_>>();
            let now = own(values);
            let is: Vec<Exact> = group
                .rows
                .iter()
                .zip(own(exact))
                .map(|((place, _), own)| &rows[*place].line.mass - own)
                .collect();
            let wanted: Vec<Exact> = group
                .rows
                .iter()
                .zip(&now)
                .map(|((place, _), now)| to_step(&rows[*place].line.mass, &fine) - now)
                .collect();
            let shares = shared_out(&is, &wanted, &more, &fine);
            for (((place, own), now), share) in group.rows.iter().zip(now).zip(shares) {
                let step = own.finest(&self.weighed);
                let step = if share.is_zero() { step } else { finer(step, &fine) };
                shown[*place] = Shown { grams: now + share, step };
            }
        }
        Column::of(shown)
    }

    fn see(&self, sum: &Sum, values: &[Exact]) -> Shown {
        Shown { grams: sum.of(values), step: sum.finest(&self.weighed) }
    }

    fn shown(&self, values: &[Exact], total: Column, asked: Shown) -> Weighing {
        let column = |lines: &Vec<Sum>| {
            Column::of(lines.iter().map(|line| self.see(line, values)).collect())
        };
        let leaving = |stage: usize| Leaving {
            kept_back: self.see(&self.kept[stage], values),
            saved: self.see(&self.saved[stage], values),
            left_over: self.see(&self.left[stage], values),
            goes_on: self.see(&self.goes_on[stage], values),
        };
        let parts = self.parts.iter().map(|parts| {
            parts.iter().map(|(step, part)| (*step, self.see(part, values))).collect()
        });
        let dough = column(&self.all);
        Weighing {
            stages: self.stages.iter().map(column).collect(),
            earlier_feeds: self
                .feeds
                .iter()
                .map(|feeds| feeds.iter().map(column).collect())
                .collect(),
            discarded: self
                .discarded
                .iter()
                .map(|feeds| feeds.iter().map(|left| self.see(left, values)).collect())
                .collect(),
            leaving: (0..self.stages.len()).map(leaving).collect(),
            batch: column(&self.batch),
            is_exact: dough.sum.grams == asked.grams,
            asked,
            dough,
            parts: parts.collect(),
            total,
        }
    }
}

/// The rows of one ingredient in the total.
#[derive(Default)]
struct RowGroup {
    /// Their places, and what is weighed of each.
    rows: Vec<(usize, Sum)>,
    /// What is weighed of the ingredient, no matter for which row.
    apart: Sum,
}
