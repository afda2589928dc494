//! What a formula makes, in a file or on the command line.

use super::cursor::Cursor;
use super::words::{Lower, OF_A_YIELD};
use super::{Reader, Reading};
use crate::quantity::{Dimension, Unit};
use crate::source::Span;
use crate::syntax::findings::{
    amount_impossible, missing_name, missing_unit, not_a_yield, said_twice,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{MadePiece, Makes, Name, Quantity, Target};
use crate::syntax::wanted::Wanted;

impl Reader<'_> {
    /// `24 loaves at 900 g, 12 rolls at 85 g`, `20 kg dough`, `from 400 g levain`.
    pub fn makes(&mut self, cursor: &mut Cursor, span: Span) -> Reading<Makes> {
        let mut makes = Makes { pieces: Vec::new(), dough: None, from: None, span };
        self.needless_sign(cursor);
        loop {
            let here = cursor.here();
            if cursor.take_from(OF_A_YIELD, "from") {
                let from = self.made_from(cursor)?;
                if makes.from.replace(from).is_some() {
                    return Err(said_twice::one_anchor(cursor.since(here)).into());
                }
            } else if begins_mass(cursor) {
                let dough = self.made_dough(cursor)?;
                if let Some(piece) = self.pieces_of_dough(cursor, here)? {
                    makes.pieces.push(piece);
                }
                if makes.dough.replace(dough).is_some() {
                    return Err(said_twice::one_anchor(cursor.since(here)).into());
                }
            } else {
                makes.pieces.push(self.made_piece(cursor)?);
            }
            if !cursor.is("from") && !cursor.take_comma() {
                break;
            }
        }
        // A weight for every piece sizes the dough, and so does what is said of the whole.
        let whole = makes.dough.as_ref().map(|dough| dough.span);
        let whole = whole.or(makes.from.as_ref().map(|(amount, _)| amount.span));
        let is_sized =
            |made: &MadePiece| made.counted && (made.weight.is_some() || made.tin.is_some());
        if let Some(whole) = whole
            && ((makes.dough.is_some() && makes.from.is_some())
                || (!makes.pieces.is_empty() && makes.pieces.iter().all(is_sized)))
        {
            return Err(said_twice::one_anchor(whole).into());
        }
        self.end(cursor, "write `24 loaves at 900 g`, `20 kg dough` or `from 12.5 kg flour`")?;
        Ok(makes)
    }

    /// `12.5 kg flour` behind `from`.
    fn made_from(&mut self, cursor: &mut Cursor) -> Reading<(Quantity, Target)> {
        let amount = self.quantity(cursor, Wanted::Stock)?;
        if amount.number.is_zero() {
            let written = cursor.under(amount.span);
            return Err(amount_impossible::makes_nothing(amount.span, written).into());
        }
        cursor.take("of");
        let here = cursor.here();
        match self.target(cursor, |_| false)? {
            Some(target) => Ok((amount, target)),
            None => Err(missing_name::missing_name(here, "`from`").into()),
        }
    }

    /// `at 14 oz` behind a weight of dough: as many pieces as it gives.
    fn pieces_of_dough(&mut self, cursor: &mut Cursor, first: Span) -> Reading<Option<MadePiece>> {
        let mut ahead = *cursor;
        let kind = self.name(&mut ahead, |here| here.is("at"));
        if !ahead.take("at") {
            return Ok(None);
        }
        *cursor = ahead;
        let weight = Some(self.weight_of_one(cursor)?);
        let baked = cursor.take("baked");
        let span = cursor.since(first);
        let pieces = Name { key: "pieces".into(), shown: "pieces".into(), span };
        let kind = kind.unwrap_or(pieces);
        Ok(Some(MadePiece {
            count: uncounted(span),
            counted: false,
            kind,
            weight,
            baked,
            tin: None,
            span,
        }))
    }

    /// `20 kg dough`, and `20 kg at 900 g`.
    fn made_dough(&mut self, cursor: &mut Cursor) -> Reading<Quantity> {
        let amount = self.quantity(cursor, Wanted::Mass)?;
        let written = cursor.under(amount.span);
        if amount.number.is_zero() {
            return Err(amount_impossible::makes_nothing(amount.span, written).into());
        }
        cursor.take("of");
        // `20 kg rolls at 80 g`: the kind is read with its weight.
        if cursor.take_from(OF_A_YIELD, "dough") || cursor.is("at") || begins_uncounted(cursor) {
            return Ok(amount);
        }
        if cursor.word().is_some() {
            let whole = amount.span.to(cursor.rest());
            return Err(not_a_yield::made_of(whole, cursor.under(whole), amount.span).into());
        }
        Err(not_a_yield::mass_of_what(amount.span, written).into())
    }

    fn weight_of_one(&mut self, cursor: &mut Cursor) -> Reading<Quantity> {
        let weight = self.quantity(cursor, Wanted::Mass)?;
        match weight.number.is_zero() {
            true => {
                let written = cursor.under(weight.span);
                Err(amount_impossible::makes_nothing(weight.span, written).into())
            }
            false => Ok(weight),
        }
    }

    /// `24 loaves at 900 g`, `40 loaves in chandler`.
    fn made_piece(&mut self, cursor: &mut Cursor) -> Reading<MadePiece> {
        let first = cursor.here();
        // `loaves at 900 g from 20 kg dough`.
        let counted = cursor.is_number() || !begins_uncounted(cursor);
        let count = match counted {
            false => uncounted(first),
            true => {
                let number = self.number(cursor)?;
                Quantity {
                    number: number.number,
                    unit: Unit::Count,
                    decimals: number.decimals,
                    span: cursor.since(first),
                }
            }
        };
        let here = cursor.here();
        let ends = |here: &Cursor| here.is("at") || here.is("in") || here.is("from");
        let Some(kind) = self.name(cursor, ends) else {
            return Err(match cursor.peek_kind() {
                Some(TokenKind::Unit) => {
                    let whole = count.span.to(here);
                    not_a_yield::wrong_kind_of_yield(whole, cursor.under(whole)).into()
                }
                _ => missing_unit::pieces(count.span, cursor.under(count.span)).into(),
            });
        };
        let is_whole = count.number.is_int() && !count.number.is_zero();
        if counted && !is_whole {
            let written = cursor.under(count.span);
            return Err(amount_impossible::no_such_count(count.span, written).into());
        }
        let mut piece =
            MadePiece { count, counted, kind, weight: None, baked: false, tin: None, span: first };
        loop {
            if piece.weight.is_none() && cursor.take_from(OF_A_YIELD, "at") {
                piece.weight = Some(self.weight_of_one(cursor)?);
            } else if !piece.baked
                && piece.weight.is_some()
                && cursor.take_from(OF_A_YIELD, "baked")
            {
                piece.baked = true;
            } else if piece.tin.is_none() && cursor.take_from(OF_A_YIELD, "in") {
                let here = cursor.here();
                let tin = self.name(cursor, |here| here.is("at") || here.is("from"));
                piece.tin = Some(tin.ok_or_else(|| missing_name::missing_name(here, "tin"))?);
            } else {
                break;
            }
        }
        piece.span = cursor.since(first);
        Ok(piece)
    }
}

/// The count of pieces of which there are as many as the dough gives.
fn uncounted(span: Span) -> Quantity {
    Quantity { number: crate::quantity::int(0), unit: Unit::Count, decimals: None, span }
}

/// Whether words stand here with `at` and a number behind them.
fn begins_uncounted(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    while ahead.word().is_some() && !ahead.is("at") {
        ahead.advance();
    }
    ahead.is("at") && ahead.further().is_number()
}

/// Whether a weight begins here: of a yield, a weight is tried first, any other word is a
/// kind of piece.
fn begins_mass(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    let mut seen = false;
    while ahead.is_number() {
        seen = true;
        ahead.advance();
    }
    let unit = match ahead.peek() {
        Some(token) if matches!(token.kind, TokenKind::Unit | TokenKind::Word) => {
            ahead.slice(token)
        }
        _ => return false,
    };
    // Words such as `loaves` need no closer look.
    let lower = Lower::of(unit);
    let is_short = lower.len() <= 3;
    let is_unit = ["gram", "kilo", "ounce", "pound"].iter().any(|word| lower.starts_with(word));
    let unit = if is_short || is_unit { Unit::likely(unit) } else { None };
    seen && unit.is_some_and(|unit| unit.dimension() == Dimension::Mass)
}
