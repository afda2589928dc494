//! Why there is no plan, and what would help, in terms of the graph.
//!
//! Enters: what the solver found to be in conflict. Leaves: the lengths and presences, the
//! conclusions that show it, and changes that a baker could make.

use super::clock::MINUTE;
use super::graph::{Doing, Graph, Hands, Stretch};
use super::planned::{
    Anchor, Change, Conclusion, NoPlan, PlanRequest, Run, milliseconds, whole_minutes,
};
use super::puzzle::would_do;
use super::solve::{Argument, Conflict, Move, Puzzle, PuzzlePart, Relief};
use crate::formula::known;
use crate::syntax::tree::Open;

/// Openings that are offered to be made longer.
const MAX_OPENINGS: usize = 2;

/// A conflict in terms of the graph.
pub fn told(graph: &Graph, puzzle: &Puzzle, conflict: Conflict, asked: &PlanRequest) -> NoPlan {
    let mut no_plan = NoPlan {
        is_smallest: conflict.is_smallest,
        is_irreducible: conflict.is_irreducible,
        ..NoPlan::default()
    };
    for part in &conflict.parts {
        match *part {
            PuzzlePart::Gap(gap) if gap < graph.stretches.len() => no_plan.lengths.push(gap),
            PuzzlePart::Gap(_) => {}
            PuzzlePart::Presence(presence) => {
                let presence = &puzzle.presences[presence];
                no_plan.presences.push((presence.from, presence.to));
            }
        }
    }
    let forward = matches!(asked.anchor, Anchor::Start(_));
    let argument = conflict.arguments.iter().find(|argument| argument.forward == forward);
    let argument = argument.or(conflict.arguments.first());
    no_plan.because = argument.map(|argument| because(puzzle, argument)).unwrap_or_default();
    if no_plan.because.is_empty() && !no_plan.presences.is_empty() {
        no_plan.because.extend(whole(graph, &no_plan.lengths));
    }
    no_plan.changes = changes(graph, puzzle, &conflict, asked);
    no_plan
}

/// The conclusions of an argument: lengths in a row are one, up to where hours cut in.
fn because(puzzle: &Puzzle, argument: &Argument) -> Vec<Conclusion> {
    let mut all = Vec::new();
    let mut now = Conclusion::default();
    for step in &argument.moves {
        if step.by_length {
            add(&mut now, step, argument.forward);
            continue;
        }
        // In the same hours nothing moves; else up to where the hours before, or after, are.
        let jumps = step.known.is_some_and(|known| (known > step.time) != argument.forward);
        let beside = match argument.forward {
            true => puzzle.openings.iter().map(|it| it.1).rfind(|&end| end < step.time),
            false => puzzle.openings.iter().map(|it| it.0).find(|&begin| begin > step.time),
        };
        let beside = beside.filter(|_| jumps);
        match argument.forward {
            true => now.ends = now.ends.or(beside),
            false => now.begins = now.begins.or(beside),
        }
        all.push(std::mem::take(&mut now));
        match argument.forward {
            true => now.begins = Some(step.time),
            false => now.ends = Some(step.time),
        }
    }
    now.fixed = argument.ends_at;
    all.push(now);
    all.retain(|because| !because.runs.is_empty());
    all
}

/// Adds a length; with one of the same kind before it, it is one. What takes no time only
/// leads to another name for the same time.
fn add(because: &mut Conclusion, step: &Move, forward: bool) {
    let Some(known) = step.known else { return };
    let change = step.time - known;
    let later = change > 0;
    let at_least = later == forward;
    because.known.get_or_insert(known);
    because.follows = Some(step.time);
    match because.runs.last_mut() {
        Some(run) if change == 0 => match run.at_least == forward {
            true => run.to = step.to,
            false => run.from = step.to,
        },
        Some(run) if run.at_least == at_least => {
            match later {
                true => run.to = step.to,
                false => run.from = step.to,
            }
            run.length += change.abs();
        }
        _ if change == 0 => {
            because.at.get_or_insert(step.from);
        }
        last => {
            let begin = because.at.filter(|_| last.is_none()).unwrap_or(step.from);
            let (from, to) = if later { (begin, step.to) } else { (step.to, begin) };
            because.runs.push(Run { from, to, at_least, length: change.abs() });
        }
    }
}

/// Where no conclusion begins with a fixed time, all day's hours are in the way: how long it
/// takes from the first of the things to the last.
fn whole(graph: &Graph, lengths: &[usize]) -> Option<Conclusion> {
    let all: Vec<&Stretch> = lengths.iter().map(|&stretch| &graph.stretches[stretch]).collect();
    let first = all.iter().find(|one| all.iter().all(|other| other.to != one.from))?;
    let (mut at, mut least, mut most) = (first.from, 0, Some(0));
    for _ in 0..all.len() {
        let Some(next) = all.iter().find(|stretch| stretch.from == at) else { break };
        at = next.to;
        least += milliseconds(&next.low);
        most = most.zip(next.high.as_ref()).map(|(sum, high)| sum + milliseconds(high));
    }
    let run = |at_least, length| Run { from: first.from, to: at, at_least, length };
    let runs = [Some(run(true, least)), most.map(|most| run(false, most))];
    Some(Conclusion { runs: runs.into_iter().flatten().collect(), ..Conclusion::default() })
}

/// What would help, the hours first; of lengths those that change least for their range.
fn changes(
    graph: &Graph,
    puzzle: &Puzzle,
    conflict: &Conflict,
    asked: &PlanRequest,
) -> Vec<Change> {
    let mut lengths: Vec<(i64, Change)> = Vec::new();
    let mut changes = Vec::new();
    for relief in &conflict.reliefs {
        match *relief {
            Relief::Hours { opening, hours } if changes.len() < MAX_OPENINGS => {
                changes.extend(longer_hours(hours, puzzle.openings[opening], asked));
            }
            Relief::Longer { gap: stretch, most } if stretch < graph.stretches.len() => {
                if let Some(share) = share(&graph.stretches[stretch], most) {
                    lengths.push((share, Change::Longer { stretch, most }));
                }
            }
            Relief::Shorter { gap: stretch, least } if stretch < graph.stretches.len() => {
                if let Some(share) = share(&graph.stretches[stretch], least) {
                    lengths.push((share, Change::Shorter { stretch, least }));
                }
            }
            _ => {}
        }
    }
    if changes.is_empty() && !puzzle.presences.is_empty() {
        changes.extend(daily(graph, puzzle, asked));
    }
    lengths.sort_by_key(|&(share, _)| share);
    changes.extend(lengths.into_iter().map(|(_, change)| change));
    changes
}

/// Hours on the grid that hold what is needed; none where it is more than anybody would do:
/// by the stores.
fn longer_hours((begin, end): (i64, i64), now: (i64, i64), asked: &PlanRequest) -> Option<Change> {
    let step = asked.grid.unwrap_or(MINUTE);
    let place = |at: i64| (at + asked.zone.offset(at)).rem_euclid(step);
    let begin = if begin < now.0 { begin - place(begin) } else { begin };
    let end = if end > now.1 { end + (step - place(end)) % step } else { end };
    let more = (end - begin) - (now.1 - now.0);
    let hours = (begin, end);
    let (most, in_a_row) = (way_out("more hours"), way_out("hours together"));
    let is_fair = more <= most * MINUTE && end - begin <= in_a_row * MINUTE;
    is_fair.then_some(Change::Hours { hours, now })
}

/// Minutes of a way out that anybody would take, by the stores.
fn way_out(name: &str) -> i64 {
    whole_minutes(&known("usual ways out", name))
}

/// How much of what may be asked of a stretch a length asks, in thousandths; nothing where it
/// asks too much. Only what waits by itself may take another time, and no other than half of
/// its range and an eighth of its middle allow; a stage keeps a while longer than is said.
/// Common practice, no source.
fn share(stretch: &Stretch, length: i64) -> Option<i64> {
    let waits =
        matches!(stretch.doing, Doing::Step { .. } | Doing::Ripen { .. } | Doing::Keep { .. });
    if stretch.hands != Hands::Off || !waits {
        return None;
    }
    let least = milliseconds(&stretch.low);
    let most = stretch.high.as_ref().map_or(least, milliseconds);
    let room = (most - least) / 2 + (least + most) / 16;
    let room = match stretch.doing {
        Doing::Keep { .. } => room.max(way_out("more keeping") * MINUTE),
        _ => room,
    };
    let change = (length - most).max(least - length);
    (change <= room && room > 0).then(|| change.saturating_mul(1000) / room)
}

/// Other hours on all days, where no single day's are enough: one of the stretches begins
/// earlier or ends later, by as few five minutes as possible.
fn daily(graph: &Graph, puzzle: &Puzzle, asked: &PlanRequest) -> Vec<Change> {
    const FIVE: u32 = 5;
    let hours = asked.hours.unwrap_or_default();
    let mut found: Vec<(u32, Change)> = Vec::new();
    for (place, &now) in hours.iter().enumerate() {
        let long = i64::from((now.to + 1440 - now.from) % 1440);
        let most = (way_out("hours together") - long).clamp(0, way_out("more hours"));
        let most = u32::try_from(most).unwrap_or(0) / FIVE;
        for earlier in [true, false] {
            let wider = |steps: u32| longer(now, steps * FIVE, earlier);
            // A day's hours begin on that day.
            let most = if earlier { most.min(now.from / FIVE) } else { most };
            let would_do = |steps: u32| {
                let mut hours = hours.to_vec();
                hours[place] = wider(steps);
                would_do(puzzle, graph, &hours, asked)
            };
            let (mut low, mut high) = (1, most);
            if most == 0 || !would_do(most) {
                continue;
            }
            while low < high {
                let middle = low + (high - low) / 2;
                match would_do(middle) {
                    true => high = middle,
                    false => low = middle + 1,
                }
            }
            found.push((high, Change::Daily { hours: wider(high), now }));
        }
    }
    found.sort_by_key(|&(steps, _)| steps);
    found.into_iter().take(1).map(|(_, change)| change).collect()
}

fn longer(open: Open, minutes: u32, earlier: bool) -> Open {
    match earlier {
        true => Open { from: open.from.saturating_sub(minutes), ..open },
        false => Open { to: (open.to + minutes) % 1440, ..open },
    }
}
