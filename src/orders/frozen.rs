//! A day that has begun: what is done stays where it was, and the rest is planned anew.

use super::work::Laid;
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

/// Holds what is done or under way where it was; all else is not begun before now, and rather
/// stays than moves. Gives back what was marked as done and is not known.
pub fn freeze(
    laid: &mut Laid,
    earlier: &[Known],
    now: Option<Minute>,
    through: &[Through],
) -> Vec<Through> {
    let ends: Vec<(&Through, Option<Minute>)> = through
        .iter()
        .map(|it| {
            let own = earlier.iter().filter(|known| it.is_step(&known.id));
            (it, own.map(|known| known.to).max())
        })
        .collect();
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
        let is_through = |known: &Known| {
            ends.iter()
                .any(|(it, end)| it.is_of(&known.id) && end.is_some_and(|end| known.to <= end))
        };
        let is_done = known.is_some_and(|known| {
            known.done || is_through(known) || now.is_some_and(|now| known.from < now)
        });
        hold(task, place, is_done, now);
    }
    ends.iter().filter(|(_, end)| end.is_none()).map(|(it, _)| (*it).clone()).collect()
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
