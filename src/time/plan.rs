//! A plan: every point of a formula's graph at an instant, so that it ends when the bread
//! must be ready, or begins when it is said to.

use super::clock::{Instant, MINUTE, Zone};
use super::graph::{Doing, Graph, Hands, Stretch};
use super::on_grid::on_grid;
use super::solve::{Gap, Names, Presence, Puzzle, Solution, attempt, is_possible, solve};
use super::trouble::told;
use crate::quantity::display::nearest;
use crate::quantity::{Exact, ratio};
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
pub struct Wanted<'a> {
    pub anchor: Anchor,
    /// Nothing is begun before then.
    pub not_before: Option<Instant>,
    pub hours: Hours<'a>,
    pub zone: &'a Zone,
    /// Clock times fall on multiples of so many milliseconds where the ranges allow it.
    pub grid: Option<i64>,
}

/// A graph with a time for every point.
#[derive(Clone, Debug)]
pub struct Plan {
    /// By point.
    pub times: Vec<Instant>,
    pub begin: Instant,
    pub end: Instant,
    /// How far lengths are from the middles of their ranges, in all, in shares of the ranges'
    /// widths: [`WIDTH`] for one whole width.
    pub cost: i64,
    /// Whether no other plan is nearer; false only where the search was given up.
    pub proven: bool,
}

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
    /// Why they don't go together, one conclusion after the other.
    pub because: Vec<Conclusion>,
    pub changes: Vec<Change>,
    /// Whether the bread can't be had at any time of the day, or the week.
    pub no_time_fits: bool,
}

/// One conclusion: lengths in a row, and the hours that they run into.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Conclusion {
    pub runs: Vec<Run>,
    /// Another point at the same time as the one that the first run begins with.
    pub(super) at: Option<usize>,
    /// Hours end then, and begin again.
    pub ends: Option<Instant>,
    pub begins: Option<Instant>,
    /// What is known before, and what follows.
    pub known: Option<Instant>,
    pub follows: Option<Instant>,
    /// A time that is fixed, and that what follows contradicts.
    pub fixed: Option<Instant>,
}

/// From one point to a later one takes at least, or at most, so many milliseconds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    pub from: usize,
    pub to: usize,
    pub at_least: bool,
    pub length: i64,
}

/// One change that alone would make a plan possible.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A stretch as long as this, in milliseconds, which is more than it may be.
    Longer { stretch: usize, most: i64 },
    /// A stretch as short as this, which is less than it has to be.
    Shorter { stretch: usize, least: i64 },
    /// Hands from one instant to another, for everything; and until now.
    Hours { hours: (Instant, Instant), now: (Instant, Instant) },
    /// Other hours on all their days: minutes since midnight.
    Daily { hours: Open, now: Open },
    /// The bread at another time, the nearest before or after.
    Ready { at: Instant },
    /// A beginning at another time, the nearest before or after.
    Start { at: Instant },
}

/// What one whole width of a range costs. A millisecond in the widest range that there can be
/// still costs more than a thousand.
pub const WIDTH: i64 = 60_000_000_000_000;

/// A width for what has none: how much later bread may be than `by` it was wanted costs as
/// much as the whole of a range, and what keeps without end. Common practice, no source.
const HALF_A_DAY: i64 = 12 * 60 * MINUTE;
const DAY: i64 = 24 * 60 * MINUTE;
const WEEK: i64 = 7 * DAY;

/// Plans a formula.
///
/// Hard: every length in its range, every stage used while it is ripe, nobody at work or
/// at the oven outside the hours. Of all such plans the one whose lengths are nearest to
/// the middles of their ranges, in shares of their widths; of those, the one that begins
/// latest. Within a step of the grid for each range, clock times fall on the grid instead.
///
/// # Errors
/// The smallest set of lengths and hours that can't hold together, and what would help.
pub fn plan(graph: &Graph, asked: &Wanted) -> Result<Plan, NoPlan> {
    match asked.anchor {
        Anchor::Start(start) => from_start(graph, start, asked),
        Anchor::Ready(wanted) | Anchor::ReadyBy(wanted) => {
            let puzzle = puzzle(graph, None, asked);
            solved(graph, &puzzle, asked).map_err(|mut conflict| {
                let other = |earlier| nearest_time(&puzzle, graph.end, wanted, earlier, asked);
                let times: Vec<Instant> =
                    [other(true), other(false)].into_iter().flatten().collect();
                conflict.no_time_fits = times.is_empty()
                    && asked.not_before.is_none()
                    && !conflict.presences.is_empty();
                let times = times.into_iter().map(|at| Change::Ready { at });
                conflict.changes.splice(0..0, times);
                conflict
            })
        }
    }
}

/// The nearest time before, or after, at which a point could be instead of when it is
/// wanted: a day away at most, or a week where days differ.
fn nearest_time(
    puzzle: &Puzzle,
    point: usize,
    wanted: Instant,
    earlier: bool,
    asked: &Wanted,
) -> Option<Instant> {
    let mut puzzle = puzzle.clone();
    // How long things take does not matter here, only how far the point is away.
    puzzle.gaps.iter_mut().for_each(|gap| gap.wish = None);
    puzzle.fixed.retain(|&(_, time)| Some(time) == asked.not_before);
    let free = puzzle.clone();
    let far = match asked.not_before {
        Some(_) => 52 * WEEK,
        None if asked.hours.is_some_and(|hours| hours.iter().any(|open| !open.days.all())) => WEEK,
        None => DAY,
    };
    let mark = puzzle.points;
    puzzle.points += 1;
    puzzle.fixed.push((mark, wanted));
    let (from, to) = if earlier { (point, mark) } else { (mark, point) };
    puzzle.gaps.push(Gap { from, to, least: 0, most: Some(far), wish: Some(0), price: 1 });
    let found = attempt(&puzzle)?.times.get(point).copied()?;
    let is_in_reach = |at: &Instant| {
        let mut puzzle = free.clone();
        puzzle.fixed.push((point, *at));
        is_possible(&puzzle)
    };
    // One that can be read off a clock, a little further away.
    rounded(found, earlier, asked).into_iter().find(is_in_reach).or(Some(found))
}

/// Times on the grid, then on the minute, at or beyond one.
fn rounded(at: Instant, earlier: bool, asked: &Wanted) -> Vec<Instant> {
    /// Half an hour of five minutes each.
    const MOST: i64 = 6;
    let beyond = |step: i64| {
        let place = (at + asked.zone.offset(at)).rem_euclid(step);
        let first = match (earlier, place) {
            (_, 0) => at,
            (true, place) => at - place,
            (false, place) => at - place + step,
        };
        let towards = if earlier { -step } else { step };
        (0..MOST).map(move |count| first + count * towards)
    };
    asked.grid.into_iter().chain([MINUTE]).flat_map(beyond).collect()
}

/// What begins at the start is one of the things before which nothing stands: the one
/// that makes the best plan.
fn from_start(graph: &Graph, start: Instant, asked: &Wanted) -> Result<Plan, NoPlan> {
    let mut best: Option<Plan> = None;
    for &source in &graph.sources {
        let puzzle = puzzle(graph, Some((source, start)), asked);
        let Some(solution) = attempt(&puzzle) else { continue };
        let plan = settled(graph, &puzzle, solution, asked);
        let is_better = |best: &Plan| (plan.cost, plan.end) < (best.cost, best.end);
        if best.as_ref().is_none_or(is_better) {
            best = Some(plan);
        }
    }
    best.ok_or_else(|| {
        let mut trouble = trouble_from_start(graph, start, asked);
        trouble.changes.splice(0..0, other_starts(graph, start, asked));
        trouble
    })
}

/// Of what can't be first there is nothing to tell: somebody always there would not help. The
/// conflict that matters is of what can, and of several the one with the fewest parts.
fn trouble_from_start(graph: &Graph, start: Instant, asked: &Wanted) -> NoPlan {
    /// Conflicts that are looked at.
    const MOST: usize = 8;
    let puzzles = || graph.sources.iter().map(|&it| puzzle(graph, Some((it, start)), asked));
    let can_be_first = |puzzle: &Puzzle| {
        let always = Puzzle { presences: Vec::new(), ..puzzle.clone() };
        is_possible(&Puzzle { names: None, ..always })
    };
    let mut matter: Vec<Puzzle> = puzzles().filter(can_be_first).take(MOST).collect();
    if matter.is_empty() {
        matter = puzzles().take(MOST).collect();
    }
    let conflicts = matter.iter().filter_map(|puzzle| {
        let conflict = solve(puzzle).err()?;
        Some(told(graph, puzzle, conflict, asked))
    });
    conflicts.min_by_key(|told| told.lengths.len() + told.presences.len()).unwrap_or_default()
}

/// The nearest times before and after at which it could begin: any of the things before
/// which nothing stands, so long as none begins earlier. What has passed is none.
fn other_starts(graph: &Graph, start: Instant, asked: &Wanted) -> Vec<Change> {
    let bare = Wanted { not_before: None, ..*asked };
    let puzzle = puzzle(graph, None, &bare);
    let nearest = |earlier: bool| {
        let each = graph.sources.iter().filter_map(|&source| {
            let mut puzzle = puzzle.clone();
            let first = tie(source, graph.points, Some(0));
            puzzle.gaps.push(first);
            nearest_time(&puzzle, source, start, earlier, &bare)
        });
        each.min_by_key(|at| (at - start).abs())
    };
    let is_to_come = |at: &Instant| asked.not_before.is_none_or(|now| *at >= now);
    let times = [true, false].into_iter().filter_map(nearest).filter(is_to_come);
    times.map(|at| Change::Start { at }).collect()
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
fn tie(from: usize, to: usize, most: Option<i64>) -> Gap {
    Gap { from, to, least: 0, most, wish: None, price: 0 }
}

/// The graph and the hours as a puzzle; `first` is what begins at a start, and when.
fn puzzle(graph: &Graph, first: Option<(usize, Instant)>, asked: &Wanted) -> Puzzle {
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
            let price = price(HALF_A_DAY);
            gaps.push(Gap { wish: Some(0), price, ..tie(graph.end, points, Some(WEEK)) });
            points += 1;
        }
        Anchor::Start(start) => {
            fixed.extend(
                first.into_iter().flat_map(|(source, at)| [(source, at), (graph.points, start)]),
            );
        }
    }
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
        names: Some(Names { gaps: of_gaps, presences: of_presences }),
        grid: None,
    }
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
        (None, Doing::Keep { .. }) => HALF_A_DAY,
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

/// Minutes as milliseconds; a year at most.
pub fn milliseconds(minutes: &Exact) -> i64 {
    const YEAR: i64 = 366 * 24 * 60 * MINUTE;
    nearest(&(minutes * Exact::from(MINUTE))).try_into().unwrap_or(YEAR).min(YEAR)
}

/// Minutes as a whole number of them, rounded half away from zero.
pub fn whole_minutes(minutes: &Exact) -> i64 {
    nearest(minutes).try_into().unwrap_or(i64::MAX)
}

fn solved(graph: &Graph, puzzle: &Puzzle, asked: &Wanted) -> Result<Plan, NoPlan> {
    match solve(puzzle) {
        Ok(solution) => Ok(settled(graph, puzzle, solution, asked)),
        Err(conflict) => Err(told(graph, puzzle, conflict, asked)),
    }
}

fn settled(graph: &Graph, puzzle: &Puzzle, best: Solution, asked: &Wanted) -> Plan {
    let Solution { mut times, cost, proven } = on_grid(graph, puzzle, best, asked);
    settle_folds(graph, &mut times, puzzle, asked);
    times.truncate(graph.points);
    let begin = graph.sources.iter().map(|&source| times[source]).min();
    let end = times[graph.end];
    Plan { begin: begin.unwrap_or(end), end, times, cost, proven }
}

/// Folds that nobody gave a time part their phase as long as it is planned, to the grid;
/// where nobody is there then, they are as near to that as somebody is, rather earlier.
fn settle_folds(graph: &Graph, times: &mut [Instant], puzzle: &Puzzle, asked: &Wanted) {
    let grid = asked.grid.filter(|grid| *grid > 0).unwrap_or(MINUTE);
    for folds in graph.folds.iter().filter(|folds| folds.evenly) {
        let Some(phase) = graph.stretches.get(folds.phase) else { continue };
        let (begin, end) = (times[phase.from], times[phase.to]);
        let work = milliseconds(&folds.work);
        let first = folds.ways.first().and_then(|&way| graph.stretches.get(way));
        let apart = first.map_or(0, |fold| milliseconds(&fold.low));
        let most = first.and_then(|fold| fold.high.as_ref()).map(milliseconds);
        let (mut before, mut free) = (begin, begin + MINUTE.max(apart));
        let mut settled = Vec::new();
        for after in folds.parting(&ratio(end - begin, MINUTE)) {
            let wanted = begin + whole_minutes(&after) * MINUTE;
            let wanted = on_clock(asked.zone, wanted, grid);
            let last = most.map_or(end - work, |most| (before + most).min(end - work));
            let Some(at) = when_there(puzzle, wanted, work, (free, last)) else { break };
            settled.push(at);
            (before, free) = (at, at + apart.max(work));
        }
        // Where they don't all find a place, they stay where the plan has them.
        if settled.len() == folds.ways.len() {
            for (&way, at) in folds.ways.iter().zip(settled) {
                let fold = graph.stretches[way].to;
                times[fold] = at;
                let hands = graph.stretches.iter().filter(|it| it.from == fold);
                let hands = hands.filter(|it| matches!(it.doing, Doing::Folding { .. }));
                hands.for_each(|it| times[it.to] = at + work);
            }
        }
    }
}

/// The nearest full step of the clock on the wall.
fn on_clock(zone: &Zone, at: Instant, step: i64) -> Instant {
    let shown = at + zone.offset(at);
    at + (shown + step / 2).div_euclid(step) * step - shown
}

/// When hands can begin with what takes them so long, between two instants: as wanted, else
/// before it, else after it.
fn when_there(
    puzzle: &Puzzle,
    wanted: Instant,
    work: i64,
    (first, last): (Instant, Instant),
) -> Option<Instant> {
    let wanted = wanted.clamp(first, last.max(first));
    if last < first {
        return None;
    }
    if puzzle.presences.is_empty() {
        return Some(wanted);
    }
    let open = puzzle.openings.iter().map(|&(from, to)| (from.max(first), (to - work).min(last)));
    let open = open.filter(|(from, to)| from <= to);
    let nearest = open.map(|(from, to)| wanted.clamp(from, to));
    nearest.min_by_key(|at| (*at > wanted, (wanted - at).abs()))
}

/// Whether other hours would do.
pub fn would_do(puzzle: &Puzzle, graph: &Graph, hours: &[Open], asked: &Wanted) -> bool {
    let (Anchor::Ready(about) | Anchor::ReadyBy(about) | Anchor::Start(about)) = asked.anchor;
    let reach = reach(graph);
    let openings = asked.zone.openings(hours, about - reach, about + reach);
    is_possible(&Puzzle { openings, ..puzzle.clone() })
}

/// Times without a clock: every length as it would best be, counted back from the end in
/// minutes; what ends at 0.
pub fn usual(graph: &Graph) -> Vec<Exact> {
    let length = |stretch: &Stretch| stretch.best().unwrap_or_else(|| stretch.low.clone());
    let mut times: Vec<Option<Exact>> = vec![None; graph.points];
    times[graph.end] = Some(Exact::ZERO);
    let counts = |stretch: &&Stretch| {
        !matches!(
            stretch.doing,
            Doing::Order | Doing::Fold { .. } | Doing::Folding { .. } | Doing::Moment { .. }
        )
    };
    for _ in 0..graph.points {
        let mut changed = false;
        for stretch in graph.stretches.iter().filter(counts).rev() {
            let Some(to) = &times[stretch.to] else { continue };
            let from = to - length(stretch);
            if times[stretch.from].as_ref().is_none_or(|known| from < *known) {
                times[stretch.from] = Some(from);
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    // Folds and moments are counted forward from the phase they stand in.
    for _ in 0..graph.points {
        for stretch in &graph.stretches {
            if let (Some(from), None) = (&times[stretch.from], &times[stretch.to]) {
                times[stretch.to] = Some(from + length(stretch));
            }
        }
    }
    let mut times: Vec<Exact> = times.into_iter().map(Option::unwrap_or_default).collect();
    for folds in graph.folds.iter().filter(|folds| folds.evenly) {
        let Some(phase) = graph.stretches.get(folds.phase) else { continue };
        let after = folds.parting(&(&times[phase.to] - &times[phase.from]));
        for (&way, after) in folds.ways.iter().zip(after) {
            times[graph.stretches[way].to] = &times[phase.from] + after;
        }
    }
    times
}
