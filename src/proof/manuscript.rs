//! What is read, and what was found in it.

use super::instructions::Placeholder;
use crate::diag::Rule;
use crate::formula::House;
use crate::source::{SourceId, Span};
use crate::syntax::tree::Formula;

/// A number of a manuscript that was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NumberRead {
    /// Where it stands.
    pub span: Span,
    /// As it is written.
    pub written: String,
    /// The formula that it was held against; none where it is tied to none.
    pub formula: Option<String>,
}

/// What was read of a manuscript.
#[derive(Clone, Debug, Default)]
pub struct Heard {
    /// Its numbers, in order.
    pub numbers: Vec<NumberRead>,
    /// What `weave` puts in places of it, each with the inside of its comment.
    pub placeholders: Vec<(Placeholder, Span)>,
}

/// A manuscript and what it may be about.
pub struct Manuscript<'m, 't> {
    /// The number of its text among the sources of the run.
    pub source: SourceId,
    /// All of it.
    pub text: &'m str,
    /// The house that it belongs to.
    pub house: &'t House<'t>,
    /// Every formula of the house, its own among them.
    pub formulas: &'m [&'t Formula],
    /// Every rule there is, for what may be allowed.
    pub rules: &'m [&'static Rule],
    /// The letters in a drawing that a text shows, by the number of the text and the name of the
    /// file; none where it can't be read.
    pub letters: &'m (dyn Fn(SourceId, &str) -> Option<String> + Sync),
}

impl Manuscript<'_, '_> {
    /// The place of some bytes.
    pub fn span(&self, range: std::ops::Range<usize>) -> Span {
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Span::new(self.source, byte(range.start), byte(range.end))
    }
}
