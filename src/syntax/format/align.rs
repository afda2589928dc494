//! Columns: values under values, numbers under numbers, comments under comments.

use super::words::AlignPart;
use unicode_width::UnicodeWidthStr;

/// A line of the result, before its columns are set.
#[derive(Debug, Default)]
pub struct LaidLine {
    /// Blocks that it is in.
    pub depth: usize,
    /// Without indentation and comment.
    pub text: String,
    /// Where the text is parted into what is said of and what is said.
    pub split: Option<(usize, AlignPart)>,
    /// What follows the text, from its `#`.
    pub comment: Option<String>,
    /// It ends in `{`.
    pub opens: bool,
    /// More than one statement stands on it.
    pub several: bool,
    /// Whether it could not be read, so that nothing on it moves.
    pub bad: bool,
}

/// A line of a file as columns see it.
#[derive(Debug)]
pub enum AlignedRow {
    Line(LaidLine),
    Blank,
}

/// Sets the columns and writes all.
pub fn write(mut rows: Vec<AlignedRow>) -> String {
    let mut set = vec![false; rows.len()];
    for from in 0..rows.len() {
        if !set[from] {
            let run = run_from(&rows, from);
            set_values(&mut rows, &run);
            run.into_iter().for_each(|row| set[row] = true);
        }
    }
    let mut written = String::new();
    let mut from = 0;
    while from < rows.len() {
        let blank = |row: &AlignedRow| matches!(row, AlignedRow::Blank);
        let to = rows[from..].iter().position(blank).map_or(rows.len(), |at| from + at);
        write_paragraph(&rows[from..to], &mut written);
        if to < rows.len() {
            written.push('\n');
        }
        from = to + 1;
    }
    written
}

fn part(line: &LaidLine) -> Option<AlignPart> {
    line.split
        .filter(|(at, _)| !line.bad && !line.text.contains('\n') && *at < line.text.len())
        .map(|(_, part)| part)
}

/// The rows that share their columns with the one at `from`: of one depth and kind, with
/// what is nested in them between.
fn run_from(rows: &[AlignedRow], from: usize) -> Vec<usize> {
    let mut run = vec![from];
    let Some(AlignedRow::Line(first)) = rows.get(from) else { return run };
    let Some(kind) = part(first) else { return run };
    for (index, row) in rows.iter().enumerate().skip(from + 1) {
        let AlignedRow::Line(line) = row else { break };
        let closes = line.text == "}" && line.depth == first.depth;
        let remark = line.text.is_empty() && line.depth == first.depth;
        if line.depth > first.depth || closes || remark {
            continue;
        }
        if line.depth < first.depth || part(line) != Some(kind) {
            break;
        }
        run.push(index);
    }
    run
}

fn set_values(rows: &mut [AlignedRow], run: &[usize]) {
    let lines = || {
        run.iter().filter_map(|&row| match &rows[row] {
            AlignedRow::Line(line) => {
                line.split.filter(|_| part(line).is_some()).map(|(at, _)| (line, at))
            }
            AlignedRow::Blank => None,
        })
    };
    let widest = lines().map(|(line, at)| line.text[..at].trim_end().width()).max();
    let Some(widest) = widest else { return };
    let digits = lines()
        .filter(|(line, _)| matches!(part(line), Some(AlignPart::Amount | AlignPart::Property)))
        .map(|(line, at)| whole_digits(&line.text[at..]))
        .max()
        .unwrap_or(0);
    for &row in run {
        let AlignedRow::Line(line) = &mut rows[row] else { continue };
        let Some((at, kind)) = line.split.filter(|_| part(line).is_some()) else { continue };
        let (key, value) = line.text.split_at(at);
        let (key, value) = (key.trim_end(), value.to_owned());
        let lead = match kind {
            AlignPart::Amount | AlignPart::Property
                if whole_digits(&value) > 0 && !is_pair(key) =>
            {
                digits - whole_digits(&value)
            }
            _ => 0,
        };
        let gap = widest - key.width() + 2 + lead;
        line.text = format!("{key}{}{value}", " ".repeat(gap));
        line.split = None;
    }
}

/// What two measures say together stands with the words, not with the numbers.
fn is_pair(key: &str) -> bool {
    matches!(key, "volume" | "price" | "pack")
}

/// Digits before the point of a value that begins with a number.
fn whole_digits(value: &str) -> usize {
    value.bytes().take_while(u8::is_ascii_digit).count()
}

fn write_paragraph(rows: &[AlignedRow], written: &mut String) {
    let lines = rows.iter().filter_map(|row| match row {
        AlignedRow::Line(line) => Some(line),
        AlignedRow::Blank => None,
    });
    let last = |line: &LaidLine| line.text.rsplit('\n').next().unwrap_or("").width();
    let widest = lines
        .clone()
        .filter(|line| line.comment.is_some() && !line.text.is_empty())
        .map(|line| line.depth * 2 + last(line))
        .max()
        .unwrap_or(0);
    for line in lines {
        let indent = "  ".repeat(line.depth);
        match (&line.comment, line.text.is_empty()) {
            (None, _) => written.push_str(&format!("{indent}{}", line.text)),
            (Some(comment), true) => written.push_str(&format!("{indent}{comment}")),
            (Some(comment), false) => {
                let gap = widest - (line.depth * 2 + last(line)) + 2;
                written.push_str(&format!("{indent}{}{}{comment}", line.text, " ".repeat(gap)));
            }
        }
        written.push('\n');
    }
}
