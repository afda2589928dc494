//! What a plan says: of each thing that is begun, of times that a model gave, and of what it
//! leaves to others.

#![allow(
    clippy::disallowed_types,
    reason = "places, colours and resolutions on paper are no weights"
)]

use super::build::yield_text;
use super::context::PrintContext;
use super::document::PhasePart;
use super::live::base;
use super::plan_document::Planned;
use super::timeline::{method_of, place};
use super::words::{self, capital};
use super::{cautions, live, method};
use crate::quantity::display::minutes_range;
use crate::quantity::{Exact, Unit, int};
use crate::syntax::tree::{Extent, Quantity, Step, Verb, WordsKind};
use crate::time::clock::MINUTE;
use crate::time::{
    Batch, Because, Changed, Doing, Estimate, Graph, Retiming, Stretch, cold, is_waiting,
};

/// What a stretch is called in a sentence: `Levain, Ripen`.
pub fn called(paper: &PrintContext, stretch: &Stretch) -> Option<String> {
    if let Doing::Folding { stage, .. } = stretch.doing {
        let fold = paper.words.say("step-fold");
        let stage = stage.and_then(|stage| paper.worked.formula.stages.get(stage));
        return Some(
            stage.map_or(fold.clone(), |it| capital(&format!("{}, {fold}", it.name.shown))),
        );
    }
    let place = place(paper, stretch)?;
    let step = match place.stage {
        Some(stage) => {
            format!("{}, {}", paper.worked.formula.stages[stage].name.shown, place.title)
        }
        None => place.title,
    };
    Some(capital(&step))
}

/// `Bulk: 3–4 h at 25 °C are taken as 2 h 30 min – 3 h 40 min at 28 °C, by the growth of
/// sourdough yeast`.
pub fn estimates(paper: &PrintContext, one: &Planned) -> Vec<String> {
    let Retiming { asked, estimates, kept } = one.retiming;
    if *asked && estimates.is_empty() && kept.is_empty() {
        return vec![paper.words.say("estimate-none")];
    }
    each_once(estimates.iter().filter_map(|it| estimate(paper, one.graph, it)))
}

/// What is true of several batches is told once.
fn each_once(told: impl Iterator<Item = String>) -> Vec<String> {
    let mut once: Vec<String> = Vec::new();
    for words in told {
        if !once.contains(&words) {
            once.push(words);
        }
    }
    once
}

fn estimate(paper: &PrintContext, graph: &Graph, estimate: &Estimate) -> Option<String> {
    let words = paper.words;
    let length = |(low, high): &(Exact, Option<Exact>)| match high {
        Some(high) => minutes_range(low, high),
        None => words.fill("at-least", &[("amount", &words::minutes(low))]),
    };
    let known = estimate.model.range();
    let exact = |celsius: f64| Exact::try_from(celsius).unwrap_or_default();
    let percent = |share: &Exact| paper.percent(share, 1);
    let (id, from, to) = match &estimate.changed {
        Changed::Warmth { from, to } => ("estimate", paper.degrees(from), paper.degrees(to)),
        Changed::Seed { from, to } => ("estimate-seed", percent(from), percent(to)),
    };
    let told = words.fill(
        id,
        &[
            ("step", called(paper, graph.stretches.get(estimate.stretch)?)?.as_str()),
            ("written", &length(&estimate.before)),
            ("at", &from),
            ("now", &length(&estimate.now)),
            ("room", &to),
            ("model", &words.say(&format!("model-{}", estimate.model.key()))),
            ("range", &paper.degrees_range(&exact(known.lowest), &exact(known.highest))),
        ],
    );
    Some(match &estimate.course {
        Some((start, minutes)) => {
            let (start, time) = (paper.degrees(start), words::minutes(minutes));
            let args = [("estimate", told.as_str()), ("start", &start), ("time", &time)];
            words.fill("estimate-course", &args)
        }
        None => told,
    })
}

/// What keeps its written time, though it stands in what was changed.
fn kept(paper: &PrintContext, one: &Planned) -> Vec<String> {
    let told = one.retiming.kept.iter().filter_map(|kept| {
        let id = match kept.because {
            Because::Culture => "kept-culture",
            Because::NoTemperature => "kept-no-temperature",
            Because::Frozen => "kept-frozen",
        };
        let step = called(paper, one.graph.stretches.get(kept.stretch)?)?;
        let cold = paper.degrees(&cold());
        Some(paper.words.fill(id, &[("step", step.as_str()), ("temperature", &cold)]))
    });
    told.collect()
}

/// What the plan leaves to others, and whether it was searched to the end.
pub fn notes(paper: &PrintContext, one: &Planned, hours: bool) -> Vec<String> {
    let carried = paper.worked.side_mixes.iter().filter(|side_mix| side_mix.is_formula);
    let carried =
        carried.map(|side_mix| paper.words.fill("plan-beside", &[("name", &side_mix.shown)]));
    let proven = (!one.plan.proven).then(|| paper.words.say("plan-not-proven"));
    let awake = (!hours).then(|| paper.words.say("plan-no-hours"));
    let untimed = one.graph.stretches.iter().filter(|stretch| stretch.untimed);
    let untimed = untimed.filter_map(|stretch| {
        Some(paper.words.fill("plan-untimed", &[("step", &called(paper, stretch)?)]))
    });
    let kept = kept(paper, one).into_iter();
    let all = carried
        .chain(batches(paper, one))
        .chain(first_batch_waits(paper, one))
        .chain(loads(paper, one))
        .chain(at_once(paper, one.graph))
        .chain(kept)
        .chain(untimed)
        .chain(proven)
        .chain(awake);
    each_once(all)
}

/// `spiral holds 20 kg, so 54 kg of dough are mixed in 3 batches of 18 kg, one after the other: 3
/// × 10 min = 30 min`, as the sheet weighs them.
fn batches(paper: &PrintContext, one: &Planned) -> Option<String> {
    let (mixer, most) = paper.worked.batch_mixer()?;
    let count = paper.worked.batches();
    if count < 2 {
        return None;
    }
    let sheet = PrintContext::new(paper.house, paper.worked, paper.words, count, false);
    let weight = |grams: &Exact| {
        let weight = sheet.head_weight(grams);
        format!("{} {}", weight.shown, weight.unit)
    };
    let dough = paper.worked.first().whole.mass();
    let (batch, dough) = (weight(&dough.each_of(&Exact::from(count))), weight(&dough));
    let (most, count) = (weight(&most), count.to_string());
    let mut args = vec![
        ("mixer", mixer.name.shown.as_str()),
        ("most", &most),
        ("dough", &dough),
        ("batch", &batch),
        ("count", &count),
    ];
    let bowls = bowls(one);
    let ahead = bowls.last().and_then(|bowl| ahead(bowl));
    let (Some(sum), Some(ahead)) = (sum(&minutes_of(&bowls.concat())), ahead) else {
        return Some(paper.words.fill("plan-batches-untimed", &args));
    };
    let ahead = words::minutes(&int(ahead));
    args.extend([("sum", sum.as_str()), ("ahead", &ahead)]);
    Some(paper.words.fill("plan-batches", &args))
}

/// Minutes by which the first batch leaves the bowl before the last one.
fn ahead(bowl: &[(&Stretch, i64)]) -> Option<i64> {
    let each = minutes_of(bowl);
    Some(each.iter().sum::<i64>() - each.first()?)
}

/// How much longer the dough waits for the first batch than is written, where the last one
/// begins to wait so much later.
fn first_batch_waits(paper: &PrintContext, one: &Planned) -> Vec<String> {
    let told = bowls(one).into_iter().filter_map(|bowl| {
        let (last, _) = bowl.last()?;
        let after = one.graph.stretches.iter().skip_while(|it| it.to != last.to).skip(1);
        let wait = after.take_while(|it| it.batch.is_none()).find(|it| waits(paper, it))?;
        let (over, most) = past(paper, one, wait, ahead(&bowl)?)?;
        let (over, most) = (words::minutes(&over), words::minutes(&most));
        let step = called(paper, wait)?;
        let args = [("step", step.as_str()), ("over", &over), ("most", &most)];
        Some(paper.words.fill("plan-batches-over", &args))
    });
    told.collect()
}

/// Whether a stretch is a wait of the dough, as long as its author wrote it.
fn waits(paper: &PrintContext, stretch: &Stretch) -> bool {
    let Doing::Step { stage: None, step, .. } = stretch.doing else { return false };
    let mut steps = paper.worked.formula.method.iter().flat_map(|method| &method.steps);
    let step = steps.nth(step);
    let bakes = |step: &Step| matches!(step.verb, Verb::Bake | Verb::Steam | Verb::Preheat);
    step.is_some_and(|step| is_waiting(step) && !bakes(step)) && !stretch.untimed
}

/// The most minutes that a wait may take as it is written; none where that has no end, or a
/// model gave it another length.
fn written_most(paper: &PrintContext, wait: &Stretch) -> Option<Exact> {
    let Doing::Step { stage: None, step, phase } = wait.doing else { return None };
    let own = paper.worked.formula.method.as_ref()?.steps.get(step)?.phases.get(phase)?;
    let time = own.duration.as_ref().filter(|_| wait.retimed.is_none())?;
    let one = time.low.as_ref().filter(|_| !time.ranged);
    time.high.as_ref().or(one).map(|most| base(paper, most))
}

/// By how many minutes a wait is longer than it may be, with so many more than planned; none
/// where it is not.
fn past(paper: &PrintContext, one: &Planned, wait: &Stretch, more: i64) -> Option<(Exact, Exact)> {
    let planned = (one.plan.times[wait.to] - one.plan.times[wait.from]) / MINUTE;
    let most = written_most(paper, wait)?;
    let over = int(planned + more) - &most;
    (over > Exact::ZERO).then_some((over, most))
}

/// `30 loaves: 3 loads of the oven deck, one after the other …`, for each bake that takes more
/// than one load.
fn loads(paper: &PrintContext, one: &Planned) -> Vec<String> {
    let stretches = || one.graph.stretches.iter().enumerate();
    let first = |(_, it): &(usize, &Stretch)| {
        matches!(it.doing, Doing::Step { phase: 0, .. })
            && it.batch.is_some_and(|batch| batch.in_oven && batch.first == 1)
    };
    stretches().filter(first).filter_map(|(place, it)| loads_of(paper, one, place, it)).collect()
}

fn loads_of(paper: &PrintContext, one: &Planned, place: usize, first: &Stretch) -> Option<String> {
    let Doing::Step { stage: None, step, .. } = first.doing else { return None };
    let of = first.batch?.of;
    let stretches = &one.graph.stretches;
    let mut own = stretches.iter().filter(|it| it.doing == first.doing);
    let last = own.rfind(|it| it.batch.is_some_and(|batch| batch.last == of))?;
    let times = &one.plan.times;
    let ahead = match last.batch?.first == 1 {
        // Very many are told together.
        true => (times[last.to] - times[last.from]) / MINUTE / i64::from(of) * i64::from(of - 1),
        false => (times[last.from] - times[first.from]) / MINUTE,
    };
    let own_step = paper.worked.formula.method.as_ref()?.steps.get(step)?;
    let (oven, _) = paper.worked.loads_of(own_step)?;
    let (count, longer) = (of.to_string(), words::minutes(&int(ahead)));
    let made = yield_text(paper);
    let mut args = vec![
        ("made", made.as_str()),
        ("oven", &oven.name.shown),
        ("count", &count),
        ("ahead", &longer),
    ];
    let wait = stretches.get(..place)?.iter().rfind(|it| waits(paper, it));
    let Some((wait, called)) = wait.and_then(|wait| Some((wait, called(paper, wait)?))) else {
        return Some(paper.words.fill("plan-loads", &args));
    };
    args.push(("step", &called));
    let told = past(paper, one, wait, ahead)
        .map(|(over, most)| (words::minutes(&over), words::minutes(&most)));
    let Some((over, most)) = &told else {
        let id = if wait.retimed.is_some() { "plan-loads" } else { "plan-loads-within" };
        return Some(paper.words.fill(id, &args));
    };
    args.extend([("over", over.as_str()), ("most", most.as_str())]);
    Some(paper.words.fill("plan-loads-over", &args))
}

/// What is done of batches in the bowl of a mixer, one after the other: of a dough that leaves it
/// in between and comes back, each time by itself.
fn bowls<'p>(one: &Planned<'p, '_>) -> Vec<Vec<(&'p Stretch, i64)>> {
    let is_step = |it: &&Stretch| matches!(it.doing, Doing::Step { .. });
    let of_batch = |it: &&Stretch| it.batch.is_some_and(|batch| !batch.in_oven);
    let mut bowls: Vec<Vec<(&Stretch, i64)>> = Vec::new();
    for stretch in one.graph.stretches.iter().filter(is_step).filter(of_batch) {
        let took = one.plan.times[stretch.to] - one.plan.times[stretch.from];
        let own = (stretch, (took + MINUTE / 2) / MINUTE);
        match bowls.last_mut().filter(|bowl| bowl.last().is_some_and(|it| it.0.to == stretch.from))
        {
            Some(bowl) => bowl.push(own),
            None => bowls.push(vec![own]),
        }
    }
    bowls
}

/// Minutes that each batch is in the bowl for.
fn minutes_of(bowl: &[(&Stretch, i64)]) -> Vec<i64> {
    let mut minutes: Vec<(u32, i64)> = Vec::new();
    for &(stretch, took) in bowl {
        let Some(Batch { first, last, .. }) = stretch.batch else { continue };
        let each = took / i64::from(last - first + 1);
        for number in first..=last {
            match minutes.iter_mut().find(|(known, _)| *known == number) {
                Some((_, sum)) => *sum += each,
                None => minutes.push((number, each)),
            }
        }
    }
    minutes.into_iter().map(|(_, minutes)| minutes).collect()
}

/// `3 × 10 min = 30 min`; nothing where no time is written.
fn sum(mixed: &[i64]) -> Option<String> {
    let sum: i64 = mixed.iter().sum();
    let first = mixed.first().filter(|_| sum > 0)?;
    let told = |minutes: i64| words::minutes(&int(minutes));
    let parts = match mixed.iter().all(|it| it == first) {
        true => format!("{} × {}", mixed.len(), told(*first)),
        false => mixed.iter().map(|it| told(*it)).collect::<Vec<_>>().join(" + "),
    };
    Some(format!("{parts} = {}", told(sum)))
}

/// What neither ripens nor stands as it is written, and so is mixed just before it is used.
fn at_once(paper: &PrintContext, graph: &Graph) -> Vec<String> {
    let built = graph.stretches.iter().filter_map(|stretch| match stretch.doing {
        Doing::Build { stage, feed: 0 } => Some((stage, stretch)),
        _ => None,
    });
    let told = built.filter_map(|(stage, stretch)| {
        let declared = paper.worked.formula.stages.get(stage)?;
        let says_nothing = declared.ripens.is_empty() && declared.stands.is_empty();
        let time = words::minutes(&stretch.low);
        let name = capital(&declared.name.shown);
        let args = [("stage", name.as_str()), ("time", &time)];
        says_nothing.then(|| paper.words.fill("plan-at-once", &args))
    });
    told.collect()
}

/// What to do, as the method says it; of what a model timed, that it did.
pub fn text_of(paper: &PrintContext, graph: &Graph, stretch: &Stretch) -> String {
    let text = match &stretch.doing {
        Doing::Step { stage, step, phase } => {
            let step = method_of(paper.worked, *stage).and_then(|method| method.steps.get(*step));
            let step = step.map(|step| as_timed(step, *phase, graph, stretch));
            let phases = step.map(|step| method::phases(paper, &step)).unwrap_or_default();
            phases.get(*phase).map(|part| phase_text(paper, part)).unwrap_or_default()
        }
        Doing::Build { stage, .. } => {
            let part = method::built_in_one(paper, &paper.worked.formula.stages[*stage]);
            part.phases.into_iter().next().map(|phase| phase.text).unwrap_or_default()
        }
        _ => String::new(),
    };
    match stretch.retimed {
        Some(_) => format!("{text} {}", paper.words.say("time-is-estimate")).trim().to_owned(),
        None => text,
    }
}

fn phase_text(paper: &PrintContext, part: &PhasePart) -> String {
    let to = |to: &String| paper.words.fill("print-to", &[("temperature", to)]);
    let when = [part.at.clone(), part.to.as_ref().map(to)];
    let when: Vec<String> = when.into_iter().flatten().collect();
    // A later phase without words of its own: what it changes is its temperature.
    let goes_on = |id: &&str| paper.words.say(id) == part.text;
    if let Some(at) = &part.at
        && ["then-cooler", "then-warmer", "then-on"].iter().any(goes_on)
    {
        return paper.words.fill("then-at", &[("temperature", at)]);
    }
    match (when.is_empty(), part.text.is_empty()) {
        (true, _) => part.text.clone(),
        (false, true) => capital(&format!("{}.", when.join(", "))),
        (false, false) => capital(&format!("{}. {}", when.join(", "), part.text)),
    }
}

/// A step with the temperature of a phase, and how often it is folded, as it is timed.
fn as_timed(step: &Step, phase: usize, graph: &Graph, stretch: &Stretch) -> Step {
    let mut step = step.clone();
    let Some((retimed, phase)) = stretch.retimed.as_ref().zip(step.phases.get_mut(phase)) else {
        return step;
    };
    let extent = |low: &Exact, high: &Exact, unit| {
        let end = |number: &Exact| Quantity {
            number: number.clone(),
            unit,
            decimals: None,
            span: stretch.span,
        };
        let ranged = low != high;
        Extent { low: Some(end(low)), high: ranged.then(|| end(high)), ranged, span: stretch.span }
    };
    if let Some(at) = &retimed.at {
        phase.at = Some(Box::new(extent(at, at, Unit::Celsius)));
    }
    let folds = graph.folds.iter().find(|it| graph.stretches[it.phase].doing == stretch.doing);
    let first = folds.and_then(|folds| graph.stretches.get(*folds.ways.first()?));
    if let (Some(first), Some(fold)) = (first, phase.fold.as_mut())
        && fold.every.is_some()
    {
        let high = first.high.as_ref().unwrap_or(&first.low);
        fold.every = Some(extent(&first.low, high, Unit::Minute));
    }
    step
}

/// The step that a stretch is a phase of, and which phase.
fn step_of<'w>(paper: &PrintContext<'w, '_>, doing: &Doing) -> Option<(&'w Step, usize)> {
    match doing {
        Doing::Step { stage, step, phase } => {
            method_of(paper.worked, *stage)?.steps.get(*step).map(|step| (step, *phase))
        }
        Doing::Moment { stage, step } => {
            method_of(paper.worked, *stage)?.steps.get(*step).map(|step| (step, 0))
        }
        _ => None,
    }
}

/// The author's notes for a step, where it begins, or for a stage where it is built.
pub fn notes_of(paper: &PrintContext, doing: &Doing) -> Vec<String> {
    match (doing, step_of(paper, doing)) {
        (_, Some((step, 0))) => {
            let own = step.notes.iter().map(|note| live::text(paper, note));
            of_stage(paper, doing, WordsKind::Note).into_iter().chain(own).collect()
        }
        (Doing::Build { stage, feed: 0 }, _) => {
            let texts = &paper.worked.formula.stages[*stage].texts;
            live::texts(paper, texts, WordsKind::Note)
        }
        _ => Vec::new(),
    }
}

/// What can hurt somebody in a step, or where a stage is built.
pub fn cautions_of(paper: &PrintContext, doing: &Doing) -> Vec<String> {
    match (doing, step_of(paper, doing)) {
        (_, Some((step, _))) => {
            let own = cautions::cautions_of_step(paper, step);
            of_stage(paper, doing, WordsKind::Caution).into_iter().chain(own).collect()
        }
        (Doing::Build { stage, feed: 0 }, _) => {
            let texts = &paper.worked.formula.stages[*stage].texts;
            live::texts(paper, texts, WordsKind::Caution)
        }
        _ => Vec::new(),
    }
}

/// What a stage with a method says of itself, where its work begins.
fn of_stage(paper: &PrintContext, doing: &Doing, kind: WordsKind) -> Vec<String> {
    let stage = match doing {
        Doing::Step { stage: Some(stage), step: 0, phase: 0 } => stage,
        Doing::Moment { stage: Some(stage), step: 0 } => stage,
        _ => return Vec::new(),
    };
    let declared = paper.worked.formula.stages.get(*stage);
    declared.map(|stage| live::texts(paper, &stage.texts, kind)).unwrap_or_default()
}

/// Whether a phase is the last one in the oven or over steam.
pub fn comes_out(paper: &PrintContext, doing: &Doing) -> bool {
    step_of(paper, doing).is_some_and(|(step, phase)| {
        matches!(doing, Doing::Step { .. })
            && matches!(step.verb, Verb::Bake | Verb::Steam)
            && phase + 1 == step.phases.len()
    })
}
