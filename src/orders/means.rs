//! What a house has to work a day with: mixers, ovens deck by deck, proofers, refrigerators and
//! boards; and where each step stands.

use super::segs::step_of;
use crate::formula::{House, Mixer, Worked, is_kind, known};
use crate::quantity::{Exact, int};
use crate::syntax::tree::{Flag, Name, Phase, Step, Verb};
use crate::time::{
    Asked, Doing, Graph, NotTimed, graph_of_one_load, is_place, is_refrigerator, is_waiting, retime,
};

/// A machine that a step has to itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stand {
    /// One of these mixers, by their places in the house.
    Mixers(Vec<usize>),
    /// A deck of this oven, by its place in the house.
    Oven(usize),
}

/// A house as a day sees it.
#[derive(Clone, Debug)]
pub struct Means<'a, 't> {
    /// Its machines.
    pub house: &'a House<'t>,
    /// Degrees Celsius of the room, that day.
    pub room: Exact,
    /// Minutes of hands where somebody has to be there.
    pub moment: i64,
    /// Clock times are multiples of so many minutes, where nothing speaks against it.
    pub grid: i64,
    /// What the steps are timed anew for.
    pub asked: Asked,
}

impl<'a, 't> Means<'a, 't> {
    /// Of a house, in a room so warm.
    pub fn new(house: &'a House<'t>, room: Option<Exact>) -> Self {
        let minutes = |of: &str| {
            let minutes = known("usual day", of).nearest().to_whole().unwrap_or(1);
            i64::try_from(minutes).unwrap_or(1)
        };
        Self {
            house,
            room: room.unwrap_or_else(|| known("usual day", "room")),
            moment: minutes("moment"),
            grid: minutes("grid"),
            asked: Asked::default(),
        }
    }

    /// The same, with all that stands in the room timed anew, where a day asks for its warmth.
    pub fn timed_for(self, room: Option<Exact>) -> Self {
        Self { asked: Asked { room, ..Asked::default() }, ..self }
    }

    /// The steps of a formula in time, as a day has them; none where it has no method that can be
    /// planned.
    ///
    /// # Errors
    /// Why it can't be timed for the room that is asked for.
    pub fn graph(&self, worked: &Worked) -> Result<Option<Graph>, String> {
        let Some(mut graph) = graph_of_one_load(self.house, worked) else { return Ok(None) };
        match retime(self.house, worked, &mut graph, &self.asked) {
            Ok(_) => Ok(Some(graph)),
            Err(NotTimed { why, .. }) => Err(why.to_string()),
        }
    }

    /// The machine that a step has to itself.
    pub fn machine(&self, worked: &Worked, doing: &Doing) -> Option<Stand> {
        let Doing::Step { stage, phase, .. } = *doing else { return None };
        let step = step_of(worked, doing)?;
        let own = step.phases.get(phase);
        if step.verb == Verb::Bake {
            return self.oven_of(worked).map(Stand::Oven);
        }
        let named = own.into_iter().chain(&step.phases).find_map(|phase| self.mixer_named(phase));
        if let Some(mixer) = named {
            return Some(Stand::Mixers(vec![mixer]));
        }
        let by_hand = step.phases.iter().any(|phase| phase.says(Flag::ByHand));
        if stage.is_some() || step.verb != Verb::Mix || by_hand {
            return None;
        }
        let fitting = self.mixers_for(worked, &worked.first().whole.mass());
        (!fitting.is_empty()).then_some(Stand::Mixers(fitting))
    }

    fn mixer_named(&self, phase: &Phase) -> Option<usize> {
        let place = phase.place.as_ref()?;
        self.house.mixers().iter().position(|mixer| mixer.name.key == place.key)
    }

    /// The mixers that a dough of so many grams may go into: the one that its method names; else
    /// all that hold it; else the one that comes nearest.
    pub fn mixers_for(&self, worked: &Worked, dough: &Exact) -> Vec<usize> {
        let mixers = self.house.mixers();
        if let Some((named, _)) = worked.named_mixer() {
            let place = mixers.iter().position(|mixer| mixer.name.key == named.name.key);
            return place.into_iter().collect();
        }
        let holds = |mixer: &Mixer| mixer.holds.as_ref().is_none_or(|holds| holds.holds(dough));
        let fitting: Vec<usize> = (0..mixers.len()).filter(|&it| holds(&mixers[it])).collect();
        if !fitting.is_empty() || mixers.is_empty() {
            return fitting;
        }
        let apart = |place: &usize| {
            let range = mixers[*place].holds.as_ref();
            let under = range.and_then(|it| it.low.as_ref()).map(|low| low - dough);
            let over = range.and_then(|it| it.high.as_ref()).map(|high| dough - high);
            under.into_iter().chain(over).max()
        };
        (0..mixers.len()).min_by_key(apart).into_iter().collect()
    }

    /// The most grams of dough that a batch may be: what the named mixer holds, or the largest.
    pub fn most_dough(&self, worked: &Worked) -> Option<Exact> {
        if is_by_hand(worked) {
            return None;
        }
        worked.batch_mixer().map(|(_, most)| most)
    }

    /// The oven of a formula: the one that its method names, else that which holds most of its
    /// pieces.
    pub fn oven_of(&self, worked: &Worked) -> Option<usize> {
        let ovens = self.house.ovens();
        let phases = worked.formula.method.iter().flat_map(|it| &it.steps);
        let phases = phases.filter(|step| step.verb == Verb::Bake).flat_map(|it| &it.phases);
        let mut places = phases.filter_map(|phase| phase.place.as_ref());
        let named =
            places.find_map(|place| ovens.iter().position(|oven| oven.name.key == place.key));
        let kind = worked.first().pieces.first().map(|piece| piece.made.key.clone());
        let most = |place: &usize| {
            let held = kind.as_ref().and_then(|kind| held(&ovens[*place].holds, kind));
            held.map(|held| held * Exact::from(ovens[*place].decks)).unwrap_or_default()
        };
        // The first of those that hold alike.
        named.or_else(|| (0..ovens.len()).rev().max_by_key(most))
    }

    /// How many pieces of a kind a deck of a formula's oven holds; none where nobody says.
    pub fn deck_holds(&self, worked: &Worked, kind: &str) -> Option<u32> {
        let oven = &self.house.ovens()[self.oven_of(worked)?];
        u32::try_from(held(&oven.holds, kind)?.floor()).ok()
    }

    /// Degrees Celsius that a phase is baked at; those of the oven's own heat where none is said.
    pub fn heat(&self, worked: &Worked, doing: &Doing) -> Exact {
        let Doing::Step { phase, .. } = *doing else { return Exact::ZERO };
        let at = step_of(worked, doing).and_then(|step| step.phases.get(phase)?.at.as_ref());
        at.and_then(|at| self.house.middle(at)).unwrap_or_default()
    }

    /// The proofer or refrigerator that a phase stands in, by its place in the house, and the
    /// boards that pieces of some kinds take there; none where it stands in the room or nobody counts
    /// boards.
    pub fn boards(
        &self,
        worked: &Worked,
        (step, phase): (usize, usize),
        pieces: &[(Option<&str>, u32)],
    ) -> Option<(usize, u32)> {
        let method = worked.formula.method.as_ref()?;
        let is_shaped =
            method.steps.iter().take(step).any(|it| {
                matches!(it.verb, Verb::Divide | Verb::Preshape | Verb::Shape | Verb::Pan)
            });
        let of = method.steps.get(step)?;
        if !stands(of) {
            return None;
        }
        let rack = self.rack(of.phases.get(phase)?)?;
        self.house.racks()[rack].boards.as_ref()?;
        let first = worked.first();
        let by_kind = |board: &crate::formula::Board| {
            pieces.iter().try_fold(Exact::ZERO, |sum, (kind, pieces)| {
                Some(sum + Exact::from(*pieces).over(held(&board.holds, (*kind)?)?)?)
            })
        };
        let is_counted = is_shaped && !pieces.is_empty() && pieces.iter().all(|it| it.0.is_some());
        let on_one = |board: &crate::formula::Board| match is_counted {
            true => by_kind(board),
            false => first.whole.mass().over(board.dough.as_ref()?),
        };
        let boards = self.house.boards().iter().find_map(on_one)?;
        Some((rack, u32::try_from(boards.ceil()).ok()?.max(1)))
    }

    /// The proofers and refrigerators that a formula's dough stands in, by their places in the
    /// house, whether its method names them or not.
    pub fn racks_of(&self, worked: &Worked) -> Vec<usize> {
        let steps = worked.formula.method.iter().flat_map(|method| &method.steps);
        let phases = steps.filter(|step| stands(step)).flat_map(|step| &step.phases);
        let mut racks: Vec<usize> = phases.filter_map(|phase| self.rack(phase)).collect();
        racks.sort_unstable();
        racks.dedup();
        racks
    }

    /// The proofer or refrigerator that a phase stands in.
    fn rack(&self, phase: &Phase) -> Option<usize> {
        let racks = self.house.racks();
        let of_kind = |is_cold: bool| racks.iter().position(|rack| rack.is_cold == is_cold);
        if let Some(place) = &phase.place {
            let named = racks.iter().position(|rack| rack.name.key == place.key);
            let is_cold = is_refrigerator(&place.key);
            return named.or_else(|| of_kind(is_cold).filter(|_| is_place(&place.key)));
        }
        let at = self.house.middle(phase.at.as_deref()?)?;
        if at <= known("usual places", "cold") {
            return of_kind(true);
        }
        (at >= &self.room + int(4)).then(|| of_kind(false)).flatten()
    }
}

/// Whether dough stands somewhere in a step.
fn stands(step: &Step) -> bool {
    is_waiting(step) && !matches!(step.verb, Verb::Bake | Verb::Steam | Verb::Cool | Verb::Preheat)
}

/// Whether nothing of a dough is mixed in a machine.
pub fn is_by_hand(worked: &Worked) -> bool {
    let steps = worked.formula.method.iter().flat_map(|method| &method.steps);
    let mut mixes = steps.filter(|step| step.verb == Verb::Mix).peekable();
    mixes.peek().is_some()
        && mixes.all(|step| step.phases.iter().all(|phase| phase.says(Flag::ByHand)))
}

/// How many pieces of a kind something holds.
pub fn held<'h>(holds: &'h [(Option<Name>, Exact)], kind: &str) -> Option<&'h Exact> {
    let own = holds.iter().find(|(known, _)| {
        known.as_ref().is_some_and(|known| is_kind(&known.key, kind) || is_kind(kind, &known.key))
    });
    let any = || holds.iter().find(|(known, _)| known.is_none());
    own.or_else(any).map(|(_, most)| most).filter(|most| !most.is_zero())
}
