//! A bakehouse with what is placed in it: what is free when.

use super::bits;
use super::layout::Layout;
use super::puzzle::{Minute, TaskPlace};

/// What is free, as sets of minutes, and what is taken.
pub struct House<'l> {
    layout: &'l Layout<'l>,
    /// Of each pool, how many are free in each minute; less than none where too much is fixed.
    left: Vec<Vec<i32>>,
    /// Of each use of a pool, the minutes in which so much is free.
    pool_uses: Vec<u64>,
    /// The uses of each pool.
    uses_of_pool: Vec<Vec<usize>>,
    /// Of each machine and each kind of use, the minutes that it may take.
    free: Vec<Vec<u64>>,
    /// What is on each machine, in order of time.
    uses: Vec<Vec<Use>>,
    /// The group of each machine.
    group_of: Vec<usize>,
    /// How often each pool, and each machine, changed.
    pool_changes: Vec<u64>,
    machine_changes: Vec<u64>,
    /// Where each task is, from zero.
    pub places: Vec<Option<TaskPlace>>,
}

/// A machine taken for some time.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Use {
    start: Minute,
    end: Minute,
    /// States on entering and on leaving; none where it is closed.
    states: Option<(usize, usize)>,
    task: usize,
}

impl<'l> House<'l> {
    /// An empty house.
    pub fn new(layout: &'l Layout<'l>) -> Self {
        let puzzle = layout.puzzle;
        let minutes = i32::try_from(layout.minutes).unwrap_or(i32::MAX);
        let count = |pool: &super::puzzle::Pool| {
            let left = (0..minutes).map(|minute| pool.at(minute + puzzle.span.0));
            // Whole words: after the last minute there is nothing.
            left.chain(std::iter::repeat(i32::MIN)).take(64 * layout.words).collect()
        };
        let mut house = Self {
            layout,
            left: puzzle.pools.iter().map(count).collect(),
            pool_uses: vec![0; layout.pool_uses.len() * layout.words],
            uses_of_pool: vec![Vec::new(); puzzle.pools.len()],
            free: Vec::new(),
            uses: Vec::new(),
            group_of: Vec::new(),
            pool_changes: vec![0; puzzle.pools.len()],
            machine_changes: Vec::new(),
            places: vec![None; puzzle.tasks.len()],
        };
        for (pool_use, &(pool, _)) in layout.pool_uses.iter().enumerate() {
            house.uses_of_pool[pool].push(pool_use);
        }
        for pool in 0..puzzle.pools.len() {
            house.count(pool, 0, layout.minutes);
        }
        for (group, of) in puzzle.groups.iter().enumerate() {
            for machine in &of.machines {
                let number = house.uses.len();
                house.uses.push(machine_uses(machine, puzzle.span.0));
                house.group_of.push(group);
                house.machine_changes.push(0);
                house.free.push(vec![0; layout.machine_uses[group].len() * layout.words]);
                house.sweep(number, 0, layout.minutes);
            }
        }
        house
    }

    /// Counts anew what is free of a pool in `from..to`.
    fn count(&mut self, pool: usize, from: usize, to: usize) {
        let words = self.layout.words;
        let to = to.min(self.layout.minutes);
        if from >= to {
            return;
        }
        self.pool_changes[pool] += 1;
        // Whole words, as far as there are minutes: what is not asked for comes out as it was.
        let (first, last) = (from / 64, to.div_ceil(64));
        let left = &self.left[pool];
        for &pool_use in &self.uses_of_pool[pool] {
            let amount = self.layout.pool_uses[pool_use].1;
            let set = &mut self.pool_uses[pool_use * words..(pool_use + 1) * words];
            let (left, _) = left.as_chunks();
            for (bits, left) in set.iter_mut().zip(left).take(last).skip(first) {
                *bits = bits::at_least(left, amount);
            }
        }
    }

    /// The longest that anything changes in a group.
    fn change(&self, group: usize, from: usize, to: usize) -> Minute {
        self.layout.puzzle.groups[group].change(from, to)
    }

    /// Takes from a machine's free minutes what a use of it takes, for each kind.
    fn block(&mut self, machine: usize, used: Use) {
        let (words, group) = (self.layout.words, self.group_of[machine]);
        self.machine_changes[machine] += 1;
        for (machine_use, &(enters, leaves)) in self.layout.machine_uses[group].iter().enumerate() {
            let (before, after) = used.states.map_or((0, 0), |(own_enters, own_leaves)| {
                (self.change(group, leaves, own_enters), self.change(group, own_leaves, enters))
            });
            let from = usize::try_from(used.start - before).unwrap_or(0);
            let to = usize::try_from(used.end + after).unwrap_or(0).min(self.layout.minutes);
            bits::cut(
                &mut self.free[machine][machine_use * words..(machine_use + 1) * words],
                from,
                to,
            );
        }
    }

    /// Frees a machine in `from..to` and takes away again what its uses take.
    fn sweep(&mut self, machine: usize, from: usize, to: usize) {
        let words = self.layout.words;
        self.machine_changes[machine] += 1;
        for set in self.free[machine].chunks_mut(words) {
            bits::add(set, from, to.min(self.layout.minutes));
        }
        // Only what is near takes anything there.
        let longest = self.longest(self.group_of[machine]);
        let first = Minute::try_from(from).unwrap_or(Minute::MAX).saturating_sub(longest);
        let last = Minute::try_from(to).unwrap_or(Minute::MAX).saturating_add(longest);
        for at in 0..self.uses[machine].len() {
            let used = self.uses[machine][at];
            if used.end >= first && used.start <= last {
                self.block(machine, used);
            }
        }
    }

    /// Places a task, whether that can be or not.
    pub fn place(&mut self, task: usize, place: TaskPlace) {
        self.places[task] = Some(place);
        self.take(task, place, -1);
        if let Some(machine) = self.machine(task, place) {
            let used = self.use_of(task, place);
            let uses = &mut self.uses[machine];
            let at = uses.partition_point(|other| *other < used);
            uses.insert(at, used);
            self.block(machine, used);
        }
    }

    /// Takes a task out again.
    pub fn remove(&mut self, task: usize) {
        let Some(place) = self.places[task].take() else { return };
        self.take(task, place, 1);
        if let Some(machine) = self.machine(task, place) {
            let used = self.use_of(task, place);
            self.uses[machine].retain(|other| *other != used);
            let longest = self.longest(self.group_of[machine]);
            let from = usize::try_from(place.start - longest).unwrap_or(0);
            let to = usize::try_from(place.end + longest).unwrap_or(0);
            self.sweep(machine, from, to);
        }
    }

    /// Adds to what is left of the pools that a task takes.
    fn take(&mut self, task: usize, place: TaskPlace, sign: i32) {
        let layout = self.layout;
        let most = layout.minutes;
        let from = usize::try_from(place.start).unwrap_or(0).min(most);
        let to = usize::try_from(place.end).unwrap_or(0).min(most);
        for &pool_use in &layout.needs[task].pool_uses {
            let (pool, amount) = layout.pool_uses[pool_use];
            for left in &mut self.left[pool][from..to.max(from)] {
                *left += sign * amount;
            }
            self.count(pool, from, to);
        }
    }

    /// The machine of a placed task among all.
    fn machine(&self, task: usize, place: TaskPlace) -> Option<usize> {
        let on = self.layout.puzzle.tasks[task].on.as_ref()?;
        Some(self.layout.first_machines[on.group] + place.machine)
    }

    fn use_of(&self, task: usize, place: TaskPlace) -> Use {
        let states = self.layout.puzzle.tasks[task].on.as_ref().map(|on| (on.enters, on.leaves));
        Use { start: place.start, end: place.end, states, task }
    }

    fn longest(&self, group: usize) -> Minute {
        let rows = self.layout.puzzle.groups[group].changes.iter().flatten();
        rows.copied().fold(0, Minute::max)
    }

    /// The minutes in which all pools have enough for a task, written to `to`.
    pub fn pools_free(&self, task: usize, to: &mut bits::Bits) {
        let uses = &self.layout.needs[task].pool_uses;
        let Some((first, others)) = uses.split_first() else {
            to.fill(0);
            bits::add(to, 0, self.layout.minutes);
            return;
        };
        to.copy_from_slice(self.pool_free(*first));
        others.iter().for_each(|&pool_use| bits::both(to, self.pool_free(pool_use)));
    }

    /// The minutes in which there is enough for a use of a pool.
    pub fn pool_free(&self, pool_use: usize) -> &bits::Bits {
        let words = self.layout.words;
        &self.pool_uses[pool_use * words..(pool_use + 1) * words]
    }

    /// The minutes in which a machine is free for a task.
    pub fn machine_free(&self, task: usize, machine: usize) -> &bits::Bits {
        self.free_on(machine, self.layout.needs[task].machine_use)
    }

    /// The minutes in which a machine is free for a use of it.
    pub fn free_on(&self, machine: usize, machine_use: usize) -> &bits::Bits {
        let words = self.layout.words;
        &self.free[machine][machine_use * words..(machine_use + 1) * words]
    }

    /// How often the pool of a use has changed; never, where it is none.
    pub fn changes_of_pool(&self, pool_use: Option<usize>) -> u64 {
        pool_use.map_or(0, |it| self.pool_changes[self.layout.pool_uses[it].0])
    }

    /// How often a machine has changed.
    pub fn changes_of_machine(&self, machine: usize) -> u64 {
        self.machine_changes[machine]
    }

    /// How little a task at `start..end` fits between what is on a machine: the minutes that it
    /// leaves idle beside it, to the nearer side.
    pub fn misfit(&self, machine: usize, start: Minute, end: Minute) -> Minute {
        let uses = &self.uses[machine];
        let at = uses.partition_point(|other| other.start < start);
        let before = at.checked_sub(1).map(|at| start - uses[at].end);
        let after = uses.get(at).map(|next| next.start - end);
        let none = Minute::MAX / 4;
        before.unwrap_or(none).min(after.unwrap_or(none))
    }
}

/// What takes a machine before anything is placed.
fn machine_uses(machine: &super::puzzle::Machine, first: Minute) -> Vec<Use> {
    let closed = machine.closed.iter().map(|&(from, to)| Use {
        start: from - first,
        end: to - first,
        states: None,
        task: usize::MAX,
    });
    let begins = machine.begins.map(|(minute, state)| Use {
        start: minute - first,
        end: minute - first,
        states: Some((state, state)),
        task: usize::MAX,
    });
    let mut uses: Vec<Use> = closed.chain(begins).collect();
    uses.sort_unstable();
    uses
}
