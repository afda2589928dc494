//! Two days that want the same machine, boards or hands at a time.

use super::findings::days_clash;
use super::work::Planned;
use crate::diag::Finding;
use crate::source::Span;
use crate::time::clock::{Dating, Instant, Zone};
use crate::time::day::Minute;
use ecow::EcoString;

/// What a planned day takes of the house.
#[derive(Clone, Debug)]
pub struct Booked {
    day: EcoString,
    span: Span,
    zone: Zone,
    all: Vec<Booking>,
}

/// A machine for itself, or some of what there is a number of.
#[derive(Clone, Debug)]
struct Booking {
    name: String,
    /// How much of it there is.
    most: i32,
    amount: i32,
    from: Instant,
    to: Instant,
}

/// What a planned day takes of the house.
pub fn booked(planned: &Planned) -> Booked {
    let laid = &planned.laid;
    let at = |minute: Minute| laid.clock.instant(minute);
    let mut all = Vec::new();
    for (task, place) in laid.puzzle.tasks.iter().zip(&planned.plan.places) {
        let Some(place) = place else { continue };
        let (from, to) = (at(place.start), at(place.end));
        let machine = task.on.as_ref().and_then(|on| {
            laid.puzzle.groups.get(on.group).and_then(|group| group.machines.get(place.machine))
        });
        all.extend(machine.map(|machine| {
            let name = format!("`{}`", machine.name);
            Booking { name, most: 1, amount: 1, from, to }
        }));
        let pools = task
            .takes
            .iter()
            .filter_map(|(pool, amount)| Some((laid.puzzle.pools.get(*pool)?, *amount)));
        all.extend(pools.map(|(pool, amount)| {
            let name = if pool.is_hands {
                "hands".to_owned()
            } else {
                format!("boards of `{}`", pool.name)
            };
            Booking { name, most: pool.at(place.start), amount, from, to }
        }));
    }
    let zone = laid.clock.zone.clone();
    Booked { day: laid.day.name.clone(), span: laid.day.span, zone, all }
}

/// What two days want together that there is not enough of: each thing once, where it is first
/// short.
pub fn clashes(day: &Booked, other: &Booked) -> Vec<Finding> {
    if day.zone.dating == Dating::AnyDay || day.zone.dating != other.zone.dating {
        return Vec::new();
    }
    let mut names: Vec<&str> = day.all.iter().map(|booking| booking.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let findings = names.into_iter().filter_map(|name| {
        let taken = |of: &Booked, at: Instant| -> i32 {
            let own = of.all.iter().filter(|it| it.name == name && it.from <= at && at < it.to);
            own.map(|booking| booking.amount).sum()
        };
        let mut begins: Vec<(Instant, i32)> = day
            .all
            .iter()
            .chain(&other.all)
            .filter(|booking| booking.name == name)
            .map(|booking| (booking.from, booking.most))
            .collect();
        begins.sort_unstable();
        begins.into_iter().find_map(|(at, most)| {
            let (own, others) = (taken(day, at), taken(other, at));
            let is_short = own > 0 && others > 0 && own + others > most;
            let moment = day.zone.at(at).time();
            is_short.then(|| {
                days_clash::finding(day.span, &other.day, name, own + others, most, &moment)
            })
        })
    });
    findings.collect()
}
