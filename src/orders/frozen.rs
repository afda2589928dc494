//! A day that has begun: what is done stays where it was, and the rest is planned anew.

use super::work::{Laid, Planned};
use crate::time::day::{Minute, Place, Task};

/// Where an earlier plan of the day had a task.
#[derive(Clone, Debug)]
pub struct Known {
    /// The task's identifier.
    pub id: String,
    /// Minutes from the day's midnight.
    pub from: Minute,
    /// Minutes from the day's midnight.
    pub to: Minute,
    /// The machine it has to itself.
    pub machine: Option<String>,
    /// Whether it is marked as done.
    pub done: bool,
}

/// A batch is through a step: `gullhaven-sour 2 bulk`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Through {
    /// `gullhaven-sour 2/`, as identifiers of its tasks begin.
    pub batch: String,
    /// The step's verb.
    pub step: String,
}

impl Through {
    /// Reads it; none where it is not a product, a number and a step.
    pub fn read(text: &str) -> Option<Self> {
        let mut words: Vec<&str> = text.split_whitespace().collect();
        let step = words.pop()?.to_lowercase();
        let number: u32 = words.pop()?.parse().ok()?;
        (!words.is_empty()).then(|| Self { batch: format!("{} {number}/", words.join(" ")), step })
    }

    fn is_of(&self, id: &str) -> bool {
        id.starts_with(&self.batch)
    }

    /// Whether a task is that step.
    fn is_step(&self, id: &str) -> bool {
        let rest = id.strip_prefix(&self.batch).and_then(|rest| rest.split_once(' '));
        rest.is_some_and(|(_, step)| step.split(' ').next() == Some(self.step.as_str()))
    }
}

/// Every task of a day that is planned, as an earlier plan.
pub fn known(planned: &Planned) -> Vec<Known> {
    let puzzle = &planned.laid.puzzle;
    let tasks = puzzle.tasks.iter().zip(&planned.plan.places);
    let known = tasks.filter_map(|(task, place)| {
        let place = (*place)?;
        let group = task.on.as_ref().and_then(|on| puzzle.groups.get(on.group));
        let machine = group.and_then(|group| group.machines.get(place.machine));
        Some(Known {
            id: task.name.clone(),
            from: place.start,
            to: place.end,
            machine: machine.map(|machine| machine.name.clone()),
            done: false,
        })
    });
    known.collect()
}

/// What can't be held of what was done.
#[derive(Clone, Debug, Default)]
pub struct Lost {
    /// What was marked as done and is in no earlier plan.
    pub unknown: Vec<Through>,
    /// Tasks that were begun and that the day no longer has.
    pub begun: usize,
}

/// Holds what is done or under way where it was; all else is not begun before now, and rather
/// stays than moves.
pub fn freeze(
    laid: &mut Laid,
    earlier: &[Known],
    now: Option<Minute>,
    through: &[Through],
) -> Lost {
    let ends: Vec<(&Through, Option<Minute>)> = through
        .iter()
        .map(|it| {
            let own = earlier.iter().filter(|known| it.is_step(&known.id));
            (it, own.map(|known| known.to).max())
        })
        .collect();
    let is_begun = |known: &Known| {
        let is_through = |(it, end): &(&Through, Option<Minute>)| {
            it.is_of(&known.id) && end.is_some_and(|end| known.to <= end)
        };
        known.done || ends.iter().any(is_through) || now.is_some_and(|now| known.from < now)
    };
    let groups = laid.puzzle.groups.clone();
    for task in &mut laid.puzzle.tasks {
        let known = earlier.iter().find(|known| known.id == task.name);
        let place = known.map(|known| {
            let group = task.on.as_ref().and_then(|on| groups.get(on.group));
            let machine = group.and_then(|group| {
                group.machines.iter().position(|it| Some(&it.name) == known.machine.as_ref())
            });
            Place { start: known.from, end: known.to, machine: machine.unwrap_or(0) }
        });
        let is_done = known.is_some_and(is_begun);
        hold(task, place, is_done, now);
    }
    let is_there = |known: &Known| laid.puzzle.tasks.iter().any(|task| task.name == known.id);
    let begun = earlier.iter().filter(|known| is_begun(known) && !is_there(known)).count();
    let unknown = ends.iter().filter(|(_, end)| end.is_none());
    Lost { unknown: unknown.map(|(it, _)| (*it).clone()).collect(), begun }
}

fn hold(task: &mut Task, place: Option<Place>, is_done: bool, now: Option<Minute>) {
    task.before = place;
    task.fixed = place.filter(|_| is_done);
    if let (None, Some(now)) = (task.fixed, now) {
        task.window.0 = task.window.0.max(now);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_done_is_read_with_its_batch_and_its_step() {
        let through = Through::read("house rolls 2 Bulk").expect("it reads");
        assert!(through.is_step("house rolls 2/5 bulk") && through.is_of("house rolls 2/5 mix"));
        assert!(!through.is_step("house rolls 2/5 bake") && !through.is_of("house rolls 12/5 mix"));
        assert!(
            through.is_step("house rolls 2/5 bulk 1") && through.is_step("house rolls 2/5 bulk #2")
        );
        for text in ["", "2 bulk", "house rolls bulk", "rolls two bulk"] {
            assert_eq!(Through::read(text), None, "{text}");
        }
    }
}
