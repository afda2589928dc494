//! How long a stage would be expected to ripen, from its seed, its yeast and its warmth.
//!
//! Anchored to published times, so that only ratios of rates are used. A rough figure: it
//! is there to find a slip of a digit, not to correct a baker.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::growth::Organism;
use super::laws::{CultureStep, SeedFraction, YeastDough, retime_culture, retime_yeast};
use crate::diag::amounts::celsius;
use crate::formula::class::Class;
use crate::formula::{House, LineRef, Within, Worked, known, limit};
use crate::quantity::Exact;
use crate::quantity::display::{minutes_range, percent};

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

/// What the stores know of preferments.
const STORE: &str = "usual ripening";

/// A published time: hours, and degrees Celsius.
struct PublishedTime {
    hours: f64,
    celsius: Exact,
}

fn anchor(of: &str) -> Option<PublishedTime> {
    let hours = middle(of)?.one_in::<60>().to_f64();
    Some(PublishedTime { hours, celsius: known(STORE, "known") })
}

fn middle(of: &str) -> Option<Exact> {
    let range = limit(STORE, of)?;
    let (low, high) = (range.low.as_ref(), range.high.as_ref());
    Some((low.or(high)? + high.or(low)?).one_in::<2>())
}

/// `a liquid levain with 20 % seed takes 12–16 h at 21 °C (Hamelman, Bread)`.
fn told(name: &str, of: &str, share: (&str, &str), source: &str) -> Option<String> {
    let ends = |of: &str| {
        let range = limit(STORE, of)?;
        Some((range.low.clone().or(range.high.clone())?, range.high.clone().or(range.low.clone())?))
    };
    let ((low, high), (least, most)) = (ends(of)?, ends(share.0)?);
    let share = match least == most {
        true => format!("{} % {}", percent(&least, 2), share.1),
        false => format!("{}–{} % {}", percent(&least, 2), percent(&most, 2), share.1),
    };
    let at = celsius(&known(STORE, "known"), 0);
    Some(format!("{name} with {share} takes {} at {at} ({source})", minutes_range(&low, &high)))
}

/// What a stage is expected to take; none where its temperature is not said, is outside
/// the models, or nothing raises it.
pub fn expected_ripening(house: &House, worked: &Worked, stage: usize) -> Option<Expected> {
    let declared = &worked.formula.stages[stage];
    let numbers = &worked.first().stages[stage];
    let [wait] = declared.ripens.as_slice() else { return None };
    let at = wait.at.as_ref()?;
    let warmth = house.middle(at)?;
    if !limit(STORE, "room")?.holds(&warmth) || numbers.made.is_zero() {
        return None;
    }
    let warm = warmth.to_f64();
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
            let levain = anchor("levain")?;
            // Seed over the fresh flour and water.
            let fresh = Exact::ONE + known(STORE, "levain water");
            let usual = known(STORE, "levain seed").over(&fresh)?.to_f64();
            let usual = SeedFraction::of_fresh(usual).ok()?;
            let reference = CultureStep::active(levain.celsius.to_f64(), usual);
            let wanted = CultureStep::active(warm, SeedFraction::of_total(fraction).ok()?);
            let yeast = Organism::SourdoughYeast;
            let minutes = retime_culture(yeast, levain.hours, reference, wanted).ok()?.hours * 60.0;
            let basis = if numbers.basis.is_zero() { &numbers.made } else { &numbers.basis };
            expected(
                minutes,
                warmth,
                format!("{} % seed", percent(&seed.over(basis)?, 1)),
                told("a liquid levain", "levain", ("levain seed", "seed"), "Hamelman, Bread")?,
            )
        }
        (false, true) => {
            let share = yeast.over(&numbers.basis)?;
            // Stiff or rich in yeast, a preferment keeps another time than a poolish.
            let content = worked.content(worked.first(), Within::Stage(stage));
            let water = worked.class_mass(&content, Class::Water);
            let water = water.over(&numbers.basis)?;
            let is_usual = limit(STORE, "poolish water")?.holds(&water);
            if !is_usual || !limit(STORE, "yeast")?.holds(&share) {
                return None;
            }
            let poolish = anchor("poolish")?;
            let yeast_percent = (middle("poolish yeast")? * Exact::from(100)).to_f64();
            let reference = YeastDough { celsius: poolish.celsius.to_f64(), yeast_percent };
            let wanted = YeastDough { celsius: warm, yeast_percent: share.to_f64() * 100.0 };
            let minutes = retime_yeast(poolish.hours, reference, wanted).ok()?.hours * 60.0;
            let seed = format!("{} % yeast, as fresh", percent(&share, 2));
            let told = told("a poolish", "poolish", ("poolish yeast", "yeast"), "King Arthur")?;
            expected(minutes, warmth, seed, told)
        }
        _ => None,
    }
}

fn expected(minutes: f64, celsius: Exact, seed: String, anchor: String) -> Option<Expected> {
    // To a minute: nothing here is known better.
    let whole = minutes.round();
    let minutes = Exact::try_from(whole).ok().filter(|_| (1.0..1e5).contains(&whole))?;
    Some(Expected { minutes, celsius, seed, anchor })
}
