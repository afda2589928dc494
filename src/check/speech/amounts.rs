//! Numbers with what they count, as people write them: `0,5 kg`, `twenty minutes`,
//! `3–4 h`, `1 1/2 kg`, `half an hour`, `230 degrees`.

use super::cardinals::{Spelled, and_part, spelled};
use super::numerals::{Numbers, numbers_of};
use super::{Sentence, TokenKind};
use crate::quantity::{Dimension, Exact, Measures, Unit, int, ratio};

/// What an amount is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A unit of ours.
    Unit(Unit),
    /// `230 degrees`, which may be of either scale.
    Degrees,
    /// No unit follows.
    Bare,
}

impl Measure {
    /// What it measures.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Unit(unit) => unit.dimension(),
            Self::Degrees => Dimension::Temperature,
            Self::Bare => Dimension::Count,
        }
    }
}

/// A number, or a range, with its measure.
#[derive(Clone, Debug)]
pub struct Amount {
    /// The first word, and the first behind the last.
    pub from: usize,
    /// The first word after the last.
    pub to: usize,
    /// What it is in.
    pub measure: Measure,
    /// What it may mean, in base units; `1,250 g` may mean two things.
    pub readings: Vec<AmountReading>,
}

/// One way to read an amount, in the base unit of its dimension.
#[derive(Clone, Debug, PartialEq)]
pub struct AmountReading {
    /// The lower end; both are the same where no range is written.
    pub low: Exact,
    /// The upper end.
    pub high: Exact,
    /// The worth of the last written digit.
    pub step: Exact,
}

impl AmountReading {
    /// Whether what lies between two values rounds to what is written.
    pub fn meets(&self, low: &Exact, high: &Exact) -> bool {
        let slack = self.step.one_in::<2>();
        *low <= &self.high + &slack && *high >= &self.low - &slack
    }
}

/// Whether some word of a sentence may begin an amount.
pub fn has_amount(sentence: &Sentence) -> bool {
    let digits = sentence.tokens.iter().any(|token| token.kind == TokenKind::Number);
    let is_told = |kind| matches!(kind, "n" | "minutes" | "grams");
    digits
        || sentence.found.iter().any(|it| is_told(it.tag.kind))
        || (0..sentence.tokens.len()).any(|at| spelled_at(sentence, at).is_some())
}

/// The amounts of a sentence.
pub fn amounts(sentence: &Sentence) -> Vec<Amount> {
    let mut all = Vec::new();
    let mut at = 0;
    while at < sentence.tokens.len() {
        match amount_at(sentence, at) {
            Some(amount) => {
                at = amount.to;
                all.push(amount);
            }
            None => at += 1,
        }
    }
    all
}

fn amount_at(sentence: &Sentence, from: usize) -> Option<Amount> {
    if let Some((to, minutes)) = in_words(sentence, from, "minutes") {
        let step = time_step(&minutes);
        let readings = vec![AmountReading { low: minutes.clone(), high: minutes, step }];
        return Some(Amount { from, to, measure: Measure::Unit(Unit::Minute), readings });
    }
    if let Some((to, grams)) = in_words(sentence, from, "grams") {
        let (to, grams) = match part_after(sentence, to) {
            Some((behind, part)) => (behind, &grams + &grams * part),
            None => (to, grams),
        };
        let readings = vec![AmountReading { low: grams.clone(), high: grams, step: int(100) }];
        return Some(Amount { from, to, measure: Measure::Unit(Unit::Gram), readings });
    }
    let (mut to, mut low) = number_at(sentence, from).or_else(|| one_of(sentence, from))?;
    let mut high = None;
    let is_part = sentence.tokens.get(from).is_some_and(|token| token.kind == TokenKind::Word)
        && low.iter().any(|(number, _)| !number.is_int());
    if is_part {
        // A part without a unit is one of whatever comes next: `half the village`.
        to = of_unit(sentence, to)?;
    }
    let mut measure = measure_at(sentence, to);
    // `two kilos and a half`
    if let Some((behind, unit)) = measure
        && let Some((end, part)) = part_after(sentence, behind)
        && low.iter().all(|(number, _)| number.is_int())
    {
        measure = Some((end, unit));
        low.iter_mut().for_each(|(number, _)| *number += part.clone());
    }
    // `3 h to 4 h` and `3 to 4 h` are ranges alike.
    let behind = measure.map_or(to, |(behind, _)| behind);
    if let Some(next) = joiner(sentence, behind)
        && let Some((end, number)) = number_at(sentence, next)
        && let Some((last, second)) = measure_at(sentence, end)
        && measure.is_none_or(|(_, first)| first == second)
    {
        high = Some(number);
        measure = Some((last, second));
    }
    let mut measure = match measure {
        Some((behind, measure)) => {
            to = behind;
            measure
        }
        None => Measure::Bare,
    };
    if let Some((behind, ounces)) = ounces_behind(sentence, to, measure).filter(|_| high.is_none())
    {
        (to, measure) = (behind, Measure::Unit(Unit::Ounce));
        for (pounds, step) in &mut low {
            (*pounds, *step) = (&*pounds * int(16) + &ounces.0, ounces.1.clone());
        }
    }
    let more = minutes_behind(sentence, &mut to, measure);
    let readings = readings(&low, high.as_ref(), measure, &more);
    Some(Amount { from, to, measure, readings })
}

/// `half an hour`, `une heure`, `half a kilo`.
fn in_words(sentence: &Sentence, from: usize, kind: &str) -> Option<(usize, Exact)> {
    let span = sentence.found.iter().find(|it| it.from == from && it.tag.kind == kind)?;
    Some((span.to, int(span.tag.word.parse().ok()?)))
}

/// `to`, `–`, `bis`: what stands between the ends of a range.
fn joiner(sentence: &Sentence, at: usize) -> Option<usize> {
    let dash = sentence.tokens.get(at).is_some_and(|token| token.key == "–");
    if dash { Some(at + 1) } else { sentence.word_at("between", at) }
}

/// `1 lb 2 oz`, `a pound and 2 ounces`: where the ounces end, and how many they are.
fn ounces_behind(
    sentence: &Sentence,
    to: usize,
    measure: Measure,
) -> Option<(usize, (Exact, Exact))> {
    let is_and = sentence.tokens.get(to).is_some_and(|token| token.key == "and");
    let (end, ounces) = number_at(sentence, to + usize::from(is_and))?;
    let (behind, unit) = measure_at(sentence, end)?;
    let before = sentence.tokens.get(to.checked_sub(1)?)?.end;
    let between = sentence.text.get(before..sentence.tokens.get(to)?.start)?;
    let first = ounces.into_iter().next()?;
    let is_rest = measure == Measure::Unit(Unit::Pound)
        && unit == Measure::Unit(Unit::Ounce)
        && between.trim().is_empty()
        && first.0 < int(16);
    is_rest.then_some((behind, first))
}

/// `1h30`, `2 h 15 min`, `an hour and 20 minutes`.
fn minutes_behind(sentence: &Sentence, to: &mut usize, measure: Measure) -> Exact {
    if measure != Measure::Unit(Unit::Hour) {
        return Exact::ZERO;
    }
    let Some((end, number)) = number_at(sentence, *to) else { return Exact::ZERO };
    let Some((minutes, _)) = number.first() else { return Exact::ZERO };
    let joined = sentence.tokens.get(*to).zip(sentence.tokens[..*to].last());
    // `three hours (180 minutes)` says the same twice.
    let is_again = joined.is_some_and(|(number, hour)| {
        let between = sentence.text.get(hour.end..number.start).unwrap_or_default();
        between.contains(['(', '=', '/']) || *minutes >= int(60)
    });
    if is_again {
        return Exact::ZERO;
    }
    let joined = joined.is_some_and(|(number, hour)| {
        // `1 h 30 à 26 °C`: two digits that say nothing else.
        let next = sentence.tokens.get(end);
        let is_over = next.is_none_or(|next| next.kind != TokenKind::Word || next.key.len() <= 3);
        let are_minutes = number.key.len() == 2 && *minutes < int(60) && is_over;
        number.start == hour.end || hour.key == "h" && are_minutes
    });
    match measure_at(sentence, end) {
        Some((behind, Measure::Unit(Unit::Minute))) => *to = behind,
        _ if joined => *to = end,
        _ => return Exact::ZERO,
    }
    minutes.clone()
}

/// A number in digits or in words.
fn number_at(sentence: &Sentence, from: usize) -> Option<(usize, Numbers)> {
    let token = sentence.tokens.get(from)?;
    if token.kind == TokenKind::Number {
        let mut numbers = numbers_of(&token.key);
        let more = part_at(sentence, from + 1).filter(|_| !numbers.is_empty());
        let to = more.as_ref().map_or(from + 1, |(to, _)| *to);
        // `2 and a half hours`
        for (number, step) in &mut numbers {
            if let Some((_, part)) = &more {
                (*number, *step) = (&*number + part, ratio(1, 4));
            }
        }
        return Some((to, numbers));
    }
    let listed = sentence.found.iter().find(|it| it.from == from && it.tag.kind == "n");
    let listed = listed.and_then(|it| Some((it.to, int(it.tag.word.parse().ok()?))));
    let spelled = spelled_at(sentence, from).map(|it| (from + it.words, it.value));
    let (to, number) = listed.into_iter().chain(spelled).max_by_key(|(to, _)| *to)?;
    // Nobody weighs by fractions who means it exactly.
    let step = match number.is_int() {
        true => Exact::ONE,
        false => ratio(1, 4).min(&number * ratio(1, 5)),
    };
    Some((to, vec![(number, step)]))
}

/// So many words at most make up a number.
const LONGEST: usize = 12;

/// The words from one on, up to the next mark or number.
fn keys<'k>(
    sentence: &'k Sentence,
    from: usize,
    keys: &'k mut [&'k str; LONGEST],
) -> &'k [&'k str] {
    let words = sentence.tokens.get(from..).unwrap_or_default().iter();
    let words = words.take_while(|token| token.kind == TokenKind::Word);
    let mut count = 0;
    for (key, token) in keys.iter_mut().zip(words) {
        *key = token.key.as_ref();
        count += 1;
    }
    keys.get(..count).unwrap_or_default()
}

/// The number in words that begins at a word.
fn spelled_at(sentence: &Sentence, from: usize) -> Option<Spelled> {
    /// Before these a hundred is any number: `einige hundert Gramm`.
    const VAGUE: [&str; 12] = [
        "einige",
        "mehrere",
        "paar",
        "viele",
        "quelques",
        "plusieurs",
        "varios",
        "varias",
        "algunos",
        "parecchie",
        "alcune",
        "some",
    ];
    const PER_CENT: [&str; 3] = ["pour", "por", "per"];
    let before = from.checked_sub(1).and_then(|at| sentence.tokens.get(at));
    let first = sentence.tokens.get(from)?.key.as_ref();
    let is_hundred =
        ["hundert", "tausend", "cent", "cents", "mille", "cien", "ciento", "mil", "cento"]
            .contains(&first);
    let is_other = |token: &super::Token| {
        VAGUE.contains(&token.key.as_ref()) || PER_CENT.contains(&token.key.as_ref())
    };
    if is_hundred && before.is_some_and(is_other) {
        return None;
    }
    let mut words = [""; LONGEST];
    spelled(keys(sentence, from, &mut words), sentence.language.code)
}

/// `and a half`, and where it ends.
fn part_at(sentence: &Sentence, from: usize) -> Option<(usize, Exact)> {
    let mut words = [""; LONGEST];
    let part = and_part(keys(sentence, from, &mut words), sentence.language.code)?;
    Some((from + part.words, part.value))
}

/// The same after a unit, unless it is a part of something else: `a kilo and half a cup`.
fn part_after(sentence: &Sentence, from: usize) -> Option<(usize, Exact)> {
    part_at(sentence, from).filter(|(to, _)| of_unit(sentence, *to).is_none())
}

/// Where the unit begins that a part is of: `half | a pound`, `un quart | de litre`.
fn of_unit(sentence: &Sentence, from: usize) -> Option<usize> {
    const FILLERS: [&str; 9] = ["of", "a", "an", "de", "d", "di", "un", "une", "eines"];
    let is_filler = |at: usize| {
        sentence.tokens.get(at).is_some_and(|token| FILLERS.contains(&token.key.as_ref()))
    };
    let at = (from..from + 3).find(|at| !is_filler(*at) || measure_at(sentence, *at).is_some())?;
    measure_at(sentence, at).is_some().then_some(at)
}

/// Where a part of something ends that begins at a word: `half of`, `two thirds of`; none where
/// it is one of a unit.
pub fn part_of(sentence: &Sentence, from: usize) -> Option<usize> {
    let is_part = |number: &Exact| *number < Exact::ONE && *number > Exact::ZERO;
    let (to, numbers) = number_at(sentence, from)?;
    let is_word = sentence.tokens.get(from)?.kind == TokenKind::Word;
    let is_sign = || {
        sentence.tokens.get(from).is_some_and(|it| it.key.contains(['/', '½', '¼', '¾', '⅓', '⅔']))
    };
    let is_it = numbers.iter().all(|(number, _)| is_part(number)) && (is_word || is_sign());
    (is_it && of_unit(sentence, to).is_none()).then_some(to)
}

/// A fraction that begins at a word, as a share: `half`, `two thirds`; none where it is one of a
/// unit.
pub fn fraction_at(sentence: &Sentence, from: usize) -> Option<Vec<AmountReading>> {
    part_of(sentence, from)?;
    let (_, numbers) = number_at(sentence, from)?;
    let one = |(number, _): &(Exact, Exact)| AmountReading {
        low: number.clone(),
        high: number.clone(),
        step: Exact::ZERO,
    };
    Some(numbers.iter().map(one).collect())
}

/// `a pound of`, `a litre of`: one of them, unless a price stands before it.
fn one_of(sentence: &Sentence, from: usize) -> Option<(usize, Numbers)> {
    let is = |at: usize, wanted: &[&str]| {
        sentence.tokens.get(at).is_some_and(|token| wanted.contains(&token.key.as_ref()))
    };
    let before = from.checked_sub(1).and_then(|at| sentence.tokens.get(at));
    let is_priced = before.is_some_and(|token| token.kind == TokenKind::Number);
    let (to, measure) = measure_at(sentence, from + 1)?;
    let is_one = is(from, &["a"])
        && is(to, &["of"])
        && matches!(measure, Measure::Unit(Unit::Pound | Unit::Liter));
    (is_one && !is_priced).then(|| (from + 1, vec![(Exact::ONE, Exact::ONE)]))
}

fn measure_at(sentence: &Sentence, from: usize) -> Option<(usize, Measure)> {
    let unit = sentence.found.iter().find(|it| it.from == from && it.tag.kind == "unit")?;
    let measure = match unit.tag.word {
        "degrees" => Measure::Degrees,
        spelling => Measure::Unit(Unit::read(spelling)?),
    };
    Some((unit.to, measure))
}

fn readings(
    low: &Numbers,
    high: Option<&Numbers>,
    measure: Measure,
    minutes: &Exact,
) -> Vec<AmountReading> {
    let units = match measure {
        Measure::Unit(unit) => vec![unit],
        Measure::Degrees => vec![Unit::Celsius, Unit::Fahrenheit],
        Measure::Bare => vec![Unit::Count],
    };
    let highs = high.unwrap_or(low);
    let mut all = Vec::new();
    for unit in units {
        let base = |value: &Exact| unit.to_base(value, Measures::Metric);
        for ((low, step), (high, _)) in low.iter().zip(highs) {
            let (low, high) = (base(low) + minutes, base(high) + minutes);
            let step = match unit.dimension() {
                Dimension::Time => time_step(&low),
                // 230 °C are 446 °F, and 450 to whoever sets an oven; doughs are told closer.
                Dimension::Temperature if unit == Unit::Fahrenheit && low > int(100) => {
                    ratio(50, 9)
                }
                Dimension::Temperature if unit == Unit::Fahrenheit => ratio(10, 3),
                Dimension::Temperature => step.clone(),
                // `A 2 lb loaf` is none of a pound and a half.
                Dimension::Mass if unit == Unit::Pound => base(step).min(high.one_in::<4>()),
                _ => base(step),
            };
            all.push(AmountReading { low, high, step });
        }
    }
    all
}

/// How exactly a time is told: a quarter of it, but at most an hour, and five minutes of
/// a number of fives.
fn time_step(minutes: &Exact) -> Exact {
    let fives = minutes.is_multiple_of(&int(5));
    match () {
        () if *minutes >= int(60) => minutes.one_in::<4>().min(int(60)),
        () if fives => int(5),
        () => Exact::ONE,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Language, sentences, tokens};
    use super::*;

    fn read(language: &str, text: &str) -> Vec<(Measure, String)> {
        let tokens = tokens(text);
        let language = Language::of_house(Some(language)).last().expect("known");
        let all = sentences(text, &tokens, language);
        all.flat_map(|sentence| amounts(&sentence))
            .map(|amount| {
                let told =
                    amount.readings.iter().map(|reading| match reading.low == reading.high {
                        true => reading.low.to_string(),
                        false => format!("{}..{}", reading.low, reading.high),
                    });
                (amount.measure, told.collect::<Vec<_>>().join(" or "))
            })
            .collect()
    }

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for (language, text, measure, value) in [
            ("en", "12.5 g", Measure::Unit(Unit::Gram), "25/2"),
            ("de", "12,5 g", Measure::Unit(Unit::Gram), "25/2"),
            ("en", "1,250 g", Measure::Unit(Unit::Gram), "5/4 or 1250"),
            ("de", "1.250,5 g", Measure::Unit(Unit::Gram), "2501/2"),
            ("fr", "1 250 g", Measure::Unit(Unit::Gram), "1250"),
            ("fr", "1\u{202f}250,5 g", Measure::Unit(Unit::Gram), "2501/2"),
            ("de", "1.250.000 g", Measure::Unit(Unit::Gram), "1250000"),
            ("en", "1 1/2 kg", Measure::Unit(Unit::Kilogram), "1500"),
            ("en", "1½ kg", Measure::Unit(Unit::Kilogram), "1500"),
            ("en", "½ kg", Measure::Unit(Unit::Kilogram), "500"),
            ("en", "300–350g", Measure::Unit(Unit::Gram), "300..350"),
            ("en", "300 to 350 grams", Measure::Unit(Unit::Gram), "300..350"),
            ("en", "1 lb 2 oz", Measure::Unit(Unit::Ounce), "408233133/800000"),
            ("en", "2 pounds 8 ounces", Measure::Unit(Unit::Ounce), "45359237/40000"),
            ("en", "3 h to 4 h", Measure::Unit(Unit::Hour), "180..240"),
            ("en", "1h30", Measure::Unit(Unit::Hour), "90"),
            ("en", "2 h 15 min", Measure::Unit(Unit::Hour), "135"),
            ("fr", "1 h 30 à température ambiante", Measure::Unit(Unit::Hour), "90"),
            ("fr", "1 h 30 au froid", Measure::Unit(Unit::Hour), "90"),
            ("en", "forty-five minutes", Measure::Unit(Unit::Minute), "45"),
            ("en", "half an hour", Measure::Unit(Unit::Minute), "30"),
            ("fr", "une demi-heure", Measure::Unit(Unit::Minute), "30"),
            ("de", "anderthalb Stunden", Measure::Unit(Unit::Minute), "90"),
            ("es", "tres cuartos de hora", Measure::Unit(Unit::Minute), "45"),
            ("it", "mezz'ora", Measure::Unit(Unit::Minute), "30"),
            ("en", "24C", Measure::Unit(Unit::Celsius), "24"),
            ("en", "212 °F", Measure::Unit(Unit::Fahrenheit), "100"),
            ("en", "75 per cent", Measure::Unit(Unit::Percent), "3/4"),
            ("en", "a dozen", Measure::Bare, "12"),
        ] {
            assert_eq!(read(language, text), [(measure, value.to_owned())], "{language}: {text}");
        }
    }

    #[test]
    fn no_number_is_too_odd_to_be_read() {
        for text in
            ["1/0", "99999999999999999999 g", "1.2.3.4.5", "1,", "½½", "3–", "1 000 00", "²"]
        {
            read("en", text);
        }
    }
}
