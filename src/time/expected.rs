//! How long a stage would be expected to ripen, from its seed, its yeast and its warmth.
//!
//! Anchored to published times, so that only ratios of rates are used. A rough figure: it
//! is there to find a slip of a digit, not to correct a baker.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::growth::Organism;
use super::laws::{CultureStep, SeedFraction, YeastDough, retime_culture, retime_yeast};
use crate::diag::amounts::celsius as shown;
use crate::formula::class::Class;
use crate::formula::{House, LineRef, Within, Worked};
use crate::quantity::display::percent;
use crate::quantity::{Exact, int, ratio};

/// A time to expect, and what it rests on.
#[derive(Clone, Debug)]
pub struct Expected {
    /// How long, in exact minutes.
    pub minutes: Exact,
    /// At which temperature, in °C.
    pub celsius: Exact,
    /// `20 % seed`, `0.2 % yeast`.
    pub seed: String,
    /// What it is compared with.
    pub anchor: String,
}

/// A liquid levain with 20 % seed and 125 % water: 12 to 16 h at 21 °C (Hamelman, *Bread*).
const LEVAIN: Anchor = Anchor { hours: 14.0, celsius: 21.0 };
const LEVAIN_WORDS: &str = "a liquid levain with 20 % seed takes 12–16 h at {} (Hamelman, Bread)";
/// Seed over the fresh flour and water: 20 of 225.
const LEVAIN_SEED: f64 = 20.0 / 225.0;

/// A poolish with 0.15 to 0.21 % yeast: 14 to 16 h at 21 °C (King Arthur's professional
/// formulas, by way of *Bake*).
const POOLISH: Anchor = Anchor { hours: 15.0, celsius: 21.0 };
const POOLISH_WORDS: &str = "a poolish with 0.15–0.21 % yeast takes 14–16 h at {} (King Arthur)";
const POOLISH_PERCENT: f64 = 0.18;

struct Anchor {
    hours: f64,
    celsius: f64,
}

/// What a stage is expected to take; none where its temperature is not said, is outside
/// the models, or nothing raises it.
pub fn expected_ripening(house: &House, worked: &Worked, stage: usize) -> Option<Expected> {
    let declared = &worked.formula.stages[stage];
    let numbers = &worked.first().stages[stage];
    let [wait] = declared.ripens.as_slice() else { return None };
    let at = wait.at.as_ref()?;
    let celsius = house.middle(at)?;
    // Below a cool cellar and above a warm room the models part ways.
    if celsius < int(12) || celsius > int(32) || numbers.made.is_zero() {
        return None;
    }
    let warm = celsius.to_f64();
    let mut seed = Exact::ZERO;
    let mut yeast = Exact::ZERO;
    for line in &numbers.lines {
        match line.goes {
            LineRef::Culture(_) => seed += &line.mass,
            LineRef::Stage(inner) if worked.formula.stages[inner].kind.ferments() => {
                seed += &line.mass;
            }
            LineRef::Ingredient(id) if house.ingredient(id).class == Class::Yeast => {
                yeast += &line.mass * house.ingredient(id).as_fresh_yeast();
            }
            _ => {}
        }
    }
    match (yeast.is_zero(), seed.is_zero()) {
        (true, false) => {
            let fraction = seed.over(&numbers.made)?.to_f64();
            let reference =
                CultureStep::active(LEVAIN.celsius, SeedFraction::of_fresh(LEVAIN_SEED).ok()?);
            let wanted = CultureStep::active(warm, SeedFraction::of_total(fraction).ok()?);
            let yeast = Organism::SourdoughYeast;
            let minutes = retime_culture(yeast, LEVAIN.hours, reference, wanted).ok()?.hours * 60.0;
            let basis = if numbers.basis.is_zero() { &numbers.made } else { &numbers.basis };
            expected(
                minutes,
                celsius,
                format!("{} % seed", percent(&seed.over(basis)?, 1)),
                LEVAIN_WORDS,
            )
        }
        (false, true) => {
            let share = yeast.over(&numbers.basis)?;
            // Stiff or rich in yeast, a preferment keeps another time than a poolish.
            let content = worked.content(worked.first(), Within::Stage(stage));
            let water = worked.class_mass(&content, Class::Water);
            let is_wet = water >= &numbers.basis * ratio(4, 5);
            if !is_wet || share < ratio(5, 10_000) || share > ratio(2, 100) {
                return None;
            }
            let reference = YeastDough { celsius: POOLISH.celsius, yeast_percent: POOLISH_PERCENT };
            let wanted = YeastDough { celsius: warm, yeast_percent: share.to_f64() * 100.0 };
            let minutes = retime_yeast(POOLISH.hours, reference, wanted).ok()?.hours * 60.0;
            let seed = format!("{} % yeast, as fresh", percent(&share, 2));
            expected(minutes, celsius, seed, POOLISH_WORDS)
        }
        _ => None,
    }
}

fn expected(minutes: f64, celsius: Exact, seed: String, anchor: &str) -> Option<Expected> {
    // To a minute: nothing here is known better.
    let whole = minutes.round();
    let in_reason = (1.0..100_000.0).contains(&whole);
    in_reason.then(|| Expected {
        minutes: Exact::try_from(whole).unwrap_or_else(|_| ratio(0, 1)),
        celsius,
        seed,
        anchor: anchor.replace("{}", &shown(&crate::quantity::int(21), 0)),
    })
}
