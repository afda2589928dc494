//! Time: a formula's method as one graph, and what follows from it.
//!
//! Enters: [`Worked`](crate::formula::Worked) formulas. Leaves: how long they take, with
//! hands and without, and when each step is to be done. Durations are exact minutes.
//! Absent on purpose: a clock (whoever asks says when), rules, words for paper.

mod graph;
mod length;
mod why;

pub use graph::{Doing, Graph, Hands, Stretch, graph, is_hands_on};
pub use length::{Length, elapsed, hands_on};
pub use why::{why_elapsed, why_hands_on};
