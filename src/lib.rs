//! Assize: a declarative language for bread formulas.
//!
//! Rooms, here by the alphabet; each uses only those before it in DEVELOPERS.md's order. They
//! are private: the command enters by [`run`], tests and benches by [`testing`], and the
//! compiler tells of whatever else nothing uses.

extern crate alloc;

mod bring;
mod check;
mod cli;
mod desk;
mod diag;
mod formula;
mod history;
mod orders;
mod print;
mod proof;
mod quantity;
mod source;
mod syntax;
#[cfg(not(closed))]
pub mod testing;
mod time;

pub use cli::run;
