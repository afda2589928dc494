//! Steps, stage builds and feeds as points in time with stretches between them.
//!
//! A step begins where the one before it ends. A stage is built beside other work; what
//! ties it to the step that uses it is its ripening, and how long it keeps.

use crate::formula::{House, known, limit};
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{Extent, Step, Verb};

/// What fills a stretch of time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Doing {
    /// A phase of a step: the stage whose method it is of (none: the dough's), the
    /// number of the step and of the phase.
    Step {
        /// The stage whose method it is of; none for the dough's.
        stage: Option<usize>,
        /// The step, from zero.
        step: usize,
        /// The phase of the step, from zero.
        phase: usize,
    },
    /// Hands within a step that waits otherwise.
    Moment {
        /// The stage whose method it is of; none for the dough's.
        stage: Option<usize>,
        /// The step, from zero.
        step: usize,
    },
    /// Up to a fold, from the beginning of the phase or from the fold before.
    Fold {
        /// The stage whose method it is of; none for the dough's.
        stage: Option<usize>,
        /// The step, from zero.
        step: usize,
        /// The phase of the step, from zero.
        phase: usize,
    },
    /// Hands at a fold.
    Folding {
        /// The stage whose method it is of; none for the dough's.
        stage: Option<usize>,
        /// The step, from zero.
        step: usize,
        /// The phase of the step, from zero.
        phase: usize,
    },
    /// A stage is put together; which feed it is, counted from zero.
    Build {
        /// By its place in the formula.
        stage: usize,
        /// From zero.
        feed: u32,
    },
    /// One leg of the wait until a stage is ripe.
    Ripen {
        /// By its place in the formula.
        stage: usize,
        /// The feed that ripens, from zero.
        feed: u32,
        /// From zero.
        leg: usize,
    },
    /// A ripe stage waits to be used; one leg of it.
    Keep {
        /// By its place in the formula.
        stage: usize,
        /// From zero.
        leg: usize,
    },
    /// Nothing fills it: one point is not before the other.
    Order,
}

/// Whether somebody has to be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hands {
    /// Hands are at work all the time.
    On,
    /// Nobody works, but somebody is awake: something is in the oven or on the stove.
    Watched,
    /// Nobody needs to be there once it has begun.
    Off,
}

/// A stretch between two points, in exact minutes.
#[derive(Clone, Debug)]
pub struct Stretch {
    /// The point it begins at.
    pub from: usize,
    /// The point it ends at.
    pub to: usize,
    /// The least that it takes, in minutes.
    pub low: Exact,
    /// None where it is open-ended.
    pub high: Option<Exact>,
    /// Whether an open end is one that nobody wrote: it counts as nothing in a sum.
    pub loose: bool,
    /// Whether only its longest is said: `..40min`.
    pub up_to: bool,
    /// What fills it.
    pub doing: Doing,
    /// Who has to be there.
    pub hands: Hands,
    /// Whether nobody wrote its length: it is what such work usually takes.
    pub usual: bool,
    /// Whether it waits and nobody wrote how long: it counts as nothing.
    pub untimed: bool,
    /// What it was before a model gave it another length.
    pub retimed: Option<Retimed>,
    /// Which batches of the dough are mixed in it, or loads baked, where there are several.
    pub batch: Option<Batch>,
    /// Where its length is written.
    pub span: Span,
}

/// Some of the batches of a dough, which go through the mixer one after the other, or of the
/// loads of pieces, which go through the oven so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Batch {
    /// Whether they are loads of an oven.
    pub in_oven: bool,
    /// The number of the first and of the last one, from 1.
    pub first: u32,
    /// The number of the last of them.
    pub last: u32,
    /// How many there are in all.
    pub of: u32,
}

/// What a length was before a model gave it another.
#[derive(Clone, Debug)]
pub struct Retimed {
    /// Minutes as they were written.
    pub written: (Exact, Option<Exact>),
    /// Degrees Celsius that it is timed for now, where they are others than written.
    pub at: Option<Exact>,
}

impl Stretch {
    /// The length it would best have: the middle of its range; what is open-ended or only
    /// keeps is best short.
    pub fn best(&self) -> Option<Exact> {
        match (&self.doing, &self.high) {
            (Doing::Order | Doing::Fold { .. }, _) => None,
            (Doing::Keep { .. }, _) | (_, None) => Some(self.low.clone()),
            // Who says no less than nothing means about as much as they say.
            (_, Some(high)) if self.up_to => Some(high.clone()),
            (_, Some(high)) => Some((&self.low + high).one_in::<2>()),
        }
    }
}

/// A formula in time.
#[derive(Clone, Debug)]
pub struct Graph {
    /// How many there are.
    pub points: usize,
    /// In the order in which they were made.
    pub stretches: Vec<Stretch>,
    /// Where the bread is ready.
    pub end: usize,
    /// Points at which somebody has to be there, though nothing takes time there.
    pub moments: Vec<usize>,
    /// Points before which nothing stands.
    pub sources: Vec<usize>,
    /// Folds that a wait has in it.
    pub folds: Vec<Folds>,
}

/// The folds of one phase.
#[derive(Clone, Debug)]
pub struct Folds {
    /// The stretch of the phase.
    pub phase: usize,
    /// The stretches that lead to each fold; the next one begins where hands begin to fold.
    pub ways: Vec<usize>,
    /// Minutes that hands take for one.
    pub work: Exact,
    /// Whether nobody wrote how often, so that they part the phase evenly.
    pub evenly: bool,
}

impl Folds {
    /// How far the folds may stand apart in a phase, where nobody wrote it.
    pub fn apart(&self, phase: &Stretch) -> (Exact, Option<Exact>) {
        apart(phase, self.ways.len(), &self.work)
    }

    /// The most that they may stand apart in a phase so long, and end within it.
    pub fn room(&self, minutes: &Exact) -> Exact {
        room(minutes, self.ways.len(), &self.work)
    }

    /// Minutes from the beginning of a phase so long to each of its folds: evenly over it,
    /// but several folds of a long wait stand at its beginning.
    pub fn parting(&self, minutes: &Exact) -> Vec<Exact> {
        let count = Exact::from(self.ways.len() + 1);
        let apart = match self.ways.len() > 1 && *minutes > long_wait() {
            true => known("usual plans", "folds apart"),
            false => minutes.each_of(&count),
        };
        (1..=self.ways.len()).map(|number| &apart * Exact::from(number)).collect()
    }
}

/// Whether hands are at work by default in a step, unless it says otherwise.
pub fn is_hands_on(step: &Step) -> bool {
    if step.waiting {
        return false;
    }
    step.hands_on.is_some() || !waits_by_itself(step.verb)
}

/// Whether what a verb says happens without hands.
pub fn waits_by_itself(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Autolyse
            | Verb::Rest
            | Verb::Bulk
            | Verb::Proof
            | Verb::Retard
            | Verb::Chill
            | Verb::Freeze
            | Verb::Preheat
            | Verb::Bake
            | Verb::Steam
            | Verb::Cool
            | Verb::Mature
            | Verb::Soak
    )
}

/// Whether a step waits, as its verb does by default or as it says.
pub fn is_waiting(step: &Step) -> bool {
    step.waiting || waits_by_itself(step.verb)
}

/// What hands do in a step of a verb that says nothing of them.
pub fn usual_hands(verb: Verb) -> Hands {
    match verb {
        Verb::Bake | Verb::Steam => Hands::Watched,
        _ if waits_by_itself(verb) => Hands::Off,
        _ => Hands::On,
    }
}

/// Whether somebody has to be there at a step.
pub fn hands(step: &Step) -> Hands {
    match step.verb {
        Verb::Bake | Verb::Steam => Hands::Watched,
        // Some minutes of it are said apart.
        _ if step.hands_on.is_some() => Hands::Off,
        _ if is_hands_on(step) => Hands::On,
        _ => Hands::Off,
    }
}

/// The times of an extent in minutes; nothing where it is not said.
pub fn minutes(house: &House, extent: &Extent) -> (Exact, Option<Exact>) {
    let base = |end: &Option<_>| end.as_ref().map(|end| house.base(end));
    let (low, high) = (base(&extent.low), base(&extent.high));
    match (low, high) {
        (Some(one), None) if !extent.ranged => (one.clone(), Some(one)),
        (low, high) => (low.unwrap_or_default(), high),
    }
}

/// How far folds that nobody gave a time may stand apart, so that hands can be there: where
/// a plan has them is settled when the length of their phase is. One alone may be anywhere
/// but in the minute in which the phase begins.
pub fn apart(phase: &Stretch, times: usize, work: &Exact) -> (Exact, Option<Exact>) {
    let half = phase.low.clone().min(long_wait()).each_of(&Exact::from(2 * (times + 1)));
    let low = if times > 1 { half } else { Exact::ONE };
    let most = |length: &Exact| room(length, times, work);
    let low = low.max(Exact::ONE);
    match &phase.high {
        Some(high) => (low.min(most(high)), Some(most(high))),
        None => (low, None),
    }
}

/// The most that so many folds may stand apart, so that the last ends within a wait.
pub fn room(minutes: &Exact, times: usize, work: &Exact) -> Exact {
    (minutes - work).max(Exact::ZERO).each_of(&Exact::from(times))
}

/// Minutes that hands usually take for what is written without a time: a store of ours
/// says so for some verbs.
pub fn usual_minutes(verb: Verb) -> Option<Exact> {
    limit("usual hands", verb.word()).and_then(|range| range.high.clone().or(range.low.clone()))
}

/// Minutes of a wait up to which folds without a time part it evenly.
fn long_wait() -> Exact {
    known("usual plans", "long wait")
}
