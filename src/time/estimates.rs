//! Another room, or another share of seed: what ferments takes longer or shorter.
//!
//! Only ratios of rates are used: the time that the author wrote, at the temperature and
//! with the seed they wrote, is scaled by what the models say of both. What stands in the
//! cold has a file of its own; what stands in an oven keeps its time. Every result is an
//! estimate, in steps of five minutes.

use super::graph::{Doing, Graph, Stretch};
use super::growth::{
    CultureStep, GrowthError, Model, Organism, SeedFraction, YeastDough, retime_culture,
    retime_yeast_with_growth,
};
use crate::formula::class::Class;
use crate::formula::{Figure, Goes, House, Within, Worked};
use crate::quantity::Exact;
use crate::quantity::display::to_step;
use crate::syntax::tree::Verb;

/// What stands at these degrees Celsius is taken to stand in the room: warmer than a cold
/// cellar, cooler than a proofer made for yeast. Common practice, no source.
const ROOM: (i64, i64) = (15, 32);

/// A time that a model gave.
#[derive(Clone, Debug)]
pub struct Estimate {
    /// The stretch of the graph.
    pub stretch: usize,
    /// Minutes as they were written.
    pub written: (Exact, Option<Exact>),
    pub changed: Changed,
    /// The model that gave it; of yeasts and bacteria, that of those ready first.
    pub model: Model,
    /// Of dough in the cold, minutes in which half of the difference to it is gone.
    pub halves_in: Option<Exact>,
}

/// What is another than was written.
#[derive(Clone, Debug)]
pub enum Changed {
    /// Degrees Celsius as written, and as they are now.
    Warmth { from: Exact, to: Exact },
    /// Seed as a share of the new flour, as written and as it would be.
    Seed { from: Exact, to: Exact },
}

/// Times a graph anew for a room of so many degrees Celsius, and tells what was changed.
///
/// # Errors
/// Where the room, or a temperature that was written, is outside what a model is known for.
pub fn at_room(
    house: &House,
    worked: &Worked,
    graph: &mut Graph,
    room: &Exact,
) -> Result<Vec<Estimate>, GrowthError> {
    let mut estimates = Vec::new();
    let mut changed: Vec<(Doing, Exact)> = Vec::new();
    for (index, stretch) in graph.stretches.iter_mut().enumerate() {
        let Some(at) = fermenting_at(house, worked, stretch) else { continue };
        let models = models(house, worked, stretch);
        if at == *room || models.is_empty() {
            continue;
        }
        let written = (stretch.low.clone(), stretch.high.clone());
        let mut factors = Vec::new();
        for model in models {
            factors.push((factor(model, &at, room)?, model));
        }
        // The one that is ready first decides: a warmer room never makes a dough wait.
        let first = factors.into_iter().min_by(|(one, _), (two, _)| one.cmp(two));
        let Some((factor, model)) = first else { continue };
        let yeast = yeast_percent(house, worked, stretch);
        let retimed = |minutes: &Exact| match yeast {
            Some(percent) if model == Model::YeastGas => {
                with_growth(minutes, percent, &at, room).unwrap_or_else(|| minutes * &factor)
            }
            _ => minutes * &factor,
        };
        stretch.low = in_steps(&retimed(&written.0));
        stretch.high = written.1.as_ref().map(|high| in_steps(&retimed(high)));
        changed.push((stretch.doing.clone(), factor));
        estimates.push(Estimate {
            stretch: index,
            written,
            changed: Changed::Warmth { from: at, to: room.clone() },
            model,
            halves_in: None,
        });
    }
    for (doing, factor) in &changed {
        refold(graph, doing, factor);
    }
    Ok(estimates)
}

/// Times the ripening of every stage that is begun with a culture anew, as if so large a
/// share of its new flour were seed: by the logarithm of what the seed is of the whole.
///
/// # Errors
/// Where a stage ripens at a temperature outside the models of growth, or the share is no
/// seed.
pub fn with_seed(
    house: &House,
    worked: &Worked,
    graph: &mut Graph,
    share: &Exact,
) -> Result<Vec<Estimate>, GrowthError> {
    let mut estimates = Vec::new();
    for (index, stretch) in graph.stretches.iter_mut().enumerate() {
        let Doing::Ripen { stage, leg, .. } = stretch.doing else { continue };
        let Some(seeded) = Seeded::of(house, worked, stage, leg) else { continue };
        if seeded.share == *share {
            continue;
        }
        let written = (stretch.low.clone(), stretch.high.clone());
        stretch.low = seeded.retimed(&written.0, share)?;
        let high = written.1.as_ref().map(|high| seeded.retimed(high, share));
        stretch.high = high.transpose()?;
        estimates.push(Estimate {
            stretch: index,
            written,
            changed: Changed::Seed { from: seeded.share, to: share.clone() },
            model: Model::Growth(Organism::SourdoughYeast),
            halves_in: None,
        });
    }
    Ok(estimates)
}

/// A stage with its seed.
struct Seeded {
    /// Seed over new flour.
    share: Exact,
    /// Grams of seed, of new flour and of all of it.
    seed: Exact,
    flour: Exact,
    whole: Exact,
    celsius: f64,
}

impl Seeded {
    fn of(house: &House, worked: &Worked, stage: usize, leg: usize) -> Option<Self> {
        let numbers = worked.first().stages.get(stage)?;
        let seed = worked.seed_mass(numbers);
        let at = worked.formula.stages[stage].ripens.get(leg)?.at.as_ref()?;
        let celsius = house.middle(at)?.to_f64().value();
        let flour = numbers.basis.clone();
        let sound = !seed.is_zero() && !flour.is_zero();
        sound.then(|| Self {
            share: &seed / &flour,
            seed,
            flour,
            whole: numbers.made.clone(),
            celsius,
        })
    }

    fn retimed(&self, minutes: &Exact, share: &Exact) -> Result<Exact, GrowthError> {
        if minutes.is_zero() {
            return Ok(Exact::ZERO);
        }
        let step = |seed: &Exact| -> Result<CultureStep, GrowthError> {
            let whole = &self.whole - &self.seed + seed;
            let fraction = SeedFraction::of_total((seed / whole).to_f64().value())?;
            Ok(CultureStep::active(self.celsius, fraction))
        };
        let (reference, wanted) = (step(&self.seed)?, step(&(share * &self.flour))?);
        let hours = minutes.to_f64().value() / 60.0;
        let found = retime_culture(Organism::SourdoughYeast, hours, reference, wanted)?.hours;
        Ok(in_steps(&Exact::try_from(found * 60.0).unwrap_or_else(|_| minutes.clone())))
    }
}

/// Folds keep their places in a phase that is timed anew.
fn refold(graph: &mut Graph, phase: &Doing, factor: &Exact) {
    let of_phase = |doing: &Doing| match (doing, phase) {
        (
            Doing::Fold { stage, step, phase },
            Doing::Step { stage: of, step: own, phase: number },
        ) => (stage, step, phase) == (of, own, number),
        _ => false,
    };
    for fold in graph.stretches.iter_mut().filter(|stretch| of_phase(&stretch.doing)) {
        // A little earlier, so that rounding the phase leaves room for the last one.
        fold.low = &fold.low * factor * Exact::from_parts(9.into(), 10u8.into());
        fold.high = fold.high.as_ref().map(|high| high * factor);
    }
}

/// Minutes in the room for minutes at a temperature, with yeast that multiplies on the way;
/// none where its growth was never counted, as in lean or long doughs.
fn with_growth(minutes: &Exact, percent: f64, at: &Exact, room: &Exact) -> Option<Exact> {
    let dough =
        |celsius: &Exact| YeastDough { celsius: celsius.to_f64().value(), yeast_percent: percent };
    let hours = minutes.to_f64().value() / 60.0;
    let found = retime_yeast_with_growth(hours, dough(at), dough(room)).ok()?;
    Exact::try_from(found.hours * 60.0).ok()
}

/// Fresh yeast in per cent of all flour, for a wait of the dough itself.
fn yeast_percent(house: &House, worked: &Worked, stretch: &Stretch) -> Option<f64> {
    if !matches!(stretch.doing, Doing::Step { stage: None, .. }) {
        return None;
    }
    let figure = Figure::YeastAsFresh;
    let share = worked.figure_of(house, worked.first(), &figure, Within::All)?.amount;
    (!share.is_zero()).then(|| share.to_f64().value() * 100.0)
}

/// How many times as long it takes in the room.
fn factor(model: Model, at: &Exact, room: &Exact) -> Result<Exact, GrowthError> {
    let rate = |celsius: &Exact| model.rate(celsius.to_f64().value());
    let ratio = rate(at)? / rate(room)?;
    Ok(Exact::try_from(ratio).unwrap_or(Exact::ONE))
}

/// A result to five minutes.
pub(super) fn in_steps(minutes: &Exact) -> Exact {
    to_step(minutes, &Exact::from(5u8))
}

/// The temperature at which something ferments in the room; none where it does not.
fn fermenting_at(house: &House, worked: &Worked, stretch: &Stretch) -> Option<Exact> {
    let formula = &worked.formula;
    let at = match &stretch.doing {
        Doing::Ripen { stage, leg, .. } => {
            let stage = &formula.stages[*stage];
            stage.ripens.get(*leg)?.at.as_ref()?
        }
        Doing::Step { stage, step, phase } => {
            let method = match stage {
                Some(stage) => formula.stages[*stage].method.as_ref()?,
                None => formula.method.as_ref()?,
            };
            let step = method.steps.get(*step)?;
            if !matches!(step.verb, Verb::Bulk | Verb::Proof) {
                return None;
            }
            let phase = step.phases.get(*phase)?;
            match phase.at.as_deref() {
                Some(at) => at,
                // Where nothing is said it stands in the house's room.
                None => return house.settings.room.clone().filter(|_| phase.duration.is_some()),
            }
        }
        _ => return None,
    };
    let at = house.middle(at)?;
    (at >= Exact::from(ROOM.0) && at <= Exact::from(ROOM.1)).then_some(at)
}

/// What raises it: commercial yeast makes gas; a culture grows, its yeasts and its
/// bacteria each at a pace of their own.
pub(super) fn models(house: &House, worked: &Worked, stretch: &Stretch) -> Vec<Model> {
    let stage = match &stretch.doing {
        Doing::Ripen { stage, .. } => Some(*stage),
        Doing::Step { stage, .. } => *stage,
        _ => return Vec::new(),
    };
    let mut held = Held { seen: vec![false; worked.formula.stages.len()], ..Held::default() };
    held.look(house, worked, stage);
    match (held.yeast, held.culture) {
        (true, _) => vec![Model::YeastGas],
        (false, true) => {
            vec![Model::Growth(Organism::SourdoughYeast), Model::Growth(Organism::LacticBacteria)]
        }
        (false, false) => Vec::new(),
    }
}

#[derive(Default)]
struct Held {
    yeast: bool,
    culture: bool,
    /// Stages that were looked into.
    seen: Vec<bool>,
}

impl Held {
    /// Looks into a mix and into the stages it takes.
    fn look(&mut self, house: &House, worked: &Worked, stage: Option<usize>) {
        let numbers = worked.first();
        let lines = match stage {
            Some(stage) => &numbers.stages[stage].lines,
            None => &numbers.dough_lines,
        };
        for line in lines {
            match line.goes {
                Goes::Culture(_) => self.culture = true,
                Goes::Ingredient(id) if house.ingredient(id).class == Class::Yeast => {
                    self.yeast = true;
                }
                Goes::Stage(inner) if !self.seen[inner] => {
                    self.seen[inner] = true;
                    self.look(house, worked, Some(inner));
                }
                // Of what raised it nothing more is known than that it makes gas.
                Goes::OldDough => self.yeast = true,
                _ => {}
            }
        }
    }
}
