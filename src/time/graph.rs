//! Steps, stage builds and feeds as points in time with stretches between them.
//!
//! A step begins where the one before it ends. A stage is built beside other work; what
//! ties it to the step that uses it is its ripening, and how long it keeps.

use crate::formula::{Goes, House, Within, Worked};
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{Extent, Fold, Method, Phase, Stage, Step, Verb, Wait, With};
use ecow::EcoString;

/// What fills a stretch of time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Doing {
    /// A phase of a step: the stage whose method it is of (none: the dough's), the
    /// number of the step and of the phase.
    Step { stage: Option<usize>, step: usize, phase: usize },
    /// Hands within a step that waits otherwise.
    Moment { stage: Option<usize>, step: usize },
    /// Up to a fold, from the beginning of the phase or from the fold before.
    Fold { stage: Option<usize>, step: usize, phase: usize },
    /// A stage is put together; which feed it is, counted from zero.
    Build { stage: usize, feed: u32 },
    /// One leg of the wait until a stage is ripe.
    Ripen { stage: usize, feed: u32, leg: usize },
    /// A ripe stage waits to be used.
    Keep { stage: usize },
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
    pub from: usize,
    pub to: usize,
    pub low: Exact,
    /// None where it is open-ended.
    pub high: Option<Exact>,
    /// Whether an open end is one that nobody wrote: it counts as nothing in a sum.
    pub loose: bool,
    pub doing: Doing,
    pub hands: Hands,
    /// Where its length is written.
    pub span: Span,
}

impl Stretch {
    /// The length it would best have: the middle of its range; what is open-ended or only
    /// keeps is best short.
    pub fn best(&self) -> Option<Exact> {
        match (&self.doing, &self.high) {
            (Doing::Order | Doing::Fold { .. }, _) => None,
            (Doing::Keep { .. }, _) | (_, None) => Some(self.low.clone()),
            (_, Some(high)) => Some((&self.low + high) / Exact::from(2u8)),
        }
    }
}

/// A formula in time.
#[derive(Clone, Debug)]
pub struct Graph {
    pub points: usize,
    pub stretches: Vec<Stretch>,
    /// Where the bread is ready.
    pub end: usize,
    /// Points at which somebody has to be there, though nothing takes time there.
    pub moments: Vec<usize>,
    /// Points before which nothing stands.
    pub sources: Vec<usize>,
}

/// Whether hands are at work by default in a step, unless it says otherwise.
pub fn is_hands_on(step: &Step) -> bool {
    if step.waiting {
        return false;
    }
    step.hands_on.is_some() || !waits_by_itself(step.verb)
}

fn waits_by_itself(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Autolyse
            | Verb::Rest
            | Verb::Bulk
            | Verb::Proof
            | Verb::Retard
            | Verb::Chill
            | Verb::Freeze
            | Verb::Bake
            | Verb::Steam
            | Verb::Cool
            | Verb::Mature
            | Verb::Soak
    )
}

fn hands(step: &Step) -> Hands {
    match step.verb {
        Verb::Bake | Verb::Steam => Hands::Watched,
        // Some minutes of it are said apart.
        _ if step.hands_on.is_some() && waits_by_itself(step.verb) => Hands::Off,
        _ if is_hands_on(step) => Hands::On,
        _ => Hands::Off,
    }
}

/// The graph of a formula; none where it has no method.
pub fn graph(house: &House, worked: &Worked) -> Option<Graph> {
    let method = worked.formula.method.as_ref().filter(|method| !method.steps.is_empty())?;
    let mut draft = Draft {
        house,
        worked,
        points: 0,
        stretches: Vec::new(),
        moments: Vec::new(),
        ripe: vec![None; worked.formula.stages.len()],
    };
    for &stage in &worked.order {
        draft.stage(stage);
    }
    let (_, end) = draft.method(method, None);
    Some(draft.close(end))
}

/// The times of an extent in minutes; nothing where it is not said.
pub fn minutes(house: &House, extent: &Extent) -> (Exact, Option<Exact>) {
    let value = |quantity: &crate::syntax::tree::Quantity| {
        quantity.unit.to_base(&quantity.number, house.settings.measures)
    };
    let (low, high) = (extent.low.as_ref().map(value), extent.high.as_ref().map(value));
    match (low, high) {
        (Some(one), None) if !extent.ranged => (one.clone(), Some(one)),
        (low, high) => (low.unwrap_or_default(), high),
    }
}

struct Draft<'a, 't> {
    house: &'a House<'t>,
    worked: &'a Worked<'t>,
    points: usize,
    stretches: Vec<Stretch>,
    moments: Vec<usize>,
    /// Of each stage the point from which its last leg runs.
    ripe: Vec<Option<Built>>,
}

/// A stage that is put together and has yet to ripen for its last leg.
#[derive(Clone, Copy)]
struct Built {
    at: usize,
    feed: u32,
}

impl Draft<'_, '_> {
    fn point(&mut self) -> usize {
        self.points += 1;
        self.points - 1
    }

    /// A stretch from a point to a new one.
    fn stretch(
        &mut self,
        from: usize,
        (low, high): (Exact, Option<Exact>),
        doing: Doing,
        hands: Hands,
        span: Span,
    ) -> usize {
        let to = self.point();
        self.stretches.push(Stretch { from, to, low, high, loose: false, doing, hands, span });
        to
    }

    fn tie(&mut self, from: usize, to: usize, high: Option<Exact>, doing: Doing, span: Span) {
        let loose = high.is_none();
        self.stretches.push(Stretch {
            from,
            to,
            low: Exact::ZERO,
            high,
            loose,
            doing,
            hands: Hands::Off,
            span,
        });
    }

    /// A stage is fed as often as it says, each feed when the one before is ripe.
    fn stage(&mut self, index: usize) {
        let stage = &self.worked.formula.stages[index];
        let feeds = self.worked.first().stages.get(index).map_or(1, |stage| stage.feeds.max(1));
        let mut begin = None;
        for feed in 0..feeds {
            let (from, built) = self.feed(stage, index, feed);
            if let Some(before) = begin {
                self.use_of(index, before, from);
            } else {
                self.uses_at_the_start(index, from);
            }
            begin = Some(Built { at: built, feed });
        }
        self.ripe[index] = begin;
    }

    /// Where a feed begins and where it is put together.
    fn feed(&mut self, stage: &Stage, index: usize, feed: u32) -> (usize, usize) {
        if let Some(method) = stage.method.as_ref().filter(|method| !method.steps.is_empty()) {
            return self.method(method, Some(index));
        }
        let from = self.point();
        self.moments.push(from);
        let nothing = (Exact::ZERO, Some(Exact::ZERO));
        let doing = Doing::Build { stage: index, feed };
        (from, self.stretch(from, nothing, doing, Hands::On, stage.name.span))
    }

    /// What a stage without a method takes of other stages goes in where it is built;
    /// with one, its steps say where.
    fn uses_at_the_start(&mut self, index: usize, at: usize) {
        if self.worked.formula.stages[index].method.is_some() {
            return;
        }
        let mut inner: Vec<usize> = Vec::new();
        for line in &self.worked.first().stages[index].lines {
            if let Goes::Stage(stage) = line.goes
                && !inner.contains(&stage)
            {
                inner.push(stage);
            }
        }
        for stage in inner {
            if let Some(built) = self.ripe[stage] {
                self.use_of(stage, built, at);
            }
        }
    }

    /// A stage ripens, is kept perhaps, and is used.
    fn use_of(&mut self, index: usize, built: Built, at: usize) {
        let stage = &self.worked.formula.stages[index];
        let waits = if stage.ripens.is_empty() { &stage.stands } else { &stage.ripens };
        let mut from = built.at;
        for (leg, wait) in waits.iter().enumerate() {
            let Some(time) = &wait.time else { continue };
            let doing = Doing::Ripen { stage: index, feed: built.feed, leg };
            let length = minutes(self.house, time);
            if leg > 0 {
                self.moments.push(from);
            }
            from = self.stretch(from, length, doing, Hands::Off, wait.span);
        }
        let (keeps, span) = keeping(self.house, stage);
        let moved = stage.keeps.iter().any(|wait| wait.at.is_some());
        if moved {
            self.moments.push(from);
        }
        // Where no time is said at all, nothing but the order is known.
        let timed = waits.iter().any(|wait| wait.time.is_some());
        let most = if timed || !stage.keeps.is_empty() { keeps } else { None };
        self.tie(from, at, most, Doing::Keep { stage: index }, span);
    }

    /// The steps of a method one after the other: where they begin and end.
    fn method(&mut self, method: &Method, stage: Option<usize>) -> (usize, usize) {
        let within = stage.map_or(Within::FinalDough, Within::Stage);
        let additions = self.worked.additions(self.house, method, within);
        let begin = self.point();
        let mut at = begin;
        for (index, step) in method.steps.iter().enumerate() {
            let used: Vec<usize> = additions.steps.get(index).map_or_else(Vec::new, |added| {
                let stages = added.iter().filter(|added| !added.beside);
                let stages = stages.filter_map(|added| match added.line.goes {
                    Goes::Stage(inner) => Some(inner),
                    _ => None,
                });
                stages.collect()
            });
            at = self.step(step, index, stage, at, &used);
        }
        (begin, at)
    }

    /// A step's phases; stages go in where the phase begins that names them.
    fn step(
        &mut self,
        step: &Step,
        index: usize,
        stage: Option<usize>,
        begin: usize,
        used: &[usize],
    ) -> usize {
        let mut at = begin;
        let hands = hands(step);
        let mut begins = Vec::new();
        for (number, phase) in step.phases.iter().enumerate() {
            begins.push(at);
            if hands != Hands::On {
                self.moments.push(at);
            }
            let nothing = (Exact::ZERO, Some(Exact::ZERO));
            let time = phase.duration.as_ref();
            let length = time.map_or(nothing, |time| minutes(self.house, time));
            let doing = Doing::Step { stage, step: index, phase: number };
            let span = time.map_or(step.verb_span, |time| time.span);
            let from = at;
            at = self.stretch(from, length.clone(), doing, hands, span);
            if let Some(fold) = &phase.fold {
                let doing = Doing::Fold { stage, step: index, phase: number };
                self.folds(fold, from, at, length.1.as_ref(), &doing);
            }
        }
        if let (Some(time), Some(&first)) = (&step.hands_on, begins.first())
            && hands != Hands::On
        {
            let doing = Doing::Moment { stage, step: index };
            let length = minutes(self.house, time);
            let done = self.stretch(first, length, doing, Hands::On, time.span);
            self.tie(done, at, None, Doing::Order, time.span);
        }
        for &inner in used {
            let phase = phase_that_takes(step, &self.worked.formula.stages[inner].name.key);
            let to = begins.get(phase).copied().unwrap_or(begin);
            if let Some(built) = self.ripe[inner] {
                self.use_of(inner, built, to);
            }
        }
        at
    }

    /// Folds are moments within a phase; those beyond its longest time are left out.
    fn folds(
        &mut self,
        fold: &Fold,
        begin: usize,
        end: usize,
        most: Option<&Exact>,
        doing: &Doing,
    ) {
        let Some(every) = &fold.every else { return };
        let (low, high) = minutes(self.house, every);
        let mut at = begin;
        for number in 1..=fold.times.unwrap_or(1).min(MOST_FOLDS) {
            let earliest = &low * Exact::from(number);
            if most.is_some_and(|most| earliest > *most) {
                break;
            }
            at =
                self.stretch(at, (low.clone(), high.clone()), doing.clone(), Hands::Off, fold.span);
            self.moments.push(at);
        }
        if at != begin {
            self.tie(at, end, None, Doing::Order, fold.span);
        }
    }

    fn close(self, end: usize) -> Graph {
        let begins = |point: &usize| !self.stretches.iter().any(|stretch| stretch.to == *point);
        let sources = (0..self.points).filter(begins).collect();
        Graph {
            points: self.points,
            stretches: self.stretches,
            end,
            moments: self.moments,
            sources,
        }
    }
}

/// Folds of one phase that are looked at.
const MOST_FOLDS: u32 = 20;

/// How long a ripe stage keeps, and where that is written.
fn keeping(house: &House, stage: &Stage) -> (Option<Exact>, Span) {
    let mut most = Some(Exact::ZERO);
    for Wait { time, .. } in &stage.keeps {
        let high = time.as_ref().and_then(|time| minutes(house, time).1);
        most = most.zip(high).map(|(sum, more)| sum + more);
    }
    (most, stage.keeps.first().map_or(stage.name.span, |wait| wait.span))
}

/// The phase of a step that takes a stage by its name; else the first one.
fn phase_that_takes(step: &Step, key: &EcoString) -> usize {
    let names = |phase: &Phase| {
        phase.with.iter().any(|with| match with {
            With::Name(target)
            | With::Share(_, target)
            | With::Weight(_, target)
            | With::Remaining(target) => target.name.key == *key,
            With::Flours(_) | With::EverythingElse(_) => false,
        })
    };
    let rest =
        |phase: &Phase| phase.with.iter().any(|with| matches!(with, With::EverythingElse(_)));
    let named = step.phases.iter().position(names);
    named.or_else(|| step.phases.iter().position(rest)).unwrap_or(0)
}
