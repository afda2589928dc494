//! Mixers, ovens and tins: what they hold, and which one is meant where none is named.

use crate::quantity::{Dimension, Exact, Measures, Range, Unit, ratio};
use crate::syntax::tree::{self, Name, Quantity};

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
}

/// An oven, and how many pieces go into it at once.
#[derive(Clone, Debug)]
pub struct Oven {
    /// As it was declared.
    pub name: Name,
    /// Pieces of a kind, or of any.
    pub holds: Vec<(Option<Name>, Exact)>,
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
        Self { name: machine.name.clone(), holds, friction, work, speeds }
    }
}

impl Oven {
    /// As its statement has it.
    pub(super) fn declared(machine: &tree::Machine, measures: Measures) -> Self {
        let most = |extent: &tree::Extent| Some(base(extent.high.as_ref()?, measures));
        let holds = machine.holds.iter();
        let holds = holds.filter_map(|(extent, kind)| Some((kind.clone(), most(extent)?)));
        Self { name: machine.name.clone(), holds: holds.collect() }
    }
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
