//! The shape of a batch, or of the build of a stage: what takes hands, machines and boards in it,
//! how far these are apart, and where it meets other builds.
//!
//! Enters: the graph of a formula worked out for one batch. Leaves: tasks by themselves, with the
//! fewest bounds between them. What takes nothing is no task, only a distance.

use super::loads::{self, Loads};
use super::means::{Means, Stand};
use super::net::{Distances, Net};
use super::segs::{Seg, i32, step_of};
use crate::formula::{Added, LineRef, Within, Worked};
use crate::quantity::Exact;
use crate::syntax::tree::{Step, Verb};
use crate::time::day::{Lag, Minute, Point};
use crate::time::{Doing, Graph, Hands, Stretch, stage_of};

/// What a task takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A pair of hands.
    Hands,
    /// A pair of hands and one of some mixers, by their places in the house.
    Mixer(Vec<usize>),
    /// A deck of an oven, by its place in the house; degrees Celsius at its beginning and its end.
    Oven(usize, (Exact, Exact)),
    /// Boards in a proofer or a refrigerator, by its place in the house.
    Boards(usize, u32),
    /// Nothing: it only stands for the time at which a stage that is on hand is ripe.
    Nothing,
}

/// A task of a shape.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proto {
    /// Minutes: from, to.
    pub length: (Minute, Minute),
    /// What it takes.
    pub takes: Takes,
    /// What it is in the graph.
    pub doing: Doing,
    /// Whether it is only that somebody has to be there.
    pub is_moment: bool,
    /// Which load of the oven it is of, where there are several.
    pub load: Option<usize>,
    /// It begins when clocks show a plain time, such as 04:25.
    pub on_grid: bool,
}

impl Proto {
    /// Whether it is the same as another, but for the load it is of.
    pub fn is_like(&self, other: &Self) -> bool {
        Self { load: None, ..self.clone() } == Self { load: None, ..other.clone() }
    }
}

/// Where a stage goes in.
#[derive(Clone, Debug)]
pub struct Port {
    /// By its place in the formula.
    pub stage: usize,
    /// When; the true time may be later than this by so many minutes, at least and at most.
    pub at: Point,
    /// At least, and at most.
    pub later: (Minute, Minute),
    /// Minutes from there to the end, at the least.
    pub to_end: i64,
    /// How much of what is taken of the stage goes in here.
    pub share: Exact,
}

/// Where something is done: so long after the end of a task.
#[derive(Clone, Debug)]
pub struct End {
    /// The last task.
    pub task: usize,
    /// Minutes from its end: at least, and at most.
    pub wait: (Minute, Option<Minute>),
}

/// A batch or a build, by itself.
#[derive(Clone, Debug, Default)]
pub struct Shape {
    /// What takes something.
    pub tasks: Vec<Proto>,
    /// Between them.
    pub lags: Vec<Lag>,
    /// Where stages go in.
    pub ports: Vec<Port>,
    /// Of a batch where each load is done; of a build where it is ripe to be used, at least and
    /// at most so long after.
    pub ends: Vec<End>,
}

impl Shape {
    /// How far all ends of its tasks are apart, at least and at most.
    pub fn distances(&self) -> Distances {
        let lags = self.lags.iter();
        Distances::of_tasks(
            self.tasks.iter().map(|task| task.length),
            lags.map(|lag| (lag.from.number(), lag.to.number(), lag.least, lag.most)),
        )
    }
}

/// A longest wait that nobody gave an end.
const ENDLESS: i64 = 7 * 24 * 60;

/// Minutes of a stretch as whole ones: a wait is no shorter than written, nor longer; work is
/// rounded.
fn whole(stretch: &Stretch) -> (i64, Option<i64>) {
    let to = |minutes: Exact| minutes.to_whole().and_then(|it| i64::try_from(it).ok());
    let number = |minutes: Exact| to(minutes).unwrap_or(ENDLESS).min(ENDLESS);
    let high = stretch.high.as_ref();
    if high == Some(&stretch.low) {
        let minutes = number(stretch.low.nearest());
        return (minutes, Some(minutes));
    }
    let least = number(stretch.low.ceil());
    (least, high.map(|high| number(high.floor()).max(least)))
}

/// Where a stretch leads to a fold that nobody gave a time: about as long as parts its phase evenly.
fn before_fold(graph: &Graph, place: usize) -> Option<(i64, Option<i64>)> {
    /// Of the time from one fold to the next it may be so much less or more: a third.
    const PART: i64 = 3;
    let minutes = |exact: &Exact| exact.to_whole().and_then(|it| i64::try_from(it).ok());
    let folds = graph.folds.iter().filter(|folds| folds.evenly);
    let (folds, number) = folds
        .filter_map(|folds| Some((folds, folds.ways.iter().position(|way| *way == place)?)))
        .next()?;
    let phase = graph.stretches.get(folds.phase)?;
    let gap = |whole: &Exact| {
        let all = folds.parting(whole);
        let before = number.checked_sub(1).and_then(|before| all.get(before).cloned());
        minutes(&(all.get(number)? - &before.unwrap_or_default()).nearest())
    };
    let least = gap(&phase.low)?;
    let most = phase.high.as_ref().and_then(gap);
    Some(((least - least / PART).max(0), most.map(|most| most + most / PART)))
}

/// A part of a graph that becomes a shape.
struct Draft<'a, 't> {
    means: &'a Means<'a, 't>,
    worked: &'a Worked<'t>,
    net: Net,
    segs: Vec<Seg>,
    tasks: Vec<(Proto, usize, usize)>,
    /// Points inside what is one task: its beginning, and how far they are from it.
    inside: Vec<(usize, usize, (i64, i64))>,
    /// Points at which somebody has to be there.
    moments: Vec<usize>,
    /// Points at which a stage goes in.
    ports: Vec<(usize, usize)>,
    /// Whose shape it is: a stage's, or the dough's own.
    own: Option<usize>,
    /// Points at which it is done, with the pieces.
    ends: Vec<(usize, u32)>,
    /// Loads of the oven, with the kinds of their pieces.
    loads: Loads,
}

/// Whose each point of a graph is: none for the dough's own.
fn owners(graph: &Graph) -> Vec<Option<Option<usize>>> {
    let mut owners: Vec<Option<Option<usize>>> = vec![None; graph.points];
    let set = |owners: &mut Vec<Option<Option<usize>>>, point: usize, of: Option<usize>| {
        if let Some(owner) = owners.get_mut(point) {
            owner.get_or_insert(of);
        }
    };
    let is_own = |it: &&Stretch| {
        !matches!(it.doing, Doing::Ripen { .. } | Doing::Keep { .. } | Doing::Order)
    };
    for stretch in graph.stretches.iter().filter(is_own) {
        set(&mut owners, stretch.from, stage_of(&stretch.doing));
        set(&mut owners, stretch.to, stage_of(&stretch.doing));
    }
    for stretch in &graph.stretches {
        if let Doing::Ripen { stage, .. } | Doing::Keep { stage, .. } = stretch.doing {
            set(&mut owners, stretch.from, Some(stage));
            set(&mut owners, stretch.to, Some(stage));
        }
    }
    owners
}

/// The shape of a batch: its own method, with its stages built elsewhere.
pub fn batch(means: &Means, worked: &Worked, graph: &Graph, loads: &Loads) -> Shape {
    let mut draft = Draft::new(means, worked, graph, None);
    let end = (graph.end, loads.pieces.iter().sum());
    draft.ends = vec![end];
    draft.loads = loads.clone();
    if loads.pieces.len() > 1 {
        loads::part(&mut draft.segs, &mut draft.net, &mut draft.ends, worked, loads, &draft.ports);
    }
    draft.shape()
}

/// The shape of one build of a stage.
pub fn build(means: &Means, worked: &Worked, graph: &Graph, stage: usize) -> Shape {
    Draft::new(means, worked, graph, Some(stage)).shape()
}

/// The shape of a stage that is on hand: a task without work that ends when it is ripe, and how long
/// it keeps from then; nothing, where it can be taken at any time.
pub fn given(
    means: &Means,
    (worked, graph): (&Worked, &Graph),
    stage: usize,
    is_timed: bool,
) -> Shape {
    if !is_timed {
        return Shape::default();
    }
    let usual = Draft::new(means, worked, graph, Some(stage));
    let keeps = usual.segs.iter().find(|seg| matches!(seg.doing, Doing::Keep { .. }));
    let most = keeps.and_then(|seg| seg.most).map(i32);
    let task = Proto {
        length: (1, 1),
        takes: Takes::Nothing,
        doing: Doing::Order,
        is_moment: true,
        load: None,
        on_grid: false,
    };
    Shape { tasks: vec![task], ends: vec![End { task: 0, wait: (0, most) }], ..Shape::default() }
}

impl<'a, 't> Draft<'a, 't> {
    fn new(
        means: &'a Means<'a, 't>,
        worked: &'a Worked<'t>,
        graph: &Graph,
        own: Option<usize>,
    ) -> Self {
        let owners = owners(graph);
        let owner = |point: usize| owners.get(point).copied().flatten();
        let mut net = Net::default();
        (0..graph.points).for_each(|_| {
            net.point();
        });
        let mut draft = Self {
            means,
            worked,
            net,
            segs: Vec::new(),
            tasks: Vec::new(),
            inside: Vec::new(),
            moments: Vec::new(),
            ports: Vec::new(),
            own,
            ends: Vec::new(),
            loads: Loads::default(),
        };
        for (place, stretch) in graph.stretches.iter().enumerate() {
            let (from, to) = (owner(stretch.from), owner(stretch.to));
            if from == Some(own) && to == Some(own) {
                if !draft.is_preheat(&stretch.doing) {
                    let mut seg = draft.seg(stretch, stretch.to);
                    if let Some((least, most)) = before_fold(graph, place) {
                        seg.least = least.max(seg.least);
                        seg.most = most.map(|most| most.min(seg.most.unwrap_or(most)));
                        seg.most = seg.most.map(|most| most.max(seg.least));
                    }
                    draft.segs.push(seg);
                }
                continue;
            }
            let Doing::Keep { stage, .. } = stretch.doing else { continue };
            if to == Some(own) && Some(stage) != own {
                draft.ports.push((stretch.to, stage));
            } else if Some(stage) == own && draft.ends.is_empty() {
                // However many take it, it is built once; the first tells how long it keeps.
                let out = draft.net.point();
                draft.segs.push(draft.seg(stretch, out));
                draft.ends.push((out, 0));
            }
        }
        draft.ports.sort_unstable();
        draft.ports.dedup();
        let touched =
            |point: &usize| draft.segs.iter().any(|seg| seg.from == *point || seg.to == *point);
        draft.moments = graph.moments.iter().copied().filter(touched).collect();
        draft
    }

    fn seg(&self, stretch: &Stretch, to: usize) -> Seg {
        let (least, most) = whole(stretch);
        let (doing, hands) = (stretch.doing.clone(), stretch.hands);
        Seg { from: stretch.from, to, least, most, doing, hands, load: None }
    }

    fn step(&self, doing: &Doing) -> Option<&Step> {
        step_of(self.worked, doing)
    }

    fn is_preheat(&self, doing: &Doing) -> bool {
        self.step(doing).is_some_and(|step| step.verb == Verb::Preheat)
    }

    /// Tasks, distances, ports and ends.
    fn shape(mut self) -> Shape {
        for seg in &self.segs {
            self.net.bound(seg.from, seg.to, seg.least, seg.most);
        }
        self.runs();
        self.others();
        self.be_there();
        let distances = self.net.distances();
        let mut tasks: Vec<Proto> = self.tasks.iter().map(|(task, ..)| task.clone()).collect();
        let points = Points::new(&self.tasks, &distances);
        let mut rows = points.rows(&distances);
        for row in &rows {
            if let Some(first) = plain_start(row, &tasks, self.means.grid) {
                tasks[first].on_grid = true;
            }
        }
        let lags = lags(&mut rows, &tasks, &distances);
        let ends: Vec<End> =
            self.ends.iter().filter_map(|end| self.end(*end, &points, &distances)).collect();
        let ports = self.ports.iter().filter_map(|port| self.port(*port, &points, &distances));
        Shape { ports: ports.collect(), tasks, lags, ends }
    }

    /// Steps in a mixer or an oven, those that follow each other there as one.
    fn runs(&mut self) {
        let mut run: Vec<Seg> = Vec::new();
        let mut stand: Option<Stand> = None;
        let segs: Vec<Seg> =
            self.segs.iter().filter(|it| matches!(it.doing, Doing::Step { .. })).cloned().collect();
        let mut loads: Vec<Option<usize>> = segs.iter().map(|seg| seg.load).collect();
        loads.sort_unstable();
        loads.dedup();
        for load in loads {
            for seg in segs.iter().filter(|seg| seg.load == load) {
                let here = self.means.machine(self.worked, &seg.doing);
                let goes_on = run.last().is_some_and(|last| last.to == seg.from);
                if here.is_some() && goes_on && here == stand {
                    run.push(seg.clone());
                    continue;
                }
                self.close_run(&run, stand.take());
                run = if here.is_some() { vec![seg.clone()] } else { Vec::new() };
                stand = here;
            }
            self.close_run(&run, stand.take());
            run = Vec::new();
        }
    }

    fn close_run(&mut self, run: &[Seg], stand: Option<Stand>) {
        let (Some(first), Some(last), Some(stand)) = (run.first(), run.last(), stand) else {
            return;
        };
        let (mut least, mut most) = (0i64, Some(0i64));
        for seg in run {
            if seg.from != first.from {
                self.inside.push((seg.from, first.from, (least, most.unwrap_or(ENDLESS))));
            }
            least += seg.least;
            most = most.zip(seg.most).map(|(one, two)| one + two);
        }
        if most == Some(0) {
            return;
        }
        let takes = match stand {
            Stand::Mixers(mixers) => Takes::Mixer(mixers),
            Stand::Oven(oven) => {
                let heat = |seg: &Seg| self.means.heat(self.worked, &seg.doing);
                Takes::Oven(oven, (heat(first), heat(last)))
            }
        };
        let task = proto((least, most), takes, first);
        self.tasks.push((task, first.from, last.to));
    }

    /// Hands, and boards in proofer and refrigerator.
    fn others(&mut self) {
        let in_run = |seg: &Seg, tasks: &[(Proto, usize, usize)]| {
            tasks.iter().any(|(_, from, to)| (seg.from, seg.to) == (*from, *to))
        };
        let runs = self.tasks.clone();
        let inside: Vec<usize> = self.inside.iter().map(|(point, ..)| *point).collect();
        for seg in self.segs.clone() {
            let of_run = matches!(seg.doing, Doing::Step { .. })
                && (in_run(&seg, &runs) || inside.contains(&seg.from) || inside.contains(&seg.to));
            if of_run || seg.most == Some(0) || seg.doing == Doing::Order {
                continue;
            }
            if seg.hands == Hands::On {
                let task = proto((seg.least.max(1), seg.most), Takes::Hands, &seg);
                self.tasks.push((task, seg.from, seg.to));
            } else if let Some((rack, boards)) = self.boards(&seg) {
                let task = proto((seg.least.max(1), seg.most), Takes::Boards(rack, boards), &seg);
                self.tasks.push((task, seg.from, seg.to));
            }
        }
    }

    /// The boards that a wait takes, where what it stands in counts them.
    fn boards(&self, seg: &Seg) -> Option<(usize, u32)> {
        let Doing::Step { stage: None, step, phase } = seg.doing else { return None };
        let is_own = |load: usize| seg.load.is_none_or(|own| own == load);
        let all = self.loads.pieces.iter().enumerate().filter(|(load, _)| is_own(*load));
        let pieces: Vec<(Option<&str>, u32)> =
            all.map(|(load, pieces)| (self.loads.kind(load), *pieces)).collect();
        self.means.boards(self.worked, (step, phase), &pieces)
    }

    /// Somebody has to be there where no work of hands begins or ends that brings them.
    fn be_there(&mut self) {
        let mut points: Vec<(usize, Doing, Option<usize>)> = Vec::new();
        let at = |point: usize, segs: &[Seg]| {
            let begins = segs.iter().find(|seg| seg.from == point && seg.doing != Doing::Order);
            let ends = segs.iter().find(|seg| seg.to == point && seg.doing != Doing::Order);
            // What several loads begin with is of none of them alone.
            let mut loads = segs.iter().filter(|seg| seg.from == point).map(|seg| seg.load);
            let first = loads.next();
            let is_shared = loads.any(|load| Some(load) != first);
            begins.or(ends).map(|seg| (seg.doing.clone(), seg.load.filter(|_| !is_shared)))
        };
        // What is baked is put in and taken out.
        let out: Vec<(usize, Doing, Option<usize>)> = self
            .tasks
            .iter()
            .filter(|(task, ..)| matches!(task.takes, Takes::Oven(..)))
            .flat_map(|(task, from, to)| [*from, *to].map(|at| (at, task.doing.clone(), task.load)))
            .collect();
        points.extend(out);
        for &point in &self.moments {
            points.extend(at(point, &self.segs).map(|(doing, load)| (point, doing, load)));
        }
        for &(point, _) in self
            .ports
            .iter()
            .filter(|(point, _)| !self.inside.iter().any(|(inner, ..)| inner == point))
        {
            points.extend(at(point, &self.segs).map(|(doing, load)| (point, doing, load)));
        }
        for (point, doing, load) in points {
            let is_inside = self.inside.iter().any(|(inner, ..)| *inner == point);
            let brings = |(task, from, to): &(Proto, usize, usize)| {
                matches!(task.takes, Takes::Hands | Takes::Mixer(_))
                    && (*from == point || *to == point)
            };
            if is_inside || self.tasks.iter().any(brings) {
                continue;
            }
            let minutes = self.means.moment;
            let to = self.net.point();
            self.net.bound(point, to, minutes, Some(minutes));
            let length = (i32(minutes), i32(minutes));
            let task =
                Proto { length, takes: Takes::Hands, doing, is_moment: true, load, on_grid: false };
            self.tasks.push((task, point, to));
        }
    }

    /// The task after which it is done, that whose end tells best when.
    fn end(&self, (point, pieces): (usize, u32), points: &Points, all: &Distances) -> Option<End> {
        let candidates = self.tasks.iter().enumerate().filter_map(|(task, (proto, _, to))| {
            let (least, most) = (all.least(*to, point)?, all.most(*to, point));
            let width = most.map_or(ENDLESS, |most| most - least);
            (least >= 0 && !proto.is_moment || pieces == 0).then_some((
                width,
                least,
                task,
                (least, most),
            ))
        });
        let (.., task, (least, most)) = candidates.min_by_key(|it| (it.0, it.1, it.2))?;
        let _ = points;
        Some(End { task, wait: (i32(least), most.map(i32)) })
    }

    fn port(
        &self,
        (point, stage): (usize, usize),
        points: &Points,
        all: &Distances,
    ) -> Option<Port> {
        let inner = self.inside.iter().find(|(inner, ..)| *inner == point);
        let (at, later) = match inner {
            Some((_, from, later)) => (*from, *later),
            None => (point, (0, 0)),
        };
        let end = self.ends.first().map(|(end, _)| *end)?;
        let to_end = all.least(point, end).unwrap_or(0);
        let later = (i32(later.0), i32(later.1));
        let share = self.share((point, stage));
        Some(Port { stage, at: points.at(at)?, later, to_end, share })
    }

    /// How much of a stage goes in at one of the points at which some of it does: what the steps
    /// say; where they don't part it, all at the first.
    fn share(&self, port: (usize, usize)) -> Exact {
        let formula = &self.worked.formula;
        let (method, within) = match self.own {
            None => (formula.method.as_ref(), Within::FinalDough),
            Some(stage) => (
                formula.stages.get(stage).and_then(|stage| stage.method.as_ref()),
                Within::Stage(stage),
            ),
        };
        let own: Vec<&(usize, usize)> = self.ports.iter().filter(|it| it.1 == port.1).collect();
        let place = own.iter().position(|it| **it == port).unwrap_or(0);
        let steps = method.map(|method| self.worked.additions(method, within).steps);
        let of_step = |step: &Vec<Added>| {
            let own = step
                .iter()
                .filter(|added| !added.beside && added.line.goes == LineRef::Stage(port.1));
            own.map(|added| added.share.clone()).reduce(|sum, share| sum + share)
        };
        let shares: Vec<Exact> = steps.iter().flatten().filter_map(of_step).collect();
        let whole = shares.iter().fold(Exact::ZERO, |sum, share| sum + share);
        match shares.get(place) {
            Some(share) if shares.len() == own.len() && whole == Exact::ONE => share.clone(),
            _ if place == 0 => Exact::ONE,
            _ => Exact::ZERO,
        }
    }
}

fn proto((least, most): (i64, Option<i64>), takes: Takes, seg: &Seg) -> Proto {
    let most = most.unwrap_or(ENDLESS).max(least);
    Proto {
        length: (i32(least), i32(most)),
        takes,
        doing: seg.doing.clone(),
        is_moment: false,
        load: seg.load,
        on_grid: false,
    }
}

/// Ends of tasks by the points of a net.
struct Points {
    /// Point of the net, and the end of a task there.
    all: Vec<(usize, Point)>,
}

impl Points {
    fn new(tasks: &[(Proto, usize, usize)], _: &Distances) -> Self {
        let ends = tasks.iter().enumerate().flat_map(|(task, (_, from, to))| {
            [(*from, Point::Start(task)), (*to, Point::End(task))]
        });
        Self { all: ends.collect() }
    }

    fn at(&self, point: usize) -> Option<Point> {
        self.all.iter().find(|(at, _)| *at == point).map(|(_, point)| *point)
    }

    /// Those that are a fixed time apart in rows: how far each is from the row's first, its point
    /// of the net, and what begins or ends there.
    fn rows(&self, all: &Distances) -> Vec<FixedApart> {
        let mut rows: Vec<FixedApart> = Vec::new();
        for &(at, point) in &self.all {
            let row = rows.iter_mut().find_map(|row| {
                let (_, first, _) = row.first().copied()?;
                let apart = all.fixed(first, at)?;
                Some((row, apart))
            });
            match row {
                Some((row, apart)) => row.push((apart, at, point)),
                None => rows.push(vec![(0, at, point)]),
            }
        }
        rows
    }
}

/// What is a fixed time apart.
type FixedApart = Vec<(i64, usize, Point)>;

/// The task of a row whose start is on the grid: the one with which most others of the row are,
/// bakes above all.
fn plain_start(row: &FixedApart, tasks: &[Proto], grid: i64) -> Option<usize> {
    let starts = row.iter().filter_map(|(apart, _, point)| match point {
        Point::Start(task) => Some((*apart, *task, tasks.get(*task)?)),
        Point::End(_) => None,
    });
    let starts: Vec<(i64, usize, &Proto)> = starts.collect();
    let weight = |proto: &Proto| match proto.takes {
        _ if proto.is_moment => 0,
        Takes::Oven(..) => 6,
        Takes::Mixer(_) => 5,
        // A fold is a moment too, whatever its minutes.
        Takes::Hands if !matches!(proto.doing, Doing::Step { .. } | Doing::Build { .. }) => 1,
        Takes::Hands => 2,
        Takes::Boards(..) => 1,
        Takes::Nothing => 0,
    };
    let worth = |at: i64| -> i64 {
        let with = starts.iter().filter(|(apart, ..)| (apart - at).rem_euclid(grid.max(1)) == 0);
        with.map(|(.., proto)| weight(proto)).sum()
    };
    // The best, and of those alike the first.
    let best = |(apart, task, proto): &&(i64, usize, &Proto)| {
        (-worth(*apart), -weight(proto), *apart, *task)
    };
    starts.iter().min_by_key(best).map(|(_, task, _)| *task)
}

/// The fewest lags that hold all tasks to each other: those of each row, and between the rows what
/// can be chosen.
fn lags(rows: &mut [FixedApart], tasks: &[Proto], all: &Distances) -> Vec<Lag> {
    let mut lags = Vec::new();
    for row in rows.iter_mut() {
        lags.extend(in_row(row, tasks));
    }
    let leaders: Vec<usize> = rows.iter().filter_map(|row| Some(row.first()?.1)).collect();
    for bound in all.fewest(&leaders) {
        let find = |leader: usize| rows.iter().find(|row| row.iter().any(|it| it.1 == leader));
        let (Some(from), Some(to)) = (find(bound.from), find(bound.to)) else { continue };
        let ends = (bound.from, bound.to);
        lags.extend(between(from, to, ends, (bound.least, bound.most), tasks));
    }
    lags
}

/// Those of a row one after the other; what a task's own length says already is left out.
fn in_row(row: &mut [(i64, usize, Point)], tasks: &[Proto]) -> Vec<Lag> {
    row.sort_by_key(|(apart, _, point)| (*apart, *point));
    let mut joined: Vec<usize> = (0..row.len()).collect();
    let root = |joined: &[usize], mut at: usize| {
        while joined[at] != at {
            at = joined[at];
        }
        at
    };
    for (place, (_, _, point)) in row.iter().enumerate() {
        let Point::Start(task) = point else { continue };
        let end = row.iter().position(|(_, _, other)| *other == Point::End(*task));
        let is_fixed = tasks.get(*task).is_some_and(|it| it.length.0 == it.length.1);
        if let Some(end) = end.filter(|_| is_fixed) {
            let (one, two) = (root(&joined, place), root(&joined, end));
            joined[one] = two;
        }
    }
    let mut lags = Vec::new();
    for place in 1..row.len() {
        let (one, two) = (root(&joined, place - 1), root(&joined, place));
        if one != two {
            joined[one] = two;
            let apart = i32(row[place].0 - row[place - 1].0);
            let (from, to) = (row[place - 1].2, row[place].2);
            lags.push(Lag { from, to, least: apart, most: Some(apart) });
        }
    }
    lags
}

/// A lag between two rows: between the ends of tasks that are nearest to each other; none where a
/// task goes from one row to the other and its length says as much.
fn between(
    from: &[(i64, usize, Point)],
    to: &[(i64, usize, Point)],
    (one, two): (usize, usize),
    (least, most): (i64, Option<i64>),
    tasks: &[Proto],
) -> Option<Lag> {
    let place = |row: &[(i64, usize, Point)], leader: usize| {
        row.iter().find(|it| it.1 == leader).map_or(0, |it| it.0)
    };
    let (base_from, base_to) = (place(from, one), place(to, two));
    for (apart, _, point) in from {
        let Point::Start(task) = point else { continue };
        let end = to.iter().find(|(_, _, other)| *other == Point::End(*task));
        let Some((later, ..)) = end else { continue };
        let shift = (later - base_to) - (apart - base_from);
        let own = tasks.get(*task).map(|it| (i64::from(it.length.0), i64::from(it.length.1)));
        if own.is_some_and(|(low, high)| {
            low >= least + shift && most.is_none_or(|most| high <= most + shift)
        }) {
            return None;
        }
    }
    let last = from.last()?;
    let first = to.first()?;
    let shift = (first.0 - base_to) - (last.0 - base_from);
    Some(Lag {
        from: last.2,
        to: first.2,
        least: i32(least + shift),
        most: most.map(|most| i32(most + shift)),
    })
}
