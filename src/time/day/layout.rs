//! A puzzle made ready for placing: minutes from zero, and each batch as a tree of points.
//!
//! A batch and all the builds that it takes hang together by their tasks and by their tightest
//! lags as a tree; lags that would close a circle are kept beside it.

use super::bits;
use super::puzzle::{Minute, Point, Puzzle, TaskPlace};

/// A puzzle made ready.
pub struct Layout<'p> {
    /// What it is of.
    pub puzzle: &'p Puzzle,
    /// How many minutes there are.
    pub minutes: usize,
    /// Words that a set of minutes takes, both ends included.
    pub words: usize,
    /// Amounts that are taken of pools: the pool, and how much.
    pub pool_uses: Vec<(usize, i32)>,
    /// A pool's use, or none for what takes no pool, and for how long it is wanted at the least.
    pub pool_runs: Vec<(Option<usize>, usize)>,
    /// A machine, its use, and for how long it is wanted at the least.
    pub machine_runs: Vec<(usize, usize, usize)>,
    /// Machines of which any will do, among [`Layout::machine_runs`].
    pub choices: Vec<Vec<usize>>,
    /// Of each group, the states in which tasks enter and leave its machines.
    pub machine_uses: Vec<Vec<(usize, usize)>>,
    /// Of each group, the number of its first machine among all.
    pub first_machines: Vec<usize>,
    /// What each task needs.
    pub needs: Vec<Need>,
    /// The points of each batch, if it is wanted for itself.
    pub trees: Vec<Option<Tree>>,
    /// The builds of each batch, with theirs.
    pub builds: Vec<Vec<usize>>,
    /// The batches that are wanted for themselves.
    pub wanted: Vec<usize>,
    /// The tasks of each batch.
    pub tasks: Vec<Vec<usize>>,
    /// The dues of each batch.
    pub dues: Vec<Vec<usize>>,
    /// The minutes that are on the puzzle's grid.
    pub grid: Vec<u64>,
}

/// What a task needs, as places in the layout's lists.
pub struct Need {
    /// Its amounts of pools, among [`Layout::pool_uses`].
    pub pool_uses: Vec<usize>,
    /// The same for its shortest length, among [`Layout::pool_runs`].
    pub pool_runs: Vec<usize>,
    /// The machines that do, among all.
    pub machines: Vec<usize>,
    /// The same for its shortest length, among [`Layout::machine_runs`].
    pub machine_runs: Vec<usize>,
    /// All of them, among [`Layout::choices`].
    pub choice: Option<usize>,
    /// How it uses them, among [`Layout::machine_uses`] of their group.
    pub machine_use: usize,
    /// Its length, shortest and longest.
    pub length: (usize, usize),
    /// Where it is in any case, from zero.
    pub fixed: Option<TaskPlace>,
    /// Where it was in an earlier plan, from zero.
    pub before: Option<TaskPlace>,
}

/// A lag between two points of a batch, which are counted as its tree counts them.
#[derive(Clone, Copy)]
pub struct NodeLag {
    /// From this one …
    pub from: usize,
    /// … to that one.
    pub to: usize,
    /// At least so many minutes.
    pub least: i32,
    /// At most so many.
    pub most: i32,
}

/// A lag from a point of another batch to one of this.
#[derive(Clone, Copy)]
pub struct OuterLag {
    /// The point of this batch.
    pub node: usize,
    /// That of the other.
    pub other: Point,
    /// At least so many minutes after the other.
    pub least: i32,
    /// At most so many.
    pub most: i32,
}

/// A batch as a tree of points, each after its parent.
pub struct Tree {
    /// The points.
    pub nodes: Vec<Node>,
    /// The minutes that each of them allows by itself, one set after the other.
    pub sets: Vec<u64>,
    /// Lags that close circles, between nodes.
    pub circles: Vec<NodeLag>,
    /// Lags to points of other batches: the node, the other point, and how much later than the
    /// other the node is, least and most.
    pub outside: Vec<OuterLag>,
}

/// A point of a tree.
pub struct Node {
    /// Which.
    pub point: Point,
    /// The node above; its own for the first.
    pub parent: usize,
    /// How it hangs there.
    pub edge: Edge,
    /// First and last minute that its task allows.
    pub window: (usize, usize),
    /// Only minutes on the grid will do.
    pub on_grid: bool,
}

/// How a point depends on its parent.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// It is the first.
    Root,
    /// Both ends of a task.
    Length,
    /// So much later than its parent, least and most; negative for earlier.
    Lag(i32, i32),
}

impl<'p> Layout<'p> {
    /// When the first of what a batch is due for is due.
    pub fn first_due(&self, batch: usize) -> Option<Minute> {
        self.dues[batch].iter().map(|&due| self.puzzle.dues[due].by).min()
    }

    /// A sound puzzle made ready.
    pub fn new(puzzle: &'p Puzzle) -> Self {
        let minutes = usize::try_from(puzzle.span.1 - puzzle.span.0).unwrap_or(0);
        let mut layout = Self {
            puzzle,
            minutes,
            words: bits::words(minutes + 1),
            pool_uses: Vec::new(),
            pool_runs: Vec::new(),
            machine_runs: Vec::new(),
            choices: Vec::new(),
            machine_uses: vec![Vec::new(); puzzle.groups.len()],
            first_machines: Vec::new(),
            needs: Vec::new(),
            trees: Vec::new(),
            builds: Vec::new(),
            wanted: Vec::new(),
            tasks: vec![Vec::new(); puzzle.batches.len()],
            dues: vec![Vec::new(); puzzle.batches.len()],
            grid: vec![0; bits::words(minutes + 1)],
        };
        let is_on_grid = |minute: &usize| {
            let minute = i32::try_from(*minute).unwrap_or(0) + puzzle.span.0;
            puzzle.grid < 1 || minute.rem_euclid(puzzle.grid) == 0
        };
        for minute in (0..=minutes).filter(is_on_grid) {
            bits::add(&mut layout.grid, minute, minute + 1);
        }
        let mut first = 0;
        for group in &puzzle.groups {
            layout.first_machines.push(first);
            first += group.machines.len();
        }
        for task in 0..puzzle.tasks.len() {
            let need = layout.need(task);
            layout.needs.push(need);
            layout.tasks[puzzle.tasks[task].batch].push(task);
        }
        for (at, due) in puzzle.dues.iter().enumerate() {
            layout.dues[puzzle.tasks[due.task].batch].push(at);
        }
        let begun =
            |batch: usize| layout.tasks[batch].iter().any(|&t| layout.needs[t].fixed.is_some());
        let is_wanted = |&batch: &usize| {
            !puzzle.batches[batch].is_build || !layout.dues[batch].is_empty() || begun(batch)
        };
        let has_tasks = |batch: &usize| !layout.tasks[*batch].is_empty();
        layout.wanted = (0..puzzle.batches.len()).filter(has_tasks).filter(is_wanted).collect();
        layout.builds = builds(puzzle);
        let lags = lags_of_batches(puzzle);
        for batch in 0..puzzle.batches.len() {
            let tree = layout.wanted.contains(&batch).then(|| layout.tree(batch, &lags));
            layout.trees.push(tree);
        }
        layout
    }

    /// A minute of the day, counted from the first.
    pub fn counted(&self, minute: Minute) -> usize {
        let most = i32::try_from(self.minutes).unwrap_or(i32::MAX);
        (minute - self.puzzle.span.0).clamp(0, most) as usize
    }

    /// A place counted from the first minute.
    fn counted_place(&self, place: TaskPlace) -> TaskPlace {
        let first = self.puzzle.span.0;
        TaskPlace { start: place.start - first, end: place.end - first, ..place }
    }

    fn need(&mut self, task: usize) -> Need {
        let task = &self.puzzle.tasks[task];
        let mut pool_uses = Vec::new();
        for &taken in task.takes.iter().filter(|(_, amount)| *amount > 0) {
            pool_uses.push(number_of(&mut self.pool_uses, taken));
        }
        let (mut machine_use, mut machines) = (0, Vec::new());
        if let Some(on) = &task.on {
            let states = (on.enters, on.leaves);
            machine_use = number_of(&mut self.machine_uses[on.group], states);
            let first = self.first_machines[on.group];
            machines = on.machines.iter().map(|machine| first + machine).collect();
        }
        let length = |minutes: Minute| usize::try_from(minutes).unwrap_or(0).min(self.minutes);
        let length = (length(task.length.0), length(task.length.1));
        let mut runs: Vec<Option<usize>> = pool_uses.iter().copied().map(Some).collect();
        if runs.is_empty() {
            runs.push(None);
        }
        let pool_runs = runs.into_iter().map(|it| number_of(&mut self.pool_runs, (it, length.0)));
        let pool_runs = pool_runs.collect();
        let machine_run =
            |&machine: &usize| number_of(&mut self.machine_runs, (machine, machine_use, length.0));
        let machine_runs: Vec<usize> = machines.iter().map(machine_run).collect();
        let choice =
            (!machine_runs.is_empty()).then(|| number_of(&mut self.choices, machine_runs.clone()));
        Need {
            pool_uses,
            pool_runs,
            machines,
            machine_runs,
            choice,
            machine_use,
            length,
            fixed: task.fixed.map(|place| self.counted_place(place)),
            before: task.before.map(|place| self.counted_place(place)),
        }
    }

    /// First and last minute of a point by itself.
    fn window(&self, point: Point) -> (usize, usize) {
        let task = &self.puzzle.tasks[point.task()];
        if let Some(place) = task.fixed {
            let at = self.counted(point.of(place));
            return (at, at);
        }
        let (from, to) = (self.counted(task.window.0), self.counted(task.window.1));
        let least = self.needs[point.task()].length.0;
        match point {
            Point::Start(_) => (from, to.saturating_sub(least)),
            Point::End(task) => {
                let of_batch = &self.dues[self.puzzle.tasks[task].batch];
                let dues = of_batch.iter().map(|&due| &self.puzzle.dues[due]);
                let dues = dues.filter(|due| due.task == task);
                let after = dues.filter_map(|due| due.after).map(|after| self.counted(after));
                (after.fold(from + least, usize::max), to)
            }
        }
    }

    /// Whether a point is only on the grid; what is done or under way is where it is.
    fn is_on_grid(&self, point: Point) -> bool {
        let task = &self.puzzle.tasks[point.task()];
        matches!(point, Point::Start(_)) && task.on_grid && task.fixed.is_none()
    }

    /// The tree of a batch with all its builds; `lags` are those that touch each batch.
    fn tree(&self, batch: usize, lags: &[Vec<usize>]) -> Tree {
        let mut batches = vec![batch];
        batches.extend(&self.builds[batch]);
        let tasks: Vec<usize> = batches.iter().flat_map(|&one| self.tasks[one].clone()).collect();
        let number = |point: Point| {
            let task = tasks.iter().position(|task| *task == point.task())?;
            Some(2 * task + usize::from(matches!(point, Point::End(_))))
        };
        let far = i32::try_from(self.minutes).unwrap_or(i32::MAX);
        // Lags within, the tightest first.
        let (mut inside, mut outside) = (Vec::new(), Vec::new());
        let mut own: Vec<usize> = batches.iter().flat_map(|&one| lags[one].clone()).collect();
        own.sort_unstable();
        own.dedup();
        for lag in own.iter().map(|&at| &self.puzzle.lags[at]) {
            let most = lag.most.unwrap_or(far).min(far);
            let least = lag.least.clamp(-far, far + 1);
            match (number(lag.from), number(lag.to)) {
                (Some(from), Some(to)) => inside.push(NodeLag { from, to, least, most }),
                (Some(node), None) => {
                    let (least, most) = (-most, -least);
                    outside.push(OuterLag { node, other: lag.to, least, most });
                }
                (None, Some(node)) => {
                    outside.push(OuterLag { node, other: lag.from, least, most });
                }
                (None, None) => {}
            }
        }
        inside.sort_by_key(|lag| (lag.most - lag.least, lag.from, lag.to, lag.least));
        let root = self.root(batch, &tasks, &inside);
        let points: Vec<Point> =
            tasks.iter().flat_map(|&task| [Point::Start(task), Point::End(task)]).collect();
        let (links, circles) = spanning(points.len(), inside, far);
        let (order, parents) = walk(root, points.len(), &links);
        let place = |point: usize| order.iter().position(|one| *one == point).unwrap_or(0);
        let node = |(&point, &(parent, edge)): (&usize, &(usize, Edge))| Node {
            point: points[point],
            parent: place(parent),
            edge,
            window: self.window(points[point]),
            on_grid: self.is_on_grid(points[point]),
        };
        let nodes: Vec<Node> = order.iter().zip(&parents).map(node).collect();
        let mut sets = vec![0; nodes.len() * self.words];
        for (node, set) in nodes.iter().zip(sets.chunks_mut(self.words)) {
            bits::add(set, node.window.0, node.window.1 + 1);
            if node.on_grid {
                bits::both(set, &self.grid);
            }
        }
        Tree {
            nodes,
            sets,
            circles: (circles.iter())
                .map(|lag| NodeLag { from: place(lag.from), to: place(lag.to), ..*lag })
                .collect(),
            outside: (outside.iter())
                .map(|lag| OuterLag { node: place(lag.node), ..*lag })
                .collect(),
        }
    }

    /// The point that is placed first: the end that the last due counts, else the last end.
    fn root(&self, batch: usize, tasks: &[usize], lags: &[NodeLag]) -> usize {
        let mut earliest = vec![0i32; tasks.len() * 2];
        for _ in 0..tasks.len().min(64) {
            for (at, &task) in tasks.iter().enumerate() {
                let least = i32::try_from(self.needs[task].length.0).unwrap_or(0);
                earliest[2 * at + 1] = earliest[2 * at + 1].max(earliest[2 * at] + least);
            }
            for &NodeLag { from, to, least, most } in lags {
                earliest[to] = earliest[to].max(earliest[from].saturating_add(least));
                earliest[from] = earliest[from].max(earliest[to].saturating_sub(most));
            }
        }
        let own = |at: &usize| self.puzzle.tasks[tasks[*at]].batch == batch;
        let is_due = |at: &usize| {
            self.dues[batch].iter().any(|&due| self.puzzle.dues[due].task == tasks[*at])
        };
        let last = |at: &usize| (is_due(at), earliest[2 * at + 1], *at);
        (0..tasks.len()).filter(own).max_by_key(last).map_or(0, |at| 2 * at + 1)
    }
}

/// The number of something in a list, which it is added to where it is not there.
fn number_of<T: PartialEq>(all: &mut Vec<T>, one: T) -> usize {
    all.iter().position(|other| *other == one).unwrap_or_else(|| {
        all.push(one);
        all.len() - 1
    })
}

/// Links of a point: to which other, and how that other depends on it.
type Links = Vec<Vec<(usize, Edge)>>;

/// Tasks, then lags in their order, as long as they close no circle; parts that nothing ties are
/// tied by a lag that says nothing.
fn spanning(points: usize, lags: Vec<NodeLag>, far: i32) -> (Links, Vec<NodeLag>) {
    let mut of: Vec<usize> = (0..points).map(|point| point / 2).collect();
    let mut links: Links = vec![Vec::new(); points];
    for start in (0..points).step_by(2) {
        links[start].push((start + 1, Edge::Length));
        links[start + 1].push((start, Edge::Length));
    }
    let mut circles = Vec::new();
    let loose = (2..points).step_by(2);
    let loose = loose.map(|to| NodeLag { from: 0, to, least: -far, most: far });
    let known = lags.len();
    for (at, lag) in lags.into_iter().chain(loose).enumerate() {
        let NodeLag { from, to, least, most } = lag;
        let (one, two) = (of[from], of[to]);
        if one == two {
            if at < known {
                circles.push(lag);
            }
            continue;
        }
        of.iter_mut().filter(|part| **part == two).for_each(|part| *part = one);
        links[from].push((to, Edge::Lag(least, most)));
        links[to].push((from, Edge::Lag(-most, -least)));
    }
    (links, circles)
}

/// The points from the root on, each after its parent, with the parent and the edge to it.
fn walk(root: usize, points: usize, links: &Links) -> (Vec<usize>, Vec<(usize, Edge)>) {
    let (mut order, mut parents) = (Vec::new(), Vec::new());
    let mut seen = vec![false; points];
    let mut open = vec![(root, root, Edge::Root)];
    while let Some((point, parent, edge)) = open.pop() {
        if std::mem::replace(&mut seen[point], true) {
            continue;
        }
        order.push(point);
        parents.push((parent, edge));
        for &(next, edge) in links[point].iter().rev() {
            if !seen[next] {
                open.push((next, point, edge));
            }
        }
    }
    (order, parents)
}

/// Of each batch, the lags that touch it, in order.
fn lags_of_batches(puzzle: &Puzzle) -> Vec<Vec<usize>> {
    let mut of = vec![Vec::new(); puzzle.batches.len()];
    for (at, lag) in puzzle.lags.iter().enumerate() {
        let batch = |point: Point| puzzle.tasks[point.task()].batch;
        let (from, to) = (batch(lag.from), batch(lag.to));
        of[from].push(at);
        if to != from {
            of[to].push(at);
        }
    }
    of
}

/// Of each batch, the builds that it takes, and those that they take.
fn builds(puzzle: &Puzzle) -> Vec<Vec<usize>> {
    let batch = |point: Point| puzzle.tasks[point.task()].batch;
    let mut direct = vec![Vec::new(); puzzle.batches.len()];
    for lag in &puzzle.lags {
        let (build, taker) = (batch(lag.from), batch(lag.to));
        if build != taker && puzzle.batches[build].is_build {
            direct[taker].push(build);
        }
    }
    (0..puzzle.batches.len())
        .map(|of| {
            let mut all: Vec<usize> = Vec::new();
            let mut open = vec![of];
            while let Some(one) = open.pop() {
                for &build in direct[one].iter().filter(|build| **build != of) {
                    if !all.contains(&build) {
                        all.push(build);
                        open.push(build);
                    }
                }
            }
            all
        })
        .collect()
}
