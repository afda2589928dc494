//! Days that are planned together: what an earlier one takes of the house, and what of it a later
//! one wants at the same time.

use super::findings::days_clash;
use super::shape::Takes;
use super::work::{GroupOf, Laid, Planned, shape_of};
use crate::diag::Finding;
use crate::formula::House;
use crate::quantity::Exact;
use crate::time::clock::{Dating, Instant, Zone};
use crate::time::day::{Minute, Pool};
use ecow::EcoString;
use std::fmt;

/// What a planned day takes of the house.
#[derive(Clone, Debug)]
pub struct Booked {
    day: EcoString,
    zone: Zone,
    all: Vec<Booking>,
}

/// Something that a house has.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Clashing {
    /// A machine, by its name.
    Machine(String),
    Hands,
    /// Boards of a place, by its name.
    Boards(String),
}

impl fmt::Display for Clashing {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Machine(name) => write!(to, "`{name}`"),
            Self::Hands => write!(to, "hands"),
            Self::Boards(name) => write!(to, "boards of `{name}`"),
        }
    }
}

/// A machine for itself, or some of what there is a number of.
#[derive(Clone, Debug)]
struct Booking {
    what: Clashing,
    /// How much of it there is.
    most: i32,
    amount: i32,
    from: Instant,
    to: Instant,
    /// Of a deck: degrees Celsius at the beginning and at the end.
    heats: Option<(Exact, Exact)>,
    /// Of hands: which pair.
    pair: Option<usize>,
}

/// What a planned day takes of the house.
pub fn booked(planned: &Planned) -> Booked {
    let laid = &planned.laid;
    let at = |minute: Minute| laid.clock.instant(minute);
    let mut all = Vec::new();
    for (number, (task, place)) in laid.puzzle.tasks.iter().zip(&planned.plan.places).enumerate() {
        let Some(place) = place else { continue };
        let (from, to) = (at(place.start), at(place.end));
        let booking = |what: Clashing, most: i32, amount: i32| Booking {
            what,
            most,
            amount,
            from,
            to,
            heats: None,
            pair: planned.plan.hands.get(number).copied().flatten(),
        };
        let machine = task.on.as_ref().and_then(|on| {
            laid.puzzle.groups.get(on.group).and_then(|group| group.machines.get(place.machine))
        });
        all.extend(machine.map(|machine| Booking {
            heats: heats(laid, number),
            ..booking(Clashing::Machine(machine.name.clone()), 1, 1)
        }));
        let pools = task
            .takes
            .iter()
            .filter_map(|(pool, amount)| Some((laid.puzzle.pools.get(*pool)?, *amount)));
        all.extend(pools.map(|(pool, amount)| booking(what(pool), pool.at(place.start), amount)));
    }
    Booked { day: laid.day.name.clone(), zone: laid.clock.zone.clone(), all }
}

fn what(pool: &Pool) -> Clashing {
    if pool.is_hands { Clashing::Hands } else { Clashing::Boards(pool.name.clone()) }
}

/// The heats of a task in an oven.
fn heats(laid: &Laid, task: usize) -> Option<(Exact, Exact)> {
    let of = laid.tasks.get(task)?;
    let proto = shape_of(&laid.making, &laid.builds, of.taker)?.tasks.get(of.task)?;
    match &proto.takes {
        Takes::Oven(_, heats) => Some(heats.clone()),
        _ => None,
    }
}

/// Whether clocks can tell which of two days is the later one.
fn can_meet(zone: &Zone, other: &Booked) -> bool {
    zone.dating != Dating::AnyDay && zone.dating == other.zone.dating
}

/// What a day and those before it want together that there is not enough of: each thing once,
/// where it is first short.
pub fn clashes(planned: &Planned, before: &[Booked]) -> Vec<Finding> {
    let day = booked(planned);
    let span = planned.laid.day.span;
    let mut findings = Vec::new();
    for other in before.iter().filter(|other| can_meet(&day.zone, other)) {
        let mut all: Vec<&Clashing> = day.all.iter().map(|booking| &booking.what).collect();
        all.sort_unstable();
        all.dedup();
        findings.extend(all.into_iter().filter_map(|what| {
            let taken = |of: &Booked, at: Instant| -> i32 {
                let own =
                    of.all.iter().filter(|it| it.what == *what && it.from <= at && at < it.to);
                own.map(|booking| booking.amount).sum()
            };
            let both = day.all.iter().chain(&other.all).filter(|booking| booking.what == *what);
            let mut begins: Vec<(Instant, i32)> =
                both.map(|booking| (booking.from, booking.most)).collect();
            begins.sort_unstable();
            begins.into_iter().find_map(|(at, most)| {
                let (own, others) = (taken(&day, at), taken(other, at));
                let is_short = own > 0 && others > 0 && own + others > most;
                let moment = planned.laid.clock.said(planned.laid.clock.minute_of(at));
                let name = what.to_string();
                let wanted = own + others;
                is_short
                    .then(|| days_clash::finding(span, &other.day, &name, wanted, most, &moment))
            })
        }));
    }
    findings
}

/// Takes out of a day that is laid out what days before it have of the house.
pub fn leave(house: &House, laid: &mut Laid, before: &[Booked]) {
    let all: Vec<&Booking> = before
        .iter()
        .filter(|other| can_meet(&laid.clock.zone, other))
        .flat_map(|other| &other.all)
        .collect();
    for booking in all {
        let (from, to) = (laid.clock.minute_of(booking.from), laid.clock.minute_of(booking.to));
        if to <= laid.puzzle.span.0 || from >= laid.puzzle.span.1 {
            continue;
        }
        let Clashing::Machine(name) = &booking.what else {
            let pools = laid.puzzle.pools.iter_mut().filter(|pool| what(pool) == booking.what);
            pools.for_each(|pool| less(&mut pool.levels, (from, to), booking.amount));
            continue;
        };
        for group in 0..laid.puzzle.groups.len() {
            let own = &laid.puzzle.groups[group].machines;
            let Some(machine) = own.iter().position(|it| it.name == *name) else { continue };
            // Before and after it, the deck is brought to another heat.
            let (before, after) = changes(house, laid, group, booking);
            laid.puzzle.groups[group].machines[machine].closed.push((from - before, to + after));
        }
    }
}

/// The longest that a deck takes from a heat of this day to that of what another day bakes, and
/// back.
fn changes(house: &House, laid: &Laid, group: usize, booking: &Booking) -> (Minute, Minute) {
    let per_degree = match laid.groups.get(group) {
        Some(GroupOf::Oven(oven)) => house.ovens().get(*oven),
        _ => None,
    };
    let per_degree = per_degree.and_then(|oven| oven.minutes_per_degree.as_ref());
    let Some((per_degree, (enters, leaves))) = per_degree.zip(booking.heats.as_ref()) else {
        return (0, 0);
    };
    let minutes = |from: &Exact, to: &Exact| {
        let minutes = ((to - from).abs() * per_degree).ceil();
        minutes.to_whole().and_then(|it| i64::try_from(it).ok()).map_or(0, super::segs::i32)
    };
    let in_group =
        |task: &usize| laid.puzzle.tasks[*task].on.as_ref().is_some_and(|on| on.group == group);
    let tasks = (0..laid.puzzle.tasks.len()).filter(in_group);
    let own = tasks.filter_map(|task| heats(laid, task));
    own.fold((0, 0), |(before, after), (first, last)| {
        (before.max(minutes(&last, enters)), after.max(minutes(leaves, &first)))
    })
}

/// So much less between two minutes, and never less than nothing.
fn less(levels: &mut Vec<(Minute, i32)>, (from, to): (Minute, Minute), amount: i32) {
    let at = |minute: Minute| {
        let begun = levels.iter().take_while(|(begins, _)| *begins <= minute);
        begun.last().map_or(0, |(_, many)| *many)
    };
    let mut marks: Vec<Minute> = levels.iter().map(|(begins, _)| *begins).collect();
    marks.extend([from, to]);
    marks.sort_unstable();
    marks.dedup();
    let lowered = marks.into_iter().map(|mark| {
        let many = at(mark);
        (mark, if from <= mark && mark < to { (many - amount).max(0) } else { many })
    });
    *levels = lowered.collect();
}

/// Numbers the pairs of hands of a day so that none has the number of one that works for a day
/// before it at the time.
pub fn part_hands(planned: &mut Planned, before: &[Booked]) {
    let laid = &planned.laid;
    let mut busy: Vec<(Minute, Minute, usize)> = Vec::new();
    for other in before.iter().filter(|other| can_meet(&laid.clock.zone, other)) {
        let hands = other.all.iter().filter(|booking| booking.what == Clashing::Hands);
        busy.extend(hands.filter_map(|booking| {
            let (from, to) = (laid.clock.minute_of(booking.from), laid.clock.minute_of(booking.to));
            Some((from, to, booking.pair?))
        }));
    }
    if busy.is_empty() {
        return;
    }
    let most = laid.hands.iter().map(|(_, hands)| *hands).max().unwrap_or(0);
    let most = usize::try_from(most).unwrap_or(0);
    let mut order: Vec<(Minute, Minute, usize)> = Vec::new();
    for (task, place) in planned.plan.places.iter().enumerate() {
        let is_hands = planned.plan.hands.get(task).copied().flatten().is_some();
        order.extend(place.filter(|_| is_hands).map(|place| (place.start, place.end, task)));
    }
    order.sort_unstable();
    let mut pairs = planned.plan.hands.clone();
    for (start, end, task) in order {
        let is_free = |pair: &usize| {
            !busy.iter().any(|(from, to, other)| other == pair && *from < end && start < *to)
        };
        // Where the numbers don't come out, each day keeps its own.
        let Some(pair) = (0..most).find(is_free) else { return };
        busy.push((start, end, pair));
        pairs[task] = Some(pair);
    }
    planned.plan.hands = pairs;
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By counting minute by minute.
    #[test]
    fn what_is_taken_is_less_between_two_minutes_and_nowhere_else() {
        let levels = vec![(0, 2), (60, 0), (90, 3)];
        let at = |levels: &[(Minute, i32)], minute: Minute| {
            levels.iter().rfind(|(begins, _)| *begins <= minute).map_or(0, |(_, many)| *many)
        };
        for (from, to) in [(-20, 10), (10, 70), (60, 90), (80, 95), (200, 300), (-9, 400)] {
            for amount in 1..4 {
                let mut lowered = levels.clone();
                less(&mut lowered, (from, to), amount);
                for minute in -30..420 {
                    let was = at(&levels, minute);
                    let wanted =
                        if (from..to).contains(&minute) { (was - amount).max(0) } else { was };
                    assert_eq!(at(&lowered, minute), wanted, "{minute} of {from}..{to}");
                }
            }
        }
    }
}
