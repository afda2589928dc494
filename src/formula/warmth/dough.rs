//! What is known of a dough and of the room it is mixed in: what goes in, how warm it is,
//! and what mixing adds.

use super::water::NoWarmth;
use crate::formula::class::Class;
use crate::formula::composition::IngredientId;
use crate::formula::figure::ValueKind;
use crate::formula::ground::Assumption;
use crate::formula::house::{House, Mixer, built_in, known};
use crate::formula::line_ref::LineRef;
use crate::formula::method::Added;
use crate::formula::reason::{Degrees, How, Reason};
use crate::formula::subject::{Subject, Topic};
use crate::formula::worked::{Within, Worked, WorkedLine};
use crate::quantity::{Exact, ratio};
use crate::source::Span;
use crate::syntax::tree::{Extent, Flag, Method, Phase, Stage, Wait};
use ecow::EcoString;

/// Something that is poured in beside the water, at a temperature of its own.
pub(super) struct Poured {
    /// Which ingredient.
    pub id: IngredientId,
    /// As the line has it.
    pub name: EcoString,
    /// Grams in the dough.
    pub mass: Exact,
    /// How warm it goes in, in degrees Celsius.
    pub celsius: Exact,
    /// Where that is known from.
    pub how: How,
}

/// What is known of a dough and of the room it is mixed in.
pub(super) struct Dough<'a, 't> {
    /// Its room, its flour, its mixers.
    pub house: &'a House<'t>,
    /// The formula.
    pub worked: &'a Worked<'t>,
    /// Degrees Celsius that the dough is to have.
    pub target: Exact,
    /// Where that is written.
    pub span: Span,
    /// The step and its phase after which the dough is to be so warm, from zero.
    pub aimed: (usize, usize),
    /// What is in the dough by then, as much of each as is: what goes in later neither
    /// warms nor cools it.
    pub lines: Vec<WorkedLine>,
    /// Grams of liquid that can be made colder or warmer.
    pub water: Exact,
    /// The share that a gram is of it.
    pub one_of_water: Exact,
    /// What that is made of.
    pub liquids: Vec<IngredientId>,
    /// What else is poured in.
    pub poured: Vec<Poured>,
    /// Degrees Celsius of the room.
    pub room: Exact,
    /// Degrees Celsius of the flour.
    pub flour: Exact,
    /// What mixing adds, in degrees of the factor method.
    pub friction: Reason,
    /// Kilojoules that the mixer puts into a kilogram of dough, where it is known.
    pub work: Option<Exact>,
}

impl<'a, 't> Dough<'a, 't> {
    /// Gathers what is known.
    ///
    /// # Errors
    /// What is not known, or that no step says how warm the dough is to be.
    pub(super) fn of(worked: &'a Worked<'t>) -> Result<Self, NoWarmth> {
        let house = worked.house;
        let method = worked.formula.method.as_ref().ok_or(NoWarmth::NoTarget)?;
        let (place, phase, aimed) = aim(method).ok_or(NoWarmth::NoTarget)?;
        let target = house.middle(aimed).ok_or(NoWarmth::NoTarget)?;
        let lines = in_by(worked, method, place);
        let liquids = liquids(house, &lines);
        let is_liquid = |line: &&WorkedLine| match line.goes {
            LineRef::Ingredient(id) => liquids.contains(&id),
            _ => false,
        };
        let water = lines.iter().filter(is_liquid);
        let water = water.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        let one_of_water = Exact::ONE.over(&water).ok_or(NoWarmth::NoWater(aimed.span))?;
        let settings = &house.settings;
        let room = settings.room.clone().ok_or(NoWarmth::NoRoom)?;
        let poured = poured_beside(house, &lines, &liquids, &room);
        let mixer = worked.mixer_of(phase);
        let by_hand = phase.says(Flag::ByHand);
        Ok(Self {
            house,
            worked,
            target,
            span: aimed.span,
            aimed: place,
            lines,
            water,
            one_of_water,
            liquids,
            poured,
            flour: settings.flour.clone().unwrap_or_else(|| room.clone()),
            room,
            friction: friction(mixer, by_hand).ok_or(NoWarmth::NoFriction)?,
            work: mixer.and_then(|mixer| mixer.work.clone()),
        })
    }

    /// How warm all that is poured is together, in degrees Celsius, with water so warm.
    pub(super) fn together(&self, water: &Exact) -> Exact {
        let start = (self.water.clone(), &self.water * water);
        let (mass, heat) = self
            .poured
            .iter()
            .fold(start, |(mass, heat), own| (mass + &own.mass, heat + &own.mass * &own.celsius));
        heat.over(&mass).unwrap_or_else(|| water.clone())
    }

    /// Whether all that is brought to a temperature is water: only that can be ice in part.
    pub(super) fn is_water(&self) -> bool {
        self.liquids.iter().all(|id| self.house.ingredient(*id).class == Class::Water)
    }

    /// Everything in the dough but the liquid that is made colder or warmer.
    pub(super) fn other_lines(&self) -> impl Iterator<Item = &WorkedLine> {
        self.lines.iter().filter(|line| match line.goes {
            LineRef::Ingredient(id) => !self.liquids.contains(&id),
            _ => true,
        })
    }

    /// Grams of flour on the lines that are in by then, and of all of them.
    pub(super) fn flour_and_dough(&self) -> (Exact, Exact) {
        let lines = self.lines.iter();
        let flour = lines.clone().filter(|line| match line.goes {
            LineRef::Ingredient(id) => self.worked.is_flour(id),
            _ => false,
        });
        let flour = flour.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        (flour, lines.fold(Exact::ZERO, |sum, line| sum + &line.mass))
    }
}

/// The first phase that says how warm the dough is to be, with its step and its number in it.
fn aim(method: &Method) -> Option<((usize, usize), &Phase, &Extent)> {
    let steps = method.steps.iter().enumerate();
    let mut phases = steps.flat_map(|(step, own)| {
        own.phases.iter().enumerate().map(move |(number, phase)| ((step, number), phase))
    });
    phases.find_map(|(place, phase)| Some((place, phase, phase.to.as_deref()?)))
}

/// The lines of the dough less what goes in after a phase of a step. A line that no step adds
/// counts with all of it: that it is forgotten is told elsewhere.
fn in_by(worked: &Worked, method: &Method, place: (usize, usize)) -> Vec<WorkedLine> {
    let additions = worked.additions(method, Within::FinalDough);
    let steps = additions.steps.iter().enumerate();
    let later: Vec<&Added> = steps
        .flat_map(|(step, added)| added.iter().map(move |added| ((step, added.phase), added)))
        .filter(|(at, added)| *at > place && !added.beside)
        .map(|(_, added)| added)
        .collect();
    let mut lines = worked.first().dough_lines.clone();
    for line in &mut lines {
        let is_it = |added: &&&Added| added.line.goes == line.goes && added.line.line == line.line;
        let gone = later.iter().filter(is_it).fold(Exact::ZERO, |sum, added| sum + &added.share);
        line.mass = &line.mass * (Exact::ONE - gone.min(Exact::ONE));
    }
    lines.retain(|line| !line.mass.is_zero());
    lines
}

/// How warm an ingredient is when it goes in, as the house says or as its class usually is;
/// nothing for what is as warm as the room.
pub(super) fn kept_at(house: &House, id: IngredientId) -> Option<(Exact, How)> {
    let ingredient = house.ingredient(id);
    if let Some(kept) = &ingredient.kept {
        return Some((kept.clone(), How::Written));
    }
    let bounds = &built_in().style("usual temperatures")?.bounds;
    let own = bounds.iter().find(|bound| bound.what.name.key == ingredient.class.word())?;
    // A powder stands on the shelf.
    let celsius = built_in().middle(&own.range).filter(|_| is_poured(house, id))?;
    Some((celsius, How::Default(Assumption::Refrigerated)))
}

/// Whether it is wet enough to be poured.
pub(super) fn is_poured(house: &House, id: IngredientId) -> bool {
    let ingredient = house.ingredient(id);
    let is_wet = ingredient.water_share().is_some_and(|share| share >= ratio(1, 2));
    match ingredient.class {
        Class::Water => true,
        Class::Liquid | Class::Dairy | Class::Egg => is_wet,
        _ => false,
    }
}

/// How warm a stage is when it goes in: as it is kept, else as it last stood.
pub(super) fn ripe_at(house: &House, stage: &Stage) -> Option<Exact> {
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

/// What else is poured in, of each as much as there is.
fn poured_beside(
    house: &House,
    lines: &[WorkedLine],
    liquids: &[IngredientId],
    room: &Exact,
) -> Vec<Poured> {
    let mut poured: Vec<Poured> = Vec::new();
    for line in lines {
        let LineRef::Ingredient(id) = line.goes else { continue };
        if liquids.contains(&id) || !is_poured(house, id) {
            continue;
        }
        if let Some(known) = poured.iter_mut().find(|known| known.id == id) {
            known.mass += &line.mass;
            continue;
        }
        let as_the_room = || (room.clone(), How::Default(Assumption::AsTheRoom));
        let (celsius, how) = kept_at(house, id).unwrap_or_else(as_the_room);
        let (name, mass) = (line.name.clone(), line.mass.clone());
        poured.push(Poured { id, name, mass, celsius, how });
    }
    poured
}

/// The water among some lines; where there is none, all else that is poured.
fn liquids(house: &House, lines: &[WorkedLine]) -> Vec<IngredientId> {
    let mut ids: Vec<IngredientId> = Vec::new();
    for line in lines {
        if let LineRef::Ingredient(id) = line.goes
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

fn friction(mixer: Option<&Mixer>, by_hand: bool) -> Option<Reason> {
    let reason = |amount: Exact, how| {
        Reason::new(Topic::Friction, amount, ValueKind::Temperature, how).in_degrees(Degrees::Apart)
    };
    match mixer {
        Some(mixer) => {
            let friction = mixer.friction.clone()?;
            let named = Reason::new(
                Subject::FrictionOf(mixer.name.shown.clone()),
                friction,
                ValueKind::Temperature,
                How::Written,
            );
            Some(named.at(mixer.name.span).in_degrees(Degrees::Apart))
        }
        None if by_hand => Some(reason(
            known("usual temperatures", "hand mixing"),
            How::Default(Assumption::MixingByHand),
        )),
        None => None,
    }
}
