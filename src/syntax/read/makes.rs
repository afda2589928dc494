//! What a formula makes, in a file or on the command line.

use super::amounts::DigitsRead;
use super::cursor::Cursor;
use super::formula::PEOPLE;
use super::names::name_of;
use super::spoken::{DOZENS, behind_about, spoken, unit_here};
use super::words::{Lower, OF, OF_A_YIELD};
use super::{Reader, Reading};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Unit, int, ratio};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    amount_impossible, missing_name, missing_unit, not_a_yield, said_twice,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{Factor, MadePiece, Makes, Name, Quantity, Target};

impl Reader<'_> {
    /// `24 loaves at 900 g, 12 rolls at 85 g`, `20 kg dough`, `from 400 g levain`.
    pub fn makes(&mut self, cursor: &mut Cursor, span: Span) -> Reading<Makes> {
        let mut makes = Makes { pieces: Vec::new(), dough: None, from: None, factor: None, span };
        self.needless_sign(cursor);
        let first = cursor.here();
        if cursor.are("enough", "for") {
            cursor.advance();
            cursor.advance();
            self.reword(Span { end: cursor.here().start, ..first }, "");
        }
        loop {
            let here = cursor.here();
            if let Some(behind) = behind_about(cursor)
                && begins_mass(&behind)
            {
                // `about 900 g`
                self.reword(Span { end: behind.here().start, ..here }, "");
                *cursor = behind;
            }
            let here = cursor.here();
            if cursor.take_from(OF_A_YIELD, "from") {
                let from = self.made_from(cursor)?;
                if makes.from.replace(from).is_some() {
                    return Err(said_twice::one_anchor(cursor.since(here)).into());
                }
            } else if begins_count_of_weights(cursor) {
                makes.pieces.push(self.made_piece(cursor)?);
            } else if let Some(tin) = self.tin_by_weight(cursor)? {
                makes.pieces.push(tin);
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
            if joins_pieces(cursor) {
                // `1 loaf and 6 rolls`
                let gap = Span { end: cursor.further().here().start, ..cursor.after() };
                self.reword(gap, ", ");
                cursor.advance();
                continue;
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
        let amount = self.quantity(cursor, ExpectedAmount::Stock)?;
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
        let amount = self.quantity(cursor, ExpectedAmount::Mass)?;
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
        let weight = self.quantity(cursor, ExpectedAmount::Mass)?;
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
        let counted = begins_counted(cursor) || !begins_uncounted(cursor);
        let count = match counted {
            false => uncounted(first),
            true => {
                self.refuse_minus(cursor)?;
                let number = self.piece_count(cursor)?;
                self.refuse_range(cursor, first)?;
                Quantity {
                    number: number.number,
                    unit: Unit::Count,
                    decimals: number.decimals,
                    span: cursor.since(first),
                }
            }
        };
        // `2 x 500 g loaves`, `one 900 g loaf`: each of them weighs so much.
        let weight_first = match counted && begins_mass(cursor) {
            true => Some(self.weight_of_one(cursor)?),
            false => None,
        };
        let here = cursor.here();
        let about = |here: &Cursor| behind_about(here).is_some_and(|behind| begins_mass(&behind));
        let ends = |here: &Cursor| {
            here.is("at")
                || about(here)
                || here.is("in")
                || here.is("from")
                || here.is("each")
                || here.is("weighing")
                || here.is("of") && (here.further().is_number() || about(&here.further()))
                || is_before_weight(here)
                || joins_pieces(here)
        };
        // `2 dozen at 70 g`
        let nameless = counted
            && cursor.is("at")
            && cursor.under(count.span).contains(|sign: char| sign.is_alphabetic());
        let kind = match nameless {
            true => {
                self.reword(cursor.after(), " pieces");
                Some(name_of("pieces", cursor.after()))
            }
            false => self.name(cursor, ends),
        };
        let Some(kind) = kind else {
            return Err(match cursor.peek_kind() {
                Some(TokenKind::Unit) => {
                    let whole = count.span.to(here);
                    not_a_yield::wrong_kind_of_yield(whole, cursor.under(whole)).into()
                }
                _ => missing_unit::pieces(&count, cursor.under(count.span)).into(),
            });
        };
        if counted && (!count.number.is_int() || count.number.is_zero()) {
            let written = cursor.under(count.span.to(kind.span));
            return Err(amount_impossible::no_such_count(&count, written).into());
        }
        let mut piece =
            MadePiece { count, counted, kind, weight: None, baked: false, tin: None, span: first };
        if let Some(weight) = weight_first {
            let words = self.worded(weight.span);
            let gap = Span { end: piece.kind.span.start, ..weight.span };
            self.reword(gap, "");
            self.reword(cursor.after(), format!(" at {words}"));
            piece.weight = Some(weight);
        }
        loop {
            if piece.weight.is_none() && cursor.is_sign("(") && begins_mass(&cursor.further()) {
                piece.weight = Some(self.weight_in_brackets(cursor)?);
            } else if piece.weight.is_none() && self.takes_at(cursor) {
                piece.weight = Some(self.weight_of_one(cursor)?);
                self.each(cursor);
            } else if !piece.baked
                && piece.weight.is_some()
                && cursor.take_from(OF_A_YIELD, "baked")
            {
                piece.baked = true;
            } else if piece.weight.is_none() && self.takes_tin_of_weight(cursor) {
                piece.weight = Some(self.weight_of_one(cursor)?);
                let gap = cursor.after();
                let _ = cursor.take_any(phrases!(["loaf"]));
                let _ = cursor.take_any(phrases!(["tin", "tins", "pan", "pans"]));
                self.reword(cursor.since(gap), "");
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

impl Reader<'_> {
    /// `2x`, `half`, `double`, `for 3 people`: as much of what a formula makes.
    pub fn factor(&mut self, cursor: &mut Cursor) -> Option<Factor> {
        let mut ahead = *cursor;
        let is_for = ahead.take("for");
        let number = match spoken(&ahead) {
            Some((number, behind)) => {
                ahead = behind;
                number
            }
            None if ahead.is_number() => self.number(&mut ahead).ok()?.number,
            None => {
                let words = [
                    ("double", 2),
                    ("twice", 2),
                    ("triple", 3),
                    ("quadruple", 4),
                    ("doppelt", 2),
                    ("doble", 2),
                    ("doppio", 2),
                    ("dreifach", 3),
                    ("x2", 2),
                    ("x3", 3),
                    ("x4", 4),
                    ("x5", 5),
                ];
                let (_, times) = words.into_iter().find(|(word, _)| ahead.take(word))?;
                return ends_factor(&ahead).then(|| Factor::Times(int(times)));
            }
        };
        if ahead.take_any(phrases!(PEOPLE)) && ahead.at_end() {
            return Some(Factor::People(number));
        }
        let is_share = ahead.is_sign("%") || unit_here(&ahead, ExpectedAmount::Share).is_some();
        if is_share && !is_for && ahead.further().at_end() {
            return Some(Factor::Times(number * ratio(1, 100)));
        }
        // `half`, `1/2`
        let is_part = number < Exact::ONE && (!cursor.is_number() || ahead.at_end());
        let is_times =
            is_times_unit(&ahead) || ahead.is_any(phrases!(["x", "times"])) || ahead.is_sign("×");
        if is_times {
            ahead.advance();
        }
        ((is_times || is_part) && !is_for && ends_factor(&ahead)).then_some(Factor::Times(number))
    }

    /// `2 lb tin`: a loaf in a tin that is called by the weight of its dough.
    fn tin_by_weight(&mut self, cursor: &mut Cursor) -> Reading<Option<MadePiece>> {
        let (first, mut ahead) = (cursor.here(), *cursor);
        while ahead.is_number() {
            ahead.advance();
        }
        ahead.advance();
        let is_loaf_tin = ahead.are("loaf", "tin");
        if is_loaf_tin {
            ahead.advance();
        }
        let is_tin = begins_mass(cursor)
            && ahead.is_any(phrases!(["tin", "loaf"]))
            && !ahead.further().is("at");
        if !is_tin {
            return Ok(None);
        }
        let weight = self.weight_of_one(cursor)?;
        if is_loaf_tin {
            cursor.advance();
        }
        let kind_at = cursor.here();
        let kind = name_of(cursor.under(kind_at), kind_at);
        cursor.advance();
        if kind.key == "tin" {
            cursor.take("loaf");
        }
        let span = cursor.since(first);
        self.reword(span, format!("1 {} at {}", kind.shown, self.worded(weight.span)));
        let count = Quantity { number: int(1), unit: Unit::Count, decimals: None, span };
        let (counted, baked, tin) = (true, false, None);
        Ok(Some(MadePiece { count, counted, kind, weight: Some(weight), baked, tin, span }))
    }

    /// `(420 g each)` behind the kind of piece.
    fn weight_in_brackets(&mut self, cursor: &mut Cursor) -> Reading<Quantity> {
        let gap = cursor.after();
        cursor.advance();
        let weight = self.weight_of_one(cursor)?;
        cursor.take("each");
        if cursor.is_sign(")") {
            cursor.advance();
        }
        let text = format!(" at {}", self.worded(weight.span));
        self.reword(cursor.since(gap), text);
        Ok(weight)
    }

    /// How many pieces: `24`, `two`, `2 x`, `about 24`.
    fn piece_count(&mut self, cursor: &mut Cursor) -> Reading<DigitsRead> {
        let first = cursor.here();
        if let Some(behind) = behind_about(cursor).filter(Cursor::is_number) {
            self.reword(Span { end: behind.here().start, ..first }, "");
            *cursor = behind;
        }
        let first = cursor.here();
        let number = match spoken(cursor).filter(|_| !cursor.is_number()) {
            Some((number, behind)) => {
                *cursor = behind;
                self.reword(cursor.since(first), trimmed(&number, 4));
                DigitsRead { number, decimals: None }
            }
            None => self.number(cursor)?,
        };
        let number = match past_many(cursor) {
            Some((many, behind)) => {
                *cursor = behind;
                let number = number.number * int(many);
                self.reword(cursor.since(first), trimmed(&number, 4));
                DigitsRead { number, decimals: None }
            }
            None => number,
        };
        // `una docena de panes`, `a couple of loaves`
        let gap = cursor.after();
        if OF.iter().any(|of| cursor.is(of)) && cursor.further().word().is_some() {
            cursor.advance();
            self.reword(Span { end: cursor.here().start, ..gap }, " ");
        }
        let times = cursor.after();
        if (cursor.is("x") || cursor.is_sign("×") || is_times_unit(cursor))
            && cursor.further().is_number()
        {
            cursor.advance();
            self.reword(Span { end: cursor.here().start, ..times }, " ");
        }
        Ok(number)
    }

    /// `at`, or what people say for it before the weight of one: `of`, `weighing`, nothing.
    fn takes_at(&mut self, cursor: &mut Cursor) -> bool {
        if cursor.take_from(OF_A_YIELD, "at") {
            return true;
        }
        let (gap, mut ahead) = (cursor.after(), *cursor);
        if is_before_weight(&ahead) {
            ahead.advance();
        } else {
            let _ = ahead.take_any(phrases!(["of", "weighing", "each"]));
        }
        if !begins_mass(&behind_about(&ahead).unwrap_or(ahead)) {
            return false;
        }
        self.reword(Span { end: ahead.here().start, ..gap }, " at ");
        *cursor = ahead;
        true
    }

    /// `in a` before `2 lb tin`, a tin that is called by the weight of its dough.
    fn takes_tin_of_weight(&mut self, cursor: &mut Cursor) -> bool {
        let (gap, mut ahead) = (cursor.after(), *cursor);
        if !ahead.take("in") {
            return false;
        }
        let _ = ahead.take_any(phrases!(["a", "an", "one"]));
        let mut behind = ahead;
        while behind.is_number() {
            behind.advance();
        }
        behind.advance();
        behind.take("loaf");
        if !begins_mass(&ahead) || !behind.is_any(phrases!(["tin", "tins", "pan", "pans"])) {
            return false;
        }
        self.reword(Span { end: ahead.here().start, ..gap }, " at ");
        *cursor = ahead;
        true
    }

    /// `at 500 g each`
    fn each(&mut self, cursor: &mut Cursor) {
        let gap = cursor.after();
        if cursor.take("each") {
            self.reword(cursor.since(gap), "");
        }
    }
}

/// Whether nothing follows but `the recipe` and its like.
fn ends_factor(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    let _ = ahead.take_any(phrases!(["the", "a", "of"]));
    ahead.take("the");
    let _ = ahead.take_any(phrases!(["recipe", "formula", "batch", "amount", "it", "quantity"]));
    ahead.at_end()
}

/// Whether a word stands here that says of one piece what it weighs: `à 900 g`, `zu 80 g`, `de
/// unos 70 g`.
fn is_before_weight(cursor: &Cursor) -> bool {
    const WORDS: [&str; 11] =
        ["de", "d'", "à", "zu", "di", "da", "a", "von", "je", "von je", "con"];
    let behind = cursor.further();
    WORDS.iter().any(|word| cursor.is(word))
        && begins_mass(&behind_about(&behind).unwrap_or(behind))
}

/// Whether a word stands here that joins two kinds of pieces: `1 loaf and 6 rolls`.
fn joins_pieces(cursor: &Cursor) -> bool {
    const JOINTS: [&str; 5] = ["and", "und", "et", "y", "e"];
    let joins = cursor.is_sign("&") || cursor.is_sign("+") || JOINTS.iter().any(|it| cursor.is(it));
    let behind = cursor.further();
    joins && behind.is_number() && behind.further().word().is_some()
}

/// A dozen, a couple: how many each of them is, and the place behind it.
fn past_many<'a>(cursor: &Cursor<'a>) -> Option<(i64, Cursor<'a>)> {
    let mut ahead = *cursor;
    if DOZENS.iter().any(|dozen| ahead.take(dozen)) {
        return Some((12, ahead));
    }
    let pair = ["couple", "pair"].iter().any(|pair| ahead.take(pair)) && ahead.is("of");
    pair.then_some((2, ahead))
}

/// Whether a count stands here and a weight of one behind it: `1 2lb loaf`, `2 900g loaves`.
fn begins_count_of_weights(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    let written = behind.under(behind.here());
    let is_whole = |text: &str| !text.is_empty() && text.bytes().all(|it| it.is_ascii_digit());
    cursor.is_number()
        && is_whole(cursor.under(cursor.here()))
        && behind.is_number()
        && !behind.touches()
        && !written.contains(['/', '\u{2044}'])
        && written.is_ascii()
        && begins_mass(&behind)
        && behind.further().further().word().is_some()
}

/// `x` that touches the count: `2x 500 g loaves`.
fn is_times_unit(cursor: &Cursor) -> bool {
    cursor.peek_kind() == Some(TokenKind::Unit) && matches!(cursor.under(cursor.here()), "x" | "X")
}

/// The count of pieces of which there are as many as the dough gives.
fn uncounted(span: Span) -> Quantity {
    Quantity { number: int(0), unit: Unit::Count, decimals: None, span }
}

/// Whether a count stands here, in digits or as it is said.
fn begins_counted(cursor: &Cursor) -> bool {
    cursor.is_number()
        || spoken(cursor).is_some_and(|(_, behind)| behind.word().is_some() || behind.is_number())
        || behind_about(cursor).is_some_and(|behind| behind.is_number())
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
