//! Eggs by size: `huevos 2 L`, `2 L eggs`, where the letter is no litre and no
//! metre, but a weight of the egg market.

use super::cursor::Cursor;
use super::names::name_of;
use super::spoken::past_number;
use super::{Reader, Reading};
use crate::quantity::Unit;
use crate::source::Span;
use crate::syntax::tree::{Amount, Extent, Quantity, Target};

/// Eggs in five languages.
const EGGS: [&str; 11] =
    ["egg", "eggs", "ei", "eier", "œuf", "œufs", "oeuf", "oeufs", "huevo", "huevos", "uovo"];

/// Sizes of eggs, as boxes have them: Regulation (EC) 589/2008, article 4.
const SIZES: [&str; 4] = ["S", "M", "L", "XL"];

impl Reader<'_> {
    /// `2 L` behind `huevos`: the count, with the size as a part of the name.
    pub fn sized_count(
        &mut self,
        cursor: &mut Cursor,
        target: &mut Target,
    ) -> Reading<Option<Amount>> {
        let Some(behind) = past_number(cursor) else { return Ok(None) };
        let size = size_at(&behind).filter(|_| !behind.touches());
        let Some(size) = size.filter(|_| ends_line(&behind.further())) else { return Ok(None) };
        if target.role.is_some() || !is_egg(last_word(&target.name.key)) {
            return Ok(None);
        }
        let amount = self.egg_count(cursor)?;
        let count = self.worded(amount.1);
        cursor.advance();
        let name = format!("{} {size}", target.name.shown);
        let span = target.name.span;
        self.reword(cursor.since(span), format!("{name} {count}"));
        target.name = name_of(&name, span);
        Ok(Some(amount.0))
    }

    /// `2 L eggs` at the start of a line.
    pub fn sized_eggs(&mut self, cursor: &mut Cursor) -> Reading<Option<(Target, Amount, Span)>> {
        let Some(behind) = past_number(cursor) else { return Ok(None) };
        let size = size_at(&behind).filter(|_| !behind.touches());
        let name_at = behind.further();
        let named = name_at.word().filter(|word| is_egg(&word.to_lowercase()));
        let (Some(size), Some(egg)) = (size, named.filter(|_| ends_line(&name_at.further())))
        else {
            return Ok(None);
        };
        let first = cursor.here();
        let (amount, count) = self.egg_count(cursor)?;
        let words = self.worded(count);
        cursor.advance();
        let from = cursor.here();
        cursor.advance();
        let name = format!("{egg} {size}");
        let span = cursor.since(from);
        self.reword(cursor.since(first), format!("{name} {words}"));
        Ok(Some((Target { name: name_of(&name, span), role: None }, amount, count)))
    }

    fn egg_count(&mut self, cursor: &mut Cursor) -> Reading<(Amount, Span)> {
        let first = cursor.here();
        let read = self.number(cursor)?;
        let span = cursor.since(first);
        let count =
            Quantity { number: read.number, unit: Unit::Count, decimals: read.decimals, span };
        let range = Extent { low: Some(count.clone()), high: Some(count), ranged: false, span };
        Ok((Amount::Measured { range, base: None }, span))
    }
}

/// Whether a word in small letters means eggs.
pub fn is_egg(word: &str) -> bool {
    EGGS.contains(&word) || word == "uova"
}

/// The last word of a name.
pub fn last_word(name: &str) -> &str {
    name.rsplit(' ').next().unwrap_or_default()
}

/// The size that stands here, in capitals.
fn size_at(cursor: &Cursor) -> Option<&'static str> {
    if cursor.at_end() {
        return None;
    }
    let written = cursor.under(cursor.here());
    SIZES.into_iter().find(|size| *size == written)
}

fn ends_line(cursor: &Cursor) -> bool {
    cursor.at_end() || cursor.is_comma() || cursor.is_text() || cursor.is_sign("(")
}
