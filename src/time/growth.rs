//! How fast cultures grow and yeast makes gas, and what that says about times.
//!
//! In: temperatures in °C, times in hours, shares of seed and of yeast. Out: rates relative
//! to 25 °C, and times and doses as `f64`, each with the model it rests on and the range of
//! temperatures in which the model may be asked.
//!
//! Only ratios of rates are used. Gänzle says that rates measured in broth are not those in
//! dough but that the ratio between temperatures carries over; so the user gives one time
//! that is known, and this module moves it to another temperature and another share.
//!
//! **Where exactness ends.** Everything here is `f64` and an estimate. `exp` and `ln` may
//! differ in the last bit between machines, so a result is rounded before it is shown.
//! No claim is made to hold the equations of Gänzle, Ehmann & Hammes (1998): only the
//! cardinal temperatures Gänzle published were at hand.
//!
//! Deliberately absent: salt, sugar, acidity, and heat that the dough makes itself.

use core::fmt;

use super::cooling::Cooling;

/// The temperature at which every relative rate is 1.
pub const REFERENCE_CELSIUS: f64 = 25.0;

/// The coldest that a rate is carried on to below its range; colder dough begins to freeze.
pub const COLDEST_CELSIUS: f64 = 0.0;

/// The longest wait that is looked for: two weeks. Common practice keeps dough cold for two
/// days at most; where two weeks are not enough, growth has stopped in all but name.
pub const LONGEST_WAIT_HOURS: f64 = 336.0;

/// What grows in a dough.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Organism {
    /// Lactic acid bacteria of sourdough (L. sanfranciscensis).
    LacticBacteria,
    /// The yeast of sourdough that prefers it cool (C. milleri, also called C. humilis).
    SourdoughYeast,
    /// S. cerevisiae, where its cells multiply.
    BakersYeast,
}

/// A rate that depends on temperature.
///
/// Growth and gas are kept apart: at 4 °C growth has all but stopped, whereas added yeast
/// still makes an eighth of the gas that it makes at 25 °C.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Model {
    Growth(Organism),
    /// Gas from yeast that was added, and barely multiplies.
    YeastGas,
}

impl Model {
    pub const ALL: [Self; 4] = [
        Self::Growth(Organism::LacticBacteria),
        Self::Growth(Organism::SourdoughYeast),
        Self::Growth(Organism::BakersYeast),
        Self::YeastGas,
    ];

    /// The rate at a temperature as a multiple of that at 25 °C.
    ///
    /// # Errors
    /// `OutsideRange` where the model was not built for that temperature.
    pub fn rate(self, celsius: f64) -> Result<f64, GrowthError> {
        if self.range().contains(celsius) {
            Ok(self.curve(celsius))
        } else {
            Err(GrowthError::OutsideRange { model: self, celsius })
        }
    }

    /// The rate as a multiple of that at 25 °C, inside and outside the range; to draw the
    /// curve, and to carry it on into the cold where that is said.
    pub fn curve(self, celsius: f64) -> f64 {
        self.share_of_best(celsius) / self.share_of_best(REFERENCE_CELSIUS)
    }

    /// The rate as a share of that at the best temperature, between 0 and 1.
    pub fn share_of_best(self, celsius: f64) -> f64 {
        match self {
            Self::Growth(Organism::LacticBacteria) => LACTIC_BACTERIA.share(celsius),
            Self::Growth(Organism::SourdoughYeast) => monotone_cubic(&SOURDOUGH_YEAST, celsius),
            Self::Growth(Organism::BakersYeast) => BAKERS_YEAST.share(celsius),
            Self::YeastGas => gas_share(celsius),
        }
    }

    /// As `share_of_best`, but above the best temperature as at it: a warmer dough is
    /// never said to take longer.
    pub fn share_never_falling(self, celsius: f64) -> f64 {
        self.share_of_best(celsius.min(self.best_celsius()))
    }

    /// Where the rate is highest; of a level stretch, where it begins.
    pub fn best_celsius(self) -> f64 {
        match self {
            Self::Growth(Organism::LacticBacteria) => LACTIC_BACTERIA.best,
            Self::Growth(Organism::SourdoughYeast) => SOURDOUGH_YEAST_BEST,
            Self::Growth(Organism::BakersYeast) => BAKERS_YEAST.best,
            Self::YeastGas => GAS_RISES_TO,
        }
    }

    /// The temperatures in which the model may be asked.
    ///
    /// Above 34 °C the curve of the bacteria is known to be too high; below 10 °C the models
    /// of growth differ from each other by a factor.
    pub fn range(self) -> TemperatureRange {
        match self {
            Self::Growth(_) => TemperatureRange { lowest: 10.0, highest: 34.0 },
            Self::YeastGas => TemperatureRange { lowest: 4.0, highest: 38.0 },
        }
    }

    /// A name that stays the same, for catalogues of words and machine forms.
    pub fn key(self) -> &'static str {
        match self {
            Self::Growth(Organism::LacticBacteria) => "lactic-bacteria-growth",
            Self::Growth(Organism::SourdoughYeast) => "sourdough-yeast-growth",
            Self::Growth(Organism::BakersYeast) => "bakers-yeast-growth",
            Self::YeastGas => "yeast-gas",
        }
    }

    /// The model in plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Growth(Organism::LacticBacteria) => "growth of lactic bacteria",
            Self::Growth(Organism::SourdoughYeast) => "growth of sourdough yeast",
            Self::Growth(Organism::BakersYeast) => "growth of baker's yeast",
            Self::YeastGas => "gas from added yeast",
        }
    }

    /// Where the model is from.
    pub fn source(self) -> &'static str {
        match self {
            Self::Growth(Organism::LacticBacteria) => {
                "a cardinal temperature curve (Rosso and others 1995; formula from memory) \
                 through the cardinal points Gänzle published in 1998: 4, 32.5 and 41 °C"
            }
            Self::Growth(Organism::SourdoughYeast) => {
                "a monotone cubic through the seven points Gänzle published in 1998, \
                 between 8 and 35 °C"
            }
            Self::Growth(Organism::BakersYeast) => {
                "a cardinal temperature curve (Rosso and others 1995; formula from memory) \
                 through 32.3 and 45.4 °C of Salvadó and others 2011; lower end of 3 °C assumed"
            }
            Self::YeastGas => "a tenth more for each °C: common practice, near 23 to 35 °C",
        }
    }

    /// Hours at 25 °C that do as much as `hours` at `celsius`.
    ///
    /// # Errors
    /// `OutsideRange`; `NotHours` for a time that is negative or not finite.
    pub fn hours_at_25(self, hours: f64, celsius: f64) -> Result<f64, GrowthError> {
        Ok(hours_from_zero(hours)? * self.rate(celsius)?)
    }
}

/// Temperatures in °C, both ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TemperatureRange {
    pub lowest: f64,
    pub highest: f64,
}

impl TemperatureRange {
    /// Whether the temperature is in it; what is not a number is not.
    pub fn contains(self, celsius: f64) -> bool {
        (self.lowest..=self.highest).contains(&celsius)
    }
}

impl fmt::Display for TemperatureRange {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} to {} °C", self.lowest, self.highest)
    }
}

/// A time that was estimated, and what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    pub hours: f64,
    pub model: Model,
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

impl Law {
    /// The law in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Multiplication => "the culture multiplies by the same factor in equal times",
            Self::Proportion => "time is inversely proportional to the yeast",
        }
    }
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

    /// Seed mass over total mass.
    pub fn fraction(self) -> f64 {
        self.0
    }

    /// How often the seed has to double until it is all of the stage.
    pub fn doublings(self) -> f64 {
        -self.0.log2()
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
) -> Result<Estimate, GrowthError> {
    let model = Model::Growth(organism);
    let dose = culture_dose(organism, hours, reference, wanted.seed)?;
    let lag = hours_from_zero(wanted.lag_hours)?;
    let hours = hours_above_zero(lag + dose / model.rate(wanted.celsius)?)?;
    Ok(Estimate { hours, model, law: Law::Multiplication })
}

/// The growth that makes a stage from `wanted` seed as ripe as `reference` is after
/// `hours`, in hours at 25 °C without lag; `wait_for_dose` finds it on a course of
/// temperature.
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
) -> Result<Estimate, GrowthError> {
    let gas = hours_above_zero(hours)? * gas_per_hour(reference)?;
    let hours = hours_above_zero(gas / gas_per_hour(wanted)?)?;
    Ok(Estimate { hours, model: Model::YeastGas, law: Law::Proportion })
}

/// Yeast times rate: gas per hour in a unit that cancels between two doughs.
fn gas_per_hour(dough: YeastDough) -> Result<f64, GrowthError> {
    Ok(yeast(dough.yeast_percent)? * Model::YeastGas.rate(dough.celsius)?)
}

/// What to do with the part of a course that is colder than a model's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BelowRange {
    /// It is an error.
    Refused,
    /// The curve is carried on, down to 0 °C, and the dose says how much of it that was.
    Extended,
}

/// What a course of temperature does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    pub model: Model,
    /// Hours at 25 °C that do as much.
    pub hours_at_25: f64,
    /// Hours spent below the range of the model.
    pub hours_below_range: f64,
    /// The part of `hours_at_25` from below the range, which no source bears out. The truth
    /// lies between none of it and `hours_below_range` at the rate of the range's lower end.
    pub hours_at_25_below_range: f64,
}

impl Dose {
    /// Hours at a constant temperature that do as much.
    ///
    /// # Errors
    /// `OutsideRange`.
    pub fn hours_at(&self, celsius: f64) -> Result<f64, GrowthError> {
        Ok(self.hours_at_25 / self.model.rate(celsius)?)
    }
}

/// What the first `hours` of a dough's course of temperature do: the integral of the rate.
///
/// # Errors
/// `NotHours`; `OutsideRange` where the course is warmer than the model's range, or colder
/// and that is `Refused`; `TooCold` below 0 °C.
pub fn dose_along(
    model: Model,
    cooling: &Cooling,
    hours: f64,
    below: BelowRange,
) -> Result<Dose, GrowthError> {
    let hours = hours_from_zero(hours)?;
    let (start, end) = (cooling.start_celsius(), cooling.celsius_after(hours));
    allowed(model, start, below)?;
    allowed(model, end, below)?;
    let lowest = model.range().lowest;
    // A course runs one way only, so it crosses the end of the range once at most.
    let crossing = cooling.hours_until(lowest).map_or(hours, |crossing| crossing.min(hours));
    let rate = |celsius| model.curve(celsius);
    let hours_at_25 = gathered(&rate, cooling, hours);
    let before = gathered(&rate, cooling, crossing);
    let (hours_below_range, hours_at_25_below_range) = match (start < lowest, end < lowest) {
        (false, false) => (0.0, 0.0),
        (false, true) => (hours - crossing, hours_at_25 - before),
        (true, false) => (crossing, before),
        (true, true) => (hours, hours_at_25),
    };
    Ok(Dose { model, hours_at_25, hours_below_range, hours_at_25_below_range })
}

/// A wait along a course of temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wait {
    pub hours: f64,
    pub dose: Dose,
}

/// How long a dough has to stay on its course until it has done as much as in
/// `hours_at_25` at 25 °C.
///
/// # Errors
/// Those of `dose_along`, and `NeverReached` where two weeks would not do.
pub fn wait_for_dose(
    model: Model,
    cooling: &Cooling,
    hours_at_25: f64,
    below: BelowRange,
) -> Result<Wait, GrowthError> {
    let wanted = hours_above_zero(hours_at_25)?;
    allowed(model, cooling.start_celsius(), below)?;
    match hours_to_gather(&|celsius| model.curve(celsius), cooling, wanted) {
        Some(hours) if hours <= LONGEST_WAIT_HOURS => {
            Ok(Wait { hours, dose: dose_along(model, cooling, hours, below)? })
        }
        // A course that leaves the range is told first: that is why its dose stays small.
        _ => Err(GrowthError::NeverReached {
            hours_at_25: wanted,
            most_at_25: dose_along(model, cooling, LONGEST_WAIT_HOURS, below)?.hours_at_25,
        }),
    }
}

fn allowed(model: Model, celsius: f64, below: BelowRange) -> Result<(), GrowthError> {
    let range = model.range();
    if range.contains(celsius) {
        return Ok(());
    }
    if below == BelowRange::Refused || celsius > range.highest {
        return Err(GrowthError::OutsideRange { model, celsius });
    }
    if celsius < COLDEST_CELSIUS {
        return Err(GrowthError::TooCold { celsius });
    }
    Ok(())
}

/// Panels of the integral in one time constant. The integral is then true to about a
/// millionth, also where a curve has a corner.
const PANELS_IN_A_TIME_CONSTANT: u32 = 128;

/// Panels after which a dough has the temperature of its surroundings to the last bit, so
/// that what follows is a product: those of forty time constants.
const PANELS_OF_CHANGE: u32 = 40 * PANELS_IN_A_TIME_CONSTANT;

/// A rate by the temperature in °C.
type Rate<'r> = &'r dyn Fn(f64) -> f64;

/// The integral of a rate over the first hours of a course: hours at the temperature at
/// which the rate is 1.
///
/// Panels are laid from the start of the course whatever the end, so that this function and
/// `hours_to_gather` are each other's inverse.
pub(super) fn gathered(rate: Rate, cooling: &Cooling, hours: f64) -> f64 {
    let width = panel_width(cooling);
    let mut sum = 0.0;
    for panel in 0..PANELS_OF_CHANGE {
        let from = f64::from(panel) * width;
        if from + width >= hours {
            return sum + gained(rate, cooling, from, hours - from);
        }
        sum += gained(rate, cooling, from, width);
    }
    let settled = f64::from(PANELS_OF_CHANGE) * width;
    sum + (hours - settled) * rate(cooling.surroundings_celsius())
}

/// The time by which so many hours are gathered, if ever.
pub(super) fn hours_to_gather(rate: Rate, cooling: &Cooling, wanted: f64) -> Option<f64> {
    let width = panel_width(cooling);
    let mut missing = wanted;
    for panel in 0..PANELS_OF_CHANGE {
        let from = f64::from(panel) * width;
        let gained = gained(rate, cooling, from, width);
        if gained >= missing {
            return Some(from + hours_in_panel(rate, cooling, from, missing));
        }
        missing -= gained;
    }
    let settled = f64::from(PANELS_OF_CHANGE) * width;
    let last = rate(cooling.surroundings_celsius());
    (last > 0.0).then(|| settled + missing / last)
}

fn panel_width(cooling: &Cooling) -> f64 {
    cooling.time_constant_hours() / f64::from(PANELS_IN_A_TIME_CONSTANT)
}

/// The integral over one panel or a part of it, by Simpson's rule.
fn gained(rate: Rate, cooling: &Cooling, from: f64, width: f64) -> f64 {
    let after = |hours| rate(cooling.celsius_after(hours));
    let middle = after(from + 0.5 * width);
    (after(from) + 4.0 * middle + after(from + width)) * width / 6.0
}

/// The time after `from` by which `missing` is gathered, known to lie within one panel.
fn hours_in_panel(rate: Rate, cooling: &Cooling, from: f64, missing: f64) -> f64 {
    let (mut low, mut high) = (0.0, panel_width(cooling));
    // Sixty halvings leave less of the panel than an `f64` can tell apart.
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if gained(rate, cooling, from, middle) < missing {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// The three temperatures of the cardinal temperature model with inflection.
struct Cardinal {
    lowest: f64,
    best: f64,
    highest: f64,
}

/// Gänzle's summary of 1998: growth between 4 and 41 °C, best at 32 to 33 °C.
const LACTIC_BACTERIA: Cardinal = Cardinal { lowest: 4.0, best: 32.5, highest: 41.0 };

/// Salvadó and others 2011 for S. cerevisiae; they give 1.3 to 4.3 °C as the lower end
/// across the genus, of which 3 °C is assumed here.
const BAKERS_YEAST: Cardinal = Cardinal { lowest: 3.0, best: 32.3, highest: 45.4 };

impl Cardinal {
    /// The formula is that of Rosso and others (1995), from memory, and checked by its
    /// properties: 1 at the best temperature, 0 at both ends. It holds where the best
    /// temperature is nearer to the upper end.
    fn share(&self, celsius: f64) -> f64 {
        if celsius <= self.lowest || celsius >= self.highest {
            return 0.0;
        }
        let below = self.best - self.lowest;
        let above = self.best - self.highest;
        let inflection = above * (self.best + self.lowest - 2.0 * celsius);
        let divisor = below * (below * (celsius - self.best) - inflection);
        (celsius - self.highest) * (celsius - self.lowest).powi(2) / divisor
    }
}

/// A point that a curve goes through.
struct Knot {
    celsius: f64,
    share: f64,
}

/// Gänzle's summary of 1998 for the yeast of sourdough: best at 28 °C, half at 20 and 32,
/// a quarter at 14 and 34, none at 8 and 35 °C.
const SOURDOUGH_YEAST: [Knot; 7] = [
    Knot { celsius: 8.0, share: 0.0 },
    Knot { celsius: 14.0, share: 0.25 },
    Knot { celsius: 20.0, share: 0.5 },
    Knot { celsius: SOURDOUGH_YEAST_BEST, share: 1.0 },
    Knot { celsius: 32.0, share: 0.5 },
    Knot { celsius: 34.0, share: 0.25 },
    Knot { celsius: 35.0, share: 0.0 },
];

const SOURDOUGH_YEAST_BEST: f64 = 28.0;

/// The piecewise cubic through `knots` that nowhere overshoots them, and 0 outside.
///
/// The slopes are weighted harmonic means of the neighbouring chords (Fritsch & Carlson's
/// condition as met by Fritsch & Butland), with three-point slopes at the ends, as common
/// numeric libraries have them.
fn monotone_cubic(knots: &[Knot], celsius: f64) -> f64 {
    let right = knots.iter().position(|knot| celsius < knot.celsius);
    let Some((left, right)) = right.and_then(|right| Some((right.checked_sub(1)?, right))) else {
        return 0.0;
    };
    let (Some(from), Some(to)) = (knots.get(left), knots.get(right)) else {
        return 0.0;
    };
    let width = to.celsius - from.celsius;
    let along = (celsius - from.celsius) / width;
    let back = 1.0 - along;
    let rise_from = (1.0 + 2.0 * along) * from.share + along * width * slope_at(knots, left);
    let rise_to = (1.0 + 2.0 * back) * to.share - back * width * slope_at(knots, right);
    back * back * rise_from + along * along * rise_to
}

/// The straight line between two neighbouring knots.
#[derive(Clone, Copy)]
struct Chord {
    width: f64,
    slope: f64,
}

fn chord_from(knots: &[Knot], left: usize) -> Option<Chord> {
    let (from, to) = (knots.get(left)?, knots.get(left + 1)?);
    let width = to.celsius - from.celsius;
    Some(Chord { width, slope: (to.share - from.share) / width })
}

fn slope_at(knots: &[Knot], index: usize) -> f64 {
    let chord_back = |steps| index.checked_sub(steps).and_then(|left| chord_from(knots, left));
    match (chord_back(1), chord_from(knots, index)) {
        (Some(before), Some(after)) => inner_slope(before, after),
        (None, Some(first)) => end_slope(first, chord_from(knots, index + 1)),
        (Some(last), None) => end_slope(last, chord_back(2)),
        (None, None) => 0.0,
    }
}

/// The weighted harmonic mean of two chords; level where the curve turns.
fn inner_slope(before: Chord, after: Chord) -> f64 {
    if before.slope * after.slope <= 0.0 {
        return 0.0;
    }
    let weight_before = 2.0 * after.width + before.width;
    let weight_after = after.width + 2.0 * before.width;
    (weight_before + weight_after) / (weight_before / before.slope + weight_after / after.slope)
}

/// The slope at an end from its chord and the next one inwards, held to what keeps the
/// curve from overshooting.
fn end_slope(outer: Chord, inner: Option<Chord>) -> f64 {
    let Some(inner) = inner else {
        return outer.slope;
    };
    let bent = (2.0 * outer.width + inner.width) * outer.slope - outer.width * inner.slope;
    let slope = bent / (outer.width + inner.width);
    if slope * outer.slope <= 0.0 {
        0.0
    } else if outer.slope * inner.slope <= 0.0 && slope.abs() > 3.0 * outer.slope.abs() {
        3.0 * outer.slope
    } else {
        slope
    }
}

/// How much more gas a degree brings. Common practice for 23 to 35 °C.
const GAS_PER_CELSIUS: f64 = 1.1;

/// The rise ends here, and gas stays the same up to `GAS_FLAT_TO`.
const GAS_RISES_TO: f64 = 35.0;
const GAS_FLAT_TO: f64 = 40.0;

/// Above this yeast is dead or dying. Common practice; given as 50 to 60 °C.
const GAS_ENDS_AT: f64 = 50.0;

/// Gas against that at 35 to 40 °C. Between 40 and 50 °C, where no rate was found, the two
/// ends are joined by a straight line; the range of the model stops before it.
fn gas_share(celsius: f64) -> f64 {
    if celsius <= GAS_RISES_TO {
        GAS_PER_CELSIUS.powf(celsius - GAS_RISES_TO)
    } else if celsius <= GAS_FLAT_TO {
        1.0
    } else {
        ((GAS_ENDS_AT - celsius) / (GAS_ENDS_AT - GAS_FLAT_TO)).max(0.0)
    }
}

/// Why there is no answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GrowthError {
    /// The model was not built for this temperature.
    OutsideRange { model: Model, celsius: f64 },
    /// No rate is carried on to such cold.
    TooCold { celsius: f64 },
    /// A time is negative, zero where something has to happen, or not a finite number.
    NotHours { hours: f64 },
    /// The reference is over before its growth begins.
    LagTooLong { hours: f64, lag_hours: f64 },
    /// Seed has to be more than nothing and less than everything.
    NotASeed { fraction: f64 },
    /// Nobody begins a stage with so little or so much of its flour as seed.
    SeedUnusual { percent: f64, low: f64, high: f64 },
    /// Yeast has to be a positive number.
    NotYeast { yeast_percent: f64 },
    /// The dough gets too cold before it is done.
    NeverReached { hours_at_25: f64, most_at_25: f64 },
    /// Surroundings in which it takes longer than is ever waited.
    TooSlow { celsius: f64 },
}

impl fmt::Display for GrowthError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutsideRange { model, celsius } => {
                let (name, range) = (model.name(), model.range());
                let celsius = shown_outside(range, *celsius);
                write!(formatter, "{celsius} °C is outside {range}, where {name} is known")
            }
            Self::TooCold { celsius } => write!(
                formatter,
                "{} °C is below {COLDEST_CELSIUS} °C, where dough begins to freeze",
                shown(*celsius)
            ),
            Self::NotHours { hours } => write!(formatter, "{hours} h is no time to work with"),
            Self::LagTooLong { hours, lag_hours } => {
                write!(formatter, "a lag of {lag_hours} h leaves no growth in a step of {hours} h")
            }
            Self::NotASeed { fraction } => {
                write!(formatter, "seed of {fraction} of the total is not above 0 and below 1")
            }
            Self::SeedUnusual { percent, low, high } => write!(
                formatter,
                "seed of {percent} % of the new flour is outside {low} to {high} %, in which \
                 stages are begun"
            ),
            Self::NotYeast { yeast_percent } => {
                write!(formatter, "yeast of {yeast_percent} % is not above zero")
            }
            Self::TooSlow { celsius } => write!(
                formatter,
                "at {} °C it would take more than {LONGEST_WAIT_HOURS} h",
                shown(*celsius)
            ),
            Self::NeverReached { hours_at_25, most_at_25 } => write!(
                formatter,
                "{LONGEST_WAIT_HOURS} h are worth {} h at 25 °C, which is less than {} h",
                shown(*most_at_25),
                shown(*hours_at_25)
            ),
        }
    }
}

impl core::error::Error for GrowthError {}

/// A number that was worked out, to hundredths; the error's fields keep all of it.
fn shown(value: f64) -> f64 {
    let rounded = (100.0 * value).round() / 100.0;
    if rounded.is_finite() { rounded } else { value }
}

/// As `shown`, but never rounded into the range it is outside of.
fn shown_outside(range: TemperatureRange, celsius: f64) -> f64 {
    if range.contains(shown(celsius)) { celsius } else { shown(celsius) }
}

fn hours_from_zero(hours: f64) -> Result<f64, GrowthError> {
    if hours.is_finite() && hours >= 0.0 { Ok(hours) } else { Err(GrowthError::NotHours { hours }) }
}

fn hours_above_zero(hours: f64) -> Result<f64, GrowthError> {
    if hours > 0.0 { hours_from_zero(hours) } else { Err(GrowthError::NotHours { hours }) }
}

fn yeast(yeast_percent: f64) -> Result<f64, GrowthError> {
    if yeast_percent.is_finite() && yeast_percent > 0.0 {
        Ok(yeast_percent)
    } else {
        Err(GrowthError::NotYeast { yeast_percent })
    }
}

#[cfg(test)]
mod tests {
    use super::super::cooling::CoolingError;
    use super::*;

    const BACTERIA: Model = Model::Growth(Organism::LacticBacteria);
    const SOURDOUGH: Model = Model::Growth(Organism::SourdoughYeast);
    const BAKERS: Model = Model::Growth(Organism::BakersYeast);
    const ORGANISMS: [Organism; 3] =
        [Organism::LacticBacteria, Organism::SourdoughYeast, Organism::BakersYeast];

    /// Any error of a test, as its words.
    #[derive(Debug)]
    struct Failed(#[allow(dead_code)] String);

    impl From<GrowthError> for Failed {
        fn from(error: GrowthError) -> Self {
            Self(error.to_string())
        }
    }

    impl From<CoolingError> for Failed {
        fn from(error: CoolingError) -> Self {
            Self(error.to_string())
        }
    }

    type Tested = Result<(), Failed>;

    /// Whether `found` rounds to the digits that are printed; a tie may go either way.
    fn assert_printed(place: &str, printed: &str, found: f64) {
        let decimals = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
        let half_a_digit = 0.5 * 0.1_f64.powi(i32::try_from(decimals).unwrap_or(0));
        let value: f64 = printed.parse().unwrap_or(f64::NAN);
        let difference = (found - value).abs();
        assert!(difference <= half_a_digit + 1e-9, "{place}: {found} is printed as {printed}");
    }

    fn assert_near(place: &str, found: f64, wanted: f64, relative: f64) {
        let difference = (found - wanted).abs();
        assert!(difference <= relative * wanted.abs(), "{place}: {found}, not {wanted}");
    }

    /// The temperature of a printed row, and its cells without brackets.
    fn printed_row(line: &'static str) -> (f64, impl Iterator<Item = &'static str>) {
        let mut words = line.split_whitespace().map(|word| word.trim_matches(['(', ')']));
        let celsius = words.next().and_then(|word| word.parse().ok());
        (celsius.unwrap_or(f64::NAN), words)
    }

    const RATES: &str = "\
        5   0.003 (.002)  0     (0)     0.014 (.012)  0.149
        10  0.104 (.078)  0.095 (.083)  0.158 (.131)  0.239
        15  0.330 (.249)  0.331 (.291)  0.412 (.342)  0.386
        20  0.648 (.489)  0.570 (.500)  0.716 (.594)  0.621
        22  0.790 (.595)  0.723 (.634)  0.836 (.693)  0.751
        24  0.931 (.702)  0.912 (.800)  0.949 (.786)  0.909
        25  1     (.754)  1     (.877)  1     (.829)  1
        26  1.066 (.804)  1.073 (.940)  1.047 (.868)  1.100
        27  1.129 (.851)  1.122 (.984)  1.090 (.904)  1.210
        28  1.186 (.894)  1.141 (1.00)  1.127 (.935)  1.331
        30  1.277 (.963)  0.927 (.812)  1.182 (.980)  1.611
        32  1.325 (.998)  0.570 (.500)  1.206 (1.00)  1.949
        35  1.257 (.948)  0     (0)     1.168 (.968)  2.594";

    /// Relative rates, and in brackets shares of the best rate. Gänzle's published cardinal
    /// points, and Salvadó and others' for baker's yeast; the table was computed from them
    /// in our reference sheet. The last column is a tenth more for each degree: common
    /// practice, no source.
    #[test]
    fn rates_are_those_of_the_reference_sheet() {
        let mut cells_seen = 0;
        for line in RATES.lines() {
            let (celsius, mut cells) = printed_row(line);
            let columns = [
                BACTERIA.curve(celsius),
                BACTERIA.share_of_best(celsius),
                SOURDOUGH.curve(celsius),
                SOURDOUGH.share_of_best(celsius),
                BAKERS.curve(celsius),
                BAKERS.share_of_best(celsius),
                Model::YeastGas.curve(celsius),
            ];
            for (column, found) in columns.into_iter().enumerate() {
                let printed = cells.next().unwrap_or_default();
                assert_printed(&format!("column {column} at {celsius} °C"), printed, found);
                cells_seen += 1;
            }
        }
        assert_eq!(cells_seen, 91);
        // Where the sheet has a plain 0 or 1 it means just that.
        assert_eq!(SOURDOUGH.curve(5.0), 0.0);
        assert_eq!(SOURDOUGH.curve(35.0), 0.0);
        assert!(Model::ALL.into_iter().all(|model| model.curve(25.0) == 1.0));
    }

    /// Gänzle's summary of 1998 against the curve of the bacteria: well met below the best
    /// temperature, and too high above it, which is why the range ends at 34 °C.
    #[test]
    fn the_curve_of_the_bacteria_meets_the_published_halves_and_quarters() {
        for (celsius, printed) in [(15.0, "0.249"), (20.0, "0.489"), (37.0, "0.80"), (39.0, "0.51")]
        {
            assert_printed("bacteria", printed, BACTERIA.share_of_best(celsius));
        }
        // A cardinal curve would not do for the yeast: stated are 0.25, 0.5 and 0.5.
        let other = Cardinal { lowest: 8.0, best: 28.0, highest: 35.0 };
        for (celsius, printed) in [(14.0, "0.17"), (20.0, "0.57"), (32.0, "0.74")] {
            assert_printed("yeast", printed, other.share(celsius));
        }
    }

    #[test]
    fn the_curve_of_sourdough_yeast_goes_through_its_points() {
        for knot in &SOURDOUGH_YEAST {
            let found = SOURDOUGH.share_of_best(knot.celsius);
            assert!((found - knot.share).abs() < 1e-15, "{found} at {}", knot.celsius);
        }
    }

    /// A factor for ten degrees, computed in our reference sheet from the curves above.
    #[test]
    fn ten_degrees_multiply_rates_as_in_the_reference_sheet() {
        let rows = [
            (BAKERS, 10.0, "4.5"),
            (BAKERS, 15.0, "2.4"),
            (BAKERS, 20.0, "1.65"),
            (BACTERIA, 10.0, "6.3"),
            (BACTERIA, 15.0, "3.0"),
            (BACTERIA, 20.0, "2.0"),
            (Model::YeastGas, 15.0, "2.6"),
        ];
        for (model, celsius, printed) in rows {
            let factor = model.curve(celsius + 10.0) / model.curve(celsius);
            assert_printed(&format!("{} from {celsius} °C", model.name()), printed, factor);
        }
    }

    /// In the refrigerator, computed in our reference sheet: gas 0.135 of that at 25 °C
    /// (McGee: about ten times as slow as in a warm room), growth 0.004.
    #[test]
    fn growth_and_gas_differ_in_the_cold() {
        assert_printed("gas at 4 °C", "0.135", Model::YeastGas.curve(4.0));
        assert_printed("growth at 4 °C", "0.004", BAKERS.curve(4.0));
    }

    /// Sourdough reached its best acidity in 11 h at 25 °C and in 9 h at 35 °C, 1.22 times
    /// as fast (Czech J. Food Sci., number 68/2017). 35 °C is just past the range.
    #[test]
    fn a_published_pair_of_times_is_met_within_a_twentieth() {
        assert_near("25 to 35 °C", BACTERIA.curve(35.0), 11.0 / 9.0, 0.05);
    }

    #[test]
    fn gas_rises_stays_and_ends() {
        assert_near("flat", Model::YeastGas.curve(38.0), 1.1_f64.powi(10), 1e-12);
        assert_eq!(Model::YeastGas.share_of_best(40.0), 1.0);
        assert_eq!(Model::YeastGas.share_of_best(50.0), 0.0);
        assert_eq!(Model::YeastGas.share_of_best(60.0), 0.0);
    }

    /// Arithmetic of the seed, computed in our reference sheet.
    #[test]
    fn seed_fractions_are_those_of_the_reference_sheet() -> Tested {
        let rows = [
            (0.05, ".048", "3.04", "4.39"),
            (0.10, ".091", "2.40", "3.46"),
            (0.20, ".167", "1.79", "2.58"),
            (0.33, ".248", "1.39", "2.01"),
            (0.50, ".333", "1.10", "1.58"),
            (1.00, ".500", "0.69", "1.00"),
        ];
        for (share, fraction, growth, doublings) in rows {
            let seed = SeedFraction::of_fresh(share)?;
            let place = format!("{share} of the fresh");
            assert_printed(&place, fraction, seed.fraction());
            assert_printed(&place, growth, seed.growth_needed());
            assert_printed(&place, doublings, seed.doublings());
        }
        Ok(())
    }

    const TIMES: &str = "\
        18  21.8 (19.9)  17.2 (15.6)  12.8 (11.7)  7.9 (7.2)  5.0 (4.5)
        20  17.9 (15.7)  14.1 (12.4)  10.5 (9.3)   6.4 (5.7)  4.1 (3.6)
        22  14.1 (12.9)  11.1 (10.2)  8.3 (7.6)    5.1 (4.7)  3.2 (2.9)
        24  11.2 (10.9)  8.8 (8.6)    6.6 (6.4)    4.0 (4.0)  2.5 (2.5)
        25  10.2 (10.2)  8.0 (8.0)    6.0 (6.0)    3.7 (3.7)  2.3 (2.3)
        26  9.5 (9.6)    7.5 (7.5)    5.6 (5.6)    3.4 (3.5)  2.2 (2.2)
        28  8.9 (8.6)    7.0 (6.8)    5.3 (5.1)    3.2 (3.1)  2.0 (2.0)
        30  11.0 (8.0)   8.7 (6.3)    6.5 (4.7)    4.0 (2.9)  2.5 (1.8)";

    /// Hours if 20 % seed is ripe in 6 h at 25 °C, for 5, 10, 20, 50 and 100 % seed, by
    /// yeast and in brackets by bacteria. Gänzle's published points; the table was computed
    /// from them in our reference sheet, which prints one number for both at 25 °C.
    #[test]
    fn seed_and_temperature_give_the_times_of_the_reference_sheet() -> Tested {
        let reference = CultureStep::active(25.0, SeedFraction::of_fresh(0.2)?);
        let mut cells_seen = 0;
        for line in TIMES.lines() {
            let (celsius, mut cells) = printed_row(line);
            for share in [0.05, 0.1, 0.2, 0.5, 1.0] {
                let wanted = CultureStep::active(celsius, SeedFraction::of_fresh(share)?);
                for organism in [Organism::SourdoughYeast, Organism::LacticBacteria] {
                    let found = retime_culture(organism, 6.0, reference, wanted)?;
                    let printed = cells.next().unwrap_or_default();
                    assert_printed(&format!("{share} at {celsius} °C"), printed, found.hours);
                    cells_seen += 1;
                }
            }
        }
        assert_eq!(cells_seen, 80);
        Ok(())
    }

    /// Hours at 25 °C in 16 h from 25 °C at 4 °C, for gas, growth of baker's yeast and of
    /// bacteria; computed in our reference sheet from the curves named above.
    #[test]
    fn cold_waits_are_worth_what_the_reference_sheet_says() -> Tested {
        let rows = [
            (1.0, ["2.7", "0.8", "0.6"]),
            (2.0, ["3.2", "1.5", "1.1"]),
            (4.0, ["4.1", "2.8", "2.3"]),
            (8.0, ["5.8", "5.4", "4.5"]),
        ];
        for (time_constant, printed) in rows {
            let cooling = Cooling::new(25.0, 4.0, time_constant)?;
            for (hours, model) in printed.into_iter().zip([Model::YeastGas, BAKERS, BACTERIA]) {
                let dose = dose_along(model, &cooling, 16.0, BelowRange::Extended)?;
                let place = format!("{}, time constant {time_constant}", model.name());
                assert_printed(&place, hours, dose.hours_at_25);
            }
        }
        Ok(())
    }

    /// Against the midpoint rule with a million equal steps.
    #[test]
    fn the_integral_agrees_with_a_plain_sum() -> Tested {
        for (start, surroundings) in [(25.0, 4.0), (4.0, 34.0)] {
            let cooling = Cooling::new(start, surroundings, 3.0)?;
            for model in Model::ALL {
                let steps = 1_000_000_u32;
                let width = 16.0 / f64::from(steps);
                let middle = |step| (f64::from(step) + 0.5) * width;
                let rate = |step| model.curve(cooling.celsius_after(middle(step))) * width;
                let plain: f64 = (0..steps).map(rate).sum();
                let dose = dose_along(model, &cooling, 16.0, BelowRange::Extended)?;
                assert_near(model.name(), dose.hours_at_25, plain, 1e-6);
            }
        }
        Ok(())
    }

    /// A constant temperature is a course that goes nowhere.
    #[test]
    fn a_dose_at_a_constant_temperature_is_rate_times_time() -> Tested {
        for model in Model::ALL {
            let dose =
                dose_along(model, &Cooling::new(18.0, 18.0, 2.0)?, 5.0, BelowRange::Refused)?;
            assert_near(model.name(), dose.hours_at_25, model.hours_at_25(5.0, 18.0)?, 1e-12);
            assert_near(model.name(), dose.hours_at(18.0)?, 5.0, 1e-12);
            assert_eq!(dose.hours_below_range, 0.0);
            assert_eq!(dose.hours_at_25_below_range, 0.0);
        }
        Ok(())
    }

    #[test]
    fn a_dose_says_what_comes_from_below_the_range() -> Tested {
        let down = Cooling::new(25.0, 4.0, 2.0)?;
        let dose = dose_along(BACTERIA, &down, 16.0, BelowRange::Extended)?;
        let crossing = down.hours_until(10.0)?;
        let warm = dose_along(BACTERIA, &down, crossing - 1e-9, BelowRange::Refused)?;
        assert_near("cold hours", dose.hours_below_range, 16.0 - crossing, 1e-9);
        let cold = dose.hours_at_25 - warm.hours_at_25;
        assert_near("cold dose", dose.hours_at_25_below_range, cold, 1e-6);
        assert!(cold <= dose.hours_below_range * BACTERIA.rate(10.0)?);
        let up = dose_along(BACTERIA, &Cooling::new(4.0, 25.0, 2.0)?, 16.0, BelowRange::Extended)?;
        assert_near(
            "up",
            up.hours_below_range,
            Cooling::new(4.0, 25.0, 2.0)?.hours_until(10.0)?,
            1e-9,
        );
        assert!(up.hours_at_25_below_range < 0.1 * up.hours_at_25);
        let cold = dose_along(BACTERIA, &Cooling::new(6.0, 4.0, 2.0)?, 3.0, BelowRange::Extended)?;
        assert_eq!(cold.hours_below_range, 3.0);
        assert_eq!(cold.hours_at_25_below_range, cold.hours_at_25);
        Ok(())
    }

    #[test]
    fn a_wait_and_its_dose_lead_to_each_other() -> Tested {
        for (start, surroundings) in [(25.0, 4.0), (27.0, 5.0), (24.0, 12.0), (5.0, 30.0)] {
            for time_constant in [0.1, 1.0, 3.5, 8.0] {
                let cooling = Cooling::new(start, surroundings, time_constant)?;
                for model in Model::ALL {
                    for hours in [0.25, 1.0, 5.0, 12.0, 40.0] {
                        there_and_back(model, &cooling, hours)?;
                    }
                }
            }
        }
        Ok(())
    }

    fn there_and_back(model: Model, cooling: &Cooling, hours: f64) -> Tested {
        let dose = dose_along(model, cooling, hours, BelowRange::Extended)?;
        // Where growth has stopped, every later time has the same dose.
        let still_rising = model.curve(cooling.celsius_after(hours)) > 0.003;
        if still_rising {
            let wait = wait_for_dose(model, cooling, dose.hours_at_25, BelowRange::Extended)?;
            assert_near(model.name(), wait.hours, hours, 1e-9);
            assert_near(model.name(), wait.dose.hours_at_25, dose.hours_at_25, 1e-9);
        }
        Ok(())
    }

    #[test]
    fn a_culture_that_stops_in_the_cold_is_never_ripe() -> Tested {
        let cooling = Cooling::new(25.0, 4.0, 2.0)?;
        let found = wait_for_dose(BACTERIA, &cooling, 3.0, BelowRange::Extended);
        assert!(matches!(found, Err(GrowthError::NeverReached { .. })), "{found:?}");
        let gas = wait_for_dose(Model::YeastGas, &cooling, 3.0, BelowRange::Refused)?;
        assert!(gas.hours > 14.0 && gas.hours < 16.0, "{}", gas.hours);
        Ok(())
    }

    /// A culture's dose found on a course that stays at one temperature is the same time
    /// that re-timing gives.
    #[test]
    fn waiting_for_a_dose_agrees_with_retiming() -> Tested {
        let seed = SeedFraction::of_fresh(0.1)?;
        let reference = CultureStep::active(25.0, SeedFraction::of_fresh(0.2)?);
        for organism in ORGANISMS {
            let dose = culture_dose(organism, 6.0, reference, seed)?;
            let steady = Cooling::new(19.0, 19.0, 1.0)?;
            let wait = wait_for_dose(Model::Growth(organism), &steady, dose, BelowRange::Refused)?;
            let wanted = CultureStep::active(19.0, seed);
            let direct = retime_culture(organism, 6.0, reference, wanted)?;
            assert_near("wait", wait.hours, direct.hours, 1e-9);
        }
        Ok(())
    }

    #[test]
    fn rates_rise_up_to_the_best_temperature() {
        let best = [(BACTERIA, 32.5), (SOURDOUGH, 28.0), (BAKERS, 32.3), (Model::YeastGas, 35.0)];
        for (model, best) in best {
            let mut before = 0.0;
            for step in 0..=3500_u32 {
                let celsius = 0.01 * f64::from(step);
                let now = model.curve(celsius);
                assert!((0.0..=3.0).contains(&now));
                assert!(celsius > best || now >= before, "{} at {celsius}", model.name());
                before = now;
            }
            assert_near(model.name(), model.share_of_best(best), 1.0, 1e-12);
        }
    }

    #[test]
    fn the_rate_that_never_falls_is_the_highest_so_far() {
        for model in Model::ALL {
            let mut highest: f64 = 0.0;
            for step in 0..=500_u32 {
                let celsius = 0.1 * f64::from(step);
                highest = highest.max(model.share_of_best(celsius));
                let found = model.share_never_falling(celsius);
                assert!((found - highest).abs() < 1e-3, "{} at {celsius}", model.name());
            }
        }
    }

    #[test]
    fn retiming_there_and_back_is_identity() -> Tested {
        for warm in [10.0, 15.5, 22.0, 27.3, 34.0] {
            for cold in [10.0, 13.0, 21.0, 33.0] {
                for share in [0.02, 0.2, 1.0, 5.0] {
                    culture_there_and_back(warm, cold, share)?;
                    yeast_there_and_back(warm, cold, share)?;
                }
            }
        }
        Ok(())
    }

    fn culture_there_and_back(warm: f64, cold: f64, share: f64) -> Tested {
        let here = CultureStep::active(warm, SeedFraction::of_fresh(0.3)?);
        let seed = SeedFraction::of_fresh(share)?;
        let there = CultureStep { celsius: cold, seed, lag_hours: 1.5 };
        for organism in ORGANISMS {
            let out = retime_culture(organism, 6.0, here, there)?;
            let back = retime_culture(organism, out.hours, there, here)?;
            assert_near("culture", back.hours, 6.0, 1e-9);
            assert_eq!(back.model, Model::Growth(organism));
        }
        Ok(())
    }

    fn yeast_there_and_back(warm: f64, cold: f64, share: f64) -> Tested {
        let here = YeastDough { celsius: warm, yeast_percent: 1.0 };
        let there = YeastDough { celsius: cold, yeast_percent: share };
        let out = retime_yeast(2.0, here, there)?;
        assert_near("yeast", retime_yeast(out.hours, there, here)?.hours, 2.0, 1e-9);
        Ok(())
    }

    #[test]
    fn more_seed_or_yeast_is_never_slower() -> Tested {
        let reference = CultureStep::active(25.0, SeedFraction::of_fresh(0.2)?);
        let dough = YeastDough { celsius: 25.0, yeast_percent: 1.0 };
        let mut before = [f64::INFINITY; 2];
        for step in 1..=300_u32 {
            let share = 0.01 * f64::from(step);
            let wanted = CultureStep::active(21.0, SeedFraction::of_fresh(share)?);
            let culture = retime_culture(Organism::SourdoughYeast, 6.0, reference, wanted)?.hours;
            let wanted = YeastDough { celsius: 21.0, yeast_percent: share };
            let yeast = retime_yeast(2.0, dough, wanted)?.hours;
            assert!(culture < before[0] && yeast < before[1]);
            before = [culture, yeast];
        }
        Ok(())
    }

    #[test]
    fn every_model_refuses_what_is_outside_its_range() {
        for model in Model::ALL {
            let TemperatureRange { lowest, highest } = model.range();
            assert!(model.rate(lowest).is_ok_and(|rate| rate > 0.0));
            assert!(model.rate(highest).is_ok_and(|rate| rate > 0.0));
            for celsius in [lowest - 0.01, highest + 0.01, f64::NAN, f64::INFINITY] {
                assert!(matches!(model.rate(celsius), Err(GrowthError::OutsideRange { .. })));
            }
        }
    }

    #[test]
    fn courses_outside_the_range_are_refused() -> Tested {
        let down = Cooling::new(25.0, 4.0, 2.0)?;
        assert!(dose_along(BACTERIA, &down, 1.0, BelowRange::Refused).is_ok());
        let found = dose_along(BACTERIA, &down, 8.0, BelowRange::Refused);
        assert!(matches!(found, Err(GrowthError::OutsideRange { .. })));
        let hot = dose_along(BACTERIA, &Cooling::new(25.0, 45.0, 2.0)?, 8.0, BelowRange::Extended);
        assert!(matches!(hot, Err(GrowthError::OutsideRange { .. })));
        let frost =
            dose_along(BACTERIA, &Cooling::new(25.0, -18.0, 2.0)?, 8.0, BelowRange::Extended);
        assert!(matches!(frost, Err(GrowthError::TooCold { .. })));
        let hot =
            wait_for_dose(BACTERIA, &Cooling::new(25.0, 45.0, 2.0)?, 9.0, BelowRange::Extended);
        assert!(matches!(hot, Err(GrowthError::OutsideRange { .. })), "{hot:?}");
        Ok(())
    }

    #[test]
    fn errors_show_every_number() -> Tested {
        let words = |error: Option<GrowthError>| error.map(|error| error.to_string());
        assert_eq!(
            words(BACTERIA.rate(8.0).err()).as_deref(),
            Some("8 °C is outside 10 to 34 °C, where growth of lactic bacteria is known")
        );
        assert_eq!(
            words(Model::YeastGas.rate(40.0).err()).as_deref(),
            Some("40 °C is outside 4 to 38 °C, where gas from added yeast is known")
        );
        assert_eq!(
            words(SeedFraction::of_total(1.0).err()).as_deref(),
            Some("seed of 1 of the total is not above 0 and below 1")
        );
        assert_eq!(
            words(BACTERIA.rate(9.9996).err()).as_deref(),
            Some("9.9996 °C is outside 10 to 34 °C, where growth of lactic bacteria is known")
        );
        let cooling = Cooling::new(25.0, 4.0, 2.0)?;
        assert_eq!(
            words(wait_for_dose(BAKERS, &cooling, 3.0, BelowRange::Extended).err()).as_deref(),
            Some("336 h are worth 2.61 h at 25 °C, which is less than 3 h")
        );
        let step = CultureStep {
            lag_hours: 7.0,
            ..CultureStep::active(25.0, SeedFraction::of_fresh(0.2)?)
        };
        assert_eq!(
            words(retime_culture(Organism::SourdoughYeast, 6.0, step, step).err()).as_deref(),
            Some("a lag of 7 h leaves no growth in a step of 6 h")
        );
        Ok(())
    }

    #[test]
    fn odd_numbers_never_panic() {
        let odd = [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e-300, 1e300, 1.0, 20.0];
        for first in odd {
            let _ = SeedFraction::of_fresh(first).map(SeedFraction::doublings);
            for second in odd {
                odd_yeast(first, second);
                for third in odd {
                    odd_course(first, second, third);
                }
            }
        }
    }

    fn odd_yeast(celsius: f64, yeast_percent: f64) {
        let dough = YeastDough { celsius, yeast_percent };
        let plain = YeastDough { celsius: 25.0, yeast_percent: 1.0 };
        for hours in [f64::NAN, -1.0, 0.0, 1e-300, 1.0, 1e300] {
            for found in [retime_yeast(hours, plain, dough), retime_yeast(hours, dough, plain)] {
                assert!(
                    found.is_ok_and(|found| found.hours > 0.0 && found.hours.is_finite())
                        || found.is_err()
                );
            }
        }
    }

    fn odd_course(start: f64, surroundings: f64, amount: f64) {
        for time_constant in [1e-300, 1.0, 1e300] {
            let Ok(cooling) = Cooling::new(start, surroundings, time_constant) else {
                continue;
            };
            for model in Model::ALL {
                if let Ok(dose) = dose_along(model, &cooling, amount, BelowRange::Extended) {
                    assert!(dose.hours_at_25 >= 0.0 && dose.hours_at_25.is_finite());
                }
                let _ = wait_for_dose(model, &cooling, amount, BelowRange::Extended);
            }
        }
    }
}
