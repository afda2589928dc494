//! How warm the water of a dough has to be, so that the dough comes out as it should.
//!
//! By the bakers' factor method: as many times the dough's temperature as there are
//! temperatures that count, less those temperatures and the friction of the mixer
//! (Hamelman, *Bread*, on dough temperature). Or by the balance of heat: what the water
//! has to take up of the heat of mixing and of wetting flour. Below the tap, a part of
//! the water is ice.

use super::class::Class;
use super::content::IngredientId;
use super::figure::Kind;
use super::house::{House, Mixer, built_in};
use super::line_ref::Goes;
use super::method::Added;
use super::reason::{How, Reason};
use super::worked::{Within, Worked, WorkedLine};
use crate::quantity::{Exact, int, ratio};
use crate::source::Span;
use crate::syntax::tree::{Phase, Stage, Wait};

/// Kilojoules that a kilogram takes up for each degree.
mod heat {
    use super::{Exact, ratio};

    /// Water and flour: Cengel and Boles, *Thermodynamics*, problem 5-157.
    pub fn water() -> Exact {
        ratio(418, 100)
    }
    pub fn flour() -> Exact {
        ratio(176, 100)
    }
    /// Salt and sugar, between 0.85 and 1.25: from memory.
    pub fn crystals() -> Exact {
        ratio(105, 100)
    }
    /// From memory.
    pub fn fat() -> Exact {
        Exact::from(2u8)
    }
    /// Kilojoules that a kilogram of flour gives off when it gets wet: the same problem; a
    /// trade dictionary has 6.5 Btu for a pound, which is 15.1.
    pub fn of_wetting() -> Exact {
        Exact::from(15u8)
    }
}

/// What ice takes up in melting, as degrees of the water it becomes: 334 kJ a kilogram
/// over 4.18, which the trade counts as 80 °C.
const MELTING: i64 = 80;

/// What mixing by hand adds, in degrees of the factor method: between 3 and 7 °C in
/// trade reports of 5 to 12 °F; no single source.
const BY_HAND: i64 = 5;

/// The water of a dough, its temperature and the ice in it.
#[derive(Clone, Debug)]
pub struct Warmth {
    /// The temperature that the dough is to have, in degrees Celsius.
    pub target: Exact,
    /// The temperature of the water, in degrees Celsius, and how it comes about. Below
    /// zero it is a measure of heat only: the water is ice in part.
    pub water: Reason,
    /// Grams of liquid that it is about.
    pub mass: Exact,
    /// Grams of ice that are a part of it, where it has to be colder than the tap.
    pub ice: Option<Reason>,
    /// How many degrees the water moves for one of the dough.
    pub by_degree: Exact,
    pub by_balance: bool,
    /// What it is made of: the water or, where there is none, milk and the like.
    pub liquids: Vec<IngredientId>,
    /// All that is poured in, the water too; how warm it would be together, in degrees
    /// Celsius, and how many grams it is.
    pub poured: Vec<IngredientId>,
    pub together: Exact,
    pub poured_mass: Exact,
    pub steers: Steers,
    /// Where the dough's temperature is written.
    pub span: Span,
}

/// What can bring the dough to its temperature.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Steers {
    /// The water, as it is told.
    Water,
    /// Water alone is too little; with all else that is poured, brought to `together`.
    Together,
    /// Nothing poured in can: at this many degrees Celsius, the most that is sound, the
    /// dough comes out so many degrees from what is aimed at.
    Nothing { at: Exact, off: Exact },
}

/// Why there is no temperature to tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoWarmth {
    /// No step says how warm the dough is to be.
    NoTarget,
    /// Nothing liquid goes into the dough.
    NoWater(Span),
    /// The bakehouse does not say how warm its room is.
    NoRoom,
    /// The mixer has no friction.
    NoFriction,
}

/// A temperature that counts, and where it is known from.
struct Warm<'n> {
    name: &'n str,
    celsius: Exact,
    how: How,
}

/// How warm the water of the final dough has to be.
///
/// # Errors
/// What is not known.
pub fn warmth(worked: &Worked) -> Result<Warmth, NoWarmth> {
    let house = worked.house;
    let dough = Dough::of(worked)?;
    let by_balance =
        house.settings.water.as_ref().is_some_and(|setting| setting.value == "by heat balance");
    let (water, by_degree) = match by_balance {
        true => dough.by_balance(),
        false => dough.by_factor(),
    };
    let ice = dough.ice(&water.amount);
    let together = dough.together(&water.amount);
    let steers = dough.steers(&water.amount, &together, &by_degree);
    let poured_mass = dough.poured.iter().fold(dough.water.clone(), |sum, own| sum + &own.mass);
    let others = dough.poured.iter().map(|own| own.id);
    Ok(Warmth {
        target: dough.target,
        water,
        mass: dough.water,
        ice,
        by_degree,
        by_balance,
        poured: dough.liquids.iter().copied().chain(others).collect(),
        together,
        poured_mass,
        steers,
        liquids: dough.liquids,
        span: dough.span,
    })
}

/// Something that is poured in beside the water, at a temperature of its own.
struct Poured {
    id: IngredientId,
    name: String,
    mass: Exact,
    celsius: Exact,
    how: How,
}

/// How warm an ingredient is when it goes in, as the house says or as its class usually is;
/// nothing for what is as warm as the room.
fn kept_at(house: &House, id: IngredientId) -> Option<(Exact, How)> {
    let ingredient = house.ingredient(id);
    if let Some(kept) = &ingredient.kept {
        return Some((kept.clone(), How::Written));
    }
    let bounds = &built_in().style("usual temperatures")?.bounds;
    let own = bounds.iter().find(|bound| bound.what.name.key == ingredient.class.word())?;
    // A powder stands on the shelf.
    let celsius = built_in().middle(&own.range).filter(|_| is_poured(house, id))?;
    Some((celsius, How::Default("from the refrigerator: common practice, no source")))
}

/// Whether it is wet enough to be poured.
fn is_poured(house: &House, id: IngredientId) -> bool {
    let ingredient = house.ingredient(id);
    let is_wet = ingredient.water_share().is_some_and(|share| share >= ratio(1, 2));
    match ingredient.class {
        Class::Water => true,
        Class::Liquid | Class::Dairy | Class::Egg => is_wet,
        _ => false,
    }
}

/// The highest that water may be, in degrees Celsius, and the most of it that may be ice.
fn sound_water() -> (Exact, Exact) {
    let bounds = built_in().style("usual water").map(|style| &style.bounds);
    let most = |key: &str| {
        let own = bounds.and_then(|all| all.iter().find(|bound| bound.what.name.key == key));
        own.and_then(|bound| built_in().middle(&bound.range)).unwrap_or_default()
    };
    (most("water temperature"), most("ice"))
}

impl Warmth {
    /// The steps of the dough in which the water goes in.
    pub fn steps(&self, worked: &Worked) -> Vec<usize> {
        let Some(method) = worked.formula.method.as_ref() else { return Vec::new() };
        let additions = worked.additions(method, Within::FinalDough);
        let is_it = |added: &Added| match added.line.goes {
            Goes::Ingredient(id) => !added.beside && self.liquids.contains(&id),
            _ => false,
        };
        let steps = additions.steps.iter().enumerate();
        steps.filter(|(_, added)| added.iter().any(is_it)).map(|(step, _)| step).collect()
    }
}

/// What is known of a dough and of the room it is mixed in.
struct Dough<'a, 't> {
    house: &'a House<'t>,
    worked: &'a Worked<'t>,
    target: Exact,
    span: Span,
    /// Grams of liquid that can be made colder or warmer.
    water: Exact,
    liquids: Vec<IngredientId>,
    /// What else is poured in.
    poured: Vec<Poured>,
    room: Exact,
    flour: Exact,
    friction: Reason,
    /// Kilojoules that the mixer puts into a kilogram of dough, where it is known.
    work: Option<Exact>,
}

impl<'a, 't> Dough<'a, 't> {
    fn of(worked: &'a Worked<'t>) -> Result<Self, NoWarmth> {
        let house = worked.house;
        let steps = worked.formula.method.iter().flat_map(|method| &method.steps);
        let phases = steps.flat_map(|step| step.phases.iter().map(move |phase| (step, phase)));
        let aimed = phases.clone().find_map(|(_, phase)| Some((phase, phase.to.as_deref()?)));
        let (phase, aimed) = aimed.ok_or(NoWarmth::NoTarget)?;
        let target = house.middle(aimed).ok_or(NoWarmth::NoTarget)?;
        let liquids = liquids(house, worked);
        let is_liquid = |line: &&WorkedLine| match line.goes {
            Goes::Ingredient(id) => liquids.contains(&id),
            _ => false,
        };
        let lines = worked.first().dough_lines.iter().filter(is_liquid);
        let water = lines.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        if water.is_zero() {
            return Err(NoWarmth::NoWater(aimed.span));
        }
        let settings = &house.settings;
        let room = settings.room.clone().ok_or(NoWarmth::NoRoom)?;
        let poured = poured_beside(house, worked, &liquids, &room);
        let whole = worked.first().whole.mass();
        let mixer = mixer(house, phase, phases.clone().map(|(_, phase)| phase), &whole);
        let by_hand = phase.by_hand;
        Ok(Self {
            house,
            worked,
            target,
            span: aimed.span,
            water,
            liquids,
            poured,
            flour: settings.flour.clone().unwrap_or_else(|| room.clone()),
            room,
            friction: friction(mixer, by_hand).ok_or(NoWarmth::NoFriction)?,
            work: mixer.and_then(|mixer| mixer.work.clone()),
        })
    }

    /// The temperatures that count: flour, room, and each stage that goes in.
    fn counted(&self) -> Vec<Warm<'_>> {
        let flour = match self.house.settings.flour {
            Some(_) => How::Written,
            None => How::Default("the bakehouse does not say how warm its flour is: as the room"),
        };
        let mut counted = vec![
            Warm { name: "flour", celsius: self.flour.clone(), how: flour },
            Warm { name: "room", celsius: self.room.clone(), how: How::Written },
        ];
        let mut seen: Vec<Goes> = Vec::new();
        let lines = self.worked.first().dough_lines.iter().filter(|line| !line.mass.is_zero());
        for line in lines {
            if seen.contains(&line.goes) {
                continue;
            }
            seen.push(line.goes);
            let as_the_room = |name| Warm {
                name,
                celsius: self.room.clone(),
                how: How::Default("nothing says how warm it is: as the room"),
            };
            let stage = match line.goes {
                Goes::Stage(stage) => stage,
                Goes::Culture(_) | Goes::OldDough => {
                    counted.push(as_the_room(&line.name));
                    continue;
                }
                _ => continue,
            };
            let declared = &self.worked.formula.stages[stage];
            counted.push(match ripe_at(self.house, declared) {
                Some(celsius) => Warm { name: &declared.name.shown, celsius, how: How::Written },
                None => as_the_room(&declared.name.shown),
            });
        }
        counted
    }

    /// As many times the dough's temperature as there are temperatures that count, less
    /// those and the friction.
    fn by_factor(&self) -> (Reason, Exact) {
        let counted = self.counted();
        let count = int(counted.len() as i64 + 1);
        let number =
            Reason::new("temperatures that count", count.clone(), Kind::Number, what_counts());
        let target = Reason::new("dough", self.target.clone(), Kind::Temperature, How::Written);
        let all = &count * &self.target;
        let mut whole = Reason::new("in all", all.clone(), Kind::Temperature, How::Product);
        whole.parts = vec![number, target.at(self.span)];
        let mut left = all;
        let mut parts = vec![whole];
        for warm in counted {
            left -= &warm.celsius;
            parts.push(Reason::new(warm.name, warm.celsius, Kind::Temperature, warm.how));
        }
        left -= &self.friction.amount;
        parts.push(self.friction.clone());
        if self.poured.is_empty() {
            let mut water =
                Reason::new("water temperature", left, Kind::Temperature, How::Difference);
            water.parts = parts;
            return (water, count);
        }
        let mut all = Reason::new("all that is poured", left, Kind::Temperature, How::Difference);
        all.parts = parts;
        self.beside_the_others(all, count)
    }

    /// What is poured at a temperature of its own, the water makes up for: by as much more as
    /// there is less of it.
    fn beside_the_others(&self, all: Reason, count: Exact) -> (Reason, Exact) {
        let together = all.amount.clone();
        let mut parts = vec![all];
        let mut mass = self.water.clone();
        for own in &self.poured {
            mass += &own.mass;
            let share = &own.mass / &self.water;
            let colder = &together - &own.celsius;
            let amount = &share * &colder;
            let temperature = |what: &str, amount: &Exact, how| {
                Reason::new(what, amount.clone(), Kind::Temperature, how)
            };
            let mut difference = temperature("colder than that", &colder, How::Difference);
            difference.parts = vec![
                temperature(
                    "all that is poured",
                    &together,
                    How::Words("as worked out above".into()),
                ),
                temperature(&own.name, &own.celsius, own.how.clone()),
            ];
            let mut part = Reason::new("of the water's weight", share, Kind::Share, How::Ratio);
            part.parts = vec![
                Reason::new(
                    own.name.as_str(),
                    own.mass.clone(),
                    Kind::Mass,
                    How::Words("all that the mixer gets".into()),
                ),
                Reason::new(
                    "water",
                    self.water.clone(),
                    Kind::Mass,
                    How::Words("all that the mixer gets".into()),
                ),
            ];
            let mut for_it =
                Reason::new(format!("for {}", own.name), amount, Kind::Temperature, How::Product);
            for_it.parts = vec![part, difference];
            parts.push(for_it);
        }
        let sum = parts.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        let mut water = Reason::new("water temperature", sum, Kind::Temperature, How::Sum);
        water.parts = parts;
        (water, count * mass / &self.water)
    }

    /// How warm all that is poured is together, in degrees Celsius, with water so warm.
    fn together(&self, water: &Exact) -> Exact {
        let start = (self.water.clone(), &self.water * water);
        let (mass, heat) = self
            .poured
            .iter()
            .fold(start, |(mass, heat), own| (mass + &own.mass, heat + &own.mass * &own.celsius));
        if mass.is_zero() { water.clone() } else { heat / mass }
    }

    fn steers(&self, water: &Exact, together: &Exact, by_degree: &Exact) -> Steers {
        let (hottest, most_ice) = sound_water();
        // With ice in it water does as if it were colder than freezing.
        let coldest = match &self.house.settings.tap {
            Some(tap) if self.is_water() => tap - most_ice * (tap + int(MELTING)),
            _ => Exact::ZERO,
        };
        if *water >= coldest && *water <= hottest {
            return Steers::Water;
        }
        if !self.poured.is_empty() && *together >= Exact::ZERO && *together <= hottest {
            return Steers::Together;
        }
        let at = if *water > hottest { hottest } else { coldest };
        let off = match by_degree.is_zero() {
            true => Exact::ZERO,
            false => (&at - water) / by_degree,
        };
        Steers::Nothing { at, off }
    }

    /// Whether all that is brought to a temperature is water: only that can be ice in part.
    fn is_water(&self) -> bool {
        self.liquids.iter().all(|id| self.house.ingredient(*id).class == Class::Water)
    }

    /// The water takes up what heat there is too much: that of wetting flour and of the
    /// mixer, less what warms everything else to the dough's temperature.
    fn by_balance(&self) -> (Reason, Exact) {
        let made = self.heat_made();
        let kilo = |grams: &Exact| grams / int(1000);
        let mut warmed = Vec::new();
        let mut capacity = Exact::ZERO;
        for line in self.other_lines() {
            let own = kilo(&line.mass) * self.specific_heat(line);
            let heat = &own * (&self.target - self.warm_as(line));
            capacity += own;
            if !heat.is_zero() {
                warmed.push(Reason::new(line.name.as_str(), heat, Kind::Energy, How::Written));
            }
        }
        let warming = warmed.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        let mut others = Reason::new("to warm all else", warming, Kind::Energy, How::Sum);
        others.parts = warmed;
        if others.parts.is_empty() {
            others.how = How::Words("all else is as warm as the dough".into());
        }
        let left = &made.amount - &others.amount;
        let mut heat = Reason::new("for the water", left, Kind::Energy, How::Difference);
        heat.parts = vec![made, others];
        let takes = kilo(&self.water) * heat::water();
        let takes = Reason::new("water takes for a degree", takes, Kind::Energy, How::Written);
        let by_degree = Exact::ONE + capacity / &takes.amount;
        let colder = &heat.amount / &takes.amount;
        let mut colder =
            Reason::new("colder than the dough", colder, Kind::Temperature, How::Ratio);
        colder.parts = vec![heat, takes];
        let target = Reason::new("dough", self.target.clone(), Kind::Temperature, How::Written);
        let celsius = &self.target - &colder.amount;
        let mut water =
            Reason::new("water temperature", celsius, Kind::Temperature, How::Difference);
        water.parts = vec![target.at(self.span), colder];
        (water, by_degree)
    }

    /// Kilojoules of wetting and mixing. Where the mixer's work is not known, its friction
    /// stands for both: water so much colder than the dough, if all else is as warm as it.
    fn heat_made(&self) -> Reason {
        let kilo = |grams: &Exact| grams / int(1000);
        let Some(work) = &self.work else {
            let heat = kilo(&self.water) * heat::water() * &self.friction.amount;
            let how = How::Default("the mixer has no `work`: its friction, in heat of the water");
            return Reason::new("heat of mixing", heat, Kind::Energy, how);
        };
        let (flour, dough) = self.flour_and_dough();
        let wetting = kilo(&flour) * heat::of_wetting();
        let mixing = kilo(&dough) * work;
        let mut made = Reason::new("heat made", &wetting + &mixing, Kind::Energy, How::Sum);
        made.parts = vec![
            Reason::new("of wetting flour", wetting, Kind::Energy, How::Written),
            Reason::new("of the mixer", mixing, Kind::Energy, How::Written),
        ];
        made
    }

    /// Everything in the dough but the liquid that is made colder or warmer.
    fn other_lines(&self) -> impl Iterator<Item = &WorkedLine> {
        self.worked.first().dough_lines.iter().filter(|line| match line.goes {
            Goes::Ingredient(id) => !self.liquids.contains(&id),
            _ => true,
        })
    }

    fn warm_as(&self, line: &WorkedLine) -> Exact {
        match line.goes {
            Goes::Ingredient(id) if self.worked.is_flour(id) => self.flour.clone(),
            Goes::Ingredient(id) => {
                kept_at(self.house, id).map_or_else(|| self.room.clone(), |(celsius, _)| celsius)
            }
            Goes::Stage(stage) => {
                let declared = &self.worked.formula.stages[stage];
                ripe_at(self.house, declared).unwrap_or_else(|| self.room.clone())
            }
            _ => self.room.clone(),
        }
    }

    /// Kilojoules that a kilogram takes up for a degree.
    fn specific_heat(&self, line: &WorkedLine) -> Exact {
        match line.goes {
            Goes::Ingredient(id) => self.specific_heat_of(id),
            Goes::Stage(stage) => {
                let content = &self.worked.first().stages[stage].goes_on;
                let mass = content.mass();
                let water = self.worked.class_mass(content, Class::Water);
                match mass.is_zero() {
                    true => heat::flour(),
                    false => moist(&(water / mass)),
                }
            }
            _ => moist(&ratio(1, 2)),
        }
    }

    fn specific_heat_of(&self, id: IngredientId) -> Exact {
        let ingredient = self.house.ingredient(id);
        match ingredient.class {
            _ if self.worked.is_flour(id) => heat::flour(),
            Class::Salt | Class::Sugar => heat::crystals(),
            Class::Fat => heat::fat(),
            _ => moist(&ingredient.water_share().unwrap_or_default()),
        }
    }

    /// So much of the water as ice that it comes to the temperature from that of the tap:
    /// W (tap − water) / (tap + 80), a trade formula.
    fn ice(&self, celsius: &Exact) -> Option<Reason> {
        let tap = self.house.settings.tap.as_ref().filter(|_| self.is_water())?;
        let share = ice_share(tap, celsius)?;
        let colder = tap - celsius;
        let takes = tap + int(MELTING);
        let temperature = |what: &str, amount: &Exact, how| {
            Reason::new(what, amount.clone(), Kind::Temperature, how)
        };
        let mut above = temperature("colder than the tap", &colder, How::Difference);
        above.parts = vec![
            temperature("tap", tap, How::Written),
            temperature("water temperature", celsius, How::Words("as worked out above".into())),
        ];
        let melting = int(MELTING);
        let mut below = temperature("ice takes, in degrees of water", &takes, How::Sum);
        let melts = How::Words("334 kJ/kg ÷ 4.18 kJ/kg of melting".into());
        below.parts =
            vec![temperature("tap", tap, How::Written), temperature("melting", &melting, melts)];
        let mut part = Reason::new("share of the water", share.clone(), Kind::Share, How::Ratio);
        part.parts = vec![above, below];
        let all_of_it = How::Words("all that the mixer gets".into());
        let water = Reason::new("water", self.water.clone(), Kind::Mass, all_of_it);
        let mut ice = Reason::new("ice", &self.water * share, Kind::Mass, How::Product);
        ice.parts = vec![water, part];
        Some(ice)
    }
}

/// What part of the water is ice, so that water of `tap` degrees Celsius comes to `wanted`:
/// (tap − wanted) / (tap + 80), a trade formula that counts ice at the melting point. None
/// where the tap is cold enough, or ice would warm it.
pub fn ice_share(tap: &Exact, wanted: &Exact) -> Option<Exact> {
    let takes = tap + int(MELTING);
    (wanted < tap && takes > Exact::ZERO).then(|| (tap - wanted) / takes)
}

/// What is counted.
fn what_counts() -> How {
    How::Words("flour, room, water and every stage that goes in".into())
}

impl NoWarmth {
    /// Why, in a sentence.
    pub fn words(self) -> &'static str {
        match self {
            Self::NoTarget => {
                "no step of the dough says how warm it is to be, as in `mix 6min to 25C`"
            }
            Self::NoWater(_) => "nothing liquid goes into the dough that could be warmer or colder",
            Self::NoRoom => "the bakehouse does not say how warm it is: `room 21C`",
            Self::NoFriction => "the mixer has no friction, as in `mixer spiral { friction 11C }`",
        }
    }
}

/// Flour and water together; of other things, as if what is dry in them were flour.
fn moist(water: &Exact) -> Exact {
    (Exact::ONE - water) * heat::flour() + water * heat::water()
}

/// How warm a stage is when it goes in: as it is kept, else as it last stood.
fn ripe_at(house: &House, stage: &Stage) -> Option<Exact> {
    let last = |waits: &[Wait]| {
        let at = waits.iter().filter_map(|wait| wait.at.as_ref()).next_back();
        at.and_then(|at| house.middle(at))
    };
    // What says how cold it keeps goes into the refrigerator when it is ripe.
    let kept = last(&stage.keeps).or_else(|| last(&stage.ripens));
    let ripe = kept.or_else(|| last(&stage.stands));
    let steps = stage.method.iter().flat_map(|method| &method.steps);
    let own = steps.flat_map(|step| &step.phases).filter_map(|phase| phase.at.as_deref());
    ripe.or_else(|| own.filter_map(|at| house.middle(at)).next_back())
}

/// What else is poured into the dough, of each as much as there is.
fn poured_beside(
    house: &House,
    worked: &Worked,
    liquids: &[IngredientId],
    room: &Exact,
) -> Vec<Poured> {
    let mut poured: Vec<Poured> = Vec::new();
    let lines = worked.first().dough_lines.iter().filter(|line| !line.mass.is_zero());
    for line in lines {
        let Goes::Ingredient(id) = line.goes else { continue };
        if liquids.contains(&id) || !is_poured(house, id) {
            continue;
        }
        if let Some(known) = poured.iter_mut().find(|known| known.id == id) {
            known.mass += &line.mass;
            continue;
        }
        let as_the_room =
            || (room.clone(), How::Default("nothing says how warm it is: as the room"));
        let (celsius, how) = kept_at(house, id).unwrap_or_else(as_the_room);
        let (name, mass) = (line.name.to_string(), line.mass.clone());
        poured.push(Poured { id, name, mass, celsius, how });
    }
    poured
}

/// The water of the final dough; where there is none, all else that is poured.
fn liquids(house: &House, worked: &Worked) -> Vec<IngredientId> {
    let lines = worked.first().dough_lines.iter().filter(|line| !line.mass.is_zero());
    let mut ids: Vec<IngredientId> = Vec::new();
    for line in lines {
        if let Goes::Ingredient(id) = line.goes
            && is_poured(house, id)
            && !ids.contains(&id)
        {
            ids.push(id);
        }
    }
    let is_water = |id: &IngredientId| house.ingredient(*id).class == Class::Water;
    if ids.iter().any(is_water) {
        ids.retain(is_water);
    }
    ids
}

/// The mixer of a phase, of the method, or the largest of the house; none by hand.
fn mixer<'h, 'p>(
    house: &'h House,
    phase: &Phase,
    mut phases: impl Iterator<Item = &'p Phase>,
    dough: &Exact,
) -> Option<&'h Mixer> {
    let named = |phase: &Phase| {
        let place = phase.place.as_ref()?;
        house.mixers().iter().find(|mixer| mixer.name.key == place.key)
    };
    let chosen = || house.mixer_for(dough).filter(|_| !phase.by_hand);
    named(phase).or_else(|| phases.find_map(named)).or_else(chosen)
}

fn friction(mixer: Option<&Mixer>, by_hand: bool) -> Option<Reason> {
    let reason = |amount: Exact, how| Reason::new("friction", amount, Kind::Temperature, how);
    match mixer {
        Some(mixer) => {
            let friction = mixer.friction.clone()?;
            let named = Reason::new(
                format!("friction of {}", mixer.name.shown),
                friction,
                Kind::Temperature,
                How::Written,
            );
            Some(named.at(mixer.name.span))
        }
        None if by_hand => Some(reason(int(BY_HAND), How::Default("mixing by hand"))),
        None => None,
    }
}

/// What the friction of the mixer really was, or its work in kilojoules for a kilogram, if
/// the dough came out at `measured` degrees Celsius with the water as it was told; for
/// friction: Lehmann, on finding it from a trial.
pub fn from_measured(worked: &Worked, warmth: &Warmth, measured: &Exact) -> Reason {
    let told = || How::Words("as it was told".into());
    let water = Reason::new("water", warmth.water.amount.clone(), Kind::Temperature, told());
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
        let mut whole = Reason::new("in all", left.clone(), Kind::Temperature, How::Product);
        whole.parts = vec![
            Reason::new("temperatures that count", count, Kind::Number, what_counts()),
            Reason::new("dough as measured", measured.clone(), Kind::Temperature, How::Written),
        ];
        let mut parts = vec![whole];
        for warm in counted_here {
            left -= &warm.celsius;
            parts.push(Reason::new(warm.name, warm.celsius, Kind::Temperature, warm.how));
        }
        let mut poured = water;
        if !self.poured.is_empty() {
            let amount = self.together(&poured.amount);
            let how = How::Words("water as it was told, all else as it is kept".into());
            poured = Reason::new("all that is poured", amount, Kind::Temperature, how);
        }
        left -= &poured.amount;
        parts.push(poured);
        let mut friction = Reason::new("friction", left, Kind::Temperature, How::Difference);
        friction.parts = parts;
        friction
    }

    /// The heat that the dough took up, less that of wetting flour, for a kilogram.
    fn work_from(&self, measured: &Exact, water: Reason) -> Reason {
        let kilo = |grams: &Exact| grams / int(1000);
        let mut parts = Vec::new();
        let own = kilo(&self.water) * heat::water() * (measured - &water.amount);
        parts.push(Reason::new("into the water", own, Kind::Energy, How::Written));
        for line in self.other_lines() {
            let capacity = kilo(&line.mass) * self.specific_heat(line);
            let heat = capacity * (measured - self.warm_as(line));
            parts.push(Reason::new(line.name.as_str(), heat, Kind::Energy, How::Written));
        }
        let taken = parts.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        let mut up = Reason::new("heat taken up", taken, Kind::Energy, How::Sum);
        up.parts = parts;
        let (flour, dough) = self.flour_and_dough();
        let wetting = kilo(&flour) * heat::of_wetting();
        let wetting = Reason::new("of wetting flour", wetting, Kind::Energy, How::Written);
        let left = &up.amount - &wetting.amount;
        let mut mixing = Reason::new("of the mixer", left, Kind::Energy, How::Difference);
        mixing.parts = vec![up, wetting];
        let kilograms = kilo(&dough);
        if kilograms.is_zero() {
            return mixing;
        }
        let work = &mixing.amount / &kilograms;
        let mut work = Reason::new("work in kJ per kg", work, Kind::Number, How::Ratio);
        work.parts =
            vec![mixing, Reason::new("kilograms of dough", kilograms, Kind::Number, How::Written)];
        work
    }

    /// Grams of flour on the dough's own lines, and of all of it.
    fn flour_and_dough(&self) -> (Exact, Exact) {
        let lines = self.worked.first().dough_lines.iter();
        let flour = lines.clone().filter(|line| match line.goes {
            Goes::Ingredient(id) => self.worked.is_flour(id),
            _ => false,
        });
        let flour = flour.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        (flour, lines.fold(Exact::ZERO, |sum, line| sum + &line.mass))
    }
}
