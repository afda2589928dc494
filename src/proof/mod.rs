//! Proof-reading: what the words of a manuscript say in numbers, held against the formulas
//! that they are about.
//!
//! Enters: the text of a manuscript, its house and the formulas of it. Leaves: findings with
//! their places in the manuscript, and every number that was read, tied to a formula or not.
//! Absent on purpose: files, and any arithmetic of bread, which `check` and `formula` do.
//!
//! Doubt is silence: a number is held against a formula only where what it is of stands
//! beside it. Nothing here knows whether a text is well written.

mod denied;
mod instructions;
mod manuscript;
mod mix_named;
mod names;
mod number_in_prose;
mod numbers;
mod pairs;
pub mod placeholder_empty;
mod ratios;
mod sections;
mod table_disagrees;
mod table_refuted;
mod table_stale;
mod unknown_instruction;
pub mod unknown_reference;

pub use instructions::{Instruction, Placeholder, read as instructions};
pub use manuscript::{Manuscript, NumberRead};
pub use number_in_prose::page as typed_page;
pub use sections::{Ties, read, read_table};

use crate::diag::Rule;

/// The rules whose findings this room raises.
pub const RULES: &[&Rule] = &[
    &number_in_prose::RULE,
    &placeholder_empty::RULE,
    &table_disagrees::RULE,
    &table_refuted::RULE,
    &unknown_instruction::RULE,
    &unknown_reference::RULE,
];
