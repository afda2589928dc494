//! The canonical layout of a file.
//!
//! What the reader reads in other words than ours is written in ours first. Then it works on
//! lines: what stands on a line stays on it, and only blanks change, save for the language's
//! own words (lower case), dashes between numbers (`..`), `starter` and `claims`. A comment
//! keeps its place after its statement. What could not be
//! read is copied as it is; a file whose blocks or texts do not close is not touched.

mod align;
mod said;
mod words;

use super::outline::{Item, Outline, Token, TokenKind};
use super::read::{ReadText, Rewording, read_text, reworded, unresolved};
use super::tree::Weekdays;
use crate::diag::{Finding, Level};
use crate::source::{SourceId, Span, is_blank, is_unseen};
use align::{AlignedRow, LaidLine};
pub use said::says_alike;
use said::{Said, errors};

/// Why a file is left as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Untouched {
    /// A block or a text does not close, or a `}` closes nothing.
    Open,
    /// Two versions of some lines stand in it, and which one holds is nobody's to choose here.
    Unmerged,
}

/// How often a layout is laid out once more until nothing moves. What can't be read may
/// be cut into other words once its blanks have moved.
const MAX_ROUNDS: usize = 5;

/// How many bytes are read to find the statements that would be read otherwise.
const MAX_BYTES: usize = 1_000_000;

/// How often a text is read for that at least, and at most.
const TRIALS: (usize, usize) = (24, 400);

/// Lays a text out. A text that was laid out stays as it is. Whatever a text holds, it says
/// the same afterwards and the same is found in it: a statement that would be read otherwise
/// keeps its author's words.
///
/// # Errors
/// Says why the text is better left as it is.
pub fn format(source: SourceId, text: &str) -> Result<String, Untouched> {
    if !unresolved(text).is_empty() {
        return Err(Untouched::Unmerged);
    }
    let (mut laid_out, mut after) = lay_out_once(source, text, &Said::of(source, text))?;
    if laid_out == text {
        return Ok(laid_out);
    }
    for _ in 0..MAX_ROUNDS {
        let said = after.unwrap_or_else(|| Said::of(source, &laid_out));
        let (again, next) = lay_out_once(source, &laid_out, &said)?;
        if again == laid_out {
            return Ok(laid_out);
        }
        (laid_out, after) = (again, next);
    }
    Ok(text.to_owned())
}

/// A text laid out, and what it says then where that is known.
fn lay_out_once(
    source: SourceId,
    text: &str,
    said: &Said,
) -> Result<(String, Option<Said>), Untouched> {
    let shape = &said.read.shape;
    let is_open = shape.items.iter().any(is_open) || !shape.strays.is_empty();
    if is_open || !shape.unclosed_texts.is_empty() || shape.too_deep.is_some() {
        return Err(Untouched::Open);
    }
    let bad = places_of_errors(source, text, shape, &said.read.findings);
    let rewordings = sound(text, said.read.rewordings.clone(), shape, &bad);
    Ok(match in_our_words(source, text, rewordings, said) {
        Some((text, read)) => {
            let bad = places_of_errors(source, &text, &read.shape, &read.findings);
            lay_out(source, &text, &read.shape, &bad, said)
        }
        None => lay_out(source, text, shape, &bad, said),
    })
}

/// A text in our words, read anew; none where none of them say what the author said.
fn in_our_words(
    source: SourceId,
    text: &str,
    rewordings: Vec<Rewording>,
    before: &Said,
) -> Option<(String, ReadText)> {
    if rewordings.is_empty() {
        return None;
    }
    let ours = reworded(text, 0, &rewordings);
    let said = Said::of(source, &ours);
    if before.is_said_by(&said) {
        return Some((ours, said.read));
    }
    let alike = alike(source, text, rewordings, before);
    let ours = reworded(text, 0, &alike);
    (!alike.is_empty()).then(|| {
        let read = read_text(source, &ours);
        (ours, read)
    })
}

/// The rewordings that say what the author said, where not all of them do: a slip in one
/// statement keeps no other from our words.
fn alike(
    source: SourceId,
    text: &str,
    rewordings: Vec<Rewording>,
    before: &Said,
) -> Vec<Rewording> {
    let breaks: Vec<usize> = text.match_indices('\n').map(|(at, _)| at).collect();
    let line = |it: &Rewording| breaks.partition_point(|&at| at < it.span.start as usize);
    // Rewordings of one line may need each other.
    let part = |one: &Rewording, two: &Rewording| line(one) != line(two);
    let holds = |some: &[Rewording]| before.is_said_by(&Said::of(source, &reworded(text, 0, some)));
    Trial { holds, part, left: trials(text) }.those(rewordings)
}

/// Looks for those of some changes to a text that leave what it says, by halves.
struct Trial<H, P> {
    holds: H,
    /// Whether two neighbours may be tried without each other.
    part: P,
    /// How often the text may still be read.
    left: usize,
}

/// How often a text may be read.
fn trials(text: &str) -> usize {
    let (least, most) = TRIALS;
    (MAX_BYTES / text.len().max(1)).clamp(least, most)
}

impl<H, P> Trial<H, P> {
    fn those<C: Clone>(&mut self, mut changes: Vec<C>) -> Vec<C>
    where
        H: FnMut(&[C]) -> bool,
        P: Fn(&C, &C) -> bool,
    {
        if changes.is_empty() || self.holds(&changes) {
            return changes;
        }
        let middle = changes.len() / 2;
        let parted = |at: &usize| match changes.get(at.saturating_sub(1)..=*at) {
            Some([one, two]) => (self.part)(one, two),
            _ => false,
        };
        let half = (1..changes.len()).filter(parted).min_by_key(|at| at.abs_diff(middle));
        let Some(half) = half.filter(|_| self.left > 0) else { return Vec::new() };
        let second = changes.split_off(half);
        let first = self.those(changes);
        let second = self.those(second);
        let both = [first.as_slice(), second.as_slice()].concat();
        if first.is_empty() || second.is_empty() || self.holds(&both) {
            return both;
        }
        first
    }

    fn holds<C>(&mut self, changes: &[C]) -> bool
    where
        H: FnMut(&[C]) -> bool,
    {
        let Some(left) = self.left.checked_sub(1) else { return false };
        self.left = left;
        (self.holds)(changes)
    }
}

/// Whether our words for a text are read as the author's; where they are not, `format` leaves
/// the author's, and the reader has a bug.
#[cfg_attr(closed, allow(dead_code, reason = "tests hold the reader's rewordings to it"))]
pub fn is_reworded_alike(source: SourceId, text: &str) -> bool {
    let ReadText { shape, findings, rewordings, .. } = read_text(source, text);
    let bad = places_of_errors(source, text, &shape, &findings);
    let rewordings = sound(text, rewordings, &shape, &bad);
    let after = read_text(source, &reworded(text, 0, &rewordings)).findings;
    let names = |findings| -> Vec<&str> {
        let mut names: Vec<&str> = errors(findings).into_iter().map(|(name, _)| name).collect();
        names.sort_unstable();
        names
    };
    names(&after) == names(&findings)
}

/// A text in the canonical layout, but for the statements that would be read otherwise, and
/// what it says then where that is known.
fn lay_out(
    source: SourceId,
    text: &str,
    shape: &Outline,
    bad: &Bad,
    said: &Said,
) -> (String, Option<Said>) {
    let laid_out = Layout::new(text, shape, bad).lay_out();
    if laid_out == text {
        return (laid_out, None);
    }
    let after = Said::of(source, &laid_out);
    if says_the_same(text, shape, &laid_out, bad, said, &after) {
        return (laid_out, Some(after));
    }
    let all: Vec<(u32, u32)> =
        statements(shape).iter().map(|(_, item)| (item.start, item.head_end)).collect();
    let moved = |moved: &[(u32, u32)]| {
        let bad = bad.and(all.iter().filter(|place| moved.binary_search(place).is_err()).copied());
        let laid_out = Layout::new(text, shape, &bad).lay_out();
        let holds = laid_out == text
            || says_the_same(text, shape, &laid_out, &bad, said, &Said::of(source, &laid_out));
        holds.then_some(laid_out)
    };
    let holds = |some: &[(u32, u32)]| moved(some).is_some();
    let some = Trial { holds, part: |_: &(u32, u32), _: &(u32, u32)| true, left: trials(text) }
        .those(all.clone());
    // Where even the author's own words can't be moved, all of the text stays.
    (moved(&some).unwrap_or_else(|| text.to_owned()), None)
}

/// What could not be read; all that stands in a block whose word is none of the language's
/// belongs to it, since nobody says what it is.
fn places_of_errors(source: SourceId, text: &str, shape: &Outline, findings: &[Finding]) -> Bad {
    fn inside(item: &Item, all: &mut Vec<(u32, u32)>) {
        for inner in item.block.iter().flatten() {
            all.push((inner.start, inner.head_end.max(inner.start + 1)));
            inside(inner, all);
        }
    }
    let bad = told_places(source, findings);
    let all = statements(shape);
    let is_unread = |item: &&Item| {
        item.block.is_some() && !words::is_known_block(text, item) && bad.is_about(item)
    };
    let mut unread = Vec::new();
    all.iter().map(|(_, item)| *item).filter(is_unread).for_each(|it| inside(it, &mut unread));
    if unread.is_empty() { bad } else { bad.and(unread.into_iter()) }
}

fn told_places(source: SourceId, findings: &[Finding]) -> Bad {
    let bad = findings.iter().filter(|finding| finding.level == Level::Error);
    let places = bad.map(Finding::span).filter(|span| span.source == source);
    let (points, spans): (Vec<Span>, Vec<Span>) = places.partition(|span| span.start == span.end);
    let mut points: Vec<u32> = points.into_iter().map(|span| span.start).collect();
    points.sort_unstable();
    Bad { points, spans: Reaches::of(spans.into_iter().map(|span| (span.start, span.end))) }
}

/// The rewordings of statements that could be read; the others are copied as they are.
/// A step with clauses in braces is one statement.
fn sound(text: &str, mut rewordings: Vec<Rewording>, shape: &Outline, bad: &Bad) -> Vec<Rewording> {
    if rewordings.is_empty() {
        return rewordings;
    }
    let all = statements(shape);
    let in_method = all.iter().filter(|(_, item)| words::is_method(text, item));
    let steps = in_method.flat_map(|(_, item)| item.block.iter().flatten());
    let steps = steps.filter(|step| step.block.iter().flatten().any(|item| bad.is_about(item)));
    let wrong = all.iter().filter(|(_, item)| bad.is_about(item));
    let wrong = wrong.map(|(_, item)| (item.start, item.head_end));
    let wrong = Reaches::of(wrong.chain(steps.map(|step| (step.start, step.end))));
    rewordings.retain(|rewording| {
        let (from, to) = (rewording.span.start, rewording.span.end);
        wrong.before(to.saturating_add(1)).is_none_or(|reach| reach < from)
    });
    rewordings
}

fn is_open(item: &Item) -> bool {
    item.unclosed.is_some() || item.block.iter().flatten().any(is_open)
}

/// A piece of a line, in the order of the text.
enum Piece<'a> {
    /// A statement or the head of a block; `opens` when `{` follows.
    Statement {
        item: &'a Item,
        parent: Option<&'a Item>,
        in_step: bool,
        opens: bool,
    },
    /// `}`
    Close,
    Comment(Span),
}

struct Layout<'a> {
    text: &'a str,
    /// Where each line begins.
    starts: Vec<u32>,
    /// Line, byte, depth and piece, in order.
    pieces: Vec<(usize, u32, usize, Piece<'a>)>,
    bad: &'a Bad,
}

/// What could not be read, so that what it is about is found at once.
struct Bad {
    /// Empty places, in order.
    points: Vec<u32>,
    spans: Reaches,
}

impl Bad {
    /// What is bad, and some places more.
    fn and(&self, places: impl Iterator<Item = (u32, u32)>) -> Self {
        let own = self.spans.starts.iter().copied().zip(self.spans.reach.iter().copied());
        Self { points: self.points.clone(), spans: Reaches::of(own.chain(places)) }
    }

    /// Whether something bad is about an item: within it, or an empty place at its edge.
    fn is_about(&self, item: &Item) -> bool {
        let end = item.head_end.max(item.start + 1);
        let next = self.points.partition_point(|&point| point < item.start);
        self.points.get(next).is_some_and(|&point| point <= end)
            || self.spans.before(end).is_some_and(|reach| reach > item.start)
    }
}

/// Stretches of a text, in order, and how far each and those before it reach.
struct Reaches {
    starts: Vec<u32>,
    reach: Vec<u32>,
}

impl Reaches {
    fn of(stretches: impl Iterator<Item = (u32, u32)>) -> Self {
        let mut all: Vec<(u32, u32)> = stretches.collect();
        all.sort_unstable();
        let mut furthest = 0;
        let reach = all.iter().map(|(_, end)| {
            furthest = furthest.max(*end);
            furthest
        });
        Self { reach: reach.collect(), starts: all.iter().map(|(start, _)| *start).collect() }
    }

    /// How far those reach that begin before `end`.
    fn before(&self, end: u32) -> Option<u32> {
        let count = self.starts.partition_point(|&start| start < end);
        count.checked_sub(1).and_then(|last| self.reach.get(last)).copied()
    }
}

impl<'a> Layout<'a> {
    fn new(text: &'a str, shape: &'a Outline, bad: &'a Bad) -> Self {
        let breaks = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let starts = std::iter::once(0).chain(breaks.map(|(at, _)| at as u32 + 1)).collect();
        let mut layout = Self { text, starts, pieces: Vec::new(), bad };
        for item in &shape.items {
            layout.collect(item, &[]);
        }
        for comment in &shape.comments {
            let line = layout.line_of(comment.start);
            layout.pieces.push((line, comment.start, 0, Piece::Comment(*comment)));
        }
        layout.pieces.sort_by_key(|(_, byte, ..)| *byte);
        layout.indent_comments();
        layout
    }

    /// A comment of its own takes the indent of what follows.
    fn indent_comments(&mut self) {
        let mut following = 0;
        for (_, _, depth, piece) in self.pieces.iter_mut().rev() {
            match piece {
                Piece::Comment(_) => *depth = following,
                Piece::Close => following = *depth + 1,
                Piece::Statement { .. } => following = *depth,
            }
        }
    }

    /// `outer` are the blocks around the item, the outermost first.
    fn collect(&mut self, item: &'a Item, outer: &[&'a Item]) {
        let line = self.line_of(item.start);
        let depth = outer.len();
        let parent = outer.last().copied();
        let around = outer.len().checked_sub(2).and_then(|around| outer.get(around));
        let in_step = around.is_some_and(|around| words::is_method(self.text, around));
        let opens = item.block.is_some();
        let piece = Piece::Statement { item, parent, in_step, opens };
        self.pieces.push((line, item.start, depth, piece));
        if let Some(block) = &item.block {
            let within: Vec<&Item> = outer.iter().copied().chain([item]).collect();
            for inner in block {
                self.collect(inner, &within);
            }
            let close = item.end.saturating_sub(1);
            self.pieces.push((self.line_of(close), close, depth, Piece::Close));
        }
    }

    fn line_of(&self, byte: u32) -> usize {
        self.starts.partition_point(|&start| start <= byte).saturating_sub(1)
    }

    fn lay_out(&self) -> String {
        let mut rows: Vec<AlignedRow> = Vec::new();
        let mut index = 0;
        let mut last_line = None;
        while index < self.pieces.len() {
            let line = self.pieces[index].0;
            let mut end = index;
            let mut last = line;
            while end < self.pieces.len() && self.pieces[end].0 <= last {
                last = last.max(self.last_line(&self.pieces[end].3));
                end += 1;
            }
            let blank_before = last_line.is_some_and(|last_line| line > last_line + 1);
            if blank_before && self.wants_blank(index, &rows) {
                rows.push(AlignedRow::Blank);
            }
            rows.push(AlignedRow::Line(self.row(index, end)));
            last_line = Some(last);
            index = end;
        }
        align::write(rows)
    }

    /// A blank line never opens a block nor closes one.
    fn wants_blank(&self, index: usize, rows: &[AlignedRow]) -> bool {
        let closes = matches!(self.pieces[index].3, Piece::Close);
        let after_open = matches!(rows.last(), Some(AlignedRow::Line(line)) if line.opens);
        !closes && !after_open && !rows.is_empty()
    }

    /// The last line a piece reaches to.
    fn last_line(&self, piece: &Piece) -> usize {
        match piece {
            Piece::Statement { item, .. } => self.line_of(item.head_end.max(item.start + 1) - 1),
            Piece::Close => 0,
            Piece::Comment(span) => self.line_of(span.start),
        }
    }

    /// Everything that stands on the lines of one row.
    fn row(&self, from: usize, to: usize) -> LaidLine {
        let mut line = LaidLine { depth: self.pieces[from].2, ..LaidLine::default() };
        let mut previous_opens = false;
        // Where the statements so far end.
        let mut said = 0;
        for (position, (.., piece)) in self.pieces[from..to].iter().enumerate() {
            match piece {
                Piece::Comment(span) => {
                    let words = self.text[span.range()].trim_end();
                    // Inside a statement that goes on, a comment is part of its text.
                    if position + 1 == to - from && span.start >= said {
                        line.comment = Some(words.to_owned());
                    }
                }
                Piece::Close => {
                    line.text.push_str(if line.text.is_empty() { "}" } else { " }" });
                    line.opens = false;
                    previous_opens = false;
                }
                Piece::Statement { item, parent, in_step, opens } => {
                    said = item.head_end;
                    let mut words = self.statement(item, line.depth);
                    if line.text.is_empty() {
                        // Clauses in the braces of a step stand as they do on its line.
                        if !in_step {
                            line.split = words::split(self.text, item, *parent, &words);
                        }
                        if *opens && self.line_of(item.start) == self.line_of(item.end - 1) {
                            line.split = words::split_head(self.text, *parent, &words);
                        }
                        line.bad = self.is_bad(item);
                    } else {
                        line.text.push_str(if previous_opens {
                            " "
                        } else {
                            separator(&line.text)
                        });
                        line.several = true;
                    }
                    if *opens {
                        words.push_str(if words.is_empty() { "{" } else { " {" });
                    }
                    if self.would_go_on(item, from + position, to) {
                        words.push_str(" ;");
                    }
                    line.text.push_str(&words);
                    line.opens = *opens;
                    previous_opens = *opens;
                }
            }
        }
        line
    }

    /// Whether a statement that ends in a comma, and a row, would go on in the next row.
    fn would_go_on(&self, item: &Item, at: usize, end_of_row: usize) -> bool {
        let ends_in_comma = item.tokens.last().is_some_and(|token| token.kind == TokenKind::Comma);
        let behind = self.pieces.iter().enumerate().skip(at + 1);
        let next = behind.into_iter().find(|(_, (.., piece))| !matches!(piece, Piece::Comment(_)));
        ends_in_comma
            && item.block.is_none()
            && next.is_some_and(|(next, (.., piece))| {
                next >= end_of_row && matches!(piece, Piece::Statement { .. })
            })
    }

    fn is_bad(&self, item: &Item) -> bool {
        self.bad.is_about(item)
    }

    /// A statement in canonical spacing, or as it is where it could not be read.
    fn statement(&self, item: &Item, depth: usize) -> String {
        let raw = &self.text[item.start as usize..item.head_end as usize];
        if self.is_bad(item) {
            return raw.trim_end().to_owned();
        }
        canonical(self.text, item, depth)
    }
}

fn separator(before: &str) -> &'static str {
    if before.ends_with('}') { " " } else { "; " }
}

/// The tokens of a statement with canonical blanks.
fn canonical(text: &str, item: &Item, depth: usize) -> String {
    let mut written = String::new();
    for (index, token) in item.tokens.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| item.tokens.get(before));
        let word = words::spelling(text, item, index);
        if let Some(before) = before {
            written.push_str(&gap(text, item, index, before, token, depth));
        }
        written.push_str(&word);
    }
    written
}

/// What stands between two tokens.
fn gap(
    text: &str,
    item: &Item,
    index: usize,
    before: &Token,
    token: &Token,
    depth: usize,
) -> String {
    use TokenKind::{Comma, Number, Range, Sign, Unit, Word};
    let touches = before.end == token.start;
    let between = &text[before.end as usize..token.start as usize];
    // What nobody sees stays where it parts a word: blanks stand beside all other.
    let parts_a_word = |letter: char| is_unseen(letter) && !letter.is_whitespace();
    if !between.is_empty() && between.chars().all(parts_a_word) {
        return between.to_owned();
    }
    if before.kind == Comma {
        // A line that ends in a comma goes on in the next.
        return if between.contains('\n') { going_on(between, depth) } else { " ".into() };
    }
    let is_dash = |token: &Token| {
        token.kind == Sign
            && matches!(&text[token.start as usize..token.end as usize], "-" | "–" | "—" | "−")
    };
    let is_weekday =
        |token: &Token| Weekdays::number(&text[token.start as usize..token.end as usize]).is_some();
    let tight = match (before.kind, token.kind) {
        (_, Comma) => true,
        // `mon..fri` is one range, as `06:00..22:00` is.
        (Word, Range) if is_weekday(before) => true,
        (Range, Word) if is_weekday(token) => true,
        (Range, Number) => true,
        (_, Range) => words::ends_amount(text, item, index - 1),
        (Range, Sign) if is_dash(token) => true,
        (Sign, Number) if is_dash(before) => true,
        (_, Sign) if is_dash(token) && words::is_range_dash(text, item, index) => true,
        (Number, Unit) => !words::is_parted(&text[token.start as usize..token.end as usize]),
        (Number, Word) => words::is_tight_unit(&text[token.start as usize..token.end as usize]),
        (Unit, Number) => touches,
        (Sign, _) => {
            let sign = &text[before.start as usize..before.end as usize];
            sign == "(" || sign == "°" || (touches && sign != ")" && sign != "±")
        }
        (_, Sign) => {
            let sign = &text[token.start as usize..token.end as usize];
            match sign {
                ")" => true,
                // `water %` asks for a percentage; `70%` is one.
                "%" => before.kind != Word,
                "°" => before.kind == Number,
                "(" | "±" => false,
                _ => touches,
            }
        }
        _ => false,
    };
    if tight { String::new() } else { " ".into() }
}

/// What stands after a comma that ends its line: its comment, and those on lines of their
/// own before the statement goes on.
fn going_on(between: &str, depth: usize) -> String {
    let indent = "  ".repeat(depth + 1);
    let mut written = String::new();
    for (index, line) in between.split('\n').enumerate() {
        let comment = line.find('#').map_or("", |at| line[at..].trim_end());
        match (index, comment) {
            (_, "") => {}
            (0, comment) => written.push_str(&format!(" {comment}")),
            (_, comment) => written.push_str(&format!("\n{indent}{comment}")),
        }
    }
    format!("{written}\n{indent}")
}

/// Whether two texts have the same statements and the same comments after them, and say
/// what was said before.
fn says_the_same(
    text: &str,
    shape: &Outline,
    laid_out: &str,
    bad: &Bad,
    before: &Said,
    after: &Said,
) -> bool {
    is_shaped_alike(text, shape, laid_out, &after.read.shape, bad) && before.is_said_by(after)
}

fn is_shaped_alike(
    text: &str,
    shape: &Outline,
    laid_out: &str,
    after: &Outline,
    bad: &Bad,
) -> bool {
    let same_comments = shape.comments.len() == after.comments.len()
        && shape
            .comments
            .iter()
            .zip(&after.comments)
            .all(|(one, two)| text[one.range()].trim_end() == laid_out[two.range()].trim_end());
    let (before, after) = (statements(shape), statements(after));
    same_comments
        && before.len() == after.len()
        && before.iter().zip(&after).all(|((depth, one), (other_depth, two))| {
            // What could not be read moved with its line; it is compared as it stands.
            let is_bad = bad.is_about(one);
            let words = |text: &str, item: &Item| match is_bad {
                true => text[item.start as usize..item.head_end as usize].to_owned(),
                false => canonical(text, item, 0),
            };
            let dense = |words: String| words.split(is_blank).collect::<String>();
            depth == other_depth && dense(words(text, one)) == dense(words(laid_out, two))
        })
}

/// Every statement with its depth.
fn statements(shape: &Outline) -> Vec<(usize, &Item)> {
    fn add<'a>(item: &'a Item, depth: usize, all: &mut Vec<(usize, &'a Item)>) {
        all.push((depth, item));
        for inner in item.block.iter().flatten() {
            add(inner, depth + 1, all);
        }
    }
    let mut all = Vec::new();
    for item in &shape.items {
        add(item, 0, &mut all);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rewording_that_says_something_else_keeps_no_other_from_our_words() {
        let lines = ["650 g water", "salt 20 g", "10 g yeast", "5 g honey", "1 kg flour"];
        let text =
            format!("formula a \"A\" {{\n  dough {{\n    {}\n  }}\n}}\n", lines.join("\n    "));
        let source = SourceId(9);
        for wrong in 0..lines.len() {
            let rewordings: Vec<Rewording> = lines
                .iter()
                .enumerate()
                .map(|(index, line)| {
                    let start = text.find(line).expect("written above") as u32;
                    let words: Vec<&str> = line.split(' ').collect();
                    let turned = if index == wrong { "{ 1%".into() } else { words.join("  ") };
                    Rewording {
                        span: Span::new(source, start, start + line.len() as u32),
                        text: turned,
                    }
                })
                .collect();
            let alike = alike(source, &text, rewordings, &Said::of(source, &text));
            assert_eq!(alike.len(), lines.len() - 1, "{wrong}: {alike:?}");
            assert!(alike.iter().all(|it| !it.text.contains('{')), "{alike:?}");
        }
    }
}
