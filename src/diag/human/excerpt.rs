//! The lines of a text that a finding shows.
//!
//! A finding in a long text costs what it shows and not what the text is long, so that the
//! findings of a whole house are told in a time that grows with their number. Enters: a text and
//! places in it. Leaves: what miette draws lines and columns from, and where the places are in it.

use crate::source::{Shown, Source, one_line};
use miette::{MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};
use std::ops::Range;

/// Lines between two places that are shown with them in one piece.
const MAX_BETWEEN: usize = 16;
/// Lines that one place is shown of.
const MAX_LINES: usize = 40;
/// Bytes of a line that is shown in full, and what is shown before and after a place in a longer
/// one.
const LONG_LINE: usize = 2_000;
const AROUND: usize = 60;

/// The pieces of a text around some places.
pub struct Excerpt {
    name: String,
    pieces: Vec<Piece>,
    /// Columns of places, counted from nought in letters of the text as it is written.
    columns: Vec<(usize, usize)>,
}

struct Piece {
    shown: Shown,
    /// Where the piece is in the text, and its first line there, counted from nought.
    bytes: Range<usize>,
    line: usize,
    /// Where the piece is among all that is shown.
    offset: usize,
}

impl Excerpt {
    /// The lines of a text that hold some places, in bytes.
    pub fn new(source: &Source, places: &[Range<usize>]) -> Self {
        let mut windows: Vec<(Range<usize>, Range<usize>)> =
            places.iter().map(|place| window(source, place)).collect();
        windows.sort_by_key(|(bytes, _)| (bytes.start, bytes.end));
        windows.dedup_by(|(bytes, lines), (before, lines_before)| {
            let is_near = lines.start <= lines_before.end + MAX_BETWEEN
                && bytes.end.max(before.end) - before.start <= LONG_LINE * 2;
            let meets = bytes.start <= before.end || is_near;
            if meets {
                before.end = bytes.end.max(before.end);
                lines_before.end = lines.end.max(lines_before.end);
            }
            meets
        });
        let mut excerpt =
            Self { name: one_line(&source.name).into(), pieces: Vec::new(), columns: Vec::new() };
        let mut offset = 0;
        for (bytes, lines) in windows {
            let shown = Shown::new(source.text.get(bytes.clone()).unwrap_or(""));
            let end = offset + shown.text.len();
            excerpt.pieces.push(Piece { shown, bytes, line: lines.start, offset });
            // A byte between the pieces keeps the end of one apart from the start of the next.
            offset = end + 1;
        }
        for place in places {
            let column = source.line_column(u32::try_from(place.start).unwrap_or(u32::MAX)).1;
            excerpt.columns.push((excerpt.place(place).start, column.saturating_sub(1)));
        }
        excerpt
    }

    /// A place of the text among what is shown.
    pub fn place(&self, place: &Range<usize>) -> Range<usize> {
        let piece = self
            .pieces
            .iter()
            .find(|piece| piece.bytes.start <= place.start && place.start <= piece.bytes.end);
        let Some(piece) = piece else { return 0..0 };
        let own = |byte: usize| {
            let byte = byte.clamp(piece.bytes.start, piece.bytes.end) - piece.bytes.start;
            piece.offset + piece.shown.place(byte)
        };
        own(place.start)..own(place.end)
    }
}

/// The bytes and the lines, counted from nought, that are shown for a place.
fn window(source: &Source, place: &Range<usize>) -> (Range<usize>, Range<usize>) {
    let first = source.line_of(place.start);
    let last = source.line_of(place.end).min(first + MAX_LINES);
    // What is shown ends with a line's end, so that the last line is seen to be whole.
    let (from, until) = (first.saturating_sub(1), last + 3);
    let bytes = source.line_start(from)..source.line_start(until);
    let is_short = |line: usize| source.line_start(line + 1) - source.line_start(line) <= LONG_LINE;
    if (from..until).all(is_short) {
        return (bytes, from..until);
    }
    let line = source.line_start(first)..source.line_start(first + 1);
    let before = place.start.saturating_sub(AROUND).max(line.start);
    let after = (place.end.min(place.start + LONG_LINE) + AROUND).min(line.end);
    let text = &source.text;
    (text.floor_char_boundary(before)..text.ceil_char_boundary(after), first..first + 1)
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let end = span.offset() + span.len();
        let holds = |piece: &&Piece| {
            piece.offset <= span.offset() && end <= piece.offset + piece.shown.text.len()
        };
        let piece = self.pieces.iter().find(holds).ok_or(MietteError::OutOfBounds)?;
        let own = SourceSpan::from((span.offset() - piece.offset, span.len()));
        let read = piece.shown.text.read_span(&own, before, after)?;
        let column = self.columns.iter().find(|(place, _)| before == 0 && *place == span.offset());
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            read.data(),
            (read.span().offset() + piece.offset, read.span().len()).into(),
            read.line() + piece.line,
            column.map_or(0, |(_, column)| *column),
            // Whatever lies in one piece is drawn as one.
            usize::MAX / 4,
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::{Excerpt, LONG_LINE};
    use crate::source::Source;
    use miette::{SourceCode, SourceSpan};

    /// What is shown does not grow with the text, and has the lines and columns of it.
    #[test]
    fn a_finding_costs_what_it_shows() {
        for lines in [10, 1_000, 100_000] {
            let text: String = (0..lines).map(|line| format!("{line:06} é rye\n")).collect();
            let source = Source::new("a.dough", text.as_str().into());
            for line in [0, lines / 2, lines - 1] {
                let place = |line: usize| line * 14 + 10..line * 14 + 13;
                let places = [place(line), place(0)];
                let excerpt = Excerpt::new(&source, &places);
                let all: usize = excerpt.pieces.iter().map(|piece| piece.shown.text.len()).sum();
                assert!(all <= 14 * 24, "{lines} {line} {all}");
                let own = excerpt.place(&places[0]);
                let span = SourceSpan::from((own.start, own.len()));
                let read = excerpt.read_span(&span, 0, 0).expect("readable");
                assert_eq!((read.line(), read.column()), (line, 9), "{lines} {line}");
                assert!(read.data().starts_with(b"rye"));
                let around = excerpt.read_span(&span, 1, 1).expect("readable");
                let first = format!("{:06} é rye\n", line.saturating_sub(1));
                assert!(around.data().starts_with(first.as_bytes()), "{lines} {line}");
            }
        }
    }

    #[test]
    fn of_a_long_line_only_the_place_is_shown() {
        let text = format!("one\n{}é rye {}\nlast\n", "é ".repeat(9_000), "x ".repeat(90_000));
        let source = Source::new("a.dough", text.as_str().into());
        let start = text.find("rye").expect("there");
        let place = start..start + 3;
        let excerpt = Excerpt::new(&source, std::slice::from_ref(&place));
        let all: usize = excerpt.pieces.iter().map(|piece| piece.shown.text.len()).sum();
        assert!(all < LONG_LINE, "{all}");
        let own = excerpt.place(&place);
        let read = excerpt.read_span(&(own.start, own.len()).into(), 0, 0).expect("readable");
        assert_eq!((read.line(), read.column(), read.data()), (1, 18_002, b"rye".as_slice()));
    }
}
