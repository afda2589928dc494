//! Denials that are said of another bread: one on another page, one that somebody may want,
//! one for those who have no milk in the house.

use super::reading::{Candidate, DenialForm, DenialReading};
use std::ops::Range;

impl DenialReading<'_> {
    /// Whether a denial in some words is said of another bread.
    pub(super) fn is_of_another(&self, it: &Candidate, span: &Range<usize>) -> bool {
        self.is_elsewhere(span)
            || self.is_wanted(span)
            || self.is_lacking_at_home(it, span)
            || self.is_of_a_version(span.start)
            || self.is_than(span.start)
            || !self.subjects[it.subject].is_strict() && self.is_likened(span.start)
    }

    /// `for the vegan loaf see page 3`, `le pain végan est à la page 3`; not `this vegan
    /// loaf`, nor `vegan, see page 3`.
    pub(super) fn is_elsewhere(&self, span: &Range<usize>) -> bool {
        let part = self.part(span.start);
        self.has("page", &self.sentence.whole())
            && self.bread_beside(span).is_some_and(|bread| {
                let before = part.start..bread.start.min(span.start);
                !self.has("this-one", &before) && before.len() <= 6
            })
    }

    /// The bread that the words stand beside: `milk-free bread`, `pain sans lait`.
    fn bread_beside(&self, span: &Range<usize>) -> Option<Range<usize>> {
        let rows = ["piece", "bread", "version"];
        let after = rows.iter().find_map(|row| self.is(row, span.end));
        let before = || rows.iter().find_map(|row| self.sentence.word_before(row, span.start));
        after.map(|to| span.end..to).or_else(|| before().map(|from| from..span.start))
    }

    /// `for a milk-free bread take oil`: what to do follows, and not of this one.
    pub(super) fn is_wanted(&self, span: &Range<usize>) -> bool {
        const NEAR: usize = 4;
        let part = self.part(span.start);
        let mut fors = self.sentence.all("word", "for");
        let is_for = fors
            .any(|it| it.from == part.start && it.to <= span.start && span.start - it.to <= NEAR);
        let rest = span.end..self.sentence.tokens.len();
        is_for
            && self.bread_beside(span).is_some()
            && self.has("order", &rest)
            && !self.has("this-one", &rest)
            && !self.has("serve", &rest)
    }

    /// `No milk? Use water`, `no butter in the house? Margarine will do`.
    fn is_lacking_at_home(&self, it: &Candidate, span: &Range<usize>) -> bool {
        const NEAR: usize = 4;
        let near = span.end..(span.end + NEAR + 1);
        let mut marks = near.filter(|&at| self.is_mark(at, &["?"]));
        let Some(mark) = marks.next() else { return false };
        let rest = mark + 1..self.sentence.tokens.len();
        let is_told = ["order", "could"].iter().any(|row| self.has(row, &rest));
        matches!(it.form, DenialForm::Absent | DenialForm::LeftOut)
            && span.start <= 1
            && !rest.is_empty()
            && is_told
    }

    /// `the version without eggs`; not `this version without eggs`.
    pub(super) fn is_of_a_version(&self, from: usize) -> bool {
        self.sentence.word_before("version", from).is_some_and(|version| {
            let part = self.part(version);
            !self.has("this-one", &(part.start..version)) && version > part.start
        })
    }

    /// `Like bread without yeast, it takes long`; not `like all our bread without yeast`.
    fn is_likened(&self, from: usize) -> bool {
        const NEAR: usize = 4;
        let part = self.part(from);
        const DOUGHS: [&str; 7] = ["dough", "doughs", "teig", "teige", "pâte", "masa", "impasto"];
        let dough = || {
            let at = from.checked_sub(1)?;
            self.is_mark(at, &DOUGHS).then_some(at)
        };
        let bread = || {
            let rows = ["piece", "bread"];
            rows.iter().find_map(|row| self.sentence.word_before(row, from)).or_else(dough)
        };
        let after = self.is("likened", part.start);
        after.zip(bread()).is_some_and(|(after, bread)| {
            after <= bread && bread - after <= NEAR && !self.has("this-one", &(after..bread))
        })
    }

    /// `richer than any bun without butter`.
    fn is_than(&self, from: usize) -> bool {
        const NEAR: usize = 4;
        let bread =
            || ["piece", "bread"].iter().find_map(|row| self.sentence.word_before(row, from));
        let mut thans = self.sentence.all("word", "than");
        bread().is_some_and(|bread| thans.any(|it| it.to <= bread && bread - it.to <= NEAR))
    }
}
