//! Amounts as people say them: `half an hour`, `about 3 h`, `4 to 5 h`, `overnight`,
//! `gas mark 7`. Each is read as what it says in numbers, which is how `fmt` writes it.

use super::cursor::Cursor;
use super::words::DEGREES;
use super::words::Lower;
use super::{Reader, Reading};
use crate::quantity::{Dimension, Exact, Unit, gas_mark, int, ratio, read_number};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{read_as, unknown_value};
use crate::syntax::outline::TokenKind;
use crate::syntax::phrases::{Start, Starts, phrases};
use crate::syntax::tree::{Extent, Quantity};
use crate::syntax::waits::NIGHTS;

/// Words that say of a number that it is not to be taken to the letter, which no number of
/// a recipe is.
const ABOUT: [&str; 22] = [
    "about",
    "approximately",
    "approx",
    "around",
    "roughly",
    "circa",
    "ca",
    "c",
    "say",
    "environ",
    "env",
    "approximativement",
    "etwa",
    "ungefähr",
    "ungef",
    "rund",
    "zirka",
    "aproximadamente",
    "aprox",
    "unos",
    "unas",
    "approssimativamente",
];

const NUMBERS: [&str; 12] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// Larger numbers, as times are said: `bake forty minutes`, `forty-five`.
const LARGER: [(&str, i64); 14] = [
    ("thirteen", 13),
    ("fourteen", 14),
    ("fifteen", 15),
    ("sixteen", 16),
    ("seventeen", 17),
    ("eighteen", 18),
    ("nineteen", 19),
    ("twenty", 20),
    ("thirty", 30),
    ("forty", 40),
    ("fifty", 50),
    ("sixty", 60),
    ("seventy", 70),
    ("ninety", 90),
];

/// `forty`, `forty-five`.
fn larger(word: &str) -> Option<i64> {
    const LONGEST: usize = 13;
    if word.len() > LONGEST {
        return None;
    }
    let word = word.to_lowercase();
    let (tens, ones) = word.split_once('-').unwrap_or((&word, ""));
    let (_, value) = LARGER.iter().find(|(known, _)| *known == tens)?;
    let more = match ones {
        "" => Some(0),
        _ if *value < 20 => None,
        _ => NUMBERS[..9].iter().position(|known| *known == ones).map(|at| at + 1),
    };
    Some(value + i64::try_from(more?).ok()?)
}

/// The same in four other languages, where a unit or the name of what is counted follows.
const NUMBERS_ABROAD: &[(&str, usize)] = &[
    ("un", 1),
    ("une", 1),
    ("una", 1),
    ("uno", 1),
    ("ein", 1),
    ("eine", 1),
    ("einen", 1),
    ("einem", 1),
    ("deux", 2),
    ("zwei", 2),
    ("due", 2),
    ("dos", 2),
    ("trois", 3),
    ("drei", 3),
    ("tre", 3),
    ("tres", 3),
    ("quatre", 4),
    ("vier", 4),
    ("quattro", 4),
    ("cuatro", 4),
    ("cinq", 5),
    ("fünf", 5),
    ("cinque", 5),
    ("cinco", 5),
];

fn number_abroad(word: &str) -> Option<usize> {
    const LONGEST: usize = 7;
    let mut known = NUMBERS_ABROAD.iter().filter(|_| word.len() <= LONGEST);
    known.find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, number)| *number)
}

/// A dozen, in five languages.
pub const DOZENS: &[&str] = &[
    "dozen",
    "dozens",
    "Dutzend",
    "docena",
    "docenas",
    "douzaine",
    "douzaines",
    "dozzina",
    "dozzine",
];

/// `mezzo`, `medio`, `ein halbes`, `un quart de`, where a unit follows.
fn part_abroad<'a>(cursor: &Cursor<'a>) -> Option<(Exact, Cursor<'a>)> {
    const HALVES: &[&str] = &[
        "mezzo",
        "mezza",
        "medio",
        "media",
        "demi",
        "demie",
        "un demi",
        "une demie",
        "ein halbes",
        "ein halber",
        "eine halbe",
        "einen halben",
        "halbes",
        "halber",
        "halbe",
        "halben",
    ];
    const QUARTERS: &[&str] = &[
        "un quart de",
        "un quarto di",
        "un cuarto de",
        "ein viertel",
        "einen viertel",
        "eine viertel",
    ];
    const THREE_QUARTERS: &[&str] =
        &["trois quarts de", "tre quarti di", "tres cuartos de", "drei viertel", "dreiviertel"];
    const THIRDS: &[&str] = &["un tiers de", "un terzo di", "un tercio de", "ein drittel"];
    let mut ahead = *cursor;
    let part = if ahead.take_longest(phrases!(HALVES)).is_some() {
        ratio(1, 2)
    } else if ahead.take_longest(phrases!(QUARTERS)).is_some() {
        ratio(1, 4)
    } else if ahead.take_longest(phrases!(THREE_QUARTERS)).is_some() {
        ratio(3, 4)
    } else if ahead.take_longest(phrases!(THIRDS)).is_some() {
        ratio(1, 3)
    } else {
        return None;
    };
    let unit = ahead.word()?;
    // `mezzo cubetto di lievito`
    let packages = phrases!([
        "cubetto",
        "cubo",
        "cubito",
        "cube",
        "Würfel",
        "bustina",
        "sachet",
        "sobre",
        "Päckchen",
        "taza",
        "tazza",
        "tasse"
    ]);
    let is_unit = Unit::certain(unit).is_some()
        || Unit::read(unit).is_some_and(|_| unit.len() > 1)
        || ahead.is_any(packages);
    is_unit.then_some((part, ahead))
}

/// What else a number in words begins with.
const PARTS: [&str; 7] = ["a", "an", "half", "quarter", "third", "three-quarters", "two-thirds"];

/// What is said of a spoon or a cup that is not filled to its rim and struck off.
const FILLED: [&str; 25] = [
    "heaped",
    "heaping",
    "rounded",
    "generous",
    "scant",
    "packed",
    "overflowing",
    "level",
    "levelled",
    "leveled",
    "gehäufte",
    "gehäufter",
    "gehäuften",
    "gestrichene",
    "gestrichener",
    "gestrichen",
    "gestr",
    "geh",
    "knapper",
    "guter",
    "bonne",
    "petite",
    "colmada",
    "rasa",
    "raso",
];

/// Hours of a night: common practice, no source.
const NIGHT: (i64, i64) = (8, 12);

impl Reader<'_> {
    /// Passes `about` and its like before an amount.
    pub fn about(&mut self, cursor: &mut Cursor, wanted: ExpectedAmount) {
        let first = cursor.here();
        if let Some(ahead) = behind_about(cursor).filter(|ahead| begins_amount(ahead, wanted)) {
            self.reword(Span { end: ahead.here().start, ..first }, "");
            *cursor = ahead;
        }
    }

    /// `overnight`: so many hours, which a note tells.
    pub fn overnight(&mut self, cursor: &mut Cursor) -> Option<Extent> {
        let span = cursor.here();
        cursor.take_longest(phrases!(NIGHTS))?;
        let span = cursor.since(span);
        let (low, high) = NIGHT;
        let hours = |number| {
            Some(Quantity { number: int(number), unit: Unit::Hour, decimals: Some(0), span })
        };
        self.report(read_as::overnight(span, cursor.under(span), low, high));
        self.reword(span, format!("{low}h..{high}h"));
        Some(Extent { low: hours(low), high: hours(high), ranged: true, span })
    }

    /// `gas mark 7`, `gas 6-7`.
    pub fn gas_marks(&mut self, cursor: &mut Cursor) -> Reading<Option<Extent>> {
        let first = cursor.here();
        if !begins_gas_mark(cursor) {
            return Ok(None);
        }
        let thermostat = is_thermostat(cursor);
        if thermostat && let Some((low, high, behind)) = marks_with_stroke(cursor) {
            // `th. 7/8`
            *cursor = behind;
            let span = cursor.since(first);
            let degrees = |mark: i64| {
                let (number, unit) = (int(mark * THERMOSTAT), Unit::Celsius);
                Some(Quantity { number, unit, decimals: Some(0), span })
            };
            self.reword(span, format!("{}C..{}C", low * THERMOSTAT, high * THERMOSTAT));
            let (low, high) = (degrees(low), degrees(high));
            return Ok(Some(Extent { low, high, ranged: true, span }));
        }
        let low = self.gas_mark(cursor, first)?;
        let is_range = is_between(cursor)
            && (cursor.further().is_number() || begins_gas_mark(&cursor.further()));
        if !is_range {
            self.reword(low.span, celsius(&low));
            let span = low.span;
            return Ok(Some(Extent {
                low: Some(low.clone()),
                high: Some(low),
                ranged: false,
                span,
            }));
        }
        cursor.advance();
        let high_from = if thermostat { first } else { cursor.here() };
        let high = self.gas_mark(cursor, high_from)?;
        let high = Quantity { span: Span { start: low.span.end, ..high.span }, ..high };
        let span = cursor.since(first);
        self.reword(span, format!("{}..{}", celsius(&low), celsius(&high)));
        Ok(Some(Extent { low: Some(low), high: Some(high), ranged: true, span }))
    }

    fn gas_mark(&mut self, cursor: &mut Cursor, first: Span) -> Reading<Quantity> {
        let thermostat = is_thermostat(cursor);
        if let Some(behind) = past_mark(cursor) {
            *cursor = behind;
        }
        if let Some((mark, degrees)) = two_in_one(cursor).filter(|_| !thermostat) {
            cursor.advance();
            cursor.take_any(phrases!(DEGREES));
            let unit = if cursor.is("F") { "F" } else { "C" };
            let _ = cursor.take(unit);
            let span = cursor.since(first);
            return Err(unknown_value::mark_and_degrees(
                span,
                cursor.under(span),
                mark,
                &format!("{degrees}{unit}"),
            )
            .into());
        }
        let mark = self.number(cursor)?.number;
        let span = cursor.since(first);
        // `th. 7-8`: what goes on says no word again.
        let thermostat = thermostat || is_word_of_thermostat(cursor.under(span));
        let in_use = mark >= int(1) && mark <= int(10);
        let degrees = match thermostat {
            true => in_use.then(|| mark * int(THERMOSTAT)),
            false => gas_mark(&mark),
        };
        match degrees {
            Some(number) => Ok(Quantity { number, unit: Unit::Celsius, decimals: Some(0), span }),
            None => Err(unknown_value::gas_mark(span, cursor.under(span)).into()),
        }
    }
}

/// Spans of time that are one word or a phrase without a unit of its own.
const TIMES: &[(&str, i64)] = &[
    ("mezz'ora", 30),
    ("mezz’ora", 30),
    ("mezzora", 30),
    ("una mezz'ora", 30),
    ("una mezz’ora", 30),
    ("una mezzora", 30),
    ("demi-heure", 30),
    ("une demi-heure", 30),
    ("un quart d'heure", 15),
    ("un quart d’heure", 15),
    ("quart d'heure", 15),
    ("trois quarts d'heure", 45),
    ("trois quarts d’heure", 45),
    ("viertelstunde", 15),
    ("eine viertelstunde", 15),
    ("dreiviertelstunde", 45),
    ("eine dreiviertelstunde", 45),
    ("un quarto d'ora", 15),
    ("un quarto d’ora", 15),
    ("tre quarti d'ora", 45),
    ("tre quarti d’ora", 45),
    ("un cuarto de hora", 15),
    ("tres cuartos de hora", 45),
    ("half-hour", 30),
];

/// The minutes that are said here in such words, and the place behind them.
fn time_in_words<'a>(cursor: &Cursor<'a>) -> Option<(i64, Cursor<'a>)> {
    let begins = cursor.begins();
    let fits = |phrase: &str| Start::of(phrase.as_bytes()) == begins;
    let said = TIMES.iter().filter(|(phrase, _)| fits(phrase)).filter_map(|(phrase, long)| {
        let mut ahead = *cursor;
        phrase.split(' ').all(|word| ahead.take(word)).then_some((*long, ahead))
    });
    said.max_by_key(|(_, ahead)| ahead.after().end)
}

impl Reader<'_> {
    /// `mezz'ora`, `une demi-heure`.
    pub fn time_in_words(&mut self, cursor: &mut Cursor) -> Option<Extent> {
        let first = cursor.here();
        let (minutes, behind) = time_in_words(cursor)?;
        *cursor = behind;
        let span = cursor.since(first);
        self.reword(span, format!("{minutes}min"));
        let unit = Unit::Minute;
        let long = Some(Quantity { number: int(minutes), unit, decimals: Some(0), span });
        Some(Extent { low: long.clone(), high: long, ranged: false, span })
    }
}

/// Degrees Celsius of a step of a thermostat of French ovens: common practice, no source.
const THERMOSTAT: i64 = 30;

fn celsius(quantity: &Quantity) -> String {
    format!("{}C", crate::quantity::display::trimmed(&quantity.number, 0))
}

/// Whether the next words are `gas mark` or `th.`, and a number follows.
pub fn begins_gas_mark(cursor: &Cursor) -> bool {
    past_mark(cursor).is_some_and(|behind| behind.is_number())
}

/// The two numbers of `6/200`, `230/200`, of which none is a part of the other.
pub fn two_in_one<'a>(cursor: &Cursor<'a>) -> Option<(&'a str, u32)> {
    // What is no temperature of an oven may be a fraction.
    const COOLEST: u32 = 50;
    if !cursor.is_number() {
        return None;
    }
    let (first, second) = cursor.under(cursor.here()).split_once('/')?;
    let degrees = second.parse().ok().filter(|degrees| *degrees >= COOLEST)?;
    Some((first, degrees))
}

fn is_word_of_thermostat(written: &str) -> bool {
    let lower = written.trim_start().to_lowercase();
    lower.starts_with("th")
}

fn is_thermostat(cursor: &Cursor) -> bool {
    cursor.is("th") || cursor.is("thermostat")
}

/// The marks of `th. 7/8`, and the place behind them.
fn marks_with_stroke<'a>(cursor: &Cursor<'a>) -> Option<(i64, i64, Cursor<'a>)> {
    let number = past_mark(cursor)?;
    let (low, high) = number.under(number.here()).split_once('/')?;
    let (low, high): (i64, i64) = (low.parse().ok()?, high.parse().ok()?);
    (low < high && low >= 1 && high <= 10).then_some((low, high, number.further()))
}

/// The place behind `gas mark`, `regulo`, `th.`, `thermostat`.
fn past_mark<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    if is_thermostat(cursor) {
        ahead.advance();
        if ahead.is_sign(".") {
            ahead.advance();
        }
        return Some(ahead);
    }
    if ahead.take("gas") || ahead.take("regulo") {
        let _ = ["mark", "regulo", "no"].iter().any(|word| ahead.take(word));
    } else if ahead.take("reg") || ahead.take("no") {
        // `Reg. 6`, `No. 6`
        ahead.is_sign(".").then_some(())?;
    } else {
        ahead.take("mark").then_some(())?;
    }
    if ahead.is_sign(".") && ahead.touches() {
        ahead.advance();
    }
    Some(ahead)
}

fn is_between(cursor: &Cursor) -> bool {
    cursor.is_dash()
        || cursor.is("to")
        || cursor.is("or")
        || cursor.peek_kind() == Some(TokenKind::Range)
}

/// The place behind `about` and its like; none where nothing of the kind stands here.
pub fn behind_about<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    if ahead.is_sign("~") || ahead.is_sign("≈") {
        ahead.advance();
        return Some(ahead);
    }
    if !ahead.is_any(phrases!(ABOUT)) {
        return None;
    }
    let is_letter = ahead.is("c");
    ahead.advance();
    if ahead.is_sign(".") && ahead.touches() {
        ahead.advance();
    } else if is_letter {
        // `c` without its point is a cup.
        return None;
    }
    Some(ahead)
}

/// Whether a word stands here that says a range: `between 300 and 320 g`.
pub fn says_between(cursor: &Cursor) -> bool {
    cursor.is_any(phrases!(BETWEEN))
}

/// What stands before the lower end of a range.
pub const BETWEEN: &[&str] =
    &["between", "from", "entre", "zwischen", "tra", "fra", "von", "de", "da"];

/// Whether an amount begins here, in digits or as it is said.
pub fn begins_amount(cursor: &Cursor, wanted: ExpectedAmount) -> bool {
    cursor.is_number() || spoken_amount(cursor, wanted).is_some()
}

/// A number that is said, where a unit of the kind that is wanted follows, and the place
/// behind the number.
pub fn spoken_amount<'a>(
    cursor: &Cursor<'a>,
    wanted: ExpectedAmount,
) -> Option<(Exact, Cursor<'a>)> {
    let (number, behind) = spoken(cursor)?;
    let takes = |unit: Unit| {
        wanted.takes(unit.dimension())
            && matches!(
                unit.dimension(),
                Dimension::Time | Dimension::Mass | Dimension::Volume | Dimension::Share
            )
    };
    let mut ahead = past_filling(&behind);
    if is_between(&ahead) {
        // `one to two hours`
        ahead.advance();
        ahead = match spoken(&ahead) {
            Some((_, behind)) => behind,
            None => past_number(&ahead)?,
        };
    }
    let is_spoon = wanted.takes(Dimension::Volume) && french_spoon(&ahead).is_some();
    (is_spoon || unit_here(&ahead, wanted).is_some_and(takes)).then_some((number, behind))
}

/// The spoon that is said in French, and the place behind it.
pub fn french_spoon<'a>(cursor: &Cursor<'a>) -> Option<(Unit, Cursor<'a>)> {
    const SPOONS: [&str; 10] = [
        "c",
        "cs",
        "cuil",
        "cuill",
        "cuillère",
        "cuillères",
        "cuiller",
        "cuillers",
        "cuillerée",
        "cuillerées",
    ];
    let mut ahead = *cursor;
    for (said, unit) in [("càs", Unit::Tablespoon), ("càc", Unit::Teaspoon)] {
        if ahead.take(said) {
            return Some((unit, ahead));
        }
    }
    if ahead.is("cs") && !(ahead.further().is("à") || ahead.further().is("a")) {
        return Some((Unit::Tablespoon, ahead.further()));
    }
    let mut point_s = ahead.further();
    if ahead.is("c") && point_s.is_sign(".") {
        point_s.advance();
        if point_s.take("s") {
            if point_s.is_sign(".") {
                point_s.advance();
            }
            return Some((Unit::Tablespoon, point_s));
        }
    }
    let point = |ahead: &mut Cursor| {
        if ahead.is_sign(".") {
            ahead.advance();
        }
    };
    ahead.take_any(phrases!(SPOONS)).then_some(())?;
    point(&mut ahead);
    (ahead.take("à") || ahead.take("a")).then_some(())?;
    point(&mut ahead);
    let of_soup = ahead.take_any(phrases!(["soupe", "s"]));
    let is_spoon = of_soup || ahead.take_any(phrases!(["café", "cafe", "thé", "c", "t"]));
    point(&mut ahead);
    let unit = if of_soup { Unit::Tablespoon } else { Unit::Teaspoon };
    is_spoon.then_some((unit, ahead))
}

/// A number in words: `a`, `two`, `half a`, `three quarters of a`, `one and a half`.
pub fn spoken<'a>(cursor: &Cursor<'a>) -> Option<(Exact, Cursor<'a>)> {
    // Nearly all words are no numbers.
    const ABROAD: &Starts = &Starts::of_pairs(NUMBERS_ABROAD);
    const MORE: &Starts = &Starts::of_pairs(&LARGER);
    let begins = cursor.begins();
    let may_begin = ABROAD.may_begin(begins)
        || MORE.may_begin(begins)
        || phrases!(PARTS).may_begin(begins)
        || phrases!(NUMBERS).may_begin(begins);
    if let Some((part, behind)) = part_abroad(cursor) {
        return Some((part, behind));
    }
    if !may_begin {
        return None;
    }
    let word = cursor.word()?;
    let mut ahead = *cursor;
    if let Some(number) = number_abroad(word) {
        ahead.advance();
        let dozen = number == 1 && DOZENS.iter().any(|dozen| ahead.take(dozen));
        return Some((Exact::from(if dozen { 12 } else { number }), ahead));
    }
    if let Some(number) = larger(word) {
        ahead.advance();
        return Some((int(number), ahead));
    }
    if !cursor.is_any(phrases!(PARTS)) && !cursor.is_any(phrases!(NUMBERS)) {
        return None;
    }
    if let Some(part) = spoken_part(&mut ahead) {
        if part == ratio(1, 2) && ahead.take("dozen") {
            return Some((int(6), ahead));
        }
        return Some((part, ahead));
    }
    let whole = if ahead.take("a") || ahead.take("an") {
        // `a half cup`
        if let Some(part) = spoken_part(&mut ahead) {
            return Some((part, ahead));
        }
        if ahead.take("dozen") {
            return Some((int(12), ahead));
        }
        if ahead.take("couple") {
            ahead.take("of");
            return Some((int(2), ahead));
        }
        int(1)
    } else {
        let word = ahead.word()?;
        let at = NUMBERS.iter().position(|known| known.eq_ignore_ascii_case(word))?;
        ahead.advance();
        Exact::from(at + 1)
    };
    let more = and_a_part(&mut ahead).unwrap_or_default();
    Some((whole + more, ahead))
}

/// The number that a word says, from one to twelve; `half`, as in `in half`, is two parts.
pub fn number_word(word: &str) -> Option<i64> {
    let at = NUMBERS.iter().position(|known| *known == word);
    at.and_then(|at| i64::try_from(at + 1).ok()).or_else(|| (word == "half").then_some(2))
}

/// `and a half` behind a number.
pub fn and_a_part(cursor: &mut Cursor) -> Option<Exact> {
    let mut ahead = *cursor;
    let abroad = phrases!([
        "y media",
        "y medio",
        "et demie",
        "et demi",
        "e mezza",
        "e mezzo",
        "und eine halbe"
    ]);
    if ahead.take_longest(abroad).is_some() {
        *cursor = ahead;
        return Some(ratio(1, 2));
    }
    if !(ahead.take("and") && ahead.take("a")) {
        return None;
    }
    let part = spoken_part(&mut ahead)?;
    *cursor = ahead;
    Some(part)
}

/// `half a`, `quarter of an`, `third`, `three quarters of a`, `two thirds of a`.
fn spoken_part(cursor: &mut Cursor) -> Option<Exact> {
    let mut ahead = *cursor;
    let part = if ahead.take("half") {
        ratio(1, 2)
    } else if ahead.take("quarter") {
        ratio(1, 4)
    } else if ahead.take("third") {
        ratio(1, 3)
    } else if ahead.take_both("three", "quarters") || ahead.take("three-quarters") {
        ratio(3, 4)
    } else if ahead.take_both("two", "thirds") || ahead.take("two-thirds") {
        ratio(2, 3)
    } else {
        return None;
    };
    let of = ahead.is("of");
    let article = if of { ahead.further() } else { ahead };
    if article.is("a") || article.is("an") {
        ahead = article.further();
    }
    *cursor = ahead;
    Some(part)
}

/// The place behind the number that stands here.
pub fn past_number<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    while ahead.is_number() {
        ahead.advance();
    }
    (ahead.rest() != cursor.rest()).then_some(ahead)
}

/// The unit that stands here, spelt in any way that can only mean it.
pub fn unit_here(cursor: &Cursor, wanted: ExpectedAmount) -> Option<Unit> {
    let token = cursor.peek()?;
    match token.kind {
        TokenKind::Unit | TokenKind::Word => {
            let spelling = cursor.slice(token);
            let fluid = cursor.is("fluid") || cursor.are("fl", "oz");
            let unit = if fluid {
                Some(Unit::FluidOunce)
            } else {
                Unit::read(spelling).or_else(|| Unit::certain(spelling))
            };
            let unit = unit.filter(|unit| wanted.takes(unit.dimension()));
            unit.or_else(|| other_measure(cursor, wanted).map(|(_, unit, _)| unit))
        }
        TokenKind::Sign if cursor.is_sign("%") => Some(Unit::Percent),
        TokenKind::Sign if cursor.is_sign("°") => {
            let letter = cursor.further().word()?;
            Unit::certain(letter).filter(|unit| unit.dimension() == Dimension::Temperature)
        }
        _ => None,
    }
}

/// A measure that is no unit of ours, how many of ours it holds, and the place behind it: a
/// decagram and a hectogram as they are said in Austria and Italy, a cubic centimetre.
pub fn other_measure<'a>(
    cursor: &Cursor<'a>,
    wanted: ExpectedAmount,
) -> Option<(i64, Unit, Cursor<'a>)> {
    if wanted == ExpectedAmount::Time {
        return weeks(cursor);
    }
    if !matches!(
        wanted,
        ExpectedAmount::Line
            | ExpectedAmount::Mass
            | ExpectedAmount::PartOfMix
            | ExpectedAmount::Stock
    ) {
        return None;
    }
    let token = cursor.peek()?;
    if !matches!(token.kind, TokenKind::Unit | TokenKind::Word) {
        return None;
    }
    let lower = Lower::of(cursor.slice(token));
    let mut behind = cursor.further();
    let (times, unit) = match &*lower {
        "dag" | "dkg" | "deka" | "dekagramm" => (10, Unit::Gram),
        "hg" | "etto" | "etti" | "hectogram" | "hectograms" => (100, Unit::Gram),
        "cc" | "ccm" | "cm3" | "ccs" => (1, Unit::Milliliter),
        "demi-litre" | "halbliter" => (500, Unit::Milliliter),
        "viertelliter" => (250, Unit::Milliliter),
        "demi-kilo" => (500, Unit::Gram),
        "c" if wanted == ExpectedAmount::Line => {
            // `c.c.`
            for expected in [".", "c"] {
                let found = behind.under(behind.here()).eq_ignore_ascii_case(expected);
                found.then(|| behind.advance())?;
            }
            (1, Unit::Milliliter)
        }
        "cm" => {
            behind.is_sign("³").then(|| behind.advance())?;
            (1, Unit::Milliliter)
        }
        _ => return None,
    };
    if behind.is_sign(".") && behind.touches() {
        behind.advance();
    }
    wanted.takes(unit.dimension()).then_some((times, unit, behind))
}

/// A week, in five languages, as so many days.
fn weeks<'a>(cursor: &Cursor<'a>) -> Option<(i64, Unit, Cursor<'a>)> {
    const WEEKS: &[&str] = &[
        "week",
        "weeks",
        "wk",
        "wks",
        "Woche",
        "Wochen",
        "semaine",
        "semaines",
        "semana",
        "semanas",
        "settimana",
        "settimane",
    ];
    let mut ahead = *cursor;
    ahead.take_any(phrases!(WEEKS)).then_some((7, Unit::Day, ahead))
}

/// A number of a unit as it is written in figures: `1 1/2 cup`. Hours with a fraction are
/// minutes.
pub fn figures(number: &Exact, unit: Unit) -> (Exact, Unit, String) {
    let (number, unit) = match unit {
        Unit::Hour if !number.is_int() => (number * int(60), Unit::Minute),
        unit => (number.clone(), unit),
    };
    let text = format!("{} {}", mixed(&number), unit.spelling()).trim_end().to_owned();
    (number, unit, text)
}

/// `1 1/2`
fn mixed(number: &Exact) -> String {
    let whole = number.floor();
    let part = number - &whole;
    let fractions = [(1, 2), (1, 3), (2, 3), (1, 4), (3, 4)];
    let known = fractions.into_iter().find(|(over, under)| part == ratio(*over, *under));
    match known {
        Some((over, under)) if whole.is_zero() => format!("{over}/{under}"),
        Some((over, under)) => {
            format!("{} {over}/{under}", crate::quantity::display::trimmed(&whole, 0))
        }
        None => crate::quantity::display::trimmed(number, 4),
    }
}

/// The numbers of `1:2:2` at the cursor.
pub fn feed_ratio(cursor: &Cursor) -> Option<Vec<Exact>> {
    let token = cursor.peek().filter(|_| cursor.is_number())?;
    let written = cursor.slice(token);
    if !written.contains(':') {
        return None;
    }
    let parts = written.split(':').map(|part| read_number(part).ok().map(|number| number.value));
    let parts = parts.collect::<Option<Vec<Exact>>>()?;
    parts.iter().all(|part| *part > Exact::ZERO).then_some(parts)
}

/// The place behind `heaped`, `firmly packed`, `level` and their like; where none stands, the
/// same place.
pub fn past_filling<'a>(cursor: &Cursor<'a>) -> Cursor<'a> {
    let mut ahead = *cursor;
    if ahead.further().is("packed") {
        let _ = ahead.take_any(phrases!(["firmly", "lightly", "loosely"]));
    }
    if ahead.take_any(phrases!(FILLED)) && ahead.is_sign(".") && ahead.touches() {
        // `1 gestr. TL`
        ahead.advance();
    }
    ahead
}

/// A duration begins here, in digits or as it is said.
pub fn begins_time(cursor: &Cursor) -> bool {
    let about =
        || behind_about(cursor).is_some_and(|ahead| begins_amount(&ahead, ExpectedAmount::Time));
    let bounded = || {
        let mut ahead = *cursor;
        ahead.take_longest(phrases!(["up to", "at least", "at most", "no more than"])).is_some()
            && begins_amount(&ahead, ExpectedAmount::Time)
    };
    let between = says_between(cursor) && begins_amount(&cursor.further(), ExpectedAmount::Time);
    begins_amount(cursor, ExpectedAmount::Time)
        || time_in_words(cursor).is_some()
        || cursor.peek_kind() == Some(TokenKind::Range)
        || {
            let mut ahead = *cursor;
            ahead.take_longest(phrases!(NIGHTS)).is_some()
        }
        || between
        || about()
        || bounded()
}

/// Whether a temperature stands here, with its unit.
pub fn begins_temperature(cursor: &Cursor) -> bool {
    let Some(behind) = past_number(cursor) else { return false };
    let is_range = behind.is_dash() || behind.peek_kind() == Some(TokenKind::Range);
    let end = if is_range { past_number(&behind.further()) } else { Some(behind) };
    end.is_some_and(|end| unit_here(&end, ExpectedAmount::Temperature).is_some())
}
