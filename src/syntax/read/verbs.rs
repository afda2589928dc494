//! Verbs as people say them, and other things that are said in a step: each is read as the
//! word of the trade, by where the step stands.

use super::cursor::Cursor;
use super::parted::Parted;
use super::spoken::{
    begins_gas_mark, begins_temperature, begins_time, number_word, past_number, spoken, unit_here,
};
use super::stepping::{SaidVerb, Stepping, empty_step};
use super::words::{
    BEFORE_A_VERB, ByContext, OTHER_VERBS, UNDERSTOOD, WHEN, by_context, is_reserved, kept_verb,
    other_verb,
};
use super::{Reader, Reading, foreign};
use crate::quantity::{Dimension, Exact, Measures, int, read_number};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    incomplete_statement, misplaced_statement, unknown_value, unknown_word, wrong_kind_of_amount,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::phrases::{Start, Starts, phrases};
use crate::syntax::tree::{Extent, Flag, Fold, Name, Phase, Quantity, Step, Text, TextPart, Verb};

/// Minutes in the cold from which on dough is retarded and not only chilled: common
/// practice, no source.
const RETARDED: i64 = 360;

impl Reader<'_> {
    /// The verb that a step begins with, and its place.
    ///
    /// `behind` is what is written behind the verb, which stands before it.
    pub fn verb(
        &mut self,
        cursor: &mut Cursor,
        step: usize,
        said: &mut Vec<SaidVerb>,
        behind: &str,
    ) -> Option<(Verb, Span)> {
        let first = cursor.here();
        if let Some(found) = self.verb_behind(cursor, first, step, said, behind) {
            return Some(found);
        }
        // `finally, bake 35min`
        let mut ahead = *cursor;
        match ahead.take_longest(phrases!(WHEN)) {
            Some(_) => {
                ahead.take_comma();
            }
            // `turn out, shape 5min`
            None if ahead.take_longest(phrases!(TURNED_OUT)).is_some() && ahead.is_comma() => {
                ahead.advance();
            }
            None => ahead = foreign::behind_when(&ahead)?,
        }
        let found = self.verb_behind(&mut ahead, first, step, said, behind)?;
        *cursor = ahead;
        Some(found)
    }

    /// `tip everything into a bowl and`: where all goes before it is mixed, which the mixing
    /// says; passes it before the verb.
    pub fn all_in_the_bowl(&mut self, cursor: &mut Cursor) {
        let first = cursor.here();
        let mut ahead = *cursor;
        let moves = phrases!(["tip", "put", "place", "add", "pour", "measure", "weigh"]);
        let all = phrases!([
            "everything",
            "all",
            "all ingredients",
            "all the ingredients",
            "all of the ingredients",
            "the ingredients",
            "ingredients"
        ]);
        let vessels =
            phrases!(["bowl", "mixer", "machine", "tub", "container", "basin", "processor"]);
        if !ahead.take_any(moves) || ahead.take_longest(all).is_none() {
            return;
        }
        if !ahead.take_any(phrases!(["in", "into", "to"])) {
            return;
        }
        let mut words = 0;
        while ahead.word().is_some() && words < 5 && !ahead.is_any(vessels) {
            words += 1;
            ahead.advance();
        }
        if !ahead.take_any(vessels) {
            return;
        }
        ahead.take_comma();
        ahead.take("and");
        ahead.take("then");
        let verb = {
            let mut ahead = ahead;
            take_other_verb(&mut ahead).map(|(verb, _)| verb)
        };
        let verb = verb.or_else(|| ahead.word().and_then(Verb::read));
        if verb == Some(Verb::Mix) {
            self.reword(Span { end: ahead.here().start, ..first }, "");
            *cursor = ahead;
        }
    }

    /// The same, where words that say nothing may stand from `first` on.
    fn verb_behind(
        &mut self,
        cursor: &mut Cursor,
        first: Span,
        step: usize,
        said: &mut Vec<SaidVerb>,
        behind: &str,
    ) -> Option<(Verb, Span)> {
        let mut ahead = *cursor;
        let late = cursor.here().start > first.start;
        let before = ahead.take_longest(phrases!(BEFORE_A_VERB)).is_some() || late;
        if is_no_turning(&ahead) {
            return None;
        }
        if cuts_the_top(&ahead) {
            ahead.advance();
            *cursor = ahead;
            let span = cursor.since(first);
            self.reword(span, format!("score{behind}"));
            return Some((Verb::Score, span));
        }
        if let Some(end) = past_into_a_tin(&ahead) {
            *cursor = end;
            let span = cursor.since(first);
            self.reword(span, format!("pan{behind}"));
            return Some((Verb::Pan, span));
        }
        let (verb, how, is_ours) = match take_other_verb(&mut ahead) {
            Some((verb, how)) => (verb, how, true),
            None => match ahead.word().and_then(Verb::read) {
                Some(verb) => {
                    ahead.advance();
                    (verb, None, true)
                }
                None => {
                    let (verb, how, behind) = foreign::verb_here(&ahead)?;
                    ahead = behind;
                    (verb, how, false)
                }
            },
        };
        *cursor = ahead;
        let span = cursor.since(first);
        let abroad = (!is_ours).then_some(span);
        match how {
            Some(how) => {
                let until = if is_doubling(cursor.under(span)) { UNTIL_DOUBLED } else { "" };
                let behind = format!("{behind}{until}");
                said.push(SaidVerb { step, how, span, behind, abroad });
            }
            None => {
                let word = kept_verb(cursor.under(span)).unwrap_or(verb.word());
                if before || !behind.is_empty() || word != cursor.under(span) {
                    self.reword(span, format!("{word}{behind}"));
                }
                if let Some(abroad) = abroad {
                    self.tell_abroad(abroad, verb.word());
                }
            }
        }
        Some((verb, span))
    }

    /// A step whose verb does not stand first: `10 min kneten`, `40min bake at 230C`. The
    /// verb, its place, and how long it takes where that stood before it; the cursor is then
    /// at what follows.
    pub fn late_verb(
        &mut self,
        cursor: &mut Cursor,
        step: usize,
        said: &mut Vec<SaidVerb>,
    ) -> Option<(Verb, Span, Option<Extent>)> {
        let first = cursor.here();
        let mut ahead = foreign::behind_when(cursor).unwrap_or(*cursor);
        let start = ahead;
        ahead.take_longest(phrases!(UNDERSTOOD));
        let (findings, rewordings) = (self.findings.len(), self.rewordings.len());
        if begins_time(&ahead) {
            let from = ahead.here();
            if let Ok(time) = self.extent(&mut ahead, ExpectedAmount::Time) {
                let behind = format!(" {}", self.worded(ahead.since(from)));
                let gap = Span { end: ahead.here().start, ..first };
                self.reword(gap, "");
                if let Some((verb, span)) = self.verb(&mut ahead, step, said, &behind) {
                    *cursor = ahead;
                    return Some((verb, span, Some(time)));
                }
            }
            self.findings.truncate(findings);
            self.rewordings.truncate(rewordings);
        }
        let (verb, how, before) = foreign::verb_at_end(&start)?;
        // `in eine gefettete Form füllen`
        let into_a_tin = verb == Verb::Fill && foreign::is_into_a_tin(&before);
        let verb = if into_a_tin { Verb::Pan } else { verb };
        let at = Span { end: first.start, ..first };
        let end = Span { start: before.rest().end, end: cursor.rest().end, ..first };
        let words = self.under(end);
        let blanks = words.len() - words.trim_start().len();
        let span = Span { start: end.start + u32::try_from(blanks).unwrap_or(0), ..end };
        if start.here().start > first.start {
            self.reword(Span { end: start.here().start, ..first }, "");
        }
        self.reword(end, "");
        match how {
            Some(how) => {
                let until = if is_doubling(cursor.under(span)) { UNTIL_DOUBLED } else { "" };
                let behind = format!("{until} ");
                said.push(SaidVerb { step, how, span: at, behind, abroad: Some(span) });
            }
            None => {
                self.reword(at, format!("{} ", verb.word()));
                self.tell_abroad(span, verb.word());
            }
        }
        *cursor = before;
        Some((verb, span, None))
    }

    /// `cover and let rise`: the words before the verb of a step that waits, which say that it
    /// is covered.
    pub fn cover_and(&mut self, cursor: &mut Cursor) -> Option<Span> {
        const WAITS: [Verb; 6] =
            [Verb::Bulk, Verb::Proof, Verb::Rest, Verb::Retard, Verb::Chill, Verb::Cool];
        let (first, mut ahead) = (cursor.here(), *cursor);
        let cover = phrases!([
            "cover", "couvrir", "couvrez", "abdecken", "zudecken", "coprire", "coprite", "tapar",
            "tape", "cubrir", "cubra",
        ]);
        ahead.take_any(cover).then_some(())?;
        ahead.take_longest(phrases!(["it", "the dough", "them", "dough", "the bowl", "bowl"]));
        ahead.take_longest(phrases!(COVERS));
        ahead.take_comma();
        ["and", "et", "und", "e", "y"].iter().any(|and| ahead.take(and)).then_some(())?;
        let next = ahead;
        ahead.take_longest(phrases!(BEFORE_A_VERB));
        let verb = match (take_other_verb(&mut ahead), ahead.word().and_then(Verb::read)) {
            (Some((verb, _)), _) | (None, Some(verb)) => verb,
            (None, None) => foreign::verb_here(&ahead)?.0,
        };
        WAITS.contains(&verb).then_some(())?;
        let span = Span { end: next.here().start, ..first };
        self.reword(span, "");
        *cursor = next;
        Some(span)
    }

    /// Gives each verb that depends on the steps around it its meaning.
    pub fn settle_verbs(&mut self, steps: &mut [Step], said: &[SaidVerb]) {
        for SaidVerb { step: index, how, span, behind, abroad } in said {
            let verb = match how {
                ByContext::Rise => rise(steps, *index),
                ByContext::Leave => leave(steps, *index),
                ByContext::Refrigerate => refrigerate(steps, *index),
                ByContext::Round if is_before(steps, *index, &[Verb::Shape]) => Verb::Preshape,
                ByContext::Round => Verb::Shape,
                ByContext::Cut if is_after(steps, *index, &[Verb::Bake, Verb::Fry]) => Verb::Slice,
                ByContext::Cut => Verb::Divide,
            };
            self.reword(*span, format!("{}{behind}", verb.word()));
            if let Some(abroad) = abroad {
                self.tell_abroad(*abroad, verb.word());
            }
            let Some(step) = steps.get_mut(*index) else { continue };
            step.verb = verb;
            if *how == ByContext::Refrigerate {
                self.in_the_fridge(step);
            }
        }
    }

    /// `refrigerate 12h` says where it stands.
    fn in_the_fridge(&mut self, step: &mut Step) {
        let Some(phase) = step.phases.first_mut() else { return };
        if phase.at.is_some() || phase.place.is_some() || phase.in_room {
            return;
        }
        let span = step.verb_span;
        phase.place = Some(Name { key: "fridge".into(), shown: "fridge".into(), span });
        let end = phase.span.end.max(span.end);
        self.reword(Span { start: end, end, ..span }, " in fridge");
    }

    /// `each side`, `on each side`, `per side`: the phase is done twice.
    pub fn each_side(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> bool {
        let gap = cursor.after();
        let words = phrases!(["each side", "per side", "on each side", "a side", "on both sides"]);
        if cursor.take_longest(words).is_none() {
            return false;
        }
        self.reword(cursor.since(gap), "");
        stepping.each_side = Some(cursor.after());
        true
    }

    /// The same once more, after turning over what is in it.
    pub fn other_side(&mut self, steps: &mut Vec<Step>, at: Span) {
        let Some((first, phase)) = steps.last().and_then(|step| Some((step, step.phases.first()?)))
        else {
            return;
        };
        let (verb, verb_span, span) = (first.verb, first.verb_span, first.span);
        let again = Phase {
            duration: phase.duration.clone(),
            at: phase.at.clone(),
            flags: phase.flags.iter().filter(|(flag, _)| *flag == Flag::Fan).cloned().collect(),
            span: phase.span,
            ..Phase::default()
        };
        let times = again.duration.iter().map(|time| format!(" {}", self.worded(time.span)));
        let degrees = again.at.iter().map(|at| format!(" at {}", self.worded(at.span)));
        let fan = again.says(Flag::Fan).then(|| " fan".to_owned());
        let words: String = times.chain(degrees).chain(fan).collect();
        let nothing = Phase { span: again.span, ..Phase::default() };
        for (verb, phase) in [(Verb::Turn, nothing), (verb, again)] {
            steps.push(Step { span, phases: vec![phase], ..empty_step(verb, None, verb_span) });
        }
        let end = span.end.max(at.end);
        let end = Span { start: end, end, ..at };
        self.reword(end, format!("; turn; {}{words}", verb.word()));
    }

    /// `on the counter`: where the room is.
    pub fn on_the_bench(
        &mut self,
        cursor: &mut Cursor,
        first: Span,
        stepping: &mut Stepping,
    ) -> bool {
        let mut ahead = *cursor;
        let places = phrases!(["counter", "countertop", "bench", "worktop", "table", "side"]);
        let racks =
            phrases!(["a rack", "a wire rack", "a cooling rack", "the rack", "wire rack", "rack"]);
        let abroad = phrases!([
            "auf einem gitter",
            "auf dem gitter",
            "auf einem kuchengitter",
            "auf einem rost",
            "auf gitter",
            "sur une grille",
            "sur grille",
            "su una griglia",
            "su una gratella",
            "su griglia",
            "sobre una rejilla",
            "sobre rejilla",
            "en una rejilla",
            "en rejilla",
        ]);
        let on_a_rack = ahead.take_longest(abroad).is_some()
            || ahead.take("on") && ahead.take_longest(racks).is_some();
        if stepping.step.verb == Verb::Cool && on_a_rack {
            *cursor = ahead;
            self.reword(cursor.since(first), "");
            return true;
        }
        ahead = *cursor;
        let on = ahead.take("on") && {
            let _ = ahead.take_any(phrases!(["the", "a", "your"]));
            ahead.take_any(places)
        };
        if !on {
            return false;
        }
        *cursor = ahead;
        let span = cursor.since(first);
        self.reword(span, "at room");
        if self.first_time(&mut stepping.said, "at", span) {
            stepping.phase.in_room = true;
        }
        true
    }

    /// `stretch and fold`, `stretch and folds` as a clause: the cursor is at `fold` then.
    pub fn stretch_and_fold(&mut self, cursor: &mut Cursor, first: Span) {
        let mut ahead = *cursor;
        if ahead.take("stretch") && ahead.take("and") && ahead.is("fold") {
            self.reword(Span { end: ahead.here().start, ..first }, "");
            *cursor = ahead;
        }
    }

    /// `the` and its like before a place.
    pub fn article(&mut self, cursor: &mut Cursor) {
        let is_article = cursor.is_any(phrases!(["the", "a", "an", "your"]));
        if is_article && cursor.further().word().is_some() {
            self.reword(Span { end: cursor.further().here().start, ..cursor.here() }, "");
            cursor.advance();
        }
    }

    /// `room` or `room temperature`, where a temperature may stand.
    pub fn takes_room(&mut self, cursor: &mut Cursor) -> bool {
        let first = cursor.here();
        if cursor.take("room") {
            let temp = cursor.here();
            if cursor.take("temp") {
                self.reword(temp, "temperature");
            } else {
                cursor.take("temperature");
            }
            return true;
        }
        if cursor.take("RT") || cursor.take("ambient") {
            cursor.take("temperature");
            self.reword(cursor.since(first), "room temperature");
            return true;
        }
        false
    }
}

impl Reader<'_> {
    /// Clauses that are said in other words or signs; says whether one stood here.
    pub fn clause_as_said(
        &mut self,
        cursor: &mut Cursor,
        stepping: &mut Stepping,
    ) -> Reading<bool> {
        let verb = stepping.step.verb;
        if let Some(behind) = past_length(cursor).or_else(|| past_weight(cursor, verb)) {
            let first = cursor.here();
            *cursor = behind;
            self.aside_to_clause(cursor, first, stepping);
            return Ok(true);
        }
        if let Some(span) = pieces_said(cursor, verb) {
            let Some(count) = count_of(cursor.under(span)) else {
                let first = cursor.here();
                self.whole_aside(cursor, first, stepping);
                return Ok(true);
            };
            while !cursor.at_end() && cursor.here().start < span.end {
                cursor.advance();
            }
            let weight = self.weight_of_pieces(cursor)?;
            let span = Span { end: cursor.after().end, ..span };
            self.parted.push(Parted { count, weight, span });
            return Ok(true);
        }
        if let Some(span) = humidity(cursor) {
            while !cursor.at_end() && cursor.here().start < span.end {
                cursor.advance();
            }
            return Err(misplaced_statement::humidity(span, cursor.under(span)).into());
        }
        if self.fan_in_brackets(cursor, stepping) || self.cooler(cursor, stepping)? {
            return Ok(true);
        }
        if self.folds_alone(cursor, stepping)? || self.aimed_at(cursor, stepping)? {
            return Ok(true);
        }
        if let Some(span) = speed_in_words(cursor) {
            while !cursor.at_end() && cursor.here().start < span.end {
                cursor.advance();
            }
            if let Some(speed) = certain_speed(cursor.under(span)) {
                self.reword(span, format!("speed {speed}"));
                if self.first_time(&mut stepping.said, "speed", span) {
                    stepping.phase.speed = Some((speed, span));
                }
                return Ok(true);
            }
            let told = std::mem::replace(&mut stepping.told_speed, true);
            let finding = unknown_word::speed(span, cursor.under(span));
            return if told { Ok(true) } else { Err(finding.into()) };
        }
        let first = cursor.here();
        if cursor.take_longest(phrases!(WARM_PLACES)).is_some() {
            let span = cursor.since(first);
            return Err(unknown_value::how_warm(span, cursor.under(span), "26C").into());
        }
        if [Verb::Bake, Verb::Preheat].contains(&verb)
            && cursor.take_longest(phrases!(IN_THE_OVEN)).is_some()
        {
            let end = if cursor.at_end() { cursor.after().end } else { cursor.here().start };
            self.reword(Span { end, ..first }, "");
            return Ok(true);
        }
        if cursor.take_longest(phrases!(STILL_AIR)).is_some() {
            let end = if cursor.at_end() { cursor.after().end } else { cursor.here().start };
            self.reword(Span { end, ..first }, "");
            return Ok(true);
        }
        self.before_a_speed(cursor);
        self.bare_temperature(cursor, stepping)
    }

    /// `of 200 g each` behind a number of pieces.
    fn weight_of_pieces(&mut self, cursor: &mut Cursor) -> Reading<Option<Quantity>> {
        let mut ahead = *cursor;
        ahead.take_comma();
        let of = phrases!(["of", "at", "de", "di", "zu", "à", "je", "da", "about", "weighing"]);
        let _ = ahead.take_any(of);
        let is_weight = past_number(&ahead)
            .and_then(|behind| unit_here(&behind, ExpectedAmount::Mass))
            .is_some();
        if !is_weight {
            return Ok(None);
        }
        *cursor = ahead;
        let weight = self.extent(cursor, ExpectedAmount::Mass)?;
        cursor.take_longest(phrases!([
            "each",
            "apiece",
            "per piece",
            "chacun",
            "ciascuno",
            "cada uno"
        ]));
        Ok(weight.low)
    }

    /// `3 folds`, `2 stretch and folds every 30min` behind a time or a temperature.
    fn folds_alone(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> Reading<bool> {
        if !begins_folds(cursor) {
            return Ok(false);
        }
        let first = cursor.here();
        let fold = self.folds_said(cursor, first)?;
        if self.first_time(&mut stepping.said, "fold", cursor.since(first)) {
            stepping.phase.fold = Some(Box::new(fold));
        }
        Ok(true)
    }

    /// `3 folds`, perhaps with the time between them; what stands from `first` on is written
    /// as ours.
    pub fn folds_said(&mut self, cursor: &mut Cursor, first: Span) -> Reading<Fold> {
        // `con 3 pliegues`
        if ["avec", "con", "mit"].iter().any(|with| cursor.is(with)) {
            cursor.advance();
        }
        let times = past_folds(cursor).map(|(times, behind)| {
            *cursor = behind;
            times
        });
        if times.is_none() {
            cursor.take_longest(phrases!(FOLDS));
        }
        let words = match times {
            Some(1) => "fold once".to_owned(),
            Some(2) => "fold twice".to_owned(),
            Some(times) => format!("fold {times} times"),
            None => "fold".to_owned(),
        };
        self.reword(cursor.since(first), words);
        let mut fold = Fold { times, every: None, style: None, span: first };
        self.fold_details(cursor, &mut fold)?;
        fold.span = cursor.since(first);
        Ok(fold)
    }

    /// A step that begins with how many folds it has: `4 sets of stretch and folds`.
    pub fn folds_first(&mut self, cursor: &mut Cursor) -> Option<(Span, Fold)> {
        past_folds(cursor)?;
        let first = cursor.here();
        let fold = self.folds_said(cursor, first);
        let fold = self.done(fold)?;
        Some((first, fold))
    }

    /// `DDT 25C`: the temperature that is aimed at.
    fn aimed_at(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> Reading<bool> {
        let first = cursor.here();
        let Some(behind) = past_dough_temperature(cursor) else { return Ok(false) };
        self.reword(Span { end: behind.here().start, ..first }, "to ");
        *cursor = behind;
        let to = self.extent(cursor, ExpectedAmount::Temperature)?;
        if self.first_time(&mut stepping.said, "to", cursor.since(first)) {
            stepping.phase.to = Some(Box::new(to));
        }
        Ok(true)
    }

    /// `on speed 2`: the words before it say nothing.
    fn before_a_speed(&mut self, cursor: &mut Cursor) {
        let is_before = cursor.is_any(phrases!(["on", "at", "using"]));
        if is_before && cursor.further().is("speed") {
            self.reword(Span { end: cursor.further().here().start, ..cursor.here() }, "");
            cursor.advance();
        }
    }

    /// `, reduce to 220C for 20min`: the next part of the baking, where its time is said.
    fn cooler(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> Reading<bool> {
        let first = cursor.here();
        let Some(from) = past_cooler(cursor).filter(|_| stepping.step.verb == Verb::Bake) else {
            return Ok(false);
        };
        let gap = cursor.after();
        let start = from.here();
        *cursor = from;
        let at = self.extent(cursor, ExpectedAmount::Surroundings)?;
        let degrees = self.worded(cursor.since(start));
        let end = cursor.after();
        goes_on_baking(cursor);
        if !begins_time(cursor) {
            let span = Span { end: end.end, ..first };
            let written = cursor.under(span).trim_start_matches([',', ' ']);
            return Err(incomplete_statement::cooler(span, written, &degrees).into());
        }
        let since = cursor.here();
        let time = self.extent(cursor, ExpectedAmount::Time)?;
        let long = self.worded(cursor.since(since));
        let _ = cursor.take_any(phrases!(["more", "longer"]));
        self.reword(cursor.since(gap), format!(" then {long} at {degrees}"));
        stepping.next_phase(gap, first);
        stepping.phase.duration = Some(Box::new(time));
        stepping.phase.at = Some(Box::new(at));
        self.first_time(&mut stepping.said, "the duration", since);
        self.first_time(&mut stepping.said, "at", start);
        Ok(true)
    }

    /// `reduce the oven to 200C and bake for 20 min` as a step of its own: when it is baked, how
    /// long, and how hot.
    pub fn cooler_step(&mut self, cursor: &mut Cursor) -> Option<(Span, Extent, Extent)> {
        let first = cursor.here();
        let mut ahead = past_cooler(cursor)?;
        let (findings, rewordings) = (self.findings.len(), self.rewordings.len());
        let start = ahead.here();
        let at = self.extent(&mut ahead, ExpectedAmount::Surroundings);
        let degrees = self.worded(ahead.since(start));
        goes_on_baking(&mut ahead);
        let since = ahead.here();
        let time = begins_time(&ahead).then(|| self.extent(&mut ahead, ExpectedAmount::Time));
        let (Ok(at), Some(Ok(time))) = (at, time) else {
            self.findings.truncate(findings);
            self.rewordings.truncate(rewordings);
            return None;
        };
        let long = self.worded(ahead.since(since));
        let _ = ahead.take_any(phrases!(["more", "longer"]));
        *cursor = ahead;
        self.reword(cursor.since(first), format!("bake {long} at {degrees}"));
        Some((first, time, at))
    }

    /// What is wrong with `reduce the oven to 200C` as a step of its own.
    pub fn cooler_alone(&mut self, cursor: &Cursor) -> bool {
        let Some(mut ahead) = past_cooler(cursor) else { return false };
        let rewordings = self.rewordings.len();
        let start = ahead.here();
        if let Err(finding) = self.extent(&mut ahead, ExpectedAmount::Surroundings) {
            self.fail(*finding);
            return true;
        }
        let degrees = self.worded(ahead.since(start));
        self.rewordings.truncate(rewordings);
        let span = ahead.since(cursor.here());
        self.fail(incomplete_statement::cooler(span, cursor.under(span), &degrees));
        true
    }

    /// `with a razor`, `in a large bowl`: nothing that goes in, and kept as the step's note.
    pub fn as_a_note(&mut self, cursor: &mut Cursor, first: Span, stepping: &mut Stepping) {
        while cursor.word().is_some_and(is_article)
            || cursor.word().is_some() && !ends_aside(cursor)
        {
            cursor.advance();
        }
        self.note_from(cursor.since(first), stepping);
    }

    /// Whatever says how or where something is done, to the next clause, as the step's note.
    pub fn whole_aside(&mut self, cursor: &mut Cursor, first: Span, stepping: &mut Stepping) {
        let moves = cursor.is_any(phrases!(["put", "place", "transfer"]));
        cursor.advance();
        while moves && !cursor.at_end() && !cursor.is_comma() {
            cursor.advance();
        }
        self.aside_to_clause(cursor, first, stepping);
    }

    /// Keeps what stands from a place to the next clause as the step's note.
    fn aside_to_clause(&mut self, cursor: &mut Cursor, first: Span, stepping: &mut Stepping) {
        while !cursor.at_end() && !ends_whole_aside(cursor) {
            cursor.advance();
        }
        let end = cursor.after();
        let span = Span { end: end.end, ..first };
        self.note_from(span, stepping);
    }

    /// Keeps words of a step as its note.
    fn note_from(&mut self, span: Span, stepping: &mut Stepping) {
        let written = self.under(span);
        let gap = Span { start: span.start.saturating_sub(1), ..span };
        let blank = self.under(gap).starts_with(' ');
        // What was left out before it has taken the blank.
        let taken = self.rewordings.iter().rev().take(4).any(|it| it.span.end == span.start);
        self.reword(if blank && !taken { gap } else { span }, "");
        let part = TextPart::Plain(written.into());
        stepping.step.notes.push(Text { parts: vec![part], span });
        stepping.aside.push(written.to_owned());
    }

    /// `covered with a damp cloth`: what covers it is kept as the step's note.
    pub fn covered_with(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) {
        let waits = [Verb::Proof, Verb::Bulk, Verb::Rest, Verb::Retard, Verb::Chill, Verb::Cool];
        let wraps = phrases!(["film", "foil", "plastic", "clingfilm", "cling", "wrap"]);
        let within = cursor.is("in") && cursor.further().is_any(wraps);
        let goes_on = cursor.is("with") && !cursor.further().is_number() || within;
        if waits.contains(&stepping.step.verb) && goes_on {
            let first = cursor.here();
            cursor.advance();
            self.as_a_note(cursor, first, stepping);
        }
    }

    /// `(fan)`
    fn fan_in_brackets(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> bool {
        let (first, mut ahead) = (cursor.here(), cursor.further());
        if !(cursor.is_sign("(") && ahead.take("fan") && ahead.is_sign(")")) {
            return false;
        }
        ahead.advance();
        *cursor = ahead;
        let span = cursor.since(first);
        self.reword(span, "fan");
        if self.first_time(&mut stepping.said, "fan", span) {
            stepping.phase.flags.push((Flag::Fan, span));
        }
        true
    }

    /// `bake 230C 40min`, `@ 230C`: around what is not mixed, a temperature can only be that
    /// of its place.
    fn bare_temperature(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> Reading<bool> {
        let first = cursor.here();
        let ahead = if cursor.is_sign("@") { cursor.further() } else { *cursor };
        if !(begins_temperature(&ahead) || begins_gas_mark(&ahead))
            || !AROUND.contains(&stepping.step.verb)
            || cursor.is_number() && stepping.phase.at.is_some()
        {
            return Ok(false);
        }
        self.reword(Span { end: ahead.here().start, ..first }, "at ");
        *cursor = ahead;
        let at = self.extent(cursor, ExpectedAmount::Surroundings)?;
        self.beside(cursor, &at, ExpectedAmount::Surroundings)?;
        if self.first_time(&mut stepping.said, "at", cursor.since(first)) {
            stepping.phase.at = Some(Box::new(at));
        }
        Ok(true)
    }

    /// `at 24C to 26C`: the room from the one to the other, or a dough that is brought to the
    /// other.
    pub fn range_of_surroundings(
        &self,
        cursor: &Cursor,
        to: Span,
        at: Option<Span>,
        verb: Verb,
    ) -> Reading<()> {
        let waits = [Verb::Proof, Verb::Bulk, Verb::Rest, Verb::Retard, Verb::Bake];
        let Some(at) = at.filter(|_| waits.contains(&verb) && begins_temperature(cursor)) else {
            return Ok(());
        };
        if !self.under(Span { start: at.end, end: to.start, ..at }).trim().is_empty() {
            return Ok(());
        }
        let mut ahead = *cursor;
        while ahead.is_number() {
            ahead.advance();
        }
        ahead.advance();
        let (low, high) = (self.under(at), self.under(ahead.since(cursor.here())));
        let span = ahead.since(at);
        Err(wrong_kind_of_amount::surroundings_to(span, self.under(span), low, high).into())
    }

    /// `internal temperature 96C`, and a number alone for what is baked or boiled.
    pub fn core_as_said(&mut self, cursor: &mut Cursor, verb: Verb) -> bool {
        let (first, mut ahead) = (cursor.here(), *cursor);
        let said = ahead.take_longest(phrases!(CORE)).is_some();
        let _ = said && ahead.take_any(phrases!(["of", "is", "reaches", "at"]));
        let heats = [Verb::Bake, Verb::Steam, Verb::Fry, Verb::Boil].contains(&verb);
        if !begins_temperature(&ahead) || !(said || heats) {
            return false;
        }
        self.reword(Span { end: ahead.here().start, ..first }, "core ");
        *cursor = ahead;
        true
    }

    /// `to 96C core`, `to an internal temperature of 96C` of what is baked: until it is as warm
    /// inside.
    pub fn core_behind_to(&mut self, cursor: &mut Cursor, first: Span, verb: Verb) -> bool {
        let heats = [Verb::Bake, Verb::Steam, Verb::Fry, Verb::Boil].contains(&verb);
        let mut ahead = *cursor;
        let _ = ahead.take_any(phrases!(["a", "an", "the"]));
        let said = ahead.take_longest(phrases!(CORE)).is_some() || ahead.take("core");
        let _ = said && ahead.take_any(phrases!(["of", "is", "at"]));
        let Some(mut behind) = past_number(&ahead) else { return false };
        let is_warm = unit_here(&behind, ExpectedAmount::Temperature).is_some();
        if behind.is_sign("°") {
            behind.advance();
        }
        let mut behind = behind.further();
        let inside = behind.take_longest(phrases!(INSIDE)).is_some() || behind.take("core");
        if !heats || !is_warm || !(said || inside) {
            return false;
        }
        self.reword(Span { end: ahead.here().start, ..first }, "until core ");
        *cursor = ahead;
        true
    }

    /// `inside` behind the temperature of the core.
    pub fn behind_a_core(&mut self, cursor: &mut Cursor) {
        let gap = cursor.after();
        if cursor.take_longest(phrases!(INSIDE)).is_some() {
            self.reword(cursor.since(gap), "");
        }
    }
}

/// What is said of a dough before it is worked on.
const TURNED_OUT: &[&str] = &[
    "turn out",
    "turn it out",
    "turn the dough out",
    "tip out",
    "tip it out",
    "tip the dough out",
];

/// The place behind `place`, `put it`, `transfer the dough`, where a tin or a tray follows.
fn past_into_a_tin<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    const TINS: &[&str] = &[
        "tin", "tins", "pan", "pans", "tray", "trays", "sheet", "sheets", "mould", "moulds",
        "skillet", "skillets",
    ];
    let mut ahead = *cursor;
    let moves = phrases!([
        "place", "put", "transfer", "drop", "lay", "pour", "scrape", "tip", "spoon", "ease",
        "press"
    ]);
    ahead.take_any(moves).then_some(())?;
    ahead.take_longest(phrases!(["it", "them", "the dough", "dough", "the loaves", "the loaf"]));
    let end = ahead;
    ahead.take_any(phrases!(["in", "into", "on", "onto", "to"])).then_some(())?;
    let mut words = 0;
    // `a greased 2lb loaf tin`
    while !ahead.at_end() && !ahead.is_comma() && words < 7 {
        if ahead.is_any(phrases!(TINS)) {
            return Some(end);
        }
        ahead.advance();
        words += 1;
    }
    None
}

/// What a dough is covered with.
const COVERS: &[&str] = &[
    "with cling film",
    "with clingfilm",
    "with oiled cling film",
    "with lightly oiled cling film",
    "with plastic wrap",
    "with a tea towel",
    "with a damp tea towel",
    "with a clean tea towel",
    "with a kitchen towel",
    "with a towel",
    "with a damp towel",
    "with a cloth",
    "with a damp cloth",
    "with a lid",
    "loosely",
    "loosely with cling film",
    "loosely with plastic wrap",
    "mit einem tuch",
    "mit einem feuchten tuch",
    "mit einem geschirrtuch",
    "mit frischhaltefolie",
    "d'un torchon",
    "d'un linge",
    "avec un torchon",
    "avec un linge humide",
    "avec un film",
    "con un canovaccio",
    "con un panno",
    "con un panno umido",
    "con pellicola",
    "con un paño",
    "con un paño húmedo",
    "con film",
    "con un trapo",
];

/// An oven that is said of what is baked anyway.
const IN_THE_OVEN: &[&str] = &[
    "in the oven",
    "in the hot oven",
    "in an oven",
    "in a preheated oven",
    "in the preheated oven",
    "in preheated oven",
    "in the pre-heated oven",
    "in a pre-heated oven",
    "in pre-heated oven",
    "im ofen",
    "im backofen",
    "im vorgeheizten ofen",
    "im vorgeheizten backofen",
    "in den ofen",
    "im heißen ofen",
    "au four",
    "au four préchauffé",
    "dans le four",
    "dans le four préchauffé",
    "dans un four préchauffé",
    "à four préchauffé",
    "in forno",
    "nel forno",
    "in forno preriscaldato",
    "in forno già caldo",
    "nel forno preriscaldato",
    "nel forno già caldo",
    "al horno",
    "en el horno",
    "en horno precalentado",
    "en el horno precalentado",
    "en horno ya caliente",
];

/// What is done at a temperature, and brings the dough to none.
const AROUND: &[Verb] = &[
    Verb::Preheat,
    Verb::Bake,
    Verb::Fry,
    Verb::Steam,
    Verb::Proof,
    Verb::Bulk,
    Verb::Retard,
    Verb::Rest,
    Verb::Chill,
    Verb::Freeze,
];

/// What stands for `core` after `until`.
const CORE: &[&str] = &[
    "internal temperature",
    "internal temp",
    "the internal temperature",
    "core temperature",
    "inside temperature",
    "internal",
];

const INSIDE: &[&str] = &[
    "inside",
    "internally",
    "internal",
    "internal temperature",
    "in the middle",
    "in the centre",
    "in the center",
    "core",
    "core temperature",
    "internal temp",
    "in the core",
    "at the core",
    "at the centre",
];

/// Whether a step is done with tools, so that `with a razor` adds nothing.
pub fn uses_tools(verb: Verb) -> bool {
    use Verb::{Divide, Pan, Preshape, Score, Shape, Slice, Turn};
    [Divide, Pan, Preshape, Score, Shape, Slice, Turn].contains(&verb)
}

/// The place behind a length: `to 6 inches`, `5 mm thick`.
fn past_length<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    const LENGTHS: [&str; 16] = [
        "mm",
        "cm",
        "inch",
        "inches",
        "millimetre",
        "millimetres",
        "centimetre",
        "centimetres",
        "millimeters",
        "centimeters",
        "zentimeter",
        "millimeter",
        "centimètres",
        "millimètres",
        "centímetros",
        "centimetri",
    ];
    let mut ahead = *cursor;
    let _ = ahead.take_any(phrases!(["to", "auf", "à", "a"]));
    ahead.take("about");
    ahead.take("a");
    let behind = past_number(&ahead).or_else(|| spoken(&ahead).map(|(_, behind)| behind));
    let mut behind = behind?;
    if behind.is_dash() || behind.is("to") || behind.is_sign("×") || behind.is("x") {
        behind = past_number(&behind.further()).unwrap_or(behind);
    }
    let unit = behind.under(behind.here()).to_lowercase();
    (!behind.at_end() && LENGTHS.contains(&unit.as_str())).then(|| behind.further())
}

/// The place behind what a piece weighs in a step that divides: `at 100 g`.
fn past_weight<'a>(cursor: &Cursor<'a>, verb: Verb) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    let begins = ahead.take_any(phrases!(["at", "to", "of"]));
    let behind = past_number(&ahead).filter(|_| verb == Verb::Divide && begins)?;
    unit_here(&behind, ExpectedAmount::Mass)?;
    Some(behind.further())
}

/// Whether a bowl or the like stands here, which is neither a machine nor a place of its own.
pub fn is_vessel(cursor: &Cursor) -> bool {
    const VESSELS: [&str; 9] =
        ["bowl", "jar", "tub", "container", "pot", "saucepan", "pan", "basin", "jug"];
    let mut ahead = *cursor;
    let article = ahead.take_any(phrases!(["a", "an", "the", "your"]));
    let mut words = 0;
    while ahead.word().is_some() && words < 4 && !ends_aside(&ahead) {
        if ahead.is_any(phrases!(VESSELS)) {
            let is_tin = ahead.is("pan") && !(article && words > 0);
            return !is_tin;
        }
        words += 1;
        ahead.advance();
    }
    false
}

/// An oven without a fan, which is what a temperature is said of unless `fan` stands beside it.
const STILL_AIR: &[&str] = &[
    "ober-/unterhitze",
    "ober-/Unterhitze",
    "Ober-/Unterhitze",
    "Ober- und Unterhitze",
    "ober- und unterhitze",
    "Ober/Unterhitze",
    "bei Ober-/Unterhitze",
    "mit Ober-/Unterhitze",
    "bei Ober- und Unterhitze",
    "calor arriba y abajo",
    "con calor arriba y abajo",
    "calor de arriba y abajo",
    "forno statico",
    "in forno statico",
    "in modalità statica",
    "modalità statica",
    "statico",
    "chaleur statique",
    "en chaleur statique",
    "convection naturelle",
    "conventional",
    "conventional oven",
    "conventional heat",
    "top and bottom heat",
    "top and bottom",
    "no fan",
    "without fan",
    "without the fan",
    "ohne Umluft",
];

/// A warm place, whose warmth only its author knows, in four languages.
const WARM_PLACES: &[&str] = &[
    "an einem warmen ort",
    "an einem warmen platz",
    "an warmem ort",
    "im warmen",
    "dans un endroit chaud",
    "dans un endroit tiède",
    "au chaud",
    "in un luogo tiepido",
    "in un luogo caldo",
    "in luogo tiepido",
    "al caldo",
    "en un lugar cálido",
    "en un lugar templado",
    "en un lugar tibio",
    "en un sitio cálido",
];

/// Words that say how something is done, and change no number.
const MANNERS: &[&str] = &[
    "again",
    "ancora",
    "más",
    "briefly",
    "briskly",
    "carefully",
    "completely",
    "directly",
    "encore",
    "erneut",
    "evenly",
    "fertig",
    "firmly",
    "frequently",
    "gradually",
    "immediately",
    "loosely",
    "nochmal",
    "nochmals",
    "nuevamente",
    "occasionally",
    "quickly",
    "slowly",
    "swiftly",
    "rotating",
    "tightly",
    "together",
    "turning",
    "vigorously",
];

/// Words with which something begins that says where, when or with what a step is done, and
/// changes no number.
const PLACES: &[&str] = &[
    "after",
    "against",
    "along",
    "around",
    "as",
    "before",
    "between",
    "from",
    "inside",
    "into",
    "on",
    "onto",
    "outside",
    "over",
    "place",
    "put",
    "dans",
    "encima",
    "nel",
    "nella",
    "sobre",
    "su",
    "sulla",
    "sur",
    "zu",
    "seam",
    "seam-side",
    "so",
    "straight",
    "through",
    "transfer",
    "under",
    "underneath",
    "upside",
    "when",
    "while",
    "without",
];

/// Whether a word stands here that says how something is done.
pub fn is_manner(cursor: &Cursor) -> bool {
    MANNERS.contains(&&*cursor.lower())
}

/// Whether words begin here that are kept as the step's note.
pub fn begins_aside(cursor: &Cursor) -> bool {
    let is_place = PLACES.contains(&&*cursor.lower())
        && !(begins_time(cursor) || begins_temperature(&cursor.further()));
    is_manner(cursor) || is_place && !cursor.further().at_end()
}

/// Where such words end: at the next clause, and at a comma before one.
fn ends_whole_aside(cursor: &Cursor) -> bool {
    let is_clause = |at: &Cursor| {
        at.word().is_some_and(|word| is_reserved(word) && !is_article(word))
            || begins_time(at) && unit_behind(at)
            || begins_temperature(at)
            || at.is("then")
            || at.is("for")
            || at.is_text()
    };
    is_clause(cursor)
        || cursor.is_comma() && is_clause(&cursor.further())
        || next_step(cursor).is_some()
}

fn is_article(word: &str) -> bool {
    ["the", "all", "as", "is"].iter().any(|known| known.eq_ignore_ascii_case(word))
}

/// Whether a number in digits has a unit of time, or what is there says a time in words.
fn unit_behind(cursor: &Cursor) -> bool {
    match past_number(cursor) {
        Some(behind) => unit_here(&behind, ExpectedAmount::Time).is_some(),
        None => true,
    }
}

/// Whether a tool stands here, with which something is mixed and which adds nothing.
pub fn is_tool(cursor: &Cursor) -> bool {
    const TOOLS: [&str; 18] = [
        "knife",
        "spoon",
        "fork",
        "whisk",
        "hook",
        "paddle",
        "scraper",
        "spatula",
        "hand",
        "hands",
        "fingers",
        "fingertips",
        "mixer",
        "machine",
        "processor",
        "blade",
        "stick",
        "attachment",
    ];
    let mut ahead = *cursor;
    let _ = ahead.take_any(phrases!(["a", "an", "the", "your"]));
    let mut words = 0;
    while ahead.word().is_some() && words < 4 && !ends_aside(&ahead) {
        let behind = ahead.further();
        if ahead.is_any(phrases!(TOOLS)) {
            return behind.at_end() || behind.word().is_none() || ends_aside(&behind);
        }
        words += 1;
        ahead.advance();
    }
    false
}

/// Where words that are kept as a note end.
fn ends_aside(cursor: &Cursor) -> bool {
    cursor.word().is_some_and(is_reserved) || begins_time(cursor) || cursor.is("for")
}

/// What is said of folds that are counted or timed.
const FOLDS: &[&str] = &[
    "rabats",
    "rabat",
    "pieghe",
    "piega",
    "pliegues",
    "pliegue",
    "folds",
    "fold",
    "folding",
    "stretch and folds",
    "stretch and fold",
    "stretch-and-folds",
    "coil folds",
    "coil fold",
    "sets of folds",
    "sets of stretch and folds",
    "sets of stretch-and-folds",
    "sets of coil folds",
    "rounds of folds",
];

/// Whether `3 folds` or `folds every` begins here.
pub fn begins_folds(cursor: &Cursor) -> bool {
    past_folds(cursor).is_some() || {
        let mut ahead = *cursor;
        ahead.take_longest(phrases!(FOLDS)).is_some_and(|said| said != "fold") && ahead.is("every")
    }
}

/// The number of `3 folds`, `three sets of stretch and folds`, and the place behind it.
fn past_folds<'a>(cursor: &Cursor<'a>) -> Option<(u32, Cursor<'a>)> {
    const MAX: u32 = 20;
    // `x 4 folds`
    let cursor = &if is_times_sign(cursor) { cursor.further() } else { *cursor };
    let (number, mut ahead) = match spoken(cursor) {
        Some(said) => said,
        None => {
            let behind = past_number(cursor)?;
            (read_number(cursor.under(cursor.here())).ok()?.value, behind)
        }
    };
    if is_times_sign(&ahead) {
        ahead.advance();
    }
    ahead.take_longest(phrases!(FOLDS))?;
    let times = (1..=MAX).find(|times| number == int(i64::from(*times)))?;
    Some((times, ahead))
}

/// Whether the sign for `times` stands here.
fn is_times_sign(at: &Cursor) -> bool {
    !at.at_end() && ["x", "×"].contains(&at.under(at.here()))
}

/// The number of `3x`, of `x 3` and of `x3`, and the place behind it.
pub fn past_factor<'a>(cursor: &Cursor<'a>) -> Option<(u32, Cursor<'a>)> {
    const MAX: i64 = 20;
    let times_of = |written: &str| {
        let number = read_number(written).ok()?.value;
        u32::try_from((1..=MAX).find(|times| number == int(*times))?).ok()
    };
    if cursor.at_end() {
        return None;
    }
    let word = cursor.under(cursor.here());
    let digits = word.strip_prefix('x').or_else(|| word.strip_prefix('×')).unwrap_or_default();
    if !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return Some((times_of(digits)?, cursor.further()));
    }
    // `x 4`
    let is_before = is_times_sign(cursor);
    let first = if is_before { cursor.further() } else { *cursor };
    let behind = past_number(&first)?;
    let times = times_of(first.under(behind.since(first.here())))?;
    if is_before {
        let is_time = !behind.at_end() && unit_here(&behind, ExpectedAmount::Time).is_some();
        return (!is_time).then_some((times, behind));
    }
    (behind.touches() && is_times_sign(&behind)).then_some((times, behind.further()))
}

/// Whether `DDT 25C` begins here.
pub fn begins_dough_temperature(cursor: &Cursor) -> bool {
    past_dough_temperature(cursor).is_some()
}

/// The place of the temperature in `DDT 25C`, `dough temperature of 25C`.
fn past_dough_temperature<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    let said = phrases!([
        "DDT",
        "FDT",
        "desired dough temperature",
        "target dough temperature",
        "final dough temperature",
        "dough temperature",
        "dough temp",
        "target temperature",
        "Teigtemperatur",
    ]);
    ahead.take_longest(said)?;
    if ahead.is_sign(":") || ahead.is_sign("=") || ahead.is("of") {
        ahead.advance();
    }
    begins_temperature(&ahead).then_some(ahead)
}

/// Passes `, and bake for a further` before a time.
fn goes_on_baking(cursor: &mut Cursor) {
    let mut ahead = *cursor;
    ahead.take_comma();
    ahead.take("and");
    let _ = ahead.take_any(phrases!(["bake", "cook", "continue", "leave"]));
    ahead.take_longest(phrases!(["to bake", "to cook", "baking", "cooking", "for", "it for"]));
    ahead.take("for");
    ahead.take_longest(phrases!(["a further", "another", "the last", "the remaining"]));
    if begins_time(&ahead) {
        *cursor = ahead;
    }
}

/// The place of the temperature behind `, reduce the oven to`.
fn past_cooler<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    const LOWER: [&str; 14] = [
        "reduce",
        "reducing",
        "reduced",
        "lower",
        "lowering",
        "lowered",
        "drop",
        "dropping",
        "decrease",
        "decreasing",
        "turn",
        "turning",
        "fall",
        "falling",
    ];
    let mut ahead = *cursor;
    ahead.take_comma();
    ahead.take("and");
    ahead.take("then");
    let is_lower = ahead.take_any(phrases!(LOWER));
    if !is_lower || ahead.on_new_line() {
        return None;
    }
    ahead.take("down");
    ahead.take_longest(phrases!([
        "the oven temperature",
        "the temperature",
        "the heat",
        "the oven",
        "oven",
        "heat",
        "temperature",
        "it",
    ]));
    ahead.take("down");
    let is_heat = |ahead: &Cursor| begins_temperature(ahead) || begins_gas_mark(ahead);
    (ahead.take("to") && is_heat(&ahead)).then_some(ahead)
}

/// `at medium speed`, `on low`, `auf niedriger Stufe`, `à petite vitesse`.
pub fn speed_in_words(cursor: &Cursor) -> Option<Span> {
    speed_in_english(cursor).or_else(|| speed_abroad(cursor))
}

fn speed_in_english(cursor: &Cursor) -> Option<Span> {
    const SPEEDS: [&str; 9] =
        ["low", "slow", "medium", "high", "fast", "first", "second", "lowest", "highest"];
    let mut ahead = *cursor;
    let before = ahead.take_any(phrases!(["on", "at", "in"]));
    ahead.take("a");
    ahead.take("the");
    let medium = ahead.is("medium");
    if let Some(behind) = past_ordinal(&ahead)
        && (behind.is("speed") || behind.is("gear"))
    {
        return Some(behind.further().since(cursor.here()));
    }
    let bare = !before && ahead.is_any(phrases!(["slow", "fast", "low", "high"]));
    let said = ahead.take_any(phrases!(SPEEDS));
    if bare && said && (ahead.is_comma() || begins_time(&ahead)) {
        return Some(ahead.since(cursor.here()));
    }
    if medium {
        let _ = ahead.take_any(phrases!(["low", "high", "fast", "slow"]));
    }
    let named = ahead.take("speed") || ahead.take("gear");
    (said && (named || before && (ahead.at_end() || ahead.word().is_some_and(is_reserved))))
        .then(|| ahead.since(cursor.here()))
}

/// The place behind `1st`, `2.`, `1re`, `2e`, `1ª`.
fn past_ordinal<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    const ENDINGS: [&str; 14] =
        ["st", "nd", "rd", "th", "re", "ère", "ere", "er", "e", "ème", "a", "ª", "º", "°"];
    let mut ahead = past_number(cursor)?;
    let ends =
        ahead.touches() && (ahead.is_sign(".") || ENDINGS.contains(&ahead.under(ahead.here())));
    ends.then(|| {
        ahead.advance();
        ahead
    })
}

/// The same in four other languages, the word for speed before or after how fast it is.
fn speed_abroad(cursor: &Cursor) -> Option<Span> {
    const BEFORE: [&str; 8] = ["auf", "bei", "mit", "im", "à", "a", "en", "in"];
    const GEARS: [&str; 7] =
        ["stufe", "gang", "geschwindigkeit", "vitesse", "velocidad", "velocità", "velocita"];
    const HOW: [&str; 42] = [
        "niedriger",
        "niedrigster",
        "kleiner",
        "kleinster",
        "langsamer",
        "mittlerer",
        "hoher",
        "höchster",
        "schneller",
        "erster",
        "zweiter",
        "niedrige",
        "langsame",
        "mittlere",
        "hohe",
        "ersten",
        "zweiten",
        "langsamen",
        "schnellen",
        "petite",
        "lente",
        "moyenne",
        "grande",
        "rapide",
        "première",
        "deuxième",
        "baja",
        "lenta",
        "media",
        "alta",
        "rápida",
        "primera",
        "segunda",
        "minima",
        "bassa",
        "prima",
        "seconda",
        "veloce",
        "mínima",
        "máxima",
        "massima",
        "basse",
    ];
    let mut ahead = *cursor;
    let alone = phrases!(["langsam", "schnell", "lentement", "rapidement", "despacio"]);
    if ahead.take_any(alone) {
        let ends = ahead.at_end() || ahead.is_comma() || begins_time(&ahead) || ends_aside(&ahead);
        return ends.then(|| ahead.since(cursor.here()));
    }
    let before = ahead.take_any(phrases!(BEFORE));
    if let Some(behind) = past_ordinal(&ahead)
        && behind.is_any(phrases!(GEARS))
    {
        return Some(behind.further().since(cursor.here()));
    }
    if let Some(behind) = past_ordinal(&ahead).filter(|behind| before && behind.at_end()) {
        let span = behind.since(cursor.here());
        // `a 220°` is a temperature.
        return (!cursor.under(span).ends_with(['°', 'º'])).then_some(span);
    }
    let is_before = ahead.take_any(phrases!(GEARS));
    (before || is_before).then_some(())?;
    ahead.take_any(phrases!(HOW)).then_some(())?;
    let is_named = is_before || ahead.take_any(phrases!(GEARS));
    is_named.then(|| ahead.since(cursor.here()))
}

/// `cut a cross`, `make 3 slashes`, `make slits`: what is done to the top of a loaf.
fn cuts_the_top(cursor: &Cursor) -> bool {
    const CUTS: [&str; 12] = [
        "cross", "crosses", "slash", "slashes", "slit", "slits", "cut", "cuts", "x", "line",
        "lines", "grid",
    ];
    if !cursor.is("cut") && !cursor.is("make") && !cursor.is("slash") {
        return false;
    }
    let mut ahead = cursor.further();
    let counted = spoken(&ahead).map(|(_, behind)| behind).or_else(|| past_number(&ahead));
    ahead = counted.unwrap_or(ahead);
    let how = ["deep", "shallow", "large", "big", "long", "diagonal", "few", "parallel"];
    let _ = how.iter().any(|how| ahead.take(how));
    CUTS.iter().any(|cut| ahead.is(cut))
}

/// Whether a speed stands here whose number is certain: `en 1ère vitesse`.
pub fn begins_certain_speed(cursor: &Cursor) -> bool {
    speed_in_words(cursor).is_some_and(|span| certain_speed(cursor.under(span)).is_some())
}

/// The number of a speed that is certain: the first is the slowest, whatever the mixer has.
fn certain_speed(said: &str) -> Option<u32> {
    const FIRST: [&str; 22] = [
        "first",
        "1st",
        "1re",
        "1ère",
        "1ere",
        "première",
        "lente",
        "petite",
        "basse",
        "primera",
        "lenta",
        "1ª",
        "1a",
        "prima",
        "minima",
        "mínima",
        "bassa",
        "baja",
        "ersten",
        "erster",
        "niedrigster",
        "lentement",
    ];
    const SECOND: [&str; 11] = [
        "second",
        "2nd",
        "2e",
        "2ème",
        "2eme",
        "deuxième",
        "segunda",
        "2ª",
        "2a",
        "seconda",
        "zweiten",
    ];
    let lower = said.to_lowercase();
    let has = |known: &[&str]| lower.split([' ', '.']).any(|word| known.contains(&word));
    let digits = lower.split(' ').find_map(|word| word.strip_suffix('.')?.parse::<u32>().ok());
    match (has(&FIRST), has(&SECOND), digits) {
        (true, false, None) => Some(1),
        (false, true, None) => Some(2),
        (false, false, Some(speed @ 1..=2)) => Some(speed),
        _ => None,
    }
}

/// `in a warm place`: how warm, only its author knows.
pub fn how_warm(cursor: &mut Cursor) -> Reading<()> {
    let (first, mut ahead) = (cursor.here(), *cursor);
    // Usual temperatures: common practice, no source.
    let words = [("warm", "26C"), ("hot", "230C"), ("cool", "18C"), ("cold", "5C")];
    let Some((_, likely)) = words.into_iter().find(|(word, _)| ahead.take(word)) else {
        return Ok(());
    };
    let places = phrases!(["place", "spot", "oven", "kitchen", "corner", "room", "area"]);
    let is_oven = ahead.is("oven");
    if !ahead.take_any(places) {
        return Ok(());
    }
    let likely = if is_oven && likely == "26C" { "35C" } else { likely };
    *cursor = ahead;
    let span = cursor.since(first);
    Err(unknown_value::how_warm(span, cursor.under(span), likely).into())
}

/// `12`, `into 12 balls` where dough is divided: how many pieces there are.
fn pieces_said(cursor: &Cursor, verb: Verb) -> Option<Span> {
    if !matches!(verb, Verb::Divide | Verb::Shape | Verb::Preshape) {
        return None;
    }
    let (first, mut ahead) = (cursor.here(), *cursor);
    let into = ahead.take("into")
        || (ahead.is("in") || ahead.is("en"))
            && (ahead.further().is_number()
                || spoken(&ahead.further()).is_some_and(|(number, _)| number >= int(1)))
            && ahead.take_longest(phrases!(["in", "en"])).is_some();
    let counted = spoken(&ahead).map(|(_, behind)| behind).filter(|_| into);
    ahead = match counted.or_else(|| past_number(&ahead)) {
        Some(behind) => behind,
        None if into => ahead,
        None => return None,
    };
    let goes_on = matches!(ahead.peek_kind(), Some(TokenKind::Unit | TokenKind::Range));
    if goes_on
        || ahead.is_dash()
        || ahead.is_sign("%")
        || unit_here(&ahead, ExpectedAmount::Claim).is_some()
    {
        return None;
    }
    while ahead.word().is_some_and(|word| !is_reserved(word)) && !ahead.is("for") {
        ahead.advance();
    }
    Some(ahead.since(first))
}

/// The number of pieces in `into 8 balls`; none for one, which is only shaped.
fn count_of(written: &str) -> Option<Exact> {
    let mut words = written.split_whitespace().map(str::to_lowercase);
    let count = words.find_map(|word| match read_number(&word) {
        Ok(number) => Some(number.value),
        Err(_) => number_word(&word).map(int),
    })?;
    (count > int(1)).then_some(count)
}

/// `85% RH`: how moist the air is.
fn humidity(cursor: &Cursor) -> Option<Span> {
    let mut ahead = past_number(cursor)?;
    unit_here(&ahead, ExpectedAmount::Share)?;
    ahead.advance();
    let words = phrases!([
        "rh",
        "relative humidity",
        "humidity",
        "rel humidity",
        "Luftfeuchte",
        "moisture"
    ]);
    ahead.take_longest(words)?;
    Some(ahead.since(cursor.here()))
}

/// The next step behind `then`, `and` or a comma: `bake 40min at 230C then cool 1h`.
pub fn next_step<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    if let Some(next) = foreign::next_step(cursor) {
        return Some(next);
    }
    let mut ahead = *cursor;
    let comma = ahead.take_comma();
    let joined = [ahead.take("and"), ahead.take("then")].contains(&true);
    if ahead.is("fold") && ahead.further().at_end() && joined {
        return Some(ahead);
    }
    if !(joined || comma) || ahead.on_new_line() || past_cooler(cursor).is_some() {
        return None;
    }
    let next = ahead;
    ahead.take_longest(phrases!(BEFORE_A_VERB));
    if past_into_a_tin(&ahead).is_some() {
        return Some(next);
    }
    let verb = match (take_other_verb(&mut ahead), ahead.word().and_then(Verb::read)) {
        (Some((verb, _)), _) => verb,
        (None, Some(verb)) => {
            ahead.advance();
            verb
        }
        (None, None) => return None,
    };
    let ends_or_goes_on = |ahead: &Cursor| ahead.at_end() || next_step(ahead).is_some();
    if joined
        && (verb == Verb::Fold && ends_or_goes_on(&ahead)
            || verb == Verb::Mix && ahead.word().is_some())
    {
        // `then stretch & fold`, `then add salt`
        return Some(next);
    }
    // What is steamed behind a comma is mostly the baking before it.
    if verb == Verb::Fold || verb == Verb::Steam && !joined {
        return None;
    }
    let ends = ahead.at_end()
        || ahead.is_text()
        || ahead.is_comma()
        || begins_time(&ahead)
        || begins_aside(&ahead);
    let goes_on = ends || is_clause_word(&ahead) || next_step(&ahead).is_some();
    goes_on.then_some(next)
}

/// Whether a clause of a step begins with the word that stands here.
pub fn is_clause_word(cursor: &Cursor) -> bool {
    cursor.is("for")
        || cursor.is("allow")
        || cursor.word().is_some_and(|word| is_reserved(word) && !is_filler(word))
}

/// Reserved words that are no clause of a step.
fn is_filler(word: &str) -> bool {
    ["is", "the", "as", "all", "also", "like"]
        .iter()
        .any(|filler| filler.eq_ignore_ascii_case(word))
}

/// What a verb that says how far the dough rises is written with.
const UNTIL_DOUBLED: &str = " until volume 2x";

/// Whether the words for a verb say that the dough doubles: `laisser doubler de volume`.
pub fn is_doubling(said: &str) -> bool {
    let said = said.to_lowercase();
    ["doubl", "verdopp", "raddopp", "duplic"].iter().any(|doubles| said.contains(doubles))
}

/// Whether something is cut in parts here, and not into something: `cut in half`.
fn is_in_parts(behind: &Cursor) -> bool {
    const PARTS: &[&str] = &[
        "half",
        "halves",
        "two",
        "three",
        "four",
        "thirds",
        "quarters",
        "pieces",
        "strips",
        "slices",
        "wedges",
        "squares",
        "rounds",
        "triangles",
        "the",
        "a",
        "an",
        "your",
    ];
    behind.at_end()
        || behind.is_number()
        || spoken(behind).is_some()
        || behind.is_any(phrases!(PARTS))
            // `cut in the butter`
            && !(behind.is("the") && behind.further().is_any(phrases!(FATS)))
}

/// Parts in which dough is folded.
const FOLDED_IN: &[&str] = &["half", "two", "three", "four", "thirds", "quarters", "halves"];

/// What is cut into flour.
const FATS: &[&str] = &["butter", "cold", "fat", "lard", "shortening", "margarine", "suet"];

/// The verb of ours that another one is said for, and how it depends on its place.
fn take_other_verb(cursor: &mut Cursor) -> Option<(Verb, Option<ByContext>)> {
    const STARTS: &Starts = &Starts::of_pairs(OTHER_VERBS);
    let fits = |said: &str| said.split(' ').try_fold(*cursor, |at, word| behind_word(at, word));
    let begins = cursor.begins();
    if !STARTS.may_begin(begins) {
        return take_noun_of_a_verb(cursor);
    }
    let likely = OTHER_VERBS.iter().filter(|(said, _)| begins == Start::of(said.as_bytes()));
    let found = likely.filter_map(|(said, ours)| Some((*said, *ours, fits(said)?)));
    let found = found.filter(|(said, _, behind)| match *said {
        "cut in" => !is_in_parts(behind),
        // `fold in three`, as pastry is.
        "fold in" => {
            let in_parts = behind.is_number() && !begins_time(behind);
            !(in_parts || behind.is_any(phrases!(FOLDED_IN)))
        }
        _ => true,
    });
    let Some((said, ours, behind)) = found.max_by_key(|(said, ..)| said.len()) else {
        return take_noun_of_a_verb(cursor);
    };
    *cursor = behind;
    Some((Verb::read(ours)?, by_context(said)))
}

/// `kneading 10 min`, `baking at 230C`: the noun of a verb, where a step can go on after it.
fn take_noun_of_a_verb(cursor: &mut Cursor) -> Option<(Verb, Option<ByContext>)> {
    /// What is put on or into something, and no step.
    const THINGS: [&str; 5] = ["topping", "filling", "icing", "coating", "frosting"];
    let word = cursor.word().filter(|word| word.len() > 5 && word.is_ascii())?;
    let word = word.to_ascii_lowercase();
    let stem = word.strip_suffix("ing").filter(|_| !THINGS.contains(&word.as_str()))?;
    let behind = cursor.further();
    let goes_on = behind.at_end()
        || behind.is_comma()
        || behind.is_sign(":")
        || begins_time(&behind)
        || begins_temperature(&behind)
        || is_clause_word(&behind) && !behind.is("fold");
    if !goes_on {
        return None;
    }
    let letters = stem.as_bytes();
    let is_double = letters.len() > 3 && letters.last() == letters.get(letters.len() - 2);
    let one = stem.get(..stem.len() - 1).filter(|_| is_double).map(str::to_owned);
    let verbs = [Some(stem.to_owned()), Some(format!("{stem}e")), one];
    let (verb, how) = verbs.into_iter().flatten().find_map(|verb| {
        let ours = other_verb(&verb).unwrap_or(&verb);
        Some((Verb::read(ours)?, by_context(&verb)))
    })?;
    *cursor = behind;
    Some((verb, how))
}

/// The place behind a word, for which `&` may stand.
fn behind_word<'a>(mut at: Cursor<'a>, word: &str) -> Option<Cursor<'a>> {
    if word == "and" && at.is_sign("&") {
        return Some(at.further());
    }
    at.take(word).then_some(at)
}

/// `turn out onto a board` is no turning over.
fn is_no_turning(cursor: &Cursor) -> bool {
    let onto = cursor.further();
    cursor.is("turn") && onto.is_any(phrases!(["out", "onto", "down", "up", "off"]))
}

fn is_after(steps: &[Step], index: usize, verbs: &[Verb]) -> bool {
    steps.iter().take(index).any(|step| verbs.contains(&step.verb))
}

fn is_before(steps: &[Step], index: usize, verbs: &[Verb]) -> bool {
    steps.iter().skip(index + 1).any(|step| verbs.contains(&step.verb))
}

fn rise(steps: &[Step], index: usize) -> Verb {
    let shaping = [Verb::Shape, Verb::Pan];
    if is_after(steps, index, &shaping) {
        return Verb::Proof;
    }
    match is_after(steps, index, &[Verb::Divide, Verb::Preshape]) {
        true if is_before(steps, index, &shaping) => Verb::Rest,
        true => Verb::Proof,
        // The last of several before the oven, though nobody says that it is shaped.
        false if is_last_of_several(steps, index) => Verb::Proof,
        false => Verb::Bulk,
    }
}

/// Whether the dough has risen before a step, and then goes into the oven without another rise
/// and without being divided or shaped.
fn is_last_of_several(steps: &[Step], index: usize) -> bool {
    let others =
        [Verb::Bulk, Verb::Proof, Verb::Divide, Verb::Preshape, Verb::Shape, Verb::Pan, Verb::Mix];
    is_after(steps, index, &[Verb::Bulk])
        && !is_before(steps, index, &others)
        && is_before(steps, index, &[Verb::Bake, Verb::Boil, Verb::Fry, Verb::Steam])
}

/// What is left alone: bread cools, a dough that is mixed again rests, and else it rises.
fn leave(steps: &[Step], index: usize) -> Verb {
    if is_after(steps, index, &[Verb::Bake, Verb::Boil, Verb::Fry, Verb::Steam]) {
        return Verb::Cool;
    }
    // What is shaped or proofed later only rests now.
    match is_before(steps, index, &[Verb::Mix]) || shaped_but_not_done(steps, index) {
        true => Verb::Rest,
        false => rise(steps, index),
    }
}

/// Whether a dough that is shaped by now is shaped again or proofed behind a step.
fn shaped_but_not_done(steps: &[Step], index: usize) -> bool {
    let shaping = [Verb::Shape, Verb::Pan];
    is_after(steps, index, &shaping)
        && (is_before(steps, index, &shaping) || is_before(steps, index, &[Verb::Proof]))
}

fn refrigerate(steps: &[Step], index: usize) -> Verb {
    let time = steps.get(index).and_then(|step| step.phases.first()?.duration.as_ref());
    let longest = time.and_then(|time| time.high.as_ref().or(time.low.as_ref()));
    let long = longest.is_some_and(|time| {
        time.unit.dimension() == Dimension::Time
            && time.unit.to_base(&time.number, Measures::default()) >= int(RETARDED)
    });
    if long { Verb::Retard } else { Verb::Chill }
}
