//! Words for a temperature that no water has.

use crate::formula::figure::ValueKind;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::Subject;
use crate::formula::warmth::{Steers, Warmth};
use crate::quantity::{Exact, System, int};

/// What to know of a water temperature below freezing or above boiling, or that the water of a
/// dough can't have alone; nothing where the water can be so warm.
pub fn beyond_water(warmth: &Warmth, units: System) -> Option<String> {
    let told = |celsius: &Exact| {
        let how = How::Written;
        let reason = Reason::new(Subject::default(), celsius.clone(), ValueKind::Temperature, how);
        reason.told_in(units).shown()
    };
    let water = &warmth.water.amount;
    let alone = told(water);
    match &warmth.steers {
        Steers::Water if *water < Exact::ZERO => Some(format!(
            "no water is at {alone}: below freezing this counts heat, and a part of the water goes \
             in as ice"
        )),
        Steers::Water if *water > int(100) => Some(format!("no water is at {alone}")),
        Steers::Water => None,
        Steers::Together => Some(format!(
            "there is too little water for it to be {alone}: bring all that is poured in to {} \
             instead",
            told(&warmth.together)
        )),
        Steers::Nothing { at, off } => {
            let side = if *off < Exact::ZERO { "colder" } else { "warmer" };
            let ice = if *at < Exact::ZERO { " (a part of it ice)" } else { "" };
            Some(format!(
                "water at {alone} won't do: with the nearest that does, {}{ice}, the dough comes \
                 out {side} than it is aimed at",
                told(at)
            ))
        }
    }
}
