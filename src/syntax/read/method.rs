//! Methods: steps, their phases, and the clauses of each.

use super::cursor::Cursor;
use super::foreign::{self, Abroad, clause_here, ends_name, is_and};
use super::plain::plain_extent;
use super::seen_clauses::SeenClauses;
use super::spoken::{
    begins_amount, begins_gas_mark, begins_temperature, begins_time, figures, past_number, spoken,
    unit_here,
};
use super::statements::{Statement, Statements};
use super::stepping::{SaidVerb, Stepping, empty_step};
use super::verbs::{
    begins_aside, begins_certain_speed, begins_dough_temperature, begins_folds, how_warm,
    is_clause_word, is_doubling, is_manner, is_tool, is_vessel, next_step, past_factor,
    speed_in_words, uses_tools,
};
use super::words::DEGREES;
use super::words::{
    OF_A_FILE, OF_A_FOLD, OF_A_FORMULA, OF_A_STEP, OF_UNTIL, OF_WITH, UNDERSTOOD, is_reserved,
    kept_verb, near, near_other_verb, other_verb,
};
use super::{Reader, Reading};
use crate::diag::Finding;
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Unit, int, ratio, read_number};
use crate::source::Span;
use crate::syntax::abroad;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    incomplete_statement, misplaced_punctuation, misplaced_statement, missing_name, missing_unit,
    unexpected_text, unknown_value, unknown_word, wrong_kind_of_amount,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{
    Extent, Flag, Fold, FoldStyle, Method, Name, Per, Phase, Quantity, Step, Target, Text,
    TextPart, Until, Verb, With,
};
use crate::syntax::waits::NIGHTS;

/// The steps of a method that is being read.
#[derive(Default)]
struct Steps {
    steps: Vec<Step>,
    /// Verbs whose meaning depends on the steps around them.
    said: Vec<SaidVerb>,
    /// What a step adds everything but, with the number of the step.
    excepted: Vec<(usize, Name)>,
    /// The statement before, where it ends with what goes in.
    listed: Option<Span>,
    /// Whether its list goes on behind a `;`, which has had its finding.
    told_list: bool,
}

impl<'a> Reader<'a> {
    /// The steps of a method. `outer` is the formula's block, where this is its method.
    pub fn method(
        &mut self,
        statement: &Statement<'a>,
        inner: &mut Statements<'a>,
        mut outer: Option<&mut Statements<'a>>,
    ) -> Method {
        let end = self.end(&statement.after_word(), "its steps go in braces");
        self.done(end);
        let mut steps = Steps::default();
        while let Some(statement) = inner.next(self) {
            let word = statement.cursor.lower();
            match &mut outer {
                Some(outer) if belongs_outside(&statement, &word, self.is_lacking()) => {
                    self.hand_out(&statement, inner, outer);
                }
                _ => self.steps(&statement, inner, &mut steps),
            }
        }
        self.close(inner);
        let Steps { mut steps, said, excepted, .. } = steps;
        self.settle_verbs(&mut steps, &said);
        self.left_out(&steps, &excepted);
        mix_takes_all(&mut steps);
        bakes_in_what_was_heated(&mut steps);
        if let Some(silent) = silent_autolyse(&steps) {
            self.fail(incomplete_statement::autolyse_with(silent));
        }
        Method { steps, broken: false, span: statement.cursor.here() }
    }

    /// The step of a statement; the steps, where a comma or a missing line break has
    /// joined them.
    fn steps(&mut self, statement: &Statement<'a>, outer: &mut Statements<'a>, steps: &mut Steps) {
        let mut cursor = statement.cursor;
        self.needless_bullet(&mut cursor);
        self.needless_number(&mut cursor);
        let Some((first, second)) = foreign::two_at_end(&cursor) else {
            return self.steps_at(statement, outer, steps, (cursor, true));
        };
        // `Zutaten mischen und 10 Minuten kneten`
        let start = second.here().start;
        let gap = Span { start: first.rest().end, end: start, ..second.here() };
        self.steps_at(statement, outer, steps, (first, false));
        self.reword(gap, "; ");
        self.steps_at(statement, outer, steps, (second, true));
    }

    /// The steps from a place on, and whether the statement ends with them.
    fn steps_at(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
        steps: &mut Steps,
        (mut cursor, ends): (Cursor<'a>, bool),
    ) {
        loop {
            let number = steps.steps.len();
            self.all_in_the_bowl(&mut cursor);
            let covered = self.cover_and(&mut cursor);
            let behind = if covered.is_some() { " covered" } else { "" };
            let cooler = self.cooler_step(&mut cursor);
            let folds = if cooler.is_none() { self.folds_first(&mut cursor) } else { None };
            let verb = match (&cooler, &folds) {
                (Some((span, ..)), _) => Some((Verb::Bake, *span)),
                (None, Some((span, _))) => Some((Verb::Fold, *span)),
                (None, None) => self.verb(&mut cursor, number, &mut steps.said, behind),
            };
            let late = || self.late_verb(&mut cursor, number, &mut steps.said);
            let found = verb.map(|(verb, span)| (verb, span, None)).or_else(late);
            let Some((verb, verb_span, time)) = found else {
                if self.list_goes_on_here(statement, steps) {
                    return;
                }
                return self.unknown_verb(statement, cursor);
            };
            self.colon_behind_verb(&mut cursor);
            let mut stepping = self.begin_step(verb, verb_span, &mut cursor);
            let time = match cooler {
                Some((_, time, at)) => {
                    self.first_time(&mut stepping.said, "at", at.span);
                    stepping.phase.at = Some(Box::new(at));
                    Some(time)
                }
                None => time,
            };
            if is_doubling(self.under(verb_span))
                && self.first_time(&mut stepping.said, "until volume", verb_span)
            {
                let (number, unit) = (int(2), Unit::Times);
                let doubled = Quantity { number, unit, decimals: Some(0), span: verb_span };
                stepping.phase.until.push(Until::Volume(doubled));
            }
            stepping.phase.fold = stepping.phase.fold.or(folds.map(|(_, fold)| Box::new(fold)));
            if let Some(span) = covered {
                self.first_time(&mut stepping.said, "covered", span);
                stepping.phase.flags.push((Flag::Covered, span));
            }
            if let Some(time) = time {
                self.first_time(&mut stepping.said, "the duration", time.span);
                stepping.phase.duration = Some(Box::new(time));
            }
            self.clauses(&mut cursor, &mut stepping);
            self.folds_of_a_wait(&mut stepping);
            let is_last = cursor.at_end();
            if is_last && ends {
                self.step_block(statement, outer, &mut stepping);
            }
            let excepted = std::mem::take(&mut self.excepted);
            steps.excepted.extend(excepted.into_iter().map(|name| (number, name)));
            steps.listed = Some(statement.span).filter(|_| !stepping.phase.with.is_empty());
            steps.told_list = false;
            stepping.step.phases.push(stepping.phase);
            let each_side = stepping.each_side;
            steps.steps.push(stepping.step);
            if let Some(each_side) = each_side {
                self.other_side(&mut steps.steps, each_side);
            }
            if is_last {
                return;
            }
        }
    }

    /// `with flours; water; salt`: what goes in, with `;` for each comma. One finding for all.
    fn list_goes_on_here(&mut self, statement: &Statement<'a>, steps: &mut Steps) -> bool {
        let Some(before) = steps.listed else { return false };
        let gap = Span { start: before.end, end: statement.span.start, ..before };
        let written = self.under(gap);
        if written.contains('\n') || !written.contains(';') || statement.has_block() {
            return false;
        }
        if !std::mem::replace(&mut steps.told_list, true) {
            self.fail(misplaced_punctuation::list_by_semicolons(gap));
        }
        steps.listed = Some(statement.span);
        self.broken = true;
        true
    }

    /// What is left out of everything has to go in elsewhere.
    fn left_out(&mut self, steps: &[Step], excepted: &[(usize, Name)]) {
        for (number, name) in excepted {
            let others = steps.iter().enumerate().filter(|(other, _)| other != number);
            let lists = others.flat_map(|(_, step)| &step.phases).flat_map(|phase| &phase.with);
            let names = |with: &With| match with {
                With::Name(target)
                | With::Remaining(target)
                | With::Share(_, target)
                | With::Weight(_, target) => target.name.key == name.key,
                With::Flours(_) => name.key == "flours" || name.key.ends_with("flour"),
                With::EverythingElse(_) => false,
            };
            if !lists.into_iter().any(names) {
                self.fail(incomplete_statement::left_out(name.span, &name.shown));
            }
        }
    }

    fn begin_step(&mut self, verb: Verb, verb_span: Span, cursor: &mut Cursor) -> Stepping {
        let text = match verb {
            Verb::Step => {
                let words = unquoted(cursor);
                let text = self.text_after(cursor, "step", words);
                self.done(text)
            }
            _ => None,
        };
        if [Verb::Proof, Verb::Bulk].contains(&verb) && wakes_yeast(cursor) {
            self.fail(misplaced_statement::wakes_yeast(verb_span));
            while !cursor.at_end() {
                cursor.advance();
            }
        }
        if verb != Verb::Step {
            self.understood(cursor);
        }
        let mut phase = Phase { span: cursor.here(), ..Phase::default() };
        let mut said = SeenClauses::default();
        let dresses = [Verb::Glaze, Verb::Top, Verb::Dust, Verb::Wash].contains(&verb);
        let lists = [Verb::Mix, Verb::Autolyse].contains(&verb) || dresses;
        if lists && !begins_certain_speed(cursor) && begins_list(cursor) {
            self.list_without_with(cursor, &mut phase.with, &mut said);
        }
        if verb == Verb::Fold && begins_fold(cursor) {
            let fold = self.fold(cursor, verb_span);
            phase.fold = self.done(fold).map(Box::new);
        }
        let kept = kept_verb(self.under(verb_span));
        let step = Step { said: kept, ..empty_step(verb, text, verb_span) };
        let said_of_step = SeenClauses::default();
        let (each_side, told_speed, in_braces, aside) = (None, false, false, Vec::new());
        Stepping { step, phase, said, said_of_step, each_side, told_speed, in_braces, aside }
    }

    /// `the dough` behind its verb.
    fn understood(&mut self, cursor: &mut Cursor) {
        let (first, mut ahead) = (cursor.here(), *cursor);
        if ahead.take_longest(phrases!(UNDERSTOOD)).is_some() && ends_before_clause(&ahead) {
            let end = if ahead.at_end() { ahead.after().end } else { ahead.here().start };
            self.reword(Span { end, ..first }, "");
            *cursor = ahead;
        }
    }

    /// `mix flour, water 10min`: what goes in, without its word.
    fn list_without_with(
        &mut self,
        cursor: &mut Cursor,
        list: &mut Vec<With>,
        said: &mut SeenClauses,
    ) {
        let mut at = Span { end: cursor.here().start, ..cursor.here() };
        // `dorer au jaune d'œuf`
        let prepositions = ["au", "aux", "de", "du", "col"];
        if prepositions.iter().any(|word| cursor.is(word)) && cursor.further().word().is_some() {
            cursor.advance();
            at.end = cursor.here().start;
        }
        self.first_time(said, "with", at);
        let mark = self.rewordings.len();
        self.reword(at, "with ");
        let read = self.with_list(cursor, list);
        if self.done(read).is_none() {
            self.rewordings.truncate(mark);
        }
    }

    /// The clauses in the braces of a step.
    fn step_block(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
        stepping: &mut Stepping,
    ) {
        if !statement.has_block() {
            return;
        }
        stepping.in_braces = true;
        let mut inner = self.open_filled(statement, stepping.step.verb.word());
        while let Some(clauses) = inner.next(self) {
            let mut cursor = clauses.cursor;
            let is_outside = begins_step(&cursor)
                || belongs_outside(&clauses, &cursor.lower(), self.is_lacking());
            if is_outside && self.is_lacking() {
                self.hand_out(&clauses, &mut inner, outer);
                continue;
            }
            self.clauses(&mut cursor, stepping);
            self.no_block(&clauses);
        }
        self.close(&inner);
    }

    /// `fold every 30min for 2h` is a wait in which the dough is folded.
    fn folds_of_a_wait(&mut self, stepping: &mut Stepping) {
        let is_wait = stepping.step.verb == Verb::Fold
            && stepping.phase.duration.is_some()
            && stepping.phase.fold.as_ref().is_some_and(|fold| fold.every.is_some());
        if is_wait {
            let span = stepping.step.verb_span;
            self.reword(Span { end: span.start, ..span }, "bulk ");
            if self.under(span) != "fold" {
                self.rewordings.retain(|it| it.span != span);
                self.reword(span, "fold");
            }
            stepping.step.verb = Verb::Bulk;
            stepping.step.said = None;
        }
    }

    /// `overnight, 12 to 18 hours`: the hours say how long the night is.
    fn hours_of_a_night(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> Reading<bool> {
        let Some(night) = stepping.phase.duration.as_ref().map(|time| time.span) else {
            return Ok(false);
        };
        let said = self.under(night).to_lowercase();
        let in_brackets = cursor.is_sign("(");
        let behind = if cursor.is_comma() || in_brackets { cursor.further() } else { *cursor };
        let behind = if behind.is("for") { behind.further() } else { behind };
        // Where the night stands before its verb, the hours are a duration of their own.
        let is_next = night.end == cursor.after().start;
        if !is_next
            || !NIGHTS.contains(&said.as_str())
            || !begins_time(&behind)
            || begins_temperature(&behind)
        {
            return Ok(false);
        }
        let from = behind.here();
        *cursor = behind;
        let time = self.extent(cursor, ExpectedAmount::Time)?;
        self.rewordings.retain(|it| it.span != night);
        self.findings.retain(|it| it.span() != night || it.rule.name != "read-as");
        self.reword(Span { end: from.start, ..night }, "");
        if in_brackets && cursor.is_sign(")") {
            self.reword(cursor.here(), "");
            cursor.advance();
        }
        stepping.phase.duration = Some(Box::new(time));
        Ok(true)
    }

    /// `bake: 35 min`, as in a list: nothing that means anything.
    fn colon_behind_verb(&mut self, cursor: &mut Cursor) {
        if cursor.is_sign(":") && !cursor.further().at_end() {
            let gap = Span { end: cursor.further().here().start, ..cursor.after() };
            self.reword(gap, " ");
            cursor.advance();
        } else {
            self.needless_colon(cursor);
        }
    }

    fn unknown_verb(&mut self, statement: &Statement<'a>, cursor: Cursor) {
        if cursor.at_end() {
            return self.no_block(statement);
        }
        if self.cooler_alone(&cursor) {
            return;
        }
        let mut here = cursor.here();
        if begins_time(&cursor) {
            let rest = cursor.rest();
            return self.fail(unknown_word::time_without_verb(rest, cursor.under(rest)));
        }
        let Some(word) = cursor.word() else {
            let rest = cursor.rest();
            let help = "a step begins with its verb, such as `mix 6min`";
            return self.fail(unexpected_text::left_over(rest, cursor.under(rest), help));
        };
        let lower = word.to_lowercase();
        let verbs = Verb::ALL.map(|(verb, _)| verb);
        let words = cursor.words_ahead(abroad::LONGEST);
        let near = other_verb(&lower)
            .or_else(|| near(&lower, &verbs))
            .or_else(|| near_other_verb(&lower))
            .or_else(|| {
                let (said, _) = abroad::near_verb(&words)?;
                let behind = said.split(' ').fold(cursor, |at, _| at.further());
                here = behind.since(here);
                Some(said)
            });
        let is_clause = OF_A_STEP.contains(&lower.as_str());
        let whole = cursor.under(cursor.rest());
        self.fail(match is_clause {
            true => misplaced_statement::clause_without_verb(here, word),
            false => unknown_word::unknown_verb(here, word, whole, near),
        });
    }

    /// Reads clauses to the end of the statement, or to the next step where there is one
    /// on the same line. Behind a clause that can't be read, goes on with the next word
    /// that begins one.
    fn clauses(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) {
        while !cursor.at_end() {
            if self.full_stop(cursor) {
                let notes = notes_of(stepping);
                if let Some(last) = self.rewordings.last_mut().filter(|_| !notes.is_empty()) {
                    last.text.insert_str(0, &notes);
                }
                break;
            }
            if cursor.at_end() {
                continue;
            }
            if begins_step(cursor) {
                // Behind a comma, the comma has had its finding.
                if !cursor.on_new_line() && !self.is_behind_comma(cursor) {
                    let here = cursor.here();
                    self.report(misplaced_statement::step_on_own_line(here, cursor.under(here)));
                }
                break;
            }
            if let Some(next) = next_step(cursor).filter(|_| !stepping.in_braces) {
                let gap = Span { end: next.here().start, ..cursor.after() };
                let notes = notes_of(stepping);
                self.reword(gap, format!("{notes}; "));
                *cursor = next;
                break;
            }
            let before = cursor.rest();
            let Err(finding) = self.clause(cursor, stepping) else { continue };
            self.fail(*finding);
            if cursor.rest() == before {
                cursor.advance();
            }
            while !cursor.at_end() && !is_clause_word(cursor) && !begins_step(cursor) {
                cursor.advance();
            }
        }
        let end = cursor.after();
        for aside in stepping.aside.drain(..) {
            self.reword(end, format!(" note \"{aside}\""));
        }
        stepping.phase.span = stepping.phase.span.to(end);
        stepping.step.span = stepping.step.span.to(end);
    }

    /// `1. knead 10min`, `2) shape`: the number of a step in a list.
    /// `Step 3: shape` as well.
    fn needless_number(&mut self, cursor: &mut Cursor) {
        const STEP: [&str; 6] = ["step", "schritt", "étape", "etape", "paso", "passo"];
        let first = cursor.here();
        let mut signs = cursor.further().further();
        if STEP.contains(&&*cursor.lower()) && cursor.further().is_number() {
            let is_sign = [":", ".", ")", "-", "–"].iter().any(|sign| signs.is_sign(sign));
            if is_sign {
                signs.advance();
            }
            if is_sign && signs.word().is_some() {
                self.reword(Span { end: signs.here().start, ..first }, "");
                *cursor = signs;
                return;
            }
        }
        let behind = cursor.further();
        let is_sign = behind.is_sign(".") || behind.is_sign(")");
        if cursor.is_number() && is_sign && behind.touches() && behind.further().word().is_some() {
            let next = behind.further();
            self.reword(Span { end: next.here().start, ..first }, "");
            *cursor = next;
        }
    }

    /// The full stop that ends a step, or parts it from the next one, where it says so.
    fn full_stop(&mut self, cursor: &mut Cursor) -> bool {
        if !cursor.is_sign(".") || !cursor.touches() {
            return false;
        }
        let next = cursor.further();
        if next.at_end() {
            self.reword(cursor.here(), "");
            cursor.advance();
        } else if begins_step(&next) {
            self.reword(Span { end: next.here().start, ..cursor.here() }, "; ");
            *cursor = next;
            return true;
        }
        false
    }

    /// A duration or a temperature in the plainest form; whether one was there.
    fn plain_clause(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> bool {
        let first = cursor.here();
        if let Some((duration, behind)) = plain_extent(cursor, ExpectedAmount::Time) {
            *cursor = behind;
            if self.first_time(&mut stepping.said, "the duration", duration.span) {
                stepping.phase.duration = Some(Box::new(duration));
                stepping.phase.per = None;
            }
            return true;
        }
        let is_at = cursor.peek().is_some_and(|token| cursor.slice(token) == "at");
        if is_at
            && let Some((at, behind)) =
                plain_extent(&cursor.further(), ExpectedAmount::Surroundings)
        {
            *cursor = behind;
            if self.first_time(&mut stepping.said, "at", cursor.since(first)) {
                stepping.phase.at = Some(Box::new(at));
            }
            return true;
        }
        false
    }

    fn clause(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> Reading<()> {
        if self.plain_clause(cursor, stepping) {
            return Ok(());
        }
        let first = cursor.here();
        let behind = cursor.further();
        let is_counted = cursor.is_number()
            && behind.word().is_some()
            && unit_here(&behind, ExpectedAmount::Time).is_none();
        if stepping.step.verb == Verb::Score && is_counted {
            // `score 3 slashes`
            self.whole_aside(cursor, first, stepping);
            return Ok(());
        }
        if self.clause_as_said(cursor, stepping)? {
            return Ok(());
        }
        if cursor.is("or") && cursor.further().is("until") {
            self.reword(Span { end: cursor.further().here().start, ..first }, "");
            cursor.advance();
        }
        if cursor.is("for") && begins_time(&cursor.further()) {
            self.reword(Span { end: cursor.further().here().start, ..first }, "");
            cursor.advance();
        }
        if let Some(span) = bare_heat(cursor, stepping.step.verb) {
            while cursor.is_number() {
                cursor.advance();
            }
            return Err(missing_unit::heat(span, cursor.under(span)).into());
        }
        if self.hours_of_a_night(cursor, stepping)? {
            return Ok(());
        }
        if let Some(span) = bare_degrees(cursor) {
            // `in preheated 400 degree oven`
            let number = cursor.under(cursor.here());
            cursor.advance();
            cursor.advance();
            return Err(missing_unit::which_degrees(span, cursor.under(span), number).into());
        }
        if begins_time(cursor) {
            let duration = self.extent(cursor, ExpectedAmount::Time)?;
            let per = if cursor.is("per") && !cursor.further().is("side") {
                Some(Box::new(self.per(cursor)?))
            } else {
                None
            };
            if self.first_time(&mut stepping.said, "the duration", duration.span) {
                stepping.phase.duration = Some(Box::new(duration));
                stepping.phase.per = per;
            }
            return Ok(());
        }
        if stepping.step.verb == Verb::Fold && stepping.phase.fold.is_none() && begins_fold(cursor)
        {
            // `fold 20min single`
            let fold = self.fold(cursor, stepping.step.verb_span)?;
            stepping.phase.fold = Some(Box::new(fold));
            return Ok(());
        }
        let behind = cursor.further();
        if cursor.is_comma() && begins_folds(&behind) {
            self.reword(Span { start: cursor.after().start, ..first }, "");
            cursor.advance();
            return Ok(());
        }
        // `mix slow 5 min, fast 5 min`
        let by_speed = cursor.is_comma() && speed_in_words(&behind).is_some();
        if by_speed && stepping.phase.duration.is_some() {
            self.fail(misplaced_punctuation::comma_between_speeds(first));
            stepping.told_speed = true;
            let end = cursor.after();
            cursor.advance();
            stepping.next_phase(end, cursor.here());
            return Ok(());
        }
        if cursor.is_comma()
            && stepping.phase.duration.is_some()
            && begins_time(&behind)
            && !begins_temperature(&behind)
        {
            self.fail(misplaced_punctuation::comma_for_then(first));
            let end = cursor.after();
            cursor.advance();
            stepping.next_phase(end, cursor.here());
            return Ok(());
        }
        if cursor.is_sign("/") && begins_temperature(&behind) {
            // `180C fan/200C`
            let is_fan = stepping.phase.flags.iter().any(|(flag, _)| *flag == Flag::Fan);
            if let Some(at) = stepping.phase.at.as_deref().filter(|_| is_fan) {
                let fan = at.clone();
                cursor.advance();
                return self.without_fan(cursor, &fan);
            }
        }
        if cursor.is_comma() && stepping.phase.duration.is_some() && says_when(&behind) {
            // `bake covered 20 min, uncovered 20 min`
            self.fail(misplaced_punctuation::comma_for_then(first));
            let end = cursor.after();
            cursor.advance();
            stepping.next_phase(end, cursor.here());
            return Ok(());
        }
        if cursor.is_comma() {
            return self.comma(cursor);
        }
        if is_and(cursor)
            && stepping.phase.duration.is_some()
            && begins_time(&behind)
            && !begins_temperature(&behind)
        {
            // `hornear 10 min a 250 C y 30 min a 200 C`
            self.reword(first, "then");
            let end = cursor.after();
            cursor.advance();
            stepping.next_phase(end, cursor.here());
            return Ok(());
        }
        if [Verb::Bake, Verb::Preheat].contains(&stepping.step.verb)
            && cursor.take_longest(phrases!(WITH_FAN)).is_some()
        {
            self.as_flag(cursor.since(first), "fan", &mut stepping.phase, &mut stepping.said);
            return Ok(());
        }
        if cursor.take_longest(phrases!(LID_OFF)).is_some() {
            self.as_flag(cursor.since(first), "uncovered", &mut stepping.phase, &mut stepping.said);
            return Ok(());
        }
        if cursor.take_longest(phrases!(LID_ON)).is_some() {
            self.as_flag(cursor.since(first), "covered", &mut stepping.phase, &mut stepping.said);
            return Ok(());
        }
        if self.each_side(cursor, stepping) || self.on_the_bench(cursor, first, stepping) {
            return Ok(());
        }
        if begins_aside(cursor) {
            self.whole_aside(cursor, first, stepping);
            return Ok(());
        }
        if matches!(cursor.word(), Some("stretch" | "Stretch")) {
            self.stretch_and_fold(cursor, first);
        }
        let end = cursor.after();
        let word = match self.clause_abroad(cursor, stepping) {
            Abroad::Done => return Ok(()),
            Abroad::GoesOn(word) => word,
            Abroad::None if cursor.is("using") => {
                self.reword(cursor.here(), "with");
                cursor.advance();
                "with"
            }
            Abroad::None => {
                let word = cursor.one_of(OF_A_STEP).unwrap_or_default();
                if !word.is_empty() && word != "allow" {
                    cursor.advance();
                }
                word
            }
        };
        match word {
            "then" => {
                stepping.next_phase(end, cursor.here());
                Ok(())
            }
            "per" => Err(misplaced_statement::per_without_time(first).into()),
            "covered" | "uncovered" | "steamed" | "vented" | "fan" | "by" => {
                self.flag(cursor, word, first, stepping)
            }
            "at" | "to" | "with" | "in" | "for" | "fold" | "until" | "speed" => {
                self.phase_clause(cursor, word, first, stepping)
            }
            "allow" => {
                let allow = self.allowed(cursor)?;
                stepping.step.allow.push(allow);
                Ok(())
            }
            "note" | "caution" | "hands-on" | "waiting" => {
                self.step_clause(cursor, word, first, stepping)
            }
            _ if self.list_behind_time(cursor, stepping) => Ok(()),
            // `score a cross`, `shape round`: how, and no amount.
            "" if is_how(cursor, stepping.step.verb) => {
                self.whole_aside(cursor, first, stepping);
                Ok(())
            }
            _ if is_speed(cursor) => {
                let told = std::mem::replace(&mut stepping.told_speed, true);
                let finding = no_clause(cursor);
                cursor.advance();
                if told { Ok(()) } else { Err(finding.into()) }
            }
            _ => Err(no_clause(cursor).into()),
        }
    }

    /// `per 20 loaves`, after a duration; `per loaf` is per 1 of them.
    fn per(&mut self, cursor: &mut Cursor) -> Reading<Per> {
        let first = cursor.here();
        cursor.advance();
        let here = cursor.here();
        let count = match cursor.is_number() {
            true => self.whole_number(cursor, "`per`")?.0,
            false => {
                if cursor.word().is_some() {
                    self.reword(Span { end: here.start, ..here }, "1 ");
                }
                1
            }
        };
        let kind = self.step_name(cursor, "kind of piece")?;
        Ok(Per { count, kind, span: cursor.since(first) })
    }

    /// `mix 10min flours, water`: what goes in without its word, where commas show a list.
    fn list_behind_time(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> bool {
        let is_list = || {
            let mut ahead = *cursor;
            let mut joined = false;
            while ahead.word().is_some() && !is_clause_word(&ahead) {
                joined |= ahead.is("and") && next_step(&ahead).is_none();
                ahead.advance();
            }
            let is_all = {
                let mut ahead = *cursor;
                ahead.take_longest(phrases!(EVERYTHING)).is_some()
            };
            is_all
                || joined
                || ahead.is_comma() && !ahead.on_new_line() && ahead.further().word().is_some()
        };
        let takes = [Verb::Mix, Verb::Autolyse].contains(&stepping.step.verb)
            && stepping.phase.with.is_empty();
        let is_here = takes && cursor.word().is_some() && !is_speed(cursor) && is_list();
        if is_here {
            self.list_without_with(cursor, &mut stepping.phase.with, &mut stepping.said);
        }
        is_here
    }

    /// A comma where a clause should begin: needless before a clause, and lost before a
    /// name.
    fn comma(&mut self, cursor: &mut Cursor) -> Reading<()> {
        let comma = cursor.here();
        cursor.advance();
        if begins_aside(cursor) {
            self.reword(comma, "");
            return Ok(());
        }
        let mut next = *cursor;
        let _ = next.take("and") | next.take("then");
        if begins_step(&next) || is_other_step(&next) {
            *cursor = next;
            let gap = Span { end: cursor.here().start, ..comma };
            return Err(misplaced_punctuation::comma_before_step(gap).into());
        }
        let before_clause = cursor.at_end()
            || cursor.is_number()
            || begins_time(cursor)
            || is_clause_word(cursor)
            || clause_here(cursor).is_some()
            || speed_in_words(cursor).is_some()
            || is_lid(cursor)
            || begins_step(cursor);
        if !before_clause {
            return Err(misplaced_punctuation::list_elsewhere(comma).into());
        }
        self.report(misplaced_punctuation::comma_between_clauses(comma, cursor.touches()));
        Ok(())
    }

    /// Whether a comma stands before this place, with `and` or `then` after it or without.
    fn is_behind_comma(&self, cursor: &Cursor) -> bool {
        let before = self.text.get(..cursor.here().start as usize).unwrap_or_default();
        let before = before.trim_end();
        let words = ["and", "then"].iter().find_map(|word| before.strip_suffix(word));
        words.unwrap_or(before).trim_end().ends_with(',')
    }

    /// A clause that is one word, or `by hand`.
    fn flag(
        &mut self,
        cursor: &mut Cursor,
        word: &str,
        first: Span,
        stepping: &mut Stepping,
    ) -> Reading<()> {
        if word == "by" && cursor.take_any(phrases!(["machine", "mixer"])) {
            self.reword(cursor.since(first), "");
            return Ok(());
        }
        if word == "by" && !cursor.take("hand") {
            return Err(incomplete_statement::by_hand(cursor.since(first)).into());
        }
        let Stepping { phase, said, .. } = stepping;
        let word = if word == "by" { "by hand" } else { word };
        let known = Flag::ALL.iter().find(|(known, _)| *known == word);
        let span = cursor.since(first);
        if let Some((name, flag)) = known.copied()
            && self.first_time(said, name, span)
        {
            phase.flags.push((flag, span));
        }
        if word == "covered" {
            self.covered_with(cursor, stepping);
        }
        Ok(())
    }

    /// Other words for a clause of one word.
    fn as_flag(
        &mut self,
        span: Span,
        word: &'static str,
        phase: &mut Phase,
        said: &mut SeenClauses,
    ) {
        self.reword(span, word);
        let known = Flag::ALL.iter().find(|(known, _)| *known == word).copied();
        if let Some((name, flag)) = known
            && self.first_time(said, name, span)
        {
            phase.flags.push((flag, span));
        }
    }

    /// A clause of the phase that says something with an amount or a name.
    fn phase_clause(
        &mut self,
        cursor: &mut Cursor,
        word: &str,
        first: Span,
        stepping: &mut Stepping,
    ) -> Reading<()> {
        let Stepping { phase, said, step, .. } = stepping;
        // An oven is brought to what then surrounds the dough.
        let word = if word == "to" && step.verb == Verb::Preheat {
            self.reword(first, "at");
            "at"
        } else {
            word
        };
        match word {
            "at" if self.takes_room(cursor) => {
                let warm = self.warmth_in_brackets(cursor, first);
                if self.first_time(said, "at", cursor.since(first)) {
                    phase.in_room = warm.is_none();
                    phase.at = warm.map(Box::new);
                }
            }
            "at" => {
                let at = self.extent(cursor, ExpectedAmount::Surroundings)?;
                self.beside(cursor, &at, ExpectedAmount::Surroundings)?;
                if self.first_time(said, "at", cursor.since(first)) {
                    phase.at = Some(Box::new(at));
                }
            }
            "to" if self.core_behind_to(cursor, first, step.verb) => {
                let core = self.quantity(cursor, ExpectedAmount::Temperature)?;
                self.behind_a_core(cursor);
                if self.first_time(said, "until core", cursor.since(first)) {
                    phase.until.push(Until::Core(core));
                }
            }
            "to" => {
                let beside = phase.at.as_ref().map(|at| at.span);
                self.range_of_surroundings(cursor, first, beside, step.verb)?;
                let to = self.dough_temperature(cursor, first, phase.duration.as_deref())?;
                if self.first_time(said, "to", cursor.since(first)) {
                    phase.to = Some(Box::new(to));
                }
            }
            "with" if begins_folds(cursor) => {
                let fold = self.folds_said(cursor, first)?;
                if self.first_time(said, "fold", cursor.since(first)) {
                    phase.fold = Some(Box::new(fold));
                }
            }
            "with" if cursor.take_longest(phrases!(LID_OFF)).is_some() => {
                self.as_flag(cursor.since(first), "uncovered", phase, said);
            }
            "with" if cursor.take_longest(phrases!(LID_ON)).is_some() => {
                self.as_flag(cursor.since(first), "covered", phase, said);
            }
            "with" if uses_tools(step.verb) && (cursor.is("a") || cursor.is("an")) => {
                self.as_a_note(cursor, first, stepping);
            }
            "with" if step.verb == Verb::Preheat => self.whole_aside(cursor, first, stepping),
            "with" if step.verb == Verb::Mix && is_tool(cursor) => {
                self.as_a_note(cursor, first, stepping);
            }
            "with" if step.verb == Verb::Bake && cursor.is("steam") => {
                cursor.advance();
                let span = cursor.since(first);
                self.reword(span, "steamed");
                if self.first_time(said, "steamed", span) {
                    phase.flags.push((Flag::Steamed, span));
                }
            }
            "with" => {
                self.with_list(cursor, &mut phase.with)?;
                self.first_time(said, "with", cursor.since(first));
            }
            "in" if self.takes_room(cursor) => {
                if self.first_time(said, "at", cursor.since(first)) {
                    phase.in_room = true;
                }
            }
            "in" if [Verb::Bake, Verb::Preheat].contains(&step.verb)
                && let Some(heat) = heated_oven(cursor) =>
            {
                // `in a 350F oven`
                self.reword(Span { end: heat.here().start, ..first }, "at ");
                *cursor = heat;
                let at = self.extent(cursor, ExpectedAmount::Surroundings)?;
                let from = cursor.after();
                if cursor.is("oven") {
                    cursor.advance();
                    self.reword(cursor.since(from), "");
                }
                if self.first_time(said, "at", cursor.since(first)) {
                    phase.at = Some(Box::new(at));
                }
            }
            "in" if is_vessel(cursor) || step.verb == Verb::Score && is_top(cursor) => {
                self.as_a_note(cursor, first, stepping);
            }
            "in" if step.verb == Verb::Pan
                && cursor.is_any(phrases!([
                    "a", "an", "the", "your", "ein", "eine", "einen", "die", "das", "den", "der",
                    "dem"
                ])) =>
            {
                self.whole_aside(cursor, first, stepping);
            }
            "in" => {
                self.article(cursor);
                how_warm(cursor)?;
                let place = self.step_name(cursor, "place")?;
                if self.first_time(said, "in", cursor.since(first)) {
                    phase.place = Some(place);
                }
            }
            "for" => {
                let kind = self.step_name(cursor, "kind of piece")?;
                if self.first_time(said, "for", cursor.since(first)) {
                    phase.kind = Some(kind);
                }
            }
            "fold" => {
                let fold = self.fold(cursor, first)?;
                if self.first_time(said, "fold", cursor.since(first)) {
                    phase.fold = Some(Box::new(fold));
                }
            }
            "speed" => {
                let (speed, _) = self.whole_number(cursor, "a speed")?;
                if self.first_time(said, "speed", cursor.since(first)) {
                    phase.speed = Some((speed, cursor.since(first)));
                }
            }
            _ => self.until(cursor, first, stepping)?,
        }
        Ok(())
    }

    /// `(20C)` behind `at room temperature`: how warm the room is then.
    fn warmth_in_brackets(&mut self, cursor: &mut Cursor, first: Span) -> Option<Extent> {
        let mut ahead = cursor.further();
        if !cursor.is_sign("(") || !begins_temperature(&ahead) {
            return None;
        }
        let (findings, rewordings) = (self.findings.len(), self.rewordings.len());
        let start = ahead.here();
        let at = self.extent(&mut ahead, ExpectedAmount::Surroundings).ok();
        let Some(at) = at.filter(|_| ahead.is_sign(")")) else {
            self.findings.truncate(findings);
            self.rewordings.truncate(rewordings);
            return None;
        };
        let warm = self.worded(ahead.since(start));
        ahead.advance();
        *cursor = ahead;
        self.reword(cursor.since(first), format!("at {warm}"));
        Some(at)
    }

    /// A clause that belongs to the whole step.
    fn step_clause(
        &mut self,
        cursor: &mut Cursor,
        word: &str,
        first: Span,
        stepping: &mut Stepping,
    ) -> Reading<()> {
        let Stepping { step, said_of_step, .. } = stepping;
        match word {
            "note" => {
                let words = unquoted(cursor);
                step.notes.push(self.text_after(cursor, "note", words)?);
            }
            "caution" => {
                let words = unquoted(cursor);
                step.cautions.push(self.text_after(cursor, "caution", words)?);
            }
            "hands-on" => {
                let time = self.extent(cursor, ExpectedAmount::Time)?;
                if self.first_time(said_of_step, "hands-on", cursor.since(first)) {
                    step.hands_on = Some(Box::new(time));
                }
            }
            _ => {
                self.first_time(said_of_step, "waiting", first);
                step.waiting = true;
            }
        }
        Ok(())
    }

    /// `25C` behind `to`; a time there, right behind the duration, is the right end of a
    /// range that is written with a word.
    fn dough_temperature(
        &mut self,
        cursor: &mut Cursor,
        to: Span,
        duration: Option<&Extent>,
    ) -> Reading<Extent> {
        let start = *cursor;
        let finding = match self.extent(cursor, ExpectedAmount::Temperature) {
            Ok(extent) => return Ok(extent),
            Err(finding) => finding,
        };
        let Some(left) = duration else { return Err(finding) };
        let between = Span { start: left.span.end, end: to.start, ..to };
        if !self.under(between).trim().is_empty() || !self.is_time(start) {
            return Err(finding);
        }
        let (gap, right) = (Span { end: start.here().start, ..between }, finding.span());
        Err(wrong_kind_of_amount::range_with_word(right, gap, start.under(right)).into())
    }

    /// Whether a time stands here; looks without a trace.
    fn is_time(&mut self, mut cursor: Cursor) -> bool {
        let (findings, rewordings) = (self.findings.len(), self.rewordings.len());
        let is_time = self.extent(&mut cursor, ExpectedAmount::Time).is_ok();
        self.findings.truncate(findings);
        self.rewordings.truncate(rewordings);
        is_time
    }

    fn step_name(&mut self, cursor: &mut Cursor, what: &str) -> Reading<Name> {
        let here = cursor.here();
        let name = self.name(cursor, ends_in_step);
        name.ok_or_else(|| missing_name::missing_name(here, what).into())
    }

    /// `once`, `3 times every 40min`, `double`.
    fn fold(&mut self, cursor: &mut Cursor, first: Span) -> Reading<Fold> {
        let mut fold = Fold { times: None, every: None, style: None, span: first };
        self.fold_details(cursor, &mut fold)?;
        fold.span = cursor.since(first);
        Ok(fold)
    }

    /// How often is folded and what lies between, in any order; what was said already is not
    /// read again.
    pub fn fold_details(&mut self, cursor: &mut Cursor, fold: &mut Fold) -> Reading<()> {
        loop {
            // `every 45 minutes, 3 times`
            let behind = cursor.further();
            let is_counted = |at: &Cursor| {
                past_factor(at).is_some() || at.is_number() && at.further().is("times")
            };
            let goes_on = || {
                fold.times.is_none() && is_counted(&behind)
                    || fold.every.is_none()
                        && (behind.is("every") || past_every(&behind).is_some() || apart(&behind))
            };
            if cursor.is_comma() && goes_on() {
                self.reword(Span { start: cursor.after().start, ..cursor.here() }, "");
                cursor.advance();
            }
            if fold.style.is_none() && cursor.take_from(OF_A_FOLD, "single") {
                fold.style = Some(FoldStyle::Single);
            } else if fold.style.is_none() && cursor.take_from(OF_A_FOLD, "double") {
                fold.style = Some(FoldStyle::Double);
            } else if fold.times.is_none() && cursor.take_from(OF_A_FOLD, "once") {
                fold.times = Some(1);
            } else if fold.times.is_none() && cursor.take_from(OF_A_FOLD, "twice") {
                fold.times = Some(2);
            } else if fold.every.is_none() && apart(cursor) {
                // `30 min apart`
                self.reword(Span { end: cursor.here().start, ..cursor.here() }, "every ");
                fold.every = Some(self.extent(cursor, ExpectedAmount::Time)?);
                let start = cursor.after().end;
                cursor.advance();
                self.reword(Span { start, ..cursor.after() }, "");
            } else if fold.times.is_none()
                && let Some((times, behind)) = past_factor(cursor)
            {
                let span = behind.since(cursor.here());
                *cursor = behind;
                self.reword(span, format!("{times} times"));
                fold.times = Some(times);
            } else if fold.times.is_none() && is_times(cursor) {
                let (times, span) = self.whole_number(cursor, "`fold`")?;
                fold.times = Some(times);
                if !cursor.take_from(OF_A_FOLD, "times") && !cursor.take("time") {
                    self.report(missing_unit::times(span, cursor.under(span)));
                }
            } else if fold.every.is_none()
                && let Some(behind) = past_every(cursor)
            {
                let gap = Span { end: behind.here().start, ..cursor.here() };
                self.reword(gap, "every ");
                *cursor = behind;
                fold.every = Some(self.extent(cursor, ExpectedAmount::Time)?);
            } else if fold.every.is_none() && cursor.take_from(OF_A_FOLD, "every") {
                fold.every = Some(self.extent(cursor, ExpectedAmount::Time)?);
            } else {
                return Ok(());
            }
        }
    }

    /// `volume 1.5x`, `core 96C`, `pH 3.9`, `"springs back slowly"`.
    fn until(&mut self, cursor: &mut Cursor, first: Span, stepping: &mut Stepping) -> Reading<()> {
        let (name, until) = if cursor.is_text() {
            ("until", Until::Text(self.text(cursor)))
        } else if cursor.take_from(OF_UNTIL, "volume") {
            ("until volume", Until::Volume(self.quantity(cursor, ExpectedAmount::Factor)?))
        } else if cursor.take_from(OF_UNTIL, "core") {
            ("until core", Until::Core(self.quantity(cursor, ExpectedAmount::Temperature)?))
        } else if self.core_as_said(cursor, stepping.step.verb) {
            let core = self.quantity(cursor, ExpectedAmount::Temperature)?;
            self.behind_a_core(cursor);
            ("until core", Until::Core(core))
        } else if cursor.take_from(OF_UNTIL, "pH") {
            let number = self.number(cursor)?.number;
            ("until pH", Until::Acidity(number, cursor.since(first)))
        } else {
            ("until", self.until_words(cursor)?)
        };
        if self.first_time(&mut stepping.said, name, cursor.since(first)) {
            stepping.phase.until.push(until);
        }
        Ok(())
    }

    /// `doubled in size`, or what to see without its quotes.
    fn until_words(&mut self, cursor: &mut Cursor) -> Reading<Until> {
        let first = cursor.here();
        if cursor.take_longest(phrases!(DOUBLED)).is_some() {
            let span = cursor.since(first);
            self.reword(span, "volume 2x");
            let (number, unit) = (int(2), Unit::Times);
            return Ok(Until::Volume(Quantity { number, unit, decimals: Some(0), span }));
        }
        if let Some(grown) = self.grown(cursor) {
            return Ok(grown);
        }
        let span = words_from(cursor);
        let written = cursor.under(span);
        if written.is_empty() {
            return Err(unknown_value::until(span, written).into());
        }
        while !cursor.at_end() && cursor.here().start < span.end {
            cursor.advance();
        }
        self.reword(span, format!("\"{written}\""));
        Ok(Until::Text(Text { parts: vec![TextPart::Plain(written.into())], span }))
    }

    /// `50% risen`, `it has grown by 75%`: how much more there is than before.
    fn grown(&mut self, cursor: &mut Cursor) -> Option<Until> {
        const BEFORE: &[&str] = &[
            "risen by",
            "it has risen by",
            "grown by",
            "it has grown by",
            "increased by",
            "it has increased by",
            "about",
            "it has risen",
            "it has grown",
        ];
        const BEHIND: &[&str] = &[
            "risen",
            "rise",
            "bigger",
            "larger",
            "increase",
            "growth",
            "increase in volume",
            "rise in volume",
            "in volume",
            "more volume",
            "volume increase",
            "bigger in volume",
        ];
        let (first, mut ahead) = (cursor.here(), *cursor);
        let said_before = ahead.take_longest(phrases!(BEFORE)).is_some_and(|said| said != "about");
        let from = ahead;
        let behind = past_number(&ahead)?;
        let number = read_number(ahead.under(behind.since(from.here()))).ok()?.value;
        unit_here(&behind, ExpectedAmount::Share)?;
        ahead = behind.further();
        let said_behind = ahead.take_longest(phrases!(BEHIND)).is_some();
        if !(said_before || said_behind) {
            return None;
        }
        *cursor = ahead;
        let (number, unit) = (int(1) + &(number * ratio(1, 100)), Unit::Times);
        let span = cursor.since(first);
        self.reword(span, format!("volume {}x", trimmed(&number, 4)));
        Some(Until::Volume(Quantity { number, unit, decimals: None, span }))
    }

    /// What goes in, with commas between. A comma at the end of a line goes on in the
    /// next one, which may have been meant as a clause or a step.
    fn with_list(&mut self, cursor: &mut Cursor, list: &mut Vec<With>) -> Reading<()> {
        list.push(self.with(cursor)?);
        while cursor.is_comma() || cursor.are("and", "the") {
            let comma = cursor.here();
            if cursor.is_comma() && next_step(cursor).is_some_and(|next| adds_or_waits(&next)) {
                // `brush with milk, sprinkle with seeds`
                break;
            }
            if cursor.is_comma() && begins_dough_temperature(&cursor.further()) {
                let gap = Span { start: cursor.after().start, ..cursor.here() };
                self.reword(gap, "");
                cursor.advance();
                break;
            }
            if !cursor.is_comma() {
                let gap = Span { start: cursor.after().end, ..comma };
                self.reword(gap, ",");
            }
            cursor.advance();
            let is_and = cursor.is("and") || is_and(cursor);
            if is_and && cursor.further().word().is_some() && next_step(cursor).is_none() {
                self.reword(Span { end: cursor.further().here().start, ..cursor.here() }, "");
                cursor.advance();
            }
            let is_next_step = cursor.on_new_line() && begins_step(cursor);
            if cursor.at_end() || is_clause_word(cursor) || is_next_step {
                self.report(misplaced_punctuation::list_goes_on(comma, cursor.touches()));
                break;
            }
            list.push(self.with(cursor)?);
        }
        Ok(())
    }

    fn with(&mut self, cursor: &mut Cursor) -> Reading<With> {
        self.article_abroad(cursor);
        let first = cursor.here();
        if let Some(said) = self.with_as_said(cursor)? {
            return Ok(said);
        }
        if begins_amount(cursor, ExpectedAmount::PartOfMix) {
            return self.with_amount(cursor);
        }
        let quoted = cursor.is_text();
        if !quoted
            && cursor.one_of(OF_WITH) == Some("remaining")
            && cursor.further().word().is_some()
        {
            cursor.advance();
            return Ok(With::Remaining(self.with_target(cursor, first)?));
        }
        let target = self.with_target(cursor, first)?;
        let own = OF_WITH.iter().find(|known| **known == target.name.key);
        Ok(match own.copied().unwrap_or_default() {
            "flours" if !quoted && target.role.is_none() => With::Flours(target.name.span),
            "everything else" if !quoted => With::EverythingElse(target.name.span),
            _ => With::Name(target),
        })
    }

    /// `everything`, `half the water`, `the rest of the flour`, `all the salt`.
    fn with_as_said(&mut self, cursor: &mut Cursor) -> Reading<Option<With>> {
        let (first, mut ahead) = (cursor.here(), *cursor);
        if ahead.take_longest(phrases!(EVERYTHING)).is_some()
            && ahead.take_longest(phrases!(EXCEPT)).is_some()
        {
            let mut left_out = Vec::new();
            while let Some(name) = self.name_left_out(&mut ahead) {
                left_out.push(name);
            }
            if !left_out.is_empty() {
                *cursor = ahead;
                let span = cursor.since(first);
                self.reword(span, "everything else");
                self.excepted.append(&mut left_out);
                return Ok(Some(With::EverythingElse(span)));
            }
        }
        ahead = *cursor;
        if ahead.take_longest(phrases!(EVERYTHING)).is_some() && ends_before_clause(&ahead) {
            *cursor = ahead;
            let span = cursor.since(first);
            self.reword(span, "everything else");
            return Ok(Some(With::EverythingElse(span)));
        }
        ahead = *cursor;
        if ahead.take_longest(phrases!(REST)).is_some() && ahead.word().is_some() {
            self.reword(Span { end: ahead.here().start, ..first }, "remaining ");
            *cursor = ahead;
            return Ok(Some(With::Remaining(self.with_target(cursor, first)?)));
        }
        if let Some(span) = no_share(cursor) {
            return Err(incomplete_statement::how_much(span, cursor.under(span)).into());
        }
        if let Some((number, behind)) = spoken(cursor).filter(|(number, _)| *number < int(1)) {
            let mut ahead = behind;
            let of = ahead.take("of");
            if (ahead.take("the") || of) && ahead.word().is_some() {
                let span = Span { end: ahead.here().start, ..first };
                let number = number * int(100);
                let (_, _, text) = figures(&number, Unit::Percent);
                self.reword(span, format!("{} of ", text.replace(" %", "%")));
                *cursor = ahead;
                let decimals = None;
                let share = Quantity { number, unit: Unit::Percent, decimals, span };
                return Ok(Some(With::Share(share, self.with_target(cursor, first)?)));
            }
        }
        // `all of the water`, `the water`: all that is left of it, as its name alone says.
        let mut ahead = *cursor;
        if ahead.take_longest(phrases!(["all of the", "all the", "all of", "all", "the"])).is_some()
            && ahead.word().is_some()
            && !ends_in_step(&ahead)
            && !ahead.is("except")
            && !ahead.is("but")
        {
            self.reword(Span { end: ahead.here().start, ..first }, "");
            *cursor = ahead;
        }
        Ok(None)
    }

    /// The next name behind `everything except`.
    fn name_left_out(&mut self, cursor: &mut Cursor) -> Option<Name> {
        let mut ahead = *cursor;
        ahead.take_comma();
        let _ = ahead.take("and");
        let _ = ahead.take("the");
        let name = self.name(&mut ahead, |here| ends_in_step(here) || here.is("and"))?;
        *cursor = ahead;
        Some(name)
    }

    /// `90% of water`, `200 g of water`, `200 g water`.
    fn with_amount(&mut self, cursor: &mut Cursor) -> Reading<With> {
        let first = cursor.here();
        let amount = self.quantity(cursor, ExpectedAmount::PartOfMix)?;
        let of = cursor.take("of");
        let target = self.with_target(cursor, first)?;
        if amount.unit != Unit::Percent {
            return Ok(With::Weight(amount, target));
        }
        if !of {
            let name = cursor.under(target.name.span);
            let written = cursor.under(amount.span);
            self.fail(incomplete_statement::missing_of(
                amount.span,
                target.name.span,
                written,
                name,
            ));
        }
        Ok(With::Share(amount, target))
    }

    fn with_target(&mut self, cursor: &mut Cursor, first: Span) -> Reading<Target> {
        let here = cursor.here();
        match self.target_of_part(cursor, ends_in_step)? {
            Some(target) => Ok(target),
            None => {
                let span = if here.start > first.start { first.to(here) } else { here };
                Err(missing_name::nothing_with(span).into())
            }
        }
    }
}

/// What stands for `volume 2x` after `until`.
const DOUBLED: &[&str] = &[
    "doubled",
    "doubled in size",
    "doubled in volume",
    "doubled in bulk",
    "double",
    "doubles",
    "it doubles",
    "double in size",
    "double in volume",
    "double in bulk",
    "double the size",
    "doubled its size",
    "it has doubled",
    "it has doubled in size",
    "it doubles in size",
    "raddoppio",
    "raddoppio del volume",
    "il raddoppio",
    "ottenere il raddoppio",
    "raddoppiato",
    "doble su volumen",
    "doble de volumen",
    "doblar su volumen",
    "duplique su volumen",
    "duplicar su volumen",
    "doubler de volume",
    "doublement",
    "doublement de volume",
    "doublement du volume",
    "elle double de volume",
    "verdoppelt",
    "zur verdoppelung",
    "er sich verdoppelt hat",
    "sich das volumen verdoppelt hat",
];

/// What stands for `everything else` in `with`.
const EVERYTHING: &[&str] = &[
    "everything",
    "all",
    "everything together",
    "all together",
    "all ingredients together",
    "all the ingredients together",
    "all ingredients",
    "all the ingredients",
    "all of the ingredients",
    "all the other ingredients",
    "all other ingredients",
    "the other ingredients",
    "the rest",
    "the rest of the ingredients",
    "the remaining ingredients",
    "remaining ingredients",
    "the ingredients",
    "all the rest",
    "alles",
    "allem",
    "zutaten",
    "die zutaten",
    "alle zutaten",
    "allen zutaten",
    "alle anderen zutaten",
    "allen anderen zutaten",
    "dem rest",
    "den restlichen zutaten",
    "tout",
    "les ingrédients",
    "tous les ingrédients",
    "le reste",
    "le reste des ingrédients",
    "tutto",
    "gli ingredienti",
    "tutti gli ingredienti",
    "il resto",
    "il resto degli ingredienti",
    "todo",
    "los ingredientes",
    "todos los ingredientes",
    "el resto",
    "el resto de los ingredientes",
    "el resto de ingredientes",
];

/// What leaves something out of everything.
const EXCEPT: &[&str] = &[
    "except",
    "except for",
    "but",
    "but for",
    "apart from",
    "other than",
    "excluding",
    "without",
    "minus",
    "außer",
    "sauf",
    "tranne",
    "eccetto",
    "excepto",
    "menos",
];

/// What stands for `covered` after `with`.
const LID_ON: &[&str] =
    &["the lid on", "lid on", "its lid on", "a lid", "the lid", "lid", "mit deckel"];

/// An oven with a fan, in other words than ours.
const WITH_FAN: &[&str] = &[
    "fan-assisted",
    "fan assisted",
    "fan-assisted oven",
    "fan assisted oven",
    "fan forced",
    "fan-forced",
    "fan oven",
    "in a fan oven",
    "with the fan on",
    "with fan",
    "convection",
    "on convection",
];

/// What stands for `uncovered` after `with`.
const LID_OFF: &[&str] =
    &["the lid off", "lid off", "the lid removed", "lid removed", "no lid", "ohne deckel"];

/// What stands for `remaining` in `with`.
const REST: &[&str] = &[
    "the rest of the",
    "rest of the",
    "the rest of",
    "rest of",
    "the remaining",
    "remaining",
    "the remainder of the",
    "the remainder of",
];

/// Whether a step goes on with a clause here, or ends.
fn ends_before_clause(cursor: &Cursor) -> bool {
    cursor.at_end()
        || cursor.is_comma()
        || begins_aside(cursor)
        || begins_time(cursor)
        || is_clause_word(cursor)
        || ends_name(cursor)
        || begins_gas_mark(cursor)
        || next_step(cursor).is_some()
}

/// `proof the yeast`: it is stirred into water, and no dough rises.
fn wakes_yeast(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    let _ = ahead.take_any(phrases!(["the", "your"]));
    let _ = ahead.take_any(phrases!(["dry", "dried", "active", "fresh"]));
    let _ = ahead.take("dry");
    ahead.take("yeast")
}

/// Whether `lid on` or `lid off` stands here.
fn is_lid(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    ahead.take_longest(phrases!(LID_ON)).is_some()
        || ahead.take_longest(phrases!(LID_OFF)).is_some()
}

/// `bake 350`: a number alone that is too large for minutes in an oven.
///
/// Common practice, no source: nothing bakes for more than 100 minutes without a unit, and
/// no oven is set below it.
fn bare_heat(cursor: &Cursor, verb: Verb) -> Option<Span> {
    const LEAST: i64 = 100;
    let heats = [Verb::Bake, Verb::Fry, Verb::Preheat].contains(&verb);
    let behind = past_number(cursor).filter(|_| heats)?;
    let span = behind.since(cursor.here());
    let value = read_number(cursor.under(span)).ok()?.value;
    let goes_on = matches!(behind.peek_kind(), Some(TokenKind::Unit | TokenKind::Range))
        || behind.is_dash()
        || behind.is("to")
        || behind.is("or")
        || behind.is_sign("°")
        || unit_here(&behind, ExpectedAmount::Claim).is_some()
        || behind.word().is_some_and(|word| !is_reserved(word) && word != "for");
    (value >= int(LEAST) && !goes_on).then_some(span)
}

/// Whether what goes in follows right behind the verb.
fn begins_list(cursor: &Cursor) -> bool {
    let is_word = cursor.word().is_some() && !is_clause_word(cursor) && !begins_time(cursor);
    let is_all = cursor.is("all") || cursor.is("the");
    let is_share = cursor.is_number()
        && (cursor.further().peek_kind() == Some(TokenKind::Unit)
            || cursor.further().word().is_some() && !is_clause_word(&cursor.further()))
        && !begins_time_unit(cursor);
    (is_word || is_all || is_share)
        && clause_here(cursor).is_none()
        && !begins_aside(cursor)
        && !is_lid(cursor)
        && !cursor.is_any(phrases!(["each", "once", "twice"]))
        && !cursor.is("on")
        && !cursor.is("stretch")
}

fn begins_time_unit(cursor: &Cursor) -> bool {
    past_number(cursor).is_some_and(|behind| unit_here(&behind, ExpectedAmount::Time).is_some())
}

/// A bake that says nothing of its oven takes it as it was heated: `preheat oven 450F; bake 30min`.
fn bakes_in_what_was_heated(steps: &mut [Step]) {
    let mut heated = None;
    for step in steps {
        match step.verb {
            Verb::Preheat => heated = step.phases.last().and_then(|phase| phase.at.clone()),
            Verb::Bake => {
                let says = step.phases.iter().any(|phase| phase.at.is_some());
                let first = step.phases.first_mut();
                if let Some(phase) = first.filter(|it| it.at.is_none() && !it.in_room) {
                    phase.at.clone_from(&heated);
                }
                heated = heated.filter(|_| !says);
            }
            _ => {}
        }
    }
}

/// Whether words stand here that say how dough is cut or shaped: `a cross`, `en boule`.
fn is_how(cursor: &Cursor, verb: Verb) -> bool {
    const BEGINS: [&str; 17] = [
        "en",
        "a",
        "à",
        "an",
        "zu",
        "zum",
        "zur",
        "in",
        "una",
        "un",
        "une",
        "ein",
        "eine",
        "einen",
        "two",
        "rund",
        "länglich",
    ];
    const GREASED: [&str; 18] = [
        "beurré",
        "beurrée",
        "huilé",
        "fariné",
        "chemisé",
        "graissé",
        "gefettet",
        "gefettete",
        "bemehlt",
        "imburrato",
        "oliato",
        "unto",
        "enmantecado",
        "engrasado",
        "aceitado",
        "enharinado",
        "greased",
        "lined",
    ];
    match verb {
        Verb::Score => cursor.word().is_some(),
        Verb::Shape | Verb::Preshape => BEGINS.iter().any(|word| cursor.is(word)),
        Verb::Pan => GREASED.iter().any(|word| cursor.is(word)),
        _ => false,
    }
}

/// Whether the top of a loaf stands here, which is where it is cut.
fn is_top(cursor: &Cursor) -> bool {
    let tops = phrases!([
        "the top",
        "the tops",
        "each",
        "each one",
        "the loaf",
        "the surface",
        "the crust"
    ]);
    let mut ahead = *cursor;
    ahead.take_longest(tops).is_some()
}

/// A method in which nothing is said of what goes in: all of it goes into its mix, where
/// there is one, or into the first where nothing else can take it.
fn mix_takes_all(steps: &mut [Step]) {
    let says = |step: &Step| step.phases.iter().any(|phase| !phase.with.is_empty());
    let takes = |step: &Step| matches!(step.verb, Verb::Mix);
    let mixes = steps.iter().filter(|step| takes(step)).count();
    let others = [Verb::Autolyse, Verb::Soak, Verb::Scald, Verb::Build, Verb::Feed];
    let is_other = |step: &Step| others.contains(&step.verb);
    // What is brushed on or laminated in has its name, and says nothing of the mix.
    let silent = !steps.iter().any(|step| (takes(step) || is_other(step)) && says(step));
    let first = steps.iter().position(|step| takes(step) || is_other(step));
    let is_first = first.and_then(|first| steps.get(first)).is_some_and(takes);
    let alone = silent && (is_first || !steps.iter().any(is_other));
    if mixes != 1 && !alone {
        return;
    }
    let Some(mix) = steps.iter_mut().find(|step| takes(step)) else { return };
    if says(mix) {
        return;
    }
    let span = mix.verb_span;
    if let Some(phase) = mix.phases.first_mut() {
        phase.with.push(With::EverythingElse(span));
    }
}

/// An autolyse that does not say what goes in, before any step that does: behind one, it is
/// what was mixed that rests.
fn silent_autolyse(steps: &[Step]) -> Option<Span> {
    let says = |step: &Step| step.phases.iter().any(|phase| !phase.with.is_empty());
    let first = steps.iter().position(says)?;
    let silent = steps.iter().take(first).find(|step| step.verb == Verb::Autolyse)?;
    Some(silent.verb_span)
}

/// `most of the water`: a part that is no number.
fn no_share(cursor: &Cursor) -> Option<Span> {
    let (first, mut ahead) = (cursor.here(), *cursor);
    let words = phrases!([
        "most of the",
        "most of",
        "some of the",
        "some of",
        "a little of the",
        "a bit of"
    ]);
    ahead.take_longest(words)?;
    while ahead.word().is_some() && !ends_in_step(&ahead) {
        ahead.advance();
    }
    Some(ahead.since(first))
}

/// The finding for what is no clause.
fn no_clause(cursor: &Cursor) -> Finding {
    let here = cursor.here();
    match cursor.word() {
        Some(word) => {
            let near = near(word, OF_A_STEP);
            unknown_word::unknown_clause(here, word, near)
        }
        None if cursor.is_text() => unexpected_text::in_a_step(here, cursor.under(here)),
        None => unexpected_text::left_over(here, cursor.under(here), ""),
    }
}

/// Where a name in a step ends: at the next clause.
fn ends_in_step(cursor: &Cursor) -> bool {
    cursor.is_reserved()
        || cursor.are("and", "the")
        || cursor.is("for")
        || cursor.is("allow")
        || is_manner(cursor)
        || ends_name(cursor)
        || (cursor.is("and") || is_and(cursor)) && next_step(cursor).is_some()
        || (cursor.is("rest") && cursor.further().is_number())
}

/// A verb where a clause should begin: another step. `fold` begins a clause.
fn begins_step(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    cursor.word().and_then(Verb::read).is_some_and(|verb| verb != Verb::Fold)
        && (behind.at_end() || behind.is_number() || behind.is_text() || is_clause_word(&behind))
}

/// The same of a verb of two words or more that nobody writes for anything else: `knock back`.
fn is_other_step(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    let verb = ahead.take_longest(phrases!([
        "knock back",
        "punch down",
        "stretch and fold",
        "coil fold",
        "shape into",
        "divide into",
        "roll out",
        "roll into",
        "cut into",
    ]));
    verb.is_some()
}

/// What is kept of a step as its notes, as it is written behind it.
fn notes_of(stepping: &mut Stepping) -> String {
    stepping.aside.drain(..).map(|aside| format!(" note \"{aside}\"")).collect()
}

/// Whether a step that begins here says what goes in, or how long it waits.
fn adds_or_waits(cursor: &Cursor) -> bool {
    let mut ahead = *cursor;
    let mut words = 0;
    while ahead.word().is_some() && !is_clause_word(&ahead) && !begins_time(&ahead) && words < 3 {
        ahead.advance();
        words += 1;
    }
    ahead.is("with") || begins_time(&ahead)
}

/// Whether clauses stand here, up to the next comma, that say how a phase is and how long.
fn says_when(cursor: &Cursor) -> bool {
    let flags = phrases!(["covered", "uncovered", "steamed", "vented", "fan", "with", "without"]);
    let mut ahead = *cursor;
    if !ahead.is_any(flags) {
        return false;
    }
    ahead.advance();
    while !ahead.at_end() && !ahead.is_comma() && !ahead.is("then") && !ahead.is("every") {
        if begins_time(&ahead) {
            return true;
        }
        ahead.advance();
    }
    false
}

/// `400 degree` without what it is of, and without its scale.
fn bare_degrees(cursor: &Cursor) -> Option<Span> {
    let behind = past_number(cursor)?;
    let has_scale = behind
        .further()
        .word()
        .and_then(Unit::certain)
        .is_some_and(|unit| unit.dimension() == Dimension::Temperature);
    (behind.is_any(phrases!(DEGREES)) && !has_scale).then(|| behind.further().since(cursor.here()))
}

/// Whether a speed in words stands here.
fn is_speed(cursor: &Cursor) -> bool {
    cursor.word().is_some_and(unknown_word::is_speed)
}

/// Whether the details of a fold follow, and not a duration.
fn begins_fold(cursor: &Cursor) -> bool {
    past_every(cursor).is_some()
        || cursor.is_any(phrases!(["once", "twice", "single", "double", "every"]))
        || (cursor.is_number() && cursor.further().is("times"))
        || past_factor(cursor).is_some()
}

/// The place of the temperature of `a preheated 350F oven`.
fn heated_oven<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    ahead.take_any(phrases!(["a", "an", "the"]));
    ahead.take_any(phrases!(["preheated", "hot", "moderate"]));
    begins_temperature(&ahead).then_some(ahead)
}

/// Whether `30 min apart` stands here.
fn apart(cursor: &Cursor) -> bool {
    past_number(cursor)
        .filter(|unit| !unit.at_end() && unit_here(unit, ExpectedAmount::Time).is_some())
        .is_some_and(|unit| unit.further().is("apart"))
}

/// The place of the time behind `alle`, `toutes les`, `ogni`, `cada`.
fn past_every<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    ahead.take_longest(phrases!(["alle", "jede", "toutes les", "tous les", "ogni", "cada"]))?;
    begins_time(&ahead).then_some(ahead)
}

/// A number of times: what follows is no unit of time.
fn is_times(cursor: &Cursor) -> bool {
    let behind = cursor.further();
    cursor.is_number()
        && behind.peek_kind() != Some(TokenKind::Unit)
        && behind.word().and_then(Unit::read).is_none()
}

/// The words from here to the next clause.
fn words_from(cursor: &Cursor) -> Span {
    let first = cursor.here();
    let mut ahead = *cursor;
    while ahead.word().is_some() && !is_clause_word(&ahead) {
        ahead.advance();
    }
    ahead.since(first)
}

/// The words up to the end of the statement, which may be a text that lacks its quotes;
/// nothing where a clause or a text comes before the end.
fn unquoted(cursor: &Cursor) -> Span {
    let words = words_from(cursor);
    if words.end == cursor.rest().end { words } else { Span { end: words.start, ..words } }
}

/// Whether a statement in a method is one of the formula around it.
fn belongs_outside(statement: &Statement, word: &str, is_lacking: bool) -> bool {
    if statement.has_block() {
        // `build` and `scald` are verbs too.
        return Verb::read(word).is_none()
            && (OF_A_FILE.contains(&word) || OF_A_FORMULA.contains(&word));
    }
    is_lacking && word == "makes"
}
