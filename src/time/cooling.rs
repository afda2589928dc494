//! The temperature of a mass of dough that stands in cooler or warmer surroundings.
//!
//! In: temperatures in °C, times in hours, kilograms, metres, and a surface coefficient
//! in W/(m² K). Out: time constants, temperatures and times as `f64`.
//!
//! The law is Newton's: the difference to the surroundings shrinks by the same factor in
//! every hour. For a body that conducts as badly as dough this is the slowest term of the
//! exact solution with its leading factor set to one. So the curve is that of a middling
//! layer: the core follows later, the skin is ahead, and the first hour is the least true.
//!
//! **Where exactness ends.** Nothing here is exact: the properties of dough are from
//! memory, and no published time constants of dough were found. One measured pair of time
//! and temperature (`time_constant_from_measurement`) is worth more than any shape.
//!
//! Deliberately absent: heat that the dough makes itself, doors that are opened, boxes and
//! trays that take up heat, and freezing.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use core::f64::consts::PI;

const SECONDS_IN_AN_HOUR: f64 = 3600.0;

/// Halvings after which an interval of two neighbouring `f64` is certain for these equations.
const HALVINGS: u32 = 64;

/// Surface coefficient in a refrigerator with a fan, W/(m² K). From memory.
pub const FAN: f64 = 10.0;

/// The course of a dough's temperature towards that of its surroundings.
///
/// A dough that is as warm as its surroundings is allowed: it keeps its temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cooling {
    start_celsius: f64,
    surroundings_celsius: f64,
    time_constant_hours: f64,
}

impl Cooling {
    /// A course from `start_celsius` towards `surroundings_celsius`, both in °C; the
    /// difference falls to 1/e in `time_constant_hours`.
    ///
    /// # Errors
    /// `NotPositive` for the time constant, `NotATemperature` for a temperature.
    pub fn new(
        start_celsius: f64,
        surroundings_celsius: f64,
        time_constant_hours: f64,
    ) -> Result<Self, CoolingError> {
        Ok(Self {
            start_celsius: temperature(start_celsius)?,
            surroundings_celsius: temperature(surroundings_celsius)?,
            time_constant_hours: positive(Given::TimeConstant, time_constant_hours)?,
        })
    }

    /// °C at the start.
    pub fn start_celsius(&self) -> f64 {
        self.start_celsius
    }

    /// °C of the surroundings, which the dough comes near but never reaches.
    pub fn surroundings_celsius(&self) -> f64 {
        self.surroundings_celsius
    }

    /// Hours in which the difference to the surroundings falls to 1/e.
    pub fn time_constant_hours(&self) -> f64 {
        self.time_constant_hours
    }

    /// °C after so many hours: `Ta + (T0 − Ta) e^(−t/τ)`; before the start, that of the start.
    pub fn celsius_after(&self, hours: f64) -> f64 {
        let left = (-hours.max(0.0) / self.time_constant_hours).exp();
        self.surroundings_celsius + (self.start_celsius - self.surroundings_celsius) * left
    }

    /// Hours until the dough has `celsius`: `τ ln((T0 − Ta)/(T − Ta))`.
    ///
    /// # Errors
    /// `NotOnTheWay` where the temperature lies behind the start, or at or beyond the
    /// surroundings.
    pub fn hours_until(&self, celsius: f64) -> Result<f64, CoolingError> {
        let whole = self.start_celsius - self.surroundings_celsius;
        let left = (temperature(celsius)? - self.surroundings_celsius) / whole;
        if celsius == self.start_celsius {
            return Ok(0.0);
        }
        // A quotient of 0/0 passes neither comparison.
        if left > 0.0 && left < 1.0 {
            return Ok(self.time_constant_hours * -left.ln());
        }
        Err(CoolingError::NotOnTheWay {
            celsius,
            start_celsius: self.start_celsius,
            surroundings_celsius: self.surroundings_celsius,
        })
    }
}

/// The time constant in hours of a dough that went from `start_celsius` to
/// `measured_celsius` in `hours`, in surroundings of `surroundings_celsius`:
/// `t / ln((T0 − Ta)/(T − Ta))`.
///
/// A thermometer's error counts least where about a third of the difference is left; near
/// the start and near the surroundings the answer is worth little.
///
/// # Errors
/// `NotPositive` for the hours, `NotATemperature`, and `NotOnTheWay` where the measured
/// temperature is not strictly between start and surroundings, so that no time constant
/// leads there.
pub fn time_constant_from_measurement(
    start_celsius: f64,
    surroundings_celsius: f64,
    hours: f64,
    measured_celsius: f64,
) -> Result<f64, CoolingError> {
    let hours = positive(Given::Hours, hours)?;
    // With a time constant of one hour, the hours until a temperature are its exponent.
    let exponent =
        Cooling::new(start_celsius, surroundings_celsius, 1.0)?.hours_until(measured_celsius)?;
    if exponent > 0.0 {
        return positive(Given::TimeConstant, hours / exponent);
    }
    Err(CoolingError::NotOnTheWay {
        celsius: measured_celsius,
        start_celsius,
        surroundings_celsius,
    })
}

/// What decides how fast heat moves inside a dough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoughProperties {
    /// W/(m K).
    pub conductivity: f64,
    /// kg/m³.
    pub density: f64,
    /// J/(kg K).
    pub specific_heat: f64,
}

/// Dough before it has risen. From memory; gas lowers conductivity and density.
pub const UNFERMENTED_DOUGH: DoughProperties =
    DoughProperties { conductivity: 0.45, density: 1100.0, specific_heat: 2700.0 };

impl DoughProperties {
    /// Thermal diffusivity in m²/s, left unrounded (1.515e-7 for `UNFERMENTED_DOUGH`).
    pub fn diffusivity(&self) -> f64 {
        self.conductivity / (self.density * self.specific_heat)
    }

    fn checked(&self) -> Result<(), CoolingError> {
        positive(Given::Conductivity, self.conductivity)?;
        positive(Given::Density, self.density)?;
        positive(Given::SpecificHeat, self.specific_heat)?;
        Ok(())
    }
}

/// The time constant in hours of a ball of dough, the slowest shape of its mass:
/// `R²/(α ζ²)`, where ζ solves `ζ cot ζ = 1 − hR/k`.
///
/// Source: the first term of the solution for a sphere in a fluid, as in any textbook of
/// heat transfer; dough and surface coefficients are from memory.
///
/// # Errors
/// `NotPositive` for a mass, a coefficient or a property that is not a positive number.
pub fn sphere_time_constant(
    kilograms: f64,
    surface_coefficient: f64,
    dough: &DoughProperties,
) -> Result<f64, CoolingError> {
    dough.checked()?;
    let mass = positive(Given::Mass, kilograms)?;
    let radius = (0.75 * mass / (PI * dough.density)).cbrt();
    let coefficient = positive(Given::SurfaceCoefficient, surface_coefficient)?;
    let eigenvalue = sphere_eigenvalue(coefficient * radius / dough.conductivity);
    let seconds = (radius / eigenvalue).powi(2) / dough.diffusivity();
    positive(Given::TimeConstant, seconds / SECONDS_IN_AN_HOUR)
}

/// ζ in (0, π) with `1 − ζ cot ζ = biot`; the left side grows from 0 without bound.
fn sphere_eigenvalue(biot: f64) -> f64 {
    let (mut low, mut high) = (0.0, PI);
    for _ in 0..HALVINGS {
        let middle: f64 = 0.5 * (low + high);
        if 1.0 - middle / middle.tan() < biot {
            low = middle;
        } else {
            high = middle;
        }
    }
    // The upper end is never zero, so that it can be divided by.
    high
}

/// A quantity that has to be a positive number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Given {
    /// W/(m·K).
    Conductivity,
    /// kg/m³.
    Density,
    /// Hours.
    Hours,
    /// Kilograms.
    Mass,
    /// J/(kg·K).
    SpecificHeat,
    /// W/(m²·K).
    SurfaceCoefficient,
    /// Hours.
    TimeConstant,
}

/// Why there is no answer.
#[allow(clippy::enum_variant_names, reason = "each says what something is not")]
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CoolingError {
    /// A quantity is zero, negative or not a finite number.
    NotPositive {
        /// Which.
        given: Given,
        /// What was given for it, in its unit.
        value: f64,
    },
    /// A temperature is not a finite number, or is below absolute zero.
    NotATemperature {
        /// Degrees Celsius that were given.
        celsius: f64,
    },
    /// The temperature is not strictly between start and surroundings.
    NotOnTheWay {
        /// Where the course was to arrive, in °C.
        celsius: f64,
        /// Where it starts, in °C.
        start_celsius: f64,
        /// What is around it, in °C.
        surroundings_celsius: f64,
    },
}

fn positive(given: Given, value: f64) -> Result<f64, CoolingError> {
    if value.is_finite() && value > 0.0 {
        Ok(value)
    } else {
        Err(CoolingError::NotPositive { given, value })
    }
}

fn temperature(celsius: f64) -> Result<f64, CoolingError> {
    const ABSOLUTE_ZERO: f64 = -273.15;
    if celsius.is_finite() && celsius >= ABSOLUTE_ZERO {
        Ok(celsius)
    } else {
        Err(CoolingError::NotATemperature { celsius })
    }
}

#[cfg(test)]
pub mod tests {
    use super::*;

    /// Surface coefficient in still air, W/(m² K). From memory.
    const STILL_AIR: f64 = 5.0;

    /// Surface coefficient in a blast of cold air, W/(m² K). From memory.
    const BLAST: f64 = 25.0;

    /// Whether `found` rounds to the digits that are printed; a tie may go either way.
    pub fn assert_printed(place: &str, printed: &str, found: f64) {
        let decimals = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
        let half_a_digit = 0.5 * 0.1_f64.powi(i32::try_from(decimals).unwrap_or(0));
        let value: f64 = printed.parse().unwrap_or(f64::NAN);
        let difference = (found - value).abs();
        assert!(difference <= half_a_digit + 1e-9, "{place}: {found} is printed as {printed}");
    }

    /// Minutes for balls of dough, computed in our reference sheet from properties of dough
    /// and surface coefficients from memory; no published table was found.
    #[test]
    fn time_constants_of_balls_are_those_of_the_reference_sheet() -> Result<(), CoolingError> {
        let rows = [
            (0.25, ["136", "74", "37"]),
            (0.5, ["175", "97", "51"]),
            (1.0, ["226", "128", "72"]),
            (2.0, ["295", "172", "102"]),
            (5.0, ["423", "259", "168"]),
            (10.0, ["564", "360", "248"]),
            (25.0, ["838", "569", "424"]),
        ];
        for (kilograms, printed) in rows {
            for (minutes, coefficient) in printed.into_iter().zip([STILL_AIR, FAN, BLAST]) {
                let hours = sphere_time_constant(kilograms, coefficient, &UNFERMENTED_DOUGH)?;
                assert_printed(&format!("{kilograms} kg, {coefficient}"), minutes, hours * 60.0);
            }
        }
        Ok(())
    }

    /// °C after 2, 4 and 8 hours from 25 °C at 4 °C, computed in our reference sheet; the
    /// law is Newton's, so the sheet and this module share it.
    #[test]
    fn temperatures_are_those_of_the_reference_sheet() -> Result<(), CoolingError> {
        let rows = [
            (1.0, ["6.8", "4.4", "4.0"]),
            (2.0, ["11.7", "6.8", "4.4"]),
            (4.0, ["16.7", "11.7", "6.8"]),
            (8.0, ["20.4", "16.7", "11.7"]),
        ];
        for (time_constant_hours, printed) in rows {
            let cooling = Cooling::new(25.0, 4.0, time_constant_hours)?;
            for (celsius, hours) in printed.into_iter().zip([2.0, 4.0, 8.0]) {
                let place = format!("after {hours} h, time constant {time_constant_hours}");
                assert_printed(&place, celsius, cooling.celsius_after(hours));
            }
        }
        Ok(())
    }

    /// Worked out by hand: ln(21/4) = 1.658.
    #[test]
    fn from_25_to_8_at_4_takes_1_66_time_constants() -> Result<(), CoolingError> {
        let hours = Cooling::new(25.0, 4.0, 1.0)?.hours_until(8.0)?;
        assert_printed("25 to 8 at 4", "1.66", hours);
        Ok(())
    }

    /// First eigenvalues as tabulated in textbooks of heat transfer, from memory; each is
    /// also put back into its equation, which needs no source.
    #[test]
    fn eigenvalues_are_the_textbook_ones() {
        let rows = [(0.1, "0.5423"), (1.0, "1.5708"), (10.0, "2.8363"), (100.0, "3.1102")];
        for (biot, sphere) in rows {
            let ball = sphere_eigenvalue(biot);
            assert_printed("sphere", sphere, ball);
            assert!(((1.0 - ball / ball.tan()) / biot - 1.0).abs() < 1e-9);
        }
    }

    /// Where the surface is the only resistance, the time constant is m c/(h A).
    #[test]
    fn small_bodies_come_near_the_lumped_law() -> Result<(), CoolingError> {
        let conducting = DoughProperties { conductivity: 450.0, ..UNFERMENTED_DOUGH };
        let ball = sphere_time_constant(1.0, FAN, &conducting)?;
        let radius = (0.75 / (PI * conducting.density)).cbrt();
        let lumped = conducting.specific_heat / (FAN * 4.0 * PI * radius * radius) / 3600.0;
        assert!((ball / lumped - 1.0).abs() < 1e-3, "{ball} {lumped}");
        Ok(())
    }

    #[test]
    fn larger_and_less_blown_on_is_slower() -> Result<(), CoolingError> {
        let mut before = 0.0;
        for step in 1..=200_u32 {
            let kilograms = 0.125 * f64::from(step);
            let ball = sphere_time_constant(kilograms, FAN, &UNFERMENTED_DOUGH)?;
            assert!(ball > before);
            assert!(ball > sphere_time_constant(kilograms, BLAST, &UNFERMENTED_DOUGH)?);
            before = ball;
        }
        Ok(())
    }

    #[test]
    fn a_measured_pair_gives_its_time_constant_back() -> Result<(), CoolingError> {
        for (start, surroundings) in [(25.0, 4.0), (27.5, 3.0), (4.0, 24.0), (22.0, 35.0)] {
            for step in 1..=40_u32 {
                let time_constant = 0.25 * f64::from(step);
                let cooling = Cooling::new(start, surroundings, time_constant)?;
                let hours = 1.5;
                let measured = cooling.celsius_after(hours);
                let found = time_constant_from_measurement(start, surroundings, hours, measured)?;
                assert!((found / time_constant - 1.0).abs() < 1e-9);
                assert!((cooling.hours_until(measured)? - hours).abs() < 1e-9);
            }
        }
        Ok(())
    }

    #[test]
    fn impossible_measurements_are_refused() {
        let impossible = [
            (25.0, 4.0, 2.0, 25.0),
            (25.0, 4.0, 2.0, 26.0),
            (25.0, 4.0, 2.0, 4.0),
            (25.0, 4.0, 2.0, 3.0),
            (4.0, 25.0, 2.0, 3.0),
            (20.0, 20.0, 2.0, 20.0),
            (20.0, 20.0, 2.0, 19.0),
        ];
        for (start, surroundings, hours, measured) in impossible {
            let found = time_constant_from_measurement(start, surroundings, hours, measured);
            assert!(matches!(found, Err(CoolingError::NotOnTheWay { .. })), "{found:?}");
        }
        let backwards = time_constant_from_measurement(25.0, 4.0, -1.0, 10.0);
        assert!(matches!(backwards, Err(CoolingError::NotPositive { given: Given::Hours, .. })));
        let unreadable = time_constant_from_measurement(25.0, 4.0, 1.0, f64::NAN);
        assert!(matches!(unreadable, Err(CoolingError::NotATemperature { .. })));
    }

    #[test]
    fn errors_show_every_number() {
        let error = time_constant_from_measurement(25.0, 4.0, 2.0, 3.0).err();
        assert_eq!(
            error.map(|error| error.to_string()).as_deref(),
            Some("3 °C is not on the way from 25 °C to surroundings of 4 °C")
        );
        let error = sphere_time_constant(0.0, FAN, &UNFERMENTED_DOUGH).err();
        assert_eq!(
            error.map(|error| error.to_string()).as_deref(),
            Some("a mass of 0 is not above zero")
        );
    }

    #[test]
    fn a_dough_as_warm_as_its_surroundings_stays_so() -> Result<(), CoolingError> {
        let cooling = Cooling::new(20.0, 20.0, 2.0)?;
        assert_eq!(cooling.celsius_after(5.0), 20.0);
        assert_eq!(cooling.hours_until(20.0)?, 0.0);
        assert!(cooling.hours_until(19.0).is_err());
        Ok(())
    }

    #[test]
    fn odd_numbers_never_panic() {
        let odd = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -1.0, 1e308, 1e-308, 25.0];
        for first in odd {
            for second in odd {
                let _ = sphere_time_constant(first, second, &UNFERMENTED_DOUGH);
                for third in odd {
                    let _ = time_constant_from_measurement(first, second, third, 10.0);
                    if let Ok(cooling) = Cooling::new(first, second, third) {
                        assert!(!cooling.celsius_after(first).is_nan());
                        let _ = cooling.hours_until(second);
                    }
                }
            }
        }
    }
}
