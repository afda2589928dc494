//! The water of a dough: its temperature, the ice in it, and whether that steers the dough.

use crate::formula::composition::IngredientId;
use crate::formula::reason::Reason;
use crate::quantity::Exact;
use crate::source::Span;

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
    /// Whether it is worked out by heat balance.
    pub by_balance: bool,
    /// What it is made of: the water or, where there is none, milk and the like.
    pub liquids: Vec<IngredientId>,
    /// All that is poured in, the water too; how warm it would be together, in degrees
    /// Celsius, and how many grams it is.
    pub poured: Vec<IngredientId>,
    /// See [`Self::poured`].
    pub together: Exact,
    /// See [`Self::poured`].
    pub poured_mass: Exact,
    /// Whether the water can bring the dough to its temperature.
    pub steers: Steers,
    /// The step and its phase after which the dough is to be so warm, from zero; what goes
    /// in later is not in it.
    pub aimed: (usize, usize),
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
    Nothing {
        /// Degrees Celsius.
        at: Exact,
        /// A difference in degrees Celsius; below nothing where the dough comes out too
        /// cold.
        off: Exact,
    },
}

/// Why there is no temperature to tell.
#[allow(clippy::enum_variant_names, reason = "each says what there is not")]
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
