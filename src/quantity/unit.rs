//! Units of measure and what they are worth in base units.

use super::{Exact, int, ratio};

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Weights; the base unit is the gram.
    Mass,
    /// Volumes; the base unit is the milliliter.
    Volume,
    /// Numbers of things.
    Count,
    /// Per cent; the base unit is the whole, 1.
    Share,
    /// Parts of a mix, whose size something else says.
    Part,
    /// Lengths of time; the base unit is the minute.
    Time,
    /// Temperatures; the base unit is the degree Celsius.
    Temperature,
    /// Heat and work; the base unit is the kilojoule.
    Energy,
    /// Multiples of an amount: `2x`.
    Factor,
}

impl Dimension {
    /// The word for it in a finding.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mass => "a weight",
            Self::Volume => "a volume",
            Self::Count => "a count",
            Self::Share => "a percentage",
            Self::Part => "a number of parts",
            Self::Time => "a time",
            Self::Temperature => "a temperature",
            Self::Energy => "an energy",
            Self::Factor => "a factor",
        }
    }
}

/// Which cups and spoons are meant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Measures {
    /// Cup 250 ml, tablespoon 15 ml, teaspoon 5 ml.
    #[default]
    Metric,
    /// Cup 236.588 ml, tablespoon 14.7868 ml, teaspoon 4.92892 ml (checked against
    /// the `units` program's data).
    Us,
}

/// A system of weights and temperatures for prints.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum System {
    /// Grams and kilograms, degrees Celsius.
    #[default]
    Metric,
    /// Ounces and pounds, degrees Fahrenheit.
    Us,
}

impl System {
    /// The other one.
    pub fn other(self) -> Self {
        match self {
            Self::Metric => Self::Us,
            Self::Us => Self::Metric,
        }
    }
}

/// What prints weigh in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Units {
    /// The system that stands first.
    pub first: System,
    /// Whether the other system stands beside it.
    pub both: bool,
}

/// A unit as an author may write it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// A thousandth of a gram.
    Milligram,
    /// The base unit of weight.
    Gram,
    /// 1,000 g.
    Kilogram,
    /// The avoirdupois ounce, 28.349523125 g (international yard and pound agreement, 1959).
    Ounce,
    /// The avoirdupois pound, 453.59237 g (the same agreement).
    Pound,
    /// The base unit of volume.
    Milliliter,
    /// 10 ml.
    Centiliter,
    /// 100 ml.
    Deciliter,
    /// 1,000 ml.
    Liter,
    /// Of the house's measures, metric or of America.
    Teaspoon,
    /// Of the house's measures, metric or of America.
    Tablespoon,
    /// Of the house's measures, metric or of America.
    Cup,
    /// That of America, an eighth of its cup.
    FluidOunce,
    /// A number without a unit, where things are counted.
    Count,
    /// A hundredth of what it is of.
    Percent,
    /// One part of a mix.
    Part,
    /// A sixtieth of a minute.
    Second,
    /// The base unit of time.
    Minute,
    /// 60 minutes.
    Hour,
    /// 24 hours.
    Day,
    /// The base unit of temperature.
    Celsius,
    /// 5/9 of a degree Celsius, from 32 at 0 °C.
    Fahrenheit,
    /// The thermochemical calorie a thousand times, 4.184 kJ.
    Kilocalorie,
    /// The base unit of energy.
    Kilojoule,
    /// `2x`: so many times an amount.
    Times,
}

/// A difference of temperatures in degrees Fahrenheit.
pub fn degrees_fahrenheit(celsius: &Exact) -> Exact {
    celsius * ratio(9, 5)
}

/// How much of a base unit one of a unit is: never nothing, so that it can be counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Worth {
    above: i64,
    below: i64,
}

impl Worth {
    /// The base unit itself.
    pub const ONE: Self = Self { above: 1, below: 1 };

    /// A ratio of two whole numbers above zero.
    pub const fn of<const ABOVE: i64, const BELOW: i64>() -> Self {
        const { assert!(ABOVE > 0 && BELOW > 0) }
        Self { above: ABOVE, below: BELOW }
    }

    /// What it is, in the base unit.
    pub fn amount(self) -> Exact {
        ratio(self.above, self.below)
    }

    /// How many of it an amount in base units is.
    pub fn count_in(self, amount: &Exact) -> Exact {
        amount * ratio(self.below, self.above)
    }
}

/// Spelling and unit; the first spelling of a unit is the one we write.
const SPELLINGS: &[(&str, Unit)] = &[
    ("mg", Unit::Milligram),
    ("g", Unit::Gram),
    ("kg", Unit::Kilogram),
    ("oz", Unit::Ounce),
    ("lb", Unit::Pound),
    ("lbs", Unit::Pound),
    ("ml", Unit::Milliliter),
    ("cl", Unit::Centiliter),
    ("dl", Unit::Deciliter),
    ("l", Unit::Liter),
    ("tsp", Unit::Teaspoon),
    ("tsps", Unit::Teaspoon),
    ("tbsp", Unit::Tablespoon),
    ("tbsps", Unit::Tablespoon),
    ("cup", Unit::Cup),
    ("cups", Unit::Cup),
    ("fl-oz", Unit::FluidOunce),
    ("%", Unit::Percent),
    ("part", Unit::Part),
    ("parts", Unit::Part),
    ("s", Unit::Second),
    ("min", Unit::Minute),
    ("h", Unit::Hour),
    ("d", Unit::Day),
    ("C", Unit::Celsius),
    ("°C", Unit::Celsius),
    ("F", Unit::Fahrenheit),
    ("°F", Unit::Fahrenheit),
    ("kcal", Unit::Kilocalorie),
    ("kJ", Unit::Kilojoule),
    ("x", Unit::Times),
];

impl Unit {
    /// The unit of a spelling; case counts.
    pub fn read(spelling: &str) -> Option<Self> {
        let spelling = if spelling.starts_with('°') {
            match spelling.trim_start_matches('°').trim_start() {
                "C" => "C",
                "F" => "F",
                _ => return None,
            }
        } else {
            spelling
        };
        let first = spelling.as_bytes().first();
        let mut likely = SPELLINGS.iter().filter(|(known, _)| known.as_bytes().first() == first);
        likely.find(|(known, _)| *known == spelling).map(|(_, unit)| *unit)
    }

    /// The way we write it.
    pub fn spelling(self) -> &'static str {
        SPELLINGS.iter().find(|(_, unit)| *unit == self).map_or("", |(spelling, _)| spelling)
    }

    /// The unit that a spelling most likely means: also the one letter of a spoon, where a
    /// slip of the case is the other spoon.
    pub fn likely(spelling: &str) -> Option<Self> {
        // In home recipes the large letter is the large spoon.
        match spelling {
            "T" => Some(Self::Tablespoon),
            "t" => Some(Self::Teaspoon),
            _ => Self::certain(spelling),
        }
    }

    /// The unit that another spelling can only mean: another case, a plural, a word written
    /// out. Whether it is of a kind that can stand in a place is for the place to say.
    pub fn certain(spelling: &str) -> Option<Self> {
        // The letter is a spoon there, and nobody can say which.
        if matches!(spelling, "T" | "t") {
            return None;
        }
        let lower = spelling.trim_start_matches(['º', '˚', '°']).trim_start().to_lowercase();
        let written_out =
            match lower.trim_end_matches('.').trim_end_matches('s') {
                "gram" | "gramme" | "gr" | "grm" | "gm" | "gramm" | "grammo" | "grammi"
                | "gramo" => Some(Self::Gram),
                "kilo" | "kilogram" | "kilogramme" | "kilogramm" | "kilogramo" | "chilo"
                | "chili" | "chilogrammo" | "chilogrammi" => Some(Self::Kilogram),
                "ounce" => Some(Self::Ounce),
                "pound" => Some(Self::Pound),
                "liter" | "litre" | "litro" | "litri" | "lt" | "ltr" => Some(Self::Liter),
                "milliliter" | "millilitre" => Some(Self::Milliliter),
                "centiliter" | "centilitre" => Some(Self::Centiliter),
                "deciliter" | "decilitre" => Some(Self::Deciliter),
                "milligram" | "milligramme" => Some(Self::Milligram),
                "teaspoon" | "teaspoonful" | "teaspon" | "teasp" | "tspn" => Some(Self::Teaspoon),
                // Spoons of Germany, Italy and Spain hold 15 and 5 ml, as metric ones do.
                "teelöffel" | "tl" | "cucchiaino" | "cucchiaini" | "cucharadita" | "cdta"
                | "cdita" => Some(Self::Teaspoon),
                "esslöffel" | "eßlöffel" | "el" | "cucchiaio" | "cucchiai" | "cucharada"
                | "cda" => Some(Self::Tablespoon),
                "tablespoon" | "tablespoonful" | "tablespon" | "tablesp" | "tbspn" | "tblspn"
                | "tb" | "tbl" | "tblsp" | "tbsp" | "tbp" => Some(Self::Tablespoon),
                "cupful" => Some(Self::Cup),
                "floz" => Some(Self::FluidOunce),
                "percent" | "pct" => Some(Self::Percent),
                "minute" | "m" | "mn" | "minuten" | "minuto" | "minuti" => Some(Self::Minute),
                "hour" | "hr" | "d'heure" | "stunde" | "stunden" | "std" | "heure" | "ora"
                | "ore" | "hora" => Some(Self::Hour),
                "day" | "tag" | "tage" | "jour" | "giorno" | "giorni" | "día" => Some(Self::Day),
                "second" | "sec" => Some(Self::Second),
                "celsiu" | "centigrade" => Some(Self::Celsius),
                "fahrenheit" => Some(Self::Fahrenheit),
                _ => None,
            };
        written_out.or_else(|| {
            let is_it = |known: &str| {
                known.eq_ignore_ascii_case(&lower) || lower.strip_suffix('s') == Some(known)
            };
            SPELLINGS.iter().find(|(known, _)| is_it(known)).map(|(_, unit)| *unit)
        })
    }

    /// Every spelling that is read, with its unit.
    pub fn spellings() -> impl Iterator<Item = (&'static str, Self)> {
        SPELLINGS.iter().copied()
    }

    /// What it measures.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Milligram | Self::Gram | Self::Kilogram | Self::Ounce | Self::Pound => {
                Dimension::Mass
            }
            Self::Milliliter
            | Self::Centiliter
            | Self::Deciliter
            | Self::Liter
            | Self::Teaspoon
            | Self::Tablespoon
            | Self::Cup
            | Self::FluidOunce => Dimension::Volume,
            Self::Count => Dimension::Count,
            Self::Percent => Dimension::Share,
            Self::Part => Dimension::Part,
            Self::Second | Self::Minute | Self::Hour | Self::Day => Dimension::Time,
            Self::Celsius | Self::Fahrenheit => Dimension::Temperature,
            Self::Kilocalorie | Self::Kilojoule => Dimension::Energy,
            Self::Times => Dimension::Factor,
        }
    }

    /// A number of this unit in the base unit of its dimension: grams, millilitres,
    /// pieces, a share of one, parts, minutes, degrees Celsius, kilocalories, times.
    pub fn to_base(self, number: &Exact, measures: Measures) -> Exact {
        if self == Self::Fahrenheit {
            return (number - int(32)) * ratio(5, 9);
        }
        if self.is_base() {
            return number.clone();
        }
        number * self.worth(measures).amount()
    }

    /// How many of this unit an amount in base units is: the other way round.
    pub fn count_in(self, amount: &Exact, measures: Measures) -> Exact {
        if self == Self::Fahrenheit {
            return degrees_fahrenheit(amount) + int(32);
        }
        self.worth(measures).count_in(amount)
    }

    /// Whether a number of this unit is in the base unit already.
    fn is_base(self) -> bool {
        matches!(
            self,
            Self::Gram
                | Self::Milliliter
                | Self::Count
                | Self::Part
                | Self::Minute
                | Self::Celsius
                | Self::Kilocalorie
                | Self::Times
        )
    }

    /// What one of it is in the base unit.
    pub fn worth(self, measures: Measures) -> Worth {
        match (self, measures) {
            (Self::Milligram, _) => Worth::of::<1, 1000>(),
            (Self::Kilogram | Self::Liter, _) => Worth::of::<1000, 1>(),
            // The international avoirdupois pound of 1959: 453.59237 g exactly.
            (Self::Pound, _) => Worth::of::<45_359_237, 100_000>(),
            (Self::Ounce, _) => Worth::of::<45_359_237, 1_600_000>(),
            (Self::Centiliter, _) => Worth::of::<10, 1>(),
            (Self::Deciliter, _) => Worth::of::<100, 1>(),
            (Self::Teaspoon, Measures::Metric) => Worth::of::<5, 1>(),
            (Self::Tablespoon, Measures::Metric) => Worth::of::<15, 1>(),
            (Self::Cup, Measures::Metric) => Worth::of::<250, 1>(),
            // The US gallon is 231 cubic inches, 3785.411784 ml exactly; a cup is a
            // sixteenth of it, a fluid ounce a 128th, a tablespoon a 256th.
            (Self::Cup, Measures::Us) => Worth::of::<3_785_411_784, 16_000_000>(),
            (Self::FluidOunce, _) => Worth::of::<3_785_411_784, 128_000_000>(),
            (Self::Tablespoon, Measures::Us) => Worth::of::<3_785_411_784, 256_000_000>(),
            (Self::Teaspoon, Measures::Us) => Worth::of::<3_785_411_784, 768_000_000>(),
            (Self::Percent, _) => Worth::of::<1, 100>(),
            (Self::Second, _) => Worth::of::<1, 60>(),
            (Self::Hour, _) => Worth::of::<60, 1>(),
            (Self::Day, _) => Worth::of::<1440, 1>(),
            // 1 kcal (thermochemical) is 4.184 kJ exactly.
            (Self::Kilojoule, _) => Worth::of::<1000, 4184>(),
            _ => Worth::of::<1, 1>(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The two ways to read a unit may differ in the unit, as those of spoons do, but never
    /// in what is measured: an hour for a weight would be read where neither is doubted.
    #[test]
    fn both_ways_to_read_a_unit_agree_on_what_is_measured() {
        let mut both = 0;
        for (spelling, unit) in SPELLINGS {
            let mut capital: Vec<char> = spelling.to_lowercase().chars().collect();
            capital.iter_mut().take(1).for_each(|letter| letter.make_ascii_uppercase());
            let capital: String = capital.into_iter().collect();
            for written in [
                (*spelling).to_owned(),
                spelling.to_lowercase(),
                spelling.to_uppercase(),
                capital,
                format!("{spelling}s"),
                format!("{spelling}."),
            ] {
                let (read, certain) = (Unit::read(&written), Unit::certain(&written));
                if let (Some(read), Some(certain)) = (read, certain) {
                    assert_eq!(read.dimension(), certain.dimension(), "{written}");
                    both += 1;
                }
                for one in [read, certain].into_iter().flatten() {
                    assert_eq!(one.dimension(), unit.dimension(), "{written} of {spelling}");
                }
            }
        }
        assert!(both > 20, "{both}");
    }
}
