//! Assize: a declarative language for bread formulas.
//!
//! The rooms, in reading order; each uses only those above it.

extern crate alloc;

pub mod check;
pub mod cli;
pub mod desk;
pub mod diag;
pub mod formula;
pub mod print;
pub mod quantity;
pub mod source;
pub mod syntax;
pub mod time;
