//! What of a day has begun, as an earlier plan wrote it: batches and builds with all that holds
//! them together, and what of them is done or under way.

use super::net::Distances;
use super::shape::{End, Port, Proto, Shape, Takes};
use crate::formula::House;
use crate::quantity::Exact;
use crate::quantity::display::read_exact;
use crate::time::Doing;
use crate::time::day::{Lag, Minute, Point};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A batch or a build of a plan, with all that holds it together. Times are minutes from the
/// day's midnight, weights exact grams.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Work {
    /// `harbour-rolls 2`, `house levain 1`: identifiers of its tasks begin so.
    pub id: String,
    /// The formula that it is worked out of.
    pub formula: String,
    /// The kinds of pieces that the formula is worked out for; none for dough.
    pub kinds: Vec<String>,
    /// How many pieces of each kind it is worked out for; of dough, grams.
    pub pieces: Vec<u32>,
    /// Which of its formula or its stage it is, from one.
    pub number: u32,
    /// Loads of the oven; none for a build.
    pub loads: Vec<WorkLoad>,
    /// The stage, of a build.
    pub stage: Option<String>,
    /// Whether it is not built but on hand.
    pub on_hand: bool,
    /// All of it.
    pub made: String,
    /// Kept back to be the next culture.
    pub kept_back: String,
    /// Saved.
    pub saved: String,
    /// What goes into it.
    pub lines: Vec<WorkLine>,
    /// What stores hand out for it.
    pub stores: Vec<WorkLine>,
    /// Of a build, who takes it.
    pub takes: Vec<WorkTake>,
    /// The steps of its method.
    pub steps: Vec<String>,
    /// What takes hands, machines or boards in it.
    pub tasks: Vec<WorkTask>,
    /// How far its tasks are apart.
    pub lags: Vec<WorkLag>,
    /// Where stages go in.
    pub ports: Vec<WorkPort>,
    /// Where its loads are done; of a build, where it is ripe.
    pub ends: Vec<WorkEnd>,
}

/// A load of the oven.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkLoad {
    /// The kind of its pieces; absent for dough.
    pub kind: Option<String>,
    /// How many pieces; of dough, grams.
    pub pieces: u32,
}

/// Something that goes into a batch or a build.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkLine {
    /// What it is in every language.
    pub key: String,
    /// How it was written.
    pub name: String,
    /// Grams.
    pub grams: String,
}

/// Who takes how much of a build.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkTake {
    /// The batch or build, by its identifier.
    pub by: String,
    /// Where it goes in there, by its place among the ports.
    pub port: usize,
    /// Grams.
    pub grams: String,
}

/// A task of a batch or a build.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkTask {
    /// The same as among the day's tasks.
    pub id: String,
    /// Of which step of the method, from zero; absent where it is of none.
    pub step: Option<usize>,
    /// Minutes that it takes at the least.
    pub least: Minute,
    /// And at the most.
    pub most: Minute,
    /// Whether it takes a pair of hands.
    pub hands: bool,
    /// The mixers that it may go into; empty where it goes into none.
    pub mixers: Vec<String>,
    /// The oven that it goes into.
    pub oven: Option<String>,
    /// Degrees Celsius of the oven at its beginning and its end.
    pub heats: Option<(String, String)>,
    /// The proofer or refrigerator that it stands in.
    pub place: Option<String>,
    /// Boards that it takes there.
    pub boards: u32,
    /// Whether it is only that somebody has to be there.
    pub moment: bool,
    /// Which load it is of, from zero.
    pub load: Option<usize>,
    /// Whether it begins when clocks show a plain time.
    pub plain: bool,
    /// It begins then; absent where it found no place.
    pub from: Option<Minute>,
    /// It ends then.
    pub to: Option<Minute>,
}

/// How far two ends of tasks are apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkLag {
    /// From this one …
    pub from: WorkPoint,
    /// … to that one.
    pub to: WorkPoint,
    /// At least so many minutes.
    pub least: Minute,
    /// At most so many.
    pub most: Option<Minute>,
}

/// The beginning or the end of a task.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkPoint {
    /// By its place among the tasks.
    pub task: usize,
    /// Whether it is the end.
    pub end: bool,
}

/// Where a stage goes in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkPort {
    /// The stage.
    pub stage: String,
    /// When.
    pub at: WorkPoint,
    /// Minutes later than that, at least and at most.
    pub later: (Minute, Minute),
    /// Minutes from there to the end at the least.
    pub to_end: i64,
}

/// Where something is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WorkEnd {
    /// So long after the end of this task …
    pub task: usize,
    /// … at least …
    pub least: Minute,
    /// … and at most.
    pub most: Option<Minute>,
}

impl WorkPoint {
    /// Of an end of a task.
    pub fn of(point: Point) -> Self {
        Self { task: point.task(), end: matches!(point, Point::End(_)) }
    }

    fn point(self) -> Point {
        if self.end { Point::End(self.task) } else { Point::Start(self.task) }
    }
}

/// Grams as [`Work`] writes them; nothing where they can't be read.
pub fn grams(text: &str) -> Exact {
    read_exact(text).unwrap_or_default()
}

impl Work {
    /// Whether it is a batch and not a build.
    pub fn is_batch(&self) -> bool {
        self.stage.is_none()
    }

    /// When a load is done, or a build is ripe; none where it found no place.
    pub fn done(&self, load: usize) -> Option<Minute> {
        let end = self.ends.get(load)?;
        Some(self.tasks.get(end.task)?.to? + end.least)
    }

    /// How far all ends of its tasks are apart, at least and at most.
    pub fn distances(&self) -> Distances {
        let lags = self.lags.iter();
        Distances::of_tasks(
            self.tasks.iter().map(|task| (task.least, task.most)),
            lags.map(|lag| {
                (lag.from.point().number(), lag.to.point().number(), lag.least, lag.most)
            }),
        )
    }

    /// Minutes that it takes at the least from its first task to the end of a step.
    pub fn shortest_to(&self, step: usize) -> i64 {
        let distances = self.distances();
        let all = || 0..self.tasks.len();
        let of_step = all().filter(|task| self.tasks[*task].step == Some(step));
        let mut ends: Vec<usize> = of_step.map(|task| 2 * task + 1).collect();
        // What takes nothing is over where the next step begins.
        if ends.is_empty() {
            let later = all().filter(|task| self.tasks[*task].step.is_some_and(|it| it > step));
            ends.extend(later.map(|task| 2 * task));
        }
        let from_first =
            |end: usize| all().filter_map(|start| distances.least(2 * start, end)).max();
        // Nothing begins after what takes nothing and comes last: it is over where loads are done.
        let is_last = step + 1 == self.steps.len();
        let waits = |end: &WorkEnd| if is_last { i64::from(end.least) } else { 0 };
        let done = self.ends.iter().map(|end| (2 * end.task + 1, waits(end)));
        let done = done.filter_map(|(end, waits)| Some(from_first(end)? + waits)).min();
        ends.into_iter().filter_map(from_first).min().or(done).unwrap_or(0)
    }

    /// The last minute at which a load may count as done: what follows the oven may last until then.
    pub fn done_last(&self, load: usize) -> Option<Minute> {
        let end = self.ends.get(load)?;
        Some(self.tasks.get(end.task)?.to? + end.most.unwrap_or(end.least))
    }

    /// What it takes from stores: the key, the name and grams.
    pub fn takes_from_stores(&self) -> impl Iterator<Item = (&str, &str, Exact)> {
        self.stores.iter().map(|line| (line.key.as_str(), line.name.as_str(), grams(&line.grams)))
    }

    /// What holds it together is as another has it, wherever that stands.
    pub fn is_like(&self, other: &Self) -> bool {
        let placeless = |work: &Self| {
            let tasks = work.tasks.iter();
            let tasks: Vec<WorkTask> =
                tasks.map(|task| WorkTask { from: None, to: None, ..task.clone() }).collect();
            (tasks, work.lags.clone(), work.ports.clone(), work.ends.clone())
        };
        let made = |work: &Self| (work.made.clone(), work.lines.clone());
        placeless(self) == placeless(other) && made(self) == made(other)
    }

    /// The shape that it was planned with; `Err` names a machine or a stage that is not there any
    /// more.
    pub fn shape(&self, house: &House, stages: &[&str]) -> Result<Shape, String> {
        let mut tasks = Vec::new();
        for task in &self.tasks {
            tasks.push(Proto {
                length: (task.least, task.most),
                takes: takes(house, task)?,
                doing: Doing::Order,
                is_moment: task.moment,
                load: task.load,
                on_grid: task.plain,
            });
        }
        let lags = self.lags.iter().map(|lag| Lag {
            from: lag.from.point(),
            to: lag.to.point(),
            least: lag.least,
            most: lag.most,
        });
        let mut ports = Vec::new();
        for port in &self.ports {
            let stage = stages.iter().position(|stage| *stage == port.stage);
            let stage = stage.ok_or_else(|| port.stage.clone())?;
            let (at, later, to_end) = (port.at.point(), port.later, port.to_end);
            // What is begun says itself how much it takes where.
            ports.push(Port { stage, at, later, to_end, share: Exact::ONE });
        }
        let ends = self.ends.iter().map(|end| End { task: end.task, wait: (end.least, end.most) });
        Ok(Shape { tasks, lags: lags.collect(), ports, ends: ends.collect() })
    }
}

fn takes(house: &House, task: &WorkTask) -> Result<Takes, String> {
    let named = |found: Option<usize>, name: &str| found.ok_or_else(|| name.to_owned());
    if let Some(oven) = &task.oven {
        let place = house.ovens().iter().position(|it| it.name.key == oven.as_str());
        let (enters, leaves) = task.heats.clone().unwrap_or_default();
        return Ok(Takes::Oven(named(place, oven)?, (grams(&enters), grams(&leaves))));
    }
    if let Some(rack) = &task.place {
        let place = house.racks().iter().position(|it| it.name.key == rack.as_str());
        return Ok(Takes::Boards(named(place, rack)?, task.boards));
    }
    if let Some(first) = task.mixers.first() {
        let place =
            |name: &String| house.mixers().iter().position(|it| it.name.key == name.as_str());
        let there: Vec<usize> = task.mixers.iter().filter_map(place).collect();
        return if there.is_empty() { Err(first.clone()) } else { Ok(Takes::Mixer(there)) };
    }
    Ok(if task.hands { Takes::Hands } else { Takes::Nothing })
}

/// Where an earlier plan of the day had a task.
#[derive(Clone, Debug)]
pub struct EarlierTask {
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
    /// `gullhaven-sour 2 `, as identifiers of its tasks begin.
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
        (!words.is_empty()).then(|| Self { batch: format!("{} {number} ", words.join(" ")), step })
    }

    /// Whether a task is that step.
    fn is_step(&self, id: &str) -> bool {
        let rest = id.strip_prefix(&self.batch);
        rest.is_some_and(|step| step.split(' ').next() == Some(self.step.as_str()))
    }
}

/// A day that has begun: all that was planned of it, and what of that is done or under way.
#[derive(Clone, Debug, Default)]
pub struct Begun {
    /// Every batch and build of the plan so far.
    pub works: Vec<Work>,
    /// Which of them are begun: they stay what they are.
    pub is_begun: Vec<bool>,
    /// Where tasks were, and whether each is done or under way.
    pub tasks: Vec<(EarlierTask, bool)>,
    /// Nothing is begun before it.
    pub now: Option<Minute>,
    /// Batches and builds that somebody says are through a step, with the last of those steps.
    pub through: Vec<(String, usize)>,
}

impl Begun {
    /// What of a plan so far is begun at a minute, with what is said to be done.
    ///
    /// # Errors
    /// The first that is said to be done and that the plan does not have, with the steps of its
    /// batch, none where there is no such batch.
    pub fn new(
        mut works: Vec<Work>,
        mut known: Vec<EarlierTask>,
        now: Option<Minute>,
        through: &[Through],
    ) -> Result<Self, (Through, Vec<String>)> {
        let mut done: Vec<String> = Vec::new();
        let mut steps_done: Vec<(String, usize)> = Vec::new();
        for it in through {
            let work = works.iter().find(|work| format!("{} ", work.id) == it.batch);
            let steps = work.map(|work| work.steps.clone()).unwrap_or_default();
            let of_work = || work.into_iter().flat_map(|work| &work.tasks);
            let last = steps.iter().rposition(|step| *step == it.step);
            // A fold is no step of its own.
            let ends = of_work().filter(|task| it.is_step(&task.id)).filter_map(|task| task.to);
            let is_through = |task: &&WorkTask| match (last, ends.clone().max()) {
                (Some(last), _) => task.step.is_some_and(|step| step <= last),
                (None, Some(end)) => task.to.is_some_and(|to| to <= end),
                (None, None) => false,
            };
            if last.is_none() && ends.clone().next().is_none() {
                return Err((it.clone(), steps));
            }
            done.extend(of_work().filter(is_through).map(|task| task.id.clone()));
            steps_done.extend(work.zip(last).map(|(work, last)| (work.id.clone(), last)));
        }
        if let Some(now) = now {
            over_by(now, &done, &mut known, &mut works);
        }
        let tasks: Vec<(EarlierTask, bool)> = known
            .into_iter()
            .map(|known| {
                let is_begun = known.done
                    || done.contains(&known.id)
                    || now.is_some_and(|now| known.from < now);
                (known, is_begun)
            })
            .collect();
        let is_begun = |work: &Work| {
            let own = |id: &String| work.tasks.iter().any(|task| task.id == *id);
            !work.on_hand && tasks.iter().any(|(known, begun)| *begun && own(&known.id))
        };
        let is_begun = works.iter().map(is_begun).collect();
        Ok(Self { works, is_begun, tasks, now, through: steps_done })
    }

    /// The batches or builds that are begun, by their places among all.
    pub fn begun(&self) -> impl Iterator<Item = (usize, &Work)> {
        let all = self.works.iter().enumerate().zip(&self.is_begun);
        all.filter(|(_, begun)| **begun).map(|(work, _)| work)
    }

    /// Batches that are said to be through a step sooner than their steps take: each with the step's
    /// place, the minute at which it was begun, and the minutes that it takes to there at the least.
    pub fn too_soon(&self) -> Vec<(&Work, usize, Minute, i64)> {
        /// Minutes by which hands may be quicker than a formula says.
        const QUICKER: i64 = 15;
        let Some(now) = self.now else { return Vec::new() };
        let through = self.through.iter().filter_map(|(id, last)| {
            let work = self.works.iter().find(|work| work.id == *id)?;
            let begins = work.tasks.iter().filter_map(|task| task.from).min()?;
            Some((work, *last, begins, work.shortest_to(*last)))
        });
        let is_soon = |(.., begins, least): &(&Work, usize, Minute, i64)| {
            i64::from(*begins) + least > i64::from(now) + QUICKER
        };
        through.filter(is_soon).collect()
    }

    /// The minute from which on anything can be begun.
    pub fn from(&self) -> Minute {
        let under_way = self.tasks.iter().filter(|(_, begun)| *begun).map(|(known, _)| known.from);
        self.now.or_else(|| under_way.max()).unwrap_or(Minute::MIN / 4)
    }
}

/// What somebody says is done is over by now, whenever it was planned to be: it ends now, and what was
/// not to begin until later took no time.
fn over_by(now: Minute, done: &[String], known: &mut [EarlierTask], works: &mut [Work]) {
    let spans: Vec<(Option<String>, Minute, Minute)> =
        known.iter().map(|it| (it.machine.clone(), it.from, it.to)).collect();
    for it in known.iter_mut().filter(|it| done.contains(&it.id) && it.to > now) {
        // Another batch may be on its machine by now: it was there before that one.
        let under_way = spans.iter().filter(|(machine, from, to)| {
            machine.is_some() && *machine == it.machine && *from < now && now < *to
        });
        let at = match it.from < now {
            true => now,
            false => under_way.map(|(_, from, _)| *from).min().unwrap_or(now),
        };
        (it.from, it.to) = (it.from.min(at), at);
        let tasks = works.iter_mut().flat_map(|work| &mut work.tasks);
        for task in tasks.filter(|task| task.id == it.id) {
            (task.from, task.to) = (Some(it.from), Some(it.to));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_done_is_read_with_its_batch_and_its_step() {
        let through = Through::read("house rolls 2 Bulk").expect("it reads");
        assert!(through.is_step("house rolls 2 bulk") && !through.is_step("house rolls 2 mix"));
        assert!(!through.is_step("house rolls 2 bake") && !through.is_step("house rolls 12 bulk"));
        assert!(
            through.is_step("house rolls 2 bulk 1") && through.is_step("house rolls 2 bulk #2")
        );
        for text in ["", "2 bulk", "house rolls bulk", "rolls two bulk"] {
            assert_eq!(Through::read(text), None, "{text}");
        }
    }
}
