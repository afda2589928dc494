//! One amount told in two units in the words of a manuscript: `230 °C (450 °F)`,
//! `500 g / 17.6 oz`, `1 cup (120 g) of flour`, `220 °C/gas mark 7`.

use super::numbers::{PassageWords, food_beside};
use crate::check::speech::{
    self, Amount, AmountReading as Told, Food, FoodMention, Measure, Sentence, has_amount,
    read_named,
};
use crate::diag::{Finding, Level};
use crate::formula::class::Class;
use crate::formula::{House, Ingredient};
use crate::quantity::display::{to_step, trimmed};
use crate::quantity::{Dimension, Exact, Measures, Unit, gas_mark, int, pair, ratio};
use crate::source::Span;
use crate::syntax::PAIR_DISAGREES;
use std::ops::Range;

/// What may stand between the two amounts of a pair, in small letters and without blanks.
const BETWEEN: [&str; 20] = [
    "(", "/", "=", "≈", "[", "(=", "(≈", "(about", "(ca.", "(circa", "(environ", "(etwa", "(or",
    "(approx.", "or", "ou", "oder", "o", "(~", ", or",
];

/// What may stand between two temperatures of two scales beside these: a range has one scale.
const BETWEEN_SCALES: [&str; 11] = [
    "–",
    "-",
    "—",
    ", which is",
    "which is",
    ", that is",
    ", soit",
    "soit",
    ", das sind",
    ", o sea",
    ", cioè",
];

/// How far a volume may be from the weight beside it: cups are filled in many ways.
const WITHIN: (i64, i64) = (20, 100);

/// An amount of a pair.
struct PairSide {
    /// Its first word, and the first behind the last.
    words: Range<usize>,
    measure: Measure,
    told: Vec<Told>,
    /// Whether it is a mark of a gas oven, of which the last is open upwards.
    is_gas: bool,
}

/// A pair that disagrees, by its bytes in the passage.
pub struct Pair {
    /// Both amounts.
    pub at: Range<usize>,
    /// The second of them.
    pub second: Range<usize>,
    written: String,
    second_written: String,
    /// The first in the unit of the second.
    right: String,
}

/// Whether a text may hold a pair at all: nobody tells an amount twice in words.
pub fn may_be_in(text: &str) -> bool {
    let signs = ['(', '/', '=', '≈', '['];
    let or = [" or ", " ou ", " oder ", " o "];
    let is_of_scales = || {
        text.contains('°')
            && BETWEEN_SCALES.iter().any(|sign| text.contains(sign.trim_start_matches(", ")))
    };
    text.contains(char::is_numeric)
        && (text.contains(signs) || or.iter().any(|word| text.contains(word)) || is_of_scales())
}

/// The pairs of a passage that disagree.
pub fn read(words: &PassageWords, house: &House) -> Vec<Pair> {
    let mut all = Vec::new();
    for stretch in sentences(words.text) {
        if !words.text.get(stretch.clone()).is_some_and(may_be_in) {
            continue;
        }
        let from = words.tokens.partition_point(|token| token.start < stretch.start);
        let to = words.tokens.partition_point(|token| token.start < stretch.end);
        let tokens = words.tokens.get(from..to).unwrap_or_default();
        for tokens in speech::in_reach(tokens) {
            let sentence = speech::unparted(words.text, tokens, words.language);
            if has_amount(&sentence) {
                all.extend(lengths(&sentence));
                all.extend(amounts(&sentence, words, house));
            }
        }
    }
    all
}

/// The stretches of a text between full stops before which a sentence surely ends.
fn sentences(text: &str) -> Vec<Range<usize>> {
    let (mut all, mut from) = (Vec::new(), 0);
    for (at, _) in text.match_indices(". ") {
        let before = text[from..at].rsplit([' ', '(']).next().unwrap_or_default();
        let is_word = before.chars().count() > 3 && before.chars().all(char::is_alphabetic);
        if is_word && text[at + 2..].trim_start().starts_with(char::is_uppercase) {
            all.push(from..at + 1);
            from = at + 2;
        }
    }
    all.push(from..text.len());
    all
}

/// How far a tin may be from its measure in another unit: a shelf has 8 inches beside 20 cm.
const OF_LENGTH: (i64, i64) = (6, 100);

/// A length in centimetres, or several: `23 x 13 cm`.
struct Length {
    words: Range<usize>,
    /// In centimetres.
    sides: Vec<Exact>,
    is_metric: bool,
    spelling: &'static str,
}

/// Inches beside centimetres: `a 9-inch (23 cm) tin`, `9 x 5 inches (23 x 13 cm)`.
fn lengths(sentence: &Sentence) -> Vec<Pair> {
    let all: Vec<Length> =
        (0..sentence.tokens.len()).filter_map(|at| length(sentence, at)).collect();
    let apart = |pair: &[Length]| match pair {
        [one, two] if one.is_metric != two.is_metric => {
            let between = bytes(sentence, &one.words).end..bytes(sentence, &two.words).start;
            let between = sentence.text.get(between)?.trim().to_lowercase();
            let is_pair = BETWEEN.contains(&between.as_str());
            let is_same = one.sides.len() == two.sides.len()
                && one.sides.iter().zip(&two.sides).all(|(one, two)| {
                    let slack = (one.clone().max(two.clone()) * ratio(OF_LENGTH.0, OF_LENGTH.1))
                        .max(ratio(3, 10));
                    (one - two).abs() <= slack
                });
            (is_pair && !is_same).then(|| length_pair(sentence, one, two))
        }
        _ => None,
    };
    all.windows(2).filter_map(apart).collect()
}

fn length_pair(sentence: &Sentence, one: &Length, two: &Length) -> Pair {
    let at = bytes(sentence, &(one.words.start..two.words.end));
    let second = bytes(sentence, &two.words);
    let text =
        |range: &Range<usize>| sentence.text.get(range.clone()).unwrap_or_default().to_owned();
    let shown = |centimetres: &Exact| match two.spelling {
        "cm" => trimmed(&to_step(centimetres, &ratio(1, 2)), 1),
        "mm" => trimmed(&(centimetres * int(10)), 0),
        _ => trimmed(&to_step(&(centimetres * ratio(50, 127)), &ratio(1, 4)), 2),
    };
    let sides: Vec<String> = one.sides.iter().map(shown).collect();
    let (mut written, second_written) = (text(&at), text(&second));
    if written.contains('(') && !written.contains(')') {
        written.push(')');
    }
    let right = format!("{} {}", sides.join(" x "), two.spelling);
    Pair { written, second_written, at, second, right }
}

fn bytes(sentence: &Sentence, words: &Range<usize>) -> Range<usize> {
    let tokens = sentence.tokens.get(words.clone()).unwrap_or_default();
    let start = tokens.first().map_or(0, |token| token.start);
    start..tokens.last().map_or(start, |token| token.end)
}

/// The length that begins at a word.
fn length(sentence: &Sentence, from: usize) -> Option<Length> {
    let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
    let number = |at: usize| {
        let token = sentence.tokens.get(at)?;
        if token.kind != speech::TokenKind::Number {
            return None;
        }
        let found = crate::bring::number(token.key.as_ref())?;
        (found.low == found.high).then_some(found.low)
    };
    // Only the first of `9 x 5 inches` begins it.
    if from > 1 && matches!(key(from - 1), "x" | "×" | "by") && number(from - 2).is_some() {
        return None;
    }
    let mut sides = vec![number(from)?];
    let mut to = from + 1;
    while matches!(key(to), "x" | "×" | "by")
        && let Some(side) = number(to + 1)
    {
        sides.push(side);
        to += 2;
    }
    let (worth, is_metric, spelling) = match key(to) {
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" | "centimètres"
        | "zentimeter" | "centímetros" | "centimetri" => (Exact::ONE, true, "cm"),
        "mm" | "millimetre" | "millimetres" | "millimeters" => (ratio(1, 10), true, "mm"),
        // The inch of 1959: 2.54 cm.
        "inch" | "inches" | "in" | "pouces" | "pouce" | "zoll" | "pulgadas" | "pollici" => {
            (ratio(127, 50), false, "inches")
        }
        _ => return None,
    };
    let sides = sides.iter().map(|side| side * &worth).collect();
    Some(Length { words: from..to + 1, sides, is_metric, spelling })
}

/// Weights, volumes and temperatures that are told twice.
fn amounts(sentence: &Sentence, words: &PassageWords, house: &House) -> Vec<Pair> {
    let named = read_named(sentence, words.language);
    let sides: Vec<PairSide> =
        speech::amounts(sentence).iter().filter_map(|it| side(sentence, &named, it)).collect();
    let reading = PairReading { house, sentence, named: &named };
    let neighbours = sides.windows(2).filter_map(|pair| match pair {
        [one, two] => reading.disagreeing(one, two),
        _ => None,
    });
    neighbours.collect()
}

/// A finding about a pair.
pub fn finding(pair: &Pair, span: Span, second: Span) -> Finding {
    let Pair { written, second_written, right, .. } = pair;
    Finding::new(&PAIR_DISAGREES, span, format!("`{written}` are not the same"))
        .level(Level::Warning)
        .note(format!("`{second_written}` should be about {right}"))
        .help(format!("write `{right}`, or correct the first"))
        .repair(second, right.clone(), false)
}

fn side(sentence: &Sentence, named: &Sentence, amount: &Amount) -> Option<PairSide> {
    let whole = PairSide {
        words: amount.from..amount.to,
        measure: amount.measure,
        told: amount.readings.clone(),
        is_gas: false,
    };
    if amount.measure != Measure::Bare {
        return Some(whole);
    }
    if let Some(pints) = pints(sentence, amount) {
        return Some(pints);
    }
    // `gas mark 7`
    let key = |back: usize| {
        let at = amount.from.checked_sub(back)?;
        sentence.tokens.get(at).map(|token| token.key.as_ref())
    };
    let from = match (key(1), key(2)) {
        (Some("mark"), Some("gas")) => amount.from - 2,
        (Some("gas"), _) => amount.from - 1,
        _ => return None,
    };
    let is_english = sentence.language.code == "en" || named.language.code == "en";
    let mark = |told: &Told| {
        let (low, high) = (gas_mark(&told.low)?, gas_mark(&told.high)?);
        Some(Told { low, high, step: Exact::ONE })
    };
    let told: Vec<Told> = amount.readings.iter().filter_map(mark).collect();
    let measure = Measure::Unit(Unit::Celsius);
    (is_english && !told.is_empty()).then_some(PairSide {
        words: from..amount.to,
        measure,
        told,
        is_gas: true,
    })
}

/// `1 pint`, `2 quarts`: as much as in America, or as in Britain.
fn pints(sentence: &Sentence, amount: &Amount) -> Option<PairSide> {
    let key = sentence.tokens.get(amount.to).map(|token| token.key.as_ref())?;
    // Pints in one of them.
    let pints = match key {
        "pint" | "pints" => int(1),
        "quart" | "quarts" if sentence.language.code == "en" => int(2),
        "gallon" | "gallons" => int(8),
        _ => return None,
    };
    // A pint is 16 fluid ounces of America, or 568.26125 ml in Britain, by the definitions of
    // both in litres.
    let of_america = Unit::FluidOunce.to_base(&int(16), Measures::Us);
    let of_britain = Unit::Milliliter.to_base(&ratio(56_826_125, 100_000), Measures::Us);
    let told = [of_america, of_britain].into_iter().flat_map(|pint| {
        let each = pint * &pints;
        amount.readings.iter().map(move |told| Told {
            low: &told.low * &each,
            high: &told.high * &each,
            step: &told.step * &each,
        })
    });
    Some(PairSide {
        words: amount.from..amount.to + 1,
        measure: Measure::Unit(Unit::FluidOunce),
        told: told.collect(),
        is_gas: false,
    })
}

struct PairReading<'r, 't> {
    house: &'r House<'t>,
    sentence: &'r Sentence<'r>,
    named: &'r Sentence<'r>,
}

impl PairReading<'_, '_> {
    fn disagreeing(&self, one: &PairSide, two: &PairSide) -> Option<Pair> {
        let (Measure::Unit(first), Measure::Unit(second)) = (one.measure, two.measure) else {
            return None;
        };
        if first == second && one.is_gas == two.is_gas || self.is_of_fan(one, two) {
            return None;
        }
        let between = self.between(one, two)?;
        let right = match (first.dimension(), second.dimension()) {
            (Dimension::Mass, Dimension::Mass)
            | (Dimension::Volume, Dimension::Volume)
            | (Dimension::Temperature, Dimension::Temperature) => {
                if agree(one, two, first, second) {
                    return None;
                }
                let value = &one.told.first()?.low;
                shown(value, second, two.is_gas)
            }
            (Dimension::Time, Dimension::Time) => {
                let is_same =
                    one.told.iter().any(|one| two.told.iter().any(|two| are_one(one, two)));
                if is_same || !self.is_in_brackets(two) {
                    return None;
                }
                shown(&one.told.first()?.low, second, false)
            }
            (Dimension::Volume, Dimension::Mass) => {
                let food = self.food(one, two, &between)?;
                self.weighed(&food, one, two, |grams| shown(grams, second, false))?
            }
            (Dimension::Mass, Dimension::Volume) => {
                let food = self.food(one, two, &between)?;
                let density = self.densities(&food).into_iter().next()?;
                let filled = one.told.first()?.low.over(&density)?;
                self.weighed(&food, two, one, |_| shown(&filled, second, false))?
            }
            _ => return None,
        };
        let at = self.bytes(one.words.start..two.words.end);
        let second = self.bytes(two.words.clone());
        let text = |range: &Range<usize>| {
            self.sentence.text.get(range.clone()).unwrap_or_default().to_owned()
        };
        let (mut written, second_written) = (text(&at), text(&second));
        if written.contains('(') && !written.contains(')') {
            written.push(')');
        }
        Some(Pair { written, second_written, at, second, right })
    }

    fn bytes(&self, words: Range<usize>) -> Range<usize> {
        let tokens = self.sentence.tokens.get(words).unwrap_or_default();
        let start = tokens.first().map_or(0, |token| token.start);
        start..tokens.last().map_or(start, |token| token.end)
    }

    /// What stands between two amounts of a pair, where that is a sign of one: the words of
    /// a food, or none.
    fn between(&self, one: &PairSide, two: &PairSide) -> Option<Range<usize>> {
        let (end, start) = (self.bytes(one.words.clone()).end, self.bytes(two.words.clone()).start);
        let text = self.sentence.text.get(end..start)?.trim().to_lowercase();
        let are_scales = [one, two]
            .iter()
            .all(|side| side.measure.dimension() == Dimension::Temperature && !side.is_gas);
        if BETWEEN.contains(&text.as_str()) || are_scales && BETWEEN_SCALES.contains(&text.as_str())
        {
            return Some(one.words.end..one.words.end);
        }
        // `1 cup flour (120 g)`
        let words = one.words.end..two.words.start;
        (text.ends_with('(') && words.len() <= 6 && !text.contains([',', ';', '.']))
            .then_some(words)
    }

    /// Whether an amount stands alone in brackets: `90 minutes (1½ hours)`, and not `40 minutes
    /// (35 for a small loaf)`.
    fn is_in_brackets(&self, side: &PairSide) -> bool {
        let Range { start, end } = self.bytes(side.words.clone());
        let before = self.sentence.text.get(..start).unwrap_or_default().trim_end();
        let after = self.sentence.text.get(end..).unwrap_or_default().trim_start();
        before.ends_with('(') && after.starts_with(')')
    }

    /// Whether one of two temperatures is that of a fan oven, which is set cooler.
    fn is_of_fan(&self, one: &PairSide, two: &PairSide) -> bool {
        let near = one.words.start.saturating_sub(2)..two.words.end + 2;
        self.named.has("fan", &near)
    }

    fn food(&self, one: &PairSide, two: &PairSide, between: &Range<usize>) -> Option<Food> {
        if !between.is_empty() {
            let mut starts = between.clone();
            return starts.find_map(|from| {
                let food = speech::food_at(self.house, self.sentence, from)?;
                (food.to == between.end).then_some(food)
            });
        }
        food_beside(self.house, self.sentence, two.words.end, one.words.start)
    }

    /// What fills a volume, where that is far from the weight beside it; `right` shows what
    /// would be right, given what the volume weighs.
    fn weighed(
        &self,
        food: &Food,
        volume: &PairSide,
        weight: &PairSide,
        right: impl Fn(&Exact) -> String,
    ) -> Option<String> {
        let densities = self.densities(food);
        let Measure::Unit(unit) = volume.measure else { return None };
        // Cups and spoons are those of one of two countries.
        let us = unit.worth(Measures::Us).amount().over(&unit.worth(Measures::Metric).amount())?;
        let mut weights: Vec<Exact> = Vec::new();
        for density in &densities {
            for told in &volume.told {
                weights.extend([&told.low * density, &told.low * density * &us]);
            }
        }
        let fits = |grams: &Exact| {
            weight.told.iter().any(|told| {
                let larger = grams.clone().max(told.high.clone());
                // A pinch more or less on a spoon.
                let slack = (larger * ratio(WITHIN.0, WITHIN.1)).max(told.step.clone());
                *grams <= &told.high + &slack && *grams >= &told.low - &slack
            })
        };
        let apart = !weights.is_empty() && !weights.iter().any(fits);
        apart.then(|| weights.first().map(right)).flatten()
    }

    /// Grams of a millilitre of what a word may mean.
    fn densities(&self, food: &Food) -> Vec<Exact> {
        let known = |it: &&Ingredient| it.grams_per_ml.is_some();
        let all: Vec<&Ingredient> = match &food.what {
            FoodMention::Ingredient(id) => vec![self.house.ingredient(*id)],
            _ => self.house.ingredients().filter(|it| food.is(self.house, it)).collect(),
        };
        // A bare word means the plain thing: flour is no rye.
        let plain = |it: &&&Ingredient| {
            let name = it.name.key.as_str();
            match it.class {
                Class::Flour => matches!(name, "all-purpose flour" | "bread flour"),
                _ => food.says(name),
            }
        };
        let own: Vec<&Ingredient> = all.iter().filter(plain).copied().collect();
        let meant = if own.is_empty() { all } else { own };
        meant.into_iter().filter(known).filter_map(|it| it.grams_per_ml.clone()).collect()
    }
}

/// Whether two times are one, as nearly as somebody tells it: a tenth.
fn are_one(one: &Told, two: &Told) -> bool {
    let near =
        |one: &Exact, two: &Exact| (one - two).abs() <= one.clone().max(two.clone()) * ratio(1, 10);
    near(&one.low, &two.low) && near(&one.high, &two.high)
}

fn agree(one: &PairSide, two: &PairSide, first: Unit, second: Unit) -> bool {
    let told = |value: &Exact, told: &Told, unit| pair::PairAmount {
        value: value.clone(),
        step: told.step.clone(),
        unit,
    };
    let last_mark = gas_mark(&int(9)).unwrap_or_default();
    one.told.iter().any(|a| {
        two.told.iter().any(|b| {
            let same = |x: &Exact, y: &Exact| {
                let is_open = (one.is_gas && *x >= last_mark && y > x)
                    || (two.is_gas && *y >= last_mark && x > y);
                is_open
                    || pair::agree(&told(x, a, first), &told(y, b, second))
                    || us_agrees(x, y, first, second)
            };
            same(&a.low, &b.low) && same(&a.high, &b.high)
        })
    })
}

/// Whether two volumes are the same by the cups and spoons of America.
fn us_agrees(one: &Exact, two: &Exact, first: Unit, second: Unit) -> bool {
    if first.dimension() != Dimension::Volume {
        return false;
    }
    let us = |value: &Exact, unit: Unit| {
        let times = unit.worth(Measures::Us).amount().over(&unit.worth(Measures::Metric).amount());
        times.map_or_else(|| value.clone(), |times| value * times)
    };
    let (one, two) = (us(one, first), us(two, second));
    let larger = one.clone().max(two.clone());
    (one - two).abs() <= larger * ratio(6, 100)
}

/// A value in a unit as a cook writes it.
fn shown(value: &Exact, unit: Unit, is_gas: bool) -> String {
    if is_gas {
        let marks =
            (1..=9).min_by_key(|mark| (gas_mark(&int(*mark)).unwrap_or_default() - value).abs());
        return format!("gas mark {}", marks.unwrap_or(1));
    }
    let number = unit.count_in(value, Measures::default());
    // Ovens go by steps, doughs by degrees.
    let step = |fahrenheit, celsius| match unit {
        Unit::Fahrenheit => int(fahrenheit),
        _ => int(celsius),
    };
    match unit {
        Unit::Fahrenheit | Unit::Celsius if *value > int(105) => {
            format!("{} °{}", trimmed(&to_step(&number, &step(25, 10)), 0), unit.spelling())
        }
        Unit::Fahrenheit | Unit::Celsius => format!("{} °{}", trimmed(&number, 0), unit.spelling()),
        Unit::Gram | Unit::Milliliter if number >= int(10) => {
            format!("{} {}", trimmed(&number, 0), unit.spelling())
        }
        _ => format!("{} {}", trimmed(&number, 1), unit.spelling()),
    }
}
