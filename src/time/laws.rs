//! What a share of seed or of yeast, and another temperature, make of a time.
//!
//! Enters: a time that is known, with its temperature and its share. Leaves: the time at
//! another temperature and with another share, as an estimate in `f64` (`growth.rs` says
//! where exactness ends).

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::growth::{GrowthError, Model, Organism, hours_above_zero, hours_from_zero};

/// A time that was estimated, and what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelTime {
    /// How long it takes, in hours.
    pub hours: f64,
    /// Whose growth or gas was asked.
    pub model: Model,
    /// How the time follows from it.
    pub law: Law,
}

/// How a share of seed or of yeast changes a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Law {
    /// A culture that multiplies from its seed.
    Multiplication,
    /// Gas in proportion to the yeast.
    Proportion,
}

/// The mass of seed as a share of all that is in the stage, seed included.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SeedFraction(f64);

impl SeedFraction {
    /// From seed mass over the mass of all fresh flour and water: 0.2 gives a sixth.
    ///
    /// # Errors
    /// `NotASeed` where nothing, or nothing but seed, would be in the stage.
    pub fn of_fresh(share: f64) -> Result<Self, GrowthError> {
        Self::of_total(share / (1.0 + share))
    }

    /// From seed mass over total mass, above 0 and below 1.
    ///
    /// # Errors
    /// `NotASeed` as for `of_fresh`.
    pub fn of_total(fraction: f64) -> Result<Self, GrowthError> {
        if fraction > 0.0 && fraction < 1.0 {
            Ok(Self(fraction))
        } else {
            Err(GrowthError::NotASeed { fraction })
        }
    }

    /// `ln(1/f)`: the growth that makes the stage as ripe as its seed was.
    pub fn growth_needed(self) -> f64 {
        -self.0.ln()
    }
}

/// How a culture is kept until it is ripe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CultureStep {
    /// The temperature in °C, taken as constant.
    pub celsius: f64,
    /// Seed as a share of the whole.
    pub seed: SeedFraction,
    /// Hours before growth begins: 0 for active seed, more for seed from the refrigerator.
    /// No published number was found.
    pub lag_hours: f64,
}

impl CultureStep {
    /// A step from active seed, without lag.
    pub fn active(celsius: f64, seed: SeedFraction) -> Self {
        Self { celsius, seed, lag_hours: 0.0 }
    }
}

/// How long a culture takes in `wanted`, if it takes `hours` in `reference`:
/// `t2 = λ2 + (t1 − λ1) · r(T1)/r(T2) · ln(1/f2)/ln(1/f1)`.
///
/// Source: growth at a constant factor, from a seed that was as ripe itself. No published
/// table of time, seed and temperature was found.
///
/// # Errors
/// `OutsideRange` for either temperature, `NotHours`, and `LagTooLong` where the reference
/// is over before its growth begins.
pub fn retime_culture(
    organism: Organism,
    hours: f64,
    reference: CultureStep,
    wanted: CultureStep,
) -> Result<ModelTime, GrowthError> {
    let model = Model::Growth(organism);
    let dose = culture_dose(organism, hours, reference, wanted.seed)?;
    let lag = hours_from_zero(wanted.lag_hours)?;
    let hours = hours_above_zero(lag + dose / model.rate(wanted.celsius)?)?;
    Ok(ModelTime { hours, model, law: Law::Multiplication })
}

/// The growth that makes a stage from `wanted` seed as ripe as `reference` is after
/// `hours`, in hours at 25 °C without lag.
///
/// # Errors
/// As for `retime_culture`.
pub fn culture_dose(
    organism: Organism,
    hours: f64,
    reference: CultureStep,
    wanted: SeedFraction,
) -> Result<f64, GrowthError> {
    let hours = hours_above_zero(hours)?;
    let lag_hours = hours_from_zero(reference.lag_hours)?;
    if lag_hours >= hours {
        return Err(GrowthError::LagTooLong { hours, lag_hours });
    }
    let rate = Model::Growth(organism).rate(reference.celsius)?;
    let seeds = wanted.growth_needed() / reference.seed.growth_needed();
    hours_above_zero((hours - lag_hours) * rate * seeds)
}

/// A dough that yeast was added to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YeastDough {
    /// The temperature in °C, taken as constant.
    pub celsius: f64,
    /// Yeast in per cent of flour; both doughs of a comparison in the same kind of yeast.
    pub yeast_percent: f64,
}

/// How long `wanted` takes to rise as far as `reference` does in `hours`:
/// `t2 = t1 · Y1 r(T1) / (Y2 r(T2))`.
///
/// Source: the gas for a given rise is fixed, and yeast barely multiplies in dough: of two
/// counts of cells in six hours at 27 °C, by 88 % with 0.5 % yeast and by 29 % with 2 %.
///
/// # Errors
/// `OutsideRange` for either temperature, `NotHours`, `NotYeast`.
pub fn retime_yeast(
    hours: f64,
    reference: YeastDough,
    wanted: YeastDough,
) -> Result<ModelTime, GrowthError> {
    let gas = hours_above_zero(hours)? * gas_per_hour(reference)?;
    let hours = hours_above_zero(gas / gas_per_hour(wanted)?)?;
    Ok(ModelTime { hours, model: Model::YeastGas, law: Law::Proportion })
}

/// Yeast times rate: gas per hour in a unit that cancels between two doughs.
fn gas_per_hour(dough: YeastDough) -> Result<f64, GrowthError> {
    Ok(yeast(dough.yeast_percent)? * Model::YeastGas.rate(dough.celsius)?)
}

fn yeast(yeast_percent: f64) -> Result<f64, GrowthError> {
    if yeast_percent.is_finite() && yeast_percent > 0.0 {
        Ok(yeast_percent)
    } else {
        Err(GrowthError::NotYeast { yeast_percent })
    }
}
