//! Tables in files: CSV and TSV, `.xlsx` and `.ods`.

use super::grids::Grid;
use crate::quantity::display::{read_exact, trimmed};
use crate::quantity::int;
use calamine::{Cell, Data, DataRef, NumberFormat, Ods, Reader, Xlsx, XlsxError};
use rustc_hash::{FxHashMap, FxHashSet};
use std::io::{Cursor, Read, copy, sink};
use std::ops::Range;
use zip::ZipArchive;

/// Cells that are read of one sheet, those between its first and its last that hold nothing
/// among them.
const MAX_CELLS: usize = 200_000;

/// Columns that are read of one sheet.
const MAX_COLUMNS: usize = 1_000;

/// Sheets that are read of one workbook.
const MAX_SHEETS: usize = 250;

/// Blanks that a workbook may say are repeated, rather than write them.
const MAX_BLANKS: usize = 100_000;

/// Bytes that a workbook unpacks to: more than any that a person filled, and less than would
/// fill a small computer while it is read.
const MAX_UNPACKED: u64 = 64 << 20;

/// The sheets of an `.xlsx` workbook.
///
/// # Errors
/// What is wrong with the file.
pub fn xlsx(bytes: &[u8]) -> Result<Vec<Grid>, String> {
    unpack(bytes)?;
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|error| unread(&error))?;
    let names = book.sheet_names();
    if names.len() > MAX_SHEETS {
        return Err(format!(
            "it has {} sheets; workbooks with more than {MAX_SHEETS} are not read",
            names.len()
        ));
    }
    let mut grids = Vec::new();
    let mut cells = 0;
    for name in names {
        let Some(sheet) = xlsx_sheet(&mut book, name)? else { continue };
        // Several sheets may be one of the file, so that it unpacks to little.
        cells += sheet.rows.iter().map(Vec::len).sum::<usize>();
        if cells > MAX_CELLS {
            return Err(format!("it has more than {MAX_CELLS} cells"));
        }
        grids.push(bounded(sheet)?);
    }
    Ok(grids)
}

/// The sheets of an `.ods` workbook.
///
/// # Errors
/// What is wrong with the file.
pub fn ods(bytes: &[u8]) -> Result<Vec<Grid>, String> {
    let content = unpack(bytes)?;
    // The sheets are told apart after they are read, so the file is judged as a whole.
    if ods_cells(&content) > MAX_CELLS {
        return Err(format!("it has more than {MAX_CELLS} cells"));
    }
    if ods_blanks(&content) > MAX_BLANKS {
        return Err(format!("it has more than {MAX_BLANKS} repeated blanks"));
    }
    let mut book: Ods<_> = Ods::new(Cursor::new(bytes)).map_err(|error| unread(&error))?;
    let mut grids = Vec::new();
    let percents = ods_percents(&content);
    for (at, name) in book.sheet_names().into_iter().enumerate() {
        let range = book.worksheet_range(&name).map_err(|_| no_sheet(&name))?;
        let formulas = book.worksheet_formula(&name).map_err(|_| no_sheet(&name))?;
        let (top, left) = range.start().unwrap_or_default();
        let cell = |row: usize, column: usize, data: &Data| {
            let place = (top + place(row), left + place(column));
            let is_percent = percents.get(at).is_some_and(|own| own.contains(&place));
            let formula = formulas.get_value(place).map_or("", String::as_str);
            shown(data, is_percent, formula)
        };
        let rows = range.rows().enumerate().map(|(row, cells)| {
            cells.iter().enumerate().map(|(column, data)| cell(row, column, data)).collect()
        });
        grids.push(bounded(Grid { name, rows: rows.collect() })?);
    }
    Ok(grids)
}

fn unread(error: &dyn std::fmt::Display) -> String {
    format!("this workbook cannot be read ({error})")
}

fn no_sheet(name: &str) -> String {
    format!("its sheet `{name}` can't be read")
}

/// Unpacks a workbook, which may be packed a thousand to one, no further than the limit; the
/// content of an `.ods`, which is one file.
fn unpack(bytes: &[u8]) -> Result<Vec<u8>, String> {
    let mut files = ZipArchive::new(Cursor::new(bytes)).map_err(|error| unread(&error))?;
    let (mut left, mut content) = (MAX_UNPACKED, Vec::new());
    for index in 0..files.len() {
        let file = files.by_index(index).map_err(|error| unread(&error))?;
        let is_content = file.name().is_ok_and(|name| name == "content.xml");
        let mut file = file.take(left + 1);
        let read = match is_content {
            true => file.read_to_end(&mut content).map(|read| read as u64),
            false => copy(&mut file, &mut sink()),
        };
        let read = read.map_err(|error| unread(&error))?;
        left = left.checked_sub(read).ok_or_else(|| {
            format!("it unpacks to more than {} million bytes", MAX_UNPACKED / 1_000_000)
        })?;
    }
    Ok(content)
}

/// A sheet of an `.xlsx`; none where it is a chart. Each cell says where it is, so two of them
/// may be a world apart, and they are counted before there is a table of them.
fn xlsx_sheet(book: &mut Xlsx<Cursor<&[u8]>>, name: String) -> Result<Option<Grid>, String> {
    let told = |_: XlsxError| no_sheet(&name);
    let (mut formulas, mut percents) = (FxHashMap::default(), FxHashSet::default());
    if let Ok(mut reader) = book.worksheet_cells_reader(&name) {
        while let Some(cell) = reader.next_formula().map_err(told)? {
            if !cell.get_value().is_empty() && formulas.len() < MAX_CELLS {
                formulas.insert(cell.get_position(), cell.get_value().clone());
            }
        }
    }
    if let Ok(mut reader) = book.worksheet_cells_reader(&name) {
        while let Some((row, column, style)) = reader.next_style_id().map_err(told)? {
            let format = reader.styles().get(style).and_then(|it| it.number_format.as_ref());
            if format.is_some_and(is_of_percents) && percents.len() < MAX_CELLS {
                percents.insert((row, column));
            }
        }
    }
    let mut reader = match book.worksheet_cells_reader(&name) {
        Ok(reader) => reader,
        Err(XlsxError::NotAWorksheet(_)) => return Ok(None),
        Err(error) => return Err(told(error)),
    };
    let mut cells = Vec::new();
    while let Some(cell) = reader.next_cell().map_err(told)? {
        let place = cell.get_position();
        let formula = formulas.get(&place).map_or("", String::as_str);
        let shown = shown_cell(&cell, percents.contains(&place), formula);
        if !shown.is_empty() {
            cells.push((place, shown));
        }
        if cells.len() > MAX_CELLS {
            break;
        }
    }
    let rows = rows_of(cells)
        .ok_or_else(|| format!("its sheet `{name}` reaches over more than {MAX_CELLS} cells"))?;
    Ok(Some(Grid { name, rows }))
}

fn shown_cell(cell: &Cell<DataRef>, is_percent: bool, formula: &str) -> String {
    shown(&Data::from(cell.get_value().clone()), is_percent, formula)
}

/// Whether numbers are shown as so many per cent.
fn is_of_percents(format: &NumberFormat) -> bool {
    matches!(format.format_id, Some(9 | 10)) || format.format_code.contains('%')
}

/// A number of rows or of columns as a workbook counts them.
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// The cells of each table of an `.ods` that are shown as so many per cent, by row and column.
fn ods_percents(content: &[u8]) -> Vec<FxHashSet<(u32, u32)>> {
    let content = String::from_utf8_lossy(content);
    let of_table = |table: &str| {
        let mut found = FxHashSet::default();
        let mut rows = 0_usize;
        for row in table.split("<table:table-row").skip(1) {
            let mut columns = 0_usize;
            for mark in row.split('<').skip(1) {
                let is_cell = ["table:table-cell", "table:covered-table-cell"]
                    .iter()
                    .any(|cell| mark.starts_with(cell));
                if !is_cell {
                    continue;
                }
                let count = repeated(mark, "table:number-columns-repeated");
                let head = mark.split('>').next().unwrap_or_default();
                if head.contains("value-type=\"percentage\"") {
                    let own = (columns..columns.saturating_add(count)).take(MAX_CELLS);
                    found.extend(own.map(|column| (place(rows), place(column))));
                }
                columns = columns.saturating_add(count);
            }
            rows = rows.saturating_add(repeated(row, "table:number-rows-repeated"));
        }
        found
    };
    content.split("<table:table ").skip(1).map(of_table).collect()
}

/// Cells by row and column as a table from the first to the last of both; none where that has
/// too many.
fn rows_of(cells: Vec<((u32, u32), String)>) -> Option<Vec<Vec<String>>> {
    let rows = || cells.iter().map(|((row, _), _)| *row as usize);
    let columns = || cells.iter().map(|((_, column), _)| *column as usize);
    let (Some(top), Some(bottom)) = (rows().min(), rows().max()) else { return Some(Vec::new()) };
    let (left, right) = (columns().min()?, columns().max()?);
    let (height, width) = (bottom - top + 1, right - left + 1);
    height.checked_mul(width).filter(|count| *count <= MAX_CELLS)?;
    let mut table = vec![vec![String::new(); width]; height];
    for ((row, column), words) in cells {
        let cell =
            table.get_mut(row as usize - top).and_then(|it| it.get_mut(column as usize - left));
        if let Some(cell) = cell {
            *cell = words;
        }
    }
    Some(table)
}

/// How many cells the sheets of an `.ods` come to, those that are only said to be repeated
/// among them: the largest of them, its rows times its longest row, up to the last of each
/// that holds something.
fn ods_cells(content: &[u8]) -> usize {
    let content = String::from_utf8_lossy(content);
    let of_table = |table: &str| {
        let (mut height, mut rows, mut width) = (0_usize, 0_usize, 0_usize);
        for row in table.split("<table:table-row").skip(1) {
            rows = rows.saturating_add(repeated(row, "table:number-rows-repeated"));
            let (mut columns, mut last) = (0_usize, None);
            for mark in row.split('<').skip(1) {
                let is_cell = ["table:table-cell", "table:covered-table-cell"]
                    .iter()
                    .any(|cell| mark.starts_with(cell));
                if is_cell {
                    let count = repeated(mark, "table:number-columns-repeated");
                    columns = columns.saturating_add(count);
                }
                let is_valued = is_cell && (mark.contains("value=") || mark.contains("formula="));
                if is_valued || mark.starts_with("text:") {
                    last = Some(columns);
                }
            }
            if let Some(last) = last {
                (height, width) = (rows, width.max(last));
            }
        }
        height.saturating_mul(width)
    };
    content.split("<table:table ").map(of_table).max().unwrap_or(0)
}

/// How many blanks an `.ods` says are repeated, all cells together: a mark of a few bytes
/// stands for as many as it likes.
fn ods_blanks(content: &[u8]) -> usize {
    let content = String::from_utf8_lossy(content);
    let blanks = content.split("<text:s").skip(1).map(|mark| repeated(mark, "text:c"));
    blanks.fold(0, usize::saturating_add)
}

/// How often something is said to be repeated in the mark that a text begins with.
fn repeated(text: &str, attribute: &str) -> usize {
    let mark = text.split('>').next().unwrap_or_default();
    let said = mark.split(attribute).nth(1).and_then(|rest| rest.split(['"', '\'']).nth(1));
    said.and_then(|digits| digits.trim().parse().ok()).unwrap_or(1)
}

/// A cell as a person sees it: so many per cent as they are shown, and a formula of which nobody
/// kept the value as it is written.
fn shown(cell: &Data, is_percent: bool, formula: &str) -> String {
    let written = match cell {
        Data::Float(number) => number.to_string(),
        Data::Int(number) => number.to_string(),
        Data::Empty | Data::Error(_) => String::new(),
        // What a program of tables makes of `3.5` and keeps as a day is no amount.
        Data::DateTime(date) if date.is_datetime() => {
            let (year, month, day, hour, minute, ..) = date.to_ymd_hms_milli();
            return match (hour, minute) {
                (0, 0) => format!("the date {year}-{month:02}-{day:02}"),
                _ => format!("the date {year}-{month:02}-{day:02} {hour:02}:{minute:02}"),
            };
        }
        Data::DateTimeIso(date) => return format!("the date {date}"),
        other => return other.to_string(),
    };
    match (read_exact(&written), formula.trim_start_matches("of:").trim_start_matches('=')) {
        (Some(share), _) if is_percent => format!("{} %", trimmed(&(share * int(100)), 6)),
        (None, formula) if written.is_empty() && !formula.is_empty() => format!("={formula}"),
        _ => written,
    }
}

/// A table of comma-separated values, or of such that have semicolons or tabs instead.
pub fn csv(text: &str, name: &str) -> Grid {
    let first: String = text.lines().take(5).collect();
    let count = |sign: char| first.matches(sign).count();
    let sign = [',', ';', '\t'].into_iter().max_by_key(|sign| count(*sign));
    separated(text, name, sign.unwrap_or(','))
}

/// A table of a file of text, where it has no more cells than one of a workbook may have.
///
/// # Errors
/// That it has too many.
pub fn bounded(grid: Grid) -> Result<Grid, String> {
    if grid.rows.iter().map(Vec::len).sum::<usize>() > MAX_CELLS {
        return Err(format!("it has more than {MAX_CELLS} cells"));
    }
    match grid.rows.iter().map(Vec::len).max() {
        Some(columns) if columns > MAX_COLUMNS => {
            Err(format!("it has {columns} columns, and at most {MAX_COLUMNS} are read"))
        }
        _ => Ok(grid),
    }
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
