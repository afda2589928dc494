//! Units behind numbers, in the many ways they are spelt.

use super::cursor::Cursor;
use super::spoken::{french_spoon, past_filling, unit_here};
use super::words::DEGREES;
use super::words::follows_an_amount;
use super::{Reader, Reading};
use crate::quantity::{Dimension, Unit, int, read_number};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{measure_unclear, missing_unit, read_as, unknown_unit};
use crate::syntax::outline::TokenKind;
use crate::syntax::phrases::phrases;

/// Whether degrees in another language are those of Celsius. German and Italian kitchens have
/// no others; French and Spanish are spoken where ovens are set in Fahrenheit too (Quebec,
/// parts of Latin America), so there only what is no heat of an oven in Fahrenheit is certain:
/// 150 to 280 °F are 66 to 138 °C. Common practice, no source.
///
/// The sign alone is as certain behind a step in one of these languages.
fn is_certainly_celsius(word: &str, number: &str, wanted: ExpectedAmount, is_abroad: bool) -> bool {
    let is = |words: &[&str]| words.iter().any(|known| known.eq_ignore_ascii_case(word));
    let value = read_number(number).map(|read| read.value).unwrap_or_default();
    let is_oven = wanted == ExpectedAmount::Surroundings && value >= int(150) && value <= int(280);
    let is_sign = matches!(word, "°" | "º" | "˚");
    is(&["Grad", "gradi"])
        || is(&["degrés", "degré", "grados"]) && is_oven
        || is_sign && is_abroad && is_oven
}

impl Reader<'_> {
    /// The unit behind a number that begins at `first`, touching it or not.
    pub fn unit(
        &mut self,
        cursor: &mut Cursor,
        first: Span,
        wanted: ExpectedAmount,
    ) -> Reading<Option<Unit>> {
        self.filled(cursor, first, wanted);
        if let Some(unit) = self.degrees(cursor, first, wanted)? {
            return Ok(Some(unit));
        }
        let here = cursor.here();
        match cursor.peek_kind() {
            Some(TokenKind::Unit) => {
                let spelling = cursor.under(here);
                cursor.advance();
                let unit = self.spelt(spelling, here, wanted)?;
                self.point(cursor, here, unit);
                Ok(Some(unit))
            }
            Some(TokenKind::Sign) if cursor.is_sign("%") => {
                cursor.advance();
                Ok(Some(Unit::Percent))
            }
            Some(TokenKind::Word) => self.unit_word(cursor, here, wanted),
            Some(TokenKind::Sign) if cursor.is_sign("°") => {
                cursor.advance();
                cursor.word().is_some().then(|| cursor.advance());
                let span = cursor.since(here);
                self.spelt(cursor.under(span), span, wanted).map(Some)
            }
            _ => Ok(None),
        }
    }

    /// `heaped` and its like before a spoon, which is counted as a level one.
    fn filled(&mut self, cursor: &mut Cursor, first: Span, wanted: ExpectedAmount) {
        let ahead = past_filling(cursor);
        let how = Span { end: ahead.after().end, ..cursor.here() };
        if how.end <= how.start {
            return;
        }
        let is_level = cursor.is_any(phrases!(LEVEL));
        let is_volume = |unit: &Unit| unit.dimension() == Dimension::Volume;
        let Some(unit) = unit_here(&ahead, wanted).filter(is_volume) else { return };
        let words = cursor.under(how);
        *cursor = ahead;
        if is_level {
            self.reword(Span { end: cursor.here().start, ..how }, "");
        } else {
            let whole = first.to(cursor.here());
            let number = cursor.under(Span { end: how.start, ..first }).trim_end();
            self.report(measure_unclear::finding(
                whole,
                cursor.under(whole),
                words,
                &format!("{number} {}", unit.spelling()),
            ));
        }
    }

    /// `degrees`, `°` and their like, which do not say which degrees unless a letter or a
    /// word follows.
    fn degrees(
        &mut self,
        cursor: &mut Cursor,
        first: Span,
        wanted: ExpectedAmount,
    ) -> Reading<Option<Unit>> {
        let here = cursor.here();
        let written = cursor.under(here);
        let is_sign = matches!(written, "°" | "º" | "˚");
        let is_word = DEGREES.iter().any(|word| word.eq_ignore_ascii_case(written));
        if !wanted.takes(Dimension::Temperature) || !(is_sign || is_word) {
            return Ok(None);
        }
        cursor.advance();
        if cursor.is_sign(".") && cursor.touches() {
            cursor.advance();
        }
        let letter = cursor.word().and_then(|word| match Unit::read(word) {
            Some(unit) => Some(unit),
            None => Unit::certain(word),
        });
        let Some(unit) = letter.filter(|unit| unit.dimension() == Dimension::Temperature) else {
            let whole = cursor.since(first);
            let number = cursor.under(Span { end: here.start, ..first }).trim_end();
            if is_certainly_celsius(written, number, wanted, self.told_abroad) {
                self.report(read_as::degrees(whole, cursor.under(whole), number));
                self.reword(cursor.since(here), Unit::Celsius.spelling());
                return Ok(Some(Unit::Celsius));
            }
            return Err(missing_unit::which_degrees(whole, cursor.under(whole), number).into());
        };
        let spelling = cursor.here();
        cursor.advance();
        if is_sign && written == "°" {
            self.our_spelling(spelling, unit);
        } else {
            let whole = cursor.since(here);
            self.reword(whole, unit.spelling());
        }
        Ok(Some(unit))
    }

    /// The point of an abbreviation: `tsp.`
    fn point(&mut self, cursor: &mut Cursor, unit_at: Span, unit: Unit) {
        if cursor.is_sign(".") && cursor.touches() && !cursor.further().touches() {
            cursor.advance();
            self.reword(cursor.since(unit_at), unit.spelling());
        }
    }

    /// A word behind a number and a blank: a unit, or what follows the amount.
    fn unit_word(
        &mut self,
        cursor: &mut Cursor,
        here: Span,
        wanted: ExpectedAmount,
    ) -> Reading<Option<Unit>> {
        if let Some(fluid) = self.fluid_ounce(cursor, here, wanted) {
            return Ok(Some(fluid));
        }
        if let Some(spoon) = self.french_spoon(cursor, here, wanted) {
            return Ok(Some(spoon));
        }
        if wanted.takes(Dimension::Share) && cursor.are("per", "cent") {
            cursor.advance();
            cursor.advance();
            self.reword(cursor.since(here), "%");
            return Ok(Some(Unit::Percent));
        }
        let word = cursor.under(here);
        // In a line of a mix the letter is a cup, as nothing there is as warm or as cold.
        let is_cup = wanted == ExpectedAmount::Line && matches!(word, "c" | "C");
        let read = Unit::read(word).filter(|_| !is_cup);
        if read.is_none() && !is_cup && follows_an_amount(word) {
            return Ok(None);
        }
        let unit = if is_cup { Some(Unit::Cup) } else { read.or_else(|| certain(word, wanted)) };
        if let Some(unit) = unit {
            cursor.advance();
            if read.is_none() {
                self.our_spelling(here, unit);
            }
            self.point(cursor, here, unit);
            return Ok(Some(unit));
        }
        let Some(likely) = Unit::likely(word).filter(|unit| wanted.takes(unit.dimension())) else {
            return Ok(None);
        };
        cursor.advance();
        self.report(unknown_unit::with_likely(here, word, likely));
        Ok(Some(likely))
    }

    /// `cuillère à soupe`, `c. à s.`, `c. à café`: 15 and 5 ml.
    fn french_spoon(
        &mut self,
        cursor: &mut Cursor,
        here: Span,
        wanted: ExpectedAmount,
    ) -> Option<Unit> {
        let (unit, ahead) = french_spoon(cursor).filter(|_| wanted.takes(Dimension::Volume))?;
        *cursor = ahead;
        self.reword(cursor.since(here), unit.spelling());
        Some(unit)
    }

    /// `fl oz`, `fl. oz.`, `fluid ounces`.
    fn fluid_ounce(
        &mut self,
        cursor: &mut Cursor,
        here: Span,
        wanted: ExpectedAmount,
    ) -> Option<Unit> {
        let mut ahead = *cursor;
        if !wanted.takes(Dimension::Volume) || !(ahead.take("fl") || ahead.take("fluid")) {
            return None;
        }
        if ahead.is_sign(".") {
            ahead.advance();
        }
        let ounce = ahead.word().is_some_and(|word| {
            Unit::read(word).or_else(|| Unit::certain(word)) == Some(Unit::Ounce)
        });
        if !ounce {
            return None;
        }
        ahead.advance();
        *cursor = ahead;
        self.reword(cursor.since(here), Unit::FluidOunce.spelling());
        self.point(cursor, here, Unit::FluidOunce);
        Some(Unit::FluidOunce)
    }

    /// The unit of a spelling that touches its number and so can be nothing else.
    fn spelt(&mut self, spelling: &str, span: Span, wanted: ExpectedAmount) -> Reading<Unit> {
        if wanted == ExpectedAmount::Line && matches!(spelling, "c" | "C") {
            self.our_spelling(span, Unit::Cup);
            return Ok(Unit::Cup);
        }
        if let Some(unit) = Unit::read(spelling) {
            return Ok(unit);
        }
        if let Some(unit) = certain(spelling, wanted) {
            self.our_spelling(span, unit);
            return Ok(unit);
        }
        match Unit::likely(spelling).filter(|unit| wanted.takes(unit.dimension())) {
            Some(likely) => {
                self.report(unknown_unit::with_likely(span, spelling, likely));
                Ok(likely)
            }
            None => Err(unknown_unit::finding(span, spelling, wanted.units()).into()),
        }
    }

    /// Notes our spelling of a unit, apart from its number where that is how it is written.
    fn our_spelling(&mut self, span: Span, unit: Unit) {
        self.reword(span, unit.spelling());
    }
}

fn certain(spelling: &str, wanted: ExpectedAmount) -> Option<Unit> {
    Unit::certain(spelling).filter(|unit| wanted.takes(unit.dimension()))
}

/// What is said of a spoon that is struck off.
const LEVEL: [&str; 9] = [
    "level",
    "levelled",
    "leveled",
    "gestrichene",
    "gestrichener",
    "gestrichen",
    "gestr",
    "rasa",
    "raso",
];
