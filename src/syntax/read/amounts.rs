//! Numbers with their units, and ranges of them.

use super::cursor::Cursor;
use super::words::follows_an_amount;
use super::{Reader, Reading};
use crate::quantity::{Dimension, Exact, Measures, NumberTrouble, Unit, int, read_number};
use crate::source::Span;
use crate::syntax::findings::{
    amount_impossible, decimal_comma, division_by_zero, malformed_number, missing_amount,
    missing_unit, number_too_large, range_reversed, unknown_unit, wrong_kind_of_amount,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{Extent, Quantity};
use crate::syntax::wanted::Wanted;

/// A quantity whose unit may yet come from the other end of a range.
struct Written {
    number: Exact,
    /// None for a bare number.
    unit: Option<Unit>,
    /// The first unit of a composed amount.
    first_unit: Option<Unit>,
    decimals: Option<u8>,
    span: Span,
}

impl Reader<'_> {
    /// One quantity, where a range has no meaning.
    pub fn quantity(&mut self, cursor: &mut Cursor, wanted: Wanted) -> Reading<Quantity> {
        let written = self.written(cursor, wanted)?;
        if is_range_sign(cursor) {
            let first = written.span;
            self.range_end(cursor, wanted)?;
            let span = cursor.since(first);
            return Err(wrong_kind_of_amount::one_value(span, cursor.under(span)).into());
        }
        something(settle(written, wanted, cursor)?, wanted, cursor)
    }

    /// A quantity or a range of them: `3h`, `3h..4h`, `3..4h`, `3h..`, `..4h`, and a
    /// dash between numbers for `..`.
    pub fn extent(&mut self, cursor: &mut Cursor, wanted: Wanted) -> Reading<Extent> {
        let first = cursor.here();
        if cursor.peek_kind() == Some(TokenKind::Range) {
            cursor.advance();
            let high = self.written(cursor, wanted)?;
            let high = something(settle(high, wanted, cursor)?, wanted, cursor)?;
            return Ok(Extent {
                low: None,
                high: Some(high),
                ranged: true,
                span: cursor.since(first),
            });
        }
        let mut low = self.written(cursor, wanted)?;
        if !is_range_sign(cursor) {
            let value = something(settle(low, wanted, cursor)?, wanted, cursor)?;
            let span = value.span;
            return Ok(Extent { low: Some(value.clone()), high: Some(value), ranged: false, span });
        }
        let Some(high) = self.range_end(cursor, wanted)? else {
            let low = settle(low, wanted, cursor)?;
            return Ok(Extent {
                low: Some(low),
                high: None,
                ranged: true,
                span: cursor.since(first),
            });
        };
        let own_unit = low.unit.is_some();
        if let (Some(low), None) = (low.unit, high.unit) {
            return Err(missing_unit::right_end(high.span, cursor.under(high.span), low).into());
        }
        low.unit = low.unit.or(high.first_unit);
        // The right end first: where both lack their unit, that is where it is written.
        let high = something(settle(high, wanted, cursor)?, wanted, cursor)?;
        let low = settle(low, wanted, cursor)?;
        let span = cursor.since(first);
        Ok(self.in_order(low, high, own_unit, span, wanted, cursor))
    }

    /// Puts the ends of a range that runs backwards in order, with a finding.
    fn in_order(
        &mut self,
        low: Quantity,
        high: Quantity,
        own_unit: bool,
        span: Span,
        wanted: Wanted,
        cursor: &Cursor,
    ) -> Extent {
        let base = |end: &Quantity| end.unit.to_base(&end.number, Measures::default());
        let reversed = wanted != Wanted::Surroundings
            && low.unit.dimension() == high.unit.dimension()
            && base(&low) > base(&high);
        if !reversed {
            return Extent { low: Some(low), high: Some(high), ranged: true, span };
        }
        let (left, right) = (cursor.under(low.span), cursor.under(high.span));
        let unit_at = right.find(|c: char| c.is_alphabetic() || c == '%' || c == '°');
        let repaired = match (own_unit, unit_at.and_then(|at| right.split_at_checked(at))) {
            (false, Some((number, unit))) => format!("{}..{left}{unit}", number.trim_end()),
            _ => format!("{right}..{left}"),
        };
        self.report(range_reversed::finding(span, cursor.under(span), repaired));
        Extent { low: Some(high), high: Some(low), ranged: true, span }
    }

    /// Behind the sign of a range: its right end, if it has one.
    fn range_end(&mut self, cursor: &mut Cursor, wanted: Wanted) -> Reading<Option<Written>> {
        cursor.advance();
        if cursor.is_number() || is_minus(cursor) {
            return self.written(cursor, wanted).map(Some);
        }
        Ok(None)
    }

    /// A number with its unit or units: `1h30`, `3 lb 4 oz`, `1d 6h`.
    fn written(&mut self, cursor: &mut Cursor, wanted: Wanted) -> Reading<Written> {
        let mut written = self.simple(cursor, wanted)?;
        while let Some(unit) = written.unit
            && cursor.is_number()
            && matches!(unit.dimension(), Dimension::Time | Dimension::Mass | Dimension::Volume)
        {
            if !self.add_smaller(&mut written, unit, cursor, wanted)? {
                break;
            }
        }
        Ok(written)
    }

    /// Adds the next number to a composed amount, where it belongs to it.
    fn add_smaller(
        &mut self,
        written: &mut Written,
        unit: Unit,
        cursor: &mut Cursor,
        wanted: Wanted,
    ) -> Reading<bool> {
        let is_time = unit.dimension() == Dimension::Time;
        let touches = cursor.touches();
        let mut ahead = *cursor;
        let Some(token) = ahead.peek() else { return Ok(false) };
        ahead.advance();
        let next = match ahead.peek_kind() {
            Some(TokenKind::Unit) => ahead.peek().and_then(|unit| Unit::read(ahead.slice(unit))),
            Some(TokenKind::Word) => ahead.word().and_then(Unit::read),
            _ => None,
        };
        let bare = !matches!(ahead.peek_kind(), Some(TokenKind::Unit)) && next.is_none();
        if is_time && bare && !ahead.is("times") && !ahead.is_sign("%") && !ahead.is_sign("°") {
            return self.bare_minutes(written, unit, touches, cursor);
        }
        let smaller = next
            .is_some_and(|next| next.dimension() == unit.dimension() && worth(next) < worth(unit));
        if !smaller || cursor.slice(token).contains(':') {
            return Ok(false);
        }
        let part = self.simple(cursor, wanted)?;
        if let Some(small) = part.unit {
            let larger = small.count_in(&(&written.number * worth(unit)), Measures::Metric);
            written.number = larger + part.number;
            written.unit = Some(small);
            written.decimals = part.decimals;
            written.span = cursor.since(written.span);
        }
        Ok(true)
    }

    /// The `30` of `1h30`; one with a blank before it lacks its unit.
    fn bare_minutes(
        &mut self,
        written: &mut Written,
        unit: Unit,
        touches: bool,
        cursor: &mut Cursor,
    ) -> Reading<bool> {
        let span = cursor.here();
        let digits = cursor.under(span);
        let smaller = match unit {
            Unit::Day => Unit::Hour,
            Unit::Minute => Unit::Second,
            _ => Unit::Minute,
        };
        let minutes = self.number(cursor)?.number;
        if unit != Unit::Hour || !touches || digits.len() != 2 {
            self.report(missing_unit::most_likely(span, digits, smaller));
        }
        written.number =
            smaller.count_in(&(&written.number * worth(unit)), Measures::Metric) + minutes;
        written.unit = Some(smaller);
        written.decimals = None;
        written.span = cursor.since(written.span);
        Ok(true)
    }

    /// A number and at most one unit.
    fn simple(&mut self, cursor: &mut Cursor, wanted: Wanted) -> Reading<Written> {
        let first = cursor.here();
        let negative = is_minus(cursor);
        if negative {
            cursor.advance();
        }
        let number = self.number(cursor)?;
        let unit = self.unit(cursor, wanted)?;
        let span = cursor.since(first);
        if negative && !wanted.may_be_negative() {
            return Err(amount_impossible::below_zero(span, cursor.under(span)).into());
        }
        let value = if negative { -number.number } else { number.number };
        Ok(Written { number: value, unit, first_unit: unit, decimals: number.decimals, span })
    }

    /// The number at the cursor: `12`, `0.25`, `1/3`, `1 1/2`, `1½`.
    pub fn number(&mut self, cursor: &mut Cursor) -> Reading<Number> {
        let first = cursor.here();
        let Some(token) = cursor.peek().filter(|token| token.kind == TokenKind::Number) else {
            return Err(missing_amount::no_number(first, cursor.under(first)).into());
        };
        let digits = cursor.slice(token);
        cursor.advance();
        let mut number = self.digits(digits, first)?;
        if let Some(power) = self.power_of_ten(&number, cursor, first)? {
            return Ok(power);
        }
        if is_whole(digits) && cursor.is_number() && !cursor.touches() {
            let part = cursor.here();
            let fraction = cursor.under(part);
            if is_fraction(fraction) {
                cursor.advance();
                number.number += self.digits(fraction, part)?.number;
                number.decimals = None;
            }
        }
        Ok(number)
    }

    fn digits(&mut self, digits: &str, span: Span) -> Reading<Number> {
        match read_number(digits) {
            Ok(written) => Ok(Number { number: written.value, decimals: written.decimals }),
            Err(NumberTrouble::DecimalComma) => self.comma_number(digits, span),
            Err(NumberTrouble::TooManyDigits) => {
                Err(number_too_large::finding(span, digits).into())
            }
            Err(NumberTrouble::DivisionByZero) => {
                Err(division_by_zero::finding(span, digits).into())
            }
            Err(NumberTrouble::NotANumber) if digits.contains(':') => {
                Err(wrong_kind_of_amount::time_of_day(span, digits).into())
            }
            Err(NumberTrouble::NotANumber) => {
                Err(malformed_number::not_a_number(span, digits).into())
            }
        }
    }

    /// A number with a comma in it is read where there is only one thing it can mean.
    fn comma_number(&mut self, digits: &str, span: Span) -> Reading<Number> {
        let Some(meant) = decimal_comma::meant(digits) else {
            return Err(decimal_comma::doubtful(span, digits).into());
        };
        match read_number(&meant) {
            Ok(written) => {
                self.report(decimal_comma::finding(span, digits, meant));
                Ok(Number { number: written.value, decimals: written.decimals })
            }
            Err(_) => Err(decimal_comma::doubtful(span, digits).into()),
        }
    }

    /// `1e3` is no way to write a number here, and `1e400` is none that can be read.
    fn power_of_ten(
        &mut self,
        number: &Number,
        cursor: &mut Cursor,
        first: Span,
    ) -> Reading<Option<Number>> {
        let mut ahead = *cursor;
        let is_e = ahead.touches()
            && ahead.peek().is_some_and(|token| ahead.slice(token).eq_ignore_ascii_case("e"));
        if !is_e {
            return Ok(None);
        }
        ahead.advance();
        let below = ahead.touches() && ahead.is_dash();
        if below || (ahead.touches() && ahead.is_sign("+")) {
            ahead.advance();
        }
        if !ahead.touches() || !ahead.is_number() {
            return Ok(None);
        }
        let power = ahead.under(ahead.here()).parse::<u32>().unwrap_or(u32::MAX);
        ahead.advance();
        *cursor = ahead;
        let span = cursor.since(first);
        if power > MAX_POWER {
            return Err(number_too_large::finding(span, cursor.under(span)).into());
        }
        let factor = (0..power).fold(int(1), |factor, _| factor * int(10));
        let value = if below { number.number.each_of(&factor) } else { &number.number * factor };
        self.report(malformed_number::power_of_ten(span, cursor.under(span), &value));
        Ok(Some(Number { number: value, decimals: None }))
    }

    /// The unit behind a number, touching it or not.
    fn unit(&mut self, cursor: &mut Cursor, wanted: Wanted) -> Reading<Option<Unit>> {
        let here = cursor.here();
        match cursor.peek_kind() {
            Some(TokenKind::Unit) => {
                let spelling = cursor.under(here);
                cursor.advance();
                self.spelt(spelling, here, wanted).map(Some)
            }
            Some(TokenKind::Sign) if cursor.is_sign("%") => {
                cursor.advance();
                Ok(Some(Unit::Percent))
            }
            Some(TokenKind::Sign) if cursor.is_sign("°") => {
                cursor.advance();
                if cursor.word().is_some() {
                    cursor.advance();
                }
                let span = cursor.since(here);
                self.spelt(cursor.under(span), span, wanted).map(Some)
            }
            Some(TokenKind::Word) => self.unit_word(cursor, here, wanted),
            _ => Ok(None),
        }
    }

    /// A word behind a number and a blank: a unit, or what follows the amount.
    fn unit_word(
        &mut self,
        cursor: &mut Cursor,
        here: Span,
        wanted: Wanted,
    ) -> Reading<Option<Unit>> {
        let word = cursor.under(here);
        if let Some(unit) = Unit::read(word) {
            cursor.advance();
            return Ok(Some(unit));
        }
        if follows_an_amount(word) {
            return Ok(None);
        }
        let fluid = cursor.are("fl", "oz");
        let likely = if fluid { Some(Unit::FluidOunce) } else { Unit::likely(word) };
        let Some(likely) = likely.filter(|unit| wanted.takes(unit.dimension())) else {
            return Ok(None);
        };
        cursor.advance();
        if fluid {
            cursor.advance();
        }
        let span = cursor.since(here);
        self.report(unknown_unit::with_likely(span, cursor.under(span), likely));
        Ok(Some(likely))
    }

    /// The unit of a spelling that can be nothing else.
    fn spelt(&mut self, spelling: &str, span: Span, wanted: Wanted) -> Reading<Unit> {
        if let Some(unit) = Unit::read(spelling) {
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

    /// A whole number for counting: `fold 3 times`, `speed 1`.
    pub fn whole_number(&mut self, cursor: &mut Cursor, what: &str) -> Reading<(u32, Span)> {
        let span = cursor.here();
        let number = self.number(cursor)?.number;
        if !number.is_int() {
            return Err(wrong_kind_of_amount::not_whole(span, cursor.under(span), what).into());
        }
        match u32::try_from(number) {
            Ok(0) => Err(amount_impossible::nothing(span, cursor.under(span)).into()),
            Ok(whole) => Ok((whole, span)),
            Err(_) => Err(number_too_large::finding(span, cursor.under(span)).into()),
        }
    }
}

/// A number and the digits written behind its point.
pub struct Number {
    pub number: Exact,
    pub decimals: Option<u8>,
}

/// A power above this makes a longer number than can be written out.
const MAX_POWER: u32 = 17;

/// The quantity, if it is of the kind that is wanted.
fn settle(written: Written, wanted: Wanted, cursor: &Cursor) -> Reading<Quantity> {
    let unit = written.unit.unwrap_or(Unit::Count);
    let dimension = unit.dimension();
    let span = written.span;
    if wanted.takes(dimension) {
        return Ok(Quantity { number: written.number, unit, decimals: written.decimals, span });
    }
    let text = cursor.under(span);
    if written.unit.is_none() {
        return Err(missing_unit::finding(span, text, wanted).into());
    }
    Err(wrong_kind_of_amount::wrong_kind(span, text, dimension, wanted).into())
}

/// The quantity, if nothing at all can stand there or it is more than that.
fn something(quantity: Quantity, wanted: Wanted, cursor: &Cursor) -> Reading<Quantity> {
    if quantity.number.is_zero() && !wanted.may_be_zero() {
        let span = quantity.span;
        return Err(amount_impossible::nothing(span, cursor.under(span)).into());
    }
    Ok(quantity)
}

/// How many of the smallest unit of its dimension a unit is.
fn worth(unit: Unit) -> Exact {
    unit.to_base(&int(1), Measures::default())
}

fn is_whole(digits: &str) -> bool {
    digits.bytes().all(|byte| byte.is_ascii_digit())
}

fn is_fraction(digits: &str) -> bool {
    digits.contains(['/', '\u{2044}']) || (digits.chars().count() == 1 && !digits.is_ascii())
}

/// `..`, or a dash with a number behind it.
fn is_range_sign(cursor: &Cursor) -> bool {
    cursor.peek_kind() == Some(TokenKind::Range)
        || (cursor.is_dash() && cursor.further().is_number())
}

/// A dash that touches the number behind it.
pub fn is_minus(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    cursor.is_dash() && behind.is_number() && behind.touches()
}
