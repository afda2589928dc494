//! Denials that claim nothing: denied themselves, said of another bread, of so much of a
//! thing or of its place, or told to do for a while.

use super::super::context::SaidAt;
use super::super::speech::PhraseFound;
use super::reading::{Candidate, DenialForm, DenialReading, DeniedOf, Subject, is_answer};
use crate::formula::Ingredient;
use crate::formula::class::Class;
use std::ops::Range;

impl DenialReading<'_> {
    /// Whether what begins at a word is denied: `not`, `is not suitable for`.
    pub(super) fn is_denied(&self, from: usize) -> bool {
        let mut at = from;
        for _ in 0..7 {
            let mut rows = ["not", "absent", "absent-bare"].into_iter();
            if rows.any(|row| self.sentence.word_before(row, at).is_some()) {
                return true;
            }
            match self.sentence.word_before("not-filler", at) {
                Some(before) => at = before,
                None => return false,
            }
        }
        false
    }

    /// The same, and `vegan it is not`, `vegan? no`.
    pub(super) fn is_denied_around(&self, from: usize, to: usize) -> bool {
        let part = self.part(from);
        let turned = self.is("is-verb", to).is_some_and(|after| {
            let but = ["but", "mais", "aber", "sondern", "pero", "sino", "ma"];
            let goes_on = (after..part.end).any(|at| self.is_mark(at, &but));
            self.has("not", &(after..part.end)) && !goes_on
        });
        let is_marked = self.is_mark(to, &["?", ":", "–"]);
        let at = to + usize::from(is_marked);
        let answer = |at: usize| self.is("not", at).or(self.is("answer", at).filter(|_| is_marked));
        let is_question = self.is_mark(to, &["?"]);
        let is_unfit = self
            .sentence
            .all("word", "suits")
            .any(|suits| suits.from > to && suits.to <= part.end && self.is_denied(suits.from));
        self.is_denied(from)
            || turned
            || is_unfit
            || answer(at).is_some_and(|to| is_marked || self.is_break(to))
            || (is_question && answer(at + 1).is_some())
            || self.is_denied_list(from)
    }

    /// `neither vegan nor gluten-free`.
    pub(super) fn is_denied_list(&self, from: usize) -> bool {
        let before = self.sentence.word_before("joint", from);
        before.is_some_and(|at| {
            let part = self.part(at);
            (part.start..at).any(|at| self.is_mark(at, &["neither", "weder", "ni", "né"]))
        })
    }

    /// Whether a word is `without` alone.
    pub(super) fn is_plain(&self, at: usize) -> bool {
        self.is_mark(at, &["without", "sans", "ohne", "sin", "senza"])
    }

    /// `no brioche without butter`, `never without salt`.
    pub(super) fn is_double(&self, from: usize) -> bool {
        let is_open = |at: usize| !self.is_break(at) && self.subject_from(at).is_none();
        let mut nots = ["not", "absent"].iter().flat_map(|row| self.sentence.all("word", row));
        self.is_plain(from)
            && nots.any(|not| not.to <= from && from - not.to <= 3 && (not.to..from).all(is_open))
    }

    /// Whether a denial claims nothing.
    pub(super) fn is_set_aside(&self, it: &Candidate) -> bool {
        let subject = &self.subjects[it.subject];
        let span = it.from.min(subject.from)..it.to.max(subject.to);
        let own = self.part(subject.from);
        let part = self.part(it.from);
        let around = part.start.min(own.start)..part.end.max(own.end);
        let is_turned = match it.form {
            DenialForm::Absent => self.is_denied(it.from) || self.is_double(it.from),
            DenialForm::LeftOut => self.is_denied(it.from),
            DenialForm::Free => self.is_denied_around(subject.from, it.to),
            DenialForm::Instead
            | DenialForm::NotUsed
            | DenialForm::Told
            | DenialForm::Contrast
            | DenialForm::AllBut => false,
        };
        // `Mix everything but the butter.`
        let is_order =
            it.form == DenialForm::AllBut && (self.is_work() || self.is_told(&around, it));
        // `do not use gluten-free flour` denies what is free of it.
        let is_free = it.form != DenialForm::Free && self.is("free-suffix", subject.to).is_some();
        is_turned
            || is_order
            || self.do_without(it.from)
            || self.is_of_a_drink(it)
            || self.is_of_life(it, subject)
            || self.is_asked_and_refused(it, subject)
            || self.is_of_another_time(it, subject)
            || self.is_of_what_is_brushed_on(it, subject)
            || self.is_taken_in(it)
            || is_free
            || self.is_so_much(it, subject, &own)
            || self.is_of_a_place(subject, &own)
            || self.is_of_people(it, &around)
            || self.is_other_bread(it, subject, &span)
            || self.is_told_to_do(it, subject, &around)
            || self.is_consequence(it, subject)
            || self.is_of_another(it, &span)
            || self.is_of_clean_part(subject, span.start)
    }

    /// `no more salt`, `no dry flour is left`.
    pub(super) fn is_so_much(&self, it: &Candidate, subject: &Subject, own: &Range<usize>) -> bool {
        let between = it.to.min(subject.from)..subject.from;
        let amount = self.has_amount(it, &between)
            || (!matches!(it.form, DenialForm::Free | DenialForm::AllBut)
                && self.is("amount", subject.to).is_some_and(|to| to <= own.end))
            || (it.form == DenialForm::NotUsed && self.has_amount(it, own));
        let remains = it.form == DenialForm::Absent && self.has("remains", &(subject.to..own.end));
        // `Too little salt? No.`
        let asked = it.form == DenialForm::Told
            && self.has("too-much", &(self.part(subject.from).start..subject.from));
        amount || remains || asked
    }

    /// `The milk is gone in a minute`, `the butter had to go in cold`.
    fn is_taken_in(&self, it: &Candidate) -> bool {
        it.form == DenialForm::LeftOut
            && self.is("into", it.to).is_some()
            && !self.is_break(it.to)
            && it.from >= self.subjects[it.subject].to
    }

    /// `Not more milk` is of an amount, `milk is used no more` is not, nor `n'utilisons plus`.
    fn has_amount(&self, it: &Candidate, within: &Range<usize>) -> bool {
        let inside = |of: &PhraseFound| of.from >= within.start && of.to <= within.end;
        let from_now_on = |of: &PhraseFound| {
            let turns_use = it.form == DenialForm::NotUsed || it.to - it.from > 1;
            turns_use
                && self
                    .sentence
                    .all("word", "any-more")
                    .any(|no| no.from <= of.from && of.to <= no.to)
                && !self.has("than", &(of.to..self.part(of.from).end))
        };
        // `this one` is the bread, and no amount.
        let is_this = |of: &PhraseFound| {
            let before = of.from.checked_sub(1);
            self.is_mark(of.from, &["one"])
                && before.is_some_and(|at| self.is_mark(at, &["this", "that"]))
        };
        // `We've removed every nut` leaves none.
        let is_whole = |of: &PhraseFound| {
            it.form == DenialForm::LeftOut
                && self.is_mark(of.from, &["every", "all"])
                && it.to <= of.from
        };
        let mut amounts =
            self.sentence.all("word", "amount").filter(|of| !is_this(of) && !is_whole(of));
        amounts.any(|of| inside(&of) && !from_now_on(&of))
    }

    /// `no flour on the bench`.
    pub(super) fn is_of_a_place(&self, subject: &Subject, own: &Range<usize>) -> bool {
        let near = subject.to..own.end.min(subject.to + 5);
        let at_work = self.sentence.all("word", "spot").any(|it| near.contains(&it.from));
        at_work && !subject.is_strict()
    }

    /// What people do not eat may be in the bread.
    pub(super) fn is_of_people(&self, it: &Candidate, around: &Range<usize>) -> bool {
        let inside = |who: &PhraseFound| who.from >= around.start && who.to <= around.end;
        let mut who = self.sentence.all("word", "abstain").filter(inside);
        let people = self.has("people", &(around.start..it.to));
        // `avoids` says it of the bread as well.
        who.any(|who| it.form != DenialForm::LeftOut || people || who.from != it.from) && people
    }

    /// Another version, or another bread.
    pub(super) fn is_other_bread(
        &self,
        it: &Candidate,
        subject: &Subject,
        span: &Range<usize>,
    ) -> bool {
        let whole = self.sentence.whole();
        let ends = subject.to.max(it.to);
        (it.form == DenialForm::Free && self.is_of_other(ends))
            || self.is_other_version(span.start.saturating_sub(2)..span.end + 2)
            || self.is_could_be(span.start)
            || self.is("ask", 0).is_some() && !self.is_mark(0, &["sorry", "warning", "caution"])
            || self.sentence.all("word", "other-bread").any(|other| {
                let is_since =
                    it.form == DenialForm::LeftOut && self.is("ago", other.from).is_some();
                // `where others use butter`
                let is_own =
                    it.form == DenialForm::Instead && other.from >= it.from && other.to <= it.to;
                whole.contains(&other.from) && !is_since && !is_own
            })
    }

    /// `could be made without`, `if you leave it out`.
    pub(super) fn is_could_be(&self, from: usize) -> bool {
        self.is_could_be_but(from, &(from..from))
    }

    /// The same, for other words than these: `vegan as can be`.
    pub(super) fn is_could_be_but(&self, from: usize, own: &Range<usize>) -> bool {
        let part = self.part(from);
        // `we make it without`
        let is_told = |it: &PhraseFound| {
            it.from.checked_sub(1).is_some_and(|at| {
                self.is("we", at) == Some(it.from) && self.is_mark(it.from, &["make"])
            })
        };
        // `I would never put eggs in`
        let is_never =
            |it: &PhraseFound| self.is_mark(it.from, &["would"]) && self.is_mark(it.to, &["never"]);
        let is_told = |it: &PhraseFound| is_told(it) || is_never(it);
        let mut coulds = self
            .sentence
            .all("word", "could")
            .filter(|it| !is_told(it) && (own.start > it.from || it.to > own.end));
        let before = coulds.any(|it| it.from >= part.start && it.to <= part.end.max(from + 1));
        let is_if = |it: PhraseFound| {
            let part = self.part(it.from);
            let is_as_if = it.from.checked_sub(1).is_some_and(|at| self.is_mark(at, &["as"]));
            !self.has("if-people", &part) && !is_as_if
        };
        before || self.sentence.all("word", "if").any(is_if)
    }

    /// What somebody is told to do, or to leave for a while.
    pub(super) fn is_told_to_do(
        &self,
        it: &Candidate,
        subject: &Subject,
        around: &Range<usize>,
    ) -> bool {
        let work = self.is_work();
        let may_tell = work || matches!(self.said.place, SaidAt::Note);
        let doing = self.is("doing", it.to).or(self.is("doing", it.to + 1));
        let is_doing =
            it.form == DenialForm::Absent && (doing.is_some() || self.has("doing", around));
        let mut near = subject.to..subject.to + 3;
        // `tastes of butter, yet has none`
        let is_yet = self.is("none-of-it", it.from).is_some();
        // `removed before baking` is gone for good.
        let own = it.from..it.to;
        let is_own = own.clone().any(|at| self.is_mark(at, &["before", "avant", "vor"]));
        let is_yet = is_yet || it.form == DenialForm::LeftOut && own.len() > 2 && is_own;
        let waits = !is_yet && near.any(|at| self.is("for-a-while", at).is_some());
        let whole = self.sentence.whole();
        let later = !is_yet && (self.has("for-a-while", &whole) || self.has_time());
        let told = self.is_told(around, it);
        let prohibited = !subject.is_strict() && self.has("must", around);
        let served = !subject.is_strict() && self.has("serve", &whole);
        let is_food = !subject.is_strict();
        let at_work = work && (told || later || self.is("the", it.to).is_some());
        let in_note = may_tell && (waits || (told && later) || (is_food && (told || later)));
        let is_undone = is_doing && (is_food || told);
        is_undone
            || at_work
            || in_note
            || (it.form == DenialForm::Instead
                && told
                && !self.has("other-bread", &(it.from..it.to)))
            || prohibited
            || served
    }

    /// Whether the words around a denial, or the sentence, tell somebody to do something. In
    /// German the verb may come last.
    pub(super) fn is_told(&self, around: &Range<usize>, it: &Candidate) -> bool {
        let begins = |start: usize| {
            let at = self.is("not", start).unwrap_or(start);
            // The `place` of `in place of` asks for nothing.
            let is_inside =
                |at: usize| it.form == DenialForm::Instead && it.from < at && at < it.to;
            let is_order = |at: usize| self.is("order", at).is_some() && !is_inside(at);
            let german = self.sentence.language.code == "de";
            let is_said = self.has("we", &(start..at + if german { 3 } else { 1 }));
            is_order(start) || !is_said && (is_order(at) || is_order(at + 1))
        };
        let mut orders = self.sentence.all("word", "order");
        let ends = self.sentence.language.code == "de"
            && !self.has("we", around)
            && orders.any(|order| order.from >= it.to && around.contains(&order.from));
        begins(around.start) || begins(0) || ends
    }

    /// `for 5 minutes`.
    pub(super) fn has_time(&self) -> bool {
        let is_time = |it: &&PhraseFound| {
            it.tag.kind == "unit" && matches!(it.tag.word, "min" | "h" | "s")
                || it.tag.kind == "minutes"
        };
        self.sentence.found.iter().any(|it| is_time(&it))
    }

    /// `Without salt the dough tears` is true of every dough.
    pub(super) fn is_consequence(&self, it: &Candidate, subject: &Subject) -> bool {
        let count = self.sentence.tokens.len();
        let after = subject.to + usize::from(self.is_mark(subject.to, &[","]));
        let goes_on = after + 2 <= count && !self.is_break(after);
        let is_list = self.is("joint", after).is_some() || self.is("absent", after).is_some();
        // `Without the egg they brown less`: the egg is there.
        let is_definite = self.is("the", it.to).is_some();
        // `Without butter, the crumb would be drier.`
        let would = || self.has("could", &(after..count));
        let is_so = subject.is_staple() || is_definite || would();
        let begins = self.is_plain(it.from) && it.from == 0 && is_so;
        begins && goes_on && !is_list
    }

    /// `No yeast survives above 60 °C` speaks of all yeast.
    fn is_of_life(&self, it: &Candidate, subject: &Subject) -> bool {
        it.form == DenialForm::Absent
            && subject.is_staple()
            && self.is("lives", subject.to).is_some()
    }

    /// `Use a wheat-free bench? No need.`
    fn is_asked_and_refused(&self, it: &Candidate, subject: &Subject) -> bool {
        let is_free = it.form == DenialForm::Free || self.is("free-suffix", subject.to).is_some();
        is_free && self.is_refused_question(it.to.max(subject.to))
    }

    /// Whether a question goes on from a word, and is answered by no.
    pub(super) fn is_refused_question(&self, to: usize) -> bool {
        let end = (to..self.sentence.tokens.len()).find(|&at| self.is_break(at));
        let Some(mark) = end.filter(|&at| at > to && self.is_mark(at, &["?"])) else {
            return false;
        };
        let after = mark + 1;
        let end = (after..).find(|&at| self.is_break(at)).unwrap_or(after);
        let words = self.sentence.tokens.get(after..end).unwrap_or_default();
        self.is("needless", after).is_some() || !words.is_empty() && is_answer(words)
    }

    /// `Serve with coffee, no milk`: the drink is without it.
    fn is_of_a_drink(&self, it: &Candidate) -> bool {
        self.has("serve", &self.sentence.whole()) && self.has("drink", &(0..it.from))
    }

    /// `I once left out the sugar`, and nothing more.
    fn is_of_another_time(&self, it: &Candidate, subject: &Subject) -> bool {
        it.form == DenialForm::LeftOut
            && self.has("another-time", &(0..it.from))
            && self.is_break(it.to.max(subject.to))
    }

    /// `There is no egg wash`, where nothing with egg, milk or fat goes onto the pieces.
    fn is_of_what_is_brushed_on(&self, it: &Candidate, subject: &Subject) -> bool {
        let words = it.from.min(subject.from)..(it.to.max(subject.to) + 1);
        let says = self.has("brushed-on", &words) && self.is("brushed-on", it.from).is_none();
        let may_be = |part: &&DeniedOf| {
            let holds = |it: &&Ingredient| {
                matches!(it.class, Class::Egg | Class::Dairy | Class::Fat | Class::Nut)
            };
            part.kind == "component" && (!part.is_known || part.holds.iter().any(holds))
        };
        matches!(it.form, DenialForm::Absent | DenialForm::NotUsed)
            && says
            && !self.parts.iter().any(|part| may_be(&part))
    }
}
