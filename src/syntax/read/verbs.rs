//! Verbs as people say them, and other things that are said in a step: each is read as the
//! word of the trade, by where the step stands.

use super::cursor::Cursor;
use super::spoken::{past_number, spoken, unit_here};
use super::stepping::{SaidVerb, Stepping, empty_step};
use super::words::{BEFORE_A_VERB, ByContext, OTHER_VERBS, by_context, is_reserved};
use super::{Reader, Reading};
use crate::quantity::{Dimension, Measures, int};
use crate::source::Span;
use crate::syntax::findings::{misplaced_statement, unknown_value, wrong_kind_of_amount};
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{Flag, Name, Phase, Step, Verb};
use crate::syntax::wanted::Wanted;

/// Minutes in the cold from which on dough is retarded and not only chilled: common
/// practice, no source.
const RETARDED: i64 = 360;

impl Reader<'_> {
    /// The verb that a step begins with, and its place.
    pub fn verb(
        &mut self,
        cursor: &mut Cursor,
        step: usize,
        said: &mut Vec<SaidVerb>,
    ) -> Option<(Verb, Span)> {
        let first = cursor.here();
        let mut ahead = *cursor;
        let before = ahead.take_longest(BEFORE_A_VERB).is_some();
        let (verb, how) = match take_other_verb(&mut ahead) {
            Some(other) => other,
            None => {
                let verb = ahead.word().and_then(Verb::read)?;
                ahead.advance();
                (verb, None)
            }
        };
        *cursor = ahead;
        let span = cursor.since(first);
        match how {
            Some(how) => said.push(SaidVerb { step, how, span }),
            None if before || verb.word() != cursor.under(span) => {
                self.reword(span, verb.word());
            }
            None => {}
        }
        Some((verb, span))
    }

    /// Gives each verb that depends on the steps around it its meaning.
    pub fn settle_verbs(&mut self, steps: &mut [Step], said: &[SaidVerb]) {
        for SaidVerb { step: index, how, span } in said {
            let verb = match how {
                ByContext::Rise => rise(steps, *index),
                ByContext::Refrigerate => refrigerate(steps, *index),
                ByContext::Round if is_before(steps, *index, &[Verb::Shape]) => Verb::Preshape,
                ByContext::Round => Verb::Shape,
                ByContext::Cut if is_after(steps, *index, &[Verb::Bake, Verb::Fry]) => Verb::Slice,
                ByContext::Cut => Verb::Divide,
            };
            self.reword(*span, verb.word());
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
        let words = ["each side", "per side", "on each side", "a side", "on both sides"];
        if cursor.take_longest(&words).is_none() {
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
        let places = ["counter", "countertop", "bench", "worktop", "table", "side"];
        let racks = ["a rack", "a wire rack", "a cooling rack", "the rack", "wire rack", "rack"];
        if stepping.step.verb == Verb::Cool
            && ahead.take("on")
            && ahead.take_longest(&racks).is_some()
        {
            *cursor = ahead;
            self.reword(cursor.since(first), "");
            return true;
        }
        ahead = *cursor;
        let on = ahead.take("on") && {
            let _ = ["the", "a", "your"].iter().any(|article| ahead.take(article));
            places.iter().any(|place| ahead.take(place))
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
        let is_article = ["the", "a", "an", "your"].iter().any(|word| cursor.is(word));
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
        if let Some(span) = pieces_said(cursor, verb) {
            while !cursor.at_end() && cursor.here().start < span.end {
                cursor.advance();
            }
            return Err(misplaced_statement::pieces_in_a_step(span, cursor.under(span)).into());
        }
        if let Some(span) = humidity(cursor) {
            while !cursor.at_end() && cursor.here().start < span.end {
                cursor.advance();
            }
            return Err(misplaced_statement::humidity(span, cursor.under(span)).into());
        }
        if self.fan_in_brackets(cursor, stepping) {
            return Ok(true);
        }
        self.bare_temperature(cursor, stepping)
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
        if !begins_temperature(&ahead)
            || !AROUND.contains(&stepping.step.verb)
            || cursor.is_number() && stepping.phase.at.is_some()
        {
            return Ok(false);
        }
        self.reword(Span { end: ahead.here().start, ..first }, "at ");
        *cursor = ahead;
        let at = self.extent(cursor, Wanted::Surroundings)?;
        self.beside(cursor, &at, Wanted::Surroundings)?;
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
        let said = ahead.take_longest(CORE).is_some();
        let _ = said && ["of", "is", "reaches", "at"].iter().any(|word| ahead.take(word));
        let heats = [Verb::Bake, Verb::Steam, Verb::Fry, Verb::Boil].contains(&verb);
        if !begins_temperature(&ahead) || !(said || heats) {
            return false;
        }
        self.reword(Span { end: ahead.here().start, ..first }, "core ");
        *cursor = ahead;
        true
    }

    /// `inside` behind the temperature of the core.
    pub fn behind_a_core(&mut self, cursor: &mut Cursor) {
        let gap = cursor.after();
        if cursor.take_longest(INSIDE).is_some() {
            self.reword(cursor.since(gap), "");
        }
    }
}

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
    "in the core",
    "at the core",
    "at the centre",
];

/// `in a warm place`: how warm, only its author knows.
pub fn how_warm(cursor: &mut Cursor) -> Reading<()> {
    let (first, mut ahead) = (cursor.here(), *cursor);
    // Usual temperatures: common practice, no source.
    let words = [("warm", "26C"), ("hot", "230C"), ("cool", "18C"), ("cold", "5C")];
    let Some((_, likely)) = words.into_iter().find(|(word, _)| ahead.take(word)) else {
        return Ok(());
    };
    let places = ["place", "spot", "oven", "kitchen", "corner", "room", "area"];
    let is_oven = ahead.is("oven");
    if !places.iter().any(|place| ahead.take(place)) {
        return Ok(());
    }
    let likely = if is_oven && likely == "26C" { "35C" } else { likely };
    *cursor = ahead;
    let span = cursor.since(first);
    Err(unknown_value::how_warm(span, cursor.under(span), likely).into())
}

/// Whether a temperature stands here, with its unit.
pub fn begins_temperature(cursor: &Cursor) -> bool {
    let Some(behind) = past_number(cursor) else { return false };
    let is_range = behind.is_dash() || behind.peek_kind() == Some(TokenKind::Range);
    let end = if is_range { past_number(&behind.further()) } else { Some(behind) };
    end.is_some_and(|end| unit_here(&end, Wanted::Temperature).is_some())
}

/// `12`, `into 12 balls` where dough is divided: how many pieces there are.
fn pieces_said(cursor: &Cursor, verb: Verb) -> Option<Span> {
    if !matches!(verb, Verb::Divide | Verb::Shape | Verb::Preshape) {
        return None;
    }
    let (first, mut ahead) = (cursor.here(), *cursor);
    let into = ahead.take("into");
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
        || unit_here(&ahead, Wanted::Claim).is_some()
    {
        return None;
    }
    while ahead.word().is_some_and(|word| !is_reserved(word)) && !ahead.is("for") {
        ahead.advance();
    }
    Some(ahead.since(first))
}

/// `85% RH`: how moist the air is.
fn humidity(cursor: &Cursor) -> Option<Span> {
    let mut ahead = past_number(cursor)?;
    unit_here(&ahead, Wanted::Share)?;
    ahead.advance();
    let words = ["rh", "relative humidity", "humidity", "rel humidity", "Luftfeuchte", "moisture"];
    ahead.take_longest(&words)?;
    Some(ahead.since(cursor.here()))
}

/// The verb of ours that another one is said for, and how it depends on its place.
fn take_other_verb(cursor: &mut Cursor) -> Option<(Verb, Option<ByContext>)> {
    let fits =
        |said: &str| said.split(' ').try_fold(*cursor, |mut at, word| at.take(word).then_some(at));
    let may_begin = cursor.may_begin();
    let likely = OTHER_VERBS.iter().filter(|(said, _)| may_begin(said));
    let found = likely.filter_map(|(said, ours)| Some((*said, *ours, fits(said)?)));
    let (said, ours, behind) = found.max_by_key(|(said, ..)| said.len())?;
    *cursor = behind;
    Some((Verb::read(ours)?, by_context(said)))
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
        false => Verb::Bulk,
    }
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
