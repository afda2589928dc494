//! Assize: a declarative language for bread formulas.
//!
//! Rooms, here by the alphabet; each uses only those before it in DEVELOPERS.md's order.

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
