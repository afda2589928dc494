//! A day of a bakehouse: when each batch is mixed, shaped and baked, in which mixer and oven, by
//! whom.
//!
//! Enters: a [`Puzzle`] of plain numbers. Leaves: a [`DayPlan`] that keeps everything the puzzle
//! asks for, as good as counted work finds it, with what no plan is better than; or a [`Fault`].
//! Absent on purpose: bread, formulas, clocks, floats.
//!
//! - A batch is placed exactly among those placed, by sets of minutes that are passed up its
//!   tree (`placing`, `bits`); the house says what is free (`house`), and for which lengths that
//!   will do is kept (`starts`).
//! - A few batches at a time are taken out and laid anew (`search`).
//! - A constraint solver is asked what can't be (`proof`): for bounds (`bound`), and for the
//!   smallest set of batches that is too much (`explain`).
//! - How late each task may begin is told beside when it does (`slack`).
//! - A checker that shares nothing with all that looks at every plan (`check`).
//!
//! Where slices are indexed: every index is a part of the puzzle at hand, and [`unproven`] looks at
//! the puzzle at its door (`fault`).

mod bits;
mod bound;
mod check;
mod explain;
mod fault;
mod house;
mod layout;
mod placing;
mod plan;
mod proof;
mod puzzle;
mod random;
mod score;
mod search;
mod slack;
mod sorted;
mod starts;
mod state;

pub use bound::Bound;
pub use check::{Wrong, check};
pub use explain::{Cause, Change, WayOut, Why, changed, explain};
pub use fault::Fault;
pub use plan::{DayPlan, Effort, hands, prove, unproven};
pub use puzzle::{
    Aim, Batch, Due, Lag, Machine, MachineGroup, Minute, On, Point, Pool, Puzzle, Task, TaskPlace,
};
pub use slack::latest;
