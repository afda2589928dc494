//! Machines and hands that are wanted twice at the same time.
//!
//! Enters: planned formulas of one house. Leaves: each pair of doughs that are in one oven, or
//! in one mixer, at once, and when; and works for which hands would have to be in two places.
//! What an oven holds is not looked at: two doughs may fit, or want other heat; whoever reads it
//! knows.

use super::clock::Instant;
use super::graph::{Doing, Hands};
use super::planned::Used;
use super::shared::{Shared, stage_of};
use crate::formula::House;
use crate::syntax::tree::{Flag, Phase, Step, Verb};

/// Works of hands that want each other's time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HandsTwice {
    /// When they begin to.
    pub from: Instant,
    /// When they no longer do.
    pub to: Instant,
    /// The formulas, by their places, each with a stretch of its graph; as they begin.
    pub works: Vec<(usize, usize)>,
}

/// When hands are wanted in several places at once, in the order of the clock; what meets is one.
/// What formulas build together is done once.
pub fn hands_twice(planned: &[Used], once: &[Shared]) -> Vec<HandsTwice> {
    let mut works: Vec<(Instant, Instant, (usize, usize))> = Vec::new();
    for (formula, one) in planned.iter().enumerate() {
        for (place, stretch) in one.graph.stretches.iter().enumerate() {
            let (from, to) = (one.plan.times[stretch.from], one.plan.times[stretch.to]);
            let is_work = stretch.hands == Hands::On && from < to;
            if is_work && !is_built_elsewhere(once, formula, &stretch.doing) {
                works.push((from, to, (formula, place)));
            }
        }
    }
    works.sort_unstable();
    let mut found: Vec<HandsTwice> = Vec::new();
    for (place, &(_, to, one)) in works.iter().enumerate() {
        let later = works.iter().skip(place + 1).take_while(|(from, ..)| *from < to);
        for &(from, end, two) in later {
            let to = to.min(end);
            match found.last_mut().filter(|last| from <= last.to) {
                Some(last) => last.add(to, [one, two]),
                None => found.push(HandsTwice { from, to, works: vec![one, two] }),
            }
        }
    }
    found
}

impl HandsTwice {
    fn add(&mut self, to: Instant, works: [(usize, usize); 2]) {
        self.to = self.to.max(to);
        for work in works {
            if !self.works.contains(&work) {
                self.works.push(work);
            }
        }
    }
}

/// Whether a stage is built by an earlier formula for this one too.
fn is_built_elsewhere(once: &[Shared], formula: usize, doing: &Doing) -> bool {
    let users = once.iter().flat_map(|shared| shared.users.iter().skip(1));
    stage_of(doing).is_some_and(|stage| users.clone().any(|user| *user == (formula, stage)))
}

/// Two formulas, by their places, at one machine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Twice {
    /// By their places in the plan.
    pub formulas: (usize, usize),
    /// Whether it is an oven; else a mixer.
    pub is_oven: bool,
    /// Its name, where it has one.
    pub machine: Option<String>,
    /// When both are at it.
    pub from: Instant,
    /// When one of them leaves it.
    pub to: Instant,
}

/// When a machine is used.
struct Use {
    formula: usize,
    is_oven: bool,
    machine: Option<String>,
    from: Instant,
    to: Instant,
}

/// The pairs, in the order of the clock.
pub fn wanted_twice(house: &House, planned: &[Used]) -> Vec<Twice> {
    let uses = planned.iter().enumerate().flat_map(|(number, one)| uses(house, number, one));
    let uses: Vec<Use> = uses.collect();
    let mut found: Vec<Twice> = Vec::new();
    for (place, one) in uses.iter().enumerate() {
        for two in uses.iter().skip(place + 1) {
            let (from, to) = (one.from.max(two.from), one.to.min(two.to));
            let is_same = (one.is_oven, &one.machine) == (two.is_oven, &two.machine);
            if is_same && one.formula != two.formula && from < to {
                let (formulas, machine) = ((one.formula, two.formula), one.machine.clone());
                found.push(Twice { formulas, is_oven: one.is_oven, machine, from, to });
            }
        }
    }
    found.sort_by_key(|twice| (twice.from, twice.to, twice.formulas));
    found
}

/// Each step of a formula in an oven or a mixer, with all its phases.
fn uses(house: &House, formula: usize, one: &Used) -> Vec<Use> {
    let methods = one.worked.formula.stages.iter().map(|stage| stage.method.as_ref());
    let stages = methods.enumerate().map(|(stage, method)| (Some(stage), method));
    let all = stages.chain([(None, one.worked.formula.method.as_ref())]);
    let mut found = Vec::new();
    for (stage, method) in all {
        for (number, step) in method.iter().flat_map(|method| &method.steps).enumerate() {
            let Some((is_oven, machine)) = machine(house, one, stage, step) else { continue };
            // An autolyse is in the mixer while hands stir it together.
            let stirred = step.verb == Verb::Autolyse;
            let own = one.graph.stretches.iter().filter(|stretch| match stretch.doing {
                Doing::Step { stage: of, step, .. } => !stirred && (of, step) == (stage, number),
                Doing::Moment { stage: of, step } => stirred && (of, step) == (stage, number),
                _ => false,
            });
            let times = own.map(|it| (one.plan.times[it.from], one.plan.times[it.to]));
            // A stage is mixed once for each of its feeds.
            for (from, to) in joined(times) {
                found.push(Use { formula, is_oven, machine: machine.clone(), from, to });
            }
        }
    }
    found
}

/// Phases that follow each other at once are one.
fn joined(times: impl Iterator<Item = (Instant, Instant)>) -> Vec<(Instant, Instant)> {
    let mut joined: Vec<(Instant, Instant)> = Vec::new();
    for (from, to) in times {
        match joined.last_mut() {
            Some((_, last)) if *last == from => *last = to,
            _ => joined.push((from, to)),
        }
    }
    joined
}

/// The machine of a step: the one it names, else the oven of the house, or the mixer that its
/// dough goes into. What is stirred by hand is in none.
fn machine(
    house: &House,
    one: &Used,
    stage: Option<usize>,
    step: &Step,
) -> Option<(bool, Option<String>)> {
    let named = |names: &[&str]| {
        let places = step.phases.iter().filter_map(|phase| phase.place.as_ref());
        let mut found = places.filter(|place| names.contains(&place.key.as_str()));
        found.next().map(|place| place.key.to_string())
    };
    let mixers: Vec<&str> = house.mixers().iter().map(|mixer| mixer.name.key.as_str()).collect();
    if step.verb == Verb::Bake {
        let ovens: Vec<&str> = house.oven_keys().collect();
        let usual = ovens.first().map(|oven| (*oven).to_owned());
        return Some((true, named(&ovens).or(usual)));
    }
    if let Some(mixer) = named(&mixers) {
        return Some((false, Some(mixer)));
    }
    let by_hand = step.phases.iter().any(|phase: &Phase| phase.says(Flag::ByHand));
    let mixes = matches!(step.verb, Verb::Mix | Verb::Autolyse);
    if stage.is_some() || !mixes || by_hand {
        return None;
    }
    let dough = one.worked.first().whole.mass();
    let mixer = house.mixer_for(&dough)?;
    Some((false, Some(mixer.name.key.to_string())))
}
