//! The bakers' factor method: as many times the dough's temperature as there are temperatures
//! that count, less those temperatures and the friction of the mixer (Hamelman, *Bread*, on
//! dough temperature).

use super::dough::{Dough, ripe_at};
use crate::formula::figure::ValueKind;
use crate::formula::ground::{Assumption, Ground};
use crate::formula::line_ref::LineRef;
use crate::formula::reason::{How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::quantity::{Exact, int};
use ecow::EcoString;

/// A temperature that counts, and where it is known from.
pub(super) struct Warm {
    /// What is so warm.
    pub name: Subject,
    /// In degrees Celsius.
    pub celsius: Exact,
    /// Where that is known from.
    pub how: How,
}

impl Dough<'_, '_> {
    /// The temperatures that count: flour, room, and each stage that is in by then.
    pub(super) fn counted(&self) -> Vec<Warm> {
        let flour = match self.house.settings.flour {
            Some(_) => How::Written,
            None => How::Default(Assumption::FlourAsTheRoom),
        };
        let mut counted = vec![
            Warm { name: Topic::Flour.into(), celsius: self.flour.clone(), how: flour },
            Warm { name: Topic::Room.into(), celsius: self.room.clone(), how: How::Written },
        ];
        let mut seen: Vec<LineRef> = Vec::new();
        for line in &self.lines {
            if seen.contains(&line.goes) {
                continue;
            }
            seen.push(line.goes);
            let as_the_room = |name: &EcoString| Warm {
                name: name.into(),
                celsius: self.room.clone(),
                how: How::Default(Assumption::AsTheRoom),
            };
            let stage = match line.goes {
                LineRef::Stage(stage) => stage,
                LineRef::Culture(_) | LineRef::OldDough => {
                    counted.push(as_the_room(&line.name));
                    continue;
                }
                _ => continue,
            };
            let declared = &self.worked.formula.stages[stage];
            counted.push(match ripe_at(self.house, declared) {
                Some(celsius) => {
                    Warm { name: (&declared.name.shown).into(), celsius, how: How::Written }
                }
                None => as_the_room(&declared.name.shown),
            });
        }
        counted
    }

    /// As many times the dough's temperature as there are temperatures that count, less
    /// those and the friction.
    pub(super) fn by_factor(&self) -> (Reason, Exact) {
        let counted = self.counted();
        let count = int(counted.len() as i64 + 1);
        let number = Reason::new(
            Topic::TemperaturesThatCount,
            count.clone(),
            ValueKind::Number,
            what_counts(),
        );
        let target =
            Reason::new(Topic::Dough, self.target.clone(), ValueKind::Temperature, How::Written);
        let all = &count * &self.target;
        let mut whole =
            Reason::new(Topic::InAll, all.clone(), ValueKind::Temperature, How::Product);
        whole.parts = vec![number, target.at(self.span)];
        let mut left = all;
        let mut parts = vec![whole];
        for warm in counted {
            left -= &warm.celsius;
            parts.push(Reason::new(warm.name, warm.celsius, ValueKind::Temperature, warm.how));
        }
        left -= &self.friction.amount;
        parts.push(self.friction.clone());
        if self.poured.is_empty() {
            let mut water =
                Reason::new(Topic::WaterTemperature, left, ValueKind::Temperature, How::Difference);
            water.parts = parts;
            return (water, count);
        }
        let mut all = Reason::new(Topic::AllPoured, left, ValueKind::Temperature, How::Difference);
        all.parts = parts;
        self.beside_the_others(all, count)
    }

    /// What is poured at a temperature of its own, the water makes up for: by as much more as
    /// there is less of it.
    pub(super) fn beside_the_others(&self, all: Reason, count: Exact) -> (Reason, Exact) {
        let together = all.amount.clone();
        let mut parts = vec![all];
        let mut mass = self.water.clone();
        for own in &self.poured {
            mass += &own.mass;
            let share = &own.mass * &self.one_of_water;
            let colder = &together - &own.celsius;
            let amount = &share * &colder;
            let temperature = |what: Subject, amount: &Exact, how| {
                Reason::new(what, amount.clone(), ValueKind::Temperature, how)
            };
            let mut difference =
                temperature(Topic::ColderThanPoured.into(), &colder, How::Difference);
            difference.parts = vec![
                temperature(
                    Topic::AllPoured.into(),
                    &together,
                    How::Because(Ground::WorkedOutAbove),
                ),
                temperature((&own.name).into(), &own.celsius, own.how.clone()),
            ];
            let mut part = Reason::new(Topic::OfWaterWeight, share, ValueKind::Share, How::Ratio);
            part.parts = vec![
                Reason::new(
                    &own.name,
                    own.mass.clone(),
                    ValueKind::Mass,
                    How::Because(Ground::AllThatTheMixerGets),
                ),
                Reason::new(
                    Topic::Water,
                    self.water.clone(),
                    ValueKind::Mass,
                    How::Because(Ground::AllThatTheMixerGets),
                ),
            ];
            let mut for_it = Reason::new(
                Subject::For(own.name.clone()),
                amount,
                ValueKind::Temperature,
                How::Product,
            );
            for_it.parts = vec![part, difference];
            parts.push(for_it);
        }
        let sum = parts.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        let mut water = Reason::new(Topic::WaterTemperature, sum, ValueKind::Temperature, How::Sum);
        water.parts = parts;
        (water, count * mass * &self.one_of_water)
    }
}

/// What is counted.
pub(super) fn what_counts() -> How {
    How::Because(Ground::FlourRoomWaterAndStages)
}
