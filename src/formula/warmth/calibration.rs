//! What the friction or the work of a mixer really was, from a dough as it came out.

use super::dough::Dough;
use super::factor::what_counts;
use super::heat;
use super::water::Warmth;
use crate::formula::figure::ValueKind;
use crate::formula::ground::Ground;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::Topic;
use crate::formula::worked::Worked;
use crate::quantity::{Exact, int};

/// What the friction of the mixer really was, or its work in kilojoules for a kilogram, if
/// the dough came out at `measured` degrees Celsius with the water as given; for
/// friction: Lehmann, on finding it from a trial.
pub fn from_measured(worked: &Worked, warmth: &Warmth, measured: &Exact) -> Reason {
    let told = || How::Because(Ground::AsItWasTold);
    let water =
        Reason::new(Topic::Water, warmth.water.amount.clone(), ValueKind::Temperature, told());
    match Dough::of(worked) {
        Ok(dough) if warmth.by_balance => dough.work_from(measured, water),
        Ok(dough) => dough.friction_from(measured, water),
        // It was told, so everything is known.
        Err(_) => water,
    }
}

impl Dough<'_, '_> {
    fn friction_from(&self, measured: &Exact, water: Reason) -> Reason {
        let counted_here = self.counted();
        let count = int(counted_here.len() as i64 + 1);
        let mut left = &count * measured;
        let mut whole =
            Reason::new(Topic::InAll, left.clone(), ValueKind::Temperature, How::Product);
        whole.parts = vec![
            Reason::new(Topic::TemperaturesThatCount, count, ValueKind::Number, what_counts()),
            Reason::new(
                Topic::DoughAsMeasured,
                measured.clone(),
                ValueKind::Temperature,
                How::Written,
            ),
        ];
        let mut parts = vec![whole];
        for warm in counted_here {
            left -= &warm.celsius;
            parts.push(Reason::new(warm.name, warm.celsius, ValueKind::Temperature, warm.how));
        }
        let mut poured = water;
        if !self.poured.is_empty() {
            let amount = self.together(&poured.amount);
            let how = How::Because(Ground::WaterAsToldOthersAsKept);
            poured = Reason::new(Topic::AllPoured, amount, ValueKind::Temperature, how);
        }
        left -= &poured.amount;
        parts.push(poured);
        let mut friction =
            Reason::new(Topic::Friction, left, ValueKind::Temperature, How::Difference);
        friction.parts = parts;
        friction
    }

    /// The heat that the dough took up, less that of wetting flour, for a kilogram.
    fn work_from(&self, measured: &Exact, water: Reason) -> Reason {
        let kilo = |grams: &Exact| grams.one_in::<1000>();
        let mut parts = Vec::new();
        let own = kilo(&self.water) * heat::water() * (measured - &water.amount);
        parts.push(Reason::new(Topic::IntoTheWater, own, ValueKind::Energy, How::Written));
        for line in self.other_lines() {
            let capacity = kilo(&line.mass) * self.specific_heat(line);
            let heat = capacity * (measured - self.warm_as(line));
            parts.push(Reason::new(&line.name, heat, ValueKind::Energy, How::Written));
        }
        let taken = parts.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        let mut up = Reason::new(Topic::HeatTakenUp, taken, ValueKind::Energy, How::Sum);
        up.parts = parts;
        let (flour, dough) = self.flour_and_dough();
        let wetting = kilo(&flour) * heat::of_wetting();
        let wetting = Reason::new(Topic::OfWetting, wetting, ValueKind::Energy, How::Written);
        let left = &up.amount - &wetting.amount;
        let mut mixing = Reason::new(Topic::OfMixer, left, ValueKind::Energy, How::Difference);
        mixing.parts = vec![up, wetting];
        let kilograms = kilo(&dough);
        let Some(work) = mixing.amount.over(&kilograms) else { return mixing };
        let mut work = Reason::new(Topic::Work, work, ValueKind::Number, How::Ratio);
        work.parts = vec![
            mixing,
            Reason::new(Topic::KilogramsOfDough, kilograms, ValueKind::Number, How::Written),
        ];
        work
    }
}
