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
    /// A ripe stage waits to be used; one leg of it.
    Keep { stage: usize, leg: usize },
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
    /// Whether only its longest is said: `..40min`.
    pub up_to: bool,
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
            // Who says no less than nothing means about as much as they say.
            (_, Some(high)) if self.up_to => Some(high.clone()),
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
        _ if step.hands_on.is_some() => Hands::Off,
        _ if is_hands_on(step) => Hands::On,
        _ => Hands::Off,
    }
}

/// Points of a formula that are laid out in time.
pub const MOST_POINTS: usize = 4000;

/// The graph of a formula; none where it has no method, or one with too many steps.
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
    let (_, end) = draft.method(method, None, true);
    (draft.points <= MOST_POINTS).then(|| draft.close(end))
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
        let (loose, up_to) = (false, false);
        self.stretches.push(Stretch { from, to, low, high, loose, up_to, doing, hands, span });
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
            up_to: false,
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
            if self.points > MOST_POINTS {
                break;
            }
            // What a stage takes of others is made for its last feed.
            let last = feed + 1 == feeds;
            let (from, built) = self.feed(stage, index, feed, last);
            if let Some(before) = begin {
                self.use_of(index, before, from);
            }
            if last {
                self.uses_at_the_start(index, from);
            }
            begin = Some(Built { at: built, feed });
        }
        self.ripe[index] = begin;
    }

    /// Where a feed begins and where it is put together.
    fn feed(&mut self, stage: &Stage, index: usize, feed: u32, last: bool) -> (usize, usize) {
        if let Some(method) = stage.method.as_ref().filter(|method| !method.steps.is_empty()) {
            return self.method(method, Some(index), last);
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
        let most = |wait: &Wait| wait.time.as_ref().and_then(|time| minutes(self.house, time).1);
        let keeps: Vec<(Option<Exact>, bool, Span)> =
            stage.keeps.iter().map(|wait| (most(wait), wait.at.is_some(), wait.span)).collect();
        let Some((last, before)) = keeps.split_last() else {
            // Where no time is said at all, nothing but the order is known.
            let timed = waits.iter().any(|wait| wait.time.is_some());
            let most = timed.then_some(Exact::ZERO);
            let doing = Doing::Keep { stage: index, leg: 0 };
            return self.tie(from, at, most, doing, stage.name.span);
        };
        for (leg, (most, moved, span)) in before.iter().enumerate() {
            if *moved {
                self.moments.push(from);
            }
            let length = (Exact::ZERO, most.clone());
            let doing = Doing::Keep { stage: index, leg };
            from = self.stretch(from, length, doing, Hands::Off, *span);
        }
        let (most, moved, span) = last;
        if *moved {
            self.moments.push(from);
        }
        self.tie(from, at, most.clone(), Doing::Keep { stage: index, leg: before.len() }, *span);
    }

    /// The steps of a method one after the other: where they begin and end.
    fn method(&mut self, method: &Method, stage: Option<usize>, uses: bool) -> (usize, usize) {
        let within = stage.map_or(Within::FinalDough, Within::Stage);
        let additions = self.worked.additions(self.house, method, within);
        let begin = self.point();
        let mut at = begin;
        for (index, step) in method.steps.iter().enumerate() {
            if self.points > MOST_POINTS {
                break;
            }
            let mut used: Vec<usize> = Vec::new();
            for added in additions.steps.get(index).into_iter().flatten().filter(|_| uses) {
                if let (false, Goes::Stage(inner)) = (added.beside, added.line.goes)
                    && !used.contains(&inner)
                {
                    used.push(inner);
                }
            }
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
            if let (Some(last), Some(time)) = (self.stretches.last_mut(), time) {
                last.up_to = time.ranged && time.low.is_none();
            }
            if let Some(fold) = &phase.fold {
                let doing = Doing::Fold { stage, step: index, phase: number };
                self.folds(fold, from, at, &length, &doing);
            }
        }
        if let (Some(time), Some(&first)) = (&step.hands_on, begins.first())
            && hands != Hands::On
        {
            let doing = Doing::Moment { stage, step: index };
            let length = minutes(self.house, time);
            let longest = self.longest(&step.phases);
            let fits = longest.is_none_or(|longest| length.0 <= longest);
            let done = self.stretch(first, length, doing, Hands::On, time.span);
            // Hands that take longer than the step go on beside the next one.
            if fits {
                self.tie(done, at, None, Doing::Order, time.span);
            }
        }
        for &inner in used {
            let phases = phases_that_take(step, &self.worked.formula.stages[inner].name.key);
            for phase in phases {
                let to = begins.get(phase).copied().unwrap_or(begin);
                if let Some(built) = self.ripe[inner] {
                    self.use_of(inner, built, to);
                }
            }
        }
        at
    }

    /// The longest that some phases take together; none where one is open-ended.
    fn longest(&self, phases: &[Phase]) -> Option<Exact> {
        let each = phases.iter().map(|phase| match &phase.duration {
            Some(time) => minutes(self.house, time).1,
            None => Some(Exact::ZERO),
        });
        each.collect::<Option<Vec<_>>>()
            .map(|all| all.into_iter().fold(Exact::ZERO, |sum, one| sum + one))
    }

    /// Folds are moments within a phase; those beyond its longest time are left out. Where
    /// nothing says how often, they part the phase into equal stretches.
    fn folds(
        &mut self,
        fold: &Fold,
        begin: usize,
        end: usize,
        length: &(Exact, Option<Exact>),
        doing: &Doing,
    ) {
        // Folds of laminated dough are the work itself.
        if fold.style.is_some() {
            return;
        }
        let times = fold.times.unwrap_or(1).min(MOST_FOLDS);
        let most = length.1.as_ref();
        let (low, high) = match &fold.every {
            Some(every) => minutes(self.house, every),
            // Over a long wait dough is folded at its beginning: every 45 min, common
            // practice, no source.
            None if most.is_none_or(|most| *most > Exact::from(LONG_WAIT)) => {
                (Exact::from(USUAL_FOLD), Some(Exact::from(USUAL_FOLD)))
            }
            None => {
                let part = |end: &Exact| end / Exact::from(times + 1);
                (part(&length.0), most.map(part))
            }
        };
        if low.is_zero() {
            return;
        }
        let mut at = begin;
        for number in 1..=times {
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
        let mut is_reached = vec![false; self.points];
        self.stretches.iter().for_each(|stretch| is_reached[stretch.to] = true);
        let sources = (0..self.points).filter(|&point| !is_reached[point]).collect();
        Graph {
            points: self.points,
            stretches: self.stretches,
            end,
            moments: self.moments,
            sources,
        }
    }
}

/// Minutes of a wait in which folds without a time stand apart evenly, and how far apart
/// they stand in a longer one.
const LONG_WAIT: u16 = 360;
const USUAL_FOLD: u16 = 45;

/// Folds of one phase that are looked at.
const MOST_FOLDS: u32 = 20;

/// The phases of a step that take a stage by its name; else the one that takes all else.
fn phases_that_take(step: &Step, key: &EcoString) -> Vec<usize> {
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
    let phases = step.phases.iter().enumerate();
    let named: Vec<usize> =
        phases.filter(|(_, phase)| names(phase)).map(|(number, _)| number).collect();
    match named.is_empty() {
        true => vec![step.phases.iter().position(rest).unwrap_or(0)],
        false => named,
    }
}
