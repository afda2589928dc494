//! Claims of a formula, and the bounds of a style.

use super::cursor::Cursor;
use super::names::{is_number_of_name, name_of};
use super::said_for;
use super::seen_clauses::SeenClauses;
use super::spoken::says_between;
use super::statements::{Statement, Statements, opens_in_file};
use super::words::{OF_A_FORMULA, OF_A_STYLE, WrittenIn, figure};
use super::{Reader, Reading};
use crate::quantity::{Dimension, Unit};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    misplaced_statement, missing_amount, missing_name, missing_unit, unexpected_text,
    unknown_value, wrong_kind_of_amount,
};
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{Bound, Claim, ClaimValue, Extent, Mix, Name, Quantity, Style, Target};
use ecow::EcoString;

/// A figure or an ingredient, perhaps in one mix, and its amount.
struct Asked {
    what: Target,
    place: Option<Name>,
    range: Extent,
}

impl<'a> Reader<'a> {
    /// The claims in a block of them.
    pub fn expect(&mut self, statement: &Statement<'a>, outer: &mut Statements<'a>) -> Vec<Claim> {
        let end = self.end(&statement.after_word(), "its claims go in braces");
        self.done(end);
        let mut inner = self.open_needed(statement, "expect");
        let mut claims = Vec::new();
        let outside = |statement: &Statement, word: &str| {
            opens_in_file(statement, word)
                || (statement.has_block() && OF_A_FORMULA.contains(&word))
        };
        while let Some((statement, _)) = self.next_inside(&mut inner, outer, outside) {
            let read = self.claim(&statement, &mut claims);
            self.done(read);
            self.no_block(&statement);
        }
        self.close(&inner);
        claims
    }

    fn claim(&mut self, statement: &Statement<'a>, claims: &mut Vec<Claim>) -> Reading<()> {
        let mut cursor = statement.cursor;
        if cursor.at_end() {
            return Ok(());
        }
        if cursor.are("free", "from") {
            return self.free_from(&mut cursor, claims);
        }
        if (cursor.is("vegan") || cursor.is("vegetarian")) && cursor.further().at_end() {
            self.diet(&cursor, statement.span, claims);
            return Ok(());
        }
        let written = cursor.under(cursor.rest());
        if let Some(allergen) = said_for::absent(written) {
            let meant = format!("free from {allergen}");
            return Err(unknown_value::claim(statement.span, written, &meant).into());
        }
        if cursor.is("makes") && cursor.further().is_number() {
            let pieces = cursor.under(cursor.further().here());
            let finding = misplaced_statement::makes_among_claims(statement.span, written, pieces);
            return Err(finding.into());
        }
        if let Some(help) = said_for::in_claims(written) {
            return Err(unknown_value::no_claim(statement.span, written, help).into());
        }
        if let Some(diet) = said_for::diet(written) {
            return Err(unknown_value::claim(statement.span, written, diet).into());
        }
        loop {
            let first = cursor.here();
            let Asked { what, place, range } = self.asked(&mut cursor)?;
            let base = self.base(&mut cursor, &range)?;
            let tolerance = self.tolerance(&mut cursor, &range)?;
            let alone = cursor.at_end() && first.start == statement.cursor.here().start;
            let span = if alone { statement.span } else { cursor.since(first) };
            let value = ClaimValue::Amount { range, base, tolerance };
            claims.push(Claim { what, place, value, span });
            // `hydration 65%, salt 2%`
            let gap = cursor.after();
            let mut next = cursor;
            let joined = next.take_comma() | next.take("and");
            if !joined || next.word().is_none() || next.on_new_line() {
                break;
            }
            self.reword(Span { end: next.here().start, ..gap }, "; ");
            cursor = next;
        }
        self.end(&cursor, "the amount may be followed by `of …` and `± …`")
    }

    /// `free from gluten, milk`: a claim for each.
    fn free_from(&mut self, cursor: &mut Cursor, claims: &mut Vec<Claim>) -> Reading<()> {
        let words = cursor.here();
        cursor.advance();
        cursor.advance();
        self.needless_colon(cursor);
        let words = cursor.since(words);
        self.list(cursor, |reader, cursor| {
            let here = cursor.here();
            let Some(name) = reader.name(cursor, |_| false) else {
                return Err(missing_name::missing_name(here, "allergen").into());
            };
            let what = Name { key: "free from".into(), shown: "free from".into(), span: words };
            let span = name.span;
            claims.push(Claim {
                what: Target { name: what, role: None },
                place: None,
                value: ClaimValue::FreeFrom(name),
                span,
            });
            Ok(())
        })
    }

    /// `vegan`, `vegetarian`.
    fn diet(&mut self, cursor: &Cursor, span: Span, claims: &mut Vec<Claim>) {
        let key = EcoString::from(&*cursor.lower());
        let name = Name { key: key.clone(), shown: key, span: cursor.here() };
        claims.push(Claim {
            what: Target { name: name.clone(), role: None },
            place: None,
            value: ClaimValue::FreeFrom(name),
            span,
        });
    }

    /// `hydration in levain 100%`.
    fn asked(&mut self, cursor: &mut Cursor) -> Reading<Asked> {
        let (first, start) = (cursor.here(), *cursor);
        if cursor.is_number() {
            return self.amount_before_figure(cursor);
        }
        let ends = |here: &Cursor| here.is("in") || begins_bound(here);
        let Some(mut what) = self.target(cursor, ends)? else {
            let rest = cursor.rest();
            let help = "begin with the figure or the ingredient, such as `hydration 74%`";
            return Err(unexpected_text::left_over(rest, cursor.under(rest), help).into());
        };
        if !start.is_text() && what.role.is_none() && is_number_of_name(cursor) {
            // `Mehl 550 90%`
            cursor.advance();
            let span = cursor.since(first);
            what.name = name_of(start.under(span), span);
        }
        let place = self.place(cursor)?;
        self.needless_sign(cursor);
        if cursor.at_end() {
            let span = cursor.since(first);
            return Err(missing_amount::no_amount(span, start.under(span)).into());
        }
        let range = self.claimed(cursor)?;
        if what.role.is_none() {
            fits(figure(&what.name.key), &range, cursor)?;
        }
        Ok(Asked { what, place, range })
    }

    /// `65% hydration`, `2% salt`.
    fn amount_before_figure(&mut self, cursor: &mut Cursor) -> Reading<Asked> {
        let first = cursor.here();
        let rest = cursor.rest();
        let range = self.extent(cursor, ExpectedAmount::Claim)?;
        let amount = self.worded(range.span);
        cursor.take("of");
        let named = cursor.here();
        // `0 g free from milk`: what follows is a claim of its own, or no name.
        let is_none = cursor.is("free") || says_between(cursor);
        if is_none {
            let help = "begin with the figure or the ingredient, such as `hydration 74%`";
            return Err(unexpected_text::left_over(rest, cursor.under(rest), help).into());
        }
        let ends = |here: &Cursor| here.is("in") || here.is("and");
        let Some(what) = self.target(cursor, ends)? else {
            let help = "begin with the figure or the ingredient, such as `hydration 74%`";
            return Err(unexpected_text::left_over(rest, cursor.under(rest), help).into());
        };
        let place = self.place(cursor)?;
        let name = self.worded(cursor.since(named));
        if what.role.is_none() {
            fits(figure(&what.name.key), &range, cursor)?;
        }
        self.reword(cursor.since(first), format!("{name} {amount}"));
        Ok(Asked { what, place, range })
    }

    /// The amount of a claim: also `>= 65%`, `max 75%`.
    fn claimed(&mut self, cursor: &mut Cursor) -> Reading<Extent> {
        let (first, mut ahead) = (cursor.here(), *cursor);
        let Some(is_least) = takes_comparison(&mut ahead) else {
            return self.extent(cursor, ExpectedAmount::Claim);
        };
        *cursor = ahead;
        let gap = Span { end: cursor.here().start, ..first };
        let end = self.quantity(cursor, ExpectedAmount::Claim)?;
        self.reword(gap, if is_least { "" } else { ".." });
        let span = cursor.since(first);
        if is_least {
            self.reword(end.span.after(), "..");
            return Ok(Extent { low: Some(end), high: None, ranged: true, span });
        }
        Ok(Extent { low: None, high: Some(end), ranged: true, span })
    }

    /// `± 1%`, behind one value.
    fn tolerance(&mut self, cursor: &mut Cursor, range: &Extent) -> Reading<Option<Quantity>> {
        let sign = cursor.here();
        if !cursor.is_sign("±") {
            return Ok(None);
        }
        cursor.advance();
        let mut tolerance = self.quantity(cursor, ExpectedAmount::Claim)?;
        let Some(value) = &range.low else { return Ok(Some(tolerance)) };
        let same = tolerance.unit.dimension() == value.unit.dimension();
        if tolerance.unit == Unit::Count && !same {
            // `74% ± 1`: there is only one unit it can have.
            let span = tolerance.span;
            self.report(missing_unit::most_likely(span, cursor.under(span), value.unit));
            tolerance.unit = value.unit;
        } else if !same {
            let span = cursor.since(sign);
            return Err(wrong_kind_of_amount::other_tolerance(span, cursor.under(span)).into());
        }
        Ok(Some(tolerance))
    }

    /// A style; none where it has no name.
    pub fn style(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Style> {
        let name = self.head_name(statement, "style");
        let mut inner = self.open_filled(statement, "style");
        let (mut bounds, mut without, mut texts) = (Vec::new(), Vec::new(), Vec::new());
        let mut said = SeenClauses::default();
        while let Some((statement, word)) = self.next_inside(&mut inner, outer, opens_in_file) {
            let known = statement.cursor.one_of(OF_A_STYLE);
            if known.is_some() && self.words(&statement, &word, &mut texts) {
                continue;
            }
            if known == Some("without") {
                let mut mix = Mix::default();
                self.without(&statement, &mut mix.without);
                without.extend(mix.without.into_iter().map(|target| target.name));
            } else {
                let read = self.bound(&statement, &mut said, &mut bounds);
                self.done(read);
                self.no_block(&statement);
            }
        }
        self.close(&inner);
        Some(Style { name: name?, bounds, without, texts, span: statement.span })
    }

    fn bound(
        &mut self,
        statement: &Statement<'a>,
        said: &mut SeenClauses,
        bounds: &mut Vec<Bound>,
    ) -> Reading<()> {
        let mut cursor = statement.cursor;
        if cursor.at_end() {
            return Ok(());
        }
        let Asked { what, place, range } = self.asked(&mut cursor)?;
        self.end(&cursor, "a bound is a figure and a range, such as `hydration 65%..82%`")?;
        let identity = Name { key: identity_of(&what, &place), ..what.name.clone() };
        if self.first_value(said, &identity) {
            bounds.push(Bound { what, place, range, span: statement.span });
        }
        Ok(())
    }
}

/// Takes `>=`, `max` and their like before a number; says whether they are the least.
fn takes_comparison(cursor: &mut Cursor) -> Option<bool> {
    let is_least = if cursor.take_any(phrases!(["min", "minimum"])) {
        true
    } else if cursor.take_any(phrases!(["max", "maximum"])) {
        false
    } else {
        let is_least = match cursor.sign()? {
            ">" | "≥" => true,
            "<" | "≤" => false,
            _ => return None,
        };
        cursor.advance();
        if cursor.is_sign("=") {
            cursor.advance();
        }
        is_least
    };
    cursor.is_number().then_some(is_least)
}

/// Whether words stand here that say how close a claim is, before its number.
fn begins_bound(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    let bounds = phrases!([
        "about",
        "between",
        "from",
        "at least",
        "at most",
        "up to",
        "min",
        "max",
        "minimum",
        "maximum",
        "around",
        "approximately",
        "roughly",
    ]);
    ahead.take_longest(bounds).is_some() && ahead.is_number()
}

/// Whether a figure's value is written in what the figure is. Salt can be claimed by
/// weight too, and a dough yield in per cent of the flour.
fn fits(figure: WrittenIn, range: &Extent, cursor: &Cursor) -> Reading<()> {
    let wanted = match figure {
        WrittenIn::Share => ExpectedAmount::Share,
        WrittenIn::Time => ExpectedAmount::Time,
        WrittenIn::Mass => ExpectedAmount::Mass,
        WrittenIn::Temperature => ExpectedAmount::Temperature,
        WrittenIn::Number => ExpectedAmount::Count,
        WrittenIn::Other => return Ok(()),
    };
    let Some(end) = range.low.as_ref().or(range.high.as_ref()) else { return Ok(()) };
    let written = cursor.under(end.span);
    match (end.unit.dimension(), figure) {
        (dimension, _) if wanted.takes(dimension) => Ok(()),
        (Dimension::Count, _) => Err(missing_unit::finding(end.span, written, wanted).into()),
        (
            Dimension::Mass | Dimension::Volume | Dimension::Share,
            WrittenIn::Share | WrittenIn::Mass,
        )
        | (Dimension::Share | Dimension::Factor, WrittenIn::Number) => Ok(()),
        (dimension, _) => {
            Err(wrong_kind_of_amount::wrong_kind(end.span, written, dimension, wanted).into())
        }
    }
}

fn identity_of(what: &Target, place: &Option<Name>) -> EcoString {
    match (&what.role, place) {
        (None, None) => what.name.key.clone(),
        (role, place) => {
            let part = |name: Option<&Name>| name.map_or("", |name| &name.key).to_owned();
            let (role, place) = (part(role.as_deref()), part(place.as_ref()));
            format!("{} ({role}) in {place}", what.name.key).into()
        }
    }
}
