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
use super::house::{House, Mixer};
use super::method::Added;
use super::mixing::Goes;
use super::why::{How, Reason};
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
    /// Where the dough's temperature is written.
    pub span: Span,
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
pub fn warmth(house: &House, worked: &Worked) -> Result<Warmth, NoWarmth> {
    let dough = Dough::of(house, worked)?;
    let by_balance =
        house.settings.water.as_ref().is_some_and(|setting| setting.value == "by heat balance");
    let (water, by_degree) = match by_balance {
        true => dough.by_balance(),
        false => dough.by_factor(),
    };
    let ice = dough.ice(&water.amount);
    Ok(Warmth {
        target: dough.target,
        water,
        mass: dough.water,
        ice,
        by_degree,
        by_balance,
        liquids: dough.liquids,
        span: dough.span,
    })
}

impl Warmth {
    /// The steps of the dough in which the water goes in.
    pub fn steps(&self, house: &House, worked: &Worked) -> Vec<usize> {
        let Some(method) = worked.formula.method.as_ref() else { return Vec::new() };
        let additions = worked.additions(house, method, Within::FinalDough);
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
    room: Exact,
    flour: Exact,
    friction: Reason,
    /// Kilojoules that the mixer puts into a kilogram of dough, where it is known.
    work: Option<Exact>,
}

impl<'a, 't> Dough<'a, 't> {
    fn of(house: &'a House<'t>, worked: &'a Worked<'t>) -> Result<Self, NoWarmth> {
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
        let mut water = Reason::new("water temperature", left, Kind::Temperature, How::Difference);
        water.parts = parts;
        (water, count)
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
            Goes::Ingredient(id) if self.worked.is_flour(self.house, id) => self.flour.clone(),
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
                let water = self.worked.class_mass(self.house, content, Class::Water);
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
            _ if self.worked.is_flour(self.house, id) => heat::flour(),
            Class::Salt | Class::Sugar => heat::crystals(),
            Class::Fat => heat::fat(),
            _ => moist(&ingredient.water_share().unwrap_or_default()),
        }
    }

    /// So much of the water as ice that it comes to the temperature from that of the tap:
    /// W (tap − water) / (tap + 80), a trade formula.
    fn ice(&self, celsius: &Exact) -> Option<Reason> {
        // Only water is a part of itself as ice.
        let is_water = |id: &IngredientId| self.house.ingredient(*id).class == Class::Water;
        let tap = self.house.settings.tap.as_ref().filter(|_| self.liquids.iter().all(is_water))?;
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

/// How warm a stage is when it goes in: as it last stood.
fn ripe_at(house: &House, stage: &Stage) -> Option<Exact> {
    // What only keeps is best used at once, and then has not cooled yet.
    let last = |waits: &[Wait]| {
        let at = waits.iter().filter_map(|wait| wait.at.as_ref()).next_back();
        at.and_then(|at| house.middle(at))
    };
    let ripe = last(&stage.ripens).or_else(|| last(&stage.stands));
    let steps = stage.method.iter().flat_map(|method| &method.steps);
    let own = steps.flat_map(|step| &step.phases).filter_map(|phase| phase.at.as_deref());
    ripe.or_else(|| own.filter_map(|at| house.middle(at)).next_back())
        .or_else(|| last(&stage.keeps))
}

/// The water of the final dough; where there is none, the liquids that are nearly water.
fn liquids(house: &House, worked: &Worked) -> Vec<IngredientId> {
    let lines = worked.first().dough_lines.iter().filter(|line| !line.mass.is_zero());
    let ids: Vec<IngredientId> = lines
        .filter_map(|line| match line.goes {
            Goes::Ingredient(id) => Some(id),
            _ => None,
        })
        .collect();
    let of = |classes: &[Class]| -> Vec<IngredientId> {
        let wet = |id: &&IngredientId| {
            let ingredient = house.ingredient(**id);
            let is_wet = ingredient.water_share().is_some_and(|share| share >= ratio(4, 5));
            classes.contains(&ingredient.class) && (ingredient.class == Class::Water || is_wet)
        };
        ids.iter().filter(wet).copied().collect()
    };
    let water = of(&[Class::Water]);
    if water.is_empty() { of(&[Class::Liquid, Class::Dairy]) } else { water }
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
    let high = |mixer: &&Mixer| mixer.holds.as_ref().and_then(|holds| holds.high.clone());
    let fits = |mixer: &&Mixer| mixer.holds.as_ref().is_none_or(|holds| holds.holds(dough));
    named(phase).or_else(|| phases.find_map(named)).or_else(|| {
        let all = || house.mixers().iter().filter(|_| !phase.by_hand);
        // The smallest that holds it, else the largest, for several batches.
        all().filter(fits).min_by_key(high).or_else(|| all().max_by_key(high))
    })
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
pub fn from_measured(house: &House, worked: &Worked, warmth: &Warmth, measured: &Exact) -> Reason {
    let told = || How::Words("as it was told".into());
    let water = Reason::new("water", warmth.water.amount.clone(), Kind::Temperature, told());
    match Dough::of(house, worked) {
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
        left -= &water.amount;
        parts.push(water);
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
            Goes::Ingredient(id) => self.worked.is_flour(self.house, id),
            _ => false,
        });
        let flour = flour.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        (flour, lines.fold(Exact::ZERO, |sum, line| sum + &line.mass))
    }
}
