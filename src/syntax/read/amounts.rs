//! Numbers with their units, and ranges of them.

use super::cursor::Cursor;
use super::plain::plain_extent;
use super::spoken::{
    and_a_part, begins_amount, figures, other_measure, past_number, says_between, spoken_amount,
    two_in_one, unit_here,
};
use super::words::DEGREES;
use super::words::{OF, PACKETS};
use super::{Reader, Reading};
use crate::diag::Finding;
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Measures, NumberTrouble, Unit, int, ratio, read_number};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    amount_impossible, decimal_comma, division_by_zero, malformed_number, missing_amount,
    missing_unit, number_too_large, range_reversed, read_as, unknown_unit, unknown_value,
    wrong_kind_of_amount,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{Extent, Quantity};

/// Pieces in which yeast and fat are sold.
const CUBES: &[&str] =
    &["cube", "cubes", "Würfel", "cubetto", "cubetti", "cubo", "cubos", "block", "stick", "sticks"];

/// The place behind a container that holds the weight before it: `bag of`, `/1 sachet`.
fn past_container<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    if ahead.is_sign("/") {
        ahead = past_number(&ahead.further())?;
        return ahead.take_any(phrases!(PACKETS)).then_some(ahead);
    }
    let containers = phrases!([
        "bag", "block", "tin", "can", "jar", "carton", "tub", "pot", "bottle", "box", "Beutel",
        "Dose", "Becher", "Glas"
    ]);
    // `pot barley` is a grain.
    let is_bag = ahead.is("bag");
    ahead.take_any(containers).then_some(())?;
    let of = ["of", "de", "di"].iter().any(|of| ahead.take(of));
    (of || is_bag).then_some(())?;
    ahead.word().is_some().then_some(ahead)
}

/// A quantity whose unit may yet come from the other end of a range.
struct WrittenAmount {
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
    pub fn quantity(&mut self, cursor: &mut Cursor, wanted: ExpectedAmount) -> Reading<Quantity> {
        self.about(cursor, wanted);
        let written = self.written(cursor, wanted)?;
        if is_range_sign(cursor) {
            let first = written.span;
            self.range_end(cursor, wanted)?;
            let span = cursor.since(first);
            return Err(wrong_kind_of_amount::one_value(span, cursor.under(span)).into());
        }
        something(settle(written, wanted, cursor)?, wanted, cursor)
    }

    /// Says that there is no count below zero.
    pub fn refuse_minus(&mut self, cursor: &mut Cursor) -> Reading<()> {
        let first = cursor.here();
        if !is_minus(cursor) {
            return Ok(());
        }
        cursor.advance();
        self.number(cursor)?;
        let span = cursor.since(first);
        Err(amount_impossible::below_zero(span, cursor.under(span)).into())
    }

    /// Says that a count is one number, where a range of them began at `first`.
    pub fn refuse_range(&mut self, cursor: &mut Cursor, first: Span) -> Reading<()> {
        if !is_range_sign(cursor) {
            return Ok(());
        }
        cursor.advance();
        if cursor.is_number() {
            self.number(cursor)?;
        }
        let span = cursor.since(first);
        Err(wrong_kind_of_amount::one_value(span, cursor.under(span)).into())
    }

    /// A quantity or a range of them: `3h`, `3h..4h`, `3..4h`, `3h..`, `..4h`, and a
    /// dash or a word between numbers for `..`.
    pub fn extent(&mut self, cursor: &mut Cursor, wanted: ExpectedAmount) -> Reading<Extent> {
        if let Some((extent, behind)) = plain_extent(cursor, wanted) {
            *cursor = behind;
            return Ok(extent);
        }
        let first = cursor.here();
        self.about(cursor, wanted);
        if wanted == ExpectedAmount::Time
            && let Some(night) = self.overnight(cursor)
        {
            return Ok(night);
        }
        if wanted == ExpectedAmount::Time
            && let Some(said) = self.time_in_words(cursor)
        {
            return Ok(said);
        }
        if matches!(wanted, ExpectedAmount::Temperature | ExpectedAmount::Surroundings)
            && let Some(marks) = self.gas_marks(cursor)?
        {
            return Ok(marks);
        }
        if wanted == ExpectedAmount::Surroundings
            && let Some((first_degrees, degrees)) = two_in_one(cursor)
        {
            cursor.advance();
            cursor.take_any(phrases!(DEGREES));
            let unit = if cursor.is("F") { "F" } else { "C" };
            let _ = cursor.take(unit);
            let span = cursor.since(first);
            let written = cursor.under(span);
            let (one, two) = (format!("{first_degrees}{unit}"), format!("{degrees}{unit}"));
            return Err(unknown_value::two_heats(span, written, &one, &two).into());
        }
        let at_least = self.open_end(cursor, wanted);
        if cursor.peek_kind() == Some(TokenKind::Range) {
            cursor.advance();
            let high = self.written(cursor, wanted)?;
            let high = something(settle(high, wanted, cursor)?, wanted, cursor)?;
            return Ok(open(None, Some(high), cursor.since(first)));
        }
        if cursor.is_sign("%") && cursor.further().is_number() {
            let whole = first.to(cursor.further().here());
            return Err(malformed_number::sign_first(whole, cursor.under(whole)).into());
        }
        let (between, between_at) = (says_between(cursor), cursor.here());
        if between {
            cursor.advance();
        }
        let low = self.written(cursor, wanted)?;
        if at_least == Some(End::Low) {
            let low = something(settle(low, wanted, cursor)?, wanted, cursor)?;
            self.reword(low.span.after(), "..");
            return Ok(open(Some(low), None, cursor.since(first)));
        }
        if at_least == Some(End::High) {
            let high = something(settle(low, wanted, cursor)?, wanted, cursor)?;
            return Ok(open(None, Some(high), cursor.since(first)));
        }
        if cursor.are("or", "more") || cursor.are("or", "longer") {
            let low = something(settle(low, wanted, cursor)?, wanted, cursor)?;
            let from = cursor.after();
            cursor.advance();
            cursor.advance();
            self.reword(cursor.since(from), "..");
            return Ok(open(Some(low), None, cursor.since(first)));
        }
        if cursor.is_sign("+") && cursor.touches() && !cursor.further().is_number() {
            // `1h+`
            let low = something(settle(low, wanted, cursor)?, wanted, cursor)?;
            self.reword(cursor.here(), "..");
            cursor.advance();
            return Ok(open(Some(low), None, cursor.since(first)));
        }
        let so = cursor.are("or", "so");
        if so || ["approx", "approximately", "roughly", "ca"].iter().any(|word| cursor.is(word)) {
            let from = cursor.after();
            cursor.advance();
            if so || cursor.is_sign(".") {
                cursor.advance();
            }
            self.reword(cursor.since(from), "");
        }
        let word = range_word(cursor, &low, wanted, between);
        if between && (wanted != ExpectedAmount::Line || word || is_range_sign(cursor)) {
            // On a line, before one amount alone, it may be part of a name.
            self.reword(Span { end: low.span.start, ..between_at }, "");
        }
        if word
            && wanted == ExpectedAmount::Line
            && let Some(behind) = of_another(cursor, &low)
        {
            // `fresh yeast 20 g or 7 g dried yeast`
            *cursor = behind;
            while !cursor.at_end() {
                cursor.advance();
            }
            let span = cursor.since(first);
            return Err(range_reversed::choice(span, cursor.under(span)).into());
        }
        if word {
            let gap = Span { end: cursor.further().here().start, ..cursor.after() };
            self.reword(gap, "..");
        }
        if !word && !is_range_sign(cursor) {
            let value = something(settle(low, wanted, cursor)?, wanted, cursor)?;
            let span = value.span;
            return Ok(Extent { low: Some(value.clone()), high: Some(value), ranged: false, span });
        }
        self.range(low, cursor, wanted, first)
    }

    /// From the sign of a range on.
    fn range(
        &mut self,
        mut low: WrittenAmount,
        cursor: &mut Cursor,
        wanted: ExpectedAmount,
        first: Span,
    ) -> Reading<Extent> {
        let Some(high) = self.range_end(cursor, wanted)? else {
            let low = settle(low, wanted, cursor)?;
            return Ok(open(Some(low), None, cursor.since(first)));
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

    /// `at least`, `up to` and their like before an amount, which leave one end open.
    fn open_end(&mut self, cursor: &mut Cursor, wanted: ExpectedAmount) -> Option<End> {
        let first = cursor.here();
        let words = [
            ("at", "least", End::Low),
            ("up", "to", End::High),
            ("at", "most", End::High),
            ("no", "more", End::High),
        ];
        let (.., end) = words.into_iter().find(|(one, two, _)| cursor.are(one, two))?;
        let mut ahead = cursor.further().further();
        ahead.take("than");
        if !begins_amount(&ahead, wanted) {
            return None;
        }
        let text = if end == End::High { ".." } else { "" };
        self.reword(Span { end: ahead.here().start, ..first }, text);
        *cursor = ahead;
        Some(end)
    }

    /// Puts the ends of a range that runs backwards in order, with a finding.
    fn in_order(
        &mut self,
        low: Quantity,
        high: Quantity,
        own_unit: bool,
        span: Span,
        wanted: ExpectedAmount,
        cursor: &Cursor,
    ) -> Extent {
        let base = |end: &Quantity| end.unit.to_base(&end.number, Measures::default());
        let reversed = wanted != ExpectedAmount::Surroundings
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
        let is_near = base(&low) <= base(&high) * int(2);
        self.report(range_reversed::finding(span, cursor.under(span), repaired, is_near));
        Extent { low: Some(high), high: Some(low), ranged: true, span }
    }

    /// Behind the sign of a range: its right end, if it has one.
    fn range_end(
        &mut self,
        cursor: &mut Cursor,
        wanted: ExpectedAmount,
    ) -> Reading<Option<WrittenAmount>> {
        cursor.advance();
        self.about(cursor, wanted);
        if begins_amount(cursor, wanted) || is_minus(cursor) {
            return self.written(cursor, wanted).map(Some);
        }
        Ok(None)
    }

    /// A number with its unit or units: `1h30`, `3 lb 4 oz`, `1d 6h`.
    fn written(&mut self, cursor: &mut Cursor, wanted: ExpectedAmount) -> Reading<WrittenAmount> {
        let mut written = self.simple(cursor, wanted)?;
        if wanted == ExpectedAmount::Line {
            self.packets(&mut written, cursor, wanted)?;
        }
        while let Some(unit) = written.unit
            && matches!(unit.dimension(), Dimension::Time | Dimension::Mass | Dimension::Volume)
        {
            self.half_more(&mut written, cursor);
            self.joiner(cursor, unit, wanted);
            if !cursor.is_number() || !self.add_smaller(&mut written, unit, cursor, wanted)? {
                break;
            }
        }
        Ok(written)
    }

    /// `2 x 7 g`, `2 x 7g sachets`, `1 packet (7 g)`: as many times the weight of one.
    fn packets(
        &mut self,
        written: &mut WrittenAmount,
        cursor: &mut Cursor,
        wanted: ExpectedAmount,
    ) -> Reading<()> {
        let mut ahead = *cursor;
        let is_mass = |unit: Option<Unit>| unit.is_some_and(|it| it.dimension() == Dimension::Mass);
        if is_mass(written.unit) {
            // `7 g sachet yeast`
            let gap = ahead.after();
            let mut inside = ahead.further();
            inside.is_number().then(|| inside.advance());
            let is_bracket =
                ahead.is_sign("(") && inside.take_any(phrases!(PACKETS)) && inside.is_sign(")");
            if is_bracket {
                // `7 g (1 sachet) yeast`
                ahead = inside.further();
                self.reword(ahead.since(gap), "");
                *cursor = ahead;
            } else if ahead.take_any(phrases!(PACKETS)) {
                self.reword(ahead.since(gap), "");
                *cursor = ahead;
            } else if let Some(behind) = past_container(&ahead) {
                // `1 kg bag of flour`, `7g/1 sachet yeast`
                self.reword(behind.since(gap), "");
                *cursor = behind;
            }
            return Ok(());
        }
        if written.unit.is_none() && self.packet_of(written, cursor, wanted)? {
            return Ok(());
        }
        let times = written.unit == Some(Unit::Times)
            || written.unit.is_none() && {
                let is_sign = ahead.is("x") || ahead.is_sign("×");
                is_sign.then(|| ahead.advance()).is_some()
            };
        let in_brackets = !times
            && written.unit.is_none()
            && (ahead.take_any(phrases!(PACKETS)) || ahead.take_any(phrases!(CUBES)))
            && ahead.is_sign("(");
        if in_brackets {
            ahead.advance();
        }
        let weight = past_number(&ahead).filter(|_| times || in_brackets);
        let is_measured = |unit: Option<Unit>| {
            is_mass(unit)
                || in_brackets && unit.is_some_and(|it| it.dimension() == Dimension::Volume)
        };
        if !weight.is_some_and(|at| is_measured(unit_here(&at, wanted))) {
            return Ok(());
        }
        let one = self.simple(&mut ahead, wanted)?;
        // `2 packets (7 g each)`
        let each = phrases!(["each", "je", "chacun", "chacune", "cadauno", "l'uno", "l'un"]);
        let mut is_each = in_brackets && ahead.take_any(each);
        if in_brackets && !ahead.is_sign(")") {
            return Ok(());
        }
        if in_brackets {
            ahead.advance();
        }
        is_each |= ahead.take_any(each);
        let _ = PACKETS.iter().any(|packet| ahead.take(packet));
        *cursor = ahead;
        let span = cursor.since(written.span);
        // What stands in brackets after them is what all of them weigh.
        let is_whole = in_brackets && !is_each && written.number != int(1);
        let number = match is_whole {
            true => one.number.clone(),
            false => &written.number * one.number,
        };
        if let Some(unit) = one.unit.filter(|_| is_whole) {
            let whole = format!("{} {}", trimmed(&number, 4), unit.spelling());
            self.report(read_as::all_of_them(span, cursor.under(span), &whole));
        }
        if let Some(unit) = one.unit {
            self.reword(span, format!("{} {}", trimmed(&number, 4), unit.spelling()));
        }
        *written =
            WrittenAmount { number, unit: one.unit, first_unit: one.unit, decimals: None, span };
        Ok(())
    }

    /// `1 (1/4-ounce) packet`: so many times what stands in the brackets.
    fn packet_of(
        &mut self,
        written: &mut WrittenAmount,
        cursor: &mut Cursor,
        wanted: ExpectedAmount,
    ) -> Reading<bool> {
        let mut ahead = cursor.further();
        let Some(mut unit) = past_number(&ahead).filter(|_| cursor.is_sign("(")) else {
            return Ok(false);
        };
        if unit.is_dash() {
            unit.advance();
        }
        let is_mass = unit_here(&unit, wanted).filter(|it| it.dimension() == Dimension::Mass);
        let mut behind = unit.further();
        let closes = behind.is_sign(")");
        behind.advance();
        let packets = behind.take_any(phrases!(PACKETS))
            || behind
                .take_any(phrases!(["can", "cans", "tin", "tins", "jar", "box", "bag", "cube"]));
        let Some(mass) = is_mass.filter(|_| closes && packets) else { return Ok(false) };
        let one = self.number(&mut ahead)?.number;
        *cursor = behind;
        let span = cursor.since(written.span);
        let number = &written.number * one;
        self.reword(span, format!("{} {}", trimmed(&number, 4), mass.spelling()));
        let (unit, first_unit) = (Some(mass), Some(mass));
        *written = WrittenAmount { number, unit, first_unit, decimals: None, span };
        Ok(true)
    }

    /// `and a half` behind a unit: `an hour and a half`, `1 h y 1/2`.
    fn half_more(&mut self, written: &mut WrittenAmount, cursor: &mut Cursor) {
        let part = and_a_part(cursor).or_else(|| {
            let is_hours = written.unit == Some(Unit::Hour);
            let joins = is_hours && cursor.is_any(phrases!(["y", "e", "et", "und", "and"]));
            let behind = past_number(&cursor.further()).filter(|_| joins)?;
            let digits = cursor.under(cursor.further().here());
            let part = read_number(digits).ok()?.value;
            let is_part = part < int(1) && !part.is_zero();
            (is_part && unit_here(&behind, ExpectedAmount::Time).is_none()).then(|| {
                *cursor = behind;
                part
            })
        });
        let Some((unit, part)) = written.unit.zip(part) else { return };
        let span = cursor.since(written.span);
        let (number, unit, text) = figures(&(&written.number + part), unit);
        self.reword(span, text);
        *written = WrittenAmount { number, unit: Some(unit), decimals: None, span, ..*written };
    }

    /// `and`, `plus` or `+` between the parts of a composed amount.
    fn joiner(&mut self, cursor: &mut Cursor, unit: Unit, wanted: ExpectedAmount) {
        let joins =
            cursor.is("and") || cursor.is("plus") || cursor.is_sign("+") || cursor.is_sign("&");
        let ahead = cursor.further();
        let Some(behind) = past_number(&ahead).filter(|_| joins) else { return };
        let smaller = unit_here(&behind, wanted)
            .is_some_and(|next| next.dimension() == unit.dimension() && worth(next) < worth(unit));
        if smaller {
            self.reword(Span { end: ahead.here().start, ..cursor.after() }, " ");
            *cursor = ahead;
        }
    }

    /// Adds the next number to a composed amount, where it belongs to it.
    fn add_smaller(
        &mut self,
        written: &mut WrittenAmount,
        unit: Unit,
        cursor: &mut Cursor,
        wanted: ExpectedAmount,
    ) -> Reading<bool> {
        let is_time = unit.dimension() == Dimension::Time;
        let touches = cursor.touches();
        let mut ahead = *cursor;
        let Some(token) = ahead.peek() else { return Ok(false) };
        ahead.advance();
        let next = match ahead.peek_kind() {
            Some(TokenKind::Unit | TokenKind::Word) => unit_here(&ahead, wanted),
            _ => None,
        };
        // `30 min 230 C`
        let is_warm = unit_here(&ahead, ExpectedAmount::Temperature).is_some();
        let bare =
            !matches!(ahead.peek_kind(), Some(TokenKind::Unit)) && next.is_none() && !is_warm;
        if is_time && bare && !ahead.is("times") && !ahead.is_sign("%") && !ahead.is_sign("°") {
            return self.bare_minutes(written, unit, touches, cursor);
        }
        let smaller = next
            .is_some_and(|next| next.dimension() == unit.dimension() && worth(next) < worth(unit));
        if !smaller || cursor.slice(token).contains(':') {
            return Ok(false);
        }
        if touches && !is_time {
            // `1lb2oz`
            self.reword(cursor.after(), " ");
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
        written: &mut WrittenAmount,
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
        if minutes < int(1) && !minutes.is_zero() {
            // `1h 1/2`
            let whole = &written.number + minutes;
            let (number, unit, text) = figures(&whole, unit);
            let span = cursor.since(written.span);
            self.reword(span, text);
            *written = WrittenAmount { number, unit: Some(unit), decimals: None, span, ..*written };
            return Ok(true);
        }
        if unit != Unit::Hour || digits.len() != 2 {
            self.report(missing_unit::most_likely(span, digits, smaller));
        } else if !touches {
            let hours: String = self.worded(written.span).split_whitespace().collect();
            self.reword(cursor.since(written.span), format!("{hours}{digits}"));
        }
        written.number =
            smaller.count_in(&(&written.number * worth(unit)), Measures::Metric) + minutes;
        written.unit = Some(smaller);
        written.decimals = None;
        written.span = cursor.since(written.span);
        Ok(true)
    }

    /// A number and at most one unit.
    fn simple(&mut self, cursor: &mut Cursor, wanted: ExpectedAmount) -> Reading<WrittenAmount> {
        let first = cursor.here();
        let negative = is_minus(cursor);
        if negative {
            cursor.advance();
        }
        let spoken = spoken_amount(cursor, wanted).filter(|_| !negative);
        let number = match &spoken {
            Some((number, behind)) => {
                *cursor = *behind;
                DigitsRead { number: number.clone(), decimals: None }
            }
            None => self.number(cursor)?,
        };
        if let Some(finding) = seems_range(cursor, first, wanted) {
            return Err(finding.into());
        }
        let number = self.part_behind(number, cursor, first, wanted);
        self.of_a_unit(&number, cursor, wanted);
        if let Some(read) = self.other_measure(&number, cursor, first, wanted)? {
            return Ok(read);
        }
        let unit = self.unit(cursor, first, wanted)?;
        let span = cursor.since(first);
        if unit == Some(Unit::Hour) && number.decimals == Some(2) {
            self.tell_decimal_hours(&number.number, span);
        }
        if negative && !wanted.may_be_negative() {
            return Err(amount_impossible::below_zero(span, cursor.under(span)).into());
        }
        let value = if negative { -number.number } else { number.number };
        if let (Some(_), None) = (&spoken, unit) {
            self.reword(span, figures(&value, Unit::Count).2);
        }
        if let (Some(_), Some(unit)) = (spoken, unit) {
            let (number, unit, text) = figures(&value, unit);
            self.reword(span, text);
            return Ok(WrittenAmount {
                number,
                unit: Some(unit),
                first_unit: Some(unit),
                decimals: None,
                span,
            });
        }
        Ok(WrittenAmount { number: value, unit, first_unit: unit, decimals: number.decimals, span })
    }

    /// `1.30 hours`: tells how long that is, where minutes may have been meant.
    fn tell_decimal_hours(&mut self, hours: &Exact, span: Span) {
        let whole = hours.floor();
        let hundredths = (hours - &whole) * int(100);
        let as_clock = [5, 10, 15, 20, 30, 35, 40, 45, 55].map(int);
        if !as_clock.contains(&hundredths) {
            return;
        }
        let whole = trimmed(&whole, 0);
        let minutes = trimmed(&(&hundredths * ratio(60, 100)), 1);
        let long = match whole.as_str() {
            "0" => format!("{minutes} min"),
            whole => format!("{whole} h {minutes} min"),
        };
        let clock = format!("{whole}h{:0>2}", trimmed(&hundredths, 0));
        let written = self.under(span);
        self.report(read_as::decimal_hours(span, written, &long, &clock));
    }

    /// `1 and a half cups`: what follows a whole number in words.
    fn part_behind(
        &mut self,
        number: DigitsRead,
        cursor: &mut Cursor,
        first: Span,
        wanted: ExpectedAmount,
    ) -> DigitsRead {
        let mut ahead = *cursor;
        let more = number.number.is_int().then(|| and_a_part(&mut ahead)).flatten();
        match more.filter(|_| unit_here(&ahead, wanted).is_some()) {
            Some(more) => {
                *cursor = ahead;
                let value = number.number + more;
                self.reword(cursor.since(first), figures(&value, Unit::Count).2);
                DigitsRead { number: value, decimals: None }
            }
            None => number,
        }
    }

    /// `1/4 de litre`, `3/4 of a cup`: a word between a part and its unit.
    fn of_a_unit(&mut self, number: &DigitsRead, cursor: &mut Cursor, wanted: ExpectedAmount) {
        let (first, mut ahead) = (cursor.after(), *cursor);
        let is_of = number.number < int(1) && OF.iter().any(|of| ahead.take(of));
        let _ = ["a", "an", "un", "une", "una"].iter().any(|article| ahead.take(article));
        let is_unit = || {
            unit_here(&ahead, wanted).is_some_and(|unit| {
                matches!(unit.dimension(), Dimension::Mass | Dimension::Volume | Dimension::Time)
            })
        };
        if is_of && ahead.word().is_some_and(|word| word.len() > 1) && is_unit() {
            self.reword(Span { end: ahead.here().start, ..first }, " ");
            *cursor = ahead;
        }
    }

    /// `50 dag`, `5 hg`, `325 cc`: a measure of which ours is a part or a multiple.
    fn other_measure(
        &mut self,
        number: &DigitsRead,
        cursor: &mut Cursor,
        first: Span,
        wanted: ExpectedAmount,
    ) -> Reading<Option<WrittenAmount>> {
        let Some((times, unit, behind)) = other_measure(cursor, wanted) else { return Ok(None) };
        let here = cursor.here();
        *cursor = behind;
        let span = cursor.since(first);
        if unit == Unit::Milliliter && cursor.under(here).len() < 3 && number.number < int(20) {
            return Err(unknown_unit::spoon_or_milliliter(span, cursor.under(span)).into());
        }
        let value = &number.number * int(times);
        self.reword(span, figures(&value, unit).2);
        let (unit, first_unit) = (Some(unit), Some(unit));
        Ok(Some(WrittenAmount { number: value, unit, first_unit, decimals: None, span }))
    }

    /// The number at the cursor: `12`, `0.25`, `1/3`, `1 1/2`, `1½`.
    pub fn number(&mut self, cursor: &mut Cursor) -> Reading<DigitsRead> {
        let first = cursor.here();
        let Some(token) = cursor.peek().filter(|token| token.kind == TokenKind::Number) else {
            return Err(missing_amount::no_number(first, cursor.under(first)).into());
        };
        let digits = cursor.slice(token);
        if let Some((above, below)) = digits.split_once('/')
            && let Some((whole, above)) = above.split_once('.')
        {
            return Err(
                malformed_number::point_and_stroke(first, digits, [whole, above, below]).into()
            );
        }
        cursor.advance();
        let mut number = self.digits(digits, first)?;
        if digits.starts_with('.') {
            self.reword(first, format!("0{digits}"));
        }
        if let Some(power) = self.power_of_ten(&number, cursor, first)? {
            return Ok(power);
        }
        if is_whole(digits) && is_mixed_with_dash(cursor) {
            // `1-1/2` is no range: what is below one does not follow a whole number.
            self.reword(cursor.here(), " ");
            cursor.advance();
            let part = cursor.here();
            let fraction = cursor.under(part);
            cursor.advance();
            number.number += self.digits(fraction, part)?.number;
            number.decimals = None;
        } else if is_whole(digits) && cursor.is_number() && !cursor.touches() {
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

    fn digits(&mut self, digits: &str, span: Span) -> Reading<DigitsRead> {
        match read_number(digits) {
            Ok(written) => Ok(DigitsRead { number: written.value, decimals: written.decimals }),
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
    fn comma_number(&mut self, digits: &str, span: Span) -> Reading<DigitsRead> {
        let Some(meant) = decimal_comma::meant(digits) else {
            return Err(decimal_comma::doubtful(span, digits).into());
        };
        match read_number(&meant) {
            Ok(written) => {
                self.report(decimal_comma::finding(span, digits, meant));
                Ok(DigitsRead { number: written.value, decimals: written.decimals })
            }
            Err(_) => Err(decimal_comma::doubtful(span, digits).into()),
        }
    }

    /// `1e3` is no way to write a number here, and `1e400` is none that can be read.
    fn power_of_ten(
        &mut self,
        number: &DigitsRead,
        cursor: &mut Cursor,
        first: Span,
    ) -> Reading<Option<DigitsRead>> {
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
        Ok(Some(DigitsRead { number: value, decimals: None }))
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
            Err(_) => Err(number_too_large::count(span, cursor.under(span)).into()),
        }
    }
}

/// A number and the digits written behind its point.
pub struct DigitsRead {
    /// In the unit that follows it.
    pub number: Exact,
    /// Digits after the point; none for a fraction.
    pub decimals: Option<u8>,
}

/// A power above this makes a longer number than can be written out.
const MAX_POWER: u32 = 17;

/// The quantity, if it is of the kind that is wanted.
fn settle(written: WrittenAmount, wanted: ExpectedAmount, cursor: &Cursor) -> Reading<Quantity> {
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
fn something(quantity: Quantity, wanted: ExpectedAmount, cursor: &Cursor) -> Reading<Quantity> {
    if quantity.number.is_zero() && !wanted.may_be_zero() {
        let span = quantity.span;
        return Err(amount_impossible::nothing(span, cursor.under(span)).into());
    }
    if seems_thousands(&quantity) {
        let span = quantity.span;
        return Err(decimal_comma::thousands(span, cursor.under(span)).into());
    }
    if quantity.number < Exact::ZERO && quantity.unit.dimension() == Dimension::Temperature {
        let degrees = quantity.unit.to_base(&quantity.number, Measures::default());
        if degrees < ratio(ABSOLUTE_ZERO, 100) {
            let span = quantity.span;
            return Err(amount_impossible::too_cold(span, cursor.under(span)).into());
        }
    }
    Ok(quantity)
}

/// `1.500 g`, `2.250 ml`: three decimals in steps of fifty, of a unit that no kitchen scale
/// parts further than into hundredths (common practice, no source).
fn seems_thousands(quantity: &Quantity) -> bool {
    let is_small = matches!(quantity.unit, Unit::Gram | Unit::Milliliter);
    let in_between = quantity.number >= int(1) && quantity.number < int(100);
    let is_round = (&quantity.number * int(20)).is_int();
    is_small && quantity.decimals == Some(3) && in_between && is_round
}

/// The coldest that anything can be, in hundredths of a degree Celsius; by definition of
/// the degree.
const ABSOLUTE_ZERO: i64 = -27_315;

/// How many of the smallest unit of its dimension a unit is.
fn worth(unit: Unit) -> Exact {
    unit.to_base(&int(1), Measures::default())
}

/// `300/350 g`: two amounts with a stroke between, where a fraction would stand. Fractions of
/// kitchens have one digit above the stroke, and shares may be any fraction.
fn seems_range(cursor: &Cursor, first: Span, wanted: ExpectedAmount) -> Option<Finding> {
    let span = cursor.since(first);
    let written = cursor.under(span);
    let (low, high) = written.split_once('/')?;
    let is_amount = |digits: &str| digits.len() > 1 && is_whole(digits);
    let is_share = unit_here(cursor, wanted) == Some(Unit::Percent);
    let is_range = wanted == ExpectedAmount::Line && is_amount(low) && is_amount(high) && !is_share;
    is_range.then(|| malformed_number::range_with_stroke(span, written, low, high))
}

fn is_whole(digits: &str) -> bool {
    digits.bytes().all(|byte| byte.is_ascii_digit())
}

fn is_fraction(digits: &str) -> bool {
    digits.contains(['/', '\u{2044}']) || (digits.chars().count() == 1 && !digits.is_ascii())
}

/// Which end of a range is left open.
#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    Low,
    High,
}

/// The place behind a smaller amount of something else: `or 7 g dried yeast`.
fn of_another<'a>(cursor: &Cursor<'a>, first: &WrittenAmount) -> Option<Cursor<'a>> {
    if !cursor.is_any(phrases!(["or", "ou", "oder", "o"])) {
        return None;
    }
    let number = cursor.further();
    let unit = past_number(&number)?;
    let own = first.unit?;
    let other = unit_here(&unit, ExpectedAmount::Line)?;
    let digits = number.under(unit.since(number.here()));
    let second = read_number(digits).ok()?.value;
    let is_smaller = second * worth(other) < &first.number * worth(own);
    let behind = unit.further();
    (is_smaller && behind.word().is_some()).then_some(behind)
}

/// A range with an open end.
fn open(low: Option<Quantity>, high: Option<Quantity>, span: Span) -> Extent {
    Extent { low, high, ranged: true, span }
}

/// Whether a word stands here for `..`: `3 to 4 h`, `between 3h and 4h`. Behind a
/// temperature with its unit, `to` is what the dough is brought to.
fn range_word(cursor: &Cursor, low: &WrittenAmount, wanted: ExpectedAmount, between: bool) -> bool {
    const TO: [&str; 10] = ["to", "or", "bis", "à", "a", "ad", "hasta", "ou", "oder", "o"];
    const AND: [&str; 5] = ["and", "et", "und", "e", "y"];
    let is_word = cursor.is_any(phrases!(TO)) || between && cursor.is_any(phrases!(AND));
    if !is_word {
        return false;
    }
    let ahead = cursor.further();
    let said = spoken_amount(&ahead, wanted).map(|(_, behind)| behind);
    let Some(behind) = said.or_else(|| past_number(&ahead)) else { return false };
    match (low.unit, unit_here(&behind, wanted)) {
        (None, None) => {
            matches!(wanted, ExpectedAmount::Line | ExpectedAmount::Count | ExpectedAmount::Stock)
        }
        (None, Some(_)) => true,
        (Some(low), Some(high)) => {
            let is_same = low.dimension() == high.dimension();
            is_same && (between || low.dimension() != Dimension::Temperature)
        }
        (Some(_), None) => false,
    }
}

/// A dash with a fraction right behind it: of `1-1/2`.
fn is_mixed_with_dash(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    let touches = cursor.touches() && behind.touches();
    let fraction = behind.under(behind.here());
    let is_proper = || {
        let (over, under) = fraction.split_once(['/', '\u{2044}'])?;
        Some(over.parse::<u32>().ok()? < under.parse::<u32>().ok()?)
    };
    cursor.is_dash() && behind.is_number() && touches && is_proper() == Some(true)
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
