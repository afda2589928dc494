//! What became of a claim.

use crate::formula::{Bringer, Figure};
use ecow::EcoString;

/// What became of a claim.
pub enum Verdict {
    Holds,
    Refuted {
        /// What the figure really is, to print.
        is: String,
        /// What was claimed, to print.
        claimed: String,
        /// The arithmetic.
        working: Option<String>,
        /// What to write instead.
        instead: Option<String>,
    },
    /// The formula holds what it is claimed to be without.
    Contained(Vec<Bringer>),
    /// It is not known whether these hold what the formula is claimed to be without.
    NotProved(Vec<EcoString>),
    /// It can not be checked, and why.
    Open(String),
    /// It asks for a figure as a share of a base that is not its own.
    OtherBase(Figure),
    /// Nobody knows the name.
    Unknown,
    /// Nobody knows the mix.
    UnknownPlace,
}
