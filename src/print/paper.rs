//! What every part of a document is written from: a house, a formula, its scale.

use super::document::Weight;
use crate::formula::{House, Numbers, Worked};
use crate::quantity::display::{self, Scale, decimals_for, to_step};
use crate::quantity::{Exact, Unit, int};

/// A formula on its way to paper.
pub struct Paper<'a, 't> {
    pub house: &'a House<'t>,
    pub worked: &'a Worked<'t>,
    /// How many batches it is mixed in.
    pub batches: u32,
}

impl<'a> Paper<'a, '_> {
    pub fn numbers(&self) -> &'a Numbers {
        self.worked.first()
    }

    pub fn scale(&self) -> &'a Scale {
        &self.house.settings.scale
    }

    /// A weight rounded to what the scale shows.
    pub fn weight(&self, grams: &Exact) -> Weight {
        let step = self.scale().resolution(grams);
        self.weight_as(grams, &to_step(grams, &step))
    }

    /// A weight of which `shown` grams are shown.
    pub fn weight_as(&self, grams: &Exact, shown: &Exact) -> Weight {
        let (text, unit) = if self.house.settings.us_units {
            us_weight(shown)
        } else {
            let decimals = decimals_for(&self.scale().resolution(grams)).max(
                // What was rounded at another resolution is shown in full.
                decimals_for(shown),
            );
            match *shown >= int(1000) {
                true => (display::fixed(&(shown / int(1000)), decimals + 3), "kg".to_owned()),
                false => (display::fixed(shown, decimals), "g".to_owned()),
            }
        };
        Weight { grams: display::exact(grams), shown: text, unit }
    }

    /// A weight in a sentence: without closing zeros.
    pub fn plain_weight(&self, grams: &Exact) -> Weight {
        let mut weight = self.weight(grams);
        if weight.shown.contains('.') && !self.house.settings.us_units {
            weight.shown = weight.shown.trim_end_matches('0').trim_end_matches('.').to_owned();
        }
        weight
    }
}

/// Ounces below a pound, pounds and ounces above, to a hundredth of an ounce.
fn us_weight(grams: &Exact) -> (String, String) {
    let ounces = grams / Unit::Ounce.to_base(&Exact::ONE, Default::default());
    let ounces = to_step(&ounces, &Exact::from_parts(1.into(), 100u8.into()));
    if ounces < int(16) {
        return (display::fixed(&ounces, 2), "oz".into());
    }
    let pounds = (&ounces / int(16)).floor();
    let rest = ounces - Exact::from(pounds.clone()) * int(16);
    let decimals = decimals_for(&rest).clamp(1, 2);
    (format!("{pounds} lb {}", display::fixed(&rest, decimals)), "oz".into())
}
