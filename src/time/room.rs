//! A room of another temperature: what ferments in it takes longer or shorter.
//!
//! Only ratios of rates are used: the time that the author wrote, at the temperature they
//! wrote, is scaled by what the models say of both temperatures. What stands in the cold,
//! in an oven or nowhere said keeps its time. Every result is an estimate, in steps of
//! five minutes.

use super::graph::{Doing, Graph, Stretch};
use super::growth::{GrowthError, Model, Organism, YeastDough, retime_yeast_with_growth};
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
    /// The temperature they were written for, and the one they are for now, in degrees
    /// Celsius.
    pub written_at: Exact,
    pub now_at: Exact,
    /// The model that gave it; of yeasts and bacteria, that of those ready first.
    pub model: Model,
    /// Of dough in the cold, minutes in which half of the difference to it is gone.
    pub halves_in: Option<Exact>,
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
            written_at: at,
            now_at: room.clone(),
            model,
            halves_in: None,
        });
    }
    for (doing, factor) in &changed {
        refold(graph, doing, factor);
    }
    Ok(estimates)
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
