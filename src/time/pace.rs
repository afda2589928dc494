//! How fast what ferments comes on at a temperature, against the one it is written for.
//!
//! One law for a whole stretch: with a culture both its yeasts and its bacteria are asked,
//! and whichever gains more by the change counts; with added yeast its gas does. The law
//! is continuous, and no temperature is slower than a cooler one.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::cooling::Cooling;
use super::dose::{gathered, hours_to_gather};
use super::growth::{GrowthError, LONGEST_WAIT_HOURS, Model};

/// The pace of one stretch.
#[derive(Clone, Debug)]
pub struct Pace {
    models: Vec<Model>,
    /// °C at which the pace is 1.
    written: f64,
}

impl Pace {
    /// The pace of what these models say of, against that at `written` °C.
    ///
    /// # Errors
    /// `OutsideRange` where a model is not known for that temperature.
    pub fn new(models: &[Model], written: f64) -> Result<Self, GrowthError> {
        let pace = Self { models: models.to_vec(), written };
        pace.knows(written)?;
        Ok(pace)
    }

    /// Whether all the models are known for a temperature.
    ///
    /// # Errors
    /// `OutsideRange` of the first that is not.
    pub fn knows(&self, celsius: f64) -> Result<(), GrowthError> {
        self.models.iter().try_for_each(|model| model.rate(celsius).map(|_| ()))
    }

    /// How many times as fast as it is written.
    pub fn at(&self, celsius: f64) -> f64 {
        let paces = self.models.iter().map(|model| self.of(*model, celsius));
        paces.fold(0.0, f64::max)
    }

    /// The model that says so; of equals the first.
    pub fn leading(&self, celsius: f64) -> Option<Model> {
        let most = self.at(celsius);
        self.models.iter().copied().find(|model| self.of(*model, celsius) >= most)
    }

    fn of(&self, model: Model, celsius: f64) -> f64 {
        model.share_never_falling(celsius) / model.share_never_falling(self.written)
    }

    /// The hours on one course of temperature that do as much as `hours` on another.
    ///
    /// # Errors
    /// `TooSlow` where two weeks would not do.
    pub fn hours(
        &self,
        hours: f64,
        written: &Cooling,
        wanted: &Cooling,
    ) -> Result<f64, GrowthError> {
        let is_level = |course: &Cooling| course.start_celsius() == course.surroundings_celsius();
        let rate = |celsius: f64| self.at(celsius);
        if is_level(written) && is_level(wanted) {
            let found = hours * rate(written.start_celsius()) / rate(wanted.start_celsius());
            return Self::in_reason(found, wanted);
        }
        let work = gathered(&rate, written, hours);
        let found = hours_to_gather(&rate, wanted, work);
        Self::in_reason(found.unwrap_or(f64::INFINITY), wanted)
    }

    fn in_reason(hours: f64, wanted: &Cooling) -> Result<f64, GrowthError> {
        let celsius = wanted.surroundings_celsius();
        let is_in_reason = hours <= LONGEST_WAIT_HOURS;
        if is_in_reason { Ok(hours) } else { Err(GrowthError::TooSlow { celsius }) }
    }
}
