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
use super::graph::{Doing, Graph, Stretch};
use super::growth::{BelowRange, GrowthError, Model, dose_along, wait_for_dose};
use super::room::{Estimate, in_steps, middle, models};
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
    Growth(GrowthError),
    Cooling(CoolingError),
}

impl fmt::Display for ColdError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
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
        // A culture's models do not reach into the cold; the first one says so.
        let found = models(house, worked, stretch);
        let Some(&model) = found.first() else { continue };
        if wait.at == *cold {
            continue;
        }
        let hours = wait.time_constant(house)?;
        let written = (stretch.low.clone(), stretch.high.clone());
        let retimed = |minutes: &Exact| wait.retimed(model, minutes, cold, hours);
        stretch.low = retimed(&written.0)?;
        stretch.high = written.1.as_ref().map(retimed).transpose()?;
        estimates.push(Estimate {
            stretch: index,
            written,
            written_at: wait.at.clone(),
            now_at: cold.clone(),
            models: vec![model],
            halves_in: Exact::try_from((hours * 60.0 * std::f64::consts::LN_2).round()).ok(),
        });
    }
    Ok(estimates)
}

/// A wait of dough in the cold.
struct ColdWait {
    /// Degrees Celsius as written, and of the dough when it goes in.
    at: Exact,
    start: Exact,
    /// Grams of one lump.
    mass: Exact,
}

impl ColdWait {
    fn of(house: &House, worked: &Worked, stretch: &Stretch) -> Option<Self> {
        let Doing::Step { stage: None, step, phase } = &stretch.doing else { return None };
        let method = worked.formula.method.as_ref()?;
        let own = method.steps.get(*step)?;
        if !matches!(own.verb, Verb::Bulk | Verb::Proof | Verb::Retard) {
            return None;
        }
        let at = middle(house, own.phases.get(*phase)?.at.as_deref()?)?;
        if at > int(COLD) {
            return None;
        }
        let start = warm_before(house, method, *step, *phase).unwrap_or_else(|| int(USUAL_DOUGH));
        Some(Self { at, start, mass: lump(worked, method, *step) })
    }

    /// Hours in which the difference to the cold falls to 1/e: by what the house measured,
    /// taken to another mass as its surface to its volume, or that of a ball.
    fn time_constant(&self, house: &House) -> Result<f64, ColdError> {
        let kilograms = (&self.mass / int(1000)).to_f64().value();
        let Some(cooled) = &house.settings.cooling else {
            return sphere_time_constant(kilograms, FAN, &UNFERMENTED_DOUGH)
                .map_err(ColdError::Cooling);
        };
        let value = |exact: &Exact| exact.to_f64().value();
        let hours = time_constant_from_measurement(
            value(&cooled.from),
            value(&cooled.at),
            value(&cooled.minutes) / 60.0,
            value(&cooled.to),
        );
        let lighter = value(&self.mass) / value(&cooled.mass);
        Ok(hours.map_err(ColdError::Cooling)? * lighter.powf(2.0 / 3.0))
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
        let course = |at: &Exact| Cooling::new(value(&self.start), value(at), hours);
        let written = course(&self.at).map_err(ColdError::Cooling)?;
        let wanted = course(cold).map_err(ColdError::Cooling)?;
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
        middle(house, at)
    };
    phases.filter_map(warm).next_back()
}

/// Grams of what lies together: a piece behind the divide, else the whole dough.
fn lump(worked: &Worked, method: &Method, step: usize) -> Exact {
    let parted = method.steps.iter().take(step).any(|it| it.verb == Verb::Divide);
    let numbers = worked.first();
    let piece = numbers.pieces.first().map(|piece| piece.made.weight.clone());
    match piece {
        Some(weight) if parted && !weight.is_zero() => weight,
        _ => numbers.whole.mass(),
    }
}
