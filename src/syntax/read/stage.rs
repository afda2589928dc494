//! What is made beside the dough: stages, mixtures, cultures, and what a piece carries.

use super::cursor::Cursor;
use super::foreign::clause_here;
use super::names::name_of;
use super::ratios::Fed;
use super::said_for;
use super::seen_clauses::SeenClauses;
use super::spoken::{feed_ratio, past_number, spoken_amount, unit_here};
use super::statements::{Statement, Statements};
use super::words::{
    OF_A_CULTURE, OF_A_MIXTURE, OF_A_PIECE, OF_A_STAGE, OF_A_WAIT, STAGE_NAMES, near,
};
use super::{Reader, Reading};
use crate::quantity::{Exact, Unit};
use crate::source::Span;
use crate::syntax::abroad::Clause;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    incomplete_statement, misplaced_statement, missing_name, missing_unit, unknown_word,
};
use crate::syntax::name::key_of;
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{
    Amount, Culture, Least, Line, Mix, Mixture, Name, Piece, Save, Size, Stage, StageKind,
    StageSize, Wait,
};
use crate::syntax::waits::NIGHTS;

impl<'a> Reader<'a> {
    /// A preferment, build, soaker or scald; none where it has no name.
    pub fn stage(
        &mut self,
        kind: StageKind,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Stage> {
        let mut fed = Vec::new();
        let name = match statement.stage_by_name() {
            Some(_) => {
                let (first, mut cursor) = (statement.cursor.here(), statement.cursor);
                cursor.take_longest(phrases!(STAGE_NAMES));
                let span = cursor.since(first);
                self.same_title(&mut cursor, span);
                if !cursor.at_end() {
                    fed = self.head_ratio(statement, &mut cursor, Fed::Stage);
                    let end = self.end(&cursor, FED_HELP);
                    self.done(end);
                }
                Some(name_of(self.under(span), span))
            }
            None => self.fed_head(statement, kind.word(), Fed::Stage, &mut fed),
        };
        let mut inner = self.open(statement);
        let mut stage = Stage {
            kind,
            name: name.clone().unwrap_or_default(),
            sizes: Vec::new(),
            mix: Mix::default(),
            ripens: Vec::new(),
            keeps: Vec::new(),
            stands: Vec::new(),
            feeds: None,
            at_least: Vec::new(),
            save: Vec::new(),
            loses: None,
            method: None,
            texts: Vec::new(),
            allow: Vec::new(),
            span: statement.span,
        };
        let mut mix = Mix { lines: fed, ..Mix::default() };
        let mut said = SeenClauses::default();
        let mut fed_inside = Vec::new();
        self.lines(&mut inner, outer, &mut mix, OF_A_STAGE, |reader, statement, word| {
            reader.ratio_statement(statement, Fed::Stage, &mut fed_inside)
                || reader.method_said_otherwise(statement, word, &mut stage, &mut said)
                || reader.bare_wait(statement, &mut stage, &mut said)
                || reader.stage_statement(statement, word, &mut stage, &mut said)
        });
        mix.lines.append(&mut fed_inside);
        stage.mix = mix;
        name.map(|_| stage)
    }

    /// `poolish "Poolish"`: a title that says no more than the name.
    fn same_title(&mut self, cursor: &mut Cursor, name: Span) {
        let title = cursor.here();
        let said = self.under(title).trim_matches('"').trim();
        if cursor.is_text() && key_of(said) == key_of(self.under(name)) {
            self.reword(Span { start: name.end, ..title }, "");
            cursor.advance();
        }
    }

    /// `1:2:2 with bread flour` among the lines of a stage; says whether it was one.
    fn ratio_statement(
        &mut self,
        statement: &Statement<'a>,
        fed: Fed,
        lines: &mut Vec<Line>,
    ) -> bool {
        let mut cursor = statement.cursor;
        // `feed 1:2:2 with bread flour`
        let said = ["feed", "feeds", "fed", "levain", "starter", "refresh", "ratio"];
        let mut behind = cursor;
        if said.iter().any(|word| behind.take(word)) {
            if behind.is_sign(":") {
                behind.advance();
            }
            cursor = behind;
        }
        if feed_ratio(&cursor).is_none() {
            return false;
        }
        let read = self.ratio_lines(&mut cursor, fed).and_then(|read| {
            self.end(&cursor, FED_HELP)?;
            Ok(read.unwrap_or_default())
        });
        if let Some(mut read) = self.done(read) {
            self.reword(statement.span, self.ratio_words(&read));
            lines.append(&mut read);
        }
        self.no_block(statement);
        true
    }

    /// `12 h at 20C`, `overnight` alone in a stage: how long it stands before use. Says
    /// whether it was that.
    fn bare_wait(
        &mut self,
        statement: &Statement<'a>,
        stage: &mut Stage,
        said: &mut SeenClauses,
    ) -> bool {
        let mut cursor = statement.cursor;
        let of_time = |at: Cursor| unit_here(&at, ExpectedAmount::Time).is_some();
        let is_night = || {
            let mut ahead = cursor;
            ahead.take_longest(phrases!(NIGHTS)).is_some()
        };
        let is_time = past_number(&cursor).is_some_and(of_time)
            || spoken_amount(&cursor, ExpectedAmount::Time).is_some()
            || is_night();
        if !is_time || statement.has_block() {
            return false;
        }
        let (findings, rewordings) = (self.findings.len(), self.rewordings.len());
        let here = Span { end: cursor.here().start, ..cursor.here() };
        let word = if stage.kind.ferments() { "ripens" } else { "stands" };
        self.reword(here, format!("{word} "));
        match self.waits(&mut cursor) {
            Ok(waits) if cursor.at_end() => {
                if self.first_time(said, word, statement.span) {
                    self.ripens_or_stands(word, statement, stage, waits);
                }
                true
            }
            _ => {
                self.findings.truncate(findings);
                self.rewordings.truncate(rewordings);
                false
            }
        }
    }

    /// The name in the head of a stage or a culture, and the lines of the ratio behind it.
    fn fed_head(
        &mut self,
        statement: &Statement<'a>,
        what: &str,
        fed: Fed,
        lines: &mut Vec<Line>,
    ) -> Option<Name> {
        let mut cursor = statement.after_word();
        while cursor.word().is_some() {
            cursor.advance();
        }
        if feed_ratio(&cursor).is_none() {
            return self.head_name(statement, what);
        }
        let mut cursor = statement.after_word();
        let name = self.declared_name(&mut cursor, what);
        let name = self.done(name)?;
        *lines = self.head_ratio(statement, &mut cursor, fed);
        let end = self.end(&cursor, FED_HELP);
        self.done(end);
        Some(name)
    }

    /// `instructions { … }` in a stage, or `metod { … }`: its method.
    fn method_said_otherwise(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        stage: &mut Stage,
        said: &mut SeenClauses,
    ) -> bool {
        let head = self.under(statement.span).trim();
        let is_meant = said_for::block(head) == Some(said_for::Block::Ours("method"))
            || near(word, &["method"]).is_some();
        if word == "method" || !statement.has_block() || !is_meant {
            return false;
        }
        self.fail(unknown_word::block_of_ours(statement.span, head, "method"));
        let mut inner = self.open(statement);
        let method = self.method(statement, &mut inner, None);
        if self.first_block(said, "method", statement) {
            stage.method = Some(method);
        }
        true
    }

    /// Reads a statement of a stage that is no line; says whether it was one.
    fn stage_statement(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        stage: &mut Stage,
        said: &mut SeenClauses,
    ) -> bool {
        let mut cursor = statement.after_word();
        // `feed twice` says the same as `feeds twice`.
        let is_feed = word == "feed" && says_how_often(&cursor);
        let word = if is_feed { "feeds" } else { word };
        if is_feed {
            self.reword(statement.cursor.here(), word);
        } else if statement.cursor.one_of(OF_A_STAGE).is_none() {
            return false;
        }
        match word {
            "method" => {
                let mut inner = self.open_needed(statement, "method");
                let method = self.method(statement, &mut inner, None);
                if self.first_block(said, "method", statement) {
                    stage.method = Some(method);
                }
                return true;
            }
            "allow" => {
                self.allow(statement, &mut stage.allow);
                return true;
            }
            _ if self.words(statement, word, &mut stage.texts) => return true,
            "at" if cursor.is("least") => {}
            "ferments" | "takes" | "weighs" | "percentages" | "ripens" | "stands" | "keeps"
            | "feeds" | "save" | "loses" => {}
            _ => return false,
        }
        if matches!(word, "ripens" | "stands" | "keeps" | "feeds" | "loses")
            && !self.first_time(said, static_word(word), statement.span)
        {
            return true;
        }
        let read = self.stage_line(&mut cursor, word, statement, stage);
        self.done(read);
        self.no_block(statement);
        true
    }

    fn stage_line(
        &mut self,
        cursor: &mut Cursor,
        word: &str,
        statement: &Statement<'a>,
        stage: &mut Stage,
    ) -> Reading<()> {
        let span = statement.span;
        match word {
            "ferments" | "takes" => {
                let size = self.share_of_flour(cursor)?;
                stage.sizes.push(StageSize { size, span });
            }
            "weighs" => {
                let size = Size::Weighs(self.extent(cursor, ExpectedAmount::Mass)?);
                stage.sizes.push(StageSize { size, span });
            }
            "percentages" => {
                if !cursor.take_both("of", "total") {
                    return Err(incomplete_statement::of_total(span, cursor.under(span)).into());
                }
                stage.sizes.push(StageSize { size: Size::OfTotal, span });
            }
            "ripens" | "stands" => {
                let waits = self.waits(cursor)?;
                self.ripens_or_stands(word, statement, stage, waits);
            }
            "keeps" => stage.keeps = self.waits(cursor)?,
            "feeds" => stage.feeds = Some((self.times(cursor, "feeds")?, span)),
            "save" => stage.save.push(self.save(cursor, span)?),
            "at" => stage.at_least.push(self.least(cursor, statement)?),
            _ => stage.loses = Some(self.quantity(cursor, ExpectedAmount::Share)?),
        }
        self.end(cursor, "")
    }

    /// `50 g at 4C`, after `save`.
    fn save(&mut self, cursor: &mut Cursor, span: Span) -> Reading<Save> {
        let amount = self.quantity(cursor, ExpectedAmount::Stock)?;
        let at = if cursor.take("at") {
            Some(self.extent(cursor, ExpectedAmount::Surroundings)?)
        } else {
            None
        };
        Ok(Save { amount, at, span })
    }

    /// `save 500 g at 4C` among the lines of a total or a dough; says whether it was one.
    pub fn save_of_dough(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        saves: &mut Vec<Save>,
    ) -> bool {
        let mut cursor = statement.after_word();
        if word != "save" || !cursor.is_number() {
            return false;
        }
        let read = self.save(&mut cursor, statement.span).and_then(|save| {
            self.end(&cursor, "")?;
            Ok(save)
        });
        saves.extend(self.done(read));
        self.no_block(statement);
        true
    }

    /// `18% of flour`.
    fn share_of_flour(&mut self, cursor: &mut Cursor) -> Reading<Size> {
        let share = self.extent(cursor, ExpectedAmount::Share)?;
        if cursor.take_both("of", "flour") {
            return Ok(Size::OfFlour(share));
        }
        let rest = cursor.since(share.span).to(cursor.rest());
        let written = cursor.under(share.span);
        Err(missing_unit::of_flour(rest, cursor.under(rest), written).into())
    }

    /// `2h at 24C then 12h at 4C`.
    fn waits(&mut self, cursor: &mut Cursor) -> Reading<Vec<Wait>> {
        let mut waits = vec![self.wait(cursor)?];
        while cursor.take_from(OF_A_WAIT, "then") {
            waits.push(self.wait(cursor)?);
        }
        Ok(waits)
    }

    fn wait(&mut self, cursor: &mut Cursor) -> Reading<Wait> {
        let first = cursor.here();
        let time =
            if cursor.is("at") { None } else { Some(self.extent(cursor, ExpectedAmount::Time)?) };
        let from = cursor.here();
        let abroad = clause_here(cursor).filter(|(clause, _)| *clause == Clause::At);
        let has_at = match abroad {
            Some((_, behind)) if !cursor.is("at") => {
                *cursor = behind;
                self.reword(Span { end: behind.here().start, ..from }, "at ");
                true
            }
            _ => cursor.take_from(OF_A_WAIT, "at"),
        };
        let in_room = has_at && self.takes_room(cursor);
        let at = match has_at && !in_room {
            true => Some(self.extent(cursor, ExpectedAmount::Surroundings)?),
            false => None,
        };
        Ok(Wait { time, at, in_room, span: cursor.since(first) })
    }

    /// What ferments ripens, what soaks stands; the other word is read, with its repair.
    fn ripens_or_stands(
        &mut self,
        word: &str,
        statement: &Statement<'a>,
        stage: &mut Stage,
        waits: Vec<Wait>,
    ) {
        let right = if stage.kind.ferments() { "ripens" } else { "stands" };
        if word != right {
            let here = statement.cursor.here();
            self.report(misplaced_statement::other_wait(here, word, right, stage.kind.word()));
        }
        match right {
            "ripens" => stage.ripens = waits,
            _ => stage.stands = waits,
        }
    }

    /// `least 20 g NAME` behind `at`.
    fn least(&mut self, cursor: &mut Cursor, statement: &Statement<'a>) -> Reading<Least> {
        cursor.advance();
        let amount = self.quantity(cursor, ExpectedAmount::Stock)?;
        cursor.take("of");
        let here = cursor.here();
        let Some(name) = self.whole_name(cursor, |_| false) else {
            return Err(missing_name::missing_name(here, "ingredient").into());
        };
        Ok(Least { amount, name, span: statement.span })
    }

    /// `3 times`, `once`, `twice`.
    fn times(&mut self, cursor: &mut Cursor, word: &str) -> Reading<u32> {
        if cursor.take("once") {
            return Ok(1);
        }
        if cursor.take("twice") {
            return Ok(2);
        }
        let (times, span) = self.whole_number(cursor, word)?;
        if !cursor.take("times") {
            self.report(missing_unit::times(span, cursor.under(span)));
        }
        Ok(times)
    }

    /// A side mix; none where it has no name.
    pub fn mixture(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Mixture> {
        let name = self.head_name(statement, "mixture");
        let mut inner = self.open(statement);
        let (mut mix, mut texts) = (Mix::default(), Vec::new());
        self.lines(&mut inner, outer, &mut mix, OF_A_MIXTURE, |reader, statement, word| {
            statement.cursor.one_of(OF_A_MIXTURE).is_some()
                && reader.words(statement, word, &mut texts)
        });
        Some(Mixture { name: name?, mix, texts })
    }

    /// A kept starter; none where it has no name.
    pub fn culture(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Culture> {
        let mut fed = Vec::new();
        let name = self.fed_head(statement, "culture", Fed::Culture, &mut fed);
        let mut inner = self.open(statement);
        let (mut mix, mut texts) = (Mix { lines: fed, ..Mix::default() }, Vec::new());
        let mut fed_inside = Vec::new();
        self.lines(&mut inner, outer, &mut mix, OF_A_CULTURE, |reader, statement, word| {
            reader.ratio_statement(statement, Fed::Culture, &mut fed_inside)
                || statement.cursor.one_of(OF_A_CULTURE).is_some()
                    && reader.words(statement, word, &mut texts)
        });
        mix.lines.append(&mut fed_inside);
        self.counts_are_parts(&mut mix);
        Some(Culture { name: name?, mix, texts })
    }

    /// `bread flour 1` and `water 1` in a culture: where every number is bare, they can only
    /// be a ratio.
    fn counts_are_parts(&mut self, mix: &mut Mix) {
        let is_bare = |line: &Line| {
            matches!(&line.amount, Amount::Measured { range, base: None }
            if range.low.as_ref().is_some_and(|low| low.unit == Unit::Count))
        };
        if mix.lines.is_empty() || !mix.lines.iter().all(is_bare) {
            return;
        }
        for line in &mut mix.lines {
            let Amount::Measured { range, .. } = &mut line.amount else { continue };
            let ends = range.low.iter_mut().chain(&mut range.high);
            ends.for_each(|end| end.unit = Unit::Part);
            let one = range.low.as_ref().is_some_and(|low| low.number == Exact::ONE);
            let Some(last) = range.high.as_ref().or(range.low.as_ref()) else { continue };
            let end = last.span.after();
            self.reword(end, if one { " part" } else { " parts" });
        }
    }

    /// What one piece carries, of one kind or of all.
    pub fn piece(&mut self, statement: &Statement<'a>, outer: &mut Statements<'a>) -> Piece {
        let mut cursor = statement.after_word();
        let kind = self.whole_name(&mut cursor, |_| false);
        let end = self.end(&cursor, "");
        self.done(end);
        let mut inner = self.open_needed(statement, "piece");
        let (mut mix, mut said) = (Mix::default(), SeenClauses::default());
        let (mut bake_loss, mut make_up_loss) = (None, None);
        self.lines(&mut inner, outer, &mut mix, OF_A_PIECE, |reader, statement, word| {
            statement.cursor.one_of(OF_A_PIECE).is_some()
                && reader.loss(statement, word, &mut said, &mut bake_loss, &mut make_up_loss)
        });
        Piece { kind, mix, bake_loss, make_up_loss, span: statement.span }
    }

    /// The name in the head of a declaration, to the end of the head.
    pub fn head_name(&mut self, statement: &Statement<'a>, what: &str) -> Option<Name> {
        let mut cursor = statement.after_word();
        let name = match self.declared_name(&mut cursor, what) {
            Ok(name) => name,
            Err(finding) => {
                self.fail(*finding);
                return None;
            }
        };
        let end = self.end(&cursor, "a head is a name and nothing more; the rest goes in braces");
        self.done(end);
        Some(name)
    }
}

/// Whether `once`, `twice` or `3 times` is all that stands here.
fn says_how_often(cursor: &Cursor) -> bool {
    let word = cursor.is("once") || cursor.is("twice");
    let times = cursor.is_number() && cursor.further().is("times");
    word && cursor.further().at_end() || times && cursor.further().further().at_end()
}

const FED_HELP: &str = "write the flour after `with` and the starter after `from`: `1:2:2 with bread flour from rye \
     culture`";

/// The statement words of a stage that are said once.
fn static_word(word: &str) -> &'static str {
    match word {
        "ripens" => "ripens",
        "stands" => "stands",
        "keeps" => "keeps",
        "feeds" => "feeds",
        _ => "loses",
    }
}
