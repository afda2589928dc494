//! Mixers, ovens and tins: what they hold, and which one is meant where none is named.

use crate::quantity::{Dimension, Exact, Measures, Range, Unit, ratio};
use crate::syntax::tree::{self, MachineKind, Name, Quantity};

/// A mixer.
#[derive(Clone, Debug)]
pub struct Mixer {
    /// As it was declared.
    pub name: Name,
    /// Grams of dough.
    pub holds: Option<Range>,
    /// What mixing adds, in degrees Celsius of the factor method.
    pub friction: Option<Exact>,
    /// Kilojoules that it puts into a kilogram of dough, for the balance of heat.
    pub work: Option<Exact>,
    /// How many speeds it has.
    pub speeds: Option<u32>,
    /// How many there are alike.
    pub machines: u32,
}

/// An oven, and how many pieces go into it at once.
#[derive(Clone, Debug)]
pub struct Oven {
    /// As it was declared.
    pub name: Name,
    /// Pieces of a kind, or of any, of one deck.
    pub holds: Vec<(Option<Name>, Exact)>,
    /// How many decks it has, each with a heat of its own.
    pub decks: u32,
    /// Degrees Celsius when hands come; none where nobody says.
    pub at: Option<Exact>,
    /// Minutes that a deck takes to change its heat by a degree; none where nobody says.
    pub minutes_per_degree: Option<Exact>,
}

/// A place for boards with a temperature of its own: a proofer or a refrigerator.
#[derive(Clone, Debug)]
pub struct Rack {
    /// As it was declared; `proofer` and `refrigerator` where it has no name.
    pub name: Name,
    /// Whether it is a refrigerator.
    pub is_cold: bool,
    /// Boards; none where it does not say.
    pub boards: Option<Exact>,
    /// Degrees Celsius.
    pub at: Option<Exact>,
}

/// What pieces, or a box of dough, stand on.
#[derive(Clone, Debug)]
pub struct Board {
    /// Pieces of a kind, or of any.
    pub holds: Vec<(Option<Name>, Exact)>,
    /// Grams of dough in a box that takes its place.
    pub dough: Option<Exact>,
}

/// A tin.
#[derive(Clone, Debug)]
pub struct Tin {
    /// As it was declared.
    pub name: Name,
    /// What it holds, to the brim.
    pub millilitres: Exact,
    /// Millilitres of tin for a gram of dough.
    pub ml_per_gram: Option<Exact>,
    /// What it is greased with: ingredients and side mixes.
    pub greased: Vec<Name>,
    /// Whether it says what it is greased with, or that it is with nothing.
    pub says_its_grease: bool,
}

impl Mixer {
    /// Degrees Celsius by which a mixer warms: a difference of degrees has no zero to start
    /// from.
    pub fn friction_of(written: &Quantity) -> Exact {
        match written.unit {
            Unit::Fahrenheit => &written.number * ratio(5, 9),
            _ => written.number.clone(),
        }
    }

    /// As its statement has it.
    pub(super) fn declared(machine: &tree::Machine, measures: Measures) -> Self {
        let friction = machine.friction.as_ref().map(Self::friction_of);
        let work = machine.work.as_ref().map(|(energy, per)| {
            let kilograms = base(per, measures).one_in::<1000>();
            let kilojoules = match energy.unit {
                Unit::Kilocalorie => &energy.number * ratio(4184, 1000),
                _ => energy.number.clone(),
            };
            kilojoules.over(&kilograms).unwrap_or_default()
        });
        let (holds, speeds) = (held(machine, measures), machine.speeds.map(|(speeds, _)| speeds));
        let machines = machine.machines.map_or(1, |(machines, _)| machines);
        Self { name: machine.name.clone(), holds, friction, work, speeds, machines }
    }
}

impl Oven {
    /// As its statement has it.
    pub(super) fn declared(machine: &tree::Machine, measures: Measures) -> Self {
        // A difference of degrees has no zero to start from.
        let degrees = |heat: &Quantity| Mixer::friction_of(heat);
        let changes = machine.changes.as_ref();
        Self {
            name: machine.name.clone(),
            holds: pieces(machine, measures),
            decks: machine.decks.map_or(1, |(decks, _)| decks),
            at: machine.at.as_ref().map(|at| base(at, measures)),
            minutes_per_degree: changes
                .and_then(|(time, heat)| base(time, measures).over(&degrees(heat))),
        }
    }
}

impl Rack {
    /// As its statement has it.
    pub(super) fn declared(machine: &tree::Machine, measures: Measures) -> Self {
        Self {
            name: machine.name.clone(),
            is_cold: machine.kind == MachineKind::Refrigerator,
            boards: held(machine, measures).and_then(|held| held.high),
            at: machine.at.as_ref().map(|at| base(at, measures)),
        }
    }
}

impl Board {
    /// As its statement has it.
    pub(super) fn declared(machine: &tree::Machine, measures: Measures) -> Self {
        let is_weight = |extent: &tree::Extent| {
            extent.high.as_ref().is_some_and(|most| most.unit.dimension() == Dimension::Mass)
        };
        let (dough, counted): (Vec<_>, Vec<_>) =
            machine.holds.iter().cloned().partition(|(extent, _)| is_weight(extent));
        let dough = dough.first().and_then(|(extent, _)| extent.high.as_ref());
        let counted = tree::Machine { holds: counted, ..machine.clone() };
        Self { holds: pieces(&counted, measures), dough: dough.map(|dough| base(dough, measures)) }
    }
}

/// Pieces by their kinds.
fn pieces(machine: &tree::Machine, measures: Measures) -> Vec<(Option<Name>, Exact)> {
    let most = |extent: &tree::Extent| Some(base(extent.high.as_ref()?, measures));
    let holds = machine.holds.iter();
    holds.filter_map(|(extent, kind)| Some((kind.clone(), most(extent)?))).collect()
}

impl Tin {
    /// None for one that does not say what it holds.
    pub(super) fn declared(machine: &tree::Machine, measures: Measures) -> Option<Self> {
        let ml_per_gram = machine
            .volume_per_gram
            .as_ref()
            .and_then(|(volume, mass)| base(volume, measures).over(&base(mass, measures)))
            .filter(|volume| !volume.is_zero());
        let holds = machine.holds.first()?.0.high.as_ref()?;
        let by_weight = holds.unit.dimension() == Dimension::Mass;
        let mut tin = Self {
            name: machine.name.clone(),
            millilitres: held(machine, measures)?.high?,
            ml_per_gram,
            greased: machine.greased.clone(),
            says_its_grease: machine.ungreased || !machine.greased.is_empty(),
        };
        // `holds 900 g` is the dough that it is for.
        if by_weight {
            tin.millilitres = &tin.millilitres * tin.ml_for_a_gram();
        }
        Some(tin)
    }

    /// Millilitres of tin for a gram of dough.
    pub fn ml_for_a_gram(&self) -> Exact {
        // Common practice, no source; a tin may say its own.
        self.ml_per_gram.clone().unwrap_or_else(|| ratio(16, 5))
    }

    /// Grams of dough that fill it.
    pub fn fits(&self) -> Exact {
        self.millilitres.over(&self.ml_for_a_gram()).unwrap_or_default()
    }
}

fn base(quantity: &Quantity, measures: Measures) -> Exact {
    quantity.unit.to_base(&quantity.number, measures)
}

/// How much goes into a machine: grams of dough, of a tin millilitres.
fn held(machine: &tree::Machine, measures: Measures) -> Option<Range> {
    machine.holds.first().map(|(extent, _)| Range {
        low: extent.low.as_ref().map(|low| base(low, measures)),
        high: extent.high.as_ref().map(|high| base(high, measures)),
    })
}
