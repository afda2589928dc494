//! A refrigerator of another temperature: what ferments in it takes longer or shorter.
//!
//! Dough that goes into the cold is warm at first and does much of its work while it
//! cools, so the whole course counts: the time that the author wrote, at the temperature
//! they wrote, gathers so much fermentation, and the new time is the one that gathers as
//! much. How fast it cools is measured by the house (`cooling …`) or that of a ball of
//! dough in a refrigerator with a fan.

use super::cooling::{
    Cooling, CoolingError, FAN, UNFERMENTED_DOUGH, sphere_time_constant,
    time_constant_from_measurement,
};
use super::estimates::{Changed, Estimate, in_steps, models};
use super::graph::{Doing, Graph, Stretch};
use super::growth::{BelowRange, GrowthError, Model, dose_along, wait_for_dose};
use crate::formula::{House, Worked};
use crate::quantity::{Exact, int};
use crate::syntax::tree::{Method, Phase, Verb};
use std::fmt;

/// What stands at so many degrees Celsius or fewer stands in the cold.
const COLD: i64 = 10;

/// A dough of which nothing says how warm it was, in degrees Celsius: common practice, no
/// source.
const USUAL_DOUGH: i64 = 24;

/// Why there is no time for that cold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ColdError {
    /// A culture does the work, of which nothing is known in the cold.
    Culture,
    Growth(GrowthError),
    Cooling(CoolingError),
}

impl fmt::Display for ColdError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Culture => formatter.write_str(
                "of cultures nothing is known below 10 °C, so that their wait in the cold is \
                 left to the baker",
            ),
            Self::Growth(error) => error.fmt(formatter),
            Self::Cooling(error) => error.fmt(formatter),
        }
    }
}

impl core::error::Error for ColdError {}

/// Times a graph anew for a refrigerator of so many degrees Celsius, and tells what was
/// changed.
///
/// # Errors
/// Where the cold is outside what a model is known for, as it is for cultures below
/// 10 °C, or the house's measurement of cooling can't be.
pub fn at_cold(
    house: &House,
    worked: &Worked,
    graph: &mut Graph,
    cold: &Exact,
) -> Result<Vec<Estimate>, ColdError> {
    let mut estimates = Vec::new();
    for (index, stretch) in graph.stretches.iter_mut().enumerate() {
        let Some(wait) = ColdWait::of(house, worked, stretch) else { continue };
        let found = models(house, worked, stretch);
        let Some(&model) = found.first() else { continue };
        if wait.at == *cold {
            continue;
        }
        if matches!(model, Model::Growth(_)) {
            return Err(ColdError::Culture);
        }
        let (light, heavy) = &wait.masses;
        let (quick, slow) = (time_constant(house, light)?, time_constant(house, heavy)?);
        let written = (stretch.low.clone(), stretch.high.clone());
        // The heavier cools more slowly, and is ready sooner or later than the lighter.
        let ends = |minutes: &Exact| -> Result<(Exact, Exact), ColdError> {
            let one = wait.retimed(model, minutes, cold, quick)?;
            let two = wait.retimed(model, minutes, cold, slow)?;
            Ok((one.clone().min(two.clone()), one.max(two)))
        };
        stretch.low = ends(&written.0)?.0;
        stretch.high = written.1.as_ref().map(ends).transpose()?.map(|ends| ends.1);
        estimates.push(Estimate {
            stretch: index,
            written,
            changed: Changed::Warmth { from: wait.at.clone(), to: cold.clone() },
            model,
            halves_in: Exact::try_from((slow * 60.0 * std::f64::consts::LN_2).round()).ok(),
        });
    }
    Ok(estimates)
}

/// A wait of dough in the cold.
struct ColdWait {
    /// Degrees Celsius as written, and of the dough when it goes in.
    at: Exact,
    start: Exact,
    /// Grams of the lightest and of the heaviest lump.
    masses: (Exact, Exact),
}

impl ColdWait {
    fn of(house: &House, worked: &Worked, stretch: &Stretch) -> Option<Self> {
        let (step, phase) = match &stretch.doing {
            Doing::Step { stage: None, step, phase } => (step, phase),
            Doing::Ripen { stage, leg, .. } => return Self::of_stage(house, worked, *stage, *leg),
            _ => return None,
        };
        let method = worked.formula.method.as_ref()?;
        let own = method.steps.get(*step)?;
        if !matches!(own.verb, Verb::Bulk | Verb::Proof | Verb::Retard) {
            return None;
        }
        let at = house.middle(own.phases.get(*phase)?.at.as_deref()?)?;
        if at > int(COLD) {
            return None;
        }
        let start = warm_before(house, method, *step, *phase).unwrap_or_else(|| int(USUAL_DOUGH));
        Some(Self { at, start, masses: lumps(worked, method, *step) })
    }

    /// A leg of a stage's ripening that stands in the cold.
    fn of_stage(house: &House, worked: &Worked, stage: usize, leg: usize) -> Option<Self> {
        let ripens = &worked.formula.stages[stage].ripens;
        let at = house.middle(ripens.get(leg)?.at.as_ref()?)?;
        if at > int(COLD) {
            return None;
        }
        let before = ripens.iter().take(leg).filter_map(|wait| wait.at.as_ref()).next_back();
        let before = before.and_then(|at| house.middle(at));
        let start = before.or_else(|| house.settings.room.clone());
        let made = worked.first().stages[stage].made.clone();
        let start = start.unwrap_or_else(|| int(USUAL_DOUGH));
        (!made.is_zero()).then(|| Self { at, start, masses: (made.clone(), made) })
    }

    fn retimed(
        &self,
        model: Model,
        minutes: &Exact,
        cold: &Exact,
        hours: f64,
    ) -> Result<Exact, ColdError> {
        if minutes.is_zero() {
            return Ok(Exact::ZERO);
        }
        let value = |exact: &Exact| exact.to_f64().value();
        let course = |from: &Exact, at: &Exact| Cooling::new(value(from), value(at), hours);
        let written = course(&self.start, &self.at).map_err(ColdError::Cooling)?;
        // What comes from the cold comes from this one.
        let from = if self.start <= int(COLD) { cold } else { &self.start };
        let wanted = course(from, cold).map_err(ColdError::Cooling)?;
        let dose = dose_along(model, &written, value(minutes) / 60.0, BelowRange::Refused);
        let dose = dose.map_err(ColdError::Growth)?;
        let wait = wait_for_dose(model, &wanted, dose.hours_at_25, BelowRange::Refused);
        let found = wait.map_err(ColdError::Growth)?.hours * 60.0;
        Ok(in_steps(&Exact::try_from(found).unwrap_or_else(|_| minutes.clone())))
    }
}

/// How warm the dough is before a phase: as it last stood, or as it was mixed.
fn warm_before(house: &House, method: &Method, step: usize, phase: usize) -> Option<Exact> {
    let before = method.steps.iter().take(step + 1).enumerate();
    let phases = before.flat_map(|(number, own)| {
        let end = if number == step { phase } else { own.phases.len() };
        own.phases.iter().take(end)
    });
    let warm = |phase: &Phase| {
        let at = phase.at.as_deref().or(phase.to.as_deref())?;
        house.middle(at)
    };
    phases.filter_map(warm).next_back()
}

/// Grams of what lies together, the lightest and the heaviest: pieces behind the divide,
/// else the whole dough.
fn lumps(worked: &Worked, method: &Method, step: usize) -> (Exact, Exact) {
    let parted = method.steps.iter().take(step).any(|it| it.verb == Verb::Divide);
    let numbers = worked.first();
    let pieces = numbers.pieces.iter().map(|piece| &piece.made.weight);
    let weights: Vec<&Exact> = pieces.filter(|weight| !weight.is_zero()).collect();
    match (weights.iter().min(), weights.iter().max()) {
        (Some(light), Some(heavy)) if parted => ((*light).clone(), (*heavy).clone()),
        _ => (numbers.whole.mass(), numbers.whole.mass()),
    }
}

/// Hours in which the difference to the cold falls to 1/e: by what the house measured, taken
/// to another mass as its surface to its volume, or that of a ball.
fn time_constant(house: &House, mass: &Exact) -> Result<f64, ColdError> {
    let value = |exact: &Exact| exact.to_f64().value();
    let Some(cooled) = &house.settings.cooling else {
        return sphere_time_constant(value(mass) / 1000.0, FAN, &UNFERMENTED_DOUGH)
            .map_err(ColdError::Cooling);
    };
    let hours = time_constant_from_measurement(
        value(&cooled.from),
        value(&cooled.at),
        value(&cooled.minutes) / 60.0,
        value(&cooled.to),
    );
    let lighter = value(mass) / value(&cooled.mass);
    Ok(hours.map_err(ColdError::Cooling)? * lighter.powf(2.0 / 3.0))
}
