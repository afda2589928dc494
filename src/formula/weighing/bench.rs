//! Every weight of a formula put on the scale, one stage after the other.

use super::places::shares;
use super::shown::weighed;
use crate::formula::line_ref::LineRef;
use crate::formula::worked::{Worked, WorkedLine};
use crate::quantity::display::Scale;
use crate::quantity::rounding::{Sum, Weighed};
use crate::quantity::{Exact, int};
use std::cmp::Reverse;

/// A part of a line is weighed by the steps of the largest one where it has so many of them
/// at least: a twentieth of it.
pub(super) const STEPS_OF_A_PART: i64 = 20;

/// The weights of a formula on their way to the scale.
pub(super) struct Bench<'a, 't> {
    pub(super) worked: &'a Worked<'t>,
    pub(super) batches: u32,
    pub(super) scale: &'a Scale,
    pub(super) weighed: Vec<Weighed>,
    /// By stage and line: what it shows.
    pub(super) stages: Vec<Vec<Sum>>,
    pub(super) feeds: Vec<Vec<Vec<Sum>>>,
    pub(super) discarded: Vec<Vec<Sum>>,
    /// What all lines of a stage come to.
    pub(super) made: Vec<Sum>,
    pub(super) kept: Vec<Sum>,
    pub(super) saved: Vec<Sum>,
    pub(super) lost: Vec<Sum>,
    pub(super) left: Vec<Sum>,
    pub(super) goes_on: Vec<Sum>,
    /// What is left of a stage for whoever takes the last of it.
    pub(super) rest: Vec<Sum>,
    /// How many lines have yet to take of a stage.
    pub(super) takers: Vec<usize>,
    /// By line of one batch.
    pub(super) batch: Vec<Sum>,
    /// By line of all batches.
    pub(super) all: Vec<Sum>,
    pub(super) parts: Vec<Vec<(usize, Sum)>>,
    /// What a step takes as what the others leave of a line, which should be near what it is exactly.
    pub(super) rests: Vec<Sum>,
    /// Lines of the dough that are stages, with the stage, where there are several batches.
    pub(super) shared: Vec<(usize, usize)>,
}

impl<'a, 't> Bench<'a, 't> {
    pub(super) fn of(worked: &'a Worked<'t>, batches: u32, scale: &'a Scale) -> Self {
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
    pub(super) fn weigh(&mut self, grams: &Exact) -> Sum {
        self.weighed.push(weighed(self.scale, grams));
        Sum::one(self.weighed.len() - 1)
    }

    /// Puts a weight on the scale as one that shows such steps.
    pub(super) fn weigh_by(&mut self, grams: &Exact, step: &Exact) -> Sum {
        self.weighed.push(Weighed { exact: grams.clone(), step: step.clone() });
        Sum::one(self.weighed.len() - 1)
    }

    /// A weight that nobody weighs, such as water that boils away.
    pub(super) fn unweighed(&mut self, grams: &Exact) -> Sum {
        self.weighed.push(Weighed { exact: grams.clone(), step: self.scale.finest() });
        Sum::one(self.weighed.len() - 1)
    }

    /// What a line takes of a stage: weighed, or all that is left for the last one.
    pub(super) fn taken(&mut self, stage: usize, grams: &Exact) -> Sum {
        self.takers[stage] = self.takers[stage].saturating_sub(1);
        let sum = match self.takers[stage] {
            0 => self.rest[stage].clone(),
            _ => self.weigh(grams),
        };
        self.rest[stage].add(&sum, -1);
        self.goes_on[stage].add(&sum, 1);
        sum
    }

    pub(super) fn stages(&mut self) {
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
    pub(super) fn earlier_feeds(&mut self, stage: usize) -> Option<(Exact, Sum)> {
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
    pub(super) fn discard(
        &mut self,
        stage: usize,
        mut made: Sum,
        next: &[WorkedLine],
        shown: &[Sum],
    ) {
        for (line, sum) in next.iter().zip(shown) {
            if matches!(line.goes, LineRef::Culture(_)) {
                made.add(sum, -1);
            }
        }
        self.discarded[stage].push(made);
    }

    /// What is taken out of a stage before anything goes on.
    pub(super) fn leaving(&mut self, stage: usize) {
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

    pub(super) fn dough(&mut self) {
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
    pub(super) fn line_in_parts(
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
    pub(super) fn parts_of(
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
}
