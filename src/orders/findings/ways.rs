//! Why a day is late or leaves something out, in words, and what would help.

use super::super::ways::{Shortfall, TriedCause, TriedWay, fewer, shortfall};
use super::super::work::{GroupOf, Planned, PoolOf};
use crate::diag::Finding;
use crate::formula::House;
use crate::quantity::display;
use crate::syntax::tree::Ordered;
use crate::time::day::{Cause, Change, Minute, Why};

/// A finding about a line of an order, and which of the day's wishes that is.
pub type OfWish = (usize, Finding);

/// Causes beside the findings of the wishes that they are about, each once.
pub fn tell(house: &House, planned: &Planned, causes: &[TriedCause], found: &mut [OfWish]) {
    let teller = Teller { house, planned };
    for TriedCause { cause, ways, is_cut } in causes {
        let of_cause = |wish: usize| {
            let batches = planned.laid.making.batches.iter().enumerate();
            let serves = batches.filter(|(_, batch)| {
                batch.loads.iter().flat_map(|load| &load.serves).any(|(it, _)| *it == wish)
            });
            // The planner's batches come in the order of the day's.
            serves.into_iter().any(|(place, _)| cause.batches.contains(&place))
        };
        let place = found.iter().position(|(wish, _)| of_cause(*wish)).unwrap_or(0);
        let Some((_, finding)) = found.get_mut(place) else { return };
        finding.notes.push(teller.why(cause));
        if *is_cut {
            let more = "the limit of work for one day was reached before everything that might help was tried; \
                        `--placings` raises it";
            finding.notes.push(more.to_owned());
        }
        if let Some(ways) = teller.ways(ways) {
            finding.help = Some(ways);
        }
    }
}

struct Teller<'a, 't> {
    house: &'a House<'t>,
    planned: &'a Planned<'t>,
}

impl Teller<'_, '_> {
    fn time(&self, minute: Minute) -> String {
        self.planned.laid.clock.said(minute)
    }

    /// `harbour-rolls` 1 of 5.
    fn batch(&self, batch: usize) -> String {
        let laid = &self.planned.laid;
        let name = laid.puzzle.batches.get(batch).map_or("", |it| it.name.as_str());
        let Some((name, number)) = name.rsplit_once(' ') else { return format!("`{name}`") };
        let own = |it: &&crate::time::day::Batch| {
            it.name.rsplit_once(' ').is_some_and(|(other, _)| other == name)
        };
        match laid.puzzle.batches.iter().filter(own).count() {
            0 | 1 => format!("`{name}`"),
            of => format!("`{name}` {number} of {of}"),
        }
    }

    /// Batches in the order of their names and numbers; of many of one product, only how many.
    fn batches(&self, batches: &[usize]) -> String {
        /// So many of one product are told one by one.
        const EACH: usize = 3;
        let laid = &self.planned.laid;
        let named = |batch: &usize| {
            let name = laid.puzzle.batches.get(*batch).map_or("", |it| it.name.as_str());
            let (name, number) = name.rsplit_once(' ').unwrap_or((name, ""));
            (name, number.parse::<u32>().unwrap_or(0), *batch)
        };
        let mut all: Vec<(&str, u32, usize)> = batches.iter().map(named).collect();
        all.sort_unstable();
        let told = all.chunk_by(|one, two| one.0 == two.0).flat_map(|same| match same {
            [(name, ..), ..] if same.len() > EACH => {
                vec![format!("{} batches of `{name}`", same.len())]
            }
            _ => same.iter().map(|(.., batch)| self.batch(*batch)).collect(),
        });
        listed(&told.collect::<Vec<_>>(), "and")
    }

    fn pool(&self, pool: usize) -> String {
        match self.planned.laid.pools.get(pool) {
            Some(PoolOf::Rack(rack)) => {
                let name = self.house.racks().get(*rack).map(|it| it.name.shown.to_string());
                format!("the boards of `{}`", name.unwrap_or_default())
            }
            _ => "the hands".to_owned(),
        }
    }

    fn group(&self, group: usize) -> String {
        match self.planned.laid.groups.get(group) {
            Some(GroupOf::Oven(oven)) => {
                let name = self.house.ovens().get(*oven).map(|it| it.name.shown.to_string());
                format!("the decks of `{}`", name.unwrap_or_default())
            }
            _ => "the mixers".to_owned(),
        }
    }

    /// Why it is so.
    fn why(&self, cause: &Cause) -> String {
        let names = self.batches(&cause.batches);
        match &cause.why {
            Why::Never => {
                format!(
                    "even alone in an empty bakehouse, {names} can't be fitted into these hours"
                )
            }
            Why::Alone(first, sooner) => {
                let first = self.time(self.done(cause, *first));
                let told = format!(
                    "even alone in an empty bakehouse, {names} can't be done before {first}"
                );
                match sooner {
                    None => told,
                    Some(sooner) => {
                        let sooner = self.time(self.done(cause, *sooner));
                        format!(
                            "{told} on the day that it is wanted; `after {sooner}` in the order \
                             allows it to be done that early"
                        )
                    }
                }
            }
            Why::Together { pools, groups } => {
                let pools = pools.iter().map(|it| self.pool(*it));
                let means: Vec<String> =
                    pools.chain(groups.iter().map(|it| self.group(*it))).collect();
                let with = match means.is_empty() {
                    true => String::new(),
                    false => format!(" with {} there are", listed(&means, "and")),
                };
                match cause.batches.len() {
                    1 => format!("{names} can't be on time{with}"),
                    _ => format!("{names} can't all be on time{with}"),
                }
            }
            Why::Unknown => {
                format!("no day was found in which {names} would be on time; there may be one")
            }
        }
    }

    /// A task's end as the time at which the order counts as done.
    fn done(&self, cause: &Cause, end: Minute) -> Minute {
        let puzzle = &self.planned.laid.puzzle;
        let own = |task: usize| {
            puzzle.tasks.get(task).is_some_and(|task| cause.batches.contains(&task.batch))
        };
        let mut dues = puzzle.dues.iter().filter(|due| own(due.task));
        let wait = dues.next().and_then(|due| {
            let wish = self.planned.laid.making.wishes.get(due.order)?;
            Some(wish.by - due.by)
        });
        end + wait.unwrap_or(0)
    }

    /// What would help, each with what is left then.
    fn ways(&self, ways: &[TriedWay]) -> Option<String> {
        let now = shortfall(self.planned);
        let mut left: Vec<(String, Vec<String>)> = Vec::new();
        for way in ways {
            let late = display::minutes(&way.then.worst.into());
            let then = match way.then {
                Shortfall { missing: 0, worst: 0, .. } => "nothing would be late".to_owned(),
                Shortfall { missing: 0, .. } if now.missing > 0 => {
                    format!("nothing would be left out, and nothing more than {late} late,")
                }
                Shortfall { missing: 0, worst, .. } if worst < now.worst => {
                    format!("nothing would be more than {late} late")
                }
                Shortfall { missing: 0, late: 1, .. } => "only 1 order would be late".to_owned(),
                Shortfall { missing: 0, late, .. } => format!("only {late} orders would be late"),
                Shortfall { missing: 1, .. } => "only 1 piece would be left out".to_owned(),
                Shortfall { missing, .. } => format!("only {missing} pieces would be left out"),
            };
            let change = self.change(&way.change);
            match left.iter_mut().find(|(known, _)| *known == then) {
                Some((_, changes)) => changes.push(change),
                None => left.push((then, vec![change])),
            }
        }
        let told: Vec<String> = left
            .into_iter()
            .map(|(then, changes)| format!("{then} {}", listed(&changes, "or")))
            .collect();
        (!told.is_empty()).then(|| told.join("; "))
    }

    /// `with only 30 loaves of `gullhaven-sour` by 07:00`: what is ordered without a batch.
    fn without(&self, batch: usize) -> String {
        let laid = &self.planned.laid;
        let told = fewer(self.planned, batch).into_iter().filter_map(|(wish, pieces)| {
            let wish = laid.making.wishes.get(wish)?;
            let order = laid.day.orders.get(wish.order)?;
            let Ordered::Pieces(_, kind) = &order.wishes.get(wish.line)?.amount else {
                return None;
            };
            let left = wish.count.saturating_sub(pieces);
            let of =
                format!("{} of `{}` by {}", kind.shown, order.product.shown, self.time(wish.by));
            Some(match left {
                0 => format!("without the {} {of}", wish.count),
                left => format!("with only {left} {of}"),
            })
        });
        listed(&told.collect::<Vec<_>>(), "and")
    }

    fn change(&self, change: &Change) -> String {
        match change {
            Change::By(dues) => {
                let mut wishes: Vec<(usize, Minute)> = Vec::new();
                for (due, by) in dues {
                    let Some(due) = self.planned.laid.puzzle.dues.get(*due) else { continue };
                    let wish = self.planned.laid.making.wishes.get(due.order);
                    let by = by + wish.map_or(0, |wish| wish.by - due.by);
                    match wishes.iter_mut().find(|(wish, _)| *wish == due.order) {
                        Some((_, known)) => *known = by.max(*known),
                        None => wishes.push((due.order, by)),
                    }
                }
                let told = wishes.iter().filter_map(|(wish, by)| {
                    let wish = self.planned.laid.making.wishes.get(*wish)?;
                    let order = self.planned.laid.day.orders.get(wish.order)?;
                    Some(format!("`{}` by {}", order.product.shown, self.time(*by)))
                });
                format!("with {}", listed(&told.collect::<Vec<_>>(), "and"))
            }
            Change::Earlier(_, from) => format!("with all hands from {} on", self.time(*from)),
            Change::Without(batch) => self.without(*batch),
            Change::OneMore(pool) => match self.planned.laid.pools.get(*pool) {
                Some(PoolOf::Rack(rack)) => {
                    let name = self.house.racks().get(*rack).map(|it| it.name.shown.to_string());
                    format!("with one more board in `{}`", name.unwrap_or_default())
                }
                _ => "with one more pair of hands".to_owned(),
            },
            Change::OneMoreMachine(group) => match self.planned.laid.groups.get(*group) {
                Some(GroupOf::Oven(oven)) => {
                    let name = self.house.ovens().get(*oven).map(|it| it.name.shown.to_string());
                    format!("with one more deck of `{}`", name.unwrap_or_default())
                }
                _ => "with one more mixer".to_owned(),
            },
        }
    }
}

/// `a, b and c`.
fn listed(all: &[String], word: &str) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [some @ .., last] => format!("{} {word} {last}", some.join(", ")),
    }
}
