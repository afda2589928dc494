//! A step while it is read.

use super::seen_clauses::SeenClauses;
use super::words::ByContext;
use crate::source::Span;
use crate::syntax::tree::{Phase, Step, Text, Verb};

/// A step while it is read.
pub struct Stepping {
    /// The step so far.
    pub step: Step,
    /// The phase that is being read.
    pub phase: Phase,
    /// The clauses of the phase that were said.
    pub said: SeenClauses,
    /// The clauses of the whole step that were said.
    pub said_of_step: SeenClauses,
    /// `3min each side`: it is done once more, turned over.
    pub each_side: Option<Span>,
    /// A speed in words has had its finding.
    pub told_speed: bool,
    /// Whether the clauses stand in braces, where no other step can follow.
    pub in_braces: bool,
    /// What is said of tools and vessels, which becomes the step's note.
    pub aside: Vec<String>,
}

/// A verb whose meaning depends on the steps around it.
pub struct SaidVerb {
    /// The number of its step.
    pub step: usize,
    /// How the context decided.
    pub how: ByContext,
    /// Of the words that were read so; empty where the verb is written in.
    pub span: Span,
    /// What is written behind the verb, which stands elsewhere.
    pub behind: String,
    /// Where it is of another language and has to be told, its words.
    pub abroad: Option<Span>,
}

impl Stepping {
    /// Ends the phase, and begins the next one behind `then`.
    pub fn next_phase(&mut self, end: Span, start: Span) {
        let next = Phase { span: start, ..Phase::default() };
        let mut phase = std::mem::replace(&mut self.phase, next);
        phase.span = phase.span.to(end);
        self.step.phases.push(phase);
        self.said.clear();
    }
}

/// A step of which only the verb is read.
pub fn empty_step(verb: Verb, text: Option<Text>, verb_span: Span) -> Step {
    Step {
        verb,
        said: None,
        text,
        phases: Vec::new(),
        notes: Vec::new(),
        cautions: Vec::new(),
        hands_on: None,
        waiting: false,
        allow: Vec::new(),
        span: verb_span,
        verb_span,
    }
}
