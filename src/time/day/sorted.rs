//! The same puzzle in an order that doesn't depend on how its lines were written.

use super::puzzle::{Due, Lag, MachineGroup, Minute, On, Point, Pool, Puzzle, Task, TaskPlace};

/// A puzzle in order of names, and the way back.
pub struct Sorted {
    /// The puzzle.
    pub puzzle: Puzzle,
    tasks: Order,
    batches: Order,
    dues: Order,
    pools: Order,
    groups: Order,
    machines: Vec<Order>,
}

/// Where what came from, and where what went.
#[derive(Default)]
struct Order {
    from: Vec<usize>,
    to: Vec<usize>,
}

impl Order {
    fn by<K: Ord>(count: usize, mut key: impl FnMut(usize) -> K) -> Self {
        let mut from: Vec<usize> = (0..count).collect();
        from.sort_by_cached_key(|&at| key(at));
        let mut to = vec![0; count];
        from.iter().enumerate().for_each(|(at, &was)| to[was] = at);
        Self { from, to }
    }

    fn each<T: Clone>(&self, list: &[T]) -> Vec<T> {
        self.from.iter().map(|&at| list[at].clone()).collect()
    }
}

impl Sorted {
    /// A sound puzzle in order.
    pub fn new(puzzle: &Puzzle) -> Self {
        let pools = Order::by(puzzle.pools.len(), |at| {
            let Pool { name, levels, is_hands } = &puzzle.pools[at];
            (name.clone(), levels.clone(), *is_hands)
        });
        let groups = Order::by(puzzle.groups.len(), |at| {
            let MachineGroup { name, machines, changes, .. } = &puzzle.groups[at];
            (name.clone(), machines.len(), changes.clone())
        });
        let machines: Vec<Order> = (puzzle.groups.iter())
            .map(|group| {
                Order::by(group.machines.len(), |at| {
                    let machine = &group.machines[at];
                    (machine.name.clone(), machine.closed.clone(), machine.begins)
                })
            })
            .collect();
        let mut sorted = Self {
            puzzle: Puzzle {
                span: puzzle.span,
                aim: puzzle.aim,
                early: puzzle.early,
                grid: puzzle.grid,
                ..Puzzle::default()
            },
            tasks: Order::default(),
            batches: Order::default(),
            dues: Order::default(),
            pools,
            groups,
            machines,
        };
        let tasks: Vec<Task> = puzzle.tasks.iter().map(|task| sorted.task(task)).collect();
        let mut wanted = vec![Vec::new(); tasks.len()];
        for due in &puzzle.dues {
            wanted[due.task].push((due.by, due.after, due.weight));
        }
        wanted.iter_mut().for_each(|own| own.sort_unstable());
        let content: Vec<_> =
            tasks.iter().zip(wanted).map(|(task, wanted)| (content(task), wanted)).collect();
        let mut of_batch = vec![Vec::new(); puzzle.batches.len()];
        for (task, content) in tasks.iter().zip(&content) {
            of_batch[task.batch].push(content.clone());
        }
        of_batch.iter_mut().for_each(|own| own.sort());
        sorted.batches = Order::by(puzzle.batches.len(), |at| {
            let batch = &puzzle.batches[at];
            (batch.name.clone(), batch.is_build, batch.weight, std::mem::take(&mut of_batch[at]))
        });
        sorted.tasks =
            Order::by(tasks.len(), |at| (sorted.batches.to[tasks[at].batch], content[at].clone()));
        sorted.dues = Order::by(puzzle.dues.len(), |at| {
            let Due { order, task, by, after, weight } = puzzle.dues[at];
            (sorted.tasks.to[task], by, after, weight, order)
        });
        sorted.fill(puzzle, &tasks);
        sorted
    }

    /// Puts the lists in their order.
    fn fill(&mut self, puzzle: &Puzzle, tasks: &[Task]) {
        self.puzzle.tasks = self.tasks.each(tasks);
        for task in &mut self.puzzle.tasks {
            task.batch = self.batches.to[task.batch];
        }
        self.puzzle.batches = self.batches.each(&puzzle.batches);
        self.puzzle.pools = self.pools.each(&puzzle.pools);
        self.puzzle.groups = self.groups.each(&puzzle.groups);
        for (group, &from) in self.puzzle.groups.iter_mut().zip(&self.groups.from) {
            group.machines = self.machines[from].each(&group.machines);
        }
        self.puzzle.dues = self.dues.each(&puzzle.dues);
        for due in &mut self.puzzle.dues {
            due.task = self.tasks.to[due.task];
        }
        let point = |point: Point| match point {
            Point::Start(task) => Point::Start(self.tasks.to[task]),
            Point::End(task) => Point::End(self.tasks.to[task]),
        };
        let lag = |lag: &Lag| Lag { from: point(lag.from), to: point(lag.to), ..*lag };
        self.puzzle.lags = puzzle.lags.iter().map(lag).collect();
        self.puzzle.lags.sort_by_key(|lag| (lag.from, lag.to, lag.least, lag.most));
    }

    /// A task with the sorted numbers of pools and machines.
    fn task(&self, task: &Task) -> Task {
        let place = |place: Option<TaskPlace>| {
            let group = task.on.as_ref().map(|on| on.group);
            let number = |at: usize| group.and_then(|group| self.machines[group].to.get(at));
            place.map(|place| TaskPlace {
                machine: number(place.machine).copied().unwrap_or(place.machine),
                ..place
            })
        };
        let mut takes: Vec<(usize, i32)> =
            task.takes.iter().map(|&(pool, amount)| (self.pools.to[pool], amount)).collect();
        takes.sort_unstable();
        let on = task.on.as_ref().map(|on| {
            let to = &self.machines[on.group].to;
            let mut machines: Vec<usize> = on.machines.iter().map(|&at| to[at]).collect();
            machines.sort_unstable();
            machines.dedup();
            On { group: self.groups.to[on.group], machines, ..*on }
        });
        Task { takes, on, fixed: place(task.fixed), before: place(task.before), ..task.clone() }
    }

    /// Places in the order of the puzzle as it was.
    pub fn places_back(&self, places: &[Option<TaskPlace>]) -> Vec<Option<TaskPlace>> {
        let back = |was: usize| {
            let now = self.tasks.to[was];
            let place = places[now]?;
            let on = self.puzzle.tasks[now].on.as_ref();
            let group = on.map(|on| self.groups.from[on.group]);
            let number = group.and_then(|group| self.machines[group].from.get(place.machine));
            Some(TaskPlace { machine: number.copied().unwrap_or(place.machine), ..place })
        };
        (0..places.len()).map(back).collect()
    }

    /// A batch's number in the puzzle as it was.
    pub fn batch_back(&self, at: usize) -> usize {
        self.batches.from[at]
    }

    /// A due's number in the puzzle as it was.
    pub fn due_back(&self, at: usize) -> usize {
        self.dues.from[at]
    }

    /// A pool's number in the puzzle as it was.
    pub fn pool_back(&self, at: usize) -> usize {
        self.pools.from[at]
    }

    /// A group's number in the puzzle as it was.
    pub fn group_back(&self, at: usize) -> usize {
        self.groups.from[at]
    }
}

/// What a task is, but for its batch.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Content {
    name: String,
    length: (Minute, Minute),
    window: (Minute, Minute),
    takes: Vec<(usize, i32)>,
    on: Option<(usize, Vec<usize>, usize, usize)>,
    given: [Option<(Minute, Minute, usize)>; 2],
}

fn content(task: &Task) -> Content {
    let place = |place: Option<TaskPlace>| place.map(|at| (at.start, at.end, at.machine));
    let on = task.on.as_ref().map(|on| (on.group, on.machines.clone(), on.enters, on.leaves));
    Content {
        name: task.name.clone(),
        length: task.length,
        window: task.window,
        takes: task.takes.clone(),
        on,
        given: [place(task.fixed), place(task.before)],
    }
}
