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

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

/// The temperature at which every relative rate is 1.
pub const REFERENCE_CELSIUS: f64 = 25.0;

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
}

/// A rate that depends on temperature.
///
/// Growth and gas are kept apart: at 4 °C growth has all but stopped, whereas added yeast
/// still makes an eighth of the gas that it makes at 25 °C.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Model {
    /// How something alive multiplies.
    Growth(Organism),
    /// Gas from yeast that was added, and barely multiplies.
    YeastGas,
}

impl Model {
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
            Self::YeastGas => "yeast-gas",
        }
    }

    /// The model in plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Growth(Organism::LacticBacteria) => "growth of lactic bacteria",
            Self::Growth(Organism::SourdoughYeast) => "growth of sourdough yeast",
            Self::YeastGas => "gas from added yeast",
        }
    }
}

/// Temperatures in °C, both ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TemperatureRange {
    /// °C.
    pub lowest: f64,
    /// °C.
    pub highest: f64,
}

impl TemperatureRange {
    /// Whether the temperature is in it; what is not a number is not.
    pub fn contains(self, celsius: f64) -> bool {
        (self.lowest..=self.highest).contains(&celsius)
    }
}

/// The three temperatures of the cardinal temperature model with inflection.
struct Cardinal {
    lowest: f64,
    best: f64,
    highest: f64,
}

/// Gänzle's summary of 1998: growth between 4 and 41 °C, best at 32 to 33 °C.
const LACTIC_BACTERIA: Cardinal = Cardinal { lowest: 4.0, best: 32.5, highest: 41.0 };

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
    OutsideRange {
        /// The model that was asked.
        model: Model,
        /// The temperature that it was asked for, in °C.
        celsius: f64,
    },
    /// A time is negative, zero where something has to happen, or not a finite number.
    NotHours {
        /// What was given, in hours.
        hours: f64,
    },
    /// The reference is over before its growth begins.
    LagTooLong {
        /// The reference, in hours.
        hours: f64,
        /// What passes before growth begins, in hours.
        lag_hours: f64,
    },
    /// Seed has to be more than nothing and less than everything.
    NotASeed {
        /// Seed over the whole, as it was given.
        fraction: f64,
    },
    /// Nobody begins a stage with so little or so much of its flour as seed.
    SeedUnusual {
        /// Seed over flour, in per cent.
        percent: f64,
        /// The least that anybody uses, in per cent.
        low: f64,
        /// The most that anybody uses, in per cent.
        high: f64,
    },
    /// Yeast has to be a positive number.
    NotYeast {
        /// Yeast over flour, in per cent.
        yeast_percent: f64,
    },
    /// Surroundings in which it takes longer than is ever waited.
    TooSlow {
        /// The surroundings, in °C.
        celsius: f64,
    },
}

/// Hours that may be none; an error where they are below nothing or no number.
pub(super) fn hours_from_zero(hours: f64) -> Result<f64, GrowthError> {
    if hours.is_finite() && hours >= 0.0 { Ok(hours) } else { Err(GrowthError::NotHours { hours }) }
}

/// Hours that are more than none; an error where they are not.
pub(super) fn hours_above_zero(hours: f64) -> Result<f64, GrowthError> {
    if hours > 0.0 { hours_from_zero(hours) } else { Err(GrowthError::NotHours { hours }) }
}

#[cfg(test)]
mod tests;
