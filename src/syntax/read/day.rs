//! Production days: orders, what is on hand, and what holds for that day alone.

use super::cursor::Cursor;
use super::names::name_of;
use super::seen_clauses::SeenClauses;
use super::statements::{Statement, Statements, opens_in_file};
use super::words::OF_A_DAY;
use super::{Reader, Reading};
use crate::quantity::Unit;
use crate::source::unbroken;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    amount_impossible, incomplete_statement, malformed_hours, missing_name, missing_value,
    range_reversed, unexpected_text,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{
    Cancelled, Date, Day, DayTime, Name, OnHand, Order, Ordered, Quantity, Text, Wish,
};
use ecow::EcoString;

impl<'a> Reader<'a> {
    /// A day; none where it has no name.
    pub fn day(&mut self, statement: &Statement<'a>, outer: &mut Statements<'a>) -> Option<Day> {
        let broken_before = std::mem::take(&mut self.broken);
        let (name, title, from) = self.day_head(statement);
        let mut inner = self.open(statement);
        let mut day = Day {
            name: name.clone().unwrap_or_default(),
            title,
            from,
            orders: Vec::new(),
            without: Vec::new(),
            on_hand: Vec::new(),
            hours: Vec::new(),
            temperatures: Vec::new(),
            aim: None,
            texts: Vec::new(),
            span: statement.span,
            broken: false,
        };
        let mut said = SeenClauses::default();
        while let Some((statement, _)) = self.next_inside(&mut inner, outer, opens_in_file) {
            self.day_statement(&statement, &mut day, &mut said);
        }
        self.close(&inner);
        day.broken = self.broken;
        self.broken |= broken_before;
        name.map(|_| day)
    }

    /// The name of a day, its title and the day that it is made from.
    fn day_head(
        &mut self,
        statement: &Statement<'a>,
    ) -> (Option<Name>, Option<Text>, Option<Name>) {
        let mut cursor = statement.after_word();
        let name = self.day_name(&mut cursor);
        if name.is_none() {
            self.fail(missing_name::missing_name(cursor.here(), "day"));
        }
        let title = cursor.is_text().then(|| self.text(&mut cursor));
        let mut from = None;
        if cursor.take("from") {
            from = self.day_name(&mut cursor);
            if from.is_none() {
                self.fail(missing_name::missing_name(cursor.here(), "day"));
            }
        }
        let end =
            self.end(&cursor, "a head is a name or a date, a title in quotes and perhaps `from`");
        self.done(end);
        (name, title.filter(Text::says_something), from)
    }

    /// `2026-12-05`, `saturday`, `market-day`.
    fn day_name(&mut self, cursor: &mut Cursor) -> Option<Name> {
        if cursor.peek_kind() == Some(TokenKind::Date) {
            let span = cursor.here();
            cursor.advance();
            let written = cursor.under(span);
            if Date::read(written).is_none() {
                self.fail(malformed_hours::no_date(span, written));
            }
            return Some(name_of(written, span));
        }
        self.identifier(cursor, "day")
    }

    fn day_statement(&mut self, statement: &Statement<'a>, day: &mut Day, said: &mut SeenClauses) {
        let mut cursor = statement.cursor;
        let Some(word) = cursor.take_one_of(OF_A_DAY) else {
            return self.unknown_word(statement, "day", OF_A_DAY);
        };
        let span = statement.span;
        match word {
            "note" | "caution" => {
                self.words(statement, word, &mut day.texts);
                return;
            }
            "order" => {
                let read = self.order(&mut cursor, statement);
                day.orders.extend(self.done(read));
            }
            "without" => {
                let read = self.cancelled(&mut cursor);
                day.without.extend(self.done(read));
            }
            "on hand" => {
                let read = self.on_hand(&mut cursor, statement);
                day.on_hand.extend(self.done(read));
            }
            word => {
                if self.first_time(said, word, span) {
                    let read = self.day_setting(&mut cursor, word, day);
                    self.done(read);
                }
            }
        }
        self.no_block(statement);
    }

    fn day_setting(
        &mut self,
        cursor: &mut Cursor,
        word: &'static str,
        day: &mut Day,
    ) -> Reading<()> {
        match word {
            "hours" => day.hours = self.opening_hours(cursor)?,
            "aim" => day.aim = Some(self.aim(cursor)?),
            _ => {
                self.needless_temperature(cursor);
                let temperature = self.quantity(cursor, ExpectedAmount::Temperature)?;
                day.temperatures.push((word.into(), temperature));
            }
        }
        self.end(cursor, "")
    }

    /// `harbour-rolls for "Harbour Hotel" 400 rolls by 06:30, 300 rolls by 12:00`.
    fn order(&mut self, cursor: &mut Cursor, statement: &Statement<'a>) -> Reading<Order> {
        let span = statement.span;
        let here = cursor.here();
        let product = self.name(cursor, |here| here.is("for"));
        let product = product.ok_or_else(|| missing_name::missing_name(here, "order"))?;
        let customer = self.customer(cursor)?;
        if cursor.at_end() {
            return Err(incomplete_statement::order_amount(span, self.under(span)).into());
        }
        let mut wishes = Vec::new();
        self.list(cursor, |reader, cursor| {
            wishes.push(reader.wish(cursor)?);
            Ok(())
        })?;
        Ok(Order { product, customer, wishes, span })
    }

    /// `for "Harbour Hotel"`, where it stands.
    fn customer(&mut self, cursor: &mut Cursor) -> Reading<Option<EcoString>> {
        if !cursor.take("for") {
            return Ok(None);
        }
        if !cursor.is_text() {
            let rest = cursor.rest();
            return Err(missing_value::missing_text(rest, "for", cursor.under(rest)).into());
        }
        Ok(Some(unbroken(&self.plain_text(cursor)).into()))
    }

    /// `400 rolls by 06:30 after 05:00`.
    fn wish(&mut self, cursor: &mut Cursor) -> Reading<Wish> {
        let first = cursor.here();
        let amount = self.ordered(cursor, |here| here.is("by") || here.is("after"))?;
        let (mut by, mut after) = (None, None);
        loop {
            if by.is_none() && cursor.take("by") {
                by = Some(self.time_of_that_day(cursor)?);
            } else if after.is_none() && cursor.take("after") {
                after = Some(self.time_of_that_day(cursor)?);
            } else {
                break;
            }
        }
        let span = cursor.since(first);
        let by = by.ok_or_else(|| incomplete_statement::order_by(span, cursor.under(span)))?;
        if let Some(after) = after.filter(|after| after.of_day() > by.of_day()) {
            return Err(range_reversed::after_by(
                span,
                cursor.under(after.span),
                cursor.under(by.span),
            )
            .into());
        }
        Ok(Wish { amount, by, after, span })
    }

    /// `60 loaves`, `20 kg dough`, `2 kg`.
    pub fn ordered(
        &mut self,
        cursor: &mut Cursor,
        ends: impl Fn(&Cursor) -> bool,
    ) -> Reading<Ordered> {
        let first = cursor.here();
        if !cursor.is_number() {
            let rest = cursor.rest();
            return Err(incomplete_statement::order_amount(rest, cursor.under(rest)).into());
        }
        let quantity = self.quantity(cursor, ExpectedAmount::Stock)?;
        if quantity.unit != Unit::Count {
            cursor.take("dough");
            return Ok(Ordered::Weight(quantity));
        }
        let Some(kind) = self.name(cursor, ends) else {
            let written = cursor.under(cursor.since(first));
            return Err(crate::syntax::findings::missing_unit::pieces(&quantity, written).into());
        };
        whole(&quantity, cursor.under(cursor.since(first)))?;
        Ok(Ordered::Pieces(quantity, kind))
    }

    /// `07:00`, `22:00 the day before`.
    pub fn time_of_that_day(&mut self, cursor: &mut Cursor) -> Reading<DayTime> {
        let first = cursor.here();
        let minutes = self.time_of_day(cursor)?;
        let mut ahead = *cursor;
        let day_before = ["the", "day", "before"].iter().all(|word| ahead.take(word));
        if day_before {
            *cursor = ahead;
        }
        Ok(DayTime { minutes, day_before, span: cursor.since(first) })
    }

    /// `harbour-rolls for "Harbour Hotel"` behind `without`.
    fn cancelled(&mut self, cursor: &mut Cursor) -> Reading<Cancelled> {
        let here = cursor.here();
        let product = self.name(cursor, |here| here.is("for"));
        let product = product.ok_or_else(|| missing_name::missing_name(here, "`without`"))?;
        let customer = self.customer(cursor)?;
        self.end(
            cursor,
            "write `without harbour-rolls`, or `without harbour-rolls for \"Harbour Hotel\"`",
        )?;
        Ok(Cancelled { product, customer })
    }

    /// `gullhaven-sour 12 loaves frozen 2h`, `house levain 2 kg ripe at 22:00 the day before`.
    fn on_hand(&mut self, cursor: &mut Cursor, statement: &Statement<'a>) -> Reading<OnHand> {
        let span = statement.span;
        let missing = || incomplete_statement::on_hand(span, cursor_text(statement));
        let name = self.name(cursor, |_| false).ok_or_else(missing)?;
        if !cursor.is_number() {
            return Err(missing().into());
        }
        let ends = |here: &Cursor| here.is("ripe") || here.is("frozen") || here.is("of");
        let amount = self.ordered(cursor, ends)?;
        let (mut ripe, mut frozen, mut of) = (None, None, None);
        loop {
            if ripe.is_none() && cursor.is("ripe") {
                cursor.advance();
                if !cursor.take("at") {
                    return Err(missing_value::missing_value(cursor.here(), "ripe at").into());
                }
                ripe = Some(self.time_of_that_day(cursor)?);
            } else if frozen.is_none() && cursor.is("frozen") {
                cursor.advance();
                frozen = Some(self.quantity(cursor, ExpectedAmount::Time)?);
            } else if of.is_none() && cursor.take("of") {
                let here = cursor.here();
                let name = self.name(cursor, |here| here.is("ripe") || here.is("frozen"));
                of = Some(name.ok_or_else(|| missing_name::missing_name(here, "`of`"))?);
            } else {
                break;
            }
        }
        if !cursor.at_end() {
            let rest = cursor.rest();
            let help = "after the amount stand `ripe at 22:00 the day before`, `frozen 2h` or `of FORMULA`";
            return Err(unexpected_text::left_over(rest, cursor.under(rest), help).into());
        }
        Ok(OnHand { name, amount, ripe, frozen, of, span })
    }
}

fn cursor_text<'a>(statement: &Statement<'a>) -> &'a str {
    statement.cursor.under(statement.span)
}

/// Pieces are counted in whole numbers, and none are not ordered.
fn whole(count: &Quantity, written: &str) -> Reading<()> {
    match !count.number.is_int() || count.number.is_zero() {
        true => Err(amount_impossible::no_such_count(count, written).into()),
        false => Ok(()),
    }
}
