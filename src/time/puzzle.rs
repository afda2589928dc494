//! A graph and somebody's hours as a puzzle of whole milliseconds.

use super::clock::{Instant, MINUTE};
use super::graph::{Doing, Graph, Hands, Stretch};
use super::planned::{Anchor, PlanRequest, WIDTH, milliseconds};
use super::solve::{Gap, GapNames, Presence, Puzzle, is_possible};
use crate::formula::known;
use crate::quantity::Exact;
use crate::syntax::tree::Open;

/// A width for what has none, in milliseconds: how much later bread may be than `by` it was
/// wanted costs as much as the whole of a range, and what keeps without end.
fn no_end() -> i64 {
    milliseconds(&known("usual ways out", "endless"))
}

/// Milliseconds of a week.
pub const WEEK: i64 = 7 * 24 * 60 * MINUTE;

/// The graph and the hours as a puzzle; `first` is what begins at a start, and when.
pub fn puzzle(graph: &Graph, first: Option<(usize, Instant)>, asked: &PlanRequest) -> Puzzle {
    // One point more: the beginning, before which nothing is.
    let start = graph.points;
    let mut points = start + 1;
    let mut gaps = gaps(graph);
    gaps.extend(graph.sources.iter().map(|&source| tie(start, source, None)));
    let mut fixed: Vec<(usize, Instant)> = Vec::new();
    let reach = reach(graph);
    let (Anchor::Ready(about) | Anchor::ReadyBy(about) | Anchor::Start(about)) = asked.anchor;
    match asked.anchor {
        Anchor::Ready(ready) => fixed.push((graph.end, ready)),
        Anchor::ReadyBy(limit) => {
            fixed.push((points, limit));
            let price = price(no_end());
            gaps.push(Gap { wish: Some(0), price, ..tie(graph.end, points, Some(WEEK)) });
            points += 1;
        }
        Anchor::Start(start) => {
            fixed.extend(
                first.into_iter().flat_map(|(source, at)| [(source, at), (graph.points, start)]),
            );
        }
    }
    let is_free = |pin: &&(usize, Instant)| fixed.iter().all(|(point, _)| *point != pin.0);
    let pins: Vec<(usize, Instant)> = asked.pins.iter().filter(is_free).copied().collect();
    fixed.extend(pins);
    if let (Some(now), true) = (asked.not_before, !matches!(asked.anchor, Anchor::Start(_))) {
        fixed.push((points, now));
        gaps.push(tie(points, start, None));
        points += 1;
    }
    let openings = |hours| asked.zone.openings(hours, about - reach, about + reach);
    let presences = if asked.hours.is_some() { presences(graph) } else { Vec::new() };
    let doings = presences.iter().map(|(_, doing)| *doing);
    let mut names = Naming::default();
    let of_gaps = graph.stretches.iter().map(|stretch| names.of_length(stretch)).collect();
    let of_presences = doings.map(|doing| names.of(doing)).collect();
    Puzzle {
        points,
        gaps,
        presences: presences.iter().map(|(presence, _)| *presence).collect(),
        openings: asked.hours.map_or_else(Vec::new, openings),
        fixed,
        start: Some(start),
        names: Some(GapNames { gaps: of_gaps, presences: of_presences }),
        grid: None,
    }
}

/// Stretches that are tied to the hours: from point to point, or a point by itself; each with
/// what it is for.
fn presences(graph: &Graph) -> Vec<(Presence, Option<&Doing>)> {
    let there = |stretch: &&Stretch| stretch.hands != Hands::Off;
    let stretches = graph
        .stretches
        .iter()
        .filter(there)
        .map(|stretch| (Presence { from: stretch.from, to: stretch.to }, Some(&stretch.doing)));
    let moments = graph.moments.iter().map(|&at| {
        let doing = at_point(graph, at).map(|stretch| &stretch.doing);
        (Presence { from: at, to: at }, doing)
    });
    stretches.chain(moments).collect()
}

/// What is done at a point: what begins there, the step before what else does; else what ends.
pub fn at_point(graph: &Graph, point: usize) -> Option<&Stretch> {
    let begins = |stretch: &&Stretch| stretch.from == point && stretch.doing != Doing::Order;
    let is_done = |stretch: &&Stretch| {
        matches!(stretch.doing, Doing::Step { .. } | Doing::Build { .. } | Doing::Ripen { .. })
    };
    let ends = |stretch: &&Stretch| stretch.to == point && stretch.doing != Doing::Order;
    let folds = |stretch: &&Stretch| ends(stretch) && matches!(stretch.doing, Doing::Fold { .. });
    let all = || graph.stretches.iter();
    all()
        .find(|stretch| begins(stretch) && is_done(stretch))
        .or_else(|| all().find(folds))
        .or_else(|| all().find(begins))
        .or_else(|| all().find(ends))
}

/// One point is before another, by so much at most.
pub fn tie(from: usize, to: usize, most: Option<i64>) -> Gap {
    Gap { from, to, least: 0, most, wish: None, price: 0 }
}

/// Numbers for what has a name.
#[derive(Default)]
struct Naming<'g> {
    known: Vec<&'g Doing>,
    others: usize,
}

impl<'g> Naming<'g> {
    /// Nobody can change an order, or what takes no time.
    fn of_length(&mut self, stretch: &'g Stretch) -> Option<usize> {
        let is_nothing = !matches!(stretch.doing, Doing::Keep { .. })
            && stretch.high.as_ref().is_some_and(Exact::is_zero);
        if is_nothing || stretch.doing == Doing::Order {
            return None;
        }
        self.of(Some(&stretch.doing))
    }

    fn of(&mut self, doing: Option<&'g Doing>) -> Option<usize> {
        /// Beyond what a graph has of stretches.
        const UNKNOWN: usize = 1 << 32;
        let Some(doing) = doing else {
            self.others += 1;
            return Some(UNKNOWN + self.others);
        };
        let known = self.known.iter().position(|other| *other == doing);
        Some(known.unwrap_or_else(|| {
            self.known.push(doing);
            self.known.len() - 1
        }))
    }
}

fn gap(stretch: &Stretch) -> Gap {
    let least = milliseconds(&stretch.low);
    let most = stretch.high.as_ref().map(milliseconds);
    let wish = stretch.best().as_ref().map(milliseconds).filter(|_| most != Some(least));
    // A plan in whole minutes, where its ranges are.
    let in_minutes = least % MINUTE == 0 && most.is_none_or(|most| most % MINUTE == 0);
    let wish = wish.map(|wish| if in_minutes { wish - wish % MINUTE } else { wish });
    let width = match (most, &stretch.doing) {
        (Some(most), _) => most - least,
        (None, Doing::Keep { .. }) => no_end(),
        // Twice as long is as far off as the whole of a range.
        (None, _) => least.max(60 * MINUTE),
    };
    Gap { from: stretch.from, to: stretch.to, least, most, wish, price: price(width) }
}

/// The prices of a graph's lengths. A stage rather ripens a little longer than that it keeps:
/// both are the same jar on the same shelf, but one is a thing less to do.
fn gaps(graph: &Graph) -> Vec<Gap> {
    let mut gaps: Vec<Gap> = graph.stretches.iter().map(gap).collect();
    let ripens = |gap: &Gap, stretch: &Stretch| match stretch.doing {
        Doing::Ripen { stage, .. } if gap.wish.is_some() => Some((stage, gap.price)),
        _ => None,
    };
    let ripening = gaps.iter().zip(&graph.stretches);
    let ripening: Vec<_> = ripening.filter_map(|(gap, stretch)| ripens(gap, stretch)).collect();
    for (gap, stretch) in gaps.iter_mut().zip(&graph.stretches) {
        if let Doing::Keep { stage, .. } = stretch.doing {
            let own = ripening.iter().filter(|(of, _)| *of == stage).map(|(_, price)| *price);
            gap.price = own.fold(gap.price, u64::max) + 1;
        }
    }
    gaps
}

/// What a millisecond costs in a range of a width.
fn price(width: i64) -> u64 {
    u64::try_from(WIDTH / width.max(1)).unwrap_or(1).max(1)
}

/// How far from its end a plan may reach: everything one after the other at its longest,
/// and a week for what is open-ended.
fn reach(graph: &Graph) -> i64 {
    let longest = |stretch: &Stretch| match &stretch.high {
        Some(high) => milliseconds(high),
        None => milliseconds(&stretch.low) + WEEK,
    };
    let sum = graph.stretches.iter().map(longest).fold(0i64, i64::saturating_add);
    sum.min(52 * WEEK) + WEEK
}

/// Whether other hours would do.
pub fn would_do(puzzle: &Puzzle, graph: &Graph, hours: &[Open], asked: &PlanRequest) -> bool {
    let (Anchor::Ready(about) | Anchor::ReadyBy(about) | Anchor::Start(about)) = asked.anchor;
    let reach = reach(graph);
    let openings = asked.zone.openings(hours, about - reach, about + reach);
    is_possible(&Puzzle { openings, ..puzzle.clone() })
}
