//! What a plan is asked for and what comes of it, as plain data.

use super::clock::{Instant, MINUTE, Zone};
use super::graph::Graph;
use super::length::elapsed;
use crate::formula::Worked;
use crate::quantity::Exact;
use crate::syntax::tree::Open;

/// What a plan depends on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The bread is ready then.
    Ready(Instant),
    /// The bread is ready then or before.
    ReadyBy(Instant),
    /// The first thing is done then.
    Start(Instant),
}

/// When somebody is there. None: always.
pub type Hours<'h> = Option<&'h [Open]>;

/// What a plan is asked for.
#[derive(Clone, Copy, Debug)]
pub struct PlanRequest<'a> {
    /// What the plan is held at: a beginning, or an end.
    pub anchor: Anchor,
    /// Nothing is begun before then.
    pub not_before: Option<Instant>,
    /// Points whose time is given, so that work is shared with another plan.
    pub pins: &'a [(usize, Instant)],
    /// When there are hands; none where there always are.
    pub hours: Hours<'a>,
    /// The zone in which hours are meant.
    pub zone: &'a Zone,
    /// Clock times fall on multiples of so many milliseconds where the ranges allow it.
    pub grid: Option<i64>,
}

/// A graph with a time for every point.
#[derive(Clone, Debug)]
pub struct Plan {
    /// By point.
    pub times: Vec<Instant>,
    /// When the first thing is begun.
    pub begin: Instant,
    /// When the bread is ready.
    pub end: Instant,
    /// How far lengths are from the middles of their ranges, in all, in shares of the ranges'
    /// widths: [`WIDTH`] for one whole width.
    pub cost: i64,
    /// Whether no other plan is nearer; false only where the search was given up.
    pub proven: bool,
    /// The latest minute at which the bread could be ready, where that is asked for by a time
    /// and the plan has it earlier.
    pub latest: Option<Instant>,
}

/// A formula with its plan.
#[derive(Clone, Copy)]
pub struct Used<'a, 't> {
    /// The formula, worked out.
    pub worked: &'a Worked<'t>,
    /// Its steps in time.
    pub graph: &'a Graph,
    /// A time for every point of the graph.
    pub plan: &'a Plan,
}

/// What one whole width of a range costs. A millisecond in the widest range that there can be
/// still costs more than a thousand.
pub const WIDTH: i64 = 60_000_000_000_000;

/// Why there is no plan, in terms of the graph.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NoPlan {
    /// Stretches whose lengths are part of the conflict.
    pub lengths: Vec<usize>,
    /// Points at which somebody would have to be there.
    pub presences: Vec<(usize, usize)>,
    /// Whether no fewer things, by their names, are in conflict; false where the search for
    /// fewer was given up.
    pub is_smallest: bool,
    /// Whether none of them can be left out; false where even that search was given up.
    pub is_irreducible: bool,
    /// Why they don't go together, one conclusion after the other.
    pub because: Vec<Conclusion>,
    /// Changes of which each alone makes a plan possible.
    pub changes: Vec<Change>,
    /// Whether the bread can't be had at any time of the day, or the week.
    pub no_time_fits: bool,
}

/// One conclusion: lengths in a row, and the hours that they run into.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Conclusion {
    /// Lengths in a row, from one point to the next.
    pub runs: Vec<Run>,
    /// Another point at the same time as the one that the first run begins with.
    pub(super) at: Option<usize>,
    /// Hours end then, and begin again.
    pub ends: Option<Instant>,
    /// When they begin again.
    pub begins: Option<Instant>,
    /// What is known before, and what follows.
    pub known: Option<Instant>,
    /// The earliest or latest time that follows.
    pub follows: Option<Instant>,
    /// A time that is fixed, and that what follows contradicts.
    pub fixed: Option<Instant>,
}

/// From one point to a later one takes at least, or at most, so many milliseconds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// The point that it begins at.
    pub from: usize,
    /// The point that it ends at.
    pub to: usize,
    /// Whether it is the least that it takes; else the most.
    pub at_least: bool,
    /// In milliseconds.
    pub length: i64,
}

/// One change that alone would make a plan possible.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A stretch as long as this, in milliseconds, which is more than it may be.
    Longer {
        /// The stretch of the graph.
        stretch: usize,
        /// In milliseconds.
        most: i64,
    },
    /// A stretch as short as this, which is less than it has to be.
    Shorter {
        /// The stretch of the graph.
        stretch: usize,
        /// In milliseconds.
        least: i64,
    },
    /// Hands from one instant to another, for everything; and until now.
    Hours {
        /// From and to.
        hours: (Instant, Instant),
        /// From and to, as they are asked.
        now: (Instant, Instant),
    },
    /// Other hours on all their days: minutes since midnight.
    Daily {
        /// As they would have to be.
        hours: Open,
        /// As they are.
        now: Open,
    },
    /// The bread at another time, the nearest before or after.
    Ready {
        /// The time that can be met.
        at: Instant,
    },
    /// A beginning at another time, the nearest before or after.
    Start {
        /// The time that can be met.
        at: Instant,
    },
}

/// Days that a plan has at most, and that anything in it takes at most.
pub const MAX_DAYS: i64 = 366;
const MAX_MINUTES: i64 = MAX_DAYS * 24 * 60;

/// Whether a plan of the graph, and all that is in it, is no longer than a plan can be.
pub fn is_in_reach(graph: &Graph) -> bool {
    let most = Exact::from(MAX_MINUTES);
    let lengths = graph.stretches.iter().flat_map(|it| [Some(&it.low), it.high.as_ref()]);
    lengths.flatten().all(|length| *length <= most) && elapsed(graph).low <= most
}

/// Minutes as milliseconds; as long as a plan can be at most, see [`is_in_reach`].
pub fn milliseconds(minutes: &Exact) -> i64 {
    const MAX: i64 = MAX_MINUTES * MINUTE;
    (minutes * Exact::from(MINUTE)).nearest().try_into().unwrap_or(MAX).min(MAX)
}

/// Minutes as a whole number of them, rounded half away from zero.
pub fn whole_minutes(minutes: &Exact) -> i64 {
    minutes.nearest().try_into().unwrap_or(i64::MAX)
}
