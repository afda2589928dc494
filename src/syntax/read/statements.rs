//! The statements of a block, and what to do with one that stands in the wrong block.

use super::Reader;
use super::cursor::Cursor;
use super::words::{Lower, OF_A_FILE, STAGE_NAMES, STAGES_BY_NAME, near};
use crate::source::Span;
use crate::syntax::findings::{
    misplaced_brace, misplaced_statement, missing_value, said_twice, unclosed_block,
    unexpected_text, unknown_word,
};
use crate::syntax::outline::{Item, TokenKind};
use crate::syntax::phrases::phrases;
use crate::syntax::tree::StageKind;
use rustc_hash::{FxHashMap, FxHasher};
use std::hash::Hasher;

/// A statement: its head, and its block where it has one.
#[derive(Clone, Copy)]
pub struct Statement<'a> {
    /// At the first token of the head.
    pub cursor: Cursor<'a>,
    /// Of the head.
    pub span: Span,
    item: &'a Item,
    /// The item that holds the block: the statement's own, or the one behind it when
    /// `{` stands on a line of its own.
    holder: Option<&'a Item>,
    /// This item and all behind it.
    onwards: &'a [Item],
    /// Whether the word that should begin the head is left out: all of it is a name.
    is_name: bool,
    /// What is read as its block where it has no braces.
    loose: Option<&'a [Item]>,
}

impl<'a> Statement<'a> {
    /// Whether braces follow its head.
    pub fn has_block(&self) -> bool {
        self.holder.is_some() || self.loose.is_some()
    }

    /// The kind of a stage that is called by what it is: `biga { … }`, `levain 1:2:2 …`.
    pub fn stage_by_name(&self) -> Option<StageKind> {
        let mut behind = self.cursor;
        let name = behind.take_longest(phrases!(STAGE_NAMES))?;
        let fed = super::spoken::feed_ratio(&behind).is_some();
        let titled = behind.is_text() && behind.further().at_end();
        if !(fed || self.has_block() && (behind.at_end() || titled)) {
            return None;
        }
        let mut known = STAGES_BY_NAME.iter();
        known.find(|(known, _)| *known == name).map(|(_, kind)| *kind)
    }

    /// Where the `{` stands that is on the line of the head.
    pub fn brace(&self) -> Option<u32> {
        let brace = self.cursor.behind_all().find('{')?;
        let holder = self.holder.filter(|_| self.holds_own_block())?;
        Some(holder.head_end + u32::try_from(brace).ok()?)
    }

    /// A cursor behind the first word.
    pub fn after_word(&self) -> Cursor<'a> {
        if self.is_name { self.cursor } else { self.cursor.further() }
    }

    /// Whether the head lacks its first word.
    pub fn is_name(&self) -> bool {
        self.is_name
    }

    /// The same, its head read as a name alone.
    pub fn as_name(self) -> Self {
        Self { is_name: true, ..self }
    }

    /// The same, its head read as one word.
    pub fn as_word(mut self) -> Self {
        while !self.cursor.further().at_end() && !self.cursor.at_end() {
            self.cursor.advance();
        }
        self
    }

    /// The same, its head cut off after the first word, with what is read as its block.
    pub fn with_loose(self, loose: &'a [Item]) -> Self {
        Self { cursor: self.cursor.first_alone(), loose: Some(loose), ..self }
    }

    /// How many statements the block has, and how many of them begin with one of some words.
    pub fn holds(&self, reader: &Reader<'a>, is_one: impl Fn(&str) -> bool) -> (usize, usize) {
        let items = self.holder.and_then(|holder| holder.block.as_deref()).unwrap_or(&[]);
        let heads = items
            .iter()
            .filter(|item| !item.tokens.is_empty())
            .map(|item| reader.under(Span::new(reader.source, item.start, item.head_end)));
        heads.fold((0, 0), |(all, some), head| (all + 1, some + usize::from(is_one(head))))
    }

    /// Whether the braces stand on the line of the head.
    fn holds_own_block(&self) -> bool {
        self.holder.is_some_and(|holder| std::ptr::eq(holder, self.item))
    }
}

/// The statements of a block that are still to be read.
pub struct Statements<'a> {
    items: &'a [Item],
    /// Items that were put back, the last to be read first.
    later: Vec<&'a [Item]>,
    /// Where the block lacks its `}`.
    unclosed: Option<u32>,
    /// The head of the block; empty for a file.
    head: Span,
    /// All items of the block.
    block: &'a [Item],
}

impl<'a> Statements<'a> {
    /// The statements of a whole file.
    pub fn of_file(items: &'a [Item]) -> Self {
        Self { items, later: Vec::new(), unclosed: None, head: Span::default(), block: items }
    }

    /// Whether a statement of the block has such a head.
    pub fn has(&self, reader: &Reader<'a>, is_one: impl Fn(&str) -> bool) -> bool {
        let head = |item: &Item| reader.under(Span::new(reader.source, item.start, item.head_end));
        self.block.iter().any(|item| is_one(head(item)))
    }

    /// Whether the head of the next item is one of some.
    pub fn next_is(&self, reader: &Reader<'a>, is_one: impl Fn(&str) -> bool) -> bool {
        self.items.first().is_some_and(|item| {
            is_one(reader.under(Span::new(reader.source, item.start, item.head_end)))
        })
    }

    /// Takes the items that are lines, from the statement on or behind it, that a block is
    /// missing around; a bracket that closes them too.
    pub fn loose_lines(
        &mut self,
        reader: &Reader<'a>,
        statement: &Statement<'a>,
        from_it: bool,
        is_line: impl Fn(&str) -> bool,
    ) -> &'a [Item] {
        let items = if from_it { statement.onwards } else { self.items };
        let head = |item: &Item| reader.under(Span::new(reader.source, item.start, item.head_end));
        let is_loose = |item: &Item| item.block.is_none() && is_line(head(item));
        let count = items.iter().take_while(|item| is_loose(item)).count();
        let (lines, left) = items.split_at(count.min(items.len()));
        let closes = |item: &Item| matches!(head(item).trim(), ")" | "]");
        self.items = match left.split_first() {
            Some((bracket, rest)) if closes(bracket) && !lines.is_empty() => rest,
            _ if lines.is_empty() => return lines,
            _ => left,
        };
        lines
    }

    /// Takes the items up to one whose head ends them, as a block of their own.
    pub fn up_to(&mut self, reader: &Reader<'a>, ends: impl Fn(&str) -> bool) -> Self {
        let items = self.items;
        let head = |item: &Item| reader.under(Span::new(reader.source, item.start, item.head_end));
        let count = items.iter().position(|item| ends(head(item))).unwrap_or(items.len());
        let (taken, left) = items.split_at(count.min(items.len()));
        self.items = left;
        Self::of_file(taken)
    }

    /// The next statement that can be read; what can't be is told.
    pub fn next(&mut self, reader: &mut Reader<'a>) -> Option<Statement<'a>> {
        let onwards = loop {
            match self.items {
                [] => self.items = self.later.pop()?,
                items => break items,
            }
        };
        let (item, rest) = onwards.split_first()?;
        self.items = rest;
        let mut holder = item.block.is_some().then_some(item);
        if let (None, Some((brace, behind))) = (holder, rest.split_first())
            && brace.tokens.is_empty()
        {
            self.items = behind;
            holder = Some(brace);
        }
        reader.muted = item.unclosed_text;
        let cursor = Cursor::at(reader.source, reader.text, item);
        let span = Span::new(reader.source, item.start, item.head_end);
        Some(Statement { cursor, span, item, holder, onwards, is_name: false, loose: None })
    }
}

/// How a statement looks from afar: the same for statements of the same words, and seldom for
/// others.
fn look(item: &Item) -> u32 {
    item.tokens.iter().fold(0, |look, token| {
        // Blanks within a text don't count.
        let length = match token.kind {
            TokenKind::Text { .. } | TokenKind::TooDeep => 0,
            _ => token.end - token.start,
        };
        (look.rotate_left(5) ^ length << 10 ^ token.begins.number()).wrapping_mul(0x9e37_79b1)
    })
}

/// The same for statements of the same words, whatever their blanks and capitals.
fn fingerprint(statement: &str) -> u64 {
    let mut hasher = FxHasher::default();
    for word in statement.split_whitespace() {
        word.bytes().for_each(|byte| hasher.write_u8(byte.to_ascii_lowercase()));
        hasher.write_u8(b' ');
    }
    hasher.finish()
}

fn same_words(one: &str, two: &str) -> bool {
    let (mut one, mut two) = (one.split_whitespace(), two.split_whitespace());
    loop {
        match (one.next(), two.next()) {
            (None, None) => return true,
            (Some(one), Some(two)) if one.eq_ignore_ascii_case(two) => {}
            _ => return false,
        }
    }
}

/// Whether a statement opens a block that stands right in a file.
pub fn opens_in_file(statement: &Statement, word: &str) -> bool {
    statement.has_block() && OF_A_FILE.contains(&word) && !is_day_of_work(statement, word)
}

/// Whether a block is of the steps of one day: `day 1 { … }`, which is no day of orders.
fn is_day_of_work(statement: &Statement, word: &str) -> bool {
    let number = statement.cursor.further();
    word == "day"
        && number.is_number()
        && number.further().at_end()
        && number.under(number.here()).bytes().all(|digit| digit.is_ascii_digit())
}

impl<'a> Reader<'a> {
    /// The statements in the braces of a statement; none where it has no braces.
    pub fn open(&mut self, statement: &Statement<'a>) -> Statements<'a> {
        let Some(holder) = statement.holder else {
            if let Some(items) = statement.loose {
                return Statements { head: statement.span, ..Statements::of_file(items) };
            }
            return Statements { head: statement.span, ..Statements::of_file(&[]) };
        };
        if !statement.holds_own_block() {
            let gap = Span { start: statement.span.end, end: holder.start, ..statement.span };
            let head = self.under(statement.span);
            self.report(misplaced_brace::brace_on_own_line(gap, head));
        }
        let items = holder.block.as_deref().unwrap_or(&[]);
        self.lacking += usize::from(holder.unclosed.is_some());
        Statements { unclosed: holder.unclosed, head: statement.span, ..Statements::of_file(items) }
    }

    /// The statements of a block whose braces say something or are not there.
    pub fn open_filled(&mut self, statement: &Statement<'a>, word: &str) -> Statements<'a> {
        let is_empty = statement.holder.is_some_and(|holder| {
            holder.unclosed.is_none() && holder.block.as_ref().is_some_and(Vec::is_empty)
        });
        // A tin of nothing is told as what it is.
        if is_empty && word != "tin" {
            let needed = ["total", "dough", "method"].contains(&word);
            let finding = missing_value::empty_braces(statement.span, word, needed);
            match needed {
                true => self.fail(finding),
                false => self.report(finding),
            }
        }
        self.open(statement)
    }

    /// The statements of a block that says something only in braces.
    pub fn open_needed(&mut self, statement: &Statement<'a>, word: &str) -> Statements<'a> {
        if !statement.has_block() {
            self.fail(missing_value::missing_block(statement.span, word));
        }
        self.open_filled(statement, word)
    }

    /// Whether a `}` is missing in one of the blocks that are being read.
    pub fn is_lacking(&self) -> bool {
        self.lacking > 0
    }

    /// Ends a block whose statements have all been read.
    pub fn close(&mut self, statements: &Statements<'a>) {
        self.muted = false;
        // Where a brace is missing, statements of other blocks stand among these.
        if self.lacking == 0 {
            self.repeated(statements);
        }
        self.close_unread(statements);
    }

    /// Says what a block says twice in the same words, where no finding tells it yet. Of a
    /// method only steps right after each other: a dough may well rest twice.
    fn repeated(&mut self, statements: &Statements<'a>) {
        let is_method = self.under(statements.head).eq_ignore_ascii_case("method");
        let mut twice = Vec::new();
        let filled = || statements.block.iter().filter(|item| !item.tokens.is_empty());
        let seems_twice = || {
            let mut looks: Vec<u32> = filled().map(look).collect();
            looks.sort_unstable();
            looks.windows(2).any(|pair| matches!(pair, [one, other] if one == other))
        };
        if !seems_twice() {
            return;
        }
        let mut seen: FxHashMap<u64, Span> = FxHashMap::default();
        for item in filled() {
            let span = Span::new(self.source, item.start, item.head_end);
            let first = seen.insert(fingerprint(self.under(span)), span);
            let again = first.filter(|first| same_words(self.under(*first), self.under(span)));
            if is_method {
                seen.retain(|_, kept| *kept == span);
            }
            if let (Some(first), None) = (again, &item.block) {
                twice.push((span, first));
            }
        }
        if twice.is_empty() {
            return;
        }
        let mut told: Vec<u32> = self.findings.iter().map(|it| it.span().start).collect();
        told.sort_unstable();
        for (span, first) in twice {
            let at = told.partition_point(|start| *start < span.start);
            if told.get(at).is_some_and(|start| *start < span.end) {
                continue;
            }
            let words = self.under(span);
            match is_method {
                true => self.report(said_twice::step(span, words, first)),
                false => self.fail(said_twice::finding(span, words, first)),
            }
        }
    }

    /// Ends a block whose insides are not looked at.
    pub fn close_unread(&mut self, statements: &Statements<'a>) {
        self.muted = false;
        let Some(end) = statements.unclosed else { return };
        self.lacking -= 1;
        if self.explained > 0 {
            self.explained -= 1;
            return;
        }
        let head = statements.head;
        let end = Span { start: end, end, ..head };
        let finding = match self.closed_by_another(statements.block) {
            Some((inner, brace)) => {
                unclosed_block::closed_by_another(inner, self.under(inner), brace, self.under(head))
            }
            None => unclosed_block::finding(head, self.under(head), end),
        };
        self.fail(finding);
    }

    /// The first block whose `}` stands further left than its head: it looks like the one
    /// that ends the block around.
    fn closed_by_another(&self, items: &'a [Item]) -> Option<(Span, Span)> {
        items.iter().filter(|item| item.block.is_some() && item.unclosed.is_none()).find_map(
            |item| {
                let deeper = self.closed_by_another(item.block.as_deref().unwrap_or(&[]));
                deeper.or_else(|| self.outdented_end(item))
            },
        )
    }

    /// The head and the `}` of an item whose `}` is the first on its line and stands
    /// further left than the line of the head begins.
    fn outdented_end(&self, item: &Item) -> Option<(Span, Span)> {
        let before = self.text.get(..item.end.checked_sub(1)? as usize)?;
        let line_break = before.trim_end_matches([' ', '\t']);
        if !line_break.ends_with('\n') {
            return None;
        }
        let indent = before.len() - line_break.len();
        let head = self.text.get(..item.start as usize)?;
        let line = head.get(head.rfind('\n').map_or(0, |at| at + 1)..)?;
        let own = line.len() - line.trim_start_matches([' ', '\t']).len();
        let brace = Span::new(self.source, item.end - 1, item.end);
        (indent < own).then(|| (Span::new(self.source, item.start, item.head_end), brace))
    }

    /// A statement without braces: any it has are a mistake.
    pub fn no_block(&mut self, statement: &Statement<'a>) {
        let Some(holder) = statement.holder else { return };
        self.muted = false;
        // Where braces lie too deep, that is the finding.
        if self
            .too_deep
            .is_some_and(|place| place.start < holder.end && holder.start <= place.start)
        {
            self.broken = true;
            return;
        }
        let from = if statement.holds_own_block() { holder.head_end } else { holder.start };
        let gap = self.text.get(from as usize..holder.end as usize).unwrap_or("");
        let brace = from + gap.find('{').and_then(|at| u32::try_from(at).ok()).unwrap_or(0);
        let span = Span { start: brace, end: brace + 1, ..statement.span };
        // What can't be read as a whole is left as it is written.
        let from = statement.span.start;
        while self.rewordings.last().is_some_and(|last| last.span.start >= from) {
            self.rewordings.pop();
        }
        self.fail(misplaced_brace::block_here(span));
    }

    /// The next statement of a block and its first word; those that belong `outside` of it
    /// are handed out on the way.
    pub fn next_inside(
        &mut self,
        inner: &mut Statements<'a>,
        outer: &mut Statements<'a>,
        outside: impl Fn(&Statement<'a>, &str) -> bool,
    ) -> Option<(Statement<'a>, Lower)> {
        loop {
            let statement = inner.next(self)?;
            let word = statement.cursor.lower();
            if !outside(&statement, &word) {
                return Some((statement, word));
            }
            self.hand_out(&statement, inner, outer);
        }
    }

    /// Reads a statement that belongs to the block around `inner`, which is `outer`.
    ///
    /// Where a `}` is missing, it is this one: the rest of `inner` goes to `outer`.
    pub fn hand_out(
        &mut self,
        statement: &Statement<'a>,
        inner: &mut Statements<'a>,
        outer: &mut Statements<'a>,
    ) {
        self.muted = false;
        let head = self.under(inner.head);
        if self.lacking == 0 {
            let word = self.under(statement.cursor.here());
            self.fail(misplaced_statement::misplaced(statement.span, word, head));
            outer.put_back(std::slice::from_ref(statement.item));
            return;
        }
        // Behind the place of a missing brace, every block ends one brace too late: one
        // finding explains them all.
        if self.explained < self.lacking {
            self.explained += 1;
            self.fail(unclosed_block::before(inner.head, head, statement.span));
        }
        outer.later.push(outer.items);
        outer.later.append(&mut inner.later);
        outer.items = statement.onwards;
        inner.items = &[];
    }

    /// A statement that begins with a word which means nothing in its block.
    pub fn unknown_word(
        &mut self,
        statement: &Statement<'a>,
        holder: &str,
        known: &[&'static str],
    ) {
        let cursor = statement.cursor;
        if cursor.at_end() {
            return self.no_block(statement);
        }
        let here = cursor.here();
        let Some(word) = cursor.word() else {
            let rest = cursor.rest();
            let help = match holder {
                "formula" if cursor.is_text() => {
                    "a text has its word: `note \"…\"`, `headnote \"…\"`"
                }
                "formula" => {
                    "lines go in `dough { … }` or `total { … }`; what is made is `makes 2 loaves`"
                }
                "file" => {
                    "a file holds formulas: `formula my-loaf \"My Loaf\" { … }`, and what they share"
                }
                _ => "",
            };
            return self.fail(unexpected_text::left_over(rest, cursor.under(rest), help));
        };
        let near = near(word, known);
        self.fail(unknown_word::unknown_word(here, word, holder, near));
    }
}

impl<'a> Statements<'a> {
    fn put_back(&mut self, items: &'a [Item]) {
        self.later.push(self.items);
        self.items = items;
    }

    /// Of all tokens before the block.
    pub fn head(&self) -> Span {
        self.head
    }
}
