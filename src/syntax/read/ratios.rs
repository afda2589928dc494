//! A feed as bakers say it: `1:2:2 with bread flour` is starter, flour and water in parts.

use super::cursor::Cursor;
use super::names::name_of;
use super::spoken::feed_ratio;
use super::statements::Statement;
use super::{Reader, Reading};
use crate::quantity::{Exact, Unit};
use crate::source::Span;
use crate::syntax::findings::{incomplete_statement, read_as};
use crate::syntax::tree::{Amount, Counting, Extent, Line, Name, Quantity, Target};

/// The culture of a feed that names none.
const STARTER: &str = "white culture";

/// What a ratio stands in, and so what its numbers are of.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Fed {
    /// Starter, flour and water of a stage.
    Stage,
    /// The same of a culture, of which the starter is itself; or flour and water.
    Culture,
}

impl<'a> Reader<'a> {
    /// The lines of a ratio, where one stands at the cursor.
    pub fn ratio_lines(&mut self, cursor: &mut Cursor, fed: Fed) -> Reading<Option<Vec<Line>>> {
        let first = cursor.here();
        let Some(parts) = feed_ratio(cursor) else { return Ok(None) };
        cursor.advance();
        let written = cursor.since(first);
        let whole = |here: &Cursor| written.to(here.rest());
        let is_known = matches!((parts.len(), fed), (3, _) | (2, Fed::Culture));
        if !is_known {
            return Err(incomplete_statement::ratio(whole(cursor), cursor.under(written)).into());
        }
        let flour = match cursor.take("with") {
            true => self.name(cursor, |here| here.is("from") || here.is_reserved()),
            false => None,
        };
        // The usual one stands in, so that nothing seems empty for it.
        let flour = flour.unwrap_or_else(|| {
            self.fail(incomplete_statement::ratio_of(whole(cursor), cursor.under(written)));
            while !cursor.at_end() {
                cursor.advance();
            }
            name_of("bread flour", written)
        });
        let culture = match cursor.take("from") {
            true => self.name(cursor, |_| false),
            false => None,
        };
        let mut parts = parts.into_iter();
        let mut lines = Vec::new();
        if parts.len() == 3 {
            let starter = parts.next().unwrap_or_default();
            // What a culture is made of is not altered by feeding it with itself.
            if fed == Fed::Stage {
                let name = culture.unwrap_or_else(|| {
                    self.report(read_as::starter(written, cursor.under(written), STARTER));
                    name_of(STARTER, written)
                });
                lines.push(line_of(name, starter, written));
            }
        }
        let water = name_of("water", written);
        for (name, part) in [flour, water].into_iter().zip(parts) {
            lines.push(line_of(name, part, written));
        }
        Ok(Some(lines))
    }

    /// How we write the lines of a ratio.
    pub fn ratio_words(&self, lines: &[Line]) -> String {
        let words = lines.iter().map(|line| {
            let Amount::Measured { range, .. } = &line.amount else { return String::new() };
            let number = range.low.as_ref().map(|low| low.number.clone()).unwrap_or_default();
            let unit = if number == Exact::ONE { "part" } else { "parts" };
            let number = crate::quantity::display::trimmed(&number, 6);
            format!("{} {number} {unit}", line.target.name.shown)
        });
        words.collect::<Vec<_>>().join("; ")
    }

    /// A ratio in the head of a stage or a culture: `levain 1:2:2 with bread flour`. Writes
    /// its lines into the block, or makes one.
    pub fn head_ratio(
        &mut self,
        statement: &Statement<'a>,
        cursor: &mut Cursor,
        fed: Fed,
    ) -> Vec<Line> {
        let from = cursor.after();
        let read = self.ratio_lines(cursor, fed);
        let Some(lines) = self.done(read).flatten() else { return Vec::new() };
        let words = self.ratio_words(&lines);
        let whole = Span { end: statement.span.end, ..from };
        match statement.brace() {
            Some(brace) => self.reword(Span { end: brace + 1, ..from }, format!(" {{ {words};")),
            None => self.reword(whole, format!(" {{ {words} }}")),
        }
        lines
    }
}

/// The lines of a culture of bread flour with so much water, in per cent of the flour.
pub fn fed_with(water: u32, span: Span) -> Vec<Line> {
    let parts = [("bread flour", Exact::from(100_u32)), ("water", Exact::from(water))];
    parts.into_iter().map(|(name, part)| line_of(name_of(name, span), part, span)).collect()
}

fn line_of(name: Name, parts: Exact, span: Span) -> Line {
    let amount = Quantity { number: parts, unit: Unit::Part, decimals: None, span };
    let range = Extent { low: Some(amount.clone()), high: Some(amount), ranged: false, span };
    Line {
        target: Target { name, role: None },
        amount: Amount::Measured { range, base: None },
        amount_span: span,
        beside: None,
        counting: Counting::Counted,
        note: None,
        span,
    }
}
