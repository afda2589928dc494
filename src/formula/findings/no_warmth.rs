//! Why there is no water temperature.

use crate::formula::warmth::NoWarmth;

/// Why there is no water temperature, in a sentence.
pub fn no_warmth(why: NoWarmth) -> &'static str {
    match why {
        NoWarmth::NoTarget => {
            "no step of the dough says how warm it is to be, as in `mix 6min to 25C`"
        }
        NoWarmth::NoWater(_) => {
            "nothing liquid is in the dough by then that could be warmer or colder"
        }
        NoWarmth::NoRoom => "the bakehouse does not say how warm it is: `room 21C`",
        NoWarmth::NoFriction => "the mixer has no friction, as in `mixer spiral { friction 11C }`",
    }
}
