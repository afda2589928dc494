//! Preferments that several formulas build alike: one baker builds them once.
//!
//! Enters: formulas of one house. Leaves: which stages of two of them are the same build, and
//! where they begin in a plan, so that another formula can be planned to share them.

use super::clock::Instant;
use super::graph::{Doing, Graph};
use super::length::waits_of;
use super::planned::{Plan, Used};
use crate::formula::{House, LineRef, Worked};
use crate::syntax::tree::Stage;

/// Stages by their places in two formulas that are the same build: of one name, from the same
/// things in the same shares, that ripen and keep alike.
pub fn same_builds(house: &House, one: &Worked, two: &Worked) -> Vec<(usize, usize)> {
    let mut same = Vec::new();
    for (place, stage) in one.formula.stages.iter().enumerate() {
        let other = two.formula.stages.iter().position(|other| other.name.key == stage.name.key);
        let other = other.filter(|_| stage.kind.ferments());
        same.extend(
            other
                .filter(|&other| is_same(house, (one, place), (two, other), 0))
                .map(|other| (place, other)),
        );
    }
    same
}

type Of<'a, 't> = (&'a Worked<'t>, usize);

fn is_same(house: &House, one: Of, two: Of, depth: usize) -> bool {
    let (Some(stage), Some(other)) =
        (one.0.formula.stages.get(one.1), two.0.formula.stages.get(two.1))
    else {
        return false;
    };
    let (Some(numbers), Some(others)) =
        (one.0.first().stages.get(one.1), two.0.first().stages.get(two.1))
    else {
        return false;
    };
    let is_one_text = stage.name.span == other.name.span;
    // Two formulas that take one shared stage have its method from the same text.
    let has_one_method = match (&stage.method, &other.method) {
        (None, None) => true,
        (Some(one), Some(two)) => one.span == two.span,
        _ => false,
    };
    let (made, other_made) = (&numbers.made, &others.made);
    let lines = numbers.lines.iter().zip(&others.lines);
    (is_one_text || has_one_method && waits_alike(house, stage, other))
        && numbers.feeds == others.feeds
        && numbers.lines.len() == others.lines.len()
        && !made.is_zero()
        && lines.clone().all(|(line, it)| &line.mass * other_made == &it.mass * made)
        && lines.clone().all(|(line, it)| match (line.goes, it.goes) {
            // Stages of stages of stages end somewhere.
            (LineRef::Stage(inner), LineRef::Stage(other))
                if depth < one.0.formula.stages.len() =>
            {
                is_same(house, (one.0, inner), (two.0, other), depth + 1)
            }
            (LineRef::Ingredient(_) | LineRef::Culture(_), _) => line.goes == it.goes,
            _ => false,
        })
}

fn waits_alike(house: &House, one: &Stage, two: &Stage) -> bool {
    let legs = |stage: &Stage| {
        [&stage.ripens, &stage.stands, &stage.keeps].map(|waits| waits_of(house, waits))
    };
    one.kind == two.kind && legs(one) == legs(two)
}

/// The points at which what builds a stage begins, in their order.
fn beginnings(graph: &Graph, of: usize) -> Vec<usize> {
    let builds = graph.stretches.iter().filter(|it| match it.doing {
        Doing::Build { stage, .. } => stage == of,
        Doing::Step { stage, .. } => stage == Some(of),
        _ => false,
    });
    builds.map(|it| it.from).collect()
}

/// Where a formula's builds would begin if they were those of a formula that is planned.
pub fn pins(
    house: &House,
    planned: &Used,
    worked: &Worked,
    graph: &Graph,
) -> Vec<(usize, Instant)> {
    let same = same_builds(house, planned.worked, worked);
    let mut pins: Vec<(usize, Instant)> = Vec::new();
    for (one, two) in same {
        let times = beginnings(planned.graph, one).into_iter().map(|it| planned.plan.times[it]);
        for (point, time) in beginnings(graph, two).into_iter().zip(times) {
            if pins.iter().all(|(known, _)| *known != point) {
                pins.push((point, time));
            }
        }
    }
    pins
}

/// A build of one name and make in several planned formulas.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shared {
    /// The formulas, and the place of the stage in each.
    pub users: Vec<(usize, usize)>,
}

impl Shared {
    /// Whether this is done for it in one of the formulas.
    pub fn is_of(&self, formula: usize, doing: &Doing) -> bool {
        stage_of(doing).is_some_and(|stage| self.users.contains(&(formula, stage)))
    }
}

/// The stage that something builds or ripens.
pub fn stage_of(doing: &Doing) -> Option<usize> {
    match *doing {
        Doing::Build { stage, .. } | Doing::Ripen { stage, .. } => Some(stage),
        Doing::Step { stage, .. }
        | Doing::Moment { stage, .. }
        | Doing::Fold { stage, .. }
        | Doing::Folding { stage, .. } => stage,
        Doing::Keep { .. } | Doing::Order => None,
    }
}

/// The builds that several formulas have alike: those that begin at the same times in all of
/// them, and so are made once; then those of which each formula builds its own.
pub fn shared(house: &House, planned: &[Used]) -> (Vec<Shared>, Vec<Shared>) {
    let (mut once, mut each): (Vec<Shared>, Vec<Shared>) = Default::default();
    for (number, one) in planned.iter().enumerate() {
        for stage in 0..one.worked.formula.stages.len() {
            let is_known =
                |all: &[Shared]| all.iter().any(|it| it.users.contains(&(number, stage)));
            let users = planned.iter().enumerate().skip(number + 1).filter_map(|(other, two)| {
                let same = same_builds(house, one.worked, two.worked);
                let (_, its) = same.into_iter().find(|(own, _)| *own == stage)?;
                Some((other, its))
            });
            let users: Vec<(usize, usize)> = users.collect();
            let times = |(number, stage): (usize, usize)| {
                let used = &planned[number];
                let points = beginnings(used.graph, stage);
                points.into_iter().map(|it| used.plan.times[it]).collect::<Vec<Instant>>()
            };
            let (together, apart): (Vec<_>, Vec<_>) =
                users.into_iter().partition(|it| times(*it) == times((number, stage)));
            if !together.is_empty() && !is_known(&once) {
                once.push(Shared { users: [vec![(number, stage)], together].concat() });
            }
            if !apart.is_empty() && !is_known(&each) {
                each.push(Shared { users: [vec![(number, stage)], apart].concat() });
            }
        }
    }
    (once, each)
}

/// A plan's own time for the first thing that builds a stage.
pub fn built_at(graph: &Graph, plan: &Plan, stage: usize) -> Option<Instant> {
    beginnings(graph, stage).first().map(|&point| plan.times[point])
}
