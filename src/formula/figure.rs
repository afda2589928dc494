//! The figures that can be claimed, bounded and asked for.

use super::class::Class;
use crate::quantity::Exact;

/// What a value is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ValueKind {
    /// Grams.
    Mass,
    /// A share of one.
    Share,
    /// A bare number.
    Number,
    /// Minutes.
    Time,
    /// Degrees Celsius.
    Temperature,
    /// Kilojoules.
    Energy,
}

/// The value of a figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Value {
    /// What it is counted in.
    pub kind: ValueKind,
    /// In the base unit of its kind: grams, shares of one, minutes, degrees Celsius.
    pub amount: Exact,
}

/// A figure; `assize explain figures` says what each is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Water over flour, as tables print it.
    Hydration,
    /// All that is poured, over flour.
    Liquids,
    /// Water inside of all ingredients, over flour.
    EffectiveHydration,
    /// Hydration with the flour and water of cultures that a table does not split.
    TrueHydration,
    /// The whole dough over its flour.
    TotalPercentage,
    /// The whole dough for a hundred parts of flour, as German tables print it.
    DoughYield,
    /// All the flour.
    Flour,
    /// The whole dough.
    Dough,
    /// Flour that has fermented before the dough, over all flour.
    PrefermentedFlour,
    /// Seed over the new flour of a stage.
    Inoculation,
    /// Yeast of all kinds as fresh yeast, over flour.
    YeastAsFresh,
    /// Whether anything raises the bread, and what of it.
    Leavening,
    /// How many pieces there are.
    Pieces,
    /// The dough of one piece.
    Piece,
    /// The dough of one piece out of the oven, without what the piece carries.
    PieceBaked,
    /// One piece out of the oven, with what it carries.
    PieceAsEaten,
    /// What a piece loses in the oven, over its dough.
    BakeLoss,
    /// What is lost between mixer and oven, over the dough.
    MakeUpLoss,
    /// Salt of cooking in what is eaten; the sodium of raising agents is none.
    SaltAsEaten,
    /// Sodium times 2.5 in what is eaten, whatever brings it, as a label declares it.
    SaltAsDeclared,
    /// Salt inside ingredients that are not salt themselves.
    SaltElsewhere,
    /// From the first step to the last, waiting included.
    Elapsed,
    /// The time in which hands are needed.
    HandsOn,
    /// How warm the water has to be so that the dough comes out as it should.
    WaterTemperature,
    /// How much of the water has to be ice for that.
    Ice,
    /// All of a class: `salt`, `sugar`, `fat`, `egg`.
    Class(Class),
}

/// Names of figures; a class is a figure too.
const NAMES: &[(&str, Figure)] = &[
    ("hydration", Figure::Hydration),
    ("liquids", Figure::Liquids),
    ("effective hydration", Figure::EffectiveHydration),
    ("true hydration", Figure::TrueHydration),
    ("total percentage", Figure::TotalPercentage),
    ("yield", Figure::TotalPercentage),
    ("dough yield", Figure::DoughYield),
    ("flour", Figure::Flour),
    ("dough", Figure::Dough),
    ("prefermented flour", Figure::PrefermentedFlour),
    ("inoculation", Figure::Inoculation),
    ("yeast as fresh", Figure::YeastAsFresh),
    ("leavening", Figure::Leavening),
    ("pieces", Figure::Pieces),
    ("piece", Figure::Piece),
    ("piece baked", Figure::PieceBaked),
    ("piece as eaten", Figure::PieceAsEaten),
    ("loss", Figure::BakeLoss),
    ("bake loss", Figure::BakeLoss),
    ("make-up loss", Figure::MakeUpLoss),
    ("salt as eaten", Figure::SaltAsEaten),
    ("salt as declared", Figure::SaltAsDeclared),
    ("salt in other ingredients", Figure::SaltElsewhere),
    ("elapsed", Figure::Elapsed),
    ("hands-on", Figure::HandsOn),
    ("water temperature", Figure::WaterTemperature),
    ("ice", Figure::Ice),
];

impl Figure {
    /// The figure of a name.
    pub fn read(key: &str) -> Option<Self> {
        let named = NAMES.iter().find(|(name, _)| *name == key).map(|(_, figure)| figure.clone());
        named.or_else(|| Class::read(key).map(Figure::Class))
    }

    /// What its value is counted in.
    pub fn kind(&self) -> ValueKind {
        match self {
            Self::Hydration
            | Self::Liquids
            | Self::EffectiveHydration
            | Self::TrueHydration
            | Self::TotalPercentage
            | Self::PrefermentedFlour
            | Self::Inoculation
            | Self::YeastAsFresh
            | Self::Leavening
            | Self::BakeLoss
            | Self::MakeUpLoss
            | Self::SaltAsEaten
            | Self::SaltAsDeclared
            | Self::SaltElsewhere => ValueKind::Share,
            Self::Flour
            | Self::Dough
            | Self::Piece
            | Self::PieceBaked
            | Self::PieceAsEaten
            | Self::Ice
            | Self::Class(_) => ValueKind::Mass,
            Self::DoughYield | Self::Pieces => ValueKind::Number,
            Self::Elapsed | Self::HandsOn => ValueKind::Time,
            Self::WaterTemperature => ValueKind::Temperature,
        }
    }

    /// Whether it is a figure of one piece, and so has a value for each kind.
    pub fn is_of_a_piece(&self) -> bool {
        matches!(
            self,
            Self::Piece
                | Self::PieceBaked
                | Self::PieceAsEaten
                | Self::BakeLoss
                | Self::MakeUpLoss
                | Self::SaltAsEaten
                | Self::SaltAsDeclared
        )
    }

    /// All names of figures, for suggestions.
    pub fn names() -> impl Iterator<Item = &'static str> {
        let classes = Class::ALL.iter().map(|(name, _)| *name);
        NAMES.iter().map(|(name, _)| *name).chain(classes)
    }
}
