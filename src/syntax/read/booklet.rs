//! A booklet and what stands in it.

use super::cursor::Cursor;
use super::names::name_of;
use super::seen_clauses::SeenClauses;
use super::statements::{Statement, Statements, opens_in_file};
use super::words::{OF_A_BOOKLET, OF_A_PLAN, OF_A_READER, OF_A_WORKSHEET};
use super::{Reader, Reading};
use crate::diag::{self, Finding};
use crate::quantity::{System, Unit, Units, int};
use crate::source::{SourceId, Span, is_blank, is_unseen};
use crate::syntax::booklet::{
    Audience as For, Booklet, BookletItem, Compare, Exercise, ExerciseKind, FormulaYield, General,
    Hidden, HiddenKind, Level, PartKind, PlanAsked, PrintKind, Reckoner, Sizes, Steps, Worksheet,
};
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{incomplete_statement, missing_name, missing_value};
use crate::syntax::outline::outline_part;
use crate::syntax::tree::{Makes, Name, Quantity, Text};

/// What a manuscript may place of a booklet.
pub const PLACED: &[&str] =
    &["card", "sheet", "table", "plan", "compare", "reckoner", "shopping", "glossary", "page"];

/// Reads what a comment of a manuscript places of a booklet, `reckoner temperatures`: a stretch
/// of its text. Places are those in the text.
pub fn read_placed(
    source: SourceId,
    text: &str,
    part: std::ops::Range<usize>,
) -> (Vec<BookletItem>, Vec<Finding>) {
    let shape = outline_part(source, text, part);
    let mut reader = Reader::new(source, text, &shape);
    let mut statements = Statements::of_file(&shape.items);
    let mut parts = Vec::new();
    while let Some(statement) = statements.next(&mut reader) {
        let word = statement.cursor.lower();
        match PLACED.iter().copied().find(|known| *known == &*word) {
            Some(known) => parts.extend(reader.part(&statement, known, For::All)),
            None => reader.unknown_word(&statement, "booklet", PLACED),
        }
    }
    reader.unclosed_texts(&shape, &[]);
    diag::sort(&mut reader.findings);
    (parts, reader.findings)
}

/// The most columns that a range of a reckoner may have.
const MAX_COLUMNS: usize = 60;

/// How far a range is counted before its steps are known.
const MAX_COUNTED: usize = 10_000;

impl<'a> Reader<'a> {
    /// A booklet; none where it has no name.
    pub fn booklet(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Booklet> {
        let broken_before = std::mem::take(&mut self.broken);
        let mut cursor = statement.after_word();
        let name = self.identifier(&mut cursor, "booklet");
        if name.is_none() {
            self.fail(missing_name::missing_name(cursor.here(), "booklet"));
        }
        let title = cursor.is_text().then(|| self.text(&mut cursor));
        let end = self.end(&cursor, "a booklet has a name and a title in quotes");
        self.done(end);
        let mut booklet = Booklet {
            name: name.clone().unwrap_or_default(),
            title: title.filter(Text::says_something),
            language: None,
            units: None,
            paper: None,
            people: None,
            variants: None,
            large: None,
            parts: Vec::new(),
            span: statement.span,
            broken: false,
        };
        let mut inner = self.open_filled(statement, "booklet");
        let mut said = SeenClauses::default();
        while let Some((statement, word)) = self.next_inside(&mut inner, outer, opens_in_file) {
            self.of_a_booklet(&statement, &word, &mut inner, &mut booklet, &mut said);
        }
        // A text or a page may well stand twice.
        self.close_unread(&inner);
        booklet.broken = self.broken;
        self.broken |= broken_before;
        name.map(|_| booklet)
    }

    fn of_a_booklet(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        inner: &mut Statements<'a>,
        booklet: &mut Booklet,
        said: &mut SeenClauses,
    ) {
        let Some(known) = OF_A_BOOKLET.iter().copied().find(|known| *known == word) else {
            return self.unknown_word(statement, "booklet", OF_A_BOOKLET);
        };
        match known {
            "teacher" => self.for_one_reader(statement, For::Teacher, inner, &mut booklet.parts),
            "learner" => self.for_one_reader(statement, For::Learner, inner, &mut booklet.parts),
            "language" | "units" | "paper" | "for" | "variants" | "large" => {
                if self.first_time(said, known, statement.span) {
                    let read = self.of_the_whole(statement, known, booklet);
                    self.done(read);
                    self.no_block(statement);
                }
            }
            _ => {
                let part = self.part(statement, known, For::All);
                booklet.parts.extend(part);
            }
        }
    }

    /// What is said once, of the whole booklet.
    fn of_the_whole(
        &mut self,
        statement: &Statement<'a>,
        word: &'static str,
        booklet: &mut Booklet,
    ) -> Reading<()> {
        let mut cursor = statement.after_word();
        match word {
            "language" => booklet.language = Some(self.language(&mut cursor, word)?),
            "units" => {
                let first: System = self.metric_or_us(&mut cursor, word)?;
                let both = cursor.take("and") && self.metric_or_us(&mut cursor, word)? != first;
                booklet.units = Some(Units { first, both });
            }
            "paper" => {
                let span = cursor.rest();
                booklet.paper = Some((self.as_written(&mut cursor, word)?, span));
                return Ok(());
            }
            "for" => booklet.people = Some(self.people(&mut cursor)?),
            "variants" => booklet.variants = Some(self.seats(&mut cursor)?),
            _ => booklet.large = Some(statement.span),
        }
        self.end(&cursor, "")
    }

    /// `12 people`
    fn people(&mut self, cursor: &mut Cursor) -> Reading<(u32, Span)> {
        let first = cursor.here();
        let number = self.number(cursor)?.number;
        let whole = number.is_int().then(|| number.to_string().parse::<u32>().ok()).flatten();
        let is_people = cursor.take("people") || cursor.take("person");
        let span = cursor.since(first);
        match whole.filter(|people| is_people && (1..=1000).contains(people)) {
            Some(people) => Ok((people, span)),
            None => Err(incomplete_statement::people(span, cursor.under(span)).into()),
        }
    }

    /// `4` of `variants 4`.
    fn seats(&mut self, cursor: &mut Cursor) -> Reading<(u32, Span)> {
        let first = cursor.here();
        let number = self.number(cursor)?.number;
        let whole = number.is_int().then(|| number.to_string().parse::<u32>().ok()).flatten();
        let span = cursor.since(first);
        match whole.filter(|seats| (1..=200).contains(seats)) {
            Some(seats) => Ok((seats, span)),
            None => Err(incomplete_statement::seats(span, cursor.under(span)).into()),
        }
    }

    /// `teacher { … }`, `learner { … }`.
    fn for_one_reader(
        &mut self,
        statement: &Statement<'a>,
        reader: For,
        outer: &mut Statements<'a>,
        parts: &mut Vec<BookletItem>,
    ) {
        let word = if reader == For::Teacher { "teacher" } else { "learner" };
        let end = self.end(&statement.after_word(), "what is for one reader stands in braces");
        self.done(end);
        let mut inner = self.open_needed(statement, word);
        while let Some((statement, word)) = self.next_inside(&mut inner, outer, opens_in_file) {
            match OF_A_READER.iter().copied().find(|known| *known == &*word) {
                Some(known) => parts.extend(self.part(&statement, known, reader)),
                None => self.unknown_word(&statement, "booklet", OF_A_READER),
            }
        }
        self.close_unread(&inner);
    }

    /// One thing that prints; none where it can't be read.
    fn part(
        &mut self,
        statement: &Statement<'a>,
        word: &'static str,
        reader: For,
    ) -> Option<BookletItem> {
        let mut said = statement.cursor.said();
        let what = match word {
            "worksheet" => self.worksheet(statement, &mut said),
            "glossary" => self.glossary(statement, &mut said),
            _ => {
                let read = self.part_of_a_line(statement, word);
                self.no_block(statement);
                read
            }
        };
        let what = self.done(what)?;
        Some(BookletItem { reader, what, said: said.into(), span: statement.span })
    }

    fn part_of_a_line(
        &mut self,
        statement: &Statement<'a>,
        word: &'static str,
    ) -> Reading<PartKind> {
        let mut cursor = statement.after_word();
        let rest = cursor.rest();
        let (part, help) = match word {
            "text" => (PartKind::Text(self.text_after(&mut cursor, word, rest)?), ""),
            "caution" => (PartKind::Caution(self.text_after(&mut cursor, word, rest)?), ""),
            "page" => (PartKind::Page, "`page` stands alone"),
            "answers" => (PartKind::Answers, "`answers` stands alone"),
            "plan" => (self.planned(&mut cursor, statement.span)?, ""),
            "picture" => (self.picture(&mut cursor)?, "a picture has a file and a caption"),
            "card" => (PartKind::Print(PrintKind::Card, self.formulas(&mut cursor, word)?), ""),
            "sheet" => (PartKind::Print(PrintKind::Sheet, self.formulas(&mut cursor, word)?), ""),
            "table" => (PartKind::Print(PrintKind::Table, self.formulas(&mut cursor, word)?), ""),
            "compare" => (PartKind::Compare(self.comparison(&mut cursor)?), ""),
            "reckoner" => (PartKind::Reckoner(self.reckoner(&mut cursor)?), ""),
            _ => {
                let all = match cursor.at_end() {
                    true => Vec::new(),
                    false => self.formulas(&mut cursor, word)?,
                };
                (PartKind::Shopping(all), "")
            }
        };
        self.end(&cursor, help)?;
        Ok(part)
    }

    /// `first-sour ready saturday 10:00 awake 07:00..22:30`
    fn planned(&mut self, cursor: &mut Cursor<'a>, span: Span) -> Reading<PartKind> {
        let formula = self.formula_name(cursor, "plan")?;
        let (own, mut rest) = cursor.parted_at_word(OF_A_PLAN);
        let of = self.yield_of(formula, own)?;
        let (awake, room, cold, seed) = (Vec::new(), None, None, None);
        let mut asked = PlanAsked { of, ready: None, start: None, awake, room, cold, seed, span };
        let mut said = SeenClauses::default();
        while let Some(word) = rest.one_of(OF_A_PLAN) {
            let here = rest.here();
            rest.advance();
            let (value, after) = rest.parted_at_word(OF_A_PLAN);
            if self.first_time(&mut said, word, here.to(value.rest())) {
                self.clause_of_a_plan(word, value, &mut asked)?;
            }
            rest = after;
        }
        *cursor = rest;
        match asked.ready.is_none() && asked.start.is_none() {
            true => Err(incomplete_statement::planned(span).into()),
            false => Ok(PartKind::Plan(Box::new(asked))),
        }
    }

    /// What follows a word of a plan.
    fn clause_of_a_plan(
        &mut self,
        word: &'static str,
        mut value: Cursor<'a>,
        asked: &mut PlanAsked,
    ) -> Reading<()> {
        let span = value.rest();
        if value.at_end() {
            return Err(incomplete_statement::clause_of_a_plan(span, word).into());
        }
        let text = || Some((value.under(span).trim().into(), span));
        match word {
            "ready" => asked.ready = text(),
            "start" => asked.start = text(),
            "awake" => {
                asked.awake = self.opening_hours(&mut value)?;
                return self.end(&value, "write hours: `awake 06:30..22:00`");
            }
            "seed" => asked.seed = Some(self.quantity(&mut value, ExpectedAmount::Share)?),
            "room" => asked.room = Some(self.quantity(&mut value, ExpectedAmount::Temperature)?),
            _ => asked.cold = Some(self.quantity(&mut value, ExpectedAmount::Temperature)?),
        }
        match word {
            "ready" | "start" => Ok(()),
            _ => self.end(&value, ""),
        }
    }

    fn picture(&mut self, cursor: &mut Cursor) -> Reading<PartKind> {
        let file_span = cursor.here();
        let rest = cursor.rest();
        let missing = missing_value::missing_text(rest, "picture", cursor.under(rest));
        if !cursor.is_text() {
            return Err(missing.into());
        }
        let file = self.plain_text(cursor);
        if file.chars().all(|letter| is_blank(letter) || is_unseen(letter)) {
            return Err(missing.into());
        }
        let caption = cursor.is_text().then(|| self.text(cursor));
        let caption = caption.filter(Text::says_something);
        Ok(PartKind::Picture { file, file_span, caption })
    }

    /// `first-sour, gullhaven-sour for 5 loaves`
    fn formulas(&mut self, cursor: &mut Cursor<'a>, word: &str) -> Reading<Vec<FormulaYield>> {
        let mut all = vec![self.formula_yield(cursor, word)?];
        while cursor.take_comma() {
            all.push(self.formula_yield(cursor, word)?);
        }
        Ok(all)
    }

    /// `first-sour for 5 loaves`, up to the next formula.
    fn formula_yield(&mut self, cursor: &mut Cursor<'a>, word: &str) -> Reading<FormulaYield> {
        let formula = self.formula_name(cursor, word)?;
        let (own, rest) = cursor.parted_at_comma();
        let (of, left) = self.yield_and_rest(formula, own)?;
        *cursor = if left.at_end() { rest } else { left };
        Ok(of)
    }

    /// The yield that stands after a formula's name, and nothing else.
    fn yield_of(&mut self, formula: Name, own: Cursor<'a>) -> Reading<FormulaYield> {
        let (of, left) = self.yield_and_rest(formula, own)?;
        self.end(&left, "")?;
        Ok(of)
    }

    fn yield_and_rest(
        &mut self,
        formula: Name,
        mut own: Cursor<'a>,
    ) -> Reading<(FormulaYield, Cursor<'a>)> {
        let (mut makes, mut everyone) = (None, false);
        if own.is("for") && own.further().is("everyone") {
            own.advance();
            own.advance();
            everyone = true;
        } else if own.is("for") || own.is("from") {
            let span = own.rest();
            own.take("for");
            let (mut yields, behind) = own.parted_at_text();
            makes = Some(self.makes(&mut yields, span)?);
            own = behind;
        }
        let span = own.since(formula.span);
        Ok((FormulaYield { formula, makes, everyone, span }, own))
    }

    fn formula_name(&mut self, cursor: &mut Cursor, word: &str) -> Reading<Name> {
        let here = cursor.here();
        let Some(written) = cursor.word() else {
            return Err(incomplete_statement::of_a_formula(here, word).into());
        };
        cursor.advance();
        Ok(name_of(written, here))
    }

    fn comparison(&mut self, cursor: &mut Cursor<'a>) -> Reading<Compare> {
        // A yield ends where what is compared begins.
        let (mut named, rest) = cursor.parted_at_word(&["with", "since"]);
        let first = match rest.at_end() {
            true => self.formula_yield(cursor, "compare")?,
            false => {
                let formula = self.formula_name(&mut named, "compare")?;
                *cursor = rest;
                self.yield_of(formula, named)?
            }
        };
        let here = cursor.here();
        if cursor.take("with") {
            let span = cursor.here();
            let line = match cursor.take_both("bake", "loss") {
                true => None,
                false => match self.target(cursor, |_| false)? {
                    Some(target) => Some(target),
                    None => return Err(incomplete_statement::compared(here).into()),
                },
            };
            let span = cursor.since(span);
            let mut amounts = Vec::new();
            loop {
                let first = cursor.here();
                let amount = self.amount(cursor)?;
                amounts.push((amount, cursor.since(first)));
                if !cursor.take_comma() {
                    break;
                }
            }
            return Ok(Compare::With { of: Box::new(first), line, amounts, span });
        }
        if cursor.take("since") {
            let span = cursor.here();
            if !cursor.is_text() {
                return Err(incomplete_statement::since(cursor.rest()).into());
            }
            let revision = self.plain_text(cursor);
            if revision.trim().is_empty() {
                return Err(incomplete_statement::since(span).into());
            }
            return Ok(Compare::Since { of: Box::new(first), revision, span });
        }
        let mut all = vec![first];
        while cursor.take_comma() {
            all.push(self.formula_yield(cursor, "compare")?);
        }
        match all.len() {
            1 => Err(incomplete_statement::compared(here).into()),
            _ => Ok(Compare::Formulas(all)),
        }
    }

    fn reckoner(&mut self, cursor: &mut Cursor) -> Reading<Reckoner> {
        let here = cursor.here();
        let name = self.formula_name(cursor, "reckoner")?;
        let general = match &*name.key {
            "percentages" => General::Percentages,
            "feeds" => General::Feeds(self.ratios(cursor)?, false),
            "yeast" => General::Yeast,
            "temperatures" => General::Temperatures,
            "weights" => General::Weights,
            "volumes" => General::Volumes(self.volumes_of(cursor)?),
            _ => {
                let sizes = self.sizes(cursor)?;
                return Ok(Reckoner::Formula { formula: name, sizes });
            }
        };
        // `for` is what is wanted, `from` what there is.
        let is_from = cursor.take("from");
        let is_range = is_from || cursor.take("for");
        let general = match general {
            General::Feeds(ratios, _) => General::Feeds(ratios, is_from),
            other => other,
        };
        let wanted = match general {
            General::Temperatures => ExpectedAmount::Temperature,
            _ => ExpectedAmount::Mass,
        };
        let steps =
            if is_range { Some(self.reckoner_steps(cursor, wanted, here)?.0) } else { None };
        Ok(Reckoner::General(general, steps))
    }

    /// `1:1:1, 1:2:2`
    fn ratios(&mut self, cursor: &mut Cursor) -> Reading<Vec<[u32; 3]>> {
        let mut all = Vec::new();
        while cursor.is_number() || !cursor.at_end() && !cursor.is("for") && !cursor.is("from") {
            let first = cursor.here();
            while !cursor.at_end() && !cursor.is_comma() && !cursor.is("for") && !cursor.is("from")
            {
                cursor.advance();
            }
            let span = cursor.since(first);
            let written = cursor.under(span);
            let parts: Option<Vec<u32>> =
                written.split(':').map(|part| part.trim().parse().ok()).collect();
            match parts.as_deref() {
                Some(&[culture, flour, water])
                    if [culture, flour, water].iter().all(|part| (1..=100).contains(part)) =>
                {
                    all.push([culture, flour, water]);
                }
                _ => return Err(incomplete_statement::feed_ratio(span, written).into()),
            }
            cursor.take_comma();
        }
        Ok(all)
    }

    /// `of bread flour, sugar`
    fn volumes_of(&mut self, cursor: &mut Cursor) -> Reading<Vec<Name>> {
        let mut all = Vec::new();
        if !cursor.take("of") {
            return Ok(all);
        }
        loop {
            let here = cursor.here();
            match self.name(cursor, |here| here.is("from") || here.is("for")) {
                Some(name) => all.push(name),
                None => return Err(missing_name::missing_name(here, "ingredient").into()),
            }
            if !cursor.take_comma() {
                return Ok(all);
            }
        }
    }

    /// What the columns of a formula's reckoner are for.
    fn sizes(&mut self, cursor: &mut Cursor) -> Reading<Sizes> {
        let first = cursor.here();
        if cursor.at_end() {
            return Ok(Sizes::Usual);
        }
        if cursor.take("from") {
            let (steps, of) = self.reckoner_steps(cursor, ExpectedAmount::Stock, first)?;
            let of = of.ok_or_else(|| missing_name::missing_name(cursor.here(), "`from`"))?;
            return Ok(Sizes::From { steps, of });
        }
        if !cursor.take("for") {
            return Err(incomplete_statement::reckoner(first).into());
        }
        let mut counts = Vec::new();
        loop {
            let here = cursor.here();
            let low = self.number(cursor)?.number;
            let high = match is_dots(cursor) {
                false => low.clone(),
                true => {
                    cursor.advance();
                    self.number(cursor)?.number
                }
            };
            let span = cursor.since(here);
            let is_count = |number: &crate::quantity::Exact| number.is_int() && !number.is_zero();
            if !is_count(&low) || !is_count(&high) || low > high {
                return Err(incomplete_statement::reckoner(span).into());
            }
            let mut count = low;
            while count <= high {
                if counts.len() == MAX_COUNTED {
                    return Err(incomplete_statement::too_many_columns(span, MAX_COLUMNS).into());
                }
                let (unit, number) = (Unit::Count, count.clone());
                counts.push(Quantity { number, unit, decimals: None, span });
                count += int(1);
            }
            if !cursor.take_comma() {
                break;
            }
        }
        let here = cursor.here();
        let Some(kind) = self.name(cursor, |here| here.is("every")) else {
            return Err(incomplete_statement::reckoner(here).into());
        };
        // `8..48 rolls every 8`: from the first one on.
        if cursor.take("every") {
            let here = cursor.here();
            let every = self.number(cursor)?.number;
            if !every.is_int() || every <= crate::quantity::Exact::ZERO {
                return Err(incomplete_statement::reckoner(here).into());
            }
            if !cursor.at_end() {
                self.name(cursor, |_| false);
            }
            let Some(first) = counts.first().map(|it| it.number.clone()) else {
                return Err(incomplete_statement::reckoner(here).into());
            };
            counts.retain(|it| (&it.number - &first).over(&every).is_some_and(|it| it.is_int()));
        }
        let span = cursor.since(first);
        if counts.len() > MAX_COLUMNS {
            return Err(incomplete_statement::too_many_columns(span, MAX_COLUMNS).into());
        }
        Ok(Sizes::Pieces { counts, kind, span })
    }

    /// `500 g..2 kg flour every 250 g`; the name where one may stand.
    fn reckoner_steps(
        &mut self,
        cursor: &mut Cursor,
        wanted: ExpectedAmount,
        first: Span,
    ) -> Reading<(Steps, Option<crate::syntax::tree::Target>)> {
        let range = self.extent(cursor, wanted)?;
        let of = match cursor.is("every") {
            true => None,
            false => self.target(cursor, |here| here.is("every"))?,
        };
        if !cursor.take("every") {
            return Err(incomplete_statement::every(cursor.since(first)).into());
        }
        let every = self.quantity(cursor, wanted)?;
        let span = cursor.since(first);
        let (Some(low), Some(high)) = (range.low, range.high) else {
            return Err(incomplete_statement::every(span).into());
        };
        if every.number <= crate::quantity::Exact::ZERO {
            return Err(incomplete_statement::every(span).into());
        }
        Ok((Steps { low, high, every, span }, of))
    }

    /// `glossary { windowpane "a piece of dough pulled thin" }`
    fn glossary(&mut self, statement: &Statement<'a>, said: &mut String) -> Reading<PartKind> {
        self.end(&statement.after_word(), "lines of your own stand in braces")?;
        let mut lines = Vec::new();
        let mut inner = self.open(statement);
        while let Some(line) = inner.next(self) {
            let mut cursor = line.cursor;
            said.push_str(&format!("; {}", cursor.said()));
            let read = self.glossary_line(&mut cursor);
            lines.extend(self.done(read));
            self.no_block(&line);
        }
        self.close(&inner);
        Ok(PartKind::Glossary(lines))
    }

    fn glossary_line(&mut self, cursor: &mut Cursor) -> Reading<(Name, Text)> {
        let here = cursor.here();
        let Some(name) = self.name(cursor, |here| here.is_text()) else {
            return Err(missing_name::missing_name(here, "word").into());
        };
        let rest = cursor.rest();
        let text = self.text_after(cursor, &name.shown, rest)?;
        self.end(cursor, "a line is a word and what it means, in quotes")?;
        Ok((name, text))
    }

    fn worksheet(&mut self, statement: &Statement<'a>, said: &mut String) -> Reading<PartKind> {
        let mut cursor = statement.after_word();
        let of = self.formula_yield(&mut cursor, "worksheet")?;
        let title = cursor.is_text().then(|| self.text(&mut cursor));
        self.end(&cursor, "a worksheet has a formula, a yield and a title in quotes")?;
        let title = title.filter(Text::says_something);
        let (hide, exercises) = (Vec::new(), Vec::new());
        let mut sheet = Worksheet { of, title, hide, exercises, level: None };
        let mut inner = self.open(statement);
        while let Some(line) = inner.next(self) {
            let word = line.cursor.one_of(OF_A_WORKSHEET);
            said.push_str(&format!("; {}", line.cursor.said()));
            match word {
                Some("hide") => {
                    let mut cursor = line.after_word();
                    let read = self.hidden(&mut cursor);
                    sheet.hide.extend(self.done(read).into_iter().flatten());
                }
                Some("level") => {
                    let mut cursor = line.after_word();
                    let read = self.level(&mut cursor);
                    sheet.level = self.done(read).or(sheet.level);
                }
                Some(word) => {
                    let mut cursor = line.cursor;
                    word.split(' ').for_each(|_| cursor.advance());
                    let read = self.exercise(&mut cursor, word, line.span);
                    sheet.exercises.extend(self.done(read));
                }
                None => self.unknown_word(&line, "worksheet", OF_A_WORKSHEET),
            }
            self.no_block(&line);
        }
        self.close(&inner);
        Ok(PartKind::Worksheet(sheet))
    }

    fn level(&mut self, cursor: &mut Cursor) -> Reading<Level> {
        let here = cursor.rest();
        for (word, level) in Level::ALL {
            if cursor.take(word) {
                self.end(cursor, "a level is `first`, `second` or `third`")?;
                return Ok(level);
            }
        }
        Err(incomplete_statement::level(here, cursor.under(here)).into())
    }

    /// What follows the word of an exercise.
    fn exercise(&mut self, cursor: &mut Cursor, word: &str, span: Span) -> Reading<Exercise> {
        let what = match word {
            "scale" => ExerciseKind::Scale(self.scaled_yield(cursor)?),
            "true hydration" => ExerciseKind::TrueHydration,
            "substitute" => ExerciseKind::Substitute(self.substituted(cursor)?),
            "starter" => {
                let stage = match cursor.is("for") || is_times(cursor) {
                    true => None,
                    false => self.name(cursor, |here| here.is("for") || is_times(here)),
                };
                let wanted = match cursor.take("for") {
                    true => Some(self.quantity(cursor, ExpectedAmount::Mass)?),
                    false => None,
                };
                ExerciseKind::Starter(stage, wanted)
            }
            "water temperature" => ExerciseKind::WaterTemperature,
            "when to begin" => ExerciseKind::WhenToBegin(self.ready(cursor)?),
            _ => {
                let rule = match is_times(cursor) {
                    true => None,
                    false => self.name(cursor, |_| false),
                };
                ExerciseKind::Mistake(rule)
            }
        };
        let times = self.draws(cursor)?;
        self.end(cursor, "what an exercise leaves open is drawn; `2 times` draws two")?;
        Ok(Exercise { what, times, span })
    }

    /// `2 times`, after an exercise.
    fn draws(&mut self, cursor: &mut Cursor) -> Reading<u32> {
        if !is_times(cursor) {
            return Ok(1);
        }
        let first = cursor.here();
        let number = self.number(cursor)?.number;
        cursor.take("times");
        cursor.take("time");
        let span = cursor.since(first);
        let whole = number.is_int().then(|| number.to_string().parse::<u32>().ok()).flatten();
        match whole.filter(|times| (1..=50).contains(times)) {
            Some(times) => Ok(times),
            None => Err(incomplete_statement::seats(span, cursor.under(span)).into()),
        }
    }

    fn scaled_yield(&mut self, cursor: &mut Cursor) -> Reading<Option<Makes>> {
        if !cursor.is("for") && !cursor.is("from") {
            return Ok(None);
        }
        let span = cursor.rest();
        cursor.take("for");
        Ok(Some(self.makes(cursor, span)?))
    }

    /// `bread flour with dark rye flour 20%`
    fn substituted(&mut self, cursor: &mut Cursor) -> Reading<Option<(Name, Name, Quantity)>> {
        if cursor.at_end() || is_times(cursor) {
            return Ok(None);
        }
        let here = cursor.rest();
        let from = self.name(cursor, |here| here.is("with"));
        let with = cursor.take("with");
        let to = self.name(cursor, |_| false);
        match (from, to) {
            (Some(from), Some(to)) if with => {
                Ok(Some((from, to, self.quantity(cursor, ExpectedAmount::Share)?)))
            }
            _ => Err(incomplete_statement::substitute(here, cursor.under(here)).into()),
        }
    }

    /// `ready 10:00`
    fn ready(&mut self, cursor: &mut Cursor) -> Reading<Option<u32>> {
        if !cursor.take("ready") {
            return Ok(None);
        }
        let here = cursor.rest();
        match super::text::minutes_of(cursor.under(here).trim()) {
            Some(minutes) => {
                while !cursor.at_end() {
                    cursor.advance();
                }
                Ok(Some(minutes))
            }
            None => Err(incomplete_statement::ready(here, cursor.under(here)).into()),
        }
    }

    /// `hydration, weights in levain, water % in total`
    fn hidden(&mut self, cursor: &mut Cursor) -> Reading<Vec<Hidden>> {
        let mut all = Vec::new();
        loop {
            let first = cursor.here();
            let Some(question) = self.question(cursor, None)? else {
                return Err(incomplete_statement::hidden(first).into());
            };
            let span = cursor.since(first);
            let is_plain = matches!(question.measure, crate::syntax::tree::Measure::Itself);
            let what = match (&*question.what.name.key, is_plain) {
                ("weights", true) => HiddenKind::Weights(question.place),
                ("percentages", true) => HiddenKind::Percentages(question.place),
                ("everything", true) => HiddenKind::Everything(question.place),
                _ => HiddenKind::Figure(question),
            };
            all.push(Hidden { what, span });
            if !cursor.take_comma() {
                break;
            }
        }
        self.end(cursor, "figures, names and mixes are parted by commas")?;
        Ok(all)
    }
}

/// Whether `2 times` stands here.
fn is_times(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    cursor.is_number() && (behind.is("times") || behind.is("time"))
}

/// Whether the two dots of a range stand here.
fn is_dots(cursor: &Cursor) -> bool {
    matches!(cursor.under(cursor.here()), ".." | "…" | "-" | "–")
}
