//! Another room, refrigerator or share of seed: what ferments takes longer or shorter.
//!
//! Only ratios of rates are used: the time that the author wrote, at the temperature and
//! with the seed they wrote, does so much work, and the new time is the one that does as
//! much (`pace.rs`). Where a dough starts warmer or colder than what it stands in, the
//! whole course of its temperature counts (`course.rs`). What stands in a proofer or an
//! oven keeps its time. Every result is an estimate, in steps of five minutes.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::cooling::CoolingError;
use super::course::Course;
use super::graph::{Doing, Folds, Graph, Retimed, Stretch};
use super::growth::{GrowthError, Model, Organism};
use super::laws::SeedFraction;
use super::pace::Pace;
use super::standing::{Asked, StandKind, Standing};
use crate::formula::class::Class;
use crate::formula::{House, LineRef, Worked, known, limit};
use crate::quantity::display::to_step;
use crate::quantity::{Exact, ratio};

/// What was timed anew, and what was not.
#[derive(Clone, Debug, Default)]
pub struct Retiming {
    /// Whether anything was asked.
    pub asked: bool,
    /// What was timed anew, in the order of the graph.
    pub estimates: Vec<Estimate>,
    /// What keeps its written time.
    pub kept: Vec<Kept>,
}

/// A time that a model gave.
#[derive(Clone, Debug)]
pub struct Estimate {
    /// The stretch of the graph.
    pub stretch: usize,
    /// Minutes before, and now.
    pub before: (Exact, Option<Exact>),
    /// Minutes now.
    pub now: (Exact, Option<Exact>),
    /// What is another than was written.
    pub changed: Changed,
    /// The model that gave it; of yeasts and bacteria, that of those ready first.
    pub model: Model,
    /// Of what starts at another temperature than it stands in: degrees Celsius at its
    /// start, and minutes in which half of the difference is gone.
    pub course: Option<(Exact, Exact)>,
}

/// What is another than was written.
#[derive(Clone, Debug)]
pub enum Changed {
    /// Degrees Celsius as written, and as they are now.
    Warmth {
        /// Degrees Celsius.
        from: Exact,
        /// Degrees Celsius.
        to: Exact,
    },
    /// Seed as a share of the new flour, as written and as it would be.
    Seed {
        /// A share of the new flour.
        from: Exact,
        /// A share of the new flour.
        to: Exact,
    },
}

/// A stretch that keeps its written time, though it stands in what was changed.
#[derive(Clone, Debug)]
pub struct Kept {
    /// By its place in the graph.
    pub stretch: usize,
    /// Why it was not timed anew.
    pub because: Because,
}

/// Why a time is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Because {
    /// A culture does the work, of which nothing is known in the cold.
    Culture,
    /// Nothing says what temperature its time is written for.
    NoTemperature,
    /// It is frozen when it begins.
    Frozen,
}

/// Why a formula can't be timed anew.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NotTimed {
    /// What was asked: `room`, `cold`, `seed`.
    pub asked: &'static str,
    /// What the models can't say.
    pub why: Why,
}

/// Why a model gives no time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// It is about how organisms grow.
    Growth(GrowthError),
    /// It is about how dough cools.
    Cooling(CoolingError),
}

impl From<GrowthError> for Why {
    fn from(error: GrowthError) -> Self {
        Self::Growth(error)
    }
}

impl From<CoolingError> for Why {
    fn from(error: CoolingError) -> Self {
        Self::Cooling(error)
    }
}

/// Times a graph anew for what is asked, and tells what was changed.
///
/// # Errors
/// Where a temperature is outside what a model is known for, the share is no seed, or the
/// house's measurement of cooling can't be.
pub fn retime(
    house: &House,
    worked: &Worked,
    graph: &mut Graph,
    asked: &Asked,
) -> Result<Retiming, NotTimed> {
    let mut retiming = Retiming::default();
    if asked.room.is_none() && asked.cold.is_none() && asked.seed.is_none() {
        return Ok(retiming);
    }
    retiming.asked = true;
    if let Some(share) = &asked.seed {
        in_use(share).map_err(|why| NotTimed { asked: "seed", why: why.into() })?;
    }
    let mut course = Course::new(house, worked, asked);
    for index in 0..graph.stretches.len() {
        let Some(stretch) = graph.stretches.get_mut(index) else { break };
        let Some(standing) = Standing::of(house, worked, &stretch.doing) else { continue };
        let run = StretchRun { house, worked, index, standing: &standing };
        let before = stretch.clone();
        if let Some((at, asked)) = run.other(asked) {
            run.warmed(stretch, &mut course, at, asked, &mut retiming)?;
        }
        if let Some(share) = &asked.seed {
            run.seeded(stretch, share, &mut retiming)?;
        }
        let now = standing.now(asked);
        course.go_on(&standing, &before, stretch, now.as_ref());
        settle(stretch, &before);
    }
    told_as_settled(graph, &mut retiming.estimates);
    let folds = graph.folds.clone();
    folds.iter().for_each(|folds| respread(graph, folds));
    Ok(retiming)
}

/// One stretch that is looked at.
struct StretchRun<'a, 't> {
    house: &'a House<'t>,
    worked: &'a Worked<'t>,
    index: usize,
    standing: &'a Standing,
}

impl StretchRun<'_, '_> {
    /// The temperature it is asked to stand at, and by which option.
    fn other<'e>(&self, asked: &'e Asked) -> Option<(&'e Exact, &'static str)> {
        if !self.standing.ferments {
            return None;
        }
        match self.standing.kind {
            StandKind::Room => Some((asked.room.as_ref()?, "room")),
            StandKind::Cold => Some((asked.cold.as_ref()?, "cold")),
            StandKind::Own => None,
        }
    }

    fn warmed(
        &self,
        stretch: &mut Stretch,
        course: &mut Course,
        now: &Exact,
        asked: &'static str,
        retiming: &mut Retiming,
    ) -> Result<(), NotTimed> {
        let models = models(self.house, self.worked, &stretch.doing);
        let keep = |because| Kept { stretch: self.index, because };
        if models.is_empty() || stretch.untimed {
            return Ok(());
        }
        let Some(written) = &self.standing.at else {
            retiming.kept.push(keep(Because::NoTemperature));
            return Ok(());
        };
        if written == now && course.starts_alike(self.standing) {
            return Ok(());
        }
        let celsius = |exact: &Exact| exact.to_f64();
        let refused = |why: Why| NotTimed { asked, why };
        let pace = match Pace::new(&models, celsius(written)) {
            Ok(pace) if pace.knows(celsius(now)).is_ok() => pace,
            // What cultures do in the cold is not known, so that its time is left alone.
            _ if self.standing.kind == StandKind::Cold && models.len() > 1 => {
                retiming.kept.push(keep(Because::Culture));
                return Ok(());
            }
            Ok(pace) => return pace.knows(celsius(now)).map_err(|why| refused(why.into())),
            Err(why) => return Err(refused(why.into())),
        };
        if course.is_frozen(self.standing) {
            retiming.kept.push(keep(Because::Frozen));
            return Ok(());
        }
        let ways = course.ways(self.standing, written, now).map_err(|why| refused(why.into()))?;
        let each = |minutes: &Exact| {
            let each = ways.lumps.iter().map(|(written, now)| {
                let hours = celsius(minutes) / 60.0;
                let found = if hours > 0.0 { pace.hours(hours, written, now)? } else { 0.0 };
                Ok(Exact::try_from(found * 60.0).unwrap_or_else(|_| minutes.clone()))
            });
            each.collect::<Result<Vec<Exact>, GrowthError>>()
        };
        let each = |minutes: &Exact| each(minutes).map_err(|why| refused(why.into()));
        let before = (stretch.low.clone(), stretch.high.clone());
        // The heavier follows more slowly, and is ready sooner or later than the lighter.
        stretch.low = each(&before.0)?.into_iter().min().unwrap_or_default();
        stretch.high = match &before.1 {
            Some(high) => each(high)?.into_iter().max(),
            None => None,
        };
        retiming.estimates.push(Estimate {
            stretch: self.index,
            now: (stretch.low.clone(), stretch.high.clone()),
            changed: Changed::Warmth { from: written.clone(), to: now.clone() },
            model: pace.leading(celsius(now)).unwrap_or(Model::YeastGas),
            course: ways.start,
            before: before.clone(),
        });
        stretch.retimed = Some(Retimed { written: before, at: Some(now.clone()) });
        Ok(())
    }

    /// A stage that is begun with a culture, as if another share of its new flour were
    /// seed: by the logarithm of what the seed is of the whole.
    fn seeded(
        &self,
        stretch: &mut Stretch,
        share: &Exact,
        retiming: &mut Retiming,
    ) -> Result<(), NotTimed> {
        let Doing::Ripen { stage, .. } = stretch.doing else { return Ok(()) };
        let Some(seeded) = Seeded::of(self.worked, stage) else { return Ok(()) };
        if seeded.share == *share || stretch.untimed {
            return Ok(());
        }
        if self.standing.kind == StandKind::Cold {
            retiming.kept.push(Kept { stretch: self.index, because: Because::Culture });
            return Ok(());
        }
        let refused = |why: GrowthError| NotTimed { asked: "seed", why: why.into() };
        let factor = seeded.factor(share).map_err(refused)?;
        let before = (stretch.low.clone(), stretch.high.clone());
        stretch.low = &before.0 * &factor;
        stretch.high = before.1.as_ref().map(|high| high * &factor);
        let known = stretch.retimed.take();
        let at = known.as_ref().and_then(|known| known.at.clone());
        let written = known.map_or_else(|| before.clone(), |known| known.written);
        retiming.estimates.push(Estimate {
            stretch: self.index,
            now: (stretch.low.clone(), stretch.high.clone()),
            changed: Changed::Seed { from: seeded.share, to: share.clone() },
            model: Model::Growth(Organism::SourdoughYeast),
            course: None,
            before,
        });
        stretch.retimed = Some(Retimed { written, at });
        Ok(())
    }
}

/// Whether stages are begun with so much seed at all: the stores bound it.
fn in_use(share: &Exact) -> Result<(), GrowthError> {
    let Some(bound) = limit("habit of stages", "inoculation") else { return Ok(()) };
    let percent = |share: &Exact| (share * Exact::from(100)).to_f64();
    match (&bound.low, &bound.high) {
        (Some(low), Some(high)) if !bound.holds(share) => Err(GrowthError::SeedUnusual {
            percent: percent(share),
            low: percent(low),
            high: percent(high),
        }),
        _ => Ok(()),
    }
}

/// A stage with its seed.
struct Seeded {
    /// Seed over new flour.
    share: Exact,
    /// Grams of seed, of new flour and of all of it.
    seed: Exact,
    flour: Exact,
    whole: Exact,
}

impl Seeded {
    fn of(worked: &Worked, stage: usize) -> Option<Self> {
        let numbers = worked.first().stages.get(stage)?;
        let (seed, flour) = (worked.culture_mass(numbers), numbers.basis.clone());
        let whole = numbers.made.clone();
        let share = seed.over(&flour).filter(|share| !share.is_zero())?;
        Some(Self { share, seed, flour, whole })
    }

    /// How many times as long it takes with another share: ln(1/f2) / ln(1/f1).
    fn factor(&self, share: &Exact) -> Result<Exact, GrowthError> {
        let needed = |seed: &Exact| -> Result<f64, GrowthError> {
            let whole = &self.whole - &self.seed + seed;
            let fraction = SeedFraction::of_total(seed.over(&whole).unwrap_or_default().to_f64())?;
            Ok(fraction.growth_needed())
        };
        let factor = needed(&(share * &self.flour))? / needed(&self.seed)?;
        Ok(Exact::try_from(factor).unwrap_or(Exact::ONE))
    }
}

/// A result in steps of five minutes, and no less than one of them.
fn in_steps(minutes: &Exact) -> Exact {
    if minutes.is_zero() {
        return Exact::ZERO;
    }
    // A millionth of a minute is no reason to go to the next step.
    let minutes = to_step(minutes, &ratio(1, 1_000_000));
    let step = known("usual plans", "estimate step");
    to_step(&minutes, &step).max(step)
}

/// Rounds what was timed anew, but never to the other side of what was written: so that
/// warmer is never longer by rounding alone.
fn settle(stretch: &mut Stretch, before: &Stretch) {
    if stretch.retimed.is_none() {
        return;
    }
    let settled = |now: &Exact, written: &Exact| match now < written {
        true => in_steps(now).min(written.clone()),
        false => in_steps(now).max(written.clone()),
    };
    stretch.low = settled(&stretch.low, &before.low);
    stretch.high =
        stretch.high.as_ref().zip(before.high.as_ref()).map(|(now, it)| settled(now, it));
}

/// What estimates say is what the graph has.
fn told_as_settled(graph: &Graph, estimates: &mut [Estimate]) {
    for number in 0..estimates.len() {
        let Some((estimate, later)) = estimates.get_mut(number..).and_then(<[_]>::split_first_mut)
        else {
            break;
        };
        match later.iter_mut().find(|next| next.stretch == estimate.stretch) {
            // The first of two changes of one stretch is told by itself.
            Some(next) => {
                estimate.now = (in_steps(&estimate.now.0), estimate.now.1.as_ref().map(in_steps));
                next.before = estimate.now.clone();
            }
            None => {
                if let Some(stretch) = graph.stretches.get(estimate.stretch) {
                    estimate.now = (stretch.low.clone(), stretch.high.clone());
                }
            }
        }
    }
}

/// Folds keep their places in a phase that is timed anew, in steps of five minutes as all that
/// is estimated, and end before the dough leaves.
fn respread(graph: &mut Graph, folds: &Folds) {
    let Some(phase) = graph.stretches.get(folds.phase) else { return };
    let Some(Retimed { written, .. }) = phase.retimed.clone() else { return };
    let gap = match folds.evenly {
        true => folds.apart(phase),
        false => {
            let middle = |low: &Exact, high: &Option<Exact>| {
                high.as_ref().map_or_else(|| low.clone(), |high| (low + high).one_in::<2>())
            };
            let before = middle(&written.0, &written.1);
            let Some(first) = folds.ways.first().and_then(|&way| graph.stretches.get(way)) else {
                return;
            };
            let Some(factor) = middle(&phase.low, &phase.high).over(&before) else { return };
            let most = folds.room(phase.high.as_ref().unwrap_or(&phase.low));
            let whole = |written: &Exact| {
                let round = in_steps(&(written * &factor));
                // Never to the other side of what was written, as all that is estimated.
                let round = match factor < Exact::ONE {
                    true => round.min(written.clone()),
                    false => round.max(written.clone()),
                };
                if round <= most { round } else { (written * &factor).min(most.clone()).floor() }
            };
            (whole(&first.low), first.high.as_ref().map(whole))
        }
    };
    for &way in &folds.ways {
        if let Some(fold) = graph.stretches.get_mut(way) {
            (fold.low, fold.high) = gap.clone();
        }
    }
}

/// What raises it: commercial yeast makes gas; a culture grows, its yeasts and its
/// bacteria each at a pace of their own.
fn models(house: &House, worked: &Worked, doing: &Doing) -> Vec<Model> {
    let stage = match doing {
        Doing::Ripen { stage, .. } => Some(*stage),
        Doing::Step { stage, .. } => *stage,
        _ => return Vec::new(),
    };
    let mut leavens =
        Leavens { seen: vec![false; worked.formula.stages.len()], ..Leavens::default() };
    leavens.look(house, worked, stage);
    match (leavens.yeast, leavens.culture) {
        (true, _) => vec![Model::YeastGas],
        (false, true) => {
            vec![Model::Growth(Organism::SourdoughYeast), Model::Growth(Organism::LacticBacteria)]
        }
        (false, false) => Vec::new(),
    }
}

#[derive(Default)]
struct Leavens {
    yeast: bool,
    culture: bool,
    /// Stages that were looked into.
    seen: Vec<bool>,
}

impl Leavens {
    /// Looks into a mix and into the stages it takes.
    fn look(&mut self, house: &House, worked: &Worked, stage: Option<usize>) {
        let numbers = worked.first();
        let lines = match stage {
            Some(stage) => &numbers.stages[stage].lines,
            None => &numbers.dough_lines,
        };
        for line in lines {
            match line.goes {
                LineRef::Culture(_) => self.culture = true,
                LineRef::Ingredient(id) if house.ingredient(id).class == Class::Yeast => {
                    self.yeast = true;
                }
                LineRef::Stage(inner) if !self.seen[inner] => {
                    self.seen[inner] = true;
                    self.look(house, worked, Some(inner));
                }
                // Of what raised it nothing more is known than that it makes gas.
                LineRef::OldDough => self.yeast = true,
                _ => {}
            }
        }
    }
}
