//! When each thing of a baking day is done: the cheapest times that keep every promise.
//!
//! Enters: a [`Puzzle`] of points in time, the gaps between them, the stretches in which
//! somebody has to be there, the hours in which somebody is, and what is fixed. Leaves: a
//! [`Solution`], or a [`Conflict`] that names a smallest set of parts that cannot hold together
//! and the single changes that would help. Deliberately absent: clocks, calendars, names,
//! floats, and any bread; a point is a number here.
//!
//! Three facts carry the whole room.
//!
//! - Of two plans, the later of both times of each point is again a plan, and so is the earlier:
//!   a bound on a difference keeps under both, and so does lying in one opening, because
//!   openings follow each other. So the latest plan and the earliest plan exist, and sinking
//!   from above, or rising from below, finds them or shows that there is none (`bounds`).
//!   Whether a puzzle has a plan needs no search.
//! - With the openings left aside, the cheapest times are the dual of a cheapest flow, which
//!   is solved in whole numbers; a bound more costs a few short paths (`flow`).
//! - Openings are chosen by branch and bound over such flows, best first (`search`), for each
//!   cluster of points that hang together apart from what is fixed.
//!
//! Where slices are indexed: every index is a point, gap or presence of the puzzle at hand, and
//! [`solve`] checks the points of a puzzle at its door.

mod argument;
mod bounds;
mod conflict;
mod flow;
mod grid;
mod puzzle;
mod relief;
mod search;
#[cfg(test)]
mod tests;

pub use argument::{Argument, Move};
pub use conflict::Conflict;
pub use puzzle::{Gap, GapNames, Grid, Presence, Puzzle, PuzzlePart, Solution};
pub use relief::Relief;

use puzzle::Cluster;
use search::plan;

/// The times with the least sum of prices times `|(to - from) - wish|`, exactly; of these those with the
/// latest `start`; of these those with the largest sum of all times. A point that nothing holds
/// from above is not in that sum and stands as early as the others allow; what nothing holds at
/// all stands at the last fixed time, else at the end of the last opening, else at 0.
///
/// # Errors
/// A [`Conflict`] where no times meet all gaps, presences and fixed points.
///
/// # Panics
/// Where a part names a point that the puzzle does not have, or there are more than
/// [`puzzle::MAX_POINTS`]: both are slips of the caller that no answer could express.
pub fn solve(puzzle: &Puzzle) -> Result<Solution, Conflict> {
    assert!(puzzle.is_sound(), "a puzzle names a point it does not have, or has too many");
    let puzzle = puzzle.within_reach();
    plan(&puzzle).ok_or_else(|| conflict::explain(&puzzle))
}

/// As [`solve`], without the reasons where there is no plan.
///
/// # Panics
/// As [`solve`].
pub fn attempt(puzzle: &Puzzle) -> Option<Solution> {
    assert!(puzzle.is_sound(), "a puzzle names a point it does not have, or has too many");
    plan(&puzzle.within_reach())
}

/// Whether any times meet all gaps, presences and fixed points: by propagation alone.
pub fn is_possible(puzzle: &Puzzle) -> bool {
    let puzzle = puzzle.within_reach();
    let whole = Cluster::whole(&puzzle);
    let field = bounds::Field::new(&puzzle, &whole);
    field.latest(&field.all_choices()).is_some()
}
