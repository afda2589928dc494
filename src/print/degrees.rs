//! Temperatures on paper.
//!
//! What was written in the degrees of a print stands as it was written. What is converted
//! is told to what hands can set: an oven to five degrees, in Fahrenheit where a
//! house has no oven that it declares, as at home, to twenty-five, all else to whole ones; finer only where the ends of a range would be one.

use super::context::PrintContext;
use crate::quantity::display::{exact, to_step};
use crate::quantity::{Exact, Measures, System, Unit, degrees_fahrenheit, int, ratio};
use crate::syntax::tree::{Extent, Quantity, Verb};

/// What a temperature is set at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heat {
    /// An oven, or fat to fry in.
    Oven,
    /// An oven at home, whose knob has marks for every 25 °F.
    HomeOven,
    /// A dough, a room, a refrigerator.
    Other,
}

/// Hotter than this, in degrees Celsius, is an oven or fat: no dough, steam or boiling
/// syrup of a bakery is.
const HOTTEST: i64 = 120;

impl Heat {
    /// What a step heats.
    pub fn of(verb: Option<Verb>, celsius: &Exact, home: bool) -> Self {
        match verb {
            Some(Verb::Fry) => Self::Oven,
            Some(Verb::Bake | Verb::Preheat) if home => Self::HomeOven,
            Some(Verb::Bake | Verb::Preheat) => Self::Oven,
            _ if *celsius <= int(HOTTEST) => Self::Other,
            _ if home => Self::HomeOven,
            _ => Self::Oven,
        }
    }

    /// The steps in which it is told in a system, the one that is wanted first.
    fn steps(self, system: System) -> Vec<Exact> {
        let finer = [int(1), ratio(1, 2), ratio(1, 10)];
        let wanted: &[i64] = match (self, system) {
            (Self::Other, _) => &[],
            (Self::HomeOven, System::Us) => &[25, 5],
            (Self::Oven, _) | (Self::HomeOven, System::Metric) => &[5],
        };
        wanted.iter().map(|&step| int(step)).chain(finer).collect()
    }
}

/// One end of a range of temperatures.
struct End {
    celsius: Exact,
    /// As its author wrote it.
    written: Option<(Exact, Unit)>,
}

impl End {
    fn of(quantity: &Quantity) -> Self {
        Self {
            celsius: quantity.unit.to_base(&quantity.number, Measures::Metric),
            written: Some((quantity.number.clone(), quantity.unit)),
        }
    }

    /// In the degrees of a system, and whether it was written in them.
    fn degrees(&self, system: System) -> (Exact, bool) {
        let own = match system {
            System::Metric => Unit::Celsius,
            System::Us => Unit::Fahrenheit,
        };
        match (&self.written, system) {
            (Some((number, unit)), _) if *unit == own => (number.clone(), true),
            // What nobody wrote in this print's degrees may still be whole tenths of them.
            (None, System::Metric) => (self.celsius.clone(), (&self.celsius * int(10)).is_int()),
            (_, System::Metric) => (self.celsius.clone(), false),
            (_, System::Us) => (fahrenheit(&self.celsius), false),
        }
    }
}

fn fahrenheit(celsius: &Exact) -> Exact {
    Unit::Fahrenheit.count_in(celsius, Measures::Metric)
}

impl PrintContext<'_, '_> {
    /// Whether this is a kitchen: bakeries declare their ovens. All prints of a house are
    /// alike in this.
    pub fn is_at_home(&self) -> bool {
        self.house.ovens().is_empty()
    }

    /// A temperature or a range of them as it was written, `23–25 °C`, `at least 24 °C`; of
    /// a step with this verb.
    pub fn temperature(&self, extent: &Extent, verb: Option<Verb>) -> String {
        let ends: Vec<End> = extent.low.iter().chain(&extent.high).map(End::of).collect();
        let Some(hottest) = ends.iter().map(|end| &end.celsius).max() else {
            return String::new();
        };
        let heat = Heat::of(verb, hottest, self.is_at_home());
        let shown = self.in_systems(|system| self.in_system(&ends, heat, system));
        let shown = match self.as_written(&ends, heat) {
            Some(written) => format!("{shown} ({written})"),
            None => shown,
        };
        let open = |id| self.words.fill(id, &[("amount", &shown)]);
        match (&extent.low, &extent.high) {
            (Some(_), None) if extent.ranged => open("at-least"),
            (None, Some(_)) => open("up-to"),
            _ => shown,
        }
    }

    /// A single one as it was written, of no step.
    pub fn temperature_of(&self, written: &Quantity) -> String {
        let ends = [End::of(written)];
        let heat = Heat::of(None, &ends[0].celsius, self.is_at_home());
        self.in_systems(|system| self.in_system(&ends, heat, system))
    }

    /// A temperature of which only the degrees Celsius are known: `25 °C`, `77 °F`, or both
    /// where both systems are printed.
    pub fn degrees(&self, celsius: &Exact) -> String {
        self.degrees_range(celsius, celsius)
    }

    /// A range of such temperatures: `23–25 °C`.
    pub fn degrees_range(&self, low: &Exact, high: &Exact) -> String {
        let ends = [low, high].map(|celsius| End { celsius: celsius.clone(), written: None });
        let heat = Heat::of(None, low.max(high), self.is_at_home());
        self.in_systems(|system| self.in_system(&ends, heat, system))
    }

    /// One that was worked out: to a tenth of a degree Celsius, a degree Fahrenheit.
    pub fn degrees_worked_out(&self, celsius: &Exact) -> String {
        self.in_systems(|system| match system {
            System::Metric => format!("{} °C", self.trimmed(celsius, 1)),
            System::Us => format!("{} °F", self.trimmed(&fahrenheit(celsius), 0)),
        })
    }

    /// The unit of temperatures that comes first.
    pub fn degree_unit(&self) -> &'static str {
        if self.first() == System::Metric { "°C" } else { "°F" }
    }

    /// A difference of temperatures in that unit.
    pub fn degrees_apart(&self, celsius: &Exact) -> String {
        match self.first() {
            System::Metric => self.trimmed(celsius, 1),
            System::Us => self.trimmed(&degrees_fahrenheit(celsius), 0),
        }
    }

    /// What stands on the knob at home of who wrote degrees Fahrenheit, where only degrees
    /// Celsius are printed, to the step of an oven: `450 °F` beside `230 °C`.
    fn as_written(&self, ends: &[End], heat: Heat) -> Option<String> {
        let in_fahrenheit = |end: &End| matches!(end.written, Some((_, Unit::Fahrenheit)));
        let is_lost = heat == Heat::HomeOven
            && self.first() == System::Metric
            && !self.house.settings.units.both
            && ends.iter().all(in_fahrenheit);
        is_lost.then(|| self.in_system(ends, heat, System::Us))
    }

    fn in_systems(&self, shown: impl Fn(System) -> String) -> String {
        let first = self.first();
        match self.house.settings.units.both {
            true => format!("{} / {}", shown(first), shown(first.other())),
            false => shown(first),
        }
    }

    fn in_system(&self, ends: &[End], heat: Heat, system: System) -> String {
        let mut degrees: Vec<(Exact, bool)> = ends.iter().map(|end| end.degrees(system)).collect();
        // Of two equal ends the one that is shown as it was written stands for both.
        degrees.dedup_by(|next, end| {
            let is_same = next.0 == end.0;
            end.1 |= is_same && next.1;
            is_same
        });
        let is_one = degrees.len() == 1;
        let shown_by = |step: &Exact| -> Vec<String> {
            let shown = |(degrees, kept): &(Exact, bool)| match kept {
                true => exact(degrees),
                false => exact(&to_step(degrees, step)),
            };
            let shown = degrees.iter().map(shown);
            shown.map(|plain| self.words.number(&plain.replace('-', "−"))).collect()
        };
        let steps = heat.steps(system);
        let mut all = steps.iter().map(shown_by);
        let mut shown = all.find(|shown| is_one || shown.first() != shown.last());
        let shown = shown.get_or_insert_with(|| steps.last().map(shown_by).unwrap_or_default());
        shown.dedup();
        let unit = if system == System::Metric { "°C" } else { "°F" };
        format!("{} {unit}", shown.join("–"))
    }
}
