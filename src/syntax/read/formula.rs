//! A formula and what stands in it.

use super::cursor::Cursor;
use super::names::name_of;
use super::parted::Parted;
use super::said_for::{self, Block};
use super::seen_clauses::SeenClauses;
use super::spoken::spoken;
use super::statements::{Statement, Statements};
use super::words::{
    BLOCKS, BOTH, OF_A_FILE, OF_A_FORMULA, OF_LINES, STAGE_NAMES, STAGES_BY_NAME, WrittenIn,
    figure, near, other_verb,
};
use super::{Reader, Reading};
use crate::quantity::display::trimmed;
use crate::quantity::{Exact, Measures, Unit, int};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    malformed_name, misplaced_brace, misplaced_statement, missing_name, missing_unit,
    missing_value, number_too_large, unknown_word,
};
use crate::syntax::name::identifier_of;
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{
    Allow, Amount, Extent, Formula, Line, MadePiece, Makes, Method, Mix, Name, NotedText, Quantity,
    StageKind, Step, Target, Text, Verb, With, WordsKind,
};

impl<'a> Reader<'a> {
    /// A formula; none where it has no name.
    pub fn formula(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Formula> {
        let broken_before = std::mem::take(&mut self.broken);
        let before = self.findings.len();
        let (name, title, from) = self.formula_head(statement);
        if statement.is_name() {
            // Its finding tells the whole head.
            self.findings.truncate(before);
        }
        let mut inner = match self.opens_later(statement, outer) {
            Some(inner) => inner,
            None if from.is_some() => self.open_filled(statement, "formula"),
            None => self.open(statement),
        };
        let mut formula =
            empty_formula(name.clone().unwrap_or_default(), title, from, statement.span);
        let mut said = SeenClauses::default();
        while let Some(statement) = inner.next(self) {
            let statement = self.with_loose_lines(statement, &mut inner);
            let word = statement.cursor.lower();
            if is_a_starter_of_its_own(&statement) {
                self.unknown_in_formula(&statement, &word, &mut inner, &mut formula, &mut said);
            } else if belongs_to_file(&statement, &word) {
                self.hand_out(&statement, &mut inner, outer);
            } else if let Some(kind) = statement.stage_by_name() {
                self.stage_in_formula(kind, &statement, &mut inner, &mut formula, &mut said);
            } else if statement.cursor.one_of(OF_A_FORMULA).is_some()
                && !statement.cursor.are("total", "time")
            {
                self.formula_statement(&statement, &word, &mut inner, &mut formula, &mut said);
            } else {
                self.unknown_in_formula(&statement, &word, &mut inner, &mut formula, &mut said);
            }
        }
        self.close(&inner);
        self.parted_as_made(formula.makes.as_ref());
        self.part_joined_names(&mut formula);
        formula.broken = self.broken;
        self.broken |= broken_before;
        if let Some(name) = &name {
            for finding in self.findings.iter_mut().skip(before) {
                finding.formula.get_or_insert_with(|| name.key.clone());
            }
        }
        formula.trim();
        name.map(|_| formula)
    }

    /// `divide into 8 balls` says what `makes` says, of one kind or of all, or it is wrong.
    pub fn parted_as_made(&mut self, makes: Option<&Makes>) {
        let pieces = makes.map(|makes| makes.pieces.as_slice()).unwrap_or_default();
        let is_unread = std::mem::take(&mut self.unread_makes) && makes.is_none();
        let counted = pieces.iter().filter(|piece| piece.counted);
        let all = counted.fold(Exact::ZERO, |sum, piece| sum + &piece.count.number);
        for Parted { count, weight, span } in std::mem::take(&mut self.parted) {
            let weighs = |piece: &&MadePiece| match (&weight, &piece.weight) {
                (Some(said), Some(made)) => in_grams(said) == in_grams(made),
                (Some(_), None) => false,
                (None, _) => true,
            };
            let fits = |piece: &MadePiece| piece.count.number == count && weighs(&piece);
            let is_made = pieces.iter().filter(|piece| piece.counted).any(fits)
                || weight.is_none() && all == count;
            let gap = Span { start: span.start.saturating_sub(1), ..span };
            let blank = self.under(gap).starts_with(' ');
            let span_of_all = if blank { gap } else { span };
            match is_made {
                true => self.reword(span_of_all, ""),
                // What is made could not be read, and has its finding.
                false if is_unread => {}
                false => {
                    let written = self.under(span);
                    let made = pieces.first().map(|piece| self.under(piece.span));
                    self.fail(misplaced_statement::pieces_in_a_step(span, written, made));
                }
            }
        }
    }

    /// A block whose braces are missing, or are other brackets, with the lines behind it.
    fn with_loose_lines(
        &mut self,
        statement: Statement<'a>,
        inner: &mut Statements<'a>,
    ) -> Statement<'a> {
        if statement.has_block() || statement.after_word().further().word().is_some() {
            return statement;
        }
        let signs = [':', '=', '(', '[', '-', ' '];
        let head = self.under(statement.span);
        let word = head.trim().trim_end_matches(signs).to_lowercase();
        let of_lines = ["dough", "total"].contains(&word.as_str())
            || STAGE_NAMES.contains(&word.as_str())
            || said_for::block(&word) == Some(Block::Ours("dough"));
        if !of_lines {
            return statement;
        }
        let lines = inner.loose_lines(self, &statement, false, is_line);
        if lines.is_empty() {
            return statement;
        }
        // A word that is not ours has its own finding, which shows the braces too.
        if said_for::block(&word).is_none() {
            self.fail(missing_value::missing_block(statement.span, &word));
        }
        statement.with_loose(lines)
    }

    /// The statements of a formula whose `{` is missing: those that follow its head in the
    /// file, up to the next declaration. Nothing where a block of a formula does not follow.
    fn opens_later(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Statements<'a>> {
        let is_block = |head: &str| {
            let word = head.split_whitespace().next().unwrap_or_default().to_lowercase();
            BLOCKS.contains(&word.as_str())
                || OF_A_FORMULA.contains(&word.as_str())
                || said_for::block(head).is_some()
        };
        if statement.has_block() || !outer.next_is(self, is_block) {
            return None;
        }
        let place = Span { start: statement.span.end, end: statement.span.end, ..statement.span };
        self.fail(misplaced_brace::missing_brace(place, self.under(statement.span)));
        self.unopened += 1;
        Some(outer.up_to(self, |head| {
            let word = head.split_whitespace().next().unwrap_or_default().to_lowercase();
            OF_A_FILE.contains(&word.as_str()) && !OF_A_FORMULA.contains(&word.as_str())
        }))
    }

    /// `with flour and water`, where nothing in the formula is called so: two names.
    fn part_joined_names(&mut self, formula: &mut Formula) {
        if formula.from.is_some() {
            return;
        }
        let Some(mut method) = formula.method.take() else { return };
        let mixes = formula.total.iter().chain(&formula.dough);
        let stages = formula.stages.iter().map(|stage| &stage.mix);
        let beside = formula.mixtures.iter().map(|mixture| &mixture.mix);
        let pieces = formula.pieces.iter().map(|piece| &piece.mix);
        let lines = mixes.chain(stages).chain(beside).chain(pieces).flat_map(|mix| &mix.lines);
        let mut known: Vec<&str> = lines.map(|line| line.target.name.key.as_str()).collect();
        known.extend(formula.stages.iter().map(|stage| stage.name.key.as_str()));
        known.extend(formula.mixtures.iter().map(|mixture| mixture.name.key.as_str()));
        for step in &mut method.steps {
            self.adds_what_it_names(step, &known);
        }
        let phases = method.steps.iter_mut().flat_map(|step| &mut step.phases);
        for phase in phases {
            let joined = |with: &With| match with {
                With::Name(target) => {
                    target.role.is_none()
                        && JOINERS.iter().any(|joiner| target.name.key.contains(joiner))
                        && !known.contains(&target.name.key.as_str())
                }
                _ => false,
            };
            if phase.with.iter().any(joined) {
                let (all, mut parted) = (std::mem::take(&mut phase.with), Vec::new());
                for with in all {
                    match with {
                        With::Name(target) if joined(&With::Name(target.clone())) => {
                            self.part_name(&target.name, &mut parted);
                        }
                        with => parted.push(with),
                    }
                }
                phase.with = parted;
            }
        }
        formula.method = Some(method);
    }

    /// `mix in the sultanas`, where the formula has sultanas: they go in.
    fn adds_what_it_names(&mut self, step: &mut Step, known: &[&str]) {
        if step.verb != Verb::Mix {
            return;
        }
        for phase in &mut step.phases {
            let Some(place) = phase.place.take_if(|place| known.contains(&place.key.as_str()))
            else {
                continue;
            };
            let before = Span { start: step.verb_span.end, end: place.span.start, ..place.span };
            if !self.under(before).trim_end().ends_with(" the") {
                phase.place = Some(place);
                continue;
            }
            let at = self.under(before).to_ascii_lowercase().rfind("in");
            let from = before.start + at.and_then(|at| u32::try_from(at).ok()).unwrap_or(0);
            self.reword(Span { start: from, ..before }, "with ");
            phase.with.push(With::Name(Target { name: place, role: None }));
        }
    }

    fn part_name(&mut self, name: &Name, parted: &mut Vec<With>) {
        let written = self.under(name.span);
        let mut from = 0;
        let place = |byte: usize| name.span.start + u32::try_from(byte).unwrap_or(0);
        let lower = written.to_ascii_lowercase();
        let joined = JOINERS.iter().flat_map(|joiner| lower.match_indices(joiner));
        let mut ends: Vec<(usize, usize)> = joined.map(|(at, and)| (at, at + and.len())).collect();
        ends.sort_unstable();
        for (end, next) in ends.into_iter().chain([(written.len(), written.len())]) {
            let span = Span { start: place(from), end: place(end), ..name.span };
            if end < written.len() {
                self.reword(Span { start: place(end), end: place(next), ..name.span }, ", ");
            }
            let written = self.under(span).trim();
            let bare = ARTICLES.iter().find_map(|it| {
                written.strip_prefix(it).filter(|rest| it.ends_with('\'') || rest.starts_with(' '))
            });
            let name = name_of(bare.unwrap_or(written).trim(), span);
            parted.push(match name.key.as_str() {
                "flours" => With::Flours(span),
                _ => With::Name(Target { name, role: None }),
            });
            from = next;
        }
    }

    /// `gullhaven-sour "Gullhaven Sour" from …`.
    fn formula_head(
        &mut self,
        statement: &Statement<'a>,
    ) -> (Option<Name>, Option<Text>, Option<Name>) {
        let mut cursor = statement.after_word();
        let start = cursor;
        let (mut title, mut from) = (None, None);
        let mut name = self.name_and_title(&mut cursor);
        loop {
            if title.is_none() && cursor.is_text() {
                // Without words, the formula is called by its name.
                title = Some(self.text(&mut cursor)).filter(Text::says_something);
            } else if from.is_none() && cursor.take("from") {
                from = self.identifier(&mut cursor, "formula");
                if from.is_none() {
                    self.fail(missing_name::missing_name(cursor.here(), "formula"));
                }
            } else {
                break;
            }
        }
        if name.is_none() {
            name = self.name_from_title(start);
        }
        let end = self.end(&cursor, "a head is a name, a title in quotes and perhaps `from`");
        self.done(end);
        (name, title, from)
    }

    /// The name of a formula; where its title has no quotes, all of its head is read as both.
    fn name_and_title(&mut self, cursor: &mut Cursor) -> Option<Name> {
        let rest = cursor.rest();
        let mut ahead = *cursor;
        let mut words = 0;
        while !ahead.at_end() && !ahead.is_text() && !ahead.is("from") {
            ahead.advance();
            words += 1;
        }
        match said_for::head(cursor.under(rest)).filter(|_| words > 1 && ahead.at_end()) {
            Some((name, title)) => {
                self.fail(malformed_name::head(rest, cursor.under(rest), &name, &title));
                *cursor = ahead;
                Some(name_of(&name, rest))
            }
            None => self.identifier(cursor, "formula"),
        }
    }

    /// A formula that begins with its title is read under the name the title would give.
    fn name_from_title(&mut self, mut cursor: Cursor) -> Option<Name> {
        let span = cursor.here();
        if !cursor.is_text() {
            self.fail(missing_name::missing_name(span, "formula"));
            return None;
        }
        let title = self.plain_text(&mut cursor);
        self.fail(missing_name::formula_without_name(span, &title));
        let name = identifier_of(&title);
        (!name.is_empty()).then(|| name_of(&name, span))
    }

    fn formula_statement(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        inner: &mut Statements<'a>,
        formula: &mut Formula,
        said: &mut SeenClauses,
    ) {
        match word {
            "style" => {
                if self.first_time(said, "style", statement.span) {
                    formula.style = self.head_name(statement, "style");
                    self.no_block(statement);
                }
            }
            "makes" => {
                if self.first_time(said, "makes", statement.span) {
                    let read = self.makes(&mut statement.after_word(), statement.span);
                    self.unread_makes |= read.is_err();
                    formula.makes = self.done(read);
                    self.no_block(statement);
                }
            }
            "serves" => {
                if self.first_time(said, "serves", statement.span) {
                    let mut cursor = statement.after_word();
                    let read = self.portions(&mut cursor);
                    formula.serves = self.done(read);
                    self.no_block(statement);
                }
            }
            "total" => self.block_of_lines(statement, "total", inner, &mut formula.total, said),
            "dough" => self.block_of_lines(statement, "dough", inner, &mut formula.dough, said),
            "mixture" => {
                if let Some(mixture) = self.mixture(statement, inner)
                    && self.first_of_name(said, "stage", &mixture.name)
                {
                    formula.mixtures.push(mixture);
                }
            }
            "piece" => {
                let piece = self.piece(statement, inner);
                let everything =
                    Name { shown: "piece".into(), span: piece.span, ..Name::default() };
                let name = piece.kind.as_ref().unwrap_or(&everything);
                if self.first_of_name(said, "piece", name) {
                    formula.pieces.push(piece);
                }
            }
            "method" => {
                // A method with a slip is not judged; the sums are, whatever is done.
                let before = std::mem::take(&mut self.broken);
                let mut steps = self.open_needed(statement, "method");
                let method = self.method(statement, &mut steps, Some(inner));
                let is_whole = !std::mem::replace(&mut self.broken, before);
                if self.first_block(said, "method", statement) {
                    formula.method = Some(Method { broken: !is_whole, ..method });
                }
            }
            "expect" | "claims" => {
                let claims = self.beside_the_sums(|reader| reader.expect(statement, inner));
                if self.first_block(said, "expect", statement) {
                    formula.expect = claims;
                }
            }
            "allow" => {
                self.beside_the_sums(|reader| reader.allow(statement, &mut formula.allow));
            }
            "without" => self.without(statement, &mut formula.without),
            _ => self.other_statement(statement, word, inner, formula, said),
        }
    }

    /// `4`, `4 to 6`, `four people`.
    fn portions(&mut self, cursor: &mut Cursor) -> Reading<Extent> {
        self.needless_sign(cursor);
        let first = cursor.here();
        let portions = match spoken(cursor).filter(|_| !cursor.is_number()) {
            Some((number, behind)) => {
                *cursor = behind;
                let span = cursor.since(first);
                self.reword(span, trimmed(&number, 2));
                let one = Quantity { number, unit: Unit::Count, decimals: None, span };
                Extent { low: Some(one.clone()), high: Some(one), ranged: false, span }
            }
            None => self.extent(cursor, ExpectedAmount::Count)?,
        };
        let gap = cursor.after();
        if cursor.take_any(phrases!(PEOPLE)) {
            self.reword(cursor.since(gap), "");
        }
        self.end(cursor, "write how many people it serves, such as `serves 4`")?;
        let most = portions.high.as_ref().or(portions.low.as_ref());
        if most.is_some_and(|most| most.number > int(MAX_PEOPLE)) {
            let written = cursor.under(portions.span);
            return Err(number_too_large::finding(portions.span, written).into());
        }
        Ok(portions)
    }

    /// Reads what the sums of a formula do not hang on: a slip in it leaves them whole.
    fn beside_the_sums<T>(&mut self, read: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.broken;
        let done = read(self);
        self.broken = before;
        done
    }

    fn other_statement(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        inner: &mut Statements<'a>,
        formula: &mut Formula,
        said: &mut SeenClauses,
    ) {
        if let Some(kind) = stage_kind(word) {
            return self.stage_in_formula(kind, statement, inner, formula, said);
        }
        let losses = (&mut formula.bake_loss, &mut formula.make_up_loss);
        if self.loss(statement, word, said, losses.0, losses.1) {
            return;
        }
        if self.beside_the_sums(|reader| reader.words(statement, word, &mut formula.texts)) {
            return;
        }
        if let Some(kind) = words_kind(word) {
            let mut cursor = statement.after_word();
            let rest = cursor.rest();
            let text = self.text_after(&mut cursor, kind.1, rest);
            let is_read = self.done(text).is_some();
            // A text that is written as a block is one slip.
            if is_read {
                self.no_block(statement);
            }
            return;
        }
        self.unknown_in_formula(statement, word, inner, formula, said);
    }

    fn stage_in_formula(
        &mut self,
        kind: StageKind,
        statement: &Statement<'a>,
        inner: &mut Statements<'a>,
        formula: &mut Formula,
        said: &mut SeenClauses,
    ) {
        if let Some(stage) = self.stage(kind, statement, inner)
            && self.first_of_name(said, "stage", &stage.name)
        {
            formula.stages.push(stage);
        }
    }

    /// A word that means nothing in a formula. Where it stands before a block and is
    /// close to the word of one, the block is read as that one.
    fn unknown_in_formula(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        inner: &mut Statements<'a>,
        formula: &mut Formula,
        said: &mut SeenClauses,
    ) {
        if statement.cursor.are("counts", "as") {
            self.fail(misplaced_statement::counts_elsewhere(statement.span));
            return self.no_block(statement);
        }
        if statement.has_block() && self.block_said_otherwise(statement, inner, formula, said) {
            return;
        }
        if let Some(help) = said_for::in_a_formula(self.under(statement.span)) {
            let here = statement.cursor.here();
            self.fail(unknown_word::said_for(here, self.under(here), "formula", &help));
            return self.made_as_said(statement, &help, formula, said);
        }
        if let Some(near) = near(word, BLOCKS).filter(|_| statement.has_block()) {
            let here = statement.cursor.here();
            self.fail(unknown_word::unknown_word(here, self.under(here), "formula", Some(near)));
            return self.formula_statement(statement, near, inner, formula, said);
        }
        if statement.has_block() && self.stage_misspelt(statement, word, inner, formula, said) {
            return;
        }
        if let Some(Block::Ours(ours)) = said_for::block(self.under(statement.span))
            && !statement.has_block()
        {
            // `ingredients:`
            let here = statement.cursor.here();
            let help = format!("write `{ours} {{ … }}`");
            return self.fail(unknown_word::said_for(here, self.under(here), "formula", &help));
        }
        let cursor = statement.cursor;
        let mut ahead = cursor;
        while ahead.word().is_some() {
            ahead.advance();
        }
        if ahead.is_sign(":") || ahead.is_sign("=") {
            // `hydration: 65%`
            ahead.advance();
        }
        // A statement of several words with one of them misspelt: `bake los 13%`.
        let words = cursor.here().to(ahead.after());
        let several = self.under(words).contains(' ') && ahead.is_number();
        if let Some(known) = near(self.under(words), OF_A_FORMULA).filter(|_| several) {
            let said = unknown_word::unknown_word(words, self.under(words), "formula", Some(known));
            return self.fail(said);
        }
        let is_line = near(word, OF_A_FORMULA).is_none()
            && ahead.is_number()
            && ahead.after().end > cursor.here().start;
        if is_line && !statement.has_block() {
            let name = self.under(words).trim_end().to_lowercase();
            let is_claim = figure(&name) != WrittenIn::Other && !BOTH.contains(&name.as_str());
            let known =
                formula.total.is_some() || formula.dough.is_some() || inner.has(self, is_mix);
            if !is_claim && !known {
                let lines = inner.loose_lines(self, statement, true, self::is_line);
                self.fail(misplaced_statement::line_in_formula(
                    cursor.rest(),
                    self.under(cursor.rest()),
                ));
                let loose = statement.with_loose(lines);
                return self.block_of_lines(&loose, "dough", inner, &mut formula.dough, said);
            }
            let (rest, written) = (cursor.rest(), self.under(cursor.rest()));
            let is_step = Verb::read(word).is_some() || other_verb(word).is_some();
            return self.fail(match is_step {
                true => misplaced_statement::step_in_formula(rest, written),
                false => misplaced_statement::line_in_formula(rest, written),
            });
        }
        self.unknown_word(statement, "formula", OF_A_FORMULA);
    }

    /// `yield 2 loaves`: what is made is known all the same, so that nothing else asks for it.
    fn made_as_said(
        &mut self,
        statement: &Statement<'a>,
        help: &str,
        formula: &mut Formula,
        said: &mut SeenClauses,
    ) {
        if formula.makes.is_some() || !help.contains("`makes ") {
            return;
        }
        let mut cursor = statement.after_word();
        while !cursor.at_end() && !cursor.is_number() {
            cursor.advance();
        }
        let (findings, rewordings) = (self.findings.len(), self.rewordings.len());
        if let Ok(makes) = self.makes(&mut cursor, statement.span)
            && cursor.at_end()
            && self.first_time(said, "makes", statement.span)
        {
            formula.makes = Some(makes);
        }
        self.findings.truncate(findings);
        self.rewordings.truncate(rewordings);
    }

    /// What a block without a word before it is, by what it holds.
    fn block_by_what_it_holds(
        &self,
        statement: &Statement<'a>,
        formula: &Formula,
    ) -> Option<Block> {
        let first = |head: &str| head.split_whitespace().next().unwrap_or_default().to_lowercase();
        let is_step = |head: &str| {
            let word = first(head);
            Verb::read(&word).is_some() || other_verb(&word).is_some()
        };
        let is_claim = |head: &str| {
            let name = head.split(|sign: char| sign.is_ascii_digit()).next().unwrap_or_default();
            figure(name.trim()) != WrittenIn::Other && !BOTH.contains(&name.trim())
                || name.contains(" in ")
        };
        let more_than_half = |(all, some): (usize, usize)| all > 0 && some * 2 > all;
        if more_than_half(statement.holds(self, is_step)) {
            return Some(Block::Ours("method"));
        }
        let (all, claims) = statement.holds(self, is_claim);
        if all > 0 && claims * 3 > all {
            return Some(Block::Ours("expect"));
        }
        let has_number = |head: &str| head.contains(|sign: char| sign.is_ascii_digit());
        let is_mix = formula.total.is_none() && formula.dough.is_none();
        let shares = statement.holds(self, |head| head.contains('%'));
        (is_mix && more_than_half(statement.holds(self, has_number)))
            .then(|| Block::Ours(if more_than_half(shares) { "total" } else { "dough" }))
    }

    /// `polish { … }`: a stage that is called by what it is, with a slip in its name.
    fn stage_misspelt(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        inner: &mut Statements<'a>,
        formula: &mut Formula,
        said: &mut SeenClauses,
    ) -> bool {
        let Some(meant) = near(word, STAGE_NAMES).filter(|_| statement.after_word().at_end())
        else {
            return false;
        };
        let kind = STAGES_BY_NAME.iter().find(|(known, _)| *known == meant);
        let kind = kind.map_or(StageKind::Preferment, |(_, kind)| *kind);
        let here = statement.cursor.here();
        self.fail(unknown_word::unknown_word(here, self.under(here), "formula", Some(meant)));
        if let Some(mut stage) = self.stage(kind, &statement.as_name(), inner) {
            stage.name = name_of(meant, here);
            if self.first_of_name(said, "stage", &stage.name) {
                formula.stages.push(stage);
            }
        }
        true
    }

    /// A block with another word before it, read as the one that is meant; says whether there
    /// is one. A block of lines with a name that says nothing is read as a side mix.
    fn block_said_otherwise(
        &mut self,
        statement: &Statement<'a>,
        inner: &mut Statements<'a>,
        formula: &mut Formula,
        said: &mut SeenClauses,
    ) -> bool {
        let head = self.under(statement.span).trim();
        let word = statement.cursor.lower();
        let is_stage = said_for::names_a_stage(&word) && !statement.after_word().at_end();
        let has_numbers = |head: &str| head.contains(|sign: char| sign.is_ascii_digit());
        let is_of_stage = |head: &str, words: &[&str]| {
            head.split_whitespace().next().is_some_and(|first| words.contains(&first))
        };
        let by_content = || self.block_by_what_it_holds(statement, formula);
        let meant = match said_for::block(head) {
            Some(meant) => Some(meant),
            None if head.is_empty() => by_content(),
            None if head.eq_ignore_ascii_case(&word)
                && (Verb::read(&word).is_some() || other_verb(&word).is_some()) =>
            {
                // `bake { 35 min at 230C }`
                self.fail(misplaced_statement::step_with_braces(statement.span, head));
                let mut inside = self.open(statement);
                while inside.next(self).is_some() {}
                self.close(&inside);
                return true;
            }
            None if is_stage => Some(Block::Stage(StageKind::Preferment)),
            None if near(&word, BLOCKS).is_some() || near(&word, STAGE_NAMES).is_some() => None,
            None if statement.holds(self, |head| is_of_stage(head, &["ferments", "ripens"])).1
                > 0 =>
            {
                Some(Block::Stage(StageKind::Preferment))
            }
            None if statement.holds(self, |head| is_of_stage(head, &["stands", "takes"])).1 > 0 => {
                Some(Block::Stage(StageKind::Soaker))
            }
            None => {
                let (all, lines) = statement.holds(self, has_numbers);
                (all > 0 && lines * 2 > all).then_some(Block::Mixture)
            }
        };
        let Some(meant) = meant else { return false };
        let finding = match meant {
            Block::Ours(ours) => unknown_word::block_of_ours(statement.span, head, ours),
            Block::Stage(kind) => {
                let name = if is_stage { self.under(statement.after_word().rest()) } else { head };
                unknown_word::stage(statement.span, head, kind.word(), name)
            }
            Block::Mixture => unknown_word::mixture(statement.span, head),
        };
        self.fail(finding);
        match meant {
            Block::Ours(ours) => {
                self.formula_statement(&statement.as_word(), ours, inner, formula, said);
            }
            Block::Stage(kind) => {
                let statement = if is_stage { *statement } else { statement.as_name() };
                self.stage_in_formula(kind, &statement, inner, formula, said);
            }
            Block::Mixture => {
                self.formula_statement(&statement.as_name(), "mixture", inner, formula, said);
            }
        }
        true
    }

    /// `total` or `dough`.
    fn block_of_lines(
        &mut self,
        statement: &Statement<'a>,
        word: &'static str,
        outer: &mut Statements<'a>,
        place: &mut Option<Mix>,
        said: &mut SeenClauses,
    ) {
        let mut cursor = statement.after_word();
        self.needless_colon(&mut cursor);
        let help = "its lines go in braces; how much is made is said by `makes 20 kg dough`";
        let end = self.end(&cursor, help);
        self.done(end);
        let mut inner = self.open_needed(statement, word);
        let (mut mix, mut saves) = (Mix::default(), Vec::new());
        self.lines(&mut inner, outer, &mut mix, OF_LINES, |reader, statement, word| {
            reader.save_of_dough(statement, word, &mut saves)
        });
        mix.save = saves;
        mix.span = statement.cursor.here();
        self.numbers_alone(&mut mix, word);
        if self.first_block(said, word, statement) {
            *place = Some(mix);
        }
    }

    /// Lines of which each is a number alone: one slip, and they count as what is likeliest.
    fn numbers_alone(&mut self, mix: &mut Mix, word: &str) {
        let is_bare = |line: &Line| {
            matches!(&line.amount, Amount::Measured { range, base: None }
            if [&range.low, &range.high].into_iter().flatten().all(|end| end.unit == Unit::Count))
        };
        let of_flour = |line: &Line| {
            matches!(&line.amount, Amount::Measured { range, .. }
            if range.low.as_ref().is_some_and(|low| low.number == int(100)))
        };
        let [first, _, ..] = mix.lines.as_slice() else { return };
        if !mix.lines.iter().all(is_bare) {
            return;
        }
        let unit = match word == "total" || mix.lines.iter().any(of_flour) {
            true => Unit::Percent,
            false => Unit::Gram,
        };
        let (span, written) = (first.span, self.under(first.span));
        self.fail(missing_unit::all_lines(span, word, written, unit));
        for line in &mut mix.lines {
            let Amount::Measured { range, .. } = &mut line.amount else { continue };
            range.low.iter_mut().chain(&mut range.high).for_each(|end| end.unit = unit);
        }
    }

    /// `bake loss 13%`, `make-up loss 2%`; says whether the statement was one.
    pub fn loss(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        said: &mut SeenClauses,
        bake: &mut Option<Quantity>,
        make_up: &mut Option<Quantity>,
    ) -> bool {
        let mut cursor = statement.after_word();
        let (place, name) = match word {
            "bake" => (bake, "bake loss"),
            "make-up" => (make_up, "make-up loss"),
            _ => return false,
        };
        if !cursor.take("loss") {
            return false;
        }
        if self.first_time(said, name, statement.span) {
            let read = self.quantity(&mut cursor, ExpectedAmount::Loss).and_then(|loss| {
                self.end(&cursor, "")?;
                Ok(loss)
            });
            *place = self.done(read);
            self.no_block(statement);
        }
        true
    }

    /// `note "…"` and its like; says whether the statement was one.
    pub fn words(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        texts: &mut Vec<NotedText>,
    ) -> bool {
        let Some((kind, name)) = words_kind(word) else { return false };
        let mut cursor = statement.after_word();
        if !cursor.is_text() && !matches!(kind, WordsKind::Note | WordsKind::Caution) {
            return false;
        }
        let rest = cursor.rest();
        let read = self.text_after(&mut cursor, name, rest).and_then(|text| {
            let mut allow = Vec::new();
            while cursor.is("allow") {
                allow.push(self.allowed(&mut cursor)?);
            }
            self.end(&cursor, "the text may be followed by `allow FINDING \"the reason\"`")?;
            Ok(NotedText { kind, text, allow })
        });
        texts.extend(self.done(read));
        self.no_block(statement);
        true
    }

    /// `allow FINDING "reason"`.
    pub fn allow(&mut self, statement: &Statement<'a>, allows: &mut Vec<Allow>) {
        let mut cursor = statement.cursor;
        let read = self.allowed(&mut cursor).and_then(|allow| {
            self.end(&cursor, "")?;
            Ok(allow)
        });
        allows.extend(self.done(read));
        self.no_block(statement);
    }

    /// An `allow` at the cursor, on a line of its own or behind the words that it is about.
    pub fn allowed(&mut self, cursor: &mut Cursor) -> Reading<Allow> {
        let first = cursor.here();
        cursor.advance();
        let here = cursor.here();
        let Some(finding) = self.name(cursor, |_| false) else {
            return Err(missing_name::missing_name(here, "`allow`").into());
        };
        let reason = cursor.is_text().then(|| self.text(cursor));
        if reason.is_none() && cursor.at_end() {
            self.fail(missing_value::missing_reason(cursor.since(here), &finding.shown));
        }
        Ok(Allow { finding, reason, span: cursor.since(first) })
    }
}

/// Articles before the second of two names.
const ARTICLES: [&str; 17] = [
    "the", "la", "le", "les", "il", "lo", "gli", "el", "los", "las", "das", "der", "die", "den",
    "dem", "l'", "l’",
];

/// What stands between two names that are read as one.
const JOINERS: [&str; 5] = [" and ", " und ", " et ", " e ", " y "];

/// No bakery bakes for more at once.
const MAX_PEOPLE: i64 = 1_000_000;

/// What portions are for.
pub const PEOPLE: [&str; 7] =
    ["people", "persons", "person", "portions", "servings", "adults", "guests"];

/// The kind of stage that a word opens.
pub fn stage_kind(word: &str) -> Option<StageKind> {
    Some(match word {
        "preferment" => StageKind::Preferment,
        "build" => StageKind::Build,
        "soaker" => StageKind::Soaker,
        "scald" => StageKind::Scald,
        _ => return None,
    })
}

/// The kind of text that a word begins, and the word as the language has it.
pub fn words_kind(word: &str) -> Option<(WordsKind, &'static str)> {
    WordsKind::named(word).map(|kind| (kind, kind.word()))
}

/// Whether a line looks like a name and its amount, in either order.
fn is_line(head: &str) -> bool {
    let first = head.split_whitespace().next().unwrap_or_default().to_lowercase();
    head.contains(|sign: char| sign.is_ascii_digit()) && !OF_A_FORMULA.contains(&first.as_str())
}

/// Whether a head is that of the lines of a formula.
fn is_mix(head: &str) -> bool {
    let head = head.trim().to_lowercase();
    ["dough", "total"].iter().any(|word| head.starts_with(word))
        || said_for::block(&head) == Some(Block::Ours("dough"))
}

/// `starter { … }` in a formula: what is mixed for it, not what is kept.
fn is_a_starter_of_its_own(statement: &Statement) -> bool {
    statement.has_block() && statement.cursor.is("starter") && statement.after_word().at_end()
}

/// Whether a statement in a formula is a declaration of its file.
fn belongs_to_file(statement: &Statement, word: &str) -> bool {
    match word {
        "bakehouse" | "formula" | "culture" | "starter" | "ingredient" | "day" | "booklet" => true,
        "style" | "tin" | "mixer" | "oven" => statement.has_block(),
        _ => false,
    }
}

fn empty_formula(name: Name, title: Option<Text>, from: Option<Name>, span: Span) -> Formula {
    Formula {
        name,
        title,
        from,
        style: None,
        makes: None,
        serves: None,
        bake_loss: None,
        make_up_loss: None,
        total: None,
        dough: None,
        stages: Vec::new(),
        mixtures: Vec::new(),
        pieces: Vec::new(),
        method: None,
        expect: Vec::new(),
        allow: Vec::new(),
        texts: Vec::new(),
        without: Vec::new(),
        span,
        broken: false,
    }
}

/// A weight in grams, whatever it is written in.
fn in_grams(weight: &Quantity) -> Exact {
    weight.unit.to_base(&weight.number, Measures::default())
}
