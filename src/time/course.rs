//! How warm a dough is on its way from phase to phase, as written and as it would be.
//!
//! Dough that goes into the cold is warm at first and does much of its work while it
//! cools; one out of the cold, or mixed cooler than the room, has to come to it first. How
//! fast is measured by the house (`cooling …`), or that of a ball of dough in moving air.

#![allow(clippy::disallowed_types, reason = "a model of how dough ferments, warms and cools")]

use super::cooling::{
    Cooling, CoolingError, FAN, UNFERMENTED_DOUGH, sphere_time_constant,
    time_constant_from_measurement,
};
use super::graph::Stretch;
use super::standing::{Asked, StandKind, Standing, method};
use crate::formula::{House, Worked, known as store_known};
use crate::quantity::display::to_step;
use crate::quantity::{Exact, ratio};
use crate::syntax::tree::Verb;

/// From so many degrees on it is told that something starts at another temperature.
const TOLD: f64 = 0.5;

/// Degrees Celsius of a mix as written and as it would be; none where nothing says, so
/// that it is as warm as what it stands in.
#[derive(Clone, Copy, Debug, Default)]
struct Warm {
    written: Option<f64>,
    now: Option<f64>,
}

/// The courses of the dough and of every stage.
pub struct Course<'a, 't> {
    house: &'a House<'t>,
    worked: &'a Worked<'t>,
    /// Degrees Celsius of the room, as written and as asked.
    room: Warm,
    /// By stage; the dough's last. As it is at this point, and as it was put together.
    warm: Vec<Warm>,
    mixed: Vec<Warm>,
}

/// The courses that the lightest and the heaviest lump take, as written and as asked.
pub struct Ways {
    /// One pair for each lump: as written, and as asked.
    pub lumps: Vec<(Cooling, Cooling)>,
    /// Where it starts at another temperature: degrees Celsius, and minutes in which half
    /// of the difference is gone.
    pub start: Option<(Exact, Exact)>,
}

impl<'a, 't> Course<'a, 't> {
    /// The course for a formula, under what is asked.
    pub fn new(house: &'a House<'t>, worked: &'a Worked<'t>, asked: &Asked) -> Self {
        let written = house.settings.room.as_ref().map(value);
        let room = Warm { written, now: asked.room.as_ref().map(value).or(written) };
        let all = vec![Warm::default(); worked.formula.stages.len() + 1];
        Self { house, worked, room, warm: all.clone(), mixed: all }
    }

    /// How warm something is when it begins to stand so.
    fn start(&self, standing: &Standing) -> Warm {
        let all = if standing.begins { &self.mixed } else { &self.warm };
        let known = all.get(self.index(standing)).copied().unwrap_or_default();
        // What goes into the cold comes from somewhere warmer.
        let (written, now) = match (standing.kind, standing.stage) {
            (StandKind::Cold, None) => (None, None),
            (StandKind::Cold, Some(_)) => (self.room.written, self.room.now),
            _ => return known,
        };
        // Of what nothing says how warm it was.
        let usual = store_known("usual places", "fresh dough").to_f64();
        Warm {
            written: known.written.or(written).or(Some(usual)),
            now: known.now.or(now).or(Some(usual)),
        }
    }

    fn index(&self, standing: &Standing) -> usize {
        standing.stage.unwrap_or(self.worked.formula.stages.len())
    }

    /// Whether it begins to stand so as warm as it is written.
    pub fn starts_alike(&self, standing: &Standing) -> bool {
        let Warm { written, now } = self.start(standing);
        written == now
    }

    /// Whether it is frozen when it begins to stand so: it would have to thaw first.
    pub fn is_frozen(&self, standing: &Standing) -> bool {
        let Warm { written, now } = self.start(standing);
        [written, now].into_iter().flatten().any(|celsius| celsius < 0.0)
    }

    /// The courses from the start towards these degrees Celsius.
    ///
    /// # Errors
    /// Where the house's measurement of cooling can't be.
    pub fn ways(
        &self,
        standing: &Standing,
        written: &Exact,
        now: &Exact,
    ) -> Result<Ways, CoolingError> {
        let (written, now, start) = (value(written), value(now), self.start(standing));
        let (from, from_now) = (start.written.unwrap_or(written), start.now.unwrap_or(now));
        let is_level = from == written && from_now == now;
        let masses = self.masses(standing);
        let hours: Vec<f64> = match is_level || masses.iter().any(Exact::is_zero) {
            true => vec![1.0],
            false => {
                masses.iter().map(|mass| self.time_constant(mass)).collect::<Result<_, _>>()?
            }
        };
        let lumps = hours.iter().map(|&hours| {
            Ok((Cooling::new(from, written, hours)?, Cooling::new(from_now, now, hours)?))
        });
        let slow = hours.iter().copied().fold(0.0, f64::max);
        let differs = (from_now - now).abs() >= TOLD || (from - written).abs() >= TOLD;
        let halves = (slow * 60.0 * std::f64::consts::LN_2).round();
        let start = (differs && !is_level).then_some(from_now);
        let exact = |value: f64| Exact::try_from(value).unwrap_or_default();
        let start = start.map(|from| (to_step(&exact(from), &ratio(1, 2)), exact(halves)));
        Ok(Ways { lumps: lumps.collect::<Result<_, CoolingError>>()?, start })
    }

    /// What stands so goes on to what follows, `before` as it is written.
    pub fn go_on(
        &mut self,
        standing: &Standing,
        before: &Stretch,
        stretch: &Stretch,
        now: Option<&Exact>,
    ) {
        let start = self.start(standing);
        let after = match (&standing.to, &standing.at) {
            (Some(to), _) => Warm { written: Some(value(to)), now: Some(value(to)) },
            (None, Some(at)) => self.after(standing, start, (at, before), (now, stretch)),
            // Of what stands in a room that nobody told, the temperature it comes to is as
            // little known as the room's.
            (None, None) => start,
        };
        let index = self.index(standing);
        if let Some(warm) = self.warm.get_mut(index) {
            *warm = after;
        }
        let in_method = standing.step.is_some();
        if let Some(mixed) = self.mixed.get_mut(index).filter(|_| in_method) {
            *mixed = after;
        }
    }

    fn after(
        &self,
        standing: &Standing,
        start: Warm,
        (at, before): (&Exact, &Stretch),
        (now, stretch): (Option<&Exact>, &Stretch),
    ) -> Warm {
        let now = now.map_or(value(at), value);
        let at = value(at);
        let heaviest = self.masses(standing).into_iter().max().filter(|mass| !mass.is_zero());
        let hours = heaviest.and_then(|mass| self.time_constant(&mass).ok());
        let reached = |from: Option<f64>, at: f64, stretch: &Stretch| {
            let best = stretch.best().filter(|_| !stretch.untimed);
            let (Some(from), Some(hours), Some(best)) = (from, hours, best) else { return at };
            let course = Cooling::new(from, at, hours);
            course.map_or(at, |course| course.celsius_after(value(&best) / 60.0))
        };
        Warm {
            written: Some(reached(start.written, at, before)),
            now: Some(reached(start.now, now, stretch)),
        }
    }

    /// Grams of what lies together, the lightest and the heaviest: pieces after the divide,
    /// else the whole mix.
    fn masses(&self, standing: &Standing) -> Vec<Exact> {
        let numbers = self.worked.first();
        if let Some(stage) = standing.stage {
            return numbers.stages.get(stage).map(|it| it.made.clone()).into_iter().collect();
        }
        let steps = method(self.worked, None).map_or(&[][..], |method| &method.steps);
        let before = steps.iter().take(standing.step.unwrap_or_default());
        let parted = before.clone().any(|it| it.verb == Verb::Divide);
        let pieces = numbers.pieces.iter().map(|piece| &piece.made.weight);
        let weights: Vec<&Exact> = pieces.filter(|weight| !weight.is_zero()).collect();
        match (weights.iter().min(), weights.iter().max()) {
            (Some(light), Some(heavy)) if parted && light == heavy => vec![(*light).clone()],
            (Some(light), Some(heavy)) if parted => vec![(*light).clone(), (*heavy).clone()],
            _ => vec![numbers.whole.mass()],
        }
    }

    /// Hours in which the difference to the surroundings falls to 1/e: by what the house
    /// measured, taken to another mass as its surface to its volume, or that of a ball.
    fn time_constant(&self, mass: &Exact) -> Result<f64, CoolingError> {
        let Some(cooled) = &self.house.settings.cooling else {
            return sphere_time_constant(value(mass) / 1000.0, FAN, &UNFERMENTED_DOUGH);
        };
        let hours = time_constant_from_measurement(
            value(&cooled.from),
            value(&cooled.at),
            value(&cooled.minutes) / 60.0,
            value(&cooled.to),
        )?;
        let lighter = value(mass) / value(&cooled.mass);
        Ok(hours * lighter.powf(2.0 / 3.0))
    }
}

fn value(exact: &Exact) -> f64 {
    exact.to_f64()
}
