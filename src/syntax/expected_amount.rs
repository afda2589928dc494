//! What kind of amount a place takes, and how a finding says so.

use crate::quantity::{Dimension, Unit};

/// What kind of amount a place takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExpectedAmount {
    /// Of a line of a mix: a weight, volume, count, percentage or number of parts.
    Line,
    /// Of something that goes in at a step, or that a text shows.
    PartOfMix,
    /// A weight, volume or count in stock.
    Stock,
    /// Whatever a figure may be written in.
    Claim,
    Count,
    Time,
    Temperature,
    /// A temperature around the dough, which may fall from one end to the other.
    Surroundings,
    Share,
    /// A share that may be below zero: fried dough gains weight.
    Loss,
    Mass,
    Volume,
    /// What a tin holds: the volume of it, or the weight of dough that it is for.
    Tin,
    Factor,
    /// What an ingredient is made of.
    Composition,
    /// Salts of the earth, in milligrams as a rule.
    Mineral,
    Energy,
}

impl ExpectedAmount {
    /// Whether an amount of that dimension may stand there.
    pub fn takes(self, dimension: Dimension) -> bool {
        use Dimension as D;
        match self {
            Self::Line => {
                matches!(dimension, D::Mass | D::Volume | D::Count | D::Share | D::Part)
            }
            Self::PartOfMix => matches!(dimension, D::Mass | D::Volume | D::Count | D::Share),
            Self::Stock => matches!(dimension, D::Mass | D::Volume | D::Count),
            Self::Claim => true,
            Self::Count => dimension == D::Count,
            Self::Time => dimension == D::Time,
            Self::Temperature | Self::Surroundings => dimension == D::Temperature,
            Self::Share | Self::Loss => dimension == D::Share,
            Self::Mass => dimension == D::Mass,
            Self::Volume => dimension == D::Volume,
            Self::Tin => matches!(dimension, D::Volume | D::Mass),
            Self::Factor => dimension == D::Factor,
            Self::Composition | Self::Mineral => matches!(dimension, D::Mass | D::Share),
            Self::Energy => dimension == D::Energy,
        }
    }

    /// The word for it in a finding.
    pub fn word(self) -> &'static str {
        match self {
            Self::Line | Self::PartOfMix => "an amount of an ingredient",
            Self::Stock => "a weight, a volume or a count",
            Self::Claim => "an amount",
            Self::Count => "a count",
            Self::Time => "a time",
            Self::Temperature | Self::Surroundings => "a temperature",
            Self::Share | Self::Loss | Self::Composition => "a percentage",
            Self::Mass | Self::Mineral => "a weight",
            Self::Volume => "a volume",
            Self::Tin => "a volume or a weight of dough",
            Self::Factor => "a factor",
            Self::Energy => "an energy",
        }
    }

    /// The unit that a bare number most likely lacks; none where two are as likely.
    pub fn likely(self) -> Option<Unit> {
        Some(match self {
            Self::Temperature | Self::Surroundings => Unit::Celsius,
            Self::Share | Self::Loss | Self::Composition => Unit::Percent,
            Self::Mass => Unit::Gram,
            Self::Volume => Unit::Milliliter,
            Self::Factor => Unit::Times,
            Self::Mineral => Unit::Milligram,
            Self::Energy => Unit::Kilocalorie,
            _ => return None,
        })
    }

    /// The units that stand here, for a sentence.
    pub fn units(self) -> &'static str {
        match self {
            Self::Line => {
                "weights are in `mg g kg oz lb`, volumes in `ml cl dl l tsp tbsp cup fl-oz`, \
                 shares in `%` or `part`; a number alone is a count"
            }
            Self::PartOfMix | Self::Stock | Self::Claim => {
                "weights are in `mg g kg oz lb`, volumes in `ml cl dl l tsp tbsp cup fl-oz`, \
                 shares in `%`; a number alone is a count"
            }
            Self::Count => "a count is a number alone",
            Self::Time => "times are in `s min h d`",
            Self::Temperature | Self::Surroundings => "temperatures are in `C` or `F`",
            Self::Share | Self::Loss => "a percentage is written with `%`",
            Self::Mass => "weights are in `mg g kg oz lb`",
            Self::Volume => "volumes are in `ml cl dl l tsp tbsp cup fl-oz`",
            Self::Tin => "a tin holds so many `ml cl dl l`, or dough of so many `g kg oz lb`",
            Self::Factor => "a factor is written with `x`",
            Self::Composition => "composition is per 100 g, in `%`",
            Self::Mineral => "composition is per 100 g, in `mg`, `g` or `%`",
            Self::Energy => "energy is per 100 g, in `kcal` or `kJ`",
        }
    }

    /// Whether zero is a value that says something.
    pub fn may_be_zero(self) -> bool {
        !matches!(
            self,
            Self::Stock | Self::Count | Self::Mass | Self::Volume | Self::Tin | Self::Factor
        )
    }

    /// Whether it makes sense below zero.
    pub fn may_be_negative(self) -> bool {
        matches!(self, Self::Temperature | Self::Surroundings | Self::Loss | Self::Claim)
    }
}
