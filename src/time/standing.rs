//! Where something stands: in the room, in the cold, or in what keeps a temperature of its
//! own.

use super::graph::Doing;
use crate::formula::{House, Worked, known, limit};
use crate::quantity::Exact;
use crate::syntax::tree::{Extent, Method, Phase, Verb};

/// What stands at so many degrees Celsius or fewer stands in the cold.
pub fn cold() -> Exact {
    known("usual places", "cold")
}

/// Whether what stands at a temperature is taken to stand in the room.
fn is_in_room(celsius: &Exact) -> bool {
    limit("usual places", "room").is_some_and(|room| room.holds(celsius))
}

/// Places that keep a temperature of their own, whatever the room's, by how their name
/// ends: refrigerators, and others.
const REFRIGERATORS: &[&str] =
    &["fridge", "refrigerator", "retarder", "walk-in", "cold room", "cooler"];
const OTHERS: &[&str] = &[
    "proofer",
    "prover",
    "proof box",
    "proofing box",
    "proving box",
    "proving drawer",
    "cabinet",
    "chamber",
    "cellar",
    "freezer",
    "oven",
];

/// Names of places that keep a temperature of their own, for `in NAME`.
pub fn places() -> impl Iterator<Item = &'static str> {
    REFRIGERATORS.iter().chain(OTHERS).copied()
}

/// Whether a place keeps a temperature of its own: `proofer`, `a warm proofer`.
pub fn is_place(name: &str) -> bool {
    is_one_of(name, REFRIGERATORS) || is_one_of(name, OTHERS)
}

/// Whether a place is a refrigerator: `fridge`, `cold room`.
pub fn is_refrigerator(name: &str) -> bool {
    is_one_of(name, REFRIGERATORS)
}

/// What is asked to be another than it is written.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Degrees Celsius of the room and of the refrigerator.
    pub room: Option<Exact>,
    /// Degrees Celsius of the refrigerator.
    pub cold: Option<Exact>,
    /// Seed as a share of a stage's new flour.
    pub seed: Option<Exact>,
}

/// What keeps the temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StandKind {
    Room,
    Cold,
    Own,
}

/// A phase of a step, or a leg of a stage's ripening, as it stands.
#[derive(Clone, Debug)]
pub struct Standing {
    /// The stage that stands; none for the dough.
    pub stage: Option<usize>,
    /// Degrees Celsius of what it stands in, as written: the middle of a range; none where
    /// nothing says.
    pub at: Option<Exact>,
    /// Degrees Celsius that it is brought to.
    pub to: Option<Exact>,
    /// What it stands in.
    pub kind: StandKind,
    /// Whether what raises it is waited for.
    pub ferments: bool,
    /// The number of the step, of which the dough is divided before.
    pub step: Option<usize>,
    /// Whether a stage begins to ripen here.
    pub begins: bool,
}

impl Standing {
    /// Nothing for what is no wait and no step.
    pub fn of(house: &House, worked: &Worked, doing: &Doing) -> Option<Self> {
        let formula = &worked.formula;
        match *doing {
            Doing::Ripen { stage, leg, .. } => {
                let declared = formula.stages.get(stage)?;
                let wait = match declared.ripens.is_empty() {
                    true => declared.stands.get(leg)?,
                    false => declared.ripens.get(leg)?,
                };
                let (at, kind) = surroundings(house, wait.at.as_ref(), wait.in_room, None);
                let ferments = !declared.ripens.is_empty();
                let begins = leg == 0;
                let stage = Some(stage);
                Some(Self { stage, at, to: None, kind, ferments, step: None, begins })
            }
            Doing::Step { stage, step, phase } => {
                let own = method(worked, stage)?.steps.get(step)?;
                // An oven is heated while the dough stands elsewhere.
                if own.verb == Verb::Preheat {
                    return None;
                }
                let phase: &Phase = own.phases.get(phase)?;
                let place = phase.place.as_ref().map(|place| place.key.as_str());
                let (at, kind) = surroundings(house, phase.at.as_deref(), phase.in_room, place);
                let to = phase.to.as_deref().and_then(|to| house.middle(to));
                let waits = match kind {
                    StandKind::Room => matches!(own.verb, Verb::Bulk | Verb::Proof),
                    _ => matches!(own.verb, Verb::Bulk | Verb::Proof | Verb::Retard),
                };
                // Only what stands has surroundings of its own; an oven is none.
                let stands = waits || phase.at.is_some() || phase.in_room;
                let at = at.filter(|_| stands);
                let step = Some(step);
                Some(Self { stage, at, to, kind, ferments: waits, step, begins: false })
            }
            _ => None,
        }
    }

    /// Degrees Celsius of what it stands in now.
    pub fn now(&self, asked: &Asked) -> Option<Exact> {
        let other = match self.kind {
            StandKind::Room => &asked.room,
            StandKind::Cold => &asked.cold,
            StandKind::Own => &None,
        };
        other.clone().or_else(|| self.at.clone())
    }
}

/// A method of a formula: a stage's own or the dough's.
pub fn method<'w>(worked: &'w Worked, stage: Option<usize>) -> Option<&'w Method> {
    match stage {
        Some(stage) => worked.formula.stages.get(stage)?.method.as_ref(),
        None => worked.formula.method.as_ref(),
    }
}

/// The temperature of surroundings, and what keeps it.
fn surroundings(
    house: &House,
    at: Option<&Extent>,
    in_room: bool,
    place: Option<&str>,
) -> (Option<Exact>, StandKind) {
    let written = at.and_then(|at| house.middle(at));
    let in_one_of = |places: &[&str]| place.is_some_and(|place| is_one_of(place, places));
    let kind = match &written {
        _ if in_one_of(REFRIGERATORS) => StandKind::Cold,
        _ if in_one_of(OTHERS) => StandKind::Own,
        Some(at) if *at <= cold() => StandKind::Cold,
        Some(at) if !is_in_room(at) => StandKind::Own,
        _ => StandKind::Room,
    };
    let told = match kind {
        // Where nothing is said, or `at room`, it stands in the house's room.
        StandKind::Room if in_room || at.is_none() => house.settings.room.clone(),
        StandKind::Cold if at.is_none() => Some(
            house.settings.cold.clone().unwrap_or_else(|| known("usual places", "refrigerator")),
        ),
        _ => written,
    };
    (told, kind)
}

fn is_one_of(place: &str, places: &[&str]) -> bool {
    places.iter().any(|own| {
        let before = place.strip_suffix(own);
        before.is_some_and(|before| before.is_empty() || before.ends_with(' '))
    })
}
