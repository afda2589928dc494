//! A formula's day as lanes: one for each stage and one for the dough, with a bar for
//! everything that takes time.

use super::context::PrintContext;
use super::document::{BarKind, BarPart, LanePart, TimelinePart};
use super::method;
use super::words::{self, capital};
use crate::formula::{House, Worked};
use crate::quantity::{Exact, int};
use crate::syntax::tree::{Extent, Method, Verb};
use crate::time::{
    Batch, Doing, Graph, Hands, Stretch, cold, graph, is_refrigerator, usual, whole_minutes,
};

/// A stretch that stands in a lane: what it is called, and how warm it is kept.
pub struct LanePlace {
    /// The stage whose lane it is in; none for the dough.
    pub stage: Option<usize>,
    /// As it is printed.
    pub title: String,
    /// What it stands in, as it is timed: `4 °C`.
    pub at: Option<String>,
    /// Where it is done, where its step says so: `in the fridge`.
    pub named: Option<String>,
    /// Work, waiting, heat or cold.
    pub kind: BarKind,
}

/// The shape of the day without a clock: every length as it would best be.
pub fn timeline(paper: &PrintContext) -> Option<TimelinePart> {
    let graph = graph(paper.house, paper.worked)?;
    let times = usual(&graph);
    let begin = times.iter().min().cloned()?;
    let since = |point: usize| whole_minutes(&(&times[point] - &begin));
    let minutes = since(graph.end);
    (minutes > 0).then(|| TimelinePart {
        minutes,
        heat_minutes: heat(paper, &graph),
        lanes: lanes(paper, &graph, &since),
    })
}

/// The longest that all that is heated takes, one after the other, in whole minutes.
fn heat(paper: &PrintContext, graph: &Graph) -> Option<i64> {
    let heated = graph.stretches.iter().filter(|stretch| {
        place(paper, stretch).is_some_and(|place| place.kind == BarKind::Oven)
            && !heats_oven(paper.worked, stretch)
    });
    let ends: Option<Vec<&Exact>> = heated.map(|stretch| stretch.high.as_ref()).collect();
    let sum = ends?.into_iter().fold(Exact::ZERO, |sum, end| &sum + end);
    (sum > Exact::ZERO).then(|| whole_minutes(&sum))
}

/// The lanes of a graph, stages in building order, the dough last; `since` tells the
/// minutes from the beginning to a point.
pub fn lanes(paper: &PrintContext, graph: &Graph, since: &dyn Fn(usize) -> i64) -> Vec<LanePart> {
    let placed = graph.stretches.iter().filter_map(|it| Some((it, place(paper, it)?)));
    let placed: Vec<(&Stretch, LanePlace)> = placed.collect();
    let stages = paper.worked.order.iter().map(|&stage| Some(stage));
    let (heated, placed): (Vec<_>, Vec<_>) =
        placed.into_iter().partition(|(stretch, _)| heats_oven(paper.worked, stretch));
    let lanes = stages.chain([None]).map(|lane| {
        let own = placed.iter().filter(|(_, place)| place.stage == lane);
        let own = own.filter(|(stretch, _)| begins_a_bar(stretch));
        let mut bars: Vec<BarPart> =
            own.map(|(stretch, place)| bar(paper, graph, stretch, place, since)).collect();
        bars.sort_by_key(|bar| (bar.from, bar.to));
        let folds = graph.stretches.iter().filter(|stretch| match &stretch.doing {
            Doing::Fold { stage, .. } => *stage == lane,
            _ => false,
        });
        LanePart {
            title: match lane {
                Some(stage) => capital(&paper.worked.formula.stages[stage].name.shown),
                None => paper.words.say("dough"),
            },
            bars,
            folds: folds.map(|fold| since(fold.to)).collect(),
        }
    });
    let oven = LanePart {
        title: paper.words.say("step-preheat"),
        bars: heated.iter().map(|(it, place)| bar(paper, graph, it, place, since)).collect(),
        folds: Vec::new(),
    };
    lanes.chain([oven]).filter(|lane| !lane.bars.is_empty()).collect()
}

/// Whether a stretch heats the oven, beside what the dough does.
fn heats_oven(worked: &Worked, stretch: &Stretch) -> bool {
    let Doing::Step { stage, step, .. } = &stretch.doing else { return false };
    let step = method_of(worked, *stage).and_then(|method| method.steps.get(*step));
    step.is_some_and(|step| step.verb == Verb::Preheat)
}

/// Whether a stretch is the first of its bar: batches of one phase share theirs, and so do all
/// phases of all loads.
fn begins_a_bar(stretch: &Stretch) -> bool {
    let is_first_phase = !matches!(stretch.doing, Doing::Step { phase: 1.., .. });
    let begins = |batch: Batch| batch.first == 1 && (is_first_phase || !batch.in_oven);
    stretch.batch.is_none_or(begins)
}

/// Whether two stretches are of one bar.
fn share_a_bar(one: &Stretch, other: &Stretch) -> bool {
    match (&one.doing, &other.doing) {
        (Doing::Step { stage, step, .. }, Doing::Step { stage: of, step: own, .. })
            if one.batch.is_some_and(|batch| batch.in_oven) =>
        {
            (stage, step) == (of, own)
        }
        (doing, own) => doing == own,
    }
}

/// Batches that are mixed one after the other are one bar.
fn bar(
    paper: &PrintContext,
    graph: &Graph,
    stretch: &Stretch,
    place: &LanePlace,
    since: &dyn Fn(usize) -> i64,
) -> BarPart {
    let last = stretch.batch.and_then(|_| {
        let mut same = graph.stretches.iter().rev();
        same.find(|it| share_a_bar(stretch, it))
    });
    let (from, to) = (since(stretch.from), since(last.unwrap_or(stretch).to));
    BarPart {
        from,
        to,
        kind: place.kind,
        title: place.title.clone(),
        time: told_time(paper, stretch, to - from),
        at: place.at.clone(),
    }
}

/// So many minutes, with the mark of an estimate where a model gave them.
pub fn told_time(paper: &PrintContext, stretch: &Stretch, minutes: i64) -> String {
    let time = words::minutes(&int(minutes));
    match stretch.retimed {
        Some(_) => paper.words.fill("approximately", &[("amount", &time)]),
        None => time,
    }
}

/// Where a stretch stands; nothing for what is only an order.
pub fn place(paper: &PrintContext, stretch: &Stretch) -> Option<LanePlace> {
    let formula = &paper.worked.formula;
    let say = |id: &str| paper.words.say(id);
    let mut in_fridge = false;
    let mut cold = None;
    let mut named = None;
    let (stage, title, at, in_room) = match &stretch.doing {
        Doing::Step { stage, step, phase } => {
            let step = method_of(paper.worked, *stage)?.steps.get(*step)?;
            let phase = step.phases.get(*phase)?;
            in_fridge = phase.at.is_none()
                && phase.place.as_ref().is_some_and(|place| is_refrigerator(&place.key));
            cold = method::cold(paper, phase);
            named = phase.place.as_ref().map(|place| method::within(paper, place));
            (*stage, method::group_title(paper, step), phase.at.as_deref(), phase.in_room)
        }
        Doing::Moment { stage, step } => {
            let step = method_of(paper.worked, *stage)?.steps.get(*step)?;
            let title = method::group_title(paper, step);
            let title = match step.verb {
                Verb::Autolyse if step.hands_on.is_none() => {
                    paper.words.fill("plan-stirred", &[("step", &title)])
                }
                _ => title,
            };
            (*stage, title, None, false)
        }
        Doing::Build { stage, feed } => {
            let feeds = formula.stages[*stage].feeds.is_some();
            let title = if feeds || *feed > 0 { "step-feed" } else { "step-mix" };
            (Some(*stage), say(title), None, false)
        }
        Doing::Ripen { stage, leg, .. } => {
            let declared = &formula.stages[*stage];
            let (title, waits) = match declared.ripens.is_empty() {
                true => ("step-stand", &declared.stands),
                false => ("step-ripen", &declared.ripens),
            };
            let wait = waits.get(*leg)?;
            (Some(*stage), say(title), wait.at.as_ref(), wait.in_room)
        }
        Doing::Keep { stage, leg } => {
            let wait = formula.stages[*stage].keeps.get(*leg);
            let in_room = wait.is_some_and(|wait| wait.in_room);
            let at = wait.and_then(|wait| wait.at.as_ref());
            (Some(*stage), say("step-keep"), at, in_room)
        }
        Doing::Fold { .. } | Doing::Folding { .. } | Doing::Order => return None,
    };
    let retimed = stretch.retimed.as_ref().and_then(|retimed| retimed.at.as_ref());
    let kind = match stretch.hands {
        Hands::On => BarKind::Hands,
        Hands::Watched => BarKind::Oven,
        Hands::Off if in_fridge || at.is_some_and(|at| is_cold(paper.house, at)) => BarKind::Cold,
        Hands::Off => BarKind::Waiting,
    };
    let verb = match &stretch.doing {
        Doing::Step { stage, step, .. } => {
            method_of(paper.worked, *stage)?.steps.get(*step).map(|step| step.verb)
        }
        _ => None,
    };
    let at = match retimed {
        Some(celsius) => Some(paper.degrees(celsius)),
        None => method::surroundings(paper, at, in_room, verb).or(cold),
    };
    Some(LanePlace { stage, title, at, named, kind })
}

/// A method of a formula: a stage's own or the dough's.
pub fn method_of<'w>(worked: &'w Worked, stage: Option<usize>) -> Option<&'w Method> {
    match stage {
        Some(stage) => worked.formula.stages[stage].method.as_ref(),
        None => worked.formula.method.as_ref(),
    }
}

fn is_cold(house: &House, at: &Extent) -> bool {
    let end = at.high.as_ref().or(at.low.as_ref());
    end.is_some_and(|end| end.unit.to_base(&end.number, house.settings.measures) <= cold())
}
