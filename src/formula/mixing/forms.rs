//! Masses of a mix as sums of unknowns, and the equations that they stand in.

use crate::formula::composition::Composition;
use crate::formula::linear::{EquationSystem, LinearExpr, Unknown};
use crate::quantity::Exact;

/// What is in a gram of a stage.
#[derive(Clone, Debug)]
pub struct MakeUp {
    /// Grams in a gram.
    pub content: Composition,
    /// The part of it that cultures brought.
    pub from_cultures: Composition,
}

/// A mix whose masses are forms.
#[derive(Clone, Debug, Default)]
pub struct MixForms {
    /// In the order of the mix's lines.
    pub masses: Vec<LinearExpr>,
    /// All that is put together.
    pub made: LinearExpr,
    /// What goes on into the next mix: without what is kept back or boiled away.
    pub goes_on: Composition<LinearExpr>,
    /// The part of it that cultures bring.
    pub from_cultures: Composition<LinearExpr>,
    /// The flour (or the grain and seed) that per cent in this mix are of.
    pub basis: LinearExpr,
}

/// Which mix of the formula a line stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MixPlace {
    Stage(usize),
    Main,
    Aside,
}

/// Equations in the making, with the unknowns that stand for the whole formula.
#[derive(Debug, Default)]
pub struct Scope {
    /// The equations so far.
    pub system: EquationSystem,
    /// All the flour, once something asks for it.
    pub(super) flour: Option<Unknown>,
    /// The whole dough, once something asks for it.
    pub(super) whole: Option<Unknown>,
    /// What per cent of the main mix are of, once something asks for it.
    pub(super) main: Option<Unknown>,
}

impl MixForms {
    /// The mass of all that goes on.
    pub fn goes_on_mass(&self) -> LinearExpr {
        self.goes_on.iter().fold(LinearExpr::default(), |sum, (_, mass)| sum.plus(mass))
    }
}

impl Scope {
    /// All the flour of the formula.
    pub fn flour(&mut self) -> LinearExpr {
        LinearExpr::unknown(*self.flour.get_or_insert_with(|| self.system.new_unknown()))
    }

    /// The same, where something is a share of it.
    pub fn flour_if_asked(&self) -> Option<LinearExpr> {
        self.flour.map(LinearExpr::unknown)
    }

    /// The whole dough.
    pub fn whole(&mut self) -> LinearExpr {
        LinearExpr::unknown(*self.whole.get_or_insert_with(|| self.system.new_unknown()))
    }

    /// The same, where something is a share of it.
    pub fn whole_if_asked(&self) -> Option<LinearExpr> {
        self.whole.map(LinearExpr::unknown)
    }

    /// The same, where something is a share of it.
    pub fn main_if_asked(&self) -> Option<LinearExpr> {
        self.main.map(LinearExpr::unknown)
    }

    /// The flour that per cent in `total` or `dough` are of.
    pub fn main(&mut self) -> LinearExpr {
        LinearExpr::unknown(*self.main.get_or_insert_with(|| self.system.new_unknown()))
    }
}

impl Composition {
    /// The masses once the unknowns are known.
    pub fn from_forms(forms: &Composition<LinearExpr>, unknowns: &[Exact]) -> Self {
        let mut content = Self::default();
        for (substance, form) in forms.iter() {
            content.add(substance, form.value(unknowns));
        }
        content
    }
}
