//! Steps in German, French, Italian and Spanish: `10 min kneten`, `laisser lever 2 h`,
//! `hornear 40 min a 230 C`. What can only mean one word of ours is read as it, `fmt` writes
//! ours, and a note tells the first of them.

use super::Reader;
use super::cursor::Cursor;
use super::spoken::{begins_amount, begins_temperature, past_number};
use super::stepping::Stepping;
use super::words::ByContext;
use super::words::DEGREES;
use crate::source::Span;
use crate::syntax::abroad::{
    AND, ARTICLES, BEFORE_A_VERB, CLAUSE_STARTS, Clause, LONGEST, VERB_STARTS, may_begin_clause,
    read_clause, read_verb,
};
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{read_as, unknown_value};
use crate::syntax::phrases::phrases;
use crate::syntax::tree::{Flag, Name, Verb};

impl Reader<'_> {
    /// Tells the first word of another language that is read as one of ours.
    pub fn tell_abroad(&mut self, span: Span, ours: &str) {
        if !std::mem::replace(&mut self.told_abroad, true) {
            let written = self.under(span);
            self.report(read_as::abroad(span, written, ours));
        }
    }

    /// A clause in another language that is read without a word of ours; says whether one
    /// stood here, and which clause of ours goes on behind it.
    pub fn clause_abroad(&mut self, cursor: &mut Cursor, stepping: &mut Stepping) -> Abroad {
        let first = cursor.here();
        let Some((clause, behind)) = clause_here(cursor) else { return Abroad::None };
        *cursor = behind;
        let span = cursor.since(first);
        let heats = [Verb::Bake, Verb::Preheat, Verb::Fry].contains(&stepping.step.verb);
        if clause == Clause::Speed && heats && cursor.is_number() {
            // `backen auf Stufe 4`
            cursor.advance();
            let span = cursor.since(first);
            self.fail(unknown_value::oven_setting(span, cursor.under(span)));
            return Abroad::Done;
        }
        let ours = match clause {
            Clause::At => "at",
            Clause::InRoom => "at room temperature",
            Clause::InFridge => "in fridge",
            Clause::With => "with",
            Clause::Until => "until",
            Clause::Speed => "speed",
            Clause::For => "",
            Clause::Then => "then",
            Clause::Covered => "covered",
            Clause::Uncovered => "uncovered",
            Clause::Steamed => "steamed",
            Clause::Vented => "vented",
            Clause::Fan => "fan",
            Clause::ByHand => "by hand",
        };
        if ours.is_empty() {
            self.reword(Span { end: cursor.here().start, ..span }, "");
            return Abroad::Done;
        }
        self.reword(span, ours);
        self.tell_abroad(span, ours);
        match clause {
            Clause::At | Clause::With | Clause::Then | Clause::Until | Clause::Speed => {
                return Abroad::GoesOn(ours);
            }
            Clause::InRoom => {
                if self.first_time(&mut stepping.said, "at", span) {
                    stepping.phase.in_room = true;
                }
            }
            Clause::InFridge => {
                if self.first_time(&mut stepping.said, "in", span) {
                    let (key, shown) = ("fridge".into(), "fridge".into());
                    stepping.phase.place = Some(Name { key, shown, span });
                }
            }
            _ => {
                let known = Flag::ALL.iter().find(|(known, _)| *known == ours).copied();
                if let Some((name, flag)) = known
                    && self.first_time(&mut stepping.said, name, span)
                {
                    stepping.phase.flags.push((flag, span));
                }
            }
        }
        Abroad::Done
    }

    /// Passes an article of another language before a name: `il sale`.
    pub fn article_abroad(&mut self, cursor: &mut Cursor) {
        let is_article = cursor.is_any(phrases!(ARTICLES));
        if self.told_abroad && is_article && cursor.further().word().is_some() {
            self.reword(Span { end: cursor.further().here().start, ..cursor.here() }, "");
            cursor.advance();
        }
    }
}

/// What a clause in another language was.
pub enum Abroad {
    /// There was none.
    None,
    /// It has been read.
    Done,
    /// This word of ours, and what belongs to it follows.
    GoesOn(&'static str),
}

/// The verb that stands here in another language.
pub fn verb_here<'a>(cursor: &Cursor<'a>) -> Option<(Verb, Option<ByContext>, Cursor<'a>)> {
    if !VERB_STARTS.may_begin(cursor.begins()) {
        return None;
    }
    let words = cursor.words_ahead(LONGEST);
    (1..=words.len()).rev().find_map(|count| {
        let (verb, how) = read_verb(&words.get(..count)?.join(" "))?;
        Some((verb, how, past(cursor, count)))
    })
}

/// The verb that a statement ends with in another language, and the statement before it.
pub fn verb_at_end<'a>(cursor: &Cursor<'a>) -> Option<(Verb, Option<ByContext>, Cursor<'a>)> {
    let words = cursor.last_words(LONGEST);
    (1..=words.len()).rev().find_map(|count| {
        let phrase = words.get(words.len() - count..)?.join(" ");
        let (verb, how) = read_verb(&phrase)?;
        let before = cursor.without_last(count);
        (!before.at_end()).then_some((verb, how, before))
    })
}

/// Whether something goes into a tin or a basket: `in eine gefettete Form`.
pub fn is_into_a_tin(cursor: &Cursor) -> bool {
    const TINS: [&str; 9] =
        ["form", "formen", "förmchen", "blech", "kasten", "körbchen", "korb", "mulden", "mulde"];
    let last = cursor.last_words(1);
    cursor.is("in") && last.iter().any(|word| TINS.iter().any(|tin| word.ends_with(tin)))
}

/// Two steps that both end with their verb, and the place of each: `Teig teilen und rund
/// wirken`.
pub fn two_at_end<'a>(cursor: &Cursor<'a>) -> Option<(Cursor<'a>, Cursor<'a>)> {
    let (mut ahead, mut joint) = (*cursor, None);
    let mut passed = 0;
    while !ahead.at_end() {
        if joint.is_none() && is_and(&ahead) {
            joint = Some((passed, ahead.further()));
        }
        passed += 1;
        ahead.advance();
    }
    let (before, second) = joint?;
    if verb_here(cursor).is_some() || Verb::read(&cursor.lower()).is_some() {
        return None;
    }
    let first = cursor.without_last(passed - before);
    verb_at_end(&first)?;
    verb_at_end(&second)?;
    Some((first, second))
}

/// The place behind a word that says when, before a verb: `dann 10 min kneten`.
pub fn behind_when<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let before = phrases!(BEFORE_A_VERB);
    if !before.may_begin(cursor.begins()) {
        return None;
    }
    let word = cursor.words_ahead(1).pop()?;
    before.all.contains(&word.as_str()).then(|| cursor.further())
}

/// The step behind a word for `and` or `then`, in another language: `teilen und formen`.
pub fn next_step<'a>(cursor: &Cursor<'a>) -> Option<Cursor<'a>> {
    let mut ahead = *cursor;
    ahead.take_comma();
    let joins = is_and(&ahead) || ahead.is_any(phrases!(BEFORE_A_VERB));
    let verb = joins.then(|| ahead.further())?;
    let (_, _, behind) = verb_here(&verb)?;
    let ends = behind.at_end() || behind.is_number() || clause_here(&behind).is_some();
    (ends && !verb.on_new_line()).then_some(verb)
}

/// Whether a word joins two names in another language.
pub fn is_and(cursor: &Cursor) -> bool {
    cursor.is_any(phrases!(AND))
}

/// Whether a clause in another language begins here, so that a name ends before it. What goes
/// in is told by its word, which stands in names too.
pub fn ends_name(cursor: &Cursor) -> bool {
    CLAUSE_STARTS.may_begin(cursor.begins())
        && cursor.word().is_some_and(may_begin_clause)
        && clause_here(cursor).is_some_and(|(clause, _)| clause != Clause::With)
}

/// The clause that begins here, and the place behind its words.
pub fn clause_here<'a>(cursor: &Cursor<'a>) -> Option<(Clause, Cursor<'a>)> {
    if !CLAUSE_STARTS.may_begin(cursor.begins()) {
        return None;
    }
    let words = cursor.words_ahead(LONGEST);
    if !words.first().is_some_and(|word| may_begin_clause(word)) {
        return None;
    }
    (1..=words.len()).rev().find_map(|count| {
        let clause = read_clause(&words.get(..count)?.join(" "))?;
        let behind = past(cursor, count);
        let fits = match clause {
            Clause::At => begins_temperature(&behind) || begins_degrees(&behind),
            Clause::Until => behind.word().is_some() || behind.is_text(),
            Clause::Speed => behind.is_number(),
            Clause::For => begins_amount(&behind, ExpectedAmount::Time),
            Clause::With => behind.word().is_some() || behind.is_number() || behind.is_text(),
            Clause::Then => !behind.at_end(),
            _ => true,
        };
        fits.then_some((clause, behind))
    })
}

/// `220 Grad`, which does not say which degrees.
fn begins_degrees(cursor: &Cursor) -> bool {
    past_number(cursor).is_some_and(|behind| {
        let is_sign = !behind.at_end() && ["°", "º"].contains(&behind.under(behind.here()));
        is_sign || behind.is_any(phrases!(DEGREES))
    })
}

fn past<'a>(cursor: &Cursor<'a>, count: usize) -> Cursor<'a> {
    (0..count).fold(*cursor, |at, _| at.further())
}
