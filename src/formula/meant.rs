//! What a name that nothing bears may mean, and where it stands.

use crate::quantity::Exact;
use ecow::EcoString;

/// What a name that nothing bears may mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meant {
    /// One thing, of which the name is a slip.
    Slip(EcoString),
    /// Any of several things, each as near as the others.
    Either(Vec<EcoString>),
    /// One or several things by the store of kin, and what tells them apart.
    Kin(Vec<EcoString>, String),
    /// Names that hold all words of this one.
    Holding(Vec<EcoString>),
    /// Nothing that is known is near.
    Nothing,
}

/// Where a name stands, as far as it tells what can't be meant.
#[derive(Clone, Debug, Default)]
pub struct NamePlace<'p> {
    /// Stages that may be meant as well.
    pub stages: Vec<&'p str>,
    /// Mixtures that may be meant as well.
    pub mixtures: Vec<&'p str>,
    /// What the line is of the heaviest one of its mix.
    pub share: Option<Exact>,
    /// Whether only flour may stand there.
    pub is_flour: bool,
}
