//! Tables for spreadsheets, as CSV: the only place that writes them, so that no cell of any
//! of them is ever taken for a formula.

use crate::source::visible;
use crate::syntax::seen;

/// A cell of a table.
pub enum Cell {
    /// Words, names, times: whatever somebody wrote.
    Text(String),
    /// A decimal number with a point, which we made; or nothing.
    Number(String),
}

/// A table as CSV, its heads first; lines end as RFC 4180 has them in all but their `\r`.
pub fn spreadsheet<R, C>(heads: &[&str], rows: R) -> String
where
    R: IntoIterator<Item = C>,
    C: IntoIterator<Item = Cell>,
{
    #[allow(clippy::disallowed_methods, reason = "every other table comes through here")]
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory can't fail.
    let _ = writer.write_record(heads.iter().map(|head| inert(head)));
    for row in rows {
        let _ = writer.write_record(row.into_iter().map(|cell| match cell {
            Cell::Number(number) if is_number(&number) => number,
            Cell::Text(text) | Cell::Number(text) => inert(&text),
        }));
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

/// A cell that no spreadsheet takes for a formula: where it begins as formulas do, or with a
/// control letter, an apostrophe before it says that it is text, which is what spreadsheets
/// expect. What a terminal would obey in it is made visible, and what nobody sees is left out.
fn inert(cell: &str) -> String {
    let cell = visible(cell);
    let cell = &*seen(&cell);
    let begins = |letter: char| {
        matches!(letter, '=' | '+' | '-' | '@' | '＝' | '＋' | '－' | '＠') || letter.is_control()
    };
    match cell.starts_with(begins) || cell.trim_start().starts_with(begins) {
        true => format!("'{cell}"),
        false => cell.to_owned(),
    }
}

/// Digits with at most one point among them and a minus before them.
fn is_number(cell: &str) -> bool {
    let digits = cell.strip_prefix('-').unwrap_or(cell);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    let are_digits =
        |digits: &str| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    are_digits(whole) && are_digits(part)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_begins_as_a_formula_does() {
        for sign in ["=", "+", "-", "@", "\t", "\r", "\n", "\u{ff1d}", "\u{a0}=", "  @", "\t="] {
            for rest in ["cmd|' /C calc'!A0", "HYPERLINK(\"http://e\")", "1+1", "A1", ""] {
                let text = format!("{sign}{rest}");
                let table =
                    spreadsheet(&[&text], [[Cell::Text(text.clone()), Cell::Number(text.clone())]]);
                let mut reader = csv::ReaderBuilder::new()
                    .has_headers(false)
                    .flexible(true)
                    .from_reader(table.as_bytes());
                for record in reader.records() {
                    for cell in &record.expect("a row") {
                        let first = cell.trim_start().chars().next();
                        let is_odd = |it: char| "=+-@\u{ff1d}".contains(it) || it.is_control();
                        assert!(!first.is_some_and(is_odd), "{text:?}: {cell:?}");
                        assert!(!cell.starts_with(is_odd), "{text:?}: {cell:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn numbers_stay_numbers() {
        for number in ["0", "-1.5", "12.345678", "-0.001"] {
            assert_eq!(
                spreadsheet(&["n"], [[Cell::Number(number.to_owned())]]),
                format!("n\n{number}\n")
            );
        }
    }
}
