//! From a file's shape to its tree.
//!
//! Enters: the shape of a text. Leaves: the tree, and a finding for each mistake. A
//! mistake costs its own statement and no other. Nothing here looks at the grammar, and
//! nothing calls itself but through the levels of braces, of which there are six.

mod amounts;
mod bakehouse;
mod booklet;
mod claims;
mod clocks;
mod conflicts;
mod cursor;
mod day;
mod eggs;
mod file;
mod foreign;
mod formula;
mod ingredient;
mod lines;
mod makes;
mod method;
mod names;
mod ours;
mod pairs;
mod parted;
mod plain;
mod ratios;
mod rewording;
mod said_for;
mod seen_clauses;
mod spoken;
mod stage;
mod statements;
mod stepping;
#[cfg(test)]
mod tests;
mod text;
mod tight;
mod units;
mod verbs;
pub mod words;

use crate::diag::{self, Finding};
use crate::quantity::Exact;
use crate::source::{SourceId, Span};
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    amount_impossible, not_a_yield, unclosed_text, unexpected_text, unresolved_merge, unseen_letter,
};
use crate::syntax::outline::{Outline, outline, outline_part};
use crate::syntax::tree::{
    DayTime, Factor, FigureAsk, Makes, Name, Open, Ordered, Quantity, Target, Tree,
};
pub use booklet::{PLACED, read_placed};
use conflicts::{conflicts, doubt, with_one_side};
use cursor::Cursor;
use std::ops::Range;

pub use clocks::clock_time;
pub use conflicts::both_sides;
pub(in crate::syntax) use conflicts::conflicts as unresolved;
pub(in crate::syntax) use ours::{Rewording, reworded};
pub(in crate::syntax) use words::{BLOCKS, OF_A_FILE, OF_A_FORMULA, OF_A_STAGE, STAGE_NAMES};

/// What was read, or the finding that says why it could not be.
type Reading<T> = Result<T, Box<Finding>>;

/// Reads a file; never fails.
pub fn read(source: SourceId, text: &str) -> (Tree, Vec<Finding>) {
    let conflicts = conflicts(text);
    if conflicts.is_empty() {
        return read_whole(source, text);
    }
    // Of each conflict one side is read, so that the rest of the file is still looked at.
    let (mut tree, mut findings) = read_whole(source, &with_one_side(text, &conflicts));
    doubt(&mut tree);
    findings.extend(conflicts.into_iter().map(|it| unsettled(source, it.whole)));
    diag::sort(&mut findings);
    (tree, findings)
}

/// The finding about a conflict.
pub(in crate::syntax) fn unsettled(source: SourceId, whole: Range<usize>) -> Finding {
    let place = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    unresolved_merge::finding(Span::new(source, place(whole.start), place(whole.end)))
}

fn read_whole(source: SourceId, text: &str) -> (Tree, Vec<Finding>) {
    let ReadText { tree, findings, .. } = read_text(source, text);
    (tree, findings)
}

/// All that is known of a text once it is read.
pub(in crate::syntax) struct ReadText {
    /// What stands in it and where.
    pub shape: Outline,
    /// What it says.
    pub tree: Tree,
    /// What was found in it, in order.
    pub findings: Vec<Finding>,
    /// What it says in other words than ours.
    pub rewordings: Vec<Rewording>,
}

/// Reads a text in which no merge is unsettled.
pub(in crate::syntax) fn read_text(source: SourceId, text: &str) -> ReadText {
    let shape = outline(source, text);
    let mut reader = Reader::new(source, text, &shape);
    let mut tree = reader.file(&shape);
    tight::tighten(&mut tree);
    tree.trim();
    let unseen = unseen_letter::findings(source, text, &reader.findings);
    reader.findings.extend(unseen);
    diag::sort(&mut reader.findings);
    one_missing_brace(&mut reader.findings);
    one_missing_quote(&mut reader.findings);
    let Reader { findings, rewordings, .. } = reader;
    ReadText { shape, tree, findings, rewordings }
}

/// A text that lacks its end takes braces along, so that what follows it seems to stand
/// outside of its block.
fn one_missing_quote(findings: &mut Vec<Finding>) {
    let Some(first) = findings.iter().position(|it| it.rule.name == "unclosed-text") else {
        return;
    };
    let mut at = 0;
    findings.retain(|it| {
        at += 1;
        at <= first + 1
            || !(it.rule.name == "misplaced-statement" || it.message.contains("closes nothing"))
    });
}

/// Where a `{` is missing, everything up to the `}` that closes nothing seems to stand in the
/// wrong place: the first of it is told, and that the brace is missing.
fn one_missing_brace(findings: &mut Vec<Finding>) {
    let is = |it: &Finding, name: &str| it.rule.name == name;
    let is_stray =
        |it: &Finding| is(it, "misplaced-brace") && it.message.contains("closes nothing");
    let seems_misplaced = |it: &Finding| {
        is(it, "misplaced-statement")
            || is(it, "unknown-word")
            || is_stray(it)
            || is(it, "unexpected-text") && it.message.starts_with("`(`")
    };
    let begins = |it: &Finding| {
        seems_misplaced(it)
            || is(it, "missing-value") && it.message.contains("braces")
            || is(it, "misplaced-brace")
    };
    let Some(last) = findings.iter().rposition(is_stray) else { return };
    let Some(first) = findings.iter().position(begins).filter(|first| *first < last) else {
        return;
    };
    // What surely is a lost brace explains whatever can't be read up to its other half.
    let is_sure = findings.get(first).is_some_and(|it| {
        is(it, "unexpected-text")
            || is(it, "missing-value")
            || is(it, "misplaced-statement") && it.message.contains("without a step")
            || is(it, "misplaced-brace") && it.message.contains("missing")
    });
    let mut at = 0;
    findings.retain(|it| {
        at += 1;
        let index = at - 1;
        let follows = seems_misplaced(it) || is_sure && it.rule.group == diag::Group::Parse;
        index <= first || index > last || !follows
    });
    if let Some(first) = findings.get_mut(first) {
        first.notes.push("a `}` further on closes nothing: a `{` is missing before it".into());
    }
}

/// Reads a part of a file, which holds whole statements. Places are those in the file.
pub fn read_part(source: SourceId, text: &str, part: Range<usize>) -> Tree {
    let shape = outline_part(source, text, part);
    Reader::new(source, text, &shape).file(&shape)
}

/// Reads what a command line asks for: `hydration`, `water in levain`.
pub fn read_ask(text: &str) -> Option<(Target, Option<Name>)> {
    let shape = outline(SourceId::default(), text);
    let mut reader = Reader::new(SourceId::default(), text, &shape);
    match reader.ask(text, Span::default())? {
        FigureAsk::Figure { asked, .. } => Some((asked.what, asked.place)),
        FigureAsk::Scaled { .. } | FigureAsk::Date(_) | FigureAsk::Weekday { .. } => None,
    }
}

/// Reads what stands between brackets in a manuscript: `water in levain`, `50 g of water`.
pub fn read_bracket(text: &str) -> Option<FigureAsk> {
    let shape = outline(SourceId::default(), text);
    Reader::new(SourceId::default(), text, &shape).ask(text, Span::default())
}

/// Reads the yield of a command line: `60 loaves`, `from 400 g levain`.
pub fn read_makes(source: SourceId, text: &str) -> (Option<Makes>, Vec<Finding>) {
    let shape = outline(source, text);
    let mut reader = Reader::new(source, text, &shape);
    reader.unclosed_texts(&shape, &[]);
    let makes = match shape.items.as_slice() {
        [item] if item.block.is_none() && shape.strays.is_empty() => {
            reader.muted = item.unclosed_text;
            let mut cursor = Cursor::at(source, text, item);
            cursor.take("makes");
            let span = cursor.rest();
            let said = reader.findings.len();
            let factor = reader.factor(&mut cursor);
            if factor.is_none() {
                // What was said while trying is said again where it is read as a yield.
                reader.findings.truncate(said);
            }
            let read = match factor {
                Some(Factor::Times(number) | Factor::People(number)) if number <= Exact::ZERO => {
                    Err(amount_impossible::times_nothing(span, text.trim()).into())
                }
                Some(factor) => Ok(Makes::times(factor, span)),
                None => reader.makes(&mut cursor, span),
            };
            reader.done(read)
        }
        _ => {
            let whole = Span::new(source, 0, u32::try_from(text.len()).unwrap_or(u32::MAX));
            reader.fail(not_a_yield::no_yield(whole, text));
            None
        }
    };
    diag::sort(&mut reader.findings);
    (makes, reader.findings)
}

/// Reads a temperature, `26C` or `79F`; none where it is none.
pub fn read_temperature(text: &str) -> Option<Quantity> {
    read_quantity(text, ExpectedAmount::Temperature)
}

/// Reads a percentage, `10%`; none where it is none.
pub fn read_share(text: &str) -> Option<Quantity> {
    read_quantity(text, ExpectedAmount::Share)
}

/// Reads a length of time, `5min`; none where it is none.
pub fn read_time(text: &str) -> Option<Quantity> {
    read_quantity(text, ExpectedAmount::Time)
}

/// Reads a time of a day, `04:10` or `22:00 the day before`; none where it is none.
pub fn read_day_time(text: &str) -> Option<DayTime> {
    let source = SourceId::ASKED;
    let shape = outline(source, text);
    let mut reader = Reader::new(source, text, &shape);
    let [item] = shape.items.as_slice() else { return None };
    let mut cursor = Cursor::at(source, text, item);
    let read = reader.time_of_that_day(&mut cursor).ok();
    read.filter(|_| cursor.at_end() && shape.strays.is_empty())
}

/// Reads what is ordered, `60 loaves` or `20 kg dough`; none where it is none.
pub fn read_ordered(text: &str) -> Option<Ordered> {
    let source = SourceId::ASKED;
    let shape = outline(source, text);
    let mut reader = Reader::new(source, text, &shape);
    let [item] = shape.items.as_slice() else { return None };
    let mut cursor = Cursor::at(source, text, item);
    let read = reader.ordered(&mut cursor, |_| false).ok();
    read.filter(|_| cursor.at_end() && reader.findings.is_empty() && shape.strays.is_empty())
}

fn read_quantity(text: &str, wanted: ExpectedAmount) -> Option<Quantity> {
    let source = SourceId::ASKED;
    let shape = outline(source, text);
    let mut reader = Reader::new(source, text, &shape);
    let [item] = shape.items.as_slice() else { return None };
    let mut cursor = Cursor::at(source, text, item);
    let read = reader.quantity(&mut cursor, wanted).ok();
    read.filter(|_| cursor.at_end() && reader.findings.is_empty() && shape.strays.is_empty())
}

/// Reads hours of the day, `06:30..22:00` and more parted by commas, perhaps with weekdays
/// before them; none where they can't be read.
pub fn read_hours(text: &str) -> Option<Vec<Open>> {
    let source = SourceId::ASKED;
    // Without a blank a comma would stand inside a number.
    let text = &*text.replace(',', ", ");
    let shape = outline(source, text);
    let mut reader = Reader::new(source, text, &shape);
    let [item] = shape.items.as_slice() else { return None };
    let mut cursor = Cursor::at(source, text, item);
    let hours = reader.opening_hours(&mut cursor).ok();
    hours.filter(|_| reader.findings.is_empty() && shape.strays.is_empty())
}

/// What reading a file needs to remember.
struct Reader<'a> {
    source: SourceId,
    text: &'a str,
    findings: Vec<Finding>,
    /// What can be read and we write otherwise.
    rewordings: Vec<Rewording>,
    /// Whether something in the formula that is being read could not be read.
    broken: bool,
    /// Whether the statement holds a text without its end: that is its finding then, and
    /// what else seems wrong follows from it.
    muted: bool,
    too_deep: Option<Span>,
    /// Blocks around the statement that lack their `}`.
    lacking: usize,
    /// How many of those have had their finding further in, where the brace is missing.
    explained: usize,
    /// Blocks whose `{` is missing: as many `}` close nothing.
    unopened: usize,
    /// Whether the statement before, in the file, declared nothing and has its finding.
    strayed: bool,
    /// Whether a word of another language that is read as ours has been told.
    told_abroad: bool,
    /// What `everything except …` leaves out in the step that is being read.
    excepted: Vec<Name>,
    /// How many pieces the steps of the formula that is being read say: `into 8 balls`.
    parted: Vec<parted::Parted>,
    /// Whether what the formula that is being read makes could not be read.
    unread_makes: bool,
}

impl<'a> Reader<'a> {
    fn new(source: SourceId, text: &'a str, shape: &Outline) -> Self {
        Self {
            source,
            text,
            findings: Vec::new(),
            rewordings: Vec::new(),
            broken: false,
            muted: false,
            too_deep: shape.too_deep,
            lacking: 0,
            explained: 0,
            unopened: 0,
            strayed: false,
            told_abroad: false,
            excepted: Vec::new(),
            parted: Vec::new(),
            unread_makes: false,
        }
    }

    /// A finding about something that could be read all the same.
    fn report(&mut self, finding: Finding) {
        if !self.muted {
            self.findings.push(finding);
        }
    }

    /// A finding about something that could not be read.
    fn fail(&mut self, finding: Finding) {
        self.broken = true;
        self.report(finding);
    }

    /// Whether there was a finding behind the first so many.
    fn broken_since(&self, findings: usize) -> bool {
        self.muted || self.findings.len() > findings
    }

    /// What was read, or none after reporting why not.
    fn done<T>(&mut self, read: Reading<T>) -> Option<T> {
        match read {
            Ok(read) => Some(read),
            Err(finding) => {
                self.fail(*finding);
                None
            }
        }
    }

    /// Whether the statement ends here; `help` says what may stand in it.
    fn end(&self, cursor: &Cursor, help: &str) -> Reading<()> {
        if cursor.at_end() {
            return Ok(());
        }
        let rest = cursor.rest();
        Err(unexpected_text::left_over(rest, cursor.under(rest), help).into())
    }

    /// The author's own bytes.
    fn under(&self, span: Span) -> &'a str {
        self.text.get(span.range()).unwrap_or("")
    }

    /// A finding for each text without its end that does not lie within `ignored`, which
    /// is in order.
    fn unclosed_texts(&mut self, shape: &Outline, ignored: &[Span]) {
        self.muted = false;
        for (span, before) in &shape.unclosed_texts {
            let before_it = ignored.partition_point(|later| later.start <= span.start);
            let later = before_it.checked_sub(1).and_then(|last| ignored.get(last));
            if later.is_some_and(|later| span.start < later.end) {
                continue;
            }
            // Where the text before it runs over several lines, that one may be the one
            // whose end was forgotten.
            let suspect = before.filter(|before| self.under(*before).contains('\n'));
            let written = self.under(*span);
            self.fail(unclosed_text::finding(*span, written, suspect));
        }
    }
}
