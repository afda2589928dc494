//! What a bakehouse says of itself: its units, scale, paper, hours and temperatures.

use super::texts::plain;
use crate::quantity::display::{Scale, ScaleStep};
use crate::quantity::{Exact, Measures, System, Unit, Units};
use crate::source::Span;
use crate::syntax::tree::{self, Quantity};
use ecow::EcoString;

/// Settings of a bakehouse.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    /// The name of the house on its prints.
    pub title: Option<String>,
    /// Where it stands.
    pub title_span: Span,
    /// Grams or ounces, or both.
    pub units: Units,
    /// Volumes stand beside weights on cards.
    pub volumes: bool,
    /// What a cup and a spoon hold.
    pub measures: Measures,
    /// Whether the house says so itself.
    pub measures_said: bool,
    /// The language of the printed words, as a BCP 47 tag.
    pub language: Option<Setting>,
    /// The language that sheets say everything in as well, as a BCP 47 tag.
    pub second_language: Option<Setting>,
    /// What the scales show in the first of the units.
    pub scale: Scale,
    /// What they show in the other ones, where the house says so.
    pub other_scale: Option<Scale>,
    /// Whether there is a `bakehouse` at all.
    pub declared: bool,
    /// A4, Letter and the like.
    pub paper: Option<Setting>,
    /// Whether sheets bear their code as a square as well: `qr`.
    pub codes: Option<Setting>,
    /// What stands at the foot of every page.
    pub footer: Option<Setting>,
    /// The file of the house's sign, below its root.
    pub logo: Option<Setting>,
    /// The one colour of the prints, as `#2f4858`.
    pub colour: Option<Setting>,
    /// When there are hands.
    pub hours: Vec<tree::Open>,
    /// What its days are planned for.
    pub aim: tree::Aim,
    /// The time zone, by its name in the world's zone database.
    pub zone: Option<Setting>,
    /// Degrees Celsius of the room, the flour and the tap's water.
    pub room: Option<Exact>,
    /// The same of the refrigerator.
    pub cold: Option<Exact>,
    /// The same of the flour.
    pub flour: Option<Exact>,
    /// The same of the water from the tap.
    pub tap: Option<Exact>,
    /// How fast dough was seen to cool, for what stands in the cold.
    pub cooling: Option<Cooled>,
    /// What prices are in.
    pub currency: Option<Setting>,
    /// How water temperatures are worked out: `by factor` or `by heat balance`.
    pub water: Option<Setting>,
}

/// A measured course of cooling: grams of dough, degrees Celsius and minutes.
#[derive(Clone, Debug)]
pub struct Cooled {
    /// Grams.
    pub mass: Exact,
    /// Degrees Celsius of the dough when it goes in.
    pub from: Exact,
    /// Degrees Celsius of the dough at the end.
    pub to: Exact,
    /// How long that took.
    pub minutes: Exact,
    /// Degrees Celsius of the cold place.
    pub at: Exact,
    /// Where it is written.
    pub span: Span,
}

/// A setting as it stands, and where.
#[derive(Clone, Debug)]
pub struct Setting {
    /// As it was written.
    pub value: EcoString,
    /// Where it is written.
    pub span: Span,
}

/// Reads the settings of a `bakehouse`.
pub(super) fn settings_of(bakehouse: &tree::Bakehouse) -> Settings {
    let setting = |wanted: &str| {
        let found = bakehouse.settings.iter().find(|(word, ..)| word == wanted);
        found.map(|(_, value, span)| Setting { value: value.clone(), span: *span })
    };
    let measures = if bakehouse.us_measures { Measures::Us } else { Measures::Metric };
    let temperature = |wanted: &str| {
        let found = bakehouse.temperatures.iter().find(|(word, _)| word == wanted);
        found.map(|(_, quantity)| quantity.unit.to_base(&quantity.number, measures))
    };
    Settings {
        title: bakehouse.title.as_ref().map(plain),
        title_span: bakehouse.title.as_ref().map_or(bakehouse.span, |title| title.span),
        units: bakehouse.units,
        volumes: bakehouse.volumes,
        measures,
        measures_said: bakehouse.measures_said,
        language: bakehouse
            .language
            .as_ref()
            .map(|name| Setting { value: name.shown.clone(), span: name.span }),
        second_language: bakehouse
            .second_language
            .as_ref()
            .map(|name| Setting { value: name.shown.clone(), span: name.span }),
        scale: scale_of(bakehouse, measures, bakehouse.units.first)
            .unwrap_or_else(|| Scale::usual(bakehouse.units.first)),
        other_scale: scale_of(bakehouse, measures, bakehouse.units.first.other()),
        declared: true,
        paper: setting("paper"),
        codes: setting("codes"),
        footer: setting("footer"),
        logo: setting("logo"),
        colour: setting("colour"),
        hours: bakehouse.hours.clone(),
        aim: bakehouse.aim.map(|(aim, _)| aim).unwrap_or_default(),
        zone: bakehouse.zone.clone().map(|(value, span)| Setting { value, span }),
        room: temperature("room"),
        cold: temperature("cold"),
        flour: temperature("flour"),
        tap: temperature("tap"),
        cooling: bakehouse.cooling.as_ref().map(|cooling| {
            let base = |quantity: &Quantity| quantity.unit.to_base(&quantity.number, measures);
            Cooled {
                mass: base(&cooling.mass),
                from: base(&cooling.from),
                to: base(&cooling.to),
                minutes: base(&cooling.time),
                at: base(&cooling.at),
                span: cooling.span,
            }
        }),
        currency: bakehouse
            .currency
            .as_ref()
            .map(|name| Setting { value: name.shown.clone(), span: name.span }),
        water: setting("water"),
    }
}

/// The house's scale as it shows the weights of a system.
fn scale_of(bakehouse: &tree::Bakehouse, measures: Measures, system: System) -> Option<Scale> {
    // A scale in grams says nothing of the ounces it shows, nor the other way round.
    let in_ounces = |line: &tree::ScaleLine| matches!(line.step.unit, Unit::Ounce | Unit::Pound);
    let us = system == System::Us;
    if bakehouse.scale.is_empty() || bakehouse.scale.iter().any(|line| in_ounces(line) != us) {
        return None;
    }
    let base = |quantity: &Quantity| quantity.unit.to_base(&quantity.number, measures);
    let steps = bakehouse.scale.iter().map(|line| ScaleStep {
        step: base(&line.step),
        above: line.above.as_ref().map(base),
        below: line.below.as_ref().map(base),
    });
    // A scale that shows every weight exactly is no scale.
    Some(Scale::new(steps.filter(|step| !step.step.is_zero()).collect()))
}
