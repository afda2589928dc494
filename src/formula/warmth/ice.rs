//! How much of the water is ice, where it has to be colder than the tap.

use super::dough::Dough;
use super::heat::melting;
use crate::formula::figure::ValueKind;
use crate::formula::ground::Ground;
use crate::formula::reason::{Degrees, How, Reason};
use crate::formula::subject::Topic;
use crate::quantity::Exact;

impl Dough<'_, '_> {
    /// So much of the water as ice that it comes to the temperature from that of the tap:
    /// W (tap − water) / (tap + 80), a trade formula.
    pub(super) fn ice(&self, celsius: &Exact) -> Option<Reason> {
        let tap = self.house.settings.tap.as_ref().filter(|_| self.is_water())?;
        let share = ice_share(tap, celsius)?;
        let colder = tap - celsius;
        let takes = tap + melting();
        let temperature = |what: Topic, amount: &Exact, how| {
            Reason::new(what, amount.clone(), ValueKind::Temperature, how)
        };
        let mut above = temperature(Topic::ColderThanTap, &colder, How::Difference);
        above.parts = vec![
            temperature(Topic::Tap, tap, How::Written),
            temperature(Topic::WaterTemperature, celsius, How::Because(Ground::WorkedOutAbove)),
        ];
        let melting = melting();
        let mut below = temperature(Topic::IceTakes, &takes, How::Sum);
        let melts = How::Because(Ground::HeatOfMelting);
        below.parts = vec![
            temperature(Topic::Tap, tap, How::Written),
            temperature(Topic::Melting, &melting, melts).in_degrees(Degrees::AboveFreezing),
        ];
        let mut part =
            Reason::new(Topic::ShareOfWater, share.clone(), ValueKind::Share, How::Ratio);
        part.parts = vec![above, below];
        let all_of_it = How::Because(Ground::AllThatTheMixerGets);
        let water = Reason::new(Topic::Water, self.water.clone(), ValueKind::Mass, all_of_it);
        let mut ice = Reason::new(Topic::Ice, &self.water * share, ValueKind::Mass, How::Product);
        ice.parts = vec![water, part];
        Some(ice)
    }
}

/// What part of the water is ice, so that water of `tap` degrees Celsius comes to `wanted`:
/// (tap − wanted) / (tap + 80), a trade formula that counts ice at the melting point. None
/// where the tap is cold enough, or ice would warm it.
pub fn ice_share(tap: &Exact, wanted: &Exact) -> Option<Exact> {
    let takes = tap + melting();
    (tap - wanted).over(&takes).filter(|_| wanted < tap && takes > Exact::ZERO)
}
