//! A plan: every point of a formula's graph at an instant, so that it ends when the bread
//! must be ready, or begins when it is said to.

use super::clock::{Instant, MINUTE, Zone};
use super::graph::{Doing, Folds, Graph, Hands, Stretch};
use super::on_grid::on_grid;
use super::one_pair::apart;
use super::planned::{Anchor, Change, NoPlan, Plan, PlanRequest, milliseconds, whole_minutes};
use super::puzzle::{WEEK, puzzle, tie};
use super::solve::{Gap, Puzzle, Solution, attempt, is_possible, solve};
use super::trouble::told;
use crate::quantity::ratio;

/// Milliseconds.
const DAY: i64 = WEEK / 7;

/// Plans a formula.
///
/// Hard: every length in its range, every stage used while it is ripe, nobody at work or
/// at the oven outside the hours. Of all such plans the one whose lengths are nearest to
/// the middles of their ranges, in shares of their widths; of those, the one that begins
/// latest. Within a step of the grid for each range, clock times fall on the grid instead.
///
/// # Errors
/// The smallest set of lengths and hours that can't hold together, and what would help.
pub fn plan(graph: &Graph, asked: &PlanRequest) -> Result<Plan, NoPlan> {
    match asked.anchor {
        Anchor::Start(start) => from_start(graph, start, asked),
        Anchor::Ready(wanted) | Anchor::ReadyBy(wanted) => {
            let puzzle = puzzle(graph, None, asked);
            let latest = |plan: Plan| {
                let is_asked = matches!(asked.anchor, Anchor::ReadyBy(_)) && plan.end < wanted;
                let by_minute = PlanRequest { grid: None, ..*asked };
                let latest =
                    is_asked.then(|| nearest_time(&puzzle, graph.end, wanted, true, &by_minute));
                Plan { latest: latest.flatten(), ..plan }
            };
            solved(graph, &puzzle, asked).map(latest).map_err(|mut conflict| {
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
    asked: &PlanRequest,
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
fn rounded(at: Instant, earlier: bool, asked: &PlanRequest) -> Vec<Instant> {
    /// Half an hour of five minutes each.
    const MAX_TRIED: i64 = 6;
    let beyond = |step: i64| {
        let place = (at + asked.zone.offset(at)).rem_euclid(step);
        let first = match (earlier, place) {
            (_, 0) => at,
            (true, place) => at - place,
            (false, place) => at - place + step,
        };
        let towards = if earlier { -step } else { step };
        (0..MAX_TRIED).map(move |count| first + count * towards)
    };
    asked.grid.into_iter().chain([MINUTE]).flat_map(beyond).collect()
}

/// What begins at the start is one of the things before which nothing stands: the one
/// that makes the best plan.
fn from_start(graph: &Graph, start: Instant, asked: &PlanRequest) -> Result<Plan, NoPlan> {
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
fn trouble_from_start(graph: &Graph, start: Instant, asked: &PlanRequest) -> NoPlan {
    /// Conflicts that are looked at.
    const MAX_CONFLICTS: usize = 8;
    let puzzles = || graph.sources.iter().map(|&it| puzzle(graph, Some((it, start)), asked));
    let can_be_first = |puzzle: &Puzzle| {
        let always = Puzzle { presences: Vec::new(), ..puzzle.clone() };
        is_possible(&Puzzle { names: None, ..always })
    };
    let mut matter: Vec<Puzzle> = puzzles().filter(can_be_first).take(MAX_CONFLICTS).collect();
    if matter.is_empty() {
        matter = puzzles().take(MAX_CONFLICTS).collect();
    }
    let conflicts = matter.iter().filter_map(|puzzle| {
        let conflict = solve(puzzle).err()?;
        Some(told(graph, puzzle, conflict, asked))
    });
    conflicts.min_by_key(|told| told.lengths.len() + told.presences.len()).unwrap_or_default()
}

/// The nearest times before and after at which it could begin: any of the things before
/// which nothing stands, so long as none begins earlier. What has passed is none.
fn other_starts(graph: &Graph, start: Instant, asked: &PlanRequest) -> Vec<Change> {
    let bare = PlanRequest { not_before: None, ..*asked };
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

fn solved(graph: &Graph, puzzle: &Puzzle, asked: &PlanRequest) -> Result<Plan, NoPlan> {
    match solve(puzzle) {
        Ok(solution) => Ok(settled(graph, puzzle, solution, asked)),
        Err(conflict) => Err(told(graph, puzzle, conflict, asked)),
    }
}

fn settled(graph: &Graph, puzzle: &Puzzle, best: Solution, asked: &PlanRequest) -> Plan {
    let (puzzle, best) = apart(graph, puzzle, best);
    let (puzzle, best) = alike(graph, puzzle, best, asked);
    let Solution { mut times, cost, proven } = on_grid(graph, &puzzle, best, asked);
    settle_folds(graph, &mut times, &puzzle, asked);
    times.truncate(graph.points);
    let begin = graph.sources.iter().map(|&source| times[source]).min();
    let end = times[graph.end];
    Plan { begin: begin.unwrap_or(end), end, times, cost, proven, latest: None }
}

/// Batches and loads that go through one phase take one time there: a full step of the grid in
/// its range, the nearest to the middle; where none goes, a full minute.
fn alike(graph: &Graph, puzzle: Puzzle, best: Solution, asked: &PlanRequest) -> (Puzzle, Solution) {
    let (mut puzzle, mut best) = (puzzle, best);
    let mut seen: Vec<&Doing> = Vec::new();
    for stretch in graph.stretches.iter().filter(|it| it.batch.is_some()) {
        if seen.contains(&&stretch.doing) || stretch.high.as_ref() == Some(&stretch.low) {
            continue;
        }
        seen.push(&stretch.doing);
        let own = graph.stretches.iter().enumerate();
        let own: Vec<usize> =
            own.filter(|(_, it)| it.doing == stretch.doing).map(|(place, _)| place).collect();
        let found = lengths(stretch, asked).into_iter().find_map(|length| {
            let mut puzzle = puzzle.clone();
            for &place in &own {
                let gap = puzzle.gaps.get_mut(place)?;
                (gap.least, gap.most) = (length, Some(length));
            }
            let best = attempt(&puzzle)?;
            Some((puzzle, best))
        });
        if let Some((one, times)) = found {
            let proven = times.proven && best.proven;
            (puzzle, best) = (one, Solution { proven, ..times });
        }
    }
    (puzzle, best)
}

/// Lengths that a range allows, those on the grid first, the nearest to its middle first.
fn lengths(stretch: &Stretch, asked: &PlanRequest) -> Vec<i64> {
    /// Lengths that are tried of each kind.
    const MAX_TRIED: usize = 8;
    let (low, best) = (milliseconds(&stretch.low), stretch.best().as_ref().map(milliseconds));
    let Some((high, best)) = stretch.high.as_ref().map(milliseconds).zip(best) else {
        return Vec::new();
    };
    let steps = asked.grid.filter(|&grid| grid > MINUTE).into_iter().chain([MINUTE]);
    let all = steps.flat_map(|step| {
        let (first, last) = (low + (-low).rem_euclid(step), high - high.rem_euclid(step));
        let near = (best + step / 2).div_euclid(step);
        let most = i64::try_from(MAX_TRIED).unwrap_or(i64::MAX);
        let around = (near - most..=near + most).map(move |count| count * step);
        let mut fit: Vec<i64> = around.filter(|it| (first..=last).contains(it)).collect();
        fit.sort_by_key(|it| ((it - best).abs(), *it));
        fit.truncate(MAX_TRIED);
        fit
    });
    let mut lengths: Vec<i64> = Vec::new();
    for length in all {
        if !lengths.contains(&length) {
            lengths.push(length);
        }
    }
    lengths
}

/// Folds that nobody gave a time part their phase as long as it is planned, to the grid;
/// where nobody is there then, they are as near to that as somebody is, rather earlier.
fn settle_folds(graph: &Graph, times: &mut [Instant], puzzle: &Puzzle, asked: &PlanRequest) {
    let grid = asked.grid.filter(|grid| *grid > 0).unwrap_or(MINUTE);
    for folds in graph.folds.iter().filter(|folds| folds.evenly) {
        let Some(phase) = graph.stretches.get(folds.phase) else { continue };
        let (begin, end) = (times[phase.from], times[phase.to]);
        let work = milliseconds(&folds.work);
        let first = folds.ways.first().and_then(|&way| graph.stretches.get(way));
        let apart = first.map_or(0, |fold| milliseconds(&fold.low));
        let most = first.and_then(|fold| fold.high.as_ref()).map(milliseconds);
        let (mut before, mut free) = (begin, begin + MINUTE.max(apart));
        let there = openings(graph, times, puzzle, folds);
        let mut settled = Vec::new();
        for after in folds.parting(&ratio(end - begin, MINUTE)) {
            let wanted = begin + whole_minutes(&after) * MINUTE;
            let wanted = on_clock(asked.zone, wanted, grid);
            let last = most.map_or(end - work, |most| (before + most).min(end - work));
            let Some(at) = when_there(&there, wanted, work, (free, last)) else { break };
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

/// When hands are there and not at work elsewhere: with anything but these folds.
fn openings(
    graph: &Graph,
    times: &[Instant],
    puzzle: &Puzzle,
    folds: &Folds,
) -> Vec<(Instant, Instant)> {
    let phase = graph.stretches.get(folds.phase).map(|phase| &phase.doing);
    let is_own = |doing: &Doing| match (doing, phase) {
        (
            Doing::Folding { stage, step, phase },
            Some(Doing::Step { stage: of, step: own, phase: part }),
        ) => (stage, step, phase) == (of, own, part),
        _ => false,
    };
    let always = vec![(Instant::MIN / 4, Instant::MAX / 4)];
    let mut open = if puzzle.presences.is_empty() { always } else { puzzle.openings.clone() };
    let on = graph.stretches.iter().filter(|it| it.hands == Hands::On && !is_own(&it.doing));
    for (from, to) in on.map(|it| (times[it.from], times[it.to])).filter(|(from, to)| from < to) {
        let part = |(begin, end): (Instant, Instant)| match from < end && begin < to {
            true => [(begin, from), (to, end)],
            false => [(begin, end), (end, end)],
        };
        open = open.into_iter().flat_map(part).filter(|(begin, end)| begin < end).collect();
    }
    open
}

/// When hands can begin with what takes them so long, between two instants: as wanted, else
/// before it, else after it.
fn when_there(
    there: &[(Instant, Instant)],
    wanted: Instant,
    work: i64,
    (first, last): (Instant, Instant),
) -> Option<Instant> {
    if last < first {
        return None;
    }
    let wanted = wanted.clamp(first, last);
    let open = there.iter().map(|&(from, to)| (from.max(first), (to - work).min(last)));
    let open = open.filter(|(from, to)| from <= to);
    let nearest = open.map(|(from, to)| wanted.clamp(from, to));
    nearest.min_by_key(|at| (*at > wanted, (wanted - at).abs()))
}
