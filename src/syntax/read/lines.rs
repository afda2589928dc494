//! Blocks of lines: a name and its amount each.

use super::amounts::is_minus;
use super::cursor::Cursor;
use super::eggs::{is_egg, last_word};
use super::formula::words_kind;
use super::names::{ends_with_number, is_number_of_name, name_of};
use super::spoken::{
    BETWEEN, begins_amount, begins_temperature, behind_about, figures, past_number, says_between,
    spoken, unit_here,
};
use super::statements::{Statement, Statements};
use super::words::{
    BASES, BEHIND_AN_AMOUNT, OF, OF_A_FILE, OF_A_FORMULA, OF_A_PIECE, OF_A_STAGE, OF_LINES,
    OTHER_SOFT_AMOUNTS, PACKETS, PIECES, PINCHES, SIZES, SOFT_AMOUNTS, is_preparation, is_reserved,
    near, other_verb,
};
use super::{Reader, Reading};
use crate::diag::{Finding, nearest};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Unit, int, read_number};
use crate::source::{Span, is_blank};
use crate::syntax::asides;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    declared_twice, malformed_name, misplaced_brace, misplaced_punctuation, misplaced_statement,
    missing_amount, missing_name, reserved_word, said_twice, unexpected_text, unknown_unit,
    unknown_value, unknown_word, wrong_kind_of_amount,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::phrases::{Phrases, Starts, phrases};
use crate::syntax::tree::{
    Amount, Base, Counting, Extent, Line, Mix, Name, Quantity, Target, Text, TextPart, Verb,
};
use ecow::EcoString;
use std::collections::HashMap;

impl<'a> Reader<'a> {
    /// Reads the lines of a block into `mix`. What `own` reads are statements of this
    /// kind of block, `known` their words; statements of the block around this one go
    /// back to `outer`.
    pub fn lines(
        &mut self,
        statements: &mut Statements<'a>,
        outer: &mut Statements<'a>,
        mix: &mut Mix,
        known: &[&'static str],
        mut own: impl FnMut(&mut Self, &Statement<'a>, &str) -> bool,
    ) {
        mix.span = statements.head();
        let broken_before = std::mem::take(&mut self.broken);
        let mut index = LineIndex::default();
        while let Some(statement) = statements.next(self) {
            let word = statement.cursor.lower();
            if own(self, &statement, &word) {
                continue;
            }
            if belongs_outside(&statement, &word, self.is_lacking()) {
                self.hand_out(&statement, statements, outer);
            } else if &*word == "without" && known.contains(&"without") {
                self.without(&statement, &mut mix.without);
            } else if statement.cursor.are("counts", "as") && known.contains(&"counts") {
                self.counts_as_flour(&statement, mix);
            } else if statement.cursor.are("counts", "as") {
                self.fail(misplaced_statement::counts_elsewhere(statement.span));
            } else {
                self.line_statement(&statement, mix, &mut index, known);
            }
        }
        self.close(statements);
        mix.broken = self.broken;
        self.broken |= broken_before;
    }

    /// `without NAME`, several with commas between.
    pub fn without(&mut self, statement: &Statement<'a>, without: &mut Vec<Target>) {
        let mut cursor = statement.after_word();
        let read = self.list(&mut cursor, |reader, cursor| {
            let here = cursor.here();
            let Some(name) = reader.whole_name(cursor, |_| false) else {
                return Err(missing_name::missing_name(here, "`without`").into());
            };
            let role = reader.role(cursor)?.map(Box::new);
            without.push(Target { name, role });
            Ok(())
        });
        self.done(read);
        self.no_block(statement);
    }

    fn counts_as_flour(&mut self, statement: &Statement<'a>, mix: &mut Mix) {
        let mut cursor = statement.after_word().further();
        let here = cursor.here();
        let read = if cursor.take("flour") {
            self.list(&mut cursor, |reader, cursor| {
                let here = cursor.here();
                match reader.whole_name(cursor, |_| false) {
                    Some(name) => mix.counts_as_flour.push(name),
                    None => return Err(missing_name::missing_name(here, "ingredient").into()),
                }
                Ok(())
            })
        } else {
            Err(unknown_value::counts_as(here, cursor.under(here)).into())
        };
        self.done(read);
        self.no_block(statement);
    }

    /// Elements with commas between, to the end of the statement.
    pub fn list(
        &mut self,
        cursor: &mut Cursor,
        mut element: impl FnMut(&mut Self, &mut Cursor) -> Reading<()>,
    ) -> Reading<()> {
        element(self, cursor)?;
        while cursor.take_comma() {
            element(self, cursor)?;
        }
        self.end(cursor, "")
    }

    /// A statement of one line, or of several with commas where line breaks belong.
    fn line_statement(
        &mut self,
        statement: &Statement<'a>,
        mix: &mut Mix,
        index: &mut LineIndex,
        known: &[&'static str],
    ) {
        let mut cursor = statement.cursor;
        if let Some(meant) = two_words_meant(&cursor, known) {
            let words = cursor.here().to(cursor.further().here());
            self.fail(unknown_word::statement_meant(words, self.under(words), meant));
            return self.no_block(statement);
        }
        if let Some(time) = wait_meant(&cursor).filter(|_| known.contains(&"ripens")) {
            let (whole, written) = (cursor.rest(), self.under(cursor.rest()));
            self.fail(unknown_word::ripens(whole, written, self.under(time)));
            return self.no_block(statement);
        }
        if let Some(finding) = no_line(&cursor) {
            self.fail(finding);
            return self.no_block(statement);
        }
        if statement.has_block() && cursor.word().is_some() && only_words(&cursor) {
            return self.group(statement, mix, index, known);
        }
        let mut commas = Vec::new();
        // Whether each of several is a name with its amount, or the other way round.
        let mut sure = true;
        while !cursor.at_end() {
            self.needless_bullet(&mut cursor);
            self.needless_list_number(&mut cursor);
            match self.line(&mut cursor) {
                Ok(line) if is_figure(&line.target.name.key) => {
                    let name = &line.target.name.key;
                    let written = self.under(line.span);
                    self.fail(misplaced_statement::figure_among_lines(line.span, written, name));
                }
                Ok(line) => {
                    self.size_meant(&line, known);
                    sure &= is_sure(&line);
                    self.add_line(line, mix, index);
                }
                Err(finding) => {
                    sure = false;
                    self.fail(statement_meant(&statement.cursor, *finding, known));
                    break;
                }
            }
            if let Some(next) = next_line(&cursor) {
                commas.push(Span { end: next.here().start, ..cursor.after() });
                cursor = next;
                continue;
            }
            if cursor.is_comma() {
                if let Some(words) = words_without_amount(&cursor) {
                    let span = cursor.here().to(words);
                    self.fail(misplaced_punctuation::words_behind(span, self.under(words)));
                    break;
                }
                commas.push(cursor.here());
                cursor.advance();
            }
        }
        self.commas_between_lines(&commas, sure);
        self.no_block(statement);
    }

    /// `flours { … }` among lines: its lines are read as those around them.
    fn group(
        &mut self,
        statement: &Statement<'a>,
        mix: &mut Mix,
        index: &mut LineIndex,
        known: &[&'static str],
    ) {
        let head = statement.span;
        let name = self.under(head).trim();
        self.fail(misplaced_brace::group(head, name, nearest(name, known.iter().copied())));
        let mut inner = self.open(statement);
        while let Some(statement) = inner.next(self) {
            self.line_statement(&statement, mix, index, known);
        }
        self.close(&inner);
    }

    /// One finding for all commas of a statement that should be line breaks.
    fn commas_between_lines(&mut self, commas: &[Span], sure: bool) {
        let (Some(first), Some(last)) = (commas.first(), commas.last()) else { return };
        let mut meant = String::new();
        // Where the line ends anyway, the comma is one too many.
        let sign = |comma: &Span| {
            let behind = self.text.get(comma.end as usize..).unwrap_or_default();
            let next = behind.trim_start_matches([' ', '\t', '\r']).chars().next();
            let is_word = self.under(*comma) != ",";
            match next.is_none_or(|next| ['\n', '}', '#', ';'].contains(&next)) {
                true => "",
                false if is_word => "; ",
                false => ";",
            }
        };
        for (comma, next) in commas.iter().zip(commas.iter().skip(1)) {
            meant.push_str(sign(comma));
            meant.push_str(self.under(Span { start: comma.end, end: next.start, ..*first }));
        }
        meant.push_str(sign(last));
        let whole = first.to(*last);
        self.report(match commas.iter().all(|comma| self.under(*comma) == ",") {
            true => misplaced_punctuation::commas_between_lines(*first, whole, meant, sure),
            false => misplaced_punctuation::lines_in_one(*first, self.under(*first), whole, meant),
        });
    }

    /// `ferment 18% of flour` in a stage reads as a line, and is none.
    fn size_meant(&mut self, line: &Line, known: &[&'static str]) {
        let is_of_flour = matches!(&line.amount, Amount::Measured { base: Some(base), .. }
            if matches!(**base, Base::Flour));
        if !is_of_flour || !known.contains(&"ferments") {
            return;
        }
        let name = &line.target.name;
        if let Some(near) = near(&name.key, &["ferments", "takes"]) {
            self.fail(unknown_word::statement_meant(name.span, &name.shown, near));
        }
    }

    fn add_line(&mut self, mut line: Line, mix: &mut Mix, index: &mut LineIndex) {
        let is_extra = matches!(line.amount, Amount::AsNeeded) && line.target.role.is_none();
        if is_extra && index.same_as(&line, &mix.lines).is_some() {
            // `bread flour, for dusting` beside the weighed line of it.
            let name = Name { key: EXTRA.into(), shown: EXTRA.into(), span: line.amount_span };
            line.target.role = Some(Box::new(name));
            self.reword(line.target.name.span.after(), format!(" ({EXTRA})"));
        }
        match index.same_as(&line, &mix.lines) {
            Some(first) => {
                let name = self.under(line.target.name.span);
                self.fail(declared_twice::line(line.target.name.span, name, first));
            }
            None => mix.lines.push(line),
        }
    }

    /// `- water 5%`: the sign of a list.
    pub fn needless_bullet(&mut self, cursor: &mut Cursor) {
        let is_bullet = cursor.is_dash() || cursor.is_sign("*") || cursor.is_sign("•");
        if is_bullet && !is_minus(cursor) && !cursor.further().at_end() {
            self.reword(Span { end: cursor.further().here().start, ..cursor.here() }, "");
            cursor.advance();
        }
    }

    fn line(&mut self, cursor: &mut Cursor) -> Reading<Line> {
        let first = cursor.here();
        let start = *cursor;
        let mark = self.rewordings.len();
        if let Some((part, fruit)) = part_of_fruit(cursor) {
            let whole = cursor.rest();
            let written = cursor.under(whole);
            return Err(missing_amount::of_fruit(whole, written, part, fruit).into());
        }
        let vague = self.vague(cursor, first);
        if vague.is_none()
            && let Some((target, amount, amount_span)) = self.sized_eggs(cursor)?
        {
            let (counting, beside, note) = (Counting::Counted, None, None);
            let line = Line { target, amount, amount_span, beside, counting, note, span: first };
            return self.rest_of_line(cursor, first, line);
        }
        if vague.is_none() && begins_with_amount(cursor) {
            return self.amount_first(cursor);
        }
        let mut target = self.line_target(cursor)?;
        if cursor.is_comma()
            && !cursor.further().on_new_line()
            && purpose(&cursor.further()).is_some()
        {
            // `vegetable oil, for greasing`
            cursor.advance();
        }
        if let Some(said) = purpose(cursor) {
            return Ok(self.for_a_purpose(cursor, first, target, said));
        }
        if let Some(vague) = vague.filter(|_| cursor.at_end() || cursor.is_comma()) {
            let whole = first.to(cursor.rest());
            let name = start.under(target.name.span);
            return Err(missing_amount::vague(whole, start.under(vague), name).into());
        }
        let early = self.preparation_before_amount(cursor);
        self.needless_sign(cursor);
        if cursor.is_comma() && is_soft_amount(&cursor.further()) {
            // `poolish, all`
            self.reword(cursor.here(), "");
            cursor.advance();
        }
        if cursor.at_end() || cursor.is_comma() {
            let span = cursor.since(first);
            let no_amount = || missing_amount::no_amount(span, start.under(span)).into();
            return Err(glued(&start).unwrap_or_else(no_amount));
        }
        if let Some(amount) = self.sized_count(cursor, &mut target)? {
            let amount_span = cursor.since(target.name.span.after());
            let (counting, beside, note) = (Counting::Counted, None, None);
            let line = Line { target, amount, amount_span, beside, counting, note, span: first };
            return self.rest_of_line(cursor, first, line);
        }
        let closing = self.amount_in_brackets(cursor);
        let bracket = self.bracket_before_amount(cursor)?;
        let mut amount_from = cursor.here();
        let mut amount = self.amount(cursor).map_err(|finding| glued(&start).unwrap_or(finding))?;
        if let Some(name) = self.name_with_number(cursor, &start, &amount) {
            target = Target { name, role: None };
            amount_from = cursor.here();
            amount = self.amount(cursor)?;
        }
        let mut beside = self.beside_amount(cursor, &mut amount)?;
        let amount_span = cursor.since(amount_from);
        if let (None, Some((other, gap))) = (&beside, bracket) {
            let turned = format!(" {} ({})", self.worded(amount_span), self.worded(other.span));
            self.reword(Span { end: amount_span.end, ..gap }, turned);
            beside = self.paired(cursor, &mut amount, other);
        }
        if closing {
            let gap = cursor.after();
            cursor.advance();
            self.reword(cursor.since(gap), "");
        }
        if target.role.is_none() && ends_in_digit(&target.name.shown) {
            // `Type 550, half a kilo`
            let words = self.worded(amount_span);
            match whole_or_decimal(&words) {
                Some(plain) if plain != words => self.reword(amount_span, plain),
                Some(_) => {}
                None => self.rewordings.truncate(mark),
            }
        }
        let note = match early {
            Some(words) => {
                self.reword(cursor.after(), format!(" \"{}\"", start.under(words.span)));
                Some(words)
            }
            None => self.size(cursor, &amount),
        };
        let line = Line {
            target,
            amount,
            amount_span,
            beside,
            counting: Counting::Counted,
            note,
            span: first,
        };
        self.rest_of_line(cursor, first, line)
    }

    /// `a knob of`, `a little`: no amount, and no part of the name.
    fn vague(&mut self, cursor: &mut Cursor, first: Span) -> Option<Span> {
        let mut ahead = *cursor;
        match ahead.take_longest(phrases!(VAGUE)) {
            Some(_) => {}
            None => ahead = past_vague(cursor)?,
        }
        ahead.word()?;
        *cursor = ahead;
        self.reword(Span { end: ahead.here().start, ..first }, "");
        Some(Span { end: ahead.after().end, ..first })
    }

    /// `flour for dusting`: as much as that takes.
    fn for_a_purpose(
        &mut self,
        cursor: &mut Cursor,
        first: Span,
        target: Target,
        said: Span,
    ) -> Line {
        let words = cursor.under(said).trim();
        let gap = Span { start: target.name.span.end, ..said };
        self.reword(gap, format!(" as needed \"{words}\""));
        while !cursor.at_end() {
            cursor.advance();
        }
        let note = Text { parts: vec![TextPart::Plain(words.into())], span: said };
        Line {
            target,
            amount: Amount::AsNeeded,
            amount_span: said,
            beside: None,
            counting: Counting::Counted,
            note: Some(note),
            span: first.to(said),
        }
    }

    /// A second amount, in another unit. Of a weight and a volume, the weight counts.
    fn beside_amount(
        &mut self,
        cursor: &mut Cursor,
        amount: &mut Amount,
    ) -> Reading<Option<Box<Extent>>> {
        let Amount::Measured { range, base: None } = amount else { return Ok(None) };
        let beside = match self.sticks_beside(cursor, range)? {
            Some(sticks) => Some(sticks),
            None => self.beside(cursor, range, ExpectedAmount::Line)?,
        };
        Ok(beside.and_then(|beside| lighter_of(amount, beside)))
    }

    /// `(2 sticks)` behind an amount of fat: four ounces each, as they are sold in the US.
    fn sticks_beside(&mut self, cursor: &mut Cursor, first: &Extent) -> Reading<Option<Extent>> {
        const OUNCES: i64 = 4;
        let is_known = unit_of(first)
            .is_some_and(|unit| matches!(unit.dimension(), Dimension::Mass | Dimension::Volume));
        if !is_known || sticks_in_brackets(cursor).is_none() {
            return Ok(None);
        }
        let mut ahead = cursor.further();
        let from = ahead.here();
        let number = self.number(&mut ahead)?.number * int(OUNCES);
        ahead.advance();
        let span = ahead.since(from);
        let ounces = Quantity { number, unit: Unit::Ounce, decimals: None, span };
        let sticks = Extent { low: Some(ounces.clone()), high: Some(ounces), ranged: false, span };
        ahead.advance();
        *cursor = ahead;
        self.compare(first, &sticks, false, cursor.since(first.span), cursor);
        Ok(Some(sticks))
    }

    /// `sugar (2 cups) 100 g`: the other amount, where it stands before the one of the line,
    /// and the place behind the name.
    fn bracket_before_amount(&mut self, cursor: &mut Cursor) -> Reading<Option<(Extent, Span)>> {
        if !is_bracket_before_amount(cursor) {
            return Ok(None);
        }
        let gap = cursor.after();
        let mut ahead = cursor.further();
        let other = self.extent(&mut ahead, ExpectedAmount::Line)?;
        if !ahead.is_sign(")") {
            return Ok(None);
        }
        ahead.advance();
        *cursor = ahead;
        Ok(Some((other, gap)))
    }

    /// The second amount of a pair that stood in brackets before the first.
    fn paired(
        &mut self,
        cursor: &Cursor,
        amount: &mut Amount,
        other: Extent,
    ) -> Option<Box<Extent>> {
        let Amount::Measured { range, base: None } = amount else { return None };
        let span = Span { end: range.span.end, ..other.span };
        self.compare(range, &other, false, span, cursor);
        lighter_of(amount, other)
    }

    /// `large` behind a count: what is said of the pieces.
    fn size(&mut self, cursor: &mut Cursor, amount: &Amount) -> Option<Text> {
        let (gap, first) = (cursor.after(), cursor.here());
        if is_bare_count(amount) && cursor.take_any(phrases!(PIECES)) {
            self.reword(cursor.since(gap), "");
            return None;
        }
        if !is_bare_count(amount) || !cursor.take_any(phrases!(SIZES)) {
            return None;
        }
        let span = cursor.since(first);
        let words = cursor.under(span);
        self.reword(span, format!("\"{words}\""));
        Some(Text { parts: vec![TextPart::Plain(words.into())], span })
    }

    /// `, finely chopped` behind an amount or a name: how it was prepared, which changes no
    /// sum. Anything else behind a comma may be a line that lacks its amount.
    fn preparation(&mut self, cursor: &mut Cursor) -> Option<Text> {
        let mut ahead = *cursor;
        if !ahead.take_comma() || ahead.on_new_line() {
            return None;
        }
        let first = ahead.here();
        let mut any = false;
        while let Some(word) = ahead.word() {
            if !is_preparation(word) {
                return None;
            }
            any = true;
            ahead.advance();
            if ahead.is_comma() && ahead.further().word().is_some_and(is_preparation) {
                ahead.advance();
            }
        }
        if !any || !(ahead.at_end() || ahead.is_comma()) {
            return None;
        }
        *cursor = ahead;
        let span = cursor.since(first);
        Some(Text { parts: vec![TextPart::Plain(cursor.under(span).into())], span })
    }

    /// `3 eggs (160 g)`, `1 egg, about 50 g`: what was weighed is what counts.
    fn weight_of_count(&mut self, cursor: &mut Cursor, line: &mut Line) -> Reading<()> {
        if !is_bare_count(&line.amount) || line.beside.is_some() {
            return Ok(());
        }
        let Some(begun) = weight_beside(cursor) else { return Ok(()) };
        let (gap, in_brackets) = (cursor.after(), cursor.is_sign("("));
        let mut ahead = begun;
        let weight = self.extent(&mut ahead, ExpectedAmount::Line)?;
        let words = self.worded(weight.span);
        let each = ahead.take("each");
        let _ = ["in total", "total", "altogether"]
            .iter()
            .any(|all| ahead.longest_of(&[all]).is_some());
        if in_brackets {
            ahead.advance();
        }
        let Amount::Measured { range, .. } = &mut line.amount else { return Ok(()) };
        let times = match (&range.low, each) {
            (Some(count), true) => count.number.clone(),
            _ => Exact::ONE,
        };
        let all = |end: Option<Quantity>| {
            end.map(|it| Quantity { number: it.number * times.clone(), ..it })
        };
        let weight = Extent { low: all(weight.low), high: all(weight.high), ..weight };
        *cursor = ahead;
        let each = if each { " each" } else { "" };
        self.reword(cursor.since(gap), format!(" ({words}{each})"));
        line.beside = Some(Box::new(std::mem::replace(range, weight)));
        Ok(())
    }

    /// `butter, softened, 50 g`: how it was prepared, between two commas before the amount.
    fn preparation_before_amount(&mut self, cursor: &mut Cursor) -> Option<Text> {
        let gap = cursor.after();
        let mut ahead = *cursor;
        if !ahead.take_comma() || ahead.on_new_line() {
            return None;
        }
        let first = ahead.here();
        while ahead.word().is_some_and(is_preparation) {
            ahead.advance();
        }
        let span = ahead.since(first);
        let ends = span.end > span.start && ahead.is_comma() && !ahead.further().on_new_line();
        if !ends || !begins_amount(&ahead.further(), ExpectedAmount::Line) {
            return None;
        }
        ahead.advance();
        self.reword(Span { end: ahead.here().start, ..gap }, " ");
        *cursor = ahead;
        Some(Text { parts: vec![TextPart::Plain(cursor.under(span).into())], span })
    }

    /// What may follow an amount: how a culture counts, and a note.
    fn rest_of_line(&mut self, cursor: &mut Cursor, first: Span, mut line: Line) -> Reading<Line> {
        let mut counted: Option<Span> = None;
        let mut note: Option<Text> = line.note.take();
        self.weight_of_count(cursor, &mut line)?;
        loop {
            let here = cursor.here();
            if cursor.take_from(BEHIND_AN_AMOUNT, "kept back") {
                let from = if cursor.take_from(BEHIND_AN_AMOUNT, "from") {
                    Some(self.kept_from(cursor)?)
                } else {
                    None
                };
                line.counting = Counting::KeptBack { from };
                self.once(&mut counted, cursor.since(here), "kept back");
            } else if cursor.take_from(BEHIND_AN_AMOUNT, "not split") {
                line.counting = Counting::NotSplit;
                self.once(&mut counted, cursor.since(here), "not split");
            } else if cursor.is_text() {
                let text = self.text(cursor);
                match &note {
                    Some(first) => self.fail(said_twice::finding(text.span, "note", first.span)),
                    None => note = Some(text),
                }
            } else if matches!(line.amount, Amount::AsNeeded | Amount::ToTaste)
                && note.is_none()
                && let Some(said) = purpose(cursor)
            {
                // `water as needed to knead`
                let words = cursor.under(said).trim().to_owned();
                while !cursor.at_end() {
                    cursor.advance();
                }
                self.reword(said, format!("\"{words}\""));
                note = Some(Text { parts: vec![TextPart::Plain(words.into())], span: said });
            } else if self.aside(cursor, &line.amount, &mut note) {
                continue;
            } else if is_volume(&line.amount) && note.is_none() && cursor.is("packed") {
                let text = cursor.under(here);
                cursor.advance();
                self.reword(here, format!("\"{text}\""));
                note = Some(Text { parts: vec![TextPart::Plain(text.into())], span: here });
            } else if note.is_none()
                && let Some(words) = self.preparation(cursor)
            {
                let gap = Span {
                    start: line.amount_span.end.max(line.target.name.span.end),
                    ..words.span
                };
                self.reword(gap, format!(" \"{}\"", cursor.under(words.span)));
                note = Some(words);
            } else if note.is_none() && cursor.is("at") && begins_temperature(&cursor.further()) {
                // `water 325 g at 30C`
                cursor.advance();
                self.extent(cursor, ExpectedAmount::Surroundings)?;
                let span = cursor.since(here);
                let text = self.worded(span);
                self.reword(span, format!("\"{text}\""));
                note = Some(Text { parts: vec![TextPart::Plain(text.into())], span });
            } else if let Some(extra) = extra(cursor) {
                return Err(unexpected_text::extra(extra, cursor.under(extra)).into());
            } else {
                break;
            }
        }
        if !cursor.at_end() && !cursor.is_comma() && next_line(cursor).is_none() {
            if let Some(said) = purpose(cursor) {
                let name = line.target.name.shown.as_str();
                return Err(unexpected_text::purpose(said, cursor.under(said), name).into());
            }
            return Err(left_behind_amount(cursor, &line.amount).into());
        }
        line.note = note;
        line.span = cursor.since(first);
        Ok(line)
    }

    /// Words behind an amount that mean nothing for the sum are a note: `, melted`,
    /// `(at room temperature)`.
    fn aside(&mut self, cursor: &mut Cursor, amount: &Amount, note: &mut Option<Text>) -> bool {
        let mut ahead = *cursor;
        let in_brackets = ahead.is_sign("(");
        if in_brackets || ahead.is_comma() {
            ahead.advance();
        } else if is_volume(amount) {
            // A cup of walnuts, chopped, is not a cup of chopped walnuts.
            return false;
        }
        let (first, start) = (ahead.here(), ahead);
        while ahead.word().is_some() {
            ahead.advance();
        }
        let span = ahead.since(first);
        let closes = if in_brackets {
            ahead.is_sign(")")
        } else {
            ahead.at_end() || ahead.is_comma() || ahead.is_text()
        };
        let said = start.under(span);
        // `(optional)`, `(large)`
        let is_known = || {
            let mut words = said.split([' ', ',']).filter(|word| !word.is_empty());
            in_brackets
                && !said.is_empty()
                && words.all(|word| {
                    is_preparation(word) || SIZES.iter().any(|it| it.eq_ignore_ascii_case(word))
                })
        };
        if !closes || !asides::are_asides(&asides::words_of(said)) && !is_known() {
            return false;
        }
        if in_brackets {
            ahead.advance();
        }
        let more = note.as_ref().map_or("", |_| ", ");
        let part = TextPart::Plain(format!("{more}{said}").into());
        match note {
            Some(note) => note.parts.push(part),
            None => {
                let gap = Span { start: cursor.after().end, ..ahead.since(first) };
                self.reword(gap, format!(" \"{said}\""));
                *note = Some(Text { parts: vec![part], span });
            }
        }
        *cursor = ahead;
        true
    }

    fn once(&mut self, place: &mut Option<Span>, span: Span, word: &str) {
        match place {
            Some(first) => self.fail(said_twice::finding(span, word, *first)),
            None => *place = Some(span),
        }
    }

    fn kept_from(&mut self, cursor: &mut Cursor) -> Reading<Name> {
        let here = cursor.here();
        match self.whole_name(cursor, |_| false) {
            Some(name) => Ok(name),
            None => Err(missing_name::missing_name(here, "stage").into()),
        }
    }

    /// The name at the start of a line.
    fn line_target(&mut self, cursor: &mut Cursor) -> Reading<Target> {
        if words_kind(&cursor.lower()).is_some() && cursor.further().is_text() {
            let here = cursor.here();
            return Err(misplaced_statement::no_note_here(here, cursor.under(here)).into());
        }
        let (first, start) = (cursor.here(), *cursor);
        let ends = |here: &Cursor| {
            is_soft_amount(here)
                || begins_amount_word(here)
                || purpose(here).is_some()
                || here.is_reserved() && is_aside_before(here)
                || past_hydration(here).is_some()
        };
        let ends = |here: &Cursor| ends(here) || joins_lines(here);
        let Some(mut name) = self.whole_name(cursor, ends) else {
            let rest = cursor.rest();
            return Err(unexpected_text::left_over(rest, cursor.under(rest), LINE_HELP).into());
        };
        if !start.is_text()
            && let Some(behind) = past_hydration(cursor)
        {
            *cursor = behind;
            let span = cursor.since(first);
            name = name_of(start.under(span), span);
        }
        if !start.is_text() && is_number_of_name(cursor) {
            cursor.advance();
            let span = cursor.since(first);
            name = name_of(start.under(span), span);
        }
        if !start.is_text()
            && let Some(behind) = past_type(cursor)
        {
            // `Weizenmehl, Type 550`
            let comma = cursor.here();
            *cursor = behind;
            let span = cursor.since(first);
            let both = format!("{} {}", name.shown, start.under(Span { start: comma.end, ..span }));
            name = name_of(both.trim(), span);
            self.reword(comma, "");
        }
        let weighed = weight_beside(cursor).is_some()
            || is_amount_in_brackets(cursor)
            || is_bracket_before_amount(cursor);
        let role = if weighed { None } else { self.role(cursor)?.map(Box::new) };
        if role.is_none() && !start.is_text() && aside_before_amount(cursor) {
            let span = cursor.since(first);
            name = name_of(start.under(span), span);
        }
        Ok(Target { name, role })
    }

    /// `water: 65%`: a sign that people write between a name and its amount.
    pub fn needless_sign(&mut self, cursor: &mut Cursor) {
        let sign = cursor.is_sign(":") || cursor.is_sign("=") || cursor.is_comma();
        let between = sign || cursor.is_dash();
        let behind = cursor.further();
        let begins = begins_amount(&behind, ExpectedAmount::Line)
            || !cursor.is_comma() && is_soft_amount(&behind);
        if between && begins && !is_minus(cursor) {
            let gap = Span { end: cursor.further().here().start, ..cursor.after() };
            // Without its comma, the last word of the name would belong to the amount.
            let before = self.text.get(..cursor.after().start as usize).unwrap_or_default();
            if !ends_between(before) {
                self.reword(gap, " ");
            }
            cursor.advance();
        }
    }

    /// `salt (2 tsp)`: passes the bracket before an amount that stands alone in it; says
    /// whether one stood here.
    fn amount_in_brackets(&mut self, cursor: &mut Cursor) -> bool {
        if !is_amount_in_brackets(cursor) {
            return false;
        }
        let gap = cursor.after();
        cursor.advance();
        self.reword(Span { end: cursor.here().start, ..gap }, " ");
        true
    }

    /// `1. bread flour 500 g`: the number of a line in a list.
    fn needless_list_number(&mut self, cursor: &mut Cursor) {
        let sign = cursor.further();
        let is_sign = sign.is_sign(".") || sign.is_sign(")");
        if !(cursor.is_number() && is_sign && sign.touches()) {
            return;
        }
        let next = sign.further();
        if !next.touches() && (next.word().is_some() || next.is_number()) {
            self.reword(Span { end: next.here().start, ..cursor.here() }, "");
            *cursor = next;
        }
    }

    /// `contains: wheat`: a sign that people write between a word and what it says.
    pub fn needless_colon(&mut self, cursor: &mut Cursor) {
        let sign = cursor.here();
        if cursor.is_sign(":") || cursor.is_sign("=") {
            let gap = Span { start: cursor.after().start, ..sign };
            cursor.advance();
            let (written, touches) = (cursor.under(sign), cursor.touches());
            self.report(misplaced_punctuation::needless_colon(sign, gap, written, touches));
        }
    }

    /// The amount of a line.
    pub fn amount(&mut self, cursor: &mut Cursor) -> Reading<Amount> {
        if let Some(soft) = self.soft(cursor) {
            return Ok(soft);
        }
        let range = self.extent(cursor, ExpectedAmount::Line)?;
        let base = self.base(cursor, &range)?.map(Box::new);
        Ok(Amount::Measured { range, base })
    }

    /// `of flour` and its like behind a percentage.
    pub fn base(&mut self, cursor: &mut Cursor, range: &Extent) -> Reading<Option<Base>> {
        let here = cursor.here();
        if !cursor.is("of") {
            return Ok(None);
        }
        let is_share =
            [&range.low, &range.high].into_iter().flatten().all(|end| end.unit == Unit::Percent);
        if !is_share {
            let rest = cursor.rest();
            return Err(wrong_kind_of_amount::of_behind_weight(rest, cursor.under(rest)).into());
        }
        cursor.advance();
        let Some(target) = self.target_of_part(cursor, ends_base)? else {
            return Err(missing_name::missing_name(here, "`of`").into());
        };
        let own = BASES.iter().find(|known| **known == target.name.key);
        Ok(Some(match (own.copied().unwrap_or_default(), &target.role) {
            ("flour", None) => Base::Flour,
            ("added flour", None) => Base::AddedFlour,
            ("dough", None) => Base::Dough,
            ("base dough", None) => Base::BaseDough,
            _ => Base::Of(target),
        }))
    }

    /// `3 egg`: read, and written the other way round. `00 flour 500 g`: a name that
    /// begins with a digit.
    fn amount_first(&mut self, cursor: &mut Cursor) -> Reading<Line> {
        let (first, start) = (cursor.here(), *cursor);
        let mark = self.rewordings.len();
        let mut amount = match self.soft(cursor) {
            Some(soft) => soft,
            None => self.first_amount(cursor)?,
        };
        let mut beside = self.beside_amount(cursor, &mut amount)?;
        let mut amount_span = cursor.since(first);
        let packed = self.packed(cursor, &amount);
        let _ = cursor.take_any(phrases!(OF));
        if cursor.is_dash() && cursor.further().word().is_some() {
            // `500 g - bread flour`
            cursor.advance();
        }
        self.needless_the(cursor);
        let name_from = cursor.here();
        if cursor.at_end() || cursor.is_comma() {
            let written = start.under(amount_span);
            return Err(missing_name::amount_without_name(amount_span, written).into());
        }
        let packet = cursor.here();
        let mut behind = cursor.further();
        if behind.is_sign(".") {
            behind = behind.further();
        }
        let says_size = cursor.word().is_some_and(unknown_unit::is_measure)
            || PACKETS.iter().chain(UNSURE).any(|word| cursor.is(word));
        let is_packet = is_bare_count(&amount) && says_size && behind.word().is_some();
        if is_packet {
            let units = ExpectedAmount::Line.units();
            return Err(unknown_unit::finding(packet, cursor.under(packet), units).into());
        }
        if let Some(measure) = measure_after_words(cursor).filter(|_| is_bare_count(&amount)) {
            let units = ExpectedAmount::Line.units();
            return Err(unknown_unit::finding(measure, cursor.under(measure), units).into());
        }
        let number = self.number_before_name(cursor, &amount);
        let mut target = self.line_target(cursor)?;
        if let Some(number) = number {
            let span = number.to(target.name.span);
            target.name = name_of(start.under(span), span);
        }
        let elided = ["d'", "d’", "l'", "l’"];
        let written = start.under(target.name.span);
        let gap = elided.iter().find(|of| written.to_lowercase().starts_with(**of));
        if let Some(gap) = gap.filter(|_| target.role.is_none()) {
            let span = target.name.span;
            let span = Span { start: span.start + gap.len() as u32, ..span };
            target.name = name_of(start.under(span), span);
        }
        let name_from = if gap.is_some() { target.name.span } else { name_from };
        let has_unit = matches!(&amount, Amount::Measured { .. }) && !is_bare_count(&amount);
        let before_joint = cursor.is_number() && joins_lines(&cursor.further());
        if has_unit && (ends_with_number(cursor) || before_joint) {
            cursor.advance();
            let span = cursor.since(name_from);
            target = Target { name: name_of(start.under(span), span), role: None };
        }
        let goes_on = has_unit && next_line(cursor).is_some();
        if is_bare_count(&amount) && is_egg(last_word(&target.name.key)) && is_mass_at_end(cursor) {
            // `1 egg 60 g`
            let count = self.worded(amount_span);
            let weight = self.extent(cursor, ExpectedAmount::Line)?;
            let words = self.worded(weight.span);
            let name = start.under(target.name.span).to_owned();
            self.reword(cursor.since(first), format!("{name} {count} ({words})"));
            if let Amount::Measured { range, .. } = &mut amount {
                beside = Some(Box::new(std::mem::replace(range, weight)));
            }
        } else if !goes_on
            && (begins_amount(cursor, ExpectedAmount::Line) || is_soft_amount(cursor))
        {
            let whole = cursor.since(first);
            // No amount begins with a nought, and no share has another amount: `00 flour 500 g`,
            // `2% milk 100 g`.
            if !start.under(first).starts_with('0') && !is_share(&amount) {
                self.report(reserved_word::digit_first(whole, start.under(whole)));
            }
            let named = Span { end: target.name.span.end, ..first };
            target.name = name_of(start.under(named), named);
            // What seemed an amount belongs to the name, which stays the author's own.
            self.rewordings.truncate(mark);
            let from = cursor.here();
            amount = self.amount(cursor)?;
            beside = self.beside_amount(cursor, &mut amount)?;
            amount_span = cursor.since(from);
        } else {
            let name = self.worded(cursor.since(name_from));
            // In front of the line it would be a statement or an amount, not a name.
            if let Some(word) = statement_begun(&name) {
                let span = target.name.span;
                return Err(reserved_word::statement_first(span, start.under(span), word).into());
            }
            let mut words = self.worded(amount_span);
            if beside.is_none() && !is_bare_count(&amount) {
                // `2 cups sugar (400 g)`
                let bracket = cursor.here();
                beside = self.beside_amount(cursor, &mut amount)?;
                if beside.is_some() {
                    words = format!("{words} {}", self.worded(cursor.since(bracket)));
                }
            }
            let written = if ends_in_digit(&name) { whole_or_decimal(&words) } else { Some(words) };
            // `550 Mehl 500 g` would begin with an amount, as `00 flour` and `2% milk` do not.
            let written = written.filter(|_| !begins_as_count(&name) && !ends_between(&name));
            // `farina 0 1/2 kg` would be another name and another amount.
            if let Some(amount) = written {
                let how = packed.as_ref().map(|it| format!(" \"{}\"", start.under(it.span)));
                let turned = format!("{name} {amount}{}", how.unwrap_or_default());
                self.reword(Span { end: cursor.after().end, ..first }, turned);
            }
        }
        let line = Line {
            target,
            amount,
            amount_span,
            beside,
            counting: Counting::Counted,
            note: packed,
            span: first,
        };
        self.rest_of_line(cursor, first, line)
    }

    /// `packed` between a cup and what is in it: how the cup is filled.
    fn packed(&mut self, cursor: &mut Cursor, amount: &Amount) -> Option<Text> {
        let first = cursor.here();
        let words = phrases!([
            "packed",
            "firmly packed",
            "tightly packed",
            "lightly packed",
            "loosely packed",
        ]);
        if !is_volume(amount) || cursor.take_longest(words).is_none() || cursor.at_end() {
            return None;
        }
        let span = cursor.since(first);
        Some(Text { parts: vec![TextPart::Plain(cursor.under(span).into())], span })
    }

    /// The number that a name begins with: the `00` of `500 g 00 flour`.
    fn number_before_name(&mut self, cursor: &mut Cursor, amount: &Amount) -> Option<Span> {
        let number = cursor.here();
        let mut ahead = cursor.further();
        if ahead.is_sign("%") {
            ahead.advance();
        }
        let is_part = cursor.is_number()
            && !is_bare_count(amount)
            && ahead.word().is_some_and(|word| Unit::read(word).is_none())
            && unit_here(&cursor.further(), ExpectedAmount::Line)
                .is_none_or(|unit| unit == Unit::Percent);
        is_part.then(|| {
            *cursor = ahead;
            number
        })
    }

    /// An amount without a number.
    fn soft(&mut self, cursor: &mut Cursor) -> Option<Amount> {
        let first = cursor.here();
        let soft = soft_amount(cursor)?;
        let span = cursor.since(first);
        let written = self.under(span).to_lowercase();
        let ours = match soft {
            Amount::Pinch if !written.contains("pinch") => "a pinch",
            Amount::ToTaste => "to taste",
            Amount::AsNeeded => "as needed",
            _ => return Some(soft),
        };
        if written != ours {
            self.reword(span, ours);
        }
        Some(soft)
    }

    /// The amount at the start of a line; a number in words is a count where no unit follows.
    fn first_amount(&mut self, cursor: &mut Cursor) -> Reading<Amount> {
        let first = cursor.here();
        let counted = spoken(cursor).filter(|_| !begins_amount(cursor, ExpectedAmount::Line));
        let Some((number, behind)) = counted else {
            return Ok(Amount::Measured {
                range: self.extent(cursor, ExpectedAmount::Line)?,
                base: None,
            });
        };
        *cursor = behind;
        let span = cursor.since(first);
        let (number, unit, text) = figures(&number, Unit::Count);
        self.reword(span, text.trim_end());
        let count = Quantity { number, unit, decimals: None, span };
        let range = Extent { low: Some(count.clone()), high: Some(count), ranged: false, span };
        Ok(Amount::Measured { range, base: None })
    }

    /// `half of the butter`
    fn needless_the(&mut self, cursor: &mut Cursor) {
        if cursor.is("the") {
            cursor.advance();
        }
    }

    /// `type 55 flour 80%`: a name with a number in it needs quotes.
    fn name_with_number(
        &mut self,
        cursor: &mut Cursor,
        start: &Cursor,
        amount: &Amount,
    ) -> Option<Name> {
        if !is_bare_count(amount) || cursor.word().is_none_or(continues_line) {
            return None;
        }
        let mut ahead = *cursor;
        while ahead.word().is_some() {
            ahead.advance();
        }
        if !ahead.is_number() {
            return None;
        }
        let span = ahead.since(start.here());
        self.report(reserved_word::number_inside(span, start.under(span)));
        *cursor = ahead;
        Some(name_of(start.under(span), span))
    }
}

fn ends_in_digit(name: &str) -> bool {
    name.ends_with(|sign: char| sign.is_ascii_digit())
}

/// Whether the last word of a text would be taken for the beginning of a range after it.
fn ends_between(text: &str) -> bool {
    let word = text.trim_end().rsplit(is_blank).next().unwrap_or_default().to_lowercase();
    BETWEEN.contains(&word.as_str())
}

/// Whether a name begins with a number that counts: `550 Mehl`.
fn begins_as_count(name: &str) -> bool {
    let behind = name.trim_start_matches(|sign: char| sign.is_ascii_digit() || sign == '.');
    behind.len() < name.len() && !name.starts_with('0') && !behind.starts_with('%')
}

/// An amount as it can follow a name that ends in a digit: a fraction in decimals, and none
/// where it has too many of them.
fn whole_or_decimal(words: &str) -> Option<String> {
    let end = words.find(|sign: char| sign.is_alphabetic()).unwrap_or(words.len());
    let (number, unit) = words.split_at(end);
    let is_plain = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let part_has_stroke = number.contains(['/', '\u{2044}']) || !number.is_ascii();
    if !part_has_stroke {
        return (!words.is_empty()).then(|| words.to_owned());
    }
    let parts = number.split_whitespace().map(|part| read_number(part).ok().map(|it| it.value));
    let value = parts.sum::<Option<Exact>>()?;
    let written = trimmed(&value, 3);
    let is_exact = read_number(&written).is_ok_and(|read| read.value == value);
    (is_exact && is_plain(&written)).then(|| format!("{written} {}", unit.trim()))
}

/// Whether a line is surely a name and its amount: not `Type 550`, nor a weight or a count of
/// no more than what was said before.
fn is_sure(line: &Line) -> bool {
    !is_bare_count(&line.amount) || !is_type(&line.target.name.key)
}

fn is_type(word: &str) -> bool {
    ["type", "typ", "tipo", "typo"].iter().any(|known| known.eq_ignore_ascii_case(word))
}

/// The place behind `, Type 550`, which goes on with a name.
fn past_type<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let behind = cursor.is_comma().then(|| cursor.further())?;
    let number = behind.word().filter(|word| is_type(word)).map(|_| behind.further())?;
    let is_number = number.is_number() && (ends_with_number(&number) || is_number_of_name(&number));
    (is_number && !behind.on_new_line()).then(|| number.further())
}

/// Where a weight beside a count begins: in brackets, or behind a comma at the end of the line.
fn weight_beside<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let in_brackets = cursor.is_sign("(");
    if !in_brackets && !cursor.is_comma() {
        return None;
    }
    let behind = cursor.further();
    let begun = behind_about(&behind).unwrap_or(behind);
    let unit = past_number(&begun)?;
    unit_here(&unit, ExpectedAmount::Line).filter(|unit| unit.dimension() == Dimension::Mass)?;
    let mut ahead = unit.further();
    while ["each", "total", "in", "altogether"].iter().any(|word| ahead.is(word)) {
        ahead.advance();
    }
    let closes = if in_brackets { ahead.is_sign(")") } else { ahead.at_end() };
    (closes && !behind.on_new_line()).then_some(begun)
}

/// Of two amounts of one line the weight becomes its amount; the other is what stands beside.
fn lighter_of(amount: &mut Amount, beside: Extent) -> Option<Box<Extent>> {
    let Amount::Measured { range, base: None } = amount else { return None };
    let is_of = |extent: &Extent, dimension| {
        unit_of(extent).is_some_and(|unit| unit.dimension() == dimension)
    };
    let is_turned = is_of(range, Dimension::Volume) && is_of(&beside, Dimension::Mass);
    Some(Box::new(if is_turned { std::mem::replace(range, beside) } else { beside }))
}

/// The place behind `(2 sticks)`.
fn sticks_in_brackets<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    if !cursor.is_sign("(") {
        return None;
    }
    let mut ahead = past_number(&cursor.further())?;
    (ahead.take("stick") || ahead.take("sticks")).then_some(())?;
    ahead.is_sign(")").then(|| ahead.further())
}

/// Whether an amount stands here in brackets and another one behind it.
fn is_bracket_before_amount(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    if !cursor.is_sign("(") || !begins_amount(&behind, ExpectedAmount::Line) {
        return false;
    }
    let measured = |at: &Cursor| {
        unit_here(at, ExpectedAmount::Line)
            .is_some_and(|unit| matches!(unit.dimension(), Dimension::Mass | Dimension::Volume))
    };
    let closing = past_number(&behind).filter(measured).map(|at| at.further());
    closing.is_some_and(|at| {
        at.is_sign(")") && !at.further().on_new_line() && at.further().is_number()
    })
}

/// Whether an amount stands here alone in brackets, with which the line ends.
fn is_amount_in_brackets(cursor: &Cursor) -> bool {
    if sticks_in_brackets(cursor).is_some_and(|behind| behind.at_end()) {
        return true;
    }
    let behind = cursor.further();
    if !cursor.is_sign("(") || !begins_amount(&behind, ExpectedAmount::Line) {
        return false;
    }
    let unit = past_number(&behind).filter(|at| unit_here(at, ExpectedAmount::Line).is_some());
    let closing = unit.map(|at| if at.is_sign("°") { at } else { at.further() });
    closing.is_some_and(|at| at.is_sign(")") && at.further().at_end())
}

/// Words for about so many, of which none is a number.
const ABOUT_SO_MANY: &[&str] = &[
    "dizaine",
    "quinzaine",
    "vingtaine",
    "trentaine",
    "quarantaine",
    "cinquantaine",
    "centaine",
    "decina",
    "ventina",
    "trentina",
    "decena",
    "veintena",
];

/// A measure behind a word or two that say how it is filled, with what is in it: the `halbes
/// Pfund` of `ein halbes Pfund Butter`, the `lb4` of `1lb4 flour`. Whatever counts there is no
/// name.
fn measure_after_words(cursor: &Cursor) -> Option<Span> {
    const MOST: usize = 2;
    let first = cursor.here();
    let word = cursor.word()?;
    let is_glued = || {
        let unit = word.trim_end_matches(|sign: char| sign.is_ascii_digit());
        unit.len() < word.len() && ["lb", "oz", "kg", "g"].contains(&unit.to_lowercase().as_str())
    };
    let goes_on = |at: &Cursor| at.further().word().is_some() && !at.further().on_new_line();
    if (cursor.is_any(phrases!(ABOUT_SO_MANY)) || is_glued()) && goes_on(cursor) {
        return Some(first);
    }
    let mut ahead = *cursor;
    for _ in 0..MOST {
        ahead.advance();
        let word = ahead.word()?;
        // `2 eggs L` has a size, and litres are no word.
        let is_unit = || {
            let unit = unit_here(&ahead, ExpectedAmount::Line);
            unit.is_some_and(|it| matches!(it.dimension(), Dimension::Mass | Dimension::Volume))
        };
        if word.chars().count() > 3
            && (is_unit() || unknown_unit::is_measure(word))
            && goes_on(&ahead)
        {
            return Some(first.to(ahead.here()));
        }
    }
    None
}

/// Whether a weight stands here and nothing behind it.
fn is_mass_at_end(cursor: &Cursor) -> bool {
    let unit = past_number(cursor);
    unit.is_some_and(|at| {
        let is_mass = unit_here(&at, ExpectedAmount::Line)
            .is_some_and(|unit| unit.dimension() == Dimension::Mass);
        is_mass && at.further().at_end()
    })
}

/// Words that join two lines into one.
const JOINTS: [&str; 6] = ["and", "plus", "und", "et", "y", "e"];

/// Whether a word or a sign stands here that joins two lines, the next of which begins with
/// its amount.
fn joins_lines(cursor: &Cursor) -> bool {
    let joins =
        cursor.is_sign("+") || cursor.is_sign("&") || JOINTS.iter().any(|joint| cursor.is(joint));
    joins && begins_whole_line(&cursor.further())
}

/// The line that goes on here, behind a joint or nothing at all.
fn next_line<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    if joins_lines(cursor) {
        return Some(cursor.further());
    }
    let is_measured =
        past_number(cursor).and_then(|at| unit_here(&at, ExpectedAmount::Line)).is_some();
    (is_measured && begins_whole_line(cursor)).then_some(*cursor)
}

/// Whether an amount and a name stand here.
fn begins_whole_line(cursor: &Cursor) -> bool {
    let Some(behind) = past_number(cursor).or_else(|| spoken(cursor).map(|(_, behind)| behind))
    else {
        return false;
    };
    let name = match unit_here(&behind, ExpectedAmount::Line) {
        Some(_) => behind.further(),
        None => behind,
    };
    name.word().is_some() && !name.is_reserved() && !name.on_new_line()
}

/// The place behind `a good splash of`, `un filet d'`: an amount that nobody can weigh, and
/// what joins it to its name.
fn past_vague<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    const ARTICLES: &[&str] =
        &["a few", "a", "an", "un", "une", "una", "uno", "ein", "eine", "einen", "one"];
    const HOW: &[&str] = &[
        "good",
        "big",
        "large",
        "small",
        "tiny",
        "generous",
        "little",
        "wee",
        "bon",
        "bonne",
        "petit",
        "petite",
        "gros",
        "grosse",
        "buen",
        "buena",
        "pequeño",
        "generoso",
        "bel",
        "bella",
        "piccolo",
        "guter",
        "gute",
        "guten",
        "großer",
        "große",
        "kleiner",
        "kleine",
        "ordentlicher",
    ];
    const NOUNS: &[&str] = &[
        "splash",
        "splashes",
        "dash",
        "drizzle",
        "glug",
        "glugs",
        "knob",
        "handful",
        "handfuls",
        "dollop",
        "dollops",
        "sprinkle",
        "sprinkling",
        "drop",
        "drops",
        "swirl",
        "spoonful",
        "sprigs",
        "filet",
        "trait",
        "noix",
        "goutte",
        "gouttes",
        "poignée",
        "poignées",
        "filo",
        "goccio",
        "goccia",
        "noce",
        "manciata",
        "manciate",
        "pugno",
        "spruzzo",
        "chorrito",
        "chorro",
        "puñado",
        "puñados",
        "nuez",
        "Schuss",
        "Spritzer",
        "Handvoll",
        "Klecks",
        "Stich",
        "Tropfen",
    ];
    let mut ahead = *cursor;
    match ahead.take_longest(phrases!(ARTICLES)) {
        Some(_) => {}
        None if ahead.is_number() && !ahead.further().touches() => ahead.advance(),
        None => return None,
    }
    let _ = HOW.iter().any(|how| ahead.take(how));
    NOUNS.iter().any(|noun| ahead.take(noun)).then_some(())?;
    let _ = OF.iter().any(|of| ahead.take(of));
    Some(ahead)
}

/// `, scalded` behind an amount: words up to the end of the statement that say no amount.
fn words_without_amount(cursor: &Cursor) -> Option<Span> {
    let mut ahead = cursor.further();
    let first = ahead.here();
    while !ahead.at_end() {
        let is_amount = ahead.is_comma()
            || ahead.word().is_none()
            || spoken(&ahead).is_some()
            || ahead.one_of(SOFT_AMOUNTS).is_some()
            || ahead.is_any(phrases!(PINCHES));
        if is_amount || ahead.on_new_line() {
            return None;
        }
        ahead.advance();
    }
    (ahead.rest() != cursor.further().rest()).then(|| ahead.since(first))
}

/// Takes words before an amount that mean nothing, behind a comma or by themselves:
/// `walnuts, chopped 50 g`, `butter at room temperature 50 g`.
fn aside_before_amount(cursor: &mut Cursor) -> bool {
    let mut ahead = *cursor;
    ahead.take_comma();
    let (first, start) = (ahead.here(), ahead);
    while ahead.word().is_some() {
        ahead.advance();
    }
    let words = asides::words_of(start.under(ahead.since(first)));
    let found = ahead.is_number() && !words.is_empty() && asides::are_asides(&words);
    if found {
        *cursor = ahead;
    }
    found
}

/// The place behind `at 100% hydration`, which says how a starter is.
fn past_hydration<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    if !ahead.take("at") {
        return None;
    }
    let mut behind = past_number(&ahead)?;
    if !behind.is_sign("%") && unit_here(&behind, ExpectedAmount::Line) != Some(Unit::Percent) {
        return None;
    }
    behind.advance();
    behind.take("hydration").then_some(behind)
}

fn is_aside_before(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    aside_before_amount(&mut ahead)
}

/// Whether a line begins with its amount: in digits, as it is said, or a pinch. A number in
/// words counts only where no amount follows the name: `five spice 2 g` is a name.
fn begins_with_amount(cursor: &Cursor) -> bool {
    if cursor.is_number() || is_pinch(cursor) || is_minus(cursor) || begins_with_soft(cursor) {
        return true;
    }
    if behind_about(cursor).is_some_and(|ahead| begins_amount(&ahead, ExpectedAmount::Line))
        || cursor.are("up", "to")
            && begins_amount(&cursor.further().further(), ExpectedAmount::Line)
        || says_between(cursor) && begins_amount(&cursor.further(), ExpectedAmount::Line)
        || begins_amount(cursor, ExpectedAmount::Line)
    {
        return true;
    }
    let Some((_, mut ahead)) = spoken(cursor) else { return false };
    let mut named = false;
    while ahead.word().is_some() && !is_soft_amount(&ahead) && !begins_amount_word(&ahead) {
        named = true;
        ahead.advance();
    }
    named && (ahead.at_end() || ahead.is_comma() || ahead.is_text())
}

/// Whether a line begins with an amount without a number: `q.b. sale`, `all the levain`. What
/// has its amount behind it is a name: `all purpose flour 500 g`.
fn begins_with_soft(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    match soft_as_said(cursor) {
        Some((_, behind)) => {
            ahead = behind;
            let _ = ahead.take_any(phrases!(OF));
        }
        None => {
            let whole = ahead.take("all")
                || ahead.are("the", "rest") && ahead.take("the") && ahead.take("rest");
            let of = whole && ahead.take("of");
            if !(ahead.take("the") || of) {
                return false;
            }
        }
    }
    let first = ahead.here();
    while ahead.word().is_some() && !is_soft_amount(&ahead) && !begins_amount_word(&ahead) {
        ahead.advance();
    }
    ahead.here() != first && (ahead.at_end() || ahead.is_comma() || ahead.is_text())
}

/// Whether an amount that begins with a word stands here, behind a name.
fn begins_amount_word(cursor: &Cursor) -> bool {
    let bounded = (cursor.are("up", "to") || cursor.are("at", "least") || cursor.are("at", "most"))
        && begins_amount(&cursor.further().further(), ExpectedAmount::Line);
    let about =
        || behind_about(cursor).is_some_and(|ahead| begins_amount(&ahead, ExpectedAmount::Line));
    let between = says_between(cursor) && begins_amount(&cursor.further(), ExpectedAmount::Line);
    between
        || bounded
        || about()
        || (!cursor.is_number() && begins_amount(cursor, ExpectedAmount::Line))
}

fn unit_of(extent: &Extent) -> Option<Unit> {
    extent.low.as_ref().or(extent.high.as_ref()).map(|end| end.unit)
}

/// The role of a line that is taken as needed, beside the weighed one of the same name.
const EXTRA: &str = "extra";

const LINE_HELP: &str = "a line is a name and its amount, such as `water 65%`";

/// The finding for `water5%` and `water5 g`, where the blank before the number is missing.
fn glued(start: &Cursor) -> Option<Box<Finding>> {
    let mut cursor = *start;
    while let Some(word) = cursor.word() {
        let letters = word.trim_end_matches(|c: char| c.is_ascii_digit());
        let behind = cursor.further();
        let has_unit = behind.is_sign("%") || behind.word().and_then(Unit::read).is_some();
        if has_unit && !letters.is_empty() && letters.len() < word.len() {
            let digits = word.get(letters.len()..).unwrap_or("");
            return Some(malformed_name::no_blank(cursor.here(), word, letters, digits).into());
        }
        cursor.advance();
    }
    None
}

/// Findings that hold whatever the first word of their line is.
const ABOUT_CONTENT: [&str; 7] = [
    "decimal-comma",
    "declared-twice",
    "division-by-zero",
    "number-too-large",
    "range-reversed",
    "reserved-word",
    "said-twice",
];

/// The finding for a line that can't be read, where its first word looks like a statement
/// of the block that is misspelt.
fn statement_meant(cursor: &Cursor, finding: Finding, known: &[&'static str]) -> Finding {
    let is_about_shape = !ABOUT_CONTENT.contains(&finding.rule.name);
    let word = cursor.word().filter(|_| is_about_shape).unwrap_or("");
    let of_units = [wrong_kind_of_amount::RULE.name, unknown_unit::RULE.name];
    let is_time = of_units.contains(&finding.rule.name)
        && past_words(cursor)
            .and_then(|at| past_number(&at))
            .is_some_and(|at| unit_here(&at, ExpectedAmount::Time).is_some());
    if is_time {
        let (whole, at) = (cursor.rest(), past_words(cursor).unwrap_or(*cursor));
        let written = cursor.under(whole);
        if known.contains(&"ripens") {
            return unknown_word::ripens(whole, written, cursor.under(at.rest()));
        }
        if Verb::read(word).is_some() || other_verb(&word.to_lowercase()).is_some() {
            return misplaced_statement::step_among_lines(whole, written);
        }
    }
    let whole = cursor.rest();
    let words = cursor.under(whole);
    if known.contains(&"ripens") && only_words(cursor) && words.ends_with("overnight") {
        return unknown_word::ripens(whole, words, "8h..12h");
    }
    match near(word, known) {
        Some(near) => unknown_word::statement_meant(cursor.here(), word, near),
        None => finding,
    }
}

/// How long a stage waits in another word than ours: `ferment 12 hours at 22C`, `ready in 8h`.
fn wait_meant(cursor: &Cursor) -> Option<Span> {
    let words = phrases!([
        "ferment",
        "leave",
        "let",
        "let it",
        "let stand",
        "leave to ferment",
        "leave it",
        "stand",
        "rest",
        "prove",
        "rise",
        "mature",
        "ripen",
        "ripe",
        "ready",
        "wait",
        "reifen",
        "reift",
        "gärt",
        "ruht",
        "steht",
        "madura",
        "madurar",
        "fermenta",
        "fermentar",
        "reposa",
        "mûrit",
        "mûrir",
        "fermente",
        "fermenter",
        "repose",
        "matura",
        "maturare",
        "fermentare",
        "riposa"
    ]);
    let mut ahead = *cursor;
    ahead.take_longest(words)?;
    let _ =
        ahead.take_any(phrases!(["for", "in", "after", "to", "nach", "pendant", "durante", "per"]));
    let unit = past_number(&ahead).filter(|at| unit_here(at, ExpectedAmount::Time).is_some());
    unit.map(|_| ahead.rest())
}

/// Whether only words, and a sign of a heading, stand here to the end.
fn only_words(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    while ahead.word().is_some() {
        ahead.advance();
    }
    ahead.at_end() || ahead.is_sign(":") && ahead.further().at_end()
}

/// The finding for what stands among lines and is none as a whole: `Flours:`, `sugar,30,g`.
fn no_line(cursor: &Cursor) -> Option<Finding> {
    let rest = cursor.rest();
    let written = cursor.under(rest);
    let mut ahead = *cursor;
    while ahead.word().is_some() {
        ahead.advance();
    }
    let named = ahead.rest().start > rest.start;
    if named && ahead.is_sign(":") && ahead.further().at_end() {
        return Some(misplaced_punctuation::heading(rest, written));
    }
    if !(named && ahead.is_comma() && ahead.further().is_number()) {
        return None;
    }
    let unit = past_number(&ahead.further())?.further();
    let is_unit = unit.word().and_then(Unit::certain).is_some()
        || matches!(unit.peek_kind(), Some(TokenKind::Unit));
    let is_csv = written.matches(',').count() == 2 && is_unit && unit.further().at_end();
    is_csv.then(|| misplaced_punctuation::commas_in_a_line(rest, written))
}

/// The place behind the words that a line begins with.
fn past_words<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    while ahead.word().is_some() {
        ahead.advance();
    }
    ahead.is_number().then_some(ahead)
}

/// The statement of two words of which one is misspelt: `at leest 20 g jar`.
fn two_words_meant(cursor: &Cursor, known: &[&'static str]) -> Option<&'static str> {
    let (one, two) = (cursor.word()?, cursor.further().word()?);
    let is_slip = |own: &str, word: &'static str| match word.len() {
        0..=2 => own.len() == word.len(),
        _ => near(own, &[word]).is_some(),
    };
    known.iter().copied().find(|known| {
        known.split_once(' ').is_some_and(|(first, second)| {
            (one.eq_ignore_ascii_case(first) && is_slip(two, second))
                || (two.eq_ignore_ascii_case(second) && is_slip(one, first))
        })
    })
}

/// Whether a statement of a block of lines belongs to the block around it.
fn belongs_outside(statement: &Statement, word: &str, is_lacking: bool) -> bool {
    if statement.has_block() {
        return OF_A_FORMULA.contains(&word) || OF_A_FILE.contains(&word);
    }
    is_lacking && is_formula_line(&statement.cursor)
}

/// The word of a statement that a name, as it is written, begins with.
fn statement_begun(name: &str) -> Option<&'static str> {
    let lower = name.to_lowercase();
    // The flour for all purposes is no amount, however it is spelt.
    if lower.starts_with("all purpose") {
        return None;
    }
    let begins = |word: &&&str| {
        let behind = lower.strip_prefix(&*word.to_lowercase());
        // So with a hyphen.
        let goes_on = |next: char| next.is_alphanumeric() || next == '-';
        behind.is_some_and(|behind| !behind.starts_with(goes_on))
    };
    let words = [OF_LINES, OF_A_STAGE, OF_A_PIECE, SOFT_AMOUNTS, PINCHES];
    words.into_iter().flatten().find(begins).copied()
}

/// Whether a statement without braces is one of a formula and no line of a mix.
fn is_formula_line(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    match &*cursor.lower() {
        "makes" => behind.is_number(),
        "bake" | "make-up" => behind.is("loss"),
        "headnote" | "equipment" | "storage" => behind.is_text(),
        _ => false,
    }
}

/// Whether an amount without a number begins here, behind a name.
fn is_soft_amount(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    soft_amount(&mut ahead).is_some()
        && (ahead.at_end()
            || ahead.is_comma()
            || ahead.is_text()
            || ahead.is_reserved()
            || ahead.word().is_some_and(continues_line))
}

fn soft_amount(cursor: &mut Cursor) -> Option<Amount> {
    if let Some(behind) = past_pinch(cursor) {
        *cursor = behind;
        return Some(Amount::Pinch);
    }
    if let Some((ours, behind)) = soft_as_said(cursor) {
        *cursor = behind;
        return Some(if ours == "to taste" { Amount::ToTaste } else { Amount::AsNeeded });
    }
    Some(match cursor.take_one_of(SOFT_AMOUNTS)? {
        "to taste" => Amount::ToTaste,
        "as needed" => Amount::AsNeeded,
        "the rest" => Amount::Rest,
        _ => Amount::All,
    })
}

/// `as required`, `nach Geschmack`, `q.b.`: an amount of ours in other words.
fn soft_as_said<'a>(cursor: &Cursor<'a>) -> Option<(&'static str, Cursor<'a>)> {
    const STARTS: &Starts = &Starts::of_groups(OTHER_SOFT_AMOUNTS);
    let likely = STARTS.may_begin(cursor.begins());
    for (ours, said) in OTHER_SOFT_AMOUNTS.iter().filter(|_| likely) {
        let mut ahead = *cursor;
        if ahead.longest_of(said).is_some() {
            return Some((ours, ahead));
        }
    }
    // Quanto basta, quantum satis, cantidad necesaria, nach Bedarf.
    let letters = [("q", "b"), ("q", "s"), ("c", "n"), ("n", "B")];
    letters.iter().find_map(|(one, two)| {
        let mut ahead = *cursor;
        ahead.take(one).then_some(())?;
        ahead.is_sign(".").then(|| ahead.advance())?;
        ahead.take(two).then_some(())?;
        if ahead.is_sign(".") {
            ahead.advance();
        }
        Some(("as needed", ahead))
    })
}

/// What a line is for, in words that begin as a name may go on: they count with what they
/// are for.
static PURPOSES: [(&str, Phrases); 6] = [
    (
        "to",
        Phrases::of(&[
            "mix", "knead", "bind", "serve", "finish", "glaze", "brush", "dust", "grease", "coat",
            "make", "form", "bring", "get", "moisten", "sprinkle", "decorate",
        ]),
    ),
    (
        "zum",
        Phrases::of(&[
            "bestäuben",
            "bestreichen",
            "bestreuen",
            "einfetten",
            "bearbeiten",
            "formen",
            "bemehlen",
        ]),
    ),
    ("für", Phrases::of(&["die", "das"])),
    (
        "pour",
        Phrases::of(&[
            "fleurer",
            "fariner",
            "dorer",
            "badigeonner",
            "graisser",
            "saupoudrer",
            "le",
            "la",
        ]),
    ),
    (
        "para",
        Phrases::of(&[
            "espolvorear",
            "enharinar",
            "pintar",
            "engrasar",
            "decorar",
            "amasar",
            "la",
            "el",
        ]),
    ),
    (
        "per",
        Phrases::of(&[
            "spolverare",
            "infarinare",
            "spennellare",
            "ungere",
            "decorare",
            "la",
            "il",
            "lo",
        ]),
    ),
];

/// `for dusting`, `to mix`, `zum Bestäuben` at the end of a line: what it is for, in place of
/// an amount.
fn purpose(cursor: &Cursor) -> Option<Span> {
    let next = cursor.further();
    let is_said = |(word, verbs): &(&str, Phrases)| cursor.is(word) && next.is_any(verbs);
    if !cursor.is("for") && !PURPOSES.iter().any(is_said) {
        return None;
    }
    let (first, mut ahead) = (cursor.here(), next);
    while ahead.word().is_some() {
        ahead.advance();
    }
    (ahead.at_end() && ahead.after().end > first.end).then(|| ahead.since(first))
}

/// `plus extra for dusting` behind an amount.
fn extra(cursor: &Cursor) -> Option<Span> {
    let mut ahead = *cursor;
    ahead.take_comma();
    if ahead.on_new_line() {
        return None;
    }
    let first = ahead.here();
    if ahead.is_sign("+") || ahead.is_sign("&") {
        // `1 tbsp oil + extra for greasing`
        ahead.advance();
        return ahead.is_any(phrases!(["extra", "more"])).then(|| first.to(ahead.rest()));
    }
    let words = phrases!([
        "plus extra",
        "plus more",
        "plus a little extra",
        "plus a little more",
        "plus a bit extra",
        "plus a bit more",
        "plus some extra",
        "plus some more",
        "plus flour for",
        "and extra",
        "and a little more",
        "plus etwas mehr",
        "plus etwas",
        "und etwas mehr",
        "und etwas für",
        "und etwas zum",
        "plus un peu",
        "et un peu plus",
        "más un poco",
        "y un poco más",
        "más extra",
        "più un po'",
        "più un po",
        "più altra"
    ]);
    let said = ahead.take_longest(words).is_some() || ahead.take("extra") && ahead.is("for");
    said.then(|| first.to(ahead.rest()))
}

/// Pieces of which one is not known to weigh anything.
const UNSURE: &[&str] = &[
    "cube", "cubes", "Würfel", "cubetto", "cubetti", "cubito", "stick", "sticks", "taza", "tazas",
    "tasse", "tasses", "Tassen", "tazza", "tazze",
];

/// `zest of 1 lemon`: the part, and what it is of.
fn part_of_fruit<'a>(cursor: &Cursor<'a>) -> Option<(&'static str, &'a str)> {
    let mut ahead = *cursor;
    let _ = ahead.take_any(phrases!(["grated", "finely", "the"]));
    let part = ["zest", "juice"].into_iter().find(|part| ahead.take(part))?;
    if !ahead.take("of") {
        return None;
    }
    let mut fruit = None;
    while !ahead.at_end() && !ahead.is_comma() {
        fruit = ahead.word().or(fruit);
        ahead.advance();
    }
    Some((part, fruit?))
}

/// What is said for an amount and is none.
const VAGUE: &[&str] = &[
    "a bit of",
    "a dash of",
    "a drizzle of",
    "a few",
    "a glug of",
    "a good handful of",
    "a handful of",
    "a knob of",
    "a little",
    "a little bit of",
    "a small handful of",
    "a splash of",
    "enough",
    "just enough",
    "a sprinkle of",
    "a sprinkling of",
    "bit of",
    "dash of",
    "drizzle of",
    "glug of",
    "handful of",
    "knob of",
    "some",
    "splash of",
    "sprinkle of",
    "sprinkling of",
    "ein bisschen",
    "ein wenig",
    "eine handvoll",
    "etwas",
    "un filet de",
    "un filo di",
    "un noeud de",
    "un peu de",
    "un po di",
    "un poco de",
    "un pugno di",
    "un puñado de",
    "una noce di",
    "une noix de",
    "une poignée de",
];

/// Whether a name is a figure that is worked out from the lines, and none of them.
fn is_figure(key: &str) -> bool {
    const WORKED_OUT: [&str; 10] = [
        "hydration",
        "effective hydration",
        "true hydration",
        "liquids",
        "prefermented flour",
        "inoculation",
        "total percentage",
        "dough yield",
        "total",
        "total weight",
    ];
    WORKED_OUT.contains(&key)
}

fn is_pinch(cursor: &Cursor) -> bool {
    past_pinch(cursor).is_some()
}

/// The place behind `a pinch`, `1 pinch`, `2 pinches`, `pinch`, `a good pinch`.
fn past_pinch<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    if !SOFT_AMOUNTS.contains(&"pinch") {
        return None;
    }
    let mut ahead = *cursor;
    match spoken(&ahead) {
        Some((_, behind)) => ahead = behind,
        None if ahead.is_number() => ahead.advance(),
        None => {
            let _ = ahead.take_any(phrases!(["un", "une", "una", "eine"]));
        }
    }
    let _ = ahead.take_any(phrases!(["good", "generous", "large", "big", "small"]));
    ahead.take_any(phrases!(PINCHES)).then_some(ahead)
}

/// Whether a word behind an amount goes on with the line.
fn continues_line(word: &str) -> bool {
    ["of", "kept", "not"].iter().any(|known| known.eq_ignore_ascii_case(word))
}

/// Where the name behind `of` ends.
fn ends_base(cursor: &Cursor) -> bool {
    cursor.are("kept", "back")
        || cursor.are("not", "split")
        || cursor.word().is_some_and(is_reserved)
}

fn is_bare_count(amount: &Amount) -> bool {
    let Amount::Measured { range, base: None } = amount else { return false };
    [&range.low, &range.high].into_iter().flatten().all(|end| end.unit == Unit::Count)
}

fn is_share(amount: &Amount) -> bool {
    let Amount::Measured { range, base: None } = amount else { return false };
    [&range.low, &range.high].into_iter().flatten().all(|end| end.unit == Unit::Percent)
}

fn is_volume(amount: &Amount) -> bool {
    let Amount::Measured { range, .. } = amount else { return false };
    let ends = [&range.low, &range.high].into_iter().flatten();
    ends.into_iter().any(|end| end.unit.dimension() == Dimension::Volume)
}

/// The finding for what stands behind an amount and does not belong there.
fn left_behind_amount(cursor: &Cursor, amount: &Amount) -> Finding {
    let rest = cursor.rest();
    let here = cursor.here();
    if is_bare_count(amount) && cursor.peek_kind() == Some(TokenKind::Word) {
        return unknown_unit::finding(here, cursor.under(here), ExpectedAmount::Line.units());
    }
    let help = "the amount may be followed by `of …`, `kept back`, `not split` or a note in \
        quotes";
    unexpected_text::left_over(rest, cursor.under(rest), help)
}

/// The lines of a block by name and role, so that a block of many lines is still read in
/// linear time.
#[derive(Default)]
struct LineIndex {
    known: HashMap<(EcoString, EcoString), Span>,
}

/// Up to this many lines, looking at each is faster than an index.
const FEW_LINES: usize = 16;

impl LineIndex {
    /// The place of an earlier line of the same name and role.
    fn same_as(&mut self, line: &Line, lines: &[Line]) -> Option<Span> {
        let role = |target: &Target| target.role.as_ref().map(|role| role.key.clone());
        let key =
            |line: &Line| (line.target.name.key.clone(), role(&line.target).unwrap_or_default());
        if lines.len() < FEW_LINES {
            let same = |known: &&Line| {
                known.target.name.key == line.target.name.key
                    && role(&known.target) == role(&line.target)
            };
            return lines.iter().find(same).map(|known| known.target.name.span);
        }
        if self.known.is_empty() {
            self.known.extend(lines.iter().map(|line| (key(line), line.target.name.span)));
        }
        let first = self.known.get(&key(line)).copied();
        if first.is_none() {
            self.known.insert(key(line), line.target.name.span);
        }
        first
    }
}
