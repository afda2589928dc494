//! Tables in files: CSV and TSV, `.xlsx` and `.ods`.

use super::grids::Grid;
use calamine::{Data, Ods, Reader, Xlsx};
use std::io::Cursor;
use std::ops::Range;

/// Cells and rows that are read of one sheet.
const MAX_CELLS: usize = 200_000;

/// The sheets of an `.xlsx` workbook.
///
/// # Errors
/// What is wrong with the file.
pub fn xlsx(bytes: &[u8]) -> Result<Vec<Grid>, String> {
    let book: Result<Xlsx<_>, _> = Xlsx::new(Cursor::new(bytes));
    all(book.map_err(|error| format!("this workbook cannot be read ({error})"))?)
}

/// The sheets of an `.ods` workbook.
///
/// # Errors
/// What is wrong with the file.
pub fn ods(bytes: &[u8]) -> Result<Vec<Grid>, String> {
    let book: Result<Ods<_>, _> = Ods::new(Cursor::new(bytes));
    all(book.map_err(|error| format!("this workbook cannot be read ({error})"))?)
}

fn all<'b, R: Reader<Cursor<&'b [u8]>>>(mut book: R) -> Result<Vec<Grid>, String> {
    let mut grids = Vec::new();
    for name in book.sheet_names() {
        let range =
            book.worksheet_range(&name).map_err(|_| format!("its sheet `{name}` can't be read"))?;
        let (height, width) = range.get_size();
        if height.saturating_mul(width) > MAX_CELLS {
            return Err(format!("its sheet `{name}` has more than {MAX_CELLS} cells"));
        }
        let rows = range.rows().map(|row| row.iter().map(shown).collect()).collect();
        grids.push(Grid { name, rows });
    }
    Ok(grids)
}

/// A cell as a person sees it.
fn shown(cell: &Data) -> String {
    match cell {
        Data::Float(number) => number.to_string(),
        Data::Empty | Data::Error(_) => String::new(),
        other => other.to_string(),
    }
}

/// A table of comma-separated values, or of such that have semicolons or tabs instead.
pub fn csv(text: &str, name: &str) -> Grid {
    let first: String = text.lines().take(5).collect();
    let count = |sign: char| first.matches(sign).count();
    let sign = [',', ';', '\t'].into_iter().max_by_key(|sign| count(*sign));
    separated(text, name, sign.unwrap_or(','))
}

/// A table of values parted by tabs.
pub fn tsv(text: &str, name: &str) -> Grid {
    separated(text, name, '\t')
}

fn separated(text: &str, name: &str, sign: char) -> Grid {
    let mut reader = ::csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(u8::try_from(sign).unwrap_or(b','))
        .from_reader(text.as_bytes());
    let rows = reader.records().filter_map(Result::ok);
    let rows = rows.map(|row| row.iter().map(str::to_owned).collect());
    Grid { name: name.to_owned(), rows: rows.collect() }
}

/// The cells of a table of comma-separated values, each with its place in the text.
pub fn placed(text: &str) -> Vec<Vec<(String, Range<usize>)>> {
    let mut at = 0;
    let mut rows = Vec::new();
    for row in csv(text, "").rows {
        let mut cells = Vec::new();
        for cell in row {
            // A quote that is doubled inside quotes hides a cell; its place is then an empty one.
            let found = text.get(at..).and_then(|rest| rest.find(cell.as_str()));
            let start = found.map_or(at, |found| at + found);
            let end = if found.is_some() { start + cell.len() } else { start };
            cells.push((cell, start..end));
            at = end;
        }
        rows.push(cells);
    }
    rows
}
