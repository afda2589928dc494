//! Findings about times that can't be, one file a rule.

use crate::diag::Rule;

pub mod no_plan;

/// The rules of this room.
pub const ALL: &[&Rule] = &[&no_plan::RULE];
