//! A day's batches and builds as one puzzle for the planner, and what comes of it.

use super::begun::{Begun, Work};
use super::builds::{Beside, Build, Given, Sharing, Taker, builds};
use super::clock::Clock;
use super::making::{Kept, Making, Sized, Unmade, making, taken};
use super::means::Means;
use super::resolve::{ResolvedDay, hours_of, names_of_day, resolve};
use super::segs::{i32, step_of};
use super::shape::{Proto, Shape, Takes};
use crate::formula::{House, LineRef, Worked, WorkedLine, plain};
use crate::quantity::{Exact, display};
use crate::syntax::tree::{Aim, Name, Ordered};
use crate::time::clock::{Dating, Instant, Zone};
use crate::time::day::{
    self, Batch as Whole, Cause, DayPlan, Due, Effort, Fault, Lag, Machine, MachineGroup, Minute,
    On, Point, Pool, Puzzle, Task, TaskPlace,
};
use crate::time::{Doing, elapsed};
use ecow::EcoString;

/// A load with the wishes it serves, by batch and number, and when it is done.
type GivenLoad = (usize, usize, Vec<(usize, u32)>, Minute);

/// What bears a name: its numbers, and when each begins, with its place.
type Numbered = (String, Vec<u32>, Vec<(Minute, usize)>);

/// Whose a task is, and which of its tasks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Of {
    /// The batch or the build.
    pub taker: Taker,
    /// By its place in the shape.
    pub task: usize,
}

/// What a pool of the puzzle is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PoolOf {
    /// Pairs of hands.
    Hands,
    /// Boards of a proofer or a refrigerator, by its place in the house.
    Rack(usize),
}

/// What a group of the puzzle is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum GroupOf {
    /// Each machine a mixer, by its place in the house.
    Mixers(Vec<usize>),
    /// The decks of an oven, by its place in the house.
    Oven(usize),
}

/// A day before it is planned.
pub struct Laid<'t> {
    /// The day.
    pub day: ResolvedDay<'t>,
    /// Its clock.
    pub clock: Clock,
    /// Products, wishes and batches.
    pub making: Making<'t>,
    /// Builds of stages.
    pub builds: Vec<Build>,
    /// All of it as the planner wants it.
    pub puzzle: Puzzle,
    /// By the tasks of the puzzle.
    pub tasks: Vec<Of>,
    /// What is placed as one, as identifiers of its tasks begin, and its first task.
    pub named: Vec<(Taker, String, usize)>,
    /// What of the day has begun.
    pub begun: Begun,
    /// By the pools of the puzzle.
    pub pools: Vec<PoolOf>,
    /// By the groups of the puzzle.
    pub groups: Vec<GroupOf>,
    /// How many pairs of hands the house has, from which minute on: other days may need some.
    pub hands: Vec<(Minute, i32)>,
}

/// A day that is planned.
pub struct Planned<'t> {
    /// What was to be planned.
    pub laid: Laid<'t>,
    /// When what is done.
    pub plan: DayPlan,
}

/// Days before a day at most on which its builds and doughs are begun.
pub const MAX_BEFORE: i64 = 6;

/// A day that is over so many minutes before its last order is due is over early: what is done
/// sooner only grows stale.
const EARLY_ENOUGH: Minute = 60;

/// Minutes of a day.
const DAY: i64 = 24 * 60;

/// What a day is laid out as for the planner; `together`, pieces of several kinds in one dough where
/// that makes fewer batches.
///
/// # Errors
/// Products that can't be made.
pub fn lay<'t>(
    house: &'t House<'t>,
    day: ResolvedDay<'t>,
    clock: Clock,
    (sharing, together): (Sharing, bool),
    begun: Begun,
) -> Result<Laid<'t>, Vec<Unmade>> {
    let means = Means::new(house, day.room.clone()).timed_for(day.timed_for.clone());
    let making = making(house, &means, &day, &clock, &begun, together)?;
    let beside = beside(house, &day, &clock);
    let builds = builds(house, &means, &making, sharing, &beside, &begun);
    let mut layer = Layer::new(&means, &day, &clock, (&making, &begun));
    for (place, _) in making.batches.iter().enumerate() {
        layer.batch(&making, place);
    }
    for (place, build) in builds.iter().enumerate() {
        layer.build(&making, place, build);
    }
    let last = layer.puzzle.dues.iter().map(|due| due.by).max();
    // What has begun goes on as soon as it can.
    let is_new = begun.is_begun.iter().all(|begun| !begun);
    layer.puzzle.early = last.map(|last| last - EARLY_ENOUGH).filter(|_| is_new);
    layer.takes(&making, &builds);
    layer.heats(house);
    let Layer { puzzle, tasks, pools, groups, first: named, .. } = layer;
    let hands = puzzle.pools.iter().filter(|pool| pool.is_hands);
    let hands = hands.flat_map(|pool| pool.levels.clone()).collect();
    Ok(Laid { day, clock, making, builds, puzzle, tasks, named, begun, pools, groups, hands })
}

/// What a day has on hand of stages, and what the next day takes of cultures.
fn beside(house: &House, day: &ResolvedDay, clock: &Clock) -> Beside {
    Beside { given: given(house, day, clock), wanted: wanted_next(house, clock) }
}

/// What a day has on hand of stages.
fn given(
    house: &House,
    day: &ResolvedDay,
    clock: &Clock,
) -> Vec<(EcoString, Option<EcoString>, Given)> {
    let own = day.on_hand.iter().map(|there| {
        let ripe = there.ripe.map(|ripe| clock.minute(ripe));
        (there, ripe, None)
    });
    let minute = |at: Option<Instant>| at.map(|at| clock.minute_of(at));
    let carried = day.carried.iter().map(|it| (&it.there, minute(it.ripe), minute(it.until)));
    let given = own.chain(carried).enumerate().filter_map(|(place, (there, ripe, until))| {
        let Ordered::Weight(weight) = &there.amount else { return None };
        let key = &there.name.key;
        if house.culture_named(key).is_some() || key == "old dough" {
            return None;
        }
        let given = Given { grams: house.base(weight), ripe, until, place };
        Some((key.clone(), there.of.as_ref().map(|of| of.key.clone()), given))
    });
    given.collect()
}

/// Grams of each culture that the builds and doughs of the next day take; none where that day has
/// no block.
fn wanted_next(house: &House, clock: &Clock) -> Vec<(EcoString, Exact)> {
    let next = clock.next().and_then(|name| {
        let day = resolve(house, &names_of_day(house, &name)?, &name)?;
        let clock = Clock::of(&name, clock.zone.clone())?;
        let means = Means::new(house, day.room.clone());
        let fresh = Begun::default();
        let making = making(house, &means, &day, &clock, &fresh, true).ok()?;
        // What is on hand then is not built.
        let beside = Beside { given: given(house, &day, &clock), ..Beside::default() };
        let builds = builds(house, &means, &making, Sharing::Most, &beside, &fresh);
        Some((making, builds))
    });
    let Some((making, builds)) = next else { return Vec::new() };
    let mut wanted: Vec<(EcoString, Exact)> = Vec::new();
    let doughs = making.batches.iter().flat_map(|batch| {
        &making.products[batch.product].sizes[batch.size].worked.first().dough_lines
    });
    for line in doughs.chain(builds.iter().flat_map(|build| &build.lines)) {
        let LineRef::Culture(_) = line.goes else { continue };
        match wanted.iter_mut().find(|(known, _)| known == line.key.as_str()) {
            Some((_, sum)) => *sum += &line.mass,
            None => wanted.push((line.key.as_str().into(), line.mass.clone())),
        }
    }
    wanted
}

/// Plans a day that is laid out.
///
/// # Errors
/// A puzzle that names what it does not have, which is a bug of ours.
pub fn plan<'t>(laid: Laid<'t>, effort: Effort) -> Result<Planned<'t>, Fault> {
    let plan = day::unproven(&laid.puzzle, effort)?;
    let mut planned = Planned { laid, plan };
    planned.loads_by_clock();
    planned.first_come();
    planned.number_by_clock();
    Ok(planned)
}

/// Why something is late or left out, and what would help: each way is a day that was planned.
pub fn causes(planned: &Planned) -> Vec<Cause> {
    /// Less work goes into each way out than into the day.
    const PART: u64 = 10;
    if trouble(&planned.laid, &planned.plan) == (0, 0) {
        return Vec::new();
    }
    let exact = Puzzle { grid: 0, ..planned.laid.puzzle.clone() };
    let placings = (planned.plan.placed / PART).max(1);
    day::explain(&exact, &planned.plan, Effort { placings })
}

/// Pieces that find no place in a plan, and minutes late in all.
fn trouble(laid: &Laid, plan: &DayPlan) -> (i64, i64) {
    let left_out = plan.left_out.iter().filter_map(|&it| laid.puzzle.batches.get(it));
    (left_out.map(|batch| batch.weight).sum(), plan.lateness)
}

struct Layer<'b> {
    begun: &'b Begun,
    puzzle: Puzzle,
    tasks: Vec<Of>,
    pools: Vec<PoolOf>,
    groups: Vec<GroupOf>,
    /// Of batches, then of builds: what they are called, and where their tasks begin.
    first: Vec<(Taker, String, usize)>,
    /// Heats that an oven is wanted at, by the group.
    heats: Vec<Vec<Exact>>,
}

impl<'b> Layer<'b> {
    fn new(
        means: &Means,
        day: &ResolvedDay,
        clock: &Clock,
        (making, begun): (&Making, &'b Begun),
    ) -> Self {
        let house = means.house;
        let span = span(making, begun);
        let aim = match day.aim {
            Aim::FinishEarly => day::Aim::FinishEarly,
            Aim::LeastHands => day::Aim::LeastHands,
            Aim::FewestOvenChanges => day::Aim::FewestOvenChanges,
        };
        let mut pools = vec![PoolOf::Hands];
        // What is begun on other dates is done in the hours of those; where nobody says them, in the
        // day's own.
        let hours = |days: i64| match clock.name(days).filter(|_| days != 0) {
            Some(name) => hours_of(house, &name).or(day.hours),
            None => day.hours,
        };
        let levels = clock.hands(hours, span);
        let mut all = vec![Pool { name: "hands".to_owned(), levels, is_hands: true }];
        for (place, rack) in house.racks().iter().enumerate() {
            let Some(boards) = rack.boards.as_ref().and_then(Exact::to_whole) else { continue };
            let boards = i32::try_from(boards).unwrap_or(i32::MAX / 1000);
            let levels = vec![(span.0, boards)];
            all.push(Pool { name: rack.name.shown.to_string(), levels, is_hands: false });
            pools.push(PoolOf::Rack(place));
        }
        let mut mixers: Vec<usize> = Vec::new();
        let mut group = MachineGroup { name: "mixers".to_owned(), ..MachineGroup::default() };
        for (place, mixer) in house.mixers().iter().enumerate() {
            for number in 1..=mixer.machines {
                let name = machine_name(&mixer.name.shown, number, mixer.machines);
                group.machines.push(Machine { name, ..Machine::default() });
                mixers.push(place);
            }
        }
        let (mut groups, mut of) = (vec![group], vec![GroupOf::Mixers(mixers)]);
        for (place, oven) in house.ovens().iter().enumerate() {
            let decks = 1..=oven.decks;
            let machines = decks.map(|number| Machine {
                name: machine_name(&oven.name.shown, number, oven.decks),
                ..Machine::default()
            });
            groups.push(MachineGroup {
                name: oven.name.shown.to_string(),
                machines: machines.collect(),
                changes: Vec::new(),
                is_oven: true,
            });
            of.push(GroupOf::Oven(place));
        }
        let heats = vec![Vec::new(); groups.len()];
        let grid = i32(means.grid);
        let puzzle = Puzzle { span, pools: all, groups, aim, grid, ..Puzzle::default() };
        Self { begun, puzzle, tasks: Vec::new(), pools, groups: of, first: Vec::new(), heats }
    }

    fn batch(&mut self, making: &Making, place: usize) {
        let batch = &making.batches[place];
        let product = &making.products[batch.product];
        let size = &product.sizes[batch.size];
        let name = format!("{} {}", product.formula.name.key, batch.number);
        // What nobody orders of what is begun is the first to be left out.
        let served = batch.loads.iter().flat_map(|load| &load.serves).map(|(_, pieces)| pieces);
        let whole =
            PlacedAsOne { name: &name, kept: batch.kept, weight: served.sum(), is_build: false };
        let first = self.whole(Taker::Batch(place), &whole, &size.worked, &size.shape);
        for (end, of) in size.shape.ends.iter().zip(&batch.loads) {
            let wishes = || of.serves.iter().map(|(wish, _)| &making.wishes[*wish]);
            let Some(by) = wishes().map(|wish| wish.by).min() else { continue };
            let order = of.serves.iter().min_by_key(|(wish, _)| making.wishes[*wish].by);
            let latest = wishes().filter_map(|wish| wish.after).max();
            // Bread is done on the day that it is wanted.
            let after = match latest {
                // It is fresh where what follows the oven may last until then.
                Some(after) => after.min(by) - end.wait.1.unwrap_or(end.wait.0),
                None => day_of(by).min(by) - end.wait.0,
            };
            let after = Some(after);
            self.puzzle.dues.push(Due {
                order: order.map_or(0, |(wish, _)| *wish),
                task: first + end.task,
                by: by - end.wait.0,
                after,
                weight: 1,
            });
        }
    }

    fn build(&mut self, making: &Making, place: usize, build: &Build) {
        let (product, size, stage) = build.like;
        let worked = &making.products[product].sizes[size].worked;
        let name = worked.formula.stages.get(stage).map_or("", |stage| stage.name.key.as_str());
        // A stage may be called like what is baked.
        let is_baked = making.products.iter().any(|product| product.formula.name.key == name);
        let head = if is_baked { "stage " } else { "" };
        let name = format!("{head}{name} {}", build.number);
        let name = if build.given.is_some() { format!("on hand {name}") } else { name };
        if build.given.is_some() && build.shape.tasks.is_empty() {
            self.first.push((Taker::Build(place), name, self.puzzle.tasks.len()));
            return;
        }
        let whole = PlacedAsOne { name: &name, kept: build.kept, weight: 1, is_build: true };
        let first = self.whole(Taker::Build(place), &whole, worked, &build.shape);
        if let Some(ripe) = build.given.as_ref().and_then(|given| given.ripe) {
            self.puzzle.tasks[first].fixed =
                Some(TaskPlace { start: ripe - 1, end: ripe, machine: 0 });
        }
    }

    /// The tasks of a shape, and how they hold to each other.
    fn whole(
        &mut self,
        taker: Taker,
        &PlacedAsOne { name, kept, weight, is_build }: &PlacedAsOne,
        worked: &Worked,
        shape: &Shape,
    ) -> usize {
        let first = self.puzzle.tasks.len();
        let batch = self.puzzle.batches.len();
        let weight = i64::from(weight.max(1));
        self.puzzle.batches.push(Whole { name: name.to_owned(), is_build, weight });
        self.first.push((taker, name.to_owned(), first));
        let kept = kept.filter(|kept| kept.changed);
        let kept = kept.and_then(|kept| self.begun.works.get(kept.work));
        for (task, proto) in shape.tasks.iter().enumerate() {
            let (takes, on) = self.resources(proto);
            let load = proto.load.map(|load| format!(" {}", load + 1)).unwrap_or_default();
            let own = format!("{name} {}{load}", word(worked, &proto.doing));
            let same = |task: &&Task| {
                task.name.strip_prefix(&own).is_some_and(|it| it.is_empty() || it.starts_with(" #"))
            };
            let before = self.puzzle.tasks.iter().skip(first).filter(same).count();
            let own = if before > 0 { format!("{own} #{}", before + 1) } else { own };
            let known = kept.and_then(|work| work.tasks.get(task)).map(|task| task.id.clone());
            let own = known.unwrap_or(own);
            self.puzzle.tasks.push(Task {
                name: own,
                batch,
                length: proto.length,
                window: self.puzzle.span,
                takes,
                on,
                fixed: None,
                before: None,
                on_grid: proto.on_grid,
            });
            self.tasks.push(Of { taker, task });
        }
        let moved = |point: Point| at(first, point);
        let lags = shape.lags.iter();
        self.puzzle.lags.extend(lags.map(|lag| Lag {
            from: moved(lag.from),
            to: moved(lag.to),
            ..*lag
        }));
        first
    }

    /// What a task takes of pools and groups.
    fn resources(&mut self, proto: &Proto) -> (Vec<(usize, i32)>, Option<On>) {
        match &proto.takes {
            Takes::Nothing => (Vec::new(), None),
            Takes::Hands => (vec![(0, 1)], None),
            Takes::Mixer(mixers) => {
                let of = match self.groups.first() {
                    Some(GroupOf::Mixers(of)) => of.clone(),
                    _ => Vec::new(),
                };
                let machines = of.iter().enumerate().filter(|(_, mixer)| mixers.contains(mixer));
                let machines = machines.map(|(machine, _)| machine).collect();
                (vec![(0, 1)], Some(On { group: 0, machines, enters: 0, leaves: 0 }))
            }
            Takes::Oven(oven, (enters, leaves)) => {
                let Some(group) = self.groups.iter().position(|it| *it == GroupOf::Oven(*oven))
                else {
                    return (Vec::new(), None);
                };
                let (enters, leaves) = (self.heat(group, enters), self.heat(group, leaves));
                let machines = (0..self.puzzle.groups[group].machines.len()).collect();
                (Vec::new(), Some(On { group, machines, enters, leaves }))
            }
            Takes::Boards(rack, boards) => {
                let pool = self.pools.iter().position(|it| *it == PoolOf::Rack(*rack));
                let boards = i32::try_from(*boards).unwrap_or(i32::MAX / 1000);
                (pool.map(|pool| (pool, boards)).into_iter().collect(), None)
            }
        }
    }

    /// The place of a heat among those of an oven.
    fn heat(&mut self, group: usize, heat: &Exact) -> usize {
        let known = &mut self.heats[group];
        known.iter().position(|it| it == heat).unwrap_or_else(|| {
            known.push(heat.clone());
            known.len() - 1
        })
    }

    /// What takes a build takes it while it is ripe.
    fn takes(&mut self, making: &Making, builds: &[Build]) {
        for (place, build) in builds.iter().enumerate() {
            let Some(end) = build.shape.ends.first() else { continue };
            let from = self.first_of(Taker::Build(place)).map(|first| Point::End(first + end.task));
            for take in &build.takes {
                let port =
                    shape_of(making, builds, take.taker).and_then(|it| it.ports.get(take.port));
                let (Some(from), Some(port), Some(first)) = (from, port, self.first_of(take.taker))
                else {
                    continue;
                };
                self.puzzle.lags.push(Lag {
                    from,
                    to: at(first, port.at),
                    least: end.wait.0 - port.later.0,
                    most: end.wait.1.map(|most| most - port.later.1),
                });
            }
        }
    }

    fn first_of(&self, taker: Taker) -> Option<usize> {
        self.first.iter().find(|(of, ..)| *of == taker).map(|(.., first)| *first)
    }

    /// How long ovens take from heat to heat, and which they begin the day with.
    fn heats(&mut self, house: &House) {
        let open = self.puzzle.pools.first().and_then(|hands| {
            hands.levels.iter().find(|(at, hands)| *at >= 0 && *hands > 0).map(|(at, _)| *at)
        });
        for group in 0..self.groups.len() {
            let GroupOf::Oven(oven) = self.groups[group] else { continue };
            let Some(oven) = house.ovens().get(oven) else { continue };
            if let Some(at) = &oven.at {
                let state = self.heat(group, at);
                let begins = Some((open.unwrap_or(0), state));
                self.puzzle.groups[group].machines.iter_mut().for_each(|it| it.begins = begins);
            }
            let Some(per_degree) = &oven.minutes_per_degree else { continue };
            let heats = &self.heats[group];
            let minutes = |from: &Exact, to: &Exact| {
                let minutes = ((to - from).abs() * per_degree).ceil();
                minutes.to_whole().and_then(|it| i64::try_from(it).ok()).map_or(0, i32)
            };
            let changes =
                heats.iter().map(|from| heats.iter().map(|to| minutes(from, to)).collect());
            self.puzzle.groups[group].changes = changes.collect();
        }
    }
}

/// What is placed as one.
struct PlacedAsOne<'n> {
    name: &'n str,
    kept: Option<Kept>,
    /// Pieces that are missing without it.
    weight: u32,
    is_build: bool,
}

/// The shape of a batch or a build.
pub fn shape_of<'m>(making: &'m Making, builds: &'m [Build], taker: Taker) -> Option<&'m Shape> {
    match taker {
        Taker::Build(build) => builds.get(build).map(|build| &build.shape),
        Taker::Batch(batch) => {
            let batch = making.batches.get(batch)?;
            Some(&making.products.get(batch.product)?.sizes.get(batch.size)?.shape)
        }
    }
}

/// The midnight of the day on which something is wanted.
fn day_of(by: Minute) -> Minute {
    (by - 1).div_euclid(i32(DAY)) * i32(DAY)
}

fn at(first: usize, point: Point) -> Point {
    match point {
        Point::Start(task) => Point::Start(first + task),
        Point::End(task) => Point::End(first + task),
    }
}

/// `spiral`, `spiral 2` of several.
fn machine_name(name: &str, number: u32, of: u32) -> String {
    if of > 1 { format!("{name} {number}") } else { name.to_owned() }
}

/// What is done, in one word.
fn word(worked: &Worked, doing: &Doing) -> &'static str {
    match doing {
        Doing::Build { .. } => "build",
        Doing::Fold { .. } | Doing::Folding { .. } => "fold",
        Doing::Ripen { .. } | Doing::Keep { .. } => "move",
        _ => step_of(worked, doing).map_or("step", |step| step.verb.word()),
    }
}

/// From when until when anything may be done: as many days before as the longest takes, and a
/// day after the last is wanted; what is begun has its place in it.
fn span(making: &Making, begun: &Begun) -> (Minute, Minute) {
    let sizes = || making.products.iter().flat_map(|product| &product.sizes);
    let longest = |size: &Sized| {
        let length = elapsed(&size.graph);
        let minutes = length.high.unwrap_or(length.low + Exact::from(DAY));
        minutes.ceil().to_whole().and_then(|it| i64::try_from(it).ok()).unwrap_or(0)
    };
    let longest = sizes().map(longest).max().unwrap_or(0);
    let days = (longest / DAY + 2).min(MAX_BEFORE);
    let last = making.wishes.iter().map(|wish| wish.by).max().unwrap_or(0);
    let begun = || begun.tasks.iter().filter(|(_, begun)| *begun).map(|(known, _)| known);
    let first = begun().map(|known| known.from.div_euclid(i32(DAY)) * i32(DAY)).min();
    let last = begun().map(|known| known.to).max().map_or(last, |end| end.max(last));
    (i32(-days * DAY).min(first.unwrap_or(0)), last.max(0) + i32(DAY))
}

impl Planned<'_> {
    /// Pieces that find no place, and minutes late in all.
    pub fn trouble(&self) -> (i64, i64) {
        trouble(&self.laid, &self.plan)
    }

    /// Where a task is; none where its batch is left out.
    pub fn place(&self, task: usize) -> Option<TaskPlace> {
        self.plan.places.get(task).copied().flatten()
    }
}

impl Planned<'_> {
    /// The first load of a batch is that which goes into the oven first: loads that are alike change
    /// places, where all is in time and stays so.
    fn loads_by_clock(&mut self) {
        if self.trouble() != (0, 0) {
            return;
        }
        let batches: Vec<usize> = (0..self.laid.making.batches.len()).collect();
        let one_by_one = batches.iter().map(std::slice::from_ref);
        // The whole is looked at once, and each by itself only where that will not do.
        for some in [batches.as_slice()].into_iter().chain(one_by_one) {
            let places = self.with_loads_by_clock(some);
            if places == self.plan.places {
                continue;
            }
            let is_late = |due: &Due| places[due.task].is_some_and(|it| it.end > due.by);
            let is_in_time = !self.laid.puzzle.dues.iter().any(is_late);
            if is_in_time && day::check(&self.laid.puzzle, &places).is_empty() {
                self.plan.hands = day::hands(&self.laid.puzzle, &places);
                self.plan.places = places;
            }
        }
    }

    /// The places of all tasks, with loads of some batches in order of time.
    fn with_loads_by_clock(&self, batches: &[usize]) -> Vec<Option<TaskPlace>> {
        let mut places = self.plan.places.clone();
        for &batch in batches.iter().filter(|it| self.laid.making.batches[**it].kept.is_none()) {
            let taker = Taker::Batch(batch);
            let shape = shape_of(&self.laid.making, &self.laid.builds, taker);
            let first = self.laid.named.iter().find(|(of, ..)| *of == taker).map(|it| it.2);
            let (Some(shape), Some(first)) = (shape, first) else { continue };
            let own: Vec<Vec<usize>> = (0..self.laid.making.batches[batch].loads.len())
                .map(|load| {
                    let tasks = shape.tasks.iter().enumerate();
                    let tasks = tasks.filter(|(_, it)| it.load == Some(load));
                    tasks.map(|(task, _)| first + task).collect()
                })
                .collect();
            let alike = |one: &[usize], two: &[usize]| {
                let of = |task: &usize| shape.tasks.get(*task - first);
                let same = |(one, two): (&usize, &usize)| {
                    of(one).zip(of(two)).is_some_and(|(one, two)| one.is_like(two))
                };
                one.len() == two.len() && one.iter().zip(two).all(same)
            };
            let end =
                |tasks: &[usize]| tasks.iter().filter_map(|&it| Some(self.place(it)?.end)).max();
            for (load, tasks) in own.iter().enumerate() {
                if own.iter().take(load).any(|other| alike(other, tasks)) {
                    continue;
                }
                let same: Vec<&Vec<usize>> =
                    own.iter().filter(|other| alike(other, tasks)).collect();
                let mut by_clock = same.clone();
                by_clock.sort_by_key(|tasks| end(tasks));
                for (to, from) in same.into_iter().zip(by_clock) {
                    for (&to, &from) in to.iter().zip(from) {
                        places[to] = self.plan.places[from];
                    }
                }
            }
        }
        places
    }

    /// What is done first is for those who want it first: loads of a product that may be done early
    /// change their wishes, where all is in time.
    fn first_come(&mut self) {
        if self.trouble() != (0, 0) {
            return;
        }
        let kinds = self.laid.making.products.iter().enumerate().flat_map(|(place, product)| {
            (0..product.kinds.len().max(1)).map(move |kind| (place, kind))
        });
        for (product, kind) in kinds.collect::<Vec<_>>() {
            let mut loads: Vec<(Minute, usize, usize)> = Vec::new();
            let mut wanted: Vec<(Minute, usize, u32)> = Vec::new();
            let batches = self.laid.making.batches.iter().enumerate();
            for (place, batch) in batches.filter(|(_, it)| it.product == product) {
                let own = batch.loads.iter().enumerate().filter(|(_, load)| load.kind == kind);
                for (load, of) in own {
                    let wish = |wish: &usize| &self.laid.making.wishes[*wish];
                    let is_fresh = of.serves.iter().any(|(it, _)| wish(it).after.is_some());
                    let (false, None, Some(done)) = (is_fresh, batch.kept, self.done(place, load))
                    else {
                        continue;
                    };
                    loads.push((done, place, load));
                    wanted.extend(of.serves.iter().map(|(it, pieces)| (wish(it).by, *it, *pieces)));
                }
            }
            loads.sort_unstable();
            wanted.sort_unstable();
            let mut wanted = wanted.into_iter().map(|(_, wish, pieces)| (wish, pieces));
            let mut open = wanted.next();
            let mut given: Vec<GivenLoad> = Vec::new();
            for (done, place, load) in loads {
                let pieces = self.laid.making.batches[place].loads[load].pieces;
                given.push((place, load, taken(&mut open, &mut wanted, pieces), done));
            }
            let by = |serves: &[(usize, u32)]| {
                let by = serves.iter().map(|(wish, _)| self.laid.making.wishes[*wish].by);
                by.min().unwrap_or(Minute::MAX)
            };
            let fits = |(_, _, serves, done): &GivenLoad| {
                let by = by(serves);
                *done <= by && *done >= day_of(by)
            };
            if given.iter().all(fits) {
                for (place, load, serves, _) in given {
                    self.serve(place, load, serves);
                }
            }
        }
    }

    /// Gives a load to wishes, and lets what is due of it be due for them.
    fn serve(&mut self, batch: usize, load: usize, serves: Vec<(usize, u32)>) {
        let laid = &mut self.laid;
        let first = laid.named.iter().find(|(taker, ..)| *taker == Taker::Batch(batch));
        let shape = shape_of(&laid.making, &laid.builds, Taker::Batch(batch));
        let end = shape.and_then(|shape| shape.ends.get(load)).map(|end| (end.task, end.wait));
        let wishes = serves.iter().map(|(wish, _)| (laid.making.wishes[*wish].by, *wish));
        if let (Some((.., first)), Some((task, wait)), Some((by, order))) =
            (first, end, wishes.min())
        {
            let own = laid.puzzle.dues.iter_mut().filter(|due| due.task == first + task);
            for due in own {
                (due.order, due.by) = (order, by - wait.0);
                due.after = Some(day_of(by).min(by) - wait.0);
            }
        }
        laid.making.batches[batch].loads[load].serves = serves;
    }

    /// Numbers what is not begun by when it begins: the first of a formula or a stage is that which
    /// is begun first.
    fn number_by_clock(&mut self) {
        let laid = &self.laid;
        let mut free: Vec<Numbered> = Vec::new();
        for (place, (taker, name, first)) in laid.named.iter().enumerate() {
            let own = laid.tasks.iter().enumerate().skip(*first);
            let own = own.take_while(|(_, of)| of.taker == *taker);
            let begins = own.filter_map(|(task, _)| Some(self.place(task)?.start)).min();
            let is_given = name.starts_with("on hand ");
            let Some((name, number)) = name.rsplit_once(' ') else { continue };
            let Ok(number) = number.parse::<u32>() else { continue };
            if laid.kept(*taker).is_some() || is_given {
                continue;
            }
            let own = (begins.unwrap_or(Minute::MAX), place);
            match free.iter_mut().find(|(known, ..)| known == name) {
                Some((_, numbers, places)) => {
                    numbers.push(number);
                    places.push(own);
                }
                None => free.push((name.to_owned(), vec![number], vec![own])),
            }
        }
        for (name, mut numbers, mut places) in free {
            numbers.sort_unstable();
            places.sort_unstable();
            for (number, (_, place)) in numbers.into_iter().zip(places) {
                self.call(place, &name, number);
            }
        }
    }

    /// Gives something that is placed as one another number.
    fn call(&mut self, place: usize, name: &str, number: u32) {
        let laid = &mut self.laid;
        let Some((taker, own, first)) = laid.named.get_mut(place) else { return };
        let before = std::mem::replace(own, format!("{name} {number}"));
        match *taker {
            Taker::Batch(batch) => laid.making.batches[batch].number = number,
            Taker::Build(build) => laid.builds[build].number = number,
        }
        let tasks = laid.tasks.iter().enumerate().skip(*first);
        for (task, _) in tasks.take_while(|(_, of)| of.taker == *taker) {
            let task = &mut laid.puzzle.tasks[task];
            if let Some(rest) = task.name.strip_prefix(&before) {
                task.name = format!("{own}{rest}");
            }
            laid.puzzle.batches[task.batch].name.clone_from(own);
        }
    }

    /// Asks how good the plan is: once, of the one that is shown.
    pub fn prove(&mut self) {
        day::prove(&self.laid.puzzle, &mut self.plan);
    }

    /// Of each wish, when the last of what it gets is done, and how many of its pieces find no
    /// place.
    pub fn done_of_wishes(&self) -> Vec<(Option<Minute>, u32)> {
        let mut all = vec![(None, 0); self.laid.making.wishes.len()];
        for (number, batch) in self.laid.making.batches.iter().enumerate() {
            for (load, of) in batch.loads.iter().enumerate() {
                let at = self.done(number, load);
                for (wish, pieces) in of.serves.iter().filter(|(_, pieces)| *pieces > 0) {
                    let Some((done, missing)) = all.get_mut(*wish) else { continue };
                    match at {
                        Some(_) => *done = at.max(*done),
                        None => *missing += pieces,
                    }
                }
            }
        }
        all
    }

    /// When a load of a batch is done at the earliest; none where it finds no place.
    pub fn done(&self, batch: usize, load: usize) -> Option<Minute> {
        let shape = shape_of(&self.laid.making, &self.laid.builds, Taker::Batch(batch))?;
        let end = shape.ends.get(load)?;
        // Batches stand before builds, in their order.
        let is_it = |(taker, ..): &&(Taker, String, usize)| *taker == Taker::Batch(batch);
        let named = self.laid.named.get(batch).filter(is_it);
        let (.., first) = named.or_else(|| self.laid.named.iter().find(is_it))?;
        Some(self.place(first + end.task)?.end + end.wait.0)
    }
}

impl Laid<'_> {
    /// What a batch or build was in the plan so far, where it is begun.
    pub fn kept(&self, taker: Taker) -> Option<Kept> {
        match taker {
            Taker::Batch(place) => self.making.batches.get(place)?.kept,
            Taker::Build(place) => self.builds.get(place)?.kept,
        }
    }

    /// Of what is begun, what nobody orders or takes: pieces of a batch, grams of a build.
    pub fn over(&self, taker: Taker) -> Option<Exact> {
        self.kept(taker)?;
        let over = match taker {
            Taker::Batch(place) => {
                let loads = || self.making.batches[place].loads.iter();
                let all: u32 = loads().map(|load| load.pieces).sum();
                let served: u32 = loads().flat_map(|load| &load.serves).map(|it| it.1).sum();
                Exact::from(all.saturating_sub(served))
            }
            Taker::Build(place) => self.builds[place].left(),
        };
        (over > Exact::ZERO).then_some(over)
    }

    /// Pieces of a batch that nobody orders, by their kinds, with the names of those; of dough, grams.
    pub fn over_by_kind(&self, batch: usize) -> Vec<(Option<&Name>, u32)> {
        let Some(batch) = self.making.batches.get(batch) else { return Vec::new() };
        let product = &self.making.products[batch.product];
        let left = |kind: usize| {
            let own = batch.loads.iter().filter(|load| load.kind == kind);
            own.fold(0u32, |sum, load| {
                let served: u32 = load.serves.iter().map(|it| it.1).sum();
                sum.saturating_add(load.pieces.saturating_sub(served))
            })
        };
        let all = (0..product.kinds.len().max(1)).map(|kind| (product.kind(kind), left(kind)));
        all.filter(|(_, left)| *left > 0).collect()
    }

    /// The same in words.
    pub fn left_of(&self, taker: Taker) -> Option<String> {
        let over = self.over(taker)?;
        Some(match taker {
            Taker::Batch(place) => {
                let each = self.over_by_kind(place).into_iter().map(|(kind, left)| {
                    format!("{left} {}", kind.map_or("g of dough", |kind| kind.shown.as_str()))
                });
                let each = each.collect::<Vec<_>>().join(" and ");
                format!("{each} of it have been begun, and nobody has ordered them")
            }
            Taker::Build(_) => {
                let number = display::trimmed(&over, 0);
                format!("{number} g of it have been begun, and nothing takes them")
            }
        })
    }

    /// What is begun and would be something else by its formula of today.
    pub fn changed(&self, taker: Taker) -> Option<&Work> {
        let kept = self.kept(taker).filter(|kept| kept.changed)?;
        self.begun.works.get(kept.work)
    }

    /// Grams of a culture, or of old dough of one formula, that all batches and builds take.
    pub fn taken(&self, key: &str, of: Option<&str>) -> Exact {
        let own = |lines: &[WorkedLine]| {
            let own = lines.iter().filter(|line| line.key == key);
            own.fold(Exact::ZERO, |sum, line| sum + &line.mass)
        };
        let batches = self
            .making
            .batches
            .iter()
            .map(|batch| &self.making.products[batch.product].sizes[batch.size].worked);
        let of_it = batches.filter(|worked| of.is_none_or(|of| worked.formula.name.key == of));
        let sum = of_it.fold(Exact::ZERO, |sum, worked| sum + own(&worked.first().dough_lines));
        self.builds.iter().fold(sum, |sum, build| sum + own(&build.lines))
    }
}

/// All that the planner is given of a day, and what the day says beside, as text; none where
/// there is no such day, or something of it can't be made.
#[cfg_attr(closed, allow(dead_code, reason = "tests compare days by it"))]
pub fn laid(house: &House, name: &str) -> Option<String> {
    let day = resolve(house, name, name)?;
    let own = house.day(name)?;
    let texts = own.texts.iter().map(|words| plain(&words.text)).collect::<Vec<_>>();
    let said: Vec<String> = own
        .temperatures
        .iter()
        .map(|(word, quantity)| format!("{word} {}", house.base(quantity)))
        .collect();
    let racks: Vec<_> = house.racks().iter().map(|rack| rack.at.clone()).collect();
    let laid = lay(
        house,
        day,
        Clock::of(name, Zone::undated(Dating::AnyWeek))?,
        (Sharing::Most, true),
        Begun::default(),
    )
    .ok()?;
    Some(format!("{:?} {texts:?} {said:?} {racks:?}", laid.puzzle))
}
