//! Amounts in the language's own plainest form, which are nearly all of them: digits with their
//! unit, and nothing behind them that could belong to it. They are read without asking what
//! else they may be; what is written otherwise goes the long way, and both ways read the same.

use super::cursor::Cursor;
use crate::quantity::{Dimension, Exact, Unit, int, ratio};
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{Extent, Quantity};

/// Units as `fmt` writes them.
const UNITS: [(&str, Unit); 7] = [
    ("%", Unit::Percent),
    ("g", Unit::Gram),
    ("kg", Unit::Kilogram),
    ("min", Unit::Minute),
    ("h", Unit::Hour),
    ("C", Unit::Celsius),
    ("ml", Unit::Milliliter),
];

/// Words that begin another clause and are no part of an amount.
const CLAUSES: [&str; 11] = [
    "with",
    "in",
    "fold",
    "until",
    "covered",
    "uncovered",
    "steamed",
    "vented",
    "note",
    "speed",
    "then",
];

/// A quantity, or a range whose ends both have their unit, and the place after it.
pub fn plain_extent<'a>(
    cursor: &Cursor<'a>,
    wanted: ExpectedAmount,
) -> Option<(Extent, Cursor<'a>)> {
    if is_off() {
        return None;
    }
    let first = cursor.here();
    let (low, behind) = plain_quantity(cursor, wanted)?;
    if behind.peek_kind() == Some(TokenKind::Range) {
        let (high, end) = plain_quantity(&behind.further(), wanted)?;
        if !behind.touches() || !behind.further().touches() {
            return None;
        }
        let is_in_order = low.unit == high.unit && low.number < high.number;
        if !is_in_order || !ends_here(&end) {
            return None;
        }
        let span = end.since(first);
        return Some((Extent { low: Some(low), high: Some(high), ranged: true, span }, end));
    }
    if !ends_here(&behind) {
        return None;
    }
    let span = low.span;
    Some((Extent { low: Some(low.clone()), high: Some(low), ranged: false, span }, behind))
}

/// Whether an amount ends here: with its statement, or before another clause.
fn ends_here(cursor: &Cursor) -> bool {
    let Some(token) = cursor.peek() else { return true };
    let is_word = token.kind == TokenKind::Word && !cursor.touches() && !cursor.on_new_line();
    if !is_word {
        return false;
    }
    match cursor.slice(token) {
        // `at least`, `at room temperature` go the long way.
        "at" => {
            let number = cursor.further();
            number.is_number() && number.further().peek_kind() == Some(TokenKind::Unit)
        }
        word => CLAUSES.contains(&word),
    }
}

fn plain_quantity<'a>(
    cursor: &Cursor<'a>,
    wanted: ExpectedAmount,
) -> Option<(Quantity, Cursor<'a>)> {
    let first = cursor.here();
    let number = cursor.peek().filter(|token| token.kind == TokenKind::Number)?;
    let behind = cursor.further();
    let unit = behind.peek().filter(|token| token.kind == TokenKind::Unit)?;
    let written = behind.slice(unit);
    let (_, unit) = UNITS.into_iter().find(|(text, _)| *text == written)?;
    let (number, decimals) = digits(cursor.slice(number))?;
    let dimension = unit.dimension();
    // Hours with decimals may be meant as hours and minutes.
    let is_doubtful = number.is_zero() || decimals > 0 && dimension == Dimension::Time;
    if is_doubtful || !wanted.takes(dimension) {
        return None;
    }
    let behind = behind.further();
    let span = behind.since(first);
    Some((Quantity { number, unit, decimals: Some(decimals), span }, behind))
}

/// `350`, `2.5`, `0.25`: not more than three digits, and two after the point.
fn digits(text: &str) -> Option<(Exact, u8)> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let are_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let is_plain = (1..=3).contains(&whole.len())
        && part.len() <= 2
        && part.is_empty() != text.contains('.')
        && are_digits(whole)
        && are_digits(part)
        && (whole.len() == 1 || !whole.starts_with('0'));
    if !is_plain {
        return None;
    }
    let value = |text: &str| text.bytes().fold(0, |sum, byte| sum * 10 + i64::from(byte - b'0'));
    Some(match part.len() {
        0 => (int(value(whole)), 0),
        1 => (ratio(value(whole) * 10 + value(part), 10), 1),
        _ => (ratio(value(whole) * 100 + value(part), 100), 2),
    })
}

#[cfg(not(test))]
fn is_off() -> bool {
    false
}

#[cfg(test)]
use off::is_off;

/// Tests read the long way too.
#[cfg(test)]
pub mod off {
    use std::cell::Cell;

    thread_local! {
        static OFF: Cell<bool> = const { Cell::new(false) };
    }

    pub fn is_off() -> bool {
        OFF.get()
    }

    /// Does something with everything read the long way.
    pub fn the_long_way<T>(done: impl FnOnce() -> T) -> T {
        OFF.set(true);
        let made = done();
        OFF.set(false);
        made
    }
}
