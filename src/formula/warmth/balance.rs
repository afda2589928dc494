//! The balance of heat: what the water has to take up of the heat of mixing and of wetting
//! flour, so that the dough comes out as it should.

use super::dough::{Dough, kept_at, ripe_at};
use super::heat::{self, moist};
use crate::formula::class::Class;
use crate::formula::composition::IngredientId;
use crate::formula::figure::ValueKind;
use crate::formula::ground::{Assumption, Ground};
use crate::formula::line_ref::LineRef;
use crate::formula::reason::{Degrees, How, Reason};
use crate::formula::subject::Topic;
use crate::formula::worked::WorkedLine;
use crate::quantity::{Exact, int, ratio};

impl Dough<'_, '_> {
    /// The water takes up what heat there is too much: that of wetting flour and of the
    /// mixer, less what warms everything else to the dough's temperature.
    pub(super) fn by_balance(&self) -> (Reason, Exact) {
        let made = self.heat_made();
        let kilo = |grams: &Exact| grams.one_in::<1000>();
        let mut warmed = Vec::new();
        let mut capacity = Exact::ZERO;
        for line in self.other_lines() {
            let own = kilo(&line.mass) * self.specific_heat(line);
            let heat = &own * (&self.target - self.warm_as(line));
            capacity += own;
            if !heat.is_zero() {
                warmed.push(Reason::new(&line.name, heat, ValueKind::Energy, How::Written));
            }
        }
        let warming = warmed.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        let mut others = Reason::new(Topic::ToWarmAllElse, warming, ValueKind::Energy, How::Sum);
        others.parts = warmed;
        if others.parts.is_empty() {
            others.how = How::Because(Ground::AllElseIsAsWarm);
        }
        let left = &made.amount - &others.amount;
        let mut heat = Reason::new(Topic::ForTheWater, left, ValueKind::Energy, How::Difference);
        heat.parts = vec![made, others];
        let takes = kilo(&self.water) * heat::water();
        let takes = Reason::new(Topic::WaterForDegree, takes, ValueKind::Energy, How::Written)
            .in_degrees(Degrees::ForEach);
        // The degrees that a kilojoule warms the water by.
        let degrees = &self.one_of_water * int(1000) * heat::by_water();
        let by_degree = Exact::ONE + capacity * &degrees;
        let colder = &heat.amount * &degrees;
        let mut colder =
            Reason::new(Topic::ColderThanDough, colder, ValueKind::Temperature, How::Ratio)
                .in_degrees(Degrees::Apart);
        colder.parts = vec![heat, takes];
        let target =
            Reason::new(Topic::Dough, self.target.clone(), ValueKind::Temperature, How::Written);
        let celsius = &self.target - &colder.amount;
        let mut water =
            Reason::new(Topic::WaterTemperature, celsius, ValueKind::Temperature, How::Difference);
        water.parts = vec![target.at(self.span), colder];
        (water, by_degree)
    }

    /// Kilojoules of wetting and mixing. Where the mixer's work is not known, its friction
    /// stands for both: water so much colder than the dough, if all else is as warm as it.
    pub(super) fn heat_made(&self) -> Reason {
        let kilo = |grams: &Exact| grams.one_in::<1000>();
        let Some(work) = &self.work else {
            let heat = kilo(&self.water) * heat::water() * &self.friction.amount;
            let how = How::Default(Assumption::FrictionForWork);
            return Reason::new(Topic::HeatOfMixing, heat, ValueKind::Energy, how);
        };
        let (flour, dough) = self.flour_and_dough();
        let wetting = kilo(&flour) * heat::of_wetting();
        let mixing = kilo(&dough) * work;
        let mut made =
            Reason::new(Topic::HeatMade, &wetting + &mixing, ValueKind::Energy, How::Sum);
        made.parts = vec![
            Reason::new(Topic::OfWetting, wetting, ValueKind::Energy, How::Written),
            Reason::new(Topic::OfMixer, mixing, ValueKind::Energy, How::Written),
        ];
        made
    }

    /// How warm a line is when it goes in, in degrees Celsius.
    pub(super) fn warm_as(&self, line: &WorkedLine) -> Exact {
        match line.goes {
            LineRef::Ingredient(id) if self.worked.is_flour(id) => self.flour.clone(),
            LineRef::Ingredient(id) => {
                kept_at(self.house, id).map_or_else(|| self.room.clone(), |(celsius, _)| celsius)
            }
            LineRef::Stage(stage) => {
                let declared = &self.worked.formula.stages[stage];
                ripe_at(self.house, declared).unwrap_or_else(|| self.room.clone())
            }
            _ => self.room.clone(),
        }
    }

    /// Kilojoules that a kilogram takes up for a degree.
    pub(super) fn specific_heat(&self, line: &WorkedLine) -> Exact {
        match line.goes {
            LineRef::Ingredient(id) => self.specific_heat_of(id),
            LineRef::Stage(stage) => {
                let content = &self.worked.first().stages[stage].goes_on;
                let water = self.worked.class_mass(content, Class::Water);
                let share = water.over(&content.mass());
                share.map_or_else(heat::flour, |share| moist(&share))
            }
            _ => moist(&ratio(1, 2)),
        }
    }

    /// The same of an ingredient.
    pub(super) fn specific_heat_of(&self, id: IngredientId) -> Exact {
        let ingredient = self.house.ingredient(id);
        match ingredient.class {
            _ if self.worked.is_flour(id) => heat::flour(),
            Class::Salt | Class::Sugar => heat::crystals(),
            Class::Fat => heat::fat(),
            _ => moist(&ingredient.water_share().unwrap_or_default()),
        }
    }
}
