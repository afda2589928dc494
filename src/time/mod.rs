//! Time: a formula's method as one graph, and what follows from it.
//!
//! Enters: [`Worked`](crate::formula::Worked) formulas. Leaves: how long they take, with
//! hands and without, and when each step is to be done. Durations are exact minutes.
//! Absent on purpose: a clock (whoever asks says when), words for paper, and rules but for
//! those on times that can't be.

mod clash;
pub mod clock;
pub mod cooling;
mod course;
pub mod day;
pub mod dose;
mod draft;
mod estimates;
mod expected;
pub mod findings;
mod graph;
pub mod growth;
pub mod laws;
mod length;
mod on_grid;
mod one_pair;
mod pace;
mod plan;
mod planned;
mod puzzle;
mod shared;
mod solve;
mod standing;
mod trouble;
mod twice;
mod usual;
mod why;

pub use clash::{clash, stages_in};
pub use draft::{graph, graph_of_one_load};
pub use estimates::{Because, Changed, Estimate, NotTimed, Retiming, retime};
pub use expected::expected_ripening;
pub use findings::ALL as RULES;
pub use findings::doing::work_name;
pub use graph::{
    Batch, Doing, Graph, Hands, Stretch, is_hands_on, is_waiting, usual_hands, usual_minutes,
};
pub use length::{Length, elapsed, hands_on};
pub use plan::plan;
pub use planned::{
    Anchor, Change, Hours, MAX_DAYS, NoPlan, Plan, PlanRequest, Used, WIDTH, is_in_reach,
    whole_minutes,
};
pub use shared::{Shared, built_at, pins, same_builds, shared, stage_of};
pub use standing::{Asked, cold, is_place, is_refrigerator, places};
pub use twice::{HandsTwice, hands_twice, wanted_twice};
pub use usual::usual;
pub use why::{why_elapsed, why_hands_on};
