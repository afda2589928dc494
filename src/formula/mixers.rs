//! Which mixer a dough goes into, and in how many batches.
//!
//! Enters: the mixers of a house and a formula worked out. Leaves: the mixer that is meant,
//! none where the dough is mixed by hand or the house has none.

use super::house::{House, Mixer};
use super::worked::Worked;
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{Flag, Phase};

impl House<'_> {
    /// The mixer of a name.
    pub fn mixer_named(&self, key: &str) -> Option<&Mixer> {
        self.mixers().iter().find(|mixer| mixer.name.key == key)
    }

    /// The mixer for so many grams of dough where none is named: the smallest that is known
    /// to hold it, else one that does not say what it holds, else the largest, for several
    /// batches.
    pub fn mixer_for(&self, dough: &Exact) -> Option<&Mixer> {
        let fits = |mixer: &&Mixer| mixer.holds.as_ref().is_some_and(|holds| holds.holds(dough));
        let all = || self.mixers().iter();
        let fitting = all().filter(fits).min_by_key(|mixer| (most(mixer).is_none(), most(mixer)));
        let unsaid = || all().find(|mixer| mixer.holds.is_none());
        fitting.or_else(unsaid).or_else(|| all().max_by_key(|mixer| most(mixer)))
    }
}

impl Worked<'_> {
    /// The first mixer that the method names, and where.
    pub fn named_mixer(&self) -> Option<(&Mixer, Span)> {
        self.phases().find_map(|phase| {
            let place = phase.place.as_ref()?;
            Some((self.house.mixer_named(&place.key)?, place.span))
        })
    }

    /// The mixer of a phase: the one it names, else one that the method names, else the one
    /// for the dough unless that is mixed by hand.
    pub fn mixer_of(&self, phase: &Phase) -> Option<&Mixer> {
        let own = phase.place.as_ref().and_then(|place| self.house.mixer_named(&place.key));
        let of_method = || self.named_mixer().map(|(mixer, _)| mixer);
        let usual = || match phase.says(Flag::ByHand) {
            true => None,
            false => self.house.mixer_for(&self.first().whole.mass()),
        };
        own.or_else(of_method).or_else(usual)
    }

    /// The mixer that says how much a batch of the dough may be, and how many grams: the one
    /// that the method names, else the largest of the house.
    pub fn batch_mixer(&self) -> Option<(&Mixer, Exact)> {
        match self.named_mixer() {
            Some((mixer, _)) => Some((mixer, most(mixer)?)),
            None => {
                let mixers = self.house.mixers().iter();
                mixers.filter_map(|it| Some((it, most(it)?))).max_by_key(|(_, most)| most.clone())
            }
        }
    }

    /// How many batches the dough is mixed in: as few as its mixer can hold.
    pub fn batches(&self) -> u32 {
        let held = self.batch_mixer().map(|(_, most)| most);
        let count = held.and_then(|held| self.first().whole.mass().over(&held));
        count.and_then(|count| u32::try_from(count.ceil()).ok()).unwrap_or(1).max(1)
    }

    fn phases(&self) -> impl Iterator<Item = &Phase> {
        let steps = self.formula.method.iter().flat_map(|method| &method.steps);
        steps.flat_map(|step| &step.phases)
    }
}

/// The most that a mixer holds, in grams; none where it does not say.
fn most(mixer: &Mixer) -> Option<Exact> {
    mixer.holds.as_ref()?.high.clone()
}
