//! From a formula's steps, stage builds and feeds to its graph.

use super::graph::{
    Batch, Doing, Folds, Graph, Hands, Stretch, apart, hands, is_hands_on, is_waiting, minutes,
    room, usual_minutes,
};
use crate::formula::{House, LineRef, Within, Worked, known};
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{
    Flag, Fold, Method, Name, Phase, Stage, StageKind, Step, Verb, Wait, With,
};
use ecow::EcoString;
use std::ops::Range;

/// Minutes at their shortest, and at their longest where that has an end.
type Length = (Exact, Option<Exact>);

/// Points of a formula that are laid out in time.
pub const MAX_POINTS: usize = 4000;

/// The graph of a formula; none where it has no method, or one with too many steps.
pub fn graph(house: &House, worked: &Worked) -> Option<Graph> {
    draft(house, worked, true)
}

/// The same with one load of the oven: a day puts each load on a deck by itself.
pub fn graph_of_one_load(house: &House, worked: &Worked) -> Option<Graph> {
    draft(house, worked, false)
}

fn draft(house: &House, worked: &Worked, all_loads: bool) -> Option<Graph> {
    let method = worked.formula.method.as_ref().filter(|method| !method.steps.is_empty())?;
    let mut draft = Draft {
        house,
        worked,
        all_loads,
        points: 0,
        stretches: Vec::new(),
        moments: Vec::new(),
        folds: Vec::new(),
        wait: None,
        ripe: vec![None; worked.formula.stages.len()],
    };
    for &stage in &worked.order {
        draft.stage(stage);
    }
    let (_, end) = draft.method(method, None, true);
    (draft.points <= MAX_POINTS).then(|| draft.close(end))
}

struct Draft<'a, 't> {
    house: &'a House<'t>,
    worked: &'a Worked<'t>,
    /// Whether the loads of an oven follow each other.
    all_loads: bool,
    points: usize,
    stretches: Vec<Stretch>,
    moments: Vec<usize>,
    folds: Vec<Folds>,
    /// The last wait of the dough so far.
    wait: Option<usize>,
    /// Of each stage the point from which its last leg runs.
    ripe: Vec<Option<Built>>,
}

/// A stage that is put together and has yet to ripen for its last leg.
#[derive(Clone, Copy)]
struct Built {
    at: usize,
    feed: u32,
    /// The stretch from there to its use, where it has to be used at once.
    at_once: Option<usize>,
}

/// Minutes of hands that nobody wrote, and whether they are the step's own length rather than
/// the first minutes of the wait after it.
struct Untold {
    work: Exact,
    is_own: bool,
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
        self.stretches.push(Stretch { to, ..plain(from, (low, high), doing, hands, span) });
        to
    }

    fn tie(&mut self, from: usize, to: usize, high: Option<Exact>, doing: Doing, span: Span) {
        let loose = high.is_none();
        let tie = plain(from, (Exact::ZERO, high), doing, Hands::Off, span);
        self.stretches.push(Stretch { to, loose, ..tie });
    }

    /// Hands from a point on for as long as such work usually takes, beside what follows;
    /// the point where they are done.
    fn usual_work(&mut self, from: usize, minutes: Exact, doing: Doing, span: Span) -> usize {
        let done = self.stretch(from, (minutes.clone(), Some(minutes)), doing, Hands::On, span);
        if let Some(last) = self.stretches.last_mut() {
            last.usual = true;
        }
        done
    }

    /// A stage is fed as often as it says, each feed when the one before is ripe.
    fn stage(&mut self, index: usize) {
        let stage = &self.worked.formula.stages[index];
        let feeds = self.worked.first().stages.get(index).map_or(1, |stage| stage.feeds.max(1));
        let mut begin = None;
        for feed in 0..feeds {
            if self.points > MAX_POINTS {
                break;
            }
            // What a stage takes of others is made for its last feed.
            let last = feed + 1 == feeds;
            let (from, built) = self.feed(stage, index, feed, last);
            if let Some(before) = begin {
                self.ripe[index] = Some(before);
                self.use_of(index, from);
            }
            if last {
                self.uses_at_the_start(index, from);
            }
            begin = Some(Built { at: built, feed, at_once: None });
        }
        self.ripe[index] = begin;
    }

    /// Where a feed begins and where it is put together.
    fn feed(&mut self, stage: &Stage, index: usize, feed: u32, last: bool) -> (usize, usize) {
        if let Some(method) = stage.method.as_ref().filter(|method| !method.steps.is_empty()) {
            return self.method(method, Some(index), last);
        }
        let from = self.point();
        let work = usual_minutes(built_by(stage)).unwrap_or_default();
        let is_part = self.waits_as_long_as(stage, &work);
        let done =
            self.usual_work(from, work, Doing::Build { stage: index, feed }, stage.name.span);
        // The minutes in which it is mixed are the first of its ripening, as the trade
        // counts them; of what goes in at once they come before.
        (from, if is_part { from } else { done })
    }

    /// Whether a stage ripens or stands at least so long, so that what hands do at its
    /// beginning is over when it is used.
    fn waits_as_long_as(&self, stage: &Stage, work: &Exact) -> bool {
        let waits = stage.ripens.iter().chain(&stage.stands);
        let times = waits.filter_map(|wait| wait.time.as_ref());
        let least = times.map(|time| minutes(self.house, time).0);
        least.fold(Exact::ZERO, |sum, low| sum + low) >= *work
    }

    /// What a stage without a method takes of other stages goes in where it is built;
    /// with one, its steps say where.
    fn uses_at_the_start(&mut self, index: usize, at: usize) {
        if self.worked.formula.stages[index].method.is_some() {
            return;
        }
        let mut inner: Vec<usize> = Vec::new();
        for line in &self.worked.first().stages[index].lines {
            if let LineRef::Stage(stage) = line.goes
                && !inner.contains(&stage)
            {
                inner.push(stage);
            }
        }
        inner.into_iter().for_each(|stage| self.use_of(stage, at));
    }

    /// A stage ripens, is kept perhaps, and is used.
    fn use_of(&mut self, index: usize, at: usize) {
        let Some(built) = self.ripe[index] else { return };
        let stage = &self.worked.formula.stages[index];
        let waits = if stage.ripens.is_empty() { &stage.stands } else { &stage.ripens };
        let mut from = built.at;
        for (leg, wait) in waits.iter().enumerate() {
            let doing = Doing::Ripen { stage: index, feed: built.feed, leg };
            let nothing = (Exact::ZERO, Some(Exact::ZERO));
            let length = wait.time.as_ref().map_or(nothing, |time| minutes(self.house, time));
            if leg > 0 {
                self.moments.push(from);
            }
            from = self.stretch(from, length, doing, Hands::Off, wait.span);
            if let Some(last) = self.stretches.last_mut() {
                last.untimed = wait.time.is_none();
            }
        }
        let most = |wait: &Wait| wait.time.as_ref().and_then(|time| minutes(self.house, time).1);
        let keeps: Vec<(Option<Exact>, bool, Span)> =
            stage.keeps.iter().map(|wait| (most(wait), wait.at.is_some(), wait.span)).collect();
        let Some((last, before)) = keeps.split_last() else {
            // Where a wait has no time, nothing but the order is known.
            let timed = waits.is_empty() || waits.iter().any(|wait| wait.time.is_some());
            let most = timed.then_some(Exact::ZERO);
            let doing = Doing::Keep { stage: index, leg: 0 };
            if waits.is_empty() {
                return self.use_at_once(index, at, doing);
            }
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

    /// What neither ripens nor stands goes in as soon as it is mixed; where it goes into several
    /// mixes at different times, it has to wait for the later ones.
    fn use_at_once(&mut self, index: usize, at: usize, doing: Doing) {
        let Some(built) = self.ripe[index] else { return };
        let before = built.at_once.and_then(|tie| self.stretches.get_mut(tie));
        let most = if before.is_some() { None } else { Some(Exact::ZERO) };
        if let Some(before) = before.filter(|before| before.to != at) {
            (before.high, before.loose) = (None, true);
        }
        let tie = self.stretches.len();
        self.tie(built.at, at, most, doing, self.worked.formula.stages[index].name.span);
        self.ripe[index] = Some(Built { at_once: Some(tie), ..built });
    }

    /// Where a stage goes into several batches, the last of them begun at a point and at least
    /// so much after the first, it has to keep until then: if what is written allows that.
    fn keeps_until(&mut self, index: usize, last: usize, later: &Exact) {
        let Some(built) = self.ripe[index] else { return };
        let stage = &self.worked.formula.stages[index];
        let ripens = if stage.ripens.is_empty() { &stage.stands } else { &stage.ripens };
        let length = |wait: &Wait| wait.time.as_ref().map(|time| minutes(self.house, time));
        let (mut least, mut most) = (Exact::ZERO, Exact::ZERO);
        for (wait, ripens) in
            ripens.iter().map(|it| (it, true)).chain(stage.keeps.iter().map(|it| (it, false)))
        {
            let Some((low, Some(high))) = length(wait) else { return };
            least += if ripens { low } else { Exact::ZERO };
            most += high;
        }
        if !ripens.is_empty() && least + later <= most {
            self.tie(built.at, last, Some(most), Doing::Order, stage.name.span);
        }
    }

    /// The steps of a method one after the other: where they begin and end.
    fn method(&mut self, method: &Method, stage: Option<usize>, uses: bool) -> (usize, usize) {
        let within = stage.map_or(Within::FinalDough, Within::Stage);
        let additions = self.worked.additions(method, within);
        let begin = self.point();
        let mut at = begin;
        let mut heated = Vec::new();
        let takes = |index: usize| {
            let mut used: Vec<usize> = Vec::new();
            for added in additions.steps.get(index).into_iter().flatten().filter(|_| uses) {
                if let (false, LineRef::Stage(inner)) = (added.beside, added.line.goes)
                    && !used.contains(&inner)
                {
                    used.push(inner);
                }
            }
            used
        };
        let mut next = 0;
        while let Some(step) = method.steps.get(next).filter(|_| self.points <= MAX_POINTS) {
            if in_oven(step.verb) {
                for oven in heated.drain(..) {
                    self.preheat(&method.steps[oven], oven, stage, at);
                }
            }
            let run = self.in_one_bowl(method, next, stage);
            next = run.end;
            let heats = |index: &usize| method.steps[*index].verb == Verb::Preheat;
            let (ovens, own): (Vec<usize>, Vec<usize>) = run.partition(heats);
            heated.extend(ovens);
            let own: Vec<(usize, Vec<usize>)> =
                own.into_iter().map(|index| (index, takes(index))).collect();
            at = self.run(method, &own, stage, at);
        }
        (begin, at)
    }

    /// An oven is heated beside other work, so that it is hot when something goes in.
    fn preheat(&mut self, step: &Step, index: usize, stage: Option<usize>, hot: usize) {
        let mut from = self.point();
        self.moments.push(from);
        if step.phases.iter().any(|phase| phase.duration.is_none()) {
            let doing = Doing::Step { stage, step: index, phase: 0 };
            let time = known("usual plans", "preheat");
            let length = (time.clone(), Some(time));
            let stretch = plain(from, length, doing, Hands::Off, step.verb_span);
            self.stretches.push(Stretch { to: hot, usual: true, ..stretch });
            return;
        }
        for (number, phase) in step.phases.iter().enumerate() {
            let Some(time) = &phase.duration else { continue };
            let to = if number + 1 == step.phases.len() { hot } else { self.point() };
            let doing = Doing::Step { stage, step: index, phase: number };
            let length = minutes(self.house, time);
            let stretch = plain(from, length, doing, Hands::Off, time.span);
            self.stretches.push(Stretch { to, ..stretch });
            from = to;
        }
    }

    /// The steps for which a batch of the dough stays in its bowl: from where it goes in up to
    /// its last mixing, with the short rests between; of what is in no bowl, one step.
    fn in_one_bowl(&self, method: &Method, first: usize, stage: Option<usize>) -> Range<usize> {
        let steps = || method.steps.iter().skip(first);
        let goes_in = |step: &Step| matches!(step.verb, Verb::Mix | Verb::Autolyse);
        let is_mixed = stage.is_none() && steps().next().is_some_and(goes_in);
        if !is_mixed || self.worked.batches() < 2 {
            return first..first + 1;
        }
        let stays = steps().take_while(|step| self.stays_in_bowl(step)).count();
        let last = steps().take(stays).rposition(|step| step.verb == Verb::Mix);
        first..first + last.unwrap_or(0) + 1
    }

    /// Whether the dough stays in the bowl of its mixer: it rests there for a short while, but
    /// nobody folds it there, nor moves it to another place.
    fn stays_in_bowl(&self, step: &Step) -> bool {
        let is_here = |phase: &Phase| {
            let place = phase.place.as_ref();
            let is_mixer = |place: &Name| self.house.mixer_named(&place.key).is_some();
            let leaves = phase.fold.is_some() || phase.says(Flag::ByHand);
            !leaves && place.is_none_or(is_mixer)
        };
        match step.verb {
            Verb::Mix | Verb::Preheat => true,
            Verb::Autolyse | Verb::Rest | Verb::Step => {
                step.phases.iter().all(is_here)
                    && self.least(&step.phases) <= known("usual plans", "bowl rest")
            }
            _ => false,
        }
    }

    /// Steps after each other, each with the stages that go in: those where the phase begins
    /// that names them. A dough that is mixed in batches goes through all of them for each.
    fn run(
        &mut self,
        method: &Method,
        steps: &[(usize, Vec<usize>)],
        stage: Option<usize>,
        begin: usize,
    ) -> usize {
        let own: Vec<&Step> =
            steps.iter().filter_map(|(index, _)| method.steps.get(*index)).collect();
        let batches = self.batches(&own, stage);
        if let (Some(Batch { in_oven: true, of, .. }), [bake]) =
            (batches.first().copied().flatten(), own.as_slice())
        {
            self.later_loads_wait(of, &bake.phases);
        }
        let mut at = begin;
        let mut begins: Vec<Vec<Vec<usize>>> = Vec::new();
        for batch in batches {
            let mut each = Vec::new();
            for (index, _) in steps {
                let (end, own) = self.of_batch(method, *index, stage, (at, batch));
                each.push(own);
                at = end;
            }
            begins.push(each);
        }
        let later = own.iter().map(|step| self.least(&step.phases));
        let later = later.fold(Exact::ZERO, |sum, low| sum + low)
            * Exact::from(begins.len().saturating_sub(1));
        for (place, (step, (_, used))) in own.iter().zip(steps).enumerate() {
            let point = |batch: Option<&Vec<Vec<usize>>>, phase: usize| {
                batch?.get(place)?.get(phase).copied()
            };
            for &inner in used {
                let key = &self.worked.formula.stages[inner].name.key;
                for phase in phases_that_take(step, key) {
                    self.use_of(inner, point(begins.first(), phase).unwrap_or(begin));
                    if let (true, Some(last)) = (begins.len() > 1, point(begins.last(), phase)) {
                        self.keeps_until(inner, last, &later);
                    }
                }
            }
        }
        at
    }

    /// A step, or what one batch takes of it: where it ends, and where each phase begins.
    fn of_batch(
        &mut self,
        method: &Method,
        index: usize,
        stage: Option<usize>,
        (begin, batch): (usize, Option<Batch>),
    ) -> (usize, Vec<usize>) {
        let step = &method.steps[index];
        let untold = self.untold_work(method, index, stage);
        let (end, own) = self.phases(step, (stage, index), begin, (batch, untold.as_ref()));
        self.told_work(step, (stage, index), (begin, end), batch);
        if let Some(Untold { work, is_own: false }) = untold {
            self.usual_work(begin, work, Doing::Moment { stage, step: index }, step.verb_span);
            if let Some(last) = self.stretches.last_mut() {
                last.batch = batch;
            }
        }
        (end, own)
    }

    /// The phases of a step, of some of its batches: where they end, and where each begins.
    fn phases(
        &mut self,
        step: &Step,
        (stage, index): (Option<usize>, usize),
        begin: usize,
        (batch, untold): (Option<Batch>, Option<&Untold>),
    ) -> (usize, Vec<usize>) {
        let (mut at, mut begins) = (begin, Vec::new());
        let hands = hands(step);
        let own = untold.filter(|untold| untold.is_own);
        for (number, phase) in step.phases.iter().enumerate() {
            begins.push(at);
            if hands != Hands::On {
                self.moments.push(at);
            }
            let usual = own.filter(|_| number == 0);
            let nothing = usual.map_or(Exact::ZERO, |untold| untold.work.clone());
            let time = phase.duration.as_ref();
            let (low, high) = match self.length(phase) {
                Some(length) => length,
                None => (nothing.clone(), Some(nothing)),
            };
            let times = batch.map_or(Exact::ONE, |it| Exact::from(it.last - it.first + 1));
            let length = (low * &times, high.map(|high| high * &times));
            let doing = Doing::Step { stage, step: index, phase: number };
            let span = time.map_or(step.verb_span, |time| time.span);
            let from = at;
            let whole = self.stretches.len();
            at = self.stretch(from, length, doing, hands, span);
            if let Some(last) = self.stretches.last_mut() {
                last.up_to = time.is_some_and(|time| time.ranged && time.low.is_none());
                last.untimed = time.is_none() && is_waiting(step);
                last.usual = usual.is_some();
                last.batch = batch;
            }
            if stage.is_none() && is_waiting(step) && !in_oven(step.verb) && time.is_some() {
                self.wait = Some(whole);
            }
            if let Some(fold) = &phase.fold {
                self.folds(fold, whole, (stage, index, number));
            }
        }
        (at, begins)
    }

    /// The later loads of an oven wait in the step before: the first one goes in early enough
    /// for that to end within what the step may take, as far as it can. What goes beyond it
    /// a plan tells.
    fn later_loads_wait(&mut self, loads: u32, phases: &[Phase]) {
        let Some(bake) = self.longest(phases) else { return };
        let later = bake * Exact::from(loads.saturating_sub(1));
        let Some(wait) = self.wait.and_then(|wait| self.stretches.get_mut(wait)) else { return };
        wait.high = wait.high.take().map(|high| (high - later).max(wait.low.clone()));
    }

    /// The batches that a dough is mixed in, or the loads that it is baked in, one after the other,
    /// where there are several; those of very many together.
    fn batches(&self, steps: &[&Step], stage: Option<usize>) -> Vec<Option<Batch>> {
        let is_timed = |step: &Step| step.phases.iter().any(|phase| phase.duration.is_some());
        let timed = || steps.iter().filter(|step| stage.is_none() && is_timed(step));
        let baked = timed().find(|step| in_oven(step.verb) && self.all_loads);
        let in_oven = baked.is_some();
        let of = match baked {
            Some(step) => self.worked.loads_of(step).map_or(1, |(_, loads)| loads),
            None if timed().any(|step| step.verb == Verb::Mix) => self.worked.batches(),
            None => 1,
        };
        match of {
            0 | 1 => vec![None],
            2..=MAX_BATCHES => {
                let one = |it| Some(Batch { in_oven, first: it, last: it, of });
                (1..=of).map(one).collect()
            }
            _ => vec![Some(Batch { in_oven, first: 1, last: of, of })],
        }
    }

    /// Minutes of hands that a step says apart from its own.
    fn told_work(
        &mut self,
        step: &Step,
        (stage, index): (Option<usize>, usize),
        (from, to): (usize, usize),
        batch: Option<Batch>,
    ) {
        let Some(time) = step.hands_on.as_ref().filter(|_| hands(step) != Hands::On) else {
            return;
        };
        let doing = Doing::Moment { stage, step: index };
        let length = minutes(self.house, time);
        let longest = self.longest(&step.phases);
        let fits = longest.is_none_or(|longest| length.0 <= longest);
        let done = self.stretch(from, length, doing, Hands::On, time.span);
        if let Some(last) = self.stretches.last_mut() {
            last.batch = batch;
        }
        // Hands that take longer than the step go on beside the next one.
        if fits {
            self.tie(done, to, None, Doing::Order, time.span);
        }
    }

    /// What puts a stage together, and a fold that is a step, takes hands a while also
    /// where nobody wrote how long: the first minutes of a wait that follows, else its own.
    fn untold_work(&self, method: &Method, index: usize, stage: Option<usize>) -> Option<Untold> {
        let step = &method.steps[index];
        let is_told = step.hands_on.is_some() || step.phases.iter().any(|it| it.duration.is_some());
        let verb = match (step.verb, stage) {
            (Verb::Mix, Some(_)) => Verb::Build,
            (Verb::Mix, None) => return None,
            (verb, _) => verb,
        };
        if verb == Verb::Autolyse {
            return self.stirring(step);
        }
        let work = usual_minutes(verb).filter(|_| !is_told && is_hands_on(step))?;
        let mut later = method.steps.iter().skip(index + 1);
        let is_part = match (later.find(|it| it.verb != Verb::Preheat), stage) {
            (Some(next), _) => {
                let first = next.phases.first().and_then(|phase| phase.duration.as_ref());
                let waits = hands(next) == Hands::Off && next.hands_on.is_none();
                waits && first.is_some_and(|time| minutes(self.house, time).0 >= work)
            }
            (None, Some(stage)) => self.waits_as_long_as(&self.worked.formula.stages[stage], &work),
            (None, None) => false,
        };
        Some(Untold { work, is_own: !is_part })
    }

    /// Minutes of a phase, for all the pieces where it takes them by the piece.
    fn length(&self, phase: &Phase) -> Option<Length> {
        let (low, high) = minutes(self.house, phase.duration.as_ref()?);
        let times = self.worked.times_as_long(phase);
        Some((low * &times, high.map(|high| high * times)))
    }

    /// What goes in at an autolyse is stirred together in its first minutes.
    fn stirring(&self, step: &Step) -> Option<Untold> {
        let stirs = step.phases.iter().any(|phase| !phase.with.is_empty());
        let work = usual_minutes(step.verb).filter(|_| stirs && step.hands_on.is_none())?;
        (!step.waiting && self.least(&step.phases) >= work)
            .then_some(Untold { work, is_own: false })
    }

    /// The least that some phases take together.
    fn least(&self, phases: &[Phase]) -> Exact {
        let times = phases.iter().filter_map(|phase| self.length(phase));
        times.fold(Exact::ZERO, |sum, (low, _)| sum + low)
    }

    /// The longest that some phases take together; none where one is open-ended.
    fn longest(&self, phases: &[Phase]) -> Option<Exact> {
        let each = phases.iter().map(|phase| match self.length(phase) {
            Some((_, high)) => high,
            None => Some(Exact::ZERO),
        });
        each.collect::<Option<Vec<_>>>()
            .map(|all| all.into_iter().fold(Exact::ZERO, |sum, one| sum + one))
    }

    /// Folds of a phase, each ended before the dough leaves; those that its longest time has
    /// no room for are left out.
    fn folds(
        &mut self,
        fold: &Fold,
        whole: usize,
        (stage, step, phase): (Option<usize>, usize, usize),
    ) {
        let Some(of) = self.stretches.get(whole).cloned() else { return };
        // Folds of laminated dough are the work itself.
        if fold.style.is_some() || of.high.as_ref().is_some_and(Exact::is_zero) {
            return;
        }
        let work = usual_minutes(Verb::Fold).unwrap_or_default();
        let every = fold.every.as_ref().map(|every| minutes(self.house, every));
        let evenly = every.is_none();
        let times = fold.times.unwrap_or(1).min(MAX_FOLDS);
        let times = match &every {
            Some((every, _)) => {
                let fits = |number: &u32| {
                    let end = every * Exact::from(*number);
                    !every.is_zero() && of.high.as_ref().is_none_or(|most| end <= *most)
                };
                (1..=times).take_while(fits).count()
            }
            None => {
                let fits = |number: &u32| {
                    let hands = &work * Exact::from(*number);
                    of.high.as_ref().is_none_or(|most| hands < *most)
                };
                (1..=times).take_while(fits).count()
            }
        };
        if times == 0 {
            return;
        }
        let (length, last) = match every {
            None => {
                let apart = apart(&of, times, &work);
                (apart.clone(), apart)
            }
            Some(every) => written(&every, of.high.as_ref(), times, &work),
        };
        let (mut at, mut ways, mut done) = (of.from, Vec::new(), of.from);
        for number in 1..=times {
            ways.push(self.stretches.len());
            let doing = Doing::Fold { stage, step, phase };
            let length = if number == times { &last } else { &length };
            at = self.stretch(at, length.clone(), doing, Hands::Off, fold.span);
            let doing = Doing::Folding { stage, step, phase };
            done = self.usual_work(at, work.clone(), doing, fold.span);
        }
        self.tie(done, of.to, None, Doing::Order, fold.span);
        self.folds.push(Folds { phase: whole, ways, work, evenly });
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
            folds: self.folds,
        }
    }
}

/// A stretch of which its length is all that is known.
fn plain(
    from: usize,
    (low, high): (Exact, Option<Exact>),
    doing: Doing,
    hands: Hands,
    span: Span,
) -> Stretch {
    let (loose, up_to, usual, untimed) = (false, false, false, false);
    let (to, retimed, batch) = (from, None, None);
    Stretch {
        from,
        to,
        low,
        high,
        loose,
        up_to,
        doing,
        hands,
        usual,
        untimed,
        retimed,
        batch,
        span,
    }
}

/// How far folds stand apart as it is written, and the last one from the one before: it
/// ends before the dough leaves.
fn written(
    (low, high): &Length,
    most: Option<&Exact>,
    times: usize,
    work: &Exact,
) -> (Length, Length) {
    let Some(most) = most else {
        return ((low.clone(), high.clone()), (low.clone(), high.clone()));
    };
    let left = most - work - low * Exact::from(times.saturating_sub(1));
    let up_to = |room: Exact| high.as_ref().map(|high| high.clone().min(room));
    let even = room(most, times, work).max(low.clone());
    let last = low.clone().min(left.clone()).max(Exact::ZERO);
    (
        (low.clone(), up_to(even.clone())),
        (last.clone(), up_to(left.min(even)).map(|it| it.max(last))),
    )
}

/// Whether something goes into the oven.
fn in_oven(verb: Verb) -> bool {
    matches!(verb, Verb::Bake | Verb::Steam)
}

/// The work by which a stage is put together.
fn built_by(stage: &Stage) -> Verb {
    match stage.kind {
        _ if stage.feeds.is_some() => Verb::Feed,
        StageKind::Preferment | StageKind::Build => Verb::Build,
        StageKind::Soaker => Verb::Soak,
        StageKind::Scald => Verb::Scald,
    }
}

/// Folds of one phase that are looked at.
const MAX_FOLDS: u32 = 20;

/// Batches that a plan tells one by one.
const MAX_BATCHES: u32 = 24;

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
