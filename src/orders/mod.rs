//! Production days: orders become batches and builds, and these one puzzle for the planner.
//!
//! Enters: the days of a house, and its formulas worked out. Leaves: a day [`Planned`], as plain
//! data in grams and minutes, and findings of what a day says. Absent on purpose: the search for
//! a good day, which stands in `time::day`; words for paper; files of orders.

mod begun;
mod builds;
mod carry;
mod clash;
mod clock;
pub mod findings;
mod frozen;
mod kept;
mod loads;
mod making;
mod means;
mod net;
mod resolve;
mod rows;
mod segs;
mod shape;
mod ways;
mod work;

pub use begun::{Begun, EarlierTask, Through, Work, WorkTask};
pub use builds::{Build, Sharing, Take, Taker};
pub use carry::{left, taken_over};
pub use clash::{Booked, booked, clashes, leave, part_hands};
pub use clock::Clock;
pub use findings::{ALL as RULES, check_days, day_findings, unmade};
pub use frozen::{freeze, known, moved, works};
pub use kept::stores;
pub use making::{Sized, Unmade};
pub use means::Means;
pub use resolve::{
    Carried, ResolvedDay, day_later, heads, is_one_day, names_of_day, products, resolve,
};
pub use rows::{replace, rows};
pub use segs::step_of;
pub use shape::{End, Shape, Takes};
pub use ways::tried;
pub use work::{GroupOf, MAX_BEFORE, Planned, PoolOf, laid, lay, plan, shape_of};
