//! One amount written twice, in two units: `250g/9oz`, `2 cups (240 g)`, `220C/425F`.

use super::cursor::Cursor;
use super::spoken::{begins_amount, begins_gas_mark, behind_about};
use super::{Reader, Reading};
use crate::quantity::display::{last_digit, trimmed};
use crate::quantity::{Dimension, Exact, Measures, Unit, int, pair, ratio};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::pair_disagrees;
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{Extent, Quantity};

/// Degrees Celsius by which a fan oven is set cooler: common practice, no source.
const FAN: (i64, i64) = (5, 30);

impl Reader<'_> {
    /// The second amount of a pair, compared with the first where both are of one kind;
    /// none where only one amount stands here.
    pub fn beside(
        &mut self,
        cursor: &mut Cursor,
        first: &Extent,
        wanted: ExpectedAmount,
    ) -> Reading<Option<Extent>> {
        let mut last = None;
        // What a percentage comes to, only the whole formula knows.
        let is_measured = |end: &Quantity| {
            use Dimension::{Mass, Temperature, Volume};
            matches!(end.unit.dimension(), Mass | Temperature | Volume)
        };
        if !first.low.as_ref().or(first.high.as_ref()).is_some_and(is_measured) {
            return Ok(None);
        }
        while let Some(mut ahead) = begins_second(cursor, wanted) {
            let in_brackets = cursor.is_sign("(");
            let fan = ahead.take("fan");
            let (mark, is_mark) = (self.rewordings.len(), begins_gas_mark(&ahead));
            let second = self.extent(&mut ahead, wanted)?;
            if is_mark {
                // Beside degrees, the mark is what its reader looks for.
                self.rewordings.truncate(mark);
            }
            let fan = (ahead
                .take_longest(phrases!(["fan forced", "fan-forced", "fan", "convection"]))
                .is_some()
                && {
                    ahead.take("oven");
                    true
                })
                || fan;
            if in_brackets && !ahead.is_sign(")") {
                break;
            }
            if in_brackets {
                ahead.advance();
            }
            *cursor = ahead;
            let span = cursor.since(first.span);
            if !is_mark || !within_a_mark(first, &second) {
                self.compare(first, &second, fan, span, cursor);
            }
            last = Some(second);
        }
        Ok(last)
    }

    /// `200C` behind `180C fan/`: what an oven without a fan is set to, compared with the fan's.
    pub fn without_fan(&mut self, cursor: &mut Cursor, fan: &Extent) -> Reading<()> {
        let still = self.extent(cursor, ExpectedAmount::Surroundings)?;
        let span = cursor.since(fan.span);
        self.compare(&still, fan, true, span, cursor);
        Ok(())
    }

    /// Says where two amounts of one kind are not the same.
    pub fn compare(
        &mut self,
        first: &Extent,
        second: &Extent,
        fan: bool,
        span: Span,
        cursor: &Cursor,
    ) {
        let is_within = || {
            let (Some(one), Some(low), Some(high)) = (&first.low, &second.low, &second.high) else {
                return false;
            };
            second.ranged
                && !first.ranged
                && one.unit.dimension() == Dimension::Temperature
                && base(low) <= base(one)
                && base(one) <= base(high)
        };
        if is_within() {
            return;
        }
        let ends = [(&first.low, &second.low), (&first.high, &second.high)];
        let apart = ends.into_iter().find_map(|(one, two)| {
            let (one, two) = (one.as_ref()?, two.as_ref()?);
            differ(one, two, fan).then_some((one.unit, two))
        });
        if let Some((unit, second)) = apart {
            let other = in_unit(second, unit);
            let finding = pair_disagrees::finding(
                span,
                cursor.under(span),
                cursor.under(second.span),
                &other,
            );
            self.report(finding);
        }
    }
}

/// Whether degrees and a mark of an oven are the same, within half of a mark and what is
/// rounded: common practice, no source.
fn within_a_mark(first: &Extent, mark: &Extent) -> bool {
    const APART: i64 = 15;
    let ends = [(&first.low, &mark.low), (&first.high, &mark.high)];
    ends.into_iter().all(|(one, two)| match (one, two) {
        (Some(one), Some(two)) => {
            let apart = base(one) - base(two);
            apart.clone().max(-apart) <= int(APART)
        }
        _ => true,
    })
}

/// The place of the second amount; none where no pair goes on here.
fn begins_second<'a>(cursor: &Cursor<'a>, wanted: ExpectedAmount) -> Option<Cursor<'a>> {
    if !cursor.is_sign("/") && !cursor.is_sign("(") {
        return None;
    }
    let ahead = cursor.further();
    let begins = |here: &Cursor| {
        begins_amount(here, wanted)
            || behind_about(here).is_some_and(|ahead| begins_amount(&ahead, wanted))
    };
    let is_warm = wanted.takes(Dimension::Temperature);
    let is_oven =
        is_warm && (begins_gas_mark(&ahead) || ahead.is("fan") && begins(&ahead.further()));
    (begins(&ahead) || is_oven).then_some(ahead)
}

/// Whether two amounts of one kind are further apart than a cook rounds.
fn differ(one: &Quantity, two: &Quantity, fan: bool) -> bool {
    if one.unit.dimension() != two.unit.dimension() {
        return false;
    }
    if one.unit.dimension() == Dimension::Temperature && fan {
        let cooler = base(one) - base(two);
        return cooler < int(FAN.0) || cooler > int(FAN.1);
    }
    !pair::agree(&told(one), &told(two))
}

/// An amount with the worth of its last digit; a fraction is told to a quarter.
fn told(quantity: &Quantity) -> pair::PairAmount {
    let digit = quantity.decimals.map_or(ratio(1, 4), last_digit);
    let unit = quantity.unit;
    let step = match unit.dimension() {
        Dimension::Temperature => digit,
        _ => unit.to_base(&digit, Measures::default()),
    };
    pair::PairAmount { value: base(quantity), step, unit }
}

fn base(quantity: &Quantity) -> Exact {
    quantity.unit.to_base(&quantity.number, Measures::default())
}

/// An amount as so many of another unit of its kind.
fn in_unit(quantity: &Quantity, unit: Unit) -> String {
    let number = match unit {
        Unit::Fahrenheit => base(quantity) * ratio(9, 5) + int(32),
        unit => unit.count_in(&base(quantity), Measures::default()),
    };
    let decimals = if number < int(20) { 1 } else { 0 };
    let gap = if unit.dimension() == Dimension::Temperature { "" } else { " " };
    format!("{}{gap}{}", trimmed(&number, decimals), unit.spelling())
}
