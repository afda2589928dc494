//! How warm the water has to be, and how much of it is ice.

use crate::formula::{IngredientId, Steers, Warmth, ice_share, warmth};
use crate::print::context::PrintContext;
use crate::print::document::{WaterPart, Weight};
use crate::print::method;
use crate::quantity::Exact;

/// What the sheet tells of the water: grams, degrees Celsius.
struct WaterTold {
    celsius: Exact,
    water: Exact,
    ice: Option<Exact>,
    liquids: Vec<IngredientId>,
    /// Degrees that it moves for one of the dough.
    by_degree: Exact,
    lever: Option<String>,
}

impl PrintContext<'_, '_> {
    /// How warm the water has to be, and how much of it is ice.
    pub(super) fn water(&self) -> Option<WaterPart> {
        let warmth = warmth(self.worked).ok()?;
        let batches = Exact::from(self.batches);
        let stages = self.worked.order.iter();
        let before = stages.map(|&stage| method::stage_steps(&self.worked.formula.stages[stage]));
        let before: usize = before.sum();
        let own = warmth.steps(self.worked);
        let steps = self.worked.formula.method.iter().flat_map(|method| &method.steps);
        let titles: Vec<String> = steps
            .enumerate()
            .filter(|(index, _)| own.contains(index))
            .map(|(_, step)| method::group_title(self, step))
            .collect();
        let by = if warmth.by_balance { "water-by-balance" } else { "water-by-factor" };
        let told = self.water_told(&warmth);
        let by_degree = self.trimmed(&told.by_degree, 1);
        let unit = self.degree_unit();
        let correction =
            self.words.fill("water-next", &[("degrees", by_degree.as_str()), ("unit", unit)]);
        let names = self.liquid(&told.liquids);
        Some(WaterPart {
            temperature: self.told_temperature(&told),
            water: self.without_ice(&told.water, told.ice.as_ref()),
            ice: told.ice.map(|ice| self.weight(&ice.each_of(&batches))),
            label: self
                .words
                .fill("liquid-for", &[("liquid", names.as_str()), ("step", &titles.join(", "))]),
            steps: own.iter().map(|step| before + step).collect(),
            target: self.degrees(&warmth.target),
            method: self.words.say(by),
            correction,
            lever: told.lever,
        })
    }

    /// How warm the water has to be, as the sheet tells it, alone in a sentence.
    pub fn water_temperature(&self) -> Option<String> {
        let warmth = warmth(self.worked).ok()?;
        Some(self.told_temperature(&self.water_told(&warmth)))
    }

    fn told_temperature(&self, told: &WaterTold) -> String {
        match self.house.settings.tap.as_ref() == Some(&told.celsius) {
            true => self.degrees(&told.celsius),
            false => self.degrees_worked_out(&told.celsius),
        }
    }

    /// The liquid for one batch: with the ice it comes to what its line shows.
    fn without_ice(&self, liquid: &Exact, ice: Option<&Exact>) -> Weight {
        let batches = Exact::from(self.batches);
        let Some(ice) = ice else {
            let grams = liquid.each_of(&batches);
            return self.weight_as(&grams, &self.rounded_as_known(&grams));
        };
        let all = self.rounded_as_known(&(liquid + ice).each_of(&batches));
        let shown = all.less(&self.rounded(&ice.each_of(&batches)));
        self.weight_as(&liquid.each_of(&batches), &shown)
    }

    /// What is brought to which temperature, and what else helps where that is not enough.
    fn water_told(&self, warmth: &Warmth) -> WaterTold {
        let tap = self.house.settings.tap.as_ref();
        let with_ice = |celsius: &Exact| {
            let share =
                tap.and_then(|tap| ice_share(tap, celsius)).filter(|_| warmth.ice.is_some());
            let ice = share.map(|share| &warmth.mass * share);
            let shown = tap.filter(|_| ice.is_some()).unwrap_or(celsius).clone();
            let water = &warmth.mass - ice.clone().unwrap_or_default();
            let (liquids, by_degree) = (warmth.liquids.clone(), warmth.by_degree.clone());
            WaterTold { celsius: shown, water, ice, liquids, by_degree, lever: None }
        };
        match &warmth.steers {
            Steers::Water => with_ice(&warmth.water.amount),
            Steers::Together => {
                let alone = self.degrees_worked_out(&warmth.water.amount);
                WaterTold {
                    celsius: warmth.together.clone(),
                    water: warmth.poured_mass.clone(),
                    ice: None,
                    liquids: warmth.poured.clone(),
                    // There is so much more of it than of the water.
                    by_degree: (&warmth.by_degree * &warmth.mass).each_of(&warmth.poured_mass),
                    lever: Some(self.words.fill("water-together", &[("alone", &alone)])),
                }
            }
            Steers::Nothing { at, off } => {
                let id = if *off < Exact::ZERO { "water-too-cold" } else { "water-too-warm" };
                let far = off.clone().max(-off.clone());
                let far = format!("{} {}", self.degrees_apart(&far), self.degree_unit());
                let lever = Some(self.words.fill(id, &[("off", &far)]));
                WaterTold { lever, ..with_ice(at) }
            }
        }
    }

    /// What the liquid is called.
    fn liquid(&self, liquids: &[IngredientId]) -> String {
        let names = liquids.iter().map(|&id| {
            let name = &self.house.ingredient(id).name;
            self.called(&name.key, &name.shown)
        });
        names.collect::<Vec<_>>().join(", ")
    }
}
