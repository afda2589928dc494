//! What a formula means as plain data, and everything that is told from two meanings or from
//! one: what changed between them, who uses what, the code on a print, and where in git's
//! history a print came from.
//!
//! Enters: bakehouses as the desk loads them, from the disk or from a revision. Leaves:
//! trees of uses, comparisons and codes, as documented data and as text. Absent on purpose:
//! the network, a checkout, and running git.

pub mod brought;
pub mod catalogue;
pub mod code;
pub mod compare;
pub mod comparison;
pub mod day_paper;
mod declared;
mod differences;
mod facts;
pub mod git;
pub mod log;
pub mod merge3;
pub mod numbers;
pub mod plain;
mod rename;
mod revert;
mod said;
mod sheet;
pub mod stamp;
pub mod tell;
pub mod trace;
pub mod uses;
mod walk;
mod yields;
